use super::{Said, UNITS, compare, say};
use glam::{DVec2, dvec2};
use spelk::design::{Design, DesignError, Element, Sharpness};
use spelk::geometry::{FillRule, Grid, Rect, Region};
use spelk::notice::Notices;
use spelk::shop::PhotoError;
use spelk::trace::{Colour, Setting, Step, Trace, TraceError};
use spelk::units::Mm;
use spelk::words::trace;

fn traced() -> Trace {
    let page = Rect::new(DVec2::ZERO, dvec2(300.0, 212.1));
    let grid = Grid::covering(page);
    let square = |a: f64, b: f64| vec![DVec2::splat(a), dvec2(b, a), DVec2::splat(b), dvec2(a, b)];
    let region = Region::clean(grid, &[square(10.0, 90.0), square(20.0, 40.0)], FillRule::EvenOdd);
    let design = Design {
        name: "logo".to_owned(),
        elements: vec![Element::new("outline", region)],
        page: Some(page),
        grid,
        notices: Notices::new(),
        sharpness: Some(Sharpness { pixel: Mm::new(0.2), tolerance: Mm::new(0.05) }),
    };
    Trace { design, pixels: [1500, 1061], level: Some(0.47), colours: Vec::new(), specks: 14 }
}

#[test]
fn trace() {
    let mut said = Said::default();
    for unit in UNITS {
        say!(said, trace::sharpness(Mm::new(0.2), Mm::new(0.3), unit));
        say!(said, trace::too_coarse(1500, Mm::new(0.3), unit));
        say!(said, trace::known_within(Mm::new(0.3), unit));
        said.line("trace::done", trace::done(&traced(), unit));
        said.line("trace::done", trace::done(&Trace { level: None, ..traced() }, unit));
    }
    let colour = |is_paper: bool| Colour { rgb: [180, 70, 30], share: 0.125, is_paper };
    say!(said, trace::colour(1, &colour(true)));
    say!(said, trace::colour(2, &colour(false)));
    say!(said, trace::COLOURS_COUNT_FROM_1);
    say!(said, trace::READING);
    for step in [Step::Preparing, Step::Following, Step::Fitting] {
        say!(said, trace::step(step));
    }
    say!(said, trace::specks(1));
    say!(said, trace::specks(14));
    say!(said, trace::CORNERS_NEED_BOTH);
    say!(said, trace::BOTH_NEED_CORNERS);
    say!(said, trace::NO_SIZE);
    say!(said, trace::NO_PICTURE_INSIDE);
    say!(said, trace::several_inside(3));
    say!(said, trace::not_inside(4, 3));
    let mut error = |name: &str, error: &TraceError| said.line(name, error);
    error("TraceError::Photo", &TraceError::Photo(PhotoError::NoPixels));
    error("TraceError::Size", &TraceError::Size);
    let settings = [
        Setting::Level,
        Setting::Speck,
        Setting::Gap,
        Setting::CornerAngle,
        Setting::Tolerance,
        Setting::Colours,
    ];
    for setting in settings {
        error("TraceError::Setting", &TraceError::Setting(setting));
    }
    error("TraceError::OneColour", &TraceError::OneColour);
    error("TraceError::NotAnOutline", &TraceError::NotAnOutline { specks: 40_000 });
    error("TraceError::Nothing", &TraceError::Nothing { specks: 12 });
    error("TraceError::Design", &TraceError::Design(DesignError::Tangled));
    error("TraceError::Cancelled", &TraceError::Cancelled);
    compare("trace", &said);
}
