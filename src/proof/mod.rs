//! From a job to its proof: everything Spelk works out.
//!
//! Three steps, so that the costly one is done once a design: [`measure()`] the widths, [`rate()`] each of
//! them against the limit of this cutter, depth and wood, then ask for the [`proof`] at a size, which
//! takes well under a frame.

pub mod ends;
mod finding;
pub mod fit;
pub mod limit;
mod measure;
pub mod mend;
mod rate;
mod verdict;

pub use finding::{Aspect, Finding, FindingKind, Severity};
pub use fit::{Fit, FitOutcome};
pub use limit::{Limits, SHALLOW_DEPTH};
pub use measure::{Measured, measure};
pub use rate::{RatedMap, Ratings, rate};
pub use verdict::{Reason, SoundSize, Verdict, percent_down, percent_up};

pub use crate::geometry::widths::MeasureError;
use crate::geometry::widths::{Feature, FeatureShape};
use crate::job::{Job, Treatment};
use crate::shop::CutterShape;
use crate::units::Mm;
use glam::{DAffine2, DVec2};

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
    /// The thinnest walls to be trusted.
    pub limits: Limits,
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
    /// Worst first.
    pub findings: Vec<Finding>,
    /// The answer in plain words.
    pub verdict: Verdict,
    /// Design space to board space: board millimetres, origin at the corner where the leading (left)
    /// end meets the reference (lower) edge, x along the board, y up.
    pub board_from_design: DAffine2,
}

/// The proof of a job at its size, from a design measured under the job's treatments and rated for the
/// job. `O(log n + hits)` in measured pieces, and `O(n)` in edges where the ends are free.
pub fn proof(job: &Job, measured: &Measured, ratings: &Ratings) -> Proof {
    let factor = fit::factor(job);
    let fit = fit::fit(job, factor);
    let frame = fit::frame_box(job).size();
    let board_from_design = fit::board_from_design(job, factor);

    let mut findings = board_findings(job, measured, &fit);
    let (snipe_zones, sniped_share) = snipe(job, factor, board_from_design, &mut findings);
    let on_board = OnBoard { job, factor, board_from_design };
    findings.extend(wall_findings(&on_board, measured, ratings));
    findings.extend(groove_findings(&on_board, measured, ratings));
    sort_worst_first(&mut findings);

    let least_sound_factor = [&ratings.walls, &ratings.grooves]
        .iter()
        .filter_map(|map| map.least_sound_factor())
        .max_by(f64::total_cmp);
    let (severity, reasons) = Verdict::of(&findings);
    let verdict = Verdict {
        severity,
        reasons,
        sound_size: least_sound_factor.filter(|&least| least > factor && least.is_finite()).map(|least| {
            SoundSize { factor: least, length: Mm::new(frame.x * least), fits: least <= fit.largest_factor }
        }),
        shrink_to: (fit.outcome == FitOutcome::Shrink).then_some(fit.largest_factor),
        fits_ends_free: fit.outcome != FitOutcome::Fits && fit::fits_ends_free(job, factor),
        carves: measured.carves(),
    };
    let at_size = |least: Option<f64>| least.map(|width| Mm::new(width * factor));
    Proof {
        factor,
        length: Mm::new(frame.x * factor),
        width: Mm::new(frame.y * factor),
        fit,
        limits: ratings.limits.clone(),
        thinnest_wall: at_size(measured.walls.least()),
        thinnest_groove: at_size(measured.grooves.least()),
        least_sound_factor,
        snipe_zones,
        sniped_share,
        findings,
        verdict,
        board_from_design,
    }
}

/// All three steps at once, for a caller that asks once.
pub fn proof_of(job: &Job) -> Result<Proof, MeasureError> {
    let measured = measure(&job.design, &job.treatments)?;
    Ok(proof(job, &measured, &rate(job, &measured)))
}

/// A job at one size: what turns a feature of the design into a finding on the board.
struct OnBoard<'a> {
    job: &'a Job,
    factor: f64,
    board_from_design: DAffine2,
}

impl OnBoard<'_> {
    fn finding(&self, kind: FindingKind, severity: Severity, feature: Feature, limit: Mm) -> Finding {
        let run = Mm::new(feature.length * self.factor);
        let (measured, apex, name) = match feature.shape {
            FeatureShape::Neck => (Mm::new(feature.width * self.factor), 0.0, kind.id()),
            FeatureShape::Tip { apex } => (run, apex, "tip"),
        };
        Finding {
            kind,
            aspect: Aspect::Design,
            severity,
            id: format!("{}-{name}-{}", kind.id(), feature.piece),
            at: self.board_from_design.transform_point2(feature.at),
            measured,
            limit,
            run,
            apex,
            share: 0.0,
            element: self.element_at(feature.inside()),
            axis: feature.axis,
        }
    }

    /// The name of the element at a place of the design. `O(n)` in edges: asked only of what is found,
    /// and only where there is more than one answer.
    fn element_at(&self, point: DVec2) -> Option<String> {
        match self.job.design.elements.as_slice() {
            [only] => Some(only.name.clone()),
            several => several
                .iter()
                .find(|element| element.region.contains(point))
                .map(|element| element.name.clone()),
        }
    }
}

fn wall_findings(on_board: &OnBoard, measured: &Measured, ratings: &Ratings) -> Vec<Finding> {
    let thin = ratings.walls.thin_at(on_board.factor);
    let features = measured.walls.features(&thin);
    let to_finding = |feature: Feature| {
        let limit = ratings.limits.wall(feature.direction, measured.beside_pierced(feature.piece));
        match feature.shape {
            FeatureShape::Neck => on_board.finding(FindingKind::ThinWall, Severity::Unsound, feature, limit),
            FeatureShape::Tip { .. } => {
                let severity = tip_severity(on_board.factor * feature.length, limit);
                on_board.finding(FindingKind::LostTip, severity, feature, limit)
            }
        }
    };
    features.into_iter().map(to_finding).collect()
}

fn groove_findings(on_board: &OnBoard, measured: &Measured, ratings: &Ratings) -> Vec<Finding> {
    let thin = ratings.grooves.thin_at(on_board.factor);
    let features = measured.grooves.features(&thin);
    let to_finding = |feature: Feature| {
        let treatment = measured.groove_treatment(feature.piece);
        let limit = ratings.limits.groove_in(treatment);
        let runs_out_in_a_v = treatment == Treatment::Incised && ratings.limits.incised_groove.is_some();
        match feature.shape {
            // A V runs out to nothing in a corner: that is how it is meant to look.
            FeatureShape::Tip { .. } if runs_out_in_a_v => None,
            FeatureShape::Tip { .. } => {
                let severity = tip_severity(on_board.factor * feature.length, limit);
                Some(on_board.finding(FindingKind::BlockedGroove, severity, feature, limit))
            }
            FeatureShape::Neck if runs_out_in_a_v => {
                Some(on_board.finding(FindingKind::ShallowGroove, Severity::Chancy, feature, limit))
            }
            FeatureShape::Neck => {
                Some(on_board.finding(FindingKind::BlockedGroove, Severity::Unsound, feature, limit))
            }
        }
    };
    features.into_iter().filter_map(to_finding).collect()
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
        share: 0.0,
        element: None,
        axis: Vec::new(),
    }
}

fn board_findings(job: &Job, measured: &Measured, fit: &Fit) -> Vec<Finding> {
    use Aspect::{Design, Flutes, TooLong, TooNarrow, TooShort, TooThick, TooThin, TooWide};
    use FindingKind::{BoardNarrow, BoardShort, BoardThin, CutterLimit, MachineLimit};
    let (board, machine) = (&job.board, &job.machine);
    let cuts_through = job.treatments.contains(&Treatment::Pierced);
    let leaves_a_floor =
        job.treatments.iter().any(|t| matches!(t, Treatment::Relief | Treatment::Sunk | Treatment::Incised));
    let floor_needs = if leaves_a_floor { job.depth + FLOOR_LEFT } else { Mm::ZERO };
    let deepest = match (cuts_through, measured.carves()) {
        (true, _) => board.thickness,
        (false, true) => job.depth,
        (false, false) => Mm::ZERO,
    };
    let at_least = [
        (BoardShort, Design, board.length, fit.length_needed),
        (BoardNarrow, Design, board.width, fit.width_needed),
        (BoardThin, Design, board.thickness, floor_needs),
        (MachineLimit, TooShort, board.length, machine.shortest),
        (MachineLimit, TooNarrow, board.width, machine.narrowest),
        (MachineLimit, TooThin, board.thickness, machine.thinnest),
    ];
    let at_most = [
        (MachineLimit, TooLong, board.length, machine.longest),
        (MachineLimit, TooWide, board.width, machine.widest),
        (MachineLimit, TooThick, board.thickness, machine.thickest),
        (CutterLimit, Flutes, deepest, job.cutter.flute_length),
    ];
    let short = at_least.into_iter().filter(|&(.., measured, needed)| fit::falls_short(measured, needed));
    let over = at_most.into_iter().filter(|&(.., measured, most)| fit::falls_short(most, measured));
    let refused = job
        .treatments
        .iter()
        .find_map(|&treatment| cutter_refused(job.cutter.shape, treatment))
        .map(|aspect| whole_board(job, CutterLimit, aspect, Severity::Unsound, Mm::ZERO, Mm::ZERO));
    short
        .chain(over)
        .map(|(kind, aspect, measured, limit)| {
            // A floor thinner than is usual may hold; a cut deeper than the board is thick does not.
            let severity = if kind == BoardThin && job.depth.get() < board.thickness.get() {
                Severity::Chancy
            } else {
                Severity::Unsound
            };
            whole_board(job, kind, aspect, severity, measured, limit)
        })
        .chain(refused)
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

/// The snipe zones, the share of the design in them, and a finding for each end that has any.
fn snipe(
    job: &Job,
    factor: f64,
    board_from_design: DAffine2,
    findings: &mut Vec<Finding>,
) -> (Vec<[Mm; 2]>, f64) {
    let zones = ends::snipe_zones(job);
    let outline = job.design.outline_box();
    let left = board_from_design.transform_point2(outline.min).x;
    let right = board_from_design.transform_point2(outline.max).x;
    for (&zone, aspect) in zones.iter().zip([Aspect::LeadingEnd, Aspect::TrailingEnd]) {
        let share = ends::share_within(job, factor, zone);
        let (from, to) = (zone[0].get().max(left), zone[1].get().min(right));
        if to <= from {
            continue;
        }
        let middle = DVec2::new((from + to) * 0.5, job.board.width.get() * 0.5);
        let length = Mm::new(to - from);
        let finding = whole_board(job, FindingKind::SnipeZone, aspect, Severity::Chancy, length, Mm::ZERO);
        findings.push(Finding { at: middle, run: length, share, ..finding });
    }
    // The zones of a short board overlap; what lies in both is counted once.
    let share = match zones.as_slice() {
        &[[start, first], [second, end]] if second.get() < first.get() => {
            ends::share_within(job, factor, [start, end])
        }
        zones => zones.iter().map(|&zone| ends::share_within(job, factor, zone)).sum(),
    };
    (zones, share)
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
