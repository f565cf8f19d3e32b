//! The rows of the list of elements: a tree of the drawing's groups, or a flat list of what is searched for.

use crate::app::commands::command::Command;
use crate::app::commands::element::{Choice, ElementCommand};
use crate::design::{Branch, Color, Design, TreeLine};
use std::collections::BTreeSet;
use std::sync::Arc;

/// In a longer list the groups start closed.
const FEW_ENOUGH_TO_OPEN: usize = 40;

/// What of the list is open, and what is searched for.
#[derive(Default)]
pub(crate) struct TreeView {
    /// What the names of the rows hold; empty for all.
    pub(crate) filter: String,
    /// The colour that is searched for.
    pub(crate) color: Option<Painted>,
    /// The groups that are not as they started, open or closed, by their paths.
    turned: BTreeSet<Vec<String>>,
    /// The tree, as long as the design is the same.
    kept: Option<Arc<Kept>>,
}

/// How elements are painted: in one colour; `None` for several or none.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(crate) struct Painted(pub(crate) Option<Color>);

/// The tree of a design, and its colours.
pub(crate) struct Kept {
    pub(crate) design: Arc<Design>,
    lines: Vec<TreeLine>,
    /// How many elements have each.
    pub(crate) colors: Vec<(Option<Color>, usize)>,
}

impl Kept {
    /// Whether colours tell its elements apart.
    pub(crate) fn has_colors(&self) -> bool {
        self.colors.len() > 1
    }
}

/// A row of the list.
#[derive(Clone, Copy)]
pub(crate) enum ListRow<'a> {
    /// A group, with its elements.
    Group { path: &'a [String], elements: &'a [usize], is_open: bool },
    /// An element, and how many groups it is in.
    Element { index: usize, depth: usize },
}

impl ListRow<'_> {
    /// The same wherever it is scrolled to, so that the keys can go to the next.
    pub(crate) fn id(&self) -> egui::Id {
        match self {
            ListRow::Group { path, .. } => egui::Id::unique(("group of elements", path)),
            ListRow::Element { index, .. } => egui::Id::unique(("element", index)),
        }
    }

    /// What chooses it.
    pub(crate) fn choosing(&self, choice: Choice) -> Command {
        match self {
            ListRow::Group { elements, .. } => ElementCommand::ChooseThese(elements.to_vec(), choice).into(),
            ListRow::Element { index, .. } => ElementCommand::Choose(*index, choice).into(),
        }
    }
}

impl TreeView {
    /// The tree of this design, made where the design is another than before. `O(n log n)` in elements.
    pub(crate) fn tree(&mut self, design: &Arc<Design>) -> Arc<Kept> {
        if let Some(kept) = self.kept.as_ref().filter(|kept| Arc::ptr_eq(&kept.design, design)) {
            return Arc::clone(kept);
        }
        let (lines, colors) = (design.tree(), design.colors());
        let kept = Arc::new(Kept { design: Arc::clone(design), lines, colors });
        self.kept = Some(Arc::clone(&kept));
        kept
    }

    /// Opens the groups that an element is in.
    pub(crate) fn open_to(&mut self, design: &Design, element: usize) {
        let Some(element) = design.elements.get(element) else { return };
        let groups = &element.origin.groups;
        for count in 1..=groups.len() {
            self.set_open(design, &groups[..count], true);
        }
    }

    /// Opens or closes a group.
    pub(crate) fn set_open(&mut self, design: &Design, path: &[String], is_open: bool) {
        if starts_open(design) == is_open {
            self.turned.remove(path);
        } else {
            self.turned.insert(path.to_vec());
        }
    }

    /// Whether some rows are left out by what is searched for.
    pub(crate) fn is_searched(&self) -> bool {
        !self.filter.trim().is_empty() || self.color.is_some()
    }

    /// The rows to show: the tree as far as it is open, or what is searched for without its groups. `O(n)` in elements.
    pub(crate) fn rows<'a>(&self, kept: &'a Kept) -> Vec<ListRow<'a>> {
        let element = |place: usize, depth: usize| ListRow::Element { index: place, depth };
        if self.is_searched() {
            let found = named(&kept.design, &self.filter).into_iter();
            let has_color = |place: &usize| {
                self.color.is_none_or(|Painted(color)| kept.design.elements[*place].origin.color == color)
            };
            return found.filter(has_color).map(|place| element(place, 0)).collect();
        }
        let starts_open = starts_open(&kept.design);
        // Lines deeper than this are in a group that is closed.
        let mut deepest = usize::MAX;
        let mut rows = Vec::new();
        for line in &kept.lines {
            if line.depth > deepest {
                continue;
            }
            deepest = usize::MAX;
            match &line.of {
                Branch::Element(place) => rows.push(element(*place, line.depth)),
                Branch::Group { path, elements } => {
                    let is_open = starts_open != self.turned.contains(path);
                    if !is_open {
                        deepest = line.depth;
                    }
                    rows.push(ListRow::Group { path, elements, is_open });
                }
            }
        }
        rows
    }
}

/// Whether groups are open until somebody closes them.
fn starts_open(design: &Design) -> bool {
    design.elements.len() <= FEW_ENOUGH_TO_OPEN
}

/// The places of the elements whose names, or those of their groups, hold these letters, large or small; all for none.
fn named(design: &Design, letters: &str) -> Vec<usize> {
    let wanted = letters.trim().to_lowercase();
    let holds = |name: &String| name.to_lowercase().contains(&wanted);
    let is_found = |place: &usize| {
        let element = &design.elements[*place];
        wanted.is_empty() || holds(&element.name) || element.origin.groups.iter().any(holds)
    };
    (0..design.elements.len()).filter(is_found).collect()
}
