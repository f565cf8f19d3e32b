//! Designs made of designs: elements renamed, combined, mirrored, repeated; a border, a ground, words
//! added. All of it leaves the design it starts from alone.
//!
//! What comes out keeps what a [`Design`] promises: elements that would overlap are settled in paint
//! order, the later on top, as if they had been read from one drawing. Elements are named by their place
//! in [`Design::elements`]; a place there is none at is left alone.

use super::layering::{self, Piece, tidy, unique};
use super::outline::{Drawing, Rings, rounded_rectangle, tolerance};
use super::{Design, DesignError, Element};
use crate::geometry::{FillRule, Rect, Region};
use crate::notice::Notice;
use crate::units::Mm;
use glam::{DVec2, dvec2};
use std::collections::BTreeSet;

/// The line a design is mirrored in, through the middle of its outlines.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Mirror {
    /// Upright: left and right change places.
    Upright,
    /// Level: top and bottom change places.
    Level,
}

/// Pieces and holes too small to be meant, see [`Design::specks`].
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Specks {
    /// How many.
    pub count: usize,
    /// Their area in all, in square millimetres at drawn size.
    pub area: f64,
}

/// A piece smaller than a square this part of the design's longer side across is a speck: 0.15 mm on a
/// sign of 300 mm, less than any cutter leaves (common practice, no source).
const SPECK_PARTS: f64 = 2_000.0;

/// A piece thinner than this part of the longer side is a sliver: 15 µm on a sign of 300 mm, left where
/// outlines nearly coincide.
const SLIVER_PARTS: f64 = 20_000.0;

/// What becomes of one element on the way to another design.
struct Part {
    name: String,
    /// Outlines whose left is inside, in millimetres; each is filled by itself.
    shapes: Vec<Vec<Vec<DVec2>>>,
}

impl Part {
    fn of(element: &Element) -> Part {
        Part { name: element.name.clone(), shapes: vec![rings_of(&element.region, |p| p)] }
    }
}

fn rings_of(region: &Region, map: impl Fn(DVec2) -> DVec2) -> Vec<Vec<DVec2>> {
    region.rings().map(|ring| ring.points().map(&map).collect()).collect()
}

impl Design {
    /// The design with one element called something else; made unique and one line where it is not.
    #[must_use]
    pub fn renamed(&self, element: usize, name: &str) -> Design {
        let mut design = self.clone();
        let others = design.elements.iter().enumerate().filter(|(index, _)| *index != element);
        let mut taken: BTreeSet<String> = others.map(|(_, other)| other.name.clone()).collect();
        if let Some(element) = design.elements.get_mut(element) {
            element.name = unique(&tidy(name), &mut taken);
        }
        design
    }

    /// The design without some of its elements: hidden, or cut out. What they covered stays cut away.
    ///
    /// Hiding is this and not [`Treatment::Left`](crate::job::Treatment): what is left alone still stands
    /// on the board, and what is hidden is not there. A job for what is shown is
    /// `job.with_design(design.without(..))`, which keeps the treatments by name.
    pub fn without(&self, elements: &[usize]) -> Result<Design, DesignError> {
        let mut design = self.clone();
        let mut index = 0;
        design.elements.retain(|_| {
            index += 1;
            !elements.contains(&(index - 1))
        });
        if design.elements.is_empty() {
            return Err(DesignError::NothingToCarve { found: "no element is shown; show one" });
        }
        Ok(design)
    }

    /// The design with some elements made one, which takes the last one's place and the first one's name.
    #[must_use]
    pub fn combined(&self, elements: &[usize]) -> Design {
        let picked: Vec<&Element> = elements
            .iter()
            .collect::<BTreeSet<_>>()
            .into_iter()
            .filter_map(|&index| self.elements.get(index))
            .collect();
        let (Some(first), Some(last)) = (picked.first(), picked.last()) else { return self.clone() };
        let region = Region::union(self.grid, picked.iter().map(|element| &element.region));
        let mut design = self.clone();
        design.elements.retain(|element| {
            element.name == last.name || !picked.iter().any(|picked| picked.name == element.name)
        });
        if let Some(element) = design.elements.iter_mut().find(|element| element.name == last.name) {
            *element = Element { name: first.name.clone(), region };
        }
        design
    }

    /// The design with `tool`, and `margin` round it, taken away from element `from`. The tool stays.
    ///
    /// Elements do not overlap, so without a margin nothing changes but hairlines.
    pub fn subtracted(&self, from: usize, tool: usize, margin: Mm) -> Result<Design, DesignError> {
        let (Some(element), Some(tool)) = (self.elements.get(from), self.elements.get(tool)) else {
            return Ok(self.clone());
        };
        let region = element.region.minus(&tool.region.grown(margin.get().max(0.0)));
        if region.is_empty() {
            return Err(DesignError::NothingToCarve {
                found: "nothing is left of the element; take less away",
            });
        }
        let mut design = self.clone();
        design.elements[from].region = region;
        Ok(design)
    }

    /// The design with another added on top of it, moved by `at` millimetres. Names that are taken get a
    /// number. What the new elements cover is taken from those below.
    pub fn with(&self, other: &Design, at: DVec2) -> Result<Design, DesignError> {
        let mut parts: Vec<Part> = self.elements.iter().map(Part::of).collect();
        parts.extend(other.elements.iter().map(|element| Part {
            name: element.name.clone(),
            shapes: vec![rings_of(&element.region, |p| p + at)],
        }));
        let mut design = self.made_of(parts, self.page)?;
        design.notices.extend(other.notices.iter().cloned());
        Ok(design)
    }

    /// The design seen in a mirror through the middle of its outlines.
    pub fn mirrored(&self, mirror: Mirror) -> Result<Design, DesignError> {
        let center = self.outline_box().center();
        let flip = |p: DVec2| match mirror {
            Mirror::Upright => dvec2(2.0 * center.x - p.x, p.y),
            Mirror::Level => dvec2(p.x, 2.0 * center.y - p.y),
        };
        let part = |element: &Element| {
            let mut rings = rings_of(&element.region, flip);
            // Seen in a mirror, outlines run the other way round.
            for ring in &mut rings {
                ring.reverse();
            }
            Part { name: element.name.clone(), shapes: vec![rings] }
        };
        let parts = self.elements.iter().map(part).collect();
        self.made_of(parts, self.page.map(|page| Rect::new(flip(page.min), flip(page.max))))
    }

    /// The design with some elements, or all if none is named, repeated in rows: `columns` times along x
    /// and `rows` times along y, each copy `pitch` from the one before. An element's copies belong to it.
    pub fn repeated(
        &self,
        elements: &[usize],
        columns: u32,
        rows: u32,
        pitch: DVec2,
    ) -> Result<Design, DesignError> {
        let copies = u64::from(columns.max(1)) * u64::from(rows.max(1));
        if copies * self.segment_count() as u64 > super::MAX_SEGMENTS as u64 {
            return Err(DesignError::TooManySegments);
        }
        let steps = (0..rows.max(1)).flat_map(|row| (0..columns.max(1)).map(move |column| (row, column)));
        let steps: Vec<DVec2> =
            steps.map(|(row, column)| dvec2(f64::from(column), f64::from(row)) * pitch).collect();
        let part = |(index, element): (usize, &Element)| {
            let steps =
                if elements.is_empty() || elements.contains(&index) { &steps[..] } else { &steps[..1] };
            let shapes = steps.iter().map(|&step| rings_of(&element.region, |p| p + step)).collect();
            Part { name: element.name.clone(), shapes }
        };
        self.made_of(self.elements.iter().enumerate().map(part).collect(), self.page)
    }

    /// The design with a ground under it: an element called `ground` that reaches `margin` past the box
    /// round the outlines, its corners rounded by `corner`.
    pub fn with_ground(&self, margin: Mm, corner: Mm) -> Result<Design, DesignError> {
        let around = self.outline_box().grown(margin.get());
        let shape = vec![self.rounded(around, corner.get())];
        let mut parts = vec![Part { name: "ground".to_owned(), shapes: vec![shape] }];
        parts.extend(self.elements.iter().map(Part::of));
        self.made_of(parts, self.page)
    }

    /// The design with a border round it: an element called `border`, `width` wide, whose inner edge lies
    /// `margin` outside the box round the outlines. `corner` is the radius of its outer corners; the
    /// inner ones keep the width even.
    pub fn with_border(&self, margin: Mm, width: Mm, corner: Mm) -> Result<Design, DesignError> {
        let inner = self.outline_box().grown(margin.get());
        let mut hole = self.rounded(inner, corner.get() - width.get());
        hole.reverse();
        let shape = vec![self.rounded(inner.grown(width.get()), corner.get()), hole];
        let mut parts = vec![Part { name: "border".to_owned(), shapes: vec![shape] }];
        parts.extend(self.elements.iter().map(Part::of));
        self.made_of(parts, self.page)
    }

    fn rounded(&self, rect: Rect, corner: f64) -> Vec<DVec2> {
        rounded_rectangle(rect, corner, tolerance(rect.union(self.outline_box())))
    }

    /// Pieces and holes too small or too thin to be meant: a piece under a two-thousandth of the design's
    /// longer side across, or thinner than a twenty-thousandth of it. `O(n)`.
    pub fn specks(&self) -> Specks {
        let mut specks = Specks::default();
        let (least_area, thickness) = (self.speck_area(), self.sliver_thickness());
        for ring in self.elements.iter().flat_map(|element| element.region.rings()) {
            let length: f64 = ring.segments().map(|[a, b]| a.distance(b)).sum();
            let area = ring.signed_area().abs();
            if area < least_area || area < 0.5 * length * thickness {
                specks.count += 1;
                specks.area += area;
            }
        }
        specks
    }

    /// The design without its [specks](Self::specks): pieces are dropped, holes filled. An element that
    /// is nothing else goes with them, and a notice says so.
    pub fn without_specks(&self) -> Result<Design, DesignError> {
        let (area, thickness) = (self.speck_area(), self.sliver_thickness());
        let mut gone = Vec::new();
        let mut parts = Vec::new();
        for element in &self.elements {
            let region = element.region.clone().without_specks(area).without_slivers(thickness);
            if region.is_empty() {
                gone.push(format!("“{}”", element.name));
            } else {
                parts.push(Part { name: element.name.clone(), shapes: vec![rings_of(&region, |p| p)] });
            }
        }
        let mut design = self.made_of(parts, self.page)?;
        if !gone.is_empty() {
            design.notices.push(Notice::left_out(
                format!("{} had only specks and went with them", gone.join(", ")),
                "",
            ));
        }
        Ok(design)
    }

    fn speck_area(&self) -> f64 {
        (self.outline_box().size().max_element() / SPECK_PARTS).powi(2)
    }

    fn sliver_thickness(&self) -> f64 {
        self.outline_box().size().max_element() / SLIVER_PARTS
    }

    /// A design of these parts, under this one's name and with its notices.
    fn made_of(&self, parts: Vec<Part>, page: Option<Rect>) -> Result<Design, DesignError> {
        let mut taken = BTreeSet::new();
        let names = parts.iter().map(|part| unique(&tidy(&part.name), &mut taken)).collect();
        let pieces: Vec<Piece> = parts
            .into_iter()
            .enumerate()
            .flat_map(|(element, part)| part.shapes.into_iter().map(move |rings| (element, rings)))
            .map(|(element, rings)| {
                let rings = Rings { rings, rule: FillRule::NonZero };
                Piece { element, white: false, rings, clips: Vec::new() }
            })
            .collect();
        let points = pieces.iter().flat_map(|piece| piece.rings.rings.iter().flatten().copied());
        if let Some(extent) = Rect::around(points) {
            Drawing::check_extent(extent)?;
        }
        let settled = layering::settle(pieces, Vec::new(), names, None)?;
        let Some(grid) = settled.grid.filter(|_| !settled.elements.is_empty()) else {
            return Err(DesignError::NothingToCarve { found: "nothing is left of it" });
        };
        let mut notices = self.notices.clone();
        notices.extend(settled.notices);
        Ok(Design { name: self.name.clone(), elements: settled.elements, page, grid, notices })
    }
}
