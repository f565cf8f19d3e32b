//! The carved surface as a field of heights: one for each cell of a lattice, in the middle of the cell.
//!
//! Each stretch of a path sweeps the cutter's exact profile along a straight line; a cell is as low as the
//! lowest of all sweeps over its middle. The least is found in closed form for each shape, on level
//! stretches and on sloping ones alike, so the only error of the field is that of asking at middles alone.
//! Tiles are worked out by themselves, so the result is the same on any number of threads.

#![expect(clippy::cast_sign_loss, reason = "what is cast is not negative: counted, clamped or rounded up")]

use super::paths::{Plan, TreatedRegions, incised_depth};
use super::profile::Profile;
use crate::geometry::raster::distance::{NO_EMPTY_CELL, map_distances};
use crate::geometry::{Lattice, Rect, Region, spans};
use crate::job::Job;
use crate::proof::{Measured, Proof};
use crate::units::Mm;
use glam::{DVec2, DVec3};
use rayon::prelude::*;
use std::sync::atomic::{AtomicBool, Ordering};

/// The most cells along either side of a field.
pub const MOST_CELLS: usize = 4096;

/// The side of a tile, in cells.
const TILE: usize = 128;

/// Heights over a lattice: 0 at the face, negative down, millimetres; row by row from the lower left.
#[derive(Clone, Debug, PartialEq)]
pub struct HeightField {
    /// Where the cells are.
    pub lattice: Lattice,
    /// The height in the middle of each cell.
    pub heights: Vec<f32>,
    /// The board's thickness: where a height reaches it, the board is cut through.
    pub thickness: f32,
}

impl HeightField {
    /// The untouched face over an area, at a pitch; coarser where that takes more than [`MOST_CELLS`] along
    /// a side.
    pub fn blank(area: Rect, pitch: Mm, thickness: Mm) -> HeightField {
        let lattice = Lattice::covering(area, pitch.get(), MOST_CELLS);
        let heights = vec![0.0; lattice.columns * lattice.rows];
        HeightField { lattice, heights, thickness: thickness.get() as f32 }
    }

    /// A job's whole board as these passes leave it, snipe and all; `None` where it was called off.
    pub fn carved(
        job: &Job,
        plan: &Plan,
        proof: &Proof,
        pitch: Mm,
        cancel: &AtomicBool,
    ) -> Option<HeightField> {
        let mut field = HeightField::of_board(job, pitch);
        carve(&mut field, plan, cancel).then_some(())?;
        field.snipe(proof);
        Some(field)
    }

    /// The untouched face of a job's whole board.
    pub fn of_board(job: &Job, pitch: Mm) -> HeightField {
        HeightField::blank(job.board().area(), pitch, job.board().thickness)
    }

    /// The height at a place: linear between the middles of cells, the nearest cell's beyond them.
    pub fn height_at(&self, place: DVec2) -> f64 {
        let p = (place - self.lattice.corner) / self.lattice.pitch - DVec2::splat(0.5);
        let clamp = |v: f64, count: usize| v.clamp(0.0, (count - 1) as f64);
        let (x, y) = (clamp(p.x, self.lattice.columns), clamp(p.y, self.lattice.rows));
        let (column, row) = (x as usize, y as usize);
        let next = [(column + 1).min(self.lattice.columns - 1), (row + 1).min(self.lattice.rows - 1)];
        let at = |column: usize, row: usize| f64::from(self.heights[row * self.lattice.columns + column]);
        let (u, v) = (x - column as f64, y - row as f64);
        let low = at(column, row) * (1.0 - u) + at(next[0], row) * u;
        let high = at(column, next[1]) * (1.0 - u) + at(next[0], next[1]) * u;
        low * (1.0 - v) + high * v
    }

    /// The lowest height.
    pub fn lowest(&self) -> f32 {
        self.heights.par_iter().copied().reduce(|| 0.0, f32::min)
    }

    /// The wood taken away, cubic millimetres. Summed row by row, so the same on any number of threads.
    pub fn volume_removed(&self) -> f64 {
        let row = |row: &[f32]| row.iter().map(|&height| -f64::from(height)).sum::<f64>();
        let rows: Vec<f64> = self.heights.par_chunks(self.lattice.columns).map(row).collect();
        rows.iter().sum::<f64>() * self.lattice.pitch * self.lattice.pitch
    }

    /// Lets each snipe zone of a proof drop by the step that is to be expected there, wherever wood was
    /// carved: the board's free end rises towards the cutter, which goes that much deeper. What
    /// is not carved stays. The shape of a zone's ends is not known; they are drawn as plain steps.
    pub fn snipe(&mut self, proof: &Proof) {
        let step = proof.feeding.step.height().get() as f32;
        let lattice = self.lattice;
        let sniped = |column: usize| {
            let x = lattice.middle(column, 0).x;
            proof.feeding.snipe_zones.iter().any(|[from, to]| (from.get()..=to.get()).contains(&x))
        };
        let columns: Vec<bool> = (0..lattice.columns).map(sniped).collect();
        if step <= 0.0 || !columns.contains(&true) {
            return;
        }
        let floor = -self.thickness;
        self.heights.par_chunks_mut(lattice.columns).for_each(|row| {
            for (height, _) in
                row.iter_mut().zip(&columns).filter(|(height, sniped)| **sniped && **height < 0.0)
            {
                *height = (*height - step).max(floor);
            }
        });
    }
}

/// How far a plan has been carved: so many whole lines, so many whole stretches of the next, and a share of
/// the one after that.
#[derive(Clone, Copy, Debug, Default, PartialEq, PartialOrd)]
pub struct Progress {
    /// Whole lines.
    pub lines: usize,
    /// Whole stretches of the line after those.
    pub stretches: usize,
    /// The share of the next stretch, 0 to 1.
    pub share: f64,
}

/// The surface a plan leaves on a field; `false`, with the field part done, once `cancel` is set.
///
/// Lines that are only on the way down are passed over: what follows them is deeper everywhere.
/// `O(cells under the cutter)` for every stretch, on every core.
pub fn carve(field: &mut HeightField, plan: &Plan, cancel: &AtomicBool) -> bool {
    let sweeps = plan.lines.iter().filter(|line| line.last).flat_map(|line| {
        let count = line.points.len().saturating_sub(1).max(1);
        (0..count).map(move |stretch| ends(&line.points, stretch, line.cutter))
    });
    sweep_all(field, plan, &sweeps.collect::<Vec<_>>(), cancel)
}

/// Carves on from one moment of a plan to a later one: what playing the carve shows. The field must be
/// as `from` left it; then, at the end, it is what [`carve`] gives. Returns as [`carve`] does.
pub fn carve_on(
    field: &mut HeightField,
    plan: &Plan,
    from: Progress,
    to: Progress,
    cancel: &AtomicBool,
) -> bool {
    let mut sweeps = Vec::new();
    for (index, line) in plan.lines.iter().enumerate().take(to.lines + 1).skip(from.lines) {
        let count = line.points.len().saturating_sub(1).max(1);
        let first = if index == from.lines { from.stretches } else { 0 };
        let beyond = if index == to.lines { to.stretches.min(count) } else { count };
        sweeps.extend((first..beyond).map(|stretch| ends(&line.points, stretch, line.cutter)));
        if index == to.lines && to.stretches < count && to.share > 0.0 {
            let part = ends(&line.points, to.stretches, line.cutter);
            sweeps.push(Sweep { to: part.from.lerp(part.to, to.share), ..part });
        }
    }
    sweep_all(field, plan, &sweeps, cancel)
}

fn ends(points: &[DVec3], stretch: usize, cutter: u32) -> Sweep {
    let from = points[stretch];
    Sweep { from, to: points.get(stretch + 1).copied().unwrap_or(from), cutter }
}

/// One straight stretch of a path.
#[derive(Clone, Copy)]
struct Sweep {
    from: DVec3,
    to: DVec3,
    cutter: u32,
}

impl Sweep {
    /// How far to either side it cuts anything: a pointed cutter no farther than it is wide at the face.
    fn reach(&self, profile: &Profile) -> f64 {
        profile.half_width(-self.from.z.min(self.to.z).min(0.0)).min(profile.reach)
    }
}

/// One tile: where its first cell is, and its rows.
struct Tile<'a> {
    column: usize,
    row: usize,
    rows: Vec<&'a mut [f32]>,
}

fn sweep_all(field: &mut HeightField, plan: &Plan, sweeps: &[Sweep], cancel: &AtomicBool) -> bool {
    let lattice = field.lattice;
    let profiles: Vec<Profile> = plan.cutters.iter().map(|cutter| Profile::of(cutter.shape)).collect();
    let across = lattice.columns.div_ceil(TILE);
    let tiles = across * lattice.rows.div_ceil(TILE);
    // Which sweeps touch which tile, in order.
    let mut touching: Vec<Vec<u32>> = vec![Vec::new(); tiles];
    for (index, sweep) in sweeps.iter().enumerate() {
        let reach = DVec2::splat(sweep.reach(&profiles[sweep.cutter as usize]));
        let cells = |p: DVec2| (p - lattice.corner) / lattice.pitch - DVec2::splat(0.5);
        let low = cells(sweep.from.truncate().min(sweep.to.truncate()) - reach).ceil().max(DVec2::ZERO);
        let last = DVec2::new((lattice.columns - 1) as f64, (lattice.rows - 1) as f64);
        let high = cells(sweep.from.truncate().max(sweep.to.truncate()) + reach).floor().min(last);
        if low.cmpgt(high).any() || !low.is_finite() || !high.is_finite() {
            continue;
        }
        for row in low.y as usize / TILE..=high.y as usize / TILE {
            for column in low.x as usize / TILE..=high.x as usize / TILE {
                touching[row * across + column].push(index as u32);
            }
        }
    }
    let mut parts: Vec<Tile> = Vec::with_capacity(tiles);
    for (band, rows) in field.heights.chunks_mut(TILE * lattice.columns).enumerate() {
        let first = parts.len();
        parts.extend((0..across).map(|i| Tile { column: i * TILE, row: band * TILE, rows: Vec::new() }));
        for row in rows.chunks_mut(lattice.columns) {
            for (tile, cells) in parts[first..].iter_mut().zip(row.chunks_mut(TILE)) {
                tile.rows.push(cells);
            }
        }
    }
    let floor = -field.thickness;
    parts.into_par_iter().zip(touching).for_each(|(mut tile, touching)| {
        for (done, &index) in touching.iter().enumerate() {
            if done % 64 == 0 && cancel.load(Ordering::Relaxed) {
                return;
            }
            let sweep = sweeps[index as usize];
            tile.sweep(&lattice, &profiles[sweep.cutter as usize], sweep, floor);
        }
    });
    !cancel.load(Ordering::Relaxed)
}

impl Tile<'_> {
    /// Lowers every cell of the tile that the sweep passes over.
    fn sweep(&mut self, lattice: &Lattice, profile: &Profile, sweep: Sweep, floor: f32) {
        let stretch = Stretch::of(sweep);
        let (a, b) = (sweep.from.truncate(), sweep.to.truncate());
        let reach = sweep.reach(profile);
        let middle = |index: usize, corner: f64| corner + (index as f64 + 0.5) * lattice.pitch;
        for (row, cells) in self.rows.iter_mut().enumerate() {
            let y = middle(self.row + row, lattice.corner.y);
            if y < a.y.min(b.y) - reach || y > a.y.max(b.y) + reach {
                continue;
            }
            let Some([left, right]) = stretch.row_span(y, reach) else { continue };
            let column = |x: f64| (x - lattice.corner.x) / lattice.pitch - 0.5 - self.column as f64;
            let first = column(left).ceil().max(0.0) as usize;
            let beyond = (column(right).floor() + 1.0).clamp(0.0, cells.len() as f64) as usize;
            if first >= beyond {
                continue;
            }
            // A flat end on a level way: the same all over.
            if profile.flat == profile.reach && stretch.fall == 0.0 {
                let height = (sweep.from.z as f32).max(floor);
                cells[first..beyond].iter_mut().for_each(|cell| *cell = cell.min(height));
                continue;
            }
            for (i, cell) in cells[first..beyond].iter_mut().enumerate() {
                let p = DVec2::new(middle(self.column + first + i, lattice.corner.x), y);
                let height = stretch.lowest(profile, p);
                *cell = cell.min((height as f32).max(floor));
            }
        }
    }
}

/// A straight way on the board, with its height along it.
struct Stretch {
    from: DVec2,
    along: DVec2,
    length: f64,
    height: f64,
    /// How much it rises for each millimetre along; negative where it falls.
    fall: f64,
    /// The lower end's height, for a way straight down.
    lower: f64,
}

impl Stretch {
    fn of(sweep: Sweep) -> Stretch {
        let (a, b) = (sweep.from.truncate(), sweep.to.truncate());
        let length = a.distance(b);
        let upright = length < 1e-9;
        let (along, length) = if upright { (DVec2::X, 0.0) } else { ((b - a) / length, length) };
        let fall = if upright { 0.0 } else { (sweep.to.z - sweep.from.z) / length };
        let lower = sweep.from.z.min(sweep.to.z);
        Stretch { from: a, along, length, height: if upright { lower } else { sweep.from.z }, fall, lower }
    }

    /// Where a line along x at `y` enters and leaves all that is within `reach` of the way.
    fn row_span(&self, y: f64, reach: f64) -> Option<[f64; 2]> {
        let mut span: Option<[f64; 2]> = None;
        let mut add = |from: f64, to: f64| {
            span = Some(span.map_or([from, to], |[low, high]: [f64; 2]| [low.min(from), high.max(to)]));
        };
        for end in [self.from, self.from + self.along * self.length] {
            let off = y - end.y;
            if off.abs() <= reach {
                let half = (reach * reach - off * off).sqrt();
                add(end.x - half, end.x + half);
            }
        }
        // The band between the two ends: where the line crosses its two long sides.
        let to = self.along * self.length;
        if to.y.abs() > 1e-12 {
            for side in [reach, -reach] {
                let start = self.from + self.along.perp() * side;
                let share = (y - start.y) / to.y;
                if (0.0..=1.0).contains(&share) {
                    let x = start.x + to.x * share;
                    add(x, x);
                }
            }
        }
        span
    }

    /// The lowest the cutter gets over a point: the least, along the way, of its height and its profile
    /// there. Both are convex along the way, so the least is where their slopes cancel, or at an end of
    /// the part from which the cutter reaches the point.
    fn lowest(&self, profile: &Profile, point: DVec2) -> f64 {
        let off = point - self.from;
        let (s, q) = (off.dot(self.along), off.perp_dot(self.along).abs());
        if q > profile.reach {
            return f64::INFINITY;
        }
        let half = (profile.reach * profile.reach - q * q).sqrt();
        let (first, last) = ((s - half).max(0.0), (s + half).min(self.length));
        if first > last {
            return f64::INFINITY;
        }
        let best = if self.fall == 0.0 { s } else { s + self.ahead(profile, q) };
        let at = best.clamp(first, last);
        // At the rim rounding may put a point a hair outside.
        let far = (at - s).hypot(q).min(profile.reach);
        (self.height + self.fall * at).max(self.lower) + profile.height(far)
    }

    /// How far along the way from the point's foot the slopes of height and profile cancel; `q` is how far
    /// the point is off the way.
    fn ahead(&self, profile: &Profile, q: f64) -> f64 {
        let downhill = -self.fall.signum();
        let rim = |radius: f64| (radius * radius - q * q).max(0.0).sqrt() * downhill;
        if profile.ball > 0.0 && q < profile.ball_reach {
            // d/du (fall u + R - sqrt(R^2 - q^2 - u^2)) = 0
            let ahead = (profile.ball * profile.ball - q * q).sqrt() / (1.0 + self.fall.powi(-2)).sqrt();
            if ahead.hypot(q) <= profile.ball_reach {
                return ahead * downhill;
            }
        }
        if profile.slope > 0.0 {
            // d/du (fall u + sqrt(u^2 + q^2) / slope) = 0; steeper than the side, there is no such place.
            let steep = self.fall.abs() * profile.slope;
            let ahead = if steep < 1.0 { q * steep / (1.0 - steep * steep).sqrt() } else { f64::INFINITY };
            let ahead = ahead.min(2.0 * profile.reach);
            let core = profile.flat.max(profile.ball_reach);
            return if ahead.hypot(q) < core { rim(core) } else { ahead * downhill };
        }
        rim(profile.flat.max(profile.ball_reach))
    }
}

/// The quick surface: what a cutter of no width would leave. Floors are flat up to their outlines, and an
/// incised place is as deep everywhere as its distance to the edge asks of this cutter's profile,
/// `d / tan(a / 2)` for a V, capped at the depth. Distances are those between the middles of cells,
/// less half a cell, so it is true to about a cell. Nothing is left of cutters, passes, bridges or snipe.
/// `O(cells)`, on every core; `None` once `cancel` is set.
pub fn ideal(
    job: &Job,
    measured: &Measured,
    mut field: HeightField,
    cancel: &AtomicBool,
) -> Option<HeightField> {
    let go_on = || (!cancel.load(Ordering::Relaxed)).then_some(());
    let regions = TreatedRegions::of(job, measured);
    let lattice = field.lattice;
    go_on()?;
    let mut lower = |region: &Region, height: f32| {
        let rows = spans(region, &lattice);
        field.heights.par_chunks_mut(lattice.columns).zip(rows).for_each(|(cells, spans)| {
            for [from, to] in spans {
                cells[from as usize..to as usize].fill(height);
            }
        });
    };
    for floor in &regions.floors {
        lower(&floor.region, -floor.depth as f32);
    }
    for (_, region) in &regions.pierced {
        lower(region, -field.thickness);
    }
    // Each element by itself, even where two touch, and no more of the lattice than it covers.
    for (element, region) in &regions.incised {
        go_on()?;
        let profile = Profile::of(job.cutter_of(*element as usize).shape);
        let depth = incised_depth(job, *element);
        let Some((part, column, row)) = region.bounds().and_then(|bounds| part_of(&lattice, bounds)) else {
            continue;
        };
        let mut filled = vec![0_u8; part.columns * part.rows];
        let rows = spans(region, &part);
        filled.par_chunks_mut(part.columns).zip(rows).for_each(|(cells, spans)| {
            for [from, to] in spans {
                cells[from as usize..to as usize].fill(1);
            }
        });
        let mut lowered = vec![0.0; filled.len()];
        vee_depths(&filled, part, &profile, depth, &mut lowered);
        let rows = field.heights.chunks_mut(lattice.columns).skip(row);
        for (cells, lowered) in rows.zip(lowered.chunks(part.columns)) {
            for (cell, &lowered) in cells[column..].iter_mut().zip(lowered) {
                *cell = cell.min(lowered);
            }
        }
    }
    go_on()?;
    Some(field)
}

/// The cells of a lattice that a box covers, with one more on every side where there is one; and which column
/// and row of the lattice they begin at.
fn part_of(lattice: &Lattice, bounds: Rect) -> Option<(Lattice, usize, usize)> {
    let most = DVec2::new(lattice.columns as f64, lattice.rows as f64);
    let cells = |p: DVec2| ((p - lattice.corner) / lattice.pitch).clamp(DVec2::ZERO, most);
    let low = (cells(bounds.min).floor() - DVec2::ONE).max(DVec2::ZERO);
    let high = (cells(bounds.max).ceil() + DVec2::ONE).min(most);
    let size = high - low;
    let part = Lattice {
        corner: lattice.corner + low * lattice.pitch,
        pitch: lattice.pitch,
        columns: size.x as usize,
        rows: size.y as usize,
    };
    (part.columns > 0 && part.rows > 0).then_some((part, low.x as usize, low.y as usize))
}

/// Lowers each filled cell as deep as its distance from the nearest empty one asks. Depth is worked out in
/// the same go as the distance.
pub fn vee_depths(filled: &[u8], lattice: Lattice, profile: &Profile, depth: f64, heights: &mut [f32]) {
    let (depth, pitch) = (depth as f32, lattice.pitch as f32);
    if profile.is_pointed() {
        let (per_mm, flat) = (1.0 / profile.slope as f32, profile.flat as f32);
        map_distances(filled, lattice.columns, heights, |squared| {
            // Where nothing is empty this is far over any depth.
            let far = ((squared as f32).sqrt() - 0.5) * pitch;
            -((far - flat) * per_mm).clamp(0.0, depth)
        });
    } else {
        map_distances(filled, lattice.columns, heights, |squared| {
            if squared == NO_EMPTY_CELL {
                return -depth;
            }
            let far = (f64::from(squared).sqrt() - 0.5) * lattice.pitch;
            -(profile.depth_between(far) as f32).min(depth)
        });
    }
}
