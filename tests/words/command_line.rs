use super::{Said, compare, say};
use spelk::words::command_line;
use std::io::{Error, ErrorKind};
use std::path::Path;

#[test]
fn command_line() {
    let mut said = Said::default();
    let path = Path::new("out.pdf");
    say!(said, command_line::not_written(path, &Error::from(ErrorKind::StorageFull)));
    compare("command_line", &said);
}
