//! Whether anything of many boxes lies near a box, at once.

use super::Rect;
use glam::DVec2;

/// Along either side, so many cells. A round value of our own: the table is made in less than a millisecond.
const CELLS: usize = 128;

/// A grid over boxes that tells of any box whether it may meet one of them. It says yes too often, by a cell on every
/// side, and never no where one is met.
///
/// ```
/// # use glam::dvec2;
/// use spelk::geometry::{CoverTable, Rect};
/// let square = |at: f64| Rect::new(dvec2(at, at), dvec2(at + 1.0, at + 1.0));
/// let table = CoverTable::of(&[square(0.0), square(99.0)]);
/// assert!(table.meets(square(0.5)) && table.meets(square(-1.0)));
/// assert!(!table.meets(square(50.0)) && !table.meets(square(200.0)));
/// ```
#[derive(Clone, Debug)]
pub struct CoverTable {
    around: Option<Rect>,
    /// Cells a unit of length.
    scale: DVec2,
    /// How many of the cells that are left of a corner of the grid and below it have a box in them, row by row.
    covered: Vec<i32>,
}

impl CoverTable {
    /// `O(n)` in boxes, whatever their sizes.
    pub fn of(boxes: &[Rect]) -> CoverTable {
        let around = Rect::around(boxes.iter().flat_map(|held| [held.min, held.max]));
        let size = around.map_or(DVec2::ONE, Rect::size).max(DVec2::splat(f64::MIN_POSITIVE));
        let mut table =
            CoverTable { around, scale: CELLS as f64 / size, covered: vec![0; (CELLS + 1) * (CELLS + 1)] };
        // What begins and ends at each corner, summed up both ways, is how many boxes lie over each cell.
        let mut over = vec![0_i32; (CELLS + 1) * (CELLS + 1)];
        for &held in boxes {
            let [low, high] = table.cells(held);
            for (x, y, change) in
                [(low[0], low[1], 1), (high[0], low[1], -1), (low[0], high[1], -1), (high[0], high[1], 1)]
            {
                over[y * (CELLS + 1) + x] += change;
            }
        }
        sum_up(&mut over);
        // A corner counts the cells below it and left of it, so that each cell stands at the corner beyond it.
        for y in 0..CELLS {
            for x in 0..CELLS {
                table.covered[(y + 1) * (CELLS + 1) + x + 1] = i32::from(over[y * (CELLS + 1) + x] > 0);
            }
        }
        sum_up(&mut table.covered);
        table
    }

    /// Whether a box may meet one of them. `O(1)`.
    pub fn meets(&self, held: Rect) -> bool {
        if !self.around.is_some_and(|around| around.meets(held)) {
            return false;
        }
        let [low, high] = self.cells(held);
        let until = |x: usize, y: usize| self.covered[y * (CELLS + 1) + x];
        until(high[0], high[1]) + until(low[0], low[1]) > until(low[0], high[1]) + until(high[0], low[1])
    }

    /// The first cell a box lies in, and the first beyond it.
    #[expect(clippy::cast_sign_loss, reason = "it is held to the grid")]
    fn cells(&self, held: Rect) -> [[usize; 2]; 2] {
        let min = self.around.map_or(DVec2::ZERO, |around| around.min);
        let low =
            ((held.min - min) * self.scale).floor().clamp(DVec2::ZERO, DVec2::splat(CELLS as f64 - 1.0));
        let high =
            ((held.max - min) * self.scale).floor().clamp(DVec2::ZERO, DVec2::splat(CELLS as f64 - 1.0));
        [[low.x as usize, low.y as usize], [high.x as usize + 1, high.y as usize + 1]]
    }
}

/// Each becomes the sum of all that are left of it and below, row by row, itself among them.
fn sum_up(table: &mut [i32]) {
    for row in table.chunks_mut(CELLS + 1) {
        for x in 1..row.len() {
            row[x] += row[x - 1];
        }
    }
    for at in CELLS + 1..table.len() {
        table[at] += table[at - CELLS - 1];
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use glam::dvec2;
    use proptest::prelude::*;

    fn rect() -> impl Strategy<Value = Rect> {
        (0.0..100.0_f64, 0.0..100.0_f64, 0.0..9.0_f64, 0.0..9.0_f64)
            .prop_map(|(x, y, width, height)| Rect::new(dvec2(x, y), dvec2(x + width, y + height)))
    }

    proptest! {
        /// What is met is told, and what lies more than a cell from every box is not.
        #[test]
        fn it_says_yes_at_most_a_cell_too_often(boxes in prop::collection::vec(rect(), 0..9), asked in rect()) {
            let table = CoverTable::of(&boxes);
            let meets = |asked: Rect| boxes.iter().any(|held| held.meets(asked));
            prop_assert!(!meets(asked) || table.meets(asked));
            prop_assert!(meets(asked.grown(110.0 / CELLS as f64)) || !table.meets(asked));
        }
    }
}
