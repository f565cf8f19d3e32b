use super::{Said, UNITS, compare, say};
use spelk::job::Treatment;
use spelk::units::Mm;
use spelk::whole_file::ReadError;
use spelk::words::command_line;
use std::io::{Error, ErrorKind};
use std::path::Path;

#[test]
fn command_line() {
    let mut said = Said::default();
    let path = Path::new("out.pdf");
    let disk = Error::from(ErrorKind::StorageFull);
    for (commit, window) in [(Some("1a2b3c"), true), (Some("1a2b3c"), false), (None, true), (None, false)] {
        say!(said, command_line::version("0.1.0", commit, window, "linux", "x86_64"));
    }
    say!(said, command_line::said(&"--depth: type a length, for example 89 mm or 3 1/2 in"));
    say!(said, command_line::note("woods.json cannot be read"));
    say!(said, command_line::AFTER_HELP);
    say!(said, command_line::PROOF_EXAMPLE);
    say!(said, command_line::TRACE_EXAMPLE);
    say!(said, command_line::ARRANGE_EXAMPLE);
    say!(said, command_line::NOTHING_LAID);
    say!(said, command_line::counts_and_files(3, 2));
    say!(said, command_line::not_a_count(10_000, 1000));
    say!(said, command_line::NO_WINDOW);
    say!(said, command_line::not_printed(&disk));
    say!(said, command_line::out_of_time(60.0));
    say!(said, command_line::NO_SECONDS);
    say!(said, command_line::not_written(path, &disk.into()));
    say!(said, command_line::not_read(path, &ReadError::NotAFile));
    say!(said, command_line::already_there(path));
    say!(said, command_line::replace(path));
    say!(said, command_line::written_over_input(path));
    say!(said, command_line::written_twice(path));
    say!(said, command_line::NO_DASH);
    say!(said, command_line::STANDARD_INPUT);
    say!(said, command_line::too_many_triangles(Path::new("out.stl")));
    say!(said, command_line::NAME_A_DESIGN);
    say!(said, command_line::one_file_at_a_time(Path::new("/shop/signs")));
    say!(said, command_line::TABLE_OF_A_FOLDER);
    say!(said, command_line::no_drawings_in(Path::new("/shop/signs")));
    say!(said, command_line::no_wood("plastic"));
    say!(said, command_line::no_machine("lathe"));
    say!(said, command_line::no_cutter("--cutter", "chisel"));
    say!(said, command_line::not_a_turn(45));
    say!(said, command_line::not_a_share("--stepover", 100.0, 250.0));
    say!(said, command_line::not_a_bridge("wide"));
    say!(said, command_line::not_a_setting("--element-depth", "letters", "D"));
    say!(said, command_line::no_element("--element", "lettres", &["letters", "rim"]));
    say!(said, command_line::not_a_treatment("engraved"));
    for treatment in [Treatment::Relief, Treatment::Left, Treatment::Pierced] {
        say!(said, command_line::does_nothing("--element-depth", "letters", treatment));
    }
    say!(said, command_line::not_a_place("left"));
    say!(said, command_line::not_a_blemish("knot"));
    say!(said, command_line::not_a_blemish_kind("dent"));
    say!(said, command_line::not_a_shape("knot:star:1,2"));
    say!(said, command_line::not_corners("1,2 3,4"));
    say!(said, command_line::no_such_ending(Path::new("out.doc")));
    say!(said, command_line::no_such_ending_for_a_batch(Path::new("out.doc")));
    say!(said, command_line::NOT_PLANNED);
    say!(said, command_line::pitch_too_fine("0.1um"));
    let mm = Mm::new;
    for unit in UNITS {
        say!(said, command_line::surface(mm(0.2), 48.23, unit));
    }
    say!(
        said,
        command_line::coupon("Flat end, 1/8 in", mm(3.0), "Basswood, American", [mm(120.0), mm(60.0)])
    );
    say!(said, command_line::CARVE_THE_COUPON);
    say!(said, command_line::NAME_THE_WORDS);
    say!(said, command_line::source("ADA Standards (2010), section 703"));
    say!(said, command_line::BOARD_WITHOUT_NAME);
    say!(said, command_line::not_a_price(-3.0));
    say!(said, command_line::put_on_the_rack("oak offcut"));
    say!(said, command_line::taken_off_the_rack("oak offcut"));
    say!(said, command_line::not_on_the_rack("elm", &[]));
    say!(said, command_line::not_on_the_rack("elm", &["oak offcut", "lime"]));
    say!(said, command_line::NO_CONFIG_FOLDER);
    say!(said, command_line::mark_not_used(Path::new("logo.gif"), &"is not a PNG or JPEG picture"));
    say!(said, command_line::not_found("thin_wal"));
    say!(said, command_line::wrote_bench_sheet("Gate sign", path));
    say!(said, command_line::wrote_template("Gate sign", path));
    say!(said, command_line::wrote_handout("Gate sign", path));
    say!(said, command_line::wrote_guide(path));
    say!(said, command_line::wrote_coupon("Flat end, 1/8 in", path));
    say!(said, command_line::no_money("Atlantis"));
    for offers in [0, 1, 5] {
        say!(said, command_line::no_offer(7, offers));
    }
    say!(said, command_line::timings([1.5, 2.0, 30.25, 0.5, 12.0, 40.5, 86.75]));
    said.line("command_line::WOOD_COLUMNS", command_line::WOOD_COLUMNS.join(" | "));
    say!(said, command_line::WOODS_NOTE);
    said.line("command_line::CUTTER_COLUMNS", command_line::CUTTER_COLUMNS.join(" | "));
    say!(said, command_line::CUTTERS_NOTE);
    said.line("command_line::MACHINE_COLUMNS", command_line::MACHINE_COLUMNS.join(" | "));
    said.line("command_line::MONEY_COLUMNS", command_line::MONEY_COLUMNS.join(" | "));
    say!(said, command_line::MONEY_NOTE);
    say!(said, command_line::money_now("$1,234.50"));
    say!(said, command_line::NO_DISPLAY);
    say!(said, command_line::cannot_draw(&"no adapter", &"no context"));
    compare("command_line", &said);
}
