//! One wall as it stands on its floor, with the push at its top and what holds its ends: for whoever asks why its
//! limit is what it is.

use super::figures::{Half, Ink, Label, Shape};
use crate::geometry::Rect;
use crate::proof::wall::Governs;
use crate::proof::{HeldWall, WallEnds};
use crate::units::LengthUnit;
use crate::words::lesson as words;
use glam::{DVec2, dvec2};

/// A wall seen a little from above and from its left: along it to the right, its thickness to the back.
#[derive(Clone, Debug, PartialEq)]
pub struct StandingWall {
    /// What is drawn, in millimetres of wood.
    pub frame: Rect,
    /// The wall.
    pub half: Half,
}

/// No more than this many heights of a wall are drawn; the rest is cut off.
const LONGEST: f64 = 5.0;
/// Where what lies behind is drawn, for each millimetre that it lies behind.
const BACK: DVec2 = dvec2(0.5, 0.45);

/// Draws a wall.
pub fn standing(wall: &HeldWall, unit: LengthUnit) -> StandingWall {
    let (h, t) = (wall.height.get(), wall.limit.thickness.get().max(1e-3));
    let whole = wall.run.length.get();
    let length = whole.min(LONGEST * h).max(0.2 * h);
    let back = BACK * t;
    let box_of = |x: [f64; 2], front: DVec2, back: DVec2| {
        let face =
            |a: DVec2, b: DVec2, c: DVec2, d: DVec2| Shape { ink: Ink::Wood, points: vec![a, b, c, d] };
        let at = |x: f64, y: f64, shift: DVec2| dvec2(x, y) + shift;
        [
            // The end to the right, the top, the side that faces us.
            face(at(x[1], 0.0, front), at(x[1], 0.0, back), at(x[1], h, back), at(x[1], h, front)),
            face(at(x[0], h, front), at(x[1], h, front), at(x[1], h, back), at(x[0], h, back)),
            face(at(x[0], 0.0, front), at(x[1], 0.0, front), at(x[1], h, front), at(x[0], h, front)),
        ]
    };
    // What ties an end is wood three times as thick.
    let block = 0.6 * h.max(t);
    let (tied_left, tied_right) = match wall.run.ends {
        WallEnds::BothJoined => (true, true),
        WallEnds::OneFree => (true, false),
        WallEnds::BothFree | WallEnds::Pillar | WallEnds::Closed => (false, false),
    };
    let (near, far) = (-back, back * 2.0);
    let left = if tied_left { -block } else { 0.0 };
    let right = length + if tied_right { block } else { 0.0 };
    let margin = 0.35 * h;
    let floor = [dvec2(left - margin, 0.0), dvec2(right + margin, 0.0)];
    let mut shapes = vec![Shape {
        ink: Ink::Floor,
        points: vec![
            floor[0] + near * 2.0,
            floor[1] + near * 2.0,
            floor[1] + far * 1.3,
            floor[0] + far * 1.3,
        ],
    }];
    if tied_right {
        shapes.extend(box_of([length, right], near, far));
    }
    shapes.extend(box_of([0.0, length], DVec2::ZERO, back));
    if tied_left {
        shapes.extend(box_of([left, 0.0], near, far));
    }
    let pushed_at = match wall.run.ends {
        WallEnds::BothFree | WallEnds::OneFree if wall.is_near_a_free_end() => length,
        _ => 0.5 * length,
    };
    // A strip is pushed on its side, a wall at its top.
    let height = if wall.limit.governs == Governs::Beam { 0.5 * h } else { h };
    shapes.extend(arrow(dvec2(pushed_at, height), h));
    let labels = vec![
        Label { at: dvec2(0.5 * length, -0.3 * h) + near, words: words::how_long(wall, unit) },
        Label { at: dvec2(left - 0.2 * h, 0.55 * h), words: unit.show_fine(wall.height) },
        Label {
            at: dvec2(pushed_at, height) - dvec2(0.75, 0.1) * h,
            words: words::push(wall.limit.push, unit),
        },
    ];
    let low = near.y * 2.0 - 0.55 * h;
    let frame = Rect::new(
        dvec2(left - margin - 0.4 * h, low),
        dvec2(right + margin + far.x * 1.3, h + far.y + 0.2 * h),
    );
    StandingWall { frame, half: Half { caption: String::new(), shapes, labels } }
}

/// An arrow from the front that ends at a place.
fn arrow(at: DVec2, size: f64) -> [Shape; 2] {
    let along = -BACK.normalize() * size * 0.9;
    let across = along.perp() * 0.09;
    let neck = at + along * 0.35;
    [
        Shape {
            ink: Ink::Push,
            points: vec![neck + across, neck - across, at + along - across, at + along + across],
        },
        Shape { ink: Ink::Push, points: vec![at, neck - across * 2.4, neck + across * 2.4] },
    ]
}
