//! What shows of each element, where one is painted over another.

use super::DesignError;
use super::layering::Work;
use crate::geometry::{Grid, Rect, Region};
use std::rc::Rc;

/// Up to so many runs over another are united each time. A drawing seldom has more in one place.
const FEW: usize = 16;

/// Shapes painted one after another that belong to one element and do the same.
pub(super) struct Run {
    pub element: usize,
    /// White in an element that has other colours: takes away and is nothing itself.
    pub cuts: bool,
    pub region: Rc<Region>,
    pub bounds: Option<Rect>,
}

/// The uncovered part of each element's runs, in paint order.
///
/// Runs are gone through from the top down. An element of one run asks what lies over it once ([`Stack`]). One of
/// several keeps a list of what covers it ([`Covers`]), for runs of one element are never taken from each other, which
/// would leave hairline seams on the grid.
pub(super) fn uncovered(
    grid: Grid,
    runs: &[Run],
    elements: usize,
    work: &mut Work,
) -> Result<Vec<Vec<Region>>, DesignError> {
    let mut left: Vec<Vec<Region>> = vec![Vec::new(); elements];
    let mut covers: Vec<Covers> = vec![Covers::default(); elements];
    let mut to_come = vec![0; elements];
    for run in runs.iter().filter(|run| !run.cuts) {
        to_come[run.element] += 1;
    }
    let is_one: Vec<bool> = to_come.iter().map(|&count| count == 1).collect();
    let mut stack = Stack::new(grid, runs);
    for (index, run) in runs.iter().enumerate().rev().filter(|(_, run)| !run.cuts) {
        to_come[run.element] -= 1;
        let Some(bounds) = run.bounds else { continue };
        let cover = if is_one[run.element] {
            stack.over(index, bounds, work)?
        } else {
            covers[run.element].over(runs, index, bounds, grid, work)?
        };
        if to_come[run.element] == 0 {
            // Kept past the last run, the lists would grow with the square of the elements.
            covers[run.element] = Covers::default();
        }
        let shown = match cover {
            Some(cover) => {
                work.add(cover.segment_count() + run.region.segment_count())?;
                run.region.minus(&cover)
            }
            None => run.region.as_ref().clone(),
        };
        left[run.element].push(shown);
    }
    for parts in &mut left {
        parts.reverse();
    }
    Ok(left)
}

/// Several regions as one; `None` of none.
fn united(regions: &[Rc<Region>], grid: Grid, work: &mut Work) -> Result<Option<Rc<Region>>, DesignError> {
    match regions {
        [] => Ok(None),
        [only] => Ok(Some(Rc::clone(only))),
        several => Ok(Some(Rc::new(work.union(grid, several.iter().map(Rc::as_ref))?))),
    }
}

/// What is painted over an element of several runs, as far as they have asked for it.
///
/// Covers that a run meets are united and stay so: a deep stack is as cheap as a single cover, and covers that meet
/// nothing cost nothing.
#[derive(Clone, Default)]
struct Covers {
    /// Regions with the boxes round them; those that a run met are one.
    known: Vec<(Rect, Rc<Region>)>,
    /// How many runs, from the top, were looked at for them.
    seen: usize,
}

impl Covers {
    /// What is painted over a run; to be asked from the top down.
    fn over(
        &mut self,
        runs: &[Run],
        index: usize,
        bounds: Rect,
        grid: Grid,
        work: &mut Work,
    ) -> Result<Option<Rc<Region>>, DesignError> {
        let later = &runs[index + 1..runs.len() - self.seen];
        let new = later.iter().rev().filter(|other| other.element != runs[index].element || other.cuts);
        self.known.extend(new.filter_map(|other| Some((other.bounds?, Rc::clone(&other.region)))));
        self.seen = runs.len() - index - 1;
        let (met, apart): (Vec<_>, Vec<_>) =
            std::mem::take(&mut self.known).into_iter().partition(|(cover, _)| cover.meets(bounds));
        self.known = apart;
        let met: Vec<Rc<Region>> = met.into_iter().map(|(_, cover)| cover).collect();
        let cover = united(&met, grid, work)?;
        self.known.extend(cover.iter().filter_map(|cover| Some((cover.bounds()?, Rc::clone(cover)))));
        Ok(cover)
    }
}

/// All runs in paint order, and unions of 2, 4, 8 ... neighbours, each made where it is first asked for.
///
/// Where hundreds lie over each other, what covers the next is put together from a few unions that others used before,
/// in place of hundreds of regions: `n log n` regions are united in all, and not `n` times `n`.
struct Stack<'a> {
    grid: Grid,
    runs: &'a [Run],
    /// `unions[level][i]` holds the runs from `i << level`, `1 << level` of them.
    unions: Vec<Vec<Option<Rc<Region>>>>,
}

impl<'a> Stack<'a> {
    fn new(grid: Grid, runs: &'a [Run]) -> Stack<'a> {
        let levels = usize::BITS - runs.len().leading_zeros();
        let unions = (0..levels).map(|level| vec![None; runs.len() >> level]).collect();
        Stack { grid, runs, unions }
    }

    /// What is painted over a run, within a box round it at least.
    fn over(
        &mut self,
        index: usize,
        bounds: Rect,
        work: &mut Work,
    ) -> Result<Option<Rc<Region>>, DesignError> {
        let meets = |at: &usize| self.runs[*at].bounds.is_some_and(|other| other.meets(bounds));
        let met: Vec<usize> = (index + 1..self.runs.len()).filter(meets).collect();
        let mut regions = Vec::new();
        if met.len() <= FEW {
            regions.extend(met.iter().rev().map(|&at| Rc::clone(&self.runs[at].region)));
        } else {
            let mut rest = met.as_slice();
            while let Some(&first) = rest.first() {
                let level = self.largest_from(first, rest);
                regions.push(self.union(level, first >> level, work)?);
                rest = &rest[rest.partition_point(|&at| at < first + (1 << level))..];
            }
        }
        united(&regions, self.grid, work)
    }

    /// The level of the largest union from this run on that at least half its runs are wanted of.
    fn largest_from(&self, first: usize, wanted: &[usize]) -> usize {
        let holds = |level: &usize| {
            let count = 1 << level;
            first.is_multiple_of(count)
                && first + count <= self.runs.len()
                && wanted.partition_point(|&at| at < first + count) * 2 >= count
        };
        (0..self.unions.len()).rev().find(holds).unwrap_or(0)
    }

    fn union(&mut self, level: usize, at: usize, work: &mut Work) -> Result<Rc<Region>, DesignError> {
        if level == 0 {
            return Ok(Rc::clone(&self.runs[at].region));
        }
        if let Some(known) = &self.unions[level][at] {
            return Ok(Rc::clone(known));
        }
        let halves = [self.union(level - 1, 2 * at + 1, work)?, self.union(level - 1, 2 * at, work)?];
        let union = Rc::new(work.union(self.grid, halves.iter().map(Rc::as_ref))?);
        self.unions[level][at] = Some(Rc::clone(&union));
        Ok(union)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geometry::FillRule;
    use glam::dvec2;
    use proptest::prelude::*;

    fn runs_of(grid: Grid, boxes: &[(usize, [i32; 4])]) -> Vec<Run> {
        let run = |&(element, [x, y, length, width]): &(usize, [i32; 4])| {
            let min = dvec2(f64::from(x), f64::from(y));
            let rect = Rect::new(min, min + dvec2(f64::from(length), f64::from(width)));
            let region = Region::clean(grid, &[rect.corners().to_vec()], FillRule::NonZero);
            let bounds = region.bounds();
            Run { element, cuts: element == 0 && x % 3 == 0, region: Rc::new(region), bounds }
        };
        boxes.iter().map(run).collect()
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(64))]

        /// A stack of up to eighty boxes, most elements of one run, against each taken from each.
        #[test]
        fn what_shows_is_what_is_left_when_each_cover_is_taken_away(
            boxes in prop::collection::vec((0..3_usize, [0..40_i32, 0..40, 1..60, 1..60]), 0..80),
        ) {
            let boxes: Vec<(usize, [i32; 4])> = boxes
                .into_iter()
                .enumerate()
                .map(|(index, (group, held))| (if group == 0 { index % 2 } else { index + 2 }, held))
                .collect();
            let grid = Grid::covering(Rect::new(dvec2(0.0, 0.0), dvec2(128.0, 128.0)));
            let runs = runs_of(grid, &boxes);
            let shown = uncovered(grid, &runs, boxes.len() + 2, &mut Work(0)).unwrap();
            let mut areas = vec![Vec::new(); boxes.len() + 2];
            for (index, run) in runs.iter().enumerate().filter(|(_, run)| !run.cuts) {
                let later = &runs[index + 1..];
                let over = later.iter().filter(|other| other.element != run.element || other.cuts);
                let left = over.fold(run.region.as_ref().clone(), |left, other| left.minus(&other.region));
                areas[run.element].push(left.area());
            }
            for (shown, areas) in shown.iter().zip(&areas) {
                prop_assert_eq!(shown.len(), areas.len());
                for (shown, area) in shown.iter().zip(areas) {
                    prop_assert!((shown.area() - area).abs() < 1e-3, "{} and {area}", shown.area());
                }
            }
        }
    }
}
