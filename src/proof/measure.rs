//! The costly step: which wood stands, which is carved, and the widths of both.

use super::ends::AreaProfile;
use super::invisible::{Invisible, invisible};
use super::limit::WallRun;
use super::lookup::Lookup;
use crate::design::Design;
use crate::geometry::voronoi::LevelCurve;
use crate::geometry::widths::{self, Piece, WidthMap};
use crate::geometry::{Locator, Rect, Region, Ring};
use crate::job::{Job, Layout, Place, Treatment};
use glam::DVec2;
use rayon::prelude::*;
use std::sync::OnceLock;
use std::sync::atomic::{AtomicBool, Ordering};

/// A design with its treatments, measured. Free of any size, board, cutter or wood.
#[derive(Clone, Debug)]
pub struct Measured {
    /// The line between standing and carved wood: round what stands where there is a relief, else
    /// round what is carved.
    pub outline: Region,
    /// Whether the inside of `outline` stands (relief) or is carved (sunk, incised, pierced).
    pub standing_inside: bool,
    /// At the face of the board first; then deeper, where one carved place lies open to another.
    levels: Vec<Level>,
    layout: Layout,
    lookup: Lookup,
    invisible: Vec<Invisible>,
    loose: Vec<Loose>,
}

/// A piece of the board that one cut through it runs all round.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Loose {
    /// The middle of its box, in the design.
    pub(super) at: DVec2,
    /// The longer side of its box, in the design.
    pub(super) across: f64,
}

/// Walls and grooves as they are at one depth.
///
/// At the face all that is carved is one. But letters sunk into the floor of a sunk panel are narrower than
/// the panel, and what is left of its floor between two of them is a wall: such places are measured once
/// more, by themselves.
#[derive(Clone, Debug)]
pub struct Level {
    kind: LevelKind,
    /// Widths of standing wood.
    pub walls: WidthMap,
    /// Widths of carved places.
    pub grooves: WidthMap,
    /// The places on either side of each wall, and in each groove at either side.
    wall_sides: OnceLock<Vec<[Place; 2]>>,
    groove_sides: OnceLock<Vec<[Place; 2]>>,
    /// The carved place whose floor is the top of each wall; `None` where it is no such wall.
    tops: OnceLock<Vec<Option<Place>>>,
    /// The wall that each piece belongs to, in design millimetres.
    runs: Vec<WallRun>,
    /// The direction it has there, radians from the x axis of the design.
    directions: Vec<f64>,
}

/// What is carved at a level.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum LevelKind {
    /// All of it.
    Face,
    /// Floors from this one down, by their order, and what is cut through.
    Floor(u32),
    /// What is cut with a V.
    Incised,
    /// What is cut through.
    Pierced,
}

impl LevelKind {
    fn has(self, layout: &Layout, place: Place) -> bool {
        let treatment = layout.treatment(place);
        match (self, treatment) {
            (LevelKind::Face, _) | (LevelKind::Pierced | LevelKind::Floor(_), Treatment::Pierced) => true,
            (LevelKind::Floor(floor), Treatment::Relief | Treatment::Sunk) => layout.floor(place) >= floor,
            (kind, treatment) => kind == LevelKind::Incised && treatment == Treatment::Incised,
        }
    }

    /// What names a finding at this level, after its number.
    pub(super) fn id(self) -> String {
        match self {
            LevelKind::Face => String::new(),
            LevelKind::Floor(floor) => format!("-floor-{}", floor + 1),
            LevelKind::Incised => "-incised".to_owned(),
            LevelKind::Pierced => "-pierced".to_owned(),
        }
    }
}

impl Measured {
    /// Every level, the face first.
    pub fn levels(&self) -> &[Level] {
        &self.levels
    }

    /// Widths of standing wood at the face.
    pub fn walls(&self) -> &WidthMap {
        &self.levels[0].walls
    }

    /// Widths of carved places at the face.
    pub fn grooves(&self) -> &WidthMap {
        &self.levels[0].grooves
    }

    /// Whether it is this level that tells of a place: the last that has it.
    pub(super) fn tells_of(&self, level: usize, place: Place) -> bool {
        let has = |level: &Level| level.kind.has(&self.layout, place);
        has(&self.levels[level]) && !self.levels[level + 1..].iter().any(has)
    }

    /// The carved places on either side of each wall of a level, at the narrow end of each piece: of two places
    /// that lie side by side along one straight wall, the one there. `O(pieces)`, once.
    pub(super) fn wall_sides(&self, level: usize) -> &[[Place; 2]] {
        let level = &self.levels[level];
        made_once(&level.wall_sides, || {
            // A hair beyond the feet, on the other side of the outline; beyond a corner, straight on.
            let sides = |piece: &Piece| {
                let beyond = |foot: DVec2| {
                    let from = if is_apart(piece, foot) { piece.narrow.at } else { piece.wide.at };
                    foot + (foot - from) * HAIR
                };
                piece.feet.map(|foot| self.carved_near(piece, beyond(foot)))
            };
            level.walls.pieces().par_iter().map(sides).collect()
        })
    }

    /// The carved places within each groove of a level, at either side. `O(pieces)`, once.
    pub(super) fn groove_sides(&self, level: usize) -> &[[Place; 2]] {
        let level = &self.levels[level];
        made_once(&level.groove_sides, || {
            let sides = |piece: &Piece| {
                // In a corner there are no sides yet: it is asked a little farther in.
                let inside = |foot: DVec2| {
                    if is_apart(piece, foot) {
                        foot + (piece.narrow.at - foot) * HAIR
                    } else {
                        piece.narrow.at.midpoint(piece.wide.at)
                    }
                };
                piece.feet.map(|foot| self.carved_near(piece, inside(foot)))
            };
            level.grooves.pieces().par_iter().map(sides).collect()
        })
    }

    /// The carved place whose floor is the top of each wall of a level under the face; `None` where the wall
    /// reaches up to the face, so that it is told there. `O(pieces)`, once.
    pub(super) fn tops(&self, level: usize) -> &[Option<Place>] {
        let level = &self.levels[level];
        made_once(&level.tops, || {
            let top = |piece: &Piece| {
                let at = piece.narrow.at.midpoint(piece.wide.at);
                let stands = self.elements_at(at).any(|i| self.layout.treatments[i].stands());
                let place = self.carved_at(at);
                let is_floor = !stands && (place != Place::Ground || self.standing_inside);
                let floor = matches!(self.layout.treatment(place), Treatment::Relief | Treatment::Sunk);
                // No wall stands between the slopes of Vs: see `rate`.
                (is_floor && floor && level.kind != LevelKind::Incised).then_some(place)
            };
            level.walls.pieces().par_iter().map(top).collect()
        })
    }

    /// The carved place at a point beside a piece's narrow end. Where that lies at the end of an even wall, the
    /// point lies on an outline: then a hair along the piece, and a hair more.
    fn carved_near(&self, piece: &Piece, point: DVec2) -> Place {
        let along = piece.wide.at - piece.narrow.at;
        let little = along.clamp_length_max(0.1 * piece.narrow.width);
        let near = [DVec2::ZERO, little, along].map(|step| point + step * HAIR);
        let element = near.into_iter().find_map(|at| self.carved_element_at(at));
        element.map_or(Place::Ground, Place::Element)
    }

    /// The carved place at a point of the design that was measured: the carved element it lies in, else the
    /// ground.
    pub(super) fn carved_at(&self, point: DVec2) -> Place {
        self.carved_element_at(point).map_or(Place::Ground, Place::Element)
    }

    /// The carved element a point of the design that was measured lies in.
    fn carved_element_at(&self, point: DVec2) -> Option<usize> {
        self.elements_at(point).find(|&element| !self.layout.treatments[element].stands())
    }

    /// The elements of the design that was measured that a point lies in, by their indices.
    pub(super) fn elements_at(&self, point: DVec2) -> impl Iterator<Item = usize> {
        self.lookup.elements_at(point)
    }

    /// Where an element of the design that was measured is, by its index.
    pub(super) fn locator(&self, element: usize) -> &Locator {
        self.lookup.locator(element)
    }

    /// How the area of the design that was measured is spread along an axis: 0 for x, 1 for y.
    pub(super) fn profile(&self, design: &Design, axis: usize) -> &AreaProfile {
        self.lookup.profile(design, axis)
    }

    /// The curve in what is carved at the face, at a distance from the line between standing and carved wood, in design
    /// space; see [`WidthMap::level_curve`](widths::WidthMap::level_curve).
    pub(crate) fn carved_curve(&self, distance: f64) -> Option<LevelCurve> {
        self.levels[0].grooves.level_curve(&self.outline, distance)
    }

    /// What it was measured by: good for every job with the same design and layout.
    pub fn layout(&self) -> &Layout {
        &self.layout
    }

    /// Elements that do not show.
    pub(super) fn invisible(&self) -> &[Invisible] {
        &self.invisible
    }

    /// Pieces of the board that nothing holds, in the order of their outlines.
    pub(super) fn loose(&self) -> &[Loose] {
        &self.loose
    }

    /// Whether anything is carved at all.
    pub fn carves(&self) -> bool {
        !self.outline.is_empty()
    }
}

impl Level {
    pub(super) fn kind(&self) -> LevelKind {
        self.kind
    }

    /// The wall that a piece belongs to, in design millimetres: of a taper, a wall that ends there.
    pub(super) fn run(&self, piece: u32) -> WallRun {
        self.runs[piece as usize]
    }

    /// The direction in which the wall runs that a piece belongs to, radians from the x axis of the design: of a taper
    /// its own, of a wall the mean over a stretch as long as it is thick.
    pub(super) fn direction(&self, piece: u32) -> f64 {
        self.directions[piece as usize]
    }
}

/// Measures a job's design under its [layout](Job::layout), on which alone it depends. Near-linear in edges;
/// seconds for a hundred thousand of them.
///
/// Where any element is a relief there is a ground, and everything but the reliefs and the elements
/// left alone is carved. Otherwise the board stands, and the sunk, incised and pierced elements are
/// carved out of it.
pub fn measure(job: &Job) -> Measured {
    measure_unless(job, &AtomicBool::new(false)).expect("it is never called off")
}

/// [`measure`] that looks now and then whether it is called off; `None` then. It looks as often as
/// [`widths::measure_unless`] does, and between the other steps, each of which is near-linear in edges.
pub fn measure_unless(job: &Job, cancel: &AtomicBool) -> Option<Measured> {
    let wanted = || (!cancel.load(Ordering::Relaxed)).then_some(());
    let (design, layout) = (job.design(), job.layout());
    assert_eq!(design.elements.len(), layout.treatments.len(), "a job has one carving an element");
    let has_ground = layout.treatments.contains(&Treatment::Relief);
    let outline = region_of(design, |element| layout.treatments[element].stands() == has_ground);
    wanted()?;
    let both = widths::measure_unless(&outline, cancel)?;
    let mut levels = vec![Level::new(LevelKind::Face, &outline, both, has_ground)];
    for kind in deeper_kinds(job, &layout) {
        wanted()?;
        levels.extend(deeper(design, &layout, &outline, kind, cancel));
    }
    wanted()?;
    let lookup = Lookup::new(design);
    wanted()?;
    let invisible = invisible(design, &layout, &lookup);
    wanted()?;
    let loose = loose(design, &layout);
    Some(Measured { outline, standing_inside: has_ground, levels, layout, lookup, invisible, loose })
}

impl Level {
    fn new(kind: LevelKind, outline: &Region, both: widths::Widths, standing_inside: bool) -> Level {
        let widths::Widths { inside, outside } = both;
        let (walls, grooves) = if standing_inside { (inside, outside) } else { (outside, inside) };
        let locator = Locator::new(outline);
        let stands = |point: DVec2| locator.contains(point) == standing_inside;
        let run = |(piece, run): (&Piece, widths::Run)| {
            // A point is the free end of the wall behind it.
            if piece.taper {
                (WallRun::POINT, piece.direction)
            } else {
                (WallRun::of(&run, piece.narrow.width, stands), run.direction)
            }
        };
        let (runs, directions) = walls.pieces().par_iter().zip(walls.runs()).map(run).unzip();
        Level {
            kind,
            runs,
            directions,
            // No cutter goes into a wall.
            walls: walls.without_corners(),
            grooves,
            wall_sides: OnceLock::new(),
            groove_sides: OnceLock::new(),
            tops: OnceLock::new(),
        }
    }
}

/// What is in a cell, made where it is empty. It is made outside the cell: many threads make it, and one of them that
/// waits for the others may take up work that asks for the same, and would then wait for itself for ever.
fn made_once<T>(cell: &OnceLock<Vec<T>>, make: impl FnOnce() -> Vec<T>) -> &[T] {
    cell.get().unwrap_or_else(|| {
        let made = make();
        cell.get_or_init(|| made)
    })
}

fn region_of(design: &Design, wanted: impl Fn(usize) -> bool) -> Region {
    let elements = (0..).zip(&design.elements).filter(|(index, _)| wanted(*index));
    Region::union(design.grid, elements.map(|(_, element)| &element.region))
}

/// Levels that a layout may have under the face, in order.
fn deeper_kinds(job: &Job, layout: &Layout) -> impl Iterator<Item = LevelKind> {
    let lowest = job.places().map(|place| layout.floor(place)).max().unwrap_or(0);
    let has = |treatment| layout.treatments.contains(&treatment);
    (1..=lowest)
        .map(LevelKind::Floor)
        .chain(has(Treatment::Incised).then_some(LevelKind::Incised))
        .chain(has(Treatment::Pierced).then_some(LevelKind::Pierced))
}

/// The level of some of what is carved; `None` where none of it lies open to the rest, so that all of it is told at the
/// face, or it is called off.
fn deeper(
    design: &Design,
    layout: &Layout,
    outline: &Region,
    kind: LevelKind,
    cancel: &AtomicBool,
) -> Option<Level> {
    let treatments = &layout.treatments;
    let has_ground = treatments.contains(&Treatment::Relief);
    let member = |element: usize| !treatments[element].stands() && kind.has(layout, Place::Element(element));
    let other = |element: usize| !treatments[element].stands() && !member(element);
    // Of what has no far edge, the line round all else.
    let with_ground = has_ground && kind.has(layout, Place::Ground);
    if !(0..treatments.len()).any(other) && has_ground == with_ground {
        return None;
    }
    let own = region_of(design, |element| member(element) != with_ground);
    let rest = region_of(design, |element| other(element) != (has_ground && !with_ground));
    // Two regions apart have as much outline together as each by itself; an edge they share counts twice.
    let shared = 0.5 * (length(&own) + length(&rest) - length(outline));
    if shared <= SHARED * length(outline) {
        return None;
    }
    let both = widths::measure_unless(&own, cancel)?;
    Some(Level::new(kind, &own, both, with_ground))
}

/// What lies in the holes of what is cut through: it is held by nothing.
fn loose(design: &Design, layout: &Layout) -> Vec<Loose> {
    let is_pierced = |element: usize| layout.treatments[element] == Treatment::Pierced;
    if !(0..design.elements.len()).any(is_pierced) {
        return Vec::new();
    }
    let through = region_of(design, is_pierced);
    let piece = |ring: Ring| {
        let area = Rect::around(ring.points())?;
        Some(Loose { at: area.center(), across: area.size().max_element() })
    };
    through.rings().filter(|ring| ring.hole).filter_map(piece).collect()
}

fn length(region: &Region) -> f64 {
    region.rings().flat_map(Ring::segments).map(|[a, b]| a.distance(b)).sum()
}

/// Whether a foot lies apart from its piece's narrow end: in a corner they are one.
fn is_apart(piece: &Piece, foot: DVec2) -> bool {
    foot.distance(piece.narrow.at) > 1e-6 * piece.wide.width
}

/// A point this far beyond a foot, as a share of the way to it, is on the other side of the outline: far above
/// a grid step, far below anything carved.
const HAIR: f64 = 1e-4;

/// Less of the outline than this is shared by rounding alone.
const SHARED: f64 = 1e-6;
