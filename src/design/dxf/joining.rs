//! Loose ends to closed outlines: a DXF drawing is often a heap of lines and arcs whose ends meet, or
//! nearly do.

use glam::DVec2;
use std::collections::{BTreeMap, BTreeSet};

/// The most other ends looked at in a cell the size of the gap: more in one place is a knot nobody drew.
const MOST_AT_A_PLACE: usize = 32;

/// Points in a row.
#[derive(Clone, Debug)]
pub(super) struct Chain {
    pub points: Vec<DVec2>,
    pub closed: bool,
}

/// What came of joining.
#[derive(Debug, Default)]
pub(super) struct Joined {
    /// Closed outlines; the first point is not repeated.
    pub loops: Vec<Vec<DVec2>>,
    /// What stayed open.
    pub open: Vec<Vec<DVec2>>,
    /// Gaps that were closed, coarser than rounding.
    pub gaps: usize,
    /// The widest of them and where it is.
    pub widest: Option<(f64, DVec2)>,
    /// Pieces that lay exactly on another and were dropped.
    pub repeats: usize,
}

/// Joins chains whose ends lie within `gap` of each other, the nearest first. Ends nearer than a
/// hundredth of it are taken as one point without a word. `O(n log n)` in chains.
pub(super) fn join(chains: Vec<Chain>, gap: f64) -> Joined {
    let mut joined = Joined::default();
    let mut seen = BTreeSet::new();
    let mut loose = Vec::new();
    for chain in chains {
        if !seen.insert(shape_of(&chain, gap / 100.0)) {
            joined.repeats += 1;
        } else if chain.closed {
            joined.loops.push(chain.points);
        } else {
            loose.push(chain.points);
        }
    }
    let mates = mates(&loose, gap);
    let mut taken = vec![false; loose.len()];
    for first in 0..loose.len() {
        if taken[first] {
            continue;
        }
        // Back to where this row of chains starts, or once round.
        let mut start = 2 * first;
        while let Some(mate) = mates[start] {
            start = mate ^ 1;
            if start == 2 * first {
                break;
            }
        }
        let closed = mates[start].is_some();
        let mut points = Vec::new();
        let mut at = start;
        loop {
            taken[at / 2] = true;
            let chain = &loose[at / 2];
            if at.is_multiple_of(2) {
                points.extend(chain);
            } else {
                points.extend(chain.iter().rev());
            }
            let Some(mate) = mates[at ^ 1] else { break };
            let (from, to) = (end(&loose, at ^ 1), end(&loose, mate));
            let width = from.distance(to);
            if width > gap / 100.0 {
                joined.gaps += 1;
                if joined.widest.is_none_or(|(widest, _)| width > widest) {
                    joined.widest = Some((width, (from + to) * 0.5));
                }
            }
            at = mate;
            if at == start {
                break;
            }
        }
        if closed { joined.loops.push(points) } else { joined.open.push(points) }
    }
    joined
}

/// End `2 i` is where chain `i` starts, end `2 i + 1` where it ends.
fn end(chains: &[Vec<DVec2>], end: usize) -> DVec2 {
    let chain = &chains[end / 2];
    chain[if end.is_multiple_of(2) { 0 } else { chain.len() - 1 }]
}

/// Which end each end is joined to.
fn mates(chains: &[Vec<DVec2>], gap: f64) -> Vec<Option<usize>> {
    let cell = |p: DVec2| ((p.x / gap).floor() as i64, (p.y / gap).floor() as i64);
    let mut cells: BTreeMap<(i64, i64), Vec<usize>> = BTreeMap::new();
    for index in 0..2 * chains.len() {
        cells.entry(cell(end(chains, index))).or_default().push(index);
    }
    let mut pairs = Vec::new();
    for one in 0..2 * chains.len() {
        let at = end(chains, one);
        let (x, y) = cell(at);
        for near in (x - 1..=x + 1).flat_map(|x| (y - 1..=y + 1).map(move |y| (x, y))) {
            let Some(others) = cells.get(&near) else { continue };
            let later = others.partition_point(|&other| other <= one);
            for &other in others[later..].iter().take(MOST_AT_A_PLACE) {
                let distance = at.distance(end(chains, other));
                let closes_itself = other == one + 1 && one.is_multiple_of(2);
                if distance <= gap && !(closes_itself && is_short(&chains[one / 2], gap)) {
                    pairs.push((distance, one, other));
                }
            }
        }
    }
    pairs.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.cmp(&b.1)).then(a.2.cmp(&b.2)));
    let mut mates = vec![None; 2 * chains.len()];
    for (_, one, other) in pairs {
        if mates[one].is_none() && mates[other].is_none() {
            mates[one] = Some(other);
            mates[other] = Some(one);
        }
    }
    mates
}

/// Whether a chain is so short that its two ends lie near each other for that reason alone.
fn is_short(points: &[DVec2], gap: f64) -> bool {
    points.len() < 3 || points.windows(2).map(|pair| pair[0].distance(pair[1])).sum::<f64>() < 4.0 * gap
}

/// What a chain looks like whichever way round, and from whichever point if closed, it is drawn.
fn shape_of(chain: &Chain, rounding: f64) -> (bool, Vec<(i64, i64)>) {
    let round = |p: &DVec2| ((p.x / rounding).round() as i64, (p.y / rounding).round() as i64);
    let mut there: Vec<(i64, i64)> = chain.points.iter().map(round).collect();
    if !chain.closed {
        let back: Vec<(i64, i64)> = there.iter().rev().copied().collect();
        return (false, there.min(back));
    }
    if there.len() > 1 && there.first() == there.last() {
        there.pop();
    }
    let from_least = |points: &mut Vec<(i64, i64)>| {
        let least = points.iter().enumerate().min_by_key(|(_, point)| **point).map_or(0, |(index, _)| index);
        points.rotate_left(least);
    };
    let mut back: Vec<(i64, i64)> = there.iter().rev().copied().collect();
    from_least(&mut there);
    from_least(&mut back);
    (true, there.min(back))
}

#[cfg(test)]
mod tests {
    use super::*;
    use glam::dvec2;

    fn line(from: (f64, f64), to: (f64, f64)) -> Chain {
        Chain { points: vec![dvec2(from.0, from.1), dvec2(to.0, to.1)], closed: false }
    }

    #[test]
    fn four_lines_in_any_order_and_direction_are_a_square() {
        let square = [
            ((0.0, 0.0), (9.0, 0.0)),
            ((0.0, 9.0), (9.0, 9.0)),
            ((9.0, 9.0), (9.0, 0.0)),
            ((0.0, 0.0), (0.0, 9.0)),
        ];
        let joined = join(square.map(|(a, b)| line(a, b)).to_vec(), 0.1);
        assert_eq!((joined.loops.len(), joined.open.len(), joined.gaps), (1, 0, 0));
        assert_eq!(joined.loops[0].len(), 8);
    }

    #[test]
    fn a_gap_within_reach_is_closed_and_one_beyond_is_not() {
        let with_gap = |gap: f64| {
            let chains =
                [line((0.0, 0.0), (9.0, 0.0)), line((9.0, 0.0), (0.0, 9.0)), line((0.0, 9.0), (0.0, gap))];
            join(chains.to_vec(), 0.1)
        };
        let closed = with_gap(0.08);
        assert_eq!((closed.loops.len(), closed.gaps), (1, 1));
        assert!((closed.widest.unwrap().0 - 0.08).abs() < 1e-12);
        let open = with_gap(0.2);
        assert_eq!((open.loops.len(), open.open.len(), open.gaps), (0, 1, 0));
        assert_eq!(open.open[0].len(), 6);
    }

    #[test]
    fn the_nearest_end_is_taken() {
        let chains = [
            line((0.0, 0.0), (9.0, 0.0)),
            line((9.05, 0.0), (20.0, 5.0)),
            line((9.0, 0.0), (0.0, 9.0)),
            line((0.0, 9.0), (0.0, 0.0)),
        ];
        let joined = join(chains.to_vec(), 0.1);
        assert_eq!((joined.loops.len(), joined.open.len()), (1, 1));
    }

    #[test]
    fn pieces_shorter_than_the_gap_are_part_of_their_outline() {
        let points: Vec<(f64, f64)> =
            (0..200).map(|i| (f64::from(i) * 0.0314).sin_cos()).map(|(s, c)| (c, s)).collect();
        let chains = (0..200).map(|i| line(points[i], points[(i + 1) % 200])).collect();
        let joined = join(chains, 0.05);
        assert_eq!((joined.loops.len(), joined.open.len()), (1, 0));
    }

    #[test]
    fn what_is_drawn_twice_counts_once() {
        let there = line((0.0, 0.0), (9.0, 0.0));
        let back = line((9.0, 0.0), (0.0, 0.0));
        assert_eq!(join(vec![there, back], 0.1).repeats, 1);
        let ring = |points: &[(f64, f64)]| Chain {
            points: points.iter().map(|&(x, y)| dvec2(x, y)).collect(),
            closed: true,
        };
        let joined = join(
            vec![ring(&[(0.0, 0.0), (1.0, 0.0), (0.0, 1.0)]), ring(&[(0.0, 1.0), (1.0, 0.0), (0.0, 0.0)])],
            0.1,
        );
        assert_eq!((joined.loops.len(), joined.repeats), (1, 1));
    }
}
