//! `spelk record`: which walls held and which broke, and what that comes to.

use super::job_args::JobArgs;
use super::output::OutputArgs;
use super::{note_aside, note_drawing, own_shop, print_out};
use crate::job::{Job, Place};
use crate::proof::record::{CarvedWall, Record, Watched, apart, constant_of};
use crate::proof::wall::{Estimate, Heading, Trial, chance};
use crate::proof::{HeldWall, Limits, measure, rate, walls};
use crate::sheet::coupon::{Coupon, Ladder, coupon};
use crate::shop::{Cutter, Shop, config_folder};
use crate::units::Mm;
use crate::words;
use anyhow::{anyhow, bail};
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
    let mut text = String::new();
    let mut cutters = shop.cutters.clone();
    let imported = args.import.as_deref().map(Record::read).transpose()?;
    let mut carved = Vec::new();
    if !args.held.is_empty() || !args.broke.is_empty() {
        let job = args.job.job(args.file.as_deref(), &shop)?;
        note_drawing(&job.design().notices);
        carved = watched(&job, &args.held, &args.broke)?;
        writeln!(text, "{}", words::record::noted(carved.len()))?;
        add_unknown(&mut cutters, &job);
    }
    if !args.coupon.is_empty() {
        let job = args.job.job_without_design(&shop)?;
        let found = of_coupon(&job, &args.coupon)?;
        writeln!(text, "{}", words::record::noted(found.iter().map(|ladder| ladder.walls.len()).sum()))?;
        text.push_str(&compared(&job, &found));
        carved.extend(found.into_iter().flat_map(|ladder| ladder.walls));
    }
    let changes = imported.is_some() || !carved.is_empty();
    let record = if changes {
        let mut added = None;
        let record = Record::change(&path, |record| {
            added = imported.map(|other| record.merge(other));
            record.walls.extend(carved);
        })?;
        if let Some(added) = added {
            text.insert_str(0, &(words::record::noted(added) + "\n"));
        }
        record
    } else {
        Record::read_or_new(&path)?
    };
    if let Some(to) = &args.export {
        let outputs = args.output.check(&args.reads(), &[to])?;
        outputs.write(to, record.to_csv().as_bytes())?;
    }
    let learned = record.learned(&cutters);
    for cutter in &learned {
        let experience = cutter.experience.as_ref().expect("a cutter that learned has experience");
        writeln!(text, "{}", words::record::experience(&cutter.name, experience))?;
        if args.record.is_none() && changes {
            let folder = config_folder().ok_or_else(|| anyhow!(words::record::NO_CONFIG_FOLDER))?;
            note_aside(Shop::keep_cutter(&folder, cutter)?.as_ref());
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

/// A saved job may have a cutter that this shop does not know.
fn add_unknown(cutters: &mut Vec<Cutter>, job: &Job) {
    for place in job.places() {
        let cutter = job.cut(place).cutter;
        if !cutters.iter().any(|known| known.id.eq_ignore_ascii_case(&cutter.id)) {
            cutters.push(cutter.clone());
        }
    }
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
        Ok(Record::path_in(&folder))
    }
}

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
            Ok(CarvedWall::of_row(job, &ratings.limits, row, held))
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
    let limit = limits.wall_as(&Heading::of(to_grain), job.depth(), &run);
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
