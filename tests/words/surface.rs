use super::{Said, compare, say};
use spelk::words::surface;

#[test]
fn surface() {
    let mut said = Said::default();
    say!(said, surface::NOT_SIMULATED);
    compare("surface", &said);
}
