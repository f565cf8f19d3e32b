//! From a job to its proof: everything Spelk works out.
//!
//! Three steps, so that the costly one is done once a design: [`measure()`] the widths, [`rate()`] each of
//! them against the limit of this cutter, depth and wood, then ask for the [`proof`] at a size, which
//! takes well under a frame.

pub mod beam;
pub mod carrier;
pub mod ends;
mod finding;
pub mod fit;
pub mod ground;
pub mod lesson;
pub mod limit;
mod lookup;
mod measure;
pub mod mend;
pub mod overhang;
pub mod place;
pub mod price;
pub mod rack;
mod rate;
pub mod sizes;
pub mod stock;
mod uncut;
mod unseen;
mod verdict;

pub use ends::Step;
pub(crate) use finding::capitalised;
pub use finding::{About, Aspect, Finding, FindingKind, Severity};
pub use fit::{BoardNeeded, Fit, FitOutcome, Offer};
pub use limit::{Held, Limits, PlaceLimits, SHALLOW_DEPTH};
pub use measure::{Level, Measured, measure};
pub use rate::{LevelRatings, RatedMap, Ratings, rate};
pub use uncut::{Uncut, UncutSpot, uncut};
pub use verdict::{Reason, SoundSize, Verdict, percent_down, percent_up};

use crate::design::Element;
use crate::geometry::Rect;
use crate::geometry::widths::{Feature, FeatureShape};
use crate::job::{Job, Treatment};
use crate::shop::{BoardEdge, BoardEnd, Check, CutterShape};
use crate::units::Mm;
use glam::{DAffine2, DVec2};
use measure::LevelKind;
use overhang::{FeedSide, Overhang, Travel};
use rate::Rule;
use std::sync::Arc;
use stock::StockRow;
use unseen::Unseen;

/// Wood that should be left under the deepest cut (1/8 in; common practice, no source).
pub const FLOOR_LEFT: Mm = Mm::from_inches(0.125);

/// A point that loses more than this many times the wall limit is more than a blunted corner. Every
/// corner of 60 degrees loses one limit and an ordinary pointed letter two; only slender points are
/// worth a warning. Our own judgement.
const SLENDER_TIP: f64 = 2.0;

/// What Spelk works out from a job at its size.
#[derive(Clone, Debug)]
pub struct Proof {
    /// How many times as large as drawn.
    pub factor: f64,
    /// Finished length of the design's frame, along the board.
    pub length: Mm,
    /// Finished width of the design's frame, across the board.
    pub width: Mm,
    /// Whether it fits the board, and what would.
    pub fit: Fit,
    /// The thinnest walls to be trusted, with the job's usual cutter and depth.
    pub limits: Limits,
    /// The same in every carved place.
    pub place_limits: Arc<PlaceLimits>,
    /// The least wall at this size, tips apart.
    pub thinnest_wall: Option<Mm>,
    /// The least groove at this size, tips apart.
    pub thinnest_groove: Option<Mm>,
    /// The least factor at which no wall or groove is under its limit; `None` where nothing limits it,
    /// infinite where two carved places touch.
    pub least_sound_factor: Option<f64>,
    /// Stretches of the board, along its length, that are carved while an end is past its roller.
    pub snipe_zones: Vec<[Mm; 2]>,
    /// The share of the design's area that lies in them, 0 to 1.
    pub sniped_share: f64,
    /// How high a line is to be expected there.
    pub step: Step,
    /// The bench list, worked out: a row a check.
    pub stock: Vec<StockRow>,
    /// Wood left under the deepest cut, with what warp may cut deeper taken off; 0 where it is cut
    /// through.
    pub thickness_left: Mm,
    /// Where the board goes while it is fed.
    pub travel: Travel,
    /// Worst first.
    pub findings: Vec<Finding>,
    /// The answer in plain words.
    pub verdict: Verdict,
    /// Design space to board space: board millimetres, origin at the corner where the left end meets
    /// the reference (lower) edge, x along the board, y up.
    pub board_from_design: DAffine2,
}

/// The proof of a job at its size, from a design measured under the job's treatments and rated for the
/// job. `O(log n + hits)` in measured pieces; the first with its ends free, or with a blemish under the
/// design, takes `O(n)` in edges, once.
pub fn proof(job: &Job, measured: &Measured, ratings: &Ratings) -> Proof {
    let found = design_findings(job, measured, ratings, fit::factor(job));
    proof_with(job, measured, ratings, found)
}

/// What is thin at a size, wherever the design lies on the board: findings whose place is still in
/// design space. `O(log n + hits)`.
fn design_findings(job: &Job, measured: &Measured, ratings: &Ratings, factor: f64) -> Vec<Finding> {
    let mut found = Vec::new();
    let levels = measured.levels().iter().zip(&ratings.levels).enumerate();
    for (index, (level, rated)) in levels {
        let rule = Rule { limits: &ratings.limits, measured, design: &job.design, level: index };
        let at_size = AtSize { job, rule, level: level.kind(), factor };
        let walls = level.walls.features(&rated.walls.thin_at(factor));
        let grooves = level.grooves.features(&rated.grooves.thin_at(factor));
        found.extend(walls.into_iter().filter_map(|feature| wall_finding(&at_size, feature)));
        found.extend(grooves.into_iter().filter_map(|feature| groove_finding(&at_size, feature)));
    }
    found.extend(measured.unseen().iter().map(|unseen| unseen_finding(job, *unseen)));
    found
}

/// What is carved for nothing: chancy, since two elements may be meant as one.
fn unseen_finding(job: &Job, unseen: Unseen) -> Finding {
    let [element, around] = [unseen.element, unseen.around].map(|index| &job.design.elements[index]);
    let stands = job.carvings[unseen.element].treatment.stands();
    let none = Mm::ZERO;
    Finding {
        id: format!("unseen-{}", unseen.element + 1),
        // In design space, as all that is found of the design.
        at: element.region.bounds().map_or(DVec2::ZERO, Rect::center),
        element: Some(element.name.clone()),
        about: About::Around { name: around.name.clone(), stands },
        ..whole_board(job, FindingKind::Unseen, Aspect::Design, Severity::Chancy, none, none)
    }
}

/// The proof of a job of which it is known what is thin in its design.
fn proof_with(job: &Job, measured: &Measured, ratings: &Ratings, thin: Vec<Finding>) -> Proof {
    let factor = fit::factor(job);
    let fit = fit::fit(job, factor);
    let frame = fit::frame_on_board(job);
    let board_from_design = fit::board_from_design(job, factor);
    let stock = stock::stock_rows(job, factor);
    let thickness_left = thickness_left(job, measured, &stock);
    let travel = overhang::travel(job, factor);
    let step = Step::of(job);

    let mut findings = board_findings(job, measured, &fit, factor);
    let (snipe_zones, sniped_share) = snipe(job, measured, factor, board_from_design, step, &mut findings);
    findings.extend(blemish_findings(job, measured, factor, board_from_design));
    findings.extend(strip_findings(job, board_from_design));
    findings.extend(stock_findings(job, &stock));
    findings.extend(thickness_finding(job, measured, thickness_left));
    findings.extend(travel_findings(job, &travel));
    findings.extend(
        thin.into_iter()
            .map(|finding| Finding { at: board_from_design.transform_point2(finding.at), ..finding }),
    );
    sort_worst_first(&mut findings);

    let least_sound_factor = ratings.least_sound_factor();
    let (severity, reasons) = Verdict::of(&findings);
    // A point's thin end is not cured by size, so neither is a spot that belongs to one.
    let size_helps = findings.iter().any(|finding| {
        use FindingKind::{BlockedGroove, ShallowGroove, ThinWall};
        finding.apex == 0.0 && matches!(finding.kind, ThinWall | BlockedGroove | ShallowGroove)
    });
    let too_large = matches!(fit.outcome, FitOutcome::Shrink | FitOutcome::FitsTurned);
    let verdict = Verdict {
        severity,
        reasons,
        sound_size: least_sound_factor
            .filter(|&least| size_helps && least > factor && least.is_finite())
            .map(|least| SoundSize {
                factor: least,
                length: Mm::new(frame.x * least),
                fits: least <= fit.largest_factor,
            }),
        shrink_to: (too_large && fit.largest_factor > 0.0).then_some(fit.largest_factor),
        fits_turned: fit.outcome == FitOutcome::FitsTurned,
        fits_ends_free: (too_large || fit.outcome == FitOutcome::NoRoom) && fit::fits_ends_free(job, factor),
        unchecked: job.board.stock.unmeasured().collect(),
        carves: measured.carves(),
    };
    let at_size = |least: Option<f64>| least.map(|width| Mm::new(width * factor));
    Proof {
        factor,
        length: Mm::new(frame.x * factor),
        width: Mm::new(frame.y * factor),
        fit,
        limits: ratings.limits.usual().clone(),
        place_limits: ratings.limits.clone(),
        thinnest_wall: at_size(ratings.least_wall()),
        thinnest_groove: at_size(ratings.least_groove()),
        least_sound_factor,
        snipe_zones,
        sniped_share,
        step,
        stock,
        thickness_left,
        travel,
        findings,
        verdict,
        board_from_design,
    }
}

/// All three steps at once, for a caller that asks once.
pub fn proof_of(job: &Job) -> Proof {
    let measured = measure(job);
    proof(job, &measured, &rate(job, &measured))
}

/// A job at one size and level: what turns a feature of the design into a finding.
struct AtSize<'a> {
    job: &'a Job,
    rule: Rule<'a>,
    level: LevelKind,
    factor: f64,
}

impl AtSize<'_> {
    fn finding(&self, kind: FindingKind, severity: Severity, feature: Feature, held: Held) -> Finding {
        let run = Mm::new(feature.length * self.factor);
        let (measured, apex, name) = match feature.shape {
            FeatureShape::Neck => (Mm::new(feature.width * self.factor), 0.0, kind.id()),
            FeatureShape::Tip { apex } => (run, apex, "tip"),
        };
        Finding {
            kind,
            aspect: Aspect::Design,
            severity,
            id: format!("{}-{name}-{}{}", kind.id(), feature.name, self.level.id()),
            at: feature.at,
            measured,
            limit: held.limit,
            run,
            apex,
            direction: feature.direction,
            share: 0.0,
            element: self.element_at(feature.inside()),
            cutter: self.job.own_cutter(held.place).map(|cutter| cutter.name.clone()),
            axis: feature.axis,
            about: About::Nothing,
        }
    }

    /// The name of the element at a place of the design.
    fn element_at(&self, point: DVec2) -> Option<String> {
        match self.job.design.elements.as_slice() {
            [only] => Some(only.name.clone()),
            several => several
                .iter()
                .enumerate()
                .find(|&(index, _)| self.rule.measured.locator(&self.job.design, index).contains(point))
                .map(|(_, element)| element.name.clone()),
        }
    }
}

fn wall_finding(at_size: &AtSize, feature: Feature) -> Option<Finding> {
    let held = at_size.rule.wall(feature.piece, feature.direction)?;
    let (kind, severity) = match feature.shape {
        FeatureShape::Neck => (FindingKind::ThinWall, Severity::Unsound),
        FeatureShape::Tip { .. } => {
            (FindingKind::LostTip, tip_severity(at_size.factor * feature.length, held.limit))
        }
    };
    let stand_in = at_size.rule.limits.usual().basis.stand_in.as_ref();
    let about = stand_in.map_or(About::Nothing, |wood| About::StandIn(wood.clone()));
    Some(Finding { about, ..at_size.finding(kind, severity, feature, held) })
}

fn groove_finding(at_size: &AtSize, feature: Feature) -> Option<Finding> {
    let held = at_size.rule.groove(feature.piece)?;
    let runs_out_in_a_v = at_size.rule.limits.runs_out_in_a_v(held.place);
    match feature.shape {
        // A V runs out to nothing in a corner: that is how it is meant to look.
        FeatureShape::Tip { .. } if runs_out_in_a_v => None,
        FeatureShape::Tip { .. } => {
            let severity = tip_severity(at_size.factor * feature.length, held.limit);
            let short = stops_short(at_size.factor, &feature, held.limit);
            let finding = at_size.finding(FindingKind::BlockedGroove, severity, feature, held);
            Some(Finding { measured: short, ..finding })
        }
        FeatureShape::Neck if runs_out_in_a_v => {
            Some(at_size.finding(FindingKind::ShallowGroove, Severity::Chancy, feature, held))
        }
        FeatureShape::Neck => {
            Some(at_size.finding(FindingKind::BlockedGroove, Severity::Unsound, feature, held))
        }
    }
}

/// How far from a corner a round cutter stops: its middle comes to where the corner is as wide as the cutter,
/// and its edge half a width nearer. Into one that is nowhere so wide it does not come at all.
fn stops_short(factor: f64, tip: &Feature, limit: Mm) -> Mm {
    let run = Mm::new(factor * tip.length);
    let widest = tip.axis.iter().map(|[_, end]| end.width * factor).fold(0.0, f64::max);
    if widest < limit.get() * (1.0 - 1e-4) { run } else { run - limit * 0.5 }
}

fn tip_severity(lost: f64, limit: Mm) -> Severity {
    if lost > SLENDER_TIP * limit.get() { Severity::Chancy } else { Severity::Sound }
}

/// A finding about the board or the machine, told by its middle.
fn whole_board(
    job: &Job,
    kind: FindingKind,
    aspect: Aspect,
    severity: Severity,
    measured: Mm,
    limit: Mm,
) -> Finding {
    let name = match aspect {
        Aspect::Design => String::new(),
        _ => format!("-{aspect:?}").to_lowercase(),
    };
    Finding {
        kind,
        aspect,
        severity,
        id: format!("{}{name}", kind.id()),
        at: DVec2::new(job.board.length.get(), job.board.width.get()) * 0.5,
        measured,
        limit,
        run: Mm::ZERO,
        apex: 0.0,
        direction: 0.0,
        share: 0.0,
        element: None,
        cutter: None,
        axis: Vec::new(),
        about: About::Nothing,
    }
}

fn board_findings(job: &Job, measured: &Measured, fit: &Fit, factor: f64) -> Vec<Finding> {
    use Aspect::{Design, TooLong, TooNarrow, TooShort, TooThick, TooThin, TooWide};
    use FindingKind::{BoardNarrow, BoardShort, BoardThin, MachineLimit};
    let (board, machine) = (&job.board, &job.machine);
    let at_least = [
        (BoardShort, Design, board.length, fit.length_needed),
        (BoardNarrow, Design, board.width, fit.width_needed),
        (BoardThin, Design, board.thickness, floor_needs(job)),
        (MachineLimit, TooShort, board.length, machine.shortest),
        (MachineLimit, TooNarrow, board.width, machine.narrowest),
        (MachineLimit, TooThin, board.thickness, machine.thinnest),
    ];
    let at_most = [
        (MachineLimit, TooLong, board.length, machine.longest),
        (MachineLimit, TooWide, board.width, machine.widest),
        (MachineLimit, TooThick, board.thickness, machine.thickest),
    ];
    let short = at_least.into_iter().filter(|&(.., measured, needed)| fit::falls_short(measured, needed));
    let over = at_most.into_iter().filter(|&(.., measured, most)| fit::falls_short(most, measured));
    short
        .chain(over)
        .map(|(kind, aspect, measured, limit)| {
            // A floor thinner than is usual may hold; a cut deeper than the board is thick does not.
            let severity = if kind == BoardThin && deepest_floor(job).get() < board.thickness.get() {
                Severity::Chancy
            } else {
                Severity::Unsound
            };
            whole_board(job, kind, aspect, severity, measured, limit)
        })
        .chain(cutter_findings(job, measured))
        .chain(misplaced(job, factor))
        .collect()
}

/// What a cutter of this shape cannot do, where it is asked for it.
fn cutter_refused(shape: CutterShape, treatment: Treatment) -> Option<Aspect> {
    let pointed = matches!(shape, CutterShape::Vee { .. });
    match treatment {
        Treatment::Relief | Treatment::Sunk | Treatment::Pierced if pointed => Some(Aspect::PointOnAFloor),
        Treatment::Incised if !pointed => Some(Aspect::NoPoint),
        _ => None,
    }
}

/// What the cutters cannot do: the job's own is told once for all it is for, an element's own by itself.
fn cutter_findings(job: &Job, measured: &Measured) -> Vec<Finding> {
    if !measured.carves() {
        return Vec::new();
    }
    let usual = job.places().filter(|&place| job.own_cutter(place).is_none()).collect::<Vec<_>>();
    let own = job.places().filter(|&place| job.own_cutter(place).is_some());
    let mut found = Vec::new();
    for places in [usual].into_iter().chain(own.map(|place| vec![place])) {
        let Some(&first) = places.first() else { continue };
        let cuts = || places.iter().map(|&place| job.cut(place));
        let named = |finding: Finding| match first.filter(|_| job.own_cutter(first).is_some()) {
            None => finding,
            Some(element) => Finding {
                id: format!("{}-{}", finding.id, element + 1),
                element: Some(job.design.elements[element].name.clone()),
                cutter: job.own_cutter(first).map(|cutter| cutter.name.clone()),
                ..finding
            },
        };
        let limit = |aspect, measured, most| {
            whole_board(job, FindingKind::CutterLimit, aspect, Severity::Unsound, measured, most)
        };
        let deepest = cuts().map(|cut| cut.depth).fold(Mm::ZERO, Mm::max);
        let edges = job.cut(first).cutter.flute_length;
        if fit::falls_short(edges, deepest) {
            found.push(named(limit(Aspect::Flutes, deepest, edges)));
        }
        let refused = cuts().find_map(|cut| cutter_refused(cut.cutter.shape, cut.treatment));
        found.extend(refused.map(|aspect| named(limit(aspect, Mm::ZERO, Mm::ZERO))));
    }
    found
}

/// How deep the deepest floor or V is; the job's depth where there is none.
fn deepest_floor(job: &Job) -> Mm {
    job.deepest_floor().unwrap_or(job.depth)
}

/// The thickness a job needs for its floors: the deepest of them and the wood left under it; 0 where no floor
/// is left.
fn floor_needs(job: &Job) -> Mm {
    job.deepest_floor().map_or(Mm::ZERO, |depth| depth + FLOOR_LEFT)
}

/// A typed or dragged place that leaves too little board beyond the design.
fn misplaced(job: &Job, factor: f64) -> Vec<Finding> {
    let overlap = |overlap: fit::Overlap| {
        let (kind, aspect) = match overlap.side {
            fit::BoardSide::Left => (FindingKind::BoardShort, Aspect::LeftEnd),
            fit::BoardSide::Right => (FindingKind::BoardShort, Aspect::RightEnd),
            fit::BoardSide::Lower => (FindingKind::BoardNarrow, Aspect::ReferenceEdge),
            fit::BoardSide::Upper => (FindingKind::BoardNarrow, Aspect::FarEdge),
        };
        whole_board(job, kind, aspect, Severity::Unsound, overlap.free, overlap.needed)
    };
    // Where the board is too small for this size, that is said already.
    let board = fit::board_needed(job, factor);
    let fits =
        !fit::falls_short(job.board.length, board.length) && !fit::falls_short(job.board.width, board.width);
    if fits { fit::overlaps(job, factor).into_iter().map(overlap).collect() } else { Vec::new() }
}

/// The snipe zones, the share of the design in them, and a finding for each end that has any.
fn snipe(
    job: &Job,
    measured: &Measured,
    factor: f64,
    board_from_design: DAffine2,
    step: Step,
    findings: &mut Vec<Finding>,
) -> (Vec<[Mm; 2]>, f64) {
    let zones = ends::snipe_zones(job);
    let outline = box_on_board(job.design.outline_box(), board_from_design);
    let (left, right) = (outline.min.x, outline.max.x);
    for (&zone, end) in zones.iter().zip([BoardEnd::Left, BoardEnd::Right]) {
        let share = ends::share_within(job, measured, factor, zone);
        let (from, to) = (zone[0].get().max(left), zone[1].get().min(right));
        if to <= from {
            continue;
        }
        let aspect = if job.machine.leads(end) { Aspect::LeadingEnd } else { Aspect::TrailingEnd };
        let middle = DVec2::new((from + to) * 0.5, job.board.width.get() * 0.5);
        let length = Mm::new(to - from);
        let finding = whole_board(job, FindingKind::SnipeZone, aspect, Severity::Chancy, length, Mm::ZERO);
        let about = About::Step(step.height());
        findings.push(Finding { at: middle, run: length, share, about, ..finding });
    }
    // The zones of a short board overlap; what lies in both is counted once.
    let share = match zones.as_slice() {
        &[[start, first], [second, end]] if second.get() < first.get() => {
            ends::share_within(job, measured, factor, [start, end])
        }
        zones => zones.iter().map(|&zone| ends::share_within(job, measured, factor, zone)).sum(),
    };
    (zones, share)
}

/// A box of the design on the board, or the other way: quarter turns keep boxes boxes.
fn box_on_board(area: Rect, board_from_design: DAffine2) -> Rect {
    Rect::new(board_from_design.transform_point2(area.min), board_from_design.transform_point2(area.max))
}

/// Blemishes that the carved box reaches. One that an outline comes upon is graver than one in bare
/// ground between them.
fn blemish_findings(
    job: &Job,
    measured: &Measured,
    factor: f64,
    board_from_design: DAffine2,
) -> Vec<Finding> {
    let under = place::blemishes_under(job, factor);
    let design_from_board = board_from_design.inverse();
    under
        .into_iter()
        .map(|(index, distance)| {
            let blemish = &job.board.blemishes[index];
            let area = box_on_board(
                blemish.bounds().grown(blemish.clearance.get().max(0.0) + 1e-6),
                design_from_board,
            );
            let near = |segment: [DVec2; 2]| {
                let segment = segment.map(|point| board_from_design.transform_point2(point));
                blemish.distance_to_segment(segment) <= blemish.clearance.get()
            };
            let point = design_from_board.transform_point2(blemish.middle());
            let reached = |&(index, element): &(usize, &Element)| {
                let meets = element.region.bounds().is_some_and(|bounds| bounds.meets(area));
                let locator = || measured.locator(&job.design, index);
                meets && (locator().contains(point) || locator().edges_near(area).any(near))
            };
            let met = job.design.elements.iter().enumerate().find(reached).map(|(_, element)| element);
            let severity = match (met, blemish.kind.breaks_the_wood()) {
                (Some(_), true) => Severity::Unsound,
                _ => Severity::Chancy,
            };
            Finding {
                id: format!("blemish-{}", index + 1),
                at: blemish.middle(),
                element: met.map(|element| element.name.clone()),
                about: About::Blemish(blemish.kind),
                ..whole_board(
                    job,
                    FindingKind::Blemish,
                    Aspect::Design,
                    severity,
                    Mm::new(distance),
                    blemish.clearance,
                )
            }
        })
        .collect()
}

/// What breaks the strip of the underside that the position sensor reads: blemishes anywhere along it,
/// and cuts right through the board. `O(blemishes + elements)`.
fn strip_findings(job: &Job, board_from_design: DAffine2) -> Vec<Finding> {
    let Some((edge, sensed)) = job.machine.sensed_strip() else { return Vec::new() };
    let strip = sensed.get();
    let (length, width) = (job.board.length.get(), job.board.width.get());
    let (low, high) = match edge {
        BoardEdge::Reference => (0.0, strip),
        BoardEdge::Far => (width - strip, width),
    };
    // Beyond the edge as well: wane is marked there.
    let area = match edge {
        BoardEdge::Reference => Rect::new(DVec2::new(0.0, -strip), DVec2::new(length, high)),
        BoardEdge::Far => Rect::new(DVec2::new(0.0, low), DVec2::new(length, width + strip)),
    };
    let finding = |id: String, at: DVec2, measured: f64, about: About, element: Option<String>| Finding {
        id,
        at,
        element,
        about,
        ..whole_board(
            job,
            FindingKind::SensingStrip,
            Aspect::Design,
            Severity::Unsound,
            Mm::new(measured),
            sensed,
        )
    };
    let from_edge = |bounds: Rect| match edge {
        BoardEdge::Reference => bounds.min.y.max(0.0),
        BoardEdge::Far => (width - bounds.max.y).max(0.0),
    };
    let blemishes = job.board.blemishes.iter().enumerate().filter_map(|(index, blemish)| {
        let free = from_edge(blemish.bounds());
        let breaks = blemish.distance_to_box(area) == 0.0 && free < strip;
        let about = About::Blemish(blemish.kind);
        breaks.then(|| {
            finding(format!("sensing_strip-blemish-{}", index + 1), blemish.middle(), free, about, None)
        })
    });
    let pierced = job.design.elements.iter().zip(job.treatments()).enumerate();
    let cuts = pierced.filter(|(_, (_, treatment))| *treatment == Treatment::Pierced).filter_map(
        |(index, (element, _))| {
            let bounds = box_on_board(element.region.bounds()?, board_from_design);
            let free = from_edge(bounds);
            let at = DVec2::new(bounds.center().x, if low == 0.0 { bounds.min.y } else { bounds.max.y });
            let id = format!("sensing_strip-cut-{}", index + 1);
            (free < strip).then(|| finding(id, at, free, About::Nothing, Some(element.name.clone())))
        },
    );
    blemishes.chain(cuts).collect()
}

/// A finding for each line of the bench list that is not as it should be, and one for all that were not
/// measured.
fn stock_findings(job: &Job, rows: &[StockRow]) -> Vec<Finding> {
    let board = |kind| whole_board(job, kind, Aspect::Stock, Severity::Sound, Mm::ZERO, Mm::ZERO);
    let warp = rows.iter().filter(|row| row.severity > Severity::Sound).map(|row| Finding {
        id: format!("warp-{}", row.check.id()),
        severity: row.severity,
        measured: row.depth_error.max(row.sideways),
        limit: row.tolerance(),
        run: row.length.unwrap_or_default(),
        about: About::Stock(row.clone()),
        ..board(FindingKind::Warp)
    });
    let unmeasured: Vec<Check> = job.board.stock.unmeasured().collect();
    let not_checked = (!unmeasured.is_empty()).then(|| Finding {
        id: FindingKind::NotChecked.id().to_owned(),
        about: About::Unmeasured(unmeasured),
        ..board(FindingKind::NotChecked)
    });
    warp.chain(not_checked).collect()
}

/// What is left under the deepest cut.
fn thickness_left(job: &Job, measured: &Measured, rows: &[StockRow]) -> Mm {
    if !measured.carves() {
        return job.board.thickness;
    }
    if floor_needs(job) == Mm::ZERO {
        return Mm::ZERO;
    }
    (job.board.thickness - deepest_floor(job) - stock::depth_error(rows)).max(Mm::ZERO)
}

/// Too little is left because of warp: a board that is too thin anyway is a finding of its own.
fn thickness_finding(job: &Job, measured: &Measured, left: Mm) -> Option<Finding> {
    let needed = floor_needs(job);
    let enough_as_set = needed > Mm::ZERO && !fit::falls_short(job.board.thickness, needed);
    let short = measured.carves() && enough_as_set && fit::falls_short(left, FLOOR_LEFT);
    let severity = if left > Mm::ZERO { Severity::Chancy } else { Severity::Unsound };
    short.then(|| whole_board(job, FindingKind::ThicknessLeft, Aspect::Stock, severity, left, FLOOR_LEFT))
}

/// A board that lifts a roller with less than this share of what it presses down with lies as still as
/// any (our own judgement).
const WORTH_TELLING: f64 = 0.5;

/// A finding for each end of the board whose weight tips it: chancy where it is more than the roller
/// holds down.
fn travel_findings(job: &Job, travel: &Travel) -> Vec<Finding> {
    let tips = |overhang: &Overhang| {
        let aspect = match overhang.side {
            FeedSide::Infeed => Aspect::Infeed,
            FeedSide::Outfeed => Aspect::Outfeed,
        };
        // A weight that is not known may be any.
        let share = overhang.lift.map_or(f64::INFINITY, |lift| lift / job.machine.hold_down.max(1e-9));
        let severity = if share > 1.0 { Severity::Chancy } else { Severity::Sound };
        (overhang.tips() && share > WORTH_TELLING).then(|| Finding {
            about: About::Overhang(overhang.clone()),
            ..whole_board(job, FindingKind::Overhang, aspect, severity, overhang.reach, overhang.balance)
        })
    };
    [&travel.infeed, &travel.outfeed].into_iter().filter_map(tips).collect()
}

/// Graver first; then by kind; then what falls furthest short of its limit; then by name.
fn sort_worst_first(findings: &mut [Finding]) {
    let shortfall = |finding: &Finding| match finding.apex {
        0.0 => finding.measured.get() / finding.limit.get(),
        _ => -finding.measured.get(),
    };
    findings.sort_by(|a, b| {
        b.severity
            .cmp(&a.severity)
            .then(a.kind.cmp(&b.kind))
            .then_with(|| shortfall(a).total_cmp(&shortfall(b)))
            .then_with(|| a.id.cmp(&b.id))
    });
}
