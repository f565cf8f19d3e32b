//! Versions of a job side by side, as text for a terminal and as JSON.

use super::json::{VERSION, mm};
use crate::compare::{Between, SizeKind, Version, VersionName};
use crate::job::Job;
use crate::proof::Severity;
use crate::shop::Prices;
use crate::units::LengthUnit;
use crate::words::{self, compare as said};
use serde::Serialize;
use std::fmt::Write as _;

/// The name of the object that tells of the versions.
pub const COMPARE_FORMAT: &str = "spelk.compare";

/// The versions as a person reads them: a line each, the job as it is with a star.
pub fn compare_text(
    job: &Job,
    between: Between,
    versions: &[Version],
    prices: &Prices,
    unit: LengthUnit,
) -> String {
    let heads = [said::VERSION, said::VERDICT, said::THINNEST_WALL, said::TIME, said::PRICE];
    let row = |version: &Version| {
        let star = if version.is_now { "* " } else { "  " };
        [
            format!("{star}{}", said::name(&version.name, unit)),
            version.severity().label().to_owned(),
            said::wall(version.wall, unit),
            words::sizes::minutes(version.minutes),
            version.price.map_or_else(|| said::NO_PRICE.to_owned(), |price| prices.money.show(price)),
        ]
    };
    let mut rows = vec![heads.map(str::to_owned)];
    rows[0][0].insert_str(0, "  ");
    rows.extend(versions.iter().map(row));
    let wide = |column: usize| rows.iter().map(|row| row[column].chars().count()).max().unwrap_or_default();
    let wide = [wide(0), wide(1), wide(2), wide(3)];
    let mut text = format!("{}\n\n", said::heading(&job.design().name, between));
    for [name, verdict, wall, time, price] in &rows {
        let [a, b, c, d] = wide;
        let line = format!("{name:<a$}  {verdict:<b$}  {wall:<c$}  {time:<d$}  {price}");
        writeln!(text, "{}", line.trim_end()).expect("writing to a string does not fail");
    }
    let examples = prices.are_examples().then_some(said::EXAMPLE_PRICES);
    for note in [Some(said::STARRED), Some(said::note(job.is_batch())), examples].into_iter().flatten() {
        write!(text, "\n{note}").expect("writing to a string does not fail");
    }
    text.push('\n');
    text
}

/// The same as one JSON object; messages are in `unit`.
pub fn compare_json(job: &Job, versions: &[Version], prices: &Prices, unit: LengthUnit) -> String {
    #[derive(Serialize)]
    struct CompareObject<'a> {
        format: &'static str,
        version: u32,
        design: &'a str,
        currency: &'a str,
        example_prices: bool,
        versions: Vec<VersionObject>,
    }
    #[derive(Serialize)]
    struct VersionObject {
        name: String,
        kind: &'static str,
        is_now: bool,
        verdict: Severity,
        message: String,
        factor: f64,
        length_mm: f64,
        width_mm: f64,
        wall_mm: Option<f64>,
        wall_limit_mm: Option<f64>,
        minutes: Option<f64>,
        price: Option<f64>,
    }
    let version = |version: &Version| VersionObject {
        name: said::name(&version.name, unit),
        kind: match version.name {
            VersionName::Wood(_) => "wood",
            VersionName::Cutter(_) => "cutter",
            VersionName::Size { kind: SizeKind::Other, .. } => "size",
            VersionName::Size { kind: SizeKind::LeastSound, .. } => "least_sound",
            VersionName::Size { kind: SizeKind::Largest, .. } => "largest_for_board",
        },
        is_now: version.is_now,
        verdict: version.severity(),
        message: words::verdict::sentence(&version.proof.verdict, unit),
        factor: version.proof.factor,
        length_mm: mm(version.proof.length),
        width_mm: mm(version.proof.width),
        wall_mm: version.wall.map(|wall| mm(wall.width)),
        wall_limit_mm: version.wall.map(|wall| mm(wall.limit)),
        minutes: version.minutes,
        price: version.price,
    };
    let object = CompareObject {
        format: COMPARE_FORMAT,
        version: VERSION,
        design: &job.design().name,
        currency: prices.money.code(),
        example_prices: prices.are_examples(),
        versions: versions.iter().map(version).collect(),
    };
    let mut text =
        serde_json::to_string_pretty(&object).expect("versions have string keys and finite numbers");
    text.push('\n');
    text
}
