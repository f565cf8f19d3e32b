//! Every measured piece against its limit, sorted so that any size is a look-up.

use super::limit::{Held, PlaceLimits, more_demanding};
use super::wall::Heading;
use super::{Level, Measured};
use crate::geometry::widths::{Piece, WidthMap};
use crate::job::Job;
use crate::units::Mm;
use rayon::prelude::*;
use std::cmp::Reverse;
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};

/// A wall within a hundred thousandth of its limit is at its limit: outlines are snapped to a grid (a
/// few millionths of a millimetre on a metre), and a wall drawn exactly as thick as it must be is not to
/// be flagged for that.
const HAIR: f64 = 1e-5;

/// A piece, and the factor under which it is too thin.
#[derive(Clone, Copy, Debug)]
struct Rating {
    /// Where the design's factor is at least this the piece is as wide as its limit.
    critical: f64,
    piece: u32,
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
    /// `limit` gives that of a piece where the design is so many times as large as drawn, millimetres on the board.
    /// Pieces without a limit are told elsewhere, and left out. `None` once `cancel` is set.
    fn new<L: Fn(f64) -> Option<Mm>>(
        map: &WidthMap,
        cancel: &AtomicBool,
        limit: impl Fn(u32) -> L + Sync,
    ) -> Option<RatedMap> {
        let rating = |(index, piece): (u32, &Piece)| {
            if cancel.load(Ordering::Relaxed) {
                return None;
            }
            let limit = limit(index);
            let at = |factor: f64| Some(limit(factor)?.get());
            Some(Rating { critical: in_steps(critical(piece.narrow.width, at)?), piece: index })
        };
        let pieces = map.pieces();
        let count = u32::try_from(pieces.len()).expect("pieces are counted in 32 bits");
        let mut ratings: Vec<Rating> =
            (0..count).into_par_iter().filter_map(|index| rating((index, &pieces[index as usize]))).collect();
        if cancel.load(Ordering::Relaxed) {
            return None;
        }
        // Factors are in the order of their bits, which are quicker to compare.
        ratings.sort_unstable_by_key(|rating| (Reverse(rating.critical.to_bits()), rating.piece));
        let whole = |rating: &&Rating| !pieces[rating.piece as usize].taper;
        let deciding = ratings.iter().position(|rating| whole(&rating));
        let least = ratings
            .iter()
            .filter(whole)
            .map(|rating| pieces[rating.piece as usize].narrow.width)
            .min_by(f64::total_cmp);
        Some(RatedMap { ratings, deciding, least })
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

    /// The pieces that may be thin at `factor`, each with its limit in design millimetres, what
    /// [`WidthMap::features`] asks for. `limit` is that of a piece at this factor, millimetres on the board.
    /// `O(log n + hits)`.
    pub(super) fn thin_at(&self, factor: f64, limit: impl Fn(u32) -> Option<Mm>) -> Vec<(u32, f64)> {
        // Wider by a hair: what is drawn exactly as thick as it must be is not thin.
        let limit = |piece: u32| Some(limit(piece)?.get() * (1.0 - HAIR) / factor);
        self.pieces_under(factor).filter_map(|piece| Some((piece, limit(piece)?))).collect()
    }

    /// The pieces that may be thin at `factor`, worst first.
    pub fn pieces_under(&self, factor: f64) -> impl Iterator<Item = u32> + '_ {
        let hits = self.ratings.partition_point(|rating| rating.critical * (1.0 - HAIR) > factor);
        self.ratings[..hits].iter().map(|rating| rating.piece)
    }
}

/// Factors are told in steps of this many of the last bits, a ten-millionth: pieces of one wall that grow thin together
/// then stay in their order, and with it the wall keeps its name, however each factor was come by.
const STEP_BITS: u32 = 29;

/// A factor, 0 or more, to the nearest step.
fn in_steps(factor: f64) -> f64 {
    let half = 1 << (STEP_BITS - 1);
    f64::from_bits((factor.to_bits() + half) >> STEP_BITS << STEP_BITS)
}

/// The least factor from which on a piece `width` wide as drawn is as wide as its limit, whose limit at a factor is
/// `limit`; infinite where it has no width. `None` where there is no limit.
///
/// The limit of a wall falls as it grows longer where its ends are free: then there is one such factor. Where its
/// ends are joined the limit may rise, and a wall may be sound, thin and sound again as it grows: then the greatest
/// is looked for downwards from where it is sure to be sound.
fn critical(width: f64, limit: impl Fn(f64) -> Option<f64>) -> Option<f64> {
    // How far from sound, on a logarithmic scale: 0 at the limit.
    let lacks = |factor: f64| Some((limit(factor)? / (factor * width)).ln());
    let long = limit(f64::INFINITY)?;
    if width <= 0.0 {
        return Some(f64::INFINITY);
    }
    let start = if long.is_finite() && long > 0.0 { long / width } else { 1.0 };
    let lacking = lacks(start)?;
    if lacking.abs() < EXACT {
        return Some(start);
    }
    match around([start.ln(), lacking], lacks)? {
        Around::Ends([thin, sound]) => between(thin, sound, |at| lacks(at.exp())).map(f64::exp),
        Around::ThinHoweverLarge => Some(f64::INFINITY),
        Around::SoundFrom(at) => Some(at.exp()),
    }
}

/// What is found about where a wall begins to be sound.
enum Around {
    /// A place where it is thin and one further on where it is sound, each with how far it is from sound there.
    Ends([[f64; 2]; 2]),
    ThinHoweverLarge,
    /// As far down as is looked.
    SoundFrom(f64),
}

/// Looks upwards from where a wall is thin, or downwards from where it is sound, for where it is the other. Places are
/// logarithms of factors. `None` where there is no limit.
///
/// If the limit stayed as it is, a wall that lacks so much would be sound just so much further on. Where it falls with
/// length the wall is sound there already; where it rises nothing is thin before that, and the next step goes by how
/// fast it fell with the last.
fn around(start: [f64; 2], lacks: impl Fn(f64) -> Option<f64>) -> Option<Around> {
    let up = start[1] > 0.0;
    let last = start[0] + if up { FARTHEST_UP } else { -FARTHEST_DOWN };
    let (mut from, mut share, mut least_step) = (start, 1.0, EXACT);
    loop {
        let step = (from[1] * share * PAST).abs().max(least_step);
        let at = if up { (from[0] + step).min(last) } else { (from[0] - step).max(last) };
        let next = [at, lacks(at.exp())?];
        if (next[1] > 0.0) != up {
            return Some(Around::Ends(if up { [from, next] } else { [next, from] }));
        }
        if at == last {
            return Some(if up { Around::ThinHoweverLarge } else { Around::SoundFrom(at) });
        }
        share = ((at - from[0]) / (from[1] - next[1])).clamp(1.0, LONGEST_STEP);
        least_step *= 2.0;
        from = next;
    }
}

/// Where a curve crosses nothing between a place where it lies above and one where it lies below; each is given with
/// the curve's height there. `None` where the curve has no height.
///
/// Regula falsi; the end that stays twice counts for less, by how far the other end came (Anderson and Björck, *A new
/// high order method of regula falsi type*, 1973, from memory). Some seven looks where the curve is smooth.
fn between(above: [f64; 2], below: [f64; 2], height: impl Fn(f64) -> Option<f64>) -> Option<f64> {
    let mut ends = [above, below];
    let mut moved = None;
    for _ in 0..MOST_LOOKS {
        let [[from, high], [to, low]] = ends;
        if to - from < EXACT {
            break;
        }
        let share = high / (high - low);
        let at = from + (to - from) * if share > 0.0 && share < 1.0 { share } else { 0.5 };
        let found = height(at)?;
        if found.abs() < EXACT {
            return Some(at);
        }
        let side = usize::from(found <= 0.0);
        if moved == Some(side) {
            let left = 1.0 - found / ends[side][1];
            ends[1 - side][1] *= if left > 0.0 { left } else { 0.5 };
        }
        (ends[side], moved) = ([at, found], Some(side));
    }
    Some(ends[1][0])
}

/// Logarithms of widths that differ by less are one width.
const EXACT: f64 = 1e-10;
/// How often a crossing is looked for: far more often than any curve here needs.
const MOST_LOOKS: u32 = 100;
/// By how much more than it should take the limit is looked for, so that it lies between two looks.
const PAST: f64 = 1.05;
/// How many times what a wall lacks one step is at most.
const LONGEST_STEP: f64 = 4.0;
/// How far upwards at most: what is thin a million times as large is thin however large.
const FARTHEST_UP: f64 = 13.8;
/// How far downwards at most: what is sound at a hundredth of where a long wall would be is told as sound from there
/// on, for nobody carves so small.
const FARTHEST_DOWN: f64 = 4.71;

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
    /// An index into the levels.
    pub(super) level: usize,
}

impl Rule<'_> {
    /// Looks up the places of all pieces, if they count: once, and before many threads ask for them at a time.
    fn prepare(&self) {
        if self.limits.common().is_none() {
            self.measured.wall_sides(self.level);
            self.measured.groove_sides(self.level);
            if self.level > 0 {
                self.measured.tops(self.level);
            }
        }
    }

    /// What a wall is held to by the places beside it, as it runs at `direction`; `None` where it is told at
    /// another level.
    ///
    /// Under the face that is every wall that reaches up to it. Between two Vs cut into a floor no wall is told:
    /// their slopes meet the floor farther apart than their edges are at the face, by as much as it is deep.
    ///
    /// At a factor, for a wall's limit depends on how long it is.
    pub(super) fn wall(&self, piece: u32, direction: f64, factor: f64) -> Option<Held> {
        self.wall_heading(piece, &self.limits.heading(direction), factor)
    }

    fn wall_heading(&self, piece: u32, heading: &Heading, factor: f64) -> Option<Held> {
        let run = self.measured.levels()[self.level].run(piece).scaled(factor);
        if let Some(common) = self.limits.common() {
            return self.limits.wall(heading, &[common], &run);
        }
        let sides = |measured: &Measured| measured.wall_sides(self.level)[piece as usize];
        if self.level == 0 {
            return self.limits.wall(heading, &sides(self.measured), &run);
        }
        let top = self.measured.tops(self.level)[piece as usize]?;
        self.limits.lowered_wall(heading, &sides(self.measured), top, &run)
    }

    /// The walls of the level that may be thin at a factor, each with its limit in design millimetres.
    pub(super) fn thin_walls(&self, rated: &RatedMap, factor: f64) -> Vec<(u32, f64)> {
        let level = &self.measured.levels()[self.level];
        rated.thin_at(factor, |piece| Some(self.wall(piece, level.direction(piece), factor)?.limit))
    }

    /// The grooves of the level that are too narrow at a factor, each with its limit in design millimetres.
    pub(super) fn thin_grooves(&self, rated: &RatedMap, factor: f64) -> Vec<(u32, f64)> {
        rated.thin_at(factor, |piece| Some(self.groove(piece)?.limit))
    }

    /// What a groove is held to: the places whose edges it lies between. One that lies between edges of deeper
    /// places alone is told at their level.
    pub(super) fn groove(&self, piece: u32) -> Option<Held> {
        if let Some(common) = self.limits.common() {
            return Some(self.limits.groove(common));
        }
        let sides = self.measured.groove_sides(self.level)[piece as usize];
        let told = sides.into_iter().filter(|&place| self.measured.tells_of(self.level, place));
        told.map(|place| self.limits.groove(place)).reduce(more_demanding)
    }
}

/// Rates a measured design for a job. Depends on the cutters, the depths, the wood, the board's
/// thickness and the turn, and not on the size. `O(n log n)` in pieces; where places are cut in several ways, the
/// first time also looks up the places of each piece.
pub fn rate(job: &Job, measured: &Measured) -> Ratings {
    rate_unless(job, measured, &AtomicBool::new(false)).expect("it is never called off")
}

/// [`rate`] that looks before each piece whether it is called off; `None` then.
pub fn rate_unless(job: &Job, measured: &Measured, cancel: &AtomicBool) -> Option<Ratings> {
    let limits = PlaceLimits::of(job);
    let level = |(index, level): (usize, &Level)| {
        let rule = &Rule { limits: &limits, measured, level: index };
        rule.prepare();
        let walls = RatedMap::new(&level.walls, cancel, |piece| {
            let heading = limits.heading(level.direction(piece));
            move |factor| Some(rule.wall_heading(piece, &heading, factor)?.limit)
        });
        let grooves = RatedMap::new(&level.grooves, cancel, |piece| {
            let limit = rule.groove(piece).map(|held| held.limit);
            move |_| limit
        });
        Some(LevelRatings { walls: walls?, grooves: grooves? })
    };
    let levels: Option<Vec<LevelRatings>> = measured.levels().iter().enumerate().map(level).collect();
    Some(Ratings { levels: levels?, limits: Arc::new(limits) })
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::cell::Cell;

    /// Whether a limit stays, falls or rises with the factor, it is met where a slow look downwards meets it.
    #[test]
    fn a_wall_is_sound_from_where_a_slow_look_finds_it() {
        let looks = Cell::new(0_u32);
        let mut sought = 0;
        let mut look = |name: &str, width: f64, limit: &dyn Fn(f64) -> f64| {
            let lacks = |at: f64| limit(at.exp()) / (at.exp() * width) - 1.0;
            let mut high = 1e4_f64.ln();
            assert!(lacks(high) < 0.0, "{name}");
            while lacks(high - 1e-3) < 0.0 {
                high -= 1e-3;
            }
            let mut low = high - 1e-3;
            for _ in 0..60 {
                let middle = f64::midpoint(low, high);
                if lacks(middle) < 0.0 { high = middle } else { low = middle }
            }
            let counted = |factor: f64| {
                looks.set(looks.get() + 1);
                Some(limit(factor))
            };
            let found = critical(width, counted).unwrap();
            assert!((found.ln() - high).abs() < 1e-9, "{name}, {width}: {found}, not {}", high.exp());
            sought += 1;
        };
        for width in [0.3, 1.0, 2.7] {
            look("stays", width, &|_| 1.5);
            for a in [0.01, 0.3, 2.0, 9.0] {
                look("falls", width, &|factor| 1.5 * (1.0 + a / factor).sqrt());
                look("falls to nothing", width, &|factor| 1.5 / (1.0 + factor / a).cbrt());
                look("rises", width, &|factor| {
                    if factor.is_finite() { 1.5 * factor / (factor + a) + 0.2 } else { 1.7 }
                });
                look("rises slowly", width, &|factor| 2.0 - 1.4 / (1.0 + factor * a).sqrt());
                // A wall that is sound, thin and sound again as it grows.
                look("rises at once", width, &|factor| 1.0 + 0.8 / (1.0 + (-40.0 * (factor - a)).exp()));
            }
        }
        assert!(looks.get() < 12 * sought, "{} looks for {sought}", looks.get());
    }

    #[test]
    fn a_crossing_is_found_in_few_looks() {
        // A curve, where it crosses nothing, and how many looks are enough.
        let look = |name: &str, curve: fn(f64) -> f64, expected: f64, enough: u32| {
            let looks = Cell::new(0);
            let height = |at: f64| {
                looks.set(looks.get() + 1);
                Some(curve(at))
            };
            let found = between([0.0, curve(0.0)], [1.0, curve(1.0)], height).unwrap();
            assert!((found - expected).abs() < 1e-9, "{name}: {found}, not {expected}");
            assert!(looks.get() <= enough, "{name}: {} looks", looks.get());
        };
        look("a line", |x| 0.3 - x, 0.3, 1);
        look("a root", |x| (2.0 - x).sqrt() - 1.2, 0.56, 7);
        look("steep, then level", |x| (-8.0 * x).exp() - 0.4, -(0.4f64.ln()) / 8.0, 9);
        look("a corner", |x| (0.2 - x).min(0.05 * (0.2 - x)), 0.2, 9);
        look("a step", |x| if x < 0.7 { 1.0 } else { -0.3 }, 0.7, 45);
    }
}
