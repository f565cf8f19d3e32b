//! The shop's record of walls: what it came to, and whether chances come true.

use super::count;
use crate::proof::record::Told;
use crate::shop::Experience;
use crate::units::trimmed;

/// What a cutter's walls came to.
pub fn experience(cutter: &str, experience: &Experience) -> String {
    let Experience { factor, likely, scatter, held, broke } = experience;
    let walls = count((held + broke) as usize, "wall", "walls");
    let scatter = trimmed(100.0 * scatter, 0);
    let [along, across] = [0, 1].map(|way| {
        let [low, high] = likely[way].map(|factor| trimmed(factor, 2));
        format!(
            "{} times as thick as the reference wall says ({low} to {high}, nine times in ten)",
            trimmed(factor[way], 2)
        )
    });
    if factor[0] == factor[1] {
        format!(
            "{cutter}: {walls} on record, {held} held. Walls need to be {along}; two in three break within {scatter} % of that"
        )
    } else {
        format!(
            "{cutter}: {walls} on record, {held} held. Walls along the grain need to be {along}, across {across}: your own ratio, not the model's. Two in three break within {scatter} % of that"
        )
    }
}

/// What the constant came to on a coupon: its factor, and between which two it lies nine times in ten.
pub fn constant(cutter: &str, constant: f64, factor: f64, [low, high]: [f64; 2]) -> String {
    format!(
        "{cutter}: K = {} N for each mm of edge ({} to {}, nine times in ten)",
        trimmed(constant * factor, 2),
        trimmed(constant * low, 2),
        trimmed(constant * high, 2)
    )
}

/// Walls that were given about the same chance: how many held.
pub fn told(told: &Told) -> String {
    let [from, to] = [told.from, told.to].map(|share| trimmed(100.0 * share, 0));
    let walls = count(told.walls as usize, "wall", "walls");
    if told.walls == 0 {
        return format!("given {from} to {to} %: no wall yet");
    }
    if !told.is_enough() {
        return format!("given {from} to {to} %: {walls}, {} held; too few to say", told.held);
    }
    format!(
        "given {from} to {to} %: {walls}, {} held, which is {} %; {} % was expected",
        told.held,
        trimmed(100.0 * f64::from(told.held) / f64::from(told.walls), 0),
        trimmed(100.0 * told.mean, 0)
    )
}

/// Nobody noted a wall yet.
pub const NONE: &str =
    "No wall is on record yet; after a carve, name the walls that held and those that broke";

/// Walls were added.
pub fn noted(walls: usize) -> String {
    format!("{} noted", count(walls, "wall", "walls"))
}

/// No wall of the proof has this name.
pub fn no_wall(id: &str) -> String {
    format!("there is no wall '{id}' under twice its limit; spelk proof --json lists them with their ids")
}

/// A wall both held and broke.
pub fn both(id: &str) -> String {
    format!("'{id}' cannot have held and broken")
}

/// The coupon has no such ladder, or no such rung on it.
pub fn no_rung(text: &str) -> String {
    format!("--coupon: '{text}' is not a ladder of walls and its first rung that held, as in walls-along=5")
}

/// Two ladders of a coupon contradict the model's ratio between them; the shop's own is used.
pub fn contradicts(ladder: &str, other: &str, shop: f64, model: f64) -> String {
    format!(
        "{ladder} asks for {} times the thickness of {other}, where the model says {}; your own ratio is used",
        trimmed(shop, 2),
        trimmed(model, 2)
    )
}

/// Two ladders of a coupon agree with the model.
pub fn agrees(ladder: &str, other: &str, shop: f64, model: f64) -> String {
    format!(
        "{ladder} asks for {} times the thickness of {other}; the model says {}, which is within what scatter explains",
        trimmed(shop, 2),
        trimmed(model, 2)
    )
}

/// The chance that all walls hold.
pub fn all_hold(chance: f64) -> String {
    match (100.0 * chance).round() {
        percent if percent >= 100.0 => "every wall holds in more than 99 of 100 carves".to_owned(),
        percent if percent < 1.0 => "every wall holds in fewer than 1 of 100 carves".to_owned(),
        percent => format!("every wall holds in {} of 100 carves", trimmed(percent, 0)),
    }
}

/// There is nowhere to keep the record.
pub const NO_CONFIG_FOLDER: &str = "there is no config folder on this machine; name a file with --record";
