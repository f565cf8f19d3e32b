//! What questions about a size ask of a design's outlines again and again, prepared once.

use super::ends::AreaProfile;
use crate::design::Design;
use crate::geometry::{BoxLattice, Locator};
use glam::DVec2;
use rayon::prelude::*;
use std::sync::OnceLock;

/// The same whoever asks. Elements go by their indices in the design this was made for.
#[derive(Clone, Debug)]
pub(super) struct Lookup {
    locators: Vec<Locator>,
    boxes: BoxLattice,
    /// Prepared when first asked for. Of the area along the design's x axis, and along y.
    profiles: [OnceLock<AreaProfile>; 2],
}

impl Lookup {
    /// `O(n log n)` in edges at most.
    pub(super) fn new(design: &Design) -> Lookup {
        let boxes: Vec<_> = design.elements.iter().map(|element| element.region.bounds()).collect();
        Lookup {
            locators: design.elements.par_iter().map(|element| Locator::new(&element.region)).collect(),
            boxes: BoxLattice::new(&boxes),
            profiles: [OnceLock::new(), OnceLock::new()],
        }
    }

    /// Where an element is, by its index.
    pub(super) fn locator(&self, element: usize) -> &Locator {
        &self.locators[element]
    }

    /// The elements that a point lies in, by their indices, in their order.
    pub(super) fn elements_at(&self, point: DVec2) -> impl Iterator<Item = usize> {
        self.boxes.at(point).filter(move |&element| self.locators[element].contains(point))
    }

    /// How the design's area is spread along an axis: 0 for x, 1 for y.
    pub(super) fn profile(&self, design: &Design, axis: usize) -> &AreaProfile {
        self.profiles[axis].get_or_init(|| AreaProfile::of(design, axis))
    }
}
