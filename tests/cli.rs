//! The command line, as a script meets it: standard output, standard error, exit status.

use assert_cmd::Command;
use serde_json::Value;
use spelk::job::Edit;
use std::ffi::OsString;
use std::path::{Path, PathBuf};

/// The program in the repository's root, with an empty config folder so that only built-in things are
/// there.
pub(crate) fn spelk(args: &[&str]) -> Run {
    let config = tempfile::tempdir().unwrap();
    spelk_with(config.path(), args)
}

/// The same with the things of a shop's own in a config folder.
pub(crate) fn spelk_with(config: &Path, args: &[&str]) -> Run {
    spelk_in("C", config, args)
}

/// The program that the tests start: the one built with them, or else the one `SPELK_PROGRAM` names, by which
/// `tests/windows/run` puts the Windows build in its place.
pub(crate) fn program() -> Command {
    Command::new(program_path())
}

/// Where that program is.
pub(crate) fn program_path() -> OsString {
    std::env::var_os("SPELK_PROGRAM").unwrap_or_else(|| env!("CARGO_BIN_EXE_spelk").into())
}

/// The same where the system has this locale.
fn spelk_in(locale: &str, config: &Path, args: &[&str]) -> Run {
    let output = program()
        .current_dir(env!("CARGO_MANIFEST_DIR"))
        .env("XDG_CONFIG_HOME", config)
        .env("LC_ALL", locale)
        // Help is wrapped to the terminal.
        .env("COLUMNS", "100")
        .args(args)
        .output()
        .unwrap();
    Run {
        status: output.status.code().expect("the program was not killed"),
        out: String::from_utf8(output.stdout).unwrap(),
        err: String::from_utf8(output.stderr).unwrap(),
    }
}

/// What came of it.
pub(crate) struct Run {
    pub(crate) status: i32,
    pub(crate) out: String,
    pub(crate) err: String,
}

impl Run {
    fn json(&self) -> Value {
        serde_json::from_str(&self.out).unwrap_or_else(|error| panic!("{error}: {}{}", self.out, self.err))
    }

    /// Refused: status 2, nothing on standard output, one line on standard error that holds `words`.
    pub(crate) fn refused(&self, words: &[&str]) {
        assert_eq!(self.status, 2, "{}{}", self.out, self.err);
        assert_eq!(self.out, "", "nothing but a result goes to standard output");
        assert_eq!(self.err.trim_end().lines().count(), 1, "one line: {}", self.err);
        for word in words {
            assert!(self.err.contains(word), "{word:?} in {:?}", self.err);
        }
    }
}

/// A folder with one design in it.
fn design_file(svg: &str) -> (tempfile::TempDir, PathBuf) {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("piece.svg");
    std::fs::write(&path, svg).unwrap();
    (folder, path)
}

fn text(path: &Path) -> &str {
    path.to_str().unwrap()
}

/// Two blocks joined by a bar 2 mm thick, 110 x 40 mm.
const BAR: &str = r#"<svg xmlns="http://www.w3.org/2000/svg" width="110mm" height="40mm" viewBox="0 0 110 40">
<path id="bar" d="M0 0H40V19H70V0H110V40H70V21H40V40H0Z"/></svg>"#;

#[test]
fn a_proof_as_json() {
    let (_folder, path) = design_file(BAR);
    let run = spelk(&["proof", text(&path), "--json"]);
    insta::assert_snapshot!("proof_json", run.out);
    assert_eq!(run.err, "");
    assert_eq!(run.status, 0);
}

#[test]
fn the_stages_are_timed_when_asked() {
    let (_folder, path) = design_file(BAR);
    let run = spelk(&["proof", text(&path), "--json", "--timings"]);
    let timings = run.json()["timings_ms"].clone();
    let stages = ["read", "clean", "measure", "proof"].map(|stage| timings[stage].as_f64().unwrap());
    let total = timings["total"].as_f64().unwrap();
    assert!(stages.iter().all(|&ms| ms > 0.0), "{timings}");
    assert!(stages.iter().sum::<f64>() <= total + 0.01, "{timings}");
    assert!(run.err.starts_with("spelk: read ") && run.err.trim_end().ends_with(" ms"), "{}", run.err);
    let plain = spelk(&["proof", text(&path), "--timings"]);
    assert_eq!(plain.out, spelk(&["proof", text(&path)]).out, "times are no part of the proof");
    assert_eq!(plain.err.lines().count(), 1);
}

#[test]
fn a_proof_as_text() {
    let (_folder, path) = design_file(BAR);
    let run = spelk(&[
        "proof",
        text(&path),
        "--factor",
        "0.5",
        "--turn",
        "90",
        "--ends",
        "free",
        "--unit",
        "fraction",
    ]);
    insta::assert_snapshot!("proof_text", run.out);
    assert_eq!(run.status, 1);
}

#[test]
fn the_exit_status_tells_the_verdict() {
    let (_folder, path) = design_file(BAR);
    let sound = spelk(&["proof", text(&path), "--json"]);
    assert_eq!((sound.status, sound.json()["verdict"].as_str()), (0, Some("sound")));
    let unsound = spelk(&["proof", text(&path), "--factor", "0.5", "--turn", "90", "--json"]);
    assert_eq!((unsound.status, unsound.json()["verdict"].as_str()), (1, Some("unsound")));
    let chancy = spelk(&["proof", text(&path), "--board", "120x60x19mm", "--ends", "free", "--json"]);
    assert_eq!((chancy.status, chancy.json()["verdict"].as_str()), (1, Some("unsound")));
    let chancy = spelk(&["proof", text(&path), "--board", "210x60x19mm", "--ends", "free", "--json"]);
    assert_eq!((chancy.status, chancy.json()["verdict"].as_str()), (0, Some("chancy")));
    assert_eq!(spelk(&["proof"]).status, 2);
    assert_eq!(spelk(&["carve"]).status, 2);
}

#[test]
fn every_option_is_heard() {
    let (_folder, path) = design_file(BAR);
    let proof = |options: &[&str]| spelk(&[&["proof", text(&path), "--json"], options].concat()).json();
    let board = &proof(&["--board", "20x10x1in"])["board"];
    assert_eq!(board["length_mm"], 508.0);
    assert_eq!(board["thickness_mm"], 25.4);
    assert_eq!(proof(&["--width", "20mm"])["size"]["factor"], 0.5);
    assert_eq!(proof(&["--length", "220"])["size"]["factor"], 2.0);
    assert_eq!(proof(&["--length", "220", "--unit", "in"])["size"]["length_mm"], 5588.0);
    assert_eq!(proof(&["--factor", "1.5"])["size"]["width_mm"], 60.0);
    let fitted = proof(&["--fit"]);
    assert_eq!(fitted["size"]["factor"], fitted["fit"]["largest_factor"]);
    // A long wall is no weaker for standing taller, and white oak pushes back as much harder as it is stronger.
    let along = |options: &[&str]| proof(options)["limits"]["along_mm"].as_f64().unwrap();
    assert!((along(&["--depth", "6mm"]) - along(&["--depth", "3mm"])).abs() < 1e-3);
    let ratio = along(&["--wood", "oak_white"]) / along(&["--wood", "basswood"]);
    assert!((0.95..1.10).contains(&ratio), "{ratio}");
    assert!(along(&["--sawn", "quarter"]) < along(&["--sawn", "flat"]));
    assert!(along(&["--cutter", "flat-1/4in"]) > along(&["--cutter", "flat-1/16in"]));
    // Sunk, the bar is a groove; relief, a wall.
    assert_eq!(proof(&[])["thinnest_wall_mm"], 2.0);
    assert_eq!(proof(&["--treatment", "sunk"])["thinnest_groove_mm"], 2.0);
    assert_eq!(proof(&["--element", "bar=pierced"])["thinnest_groove_mm"], 2.0);
    let at_corner = proof(&["--treatment", "sunk", "--at", "corner", "--ends", "free", "--factor", "0.5"]);
    assert_eq!(at_corner["findings"][0]["x_mm"], 27.5);
    let metric = proof(&["--machine", "compact-metric", "--treatment", "sunk"]);
    assert_eq!(metric["board"]["length_needed_mm"], 270.0);
    assert_eq!(proof(&["--frame", "page"])["size"]["length_mm"], 110.0);
}

#[test]
fn wrong_options_are_refused_in_one_line() {
    let (_folder, path) = design_file(BAR);
    let proof = |options: &[&str]| spelk(&[&["proof", text(&path)], options].concat());
    proof(&["--board", "24x6"]).refused(&["--board", "24x6x0.75in"]);
    proof(&["--wood", "cheese"]).refused(&["--wood", "cheese", "list woods"]);
    proof(&["--cutter", "spoon"]).refused(&["--cutter", "spoon", "list cutters"]);
    proof(&["--machine", "loom"]).refused(&["--machine", "loom", "list machines"]);
    proof(&["--depth", "deep"]).refused(&["--depth", "'deep'"]);
    proof(&["--depth=-3mm"]).refused(&["depth"]);
    proof(&["--element", "leaf=sunk"]).refused(&["leaf", "bar"]);
    proof(&["--element", "bar=melted"]).refused(&["melted", "pierced"]);
    proof(&["--factor", "0"]).refused(&["size"]);
    proof(&["--factor", "nan"]).refused(&["size"]);
    proof(&["--job", "nowhere.spelk"]).refused(&["nowhere.spelk", "cannot be read"]);
}

#[test]
fn bad_files_are_refused_by_name() {
    let folder = tempfile::tempdir().unwrap();
    let refused = |name: &str, bytes: Option<&[u8]>| {
        let path = folder.path().join(name);
        if let Some(bytes) = bytes {
            std::fs::write(&path, bytes).unwrap();
        }
        let before = std::fs::read_dir(folder.path()).unwrap().count();
        spelk(&["proof", text(&path), "--picture", text(&folder.path().join("out.png"))]).refused(&[name]);
        assert_eq!(std::fs::read_dir(folder.path()).unwrap().count(), before, "nothing is written");
    };
    refused("missing.svg", None);
    refused("empty.svg", Some(b""));
    refused("noise.svg", Some(&[0x89, 0x50, 0, 0, 0xff]));
    refused("words.svg", Some(b"not a drawing at all"));
    refused("cut.svg", Some(&BAR.as_bytes()[..150]));
    refused("nothing.svg", Some(b"<svg xmlns='http://www.w3.org/2000/svg' width='9mm' height='9mm'/>"));
    refused("words.spelk", Some(b"not a job"));
    std::fs::create_dir(folder.path().join("folder.svg")).unwrap();
    refused("folder.svg", None);
}

#[test]
fn what_can_be_chosen_is_listed() {
    for (what, id) in [("woods", "basswood_american"), ("cutters", "flat-1/8in"), ("machines", "compact")] {
        let run = spelk(&["list", what]);
        assert_eq!((run.status, run.err.as_str()), (0, ""));
        assert!(run.out.lines().any(|line| line.split_whitespace().next() == Some(id)), "{}", run.out);
    }
    assert_eq!(spelk(&["list", "planets"]).status, 2);
}

#[test]
fn a_shops_own_things_come_from_the_config_folder() {
    let config = tempfile::tempdir().unwrap();
    let folder = config.path().join("spelk");
    std::fs::create_dir(&folder).unwrap();
    let mut cutter = serde_json::to_value(&spelk::shop::cutters()[0]).unwrap();
    cutter["id"] = "ours".into();
    cutter["reference"]["along"] = 4.0.into();
    std::fs::write(folder.join("cutters.json"), serde_json::json!([cutter]).to_string()).unwrap();
    std::fs::write(folder.join("machines.json"), "[{\"id\": 7}]").unwrap();
    let (_folder, path) = design_file(BAR);
    let run = spelk_with(config.path(), &["proof", text(&path), "--cutter", "ours", "--json"]);
    // It stands by itself; a long wall's middle takes sqrt(.261/.855) of that (tests/data/wall/plate.csv).
    let along = run.json()["limits"]["along_mm"].as_f64().unwrap();
    assert!((along / (4.0 * (0.261f64 / 0.855).sqrt()) - 1.0).abs() < 0.01, "{along}");
    let told = run.err;
    assert!(told.contains("machines.json"), "a file that cannot be used is told of: {told}");
}

#[test]
fn the_settings_of_a_saved_job_are_taken_and_overridden() {
    let (folder, path) = design_file(BAR);
    let design = spelk::design::open(&path).unwrap();
    let mut job = spelk::job::Job::new(std::sync::Arc::new(design));
    job.apply(Edit::Size(spelk::job::Size::Factor(0.7))).unwrap();
    job.apply(Edit::TreatAll(spelk::job::Treatment::Sunk)).unwrap();
    let saved = folder.path().join("bar.spelk");
    spelk::job::saved::save(&job, &saved).unwrap();
    let by_itself = spelk(&["proof", text(&saved), "--json"]);
    assert_eq!(by_itself.json()["size"]["factor"], 0.7);
    assert_eq!(spelk(&["proof", "--job", text(&saved), "--json"]).out, by_itself.out);
    assert_eq!(spelk(&["proof", text(&path), "--job", text(&saved), "--json"]).out, by_itself.out);
    let over = spelk(&["proof", text(&saved), "--factor", "1", "--json"]).json();
    assert_eq!(over["size"]["factor"], 1.0);
    assert_eq!(over["thinnest_groove_mm"], 2.0);
}

#[test]
fn a_mended_outline_is_written_and_proofs_sound() {
    let (folder, path) = design_file(BAR);
    let out = folder.path().join("mended.svg");
    let run = spelk(&["mend", text(&path), "--factor", "0.5", "--turn", "90", "-o", text(&out)]);
    assert_eq!(
        (run.status, run.out.as_str(), run.err.as_str()),
        (0, "1 wall was thickened to the limit.\n", "")
    );
    let again = spelk(&["proof", text(&out), "--json"]);
    assert_eq!(again.status, 0, "{}", again.out);
    assert_eq!(again.json()["size"]["length_mm"], 55.0);
    assert!((again.json()["thinnest_wall_mm"].as_f64().unwrap() - 1.4).abs() < 0.06, "{}", again.out);
    let twice = spelk(&["mend", text(&out), "-o", text(&folder.path().join("twice.svg"))]);
    assert_eq!(twice.out, "Nothing needed mending.\n");
    spelk(&["mend", text(&path), "-o", text(&folder.path().join("nowhere/out.svg"))]).refused(&["nowhere"]);
}

#[test]
fn a_coupon_and_its_key_are_written() {
    let folder = tempfile::tempdir().unwrap();
    let (out, key) = (folder.path().join("coupon.svg"), folder.path().join("key.svg"));
    let run = spelk(&["coupon", "-o", text(&out), "--key", text(&key), "--depth", "4mm", "--wood", "cherry"]);
    assert_eq!(run.status, 0, "{}", run.err);
    insta::assert_snapshot!("coupon", run.out);
    // What is written is what is proofed: the rungs under the cutter's own limit are found.
    let proof = spelk(&["proof", text(&out), "--depth", "4mm", "--wood", "cherry", "--json"]).json();
    let walls = |proof: &Value| {
        let findings = proof["findings"].as_array().unwrap();
        findings.iter().filter(|finding| finding["kind"] == "thin_wall").count()
    };
    let rungs = proof["walls"].as_array().unwrap();
    let thin = rungs.iter().filter(|wall| wall["width_mm"].as_f64() < wall["limit_mm"].as_f64()).count();
    // Four ladders, along and across, free and tied: each has rungs on either side of the limit.
    assert!(walls(&proof) > 16 && walls(&proof) <= thin && thin < rungs.len(), "{proof}");
    // The key is a drawing of the same size and ten millimetres more all round.
    let length = |path: &Path| spelk::design::open(path).unwrap().page.unwrap().size().x;
    assert!((length(&key) - length(&out) - 20.0).abs() < 1e-3, "margins");
}

#[test]
fn lists_are_also_given_as_json() {
    for what in ["woods", "cutters", "machines"] {
        let list = spelk(&["list", what, "--json"]).json();
        assert!(list.as_array().unwrap().len() >= 2, "{what}");
    }
    let woods = spelk(&["list", "woods", "--json"]).json();
    let maple = woods.as_array().unwrap().iter().find(|wood| wood["species_id"] == "maple_sugar").unwrap();
    assert_eq!(maple["tension_perpendicular_mpa"], Value::Null, "not published stays blank");
}

#[test]
fn a_design_is_turned_placed_and_kept_clear_of_blemishes() {
    let (folder, path) = design_file(BAR);
    let run = |options: &[&str]| {
        spelk(&[&["proof", text(&path), "--json", "--treatment", "sunk"], options].concat())
    };
    let proof = |options: &[&str]| run(options).json();
    let turned = proof(&["--turn", "90"]);
    assert_eq!(turned["placement"]["turn_degrees"], 90);
    assert_eq!(turned["size"]["length_mm"], 40.0);
    assert_eq!(turned["design"]["length_mm"], 110.0);
    assert_eq!(proof(&["--turn", "-90"])["placement"]["turn_degrees"], 270);
    let typed = proof(&["--at", "4in,20", "--ends", "free"]);
    assert_eq!(typed["placement"]["x_mm"], 101.6);
    assert_eq!(typed["placement"]["y_mm"], 20.0);
    let corner = proof(&["--at", "upper-right", "--board", "400x100x19mm", "--margin", "5mm"]);
    assert_eq!(corner["placement"]["x_mm"], 207.45); // 400 - 82.55 - 110
    assert_eq!(corner["placement"]["y_mm"], 100.0 - 5.0 - 40.0);
    assert_eq!(proof(&["--at", "1,1"])["fit"]["outcome"], "misplaced");
    // A knot in the middle of the board: found, and then kept clear of.
    let board = ["--board", "500x60x19mm", "--blemish", "knot:circle:250,30,20:5"];
    let kinds = |proof: &Value| -> Vec<String> {
        proof["findings"].as_array().unwrap().iter().map(|f| f["kind"].as_str().unwrap().to_owned()).collect()
    };
    assert!(kinds(&proof(&board)).contains(&"blemish".to_owned()), "it lies in the middle");
    let found = run(&[&board[..], &["--find", "--factor", "1"]].concat());
    assert_eq!(found.err, "", "a place was found");
    assert!(!kinds(&found.json()).contains(&"blemish".to_owned()), "it lies beside it");
    assert_eq!(found.json()["size"]["factor"], 1.0);
    // The largest: from the allowance to 15 mm short of the knot's middle, 152.45 mm of 110.
    let largest = proof(&[&board[..], &["--find"]].concat());
    let factor = largest["size"]["factor"].as_f64().unwrap();
    assert!(factor <= 152.45 / 110.0 && factor > 151.35 / 110.0, "{factor}");
    let none = run(&[&board[..], &["--find", "--factor", "2"]].concat());
    assert!(none.err.contains("no place") && none.err.contains('%'), "{}", none.err);
    // Stock and carrier.
    let checked =
        proof(&["--twist", "9", "--moisture", "20", "--planed", "both", "--blemish", "wane:line:0,2,80,2"]);
    assert!(kinds(&checked).iter().filter(|kind| *kind == "warp").count() == 2, "{checked}");
    assert!(!kinds(&checked).contains(&"sensing_strip".to_owned()), "the built-in machines have no sensor");
    // A machine of the shop's own has one.
    let config = tempfile::tempdir().unwrap();
    std::fs::create_dir(config.path().join("spelk")).unwrap();
    let mut machine = serde_json::to_value(spelk::shop::Machine::find("compact").unwrap()).unwrap();
    (machine["id"], machine["sensing_edge"]) = ("sensing".into(), "reference".into());
    let machines = serde_json::json!([machine]).to_string();
    std::fs::write(config.path().join("spelk/machines.json"), machines).unwrap();
    let wane = ["--machine", "sensing", "--blemish", "wane:line:0,2,80,2"];
    let sensed = spelk_with(config.path(), &[&["proof", text(&path), "--json"], &wane[..]].concat());
    assert!(kinds(&sensed.json()).contains(&"sensing_strip".to_owned()), "{}{}", sensed.out, sensed.err);
    let twist = checked["stock"].as_array().unwrap().iter().find(|row| row["check"] == "twist").unwrap();
    assert_eq!(twist["measured_mm"], 9.0);
    let cup = checked["stock"].as_array().unwrap().iter().find(|row| row["check"] == "cup").unwrap();
    assert_eq!(cup["depth_error_mm"], Value::Null, "not measured is not an error of nothing");
    let drawn = folder.path().join("carrier.svg");
    let small = proof(&["--board", "120x60x19mm", "--ends", "free", "--carrier", text(&drawn)]);
    assert_eq!(small["carrier"]["needed"], true);
    let told = spelk(&["proof", text(&path), "--board", "120x60x19mm", "--ends", "free"]).out;
    assert!(told.lines().any(|line| line.starts_with("carrier") && line.contains("shorter")), "{told}");
    let svg = std::fs::read_to_string(&drawn).unwrap();
    let pocket = svg.lines().find(|line| line.contains(r#"id="pocket""#)).unwrap();
    // At true size: 122 mm of pocket behind 82.55 mm of stop and 12 mm of margin.
    assert!(pocket.contains("M94.55 ") && pocket.contains("H216.55"), "{pocket}");
    for (options, words) in [
        (&["--turn", "45"][..], &["--turn", "45"][..]),
        (&["--at", "somewhere"], &["--at", "somewhere"]),
        (&["--at", "1,wide"], &["--at", "wide"]),
        (&["--blemish", "knot:300,60"], &["--blemish", "knot:300,60"]),
        (&["--blemish", "moon:circle:1,2,3"], &["moon", "knot"]),
        (&["--blemish", "knot:circle:1,2"], &["circle:X,Y,DIAMETER"]),
        (&["--blemish", "knot:circle:1,2,-3"], &["size of a blemish"]),
        (&["--cup=-1"], &["warp"]),
        (&["--moisture", "400"], &["moisture"]),
    ] {
        run(options).refused(words);
    }
}

#[test]
fn the_rack_is_asked() {
    let (folder, path) = design_file(BAR);
    let boards = folder.path().join("boards.json");
    let board = |name: &str, length: f64| {
        serde_json::json!({
            "name": name, "price": 4.5,
            "board": { "length": length, "width": 90.0, "thickness": 19.0, "wood": "basswood_american" }
        })
    };
    let list = serde_json::json!([board("long", 900.0), board("right", 300.0), board("short", 200.0)]);
    std::fs::write(&boards, list.to_string()).unwrap();
    let run = spelk(&["rack", text(&path), "--boards", text(&boards), "--json"]);
    assert_eq!((run.status, run.err.as_str()), (0, ""));
    let rows = run.json()["boards"].clone();
    let names: Vec<&str> = rows.as_array().unwrap().iter().map(|row| row["name"].as_str().unwrap()).collect();
    assert_eq!(names, ["right", "long", "short"]);
    assert_eq!(rows[0]["cost"], 4.5);
    assert_eq!(rows[2]["takes_it"], false);
    let told = spelk(&["rack", text(&path), "--boards", text(&boards)]);
    assert!(told.out.lines().nth(1).unwrap().starts_with("right"), "{}", told.out);
    let none = spelk(&["rack", text(&path), "--boards", text(&boards), "--width", "200mm"]);
    assert_eq!(none.status, 1, "no board takes that");
    let empty = spelk(&["rack", text(&path)]);
    assert!(empty.out.contains("no board on the rack"), "{}", empty.out);
    std::fs::write(&boards, "{}").unwrap();
    spelk(&["rack", text(&path), "--boards", text(&boards)]).refused(&["boards.json"]);
}

#[test]
fn boards_are_put_on_the_rack_and_taken_off() {
    let folder = tempfile::tempdir().unwrap();
    let boards = folder.path().join("mine").join("boards.json");
    let add = |name: &str, more: &[&str]| {
        let start = ["rack", "--boards", text(&boards), "--add", name];
        spelk(&[&start[..], more].concat())
    };
    let cherry = [
        "--board",
        "30x6x0.75in",
        "--wood",
        "cherry",
        "--price",
        "12.5",
        "--blemish",
        "knot:circle:3in,2in,1in",
    ];
    let run = add("cherry 30", &cherry);
    assert_eq!((run.status, run.out.as_str()), (0, "put cherry 30 on the rack\n"), "{}", run.err);
    assert_eq!(add("short", &["--board", "300x90x18mm"]).status, 0);
    let kept = spelk::shop::open_rack_file(&boards).unwrap();
    assert_eq!(kept.len(), 2);
    assert_eq!((kept[0].name.as_str(), kept[0].price), ("cherry 30", Some(12.5)));
    assert!(kept[0].wood.contains("cherry"), "{}", kept[0].wood);
    assert!((kept[0].board.length.get() - 762.0).abs() < 1e-9, "{}", kept[0].board.length);
    assert_eq!(kept[0].board.blemishes.len(), 1);
    // The same name is the same board.
    assert_eq!(add("short", &["--board", "400x90x18mm"]).status, 0);
    let kept = spelk::shop::open_rack_file(&boards).unwrap();
    assert_eq!((kept.len(), kept[1].board.length.get()), (2, 400.0));
    assert_eq!(spelk(&["rack", "--boards", text(&boards), "--remove", "short"]).status, 0);
    assert_eq!(spelk::shop::open_rack_file(&boards).unwrap().len(), 1);
    spelk(&["rack", "--boards", text(&boards), "--remove", "short"]).refused(&["'short'", "cherry 30"]);
    add("bad", &["--board", "30x6x0.75in", "--price", "-1"]).refused(&["--price"]);
}

#[test]
fn a_photograph_lies_under_the_design_in_the_picture() {
    let folder = tempfile::tempdir().unwrap();
    let (photo, page) = (folder.path().join("board.png"), folder.path().join("page.png"));
    image::RgbaImage::from_pixel(400, 200, image::Rgba([20, 40, 230, 255])).save(&photo).unwrap();
    let sample = "sample-designs/gate-sign.svg";
    let draw = |corners: &str| {
        let photo = ["--photo", text(&photo), "--corners", corners];
        spelk(&[&["proof", sample, "--picture", text(&page), "--force"][..], &photo].concat())
    };
    let run = draw("10,190 390,190 390,10 10,10");
    assert!(run.status < 2, "{}", run.err);
    let drawn = image::open(&page).unwrap().into_rgba8();
    let blue = drawn.pixels().filter(|p| p[2] > 150 && p[0] < 90).count();
    assert!(blue > 5000, "the photograph is not to be seen: {blue}");
    draw("10,190 390,190 390,10").refused(&["--corners", "four corners"]);
    draw("0,0 10,0 20,0 30,0").refused(&["--corners", "line"]);
    std::fs::write(&photo, "no picture").unwrap();
    let run = draw("10,190 390,190 390,10 10,10");
    assert!(run.status < 2 && run.err.contains("the picture shows drawn wood instead"), "{}", run.err);
}

#[test]
fn words_become_a_drawing() {
    let folder = tempfile::tempdir().unwrap();
    let out = folder.path().join("words.svg");
    let run = spelk(&["letter", "HHH\\nH", "--cap-height", "2in", "--font", "Hack", "-o", text(&out)]);
    assert_eq!((run.status, run.out.as_str()), (0, ""), "{}", run.err);
    // Two lines of flat capitals, from baseline to baseline one and a half times as far as they are tall.
    let proof = spelk(&["proof", text(&out), "--json"]);
    let width = proof.json()["design"]["width_mm"].as_f64().unwrap();
    assert!((width - 50.8 * 2.5).abs() < 0.01, "{width}");

    let tactile = spelk(&["letter", "Way out", "--tactile", "--font", "Hack"]);
    assert!(tactile.out.contains("2010 ADA Standards"), "{}", tactile.out);
    assert!(
        tactile.out.starts_with("fails        Letters that are not capitals: 5 (0; 703.2.2)"),
        "{}",
        tactile.out
    );
    assert!(spelk(&["letter", "--fonts"]).out.lines().any(|name| name == "Ubuntu Light"));
    let out = folder.path().join("refused.svg");
    spelk(&["letter", "x", "-o", text(&out), "--font", "No Such Face"]).refused(&["No Such Face"]);
    spelk(&["letter", "x", "-o", text(&out), "--cap-height", "tall"]).refused(&["--cap-height", "'tall'"]);
    spelk(&["letter", "long words", "-o", text(&out), "--arc", "-3mm"]).refused(&["radius 3 mm"]);
}

#[test]
fn what_a_file_leaves_open_can_be_said() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("line.dxf");
    let pairs = "0 SECTION 2 ENTITIES 0 LINE 8 edge 10 0 20 0 11 100 21 0 0 ENDSEC 0 EOF";
    std::fs::write(&path, pairs.replace(' ', "\n")).unwrap();
    spelk(&["proof", text(&path)]).refused(&["line.dxf", "no outline in it closes"]);
    let width = |options: &[&str]| {
        let run = spelk(
            &[&["proof", text(&path), "--json", "--open-as-strokes", "3mm", "--clean"], options].concat(),
        );
        run.json()["design"]["length_mm"].as_f64().unwrap()
    };
    assert!((width(&[]) - 103.0).abs() < 0.02);
    assert!((width(&["--drawing-unit", "pt"]) - (100.0 * 25.4 / 72.0 + 3.0)).abs() < 0.02);
    spelk(&["proof", text(&path), "--join", "wide"]).refused(&["--join", "'wide'"]);
}

#[test]
fn the_manual_and_the_completions_name_every_command() {
    let help = spelk(&["--help"]);
    let commands: Vec<&str> = help
        .out
        .lines()
        .skip_while(|line| *line != "Commands:")
        .skip(1)
        .take_while(|line| !line.is_empty())
        .filter_map(|line| line.split_whitespace().next().filter(|_| line.starts_with("  ")))
        .collect();
    assert!(commands.len() >= 7, "{commands:?}");
    let manual = spelk(&["manual"]);
    assert_eq!(manual.status, 0, "{}", manual.err);
    assert!(manual.out.contains(".TH spelk 1"), "no title line");
    let bash = spelk(&["completions", "bash"]);
    assert!(bash.out.contains("_spelk"), "no function");
    for command in commands {
        if command != "help" {
            let section = format!(".SH \"SPELK {}\"", command.to_uppercase());
            assert!(manual.out.contains(&section), "{command} is not in the manual");
        }
        assert!(bash.out.contains(command), "{command} is not completed");
    }
    assert_eq!(spelk(&["completions", "teletype"]).status, 2);
}

#[test]
fn the_version_says_what_it_was_built_from() {
    let version = spelk(&["--version"]).out;
    assert!(version.starts_with(&format!("spelk {} (commit ", env!("CARGO_PKG_VERSION"))), "{version}");
}

#[test]
fn money_is_as_the_system_has_it_until_it_is_said() {
    let config = tempfile::tempdir().unwrap();
    let sizes = |locale: &str, more: &[&str]| {
        let args = ["sizes", "sample-designs/gate-sign.svg", "--sizes", "drawn"];
        spelk_in(locale, config.path(), &[&args, more].concat())
    };
    let price = |run: &Run| {
        run.out.lines().find(|line| line.trim_start().starts_with("price ")).unwrap_or(&run.out).to_owned()
    };
    assert!(price(&sizes("C", &[])).contains('$'));
    assert!(price(&sizes("de_DE.UTF-8", &[])).contains("\u{a0}\u{20ac}"));
    assert!(price(&sizes("de_DE.UTF-8", &["--money", "ja-JP"])).contains('\u{a5}'));
    let swiss = sizes("C", &["--money", "de_CH", "--json"]).json();
    assert_eq!(swiss["currency"], "CHF");
    let paid = swiss["sizes"][0]["price"].as_f64().unwrap();
    assert!((paid * 20.0 - (paid * 20.0).round()).abs() < 1e-6, "{paid}");
    sizes("C", &["--money", "nowhere"]).refused(&["--money", "spelk list money"]);
    sizes("C", &["--cash-step=-1"]).refused(&["--cash-step"]);
    assert!(spelk(&["list", "money"]).out.contains("CHF\u{a0}1\u{2019}234\u{2019}567.50"));
}

#[cfg(unix)]
#[test]
fn the_installer_puts_everything_in_its_place_and_the_menu_finds_it() {
    let folder = tempfile::tempdir().unwrap();
    // What the portable tar holds, with a stand-in for the program.
    let (from, packaging) =
        (folder.path().join("spelk"), format!("{}/packaging", env!("CARGO_MANIFEST_DIR")));
    for part in ["completions", "docs/figures", "icons", "licences"] {
        std::fs::create_dir_all(from.join(part)).unwrap();
    }
    for name in ["install.sh", "spelk.desktop", "spelk-mime.xml", "spelk.svg"] {
        std::fs::copy(format!("{packaging}/{name}"), from.join(name)).unwrap();
    }
    let root = env!("CARGO_MANIFEST_DIR");
    for text in ["LICENSE-MIT", "LICENSE-APACHE", "README.md", "CHANGELOG.md"] {
        std::fs::copy(format!("{root}/{text}"), from.join(text)).unwrap();
    }
    for (part, whole) in [
        ("docs", format!("{root}/docs")),
        ("docs/figures", format!("{root}/docs/figures")),
        ("icons", format!("{packaging}/icons")),
        ("licences", format!("{packaging}/licences")),
    ] {
        for file in std::fs::read_dir(whole).unwrap() {
            let file = file.unwrap();
            if file.file_type().unwrap().is_dir() {
                continue;
            }
            std::fs::copy(file.path(), from.join(part).join(file.file_name())).unwrap();
        }
    }
    for made in ["spelk", "spelk.1", "completions/spelk.bash", "completions/_spelk", "completions/spelk.fish"]
    {
        std::fs::write(from.join(made), made).unwrap();
    }
    // A place with what a shell and a pattern would trip over.
    let to = folder.path().join("my tools & more");
    let run = std::process::Command::new("sh").arg(from.join("install.sh")).arg(&to).output().unwrap();
    assert!(run.status.success(), "{}", String::from_utf8_lossy(&run.stderr));
    for file in [
        "bin/spelk",
        "share/man/man1/spelk.1",
        "share/mime/packages/spelk.xml",
        "share/icons/hicolor/48x48/apps/spelk.png",
        "share/bash-completion/completions/spelk",
        "share/doc/spelk/docs/the-limit.md",
        "share/doc/spelk/licences/hack.txt",
        "share/doc/spelk/LICENSE-MIT",
    ] {
        assert!(to.join(file).exists(), "{file}");
    }
    let entry = std::fs::read_to_string(to.join("share/applications/spelk.desktop")).unwrap();
    let program = std::fs::canonicalize(to.join("bin/spelk")).unwrap();
    let expected = format!("Exec=\"{}\" %F", program.display());
    assert!(entry.lines().any(|line| line == expected), "{entry}");
}

/// A folder is proofed file by file: what lies in it besides is passed over, what cannot be read has a line too, and a
/// carver sees at once which of the drawings are sound.
#[test]
fn a_folder_of_drawings() {
    let folder = tempfile::tempdir().unwrap();
    let inside = folder.path();
    for name in ["gate-sign.svg", "inn-sign.svg"] {
        std::fs::copy(Path::new("sample-designs").join(name), inside.join(name)).unwrap();
    }
    std::fs::write(inside.join("broken.svg"), "<svg").unwrap();
    std::fs::write(inside.join("notes.txt"), "not a drawing").unwrap();
    std::fs::create_dir(inside.join("older")).unwrap();
    let path = inside.to_str().unwrap();
    let run = spelk(&["proof", path]);
    assert_eq!(run.status, 1, "{}", run.err);
    let lines: Vec<&str> = run.out.lines().collect();
    assert!(lines[0].starts_with("broken.svg") && lines[0].contains("Not proofed: "), "{}", run.out);
    assert!(lines[1].starts_with("gate-sign.svg") && lines[1].contains("Sound: "), "{}", run.out);
    assert!(lines[2].starts_with("inn-sign.svg") && lines[2].contains("Unsound: "), "{}", run.out);
    assert!(lines[3].trim().starts_with("Thicken 9 walls in the drawing"), "{}", run.out);
    assert_eq!(*lines.last().unwrap(), "3 files: 1 sound, 0 chancy, 1 unsound, 1 not read.");

    let json = spelk(&["proof", path, "--json"]).json();
    assert_eq!(json["format"], "spelk.folder");
    let files = json["files"].as_array().unwrap();
    let verdicts: Vec<Option<&str>> = files.iter().map(|file| file["verdict"].as_str()).collect();
    assert_eq!(verdicts, [None, Some("sound"), Some("unsound")]);
    // The same answer as for the file by itself.
    let alone = spelk(&["proof", inside.join("inn-sign.svg").to_str().unwrap(), "--json"]).json();
    assert_eq!(json["files"][2]["would_help"], alone["offers"][0]["message"]);

    // Each row has its wall and its time, as the file by itself has.
    let (minutes, seconds) = (json["files"][2]["minutes"].as_f64(), alone["time"]["total_s"].as_f64());
    assert!((minutes.unwrap() - seconds.unwrap() / 60.0).abs() < 0.01, "{minutes:?}, {seconds:?}");
    assert!(json["files"][2]["wall_mm"].as_f64() < json["files"][2]["wall_limit_mm"].as_f64());

    let table = inside.join("table.pdf");
    let run = spelk(&["proof", path, "--table", table.to_str().unwrap()]);
    assert_eq!(run.status, 1, "{}", run.err);
    let bytes = std::fs::read(&table).unwrap();
    assert!(bytes.starts_with(b"%PDF"));
    // Not over what is there, and never over one of the drawings.
    spelk(&["proof", path, "--table", table.to_str().unwrap()]).refused(&["table.pdf", "--force"]);
    let drawing = inside.join("gate-sign.svg");
    spelk(&["proof", path, "--force", "--table", drawing.to_str().unwrap()]).refused(&["gate-sign.svg"]);
    assert!(std::fs::read(&drawing).unwrap().starts_with(b"<"));

    spelk(&["proof", path, "--picture", "never.png"]).refused(&["--picture", "one drawing"]);
    spelk(&["proof", drawing.to_str().unwrap(), "--table", "never.pdf"]).refused(&["--table", "folder"]);
    spelk(&["proof", inside.join("older").to_str().unwrap()]).refused(&["no .svg", "older"]);
}
