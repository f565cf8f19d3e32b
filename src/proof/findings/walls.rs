//! Standing wood that is too thin: walls, and the ends of points.

use super::thin::AtLevel;
use crate::geometry::widths::{Feature, FeatureShape};
use crate::proof::finding::{DesignFinding, Facts};
use crate::proof::measure::Level;
use crate::proof::rate::LevelRatings;
use crate::units::Mm;

/// Walls and points of one level that are under their limit at a size.
pub(super) fn walls<'a>(
    at_level: &'a AtLevel<'a>,
    level: &'a Level,
    rated: &LevelRatings,
) -> impl Iterator<Item = DesignFinding> + use<'a> {
    let features = level.walls.features(&at_level.rule.thin_walls(&rated.walls, at_level.factor));
    features.filter_map(|feature| wall(at_level, level, &feature))
}

/// `None` for what is told at another level.
fn wall(at_level: &AtLevel, level: &Level, feature: &Feature) -> Option<DesignFinding> {
    let stand_in = at_level.rule.limits.usual().basis.stand_in.clone();
    Some(match feature.shape {
        FeatureShape::Neck => {
            // A wall's limit is not the same all along it: what counts is the place that is thinnest for its own.
            let worst = &level.walls.pieces()[feature.name as usize];
            let width = Mm::new(worst.narrow.width * at_level.factor);
            let direction = level.direction(feature.name);
            let held = at_level.rule.wall(feature.name, direction, at_level.factor)?;
            let gentler = at_level.rule.limits.gentler(&held, direction, width, at_level.job);
            let (chance, severity) = at_level.rule.limits.chance(&held, width)?;
            let place = at_level.place(feature, held);
            let facts = Facts::ThinWall { width, chance, severity, stand_in, gentler, place };
            at_level.finding(feature, false, facts)
        }
        FeatureShape::Tip { apex } => {
            let held = at_level.rule.wall(feature.piece, level.direction(feature.piece), at_level.factor)?;
            at_level.finding(
                feature,
                true,
                Facts::LostTip { apex, stand_in, place: at_level.place(feature, held) },
            )
        }
    })
}
