//! Advice as text for a terminal, and as JSON.

use super::json::{VERSION, places};
use crate::advice::{Advice, Offer};
use crate::job::Job;
use crate::proof::{Proof, Severity};
use crate::shop::Money;
use crate::units::{LengthUnit, Mm};
use crate::words;
use serde::Serialize;
use std::fmt::Write as _;

/// The name of the object that tells of advice.
pub const ADVICE_FORMAT: &str = "spelk.advice";

/// How many offers a proof shows.
pub const SHOWN_WITH_A_PROOF: usize = 3;

/// The first offers, numbered from 1, a line each; that no size does, and what comes nearest, where that is so.
/// Empty where nothing is to be changed.
pub fn offers_text(job: &Job, advice: &Advice, most: usize, money: &Money, unit: LengthUnit) -> String {
    let mut text = String::new();
    let mut line = |words: String| {
        if !words.is_empty() {
            writeln!(text, "{words}").expect("writing to a string does not fail");
        }
    };
    if !advice.offers.is_empty() {
        line(words::advice::HEADING.to_owned());
    }
    for (index, offer) in advice.offers.iter().take(most).enumerate() {
        line(format!("{:>3}  {}", index + 1, words::advice::offer(offer, money, unit)));
    }
    if says_no_size(advice) {
        line(words::advice::no_size(&advice.sizes, Mm::new(job.frame_on_board().x), unit));
    }
    if let Some(nearest) = &advice.nearest {
        line(words::advice::nearest(nearest, !advice.offers.is_empty(), money, unit));
    }
    text
}

/// Whether the offers are followed by a sentence that no size is both sound and fits.
pub(super) fn says_no_size(advice: &Advice) -> bool {
    let is_asked = !advice.offers.is_empty() || advice.nearest.is_some();
    is_asked && advice.sizes.both().is_none()
}

/// What would help most, as a sentence for paper; empty where nothing does or has to.
pub fn best_offer(advice: &Advice, money: &Money, unit: LengthUnit) -> String {
    let best = advice.offers.first();
    best.map_or_else(String::new, |best| words::advice::would_help(best, money, unit))
}

/// All that could be done about a job, for a terminal: the verdict, then every offer.
pub fn advice_text(job: &Job, proof: &Proof, advice: &Advice, money: &Money, unit: LengthUnit) -> String {
    let offers = offers_text(job, advice, usize::MAX, money, unit);
    let offers = if offers.is_empty() { format!("{}\n", words::advice::NOTHING_TO_CHANGE) } else { offers };
    format!("{}\n{offers}", words::verdict::sentence(&proof.verdict, unit))
}

#[derive(Serialize)]
struct AdviceObject {
    format: &'static str,
    version: u32,
    design: String,
    verdict: Severity,
    message: String,
    sound_from_factor: Option<f64>,
    fits_up_to_factor: f64,
    offers: Vec<OfferObject>,
    nearest: Option<NearestObject>,
}

/// An offer as scripts read it.
#[derive(Serialize)]
pub(super) struct OfferObject {
    changes: Vec<&'static str>,
    message: String,
    verdict: Severity,
    remains: String,
    minutes: Option<f64>,
    bought: bool,
    money: Option<f64>,
    size: f64,
    area: f64,
    trouble: f64,
}

#[derive(Serialize)]
struct NearestObject {
    offer: Option<OfferObject>,
    forbids: String,
    message: String,
}

/// The same as one JSON object.
pub fn advice_json(job: &Job, proof: &Proof, advice: &Advice, money: &Money, unit: LengthUnit) -> String {
    let object = AdviceObject {
        format: ADVICE_FORMAT,
        version: VERSION,
        design: job.design().name.clone(),
        verdict: proof.verdict.severity,
        message: words::verdict::sentence(&proof.verdict, unit),
        sound_from_factor: advice
            .sizes
            .sound_from
            .filter(|_| advice.sizes.obstacle.is_none())
            .map(|factor| places(factor, 6)),
        fits_up_to_factor: places(advice.sizes.fits_up_to, 6),
        offers: offer_objects(advice, usize::MAX, money, unit),
        nearest: advice.nearest.as_ref().map(|nearest| NearestObject {
            offer: nearest.way.as_ref().map(|way| offer_object(way, money, unit)),
            forbids: nearest.forbids.id.clone(),
            message: words::advice::nearest(nearest, !advice.offers.is_empty(), money, unit),
        }),
    };
    let mut text = serde_json::to_string_pretty(&object).expect("advice has string keys and finite numbers");
    text.push('\n');
    text
}

pub(super) fn offer_objects(
    advice: &Advice,
    most: usize,
    money: &Money,
    unit: LengthUnit,
) -> Vec<OfferObject> {
    advice.offers.iter().take(most).map(|offer| offer_object(offer, money, unit)).collect()
}

/// The best offer of a row of a comparison.
pub(super) fn offer_of_row(
    offers: &[Option<Offer>],
    index: usize,
    money: &Money,
    unit: LengthUnit,
) -> Option<OfferObject> {
    Some(offer_object(offers.get(index)?.as_ref()?, money, unit))
}

fn offer_object(offer: &Offer, money: &Money, unit: LengthUnit) -> OfferObject {
    OfferObject {
        changes: offer.steps.iter().map(|step| step.kind().id()).collect(),
        message: words::advice::offer(offer, money, unit),
        verdict: offer.severity(),
        remains: words::verdict::why(&offer.after.proof.verdict, unit),
        minutes: offer.cost.minutes.map(|minutes| places(minutes, 2)),
        bought: offer.cost.bought,
        money: offer.cost.money,
        size: places(offer.cost.size, 6),
        area: places(offer.cost.area, 6),
        trouble: places(offer.cost.trouble, 2),
    }
}
