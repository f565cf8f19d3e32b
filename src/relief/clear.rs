//! Clearing lines: a region filled with parallel lines that never leave it.

#![expect(clippy::cast_sign_loss, reason = "what is cast is not negative: counted, clamped or rounded up")]

use crate::geometry::{Halves, Region, Ring};
use crate::job::ClearingDirection;
use glam::DVec2;

/// How much of the distance between lines each is kept off the outline at its ends, so that what joins two
/// lines lies inside for certain. The outline pass takes what is left.
const KEPT_OFF: f64 = 0.02;

/// Most lines across a region; a mistyped step stops here.
const MOST_LINES: f64 = 100_000.0;

/// Chains of lines that fill a region of cutter middles, no more than `apart` from each other. Lines
/// are joined at their ends, there and back, wherever the way between them stays inside.
/// `O(c log c)` in the crossings of lines and edges, and a few edges for every join.
pub(super) fn lines(region: &Region, apart: f64, direction: ClearingDirection) -> Vec<Vec<DVec2>> {
    let Some(rows) = Rows::of(region, apart, direction) else { return Vec::new() };
    let mut done: Vec<Vec<bool>> = rows.runs.iter().map(|row| vec![false; row.len()]).collect();
    let bands: Vec<Band> = (1..rows.runs.len()).map(|beyond| rows.band(beyond - 1)).collect();
    let mut chains = Vec::new();
    for start in 0..rows.runs.len() {
        for first in 0..rows.runs[start].len() {
            if done[start][first] {
                continue;
            }
            let (mut row, mut next) = (start, Some((first, false)));
            let mut chain: Vec<DVec2> = Vec::new();
            while let Some((index, backwards)) = next {
                done[row][index] = true;
                let Run { ends: [from, to], .. } = rows.runs[row][index];
                let ends = if backwards { [to, from] } else { [from, to] };
                chain.extend(ends.map(|x| rows.place(x, row)));
                let Some(band) = bands.get(row) else { break };
                next = rows.next(band, row, index, ends[1], &done[row + 1]);
                row += 1;
            }
            chains.push(chain.into_iter().map(|p| turned(p, direction)).collect());
        }
    }
    chains
}

/// Lines run along x; where they should not, the region is turned over.
fn turned(p: DVec2, direction: ClearingDirection) -> DVec2 {
    match direction {
        ClearingDirection::Along => p,
        ClearingDirection::Across => DVec2::new(p.y, p.x),
    }
}

/// A part of a line that lies inside.
struct Run {
    ends: [f64; 2],
    /// Which crossing of the line it begins at; it ends at the next.
    crossing: usize,
}

/// What lies between a line and the next.
struct Band {
    /// The edges, by their left ends, each with how far right it or one before it reaches.
    edges: Vec<(f64, f64, u32)>,
    /// Left and right of each crossing of the line, where the nearest piece of outline that leads from this line
    /// to the next arrives there. No join passes it.
    walls: Vec<[f64; 2]>,
}

/// Lines across a region, and where they lie inside.
struct Rows {
    low: f64,
    step: f64,
    edges: Vec<[DVec2; 2]>,
    /// The edges before and after each along its ring.
    beside: Vec<[u32; 2]>,
    /// Where each line crosses an edge, from left to right.
    crossings: Vec<Vec<(f64, u32)>>,
    /// Which edges lie between a line and the next.
    between: Vec<Vec<u32>>,
    runs: Vec<Vec<Run>>,
}

impl Rows {
    fn of(region: &Region, apart: f64, direction: ClearingDirection) -> Option<Rows> {
        let bounds = region.bounds()?;
        let (low, high) = (turned(bounds.min, direction).y, turned(bounds.max, direction).y);
        let count = ((high - low) / apart).ceil().clamp(1.0, MOST_LINES);
        let step = (high - low) / count;
        let count = count as usize;
        let (mut edges, mut beside) = (Vec::new(), Vec::new());
        for ring in region.rings() {
            let first = edges.len() as u32;
            edges.extend(ring.segments().map(|segment| segment.map(|p| turned(p, direction))));
            let all = edges.len() as u32 - first;
            beside.extend((0..all).map(|i| [first + (i + all - 1) % all, first + (i + 1) % all]));
        }
        let (crossings, between) = (vec![Vec::new(); count], vec![Vec::new(); count]);
        let mut rows = Rows { low, step, edges, beside, crossings, between, runs: Vec::new() };
        for index in 0..rows.edges.len() as u32 {
            let [first, beyond] = rows.crossed(index).map(|row| row.min(count));
            for row in first..beyond {
                let x = rows.x_of(index, row);
                rows.crossings[row].push((x, index));
            }
            for band in rows.between.iter_mut().take(beyond + 1).skip(first.saturating_sub(1)) {
                band.push(index);
            }
        }
        let kept_off = KEPT_OFF * apart;
        for row in &mut rows.crossings {
            row.sort_unstable_by(|a, b| a.0.total_cmp(&b.0).then(a.1.cmp(&b.1)));
            let pairs = row.chunks_exact(2).zip((0..).step_by(2));
            let runs = pairs
                .map(|(pair, crossing)| Run { ends: [pair[0].0 + kept_off, pair[1].0 - kept_off], crossing });
            rows.runs.push(runs.filter(|run| run.ends[0] <= run.ends[1]).collect());
        }
        Some(rows)
    }

    fn y_of(&self, row: usize) -> f64 {
        self.low + (row as f64 + 0.5) * self.step
    }

    fn place(&self, x: f64, row: usize) -> DVec2 {
        DVec2::new(x, self.y_of(row))
    }

    /// The first line at or above a place.
    fn row_at(&self, y: f64) -> usize {
        ((y - self.low) / self.step - 0.5).ceil().max(0.0) as usize
    }

    /// The first line that an edge crosses, and the first that it does not.
    fn crossed(&self, edge: u32) -> [usize; 2] {
        let [a, b] = self.edges[edge as usize];
        [self.row_at(a.y.min(b.y)), self.row_at(a.y.max(b.y))]
    }

    /// Where an edge crosses a line.
    fn x_of(&self, edge: u32, row: usize) -> f64 {
        let [a, b] = self.edges[edge as usize];
        let (from, to) = if a.y <= b.y { (a, b) } else { (b, a) };
        from.x + (to.x - from.x) * ((self.y_of(row) - from.y) / (to.y - from.y))
    }

    /// Follows the outline up from where an edge crosses a line: where it arrives at the next line, if it does
    /// not come back to this one first.
    fn leads_up(&self, edge: u32, row: usize) -> Option<f64> {
        let crosses = |edge: u32, row: usize| {
            let [first, beyond] = self.crossed(edge);
            (first..beyond).contains(&row)
        };
        let [a, b] = self.edges[edge as usize];
        let onward = usize::from(a.y <= b.y);
        let mut edge = edge;
        loop {
            if crosses(edge, row + 1) {
                return Some(self.x_of(edge, row + 1));
            }
            edge = self.beside[edge as usize][onward];
            if crosses(edge, row) {
                return None;
            }
        }
    }

    fn band(&self, row: usize) -> Band {
        let extent = |&edge: &u32| {
            let [a, b] = self.edges[edge as usize];
            (a.x.min(b.x), a.x.max(b.x), edge)
        };
        let mut edges: Vec<(f64, f64, u32)> = self.between[row].iter().map(extent).collect();
        edges.sort_unstable_by(|a, b| a.0.total_cmp(&b.0).then(a.2.cmp(&b.2)));
        let mut reach = f64::NEG_INFINITY;
        for (_, right, _) in &mut edges {
            reach = reach.max(*right);
            *right = reach;
        }
        let up: Vec<Option<f64>> =
            self.crossings[row].iter().map(|&(_, edge)| self.leads_up(edge, row)).collect();
        let mut walls = vec![[f64::NEG_INFINITY, f64::INFINITY]; up.len()];
        let (mut left, mut right) = (f64::NEG_INFINITY, f64::INFINITY);
        for i in 0..up.len() {
            left = up[i].unwrap_or(left);
            walls[i][0] = left;
        }
        for i in (0..up.len()).rev() {
            right = up[i].unwrap_or(right);
            walls[i][1] = right;
        }
        Band { edges, walls }
    }

    /// Whether nothing lies between two places on a line and the next.
    fn is_free(&self, band: &Band, from: DVec2, to: DVec2) -> bool {
        let (left, right) = (from.x.min(to.x), from.x.max(to.x));
        let beyond = band.edges.partition_point(|edge| edge.0 <= right);
        let near = band.edges[..beyond].iter().rev().take_while(|edge| edge.1 >= left);
        !near.into_iter().any(|edge| crosses(self.edges[edge.2 as usize], [from, to]))
    }

    /// Which run of the next line to go on with from the end of a run at `x`, and whether backwards: the one
    /// with the nearest end that can be reached.
    fn next(&self, band: &Band, row: usize, run: usize, x: f64, done: &[bool]) -> Option<(usize, bool)> {
        let here = self.place(x, row);
        let runs = &self.runs[row + 1];
        let crossing = self.runs[row][run].crossing;
        let (left, right) = (band.walls[crossing][0], band.walls[crossing + 1][1]);
        let first = runs.partition_point(|run| run.ends[1] < left);
        let beyond = runs.partition_point(|run| run.ends[0] <= right);
        // Ends of runs by number, two for each: outward from here, of two as near the one further left first.
        let end = |i: usize| runs[i / 2].ends[i % 2];
        let far = |i: usize| (end(i) - x).abs();
        let (low, high) = (2 * first, 2 * beyond);
        let at = runs.partition_point(|run| run.ends[0] < x);
        let at = if at > 0 && runs[at - 1].ends[1] >= x { 2 * at - 1 } else { 2 * at };
        let (mut down, mut up) = (at.clamp(low, high.max(low)), at.clamp(low, high.max(low)));
        while down > low || up < high {
            let downward = down > low && (up >= high || far(down - 1) <= far(up));
            let group = if downward {
                let last = down;
                down -= 1;
                while down > low && far(down - 1) == far(last - 1) {
                    down -= 1;
                }
                down..last
            } else {
                up += 1;
                up - 1..up
            };
            for i in group {
                if !done[i / 2] && self.is_free(band, here, self.place(end(i), row + 1)) {
                    return Some((i / 2, i % 2 == 1));
                }
            }
        }
        None
    }
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

/// Puts chains in an order with short ways between them: always the nearest next, turned round where that
/// helps and its ends differ; of several as near, the first. `O(n log n)` in chains for most.
pub(super) fn in_short_order<T>(chains: Vec<Vec<T>>, at: impl Fn(&T) -> DVec2) -> Vec<Vec<T>> {
    let mut left: Vec<Vec<T>> = chains.into_iter().filter(|chain| !chain.is_empty()).collect();
    let ends: Vec<DVec2> =
        left.iter().flat_map(|chain| [&chain[0], &chain[chain.len() - 1]].map(&at)).collect();
    let mut nearest = NearestEnd::of(&ends);
    let mut sorted: Vec<Vec<T>> = Vec::with_capacity(left.len());
    let mut here = DVec2::ZERO;
    while let Some(end) = nearest.take(here) {
        let mut chain = std::mem::take(&mut left[end / 2]);
        if end % 2 == 1 {
            chain.reverse();
        }
        here = ends[end ^ 1];
        sorted.push(chain);
    }
    sorted
}

/// Ends of chains, two for each by number, of which the nearest is taken with its chain, again and again.
struct NearestEnd<'a> {
    ends: &'a [DVec2],
    tree: Halves<usize>,
    /// Where each end stands in the tree.
    place: Vec<usize>,
    /// How many ends are left in each of its boxes.
    left: Vec<usize>,
    taken: Vec<bool>,
}

impl NearestEnd<'_> {
    /// `O(n log n)`.
    fn of(ends: &[DVec2]) -> NearestEnd<'_> {
        let tree = Halves::of((0..ends.len()).collect(), |&end| ends[end]);
        let mut place = vec![0; ends.len()];
        tree.items.iter().enumerate().for_each(|(at, &end)| place[end] = at);
        let left = tree.boxes.iter().map(|held| held.items.len()).collect();
        NearestEnd { ends, tree, place, left, taken: vec![false; ends.len()] }
    }

    /// The nearest end that is left, the one with the lowest number of several; its chain is left no more.
    fn take(&mut self, here: DVec2) -> Option<usize> {
        let mut best = (f64::INFINITY, usize::MAX);
        if !self.tree.boxes.is_empty() {
            self.look(here, 0, &mut best);
        }
        let end = Some(best.1).filter(|&end| end < self.ends.len())?;
        for end in [end, end ^ 1] {
            self.taken[end] = true;
            self.let_go(end);
        }
        Some(end)
    }

    /// Looks for a nearer end in a box.
    fn look(&self, here: DVec2, index: usize, best: &mut (f64, usize)) {
        let away = |index: usize| {
            let around = self.tree.boxes[index].around;
            here.clamp(around.min, around.max).distance_squared(here)
        };
        if self.left[index] == 0 || away(index) > best.0 {
            return;
        }
        let held = &self.tree.boxes[index];
        if let Some(mut halves) = held.halves {
            if away(halves[1]) < away(halves[0]) {
                halves.reverse();
            }
            for half in halves {
                self.look(here, half, best);
            }
            return;
        }
        for &end in self.tree.items[held.items.clone()].iter().filter(|&&end| !self.taken[end]) {
            let found = (self.ends[end].distance_squared(here), end);
            if found < *best {
                *best = found;
            }
        }
    }

    /// One end fewer in each box that has it.
    fn let_go(&mut self, end: usize) {
        let mut index = Some(0);
        while let Some(held) = index {
            self.left[held] -= 1;
            let halves = self.tree.boxes[held].halves;
            let has_it = |half: &usize| self.tree.boxes[*half].items.contains(&self.place[end]);
            index = halves.and_then(|halves| halves.into_iter().find(has_it));
        }
    }
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
    use proptest::prelude::*;

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

    /// The same, by looking at every chain each time.
    fn plain_order(chains: Vec<Vec<DVec2>>) -> Vec<Vec<DVec2>> {
        let (mut left, mut sorted, mut here) = (chains, Vec::new(), DVec2::ZERO);
        while !left.is_empty() {
            let ends = left.iter().flat_map(|chain| [chain[0], chain[chain.len() - 1]]);
            let far = ends.map(|end| end.distance_squared(here)).enumerate();
            let (end, _) = far.reduce(|best, next| if next.1 < best.1 { next } else { best }).unwrap();
            let mut chain = left.remove(end / 2);
            if end % 2 == 1 {
                chain.reverse();
            }
            here = chain[chain.len() - 1];
            sorted.push(chain);
        }
        sorted
    }

    proptest! {
        /// On a lattice, where many ends are as near as each other and some are one.
        #[test]
        fn the_nearest_comes_next(
            chains in prop::collection::vec(prop::collection::vec((0..12_i32, 0..9_i32), 1..4), 0..90),
        ) {
            let place = |(x, y): (i32, i32)| dvec2(f64::from(x), f64::from(y));
            let chains: Vec<Vec<DVec2>> =
                chains.into_iter().map(|chain| chain.into_iter().map(place).collect()).collect();
            prop_assert_eq!(in_short_order(chains.clone(), |p| *p), plain_order(chains));
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

    /// The same, by looking at every run of the next line and every edge between.
    fn plain_lines(region: &Region, apart: f64, direction: ClearingDirection) -> Vec<Vec<DVec2>> {
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

    #[test]
    fn lines_are_those_a_plain_search_finds() {
        // Combs, sunbursts and islands from Knuth's generator (constants from memory; any would do).
        let mut state = 1_u64;
        let mut random = |low: f64, high: f64| {
            state = state.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
            low + (high - low) * ((state >> 11) as f64 / (1_u64 << 53) as f64)
        };
        for case in 0..60 {
            let spikes = 3 + case;
            let mut rings: Vec<Vec<DVec2>> = Vec::new();
            for middle in [dvec2(0.0, 0.0), dvec2(random(-20.0, 20.0), random(-20.0, 20.0))] {
                let ring = (0..2 * spikes).map(|i| {
                    let angle = f64::from(i) * std::f64::consts::PI / f64::from(spikes);
                    let reach = if i % 2 == 0 { random(4.0, 12.0) } else { random(20.0, 40.0) };
                    middle + DVec2::from_angle(angle) * reach
                });
                rings.push(ring.collect());
            }
            let teeth = (0..spikes).flat_map(|i| {
                let x = f64::from(i) * 80.0 / f64::from(spikes) - 40.0;
                [dvec2(x, random(-44.0, 30.0)), dvec2(x + 40.0 / f64::from(spikes), -45.0)]
            });
            rings.push(teeth.chain([dvec2(40.0, -48.0), dvec2(-40.0, -48.0)]).collect());
            let bounds = Rect::around(rings.iter().flatten().copied()).expect("rings have points");
            let region = Region::clean(Grid::covering(bounds), &rings, FillRule::EvenOdd);
            for direction in [ClearingDirection::Along, ClearingDirection::Across] {
                for apart in [0.7, 3.1, 9.0] {
                    let (found, plain) =
                        (lines(&region, apart, direction), plain_lines(&region, apart, direction));
                    assert_eq!(found, plain, "{case} {direction:?} {apart}");
                }
            }
        }
    }
}
