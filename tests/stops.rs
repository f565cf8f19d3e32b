//! Long work stops where it is called off, and how soon after: what the window does with whatever is no longer wanted.

use spelk::advice::{Means, Tried, advise};
use spelk::design::read;
use spelk::geometry::widths;
use spelk::job::{Edit, Job, Treatment};
use spelk::proof::mend::{Mend, mend_unless};
use spelk::proof::{measure, measure_unless, rate};
use spelk::relief::{HeightField, plan};
use spelk::trace::{PictureSize, Settings, prepare};
use std::fmt::Write as _;
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};
use std::time::{Duration, Instant};

/// So many squares with a gap between them narrower than a cutter.
fn squares(count: usize) -> Job {
    let side = count.isqrt() + 1;
    let mut d = String::new();
    for i in 0..count {
        write!(d, "M{} {}h1.2v1.3h-1.25z", (i % side) * 2, (i / side) * 2).unwrap();
    }
    let svg = format!(
        "<svg xmlns='http://www.w3.org/2000/svg' width='{0}mm' height='{0}mm' viewBox='0 0 {0} {0}'><path d='{d}'/></svg>",
        2 * side
    );
    Job::new(Arc::new(read("squares", svg.as_bytes()).unwrap()))
        .with([Edit::TreatAll(Treatment::Sunk)])
        .unwrap()
}

/// A picture with this many pixels along a side, all rings.
fn picture(side: u32) -> spelk::shop::Photo {
    let pixels = (0..side * side).flat_map(|at| {
        let away = f64::from((at % side).pow(2) + (at / side).pow(2)).sqrt();
        let grey = if away % 9.0 < 5.0 { 20 } else { 230 };
        [grey, grey, grey, 255]
    });
    spelk::shop::Photo::new(side, side, pixels.collect()).unwrap()
}

/// A stage of work that looks at a flag, and says whether it came to its end.
type Stage<'a> = (&'static str, Box<dyn Fn(&AtomicBool) -> bool + Sync + 'a>);

/// Gives every stage over a job of so many squares to `check`.
fn with_stages(count: usize, side: u32, check: impl Fn(&[Stage<'_>])) {
    let job = squares(count);
    let measured = measure(&job);
    let ratings = rate(&job, &measured);
    let now = Tried::of(job.clone());
    let shop = spelk::shop::Shop::built_in();
    let means = Means::of(&shop, &[]);
    let photo = picture(side);
    let settings = Settings::new(PictureSize::Length(spelk::units::Mm::new(300.0)));
    let never = AtomicBool::new(false);
    let prepared = prepare(&photo, &settings, &never).unwrap();
    let passes = plan(&job, &measured, &never).unwrap();
    let pitch = spelk::units::Mm::new(0.3);
    let stages: Vec<Stage<'_>> = vec![
        (
            "widths of an outline",
            Box::new(|cancel| widths::measure_unless(&measured.outline, cancel).is_some()),
        ),
        ("measuring", Box::new(|cancel| measure_unless(&job, cancel).is_some())),
        (
            "mending",
            Box::new(|cancel| {
                mend_unless(&job, &measured, &ratings, 1.0, Mend::Walls, None, cancel).is_some()
            }),
        ),
        ("passes", Box::new(|cancel| plan(&job, &measured, cancel).is_some())),
        (
            "the carved surface",
            Box::new(|cancel| HeightField::carved(&job, &passes, &now.proof, pitch, cancel).is_some()),
        ),
        ("advice", Box::new(|cancel| advise(&now, &means, cancel).is_some())),
        ("tracing", Box::new(|cancel| prepared.trace("rings", &settings, cancel).is_ok())),
    ];
    check(&stages);
}

#[test]
fn what_is_called_off_before_it_begins_does_nothing() {
    with_stages(60, 200, |stages| {
        for (name, work) in stages {
            assert!(work(&AtomicBool::new(false)), "{name} comes to its end");
            assert!(!work(&AtomicBool::new(true)), "{name} stops");
        }
    });
}

/// Not a timed test: how soon depends on the machine and on what else it does.
#[test]
#[ignore = "prints how soon each stage stops; run by name on a quiet machine"]
fn how_soon_each_stage_stops() {
    with_stages(10_000, 3000, |stages| {
        for (name, work) in stages {
            let start = Instant::now();
            work(&AtomicBool::new(false));
            let whole = start.elapsed();
            let mut longest = Duration::ZERO;
            for part in 1..12 {
                let cancel = AtomicBool::new(false);
                let stopped = std::thread::scope(|scope| {
                    let run = scope.spawn(|| {
                        work(&cancel);
                        Instant::now()
                    });
                    std::thread::sleep(whole * part / 12);
                    let asked = Instant::now();
                    cancel.store(true, Ordering::Relaxed);
                    run.join().unwrap().saturating_duration_since(asked)
                });
                longest = longest.max(stopped);
            }
            println!("{name:24} whole {whole:8.0?}  stops within {longest:8.0?}");
        }
    });
}
