//! The least that must change for a carving to come out whole.
//!
//! Changes of a job are tried out, alone and in pairs: each is applied to a copy and proofed as any job is. What
//! becomes an [`Offer`] makes the verdict less grave and no other kind of finding graver. Nothing is offered that
//! was not proofed, so an offer may be worded as a fact.
//!
//! Offers are ranked by what comes of them (sound before chancy), then by what they cost a carver: minutes and
//! money by the shop's prices, how much the design changes, what must be bought. The shop's [`Weights`] put all of
//! that in one coin. Ties stay in the order of [`StepKind`].
//!
//! Widths are measured once. A change of size, place or ends is a look-up; another cutter, depth or wood is rated
//! anew; only a change of the outlines is measured anew. A large design gets fewer tries.

mod remedies;
mod rows;
mod step;
mod tried;

pub use rows::{MOST_ADVISED, at_sizes, on_boards};
pub use step::{BoardTaken, Step, StepKind};
pub use tried::Tried;

use crate::job::{Clearing, Edit, EditKind, Job};
use crate::proof::mend::Change;
use crate::proof::{Finding, LONGEST_PRACTICAL, Obstacle, Severity};
use crate::shop::{Cutter, CutterShape, RackBoard, Shop, Weights};
use rayon::prelude::*;
use remedies::{Remedy, remedies};
use std::collections::BTreeSet;
use std::sync::atomic::{AtomicBool, Ordering};

/// What a shop has to change a job with.
#[derive(Clone, Copy, Debug)]
pub struct Means<'a> {
    /// Its woods, cutters and prices, and what its advice is ranked by.
    pub shop: &'a Shop,
    /// The boards on its rack.
    pub rack: &'a [RackBoard],
    /// What is not to be changed.
    pub leaves: &'a [StepKind],
}

impl<'a> Means<'a> {
    /// All that a shop and its rack have: anything may be changed.
    pub fn of(shop: &'a Shop, rack: &'a [RackBoard]) -> Means<'a> {
        Means { shop, rack, leaves: &[] }
    }
}

/// What could be done about a job.
#[derive(Clone, Debug)]
pub struct Advice {
    /// What was tried and does what it says, the best first.
    pub offers: Vec<Offer>,
    /// From which size on it is sound, and up to which it fits.
    pub sizes: SizeRange,
    /// What comes nearest, where no offer makes it sound; `None` where one does, or it is sound as it is.
    pub nearest: Option<Nearest>,
}

/// A change of a job that was applied to a copy and proofed.
#[derive(Clone, Debug)]
pub struct Offer {
    /// What it changes, one step after the other: one or two.
    pub steps: Vec<Step>,
    /// The same as edits, in their order.
    pub edits: Vec<Edit>,
    /// The changed job with its proof: the verdict it comes to, and what remains.
    pub after: Tried,
    /// What it costs.
    pub cost: Cost,
}

/// What a change costs a carver.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Cost {
    /// Minutes more at the machine; fewer where negative. `None` where they are not worked out.
    pub minutes: Option<f64>,
    /// What is spent, in the shop's money; `None` where something has no price.
    pub money: Option<f64>,
    /// Whether something has to be bought.
    pub bought: bool,
    /// How many times as large the design becomes.
    pub size: f64,
    /// Which share of its standing or carved area changes, 0 to 1.
    pub area: f64,
    /// All of it in the shop's money, by its weights: what offers are ranked by.
    pub trouble: f64,
}

/// The sizes at which a job is sound, and those that its board takes.
#[derive(Clone, Debug, PartialEq)]
pub struct SizeRange {
    /// From this factor on no wall or groove is too thin; `None` where none is at any size.
    pub sound_from: Option<f64>,
    /// What keeps every size that anybody carves from being sound.
    pub obstacle: Option<Obstacle>,
    /// Up to this factor the board takes it, turned as it is; 0 where it takes none.
    pub fits_up_to: f64,
}

/// What comes nearest to sound where nothing reaches it.
#[derive(Clone, Debug)]
pub struct Nearest {
    /// The change; `None` where the best offer is it, or nothing comes nearer than the job as it is.
    pub way: Option<Box<Offer>>,
    /// What still stands in the way: the worst finding that is left.
    pub forbids: Finding,
}

/// How many offers a list has at most. A round value of our own: more are not read.
pub const MOST_OFFERS: usize = 8;

/// How many first steps are followed by a second. A round value of our own.
const MOST_FOLLOWED: usize = 6;

/// Of offers that change the same things in other ways, how many are timed. A round value of our own.
const TIMED_ALIKE: usize = 2;

/// Sizes whose logarithms differ by less are one: they are told to a tenth of a per cent.
const SAME_SIZE: f64 = 1e-3;

/// A design of more edges is not timed: a plan of its passes would take longer than all else. A round value of
/// our own.
const MOST_EDGES_TIMED: usize = 20_000;

/// How much may be tried, in edges. Round values of our own, so that a design of a hundred thousand edges is done
/// in about two seconds on two cores; one of a few thousand is hardly ever cut short.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Budget {
    /// For ratings.
    rated: usize,
    /// For measurings.
    measured: usize,
}

impl Budget {
    /// That of one search.
    const WHOLE: Budget = Budget { rated: 400_000, measured: 80_000 };

    /// Takes the edges rated and measured off; whether there were as many left.
    fn take(&mut self, [rated, measured]: [usize; 2]) -> bool {
        let is_enough = rated <= self.rated && measured <= self.measured;
        if is_enough {
            self.rated -= rated;
            self.measured -= measured;
        }
        is_enough
    }
}

impl SizeRange {
    /// Of a job and its ratings. `O(1)`.
    pub fn of(tried: &Tried) -> SizeRange {
        let thinnest = &tried.proof.thinnest;
        SizeRange {
            sound_from: thinnest.sound_factor,
            obstacle: thinnest.obstacle.clone(),
            fits_up_to: tried.proof.fit.largest_factor,
        }
    }

    /// The sizes that both fit and are sound, where there are any.
    pub fn both(&self) -> Option<[f64; 2]> {
        let from = self.sound_from.unwrap_or(0.0);
        (self.obstacle.is_none() && self.fits_up_to > 0.0 && from <= self.fits_up_to)
            .then_some([from, self.fits_up_to])
    }
}

impl Offer {
    /// The whole of it as one edit, one step to undo.
    pub fn edit(&self) -> Edit {
        let kind = match self.steps.as_slice() {
            [only] => only.kind().edit_kind(),
            _ => EditKind::Advice,
        };
        Edit::Several(kind, self.edits.clone())
    }

    /// The verdict it comes to.
    pub fn severity(&self) -> Severity {
        self.after.severity()
    }

    fn kinds(&self) -> Vec<StepKind> {
        self.steps.iter().map(Step::kind).collect()
    }

    /// What it is ranked by: what comes of it, then what it costs, then what it changes.
    fn rank(&self, other: &Offer) -> std::cmp::Ordering {
        (self.severity().cmp(&other.severity()))
            .then(self.cost.trouble.total_cmp(&other.cost.trouble))
            .then_with(|| self.kinds().cmp(&other.kinds()))
    }

    /// Whether it changes no more than another, comes to no less and costs no more.
    fn beats(&self, other: &Offer) -> bool {
        let (mine, others) = (self.kinds(), other.kinds());
        // The size alone does what size and more do that change it as much.
        let resizes = |offer: &Offer| offer.cost.size.ln().abs();
        let by_size_alone = mine == [StepKind::Size] && resizes(self) <= resizes(other) + SAME_SIZE;
        (by_size_alone || mine.iter().all(|kind| others.contains(kind)))
            && self.severity() <= other.severity()
            && self.cost.trouble <= other.cost.trouble
    }
}

/// What could be done about a job, the best first; `None` where it was called off. Nothing for a job that is
/// sound, or in which nothing is carved.
///
/// Tens of ratings, some measurings and plans of passes: some 15 to 220 ms for an ordinary design on two cores. The
/// same job and means give the same answer, whatever threads there are.
pub fn advise(now: &Tried, means: &Means, cancel: &AtomicBool) -> Option<Advice> {
    let mut advice = Advice { offers: Vec::new(), sizes: SizeRange::of(now), nearest: None };
    if now.severity() == Severity::Sound || !now.proof.verdict.carves {
        return Some(advice);
    }
    let search = Search { now, means, cancel };
    // Offers are timed against the job as it is, which is timed while they are tried.
    let (ways, minutes) = rayon::join(|| search.ways(), || search.minutes_now());
    let ways = ways?;
    let (offers, others): (Vec<Offer>, Vec<Offer>) =
        ways.into_iter().partition(|way| way.severity() < now.severity() && !way.after.is_worse_than(now));
    advice.offers = search.best(offers, minutes)?;
    if advice.offers.first().is_none_or(|best| best.severity() > Severity::Sound) {
        let way = if advice.offers.is_empty() { search.nearest(others) } else { None };
        let left = way.as_ref().or(advice.offers.first()).map_or(now, |way| &way.after);
        let forbids = left.proof.findings.first().cloned();
        advice.nearest = forbids.map(|forbids| Nearest { way: way.map(Box::new), forbids });
    }
    Some(advice)
}

struct Search<'a> {
    now: &'a Tried,
    means: &'a Means<'a>,
    cancel: &'a AtomicBool,
}

impl Search<'_> {
    /// Whether the design is not too large to be timed.
    fn times(&self) -> bool {
        self.now.job.design().segment_count() <= MOST_EDGES_TIMED
    }

    /// Minutes of the job as it is.
    fn minutes_now(&self) -> Option<f64> {
        if self.times() { self.now.minutes(self.cancel) } else { None }
    }

    /// Every change that could be made and proofed, in a fixed order; not yet timed.
    fn ways(&self) -> Option<Vec<Offer>> {
        let mut budget = Budget::WHOLE;
        let affordable = |budget: &mut Budget, of: &Tried, remedies: Vec<Remedy>| -> Vec<Remedy> {
            remedies.into_iter().filter(|remedy| budget.take(remedy.takes(of))).collect()
        };
        let firsts = affordable(&mut budget, self.now, remedies(self.now, self.means));
        let firsts: Vec<(bool, Offer)> =
            all_tried(&firsts, |remedy| Some((remedy.enables, self.tried(None, remedy)?)));
        self.go_on()?;
        // A pair costs more than its first step: past the cheapest that is sound alone, none is better.
        let enough = firsts
            .iter()
            .filter(|(_, way)| way.severity() == Severity::Sound && !way.after.is_worse_than(self.now))
            .map(|(_, way)| way.cost.trouble)
            .fold(f64::INFINITY, f64::min);
        let mut followed: Vec<&Offer> = firsts
            .iter()
            .filter(|(enables, way)| {
                way.severity() > Severity::Sound
                    && way.cost.trouble < enough
                    && (*enables
                        || way.after.settles_something_of(self.now)
                        || way.after.left()[0] < self.now.left()[0])
            })
            .map(|(_, way)| way)
            .collect();
        // Of those that change the same thing, the ones that leave least come first.
        followed.sort_by(|a, b| a.after.left().cmp(&b.after.left()).then(a.rank(b)));
        followed.truncate(MOST_FOLLOWED);
        let seconds: Vec<(&Offer, Remedy)> = followed
            .into_iter()
            .flat_map(|first| {
                let after = remedies(&first.after, self.means);
                let is_later =
                    |second: &Remedy| second.kind > first.steps[0].kind() && !second.undoes(&first.steps[0]);
                let later = after.into_iter().filter(is_later);
                affordable(&mut budget, &first.after, later.collect())
                    .into_iter()
                    .map(move |second| (first, second))
            })
            .collect();
        let seconds = all_tried(&seconds, |(first, second)| self.tried(Some(*first), second));
        self.go_on()?;
        Some(firsts.into_iter().map(|(_, way)| way).chain(seconds).collect())
    }

    /// A remedy applied, after a first step or by itself; `None` where it cannot be, or changes nothing.
    fn tried(&self, first: Option<&Offer>, remedy: &Remedy) -> Option<Offer> {
        self.go_on()?;
        let before = first.map_or(self.now, |first| &first.after);
        let (step, own, after) = remedy.applied(before, self.cancel)?;
        let mut steps = first.map_or_else(Vec::new, |first| first.steps.clone());
        let mut edits = first.map_or_else(Vec::new, |first| first.edits.clone());
        steps.push(step);
        edits.extend(own);
        let cost = self.cost(&steps, &after, None);
        Some(Offer { steps, edits, after, cost })
    }

    /// The best of the offers, timed and in order; each beaten by none that changes no more.
    fn best(&self, mut offers: Vec<Offer>, before: Option<f64>) -> Option<Vec<Offer>> {
        offers.sort_by(Offer::rank);
        let mut worth_timing: Vec<Offer> = Vec::new();
        for offer in offers {
            let alike = worth_timing.iter().filter(|other| other.kinds() == offer.kinds()).count();
            let is_beaten = worth_timing
                .iter()
                .any(|other| other.kinds().len() < offer.kinds().len() && other.beats(&offer));
            if alike < TIMED_ALIKE && !is_beaten && worth_timing.len() < 2 * MOST_OFFERS {
                worth_timing.push(offer);
            }
        }
        if self.times() { self.timed(worth_timing, before) } else { Some(unbeaten(worth_timing)) }
    }

    /// The best of the offers by their minutes too; `before` are those of the job as it is. They come in order of their
    /// trouble without; minutes only add to it, so that what comes after the last of a full list is not timed.
    fn timed(&self, offers: Vec<Offer>, before: Option<f64>) -> Option<Vec<Offer>> {
        let mut best: Vec<Offer> = Vec::new();
        let mut left = offers.into_iter().peekable();
        while let Some(next) = left.peek() {
            if best.len() == MOST_OFFERS && best.last().is_some_and(|last| last.rank(next).is_lt()) {
                break;
            }
            let mut some: Vec<Offer> = left.by_ref().take(MOST_OFFERS).collect();
            // One by one: an offer of another cutter takes as long as the rest together.
            some.par_iter_mut().with_max_len(1).for_each(|offer| self.time(offer, before));
            self.go_on()?;
            best.extend(some);
            best = unbeaten(best);
        }
        Some(best)
    }

    /// Works out the minutes of an offer; `before` are those of the job as it is.
    fn time(&self, offer: &mut Offer, before: Option<f64>) {
        let takes_other_chips = !self.now.cuts_as(&offer.after);
        let minutes = if takes_other_chips {
            before.zip(offer.after.minutes(self.cancel)).map(|(before, after)| after - before)
        } else {
            Some(0.0)
        };
        offer.cost = self.cost(&offer.steps, &offer.after, minutes);
        if let Some(cleared) = self.cleared_first(offer, before) {
            *offer = cleared;
        }
    }

    /// An offer of a narrower cutter with the job's own to clear the floors first, where that is less trouble.
    fn cleared_first(&self, offer: &Offer, before: Option<f64>) -> Option<Offer> {
        let (job, old) = (&*offer.after.job, self.now.job.cutter());
        let step = offer.steps.iter().position(|step| step.kind() == StepKind::Cutter)?;
        let is_flat = |cutter: &Cutter| matches!(cutter.shape, CutterShape::Flat { .. });
        let is_narrower = job.cutter().shape.working_diameter() < old.shape.working_diameter();
        if !(is_narrower && is_flat(old) && is_flat(job.cutter())) || job.clearing().cutter.is_some() {
            return None;
        }
        // One more cutter to set is more trouble than all the minutes that it could save.
        if self.trouble_of(offer.cost.minutes) <= self.means.shop.prices.weights.cutter {
            return None;
        }
        let clearing = Clearing { cutter: Some(old.clone()), ..job.clearing().clone() };
        let edit = Edit::Clearing(Box::new(clearing));
        let after = offer.after.changed_to(job.with([edit.clone()]).ok()?, self.cancel)?;
        let mut cleared = Offer { after, ..offer.clone() };
        cleared.edits.push(edit);
        if let Step::Cutter { clears_first, .. } = &mut cleared.steps[step] {
            *clears_first = Some(old.name.clone());
        }
        let minutes = before.zip(cleared.after.minutes(self.cancel)).map(|(before, after)| after - before);
        cleared.cost = self.cost(&cleared.steps, &cleared.after, minutes);
        let is_as_good = cleared.severity() == offer.severity() && !cleared.after.is_worse_than(self.now);
        (is_as_good && cleared.cost.trouble < offer.cost.trouble).then_some(cleared)
    }

    /// What leaves least of all that was tried, where it leaves less than there is now.
    fn nearest(&self, ways: Vec<Offer>) -> Option<Offer> {
        let nearer = ways.into_iter().filter(|way| way.after.left() < self.now.left());
        nearer.min_by(|a, b| a.after.left().cmp(&b.after.left()).then(a.rank(b)))
    }

    fn cost(&self, steps: &[Step], after: &Tried, minutes: Option<f64>) -> Cost {
        let Weights { setting, cutter, rack, size, depth, redraw, area, errand, plane } =
            self.means.shop.prices.weights;
        let before = self.now;
        let is_redrawn = !std::sync::Arc::ptr_eq(before.job.design(), after.job.design());
        let changed = if is_redrawn { changed_share(before, after) } else { 0.0 };
        let times = after.proof.factor / before.proof.factor;
        let deeper = after.job.depth().get() / before.job.depth().get();
        let doublings = |ratio: f64| if ratio > 0.0 { ratio.log2().abs() } else { 0.0 };
        let mut trouble = doublings(times) * size + doublings(deeper) * depth + changed * area;
        let mut money = Some(0.0);
        let mut bought = false;
        for step in steps {
            trouble += match step {
                Step::Board { price, taken: BoardTaken::Bought { .. }, .. } => {
                    bought = true;
                    money = money.zip(*price).map(|(sum, price)| sum + price);
                    errand + price.unwrap_or_default()
                }
                Step::Board { taken: BoardTaken::Rack { .. }, .. } => rack,
                Step::Flatten { .. } | Step::Joint { .. } => plane,
                Step::Cutter { clears_first: None, .. } => cutter,
                Step::Cutter { clears_first: Some(_), .. } | Step::OwnCutter { .. } => 2.0 * cutter,
                Step::Mend { .. } | Step::Specks { .. } | Step::Treat { .. } => redraw,
                _ => setting,
            };
        }
        trouble += self.trouble_of(minutes);
        Cost { minutes, money, bought, size: times, area: changed, trouble }
    }

    /// What minutes more at the machine are worth, in the shop's money; fewer are worth nothing.
    fn trouble_of(&self, minutes: Option<f64>) -> f64 {
        let prices = &self.means.shop.prices;
        minutes.unwrap_or_default().max(0.0) / 60.0 * (prices.machine_hour + prices.cutter_hour)
    }

    fn go_on(&self) -> Option<()> {
        (!self.cancel.load(Ordering::Relaxed)).then_some(())
    }
}

/// What came of all that can be tried, in order. The last is begun first: what changes the drawing comes last of all and
/// takes longest.
fn all_tried<T: Sync, R: Send>(all: &[T], tried: impl Fn(&T) -> Option<R> + Sync) -> Vec<R> {
    let mut reversed: Vec<Option<R>> = all.par_iter().rev().with_max_len(1).map(&tried).collect();
    reversed.reverse();
    reversed.into_iter().flatten().collect()
}

/// The best of the offers in their order; none of which another beats that changes no more.
fn unbeaten(mut offers: Vec<Offer>) -> Vec<Offer> {
    offers.sort_by(Offer::rank);
    let mut best: Vec<Offer> = Vec::new();
    for offer in offers {
        if !best.iter().any(|other| other.beats(&offer)) {
            best.push(offer);
        }
    }
    best.truncate(MOST_OFFERS);
    best
}

/// Which share of what stands or is carved becomes the other, 0 to 1.
fn changed_share(before: &Tried, after: &Tried) -> f64 {
    let change = Change::between(&before.job, &after.job);
    let whole = before.measured.outline.area();
    let changed = change.added.area() + change.taken.area();
    if whole > 0.0 { (changed / whole).min(1.0) } else { 0.0 }
}

/// The kinds of finding of a proof that are graver than sound, each once.
fn grave_kinds(tried: &Tried) -> BTreeSet<crate::proof::FindingKind> {
    let grave = tried.proof.findings.iter().filter(|finding| finding.severity() > Severity::Sound);
    grave.map(Finding::kind).collect()
}

/// Whether a size is one that somebody carves.
pub(crate) fn is_practical(job: &Job, factor: f64) -> bool {
    factor > 0.0
        && factor.is_finite()
        && job.frame_on_board().max_element() * factor <= LONGEST_PRACTICAL.get()
}
