//! The thinnest wall and the narrowest groove, and from which size on neither is too thin.

use super::findings::element_at;
use super::fit::board_from_design;
use super::rate::Deciding;
use super::{Measured, Ratings};
use crate::job::Job;
use crate::units::Mm;
use glam::DVec2;

/// A sign longer or wider than this is carved by nobody: what is sound only beyond it is sound at no size.
/// A round value of our own.
pub const LONGEST_PRACTICAL: Mm = Mm::new(6000.0);

/// The thinnest wall and the narrowest groove of a job at its size. Points apart: their ends are thin at any.
#[derive(Clone, Debug, PartialEq)]
pub struct Thinnest {
    /// The least wall; `None` where there is none.
    pub wall: Option<Mm>,
    /// The least groove; `None` where there is none.
    pub groove: Option<Mm>,
    /// The least factor at which no wall or groove is under its limit; `None` where nothing limits it,
    /// infinite where two carved places touch.
    pub sound_factor: Option<f64>,
    /// What keeps every size up to [`LONGEST_PRACTICAL`] from being sound, where something does.
    pub obstacle: Option<Obstacle>,
}

/// The wall or groove that only an impractical size would make sound.
#[derive(Clone, Debug, PartialEq)]
pub struct Obstacle {
    /// Whether it is standing wood; else it is a groove.
    pub is_wall: bool,
    /// Its least width at the job's size; 0 where two carved places touch.
    pub width: Mm,
    /// The element it lies in; `None` in the board or the ground.
    pub element: Option<String>,
    /// Where on the board, board millimetres.
    pub at: DVec2,
}

impl Thinnest {
    /// `O(log n)`; where there is an obstacle, it is also looked up which element it belongs to.
    pub(super) fn of(job: &Job, measured: &Measured, ratings: &Ratings, factor: f64) -> Thinnest {
        let at_size = |width: Option<f64>| width.map(|width| Mm::new(width * factor));
        let deciding = ratings.deciding();
        let longest = |factor: f64| job.frame_on_board().max_element() * factor;
        let obstacle = deciding.filter(|piece| longest(piece.factor) > LONGEST_PRACTICAL.get());
        Thinnest {
            wall: at_size(ratings.least_wall()),
            groove: at_size(ratings.least_groove()),
            sound_factor: deciding.map(|piece| piece.factor),
            obstacle: obstacle.map(|piece| Obstacle::of(job, measured, factor, &piece)),
        }
    }
}

impl Obstacle {
    fn of(job: &Job, measured: &Measured, factor: f64, deciding: &Deciding) -> Obstacle {
        let level = &measured.levels()[deciding.level];
        let map = if deciding.is_wall { &level.walls } else { &level.grooves };
        let narrow = map.pieces()[deciding.piece as usize].narrow;
        Obstacle {
            is_wall: deciding.is_wall,
            width: Mm::new(narrow.width * factor),
            element: element_at(job, measured, narrow.at),
            at: board_from_design(job, factor).transform_point2(narrow.at),
        }
    }
}
