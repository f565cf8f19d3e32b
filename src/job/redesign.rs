//! Edits of the design itself: what is done to its elements, and how their settings carry over.

use super::change::{Done, ElementsChange};
use super::edit::EditKind;
use super::rejected::{FACTORS, LONGEST, Quantity, Rejected, check_length};
use super::{Carving, Job, Size, Treatment, Turn};
use crate::design::face::Fonts;
use crate::design::lettering::Lettering;
use crate::design::{Design, DesignError, MAX_ELEMENTS, Mirror, PlateShape};
use crate::geometry::Rect;
use crate::units::Mm;
use glam::{DVec2, dvec2};
use std::collections::BTreeMap;
use std::sync::Arc;

/// Something done to the elements of a design, which are told by their places in it. Lengths are as carved,
/// and directions as on the board.
#[derive(Clone, Debug, PartialEq)]
pub enum Redesign {
    /// An element gets another name; a number is added where it is taken.
    Rename {
        /// Which.
        element: usize,
        /// The name.
        name: String,
    },
    /// Elements become one, which keeps the name of the first in the list.
    Combine(Vec<usize>),
    /// Each element becomes its separate pieces, numbered.
    Split(Vec<usize>),
    /// Elements are taken out.
    Remove(Vec<usize>),
    /// Elements are turned over.
    Mirror(Vec<usize>, Mirror),
    /// The others, with so much round them, are taken out of the first.
    CutOut {
        /// Which.
        elements: Vec<usize>,
        /// Room round the others.
        margin: Mm,
        /// Whether they are still in the design afterwards.
        keep: bool,
    },
    /// Elements are moved.
    Move {
        /// Which.
        elements: Vec<usize>,
        /// So much along the board and across it.
        by: [Mm; 2],
    },
    /// Elements become larger or smaller, about the middle of the box round them.
    Resize {
        /// Which.
        elements: Vec<usize>,
        /// How many times as large.
        factor: f64,
    },
    /// The outlines of elements move outwards, or inwards.
    Grow {
        /// Which.
        elements: Vec<usize>,
        /// How far outwards; inwards where it is negative.
        by: Mm,
    },
    /// Elements are repeated.
    Repeat {
        /// Which.
        elements: Vec<usize>,
        /// How many times along the board and across it.
        times: [u32; 2],
        /// From one to the next, along and across.
        pitch: [Mm; 2],
    },
    /// A lowered ground goes under the design.
    Ground {
        /// How far it reaches past the outlines.
        margin: Mm,
        /// Its outline, as carved.
        shape: PlateShape,
    },
    /// Details that are finer than this are smoothed away.
    Smooth {
        /// Of which elements.
        elements: Vec<usize>,
        /// The finest that stays.
        finest: Mm,
    },
    /// A standing border goes round the design.
    Border {
        /// From the outlines to its inner edge.
        margin: Mm,
        /// How wide it is.
        width: Mm,
        /// Its outer edge, as carved.
        shape: PlateShape,
    },
    /// Specks and slivers are cleaned away.
    Clean,
    /// Words are put into the design.
    Letter(Words, Spot),
}

/// Words to carve.
#[derive(Clone, Debug, PartialEq)]
pub struct Words {
    /// How they are set, as carved.
    pub lettering: Lettering,
    /// How they are carved.
    pub treatment: Treatment,
}

/// Where words go in a design.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Spot {
    /// Over it.
    Above,
    /// In its middle, on top of what is there.
    Middle,
    /// Under it.
    Below,
    /// In place of the element of this name.
    InPlaceOf(String),
}

/// Every length in a plate's shape.
fn sides_of(shape: PlateShape) -> Vec<Mm> {
    match shape {
        PlateShape::Rectangle { corner } => vec![corner],
        PlateShape::Exactly { size: [across, up], corner } => vec![across, up, corner],
        PlateShape::Oval => Vec::new(),
    }
}

impl Redesign {
    /// Every length in it.
    fn distances(&self) -> Vec<Mm> {
        match *self {
            Redesign::CutOut { margin, .. } => vec![margin],
            Redesign::Move { by, .. } => by.to_vec(),
            Redesign::Repeat { pitch, .. } => pitch.to_vec(),
            Redesign::Smooth { finest, .. } => vec![finest],
            Redesign::Grow { by, .. } => vec![by],
            Redesign::Ground { margin, shape } => [vec![margin], sides_of(shape)].concat(),
            Redesign::Border { margin, width, shape } => [vec![margin, width], sides_of(shape)].concat(),
            Redesign::Rename { .. }
            | Redesign::Combine(_)
            | Redesign::Split(_)
            | Redesign::Remove(_)
            | Redesign::Mirror(..)
            | Redesign::Resize { .. }
            | Redesign::Clean
            | Redesign::Letter(..) => Vec::new(),
        }
    }

    /// What sort of edit it is.
    pub fn kind(&self) -> EditKind {
        match self {
            Redesign::Rename { .. } => EditKind::Rename,
            Redesign::Combine(_) => EditKind::Combine,
            Redesign::Split(_) => EditKind::Split,
            Redesign::Remove(_) => EditKind::Remove,
            Redesign::Mirror(..) => EditKind::Mirror,
            Redesign::CutOut { .. } => EditKind::CutOut,
            Redesign::Move { .. } => EditKind::Move,
            Redesign::Resize { .. } => EditKind::Resize,
            Redesign::Grow { .. } => EditKind::Grow,
            Redesign::Repeat { .. } => EditKind::Repeat,
            Redesign::Ground { .. } => EditKind::Ground,
            Redesign::Smooth { .. } => EditKind::Smooth,
            Redesign::Border { .. } => EditKind::Border,
            Redesign::Clean => EditKind::Clean,
            Redesign::Letter(..) => EditKind::Lettering,
        }
    }

    /// How many elements are still missing for it to mean anything; 0 where there are enough.
    pub fn too_few(&self) -> usize {
        let (elements, needed) = match self {
            Redesign::Combine(elements) | Redesign::CutOut { elements, .. } => (elements, 2),
            Redesign::Remove(elements)
            | Redesign::Split(elements)
            | Redesign::Mirror(elements, _)
            | Redesign::Move { elements, .. }
            | Redesign::Resize { elements, .. }
            | Redesign::Grow { elements, .. }
            | Redesign::Smooth { elements, .. }
            | Redesign::Repeat { elements, .. } => (elements, 1),
            _ => return 0,
        };
        if elements.len() < needed { needed } else { 0 }
    }

    /// The elements it names, each once.
    fn elements(&self) -> Vec<usize> {
        let named = match self {
            Redesign::Rename { element, .. } => std::slice::from_ref(element),
            Redesign::Combine(elements)
            | Redesign::Split(elements)
            | Redesign::Remove(elements)
            | Redesign::Mirror(elements, _)
            | Redesign::CutOut { elements, .. }
            | Redesign::Move { elements, .. }
            | Redesign::Resize { elements, .. }
            | Redesign::Grow { elements, .. }
            | Redesign::Smooth { elements, .. }
            | Redesign::Repeat { elements, .. } => elements,
            Redesign::Ground { .. } | Redesign::Border { .. } | Redesign::Clean | Redesign::Letter(..) => &[],
        };
        let mut once = Vec::with_capacity(named.len());
        for element in named {
            if !once.contains(element) {
                once.push(*element);
            }
        }
        once
    }
}

/// What is made of a design, and what of its elements' settings does not simply stay.
struct Redrawn {
    design: Design,
    done: Done,
    /// An element's name before and after.
    renamed: Option<[String; 2]>,
    /// New elements, each with the name of the one whose settings it takes.
    pieces: Vec<[String; 2]>,
    /// New elements, and how they are carved.
    fresh: Vec<(String, Treatment)>,
    /// An element whose words were set, and how.
    lettered: Option<(String, Lettering)>,
    /// Elements that no longer are what their words would set.
    unlettered: Vec<String>,
    /// The elements to choose now.
    chosen: Vec<String>,
    /// Elements that may be covered by it, those taken away on purpose excepted; `None` where none can be.
    may_cover: Option<Vec<String>>,
}

impl Redrawn {
    fn of(design: Design, done: Done) -> Redrawn {
        Redrawn {
            design,
            done,
            renamed: None,
            pieces: Vec::new(),
            fresh: Vec::new(),
            lettered: None,
            unlettered: Vec::new(),
            chosen: Vec::new(),
            may_cover: None,
        }
    }

    /// A ground or a border: the new element is the lowest.
    fn added(design: Design, treatment: Treatment, done: impl Fn(String) -> Done) -> Redrawn {
        let name = design.elements.first().map(|element| element.name.clone()).unwrap_or_default();
        Redrawn {
            fresh: vec![(name.clone(), treatment)],
            chosen: vec![name.clone()],
            ..Redrawn::of(design, done(name))
        }
    }

    /// The elements that are gone since nothing of them would show.
    fn covered(&self, before: &Design) -> Vec<String> {
        let Some(on_purpose) = &self.may_cover else { return Vec::new() };
        let is_there = |name: &String| self.design.elements.iter().any(|element| element.name == *name);
        let names = before.elements.iter().map(|element| &element.name);
        names.filter(|name| !is_there(name) && !on_purpose.contains(name)).cloned().collect()
    }
}

impl Job {
    /// Does something to the elements. What was set about an element stays with it, by its name.
    pub(super) fn redesign(&mut self, redesign: Redesign) -> Result<ElementsChange, Rejected> {
        let redrawn = self.redrawn(redesign)?;
        let covered = redrawn.covered(&self.design);
        let Redrawn { design, done, renamed, pieces, fresh, lettered, unlettered, chosen, may_cover: _ } =
            redrawn;
        let what = ElementsChange { done, chosen, covered };
        let lettering_stays =
            lettered.as_ref().is_none_or(|(name, own)| self.lettering.get(name) == Some(own))
                && !unlettered.iter().any(|name| self.lettering.contains_key(name));
        if design == *self.design && lettering_stays {
            return Ok(what);
        }
        let before = self.clone();
        let name_before = |name: &str| match &renamed {
            Some([old, new]) if new == name => old.clone(),
            _ => name.to_owned(),
        };
        let whole_of: BTreeMap<&str, &str> =
            pieces.iter().map(|[piece, whole]| (piece.as_str(), whole.as_str())).collect();
        let carving_before = |name: &str| {
            let name = name_before(whole_of.get(name).copied().unwrap_or(name));
            let place = before.design.elements.iter().position(|element| element.name == name);
            place.map(|place| before.carvings[place].clone())
        };
        let design = Arc::new(design);
        self.redraw(design.clone());
        for (element, carving) in design.elements.iter().zip(&mut self.carvings) {
            if let Some(own) = carving_before(&element.name) {
                *carving = own;
            }
            if let Some((_, treatment)) = fresh.iter().find(|(name, _)| *name == element.name) {
                carving.treatment = *treatment;
            }
        }
        self.lettering = design
            .elements
            .iter()
            .filter(|element| !unlettered.contains(&element.name))
            .filter_map(|element| {
                let own = before.lettering.get(&name_before(&element.name))?;
                Some((element.name.clone(), own.clone()))
            })
            .chain(lettered)
            .collect();
        // What was there keeps the size it has on the board, however large the whole is now.
        let grew = before.design.outline_box() != design.outline_box();
        if grew && matches!(before.placing.size, Size::Length(_) | Size::Width(_)) {
            self.placing.size = Size::Factor(before.factor());
        }
        Ok(what)
    }

    /// What is made of the design.
    fn redrawn(&self, redesign: Redesign) -> Result<Redrawn, Rejected> {
        let design = &*self.design;
        let chosen = redesign.elements();
        if chosen.iter().any(|&element| element >= design.elements.len()) {
            return Err(Rejected::NoSuchElement);
        }
        match redesign.too_few() {
            0 => {}
            needed => return Err(Rejected::TooFew { needed }),
        }
        for distance in redesign.distances() {
            check_length(Quantity::ElementsDistance, distance, -LONGEST)?;
        }
        let names: Vec<String> = chosen.iter().map(|&index| design.elements[index].name.clone()).collect();
        let factor = self.factor();
        let drawn = |length: Mm| length / factor;
        let as_drawn = |shape| match shape {
            PlateShape::Rectangle { corner } => PlateShape::Rectangle { corner: drawn(corner) },
            PlateShape::Exactly { size, corner } => {
                let [along, across] = size.map(drawn);
                let size = if self.placing.turn.swaps() { [across, along] } else { [along, across] };
                PlateShape::Exactly { size, corner: drawn(corner) }
            }
            PlateShape::Oval => PlateShape::Oval,
        };
        Ok(match redesign {
            Redesign::Rename { element, name } => {
                if name.trim().is_empty() {
                    return Err(Rejected::NoName);
                }
                let before = names[0].clone();
                let design = design.renamed(element, &name);
                let after = design.elements[element].name.clone();
                Redrawn {
                    renamed: Some([before.clone(), after.clone()]),
                    chosen: vec![after.clone()],
                    ..Redrawn::of(design, Done::Renamed { before, after })
                }
            }
            Redesign::Combine(_) => combined(design, &chosen, names)?,
            Redesign::Split(_) => split(design, &chosen, names)?,
            Redesign::Remove(_) => {
                Redrawn::of(design.lifted(&chosen).map_err(last_stays)?, Done::Removed { names })
            }
            Redesign::Mirror(_, mirror) => {
                let mirror = match mirror {
                    Mirror::Upright if self.placing.turn.swaps() => Mirror::Level,
                    Mirror::Level if self.placing.turn.swaps() => Mirror::Upright,
                    same => same,
                };
                Redrawn {
                    unlettered: names.clone(),
                    may_cover: Some(Vec::new()),
                    ..Redrawn::of(design.mirrored(&chosen, mirror)?, Done::Mirrored { names })
                }
            }
            Redesign::CutOut { margin, keep, .. } => cut_out(design, &chosen, names, drawn(margin), keep)?,
            Redesign::Move { by, .. } => {
                let by = self.design_from_board(by);
                Redrawn {
                    may_cover: Some(Vec::new()),
                    ..Redrawn::of(design.moved(&chosen, by)?, Done::Moved { names })
                }
            }
            Redesign::Resize { factor, .. } => resized(design, &chosen, names, factor)?,
            Redesign::Grow { by, .. } => grown(design, &chosen, names, drawn(by))?,
            Redesign::Repeat { times: [along, across], pitch, .. } => {
                let [columns, rows] =
                    if self.placing.turn.swaps() { [across, along] } else { [along, across] };
                let pitch = self.design_from_board(pitch);
                Redrawn {
                    unlettered: names.clone(),
                    may_cover: Some(Vec::new()),
                    ..Redrawn::of(
                        design.repeated(&chosen, columns, rows, pitch)?,
                        Done::Repeated { names, times: [along, across] },
                    )
                }
            }
            Redesign::Ground { margin, shape } => {
                let design = design.with_ground(drawn(margin), as_drawn(shape))?;
                Redrawn::added(design, Treatment::Sunk, |name| Done::Grounded { name })
            }
            Redesign::Border { margin, width, shape } => {
                let design = design.with_border(drawn(margin), drawn(width), as_drawn(shape))?;
                Redrawn::added(design, Treatment::Relief, |name| Done::Bordered { name })
            }
            Redesign::Smooth { finest, .. } => Redrawn {
                unlettered: names.clone(),
                ..Redrawn::of(design.smoothed(&chosen, drawn(finest))?, Done::Smoothed { names })
            },
            Redesign::Clean => {
                let specks = design.specks().count;
                Redrawn::of(design.without_specks()?, Done::Cleaned { specks })
            }
            Redesign::Letter(words, spot) => self.lettered(&words, &spot, factor)?,
        })
    }

    /// A vector on the board as one of the design, drawn size.
    pub fn design_from_board(&self, [along, across]: [Mm; 2]) -> DVec2 {
        let back = Turn::from_degrees(-self.placing.turn.degrees()).unwrap_or_default();
        back.of(dvec2(along.get(), across.get())) / self.factor()
    }

    /// Words put into the design, on top of what is there.
    fn lettered(&self, words: &Words, spot: &Spot, factor: f64) -> Result<Redrawn, Rejected> {
        let fonts = Fonts::of_machine();
        let lettering = at_drawn_size(&words.lettering, factor);
        let set = lettering.design(fonts)?;
        let (whole, own) = (self.design.outline_box(), set.outline_box());
        let gap = 0.5 * lettering.cap_height.get();
        let mut on_purpose = Vec::new();
        let (below, at) = match spot {
            Spot::InPlaceOf(name) => {
                let place = self.design.elements.iter().position(|element| element.name == *name);
                let place = place.ok_or_else(|| Rejected::NoElementNamed { name: name.clone() })?;
                let (region, before) = (&self.design.elements[place].region, self.lettering.get(name));
                let at = shift_of(region.bounds(), before, fonts).unwrap_or(whole.center() - own.center());
                on_purpose.push(name.clone());
                (self.design.lifted(&[place]).ok(), at)
            }
            Spot::Middle => (Some((*self.design).clone()), whole.center() - own.center()),
            Spot::Above => {
                let at = dvec2(whole.center().x - own.center().x, whole.max.y + gap - own.min.y);
                (Some((*self.design).clone()), at)
            }
            Spot::Below => {
                let at = dvec2(whole.center().x - own.center().x, whole.min.y - gap - own.max.y);
                (Some((*self.design).clone()), at)
            }
        };
        let design = match below {
            Some(below) => below.with(&set, at),
            // The words were all there was.
            None => set.moved(&[], at).map(|set| Design { name: self.design.name.clone(), ..set }),
        }?;
        let name = design.elements.last().map(|element| element.name.clone()).unwrap_or_default();
        Ok(Redrawn {
            fresh: vec![(name.clone(), words.treatment)],
            lettered: Some((name.clone(), lettering)),
            chosen: vec![name.clone()],
            may_cover: Some(on_purpose),
            ..Redrawn::of(design, Done::Lettered { name })
        })
    }

    /// A job of words alone, under the settings of another job or under the starting ones.
    ///
    /// # Errors
    ///
    /// Where the words cannot be set, or the settings do not suit them.
    pub fn of_words(words: Words, settings: Option<&Job>) -> Result<Job, Rejected> {
        let Words { lettering, treatment } = words;
        let design = lettering.design(Fonts::of_machine())?;
        let name = design.elements.first().map(|element| element.name.clone()).unwrap_or_default();
        let design = Arc::new(design);
        let mut job =
            settings.map_or_else(|| Job::new(design.clone()), |job| job.for_drawing(design.clone()));
        job.carvings = vec![Carving::from(treatment); job.carvings.len()];
        job.lettering.insert(name, lettering);
        job.check()?;
        Ok(job)
    }
}

fn combined(design: &Design, chosen: &[usize], names: Vec<String>) -> Result<Redrawn, Rejected> {
    // The library names it by its place in the design; a hand means the one chosen first.
    let lowest = chosen.iter().min().map(|&index| design.elements[index].name.clone());
    let combined = design.combined(chosen);
    let place = combined.elements.iter().position(|element| Some(&element.name) == lowest.as_ref());
    let (first, count) = (names.into_iter().next().ok_or(Rejected::TooFew { needed: 2 })?, chosen.len());
    let combined = place.map_or(combined.clone(), |place| combined.renamed(place, &first));
    Ok(Redrawn {
        chosen: vec![first.clone()],
        unlettered: vec![first.clone()],
        ..Redrawn::of(combined, Done::Combined { count, name: first })
    })
}

/// Each element in its pieces.
fn split(design: &Design, chosen: &[usize], names: Vec<String>) -> Result<Redrawn, Rejected> {
    let (split, pieces) = design.split(chosen);
    if pieces.is_empty() {
        return Err(Rejected::OnePiece);
    }
    if split.elements.len() > MAX_ELEMENTS {
        return Err(Rejected::TooManyPieces { elements: split.elements.len(), most: MAX_ELEMENTS });
    }
    let chosen = pieces.iter().map(|[piece, _]| piece.clone()).collect();
    let count = pieces.len();
    Ok(Redrawn {
        pieces,
        chosen,
        unlettered: names.clone(),
        ..Redrawn::of(split, Done::Split { names, pieces: count })
    })
}

/// Elements made so many times as large.
fn resized(
    design: &Design,
    elements: &[usize],
    names: Vec<String>,
    factor: f64,
) -> Result<Redrawn, Rejected> {
    if !FACTORS.contains(&factor) {
        return Err(Rejected::Factor { factor });
    }
    Ok(Redrawn {
        unlettered: names.clone(),
        may_cover: Some(Vec::new()),
        ..Redrawn::of(design.resized(elements, factor)?, Done::Resized { names, factor })
    })
}

/// The outlines of elements moved outwards, or inwards, as drawn. An element of which nothing is left has a notice.
fn grown(design: &Design, elements: &[usize], names: Vec<String>, by: Mm) -> Result<Redrawn, Rejected> {
    Ok(Redrawn {
        unlettered: names.clone(),
        may_cover: Some(names.clone()),
        ..Redrawn::of(design.grown(elements, by)?, Done::Grown { names, outwards: by > Mm::ZERO })
    })
}

/// The others with a margin taken out of the first.
fn cut_out(
    design: &Design,
    chosen: &[usize],
    names: Vec<String>,
    margin: Mm,
    keep: bool,
) -> Result<Redrawn, Rejected> {
    let (&from, tools) = chosen.split_first().ok_or(Rejected::TooFew { needed: 2 })?;
    let mut names = names.into_iter();
    let name = names.next().unwrap_or_default();
    let mut cut = design.clone();
    for &tool in tools {
        cut = cut.subtracted(from, tool, margin).map_err(|error| match error {
            DesignError::NothingToCarve { .. } => Rejected::NothingLeft { name: name.clone() },
            error => Rejected::Design(error),
        })?;
    }
    let cut = if keep { cut } else { cut.without(tools).map_err(last_stays)? };
    Ok(Redrawn {
        unlettered: vec![name.clone()],
        chosen: vec![name.clone()],
        may_cover: keep.then(Vec::new),
        ..Redrawn::of(cut, Done::CutOut { names: names.collect(), from: name })
    })
}

/// Why elements cannot be taken out.
fn last_stays(error: DesignError) -> Rejected {
    match error {
        DesignError::NothingToCarve { .. } => Rejected::LastElement,
        error => Rejected::Design(error),
    }
}

/// Words as they are carved, at drawn size; with one over the factor, the other way round.
pub fn at_drawn_size(lettering: &Lettering, factor: f64) -> Lettering {
    Lettering {
        cap_height: lettering.cap_height / factor,
        spacing: lettering.spacing / factor,
        arc: lettering.arc.map(|radius| radius / factor),
        ..lettering.clone()
    }
}

/// How far the words that are there were moved from where their lettering alone would set them.
fn shift_of(bounds: Option<Rect>, lettering: Option<&Lettering>, fonts: &Fonts) -> Option<DVec2> {
    let set = lettering?.design(fonts).ok()?;
    Some(bounds?.center() - set.outline_box().center())
}
