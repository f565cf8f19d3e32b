//! Numbers that are none, through every option of every command and every field of every saved format: each is refused
//! in a line or taken for what it is, and nothing that is printed or kept is no number.

use crate::cli::program_path;
use crate::hard::numbers;
use crate::support::{job, rectangle};
use clap::{Arg, ArgAction, CommandFactory as _};
use rayon::prelude::*;
use serde_json::{Value, json};
use spelk::cli::Cli;
use spelk::job::{Treatment, saved};
use spelk::shop::{Money, Prices, RackBoard, Shop, open_rack};
use std::collections::BTreeSet;
use std::fs;
use std::path::Path;
use std::process::{Command, Stdio};
use std::time::{Duration, Instant};

/// What is tried for every number that is typed.
const TYPED: [&str; 9] =
    ["NaN", "inf", "-inf", "1e308", "-1e308", "-0", "1e-300", "99999999999999999999", "5e-324"];

/// And for every number of a saved file; JSON has no others.
const SAVED: [f64; 7] = [1e308, -1e308, -0.0, 0.0, -1.0, 1e-300, 5e-324];

/// No command with one odd value takes longer.
const LONGEST: Duration = Duration::from_secs(20);

/// How the value of an option is written that is more than one number; `{}` stands for the odd one.
const WRITTEN: [(&str, &[&str]); 9] = [
    ("board", &["{}x100x19mm", "300x{}x19mm", "300x100x{}"]),
    ("at", &["{},5mm", "5mm,{}"]),
    (
        "blemish",
        &[
            "knot:circle:{},60,25:5",
            "knot:circle:300,60,{}:5",
            "hole:rectangle:1,1,9,9:{}",
            "split:line:0,0,{},9",
        ],
    ),
    ("corners", &["{},9 9,9 9,0 0,0", "0,9 9,9 9,{} 0,0"]),
    ("bridges", &["{}x1.5mm", "6mmx{}"]),
    ("element", &["bar={}"]),
    ("element_depth", &["bar={}"]),
    ("element_cutter", &["bar={}"]),
    ("coupon", &["walls-along={}"]),
];

/// A command with all it must have; FILE, PICTURE and OUT stand for files.
const COMMANDS: [(&str, &[&str]); 12] = [
    ("proof", &["FILE"]),
    ("advise", &["FILE"]),
    ("mend", &["FILE", "-o", "OUT.svg"]),
    ("coupon", &["-o", "OUT.svg"]),
    ("record", &["FILE"]),
    ("rack", &["FILE"]),
    ("letter", &["Inn", "-o", "OUT.svg"]),
    ("trace", &["PICTURE", "-o", "OUT.svg"]),
    ("relief", &["FILE", "-o", "OUT.png"]),
    ("sizes", &["FILE"]),
    ("sheet", &["FILE", "-o", "OUT.pdf"]),
    ("export", &["FILE", "-o", "OUT.svg"]),
];

struct Bench {
    folder: tempfile::TempDir,
}

impl Bench {
    fn new() -> Bench {
        let folder = tempfile::tempdir().unwrap();
        let bar = "<svg xmlns='http://www.w3.org/2000/svg' width='60mm' height='20mm' viewBox='0 0 60 20'>\
                   <path id='bar' d='M5 5H55V15H5Z'/></svg>";
        fs::write(folder.path().join("bar.svg"), bar).unwrap();
        let picture = image::GrayImage::from_fn(40, 30, |x, y| {
            image::Luma([if (5..30).contains(&x) && (5..20).contains(&y) { 0 } else { 255 }])
        });
        picture.save(folder.path().join("bar.png")).unwrap();
        Bench { folder }
    }

    /// What is wrong with how a command took this, if anything.
    fn run(&self, name: &str, needs: &[&str], option: Option<&str>, number: usize) -> Option<String> {
        let at = |file: &str| self.folder.path().join(file).to_str().unwrap().to_owned();
        let mut args = vec![name.to_owned()];
        args.extend(needs.iter().map(|need| match *need {
            "FILE" => at("bar.svg"),
            "PICTURE" => at("bar.png"),
            out if out.starts_with("OUT") => at(&format!("{name}-{number}{}", &out[3..])),
            plain => plain.to_owned(),
        }));
        // A picture must have a size, which may be the option at hand.
        let sizes = ["--length", "--width", "--dpi", "--corners"];
        if name == "trace" && !option.iter().any(|option| sizes.iter().any(|size| option.starts_with(size))) {
            args.push("--length=60mm".to_owned());
        }
        args.extend(option.map(str::to_owned));
        let start = Instant::now();
        let run = Command::new(program_path())
            // An option may name a file to write.
            .current_dir(self.folder.path())
            .env("XDG_CONFIG_HOME", self.folder.path().join(format!("config-{name}-{number}")))
            .args(&args)
            .stdin(Stdio::null())
            .output()
            .unwrap();
        let (out, err) = (String::from_utf8_lossy(&run.stdout), String::from_utf8_lossy(&run.stderr));
        let fault = if start.elapsed() > LONGEST {
            format!("took {:?}", start.elapsed())
        } else if !matches!(run.status.code(), Some(0..=2)) || err.contains("panicked") {
            format!("ended with {:?}: {err}", run.status)
        } else if ["NaN", "inf ", "inf\n", "-inf"].iter().any(|nonsense| out.contains(nonsense)) {
            format!("printed no number: {out}")
        } else if out.lines().chain(err.lines()).any(|line| line.contains(&"0".repeat(40))) {
            format!("printed a number in full: {out}{err}")
        } else if run.status.code() == Some(2) && err.trim().is_empty() {
            "was refused without a word".to_owned()
        } else {
            return None;
        };
        Some(format!("spelk {}: {fault}", args.join(" ")))
    }
}

/// The options of a command that take a value which is not one of a list.
fn options(command: &str) -> Vec<Arg> {
    let cli = Cli::command();
    let command = cli.find_subcommand(command).unwrap();
    let takes = |arg: &&Arg| {
        matches!(arg.get_action(), ArgAction::Set | ArgAction::Append)
            && arg.get_long().is_some()
            && arg.get_possible_values().is_empty()
    };
    command.get_arguments().filter(takes).cloned().collect()
}

/// Every odd value of an option.
fn odd(option: &Arg) -> Vec<String> {
    let long = option.get_long().unwrap();
    let written = WRITTEN.iter().find(|(id, _)| *id == option.get_id().as_str());
    let ways = written.map_or(&["{}"][..], |(_, ways)| ways);
    ways.iter().flat_map(|way| TYPED.map(|value| format!("--{long}={}", way.replace("{}", value)))).collect()
}

/// Commands with options: every one where `all`, else each option in the first command that has it.
fn check(all: bool) {
    for (name, needs) in COMMANDS {
        assert_eq!(Bench::new().run(name, needs, None, 0), None, "it does what it should without");
    }
    let mut seen = BTreeSet::new();
    let mut runs = Vec::new();
    for (name, needs) in COMMANDS {
        for option in options(name) {
            if seen.insert(option.get_id().to_string()) || all {
                runs.extend(odd(&option).into_iter().map(|value| (name, needs, value)));
            }
        }
    }
    assert!(seen.len() > 60, "{seen:?}");
    let bench = Bench::new();
    let faults: Vec<String> = (0..runs.len())
        .into_par_iter()
        .filter_map(|number| {
            let (name, needs, value) = &runs[number];
            bench.run(name, needs, Some(value), number + 1)
        })
        .collect();
    println!("{} options, {} runs", seen.len(), runs.len());
    assert!(faults.is_empty(), "{} of {}:\n{}", faults.len(), runs.len(), faults.join("\n"));
}

#[test]
fn each_option_takes_odd_numbers_for_what_they_are() {
    check(false);
}

#[test]
#[ignore = "takes minutes; the first command with each option is tried in each_option_takes_odd_numbers_for_what_they_are"]
fn each_option_of_each_command_takes_odd_numbers_for_what_they_are() {
    check(true);
}

#[test]
fn each_number_of_the_shop_files_may_be_anything_and_what_is_used_makes_sense() {
    let board = r#"[{"name": "offcut", "price": 4.0, "board": {"length": 300.0, "width": 120.0, "thickness": 19.0, "wood": "cherry_black", "blemishes": [{"kind": "knot", "clearance": 5.0, "shape": {"circle": {"x": 30.0, "y": 60.0, "diameter": 25.0}}}]}}]"#;
    let rack: Vec<RackBoard> = serde_json::from_str(board).unwrap();
    let files: [(&str, Value); 5] = [
        ("cutters.json", json!(spelk::shop::cutters())),
        ("woods.json", json!(&spelk::shop::woods()[..3])),
        ("machines.json", json!(spelk::shop::machines())),
        ("prices.json", json!(Prices::default())),
        ("boards.json", json!(rack)),
    ];
    for (file, whole) in files {
        let mut places = Vec::new();
        numbers(&whole, String::new(), &mut places);
        assert!(!places.is_empty(), "{file}");
        for place in places {
            for value in SAVED {
                let folder = tempfile::tempdir().unwrap();
                let mut changed = whole.clone();
                *changed.pointer_mut(&place).unwrap() = json!(value);
                fs::write(folder.path().join(file), changed.to_string()).unwrap();
                used_makes_sense(folder.path(), &format!("{file}{place} = {value}"));
            }
        }
    }
}

fn used_makes_sense(folder: &Path, what: &str) {
    let (shop, _) = Shop::open(folder, &Money::default());
    assert!(shop.cutters.iter().all(|cutter| cutter.problems().is_empty()), "{what}");
    assert!(shop.woods.iter().all(|wood| wood.problems().is_empty()), "{what}");
    assert!(shop.machines.iter().all(|machine| machine.problems().is_empty()), "{what}");
    assert!(shop.prices.problems().is_empty(), "{what}");
    for board in open_rack(folder).unwrap_or_default() {
        let sides = [board.board.length, board.board.width, board.board.thickness].map(spelk::units::Mm::get);
        assert!(sides.iter().all(|side| *side > 0.0 && *side <= 1e6), "{what}: {sides:?}");
    }
}

#[test]
fn each_number_of_a_saved_job_may_be_anything_and_what_is_proofed_is_finite() {
    let plate = job(Treatment::Sunk, &[("plate", vec![rectangle(0.0, 0.0, 110.0, 40.0)])]);
    let whole: Value = serde_json::from_str(&saved::to_text(&plate)).unwrap();
    let mut places = Vec::new();
    numbers(&whole, String::new(), &mut places);
    assert!(places.len() > 30, "{places:?}");
    let runs: Vec<(String, f64)> =
        places.iter().flat_map(|place| SAVED.map(|odd| (place.clone(), odd))).collect();
    runs.par_iter().for_each(|(place, odd)| {
        let mut changed = whole.clone();
        *changed.pointer_mut(place).unwrap() = json!(odd);
        let Ok(job) = saved::from_text(changed.to_string().as_bytes()) else { return };
        // In words, in JSON and twice: it asserts that each is a number.
        let start = Instant::now();
        crate::mutations::targets::proofed(&job);
        assert!(start.elapsed() < LONGEST, "{place} {odd} took {:?}", start.elapsed());
    });
}
