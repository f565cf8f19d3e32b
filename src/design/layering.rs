//! From flat rings to elements that do not overlap: names, white, painter's order.

use super::origin::{self, GROUP_IN_GROUP, MAX_GROUPS, Origin};
use super::outline::{Drawing, Rings, tolerance};
use super::painted::{Run, uncovered};
use super::{DesignError, DrawingNotice, Element, MAX_ELEMENTS};
use crate::geometry::{Grid, Rect, Region, sampled_pairs, segments_cross};
use crate::notice::Notices;
use crate::units::Mm;
use glam::DVec2;
use std::collections::{BTreeMap, BTreeSet};
use std::rc::Rc;

/// The name of the element that holds everything in no group with an id.
pub(super) const REST: &str = "outline";

/// The longest element name, in characters.
const LONGEST_NAME: usize = 60;

/// The most edges put through the overlay engine in all, some 10 s of work at 400 ns an edge. Honest
/// drawings pass each edge through it three or four times.
const MAX_WORK: usize = 25_000_000;

/// The most crossings expected in a drawing before it is refused. Measured: a million take 12 s, and
/// more than in proportion beyond.
const MAX_CROSSINGS: usize = 500_000;

/// The most crossings expected in a drawing on a grid as fine as it can be. A round value of our own: on such a grid
/// 300 bars a thousandth of a millimetre apart, which cross 135,000 times, take a minute, and 4 s on the coarser one.
const MANY_CROSSINGS: usize = 10_000;

/// The steps of a coarser grid to the tolerance of curves, before a step is rounded up to a power of two: it comes to
/// 0.0005 mm at most. A round value of our own.
const STEPS_OF_TOLERANCE: f64 = 16.0;

/// The most crossings expected of edges that lie along each other. Measured in a dev build: 50 bars a millionth of a
/// millimetre apart, which cross 2,450 times, take 29 s, and 0.1 s on a lattice of 0.005 mm.
const MOST_COINCIDENT: usize = 500;

/// What an element is called, and where it comes from.
#[derive(Clone)]
pub(super) struct Label {
    pub name: String,
    pub origin: Origin,
}

impl Label {
    /// Of no group and no colour.
    pub(super) fn new(name: String) -> Label {
        Label { name, origin: Origin::default() }
    }
}

/// Which element each shape belongs to, and what the elements are called.
pub(super) struct Naming {
    /// For each shape, an index into `labels`.
    pub element_of: Vec<usize>,
    pub labels: Vec<Label>,
    /// Set where there are too many ids to follow.
    pub notice: Option<DrawingNotice>,
}

impl Naming {
    /// Applies the rule in the module's page: outermost id, wrappers skipped, then layers by their names.
    pub(super) fn of(drawing: &Drawing) -> Naming {
        let trails: Vec<&[usize]> = drawing.shapes.iter().map(|shape| shape.trail.as_slice()).collect();
        let mut depth = 0;
        while let Some(first) = trails.first().and_then(|trail| trail.get(depth))
            && trails.iter().all(|trail| trail.get(depth) == Some(first))
            && trails.iter().any(|trail| trail.len() > depth + 1)
        {
            depth += 1;
        }
        // A layer in a layer is an element of its own, unless all it does is to cut away.
        let painted: BTreeSet<usize> = drawing
            .shapes
            .iter()
            .filter(|shape| !shape.white)
            .flat_map(|shape| &shape.trail)
            .copied()
            .collect();
        let is_layer = |index: &usize| drawing.layers.contains(index) && painted.contains(index);
        let by_layer = |trail: &&[usize]| -> Vec<usize> {
            let inner = trail.iter().skip(depth + 1).filter(|index| is_layer(index));
            trail.get(depth).into_iter().chain(inner).copied().collect()
        };
        let outermost = |trail: &&[usize]| trail.get(depth).copied().into_iter().collect();
        let count = |keys: &[Vec<usize>]| keys.iter().collect::<BTreeSet<_>>().len();
        let mut notice = None;
        let mut keys: Vec<Vec<usize>> = trails.iter().map(by_layer).collect();
        if count(&keys) > MAX_ELEMENTS {
            keys = trails.iter().map(outermost).collect();
        }
        if count(&keys) > MAX_ELEMENTS {
            notice = Some(DrawingNotice::TooManyParts { parts: count(&keys) });
            let wrapper =
                |trail: &&[usize]| depth.checked_sub(1).map(|depth| trail[depth]).into_iter().collect();
            keys = trails.iter().map(wrapper).collect();
        }

        // Elements are numbered by their first paint.
        let mut order: Vec<&[usize]> = Vec::new();
        let mut places: BTreeMap<&[usize], usize> = BTreeMap::new();
        let element_of: Vec<usize> = keys
            .iter()
            .map(|key| {
                *places.entry(key).or_insert_with(|| {
                    order.push(key);
                    order.len() - 1
                })
            })
            .collect();
        let labels = labels(drawing, &order, &element_of);
        Naming { element_of, labels, notice }
    }
}

/// The labels of elements, by the named things that make them: `order` has those of each, outermost first.
fn labels(drawing: &Drawing, order: &[&[usize]], element_of: &[usize]) -> Vec<Label> {
    let mut colors = vec![Vec::new(); order.len()];
    for (shape, &element) in drawing.shapes.iter().zip(element_of) {
        colors[element].push((shape.white, shape.color));
    }
    // What is in an element that others are in too is its group's own. In order, what is in a group follows it.
    let mut sorted = order.to_vec();
    sorted.sort_unstable();
    let is_within = |pair: &&[&[usize]]| !pair[0].is_empty() && pair[1].starts_with(pair[0]);
    let groups: BTreeSet<&[usize]> = sorted.windows(2).filter(is_within).map(|pair| pair[0]).collect();
    let mut taken = TakenNames::default();
    // Two groups of one name stay two.
    let mut taken_groups = TakenNames::default();
    let mut group_names: BTreeMap<usize, String> = BTreeMap::new();
    let mut label = |(key, painted): (&&[usize], &Vec<_>)| {
        let is_group = groups.contains(key);
        let within = if is_group { *key } else { &key[..key.len().saturating_sub(1)] };
        let mut names: Vec<String> = within
            .iter()
            .take(MAX_GROUPS)
            .map(|&index| {
                let name = group_names.entry(index);
                name.or_insert_with(|| unique(&tidy(&drawing.names[index]), &mut taken_groups)).clone()
            })
            .collect();
        let groups = names.clone();
        if !is_group {
            names.extend(key.last().map(|&index| tidy(&drawing.names[index])));
        }
        // White only cuts away, unless there is nothing else.
        let all_white = painted.iter().all(|(white, _)| *white);
        let colors = painted.iter().filter(|(white, _)| all_white || !white).map(|(_, color)| *color);
        let origin = Origin { groups, color: origin::common(colors) };
        Label { name: unique(&tidy(&names.join(GROUP_IN_GROUP)), &mut taken), origin }
    };
    order.iter().zip(&colors).map(&mut label).collect()
}

/// One line, no blanks at its ends, not too long, not empty.
pub(super) fn tidy(id: &str) -> String {
    let spaced: String = id.chars().map(|c| if c.is_control() { ' ' } else { c }).collect();
    let short: String = spaced.trim().chars().take(LONGEST_NAME).collect();
    let short = short.trim();
    if short.is_empty() { REST.to_owned() } else { short.to_owned() }
}

/// Names that are taken, and from which number on one that is wanted again may be free: thousands may want the same.
#[derive(Default)]
pub(super) struct TakenNames {
    names: BTreeSet<String>,
    next: BTreeMap<String, u32>,
}

impl TakenNames {
    pub(super) fn of(names: impl Iterator<Item = String>) -> TakenNames {
        TakenNames { names: names.collect(), next: BTreeMap::new() }
    }
}

/// A name, with the first number that makes it its own where it is taken.
pub(super) fn unique(wanted: &str, taken: &mut TakenNames) -> String {
    let mut name = wanted.to_owned();
    if !taken.names.insert(name.clone()) {
        let number = taken.next.entry(name.clone()).or_insert(2);
        loop {
            name = format!("{wanted} {number}");
            *number += 1;
            if taken.names.insert(name.clone()) {
                break;
            }
        }
    }
    name
}

/// A shape ready to be cleaned.
pub(super) struct FlatShape {
    pub element: usize,
    pub white: bool,
    pub rings: Rings,
    pub clips: Vec<usize>,
}

/// A clip ready to be cleaned: rings, and the clips before it that hold for them.
pub(super) struct FlatClip(pub Vec<(Rings, Vec<usize>)>);

/// Counts the work given to the overlay engine.
pub(super) struct Work(pub usize);

impl Work {
    pub(super) fn add(&mut self, segments: usize) -> Result<(), DesignError> {
        self.0 += segments;
        if self.0 > MAX_WORK { Err(DesignError::Tangled) } else { Ok(()) }
    }

    /// Several regions as one; one by itself is no work.
    pub(super) fn union<'a>(
        &mut self,
        grid: Grid,
        regions: impl IntoIterator<Item = &'a Region>,
    ) -> Result<Region, DesignError> {
        let regions: Vec<&Region> = regions.into_iter().collect();
        if regions.len() > 1 {
            self.add(regions.iter().map(|region| region.segment_count()).sum())?;
        }
        Ok(Region::union(grid, regions))
    }
}

/// What the shapes leave of each element, on one grid.
pub(super) struct Settled {
    pub elements: Vec<Element>,
    pub notices: Notices<DrawingNotice>,
    pub grid: Option<Grid>,
}

/// Cleans all shapes on one grid and settles which place belongs to which element.
pub(super) fn settle(
    mut shapes: Vec<FlatShape>,
    mut clips: Vec<FlatClip>,
    labels: Vec<Label>,
    page: Option<Rect>,
) -> Result<Settled, DesignError> {
    let rings: Vec<&[DVec2]> =
        shapes.iter().flat_map(|shape| &shape.rings.rings).map(Vec::as_slice).collect();
    let lie = check_crossings(&rings)?;
    let points = shapes.iter().flat_map(|shape| shape.rings.rings.iter().flatten().copied());
    let Some(mut bounds) = Rect::around(points) else {
        return Ok(Settled { elements: Vec::new(), notices: Notices::new(), grid: None });
    };
    let mut notices = Notices::new();
    if lie == EdgesLie::NearlyCoincident {
        let step = tolerance(bounds);
        set_on_lattice(step, shapes.iter_mut().flat_map(|shape| &mut shape.rings.rings));
        let clipping = clips.iter_mut().flat_map(|clip| &mut clip.0);
        set_on_lattice(step, clipping.flat_map(|(rings, _)| &mut rings.rings));
        bounds = bounds.grown(step);
        notices.push(DrawingNotice::NearlyCoincident { step: Mm::new(step) });
    }
    let grid = match lie {
        EdgesLie::Tangled => Grid::no_finer_than(tolerance(bounds) / STEPS_OF_TOLERANCE, bounds),
        EdgesLie::Apart | EdgesLie::NearlyCoincident => Grid::covering(bounds),
    };
    let mut work = Work(0);
    let clips = clip_regions(grid, clips, &mut work)?;

    let colored: BTreeSet<usize> =
        shapes.iter().filter(|shape| !shape.white).map(|shape| shape.element).collect();
    let cutting = shapes.iter().filter(|shape| shape.white && colored.contains(&shape.element)).count();
    let runs = runs(grid, shapes, &clips, &colored, &mut work)?;
    notices.push_count(cutting, |count| DrawingNotice::WhiteShapes { count });

    let remaining = uncovered(grid, &runs, labels.len(), &mut work)?;
    let mut elements = Vec::new();
    for (element, (Label { name, origin }, parts)) in labels.into_iter().zip(remaining).enumerate() {
        let region = work.union(grid, &parts)?;
        let all_white = !colored.contains(&element);
        let is_page =
            all_white && !colored.is_empty() && page.is_some_and(|page| covers(&runs, element, page));
        if is_page {
            notices.push(DrawingNotice::WhitePage { element: name });
        } else if region.is_empty() || region.area() <= 0.0 {
            notices.push(DrawingNotice::EmptyElement { element: name });
        } else {
            elements.push(Element { name, region, origin });
        }
    }
    Ok(Settled { elements, notices, grid: Some(grid) })
}

fn clip_regions(grid: Grid, clips: Vec<FlatClip>, work: &mut Work) -> Result<Vec<Region>, DesignError> {
    let mut regions: Vec<Region> = Vec::with_capacity(clips.len());
    for FlatClip(shapes) in clips {
        let mut parts = Vec::with_capacity(shapes.len());
        for (rings, within) in shapes {
            parts.push(cleaned(grid, &rings, &within, &regions, work)?);
        }
        regions.push(work.union(grid, &parts)?);
    }
    Ok(regions)
}

fn cleaned(
    grid: Grid,
    rings: &Rings,
    clips: &[usize],
    regions: &[Region],
    work: &mut Work,
) -> Result<Region, DesignError> {
    work.add(rings.rings.iter().map(Vec::len).sum())?;
    let mut region = Region::clean(grid, &rings.rings, rings.rule);
    for &clip in clips {
        if region.is_empty() {
            break;
        }
        let clip = &regions[clip];
        work.add(region.segment_count() + clip.segment_count())?;
        region = region.intersection(clip);
    }
    Ok(region)
}

fn runs(
    grid: Grid,
    shapes: Vec<FlatShape>,
    clips: &[Region],
    colored: &BTreeSet<usize>,
    work: &mut Work,
) -> Result<Vec<Run>, DesignError> {
    let mut runs: Vec<Run> = Vec::new();
    let mut parts: Vec<Region> = Vec::new();
    let mut shapes = shapes.into_iter().peekable();
    while let Some(shape) = shapes.next() {
        let (element, cuts) = (shape.element, shape.white && colored.contains(&shape.element));
        parts.push(cleaned(grid, &shape.rings, &shape.clips, clips, work)?);
        let goes_on = shapes.peek().is_some_and(|next| {
            next.element == element && (next.white && colored.contains(&element)) == cuts
        });
        if goes_on {
            continue;
        }
        let region = work.union(grid, &parts)?;
        parts.clear();
        let bounds = region.bounds();
        runs.push(Run { element, cuts, region: Rc::new(region), bounds });
    }
    Ok(runs)
}

/// Whether one plain rectangle of an element covers the page, give or take a thousandth of it.
fn covers(runs: &[Run], element: usize, page: Rect) -> bool {
    let slack = page.size().max_element() * 1e-3;
    runs.iter().filter(|run| run.element == element).any(|run| {
        let around = run.bounds.is_some_and(|bounds| {
            let bounds = bounds.grown(slack);
            bounds.min.cmple(page.min).all() && bounds.max.cmpge(page.max).all()
        });
        let size = page.size();
        around && run.region.area() >= size.x * size.y * 0.995
    })
}

/// How the edges of outlines lie that may be cleaned.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum EdgesLie {
    /// Few cross, and those that do at an angle.
    Apart,
    /// Tens of thousands cross. On a fine grid that can take minutes: each crossing that is moved to the grid turns its
    /// edges a little, and where they lie almost along each other that makes new ones.
    Tangled,
    /// Hundreds cross others that they lie along, less than a flattened curve strays: on a fine grid each pair becomes
    /// a staircase, and all of them take minutes.
    NearlyCoincident,
}

/// Refuses outlines whose edges cross each other too often to be cleaned.
///
/// A sample of pairs of edges is tried; the part of them that cross, times all pairs, is what the
/// overlay engine would have to find and store. The sample is the same on every run. It is too small to
/// notice a few million crossings among a million edges, which take a minute.
pub(crate) fn check_crossings(rings: &[&[DVec2]]) -> Result<EdgesLie, DesignError> {
    let mut ends = Vec::with_capacity(rings.len());
    let mut total = 0;
    for ring in rings {
        total += ring.len();
        ends.push(total);
    }
    let pairs = total * total / 2;
    let Some(bounds) = Rect::around(rings.iter().copied().flatten().copied()) else {
        return Ok(EdgesLie::Apart);
    };
    if pairs < MOST_COINCIDENT {
        return Ok(EdgesLie::Apart);
    }
    let along = tolerance(bounds);
    // A drawing at the limit gives about a thousand hits.
    let samples = (pairs / (MAX_CROSSINGS / 1000)).clamp(1_000, 1_000_000);
    let edge = |index: usize| {
        let ring = ends.partition_point(|&end| end <= index);
        let points = rings[ring];
        let at = index - (ends[ring] - points.len());
        [points[at], points[(at + 1) % points.len()]]
    };
    let (mut crossing, mut coincident) = (0, 0);
    for [one, other] in sampled_pairs(total).take(samples) {
        let [[a, b], [c, d]] = [edge(one), edge(other)];
        if segments_cross([a, b], [c, d]) {
            crossing += 1;
            let longer = (b - a).length().max((d - c).length());
            coincident += usize::from((b - a).perp_dot(d - c).abs() < along * longer);
        }
    }
    // Few hits say nothing about so many pairs.
    let is_more =
        |hits: usize, most: usize| hits >= 10 && hits as f64 / samples as f64 * pairs as f64 > most as f64;
    if is_more(crossing, MAX_CROSSINGS) {
        return Err(DesignError::Tangled);
    }
    Ok(if is_more(coincident, MOST_COINCIDENT) {
        EdgesLie::NearlyCoincident
    } else if is_more(crossing, MANY_CROSSINGS) {
        EdgesLie::Tangled
    } else {
        EdgesLie::Apart
    })
}

/// The same outlines with each corner on a lattice as fine as flattened curves are true: what lay nearly along each
/// other lies on each other, or apart.
fn set_on_lattice<'a>(step: f64, rings: impl Iterator<Item = &'a mut Vec<DVec2>>) {
    for point in rings.flatten() {
        *point = (*point / step).round() * step;
    }
}
