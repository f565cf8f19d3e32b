//! Times cleaning outlines, measuring them, and finding what is thin, by number of edges. Compare times
//! from one machine only.
//!
//! `cargo bench --bench widths`; set `SPELK_BENCH_LARGE` to add outlines of a hundred thousand and a million
//! edges.

mod ornament;

use criterion::{BenchmarkId, Criterion, Throughput, criterion_group, criterion_main};
use glam::dvec2;
use ornament::{Seeded, ornament};
use spelk::design::{Design, Element};
use spelk::geometry::widths::measure;
use spelk::geometry::{FillRule, Locator, Rect, Region};
use spelk::job::{Edit, Job, Size};
use spelk::proof;
use std::hint::black_box;
use std::sync::Arc;

fn widths(criterion: &mut Criterion) {
    let mut sizes = vec![1_000, 10_000];
    if std::env::var_os("SPELK_BENCH_LARGE").is_some() {
        sizes.extend([100_000, 1_000_000]);
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
        let map = measure(&region).inside;
        let limit = 2.0;
        let thin = map.pieces().partition_point(|piece| piece.narrow.width < limit);
        let thin: Vec<_> = (0..thin as u32).map(|i| (i, limit)).collect();
        group.bench_with_input(BenchmarkId::new("features", size), &thin, |bencher, thin| {
            bencher.iter(|| map.features(black_box(thin)).collect::<Vec<_>>());
        });
        group.bench_with_input(BenchmarkId::new("ten features", size), &thin[..10], |bencher, thin| {
            bencher.iter(|| map.features(black_box(thin)).collect::<Vec<_>>());
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

/// The proof of one job at ever new factors, its design measured and rated: the size of the design is what
/// differs, and so is how much of it is thin.
fn sizes(criterion: &mut Criterion) {
    let mut sizes = vec![1_000, 10_000];
    if std::env::var_os("SPELK_BENCH_LARGE").is_some() {
        sizes.extend([100_000, 1_000_000]);
    }
    let mut group = criterion.benchmark_group("a proof at a new size");
    for size in sizes {
        let region = ornament::clean(&ornament(size));
        let grid = region.grid();
        let elements = vec![Element::new("ornament", region)];
        let design = Design {
            name: "ornament".to_owned(),
            elements,
            page: None,
            grid,
            notices: spelk::notice::Notices::default(),
            sharpness: None,
        };
        let mut job = Job::new(Arc::new(design));
        let measured = proof::measure(&job);
        let ratings = proof::rate(&job, &measured);
        // From where nothing but points is thin to where a tenth of one per cent of all pieces is.
        let pieces = (measured.walls().pieces().len() + measured.grooves().pieces().len()) as f64;
        let hits = |factor: f64| {
            ratings.levels[0].walls.pieces_under(factor).count()
                + ratings.levels[0].grooves.pieces_under(factor).count()
        };
        for share in [0.0, 1e-4, 1e-3] {
            let (mut few, mut many) = (1e3_f64, 1e-3_f64);
            for _ in 0..60 {
                let middle = (few * many).sqrt();
                if hits(middle) as f64 > share * pieces { many = middle } else { few = middle }
            }
            let mut factor = few;
            let name = format!("{} pieces thin", hits(few));
            group.bench_function(BenchmarkId::new(name, size), |bencher| {
                bencher.iter(|| {
                    // A new factor each time, as while the handle moves.
                    factor = if factor > few { few } else { few * 1.000_001 };
                    job.apply(Edit::Size(Size::Factor(factor))).expect("a size in range");
                    black_box(proof::proof(&job, &measured, &ratings))
                });
            });
        }
        let radius = 1.5;
        group.bench_function(BenchmarkId::new("uncut", size), |bencher| {
            bencher.iter(|| black_box(measured.grooves().unreached(radius)));
        });
    }
    group.finish();
}

criterion_group!(benches, widths, sizes);
criterion_main!(benches);
