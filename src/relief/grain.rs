//! How wood looks: its tone and its grain, by species. Shared by the picture of the board and the picture of
//! the carved surface.
//!
//! Drawn as a flat-sawn face, bark side up. Which woods have their pores in rings, scattered, or none at all
//! follows Record, *The Mechanical Properties of Wood* (1914), and Roth's key of woods in Noyes, *Wood and
//! Forest* (1912), which also tell of broad rays (sycamore, beech, oak); which conifers pass to late wood at
//! once follows the Wood Handbook, ch. 3. Widths of rings and tones are common practice, no source, and the
//! contrast is held back so that findings stand out.

#![expect(clippy::unreadable_literal, reason = "colours are six hexadecimal digits wherever one looks")]

use glam::DVec2;

/// How a wood looks: chosen by eye for telling woods apart on a screen, not a colour standard.
#[derive(Clone, Copy, Debug)]
pub struct Look {
    /// Early wood, the light part of a year's ring, as a hexadecimal colour.
    light: u32,
    /// Late wood, the dark part.
    dark: u32,
    /// How plainly the rings show, 0 to 1.
    figure: f64,
    /// Width of a ring, millimetres.
    ring: f64,
    /// How a ring goes from early to late wood.
    late: Late,
    pores: Pores,
    /// Ends of the broad rays: dark dashes.
    rays: Dashes,
    /// How strongly bands along the board come and go, as where the grain is interlocked, 0 to 1.
    ribbon: f64,
    /// A second colour in broad streaks, and how strong it gets, 0 to 1.
    streak: Option<(u32, f64)>,
}

/// How a year's ring goes from early to late wood.
#[derive(Clone, Copy, Debug)]
enum Late {
    /// Slowly darker, and light again at once.
    Gradual,
    /// Light, then dark at once over the last share of the ring.
    Abrupt(f64),
    /// The same all through, with a thin dark line at the end.
    Line,
}

/// Where the vessels of a hardwood are, which show as fine dark dashes along the grain.
#[derive(Clone, Copy, Debug)]
enum Pores {
    /// A conifer, or too fine to be seen.
    None,
    /// In this first share of the ring, hardly any after it.
    Ring(f64, Dashes),
    /// Many at first, fewer and fewer through the ring.
    Fading(Dashes),
    /// Everywhere alike.
    Scattered(Dashes),
}

/// Dashes along the grain.
#[derive(Clone, Copy, Debug)]
struct Dashes {
    /// How much darker than the wood, 0 to 1.
    strength: f64,
    /// Millimetres along the grain.
    long: f64,
    /// Millimetres across it.
    wide: f64,
    /// Share of the face they cover, 0 to 0.5.
    share: f64,
}

const NO_DASHES: Dashes = dashes(0.0, 1.0, 1.0, 0.0);

const fn dashes(strength: f64, long: f64, wide: f64, share: f64) -> Dashes {
    Dashes { strength, long, wide, share }
}

const fn look_of(light: u32, dark: u32, figure: f64, ring: f64, late: Late, pores: Pores) -> Look {
    Look { light, dark, figure, ring, late, pores, rays: NO_DASHES, ribbon: 0.0, streak: None }
}

/// The looks of woods by the beginnings of their ids, a longer one before a shorter one it begins with.
const LOOKS: [(&str, Look); 34] = {
    use Late::{Abrupt, Gradual, Line};
    use Pores::{Fading, None, Ring, Scattered};
    // Early pores that are seen with the naked eye; fine ones; and those of walnut between.
    const COARSE: Dashes = dashes(0.75, 7.0, 0.45, 0.34);
    const MIDDLING: Dashes = dashes(0.55, 5.0, 0.35, 0.2);
    const FINE: Dashes = dashes(0.3, 2.5, 0.3, 0.16);
    const FAINT: Dashes = dashes(0.16, 2.0, 0.3, 0.14);
    [
        ("alder", look_of(0xDDB48A, 0xC6966B, 0.45, 3.5, Line, Scattered(FAINT))),
        ("ash", look_of(0xEBDCBC, 0xC9AC7C, 0.5, 2.8, Gradual, Ring(0.34, COARSE))),
        ("aspen", look_of(0xEFE6D0, 0xDDCDAE, 0.4, 4.0, Line, Scattered(FAINT))),
        ("baldcypress", look_of(0xE3C38B, 0xB88A54, 0.75, 2.2, Abrupt(0.28), None)),
        ("basswood", look_of(0xEFE2C6, 0xDAC6A0, 0.5, 3.0, Line, Scattered(FAINT))),
        (
            "beech",
            Look {
                rays: dashes(0.5, 2.6, 0.45, 0.1),
                ..look_of(0xE3C09B, 0xCDA37C, 0.4, 2.5, Line, Scattered(FAINT))
            },
        ),
        ("birch", look_of(0xEBD6B1, 0xD2B288, 0.5, 2.5, Line, Scattered(FINE))),
        ("butternut", look_of(0xD3AE80, 0xAD8557, 0.55, 4.0, Gradual, Fading(MIDDLING))),
        (
            "cedar_eastern_red",
            Look {
                streak: Some((0xE6C8A4, 0.6)),
                ..look_of(0xC88A72, 0xA5604C, 0.55, 2.2, Abrupt(0.3), None)
            },
        ),
        ("cedar_northern", look_of(0xE6CDA4, 0xCFAE80, 0.6, 1.6, Gradual, None)),
        ("cedar_western", look_of(0xCE9A72, 0x9E6444, 0.7, 1.8, Abrupt(0.24), None)),
        ("cedar_yellow", look_of(0xEEDDA6, 0xDBC384, 0.5, 1.3, Gradual, None)),
        ("cedar", look_of(0xCE9A72, 0xA2633F, 0.6, 1.8, Gradual, None)),
        ("cherry", look_of(0xCF9669, 0xAB6E47, 0.5, 2.8, Line, Fading(FAINT))),
        ("cottonwood", look_of(0xE9DDC2, 0xCDBB98, 0.45, 6.0, Line, Scattered(FAINT))),
        ("douglas", look_of(0xE4B383, 0xB4703F, 0.85, 2.6, Abrupt(0.32), None)),
        // Wavy bands of pores in the late wood of elm make it feathery.
        (
            "elm",
            Look {
                rays: dashes(0.24, 9.0, 1.1, 0.22),
                ..look_of(0xCBA57A, 0xA17850, 0.55, 3.2, Gradual, Ring(0.26, COARSE))
            },
        ),
        (
            "hickory",
            Look {
                streak: Some((0xCBA278, 0.45)),
                ..look_of(0xE8D0A8, 0xC09866, 0.5, 2.2, Gradual, Ring(0.26, MIDDLING))
            },
        ),
        (
            "mahogany",
            Look {
                ribbon: 0.6,
                ..look_of(0xB97852, 0x945638, 0.15, 5.0, Line, Scattered(dashes(0.6, 8.0, 0.4, 0.14)))
            },
        ),
        ("maple", look_of(0xF0E0C2, 0xD3B58A, 0.6, 2.4, Line, Scattered(FAINT))),
        (
            "oak_white",
            Look {
                rays: dashes(0.55, 14.0, 0.5, 0.09),
                ..look_of(0xDABF92, 0xB08F60, 0.5, 2.2, Gradual, Ring(0.36, COARSE))
            },
        ),
        (
            "oak",
            Look {
                rays: dashes(0.55, 8.0, 0.5, 0.07),
                ..look_of(0xDFB791, 0xB3855D, 0.5, 2.8, Gradual, Ring(0.36, COARSE))
            },
        ),
        ("paulownia", look_of(0xE5D4BA, 0xC2AA8C, 0.5, 11.0, Gradual, Ring(0.25, COARSE))),
        ("pine_ponderosa", look_of(0xEFD3A2, 0xC8935A, 0.65, 2.4, Abrupt(0.26), None)),
        // Resin canals of the white pines: fine brown dashes.
        (
            "pine",
            Look {
                rays: dashes(0.28, 5.0, 0.35, 0.05),
                ..look_of(0xF0DBAF, 0xD8B27A, 0.6, 3.0, Gradual, None)
            },
        ),
        ("redwood_old", look_of(0xBE7C5A, 0x8E4B34, 0.65, 1.1, Abrupt(0.3), None)),
        ("redwood", look_of(0xC4835F, 0x93503A, 0.7, 3.4, Abrupt(0.3), None)),
        ("spanish", look_of(0xC58F68, 0xA0694A, 0.5, 5.0, Gradual, Ring(0.22, COARSE))),
        (
            "sweetgum",
            Look {
                streak: Some((0x9F6A4C, 0.55)),
                ribbon: 0.3,
                ..look_of(0xCB9C77, 0xAE7B58, 0.15, 3.0, Line, Scattered(FAINT))
            },
        ),
        (
            "sycamore",
            Look {
                rays: dashes(0.26, 3.2, 0.8, 0.26),
                ..look_of(0xE6C6A4, 0xC59F7B, 0.25, 3.0, Line, Scattered(FAINT))
            },
        ),
        (
            "teak",
            Look {
                streak: Some((0x8A6238, 0.4)),
                ..look_of(0xC39A64, 0x93693A, 0.5, 3.6, Gradual, Ring(0.22, MIDDLING))
            },
        ),
        ("tupelo", Look { ribbon: 0.35, ..look_of(0xE0CCAC, 0xC3A886, 0.35, 3.0, Line, Scattered(FAINT)) }),
        (
            "walnut",
            Look {
                streak: Some((0x6A4A38, 0.45)),
                ..look_of(0x9A7252, 0x6B4B38, 0.5, 3.4, Gradual, Fading(MIDDLING))
            },
        ),
        (
            "yellow_poplar",
            Look {
                streak: Some((0xBFC09A, 0.6)),
                ..look_of(0xE7DDB2, 0xC9C08F, 0.35, 4.0, Line, Scattered(FAINT))
            },
        ),
    ]
};

/// The look of a wood; an unknown wood looks like a plain tan one.
pub fn look(wood: &str) -> Look {
    let plain = look_of(0xDFC49A, 0xC4A274, 0.5, 3.0, Late::Gradual, Pores::None);
    LOOKS.into_iter().find(|(start, _)| wood.starts_with(start)).map_or(plain, |(_, look)| look)
}

/// The light and the dark of a wood's rings: red, green and blue.
pub fn swatch(wood: &str) -> [[u8; 3]; 2] {
    let look = look(wood);
    [look.light, look.dark].map(|hex| {
        let [_, r, g, b] = hex.to_be_bytes();
        [r, g, b]
    })
}

/// The colours met on one line along the board, at one distance across it: a procedural figure of rings of
/// uneven width that wander along the length, pores, rays and fine fibres. Places nearby are cheapest asked in
/// order.
#[derive(Debug)]
pub struct GrainLine {
    look: Look,
    /// Early wood, late wood and streaks, red, green and blue.
    colors: [[f64; 3]; 3],
    figure: Figure,
    fibre: Noise,
    broad: Noise,
    streak: Noise,
    ribbon: Noise,
    pores: Strewn,
    rays: Strewn,
    fibre_strength: f64,
}

impl GrainLine {
    /// The line at `y` across a board of this size, millimetres. What is finer than a pixel only makes noise: it
    /// fades out as `scale`, in pixels to a millimetre, gets small.
    pub fn new(look: Look, y: f64, size: DVec2, scale: f64) -> GrainLine {
        let rgb = |hex: u32| [16, 8, 0].map(|shift| f64::from(hex >> shift & 0xFF));
        let (streak, _) = look.streak.unwrap_or((look.dark, 0.0));
        let pores = match look.pores {
            Pores::None => NO_DASHES,
            Pores::Ring(_, dashes) | Pores::Fading(dashes) | Pores::Scattered(dashes) => dashes,
        };
        GrainLine {
            look,
            colors: [look.light, look.dark, streak].map(rgb),
            figure: Figure::new(y, size, look.ring, scale),
            fibre: Noise::new(16.0, y / 0.45, 3),
            broad: Noise::new(210.0, y / 38.0, 4),
            streak: Noise::new(420.0, y / 19.0, 8),
            ribbon: Noise::new(260.0, y / 8.0, 9),
            pores: Strewn::new(pores, y, scale, 6),
            rays: Strewn::new(look.rays, y, scale, 7),
            fibre_strength: (scale * 0.3).clamp(0.5, 1.0),
        }
    }

    /// Red, green and blue at `x` along the board, 0 to 255.
    pub fn color(&mut self, x: f64) -> [f64; 3] {
        let ring = self.figure.at(x);
        let late = ring.late(self.look.late) * self.look.figure;
        let fibre = (self.fibre.at(x) - 0.5) * 0.16 * self.fibre_strength;
        let broad = (self.broad.at(x) - 0.5) * 0.18;
        let ribbon = if self.look.ribbon > 0.0 { (self.ribbon.at(x) - 0.5) * self.look.ribbon } else { 0.0 };
        let dark = self.pores.at(x, ring.pores(self.look.pores)) + self.rays.at(x, 1.0);
        let mix = (0.1 + late + fibre + broad + ribbon).clamp(0.0, 1.0);
        let streak = self
            .look
            .streak
            .map_or(0.0, |(_, strength)| strength * ease(((self.streak.at(x) - 0.45) * 4.0).clamp(0.0, 1.0)));
        let [light, late, second] = &self.colors;
        [0, 1, 2].map(|i| {
            let early = light[i] + (second[i] - light[i]) * streak;
            let tone = early + (late[i] - light[i]) * mix;
            // A hollow, not a colour: dashes are darker than whatever they are in.
            tone * (1.0 - 0.42 * dark.min(1.0))
        })
    }
}

/// Dashes strewn over the face, met along one line.
#[derive(Debug)]
struct Strewn {
    strength: f64,
    /// The noise above which there is a dash.
    from: f64,
    /// How far they have run together into their mean, 0 to 1: a pixel covers several.
    blurred: f64,
    mean: f64,
    start: f64,
    noise: Noise,
}

impl Strewn {
    fn new(dashes: Dashes, y: f64, scale: f64, which: i64) -> Strewn {
        // From 1.5 pixels across they are seen one by one.
        let row = (y / dashes.wide).floor();
        // Thinner towards their ends: a dash is longest along its middle.
        let off_middle = 2.0 * (y / dashes.wide - row) - 1.0;
        let blurred = 1.0 - (dashes.wide * scale / 1.5).clamp(0.0, 1.0);
        Strewn {
            strength: dashes.strength,
            // Fitted to the noise: above this lies the share that is asked for.
            from: 0.95 - dashes.share * (1.15 - 0.6 * dashes.share) + 0.1 * (off_middle * off_middle - 0.4),
            blurred,
            mean: dashes.share,
            // Each row begins somewhere else, or the dashes would stand in columns.
            start: dashes.long * chance(row as i64, 0, which),
            noise: Noise::new(dashes.long, row, which),
        }
    }

    /// How dark the place is, where dashes are so plentiful, 0 to 1.
    fn at(&mut self, x: f64, plenty: f64) -> f64 {
        if self.strength == 0.0 || plenty == 0.0 {
            return 0.0;
        }
        let sharp = ((self.noise.at(x + self.start) - self.from + 0.06) * 8.0).clamp(0.0, 1.0);
        self.strength * plenty * (sharp + (self.mean - sharp) * self.blurred)
    }
}

/// Where in its year's ring a place is.
#[derive(Clone, Copy, Debug)]
struct InRing {
    /// From 0, early, to 1, late.
    part: f64,
    /// How much of a ring one pixel covers.
    pixel: f64,
    /// How plain this year is, 0 to 1.
    strength: f64,
}

impl InRing {
    /// How far the ring has run together into its mean, 0 to 1: from a quarter of a ring to a pixel on.
    fn blurred(self) -> f64 {
        ((self.pixel - 0.25) * 2.5).clamp(0.0, 1.0)
    }

    /// How far into late wood, 0 to 1; where a pixel covers much of a ring, nearer the ring's mean.
    fn late(self, late: Late) -> f64 {
        let part = self.part;
        let (sharp, mean) = match late {
            Late::Gradual => (part * part * part, 0.25),
            Late::Abrupt(share) => {
                // A little before it, the wood is already darkening.
                let before = 0.25 * (part / (1.0 - share)).min(1.0).powi(2);
                (if part > 1.0 - share { 1.0 } else { before }, share + 0.08)
            }
            Late::Line => (0.3 * part * part + 0.7 * ((part - 0.86) * 7.0).clamp(0.0, 1.0), 0.2),
        };
        // The ring ends as sharply as the pixels are fine.
        let last = ((1.0 - part) / self.pixel.max(1e-6)).min(1.0);
        let blurred = self.blurred();
        self.strength * (sharp * last + (mean - sharp * last) * blurred)
    }

    /// How plentiful pores are, 0 to 1.
    fn pores(self, pores: Pores) -> f64 {
        let blurred = self.blurred();
        let (sharp, mean): (f64, f64) = match pores {
            Pores::None => return 0.0,
            Pores::Scattered(_) => return 1.0,
            Pores::Ring(share, _) => {
                (0.12 + 0.88 * ((share - self.part) / 0.12 + 0.5).clamp(0.0, 1.0), 0.12 + 0.88 * share)
            }
            Pores::Fading(_) => (1.0 - 0.8 * self.part, 0.6),
        };
        sharp + (mean - sharp) * blurred
    }
}

/// The rings met on one line along the board, as on a flat-sawn face: round a pith below it that comes nearer
/// towards the middle of the board, so that rings arch there and run straight towards the edges.
#[derive(Debug)]
struct Figure {
    off: f64,
    ring: f64,
    scale: f64,
    wander: [Noise; 2],
    year: i64,
    strength: f64,
}

/// How deep the pith lies below the face, in widths of a ring and in millimetres.
const PITH: (f64, f64) = (7.0, 26.0);

/// How much nearer the pith comes to the face for each millimetre along the board.
const TAPER: f64 = 0.03;

impl Figure {
    fn new(y: f64, size: DVec2, ring: f64, scale: f64) -> Figure {
        let wander = [Noise::new(170.0, y / 70.0, 1), Noise::new(45.0, y / 24.0, 2)];
        Figure { off: y - size.y * 0.46, ring, scale, wander, year: i64::MIN, strength: 0.0 }
    }

    fn at(&mut self, x: f64) -> InRing {
        let [slow, quick] = &mut self.wander;
        let off = self.off + (slow.at(x) - 0.5) * 11.0 + (quick.at(x) - 0.5) * 2.2;
        let deep = PITH.0 * self.ring + PITH.1;
        let out = (off * off + deep * deep).sqrt();
        // The trunk tapers, so the arches all point one way.
        let ring = (out + TAPER * x) / self.ring;
        let year = ring.floor();
        if year as i64 != self.year {
            self.year = year as i64;
            self.strength = 0.55 + 0.45 * chance(self.year, 7, 5);
        }
        let across = off.abs() / out / self.ring;
        InRing { part: ring - year, pixel: across / self.scale.max(1e-6), strength: self.strength }
    }
}

/// Smooth noise, 0 to 1, along one line of a lattice of fixed chances. Neighbouring places share
/// their lattice cell, which is looked up once.
#[derive(Debug)]
struct Noise {
    pitch: f64,
    row: i64,
    /// How far the line is from its row of the lattice to the next, eased.
    between: f64,
    which: i64,
    cell: i64,
    ends: [f64; 2],
}

impl Noise {
    /// Along x with a lattice every `pitch`, at `y` counted in rows of the lattice.
    fn new(pitch: f64, y: f64, which: i64) -> Noise {
        let row = y.floor();
        Noise { pitch, row: row as i64, between: ease(y - row), which, cell: i64::MIN, ends: [0.0; 2] }
    }

    fn at(&mut self, x: f64) -> f64 {
        let x = x / self.pitch;
        let cell = x.floor();
        if cell as i64 != self.cell {
            self.cell = cell as i64;
            self.ends = [0, 1].map(|step| {
                let corner =
                    |up| chance(self.cell.saturating_add(step), self.row.saturating_add(up), self.which);
                let (low, high) = (corner(0), corner(1));
                low + (high - low) * self.between
            });
        }
        self.ends[0] + (self.ends[1] - self.ends[0]) * ease(x - cell)
    }
}

fn ease(t: f64) -> f64 {
    t * t * (3.0 - 2.0 * t)
}

/// A fixed number in 0..1 for a lattice place: integer mixing, so the same on every machine.
fn chance(x: i64, y: i64, which: i64) -> f64 {
    let mut h = x.cast_unsigned().wrapping_mul(0x9E37_79B9_7F4A_7C15)
        ^ y.cast_unsigned().wrapping_mul(0xC2B2_AE3D_27D4_EB4F)
        ^ which.cast_unsigned().wrapping_mul(0x1656_67B1_9E37_79F9);
    h ^= h >> 29;
    h = h.wrapping_mul(0xBF58_476D_1CE4_E5B9);
    h ^= h >> 32;
    (h >> 40) as f64 / (1u64 << 24) as f64
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::shop::woods;

    const SIZE: DVec2 = DVec2::new(600.0, 200.0);

    /// Mean colour, and how far neighbours across the grain differ from it, at so many pixels a millimetre.
    fn seen(wood: &str, scale: f64) -> ([f64; 3], f64) {
        let rows: Vec<Vec<[f64; 3]>> = (0..120)
            .map(|row| {
                let mut line = GrainLine::new(look(wood), 40.0 + f64::from(row) / scale, SIZE, scale);
                (0..120).map(|column| line.color(200.0 + f64::from(column) / scale)).collect()
            })
            .collect();
        let all = || rows.iter().flatten();
        let mean = [0, 1, 2].map(|i| all().map(|color| color[i]).sum::<f64>() / 14_400.0);
        let off = all().map(|color| (color[1] - mean[1]).powi(2)).sum::<f64>() / 14_400.0;
        (mean, off.sqrt())
    }

    #[test]
    fn every_built_in_wood_has_a_look_of_its_own_kind() {
        let looks: Vec<(&str, ([f64; 3], f64))> =
            woods().iter().map(|wood| (wood.id.as_str(), seen(&wood.id, 2.0))).collect();
        let plain = seen("a wood nobody knows", 2.0);
        let genus = |id: &str| id.split('_').next().unwrap_or_default().to_owned();
        let differ = |(a, rough_a): &([f64; 3], f64), (b, rough_b): &([f64; 3], f64)| {
            let color = (0..3).map(|i| (a[i] - b[i]).powi(2)).sum::<f64>().sqrt();
            color + 3.0 * (rough_a - rough_b).abs()
        };
        for (index, (id, look)) in looks.iter().enumerate() {
            assert!(differ(look, &plain) > 6.0, "{id} looks like any wood");
            for (other, there) in &looks[..index] {
                let apart = differ(look, there);
                assert!(genus(id) == genus(other) || apart > 4.0, "{id} and {other}: {apart}");
            }
        }
    }

    /// Pores are where they belong: the roughest of these is a ring-porous wood, the smoothest a scattered one.
    #[test]
    fn ash_and_oak_are_rougher_than_maple_and_basswood() {
        let rough = |wood| seen(wood, 3.0).1;
        for coarse in ["ash_white", "oak_white", "oak_northern_red", "elm_american"] {
            for fine in ["maple_sugar", "basswood_american", "aspen_quaking", "alder_red"] {
                assert!(rough(coarse) > 1.5 * rough(fine), "{coarse} and {fine}");
            }
        }
    }

    #[test]
    fn a_board_far_away_keeps_its_colour_and_does_not_shimmer() {
        for wood in woods() {
            let ((near, _), (far, rough)) = (seen(&wood.id, 4.0), seen(&wood.id, 0.4));
            for i in 0..3 {
                assert!((near[i] - far[i]).abs() < 14.0, "{}: {near:?} and {far:?}", wood.id);
            }
            assert!(rough < 20.0, "{}: {rough}", wood.id);
        }
    }

    /// A ring is as wide as is said: out to `r` from the line over the pith there are as many rings as
    /// the distance to the pith grows by.
    #[test]
    fn rings_are_as_wide_as_they_should_be() {
        for ring in [1.1, 2.8, 6.0] {
            let deep = PITH.0 * ring + PITH.1;
            let year = |y: f64| {
                let mut figure = Figure::new(y, SIZE, ring, 1.0);
                figure.wander = [Noise::new(1.0, 0.0, 1), Noise::new(1.0, 0.0, 1)];
                let part = figure.at(300.0).part;
                figure.year as f64 + part
            };
            let middle = SIZE.y * 0.46;
            let counted = year(middle + 80.0) - year(middle);
            let expected = (80f64.hypot(deep) - deep) / ring;
            // The line wanders by up to 6.6 mm either way.
            assert!((counted - expected).abs() < 6.6 / ring, "{ring}: {counted}, not {expected}");
        }
    }
}
