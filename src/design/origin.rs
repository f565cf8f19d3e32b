//! What a drawing says of an element beside its name and its outline: the groups it is in and its colour.

use super::Design;
use super::layering::tidy;
use serde::{Deserialize, Serialize};
use std::collections::{BTreeMap, BTreeSet};
use std::fmt;
use thiserror::Error;

/// The most groups in groups that are kept of an element, from the outermost in: a round value of our own, deeper than
/// anybody draws by hand.
pub const MAX_GROUPS: usize = 12;

/// What a drawing says of an element beside its name and its outline. Nothing that is carved depends on it.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Origin {
    /// The names of the groups it is in, outermost first and at most [`MAX_GROUPS`]; empty where it is in none. A group
    /// round the whole drawing is left out.
    pub groups: Vec<String>,
    /// The colour it is painted in; `None` where that is several or not stated.
    pub color: Option<Color>,
}

impl Origin {
    /// Of groups as a file has them: no name is blank or of several lines, and the innermost of too many are left out.
    pub(crate) fn tidy(groups: Vec<String>, color: Option<Color>) -> Origin {
        let groups = groups.into_iter().filter(|name| !name.trim().is_empty()).map(|name| tidy(&name));
        Origin { groups: groups.take(MAX_GROUPS).collect(), color }
    }
}

/// A colour of a drawing. Written as `#rrggbb`.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(try_from = "String", into = "String")]
pub struct Color(pub [u8; 3]);

/// A text is no colour.
#[derive(Debug, Error)]
pub struct NotAColor;

impl fmt::Display for Color {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let Color([red, green, blue]) = self;
        write!(f, "#{red:02x}{green:02x}{blue:02x}")
    }
}

impl From<Color> for String {
    fn from(color: Color) -> String {
        color.to_string()
    }
}

impl TryFrom<String> for Color {
    type Error = NotAColor;

    fn try_from(text: String) -> Result<Color, NotAColor> {
        let digits = text.strip_prefix('#').filter(|digits| digits.len() == 6).ok_or(NotAColor)?;
        if !digits.bytes().all(|byte| byte.is_ascii_hexdigit()) {
            return Err(NotAColor);
        }
        let number = u32::from_str_radix(digits, 16).map_err(|_no_number| NotAColor)?;
        let [_, red, green, blue] = number.to_be_bytes();
        Ok(Color([red, green, blue]))
    }
}

/// The one colour of several things; `None` where they differ, where one has none, or where there are none.
pub(super) fn common(colors: impl IntoIterator<Item = Option<Color>>) -> Option<Color> {
    let mut colors = colors.into_iter();
    let first = colors.next()??;
    colors.all(|color| color == Some(first)).then_some(first)
}

/// A line of the tree of a design's elements: a group, or an element in one.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct TreeLine {
    /// How many groups it is in.
    pub depth: usize,
    /// What it is.
    pub of: Branch,
}

/// What a line of the tree stands for.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Branch {
    /// A group.
    Group {
        /// Its names and those of the groups it is in, outermost first.
        path: Vec<String>,
        /// Its elements and those of groups in it, in their order.
        elements: Vec<usize>,
    },
    /// The element of this place in the design.
    Element(usize),
}

impl Design {
    /// The elements as a tree: every group before what is in it, where its first element is in paint order. `O(n log n)`
    /// in elements; of a design without groups it is the list of its elements.
    pub fn tree(&self) -> Vec<TreeLine> {
        let mut root = Group::default();
        for (place, element) in self.elements.iter().enumerate() {
            let mut group = &mut root;
            group.elements.push(place);
            for name in element.origin.groups.iter().take(MAX_GROUPS) {
                let next = group.groups.len();
                let at = *group.places.entry(name).or_insert(next);
                if at == next {
                    group.groups.push((name.clone(), Group::default()));
                    group.parts.push(Part::Group(at));
                }
                group = &mut group.groups[at].1;
                group.elements.push(place);
            }
            group.parts.push(Part::Element(place));
        }
        let mut lines = Vec::with_capacity(self.elements.len());
        root.write(&mut Vec::new(), &mut lines);
        lines
    }

    /// The places of the elements in the group of this name, or in the group that its name and those of the groups it is
    /// in make, joined as an element's name is: `Sign / Letters`. Empty where there is no such group.
    pub fn in_group(&self, name: &str) -> Vec<usize> {
        let is_in = |origin: &Origin| {
            (1..=origin.groups.len()).any(|count| origin.groups[..count].join(GROUP_IN_GROUP) == name)
                || origin.groups.iter().any(|group| group == name)
        };
        let elements = self.elements.iter().enumerate();
        elements.filter(|(_, element)| is_in(&element.origin)).map(|(place, _)| place).collect()
    }

    /// The places of the elements that a name means: the element of this name, or all in the [group](Self::in_group) of it.
    /// Empty where there is neither.
    pub fn called(&self, name: &str) -> Vec<usize> {
        let group = self.in_group(name);
        match self.elements.iter().position(|element| element.name == name) {
            Some(place) if !group.contains(&place) => vec![place],
            _ => group,
        }
    }

    /// The elements that are in the same groups as one of these, or deeper in them; those of no group by themselves.
    /// `O(n log n)`.
    pub fn of_group_of(&self, these: &[usize]) -> Vec<usize> {
        let groups =
            |place: &usize| self.elements.get(*place).map(|element| element.origin.groups.as_slice());
        let paths: BTreeSet<&[String]> =
            these.iter().filter_map(groups).filter(|path| !path.is_empty()).collect();
        let alone: BTreeSet<usize> = these.iter().copied().collect();
        let is_in = |place: &usize| {
            let path = &self.elements[*place].origin.groups;
            alone.contains(place) || (1..=path.len()).any(|count| paths.contains(&path[..count]))
        };
        (0..self.elements.len()).filter(is_in).collect()
    }

    /// The elements of the colour of one of these. `O(n log n)`.
    pub fn of_color_of(&self, these: &[usize]) -> Vec<usize> {
        let color = |place: &usize| self.elements.get(*place).map(|element| element.origin.color);
        let colors: BTreeSet<Option<Color>> = these.iter().filter_map(color).collect();
        (0..self.elements.len())
            .filter(|&place| colors.contains(&self.elements[place].origin.color))
            .collect()
    }

    /// The colours that elements are painted in, each with how many of them are, the most first. Those of several colours
    /// or none come under `None`.
    pub fn colors(&self) -> Vec<(Option<Color>, usize)> {
        let mut counts: BTreeMap<Option<Color>, usize> = BTreeMap::new();
        for element in &self.elements {
            *counts.entry(element.origin.color).or_default() += 1;
        }
        let mut colors: Vec<(Option<Color>, usize)> = counts.into_iter().collect();
        colors.sort_by_key(|&(color, count)| (std::cmp::Reverse(count), color.is_none(), color));
        colors
    }
}

/// Between the name of a group and of what is in it.
pub(super) const GROUP_IN_GROUP: &str = " / ";

impl super::Element {
    /// Its name without those of the groups it is in.
    pub fn short_name(&self) -> &str {
        let groups = self.origin.groups.join(GROUP_IN_GROUP);
        let rest = self.name.strip_prefix(&groups).and_then(|rest| rest.strip_prefix(GROUP_IN_GROUP));
        rest.filter(|rest| !groups.is_empty() && !rest.trim().is_empty()).unwrap_or(&self.name)
    }
}

/// A group as the tree is made.
#[derive(Default)]
struct Group<'a> {
    elements: Vec<usize>,
    groups: Vec<(String, Group<'a>)>,
    places: BTreeMap<&'a str, usize>,
    parts: Vec<Part>,
}

enum Part {
    Group(usize),
    Element(usize),
}

impl Group<'_> {
    /// Writes what is in it. Recurses as deep as [`MAX_GROUPS`].
    fn write(self, path: &mut Vec<String>, lines: &mut Vec<TreeLine>) {
        let depth = path.len();
        let mut groups: Vec<Option<(String, Group<'_>)>> = self.groups.into_iter().map(Some).collect();
        for part in self.parts {
            match part {
                Part::Element(place) => lines.push(TreeLine { depth, of: Branch::Element(place) }),
                Part::Group(at) => {
                    let Some((name, mut group)) = groups[at].take() else { continue };
                    path.push(name);
                    let elements = std::mem::take(&mut group.elements);
                    lines.push(TreeLine { depth, of: Branch::Group { path: path.clone(), elements } });
                    group.write(path, lines);
                    path.pop();
                }
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::design::Element;
    use crate::geometry::{FillRule, Grid, Rect, Region};
    use crate::notice::Notices;
    use glam::dvec2;

    fn design(elements: &[(&str, &[&str])]) -> Design {
        let rect = Rect::new(dvec2(0.0, 0.0), dvec2(1.0, 1.0));
        let grid = Grid::covering(rect);
        let region = Region::clean(grid, &[rect.corners().to_vec()], FillRule::NonZero);
        let element = |&(name, groups): &(&str, &[&str])| {
            let groups = groups.iter().map(|&group| group.to_owned()).collect();
            let origin = Origin { groups, color: None };
            Element { origin, ..Element::new(name, region.clone()) }
        };
        let elements = elements.iter().map(element).collect();
        Design {
            name: "test".to_owned(),
            elements,
            page: None,
            grid,
            notices: Notices::new(),
            sharpness: None,
        }
    }

    fn written(design: &Design) -> Vec<String> {
        let line = |line: &TreeLine| {
            let indent = "  ".repeat(line.depth);
            match &line.of {
                Branch::Group { path, elements } => format!("{indent}{}: {elements:?}", path.join("/")),
                Branch::Element(place) => format!("{indent}{}", design.elements[*place].short_name()),
            }
        };
        design.tree().iter().map(line).collect()
    }

    #[test]
    fn a_group_stands_before_what_is_in_it() {
        let design = design(&[
            ("rim", &[]),
            ("Sign", &["Sign"]),
            ("Sign / Row / S", &["Sign", "Row"]),
            ("bar", &[]),
            ("renamed", &["Sign", "Row"]),
            ("Sign / Dot", &["Sign"]),
        ]);
        let expected = [
            "rim",
            "Sign: [1, 2, 4, 5]",
            "  Sign",
            "  Sign/Row: [2, 4]",
            "    S",
            "    renamed",
            "  Dot",
            "bar",
        ];
        assert_eq!(written(&design), expected);
        assert_eq!(design.in_group("Row"), [2, 4]);
        assert_eq!(design.in_group("Sign / Row"), [2, 4]);
        assert_eq!(design.in_group("rim"), [0_usize; 0]);
    }

    #[test]
    fn a_colour_reads_back_and_nothing_else_is_one() {
        let color = Color([0x4a, 0x30, 0x00]);
        assert_eq!(color.to_string(), "#4a3000");
        assert_eq!(Color::try_from(color.to_string()).unwrap(), color);
        for text in ["4a3000", "#4a30", "#4a300g", "#+a3000", "#ä300", ""] {
            assert!(Color::try_from(text.to_owned()).is_err(), "{text}");
        }
    }

    #[test]
    fn several_colours_are_none() {
        let [red, blue] = [Color([255, 0, 0]), Color([0, 0, 255])].map(Some);
        assert_eq!(common([red, red]), red);
        assert_eq!(common([red, blue]), None);
        assert_eq!(common([red, None]), None);
        assert_eq!(common([]), None);
    }
}
