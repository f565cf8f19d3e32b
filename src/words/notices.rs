//! What readers noticed: a sentence for each notice, and a hint where there is something to try.

use super::count;
use crate::design::{DrawingNotice, MAX_ELEMENTS};
use crate::shop::PhotoNotice;
use crate::units::{Mm, trimmed};

/// What was noticed about a drawing.
#[expect(clippy::too_many_lines, reason = "one arm a notice")]
pub fn drawing(notice: &DrawingNotice) -> String {
    use DrawingNotice as N;
    match notice {
        N::SizeNotStated { unit, page: None } => {
            format!("The file gives no physical size; Spelk read one unit as {}", unit.words())
        }
        N::SizeNotStated { unit, page: Some(page) } => format!(
            "The file gives no physical size; Spelk read one unit as {}, so the page is {}",
            unit.words(),
            size(page)
        ),
        N::SavedWithOtherLimits => {
            "The job was saved by an earlier Spelk; the limits of its walls are worked out anew".to_owned()
        }
        N::UnitNotStated { unit, size: [length, height] } => format!(
            "The file does not say what its unit is; Spelk read one unit as {}, so the drawing is {}",
            unit.words(),
            size(&[*length, *height])
        ),
        N::EmbeddedPictures { count: n } => {
            count(*n, "picture in the file was left out", "pictures in the file were left out")
        }
        N::LinkedPictures { count: n } => count(
            *n,
            "picture is in another file and was left out; Spelk never opens other files",
            "pictures are in other files and were left out; Spelk never opens other files",
        ),
        N::OutsideReferences { count: n } => count(
            *n,
            "link to another file or address was ignored; Spelk reads nothing outside the file",
            "links to other files or addresses were ignored; Spelk reads nothing outside the file",
        ),
        N::CopiesOfNothing { count: n } => count(
            *n,
            "copy was left out: what it copies is not in the file",
            "copies were left out: what they copy is not in the file",
        ),
        N::MissingPaints { count: n } => count(
            *n,
            "fill or stroke uses a paint that is not in the file, and may be missing",
            "fills or strokes use paints that are not in the file, and may be missing",
        ),
        N::BrokenPaths { count: n } => count(
            *n,
            "path has an error in its data and was read up to the error",
            "paths have an error in their data and were read up to the error",
        ),
        N::Filters { count: n } => count(
            *n,
            "filter effect (blur, shadow and the like) was left out",
            "filter effects (blur, shadow and the like) were left out",
        ),
        N::Masks { count: n } => count(
            *n,
            "mask was left out; the parts it hides will show",
            "masks were left out; the parts they hide will show",
        ),
        N::Markers { count: n } => count(
            *n,
            "line has more markers (arrowheads and the like) than Spelk reads; they were left out",
            "lines have more markers (arrowheads and the like) than Spelk reads; they were left out",
        ),
        N::ForeignContent { count: n } => count(
            *n,
            "item of another kind (a web page, a film) was left out",
            "items of another kind (web pages, films) were left out",
        ),
        N::SteadyStrokes { count: n } => count(
            *n,
            "stroke is set to keep its width when the drawing is scaled; it was scaled all the same",
            "strokes are set to keep their width when the drawing is scaled; they were scaled all the same",
        ),
        N::Scripts { count: n } => count(
            *n,
            "script was left out; Spelk never runs one",
            "scripts were left out; Spelk never runs one",
        ),
        N::Animations { count: n } => count(
            *n,
            "animation was left out; the drawing is read as it starts",
            "animations were left out; the drawing is read as it starts",
        ),
        N::HiddenObjects { count: n } | N::HiddenOnLayers { count: n } => {
            count(*n, "hidden object was skipped", "hidden objects were skipped")
        }
        N::Texts { count: n } => count(
            *n,
            "text was drawn with this machine's fonts and may look different on another",
            "texts were drawn with this machine's fonts and may look different on another",
        ),
        N::MissingFonts { names, more } => missing_fonts(names, *more),
        N::FineDashes { count: n } => count(
            *n,
            "dashed stroke has dashes too fine to follow and was read as a solid line",
            "dashed strokes have dashes too fine to follow and were read as solid lines",
        ),
        N::Patterns { count: n } => count(
            *n,
            "shape is painted with a pattern and was read as solid",
            "shapes are painted with a pattern and were read as solid",
        ),
        N::ClipPaths { count: n } => count(
            *n,
            "clip path was applied; what it hides is not carved",
            "clip paths were applied; what they hide is not carved",
        ),
        N::OpenAsStrokes { count: 1, width } => {
            format!("1 outline does not close and was read as a stroke {} wide", mm(*width))
        }
        N::OpenAsStrokes { count: n, width } => {
            format!("{n} outlines do not close and were read as strokes {} wide", mm(*width))
        }
        N::Hairlines { count: n } => count(
            *n,
            "stroke is a hairline and was read at that width",
            "strokes are hairlines and were read at that width",
        ),
        N::LostStrokes { count: n } => count(
            *n,
            "stroke could not be turned into an outline and was left out",
            "strokes could not be turned into outlines and were left out",
        ),
        N::FarFromOrigin { precision } => format!(
            "The drawing lies far from its own origin, so points are only good to {} mm",
            trimmed(precision.get(), 3)
        ),
        N::OffPage => "Part of the drawing lies off its page; all of it is carved".to_owned(),
        N::TooManyParts { parts } => format!(
            "The drawing has {parts} parts with ids, more than {MAX_ELEMENTS}, so all of it is one element"
        ),
        N::WhiteShapes { count: n } => count(
            *n,
            "white shape was read as bare page: it cuts away what lies under it",
            "white shapes were read as bare page: they cut away what lies under them",
        ),
        N::WhitePage { element } => {
            format!("The white element “{element}” covers the whole page and was read as the page")
        }
        N::EmptyElement { element } => {
            format!("The element “{element}” was left out: none of it shows, or it has no area")
        }
        N::Specks { count: n } => count(
            *n,
            "piece or hole is a speck or a sliver, too small to be meant",
            "pieces or holes are specks or slivers, too small to be meant",
        ),
        N::OnlySpecks { element } => format!("The element “{element}” was only specks and went with them"),
        N::NoEndMark => "The file stops without its end mark; anything after that is missing".to_owned(),
        N::MovedToOrigin { distance } => format!(
            "The drawing lay {:.0} m from its own origin and was moved there",
            distance.get() / 1000.0
        ),
        N::NearlyCoincident { step } => format!(
            "Hundreds of edges lie along each other and cross, so Spelk moved corners by up to {} mm to tell them apart",
            trimmed(step.get(), 4)
        ),
        N::TooManyLayers { layers } => {
            format!("The drawing has {layers} layers, more than {MAX_ELEMENTS}, so all of it is one element")
        }
        N::UnreadEntities { count: n, kinds, more } => unread(*n, kinds, *more),
        N::MissingBlocks { count: n } => count(
            *n,
            "copy was left out: the block it copies is not in the file",
            "copies were left out: the blocks they copy are not in the file",
        ),
        N::TaperedLines { count: n } => count(
            *n,
            "polyline changes its width along the way and was read as a line",
            "polylines change their width along the way and were read as lines",
        ),
        N::TiltedEntities { count: n } => count(
            *n,
            "entity lies in a tilted plane and was read as seen from above",
            "entities lie in tilted planes and were read as seen from above",
        ),
        N::FittedSplines { count: n } => count(
            *n,
            "spline has only points to pass through; Spelk drew a smooth curve through them",
            "splines have only points to pass through; Spelk drew smooth curves through them",
        ),
        N::Repeats { count: n } => count(
            *n,
            "piece was drawn twice in the same place and counted once",
            "pieces were drawn twice in the same place and counted once",
        ),
        N::ClosedGaps { count: 1, widest, at, join } => format!(
            "1 gap in an outline was closed: {} mm at {}; gaps up to {} are closed",
            gap(*widest),
            place(at),
            mm(*join)
        ),
        N::ClosedGaps { count: n, widest, at, join } => format!(
            "{n} gaps in outlines were closed, the widest {} mm at {}; gaps up to {} are closed",
            gap(*widest),
            place(at),
            mm(*join)
        ),
        N::OpenOutlines { count: 1, at, join } => format!(
            "1 outline does not close and was left out, at {}; ends up to {} apart are joined",
            place(at),
            mm(*join)
        ),
        N::OpenOutlines { count: n, at, join } => format!(
            "{n} outlines do not close and were left out, the first at {}; ends up to {} apart are joined",
            place(at),
            mm(*join)
        ),
        N::MissingLetters { font, letters, more: 0 } => {
            format!("The font {font} has no letter for “{letters}”; it was left out")
        }
        N::MissingLetters { font, letters, more } => {
            format!("The font {font} has no letters for “{letters}” and {more} more; they were left out")
        }
        N::NotATypeface { file } => format!("{file} holds no typeface and was passed over"),
    }
}

/// What to try about it.
pub fn drawing_hint(notice: &DrawingNotice) -> Option<&'static str> {
    use DrawingNotice as N;
    Some(match notice {
        N::SizeNotStated { .. } => {
            "Check the size; to be sure, set the page size in mm or in before you save"
        }
        N::SavedWithOtherLimits => {
            "Look at its findings again: walls know their ends now, and the cut beside them counts"
        }
        N::UnitNotStated { .. } => "Check the size; to be sure, set the drawing's unit before you save",
        N::EmbeddedPictures { .. } => {
            "To carve the picture, trace this file: with Trace a picture… in the window, or with spelk trace"
        }
        N::LinkedPictures { .. } => {
            "To carve the picture, trace its own file: with Trace a picture… in the window, or with spelk trace"
        }
        N::OutsideReferences { .. } => "Embed what it links to, or draw it in this file",
        N::CopiesOfNothing { .. } => "Unlink the copies in the drawing program and save again",
        N::MissingPaints { .. } => "Give the shape a plain colour",
        N::BrokenPaths { .. } => "Look at the outline; redraw the path or save the file again",
        N::Filters { .. } => "Draw what should be carved as a shape of its own",
        N::Masks { .. } => "Use a clip path, or cut the shape itself",
        N::Markers { .. } => "Turn the markers into paths in the drawing program",
        N::SteadyStrokes { .. } | N::LostStrokes { .. } => "Turn strokes into paths in the drawing program",
        N::HiddenObjects { .. } => "Show in the drawing program what should be carved",
        N::HiddenOnLayers { .. } => "Switch on the layers of what should be carved",
        N::Texts { .. } | N::MissingFonts { .. } => {
            "Turn text into paths in the drawing program and save again"
        }
        N::FineDashes { .. } => "Make the dashes longer, or turn the strokes into paths",
        N::Patterns { .. } => "Turn the pattern into paths in the drawing program",
        N::Hairlines { .. } => "If it marks the edge of a shape, fill the shape instead",
        N::FarFromOrigin { .. } => "Move it onto its page and save again",
        N::OffPage => "Move it onto the page, or delete what you do not want",
        N::TooManyParts { .. } => "Group what should be carved alike, and give each group an id",
        N::WhiteShapes { .. } | N::WhitePage { .. } => "Give it a colour if it should be carved",
        N::EmptyElement { .. } => "Close its outlines, or move it to the top",
        N::Specks { .. } => "Clean them away, or delete them in the drawing program",
        N::NoEndMark => "Save or download it again",
        N::NearlyCoincident { .. } => "Delete outlines that are drawn twice",
        N::TooManyLayers { .. } => "Put what should be carved alike on one layer",
        N::UnreadEntities { .. } => {
            "Turn texts into outlines, and everything else into polylines, before you save"
        }
        N::MissingBlocks { .. } => "Bind outside references before you save",
        N::TaperedLines { .. } => "Draw both edges of the band",
        N::FittedSplines { .. } => "Save it with its control points to be sure of its shape",
        N::ClosedGaps { .. } => "Look at the outline there",
        N::OpenOutlines { .. } => {
            "Join the ends in the drawing program, or read open outlines as strokes of the cutter's width"
        }
        N::MissingLetters { .. } => "Choose another font, or other words",
        N::NotATypeface { .. } => "Give a TrueType or OpenType font file",
        N::ForeignContent { .. }
        | N::Scripts { .. }
        | N::Animations { .. }
        | N::ClipPaths { .. }
        | N::OpenAsStrokes { .. }
        | N::OnlySpecks { .. }
        | N::MovedToOrigin { .. }
        | N::TiltedEntities { .. }
        | N::Repeats { .. } => return None,
    })
}

/// What was noticed about a photograph.
pub fn photo(notice: PhotoNotice) -> &'static str {
    match notice {
        PhotoNotice::TurnUnknown => {
            "The photograph does not say which way up the camera was held, so Spelk took it as it is"
        }
    }
}

/// What to try about it.
pub fn photo_hint(notice: PhotoNotice) -> &'static str {
    match notice {
        PhotoNotice::TurnUnknown => "If it lies on its side, turn it in a picture program and save it again",
    }
}

/// A notice and its hint in one line, for a terminal.
pub fn line(notice: &str, hint: Option<&str>) -> String {
    match hint {
        Some(hint) => format!("{notice}. {hint}"),
        None => notice.to_owned(),
    }
}

/// That there were more notices than are kept.
pub fn more(number: usize) -> String {
    count(
        number,
        "more notice was dropped: there are too many",
        "more notices were dropped: there are too many",
    )
}

/// No place on the board is clear at any size.
pub const NOWHERE_CLEAR: &str =
    "no place on the board is clear for this design: the board has no room at any size";

/// No place is clear at this size, but one is up to so many per cent of the drawing.
pub fn clear_up_to(per_cent: &str) -> String {
    format!("no place on the board is clear at this size; up to {per_cent} % of the drawing one is")
}

fn missing_fonts(names: &[String], more: usize) -> String {
    let quoted: Vec<String> = names.iter().map(|name| format!("“{name}”")).collect();
    match (quoted.as_slice(), more) {
        ([name], 0) => {
            format!(
                "The font {name} is not on this machine, or is damaged; Spelk used another, or left the text out"
            )
        }
        (names, 0) => format!(
            "The fonts {} are not on this machine, or are damaged; Spelk used others, or left the text out",
            names.join(", ")
        ),
        (names, more) => format!(
            "The fonts {} and {more} more are not on this machine, or are damaged; Spelk used others, or left the text out",
            names.join(", ")
        ),
    }
}

fn unread(number: usize, kinds: &[(String, usize)], more: usize) -> String {
    let kinds: Vec<String> = kinds.iter().map(|(kind, number)| format!("{number} {kind}")).collect();
    let kinds = kinds.join(", ");
    match (number, more) {
        (1, 0) => format!("1 entity was left out: {kinds}"),
        (number, 0) => format!("{number} entities were left out: {kinds}"),
        (number, 1) => format!("{number} entities were left out: {kinds}, and 1 other kind"),
        (number, more) => format!("{number} entities were left out: {kinds}, and {more} other kinds"),
    }
}

/// `2.5 mm`.
fn mm(length: Mm) -> String {
    format!("{} mm", trimmed(length.get(), 3))
}

/// A gap with all three decimals, for gaps are small.
fn gap(length: Mm) -> String {
    format!("{:.3}", length.get())
}

/// `12.0, 7.5 mm`.
fn place([x, y]: &[Mm; 2]) -> String {
    format!("{:.1}, {:.1} mm", x.get(), y.get())
}

/// `300 x 100 mm`, two decimals at most: enough to recognise a size by.
fn size([length, height]: &[Mm; 2]) -> String {
    format!("{} x {} mm", trimmed(length.get(), 2), trimmed(height.get(), 2))
}
