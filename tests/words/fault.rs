use super::{Said, compare, say};
use spelk::words::fault;

#[test]
fn fault() {
    let mut said = Said::default();
    let report = "recovery/fault.txt";
    let version = "0.1.0 (commit unknown, linux x86_64)";
    say!(said, fault::report(version, "Proofing 12", "src/proof/mod.rs:88:5", Some("a wall has two sides")));
    say!(said, fault::report(version, "main", "src/app/mod.rs:9:1", None));
    say!(said, fault::reported(report));
    say!(said, fault::left(report));
    say!(said, fault::broke_off("Reed gate", report));
    say!(said, fault::window_stopped(None));
    say!(said, fault::window_stopped(Some(report)));
    compare("fault", &said);
}
