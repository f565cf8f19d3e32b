//! Records to entities: what is drawn, on which layer, as exact curves in the drawing's own units.
//!
//! Group codes are those of the DXF reference's "ENTITIES section". Heights are dropped: a drawing is
//! looked at from above.

use super::super::DesignError;
use super::color::Ink;
use super::curve::Curve;
use super::record::{Pair, Record, Records};
use crate::geometry::FillRule;
use glam::{DAffine2, DVec2, DVec3, dvec2};
use std::f64::consts::TAU;

/// One thing drawn.
#[derive(Clone, Debug)]
pub(super) struct Entity {
    pub layer: String,
    pub ink: Ink,
    pub shape: Shape,
    pub remark: Option<Remark>,
}

/// How an entity was read differently from the file.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Remark {
    /// It lies in a plane that is not level.
    Tilted,
    /// A spline that only has points to pass through.
    Fitted,
    /// A band whose width changes along it.
    Tapered,
}

#[derive(Clone, Debug)]
pub(super) enum Shape {
    Path(Path),
    /// A filled area: what each loop consists of, and how loops inside loops are filled.
    Hatch {
        loops: Vec<Vec<Path>>,
        rule: FillRule,
    },
    Insert(Insert),
    /// Switched off, or on a sheet of paper beside the drawing.
    Hidden,
    /// Of a kind that is not read, or with numbers that do not go together.
    Unread(String),
}

/// Curves end to end.
#[derive(Clone, Debug)]
pub(super) struct Path {
    pub curves: Vec<Curve>,
    pub closed: bool,
    /// Width of the band drawn along it; 0 for a line.
    pub width: f64,
}

/// A copy of a block, or rows of them.
#[derive(Clone, Debug)]
pub(super) struct Insert {
    pub block: String,
    /// Where the copies go in what holds them, once moved to their place in the rows.
    pub placed: DAffine2,
    /// Scale of each copy about the block's base point.
    pub scale: DVec2,
    pub columns: u64,
    pub rows: u64,
    pub spacing: DVec2,
}

/// Reads one entity; `POLYLINE` and `INSERT` take the records that belong to them from `following`.
pub(super) fn entity(record: &Record<'_>, following: &mut Records<'_>) -> Result<Entity, DesignError> {
    let mut remark = None;
    let plane = Plane::of(record)?;
    let mut shape = match record.kind {
        "LINE" => {
            let ends = [10, 11].map(|code| point(record, code));
            let [from, to] = ends;
            path(vec![Curve::Line([from?, to?])], false)
        }
        "LWPOLYLINE" => light_polyline(record, &plane, &mut remark)?,
        "POLYLINE" => heavy_polyline(record, following, &plane, &mut remark)?,
        "ARC" => {
            let [from, to] = [50, 51].map(|code| record.number(code, 0.0));
            let start = from?.to_radians();
            let sweep = turn(to?.to_radians() - start);
            round(record, start, sweep, &plane)?
        }
        "CIRCLE" => round(record, 0.0, TAU, &plane)?,
        "ELLIPSE" => ellipse(record)?,
        "SPLINE" => {
            let spline = SplineData::of(&record.pairs)?;
            if spline.points.is_empty() && spline.fit.len() > 1 {
                remark = Some(Remark::Fitted);
            }
            let closed = record.flags(70) & 1 != 0;
            spline.curve(closed).map_or_else(|| unread("SPLINE"), |curve| path(vec![curve], closed))
        }
        "HATCH" => hatch(record, &plane)?,
        "SOLID" | "TRACE" => {
            let [a, b, c, d] = [10, 11, 13, 12].map(|code| Ok(plane.at(point(record, code)?)));
            let corners: Vec<DVec2> = [a?, b?, c?, d?].into();
            let loops = vec![vec![Path { curves: chords(&corners), closed: true, width: 0.0 }]];
            Shape::Hatch { loops, rule: FillRule::NonZero }
        }
        "INSERT" => insert(record, following, &plane)?,
        kind => unread(kind),
    };
    if record.flags(60) == 1 || record.flags(67) == 1 {
        shape = Shape::Hidden;
    }
    let flat = matches!(record.kind, "LINE" | "SPLINE");
    if plane.tilted && !flat && !matches!(shape, Shape::Hidden | Shape::Unread(_)) {
        remark = Some(Remark::Tilted);
    }
    let layer = record.text(8).map_or_else(|| "0".to_owned(), decoded);
    Ok(Entity { layer, ink: Ink::of(record), shape, remark })
}

/// A name with characters written as `\U+00E9` put back.
pub(super) fn decoded(text: &str) -> String {
    let mut parts = text.split("\\U+");
    let mut name = parts.next().unwrap_or("").to_owned();
    for part in parts {
        let code = part.get(..4).and_then(|digits| u32::from_str_radix(digits, 16).ok());
        if let Some(c) = code.and_then(char::from_u32) {
            name.push(c);
            name.push_str(&part[4..]);
        } else {
            name.push_str("\\U+");
            name.push_str(part);
        }
    }
    name
}

fn path(curves: Vec<Curve>, closed: bool) -> Shape {
    Shape::Path(Path { curves, closed, width: 0.0 })
}

fn unread(kind: &str) -> Shape {
    Shape::Unread(kind.chars().filter(|c| !c.is_control()).take(24).collect())
}

/// The point under `code` and the two codes ten and twenty higher; its height is dropped.
fn point(record: &Record<'_>, code: i32) -> Result<DVec2, DesignError> {
    Ok(dvec2(record.number(code, 0.0)?, record.number(code + 10, 0.0)?))
}

/// An angle from more than nothing to a full turn.
fn turn(angle: f64) -> f64 {
    let turn = angle.rem_euclid(TAU);
    if turn < 1e-9 { TAU } else { turn }
}

fn chords(corners: &[DVec2]) -> Vec<Curve> {
    corners.windows(2).map(|pair| Curve::Line([pair[0], pair[1]])).collect()
}

/// The plane an entity's own coordinates lie in, seen from above (DXF reference, "Arbitrary axis
/// algorithm"). Mostly the drawing's own, or the same seen from behind.
struct Plane {
    map: DAffine2,
    tilted: bool,
}

impl Plane {
    fn of(record: &Record<'_>) -> Result<Plane, DesignError> {
        // Nearer to the axis than this, the other axis is taken.
        const NEAR: f64 = 1.0 / 64.0;
        let [x, y, z] = [(210, 0.0), (220, 0.0), (230, 1.0)].map(|(code, usual)| record.number(code, usual));
        let normal = DVec3::new(x?, y?, z?).normalize_or(DVec3::Z);
        let level = normal.x.abs() < NEAR && normal.y.abs() < NEAR;
        let across =
            if level { DVec3::Y.cross(normal) } else { DVec3::Z.cross(normal) }.normalize_or(DVec3::X);
        let up = normal.cross(across);
        let height = record.number(if record.kind == "LWPOLYLINE" { 38 } else { 30 }, 0.0)?;
        Ok(Plane {
            map: DAffine2::from_cols(across.truncate(), up.truncate(), normal.truncate() * height),
            tilted: normal.z.abs() < 1.0 - 1e-9,
        })
    }

    fn at(&self, point: DVec2) -> DVec2 {
        self.map.transform_point2(point)
    }
}

fn round(record: &Record<'_>, start: f64, sweep: f64, plane: &Plane) -> Result<Shape, DesignError> {
    let (center, radius) = (point(record, 10)?, record.number(40, 0.0)?);
    if radius <= 0.0 {
        return Ok(unread(record.kind));
    }
    let arc = Curve::Arc { center, u: DVec2::X * radius, v: DVec2::Y * radius, start, sweep };
    Ok(path(vec![arc.mapped(plane.map)], sweep >= TAU))
}

fn ellipse(record: &Record<'_>) -> Result<Shape, DesignError> {
    let numbers = |codes: [i32; 3], usual: [f64; 3]| -> Result<DVec3, DesignError> {
        let mut vector = DVec3::from_array(usual);
        for (axis, code) in codes.into_iter().enumerate() {
            vector[axis] = record.number(code, usual[axis])?;
        }
        Ok(vector)
    };
    let major = numbers([11, 21, 31], [1.0, 0.0, 0.0])?;
    let normal = numbers([210, 220, 230], [0.0, 0.0, 1.0])?.normalize_or(DVec3::Z);
    let minor = normal.cross(major) * record.number(40, 1.0)?;
    let [start, end] = [(41, 0.0), (42, TAU)].map(|(code, usual)| record.number(code, usual));
    let start = start?;
    let sweep = turn(end? - start);
    let (u, v) = (major.truncate(), minor.truncate());
    if u == DVec2::ZERO || v == DVec2::ZERO {
        return Ok(unread(record.kind));
    }
    Ok(path(vec![Curve::Arc { center: point(record, 10)?, u, v, start, sweep }], sweep >= TAU))
}

/// A corner of a polyline and what runs on from it.
#[derive(Clone, Copy, Default)]
struct Vertex {
    at: DVec2,
    bulge: f64,
    widths: [f64; 2],
}

/// The path through corners. A band whose width changes has none, and a remark.
fn through(vertices: &[Vertex], closed: bool, plane: &Plane, remark: &mut Option<Remark>) -> Shape {
    if vertices.len() < 2 {
        return unread("polyline of one point");
    }
    let pairs = vertices.windows(2).map(|pair| [pair[0], pair[1]]);
    let closing = closed.then(|| [vertices[vertices.len() - 1], vertices[0]]);
    let curves = pairs.chain(closing).map(|[a, b]| Curve::bulged(a.at, b.at, a.bulge).mapped(plane.map));
    let curves = curves.collect();
    let drawn = if closed { vertices } else { &vertices[..vertices.len() - 1] };
    let width = drawn[0].widths[0];
    let even = drawn.iter().flat_map(|vertex| vertex.widths).all(|other| other == width);
    if !even {
        *remark = Some(Remark::Tapered);
    }
    Shape::Path(Path { curves, closed, width: if even { width.max(0.0) } else { 0.0 } })
}

fn light_polyline(
    record: &Record<'_>,
    plane: &Plane,
    remark: &mut Option<Remark>,
) -> Result<Shape, DesignError> {
    let mut vertices: Vec<Vertex> = Vec::new();
    let constant = record.number(43, 0.0)?;
    for pair in &record.pairs {
        if pair.code == 10 {
            let at = dvec2(pair.number()?, 0.0);
            vertices.push(Vertex { at, bulge: 0.0, widths: [constant; 2] });
        } else if let Some(vertex) = vertices.last_mut() {
            match pair.code {
                20 => vertex.at.y = pair.number()?,
                40 => vertex.widths[0] = pair.number()?,
                41 => vertex.widths[1] = pair.number()?,
                42 => vertex.bulge = pair.number()?,
                _ => {}
            }
        }
    }
    Ok(through(&vertices, record.flags(70) & 1 != 0, plane, remark))
}

fn heavy_polyline(
    record: &Record<'_>,
    following: &mut Records<'_>,
    plane: &Plane,
    remark: &mut Option<Remark>,
) -> Result<Shape, DesignError> {
    const CLOSED: i64 = 1;
    const SPLINE_FIT: i64 = 4;
    const IN_SPACE: i64 = 8;
    const MESHES: i64 = 16 | 64;
    /// A corner of the frame a spline was fitted to: not on the curve.
    const FRAME_CORNER: i64 = 16;
    let flags = record.flags(70);
    let usual = [record.number(40, 0.0)?, record.number(41, 0.0)?];
    let mut vertices = Vec::new();
    while following.next_is("VERTEX") {
        let Some(vertex) = following.record()? else { break };
        if flags & SPLINE_FIT != 0 && vertex.flags(70) & FRAME_CORNER != 0 {
            continue;
        }
        vertices.push(Vertex {
            at: point(&vertex, 10)?,
            bulge: vertex.number(42, 0.0)?,
            widths: [vertex.number(40, usual[0])?, vertex.number(41, usual[1])?],
        });
    }
    if following.next_is("SEQEND") {
        following.record()?;
    }
    if flags & MESHES != 0 {
        return Ok(unread("mesh"));
    }
    let space = Plane { map: DAffine2::IDENTITY, tilted: false };
    let plane = if flags & IN_SPACE != 0 { &space } else { plane };
    Ok(through(&vertices, flags & CLOSED != 0, plane, remark))
}

/// The numbers of a spline, as `SPLINE` and the edges of a `HATCH` give them.
struct SplineData {
    degree: usize,
    knots: Vec<f64>,
    weights: Vec<f64>,
    points: Vec<DVec2>,
    fit: Vec<DVec2>,
}

impl SplineData {
    /// Group codes: degree 71, knots 40, weights 41, points 10, points to pass through 11.
    fn of(pairs: &[Pair<'_>]) -> Result<SplineData, DesignError> {
        SplineData::with_codes(pairs, 71, 41)
    }

    fn with_codes(pairs: &[Pair<'_>], degree_code: i32, weight_code: i32) -> Result<SplineData, DesignError> {
        let mut data = SplineData { degree: 3, knots: vec![], weights: vec![], points: vec![], fit: vec![] };
        for pair in pairs {
            match pair.code {
                10 => data.points.push(dvec2(pair.number()?, 0.0)),
                11 => data.fit.push(dvec2(pair.number()?, 0.0)),
                20 => set_y(&mut data.points, pair.number()?),
                21 => set_y(&mut data.fit, pair.number()?),
                40 => data.knots.push(pair.number()?),
                code if code == weight_code => data.weights.push(pair.number()?),
                code if code == degree_code => data.degree = usize::try_from(pair.whole()).unwrap_or(0),
                _ => {}
            }
        }
        Ok(data)
    }

    /// `None` where the numbers do not go together.
    fn curve(&self, closed: bool) -> Option<Curve> {
        if self.points.is_empty() {
            return Curve::through(&self.fit, closed);
        }
        if !self.weights.is_empty() && self.weights.len() != self.points.len() {
            return None;
        }
        let weight = |index: usize| self.weights.get(index).copied().unwrap_or(1.0);
        let points: Vec<DVec3> =
            self.points.iter().enumerate().map(|(index, p)| p.extend(weight(index))).collect();
        Curve::spline(self.degree, &self.knots, &points)
    }
}

fn set_y(points: &mut [DVec2], y: f64) {
    if let Some(point) = points.last_mut() {
        point.y = y;
    }
}

fn insert(record: &Record<'_>, following: &mut Records<'_>, plane: &Plane) -> Result<Shape, DesignError> {
    // Attributes of a copy are text, which is not read.
    if record.flags(66) == 1 {
        while following.next_is("ATTRIB") {
            following.record()?;
        }
        if following.next_is("SEQEND") {
            following.record()?;
        }
    }
    let at = point(record, 10)?;
    let angle = record.number(50, 0.0)?.to_radians();
    let [sx, sy] = [41, 42].map(|code| record.number(code, 1.0));
    let [dx, dy] = [44, 45].map(|code| record.number(code, 0.0));
    let times = |code: i32| u64::try_from(record.flags(code)).unwrap_or(0).max(1);
    Ok(Shape::Insert(Insert {
        block: record.text(2).unwrap_or("").to_lowercase(),
        placed: plane.map * DAffine2::from_angle_translation(angle, at),
        scale: dvec2(sx?, sy?),
        columns: times(70),
        rows: times(71),
        spacing: dvec2(dx?, dy?),
    }))
}

/// The boundary of a hatch: loops of corners, or of edges.
fn hatch(record: &Record<'_>, plane: &Plane) -> Result<Shape, DesignError> {
    const POLYLINE: i64 = 2;
    /// Style 2 fills everything inside the outermost loops.
    const WHOLE_AREA: i64 = 2;
    let pairs = &record.pairs;
    let starts: Vec<usize> = (0..pairs.len()).filter(|&at| pairs[at].code == 92).collect();
    let mut loops = Vec::with_capacity(starts.len());
    for (index, &start) in starts.iter().enumerate() {
        // What follows the last loop (code 75 and on: style, pattern, seed points) is none of it.
        let rest = &pairs[start + 1..starts.get(index + 1).copied().unwrap_or(pairs.len())];
        let rest = &rest[..rest.iter().position(|pair| pair.code == 75).unwrap_or(rest.len())];
        if pairs[start].whole() & POLYLINE != 0 {
            let corners = Record { kind: "LWPOLYLINE", pairs: rest.to_vec() };
            let mut width_does_not_count = None;
            if let Shape::Path(path) = light_polyline(&corners, plane, &mut width_does_not_count)? {
                let mut path = Path { width: 0.0, closed: true, ..path };
                // Closed whatever its flag says.
                let (from, to) = (path.end(), path.start());
                if from != to {
                    path.curves.push(Curve::Line([from, to]));
                }
                loops.push(vec![path]);
            }
            continue;
        }
        let edges: Vec<usize> = (0..rest.len()).filter(|&at| rest[at].code == 72).collect();
        let mut parts = Vec::with_capacity(edges.len());
        for (index, &edge) in edges.iter().enumerate() {
            let own = &rest[edge + 1..edges.get(index + 1).copied().unwrap_or(rest.len())];
            if let Some(curve) = hatch_edge(rest[edge].whole(), own)? {
                let curve = curve.mapped(plane.map);
                parts.push(Path { curves: vec![curve], closed: false, width: 0.0 });
            }
        }
        if !parts.is_empty() {
            loops.push(parts);
        }
    }
    if loops.is_empty() {
        return Ok(unread("HATCH"));
    }
    let rule = if record.flags(75) == WHOLE_AREA { FillRule::NonZero } else { FillRule::EvenOdd };
    Ok(Shape::Hatch { loops, rule })
}

/// One edge of a hatch's loop; `None` for one whose numbers do not go together.
fn hatch_edge(kind: i64, pairs: &[Pair<'_>]) -> Result<Option<Curve>, DesignError> {
    let edge = Record { kind: "edge", pairs: pairs.to_vec() };
    // An edge that runs clockwise has its angles measured clockwise, too.
    let clockwise = edge.text(73) == Some("0");
    let angles = |ratio: f64| -> Result<(f64, f64), DesignError> {
        let [from, to] = [50, 51].map(|code| edge.number(code, 0.0));
        let (from, to) = (from?, to?);
        let whole = (to - from).abs() >= 360.0 - 1e-9;
        // On an ellipse the angle is that of the point, not its parameter.
        let parameter = |degrees: f64| {
            let (sin, cos) = degrees.to_radians().sin_cos();
            (sin / ratio).atan2(cos)
        };
        let (from, to) = (parameter(from), parameter(to));
        let sweep = if whole { TAU } else { turn(to - from) };
        Ok(if clockwise { (-from, -sweep) } else { (from, sweep) })
    };
    Ok(match kind {
        1 => Some(Curve::Line([point(&edge, 10)?, point(&edge, 11)?])),
        2 => {
            let radius = edge.number(40, 0.0)?;
            let (start, sweep) = angles(1.0)?;
            let (u, v) = (DVec2::X * radius, DVec2::Y * radius);
            (radius > 0.0).then_some(Curve::Arc { center: point(&edge, 10)?, u, v, start, sweep })
        }
        3 => {
            let (u, ratio) = (point(&edge, 11)?, edge.number(40, 1.0)?);
            if u == DVec2::ZERO || ratio == 0.0 {
                return Ok(None);
            }
            let (start, sweep) = angles(ratio)?;
            Some(Curve::Arc { center: point(&edge, 10)?, u, v: u.perp() * ratio, start, sweep })
        }
        4 => SplineData::with_codes(pairs, 94, 42)?.curve(false),
        _ => None,
    })
}

impl Path {
    pub(super) fn start(&self) -> DVec2 {
        self.curves.first().map_or(DVec2::ZERO, Curve::start)
    }

    pub(super) fn end(&self) -> DVec2 {
        self.curves.last().map_or(DVec2::ZERO, Curve::end)
    }

    pub(super) fn mapped(&self, map: DAffine2) -> Path {
        // A band in a lopsided copy keeps the mean of its widths: there is no other even one.
        let scale = map.matrix2.determinant().abs().sqrt();
        Path {
            curves: self.curves.iter().map(|curve| curve.mapped(map)).collect(),
            closed: self.closed,
            width: self.width * scale,
        }
    }
}
