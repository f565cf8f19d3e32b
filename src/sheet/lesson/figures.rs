//! The lesson's figures as plain shapes, for the window and for paper.

use super::{Lesson, TIP_ANGLE};
use crate::geometry::Rect;
use crate::proof::lesson::Question;
use crate::shop::CutterShape;
use crate::units::{LengthUnit, Mm};
use crate::words::lesson as words;
use glam::{DVec2, dvec2};

/// What a shape stands for; each is told from the others by more than its colour.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Ink {
    /// Wood that stands.
    Wood,
    /// The floor the cutter leaves.
    Floor,
    /// The cutter; drawn as an outline with a light fill.
    Cutter,
    /// A limit; drawn as a broken line.
    Limit,
    /// Wood that will be lost; hatched.
    Lost,
    /// The push of the cutter, an arrow.
    Push,
    /// A line of the grain, fine.
    Grain,
}

/// A closed or open run of points.
#[derive(Clone, Debug, PartialEq)]
pub struct Shape {
    /// What it stands for.
    pub ink: Ink,
    /// Its corners in the half's own millimetres, y up. A convex polygon, or for [`Ink::Limit`] and [`Ink::Grain`] a line of
    /// two points.
    pub points: Vec<DVec2>,
}

/// A few words at a place.
#[derive(Clone, Debug, PartialEq)]
pub struct Label {
    /// Where their middle is.
    pub at: DVec2,
    /// The words.
    pub words: String,
}

/// One of the two drawings of a figure.
#[derive(Clone, Debug, PartialEq)]
pub struct Half {
    /// What it shows, over it.
    pub caption: String,
    /// Shapes from the back to the front.
    pub shapes: Vec<Shape>,
    /// The words on them.
    pub labels: Vec<Label>,
}

/// Two drawings of one thing in one scale.
#[derive(Clone, Debug, PartialEq)]
pub struct Figure {
    /// What it shows.
    pub title: &'static str,
    /// What is to be seen, in a sentence.
    pub words: String,
    /// What each half shows, in millimetres of wood; the same for both, and for every size.
    pub frame: Rect,
    /// As drawn, then at the chosen size; or this way and that at the chosen size.
    pub halves: [Half; 2],
}

impl Figure {
    /// The lesson's figures.
    pub fn all(lesson: &Lesson, unit: LengthUnit) -> [Figure; 6] {
        [
            wall_plan(lesson, unit),
            wall_section(lesson, unit),
            v_section(lesson, unit),
            tip_plan(lesson, unit),
            ends_plan(lesson, unit),
            pass_section(lesson, unit),
        ]
    }

    /// The wall along the grain and across it, each as thick as it must be: for paper, where nobody can turn it.
    pub fn turned(lesson: &Lesson, unit: LengthUnit) -> Figure {
        /// Lines of the grain in it: a round value of our own.
        const LINES: i32 = 9;
        let [along, across] = lesson.limits;
        let reach = 0.9 * wall_reach(lesson).max(along.max(across).get());
        let frame = Rect::new(dvec2(-reach, -0.5 * reach), dvec2(reach, 0.5 * reach));
        let half = |turned: bool| {
            let mut shapes = vec![rectangle(Ink::Floor, frame.min, frame.max)];
            shapes.extend((1..LINES).map(|line| {
                let y = frame.min.y + frame.size().y * f64::from(line) / f64::from(LINES);
                Shape { ink: Ink::Grain, points: vec![dvec2(frame.min.x, y), dvec2(frame.max.x, y)] }
            }));
            let (needed, caption) =
                if turned { (across, words::ACROSS_THE_GRAIN) } else { (along, words::ALONG_THE_GRAIN) };
            let side = 0.5 * needed.get();
            let high = if turned { dvec2(side, frame.max.y) } else { dvec2(frame.max.x, side) };
            shapes.push(rectangle(Ink::Wood, -high, high));
            let at = if turned { dvec2(-0.6 * reach, 0.0) } else { dvec2(0.0, 0.34 * reach) };
            let labels = vec![Label { at, words: words::limit_label(needed, unit) }];
            Half { caption: caption.to_owned(), shapes, labels }
        };
        Figure {
            title: words::TURNED_FROM_ABOVE,
            words: words::both_ways([along, across], unit),
            frame,
            halves: [half(false), half(true)],
        }
    }

    /// The place among all of the one that a question of the tour is about.
    pub fn asked_about(question: Question) -> usize {
        match question {
            Question::WhatMoved | Question::SoundAgain | Question::ThinReeds | Question::BoardEnds => 0,
            Question::NarrowChannel => 1,
            Question::LostPoints => 3,
            Question::FreeEnds => 4,
            Question::ShallowPass => 5,
        }
    }
}

/// As drawn, and at the chosen size.
fn at_both_sizes(lesson: &Lesson, half: impl Fn(f64) -> (Vec<Shape>, Vec<Label>)) -> [Half; 2] {
    let captions = [words::AS_DRAWN.to_owned(), words::share_of_that(lesson.factor)];
    let mut factors = [1.0, lesson.factor].into_iter();
    captions.map(|caption| {
        let (shapes, labels) = half(factors.next().expect("one a half"));
        Half { caption, shapes, labels }
    })
}

fn rectangle(ink: Ink, min: DVec2, max: DVec2) -> Shape {
    Shape { ink, points: Rect::new(min, max).corners().to_vec() }
}

/// Two lines so far apart, upright about x = 0.
fn limit_lines(apart: f64, bottom: f64, top: f64) -> [Shape; 2] {
    [-0.5, 0.5].map(|side| Shape {
        ink: Ink::Limit,
        points: vec![dvec2(side * apart, bottom), dvec2(side * apart, top)],
    })
}

fn disc(ink: Ink, center: DVec2, radius: f64) -> Shape {
    let corner = |i: u32| center + radius * DVec2::from_angle(std::f64::consts::TAU * f64::from(i) / 48.0);
    Shape { ink, points: (0..48).map(corner).collect() }
}

/// Half as wide as what the two halves of a wall's figure show: the wall, its limit, and the cutter.
fn wall_reach(lesson: &Lesson) -> f64 {
    let widest = lesson.wall.max(lesson.limits[0]).max(lesson.limits[1]).get();
    // A fine cutter beside a stout wall is drawn whole; a broad one may be cut off by the frame.
    0.9 * widest + lesson.cutter.width_at(lesson.depth).get().clamp(0.4 * widest, 2.0 * widest)
}

/// The wall from above, between two carved places.
fn wall_plan(lesson: &Lesson, unit: LengthUnit) -> Figure {
    let reach = wall_reach(lesson);
    let frame = Rect::new(dvec2(-reach, -0.5 * reach), dvec2(reach, 0.5 * reach));
    let half = |factor: f64| {
        let width = lesson.wall.get() * factor;
        let radius = 0.5 * lesson.cutter.width_at(lesson.depth).get();
        let mut shapes = vec![
            rectangle(Ink::Floor, frame.min, frame.max),
            rectangle(Ink::Wood, dvec2(-0.5 * width, frame.min.y), dvec2(0.5 * width, frame.max.y)),
            disc(Ink::Cutter, dvec2(0.5 * width + radius, 0.0), radius),
        ];
        shapes.extend(limit_lines(lesson.limits[1].get(), frame.min.y, frame.max.y));
        let words = words::wall_label(lesson.wall * factor, unit);
        (shapes, vec![Label { at: dvec2(0.0, 0.36 * reach), words }])
    };
    Figure {
        title: words::WALL_FROM_ABOVE,
        words: lesson.wall_in_words(unit),
        frame,
        halves: at_both_sizes(lesson, half),
    }
}

/// The wall cut through, with the cutter beside it.
fn wall_section(lesson: &Lesson, unit: LengthUnit) -> Figure {
    let (reach, depth) = (wall_reach(lesson), lesson.depth.get());
    let frame = Rect::new(dvec2(-reach, -1.6 * depth), dvec2(reach, 0.6 * depth));
    let half = |factor: f64| {
        let top = lesson.wall.get() * factor;
        let mut shapes = vec![
            rectangle(Ink::Wood, frame.min, dvec2(frame.max.x, -depth)),
            wall_profile(lesson, top),
            Shape { ink: Ink::Cutter, points: cutter_profile(lesson, 0.5 * top) },
        ];
        shapes.extend(limit_lines(lesson.limits[1].get(), -depth, 0.35 * depth));
        let words = words::thick_and_tall(lesson.wall * factor, lesson.depth, unit);
        (shapes, vec![Label { at: dvec2(0.0, -1.3 * depth), words }])
    };
    Figure {
        title: words::WALL_IN_SECTION,
        words: format!("{} {}", words::AS_TALL_AS_BEFORE, lesson.groove_in_words(unit)),
        frame,
        halves: at_both_sizes(lesson, half),
    }
}

/// A wall so thick at its top, cut through: its sides slope as the cutter's do.
fn wall_profile(lesson: &Lesson, top: f64) -> Shape {
    let depth = lesson.depth.get();
    let foot = top + 2.0 * depth * lesson.cutter.side_slope();
    let points = vec![
        dvec2(-0.5 * foot, -depth),
        dvec2(0.5 * foot, -depth),
        dvec2(0.5 * top, 0.0),
        dvec2(-0.5 * top, 0.0),
    ];
    Shape { ink: Ink::Wood, points }
}

/// The cutter's outline with its left side at `left` where it meets the face, its end at the job's depth.
fn cutter_profile(lesson: &Lesson, left: f64) -> Vec<DVec2> {
    let depth = lesson.depth.get();
    let at_face = 0.5 * lesson.cutter.width_at(lesson.depth).get();
    let middle = left + at_face;
    // The width above the end, from the end to a little over the face.
    let rises = match lesson.cutter {
        CutterShape::Flat { .. } => vec![0.0, 1.5 * depth],
        CutterShape::Vee { .. } => vec![0.0, depth],
        CutterShape::Ball { .. } | CutterShape::TaperedBall { .. } => {
            (0..=24).map(|i| f64::from(i) / 16.0 * depth).collect()
        }
    };
    let side = |sign: f64| {
        rises.iter().map(move |rise| {
            let half = 0.5 * lesson.cutter.width_at(Mm::new(rise.max(1e-9))).get();
            dvec2(middle + sign * half, rise - depth)
        })
    };
    side(-1.0).rev().chain(side(1.0)).collect()
}

/// A V groove cut through.
fn v_section(lesson: &Lesson, unit: LengthUnit) -> Figure {
    let (angle, tip) = lesson.v;
    let widest = lesson.groove.get().max(1e-6);
    let deepest = (widest / (2.0 * (angle / 2.0).tan())).max(lesson.v_depth(1.0).get()).max(0.3 * widest);
    let frame = Rect::new(dvec2(-1.2 * widest, -1.5 * deepest), dvec2(1.2 * widest, 0.5 * deepest));
    let half = |factor: f64| {
        let (width, depth) = (lesson.groove.get() * factor, lesson.v_depth(factor).get());
        // Where the depth setting caps it the V leaves a flat.
        let flat = (width - 2.0 * depth * (angle / 2.0).tan()).max(tip.get().min(width)).max(0.0);
        let groove = vec![
            dvec2(-0.5 * width, 0.0),
            dvec2(-0.5 * flat, -depth),
            dvec2(0.5 * flat, -depth),
            dvec2(0.5 * width, 0.0),
        ];
        let rise = 0.45 * deepest;
        let wider = width + 2.0 * rise * (angle / 2.0).tan();
        let cutter = vec![
            dvec2(-0.5 * wider, rise),
            dvec2(-0.5 * flat, -depth),
            dvec2(0.5 * flat, -depth),
            dvec2(0.5 * wider, rise),
        ];
        let shapes = vec![
            rectangle(Ink::Wood, frame.min, dvec2(frame.max.x, 0.0)),
            Shape { ink: Ink::Floor, points: groove },
            Shape { ink: Ink::Cutter, points: cutter },
        ];
        let words = words::depth_label(lesson.v_depth(factor), unit);
        (shapes, vec![Label { at: dvec2(0.0, -1.28 * deepest), words }])
    };
    Figure {
        title: words::V_IN_SECTION,
        words: lesson.v_in_words(unit),
        frame,
        halves: at_both_sizes(lesson, half),
    }
}

/// A point from above, and what is lost of it.
fn tip_plan(lesson: &Lesson, unit: LengthUnit) -> Figure {
    let (length, lost) = (lesson.tip_length().get(), lesson.tip_lost().get());
    let spread = (TIP_ANGLE / 2.0).tan();
    let frame = Rect::new(dvec2(-0.1 * length, -0.42 * length), dvec2(1.15 * length, 0.42 * length));
    let half = |factor: f64| {
        let base = length * factor;
        let wedge = |to: f64| vec![dvec2(0.0, 0.0), dvec2(to, -to * spread), dvec2(to, to * spread)];
        let gone = lost.min(base);
        let shapes = vec![
            rectangle(Ink::Floor, frame.min, frame.max),
            Shape { ink: Ink::Wood, points: wedge(base) },
            Shape { ink: Ink::Lost, points: wedge(gone) },
            Shape { ink: Ink::Limit, points: vec![dvec2(lost, frame.min.y), dvec2(lost, frame.max.y)] },
        ];
        let words = words::share_lost(gone / base);
        (shapes, vec![Label { at: dvec2(0.53 * length, 0.35 * length), words }])
    };
    Figure {
        title: words::POINT_FROM_ABOVE,
        words: lesson.tip_in_words(unit),
        frame,
        halves: at_both_sizes(lesson, half),
    }
}

/// A wall across the grain from above: with an end in the air, and tied at both ends.
fn ends_plan(lesson: &Lesson, unit: LengthUnit) -> Figure {
    let reach = wall_reach(lesson).max(0.9 * lesson.tip_limit.get());
    let frame = Rect::new(dvec2(-reach, -0.5 * reach), dvec2(reach, 0.5 * reach));
    let radius = 0.5 * lesson.cutter.width_at(lesson.depth).get();
    let half_width = 0.5 * lesson.wall_now().get();
    // Where the free end is, and how thick what ties a wall is.
    let (end, tie) = (0.15 * reach, 0.16 * reach);
    let half = |tied: bool| {
        let top = if tied { frame.max.y } else { end };
        let mut shapes = vec![
            rectangle(Ink::Floor, frame.min, frame.max),
            rectangle(Ink::Wood, dvec2(-half_width, frame.min.y), dvec2(half_width, top)),
        ];
        if tied {
            shapes.push(rectangle(Ink::Wood, frame.min, dvec2(frame.max.x, frame.min.y + tie)));
            shapes.push(rectangle(Ink::Wood, dvec2(frame.min.x, frame.max.y - tie), frame.max));
        }
        let at = if tied { 0.0 } else { end - 0.5 * radius.min(reach) };
        shapes.push(disc(Ink::Cutter, dvec2(half_width + radius, at), radius));
        let limit = if tied { lesson.tied_limit } else { lesson.tip_limit };
        let (low, high) = if tied { (frame.min.y + tie, frame.max.y - tie) } else { (frame.min.y, end) };
        shapes.extend(limit_lines(limit.get(), low, high));
        let caption = if tied { words::TIED } else { words::IN_THE_AIR };
        Half {
            caption: caption.to_owned(),
            shapes,
            labels: vec![Label { at: dvec2(-0.6 * reach, 0.0), words: words::limit_label(limit, unit) }],
        }
    };
    Figure {
        title: words::FREE_END_FROM_ABOVE,
        words: words::free_end(lesson.tip_limit, lesson.tied_limit, unit),
        frame,
        halves: [half(false), half(true)],
    }
}

/// The last pass beside a wall, cut through: as deep as it is, and half as deep.
fn pass_section(lesson: &Lesson, unit: LengthUnit) -> Figure {
    let (reach, depth) = (wall_reach(lesson), lesson.depth.get());
    let frame = Rect::new(dvec2(-reach, -1.6 * depth), dvec2(reach, 0.6 * depth));
    let top = lesson.wall_now().get();
    let half = |(pass, limit): (Mm, Mm), caption: &str| {
        let beside = 0.5 * top + lesson.cutter.width_at(lesson.depth).get();
        let left = dvec2(beside.min(frame.max.x), -depth);
        let mut shapes = vec![
            rectangle(Ink::Wood, frame.min, dvec2(frame.max.x, -depth)),
            // What the pass has not cut yet.
            rectangle(Ink::Wood, left, dvec2(frame.max.x, -depth + pass.get())),
            wall_profile(lesson, top),
            Shape { ink: Ink::Cutter, points: cutter_profile(lesson, 0.5 * top) },
        ];
        shapes.extend(limit_lines(limit.get(), -depth, 0.35 * depth));
        Half {
            caption: caption.to_owned(),
            shapes,
            labels: vec![Label { at: dvec2(0.0, -1.3 * depth), words: words::limit_label(limit, unit) }],
        }
    };
    let [now, halved] = lesson.passes;
    Figure {
        title: words::PASS_IN_SECTION,
        words: words::pass(now, halved, unit),
        frame,
        halves: [half(now, words::THIS_PASS), half(halved, words::HALF_THE_PASS)],
    }
}
