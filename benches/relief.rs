//! Times the ideal V relief of a large field, and the true paths of each sample. `benches/peers/relief`
//! times a general library's exact distance transform with it.

use spelk::design::samples;
use spelk::geometry::Lattice;
use spelk::job::sample::sample_job;
use spelk::proof::measure;
use spelk::relief::field::{carve, vee_depths};
use spelk::relief::{HeightField, NEVER, Profile, plan, time};
use spelk::shop::CutterShape;
use spelk::units::Mm;
use std::error::Error;
use std::hint::black_box;
use std::process::Command;
use std::time::Instant;

/// How often each is run; the quickest counts.
const ROUNDS: usize = 5;

/// Cells along a side.
const SIDE: usize = 4096;

fn main() -> Result<(), Box<dyn Error>> {
    let cells = strokes();
    let share = cells.iter().map(|&cell| u64::from(cell)).sum::<u64>() as f64 / cells.len() as f64;
    let file = std::env::temp_dir().join(format!("spelk-cells-{}", std::process::id()));
    std::fs::write(&file, &cells)?;
    let pitch = 300.0 / SIDE as f64;
    let lattice = Lattice { corner: glam::DVec2::ZERO, pitch, columns: SIDE, rows: SIDE };
    let profile = Profile::of(CutterShape::Vee {
        angle: 60_f64.to_radians(),
        tip: Mm::new(0.1),
        diameter: Mm::new(12.7),
    });
    let peer = std::env::var_os("SPELK_PEER");
    let (mut ours, mut theirs) = (f64::INFINITY, f64::INFINITY);
    // In turn, so that a busy moment hits both.
    for _ in 0..ROUNDS {
        let start = Instant::now();
        let mut heights = vec![0.0; cells.len()];
        vee_depths(&cells, lattice, &profile, 6.0, &mut heights);
        black_box(&heights);
        ours = ours.min(start.elapsed().as_secs_f64());
        if let Some(peer) = &peer {
            let told = Command::new(peer)
                .arg("benches/peers/distance.py")
                .arg(&file)
                .arg(SIDE.to_string())
                .output()?;
            if !told.status.success() {
                return Err(String::from_utf8_lossy(&told.stderr).into());
            }
            theirs = theirs.min(String::from_utf8(told.stdout)?.trim().parse()?);
        }
    }
    std::fs::remove_file(&file)?;
    println!("ideal V relief, {SIDE} x {SIDE}, {:.1} % carved: {:.1} ms", share * 100.0, ours * 1e3);
    if peer.is_some() {
        println!(
            "OpenCV's exact distance transform alone: {:.1} ms; ratio {:.3}",
            theirs * 1e3,
            ours / theirs
        );
    }
    for sample in samples::samples() {
        let job = sample_job(sample)?;
        let measured = measure(&job);
        let (mut planning, mut carving, mut timing) = (f64::INFINITY, f64::INFINITY, f64::INFINITY);
        let mut lines = 0;
        let mut cells = [0; 2];
        for _ in 0..ROUNDS {
            let start = Instant::now();
            let passes = plan(&job, &measured, &NEVER).ok_or("called off")?;
            planning = planning.min(start.elapsed().as_secs_f64());
            let start = Instant::now();
            let mut field = HeightField::of_board(&job, Mm::new(0.2));
            carve(&mut field, &passes, &NEVER);
            carving = carving.min(start.elapsed().as_secs_f64());
            let start = Instant::now();
            black_box(time::of(&job, &measured));
            timing = timing.min(start.elapsed().as_secs_f64());
            lines = passes.lines.len();
            cells = [field.lattice.columns, field.lattice.rows];
        }
        println!(
            "{:<16} {} x {} cells of 0.2 mm, {lines} lines: paths {:.1} ms, surface {:.1} ms; time {:.1} ms",
            sample.id,
            cells[0],
            cells[1],
            planning * 1e3,
            carving * 1e3,
            timing * 1e3
        );
    }
    Ok(())
}

/// Strokes like those of lettering, 30 % of the field: rings and bars of several widths, always the same.
fn strokes() -> Vec<u8> {
    let mut cells = vec![0_u8; SIDE * SIDE];
    let mut filled = 0;
    let mut state = 1_u64;
    // Knuth's linear congruential generator (constants from memory; any would do).
    let mut next = |below: usize| {
        state = state.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        (state >> 33) as usize % below
    };
    while filled * 10 < cells.len() * 3 {
        let (x, y) = (next(SIDE) as f64, next(SIDE) as f64);
        let radius = 60.0 + next(240) as f64;
        let wide = 12.0 + next(70) as f64;
        let angle = next(628) as f64 / 100.0;
        let (sin, cos) = angle.sin_cos();
        let ring = next(2) == 0;
        let reach = radius + wide;
        for row in cell_at(y - reach)..cell_at(y + reach) {
            for column in cell_at(x - reach)..cell_at(x + reach) {
                let (u, v) = (column as f64 - x, row as f64 - y);
                let inside = if ring {
                    (u.hypot(v) - radius).abs() < wide / 2.0
                } else {
                    (u * cos + v * sin).abs() < radius && (v * cos - u * sin).abs() < wide / 2.0
                };
                let cell = &mut cells[row * SIDE + column];
                if inside && *cell == 0 {
                    *cell = 1;
                    filled += 1;
                }
            }
        }
    }
    cells
}

#[expect(clippy::cast_sign_loss, reason = "it is clamped to the field")]
fn cell_at(place: f64) -> usize {
    place.clamp(0.0, SIDE as f64 - 1.0) as usize
}
