//! The findings on the board: a band over what is thin, and a numbered mark beside it.
//!
//! Each kind has its own colour and its own shape, so that neither speaks alone. The colours are those
//! of Okabe and Ito, *Color Universal Design* (2008), which people with any kind of colour vision can
//! tell apart.

use super::carve::push_ring;
use super::wood::{color, fill, solid};
use super::{Picture, View, on_screen};
use crate::geometry::widths::AxisPoint;
use crate::proof::{Finding, FindingKind, Proof, Severity, Site};
use crate::sheet::lettering::{Align, Lettering};
use crate::words::finding::more_marks;
use glam::{DAffine2, DVec2, Vec2, vec2};
use std::collections::BTreeSet;
use tiny_skia::{Color, FillRule, LineCap, LineJoin, Path, PathBuilder, Pixmap, Rect, Stroke, Transform};

/// The outline of a finding's mark.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum MarkShape {
    /// A disc.
    Disc,
    /// A triangle that points up.
    Triangle,
    /// A square.
    Square,
    /// A square on its corner.
    Diamond,
    /// A six-sided mark.
    Hexagon,
}

/// The colour of a kind of finding: red, green, blue, of the palette of Okabe and Ito (2008).
pub fn mark_color(kind: FindingKind) -> [u8; 3] {
    match kind {
        FindingKind::ThinWall => [0xD5, 0x5E, 0x00],      // vermilion
        FindingKind::LostTip => [0x00, 0x72, 0xB2],       // blue
        FindingKind::BlockedGroove => [0xCC, 0x79, 0xA7], // reddish purple
        FindingKind::ShallowGroove => [0x00, 0x9E, 0x73], // bluish green
        FindingKind::SnipeZone => [0xE6, 0x9F, 0x00],     // orange
        FindingKind::Blemish => [0x56, 0xB4, 0xE9],       // sky blue
        FindingKind::BoardShort
        | FindingKind::BoardNarrow
        | FindingKind::BoardThin
        | FindingKind::MachineLimit
        | FindingKind::SensingStrip
        | FindingKind::ThicknessLeft
        | FindingKind::Warp
        | FindingKind::Overhang
        | FindingKind::Invisible
        | FindingKind::LoosePiece
        | FindingKind::NotChecked
        | FindingKind::CutterLimit => [0x00, 0x00, 0x00],
    }
}

/// The shape of a kind of finding's mark.
pub fn mark_shape(kind: FindingKind) -> MarkShape {
    match kind {
        FindingKind::ThinWall => MarkShape::Disc,
        FindingKind::LostTip => MarkShape::Triangle,
        FindingKind::BlockedGroove => MarkShape::Square,
        FindingKind::ShallowGroove => MarkShape::Diamond,
        _ => MarkShape::Hexagon,
    }
}

/// A band is never drawn narrower than this many pixels, or it could not be seen.
const LEAST_BAND: f64 = 3.0;

/// Marks beyond this many, and those of findings that lose nothing, are drawn small and without a
/// number: a design with hundreds of findings would otherwise vanish under them.
const NUMBERED: usize = 40;

/// Of small marks of one kind in a square of this side, in pixels, one is drawn: the others would only cover it.
const SMALL_MARK_ROOM: f32 = 6.0;

/// A numbered mark on the picture.
struct NumberedMark {
    kind: FindingKind,
    /// Its number, as the list of findings has it.
    number: usize,
    /// Where its finding is.
    spot: Vec2,
    /// Where it is itself.
    at: Vec2,
    radius: f32,
    /// How many more findings it stands for.
    more: usize,
}

/// Paints the bands and marks of a proof's findings on nothing: to be laid over the carved design.
///
/// Marks are numbered in the order of the findings, on from `before`, the last number that is taken. Where there is no
/// room for a mark, the nearest says that there is one more. `selected` (an index) is placed first, larger.
/// `O(findings + chords)`.
pub fn marks(proof: &Proof, before: usize, view: &View, selected: Option<usize>) -> Picture {
    let mut pixmap = view.pixmap();
    if view.scale() == 0.0 || !proof.board_from_design.is_finite() {
        return pixmap.into();
    }
    for finding in &proof.findings {
        paint_band(&mut pixmap, finding, proof.board_from_design, view, 1.0);
    }
    if let Some(finding) = selected.and_then(|index| proof.findings.get(index)) {
        paint_band(&mut pixmap, finding, proof.board_from_design, view, 1.8);
    }
    let [w, h] = view.size.map(|side| side as f32);
    let mut numbered: Vec<NumberedMark> = Vec::new();
    let mut small = BTreeSet::new();
    let order =
        selected.into_iter().chain((0..proof.findings.len()).filter(|index| Some(*index) != selected));
    for index in order {
        let Some(finding) = proof.findings.get(index).filter(|finding| finding.site() != Site::WholeBoard)
        else {
            continue;
        };
        let (kind, spot) = (finding.kind(), Vec2::from_array(on_screen(view, finding.at)));
        // A mark far outside the picture helps nobody, and costs painting.
        if !spot.is_finite() || spot.x < -40.0 || spot.y < -40.0 || spot.x > w + 40.0 || spot.y > h + 40.0 {
            continue;
        }
        let (number, is_selected) = (before + index + 1, Some(index) == selected);
        if number <= NUMBERED && finding.severity() > Severity::Sound || is_selected {
            let radius = if is_selected { 14.0 } else { 10.0 };
            match place_for(spot, radius, &numbered, vec2(w, h)) {
                Place::Clear(at) => numbered.push(NumberedMark { kind, number, spot, at, radius, more: 0 }),
                Place::With(other) => numbered[other].more += 1,
            }
        } else {
            let [column, row] = (spot / SMALL_MARK_ROOM).floor().as_ivec2().to_array();
            if small.insert((kind, column, row)) {
                paint_shape(&mut pixmap, kind, spot, 4.0);
            }
        }
    }
    // The first is the gravest, so it is painted over the others.
    for mark in numbered.iter().rev() {
        paint_mark(&mut pixmap, mark);
    }
    pixmap.into()
}

fn paint_band(pixmap: &mut Pixmap, finding: &Finding, board_from_design: DAffine2, view: &View, swell: f64) {
    let screen_from_design = view.screen_from_board * board_from_design;
    let scale = screen_from_design.matrix2.x_axis.length();
    let Some(path) = band(finding.axis(), screen_from_design, scale, swell) else { return };
    let [r, g, b] = mark_color(finding.kind());
    // A pale casing keeps the band apart from dark ground and dark wood alike.
    let casing = Stroke { width: 3.0, line_join: LineJoin::Round, ..Stroke::default() };
    pixmap.stroke_path(&path, &solid(color(0xFFFFFF, 0.85)), &casing, Transform::identity(), None);
    pixmap.fill_path(
        &path,
        &solid(Color::from_rgba8(r, g, b, 255)),
        FillRule::Winding,
        Transform::identity(),
        None,
    );
}

/// The thin part of an axis as an outline on the screen: a piece a chord, round at both ends.
fn band(axis: &[[AxisPoint; 2]], screen_from_design: DAffine2, scale: f64, swell: f64) -> Option<Path> {
    let mut path = PathBuilder::new();
    for ends in axis {
        let [a, b] = ends.map(|end| {
            let half = (end.width * scale / 2.0).max(LEAST_BAND / 2.0) * swell;
            (screen_from_design.transform_point2(end.at), half)
        });
        if !(a.0.is_finite() && b.0.is_finite() && a.1.is_finite() && b.1.is_finite()) {
            continue;
        }
        // All pieces wind the same way, so that where they overlap they add up.
        let along = (b.0 - a.0).normalize_or(DVec2::X);
        let side = along.perp();
        let mut corners = Vec::with_capacity(14);
        for (middle, half, turn) in [(a.0, a.1, 1.0), (b.0, b.1, -1.0)] {
            for k in 0..=6 {
                let angle = std::f64::consts::PI * f64::from(k) / 6.0;
                corners.push(middle + (side * angle.cos() - along * angle.sin()) * half * turn);
            }
        }
        push_ring(&mut path, corners.into_iter().map(DVec2::as_vec2));
    }
    path.finish()
}

/// Where a mark goes.
enum Place {
    /// Here, where it hides no other.
    Clear(Vec2),
    /// With this one: there is no room for both.
    With(usize),
}

/// A place for a mark near its spot that hides neither the spot nor an earlier mark: rings of places round the spot,
/// nearest first, upper right first. Where all are taken, the earlier mark whose spot is nearest.
fn place_for(spot: Vec2, radius: f32, earlier: &[NumberedMark], size: Vec2) -> Place {
    let inside = |at: Vec2| at.cmpge(Vec2::splat(radius)).all() && at.cmple(size - radius).all();
    let is_clear = |at: Vec2| earlier.iter().all(|mark| at.distance(mark.at) >= radius + mark.radius + 2.0);
    let mut places = (0..5).flat_map(|ring| {
        let (reach, count) = (radius + 9.0 + ring as f32 * 15.0, 8 + ring * 4);
        (0..count).map(move |k| {
            let turn = std::f32::consts::TAU * k as f32 / count as f32;
            spot + Vec2::from_angle(turn - std::f32::consts::FRAC_PI_4) * reach
        })
    });
    let nearest = || {
        let away = |mark: &NumberedMark| mark.spot.distance_squared(spot);
        (0..earlier.len()).min_by(|&a, &b| away(&earlier[a]).total_cmp(&away(&earlier[b])))
    };
    match places.find(|&at| inside(at) && is_clear(at)) {
        Some(at) => Place::Clear(at),
        None => nearest().map_or(Place::Clear(spot), Place::With),
    }
}

fn paint_mark(pixmap: &mut Pixmap, mark: &NumberedMark) {
    let NumberedMark { kind, number, spot, at, radius, more } = *mark;
    let mut leader = PathBuilder::new();
    leader.move_to(at.x, at.y);
    leader.line_to(spot.x, spot.y);
    if let Some(path) = leader.finish() {
        for (width, ink) in [(3.4, color(0xFFFFFF, 0.85)), (1.4, color(0x1A1A1A, 1.0))] {
            let stroke = Stroke { width, line_cap: LineCap::Round, ..Stroke::default() };
            pixmap.stroke_path(&path, &solid(ink), &stroke, Transform::identity(), None);
        }
    }
    paint_shape(pixmap, kind, at, radius);
    // A triangle has less room for a number than the others.
    let triangle = mark_shape(kind) == MarkShape::Triangle;
    let lettering = Lettering::new(radius * if triangle { 1.05 } else { 1.3 });
    let [r, g, b] = mark_color(kind).map(u32::from);
    // Black or white, whichever stands out more: by the weights of ITU-R BT.601.
    let bright = (r * 299 + g * 587 + b * 114) / 1000 > 130;
    let ink = if bright { color(0x000000, 1.0) } else { color(0xFFFFFF, 1.0) };
    let drop = if triangle { radius * 0.2 } else { 0.0 };
    let base = at.y + lettering.cap_height() / 2.0 + drop;
    // Drawn twice, half a pixel apart: the typeface is a light one.
    for shift in [-0.25, 0.25] {
        lettering.draw(pixmap, &number.to_string(), [at.x + shift, base], Align::Middle, ink);
    }
    if more > 0 {
        paint_more(pixmap, more, at + Vec2::splat(radius * 0.8));
    }
}

/// How many more findings a mark stands for, on a small plate.
fn paint_more(pixmap: &mut Pixmap, more: usize, at: Vec2) {
    let lettering = Lettering::new(9.0);
    let text = more_marks(more);
    let [half_width, half_height] = [lettering.width(&text) / 2.0 + 2.5, 6.0];
    let Some(plate) =
        Rect::from_ltrb(at.x - half_width, at.y - half_height, at.x + half_width, at.y + half_height)
    else {
        return;
    };
    fill(pixmap, plate, color(0x1A1A1A, 0.9));
    let base = [at.x, at.y + lettering.cap_height() / 2.0];
    lettering.draw(pixmap, &text, base, Align::Middle, color(0xFFFFFF, 1.0));
}

/// A kind's shape, filled with its colour inside a white and a dark line.
pub(super) fn paint_shape(pixmap: &mut Pixmap, kind: FindingKind, at: Vec2, radius: f32) {
    let Some(path) = shape(mark_shape(kind), at, radius) else { return };
    let [r, g, b] = mark_color(kind);
    for (width, ink) in [(4.0, color(0x1A1A1A, 0.9)), (2.0, color(0xFFFFFF, 1.0))] {
        let stroke = Stroke { width, line_join: LineJoin::Round, ..Stroke::default() };
        pixmap.stroke_path(&path, &solid(ink), &stroke, Transform::identity(), None);
    }
    let paint = solid(Color::from_rgba8(r, g, b, 255));
    pixmap.fill_path(&path, &paint, FillRule::Winding, Transform::identity(), None);
}

fn shape(shape: MarkShape, at: Vec2, radius: f32) -> Option<Path> {
    // Corners, turn of the first from the right, and a swell so that all shapes weigh the same.
    let (corners, turn, swell) = match shape {
        MarkShape::Disc => return PathBuilder::from_circle(at.x, at.y, radius),
        MarkShape::Triangle => (3u8, -90.0f32, 1.4),
        MarkShape::Square => (4, 45.0, 1.22),
        MarkShape::Diamond => (4, 0.0, 1.3),
        MarkShape::Hexagon => (6, 0.0, 1.08),
    };
    let corner = |k: u8| {
        let angle = turn.to_radians() + std::f32::consts::TAU * f32::from(k) / f32::from(corners);
        at + Vec2::from_angle(angle) * radius * swell
    };
    let mut path = PathBuilder::new();
    push_ring(&mut path, (0..corners).map(corner));
    path.finish()
}
