use super::{Said, compare};
use spelk::design::DesignError;
use spelk::design::lettering::LetteringError;
use spelk::job::{Quantity, Rejected};
use spelk::proof::rack::UnusableBoard;
use spelk::shop::Check;
use spelk::units::Mm;
use std::fmt::Display;

#[test]
fn errors() {
    let mut said = Said::default();
    let mut say = |name: &str, error: &dyn Display| said.line(name, error);
    let (length, least) = (Mm::new(-1.0), Mm::new(0.001));
    say("Rejected::Length", &Rejected::Length { quantity: Quantity::Depth, length, least });
    say("Rejected::Moisture", &Rejected::Moisture { moisture: 301.0 });
    say("Rejected::Machine", &Rejected::Machine { quantity: Quantity::HoldDown, value: -1.0 });
    say("Rejected::Feed", &Rejected::Feed { quantity: Quantity::CutterFeed, feed: 0.0 });
    say("Rejected::Factor", &Rejected::Factor { factor: 0.0 });
    say("Rejected::NoSuchElement", &Rejected::NoSuchElement);
    say("Rejected::NoElementNamed", &Rejected::NoElementNamed { name: "rim".to_owned() });
    say("Rejected::NoSuchBlemish", &Rejected::NoSuchBlemish);
    say("Rejected::BlemishOffBoard", &Rejected::BlemishOffBoard { beyond: Mm::new(40.0) });
    say("Rejected::NoLength", &Rejected::NoLength { check: Check::Moisture });
    say("Rejected::NoName", &Rejected::NoName);
    say("Rejected::TooFew", &Rejected::TooFew { needed: 1 });
    say("Rejected::TooFew", &Rejected::TooFew { needed: 2 });
    say("Rejected::LastElement", &Rejected::LastElement);
    say("Rejected::NothingLeft", &Rejected::NothingLeft { name: "rim".to_owned() });
    say("Rejected::Lettering", &Rejected::Lettering(LetteringError::TooLong));
    say("Rejected::Design", &Rejected::Design(DesignError::TooSmall));
    let why = Rejected::BlemishOffBoard { beyond: Mm::new(40.0) };
    say("UnusableBoard", &UnusableBoard { board: "cherry 30".to_owned(), why });
    compare("errors", &said);
}
