//! The picture of the carved surface, drawn without a graphics card: for paper, the command line, and
//! machines that have none.
//!
//! A ray for each pixel is followed through the slab between the face and the lowest carved place until it is
//! under the surface; then the wood's tone and grain there are lit from a chosen side, with the shadows
//! that standing wood throws. The same picture comes out on any number of threads.

#![expect(clippy::cast_sign_loss, reason = "what is cast is not negative: counted, clamped or rounded up")]

use super::field::HeightField;
use super::grain::{self, GrainLine};
use crate::geometry::nearest_on;
use crate::job::Job;
use crate::proof::{Finding, Proof};
use glam::{DVec2, DVec3};
use rayon::prelude::*;
use std::f64::consts::{FRAC_PI_2, PI};
use std::sync::atomic::{AtomicBool, Ordering};

/// From where the surface is seen: a camera that goes round a place of the board.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Camera {
    /// The place in the middle of the picture, board space, millimetres.
    pub target: DVec3,
    /// Where the camera stands round it, radians counter-clockwise seen from above; 0 is towards the
    /// reference edge, as one stands at the machine.
    pub around: f64,
    /// How high it stands, radians: 0 level with the board, a quarter turn straight above.
    pub up: f64,
    /// How far away it is, millimetres: the height of the picture shows about as much of the board.
    pub distance: f64,
    /// Whether what is far looks small. Without it, equal lengths look equal.
    pub perspective: bool,
}

/// The lowest a camera may stand: more level than this and nothing of the surface is seen.
pub const LOWEST_CAMERA: f64 = 0.05;

/// How a picture is lit and drawn.
#[derive(Clone, Debug, PartialEq)]
pub struct Look {
    /// Where the light comes from round the board, radians counter-clockwise seen from above, from the right
    /// end; low light shows the relief best.
    pub light_around: f64,
    /// How high the light stands, radians.
    pub light_up: f64,
    /// What surrounds the board: red, green, blue.
    pub bench: [u8; 3],
}

impl Default for Look {
    fn default() -> Look {
        Look { light_around: 0.75 * PI, light_up: 0.75, bench: [0xEE, 0xEF, 0xF0] }
    }
}

/// A place that glows on the surface.
#[derive(Clone, Debug, PartialEq)]
pub struct Glow {
    /// Its middle line, on the board.
    pub axis: Vec<[DVec2; 2]>,
    /// How far the glow reaches from that, millimetres.
    pub reach: f64,
    /// Red, green, blue.
    pub color: [u8; 3],
}

/// What a proof found in its design, to glow in the colours the caller gives each kind. A finding about the whole
/// board has no place and does not glow.
pub fn glows(proof: &Proof, color: impl Fn(&Finding) -> [u8; 3]) -> Vec<Glow> {
    let scale = proof.factor;
    let glow = |finding: &Finding| {
        let on_board = |p: DVec2| proof.board_from_design.transform_point2(p);
        let mut axis: Vec<[DVec2; 2]> = finding.axis().iter().map(|c| c.map(|p| on_board(p.at))).collect();
        let wide = finding.axis().iter().flatten().map(|p| p.width * scale).fold(0.0, f64::max);
        if axis.is_empty() {
            axis.push([finding.at; 2]);
        }
        Glow { axis, reach: (wide / 2.0 + 1.0).clamp(1.5, 12.0), color: color(finding) }
    };
    proof.findings.iter().filter(|finding| !finding.axis().is_empty()).map(glow).collect()
}

impl Look {
    /// Towards the light, of unit length.
    pub fn towards_light(&self) -> DVec3 {
        let (around, up) = (self.light_around, self.light_up.clamp(0.1, FRAC_PI_2));
        DVec3::new(around.cos() * up.cos(), around.sin() * up.cos(), up.sin())
    }
}

impl Camera {
    /// How far the eye is from the target, millimetres: so far off that perspective is mild, 30 degrees from
    /// the picture's top to its bottom.
    pub fn eye_distance(&self) -> f64 {
        self.distance * 1.866
    }

    /// The whole of a field, seen from the reference edge and above.
    pub fn over(field: &HeightField, around: f64, up: f64) -> Camera {
        let area = field.lattice.area();
        let size = area.size();
        Camera {
            target: area.center().extend(0.0),
            around,
            up: up.clamp(LOWEST_CAMERA, FRAC_PI_2),
            distance: (size.x * 0.7).max(size.y * 1.15),
            perspective: true,
        }
    }

    /// Three axes of unit length: right and up in the picture, and away from the camera.
    pub fn axes(&self) -> [DVec3; 3] {
        let up = self.up.clamp(LOWEST_CAMERA, FRAC_PI_2);
        let (sin, cos) = self.around.sin_cos();
        let right = DVec3::new(cos, sin, 0.0);
        let level = DVec3::new(-sin, cos, 0.0);
        let away = level * up.cos() - DVec3::Z * up.sin();
        [right, right.cross(away), away]
    }

    /// The ray of a place in a picture of this size, from its upper left corner: where it starts and its
    /// direction, of unit length.
    pub fn ray(&self, place: DVec2, size: [u32; 2]) -> (DVec3, DVec3) {
        let [right, up, away] = self.axes();
        let [width, height] = size.map(f64::from);
        // In heights of the picture, from its middle.
        let x = (place.x - width / 2.0) / height;
        let y = (height / 2.0 - place.y) / height;
        let off = (right * x + up * y) * self.distance;
        let eye = self.target - away * self.eye_distance();
        if self.perspective { (eye, (self.target + off - eye).normalize()) } else { (eye + off, away) }
    }

    /// Where a place of board space comes to lie in a picture of this size; `None` behind the camera.
    pub fn on_screen(&self, place: DVec3, size: [u32; 2]) -> Option<DVec2> {
        let [right, up, away] = self.axes();
        let [width, height] = size.map(f64::from);
        let far = self.eye_distance();
        let off = place - self.target;
        let depth = far + off.dot(away);
        let shrink = if self.perspective { far / depth } else { 1.0 };
        let scale = height / self.distance * shrink;
        (depth > 0.0)
            .then(|| DVec2::new(width / 2.0 + off.dot(right) * scale, height / 2.0 - off.dot(up) * scale))
    }
}

/// The wood's own colour on a grid of places, row by row: 0 to 255.
pub(super) fn wood_colors(job: &Job, xs: &[f64], ys: &[f64]) -> Vec<[u8; 3]> {
    let look = grain::look(&job.wood().id);
    let size = DVec2::new(job.board().length.get(), job.board().width.get());
    let scale = 1.0 / ((xs[xs.len() - 1] - xs[0]) / xs.len() as f64).max(1e-6);
    let row = |&y: &f64| {
        let mut line = GrainLine::new(look, y, size, scale);
        xs.iter().map(move |&x| line.color(x).map(byte)).collect::<Vec<_>>()
    };
    ys.par_iter().flat_map_iter(row).collect()
}

fn byte(tone: f64) -> u8 {
    tone.round().clamp(0.0, 255.0) as u8
}

/// What lies on a field: the wood's own colour and the glow of the findings, cell by cell. It is good for
/// every field on the same lattice, so one coat does for many pictures.
#[derive(Clone, Debug, PartialEq)]
pub struct Coat {
    /// The wood's colour, row by row from the lower left.
    tones: Vec<[u8; 3]>,
    /// How strongly each cell glows, and in what colour; empty where nothing does.
    glow: Vec<([u8; 3], f32)>,
}

impl Coat {
    /// The coat of a job's board on a field's lattice. `O(cells)`.
    pub fn new(job: &Job, field: &HeightField, glows: &[Glow]) -> Coat {
        let lattice = field.lattice;
        let xs: Vec<f64> = (0..lattice.columns).map(|column| lattice.middle(column, 0).x).collect();
        let ys: Vec<f64> = (0..lattice.rows).map(|row| lattice.middle(0, row).y).collect();
        Coat { tones: wood_colors(job, &xs, &ys), glow: glow_map(field, glows) }
    }

    /// For a painter that lights them itself: the wood's colour with 255 behind it, and the glow's colour with its
    /// strength behind it; no glow at all where nothing glows.
    pub fn layers(&self) -> [Vec<[u8; 4]>; 2] {
        let strong = |&([r, g, b], strength): &([u8; 3], f32)| [r, g, b, byte(255.0 * f64::from(strength))];
        [self.tones.iter().map(|&[r, g, b]| [r, g, b, 255]).collect(), self.glow.iter().map(strong).collect()]
    }
}

/// Draws a field: 8-bit RGBA, opaque, rows from the top. `None` once `cancel` is set.
///
/// `O(pixels)` times the cells that a ray passes while it is between the face and the lowest place: few from
/// above, more the lower the camera stands. Sides of the picture are taken as 1 to 8192.
pub fn shaded(
    job: &Job,
    field: &HeightField,
    camera: &Camera,
    look: &Look,
    glows: &[Glow],
    size: [u32; 2],
    cancel: &AtomicBool,
) -> Option<Vec<u8>> {
    shaded_in(&Coat::new(job, field, glows), field, camera, look, size, cancel)
}

/// The same in a coat that is at hand. It must be of the field's lattice.
pub fn shaded_in(
    coat: &Coat,
    field: &HeightField,
    camera: &Camera,
    look: &Look,
    size: [u32; 2],
    cancel: &AtomicBool,
) -> Option<Vec<u8>> {
    assert_eq!(coat.tones.len(), field.heights.len(), "a coat of another lattice");
    let size = size.map(|side| side.clamp(1, 8192));
    let scene = Scene::new(coat, field, look);
    let width = size[0] as usize;
    let mut pixels = vec![0_u8; width * size[1] as usize * 4];
    pixels.par_chunks_mut(width * 4).enumerate().for_each(|(row, line)| {
        if cancel.load(Ordering::Relaxed) {
            return;
        }
        for (column, pixel) in line.chunks_exact_mut(4).enumerate() {
            let (start, way) = camera.ray(DVec2::new(column as f64 + 0.5, row as f64 + 0.5), size);
            let color = scene.color(start, way).map(byte);
            pixel.copy_from_slice(&[color[0], color[1], color[2], 255]);
        }
    });
    (!cancel.load(Ordering::Relaxed)).then_some(pixels)
}

/// All that a ray may meet.
struct Scene<'a> {
    field: &'a HeightField,
    low: DVec3,
    high: DVec3,
    lowest: f64,
    light: DVec3,
    bench: [f64; 3],
    coat: &'a Coat,
}

impl Scene<'_> {
    fn new<'a>(coat: &'a Coat, field: &'a HeightField, look: &Look) -> Scene<'a> {
        let area = field.lattice.area();
        Scene {
            field,
            low: area.min.extend(-f64::from(field.thickness)),
            high: area.max.extend(0.0),
            lowest: f64::from(field.lowest()),
            light: look.towards_light(),
            bench: look.bench.map(f64::from),
            coat,
        }
    }

    fn color(&self, start: DVec3, way: DVec3) -> [f64; 3] {
        let Some((enter, leave, side)) = self.in_box(start, way) else { return self.bench };
        let first = start + way * enter;
        let pitch = self.field.lattice.pitch;
        // In through a side, under the surface: the side itself is seen.
        if first.z < -1e-9 && first.z <= self.field.height_at(first.truncate()) + 1e-9 {
            return self.lit(first, side, 0.86, false);
        }
        // No farther than to the lowest place.
        let bottom = if way.z < 0.0 { (self.lowest - 1e-6 - start.z) / way.z } else { leave };
        let leave = leave.min(bottom);
        let level = way.truncate().length();
        let step =
            if level > 1e-9 { (0.7 * pitch / level).min((leave - enter).max(1e-9)) } else { leave - enter };
        let above = |t: f64| {
            let p = start + way * t;
            p.z - self.field.height_at(p.truncate())
        };
        let (mut before, mut t) = (enter, enter);
        while above(t) > 0.0 {
            if t >= leave {
                return self.beyond(start + way * leave);
            }
            before = t;
            t = (t + step.max(1e-9)).min(leave);
        }
        // The surface lies between the last two steps.
        for _ in 0..12 {
            let middle = f64::midpoint(before, t);
            if above(middle) > 0.0 { before = middle } else { t = middle }
        }
        let hit = start + way * t;
        if hit.z <= -f64::from(self.field.thickness) + 1e-3 {
            return self.beyond(hit);
        }
        self.lit(hit, self.normal(hit.truncate()), 1.0, true)
    }

    /// Through a hole, or out at the far side: the bench, in the board's shade where it is looked at through
    /// a hole.
    fn beyond(&self, at: DVec3) -> [f64; 3] {
        let pierced = at.z <= -f64::from(self.field.thickness) + 1e-3;
        if pierced { self.bench.map(|tone| tone * 0.45) } else { self.bench }
    }

    /// Where a ray enters and leaves the board, and the normal of the face it enters by.
    fn in_box(&self, start: DVec3, way: DVec3) -> Option<(f64, f64, DVec3)> {
        let (mut enter, mut leave, mut side) = (0.0_f64, f64::INFINITY, DVec3::Z);
        for (axis, unit) in [DVec3::X, DVec3::Y, DVec3::Z].into_iter().enumerate() {
            let (from, to) = (self.low[axis] - start[axis], self.high[axis] - start[axis]);
            if way[axis].abs() < 1e-12 {
                if from > 0.0 || to < 0.0 {
                    return None;
                }
                continue;
            }
            let (a, b) = (from / way[axis], to / way[axis]);
            if a.min(b) > enter {
                enter = a.min(b);
                side = unit * -way[axis].signum();
            }
            leave = leave.min(a.max(b));
        }
        (enter < leave).then_some((enter, leave, side))
    }

    fn normal(&self, at: DVec2) -> DVec3 {
        let pitch = self.field.lattice.pitch;
        let height = |x: f64, y: f64| self.field.height_at(at + DVec2::new(x, y) * pitch);
        let along = (height(0.6, 0.0) - height(-0.6, 0.0)) / (1.2 * pitch);
        let across = (height(0.0, 0.6) - height(0.0, -0.6)) / (1.2 * pitch);
        DVec3::new(-along, -across, 1.0).normalize()
    }

    fn lit(&self, at: DVec3, normal: DVec3, tone: f64, top: bool) -> [f64; 3] {
        let lattice = self.field.lattice;
        let cell = ((at.truncate() - lattice.corner) / lattice.pitch).floor();
        let column = (cell.x.max(0.0) as usize).min(lattice.columns - 1);
        let row = (cell.y.max(0.0) as usize).min(lattice.rows - 1);
        let index = row * lattice.columns + column;
        let facing = normal.dot(self.light).max(0.0);
        let direct = if facing > 0.0 && top && self.in_shadow(at) { 0.3 * facing } else { facing };
        // Carved wood is a little darker: its fibres are cut across.
        let carved = if top && at.z < -0.02 { 0.93 } else { 1.0 };
        // A flat face in full light comes out in the wood's own tone.
        let light = (0.48 + 0.52 * direct / self.light.z) * tone * carved;
        let mut color = self.coat.tones[index].map(|channel| f64::from(channel) * light);
        if let Some(&(glow, strength)) = self.coat.glow.get(index)
            && top
        {
            for (channel, glow) in color.iter_mut().zip(glow) {
                *channel += (f64::from(glow) - *channel) * f64::from(strength);
            }
        }
        color
    }

    /// Whether standing wood keeps the light off a place of the surface.
    fn in_shadow(&self, at: DVec3) -> bool {
        let level = self.light.truncate().length();
        let step = self.field.lattice.pitch * 0.8 / level.max(1e-9);
        // Just over the surface, so that it does not shade itself.
        let mut p = at + DVec3::Z * (0.3 * self.field.lattice.pitch) + self.light * step;
        while p.z < 0.0 {
            if self.field.height_at(p.truncate()) > p.z {
                return true;
            }
            p += self.light * step;
        }
        false
    }
}

/// How strongly each cell glows, and in what colour; empty where nothing does.
fn glow_map(field: &HeightField, glows: &[Glow]) -> Vec<([u8; 3], f32)> {
    let lattice = field.lattice;
    if glows.is_empty() {
        return Vec::new();
    }
    let mut map = vec![([0_u8; 3], 0.0_f32); lattice.columns * lattice.rows];
    // The first listed is the gravest, and stays on top.
    for glow in glows.iter().rev() {
        for &[a, b] in &glow.axis {
            let cells = |p: DVec2| (p - lattice.corner) / lattice.pitch - DVec2::splat(0.5);
            let most = DVec2::new((lattice.columns - 1) as f64, (lattice.rows - 1) as f64);
            let reach = DVec2::splat(glow.reach);
            let low = cells(a.min(b) - reach).ceil().max(DVec2::ZERO);
            let high = cells(a.max(b) + reach).floor().min(most);
            if low.cmpgt(high).any() {
                continue;
            }
            for row in low.y as usize..=high.y as usize {
                for column in low.x as usize..=high.x as usize {
                    let middle = lattice.middle(column, row);
                    let far = middle.distance(nearest_on([a, b], middle));
                    let strength = 0.75 * (1.0 - far / glow.reach).clamp(0.0, 1.0).powf(0.6);
                    let cell = &mut map[row * lattice.columns + column];
                    if strength as f32 > cell.1 || (strength > 0.0 && cell.0 != glow.color) {
                        *cell = (glow.color, strength as f32);
                    }
                }
            }
        }
    }
    map
}
