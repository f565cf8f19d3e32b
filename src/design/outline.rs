//! From the parser's tree to shapes: paths in their own coordinates, how they are painted, what clips
//! them and which named things they stand in; then to flat rings in millimetres.

use super::{
    Color, DesignError, DrawingNotice, FLATTENING, FLATTENING_PARTS, MAX_EXTENT, MAX_SEGMENTS, MIN_EXTENT,
};
use crate::geometry::{FillRule, Rect};
use crate::notice::Notices;
use crate::units::Mm;
use glam::{DVec2, dvec2};
use kurbo::{Affine, BezPath, Cap, Join, PathEl, Point, Shape as _, Stroke, StrokeOpts};
use std::collections::{BTreeSet, HashMap, HashSet};
use usvg::tiny_skia_path::PathSegment;

/// The most dashes one stroke is cut into; finer ones are read as a whole stroke.
const MAX_DASHES: f64 = 100_000.0;

/// The length given to dots, as a part of the stroke's width: too short to see, long enough to have a
/// direction in double precision.
const DOT_LENGTH: f64 = 1e-6;

/// A stroke thinner than this, in millimetres as drawn, is more likely a mark on an outline than a
/// line to be carved (common practice, no source: drawings made for cutting
/// along lines come with strokes of a hundredth of a millimetre or so).
const HAIRLINE: f64 = 0.05;

/// One painted shape.
pub(super) struct Shape {
    path: BezPath,
    /// From the path's own coordinates to millimetres, y up.
    to_mm: Affine,
    brush: Brush,
    /// Painted in opaque white.
    pub white: bool,
    /// What it is painted in, where that is one colour.
    pub color: Option<Color>,
    /// The named things it stands in, outermost first: indices into [`Drawing::names`].
    pub trail: Vec<usize>,
    /// The clips that all apply: indices into [`Drawing::clips`].
    pub clips: Vec<usize>,
}

enum Brush {
    Fill(FillRule),
    Stroke(Stroke),
}

/// What a clip path lets through: the union of its shapes. A clip's shapes are only clipped by clips
/// before it.
pub(super) struct Clip {
    pub shapes: Vec<Shape>,
}

/// All that is painted, in paint order.
#[derive(Default)]
pub(super) struct Drawing {
    pub shapes: Vec<Shape>,
    pub clips: Vec<Clip>,
    pub names: Vec<String>,
    /// Which of them are groups that a person gave a name.
    pub layers: BTreeSet<usize>,
    dashes_dropped: usize,
    hairlines: usize,
    patterns: usize,
    clipped_groups: usize,
    /// Hairlines that do not close are read this wide, in millimetres.
    open_as_strokes: Option<f64>,
    open_hairlines: usize,
    widened: usize,
}

/// Rings in millimetres, not clean yet.
pub(super) struct Rings {
    pub rings: Vec<Vec<DVec2>>,
    pub rule: FillRule,
}

impl Drawing {
    /// Collects what a tree paints. Recurses as deep as the tree.
    pub(super) fn of(tree: &usvg::Tree, to_mm: Affine, open_as_strokes: Option<f64>) -> Drawing {
        let mut drawing = Drawing { open_as_strokes, ..Drawing::default() };
        let place = Inherited { to_mm, opacity: 1.0, trail: Vec::new(), clips: Vec::new() };
        drawing.add_group(tree.root(), &place);
        drawing
    }

    /// Gives what has an id the name it is known by.
    pub(super) fn name_by(&mut self, labels: &HashMap<String, String>, layers: &HashSet<String>) {
        for (index, name) in self.names.iter_mut().enumerate() {
            if layers.contains(name) {
                self.layers.insert(index);
            }
            if let Some(label) = labels.get(name) {
                name.clone_from(label);
            }
        }
    }

    /// Outlines that do not close and were read as hairlines.
    pub(super) fn open_hairlines(&self) -> usize {
        self.open_hairlines
    }

    fn add_group(&mut self, group: &usvg::Group, outer: &Inherited) {
        let mut place = Inherited {
            to_mm: outer.to_mm * affine(group.transform()),
            opacity: outer.opacity * group.opacity().get(),
            trail: outer.trail.clone(),
            clips: outer.clips.clone(),
        };
        if place.opacity <= 0.0 {
            return;
        }
        self.enter(group.id(), &mut place);
        if let Some(clip) = group.clip_path() {
            self.clipped_groups += 1;
            self.add_clip(clip, &mut place);
        }
        for node in group.children() {
            self.add_node(node, &place);
        }
    }

    fn add_node(&mut self, node: &usvg::Node, place: &Inherited) {
        match node {
            usvg::Node::Group(group) => self.add_group(group, place),
            usvg::Node::Path(path) => self.add_path(path, place),
            usvg::Node::Text(text) => {
                let mut place = place.clone();
                self.enter(text.id(), &mut place);
                self.add_group(text.flattened(), &place);
            }
            // Nothing resolves an image, so none is left by now; the survey has counted them.
            usvg::Node::Image(_) => {}
        }
    }

    fn enter(&mut self, id: &str, place: &mut Inherited) {
        if !id.trim().is_empty() {
            place.trail.push(self.names.len());
            self.names.push(id.to_owned());
        }
    }

    /// Adds a clip path, what it consists of, and the clip it is itself clipped by.
    fn add_clip(&mut self, clip: &usvg::ClipPath, place: &mut Inherited) {
        let mut inner = Drawing::default();
        std::mem::swap(&mut inner.clips, &mut self.clips);
        let inside = Inherited {
            to_mm: place.to_mm * affine(clip.transform()),
            opacity: 1.0,
            trail: Vec::new(),
            clips: Vec::new(),
        };
        inner.add_group(clip.root(), &inside);
        std::mem::swap(&mut inner.clips, &mut self.clips);
        self.clips.push(Clip { shapes: inner.shapes });
        place.clips.push(self.clips.len() - 1);
        if let Some(further) = clip.clip_path() {
            self.add_clip(further, place);
        }
    }

    fn add_path(&mut self, path: &usvg::Path, place: &Inherited) {
        if !path.is_visible() || !place.to_mm.is_finite() {
            return;
        }
        let mut place = place.clone();
        self.enter(path.id(), &mut place);
        let outline = bez_path(path.data());
        let fill = path.fill().map(|fill| {
            let rule = match fill.rule() {
                usvg::FillRule::NonZero => FillRule::NonZero,
                usvg::FillRule::EvenOdd => FillRule::EvenOdd,
            };
            (Brush::Fill(rule), fill.paint(), fill.opacity().get())
        });
        if let Some(stroke) = path.stroke()
            && f64::from(stroke.width().get()) * scale_of(place.to_mm) < HAIRLINE
            && stroke.opacity().get() * place.opacity > 0.0
        {
            if let Some(width) = self.open_as_strokes {
                self.add_hairline(path, width, &place);
            } else {
                self.hairlines += 1;
                self.open_hairlines += parts(&outline).filter(|part| !closes(part)).count();
            }
        }
        let is_outline = |stroke: &usvg::Stroke| {
            self.open_as_strokes.is_some()
                && f64::from(stroke.width().get()) * scale_of(place.to_mm) < HAIRLINE
        };
        let pen = path.stroke().filter(|stroke| !is_outline(stroke));
        let stroke = pen.map(|stroke| {
            let brush = Brush::Stroke(self.pen(stroke, &outline));
            (brush, stroke.paint(), stroke.opacity().get())
        });
        let painted = match path.paint_order() {
            usvg::PaintOrder::FillAndStroke => [fill, stroke],
            usvg::PaintOrder::StrokeAndFill => [stroke, fill],
        };
        for (brush, paint, opacity) in painted.into_iter().flatten() {
            let opacity = opacity * place.opacity;
            if opacity > 0.0 {
                self.patterns += usize::from(matches!(paint, usvg::Paint::Pattern(_)));
                self.shapes.push(Shape {
                    path: outline.clone(),
                    to_mm: place.to_mm,
                    brush,
                    white: opacity >= 1.0 && is_white(paint),
                    color: color_of(paint),
                    trail: place.trail.clone(),
                    clips: place.clips.clone(),
                });
            }
        }
    }

    /// Reads a hairline as the outline of a shape: what closes is filled, unless it has a fill already,
    /// and what does not is a stroke `width` millimetres wide.
    fn add_hairline(&mut self, path: &usvg::Path, width: f64, place: &Inherited) {
        let outline = &bez_path(path.data());
        let filled = path.fill().is_some();
        let (closed, open): (Vec<_>, Vec<_>) = parts(outline).partition(|part| closes(part));
        let color = path.stroke().and_then(|stroke| color_of(stroke.paint()));
        let mut push = |elements: Vec<&[PathEl]>, brush: Brush| {
            if !elements.is_empty() {
                self.shapes.push(Shape {
                    path: BezPath::from_vec(elements.concat()),
                    to_mm: place.to_mm,
                    brush,
                    white: false,
                    color,
                    trail: place.trail.clone(),
                    clips: place.clips.clone(),
                });
            }
        };
        let pen = Stroke::new(width / scale_of(place.to_mm)).with_join(Join::Round).with_caps(Cap::Round);
        let count = open.len();
        push(open, Brush::Stroke(pen));
        push(if filled { Vec::new() } else { closed }, Brush::Fill(FillRule::EvenOdd));
        self.widened += count;
    }

    /// A stroke's pen, in the path's own coordinates.
    fn pen(&mut self, stroke: &usvg::Stroke, path: &BezPath) -> Stroke {
        let join = match stroke.linejoin() {
            usvg::LineJoin::Miter | usvg::LineJoin::MiterClip => Join::Miter,
            usvg::LineJoin::Round => Join::Round,
            usvg::LineJoin::Bevel => Join::Bevel,
        };
        let cap = match stroke.linecap() {
            usvg::LineCap::Butt => Cap::Butt,
            usvg::LineCap::Round => Cap::Round,
            usvg::LineCap::Square => Cap::Square,
        };
        let pen = Stroke::new(f64::from(stroke.width().get()))
            .with_join(join)
            .with_miter_limit(f64::from(stroke.miterlimit().get()))
            .with_caps(cap);
        let Some(dashes) = stroke.dasharray() else { return pen };
        let period: f64 = dashes.iter().map(|&dash| f64::from(dash)).sum();
        let usable = period > 0.0 && dashes.iter().all(|dash| dash.is_finite() && *dash >= 0.0);
        let cuts = control_length(path) / period * dashes.len() as f64;
        let offset = f64::from(stroke.dashoffset());
        // The dasher steps through the offset, too.
        if usable && cuts < MAX_DASHES && offset.is_finite() {
            // Dashes of no length are dots where the caps are round or square.
            let hair = if cap == Cap::Butt { 0.0 } else { pen.width * DOT_LENGTH };
            let dashes = dashes.iter().map(|&dash| f64::from(dash).max(hair));
            pen.with_dashes(offset.rem_euclid(period), dashes)
        } else {
            self.dashes_dropped += 1;
            pen
        }
    }

    /// The box of all shapes as drawn, a little generous: control points, and strokes without their
    /// mitres. `None` for nothing.
    pub(super) fn extent(&self) -> Option<Rect> {
        let boxes = self.shapes.iter().filter_map(Shape::extent);
        boxes.reduce(Rect::union)
    }

    /// Refuses drawings too large or too small to be meant, before any curve is flattened.
    pub(super) fn check_extent(extent: Rect) -> Result<(), DesignError> {
        let longer = extent.size().max_element();
        let farthest = extent.min.abs().max(extent.max.abs()).max_element();
        // Far off and small is as unusable as large; a hundred times the limit leaves room for pages
        // with an odd origin.
        if !(longer <= MAX_EXTENT && farthest <= 100.0 * MAX_EXTENT) {
            return Err(DesignError::TooLarge { metres: longer.max(farthest) / 1000.0 });
        }
        if longer < MIN_EXTENT {
            return Err(DesignError::TooSmall);
        }
        Ok(())
    }

    /// How well the parser's single precision places the worst point, in millimetres.
    pub(super) fn precision(&self) -> f64 {
        let step = |shape: &Shape| {
            let local = shape.path.control_box();
            let farthest = local.min_x().abs().max(local.max_x().abs()).max(local.min_y().abs());
            let farthest = farthest.max(local.max_y().abs());
            farthest * scale_of(shape.to_mm) * f64::from(f32::EPSILON) * 0.5
        };
        self.shapes.iter().map(step).fold(0.0, f64::max)
    }

    /// Notes what was noticed about the paint, in a fixed order.
    pub(super) fn note(&self, notices: &mut Notices<DrawingNotice>) {
        use DrawingNotice as N;
        notices.push_count(self.dashes_dropped, |count| N::FineDashes { count });
        notices.push_count(self.patterns, |count| N::Patterns { count });
        notices.push_count(self.clipped_groups, |count| N::ClipPaths { count });
        let width = Mm::new(self.open_as_strokes.unwrap_or(0.0));
        notices.push_count(self.widened, |count| N::OpenAsStrokes { count, width });
        notices.push_count(self.hairlines, |count| N::Hairlines { count });
    }
}

impl Shape {
    fn extent(&self) -> Option<Rect> {
        let path = self.to_mm * &self.path;
        if path.elements().is_empty() {
            return None;
        }
        let extent = path.control_box();
        let margin = match &self.brush {
            Brush::Fill(_) => 0.0,
            Brush::Stroke(pen) => pen.width * 0.5 * scale_of(self.to_mm),
        };
        let corners = [dvec2(extent.x0, extent.y0), dvec2(extent.x1, extent.y1)];
        // Kept even where it is not finite: the extent is what is checked next.
        Some(Rect::new(corners[0], corners[1]).grown(margin))
    }
}

/// The parts of a path, each from one start to the next.
fn parts(path: &BezPath) -> impl Iterator<Item = &[PathEl]> {
    path.elements().chunk_by(|_, next| !matches!(next, PathEl::MoveTo(_))).filter(|part| part.len() > 1)
}

/// Whether a part of a path comes back to its start.
fn closes(part: &[PathEl]) -> bool {
    let end = part.last().and_then(PathEl::end_point);
    matches!(part.last(), Some(PathEl::ClosePath)) || part.first().and_then(PathEl::end_point) == end
}

/// The flattening tolerance for a design of this extent, see [`FLATTENING`].
pub(super) fn tolerance(extent: Rect) -> f64 {
    FLATTENING.min(extent.size().max_element() / FLATTENING_PARTS)
}

/// Flattens shapes, and counts edges against [`MAX_SEGMENTS`].
pub(super) struct Flattener {
    /// In millimetres.
    tolerance: f64,
    segments: usize,
    strokes_lost: usize,
}

impl Flattener {
    pub(super) fn new(tolerance: f64) -> Flattener {
        Flattener { tolerance, segments: 0, strokes_lost: 0 }
    }

    /// The rings of one shape. Strokes are outlined first, in the path's own coordinates, so that a
    /// lopsided transform squeezes the stroke as SVG wants it.
    pub(super) fn flatten(&mut self, shape: &Shape) -> Result<Rings, DesignError> {
        match &shape.brush {
            Brush::Fill(rule) => Ok(Rings { rings: self.rings(&(shape.to_mm * &shape.path))?, rule: *rule }),
            Brush::Stroke(pen) => {
                let local = self.tolerance / scale_of(shape.to_mm);
                let outline = if local.is_finite() { stroked(&shape.path, pen, local) } else { None };
                let rings = if let Some(outline) = outline {
                    self.rings(&(shape.to_mm * outline))?
                } else {
                    self.strokes_lost += 1;
                    Vec::new()
                };
                Ok(Rings { rings, rule: FillRule::NonZero })
            }
        }
    }

    fn rings(&mut self, path: &BezPath) -> Result<Vec<Vec<DVec2>>, DesignError> {
        let mut rings: Vec<Vec<DVec2>> = Vec::new();
        let mut segments = self.segments;
        kurbo::flatten(path, self.tolerance, |element| match element {
            PathEl::MoveTo(p) => rings.push(vec![dvec2(p.x, p.y)]),
            PathEl::LineTo(p) if segments <= MAX_SEGMENTS => {
                segments += 1;
                if let Some(ring) = rings.last_mut() {
                    ring.push(dvec2(p.x, p.y));
                }
            }
            _ => {}
        });
        self.segments = segments;
        if segments > MAX_SEGMENTS {
            return Err(DesignError::TooManySegments);
        }
        rings.retain(|ring| ring.len() >= 3 && ring.iter().all(|p| p.is_finite()));
        Ok(rings)
    }

    /// Notes what was noticed while flattening.
    pub(super) fn note(&self, notices: &mut Notices<DrawingNotice>) {
        notices.push_count(self.strokes_lost, |count| DrawingNotice::LostStrokes { count });
    }
}

/// The outline of a stroke; `None` where it cannot be worked out.
///
/// The stroker can give points that are not numbers at cusps; a second try goes along chords, where
/// there are none.
fn stroked(path: &BezPath, pen: &Stroke, tolerance: f64) -> Option<BezPath> {
    let options = StrokeOpts::default();
    let path = &with_dots(path, pen);
    let outline = kurbo::stroke(path.elements().iter().copied(), pen, &options, tolerance);
    if outline.is_finite() {
        return Some(outline);
    }
    let mut chords = BezPath::new();
    kurbo::flatten(path, tolerance, |element| chords.push(element));
    let outline = kurbo::stroke(chords.elements().iter().copied(), pen, &options, tolerance);
    outline.is_finite().then_some(outline)
}

/// The rings of a band drawn along flat points, in millimetres: round joins, so that no corner sticks
/// out further than the band is wide.
pub(super) fn band(points: &[DVec2], closed: bool, width: f64, cap: Cap, tolerance: f64) -> Vec<Vec<DVec2>> {
    let mut path = BezPath::new();
    for (index, p) in points.iter().enumerate() {
        let p = Point::new(p.x, p.y);
        if index == 0 { path.move_to(p) } else { path.line_to(p) }
    }
    if closed {
        path.close_path();
    }
    let pen = Stroke::new(width).with_join(Join::Round).with_caps(cap);
    stroked(&path, &pen, tolerance).map_or_else(Vec::new, |outline| ring_points(&outline, tolerance))
}

/// A rectangle with round corners, counter-clockwise; a radius is at most half the shorter side, and at
/// least nothing.
pub(super) fn rounded_rectangle(rect: Rect, corner: f64, tolerance: f64) -> Vec<DVec2> {
    let radius = corner.clamp(0.0, rect.size().min_element().max(0.0) * 0.5);
    let shape = kurbo::Rect::new(rect.min.x, rect.min.y, rect.max.x, rect.max.y).to_rounded_rect(radius);
    let mut rings = ring_points(&shape.to_path(tolerance * 0.1), tolerance);
    rings.pop().unwrap_or_default()
}

/// An ellipse with level and upright axes, counter-clockwise.
pub(super) fn ellipse(middle: DVec2, radii: DVec2, tolerance: f64) -> Vec<DVec2> {
    let shape = kurbo::Ellipse::new((middle.x, middle.y), (radii.x, radii.y), 0.0);
    let mut rings = ring_points(&shape.to_path(tolerance * 0.1), tolerance);
    rings.pop().unwrap_or_default()
}

/// The rings of a path, flattened; those without an inside are dropped.
pub(super) fn ring_points(path: &BezPath, tolerance: f64) -> Vec<Vec<DVec2>> {
    let mut flattener = Flattener::new(tolerance);
    // Only a path of its own that is too long for any drawing fails, and none is made here.
    flattener.rings(path).unwrap_or_default()
}

/// A path whose parts without any length are drawn out by a hair where their caps make dots of them
/// (SVG 1.1 section 11.4): the stroker would drop them.
fn with_dots(path: &BezPath, pen: &Stroke) -> BezPath {
    if pen.start_cap == Cap::Butt {
        return path.clone();
    }
    let hair = pen.width * DOT_LENGTH;
    let mut drawn = Vec::with_capacity(path.elements().len());
    for part in path.elements().chunk_by(|_, next| !matches!(next, PathEl::MoveTo(_))) {
        let [PathEl::MoveTo(start), rest @ ..] = part else {
            drawn.extend_from_slice(part);
            continue;
        };
        let still = |element: &PathEl| match *element {
            PathEl::MoveTo(a) | PathEl::LineTo(a) => a == *start,
            PathEl::QuadTo(a, b) => a == *start && b == *start,
            PathEl::CurveTo(a, b, c) => a == *start && b == *start && c == *start,
            PathEl::ClosePath => true,
        };
        if !rest.is_empty() && rest.iter().all(still) {
            drawn.push(part[0]);
            drawn.push(PathEl::LineTo(*start + kurbo::Vec2::new(hair, 0.0)));
        } else {
            drawn.extend_from_slice(part);
        }
    }
    BezPath::from_vec(drawn)
}

/// What a group hands down to everything in it.
#[derive(Clone)]
struct Inherited {
    to_mm: Affine,
    opacity: f32,
    trail: Vec<usize>,
    clips: Vec<usize>,
}

fn color_of(paint: &usvg::Paint) -> Option<Color> {
    match paint {
        usvg::Paint::Color(color) => Some(Color([color.red, color.green, color.blue])),
        _ => None,
    }
}

fn is_white(paint: &usvg::Paint) -> bool {
    matches!(paint, usvg::Paint::Color(color) if [color.red, color.green, color.blue] == [255; 3])
}

fn affine(t: usvg::Transform) -> Affine {
    Affine::new([t.sx, t.ky, t.kx, t.sy, t.tx, t.ty].map(f64::from))
}

/// The most a transform stretches any direction.
fn scale_of(transform: Affine) -> f64 {
    let [a, b, c, d, ..] = transform.as_coeffs();
    // The larger singular value of the linear part.
    let (sum, difference) = (((a + d).hypot(b - c)), ((a - d).hypot(b + c)));
    (sum + difference) * 0.5
}

fn control_length(path: &BezPath) -> f64 {
    let mut length = 0.0;
    let mut last = Point::ZERO;
    let mut start = Point::ZERO;
    for element in path.elements() {
        let (points, end) = match *element {
            PathEl::MoveTo(p) => {
                start = p;
                last = p;
                continue;
            }
            PathEl::LineTo(p) => ([last, p, p, p], p),
            PathEl::QuadTo(a, p) => ([last, a, p, p], p),
            PathEl::CurveTo(a, b, p) => ([last, a, b, p], p),
            PathEl::ClosePath => ([last, start, start, start], start),
        };
        length += points.windows(2).map(|pair| pair[0].distance(pair[1])).sum::<f64>();
        last = end;
    }
    length
}

fn bez_path(data: &usvg::tiny_skia_path::Path) -> BezPath {
    let point = |p: usvg::tiny_skia_path::Point| Point::new(f64::from(p.x), f64::from(p.y));
    let elements = data.segments().map(|segment| match segment {
        PathSegment::MoveTo(p) => PathEl::MoveTo(point(p)),
        PathSegment::LineTo(p) => PathEl::LineTo(point(p)),
        PathSegment::QuadTo(a, p) => PathEl::QuadTo(point(a), point(p)),
        PathSegment::CubicTo(a, b, p) => PathEl::CurveTo(point(a), point(b), point(p)),
        PathSegment::Close => PathEl::ClosePath,
    });
    elements.collect()
}
