use super::finding::{examples, overhang};
use super::{Said, UNITS, compare, say};
use crate::support::{job, rectangle};
use spelk::compare::{Between, LimitedWall, SizeKind, VersionName};
use spelk::design::{Color, DrawingUnit};
use spelk::job::{Ends, Frame, Place, Placement, Treatment};
use spelk::proof::fit::{BoardNeeded, board_needed};
use spelk::proof::rack::rack;
use spelk::proof::wall::{Governs, Limit};
use spelk::proof::{Facts, Finding, HeldWall, Severity, WallEnds, WallRow, WallRun, measure};
use spelk::relief::PathKind;
use spelk::relief::time::JobTime;
use spelk::shop::{Blemish, BlemishKind, BlemishShape, Cutter, MachinePart, RackBoard, Sawn, Shop};
use spelk::units::{LengthUnit, Mm};
use spelk::words::{self, finding, window};
use std::fs;
use std::path::Path;

const MM: fn(f64) -> Mm = Mm::new;
const SIZE: [Mm; 2] = [Mm::new(300.0), Mm::new(101.6)];

/// The captions of a room, read from its source: a constant is its own example.
fn captions(source: &str) -> Vec<(String, String)> {
    let mut found = Vec::new();
    for part in source.split("pub const ").skip(1) {
        let (name, rest) = part.split_once(": &str =").expect("a caption is text");
        let text = rest.trim_start().strip_prefix('"').expect("a caption is one literal");
        let mut words = String::new();
        let mut signs = text.chars();
        while let Some(sign) = signs.next().filter(|sign| *sign != '"') {
            if sign != '\\' {
                words.push(sign);
                continue;
            }
            match signs.next() {
                Some('u') => {
                    let code: String = signs.by_ref().skip(1).take_while(|sign| *sign != '}').collect();
                    words.extend(char::from_u32(u32::from_str_radix(&code, 16).unwrap()));
                }
                Some('\n') => signs = signs.as_str().trim_start().chars(),
                Some('n') => words.push('\n'),
                other => words.extend(other),
            }
        }
        found.push((name.to_owned(), words));
    }
    found
}

#[test]
fn captions_of_each_room() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("src/words/window");
    let mut files: Vec<_> = fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path()).collect();
    files.sort();
    for file in files {
        let room = file.file_stem().unwrap().to_str().unwrap();
        let mut said = Said::default();
        for (name, words) in captions(&fs::read_to_string(&file).unwrap()) {
            assert!(!words.is_empty(), "{room}::{name} is empty");
            said.line(&name, words);
        }
        if !said.text().is_empty() {
            compare(&format!("window_{room}"), &said);
        }
    }
}

#[test]
fn a_caption_is_read_as_the_compiler_reads_it() {
    let source =
        "pub const A: &str =\n    \"m\\u{b3} \\\"is\\\" \\\n     one\";\npub const B: &str = \"b\";\n";
    let expected = [("A", "m\u{b3} \"is\" one"), ("B", "b")].map(|(a, b)| (a.to_owned(), b.to_owned()));
    assert_eq!(captions(source), expected);
}

/// The first finding of this sort.
fn found(is_it: fn(&Facts) -> bool) -> Finding {
    let facts = examples().into_iter().map(|(_, facts)| facts).find(is_it).unwrap();
    Finding { id: "thin_wall-1".to_owned(), at: glam::DVec2::ZERO, facts }
}

fn a_wall() -> Finding {
    found(|facts| matches!(facts, Facts::ThinWall { .. }))
}

fn a_point() -> Finding {
    found(|facts| matches!(facts, Facts::LostTip { .. }))
}

#[test]
fn what_every_room_says() {
    let mut said = Said::default();
    say!(said, window::SPELK);
    say!(said, window::NO_SHOP_FOLDER);
    say!(said, window::NO_FILE_DIALOG);
    say!(said, window::in_percent("Moisture"));
    for unit in LengthUnit::ALL {
        say!(said, window::with_unit("Length", unit));
        say!(said, window::size(SIZE, unit));
        say!(said, window::ruler_mark(unit, MM(12.7)));
    }
    compare("window", &said);
}

#[test]
fn what_the_board_says() {
    let mut said = Said::default();
    let panel = job(Treatment::Sunk, &[("panel", vec![rectangle(0.0, 0.0, 300.0, 80.0)])]);
    let needed = board_needed(&panel, 1.0);
    let soft = BoardNeeded { surfaced: None, ..needed.clone() };
    let line = BlemishShape::Line { from: [MM(10.0), MM(20.0)], to: [MM(40.0), MM(60.0)] };
    let shapes = [
        BlemishShape::Circle { x: MM(300.0), y: MM(60.0), diameter: MM(25.4) },
        BlemishShape::Rectangle { x: MM(300.0), y: MM(60.0), length: MM(50.8), width: MM(12.7) },
        line,
    ];
    for unit in UNITS {
        for unchecked in [0, 3] {
            say!(said, window::board::bench_list(unchecked, 8, MM(12.7), unit));
        }
        for shape in shapes {
            let knot = Blemish { kind: BlemishKind::Knot, shape, clearance: MM(3.0) };
            say!(said, window::board::blemish(1, &knot, unit));
        }
        say!(said, window::board::board_and_design([MM(609.6), MM(139.7)], SIZE, unit));
        say!(said, window::board::along_and_across(SIZE, unit));
        say!(said, window::board::largest_size(SIZE, 0.876, unit));
        say!(said, window::board::smallest_board(&needed, unit));
        say!(said, window::board::smallest_board(&soft, unit));
        say!(said, window::board::dressed_board("1 x 6", [MM(609.6), MM(139.7), MM(19.05)], unit));
        let steady = spelk::proof::overhang::Overhang { balance: MM(9000.0), ..overhang(None, &[]) };
        for side in [
            steady,
            overhang(None, &[]),
            overhang(Some(31.4), &[]),
            overhang(None, &[900.0]),
            overhang(Some(31.4), &[900.0, 1800.0]),
        ] {
            say!(said, window::board::overhang(&side, unit));
        }
        say!(said, window::board::from_end_and_edge(SIZE, unit));
        say!(said, window::board::measured(MM(316.7), SIZE, unit));
    }
    say!(said, window::board::remove_blemish(1));
    say!(said, window::board::click_corner(2, window::board::RIGHT_END_AT_THE_REFERENCE_EDGE));
    say!(said, window::board::turned(90));
    say!(said, window::board::card_size([85.6, 53.98]));
    say!(said, window::board::card([85.6, 53.98]));
    for at in [
        Placement::Middle,
        Placement::LowerLeft,
        Placement::LowerRight,
        Placement::UpperLeft,
        Placement::UpperRight,
        Placement::At { x: SIZE[0], y: SIZE[1] },
    ] {
        let (label, hover) = window::board::placement(at);
        said.line("window::board::placement", format!("{label}: {hover}"));
    }
    compare("window_board_says", &said);
}

#[test]
fn what_elements_say() {
    let mut said = Said::default();
    let all = ["rim", "letters", "reeds", "dots", "border"];
    say!(said, window::elements::now("Cut out"));
    for elements in [&all[..1], &all[..2], &all] {
        say!(said, window::elements::cuts_out(elements, "plate"));
        say!(said, window::elements::moves(elements));
        say!(said, window::elements::smooths(elements));
        say!(said, window::elements::resizes(elements));
        say!(said, window::elements::grows(elements));
        say!(said, window::elements::repeats(elements));
    }
    say!(said, window::elements::lines_to_the("Left"));
    say!(said, window::elements::font("Built in"));
    for unit in UNITS {
        say!(said, window::elements::picture_of_the_words(Some(SIZE), unit));
        say!(said, window::elements::as_carved(SIZE, unit));
        say!(said, window::elements::size_not_stated("Gate sign", SIZE, unit));
        say!(said, window::elements::reading(DrawingUnit::Pixel, SIZE, unit));
    }
    say!(said, window::elements::picture_of_the_words(None, LengthUnit::Millimetres));
    say!(said, window::elements::spot("Above", "Gate sign"));
    say!(said, window::elements::as_the_job("Flat end, 6 mm"));
    for (chosen, of) in [(0, 1), (0, 12), (3, 1200)] {
        say!(said, window::elements::chosen(chosen, of));
    }
    say!(said, window::elements::element("rim"));
    say!(said, window::elements::treatment_of("rim"));
    for elements in [1, 1200] {
        say!(said, window::elements::group("Letters", elements));
        say!(said, window::elements::elements_in_group(elements));
        say!(said, window::elements::color_and_count(Some(Color([0x7a, 0x55, 0x34])), elements));
    }
    for unit in UNITS {
        say!(said, window::elements::resized_to(SIZE, 1.205, unit));
    }
    say!(said, window::elements::the_group("Letters"));
    say!(said, window::elements::group_hover("Sign / Letters"));
    say!(said, window::elements::open_group("Letters"));
    say!(said, window::elements::close_group("Letters"));
    say!(said, window::elements::treatment_of_group("Letters"));
    say!(said, window::elements::color(Some(Color([0x7a, 0x55, 0x34]))));
    say!(said, window::elements::color(None));
    say!(said, window::elements::listed_by_colour(window::elements::ANY_COLOUR));
    for (is_lettered, is_hidden) in [(false, false), (true, false), (false, true), (true, true)] {
        say!(said, window::elements::element_hover("rim", Treatment::Relief, is_lettered, is_hidden));
    }
    say!(said, window::elements::show("rim"));
    say!(said, window::elements::hide("rim"));
    for number in [1, 2] {
        say!(said, window::elements::hidden(number));
        say!(said, window::elements::carve_as_lines(number));
        say!(said, window::elements::remove_specks(number));
        say!(said, window::elements::trace_picture_inside(1, number));
    }
    for (is_taken, is_larger) in [(false, false), (true, false), (false, true), (true, true)] {
        say!(said, window::elements::reading_unit(DrawingUnit::Point, is_taken, is_larger));
    }
    compare("window_elements_say", &said);
}

#[test]
fn what_findings_say() {
    let mut said = Said::default();
    let tally = |numbers: [usize; 3]| {
        let [unsound, chancy, sound] = numbers;
        [(unsound, Severity::Unsound), (chancy, Severity::Chancy), (sound, Severity::Sound)]
    };
    for severity in [Severity::Unsound, Severity::Chancy, Severity::Sound] {
        say!(said, window::findings::severity(severity));
    }
    say!(said, window::findings::group("Thin wall", 1200));
    say!(said, window::findings::tally(tally([0, 0, 0])));
    say!(said, window::findings::tally(tally([1, 0, 1200])));
    say!(said, window::findings::tally(tally([3, 2, 1])));
    say!(said, window::findings::why_the_limit_of(3));
    say!(said, window::findings::more_findings(1200));
    say!(said, window::findings::accept(3));
    say!(said, window::findings::in_element("reeds"));
    say!(said, window::findings::advice("Make it larger"));
    say!(said, window::findings::step_number(2));
    say!(said, window::findings::moisture_and_movement_source("Maple, sugar", "Wood Handbook table 13-5"));
    say!(said, window::findings::temperature("From"));
    say!(said, window::findings::humidity("From"));
    say!(said, window::findings::moisture_then(6.87, 13.0));
    for sawn in [Sawn::Flat, Sawn::Quarter] {
        say!(said, window::findings::movement_not_known("Padauk", sawn));
    }
    say!(said, window::findings::share_of_width(0.003_53));
    say!(said, window::findings::no_strength_published("Padauk", "Maple, sugar"));
    say!(said, window::findings::scale(1.2345));
    say!(said, window::findings::times_as_large(1.2345));
    let (wall, point) = (a_wall(), a_point());
    let held = HeldWall {
        height: MM(3.0),
        run: WallRun { length: MM(30.0), ends: WallEnds::OneFree, to_free_end: Mm::ZERO },
        limit: Limit { thickness: MM(1.8), governs: Governs::Root, k: 0.855, push: 3.47 },
    };
    for unit in UNITS {
        say!(said, window::findings::finding(1, &wall, unit));
        for change in [1.2, -1.2] {
            say!(said, window::findings::piece_moves(MM(139.7), MM(change), unit));
            say!(said, window::findings::board_moves(MM(139.7), MM(change), unit));
        }
        say!(said, window::findings::walls_should_be(MM(1.5), MM(2.5), unit));
        say!(said, window::findings::beside_pierced(MM(19.05), [MM(3.1), MM(4.2)], unit));
        for finding in [&wall, &point] {
            say!(said, window::findings::limit_of_finding(finding, &held, 0.53, unit));
        }
        say!(said, window::findings::finished_length(MM(304.8), unit));
        say!(said, window::findings::finished_width(MM(101.6), unit));
        say!(said, window::findings::by_width(MM(101.6), unit));
        say!(said, window::findings::wall(MM(1.19), unit));
        say!(said, window::findings::thinnest_wall(MM(1.19), unit));
        say!(said, window::findings::groove(MM(3.3), unit));
        say!(said, window::findings::thinnest_groove(MM(3.3), unit));
        say!(said, window::findings::long(MM(304.8), unit));
        for least in [None, Some(MM(254.0))] {
            say!(said, window::findings::strip(MM(304.8), least, MM(508.0), unit));
        }
        say!(said, window::findings::sound_from(MM(254.0), unit));
        say!(said, window::findings::sound_from_beyond(MM(254.0), unit));
        say!(said, window::findings::board_takes(MM(508.0), unit));
        say!(said, window::findings::wall_across(MM(2.5), unit));
        say!(said, window::findings::wall_along(MM(1.5), unit));
        say!(said, window::findings::groove_for_cutter(MM(3.175), unit));
    }
    compare("window_findings_say", &said);
}

#[test]
fn what_the_record_says() {
    let mut said = Said::default();
    let row = WallRow {
        at: glam::DVec2::ZERO,
        width: MM(1.19),
        held: HeldWall {
            height: MM(3.0),
            run: WallRun { length: MM(30.0), ends: WallEnds::OneFree, to_free_end: Mm::ZERO },
            limit: Limit { thickness: MM(1.8), governs: Governs::Root, k: 0.855, push: 3.47 },
        },
        to_grain: 0.0,
        chance: 0.42,
        id: String::new(),
        place: Place::Ground,
    };
    for unit in UNITS {
        say!(said, window::record::wall(3, &row, unit));
        for held in [None, Some(true), Some(false)] {
            say!(said, window::record::mark(3, &row, held, unit));
        }
    }
    say!(said, window::record::wall_held(3));
    say!(said, window::record::wall_broke(3));
    say!(said, window::record::chance(0.42));
    say!(said, window::record::counted(12, [3, 1]));
    say!(said, window::record::held_of(9, 12));
    compare("window_record_say", &said);
}

#[test]
fn what_the_relief_says() {
    let mut said = Said::default();
    say!(said, window::relief::clearing_lines("Across"));
    say!(said, window::relief::change_to("V, 60\u{b0}"));
    for kind in [PathKind::ClearingAlong, PathKind::Outline] {
        say!(said, window::relief::travels("Flat end, 6 mm", window::relief::THE_GROUND, kind));
        say!(said, window::relief::plunges("Flat end, 6 mm", "letters", kind));
        say!(said, window::relief::lifts("Flat end, 6 mm", "letters", kind));
    }
    for (second, total) in [(0.0, 65.4), (65.4, 3725.0)] {
        say!(said, window::relief::second_of(second, total));
    }
    for whole_in in [Some(10.0), Some(120.0), None] {
        say!(said, window::relief::speed(whole_in));
    }
    say!(said, window::relief::of_the_carve("Time"));
    say!(said, window::relief::seen_from(None, 90.0));
    for eighth in 0..8 {
        say!(said, window::relief::seen_from(Some(eighth), 34.4));
    }
    for number in [1, 1234] {
        say!(said, window::relief::lines_of("Flat end, 6 mm", &PathKind::ALL.map(|kind| (kind, number))));
    }
    say!(said, window::relief::picture_of_the_cut("Cut of 120 mm: nothing is carved along it"));
    say!(said, window::relief::section_field("A along"));
    for unit in UNITS {
        say!(said, window::relief::lines_apart(MM(2.4), MM(3.0), unit));
        say!(said, window::relief::cuts("Flat end, 6 mm", "letters", PathKind::Outline, MM(3.0), unit));
        say!(said, window::relief::cut(MM(120.0), (0, MM(0.0)), None, unit));
        say!(said, window::relief::cut(MM(120.0), (1, MM(3.0)), None, unit));
        say!(said, window::relief::cut(MM(120.0), (3, MM(3.0)), Some((1, MM(1.19))), unit));
        say!(said, window::relief::cut(MM(120.0), (3, MM(3.0)), Some((2, MM(1.19))), unit));
        let state = window::relief::WHAT_THE_CUTTERS_LEAVE;
        say!(said, window::relief::surface("Gate sign", None, "from above", 1, state, unit));
        say!(said, window::relief::surface("Gate sign", Some(MM(3.0)), "from above", 2, state, unit));
    }
    for (changes, factor) in [(0, 1.0), (1, 1.0), (2, 1.25)] {
        let time = JobTime {
            elements: Vec::new(),
            cutters: Vec::new(),
            cutting: 3000.0,
            moving: 840.0,
            changes,
            changing: 90.0 * f64::from(changes),
            total: 3840.0 + 90.0 * f64::from(changes),
            factor,
        };
        say!(said, window::relief::whole_carve(&time));
    }
    say!(said, window::relief::time_of(720.0, "letters"));
    say!(said, window::relief::not_the_same_carve(36_000.0, 720.0));
    say!(said, window::relief::not_a_time("soon"));
    compare("window_relief_says", &said);
}

#[test]
fn what_is_round_the_rooms() {
    let mut said = Said::default();
    say!(said, window::tracing::heading("badge.png", [400, 300]));
    say!(said, window::tracing::click_corner(1, window::tracing::LOWER_LEFT));
    say!(said, window::tracing::found([3, 2], 0));
    say!(said, window::tracing::found([1, 0], 14));
    say!(said, window::tracing::several_inside(3));
    let colour = spelk::trace::Colour { rgb: [180, 70, 30], share: 0.125, is_paper: false };
    say!(said, window::tracing::colour(2, &colour));
    say!(said, window::shell::design("Gate sign"));
    let wall = &Cutter::find("flat-1/8in").unwrap().reference;
    for unit in UNITS {
        for (hardness, shaping) in [(Some(1824.0), Some(24.0)), (Some(1824.0), None), (None, Some(24.0))] {
            let facts = window::shell::wood_facts(hardness, shaping, unit);
            said.line("window::shell::wood_facts", facts.unwrap());
        }
        say!(said, window::shell::drawn(SIZE, unit));
        say!(said, window::shell::drawn_exactly(SIZE, 1, 1, unit));
        say!(said, window::shell::drawn_exactly(SIZE, 12, 1234, unit));
        say!(said, window::shell::exactly(SIZE, unit));
        for stand_in in [None, Some("Maple, sugar")] {
            say!(said, window::shell::walls([MM(1.5), MM(2.5)], wall, stand_in, unit));
        }
        say!(said, window::shell::needs_a_board(SIZE, unit));
    }
    say!(said, window::shell::findings(7));
    say!(said, window::shell::opening("gate-sign.svg"));
    say!(said, window::shell::opening_step(2, 3, "Measuring walls and grooves"));
    for ends in [Ends::Held, Ends::Free] {
        let (label, hover) = window::shell::ends(ends);
        said.line("window::shell::ends", format!("{label}: {hover}"));
        say!(said, window::shell::ends_named(label));
        for kept in [[82.5, 82.5], [82.5, 60.0]] {
            let (kept, step) = (kept.map(Mm::new), [Mm::new(0.05), Mm::new(0.2)]);
            say!(said, window::shell::ends_price(ends, kept, step, LengthUnit::Millimetres));
        }
    }
    for frame in [Frame::Outline, Frame::Page] {
        let (label, hover) = window::shell::frame(frame);
        said.line("window::shell::frame", format!("{label}: {hover}"));
    }
    say!(said, window::shell::scale_hover(1.2345));
    say!(said, window::shell::version("0.1.0"));
    say!(said, window::shell::messages(1));
    say!(said, window::shell::messages(12));
    say!(said, window::shell::problem("gate.svg cannot be read"));
    compare("window_shell_says", &said);
}

#[test]
fn what_the_shop_says() {
    let mut said = Said::default();
    let panel = job(Treatment::Sunk, &[("panel", vec![rectangle(0.0, 0.0, 300.0, 80.0)])]);
    let boards = r#"[{ "name": "offcut",
        "board": { "length": 400.0, "width": 160.0, "thickness": 19.0, "wood": "oak-white" } }]"#;
    let boards: Vec<RackBoard> = serde_json::from_str(boards).unwrap();
    let mut row = rack(&panel, &measure(&panel), &boards, &Shop::built_in()).unwrap().remove(0);
    for is_unknown in [false, true] {
        row.wood_unknown = is_unknown;
        for unit in UNITS {
            say!(said, window::shop::rack_board(&row, unit));
        }
    }
    for unit in UNITS {
        say!(said, window::shop::coupon("Flat end, 6 mm", MM(3.0), "Basswood", SIZE, unit));
        say!(said, window::shop::per_minute("Feed", unit));
        say!(said, window::shop::board_name("Oak, white", MM(812.8), unit));
        for part in [
            MachinePart::Name,
            MachinePart::Longest,
            MachinePart::FeedAlong,
            MachinePart::Acceleration,
            MachinePart::HoldDown,
            MachinePart::CutterChange,
            MachinePart::TimeFactor,
        ] {
            say!(said, window::shop::machine_part(part, unit));
        }
    }
    for name in ["Flat end, 6 mm", "Flat end, 6 mm, own"] {
        say!(said, window::shop::own_copy(name));
    }
    say!(said, window::shop::in_use("Flat end, 6 mm"));
    say!(said, window::shop::largest(1.2345));
    say!(said, window::shop::proofed_at(1.2345));
    say!(said, window::shop::waste(0.314));
    say!(said, window::shop::use_board("Oak"));
    say!(said, window::shop::edit_board("Oak"));
    say!(said, window::shop::delete_board("Oak"));
    say!(said, window::shop::blemishes_kept(1));
    say!(said, window::shop::blemishes_kept(2));
    say!(said, window::shop::remove_wood("Padauk"));
    compare("window_shop_says", &said);
}

#[test]
fn what_sizes_and_prices_say() {
    let mut said = Said::default();
    say!(said, window::sizes::name_of_size(2));
    say!(said, window::sizes::size_number(2));
    say!(said, window::sizes::remove_size(2));
    say!(said, window::sizes::as_drawn_and_as_carved("Small"));
    say!(said, window::board::do_it("Turn it by a quarter"));
    say!(said, window::sizes::as_carved("Small"));
    say!(said, window::sizes::choose_size("Small"));
    say!(said, window::sizes::use_size("Small"));
    say!(said, window::sizes::money_reads("1 234.50"));
    say!(said, window::sizes::sanding("ft\u{b2}"));
    say!(said, window::sizes::finish("ft\u{b2}"));
    say!(said, window::sizes::to_the_nearest("0.05"));
    say!(said, window::sizes::money_place("Example land", "1 234.50"));
    say!(said, window::sizes::price_of("Oak, white"));
    compare("window_sizes_say", &said);
}

#[test]
fn what_fields_and_marks_say() {
    let mut said = Said::default();
    say!(said, window::widgets::not_a_number("wide"));
    say!(said, window::widgets::wrong("Length", window::widgets::IT_MUST_BE_OVER_0));
    for unit in UNITS {
        say!(said, window::widgets::surely_a_slip(MM(100_000.0), unit));
    }
    say!(said, window::widgets::mark(3, &a_wall()));
    for more in [1, 1200] {
        say!(said, finding::more_marks(more));
        say!(said, window::widgets::more_at_the_mark(more, 3));
        say!(said, window::widgets::more_at_the_mark_hover(more));
    }
    compare("window_widgets_say", &said);
}

#[test]
fn what_a_folder_says() {
    let mut said = Said::default();
    say!(said, window::folder::title("signs"));
    for on in [None, Some(("Oak, white", "Flat end, 1/8 in"))] {
        say!(said, window::folder::lie_on(on));
    }
    say!(said, window::folder::proofing(0, 12));
    say!(said, window::folder::left_out(1));
    say!(said, window::folder::left_out(40));
    say!(said, window::folder::wall("1.6 mm, limit 2.4 mm"));
    say!(said, window::folder::time("25 min"));
    say!(said, window::folder::open("gate-sign.svg"));
    say!(said, window::folder::picture_of("gate-sign.svg"));
    compare("window_folder_says", &said);
}

#[test]
fn what_versions_side_by_side_say() {
    let mut said = Said::default();
    for what in Between::ALL {
        say!(said, words::compare::between(what));
    }
    for is_batch in [false, true] {
        say!(said, words::compare::note(is_batch));
    }
    say!(said, window::compare::working_out(0, 12));
    say!(said, window::compare::working_out(12, 12));
    for unit in UNITS {
        for kind in [SizeKind::Other, SizeKind::LeastSound, SizeKind::Largest] {
            say!(said, words::compare::name(&VersionName::Size { size: SIZE, kind }, unit));
        }
        say!(said, words::compare::wall(Some(LimitedWall { width: MM(1.19), limit: MM(2.5) }), unit));
    }
    let oak = VersionName::Wood("Oak, white".to_owned());
    say!(said, words::compare::name(&oak, LengthUnit::Millimetres));
    say!(said, words::compare::wall(None, LengthUnit::Millimetres));
    say!(said, window::compare::take("Oak, white"));
    say!(said, words::compare::heading("Gate sign", Between::Cutters));
    say!(said, words::compare::VERSION);
    say!(said, words::compare::VERDICT);
    say!(said, words::compare::THINNEST_WALL);
    say!(said, words::compare::TIME);
    say!(said, words::compare::PRICE);
    say!(said, words::compare::NO_PRICE);
    say!(said, words::compare::EXAMPLE_PRICES);
    say!(said, words::compare::STARRED);
    compare("window_compare_say", &said);
}
