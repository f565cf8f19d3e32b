//! Ornaments that are hard to measure, of about any number of edges, on a page of 300 by 200 mm: long thin
//! parts side by side, many sides at one distance, much in line. The same on every machine.

use super::ornament::{Seeded, ornament};
use glam::{DVec2, dvec2};
use std::f64::consts::{FRAC_PI_3, TAU};

pub(crate) type Rings = Vec<Vec<DVec2>>;

/// Draws a shape of about so many edges.
type Draw = fn(usize) -> Rings;

/// Each shape with its name.
pub(crate) const SHAPES: [(&str, Draw); 14] = [
    ("leaves", ornament),
    ("circles", circles),
    ("sunburst", sunburst),
    ("comb", comb),
    ("zigzag", zigzag),
    ("star", star),
    ("rings", rings),
    ("squares", squares),
    ("polygon", polygon),
    ("parabola", parabola),
    ("slanting strips", strips),
    ("dots", dots),
    ("snowflake", snowflake),
    ("coasts", coasts),
];

/// Numbers from 0 in place of a count, for coordinates.
fn each(count: usize) -> impl DoubleEndedIterator<Item = f64> + Clone {
    (0..count).map(|i| i as f64)
}

fn around(radius: f64, angle: f64) -> DVec2 {
    dvec2(150.0, 100.0) + DVec2::from_angle(angle) * radius
}

fn regular(corners: usize, middle: DVec2, radius: f64) -> Vec<DVec2> {
    each(corners).map(|i| middle + DVec2::from_angle(TAU * i / corners as f64) * radius).collect()
}

/// One row, of 128 edges each, that nearly touch.
fn circles(edges: usize) -> Rings {
    let count = (edges / 128).max(2);
    let apart = 290.0 / count as f64;
    each(count).map(|i| regular(128, dvec2(5.0 + (i + 0.5) * apart, 100.0), 0.4 * apart)).collect()
}

/// Long thin rays that nearly meet in the middle.
fn sunburst(edges: usize) -> Rings {
    let count = (edges / 3).max(3);
    let turn = TAU / count as f64;
    each(count)
        .map(|i| {
            let (from, to) = (i * turn, (i + 0.45) * turn);
            vec![around(4.0, f64::midpoint(from, to)), around(95.0, from), around(95.0, to)]
        })
        .collect()
}

fn comb(edges: usize) -> Rings {
    let teeth = (edges / 4).max(1);
    let step = 290.0 / teeth as f64;
    let tooth = |i: f64| {
        let x = 5.0 + i * step;
        [(x, 10.0), (x + 0.5 * step, 10.0), (x + 0.5 * step, 180.0), (x + step, 180.0)]
    };
    let back = [(295.0, 190.0), (5.0, 190.0)];
    vec![each(teeth).flat_map(tooth).chain(back).map(|(x, y)| dvec2(x, y)).collect()]
}

fn zigzag(edges: usize) -> Rings {
    let radius = |i: f64| if i % 2.0 == 1.0 { 95.0 } else { 90.0 };
    vec![each(edges).map(|i| around(radius(i), TAU * i / edges as f64)).collect()]
}

/// Spikes as long as chance has it.
fn star(edges: usize) -> Rings {
    let mut seeded = Seeded(1);
    vec![each(edges).map(|i| around(seeded.between(20.0, 95.0), TAU * i / edges as f64)).collect()]
}

/// Concentric, of 64 edges each.
fn rings(edges: usize) -> Rings {
    let count = (edges / 64).max(1);
    each(count).map(|i| regular(64, dvec2(150.0, 100.0), 95.0 * (i + 1.0) / count as f64)).collect()
}

/// In rows and columns, in line with each other.
fn squares(edges: usize) -> Rings {
    let across = (1..=edges.max(1)).find(|n| 4 * (n + 1) * (n + 1) > edges).unwrap_or(1);
    let apart = 190.0 / across as f64;
    let square = |x: f64, y: f64| {
        [(0.0, 0.0), (0.5, 0.0), (0.5, 0.5), (0.0, 0.5)]
            .map(|(u, v)| dvec2(5.0 + (x + u) * apart, 5.0 + (y + v) * apart))
            .to_vec()
    };
    each(across).flat_map(|x| each(across).map(move |y| square(x, y))).collect()
}

fn polygon(edges: usize) -> Rings {
    vec![regular(edges, dvec2(150.0, 100.0), 95.0)]
}

fn parabola(edges: usize) -> Rings {
    let place = |i: f64| {
        let t = 2.0 * i / (edges as f64 - 1.0) - 1.0;
        dvec2(150.0 + 140.0 * t, 190.0 - 180.0 * t * t)
    };
    vec![each(edges).map(place).collect()]
}

fn strips(edges: usize) -> Rings {
    let count = (edges / 4).max(1);
    let along = DVec2::from_angle(0.6);
    let wide = along.perp() * (150.0 / count as f64);
    let start = |i: f64| dvec2(100.0, 20.0) + wide * i;
    let strip = |p: DVec2| vec![p, p + along * 150.0, p + along * 150.0 + wide * 0.5, p + wide * 0.5];
    each(count).map(|i| strip(start(i))).collect()
}

/// Pentagons strewn evenly: much of the space between them borders on corners alone.
fn dots(edges: usize) -> Rings {
    let mut seeded = Seeded(5);
    let count = (edges / 5).max(1);
    let across = (count as f64).sqrt().ceil();
    let apart = 290.0 / across;
    let mut middle = |i: f64| {
        let astray = dvec2(seeded.between(0.0, 0.3), seeded.between(0.0, 0.3));
        (dvec2(i % across, (i / across).floor()) + astray) * apart
    };
    each(count).map(|i| regular(5, middle(i), 0.3 * apart)).collect()
}

/// Each edge broken in four again and again; it has the last such number of edges below twice what is asked.
fn snowflake(edges: usize) -> Rings {
    let mut ring: Vec<DVec2> = each(3).map(|i| around(95.0, -TAU * i / 3.0)).collect();
    while 2 * ring.len() <= edges {
        let broken = |i: usize| {
            let (a, b) = (ring[i], ring[(i + 1) % ring.len()]);
            let third = (b - a) / 3.0;
            [a, a + third, a + third + DVec2::from_angle(FRAC_PI_3).rotate(third), a + third * 2.0]
        };
        ring = (0..ring.len()).flat_map(broken).collect();
    }
    vec![ring]
}

/// Forty islands with ragged coasts: each edge broken in the middle, by up to a fifth of its length.
fn coasts(edges: usize) -> Rings {
    let mut seeded = Seeded(11);
    let island = |i: f64| {
        let middle = dvec2(20.0 + 32.5 * (i % 8.0 + 0.5), 10.0 + 36.0 * ((i / 8.0).floor() + 0.5));
        let mut ring: Vec<DVec2> =
            each(5).map(|j| middle + DVec2::from_angle(TAU * j / 5.0) * seeded.between(6.0, 14.0)).collect();
        while 40 * ring.len() < edges {
            let mut broken = Vec::with_capacity(2 * ring.len());
            for (i, &a) in ring.iter().enumerate() {
                let run = ring[(i + 1) % ring.len()] - a;
                broken.extend([a, a + run * 0.5 + run.perp() * seeded.between(-0.2, 0.2)]);
            }
            ring = broken;
        }
        ring
    };
    each(40).map(island).collect()
}
