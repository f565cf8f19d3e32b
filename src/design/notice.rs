//! What the readers of drawings and the setting of words notice, as facts. Lengths are millimetres at drawn
//! size, y up.

use super::DrawingUnit;
use crate::notice::Importance;
use crate::units::Mm;
use serde::{Deserialize, Serialize};

/// One thing noticed about a drawing that was read all the same. A `count` is at least 1.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(tag = "noticed", rename_all = "kebab-case", rename_all_fields = "kebab-case", deny_unknown_fields)]
pub enum DrawingNotice {
    /// An SVG states no physical size, so a unit was assumed.
    SizeNotStated {
        /// What one unit was taken for.
        unit: DrawingUnit,
        /// The page's width and height in that unit, where the file has a page.
        page: Option<[Mm; 2]>,
    },
    /// The job was saved when walls were held to another sum.
    SavedWithOtherLimits,
    /// A DXF does not say what its unit is, so one was assumed.
    UnitNotStated {
        /// What one unit was taken for.
        unit: DrawingUnit,
        /// Length and height of the drawing in that unit.
        size: [Mm; 2],
    },
    /// Pictures inside the file.
    EmbeddedPictures {
        /// How many.
        count: usize,
    },
    /// Pictures in other files.
    LinkedPictures {
        /// How many.
        count: usize,
    },
    /// References to other files or addresses.
    OutsideReferences {
        /// How many.
        count: usize,
    },
    /// Copies of what is not in the file.
    CopiesOfNothing {
        /// How many.
        count: usize,
    },
    /// Fills and strokes with a paint that is not in the file.
    MissingPaints {
        /// How many.
        count: usize,
    },
    /// Paths with an error in their data.
    BrokenPaths {
        /// How many.
        count: usize,
    },
    /// Filter effects.
    Filters {
        /// How many.
        count: usize,
    },
    /// Masks.
    Masks {
        /// How many.
        count: usize,
    },
    /// Lines with more markers than can be read.
    Markers {
        /// How many.
        count: usize,
    },
    /// Web pages, films and the like.
    ForeignContent {
        /// How many.
        count: usize,
    },
    /// Strokes that are meant to keep their width in any scale.
    SteadyStrokes {
        /// How many.
        count: usize,
    },
    /// Scripts.
    Scripts {
        /// How many.
        count: usize,
    },
    /// Animations.
    Animations {
        /// How many.
        count: usize,
    },
    /// Objects that an SVG hides.
    HiddenObjects {
        /// How many.
        count: usize,
    },
    /// Texts drawn with the fonts of this machine.
    Texts {
        /// How many.
        count: usize,
    },
    /// Fonts that are not on this machine.
    MissingFonts {
        /// The first few, shortened.
        names: Vec<String>,
        /// How many there are besides.
        more: usize,
    },
    /// Dashed strokes with dashes too fine to follow.
    FineDashes {
        /// How many.
        count: usize,
    },
    /// Shapes painted with a pattern.
    Patterns {
        /// How many.
        count: usize,
    },
    /// Clip paths that were applied.
    ClipPaths {
        /// How many.
        count: usize,
    },
    /// Outlines that do not close and were read as strokes, as was asked.
    OpenAsStrokes {
        /// How many.
        count: usize,
        /// How wide.
        width: Mm,
    },
    /// Strokes so thin that they may mark an outline.
    Hairlines {
        /// How many.
        count: usize,
    },
    /// Strokes whose outline could not be worked out.
    LostStrokes {
        /// How many.
        count: usize,
    },
    /// The drawing lies so far from its origin that single precision shows.
    FarFromOrigin {
        /// How well points are placed.
        precision: Mm,
    },
    /// Some of the drawing lies off its page.
    OffPage,
    /// More named parts than elements are made of.
    TooManyParts {
        /// How many.
        parts: usize,
    },
    /// White shapes that cut away what lies under them.
    WhiteShapes {
        /// How many.
        count: usize,
    },
    /// A white element that was taken for the page.
    WhitePage {
        /// Its name.
        element: String,
    },
    /// An element of which nothing shows, or that has no area.
    EmptyElement {
        /// Its name.
        element: String,
    },
    /// Pieces and holes too small to be meant.
    Specks {
        /// How many.
        count: usize,
    },
    /// An element that went when its specks were cleaned away.
    OnlySpecks {
        /// Its name.
        element: String,
    },
    /// A DXF without its end mark.
    NoEndMark,
    /// The drawing lay far from its origin and was moved there.
    MovedToOrigin {
        /// How far it lay off.
        distance: Mm,
    },
    /// Hundreds of edges that cross lie along each other; corners were moved a little.
    NearlyCoincident {
        /// Apart from each other by whole numbers of this, along the page and up it.
        step: Mm,
    },
    /// More layers than elements are made of.
    TooManyLayers {
        /// How many.
        layers: usize,
    },
    /// Entities of kinds that are not read.
    UnreadEntities {
        /// How many in all.
        count: usize,
        /// The first few kinds, and how many of each.
        kinds: Vec<(String, usize)>,
        /// How many kinds there are besides.
        more: usize,
    },
    /// Copies of blocks that are not in the file.
    MissingBlocks {
        /// How many.
        count: usize,
    },
    /// Polylines whose width changes along them.
    TaperedLines {
        /// How many.
        count: usize,
    },
    /// Entities in a tilted plane.
    TiltedEntities {
        /// How many.
        count: usize,
    },
    /// Splines that only have points to pass through.
    FittedSplines {
        /// How many.
        count: usize,
    },
    /// Objects on layers that are off or frozen, or on a sheet of paper.
    HiddenOnLayers {
        /// How many.
        count: usize,
    },
    /// Pieces drawn twice in the same place.
    Repeats {
        /// How many.
        count: usize,
    },
    /// Gaps in outlines that were closed.
    ClosedGaps {
        /// How many.
        count: usize,
        /// The widest of them.
        widest: Mm,
        /// Where that is.
        at: [Mm; 2],
        /// How wide a gap is closed.
        join: Mm,
    },
    /// Outlines that do not close and were left out.
    OpenOutlines {
        /// How many.
        count: usize,
        /// Where the first begins.
        at: [Mm; 2],
        /// How far apart ends are joined.
        join: Mm,
    },
    /// Characters that a typeface has no letter for.
    MissingLetters {
        /// The typeface.
        font: String,
        /// The first few, sorted.
        letters: String,
        /// How many there are besides.
        more: usize,
    },
    /// A file that was given as a typeface and is none.
    NotATypeface {
        /// Its name as it was given.
        file: String,
    },
}

impl DrawingNotice {
    /// How much it matters.
    pub fn importance(&self) -> Importance {
        use DrawingNotice as N;
        match self {
            N::EmbeddedPictures { .. }
            | N::LinkedPictures { .. }
            | N::OutsideReferences { .. }
            | N::CopiesOfNothing { .. }
            | N::MissingPaints { .. }
            | N::BrokenPaths { .. }
            | N::Filters { .. }
            | N::Masks { .. }
            | N::Markers { .. }
            | N::ForeignContent { .. }
            | N::SteadyStrokes { .. }
            | N::Scripts { .. }
            | N::Animations { .. }
            | N::MissingFonts { .. }
            | N::FineDashes { .. }
            | N::Patterns { .. }
            | N::LostStrokes { .. }
            | N::EmptyElement { .. }
            | N::OnlySpecks { .. }
            | N::NoEndMark
            | N::UnreadEntities { .. }
            | N::MissingBlocks { .. }
            | N::TaperedLines { .. }
            | N::OpenOutlines { .. }
            | N::MissingLetters { .. }
            | N::NotATypeface { .. } => Importance::LeftOut,
            N::SizeNotStated { .. }
            | N::UnitNotStated { .. }
            | N::HiddenObjects { .. }
            | N::Texts { .. }
            | N::ClipPaths { .. }
            | N::OpenAsStrokes { .. }
            | N::Hairlines { .. }
            | N::FarFromOrigin { .. }
            | N::OffPage
            | N::TooManyParts { .. }
            | N::WhiteShapes { .. }
            | N::WhitePage { .. }
            | N::Specks { .. }
            | N::MovedToOrigin { .. }
            | N::NearlyCoincident { .. }
            | N::TooManyLayers { .. }
            | N::TiltedEntities { .. }
            | N::FittedSplines { .. }
            | N::HiddenOnLayers { .. }
            | N::Repeats { .. }
            | N::SavedWithOtherLimits
            | N::ClosedGaps { .. } => Importance::Remark,
        }
    }

    /// Whether it says something of the drawing, and so is saved with it; else it is of the file that was opened.
    pub fn is_of_the_drawing(&self) -> bool {
        *self != DrawingNotice::SavedWithOtherLimits
    }
}
