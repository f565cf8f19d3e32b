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

use crate::job::{Job, Treatment, Turn};
use crate::shop::{CutterShape, Wood, woods};
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
    /// The limits of a job.
    pub fn of(job: &Job) -> Limits {
        let basis = Basis::of(job);
        let (depth, thickness) = (job.depth, job.board.thickness);
        let [along, across] = basis.reference;
        let shape = job.cutter.shape;
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
            turn: job.turn,
            basis,
        }
    }

    /// The limit of a wall that runs at `direction` in the design (radians from its x axis); the grain
    /// runs along that axis where the design is not turned.
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
        let mut steps = vec![format!(
            "This cutter is trusted with a wall {} thick along the grain, {} across, {} tall, in {} ({})",
            show(along),
            show(across),
            show(basis.reference_height),
            basis.reference_wood,
            basis.reference_source
        )];
        let strength = format!("{} MPa", trimmed(basis.strength, 2));
        steps.push(match &basis.stand_in {
            None => format!(
                "{} pulls apart across the grain at {strength} ({}); {} at {} MPa",
                basis.wood,
                basis.strength_source,
                basis.reference_wood,
                trimmed(basis.reference_strength, 2)
            ),
            Some(stand_in) => format!(
                "{} has no published strength across the grain; {stand_in} stands in with {strength}; {} has {} MPa",
                basis.wood,
                basis.reference_wood,
                trimmed(basis.reference_strength, 2)
            ),
        });
        if basis.slope > 0.0 {
            steps.push(format!(
                "This cutter's sides slope: a wall gains {} of thickness for each {} of depth, and is as strong as an upright wall of that growth",
                show(unit.one() * basis.slope),
                show(unit.one())
            ));
        }
        steps.push(format!(
            "A wall pushed at its top is stressed at its root by 6 f h / t\u{b2}, so t = t0 \u{221a}(h/h0 \u{d7} s0/s) (our own model; no published minimum wall was found): walls {} tall need {} along the grain, {} across",
            show(basis.height),
            show(self.along),
            show(self.across)
        ));
        steps.push(
            "Between along and across: t\u{b2} = along\u{b2} cos\u{b2} + across\u{b2} sin\u{b2}, after Hankinson (Wood Handbook, ch. 5)"
                .to_owned(),
        );
        steps
    }
}

impl Basis {
    fn of(job: &Job) -> Basis {
        let reference = &job.cutter.reference;
        let (strength, stand_in) = strength_across(&job.wood);
        let reference_wood = Wood::find(&reference.wood);
        Basis {
            reference: [reference.along, reference.across],
            reference_height: reference.height,
            reference_wood: reference_wood.map_or_else(|| reference.wood.clone(), |wood| wood.name.clone()),
            reference_source: reference.source.clone(),
            reference_strength: reference_wood.map_or(strength, |wood| strength_across(wood).0),
            wood: job.wood.name.clone(),
            strength,
            strength_source: job.wood.strength_source.clone(),
            stand_in,
            height: job.depth,
            slope: 2.0 * job.cutter.shape.side_slope(),
        }
    }

    /// A reference thickness carried to this wood and to walls this tall.
    fn carried(&self, reference: Mm, height: Mm) -> Mm {
        let upright = upright_equal(reference, self.reference_height, self.slope);
        let stronger = height / self.reference_height * (self.reference_strength / self.strength);
        top_equal(upright * stronger.sqrt(), height, self.slope)
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
