//! `spelk sheet`: the bench sheet, a template, the coupon with its key, or the lesson's handout, on paper.

use super::job_args::JobArgs;
use super::output::{OutputArgs, Outputs};
use super::{UNSOUND, note_drawing, note_missing_letters, own_shop, print_out, rack_boards, read_file};
use crate::advice::{Means, Tried, advise};
use crate::arrange::{batch, whole};
use crate::job::{Edit, EditKind, Job};
use crate::proof::{Finding, Proof, Severity, measure, proof, rate};
use crate::relief::NEVER;
use crate::sheet::advice::best_offer;
use crate::sheet::coupon::coupon;
use crate::sheet::pdf::{self, BenchNotes, Paper, SheetSettings, ShopMark};
use crate::sheet::{self, relief_picture};
use crate::shop::{MOST_PICTURE_BYTES, Shop};
use crate::units::LengthUnit;
use crate::words::command_line;
use anyhow::{Context as _, anyhow, bail};
use clap::{Args, ValueEnum};
use std::collections::BTreeSet;
use std::path::{Path, PathBuf};
use std::process::ExitCode;

#[derive(Debug, Args)]
pub(super) struct SheetCommand {
    /// A design (.svg, .dxf) or a saved job (.spelk); the coupon and the handout need none
    file: Option<PathBuf>,
    /// Where to write the sheet
    #[arg(short, long, value_name = "OUT.pdf")]
    output: PathBuf,
    /// Which sheet to write
    #[arg(long, value_enum, default_value = "bench")]
    what: What,
    /// A finding you have looked at and accept, by its kind or its id, for the bench sheet; repeat for
    /// others. Replaces those the job has
    #[arg(long, value_name = "FINDING")]
    accept: Vec<String>,
    /// A remark for the bench sheet. Replaces the job's
    #[arg(long, value_name = "WORDS")]
    remark: Option<String>,
    #[command(flatten)]
    out: OutputArgs,
    #[command(flatten)]
    sheet: SheetArgs,
    #[command(flatten)]
    job: JobArgs,
}

#[derive(Clone, Copy, Debug, ValueEnum)]
enum What {
    /// One page to tape up beside the machine
    Bench,
    /// The outline at true size, on as many pages as it takes
    Template,
    /// The test piece at true size, with a key to note which walls survived
    Coupon,
    /// Two pages that teach why walls thin as a design shrinks, with questions
    Handout,
}

/// What every sheet of paper takes.
#[derive(Debug, Args)]
pub(super) struct SheetArgs {
    /// Paper in the printer
    #[arg(long, value_enum, default_value = "a4")]
    paper: PaperArg,
    /// Your shop's name, for the head of the sheet
    #[arg(long, value_name = "NAME", default_value = "")]
    shop_name: String,
    /// Your shop's mark, beside its name
    #[arg(long, value_name = "PICTURE.png")]
    mark: Option<PathBuf>,
}

#[derive(Clone, Copy, Debug, ValueEnum)]
pub(super) enum PaperArg {
    A4,
    Letter,
}

impl From<PaperArg> for Paper {
    fn from(paper: PaperArg) -> Paper {
        match paper {
            PaperArg::A4 => Paper::A4,
            PaperArg::Letter => Paper::Letter,
        }
    }
}

impl SheetArgs {
    /// The files these options have read.
    pub(super) fn reads(&self) -> Option<&Path> {
        self.mark.as_deref()
    }

    /// The settings these options ask for.
    pub(super) fn settings(&self, unit: LengthUnit) -> anyhow::Result<SheetSettings> {
        let paper = self.paper.into();
        let mark = self.mark.as_ref().map(|path| {
            let bytes = read_file(path, MOST_PICTURE_BYTES)?;
            ShopMark::read(&bytes).map_err(|error| anyhow!(command_line::mark_not_used(path, &error)))
        });
        let shop_name = self.shop_name.clone();
        Ok(SheetSettings { paper, unit, shop_name, mark: mark.transpose()?, ..SheetSettings::default() })
    }
}

/// Status 0, or 1 where the bench sheet is of an unsound proof.
pub(super) fn run(args: &SheetCommand) -> anyhow::Result<ExitCode> {
    let reads: Vec<&Path> =
        args.job.reads(args.file.as_deref()).into_iter().chain(args.sheet.reads()).collect();
    let outputs = args.out.check(&reads, &[&args.output])?;
    let shop = own_shop(args.job.unit.into());
    let unit: LengthUnit = args.job.unit.into();
    let settings = args.sheet.settings(unit)?;
    let mut job = match args.what {
        What::Coupon if args.file.is_none() => args.job.job_without_design(&shop)?,
        What::Handout => args.job.job_for_lesson(args.file.as_deref(), &shop)?,
        _ => args.job.job(args.file.as_deref(), &shop)?,
    };
    note_drawing(&job.design().notices);
    if let Some(remark) = &args.remark {
        job.apply(Edit::Remark(remark.clone()))?;
    }
    if job.is_batch() && matches!(args.what, What::Bench) {
        return args.write_batch(job, &shop, &settings, &outputs);
    }
    if job.is_batch() && matches!(args.what, What::Template) {
        job = whole(&job)?;
    }
    note_missing_letters(&pdf::missing_letters(&settings, &job, &[]));
    let mut severity = Severity::Sound;
    let pdf = match args.what {
        What::Coupon => pdf::coupon_pdf(&coupon(&job), &job, &settings)?,
        What::Bench | What::Template | What::Handout => {
            let measured = measure(&job);
            let ratings = rate(&job, &measured);
            let now = Tried::rated(job.clone(), measured, ratings);
            let proof = &now.proof;
            severity = now.severity();
            match args.what {
                What::Template => pdf::template_pdf(&job, proof, &settings)?,
                What::Handout => pdf::handout_pdf(&job, proof, &settings),
                What::Bench | What::Coupon => {
                    let (minutes, relief) = sheet::carve_in_short(&job, &now.measured, proof);
                    let boards = rack_boards(None)?;
                    let advice = advise(&now, &Means::of(&shop, &boards), &NEVER);
                    let would_help = advice
                        .map_or_else(String::new, |advice| best_offer(&advice, &shop.prices.money, unit));
                    args.accept(&mut job, proof)?;
                    pdf::bench_pdf(&job, proof, &BenchNotes { minutes, relief, would_help }, &settings)
                }
            }
        }
    };
    outputs.write(&args.output, &pdf)?;
    print_out(&format!("{}\n", written(args.what, &job, &args.output)))?;
    Ok(if severity == Severity::Unsound && matches!(args.what, What::Bench) {
        ExitCode::from(UNSOUND)
    } else {
        ExitCode::SUCCESS
    })
}

fn written(what: What, job: &Job, path: &Path) -> String {
    let design = &job.design().name;
    match what {
        What::Bench => command_line::wrote_bench_sheet(design, path),
        What::Template => command_line::wrote_template(design, path),
        What::Handout => command_line::wrote_handout(design, path),
        What::Coupon => command_line::wrote_coupon(&job.cutter().name, path),
    }
}

impl SheetCommand {
    /// The bench sheet of all pieces on a board. Status 1 where one of them is unsound.
    fn write_batch(
        &self,
        mut job: Job,
        shop: &Shop,
        settings: &SheetSettings,
        outputs: &Outputs,
    ) -> anyhow::Result<ExitCode> {
        if !self.accept.is_empty() {
            let measured = measure(&job);
            let of_the_one_in_hand = proof(&job, &measured, &rate(&job, &measured));
            self.accept(&mut job, &of_the_one_in_hand)?;
        }
        let names: Vec<&str> = (0..job.piece_count()).map(|piece| job.piece_name(piece)).collect();
        note_missing_letters(&pdf::missing_letters(settings, &job, &names));
        let batch = batch(&job, &shop.prices, &NEVER).context(command_line::NOT_PLANNED)?;
        let relief = batch.copies.first().and_then(|first| relief_picture(&job, &batch.plan, &first.proof));
        let pdf = pdf::batch_bench_pdf(&job, &batch, relief.as_ref(), &shop.prices.money, settings)?;
        outputs.write(&self.output, &pdf)?;
        print_out(&format!("{}\n", written(self.what, &job, &self.output)))?;
        Ok(match batch.severity() {
            Severity::Unsound => ExitCode::from(UNSOUND),
            Severity::Sound | Severity::Chancy => ExitCode::SUCCESS,
        })
    }

    /// What was accepted goes over what the job says.
    fn accept(&self, job: &mut Job, proof: &Proof) -> anyhow::Result<()> {
        if !self.accept.is_empty() {
            job.apply(Edit::KeepAccepted(BTreeSet::new()))?;
        }
        for wanted in &self.accept {
            let is = |finding: &&Finding| finding.id == *wanted || finding.kind().id() == *wanted;
            let accept = |finding: &Finding| Edit::Accept { finding: finding.id.clone(), accepted: true };
            let found: Vec<Edit> = proof.findings.iter().filter(is).map(accept).collect();
            if found.is_empty() {
                bail!(command_line::not_found(wanted));
            }
            job.apply(Edit::Several(EditKind::Options, found))?;
        }
        Ok(())
    }
}
