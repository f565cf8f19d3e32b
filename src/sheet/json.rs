//! The proof as one JSON object, for scripts. The README documents it.
//!
//! Lengths are millimetres to a ten-thousandth, factors to a millionth; fields are in a fixed order.

use super::Besides;
use super::advice::{OfferObject, SHOWN_WITH_A_PROOF, offer_objects, offer_of_row};
use crate::advice::Offer;
use crate::job::Side;
use crate::job::{Ends, Job, Place};
use crate::proof::carrier::{Carrier, carrier};
use crate::proof::fit::{board_needed, draw_for};
use crate::proof::overhang::Overhang;
use crate::proof::price::PriceItem;
use crate::proof::rack::RackRow;
use crate::proof::sizes::{BoardTaken, Lost, RowKind, SizeRow};
use crate::proof::stock::StockRow;
use crate::proof::{Finding, FindingKind, FitOutcome, HeldWall, Proof, Severity, Uncut, UncutSpot, WallRow};
use crate::relief::time::JobTime;
use crate::shop::{BoardEnd, Check, Money, Prices};
use crate::units::{LengthUnit, Mm};
use crate::words;
use serde::{Serialize, Serializer};
use std::io::{self, Write};

/// The object's name and version, as in its first two fields.
pub const FORMAT: &str = "spelk.proof";
/// The name of the object that tells of the rack.
pub const RACK_FORMAT: &str = "spelk.rack";
/// The name of the object that tells of sizes.
pub const SIZES_FORMAT: &str = "spelk.sizes";
/// Raised when a field changes its meaning or goes; new fields do not raise it.
pub const VERSION: u32 = 1;

#[derive(Serialize)]
struct ProofObject<'a> {
    format: &'static str,
    version: u32,
    design: DesignObject,
    size: SizeObject,
    board: BoardObject,
    fit: FitObject,
    limits: LimitsObject,
    #[serde(skip_serializing_if = "Vec::is_empty")]
    own_cuts: Vec<OwnCutObject>,
    thinnest_wall_mm: Option<f64>,
    thinnest_groove_mm: Option<f64>,
    uncut: Option<UncutObject>,
    least_sound_factor: Option<f64>,
    placement: PlacementObject,
    ends: EndsObject,
    stock: Vec<StockObject>,
    thickness_left_mm: f64,
    travel: TravelObject,
    carrier: CarrierObject,
    time: Option<TimeObject>,
    /// The chance that every wall holds.
    chance: Option<f64>,
    walls: Vec<WallObject>,
    findings: FindingObjects<'a>,
    verdict: Severity,
    /// The first offers.
    offers: Vec<OfferObject>,
    #[serde(skip_serializing_if = "Option::is_none")]
    timings_ms: Option<Timings>,
}

/// A wall under twice its limit.
#[derive(Serialize)]
struct WallObject {
    id: String,
    x_mm: f64,
    y_mm: f64,
    width_mm: f64,
    limit_mm: f64,
    /// `null` of a wall that does not feel its ends.
    length_mm: Option<f64>,
    height_mm: f64,
    ends: &'static str,
    /// To the grain.
    direction_deg: f64,
    k: f64,
    governs: &'static str,
    chance: f64,
}

impl WallObject {
    fn of(row: &WallRow) -> WallObject {
        let HeldWall { height, run, limit } = row.held;
        WallObject {
            id: row.id.clone(),
            x_mm: places(row.at.x, 4),
            y_mm: places(row.at.y, 4),
            width_mm: mm(row.width),
            limit_mm: mm(limit.thickness),
            length_mm: run.length.get().is_finite().then(|| mm(run.length)),
            height_mm: mm(height),
            ends: run.ends.id(),
            direction_deg: places(row.to_grain.to_degrees(), 2),
            k: places(limit.k, 4),
            governs: limit.governs.id(),
            chance: places(row.chance, 4),
        }
    }
}

/// Walls that are listed unless all are asked for.
const MOST_WALLS: usize = 500;

/// The walls with the least margin, as many as are listed unless all are asked for.
pub fn most(walls: &[WallRow]) -> &[WallRow] {
    &walls[..walls.len().min(MOST_WALLS)]
}

/// How long each stage of a proof took, milliseconds.
#[derive(Clone, Copy, Debug, Serialize)]
pub struct Timings {
    /// Bytes to outlines.
    pub read: f64,
    /// Outlines to clean regions.
    pub clean: f64,
    /// Clean regions to the widths of walls and grooves.
    pub measure: f64,
    /// Widths to findings, for one size.
    pub proof: f64,
    /// The passes of the cutters, and their time.
    pub passes: f64,
    /// What would help.
    pub advice: f64,
    /// From the start of the command until there is something to print.
    pub total: f64,
}

#[derive(Serialize)]
struct UncutObject {
    area_mm2: f64,
    share: Option<f64>,
    places: usize,
    #[serde(skip_serializing_if = "Vec::is_empty")]
    elements: Vec<UncutOfObject>,
    largest: Vec<UncutSpotObject>,
}

#[derive(Serialize)]
struct UncutSpotObject {
    x_mm: f64,
    y_mm: f64,
    area_mm2: f64,
}

#[derive(Serialize)]
struct UncutOfObject {
    element: String,
    area_mm2: f64,
}

#[derive(Serialize)]
struct TimeObject {
    total_s: f64,
    cutting_s: f64,
    moving_s: f64,
    changing_s: f64,
    cutter_changes: u32,
    factor: f64,
    elements: Vec<TimeOfObject>,
    cutters: Vec<TimeOfObject>,
}

#[derive(Serialize)]
struct TimeOfObject {
    name: String,
    seconds: f64,
}

impl TimeObject {
    fn new(time: &JobTime) -> TimeObject {
        let of =
            |name: &String, seconds: f64| TimeOfObject { name: name.clone(), seconds: places(seconds, 1) };
        TimeObject {
            total_s: places(time.total, 1),
            cutting_s: places(time.cutting, 1),
            moving_s: places(time.moving, 1),
            changing_s: places(time.changing, 1),
            cutter_changes: time.changes,
            factor: places(time.factor, 4),
            elements: time.elements.iter().map(|one| of(&one.name, one.seconds)).collect(),
            cutters: time.cutters.iter().map(|one| of(&one.id, one.seconds)).collect(),
        }
    }
}

#[derive(Serialize)]
struct DesignObject {
    name: String,
    length_mm: f64,
    width_mm: f64,
    elements: usize,
    segments: usize,
    /// How far widths may be off at this size, of a traced design.
    #[serde(skip_serializing_if = "Option::is_none")]
    width_within_mm: Option<f64>,
}

#[derive(Serialize)]
struct SizeObject {
    factor: f64,
    length_mm: f64,
    width_mm: f64,
}

#[derive(Serialize)]
#[expect(clippy::struct_field_names, reason = "each field names its unit, as the JSON does")]
struct BoardObject {
    length_mm: f64,
    width_mm: f64,
    thickness_mm: f64,
    length_needed_mm: f64,
    width_needed_mm: f64,
    thickness_needed_mm: f64,
    draw_length_mm: f64,
    draw_width_mm: f64,
}

#[derive(Serialize)]
struct FitObject {
    outcome: FitOutcome,
    largest_factor: f64,
    turned_factor: f64,
    decided_by: Side,
    dressed_size: Option<String>,
}

#[derive(Serialize)]
struct PlacementObject {
    x_mm: f64,
    y_mm: f64,
    turn_degrees: i32,
}

#[derive(Serialize)]
struct EndsObject {
    held: bool,
    left_allowance_mm: f64,
    right_allowance_mm: f64,
    sniped_share: f64,
    release_step_mm: f64,
    step_mm: [f64; 2],
    sag_mm: Option<f64>,
}

#[derive(Serialize)]
struct StockObject {
    check: Check,
    measured: bool,
    measured_mm: Option<f64>,
    depth_error_mm: Option<f64>,
    width_error_mm: Option<f64>,
    sideways_mm: Option<f64>,
    severity: Option<Severity>,
    message: String,
}

#[derive(Serialize)]
struct TravelObject {
    in_front_mm: f64,
    behind_mm: f64,
    infeed: OverhangObject,
    outfeed: OverhangObject,
}

#[derive(Serialize)]
struct OverhangObject {
    reach_mm: f64,
    tips: bool,
    lift_newtons: Option<f64>,
    sag_mm: Option<f64>,
    stands_mm: Vec<f64>,
}

#[derive(Serialize)]
struct CarrierObject {
    needed: bool,
    reasons: Vec<String>,
    length_mm: f64,
    width_mm: f64,
    height_mm: f64,
    pocket_length_mm: f64,
    pocket_width_mm: f64,
    pocket_depth_mm: f64,
    rail_mm: f64,
    board_feet: f64,
}

#[derive(Serialize)]
struct LimitsObject {
    along_mm: f64,
    across_mm: f64,
    source: String,
}

/// An element that is not cut as deep, or not with the same cutter, as the job says.
#[derive(Serialize)]
struct OwnCutObject {
    element: String,
    depth_mm: f64,
    cutter: String,
    along_mm: f64,
    across_mm: f64,
    groove_mm: f64,
}

#[derive(Serialize)]
struct FindingObject {
    kind: FindingKind,
    id: String,
    severity: Severity,
    x_mm: f64,
    y_mm: f64,
    measured_mm: f64,
    limit_mm: f64,
    /// How far what was measured may be off, of a traced design.
    #[serde(skip_serializing_if = "Option::is_none")]
    within_mm: Option<f64>,
    #[serde(skip_serializing_if = "Option::is_none")]
    cutter: Option<String>,
    message: String,
    advice: String,
    accepted: bool,
}

/// How far widths may be off at the size that was proofed, of a traced design.
pub(super) fn traced_within(job: &Job, proof: &Proof) -> Option<Mm> {
    Some(job.design().sharpness?.width_within() * proof.factor)
}

/// How many uncut places are told one by one.
const SPOTS: usize = 20;

fn uncut_object(job: &Job, uncut: &Uncut) -> UncutObject {
    let of = |&(place, area): &(Place, f64)| UncutOfObject {
        element: job.name_of(place).to_owned(),
        area_mm2: places(area, 4),
    };
    let spot = |spot: &UncutSpot| UncutSpotObject {
        x_mm: places(spot.at.x, 4),
        y_mm: places(spot.at.y, 4),
        area_mm2: places(spot.area, 4),
    };
    UncutObject {
        area_mm2: places(uncut.area, 4),
        share: uncut.share.map(|share| places(share, 6)),
        places: uncut.spots.len(),
        elements: uncut.areas.iter().map(of).collect(),
        largest: uncut.spots.iter().take(SPOTS).map(spot).collect(),
    }
}

/// The proof as a JSON object with a newline at its end; messages are in `unit`.
pub fn proof_json(job: &Job, proof: &Proof, besides: &Besides, unit: LengthUnit) -> String {
    let mut text = Vec::new();
    write_proof(&mut text, job, proof, besides, unit).expect("memory takes all that is written");
    String::from_utf8(text).expect("JSON is UTF-8")
}

/// Writes [`proof_json`] piece by piece, each whole characters: of some hundred thousand findings it is as large as all
/// else together.
///
/// # Errors
/// Those of `out`.
pub fn write_proof(
    out: &mut dyn Write,
    job: &Job,
    proof: &Proof,
    besides: &Besides,
    unit: LengthUnit,
) -> io::Result<()> {
    let drawn = job.frame_box().size();
    let needed = board_needed(job, proof.factor);
    let draw = draw_for(job);
    let corner = job.corner(proof.factor);
    let limits = proof.limits.usual();
    let (feeding, travel) = (&proof.feeding, &proof.feeding.travel);
    let object = ProofObject {
        format: FORMAT,
        version: VERSION,
        design: DesignObject {
            name: job.design().name.clone(),
            length_mm: places(drawn.x, 4),
            width_mm: places(drawn.y, 4),
            elements: job.design().elements.len(),
            segments: job.design().segment_count(),
            width_within_mm: traced_within(job, proof).map(mm),
        },
        size: SizeObject {
            factor: places(proof.factor, 6),
            length_mm: mm(proof.length),
            width_mm: mm(proof.width),
        },
        board: BoardObject {
            length_mm: mm(job.board().length),
            width_mm: mm(job.board().width),
            thickness_mm: mm(job.board().thickness),
            length_needed_mm: mm(proof.fit.length_needed),
            width_needed_mm: mm(proof.fit.width_needed),
            thickness_needed_mm: mm(needed.thickness),
            draw_length_mm: mm(draw[0]),
            draw_width_mm: mm(draw[1]),
        },
        fit: FitObject {
            outcome: proof.fit.outcome,
            largest_factor: places(proof.fit.largest_factor, 6),
            turned_factor: places(proof.fit.turned_factor, 6),
            decided_by: proof.fit.decided_by,
            dressed_size: needed.dressed.map(|size| size.name),
        },
        limits: LimitsObject {
            along_mm: mm(limits.along),
            across_mm: mm(limits.across),
            source: words::limits::source(limits, unit),
        },
        own_cuts: own_cuts(job, proof),
        thinnest_wall_mm: proof.thinnest.wall.map(mm),
        thinnest_groove_mm: proof.thinnest.groove.map(mm),
        uncut: besides.uncut.map(|uncut| uncut_object(job, uncut)),
        least_sound_factor: proof
            .thinnest
            .sound_factor
            .filter(|factor| factor.is_finite())
            .map(|factor| places(factor, 6)),
        placement: PlacementObject {
            x_mm: places(corner.x, 4),
            y_mm: places(corner.y, 4),
            turn_degrees: job.turn().degrees(),
        },
        ends: EndsObject {
            held: job.ends() == Ends::Held,
            left_allowance_mm: mm(job.machine().allowance(BoardEnd::Left)),
            right_allowance_mm: mm(job.machine().allowance(BoardEnd::Right)),
            sniped_share: places(feeding.sniped_share, 6),
            release_step_mm: mm(feeding.step.release),
            step_mm: feeding.step.range().map(mm),
            sag_mm: feeding.step.sag.map(mm),
        },
        stock: proof.stock.rows.iter().map(|row| stock_object(row, unit)).collect(),
        thickness_left_mm: mm(proof.stock.thickness_left),
        travel: TravelObject {
            in_front_mm: mm(travel.in_front),
            behind_mm: mm(travel.behind),
            infeed: overhang_object(&travel.infeed),
            outfeed: overhang_object(&travel.outfeed),
        },
        carrier: carrier_object(&carrier(job), unit),
        time: besides.time.map(TimeObject::new),
        chance: besides.chance.map(|chance| places(chance, 4)),
        walls: besides.walls.iter().map(WallObject::of).collect(),
        findings: FindingObjects { job, findings: &proof.findings, unit },
        verdict: proof.verdict.severity,
        offers: besides
            .advice
            .map_or_else(Vec::new, |(advice, money)| offer_objects(advice, SHOWN_WITH_A_PROOF, money, unit)),
        timings_ms: besides.timings,
    };
    serde_json::to_writer_pretty(&mut *out, &object)?;
    out.write_all(b"\n")
}

fn own_cuts(job: &Job, proof: &Proof) -> Vec<OwnCutObject> {
    let own = |place: Place| {
        let (cut, limits) = (job.cut(place), proof.limits.at(place));
        OwnCutObject {
            element: job.name_of(place).to_owned(),
            depth_mm: mm(cut.depth),
            cutter: cut.cutter.id.clone(),
            along_mm: mm(limits.along),
            across_mm: mm(limits.across),
            groove_mm: mm(proof.limits.groove(place).limit),
        }
    };
    job.places().filter(|&place| job.has_own_cut(place)).map(own).collect()
}

/// Findings, each made into an object as it is written: there may be some hundred thousand.
struct FindingObjects<'a> {
    job: &'a Job,
    findings: &'a [Finding],
    unit: LengthUnit,
}

impl Serialize for FindingObjects<'_> {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer
            .collect_seq(self.findings.iter().map(|finding| finding_object(self.job, finding, self.unit)))
    }
}

fn finding_object(job: &Job, finding: &Finding, unit: LengthUnit) -> FindingObject {
    FindingObject {
        kind: finding.kind(),
        id: finding.id.clone(),
        severity: finding.severity(),
        x_mm: places(finding.at.x, 4),
        y_mm: places(finding.at.y, 4),
        // What has no such number has 0.
        measured_mm: mm(finding.measured().unwrap_or_default()),
        limit_mm: mm(finding.limit().unwrap_or_default()),
        within_mm: finding.within().map(mm),
        cutter: finding.cutter().map(str::to_owned),
        message: words::finding::message(finding, unit),
        advice: words::finding::advice(finding, unit),
        accepted: job.accepted().contains(&finding.id),
    }
}

fn stock_object(row: &StockRow, unit: LengthUnit) -> StockObject {
    // What is not measured has no error and no verdict, and not an error of nothing.
    let known = |length| row.measured.then(|| mm(length));
    StockObject {
        check: row.check,
        measured: row.measured,
        measured_mm: row.length.map(mm),
        depth_error_mm: known(row.depth_error),
        width_error_mm: known(row.width_error),
        sideways_mm: known(row.sideways),
        severity: row.measured.then_some(row.severity),
        message: words::bench_list::row(row, unit),
    }
}

fn overhang_object(overhang: &Overhang) -> OverhangObject {
    OverhangObject {
        reach_mm: mm(overhang.reach),
        tips: overhang.tips(),
        lift_newtons: overhang.lift.map(|newtons| places(newtons, 3)),
        sag_mm: overhang.sag.map(mm),
        stands_mm: overhang.stands.iter().map(|&at| mm(at)).collect(),
    }
}

fn carrier_object(carrier: &Carrier, unit: LengthUnit) -> CarrierObject {
    CarrierObject {
        needed: carrier.needed(),
        reasons: carrier.reasons.iter().map(|&reason| words::carrier::reason(reason, unit)).collect(),
        length_mm: mm(carrier.length),
        width_mm: mm(carrier.width),
        height_mm: mm(carrier.height),
        pocket_length_mm: mm(carrier.pocket_length),
        pocket_width_mm: mm(carrier.pocket_width),
        pocket_depth_mm: mm(carrier.pocket_depth),
        rail_mm: mm(carrier.rail),
        board_feet: places(carrier.board_feet, 3),
    }
}

/// The rack as one JSON object, best board first; messages are in `unit`.
pub fn rack_json(rows: &[RackRow], offers: &[Option<Offer>], money: &Money, unit: LengthUnit) -> String {
    #[derive(Serialize)]
    struct RackObject {
        format: &'static str,
        version: u32,
        boards: Vec<RowObject>,
    }
    #[derive(Serialize)]
    struct RowObject {
        name: String,
        length_mm: f64,
        width_mm: f64,
        thickness_mm: f64,
        wood: String,
        takes_it: bool,
        largest_factor: f64,
        factor: f64,
        placement: PlacementObject,
        offcut_mm: f64,
        waste: f64,
        cost: Option<f64>,
        verdict: Severity,
        offer: Option<OfferObject>,
        findings: Vec<RowFinding>,
    }
    #[derive(Serialize)]
    struct RowFinding {
        kind: FindingKind,
        severity: Severity,
        message: String,
    }
    let row = |(index, row): (usize, &RackRow)| {
        let corner = row.job.corner(row.factor);
        RowObject {
            name: row.name.clone(),
            length_mm: mm(row.job.board().length),
            width_mm: mm(row.job.board().width),
            thickness_mm: mm(row.job.board().thickness),
            wood: row.wood.clone(),
            takes_it: row.takes_it,
            largest_factor: places(row.largest_factor, 6),
            factor: places(row.factor, 6),
            placement: PlacementObject {
                x_mm: places(corner.x, 4),
                y_mm: places(corner.y, 4),
                turn_degrees: row.job.turn().degrees(),
            },
            offcut_mm: mm(row.offcut),
            waste: places(row.waste, 6),
            cost: row.cost,
            verdict: row.verdict.severity,
            offer: offer_of_row(offers, index, money, unit),
            findings: row
                .findings
                .iter()
                .map(|finding| RowFinding {
                    kind: finding.kind(),
                    severity: finding.severity(),
                    message: words::finding::message(finding, unit),
                })
                .collect(),
        }
    };
    let object = RackObject {
        format: RACK_FORMAT,
        version: VERSION,
        boards: rows.iter().enumerate().map(row).collect(),
    };
    let mut text = serde_json::to_string_pretty(&object).expect("a rack has string keys and finite numbers");
    text.push('\n');
    text
}

/// Sizes as one JSON object, smallest first; messages are in `unit`.
pub fn sizes_json(
    job: &Job,
    rows: &[SizeRow],
    offers: &[Option<Offer>],
    prices: &Prices,
    unit: LengthUnit,
) -> String {
    #[derive(Serialize)]
    struct SizesObject {
        format: &'static str,
        version: u32,
        design: String,
        currency: String,
        example_prices: bool,
        sizes: Vec<RowObject>,
    }
    #[derive(Serialize)]
    struct RowObject {
        name: String,
        kind: RowKind,
        factor: f64,
        length_mm: f64,
        width_mm: f64,
        board: BoardTaken,
        board_length_mm: f64,
        board_width_mm: f64,
        board_thickness_mm: f64,
        dressed_size: Option<String>,
        thinnest_wall_mm: Option<f64>,
        lost: Lost,
        minutes: Option<f64>,
        board_feet: f64,
        price: Option<f64>,
        price_lines: Vec<LineObject>,
        verdict: Severity,
        message: String,
        advice: String,
        offer: Option<OfferObject>,
        findings: Vec<FindingObject>,
    }
    #[derive(Serialize)]
    struct LineObject {
        item: PriceItem,
        amount: Option<f64>,
        how: String,
    }
    let row = |(index, row): (usize, &SizeRow)| {
        let [length, width, thickness] = row.to_buy.map(mm);
        RowObject {
            name: words::sizes::name(&row.name).to_owned(),
            kind: row.kind,
            factor: places(row.proof.factor, 6),
            length_mm: mm(row.proof.length),
            width_mm: mm(row.proof.width),
            board: row.board,
            board_length_mm: length,
            board_width_mm: width,
            board_thickness_mm: thickness,
            dressed_size: row.dressed.clone(),
            thinnest_wall_mm: row.proof.thinnest.wall.map(mm),
            lost: Lost { longest_point: Mm::new(mm(row.lost.longest_point)), ..row.lost },
            minutes: row.minutes.map(|minutes| places(minutes, 2)),
            board_feet: places(row.price.feet.feet, 4),
            price: row.price.total,
            price_lines: row
                .price
                .lines
                .iter()
                .map(|line| LineObject {
                    item: line.item,
                    amount: line.amount,
                    how: words::price::how(line, &prices.money, unit),
                })
                .collect(),
            verdict: row.severity(),
            message: words::verdict::sentence(&row.proof.verdict, unit),
            advice: words::verdict::advice(&row.proof.verdict, unit),
            offer: offer_of_row(offers, index, &prices.money, unit),
            findings: row
                .proof
                .findings
                .iter()
                .map(|finding| finding_object(&row.job, finding, unit))
                .collect(),
        }
    };
    let object = SizesObject {
        format: SIZES_FORMAT,
        version: VERSION,
        design: job.design().name.clone(),
        currency: prices.money.code().to_owned(),
        example_prices: prices.are_examples(),
        sizes: rows.iter().enumerate().map(row).collect(),
    };
    let mut text = serde_json::to_string_pretty(&object).expect("sizes have string keys and finite numbers");
    text.push('\n');
    text
}

pub(super) fn mm(length: Mm) -> f64 {
    places(length.get(), 4)
}

/// Rounded, so that the last bits of a sum do not show; never a minus zero.
pub(super) fn places(value: f64, places: i32) -> f64 {
    let scale = 10f64.powi(places);
    (value * scale).round() / scale + 0.0
}
