//! Elements that would be carved and yet be invisible: all round them lies another of the same height.

use super::lookup::Lookup;
use crate::design::Design;
use crate::geometry::Ring;
use crate::job::{Layout, Place, Treatment};
use glam::DVec2;
use rayon::prelude::*;
use std::collections::BTreeMap;

/// An element no edge of which shows.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Invisible {
    pub element: usize,
    /// The element that most of its edge borders on.
    pub around: usize,
}

/// How far outside an edge its neighbour is looked for, as a part of the design's longer side: far over the
/// grid's rounding and far under anything carved.
const STEP: f64 = 1e-5;

/// An element shows where more than this part of its edge does: corners meet by rounding alone.
const SHOWING: f64 = 0.01;

/// Every such element, in the design's order. What is left alone is meant to be no more than board, and the
/// depth of a V is its own at every place, so neither is told.
///
/// Each edge asks which elements lie beyond it, of those whose boxes are there; most elements show at their first
/// edges.
pub(super) fn invisible(design: &Design, layout: &Layout, lookup: &Lookup) -> Vec<Invisible> {
    let step = design.outline_box().size().max_element() * STEP;
    let told = |treatment| !matches!(treatment, Treatment::Left | Treatment::Incised);
    let elements = (0..design.elements.len()).into_par_iter();
    elements
        .filter(|&element| told(layout.treatments[element]))
        .filter_map(|element| {
            let edges = || design.elements[element].region.rings().flat_map(Ring::segments);
            let length: f64 = edges().map(|[a, b]| a.distance(b)).sum();
            let (mut showing, mut beside) = (0.0, BTreeMap::new());
            for [a, b] in edges() {
                // The element lies to the left of its edges.
                let out: DVec2 = (a - b).perp().normalize_or_zero() * step;
                let beyond = a.midpoint(b) + out;
                let is_level = |other: &usize| *other != element && are_level(layout, element, *other);
                match lookup.elements_at(beyond).find(is_level) {
                    Some(other) => *beside.entry(other).or_insert(0.0) += a.distance(b),
                    None => showing += a.distance(b),
                }
                if showing > SHOWING * length {
                    return None;
                }
            }
            let (around, _) = beside.into_iter().max_by(|a, b| a.1.total_cmp(&b.1))?;
            Some(Invisible { element, around })
        })
        .collect()
}

/// Whether nothing shows where two elements meet.
fn are_level(layout: &Layout, one: usize, other: usize) -> bool {
    let [first, second] = [one, other].map(|element| layout.treatments[element]);
    let is_same_floor = layout.floor(Place::Element(one)) == layout.floor(Place::Element(other));
    first.stands() && second.stands() || first == second && (first != Treatment::Sunk || is_same_floor)
}
