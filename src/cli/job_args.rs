//! The options that set up a job, which most commands take.

use super::note;
use crate::design::samples::{find, samples};
use crate::design::{self, DrawingUnit, ReadOptions};
use crate::job::sample::sample_job;
use crate::job::{
    Clearing, ClearingDirection, Edit, EditKind, Ends, Frame, Job, Placement, Redraw, Size, Treatment, Trust,
    Turn, saved,
};
use crate::proof::lesson::TOUR;
use crate::proof::place::{PITCH, find_at_size, find_largest};
use crate::sheet::photo::photo_from_board;
use crate::shop::{Blemish, BlemishKind, BlemishShape, BoardPhoto, Check, Cutter, Planed, Sawn, Shop};
use crate::units::{LengthUnit, Mm, parse_board, parse_length};
use crate::words::{command_line, notices, percent_down};
use anyhow::{Context as _, anyhow, bail};
use clap::{Args, ValueEnum};
use glam::DVec2;
use std::io::Read as _;
use std::path::{Path, PathBuf};
use std::sync::Arc;

// The headings of the options in a command's help.
const BOARD: &str = "Board";
const CARVING: &str = "Carving";
const SIZE: &str = "Size and place";
const CHECKS: &str = "Measured on the board";
const READING: &str = "Reading a drawing";
const CLEARING: &str = "Clearing";

/// The options that set up a job; lengths without a unit are in the unit of `--unit`.
#[derive(Debug, Args)]
pub(super) struct JobArgs {
    /// Start from a saved job; the other options change it
    #[arg(long, value_name = "FILE.spelk")]
    job: Option<PathBuf>,
    /// Length, width and thickness, for example 24x6x0.75in
    #[arg(long, value_name = "LxWxT", help_heading = BOARD)]
    board: Option<String>,
    /// Wood, by id or name (see spelk list woods)
    #[arg(long, help_heading = BOARD)]
    wood: Option<String>,
    /// How the board is sawn; flat unless set
    #[arg(long, value_enum)]
    sawn: Option<SawnArg>,
    /// From which chance on a wall is sound, per cent (50 to start with)
    #[arg(long, value_name = "PER CENT")]
    sound_from: Option<f64>,
    /// Below which chance a wall is unsound, per cent (20 to start with)
    #[arg(long, value_name = "PER CENT")]
    unsound_under: Option<f64>,
    /// Cutter, by id (see spelk list cutters)
    #[arg(long, value_name = "ID", help_heading = CARVING)]
    cutter: Option<String>,
    /// Depth of the ground, of a sunk floor or of the deepest V
    #[arg(long, value_name = "D", help_heading = CARVING)]
    depth: Option<String>,
    /// How to carve every element
    #[arg(long, value_enum, help_heading = CARVING)]
    treatment: Option<TreatmentArg>,
    /// How to carve one element, or a group of them; repeat for others
    #[arg(long, value_name = "NAME=TREATMENT", help_heading = CARVING)]
    element: Vec<String>,
    /// Depth of one element or group, in place of --depth (NAME=usual: as --depth says); repeat for others
    #[arg(long, value_name = "NAME=D", help_heading = CARVING)]
    element_depth: Vec<String>,
    /// Cutter of one element or group, by id, in place of --cutter (NAME=usual: as --cutter says); repeat for others
    #[arg(long, value_name = "NAME=ID", help_heading = CARVING)]
    element_cutter: Vec<String>,
    /// Finished size across the board
    #[arg(long, value_name = "W", group = "size", help_heading = SIZE)]
    width: Option<String>,
    /// Finished size along the board
    #[arg(long, value_name = "L", group = "size", help_heading = SIZE)]
    length: Option<String>,
    /// Finished size as a multiple of the drawn size
    #[arg(long, value_name = "K", group = "size", help_heading = SIZE)]
    factor: Option<f64>,
    /// The largest size the board has room for
    #[arg(long, group = "size", help_heading = SIZE)]
    fit: bool,
    /// Whether to keep the roller allowance at both ends
    #[arg(long, value_enum, help_heading = SIZE)]
    ends: Option<EndsArg>,
    /// Where the design goes: middle, lower-left, lower-right, upper-left, upper-right, or X,Y of its lower
    /// left corner, measured from the lower left corner of the board
    #[arg(long, value_name = "PLACE", allow_hyphen_values = true, help_heading = SIZE)]
    at: Option<String>,
    /// Turn the design counter-clockwise: 0, 90, 180 or 270 degrees
    #[arg(long, value_name = "DEGREES", allow_hyphen_values = true, help_heading = SIZE)]
    turn: Option<i32>,
    /// Find a place clear of blemishes, snipe and edges: for the largest design that has one, or for the
    /// size that --width, --length or --factor gives
    #[arg(long, conflicts_with_all = ["at", "fit"], help_heading = SIZE)]
    find: bool,
    /// Bare board to keep along each long edge
    #[arg(long, value_name = "M", help_heading = SIZE)]
    margin: Option<String>,
    /// A blemish to keep clear of, for example knot:circle:300,60,25:5; repeat for others. KIND is knot,
    /// split, hole, wane or old-carving. SHAPE and NUMBERS are circle:X,Y,DIAMETER,
    /// rectangle:X,Y,LENGTH,WIDTH or line:X,Y,X,Y. CLEARANCE is how much more wood to keep around it
    #[arg(long, value_name = "KIND:SHAPE:NUMBERS[:CLEARANCE]", allow_hyphen_values = true, help_heading = BOARD)]
    blemish: Vec<String>,
    /// Photograph of the board, drawn under the design in the picture
    #[arg(long, value_name = "FILE", requires = "corners", help_heading = BOARD)]
    photo: Option<PathBuf>,
    /// The board's four corners in the photograph, in pixels (x to the right, y down): the left and the
    /// right end of the reference edge, then the right and the left end of the far edge
    #[arg(long, value_name = "X,Y X,Y X,Y X,Y", requires = "photo", allow_hyphen_values = true, help_heading = BOARD)]
    corners: Option<String>,
    #[command(flatten)]
    stock: StockArgs,
    #[command(flatten)]
    reading: ReadArgs,
    #[command(flatten)]
    clearing: ClearingArgs,
    /// What --width and --length measure
    #[arg(long, value_enum, help_heading = SIZE)]
    frame: Option<FrameArg>,
    /// Machine, by id (see spelk list machines)
    #[arg(long, value_name = "ID", help_heading = CARVING)]
    machine: Option<String>,
    /// Unit of the lengths shown, and of the lengths you give without one
    #[arg(long, value_enum, default_value = "mm")]
    pub(super) unit: Unit,
}

/// The unit lengths are read and shown in.
#[derive(Clone, Copy, Debug, ValueEnum)]
pub(super) enum Unit {
    /// Millimetres
    Mm,
    /// Inches, decimal
    In,
    /// Inches and sixteenths
    Sixteenth,
    /// Inches and thirty-seconds
    Fraction,
    /// Inches and sixty-fourths
    SixtyFourth,
}

impl From<Unit> for LengthUnit {
    fn from(unit: Unit) -> LengthUnit {
        match unit {
            Unit::Mm => LengthUnit::Millimetres,
            Unit::In => LengthUnit::InchDecimal,
            Unit::Sixteenth => LengthUnit::InchSixteenth,
            Unit::Fraction => LengthUnit::InchFraction,
            Unit::SixtyFourth => LengthUnit::InchSixtyFourth,
        }
    }
}

#[derive(Clone, Copy, Debug, ValueEnum)]
pub(super) enum TreatmentArg {
    /// The element stands and the ground around it is lowered
    Relief,
    /// The element is lowered to a flat floor
    Sunk,
    /// The element is cut with a V that is deeper where it is wider
    Incised,
    /// The element is cut through the board
    Pierced,
    /// The element is not carved
    Left,
}

impl From<TreatmentArg> for Treatment {
    fn from(treatment: TreatmentArg) -> Treatment {
        match treatment {
            TreatmentArg::Relief => Treatment::Relief,
            TreatmentArg::Sunk => Treatment::Sunk,
            TreatmentArg::Incised => Treatment::Incised,
            TreatmentArg::Pierced => Treatment::Pierced,
            TreatmentArg::Left => Treatment::Left,
        }
    }
}

#[derive(Clone, Copy, Debug, ValueEnum)]
enum SawnArg {
    /// Growth rings lie along the face
    Flat,
    /// Growth rings stand upright to the face
    Quarter,
}

impl From<SawnArg> for Sawn {
    fn from(sawn: SawnArg) -> Sawn {
        match sawn {
            SawnArg::Flat => Sawn::Flat,
            SawnArg::Quarter => Sawn::Quarter,
        }
    }
}

#[derive(Clone, Copy, Debug, ValueEnum)]
enum EndsArg {
    /// Both rollers hold the board for the whole carve
    Held,
    /// No allowance: more room, but the ends may be sniped
    Free,
}

/// What was measured of the board at the bench; what is not given is not checked.
#[derive(Debug, Args)]
struct StockArgs {
    /// Cup: the widest gap under a straightedge across the face
    #[arg(long, value_name = "GAP", help_heading = CHECKS)]
    cup: Option<String>,
    /// Bow: the widest gap between the face and a string from end to end
    #[arg(long, value_name = "GAP", help_heading = CHECKS)]
    bow: Option<String>,
    /// Crook: the widest gap between the edge and a string from end to end
    #[arg(long, value_name = "GAP", help_heading = CHECKS)]
    crook: Option<String>,
    /// Twist: how far one corner lifts off a flat surface
    #[arg(long, value_name = "GAP", help_heading = CHECKS)]
    twist: Option<String>,
    /// How much wider the board is at its widest than at its narrowest
    #[arg(long, value_name = "DIFFERENCE", help_heading = CHECKS)]
    unequal_width: Option<String>,
    /// How far the reference edge is out of square
    #[arg(long, value_name = "GAP", help_heading = CHECKS)]
    off_square: Option<String>,
    /// Whether both faces are planed
    #[arg(long, value_enum, help_heading = CHECKS)]
    planed: Option<PlanedArg>,
    /// Moisture content, in per cent
    #[arg(long, value_name = "PER CENT", help_heading = CHECKS)]
    moisture: Option<f64>,
}

/// How a design's file is read where it leaves something open.
#[derive(Debug, Args)]
struct ReadArgs {
    /// What one unit of the drawing is, if its file does not say
    #[arg(long, value_enum, value_name = "UNIT", help_heading = READING)]
    drawing_unit: Option<DrawingUnitArg>,
    /// Join line ends up to this far apart (DXF) [default: 0.1mm]
    #[arg(long, value_name = "GAP", help_heading = READING)]
    join: Option<String>,
    /// Read open lines as strokes of this width, such as a cutter run along them leaves
    #[arg(long, value_name = "WIDTH", help_heading = READING)]
    open_as_strokes: Option<String>,
    /// Remove specks and slivers too small to be meant
    #[arg(long, help_heading = READING)]
    clean: bool,
}

#[derive(Clone, Copy, Debug, ValueEnum)]
enum DrawingUnitArg {
    /// A millimetre
    Mm,
    /// A pixel, 1/96 in
    Px,
    /// A point, 1/72 in
    Pt,
    /// An inch
    In,
}

impl ReadArgs {
    fn open(
        &self,
        path: &Path,
        unit: LengthUnit,
        cleaning: &(dyn Fn() + Sync),
    ) -> anyhow::Result<(Arc<design::Design>, ReadOptions)> {
        let length = |option: &'static str, text: &Option<String>| {
            text.as_ref().map(|text| parse_length(text, unit).context(option)).transpose()
        };
        let usual = ReadOptions::default();
        let options = ReadOptions {
            unit: self.drawing_unit.map(|unit| match unit {
                DrawingUnitArg::Mm => DrawingUnit::Millimetre,
                DrawingUnitArg::Px => DrawingUnit::Pixel,
                DrawingUnitArg::Pt => DrawingUnit::Point,
                DrawingUnitArg::In => DrawingUnit::Inch,
            }),
            join: length("--join", &self.join)?.unwrap_or(usual.join),
            open_as_strokes: length("--open-as-strokes", &self.open_as_strokes)?,
        };
        let reading = if is_standard_input(path) {
            let mut bytes = Vec::new();
            std::io::stdin().take(design::MAX_BYTES + 1).read_to_end(&mut bytes)?;
            design::read_with("drawing", &bytes, &options).context(command_line::STANDARD_INPUT)?
        } else {
            design::open_in_stages(path, &options, cleaning).with_context(|| path.display().to_string())?
        };
        let design = reading.design;
        let design = if self.clean { design.without_specks()? } else { design };
        Ok((Arc::new(design), options))
    }
}

#[derive(Clone, Copy, Debug, ValueEnum)]
enum PlanedArg {
    /// Both faces are planed
    Both,
    /// One face is rough, or both are
    Rough,
}

#[derive(Clone, Copy, Debug, ValueEnum)]
enum FrameArg {
    /// The outlines alone
    Outline,
    /// The drawing's page
    Page,
}

/// How places are cleared.
#[derive(Debug, Args)]
struct ClearingArgs {
    /// Larger cutter that clears the floors first, by id (see spelk list cutters)
    #[arg(long, value_name = "ID", help_heading = CLEARING)]
    clearing_cutter: Option<String>,
    /// Direction of the clearing lines
    #[arg(long, value_enum, value_name = "DIRECTION", help_heading = CLEARING)]
    clearing: Option<DirectionArg>,
    /// Distance between clearing lines, in per cent of the cutter's diameter
    #[arg(long, value_name = "PER CENT", help_heading = CLEARING)]
    stepover: Option<f64>,
    /// Deepest cut of one pass, in per cent of the cutter's diameter
    #[arg(long, value_name = "PER CENT", help_heading = CLEARING)]
    pass_depth: Option<f64>,
    /// Length and height of the bridges that hold a cut-out, for example 6mmx1.5mm; 0 for none
    #[arg(long, value_name = "LxH", help_heading = CLEARING)]
    bridge: Option<String>,
}

#[derive(Clone, Copy, Debug, ValueEnum)]
enum DirectionArg {
    /// Along the board
    Along,
    /// Across the board
    Across,
}

impl ClearingArgs {
    fn fill(&self, clearing: &mut Clearing, shop: &Shop, unit: LengthUnit) -> anyhow::Result<()> {
        if let Some(id) = &self.clearing_cutter {
            clearing.cutter = Some(cutter_of(shop, "--clearing-cutter", id)?);
        }
        match self.clearing {
            Some(DirectionArg::Along) => clearing.direction = ClearingDirection::Along,
            Some(DirectionArg::Across) => clearing.direction = ClearingDirection::Across,
            None => {}
        }
        let share = |option: &str, per_cent: f64, most: f64| {
            if per_cent > 0.0 && per_cent <= most {
                Ok(per_cent / 100.0)
            } else {
                Err(anyhow!(command_line::not_a_share(option, most, per_cent)))
            }
        };
        if let Some(stepover) = self.stepover {
            clearing.stepover = Some(share("--stepover", stepover, 100.0)?);
        }
        if let Some(pass_depth) = self.pass_depth {
            clearing.pass_depth = Some(share("--pass-depth", pass_depth, 1000.0)?);
        }
        if let Some(bridge) = &self.bridge {
            let part = |text: &str| parse_length(text, unit).context("--bridge");
            match bridge.trim().split_once(['x', 'X']) {
                Some((length, height)) => {
                    clearing.bridge.length = part(length)?;
                    clearing.bridge.height = part(height)?;
                }
                None if part(bridge)? == Mm::ZERO => clearing.bridge.length = Mm::ZERO,
                None => bail!(command_line::not_a_bridge(bridge)),
            }
        }
        Ok(())
    }
}

impl JobArgs {
    /// The files these options have a command read.
    pub(super) fn reads<'a>(&'a self, file: Option<&'a Path>) -> Vec<&'a Path> {
        file.into_iter().chain(self.job.as_deref()).chain(self.photo.as_deref()).collect()
    }

    /// The job these options ask for.
    pub(super) fn job(&self, file: Option<&Path>, shop: &Shop) -> anyhow::Result<Job> {
        self.job_in_stages(file, shop, &|| ())
    }

    /// The same; calls `cleaning` once a drawing's outlines are read and their cleaning begins.
    pub(super) fn job_in_stages(
        &self,
        file: Option<&Path>,
        shop: &Shop,
        cleaning: &(dyn Fn() + Sync),
    ) -> anyhow::Result<Job> {
        self.set(self.starting_job(file, shop, cleaning)?, shop)
    }

    /// The board, wood, cutter and depth these options ask for, where the design does not matter.
    pub(super) fn job_without_design(&self, shop: &Shop) -> anyhow::Result<Job> {
        let job = match &self.job {
            Some(path) => open_job(path)?,
            None => Job::new(Arc::new(design::read("panel", ANY_DESIGN)?)).in_shop(shop),
        };
        self.set(job, shop)
    }

    /// The job these options ask for, on the design that the lesson starts with where no file is named.
    pub(super) fn job_for_lesson(&self, file: Option<&Path>, shop: &Shop) -> anyhow::Result<Job> {
        if file.is_some() || self.job.is_some() {
            return self.job(file, shop);
        }
        let sample = TOUR.first().and_then(|step| find(step.sample)).unwrap_or(&samples()[0]);
        self.set(sample_job(sample)?.in_shop(shop), shop)
    }

    fn set(&self, mut job: Job, shop: &Shop) -> anyhow::Result<Job> {
        job.apply(Edit::Several(EditKind::Options, self.edits(&job, shop)?))?;
        self.tell_idle(&job)?;
        if self.find { Ok(self.found(job)) } else { Ok(job) }
    }

    /// What the options change about a job.
    fn edits(&self, job: &Job, shop: &Shop) -> anyhow::Result<Vec<Edit>> {
        let unit: LengthUnit = self.unit.into();
        let mut edits = Vec::new();
        let mut board = job.board().clone();
        if let Some(text) = &self.board {
            let size = parse_board(text, unit).context("--board")?;
            [board.length, board.width, board.thickness] = size;
            edits.push(Edit::BoardSize(size));
        }
        if let Some(id) = &self.wood {
            let wood = shop.wood(id).ok_or_else(|| anyhow!(command_line::no_wood(id)))?;
            edits.push(Edit::Wood(Box::new(wood.clone())));
        }
        if let Some(sawn) = self.sawn {
            edits.push(Edit::Sawn(sawn.into()));
        }
        if let Some(id) = &self.cutter {
            edits.push(Edit::Cutter(Box::new(cutter_of(shop, "--cutter", id)?)));
        }
        if let Some(id) = &self.machine {
            let machine = shop.machine(id).ok_or_else(|| anyhow!(command_line::no_machine(id)))?;
            edits.push(Edit::Machine(Box::new(machine.clone())));
        }
        let length = |option: &str, text: &str| -> anyhow::Result<Mm> {
            parse_length(text, unit).with_context(|| option.to_owned())
        };
        if let Some(depth) = &self.depth {
            edits.push(Edit::Depth(length("--depth", depth)?));
        }
        if let Some(width) = &self.width {
            edits.push(Edit::Size(Size::Width(length("--width", width)?)));
        } else if let Some(along) = &self.length {
            edits.push(Edit::Size(Size::Length(length("--length", along)?)));
        } else if let Some(factor) = self.factor {
            edits.push(Edit::Size(Size::Factor(factor)));
        } else if self.fit {
            edits.push(Edit::Size(Size::Fit));
        }
        edits.extend(self.ends.map(|ends| {
            Edit::Ends(match ends {
                EndsArg::Held => Ends::Held,
                EndsArg::Free => Ends::Free,
            })
        }));
        if let Some(at) = &self.at {
            edits.push(Edit::Place(placement(at, unit).context("--at")?));
        }
        if let Some(degrees) = self.turn {
            let turn =
                Turn::from_degrees(degrees).ok_or_else(|| anyhow!(command_line::not_a_turn(degrees)))?;
            edits.push(Edit::Turn(turn));
        }
        if let Some(margin) = &self.margin {
            edits.push(Edit::SideMargin(Some(length("--margin", margin)?)));
        }
        for text in &self.blemish {
            edits.push(Edit::AddBlemish(blemish(text, unit).context("--blemish")?));
        }
        edits.extend(self.stock.edits(unit)?);
        if let (Some(file), Some(corners)) = (&self.photo, &self.corners) {
            let corners = corners_of(corners).context("--corners")?;
            photo_from_board(&board, corners.map(DVec2::from_array)).context("--corners")?;
            edits.push(Edit::Photo(Some(BoardPhoto { file: file.display().to_string(), corners })));
        }
        let mut clearing = job.clearing().clone();
        self.clearing.fill(&mut clearing, shop, unit)?;
        edits.push(Edit::Clearing(Box::new(clearing)));
        if self.sound_from.is_some() || self.unsound_under.is_some() {
            let usual = job.trust();
            let share =
                |per_cent: Option<f64>, usual: f64| per_cent.map_or(usual, |per_cent| per_cent / 100.0);
            let sound = share(self.sound_from, usual.sound);
            // Asked for a low chance only, nothing is chancy.
            let unsound = share(self.unsound_under, usual.unsound.min(sound));
            edits.push(Edit::Trust(Trust { sound, unsound }));
        }
        edits.extend(self.frame.map(|frame| {
            Edit::Frame(match frame {
                FrameArg::Outline => Frame::Outline,
                FrameArg::Page => Frame::Page,
            })
        }));
        edits.extend(self.treatments(job, shop)?);
        Ok(edits)
    }

    /// The job at a place that is clear, or as it was where there is none.
    fn found(&self, job: Job) -> Job {
        let sized = self.width.is_some() || self.length.is_some() || self.factor.is_some();
        let found = if sized { find_at_size(&job, PITCH) } else { find_largest(&job, PITCH) };
        if let Some(found) = found
            && let Ok(placed) = job.with([found.edit()])
        {
            return placed;
        }
        match find_largest(&job, PITCH) {
            Some(largest) if sized => note(&notices::clear_up_to(&percent_down(largest.factor))),
            _ => note(notices::NOWHERE_CLEAR),
        }
        job
    }

    /// The file's own job, or its design under the settings of `--job`, or under the shop's starting ones.
    fn starting_job(
        &self,
        file: Option<&Path>,
        shop: &Shop,
        cleaning: &(dyn Fn() + Sync),
    ) -> anyhow::Result<Job> {
        let settings = self.job.as_deref().map(open_job).transpose()?;
        match (file, settings) {
            (None, Some(settings)) => Ok(settings),
            (None, None) => bail!(command_line::NAME_A_DESIGN),
            (Some(path), None) if saved::is_saved_job(path) => open_job(path),
            (Some(path), None) => {
                let (design, reading) = self.reading.open(path, self.unit.into(), cleaning)?;
                let starting = Job::new(design.clone()).in_shop(shop);
                Ok(starting.with([Edit::Redraw { design, reading, why: Redraw::Chosen }])?)
            }
            (Some(path), Some(settings)) => {
                let (design, reading) = if saved::is_saved_job(path) {
                    let job = open_job(path)?;
                    (job.design().clone(), job.reading())
                } else {
                    self.reading.open(path, self.unit.into(), cleaning)?
                };
                Ok(settings.with([Edit::Redraw { design, reading, why: Redraw::Chosen }])?)
            }
        }
    }

    fn treatments(&self, job: &Job, shop: &Shop) -> anyhow::Result<Vec<Edit>> {
        let mut edits: Vec<Edit> = self.treatment.map(|all| Edit::TreatAll(all.into())).into_iter().collect();
        for setting in &self.element {
            let (elements, treatment) = of_element(job, "--element", "TREATMENT", setting)?;
            let treatment = TreatmentArg::from_str(treatment, true)
                .map_err(|_unknown| anyhow!(command_line::not_a_treatment(treatment)))?;
            edits.push(Edit::Treat { elements, treatment: treatment.into() });
        }
        for setting in &self.element_depth {
            let (elements, depth) = of_element(job, "--element-depth", "D", setting)?;
            let depth = match depth {
                USUAL => None,
                depth => Some(parse_length(depth, self.unit.into()).context("--element-depth")?),
            };
            edits.push(Edit::OwnDepth { elements, depth });
        }
        for setting in &self.element_cutter {
            let (elements, id) = of_element(job, "--element-cutter", "ID", setting)?;
            let cutter = match id {
                USUAL => None,
                id => Some(Box::new(cutter_of(shop, "--element-cutter", id)?)),
            };
            edits.push(Edit::OwnCutter { elements, cutter });
        }
        Ok(edits)
    }

    /// Says which of the elements' own settings have no effect, see `Carving`.
    fn tell_idle(&self, job: &Job) -> anyhow::Result<()> {
        for (option, settings) in
            [("--element-depth", &self.element_depth), ("--element-cutter", &self.element_cutter)]
        {
            for setting in settings {
                let (elements, value) = of_element(job, option, "", setting)?;
                for index in elements {
                    let treatment = job.carvings()[index].treatment;
                    let idle = match treatment {
                        Treatment::Relief | Treatment::Left => true,
                        Treatment::Pierced => option == "--element-depth",
                        Treatment::Sunk | Treatment::Incised => false,
                    };
                    if idle && value != USUAL {
                        let element = &job.design().elements[index].name;
                        note(&command_line::does_nothing(option, element, treatment));
                    }
                }
            }
        }
        Ok(())
    }
}

/// Takes back what an element has of its own.
const USUAL: &str = "usual";

/// The elements that a setting `NAME=VALUE` is for, one or those of a group, by their places, and the value.
fn of_element<'a>(
    job: &Job,
    option: &str,
    what: &str,
    setting: &'a str,
) -> anyhow::Result<(Vec<usize>, &'a str)> {
    // A name may hold an equals sign; a value never does.
    let (name, value) = setting
        .rsplit_once('=')
        .ok_or_else(|| anyhow!(command_line::not_a_setting(option, setting, what)))?;
    let called = job.design().called(name);
    if called.is_empty() {
        let names = job.design().elements.iter().map(|element| element.name.as_str());
        bail!(command_line::no_element(option, name, &names.collect::<Vec<_>>()));
    }
    Ok((called, value))
}

/// The cutter of this id, for an option.
fn cutter_of(shop: &Shop, option: &str, id: &str) -> anyhow::Result<Cutter> {
    let unknown = || anyhow!(command_line::no_cutter(option, id));
    shop.cutter(id).cloned().ok_or_else(unknown)
}

impl StockArgs {
    fn edits(&self, unit: LengthUnit) -> anyhow::Result<Vec<Edit>> {
        let lengths = [
            (Check::Cup, "--cup", &self.cup),
            (Check::Bow, "--bow", &self.bow),
            (Check::Crook, "--crook", &self.crook),
            (Check::Twist, "--twist", &self.twist),
            (Check::UnequalWidth, "--unequal-width", &self.unequal_width),
            (Check::OffSquare, "--off-square", &self.off_square),
        ];
        let mut edits = Vec::new();
        for (check, option, text) in lengths {
            if let Some(text) = text {
                edits.push(Edit::Measured(check, Some(parse_length(text, unit).context(option)?)));
            }
        }
        edits.extend(self.planed.map(|planed| {
            Edit::Planed(Some(match planed {
                PlanedArg::Both => Planed::Both,
                PlanedArg::Rough => Planed::Rough,
            }))
        }));
        edits.extend(self.moisture.map(|moisture| Edit::Moisture(Some(moisture))));
        Ok(edits)
    }
}

/// `middle`, a corner by name, or `X,Y`.
fn placement(text: &str, unit: LengthUnit) -> anyhow::Result<Placement> {
    Ok(match text.trim().to_lowercase().as_str() {
        "middle" => Placement::Middle,
        "lower-left" | "corner" => Placement::LowerLeft,
        "lower-right" => Placement::LowerRight,
        "upper-left" => Placement::UpperLeft,
        "upper-right" => Placement::UpperRight,
        other => {
            let (x, y) = other.split_once(',').ok_or_else(|| anyhow!(command_line::not_a_place(text)))?;
            Placement::At { x: parse_length(x, unit)?, y: parse_length(y, unit)? }
        }
    })
}

/// `knot:circle:300,60,25:5`.
fn blemish(text: &str, unit: LengthUnit) -> anyhow::Result<Blemish> {
    let parts: Vec<&str> = text.split(':').map(str::trim).collect();
    let (kind, shape, numbers, clearance) = match *parts.as_slice() {
        [kind, shape, numbers] => (kind, shape, numbers, None),
        [kind, shape, numbers, clearance] => (kind, shape, numbers, Some(clearance)),
        _ => bail!(command_line::not_a_blemish(text)),
    };
    let kind = BlemishKind::ALL
        .into_iter()
        .find(|known| known.id().eq_ignore_ascii_case(kind))
        .ok_or_else(|| anyhow!(command_line::not_a_blemish_kind(kind)))?;
    let numbers =
        numbers.split(',').map(|number| parse_length(number, unit)).collect::<Result<Vec<_>, _>>()?;
    let shape = match (shape.to_lowercase().as_str(), numbers.as_slice()) {
        ("circle", &[x, y, diameter]) => BlemishShape::Circle { x, y, diameter },
        ("rectangle", &[x, y, length, width]) => BlemishShape::Rectangle { x, y, length, width },
        ("line", &[x0, y0, x1, y1]) => BlemishShape::Line { from: [x0, y0], to: [x1, y1] },
        _ => bail!(command_line::not_a_shape(text)),
    };
    let clearance = clearance.map_or(Ok(Mm::ZERO), |clearance| parse_length(clearance, unit))?;
    Ok(Blemish { kind, shape, clearance })
}

/// Four corners as `X,Y X,Y X,Y X,Y`.
pub(super) fn corners_of(text: &str) -> anyhow::Result<[[f64; 2]; 4]> {
    let number = |text: &str| text.trim().parse::<f64>().ok().filter(|number| number.is_finite());
    let corners: Option<Vec<[f64; 2]>> = text
        .split_whitespace()
        .map(|pair| pair.split_once(',').and_then(|(x, y)| Some([number(x)?, number(y)?])))
        .collect();
    corners
        .and_then(|corners| corners.try_into().ok())
        .ok_or_else(|| anyhow!(command_line::not_corners(text)))
}

/// Stands in for a design where none is asked for.
const ANY_DESIGN: &[u8] =
    br#"<svg xmlns="http://www.w3.org/2000/svg" width="9mm" height="9mm"><path d="M0 0H9V9H0Z"/></svg>"#;

/// Whether a drawing is to be read from standard input.
fn is_standard_input(path: &Path) -> bool {
    path.as_os_str() == "-"
}

fn open_job(path: &Path) -> anyhow::Result<Job> {
    saved::open(path).with_context(|| path.display().to_string())
}
