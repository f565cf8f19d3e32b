//! Outlines for the benches: letter-like and leaf-like, of any number of points, the same on every machine.

use glam::{DVec2, dvec2};
use spelk::geometry::{FillRule, Grid, Rect, Region};
use std::f64::consts::TAU;

/// A linear congruential generator (Knuth's MMIX multiplier): the same outlines on every machine.
pub(crate) struct Seeded(pub(crate) u64);

impl Seeded {
    pub(crate) fn between(&mut self, low: f64, high: f64) -> f64 {
        self.0 = self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        low + (high - low) * (self.0 >> 11) as f64 / (1_u64 << 53) as f64
    }
}

/// Leaves, rings and slab letters, each in its square of 40 mm, of at least `points` points in all.
pub(crate) fn ornament(points: usize) -> Vec<Vec<DVec2>> {
    let mut seeded = Seeded(7);
    let across = (points as f64 / 100.0).sqrt().ceil() as i32;
    let mut rings: Vec<Vec<DVec2>> = Vec::new();
    let mut drawn = 0;
    for i in 0.. {
        if drawn >= points {
            break;
        }
        let place = dvec2(f64::from(i % across), f64::from(i / across)) * 40.0;
        let turn = DVec2::from_angle(seeded.between(0.0, TAU));
        let mut draw = |ring: Vec<DVec2>| {
            drawn += ring.len();
            rings.push(ring.into_iter().map(|p| place + turn.rotate(p)).collect());
        };
        match i % 3 {
            0 => {
                // A leaf with a wavy edge, sharp at both ends.
                let (length, width) = (seeded.between(12.0, 18.0), seeded.between(2.0, 6.0));
                let lobes = seeded.between(3.0, 9.0).round();
                let side = |t: f64| width * (1.0 - t * t) * (1.0 + 0.2 * (lobes * TAU * t).cos());
                let t = |j: i32| f64::from(j) / 60.0;
                let lower = (-60..60).map(|j| dvec2(length * t(j), -side(t(j))));
                let upper = (-59..=60).rev().map(|j| dvec2(length * t(j), side(t(j))));
                draw(lower.chain(upper).collect());
            }
            1 => {
                // A ring whose hole is off its middle.
                let (outer, inner, shift) =
                    (seeded.between(12.0, 18.0), seeded.between(5.0, 9.0), seeded.between(0.0, 2.0));
                let circle = |radius: f64, x: f64| {
                    (0..90)
                        .map(|j| DVec2::from_angle(TAU * f64::from(j) / 90.0) * radius + dvec2(x, 0.0))
                        .collect()
                };
                draw(circle(outer, 0.0));
                draw(circle(inner, shift));
            }
            _ => {
                // An I with slab serifs.
                let (stem, serif) = (seeded.between(1.0, 3.0), seeded.between(0.5, 2.0));
                let quarter = [dvec2(8.0, -14.0), dvec2(8.0, -14.0 + serif), dvec2(stem, -14.0 + serif)];
                let right = quarter.into_iter().chain(quarter.into_iter().rev().map(|p| dvec2(p.x, -p.y)));
                let right: Vec<_> = right.collect();
                let left = right.iter().rev().map(|p| dvec2(-p.x, p.y));
                draw(right.iter().copied().chain(left).collect());
            }
        }
    }
    rings
}

/// The same, clean.
pub(crate) fn clean(rings: &[Vec<DVec2>]) -> Region {
    let bounds = Rect::around(rings.iter().flatten().copied()).expect("there are rings");
    Region::clean(Grid::covering(bounds), rings, FillRule::EvenOdd)
}
