//! `spelk coupon`: a test piece to find the shop's own limit.

use super::job_args::JobArgs;
use super::{own_shop, print_out, write_file};
use crate::sheet::coupon::{Ladder, Rung, coupon, key_svg};
use crate::sheet::outline::outline_svg;
use clap::Args;
use std::fmt::Write as _;
use std::path::PathBuf;
use std::process::ExitCode;

#[derive(Debug, Args)]
pub(super) struct CouponArgs {
    /// Where to write the outline to carve, at true size
    #[arg(short, long, value_name = "OUT.svg")]
    output: PathBuf,
    /// Also write a key to print, with a number at every rung
    #[arg(long, value_name = "KEY.svg")]
    key: Option<PathBuf>,
    #[command(flatten)]
    job: JobArgs,
}

pub(super) fn run(args: &CouponArgs) -> anyhow::Result<ExitCode> {
    let shop = own_shop(args.job.unit.into());
    let job = args.job.job_without_design(&shop)?;
    let coupon = coupon(&job);
    let size = coupon.design.outline_box().size();
    let mut text = format!(
        "A coupon for {}, {} deep in {}: {:.0} x {:.0} mm, everything stands and the ground is lowered.\n",
        job.cutter.name, job.depth, job.wood.name, size.x, size.y
    );
    text.push_str("Carve it on scrap of that wood, length along the grain, and note the thinnest rung that stayed whole.\n");
    for ladder in
        [Ladder::WallsAlong, Ladder::WallsAcross, Ladder::TipsAlong, Ladder::TipsAcross, Ladder::Grooves]
    {
        let rungs: Vec<String> =
            coupon.rungs.iter().filter(|rung| rung.ladder == ladder).map(Rung::label).collect();
        writeln!(text, "{:<14}{}", ladder.element(), rungs.join("  "))?;
    }
    write_file(&args.output, outline_svg(&coupon.design, 1.0).as_bytes())?;
    if let Some(key) = &args.key {
        write_file(key, key_svg(&coupon).as_bytes())?;
    }
    print_out(&text)?;
    Ok(ExitCode::SUCCESS)
}
