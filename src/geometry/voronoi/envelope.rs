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

    pub(super) fn has(&self, site: Site) -> bool {
        self.stretches.iter().any(|stretch| stretch.site == site)
    }

    /// Gives a site another curve wherever it is lowest.
    pub(super) fn replace(&mut self, site: Site, height: H) {
        for stretch in self.stretches.iter_mut().filter(|stretch| stretch.site == site) {
            stretch.height = height;
        }
    }

    /// Each stretch with where it starts.
    pub(super) fn parts(&self) -> impl Iterator<Item = (f64, &Stretch<H>)> {
        let starts = std::iter::once(self.from).chain(self.stretches.iter().map(|stretch| stretch.to));
        starts.zip(&self.stretches)
    }

    /// Takes in a curve that is defined from `from` to `to`.
    pub(super) fn lower(&mut self, from: f64, to: f64, site: Site, height: H) {
        let (from, to) = (from.max(self.from), to.min(self.to()));
        if from.is_nan() || to.is_nan() || from >= to {
            return;
        }
        let clears = |(start, stretch): (f64, &Stretch<H>)| {
            let (a, b) = (start.max(from), stretch.to.min(to));
            a >= b || stretch.site == site || height.clears(&stretch.height, a, b)
        };
        if self.parts().all(clears) {
            return;
        }
        let mut spare = std::mem::take(&mut self.spare);
        spare.clear();
        let mut changed = false;
        let mut start = self.from;
        for stretch in &self.stretches {
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
            std::mem::swap(&mut self.stretches, &mut spare);
        }
        self.spare = spare;
    }

    /// Keeps the part before `at` and returns the rest.
    pub(super) fn split_off(&mut self, at: f64) -> Envelope<H> {
        let first = self.stretches.partition_point(|stretch| stretch.to <= at);
        let rest = self.stretches[first..].to_vec();
        self.stretches.truncate(first);
        if let Some(&cut) = rest.first()
            && at > self.to()
        {
            self.stretches.push(Stretch { to: at, ..cut });
        }
        Envelope { from: at, stretches: rest, spare: Vec::new() }
    }

    /// Puts an envelope that starts where this one ends behind it.
    pub(super) fn append(&mut self, rest: &Envelope<H>) {
        for &stretch in &rest.stretches {
            push(&mut self.stretches, stretch);
        }
    }
}

fn push<H>(stretches: &mut Vec<Stretch<H>>, next: Stretch<H>) {
    match stretches.last_mut() {
        Some(last) if last.site == next.site => last.to = next.to,
        _ => stretches.push(next),
    }
}
