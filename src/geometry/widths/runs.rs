//! How far a wall goes on from each of its pieces, and what it comes to at either end.

use super::piece::Piece;
use super::{WidthMap, axis};
use glam::DVec2;

/// The wall that a piece of the axis belongs to, as the piece sees it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Run {
    /// From end to end, millimetres of the design as drawn; once round where it closes on itself.
    pub length: f64,
    /// What it comes to on either side, and how far along the axis that is from the nearer end of the piece.
    pub ends: [(RunEnd, f64); 2],
    /// The direction it has about the narrow end of the piece, radians in `0..pi` from the x axis: the mean over a
    /// stretch of the axis as long as the wall is thick there. A piece may be shorter than a hair, and its own
    /// direction that of a hair.
    pub direction: f64,
}

/// What a wall comes to.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum RunEnd {
    /// The axis stops: the wall ends in the air, or its sides part so widely that there is no wall any more. The
    /// place lies as far beyond the end as tells the two apart: outside the wall, or in more of the same wood.
    Stops {
        /// Where the axis stops, in design space.
        at: DVec2,
        /// In design space.
        beyond: DVec2,
    },
    /// Another wall meets it.
    Meets,
    /// It grows much thicker than the piece.
    Widens,
    /// It has no end: it closes on itself.
    Closes,
}

/// A wall that is this many times as wide as a piece clamps it: twice the thickness is eight times the stiffness
/// (our own judgement).
const CLAMPS: f64 = 2.0;

/// The end of a bar lies half its width beyond its axis; this share of the width is beyond that, and not so far
/// that it leaves the wood a bar runs into.
const BEYOND: f64 = 0.75;

/// A branch no longer than the wall is wide, with nothing at its end, is a bump and no wall that meets it.
const BUMP: f64 = 1.0;

impl WidthMap {
    /// The run of each piece, in the order of [`pieces`](Self::pieces). `O(n log n)`.
    ///
    /// ```
    /// # use glam::dvec2;
    /// # use spelk::geometry::{FillRule, Grid, Rect, Region, widths::{RunEnd, measure}};
    /// let grid = Grid::covering(Rect::new(dvec2(0.0, 0.0), dvec2(40.0, 10.0)));
    /// let bar = vec![dvec2(0.0, 0.0), dvec2(40.0, 0.0), dvec2(40.0, 2.0), dvec2(0.0, 2.0)];
    /// let widths = measure(&Region::clean(grid, &[bar], FillRule::NonZero));
    /// let run = widths.inside.runs()[0];
    /// assert!((run.length - 40.0).abs() < 1e-6);
    /// assert!(run.ends.iter().all(|(end, far)| matches!(end, RunEnd::Stops { .. }) && *far == 0.0));
    /// ```
    pub fn runs(&self) -> Vec<Run> {
        let graph = Graph::of(&self.pieces);
        let mut runs = vec![None; self.pieces.len()];
        for chain in graph.chains() {
            chain.fill(&self.pieces, &mut runs);
        }
        runs.into_iter().map(|run| run.expect("every piece is in a chain")).collect()
    }
}

/// Which pieces meet at each vertex.
struct Graph<'a> {
    pieces: &'a [Piece],
    first: Vec<u32>,
    at: Vec<u32>,
    /// Bumps, which meet nothing.
    bumps: Vec<bool>,
}

/// A piece on its way along a chain.
#[derive(Clone, Copy)]
struct Link {
    piece: u32,
    /// Whether the chain enters it at its narrow end.
    forward: bool,
}

/// Pieces in a row, between two places where the axis ends or branches.
struct Chain {
    links: Vec<Link>,
    ends: [RunEnd; 2],
}

impl<'a> Graph<'a> {
    fn of(pieces: &'a [Piece]) -> Graph<'a> {
        let ends = |piece: &Piece| [piece.narrow.vertex as usize, piece.wide.vertex as usize];
        let count = pieces.iter().flat_map(ends).max().map_or(0, |most| most + 1);
        let mut first = vec![0_u32; count + 1];
        for vertex in pieces.iter().flat_map(ends) {
            first[vertex + 1] += 1;
        }
        for vertex in 0..count {
            first[vertex + 1] += first[vertex];
        }
        let mut next = first.clone();
        let mut at = vec![0_u32; 2 * pieces.len()];
        for (index, piece) in (0_u32..).zip(pieces) {
            for vertex in ends(piece) {
                at[next[vertex] as usize] = index;
                next[vertex] += 1;
            }
        }
        let mut graph = Graph { pieces, first, at, bumps: vec![false; pieces.len()] };
        graph.mark_bumps();
        graph
    }

    fn all_at(&self, vertex: u32) -> &[u32] {
        let vertex = vertex as usize;
        &self.at[self.first[vertex] as usize..self.first[vertex + 1] as usize]
    }

    /// The pieces that meet at a vertex, bumps apart.
    fn meeting(&self, vertex: u32) -> impl Iterator<Item = u32> + '_ {
        self.all_at(vertex).iter().copied().filter(|&piece| !self.bumps[piece as usize])
    }

    fn far_end(&self, link: Link) -> u32 {
        let piece = &self.pieces[link.piece as usize];
        if link.forward { piece.wide.vertex } else { piece.narrow.vertex }
    }

    /// Branches that end in nothing before they are as long as the wall they leave is wide.
    fn mark_bumps(&mut self) {
        let mut bumps = Vec::new();
        for chain in self.chains() {
            let [start, end] = chain.ends;
            let stops = |end: RunEnd| matches!(end, RunEnd::Stops { .. });
            let meets = |end: RunEnd| end == RunEnd::Meets;
            let width = match (start, end) {
                (a, b) if meets(a) && stops(b) => chain.width_at_start(self.pieces),
                (a, b) if stops(a) && meets(b) => chain.width_at_end(self.pieces),
                _ => continue,
            };
            let length: f64 = chain.links.iter().map(|link| self.pieces[link.piece as usize].length()).sum();
            if length <= BUMP * width {
                bumps.extend(chain.links.iter().map(|link| link.piece));
            }
        }
        for piece in bumps {
            self.bumps[piece as usize] = true;
        }
    }

    /// Every piece in one chain.
    fn chains(&self) -> Vec<Chain> {
        let mut seen = vec![false; self.pieces.len()];
        let mut chains = Vec::new();
        for index in 0..self.pieces.len() as u32 {
            if seen[index as usize] {
                continue;
            }
            let start = Link { piece: index, forward: true };
            let mut links = vec![start];
            seen[index as usize] = true;
            let after = self.walk(start, &mut seen, &mut links);
            let mut back = Vec::new();
            let before = if after == RunEnd::Closes {
                RunEnd::Closes
            } else {
                self.walk(Link { piece: index, forward: false }, &mut seen, &mut back)
            };
            let turned = |link: &Link| Link { forward: !link.forward, ..*link };
            let links = back.iter().rev().map(turned).chain(links).collect();
            chains.push(Chain { links, ends: [before, after] });
        }
        chains
    }

    /// On from a link until the axis ends or branches.
    fn walk(&self, from: Link, seen: &mut [bool], into: &mut Vec<Link>) -> RunEnd {
        let mut link = from;
        loop {
            let vertex = self.far_end(link);
            let mut others = self.meeting(vertex).filter(|&piece| piece != link.piece);
            let next = match (others.next(), others.next()) {
                (None, _) => return self.stop(link),
                // A bump itself goes no further than the wall it sits on.
                (Some(_), _) if self.bumps[link.piece as usize] => return RunEnd::Meets,
                (Some(next), None) => next,
                (Some(_), Some(_)) => return RunEnd::Meets,
            };
            if seen[next as usize] {
                return if next == from.piece { RunEnd::Closes } else { RunEnd::Meets };
            }
            seen[next as usize] = true;
            link = Link { piece: next, forward: self.pieces[next as usize].narrow.vertex == vertex };
            into.push(link);
        }
    }

    fn stop(&self, link: Link) -> RunEnd {
        let piece = &self.pieces[link.piece as usize];
        let (from, to) = if link.forward { (piece.narrow, piece.wide) } else { (piece.wide, piece.narrow) };
        let out = (to.at - from.at).normalize_or(DVec2::from_angle(piece.direction));
        RunEnd::Stops { at: to.at, beyond: to.at + out * (BEYOND * to.width) }
    }
}

impl Chain {
    fn width_at_start(&self, pieces: &[Piece]) -> f64 {
        let link = self.links[0];
        let piece = &pieces[link.piece as usize];
        if link.forward { piece.narrow.width } else { piece.wide.width }
    }

    fn width_at_end(&self, pieces: &[Piece]) -> f64 {
        let link = self.links[self.links.len() - 1];
        let piece = &pieces[link.piece as usize];
        if link.forward { piece.wide.width } else { piece.narrow.width }
    }

    /// The run of every piece of the chain: from each, on either way, to the first piece that grows as wide as
    /// clamps it, or to the chain's end.
    fn fill(&self, pieces: &[Piece], runs: &mut [Option<Run>]) {
        let piece = |at: usize| &pieces[self.links[at].piece as usize];
        let count = self.links.len();
        let mut along = Vec::with_capacity(count + 1);
        along.push(0.0);
        for at in 0..count {
            along.push(along[at] + piece(at).length());
        }
        let headings = Headings::of(self.links.iter().map(|link| &pieces[link.piece as usize]));
        let widest = Widest::of((0..count).map(|at| piece(at).wide.width).collect());
        // The end of a bar lies half its width beyond the axis.
        let tail =
            |end: RunEnd, width: f64| if matches!(end, RunEnd::Stops { .. }) { 0.5 * width } else { 0.0 };
        let tails =
            [tail(self.ends[0], self.width_at_start(pieces)), tail(self.ends[1], self.width_at_end(pieces))];
        for at in 0..count {
            let own = piece(at);
            let clamped = CLAMPS * own.narrow.width;
            let within = own.length_between(own.curve.range()[0], own.cut(clamped));
            // Where the piece itself grows that wide, it ends there on that side.
            let (widens_after, widens_before) = match (own.wide.width >= clamped, self.links[at].forward) {
                (false, _) => (false, false),
                (true, forward) => (forward, !forward),
            };
            let reach = |found: Option<usize>, end: usize| match found {
                Some(other) => {
                    let wider = piece(other);
                    // Up to where it is that wide; none of it where it already starts so.
                    let part = wider.length_between(wider.curve.range()[0], wider.cut(clamped));
                    let entered_narrow = self.links[other].forward == (end == 1);
                    (RunEnd::Widens, if entered_narrow { part } else { 0.0 }, other)
                }
                None => (self.ends[end], 0.0, if end == 1 { count } else { usize::MAX }),
            };
            let after = if widens_after {
                (RunEnd::Widens, 0.0)
            } else {
                let (end, part, other) = reach(widest.next_over(at + 1, clamped), 1);
                (end, along[other] - along[at + 1] + part)
            };
            let before = if widens_before {
                (RunEnd::Widens, 0.0)
            } else {
                let (end, part, other) = reach(widest.last_over(at, clamped), 0);
                let from = if other == usize::MAX { 0.0 } else { along[other + 1] };
                (end, along[at] - from + part)
            };
            let closes = after.0 == RunEnd::Closes && before.0 == RunEnd::Closes;
            let tail = |reached: RunEnd, end: usize| if reached == self.ends[end] { tails[end] } else { 0.0 };
            let length = if closes {
                along[count]
            } else {
                before.1 + within + after.1 + tail(before.0, 0) + tail(after.0, 1)
            };
            let narrow_end = along[at + usize::from(!self.links[at].forward)];
            let direction = headings.about(&along, narrow_end, own.narrow.width).unwrap_or(own.direction);
            runs[self.links[at].piece as usize] = Some(Run { length, ends: [before, after], direction });
        }
    }
}

/// The directions of a chain's pieces, summed: the mean of undirected lines is taken of twice their angles.
struct Headings {
    /// Unit vectors of twice the angle, times lengths, up to the start of each piece and to the end of the last.
    sums: Vec<DVec2>,
}

impl Headings {
    fn of<'a>(pieces: impl Iterator<Item = &'a Piece>) -> Headings {
        let mut sums = vec![DVec2::ZERO];
        for piece in pieces {
            let chord = piece.wide.at - piece.narrow.at;
            let doubled = DVec2::from_angle(2.0 * chord.to_angle()) * piece.length();
            sums.push(sums[sums.len() - 1] + doubled);
        }
        Headings { sums }
    }

    /// The mean direction over a stretch about a place; `along` says how far along the chain each piece starts.
    /// `None` where the stretch has no length, or turns so that no direction is its mean.
    fn about(&self, along: &[f64], middle: f64, stretch: f64) -> Option<f64> {
        let up_to = |place: f64| {
            let place = place.clamp(0.0, along[along.len() - 1]);
            let at = along.partition_point(|start| *start <= place).clamp(1, along.len() - 1) - 1;
            let share = (place - along[at]) / (along[at + 1] - along[at]);
            let share = if share.is_finite() { share } else { 0.0 };
            self.sums[at].lerp(self.sums[at + 1], share)
        };
        let doubled = up_to(middle + 0.5 * stretch) - up_to(middle - 0.5 * stretch);
        (doubled.length() > 1e-9 * stretch)
            .then(|| axis::direction(DVec2::from_angle(0.5 * doubled.to_angle())))
    }
}

/// The first and last of a row that is over a value, found by halving.
struct Widest {
    /// The greatest of `2^k` values from each place on, by `k`.
    levels: Vec<Vec<f64>>,
}

impl Widest {
    fn of(values: Vec<f64>) -> Widest {
        let mut levels = vec![values];
        let mut span = 1;
        while 2 * span <= levels[0].len() {
            let last = &levels[levels.len() - 1];
            let next = (0..=levels[0].len() - 2 * span).map(|at| last[at].max(last[at + span])).collect();
            levels.push(next);
            span *= 2;
        }
        Widest { levels }
    }

    /// The first at or after `from` that is at least `value`.
    fn next_over(&self, mut from: usize, value: f64) -> Option<usize> {
        for (level, greatest) in self.levels.iter().enumerate().rev() {
            while from < greatest.len() && greatest[from] < value {
                from += 1 << level;
            }
        }
        (from < self.levels[0].len()).then_some(from)
    }

    /// The last before `to` that is at least `value`.
    fn last_over(&self, mut to: usize, value: f64) -> Option<usize> {
        for (level, greatest) in self.levels.iter().enumerate().rev() {
            let span = 1 << level;
            while to >= span && greatest[to - span] < value {
                to -= span;
            }
        }
        to.checked_sub(1)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geometry::widths::measure;
    use crate::geometry::{FillRule, Grid, Rect, Region};
    use glam::dvec2;

    fn runs(rings: &[Vec<DVec2>]) -> (Region, Vec<(Piece, Run)>) {
        let bounds = Rect::around(rings.iter().flatten().copied()).unwrap();
        let region = Region::clean(Grid::covering(bounds), rings, FillRule::NonZero);
        let map = measure(&region).inside;
        let runs = map.runs();
        (region, map.pieces().iter().copied().zip(runs).collect())
    }

    fn ring(points: &[[f64; 2]]) -> Vec<DVec2> {
        points.iter().map(|&[x, y]| dvec2(x, y)).collect()
    }

    /// How far into a block a bar 2 wide goes on as a wall: until a disc at the corners is twice as wide, which is
    /// at `sqrt(2^2 - 1^2)`.
    const INTO_A_BLOCK: f64 = 1.732_050_807_568_877_2;

    /// The narrowest piece that is as wide as asked.
    fn of_width(found: &[(Piece, Run)], width: f64) -> Run {
        found.iter().find(|(piece, _)| (piece.narrow.width - width).abs() < 1e-6).unwrap().1
    }

    #[test]
    fn widest_finds_what_a_plain_search_finds() {
        let values: Vec<f64> = (0..57).map(|i| f64::from((i * 37) % 23)).collect();
        let widest = Widest::of(values.clone());
        for from in 0..=values.len() {
            for value in [0.0, 5.0, 17.0, 21.5, 22.0, 30.0] {
                let next = (from..values.len()).find(|&i| values[i] >= value);
                let last = (0..from).rev().find(|&i| values[i] >= value);
                assert_eq!(widest.next_over(from, value), next, "{from} {value}");
                assert_eq!(widest.last_over(from, value), last, "{from} {value}");
            }
        }
    }

    #[test]
    fn a_bar_between_blocks_is_held_at_both_ends_and_as_long_as_the_gap() {
        let (region, found) = runs(&[ring(&[
            [0.0, 0.0],
            [20.0, 0.0],
            [20.0, 9.0],
            [50.0, 9.0],
            [50.0, 0.0],
            [70.0, 0.0],
            [70.0, 20.0],
            [50.0, 20.0],
            [50.0, 11.0],
            [20.0, 11.0],
            [20.0, 20.0],
            [0.0, 20.0],
        ])]);
        let run = of_width(&found, 2.0);
        assert!((run.length - 30.0 - 2.0 * INTO_A_BLOCK).abs() < 1e-3, "{run:?}");
        for (end, _) in run.ends {
            let RunEnd::Stops { beyond, .. } = end else { panic!("{end:?}") };
            assert!(region.contains(beyond), "in the block");
        }
    }

    #[test]
    fn a_bar_that_ends_in_the_air_is_held_at_one() {
        let (region, found) = runs(&[ring(&[
            [0.0, 0.0],
            [20.0, 0.0],
            [20.0, 9.0],
            [50.0, 9.0],
            [50.0, 11.0],
            [20.0, 11.0],
            [20.0, 20.0],
            [0.0, 20.0],
        ])]);
        let run = of_width(&found, 2.0);
        assert!((run.length - 30.0 - INTO_A_BLOCK).abs() < 1e-3, "{run:?}");
        let inside: Vec<bool> = run
            .ends
            .iter()
            .map(|(end, _)| matches!(end, RunEnd::Stops { beyond, .. } if region.contains(*beyond)))
            .collect();
        assert!(inside.contains(&true) && inside.contains(&false), "{run:?}");
    }

    #[test]
    fn walls_that_meet_hold_each_other_and_a_ring_has_no_end() {
        // A cross of bars 2 wide.
        let (region, found) = runs(&[
            ring(&[[0.0, 19.0], [40.0, 19.0], [40.0, 21.0], [0.0, 21.0]]),
            ring(&[[19.0, 0.0], [21.0, 0.0], [21.0, 40.0], [19.0, 40.0]]),
        ]);
        let run = of_width(&found, 2.0);
        let held = run
            .ends
            .iter()
            .filter(|(end, _)| matches!(end, RunEnd::Stops { beyond, .. } if region.contains(*beyond)));
        assert_eq!(held.count(), 1, "{run:?}");
        // To the side of the bar it meets, and as far into it as it takes to be twice as wide.
        assert!((run.length - 19.0 - INTO_A_BLOCK).abs() < 1e-3, "{run:?}");
        let (_, found) = runs(&[
            ring(&[[0.0, 0.0], [40.0, 0.0], [40.0, 40.0], [0.0, 40.0]]),
            ring(&[[2.0, 2.0], [2.0, 38.0], [38.0, 38.0], [38.0, 2.0]]),
        ]);
        assert!(
            found.iter().all(|(_, run)| run.ends.iter().all(|(end, _)| *end == RunEnd::Closes)),
            "{found:?}"
        );
        assert!(found.iter().all(|(_, run)| (run.length - 152.0).abs() < 4.0), "{found:?}");
    }

    #[test]
    fn a_thick_stretch_clamps_a_thin_one() {
        // 2 wide for 20, then 5 wide for 20, drawn as a step.
        let (_, found) = runs(&[ring(&[
            [0.0, 1.5],
            [20.0, 1.5],
            [20.0, 0.0],
            [40.0, 0.0],
            [40.0, 5.0],
            [20.0, 5.0],
            [20.0, 3.5],
            [0.0, 3.5],
        ])]);
        let thin = of_width(&found, 2.0);
        assert!((thin.length - 20.0 - INTO_A_BLOCK).abs() < 1e-3, "{thin:?}");
        let thick = of_width(&found, 5.0);
        assert!(thick.length >= 19.0, "{thick:?}");
    }

    /// A bar at 30 degrees whose sides are ragged: its pieces point wherever the rags do, the wall does not.
    #[test]
    fn a_ragged_bar_runs_where_it_runs() {
        let turned = |x: f64, y: f64| DVec2::from_angle(30f64.to_radians()).rotate(dvec2(x, y));
        let rag = |i: i32| 0.12 * f64::from(i * 37 % 11 - 5) / 5.0;
        let under = (0..=100).map(|i| turned(0.2 * f64::from(i), rag(i)));
        let over = (0..=100).rev().map(|i| turned(0.2 * f64::from(i), 2.0 + rag(i + 3)));
        let (_, found) = runs(&[under.chain(over).collect()]);
        let off = |direction: f64| {
            let off = (direction.to_degrees() - 30.0).rem_euclid(180.0);
            off.min(180.0 - off)
        };
        // The axis of its middle, away from what its ends do.
        let middle: Vec<_> = found
            .iter()
            .filter(|(piece, _)| !piece.taper && (4.0..16.0).contains(&piece.narrow.at.length()))
            .collect();
        let worst =
            |of: &dyn Fn(&(Piece, Run)) -> f64| middle.iter().map(|found| off(of(found))).fold(0.0, f64::max);
        let (pieces, walls) = (worst(&|(piece, _)| piece.direction), worst(&|(_, run)| run.direction));
        assert!(pieces > 15.0 && walls < 8.0, "{pieces} {walls}");
    }
}
