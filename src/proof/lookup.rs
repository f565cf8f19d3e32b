//! What questions about a size ask of a design's outlines again and again, prepared once.

use super::ends::AreaProfile;
use crate::design::Design;
use crate::geometry::{BoxLattice, Locator};
use glam::DVec2;
use std::sync::OnceLock;

/// Prepared when first asked for, and the same whoever asks.
#[derive(Clone, Debug)]
pub(super) struct Lookup {
    locators: Vec<OnceLock<Locator>>,
    boxes: OnceLock<BoxLattice>,
    /// Of the area along the design's x axis, and along y.
    profiles: [OnceLock<AreaProfile>; 2],
}

impl Lookup {
    pub(super) fn new(design: &Design) -> Lookup {
        Lookup {
            locators: design.elements.iter().map(|_| OnceLock::new()).collect(),
            boxes: OnceLock::new(),
            profiles: [OnceLock::new(), OnceLock::new()],
        }
    }

    /// Where an element is, by its index in the design this was made for.
    pub(super) fn locator(&self, design: &Design, element: usize) -> &Locator {
        self.locators[element].get_or_init(|| Locator::new(&design.elements[element].region))
    }

    /// The elements that a point lies in, by their indices in the design this was made for, in their order.
    pub(super) fn elements_at(&self, design: &Design, point: DVec2) -> impl Iterator<Item = usize> {
        let boxes = self.boxes.get_or_init(|| {
            let boxes: Vec<_> = design.elements.iter().map(|element| element.region.bounds()).collect();
            BoxLattice::new(&boxes)
        });
        boxes.at(point).filter(move |&element| self.locator(design, element).contains(point))
    }

    /// How the design's area is spread along an axis: 0 for x, 1 for y.
    pub(super) fn profile(&self, design: &Design, axis: usize) -> &AreaProfile {
        self.profiles[axis].get_or_init(|| AreaProfile::of(design, axis))
    }
}
