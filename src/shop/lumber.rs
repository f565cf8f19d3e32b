//! The sizes boards are sold in.

use crate::units::Mm;

/// A stock size of dressed lumber or surfaced hardwood.
#[derive(Clone, Debug, PartialEq)]
pub struct StockSize {
    /// As it is asked for: `2 x 8`, `5/4`.
    pub name: String,
    /// Face to face, as it measures.
    pub thickness: Mm,
    /// Edge to edge, as it measures; `None` where widths are as they come.
    pub width: Option<Mm>,
    /// Where the numbers come from.
    pub source: &'static str,
}

/// Nominal and dressed dry thickness, inches. American Softwood Lumber Standard PS 20-25, quoted in a
/// secondary source; 5/4 and 3 from memory.
const THICKNESSES: [(&str, f64); 5] = [("1", 0.75), ("5/4", 1.0), ("2", 1.5), ("3", 2.5), ("4", 3.5)];

/// Nominal and dressed dry width, inches. PS 20-25, quoted in a secondary source; 2, 3 and 5 from memory.
const WIDTHS: [(&str, f64); 8] =
    [("2", 1.5), ("3", 2.5), ("4", 3.5), ("5", 4.5), ("6", 5.5), ("8", 7.25), ("10", 9.25), ("12", 11.25)];

/// Hardwood surfaced two sides, inches: NHLA rules, from memory.
const SURFACED: [(&str, f64); 4] = [("4/4", 0.8125), ("5/4", 1.0625), ("6/4", 1.3125), ("8/4", 1.75)];

const DRESSED_SOURCE: &str = "dressed dry sizes of PS 20-25, read in a secondary source (5/4 and 3 thick, and 2, 3 and 5 wide: from memory)";
const SURFACED_SOURCE: &str = "NHLA thickness surfaced two sides, from memory; widths are as they come";

/// Slack for sizes worked out in two ways: a hundredth of a millimetre, far below what a planer repeats.
const HAIR: f64 = 0.01;

/// The smallest dressed lumber size at least this wide and thick; `None` where none is.
///
/// ```
/// # use spelk::{shop::dressed_size, units::Mm};
/// let size = dressed_size(Mm::from_inches(6.0), Mm::from_inches(0.7)).unwrap();
/// assert_eq!(size.name, "1 x 8");
/// assert_eq!(size.width, Some(Mm::from_inches(7.25)));
/// ```
pub fn dressed_size(width: Mm, thickness: Mm) -> Option<StockSize> {
    let (thick, dressed) = at_least(&THICKNESSES, thickness)?;
    let (wide, across) = at_least(&WIDTHS, width)?;
    Some(StockSize {
        name: format!("{thick} x {wide}"),
        thickness: dressed,
        width: Some(across),
        source: DRESSED_SOURCE,
    })
}

/// The thinnest hardwood surfaced two sides that is at least this thick; `None` where none is.
pub fn surfaced_size(thickness: Mm) -> Option<StockSize> {
    let (name, thickness) = at_least(&SURFACED, thickness)?;
    Some(StockSize { name: name.to_owned(), thickness, width: None, source: SURFACED_SOURCE })
}

fn at_least<'a>(sizes: &[(&'a str, f64)], needed: Mm) -> Option<(&'a str, Mm)> {
    let sizes = sizes.iter().map(|&(name, inches)| (name, Mm::from_inches(inches)));
    sizes.into_iter().find(|(_, size)| size.get() + HAIR >= needed.get())
}

/// Millimetres cubed in a board foot: 144 cubic inches (PS 20-25 sec. 2).
pub const BOARD_FOOT: f64 = 144.0 * 25.4 * 25.4 * 25.4;

/// A piece in board feet, by its true size.
pub fn board_feet(length: Mm, width: Mm, thickness: Mm) -> f64 {
    length.get() * width.get() * thickness.get() / BOARD_FOOT
}

#[cfg(test)]
mod tests {
    use super::*;

    /// PS 20-25, as the module says.
    #[test]
    fn nominal_sizes_come_to_their_dressed_sizes() {
        let inch = Mm::from_inches;
        let named =
            |width: f64, thickness: f64| dressed_size(inch(width), inch(thickness)).map(|size| size.name);
        assert_eq!(named(3.5, 0.75).as_deref(), Some("1 x 4"));
        assert_eq!(named(3.51, 0.76).as_deref(), Some("5/4 x 5"));
        assert_eq!(named(7.25, 1.5).as_deref(), Some("2 x 8"));
        assert_eq!(named(9.3, 3.0).as_deref(), Some("4 x 12"));
        assert_eq!(named(5.0, 1.75).as_deref(), Some("3 x 6"), "nominal 3 is 2 1/2 in thick");
        assert_eq!(named(11.3, 0.5), None, "nothing dressed is that wide");
        assert_eq!(named(4.0, 3.6), None, "or that thick");
        assert_eq!(surfaced_size(inch(0.9)).unwrap().name, "5/4");
        assert_eq!(surfaced_size(inch(1.8)), None);
    }

    /// PS 20-25 sec. 2: thickness x width x length in feet / 12.
    #[test]
    fn board_feet_of_known_boards() {
        let inch = Mm::from_inches;
        assert!((board_feet(inch(96.0), inch(6.0), inch(1.0)) - 4.0).abs() < 1e-12);
        assert!((board_feet(inch(96.0), inch(4.0), inch(2.0)) - 5.333_333_333).abs() < 1e-9);
        assert!((BOARD_FOOT - 2_359_737.216).abs() < 1e-6);
    }
}
