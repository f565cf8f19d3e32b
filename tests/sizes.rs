//! One design at several sizes.

use crate::cli::spelk;
use crate::support::{job, rectangle};
use glam::{DVec2, dvec2};
use spelk::job::{Edit, Job, Size, Treatment};
use spelk::proof::sizes::{
    BoardTaken, NamedSize, RowKind, SizeName, SizeRow, SizesError, drawn, parse_sizes, sizes,
};
use spelk::proof::{Severity, measure, rate};
use spelk::shop::Prices;
use spelk::units::{LengthUnit, Mm};
use spelk::words;

/// Two blocks joined by a bar, 2 mm thick if nothing else is said, that runs along the grain: 110 x 40 mm.
fn bar() -> Job {
    bar_of(2.0)
}

fn bar_of(thickness: f64) -> Job {
    let rings = vec![
        rectangle(0.0, 0.0, 40.0, 40.0),
        rectangle(70.0, 0.0, 40.0, 40.0),
        rectangle(40.0, 19.0, 30.0, thickness),
    ];
    let mut job = job(Treatment::Relief, &[("bar", rings)]);
    // Touching rectangles under the even-odd rule are one shape.
    job.apply(Edit::BoardLength(Mm::from_inches(24.0))).unwrap();
    job
}

fn rows(job: &Job, wanted: &str) -> Vec<SizeRow> {
    let measured = measure(job);
    let ratings = rate(job, &measured);
    let wanted = parse_sizes(wanted, LengthUnit::Millimetres).unwrap();
    let time = |job: &Job| match job.size() {
        Size::Factor(factor) => Some(factor * 10.0),
        _ => None,
    };
    sizes(job, &measured, &ratings, &wanted, &Prices::default(), &time).unwrap()
}

/// The outlines, the ground's margin of one cutter's diameter, and 5 mm of the board; never past the board.
#[test]
fn the_carved_part_is_what_is_carved_and_a_little_round_it() {
    let job = bar();
    let rows = rows(&job, "drawn, 2m");
    let drawn = rows.iter().find(|row| (row.proof.factor - 1.0).abs() < 1e-9).unwrap();
    let size = drawn.carved_part.size();
    let around = 2.0 * (job.cutter().shape.diameter().get() + 5.0);
    // The ground's round corners are drawn with short lines.
    assert!((size.x - 110.0 - around).abs() < 0.05 && (size.y - 40.0 - around).abs() < 0.05, "{size}");
    for row in &rows {
        let board = dvec2(row.job.board().length.get(), row.job.board().width.get());
        let part = row.carved_part;
        assert!(part.min.cmpge(DVec2::ZERO).all() && part.max.cmple(board).all(), "{:?}: {part:?}", row.name);
    }
}

#[test]
fn the_least_sound_and_the_largest_stand_among_those_picked() {
    let job = bar();
    let rows = rows(&job, "Small=55, As it is=drawn, Wall=2m");
    let named: Vec<(&str, RowKind)> =
        rows.iter().map(|row| (words::sizes::name(&row.name), row.kind)).collect();
    assert_eq!(
        named,
        [
            ("Small", RowKind::Picked),
            ("Least sound size", RowKind::LeastSound),
            ("As it is", RowKind::Picked),
            ("Largest for this board", RowKind::LargestForBoard),
            ("Wall", RowKind::Picked),
        ]
    );
    // The bar is 2 mm thick as drawn; the limit along the grain of a long wall is the starting cutter's 1.5 mm, at
    // its reference depth and in its reference wood: 1.5 / 2. The bar is tied at both ends 30 mm apart, which helps
    // by less than a hundredth.
    assert!((0.74..=0.75).contains(&rows[1].proof.factor), "{}", rows[1].proof.factor);
    assert_eq!(rows[1].severity(), Severity::Sound);
    assert_eq!(words::sizes::lost(&rows[1].lost, LengthUnit::Millimetres), "nothing");
    assert_eq!((rows[0].severity(), rows[0].lost.walls), (Severity::Unsound, 1));
    assert!(words::sizes::lost(&rows[0].lost, LengthUnit::Millimetres).starts_with("1 wall may chip out"));
    // (609.6 - 2 x 88.9 - 2 x 3.175) / 110: the length, the roller allowance and the ground's margin.
    let largest = (203.2 - 2.0 * 3.175) / 40.0;
    let along = (609.6 - 2.0 * 88.9 - 2.0 * 3.175) / 110.0;
    assert!((rows[3].proof.factor - f64::min(along, largest)).abs() < 1e-9);
    assert_eq!(rows[3].board, BoardTaken::Own);
    assert_eq!(rows[2].minutes, Some(10.0));
    assert!((rows[2].proof.thinnest.wall.unwrap().get() - 2.0).abs() < 1e-3);
}

#[test]
fn a_size_the_board_does_not_take_says_which_board_it_needs() {
    let rows = rows(&bar(), "600mm");
    let large = rows.iter().find(|row| row.kind == RowKind::Picked).unwrap();
    assert_eq!(large.board, BoardTaken::Other);
    assert_eq!(large.severity(), Severity::Sound, "{:?}", large.proof.verdict.reasons);
    let [length, width, thickness] = large.to_buy.map(Mm::get);
    assert!((length - (600.0 + 177.8 + 6.35)).abs() < 1e-6, "{length}");
    assert!((width - (600.0 * 40.0 / 110.0 + 6.35)).abs() < 1e-6, "{width}");
    assert!((thickness - 19.05).abs() < 1e-9, "as thick as the job's own");
    // 224.5 mm is 8.84 in: a dressed 1 x 10 is 9 1/4 in wide (PS 20-25).
    assert_eq!(large.dressed.as_deref(), Some("1 x 10"));
    assert_eq!(
        words::sizes::finished(large, LengthUnit::Millimetres),
        "600 x 218.2 mm (about 23 5/8 x 8 19/32 in)"
    );
}

/// 1.5 mm is the limit, see above: a bar 0.3 mm thick is sound at five times, 550 x 200 mm, which needs a board
/// of 734.2 mm; at 0.1 mm it takes 1650 x 600 mm, and more board than the machine has room for.
#[test]
fn a_huge_least_sound_size_is_told_in_words() {
    let of_least = |thickness, wanted| {
        let rows = rows(&bar_of(thickness), wanted);
        let drawn = drawn(&rows);
        let others = rows.iter().zip(&drawn).filter(|(row, _)| row.kind != RowKind::LeastSound);
        assert!(others.clone().count() > 0 && others.clone().all(|(_, drawn)| *drawn));
        let least = rows.iter().position(|row| row.kind == RowKind::LeastSound).unwrap();
        (drawn[least], rows[least].name.clone(), rows[least].severity())
    };
    assert_eq!(of_least(0.3, "drawn"), (true, SizeName::LeastSound, Severity::Sound));
    let walls = SizeName::LeastSoundWalls;
    assert_eq!(of_least(0.1, "drawn"), (false, walls.clone(), Severity::Unsound));
    // Where somebody asks for as much, there is nothing to spare the others.
    assert_eq!(of_least(0.1, "drawn, 1.7m"), (true, walls, Severity::Unsound));
}

#[test]
fn a_name_for_the_largest_is_kept() {
    let rows = rows(&bar(), "As large as it goes=fit");
    assert!(rows.iter().any(|row| row.kind == RowKind::LargestForBoard
        && row.name == SizeName::Given("As large as it goes".to_owned())));
    assert_eq!(rows.iter().filter(|row| row.kind == RowKind::Picked).count(), 0);
}

#[test]
fn sizes_are_read_as_people_write_them() {
    let read = |text: &str| parse_sizes(text, LengthUnit::InchFraction);
    let one = |text: &str| read(text).unwrap().remove(0);
    let named = |name: &str, size| NamedSize { name: SizeName::Given(name.to_owned()), size };
    assert_eq!(one("8"), named("8", Size::Length(Mm::from_inches(8.0))));
    assert_eq!(one("8 1/2 in"), named("8 1/2 in", Size::Length(Mm::from_inches(8.5))));
    assert_eq!(one("200mm wide"), named("200mm wide", Size::Width(Mm::new(200.0))));
    assert_eq!(one("For the hall = 75%"), named("For the hall", Size::Factor(0.75)));
    assert_eq!(one("FIT").size, Size::Fit);
    assert_eq!(read("8,,10,").unwrap().len(), 2);
    assert_eq!(read(" , "), Err(SizesError::None));
    assert_eq!(read("huge"), Err(SizesError::NotASize { text: "huge".to_owned() }));
    assert_eq!(read("x%"), Err(SizesError::NotASize { text: "x%".to_owned() }));
    let many = vec!["8"; 49].join(",");
    assert_eq!(read(&many), Err(SizesError::TooMany { count: 49 }));
}

#[test]
fn a_size_that_is_none_is_refused() {
    let job = bar();
    let measured = measure(&job);
    let ratings = rate(&job, &measured);
    for text in ["0", "-3in", "0%", "nan%", "1e9%"] {
        let wanted = parse_sizes(text, LengthUnit::Millimetres).unwrap();
        let prices = Prices::default();
        let refused = sizes(&job, &measured, &ratings, &wanted, &prices, &|_| None).err();
        assert_eq!(refused, Some(SizesError::NoSuchSize { name: SizeName::Given(text.to_owned()) }));
    }
}

#[test]
fn times_are_told_as_people_say_them() {
    assert_eq!(words::sizes::minutes(None), "not worked out");
    assert_eq!(words::sizes::minutes(Some(37.2)), "38 min");
    assert_eq!(words::sizes::minutes(Some(125.0)), "2 h 05 min");
    assert_eq!(words::sizes::minutes(Some(59.5)), "60 min");
    assert_eq!(words::sizes::minutes(Some(f64::NAN)), "not worked out");
}

#[test]
fn the_command_line_sets_versions_side_by_side() {
    let design = "sample-designs/gate-sign.svg";
    for between in ["woods", "cutters", "sizes"] {
        let text = spelk(&["compare", design, "--between", between]);
        assert_eq!((text.status, text.err.as_str()), (0, ""));
        let starred = text.out.lines().filter(|line| line.starts_with("* ")).count();
        assert_eq!(starred, 2, "the job as it is, and what the star means: {}", text.out);
        let json = spelk(&["compare", design, "--between", between, "--json"]);
        let json: serde_json::Value = serde_json::from_str(&json.out).unwrap();
        assert_eq!(json["format"], "spelk.compare");
        let versions = json["versions"].as_array().unwrap();
        for version in versions {
            let name = version["name"].as_str().unwrap();
            assert!(text.out.contains(name), "{name} is missing in {}", text.out);
        }
        let now: Vec<_> = versions.iter().filter(|version| version["is_now"] == true).collect();
        assert_eq!(now.len(), 1);
        // The job as it is comes to what its proof says.
        let proof = spelk(&["proof", design, "--json"]);
        let proof: serde_json::Value = serde_json::from_str(&proof.out).unwrap();
        for field in ["factor", "length_mm", "width_mm"] {
            assert_eq!(now[0][field], proof["size"][field], "{field}");
        }
        assert_eq!(now[0]["verdict"], proof["verdict"]);
    }
}
