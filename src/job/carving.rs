//! How each element is carved: what becomes of it, how deep, and with which cutter.

use super::{Job, Treatment};
use crate::shop::Cutter;
use crate::units::Mm;
use serde::Serialize;

/// How one element is carved.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Carving {
    /// What becomes of it.
    pub treatment: Treatment,
    /// How deep its floor or its deepest V is cut, from the face of the board; as deep as the job says if
    /// `None`. What stands or is cut through has no depth of its own: it is kept for when it is sunk again.
    pub depth: Option<Mm>,
    /// What it is cut with; the job's cutter if `None`. Kept without effect for what stands.
    pub cutter: Option<Cutter>,
}

impl From<Treatment> for Carving {
    fn from(treatment: Treatment) -> Carving {
        Carving { treatment, ..Carving::default() }
    }
}

/// A carved place. The ground comes before every element, elements in the design's order.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(into = "Option<usize>")]
pub enum Place {
    /// The ground round all that is in relief.
    Ground,
    /// An element that is lowered, by its index in the design.
    Element(usize),
}

impl Place {
    /// The element's index; `None` for the ground.
    pub fn element(self) -> Option<usize> {
        match self {
            Place::Ground => None,
            Place::Element(element) => Some(element),
        }
    }
}

/// For JSON: an index, or null for the ground.
impl From<Place> for Option<usize> {
    fn from(place: Place) -> Option<usize> {
        place.element()
    }
}

/// How one carved place is cut.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Cut<'a> {
    /// The treatment of its element; [`Treatment::Relief`] stands for the ground.
    pub treatment: Treatment,
    /// How deep: of what is cut through, as the board is thick.
    pub depth: Mm,
    /// With which cutter.
    pub cutter: &'a Cutter,
}

/// What of a job's carvings decides which widths there are to measure: what is carved, and which floors
/// lie deeper than which. No length is in it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Layout {
    /// One an element.
    pub treatments: Vec<Treatment>,
    /// Where each element's floor comes among the depths of all floors, 0 for the shallowest; 0 for what has
    /// none.
    floors: Vec<u32>,
    /// The same of the ground.
    ground: u32,
}

impl Layout {
    /// Where the floor of a place comes among the depths of all floors, 0 for the shallowest.
    pub fn floor(&self, place: Place) -> u32 {
        match place {
            Place::Ground => self.ground,
            Place::Element(element) => self.floors[element],
        }
    }

    /// How a place is carved; [`Treatment::Relief`] for the ground.
    pub fn treatment(&self, place: Place) -> Treatment {
        match place {
            Place::Ground => Treatment::Relief,
            Place::Element(element) => self.treatments[element],
        }
    }
}

/// A cutter, and what it is for.
#[derive(Clone, Debug, PartialEq)]
pub struct CutterUse<'a> {
    /// The cutter.
    pub cutter: &'a Cutter,
    /// The places it cuts.
    pub places: Vec<Place>,
    /// Whether it only clears floors before another cutter goes where it could not.
    pub clears_first: bool,
}

impl Job {
    /// The treatment of each element, in the design's order.
    pub fn treatments(&self) -> impl ExactSizeIterator<Item = Treatment> + '_ {
        self.carvings.iter().map(|carving| carving.treatment)
    }

    /// Whether any element is carved this way.
    pub fn has(&self, treatment: Treatment) -> bool {
        self.treatments().any(|other| other == treatment)
    }

    /// How deep an element is cut, as it is set: its own depth where it is sunk or incised and has one, else
    /// the job's. There is one ground round all that is in relief, and the job's depth is its.
    pub fn depth_of(&self, element: usize) -> Mm {
        let carving = &self.carvings[element];
        match carving.treatment {
            Treatment::Sunk | Treatment::Incised => carving.depth.unwrap_or(self.tooling.depth),
            Treatment::Relief | Treatment::Pierced | Treatment::Left => self.tooling.depth,
        }
    }

    /// The cutter of an element: its own where it is carved and has one, else the job's.
    pub fn cutter_of(&self, element: usize) -> &Cutter {
        let carving = &self.carvings[element];
        carving.cutter.as_ref().filter(|_| !carving.treatment.stands()).unwrap_or(&self.tooling.cutter)
    }

    /// The cutter that a place has of its own; `None` where it is cut with the job's.
    pub fn own_cutter(&self, place: Place) -> Option<&Cutter> {
        place
            .element()
            .map(|element| self.cutter_of(element))
            .filter(|cutter| **cutter != self.tooling.cutter)
    }

    /// Whether a place is not cut as deep as the job says, or not with its cutter; what is cut through is not
    /// meant to be.
    pub fn has_own_cut(&self, place: Place) -> bool {
        place.element().is_some_and(|element| self.depth_of(element) != self.tooling.depth)
            || self.own_cutter(place).is_some()
    }

    /// The name of a place's element, or that it is the ground.
    pub fn name_of(&self, place: Place) -> &str {
        place.element().map_or("ground", |element| &self.design.elements[element].name)
    }

    /// How a carved place is cut.
    pub fn cut(&self, place: Place) -> Cut<'_> {
        let Place::Element(element) = place else {
            return Cut {
                treatment: Treatment::Relief,
                depth: self.tooling.depth,
                cutter: &self.tooling.cutter,
            };
        };
        let treatment = self.carvings[element].treatment;
        let depth =
            if treatment == Treatment::Pierced { self.board.thickness } else { self.depth_of(element) };
        Cut { treatment, depth, cutter: self.cutter_of(element) }
    }

    /// Every carved place: the ground first, where there is one, then the elements that are lowered.
    pub fn places(&self) -> impl Iterator<Item = Place> + '_ {
        let ground = self.has(Treatment::Relief).then_some(Place::Ground);
        let carved = self.treatments().enumerate().filter(|(_, treatment)| !treatment.stands());
        ground.into_iter().chain(carved.map(|(element, _)| Place::Element(element)))
    }

    /// How every carved place is cut, in the order of [`places`](Self::places).
    pub fn cuts(&self) -> impl Iterator<Item = Cut<'_>> + '_ {
        self.places().map(|place| self.cut(place))
    }

    /// The deepest of all floors and Vs; `None` where there is neither. What is cut through is not among them.
    pub fn deepest_floor(&self) -> Option<Mm> {
        self.floors().reduce(Mm::max)
    }

    /// The shallowest of all floors and Vs; `None` where there is neither.
    pub fn shallowest_floor(&self) -> Option<Mm> {
        self.floors().reduce(Mm::min)
    }

    fn floors(&self) -> impl Iterator<Item = Mm> + '_ {
        self.cuts().filter(|cut| cut.treatment != Treatment::Pierced).map(|cut| cut.depth)
    }

    /// What of the carvings decides which widths there are to measure. `O(n log n)` in elements.
    pub fn layout(&self) -> Layout {
        let sunk = |element: usize| self.carvings[element].treatment == Treatment::Sunk;
        let mut depths: Vec<Mm> = (0..self.carvings.len())
            .filter(|&element| sunk(element))
            .map(|element| self.depth_of(element))
            .chain(self.has(Treatment::Relief).then_some(self.tooling.depth))
            .collect();
        depths.sort_by(|a, b| a.get().total_cmp(&b.get()));
        depths.dedup();
        let rank = |depth: Mm| depths.partition_point(|other| *other < depth) as u32;
        Layout {
            treatments: self.treatments().collect(),
            floors: (0..self.carvings.len())
                .map(|element| if sunk(element) { rank(self.depth_of(element)) } else { 0 })
                .collect(),
            ground: if self.has(Treatment::Relief) { rank(self.tooling.depth) } else { 0 },
        }
    }

    /// The cutters in the order they are used: first the one that clears floors for the others, then the
    /// job's, then those that elements have of their own, in the design's order. Each is there once; one that
    /// cuts nothing is not. `O(n c)` in elements and cutters.
    pub fn cutters(&self) -> Vec<CutterUse<'_>> {
        // The job's own has its place even where it first cuts something late in the design.
        let known = self.tooling.clearing.cutter.iter().chain([&self.tooling.cutter]);
        let mut uses: Vec<CutterUse<'_>> =
            known.map(|cutter| CutterUse { cutter, places: Vec::new(), clears_first: false }).collect();
        for place in self.places() {
            let cutter = self.cut(place).cutter;
            match uses.iter_mut().find(|one| one.cutter == cutter) {
                Some(known) => known.places.push(place),
                None => uses.push(CutterUse { cutter, places: vec![place], clears_first: false }),
            }
        }
        if self.tooling.clearing.cutter.is_some() {
            let first = &mut uses[0];
            first.clears_first = first.places.is_empty();
            let floored =
                |place: &Place| matches!(self.cut(*place).treatment, Treatment::Relief | Treatment::Sunk);
            first.places.extend(self.places().filter(floored));
            first.places.sort_unstable();
            first.places.dedup();
        }
        uses.retain(|one| !one.places.is_empty());
        uses
    }
}
