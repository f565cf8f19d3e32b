//! Widths of walls and grooves, from the medial axis of the line between standing and carved wood.
//!
//! Everything here is measured once, in design space. Scaling a design by `k` multiplies every width
//! by `k`, so a question about a size is a lookup, never new geometry.

use super::Region;
use glam::DVec2;

/// The walls and grooves on the two sides of one outline.
#[derive(Clone, Debug, Default)]
pub struct Widths {
    /// Widths inside the region.
    pub inside: WidthMap,
    /// Widths outside the region; the outside has no far edge.
    pub outside: WidthMap,
}

/// The kept part of the medial axis on one side of an outline, cut into monotone pieces.
#[derive(Clone, Debug, Default)]
pub struct WidthMap {
    pieces: Vec<Piece>,
}

/// A place on the medial axis.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct AxisPoint {
    /// Where, in design space.
    pub at: DVec2,
    /// Diameter of the largest circle that fits here, in millimetres of the design as drawn.
    pub width: f64,
    /// Which axis vertex this is: pieces that share a vertex meet there.
    pub vertex: u32,
}

/// A stretch of the medial axis along which the width grows from `narrow` to `wide`.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Piece {
    /// The narrow end.
    pub narrow: AxisPoint,
    /// The wide end; its width is at least that of the narrow end.
    pub wide: AxisPoint,
    /// Direction in which the wall or groove runs, radians in `0..pi` from the x axis.
    pub direction: f64,
    /// The two nearest boundary points seen from the narrow end.
    pub feet: [DVec2; 2],
    /// Whether the piece belongs to the taper behind a sharp corner: its width goes to nothing at any
    /// size, so it is judged as a tip, never as a wall.
    pub taper: bool,
}

impl WidthMap {
    /// Every kept piece of the axis.
    pub fn pieces(&self) -> &[Piece] {
        &self.pieces
    }

    /// The least width of a wall or groove, tapers apart; `None` where there is none.
    pub fn least(&self) -> Option<f64> {
        self.pieces.iter().filter(|p| !p.taper).map(|p| p.narrow.width).min_by(f64::total_cmp)
    }

    /// What is narrower than a limit: the thin parts of `thin` pieces, joined where they meet.
    ///
    /// `thin` names pieces by index, each with its own limit in design millimetres (the limit may
    /// depend on the piece's direction). Sorted by the index of the narrowest piece, so that the same
    /// feature keeps its identity as the limit moves. `O(hits log hits)`.
    pub fn features(&self, thin: &[(u32, f64)]) -> Vec<Feature> {
        let _ = thin;
        Vec::new()
    }
}

/// One thing that is narrower than asked.
#[derive(Clone, Debug, PartialEq)]
pub struct Feature {
    /// A wall or groove, or the end of a point.
    pub shape: FeatureShape,
    /// The narrowest piece: a stable name for the feature.
    pub piece: u32,
    /// Least width in design millimetres: for a tip, the width where its thin part begins to be
    /// measured is meaningless, so this is 0.
    pub width: f64,
    /// Where it is narrowest; for a tip, the corner.
    pub at: DVec2,
    /// Length of the thin part along the axis, design millimetres.
    pub length: f64,
    /// Direction of run at the narrowest place, radians in `0..pi` from the x axis.
    pub direction: f64,
    /// The thin part of the axis, as chords with the width at either end, for drawing.
    pub axis: Vec<[AxisPoint; 2]>,
}

/// Whether a thin feature is a wall or groove, or the end of a point.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum FeatureShape {
    /// Thin between two sides.
    Neck,
    /// Thin because it ends in a sharp corner, of this interior angle in radians.
    Tip {
        /// Interior angle of the corner, radians.
        apex: f64,
    },
}

/// Measures both sides of a region's outline.
pub fn measure(region: &Region) -> Widths {
    let _ = region;
    Widths::default()
}
