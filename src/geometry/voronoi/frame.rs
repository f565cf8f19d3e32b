//! A segment's own frame, and the discs that roll along it.
//!
//! At each place of a segment there is one disc that touches it there and another site too. Its radius along the
//! segment is linear for another segment, and a parabola for a node: curves in the segment's frame, with the origin at
//! its start, x along it and y into the face.
//!
//! How nodes and directions lie to each other is worked out in whole numbers and rounded once; so differences of what
//! is nearly the same are good to the last bits. In steps throughout.

use super::sites::{Direction, Face, Site, Sites, point};
use glam::DVec2;
use i_overlay::i_float::int::point::IntPoint;

/// A segment seen from one of its faces: its start is the origin, x runs along it and y into the face.
#[derive(Clone, Copy)]
pub(super) struct Frame<'a> {
    sites: &'a Sites,
    face: Face,
    start: IntPoint<i32>,
    direction: Direction,
    along: DVec2,
    pub(super) length: f64,
}

/// The line of another segment, by its unit normal into the face.
struct Line {
    normal: DVec2,
    /// One less the normal's y, without loss where that is nearly one: how fast a disc on the x axis outgrows the line.
    factor: f64,
}

impl<'a> Frame<'a> {
    pub(super) fn of(sites: &'a Sites, face: Face, segment: u32) -> Frame<'a> {
        let [start, end] = sites.seen_from(face, segment);
        let (direction, along) = (Direction::from(start, end), sites.along_from(face, segment));
        Frame { sites, face, start, direction, along, length: sites.length(segment) }
    }

    /// A direction in this frame.
    fn turned(&self, way: Direction) -> DVec2 {
        DVec2::new(self.direction.dot(way) as f64, self.direction.cross(way) as f64) / self.length
    }

    fn local(&self, node: IntPoint<i32>) -> DVec2 {
        self.turned(Direction::from(self.start, node))
    }

    pub(super) fn place(&self, x: f64, y: f64) -> DVec2 {
        point(self.start) + self.along * x + self.along.perp() * y
    }

    fn node(&self, site: Site) -> IntPoint<i32> {
        self.sites.node_at(site.index())
    }

    /// The end of another segment that lies nearer to the x axis.
    fn nearer_end(&self, site: Site) -> DVec2 {
        let [a, b] = self.sites.seen_from(self.face, site.index()).map(|end| self.local(end));
        if a.y.abs() <= b.y.abs() { a } else { b }
    }

    fn line(&self, site: Site) -> Line {
        let [a, b] = self.sites.seen_from(self.face, site.index());
        let normal = self.turned(Direction::from(a, b)).perp() / self.sites.length(site.index());
        let factor = if normal.y > 0.0 { normal.x * normal.x / (1.0 + normal.y) } else { 1.0 - normal.y };
        Line { normal, factor }
    }

    /// The radius of the disc that touches this segment at `x` and another site; `None` where there is none.
    pub(super) fn radius(&self, site: Site, x: f64) -> Option<f64> {
        if site.is_node() {
            let at = self.local(self.node(site));
            let off = x - at.x;
            return (at.y > 0.0).then(|| 0.5 * (off * off / at.y + at.y));
        }
        let (slope, base, height) = self.rise(site)?;
        Some((x - base) * slope + height)
    }

    /// Where the disc that touches this segment and another site has a radius, as it `rises` along the segment or falls.
    pub(super) fn reach(&self, site: Site, radius: f64, rises: bool) -> Option<f64> {
        if site.is_node() {
            let at = self.local(self.node(site));
            let off = (at.y * (2.0 * radius - at.y)).sqrt();
            return off.is_finite().then_some(if rises { at.x + off } else { at.x - off });
        }
        let (slope, base, height) = self.rise(site)?;
        ((slope > 0.0) == rises).then(|| base + (radius - height) / slope)
    }

    /// How the radius of the discs that touch another segment too grows along this one; a place, and what it is there.
    fn rise(&self, site: Site) -> Option<(f64, f64, f64)> {
        let Line { normal, factor } = self.line(site);
        let (slope, base) = (normal.x / factor, self.nearer_end(site));
        (factor > 0.0).then(|| (slope, base.x + base.y * slope, base.y / factor))
    }

    /// Where a disc touches this segment and two other sites, and its radius: the one is nearer for smaller `x`, the other
    /// for larger. There is one such place at most.
    pub(super) fn meeting(&self, left: Site, right: Site) -> Option<(f64, f64)> {
        match (left.is_node(), right.is_node()) {
            (true, true) => {
                let nodes = [left, right].map(|site| self.node(site));
                let at = nodes.map(|node| self.local(node));
                // By how much the other comes into discs that touch the one farther from the axis.
                let far = usize::from(at[0].y < at[1].y);
                let base = at[far];
                let across = self.turned(Direction::from(nodes[far], nodes[1 - far]));
                let inside =
                    [0.5 * across.y / base.y, across.x, -0.5 * (across.y * base.y + across.length_squared())];
                on_parabola(base, inside, far == 0)
            }
            (true, false) => on_parabola(self.local(self.node(left)), self.beyond(left, right), true),
            (false, true) => on_parabola(self.local(self.node(right)), self.beyond(right, left), false),
            (false, false) => {
                let ((s, m, k), (t, n, l)) = (self.rise(left)?, self.rise(right)?);
                let about = 0.5 * self.length;
                let apart = (about - n) * t + l - ((about - m) * s + k);
                let x = about + apart / (s - t);
                let y = if s.abs() < t.abs() { (x - m) * s + k } else { (x - n) * t + l };
                (s > t).then_some((x, y))
            }
        }
    }

    /// By how much a line comes into the discs that touch this segment and a node: a polynomial in how far from the
    /// node's foot they do.
    fn beyond(&self, node: Site, line: Site) -> [f64; 3] {
        let node = self.node(node);
        let at = self.local(node);
        let Line { normal, factor } = self.line(line);
        let apart = if normal.y > 0.5 {
            // The two run on nearly as one line: what they differ by, from where the other begins or ends.
            let base = self.nearer_end(line);
            0.5 * factor * at.y - normal.x * (at.x - base.x) + normal.y * base.y
        } else {
            let [a, b] = self.sites.seen_from(self.face, line.index());
            let off = Direction::from(a, b).cross(Direction::from(a, node)) as f64;
            0.5 * (1.0 + normal.y) * at.y - off / self.sites.length(line.index())
        };
        [0.5 * factor / at.y, -normal.x, apart]
    }
}

/// Where a polynomial along the parabola of a node passes through zero, upwards if it `rises`.
fn on_parabola(node: DVec2, [a, b, c]: [f64; 3], rises: bool) -> Option<(f64, f64)> {
    let [a, b, c] = if rises { [a, b, c] } else { [-a, -b, -c] };
    let root = (b * b - 4.0 * a * c).sqrt();
    // The half that does not cancel.
    let off = if b > 0.0 { -2.0 * c / (b + root) } else { (root - b) / (2.0 * a) };
    (node.y > 0.0 && off.is_finite()).then(|| (node.x + off, 0.5 * (off * off / node.y + node.y)))
}
