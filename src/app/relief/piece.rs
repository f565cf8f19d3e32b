//! What the workers bring of the carved surface.

use crate::app::relief::{card, clock, picture, section, worked};

/// Something that a worker brought.
#[expect(clippy::large_enum_variant, reason = "it is handed over in a box")]
pub(crate) enum ReliefPiece {
    /// The surface, quick or true.
    Surface(worked::Surface),
    /// The passes.
    Planned(worked::Planned),
    /// The surface at a second of the carve.
    Played(clock::Played),
    /// A picture of the surface.
    Picture(picture::Shaded),
    /// What lies on the surface, for the graphics card.
    Layers(card::CardLayers),
    /// The cut along a line.
    Section(section::Cut),
}
