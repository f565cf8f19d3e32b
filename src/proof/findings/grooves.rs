//! Carved places that are too narrow: for the cutter, or for a V to show.

use super::thin::AtLevel;
use crate::geometry::widths::{Feature, FeatureShape};
use crate::proof::finding::{DesignFinding, Facts};
use crate::proof::measure::Level;
use crate::proof::rate::LevelRatings;
use crate::units::Mm;

/// Grooves and corners of one level that are under their limit at a size.
pub(super) fn grooves<'a>(
    at_level: &'a AtLevel<'a>,
    level: &'a Level,
    rated: &LevelRatings,
) -> impl Iterator<Item = DesignFinding> + use<'a> {
    let features = level.grooves.features(&at_level.rule.thin_grooves(&rated.grooves, at_level.factor));
    features.filter_map(|feature| groove(at_level, &feature))
}

/// `None` for what is told at another level, and for what is meant to be so.
fn groove(at_level: &AtLevel, feature: &Feature) -> Option<DesignFinding> {
    let held = at_level.rule.groove(feature.piece)?;
    let is_a_vee = at_level.rule.limits.tapers_to_a_point(held.place);
    let width = at_level.width(feature);
    match feature.shape {
        // A V tapers to nothing in a corner: that is how it is meant to look.
        FeatureShape::Tip { .. } if is_a_vee => None,
        FeatureShape::Tip { apex } => {
            let short = stops_short(at_level.factor, feature, held.limit);
            let facts = Facts::RoundedCorner { apex, short, place: at_level.place(feature, held) };
            Some(at_level.finding(feature, true, facts))
        }
        FeatureShape::Neck => {
            let place = at_level.place(feature, held);
            let facts = if is_a_vee {
                Facts::ShallowGroove { width, place }
            } else {
                Facts::BlockedGroove { width, place }
            };
            Some(at_level.finding(feature, false, facts))
        }
    }
}

/// How far from a corner a round cutter stops: its middle comes to where the corner is as wide as the cutter,
/// and its edge half a width nearer. Into one that is nowhere so wide it does not come at all.
fn stops_short(factor: f64, tip: &Feature, limit: Mm) -> Mm {
    let run = Mm::new(factor * tip.length);
    let widest = tip.axis.iter().map(|[_, end]| end.width * factor).fold(0.0, f64::max);
    if widest < limit.get() * (1.0 - 1e-4) { run } else { run - limit * 0.5 }
}
