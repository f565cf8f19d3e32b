//! Seeded mutations of real files through every reader: none panics, none takes long, none needs much memory.
//!
//! The invariants are those of `fuzz/src/lib.rs`. A few hundred mutations run with the other tests; a run by name takes
//! as many as `SPELK_MUTATIONS` says, of each kind of file.

#[path = "../fuzz/src/lib.rs"]
#[expect(unreachable_pub, reason = "another crate calls them too")]
pub(crate) mod targets;

use std::fs;
use std::panic::{AssertUnwindSafe, catch_unwind};
use std::path::Path;
use std::time::{Duration, Instant};

/// No one mutation may take longer in a run by name.
const LONGEST: Duration = Duration::from_secs(20);
/// Nor may the whole run ever need more memory than this, bytes.
const MOST_MEMORY: u64 = 1 << 30;

/// A kind of file: what it is called, what must hold of it, and files to start from.
struct Kind {
    name: &'static str,
    holds: fn(&[u8]),
    seeds: Vec<Vec<u8>>,
}

/// Marsaglia's xorshift, 64 bits: the same mutations on every machine.
struct Dice(u64);

impl Dice {
    fn roll(&mut self, sides: usize) -> usize {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        (self.0 % sides.max(1) as u64) as usize
    }
}

/// Pieces that readers trip over.
const PIECES: [&str; 24] = [
    "NaN",
    "inf",
    "-0",
    "1e308",
    "-1e308",
    "1e-300",
    "0",
    "99999999999999999999",
    "\0",
    "\u{feff}",
    "<g>",
    "</g>",
    "transform=\"scale(0)\"",
    "M0 0",
    "Z",
    "A1 1 0 0 1 9 9",
    "url(#a)",
    "&lt;",
    "\"",
    "{",
    "[]",
    "null",
    ",",
    "\r\n",
];

fn mutated(seeds: &[Vec<u8>], dice: &mut Dice) -> Vec<u8> {
    let mut bytes = seeds[dice.roll(seeds.len())].clone();
    for _ in 0..=dice.roll(6) {
        let at = dice.roll(bytes.len() + 1);
        let end = (at + dice.roll(40)).min(bytes.len());
        match dice.roll(6) {
            0 => drop(bytes.splice(at..end, PIECES[dice.roll(PIECES.len())].bytes())),
            1 => drop(bytes.drain(at..end)),
            2 => {
                let again = bytes[at..end].to_vec();
                drop(bytes.splice(at..at, again));
            }
            3 if at < bytes.len() => bytes[at] ^= 1 << dice.roll(8),
            4 => {
                let other = &seeds[dice.roll(seeds.len())];
                let from = dice.roll(other.len() + 1);
                let to = (from + dice.roll(200)).min(other.len());
                drop(bytes.splice(at..end, other[from..to].iter().copied()));
            }
            _ if dice.roll(8) == 0 => bytes.truncate(at),
            _ => {}
        }
    }
    bytes
}

/// The files of a folder with these endings, no larger than so many bytes.
fn files(folder: &str, endings: &[&str], most: u64) -> Vec<Vec<u8>> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join(folder);
    let mut paths: Vec<_> = fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path()).collect();
    paths.sort();
    let wanted = |path: &Path| {
        let ending = path.extension().and_then(|ending| ending.to_str());
        ending.is_some_and(|ending| endings.contains(&ending)) && fs::metadata(path).unwrap().len() <= most
    };
    paths.into_iter().filter(|path| wanted(path)).map(|path| fs::read(path).unwrap()).collect()
}

impl Kind {
    /// A mutation by its number, of the kind that stands in this place, from 1.
    fn mutation(&self, place: u64, number: u64) -> Vec<u8> {
        mutated(&self.seeds, &mut Dice(0x9E37_79B9_7F4A_7C15 ^ (place << 48) ^ (number + 1)))
    }
}

fn kinds() -> Vec<Kind> {
    let mut drawings = files("sample-designs", &["svg"], 200_000);
    drawings.extend(files("tests/data/dxf", &["dxf"], 60_000));
    drawings.extend(files("fuzz/seeds/drawing", &["svg", "dxf"], 60_000));
    drawings.push(SMALL_SVG.as_bytes().to_vec());
    let design = spelk::design::read("small", SMALL_SVG.as_bytes()).unwrap();
    let job = spelk::job::Job::new(std::sync::Arc::new(design));
    let mut jobs = vec![spelk::job::saved::to_text(&job).into_bytes()];
    jobs.extend(files("fuzz/seeds/saved_job", &["spelk"], 60_000));
    let mut photo = std::io::Cursor::new(Vec::new());
    image::RgbImage::from_fn(24, 16, |x, y| image::Rgb([x as u8 * 9, y as u8 * 13, 80]))
        .write_to(&mut photo, image::ImageFormat::Jpeg)
        .unwrap();
    let cutter = serde_json::to_string(&spelk::shop::cutters()[..2]).unwrap();
    let prices = serde_json::to_string(&spelk::shop::Prices::default()).unwrap();
    let rack = r#"[{"name": "offcut", "price": 4.0, "board": {"length": 300.0, "width": 120.0, "thickness": 19.0, "wood": "cherry_black", "blemishes": [{"kind": "knot", "clearance": 5.0, "shape": {"circle": {"x": 30.0, "y": 60.0, "diameter": 25.0}}}]}}]"#;
    let record = "wood,cutter,pass_mm,feed_per_tooth_mm,thickness_mm,height_mm,length_mm,ends,direction_deg,limit_mm,constant,chance,held\n\
                  cherry,flat-1/8in,1.5,0.04,1.2,3,20,joined,90,1.5,2.2,0.3,true\ncherry,flat-1/8in,1.5,0.04,0.8,3,,free,0,1.5,2.2,0.01,false\n";
    vec![
        Kind { name: "drawings", holds: targets::drawing, seeds: drawings },
        Kind { name: "saved jobs", holds: targets::saved_job, seeds: jobs },
        Kind {
            name: "fonts",
            holds: targets::font,
            seeds: vec![epaint_default_fonts::HACK_REGULAR.to_vec()],
        },
        Kind { name: "photographs", holds: targets::photograph, seeds: vec![photo.into_inner()] },
        Kind { name: "pictures to trace", holds: targets::picture, seeds: pictures() },
        Kind { name: "records", holds: targets::record, seeds: vec![record.as_bytes().to_vec()] },
        Kind {
            name: "files of the shop",
            holds: targets::shop,
            seeds: [&*cutter, &*prices, rack].map(|text| text.as_bytes().to_vec()).to_vec(),
        },
    ]
}

/// A ring and a bar as each kind of picture, and one of them within a drawing.
fn pictures() -> Vec<Vec<u8>> {
    let picture = image::GrayImage::from_fn(48, 32, |x, y| {
        let away = f64::from(x.abs_diff(16).pow(2) + y.abs_diff(16).pow(2)).sqrt();
        let is_ink = (7.0..13.0).contains(&away) || (36..41).contains(&x);
        image::Luma([if is_ink { 30 } else { 220 }])
    });
    let formats = [
        image::ImageFormat::Png,
        image::ImageFormat::Jpeg,
        image::ImageFormat::Tiff,
        image::ImageFormat::WebP,
    ];
    let mut seeds: Vec<Vec<u8>> = Vec::new();
    for format in formats {
        let mut bytes = std::io::Cursor::new(Vec::new());
        let is_written = picture.write_to(&mut bytes, format).is_ok()
            || image::DynamicImage::ImageLuma8(picture.clone())
                .to_rgb8()
                .write_to(&mut bytes, format)
                .is_ok();
        assert!(is_written, "{format:?}");
        seeds.push(bytes.into_inner());
    }
    let inside = base64(&seeds[0]);
    let drawing = format!(
        "<svg xmlns='http://www.w3.org/2000/svg' width='48mm' height='32mm'><image width='48' height='32' href='data:image/png;base64,{inside}'/></svg>"
    );
    seeds.push(drawing.into_bytes());
    seeds
}

/// RFC 4648, section 4.
fn base64(bytes: &[u8]) -> String {
    const LETTERS: &[u8; 64] = b"ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
    let mut text = String::new();
    for three in bytes.chunks(3) {
        let whole = (0..3).fold(0, |whole, at| whole << 8 | usize::from(three.get(at).copied().unwrap_or(0)));
        for at in 0..4 {
            let letter = LETTERS[whole >> (18 - 6 * at) & 63];
            text.push(if at > three.len() { '=' } else { char::from(letter) });
        }
    }
    text
}

/// A frame with two panes, in layers.
const SMALL_SVG: &str = "<svg xmlns='http://www.w3.org/2000/svg' width='120mm' height='60mm' viewBox='0 0 120 60'>\
    <g id='frame'><path fill-rule='evenodd' d='M0 0H120V60H0ZM10 10V50H50V10ZM60 10V50L100 30Z'/></g>\
    <g id='dot' transform='translate(110 30) rotate(20)'><circle r='4'/></g></svg>";

/// Runs so many mutations of each kind, or of the one that `SPELK_MUTATED` names; what panicked, with how to have it
/// again.
fn run(count: u64) -> Vec<String> {
    let only = std::env::var("SPELK_MUTATED").ok();
    let mut broken = Vec::new();
    for (index, kind) in (1..).zip(kinds()) {
        if only.as_deref().is_some_and(|only| only != kind.name) {
            continue;
        }
        let (mut longest, mut slowest) = (Duration::ZERO, 0);
        for number in 0..count {
            let bytes = kind.mutation(index, number);
            let start = Instant::now();
            let outcome = catch_unwind(AssertUnwindSafe(|| (kind.holds)(&bytes)));
            if start.elapsed() > longest {
                (longest, slowest) = (start.elapsed(), number);
            }
            if outcome.is_err() || start.elapsed() > LONGEST {
                let kept = std::env::temp_dir().join(format!("spelk-mutation-{index}-{number}"));
                fs::write(&kept, &bytes).unwrap();
                broken.push(format!(
                    "{} {number}: {:?}, kept as {}",
                    kind.name,
                    start.elapsed(),
                    kept.display()
                ));
            }
        }
        println!(
            "{count} {}: {} broken; number {slowest} took the longest, {longest:?}; at most {:?} bytes so far",
            kind.name,
            broken.len(),
            peak_memory()
        );
    }
    broken
}

/// Glyphs with data of points and no contour, which the reader of fonts panicked at; a corner on a straight edge.
#[test]
fn mutations_that_broke_something_do_no_more() {
    let kinds = kinds();
    for (place, numbers) in [(2, [2030].as_slice()), (3, &[10_580, 18_268, 41_100, 45_259, 88_033])] {
        let kind = &kinds[place - 1];
        for &number in numbers {
            (kind.holds)(&kind.mutation(place as u64, number));
        }
    }
}

#[test]
fn a_few_of_each_kind() {
    let broken = run(60);
    assert!(broken.is_empty(), "{}", broken.join("\n"));
}

#[test]
#[ignore = "takes as long as SPELK_MUTATIONS says; run by name"]
fn many_of_each_kind() {
    let count = std::env::var("SPELK_MUTATIONS").ok().and_then(|count| count.parse().ok()).unwrap_or(2000);
    let broken = run(count);
    let peak = peak_memory();
    assert!(broken.is_empty(), "{}", broken.join("\n"));
    assert!(peak.is_none_or(|peak| peak < MOST_MEMORY), "{peak:?} bytes");
}

/// The most memory the process ever had, bytes; where the system tells.
fn peak_memory() -> Option<u64> {
    let status = fs::read_to_string("/proc/self/status").ok()?;
    let line = status.lines().find(|line| line.starts_with("VmHWM:"))?;
    Some(line.split_whitespace().nth(1)?.parse::<u64>().ok()? * 1024)
}
