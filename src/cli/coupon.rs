//! `spelk coupon`: a test piece to find the shop's own limit.

use super::job_args::JobArgs;
use super::output::OutputArgs;
use super::{own_shop, print_out};
use crate::sheet::coupon::{Ladder, Rung, coupon, key_svg};
use crate::sheet::outline::outline_svg;
use crate::units::Mm;
use crate::words::command_line;
use clap::Args;
use std::fmt::Write as _;
use std::path::{Path, PathBuf};
use std::process::ExitCode;

#[derive(Debug, Args)]
pub(super) struct CouponArgs {
    /// Where to write the outline to carve, at true size
    #[arg(short, long, value_name = "OUT.svg")]
    output: PathBuf,
    /// Also write a key to print: every rung with its number
    #[arg(long, value_name = "KEY.svg")]
    key: Option<PathBuf>,
    #[command(flatten)]
    out: OutputArgs,
    #[command(flatten)]
    job: JobArgs,
}

pub(super) fn run(args: &CouponArgs) -> anyhow::Result<ExitCode> {
    let writes: Vec<&Path> = [&args.output].into_iter().chain(&args.key).map(PathBuf::as_path).collect();
    let outputs = args.out.check(&args.job.reads(None), &writes)?;
    let shop = own_shop(args.job.unit.into());
    let job = args.job.job_without_design(&shop)?;
    let coupon = coupon(&job);
    let size = coupon.design.outline_box().size();
    let (name, wood) = (&job.cutter().name, &job.wood().name);
    let size = [size.x, size.y].map(Mm::new);
    let mut text = String::new();
    writeln!(text, "{}", command_line::coupon(name, job.depth(), wood, size))?;
    writeln!(text, "{}", command_line::CARVE_THE_COUPON)?;
    for ladder in Ladder::ALL {
        let rungs: Vec<String> =
            coupon.rungs.iter().filter(|rung| rung.ladder == ladder).map(Rung::label).collect();
        writeln!(text, "{:<14}{}", ladder.element(), rungs.join("  "))?;
    }
    outputs.write(&args.output, outline_svg(&coupon.design, 1.0).as_bytes())?;
    if let Some(key) = &args.key {
        outputs.write(key, key_svg(&coupon).as_bytes())?;
    }
    print_out(&text)?;
    Ok(ExitCode::SUCCESS)
}
