//! `spelk list`: what can be chosen.

use super::{own_shop, print_out};
use crate::shop::MoneyPlace;
use crate::units::{LengthUnit, trimmed};
use crate::words::command_line;
use clap::{Args, ValueEnum};
use std::collections::BTreeMap;
use std::fmt::Write as _;
use std::process::ExitCode;

#[derive(Debug, Args)]
pub(super) struct ListArgs {
    /// What to list
    #[arg(value_enum)]
    what: What,
    /// Print a JSON list with every value, in the form of the files in the config folder
    #[arg(long)]
    json: bool,
    /// Unit of the lengths shown
    #[arg(long, value_enum, default_value = "mm")]
    unit: super::job_args::Unit,
}

#[derive(Clone, Copy, Debug, ValueEnum)]
enum What {
    /// Woods and their published values
    Woods,
    /// Cutters and their sizes
    Cutters,
    /// Carving machines and the boards they take
    Machines,
    /// How each place writes money
    Money,
}

pub(super) fn run(args: &ListArgs) -> anyhow::Result<ExitCode> {
    let shop = own_shop(args.unit.into());
    if args.json {
        let list = match args.what {
            What::Woods => serde_json::to_string_pretty(&shop.woods),
            What::Cutters => serde_json::to_string_pretty(&shop.cutters),
            What::Machines => serde_json::to_string_pretty(&shop.machines),
            What::Money => {
                let places = MoneyPlace::all().iter().map(|place| (&place.tag, &place.money));
                serde_json::to_string_pretty(&places.collect::<BTreeMap<_, _>>())
            }
        };
        print_out(&format!("{}\n", list?))?;
        return Ok(ExitCode::SUCCESS);
    }
    let unit: LengthUnit = args.unit.into();
    let mut text = String::new();
    match args.what {
        What::Woods => {
            let [id, wood, density, across, shapes] = command_line::WOOD_COLUMNS;
            writeln!(text, "{id:<22} {wood:<28} {density:>8} {across:>14} {shapes:>10}")?;
            for wood in &shop.woods {
                let density =
                    wood.density_at_12().map_or_else(|| "-".to_owned(), |density| trimmed(density, 0));
                let across = wood.tension_across.map_or_else(|| "-".to_owned(), |mpa| trimmed(mpa, 2));
                let shapes = wood.shaping.map_or_else(|| "-".to_owned(), |percent| trimmed(percent, 0));
                writeln!(text, "{:<22} {:<28} {:>8} {across:>14} {shapes:>10}", wood.id, wood.name, density)?;
            }
            writeln!(text, "\n{}", command_line::WOODS_NOTE)?;
        }
        What::Cutters => {
            let [id, cutter, flutes, along, across] = command_line::CUTTER_COLUMNS;
            writeln!(text, "{id:<16} {cutter:<20} {flutes:>12} {along:>14} {across:>14}")?;
            for cutter in &shop.cutters {
                let show = |length| unit.show(length);
                writeln!(
                    text,
                    "{:<16} {:<20} {:>12} {:>14} {:>14}",
                    cutter.id,
                    cutter.name,
                    show(cutter.flute_length),
                    show(cutter.reference.along),
                    cutter.reference.across.map_or_else(|| "-".to_owned(), show)
                )?;
            }
            writeln!(text, "\n{}", command_line::CUTTERS_NOTE)?;
        }
        What::Machines => {
            let [id, machine, rollers, largest] = command_line::MACHINE_COLUMNS;
            writeln!(text, "{id:<16} {machine:<24} {rollers:>28} {largest:>42}")?;
            for machine in &shop.machines {
                let largest = unit.show_several([machine.longest, machine.widest, machine.thickest], " x ");
                writeln!(
                    text,
                    "{:<16} {:<24} {:>28} {largest:>42}",
                    machine.id,
                    machine.name,
                    unit.show_several([machine.infeed_roller, machine.outfeed_roller], " + ")
                )?;
            }
        }
        What::Money => {
            let line = |text: &mut String, tag: &str, name: &str, written: &str, cash: &str| {
                writeln!(text, "{tag:<8} {name:<24} {written:>18} {cash:>12}")
            };
            let [tag, place, money, cash] = command_line::MONEY_COLUMNS;
            line(&mut text, tag, place, money, cash)?;
            for MoneyPlace { tag, name, money } in MoneyPlace::all() {
                let cash = if money.cash_step > 0.0 { trimmed(money.cash_step, 3) } else { "-".to_owned() };
                line(&mut text, tag, name, &money.show(1_234_567.5), &cash)?;
            }
            writeln!(text, "\n{}", command_line::MONEY_NOTE)?;
            writeln!(text, "{}", command_line::money_now(&shop.prices.money.show(1234.5)))?;
        }
    }
    print_out(&text)?;
    Ok(ExitCode::SUCCESS)
}
