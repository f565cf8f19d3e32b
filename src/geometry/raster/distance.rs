//! Exact Euclidean distances on a lattice of square cells: how far each filled cell is from the nearest
//! empty one.
//!
//! Distances run from middle to middle, in cells, and are kept squared, as whole numbers, so that they
//! are exact. The transform is separable (A. Meijster, J. Roerdink and W. Hesselink, "A general
//! algorithm for computing distance transforms in linear time", 2000; P. Felzenszwalb and
//! D. Huttenlocher, "Distance transforms of sampled functions", 2012): first how far the nearest empty
//! cell is up or down each column, then along each row the least of the parabolas those give.
//!
//! Where we differ: in a row, an empty cell hides all that lies beyond it, so each run of filled cells is
//! worked out by itself, between the two empty cells at its ends. Cells that are empty cost next to
//! nothing, and a row's scratch space is as short as its longest run.

#![expect(clippy::cast_sign_loss, reason = "what is cast is not negative: counted, clamped or rounded up")]

use rayon::prelude::*;

/// Squared distance where no cell is empty.
pub const NO_EMPTY_CELL: u32 = u32::MAX;

/// The most cells along either side: squared distances then fit in 32 bits with room to spare.
pub const MOST_CELLS: usize = 16_384;

/// How many columns one thread sweeps at once: their rows fill whole cache lines, and a stripe of a
/// few thousand rows stays in the near caches.
const STRIPE: usize = 64;

/// How many rows of results are one piece of work.
const BAND: usize = 32;

/// A column with no empty cell: farther than any side is long.
const FAR: u16 = u16::MAX;

/// Squared distances, in cells, from each filled cell (not 0) to the nearest empty one (0); 0 at the empty
/// ones and [`NO_EMPTY_CELL`] everywhere if there are none. Cells beyond the edges do not count.
///
/// `filled` holds whole rows of `width` cells. `O(cells)`, on every core, the same on any number of them.
///
/// # Panics
///
/// Where `filled` is not whole rows, or a side is over [`MOST_CELLS`].
///
/// ```
/// # use spelk::geometry::raster::distance::squared_distances;
/// let row = [0, 1, 1, 1, 1, 0];
/// assert_eq!(squared_distances(&row, 6), [0, 1, 4, 4, 1, 0]);
/// ```
pub fn squared_distances(filled: &[u8], width: usize) -> Vec<u32> {
    let mut out = vec![0; filled.len()];
    map_distances(filled, width, &mut out, |squared| squared);
    out
}

/// Writes what `of` makes of each filled cell's squared distance; empty cells are left as they are, which
/// keeps memory that is all zeros from being touched. Otherwise as [`squared_distances`], in one go
/// and without keeping the distances.
///
/// # Panics
///
/// Where `filled` is not whole rows, `out` is not as large, or a side is over [`MOST_CELLS`].
///
/// ```
/// # use spelk::geometry::raster::distance::map_distances;
/// let mut depth = [0.0; 6];
/// map_distances(&[0, 1, 1, 1, 1, 0], 6, &mut depth, |squared| (squared as f32).sqrt());
/// assert_eq!(depth, [0.0, 1.0, 2.0, 2.0, 1.0, 0.0]);
/// ```
pub fn map_distances<T: Send>(
    filled: &[u8],
    width: usize,
    out: &mut [T],
    of: impl Fn(u32) -> T + Sync + Send,
) {
    if filled.is_empty() {
        return;
    }
    let height = filled.len() / width;
    assert!(width * height == filled.len() && out.len() == filled.len(), "whole rows, and as many of them");
    assert!(width <= MOST_CELLS && height <= MOST_CELLS, "sides of at most {MOST_CELLS} cells");
    let columns = column_distances(filled, width);
    out.par_chunks_mut(BAND * width).enumerate().for_each_init(Row::default, |scratch, (band, out)| {
        for (row, out) in out.chunks_mut(width).enumerate() {
            let row = band * BAND + row;
            scratch.map(row, width, &filled[row * width..][..width], &columns, out, &of);
        }
    });
}

/// Distances up or down each column to the nearest empty cell, in stripes of [`STRIPE`] columns, each with
/// its rows one after another; [`FAR`] in a column that has none.
struct Columns {
    stripes: Vec<Vec<[u16; STRIPE]>>,
}

fn column_distances(filled: &[u8], width: usize) -> Columns {
    let height = filled.len() / width;
    let stripe = |first: usize| {
        let wide = STRIPE.min(width - first);
        let mut stripe = vec![[0_u16; STRIPE]; height];
        let mut above = [FAR; STRIPE];
        for (row, cells) in stripe.iter_mut().enumerate() {
            let mut line = [0_u8; STRIPE];
            line[..wide].copy_from_slice(&filled[row * width + first..][..wide]);
            for ((cell, above), filled) in cells.iter_mut().zip(&mut above).zip(line) {
                *above = if filled == 0 { 0 } else { above.saturating_add(1) };
                *cell = *above;
            }
        }
        let mut below = [FAR; STRIPE];
        for cells in stripe.iter_mut().rev() {
            for (cell, below) in cells.iter_mut().zip(&mut below) {
                *below = (*cell).min(below.saturating_add(1));
                *cell = *below;
            }
        }
        stripe
    };
    let firsts: Vec<usize> = (0..width).step_by(STRIPE).collect();
    Columns { stripes: firsts.into_par_iter().map(stripe).collect() }
}

/// Scratch space for one row at a time.
#[derive(Default)]
struct Row {
    /// Column distances of a run and of the cells at its ends.
    up: Vec<u32>,
    /// The parabolas on the lower envelope: their columns, and from which column on each is least.
    least: Vec<(u32, u32)>,
    /// Squared distances of a run.
    squared: Vec<u32>,
}

impl Row {
    fn map<T>(
        &mut self,
        row: usize,
        width: usize,
        filled: &[u8],
        columns: &Columns,
        out: &mut [T],
        of: &impl Fn(u32) -> T,
    ) {
        let mut at = 0;
        while at < width {
            at += filled[at..].iter().take_while(|&&cell| cell == 0).count();
            let from = at;
            at += filled[at..].iter().take_while(|&&cell| cell != 0).count();
            if from == at {
                break;
            }
            // An empty cell at either end takes part; at the edge there is none.
            let (first, last) = (from.saturating_sub(1), (at + 1).min(width));
            self.up.clear();
            let mut column = first;
            while column < last {
                let (stripe, within) = (column / STRIPE, column % STRIPE);
                let cells = &columns.stripes[stripe][row][within..];
                let cells = &cells[..cells.len().min(last - column)];
                self.up.extend(cells.iter().map(|&up| u32::from(up)));
                column += cells.len();
            }
            self.run();
            for (out, &squared) in out[from..at].iter_mut().zip(&self.squared[from - first..]) {
                *out = of(squared);
            }
        }
    }

    /// Fills `squared` from `up`: at each place the least of all parabolas `(x - x')^2 + up(x')^2`.
    fn run(&mut self) {
        let count = self.up.len();
        self.squared.clear();
        self.least.clear();
        for (x, &up) in self.up.iter().enumerate() {
            if up == u32::from(FAR) {
                continue;
            }
            let x = x as u32;
            let mut start = 0;
            while let Some(&(other, begins)) = self.least.last() {
                start = crossing(other, self.up[other as usize], x, up);
                if start > begins {
                    break;
                }
                self.least.pop();
                start = 0;
            }
            if (start as usize) < count {
                self.least.push((x, start));
            }
        }
        if self.least.is_empty() {
            self.squared.resize(count, NO_EMPTY_CELL);
            return;
        }
        for (index, &(column, begins)) in self.least.iter().enumerate() {
            let ends = self.least.get(index + 1).map_or(count as u32, |next| next.1);
            let up = self.up[column as usize];
            let up = up * up;
            self.squared.extend((begins..ends).map(|x| {
                let off = x.abs_diff(column);
                off * off + up
            }));
        }
    }
}

/// From which column on the parabola at `b` is below the one at `a`, to its left; 0 if everywhere.
///
/// `(x - a)^2 + up_a^2 > (x - b)^2 + up_b^2` for `x > (b^2 - a^2 + up_b^2 - up_a^2) / 2 (b - a)`. Where the
/// division in floating point comes out a whole number too high or low, both parabolas are equal there.
fn crossing(a: u32, up_a: u32, b: u32, up_b: u32) -> u32 {
    let square = |value: u32| i64::from(value) * i64::from(value);
    let above = square(b) - square(a) + square(up_b) - square(up_a);
    if above < 0 {
        return 0;
    }
    (above as f64 / f64::from(2 * (b - a))) as u32 + 1
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    /// Every pair of cells.
    fn by_brute_force(filled: &[u8], width: usize) -> Vec<u32> {
        let place = |index: usize| (index % width, index / width);
        let empty: Vec<_> = (0..filled.len()).filter(|&i| filled[i] == 0).map(place).collect();
        let nearest = |index: usize| {
            let (x, y) = place(index);
            let squared = |&(a, b): &(usize, usize)| x.abs_diff(a).pow(2) + y.abs_diff(b).pow(2);
            empty.iter().map(squared).min().map_or(NO_EMPTY_CELL, |least| least as u32)
        };
        (0..filled.len()).map(nearest).collect()
    }

    #[test]
    fn a_disc_is_deepest_in_its_middle() {
        let (width, radius) = (101_usize, 40_usize);
        let cell = |i: usize| {
            let (x, y) = ((i % width).abs_diff(50), (i / width).abs_diff(50));
            u8::from(x * x + y * y < radius * radius)
        };
        let filled: Vec<u8> = (0..width * width).map(cell).collect();
        assert_eq!(squared_distances(&filled, width)[50 * width + 50], 1600);
    }

    #[test]
    fn with_nothing_empty_nothing_is_near() {
        assert!(squared_distances(&[1; 12], 4).iter().all(|&squared| squared == NO_EMPTY_CELL));
        assert!(squared_distances(&[], 4).is_empty());
    }

    /// A general library's transform of the same cells (it measures to the nearest cell that is not 0).
    #[test]
    fn it_agrees_with_a_general_library_to_the_last_bit() {
        let (width, height) = (230_u32, 170_u32);
        let filled = |x: u32, y: u32| u8::from((x * 7919 + y * 104_729 + x * y) % 61 > 2 || x % 90 < 40);
        let cells: Vec<u8> = (0..height).flat_map(|y| (0..width).map(move |x| filled(x, y))).collect();
        let turned =
            image::GrayImage::from_fn(width, height, |x, y| image::Luma([u8::from(filled(x, y) == 0)]));
        let theirs = imageproc::distance_transform::euclidean_squared_distance_transform(&turned);
        let ours = squared_distances(&cells, width as usize);
        for (ours, theirs) in ours.iter().zip(theirs.pixels()) {
            assert_eq!(f64::from(*ours), theirs.0[0]);
        }
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(200))]
        #[test]
        fn it_agrees_with_brute_force(
            width in 1..90_usize,
            height in 1..30_usize,
            share in 0..20_u32,
            salt in 0..1000_u32,
        ) {
            let chance = |i: usize| (i as u32).wrapping_mul(2_654_435_761).wrapping_add(salt * 40_503) >> 16;
            let cells: Vec<u8> = (0..width * height).map(|i| u8::from(chance(i) % 20 >= share)).collect();
            prop_assert_eq!(squared_distances(&cells, width), by_brute_force(&cells, width));
        }
    }
}
