//! Questions about a batch that take a search of their own: the shortest board, the board of the rack, one more.

use super::batch::waste;
use super::shape::grid_for;
use super::{Arrangement, Effort, Impossible, Shape, Wanted, arrange};
use crate::geometry::Region;
use crate::geometry::nofit::no_fit;
use crate::job::{Edit, Job, LONGEST, Lie, Surround};
use crate::shop::{RackBoard, Shop};
use crate::units::Mm;
use glam::dvec2;
use std::sync::atomic::AtomicBool;

/// The shortest board, as wide and thick as the job's and without blemishes, that takes all copies that the job says:
/// as short as the search finds.
///
/// # Errors
///
/// Where a piece is wider than the board, or it is called off.
pub fn shortest(job: &Job, effort: Effort, cancel: &AtomicBool) -> Result<Mm, Impossible> {
    // All in one row.
    let row = (0..job.piece_count()).map(|piece| {
        let one = job.piece(piece);
        let side = one.frame_on_board().max_element() * one.factor();
        let surround = Surround::of(&one);
        let each = Mm::new(side) + job.gap() + one.ground_reach() * 2.0;
        (each * job.lot(piece).count as f64, surround.left + surround.right)
    });
    let (length, ends) = row.fold((Mm::ZERO, Mm::ZERO), |(sum, ends), (row, own)| (sum + row, ends.max(own)));
    let mut board = job.board().clone();
    board.length = (length + ends).min(LONGEST);
    board.blemishes.clear();
    board.photo = None;
    let long = job.with([Edit::Board(Box::new(board))]);
    let long = long.unwrap_or_else(|_too_long| job.clone());
    Ok(arrange(&long, Wanted::Counts, effort, cancel)?.used)
}

/// A board of the rack, with all copies on it.
#[derive(Clone, Debug)]
pub struct OnRack {
    /// Its place in the list that was asked about.
    pub index: usize,
    /// Its name.
    pub name: String,
    /// How many of the copies it takes.
    pub count: usize,
    /// Whether it takes all.
    pub takes_all: bool,
    /// The share of the board that does not become a finished piece, 0 to 1.
    pub waste: f64,
    /// What is left of its length.
    pub offcut: Mm,
}

/// Every board of the rack that takes some of the copies: those that take all first, then by the least waste, then by
/// name. A board in another wood counts as one; the pieces are carved in what it is made of.
///
/// # Errors
///
/// Where it is called off.
pub fn on_rack(
    job: &Job,
    boards: &[RackBoard],
    shop: &Shop,
    cancel: &AtomicBool,
) -> Result<Vec<OnRack>, Impossible> {
    let mut rows = Vec::new();
    for (index, entry) in boards.iter().enumerate() {
        let mut edits = vec![Edit::Board(Box::new(entry.board.clone()))];
        edits.extend(
            shop.woods
                .iter()
                .find(|wood| wood.id == entry.wood)
                .map(|wood| Edit::Wood(Box::new(wood.clone()))),
        );
        let Ok(on_board) = job.with(edits) else { continue };
        let found = match arrange(&on_board, Wanted::Counts, Effort::Quick, cancel) {
            Ok(found) => found,
            Err(Impossible::CalledOff) => return Err(Impossible::CalledOff),
            Err(_) => continue,
        };
        let board = on_board.board();
        let finished: f64 = found
            .lies
            .iter()
            .enumerate()
            .map(|(piece, lies)| {
                let one = on_board.piece(piece);
                let frame = one.frame_on_board() * one.factor();
                frame.x * frame.y * lies.len() as f64
            })
            .sum();
        rows.push(OnRack {
            index,
            name: entry.name.clone(),
            count: found.count(),
            takes_all: found.left_over.iter().all(|&left| left == 0),
            waste: waste(board, finished),
            offcut: (board.length - found.used).max(Mm::ZERO),
        });
    }
    rows.sort_by(|a, b| {
        let order = b.takes_all.cmp(&a.takes_all).then(a.waste.total_cmp(&b.waste));
        order.then_with(|| a.name.cmp(&b.name)).then(a.index.cmp(&b.index))
    });
    Ok(rows)
}

/// Whether one more of a piece goes on the board.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum OneMore {
    /// It goes there, among what is laid already.
    Fits(Lie),
    /// There is no place for it as the others lie.
    NoPlace,
}

/// Whether one more copy of a piece goes on the board as the others lie.
pub fn one_more(job: &Job, laid: &Arrangement, piece: usize) -> OneMore {
    let gap = job.gap();
    let grid = grid_for(job, job.board().length);
    let shape = |piece: usize, turn| {
        Shape::of(&job.copy(piece, Lie { x: Mm::ZERO, y: Mm::ZERO, turn }), piece, gap, grid)
    };
    let set = job.piece(piece).turn();
    for turn in job.lot(piece).turns.of(set) {
        let new = shape(piece, turn);
        let mut taken: Vec<Region> = Vec::new();
        for (other, lies) in laid.lies.iter().enumerate() {
            let mut turns: Vec<_> = lies.iter().map(|lie| lie.turn).collect();
            turns.sort_unstable();
            turns.dedup();
            for turn in turns {
                let region = no_fit(&shape(other, turn).kept, &new.kept);
                let there = lies.iter().filter(|lie| lie.turn == turn);
                taken.extend(there.map(|lie| region.moved(dvec2(lie.x.get(), lie.y.get()))));
            }
        }
        let free = new.spots(job).minus_all(&taken);
        let spot = free.rings().flat_map(crate::geometry::Ring::points).map(|at| new.held(at));
        if let Some(at) = spot.min_by(|a, b| a.x.total_cmp(&b.x).then(a.y.total_cmp(&b.y))) {
            let [x, y] = at.to_array().map(Mm::new);
            return OneMore::Fits(Lie { x, y, turn });
        }
    }
    OneMore::NoPlace
}
