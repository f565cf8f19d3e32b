//! Designs made of designs: elements renamed, combined, mirrored, repeated; a border, a ground, words
//! added. All of it leaves the design it starts from alone.
//!
//! What comes out keeps what a [`Design`] promises: elements that would overlap are settled in paint
//! order, the later on top, as if they had been read from one drawing. Elements are named by their place
//! in [`Design::elements`]; a place there is none at is left alone.

use super::layering::{self, FlatShape, Label, TakenNames, tidy, unique};
use super::origin::{self, MAX_GROUPS, Origin};
use super::outline::{Drawing, Rings, ellipse, rounded_rectangle, tolerance};
use super::{Design, DesignError, DrawingNotice, Element, Nothing};
use crate::geometry::{FillRule, Locator, Rect, Region, Ring};
use crate::units::Mm;
use glam::{DVec2, dvec2};
use std::collections::BTreeSet;

/// The line elements are mirrored in, through the middle of their outlines.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Mirror {
    /// Upright: left and right change places.
    Upright,
    /// Level: top and bottom change places.
    Level,
}

/// The outline of a ground, and of a border.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum PlateShape {
    /// A rectangle whose corners are round by this radius.
    Rectangle {
        /// The radius; at most half the shorter side counts.
        corner: Mm,
    },
    /// A rectangle of this size about the middle of the outlines, however large they are.
    Exactly {
        /// Across and up.
        size: [Mm; 2],
        /// The radius of its corners.
        corner: Mm,
    },
    /// The least ellipse round the box of the outlines, in its proportions, and as far past it as is asked for.
    Oval,
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

/// How far outside an edge its neighbour is looked for, as a part of the design's longer side: 3 µm on a
/// sign of 300 mm, far over the grid's rounding and far under anything carved.
const HEALING_STEP: f64 = 1e-5;

/// What becomes of one element on the way to another design.
struct Part {
    label: Label,
    /// Outlines whose left is inside, in millimetres; each is filled by itself.
    shapes: Vec<Vec<Vec<DVec2>>>,
}

impl Part {
    fn of(element: &Element) -> Part {
        Part::shaped(element, vec![rings_of(&element.region, |p| p)])
    }

    /// An element in another shape.
    fn shaped(element: &Element, shapes: Vec<Vec<Vec<DVec2>>>) -> Part {
        let label = Label { name: element.name.clone(), origin: element.origin.clone() };
        Part { label, shapes }
    }
}

/// Whether a list of elements names this one; an empty list names all.
fn is_named(elements: &[usize], index: usize) -> bool {
    elements.is_empty() || elements.contains(&index)
}

/// A region's pieces, each with its holes.
fn pieces_of(region: &Region) -> Vec<Region> {
    let mut pieces: Vec<Vec<Vec<DVec2>>> = Vec::new();
    for ring in region.rings() {
        let points = ring.points().collect();
        match pieces.last_mut() {
            Some(piece) if ring.hole => piece.push(points),
            _ => pieces.push(vec![points]),
        }
    }
    let grid = region.grid();
    pieces.iter().map(|rings| Region::clean(grid, rings, FillRule::NonZero)).collect()
}

fn rings_of(region: &Region, map: impl Fn(DVec2) -> DVec2) -> Vec<Vec<DVec2>> {
    region.rings().map(|ring| ring.points().map(&map).collect()).collect()
}

/// How an element looks, however it is turned.
struct Looks {
    rings: usize,
    holes: usize,
    area: f64,
    length: f64,
}

impl Design {
    /// The design with one element called something else; made unique and one line where it is not.
    #[must_use]
    pub fn renamed(&self, element: usize, name: &str) -> Design {
        let mut design = self.clone();
        let others = design.elements.iter().enumerate().filter(|(index, _)| *index != element);
        let mut taken = TakenNames::of(others.map(|(_, other)| other.name.clone()));
        if let Some(element) = design.elements.get_mut(element) {
            element.name = unique(&tidy(name), &mut taken);
        }
        design
    }

    /// The design without some of its elements: hidden, or cut out. What they covered stays cut away.
    ///
    /// Hiding is this and not [`Treatment::Left`](crate::job::Treatment): an element that is left still stands on
    /// the board, and a hidden one is not there. A job for what is shown is
    /// `job.with_design(design.without(..))`, which keeps the treatments by name.
    ///
    /// # Errors
    ///
    /// Where no element is left.
    pub fn without(&self, elements: &[usize]) -> Result<Design, DesignError> {
        let mut design = self.clone();
        let mut index = 0;
        design.elements.retain(|_| {
            index += 1;
            !elements.contains(&(index - 1))
        });
        if design.elements.is_empty() {
            return Err(DesignError::NothingToCarve { found: Nothing::AllInvisible });
        }
        Ok(design)
    }

    /// The design without some of its elements, as if they had never lain on it: what one of them covered
    /// goes back to the element below that surrounds it.
    ///
    /// What was covered is not known any more. A piece is taken to have lain on the topmost of the elements
    /// below it that more than half of its edge borders on; where there is none, nothing fills its place.
    ///
    /// # Errors
    ///
    /// Where no element is left.
    pub fn lifted(&self, elements: &[usize]) -> Result<Design, DesignError> {
        Design { elements: self.healed(elements), ..self.clone() }.without(elements)
    }

    /// The elements, with what those named covered given back to what surrounds it. `O(n log n)` in edges.
    fn healed(&self, elements: &[usize]) -> Vec<Element> {
        let step = self.outline_box().size().max_element() * HEALING_STEP;
        let mut healed = self.elements.clone();
        let lies_below = |index: usize| !elements.contains(&index) && elements.iter().any(|&e| e > index);
        let below: Vec<(usize, Locator)> = (0..self.elements.len())
            .filter(|&index| lies_below(index))
            .map(|index| (index, Locator::new(&self.elements[index].region)))
            .collect();
        let named: Vec<usize> = elements.iter().copied().filter(|&e| e < self.elements.len()).collect();
        let together = Region::union(self.grid, named.iter().map(|&index| &self.elements[index].region));
        for piece in pieces_of(&together) {
            let is_of = |index: &usize| !self.elements[*index].region.intersection(&piece).is_empty();
            let Some(lowest) = named.iter().copied().filter(is_of).min() else { continue };
            let edges: Vec<[DVec2; 2]> = piece.rings().flat_map(Ring::segments).collect();
            let length: f64 = edges.iter().map(|[a, b]| a.distance(*b)).sum();
            let borders = |locator: &Locator| {
                let beside = |&&[a, b]: &&[DVec2; 2]| {
                    // The piece lies to the left of its edges.
                    let out = (a - b).perp().normalize_or_zero() * step;
                    locator.contains(a.midpoint(b) + out)
                };
                edges.iter().filter(beside).map(|[a, b]| a.distance(*b)).sum::<f64>() > 0.5 * length
            };
            let under = below.iter().rev().find(|(index, locator)| *index < lowest && borders(locator));
            if let Some(&(index, _)) = under {
                healed[index].region = Region::union(self.grid, [&healed[index].region, &piece]);
            }
        }
        healed
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
            let color = origin::common(picked.iter().map(|element| element.origin.color));
            let groups = first.origin.groups.clone();
            *element = Element { name: first.name.clone(), region, origin: Origin { groups, color } };
        }
        design
    }

    /// The elements that are of the shape and size of one of these, those among them: as many outlines and holes, and
    /// area and length of outline within 1 %, a round value of our own. However they are turned or mirrored.
    pub fn alike(&self, to: &[usize]) -> Vec<usize> {
        const WITHIN: f64 = 0.01;
        let near = |a: f64, b: f64| (a - b).abs() <= WITHIN * a.max(b);
        let all: Vec<Looks> = self
            .elements
            .iter()
            .map(|Element { region, .. }| Looks {
                rings: region.rings().count(),
                holes: region.rings().filter(|ring| ring.hole).count(),
                area: region.area(),
                length: region.rings().flat_map(Ring::segments).map(|[a, b]| a.distance(b)).sum(),
            })
            .collect();
        let is_alike = |a: &Looks, b: &Looks| {
            (a.rings, a.holes) == (b.rings, b.holes) && near(a.area, b.area) && near(a.length, b.length)
        };
        let chosen: Vec<&Looks> = to.iter().filter_map(|&index| all.get(index)).collect();
        let is_wanted = |&index: &usize| chosen.iter().any(|other| is_alike(&all[index], other));
        (0..all.len()).filter(is_wanted).collect()
    }

    /// The design with each of some elements split into its pieces, from left to right: numbered, in the place of the
    /// whole, in a group of its name. Also the new names, each with the name of the element it was a piece of.
    pub fn split(&self, elements: &[usize]) -> (Design, Vec<[String; 2]>) {
        let mut taken: BTreeSet<String> = self.elements.iter().map(|element| element.name.clone()).collect();
        let mut pieces_of = Vec::new();
        let mut split = Vec::with_capacity(self.elements.len());
        for (index, element) in self.elements.iter().enumerate() {
            let mut pieces: Vec<Region> =
                if elements.contains(&index) { element.region.pieces().collect() } else { Vec::new() };
            if pieces.len() < 2 {
                split.push(element.clone());
                continue;
            }
            let corner = |piece: &Region| piece.bounds().map_or(DVec2::ZERO, |bounds| bounds.min);
            pieces.sort_by(|a, b| {
                let (a, b) = (corner(a), corner(b));
                a.x.total_cmp(&b.x).then(a.y.total_cmp(&b.y))
            });
            // The pieces are found again under the name of the whole.
            let mut origin = element.origin.clone();
            origin.groups.push(element.short_name().to_owned());
            origin.groups.truncate(MAX_GROUPS);
            let mut numbered = (1..).map(|number| format!("{} {number}", element.name));
            for region in pieces {
                let name = numbered.find(|name| taken.insert(name.clone())).unwrap_or_default();
                pieces_of.push([name.clone(), element.name.clone()]);
                split.push(Element { name, region, origin: origin.clone() });
            }
        }
        (Design { elements: split, ..self.clone() }, pieces_of)
    }

    /// The design with `tool`, and `margin` round it, taken away from element `from`. The tool stays.
    ///
    /// Elements do not overlap, so without a margin nothing changes but hairlines.
    ///
    /// # Errors
    ///
    /// Where nothing is left of the element.
    pub fn subtracted(&self, from: usize, tool: usize, margin: Mm) -> Result<Design, DesignError> {
        let (Some(element), Some(tool)) = (self.elements.get(from), self.elements.get(tool)) else {
            return Ok(self.clone());
        };
        let region = element.region.minus(&tool.region.grown(margin.get().max(0.0)));
        if region.is_empty() {
            return Err(DesignError::NothingToCarve { found: Nothing::ElementGone });
        }
        let mut design = self.clone();
        design.elements[from].region = region;
        Ok(design)
    }

    /// The design with another added on top of it, moved by `at` millimetres. Names that are taken get a
    /// number. What the new elements cover is taken from those below.
    ///
    /// # Errors
    ///
    /// Where the result is too large or small, has too many edges, or crosses itself too often to be cleaned; see
    /// [`DesignError`].
    pub fn with(&self, other: &Design, at: DVec2) -> Result<Design, DesignError> {
        let mut parts: Vec<Part> = self.elements.iter().map(Part::of).collect();
        let moved = |element| Part::shaped(element, vec![rings_of(&element.region, |p| p + at)]);
        parts.extend(other.elements.iter().map(moved));
        let mut design = self.made_of(parts, self.page)?;
        design.notices.extend(other.notices.iter().cloned());
        design.sharpness = match (self.sharpness, other.sharpness) {
            (Some(own), Some(added)) => Some(own.or_blunter(added)),
            (own, added) => own.or(added),
        };
        Ok(design)
    }

    /// The design with some elements, or all if none is named, seen in a mirror through the middle of the
    /// box round them; what they lay on is whole again where they lie no more.
    ///
    /// # Errors
    ///
    /// Where the result is too large or small, has too many edges, or crosses itself too often to be cleaned; see
    /// [`DesignError`].
    pub fn mirrored(&self, elements: &[usize], mirror: Mirror) -> Result<Design, DesignError> {
        let Some(around) = self.box_round(elements) else { return Ok(self.clone()) };
        let center = around.center();
        let flip = |p: DVec2| match mirror {
            Mirror::Upright => dvec2(2.0 * center.x - p.x, p.y),
            Mirror::Level => dvec2(p.x, 2.0 * center.y - p.y),
        };
        let healed = self.healed(elements);
        let part = |(index, element): (usize, &Element)| {
            if !is_named(elements, index) {
                return Part::of(&healed[index]);
            }
            let mut rings = rings_of(&element.region, flip);
            // Seen in a mirror, outlines run the other way round.
            for ring in &mut rings {
                ring.reverse();
            }
            Part::shaped(element, vec![rings])
        };
        let parts = self.elements.iter().enumerate().map(part).collect();
        let flipped = self.page.map(|page| Rect::new(flip(page.min), flip(page.max)));
        // A page belongs to the whole drawing.
        self.made_of(parts, if elements.is_empty() { flipped } else { self.page })
    }

    /// The design with some elements, or all if none is named, moved by so many millimetres; what they
    /// lay on is whole again where they lie no more.
    ///
    /// # Errors
    ///
    /// Where the result is too large or small, has too many edges, or crosses itself too often to be cleaned; see
    /// [`DesignError`].
    pub fn moved(&self, elements: &[usize], by: DVec2) -> Result<Design, DesignError> {
        self.placed_anew(elements, |p| p + by)
    }

    /// The design with some elements, or all if none is named, `factor` times as large about the middle of the box
    /// round them; what they lay on is whole again where they lie no more.
    ///
    /// # Errors
    ///
    /// Where the result is too large or small, has too many edges, or crosses itself too often to be cleaned; see
    /// [`DesignError`].
    pub fn resized(&self, elements: &[usize], factor: f64) -> Result<Design, DesignError> {
        let Some(around) = self.box_round(elements) else { return Ok(self.clone()) };
        let center = around.center();
        self.placed_anew(elements, |p| center + (p - center) * factor)
    }

    /// The design with every point of some elements, or of all if none is named, at another place.
    fn placed_anew(&self, elements: &[usize], place: impl Fn(DVec2) -> DVec2) -> Result<Design, DesignError> {
        let healed = self.healed(elements);
        let part = |(index, element): (usize, &Element)| {
            if is_named(elements, index) {
                Part::shaped(element, vec![rings_of(&element.region, &place)])
            } else {
                Part::of(element)
            }
        };
        self.made_of(healed.iter().enumerate().map(part).collect(), self.page)
    }

    /// The box round some elements, or all if none is named; `None` where no such element is there.
    pub fn box_round(&self, elements: &[usize]) -> Option<Rect> {
        let named = self.elements.iter().enumerate().filter(|(index, _)| is_named(elements, *index));
        named.filter_map(|(_, element)| element.region.bounds()).reduce(Rect::union)
    }

    /// The design with some elements, or all if none is named, repeated in rows: `columns` times along x
    /// and `rows` times along y, each copy `pitch` from the one before. An element's copies belong to it.
    ///
    /// # Errors
    ///
    /// Where the result is too large or small, has too many edges, or crosses itself too often to be cleaned; see
    /// [`DesignError`].
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
            let steps = if is_named(elements, index) { &steps[..] } else { &steps[..1] };
            let shapes = steps.iter().map(|&step| rings_of(&element.region, |p| p + step)).collect();
            Part::shaped(element, shapes)
        };
        self.made_of(self.elements.iter().enumerate().map(part).collect(), self.page)
    }

    /// The design with a ground under it: an element called `ground` that reaches `margin` past the box
    /// round the outlines.
    ///
    /// # Errors
    ///
    /// Where the result is too large or small, has too many edges, or crosses itself too often to be cleaned; see
    /// [`DesignError`].
    pub fn with_ground(&self, margin: Mm, shape: PlateShape) -> Result<Design, DesignError> {
        let shape = vec![self.plate(margin, Mm::ZERO, shape)];
        self.made_of(self.parts_on("ground", shape), self.page)
    }

    /// The design with a border round it: an element called `border`, `width` wide, whose inner edge lies
    /// `margin` outside the box round the outlines. A corner's radius is that of the outer edge; the inner one keeps
    /// the width even. An oval is `width` wide at its four ends, and hardly more or less between them.
    ///
    /// # Errors
    ///
    /// Where the result is too large or small, has too many edges, or crosses itself too often to be cleaned; see
    /// [`DesignError`].
    pub fn with_border(&self, margin: Mm, width: Mm, shape: PlateShape) -> Result<Design, DesignError> {
        let inner = match shape {
            PlateShape::Rectangle { corner } => PlateShape::Rectangle { corner: corner - width },
            PlateShape::Exactly { size, corner } => {
                PlateShape::Exactly { size: size.map(|side| side - width * 2.0), corner: corner - width }
            }
            PlateShape::Oval => PlateShape::Oval,
        };
        let mut hole = self.plate(margin, Mm::ZERO, inner);
        hole.reverse();
        let shape = vec![self.plate(margin, width, shape), hole];
        self.made_of(self.parts_on("border", shape), self.page)
    }

    /// Everything there is on top of a new element. Where the new one's name is taken it gets a number, and
    /// the others keep theirs.
    fn parts_on(&self, name: &str, shape: Vec<Vec<DVec2>>) -> Vec<Part> {
        let mut taken = TakenNames::of(self.elements.iter().map(|element| element.name.clone()));
        let below = Part { label: Label::new(unique(name, &mut taken)), shapes: vec![shape] };
        std::iter::once(below).chain(self.elements.iter().map(Part::of)).collect()
    }

    /// A shape round the box of the outlines, `margin` and `width` past it, counter-clockwise.
    fn plate(&self, margin: Mm, width: Mm, shape: PlateShape) -> Vec<DVec2> {
        let (around, past) = (self.outline_box(), (margin + width).get());
        match shape {
            PlateShape::Rectangle { corner } => {
                let rect = around.grown(past);
                rounded_rectangle(rect, corner.get(), tolerance(rect.union(around)))
            }
            PlateShape::Exactly { size: [across, up], corner } => {
                let (middle, half) = (0.5 * (around.min + around.max), dvec2(across.get(), up.get()) * 0.5);
                let rect = Rect::new(middle - half, middle + half);
                rounded_rectangle(rect, corner.get(), tolerance(rect.union(around)))
            }
            PlateShape::Oval => {
                // Through the corners of the box: of all such ellipses the one of the least area.
                let radii = around.size() * 0.5 * std::f64::consts::SQRT_2 + DVec2::splat(past);
                let middle = 0.5 * (around.min + around.max);
                ellipse(middle, radii, tolerance(Rect::new(middle - radii, middle + radii)))
            }
        }
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
    ///
    /// # Errors
    ///
    /// Where nothing is left but specks.
    pub fn without_specks(&self) -> Result<Design, DesignError> {
        let (area, thickness) = (self.speck_area(), self.sliver_thickness());
        let mut gone = Vec::new();
        let mut parts = Vec::new();
        for element in &self.elements {
            let region = element.region.clone().without_specks(area).without_slivers(thickness);
            if region.is_empty() {
                gone.push(DrawingNotice::OnlySpecks { element: element.name.clone() });
            } else {
                parts.push(Part::shaped(element, vec![rings_of(&region, |p| p)]));
            }
        }
        let mut design = self.made_of(parts, self.page)?;
        design.notices.retain(|notice| !matches!(notice, DrawingNotice::Specks { .. }));
        design.notices.extend(gone);
        Ok(design)
    }

    /// The design with every detail of these elements that is finer than `finest` smoothed away: slits narrower than that
    /// are filled, what is thinner goes, and corners turn round by half of it. An element of which nothing is left goes,
    /// and a notice says so. Offsets of each outline: `O(n log n)` in their edges.
    ///
    /// # Errors
    ///
    /// Where nothing is left.
    pub fn smoothed(&self, elements: &[usize], finest: Mm) -> Result<Design, DesignError> {
        let radius = finest.get() / 2.0;
        // Closed, then opened, as with a disc of that radius.
        let smoothed = |region: &Region| region.grown(radius).grown(-2.0 * radius).grown(radius);
        self.with_regions(&self.elements, elements, smoothed)
    }

    /// The design with the outlines of these elements moved outwards by so much, or inwards where it is negative; what
    /// they lay on is whole again where they lie no more. Parts and gaps narrower than twice that go; an element of which
    /// nothing is left goes, and a notice says so. `O(n log n)` in their edges.
    ///
    /// # Errors
    ///
    /// Where nothing is left, or the result is too large.
    pub fn grown(&self, elements: &[usize], by: Mm) -> Result<Design, DesignError> {
        self.with_regions(&self.healed(elements), elements, |region| region.grown(by.get()))
    }

    /// The design of these elements, with those at some places drawn anew.
    fn with_regions(
        &self,
        all: &[Element],
        places: &[usize],
        redraw: impl Fn(&Region) -> Region,
    ) -> Result<Design, DesignError> {
        let mut gone = Vec::new();
        let mut parts = Vec::new();
        for (index, element) in all.iter().enumerate() {
            if !places.contains(&index) {
                parts.push(Part::of(element));
                continue;
            }
            let region = redraw(&element.region);
            if region.is_empty() {
                gone.push(DrawingNotice::OnlySpecks { element: element.name.clone() });
            } else {
                parts.push(Part::shaped(element, vec![rings_of(&region, |p| p)]));
            }
        }
        let mut design = self.made_of(parts, self.page)?;
        design.notices.extend(gone);
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
        let mut taken = TakenNames::default();
        let label = |Part { label: Label { name, origin }, .. }: &Part| Label {
            name: unique(&tidy(name), &mut taken),
            origin: origin.clone(),
        };
        let labels = parts.iter().map(label).collect();
        let shapes: Vec<FlatShape> = parts
            .into_iter()
            .enumerate()
            .flat_map(|(element, part)| part.shapes.into_iter().map(move |rings| (element, rings)))
            .map(|(element, rings)| {
                let rings = Rings { rings, rule: FillRule::NonZero };
                FlatShape { element, white: false, rings, clips: Vec::new() }
            })
            .collect();
        let points = shapes.iter().flat_map(|shape| shape.rings.rings.iter().flatten().copied());
        if let Some(extent) = Rect::around(points) {
            Drawing::check_extent(extent)?;
        }
        let settled = layering::settle(shapes, Vec::new(), labels, None)?;
        let Some(grid) = settled.grid.filter(|_| !settled.elements.is_empty()) else {
            return Err(DesignError::NothingToCarve { found: Nothing::AllGone });
        };
        let mut notices = self.notices.clone();
        notices.extend(settled.notices);
        Ok(Design {
            name: self.name.clone(),
            elements: settled.elements,
            page,
            grid,
            notices,
            sharpness: self.sharpness,
        })
    }
}
