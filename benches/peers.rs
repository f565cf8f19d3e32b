//! Times our widths against Boost.Polygon's diagram, on the same edges in the same run. `benches/peers/run`
//! builds both.

mod ornament;

use spelk::geometry::widths::measure;
use std::error::Error;
use std::fmt::Write as _;
use std::process::Command;
use std::time::Instant;

/// How often each is run; the quickest counts.
const ROUNDS: usize = 3;

fn main() -> Result<(), Box<dyn Error>> {
    let Some(peer) = std::env::var_os("SPELK_PEER") else {
        println!("nothing to compare with: run benches/peers/run");
        return Ok(());
    };
    let sizes: Vec<usize> = std::env::args().skip(1).filter_map(|size| size.parse().ok()).collect();
    let sizes = if sizes.is_empty() { vec![1_000, 10_000, 100_000, 1_000_000] } else { sizes };
    println!("{:>9} {:>12} {:>12} {:>8} {:>10}", "edges", "both widths", "Boost", "ratio", "us an edge");
    for size in sizes {
        let region = ornament::clean(&ornament::ornament(size));
        let mut lines = String::new();
        for ring in region.rings() {
            let nodes = ring.nodes();
            for (i, a) in nodes.iter().enumerate() {
                let b = nodes[(i + 1) % nodes.len()];
                writeln!(lines, "{} {} {} {}", a.x, a.y, b.x, b.y)?;
            }
        }
        let file = std::env::temp_dir().join(format!("spelk-edges-{}-{size}", std::process::id()));
        std::fs::write(&file, lines)?;
        let (mut ours, mut theirs) = (f64::INFINITY, f64::INFINITY);
        // In turn, so that a busy moment hits both.
        for _ in 0..ROUNDS {
            let start = Instant::now();
            std::hint::black_box(measure(&region));
            ours = ours.min(start.elapsed().as_secs_f64());
            let told = Command::new(&peer).arg(&file).output()?;
            theirs = theirs.min(String::from_utf8(told.stdout)?.trim().parse()?);
        }
        std::fs::remove_file(&file)?;
        let edges = region.segment_count();
        println!(
            "{edges:>9} {:>9.2} ms {:>9.2} ms {:>8.3} {:>10.2}",
            ours * 1e3,
            theirs * 1e3,
            ours / theirs,
            ours * 1e6 / edges as f64
        );
    }
    Ok(())
}
