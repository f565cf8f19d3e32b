use super::{Said, compare};
use spelk::design::lettering::{TactileCheck, TactileMeasure};
use spelk::words::lettering;

#[test]
fn lettering() {
    let mut said = Said::default();
    said.line("lettering::TACTILE_SOURCE", lettering::TACTILE_SOURCE);
    said.line("lettering::TACTILE_NOT_MEASURED", lettering::TACTILE_NOT_MEASURED);
    said.line("lettering::TACTILE_BRAILLE", lettering::TACTILE_BRAILLE);
    said.line("lettering::against_the_standard", lettering::against_the_standard());
    said.line("lettering::tactile_source", lettering::tactile_source());
    let (verdict, number) = ("lettering::tactile_verdict", "lettering::tactile_number");
    for (measure, measured, least, most) in [
        (TactileMeasure::SmallLetters, Some(5.0), 0.0, 0.0),
        (TactileMeasure::WidthOfO, Some(80.0), 55.0, 110.0),
        (TactileMeasure::HeightOfI, None, 0.625, 2.0),
        (TactileMeasure::StrokeOfI, Some(9.25), 0.0, 15.0),
        (TactileMeasure::LeastGap, Some(0.05), 0.125, f64::INFINITY),
        (TactileMeasure::MostGap, Some(0.2), 0.0, 0.37),
        (TactileMeasure::LineSpacing, Some(150.0), 135.0, 170.0),
    ] {
        let check = TactileCheck { measure, measured, least, most };
        said.line("TactileMeasure::label", measure.label());
        said.line(verdict, lettering::tactile_verdict(&check));
        said.line(number, lettering::tactile_number(&check));
        said.line("lettering::tactile_line", lettering::tactile_line(&check));
    }
    compare("lettering", &said);
}
