//! The colours of a picture, and how much of each pixel is of which.
//!
//! Libraries that choose a palette take the colours between two others, which a picture has along every edge, for
//! colours of their own. Here only pixels that look like their neighbours have a say.

use crate::shop::Photo;
use rayon::prelude::*;

/// One of the few colours that a picture is made of.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Colour {
    /// Red, green and blue, as sRGB has them.
    pub rgb: [u8; 3],
    /// The part of the picture that is nearest to it.
    pub share: f64,
    /// Whether it is taken for the ground that the drawing lies on, and left out.
    pub is_paper: bool,
}

/// Plain names of colours and their places in sRGB, after the keywords of CSS Color Level 4 (section 6.1, named
/// colors; from memory; brown is its saddlebrown).
const NAMES: [(&str, [u8; 3]); 16] = [
    ("black", [0, 0, 0]),
    ("grey", [128, 128, 128]),
    ("silver", [192, 192, 192]),
    ("white", [255, 255, 255]),
    ("maroon", [128, 0, 0]),
    ("red", [255, 0, 0]),
    ("brown", [139, 69, 19]),
    ("orange", [255, 165, 0]),
    ("yellow", [255, 255, 0]),
    ("olive", [128, 128, 0]),
    ("green", [0, 128, 0]),
    ("teal", [0, 128, 128]),
    ("blue", [0, 0, 255]),
    ("navy", [0, 0, 128]),
    ("purple", [128, 0, 128]),
    ("pink", [255, 192, 203]),
];

/// The plain name nearest to a colour.
pub fn name(rgb: [u8; 3]) -> &'static str {
    let off = |named: [u8; 3]| apart(named.map(f32::from), rgb.map(f32::from));
    let nearest = NAMES.iter().min_by(|a, b| off(a.1).total_cmp(&off(b.1)));
    nearest.map_or("", |(name, _)| *name)
}

/// The fewest and the most colours that a picture is taken apart into.
pub const COLOURS: std::ops::RangeInclusive<usize> = 2..=8;

/// Colours nearer to each other than this, of 255, are one: a round value of our own, over a camera's noise.
const APART: f32 = 24.0;

/// A pixel that differs from its neighbours by no more than this in red, green and blue together is of one colour: a
/// round value of our own.
const FLAT: u16 = 24;

/// A picture is gathered in so many parts at most: a round value of our own.
const PARTS: usize = 16;

/// How often the colours are moved to the middle of what is nearest to them; they stand still long before.
const ROUNDS: usize = 24;

/// Bits a channel in the table of colours.
const BITS: u32 = 5;

type Rgb = [f32; 3];

/// Colours by how much of the picture they cover, the most first, and what each pixel is made of.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Mixed {
    pub(super) colours: Vec<Colour>,
    /// Of each pixel: two colours, and how much of it is the first, of 255.
    pixels: Vec<[u8; 3]>,
}

impl Mixed {
    /// Takes a picture apart into at most `count` colours. `O(pixels)`.
    pub(super) fn of(photo: &Photo, count: usize) -> Mixed {
        let [width, height] = photo.size().map(|side| side as usize);
        let rgbs: Vec<[u8; 3]> = photo.pixels().par_chunks_exact(4).map(over_white).collect();
        let bins = flat_bins(width, height, &rgbs);
        let palette = palette(&bins, count);
        let pairs = pairs(&palette);
        let pixels: Vec<[u8; 3]> = rgbs
            .into_par_iter()
            .map(|rgb| {
                let [i, j] = pairs[bin(rgb)];
                let share = share_of(rgb.map(f32::from), palette[usize::from(i)], palette[usize::from(j)]);
                [i, j, super::light::byte(share * 255.0)]
            })
            .collect();
        let nearest = |[i, j, share]: [u8; 3]| usize::from(if share > 127 { i } else { j });
        let count_of = |pixels: &[[u8; 3]]| {
            let mut counts = [0_usize; 1 << u8::BITS];
            for &pixel in pixels {
                counts[nearest(pixel)] += 1;
            }
            counts
        };
        let by_row: Vec<_> = pixels.par_chunks(width).map(count_of).collect();
        let counts: Vec<usize> = (0..palette.len()).map(|k| by_row.iter().map(|row| row[k]).sum()).collect();
        let (top, bottom) = (pixels.iter().take(width), pixels.iter().rev().take(width));
        let sides = pixels.chunks(width).flat_map(|row| row.first().into_iter().chain(row.last()));
        let on_edge = count_of(&top.chain(bottom).chain(sides).copied().collect::<Vec<_>>());
        let mut order: Vec<usize> = (0..palette.len()).collect();
        order.sort_by_key(|&k| (std::cmp::Reverse(counts[k]), palette[k].map(super::light::byte)));
        // The ground is what the picture ends in; of two, the more common.
        let paper = order.iter().copied().rev().max_by_key(|&k| on_edge[k]);
        let colours = order.iter().map(|&k| Colour {
            rgb: palette[k].map(super::light::byte),
            share: counts[k] as f64 / pixels.len() as f64,
            is_paper: Some(k) == paper,
        });
        let colours = colours.collect();
        let mut place = vec![0_u8; palette.len()];
        for (to, &k) in (0_u8..).zip(&order) {
            place[k] = to;
        }
        let moved = |[i, j, share]: [u8; 3]| [place[usize::from(i)], place[usize::from(j)], share];
        Mixed { colours, pixels: pixels.into_par_iter().map(moved).collect() }
    }

    /// How much of each pixel is of the colours that `wanted` says, of 255.
    pub(super) fn covered(&self, wanted: &[bool]) -> Vec<u8> {
        let of = |&[i, j, share]: &[u8; 3]| {
            let part = |colour: u8, share: u8| if wanted[usize::from(colour)] { share } else { 0 };
            part(i, share) + part(j, 255 - share)
        };
        self.pixels.par_iter().map(of).collect()
    }
}

fn over_white(pixel: &[u8]) -> [u8; 3] {
    if pixel[3] == u8::MAX {
        return [pixel[0], pixel[1], pixel[2]];
    }
    let alpha = f32::from(pixel[3]) / 255.0;
    [0, 1, 2].map(|k| super::light::byte(255.0 - alpha * (255.0 - f32::from(pixel[k]))))
}

/// The place of a colour in the table.
fn bin(rgb: [u8; 3]) -> usize {
    rgb.into_iter().fold(0, |bin, value| bin << BITS | usize::from(value >> (8 - BITS)))
}

/// The middle of a place in the table.
fn middle(bin: usize) -> Rgb {
    let mask = (1 << BITS) - 1;
    let step = f32::from(1_u8 << (8 - BITS));
    [2 * BITS, BITS, 0].map(|shift| ((bin >> shift & mask) as f32 + 0.5) * step)
}

/// The mean of the flat pixels of each place in the table, and how many there are. All pixels where next to none is
/// flat.
fn flat_bins(width: usize, height: usize, rgbs: &[[u8; 3]]) -> Vec<(Rgb, f32)> {
    let differ = |a: [u8; 3], b: [u8; 3]| (0..3).map(|k| u16::from(a[k].abs_diff(b[k]))).sum::<u16>();
    let is_flat = |index: usize| {
        let (x, y) = (index % width, index / width);
        let rgb = rgbs[index];
        let besides = [(x > 0, -1), (x + 1 < width, 1)]
            .into_iter()
            .chain([(y > 0, -width.cast_signed()), (y + 1 < height, width.cast_signed())]);
        besides
            .into_iter()
            .all(|(is_there, by)| !is_there || differ(rgb, rgbs[index.saturating_add_signed(by)]) <= FLAT)
    };
    // Red, green, blue and how many: whole numbers, so that their sums are the same in any order.
    let none = || vec![[0_u64; 4]; 1 << (3 * BITS)];
    let add = |sums: &mut [u64; 4], more: [u64; 4]| sums.iter_mut().zip(more).for_each(|(a, b)| *a += b);
    let taken = |mut bins: Vec<[u64; 4]>, index: usize| {
        let [r, g, b] = rgbs[index].map(u64::from);
        add(&mut bins[bin(rgbs[index])], [r, g, b, 1]);
        bins
    };
    let together = |mut one: Vec<[u64; 4]>, other: Vec<[u64; 4]>| {
        one.iter_mut().zip(other).for_each(|(sums, more)| add(sums, more));
        one
    };
    let gathered = |all: bool| {
        let pixels = (0..rgbs.len()).into_par_iter().with_min_len(rgbs.len().div_ceil(PARTS));
        let wanted = pixels.filter(|&index| all || is_flat(index));
        let full =
            wanted.fold(none, taken).reduce(none, together).into_iter().filter(|[.., count]| *count > 0);
        full.map(|[r, g, b, count]| ([r, g, b].map(|sum| (sum as f64 / count as f64) as f32), count as f32))
            .collect::<Vec<_>>()
    };
    let flat = gathered(false);
    let count: f32 = flat.iter().map(|(_, count)| count).sum();
    if count * 10.0 < (width * height) as f32 { gathered(true) } else { flat }
}

fn apart(a: Rgb, b: Rgb) -> f32 {
    (0..3).map(|k| (a[k] - b[k]) * (a[k] - b[k])).sum()
}

/// The colours: the most common first, each next one where the most of the picture is furthest from those before;
/// then all are moved to the middle of what is nearest to them.
fn palette(bins: &[(Rgb, f32)], count: usize) -> Vec<Rgb> {
    let off =
        |palette: &[Rgb], rgb: Rgb| palette.iter().map(|&c| apart(c, rgb)).fold(f32::INFINITY, f32::min);
    let most = bins.iter().max_by(|a, b| a.1.total_cmp(&b.1)).map(|(rgb, _)| *rgb);
    let mut palette: Vec<Rgb> = most.into_iter().collect();
    while palette.len() < count {
        let weight = |&(rgb, count): &(Rgb, f32)| off(&palette, rgb) * count.sqrt();
        let far = bins.iter().filter(|(rgb, _)| off(&palette, *rgb) > APART * APART);
        let Some(&(next, _)) = far.max_by(|a, b| weight(a).total_cmp(&weight(b))) else { break };
        palette.push(next);
    }
    for _ in 0..ROUNDS {
        let mut sums = vec![([0.0_f32; 3], 0.0_f32); palette.len()];
        for &(rgb, count) in bins {
            let nearest =
                (0..palette.len()).min_by(|&a, &b| apart(palette[a], rgb).total_cmp(&apart(palette[b], rgb)));
            let Some((sum, all)) = nearest.map(|k| &mut sums[k]) else { continue };
            *all += count;
            for (sum, value) in sum.iter_mut().zip(rgb) {
                *sum += value * count;
            }
        }
        let mut moved: Vec<Rgb> = Vec::new();
        for (sum, all) in sums {
            if all > 0.0 {
                let mean = sum.map(|sum| sum / all);
                if off(&moved, mean) > APART * APART {
                    moved.push(mean);
                }
            }
        }
        if moved == palette {
            break;
        }
        palette = moved;
    }
    palette
}

/// How much of a colour that lies between two is the first.
fn share_of(rgb: Rgb, first: Rgb, second: Rgb) -> f32 {
    let long = apart(first, second);
    if long <= 0.0 {
        return 1.0;
    }
    let along: f32 = (0..3).map(|k| (rgb[k] - second[k]) * (first[k] - second[k])).sum();
    (along / long).clamp(0.0, 1.0)
}

/// For each place in the table, the two colours that it lies between.
fn pairs(palette: &[Rgb]) -> Vec<[u8; 2]> {
    let pair = |bin: usize| {
        let rgb = middle(bin);
        let mut best = (f32::INFINITY, [0, 0]);
        for i in 0..palette.len() {
            for j in i..palette.len() {
                let share = share_of(rgb, palette[i], palette[j]);
                let on = [0, 1, 2].map(|k| palette[j][k] + share * (palette[i][k] - palette[j][k]));
                let off = apart(on, rgb);
                if off < best.0 {
                    best = (off, [i as u8, j as u8]);
                }
            }
        }
        best.1
    };
    (0..1 << (3 * BITS)).into_par_iter().map(pair).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Three bars, with a pixel half way between at each border.
    fn bars() -> Photo {
        let (red, blue, white) = ([200, 30, 30], [20, 40, 160], [250, 250, 250]);
        let colour = |x: u32| match x {
            0..10 | 30..40 => white,
            10 => [225, 140, 140],
            11..20 => red,
            20 => [110, 35, 95],
            21..30 => blue,
            _ => unreachable!(),
        };
        let pixels = (0..20).flat_map(|_| (0..40).flat_map(|x| [&colour(x)[..], &[255]].concat()));
        Photo::new(40, 20, pixels.collect()).unwrap()
    }

    #[test]
    fn colours_are_those_of_whole_pixels() {
        let mixed = Mixed::of(&bars(), 8);
        let found: Vec<_> = mixed.colours.iter().map(|colour| (colour.rgb, colour.is_paper)).collect();
        // Blue and red cover nine pixels of forty each; what lies between them is nobody's.
        assert_eq!(found.len(), 3);
        assert_eq!(found[0], ([250, 250, 250], true));
        assert!(found.contains(&([200, 30, 30], false)) && found.contains(&([20, 40, 160], false)));
    }

    #[test]
    fn colours_are_called_by_their_nearest_name() {
        assert_eq!(
            [[200, 30, 30], [20, 20, 30], [250, 250, 250], [90, 140, 40]].map(name),
            ["red", "black", "white", "olive"]
        );
    }

    #[test]
    fn a_pixel_between_two_colours_is_half_of_each() {
        let mixed = Mixed::of(&bars(), 3);
        let red = mixed.colours.iter().map(|colour| colour.rgb == [200, 30, 30]).collect::<Vec<_>>();
        let row = &mixed.covered(&red)[..40];
        assert!(row[..10].iter().chain(&row[21..]).all(|&value| value == 0), "{row:?}");
        assert!(row[11..20].iter().all(|&value| value == 255), "{row:?}");
        // Half of 255, as near as whole colours are.
        assert!(row[10].abs_diff(127) < 3 && row[20].abs_diff(127) < 3, "{row:?}");
    }
}
