//! Mending: thicken what is too thin, widen what is blocked, and leave the rest alone.
//!
//! A thin wall is mended by laying a strip as wide as its limit along the thin part of its axis; a
//! blocked groove by cutting such a strip. Every point of the strip then lies in a circle as wide as
//! the limit, so what was found is no longer there; nothing further than half a limit from the thin
//! part of an axis is touched. Points are not mended: blunting one is the drawing's business.

use super::{Limits, Measured, Ratings};
use crate::design::{Design, Element};
use crate::geometry::widths::{Feature, FeatureShape};
use crate::geometry::{FillRule, Region};
use crate::job::{Job, Treatment};
use glam::DVec2;
use std::f64::consts::TAU;
use std::sync::Arc;

/// Strips are made this much wider than the limit, as a share, so that what is mended is over its
/// limit and not at it: far more than a grid step, far less than anyone can measure in wood.
const MARGIN: f64 = 1e-4;

/// Corners of the round ends of a strip: the corners stand on a circle that the sides touch, so the end
/// is nowhere narrower than asked and at most half a per cent of a radius further out.
const END_CORNERS: u32 = 32;

/// What mending did.
#[derive(Clone, Debug)]
pub struct Mended {
    /// The job with the mended design.
    pub job: Job,
    /// How many walls were thickened.
    pub thickened: usize,
    /// How many grooves were widened.
    pub widened: usize,
    /// Elements in which separate pieces were joined, holes closed, or a piece cut in two.
    pub reshaped: Vec<String>,
}

/// What to mend.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Mend {
    /// Walls under their limit.
    #[default]
    Walls,
    /// Grooves the cutter cannot enter.
    Grooves,
}

/// Mends a job at `factor`. The design keeps its drawn size: the limits are taken to it.
pub fn mend(job: &Job, measured: &Measured, ratings: &Ratings, factor: f64, what: Mend) -> Mended {
    let (map, rated) = match what {
        Mend::Walls => (&measured.walls, &ratings.walls),
        Mend::Grooves => (&measured.grooves, &ratings.grooves),
    };
    let necks: Vec<Feature> = map
        .features(&rated.thin_at(factor))
        .into_iter()
        .filter(|feature| feature.shape == FeatureShape::Neck)
        .collect();
    let width_of = |feature: &Feature, chord: DVec2| match what {
        Mend::Walls => wall_width(&ratings.limits, measured, feature, chord) / factor,
        Mend::Grooves => ratings.limits.groove_in(measured.groove_treatment(feature.piece)).get() / factor,
    };
    let strips: Vec<Strips> = necks
        .iter()
        .map(|feature| Strips {
            owner: owner_of(job, feature.at),
            rings: feature
                .axis
                .iter()
                .map(|[a, b]| {
                    let width = width_of(feature, b.at - a.at);
                    strip(a.at, b.at, width * 0.5 * (1.0 + MARGIN))
                })
                .collect(),
        })
        .collect();

    let elements = laid(job, measured, what, &strips);
    let reshaped = job
        .design
        .elements
        .iter()
        .filter(|before| {
            let after = elements.iter().find(|after| after.name == before.name);
            after.is_none_or(|after| ring_counts(&before.region) != ring_counts(&after.region))
        })
        .map(|element| element.name.clone())
        .collect();
    let design = Design { elements, ..(*job.design).clone() };
    let (thickened, widened) = match what {
        Mend::Walls => (necks.len(), 0),
        Mend::Grooves => (0, necks.len()),
    };
    Mended { job: job.with_design(Arc::new(design)), thickened, widened, reshaped }
}

/// The strips of one feature, and the element they belong to.
struct Strips {
    /// Index of the element the feature lies in; `None` where it lies in the board or the ground.
    owner: Option<usize>,
    rings: Vec<Vec<DVec2>>,
}

/// The elements with the strips laid or cut. A strip of standing wood goes to the element the wall
/// belongs to and is taken from every carved one; a strip of groove the other way round.
fn laid(job: &Job, measured: &Measured, what: Mend, strips: &[Strips]) -> Vec<Element> {
    let grid = job.design.grid;
    let adds_standing = what == Mend::Walls;
    let region_of = |chosen: &mut dyn Iterator<Item = &Strips>| {
        let rings: Vec<Vec<DVec2>> = chosen.flat_map(|strips| strips.rings.iter().cloned()).collect();
        Region::clean(grid, &rings, FillRule::NonZero)
    };
    let all = region_of(&mut strips.iter());
    let mend_one = |(index, (element, &treatment)): (usize, (&Element, &Treatment))| {
        let region = if treatment.stands() == adds_standing {
            // Wood that stands outside every element belongs to the board and needs no outline.
            let own = region_of(&mut strips.iter().filter(|strips| strips.owner == Some(index)));
            if own.is_empty() { element.region.clone() } else { Region::union(grid, [&element.region, &own]) }
        } else if all.is_empty() {
            element.region.clone()
        } else {
            element.region.minus(&all)
        };
        Element { name: element.name.clone(), region }
    };
    let _ = measured;
    job.design
        .elements
        .iter()
        .zip(&job.treatments)
        .enumerate()
        .map(mend_one)
        .filter(|element| !element.region.is_empty())
        .collect()
}

fn owner_of(job: &Job, point: DVec2) -> Option<usize> {
    job.design.elements.iter().position(|element| element.region.contains(point))
}

/// The limit of a wall that runs along a chord of its axis; of a chord without length, the feature's own.
fn wall_width(limits: &Limits, measured: &Measured, feature: &Feature, chord: DVec2) -> f64 {
    let direction = if chord == DVec2::ZERO { feature.direction } else { chord.to_angle() };
    limits.wall(direction, measured.beside_pierced(feature.piece)).get()
}

/// Outer rings and holes.
fn ring_counts(region: &Region) -> (usize, usize) {
    let holes = region.rings().filter(|ring| ring.hole).count();
    (region.rings().count() - holes, holes)
}

/// All points within `radius` of the line from `a` to `b`, with the round ends drawn outside their
/// circles. Counter-clockwise.
fn strip(a: DVec2, b: DVec2, radius: f64) -> Vec<DVec2> {
    let along = (b - a).try_normalize().unwrap_or(DVec2::X);
    let angle = along.to_angle();
    let half = END_CORNERS / 2;
    let corner_radius = radius / (TAU / f64::from(2 * END_CORNERS)).cos();
    let end = |center: DVec2, first: f64| {
        // Corners stand between the touching points, so that the two sides of the strip touch too.
        (0..half).map(move |step| {
            let turn = (f64::from(step) + 0.5) / f64::from(half) * (TAU / 2.0);
            center + DVec2::from_angle(first + turn) * corner_radius
        })
    };
    end(b, angle - TAU / 4.0).chain(end(a, angle + TAU / 4.0)).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use glam::dvec2;

    #[test]
    fn a_strip_is_nowhere_narrower_than_asked() {
        for (a, b) in [
            (dvec2(0.0, 0.0), dvec2(10.0, 0.0)),
            (dvec2(3.0, -1.0), dvec2(3.1, 4.0)),
            (DVec2::ONE, DVec2::ONE),
        ] {
            let ring = strip(a, b, 2.0);
            for (&p, &q) in ring.iter().zip(ring.iter().cycle().skip(1)) {
                let normal = (q - p).perp().normalize();
                for end in [a, b] {
                    let distance = normal.dot(end - p);
                    assert!(distance > 2.0 - 1e-9, "{distance} from the side at {p}");
                }
            }
            let furthest = ring.iter().map(|&p| (p - a).length().min((p - b).length())).fold(0.0, f64::max);
            assert!(furthest < 2.0 * 1.006, "{furthest}");
        }
    }
}
