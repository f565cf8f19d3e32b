//! Standing wood that is too thin: walls, and the ends of points.

use super::thin::AtLevel;
use crate::geometry::widths::{Feature, FeatureShape};
use crate::proof::finding::{DesignFinding, Facts};
use crate::proof::measure::Level;
use crate::proof::rate::LevelRatings;

/// Walls and points of one level that are under their limit at a size.
pub(super) fn walls(at_level: &AtLevel, level: &Level, rated: &LevelRatings) -> Vec<DesignFinding> {
    let features = level.walls.features(&rated.walls.thin_at(at_level.factor));
    features.iter().filter_map(|feature| wall(at_level, feature)).collect()
}

/// `None` for what is told at another level.
fn wall(at_level: &AtLevel, feature: &Feature) -> Option<DesignFinding> {
    let held = at_level.rule.wall(feature.piece, feature.direction)?;
    let stand_in = at_level.rule.limits.usual().basis.stand_in.clone();
    let place = at_level.place(feature, held);
    Some(match feature.shape {
        FeatureShape::Neck => {
            let facts = Facts::ThinWall { width: at_level.width(feature), stand_in, place };
            at_level.finding(feature, false, facts)
        }
        FeatureShape::Tip { apex } => {
            at_level.finding(feature, true, Facts::LostTip { apex, stand_in, place })
        }
    })
}
