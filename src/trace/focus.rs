//! A picture out of focus, and its edges made steep again.
//!
//! A lens out of focus spreads an edge over some pixels, and rounds corners off by as much. How far it spreads is read
//! from how steeply values rise across the edges ([`blur`]). One step of unsharp masking takes part of that back
//! ([`sharpened`]): what the picture spread once more lacks is added to it, held between bare paper and full ink.
//! Further steps follow the noise of a JPEG: on the samples, out of focus by a pixel and at quality 60, two steps keep
//! as many corners as one, and twelve a tenth fewer.

use rayon::prelude::*;

/// How far a value rises over two pixels across an edge, as a share of the way from paper to ink, where a lens has
/// spread it by a normal curve of that deviation, in pixels: `erf(1 / sqrt(2 s² + 1/6))`, for a pixel's own width has
/// a variance of a twelfth.
const RISES: [(f64, f64); 9] = [
    (0.9167, 0.5),
    (0.7866, 0.75),
    (0.6633, 1.0),
    (0.5643, 1.25),
    (0.4873, 1.5),
    (0.3793, 2.0),
    (0.3089, 2.5),
    (0.2600, 3.0),
    (0.1969, 4.0),
];

/// Of all edges, this share is less steep than the one that is measured: thin lines and washes are not as steep as
/// the lens would show them (a round value of our own).
const LESS_STEEP: [u64; 2] = [3, 4];

/// Less than this is not made up for, in pixels: on the samples it brings no corner back.
const LEAST: f64 = 0.7;

/// The picture is spread once more by so much more than the lens did (by measurement on the samples and on icons).
const WIDER: f64 = 1.5;

/// Weights of neighbours are whole numbers of this, so that no machine rounds them in another way.
const WHOLE: i32 = 1 << 12;

/// Pictures are taken apart into squares of so many pixels, and only those that an edge crosses are worked on.
const TILE: usize = 64;

/// By how many pixels a lens has spread the edges at a level, as the deviation of a normal curve; 0 where they are as
/// sharp as pixels show, and 4 at most. `contrast` is from paper to ink, of 255. `O(pixels)`.
pub(super) fn blur(values: &[u8], width: usize, level: u8, contrast: u8) -> f64 {
    let height = values.len() / width.max(1);
    if width < 3 || height < 3 || contrast == 0 {
        return 0.0;
    }
    let across = f64::from(contrast);
    let count = |mut counts: Vec<u64>, y: usize| {
        for x in 1..width - 1 {
            let at = y * width + x;
            let is_ink = values[at] > level;
            if is_ink == (values[at + 1] > level) && is_ink == (values[at + width] > level) {
                continue;
            }
            let over = |one: usize, other: usize| f64::from(values[one]) - f64::from(values[other]);
            let rise = over(at + 1, at - 1).hypot(over(at + width, at - width));
            counts[bin(rise / across)] += 1;
        }
        counts
    };
    let none = || vec![0; BINS + 1];
    let sum = |mut one: Vec<u64>, other: Vec<u64>| {
        one.iter_mut().zip(other).for_each(|(one, other)| *one += other);
        one
    };
    let counts = (1..height - 1).into_par_iter().fold(none, count).reduce(none, sum);
    let due = (counts.iter().sum::<u64>() * LESS_STEEP[0]).div_ceil(LESS_STEEP[1]);
    let mut so_far = 0;
    let measured = counts.iter().position(|count| {
        so_far += count;
        so_far >= due && due > 0
    });
    let spread = measured.map_or(0.0, |bin| spread_of(bin as f64 / BINS as f64));
    if spread < LEAST { 0.0 } else { spread }
}

/// Rises are counted in so many steps.
const BINS: usize = 256;

#[expect(clippy::cast_sign_loss, reason = "a rise is not negative")]
fn bin(rise: f64) -> usize {
    (rise.min(1.0) * BINS as f64).round() as usize
}

/// The spread that a rise comes of.
fn spread_of(rise: f64) -> f64 {
    let ([first, ..], [.., last]) = (&RISES, &RISES);
    if rise >= first.0 {
        return 0.0;
    }
    let pair = RISES.windows(2).find(|pair| rise >= pair[1].0);
    pair.map_or(last.1, |pair| {
        let ((high, less), (low, more)) = (pair[0], pair[1]);
        more + (less - more) * (rise - low) / (high - low)
    })
}

/// The picture with steeper edges at a level, where a lens has spread them by `spread` pixels; what lies between
/// `paper` and `ink` stays there. `O(pixels)` where edges are, times the spread.
#[expect(
    clippy::cast_sign_loss,
    reason = "sides of pictures are far under 2^31, and values are held to 0 or more"
)]
pub(super) fn sharpened(
    values: &[u8],
    width: usize,
    level: u8,
    [paper, ink]: [u8; 2],
    spread: f64,
) -> Vec<u8> {
    let kernel = kernel(WIDER * spread);
    let reach = kernel.len() - 1;
    let height = values.len() / width.max(1);
    let side = TILE + 2 * reach;
    let (columns, rows) = (width.div_ceil(TILE), height.div_ceil(TILE));
    let tile = |index: usize| {
        let (left, top) = (index % columns * TILE, index / columns * TILE);
        let inside = |at: usize, most: usize| at.saturating_sub(reach).min(most - 1);
        let mut seen = Vec::with_capacity(side * side);
        for y in top..top + side {
            let row = &values[inside(y, height) * width..][..width];
            seen.extend((left..left + side).map(|x| i32::from(row[inside(x, width)])));
        }
        let level = i32::from(level);
        let is_ink = seen[0] > level;
        if seen.iter().all(|value| (*value > level) == is_ink) {
            return None;
        }
        let spread_over = |middle: usize, step: usize, of: &[i32]| {
            let beside = kernel[1..].iter().enumerate();
            kernel[0] * of[middle]
                + beside
                    .map(|(k, w)| w * (of[middle - (k + 1) * step] + of[middle + (k + 1) * step]))
                    .sum::<i32>()
        };
        // Kept as 64ths, so that weighing them once more stays under 2^31.
        let mut across = vec![0; side * side];
        for y in 0..side {
            for x in reach..reach + TILE {
                across[y * side + x] = spread_over(y * side + x, 1, &seen) / (WHOLE / 64);
            }
        }
        let mut tile = Vec::with_capacity(TILE * TILE);
        for y in reach..reach + TILE {
            for x in reach..reach + TILE {
                let value = seen[y * side + x];
                let spread = (spread_over(y * side + x, side, &across) + 32 * WHOLE) / (64 * WHOLE);
                let (low, high) = (value.min(paper.into()), value.max(ink.into()));
                tile.push((2 * value - spread).clamp(low, high) as u8);
            }
        }
        Some(tile)
    };
    let tiles: Vec<Option<Vec<u8>>> = (0..columns * rows).into_par_iter().map(tile).collect();
    let mut sharp = values.to_vec();
    for (index, tile) in tiles.iter().enumerate() {
        let Some(tile) = tile else { continue };
        let (left, top) = (index % columns * TILE, index / columns * TILE);
        let across = TILE.min(width - left);
        for (from, y) in tile.chunks_exact(TILE).zip(top..height) {
            sharp[y * width + left..][..across].copy_from_slice(&from[..across]);
        }
    }
    sharp
}

/// The weights of a pixel and of its neighbours on one side, further and further away: together with those on the
/// other side they are [`WHOLE`].
#[expect(clippy::cast_sign_loss, reason = "a spread is not negative")]
fn kernel(spread: f64) -> Vec<i32> {
    // Past this the weights are under a hundredth of the first.
    let reach = (3.0 * spread).ceil() as usize;
    let weight = |k: usize| (-0.5 * (k as f64 / spread).powi(2)).exp();
    let sum = 1.0 + 2.0 * (1..=reach).map(weight).sum::<f64>();
    let mut kernel: Vec<i32> =
        (0..=reach).map(|k| (f64::from(WHOLE) * weight(k) / sum).round() as i32).collect();
    kernel[0] = WHOLE - 2 * kernel[1..].iter().sum::<i32>();
    kernel
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The error function by its integral, in steps of a ten-thousandth.
    fn erf(to: f64) -> f64 {
        let step = to / 10_000.0;
        let middles = (0..10_000).map(|k| (f64::from(k) + 0.5) * step);
        2.0 / std::f64::consts::PI.sqrt() * step * middles.map(|x| (-x * x).exp()).sum::<f64>()
    }

    #[test]
    fn rises_are_those_of_a_spread_edge() {
        for (rise, spread) in RISES {
            let expected = erf(1.0 / (2.0 * spread * spread + 1.0 / 6.0).sqrt());
            assert!((rise - expected).abs() < 1e-4, "{spread}: {rise}, and it is {expected}");
        }
    }

    /// Ink to the left of a slanting edge, spread by so much.
    fn edge(spread: f64) -> Vec<u8> {
        let value =
            |x: f64| if spread == 0.0 { x.clamp(-0.5, 0.5) } else { 0.5 * erf(x / spread / 2_f64.sqrt()) };
        let at = |i: u32| {
            let off = 20.2 - f64::from(i % 40) + 0.3 * f64::from(i / 40);
            super::super::light::byte((255.0 * (0.5 + value(off / 1.09_f64.sqrt()))) as f32)
        };
        (0..40 * 20).map(at).collect()
    }

    #[test]
    fn how_far_a_lens_has_spread_an_edge_is_measured() {
        for spread in [0.75, 1.0, 1.6, 2.2, 3.0] {
            // What is drawn here has no pixels' width in it.
            let drawn = f64::sqrt(spread * spread + 1.0 / 12.0);
            let measured = blur(&edge(drawn), 40, 127, 255);
            assert!((measured - spread).abs() < 0.12 * spread, "{spread}: {measured}");
        }
        assert_eq!(blur(&edge(0.0), 40, 127, 255), 0.0);
        assert_eq!(blur(&[7; 90], 9, 127, 255), 0.0, "no edge");
        assert_eq!(blur(&[0, 255], 2, 127, 255), 0.0, "two pixels");
    }

    #[test]
    fn edges_grow_steeper_and_stay_where_they_are() {
        let soft = edge(1.0);
        let sharp = sharpened(&soft, 40, 127, [0, 255], 1.0);
        assert!(blur(&sharp, 40, 127, 255) < 0.8 * blur(&soft, 40, 127, 255));
        let moved = soft.iter().zip(&sharp).filter(|(a, b)| (**a > 127) != (**b > 127)).count();
        assert_eq!(moved, 0);
        // Far from the edge, nothing is changed.
        assert_eq!([sharp[0], sharp[39]], [255, 0]);
    }
}
