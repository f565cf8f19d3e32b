//! What the workers bring of the carved surface.

use crate::app::relief::{card, clock, picture, section, worked};
use crate::app::work::Bring;

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

/// Workers that may bring any of them.
pub(crate) trait BringRelief:
    Bring<worked::Surface>
    + Bring<worked::Planned>
    + Bring<clock::Played>
    + Bring<picture::Shaded>
    + Bring<card::CardLayers>
    + Bring<section::Cut>
{
}

impl<D> BringRelief for D where
    D: Bring<worked::Surface>
        + Bring<worked::Planned>
        + Bring<clock::Played>
        + Bring<picture::Shaded>
        + Bring<card::CardLayers>
        + Bring<section::Cut>
{
}
