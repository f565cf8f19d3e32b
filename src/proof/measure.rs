//! The costly step: which wood stands, which is carved, and the widths of both.

use super::ends::AreaProfile;
use super::lookup::Lookup;
use crate::design::Design;
use crate::geometry::widths::{self, Piece, WidthMap};
use crate::geometry::{Locator, Region};
use crate::job::{Job, Layout, Treatment};
use glam::DVec2;
use rayon::prelude::*;

/// A design with its treatments, measured. Free of any size, board, cutter or wood.
#[derive(Clone, Debug)]
pub struct Measured {
    /// The line between standing and carved wood: round what stands where there is a relief, else
    /// round what is carved.
    pub outline: Region,
    /// Whether the inside of `outline` stands (relief) or is carved (sunk, incised, pierced).
    pub standing_inside: bool,
    /// Widths of standing wood.
    pub walls: WidthMap,
    /// Widths of carved places.
    pub grooves: WidthMap,
    beside_pierced: PerPiece<bool>,
    groove_treatments: PerPiece<Treatment>,
    layout: Layout,
    /// The treatments of carved places, each once; [`Treatment::Relief`] stands for the ground.
    carved: Vec<Treatment>,
    lookup: Lookup,
}

/// A value for each piece of a map, or one for all of them.
#[derive(Clone, Debug)]
enum PerPiece<T> {
    All(T),
    Each(Vec<T>),
}

impl<T: Copy> PerPiece<T> {
    fn get(&self, piece: u32) -> T {
        match self {
            PerPiece::All(value) => *value,
            PerPiece::Each(values) => values[piece as usize],
        }
    }
}

impl Measured {
    /// Whether a wall borders a place that is cut through, so that it stands as tall as the board is
    /// thick. `piece` is an index into [`walls`](Self::walls).
    pub fn beside_pierced(&self, piece: u32) -> bool {
        self.beside_pierced.get(piece)
    }

    /// How the place a groove lies in is carved; [`Treatment::Relief`] stands for the ground round a
    /// relief. `piece` is an index into [`grooves`](Self::grooves).
    pub fn groove_treatment(&self, piece: u32) -> Treatment {
        self.groove_treatments.get(piece)
    }

    /// How the carved places are carved, each treatment once; [`Treatment::Relief`] stands for the ground.
    pub(super) fn carved(&self) -> &[Treatment] {
        &self.carved
    }

    /// How a place of the design that was measured is carved.
    pub(super) fn carved_at(&self, design: &Design, point: DVec2) -> Treatment {
        carved_at(design, &self.layout.treatments, &self.lookup, point)
    }

    /// Where an element of the design that was measured is, by its index.
    pub(super) fn locator(&self, design: &Design, element: usize) -> &Locator {
        self.lookup.locator(design, element)
    }

    /// How the area of the design that was measured is spread along an axis: 0 for x, 1 for y.
    pub(super) fn profile(&self, design: &Design, axis: usize) -> &AreaProfile {
        self.lookup.profile(design, axis)
    }

    /// What it was measured by: good for every job with the same design and layout.
    pub fn layout(&self) -> &Layout {
        &self.layout
    }

    /// Whether anything is carved at all.
    pub fn carves(&self) -> bool {
        !self.outline.is_empty()
    }
}

/// Measures a job's design under its [layout](Job::layout), on which alone it depends. Near-linear in edges;
/// seconds for a hundred thousand of them.
///
/// Where any element is a relief there is a ground, and everything but the reliefs and the elements
/// left alone is carved. Otherwise the board stands, and the sunk, incised and pierced elements are
/// carved out of it.
pub fn measure(job: &Job) -> Measured {
    let (design, layout) = (&*job.design, job.layout());
    let treatments = &layout.treatments;
    assert_eq!(design.elements.len(), treatments.len(), "a job has one carving an element");
    let has_ground = treatments.contains(&Treatment::Relief);
    let treated = || design.elements.iter().zip(treatments.iter().copied());
    let outline = Region::union(
        design.grid,
        treated()
            .filter(|(_, treatment)| treatment.stands() == has_ground)
            .map(|(element, _)| &element.region),
    );
    let both = widths::measure(&outline);
    let (walls, grooves) = if has_ground { (both.inside, both.outside) } else { (both.outside, both.inside) };
    // No cutter goes into a wall.
    let walls = walls.without_corners();

    let lookup = Lookup::new(design);
    let carved_at = |point: DVec2| carved_at(design, treatments, &lookup, point);
    let carved: Vec<Treatment> = {
        let mut kinds: Vec<Treatment> = treatments.iter().copied().filter(|t| !t.stands()).collect();
        kinds.extend(has_ground.then_some(Treatment::Relief));
        kinds.sort_unstable();
        kinds.dedup();
        kinds
    };
    let beside_pierced = if carved.contains(&Treatment::Pierced) && carved.len() > 1 {
        let pierced = |foot: DVec2, from: DVec2| carved_at(just_past(from, foot)) == Treatment::Pierced;
        let beside = |piece: &Piece| piece.feet.iter().any(|&foot| pierced(foot, piece.narrow.at));
        PerPiece::Each(walls.pieces().iter().map(beside).collect())
    } else {
        PerPiece::All(carved == [Treatment::Pierced])
    };
    let groove_treatments = match carved.as_slice() {
        [] => PerPiece::All(Treatment::Left),
        &[only] => PerPiece::All(only),
        _ => PerPiece::Each(grooves.pieces().iter().map(|piece| carved_at(piece.narrow.at)).collect()),
    };
    // Several elements are told apart at every size that has findings.
    if design.elements.len() > 1 {
        (0..design.elements.len()).into_par_iter().for_each(|element| {
            lookup.locator(design, element);
        });
    }
    Measured {
        outline,
        standing_inside: has_ground,
        walls,
        grooves,
        beside_pierced,
        groove_treatments,
        layout,
        carved,
        lookup,
    }
}

/// How a place is carved: as the carved element it lies in, else as the ground.
fn carved_at(design: &Design, treatments: &[Treatment], lookup: &Lookup, point: DVec2) -> Treatment {
    (0..)
        .zip(treatments)
        .find(|&(element, treatment)| !treatment.stands() && lookup.locator(design, element).contains(point))
        .map_or(Treatment::Relief, |(_, &treatment)| treatment)
}

/// A point a hair beyond `foot`, seen from `from`: on the other side of the outline.
fn just_past(from: DVec2, foot: DVec2) -> DVec2 {
    const HAIR: f64 = 1e-4; // of the distance: far above a grid step, far below anything carved
    foot + (foot - from) * HAIR
}
