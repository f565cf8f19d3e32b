use super::{Said, UNITS, compare};
use spelk::proof::price::{BoardFeet, PricedPiece, price as price_of};
use spelk::shop::{FeetRule, Prices};
use spelk::units::Mm;
use spelk::words::price;

#[test]
fn prices_in_words() {
    let mut said = Said::default();
    let inches = |sides: [f64; 3]| sides.map(Mm::from_inches);
    let piece = PricedPiece {
        wood: "cherry_black".to_owned(),
        wood_name: "Cherry, black".to_owned(),
        board: inches([36.0, 10.0, 1.0]),
        area: 1.0e5,
        minutes: Some(90.0),
    };
    let mut whole = Prices { other_woods: Some(8.0), minimum: 400.0, tax: 0.08, ..Prices::default() };
    (whole.money.round_up_to, whole.money.cash_step) = (3.0, 0.1);
    let bare = Prices { other_woods: None, machine_hour: 0.0, ..Prices::default() };
    let untimed = PricedPiece { minutes: None, ..piece.clone() };
    for (prices, piece) in [(&whole, &piece), (&bare, &untimed)] {
        let priced = price_of(prices, piece);
        for unit in UNITS {
            for line in &priced.lines {
                said.line(&format!("price::how({:?})", line.item), price::how(line, &prices.money, unit));
            }
            said.line("price::total", price::total(&priced, &prices.money, unit));
        }
    }
    for (sides, rule) in [
        ([96.0, 6.0, 1.0], FeetRule::TrueSize),
        ([96.0, 5.5, 0.75], FeetRule::Nominal),
        ([96.0, 14.0, 0.75], FeetRule::Nominal),
        ([96.0, 6.25, 2.0], FeetRule::SurfaceMeasure),
        ([12.0, 5.0, 0.75], FeetRule::SurfaceMeasure),
    ] {
        said.line("price::board_feet", price::board_feet(&BoardFeet::count(inches(sides), rule)));
    }
    compare("price", &said);
}
