//! Ways to arrange elements.

/// One way to arrange elements that takes numbers.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Arrange {
    /// Others taken out of one.
    CutOut,
    /// Moved.
    Move,
    /// Larger or smaller.
    Resize,
    /// Their outlines moved outwards or inwards.
    Grow,
    /// Repeated in rows.
    Repeat,
    /// A ground under the design.
    Ground,
    /// A border round it.
    Border,
    /// Fine details smoothed away.
    Smooth,
}
