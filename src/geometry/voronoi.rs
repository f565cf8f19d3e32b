//! The segment Voronoi diagram of a region's edges, as the axis needs it: edges, their two sites, their
//! ends. The only file that knows which engine makes it.
//!
//! Coordinates are lattice steps. The engine is the sweep of Fortune for segments with exact
//! predicates (Sydorchuk's `Boost.Polygon`, ported in `boostvoronoi`); a vertex is off by a few units in
//! the last place. It does not notice edges that cross, so the caller vouches for them.

use boostvoronoi::prelude::{Builder, BvError, CellIndex, Line, Point, SourceCategory};
use glam::DVec2;
use i_overlay::i_float::int::point::IntPoint;
use thiserror::Error;

/// An edge of the outline, by its two nodes; the region lies to its left.
pub(super) type Segment = [IntPoint<i32>; 2];

/// What a Voronoi cell is nearest to.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Site {
    /// The inside of a segment, by its index.
    Segment(u32),
    /// A node where segments end.
    Point(IntPoint<i32>),
}

/// A vertex of the diagram.
#[derive(Clone, Copy, Debug)]
pub(super) struct Vertex {
    /// Which one.
    pub(super) index: u32,
    /// Where, in steps.
    pub(super) at: DVec2,
}

/// A place of the diagram that is equally far from two sites.
#[derive(Clone, Copy, Debug)]
pub(super) struct Edge {
    /// The sites, the first to the left of the edge as it runs from its first end to its second.
    pub(super) sites: [Site; 2],
    /// Where it ends; `None` where it does not.
    pub(super) ends: [Option<Vertex>; 2],
}

/// A finished diagram.
pub(super) struct Diagram<'a> {
    segments: &'a [Segment],
    diagram: boostvoronoi::prelude::Diagram,
}

impl<'a> Diagram<'a> {
    /// The diagram of some segments that meet only at their ends. About 50 us a segment.
    ///
    /// The engine keeps its sweep in a list with random levels, and where edges in one line meet it may
    /// order them by luck and come out wrong; rarely, once the lattice is turned (see [`TURN`]). So every
    /// vertex is checked, and a diagram that fails is made again.
    pub(super) fn of(segments: &'a [Segment]) -> Result<Diagram<'a>, DiagramError> {
        for _ in 0..TRIES {
            let lines = segments.iter().map(|&[a, b]| Line::new(turned(a), turned(b)));
            let diagram = Builder::<i32>::default().with_segments(lines)?.build()?;
            let diagram = Diagram { segments, diagram };
            if diagram.is_sound()? {
                return Ok(diagram);
            }
        }
        Err(DiagramError::Unsound)
    }

    /// Whether every vertex is as far from the one site as from the other of each of its edges, and
    /// within the reach of both.
    fn is_sound(&self) -> Result<bool, BvError> {
        for edge in self.edges() {
            let edge = edge?;
            for vertex in edge.ends.into_iter().flatten() {
                let [a, b] = edge.sites.map(|site| self.clearance(site, vertex.at));
                // The engine's rounding is relative to the size of what it works out.
                let size = vertex.at.length() + a;
                let off = (a - b).abs();
                if off.is_nan() || off > SOUND_STEPS + SOUND_SHARE * size {
                    return Ok(false);
                }
            }
        }
        Ok(true)
    }

    /// The distance from a site, in steps.
    fn clearance(&self, site: Site, at: DVec2) -> f64 {
        let [a, b] = match site {
            Site::Point(node) => return at.distance(point(node)),
            Site::Segment(segment) => self.segments[segment as usize].map(point),
        };
        let along = b - a;
        let share = (at - a).dot(along) / along.length_squared();
        if share <= 0.0 {
            at.distance(a)
        } else if share >= 1.0 {
            at.distance(b)
        } else {
            (along.perp_dot(at - a) / along.length()).abs()
        }
    }

    /// How many vertices there are: their indices are below this.
    pub(super) fn vertex_count(&self) -> usize {
        self.diagram.vertices().len()
    }

    /// Every edge once, apart from those between a segment and its own end, which lie on no axis.
    pub(super) fn edges(&self) -> impl Iterator<Item = Result<Edge, BvError>> {
        // Half-edges come in twins, one after the other.
        self.diagram.edges().chunks_exact(2).filter(|twins| twins[0].is_primary()).map(|twins| {
            let sites = [self.site(twins[0].cell()?)?, self.site(twins[1].cell()?)?];
            let end = |half: usize| -> Result<Option<Vertex>, BvError> {
                let Some(index) = twins[half].vertex0() else { return Ok(None) };
                let vertex = self.diagram.vertex(index)?;
                Ok(Some(Vertex { index: index.u32(), at: turned_back(DVec2::new(vertex.x(), vertex.y())) }))
            };
            Ok(Edge { sites, ends: [end(0)?, end(1)?] })
        })
    }

    fn site(&self, cell: CellIndex) -> Result<Site, BvError> {
        let (source, category) = self.diagram.cell(cell)?.source_index_2();
        let [start, end] = self.segments[source.usize()];
        Ok(match category {
            SourceCategory::Segment => Site::Segment(source.u32()),
            SourceCategory::SegmentEnd => Site::Point(end),
            SourceCategory::SegmentStart | SourceCategory::SinglePoint => Site::Point(start),
        })
    }
}

/// The lattice is turned and grown by this whole-numbered factor, as complex numbers are multiplied, for
/// the engine's sake, and back after. It sweeps along x and goes wrong, if it does, among edges that are
/// upright; in designs many are, but few run along 5 : -2. Exact, and within 32 bits for nodes to 2^28.
const TURN: [i32; 2] = [5, 2];

/// How often a diagram is made before giving up. A wrong one was never seen twice in a row on a turned
/// lattice; on a plain one a quarter are wrong for the worst outline known.
const TRIES: u32 = 8;

/// How far, in steps, a vertex may be from being equally far from its sites, and what share of its size
/// besides. The engine promises some hundred units in the last place.
const SOUND_STEPS: f64 = 1e-3;
const SOUND_SHARE: f64 = 1e-9;

fn turned(node: IntPoint<i32>) -> Point<i32> {
    let [c, s] = TURN;
    Point { x: c * node.x - s * node.y, y: s * node.x + c * node.y }
}

fn turned_back(at: DVec2) -> DVec2 {
    let [c, s] = TURN.map(f64::from);
    DVec2::new(c * at.x + s * at.y, c * at.y - s * at.x) / (c * c + s * s)
}

/// A node as a place, in steps.
pub(super) fn point(node: IntPoint<i32>) -> DVec2 {
    DVec2::new(f64::from(node.x), f64::from(node.y))
}

/// Why there is no diagram.
#[derive(Debug, Error)]
pub(super) enum DiagramError {
    /// The engine found itself at odds.
    #[error("{0}")]
    Engine(#[from] BvError),
    /// It came out wrong every time.
    #[error("some places are not equally far from their nearest edges")]
    Unsound,
}
