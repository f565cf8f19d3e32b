use super::{Said, UNITS, compare, say};
use crate::support::{job, rectangle};
use spelk::job::{Ends, Job, Treatment};
use spelk::proof::overhang::FeedSide;
use spelk::proof::rack::rack;
use spelk::proof::sizes::{SizeRow, parse_sizes, sizes};
use spelk::proof::{FindingKind, Severity, measure, rate};
use spelk::shop::{BoardEdge, BoardEnd, Check, Planed, Prices, RackBoard, Shop};
use spelk::units::{LengthUnit, Mm};
use spelk::words::guide;
use spelk::words::sheets::bench::CutterPurpose;
use spelk::words::sheets::picture::Title;
use spelk::words::sheets::proof_text::TextRow;
use spelk::words::sheets::{bench, coupon, folder, handout, options, paper, picture, proof_text, template};

fn panel() -> Job {
    job(Treatment::Sunk, &[("panel", vec![rectangle(0.0, 0.0, 300.0, 80.0)])])
}

/// One size of a panel.
fn size_row() -> SizeRow {
    let job = panel();
    let measured = measure(&job);
    let wanted = parse_sizes("Small=200mm", LengthUnit::Millimetres).unwrap();
    let rows = sizes(&job, &measured, &rate(&job, &measured), &wanted, &Prices::default(), &|_| Some(37.2));
    rows.unwrap().remove(0)
}

#[test]
fn bench_words() {
    let mut said = Said::default();
    let mm = Mm::new;
    say!(said, bench::NAME);
    say!(said, bench::title("Gate sign"));
    say!(said, bench::BOARD);
    say!(said, bench::LAY);
    say!(said, bench::PIECES);
    say!(said, bench::PLACE_OF_ALL);
    say!(said, bench::TIME_AND_PRICE);
    let money = spelk::shop::Prices::default().money;
    let piece = |wanted, minutes, price| spelk::arrange::PieceSums {
        name: "coaster".to_owned(),
        wanted,
        laid: 6,
        size: [Mm::new(95.0), Mm::new(90.0)],
        minutes,
        cost: None,
        price,
        one_more: None,
    };
    for unit in UNITS {
        say!(said, bench::piece(&piece(6, Some(12.4), Some(14.0)), &money, unit));
    }
    say!(said, bench::piece(&piece(8, Some(12.4), None), &money, UNITS[0]));
    say!(said, bench::piece(&piece(6, None, None), &money, UNITS[0]));
    say!(said, bench::more_pieces(1));
    say!(said, bench::more_pieces(12));
    say!(said, bench::found(spelk::proof::Severity::Chancy, "a wall is thin"));
    say!(said, bench::PLACE);
    say!(said, bench::CUTTERS);
    say!(said, bench::ENDS);
    say!(said, bench::SUPPORT);
    say!(said, bench::TIME);
    say!(said, bench::REMARK);
    say!(said, bench::STOCK);
    say!(said, bench::FOUND);
    say!(said, bench::CAUTIONS);
    say!(said, bench::AFTER);
    say!(said, bench::NOTHING_FOR_THE_ROLLERS);
    say!(said, bench::BEST_FACE_UP);
    for end in [BoardEnd::Left, BoardEnd::Right] {
        say!(said, bench::reference_edge(end));
    }
    for unit in UNITS {
        say!(said, bench::board([mm(600.0), mm(200.0), mm(19.0)], "Basswood, American", unit));
        say!(said, bench::for_the_rollers([mm(88.9), mm(82.0)], unit));
        for edge in [BoardEdge::Reference, BoardEdge::Far] {
            say!(said, bench::sensing_strip(mm(12.0), edge, unit));
        }
        say!(said, bench::corner([mm(100.0), mm(40.0)], unit));
        for degrees in [0, 90] {
            say!(said, bench::finished([mm(400.0), mm(120.0)], 0.5, degrees, unit));
        }
        let purposes =
            [CutterPurpose::All, CutterPurpose::ClearFirst, CutterPurpose::Elements(&["letters", "rim"])];
        for purpose in purposes {
            let depths = [mm(3.0), mm(3.0)];
            say!(said, bench::cutter(1, "Flat end, 1/8 in", depths, mm(1.6), purpose, unit));
        }
        let depths = [mm(1.0), mm(1.5)];
        say!(said, bench::cutter(2, "V, 60\u{b0}", depths, mm(2.0), CutterPurpose::All, unit));
        say!(said, bench::of_depth(mm(6.0), &["letters", "rim"], unit));
        say!(said, bench::pierced(mm(19.0), unit));
        for (ends, sniped) in [(Ends::Held, 0.0), (Ends::Free, 0.0), (Ends::Free, 0.25)] {
            say!(said, bench::ends(ends, sniped, [mm(0.1), mm(0.4)], unit));
        }
        say!(said, bench::floor(mm(500.0), mm(600.0), unit));
        say!(said, bench::stands(FeedSide::Infeed, &[mm(800.0), mm(1600.0)], unit));
        say!(said, bench::measured(Check::Cup, mm(0.5), unit));
    }
    say!(said, bench::hold_up(FeedSide::Outfeed));
    for planed in [Planed::Both, Planed::Rough] {
        say!(said, bench::planed(planed));
    }
    say!(said, bench::moisture(9.5));
    say!(said, bench::to_measure(Check::OffSquare));
    said.line("bench::LOOK_AT", bench::LOOK_AT.join("\n"));
    say!(said, bench::NOTHING_FOUND);
    say!(said, bench::PLACES);
    say!(said, bench::more(3, 0));
    say!(said, bench::more(3, 2));
    say!(said, bench::FEED);
    compare("sheets_bench", &said);
}

#[test]
fn options_words() {
    let mut said = Said::default();
    let row = size_row();
    say!(said, options::NAME);
    say!(said, options::HEAD);
    say!(said, options::PIECES);
    for column in options::PIECE_COLUMNS {
        said.line("options::PIECE_COLUMNS", column);
    }
    say!(said, options::TOTAL);
    for unit in UNITS {
        say!(said, options::board_of_pieces([Mm::new(1200.0), Mm::new(180.0)], "hard maple", 6.5, unit));
    }
    say!(said, options::number(4, 4));
    say!(said, options::number(3, 4));
    say!(said, options::PRICES);
    say!(said, options::title("Gate sign"));
    say!(said, options::NONE);
    say!(said, options::drawn("Basswood, American", 5.6));
    say!(said, options::PRICES_NAME);
    say!(said, options::FOR_CUSTOMER);
    say!(said, options::DATE);
    say!(said, options::VALID_UNTIL);
    say!(said, options::CHOICE);
    say!(said, options::PLACE_AND_DATE);
    say!(said, options::SIGNATURE);
    say!(said, options::CANNOT_BE_HAD);
    say!(said, options::EXAMPLE_PRICES);
    say!(said, options::with_tax(0.2));
    say!(said, options::time(&row));
    for unit in UNITS {
        say!(said, options::board(&row, unit));
        say!(said, options::thinnest_and_lost(&row, unit));
    }
    compare("sheets_options", &said);
}

#[test]
fn picture_words() {
    let mut said = Said::default();
    let mm = Mm::new;
    let title = Title {
        design: "Gate sign",
        size: [mm(400.0), mm(120.0)],
        factor: 0.5,
        board: [mm(600.0), mm(200.0)],
        wood: "Basswood, American",
        ends: Ends::Held,
        cutter: "Flat end, 1/8 in",
        depth: mm(3.0),
        some_otherwise: false,
    };
    say!(said, picture::GRAIN);
    say!(said, picture::SNIPE_ZONE);
    for unit in UNITS {
        say!(said, picture::batch_title(14, [mm(1200.0), mm(180.0)], "Cherry, black", unit));
        say!(said, picture::title(&title, unit));
        say!(said, picture::title(&Title { ends: Ends::Free, some_otherwise: true, ..title }, unit));
        say!(said, picture::roller_allowance(mm(88.9), unit));
        for (grave, slight) in [(0, 2), (1, 0), (3, 0), (3, 2)] {
            say!(said, picture::found(FindingKind::ThinWall, grave, Some(mm(1.19)), slight, unit));
        }
    }
    for (grave, slight) in [(2, 0), (2, 1)] {
        say!(said, picture::found(FindingKind::Blemish, grave, None, slight, LengthUnit::Millimetres));
    }
    compare("sheets_picture", &said);
}

#[test]
fn proof_text_words() {
    let mut said = Said::default();
    let mm = Mm::new;
    for row in TextRow::ALL {
        said.line(&format!("TextRow::label({row:?})"), TextRow::label(row));
    }
    say!(said, proof_text::design("Gate sign", 1, 240));
    say!(said, proof_text::design("Gate sign", 5, 240));
    for unit in UNITS {
        say!(said, proof_text::size([mm(400.0), mm(120.0)], 0.5, unit));
        say!(said, proof_text::board([mm(600.0), mm(200.0), mm(19.0)], "Basswood, American", unit));
        say!(said, proof_text::ends_held([mm(82.0), mm(82.0)], unit));
        say!(said, proof_text::ends_held([mm(88.9), mm(82.0)], unit));
        say!(said, proof_text::ends_free(0.25, [mm(0.25); 2], unit));
        say!(said, proof_text::needs([mm(580.0), mm(130.0)], unit));
        say!(said, proof_text::room([mm(420.0), mm(180.0)], unit));
        say!(said, proof_text::place([mm(100.0), mm(40.0)], 90, unit));
        say!(said, proof_text::floor(mm(500.0), mm(600.0), unit));
        say!(said, proof_text::cutter("Flat end, 1/8 in", mm(3.0), unit));
        say!(said, proof_text::own_cutter(&["letters", "rim"], "V, 60\u{b0}", mm(6.0), unit));
        say!(said, proof_text::limits([mm(0.83), mm(1.4)], [mm(1.5), mm(2.27)], mm(3.18), unit));
        say!(said, proof_text::own_limits(&["letters"], [mm(1.5), mm(2.5), mm(3.18)], unit));
        for wall in [None, Some(mm(1.19))] {
            for groove in [None, Some(mm(2.4))] {
                say!(said, proof_text::thinnest(wall, groove, unit));
            }
        }
        say!(said, proof_text::uncut(0.0, None, 0, unit));
        say!(said, proof_text::uncut(12.5, None, 1, unit));
        say!(said, proof_text::uncut(12.5, Some(0.004), 7, unit));
        say!(said, proof_text::uncut_of(12.5, "letters", unit));
        say!(said, proof_text::thinnest_wall(&size_row(), unit));
    }
    say!(said, proof_text::time(0.0, 0.0, 0, 0.0));
    for changes in 0..3 {
        say!(said, proof_text::time(3900.0, 3000.0, changes, 120.0));
    }
    say!(said, proof_text::times(&[("letters", 300.0), ("rim", 48.0)]));
    for severity in [Severity::Sound, Severity::Chancy, Severity::Unsound] {
        say!(said, proof_text::mark(severity));
    }
    let job = panel();
    let proof = spelk::proof::proof_of(&job);
    for accepted in [false, true] {
        say!(said, proof_text::found(&proof.findings[0], accepted, LengthUnit::Millimetres));
    }
    say!(said, proof_text::more(4));
    say!(said, proof_text::RACK_EMPTY);
    said.line("proof_text::RACK_COLUMNS", proof_text::RACK_COLUMNS.join(", "));
    let boards = r#"[{ "name": "offcut",
        "board": { "length": 400.0, "width": 60.0, "thickness": 19.0, "wood": "bog oak" } }]"#;
    let boards: Vec<RackBoard> = serde_json::from_str(boards).unwrap();
    let mut row = rack(&job, &measure(&job), &boards, &Shop::built_in()).unwrap().remove(0);
    for (unknown, largest) in [(true, row.largest_factor), (false, row.largest_factor), (false, 0.0)] {
        (row.wood_unknown, row.largest_factor) = (unknown, largest);
        say!(said, proof_text::rack_worst(&row, LengthUnit::Millimetres));
    }
    say!(said, proof_text::EXAMPLE_PRICES);
    say!(said, proof_text::sizes_of("Gate sign", "Basswood, American", &["Flat end, 1/8 in", "V, 60\u{b0}"]));
    say!(said, proof_text::of_the_drawing(0.5));
    compare("sheets_proof_text", &said);
}

#[test]
fn coupon_words() {
    let mut said = Said::default();
    let mm = Mm::new;
    say!(said, coupon::NAME);
    say!(said, coupon::KEY);
    say!(said, coupon::caption("Flat end, 1/8 in", mm(3.0), "Basswood, American"));
    say!(said, coupon::at_true_size("Flat end, 1/8 in, 3 mm deep, Basswood"));
    say!(said, coupon::rung(3, mm(0.75)));
    say!(said, coupon::point_rung(2, 20f64.to_radians()));
    say!(said, coupon::WALLS_ALONG);
    say!(said, coupon::WALLS_ACROSS);
    say!(said, coupon::POINTS_ALONG);
    say!(said, coupon::POINTS_ACROSS);
    say!(said, coupon::GROOVES);
    said.line("coupon::HOW", coupon::HOW.join("\n"));
    for unit in UNITS {
        say!(said, coupon::noted_in(unit));
        say!(said, coupon::thinnest_along(unit));
        say!(said, coupon::thinnest_across(unit));
        say!(said, coupon::carved_on(mm(3.0), unit));
    }
    compare("sheets_coupon", &said);
}

#[test]
fn handout_words() {
    let mut said = Said::default();
    say!(said, handout::NAME);
    say!(said, handout::WHY);
    say!(said, handout::KEY);
    say!(said, handout::questions(6));
    say!(said, handout::HOW);
    say!(said, handout::heading(2, "Gate sign"));
    compare("sheets_handout", &said);
}

#[test]
fn guide_words() {
    let mut said = Said::default();
    say!(said, guide::NAME);
    say!(said, guide::CONTENTS);
    say!(said, guide::picture("a wall, and a disc in it"));
    say!(said, guide::bullet(None));
    say!(said, guide::bullet(Some(3)));
    compare("guide", &said);
}

#[test]
fn template_words() {
    let mut said = Said::default();
    let mm = Mm::new;
    say!(said, proof_text::RACK_OFFERS);
    say!(said, template::NAME);
    say!(said, template::title("Gate sign"));
    for unit in UNITS {
        let (size, middle) = ([mm(400.0), mm(120.0)], [mm(304.8), mm(101.6)]);
        say!(said, template::caption("Gate sign", size, middle, unit));
        say!(said, template::larger_than_board([mm(304.8), mm(101.6)], unit));
    }
    say!(said, template::JOIN);
    say!(said, template::joins("B2"));
    say!(said, template::too_many_pages(240, 120));
    compare("sheets_template", &said);
}

#[test]
fn paper_words() {
    let mut said = Said::default();
    say!(said, paper::BAR_100_MM);
    say!(said, paper::BAR_4_IN);
    say!(said, paper::PRINT);
    say!(said, paper::head("Bench sheet", "Gate sign"));
    say!(said, paper::page("Bench sheet", "A4", 1, 2));
    for treatment in Treatment::ALL {
        say!(said, paper::hatch(treatment));
    }
    for ends in [Ends::Held, Ends::Free] {
        say!(said, paper::ends(ends));
    }
    say!(said, paper::REFERENCE_EDGE);
    say!(said, paper::no_typeface(&['\u{42f}', '\u{391}']));
    say!(said, paper::NO_TYPEFACE_HINT);
    say!(said, paper::MARK_NOT_A_PICTURE);
    say!(said, paper::mark_damaged(&"the file ends too early"));
    compare("sheets_paper", &said);
}

#[test]
fn folder_words() {
    let mut said = Said::default();
    say!(said, folder::not_read("it is empty"));
    say!(said, folder::counted([3, 1, 2], 0));
    say!(said, folder::counted([0, 0, 0], 1));
    say!(said, folder::NAME);
    say!(said, folder::title("signs"));
    say!(said, folder::facts("300 x 120 mm", "1.6 mm, limit 2.4 mm", "25 min"));
    compare("sheet_folder", &said);
}
