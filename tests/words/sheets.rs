use super::{Said, UNITS, compare, say};
use spelk::job::{Ends, Treatment};
use spelk::units::Mm;
use spelk::words::sheets::{coupon, handout, paper, template};

#[test]
fn coupon_words() {
    let mut said = Said::default();
    let mm = Mm::new;
    say!(said, coupon::NAME);
    say!(said, coupon::KEY);
    say!(said, coupon::caption("Flat end, 1/8 in", mm(3.0), "Basswood, American"));
    say!(said, coupon::at_true_size("Flat end, 1/8 in, 3 mm deep, Basswood"));
    say!(said, coupon::rung(3, mm(0.75)));
    say!(said, coupon::point_rung(2, 20f64.to_radians()));
    say!(said, coupon::WALLS_ALONG);
    say!(said, coupon::WALLS_ACROSS);
    say!(said, coupon::POINTS_ALONG);
    say!(said, coupon::POINTS_ACROSS);
    say!(said, coupon::GROOVES);
    said.line("coupon::HOW", coupon::HOW.join("\n"));
    for unit in UNITS {
        say!(said, coupon::noted_in(unit));
        say!(said, coupon::thinnest_along(unit));
        say!(said, coupon::thinnest_across(unit));
        say!(said, coupon::carved_on(mm(3.0), unit));
    }
    compare("sheets_coupon", &said);
}

#[test]
fn handout_words() {
    let mut said = Said::default();
    say!(said, handout::NAME);
    say!(said, handout::WHY);
    say!(said, handout::key(0.5));
    say!(said, handout::questions(6));
    say!(said, handout::HOW);
    say!(said, handout::heading(2, "Gate sign"));
    compare("sheets_handout", &said);
}

#[test]
fn template_words() {
    let mut said = Said::default();
    let mm = Mm::new;
    say!(said, template::NAME);
    say!(said, template::title("Gate sign"));
    for unit in UNITS {
        let (size, middle) = ([mm(400.0), mm(120.0)], [mm(304.8), mm(101.6)]);
        say!(said, template::caption("Gate sign", size, middle, unit));
        say!(said, template::larger_than_board([mm(304.8), mm(101.6)], unit));
    }
    say!(said, template::JOIN);
    say!(said, template::joins("B2"));
    say!(said, template::too_many_pages(240, 120));
    compare("sheets_template", &said);
}

#[test]
fn paper_words() {
    let mut said = Said::default();
    say!(said, paper::BAR_100_MM);
    say!(said, paper::BAR_4_IN);
    say!(said, paper::PRINT);
    say!(said, paper::head("Bench sheet", "Gate sign"));
    say!(said, paper::page("Bench sheet", "A4", 1, 2));
    for treatment in Treatment::ALL {
        say!(said, paper::hatch(treatment));
    }
    for ends in [Ends::Held, Ends::Free] {
        say!(said, paper::ends(ends));
    }
    say!(said, paper::REFERENCE_EDGE);
    say!(said, paper::no_typeface(&['\u{42f}', '\u{391}']));
    say!(said, paper::NO_TYPEFACE_HINT);
    say!(said, paper::MARK_NOT_A_PICTURE);
    say!(said, paper::mark_damaged(&"the file ends too early"));
    compare("sheets_paper", &said);
}
