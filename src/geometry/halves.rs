//! Places in boxes that are halved, and halved again, across their longer side.

use super::Rect;
use glam::DVec2;
use std::ops::Range;

/// Boxes of fewer are not halved. A round value of our own.
const FEW: usize = 8;

/// Things at places, sorted into boxes.
pub(crate) struct Halves<T> {
    pub(crate) items: Vec<T>,
    /// The box of all first; none where there is nothing.
    pub(crate) boxes: Vec<Half>,
}

/// A box, and what lies in it.
pub(crate) struct Half {
    pub(crate) around: Rect,
    /// Indices into the items.
    pub(crate) items: Range<usize>,
    /// The boxes of its two halves, where it is halved.
    pub(crate) halves: Option<[usize; 2]>,
}

impl<T> Halves<T> {
    /// `O(n log n)`.
    pub(crate) fn of(mut items: Vec<T>, at: impl Fn(&T) -> DVec2) -> Halves<T> {
        let (mut boxes, all) = (Vec::new(), 0..items.len());
        halve(&mut items, all, &at, &mut boxes);
        Halves { items, boxes }
    }
}

/// Adds the box of some items, after which come those of its halves; returns its number.
fn halve<T>(
    items: &mut [T],
    within: Range<usize>,
    at: &impl Fn(&T) -> DVec2,
    boxes: &mut Vec<Half>,
) -> usize {
    let index = boxes.len();
    let run = &mut items[within.clone()];
    let Some(around) = Rect::around(run.iter().map(at)) else { return index };
    boxes.push(Half { around, items: within.clone(), halves: None });
    let size = around.size();
    if run.len() > FEW && size != DVec2::ZERO {
        let axis = usize::from(size.y > size.x);
        let middle = run.len() / 2;
        run.select_nth_unstable_by(middle, |a, b| at(a)[axis].total_cmp(&at(b)[axis]));
        let middle = within.start + middle;
        let halves = [within.start..middle, middle..within.end].map(|half| halve(items, half, at, boxes));
        boxes[index].halves = Some(halves);
    }
    index
}
