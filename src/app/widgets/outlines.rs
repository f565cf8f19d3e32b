//! Outlines with few enough points to be drawn in every frame.

use crate::design::Design;
use crate::geometry;
use glam::DVec2;
use std::sync::Arc;

/// Points of outlines that are drawn live, at most; about.
pub(crate) const MOST_POINTS: usize = 20_000;

/// The outlines of some elements of a design, few enough points to be drawn in every frame.
pub(crate) struct Outlines {
    pub(crate) design: Arc<Design>,
    pub(crate) elements: Vec<usize>,
    pub(crate) rings: Vec<Vec<DVec2>>,
}

/// The outlines of some elements with about `most` points or fewer: where there are more, those that bring
/// a line on by little are left out.
pub(crate) fn thinned(design: &Design, elements: &[usize], most: usize) -> Vec<Vec<DVec2>> {
    let rings = || {
        let elements = elements.iter().filter_map(|&index| design.elements.get(index));
        elements.flat_map(|element| element.region.rings())
    };
    let length: f64 = rings().flat_map(geometry::Ring::segments).map(|[a, b]| a.distance(b)).sum();
    let count: usize = rings().map(|ring| ring.nodes().len()).sum();
    let step = if count <= most { 0.0 } else { 2.0 * length / most as f64 };
    let thin = |ring: geometry::Ring<'_>| {
        let mut points: Vec<DVec2> = Vec::new();
        for point in ring.points() {
            if points.last().is_none_or(|last| last.distance(point) >= step) {
                points.push(point);
            }
        }
        points
    };
    rings().map(thin).filter(|ring| ring.len() > 1).take(most).collect()
}
