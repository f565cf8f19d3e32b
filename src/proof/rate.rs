//! Every measured piece against its limit, sorted so that any size is a look-up.

use super::Measured;
use super::limit::{Held, PlaceLimits, more_demanding};
use crate::design::Design;
use crate::geometry::widths::{Piece, WidthMap};
use crate::job::Job;
use crate::units::Mm;
use std::sync::Arc;

/// A wall within a hundred thousandth of its limit is at its limit: outlines are snapped to a grid (a
/// few millionths of a millimetre on a metre), and a wall drawn exactly as thick as it must be is not to
/// be flagged for that.
const HAIR: f64 = 1e-5;

/// A piece, and the factor under which it is too thin.
#[derive(Clone, Copy, Debug)]
struct Rating {
    /// Thin where the design's factor is less than this: the piece's limit over its least width.
    critical: f64,
    piece: u32,
    /// The piece's limit, millimetres on the board.
    limit: f64,
}

/// The pieces of one width map, sorted by the factor under which each is too thin.
#[derive(Clone, Debug)]
pub struct RatedMap {
    ratings: Vec<Rating>,
    /// The piece that is thinnest for its limit, tips apart: an index into `ratings`.
    deciding: Option<usize>,
    least: Option<f64>,
}

/// The piece that decides from which size on a design is sound.
#[derive(Clone, Copy, Debug)]
pub(super) struct Deciding {
    /// That size: the least factor at which the piece is not under its limit; infinite where its width is 0.
    pub(super) factor: f64,
    /// An index into the levels.
    pub(super) level: usize,
    /// Whether the piece is of the level's walls; else it is of its grooves.
    pub(super) is_wall: bool,
    /// An index into the pieces of that map.
    pub(super) piece: u32,
}

impl RatedMap {
    /// Pieces without a limit are told elsewhere, and left out.
    fn new(map: &WidthMap, limit: impl Fn(u32, &Piece) -> Option<Mm>) -> RatedMap {
        let mut ratings: Vec<Rating> = (0..)
            .zip(map.pieces())
            .filter_map(|(index, piece)| {
                let limit = limit(index, piece)?.get();
                Some(Rating { critical: limit / piece.narrow.width, piece: index, limit })
            })
            .collect();
        ratings.sort_unstable_by(|a, b| b.critical.total_cmp(&a.critical).then(a.piece.cmp(&b.piece)));
        let whole = |rating: &&Rating| !map.pieces()[rating.piece as usize].taper;
        let deciding = ratings.iter().position(|rating| whole(&rating));
        let least = ratings
            .iter()
            .filter(whole)
            .map(|rating| map.pieces()[rating.piece as usize].narrow.width)
            .min_by(f64::total_cmp);
        RatedMap { ratings, deciding, least }
    }

    /// The least factor at which no wall or groove is under its limit (tips apart); `None` where there
    /// is neither.
    pub fn least_sound_factor(&self) -> Option<f64> {
        self.deciding.map(|index| self.ratings[index].critical)
    }

    /// The least width as drawn, tips apart; `None` where there is none.
    pub fn least(&self) -> Option<f64> {
        self.least
    }

    /// The pieces that are thin at `factor`, each with its limit in design millimetres: what
    /// [`WidthMap::features`] asks for. `O(log n + hits)`.
    pub fn thin_at(&self, factor: f64) -> Vec<(u32, f64)> {
        let hits = self.ratings.partition_point(|rating| rating.critical * (1.0 - HAIR) > factor);
        self.ratings[..hits].iter().map(|rating| (rating.piece, rating.limit / factor)).collect()
    }
}

/// The walls and grooves of one level, rated.
#[derive(Clone, Debug)]
pub struct LevelRatings {
    /// Standing wood.
    pub walls: RatedMap,
    /// Carved places.
    pub grooves: RatedMap,
}

/// A measured design rated for its cutters, depths and wood: any size is now a look-up.
#[derive(Clone, Debug)]
pub struct Ratings {
    /// The limits it was rated by.
    pub limits: Arc<PlaceLimits>,
    /// One a level of what was measured.
    pub levels: Vec<LevelRatings>,
}

impl Ratings {
    /// The least factor at which no wall or groove is under its limit; `None` where nothing limits it.
    pub fn least_sound_factor(&self) -> Option<f64> {
        let maps = self.levels.iter().flat_map(|level| [&level.walls, &level.grooves]);
        maps.filter_map(RatedMap::least_sound_factor).max_by(f64::total_cmp)
    }

    /// The piece that decides it: of several, the first.
    pub(super) fn deciding(&self) -> Option<Deciding> {
        let maps = self.levels.iter().enumerate();
        let maps =
            maps.flat_map(|(level, rated)| [(level, true, &rated.walls), (level, false, &rated.grooves)]);
        let decisive = maps.filter_map(|(level, is_wall, map)| {
            let rating = &map.ratings[map.deciding?];
            Some(Deciding { factor: rating.critical, level, is_wall, piece: rating.piece })
        });
        decisive.reduce(|first, next| if next.factor > first.factor { next } else { first })
    }

    /// The least wall as drawn, tips apart.
    pub fn least_wall(&self) -> Option<f64> {
        self.levels.iter().filter_map(|level| level.walls.least()).min_by(f64::total_cmp)
    }

    /// The least groove as drawn, tips apart.
    pub fn least_groove(&self) -> Option<f64> {
        self.levels.iter().filter_map(|level| level.grooves.least()).min_by(f64::total_cmp)
    }
}

/// What one level of a design is rated by.
pub(super) struct Rule<'a> {
    pub(super) limits: &'a PlaceLimits,
    pub(super) measured: &'a Measured,
    pub(super) design: &'a Design,
    /// An index into the levels.
    pub(super) level: usize,
}

impl Rule<'_> {
    /// What a wall is held to by the places beside it, as it runs at `direction`; `None` where it is told at
    /// another level.
    ///
    /// Under the face that is every wall that reaches up to it. Between two Vs cut into a floor no wall is told:
    /// their slopes meet the floor farther apart than their edges are at the face, by as much as it is deep.
    pub(super) fn wall(&self, piece: u32, direction: f64) -> Option<Held> {
        if let Some(common) = self.limits.common() {
            return self.limits.wall(direction, &[common]);
        }
        let sides = |measured: &Measured| measured.wall_sides(self.design, self.level)[piece as usize];
        if self.level == 0 {
            return self.limits.wall(direction, &sides(self.measured));
        }
        let top = self.measured.tops(self.design, self.level)[piece as usize]?;
        self.limits.lowered_wall(direction, &sides(self.measured), top)
    }

    /// What a groove is held to: the places whose edges it lies between. One that lies between edges of deeper
    /// places alone is told at their level.
    pub(super) fn groove(&self, piece: u32) -> Option<Held> {
        if let Some(common) = self.limits.common() {
            return Some(self.limits.groove(common));
        }
        let sides = self.measured.groove_sides(self.design, self.level)[piece as usize];
        let told = sides.into_iter().filter(|&place| self.measured.tells_of(self.level, place));
        told.map(|place| self.limits.groove(place)).reduce(more_demanding)
    }
}

/// Rates a measured design for a job. Depends on the cutters, the depths, the wood, the board's
/// thickness and the turn, and not on the size. `O(n log n)` in pieces; where places are cut in several ways, the
/// first time also looks up the places of each piece.
pub fn rate(job: &Job, measured: &Measured) -> Ratings {
    let limits = PlaceLimits::of(job);
    let levels = (0..)
        .zip(measured.levels())
        .map(|(index, level)| {
            let rule = Rule { limits: &limits, measured, design: job.design(), level: index };
            LevelRatings {
                walls: RatedMap::new(&level.walls, |piece, at| Some(rule.wall(piece, at.direction)?.limit)),
                grooves: RatedMap::new(&level.grooves, |piece, _| Some(rule.groove(piece)?.limit)),
            }
        })
        .collect();
    Ratings { limits: Arc::new(limits), levels }
}
