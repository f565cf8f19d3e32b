//! SVG, through `usvg`: filled and stroked shapes at their true physical size.

use super::face::{Fonts, can_be_drawn};
use super::layering::{self, FlatClip, FlatShape, Naming};
use super::outline::{Drawing, Flattener, tolerance};
use super::size::{PageSize, UnstatedSize};
use super::styling;
use super::survey::{self, Survey};
use super::{
    Design, DesignError, DrawingNotice, FileKind, MAX_BYTES, Nothing, PIXEL_ATTRIBUTE, ReadOptions, Reading,
    Sharpness, TOLERANCE_ATTRIBUTE,
};
use crate::geometry::Rect;
use crate::notice::Notices;
use crate::units::Mm;
use glam::{DVec2, dvec2};
use kurbo::Affine;
use std::borrow::Cow;
use std::collections::{BTreeMap, BTreeSet};
use std::io::Read;
use std::sync::{Arc, Mutex};
use usvg::roxmltree::{self, Document, ParsingOptions};

/// Stack for the reader's own thread. The parser recurses a dozen calls a level of nesting, up to 1024
/// levels with copies written out. Measured with the parser optimised: 4 MB are enough for the deepest
/// drawing accepted; the rest is for builds without optimisation, and costs nothing until it is touched.
const STACK: usize = 64 << 20;

/// Put before the drawing's own rules. Masks and filters are left out (the survey counts them), and the
/// parser would drop what it cannot filter. A page colour is no shape. What is inside a pattern
/// is not used, and patterns painted with patterns would be worked out again and again.
const STYLE_SHEET: &str = "* { mask: none !important; filter: none !important; \
     background-color: none !important } \
     pattern * { fill: black !important; stroke: none !important; clip-path: none !important }";

/// Put before it where markers would multiply the drawing beyond what is read.
const NO_MARKERS: &str = "* { marker: none !important } ";

/// Stand-ins for a font that is missing, first found first (common practice, no source: fonts that
/// come with desktop systems).
const STAND_INS: [&str; 8] = [
    "Liberation Serif",
    "DejaVu Serif",
    "Noto Serif",
    "Times New Roman",
    "Georgia",
    "DejaVu Sans",
    "Noto Sans",
    "Arial",
];

/// The most XML nodes, blanks between elements and comments included.
const MAX_NODES: u32 = 4_000_000;

pub(super) fn read(
    name: &str,
    bytes: &[u8],
    options: &ReadOptions,
    cleaning: &(dyn Fn() + Sync),
) -> Result<Reading, DesignError> {
    let text = text_of(bytes)?;
    std::thread::scope(|scope| {
        let reader = std::thread::Builder::new().name("svg reader".to_owned()).stack_size(STACK);
        let reader = reader.spawn_scoped(scope, || read_text(name, &text, options, cleaning));
        // A panic inside is the parser's on bytes we did not foresee; the user gets a sentence.
        let Ok(Ok(reading)) = reader.map(std::thread::ScopedJoinHandle::join) else {
            return Err(DesignError::GaveUp);
        };
        reading
    })
}

/// The bytes as text: unpacked where compressed, refused where they are something else.
pub(super) fn text_of(bytes: &[u8]) -> Result<Cow<'_, str>, DesignError> {
    if bytes.len() as u64 > MAX_BYTES {
        return Err(DesignError::FileTooLarge);
    }
    if bytes.starts_with(&[0x1f, 0x8b]) {
        let mut unpacked = Vec::new();
        let mut decoder = flate2::read::GzDecoder::new(bytes).take(MAX_BYTES + 1);
        // The cause is a damaged stream whatever the decoder calls it.
        if decoder.read_to_end(&mut unpacked).is_err() {
            return Err(DesignError::Compressed);
        }
        if unpacked.len() as u64 > MAX_BYTES {
            return Err(DesignError::FileTooLarge);
        }
        check_kind(&unpacked)?;
        let Ok(text) = String::from_utf8(unpacked) else { return Err(DesignError::NotText) };
        return Ok(Cow::Owned(text));
    }
    check_kind(bytes)?;
    let Ok(text) = std::str::from_utf8(bytes) else { return Err(DesignError::NotText) };
    Ok(Cow::Borrowed(text))
}

/// Names the kinds of file people pick by mistake.
fn check_kind(bytes: &[u8]) -> Result<(), DesignError> {
    let bytes = bytes.strip_prefix(b"\xef\xbb\xbf").unwrap_or(bytes);
    if bytes.trim_ascii().is_empty() {
        return Err(DesignError::Empty);
    }
    let known: [(&[u8], FileKind); 8] = [
        (b"\x89PNG", FileKind::Png),
        (b"\xff\xd8\xff", FileKind::Jpeg),
        (b"GIF8", FileKind::Gif),
        (b"RIFF", FileKind::Riff),
        (b"BM", FileKind::Bmp),
        (b"%PDF", FileKind::Pdf),
        (b"%!PS", FileKind::PostScript),
        (b"PK\x03\x04", FileKind::Zip),
    ];
    if let Some((_, found)) = known.into_iter().find(|(magic, _)| bytes.starts_with(magic)) {
        return Err(DesignError::NotADrawing { found });
    }
    if bytes.starts_with(b"\xff\xfe") || bytes.starts_with(b"\xfe\xff") {
        return Err(DesignError::NotText);
    }
    if bytes.contains(&0) {
        return Err(DesignError::NotADrawing { found: FileKind::Binary });
    }
    match bytes.trim_ascii_start() {
        [b'<', ..] => Ok(()),
        // Text that is not XML; in another encoding it is still more use to hear that it is not SVG.
        _ => Err(DesignError::NotADrawing { found: FileKind::NotXml }),
    }
}

/// Reads a drawing on the reader's own thread.
fn read_text(
    name: &str,
    text: &str,
    options: &ReadOptions,
    cleaning: &(dyn Fn() + Sync),
) -> Result<Reading, DesignError> {
    survey::check_text(text)?;
    let document = parse(text)?;
    let root = document.root_element();
    if root.tag_name().name() != "svg" {
        let root = root.tag_name().name().chars().take(40).collect();
        return Err(DesignError::NotADrawing { found: FileKind::Xml { root } });
    }
    let survey = survey::look_over(&document)?;
    let size = PageSize::of(root, options.unit)?;

    let cut = styling::in_pieces(text, &document);
    let (text, document) = match &cut {
        Some(cut) => (cut.as_str(), parse(cut)?),
        None => (text, document),
    };
    let root = document.root_element();

    let mut notices: Notices<DrawingNotice> = size.notice.iter().cloned().collect();
    survey.note(&mut notices);
    let missing_fonts = Arc::new(Mutex::new(BTreeSet::new()));
    let parser = parser_options(&survey, &missing_fonts);
    let tree = match size.written_into(text, root) {
        Some(sized) => usvg::Tree::from_xmltree(&parse(&sized)?, &parser),
        None => usvg::Tree::from_xmltree(&document, &parser),
    };
    let tree = tree.map_err(|error| parser_error(&error))?;

    let mm_per_px = size.mm_per_px();
    let page_height = size.px.map_or(f64::from(tree.size().height()), |[_, height]| height);
    let page = size.px.map(|px| Rect::new(DVec2::ZERO, DVec2::from_array(px) * mm_per_px));
    if let Some(page) = page {
        Drawing::check_extent(page)?;
    }
    let to_mm = Affine::new([mm_per_px, 0.0, 0.0, -mm_per_px, 0.0, page_height * mm_per_px]);
    let mut drawing = Drawing::of(&tree, to_mm, options.open_as_strokes.map(crate::units::Mm::get));
    drop(tree);
    drawing.name_by(&survey.labels, &survey.layers);
    note_text(&survey, &missing_fonts, &mut notices);
    drawing.note(&mut notices);

    let extent = drawing.extent().ok_or_else(|| nothing(&survey))?;
    Drawing::check_extent(extent)?;
    let tolerance = tolerance(extent);
    if drawing.precision() > tolerance {
        notices.push(DrawingNotice::FarFromOrigin { precision: Mm::new(drawing.precision()) });
    }
    let settled = flatten_and_settle(&drawing, tolerance, page, &mut notices, cleaning)?;
    let Some(grid) = settled.grid.filter(|_| !settled.elements.is_empty()) else {
        return Err(nothing(&survey));
    };
    notices.extend(settled.notices);
    let sharpness = traced_sharpness(root);
    let design = Design { name: name.to_owned(), elements: settled.elements, page, grid, notices, sharpness };
    let design = check_on_page(design)?;
    let unstated = size.unit.map(|taken| UnstatedSize::of(taken, design.outline_box().size()));
    Ok(Reading { design, unstated, open_outlines: drawing.open_hairlines() })
}

/// How sharp the picture was that a drawing says it was traced from; what cannot be meant is left out.
fn traced_sharpness(root: roxmltree::Node<'_, '_>) -> Option<Sharpness> {
    let length = |name: &str| Some(Mm::new(root.attribute(name)?.trim().parse().ok()?));
    let sharpness = Sharpness { pixel: length(PIXEL_ATTRIBUTE)?, tolerance: length(TOLERANCE_ATTRIBUTE)? };
    sharpness.is_plausible().then_some(sharpness)
}

/// Parses XML; other files are never resolved.
pub(super) fn parse(text: &str) -> Result<Document<'_>, DesignError> {
    let options = ParsingOptions { allow_dtd: true, nodes_limit: MAX_NODES, ..ParsingOptions::default() };
    Document::parse_with_options(text, options).map_err(|error| xml_error(&error))
}

fn xml_error(error: &roxmltree::Error) -> DesignError {
    match error {
        roxmltree::Error::UnclosedRootNode | roxmltree::Error::UnexpectedEndOfStream => DesignError::CutShort,
        roxmltree::Error::NodesLimitReached
        | roxmltree::Error::AttributesLimitReached
        | roxmltree::Error::NamespacesLimitReached => DesignError::TooManyObjects,
        roxmltree::Error::EntityReferenceLoop(_) => DesignError::EntityGrowth,
        roxmltree::Error::NoRootNode => DesignError::NotADrawing { found: FileKind::EmptyXml },
        error => {
            let (place, text) = (error.pos(), error.to_string());
            let at = format!(" at {place}");
            // The place is said once, in words; and the message stays one short line.
            let problem = text.strip_suffix(&at).unwrap_or(&text).replace(&at, "");
            let problem = problem.chars().map(|c| if c.is_control() { ' ' } else { c }).take(120).collect();
            DesignError::Malformed { line: place.row, column: place.col, problem }
        }
    }
}

fn parser_error(error: &usvg::Error) -> DesignError {
    match error {
        usvg::Error::NotAnUtf8Str => DesignError::NotText,
        usvg::Error::SvgzFeatureNotEnabled | usvg::Error::MalformedGZip => DesignError::Compressed,
        usvg::Error::ElementsLimitReached => DesignError::TooManyObjects,
        usvg::Error::InvalidSize => DesignError::ZeroSize,
        // The parser stops at 1024 levels with the same word as at too many nodes; the nodes have been
        // counted before.
        usvg::Error::ParsingFailed(roxmltree::Error::NodesLimitReached) => DesignError::TooDeep,
        usvg::Error::ParsingFailed(error) => xml_error(error),
    }
}

/// Parser options: no images, no other files, fonts only where there is text.
fn parser_options(survey: &Survey, missing_fonts: &Arc<Mutex<BTreeSet<String>>>) -> usvg::Options<'static> {
    let mut options = usvg::Options {
        resources_dir: None,
        style_sheet: Some(if survey.markers_left_out {
            NO_MARKERS.to_owned() + STYLE_SHEET
        } else {
            STYLE_SHEET.to_owned()
        }),
        image_href_resolver: usvg::ImageHrefResolver {
            resolve_data: Box::new(|_, _, _| None),
            resolve_string: Box::new(|_, _| None),
        },
        ..usvg::Options::default()
    };
    if survey.seen.texts > 0 {
        options.fontdb = Fonts::of_machine().database();
        let select = usvg::FontResolver::default_font_selector();
        let missing = Arc::clone(missing_fonts);
        let drawable = Arc::new(Drawable::default());
        let also_drawable = Arc::clone(&drawable);
        options.font_resolver.select_font = Box::new(move |font, fonts| {
            if let Some(wanted) = font.families().first().map(ToString::to_string) {
                let plain = wanted.trim_matches(['"', '\'']).to_owned();
                let generic = ["serif", "sans-serif", "cursive", "fantasy", "monospace"];
                let known = generic.contains(&plain.as_str())
                    || fonts.faces().any(|face| face.families.iter().any(|(family, _)| *family == plain));
                if !known && let Ok(mut missing) = missing.lock() {
                    missing.insert(plain);
                }
            }
            let chosen = select(font, fonts).or_else(|| stand_in(fonts))?;
            if drawable.is(chosen, fonts) {
                return Some(chosen);
            }
            if let (Some(face), Ok(mut missing)) = (fonts.face(chosen), missing.lock()) {
                missing.extend(face.families.first().map(|(family, _)| family.clone()));
            }
            stand_in(fonts).filter(|&id| drawable.is(id, fonts))
        });
        let fall_back = usvg::FontResolver::default_fallback_selector();
        options.font_resolver.select_fallback = Box::new(move |character, used, fonts| {
            let mut passed_over = used.to_vec();
            loop {
                let chosen = fall_back(character, &passed_over, fonts)?;
                if also_drawable.is(chosen, fonts) {
                    return Some(chosen);
                }
                passed_over.push(chosen);
            }
        });
    }
    options
}

/// Which typefaces can be drawn, looked up once for each: a damaged one would stop the parser.
#[derive(Default)]
struct Drawable(Mutex<BTreeMap<usvg::fontdb::ID, bool>>);

impl Drawable {
    fn is(&self, id: usvg::fontdb::ID, fonts: &usvg::fontdb::Database) -> bool {
        let Ok(mut known) = self.0.lock() else { return false };
        *known.entry(id).or_insert_with(|| can_be_drawn(fonts, id))
    }
}

/// Some font, the same whenever the same ones are installed.
fn stand_in(fonts: &usvg::fontdb::Database) -> Option<usvg::fontdb::ID> {
    let families = STAND_INS.map(usvg::fontdb::Family::Name);
    let query = usvg::fontdb::Query { families: &families, ..usvg::fontdb::Query::default() };
    fonts.query(&query).or_else(|| {
        fonts.faces().min_by(|a, b| a.post_script_name.cmp(&b.post_script_name)).map(|face| face.id)
    })
}

/// The most missing fonts that are named, and the longest name, in characters.
const NAMED_FONTS: usize = 5;
const FONT_NAME: usize = 40;

fn note_text(survey: &Survey, missing: &Mutex<BTreeSet<String>>, notices: &mut Notices<DrawingNotice>) {
    if survey.seen.texts == 0 {
        return;
    }
    notices.push(DrawingNotice::Texts { count: survey.seen.texts });
    let Ok(missing) = missing.lock() else { return };
    let names: Vec<String> =
        missing.iter().take(NAMED_FONTS).map(|name| name.chars().take(FONT_NAME).collect()).collect();
    if !names.is_empty() {
        let more = missing.len() - names.len();
        notices.push(DrawingNotice::MissingFonts { names, more });
    }
}

/// Why there is nothing to carve.
fn nothing(survey: &Survey) -> DesignError {
    let found = if survey.seen.images > 0 {
        Nothing::OnlyPictures
    } else if survey.seen.texts > 0 {
        Nothing::EmptyTexts
    } else {
        Nothing::NoShape
    };
    DesignError::NothingToCarve { found }
}

fn flatten_and_settle(
    drawing: &Drawing,
    tolerance: f64,
    page: Option<Rect>,
    notices: &mut Notices<DrawingNotice>,
    cleaning: &(dyn Fn() + Sync),
) -> Result<layering::Settled, DesignError> {
    let naming = Naming::of(drawing);
    notices.extend(naming.notice);
    let mut flattener = Flattener::new(tolerance);
    let mut shapes = Vec::with_capacity(drawing.shapes.len());
    for (shape, &element) in drawing.shapes.iter().zip(&naming.element_of) {
        let rings = flattener.flatten(shape)?;
        shapes.push(FlatShape { element, white: shape.white, rings, clips: shape.clips.clone() });
    }
    let mut clips = Vec::with_capacity(drawing.clips.len());
    for clip in &drawing.clips {
        let mut parts = Vec::with_capacity(clip.shapes.len());
        for shape in &clip.shapes {
            parts.push((flattener.flatten(shape)?, shape.clips.clone()));
        }
        clips.push(FlatClip(parts));
    }
    flattener.note(notices);
    cleaning();
    layering::settle(shapes, clips, naming.labels, page)
}

/// Notes where a design reaches past its page.
fn check_on_page(mut design: Design) -> Result<Design, DesignError> {
    let outline = design.outline_box();
    Drawing::check_extent(outline)?;
    if let Some(page) = design.page {
        let slack = dvec2(1.0, 1.0) * page.size().max_element() * 1e-3;
        let inside = outline.min.cmpge(page.min - slack).all() && outline.max.cmple(page.max + slack).all();
        if !inside {
            design.notices.push(DrawingNotice::OffPage);
        }
    }
    Ok(design)
}
