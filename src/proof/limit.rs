//! How thin is too thin: here, with this cutter, in this wood, at this depth, this way to the grain.
//!
//! A wall `t` thick and `h` tall, pushed at its top by `f` a unit of length, is stressed at its root
//! by `6 f h / t^2` across the grain, whichever way it runs in plan. A wall known to survive therefore
//! tells what another wood and another depth need: `t = t0 sqrt(h/h0 * s0/s)`, with `s` the tension
//! strength across the grain. The model is our own (no published minimum wall for carved wood was
//! found); the walls it starts from are the cutter's, and the shop's to correct.
//!
//! A pointed or tapered cutter leaves walls that are thicker below than at the top; see
//! [`upright_equal`].

use crate::job::{Job, Layout, Place, Treatment, Turn};
use crate::shop::{Cutter, CutterShape, ReferenceWall, ShopsWood, Wood, woods};
use crate::units::Mm;

/// A V groove shallower than this hardly shows once it is sanded and finished (common practice, no
/// source).
pub const SHALLOW_DEPTH: Mm = Mm::new(0.5);

/// The thinnest wall that this cutter, depth and wood should be trusted with, and the narrowest groove
/// that the cutter can enter. Widths are those at the face of the board.
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
    /// How far the design is turned on the board.
    pub turn: Turn,
    /// What the limits follow from, for the user to see.
    pub basis: Basis,
}

/// What the limits of walls follow from.
#[derive(Clone, Debug, PartialEq)]
pub struct Basis {
    /// The cutter's reference wall along the grain, and across.
    pub reference: [Mm; 2],
    /// How tall the reference wall stands.
    pub reference_height: Mm,
    /// The wood of the reference wall.
    pub reference_wood: String,
    /// Where the reference wall comes from.
    pub reference_source: String,
    /// Tension strength across the grain of the reference wood, MPa.
    pub reference_strength: f64,
    /// This job's wood.
    pub wood: String,
    /// Its tension strength across the grain, MPa.
    pub strength: f64,
    /// Where that strength comes from.
    pub strength_source: String,
    /// The wood whose strength stands in where this one has none published.
    pub stand_in: Option<String>,
    /// How tall this job's walls stand.
    pub height: Mm,
    /// How much wider both sides together make a wall for each unit of depth; 0 for upright sides.
    pub slope: f64,
}

/// The thickness of an upright wall that stands the same push at its top as one `top` thick at the top
/// that grows by `slope` for each unit of depth, both `height` tall.
///
/// At depth `z` below the top the stress is `6 f z / (top + slope z)^2`. It is greatest at
/// `z = top / slope`, or at the root where the wall is not tall enough to reach that: the equal upright
/// wall is `top + slope height` thick, or `sqrt(4 slope height top)`.
pub fn upright_equal(top: Mm, height: Mm, slope: f64) -> Mm {
    let growth = height * slope;
    if top >= growth { top + growth } else { Mm::new((4.0 * growth.get() * top.get()).sqrt()) }
}

/// The way back from [`upright_equal`]: how thick at the top.
pub fn top_equal(upright: Mm, height: Mm, slope: f64) -> Mm {
    let growth = height * slope;
    if upright >= growth * 2.0 {
        upright - growth
    } else {
        Mm::new(upright.get() * upright.get() / (4.0 * growth.get()))
    }
}

impl Limits {
    /// The limits of a job for its usual cutter and depth.
    pub fn of(job: &Job) -> Limits {
        Limits::with(job, job.cutter(), job.depth())
    }

    /// The limits on a job's board for a cutter at a depth.
    fn with(job: &Job, cutter: &Cutter, depth: Mm) -> Limits {
        let basis = Basis::of(job, cutter, depth);
        let thickness = job.board().thickness;
        let [along, across] = basis.reference;
        let shape = cutter.shape;
        Limits {
            along: basis.carried(along, depth),
            across: basis.carried(across, depth),
            pierced_along: basis.carried(along, thickness),
            pierced_across: basis.carried(across, thickness),
            groove: shape.width_at(depth),
            pierced_groove: shape.width_at(thickness),
            incised_groove: match shape {
                CutterShape::Vee { .. } => Some(shape.width_at(SHALLOW_DEPTH.min(depth))),
                CutterShape::Flat { .. } | CutterShape::Ball { .. } | CutterShape::TaperedBall { .. } => None,
            },
            turn: job.turn(),
            basis,
        }
    }

    /// The limit of a wall that runs at `direction` in the design (radians from its x axis); the grain
    /// runs along that axis where the design is not turned.
    ///
    /// Hankinson's formula with exponent 2 between the two strengths (Wood Handbook ch. 5, formula from
    /// memory), put in thicknesses: strength goes with `1/t^2`, so `t^2 = along^2 cos^2 + across^2 sin^2`.
    pub fn wall(&self, direction: f64, beside_pierced: bool) -> Mm {
        self.between_directions(
            direction,
            if beside_pierced {
                [self.pierced_along, self.pierced_across]
            } else {
                [self.along, self.across]
            },
        )
    }

    /// The same of a wall that stands `height` tall.
    fn wall_as_tall(&self, direction: f64, height: Mm) -> Mm {
        self.between_directions(direction, self.basis.reference.map(|wall| self.basis.carried(wall, height)))
    }

    fn between_directions(&self, direction: f64, [along, across]: [Mm; 2]) -> Mm {
        let (sin, cos) = direction.sin_cos();
        let (sin, cos) = if self.turn.swaps() { (cos, sin) } else { (sin, cos) };
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
}

/// The limits in every carved place of a job: of its own cutter at its own depth.
///
/// A wall has a place on either side, and the two may differ. Each cutter pushes at the wall on its own
/// side, over the depth it cuts there, and has its own reference wall; so each side asks for its own
/// thickness, and the wall is held to the more demanding of the two. Where one side is shallower its floor
/// backs the wall below, which this leaves out: it errs towards the thicker wall, as the limits of a wall
/// beside a place that is cut through always did.
#[derive(Clone, Debug, PartialEq)]
pub struct PlaceLimits {
    /// The job's usual limits first, then others, each once.
    kinds: Vec<Limits>,
    /// For the ground, then for each element: an index into `kinds`, and how deep it is cut.
    places: Vec<(usize, Mm)>,
    layout: Layout,
    /// What all that is carved has in common, where it has.
    common: Option<Place>,
}

/// What a wall or groove is held to, and where that comes from.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Held {
    /// The thinnest wall to be trusted, or the narrowest groove the cutter enters.
    pub limit: Mm,
    /// The place that asks for it.
    pub place: Place,
    /// What of that place the limit follows from.
    pub source: LimitSource,
}

/// What a limit follows from, in the place that asks for it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum LimitSource {
    /// The limits of a wall as tall as the place is deep.
    Wall,
    /// The limits of a wall as tall as the board is thick: the place is cut through.
    WallBesidePierced,
    /// The limits of a wall whose top is the floor of a shallower place, as tall as one floor lies below the
    /// other.
    WallOnAFloor,
    /// The cutter: how wide it is at the full depth, or how wide a V must be to show.
    Cutter,
}

impl PlaceLimits {
    /// `O(n k)` in elements and kinds of cut.
    pub(super) fn of(job: &Job) -> PlaceLimits {
        let mut cuts: Vec<(&Cutter, Mm)> = vec![(job.cutter(), job.depth())];
        let mut places: Vec<(usize, Mm)> = Vec::with_capacity(job.carvings().len() + 1);
        let elements = (0..job.carvings().len()).map(Place::Element);
        for place in [Place::Ground].into_iter().chain(elements) {
            let cut = job.cut(place);
            // What is cut through has limits of its own among those of any depth.
            let depth = if cut.treatment == Treatment::Pierced { job.depth() } else { cut.depth };
            let known = cuts.iter().position(|&(cutter, deep)| cutter == cut.cutter && deep == depth);
            if known.is_none() {
                cuts.push((cut.cutter, depth));
            }
            places.push((known.unwrap_or(cuts.len() - 1), cut.depth));
        }
        let layout = job.layout();
        let asks = |place: &Place| {
            // A floor is a floor, round a relief or in a sunk element.
            let treatment = match layout.treatment(*place) {
                Treatment::Sunk => Treatment::Relief,
                other => other,
            };
            (places[slot(*place)].0, treatment)
        };
        let mut carved = job.places();
        let first = carved.next();
        let common = first.filter(|first| carved.all(|place| asks(&place) == asks(first)));
        let kinds = cuts.into_iter().map(|(cutter, depth)| Limits::with(job, cutter, depth)).collect();
        PlaceLimits { kinds, places, layout, common }
    }

    /// The limits of the job's usual cutter and depth.
    pub fn usual(&self) -> &Limits {
        &self.kinds[0]
    }

    /// The limits of the cutter and depth of a place.
    pub fn at(&self, place: Place) -> &Limits {
        &self.kinds[self.places[slot(place)].0]
    }

    /// The limits behind a wall's own, and those along and across the grain that it was worked out between;
    /// `None` for what is no wall at the face of the board.
    pub fn behind(&self, held: &Held) -> Option<(&Limits, [Mm; 2])> {
        let limits = self.at(held.place);
        match held.source {
            LimitSource::Wall => Some((limits, [limits.along, limits.across])),
            LimitSource::WallBesidePierced => Some((limits, [limits.pierced_along, limits.pierced_across])),
            LimitSource::WallOnAFloor | LimitSource::Cutter => None,
        }
    }

    /// A place whose limits hold wherever anything is carved; `None` where they differ, or nothing is.
    pub(super) fn common(&self) -> Option<Place> {
        self.common
    }

    /// What a groove in a place is held to.
    pub fn groove(&self, place: Place) -> Held {
        let limit = self.at(place).groove_in(self.layout.treatment(place));
        Held { limit, place, source: LimitSource::Cutter }
    }

    /// The width of the disc that a place is entered by at its full depth; `None` where a V tapers to a point.
    pub(super) fn entered(&self, place: Place) -> Option<Mm> {
        (!self.tapers_to_a_point(place)).then(|| self.groove(place).limit)
    }

    /// Whether a place is cut with a V, and so has no least width but what shows.
    pub(super) fn tapers_to_a_point(&self, place: Place) -> bool {
        self.layout.treatment(place) == Treatment::Incised && self.at(place).incised_groove.is_some()
    }

    /// What a wall at the face is held to that runs at `direction`, with these places on its sides.
    pub(super) fn wall(&self, direction: f64, sides: &[Place]) -> Option<Held> {
        let held = |&place: &Place| {
            let pierced = self.layout.treatment(place) == Treatment::Pierced;
            let source = if pierced { LimitSource::WallBesidePierced } else { LimitSource::Wall };
            Held { limit: self.at(place).wall(direction, pierced), place, source }
        };
        sides.iter().map(held).reduce(more_demanding)
    }

    /// The same of a wall whose top is not the face but the floor of `top`: it stands only as tall as the places
    /// beside it are deeper. `None` where none is.
    pub(super) fn lowered_wall(&self, direction: f64, sides: &[Place], top: Place) -> Option<Held> {
        let held = |&place: &Place| {
            let height = self.places[slot(place)].1 - self.places[slot(top)].1;
            (height > Mm::ZERO).then(|| Held {
                limit: self.at(place).wall_as_tall(direction, height),
                place,
                source: LimitSource::WallOnAFloor,
            })
        };
        sides.iter().filter_map(held).reduce(more_demanding)
    }
}

/// The first where both ask for the same.
pub(super) fn more_demanding(a: Held, b: Held) -> Held {
    if b.limit > a.limit { b } else { a }
}

/// Where a place comes when the ground comes first.
fn slot(place: Place) -> usize {
    place.element().map_or(0, |element| element + 1)
}

impl Basis {
    fn of(job: &Job, cutter: &Cutter, depth: Mm) -> Basis {
        let reference = &cutter.reference;
        let (strength, stand_in) = strength_across(job.wood());
        let reference_wood = match (&reference.shops_wood, Wood::find(&reference.wood)) {
            (Some(own), _) => own.clone(),
            (None, Some(wood)) => ShopsWood { name: wood.name.clone(), strength: strength_across(wood).0 },
            // A wood nobody knows any more: taken to be as strong as this one.
            (None, None) => ShopsWood { name: reference.wood.clone(), strength },
        };
        Basis {
            reference: [reference.along, reference.across],
            reference_height: reference.height,
            reference_wood: reference_wood.name,
            reference_source: reference.source.clone(),
            reference_strength: reference_wood.strength,
            wood: job.wood().name.clone(),
            strength,
            strength_source: job.wood().strength_source.clone(),
            stand_in,
            height: depth,
            slope: 2.0 * cutter.shape.side_slope(),
        }
    }

    /// A reference thickness carried to this wood and to walls this tall.
    fn carried(&self, reference: Mm, height: Mm) -> Mm {
        let upright = upright_equal(reference, self.reference_height, self.slope);
        top_equal(self.carried_upright(upright, height), height, self.slope)
    }

    /// The same for an upright wall: `t0 sqrt(h/h0 * s0/s)`.
    pub(crate) fn carried_upright(&self, upright: Mm, height: Mm) -> Mm {
        let stronger = height / self.reference_height * (self.reference_strength / self.strength);
        upright * stronger.sqrt()
    }
}

/// A cutter whose limit is the thinnest walls, `along` and `across` the grain, that survived on a test piece
/// carved `depth` deep in this wood.
pub fn calibrated(cutter: &Cutter, along: Mm, across: Mm, depth: Mm, wood: &Wood) -> Cutter {
    let mut reference = ReferenceWall {
        along,
        across,
        height: depth,
        wood: String::new(),
        shops_wood: None,
        source: "the shop's own test piece".to_owned(),
    };
    refer_to(&mut reference, wood);
    Cutter { reference, ..cutter.clone() }
}

/// Makes `wood` the wood of a reference wall; what is needed of a wood that is not built in goes with it.
pub fn refer_to(reference: &mut ReferenceWall, wood: &Wood) {
    reference.wood.clone_from(&wood.id);
    let is_built_in = Wood::find(&wood.id).is_some_and(|built_in| built_in == wood);
    reference.shops_wood =
        (!is_built_in).then(|| ShopsWood { name: wood.name.clone(), strength: strength_across(wood).0 });
}

/// Tension strength across the grain, MPa; and the name of the wood that stands in where this one has
/// none published: of those in its group that have one (of all, where its group is none we know), the
/// nearest in density. Where this wood is the lighter of the two, the strength is taken down in
/// proportion.
fn strength_across(wood: &Wood) -> (f64, Option<String>) {
    if let Some(strength) = wood.tension_across {
        return (strength, None);
    }
    // A wood of unknown density is taken for the lightest.
    let density = wood.density_at_12().unwrap_or_default();
    let known_group = woods().iter().any(|other| other.group == wood.group);
    woods()
        .iter()
        .filter(|other| other.group == wood.group || !known_group)
        .filter_map(|other| Some((other, other.tension_across?, other.density_at_12()?)))
        .min_by(|(.., a), (.., b)| (a - density).abs().total_cmp(&(b - density).abs()))
        .map(|(other, strength, others)| {
            let share = if density > 0.0 { (density / others).min(1.0) } else { 1.0 };
            (strength * share, Some(other.name.clone()))
        })
        .expect("the built-in table has a strength in each group")
}
