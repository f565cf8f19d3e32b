use super::{Said, compare, say};
use spelk::words::template;

#[test]
fn template() {
    let mut said = Said::default();
    say!(said, template::too_many_pages(240, 120));
    compare("template", &said);
}
