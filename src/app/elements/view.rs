//! What is seen of the elements, and what is being typed about them.

use crate::app::commands::element::Choice;
use crate::app::elements::arrange::ArrangeDialog;
use crate::app::elements::lettering::LetteringDialog;
use crate::app::elements::places::{place_of, places_of};
use crate::app::elements::reading::Candidates;
use crate::app::elements::tree::TreeView;
use crate::app::widgets::outlines::Outlines;
use crate::design::Design;
use glam::DVec2;
use std::collections::BTreeSet;

/// What is seen of the elements, and what is being typed about them; nothing of it is saved with the job.
/// Elements are told by their names, which outlive a change of the design.
#[derive(Default)]
pub(crate) struct ElementsView {
    /// The chosen ones, in the order they were chosen.
    pub(crate) chosen: Vec<String>,
    /// Those that are left out of the picture of the board.
    pub(crate) hidden: BTreeSet<String>,
    /// The element that is being renamed, and what is typed.
    pub(crate) renaming: Option<(String, String)>,
    /// The handle on the board that is held.
    pub(crate) handle: Option<HeldHandle>,
    pub(crate) list: ListView,
    pub(crate) arrange: ArrangeDialog,
    /// The outlines of the chosen ones, ready to be drawn.
    pub(crate) outlines: Option<Outlines>,
    pub(crate) lettering: Option<LetteringDialog>,
    /// The sizes a drawing may be meant in, ready to be drawn.
    pub(crate) candidates: Option<Candidates>,
}

/// What a handle does.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(crate) enum Handle {
    Move,
    /// From a corner: from this side along the board and across it, -1 or 1.
    Resize([i8; 2]),
}

/// A handle that is held, and where it was taken: board space.
#[derive(Clone, Copy)]
pub(crate) struct HeldHandle {
    pub(crate) handle: Handle,
    pub(crate) from: DVec2,
}

/// How the list of the elements is seen.
#[derive(Default)]
pub(crate) struct ListView {
    /// What of it is open, and what is searched for.
    pub(crate) tree: TreeView,
    /// Whether it is to show many rows.
    pub(crate) tall: bool,
    /// How much height it has, as the last frame left it.
    pub(crate) room: Option<f32>,
    /// How much height the cards left unused in the last frame; less than nothing where they are scrolled.
    pub(crate) spare: Option<f32>,
    /// How far it is scrolled.
    pub(crate) seen_from: Option<f32>,
    /// A row that is to be brought into sight.
    pub(crate) scroll_to: Option<usize>,
}

impl ElementsView {
    /// Another job is shown.
    pub(crate) fn look_afresh(&mut self) {
        let list = ListView { tall: self.list.tall, spare: self.list.spare, ..ListView::default() };
        let arrange = std::mem::take(&mut self.arrange).closed();
        *self = ElementsView { list, arrange, ..ElementsView::default() };
    }

    /// The places of the chosen elements in a design, in the order they were chosen.
    pub(crate) fn chosen_in(&self, design: &Design) -> Vec<usize> {
        places_of(design, &self.chosen)
    }

    /// The places of the hidden elements in a design.
    pub(crate) fn hidden_in(&self, design: &Design) -> Vec<usize> {
        places_of(design, &self.hidden)
    }
}

/// Chooses an element.
pub(crate) fn choose(view: &mut ElementsView, design: &Design, element: usize, choice: Choice) {
    let Some(name) = design.elements.get(element).map(|element| element.name.clone()) else { return };
    match choice {
        Choice::Only => view.chosen = vec![name],
        Choice::Toggle => match view.chosen.iter().position(|other| *other == name) {
            Some(at) => drop(view.chosen.remove(at)),
            None => view.chosen.push(name),
        },
        Choice::UpTo => {
            let from = view.chosen.last().and_then(|name| place_of(design, name)).unwrap_or(element);
            let places: Vec<usize> =
                if from <= element { (from..=element).collect() } else { (element..=from).rev().collect() };
            let known: BTreeSet<String> = view.chosen.iter().cloned().collect();
            let names = places.into_iter().map(|place| &design.elements[place].name);
            view.chosen.extend(names.filter(|name| !known.contains(*name)).cloned());
        }
    }
    view.list.scroll_to = Some(element);
}

/// Chooses several at once.
pub(crate) fn choose_these(view: &mut ElementsView, design: &Design, elements: &[usize], choice: Choice) {
    let names: Vec<&String> =
        elements.iter().filter_map(|&place| Some(&design.elements.get(place)?.name)).collect();
    let known: BTreeSet<String> = view.chosen.iter().cloned().collect();
    let are_chosen = names.iter().all(|&name| known.contains(name));
    match choice {
        Choice::Only => view.chosen = names.into_iter().cloned().collect(),
        Choice::Toggle if are_chosen => {
            let names: BTreeSet<&String> = names.into_iter().collect();
            view.chosen.retain(|name| !names.contains(name));
        }
        Choice::Toggle | Choice::UpTo => {
            view.chosen.extend(names.into_iter().filter(|&name| !known.contains(name)).cloned());
        }
    }
}
