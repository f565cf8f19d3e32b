//! Telling inside from outside for many points of one region.

use super::below::{Halves, below, turn};
use super::{Node, Region, Segment};
use crate::geometry::Rect;
use crate::geometry::voronoi::BoxTree;
use glam::DVec2;

/// So many edges in one cell are no handful any more. A round value of our own.
const CROWD: usize = 64;

/// A region prepared for many [`Locator::contains`] questions.
///
/// A lattice of cells covers the outline; each cell lists the edges that pass through it and holds one
/// reference place that is known to be inside or outside. A question is then a walk from the point to
/// the reference of its cell, which changes sides at every edge crossed. Where a cell holds many edges, long ones that
/// slant or a dense place of the outline, the edge straight below the point tells instead, found in a tree of boxes. All
/// of it in whole numbers, so the answer is exact, for a point moved by no more than half a lattice step.
///
/// Built in `O(n)` for `n` edges with about `4 n` entries, in `O(n log n)` with a tree; a question costs the edges of one
/// cell, a handful, or about `O(log n)`.
#[derive(Clone, Debug)]
pub struct Locator {
    segments: Vec<Segment>,
    /// Design space to lattice steps: `(point - origin) / step`.
    origin: DVec2,
    step: f64,
    /// The box covered, in steps.
    min: DVec2,
    max: DVec2,
    /// Extent of a cell, in steps.
    cell: DVec2,
    columns: usize,
    /// The edges in cell `i` are `edges[first[i]..first[i + 1]]`, in rising order.
    first: Vec<u32>,
    edges: Vec<u32>,
    /// A place in each cell, on no edge, and whether it is inside.
    references: Vec<(Halves, bool)>,
    /// Where any cell is crowded.
    tree: Option<BoxTree>,
}

impl Locator {
    /// Prepares a region.
    ///
    /// ```
    /// use glam::dvec2;
    /// use spelk::geometry::{FillRule, Grid, Locator, Rect, Region};
    /// let grid = Grid::covering(Rect::new(dvec2(0.0, 0.0), dvec2(10.0, 10.0)));
    /// let corner = vec![dvec2(0.0, 0.0), dvec2(10.0, 0.0), dvec2(0.0, 10.0)];
    /// let locator = Locator::new(&Region::clean(grid, &[corner], FillRule::NonZero));
    /// assert!(locator.contains(dvec2(2.0, 2.0)));
    /// assert!(!locator.contains(dvec2(8.0, 8.0)));
    /// ```
    pub fn new(region: &Region) -> Locator {
        let segments = region.node_segments();
        let grid = region.grid();
        let origin = grid.origin();
        let mut locator = Locator {
            segments,
            origin,
            step: grid.step(),
            min: DVec2::ZERO,
            max: DVec2::ZERO,
            cell: DVec2::ONE,
            columns: 0,
            first: vec![0],
            edges: Vec::new(),
            references: Vec::new(),
            tree: None,
        };
        if locator.segments.is_empty() {
            return locator;
        }
        let rows = locator.lay_out();
        locator.enter_edges(rows);
        if locator.first.windows(2).any(|cell| (cell[1] - cell[0]) as usize > CROWD) {
            locator.tree = Some(BoxTree::of(locator.segments.iter().copied()));
        }
        locator.find_references(rows);
        locator
    }

    /// Whether a point of design space lies inside. A point within a lattice step of the outline may be
    /// called either; one that is not finite is outside.
    ///
    /// ```
    /// # use glam::dvec2;
    /// # use spelk::geometry::{FillRule, Grid, Locator, Rect, Region};
    /// # let grid = Grid::covering(Rect::new(dvec2(0.0, 0.0), dvec2(10.0, 10.0)));
    /// assert!(!Locator::new(&Region::empty(grid)).contains(dvec2(1.0, 1.0)));
    /// ```
    pub fn contains(&self, point: DVec2) -> bool {
        let at = (point - self.origin) / self.step;
        let covered = at.cmpge(self.min).all() && at.cmplt(self.max).all();
        if self.columns == 0 || !covered {
            return false;
        }
        let at = Halves { x: at.x.floor() as i64 * 2 + 1, y: at.y.floor() as i64 * 2 + 1 };
        // The cell of the place asked about, which may be half a step from the point given.
        let index = self.cell_of(at.steps());
        let edges = self.edges_in(index);
        if let Some(tree) = self.tree.as_ref().filter(|_| edges.len() > CROWD) {
            return self.is_over_inside(at, tree);
        }
        let (reference, inside) = self.references[index];
        let crossed = edges.iter().filter(|&&edge| self.crosses(edge, at, reference)).count();
        inside ^ (crossed % 2 == 1)
    }

    /// Whether inside lies above the edge straight below a place.
    fn is_over_inside(&self, at: Halves, tree: &BoxTree) -> bool {
        below(at, &self.segments, tree).is_some_and(|edge| {
            let [a, b] = self.segments[edge as usize];
            // It lies to the left of each edge.
            a.x < b.x
        })
    }

    /// The edges that come near a box of design space, all that cross it among them; some may come twice.
    ///
    /// ```
    /// # use glam::dvec2;
    /// # use spelk::geometry::{FillRule, Grid, Locator, Rect, Region};
    /// let grid = Grid::covering(Rect::new(dvec2(0.0, 0.0), dvec2(10.0, 10.0)));
    /// let corner = vec![dvec2(0.0, 0.0), dvec2(10.0, 0.0), dvec2(0.0, 10.0)];
    /// let locator = Locator::new(&Region::clean(grid, &[corner], FillRule::NonZero));
    /// let near = Rect::new(dvec2(4.0, -1.0), dvec2(4.5, 1.0));
    /// assert!(locator.edges_near(near).any(|edge| edge == [dvec2(0.0, 0.0), dvec2(10.0, 0.0)]));
    /// ```
    pub fn edges_near(&self, area: Rect) -> impl Iterator<Item = [DVec2; 2]> {
        let [low, high] = [area.min, area.max].map(|at| (at - self.origin) / self.step);
        let meets = self.columns > 0 && low.cmple(self.max).all() && high.cmpge(self.min).all();
        let cell = |at: DVec2| self.cell_of(at.clamp(self.min, self.max));
        let (low, high) = if meets { (cell(low), cell(high)) } else { (1, 0) };
        let columns = self.columns.max(1);
        let rows = low / columns..=high / columns;
        let cells = rows.flat_map(move |row| {
            (row * columns + low % columns..=row * columns + high % columns).filter(move |_| meets)
        });
        cells
            .flat_map(|index| self.edges_in(index))
            .map(|&edge| self.segments[edge as usize].map(|node| self.origin + steps(node) * self.step))
    }

    /// Chooses the cells and returns the number of rows: about as many as edges, long across the way
    /// the edges run so that the entries stay few.
    fn lay_out(&mut self) -> usize {
        let nodes = || self.segments.iter().map(|segment| steps(segment[0]));
        let min = nodes().reduce(DVec2::min).unwrap_or_default() - 1.0;
        let max = nodes().reduce(DVec2::max).unwrap_or_default() + 1.0;
        let run: DVec2 = self.segments.iter().map(|&[a, b]| (steps(b) - steps(a)).abs()).sum();
        let count = self.segments.len() as f64;
        // Entries are about `count + run.x / cell.x + run.y / cell.y`: at most three times the count.
        // A cell is at least two steps wide so that there is room between nodes.
        let size = max - min;
        let cell = (run / count).max(size / count).max(DVec2::splat(2.0));
        // And of cells there are at most as many as of edges, in proportion.
        let cells = (size / cell).ceil();
        let excess = (cells.x * cells.y / count).max(1.0).sqrt();
        let cell = (cell * excess).min(size);
        let cells = (size / cell).ceil().max(DVec2::ONE);
        (self.min, self.max, self.cell) = (min, max, cell);
        self.columns = whole(cells.x);
        whole(cells.y)
    }

    fn enter_edges(&mut self, rows: usize) {
        let cells = self.columns * rows;
        let mut first = vec![0_u32; cells + 1];
        for segment in &self.segments {
            self.cells_along(segment, rows, |index| first[index + 1] += 1);
        }
        for i in 0..cells {
            first[i + 1] += first[i];
        }
        let mut next = first.clone();
        let mut edges = vec![0; first[cells] as usize];
        for (i, segment) in self.segments.iter().enumerate() {
            self.cells_along(segment, rows, |index| {
                edges[next[index] as usize] = i as u32;
                next[index] += 1;
            });
        }
        (self.first, self.edges) = (first, edges);
    }

    /// Every cell that a segment passes through, and perhaps a few beside it.
    fn cells_along(&self, segment: &Segment, rows: usize, mut visit: impl FnMut(usize)) {
        let [a, b] = segment.map(steps);
        let (low, high) = if a.y <= b.y { (a, b) } else { (b, a) };
        let row_of = |y: f64| whole((y - self.min.y) / self.cell.y).min(rows - 1);
        let column_of = |x: f64| whole((x - self.min.x) / self.cell.x).min(self.columns - 1);
        // A step to spare swallows all rounding.
        for row in row_of(low.y - 1.0)..=row_of(high.y + 1.0) {
            let bottom = self.min.y + row as f64 * self.cell.y - 1.0;
            let x_at =
                |y: f64| low.x + (y.clamp(low.y, high.y) - low.y) / (high.y - low.y) * (high.x - low.x);
            let level = low.y == high.y;
            let [p, q] =
                if level { [low.x, high.x] } else { [x_at(bottom), x_at(bottom + self.cell.y + 2.0)] };
            for column in column_of(p.min(q) - 1.0)..=column_of(p.max(q) + 1.0) {
                visit(row * self.columns + column);
            }
        }
    }

    /// Finds a place in each cell that is on no edge, and walks along each row from outside.
    fn find_references(&mut self, rows: usize) {
        let mut references = Vec::with_capacity(self.columns * rows);
        for row in 0..rows {
            let mut before: Option<(usize, Halves)> = None;
            let mut inside = false;
            for column in 0..self.columns {
                let index = row * self.columns + column;
                let here = self.free_place(row, column);
                let from = before.map_or(Halves { x: self.min.x as i64 * 2 - 1, y: here.y }, |(_, at)| at);
                // Edges that both cells list are counted once.
                let others = before.map_or(&[][..], |(index, _)| self.edges_in(index));
                let mine = self.edges_in(index);
                let mut crossed = mine.iter().filter(|&&edge| self.crosses(edge, from, here)).count();
                crossed += others
                    .iter()
                    .filter(|edge| mine.binary_search(edge).is_err() && self.crosses(**edge, from, here))
                    .count();
                inside ^= crossed % 2 == 1;
                references.push((here, inside));
                before = Some((index, here));
            }
        }
        self.references = references;
    }

    /// A place near the middle of a cell that lies on no edge.
    fn free_place(&self, row: usize, column: usize) -> Halves {
        let middle = self.min + self.cell * DVec2::new(column as f64 + 0.5, row as f64 + 0.5);
        let middle = Halves { x: middle.x.floor() as i64 * 2 + 1, y: middle.y.floor() as i64 * 2 + 1 };
        let edges = self.edges_in(row * self.columns + column);
        let free = |at: Halves| edges.iter().all(|&edge| self.turn(edge, at) != 0);
        // A cell with so many edges that every place tried is on the line of one of them is as good as
        // full; the middle then decides, wrong only where the middle itself is on the outline.
        let tries = (edges.len() + 1).min(whole(self.cell.y) / 2).max(1);
        (0_i64..)
            .take(tries)
            .map(|i| Halves { x: middle.x, y: middle.y + if i % 2 == 0 { i } else { -i - 1 } })
            .find(|&at| free(at))
            .unwrap_or(middle)
    }

    fn cell_of(&self, at: DVec2) -> usize {
        let rows = self.references.len() / self.columns;
        let cell = (at - self.min) / self.cell;
        whole(cell.y).min(rows - 1) * self.columns + whole(cell.x).min(self.columns - 1)
    }

    fn edges_in(&self, index: usize) -> &[u32] {
        &self.edges[self.first[index] as usize..self.first[index + 1] as usize]
    }

    /// Twice the signed area of an edge and a place: positive to its left.
    fn turn(&self, edge: u32, at: Halves) -> i64 {
        let [a, b] = self.segments[edge as usize].map(Halves::node);
        turn(a, b, at)
    }

    /// Whether the way from one place to another crosses an edge; a node on the way counts as left of it.
    fn crosses(&self, edge: u32, from: Halves, to: Halves) -> bool {
        let [a, b] = self.segments[edge as usize].map(Halves::node);
        (turn(from, to, a) >= 0) != (turn(from, to, b) >= 0)
            && (turn(a, b, from) >= 0) != (turn(a, b, to) >= 0)
    }
}

/// The whole part of what is counted; nothing for what is negative.
#[expect(clippy::cast_sign_loss, reason = "a negative count saturates to nothing, as it should")]
fn whole(count: f64) -> usize {
    count as usize
}

fn steps(node: Node) -> DVec2 {
    DVec2::new(f64::from(node.x), f64::from(node.y))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geometry::{FillRule, Grid, Rect};
    use glam::dvec2;
    use proptest::prelude::*;

    fn region(rings: &[Vec<DVec2>]) -> Region {
        let bounds = Rect::around(rings.iter().flatten().copied()).unwrap();
        Region::clean(Grid::covering(bounds), rings, FillRule::EvenOdd)
    }

    /// Away from the outline, the locator and the plain crossing count agree.
    fn check(rings: &[Vec<DVec2>], points: impl IntoIterator<Item = DVec2>) {
        let region = region(rings);
        let locator = Locator::new(&region);
        for point in points {
            assert_eq!(locator.contains(point), region.contains(point), "at {point}");
        }
    }

    fn lattice(rect: Rect, count: i32) -> impl Iterator<Item = DVec2> {
        // An odd offset keeps points off the outlines, which have simple coordinates.
        let at = move |i: i32| (f64::from(i) + 0.371) / f64::from(count) * 1.2 - 0.1;
        (0..count * count).map(move |i| rect.min + rect.size() * dvec2(at(i % count), at(i / count)))
    }

    #[test]
    fn a_comb_of_long_teeth_is_told_apart() {
        let mut ring = vec![dvec2(0.0, 0.0), dvec2(100.0, 0.0)];
        for i in (0..100).rev() {
            let x = f64::from(i);
            ring.extend([dvec2(x + 0.6, 100.0), dvec2(x, 1.0)]);
        }
        check(&[ring], lattice(Rect::new(dvec2(0.0, 0.0), dvec2(100.0, 100.0)), 60));
    }

    /// Spikes of all directions: no lattice has few of them in each cell.
    #[test]
    fn a_star_of_long_spikes_is_told_apart() {
        let spike = |i: usize| {
            let radius = if i.is_multiple_of(2) { 2.0 } else { 40.0 + (i * 37 % 101) as f64 * 0.1 };
            DVec2::from_angle(std::f64::consts::TAU * i as f64 / 4000.0) * radius
        };
        let ring: Vec<DVec2> = (0..4000).map(spike).collect();
        assert!(Locator::new(&region(std::slice::from_ref(&ring))).tree.is_some());
        check(&[ring], lattice(Rect::new(DVec2::splat(-50.0), DVec2::splat(50.0)), 40));
    }

    #[test]
    fn points_level_with_corners_are_no_special_case() {
        let diamond = vec![dvec2(-8.0, 0.0), dvec2(0.0, -8.0), dvec2(8.0, 0.0), dvec2(0.0, 8.0)];
        let square = vec![dvec2(-2.0, -2.0), dvec2(2.0, -2.0), dvec2(2.0, 2.0), dvec2(-2.0, 2.0)];
        let points =
            (-9..=9).flat_map(|x| (-9..=9).map(move |y| dvec2(f64::from(x), f64::from(y)))).filter(|p| {
                (p.x.abs() + p.y.abs() - 8.0).abs() > 0.1 && (p.abs().max_element() - 2.0).abs() > 0.1
            });
        check(&[diamond, square], points);
    }

    #[test]
    fn what_is_not_a_number_is_outside() {
        let locator = Locator::new(&region(&[vec![dvec2(0.0, 0.0), dvec2(1.0, 0.0), dvec2(0.0, 1.0)]]));
        assert!(!locator.contains(DVec2::NAN));
        assert!(!locator.contains(DVec2::INFINITY));
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(64))]
        #[test]
        fn it_agrees_with_counting_every_crossing(
            rings in prop::collection::vec(
                prop::collection::vec((-50.0..50.0, -50.0..50.0).prop_map(|(x, y)| dvec2(x, y)), 3..30), 1..5),
        ) {
            check(&rings, lattice(Rect::new(dvec2(-50.0, -50.0), dvec2(50.0, 50.0)), 25));
        }
    }
}
