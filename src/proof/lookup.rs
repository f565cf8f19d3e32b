//! What questions about a size ask of a design's outlines again and again, prepared once.

use super::ends::AreaProfile;
use crate::design::Design;
use crate::geometry::Locator;
use std::sync::OnceLock;

/// Prepared when first asked for, and the same whoever asks.
#[derive(Clone, Debug)]
pub(super) struct Lookup {
    locators: Vec<OnceLock<Locator>>,
    /// Of the area along the design's x axis, and along y.
    profiles: [OnceLock<AreaProfile>; 2],
}

impl Lookup {
    pub(super) fn new(design: &Design) -> Lookup {
        Lookup {
            locators: design.elements.iter().map(|_| OnceLock::new()).collect(),
            profiles: [OnceLock::new(), OnceLock::new()],
        }
    }

    /// Where an element is, by its index in the design this was made for.
    pub(super) fn locator(&self, design: &Design, element: usize) -> &Locator {
        self.locators[element].get_or_init(|| Locator::new(&design.elements[element].region))
    }

    /// How the design's area is spread along an axis: 0 for x, 1 for y.
    pub(super) fn profile(&self, design: &Design, axis: usize) -> &AreaProfile {
        self.profiles[axis].get_or_init(|| AreaProfile::of(design, axis))
    }
}
