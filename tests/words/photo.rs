use super::{Said, compare, say};
use spelk::words::photo;
use std::io::{Error, ErrorKind};

#[test]
fn photo() {
    let mut said = Said::default();
    say!(said, photo::FLAT_CORNERS);
    say!(said, photo::CROSSED_CORNERS);
    say!(said, photo::NO_PIXELS);
    say!(said, photo::unreadable(&Error::from(ErrorKind::NotFound)));
    say!(said, photo::not_a_picture(&"the file ends too early"));
    say!(said, photo::too_large(40_000, 30_000));
    compare("photo", &said);
}
