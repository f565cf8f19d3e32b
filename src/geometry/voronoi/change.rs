//! What a change of an outline leaves of its diagram.
//!
//! The cell of a segment is what no other site is nearer to. Sites that are gone give room to those that bordered on
//! them and to no others; sites that are new take room only from cells with a disc that they come into. So a cell of a
//! segment stays as it was if it bordered on nothing that is gone, and nothing new comes into one of its discs. Along
//! an edge of the diagram those discs lie within the hull of the first and the last, and so within a box round both,
//! which is what is asked for: a few cells more are worked out than need be.
//!
//! Nodes are left to what their segments report, as ever.

use super::boxes::BoxTree;
use super::cell::Edge;
use super::sites::{Face, Site, Sites, point};
use super::wedge::NodeContact;
use crate::geometry::region::Segment;
use crate::geometry::{CoverTable, Rect};
use i_overlay::i_float::int::point::IntPoint;
use std::ops::Range;

/// A disc that something new comes as near to, in steps, may hold it: far more than places are uncertain by.
const SURE: f64 = 16.0;

/// The cells of all segments of an outline, on both faces, as they were reported.
#[derive(Clone, Debug, Default)]
pub(in crate::geometry) struct Cells {
    /// By segment and face.
    pub(super) by_segment: Vec<[Cell; 2]>,
    pub(super) edges: Vec<Edge>,
    pub(super) contacts: Vec<NodeContact>,
}

/// What one cell reported.
#[derive(Clone, Debug)]
pub(super) struct Cell {
    pub(super) edges: Range<u32>,
    pub(super) contacts: Range<u32>,
    /// The first and the last site it borders on.
    pub(super) borders: [Site; 2],
    /// Whether it has a part that borders on nothing.
    pub(super) open: bool,
}

impl Default for Cell {
    fn default() -> Cell {
        Cell { edges: 0..0, contacts: 0..0, borders: [Site::NONE; 2], open: false }
    }
}

impl Cells {
    /// Adds those of the segments that come next.
    pub(super) fn append(&mut self, other: Cells) {
        let [edges, contacts] = [self.edges.len() as u32, self.contacts.len() as u32];
        let moved = |range: Range<u32>, by: u32| range.start + by..range.end + by;
        self.by_segment.extend(other.by_segment.into_iter().map(|cells| {
            cells.map(|cell| Cell {
                edges: moved(cell.edges, edges),
                contacts: moved(cell.contacts, contacts),
                ..cell
            })
        }));
        self.edges.extend(other.edges);
        self.contacts.extend(other.contacts);
    }
}

/// A diagram that was worked out, for what comes of its outline: some 400 bytes an edge.
#[derive(Clone, Debug)]
pub(in crate::geometry) struct Known {
    segments: Vec<Segment>,
    extent: f64,
    cells: Cells,
}

impl Known {
    /// The cells of these sites, on both faces.
    pub(in crate::geometry) fn of(sites: &Sites, tree: &BoxTree, cells: Cells) -> Known {
        Known { segments: sites.segments.clone(), extent: tree.extent(), cells }
    }
}

/// An outline's sites, with the cells that were known before and still hold.
pub(in crate::geometry) struct Change<'a> {
    pub(super) sites: &'a Sites,
    pub(super) tree: &'a BoxTree,
    known: Option<&'a Known>,
    /// Of each segment that was there before, what it was called; `None` where its cell is to be worked out.
    before: Vec<Option<u32>>,
    /// Of each segment there was, what it is called now.
    now: Vec<Option<u32>>,
    /// Nodes where other segments meet than before, sorted.
    changed: Vec<(i32, i32)>,
}

impl<'a> Change<'a> {
    /// Nothing is known.
    pub(in crate::geometry) fn none(sites: &'a Sites, tree: &'a BoxTree) -> Change<'a> {
        Change { sites, tree, known: None, before: Vec::new(), now: Vec::new(), changed: Vec::new() }
    }

    /// The sites.
    pub(in crate::geometry) fn sites(&self) -> &'a Sites {
        self.sites
    }

    /// What becomes of a diagram. `O(n log n)` in edges, a small part of what working it out takes.
    pub(in crate::geometry) fn of(known: &'a Known, sites: &'a Sites, tree: &'a BoxTree) -> Change<'a> {
        // How far anything may be away goes by the whole.
        if known.extent.to_bits() != tree.extent().to_bits() {
            return Change::none(sites, tree);
        }
        let mut before = sites.numbers_in(&known.segments);
        let mut now = vec![None; known.segments.len()];
        for (own, old) in (0..).zip(&before) {
            if let Some(old) = *old {
                now[old as usize] = Some(own);
            }
        }
        let added = || sites.segments.iter().zip(&before).filter(|(_, old)| old.is_none()).map(|(at, _)| *at);
        let removed = known.segments.iter().zip(&now).filter(|(_, own)| own.is_none()).map(|(at, _)| *at);
        let mut changed: Vec<(i32, i32)> =
            added().chain(removed).flatten().map(|node| (node.x, node.y)).collect();
        changed.sort_unstable();
        changed.dedup();
        let boxes: Vec<Rect> = added().filter_map(|ends| Rect::around(ends.map(point))).collect();
        let cover = CoverTable::of(&boxes);
        let mut change = Change { sites, tree, known: Some(known), before: Vec::new(), now, changed };
        // By what they were called.
        let mut stays: Vec<bool> =
            (0..known.segments.len() as u32).map(|old| change.is_taken_whole(known, old)).collect();
        for edge in &known.cells.edges {
            let gone = edge.sites.iter().any(|&site| change.name_now(site).is_none());
            if gone || cover.meets(discs_box(known, edge).grown(SURE)) {
                for site in edge.sites.into_iter().filter(|site| !site.is_node()) {
                    stays[site.index() as usize] = false;
                }
            }
        }
        for old in &mut before {
            *old = old.filter(|&old| stays[old as usize]);
        }
        change.before = before;
        change
    }

    /// Whether a segment's own reports name nothing that is gone, and no part of its cell is open.
    fn is_taken_whole(&self, known: &Known, old: u32) -> bool {
        let is_there = |site: Site| site == Site::NONE || self.name_now(site).is_some();
        let ends_stay = known.segments[old as usize].iter().all(|&node| !self.is_changed(node));
        self.now[old as usize].is_some()
            && ends_stay
            && known.cells.by_segment[old as usize].iter().all(|cell| {
                let edges = &known.cells.edges[range(&cell.edges)];
                let contacts = &known.cells.contacts[range(&cell.contacts)];
                !cell.open
                    && cell.borders.into_iter().all(is_there)
                    && edges.iter().flat_map(|edge| edge.sites).all(is_there)
                    && contacts.iter().flat_map(|contact| contact.beyond).all(is_there)
            })
    }

    fn is_changed(&self, node: IntPoint<i32>) -> bool {
        self.changed.binary_search(&(node.x, node.y)).is_ok()
    }

    /// What a site is called now; `None` where it is gone.
    fn name_now(&self, site: Site) -> Option<Site> {
        let known = self.known?;
        if site == Site::NONE {
            return Some(site);
        }
        let now = self.now[site.index() as usize]?;
        if !site.is_node() {
            return Some(Site::segment(now));
        }
        // Where the same segments meet in the same order, the first of them names the node as before.
        (!self.is_changed(known.segments[site.index() as usize][0])).then(|| Site::node(now))
    }

    /// Pushes what a cell reported, where it still holds.
    pub(super) fn taken_over(
        &self,
        face: Face,
        segment: usize,
        edges: &mut Vec<Edge>,
        contacts: &mut Vec<NodeContact>,
    ) -> Option<Cell> {
        let known = self.known?;
        let old = self.before[segment]?;
        let cell = &known.cells.by_segment[old as usize][face as usize];
        let now = |site: Site| self.name_now(site).expect("a cell that names what is gone is not taken over");
        let of_cell = known.cells.edges[range(&cell.edges)].iter();
        edges.extend(of_cell.map(|edge| Edge { sites: edge.sites.map(now), ..*edge }));
        let of_cell = known.cells.contacts[range(&cell.contacts)].iter();
        contacts.extend(of_cell.map(|contact| NodeContact {
            node: now(Site::node(contact.node)).index(),
            beyond: contact.beyond.map(now),
            ..*contact
        }));
        Some(Cell { borders: cell.borders.map(now), ..cell.clone() })
    }
}

fn range(range: &Range<u32>) -> Range<usize> {
    range.start as usize..range.end as usize
}

/// A box round the discs at the ends of an edge.
fn discs_box(known: &Known, edge: &Edge) -> Rect {
    let reach = edge.ends.map(|at| {
        let radius = edge.sites.map(|site| {
            let [a, b] = known.segments[site.index() as usize].map(point);
            if site.is_node() { at.distance(a) } else { (b - a).perp_dot(at - a).abs() / (b - a).length() }
        });
        Rect::new(at, at).grown(radius[0].max(radius[1]))
    });
    reach[0].union(reach[1])
}

#[cfg(test)]
mod tests {
    use super::super::diagram::{edges, edges_after};
    use super::*;
    use crate::geometry::{FillRule, Grid, Region};
    use glam::{DVec2, dvec2};
    use proptest::prelude::*;
    use std::f64::consts::TAU;
    use std::sync::atomic::AtomicBool;

    /// Stars of spikes in rows, which may reach over each other.
    fn stars() -> impl Strategy<Value = Vec<Vec<DVec2>>> {
        let star = (-1.0..1.0_f64, -1.0..1.0_f64, prop::collection::vec(0.3..3.0_f64, 3..30));
        prop::collection::vec(star, 6..14).prop_map(|stars| {
            let ring = |(i, (x, y, spikes)): (usize, (f64, f64, Vec<f64>))| {
                let turn = TAU / spikes.len() as f64;
                let middle = dvec2((i % 4) as f64 * 5.0 + x, (i / 4) as f64 * 5.0 + y);
                let corner = |(k, reach): (usize, f64)| middle + DVec2::from_angle(k as f64 * turn) * reach;
                spikes.into_iter().enumerate().map(corner).collect()
            };
            stars.into_iter().enumerate().map(ring).collect()
        })
    }

    fn region(rings: &[Vec<DVec2>]) -> Region {
        // What everything lies in keeps the extent as it is.
        let frame = Rect::new(DVec2::splat(-9.0), DVec2::splat(29.0));
        let rings: Vec<_> = rings.iter().cloned().chain([frame.corners().to_vec()]).collect();
        Region::clean(Grid::covering(frame), &rings, FillRule::EvenOdd)
    }

    /// The edges of a diagram that are longer than a step, in order, for one that is shorter may be there or not in a
    /// tie; with it what is kept, and of how many segments cells were taken over.
    fn worked_out(region: &Region, before: Option<&Known>) -> (Vec<Edge>, Known, usize) {
        let sites = Sites::of(&region.node_segments());
        let tree = BoxTree::of(&sites.segments);
        let change =
            before.map_or_else(|| Change::none(&sites, &tree), |known| Change::of(known, &sites, &tree));
        let never = AtomicBool::new(false);
        let mut all = Vec::new();
        let (cells, _) =
            edges_after(&change, &Face::BOTH, true, &never, |edges| edges, |edges| all.extend(edges));
        let taken_over = change.before.iter().flatten().count();
        all.retain(|edge| edge.ends[0].distance(edge.ends[1]) > 1.0);
        all.sort_by(|a, b| {
            let by_place = || a.ends[0].x.total_cmp(&b.ends[0].x).then(a.ends[0].y.total_cmp(&b.ends[0].y));
            (a.face, a.sites).cmp(&(b.face, b.sites)).then_with(by_place)
        });
        (all, Known::of(&sites, &tree, cells.expect("it is kept")), taken_over)
    }

    /// Whether two diagrams are the same but for rounding, which goes by where a search began.
    fn are_alike(some: &[Edge], others: &[Edge]) -> bool {
        let alike = |(a, b): (&Edge, &Edge)| {
            let apart = [0, 1].map(|end| a.ends[end].distance(b.ends[end]));
            (a.face, a.sites) == (b.face, b.sites) && apart.into_iter().all(|apart| apart < 0.01)
        };
        some.len() == others.len() && some.iter().zip(others).all(alike)
    }

    proptest! {
        /// What is taken over is what would be worked out: after a star was moved, and after another was left out of
        /// that.
        #[test]
        fn it_comes_out_as_worked_out_anew(mut rings in stars(), by in -2.0..2.0_f64, which in 0..6_usize) {
            let (_, known, none) = worked_out(&region(&rings), None);
            prop_assert_eq!(none, 0);
            for corner in &mut rings[which] {
                *corner += dvec2(by, 0.3 * by);
            }
            let moved = region(&rings);
            let (after, known, _) = worked_out(&moved, Some(&known));
            prop_assert!(are_alike(&after, &worked_out(&moved, None).0));
            rings.remove((which + 3) % rings.len());
            let fewer = region(&rings);
            prop_assert!(are_alike(&worked_out(&fewer, Some(&known)).0, &worked_out(&fewer, None).0));
        }
    }

    /// Where one of a hundred squares is made smaller, most of the others stay as they are.
    #[test]
    fn what_lies_far_from_a_change_is_taken_over() {
        let square = |k: u32, half: f64| {
            let middle = dvec2(f64::from(k % 10) * 2.5, f64::from(k / 10) * 2.6) - 2.0;
            Rect::new(middle - half, middle + half).corners().to_vec()
        };
        let squares = |changed: f64| -> Vec<Vec<DVec2>> {
            (0..100).map(|k| square(k, if k == 45 { changed } else { 0.7 + 0.001 * f64::from(k) })).collect()
        };
        let (_, known, _) = worked_out(&region(&squares(0.745)), None);
        let (_, _, taken_over) = worked_out(&region(&squares(0.6)), Some(&known));
        assert!(taken_over > 300, "{taken_over} of 404");
        // The same again is taken over whole, but for what looks at nothing.
        let (_, _, all) = worked_out(&region(&squares(0.745)), Some(&known));
        assert!(all >= 400, "{all}");
        let sites = Sites::of(&region(&squares(0.745)).node_segments());
        let tree = BoxTree::of(&sites.segments);
        let (_, looks) = edges(&sites, &tree, &Face::BOTH, &AtomicBool::new(false), |edges| edges.len());
        let again = Change::of(&known, &sites, &tree);
        let never = AtomicBool::new(false);
        let (_, few) = edges_after(&again, &Face::BOTH, false, &never, |edges| edges.len(), |_| ());
        assert!(10 * few < looks, "{few} of {looks}");
    }
}
