//! Prices: board feet by the published rules, every line by hand, and the shop's own kept.

use spelk::proof::price::{BoardFeet, Price, PriceItem, PricedPiece, price};
use spelk::shop::{FeetRule, Money, MoneyPlace, PricePart, Prices, Shop, SignAt};
use spelk::units::{LengthUnit, Mm};
use spelk::words;

fn inches(sides: [f64; 3]) -> [Mm; 3] {
    sides.map(Mm::from_inches)
}

/// 36 x 10 x 1 in, a tenth of a square metre of face, an hour and a half.
fn piece() -> PricedPiece {
    PricedPiece {
        wood: "cherry_black".to_owned(),
        wood_name: "Cherry, black".to_owned(),
        board: inches([36.0, 10.0, 1.0]),
        area: 1.0e5,
        minutes: Some(90.0),
    }
}

fn amounts(price: &Price) -> Vec<(PriceItem, Option<f64>)> {
    price.lines.iter().map(|line| (line.item, line.amount)).collect()
}

/// PS 20-25 sec. 2: thickness x width x length in feet / 12; read in a secondary source.
#[test]
fn board_feet_by_true_and_by_nominal_size() {
    let count = |sides, rule| BoardFeet::count(inches(sides), rule);
    assert_eq!(count([96.0, 6.0, 1.0], FeetRule::TrueSize).feet, 4.0);
    let two_by_four = count([96.0, 4.0, 2.0], FeetRule::TrueSize);
    assert_eq!(two_by_four.feet, 5.33);
    assert!((two_by_four.unrounded - 16.0 / 3.0).abs() < 1e-12);
    // The same boards as they measure once dressed: nominal 1 x 6 is 3/4 x 5 1/2, 2 x 4 is 1 1/2 x 3 1/2.
    assert_eq!(count([96.0, 5.5, 0.75], FeetRule::Nominal).feet, 4.0);
    assert_eq!(count([96.0, 3.5, 1.5], FeetRule::Nominal).feet, 5.33);
    // No dressed size is 14 in wide.
    assert_eq!(count([96.0, 14.0, 0.75], FeetRule::Nominal).feet, 7.0);
    assert!(words::price::board_feet(&count([96.0, 5.5, 0.75], FeetRule::Nominal)).contains("1 x 6 nominal"));
}

/// NHLA rules, read in the American Hardwood Export Council's guide (the first) and second hand (the
/// others): the surface measure is rounded before it is multiplied.
#[test]
fn board_feet_by_surface_measure() {
    let count = |sides| BoardFeet::count(inches(sides), FeetRule::SurfaceMeasure);
    let guide = count([96.0, 6.25, 2.0]);
    assert_eq!(guide.feet, 8.0);
    assert!((guide.unrounded - 8.333_333_333).abs() < 1e-9);
    assert_eq!(
        words::price::board_feet(&guide),
        "8 board feet: surface measure 4.17 rounded to 4 whole, times 2 in"
    );
    for (sides, feet) in [([96.0, 6.5, 1.0], 4.0), ([144.0, 8.0, 1.0], 8.0), ([156.0, 10.0, 1.0], 11.0)] {
        assert_eq!(count(sides).feet, feet, "{sides:?}");
    }
    // Surfaced 13/16 is sold as 4/4, surfaced 1 3/4 as 8/4 (NHLA, from memory).
    assert_eq!(count([96.0, 6.5, 0.8125]).feet, 4.0);
    assert_eq!(count([96.0, 6.5, 1.75]).feet, 8.0);
    // A board small enough to round to nothing is still sold.
    assert_eq!(count([12.0, 5.0, 0.75]).feet, 1.0);
    assert_eq!(count([0.0, 5.0, 0.75]).feet, 0.0);
}

/// By hand, from the numbers set here.
#[test]
fn every_line_of_a_price() {
    let mut prices = Prices { other_woods: Some(8.0), minimum: 50.0, tax: 0.08, ..Prices::default() };
    prices.money.round_up_to = 5.0;
    let price = price(&prices, &piece());
    assert_eq!(
        amounts(&price),
        [
            (PriceItem::Wood, Some(25.0)),      // 2.5 board feet x 1.25 x 8
            (PriceItem::Machine, Some(30.0)),   // 1.5 h x 20
            (PriceItem::CutterWear, Some(4.5)), // 1.5 h x 3
            (PriceItem::Bench, Some(30.0)),     // 30 min + 300 x 0.1, at 30 an hour
            (PriceItem::Finish, Some(4.0)),     // 40 x 0.1
            (PriceItem::Cost, Some(93.5)),
            (PriceItem::Margin, Some(31.17)),    // 93.5 / 0.75 - 93.5
            (PriceItem::RoundingUp, Some(0.33)), // 124.67 to 125
            (PriceItem::BeforeTax, Some(125.0)),
            (PriceItem::Tax, Some(10.0)),
            (PriceItem::Total, Some(135.0)),
        ]
    );
    assert_eq!(price.total, Some(135.0));
    assert_eq!(words::price::total(&price, &prices.money, LengthUnit::Millimetres), "$135.00");
}

#[test]
fn a_piece_is_not_sold_for_less_than_the_minimum() {
    let prices = Prices { minimum: 400.0, ..Prices::default() };
    let price = price(&prices, &piece());
    // 2.5 x 1.25 x 10 + 30 + 4.5 + 30 + 4 = 99.75; / 0.75 = 133.
    assert_eq!(price.line(PriceItem::Margin).unwrap().amount, Some(33.25));
    assert_eq!(price.line(PriceItem::Minimum).unwrap().amount, Some(267.0));
    assert_eq!(price.total, Some(400.0));
}

#[test]
fn what_is_not_known_is_not_guessed() {
    let timeless = PricedPiece { minutes: None, ..piece() };
    let price_of = |prices: &Prices, piece: &PricedPiece| price(prices, piece);
    let untimed = price_of(&Prices::default(), &timeless);
    assert_eq!(untimed.total, None);
    assert_eq!(untimed.line(PriceItem::Machine).unwrap().amount, None);
    assert_eq!(untimed.line(PriceItem::Bench).unwrap().amount, Some(30.0), "what is known is told");
    assert!(
        words::price::total(&untimed, &Money::default(), LengthUnit::Millimetres)
            .contains("time is not worked out")
    );
    // Where nothing is charged by the machine's hour, its time does not matter.
    let free = Prices { machine_hour: 0.0, cutter_hour: 0.0, ..Prices::default() };
    assert!(price_of(&free, &timeless).total.is_some());
    let no_wood = Prices { other_woods: None, ..Prices::default() };
    assert_eq!(price_of(&no_wood, &piece()).total, None);
    let mut own = no_wood;
    own.woods.insert("cherry_black".to_owned(), 12.0);
    assert_eq!(price_of(&own, &piece()).line(PriceItem::Wood).unwrap().amount, Some(37.5));
}

#[test]
fn lines_add_up_to_the_last_digit() {
    for cents in 0..200 {
        let mut prices = Prices { other_woods: Some(7.0 + f64::from(cents) * 0.01), ..Prices::default() };
        prices.money.round_up_to = f64::from(cents % 3) * 0.25;
        prices.money.cash_step = f64::from(cents % 4) * 0.05;
        prices.tax = 0.0725;
        let piece = PricedPiece { minutes: Some(f64::from(cents) * 1.7), ..piece() };
        let price = price(&prices, &piece);
        let cents_of = |amount: f64| (amount * 100.0).round() as i64;
        let sum = |items: &dyn Fn(PriceItem) -> bool| -> i64 {
            price.lines.iter().filter(|l| items(l.item)).map(|l| cents_of(l.amount.unwrap())).sum()
        };
        let total = cents_of(price.total.unwrap());
        assert_eq!(sum(&|item| item < PriceItem::Cost), sum(&|item| item == PriceItem::Cost));
        let after = [
            PriceItem::Cost,
            PriceItem::Margin,
            PriceItem::Minimum,
            PriceItem::RoundingUp,
            PriceItem::Tax,
            PriceItem::CashRounding,
        ];
        assert_eq!(sum(&|item| after.contains(&item)), total);
    }
}

#[test]
fn money_is_written_as_the_shop_sets_it() {
    let yen = Money { sign: "¥".to_owned(), decimals: 0, ..Money::default() };
    assert_eq!(yen.show(1_234_567.5), "¥1,234,568");
    let spaced = Money {
        sign: "€".to_owned(),
        sign_at: SignAt::Back,
        decimal_mark: ',',
        thousands_mark: Some(' '),
        ..Money::default()
    };
    assert_eq!(spaced.show(12_345.675), "12 345,68\u{a0}€");
    assert_eq!(spaced.show(-0.001), "0,00\u{a0}€");
    let up = Money { round_up_to: 0.5, ..Money::default() };
    assert_eq!([up.rounded_up(12.01), up.rounded_up(12.5), up.rounded_up(0.0)], [12.5, 12.5, 0.0]);
}

/// Unicode CLDR as babel writes it; `tests/recipes/money.py` wrote the figures.
#[test]
fn money_is_written_as_each_place_writes_it() {
    let mut figures = csv::Reader::from_reader(include_str!("data/money.csv").as_bytes());
    let mut compared = 0;
    for figure in figures.deserialize() {
        let (tag, amount, written): (String, f64, String) = figure.unwrap();
        let place = MoneyPlace::of_locale(&tag).unwrap();
        assert_eq!(place.tag, tag);
        assert_eq!(place.money.show(amount), written, "{amount} in {tag}");
        compared += 1;
    }
    assert_eq!(compared, 8 * MoneyPlace::all().len());
    for place in MoneyPlace::all() {
        let prices = Prices { money: place.money.clone(), ..Prices::default() };
        assert!(prices.problems().is_empty(), "{}", place.name);
        let missing = spelk::sheet::pdf::missing(&place.money.show(1_234_567.89));
        assert!(missing.is_empty(), "{}: {missing:?} is in no typeface of ours", place.name);
    }
}

#[test]
fn a_locale_names_its_place() {
    let tag = |locale: &str| MoneyPlace::of_locale(locale).map(|place| place.tag.as_str());
    for (locale, place) in [
        ("en_GB.UTF-8", "en-GB"),
        ("de_AT@euro", "de-AT"),
        ("zh-Hant-TW", "zh-TW"),
        ("en_SE", "sv-SE"),
        ("rm_CH", "fr-CH"),
        ("JA", "ja-JP"),
    ] {
        assert_eq!(tag(locale), Some(place), "{locale}");
    }
    // Spoken in several places with several currencies, or no place at all.
    for locale in ["en", "de", "C", "C.UTF-8", "POSIX", "", "xx_YY", "_", "\u{fffd}-"] {
        assert_eq!(tag(locale), None, "{locale}");
    }
}

/// Cash rounding to the nearest, half a step up (common practice, no source for the halves).
#[test]
fn what_is_paid_goes_to_the_nearest_step_of_cash() {
    let swiss = &MoneyPlace::of_locale("de_CH").unwrap().money;
    assert_eq!(swiss.cash_step, 0.05, "CLDR's supplemental currency data");
    let mut prices = Prices { other_woods: Some(8.0), tax: 0.081, money: swiss.clone(), ..Prices::default() };
    let price_of = |prices: &Prices| price(prices, &piece());
    // 93.5 / 0.75 = 124.67, and 10.10 tax: 134.77.
    let paid = price_of(&prices);
    assert_eq!(paid.line(PriceItem::CashRounding).unwrap().amount, Some(-0.02));
    assert_eq!(words::price::total(&paid, swiss, LengthUnit::Millimetres), "CHF\u{a0}134.75");
    prices.money.cash_step = 1.0;
    assert_eq!(price_of(&prices).total, Some(135.0));
    prices.money.cash_step = 0.0;
    let unrounded = price_of(&prices);
    assert!(unrounded.line(PriceItem::CashRounding).is_none());
    assert_eq!(unrounded.total, Some(134.77));
}

#[test]
fn prices_that_do_not_say_how_money_is_written_leave_it_to_the_system() {
    let folder = tempfile::tempdir().unwrap();
    let usual = &MoneyPlace::of_locale("de_AT").unwrap().money;
    let (shop, _) = Shop::open(folder.path(), usual);
    assert!(shop.prices.money == *usual && shop.prices.are_examples());
    std::fs::write(folder.path().join("prices.json"), r#"{ "bench_hour": 52 }"#).unwrap();
    let (shop, _) = Shop::open(folder.path(), usual);
    assert!(shop.prices.money == *usual && shop.prices.bench_hour == 52.0);
    // Once kept, they stay as they are wherever the shop is opened.
    Shop::keep_prices(folder.path(), &shop.prices).unwrap();
    assert_eq!(Shop::open(folder.path(), &Money::default()).0.prices.money, *usual);
}

#[test]
fn prices_are_kept_and_refused_where_they_make_no_sense() {
    let folder = tempfile::tempdir().unwrap();
    let (shop, notices) = Shop::open(folder.path(), &Money::default());
    assert!(notices.is_empty() && shop.prices.are_examples());
    let own = Prices { bench_hour: 45.5, ..Prices::default() };
    Shop::keep_prices(folder.path(), &own).unwrap();
    let (shop, notices) = Shop::open(folder.path(), &Money::default());
    assert!(notices.is_empty(), "{notices:?}");
    assert_eq!(shop.prices, own);
    assert!(!shop.prices.are_examples());
    let wrong = Prices { margin: 1.0, minimum: f64::NAN, ..Prices::default() };
    let parts: Vec<PricePart> = wrong.problems().into_iter().map(|problem| problem.part).collect();
    assert_eq!(parts, [PricePart::Minimum, PricePart::Margin]);
    assert!(Shop::keep_prices(folder.path(), &wrong).is_err());
    // A file that says nothing of a part takes the example's; one that is damaged is told of, and set aside when others are kept.
    let path = folder.path().join("prices.json");
    std::fs::write(&path, r#"{ "bench_hour": 52 }"#).unwrap();
    assert_eq!(Shop::open(folder.path(), &Money::default()).0.prices.bench_hour, 52.0);
    std::fs::write(&path, "{").unwrap();
    let (shop, notices) = Shop::open(folder.path(), &Money::default());
    assert!(shop.prices.are_examples() && notices.len() == 1);
    let aside = Shop::keep_prices(folder.path(), &own).unwrap().expect("it is set aside");
    assert_eq!(std::fs::read_to_string(aside.kept_as).unwrap(), "{");
    assert_eq!(Shop::open(folder.path(), &Money::default()).0.prices, own);
}
