//! What skipping the roller allowance costs at the ends.
//!
//! The order of things: with the cutter over the board at `s` from the end that is fed first, that end
//! is `s` past the cutter. It lies under the outfeed roller once `s` is at least that roller's distance
//! from the cutter. The end fed last is `L - s` short of the cutter, and lies under the infeed roller
//! while that is at least the infeed roller's distance. In between, the roller on that side has nothing
//! under it, the end is free to move, and what is carved then is likely to show a line.
//!
//! Where the end comes under its roller, or leaves it, the surface jumps: by the machine's own release
//! step, and by how far the free end had sagged.

use super::Measured;
use super::beam::Strip;
use super::fit::board_from_design;
use super::overhang::{Travel, travel};
use crate::design::Design;
use crate::geometry::Ring;
use crate::job::{Ends, Job};
use crate::shop::{BoardEnd, Machine, machines};
use crate::units::Mm;
use glam::DVec2;

/// The stretches of the board, along its length, that are carved while an end is past its roller: the
/// left end's, then the right end's. None where the ends are held.
pub fn snipe_zones(job: &Job) -> Vec<[Mm; 2]> {
    match job.ends() {
        Ends::Held => Vec::new(),
        Ends::Free => {
            let length = job.board().length;
            let reach = |end| job.machine().allowance(end).min(length);
            vec![[Mm::ZERO, reach(BoardEnd::Left)], [length - reach(BoardEnd::Right), length]]
        }
    }
}

/// How a job's board is fed: what is carved while an end is past its roller, and where the board goes.
#[derive(Clone, Debug)]
pub struct Feeding {
    /// Stretches of the board, along its length, that are carved while an end is past its roller.
    pub snipe_zones: Vec<[Mm; 2]>,
    /// The share of the design's area that lies in them, 0 to 1.
    pub sniped_share: f64,
    /// How high a line is to be expected there.
    pub step: SnipeStep,
    /// Where the board goes while it is fed.
    pub travel: Travel,
}

impl Feeding {
    /// What feeding a job's board brings at `factor`. `O(edges over one place)` once the design's area is
    /// prepared.
    pub(super) fn of(job: &Job, measured: &Measured, factor: f64) -> Feeding {
        let snipe_zones = snipe_zones(job);
        // The zones of a short board overlap; what lies in both is counted once.
        let sniped_share = match snipe_zones.as_slice() {
            &[[start, first], [second, end]] if second < first => {
                share_within(job, measured, factor, [start, end])
            }
            zones => zones.iter().map(|&zone| share_within(job, measured, factor, zone)).sum(),
        };
        Feeding { snipe_zones, sniped_share, step: SnipeStep::of(job), travel: travel(job, factor) }
    }
}

/// How high a line is to be expected where an end leaves its roller.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SnipeStep {
    /// What the machine does by itself, whatever the board.
    pub release: Mm,
    /// How far the free end sags, held at the other roller: a cantilever as long as the rollers stand
    /// apart. `None` where the wood's stiffness or density is not known.
    pub sag: Option<Mm>,
    /// Whether somebody measured the release step; else it may be from half of that to twice as much.
    pub is_measured: bool,
}

/// What a machine that nobody measured may release, as shares of the round value its profile starts with: round
/// values of our own, for such a step differs from machine to machine.
const LEAST: f64 = 0.5;
/// The most.
const MOST: f64 = 2.0;

impl SnipeStep {
    /// What to expect for a job. The same at both ends: either end is free over the whole way from
    /// roller to roller.
    pub fn of(job: &Job) -> SnipeStep {
        let free = job.machine().roller_span().min(job.board().length);
        let sag = Strip::of(job).map(|strip| Mm::new(strip.cantilever_sag(free.get())));
        let machine = job.machine();
        let starts_so =
            |built_in: &Machine| (&built_in.id, built_in.release_step) == (&machine.id, machine.release_step);
        SnipeStep { release: machine.release_step, sag, is_measured: !machines().iter().any(starts_so) }
    }

    /// Both together; a sag that is not known counts for nothing.
    pub fn height(&self) -> Mm {
        self.release + self.sag.unwrap_or(Mm::ZERO)
    }

    /// How low and how high it may be: both the same where the release step was measured.
    pub fn range(&self) -> [Mm; 2] {
        let shares = if self.is_measured { [1.0; 2] } else { [LEAST, MOST] };
        shares.map(|share| self.release * share + self.sag.unwrap_or(Mm::ZERO))
    }
}

/// The share of the design's area, 0 to 1, that lies within a stretch of the board. `O(edges over one place)`
/// once the profile is made.
pub(super) fn share_within(job: &Job, measured: &Measured, factor: f64, zone: [Mm; 2]) -> f64 {
    let design_from_board = board_from_design(job, factor).inverse();
    let [from, to] = zone.map(|along| design_from_board.transform_point2(DVec2::new(along.get(), 0.0)));
    let axis = usize::from(job.turn().swaps());
    let (from, to) = (from[axis].min(to[axis]), from[axis].max(to[axis]));
    let profile = measured.profile(job.design(), axis);
    ((profile.below(to) - profile.below(from)) / profile.below(f64::INFINITY)).clamp(0.0, 1.0)
}

/// How a design's area is spread along one of its axes: how much lies below any place of it.
///
/// Strips of even width, each with the area below it and the edges that pass over it.
#[derive(Clone, Debug)]
pub(super) struct AreaProfile {
    /// Edges by place along the axis and across it, so turned that the design lies below each that runs
    /// back and above each that runs on.
    edges: Vec<[DVec2; 2]>,
    low: f64,
    strip: f64,
    /// The area below each strip, and below the end of the last.
    below: Vec<f64>,
    /// The edges over strip `i` are `over[first[i]..first[i + 1]]`.
    first: Vec<u32>,
    over: Vec<u32>,
}

impl AreaProfile {
    /// `O(n)` in edges.
    pub(super) fn of(design: &Design, axis: usize) -> AreaProfile {
        let outline = design.outline_box();
        // Turned clockwise, for y to run along; and from a corner, for the sake of small numbers.
        let place = |point: DVec2| {
            let point = point - outline.min;
            if axis == 0 { point } else { DVec2::new(point.y, -point.x) }
        };
        let rings = design.elements.iter().flat_map(|element| element.region.rings());
        let edges: Vec<[DVec2; 2]> = rings.flat_map(Ring::segments).map(|edge| edge.map(place)).collect();
        let (low, extent) = (outline.min[axis], outline.size()[axis]);
        let run: f64 = edges.iter().map(|[a, b]| (b.x - a.x).abs()).sum();
        // Each edge passes over two strips or so.
        let strip = (run / edges.len() as f64).max(extent / edges.len() as f64);
        #[expect(clippy::cast_sign_loss, reason = "an extent is not negative")]
        let strips = (extent / strip).ceil().max(1.0) as usize;
        let mut profile = AreaProfile {
            edges,
            low,
            strip,
            below: vec![0.0; strips + 1],
            first: vec![0; strips + 1],
            over: Vec::new(),
        };
        for i in 0..profile.edges.len() {
            for strip in profile.strips_under(profile.edges[i]) {
                let [from, to] = profile.bounds(strip);
                profile.below[strip + 1] += area_between(profile.edges[i], from, to);
                profile.first[strip + 1] += 1;
            }
        }
        for strip in 0..strips {
            profile.below[strip + 1] += profile.below[strip];
            profile.first[strip + 1] += profile.first[strip];
        }
        let mut next = profile.first.clone();
        profile.over = vec![0; *profile.first.last().unwrap_or(&0) as usize];
        for (i, &edge) in (0_u32..).zip(&profile.edges) {
            for strip in profile.strips_under(edge) {
                profile.over[next[strip] as usize] = i;
                next[strip] += 1;
            }
        }
        profile
    }

    #[expect(clippy::cast_sign_loss, reason = "what is negative comes out as nothing")]
    fn strips_under(&self, [a, b]: [DVec2; 2]) -> std::ops::RangeInclusive<usize> {
        let strip = |x: f64| ((x / self.strip) as usize).min(self.below.len() - 2);
        strip(a.x.min(b.x))..=strip(a.x.max(b.x))
    }

    fn bounds(&self, strip: usize) -> [f64; 2] {
        // The last takes in what rounding leaves.
        let last = strip + 2 == self.below.len();
        [strip as f64 * self.strip, if last { f64::INFINITY } else { (strip + 1) as f64 * self.strip }]
    }

    /// The area below a place of the axis.
    pub(super) fn below(&self, place: f64) -> f64 {
        let x = place - self.low;
        let strips = self.below.len() - 1;
        if x <= 0.0 {
            return 0.0;
        }
        if x >= strips as f64 * self.strip {
            return self.below[strips];
        }
        let strip = *self.strips_under([DVec2::splat(x); 2]).start();
        let over = &self.over[self.first[strip] as usize..self.first[strip + 1] as usize];
        let from = self.bounds(strip)[0];
        let within = |&edge: &u32| area_between(self.edges[edge as usize], from, x);
        self.below[strip] + over.iter().map(within).sum::<f64>()
    }
}

/// What an edge adds to the area between two upright lines: Green's theorem on the edge clipped to the strip
/// (what the lines themselves add cancels, for the strip's y does not change along them).
fn area_between([a, b]: [DVec2; 2], from: f64, to: f64) -> f64 {
    let (left, right) = (a.x.clamp(from, to), b.x.clamp(from, to));
    if left == right {
        return 0.0;
    }
    let y_at = |x: f64| a.y + (b.y - a.y) * ((x - a.x) / (b.x - a.x));
    -(right - left) * 0.5 * (y_at(left) + y_at(right))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::design::Element;
    use crate::geometry::{FillRule, Grid, Rect, Region};
    use glam::dvec2;

    #[test]
    fn area_between_upright_lines_is_exact() {
        let triangle = vec![dvec2(0.0, 0.0), dvec2(10.0, 0.0), dvec2(0.0, 10.0)];
        let hole = vec![dvec2(1.0, 1.0), dvec2(2.0, 1.0), dvec2(2.0, 2.0), dvec2(1.0, 2.0)];
        for offset in [DVec2::ZERO, dvec2(-300.0, 7000.0)] {
            let moved = |ring: &[DVec2]| ring.iter().map(|&p| p + offset).collect::<Vec<_>>();
            let rings = [moved(&triangle), moved(&hole)];
            let grid = Grid::covering(Rect::new(offset, offset + dvec2(10.0, 10.0)));
            let region = Region::clean(grid, &rings, FillRule::EvenOdd);
            let elements = vec![Element::new("corner", region)];
            let design = Design {
                name: "corner".to_owned(),
                elements,
                page: None,
                grid,
                notices: crate::notice::Notices::new(),
                sharpness: None,
            };
            // The same either way, for the triangle is its own mirror image.
            for axis in [0, 1] {
                let profile = AreaProfile::of(&design, axis);
                let close = |from: f64, to: f64, expected: f64| {
                    let at = offset[axis];
                    let found = profile.below(to + at) - profile.below(from + at);
                    assert!((found - expected).abs() < 1e-5, "{from}..{to}: {found}, not {expected}");
                };
                close(-5.0, 20.0, 49.0);
                close(0.0, 5.0, 36.5);
                close(1.0, 2.0, 7.5);
                close(1.5, 1.75, 1.84375);
                close(20.0, 30.0, 0.0);
            }
        }
    }
}
