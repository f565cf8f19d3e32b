//! What the command line prints beside the sheets: what it wrote, and what it refused and why. An option is
//! named as it is typed.

use super::errors::{disk, number};
use crate::job::Treatment;
use crate::units::{LengthUnit, Mm, trimmed};
use crate::whole_file::{ReadError, WriteError};
use std::fmt::Display;
use std::io;
use std::path::Path;

/// The version, what it was built from, and for what system.
pub fn version(number: &str, commit: Option<&str>, window: bool, system: &str, processor: &str) -> String {
    match (commit, window) {
        (Some(commit), true) => format!("{number} (commit {commit}, {system} {processor})"),
        (Some(commit), false) => {
            format!("{number} (commit {commit}, without the window, {system} {processor})")
        }
        (None, true) => format!("{number} (commit unknown, {system} {processor})"),
        (None, false) => format!("{number} (commit unknown, without the window, {system} {processor})"),
    }
}

/// A line on standard error: why nothing was done, or how long it took.
pub fn said(what: &dyn Display) -> String {
    format!("spelk: {what}")
}

/// A line on standard error about what was used all the same.
pub fn note(note: &str) -> String {
    format!("spelk: note: {note}")
}

/// Under the help of the program.
pub const AFTER_HELP: &str = "Without a command, Spelk opens its window.\n\nExit status: 0 the design is sound or chancy, 1 it is unsound, 2 Spelk could not do what you asked.";

/// An example under the help of `spelk proof`.
pub const PROOF_EXAMPLE: &str =
    "Example: spelk proof sign.svg --board 24x6x0.75in --wood basswood --cutter flat-1/8in --fit";

/// An example under the help of `spelk trace`.
pub const TRACE_EXAMPLE: &str = "Example: spelk trace logo.png -o logo.svg --length 300mm";

/// An example under the help of `spelk arrange`.
pub const ARRANGE_EXAMPLE: &str =
    "Example: spelk arrange coaster.svg --board 1200x180x20mm --turns half -o batch.spelk";

/// Counts for some files and not for others.
pub fn counts_and_files(counts: usize, files: usize) -> String {
    format!("--count: {counts} numbers for {files} files; give one number for all, or one for each")
}

/// So many copies are none, or too many.
pub fn not_a_count(count: usize, most: usize) -> String {
    format!("--count: {count} is not a number from 1 to {most}; lay more on several boards")
}

/// A surface is asked for of a board that bears no piece.
pub const NOTHING_LAID: &str = "no piece lies on the board; arrange them first";

/// A window was asked for, and this build has none.
pub const NO_WINDOW: &str = "this build has no window; spelk --help shows its commands";

/// A file cannot be written.
pub fn not_written(path: &Path, error: &WriteError) -> String {
    format!("{} cannot be written ({error})", path.display())
}

/// A file cannot be read.
pub fn not_read(path: &Path, error: &ReadError) -> String {
    format!("{} cannot be read ({error})", path.display())
}

/// The time that was given is over.
pub fn out_of_time(seconds: f64) -> String {
    format!(
        "stopped after {} s, as --time-limit says; allow more, or give a simpler drawing",
        trimmed(seconds, 3)
    )
}

/// What is no number of seconds.
pub const NO_SECONDS: &str = "--time-limit: type a number of seconds over 0, for example 60";

/// Standard output takes no more.
pub fn not_printed(error: &io::Error) -> String {
    format!("the result cannot be printed ({})", disk(error))
}

/// An output is there already.
pub fn already_there(path: &Path) -> String {
    format!("{} is already there; name another file, or add --force to replace it", path.display())
}

/// On a terminal, before an output replaces a file.
pub fn replace(path: &Path) -> String {
    format!("{} is already there. Replace it? [y/N] ", path.display())
}

/// An output would replace what the command reads.
pub fn written_over_input(path: &Path) -> String {
    format!("{} is what this command reads; write to another file", path.display())
}

/// Two outputs go to one file.
pub fn written_twice(path: &Path) -> String {
    format!("{} is named for two results; name a file for each", path.display())
}

/// What a drawing is called, before what is wrong with it, that came by standard input.
pub const STANDARD_INPUT: &str = "standard input";

/// An output goes by the name that means standard output elsewhere.
pub const NO_DASH: &str = "write to a file, not to -; for a file of that name write ./-";

/// The surface has too many triangles for its file.
pub fn too_many_triangles(path: &Path) -> String {
    format!("{} would hold more triangles than STL allows; take a larger --pitch", path.display())
}

/// Options that are about one drawing, and a folder of several.
pub fn one_file_at_a_time(folder: &Path) -> String {
    format!(
        "{} is a folder, and --picture, --carrier, --timings and --all-walls are about one drawing: name a file in it, or use --table",
        folder.display()
    )
}

/// A table is of a folder, and a file was named.
pub const TABLE_OF_A_FOLDER: &str =
    "--table is a table of the drawings in a folder: name the folder, or use --picture";

/// A folder without anything to proof.
pub fn no_drawings_in(folder: &Path) -> String {
    format!("{}: there is no .svg, .svgz, .dxf or .spelk file in this folder", folder.display())
}

/// No design was named.
pub const NAME_A_DESIGN: &str = "name a design (.svg, .dxf) or a saved job (.spelk)";

/// No wood has this id.
pub fn no_wood(id: &str) -> String {
    format!("--wood: there is no wood '{id}'; spelk list woods shows them all")
}

/// No machine has this id.
pub fn no_machine(id: &str) -> String {
    format!("--machine: there is no machine '{id}'; spelk list machines shows them all")
}

/// No cutter has this id.
pub fn no_cutter(option: &str, id: &str) -> String {
    format!("{option}: there is no cutter '{id}'; spelk list cutters shows them all")
}

/// A turn that is no quarter.
pub fn not_a_turn(degrees: i32) -> String {
    format!("--turn: {degrees} is not 0, 90, 180 or 270")
}

/// A share, per cent, is out of range.
pub fn not_a_share(option: &str, most: f64, given: f64) -> String {
    format!("{option}: it must be over 0 and up to {most} %, not {}", number(given))
}

/// Bridges that do not read.
pub fn not_a_bridge(text: &str) -> String {
    format!("--bridge: '{text}' is not LxH, as in 6mmx1.5mm, or 0")
}

/// A setting of an element that is not `NAME=VALUE`.
pub fn not_a_setting(option: &str, setting: &str, value: &str) -> String {
    format!("{option}: '{setting}' is not NAME={value}")
}

/// The design has no element of this name.
pub fn no_element(option: &str, name: &str, elements: &[&str]) -> String {
    format!("{option}: the design has no element '{name}'; it has {}", elements.join(", "))
}

/// A treatment that does not read.
pub fn not_a_treatment(text: &str) -> String {
    format!("--element: '{text}' is not a treatment; use relief, sunk, incised, pierced or left")
}

/// A depth or cutter of an element's own has no effect.
pub fn does_nothing(option: &str, element: &str, treatment: Treatment) -> String {
    match treatment {
        Treatment::Relief => format!(
            "{option} does nothing for '{element}': it stands, and the ground around it follows --depth and --cutter"
        ),
        Treatment::Left => format!("{option} does nothing for '{element}': it is not carved"),
        Treatment::Pierced | Treatment::Sunk | Treatment::Incised => {
            format!("{option} does nothing for '{element}': it is cut through the board")
        }
    }
}

/// A place that does not read.
pub fn not_a_place(text: &str) -> String {
    format!("'{text}' is not a place; use middle, lower-left, lower-right, upper-left, upper-right or X,Y")
}

/// A blemish that does not read.
pub fn not_a_blemish(text: &str) -> String {
    format!("'{text}' is not KIND:SHAPE:NUMBERS, as in knot:circle:300,60,25")
}

/// A kind of blemish that does not read.
pub fn not_a_blemish_kind(text: &str) -> String {
    format!("'{text}' is not a blemish; use knot, split, hole, wane or old-carving")
}

/// A shape of a blemish that does not read.
pub fn not_a_shape(text: &str) -> String {
    format!("'{text}' is not a shape; use circle:X,Y,DIAMETER, rectangle:X,Y,LENGTH,WIDTH or line:X,Y,X,Y")
}

/// Corners that do not read.
pub fn not_corners(text: &str) -> String {
    format!("'{text}' is not four corners, as in \"80,620 1900,600 1880,90 95,110\"")
}

/// An ending that says nothing.
pub fn no_such_ending(path: &Path) -> String {
    format!("{} has no ending that can be written; use .svg, .dxf, .png, .json, .csv or .stl", path.display())
}

/// The same where the job can be written too.
pub fn no_such_ending_for_a_batch(path: &Path) -> String {
    format!(
        "{} has no ending that can be written; use .spelk, .svg, .dxf, .png, .json, .csv or .stl",
        path.display()
    )
}

/// The passes could not be planned.
pub const NOT_PLANNED: &str = "the passes could not be planned";

/// A pitch that is too fine.
pub fn pitch_too_fine(given: &str) -> String {
    format!("--pitch: it must be at least 0.001 mm, not {given}")
}

/// How fine the surface is, and how much wood is taken away, in cubic centimetres.
pub fn surface(pitch: Mm, removed: f64, unit: LengthUnit) -> String {
    format!("one height every {}, {removed:.1} cm\u{b3} of wood cut away", unit.show_fine(pitch))
}

/// What the coupon is, and its size.
pub fn coupon(cutter: &str, depth: Mm, wood: &str, [length, width]: [Mm; 2]) -> String {
    format!(
        "A coupon for {cutter}, {depth} deep in {wood}: {:.0} x {:.0} mm. Everything drawn stands, and the ground is \
         lowered.",
        length.get(),
        width.get()
    )
}

/// What to do with the coupon.
pub const CARVE_THE_COUPON: &str =
    "Carve it on scrap of that wood, length along the grain, and note the thinnest rung that stayed whole.";

/// Lettering without words.
pub const NAME_THE_WORDS: &str = "name the words to letter";

/// Where numbers come from.
pub fn source(source: &str) -> String {
    format!("Source: {source}.")
}

/// A board for the rack without a name.
pub const BOARD_WITHOUT_NAME: &str = "--add: the board needs a name";

/// A price that is none.
pub fn not_a_price(price: f64) -> String {
    format!("--price: {} is not a price", number(price))
}

/// A board was put on the rack.
pub fn put_on_the_rack(name: &str) -> String {
    format!("put {name} on the rack")
}

/// A board was taken off the rack.
pub fn taken_off_the_rack(name: &str) -> String {
    format!("took {name} off the rack")
}

/// No board of the rack has this name.
pub fn not_on_the_rack(name: &str, boards: &[&str]) -> String {
    if boards.is_empty() {
        format!("--remove: there is no board '{name}' on the rack; the rack is empty")
    } else {
        format!("--remove: there is no board '{name}' on the rack; there is {}", boards.join(", "))
    }
}

/// There is nowhere to keep the rack.
pub const NO_CONFIG_FOLDER: &str = "there is no config folder on this machine; name a file with --boards";

/// The shop's mark cannot be used; `error` says why and starts with a verb.
pub fn mark_not_used(path: &Path, error: &dyn Display) -> String {
    format!("--mark: {} {error}", path.display())
}

/// Nothing was found under this name.
pub fn not_found(wanted: &str) -> String {
    format!("--accept: no finding is called '{wanted}'; spelk proof --json shows the kinds")
}

/// The bench sheet was written.
pub fn wrote_bench_sheet(design: &str, path: &Path) -> String {
    format!("Bench sheet for {design}: {}", path.display())
}

/// The template was written.
pub fn wrote_template(design: &str, path: &Path) -> String {
    format!("Template for {design}: {}", path.display())
}

/// The handout was written.
pub fn wrote_handout(design: &str, path: &Path) -> String {
    format!("Handout for {design}: {}", path.display())
}

/// The guide was written.
pub fn wrote_guide(path: &Path) -> String {
    format!("Guide: {}", path.display())
}

/// The coupon was written.
pub fn wrote_coupon(cutter: &str, path: &Path) -> String {
    format!("Coupon for {cutter}: {}", path.display())
}

/// A place whose money nobody knows.
pub fn no_money(place: &str) -> String {
    format!(
        "--money: Spelk does not know how money is written in '{place}'; spelk list money shows the places it knows"
    )
}

/// There is no offer of that number.
pub fn no_offer(number: usize, offers: usize) -> String {
    match offers {
        0 => format!("--apply {number}: there is nothing to apply"),
        1 => format!("--apply {number}: there is one offer, number 1"),
        offers => format!("--apply {number}: the offers have the numbers 1 to {offers}"),
    }
}

/// How long each stage took, in milliseconds.
pub fn timings([read, clean, measure, proof, passes, advice, total]: [f64; 7]) -> String {
    format!(
        "read {read} ms, clean {clean} ms, measure {measure} ms, proof {proof} ms, passes {passes} ms, advice {advice} ms, in all {total} ms"
    )
}

/// What the columns of the woods are called.
pub const WOOD_COLUMNS: [&str; 5] = ["id", "wood", "kg/m3", "across, MPa", "shapes, %"];
/// What the last of them are.
pub const WOODS_NOTE: &str = "across: tension strength across the grain at 12 % moisture; - where none is published\nshapes: pieces that came out good to excellent when shaped (Davis 1962, from memory): how cleanly it cuts, not whether a wall stands";
/// What the columns of the cutters are called.
pub const CUTTER_COLUMNS: [&str; 5] = ["id", "cutter", "flutes", "wall along", "wall across"];
/// What the last of them are.
pub const CUTTERS_NOTE: &str = "wall: the thinnest it is trusted with, as tall as its reference wall and in the same wood; - where across follows from along";
/// What the columns of the machines are called.
pub const MACHINE_COLUMNS: [&str; 4] = ["id", "machine", "rollers", "largest board"];
/// What the columns of money are called.
pub const MONEY_COLUMNS: [&str; 4] = ["tag", "place", "money", "cash"];
/// What the last of them is.
pub const MONEY_NOTE: &str = "cash: a total is rounded to the nearest of these; - not rounded";

/// How the shop's own money is written.
pub fn money_now(written: &str) -> String {
    format!("now: {written}")
}

/// The window was asked for where there is no display. Its library would name a path of the machine it was
/// built on; this says what to do.
pub const NO_DISPLAY: &str = "no display was found: start it from a desktop (X11 or Wayland, with DISPLAY or \
                              WAYLAND_DISPLAY set); 'spelk proof FILE' needs none";

/// The window cannot be drawn, neither by the graphics card nor by OpenGL.
pub fn cannot_draw(on_card: &dyn Display, in_software: &dyn Display) -> String {
    format!(
        "the window cannot be drawn: the graphics card says '{on_card}', OpenGL '{in_software}'; on Debian the \
         packages libegl1, libgl1 and libgl1-mesa-dri draw it without a card"
    )
}
