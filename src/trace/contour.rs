//! Where a picture crosses from paper to ink, to a fraction of a pixel.
//!
//! A pixel's value is how much of it is ink. The contour runs where the value, blended from one pixel's middle to
//! the next, passes the level: marching squares (Lorensen and Cline, *Marching Cubes*, SIGGRAPH 1987, in the
//! plane; from memory). Where two inky pixels touch by a corner alone, the mean of the four says whether they are
//! joined. Pixel space: x to the right, y down, the middle of the first pixel at 0.5, 0.5.

#![expect(
    clippy::cast_possible_wrap,
    clippy::cast_sign_loss,
    reason = "counts of pixels and samples are far under 2^31, and places round a ring are brought back into it"
)]

use glam::{DVec2, dvec2};
use std::sync::atomic::{AtomicBool, Ordering};

/// How much of each pixel is ink, 0 to 255, rows from the top. Outside there is paper.
pub(super) struct Field<'a> {
    pub(super) width: usize,
    pub(super) height: usize,
    pub(super) values: &'a [u8],
}

/// What was found at one level.
pub(super) struct Contours {
    /// Closed outlines with ink on their left as the picture is seen, without the specks.
    pub(super) rings: Vec<Vec<DVec2>>,
    /// Outlines left out for being too small.
    pub(super) specks: usize,
    /// Whether there is more outline than any drawing has: so much of it in specks, or in all.
    pub(super) is_noise: bool,
}

/// More points than this are not kept: a round value of our own, twice the edges a design may have.
const MOST_POINTS: usize = 8_000_000;

/// Fewer specks than this never make a picture noise: a scan of rough paper has hundreds (a round value of our
/// own).
const MANY_SPECKS: usize = 2_000;

/// A picture whose outline crosses this share of its pixels is noise if it has many specks too: hatching as fine
/// as a pixel can show crosses a third (a round value of our own).
const CROSSED: f64 = 0.2;

impl Field<'_> {
    fn at(&self, [x, y]: [i64; 2]) -> u8 {
        let inside = x >= 0 && y >= 0 && x < self.width as i64 && y < self.height as i64;
        if inside { self.values[y as usize * self.width + x as usize] } else { 0 }
    }

    /// The outlines of what is over `level`, without those that enclose less than `speck` square pixels; `None`
    /// once `cancel` is set. `O(pixels)`.
    pub(super) fn contours(&self, level: u8, speck: f64, cancel: &AtomicBool) -> Option<Contours> {
        let mut seen = vec![false; self.values.len()];
        let mut found = Contours { rings: Vec::new(), specks: 0, is_noise: false };
        let (mut kept, mut crossed, mut in_specks) = (0, 0, 0);
        let mut ring = Vec::new();
        for y in 0..self.height {
            if cancel.load(Ordering::Relaxed) {
                return None;
            }
            for x in 0..self.width {
                let index = y * self.width + x;
                let is_ink = self.values[index] > level;
                let ends = x + 1 == self.width || self.values[index + 1] <= level;
                if !(is_ink && ends) || seen[index] {
                    continue;
                }
                self.follow([x as i64, y as i64], level, &mut seen, &mut ring);
                crossed += ring.len();
                if area(&ring).abs() < speck {
                    found.specks += 1;
                    in_specks += ring.len();
                } else if kept + ring.len() <= MOST_POINTS {
                    kept += ring.len();
                    found.rings.push(ring.clone());
                } else {
                    found.is_noise = true;
                }
            }
        }
        let is_crossed = crossed as f64 > CROSSED * self.values.len() as f64;
        found.is_noise |= found.specks > MANY_SPECKS && (is_crossed || 2 * in_specks > crossed);
        Some(found)
    }

    /// The outline that passes between the inky pixel `start` and the paper to its right.
    fn follow(&self, start: [i64; 2], level: u8, seen: &mut [bool], ring: &mut Vec<DVec2>) {
        let plus = |[x, y]: [i64; 2], [u, v]: [i64; 2]| [x + u, y + v];
        let is_ink = |pixel| self.at(pixel) > level;
        ring.clear();
        // The ink on the left of the way, and the paper on its right.
        let (mut ink, mut to_paper) = (start, [1, 0]);
        loop {
            let paper = plus(ink, to_paper);
            if to_paper == [1, 0] {
                let index = ink[1] as usize * self.width + ink[0] as usize;
                if seen[index] {
                    return;
                }
                seen[index] = true;
            }
            let (high, low) = (f64::from(self.at(ink)), f64::from(self.at(paper)));
            let share = (high - f64::from(level) - 0.5) / (high - low);
            let [x, y] = ink.map(|at| at as f64 + 0.5);
            ring.push(dvec2(x, y) + share * dvec2(to_paper[0] as f64, to_paper[1] as f64));

            let ahead = [to_paper[1], -to_paper[0]];
            let (left, right) = (plus(ink, ahead), plus(paper, ahead));
            let turns_right = match (is_ink(left), is_ink(right)) {
                (true, false) => {
                    ink = left;
                    continue;
                }
                (true, true) => true,
                (false, false) => false,
                (false, true) => {
                    let sum: u32 =
                        [ink, paper, left, right].map(|pixel| u32::from(self.at(pixel))).iter().sum();
                    sum > 4 * u32::from(level) + 2
                }
            };
            if turns_right {
                (ink, to_paper) = (right, [-ahead[0], -ahead[1]]);
            } else {
                to_paper = ahead;
            }
        }
    }
}

/// The area a ring encloses, square pixels; negative for a hole.
pub(super) fn area(ring: &[DVec2]) -> f64 {
    let pairs = ring.iter().zip(ring.iter().cycle().skip(1));
    // The picture's y runs down.
    -0.5 * pairs.map(|(a, b)| a.perp_dot(*b)).sum::<f64>()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn contours(rows: &[&[u8]]) -> Contours {
        let values = rows.concat();
        let field = Field { width: rows[0].len(), height: rows.len(), values: &values };
        field.contours(127, 0.1, &AtomicBool::new(false)).unwrap()
    }

    #[test]
    fn half_a_pixel_of_ink_moves_the_edge_by_half_a_pixel() {
        // A column of ink and a half: between the two middles, at the level.
        let found = contours(&[&[0, 255, 0], &[0, 255, 191], &[0, 255, 0]]);
        let [ring] = &found.rings[..] else { panic!("one piece") };
        assert!(area(ring) > 0.0, "ink on the left");
        let right = ring.iter().map(|p| p.x).fold(0.0, f64::max);
        // From 191 at 2.5 to 0 at 3.5, which is outside.
        assert!((right - (2.5 + (191.0 - 127.5) / 191.0)).abs() < 1e-9, "{right}");
    }

    #[test]
    fn a_hole_runs_the_other_way() {
        let found = contours(&[&[255, 255, 255], &[255, 0, 255], &[255, 255, 255]]);
        let mut areas: Vec<f64> = found.rings.iter().map(|ring| area(ring)).collect();
        areas.sort_by(f64::total_cmp);
        assert!(areas.len() == 2 && areas[0] < 0.0 && areas[1] > 8.0, "{areas:?}");
    }

    #[test]
    fn pixels_that_touch_by_a_corner_are_joined_where_there_is_ink_between() {
        assert_eq!(contours(&[&[255, 0], &[0, 255]]).rings.len(), 2);
        assert_eq!(contours(&[&[255, 60], &[60, 255]]).rings.len(), 1);
    }

    #[test]
    fn every_crossing_is_followed_once() {
        // A slow count of the places where ink meets paper to its right, against the points found there.
        let mut state = 7_u32;
        let mut random = || {
            state = state.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
            (state >> 24) as u8
        };
        let values: Vec<u8> = (0..41 * 37).map(|_| random()).collect();
        let field = Field { width: 41, height: 37, values: &values };
        let found = field.contours(127, 0.0, &AtomicBool::new(false)).unwrap();
        let inked = |x: i64, y: i64| field.at([x, y]) > 127;
        let mut crossings = 0;
        for y in -1..37 {
            for x in -1..41 {
                crossings += usize::from(inked(x, y) != inked(x + 1, y));
                crossings += usize::from(inked(x, y) != inked(x, y + 1));
            }
        }
        assert_eq!(found.rings.iter().map(Vec::len).sum::<usize>(), crossings);
    }
}
