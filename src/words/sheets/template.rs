//! The true-size template.

use crate::units::{LengthUnit, Mm};

/// What the foot of its pages calls it.
pub const NAME: &str = "Template";

/// The title of the file.
pub fn title(design: &str) -> String {
    format!("Template, {design}")
}

/// What is on the page: the design's name and size, and where its middle lies on the board.
pub fn caption(design: &str, [length, width]: [Mm; 2], middle: [Mm; 2], unit: LengthUnit) -> String {
    format!(
        "{design} at true size, {}. The long broken lines cross at its middle, {} from the board's left end \
         and {} from its reference edge, the lower one.",
        unit.show_several([length, width], " x "),
        unit.show(middle[0]),
        unit.show(middle[1]),
    )
}

/// The design reaches past the board, whose length and width these are.
pub fn larger_than_board([length, width]: [Mm; 2], unit: LengthUnit) -> String {
    format!("It does not fit on the board, which is {}.", unit.show_several([length, width], " x "))
}

/// How to put several pages together.
pub const JOIN: &str = "To join the pages, cut one along its short broken line, lay it on the same line of the next so \
     that the ringed crosses meet, and tape it.";

/// At an edge: the page that joins there, as in `B2`.
pub fn joins(page: &str) -> String {
    format!("joins {page}")
}

/// A template would take more pages than are printed.
pub fn too_many_pages(pages: usize, most: usize) -> String {
    format!("a true-size template would take {pages} pages, and at most {most} are printed; carve it smaller")
}
