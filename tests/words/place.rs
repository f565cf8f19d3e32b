use super::{Said, compare};
use spelk::words::place;

#[test]
fn place() {
    let mut said = Said::default();
    said.line("place::NOWHERE_CLEAR", place::NOWHERE_CLEAR);
    said.line("place::clear_up_to", place::clear_up_to("83"));
    compare("place", &said);
}
