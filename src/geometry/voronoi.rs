//! The segment Voronoi diagram of a region's edges, as the axis needs it: edges, their two sites, their
//! ends. The only file that knows which engine makes it.
//!
//! Coordinates are lattice steps. The engine is the sweep of Fortune for segments with exact
//! predicates (Sydorchuk's `Boost.Polygon`, ported in `boostvoronoi`); a vertex is off by a few units in
//! the last place. It does not notice edges that cross, so the caller vouches for them.

use boostvoronoi::prelude::{Builder, BvError, CellIndex, Line, Point, SourceCategory};
use glam::DVec2;
use i_overlay::i_float::int::point::IntPoint;

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
    pub(super) fn of(segments: &'a [Segment]) -> Result<Diagram<'a>, BvError> {
        let lines = segments
            .iter()
            .map(|&[a, b]| Line::new(Point::<i32> { x: a.x, y: a.y }, Point::<i32> { x: b.x, y: b.y }));
        let diagram = Builder::<i32>::default().with_segments(lines)?.build()?;
        Ok(Diagram { segments, diagram })
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
                Ok(Some(Vertex { index: index.u32(), at: DVec2::new(vertex.x(), vertex.y()) }))
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
