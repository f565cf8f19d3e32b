//! `spelk rack`: which board of the rack takes this design? And what is on it.

use super::job_args::JobArgs;
use super::{UNSOUND, note_aside, note_drawing, own_shop, print_out, rack_boards};
use crate::advice::{Tried, on_boards};
use crate::proof::{Severity, measure, rack::rack, rate};
use crate::relief::NEVER;
use crate::sheet::{json, text};
use crate::shop::{MOST_PRICE, RackBoard, Shop, change_rack, change_rack_file, config_folder};
use crate::units::LengthUnit;
use crate::words::command_line;
use anyhow::{Context as _, bail};
use clap::Args;
use std::path::PathBuf;
use std::process::ExitCode;

#[derive(Debug, Args)]
pub(super) struct RackArgs {
    /// A design (.svg, .dxf) or a saved job (.spelk)
    #[arg(required_unless_present_any = ["job", "add", "remove"])]
    file: Option<PathBuf>,
    /// Put a board on the rack under this name, in place of one that has it. --board gives its size, --wood
    /// its wood, --blemish, --cup and so on what is known of it
    #[arg(long, value_name = "NAME", requires = "board", conflicts_with_all = ["file", "remove"])]
    add: Option<String>,
    /// What that board cost
    #[arg(long, value_name = "MONEY", requires = "add", allow_hyphen_values = true)]
    price: Option<f64>,
    /// Take the board of this name off the rack
    #[arg(long, value_name = "NAME", conflicts_with = "file")]
    remove: Option<String>,
    /// Use the boards of this file instead of the shop's own boards.json
    #[arg(long, value_name = "FILE.json")]
    boards: Option<PathBuf>,
    /// Print one JSON object instead of text
    #[arg(long)]
    json: bool,
    #[command(flatten)]
    job: JobArgs,
}

/// Status 0 where a board takes the design sound or chancy, 1 where none does; 0 where the rack was
/// changed as asked.
pub(super) fn run(args: &RackArgs) -> anyhow::Result<ExitCode> {
    let shop = own_shop(args.job.unit.into());
    if let Some(name) = &args.add {
        args.add(name, &shop)?;
        return Ok(ExitCode::SUCCESS);
    }
    if let Some(name) = &args.remove {
        args.remove(name)?;
        return Ok(ExitCode::SUCCESS);
    }
    let job = args.job.job(args.file.as_deref(), &shop)?;
    note_drawing(&job.design().notices);
    let boards = rack_boards(args.boards.as_deref())?;
    let measured = measure(&job);
    let ratings = rate(&job, &measured);
    let now = Tried::rated(job, measured, ratings);
    let rows = rack(&now.job, &now.measured, &boards, &shop)?;
    let offers = on_boards(&now, &rows, &shop, &NEVER).unwrap_or_default();
    let unit: LengthUnit = args.job.unit.into();
    let money = &shop.prices.money;
    let result = if args.json {
        json::rack_json(&rows, &offers, money, unit)
    } else {
        text::rack_text(&rows, &offers, money, unit)
    };
    print_out(&result)?;
    let good = rows.iter().any(|row| row.takes_it && row.verdict.severity < Severity::Unsound);
    Ok(if good { ExitCode::SUCCESS } else { ExitCode::from(UNSOUND) })
}

impl RackArgs {
    fn add(&self, name: &str, shop: &Shop) -> anyhow::Result<()> {
        let name = name.trim().to_owned();
        if name.is_empty() {
            bail!(command_line::BOARD_WITHOUT_NAME);
        }
        if let Some(price) = self.price
            && !(0.0..=MOST_PRICE).contains(&price)
        {
            bail!(command_line::not_a_price(price));
        }
        let job = self.job.job_without_design(shop)?;
        let (board, wood) = (job.board().clone(), job.wood().id.clone());
        let entry = RackBoard { name, board, wood, price: self.price };
        let said = command_line::put_on_the_rack(&entry.name);
        self.change(|boards| {
            match boards.iter_mut().find(|other| other.name == entry.name) {
                Some(other) => *other = entry,
                None => boards.push(entry),
            }
            Ok(())
        })?;
        print_out(&format!("{said}\n"))
    }

    fn remove(&self, name: &str) -> anyhow::Result<()> {
        self.change(|boards| {
            let Some(index) = boards.iter().position(|board| board.name == name) else {
                let names: Vec<&str> = boards.iter().map(|board| board.name.as_str()).collect();
                bail!(command_line::not_on_the_rack(name, &names));
            };
            boards.remove(index);
            Ok(())
        })?;
        print_out(&format!("{}\n", command_line::taken_off_the_rack(name)))
    }

    /// Changes the boards of `--boards`, or the shop's own.
    fn change(&self, change: impl FnOnce(&mut Vec<RackBoard>) -> anyhow::Result<()>) -> anyhow::Result<()> {
        if let Some(path) = &self.boards {
            return change_rack_file(path, change);
        }
        let folder = config_folder().context(command_line::NO_CONFIG_FOLDER)?;
        let (_, aside) = change_rack(&folder, change)?;
        note_aside(aside.as_ref());
        Ok(())
    }
}
