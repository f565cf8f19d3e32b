//! The outline of a piece at one turn, and where on the board it may be.

use super::Impossible;
use crate::geometry::nofit::{no_fit, simplified_outward};
use crate::geometry::{FillRule, Grid, Rect, Region, convex_hull};
use crate::job::{Frame, Job, Lie, Surround, Treatment, Turn};
use crate::proof::{fit, ground};
use crate::shop::{Blemish, BlemishShape, BoardEdge, BoardEnd};
use crate::units::Mm;
use glam::{DVec2, dvec2};
use std::f64::consts::TAU;

/// Slack so that what fits to the last nanometre is found, millimetres: far below what any machine repeats.
pub(super) const HAIR: f64 = 0.0005;

/// The most corners of the outline that pieces are laid by; it is never inside the true one. Chosen so that the sum
/// of two outlines takes a millisecond; 36 adds under a hundredth to the area of the samples.
const MOST_CORNERS: usize = 36;

/// A blemish of no width is kept clear of by this, millimetres.
const LEAST_CLEARANCE: f64 = 0.01;

/// Chords round a blemish.
const CHORDS: usize = 64;

/// A piece at one turn. Its reference point is the lower left corner of its frame.
#[derive(Clone, Debug)]
pub struct Shape {
    /// Which piece of the job.
    pub piece: usize,
    /// How it is turned.
    pub turn: Turn,
    /// The frame: along the board, then across.
    pub frame: DVec2,
    /// All that is carved, filled, from the reference point.
    pub outline: Region,
    /// The same grown by half the gap, with few corners and none inside.
    pub kept: Region,
    /// Where the reference point may be, from the least to the greatest; inside out where there is no room.
    pub(super) room: [DVec2; 2],
    /// How far the carving reaches beyond the frame.
    reach: f64,
}

/// What of a board's length is taken whatever lies on it: none is shorter than the allowance at both ends.
pub(super) fn least_used(job: &Job) -> Mm {
    job.machine().allowance(BoardEnd::Left) + job.machine().allowance(BoardEnd::Right)
}

/// The lattice for a board and all that is laid on it, pieces that stick out over its edges included.
pub(super) fn grid_for(job: &Job, length: Mm) -> Grid {
    let longest = (0..job.piece_count())
        .map(|piece| job.piece(piece))
        .map(|one| one.frame_on_board().max_element() * one.factor() + one.ground_reach().get())
        .fold(0.0, f64::max);
    let board = Rect::new(DVec2::ZERO, dvec2(length.get(), job.board().width.get()));
    Grid::covering(board.grown(2.0 * longest + job.gap().get()))
}

impl Shape {
    /// The shape of a piece, taken from its [`Job::copy`]. `O(n log n)` in edges.
    pub fn of(copy: &Job, piece: usize, gap: Mm, grid: Grid) -> Shape {
        let factor = copy.factor();
        let frame = copy.frame_on_board() * factor;
        let corner = copy.corner(factor);
        let board_from_design = fit::board_from_design(copy, factor);
        let moved = |point: DVec2| board_from_design.transform_point2(point) - corner;
        let outer = copy.design().elements.iter().flat_map(|element| element.region.rings());
        let mut rings: Vec<Vec<DVec2>> = outer
            .filter(|ring| !ring.hole)
            .map(|ring| ring.points().map(moved).collect::<Vec<DVec2>>())
            .collect();
        rings.push(ground::ground(copy, factor).into_iter().map(|point| point - corner).collect());
        if copy.frame() == Frame::Page {
            rings.push(Rect::new(DVec2::ZERO, frame).corners().to_vec());
        }
        let mut outline = Region::clean(grid, &rings, FillRule::NonZero).filled();
        if outline.pieces().len() > 1 {
            // Parts that do not hold together are sawn out as one.
            let points = outline.rings().flat_map(crate::geometry::Ring::points).collect();
            outline = Region::clean(grid, &[convex_hull(points)], FillRule::NonZero);
        }
        let kept = simplified_outward(&outline.grown(gap.get() * 0.5 - HAIR).filled(), MOST_CORNERS);
        let [low, high] = Surround::of(copy).room(copy);
        let mut room = [low, high - frame];
        keep_strip(copy, factor, corner, &mut room);
        Shape { piece, turn: copy.turn(), frame, outline, kept, room, reach: copy.ground_reach().get() }
    }

    /// Every shape of a piece: at each turn it may have.
    pub(super) fn all_of(job: &Job, piece: usize, gap: Mm, grid: Grid) -> Vec<Shape> {
        let set = job.piece(piece);
        let turns = job.lot(piece).turns.of(set.turn());
        let at = |turn| job.copy(piece, Lie { x: Mm::ZERO, y: Mm::ZERO, turn });
        turns.into_iter().map(|turn| Shape::of(&at(turn), piece, gap, grid)).collect()
    }

    /// Whether there is room for it on the board, but for blemishes.
    pub(super) fn has_room(&self) -> bool {
        (self.room[1] - self.room[0]).min_element() >= -HAIR
    }

    /// Where the reference point may be on a bare board: inside of the ends and edges, with the whole carved box clear
    /// of every blemish and the clearance round it. `O(blemishes)`.
    pub fn spots(&self, job: &Job) -> Region {
        let grid = self.outline.grid();
        if !self.has_room() {
            return Region::empty(grid);
        }
        let [low, high] = self.room;
        let room = Rect::new(low - HAIR, (high + HAIR).max(low + HAIR));
        let spots = Region::clean(grid, &[room.corners().to_vec()], FillRule::NonZero);
        let carved = Rect::new(DVec2::ZERO, self.frame).grown(self.reach);
        let carved = Region::clean(grid, &[carved.corners().to_vec()], FillRule::NonZero);
        let blemishes = job.board().blemishes.iter().map(|blemish| {
            let around = Region::clean(grid, &[around(blemish)], FillRule::NonZero);
            no_fit(&around, &carved)
        });
        spots.minus_all(&blemishes.collect::<Vec<Region>>())
    }

    /// The reference point held to where it may be: a spot may be off by a [`HAIR`].
    pub(super) fn held(&self, spot: DVec2) -> DVec2 {
        let [low, high] = self.room;
        spot.clamp(low, high.max(low))
    }
}

/// Nothing is cut through above the strip that the sensor reads.
fn keep_strip(copy: &Job, factor: f64, corner: DVec2, room: &mut [DVec2; 2]) {
    let Some((edge, strip)) = copy.machine().sensed_strip() else { return };
    let board_from_design = fit::board_from_design(copy, factor);
    let pierced = copy.design().elements.iter().zip(copy.treatments());
    let pierced = pierced.filter(|(_, treatment)| *treatment == Treatment::Pierced);
    let points = pierced.filter_map(|(element, _)| element.region.bounds()).flat_map(Rect::corners);
    let on_board = points.map(|point| board_from_design.transform_point2(point) - corner);
    let Some(cut) = Rect::around(on_board) else { return };
    match edge {
        BoardEdge::Reference => room[0].y = room[0].y.max(strip.get() - cut.min.y),
        BoardEdge::Far => {
            room[1].y = room[1].y.min(copy.board().width.get() - strip.get() - cut.max.y);
        }
    }
}

/// A convex outline round a blemish and the clearance that is kept, counter-clockwise.
fn around(blemish: &Blemish) -> Vec<DVec2> {
    let (points, radius) = match blemish.shape {
        BlemishShape::Circle { diameter, .. } => (vec![blemish.middle()], diameter.get() * 0.5),
        BlemishShape::Rectangle { .. } => (blemish.bounds().corners().to_vec(), 0.0),
        BlemishShape::Line { from, to } => ([from, to].map(|[x, y]| dvec2(x.get(), y.get())).to_vec(), 0.0),
    };
    // The chords touch the circle from outside, and a spot may be held back by a hair each way.
    let clearance = blemish.clearance.get().max(LEAST_CLEARANCE) + 2.0 * HAIR;
    let radius = (radius + clearance) / (0.5 * TAU / CHORDS as f64).cos();
    let disc = (0..CHORDS).map(|k| DVec2::from_angle(k as f64 / CHORDS as f64 * TAU) * radius);
    let disc: Vec<DVec2> = disc.collect();
    convex_hull(points.iter().flat_map(|&point| disc.iter().map(move |&spoke| point + spoke)).collect())
}

/// The shapes of every piece of a job.
///
/// # Errors
///
/// Where a piece has no place on the bare board at any turn it may have, or the gap is longer than the board.
pub(super) fn shapes(job: &Job, gap: Mm, grid: Grid) -> Result<Vec<Vec<Shape>>, Impossible> {
    let length = job.board().length;
    if gap > length && (job.copies() > 1 || job.is_batch()) {
        return Err(Impossible::WideGap { gap, length });
    }
    (0..job.piece_count())
        .map(|piece| {
            let shapes = Shape::all_of(job, piece, gap, grid);
            let name = || job.piece_name(piece).to_owned();
            if shapes.iter().any(|shape| shape.has_room() && !shape.spots(job).is_empty()) {
                return Ok(shapes);
            }
            if shapes.iter().any(Shape::has_room) {
                return Err(Impossible::NoPlace { piece: name() });
            }
            let one = job.piece(piece);
            let [low, high] = Surround::of(&one).room(&one);
            Err(Impossible::TooLarge {
                piece: name(),
                size: (one.frame_on_board() * one.factor()).to_array().map(Mm::new),
                room: (high - low).max(DVec2::ZERO).to_array().map(Mm::new),
            })
        })
        .collect()
}
