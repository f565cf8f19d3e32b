//! Tapers: the stretches of axis behind sharp corners and blunted points.

use super::axis::Draft;
use super::piece::{AxisPoint, Piece, Tip};

/// Below this growth of the width per length of axis, a run is a wall of even width and no longer the
/// taper behind a corner: sides that meet at less than 3 degrees. A point that slender is under a
/// 2 mm limit for its last 38 mm, which anyone would call a wall. Our own judgement; a corner that is
/// itself more slender is a taper while it keeps half of its own growth.
const PLATEAU_GROWTH: f64 = 0.052;

/// A blunt end narrower than this share of the width its taper grows to is a point with its end nipped
/// off, and reported as a point: an outline drawn with a rounded or clipped tip of a hundredth of a
/// millimetre is no wall of that width. Our own judgement: the serif arm that ends in a third of its
/// width stays a wall.
const BLUNTED_SHARE: f64 = 0.125;

/// A blunt end from which the width grows by less than this, over a stretch as long as the width, is the end of an even
/// wall, whatever the wall runs into. A round value of our own: far more than a lattice makes of parallel sides, and less
/// than anyone draws a needle with.
const EVEN_GROWTH: f64 = 1e-3;

/// Which pieces meet at each vertex.
struct Meetings {
    first: Vec<u32>,
    pieces: Vec<u32>,
}

impl Meetings {
    fn of(drafts: &[Draft], vertices: usize) -> Meetings {
        let mut first = vec![0_u32; vertices + 1];
        let ends = |draft: &Draft| [draft.piece.narrow.vertex as usize, draft.piece.wide.vertex as usize];
        for vertex in drafts.iter().flat_map(ends) {
            first[vertex + 1] += 1;
        }
        for i in 0..vertices {
            first[i + 1] += first[i];
        }
        let mut next = first.clone();
        let mut pieces = vec![0; 2 * drafts.len()];
        for (i, draft) in drafts.iter().enumerate() {
            for vertex in ends(draft) {
                pieces[next[vertex] as usize] = i as u32;
                next[vertex] += 1;
            }
        }
        Meetings { first, pieces }
    }

    fn at(&self, vertex: u32) -> &[u32] {
        let vertex = vertex as usize;
        &self.pieces[self.first[vertex] as usize..self.first[vertex + 1] as usize]
    }
}

/// From every sharp corner, marks the pieces along which the width keeps growing, up to a junction; from
/// every blunt end too, where that is tiny beside the width it grows to.
///
/// A piece goes on growing where it grows by [`PLATEAU_GROWTH`] itself, or where the axis does over a
/// stretch as long as the local width, which looks past facets and the lattice's noise.
pub(super) fn mark_tapers(drafts: &mut [Draft], vertices: usize, tips: &mut Vec<Tip>) {
    let meetings = Meetings::of(drafts, vertices);
    for first in 0..drafts.len() {
        let Draft { piece: Piece { narrow, wide, .. }, apex } = drafts[first];
        let is_end = |place: &AxisPoint| meetings.at(place.vertex).len() == 1;
        // Which end of an even piece is the narrow one is the last bit's to say.
        let begins = if apex.is_some() { Some(narrow) } else { [narrow, wide].into_iter().find(is_end) };
        let Some(begins) = begins else { continue };
        let run = run_from(drafts, &meetings, first, begins.vertex);
        // Between two sides that meet at an angle the width grows by twice the sine of half of it.
        let apex_behind = |growth: f64| 2.0 * (0.5 * growth).min(1.0).asin();
        let of_blunt_end = || {
            let start = Stop { piece: first, length: 0.0, width: begins.width };
            let growth = growth_ahead(start, &run, &mut 0);
            (growth >= EVEN_GROWTH).then(|| apex_behind(growth))
        };
        let Some(apex) = apex.or_else(of_blunt_end) else { continue };
        let tapering = tapering_part(&run, PLATEAU_GROWTH.min((0.5 * apex).sin()));
        let Some(last) = tapering.last() else { continue };
        if begins.width > BLUNTED_SHARE * last.width {
            continue;
        }
        let tip = tips.len() as u32;
        tips.push(Tip { at: begins.at, apex });
        for stop in tapering {
            let piece = &mut drafts[stop.piece].piece;
            (piece.taper, piece.tip) = (true, tip);
        }
    }
}

/// The stops of a run up to where it stops growing; the first always belongs.
fn tapering_part(run: &[Stop], least_growth: f64) -> &[Stop] {
    let mut ahead = 0;
    for (i, pair) in run.windows(2).enumerate() {
        let [here, next] = [pair[0], pair[1]];
        ahead = ahead.max(i + 1);
        if here.growth(next) < least_growth && growth_ahead(here, run, &mut ahead) < least_growth {
            return &run[..=i];
        }
    }
    run
}

/// How much the width grows per length over a stretch as long as the width, from a stop or the start of a
/// run. `ahead` is a later stop that is not past the end of the stretch, and is moved on: along a run
/// length and width together never shrink, so one pass does for all stops.
fn growth_ahead(here: Stop, run: &[Stop], ahead: &mut usize) -> f64 {
    let horizon = here.length + here.width;
    while *ahead + 1 < run.len() && run[*ahead].length < horizon {
        *ahead += 1;
    }
    let Some(&beyond) = run.get(*ahead) else { return 0.0 };
    let before = if *ahead > 0 && run[*ahead - 1].length > here.length { run[*ahead - 1] } else { here };
    here.growth(before.towards(beyond, horizon))
}

/// The end of one piece of a run from a corner.
#[derive(Clone, Copy)]
struct Stop {
    piece: usize,
    /// Along the axis from the corner.
    length: f64,
    width: f64,
}

impl Stop {
    /// How much the width grows per length from here to a later stop.
    fn growth(self, later: Stop) -> f64 {
        (later.width - self.width) / (later.length - self.length).max(f64::MIN_POSITIVE)
    }

    /// The place at this length along the axis, between here and a later stop, or that stop.
    fn towards(self, later: Stop, length: f64) -> Stop {
        if length >= later.length {
            return later;
        }
        Stop { length, width: self.width + self.growth(later) * (length - self.length), ..later }
    }
}

/// The chain of pieces that begins with one, at one of its vertices, up to a junction, an end, or a piece that is another
/// corner's. `O(pieces in the chain)`, and a chain has two ends.
fn run_from(drafts: &[Draft], meetings: &Meetings, first: usize, mut behind: u32) -> Vec<Stop> {
    let mut run: Vec<Stop> = Vec::new();
    let mut piece = first;
    loop {
        let Piece { narrow, wide, taper, .. } = drafts[piece].piece;
        if taper || (piece != first && drafts[piece].apex.is_some()) {
            return run;
        }
        let end = if narrow.vertex == behind { wide } else { narrow };
        let length = run.last().map_or(0.0, |stop| stop.length) + drafts[piece].piece.length();
        run.push(Stop { piece, length, width: end.width });
        let &[a, b] = meetings.at(end.vertex) else { return run };
        let next = if a as usize == piece { b } else { a } as usize;
        if next == piece || end.vertex == behind {
            return run;
        }
        behind = end.vertex;
        piece = next;
    }
}
