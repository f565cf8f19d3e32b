//! Making outlines that nearly touch share their corners.
//!
//! Where two outlines cross, the crossing is snapped to the grid. An outline cut there has its new
//! corner up to a step beside the edge of the other, which has no corner at that place: put together
//! again, the two leave a slit too thin to see and long enough to measure. So before outlines are
//! combined, every edge is led through the corners that lie beside it within a step or so.

use super::Node;
use i_overlay::i_shape::int::shape::IntShapes;

/// How far beside an edge a corner may lie to be led through, in steps: a crossing is snapped by at
/// most 0.71 of a step.
const REACH: f64 = 1.5;

/// The corners of several outlines, in a lattice of square cells.
pub(super) struct Corners {
    /// Sorted by cell, then by place; none twice.
    nodes: Vec<Node>,
    /// The corners of cell `i` are `nodes[first[i]..first[i + 1]]`.
    first: Vec<u32>,
    min: Node,
    /// Side of a cell, in steps.
    side: i64,
    columns: i64,
    rows: i64,
}

impl Corners {
    /// `O(n log n)` in corners.
    pub(super) fn of<'a>(shapes: impl Iterator<Item = &'a IntShapes<i32>>) -> Option<Corners> {
        let mut nodes: Vec<Node> = shapes.flatten().flatten().flatten().copied().collect();
        let min = nodes.iter().copied().reduce(|a, b| Node::new(a.x.min(b.x), a.y.min(b.y)))?;
        let max = nodes.iter().copied().reduce(|a, b| Node::new(a.x.max(b.x), a.y.max(b.y)))?;
        let (length, width) = (i64::from(max.x) - i64::from(min.x), i64::from(max.y) - i64::from(min.y));
        #[expect(clippy::cast_sign_loss, reason = "a square root is not negative")]
        let across = (nodes.len() as f64).sqrt().ceil().clamp(1.0, 2048.0) as u64;
        let side = length.max(width) / across.cast_signed() + 1;
        let (columns, rows) = (length / side + 1, width / side + 1);
        let mut corners = Corners { nodes: Vec::new(), first: Vec::new(), min, side, columns, rows };
        nodes.sort_unstable_by_key(|&node| (corners.cell_of(node), node.x, node.y));
        nodes.dedup();
        let cells = usize::try_from(columns * rows).unwrap_or(usize::MAX);
        corners.first = vec![0; cells + 1];
        for &node in &nodes {
            let cell = corners.cell_of(node);
            corners.first[cell + 1] += 1;
        }
        for cell in 0..cells {
            corners.first[cell + 1] += corners.first[cell];
        }
        corners.nodes = nodes;
        Some(corners)
    }

    fn column(&self, x: i64) -> i64 {
        ((x - i64::from(self.min.x)) / self.side).clamp(0, self.columns - 1)
    }

    fn row(&self, y: i64) -> i64 {
        ((y - i64::from(self.min.y)) / self.side).clamp(0, self.rows - 1)
    }

    fn cell_of(&self, node: Node) -> usize {
        let cell = self.row(i64::from(node.y)) * self.columns + self.column(i64::from(node.x));
        usize::try_from(cell).unwrap_or_default()
    }

    /// A ring with its edges led through the corners beside them.
    pub(super) fn lead_through(&self, ring: &[Node]) -> Vec<Node> {
        let mut led = Vec::with_capacity(ring.len());
        let mut beside: Vec<(f64, Node)> = Vec::new();
        for (&a, &b) in ring.iter().zip(ring.iter().cycle().skip(1)) {
            led.push(a);
            beside.clear();
            self.beside(a, b, &mut beside);
            beside.sort_by(|(s, p), (t, q)| s.total_cmp(t).then((p.x, p.y).cmp(&(q.x, q.y))));
            led.extend(beside.iter().map(|&(_, node)| node));
        }
        led
    }

    /// The corners beside the edge from `a` to `b`, each with how far along it lies.
    fn beside(&self, a: Node, b: Node, found: &mut Vec<(f64, Node)>) {
        let (ax, ay) = (i64::from(a.x), i64::from(a.y));
        let (dx, dy) = (i64::from(b.x) - ax, i64::from(b.y) - ay);
        let length = (dx as f64).hypot(dy as f64);
        let reach = REACH.ceil() as i64;
        let (low_x, high_x) = (ax.min(ax + dx) - reach, ax.max(ax + dx) + reach);
        let y_at = |x: i64| {
            let share = if dx == 0 { 0.0 } else { ((x - ax) as f64 / dx as f64).clamp(0.0, 1.0) };
            ay + (share * dy as f64) as i64
        };
        for column in self.column(low_x)..=self.column(high_x) {
            // The part of the edge over this column, and so its rows.
            let left = i64::from(self.min.x) + column * self.side - reach;
            let (y0, y1) =
                if dx == 0 { (ay, ay + dy) } else { (y_at(left), y_at(left + self.side + 2 * reach)) };
            // A step more for the rounding of y.
            let rows = self.row(y0.min(y1) - reach - 1)..=self.row(y0.max(y1) + reach + 1);
            for row in rows {
                let cell = usize::try_from(row * self.columns + column).unwrap_or_default();
                for &node in &self.nodes[self.first[cell] as usize..self.first[cell + 1] as usize] {
                    let (px, py) = (i64::from(node.x) - ax, i64::from(node.y) - ay);
                    let along = (px * dx + py * dy) as f64 / length;
                    let aside = (px * dy - py * dx) as f64 / length;
                    // Corners beside an end of the edge are the end's own business.
                    if aside.abs() <= REACH && along > REACH && along < length - REACH {
                        found.push((along, node));
                    }
                }
            }
        }
    }
}
