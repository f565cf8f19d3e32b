//! The passes a machine of this kind would make, as data.
//!
//! Offsets are exact on a lattice of a few nanometres: true corners where the cutter turns, no pixels. Those of a floor
//! that is all that is carved are read off the diagram that the design was measured by ([`KnownFloor`]); others are
//! worked out by the overlay engine that keeps the regions clean.

#![expect(clippy::cast_sign_loss, reason = "what is cast is not negative: counted, clamped or rounded up")]

use super::known::{KnownFloor, RoundCutter};
use super::profile::Profile;
use super::{clear, pierce, vee};
use crate::geometry::{BoxLattice, FillRule, Grid, Locator, Rect, Region, Ring, is_inside};
use crate::job::{ClearingDirection, CutterUse, Job, Place, Treatment};
use crate::proof::{Measured, fit, ground};
use crate::shop::Cutter;
use glam::{DAffine2, DVec2, DVec3};
use std::sync::atomic::{AtomicBool, Ordering};

/// All passes of a job.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Plan {
    /// The cutters, in the order they are used.
    pub cutters: Vec<Cutter>,
    /// What is cut, in order. Between one line and the next the cutter lifts off.
    pub lines: Vec<PathLine>,
}

/// One stretch the cutter makes without lifting off.
#[derive(Clone, Debug, PartialEq)]
pub struct PathLine {
    /// Whose it is.
    pub place: Place,
    /// An index into the plan's cutters.
    pub cutter: u32,
    /// What it is for.
    pub kind: PathKind,
    /// Whether it leaves some of the final surface: a line that is only on the way down, and is followed
    /// deeper in full, does not.
    pub last: bool,
    /// Where the cutter's lowest point goes: board space, millimetres, 0 at the face, negative down. At
    /// least two points, or one where the cutter only goes in and out.
    pub points: Vec<DVec3>,
}

/// What a line is for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum PathKind {
    /// Clears a floor, with lines along the board.
    ClearingAlong,
    /// Clears a floor, with lines across it.
    ClearingAcross,
    /// Follows the edge of a floor.
    Outline,
    /// Follows the middle of what is incised.
    Vee,
    /// Follows the edge of what is cut through.
    Pierced,
}

impl PathKind {
    /// All of them, in the order they are carved.
    pub const ALL: [PathKind; 5] = [
        PathKind::ClearingAlong,
        PathKind::ClearingAcross,
        PathKind::Outline,
        PathKind::Vee,
        PathKind::Pierced,
    ];
}

/// A remainder thinner than this is left to the cutter's own accuracy: the chords of two offsets of the same
/// edge stray from each other by a few micrometres.
const WORTH_A_PASS: f64 = 0.06;

/// How much farther than its margin the ground may reach, millimetres: no wall stands there, and a margin of
/// exactly one cutter is one pass round.
pub(super) const SLACK: f64 = 0.03;

/// The job's outlines on the board, by what becomes of them.
pub(super) struct TreatedRegions {
    /// What is lowered flat, the ground and what is sunk: one for each depth and cutter, the shallowest first.
    pub floors: Vec<Floor>,
    /// Each incised element, by index.
    pub incised: Vec<(usize, Region)>,
    /// Each pierced element, by index.
    pub pierced: Vec<(usize, Region)>,
}

/// All floors of one depth that one cutter makes.
pub(super) struct Floor {
    /// How deep, never below the underside. Millimetres.
    pub depth: f64,
    /// An index into the job's cutters in order.
    pub cutter: usize,
    /// What is to be lowered.
    pub region: Region,
    /// Where the cutter may go at this depth: over all floors that are as deep or deeper.
    pub open: Region,
    /// Each sunk element in it, by index.
    pub sunk: Vec<(usize, Region)>,
    /// Whether the ground is in it.
    pub has_ground: bool,
}

impl TreatedRegions {
    /// `O(n log n)` in edges for each depth and cutter.
    pub(super) fn of(job: &Job, measured: &Measured) -> TreatedRegions {
        let factor = job.factor();
        let board_from_design = fit::board_from_design(job, factor);
        let (board, grid) = (job.board().area(), grid(job, board_from_design));
        let treated = |wanted: Treatment| {
            let elements = job.design().elements.iter().enumerate().zip(job.treatments());
            let of_kind = elements.filter(move |(_, treatment)| *treatment == wanted);
            of_kind
                .map(|((index, element), _)| (index, on_board(grid, &element.region, board_from_design)))
                .collect::<Vec<(usize, Region)>>()
        };
        let (sunk, incised, pierced) =
            (treated(Treatment::Sunk), treated(Treatment::Incised), treated(Treatment::Pierced));
        let ground = Region::clean(grid, &[ground::ground(job, factor)], FillRule::NonZero).grown(SLACK);
        let standing = if measured.standing_inside {
            on_board(grid, &measured.outline, board_from_design)
        } else {
            Region::empty(grid)
        };
        let own = incised.iter().chain(&pierced).map(|(_, region)| region).chain([&standing]);
        let own = Region::union(grid, own);
        let cutters = job.cutters();
        let reach = Region::clean(grid, &[reach(job).corners().to_vec()], FillRule::NonZero);
        let lowered = |regions: &mut dyn Iterator<Item = &Region>| {
            let lowered = Region::union(grid, regions);
            if lowered.is_empty() {
                return lowered;
            }
            let floor = lowered.minus(&own);
            let within = floor.bounds().is_none_or(|bounds| board.union(bounds) == board);
            if within { floor } else { floor.intersection(&reach) }
        };

        let mut floors: Vec<Floor> = Vec::new();
        let floor_of = |floors: &mut Vec<Floor>, place: Place| {
            let cut = job.cut(place);
            let depth = cut.depth.min(job.board().thickness).get();
            let cutter = number_in(&cutters, cut.cutter);
            let known = floors.iter().position(|floor| floor.depth == depth && floor.cutter == cutter);
            let index = known.unwrap_or(floors.len());
            if known.is_none() {
                let (region, open) = (Region::empty(grid), Region::empty(grid));
                floors.push(Floor { depth, cutter, region, open, sunk: Vec::new(), has_ground: false });
            }
            index
        };
        if !ground.is_empty() {
            let index = floor_of(&mut floors, Place::Ground);
            floors[index].has_ground = true;
        }
        for (element, region) in &sunk {
            let index = floor_of(&mut floors, Place::Element(*element));
            floors[index].sunk.push((*element, region.clone()));
        }
        floors.sort_by(|a, b| a.depth.total_cmp(&b.depth).then(a.cutter.cmp(&b.cutter)));
        let all_sunk = Region::union(grid, sunk.iter().map(|(_, region)| region));
        for index in 0..floors.len() {
            let floor = &floors[index];
            let elements = floor.sunk.iter().map(|(_, region)| region);
            let region = if !floor.has_ground {
                lowered(&mut elements.chain([]))
            } else if floors.len() == 1 {
                lowered(&mut elements.chain([&ground]))
            } else {
                // An element that is not as deep as the ground, or made otherwise, is not ground.
                lowered(&mut elements.chain([&ground.minus(&all_sunk)]))
            };
            floors[index].region = region;
        }
        for index in 0..floors.len() {
            let depth = floors[index].depth;
            let as_deep: Vec<&Region> =
                floors.iter().filter(|other| other.depth >= depth).map(|other| &other.region).collect();
            let open = if as_deep.len() == 1 { as_deep[0].clone() } else { Region::union(grid, as_deep) };
            floors[index].open = open;
        }
        TreatedRegions { floors, incised, pierced }
    }
}

/// The board's own lattice, which reaches all of the design.
pub(super) fn grid(job: &Job, board_from_design: DAffine2) -> Grid {
    let corners = job.design().outline_box().corners().map(|p| board_from_design.transform_point2(p));
    Grid::covering(
        corners.into_iter().filter_map(|p| Rect::around([p])).fold(job.board().area(), Rect::union),
    )
}

/// How far a floor is followed: cutters may run off the board, by as much as it takes to leave no rest at its edge.
pub(super) fn reach(job: &Job) -> Rect {
    let cutters = job.cutters();
    let widest = cutters.iter().map(|one| one.cutter.shape.diameter().get()).fold(0.0, f64::max);
    job.board().area().grown(widest)
}

/// A region of the design on the board, on the board's own lattice.
pub(super) fn on_board(grid: Grid, region: &Region, board_from_design: DAffine2) -> Region {
    let ring = |ring: Ring<'_>| ring.points().map(|p| board_from_design.transform_point2(p)).collect();
    let rings: Vec<Vec<DVec2>> = region.rings().map(ring).collect();
    Region::clean(grid, &rings, FillRule::NonZero)
}

/// The passes of a job at its size, from its measured design; `None` once `cancel` is set.
///
/// For each place that is lowered: clearing lines and a pass round the edge at each depth, by the larger
/// cutter first where there is one, then by the place's own where that could not go. Floors of one depth and
/// cutter are cleared together; a shallower one over deeper ones that lie open to it, so that nothing is left
/// between them. Incised places get V paths along their middle, as deep as the width asks, and a cleared floor
/// where they are wider than the cutter at the set depth; a cutter without a point follows the same middle as
/// deep as it fits. Pierced places get a pass inside their outline at each depth, with holding bridges where
/// waste would come loose. Everything one cutter does comes before the next is put in.
///
/// A cutter never leaves what is carved at least as deep: what it cannot enter is not cut. Where a floor runs
/// through several sunk elements, each line belongs to the one it begins in, else to the ground or the first.
/// `O(n log n)` in edges for the most part; tens of milliseconds for an ordinary sign.
pub fn plan(job: &Job, measured: &Measured, cancel: &AtomicBool) -> Option<Plan> {
    let go_on = || (!cancel.load(Ordering::Relaxed)).then_some(());
    let uses = job.cutters();
    let cutters: Vec<&Cutter> = uses.iter().map(|one| one.cutter).collect();
    let number_of = |element: usize| number_in(&uses, job.cutter_of(element));
    let mut passes = Passes { job, cutters: &cutters, lines: Vec::new() };
    let clears = job.clearing().cutter.as_ref().filter(|first| cutters.contains(first));
    let clears = clears.map(|first| number_in(&uses, first));
    let radius_of = |number: usize, depth| Profile::of(cutters[number].shape).half_width(depth);

    let known = KnownFloor::of(job, measured);
    if let Some(floor) = &known {
        let number = number_in(&uses, floor.cutter);
        let is_made_alone = clears.is_none_or(|first| first == number);
        if is_made_alone && let Some(round) = floor.for_radius(radius_of(number, floor.depth)) {
            go_on()?;
            passes.floor(number, &round.middles(), floor.depth, &Owners::of(&floor.sunk, floor.has_ground));
            return Some(passes.into_plan());
        }
    }
    let regions = TreatedRegions::of(job, measured);
    for floor in &regions.floors {
        let owners = Owners::of(&floor.sunk, floor.has_ground);
        let alone = floor.open == floor.region;
        let mut left = floor.region.clone();
        let first = clears.filter(|&first| first != floor.cutter);
        for (turn, number) in first.into_iter().chain([floor.cutter]).enumerate() {
            go_on()?;
            let radius = radius_of(number, floor.depth);
            // A floor that is known is the only one.
            let round = known.as_ref().and_then(|known| known.for_radius(radius));
            let middles = round.as_ref().map_or_else(|| floor.open.grown(-radius), RoundCutter::middles);
            let needed =
                if turn == 0 && alone { middles.clone() } else { middles.intersection(&left.grown(radius)) };
            passes.floor(number, &needed, floor.depth, &owners);
            if number != floor.cutter {
                // So little that hardly a chord goes round a corner: two offsets are quicker than a diagram.
                let thin = WORTH_A_PASS / 2.0;
                let reached = match round {
                    Some(round) => round.reached(&floor.open),
                    None => vec![floor.open.opened(radius)],
                };
                left = left.minus_all(&reached).grown(-thin).grown(thin);
            }
        }
    }
    for (element, region) in &regions.incised {
        go_on()?;
        let number = number_of(*element);
        let profile = Profile::of(cutters[number].shape);
        let depth = incised_depth(job, *element);
        // A floor where the place is wider than the cutter at the set depth.
        let floor = region.grown(-profile.half_width(depth));
        passes.floor(number, &floor, depth, &Owners::only(*element));
        for level in vee::levels(region, &profile, depth, job.clearing().pass_depth(cutters[number])) {
            for (points, last) in level {
                passes.push(Place::Element(*element), number, PathKind::Vee, last, points);
            }
        }
    }
    let thickness = job.board().thickness.get();
    for (element, region) in &regions.pierced {
        go_on()?;
        let number = number_of(*element);
        let radius = Profile::of(cutters[number].shape).half_width(thickness);
        let pass_depth = job.clearing().pass_depth(cutters[number]);
        let middles = region.grown(-radius);
        // What comes loose: nothing where the cutter takes all of it away.
        let loose = middles.grown(-radius);
        for ring in clear::in_short_order(clear::rings(&middles), |p| *p) {
            let holds = holds_some(&ring, &loose).then_some(job.clearing().bridge);
            for (step, last) in steps(thickness, pass_depth) {
                let points = pierce::round(&ring, step, thickness, radius, holds);
                passes.push(Place::Element(*element), number, PathKind::Pierced, last, points);
            }
        }
    }
    Some(passes.into_plan())
}

/// Whose a place of a floor is: the sunk element's that it lies in, else the usual one's.
struct Owners {
    /// Each by its number.
    elements: Vec<(usize, Locator)>,
    boxes: BoxLattice,
    usual: Place,
}

impl Owners {
    /// Of one element alone.
    fn only(element: usize) -> Owners {
        Owners { elements: Vec::new(), boxes: BoxLattice::new(&[]), usual: Place::Element(element) }
    }

    /// Of the ground, else of the first element, where it lies in none of them. `O(n)` in edges.
    fn of(sunk: &[(usize, Region)], has_ground: bool) -> Owners {
        // Larger by what a locator may take a place for inside.
        let around = |region: &Region| Some(region.bounds()?.grown(region.grid().step()));
        let boxes: Vec<Option<Rect>> = sunk.iter().map(|(_, region)| around(region)).collect();
        let elements = sunk.iter().map(|(element, region)| (*element, Locator::new(region))).collect();
        let first = sunk.first().filter(|_| !has_ground);
        let usual = first.map_or(Place::Ground, |(element, _)| Place::Element(*element));
        Owners { elements, boxes: BoxLattice::new(&boxes), usual }
    }

    /// As many steps as elements whose boxes lie about the place.
    fn at(&self, place: DVec2) -> Place {
        let mut near = self.boxes.at(place).map(|index| &self.elements[index]);
        near.find(|(_, locator)| locator.contains(place)).map_or(self.usual, |(at, _)| Place::Element(*at))
    }
}

/// Whether any loose piece lies within a ring.
fn holds_some(ring: &[DVec2], loose: &Region) -> bool {
    let inside = |p: DVec2| is_inside(p, ring.windows(2).map(|pair| [pair[0], pair[1]]));
    loose.rings().filter(|ring| !ring.hole).any(|piece| piece.points().next().is_some_and(inside))
}

/// Even steps down to a depth, none deeper than one pass, and which of them is the last.
fn steps(depth: f64, pass_depth: f64) -> impl Iterator<Item = (f64, bool)> {
    let count = ((depth / pass_depth) - 1e-9).ceil().clamp(1.0, 10_000.0);
    (1..=count as u32).map(move |i| (depth * f64::from(i) / count, f64::from(i) == count))
}

/// Where a cutter comes among those of the job.
fn number_in(uses: &[CutterUse<'_>], cutter: &Cutter) -> usize {
    uses.iter().position(|one| one.cutter == cutter).expect("every place's cutter is among the job's")
}

/// How deep an incised element may be cut: never below the underside. Millimetres.
pub(super) fn incised_depth(job: &Job, element: usize) -> f64 {
    job.depth_of(element).min(job.board().thickness).get()
}

struct Passes<'a> {
    job: &'a Job,
    cutters: &'a [&'a Cutter],
    lines: Vec<PathLine>,
}

impl Passes<'_> {
    fn push(&mut self, place: Place, cutter: usize, kind: PathKind, last: bool, points: Vec<DVec3>) {
        if !points.is_empty() {
            self.lines.push(PathLine { place, cutter: cutter as u32, kind, last, points });
        }
    }

    /// One cutter after the other; the lines of each are in order already.
    fn into_plan(mut self) -> Plan {
        self.lines.sort_by_key(|line| line.cutter);
        let mut used: Vec<Cutter> = Vec::new();
        for of_cutter in self.lines.chunk_by_mut(|a, b| a.cutter == b.cutter) {
            let number = used.len() as u32;
            used.push(self.cutters[of_cutter[0].cutter as usize].clone());
            for line in of_cutter {
                line.cutter = number;
            }
        }
        Plan { cutters: used, lines: self.lines }
    }

    /// Clears a region of cutter middles down to a depth.
    fn floor(&mut self, cutter: usize, middles: &Region, depth: f64, owners: &Owners) {
        if middles.is_empty() {
            return;
        }
        let clearing = self.job.clearing();
        let with = self.cutters[cutter];
        let apart = clearing.lines_apart(with);
        let pass_depth = clearing.pass_depth(with);
        let kind = match clearing.direction {
            ClearingDirection::Along => PathKind::ClearingAlong,
            ClearingDirection::Across => PathKind::ClearingAcross,
        };
        let flat = |chains: Vec<Vec<DVec2>>, kind| {
            clear::in_short_order(chains, |p| *p)
                .into_iter()
                .map(move |chain| (owners.at(chain[0]), kind, chain))
        };
        let mut chains: Vec<(Place, PathKind, Vec<DVec2>)> =
            flat(clear::lines(middles, apart, clearing.direction), kind).collect();
        chains.extend(flat(clear::rings(middles), PathKind::Outline));
        // Place by place, so that each is finished before the next is begun.
        chains.sort_by_key(|(place, ..)| *place);
        for of_place in chains.chunk_by(|a, b| a.0 == b.0) {
            for (step, last) in steps(depth, pass_depth) {
                for (place, kind, chain) in of_place {
                    let points = chain.iter().map(|p| p.extend(-step)).collect();
                    self.push(*place, cutter, *kind, last, points);
                }
            }
        }
    }
}
