//! Ways to arrange elements.

/// One way to arrange elements that takes numbers.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Arrange {
    /// Others taken out of one.
    CutOut,
    /// Moved.
    Move,
    /// Repeated in rows.
    Repeat,
    /// A ground under the design.
    Ground,
    /// A border round it.
    Border,
}

impl Arrange {
    pub(crate) fn label(self) -> &'static str {
        match self {
            Arrange::CutOut => "Cut out…",
            Arrange::Move => "Move…",
            Arrange::Repeat => "Repeat…",
            Arrange::Ground => "Ground…",
            Arrange::Border => "Border…",
        }
    }

    pub(crate) fn tooltip(self) -> &'static str {
        match self {
            Arrange::CutOut => "Take the others, with room round them, out of the element chosen first",
            Arrange::Move => "Move the chosen elements along and across the board",
            Arrange::Repeat => "The chosen elements again and again, in a row or in rows",
            Arrange::Ground => "A lowered plate under the design, on which it stands in relief",
            Arrange::Border => "A standing frame round the design",
        }
    }

    pub(crate) fn title(self) -> &'static str {
        self.label().trim_end_matches('…')
    }
}
