//! Times our widths against Boost.Polygon's diagram, on the same edges in the same run, and the passes round what
//! stands against the widths. `benches/peers/run` builds both sides.

mod ornament;
mod shapes;

use spelk::design::{Design, Element};
use spelk::geometry::Region;
use spelk::geometry::widths::measure;
use spelk::job::Job;
use spelk::notice::Notices;
use spelk::relief::{NEVER, plan};
use std::error::Error;
use std::fmt::Write as _;
use std::path::Path;
use std::process::Command;
use std::sync::Arc;
use std::time::Instant;

/// How often each is run; the quickest counts.
const ROUNDS: usize = 3;

/// Sides that take longer, in seconds, are run once.
const LONG: f64 = 5.0;

/// Where the table stands in the page that tells of it.
const PAGE: &str = "benches/README.md";
const BEGINS: &str = "<!-- shapes: written by just bench-report -->\n";
const ENDS: &str = "<!-- shapes end -->\n";

fn main() -> Result<(), Box<dyn Error>> {
    let Some(peer) = std::env::var_os("SPELK_PEER") else {
        println!("nothing to compare with: run benches/peers/run");
        return Ok(());
    };
    let named: Vec<String> = std::env::args().skip(1).filter(|word| !word.starts_with("--")).collect();
    let report = named.iter().any(|word| word == "report");
    let sizes: Vec<usize> = named.iter().filter_map(|size| size.parse().ok()).collect();
    let sizes = if sizes.is_empty() { vec![1_000, 10_000, 100_000] } else { sizes };
    let chosen = |name: &str| {
        let mut words = named.iter().filter(|word| *word != "report" && word.parse::<usize>().is_err());
        words.clone().next().is_none() || words.any(|word| word == name)
    };
    let mut table = String::from(
        "| shape | edges | both width maps | per edge | Boost, the diagram alone | ratio | exponent | passes | of measuring | exponent |\n\
         |---|---|---|---|---|---|---|---|---|---|\n",
    );
    print!("{table}");
    for (name, shape) in shapes::SHAPES.into_iter().filter(|(name, _)| chosen(name)) {
        let mut before: Option<(f64, [f64; 2])> = None;
        for &size in &sizes {
            let region = ornament::clean(&shape(size));
            let (ours, theirs) = times(&region, Path::new(&peer))?;
            let edges = region.segment_count() as f64;
            let passes = passes(region)?;
            // By how much the time grows, as a power of the edges.
            let [exponent, of_passes] = [(ours, 0), (passes, 1)].map(|(now, which)| {
                before.map_or(String::new(), |(fewer, less): (f64, [f64; 2])| {
                    format!("{:.2}", (now / less[which]).ln() / (edges / fewer).ln())
                })
            });
            before = Some((edges, [ours, passes]));
            let row = format!(
                "| {name} | {edges} | {:.1} ms | {:.1} us | {:.1} ms | {:.2} | {exponent} | {:.1} ms | {:.2} | {of_passes} |\n",
                ours * 1e3,
                ours * 1e6 / edges,
                theirs * 1e3,
                ours / theirs,
                passes * 1e3,
                passes / ours,
            );
            print!("{row}");
            table.push_str(&row);
        }
    }
    if report {
        let page = std::fs::read_to_string(PAGE)?;
        let places = page.find(BEGINS).zip(page.find(ENDS));
        let (begins, ends) = places.ok_or("the page has no place for the table")?;
        let (head, tail) = (&page[..begins + BEGINS.len()], &page[ends..]);
        std::fs::write(PAGE, format!("{head}\n{table}\n{tail}"))?;
    }
    Ok(())
}

/// How long planning the passes round what stands takes, once it is measured, in seconds.
fn passes(region: Region) -> Result<f64, Box<dyn Error>> {
    let design = Design {
        name: "shape".into(),
        grid: region.grid(),
        elements: vec![Element::new("shape", region)],
        page: None,
        notices: Notices::default(),
        sharpness: None,
    };
    let job = Job::new(Arc::new(design));
    let measured = spelk::proof::measure(&job);
    let mut quickest = f64::INFINITY;
    for _ in 0..ROUNDS {
        let start = Instant::now();
        std::hint::black_box(plan(&job, &measured, &NEVER).ok_or("called off")?);
        quickest = quickest.min(start.elapsed().as_secs_f64());
    }
    Ok(quickest)
}

/// How long our widths and the peer's diagram take, in seconds.
fn times(region: &Region, peer: &Path) -> Result<(f64, f64), Box<dyn Error>> {
    let mut lines = String::new();
    for ring in region.rings() {
        let nodes = ring.nodes();
        for (i, a) in nodes.iter().enumerate() {
            let b = nodes[(i + 1) % nodes.len()];
            writeln!(lines, "{} {} {} {}", a.x, a.y, b.x, b.y)?;
        }
    }
    let file = std::env::temp_dir().join(format!("spelk-edges-{}", std::process::id()));
    std::fs::write(&file, lines)?;
    let (mut ours, mut theirs) = (f64::INFINITY, f64::INFINITY);
    // In turn, so that a busy moment hits both.
    for _ in 0..ROUNDS {
        let start = Instant::now();
        std::hint::black_box(measure(region));
        ours = ours.min(start.elapsed().as_secs_f64());
        let told = Command::new(peer).arg(&file).output()?;
        if !told.status.success() {
            return Err(String::from_utf8_lossy(&told.stderr).into());
        }
        theirs = theirs.min(String::from_utf8(told.stdout)?.trim().parse()?);
        if ours.max(theirs) > LONG {
            break;
        }
    }
    std::fs::remove_file(&file)?;
    Ok((ours, theirs))
}
