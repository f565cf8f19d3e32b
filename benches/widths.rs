//! Cleaning outlines, measuring them, and asking what is thin, by size. Compare on one machine only.
//!
//! `cargo bench --bench widths`; set `SPELK_BENCH_LARGE` to add outlines of a hundred thousand edges.

use criterion::{BenchmarkId, Criterion, Throughput, criterion_group, criterion_main};
use glam::{DVec2, dvec2};
use spelk::geometry::widths::measure;
use spelk::geometry::{FillRule, Grid, Locator, Rect, Region};
use std::f64::consts::TAU;
use std::hint::black_box;

/// A linear congruential generator (Knuth's MMIX multiplier): the same outlines on every machine.
struct Seeded(u64);

impl Seeded {
    fn between(&mut self, low: f64, high: f64) -> f64 {
        self.0 = self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        low + (high - low) * (self.0 >> 11) as f64 / (1_u64 << 53) as f64
    }
}

/// Leaves, rings and slab letters, one to a square of 40 mm, until there are so many points.
fn ornament(points: usize) -> Vec<Vec<DVec2>> {
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

fn widths(criterion: &mut Criterion) {
    let mut sizes = vec![1_000, 10_000];
    if std::env::var_os("SPELK_BENCH_LARGE").is_some() {
        sizes.push(100_000);
    }
    for size in sizes {
        let mut group = criterion.benchmark_group("widths, per edge");
        group.sample_size(10);
        let rings = ornament(size);
        let bounds = Rect::around(rings.iter().flatten().copied()).expect("there are rings");
        let grid = Grid::covering(bounds);
        let region = Region::clean(grid, &rings, FillRule::EvenOdd);
        group.throughput(Throughput::Elements(region.segment_count() as u64));
        group.bench_with_input(BenchmarkId::new("clean", size), &rings, |bencher, rings| {
            bencher.iter(|| Region::clean(grid, black_box(rings), FillRule::EvenOdd));
        });
        group.bench_with_input(BenchmarkId::new("measure", size), &region, |bencher, region| {
            bencher.iter(|| measure(black_box(region)));
        });
        group.bench_with_input(BenchmarkId::new("locator", size), &region, |bencher, region| {
            bencher.iter(|| Locator::new(black_box(region)));
        });
        group.finish();

        let mut group = criterion.benchmark_group("widths, per question");
        let map = measure(&region).expect("clean outlines are measured").inside;
        let limit = 2.0;
        let thin = map.pieces().partition_point(|piece| piece.narrow.width < limit);
        let thin: Vec<_> = (0..thin as u32).map(|i| (i, limit)).collect();
        group.bench_with_input(BenchmarkId::new("features", size), &thin, |bencher, thin| {
            bencher.iter(|| map.features(black_box(thin)));
        });
        group.bench_with_input(BenchmarkId::new("ten features", size), &thin[..10], |bencher, thin| {
            bencher.iter(|| map.features(black_box(thin)));
        });
        let locator = Locator::new(&region);
        let mut seeded = Seeded(1);
        group.bench_function(BenchmarkId::new("locate", size), |bencher| {
            bencher.iter(|| {
                let (x, y) = (seeded.between(0.0, 1.0), seeded.between(0.0, 1.0));
                locator.contains(black_box(bounds.min + bounds.size() * dvec2(x, y)))
            });
        });
        group.finish();
    }
}

criterion_group!(benches, widths);
criterion_main!(benches);
