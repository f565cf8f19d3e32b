//! How wood looks: its tone and its grain, by species. Shared by the picture of the board and the picture of
//! the carved surface.

#![expect(clippy::unreadable_literal, reason = "colours are six hexadecimal digits wherever one looks")]

use glam::DVec2;

/// How a wood looks: chosen by eye for telling woods apart on a screen, not a colour standard.
#[derive(Clone, Copy, Debug)]
pub struct Look {
    /// Early wood, the light part of a year's ring.
    pub light: [f64; 3],
    /// Late wood, the dark part.
    pub dark: [f64; 3],
    /// How plainly the rings show, 0 to 1.
    pub figure: f64,
}

/// The look of a wood, by the beginning of its id; an unknown wood looks like a plain tan one.
pub fn look(wood: &str) -> Look {
    const LOOKS: [(&str, u32, u32, f64); 17] = [
        ("alder", 0xD9AE83, 0xC08F63, 0.35),
        ("ash", 0xE6D2AE, 0xC0A06F, 0.8),
        ("beech", 0xDDB88F, 0xC79B70, 0.35),
        ("birch", 0xE8D0A8, 0xD2B384, 0.35),
        ("butternut", 0xC9A06D, 0xA67C4C, 0.6),
        ("cherry", 0xC68A5B, 0xA66A41, 0.45),
        ("douglas", 0xDDA673, 0xB06B3A, 0.85),
        ("elm", 0xC49B6C, 0x9A7044, 0.75),
        ("hickory", 0xDDBE90, 0xB98E5B, 0.7),
        ("mahogany", 0xB06E4A, 0x8E5033, 0.4),
        ("maple", 0xEAD6B3, 0xD0B283, 0.45),
        ("oak", 0xD4B283, 0xA98253, 0.85),
        ("pine", 0xEACF9C, 0xCC9F62, 0.7),
        ("redwood", 0xB26D4C, 0x8B4830, 0.7),
        ("teak", 0xB98B57, 0x8E6336, 0.6),
        ("walnut", 0x8A6446, 0x614430, 0.6),
        ("basswood", 0xEBD9B6, 0xD2B685, 0.55),
    ];
    let cedar = ("cedar", 0xC88E66, 0xA2633F, 0.6);
    let known = LOOKS.into_iter().chain([cedar]).find(|(start, ..)| wood.starts_with(start));
    let (_, light, dark, figure) = known.unwrap_or(("", 0xDFC49A, 0xC4A274, 0.5));
    let rgb = |hex: u32| [16, 8, 0].map(|shift| f64::from(hex >> shift & 0xFF));
    Look { light: rgb(light), dark: rgb(dark), figure }
}

/// The colours met on one line along the board, at one distance across it: a procedural figure of rings of
/// uneven width that wander along the length, and fine fibres. Places nearby are cheapest asked in order.
#[derive(Debug)]
pub struct GrainLine {
    look: Look,
    figure: Figure,
    fibre: Noise,
    broad: Noise,
    fibre_strength: f64,
}

impl GrainLine {
    /// The line at `y` across a board of this size, millimetres. Fibres finer than a pixel only make noise: they
    /// fade out as `scale`, in pixels to a millimetre, gets small.
    pub fn new(look: Look, y: f64, size: DVec2, scale: f64) -> GrainLine {
        GrainLine {
            look,
            figure: Figure::new(y, size),
            fibre: Noise::new(16.0, y / 0.45, 3),
            broad: Noise::new(210.0, y / 38.0, 4),
            fibre_strength: (scale * 0.3).clamp(0.15, 1.0),
        }
    }

    /// Red, green and blue at `x` along the board, 0 to 255.
    pub fn color(&mut self, x: f64) -> [f64; 3] {
        let tone = self.figure.late(x) * self.look.figure;
        let fibre = (self.fibre.at(x) - 0.5) * 0.16 * self.fibre_strength;
        let broad = (self.broad.at(x) - 0.5) * 0.18;
        let mix = (0.12 + tone + fibre + broad).clamp(0.0, 1.0);
        [0, 1, 2].map(|i| self.look.light[i] + (self.look.dark[i] - self.look.light[i]) * mix)
    }
}

/// The rings met on one line along the board: cut at a slant, closer towards the edges, as on a
/// flat-sawn face.
#[derive(Debug)]
struct Figure {
    off: f64,
    half_length: f64,
    wander: [Noise; 2],
    year: i64,
    strength: f64,
}

impl Figure {
    fn new(y: f64, size: DVec2) -> Figure {
        let wander = [Noise::new(170.0, y / 70.0, 1), Noise::new(45.0, y / 24.0, 2)];
        Figure { off: y - size.y * 0.46, half_length: size.x * 0.5, wander, year: i64::MIN, strength: 0.0 }
    }

    /// How far into late wood a place is, 0 to 1.
    fn late(&mut self, x: f64) -> f64 {
        let [slow, quick] = &mut self.wander;
        let off = self.off + (slow.at(x) - 0.5) * 11.0 + (quick.at(x) - 0.5) * 2.2;
        // A cone seen along its side: arches near the middle, straight lines near the edges.
        let slant = 0.006 * (x - self.half_length).abs();
        let ring = (off * off / 55.0 + 9.0).sqrt() * 1.9 - slant * 1.6;
        let year = ring.floor();
        if year as i64 != self.year {
            self.year = year as i64;
            self.strength = 0.45 + 0.55 * chance(self.year, 7, 5);
        }
        // Late wood comes on slowly and stops at once.
        (ring - year).powi(3) * self.strength
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
