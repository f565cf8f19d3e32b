//! `spelk list`: what can be chosen.

use super::print_out;
use crate::shop::Shop;
use crate::units::{LengthUnit, trimmed};
use clap::{Args, ValueEnum};
use std::fmt::Write as _;
use std::process::ExitCode;

#[derive(Debug, Args)]
pub(super) struct ListArgs {
    /// What to list
    #[arg(value_enum)]
    what: What,
    /// Print a JSON list with every value, as the config folder's files have it
    #[arg(long)]
    json: bool,
    /// Unit of the lengths shown
    #[arg(long, value_enum, default_value = "mm")]
    unit: super::proof::Unit,
}

#[derive(Clone, Copy, Debug, ValueEnum)]
enum What {
    Woods,
    Cutters,
    Machines,
}

pub(super) fn run(args: &ListArgs) -> anyhow::Result<ExitCode> {
    let (shop, notices) = Shop::of_user();
    super::proof::tell(&notices);
    if args.json {
        let list = match args.what {
            What::Woods => serde_json::to_string_pretty(&shop.woods),
            What::Cutters => serde_json::to_string_pretty(&shop.cutters),
            What::Machines => serde_json::to_string_pretty(&shop.machines),
        };
        print_out(&format!("{}\n", list?))?;
        return Ok(ExitCode::SUCCESS);
    }
    let unit: LengthUnit = args.unit.into();
    let mut text = String::new();
    match args.what {
        What::Woods => {
            writeln!(text, "{:<22} {:<28} {:>8} {:>14}", "id", "wood", "kg/m3", "across, MPa")?;
            for wood in &shop.woods {
                let density =
                    wood.density_at_12().map_or_else(|| "-".to_owned(), |density| trimmed(density, 0));
                let across = wood.tension_across.map_or_else(|| "-".to_owned(), |mpa| trimmed(mpa, 2));
                writeln!(text, "{:<22} {:<28} {:>8} {across:>14}", wood.id, wood.name, density)?;
            }
            writeln!(
                text,
                "\nacross: tension strength across the grain at 12 % moisture; - where none is published"
            )?;
        }
        What::Cutters => {
            writeln!(
                text,
                "{:<16} {:<20} {:>12} {:>14} {:>14}",
                "id", "cutter", "flutes", "wall along", "wall across"
            )?;
            for cutter in &shop.cutters {
                let show = |length| unit.show(length);
                writeln!(
                    text,
                    "{:<16} {:<20} {:>12} {:>14} {:>14}",
                    cutter.id,
                    cutter.name,
                    show(cutter.flute_length),
                    show(cutter.reference.along),
                    show(cutter.reference.across)
                )?;
            }
            writeln!(
                text,
                "\nwall: the thinnest it is trusted with, at the height and in the wood of its reference wall"
            )?;
        }
        What::Machines => {
            writeln!(text, "{:<16} {:<24} {:>16} {:>30}", "id", "machine", "rollers", "largest board")?;
            for machine in &shop.machines {
                let largest = format!(
                    "{} x {} x {}",
                    unit.number(machine.longest),
                    unit.number(machine.widest),
                    unit.show(machine.thickest)
                );
                writeln!(
                    text,
                    "{:<16} {:<24} {:>16} {largest:>30}",
                    machine.id,
                    machine.name,
                    format!("{} + {}", unit.number(machine.infeed_roller), unit.show(machine.outfeed_roller))
                )?;
            }
        }
    }
    print_out(&text)?;
    Ok(ExitCode::SUCCESS)
}
