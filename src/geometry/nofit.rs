//! Where one outline may stand beside another without lying over it.
//!
//! Outline `B` at `p` lies over `A` exactly where `p` is inside the Minkowski sum of `A` and `B` turned by half:
//! the no-fit region of the two. Where `B` may stand among many is what is left of the board once the no-fit
//! regions of all of them are cut out of it, and the corners of that are where it touches two of them.
//! (Bennell and Oliveira, *The geometry of nesting problems: a tutorial*, European Journal of Operational
//! Research 184, 2008, section 5.)
//!
//! The sum is put together from convex parts: triangles by clipping ears (Meisters 1975), merged over their
//! diagonals (Hertel and Mehlhorn 1983); two convex outlines add up by merging their edges in order of direction.
//! The overlay engine unites the sums. Nodes of the grid add up to nodes, so only where two sums cross is
//! anything rounded, to a step of the grid.

use super::{FillRule, Grid, Region, Ring, convex_hull};
use glam::DVec2;

/// Where the reference point of `moving` may not be, if that is not to lie over `fixed`. Both are filled first, and
/// a region in several parts counts as all of its parts. Touching is allowed: the result's edge is free.
/// `O(n m log n m)` in the convex parts of the two; a millisecond or so for outlines of 40 corners.
///
/// The reference point is the origin, of both.
///
/// ```
/// # use glam::dvec2;
/// # use spelk::geometry::{FillRule, Grid, Rect, Region, nofit::no_fit};
/// let grid = Grid::covering(Rect::new(dvec2(-64.0, -64.0), dvec2(64.0, 64.0)));
/// let rectangle = |length, width| {
///     Region::clean(grid, &[Rect::new(dvec2(0.0, 0.0), dvec2(length, width)).corners().into()], FillRule::NonZero)
/// };
/// let bounds = no_fit(&rectangle(10.0, 6.0), &rectangle(4.0, 2.0)).bounds().expect("both have an area");
/// assert_eq!([bounds.min, bounds.max], [dvec2(-4.0, -2.0), dvec2(10.0, 6.0)]);
/// ```
pub fn no_fit(fixed: &Region, moving: &Region) -> Region {
    let grid = fixed.grid();
    let parts = |region: &Region| {
        let outer = region.rings().filter(|ring| !ring.hole);
        outer.flat_map(|ring| convex_parts(&ring.points().collect::<Vec<_>>())).collect::<Vec<_>>()
    };
    let turned: Vec<Vec<DVec2>> =
        parts(moving).into_iter().map(|part| part.into_iter().map(|p| -p).collect()).collect();
    let fixed = parts(fixed);
    let sums: Vec<Vec<DVec2>> =
        fixed.iter().flat_map(|part| turned.iter().map(move |other| convex_sum(part, other))).collect();
    Region::clean(grid, &sums, FillRule::NonZero).filled()
}

/// The sum of two convex outlines, both counter-clockwise. `O(n + m)`.
fn convex_sum(a: &[DVec2], b: &[DVec2]) -> Vec<DVec2> {
    let lowest = |ring: &[DVec2]| {
        (0..ring.len())
            .min_by(|&i, &j| ring[i].y.total_cmp(&ring[j].y).then(ring[i].x.total_cmp(&ring[j].x)))
            .unwrap_or_default()
    };
    let (first_a, first_b) = (lowest(a), lowest(b));
    let at = |ring: &[DVec2], first: usize, step: usize| ring[(first + step) % ring.len()];
    let mut sum = Vec::with_capacity(a.len() + b.len());
    let (mut i, mut j) = (0, 0);
    while i < a.len() || j < b.len() {
        sum.push(at(a, first_a, i) + at(b, first_b, j));
        let edge_a = at(a, first_a, i + 1) - at(a, first_a, i);
        let edge_b = at(b, first_b, j + 1) - at(b, first_b, j);
        let turns = edge_a.perp_dot(edge_b);
        let (takes_a, takes_b) = match (i < a.len(), j < b.len()) {
            (true, true) => (turns >= 0.0, turns <= 0.0),
            ends => ends,
        };
        i += usize::from(takes_a);
        j += usize::from(takes_b);
    }
    sum
}

/// Convex outlines that make up a simple one together, all counter-clockwise. An outline that ears cannot be clipped
/// off, because it touches itself, counts as its hull there. `O(n^2)` in its corners.
fn convex_parts(ring: &[DVec2]) -> Vec<Vec<DVec2>> {
    let mut left: Vec<usize> = (0..ring.len()).collect();
    let mut parts: Vec<Vec<usize>> = Vec::new();
    let mut diagonals: Vec<[usize; 2]> = Vec::new();
    let turn = |a: usize, b: usize, c: usize| (ring[b] - ring[a]).perp_dot(ring[c] - ring[b]);
    while left.len() > 3 {
        let n = left.len();
        let is_ear = |k: &usize| {
            let [a, b, c] = [left[(k + n - 1) % n], left[*k], left[(k + 1) % n]];
            if turn(a, b, c) <= 0.0 {
                return false;
            }
            let corners = [ring[a], ring[b], ring[c]];
            !left.iter().any(|&other| {
                let p = ring[other];
                !corners.contains(&p)
                    && (0..3).all(|k| (corners[(k + 1) % 3] - corners[k]).perp_dot(p - corners[k]) >= 0.0)
            })
        };
        if let Some(k) = (0..n).find(is_ear) {
            let [a, b, c] = [left[(k + n - 1) % n], left[k], left[(k + 1) % n]];
            parts.push(vec![a, b, c]);
            diagonals.push([a, c]);
            left.remove(k);
        } else if let Some(straight) =
            (0..n).find(|&k| turn(left[(k + n - 1) % n], left[k], left[(k + 1) % n]) == 0.0)
        {
            left.remove(straight);
        } else {
            let hull = convex_hull(left.iter().map(|&corner| ring[corner]).collect());
            let mut whole: Vec<Vec<DVec2>> =
                parts.iter().map(|part| part.iter().map(|&corner| ring[corner]).collect()).collect();
            whole.push(hull);
            return whole;
        }
    }
    if left.len() == 3 && turn(left[0], left[1], left[2]) > 0.0 {
        parts.push(left);
    }
    for [from, to] in diagonals {
        merge_over(&mut parts, from, to, &turn);
    }
    parts.iter().map(|part| part.iter().map(|&corner| ring[corner]).collect()).collect()
}

/// Merges the two parts on either side of a diagonal, where that leaves a convex one.
fn merge_over(
    parts: &mut Vec<Vec<usize>>,
    from: usize,
    to: usize,
    turn: &impl Fn(usize, usize, usize) -> f64,
) {
    let with_edge = |a: usize, b: usize| {
        parts.iter().position(|part| (0..part.len()).any(|k| part[k] == a && part[(k + 1) % part.len()] == b))
    };
    let (Some(one), Some(other)) = (with_edge(from, to), with_edge(to, from)) else { return };
    if one == other {
        return;
    }
    // Each from the end of the diagonal round to its start.
    let round = |part: &[usize], start: usize| {
        let first = part.iter().position(|&corner| corner == start).unwrap_or_default();
        (0..part.len()).map(|k| part[(first + k) % part.len()]).collect::<Vec<usize>>()
    };
    let (mine, yours) = (round(&parts[one], to), round(&parts[other], from));
    let merged: Vec<usize> =
        mine[..mine.len() - 1].iter().chain(&yours[..yours.len() - 1]).copied().collect();
    let n = merged.len();
    if (0..n).all(|k| turn(merged[k], merged[(k + 1) % n], merged[(k + 2) % n]) >= 0.0) {
        let (low, high) = (one.min(other), one.max(other));
        parts.swap_remove(high);
        parts[low] = merged;
    }
}

/// The outline round a filled region with at most about `most` corners a part, nowhere inside the region: a notch is
/// filled, or an edge is taken away and its neighbours run on until they meet, the smallest addition of area first.
/// Straight sides that stay are where they were. `O(n^2)` in corners.
///
/// ```
/// # use glam::{DVec2, dvec2};
/// # use spelk::geometry::{FillRule, Grid, Rect, Region, nofit::simplified_outward};
/// # let grid = Grid::covering(Rect::new(dvec2(-64.0, -64.0), dvec2(64.0, 64.0)));
/// let ring: Vec<DVec2> = (0..300).map(|k| DVec2::from_angle(f64::from(k) / 300.0 * std::f64::consts::TAU) * 20.0).collect();
/// let disc = Region::clean(grid, &[ring], FillRule::NonZero);
/// let few = simplified_outward(&disc, 24);
/// assert!(few.segment_count() <= 24 && disc.minus(&few).is_empty());
/// assert!(few.area() < 1.02 * disc.area());
/// ```
#[must_use]
pub fn simplified_outward(region: &Region, most: usize) -> Region {
    let grid = region.grid();
    let outer = region.rings().filter(|ring| !ring.hole);
    let rings: Vec<Vec<DVec2>> = outer.map(|ring| fewer_corners(grid, ring, most.max(4))).collect();
    let few = Region::clean(grid, &rings, FillRule::NonZero);
    // Corners that came to lie between nodes may have gone inwards by half a step: nothing of the region is lost.
    if region.minus(&few).is_empty() { few } else { Region::union(grid, [&few, region]).filled() }
}

/// What taking away a corner, or an edge, adds.
struct Addition {
    area: f64,
    /// The corner that goes; with its successor where there is a new corner in place of the two.
    corner: usize,
    instead: Option<DVec2>,
}

fn fewer_corners(grid: Grid, ring: Ring<'_>, most: usize) -> Vec<DVec2> {
    let mut points: Vec<DVec2> = ring.points().collect();
    // Beyond its node by a step, so that rounding never goes inwards of the edge.
    let step = grid.step();
    while points.len() > most {
        let n = points.len();
        let at = |k: usize| points[k % n];
        let addition = |k: usize| -> Option<Addition> {
            let [a, b, c, d] = [at(k + n - 1), at(k), at(k + 1), at(k + 2)];
            let (into, along, out) = (b - a, c - b, d - c);
            let turn = into.perp_dot(along);
            if turn <= 0.0 {
                return Some(Addition { area: -turn * 0.5, corner: k, instead: None });
            }
            // Both ends of the edge stand out: its neighbours meet beyond it, unless they run apart.
            let opens = into.perp_dot(out);
            if along.perp_dot(out) <= 0.0 || opens <= 0.0 {
                return None;
            }
            let meets = b + into * (along.perp_dot(out) / opens);
            let area = 0.5 * along.perp_dot(meets - b).abs();
            let outward = (meets - b.midpoint(c)).normalize_or_zero();
            Some(Addition { area, corner: k, instead: Some(meets + outward * step) })
        };
        let least = (0..n)
            .filter_map(addition)
            .min_by(|a, b| a.area.total_cmp(&b.area).then(a.corner.cmp(&b.corner)));
        let Some(least) = least else { break };
        match least.instead {
            None => {
                points.remove(least.corner);
            }
            Some(meets) => {
                points[least.corner] = meets;
                points.remove((least.corner + 1) % n);
            }
        }
    }
    points
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geometry::Rect;
    use glam::dvec2;
    use proptest::prelude::*;

    fn grid() -> Grid {
        Grid::covering(Rect::new(DVec2::splat(-200.0), DVec2::splat(200.0)))
    }

    fn star(points: usize, depth: f64, phase: f64) -> Vec<DVec2> {
        (0..2 * points)
            .map(|k| {
                let angle = (k as f64 / points as f64 + phase) * std::f64::consts::PI;
                DVec2::from_angle(angle) * if k % 2 == 0 { 20.0 } else { 20.0 * depth }
            })
            .collect()
    }

    fn region(ring: Vec<DVec2>) -> Region {
        Region::clean(grid(), &[ring], FillRule::NonZero)
    }

    #[test]
    fn an_l_is_two_convex_parts_and_a_convex_outline_one() {
        let l =
            [(0, 0), (4, 0), (4, 1), (1, 1), (1, 3), (0, 3)].map(|(x, y)| dvec2(f64::from(x), f64::from(y)));
        assert_eq!(convex_parts(&l).len(), 2);
        let hexagon: Vec<DVec2> =
            (0..6).map(|k| DVec2::from_angle(f64::from(k) * std::f64::consts::FRAC_PI_3)).collect();
        assert_eq!(convex_parts(&hexagon).len(), 1);
    }

    #[test]
    fn a_slot_takes_what_fits_it_exactly() {
        // A U, 10 wide inside: a block 10 wide slides in without lying over it, and one 10.01 wide does not.
        let u = region(
            [(0, 0), (30, 0), (30, 20), (20, 20), (20, 5), (10, 5), (10, 20), (0, 20)]
                .map(|(x, y)| dvec2(f64::from(x), f64::from(y)))
                .to_vec(),
        );
        let block = |width: f64| region(Rect::new(DVec2::ZERO, dvec2(width, 4.0)).corners().to_vec());
        let thin = no_fit(&u, &block(9.99));
        assert!(!thin.contains(dvec2(10.005, 6.0)), "it stands in the slot");
        assert!(no_fit(&u, &block(10.01)).contains(dvec2(10.0, 6.0)));
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(40))]

        /// Against the overlay engine: two outlines lie over each other exactly where the no-fit region says.
        #[test]
        fn it_says_what_an_overlay_says(
            (points, depth, phase) in (3..8_usize, 0.3..1.2_f64, 0.0..1.0_f64),
            (others, other_depth) in (3..8_usize, 0.3..1.2_f64),
            (x, y) in (-45.0..45.0_f64, -45.0..45.0_f64),
        ) {
            let (fixed, moving) = (region(star(points, depth, phase)), region(star(others, other_depth, 0.0)));
            let at = dvec2(x, y);
            let overlap = fixed.intersection(&moving.moved(at)).area();
            let said = no_fit(&fixed, &moving).contains(at);
            // What lies over by a sliver may be told either way.
            prop_assert!(said == (overlap > 0.0) || overlap < 1e-6, "{overlap} {said}");
        }

        #[test]
        fn fewer_corners_hold_all_of_it(
            (points, depth, phase) in (3..40_usize, 0.3..1.2_f64, 0.0..1.0_f64),
            most in 6..30_usize,
        ) {
            let whole = region(star(points, depth, phase));
            let few = simplified_outward(&whole, most);
            prop_assert!(whole.minus(&few).is_empty());
            prop_assert!(few.segment_count() <= most.max(whole.segment_count().min(most)) + 2, "{}", few.segment_count());
        }
    }
}
