//! Why a limit is what it is: where it comes from, and the arithmetic.

use crate::proof::limit::Basis;
use crate::proof::wall::{Governs, Heading, Limit, Plates, Wall, WoodNumbers, push};
use crate::proof::{HeldWall, Limits, WallEnds};
use crate::shop::{ReferenceWall, Wood};
use crate::units::{LengthUnit, Mm, trimmed};
use std::f64::consts::FRAC_PI_2;
use std::sync::Arc;

/// One step of the arithmetic: what it is about, and a sentence without a full stop.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct LimitStep {
    /// What it is about.
    pub title: String,
    /// The numbers, the formula, and where each came from.
    pub text: String,
}

/// Where the wall limits come from, to stand beside them.
pub fn source(limits: &Limits, unit: LengthUnit) -> String {
    let basis = &limits.basis;
    let (source, height) = (&basis.reference.source, unit.show(basis.height));
    match &basis.stand_in {
        None => format!(
            "the cutter's reference wall ({source}), for this wood, pass, feed and walls {height} tall"
        ),
        Some(stand_in) => format!(
            "the cutter's reference wall ({source}), for this wood, pass, feed and walls {height} tall; no strength across the grain is published for {}, {stand_in} stands in",
            limits.rule.wood.name
        ),
    }
}

/// The same as a sentence without a full stop.
pub fn limits_from(limits: &Limits, unit: LengthUnit) -> String {
    format!("Limits from {}", source(limits, unit))
}

/// Where a reference wall comes from, where there is little room.
pub fn short_source(wall: &ReferenceWall) -> &str {
    if wall.is_starting_value() { "starting value" } else { &wall.source }
}

/// What governs a limit, in a few words.
pub fn governs(governs: Governs) -> &'static str {
    match governs {
        Governs::Root => "it would break at its root",
        Governs::End => "it would break where it is joined",
        Governs::Stiffness => "it would give under the cutter and chatter",
        Governs::Shear => "it would shear off at its root",
        Governs::Beam => "cut through on both sides, it would bend until it breaks",
        Governs::Pillar => "it would snap off at its root",
    }
}

/// The arithmetic, step by step.
pub fn steps(limits: &Limits, unit: LengthUnit) -> Vec<LimitStep> {
    let step = |title: &str, text: String| LimitStep { title: title.to_owned(), text };
    let mut steps = vec![
        step("The wall you trust", reference(limits, unit)),
        step("The push", push_of(limits, unit)),
        step("The wood", wood(limits, unit)),
        step("How the wall spreads the push", spread(limits)),
        step("The limit", sum(limits, unit)),
    ];
    if limits.rule.slope > 0.0 {
        steps.push(step(
            "Sloping sides",
            format!(
                "This cutter leaves walls that gain {} of thickness for each {} of depth. Each depth of a wall is checked as a wall of its own, and the worst counts: of a long wall that is its crest",
                unit.show_fine(unit.one() * limits.rule.slope),
                unit.show_fine(unit.one())
            ),
        ));
    }
    steps.push(step("What moves it most", moves(limits, unit)));
    steps.push(step(
        "What it is worth",
        "The model is our own, put together from published parts; no published minimum wall for carved wood was found. Carve a coupon and the constant is your shop's"
            .to_owned(),
    ));
    steps
}

fn reference(limits: &Limits, unit: LengthUnit) -> String {
    let Basis { reference, reference_wood, .. } = &limits.basis;
    let show = |length| unit.show_fine(length);
    let length = match reference.length {
        None => "a long wall pushed in its middle".to_owned(),
        Some(length) => format!("a wall {} long with free ends", show(length)),
    };
    let across = match reference.across {
        None => "; across the grain follows from it".to_owned(),
        Some(across) => format!(", and {} across", show(across)),
    };
    format!(
        "{length}, {} thick along the grain{across}, {} tall, in {}, held with passes of {} and {} a tooth ({})",
        show(reference.along),
        show(reference.height),
        reference_wood.name,
        show(reference.pass),
        show(reference.feed_per_tooth),
        reference.source,
    )
}

fn push_of(limits: &Limits, unit: LengthUnit) -> String {
    let rule = &limits.rule;
    let [along, across] = rule.constant.map(|constant| unit.show_force_along(constant));
    let constant = if along == across { along } else { format!("{along} along and {across} across") };
    let [push, push_across] = limits.basis.long.map(|limit| unit.show_force(limit.push, 2));
    let comes = if push == push_across { push } else { format!("{push} along and {push_across} across") };
    format!(
        "P = K w g c = {comes}: that wall says K = {constant} {} for each {} of edge, w = {} of edge is engaged, g = {} for {} a tooth, and c = {} for {}, by its density",
        unit.force_symbol(),
        unit.symbol(),
        unit.show_fine(rule.cut.edge(limits.basis.height)),
        trimmed(rule.cut.by_feed(), 2),
        unit.show_fine(rule.cut.feed_per_tooth),
        trimmed(rule.wood.resistance, 2),
        rule.wood.name,
    )
}

fn wood(limits: &Limits, unit: LengthUnit) -> String {
    let basis = &limits.basis;
    let WoodNumbers { name, across, ratios_of, .. } = &*limits.rule.wood;
    let strength = unit.show_stress(across.value);
    let pulls = match &across.of {
        None => {
            format!("{name} pulls apart across the grain at s = {strength} ({})", basis.strength_source)
        }
        Some(other) => {
            format!("None is published for {name}: {other} stands in, with s = {strength} across the grain")
        }
    };
    match ratios_of {
        None => {
            format!("{pulls}; its elastic ratios are the Wood Handbook's (tables 5-1 and 5-2, from memory)")
        }
        Some(other) => format!("{pulls}; no elastic ratios are published for it, {other} stands in"),
    }
}

fn spread(limits: &Limits) -> String {
    let [along, across] = limits.basis.long.map(|limit| trimmed(limit.k, 3));
    let sawn = limits.rule.plates.sawn().word();
    format!(
        "A wall is a plate held at its root. In this {sawn} board a long wall pushed in its middle takes k = {along} of the push at its root along the grain, k = {across} across. A free end takes more, a wall tied at both ends less"
    )
}

fn sum(limits: &Limits, unit: LengthUnit) -> String {
    let [along, across] = limits.basis.long.map(|limit| one_sum(limits, &limit, unit));
    format!("Along the grain {along}; across {across}")
}

/// `√(6 × 0.261 × 3.47 N/2.41 MPa) = 1.5 mm`.
fn one_sum(limits: &Limits, limit: &Limit, unit: LengthUnit) -> String {
    let thickness = unit.show_fine(limit.thickness);
    match limit.governs {
        Governs::Root => format!(
            "\u{221a}(6 \u{d7} {} \u{d7} {}/{}) = {thickness}",
            trimmed(limit.k, 3),
            unit.show_force(limit.push, 2),
            unit.show_stress(limits.rule.wood.across.value)
        ),
        other => format!("{thickness}, for {}", governs(other)),
    }
}

fn moves(limits: &Limits, unit: LengthUnit) -> String {
    let rule = &limits.rule;
    let across = Heading::of(FRAC_PI_2);
    let with = |rule: &crate::proof::wall::WallRule| {
        unit.show_fine(rule.limit(&Wall::endless(limits.basis.height, across)).thickness)
    };
    let mut shallower = rule.clone();
    shallower.cut.pass = shallower.cut.edge(limits.basis.height) * 0.5;
    let mut slower = rule.clone();
    slower.cut.feed_per_tooth = slower.cut.feed_per_tooth * 0.5;
    let free = rule.limit(&Wall {
        support: crate::proof::wall::Support::FreeAtAnEnd,
        ..Wall::endless(limits.basis.height, across)
    });
    // A hard wood beside a soft one, and the other way round.
    let [hard, soft] = ["maple_sugar", "basswood_american"].map(|id| Wood::find(id).expect("it is built in"));
    let other = if rule.wood.name == hard.name { soft } else { hard };
    let numbers = WoodNumbers::of(other);
    let mut in_other = rule.clone();
    in_other.plates = Plates::of(&numbers.ratios, rule.plates.sawn());
    in_other.wood = Arc::new(numbers);
    format!(
        "Across the grain: half the depth of a pass makes it {}, half the feed {}; in {} it is {}; at a free end it is {}",
        with(&shallower),
        with(&slower),
        other.name,
        with(&in_other),
        unit.show_fine(free.thickness)
    )
}

/// How one wall is held to its limit, a sentence with a full stop.
pub fn of_wall(wall: &HeldWall, angle: f64, unit: LengthUnit) -> String {
    // Lines have no head: 170 degrees to the grain is 10.
    let turned = angle.rem_euclid(std::f64::consts::PI).to_degrees();
    let degrees = trimmed(turned.min(180.0 - turned), 0);
    format!(
        "runs at {degrees}\u{b0} to the grain and stands {} tall, {}: k = {}, P = {}, so {} is the least, where {}.",
        unit.show_fine(wall.height),
        ends(wall, unit),
        trimmed(wall.limit.k, 3),
        unit.show_force(wall.limit.push, 2),
        unit.show_fine(wall.limit.thickness),
        governs(wall.limit.governs)
    )
}

/// What holds a wall, in a few words; `None` where that makes no difference.
pub fn support(wall: &HeldWall) -> Option<&'static str> {
    match (wall.limit.governs, wall.run.ends) {
        (Governs::Beam, WallEnds::OneFree) => Some("cut through on both sides and held at one end"),
        (Governs::Beam, WallEnds::BothFree | WallEnds::Pillar) => {
            Some("cut through on both sides and held by nothing")
        }
        (Governs::Beam, WallEnds::BothJoined | WallEnds::Closed) => Some("cut through on both sides"),
        (_, WallEnds::BothFree) if wall.run.length < wall.height * 2.0 => Some("a short stub"),
        (_, WallEnds::BothFree | WallEnds::OneFree) if wall.is_near_a_free_end() => Some("at its free end"),
        (_, WallEnds::BothFree | WallEnds::OneFree) => Some("away from its free end"),
        (_, WallEnds::BothJoined) => Some("tied at both ends"),
        // A pillar is called one.
        (_, WallEnds::Closed | WallEnds::Pillar) => None,
    }
}

/// How long a wall is and what holds it, in a few words.
pub fn ends(wall: &HeldWall, unit: LengthUnit) -> String {
    let length = unit.show(wall.run.length);
    match wall.run.ends {
        _ if wall.run.length.get().is_infinite() => "with a free end".to_owned(),
        WallEnds::BothFree if wall.run.length < wall.height * 2.0 => format!("a short stub {length} long"),
        WallEnds::BothFree => format!("{length} long with both ends free"),
        WallEnds::OneFree => format!("{length} long with a free end"),
        WallEnds::BothJoined => format!("{length} long and tied at both ends"),
        WallEnds::Closed => format!("{length} round"),
        WallEnds::Pillar => format!("a pillar {length} thick that stands by itself"),
    }
}

/// How cleanly a wood shapes, by Davis's grades; `None` where he did not grade it.
pub fn shaping(wood: &Wood) -> Option<String> {
    let good = trimmed(wood.shaping?, 0);
    Some(format!(
        "{good} of 100 pieces of {} came out good to excellent when shaped (Davis 1962, from memory): that is how cleanly it cuts, fuzz and chips, and not whether a wall stands. A wood that fuzzes may well not break",
        wood.name
    ))
}

/// What the feed per tooth is made of, beside the settings it comes from.
pub fn feed_per_tooth(feed_per_tooth: Mm, unit: LengthUnit) -> String {
    format!(
        "{} a tooth; below about {} the edge alone does most of the pushing",
        unit.show_fine(feed_per_tooth),
        unit.show_fine(push::EDGE_TERM)
    )
}
