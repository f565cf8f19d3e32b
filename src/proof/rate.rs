//! Every measured piece against its limit, sorted so that any size is a look-up.

use super::{Limits, Measured};
use crate::geometry::widths::{Piece, WidthMap};
use crate::job::Job;
use crate::units::Mm;

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
    least_sound_factor: Option<f64>,
}

impl RatedMap {
    fn new(map: &WidthMap, limit: impl Fn(u32, &Piece) -> Mm) -> RatedMap {
        let mut ratings: Vec<Rating> = (0..)
            .zip(map.pieces())
            .map(|(index, piece)| {
                let limit = limit(index, piece).get();
                Rating { critical: limit / piece.narrow.width, piece: index, limit }
            })
            .collect();
        ratings.sort_unstable_by(|a, b| b.critical.total_cmp(&a.critical).then(a.piece.cmp(&b.piece)));
        let least_sound_factor = ratings
            .iter()
            .find(|rating| !map.pieces()[rating.piece as usize].taper)
            .map(|rating| rating.critical);
        RatedMap { ratings, least_sound_factor }
    }

    /// The least factor at which no wall or groove is under its limit (tips apart); `None` where there
    /// is neither.
    pub fn least_sound_factor(&self) -> Option<f64> {
        self.least_sound_factor
    }

    /// The pieces that are thin at `factor`, each with its limit in design millimetres: what
    /// [`WidthMap::features`] asks for. `O(log n + hits)`.
    pub fn thin_at(&self, factor: f64) -> Vec<(u32, f64)> {
        let hits = self.ratings.partition_point(|rating| rating.critical * (1.0 - HAIR) > factor);
        self.ratings[..hits].iter().map(|rating| (rating.piece, rating.limit / factor)).collect()
    }
}

/// A measured design rated for one cutter, depth and wood: any size is now a look-up.
#[derive(Clone, Debug)]
pub struct Ratings {
    /// The limits it was rated by.
    pub limits: Limits,
    /// Standing wood.
    pub walls: RatedMap,
    /// Carved places.
    pub grooves: RatedMap,
}

impl Ratings {
    /// The least factor at which no wall or groove is under its limit; `None` where nothing limits it.
    pub fn least_sound_factor(&self) -> Option<f64> {
        let maps = [&self.walls, &self.grooves];
        maps.iter().filter_map(|map| map.least_sound_factor()).max_by(f64::total_cmp)
    }
}

/// Rates a measured design for a job. Depends on the cutter, the depth, the wood, the board's
/// thickness and the turn, and not on the size. `O(n log n)` in pieces.
pub fn rate(job: &Job, measured: &Measured) -> Ratings {
    let limits = Limits::of(job);
    let walls = RatedMap::new(&measured.walls, |index, piece| {
        limits.wall(piece.direction, measured.beside_pierced(index))
    });
    let grooves =
        RatedMap::new(&measured.grooves, |index, _| limits.groove_in(measured.groove_treatment(index)));
    Ratings { limits, walls, grooves }
}
