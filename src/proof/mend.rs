//! Mending: thicken what is too thin, widen what is blocked, and leave the rest alone.
//!
//! A thin wall is mended by laying a strip as wide as its limit along the thin part of its axis; a
//! blocked groove by cutting such a strip. Every point of the strip then lies in a circle as wide as
//! the limit, so what was found is no longer there; nothing further than half a limit from the thin
//! part of an axis is touched. Points are not mended: blunting one is the drawing's business.

use super::rate::Rule;
use super::{Measured, Ratings, measure_unless, rate_unless};
use crate::design::{Design, Element};
use crate::geometry::widths::{Feature, FeatureShape};
use crate::geometry::{FillRule, Grid, Region, near_segment, segment_distance};
use crate::job::{Edit, Job, Size, Treatment};
use glam::DVec2;
use rayon::prelude::*;
use std::cell::LazyCell;
use std::collections::BTreeMap;
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};

/// Strips are made this much wider than the limit, as a share, so that what is mended is over its limit and not at it:
/// corners included, and though a mended wall, which is another one, asks for some thousandths more. Of a limit of 3 mm
/// that is 0.03 mm, less than anyone can measure in wood.
const MARGIN: f64 = 1e-2;

/// How far a strip's middle may stray from the axis, as a share of the limit: a part of the margin.
/// Chords that run on in a line become one, for strips that lie side by side to the last bit leave
/// slivers between them.
const STRAIGHT: f64 = 1e-3;

/// Corners of each round end of a strip. They stand on the circle, so that strips that follow one
/// another have smooth sides; between them the end falls short by 4.8 parts in 1000, under the margin. Each corner is
/// one more edge to be measured.
const END_CORNERS: u32 = 16;

/// About how many edges a mended wall or groove adds to a design at the least: those of one strip.
pub const EDGES_OF_A_STRIP: usize = 2 * END_CORNERS as usize + 2;

/// How often what was mended is measured and mended again.
pub const MOST_PASSES: u32 = 8;

/// How much further off its axis each pass after the first takes a wall to run, radians.
const TURN: f64 = 0.1;

/// How much thicker each pass after the first makes a wall: what is mended is another wall, longer or with other ends,
/// and asks for a little more or less.
const THICKER: f64 = 0.02;

/// How far the direction at a spot of a wall that bends may be from what was measured, radians: a file's
/// rounding alone turns short pieces of an axis by a third of this.
const BEND: f64 = 0.08;

/// Where a strip runs into the outline the two touch, and what lies between them can be a sliver of
/// this thickness in millimetres or less: a thousandth of what any cutter leaves.
const SLIVER: f64 = 1e-3;

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
    /// The mended design, measured and rated; `None` where nothing had to be mended.
    pub measured: Option<(Measured, Ratings)>,
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

/// Mends a job at `factor`. The design keeps its drawn size: the limits are taken to it. The mended job
/// is carved at `factor` too, whatever its size was told by.
///
/// What is laid turns the walls a little where they bend or run into others, and a limit goes with the
/// direction; so what comes of it is measured again, and mended again where a spot is still thin, up to
/// [`MOST_PASSES`] times. The first pass alone mends what is straight. Each pass measures near what it changed.
pub fn mend(job: &Job, measured: &Measured, ratings: &Ratings, factor: f64, what: Mend) -> Mended {
    let never = AtomicBool::new(false);
    mend_unless(job, measured, ratings, factor, what, None, &never).expect("it is never called off")
}

/// The axis of the one that is mended, and how far from it its spots may lie once it is.
struct Only {
    chords: Vec<[DVec2; 2]>,
    reach: f64,
}

impl Only {
    fn holds(&self, feature: &Feature) -> bool {
        self.distance(feature.at) <= self.reach
    }

    fn distance(&self, point: DVec2) -> f64 {
        let from = |&chord: &[DVec2; 2]| segment_distance([point, point], chord);
        self.chords.iter().map(from).fold(f64::INFINITY, f64::min)
    }
}

/// [`mend`] that looks now and then whether it is called off; `None` then. It looks as often as [`measure_unless`]
/// does, and between the passes. With a place, in design space, it mends the one wall or groove that lies nearest to
/// it; every other stays as it is.
pub fn mend_unless(
    job: &Job,
    measured: &Measured,
    ratings: &Ratings,
    factor: f64,
    what: Mend,
    place: Option<DVec2>,
    cancel: &AtomicBool,
) -> Option<Mended> {
    let mut necks = necks_at(measured, ratings, factor, what);
    let mut only = None;
    if let Some(place) = place {
        let by_distance = |a: &Feature, b: &Feature| a.at.distance(place).total_cmp(&b.at.distance(place));
        if let Some(nearest) = necks.into_iter().min_by(by_distance) {
            let usual = ratings.limits.usual();
            let limit = match what {
                Mend::Walls => usual.along.max(usual.across),
                Mend::Grooves => usual.groove,
            };
            only = Some(Only { chords: straightened(&nearest, 0.0), reach: limit.get() / factor });
            necks = vec![nearest];
        } else {
            necks = Vec::new();
        }
    }
    let mut now = job.clone();
    let mut left = necks.clone();
    // What the passes after the first go by: their own measurements.
    let mut again: Option<(Measured, Ratings)> = None;
    for pass in 0..MOST_PASSES {
        if left.is_empty() {
            break;
        }
        if cancel.load(Ordering::Relaxed) {
            return None;
        }
        let (measured, ratings) = again.as_ref().map_or((measured, ratings), |(m, r)| (m, r));
        let strips = strips_along(measured, ratings, factor, what, &left, f64::from(pass) * TURN);
        let elements = laid(&now, what, &strips, cancel)?;
        // Nothing is left of a design that is all strips: it is kept as it is.
        if elements.is_empty() {
            let job = job.clone();
            return Some(Mended { job, thickened: 0, widened: 0, reshaped: Vec::new(), measured: None });
        }
        now = now.with_design(Arc::new(Design { elements, ..(**now.design()).clone() }));
        let measured = measure_unless(&now, cancel)?;
        let ratings = rate_unless(&now, &measured, cancel)?;
        left = necks_at(&measured, &ratings, factor, what);
        left.retain(|feature| only.as_ref().is_none_or(|only| only.holds(feature)));
        again = Some((measured, ratings));
    }
    let reshaped = job
        .design()
        .elements
        .iter()
        .filter(|before| {
            let after = now.design().elements.iter().find(|after| after.name == before.name);
            after.is_none_or(|after| ring_counts(&before.region) != ring_counts(&after.region))
        })
        .map(|element| element.name.clone())
        .collect();
    let (thickened, widened) = match what {
        Mend::Walls => (necks.len(), 0),
        Mend::Grooves => (0, necks.len()),
    };
    // A strip that reaches past the outlines makes the design larger; told by its length it would be
    // carved smaller for it, and what was just mended would again be too thin.
    if now.factor() != factor
        && let Ok(sized) = now.with([Edit::Size(Size::Factor(factor))])
    {
        now = sized;
    }
    Some(Mended { job: now, thickened, widened, reshaped, measured: again })
}

/// The thin walls or blocked grooves at a size, points apart. Those under the face are left: what would
/// have to give way for them is itself carved.
fn necks_at(measured: &Measured, ratings: &Ratings, factor: f64, what: Mend) -> Vec<Feature> {
    let rule = Rule { limits: &ratings.limits, measured, level: 0 };
    let rated = &ratings.levels[0];
    let features = match what {
        Mend::Walls => measured.walls().features(&rule.thin_walls(&rated.walls, factor)),
        Mend::Grooves => measured.grooves().features(&rule.thin_grooves(&rated.grooves, factor)),
    };
    features.filter(|feature| feature.shape == FeatureShape::Neck).collect()
}

/// Strips along the axes of `necks`, wide enough for walls that run up to `turn` radians off their axes.
fn strips_along(
    measured: &Measured,
    ratings: &Ratings,
    factor: f64,
    what: Mend,
    necks: &[Feature],
    turn: f64,
) -> Vec<Strips> {
    let rule = Rule { limits: &ratings.limits, measured, level: 0 };
    let thicker = 1.0 + THICKER * turn / TURN;
    let width_of = |feature: &Feature, chord: DVec2, turn: f64| match what {
        Mend::Walls => wall_width(&rule, feature, chord, turn, factor) * thicker / factor,
        Mend::Grooves => rule.groove(feature.piece).map_or(0.0, |held| held.limit.get()) / factor,
    };
    necks
        .par_iter()
        .map(|feature| {
            let chords = straightened(feature, width_of(feature, DVec2::ZERO, 0.0) * STRAIGHT);
            // Where a wall bends, the direction at a spot is only known so well.
            let turn = if chords.len() > 1 { turn + BEND } else { turn };
            let laid = |[a, b]: [DVec2; 2]| {
                near_segment([a, b], width_of(feature, b - a, turn) * 0.5 * (1.0 + MARGIN), END_CORNERS)
            };
            let owner = measured.elements_at(feature.at).next();
            Strips { owner, rings: chords.into_iter().map(laid).collect() }
        })
        .collect()
}

/// Wood that stands after a change of the design and did not before, and the other way round; as far as
/// the elements tell, element by element.
#[derive(Clone, Debug)]
pub struct Change {
    /// Wood that was added.
    pub added: Region,
    /// Wood that was taken away.
    pub taken: Region,
}

impl Change {
    /// What changed between a job and the same job with another design. Elements are told by their names; outlines
    /// that lie on other grids are laid on one that reaches both. `O(n log n)` in edges.
    pub fn between(before: &Job, after: &Job) -> Change {
        let [old, new] = [before, after].map(Job::design);
        let grid = if old.grid == new.grid {
            old.grid
        } else {
            Grid::covering(old.outline_box().union(new.outline_box()))
        };
        let nothing = Region::empty(grid);
        let (mut added, mut taken) = (Vec::new(), Vec::new());
        for (element, treatment) in old.elements.iter().zip(before.treatments()) {
            let now = new.elements.iter().find(|now| now.name == element.name);
            if now.is_some_and(|now| now.region == element.region) {
                continue;
            }
            let then = laid_on(grid, &element.region);
            let now = now.map_or_else(|| nothing.clone(), |now| laid_on(grid, &now.region));
            let (more, less) = (now.minus(&then), then.minus(&now));
            let (stands, gone) = if treatment.stands() { (more, less) } else { (less, more) };
            added.push(stands.without_slivers(SLIVER));
            taken.push(gone.without_slivers(SLIVER));
        }
        Change { added: Region::union(grid, &added), taken: Region::union(grid, &taken) }
    }
}

/// A region on a grid that reaches all of it.
fn laid_on(grid: Grid, region: &Region) -> Region {
    if region.grid() == grid {
        return region.clone();
    }
    let rings: Vec<Vec<DVec2>> = region.rings().map(|ring| ring.points().collect()).collect();
    Region::clean(grid, &rings, FillRule::NonZero)
}

/// The strips of one feature, and the element they belong to.
struct Strips {
    /// Index of the element the feature lies in; `None` where it lies in the board or the ground.
    owner: Option<usize>,
    rings: Vec<Vec<DVec2>>,
}

/// The elements with the strips laid or cut. A strip of standing wood goes to the element the wall
/// belongs to and is taken from every carved one; a strip of groove the other way round. `None` where it is called
/// off, which is looked at before each step of each element.
fn laid(job: &Job, what: Mend, strips: &[Strips], cancel: &AtomicBool) -> Option<Vec<Element>> {
    let grid = job.design().grid;
    let adds_standing = what == Mend::Walls;
    let region_of = |chosen: &mut dyn Iterator<Item = &Strips>| {
        let rings: Vec<Vec<DVec2>> = chosen.flat_map(|strips| strips.rings.iter().cloned()).collect();
        Region::clean(grid, &rings, FillRule::NonZero)
    };
    let go_on = || (!cancel.load(Ordering::Relaxed)).then_some(());
    let all = LazyCell::new(|| region_of(&mut strips.iter()));
    let mend_one = |(index, (element, treatment)): (usize, (&Element, Treatment))| {
        go_on()?;
        let adds = treatment.stands() == adds_standing;
        // Wood that stands outside every element belongs to the board and needs no outline.
        let own = adds.then(|| region_of(&mut strips.iter().filter(|strips| strips.owner == Some(index))));
        let laid = own.as_ref().unwrap_or_else(|| &all);
        if laid.is_empty() {
            return Some(element.clone());
        }
        go_on()?;
        let region =
            if adds { Region::union(grid, [&element.region, laid]) } else { element.region.minus(laid) };
        go_on()?;
        Some(element.with_region(region.without_slivers(SLIVER)))
    };
    let elements = job.design().elements.iter().zip(job.treatments()).enumerate();
    let mended: Option<Vec<Element>> = elements.map(mend_one).collect();
    let mut mended = mended?;
    mended.retain(|element| !element.region.is_empty());
    Some(mended)
}

/// The limit of a wall that runs along a chord of its axis, or up to `turn` radians off it; of a chord
/// without length, the feature's own.
fn wall_width(rule: &Rule, feature: &Feature, chord: DVec2, turn: f64, factor: f64) -> f64 {
    let direction = if chord == DVec2::ZERO { feature.direction } else { chord.to_angle() };
    // The thinnest place of a wall is not always the one that asks for most: nearer to a free end another may.
    let asks = |direction| {
        let of = |piece| Some(rule.wall(piece, direction, factor)?.limit.get());
        [feature.piece, feature.name].into_iter().filter_map(of).fold(0.0, f64::max)
    };
    [direction - turn, direction, direction + turn].into_iter().map(asks).fold(0.0, f64::max)
}

/// Outer rings and holes.
fn ring_counts(region: &Region) -> (usize, usize) {
    let holes = region.rings().filter(|ring| ring.hole).count();
    (region.rings().count() - holes, holes)
}

/// The thin part of a feature's axis in as few chords as stay within `tolerance` of it.
fn straightened(feature: &Feature, tolerance: f64) -> Vec<[DVec2; 2]> {
    let mut chords = Vec::new();
    for chain in chains(feature) {
        straighten(&chain, tolerance, &mut chords);
    }
    chords
}

/// The axis as runs of points that go from one end or fork to the next. A closed axis is cut where its
/// first chord starts.
fn chains(feature: &Feature) -> Vec<Vec<DVec2>> {
    let key = |point: DVec2| (point.x.to_bits(), point.y.to_bits());
    let chords: Vec<[DVec2; 2]> =
        feature.axis.iter().map(|[a, b]| [a.at, b.at]).filter(|[a, b]| a != b).collect();
    if chords.is_empty() {
        return vec![vec![feature.at, feature.at]];
    }
    let mut at: BTreeMap<(u64, u64), Vec<usize>> = BTreeMap::new();
    for (index, chord) in chords.iter().enumerate() {
        for &end in chord {
            at.entry(key(end)).or_default().push(index);
        }
    }
    let runs_on = |point: DVec2| at[&key(point)].len() == 2;
    let mut used = vec![false; chords.len()];
    let mut chains = Vec::new();
    let mut follow = |first: usize, start: DVec2, used: &mut Vec<bool>| {
        let mut chain = vec![start];
        let mut next = Some(first);
        while let Some(index) = next {
            used[index] = true;
            let [a, b] = chords[index];
            let end = if key(a) == key(chain[chain.len() - 1]) { b } else { a };
            chain.push(end);
            next = if runs_on(end) { at[&key(end)].iter().copied().find(|&i| !used[i]) } else { None };
        }
        chains.push(chain);
    };
    for (index, chord) in chords.iter().enumerate() {
        if let Some(&start) = chord.iter().find(|&&end| !runs_on(end))
            && !used[index]
        {
            follow(index, start, &mut used);
        }
    }
    for index in 0..chords.len() {
        if !used[index] {
            follow(index, chords[index][0], &mut used);
        }
    }
    chains
}

/// Douglas and Peucker's way: keep the point furthest from the chord while any is too far from it.
fn straighten(chain: &[DVec2], tolerance: f64, chords: &mut Vec<[DVec2; 2]>) {
    let (Some(&first), Some(&last)) = (chain.first(), chain.last()) else { return };
    let away = |point: DVec2| {
        let along = last - first;
        let share = (point - first).dot(along) / along.length_squared();
        let share = if share.is_finite() { share.clamp(0.0, 1.0) } else { 0.0 };
        point.distance(first + along * share)
    };
    let inner = 1..chain.len().max(2) - 1;
    match inner.max_by(|&i, &j| away(chain[i]).total_cmp(&away(chain[j]))) {
        Some(furthest) if away(chain[furthest]) > tolerance => {
            straighten(&chain[..=furthest], tolerance, chords);
            straighten(&chain[furthest..], tolerance, chords);
        }
        _ => chords.push([first, last]),
    }
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
            let ring = near_segment([a, b], 2.0, END_CORNERS);
            for (&p, &q) in ring.iter().zip(ring.iter().cycle().skip(1)) {
                let normal = (q - p).perp().normalize();
                for end in [a, b] {
                    let distance = normal.dot(end - p);
                    assert!(p == q || distance * (1.0 + MARGIN) > 2.0, "{distance} from the side at {p}");
                }
            }
            let furthest = ring.iter().map(|&p| (p - a).length().min((p - b).length())).fold(0.0, f64::max);
            assert!(furthest < 2.0 + 1e-9, "{furthest}");
        }
    }
}
