//! Which ends of pieces are the same place.

use glam::DVec2;
use rayon::prelude::*;

/// The side of the squares that ends are sorted into, over the distance within which they are merged.
const SQUARE: f64 = 64.0;

/// Which ends of pieces are one vertex: sets of numbers, each named by its least.
pub(super) struct Merged {
    pub(super) parent: Vec<u32>,
}

impl Merged {
    pub(super) fn find(&mut self, mut name: u32) -> u32 {
        while self.parent[name as usize] != name {
            let above = self.parent[self.parent[name as usize] as usize];
            self.parent[name as usize] = above;
            name = above;
        }
        name
    }

    pub(super) fn unite(&mut self, a: u32, b: u32) {
        let (a, b) = (self.find(a), self.find(b));
        self.parent[a.max(b) as usize] = a.min(b);
    }

    /// Unites the ends that lie within `distance` of each other, of `count` in all. `O(n log n)`.
    pub(super) fn of(ends: &[(u32, DVec2)], count: u32, distance: f64) -> Merged {
        // By the square of the plane each lies in; near a side of it, by the next one too.
        let mut squares: Vec<(u64, u32)> = Vec::with_capacity(ends.len() + ends.len() / 4);
        let extent = SQUARE * distance;
        for (i, &(_, at)) in (0_u32..).zip(ends) {
            let low = ((at - DVec2::splat(distance)) / extent).floor();
            let high = ((at + DVec2::splat(distance)) / extent).floor();
            let word = |x: f64| u64::from((x as i32).cast_unsigned());
            let xs = [low.x, high.x];
            let ys = [low.y, high.y];
            for &x in if low.x < high.x { &xs[..] } else { &xs[..1] } {
                for &y in if low.y < high.y { &ys[..] } else { &ys[..1] } {
                    squares.push((word(x) << 32 | word(y), i));
                }
            }
        }
        squares.par_sort_unstable();
        let mut merged = Merged { parent: (0..count).collect() };
        for square in squares.chunk_by(|a, b| a.0 == b.0) {
            for (i, &(_, a)) in square.iter().enumerate() {
                let (a, at) = ends[a as usize];
                for &(_, b) in &square[i + 1..] {
                    let (b, other) = ends[b as usize];
                    if at.distance_squared(other) < distance * distance {
                        merged.unite(a, b);
                    }
                }
            }
        }
        merged
    }
}
