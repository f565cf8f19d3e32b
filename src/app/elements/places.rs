//! Elements by their names.

use crate::design::Design;

/// The place of the element of this name.
pub(crate) fn place_of(design: &Design, name: &str) -> Option<usize> {
    design.elements.iter().position(|element| element.name == name)
}
