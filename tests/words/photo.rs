use super::{Said, compare, say};
use spelk::words::photo;

#[test]
fn photo() {
    let mut said = Said::default();
    say!(said, photo::drawn_without("board.jpg", &"is an empty picture"));
    compare("photo", &said);
}
