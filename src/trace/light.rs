//! How dark each pixel is, the light evened out, and where ink begins.

use crate::shop::Photo;
use rayon::prelude::*;

/// A picture whose ink and paper differ by less than this, of 255, is all one colour: a round value of our own,
/// over what a camera's noise makes of an empty sheet.
const LEAST_CONTRAST: u8 = 24;

/// Tiles along the longer side, for the light. Paper must show within two tiles of every place: a round value of
/// our own.
const TILES: u32 = 24;

/// How dark each pixel is, 0 for white and 255 for black, on white paper where the picture is clear. Where that
/// makes all of it one colour and some of it is clear, what is not clear is dark.
pub(super) fn darkness(photo: &Photo) -> Vec<u8> {
    let over_white = |pixel: &[u8]| {
        let alpha = f32::from(pixel[3]) / 255.0;
        // Rec. ITU-R BT.709, section 3.2, of the values as they are stored.
        let luma = 0.2126 * f32::from(pixel[0]) + 0.7152 * f32::from(pixel[1]) + 0.0722 * f32::from(pixel[2]);
        byte(alpha * (255.0 - luma))
    };
    let dark: Vec<u8> = photo.pixels().par_chunks_exact(4).map(over_white).collect();
    if tones(&dark).is_some() {
        return dark;
    }
    let clear = photo.pixels().par_chunks_exact(4).any(|pixel| pixel[3] < 128);
    if clear { photo.pixels().par_chunks_exact(4).map(|pixel| pixel[3]).collect() } else { dark }
}

/// How dark paper and ink are, of 255.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Tones {
    pub(super) paper: u8,
    pub(super) ink: u8,
}

impl Tones {
    /// Half way between them.
    pub(super) fn level(self) -> u8 {
        self.paper.midpoint(self.ink)
    }

    /// From one to the other.
    pub(super) fn contrast(self) -> u8 {
        self.ink.saturating_sub(self.paper)
    }
}

/// The median of what is paper, and what nine tenths of the ink do not pass, split where the variance between them is
/// greatest (Otsu, *A threshold selection method from gray-level histograms*, IEEE SMC-9, 1979; from memory). `None`
/// where they are all but one.
pub(super) fn tones(dark: &[u8]) -> Option<Tones> {
    let mut counts = [0_u64; 256];
    for &value in dark {
        counts[usize::from(value)] += 1;
    }
    let total: u64 = counts.iter().sum();
    let sum: u64 = (0..).zip(&counts).map(|(value, count)| value * count).sum();
    let (mut below, mut sum_below, mut best) = (0_u64, 0_u64, (0.0, 0));
    for (value, &count) in counts[..255].iter().enumerate() {
        below += count;
        sum_below += value as u64 * count;
        let above = total - below;
        if below > 0 && above > 0 {
            let apart = sum_below as f64 / below as f64 - (sum - sum_below) as f64 / above as f64;
            let between = apart * apart * below as f64 * above as f64;
            if between > best.0 {
                best = (between, value);
            }
        }
    }
    let quantile = |range: std::ops::RangeInclusive<usize>, tenths: u64| {
        let due = (counts[range.clone()].iter().sum::<u64>() * tenths).div_ceil(10);
        let mut so_far = 0;
        range.into_iter().find(|&value| {
            so_far += counts[value];
            so_far >= due
        })
    };
    // Paper is mostly bare. Much of thin ink is edge, and blurred: only its darkest part is ink through and through.
    let (paper, ink) = (quantile(0..=best.1, 5)?, quantile(best.1 + 1..=255, 9)?);
    let is_clear = best.0 > 0.0 && ink - paper >= usize::from(LEAST_CONTRAST);
    is_clear.then_some(Tones { paper: u8::try_from(paper).ok()?, ink: u8::try_from(ink).ok()? })
}

/// The same darkness under even light. The light on the paper is read tile by tile from what is brightest there
/// and in the tiles beside it, and divided out: a shadow over the sheet goes, and ink wider than a fifth of the
/// picture goes with it. `O(pixels)`.
#[expect(clippy::cast_sign_loss, reason = "places in a picture are not negative")]
pub(super) fn evened(dark: &[u8], width: usize, height: usize) -> Vec<u8> {
    let tile = width.max(height).div_ceil(TILES as usize).max(1);
    let (columns, rows) = (width.div_ceil(tile), height.div_ceil(tile));
    let paper: Vec<f32> = (0..columns * rows)
        .into_par_iter()
        .map(|index| {
            let (left, top) = (index % columns * tile, index / columns * tile);
            let (right, bottom) = ((left + tile).min(width), (top + tile).min(height));
            let mut counts = [0_usize; 256];
            for y in top..bottom {
                for &value in &dark[y * width + left..y * width + right] {
                    counts[usize::from(255 - value)] += 1;
                }
            }
            // Nine tenths are darker: past what glints.
            let due = (right - left) * (bottom - top) * 9 / 10;
            let mut so_far = 0;
            let brightest = counts.iter().position(|count| {
                so_far += count;
                so_far > due
            });
            brightest.unwrap_or(255) as f32
        })
        .collect();
    let over =
        |values: &[f32], reach: usize, join: &(dyn Fn(&mut dyn Iterator<Item = f32>) -> f32 + Sync)| {
            let at = |index: usize| {
                let (x, y) = (index % columns, index / columns);
                let (left, right) = (x.saturating_sub(reach), (x + reach).min(columns - 1));
                let (top, bottom) = (y.saturating_sub(reach), (y + reach).min(rows - 1));
                join(&mut (top..=bottom).flat_map(|y| (left..=right).map(move |x| values[y * columns + x])))
            };
            (0..values.len()).map(at).collect::<Vec<f32>>()
        };
    let brightest = over(&paper, 2, &|values| values.fold(1.0, f32::max));
    let mean = |values: &mut dyn Iterator<Item = f32>| {
        let (sum, count) = values.fold((0.0, 0.0), |(sum, count), value| (sum + value, count + 1.0));
        sum / count
    };
    let light = over(&brightest, 2, &mean);
    let mut even = vec![0; dark.len()];
    even.par_chunks_mut(width).enumerate().for_each(|(y, row)| {
        let at = |place: usize, count: usize| {
            let middle = ((place as f32 + 0.5) / tile as f32 - 0.5).clamp(0.0, (count - 1) as f32);
            let low = middle.floor();
            (low as usize, ((low as usize) + 1).min(count - 1), middle - low)
        };
        let (top, bottom, v) = at(y, rows);
        for (x, value) in row.iter_mut().enumerate() {
            let (left, right, u) = at(x, columns);
            let blend =
                |row: usize| light[row * columns + left] * (1.0 - u) + light[row * columns + right] * u;
            let paper = blend(top) * (1.0 - v) + blend(bottom) * v;
            let bright = f32::from(255 - dark[y * width + x]);
            *value = byte(255.0 - 255.0 * bright / paper.max(1.0));
        }
    });
    even
}

/// A value held to a byte.
#[expect(clippy::cast_sign_loss, reason = "held to 0 or more")]
pub(super) fn byte(value: f32) -> u8 {
    value.round().clamp(0.0, 255.0) as u8
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_level_lies_half_way_between_ink_and_paper() {
        // However much of each there is.
        for inky in [1, 10, 90] {
            let dark: Vec<u8> = (0..100).map(|i| if i < inky { 200 } else { 20 }).collect();
            assert_eq!(tones(&dark).map(Tones::level), Some(110), "{inky}");
        }
        assert_eq!(tones(&[40; 100]), None);
        assert_eq!(tones(&[40, 60, 50, 41]), None, "noise");
    }

    #[test]
    fn a_shadow_over_the_sheet_goes() {
        // Paper from bright on the left to half as bright on the right, with bars of ink at a fifth of the light.
        let (width, height) = (240, 120);
        let light = |x: usize| 240.0 - 120.0 * x as f32 / 240.0;
        let inked = |x: usize| x % 40 < 6;
        let dark: Vec<u8> = (0..width * height)
            .map(|i| byte(255.0 - light(i % width) * if inked(i % width) { 0.5 } else { 1.0 }))
            .collect();
        let plain = tones(&dark).unwrap().level();
        let wrong = |values: &[u8], level: u8| {
            (0..values.len()).filter(|&i| (values[i] > level) != inked(i % width)).count()
        };
        assert!(wrong(&dark, plain) > 1000, "the shadow matters");
        let even = evened(&dark, width, height);
        assert_eq!(wrong(&even, tones(&even).unwrap().level()), 0);
    }
}
