//! `spelk arrange`: several pieces on one board.

use super::batch_files::{write_all, write_each};
use super::board_picture::draw_batch;
use super::export::ENDINGS;
use super::job_args::{JobArgs, TreatmentArg};
use super::output::OutputArgs;
use super::{UNSOUND, note_drawing, own_shop, print_out, rack_boards, read_file};
use crate::arrange::{Effort, Wanted, arrange, names_edit, names_in, on_rack, shortest, usual_words};
use crate::job::{Edit, Job, MOST_COPIES, Piece, Turns};
use crate::proof::Severity;
use crate::relief::NEVER;
use crate::sheet::arrange::{Arranged, arrange_json, arrange_text};
use crate::sheet::batch::{BatchFacts, paths_of_each};
use crate::shop::Shop;
use crate::units::{LengthUnit, parse_length};
use crate::whole_file::ending;
use crate::words::command_line;
use anyhow::{Context as _, bail};
use clap::{Args, ValueEnum};
use std::path::{Path, PathBuf};
use std::process::ExitCode;

#[derive(Debug, Args)]
#[expect(clippy::struct_excessive_bools, reason = "each is a switch of its own")]
pub(super) struct ArrangeArgs {
    /// Designs (.svg, .dxf) or saved jobs (.spelk), a piece each
    #[arg(required_unless_present = "job")]
    files: Vec<PathBuf>,
    /// How many of each, with commas between them; one number is for every file. As many as go on if you leave it out
    #[arg(long, value_name = "N", value_delimiter = ',')]
    count: Vec<usize>,
    /// Wood to leave between two pieces [default: the largest cutter and 5mm]
    #[arg(long, value_name = "G")]
    gap: Option<String>,
    /// How far a piece may be turned to fit
    #[arg(long, value_enum)]
    turns: Option<TurnsArg>,
    /// A table (.csv) with a name or number in the first column of each line: a piece for each, with that cut into it
    #[arg(long, value_name = "LIST.csv", conflicts_with = "count")]
    names: Option<PathBuf>,
    /// Height of a capital in those names [default: as the design is lettered, else a third of its width]
    #[arg(long, value_name = "H", requires = "names")]
    cap_height: Option<String>,
    /// How those names are carved [default: as the design is lettered, else sunk]
    #[arg(long, value_enum, requires = "names")]
    names_as: Option<TreatmentArg>,
    /// Also look for the shortest board of this width that takes all of them
    #[arg(long)]
    shortest: bool,
    /// Also say which boards of your rack take all of them
    #[arg(long)]
    rack: bool,
    /// Use the boards of this file instead of the shop's own boards.json
    #[arg(long, value_name = "FILE.json", requires = "rack")]
    boards: Option<PathBuf>,
    /// Try ten times as many arrangements
    #[arg(long)]
    thorough: bool,
    /// Also draw the board with all pieces on it
    #[arg(long, value_name = "OUT.png")]
    picture: Option<PathBuf>,
    /// Where to write. The ending chooses what: .spelk the job with all pieces where they lie, or .svg, .dxf, .png,
    /// .json, .csv and .stl as in spelk export; repeat for others
    #[arg(short, long, value_name = "OUT.spelk")]
    output: Vec<PathBuf>,
    /// Write a file for each piece, numbered and called after its piece, instead of one with all
    #[arg(long, requires = "output")]
    each: bool,
    /// Print one JSON object instead of text
    #[arg(long)]
    json: bool,
    #[command(flatten)]
    out: OutputArgs,
    #[command(flatten)]
    job: JobArgs,
}

/// The largest list that is read: far more than the names that go on one board.
const MOST_LIST_BYTES: u64 = 1 << 20;

#[derive(Clone, Copy, Debug, ValueEnum)]
enum TurnsArg {
    /// Not at all
    None,
    /// By a half turn, which keeps the grain
    Half,
    /// By quarter turns, which take walls across the grain
    Quarter,
}

/// Status 1 where a piece is unsound, or has no place.
pub(super) fn run(args: &ArrangeArgs) -> anyhow::Result<ExitCode> {
    for output in &args.output {
        if !(ending(output) == "spelk" || ENDINGS.contains(&ending(output).as_str())) {
            bail!(command_line::no_such_ending_for_a_batch(output));
        }
    }
    let mut reads = args.job.reads(args.files.first().map(PathBuf::as_path));
    reads.extend(args.files.iter().skip(1).chain(&args.boards).chain(&args.names).map(PathBuf::as_path));
    // What each piece is called is known once all are read.
    let plain: Vec<&Path> =
        args.output.iter().filter(|_| !args.each).chain(&args.picture).map(PathBuf::as_path).collect();
    let mut outputs = args.out.check(&reads, &plain)?;
    let shop = own_shop(args.job.unit.into());
    let unit: LengthUnit = args.job.unit.into();
    let mut job = args.pieces(&shop)?;
    let each: Vec<Vec<PathBuf>> =
        args.output.iter().filter(|_| args.each).map(|path| paths_of_each(&job, path)).collect();
    if args.each {
        let all: Vec<&Path> = each.iter().flatten().chain(&args.picture).map(PathBuf::as_path).collect();
        outputs = args.out.check(&reads, &all)?;
    }
    // A saved job of several copies says itself how many.
    let is_counted =
        !args.count.is_empty() || args.names.is_some() || args.files.len() < 2 && job.copies() > 1;
    let wanted = if is_counted { Wanted::Counts } else { Wanted::AsMany };
    let effort = if args.thorough { Effort::Long } else { Effort::Usual };
    let laid = arrange(&job, wanted, effort, &NEVER)?;
    job.apply(laid.edit())?;
    let facts = BatchFacts::of(&job, laid, &shop.prices, &NEVER).context(command_line::NOT_PLANNED)?;
    let shortest = args.shortest.then(|| shortest(&job, effort, &NEVER)).transpose()?;
    let rack = if args.rack {
        let boards = rack_boards(args.boards.as_deref())?;
        Some(on_rack(&job, &boards, &shop, &NEVER)?)
    } else {
        None
    };
    if let Some(path) = &args.picture {
        draw_batch(&job, &facts.batch, unit, path, &outputs)?;
    }
    let told = facts.arranged(&job, &shop.prices.money);
    let arranged = Arranged { shortest, rack: rack.as_deref(), ..told };
    if args.each {
        for paths in &each {
            let ending = paths.first().map(|path| ending(path)).unwrap_or_default();
            write_each(&job, Some(&facts.batch), &ending, unit, paths, &outputs)?;
        }
    } else {
        for path in &args.output {
            write_all(&job, Some(&arranged), &ending(path), unit, path, &outputs)?;
        }
    }
    print_out(&if args.json { arrange_json(&arranged, unit) } else { arrange_text(&arranged, unit) })?;
    let is_all = facts.laid.left_over.iter().all(|&left| left == 0);
    Ok(if is_all && facts.batch.severity() < Severity::Unsound {
        ExitCode::SUCCESS
    } else {
        ExitCode::from(UNSOUND)
    })
}

impl ArrangeArgs {
    /// The edit that makes a piece of each name in a list.
    fn names_of(&self, job: &Job, path: &Path) -> anyhow::Result<Edit> {
        let bytes = read_file(path, MOST_LIST_BYTES)?;
        let names = names_in(&bytes).with_context(|| path.display().to_string())?;
        let (mut words, spot) = usual_words(job);
        if let Some(height) = &self.cap_height {
            words.lettering.cap_height =
                parse_length(height, self.job.unit.into()).context("--cap-height")?;
        }
        if let Some(treatment) = self.names_as {
            words.treatment = treatment.into();
        }
        names_edit(job, &names, &words, &spot).with_context(|| path.display().to_string())
    }

    /// The job of all pieces that these options ask for.
    fn pieces(&self, shop: &Shop) -> anyhow::Result<Job> {
        let unit: LengthUnit = self.job.unit.into();
        let own = usize::from(self.files.is_empty());
        let counts: Vec<Option<usize>> = match (self.count.as_slice(), self.files.len() + own) {
            ([], files) => vec![None; files],
            (&[one], files) => vec![Some(one); files],
            (several, files) if several.len() == files => several.iter().copied().map(Some).collect(),
            (several, files) => bail!(command_line::counts_and_files(several.len(), files)),
        };
        if let Some(&many) = self.count.iter().find(|&&count| count == 0 || count > MOST_COPIES) {
            bail!(command_line::not_a_count(many, MOST_COPIES));
        }
        let turns = self.turns.map(|turns| match turns {
            TurnsArg::None => Turns::None,
            TurnsArg::Half => Turns::Half,
            TurnsArg::Quarter => Turns::Quarter,
        });
        let mut job = self.job.job(self.files.first().map(PathBuf::as_path), shop)?;
        note_drawing(&job.design().notices);
        if let Some(path) = &self.names {
            job.apply(self.names_of(&job, path)?)?;
        }
        let first = job.piece_count();
        for piece in 0..first {
            if let Some(count) = counts[0] {
                job.apply(Edit::Count { piece, count })?;
            }
            if let Some(turns) = turns {
                job.apply(Edit::Turns { piece, turns })?;
            }
        }
        for (file, count) in self.files.iter().zip(counts).skip(1) {
            let other = self.job.job(Some(file), shop).with_context(|| file.display().to_string())?;
            note_drawing(&other.design().notices);
            let piece = Piece::of(&other, count.unwrap_or(1), turns.unwrap_or_default());
            job.apply(Edit::AddPiece(Box::new(piece)))?;
        }
        if let Some(gap) = &self.gap {
            job.apply(Edit::Gap(Some(parse_length(gap, unit).context("--gap")?)))?;
        }
        Ok(job)
    }
}
