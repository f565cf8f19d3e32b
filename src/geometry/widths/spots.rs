//! Spots: outlines about as wide as they are long.
//!
//! Seen from the middle of a peg, a dot or a round hole no two nearest places of the outline lie opposite each
//! other, or all do, and its axis is corners from end to end: nothing of it is kept. What is told of such an outline
//! is its largest disc, as a piece without length.
//!
//! An outline that has a hole in it, or lies in one, has a wall or groove between the two; so a spot is always the
//! inside of one ring.

use super::axis::{Draft, direction, in_order};
use super::piece::{AxisPoint, Curve, NO_TIP, Piece};
use crate::geometry::voronoi::{Face, Site, Sites, point};
use glam::DVec2;
use std::collections::BTreeMap;

/// The rings that bound the parts of one face: which each segment belongs to, and which of them have the face within
/// and not round them. Where rings touch in a node, the parts of the face that touch there are told apart.
pub(super) struct Rings {
    of: Vec<u32>,
    holds: Vec<bool>,
}

impl Rings {
    /// `O(n)`, and `O(m log m)` in segments that meet where rings touch.
    pub(super) fn of(sites: &Sites, face: Face) -> Rings {
        const NONE: u32 = u32::MAX;
        let following = sites.following(face);
        let mut rings = Rings { of: vec![NONE; sites.count()], holds: Vec::new() };
        for start in 0..sites.count() as u32 {
            if rings.of[start as usize] != NONE {
                continue;
            }
            let ring = u32::try_from(rings.holds.len()).expect("rings are counted in 32 bits");
            let origin = point(sites.segment(start)[0]);
            let (mut doubled_area, mut segment) = (0.0, start);
            while rings.of[segment as usize] == NONE {
                rings.of[segment as usize] = ring;
                let [a, b] = sites.segment(segment).map(point);
                doubled_area += (a - origin).perp_dot(b - origin);
                segment = following[segment as usize];
            }
            // The inside lies to the left.
            rings.holds.push((doubled_area > 0.0) == (face == Face::Inside));
        }
        rings
    }

    fn at(&self, site: Site) -> u32 {
        self.of[site.index() as usize]
    }
}

/// The middle of a disc that touches an outline.
#[derive(Clone, Copy, Debug)]
pub(super) struct Disc {
    pub(super) at: DVec2,
    pub(super) radius: f64,
    /// Two of the places where it touches.
    pub(super) feet: [DVec2; 2],
}

impl Disc {
    /// Wider first; of two as wide the place decides, so that the order in which they are met plays no part.
    fn is_before(&self, other: &Disc) -> bool {
        let by_place = || self.at.x.total_cmp(&other.at.x).then(self.at.y.total_cmp(&other.at.y));
        other.radius.total_cmp(&self.radius).then_with(by_place).is_lt()
    }

    fn draft(self) -> Draft {
        // Nothing meets it.
        let end = AxisPoint { at: self.at, width: 2.0 * self.radius, vertex: AxisPoint::BETWEEN };
        let piece = Piece {
            narrow: end,
            wide: end,
            direction: direction((self.feet[1] - self.feet[0]).perp()),
            feet: in_order(self.feet),
            taper: false,
            curve: Curve::Line,
            tip: NO_TIP,
        };
        Draft { piece, apex: None }
    }
}

/// What the axis beside a ring came to.
#[derive(Clone, Copy)]
struct Beside {
    ring: u32,
    /// Whether any of it is kept.
    kept: bool,
    widest: Disc,
}

impl Beside {
    fn take_in(&mut self, other: Beside) {
        self.kept |= other.kept;
        if other.widest.is_before(&self.widest) {
            self.widest = other.widest;
        }
    }
}

/// What the axis of one face came to beside each ring that has it within, as it was met.
#[derive(Default)]
pub(super) struct Seen(Vec<Beside>);

impl Seen {
    /// Takes in an edge of the diagram: whether any of it is kept, and the widest disc on it.
    pub(super) fn edge(&mut self, rings: &Rings, sites: [Site; 2], kept: bool, widest: Disc) {
        let [first, second] = sites.map(|site| rings.at(site));
        let both = [first, second].into_iter().take(if first == second { 1 } else { 2 });
        for ring in both.filter(|&ring| rings.holds[ring as usize]) {
            let beside = Beside { ring, kept, widest };
            // Sites come ring by ring, as far as they lie together.
            match self.0.last_mut().filter(|last| last.ring == ring) {
                Some(last) => last.take_in(beside),
                None => self.0.push(beside),
            }
        }
    }

    /// Takes over what another has seen.
    pub(super) fn append(&mut self, other: &mut Seen) {
        self.0.append(&mut other.0);
    }

    /// A draft for each of those rings nothing of whose axis is kept. `O(n log n)` in rings.
    pub(super) fn spots(self) -> Vec<Draft> {
        let mut by_ring: BTreeMap<u32, Beside> = BTreeMap::new();
        for beside in self.0 {
            by_ring.entry(beside.ring).and_modify(|all| all.take_in(beside)).or_insert(beside);
        }
        by_ring.into_values().filter(|all| !all.kept).map(|all| all.widest.draft()).collect()
    }
}

#[cfg(test)]
mod tests {
    use crate::geometry::widths::{WidthMap, measure};
    use crate::geometry::{FillRule, Grid, Rect, Region};
    use glam::{DVec2, dvec2};
    use std::f64::consts::TAU;

    fn ring(middle: DVec2, corners: u32, radius: f64) -> Vec<DVec2> {
        let corner =
            |i: u32| middle + DVec2::from_angle(TAU * (f64::from(i) + 0.5) / f64::from(corners)) * radius;
        (0..corners).map(corner).collect()
    }

    fn widths(map: &WidthMap) -> Vec<(f64, DVec2)> {
        map.pieces().iter().map(|piece| (piece.narrow.width, piece.narrow.at)).collect()
    }

    fn region(rings: &[Vec<DVec2>]) -> Region {
        let bounds = Rect::around(rings.iter().flatten().copied()).unwrap();
        Region::clean(Grid::covering(bounds), rings, FillRule::EvenOdd)
    }

    /// The circle within a regular polygon is `cos(pi / n)` times as wide as that round it.
    #[test]
    fn a_peg_is_as_wide_as_its_largest_disc() {
        for corners in [4, 5, 6, 8, 17, 48, 360] {
            let middle = dvec2(3.0, -2.0);
            let both = measure(&region(&[ring(middle, corners, 1.5)]));
            let found = widths(&both.inside);
            let width = 3.0 * (std::f64::consts::PI / f64::from(corners)).cos();
            // Beside the middle, snapping to the grid may leave slivers of axis; they are as wide.
            assert!(!found.is_empty(), "{corners} corners");
            for (wide, at) in found {
                assert!(
                    (wide - width).abs() < 1e-6 && at.distance(middle) < 1e-3,
                    "{corners}: {wide} at {at}"
                );
            }
            assert!(both.outside.pieces().is_empty(), "round a peg alone there is no groove");
        }
    }

    #[test]
    fn a_square_hole_is_a_groove_as_wide_as_it_is() {
        let plate = ring(DVec2::ZERO, 4, 40.0);
        let both = measure(&region(&[plate, ring(dvec2(1.0, 2.0), 4, 2.0_f64.sqrt())]));
        let found = widths(&both.outside);
        assert_eq!(found.len(), 1, "{found:?}");
        assert!((found[0].0 - 2.0).abs() < 1e-6 && found[0].1.distance(dvec2(1.0, 2.0)) < 1e-6, "{found:?}");
    }

    #[test]
    fn an_outline_with_a_wall_of_its_own_has_no_spot() {
        // A bar, a ring, and a slender triangle: a wall, a wall that closes on itself, and a point.
        let bar = vec![dvec2(0.0, 0.0), dvec2(20.0, 0.0), dvec2(20.0, 4.0), dvec2(0.0, 4.0)];
        let frame = [ring(dvec2(40.0, 0.0), 4, 9.0), ring(dvec2(40.0, 0.0), 4, 6.0)];
        let point = vec![dvec2(60.0, 0.0), dvec2(64.0, 0.0), dvec2(62.0, 20.0)];
        let [outer, hole] = frame;
        let map = measure(&region(&[bar, outer, hole, point])).inside;
        assert!(map.pieces().iter().all(|piece| piece.length() > 0.0), "{:?}", map.pieces());
    }
}
