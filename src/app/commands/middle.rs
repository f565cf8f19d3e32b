//! What the middle of the window shows.

/// One thing that the middle of the window can show.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash, serde::Serialize, serde::Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Middle {
    /// The board from above, to scale.
    #[default]
    Board,
    /// The carved surface.
    Relief,
    /// Why walls thin as a design shrinks.
    Lesson,
    /// The design at several sizes.
    Sizes,
    /// The picture that the design was traced from.
    Tracing,
}

impl Middle {
    /// All of them, in the row's order.
    pub const ALL: [Middle; 5] =
        [Middle::Board, Middle::Relief, Middle::Sizes, Middle::Lesson, Middle::Tracing];

    /// Whether the cards and the findings stand beside it.
    pub(crate) fn has_sides(self) -> bool {
        matches!(self, Middle::Board | Middle::Relief)
    }
}
