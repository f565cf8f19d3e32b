//! `spelk record`: which walls held and which broke, and what that comes to.

use super::job_args::JobArgs;
use super::output::OutputArgs;
use super::{note_drawing, own_shop, print_out};
use crate::job::{Job, Place};
use crate::proof::record::{CarvedWall, Record, Watched, apart, constant_of};
use crate::proof::wall::{Estimate, Trial, chance};
use crate::proof::{HeldWall, Limits, WallRow, measure, rate, walls};
use crate::sheet::coupon::{Coupon, Ladder, coupon};
use crate::shop::{Shop, config_folder};
use crate::units::Mm;
use crate::whole_file::{self, Existing};
use crate::words::{self, command_line};
use anyhow::{Context as _, anyhow, bail};
use clap::Args;
use std::fmt::Write as _;
use std::path::{Path, PathBuf};
use std::process::ExitCode;

#[derive(Debug, Args)]
pub(super) struct RecordArgs {
    /// A design (.svg, .dxf) or a saved job (.spelk) that was carved
    file: Option<PathBuf>,
    /// Walls that stayed whole: their ids as spelk proof --json lists them
    #[arg(long, value_name = "ID", value_delimiter = ',')]
    held: Vec<String>,
    /// Walls that broke
    #[arg(long, value_name = "ID", value_delimiter = ',')]
    broke: Vec<String>,
    /// A coupon was carved: of each ladder of walls the first rung that held, as in walls-along=5
    #[arg(long, value_name = "LADDER=RUNG", value_delimiter = ',', conflicts_with_all = ["file", "held", "broke"])]
    coupon: Vec<String>,
    /// Add the walls of another record
    #[arg(long, value_name = "FILE.csv")]
    import: Option<PathBuf>,
    /// Write the record to a file
    #[arg(long, value_name = "FILE.csv")]
    export: Option<PathBuf>,
    /// Keep the record in this file instead of the shop's own record.csv, and leave the shop's cutters alone
    #[arg(long, value_name = "FILE.csv")]
    record: Option<PathBuf>,
    #[command(flatten)]
    output: OutputArgs,
    #[command(flatten)]
    job: JobArgs,
}

pub(super) fn run(args: &RecordArgs) -> anyhow::Result<ExitCode> {
    let shop = own_shop(args.job.unit.into());
    let path = args.path()?;
    let mut record = read(&path, true)?;
    let before = record.clone();
    let mut text = String::new();
    let mut cutters = shop.cutters.clone();
    if let Some(from) = &args.import {
        let added = record.merge(read(from, false)?);
        writeln!(text, "{}", words::record::noted(added))?;
    }
    if !args.held.is_empty() || !args.broke.is_empty() {
        let job = args.job.job(args.file.as_deref(), &shop)?;
        note_drawing(&job.design().notices);
        let noted = watched(&job, &args.held, &args.broke)?;
        writeln!(text, "{}", words::record::noted(noted.len()))?;
        record.walls.extend(noted);
        // A saved job may have a cutter that this shop does not know.
        let unknown = |id: &str| !cutters.iter().any(|cutter| cutter.id.eq_ignore_ascii_case(id));
        let theirs: Vec<_> = job
            .places()
            .map(|place| job.cut(place).cutter)
            .filter(|cutter| unknown(&cutter.id))
            .cloned()
            .collect();
        cutters.extend(theirs);
    }
    if !args.coupon.is_empty() {
        let job = args.job.job_without_design(&shop)?;
        let found = of_coupon(&job, &args.coupon)?;
        writeln!(text, "{}", words::record::noted(found.iter().map(|ladder| ladder.walls.len()).sum()))?;
        text.push_str(&compared(&job, &found));
        record.walls.extend(found.into_iter().flat_map(|ladder| ladder.walls));
    }
    if record != before {
        if let Some(folder) = path.parent().filter(|folder| !folder.as_os_str().is_empty()) {
            std::fs::create_dir_all(folder)
                .map_err(|error| anyhow!(command_line::not_written(&path, &error.into())))?;
        }
        whole_file::write(&path, record.to_csv().as_bytes(), Existing::Replace)
            .map_err(|error| anyhow!(command_line::not_written(&path, &error)))?;
    }
    if let Some(to) = &args.export {
        let outputs = args.output.check(&args.reads(), &[to])?;
        outputs.write(to, record.to_csv().as_bytes())?;
    }
    for id in record.cutters() {
        let Some(cutter) = cutters.iter().find(|cutter| cutter.id.eq_ignore_ascii_case(id)) else { continue };
        let Some(experience) = record.experience(cutter) else { continue };
        writeln!(text, "{}", words::record::experience(&cutter.name, &experience))?;
        if args.record.is_none() && record != before {
            let mut learned = cutter.clone();
            learned.experience = Some(experience);
            let folder = config_folder().ok_or_else(|| anyhow!(words::record::NO_CONFIG_FOLDER))?;
            Shop::keep_cutter(&folder, &learned)?;
        }
    }
    if record.walls.is_empty() {
        writeln!(text, "{}", words::record::NONE)?;
    } else {
        for told in record.told() {
            writeln!(text, "{}", words::record::told(&told))?;
        }
    }
    print_out(&text)?;
    Ok(ExitCode::SUCCESS)
}

impl RecordArgs {
    /// The files it reads that are not its own to write.
    fn reads(&self) -> Vec<&Path> {
        [&self.file, &self.import, &self.record].into_iter().flatten().map(PathBuf::as_path).collect()
    }

    fn path(&self) -> anyhow::Result<PathBuf> {
        if let Some(path) = &self.record {
            return Ok(path.clone());
        }
        let folder = config_folder().ok_or_else(|| anyhow!(words::record::NO_CONFIG_FOLDER))?;
        Ok(folder.join("record.csv"))
    }
}

/// A record that may not be there yet is then empty.
fn read(path: &Path, may_be_new: bool) -> anyhow::Result<Record> {
    if may_be_new && !path.exists() {
        return Ok(Record::default());
    }
    let bytes =
        whole_file::read(path, MOST_BYTES).map_err(|error| anyhow!(command_line::not_read(path, &error)))?;
    Record::from_csv(&String::from_utf8_lossy(&bytes)).with_context(|| path.display().to_string())
}

/// The largest record that is read: a hundred thousand walls and more. A round value of our own.
const MOST_BYTES: u64 = 32 << 20;

/// The walls of a job that were named.
fn watched(job: &Job, held: &[String], broke: &[String]) -> anyhow::Result<Vec<CarvedWall>> {
    if let Some(id) = held.iter().find(|id| broke.contains(id)) {
        bail!(words::record::both(id));
    }
    let measured = measure(job);
    let ratings = rate(job, &measured);
    let rows = walls(job, &measured, &ratings);
    let named = held.iter().map(|id| (id, true)).chain(broke.iter().map(|id| (id, false)));
    named
        .map(|(id, held)| {
            let row =
                rows.iter().find(|row| row.id == *id).ok_or_else(|| anyhow!(words::record::no_wall(id)))?;
            let WallRow { width, held: wall, to_grain, chance, .. } = row;
            let watched = Watched { width: *width, held: *wall, to_grain: *to_grain, chance: *chance };
            Ok(CarvedWall::of(job, row.place, ratings.limits.at(row.place), &watched, held))
        })
        .collect()
}

/// A ladder of a coupon that was carved.
struct Carved {
    ladder: Ladder,
    walls: Vec<CarvedWall>,
    /// The limit of its walls by the reference wall.
    limit: Mm,
    estimate: Estimate,
}

fn of_coupon(job: &Job, ladders: &[String]) -> anyhow::Result<Vec<Carved>> {
    let (coupon, limits) = (coupon(job), Limits::of(job));
    ladders
        .iter()
        .map(|text| {
            of_ladder(job, &coupon, &limits, text).ok_or_else(|| anyhow!(words::record::no_rung(text)))
        })
        .collect()
}

fn of_ladder(job: &Job, coupon: &Coupon, limits: &Limits, text: &str) -> Option<Carved> {
    let (name, first) = text.split_once('=')?;
    let first: usize = first.trim().parse().ok()?;
    let ladder = Ladder::WALLS.into_iter().find(|ladder| ladder.element() == name.trim())?;
    let (run, to_grain) = coupon.run_of(ladder)?;
    let rungs: Vec<_> = coupon.rungs.iter().filter(|rung| rung.ladder == ladder).collect();
    // One past the last: none held.
    if first == 0 || first > rungs.len() + 1 {
        return None;
    }
    let limit = limits.wall_to_grain(to_grain, job.depth(), &run);
    let wall = HeldWall { height: job.depth(), run, limit };
    let walls: Vec<CarvedWall> = rungs
        .iter()
        .map(|rung| {
            let chance = chance(rung.width / limit.thickness, limits.rule.scatter);
            let watched = Watched { width: rung.width, held: wall, to_grain, chance };
            CarvedWall::of(job, Place::Ground, limits, &watched, rung.number >= first)
        })
        .collect();
    let factor = job.cutter().experience.map_or(1.0, |experience| experience.factor_at(to_grain));
    let limit = limit.thickness / factor;
    let trials: Vec<Trial> =
        walls.iter().map(|wall| Trial { ratio: wall.thickness / limit, held: wall.held }).collect();
    Some(Carved { ladder, walls, limit, estimate: Estimate::of(&trials) })
}

/// The constant that a coupon gives, and whether its ladders have the model's ratios.
fn compared(job: &Job, found: &[Carved]) -> String {
    let trials: Vec<Trial> = found
        .iter()
        .flat_map(|ladder| {
            ladder.walls.iter().map(|wall| Trial { ratio: wall.thickness / ladder.limit, held: wall.held })
        })
        .collect();
    let (factor, likely) = Estimate::of(&trials).constant_factor();
    let mut text =
        words::record::constant(&job.cutter().name, constant_of(job.cutter()), factor, likely) + "\n";
    for (index, ladder) in found.iter().enumerate() {
        for other in &found[..index] {
            let model = ladder.limit / other.limit;
            let shop = model * ladder.estimate.factor / other.estimate.factor;
            let (one, two) = (ladder.ladder.element(), other.ladder.element());
            let is_apart = apart(ladder.estimate.likely, other.estimate.likely);
            let say = if is_apart { words::record::contradicts } else { words::record::agrees };
            text += &(say(one, two, shop, model) + "\n");
        }
    }
    text
}
