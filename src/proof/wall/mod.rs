//! What a wall is held to: the push of the cutter, the plate that the wall is, and the wood.
//!
//! A wall `t` thick, `h` tall and `l` long in plan is a thin plate, clamped at its root, free at its top, each end
//! free or joined to other standing wood. The cutter [pushes](push) at its top with `P`; the plate spreads the push
//! ([`factors`]) so that the greatest moment at the root is `k P` for each unit of length. It breaks there where
//! `6 k P / t^2` reaches the strength `s` across the grain:
//!
//! ```text
//! t = sqrt(6 k P / s)
//! ```
//!
//! Four limits are worked out, and the greatest governs:
//!
//! - the root, as above;
//! - an end that is joined, about an upright line: `t = sqrt(6 k_end P / s_end)`, where `s_end` lies between the
//!   bending strength (a wall along the grain) and the tension strength across it, by Hankinson's formula;
//! - stiffness: the top gives `d P h^2 / D`, which shows as chatter, and is held under the cutter's `give`;
//! - shear at the root, `1.5 P / (t b)` against the shear strength along the grain, with the push spread over the
//!   same `b = h / k` that its moment is spread over (our own estimate: thin plate theory has no shear).
//!
//! # Sides that slope
//!
//! A V or a tapered cutter leaves walls that are thicker below. Such a wall is checked at every depth `z` up to its
//! height as one `z` tall and `top + slope z` thick at its root, and held to the worst. A long wall's `k` has no
//! height in it, so its worst is the crest: depth gives it neither credit nor penalty. Upright walls are checked at
//! their root alone: nothing clamps them higher up.
//!
//! # Pillars
//!
//! What stands by itself and is hardly longer than it is thick is no plate: it bends as a pillar,
//! [`d^3 = 32 P h / (pi s)`](WallRule::pillar).
//!
//! # Between along and across
//!
//! The elastic constants are turned with the wall, which is exact ([`ElasticRatios::plate`]); the strength at the
//! root is that across the grain whichever way the wall runs. Where a shop measured a wall both along and across,
//! its two constants are mixed by the squares of cosine and sine, as `t^2` was by Hankinson's formula with
//! exponent 2.
//!
//! [`ElasticRatios::plate`]: crate::shop::ElasticRatios::plate

mod plate;
mod plates;
pub mod push;
mod trials;

pub use plate::{Factors, Support, factors};
pub use plates::Plates;
pub use push::Cut;
pub use trials::{Estimate, STARTING_SCATTER, Trial};

use crate::shop::{ElasticRatios, ReferenceWall, ShopsWood, Wood, woods};
use crate::units::Mm;
use std::sync::Arc;

/// What a limit needs to know of a wood, and which woods stand in where it has no value published.
#[derive(Clone, Debug, PartialEq)]
pub struct WoodNumbers {
    /// Its name.
    pub name: String,
    /// Tension strength across the grain, MPa.
    pub across: Value,
    /// Bending strength along the grain, MPa.
    pub bending: Value,
    /// Shear strength along the grain, MPa.
    pub shear: Value,
    /// Modulus of elasticity along the grain, MPa.
    pub modulus: Value,
    /// How it resists cutting, basswood being 1.
    pub resistance: f64,
    /// Its elastic ratios.
    pub ratios: ElasticRatios,
    /// The wood whose elastic ratios stand in.
    pub ratios_of: Option<String>,
}

/// A published value, or a stand-in's.
#[derive(Clone, Debug, PartialEq)]
pub struct Value {
    /// In the unit of the field that holds it.
    pub value: f64,
    /// The wood it was borrowed from, where this one has none published.
    pub of: Option<String>,
}

/// No wood is softer or weaker than this, MPa: what a file says beyond it would make limits without end.
const LEAST_PRESSURE: f64 = 1e-3;

/// The modulus that a bending test gives is about a tenth low, because the test piece shears as well (Wood
/// Handbook, notes to table 5-1, from memory).
const MODULUS_OF_BENDING: f64 = 1.1;

impl WoodNumbers {
    /// Those of a wood. Where it has no value published, its closest kin's stands in, else that of the nearest in
    /// density in its group; taken down in proportion where this wood is the lighter.
    pub fn of(wood: &Wood) -> WoodNumbers {
        let value = |own: fn(&Wood) -> Option<f64>| match own(wood) {
            Some(value) => Value { value: value.max(LEAST_PRESSURE), of: None },
            None => stand_in(wood, own),
        };
        let (ratios, ratios_of) = wood.elastic_ratios();
        let modulus = value(|wood| wood.modulus);
        WoodNumbers {
            name: wood.name.clone(),
            across: value(|wood| wood.tension_across),
            bending: value(|wood| wood.bending_strength),
            shear: value(|wood| wood.shear_along),
            modulus: Value { value: modulus.value * MODULUS_OF_BENDING, of: modulus.of },
            resistance: push::resistance(wood),
            ratios,
            ratios_of: ratios_of.map(|wood| wood.name.clone()),
        }
    }

    /// Those of the wood a reference wall was carved in. A wood that nobody knows any more is taken to be the
    /// board's own.
    pub fn of_reference(reference: &ReferenceWall, board: &Wood) -> WoodNumbers {
        match (&reference.shops_wood, Wood::find(&reference.wood)) {
            (Some(ShopsWood { name, strength, density }), _) => WoodNumbers::of(&Wood {
                tension_across: Some(*strength),
                density: *density,
                ..Wood::own(reference.wood.clone(), name.clone())
            }),
            (None, Some(wood)) => WoodNumbers::of(wood),
            (None, None) => WoodNumbers { name: reference.wood.clone(), ..WoodNumbers::of(board) },
        }
    }

    /// The strength of a wall's joined end about an upright line, MPa: Hankinson's formula with exponent 2 between
    /// bending along the grain and tension across it (Wood Handbook ch. 5, formula from memory).
    fn at_end(&self, heading: &Heading) -> f64 {
        let (along, across) = (self.bending.value, self.across.value);
        along * across / (along * heading.across + across * heading.along)
    }
}

fn stand_in(wood: &Wood, own: fn(&Wood) -> Option<f64>) -> Value {
    let having = woods().iter().filter_map(|other| Some((other, own(other)?)));
    let (other, value) =
        wood.nearest(having, |(other, _)| other).expect("the built-in table has a value in each group");
    let share = match (wood.density_at_12(), other.density_at_12()) {
        (Some(density), Some(others)) => (density / others).min(1.0),
        _ => 1.0,
    };
    Value { value: value * share, of: Some(other.name.clone()) }
}

/// How a wall runs to the grain, with what its limits are looked up by: trigonometry once a wall, and not once a
/// length.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Heading {
    /// The squares of its angle's cosine and sine.
    along: f64,
    across: f64,
    /// The direction of the table before it, and the share of the way to the next.
    first: usize,
    share: f64,
}

/// A wall to be held to a limit.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Wall {
    /// From its root to its top.
    pub height: Mm,
    /// In plan; infinite for a wall that does not feel its ends.
    pub length: Mm,
    /// What its ends do, and where it is pushed.
    pub support: Support,
    /// How it runs to the grain.
    pub heading: Heading,
}

impl Wall {
    /// A wall so long that it does not feel its ends, pushed in its middle.
    pub fn endless(height: Mm, heading: Heading) -> Wall {
        Wall { height, length: Mm::new(f64::INFINITY), support: Support::FreeInTheMiddle, heading }
    }
}

/// Which of the limits of a wall is the greatest.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Governs {
    /// It would break at its root.
    Root,
    /// It would break where it is joined.
    End,
    /// It would give too far under the cutter.
    Stiffness,
    /// It would shear off at its root.
    Shear,
    /// It is a strip that is cut through on both sides, and would bend until it breaks.
    Beam,
    /// It is a pillar, and would break off at its root.
    Pillar,
}

impl Governs {
    /// Its name in the JSON proof.
    pub fn id(self) -> &'static str {
        match self {
            Governs::Root => "root",
            Governs::End => "end",
            Governs::Stiffness => "stiffness",
            Governs::Shear => "shear",
            Governs::Beam => "beam",
            Governs::Pillar => "pillar",
        }
    }
}

/// How thick a wall must be, and why.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Limit {
    /// The thickness at its top.
    pub thickness: Mm,
    /// What asks for it.
    pub governs: Governs,
    /// The plate factor that belongs to it: of the root, but of the end where that governs; of a strip, its length
    /// over its depth.
    pub k: f64,
    /// The push, newtons.
    pub push: f64,
}

/// How walls are held on one board, by one cutter.
#[derive(Clone, Debug, PartialEq)]
pub struct WallRule {
    /// The board's wood.
    pub wood: Arc<WoodNumbers>,
    /// The plates its walls are.
    pub plates: Arc<Plates>,
    /// The cut beside the walls.
    pub cut: Cut,
    /// The cutter's constant `K`, newtons for each millimetre of edge: of walls along the grain, and across.
    pub constant: [f64; 2],
    /// How far a wall may give under the cutter.
    pub give: Mm,
    /// How the logarithm of the thickness at which a wall breaks scatters.
    pub scatter: f64,
    /// How much thicker a wall is for each unit of depth, both sides together: 0 for upright sides.
    pub slope: f64,
}

/// Depths at which a wall with sloping sides is checked.
const DEPTHS: usize = 8;

impl WallRule {
    /// The push at a wall so tall, newtons.
    pub fn push(&self, height: Mm, heading: &Heading) -> f64 {
        let [along, across] = self.constant;
        self.cut.push(along * heading.along + across * heading.across, height, self.wood.resistance)
    }

    /// How thick a wall must be. A fraction of a microsecond.
    pub fn limit(&self, wall: &Wall) -> Limit {
        let push = self.push(wall.height, &wall.heading);
        let h = wall.height.get();
        let length = wall.length.get();
        let factors = |length_over: f64| self.plates.factors(&wall.heading, wall.support, length_over);
        let whole = factors(length / h);
        let root = |depth: f64, k: f64| (6.0 * k * push / self.wood.across.value).sqrt() - self.slope * depth;
        let mut worst = (root(h, whole.root), Governs::Root, whole.root);
        for (depth, k) in depths(h, length, self.slope, |length_over| factors(length_over).root) {
            let next = root(depth, k);
            if next > worst.0 {
                worst = (next, Governs::Root, k);
            }
        }
        // Each other limit is worked out where it is the greater, which is seldom.
        let end = 6.0 * whole.end * push / self.wood.at_end(&wall.heading);
        if end > worst.0 * worst.0 {
            worst = (end.sqrt(), Governs::End, whole.end);
        }
        if let Some(top) = self.stiff(&wall.heading, h, whole.deflection * push * h * h, worst.0) {
            worst = (top, Governs::Stiffness, whole.root);
        }
        let shear = 1.5 * push * whole.root / (h * self.wood.shear.value) - self.slope * h;
        if shear > worst.0 {
            worst = (shear, Governs::Shear, whole.root);
        }
        let (thickness, governs, k) = worst;
        Limit { thickness: Mm::new(thickness), governs, k, push }
    }

    /// How thick a pillar must be that stands so tall: `d^3 = 32 P h / (pi s)`, which is exact for a round one.
    ///
    /// A square one stands 16 % thinner when it is pushed at a side, and 6 % when it is pushed at a corner. Where sides
    /// slope it is checked at every depth, as walls are.
    pub fn pillar(&self, height: Mm, heading: &Heading) -> Limit {
        let push = self.push(height, heading);
        let at = |depth: f64| (32.0 * push * depth / (std::f64::consts::PI * self.wood.across.value)).cbrt();
        let h = height.get();
        let checked = if self.slope > 0.0 { 1..=DEPTHS } else { DEPTHS..=DEPTHS };
        let thickness = checked
            .map(|part| h * part as f64 / DEPTHS as f64)
            .map(|depth| at(depth) - self.slope * depth)
            .fold(0.0, f64::max);
        // As a plate as long as it is thick its moment at the root would be `k P`.
        Limit { thickness: Mm::new(thickness), governs: Governs::Pillar, k: h / at(h), push }
    }

    /// How thick the top must be to give no more than it may, where an upright wall of rigidity `D` gives
    /// `load / D`; `None` where one `anyway` thick is stiff enough.
    fn stiff(&self, heading: &Heading, h: f64, load: f64, anyway: f64) -> Option<f64> {
        let modulus = self.wood.modulus.value * self.plates.plate(heading).upright;
        let cubed = 12.0 * load / (modulus * self.give.get());
        if cubed <= anyway.powi(3) {
            return None;
        }
        let upright = cubed.cbrt();
        if self.slope <= 0.0 {
            return Some(upright);
        }
        // A taper gives less; the more it thickens, the less. Found by halving.
        let (mut low, mut high) = (0.0, upright);
        for _ in 0..30 {
            let top: f64 = 0.5 * (low + high);
            let gives = (upright / top).powi(3) * taper_gives(self.slope * h / top);
            if gives > 1.0 { low = top } else { high = top }
        }
        (high > anyway).then_some(high)
    }
}

/// What a cantilever that thickens from 1 to `1 + growth` gives under a push at its thin end, over what one gives
/// that stays 1 thick: `3 int u^2 / (1 + growth u)^3 du` from 0 to 1.
fn taper_gives(growth: f64) -> f64 {
    if growth < 1e-3 {
        return 1.0 - 2.25 * growth;
    }
    let v = 1.0 + growth;
    3.0 / growth.powi(3) * (v.ln() + 2.0 / v - 0.5 / (v * v) - 1.5)
}

/// The depths above its root at which a wall is checked too, and `k` at each; `at` gives the `k` of a length over a
/// height. None of an upright wall.
fn depths(h: f64, length: f64, slope: f64, at: impl Fn(f64) -> f64) -> impl Iterator<Item = (f64, f64)> {
    let sloping = slope > 0.0;
    let between = if sloping && length.is_finite() { DEPTHS } else { 0 };
    let depth = move |step: usize| h * step as f64 / DEPTHS as f64;
    // The crest is a wall of no height, which is as long as it likes.
    let crest = sloping.then(|| (0.0, at(f64::INFINITY)));
    let between = (1..between).map(move |step| (depth(step), at(length / depth(step))));
    crest.into_iter().chain(between)
}

/// The constant `K` that a reference wall stands for: along the grain, and across where the shop measured it, else
/// by the ratio of the plate factors.
///
/// `wood` is the wood it was carved in, flat-sawn unless it says otherwise; `slope` that of its cutter's sides.
pub fn constant(reference: &ReferenceWall, wood: &WoodNumbers, slope: f64) -> [f64; 2] {
    let cut = Cut { pass: reference.pass, feed_per_tooth: reference.feed_per_tooth };
    let plates = Plates::of(&wood.ratios, reference.sawn);
    let of = |thickness: Mm, angle: f64| {
        let heading = Heading::of(angle);
        let support =
            if reference.length.is_some() { Support::FreeAtAnEnd } else { Support::FreeInTheMiddle };
        let (h, length) = (reference.height.get(), reference.length.map_or(f64::INFINITY, Mm::get));
        let k = |length_over: f64| plates.factors(&heading, support, length_over).root;
        // It stood at every depth: the push is the least that any of them can bear.
        let push = depths(h, length, slope, k)
            .chain([(h, k(length / h))])
            .map(|(depth, k)| wood.across.value * (thickness.get() + slope * depth).powi(2) / (6.0 * k))
            .fold(f64::INFINITY, f64::min);
        push / cut.push(1.0, reference.height, wood.resistance)
    };
    let along = of(reference.along, 0.0);
    let across = reference.across.map_or(along, |across| of(across, std::f64::consts::FRAC_PI_2));
    [along, across]
}

/// The chance that a wall holds: strengths scatter, so a wall at its limit holds one time in two, and a thicker one
/// more often. `sigma` is the scatter of the logarithm of thickness.
///
/// ```
/// # use spelk::proof::wall::chance;
/// assert!((chance(1.0, 0.18) - 0.5).abs() < 1e-6);
/// assert!(chance(1.3, 0.18) > 0.9);
/// ```
pub fn chance(thickness_over_limit: f64, sigma: f64) -> f64 {
    normal(thickness_over_limit.ln() / sigma)
}

/// The standard normal distribution, within 2e-7 (Abramowitz and Stegun, *Handbook of Mathematical Functions*,
/// 26.2.17, from memory).
fn normal(z: f64) -> f64 {
    let t = 1.0 / (1.0 + 0.231_641_9 * z.abs());
    let series = t
        * (0.319_381_530
            + t * (-0.356_563_782 + t * (1.781_477_937 + t * (-1.821_255_978 + t * 1.330_274_429))));
    let tail = (-0.5 * z * z).exp() / std::f64::consts::TAU.sqrt() * series;
    if z < 0.0 { tail } else { 1.0 - tail }
}

/// How many times its limit a wall is thick that holds with this chance, over 0 and under 1: where
/// [`chance`] comes to it. Found by halving.
pub fn thickness_for(chance_of_holding: f64, sigma: f64) -> f64 {
    let (mut low, mut high) = (-8.0, 8.0);
    for _ in 0..60 {
        let z: f64 = 0.5 * (low + high);
        if normal(z) < chance_of_holding { low = z } else { high = z }
    }
    (sigma * 0.5 * (low + high)).exp()
}

/// How thick a strip must be that is cut through on both sides: a beam held at its ends, as deep as the board left,
/// bent level by the push at its middle (`P l / 8`, both ends fixed) or at its free end (`P l`).
///
/// `breadth` is what is left of the board's thickness there.
pub fn strip(rule: &WallRule, length: Mm, breadth: Mm, both_ends: bool, heading: &Heading) -> Mm {
    let share = if both_ends { 8.0 } else { 1.0 };
    let moment = rule.push(breadth, heading) * length.get() / share;
    Mm::new((6.0 * moment / (breadth.get() * rule.wood.at_end(heading))).sqrt())
}
