//! Clearing lines: a region filled with parallel lines that never leave it.

#![expect(clippy::cast_sign_loss, reason = "what is cast is not negative: counted, clamped or rounded up")]

use crate::geometry::{Region, Ring};
use crate::job::ClearingDirection;
use glam::DVec2;

/// How much of the distance between lines each is kept off the outline at its ends, so that what joins two
/// lines lies inside for certain. The outline pass takes what is left.
const KEPT_OFF: f64 = 0.02;

/// Most lines across a region; a mistyped step stops here.
const MOST_LINES: f64 = 100_000.0;

/// Chains of lines that fill a region of cutter middles, no more than `apart` from each other. Lines
/// are joined at their ends, there and back, wherever the way between them stays inside.
/// `O(edges + crossings log crossings)`, and a few edges for every join.
pub(super) fn lines(region: &Region, apart: f64, direction: ClearingDirection) -> Vec<Vec<DVec2>> {
    // Everything below runs along x.
    let turned = |p: DVec2| match direction {
        ClearingDirection::Along => p,
        ClearingDirection::Across => DVec2::new(p.y, p.x),
    };
    let Some(bounds) = region.bounds() else { return Vec::new() };
    let (low, high) = (turned(bounds.min), turned(bounds.max));
    let count = ((high.y - low.y) / apart).ceil().clamp(1.0, MOST_LINES);
    let step = (high.y - low.y) / count;
    let count = count as usize;
    let y_of = |row: usize| low.y + (row as f64 + 0.5) * step;
    let edges: Vec<[DVec2; 2]> = region.rings().flat_map(Ring::segments).map(|s| s.map(turned)).collect();

    let mut crossings: Vec<Vec<f64>> = vec![Vec::new(); count];
    // Which edges lie between a line and the next.
    let mut between: Vec<Vec<u32>> = vec![Vec::new(); count];
    for (index, &[a, b]) in edges.iter().enumerate() {
        let (from, to) = if a.y <= b.y { (a, b) } else { (b, a) };
        let first = ((from.y - low.y) / step - 0.5).ceil().max(0.0) as usize;
        let beyond = (((to.y - low.y) / step - 0.5).ceil().max(0.0) as usize).min(count);
        for (row, crossings) in crossings.iter_mut().enumerate().take(beyond).skip(first) {
            crossings.push(from.x + (to.x - from.x) * ((y_of(row) - from.y) / (to.y - from.y)));
        }
        for band in between.iter_mut().take(beyond + 1).skip(first.saturating_sub(1)) {
            band.push(index as u32);
        }
    }
    let kept_off = KEPT_OFF * apart;
    let rows: Vec<Vec<[f64; 2]>> = crossings
        .into_iter()
        .map(|mut row| {
            row.sort_unstable_by(f64::total_cmp);
            let runs = row.chunks_exact(2).map(|pair| [pair[0] + kept_off, pair[1] - kept_off]);
            runs.filter(|[from, to]| from <= to).collect()
        })
        .collect();
    let free = |row: usize, from: DVec2, to: DVec2| {
        !between[row].iter().any(|&edge| crosses(edges[edge as usize], [from, to]))
    };

    let mut done: Vec<Vec<bool>> = rows.iter().map(|row| vec![false; row.len()]).collect();
    let mut chains = Vec::new();
    for start in 0..count {
        for first in 0..rows[start].len() {
            if done[start][first] {
                continue;
            }
            let (mut row, mut next) = (start, Some((first, false)));
            let mut chain: Vec<DVec2> = Vec::new();
            while let Some((index, backwards)) = next {
                done[row][index] = true;
                let [from, to] = rows[row][index];
                let ends = if backwards { [to, from] } else { [from, to] };
                chain.extend(ends.map(|x| DVec2::new(x, y_of(row))));
                let here = DVec2::new(ends[1], y_of(row));
                row += 1;
                if row == count {
                    break;
                }
                // The nearer end first; the lines of the next row are few.
                let mut best: Option<(f64, usize, bool)> = None;
                for (index, &[from, to]) in rows[row].iter().enumerate() {
                    for (x, backwards) in [(from, false), (to, true)] {
                        let far = (x - here.x).abs();
                        let nearer = best.is_none_or(|(least, ..)| far < least);
                        if !done[row][index] && nearer && free(row - 1, here, DVec2::new(x, y_of(row))) {
                            best = Some((far, index, backwards));
                        }
                    }
                }
                next = best.map(|(_, index, backwards)| (index, backwards));
            }
            chains.push(chain.into_iter().map(turned).collect());
        }
    }
    chains
}

/// Thinner than this, the two edges of a strip of cutter middles are one pass, millimetres.
const ONE_PASS: f64 = 0.06;

/// Every ring of a region as a chain that ends where it began. Of a strip so thin that going round it is
/// going the same way twice, only the inner edge, where it has one.
pub(super) fn rings(region: &Region) -> Vec<Vec<DVec2>> {
    let all: Vec<Ring<'_>> = region.rings().collect();
    let mut starts: Vec<usize> = (0..all.len()).filter(|&i| !all[i].hole).collect();
    starts.push(all.len());
    let mut chains = Vec::with_capacity(all.len());
    for pair in starts.windows(2) {
        let part = &all[pair[0]..pair[1]];
        let area: f64 = part.iter().map(|ring| ring.signed_area()).sum();
        let length: f64 = part.iter().flat_map(|ring| ring.segments()).map(|[a, b]| a.distance(b)).sum();
        let thin = area < 0.5 * length * ONE_PASS && part.len() > 1;
        chains.extend(part[usize::from(thin)..].iter().map(|&ring| closed_chain(ring)));
    }
    chains
}

fn closed_chain(ring: Ring<'_>) -> Vec<DVec2> {
    let mut points: Vec<DVec2> = ring.points().collect();
    points.extend(points.first().copied());
    points
}

/// Beyond so many chains the order is left as it comes: going through all pairs would take too long.
const MOST_SORTED: usize = 3000;

/// Puts chains in an order with short ways between them: always the nearest next, turned round where that
/// helps and its ends differ. `O(n^2)` in chains up to a few thousand; beyond that they stay as they are.
pub(super) fn in_short_order<T: Clone>(chains: Vec<Vec<T>>, at: impl Fn(&T) -> DVec2) -> Vec<Vec<T>> {
    if chains.len() > MOST_SORTED {
        return chains;
    }
    let mut left: Vec<Vec<T>> = chains.into_iter().filter(|chain| !chain.is_empty()).collect();
    let mut sorted: Vec<Vec<T>> = Vec::with_capacity(left.len());
    let mut here = DVec2::ZERO;
    while !left.is_empty() {
        let mut best = (f64::INFINITY, 0, false);
        for (index, chain) in left.iter().enumerate() {
            for (end, turned) in [(&chain[0], false), (&chain[chain.len() - 1], true)] {
                let far = at(end).distance_squared(here);
                if far < best.0 {
                    best = (far, index, turned);
                }
            }
        }
        let mut chain = left.remove(best.1);
        if best.2 {
            chain.reverse();
        }
        here = at(&chain[chain.len() - 1]);
        sorted.push(chain);
    }
    sorted
}

fn crosses([a, b]: [DVec2; 2], [c, d]: [DVec2; 2]) -> bool {
    let side = |p: DVec2, q: DVec2, r: DVec2| (q - p).perp_dot(r - p);
    side(a, b, c) * side(a, b, d) <= 0.0 && side(c, d, a) * side(c, d, b) <= 0.0
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geometry::{FillRule, Grid, Rect};
    use glam::dvec2;

    #[test]
    fn a_plain_field_is_one_chain_there_and_back() {
        let area = Rect::new(dvec2(0.0, 0.0), dvec2(40.0, 10.0));
        let field = Region::clean(Grid::covering(area), &[area.corners().into()], FillRule::NonZero);
        for direction in [ClearingDirection::Along, ClearingDirection::Across] {
            let chains = lines(&field, 2.0, direction);
            assert_eq!(chains.len(), 1);
            let turns = if direction == ClearingDirection::Along { 5 } else { 20 };
            assert_eq!(chains[0].len(), 2 * turns);
        }
    }

    #[test]
    fn no_line_or_join_crosses_an_island() {
        let area = Rect::new(dvec2(0.0, 0.0), dvec2(40.0, 30.0));
        let island: Vec<DVec2> = (0..12)
            .map(|i| {
                dvec2(20.0, 15.0) + DVec2::from_angle(f64::from(-i) * std::f64::consts::TAU / 12.0) * 8.0
            })
            .collect();
        let rings = [area.corners().into(), island];
        let field = Region::clean(Grid::covering(area), &rings, FillRule::EvenOdd);
        let edges: Vec<_> = field.rings().flat_map(Ring::segments).collect();
        let chains = lines(&field, 1.3, ClearingDirection::Along);
        assert!(chains.len() < 6, "{} chains", chains.len());
        for pair in chains.iter().flat_map(|chain| chain.windows(2)) {
            assert!(!edges.iter().any(|&edge| crosses(edge, [pair[0], pair[1]])), "{pair:?}");
        }
    }
}
