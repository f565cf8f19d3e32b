//! Pierced outlines: in steps down through the board, with bridges left to hold what is cut out.

#![expect(clippy::cast_sign_loss, reason = "what is cast is not negative: counted, clamped or rounded up")]

use crate::job::Bridge;
use glam::{DVec2, DVec3};

/// One round of a closed chain at a depth, lifted over the bridges where it is deeper than they are
/// thick. `radius` is the cutter's: a bridge is wood between two cuts, so the cutter lifts that much before
/// and after. `thickness` is the board's.
pub(super) fn round(
    ring: &[DVec2],
    depth: f64,
    thickness: f64,
    radius: f64,
    bridge: Option<Bridge>,
) -> Vec<DVec3> {
    let length: f64 = ring.windows(2).map(|pair| pair[0].distance(pair[1])).sum();
    let lifted = bridge.map_or(0.0, |bridge| thickness - bridge.height.get()).max(0.0);
    let holds = bridge.filter(|bridge| bridge.length.get() > 0.0 && depth > lifted);
    let Some(bridge) = holds else { return ring.iter().map(|p| p.extend(-depth)).collect() };
    let count = (length / bridge.apart.get()).ceil().clamp(2.0, 1000.0);
    let apart = length / count;
    // A bridge longer than the way to the next is one bridge all round.
    let half = (bridge.length.get() / 2.0 + radius).min(apart / 2.0);
    // Where along the ring the cutter goes up and down again, in order.
    let mut edges =
        (0..count as u32).flat_map(|i| [-1.0, 1.0].map(|side| (f64::from(i) + 0.5) * apart + side * half));
    let mut edge = edges.next();
    let mut over_bridge = false;
    let mut points = Vec::with_capacity(ring.len() + 4 * count as usize);
    let mut walked = 0.0;
    let z = |over_bridge: bool| if over_bridge { -lifted } else { -depth };
    for pair in ring.windows(2) {
        let [a, b] = [pair[0], pair[1]];
        let long = a.distance(b);
        points.push(a.extend(z(over_bridge)));
        while let Some(at) = edge.filter(|&at| at <= walked + long) {
            let place = if long > 0.0 { a.lerp(b, (at - walked) / long) } else { a };
            points.push(place.extend(z(over_bridge)));
            over_bridge = !over_bridge;
            points.push(place.extend(z(over_bridge)));
            edge = edges.next();
        }
        walked += long;
    }
    points.extend(ring.last().map(|p| p.extend(z(over_bridge))));
    points.dedup();
    points
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::Mm;
    use glam::dvec2;

    #[test]
    fn bridges_take_their_length_and_are_spread_evenly() {
        let square = [(0.0, 0.0), (100.0, 0.0), (100.0, 100.0), (0.0, 100.0), (0.0, 0.0)];
        let ring: Vec<DVec2> = square.iter().map(|&(x, y)| dvec2(x, y)).collect();
        let bridge = Bridge { length: Mm::new(6.0), height: Mm::new(1.5), apart: Mm::new(100.0) };
        let path = round(&ring, 18.0, 18.0, 1.5, Some(bridge));
        let high = |p: &DVec3| (p.z + 16.5).abs() < 1e-12;
        let lifted: f64 =
            path.windows(2).filter(|w| high(&w[0]) && high(&w[1])).map(|w| w[0].distance(w[1])).sum();
        assert!((lifted - 4.0 * 9.0).abs() < 1e-9, "four bridges of 6 mm and a cutter of 3 mm: {lifted}");
        let shallow = round(&ring, 16.0, 18.0, 1.5, Some(bridge));
        assert!(shallow.iter().all(|p| p.z == -16.0), "bridges are lower than this step");
    }
}
