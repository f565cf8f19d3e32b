//! Every measured piece against the limit of this cutter, depth, wood and direction.
//!
//! A wall `t` thick and `h` tall, pushed at its top by `f` a unit of length, is stressed at its root
//! by `6 f h / t^2` across the grain, whichever way it runs in plan. A wall known to survive therefore
//! tells what another wood and another depth need: `t = t0 sqrt(h/h0 * s0/s)`, with `s` the tension
//! strength across the grain. The model is our own (no published minimum wall for carved wood was
//! found); the walls it starts from are the cutter's, and the shop's to correct.

use super::Measured;
use crate::geometry::widths::{Piece, WidthMap};
use crate::job::{Job, Treatment};
use crate::shop::{CutterShape, Wood, woods};
use crate::units::{LengthUnit, Mm};

/// A V groove shallower than this hardly shows once it is sanded and finished (common practice, no
/// source).
pub const SHALLOW_DEPTH: Mm = Mm::new(0.5);

/// The thinnest wall that this cutter, depth and wood should be trusted with, and the narrowest groove
/// that the cutter can enter.
#[derive(Clone, Debug, PartialEq)]
pub struct Limits {
    /// For a wall along the grain.
    pub along: Mm,
    /// For a wall across the grain.
    pub across: Mm,
    /// For a wall along the grain beside a place that is cut through.
    pub pierced_along: Mm,
    /// For a wall across the grain beside a place that is cut through.
    pub pierced_across: Mm,
    /// The narrowest groove the cutter can enter to the full depth.
    pub groove: Mm,
    /// The narrowest groove it can cut through the board.
    pub pierced_groove: Mm,
    /// The narrowest V groove that still shows; `None` where the cutter is no V.
    pub incised_groove: Option<Mm>,
    /// The wood whose strength stands in where this one has none published.
    pub stand_in: Option<String>,
    wall_height: Mm,
    reference: String,
}

impl Limits {
    /// The limits of a job.
    pub fn of(job: &Job) -> Limits {
        let reference = &job.cutter.reference;
        let (strength, stand_in) = strength_across(&job.wood);
        let reference_strength = Wood::find(&reference.wood).map_or(strength, |wood| strength_across(wood).0);
        let carried = |thickness: Mm, height: Mm| {
            thickness * (height / reference.height * reference_strength / strength).sqrt()
        };
        let (depth, thickness) = (job.depth, job.board.thickness);
        let shape = job.cutter.shape;
        Limits {
            along: carried(reference.along, depth),
            across: carried(reference.across, depth),
            pierced_along: carried(reference.along, thickness),
            pierced_across: carried(reference.across, thickness),
            groove: shape.width_at(depth),
            pierced_groove: shape.width_at(thickness),
            incised_groove: match shape {
                CutterShape::Vee { .. } => Some(shape.width_at(SHALLOW_DEPTH.min(depth))),
                CutterShape::Flat { .. } | CutterShape::Ball { .. } => None,
            },
            stand_in,
            wall_height: depth,
            reference: reference.source.clone(),
        }
    }

    /// The limit of a wall that runs at `direction` to the grain (radians).
    ///
    /// Hankinson's formula with exponent 2 between the two strengths (Wood Handbook ch. 5, formula from
    /// memory), put in thicknesses: strength goes with `1/t^2`, so `t^2 = along^2 cos^2 + across^2 sin^2`.
    pub fn wall(&self, direction: f64, beside_pierced: bool) -> Mm {
        let (along, across) = if beside_pierced {
            (self.pierced_along, self.pierced_across)
        } else {
            (self.along, self.across)
        };
        let (sin, cos) = direction.sin_cos();
        Mm::new((along.get() * cos).hypot(across.get() * sin))
    }

    /// The limit of a groove in a place carved this way.
    pub fn groove_in(&self, treatment: Treatment) -> Mm {
        match treatment {
            Treatment::Incised => self.incised_groove.unwrap_or(self.groove),
            Treatment::Pierced => self.pierced_groove,
            Treatment::Relief | Treatment::Sunk | Treatment::Left => self.groove,
        }
    }

    /// Where the wall limits come from, in a sentence without a full stop.
    pub fn source(&self, unit: LengthUnit) -> String {
        let stand_in = self.stand_in.as_ref().map_or_else(String::new, |wood| {
            format!("; no published strength across the grain for this wood, {wood} stands in")
        });
        format!(
            "the cutter's reference wall ({}), carried to this wood and to walls {} tall{stand_in}",
            self.reference,
            unit.show(self.wall_height)
        )
    }
}

/// Tension strength across the grain, MPa; and the name of the wood that stands in where this one has
/// none published: of those in its group that have one, the nearest in density. Where this wood is the
/// lighter of the two, the strength is taken down in proportion.
fn strength_across(wood: &Wood) -> (f64, Option<String>) {
    if let Some(strength) = wood.tension_across {
        return (strength, None);
    }
    // A wood of unknown density is taken for the lightest.
    let density = wood.density_at_12().unwrap_or_default();
    woods()
        .iter()
        .filter(|other| other.group == wood.group)
        .filter_map(|other| Some((other, other.tension_across?, other.density_at_12()?)))
        .min_by(|(.., a), (.., b)| (a - density).abs().total_cmp(&(b - density).abs()))
        .map(|(other, strength, others)| {
            let share = if density > 0.0 { (density / others).min(1.0) } else { 1.0 };
            (strength * share, Some(other.name.clone()))
        })
        .expect("the built-in table has a strength in each group")
}

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
        let hits = self.ratings.partition_point(|rating| rating.critical > factor);
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

/// Rates a measured design for a job. Depends on the cutter, the depth, the wood and the board's
/// thickness, and not on the size. `O(n log n)` in pieces.
pub fn rate(job: &Job, measured: &Measured) -> Ratings {
    let limits = Limits::of(job);
    // The design lies along the board, so a direction in the design is a direction to the grain.
    let walls = RatedMap::new(&measured.walls, |index, piece| {
        limits.wall(piece.direction, measured.beside_pierced(index))
    });
    let grooves =
        RatedMap::new(&measured.grooves, |index, _| limits.groove_in(measured.groove_treatment(index)));
    Ratings { limits, walls, grooves }
}
