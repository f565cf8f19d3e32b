//! Which of many boxes hold a point: a lattice of cells over all of them.

use super::Rect;
use glam::DVec2;

/// The most entries that a lattice holds for each box; large boxes lie in many cells.
const ENTRIES: usize = 8;

/// Boxes by the cells of a lattice that they meet.
///
/// ```
/// use glam::dvec2;
/// use spelk::geometry::{BoxLattice, Rect};
/// let boxes = [Rect::new(dvec2(0.0, 0.0), dvec2(4.0, 4.0)), Rect::new(dvec2(2.0, 2.0), dvec2(9.0, 9.0))];
/// let lattice = BoxLattice::new(&boxes.map(Some));
/// assert_eq!(lattice.at(dvec2(3.0, 3.0)).collect::<Vec<_>>(), [0, 1]);
/// assert_eq!(lattice.at(dvec2(8.0, 8.0)).collect::<Vec<_>>(), [1]);
/// ```
#[derive(Clone, Debug)]
pub struct BoxLattice {
    boxes: Vec<Option<Rect>>,
    min: DVec2,
    /// Cells a millimetre, along x and y.
    scale: DVec2,
    /// Cells along x and y.
    counts: [usize; 2],
    /// The boxes of cell `i` are `entries[first[i]..first[i + 1]]`, in their order.
    first: Vec<usize>,
    entries: Vec<usize>,
}

impl BoxLattice {
    /// `O(n)` in boxes, whatever their sizes; `None` is a box that holds nothing.
    pub fn new(boxes: &[Option<Rect>]) -> BoxLattice {
        let corners = boxes.iter().flatten().flat_map(|held| [held.min, held.max]);
        let around = Rect::around(corners).unwrap_or(Rect::new(DVec2::ZERO, DVec2::ZERO));
        let mut lattice = BoxLattice {
            boxes: boxes.to_vec(),
            min: around.min,
            scale: DVec2::ZERO,
            counts: [0; 2],
            first: Vec::new(),
            entries: Vec::new(),
        };
        let mut side = boxes.len().isqrt().max(1);
        loop {
            lattice.counts = [side; 2];
            lattice.scale = side as f64 / around.size().max(DVec2::splat(f64::MIN_POSITIVE));
            let entries = boxes.iter().flatten().map(|held| lattice.cells(held).count()).sum::<usize>();
            if side == 1 || entries <= ENTRIES * boxes.len() {
                break;
            }
            side /= 2;
        }
        lattice.enter();
        lattice
    }

    fn enter(&mut self) {
        self.first = vec![0; self.counts[0] * self.counts[1] + 1];
        let held = || self.boxes.iter().enumerate().filter_map(|(index, held)| Some((index, held.as_ref()?)));
        for cell in held().flat_map(|(_, held)| self.cells(held)).collect::<Vec<_>>() {
            self.first[cell + 1] += 1;
        }
        for cell in 1..self.first.len() {
            self.first[cell] += self.first[cell - 1];
        }
        let mut next = self.first.clone();
        let mut entries = vec![0; self.first.last().copied().unwrap_or(0)];
        for (index, held) in held() {
            for cell in self.cells(held) {
                entries[next[cell]] = index;
                next[cell] += 1;
            }
        }
        self.entries = entries;
    }

    /// The boxes that hold a point, their borders counted in, in their order. As many steps as boxes in its cell.
    pub fn at(&self, point: DVec2) -> impl Iterator<Item = usize> {
        let [column, row] = self.cell(point);
        let cell = row * self.counts[0] + column;
        let entries = &self.entries[self.first[cell]..self.first[cell + 1]];
        let holds =
            move |index: &&usize| self.boxes[**index].is_some_and(|held| held.meets(Rect::new(point, point)));
        entries.iter().filter(holds).copied()
    }

    /// Places beyond the lattice count to its outermost cells, and what is not a number to the first.
    fn cell(&self, point: DVec2) -> [usize; 2] {
        let at = (point - self.min) * self.scale;
        #[expect(clippy::cast_sign_loss, reason = "a cast from below zero gives zero")]
        let index = |at: f64, count: usize| (at as usize).min(count - 1);
        [index(at.x, self.counts[0]), index(at.y, self.counts[1])]
    }

    fn cells(&self, held: &Rect) -> impl Iterator<Item = usize> + use<> {
        let ([left, bottom], [right, top]) = (self.cell(held.min), self.cell(held.max));
        let columns = self.counts[0];
        (bottom..=top).flat_map(move |row| (left..=right).map(move |column| row * columns + column))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use glam::dvec2;
    use proptest::prelude::*;

    proptest! {
        #[test]
        fn it_agrees_with_asking_every_box(
            boxes in prop::collection::vec(
                prop::option::weighted(0.9, (0..20_i32, 0..20_i32, 0..30_i32, 0..6_i32)), 0..60),
            points in prop::collection::vec((-2..54_i32, -2..30_i32), 20),
        ) {
            let boxes: Vec<Option<Rect>> = boxes
                .into_iter()
                .map(|held| held.map(|(x, y, length, width)| {
                    let min = dvec2(f64::from(x), f64::from(y));
                    Rect::new(min, min + dvec2(f64::from(length), f64::from(width)))
                }))
                .collect();
            let lattice = BoxLattice::new(&boxes);
            for (x, y) in points {
                let point = dvec2(f64::from(x), f64::from(y));
                let held: Vec<usize> = (0..boxes.len())
                    .filter(|&index| boxes[index].is_some_and(|held| held.meets(Rect::new(point, point))))
                    .collect();
                prop_assert_eq!(lattice.at(point).collect::<Vec<_>>(), held);
            }
        }
    }

    #[test]
    fn no_boxes_and_boxes_of_no_size_hold_what_they_hold() {
        assert_eq!(BoxLattice::new(&[]).at(DVec2::ZERO).count(), 0);
        let place = Rect::new(DVec2::ONE, DVec2::ONE);
        let lattice = BoxLattice::new(&[Some(place), None]);
        assert_eq!(lattice.at(DVec2::ONE).collect::<Vec<_>>(), [0]);
        assert_eq!(lattice.at(DVec2::NAN).count(), 0);
    }

    /// Boxes over each other all the way are entered about as often as others.
    #[test]
    fn large_boxes_do_not_fill_the_lattice() {
        let boxes: Vec<_> =
            (0..900).map(|i| Some(Rect::new(DVec2::ZERO, DVec2::splat(f64::from(i))))).collect();
        assert!(BoxLattice::new(&boxes).entries.len() <= ENTRIES * boxes.len());
    }
}
