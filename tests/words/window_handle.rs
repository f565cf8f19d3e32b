use super::{Said, UNITS, compare, say};
use spelk::job::Done;
use spelk::units::Mm;
use spelk::words::window::{documents, handle, pieces, work};

const ERROR: &str = "No such file or directory";

#[test]
fn what_is_said_after_a_command() {
    let mut said = Said::default();
    say!(said, handle::kept("Scrub cutter"));
    say!(said, handle::kept_on_the_rack("Offcut"));
    say!(said, handle::is_the_jobs_board("Offcut"));
    for unit in UNITS {
        for is_moved in [true, false] {
            say!(said, handle::found_place([Mm::new(90.0), Mm::new(12.0)], Mm::new(2.0), is_moved, unit));
        }
        say!(said, handle::carved_as_lines(1, Mm::new(3.0), unit));
        say!(said, handle::carved_as_lines(4, Mm::new(3.0), unit));
    }
    say!(said, handle::clear_place_up_to(0.784));
    let done = Done::Combined { count: 3, name: "rim".to_owned() };
    let covered = ["dot".to_owned()];
    say!(said, handle::edited(&done, &[], None));
    say!(said, handle::edited(&done, &covered, Some("gate.svg")));
    say!(said, handle::walls_on_record(4));
    say!(said, handle::offer_applied(&super::advice::quarter_turn(), UNITS[0]));
    say!(said, handle::mended("Thickened 3 walls.", None));
    say!(said, handle::mended("Thickened 3 walls.", Some("gate.svg")));
    say!(said, handle::limit_from_coupon("Flat 1/8 in"));
    say!(said, handle::changed_but_unreadable("gate.svg", &"is empty"));
    say!(said, handle::not_reread("gate.svg", &"is empty"));
    say!(said, handle::reread("gate.svg"));
    say!(said, handle::drawing_size("400 x 120 mm"));
    say!(said, handle::opened("Reed gate", 1, 0, None));
    say!(said, handle::opened("Reed gate", 3, 2, Some("Thin stems break first.")));
    say!(said, handle::not_opened("gate.svg", &"is empty"));
    say!(said, handle::unreadable("gate.svg", &ERROR));
    said.line("handle::cannot_be_set", handle::not_opened("REED", &handle::cannot_be_set(&"no font")));
    say!(said, handle::is_open_already("gate.svg"));
    say!(said, handle::saved("gate.spelk"));
    say!(said, handle::wrote("gate.svg"));
    say!(said, handle::showing("gate.pdf"));
    let none = std::io::Error::other(documents::NO_PROGRAM_FOR_IT);
    say!(said, handle::not_shown("gate.pdf", &none));
    say!(said, handle::of_file("gate.pdf", "2 letters are missing"));
    say!(said, handle::not_written("gate.pdf", "no size is on the list"));
    say!(said, handle::cannot_be_written("gate.pdf", &ERROR));
    say!(said, handle::not_kept("recovery", &ERROR));
    say!(said, handle::kept_not_removed(&ERROR));
    say!(said, handle::kept_not_read("0-1.spelk", &"is empty"));
    say!(said, handle::title("Reed gate", true));
    compare("window_handle_facts", &said);
}

#[test]
fn what_is_said_of_files() {
    let mut said = Said::default();
    say!(said, documents::changes_not_kept(&ERROR));
    say!(said, documents::job_that(&"is empty"));
    say!(said, documents::saved_before_as("gate.spelk"));
    say!(said, documents::and_more(3));
    say!(said, documents::has_changes("Reed gate"));
    say!(said, documents::drop_of_folder("signs"));
    say!(said, documents::no_such_file(&"gone.svg"));
    say!(said, documents::no_such_folder(&"/shop/gone"));
    say!(said, documents::opened_before("geese.spelk"));
    say!(said, documents::folder("signs"));
    say!(said, documents::drop_of_job("gate.spelk"));
    say!(said, documents::drop_of_drawing("gate.svg", None));
    say!(said, documents::drop_of_drawing("gate.svg", Some(("Basswood, American", "Flat 1/8 in"))));
    compare("window_documents_facts", &said);
}

#[test]
fn what_is_said_of_work() {
    let mut said = Said::default();
    say!(said, work::no_thread(&"Resource temporarily unavailable"));
    say!(said, work::broke_off("Reed gate"));
    say!(said, work::mark_unreadable("mark.png", &ERROR));
    say!(said, work::mark_unusable("mark.png", &"is no picture"));
    compare("window_work_facts", &said);
}

#[test]
fn pieces() {
    let mut said = Said::default();
    say!(said, pieces::add("Reed gate"));
    say!(said, pieces::of_piece("Copies", "Reed gate"));
    say!(said, pieces::laid(3, 4));
    say!(said, pieces::each(Some(12.44), Some("14.00"), Some("4.10")));
    say!(said, pieces::each(Some(12.44), Some("14.00"), None));
    say!(said, pieces::each(Some(12.44), None, None));
    say!(said, pieces::each(None, None, None));
    say!(said, pieces::tried(24, 96));
    say!(said, pieces::named(20));
    say!(said, pieces::files(1, "sign-1-coaster.svg"));
    say!(said, pieces::files(3, "sign-1-coaster.svg"));
    say!(said, pieces::arranged(14, 0, Mm::new(612.0), UNITS[0]));
    say!(said, pieces::arranged(1, 2, Mm::new(612.0), UNITS[1]));
    compare("window_pieces_facts", &said);
}
