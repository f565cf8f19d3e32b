//! A place on the board that keeps clear of its blemishes, of the snipe zones and of the edges: the
//! largest size there is room for, or a given size.
//!
//! What is placed is the box that is carved: the design's frame and a relief's ground round it. The
//! board's free room is divided into square cells of a stated pitch; a cell that a blemish, grown by its
//! clearance, reaches into is closed as a whole. The box may then stand with its lower left corner on
//! any corner of a cell, and must not reach into a closed cell. The answer is exact for that grid: no
//! other corner takes a larger box. A sum over the closed cells (Crow, *Summed-area tables for texture
//! mapping*, 1984) makes a look at one box four additions.
//!
//! A half turn has the same box and is never better, so it is kept as the user set it; the quarter turn
//! is tried against it.

use crate::geometry::Rect;
use crate::job::{Edit, EditKind, Ends, Job, Placement, Size, Surround, Turn};
use crate::shop::Blemish;
use crate::units::Mm;
use glam::{DVec2, dvec2};

/// The pitch that is asked for where nothing else is.
pub const PITCH: Mm = Mm::new(1.0);

/// The most cells a board is divided into, and the most that its blemishes are held against; a larger board, or one
/// with larger blemishes, is searched at a coarser pitch, which the answer states. The pitch goes by this count alone,
/// never by a clock.
const MOST_CELLS: f64 = 4.0e6;

/// Slack in cells, so that a box that ends on a cell's edge to the last bit does not count as reaching
/// past it.
const HAIR: f64 = 1e-7;

/// A place for a design.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Found {
    /// The size, times as large as drawn.
    pub factor: f64,
    /// How far the design is turned there.
    pub turn: Turn,
    /// The frame's lower left corner from the board's lower left corner, along the board.
    pub x: Mm,
    /// The same across the board.
    pub y: Mm,
    /// The pitch the answer is exact to.
    pub pitch: Mm,
}

impl Found {
    /// The edit that puts a design at the place that was found, at its size.
    pub fn edit(&self) -> Edit {
        let size = Edit::Size(Size::Factor(self.factor));
        Edit::Several(EditKind::FoundPlace, vec![size, self.edit_of_place()])
    }

    /// The same for a design that has the size already, however it was set.
    pub fn edit_of_place(&self) -> Edit {
        let at = Placement::At { x: self.x, y: self.y };
        Edit::Several(EditKind::FoundPlace, vec![Edit::Turn(self.turn), Edit::Place(at)])
    }
}

/// The largest factor and a place for it; of several places, the one nearest the middle of the board,
/// and as it is turned now rather than turned further. `None` where there is no room at all.
///
/// `O(cells)`: 15 ms for a board of 1000 x 300 mm with 25 knots at 1 mm, in a dev build.
pub fn find_largest(job: &Job, pitch: Mm) -> Option<Found> {
    let board = Cells::of(job, pitch)?;
    let best = |turn: Turn| board.largest(Carved::of(job, turn));
    let [kept, turned] = [job.turn(), job.turn().next()];
    let (factor, turn) = match (best(kept), best(turned)) {
        (k, t) if t > k * (1.0 + HAIR) => (t, turned),
        (k, _) => (k, kept),
    };
    if factor <= 0.0 {
        return None;
    }
    let place = board.nearest_the_middle(Carved::of(job, turn), factor)?;
    Some(board.found(job, factor, turn, place))
}

/// A place for the job's own size: the one nearest the middle of the board, as it is turned now if there
/// is one, else a quarter further. `None` where nothing is clear. `O(cells)`.
pub fn find_at_size(job: &Job, pitch: Mm) -> Option<Found> {
    let board = Cells::of(job, pitch)?;
    [job.turn(), job.turn().next()].into_iter().find_map(|turn| {
        // A length or a width is asked for as the design lies now; that size is kept when it is turned.
        let factor = job.factor();
        let place = board.nearest_the_middle(Carved::of(job, turn), factor)?;
        Some(board.found(job, factor, turn, place))
    })
}

/// The blemishes that a job's carved box reaches at `factor`, clearance included: index and how far the
/// shape itself is from the box. Exact, not to a pitch. `O(blemishes)`.
pub fn blemishes_under(job: &Job, factor: f64) -> Vec<(usize, f64)> {
    if job.board().blemishes.is_empty() {
        return Vec::new();
    }
    let carved = super::fit::carved_box(job, factor);
    let near = |blemish: &Blemish| blemish.distance_to_box(carved);
    job.board()
        .blemishes
        .iter()
        .map(near)
        .enumerate()
        .filter(|&(index, distance)| {
            // Touching from outside is clear.
            let clearance = job.board().blemishes[index].clearance.get();
            if clearance > 0.0 {
                distance < clearance - HAIR
            } else {
                reaches_into(&job.board().blemishes[index], carved)
            }
        })
        .collect()
}

/// Whether a blemish without clearance lies inside the box, and does not only touch it.
fn reaches_into(blemish: &Blemish, area: Rect) -> bool {
    let inner = area.grown(-HAIR);
    area.size().min_element() > 2.0 * HAIR && blemish.distance_to_box(inner) == 0.0
}

/// What a dragged frame's lower left corner snaps to: its middle on the board's, or its sides tight to
/// allowance, margin, end or edge; each axis by itself, to whatever is nearest within `reach`.
/// `dragged` and the answer are in board millimetres. `O(1)`.
pub fn snapped(job: &Job, factor: f64, dragged: DVec2, reach: f64) -> DVec2 {
    let [low, high] = Surround::of(job).room(job);
    let frame = job.frame_on_board() * factor;
    let ground = DVec2::splat(job.ground_reach().get());
    let board = dvec2(job.board().length.get(), job.board().width.get());
    let middle = job.corner_at(Placement::Middle, factor);
    let stops = [middle, low, high - frame, ground, board - frame - ground];
    let snap = |axis: usize| {
        let to = |stop: &DVec2| (stop[axis] - dragged[axis]).abs();
        let nearest = stops.iter().min_by(|a, b| to(a).total_cmp(&to(b)));
        nearest.filter(|stop| to(stop) <= reach).map_or(dragged[axis], |stop| stop[axis])
    };
    dvec2(snap(0), snap(1))
}

/// The box that is carved, as a function of the factor: `frame * k + 2 * ground`. Millimetres.
#[derive(Clone, Copy)]
struct Carved {
    frame: DVec2,
    ground: f64,
}

impl Carved {
    fn of(job: &Job, turn: Turn) -> Carved {
        let size = job.frame_box().size();
        let frame = if turn.swaps() { dvec2(size.y, size.x) } else { size };
        Carved { frame, ground: job.ground_reach().get() }
    }

    fn at(&self, factor: f64) -> DVec2 {
        self.frame * factor + 2.0 * self.ground
    }

    /// The factor at which the box has this extent along an axis.
    fn factor_of(&self, extent: f64, axis: usize) -> f64 {
        (extent - 2.0 * self.ground) / self.frame[axis]
    }
}

/// The board's free room in cells.
struct Cells {
    /// Lower left corner of the room, on the board.
    low: DVec2,
    /// Size of the room.
    room: DVec2,
    pitch: f64,
    columns: usize,
    rows: usize,
    /// Closed cells below and left of each cell corner; `columns + 1` a row.
    closed: Vec<u32>,
    /// How many boxes were looked at.
    #[cfg(test)]
    asked: std::cell::Cell<usize>,
}

impl Cells {
    /// `None` where there is no room.
    fn of(job: &Job, pitch: Mm) -> Option<Cells> {
        // Keeping clear of the snipe zones is keeping the allowance.
        let [low, high] = Surround::with_ends(job, Ends::Held).room(job);
        // The room is the frame's; what is placed here is the box with its ground.
        let ground = DVec2::splat(job.ground_reach().get());
        let (low, high) = (low - ground, high + ground);
        let room = high - low;
        if room.min_element() <= 0.0 || !room.is_finite() {
            return None;
        }
        let coarsest = coarsest(low, room, &job.board().blemishes);
        let pitch = pitch.get().max(coarsest).min(room.max_element());
        let count = |side: f64| whole((side / pitch - HAIR).ceil()).max(1);
        let (columns, rows) = (count(room.x), count(room.y));
        let mut cells = vec![false; columns * rows];
        for blemish in &job.board().blemishes {
            close_cells(&mut cells, blemish, low, pitch, [columns, rows]);
        }
        let stride = columns + 1;
        let mut closed = vec![0u32; stride * (rows + 1)];
        for row in 0..rows {
            let mut in_row = 0;
            for column in 0..columns {
                in_row += u32::from(cells[row * columns + column]);
                closed[(row + 1) * stride + column + 1] = closed[row * stride + column + 1] + in_row;
            }
        }
        Some(Cells {
            low,
            room,
            pitch,
            columns,
            rows,
            closed,
            #[cfg(test)]
            asked: std::cell::Cell::default(),
        })
    }

    /// Whether a box of `size` with its lower left corner at `at` (millimetres within the room) stays in
    /// the room and out of closed cells.
    fn clear(&self, at: DVec2, size: DVec2) -> bool {
        #[cfg(test)]
        self.asked.set(self.asked.get() + 1);
        let slack = HAIR * self.pitch;
        let end = at + size;
        if at.min_element() < -slack || (end - self.room).max_element() > slack {
            return false;
        }
        let first = |v: f64, most: usize| whole((v / self.pitch + HAIR).floor()).min(most);
        let past = |v: f64, most: usize| whole((v / self.pitch - HAIR).ceil()).min(most);
        let (left, right) = (first(at.x, self.columns), past(end.x, self.columns));
        let (bottom, top) = (first(at.y, self.rows), past(end.y, self.rows));
        let sum = |row: usize, column: usize| self.closed[row * (self.columns + 1) + column];
        sum(top, right) + sum(bottom, left) == sum(top, left) + sum(bottom, right)
    }

    /// The largest factor that any cell corner takes; 0 where none takes any.
    fn largest(&self, carved: Carved) -> f64 {
        let mut best = 0.0;
        // From the room's lower left corner outwards a bare board is settled by the first look.
        for row in 0..self.rows {
            for column in 0..self.columns {
                let at = dvec2(column as f64, row as f64) * self.pitch;
                // A corner is worth looking at only if it takes more than the best so far.
                if self.clear(at, carved.at(best * (1.0 + 1e-12) + 1e-12)) {
                    best = self.largest_at(at, carved, best);
                }
            }
        }
        best
    }

    /// The largest factor at one corner, which takes more than `least`. A box stops growing where one of
    /// its sides comes to a closed cell or to the end of the room, so only those factors are tried.
    /// `O(log cells)`: it is asked once for each time the best grows, which on a long board is once for most corners.
    fn largest_at(&self, at: DVec2, carved: Carved, least: f64) -> f64 {
        let mut best = least;
        for axis in [0, 1] {
            let room = self.room[axis] - at[axis];
            // The cell edges within the room, and past the last of them the end of the room.
            let stop = |index: usize| (index as f64 * self.pitch).min(room);
            let clears = |index: usize| {
                let factor = carved.factor_of(stop(index), axis);
                factor <= 0.0 || self.clear(at, carved.at(factor))
            };
            // Whether a box is clear falls once as it grows: halve the stops.
            let (mut clear, mut past) = (0, whole((room / self.pitch).ceil()) + 1);
            while past - clear > 1 {
                let middle = usize::midpoint(clear, past);
                if clears(middle) {
                    clear = middle;
                } else {
                    past = middle;
                }
            }
            if clear > 0 {
                best = carved.factor_of(stop(clear), axis).max(best);
            }
        }
        best
    }

    /// Of the places that take a factor, the one whose box has its middle nearest the middle of the
    /// room; the exact middle before any cell corner.
    fn nearest_the_middle(&self, carved: Carved, factor: f64) -> Option<DVec2> {
        let size = carved.at(factor);
        let middle = (self.room - size) * 0.5;
        if self.clear(middle, size) {
            return Some(middle);
        }
        let mut best: Option<(f64, DVec2)> = None;
        for row in 0..self.rows {
            for column in 0..self.columns {
                let at = dvec2(column as f64, row as f64) * self.pitch;
                let away = at.distance_squared(middle);
                if best.is_none_or(|(least, _)| away < least) && self.clear(at, size) {
                    best = Some((away, at));
                }
            }
        }
        best.map(|(_, at)| at)
    }

    fn found(&self, job: &Job, factor: f64, turn: Turn, place: DVec2) -> Found {
        let corner = self.low + place + DVec2::splat(job.ground_reach().get());
        Found { factor, turn, x: Mm::new(corner.x), y: Mm::new(corner.y), pitch: Mm::new(self.pitch) }
    }
}

/// The finest pitch at which the cells of a room, and those that each blemish is held against, stay within
/// [`MOST_CELLS`].
fn coarsest(low: DVec2, room: DVec2, blemishes: &[Blemish]) -> f64 {
    let within = Rect::new(low, low + room);
    let area = |size: DVec2| size.x.max(0.0) * size.y.max(0.0);
    let reached = blemishes.iter().map(|blemish| {
        let around = blemish.bounds().grown(blemish.clearance.get());
        area(around.max.min(within.max) - around.min.max(within.min))
    });
    let all = area(room) + reached.sum::<f64>();
    (all / MOST_CELLS).sqrt().max(room.max_element() / MOST_CELLS)
}

/// A whole number of cells; 0 for what is negative.
#[expect(clippy::cast_sign_loss, reason = "held to 0 or more")]
fn whole(cells: f64) -> usize {
    cells.max(0.0) as usize
}

/// Closes the cells that a blemish, grown by its clearance, reaches into. What only touches a cell from
/// outside does not close it.
fn close_cells(cells: &mut [bool], blemish: &Blemish, low: DVec2, pitch: f64, [columns, rows]: [usize; 2]) {
    let clearance = blemish.clearance.get();
    let around = blemish.bounds().grown(clearance);
    let index = |v: f64, most: usize| whole((v / pitch).floor()).min(most);
    let (left, right) = (index(around.min.x - low.x, columns), index(around.max.x - low.x + pitch, columns));
    let (bottom, top) = (index(around.min.y - low.y, rows), index(around.max.y - low.y + pitch, rows));
    for row in bottom..top {
        for column in left..right {
            let corner = low + dvec2(column as f64, row as f64) * pitch;
            let cell = Rect::new(corner, corner + pitch);
            let reached = if clearance > 0.0 {
                blemish.distance_to_box(cell) < clearance - HAIR
            } else {
                reaches_into(blemish, cell)
            };
            if reached {
                cells[row * columns + column] = true;
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::design::{Design, Element};
    use crate::geometry::{FillRule, Grid, Region};
    use crate::job::Treatment;
    use crate::shop::{BlemishKind, BlemishShape, Board, Machine};
    use proptest::prelude::*;
    use std::sync::Arc;

    fn panel(length: f64, width: f64, board: [f64; 2]) -> Job {
        let area = Rect::new(DVec2::ZERO, dvec2(length, width));
        let grid = Grid::covering(area);
        let region = Region::clean(grid, &[area.corners().to_vec()], FillRule::NonZero);
        let elements = vec![Element::new("panel", region)];
        let design = Design {
            name: "panel".to_owned(),
            elements,
            page: None,
            grid,
            notices: crate::notice::Notices::new(),
            sharpness: None,
        };
        let job = Job::new(Arc::new(design));
        let [infeed_roller, outfeed_roller] = [7.0, 5.0].map(Mm::new);
        let machine = Machine { infeed_roller, outfeed_roller, ..job.machine().clone() };
        let [length, width] = board.map(Mm::new);
        job.with([
            Edit::TreatAll(Treatment::Sunk),
            Edit::BoardSize([length, width, job.board().thickness]),
            Edit::Machine(Box::new(machine)),
        ])
        .unwrap()
    }

    fn with_blemishes(job: &Job, blemishes: Vec<Blemish>) -> Job {
        let board = Board { blemishes, ..job.board().clone() };
        job.with([Edit::Board(Box::new(board))]).unwrap()
    }

    fn circle(x: f64, y: f64, diameter: f64, clearance: f64) -> Blemish {
        let mm = Mm::new;
        let shape = BlemishShape::Circle { x: mm(x), y: mm(y), diameter: mm(diameter) };
        Blemish { kind: BlemishKind::Knot, shape, clearance: mm(clearance) }
    }

    fn close(found: f64, expected: f64) {
        assert!((found - expected).abs() < 1e-6, "{found}, not {expected}");
    }

    #[test]
    fn a_bare_board_takes_the_largest_that_fits_in_its_middle() {
        let job = panel(20.0, 10.0, [112.0, 40.0]);
        let found = find_largest(&job, PITCH).unwrap();
        close(found.factor, job.largest_factor());
        close(found.factor, 4.0); // 40 across decides
        close(found.x.get(), 5.0 + (100.0 - 80.0) / 2.0);
        close(found.y.get(), 0.0);
        assert_eq!(found.turn, Turn::AsDrawn);
    }

    #[test]
    fn a_knot_leaves_the_longer_half() {
        // A split right across at 45 mm, 5 mm clearance: 100 mm of room from 5 to 105 leaves 35 and 55.
        let job = panel(11.0, 1.0, [112.0, 40.0]);
        let ends = [[45.0, 0.0], [45.0, 40.0]].map(|end| end.map(Mm::new));
        let shape = BlemishShape::Line { from: ends[0], to: ends[1] };
        let split = Blemish { kind: BlemishKind::Split, shape, clearance: Mm::new(5.0) };
        let job = with_blemishes(&job, vec![split]);
        let found = find_largest(&job, PITCH).unwrap();
        close(found.factor, 5.0);
        close(found.x.get(), 50.0);
        assert!(
            blemishes_under(&job.with([found.edit()]).unwrap(), found.factor).is_empty(),
            "clear of it, exactly"
        );
    }

    #[test]
    fn turning_is_tried() {
        let job = panel(10.0, 40.0, [212.0, 40.0]);
        let found = find_largest(&job, PITCH).unwrap();
        assert_eq!(found.turn, Turn::Quarter);
        close(found.factor, 4.0);
        let applied = job.with([found.edit()]).unwrap();
        close(applied.largest_factor(), 4.0);
        assert_eq!(super::super::fit::fit(&applied, 4.0).outcome, super::super::FitOutcome::Fits);
    }

    #[test]
    fn a_board_that_is_all_knot_has_no_place() {
        let job = panel(20.0, 10.0, [112.0, 40.0]);
        let knotty = with_blemishes(&job, vec![circle(56.0, 20.0, 200.0, 0.0)]);
        assert_eq!(find_largest(&knotty, PITCH), None);
        let short = job.with([Edit::BoardLength(Mm::new(12.0))]).unwrap();
        assert_eq!(find_largest(&short, PITCH), None, "the allowance is all there is");
    }

    #[test]
    fn the_longest_board_and_blemishes_without_number_take_so_many_steps() {
        for [length, width] in [[1.0e6, 609.0], [609.0, 1.0e6], [1.0e6, 1.0e6], [1.0e6, 0.5], [300.0, 100.0]]
        {
            let bare = panel(20.0, 10.0, [length, width]);
            let knots = (0..2000).map(|_| circle(length / 2.0, width / 2.0, length / 3.0, 1.0)).collect();
            for job in [with_blemishes(&bare, knots), bare] {
                let Some(board) = Cells::of(&job, PITCH) else { continue };
                // Cells cut by the end of the room come on top.
                let cut = (board.columns + board.rows + 1) as f64;
                assert!((board.columns * board.rows) as f64 <= MOST_CELLS + cut, "{length} x {width}");
                let about = job.board().blemishes.iter().map(|blemish| blemish.bounds().grown(1.0));
                let reached = about.map(|around| {
                    let end = around.max.min(board.low + board.room);
                    let size = ((end - around.min.max(board.low)) / board.pitch).max(DVec2::ZERO);
                    size.x * size.y
                });
                assert!(reached.sum::<f64>() <= MOST_CELLS * 1.01, "{length} x {width}");
                let carved = Carved::of(&job, job.turn());
                let factor = board.largest(carved);
                board.nearest_the_middle(carved, factor);
                let (asked, cells) = (board.asked.get(), board.columns * board.rows);
                // Twenty-one a cell at most, by measurement.
                assert!(asked <= 32 * cells + 100_000, "{asked} boxes looked at among {cells} cells");
            }
        }
    }

    #[test]
    fn dragging_snaps_to_the_middle_and_to_the_margins() {
        let job = panel(20.0, 10.0, [112.0, 40.0]);
        let near = |x: f64, y: f64, expected: DVec2| {
            let found = snapped(&job, 1.0, dvec2(x, y), 2.0);
            assert!((found - expected).length() < 1e-9, "{found}, not {expected}");
        };
        near(45.0, 14.0, dvec2(46.0, 15.0));
        near(6.0, 1.0, dvec2(5.0, 0.0));
        near(86.0, 29.5, dvec2(85.0, 30.0));
        near(60.0, 8.0, dvec2(60.0, 8.0));
    }

    /// Every corner, every size a side can stop at, every cell looked at: nothing shared with the search
    /// but the cells' own rule.
    fn by_brute_force(job: &Job, pitch: f64, turn: Turn) -> f64 {
        let carved = Carved::of(job, turn);
        let lead = [5.0, 0.0];
        let room = [job.board().length.get() - 12.0, job.board().width.get()];
        let count = room.map(|side| whole((side / pitch).ceil()));
        let closed = |column: usize, row: usize| {
            let low = dvec2(lead[0] + column as f64 * pitch, lead[1] + row as f64 * pitch);
            // Sampled finely: any point of the cell within the clearance of a knot.
            job.board().blemishes.iter().any(|blemish| {
                let middle = blemish.middle();
                let nearest = middle.clamp(low, low + pitch);
                nearest.distance(middle) < blemish.bounds().size().x / 2.0 + blemish.clearance.get() - 1e-6
            })
        };
        let mut best = 0.0f64;
        for row in 0..count[1] {
            for column in 0..count[0] {
                let at = [column as f64 * pitch, row as f64 * pitch];
                for axis in 0..2 {
                    let ends = (1..=count[axis]).map(|n| n as f64 * pitch).chain([room[axis]]);
                    for end in ends.filter(|&end| end > at[axis] && end <= room[axis]) {
                        let factor = (end - at[axis]) / carved.frame[axis];
                        let size = carved.frame * factor;
                        let far = [at[0] + size.x, at[1] + size.y];
                        if factor <= best || far[0] > room[0] + 1e-9 || far[1] > room[1] + 1e-9 {
                            continue;
                        }
                        let last = far.map(|v| whole((v / pitch - 1e-7).ceil()));
                        let free = (row..last[1]).all(|r| (column..last[0]).all(|c| !closed(c, r)));
                        if free {
                            best = factor;
                        }
                    }
                }
            }
        }
        best
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(60))]

        #[test]
        fn the_search_finds_what_brute_force_finds(
            (length, width) in (3.0..30.0f64, 3.0..30.0f64),
            board in (30.0..60.0f64, 10.0..30.0f64),
            knots in prop::collection::vec((0.0..60.0f64, 0.0..30.0f64, 0.5..8.0f64, 0.1..3.0f64), 0..5),
            pitch in prop::sample::select(vec![1.0, 1.7, 2.5]),
        ) {
            let knots = knots.iter().map(|&(x, y, d, c)| circle(x, y, d, c)).collect();
            let job = with_blemishes(&panel(length, width, [board.0, board.1]), knots);
            let slow = by_brute_force(&job, pitch, Turn::AsDrawn).max(by_brute_force(&job, pitch, Turn::Quarter));
            let found = find_largest(&job, Mm::new(pitch));
            let quick = found.map_or(0.0, |found| found.factor);
            prop_assert!((quick - slow).abs() < 1e-6, "found {quick}, brute force {slow}");
            if let Some(found) = found {
                let placed = job.with([found.edit()]).unwrap();
                prop_assert!(blemishes_under(&placed, found.factor * (1.0 - 1e-6)).is_empty());
                prop_assert!(super::super::fit::overlaps(&placed, found.factor * (1.0 - 1e-6)).is_empty());
                let again = find_at_size(&placed, Mm::new(pitch)).unwrap();
                prop_assert_eq!(again.factor, found.factor);
            }
        }
    }
}
