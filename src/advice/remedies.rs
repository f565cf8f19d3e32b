//! What might help: the changes worth trying for what was found. Whether they do help is for the proof to say.

use super::step::{BoardTaken, Step, StepKind};
use super::{Means, SizeRange, Tried, is_practical};
use crate::design::Element;
use crate::job::{Bridge, Clearing, Edit, Ends, Job, Placement, Redesign, Redraw, Size, Treatment};
use crate::proof::fit::{board_needed, overlaps};
use crate::proof::mend::{EDGES_OF_A_STRIP, Mend, mend_unless};
use crate::proof::place::{Found, find_at_size, find_largest};
use crate::proof::price::BoardFeet;
use crate::proof::rack::rack;
use crate::proof::stock::depth_error;
use crate::proof::{CutterRefusal, FLOOR_LEFT, Facts, Finding, FindingKind, Severity};
use crate::shop::{Board, Check, Cutter, CutterShape, Planed, StockCheck, Wood, dressed_size};
use crate::units::Mm;
use std::collections::BTreeSet;
use std::sync::atomic::AtomicBool;

/// Places are looked for at this pitch: fine enough for a board. A round value of our own.
const PITCH: Mm = Mm::new(2.0);

/// Lengths to buy and widths to glue up go up to the next of these. A round value of our own.
const BOARD_STEP: f64 = 10.0;

/// Depths are tried in steps of this, down to the least that is still a carving. Round values of our own.
const DEPTH_STEP: f64 = 0.5;
const LEAST_DEPTH: f64 = 1.0;

/// A planer takes this off a rough face. A round value of our own.
const PLANED_OFF: Mm = Mm::new(1.0);

/// How many boards of the rack are tried, best first, and how many stronger woods. Round values of our own.
const MOST_BOARDS: usize = 3;
const MOST_WOODS: usize = 2;

/// A change to try.
#[derive(Clone, Debug)]
pub(super) struct Remedy {
    pub(super) kind: StepKind,
    /// Whether it may make room for a second step though it mends nothing by itself.
    pub(super) enables: bool,
    how: How,
}

/// How it is made.
#[derive(Clone, Debug)]
enum How {
    /// The step is known.
    Edits(Step, Vec<Edit>),
    /// The first of these depths, deepest first, at which no wall is too thin.
    Depths(Vec<Mm>),
    /// The outlines are mended.
    Mend(Mend),
}

/// A finding counts as so many edges rated: some 800 bytes of it are kept. A round value of our own, so that a hundred
/// thousand of them are kept twice at most.
const FOUND_AS_RATED: usize = 2;

impl Remedy {
    fn of(step: Step, edits: Vec<Edit>) -> Remedy {
        Remedy { kind: step.kind(), enables: false, how: How::Edits(step, edits) }
    }

    fn enabling(self) -> Remedy {
        Remedy { enables: true, ..self }
    }

    /// Whether it sets anew what this step has set: together they would name two sizes, or two turns.
    pub(super) fn undoes(&self, first: &Step) -> bool {
        let How::Edits(second, _) = &self.how else { return false };
        matches!(
            (first, second),
            (Step::Size { .. }, Step::Place { factor: Some(_), .. })
                | (Step::Turn, Step::Place { turned: true, .. })
        )
    }

    /// How many edges it rates and how many it measures, each time counted. What was found counts as edges rated: it is found
    /// and kept once more.
    pub(super) fn takes(&self, before: &Tried) -> [usize; 2] {
        let [rated, measured] = self.works_over(before);
        [rated + FOUND_AS_RATED * before.proof.findings.len(), measured]
    }

    fn works_over(&self, before: &Tried) -> [usize; 2] {
        let edges = before.job.design().segment_count().max(1);
        match (&self.how, self.kind) {
            (How::Mend(what), _) => {
                let kind = match what {
                    Mend::Walls => FindingKind::ThinWall,
                    Mend::Grooves => FindingKind::BlockedGroove,
                };
                let is_mended =
                    |finding: &&Finding| finding.kind() == kind && finding.severity() > Severity::Sound;
                let mended = before.proof.findings.iter().filter(is_mended).count();
                [6 * (edges + EDGES_OF_A_STRIP * mended); 2]
            }
            (How::Depths(depths), _) => [edges * (1 + depths.len().ilog2() as usize), 0],
            (_, StepKind::Size | StepKind::Place | StepKind::Ends) => [0, 0],
            (_, StepKind::Specks | StepKind::Treat) => [edges, edges],
            _ => [edges, 0],
        }
    }

    /// Made and proofed; `None` where it cannot be made, or changes nothing.
    pub(super) fn applied(&self, before: &Tried, cancel: &AtomicBool) -> Option<(Step, Vec<Edit>, Tried)> {
        let tried = |edits: &[Edit]| {
            let job = before.job.with(edits.iter().cloned()).ok()?;
            if job == *before.job { None } else { before.changed_to(job, cancel) }
        };
        match &self.how {
            How::Edits(step, edits) => Some((step.clone(), edits.clone(), tried(edits)?)),
            How::Depths(depths) => {
                let at = |depth: Mm| tried(&[Edit::Depth(depth)]);
                // Walls get the sounder the less tall they are.
                let (mut low, mut high) = (0, depths.len() - 1);
                while low < high {
                    let middle = usize::midpoint(low, high);
                    if at(depths[middle])?.has(&[FindingKind::ThinWall]) {
                        low = middle + 1;
                    } else {
                        high = middle;
                    }
                }
                let depth = depths[low];
                Some((Step::Depth { depth }, vec![Edit::Depth(depth)], at(depth)?))
            }
            How::Mend(what) => {
                let factor = before.proof.factor;
                let Tried { job, measured, ratings, .. } = before;
                let mended = mend_unless(job, measured, ratings, factor, *what, None, cancel)?;
                let count = mended.thickened + mended.widened;
                let redraw = Edit::Redraw {
                    design: mended.job.design().clone(),
                    reading: before.job.reading(),
                    why: Redraw::Mended,
                };
                let resized = mended.job.size() != before.job.size();
                let edits: Vec<Edit> =
                    [redraw].into_iter().chain(resized.then(|| Edit::Size(mended.job.size()))).collect();
                let job = before.job.with(edits.iter().cloned()).ok()?;
                let (measured, ratings) = mended.measured?;
                let after = Tried::rated(job, measured, ratings);
                Some((Step::Mend { what: *what, count }, edits, after))
            }
        }
    }
}

/// What might help a job, in the order of the steps.
pub(super) fn remedies(of: &Tried, means: &Means) -> Vec<Remedy> {
    let mut remedies = Vec::new();
    boards(of, means, &mut remedies);
    stock(of, &mut remedies);
    cutters(of, means, &mut remedies);
    depth(of, &mut remedies);
    gentler(of, &mut remedies);
    turn_and_ends(of, &mut remedies);
    size(of, &mut remedies);
    place(of, means, &mut remedies);
    unseen(of, &mut remedies);
    drawing(of, &mut remedies);
    remedies.retain(|remedy| !means.leaves.contains(&remedy.kind));
    if of.job.is_batch() {
        // It would have to suit the other pieces on the board, which are not looked at here.
        remedies.retain(|remedy| !OF_ONE_PIECE.contains(&remedy.kind));
    }
    remedies
}

/// What is offered to a piece that has the board to itself alone.
const OF_ONE_PIECE: [StepKind; 4] =
    [StepKind::RackBoard, StepKind::BoughtBoard, StepKind::Turn, StepKind::Place];

const WALLS: [FindingKind; 2] = [FindingKind::ThinWall, FindingKind::LostTip];
const GROOVES: [FindingKind; 2] = [FindingKind::BlockedGroove, FindingKind::ShallowGroove];
const ROOM: [FindingKind; 2] = [FindingKind::BoardShort, FindingKind::BoardNarrow];

/// What another board may be the answer to.
const OF_THE_BOARD: [FindingKind; 9] = [
    FindingKind::BoardShort,
    FindingKind::BoardNarrow,
    FindingKind::BoardThin,
    FindingKind::MachineLimit,
    FindingKind::SnipeZone,
    FindingKind::Blemish,
    FindingKind::SensingStrip,
    FindingKind::ThicknessLeft,
    FindingKind::Warp,
];

fn boards(of: &Tried, means: &Means, remedies: &mut Vec<Remedy>) {
    let job = &*of.job;
    let rows = rack(job, &of.measured, means.rack, means.shop).unwrap_or_default();
    for row in rows.iter().filter(|row| row.takes_it).take(MOST_BOARDS) {
        let (board, wood) = (row.job.board(), row.job.wood());
        let step = Step::Board {
            taken: BoardTaken::Rack { name: row.name.clone() },
            size: [board.length, board.width, board.thickness],
            wood: (wood.id != job.wood().id).then(|| wood.name.clone()),
            price: None,
        };
        let edits = vec![
            Edit::Board(Box::new(board.clone())),
            Edit::Wood(Box::new(wood.clone())),
            Edit::Size(row.job.size()),
            Edit::Turn(row.job.turn()),
            Edit::Place(row.job.at()),
        ];
        remedies.push(Remedy::of(step, edits));
    }
    let factor = of.proof.factor;
    if of.has(&OF_THE_BOARD) {
        remedies.push(bought(of, means, factor, job.wood()));
    }
    // The least sound size where this board is too small for it.
    let larger = of.ratings.least_sound_factor().map(up);
    if let Some(larger) = larger.filter(|&larger| larger > factor.max(of.proof.fit.largest_factor))
        && is_practical(job, larger)
    {
        remedies.push(bought(of, means, larger, job.wood()).enabling());
    }
    if of.has(&WALLS) {
        let strength = |wood: &Wood| wood.tension_across.unwrap_or_default();
        let mut stronger: Vec<&Wood> =
            means.shop.woods.iter().filter(|wood| strength(wood) > strength(job.wood())).collect();
        stronger.sort_by(|a, b| strength(b).total_cmp(&strength(a)).then_with(|| a.id.cmp(&b.id)));
        let of_wood = |wood: &&Wood| bought(of, means, factor, wood);
        remedies.extend(stronger.iter().take(MOST_WOODS).map(of_wood));
    }
}

/// A new board for a size: the smallest dressed lumber that holds it, or one made as large as it needs.
fn bought(of: &Tried, means: &Means, factor: f64, wood: &Wood) -> Remedy {
    let (job, prices) = (&*of.job, &means.shop.prices);
    let needed = board_needed(job, factor);
    let machine = job.machine();
    let next = |length: Mm| Mm::new((length.get() / BOARD_STEP - 1e-9).ceil() * BOARD_STEP);
    let length = next(needed.length.max(machine.shortest));
    let width = needed.width.max(machine.narrowest);
    let thickness = needed.thickness.max(job.board().thickness);
    let dressed = dressed_size(width, thickness);
    let (width, thickness) = match &dressed {
        Some(size) => (size.width.unwrap_or(width), size.thickness),
        None => (next(width), thickness),
    };
    let size = [length, width, thickness];
    let board = Board {
        length,
        width,
        thickness,
        sawn: job.board().sawn,
        blemishes: Vec::new(),
        stock: StockCheck::default(),
        photo: None,
    };
    let feet = BoardFeet::count(size, prices.feet).feet * (1.0 + prices.waste);
    let price = prices.wood(&wood.id).map(|foot| prices.money.rounded(feet * foot));
    let is_other_wood = wood.id != job.wood().id;
    let mut edits = vec![as_large_as_now(job), Edit::Board(Box::new(board))];
    if is_other_wood {
        edits.push(Edit::Wood(Box::new(wood.clone())));
    }
    if matches!(job.at(), Placement::At { .. }) {
        edits.push(Edit::Place(Placement::Middle));
    }
    let step = Step::Board {
        taken: BoardTaken::Bought { dressed: dressed.map(|size| size.name) },
        size,
        wood: is_other_wood.then(|| wood.name.clone()),
        price,
    };
    Remedy::of(step, edits)
}

/// What keeps the size where that follows the board.
fn as_large_as_now(job: &Job) -> Edit {
    match job.size() {
        Size::Fit => Edit::Size(Size::Factor(job.factor())),
        size => Edit::Size(size),
    }
}

/// The board's faces planed, or its edges jointed, where the bench list has something against them.
fn stock(of: &Tried, remedies: &mut Vec<Remedy>) {
    let (job, board) = (&*of.job, of.job.board());
    let faults: Vec<(Check, Mm)> = of
        .proof
        .findings
        .iter()
        .filter_map(|finding| match &finding.facts {
            Facts::Warp(row) => Some((row.check, row.length.unwrap_or_default())),
            _ => None,
        })
        .collect();
    let is_of_a_face = |check: Check| matches!(check, Check::Cup | Check::Bow | Check::Twist | Check::Planed);
    if of.has(&[FindingKind::ThicknessLeft]) || faults.iter().any(|&(check, _)| is_of_a_face(check)) {
        // Flat on both faces: the largest gap comes off each.
        let gap = |check| board.stock.length(check).unwrap_or_default();
        let gaps = [Check::Cup, Check::Bow, Check::Twist].map(gap).into_iter().fold(Mm::ZERO, Mm::max);
        let off = if board.stock.planed == Some(Planed::Rough) { gaps.max(PLANED_OFF) } else { gaps };
        let thickness = board.thickness - off * 2.0;
        if off > Mm::ZERO && thickness > Mm::ZERO {
            let flat = |check| Edit::Measured(check, Some(Mm::ZERO));
            let mut edits: Vec<Edit> = [Check::Cup, Check::Bow, Check::Twist].map(flat).into();
            edits.extend([Edit::Planed(Some(Planed::Both)), Edit::BoardThickness(thickness)]);
            remedies.push(Remedy::of(Step::Flatten { thickness }, edits));
        }
    }
    let edges: Vec<(Check, Mm)> = faults
        .into_iter()
        .filter(|(check, _)| matches!(check, Check::Crook | Check::UnequalWidth | Check::OffSquare))
        .collect();
    let width = board.width - edges.iter().map(|&(_, gap)| gap).sum::<Mm>();
    // Blemishes are marked from the edges there are.
    if !edges.is_empty() && width > Mm::ZERO && board.blemishes.is_empty() {
        let straight = edges.iter().map(|&(check, _)| Edit::Measured(check, Some(Mm::ZERO)));
        let edits = [as_large_as_now(job)].into_iter().chain(straight).chain([Edit::BoardWidth(width)]);
        remedies.push(Remedy::of(Step::Joint { width }, edits.collect()));
    }
    let clearing = job.clearing();
    if of.has(&[FindingKind::LoosePiece]) && clearing.bridge.length == Mm::ZERO {
        let bridged = Clearing { bridge: Bridge::default(), ..clearing.clone() };
        remedies.push(Remedy::of(Step::Bridges, vec![Edit::Clearing(Box::new(bridged))]));
    }
}

/// Other cutters of the shop: for all of the job, or for the elements that ask for one.
fn cutters(of: &Tried, means: &Means, remedies: &mut Vec<Remedy>) {
    let job = &*of.job;
    let is_about_cutters = of.has(&WALLS) || of.has(&GROOVES) || of.has(&[FindingKind::CutterLimit]);
    if !is_about_cutters {
        return;
    }
    let mut others: Vec<&Cutter> = means.shop.cutters.iter().collect();
    // A wider cutter is done sooner.
    let diameter = |cutter: &Cutter| cutter.shape.working_diameter().get();
    others.sort_by(|a, b| diameter(b).total_cmp(&diameter(a)));
    let usual: Vec<Treatment> = job
        .places()
        .filter(|place| job.own_cutter(*place).is_none())
        .map(|place| job.cut(place).treatment)
        .collect();
    let suits = |cutter: &&&Cutter| **cutter != job.cutter() && suits_all(&usual, job.cutter(), cutter);
    for cutter in others.iter().filter(suits) {
        let step = Step::Cutter { name: cutter.name.clone(), clears_first: None };
        let taken = Edit::Cutter(Box::new((*cutter).clone()));
        remedies.push(Remedy::of(step, vec![as_large_as_now(job), taken]));
    }
    let asks = |finding: &&Finding| {
        let is_about_its_cutter =
            GROOVES.contains(&finding.kind()) || finding.kind() == FindingKind::CutterLimit;
        finding.severity() > Severity::Sound && is_about_its_cutter
    };
    let asking = of.proof.findings.iter().filter(asks).filter_map(Finding::element);
    let of_name = |name: &str| job.design().elements.iter().position(|element| element.name == name);
    let mut elements: Vec<usize> =
        asking.filter_map(of_name).filter(|&index| !job.carvings()[index].treatment.stands()).collect();
    elements.sort_unstable();
    elements.dedup();
    if elements.is_empty() || job.places().count() <= elements.len() {
        return;
    }
    let names: Vec<String> =
        elements.iter().map(|&index| job.design().elements[index].name.clone()).collect();
    let treatments: Vec<Treatment> = elements.iter().map(|&index| job.carvings()[index].treatment).collect();
    let now = job.cutter_of(elements[0]);
    for cutter in others.into_iter().filter(|cutter| suits_all(&treatments, now, cutter)) {
        let step = Step::OwnCutter { name: cutter.name.clone(), elements: names.clone() };
        let own = (cutter != job.cutter()).then(|| Box::new(cutter.clone()));
        remedies.push(Remedy::of(step, vec![Edit::OwnCutter { elements: elements.clone(), cutter: own }]));
    }
}

/// Whether a cutter could take the place of another in places that are carved so. What leaves flat floors gives way
/// to what leaves flat floors; a round end to another round end; in a V only a point.
fn suits_all(treatments: &[Treatment], now: &Cutter, other: &Cutter) -> bool {
    let is_pointed = |cutter: &Cutter| matches!(cutter.shape, CutterShape::Vee { .. });
    let is_flat = |cutter: &Cutter| matches!(cutter.shape, CutterShape::Flat { .. });
    let has_vs = treatments.contains(&Treatment::Incised);
    let has_floors = treatments.iter().any(|one| *one != Treatment::Incised);
    match (has_vs, has_floors) {
        (true, true) | (false, false) => false,
        (true, false) => is_pointed(other),
        (false, true) if is_flat(now) || is_pointed(now) => is_flat(other),
        (false, true) => !is_pointed(other),
    }
}

/// A shallower cut: for walls, for a thin board, or for short cutting edges.
fn depth(of: &Tried, remedies: &mut Vec<Remedy>) {
    let (job, now) = (&*of.job, of.job.depth().get());
    let mut push = |depths: Vec<Mm>| {
        if !depths.is_empty() {
            remedies.push(Remedy { kind: StepKind::Depth, enables: false, how: How::Depths(depths) });
        }
    };
    let is_carving = |depth: &f64| (LEAST_DEPTH..now).contains(depth);
    if of.has(&[FindingKind::ThinWall]) {
        let steps = std::iter::successors(Some((now / DEPTH_STEP - 1e-9).floor() * DEPTH_STEP), |depth| {
            Some(depth - DEPTH_STEP)
        });
        push(steps.take_while(|depth| *depth >= LEAST_DEPTH).filter(is_carving).map(Mm::new).collect());
    }
    let tenth = |depth: Mm| (depth.get() * 10.0 + 1e-9).floor() / 10.0;
    let under = job.board().thickness - FLOOR_LEFT;
    let single = |depth: Mm| Some(tenth(depth)).filter(is_carving).map(Mm::new);
    if of.has(&[FindingKind::BoardThin]) {
        push(single(under).into_iter().collect());
    }
    if of.has(&[FindingKind::ThicknessLeft]) {
        push(single(under - depth_error(&of.proof.stock.rows)).into_iter().collect());
    }
    let too_deep = of.proof.findings.iter().find_map(|finding| match finding.facts {
        Facts::CutterLimit { refusal: CutterRefusal::TooDeep { edges, .. }, own: None } => Some(edges),
        _ => None,
    });
    push(too_deep.and_then(single).into_iter().collect());
}

/// Shallower passes, or a slower feed, that each wall would be sound with.
fn gentler(of: &Tried, remedies: &mut Vec<Remedy>) {
    let job = &*of.job;
    let walls: Vec<_> = of
        .proof
        .findings
        .iter()
        .filter_map(|finding| match &finding.facts {
            Facts::ThinWall { gentler, place, .. } => Some((gentler, place)),
            _ => None,
        })
        .collect();
    if walls.is_empty() {
        return;
    }
    let diameter = job.cutter().shape.working_diameter();
    let share = walls
        .iter()
        .map(|(gentler, place)| {
            Some(gentler.pass? / job.cut(place.held.place).cutter.shape.working_diameter())
        })
        .reduce(|a, b| Some(a?.min(b?)))
        .flatten();
    let hundredth = share.map(|share| (share * 100.0 + 1e-9).floor() / 100.0);
    if let Some(share) = hundredth.filter(|share| *share > 0.0) {
        let passes = Clearing { pass_depth: Some(share), ..job.clearing().clone() };
        let step = Step::Pass { depth: diameter * share };
        remedies.push(Remedy::of(step, vec![Edit::Clearing(Box::new(passes))]));
    }
    let feed = walls
        .iter()
        .map(|(gentler, place)| gentler.feed.filter(|_| place.cutter.is_none()))
        .reduce(|a, b| Some(a?.min(b?)))
        .flatten();
    let tens = feed.map(|feed| (feed / 10.0 + 1e-9).floor() * 10.0);
    if let Some(feed) = tens.filter(|feed| *feed > 0.0) {
        let slower = Cutter { feed, ..job.cutter().clone() };
        remedies.push(Remedy::of(Step::Feed { feed }, vec![Edit::Cutter(Box::new(slower))]));
    }
}

fn turn_and_ends(of: &Tried, remedies: &mut Vec<Remedy>) {
    let job = &*of.job;
    let place = [FindingKind::Blemish, FindingKind::SnipeZone, FindingKind::SensingStrip];
    if of.has(&ROOM) || of.has(&WALLS) || of.has(&place) {
        let edits = vec![as_large_as_now(job), Edit::TurnByQuarter];
        remedies.push(Remedy::of(Step::Turn, edits).enabling());
    }
    let ends = match job.ends() {
        Ends::Free if of.has(&[FindingKind::SnipeZone]) => Ends::Held,
        Ends::Held if of.has(&ROOM) => Ends::Free,
        _ => return,
    };
    let edits = vec![as_large_as_now(job), Edit::Ends(ends)];
    remedies.push(Remedy::of(Step::Ends(ends), edits).enabling());
}

/// The nearest size that both fits and is sound; where none is both, the largest that fits.
fn size(of: &Tried, remedies: &mut Vec<Remedy>) {
    let range = SizeRange::of(of);
    let (now, fits) = (of.proof.factor, range.fits_up_to);
    let from = range.sound_from.unwrap_or(0.0);
    let both = range.both();
    let wanted = if fits > 0.0 && now > fits * (1.0 + 1e-9) {
        Some(down(fits, both.map_or(0.0, |[from, _]| from)))
    } else if now < from {
        match both {
            Some([from, fits]) => Some(up(from).min(fits)),
            // The largest is the next best.
            None => Some(down(fits, now)).filter(|largest| *largest > now),
        }
    } else {
        None
    };
    if let Some(factor) = wanted.filter(|&factor| factor > 0.0) {
        remedies.push(sized(&of.job, factor));
    }
}

fn sized(job: &Job, factor: f64) -> Remedy {
    let length = Mm::new(job.frame_on_board().x * factor);
    let mut edits = vec![Edit::Size(Size::Factor(factor))];
    let is_misplaced = job.with(edits.clone()).is_ok_and(|job| !overlaps(&job, factor).is_empty());
    if is_misplaced {
        edits.push(Edit::Place(Placement::Middle));
    }
    Remedy::of(Step::Size { factor, length }, edits)
}

/// A tenth of a per cent down, as sizes are told, but not under `least`.
fn down(factor: f64, least: f64) -> f64 {
    let told = (factor * 1000.0 + 1e-6).floor() / 1000.0;
    if told >= least && told <= factor { told } else { factor }
}

/// A tenth of a per cent up, as sizes are told.
fn up(factor: f64) -> f64 {
    if factor.is_finite() { ((factor * 1000.0 - 1e-6).ceil() / 1000.0).max(factor) } else { factor }
}

/// A place clear of blemishes and snipe; where this size has none, the largest size that has.
fn place(of: &Tried, means: &Means, remedies: &mut Vec<Remedy>) {
    let (job, now) = (&*of.job, of.proof.factor);
    if matches!(job.at(), Placement::At { .. }) && of.has(&ROOM) {
        let edits = vec![as_large_as_now(job), Edit::Place(Placement::Middle)];
        remedies.push(Remedy::of(Step::Middle, edits));
    }
    if !of.has(&[FindingKind::Blemish, FindingKind::SnipeZone, FindingKind::SensingStrip]) {
        return;
    }
    let may_resize = !means.leaves.contains(&StepKind::Size);
    let found = find_at_size(job, PITCH).or_else(|| {
        let largest = may_resize.then(|| find_largest(job, PITCH)).flatten()?;
        Some(Found { factor: down(largest.factor, 0.0), ..largest }).filter(|found| found.factor > 0.0)
    });
    if let Some(found) = found {
        let step = Step::Place {
            corner: [found.x, found.y],
            turned: found.turn != job.turn(),
            factor: (found.factor != now).then_some(found.factor),
        };
        remedies.push(Remedy::of(step, vec![found.edit()]));
    }
}

/// What does not show is sunk where it stands among what stands, and left where it is a floor among floors.
fn unseen(of: &Tried, remedies: &mut Vec<Remedy>) {
    let job = &*of.job;
    for (among_standing, treatment) in [(true, Treatment::Sunk), (false, Treatment::Left)] {
        let unseen: BTreeSet<&str> = of
            .proof
            .findings
            .iter()
            .filter_map(|finding| match &finding.facts {
                Facts::Invisible { element, stands, .. } if *stands == among_standing => Some(&**element),
                _ => None,
            })
            .collect();
        let named = |&(_, element): &(usize, &Element)| unseen.contains(element.name.as_str());
        let (elements, names): (Vec<usize>, Vec<String>) =
            job.design().elements.iter().enumerate().filter(named).map(|(i, e)| (i, e.name.clone())).unzip();
        if !elements.is_empty() {
            let step = Step::Treat { elements: names, treatment };
            let edits = vec![as_large_as_now(job), Edit::Treat { elements, treatment }];
            remedies.push(Remedy::of(step, edits));
        }
    }
}

/// What is done to the drawing itself.
fn drawing(of: &Tried, remedies: &mut Vec<Remedy>) {
    if !(of.has(&WALLS) || of.has(&GROOVES)) {
        return;
    }
    let count = of.job.design().specks().count;
    if count > 0 {
        let clean = Edit::Redesign(Box::new(Redesign::Clean));
        remedies.push(Remedy::of(Step::Specks { count }, vec![as_large_as_now(&of.job), clean]));
    }
    let mend = |kind, what| Remedy { kind, enables: false, how: How::Mend(what) };
    if of.has(&[FindingKind::ThinWall]) {
        remedies.push(mend(StepKind::MendWalls, Mend::Walls));
    }
    if of.has(&GROOVES) {
        remedies.push(mend(StepKind::MendGrooves, Mend::Grooves));
    }
}
