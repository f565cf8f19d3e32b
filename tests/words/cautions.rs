use super::{Said, compare, say};
use spelk::job::Ends;
use spelk::words::cautions;

#[test]
fn cautions() {
    let mut said = Said::default();
    say!(said, cautions::CAUTIONS_FIRST);
    for (heading, caution, source) in cautions::CAUTIONS {
        said.line("cautions::CAUTIONS", [heading, caution, source].join("\n"));
    }
    for ends in [Ends::Held, Ends::Free] {
        said.line("cautions::after_carve", cautions::after_carve(ends).join("\n"));
    }
    compare("cautions", &said);
}
