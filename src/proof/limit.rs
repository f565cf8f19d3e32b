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
use crate::units::{LengthUnit, Mm, trimmed};

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
        self.between_ways(
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
        self.between_ways(direction, self.basis.reference.map(|wall| self.basis.carried(wall, height)))
    }

    fn between_ways(&self, direction: f64, [along, across]: [Mm; 2]) -> Mm {
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

    /// Where the wall limits come from, in a sentence without a full stop.
    pub fn source(&self, unit: LengthUnit) -> String {
        let basis = &self.basis;
        let stand_in = basis.stand_in.as_ref().map_or_else(String::new, |wood| {
            format!("; no published strength across the grain for {}, {wood} stands in", basis.wood)
        });
        format!(
            "the cutter's reference wall ({}), carried to this wood and to walls {} tall{stand_in}",
            basis.reference_source,
            unit.show(basis.height)
        )
    }

    /// The arithmetic, a line a step: numbers, formula, and where each came from.
    pub fn steps(&self, unit: LengthUnit) -> Vec<String> {
        let basis = &self.basis;
        let show = |length| unit.show_fine(length);
        let [along, across] = basis.reference;
        let height = basis.reference_height;
        let mut steps = vec![format!(
            "Reference wall: this cutter is trusted with t0 = {} along the grain and {} across, h0 = {} tall, in {} ({})",
            show(along),
            show(across),
            show(height),
            basis.reference_wood,
            basis.reference_source
        )];
        let [s, s0] = [basis.strength, basis.reference_strength].map(|strength| trimmed(strength, 2));
        steps.push(match &basis.stand_in {
            None => format!(
                "Strength across the grain: {} pulls apart at s = {s} MPa ({}); {} at s0 = {s0} MPa",
                basis.wood, basis.strength_source, basis.reference_wood,
            ),
            Some(stand_in) => format!(
                "Strength across the grain: none is published for {}; {stand_in} stands in, with s = {s} MPa; {} has s0 = {s0} MPa",
                basis.wood, basis.reference_wood,
            ),
        });
        let uprights = basis.reference.map(|wall| upright_equal(wall, height, basis.slope));
        if basis.slope > 0.0 {
            let [along, across] = uprights;
            steps.push(format!(
                "Sloping sides: with this cutter a wall gains {} of thickness for each {} of depth, so the reference walls are as strong as upright ones of t0 = {} along, {} across",
                show(unit.one() * basis.slope),
                show(unit.one()),
                show(along),
                show(across)
            ));
        }
        let here = |upright: Mm| {
            let carried = basis.carried_upright(upright, basis.height);
            let sum = format!(
                "{} \u{d7} \u{221a}({}/{} \u{d7} {s0}/{s}) = {}",
                show(upright),
                show(basis.height),
                show(height),
                show(carried)
            );
            let top = top_equal(carried, basis.height, basis.slope);
            if basis.slope > 0.0 { format!("{sum}, which at the face is {}", show(top)) } else { sum }
        };
        steps.push(format!(
            "Carried to this wood and to walls h = {} tall: t = t0 \u{221a}(h/h0 \u{d7} s0/s). Along the grain {}; across {}",
            show(basis.height),
            here(uprights[0]),
            here(uprights[1]),
        ));
        steps.push(
            "Why this formula: a wall t thick and h tall, pushed at its top by f, is stressed at its root by 6 f h / t\u{b2}. It is our own model; no published minimum wall for carved wood was found"
                .to_owned(),
        );
        steps.push(format!(
            "Between along and across: t\u{b2} = along\u{b2} cos\u{b2} + across\u{b2} sin\u{b2} of the angle to the grain, after Hankinson (Wood Handbook, ch. 5); at 45\u{b0} {}",
            show(self.wall(std::f64::consts::FRAC_PI_4, false))
        ));
        steps
    }
}

/// The limits in every carved place of a job: of its own cutter at its own depth.
///
/// A wall has a place on either side, and the two may differ. Each cutter pushes at the wall on its own
/// side, over the depth it cuts there, and has its own reference wall; so each side asks for its own
/// thickness, and the wall is held to the more demanding of the two. Where one side is shallower its floor
/// backs the wall below, which this leaves out: it errs towards the thicker wall, as the limits of a wall
/// beside a place that is cut through always did.
#[derive(Clone, Debug)]
pub struct PlaceLimits {
    /// The job's usual limits first, then others, each once.
    kinds: Vec<Limits>,
    /// For the ground, then for each element: an index into `kinds`, and how deep it is cut.
    places: Vec<(usize, Mm)>,
    layout: Layout,
    /// What all that is carved has in common, where it has.
    common: Option<Place>,
}

/// What a wall or groove is held to, and the place that asks for it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Held {
    /// The thinnest wall to be trusted, or the narrowest groove the cutter enters.
    pub limit: Mm,
    /// The place.
    pub place: Place,
}

impl PlaceLimits {
    /// `O(n k)` in elements and kinds of cut.
    pub(super) fn of(job: &Job) -> PlaceLimits {
        let mut cuts: Vec<(&Cutter, Mm)> = vec![(job.cutter(), job.depth())];
        let mut places: Vec<(usize, Mm)> = Vec::with_capacity(job.carvings().len() + 1);
        for place in [None].into_iter().chain((0..job.carvings().len()).map(Some)) {
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

    /// The limits from which a wall that runs at `direction` got its own, and those along and across it was
    /// worked out between; `None` where it came from none of them: a wall whose top is a floor.
    pub fn behind(&self, direction: f64, limit: Mm) -> Option<(&Limits, [Mm; 2])> {
        let same = |found: Mm| (found - limit).get().abs() < 1e-9;
        self.kinds.iter().find_map(|limits| {
            if same(limits.wall(direction, false)) {
                Some((limits, [limits.along, limits.across]))
            } else if same(limits.wall(direction, true)) {
                Some((limits, [limits.pierced_along, limits.pierced_across]))
            } else {
                None
            }
        })
    }

    /// A place whose limits hold wherever anything is carved; `None` where they differ, or nothing is.
    pub(super) fn common(&self) -> Option<Place> {
        self.common
    }

    /// What a groove in a place is held to.
    pub fn groove(&self, place: Place) -> Held {
        Held { limit: self.at(place).groove_in(self.layout.treatment(place)), place }
    }

    /// The width of the disc that a place is entered by at its full depth; `None` where a V runs out to a point.
    pub(super) fn entered(&self, place: Place) -> Option<Mm> {
        (!self.runs_out_in_a_v(place)).then(|| self.groove(place).limit)
    }

    /// Whether a place is cut with a V, and so has no least width but what shows.
    pub(super) fn runs_out_in_a_v(&self, place: Place) -> bool {
        self.layout.treatment(place) == Treatment::Incised && self.at(place).incised_groove.is_some()
    }

    /// What a wall at the face is held to that runs at `direction`, with these places on its sides.
    pub(super) fn wall(&self, direction: f64, sides: &[Place]) -> Option<Held> {
        let held = |&place: &Place| {
            let pierced = self.layout.treatment(place) == Treatment::Pierced;
            Held { limit: self.at(place).wall(direction, pierced), place }
        };
        sides.iter().map(held).reduce(more_demanding)
    }

    /// The same of a wall whose top is not the face but the floor of `top`: it stands only as tall as the places
    /// beside it are deeper. `None` where none is.
    pub(super) fn lowered_wall(&self, direction: f64, sides: &[Place], top: Place) -> Option<Held> {
        let held = |&place: &Place| {
            let height = self.places[slot(place)].1 - self.places[slot(top)].1;
            (height > Mm::ZERO).then(|| Held { limit: self.at(place).wall_as_tall(direction, height), place })
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
    place.map_or(0, |element| element + 1)
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

    /// The same for an upright wall.
    fn carried_upright(&self, upright: Mm, height: Mm) -> Mm {
        let stronger = height / self.reference_height * (self.reference_strength / self.strength);
        upright * stronger.sqrt()
    }
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
