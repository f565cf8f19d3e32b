//! Where two parts of an outline are nearest to each other across a face.
//!
//! A *contact* is a disc that holds nothing and touches two sites straight opposite each other: a node that juts out, and
//! a segment or another such node. Along the edge of the diagram through its middle the distance is least there, so it is
//! where two arcs of the [front](super::front) run into each other. No other place is: between two segments the distance
//! is least at an end of the edge, and if it is the same all along, there is a node that juts out at an end of it.
//!
//! Each node looks for its own. It sees no more than what lies at least a quarter turn away from both its segments. And
//! whatever lies beyond a place of the outline, past the line across the way there, cannot be a contact: the disc would
//! hold that place. So the view is a convex part of the plane, which what is met cuts off from all sides, nearest first.

use super::boxes::{BoxTree, Disc, View, Walk};
use super::sites::{Cone, Direction, Face, Site, Sites, point};
use super::tuning::{BLOCK, CLEARLY, LIKELY, SEEDS};
use crate::geometry::nearest_on;
use crate::geometry::region::Segment;
use glam::DVec2;
use i_overlay::i_float::int::point::IntPoint;
use rayon::prelude::*;
use std::sync::atomic::{AtomicBool, Ordering};

/// An empty disc between two parts of an outline.
#[derive(Clone, Copy, Debug)]
pub(super) struct Contact {
    pub(super) radius: f64,
    /// Its middle.
    pub(super) at: DVec2,
    pub(super) sites: [Site; 2],
    /// Where it touches each, in the direction of the front: how far along a segment, or how far round a node; as bits that
    /// sort as numbers do.
    pub(super) along: [u64; 2],
}

/// All contacts on one face, by node, and how many nodes of the tree were looked into for them. `following` tells
/// which segment comes after each.
pub(super) fn contacts(
    sites: &Sites,
    following: &[u32],
    tree: &BoxTree,
    face: Face,
    cancel: &AtomicBool,
) -> (Vec<Contact>, u64) {
    let of_block = |(block, cones): (usize, &[Option<Cone>])| {
        let (walk, view) = (Walk::default(), View::default());
        let mut search = Search { sites, following, tree, face, walk, view, found: Vec::new() };
        let mut met = Vec::new();
        for (node, cone) in ((block * BLOCK) as u32..).zip(cones) {
            if cancel.load(Ordering::Relaxed) {
                break;
            }
            if let Some(cone) = cone.filter(|cone| cone.face == face) {
                search.look_from(node, cone, &mut met);
            }
        }
        (search.found, search.walk.looks)
    };
    let blocks: Vec<(Vec<Contact>, u64)> = sites.cones.par_chunks(BLOCK).enumerate().map(of_block).collect();
    let looks = blocks.iter().map(|(_, looks)| looks).sum();
    (blocks.into_iter().flat_map(|(found, _)| found).collect(), looks)
}

/// A segment that was met, and its place that is nearest to the node, seen from there.
type Met = (u32, DVec2);

/// What may be a contact: the other site, its place as seen from the node, and where along it that is.
type Candidate = (Site, DVec2, f64);

struct Search<'a> {
    sites: &'a Sites,
    following: &'a [u32],
    tree: &'a BoxTree,
    face: Face,
    walk: Walk,
    view: View,
    found: Vec<Contact>,
}

impl Search<'_> {
    /// Finds the contacts of a node with segments, and with nodes of a higher number.
    fn look_from(&mut self, node: u32, cone: Cone, met: &mut Vec<Met>) {
        let Search { sites, tree, face, .. } = *self;
        let at = sites.node_at(node);
        let units = [sites.along_from(face, cone.first), -sites.along_from(face, cone.last)];
        self.view.start(point(at), tree.around(), units);
        // What the node before has met is likely to be near, and so is what comes next along the outline.
        let beyond = [sites.neighbours(cone.first), sites.neighbours(cone.last)];
        let near = met.iter().take(SEEDS).map(|&(segment, _)| segment).chain(beyond.into_iter().flatten());
        for segment in near {
            let ends = sites.segment(segment);
            if !ends.contains(&at) {
                self.view.leave_out_beyond(nearest(point(at), ends));
            }
        }
        met.clear();
        tree.visit_view(&mut self.walk, &mut self.view, |view, segment, ends| {
            if !ends.contains(&at) {
                let nearest = nearest(point(at), ends);
                met.push((segment, nearest));
                view.leave_out_beyond(nearest);
            }
        });
        let away = self.away(cone);
        for (i, &(segment, nearest)) in met.iter().enumerate() {
            let about = &met[i.saturating_sub(LIKELY)..met.len().min(i + LIKELY)];
            let candidates = [self.segment(segment, nearest, at, away), self.node(segment, node, at, away)];
            for candidate in candidates.into_iter().flatten() {
                self.take(node, cone, candidate, about);
            }
        }
    }

    /// The directions in which the segments at a node lead away from it.
    fn away(&self, cone: Cone) -> [Direction; 2] {
        let last = self.sites.direction(self.face, cone.last);
        [self.sites.direction(self.face, cone.first), last.reversed()]
    }

    /// The contact with a segment there may be: straight in front of it, where it does not end. Where it goes straight on
    /// as another, its end counts as its own.
    fn segment(
        &self,
        segment: u32,
        nearest: DVec2,
        at: IntPoint<i32>,
        away: [Direction; 2],
    ) -> Option<Candidate> {
        let [start, _] = self.sites.seen_from(self.face, segment);
        let (own, to_node) = (self.sites.direction(self.face, segment), Direction::from(start, at));
        let (along, long) = (own.dot(to_node), own.dot(own));
        let goes_on = || self.sites.goes_straight_on(self.face, segment, self.following[segment as usize]);
        let faces = own.cross(to_node) > 0
            && along > 0
            && (along < long || (along == long && goes_on()))
            && away.into_iter().all(|away| own.cross(away) >= 0);
        let along = along as f64 / self.sites.length(segment);
        faces.then_some((Site::segment(segment), nearest, along))
    }

    /// The contact with a node of a higher number there may be: where each lies in front of the other.
    fn node(&self, other: u32, node: u32, at: IntPoint<i32>, away: [Direction; 2]) -> Option<Candidate> {
        let cone = self.sites.cones[other as usize].filter(|cone| cone.face == self.face && other > node)?;
        let across = Direction::from(at, self.sites.node_at(other));
        let faces = away.into_iter().all(|away| across.dot(away) <= 0)
            && self.away(cone).into_iter().all(|away| across.dot(away) >= 0);
        faces.then(|| (Site::node(other), across.place(), self.turn(cone, -across.place())))
    }

    /// How far round a node a direction lies, from where the front begins there.
    fn turn(&self, cone: Cone, way: DVec2) -> f64 {
        let begins = self.sites.along_from(self.face, cone.last).perp();
        way.perp_dot(begins).atan2(way.dot(begins)).max(0.0)
    }

    /// Takes in a contact if its disc is empty. Some of what was met is more likely to be in the way than others.
    fn take(&mut self, node: u32, cone: Cone, (other, across, along): Candidate, likely: &[Met]) {
        let disc = Between::of(self.sites, self.sites.node_at(node), other, across);
        let is_empty = !likely.iter().any(|&(segment, _)| disc.holds(self.sites.segment(segment)))
            && !self.tree.any_in_disc(&mut self.walk, &disc.disc, |edge| disc.holds(edge));
        if is_empty {
            let along = [self.turn(cone, across), along].map(f64::to_bits);
            let Disc { at, radius } = disc.disc;
            self.found.push(Contact { radius, at, sites: [Site::node(node), other], along });
        }
    }
}

/// The disc between a node and what lies straight opposite.
///
/// Whether a node lies in it is worked out in whole numbers, for where two parts of an outline run alike, the nodes next
/// to the one that it touches lie outside by less than can be told otherwise. A node on its rim counts as in it: of four
/// on one circle none are then in contact across it. A segment between its nodes comes into it only where that is clear:
/// behind one that the disc touches, another may lie by less than rounding.
struct Between {
    disc: Disc,
    node: IntPoint<i32>,
    /// What lies opposite: a segment, or a node twice.
    opposite: Segment,
    /// Along the segment, how far the node's foot is from its start, as a scalar product, and its length squared.
    along: Direction,
    foot: i64,
    squared: i64,
}

impl Between {
    fn of(sites: &Sites, node: IntPoint<i32>, other: Site, across: DVec2) -> Between {
        let [start, end] = sites.segment(other.index());
        let opposite = [start, if other.is_node() { start } else { end }];
        let along = Direction::from(opposite[0], opposite[1]);
        let disc = Disc { at: point(node) + 0.5 * across, radius: 0.5 * across.length() };
        let (foot, squared) = (along.dot(Direction::from(start, node)), along.dot(along));
        Between { disc, node, opposite, along, foot, squared: squared.max(1) }
    }

    /// Whether a segment comes into it. What it touches, and what meets that in a node that it touches, does not.
    fn holds(&self, [a, b]: Segment) -> bool {
        let is_touched = |node: IntPoint<i32>| node == self.node || self.opposite == [node; 2];
        if is_touched(a) || is_touched(b) || self.opposite == [a, b] {
            return false;
        }
        let (from, run) = (point(a) - self.disc.at, point(b) - point(a));
        let share = -from.dot(run);
        let crosses = share > 0.0
            && share < run.length_squared()
            && from.perp_dot(run).abs() < (self.disc.radius - CLEARLY) * run.length();
        crosses || self.holds_node(a) || self.holds_node(b)
    }

    fn holds_node(&self, node: IntPoint<i32>) -> bool {
        if self.opposite.contains(&node) {
            return false;
        }
        // It sees both ends of the diameter at a quarter turn or more.
        let from_node = Direction::from(self.node, node);
        let from_start = i128::from(from_node.dot(Direction::from(self.opposite[0], node)));
        let along = i128::from(from_node.dot(self.along));
        from_start * i128::from(self.squared) <= along * i128::from(self.foot)
    }
}

/// The place of a segment that is nearest to a point, seen from there.
fn nearest(at: DVec2, [a, b]: Segment) -> DVec2 {
    nearest_on([point(a) - at, point(b) - at], DVec2::ZERO)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geometry::{FillRule, Grid, Rect, Region};
    use glam::dvec2;
    use std::f64::consts::TAU;

    fn found(rings: &[Vec<DVec2>], face: Face) -> (Vec<Contact>, f64) {
        let around = Rect::around(rings.iter().flatten().copied()).expect("there are places");
        let region = Region::clean(Grid::covering(around), rings, FillRule::EvenOdd);
        let sites = Sites::of(&region.node_segments());
        let tree = sites.tree();
        let (found, looks) = contacts(&sites, &sites.following(face), &tree, face, &AtomicBool::new(false));
        let step = region.grid().step();
        let count = sites.count();
        let in_mm = found.into_iter().map(|contact| Contact { radius: contact.radius * step, ..contact });
        (in_mm.collect(), looks as f64 / count as f64)
    }

    fn radii(found: &[Contact]) -> Vec<f64> {
        found.iter().map(|contact| (contact.radius * 1e3).round() / 1e3).collect()
    }

    /// Four squares about a crossing: across each of the four lanes both pairs of corners, but not across the crossing,
    /// whose four corners lie on one circle.
    #[test]
    fn corners_that_face_each_other_touch() {
        let square = |x: f64, y: f64| Rect::new(dvec2(x, y), dvec2(x + 10.0, y + 10.0)).corners().to_vec();
        let squares = [square(0.0, 0.0), square(14.0, 0.0), square(0.0, 14.0), square(14.0, 14.0)];
        let (found, _) = found(&squares, Face::Outside);
        assert_eq!(radii(&found), [2.0; 8]);
        assert!(found.iter().all(|contact| contact.sites.iter().all(|site| site.is_node())));
    }

    /// A tooth that comes down upon a floor touches it straight below its tip.
    #[test]
    fn a_tip_touches_what_it_points_at() {
        let room =
            vec![dvec2(0.0, 0.0), dvec2(30.0, 0.0), dvec2(30.0, 20.0), dvec2(15.0, 6.0), dvec2(0.0, 20.0)];
        let (found, _) = found(&[room], Face::Inside);
        assert_eq!(radii(&found), [3.0]);
        assert!(found[0].sites[0].is_node() && !found[0].sites[1].is_node());
    }

    fn regular(sides: usize, radius: f64) -> Vec<DVec2> {
        let corner = |i| DVec2::from_angle(TAU * i as f64 / sides as f64) * radius;
        (0..sides).map(corner).collect()
    }

    fn star(spikes: usize) -> Vec<DVec2> {
        let reach = |i: usize| if i.is_multiple_of(2) { 30.0 } else { 60.0 + (i * 37 % 101) as f64 * 0.4 };
        (0..2 * spikes).map(|i| DVec2::from_angle(TAU * i as f64 / (2 * spikes) as f64) * reach(i)).collect()
    }

    /// However many sides an outline has, and however many of them a disc all but touches, a side costs about as much.
    #[test]
    fn how_much_is_looked_into_hardly_grows_with_the_number_of_sides() {
        let rings_in_rings = |sides: usize| -> Vec<Vec<DVec2>> {
            (1..=sides / 64).map(|i| regular(64, 95.0 * i as f64 * 64.0 / sides as f64)).collect()
        };
        let shapes = |sides: usize| {
            [
                ("regular polygon", vec![regular(sides, 90.0)]),
                ("star", vec![star(sides / 2)]),
                ("rings in rings", rings_in_rings(sides)),
                ("polygon round a dot", vec![regular(sides - 16, 90.0), regular(16, 1.0)]),
            ]
        };
        for ((name, few), (_, many)) in shapes(1_024).into_iter().zip(shapes(16_384)) {
            for face in Face::BOTH {
                let [(_, some), (found, more)] = [&few, &many].map(|rings| found(rings, face));
                let grows = more / some.max(1.0);
                assert!(more < 40.0 && grows < 2.0, "{name} {face:?}: {some} and {more} looks a side");
                assert!(found.len() < 16_384, "{name} {face:?}: no more contacts than nodes");
            }
        }
    }
}
