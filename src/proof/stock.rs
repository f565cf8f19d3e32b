//! The stock check: what was measured at the bench, and what each value costs.
//!
//! The machine sets its depth from one place of the face and trusts the rest to be flat; what is not
//! becomes a depth error, and for a V, whose width follows its depth, a width error of
//! `2 tan(a/2)` times as much. What bends the edge becomes an error sideways. Something not measured is
//! not checked, and never fine.

use super::fit::{carved_box, deepest_floor, floor_needs};
use super::{Measured, Severity};
use crate::job::{Cut, Job, Treatment};
use crate::shop::{Check, Climate, CutterShape, Planed, Sawn};
use crate::units::Mm;

/// Depth errors up to this are lost in the sanding (our own judgement).
const DEPTH_TOLERANCE: Mm = Mm::new(0.25);
/// Errors sideways up to this are not seen (our own judgement).
const SIDEWAYS_TOLERANCE: Mm = Mm::new(0.5);
/// A depth error of this share of the depth spoils the carving: our own judgement.
const SPOILED: f64 = 0.5;
/// Moisture, per cent, that wood for indoor work is carved at (common practice, no source).
const MOISTURES: std::ops::RangeInclusive<f64> = 5.0..=12.0;
/// The air a finished piece is taken to hang in.
const INDOORS: Climate = Climate { celsius: 20.0, humidity: 0.5 };

/// One line of the bench list, worked out.
#[derive(Clone, Debug, PartialEq)]
pub struct StockRow {
    /// What was to be measured.
    pub check: Check,
    /// Whether it was.
    pub measured: bool,
    /// What was measured, where it is a length.
    pub length: Option<Mm>,
    /// How much deeper or shallower than set the carving may come out.
    pub depth_error: Mm,
    /// How much wider or narrower a V groove may come out; 0 for other cutters.
    pub width_error: Mm,
    /// How far the carving may lie off its place across the board.
    pub sideways: Mm,
    /// How serious; a thing not measured is [`Severity::Sound`] and says that it is not checked.
    pub severity: Severity,
    /// Why.
    pub reason: StockReason,
}

/// Why a line of the bench list has its verdict.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum StockReason {
    /// Nobody has measured it.
    NotChecked,
    /// The errors are within what is not seen.
    Within,
    /// The depth error is more than this.
    TooDeep {
        /// The most that is lost in the sanding.
        tolerance: Mm,
    },
    /// The error sideways is more than this.
    TooFarAside {
        /// The most that is not seen.
        tolerance: Mm,
    },
    /// Pressed flat by the rollers, the cup stresses the wood across the grain beyond its strength.
    MayCrack {
        /// The stress, MPa.
        stress: f64,
        /// The strength, MPa.
        strength: f64,
    },
    /// A rough face has no one thickness to set the depth from.
    Rough,
    /// Outside the moisture wood is carved at: this is what the finished width moves by indoors.
    Moves {
        /// Moisture content, per cent.
        moisture: f64,
        /// What the width of the board changes by; `None` where no coefficient is published.
        by: Option<Mm>,
    },
}

/// A job's board as it was measured at the bench, worked out.
#[derive(Clone, Debug)]
pub struct Stock {
    /// The bench list: a row a check.
    pub rows: Vec<StockRow>,
    /// Wood left under the deepest cut, with what warp may cut deeper taken off; 0 where it is cut through.
    pub thickness_left: Mm,
}

impl Stock {
    pub(super) fn of(job: &Job, measured: &Measured, factor: f64) -> Stock {
        let rows = stock_rows(job, factor);
        let thickness = job.board().thickness;
        let thickness_left = if !measured.carves() {
            thickness
        } else if floor_needs(job) == Mm::ZERO {
            Mm::ZERO
        } else {
            (thickness - deepest_floor(job) - depth_error(&rows)).max(Mm::ZERO)
        };
        Stock { rows, thickness_left }
    }
}

/// Works out the bench list at `factor`: one row a check, in its order. `O(1)`.
pub fn stock_rows(job: &Job, factor: f64) -> Vec<StockRow> {
    Check::ALL.into_iter().map(|check| row(job, factor, check)).collect()
}

/// The depth errors of all rows together: what may be cut deeper than set.
pub fn depth_error(rows: &[StockRow]) -> Mm {
    rows.iter().map(|row| row.depth_error).sum()
}

fn row(job: &Job, factor: f64, check: Check) -> StockRow {
    let stock = &job.board().stock;
    let length = stock.length(check);
    let blank = StockRow {
        check,
        measured: stock.measured(check),
        length,
        depth_error: Mm::ZERO,
        width_error: Mm::ZERO,
        sideways: Mm::ZERO,
        severity: Severity::Sound,
        reason: StockReason::NotChecked,
    };
    if !blank.measured {
        return blank;
    }
    match (check, length) {
        (Check::Planed, _) if stock.planed == Some(Planed::Rough) => {
            StockRow { severity: Severity::Chancy, reason: StockReason::Rough, ..blank }
        }
        (Check::Moisture, _) => moisture_row(job, &blank),
        (Check::Cup | Check::Bow | Check::Twist, Some(length)) => {
            let error = depth_error_of(job, factor, check, length);
            let width_error = error * v_growth(job);
            let row = StockRow { depth_error: error, width_error, reason: StockReason::Within, ..blank };
            let row = judged_by_depth(job, row);
            if check == Check::Cup { judged_by_cracking(job, length, row) } else { row }
        }
        (Check::Crook | Check::UnequalWidth | Check::OffSquare, Some(length)) => {
            let sideways = sideways_of(job, factor, check, length);
            let over = sideways > SIDEWAYS_TOLERANCE;
            StockRow {
                sideways,
                severity: if over { Severity::Chancy } else { Severity::Sound },
                reason: if over {
                    StockReason::TooFarAside { tolerance: SIDEWAYS_TOLERANCE }
                } else {
                    StockReason::Within
                },
                ..blank
            }
        }
        _ => StockRow { reason: StockReason::Within, ..blank },
    }
}

/// How far the face departs from a plane within the carved box.
///
/// - Cup is an arc across the board, a parabola to within a thousandth: `cup (2 y / W - 1)^2` from its
///   middle. The error is the difference between its highest and lowest place under the carved box.
/// - Bow is an arc along the board. The rollers hold the board down on either side of the cutter, so
///   what is left is the arc between them: it goes with the square of the length.
/// - Twist turns evenly along the board: what counts is the part between the rollers, over the carved
///   width.
fn depth_error_of(job: &Job, factor: f64, check: Check, length: Mm) -> Mm {
    let board = job.board();
    let between_rollers = (job.machine().roller_span() / board.length).min(1.0);
    let carved = carved_box(job, factor);
    match check {
        Check::Cup => {
            let place = |y: f64| (2.0 * y / board.width.get() - 1.0).clamp(-1.0, 1.0);
            let (low, high) = (place(carved.min.y), place(carved.max.y));
            let most = low.powi(2).max(high.powi(2));
            let least = if low <= 0.0 && high >= 0.0 { 0.0 } else { low.powi(2).min(high.powi(2)) };
            length * (most - least)
        }
        Check::Bow => length * between_rollers.powi(2),
        Check::Twist => length * between_rollers * (carved.size().y / board.width.get()).min(1.0),
        _ => Mm::ZERO,
    }
}

/// How far the carving may lie off its place across the board, along the reference edge under it.
fn sideways_of(job: &Job, factor: f64, check: Check, length: Mm) -> Mm {
    let share = (carved_box(job, factor).size().x / job.board().length.get()).min(1.0);
    match check {
        Check::Crook => length * share.powi(2),
        Check::UnequalWidth => length * share,
        _ => length,
    }
}

/// How much wider the widest V cuts for each unit deeper; 0 where nothing is cut with a V.
fn v_growth(job: &Job) -> f64 {
    let growth = |cut: Cut<'_>| match (cut.treatment, cut.cutter.shape) {
        (Treatment::Incised, CutterShape::Vee { .. }) => 2.0 * cut.cutter.shape.side_slope(),
        _ => 0.0,
    };
    job.cuts().map(growth).fold(0.0, f64::max)
}

fn judged_by_depth(job: &Job, row: StockRow) -> StockRow {
    if row.depth_error <= DEPTH_TOLERANCE {
        return row;
    }
    let shallowest = job.shallowest_floor().unwrap_or(job.depth());
    let spoiled = row.depth_error >= shallowest * SPOILED;
    let severity = if spoiled { Severity::Unsound } else { Severity::Chancy };
    StockRow { severity, reason: StockReason::TooDeep { tolerance: DEPTH_TOLERANCE }, ..row }
}

/// A strip of infinite length on its two long edges, pushed at one place of its middle, gives as much as a beam across
/// it that is this many times as wide as the strip: `1 / (48 * 0.01695)` (Timoshenko and Woinowsky-Krieger, *Theory
/// of Plates and Shells*, deflection 0.01695 P a^2 / D, from memory).
const SPREADS: f64 = 1.0 / (48.0 * 0.016_95);

/// Whether a roller that presses on a cup cracks the board. The board bends across the grain as a beam on its two
/// edges; along the board, where wood is far stiffer, the push spreads wider by `(E_L / E_T)^(1/4)`. It cracks only
/// if the roller can press that hard: no harder than the machine does, and no farther than flat.
fn judged_by_cracking(job: &Job, cup: Mm, row: StockRow) -> StockRow {
    let wood = job.wood();
    let (Some(modulus), Some(strength)) = (wood.modulus, wood.tension_across) else { return row };
    let ratios = wood.elastic_ratios().0;
    let across = match job.board().sawn {
        Sawn::Flat => ratios.e_t,
        Sawn::Quarter => ratios.e_r,
    };
    let (width, thickness) = (job.board().width.get(), job.board().thickness.get());
    let breadth = (SPREADS * width * across.powf(-0.25)).min(job.board().length.get());
    let flat = 4.0 * modulus * across * breadth * (thickness / width).powi(3) * cup.get();
    let stress = 1.5 * flat.min(job.machine().hold_down) * width / (breadth * thickness * thickness);
    if stress < strength {
        return row;
    }
    let severity = row.severity.max(Severity::Chancy);
    StockRow { severity, reason: StockReason::MayCrack { stress, strength }, ..row }
}

fn moisture_row(job: &Job, blank: &StockRow) -> StockRow {
    let moisture = job.board().stock.moisture.unwrap_or_default();
    if MOISTURES.contains(&moisture) {
        return StockRow { reason: StockReason::Within, ..blank.clone() };
    }
    let by = job.wood().change_with_moisture(
        job.board().width,
        job.board().sawn,
        [moisture, INDOORS.moisture_content()],
    );
    StockRow { severity: Severity::Chancy, reason: StockReason::Moves { moisture, by }, ..blank.clone() }
}

impl StockRow {
    /// The error that is not seen; `None` where the verdict does not rest on one.
    pub fn tolerance(&self) -> Option<Mm> {
        match self.reason {
            StockReason::TooDeep { tolerance } | StockReason::TooFarAside { tolerance } => Some(tolerance),
            _ => None,
        }
    }
}
