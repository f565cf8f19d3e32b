//! Elements by their names, and lengths on the board as those of the design.

use crate::design::Design;
use crate::design::lettering::Lettering;
use crate::job::{Job, Turn};
use crate::units::Mm;
use glam::DVec2;

/// The place of the element of this name.
pub(crate) fn place_of(design: &Design, name: &str) -> Option<usize> {
    design.elements.iter().position(|element| element.name == name)
}

/// A vector on the board as one of the design, drawn size.
pub(crate) fn design_from_board(job: &Job, [along, across]: [Mm; 2]) -> DVec2 {
    let back = Turn::from_degrees(-job.turn.degrees()).unwrap_or_default();
    back.of(DVec2::new(along.get(), across.get())) / crate::proof::fit::factor(job)
}

/// Words as they are carved, at drawn size.
pub(crate) fn at_drawn_size(lettering: &Lettering, factor: f64) -> Lettering {
    Lettering {
        cap_height: lettering.cap_height / factor,
        spacing: lettering.spacing / factor,
        arc: lettering.arc.map(|radius| radius / factor),
        ..lettering.clone()
    }
}
