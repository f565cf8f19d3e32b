//! The bench sheet: one page to tape beside the machine.

use super::leaf::{BLACK, DARK, GRAY, LEADING, Leaf, Mark, Pen};
use super::panel::{draw_board, draw_design, legend, paper_from_board};
use super::{SheetSettings, body, bound, face, head, tick_box};
use crate::geometry::Rect;
use crate::job::{CutterUse, Ends, Job, Treatment};
use crate::proof::carrier::carrier;
use crate::proof::overhang::{Overhang, Travel};
use crate::proof::{Proof, Severity, Site};
use crate::sheet::picture::Picture;
use crate::shop::{BoardEnd, Check};
use crate::units::{LengthUnit, Mm};
use crate::words;
use crate::words::cautions::{CAUTIONS, CAUTIONS_FIRST, after_carve};
use crate::words::sheets::bench::{self as said, CutterPurpose};
use glam::{DAffine2, DVec2, dvec2};
use std::borrow::Cow;

/// What the bench sheet tells beside the job and its proof.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct BenchNotes {
    /// Minutes at the machine; `None` where they are not worked out.
    pub minutes: Option<f64>,
    /// A picture of the carved surface, opaque; it is put where there is room for it.
    pub relief: Option<Picture>,
    /// What would help most, as a sentence; empty where nothing has to.
    pub would_help: String,
}

/// The longest remark that has room on the page, characters; more is cut off.
pub const MOST_REMARK: usize = 400;
/// The most lines of one.
const MOST_REMARK_LINES: usize = 8;

/// How large the parts of the page are; smaller ones are tried until all is on one page.
#[derive(Clone, Copy)]
struct Measures {
    /// The highest the board is drawn.
    drawing: f64,
    /// Height of the words.
    words: f64,
    /// Height of the cautions' words.
    small: f64,
    /// How many findings are written out at least.
    findings: usize,
    /// Whether the picture of the carved surface is on it even where it makes the page longer.
    pictured: bool,
}

/// Roomy first; the last holds whatever there is.
const TRIES: [Measures; 8] = [
    Measures { drawing: 62.0, words: 3.1, small: 2.6, findings: 12, pictured: true },
    Measures { drawing: 50.0, words: 3.0, small: 2.5, findings: 10, pictured: true },
    Measures { drawing: 48.0, words: 2.9, small: 2.4, findings: 9, pictured: false },
    Measures { drawing: 42.0, words: 2.8, small: 2.4, findings: 8, pictured: false },
    Measures { drawing: 36.0, words: 2.7, small: 2.3, findings: 6, pictured: false },
    Measures { drawing: 30.0, words: 2.6, small: 2.2, findings: 4, pictured: false },
    Measures { drawing: 24.0, words: 2.4, small: 2.1, findings: 3, pictured: false },
    Measures { drawing: 18.0, words: 2.2, small: 2.0, findings: 2, pictured: false },
];

/// The bench sheet of a proof as a PDF of one page: board and how it lies, where the design goes, the
/// cutter, what to check and what was found, cautions, and what to do after the carve.
pub fn bench_pdf(job: &Job, proof: &Proof, notes: &BenchNotes, settings: &SheetSettings) -> Vec<u8> {
    let leaf = bench_leaf(job, proof, notes, settings);
    bound(vec![leaf], &said::title(&job.design().name), said::NAME, settings.paper)
}

pub(super) fn bench_leaf(job: &Job, proof: &Proof, notes: &BenchNotes, settings: &SheetSettings) -> Leaf {
    let unit = settings.unit;
    let verdict = format!(
        "{} {} {}",
        words::verdict::sentence(&proof.verdict, unit),
        words::verdict::advice(&proof.verdict, unit),
        notes.would_help
    );
    let grave = proof.findings.iter().filter(|finding| finding.severity() > Severity::Sound);
    let found = grave.map(|finding| Found {
        is_accepted: job.accepted().contains(&finding.id),
        is_spot: finding.site() == Site::Spot,
        words: said::found(finding.severity(), &words::finding::placed(finding, unit)),
    });
    on_one_page(
        &BenchFacts {
            name: job.design().name.clone(),
            verdict: verdict.trim().to_owned(),
            job,
            legend: job,
            drawn: vec![(Cow::Borrowed(job), proof)],
            sections: setup(job, proof, notes, unit),
            found: found.collect(),
            relief: notes.relief.as_ref(),
        },
        settings,
    )
}

/// All that the page tells.
pub(super) struct BenchFacts<'a> {
    pub(super) name: String,
    pub(super) verdict: String,
    /// Whose board, ends and bench list these are.
    pub(super) job: &'a Job,
    /// Whose treatments the legend explains.
    pub(super) legend: &'a Job,
    /// What is drawn on the board: a job for each copy.
    pub(super) drawn: Vec<(Cow<'a, Job>, &'a Proof)>,
    /// What to set up, heading by heading.
    pub(super) sections: Vec<(&'static str, Vec<String>)>,
    /// Worst first.
    pub(super) found: Vec<Found>,
    pub(super) relief: Option<&'a Picture>,
}

/// A finding on the page.
pub(super) struct Found {
    pub(super) is_accepted: bool,
    /// Whether its words name a place on the board.
    pub(super) is_spot: bool,
    pub(super) words: String,
}

/// The page with the roomiest measures that hold all of it.
pub(super) fn on_one_page(facts: &BenchFacts, settings: &SheetSettings) -> Leaf {
    let mut last = None;
    for measures in TRIES {
        let (leaf, bottom) = laid_out(facts, settings, measures);
        let fits = bottom <= body(&leaf).max.y;
        last = Some(leaf);
        if fits {
            break;
        }
    }
    last.unwrap_or_else(|| settings.paper.leaf(false))
}

fn laid_out(facts: &BenchFacts, settings: &SheetSettings, measures: Measures) -> (Leaf, f64) {
    let mut leaf = settings.paper.leaf(false);
    let area = body(&leaf);
    let unit = settings.unit;
    let job = facts.job;
    let short = SheetSettings { customer_text: String::new(), ..settings.clone() };
    let mut y = head(&mut leaf, &short, said::NAME, &facts.name);
    y = leaf.wrapped(dvec2(area.min.x, y), &facts.verdict, measures.words, area.max.x - area.min.x, BLACK);
    y = drawing(&mut leaf, y + 1.5, facts, settings, measures);
    y = legend(&mut leaf, dvec2(area.min.x, y), area.max.x, facts.legend) + 3.0;

    let gutter = 6.0;
    let column = (area.max.x - area.min.x - gutter) / 2.0;
    let mut left = Column { at: dvec2(area.min.x, y), room: column, words: measures.words };
    for (title, lines) in &facts.sections {
        left.section(&mut leaf, title, lines);
    }
    let mut right =
        Column { at: dvec2(area.min.x + column + gutter, y), room: column, words: measures.words };
    right.title(&mut leaf, said::STOCK);
    for check in Check::ALL {
        let (ticked, words) = stock_line(job, check, unit);
        right.boxed(&mut leaf, ticked, &words);
    }
    for item in said::LOOK_AT {
        right.boxed(&mut leaf, false, item);
    }
    right.gap();
    // Where no picture has to find room, findings go on as far down as the other column does.
    let down_to = if measures.pictured { 0.0 } else { left.at.y };
    findings(&mut leaf, &mut right, &facts.found, measures, down_to);

    if let Some(picture) = facts.relief
        && let tall = column * f64::from(picture.height) / f64::from(picture.width.max(1))
        && (measures.pictured || right.at.y + tall < left.at.y)
    {
        let area = Rect::new(right.at, right.at + dvec2(column, tall));
        leaf.marks.push(Mark::Picture { pixels: picture.into(), area });
        right.at.y += tall + 1.0;
    }

    y = left.at.y.max(right.at.y);
    leaf.line(dvec2(area.min.x, y), dvec2(area.max.x, y), Pen::new(0.2, GRAY));
    y += 1.5;
    let mut left = Column { at: dvec2(area.min.x, y), room: column, words: measures.small };
    left.title(&mut leaf, said::CAUTIONS);
    left.line(&mut leaf, CAUTIONS_FIRST, BLACK);
    for (heading, caution, _) in CAUTIONS.iter().take(5) {
        left.line(&mut leaf, &format!("{heading}: {caution}"), BLACK);
    }
    let mut right =
        Column { at: dvec2(area.min.x + column + gutter, y), room: column, words: measures.small };
    right.title(&mut leaf, said::AFTER);
    for step in after_carve(job.ends()) {
        right.boxed(&mut leaf, false, step);
    }
    (leaf, left.at.y.max(right.at.y))
}

/// Lines below one another.
struct Column {
    at: DVec2,
    room: f64,
    words: f64,
}

impl Column {
    fn title(&mut self, leaf: &mut Leaf, title: &str) {
        let height = self.words * 1.12;
        leaf.bold(self.at + dvec2(0.0, height), title, height);
        self.at.y += height * LEADING + 0.4;
    }

    fn line(&mut self, leaf: &mut Leaf, words: &str, tone: u8) {
        self.at.y = leaf.wrapped(self.at, words, self.words, self.room, tone);
    }

    /// A line with a box to tick before it.
    fn boxed(&mut self, leaf: &mut Leaf, ticked: bool, words: &str) {
        let indent = self.words * 1.35;
        tick_box(leaf, self.at + dvec2(0.0, self.words), self.words * 0.85, ticked);
        let at = self.at + dvec2(indent, 0.0);
        self.at.y = leaf.wrapped(at, words, self.words, self.room - indent, BLACK) + self.words * 0.12;
    }

    /// Where a line with a box would end.
    fn boxed_bottom(&self, words: &str) -> f64 {
        let lines = face::wrap(words, self.words, self.room - self.words * 1.35).len();
        self.at.y + (lines as f64 * LEADING + 0.12) * self.words
    }

    fn gap(&mut self) {
        self.at.y += self.words * 0.7;
    }

    fn section(&mut self, leaf: &mut Leaf, title: &str, lines: &[String]) {
        if lines.is_empty() {
            return;
        }
        self.title(leaf, title);
        for line in lines {
            self.line(leaf, line, BLACK);
        }
        self.gap();
    }
}

/// What to set up, heading by heading.
fn setup(job: &Job, proof: &Proof, notes: &BenchNotes, unit: LengthUnit) -> Vec<(&'static str, Vec<String>)> {
    let corner = job.corner(proof.factor);
    let place = vec![
        said::corner([Mm::new(corner.x), Mm::new(corner.y)], unit),
        said::finished([proof.length, proof.width], proof.factor, job.turn().degrees(), unit),
    ];
    let ends = said::ends(job.ends(), proof.feeding.sniped_share, proof.feeding.step.range(), unit);
    vec![
        (said::BOARD, board_to_cut(job, unit)),
        (said::LAY, how_to_lay(job, unit)),
        (said::PLACE, place),
        (said::CUTTERS, cutters(job, unit)),
        (said::ENDS, vec![ends]),
        (said::SUPPORT, support(job, &proof.feeding.travel, unit)),
        (said::TIME, vec![words::sizes::minutes(notes.minutes)]),
        (said::REMARK, remark(job.remark())),
    ]
}

pub(super) fn board_to_cut(job: &Job, unit: LengthUnit) -> Vec<String> {
    let board = job.board();
    vec![
        said::board([board.length, board.width, board.thickness], &job.wood().name, unit),
        match job.ends() {
            Ends::Held => {
                let kept = [BoardEnd::Left, BoardEnd::Right].map(|end| job.machine().allowance(end));
                said::for_the_rollers(kept, unit)
            }
            Ends::Free => said::NOTHING_FOR_THE_ROLLERS.to_owned(),
        },
    ]
}

pub(super) fn how_to_lay(job: &Job, unit: LengthUnit) -> Vec<String> {
    let first = if job.machine().leads(BoardEnd::Left) { BoardEnd::Left } else { BoardEnd::Right };
    let mut lay = vec![said::BEST_FACE_UP.to_owned(), said::reference_edge(first).to_owned()];
    if let Some((edge, strip)) = job.machine().sensed_strip() {
        lay.push(said::sensing_strip(strip, edge, unit));
    }
    lay
}

/// The remark's lines, as far as there is room.
pub(super) fn remark(remark: &str) -> Vec<String> {
    let short: String = remark.trim().chars().take(MOST_REMARK).collect();
    let all = short.len() == remark.trim().len();
    let given: Vec<&str> = short.lines().map(str::trim).filter(|line| !line.is_empty()).collect();
    let mut lines: Vec<String> = given.iter().take(MOST_REMARK_LINES).map(|&line| line.to_owned()).collect();
    if let Some(last) = lines.last_mut().filter(|_| !all || given.len() > MOST_REMARK_LINES) {
        last.push('…');
    }
    lines
}

fn cutters(job: &Job, unit: LengthUnit) -> Vec<String> {
    let uses = job.cutters();
    let at_work = uses.iter().filter(|one| !one.clears_first).count();
    let mut lines = Vec::new();
    for (number, one) in (1..).zip(&uses) {
        let depths = depths(job, one);
        let deepest = depths.last().map_or(job.board().thickness, |(depth, _)| *depth);
        let least = depths.first().map_or(deepest, |(depth, _)| *depth);
        let pass = Mm::new(job.clearing().pass_depth(one.cutter));
        let names: Vec<&str> = one.places.iter().map(|&place| job.name_of(place)).collect();
        let purpose = if one.clears_first {
            CutterPurpose::ClearFirst
        } else if at_work > 1 {
            CutterPurpose::Elements(&names)
        } else {
            CutterPurpose::All
        };
        lines.push(said::cutter(number, &one.cutter.name, [least, deepest], pass, purpose, unit));
        if depths.len() > 1 && !one.clears_first {
            lines.extend(depths.iter().map(|(depth, names)| said::of_depth(*depth, names, unit)));
        }
    }
    if job.has(Treatment::Pierced) {
        lines.push(said::pierced(job.board().thickness, unit));
    }
    lines
}

/// How deep a cutter makes its floors and Vs, the shallowest first, and which those are.
pub(super) fn depths<'a>(job: &'a Job, one: &CutterUse<'_>) -> Vec<(Mm, Vec<&'a str>)> {
    let mut depths: Vec<(Mm, Vec<&str>)> = Vec::new();
    for &place in &one.places {
        let cut = job.cut(place);
        if cut.treatment == Treatment::Pierced {
            continue;
        }
        match depths.iter_mut().find(|(depth, _)| *depth == cut.depth) {
            Some((_, names)) => names.push(job.name_of(place)),
            None => depths.push((cut.depth, vec![job.name_of(place)])),
        }
    }
    depths.sort_by(|(a, _), (b, _)| a.get().total_cmp(&b.get()));
    depths
}

pub(super) fn support(job: &Job, travel: &Travel, unit: LengthUnit) -> Vec<String> {
    let mut lines = vec![said::floor(travel.in_front, travel.behind, unit)];
    let stand = |overhang: &Overhang| {
        if overhang.stands.is_empty() {
            said::hold_up(overhang.side)
        } else {
            said::stands(overhang.side, &overhang.stands, unit)
        }
    };
    lines.extend([&travel.infeed, &travel.outfeed].into_iter().filter(|side| side.tips()).map(stand));
    let carrier = carrier(job);
    if carrier.needed() {
        lines.push(words::carrier::in_short(&carrier, unit));
    }
    lines
}

/// An item of the bench list: whether it was measured, and what or how.
fn stock_line(job: &Job, check: Check, unit: LengthUnit) -> (bool, String) {
    let stock = &job.board().stock;
    let measured = match check {
        Check::Planed => stock.planed.map(|planed| said::planed(planed).to_owned()),
        Check::Moisture => stock.moisture.map(said::moisture),
        _ => stock.length(check).map(|length| said::measured(check, length, unit)),
    };
    match measured {
        Some(measured) => (true, measured),
        None => (false, said::to_measure(check)),
    }
}

/// What was found, worst first, each with a box that is ticked where it was accepted.
fn findings(leaf: &mut Leaf, column: &mut Column, found: &[Found], measures: Measures, down_to: f64) {
    column.title(leaf, said::FOUND);
    if found.is_empty() {
        column.line(leaf, said::NOTHING_FOUND, BLACK);
    }
    if found.iter().any(|found| found.is_spot) {
        column.line(leaf, said::PLACES, DARK);
    }
    // What was accepted is on the sheet for certain.
    let accepted = |found: &&Found| found.is_accepted;
    let ordered: Vec<&Found> =
        found.iter().filter(accepted).chain(found.iter().filter(|found| !found.is_accepted)).collect();
    let mut shown = 0;
    for found in &ordered {
        // The line below that tells of the rest needs room too.
        let bottom = column.boxed_bottom(&found.words) + column.words * LEADING;
        if shown >= measures.findings && bottom > down_to {
            break;
        }
        column.boxed(leaf, found.is_accepted, &found.words);
        shown += 1;
    }
    if ordered.len() > shown {
        let more = ordered.len() - shown;
        let open = ordered.iter().skip(shown).filter(|found| !found.is_accepted).count();
        column.line(leaf, &said::more(more, open), DARK);
    }
    column.gap();
}

/// The board with its dimensions; returns the next free y.
fn drawing(
    leaf: &mut Leaf,
    top: f64,
    facts: &BenchFacts,
    settings: &SheetSettings,
    measures: Measures,
) -> f64 {
    const BESIDE: f64 = 15.0;
    const BELOW: f64 = 15.0;
    let area = body(leaf);
    let job = facts.job;
    let (length, width) = (job.board().length.get(), job.board().width.get());
    let room = area.max.x - area.min.x - BESIDE;
    let scale = (room / length).min(measures.drawing / width);
    let corner = dvec2(area.min.x + BESIDE, top + width * scale);
    let paper_from_board = paper_from_board(corner, scale);
    if let Some((_, proof)) = facts.drawn.first() {
        draw_board(leaf, job, proof, paper_from_board);
    }
    for (copy, proof) in &facts.drawn {
        draw_design(leaf, copy, proof, paper_from_board);
    }
    let frames = facts.drawn.iter().map(|(copy, proof)| {
        let low = copy.corner(proof.factor);
        Rect::new(low, low + dvec2(proof.length.get(), proof.width.get()))
    });
    let frame = frames.reduce(Rect::union).unwrap_or(Rect::new(DVec2::ZERO, DVec2::ZERO));
    let unit = settings.unit;
    for (stops, off) in [(vec![0.0, frame.min.x, frame.max.x, length], 4.0), (vec![0.0, length], 9.0)] {
        dimension(leaf, paper_from_board, &stops, off, true, unit);
    }
    for (stops, off) in [(vec![0.0, frame.min.y, frame.max.y, width], 4.0), (vec![0.0, width], 10.0)] {
        dimension(leaf, paper_from_board, &stops, off, false, unit);
    }
    feed_arrow(leaf, job, corner, length * scale);
    corner.y + BELOW
}

/// A chain of dimensions along the board's reference edge or left end, `off` paper millimetres away from
/// it. A stretch too short for its number has none; the words beside the drawing tell it.
fn dimension(
    leaf: &mut Leaf,
    paper_from_board: DAffine2,
    stops: &[f64],
    off: f64,
    along: bool,
    unit: LengthUnit,
) {
    const HEIGHT: f64 = 2.6;
    let pen = Pen::new(0.15, DARK);
    let at = |stop: f64| {
        if along {
            paper_from_board.transform_point2(dvec2(stop, 0.0)) + dvec2(0.0, off)
        } else {
            paper_from_board.transform_point2(dvec2(0.0, stop)) - dvec2(off, 0.0)
        }
    };
    for &stop in stops {
        let tick = if along { dvec2(0.0, 1.1) } else { dvec2(1.1, 0.0) };
        leaf.line(at(stop) - tick, at(stop) + tick, pen);
    }
    for pair in stops.windows(2) {
        let (a, b) = (at(pair[0]), at(pair[1]));
        leaf.line(a, b, pen);
        let words = unit.show(Mm::new(pair[1] - pair[0]));
        if face::width(&words, HEIGHT) + 2.0 < a.distance(b) {
            let middle = (a + b) / 2.0;
            if along {
                leaf.words_on(middle + dvec2(0.0, HEIGHT * 0.35), &words, HEIGHT, BLACK);
            } else {
                leaf.words_up(middle + dvec2(HEIGHT * 0.35, 0.0), &words, HEIGHT, BLACK);
            }
        }
    }
}

/// Which end goes in first.
fn feed_arrow(leaf: &mut Leaf, job: &Job, corner: DVec2, long: f64) {
    let leads_left = job.machine().leads(BoardEnd::Left);
    let y = corner.y + 13.0;
    let half = face::width(said::FEED, 2.6) / 2.0;
    let middle = dvec2(corner.x + long / 2.0, y);
    leaf.words_on(middle + dvec2(0.0, 0.9), said::FEED, 2.6, DARK);
    let way = if leads_left { -1.0 } else { 1.0 };
    let start = middle + dvec2(way * (half + 2.0), 0.0);
    let tip = start + dvec2(way * 12.0, 0.0);
    let pen = Pen::new(0.25, DARK);
    leaf.line(start, tip, pen);
    for side in [-1.0, 1.0] {
        leaf.line(tip, tip - dvec2(way * 2.0, side * 0.9), pen);
    }
}
