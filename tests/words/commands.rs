use super::{Said, compare, say};
use spelk::words::commands;

#[test]
fn commands_and_their_hovers() {
    let mut said = Said::default();
    for (name, caption) in commands::ALL {
        said.line(name, caption);
    }
    said.line("Caption::title", commands::EXPORT_COUPON.title());
    say!(said, commands::tip_with_keys("Show the whole board", "F"));
    say!(said, commands::undo_of("board length"));
    say!(said, commands::redo_of("board length"));
    say!(said, commands::job_in_menu("Reed gate", false));
    say!(said, commands::job_in_menu("Reed gate", true));
    say!(said, commands::open_recent("gate.svg"));
    say!(said, commands::open_sample("Garden gate sign"));
    say!(said, commands::show_job("Reed gate"));
    say!(said, commands::show_view("Relief"));
    say!(said, commands::show_view_key("Relief"));
    say!(said, commands::lengths_in("Millimetres"));
    say!(said, commands::theme("Dark"));
    say!(said, commands::job_of(1, 2, "Reed gate"));
    compare("commands", &said);
}
