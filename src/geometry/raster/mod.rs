//! A region on a lattice of square cells: which cells have their middle inside.

#![expect(clippy::cast_sign_loss, reason = "what is cast is not negative: counted, clamped or rounded up")]

pub mod distance;

use super::{Rect, Region, Ring};
use glam::{DVec2, dvec2};

/// A lattice of square cells over a box, row by row from its lower left corner.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Lattice {
    /// The lower left corner of the first cell.
    pub corner: DVec2,
    /// The extent of a cell, millimetres.
    pub pitch: f64,
    /// Cells along x.
    pub columns: usize,
    /// Cells along y.
    pub rows: usize,
}

impl Lattice {
    /// The coarsest of the lattices no coarser than `pitch` that covers a box with whole cells, or, where
    /// that takes more than `most` cells along a side, the finest that does not. At least one cell.
    ///
    /// ```
    /// # use glam::dvec2;
    /// # use spelk::geometry::{Lattice, Rect};
    /// let lattice = Lattice::covering(Rect::new(dvec2(0.0, 0.0), dvec2(10.0, 4.0)), 0.3, 4096);
    /// assert_eq!((lattice.columns, lattice.rows), (34, 14));
    /// ```
    pub fn covering(area: Rect, pitch: f64, most: usize) -> Lattice {
        let size = area.size().max(DVec2::splat(1e-6));
        let pitch = if pitch.is_finite() && pitch > 0.0 { pitch } else { 1.0 };
        // A hair less than a whole cell is a whole cell.
        let cells = |side: f64, pitch: f64| (side / pitch - 1e-9).ceil().max(1.0);
        let pitch = if cells(size.max_element(), pitch) > most as f64 {
            size.max_element() / most as f64
        } else {
            pitch
        };
        let [columns, rows] = [size.x, size.y].map(|side| cells(side, pitch) as usize);
        let corner = area.center() - dvec2(columns as f64, rows as f64) * (0.5 * pitch);
        Lattice { corner, pitch, columns, rows }
    }

    /// The middle of a cell.
    ///
    /// ```
    /// # use glam::dvec2;
    /// # use spelk::geometry::{Lattice, Rect};
    /// let lattice = Lattice::covering(Rect::new(dvec2(0.0, 0.0), dvec2(10.0, 4.0)), 1.0, 4096);
    /// assert_eq!(lattice.middle(2, 3), dvec2(2.5, 3.5));
    /// ```
    pub fn middle(&self, column: usize, row: usize) -> DVec2 {
        self.corner + dvec2(column as f64 + 0.5, row as f64 + 0.5) * self.pitch
    }

    /// All it covers.
    ///
    /// ```
    /// # use glam::dvec2;
    /// # use spelk::geometry::{Lattice, Rect};
    /// let area = Rect::new(dvec2(0.0, 0.0), dvec2(10.0, 4.0));
    /// assert_eq!(Lattice::covering(area, 0.5, 4096).area(), area);
    /// ```
    pub fn area(&self) -> Rect {
        Rect::new(self.corner, self.corner + dvec2(self.columns as f64, self.rows as f64) * self.pitch)
    }
}

/// The runs of cells whose middle lies in a region, a list of `[first, beyond]` for each row.
/// `O(edges + crossings log crossings)`.
///
/// ```
/// # use glam::dvec2;
/// # use spelk::geometry::{FillRule, Grid, Lattice, Rect, Region, spans};
/// let area = Rect::new(dvec2(0.0, 0.0), dvec2(10.0, 4.0));
/// let bar = vec![dvec2(2.0, 1.0), dvec2(9.0, 1.0), dvec2(9.0, 3.0), dvec2(2.0, 3.0)];
/// let bar = Region::clean(Grid::covering(area), &[bar], FillRule::NonZero);
/// let rows = spans(&bar, &Lattice::covering(area, 1.0, 4096));
/// assert_eq!(rows, [vec![], vec![[2, 9]], vec![[2, 9]], vec![]]);
/// ```
pub fn spans(region: &Region, lattice: &Lattice) -> Vec<Vec<[u32; 2]>> {
    // In cells, with middles at whole numbers.
    let to_cells = |point: DVec2| (point - lattice.corner) / lattice.pitch - DVec2::splat(0.5);
    let mut crossings: Vec<Vec<f64>> = vec![Vec::new(); lattice.rows];
    for [a, b] in region.rings().flat_map(Ring::segments) {
        let (a, b) = (to_cells(a), to_cells(b));
        let (low, high) = if a.y <= b.y { (a, b) } else { (b, a) };
        // Half open, so that a line through a corner crosses once or not at all.
        let first = low.y.ceil().max(0.0);
        let beyond = high.y.ceil().min(lattice.rows as f64);
        let slope = (high.x - low.x) / (high.y - low.y);
        let mut row = first;
        while row < beyond {
            crossings[row as usize].push(low.x + (row - low.y) * slope);
            row += 1.0;
        }
    }
    let columns = lattice.columns as f64;
    let cell = |x: f64| x.ceil().clamp(0.0, columns) as u32;
    crossings
        .into_iter()
        .map(|mut row| {
            row.sort_unstable_by(f64::total_cmp);
            let runs = row.chunks_exact(2).map(|pair| [cell(pair[0]), cell(pair[1])]);
            runs.filter(|[from, to]| from < to).collect()
        })
        .collect()
}
