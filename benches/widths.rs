//! Cleaning outlines, measuring them, and asking what is thin, by size. Compare on one machine only.
//!
//! `cargo bench --bench widths`; set `SPELK_BENCH_LARGE` to add outlines of a hundred thousand edges.

mod ornament;

use criterion::{BenchmarkId, Criterion, Throughput, criterion_group, criterion_main};
use glam::dvec2;
use ornament::{Seeded, ornament};
use spelk::geometry::widths::measure;
use spelk::geometry::{FillRule, Locator, Rect, Region};
use std::hint::black_box;

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
        let region = ornament::clean(&rings);
        let grid = region.grid();
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
