//! The lowest of many curves over an interval, curve by curve.

use super::sites::Site;

/// A curve over an interval: some measure of how far away a site is, smaller for nearer.
pub(super) trait Height: Copy {
    /// The height at a parameter.
    fn at(&self, x: f64) -> f64;

    /// Every parameter from `from` to `to` where it may cross another; not a number where there is none.
    fn crossings(&self, other: &Self, from: f64, to: f64) -> [f64; 2];

    /// Whether it clearly stays above another from `from` to `to`.
    fn clears(&self, other: &Self, from: f64, to: f64) -> bool;
}

/// A stretch of the interval, up to `to`, where one site is lowest.
#[derive(Clone, Copy, Debug)]
pub(super) struct Stretch<H> {
    pub(super) to: f64,
    pub(super) site: Site,
    pub(super) height: H,
}

/// The lowest curves over `from` up to the end of the last stretch.
#[derive(Clone, Debug)]
pub(super) struct Envelope<H> {
    pub(super) from: f64,
    pub(super) stretches: Vec<Stretch<H>>,
    spare: Vec<Stretch<H>>,
}

impl<H: Height> Envelope<H> {
    pub(super) fn new() -> Envelope<H> {
        Envelope { from: 0.0, stretches: Vec::new(), spare: Vec::new() }
    }

    /// Starts again with one curve over the whole interval.
    pub(super) fn start(&mut self, from: f64, to: f64, site: Site, height: H) {
        self.from = from;
        self.stretches.clear();
        self.stretches.push(Stretch { to, site, height });
    }

    pub(super) fn to(&self) -> f64 {
        self.stretches.last().map_or(self.from, |stretch| stretch.to)
    }

    /// The numbers of the stretches that have a part in an interval, or touch its start.
    pub(super) fn within(&self, from: f64, to: f64) -> std::ops::Range<usize> {
        let first = self.stretches.partition_point(|stretch| stretch.to <= from);
        let beyond = first + self.stretches[first..].partition_point(|stretch| stretch.to < to);
        first.min(self.stretches.len() - 1)..(beyond + 1).min(self.stretches.len())
    }

    /// Whether a site is lowest anywhere in an interval.
    pub(super) fn has(&self, site: Site, from: f64, to: f64) -> bool {
        self.stretches[self.within(from, to)].iter().any(|stretch| stretch.site == site)
    }

    /// Where a stretch starts.
    pub(super) fn start_of(&self, index: usize) -> f64 {
        index.checked_sub(1).map_or(self.from, |before| self.stretches[before].to)
    }

    /// Each stretch with where it starts.
    pub(super) fn parts(&self) -> impl Iterator<Item = (f64, &Stretch<H>)> {
        let starts = std::iter::once(self.from).chain(self.stretches.iter().map(|stretch| stretch.to));
        starts.zip(&self.stretches)
    }

    /// Takes in a curve that is defined from `from` to `to`. Returns whether it is lowest anywhere. Time goes
    /// by the stretches it passes over.
    pub(super) fn lower(&mut self, from: f64, to: f64, site: Site, height: H) -> bool {
        let (from, to) = (from.max(self.from), to.min(self.to()));
        if from.is_nan() || to.is_nan() || from >= to {
            return false;
        }
        let passed = self.within(from, to);
        let mut start = self.start_of(passed.start);
        let clears = self.stretches[passed.clone()].iter().all(|stretch| {
            let (a, b) = (start.max(from), stretch.to.min(to));
            start = stretch.to;
            a >= b || stretch.site == site || height.clears(&stretch.height, a, b)
        });
        if clears {
            return false;
        }
        let mut spare = std::mem::take(&mut self.spare);
        spare.clear();
        let mut changed = false;
        let mut start = self.start_of(passed.start);
        for stretch in &self.stretches[passed.clone()] {
            let (a, b) = (start.max(from), stretch.to.min(to));
            if a < b && stretch.site != site {
                if start < a {
                    push(&mut spare, Stretch { to: a, ..*stretch });
                }
                let [mut p, mut q] = height.crossings(&stretch.height, a, b);
                if q < p {
                    std::mem::swap(&mut p, &mut q);
                }
                let mut at = a;
                for cut in [p, q, b] {
                    if !(cut > at && cut <= b) {
                        continue;
                    }
                    let middle = 0.5 * (at + cut);
                    if height.at(middle) < stretch.height.at(middle) {
                        push(&mut spare, Stretch { to: cut, site, height });
                        changed = true;
                    } else {
                        push(&mut spare, Stretch { to: cut, ..*stretch });
                    }
                    at = cut;
                }
                if b < stretch.to {
                    push(&mut spare, *stretch);
                }
            } else {
                push(&mut spare, *stretch);
            }
            start = stretch.to;
        }
        if changed {
            // Neighbours of the same site are one stretch; where it starts, the one before says.
            let mut replaced = passed;
            if let Some(before) = replaced.start.checked_sub(1)
                && spare.first().is_some_and(|first| first.site == self.stretches[before].site)
            {
                replaced.start = before;
            }
            if let Some(after) = self.stretches.get(replaced.end)
                && spare.last().is_some_and(|last| last.site == after.site)
            {
                spare.pop();
            }
            self.stretches.splice(replaced, spare.drain(..));
        }
        self.spare = spare;
        changed
    }
}

fn push<H>(stretches: &mut Vec<Stretch<H>>, next: Stretch<H>) {
    match stretches.last_mut() {
        Some(last) if last.site == next.site => last.to = next.to,
        _ => stretches.push(next),
    }
}
