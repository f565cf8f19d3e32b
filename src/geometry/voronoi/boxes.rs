//! A tree of boxes round the edges of an outline: which edges may touch a disc that rolls along a line?

use super::tuning::SINGLE_PRECISION;
use crate::geometry::region::Segment;
use glam::DVec2;

/// Boxes a node of the tree holds.
const FAN: usize = 4;

/// Four boxes by their middles and half extents, from the middle of the outline, in steps. A cache line.
#[derive(Clone, Copy)]
#[repr(align(64))]
struct Four {
    x: [f32; FAN],
    y: [f32; FAN],
    half_x: [f32; FAN],
    half_y: [f32; FAN],
}

const NO_BOX: f32 = -1e30;

impl Four {
    const NONE: Four = Four { x: [0.0; FAN], y: [0.0; FAN], half_x: [NO_BOX; FAN], half_y: [NO_BOX; FAN] };

    fn set(&mut self, i: usize, low: DVec2, high: DVec2, slack: f64) {
        let (middle, half) = ((low + high) * 0.5, (high - low) * 0.5 + DVec2::splat(slack));
        (self.x[i], self.y[i]) = (middle.x as f32, middle.y as f32);
        (self.half_x[i], self.half_y[i]) = (half.x as f32, half.y as f32);
    }

    fn bounds(&self) -> Option<[DVec2; 2]> {
        (0..FAN)
            .filter(|&i| self.half_x[i] >= 0.0)
            .map(|i| {
                let middle = DVec2::new(f64::from(self.x[i]), f64::from(self.y[i]));
                let half = DVec2::new(f64::from(self.half_x[i]), f64::from(self.half_y[i]));
                [middle - half, middle + half]
            })
            .reduce(|a, b| [a[0].min(b[0]), a[1].max(b[1])])
    }
}

/// Four edges by their ends, from the middle of the outline, in steps. A cache line.
#[derive(Clone, Copy)]
#[repr(align(64))]
struct Edges {
    from_x: [f32; FAN],
    from_y: [f32; FAN],
    to_x: [f32; FAN],
    to_y: [f32; FAN],
}

/// A tree of boxes round edges, four to a node, over edges that lie in order along a curve that fills the
/// plane.
pub(in crate::geometry) struct BoxTree {
    edges: Vec<Edges>,
    /// From the boxes round four edges each up to the root; each level holds a node for four of the one
    /// below.
    levels: Vec<Vec<Four>>,
    count: u32,
    middle: DVec2,
    slack: f64,
    extent: f64,
}

/// Where discs roll along a line: the frame has its origin at `start` and its x axis along `along`; the
/// middles of the discs lie over `from..to`.
#[derive(Clone, Copy, Debug)]
pub(super) struct Rolling {
    pub(super) start: DVec2,
    pub(super) along: DVec2,
    pub(super) from: f64,
    pub(super) to: f64,
    /// Edges wholly below this height are passed over.
    pub(super) floor: f64,
}

/// How large the rolling discs are.
#[derive(Clone, Copy, Debug)]
pub(super) struct DiscSize {
    /// Height of their middles above the line.
    pub(super) height: f64,
    pub(super) radius: f64,
    /// How far the middles go beyond either end.
    pub(super) aside: f64,
}

/// A query in single precision, relative to the middle of the outline.
#[derive(Clone, Copy)]
struct Query {
    start: [f32; 2],
    along: [f32; 2],
    from: f32,
    to: f32,
    /// Where the discs touch, which is where the middles are unless those go further aside.
    home: [f32; 2],
    floor: f32,
    slack: f32,
}

fn larger(a: f32, b: f32) -> f32 {
    if a > b { a } else { b }
}

fn smaller(a: f32, b: f32) -> f32 {
    if a < b { a } else { b }
}

impl Query {
    /// The squared distance of each box from the middles at `height`, infinite for a box that is passed over;
    /// and the least height at which a disc would touch it, so that the likely ones come first.
    fn boxes(&self, four: &Four, height: f32) -> [[f32; FAN]; 2] {
        let [along_x, along_y] = self.along;
        let (size_x, size_y) = (along_x.abs(), along_y.abs());
        let (mut squared, mut low) = ([0.0_f32; FAN], [0.0_f32; FAN]);
        for i in 0..FAN {
            let (x, y) = (four.x[i] - self.start[0], four.y[i] - self.start[1]);
            let (across, up) = (along_x * x + along_y * y, along_x * y - along_y * x);
            let half_across = size_x * four.half_x[i] + size_y * four.half_y[i];
            let half_up = size_x * four.half_y[i] + size_y * four.half_x[i];
            let past = larger(across - half_across - self.to, self.from - across - half_across);
            let off = (up - height).abs() - half_up;
            let (beyond, off) = (larger(past, 0.0), larger(off, 0.0));
            let top = up + half_up;
            let passed = top <= self.floor;
            squared[i] = if passed { f32::INFINITY } else { beyond * beyond + off * off };
            let over = larger(up.abs() - half_up, 0.0);
            let [from, to] = self.home;
            let away = larger(larger(across - half_across - to, from - across - half_across), 0.0);
            low[i] = (away * away + over * over) / larger(top, f32::MIN_POSITIVE);
        }
        [squared, low]
    }

    /// The same for edges themselves.
    #[expect(clippy::needless_range_loop, reason = "side by side in all lists, four at once")]
    fn edges(&self, edges: &Edges, height: f32) -> [f32; FAN] {
        let [along_x, along_y] = self.along;
        let mut squared = [0.0_f32; FAN];
        for i in 0..FAN {
            let (x, y) = (edges.from_x[i] - self.start[0], edges.from_y[i] - self.start[1]);
            let (ax, ay) = (along_x * x + along_y * y, along_x * y - along_y * x);
            let (x, y) = (edges.to_x[i] - self.start[0], edges.to_y[i] - self.start[1]);
            let (bx, by) = (along_x * x + along_y * y, along_x * y - along_y * x);
            let past = |x: f32| larger(x - self.to, self.from - x);
            let square = |x: f32, y: f32| x * x + y * y;
            let from_middles = |x: f32, y: f32| square(larger(past(x), 0.0), y - height);
            let (dx, dy) = (bx - ax, by - ay);
            let length = larger(square(dx, dy), f32::MIN_POSITIVE);
            let from_edge = |middle: f32| {
                let (x, y) = (middle - ax, height - ay);
                let share = smaller(larger((x * dx + y * dy) / length, 0.0), 1.0);
                square(x - share * dx, y - share * dy)
            };
            let ends = smaller(from_middles(ax, ay), from_middles(bx, by));
            let middles = smaller(from_edge(self.from), from_edge(self.to));
            let least = smaller(ends, middles);
            // An edge that crosses the line of the middles may be far from all four ends.
            let crosses =
                (ay > height) != (by > height) && smaller(ax, bx) <= self.to && larger(ax, bx) >= self.from;
            let passed = larger(ay, by) + self.slack <= self.floor;
            squared[i] = if passed {
                f32::INFINITY
            } else if crosses {
                0.0
            } else {
                least
            };
        }
        squared
    }
}

impl BoxTree {
    /// `O(n)`.
    pub(in crate::geometry) fn of(segments: &[Segment]) -> BoxTree {
        let point = super::sites::point;
        let whole = segments
            .iter()
            .map(|&[a, b]| [point(a).min(point(b)), point(a).max(point(b))])
            .reduce(|a, b| [a[0].min(b[0]), a[1].max(b[1])])
            .unwrap_or_default();
        let middle = (whole[0] + whole[1]) * 0.5;
        let extent = (whole[1] - whole[0]).length();
        let slack = extent * SINGLE_PRECISION;
        let nothing = Edges { from_x: [0.0; FAN], from_y: [0.0; FAN], to_x: [0.0; FAN], to_y: [0.0; FAN] };
        let mut edges = vec![nothing; segments.len().div_ceil(FAN)];
        let mut lowest = vec![Four::NONE; edges.len().div_ceil(FAN)];
        for (fours, (i, segments)) in edges.iter_mut().zip(segments.chunks(FAN).enumerate()) {
            let mut bounds: Option<[DVec2; 2]> = None;
            for (j, &[a, b]) in segments.iter().enumerate() {
                let (a, b) = (point(a) - middle, point(b) - middle);
                (fours.from_x[j], fours.from_y[j]) = (a.x as f32, a.y as f32);
                (fours.to_x[j], fours.to_y[j]) = (b.x as f32, b.y as f32);
                let [low, high] = bounds.unwrap_or([a, a]);
                bounds = Some([low.min(a).min(b), high.max(a).max(b)]);
            }
            if let Some([low, high]) = bounds {
                lowest[i / FAN].set(i % FAN, low, high, slack);
            }
        }
        let mut levels = vec![lowest];
        while let Some(below) = levels.last().filter(|level| level.len() > 1) {
            let mut level = vec![Four::NONE; below.len().div_ceil(FAN)];
            for (i, four) in below.iter().enumerate() {
                if let Some([low, high]) = four.bounds() {
                    level[i / FAN].set(i % FAN, low, high, 0.125 * slack);
                }
            }
            levels.push(level);
        }
        BoxTree { edges, levels, count: segments.len() as u32, middle, slack, extent }
    }

    /// The diagonal of the outline's box.
    pub(super) fn extent(&self) -> f64 {
        self.extent
    }

    /// Calls `visit` with every edge that a disc touches, and some near misses; nearer ones come first, about.
    /// `size` is asked again and again, for the discs may shrink meanwhile; `visit` returns whether to go on.
    pub(super) fn visit<S>(
        &self,
        rolling: Rolling,
        stack: &mut Vec<(u32, u32)>,
        state: &mut S,
        size: impl Fn(&S) -> DiscSize,
        mut visit: impl FnMut(&mut S, u32) -> bool,
    ) {
        let start = rolling.start - self.middle;
        let mut query = Query {
            start: [start.x as f32, start.y as f32],
            along: [rolling.along.x as f32, rolling.along.y as f32],
            from: rolling.from as f32,
            to: rolling.to as f32,
            home: [rolling.from as f32, rolling.to as f32],
            floor: rolling.floor as f32,
            slack: self.slack as f32,
        };
        stack.clear();
        // Level 0 is the edges themselves.
        stack.push((self.levels.len() as u32, 0));
        while let Some((level, index)) = stack.pop() {
            let DiscSize { height, radius, aside } = size(state);
            let (height, radius) = (height as f32, radius as f32 * (1.0 + 1e-6) + query.slack);
            (query.from, query.to) = ((rolling.from - aside) as f32, (rolling.to + aside) as f32);
            let [squared, low] = match (level as usize).checked_sub(1) {
                None => [query.edges(&self.edges[index as usize], height); 2],
                Some(level) => query.boxes(&self.levels[level][index as usize], height),
            };
            let mut order = [(0.0_f32, 0_u32); FAN];
            let mut count = 0;
            for (i, (&squared, &distance)) in squared.iter().zip(&low).enumerate() {
                if squared < radius * radius {
                    // Farthest first, for the stack hands back the last.
                    let mut at = count;
                    while at > 0 && order[at - 1].0 < distance {
                        order[at] = order[at - 1];
                        at -= 1;
                    }
                    order[at] = (distance, FAN as u32 * index + i as u32);
                    count += 1;
                }
            }
            if level > 0 {
                stack.extend(order[..count].iter().map(|&(_, i)| (level - 1, i)));
                continue;
            }
            for &(_, i) in order[..count].iter().rev() {
                if i < self.count && !visit(state, i) {
                    return;
                }
            }
        }
    }
}
