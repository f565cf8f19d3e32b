//! Elements by their names.

use crate::design::Design;
use std::collections::BTreeMap;

/// The place of the element of this name.
pub(crate) fn place_of(design: &Design, name: &str) -> Option<usize> {
    design.elements.iter().position(|element| element.name == name)
}

/// The places of the elements of these names, in their order. `O(n log n)` in elements, and nothing for no names.
pub(crate) fn places_of<'a>(design: &Design, names: impl IntoIterator<Item = &'a String>) -> Vec<usize> {
    let mut names = names.into_iter().peekable();
    if names.peek().is_none() {
        return Vec::new();
    }
    let places: BTreeMap<&str, usize> =
        design.elements.iter().enumerate().map(|(place, element)| (element.name.as_str(), place)).collect();
    names.filter_map(|name| places.get(name.as_str()).copied()).collect()
}
