//! DXF: lines, arcs, splines, hatches and copies, layer by layer, to closed shapes.
//!
//! # What a drawing becomes
//!
//! - **Size.** `$INSUNITS` says what a unit is. Where it is missing or says "no unit", see
//!   [`UnstatedSize`].
//! - **Elements.** A layer is an element, under its name. What a block has on layer `0` belongs to the
//!   layer its copy is on, and an element's colour is that of its layer, unless things on it have their own.
//!   Layers that are off or frozen are skipped, and so are sheets of paper.
//! - **Shape.** A line has no inside, so outlines are joined end to end into loops
//!   ([`ReadOptions::join`](super::ReadOptions)), and a layer is filled where it lies inside an odd number
//!   of its loops: a loop in a loop is a hole. Hatches and solids are filled as they are. A polyline with
//!   a width is a band of that width.
//! - **Over and under.** A file of lines does not say what lies on top, so the layer with the smaller box
//!   does: a name on a panel stays whole whichever was drawn first.
//!
//! # Why a reader of our own
//!
//! The format is pairs of lines, openly documented. The `dxf` crate (0.6.2, looked at before this was
//! written) does not read hatches, keeps every entity whole in memory, and brings a calendar, a picture
//! decoder and a text decoder along; its parser also takes files on trust that this one must survive.

mod color;
mod curve;
mod entity;
mod joining;
mod record;

use super::layering::{self, FlatShape, Label, REST, TakenNames, tidy, unique};
use super::origin::{self, Origin};
use super::outline::{Drawing, Rings, band, tolerance};
use super::size::{DrawingUnit, UnstatedSize};
use super::{
    Color, Design, DesignError, DrawingNotice, MAX_BYTES, MAX_DEPTH, MAX_ELEMENTS, MAX_EXTENT, MAX_OBJECTS,
    MAX_SEGMENTS, Nothing, ReadOptions, Reading,
};
use crate::geometry::{FillRule, Rect};
use crate::notice::Notices;
use crate::units::Mm;
use color::Ink;
use entity::{Entity, Path, Remark, Shape, decoded};
use glam::{DAffine2, DVec2, dvec2};
use joining::{Chain, Joined, join};
use record::{Record, Records};
use std::borrow::Cow;
use std::collections::{BTreeMap, BTreeSet};

/// Whether these bytes are a DXF drawing.
pub(super) fn is_dxf(bytes: &[u8]) -> bool {
    record::is_dxf(bytes)
}

/// The bytes of a file as this program reads DXF: a drawing in UTF-16 as UTF-8, and lines that end in a carriage
/// return alone as lines that end in a line feed. Any other file is left as it is.
pub(super) fn plain(bytes: &[u8]) -> Cow<'_, [u8]> {
    record::plain(bytes)
}

/// Refuses DXF in its binary form.
pub(super) fn check_kind(bytes: &[u8]) -> Result<(), DesignError> {
    if record::is_binary_dxf(bytes) { Err(DesignError::BinaryDxf) } else { Ok(()) }
}

/// Reads a DXF drawing. Near-linear in entities, copies written out, and edges. Never panics.
pub(super) fn read(name: &str, bytes: &[u8], options: &ReadOptions) -> Result<Reading, DesignError> {
    if bytes.len() as u64 > MAX_BYTES {
        return Err(DesignError::FileTooLarge);
    }
    let text = record::text_of(bytes);
    let file = File::of(&text)?;
    let (unit, mm_per_unit) = file.unit(options);
    let mut drawn = Drawn::default();
    let mut nest =
        Nest { layer: None, ink: None, depth: 0, map: DAffine2::from_scale(DVec2::splat(mm_per_unit)) };
    drawn.add(&file, &file.entities, &mut nest)?;

    let mut notices = Notices::new();
    let extent = drawn.extent().ok_or_else(|| drawn.nothing())?;
    if let Some(unit) = unit {
        notices.push(DrawingNotice::UnitNotStated { unit, size: place(extent.size()) });
    }
    if !file.ended {
        notices.push(DrawingNotice::NoEndMark);
    }
    drawn.note(&mut notices);
    let size = extent.size().max_element();
    if size > MAX_EXTENT || !size.is_finite() {
        return Err(DesignError::TooLarge { metres: size / 1000.0 });
    }
    // Drawings of a whole site lie kilometres from their origin; doubles can move them back unharmed.
    let offset = if extent.min.abs().max(extent.max.abs()).max_element() > MAX_EXTENT {
        extent.min
    } else {
        DVec2::ZERO
    };
    if offset != DVec2::ZERO {
        notices.push(DrawingNotice::MovedToOrigin { distance: Mm::new(offset.length()) });
    }
    Drawing::check_extent(Rect::new(extent.min - offset, extent.max - offset))?;

    let mut flat = Flat::new(options, tolerance(extent), size);
    let mut shapes = Vec::new();
    let mut labels = Vec::new();
    for (name, layers) in drawn.elements(&mut notices) {
        let before = shapes.len();
        flat.add(&layers, labels.len(), offset, &mut shapes)?;
        // A layer of open outlines is no element; those are noted already.
        if shapes.len() > before {
            let color = origin::common(layers.iter().flat_map(|layer| layer.inks.iter().copied()));
            labels.push(Label { name, origin: Origin { groups: Vec::new(), color } });
        }
    }
    flat.note(&mut notices);
    let open_outlines = flat.open;
    let settled = layering::settle(shapes, Vec::new(), labels, None)?;
    let Some(grid) = settled.grid.filter(|_| !settled.elements.is_empty()) else {
        return Err(if open_outlines > 0 { nothing_closes() } else { drawn.nothing() });
    };
    notices.extend(settled.notices);
    let design = Design {
        name: name.to_owned(),
        elements: settled.elements,
        page: None,
        grid,
        notices,
        sharpness: None,
    };
    Drawing::check_extent(design.outline_box())?;
    let unstated = unit.map(|taken| UnstatedSize::of(taken, design.outline_box().size()));
    Ok(Reading { design, unstated, open_outlines })
}

fn nothing_closes() -> DesignError {
    DesignError::NothingToCarve { found: Nothing::NothingCloses }
}

/// A point or an extent, for a notice.
fn place(at: DVec2) -> [Mm; 2] {
    [Mm::new(at.x), Mm::new(at.y)]
}

/// A file taken apart.
#[derive(Default)]
struct File {
    /// `$INSUNITS`.
    unit_code: Option<i64>,
    /// `$MEASUREMENT` says the drawing was begun in inches.
    inches: bool,
    /// Layers that are off or frozen, in lower case: names differ by more than that.
    hidden: BTreeSet<String>,
    /// The colours of layers, by their names in lower case.
    inks: BTreeMap<String, Color>,
    /// By name, in lower case.
    blocks: BTreeMap<String, Block>,
    entities: Vec<Entity>,
    /// Whether the end mark was there.
    ended: bool,
}

#[derive(Default)]
struct Block {
    base: DVec2,
    entities: Vec<Entity>,
}

impl File {
    fn of(text: &str) -> Result<File, DesignError> {
        let mut records = Records::of(text)?;
        let mut file = File::default();
        let mut section = "";
        let mut block: Option<(String, Block)> = None;
        let mut count = 0;
        while let Some(record) = records.record()? {
            match (record.kind, section) {
                ("SECTION", _) => {
                    section = record.text(2).unwrap_or("");
                    if section == "HEADER" {
                        file.header(&record);
                    }
                }
                ("ENDSEC", _) => section = "",
                ("EOF", _) => {
                    file.ended = true;
                    break;
                }
                ("LAYER", "TABLES") => {
                    const FROZEN: i64 = 1;
                    // A layer that is off has its colour's number below nought.
                    let name = decoded(record.text(2).unwrap_or("")).to_lowercase();
                    file.inks.extend(color::of_layer(&record).map(|color| (name.clone(), color)));
                    if record.flags(62) < 0 || record.flags(70) & FROZEN != 0 {
                        file.hidden.insert(name);
                    }
                }
                ("BLOCK", "BLOCKS") => {
                    let base = dvec2(record.number(10, 0.0)?, record.number(20, 0.0)?);
                    let name = record.text(2).unwrap_or("").to_lowercase();
                    block = Some((name, Block { base, entities: Vec::new() }));
                }
                ("ENDBLK", "BLOCKS") => file.blocks.extend(block.take()),
                (_, "BLOCKS" | "ENTITIES") => {
                    count += 1;
                    if count > MAX_OBJECTS {
                        return Err(DesignError::TooManyObjects);
                    }
                    let entity = entity::entity(&record, &mut records)?;
                    match (&mut block, section) {
                        (Some((_, block)), "BLOCKS") => block.entities.push(entity),
                        (None, "BLOCKS") => {}
                        _ => file.entities.push(entity),
                    }
                }
                _ => {}
            }
        }
        Ok(file)
    }

    /// The header is one long record: code 9 names a variable, the codes after it hold its value.
    fn header(&mut self, record: &Record<'_>) {
        let mut variable = "";
        for pair in &record.pairs {
            match (pair.code, variable) {
                (9, _) => variable = pair.value,
                (70, "$INSUNITS") => self.unit_code = pair.value.parse().ok(),
                (70, "$MEASUREMENT") => self.inches = pair.whole() == 0,
                _ => {}
            }
        }
    }

    /// Millimetres to a unit, and what was taken for it where the file does not say.
    fn unit(&self, options: &ReadOptions) -> (Option<DrawingUnit>, f64) {
        if let Some(mm) = self.unit_code.and_then(millimetres_of) {
            return (None, mm);
        }
        let usual = if self.inches { DrawingUnit::Inch } else { DrawingUnit::Millimetre };
        let unit = options.unit.unwrap_or(usual);
        (Some(unit), unit.millimetres())
    }
}

/// What the codes of `$INSUNITS` stand for (DXF reference, "HEADER section"); `None` for "no unit" and
/// for codes that are none.
fn millimetres_of(code: i64) -> Option<f64> {
    const INCH: f64 = 25.4;
    Some(match code {
        1 => INCH,
        2 => 12.0 * INCH,
        3 => 5280.0 * 12.0 * INCH,
        4 => 1.0,
        5 => 10.0,
        6 => 1e3,
        7 => 1e6,
        8 => INCH * 1e-6,
        9 => INCH * 1e-3,
        10 => 36.0 * INCH,
        11 => 1e-7,
        12 => 1e-6,
        13 => 1e-3,
        14 => 100.0,
        15 => 1e4,
        16 => 1e5,
        17 => 1e12,
        // The US survey foot is 1200/3937 m.
        21 => 1200.0 / 3937.0 * 1e3,
        22 => 100.0 / 3937.0 * 1e3,
        23 => 3600.0 / 3937.0 * 1e3,
        _ => return None,
    })
}

/// Where copies of copies are.
struct Nest<'a> {
    /// The layer of the copy, which things on layer `0` belong to.
    layer: Option<&'a str>,
    /// The colour of the copy.
    ink: Option<Color>,
    depth: usize,
    map: DAffine2,
}

/// What a layer holds, in millimetres.
#[derive(Default)]
struct Layer {
    name: String,
    /// The colours of what it holds.
    inks: BTreeSet<Option<Color>>,
    paths: Vec<Path>,
    hatches: Vec<(Vec<Vec<Path>>, FillRule)>,
}

/// Everything drawn, copies written out.
#[derive(Default)]
struct Drawn {
    /// In the order of their first entity.
    layers: Vec<Layer>,
    index: BTreeMap<String, usize>,
    objects: u64,
    curves: usize,
    hidden: usize,
    missing_blocks: usize,
    tilted: usize,
    fitted: usize,
    tapered: usize,
    unread: BTreeMap<String, usize>,
}

impl Drawn {
    fn add(&mut self, file: &File, entities: &[Entity], nest: &mut Nest<'_>) -> Result<(), DesignError> {
        if nest.depth > MAX_DEPTH {
            return Err(DesignError::TooDeep);
        }
        for entity in entities {
            self.objects += 1;
            if self.objects > MAX_OBJECTS {
                return Err(DesignError::TooManyObjects);
            }
            let layer = match nest.layer {
                Some(outer) if entity.layer == "0" => outer,
                _ => &entity.layer,
            };
            if matches!(entity.shape, Shape::Hidden) || file.hidden.contains(&layer.to_lowercase()) {
                self.hidden += 1;
                continue;
            }
            match entity.remark {
                Some(Remark::Tilted) => self.tilted += 1,
                Some(Remark::Fitted) => self.fitted += 1,
                Some(Remark::Tapered) => self.tapered += 1,
                None => {}
            }
            let ink = match entity.ink {
                Ink::Own(color) => Some(color),
                Ink::ByBlock => nest.ink,
                Ink::ByLayer => file.inks.get(&layer.to_lowercase()).copied(),
            };
            match &entity.shape {
                Shape::Path(path) => {
                    self.count(path.curves.len())?;
                    let path = path.mapped(nest.map);
                    let layer = self.layer(layer);
                    layer.inks.insert(ink);
                    layer.paths.push(path);
                }
                Shape::Hatch { loops, rule } => {
                    self.count(loops.iter().flatten().map(|path| path.curves.len()).sum())?;
                    let moved = |parts: &Vec<Path>| parts.iter().map(|path| path.mapped(nest.map)).collect();
                    let loops = loops.iter().map(moved).collect();
                    let layer = self.layer(layer);
                    layer.inks.insert(ink);
                    layer.hatches.push((loops, *rule));
                }
                Shape::Insert(insert) => {
                    let Some(block) = file.blocks.get(&insert.block) else {
                        self.missing_blocks += 1;
                        continue;
                    };
                    let copy = DAffine2::from_scale(insert.scale) * DAffine2::from_translation(-block.base);
                    for row in 0..insert.rows {
                        for column in 0..insert.columns {
                            self.objects += 1;
                            if self.objects > MAX_OBJECTS {
                                return Err(DesignError::TooManyObjects);
                            }
                            let step = dvec2(column as f64, row as f64) * insert.spacing;
                            let map = nest.map * insert.placed * DAffine2::from_translation(step) * copy;
                            let mut inner = Nest { layer: Some(layer), ink, depth: nest.depth + 1, map };
                            self.add(file, &block.entities, &mut inner)?;
                        }
                    }
                }
                Shape::Unread(kind) => *self.unread.entry(kind.clone()).or_default() += 1,
                Shape::Hidden => {}
            }
        }
        Ok(())
    }

    fn count(&mut self, curves: usize) -> Result<(), DesignError> {
        self.curves += curves;
        if self.curves > MAX_SEGMENTS { Err(DesignError::TooManySegments) } else { Ok(()) }
    }

    fn layer(&mut self, name: &str) -> &mut Layer {
        let next = self.layers.len();
        let index = *self.index.entry(name.to_owned()).or_insert(next);
        if index == next {
            self.layers.push(Layer { name: name.to_owned(), ..Layer::default() });
        }
        &mut self.layers[index]
    }

    fn extent(&self) -> Option<Rect> {
        self.layers.iter().filter_map(Layer::extent).reduce(Rect::union)
    }

    /// Why there is nothing to carve.
    fn nothing(&self) -> DesignError {
        let found = if self.hidden > 0 {
            Nothing::AllHidden
        } else if self.unread.is_empty() {
            Nothing::NoOutline
        } else {
            Nothing::OnlyUnread
        };
        DesignError::NothingToCarve { found }
    }

    /// Names and layers in paint order: the one with the larger box below. Beyond [`MAX_ELEMENTS`] all
    /// become one.
    fn elements(&self, notices: &mut Notices<DrawingNotice>) -> Vec<(String, Vec<&Layer>)> {
        if self.layers.len() > MAX_ELEMENTS {
            notices.push(DrawingNotice::TooManyLayers { layers: self.layers.len() });
            return vec![(REST.to_owned(), self.layers.iter().collect())];
        }
        let box_of = |layer: &Layer| layer.extent().map_or(0.0, |extent| extent.size().element_product());
        let mut layers: Vec<&Layer> = self.layers.iter().collect();
        layers.sort_by(|a, b| box_of(b).total_cmp(&box_of(a)));
        let mut taken = TakenNames::default();
        layers.into_iter().map(|layer| (unique(&tidy(&layer.name), &mut taken), vec![layer])).collect()
    }

    /// Notes what was noticed, in a fixed order.
    fn note(&self, notices: &mut Notices<DrawingNotice>) {
        use DrawingNotice as N;
        let kinds: Vec<(String, usize)> =
            self.unread.iter().take(NAMED_KINDS).map(|(kind, &count)| (kind.clone(), count)).collect();
        let more = self.unread.len() - kinds.len();
        notices.push_count(self.unread.values().sum(), |count| N::UnreadEntities { count, kinds, more });
        notices.push_count(self.missing_blocks, |count| N::MissingBlocks { count });
        notices.push_count(self.tapered, |count| N::TaperedLines { count });
        notices.push_count(self.tilted, |count| N::TiltedEntities { count });
        notices.push_count(self.fitted, |count| N::FittedSplines { count });
        notices.push_count(self.hidden, |count| N::HiddenOnLayers { count });
    }
}

/// The most kinds of entities that are named in a notice.
const NAMED_KINDS: usize = 8;

impl Layer {
    fn extent(&self) -> Option<Rect> {
        let hatched = self.hatches.iter().flat_map(|(loops, _)| loops.iter().flatten());
        let boxes = self.paths.iter().chain(hatched).filter_map(|path| {
            let around = Rect::around(path.curves.iter().flat_map(curve::Curve::hull))?;
            Some(around.grown(path.width * 0.5))
        });
        boxes.reduce(Rect::union)
    }
}

/// Flattens layers, joins loose ends, and counts what it did.
struct Flat {
    tolerance: f64,
    join: f64,
    open_as_strokes: Option<f64>,
    edges: usize,
    gaps: usize,
    widest: Option<(f64, DVec2)>,
    repeats: usize,
    open: usize,
    open_at: Option<DVec2>,
    stroked: usize,
}

impl Flat {
    fn new(options: &ReadOptions, tolerance: f64, size: f64) -> Flat {
        Flat {
            tolerance,
            // On a small drawing a tenth of a millimetre is a detail: no more than a thousandth of it.
            join: options.join.get().min(size / 1000.0).max(size * 1e-9),
            open_as_strokes: options.open_as_strokes.map(crate::units::Mm::get),
            edges: 0,
            gaps: 0,
            widest: None,
            repeats: 0,
            open: 0,
            open_at: None,
            stroked: 0,
        }
    }

    fn add(
        &mut self,
        layers: &[&Layer],
        element: usize,
        offset: DVec2,
        shapes: &mut Vec<FlatShape>,
    ) -> Result<(), DesignError> {
        let mut push = |rings: Vec<Vec<DVec2>>, rule| {
            if !rings.is_empty() {
                let rings = Rings { rings, rule };
                shapes.push(FlatShape { element, white: false, rings, clips: Vec::new() });
            }
        };
        for layer in layers {
            for (loops, rule) in &layer.hatches {
                let mut rings = Vec::new();
                for parts in loops {
                    let mut chains = Vec::with_capacity(parts.len());
                    for path in parts {
                        chains.push(self.chain(path, offset)?);
                    }
                    let Joined { loops, open, .. } = join(chains, self.join);
                    // The edges of a hatch are a closed boundary whatever they look like.
                    rings.extend(loops.into_iter().chain(open));
                }
                push(rings, *rule);
            }
            let mut chains = Vec::new();
            for path in &layer.paths {
                if path.width > 0.0 {
                    let chain = self.chain(path, offset)?;
                    push(self.stroke(&chain, path.width, kurbo::Cap::Butt)?, FillRule::NonZero);
                } else {
                    chains.push(self.chain(path, offset)?);
                }
            }
            let joined = join(chains, self.join);
            self.gaps += joined.gaps;
            self.repeats += joined.repeats;
            if let Some((width, at)) = joined.widest
                && self.widest.is_none_or(|(widest, _)| width > widest)
            {
                self.widest = Some((width, at));
            }
            push(joined.loops, FillRule::EvenOdd);
            for points in joined.open {
                if let Some(width) = self.open_as_strokes {
                    self.stroked += 1;
                    let chain = Chain { points, closed: false };
                    push(self.stroke(&chain, width, kurbo::Cap::Round)?, FillRule::NonZero);
                } else {
                    self.open += 1;
                    self.open_at = self.open_at.or(points.first().copied());
                }
            }
        }
        Ok(())
    }

    fn chain(&mut self, path: &Path, offset: DVec2) -> Result<Chain, DesignError> {
        let most = MAX_SEGMENTS.saturating_sub(self.edges);
        let mut points = vec![path.start() - offset];
        for curve in &path.curves {
            let from = points.len();
            curve.flatten(self.tolerance, most.saturating_sub(from).max(1), &mut points);
            for point in &mut points[from..] {
                *point -= offset;
            }
        }
        self.edges += points.len();
        if self.edges > MAX_SEGMENTS {
            return Err(DesignError::TooManySegments);
        }
        if path.closed && points.len() > 1 && points.first() == points.last() {
            points.pop();
        }
        Ok(Chain { points, closed: path.closed })
    }

    fn stroke(&mut self, chain: &Chain, width: f64, cap: kurbo::Cap) -> Result<Vec<Vec<DVec2>>, DesignError> {
        let rings = band(&chain.points, chain.closed, width, cap, self.tolerance);
        self.edges += rings.iter().map(Vec::len).sum::<usize>();
        if self.edges > MAX_SEGMENTS { Err(DesignError::TooManySegments) } else { Ok(rings) }
    }

    /// Notes what was noticed while joining.
    fn note(&self, notices: &mut Notices<DrawingNotice>) {
        use DrawingNotice as N;
        let join = Mm::new(self.join);
        notices.push_count(self.repeats, |count| N::Repeats { count });
        if let Some((widest, at)) = self.widest {
            let widest = Mm::new(widest);
            notices.push(N::ClosedGaps { count: self.gaps, widest, at: place(at), join });
        }
        let at = place(self.open_at.unwrap_or_default());
        notices.push_count(self.open, |count| N::OpenOutlines { count, at, join });
        let width = Mm::new(self.open_as_strokes.unwrap_or(0.0));
        notices.push_count(self.stroked, |count| N::OpenAsStrokes { count, width });
    }
}
