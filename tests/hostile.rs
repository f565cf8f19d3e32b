//! Kinds of files made to be hard, each given to the program in a process of its own: it ends by itself, within a time
//! and with a memory that are measured, and says in one line what it refuses.
//!
//! Each kind is a generator, so that how large it is can be read and changed here. Run with `--nocapture`, every group
//! prints what each kind took.

use crate::cli::program_path;
use crate::support::{job, rectangle};
use serde_json::{Value, json};
use spelk::job::{Treatment, saved};
use std::fmt::Write as _;
use std::fs;
use std::io::Write as _;
use std::path::Path;
use std::process::{Command, Stdio};
use std::time::{Duration, Instant};

/// No kind may take longer in a dev build: processor time where the system tells it, for other tests run beside this.
const LONGEST: Duration = Duration::from_secs(20);
/// And no kind may keep a test waiting longer than this.
const PATIENCE: Duration = Duration::from_secs(150);
/// Nor need more memory, bytes.
const MOST_MEMORY: u64 = 1 << 30;

/// What the program makes of a kind.
enum Told {
    /// It is proofed, sound or not.
    Proofed,
    /// It is refused with these words.
    Refused(&'static str),
}
use Told::{Proofed, Refused};

/// A kind of file.
struct Kind {
    name: &'static str,
    /// What the file is called; its ending says what it claims to be.
    file: &'static str,
    bytes: Vec<u8>,
    /// The command; `FILE` stands for the file.
    command: &'static [&'static str],
    told: Told,
}

const PROOF: &[&str] = &["proof", "FILE"];
const SAMPLE: &str = "sample-designs/gate-sign.svg";

fn svg(name: &'static str, inner: impl Into<String>, told: Told) -> Kind {
    let inner = inner.into();
    let text = format!(
        "<svg xmlns='http://www.w3.org/2000/svg' xmlns:xlink='http://www.w3.org/1999/xlink' \
         width='200mm' height='100mm' viewBox='0 0 200 100'>{inner}</svg>"
    );
    Kind { name, file: "hard.svg", bytes: text.into_bytes(), command: PROOF, told }
}

fn whole_svg(name: &'static str, bytes: impl Into<Vec<u8>>, told: Told) -> Kind {
    Kind { name, file: "hard.svg", bytes: bytes.into(), command: PROOF, told }
}

fn dxf(name: &'static str, entities: &str, told: Told) -> Kind {
    blocks(name, "", entities, told)
}

fn blocks(name: &'static str, blocks: &str, entities: &str, told: Told) -> Kind {
    let text = format!(
        "0\nSECTION\n2\nHEADER\n9\n$INSUNITS\n70\n4\n0\nENDSEC\n0\nSECTION\n2\nBLOCKS\n{blocks}0\nENDSEC\n\
         0\nSECTION\n2\nENTITIES\n{entities}0\nENDSEC\n0\nEOF\n"
    );
    Kind { name, file: "hard.dxf", bytes: text.into_bytes(), command: PROOF, told }
}

fn saved_job(name: &'static str, told: Told, change: impl FnOnce(&mut Value)) -> Kind {
    let plate = job(Treatment::Relief, &[("plate", vec![rectangle(0.0, 0.0, 110.0, 40.0)])]);
    let mut value: Value = serde_json::from_str(&saved::to_text(&plate)).unwrap();
    change(&mut value);
    Kind { name, file: "hard.spelk", bytes: value.to_string().into_bytes(), command: PROOF, told }
}

/// A piece of text for each number.
fn each(count: usize, text: impl Fn(usize) -> String) -> String {
    (0..count).map(text).collect::<Vec<_>>().concat()
}

const SQUARE: &str = "<path d='M5 5H90V60H5Z'/>";
const CIRCLE: &str = "0\nCIRCLE\n8\n0\n10\n50\n20\n50\n40\n20\n";

/// Gives every kind to the program, and fails with all that broke a rule.
fn check(kinds: &[Kind]) {
    let mut broken = String::new();
    for kind in kinds {
        let folder = tempfile::tempdir().unwrap();
        let outcome = given_to_the_program(kind, folder.path());
        println!(
            "{:44} {:6.2} s {:5} MB  status {:?}  {:.110}",
            kind.name,
            outcome.took.as_secs_f64(),
            outcome.peak.map_or_else(|| "?".to_owned(), |peak| (peak >> 20).to_string()),
            outcome.status,
            outcome.err.lines().last().unwrap_or_default()
        );
        for fault in outcome.faults(&kind.told) {
            writeln!(broken, "{}: {fault}", kind.name).unwrap();
        }
    }
    assert!(broken.is_empty(), "\n{broken}");
}

struct Outcome {
    /// `None` where it was killed, or ended by a signal.
    status: Option<i32>,
    took: Duration,
    /// The most memory it had, bytes; `None` where the system does not tell.
    peak: Option<u64>,
    out: String,
    err: String,
}

impl Outcome {
    fn faults(&self, told: &Told) -> Vec<String> {
        let mut faults = Vec::new();
        if self.took > LONGEST {
            faults.push(format!("took {:?}", self.took));
        }
        if self.peak.is_some_and(|peak| peak > MOST_MEMORY) {
            faults.push(format!("needed {:?} bytes", self.peak));
        }
        if self.err.contains("panicked") {
            faults.push(format!("panicked: {}", self.err));
        }
        if ["NaN", "inf ", "-inf"].iter().any(|nonsense| self.out.contains(nonsense)) {
            faults.push(format!("no number: {}", self.out));
        }
        let errors: Vec<&str> = self.err.lines().filter(|line| !line.starts_with("spelk: note: ")).collect();
        match (told, self.status) {
            (Proofed, Some(0 | 1)) if errors.is_empty() => {}
            (Refused(words), Some(2)) if matches!(*errors, [only] if only.contains(words) && only.len() < 400) =>
                {}
            _ => faults.push(format!("status {:?}: {:.600}", self.status, self.err)),
        }
        faults
    }
}

fn given_to_the_program(kind: &Kind, folder: &Path) -> Outcome {
    let path = folder.join(kind.file);
    fs::write(&path, &kind.bytes).unwrap();
    let path = path.to_str().unwrap();
    let (out, err) = (folder.join("out"), folder.join("err"));
    let args = kind.command.iter().map(|arg| match *arg {
        "FILE" => path.to_owned(),
        "OUTPUT" => folder.join("output.svg").to_str().unwrap().to_owned(),
        arg => arg.to_owned(),
    });
    let start = Instant::now();
    let mut child = Command::new(program_path())
        .current_dir(env!("CARGO_MANIFEST_DIR"))
        .env("XDG_CONFIG_HOME", folder)
        .args(args)
        .stdin(Stdio::null())
        .stdout(fs::File::create(&out).unwrap())
        .stderr(fs::File::create(&err).unwrap())
        .spawn()
        .unwrap();
    let (mut peak, mut used) = (None, None);
    let status = loop {
        // The system keeps the most that there was, so that only what comes in the last moment is missed.
        peak = peak_of(child.id()).max(peak);
        used = processor_time_of(child.id()).max(used);
        if let Some(status) = child.try_wait().unwrap() {
            break status.code();
        }
        if used.unwrap_or_default() > LONGEST || start.elapsed() > PATIENCE {
            child.kill().unwrap();
            child.wait().unwrap();
            break None;
        }
        std::thread::sleep(Duration::from_millis(2));
    };
    let took = used.unwrap_or_else(|| start.elapsed());
    let text = |path: &Path| String::from_utf8_lossy(&fs::read(path).unwrap()).into_owned();
    Outcome { status, took, peak, out: text(&out), err: text(&err) }
}

/// How long all threads of a process have run, to the hundredth of a second that the system counts in (proc(5)).
fn processor_time_of(process: u32) -> Option<Duration> {
    let about = fs::read_to_string(format!("/proc/{process}/stat")).ok()?;
    // The name before may hold anything; times of user and system are the fourteenth and fifteenth of all.
    let mut fields = about.rsplit_once(')')?.1.split_whitespace().skip(11);
    let mut ticks = || fields.next()?.parse::<u64>().ok();
    Some(Duration::from_millis(10 * (ticks()? + ticks()?)))
}

/// The most memory that a process ever had, bytes.
fn peak_of(process: u32) -> Option<u64> {
    let status = fs::read_to_string(format!("/proc/{process}/status")).ok()?;
    let line = status.lines().find(|line| line.starts_with("VmHWM:"))?;
    Some(line.split_whitespace().nth(1)?.parse::<u64>().ok()? * 1024)
}

#[test]
fn drawings_that_copy_themselves_are_refused_or_read() {
    let doubled = |levels: usize| {
        let groups = each(levels, |i| {
            let below = if i == 0 {
                "<rect width='1' height='1'/>".to_owned()
            } else {
                format!("<use xlink:href='#g{0}'/><use xlink:href='#g{0}' x='2'/>", i - 1)
            };
            format!("<g id='g{i}'>{below}</g>")
        });
        format!("<defs>{groups}</defs><use xlink:href='#g{}'/>{SQUARE}", levels - 1)
    };
    let entities = |text: &str| {
        format!(
            "<!DOCTYPE svg [{text}]><svg xmlns='http://www.w3.org/2000/svg' width='9mm' height='9mm'><path d='M0 0H9V9Z'/><desc>&a9;</desc></svg>"
        )
    };
    let lol = each(10, |i| {
        let inner = if i == 0 { "x".repeat(1000) } else { format!("&a{};", i - 1).repeat(10) };
        format!("<!ENTITY a{i} '{inner}'>")
    });
    check(&[
        svg("copies of copies, 2 to the 40th", doubled(40), Refused("objects")),
        svg("copies of copies, 2 to the 12th", doubled(12), Proofed),
        svg("a copy of itself", format!("<g id='a'><use xlink:href='#a'/>{SQUARE}</g>"), Proofed),
        svg(
            "two copies of each other",
            format!("<g id='a'><use xlink:href='#b'/></g><g id='b'><use xlink:href='#a'/></g>{SQUARE}"),
            Refused("deep"),
        ),
        whole_svg("entities of entities", entities(&lol), Refused("unpack")),
        whole_svg("an entity of itself", entities("<!ENTITY a9 '&a9;'>"), Refused("unpack")),
        svg(
            "a clip path of itself",
            format!(
                "<clipPath id='a' clip-path='url(#a)'><rect width='9' height='9'/></clipPath><g clip-path='url(#a)'>{SQUARE}</g>{SQUARE}"
            ),
            Proofed,
        ),
        svg(
            "clip paths in a row, 2,000",
            format!(
                "{}<g clip-path='url(#c1999)'>{SQUARE}</g>{SQUARE}",
                each(2000, |i| format!(
                    "<clipPath id='c{i}' clip-path='url(#c{})'><rect width='99' height='99'/></clipPath>",
                    i.max(1) - 1
                ))
            ),
            Refused("objects"),
        ),
        svg(
            "a pattern painted with itself",
            format!(
                "<pattern id='p' width='9' height='9'><rect width='9' height='9' fill='url(#p)'/></pattern><g fill='url(#p)'>{SQUARE}</g>"
            ),
            Proofed,
        ),
        svg(
            "a mask of itself",
            format!("<mask id='m' mask='url(#m)'>{SQUARE}</mask><g mask='url(#m)'>{SQUARE}</g>"),
            Proofed,
        ),
        svg(
            "a gradient of itself",
            format!("<linearGradient id='l' xlink:href='#l'/><g fill='url(#l)'>{SQUARE}</g>{SQUARE}"),
            Proofed,
        ),
        svg(
            "markers on 20,000 corners",
            format!(
                "<marker id='m' markerWidth='9' markerHeight='9'>{}</marker><path marker-mid='url(#m)' d='M0 0{}Z'/>",
                SQUARE.repeat(100),
                each(20_000, |i| format!("L{} {}", i % 200, i / 200))
            ),
            Proofed,
        ),
        svg(
            "drawings within drawings, 400",
            format!("{}{SQUARE}{}", "<svg viewBox='0 0 200 100'>".repeat(400), "</svg>".repeat(400)),
            Proofed,
        ),
        svg(
            "a filter of a billion pixels",
            format!(
                "<filter id='f' width='1e9' height='1e9'><feGaussianBlur stdDeviation='1e9'/></filter><g filter='url(#f)'>{SQUARE}</g>"
            ),
            Proofed,
        ),
    ]);
}

#[test]
fn drawings_of_enormous_size_or_depth_are_refused_or_read() {
    let groups = |depth: usize| format!("{}{SQUARE}{}", "<g>".repeat(depth), "</g>".repeat(depth));
    let rules = |count: usize| {
        let shapes = each(60, |i| {
            format!("<rect class='c{i}' x='{}' y='{}' width='9' height='9'/>", i % 15 * 13, i / 15 * 13)
        });
        format!("<style>{}</style><g>{shapes}</g>", each(count, |i| format!(".c{i}{{fill:red}}")))
    };
    check(&[
        svg("groups within groups, 400", groups(400), Proofed),
        svg("groups within groups, 100,000", groups(100_000), Refused("nests")),
        svg(
            "parts with ids, 6,000",
            each(6000, |i| {
                format!("<rect id='r{i}' x='{}' y='{}' width='.5' height='.5'/>", i % 100 * 2, i / 100)
            }),
            Proofed,
        ),
        svg(
            "parts with one id, 1,500",
            each(1500, |i| {
                format!("<rect id='r' x='{}' y='{}' width='1' height='1'/>", i % 100 * 2, i / 100 * 2)
            }),
            Proofed,
        ),
        svg("an id of a megabyte", format!("<g id='{}'>{SQUARE}</g>", "x".repeat(1 << 20)), Proofed),
        svg("class rules, 10,000", rules(10_000), Proofed),
        svg("class rules, 400,000", rules(400_000), Refused("style rules")),
        svg(
            "rules that ask all ancestors",
            format!(
                "<style>{}</style>{}",
                each(10_000, |i| format!(".c{i} g g{{fill:red}}")),
                groups(50).repeat(20)
            ),
            Refused("style rules"),
        ),
        svg(
            "a string in a sheet that never ends",
            format!("<style>.a{{font:'}}{}</style>{SQUARE}", ".b{fill:red}".repeat(20_000)),
            Refused("style rules"),
        ),
        svg(
            "attributes, 20,000 of one element",
            format!("<path {} d='M5 5H90V60Z'/>", each(20_000, |i| format!("a{i}='1' "))),
            Refused("attributes"),
        ),
        svg(
            "a style of 100,000 declarations",
            format!("<path style='{}' d='M5 5H90V60Z'/>", "fill:red;".repeat(100_000)),
            Refused("style"),
        ),
        svg("a comment of 10 MB", format!("<!--{}-->{SQUARE}", "x".repeat(10 << 20)), Proofed),
        svg(
            "corners, 2,000 in one outline",
            format!(
                "<path d='M0 0{}L199 99Z'/>",
                each(2_000, |i| format!("L{:.3} {}", i as f64 / 10.5, 40 + i % 2 * 9))
            ),
            Proofed,
        ),
        svg(
            "letters, 1,000 of text",
            format!("<text font-size='1'>{}</text>{SQUARE}", "x ".repeat(500)),
            Proofed,
        ),
        whole_svg("bytes that unpack to 200 MB", unpacking_to(200 << 20), Refused("64 MB")),
        whole_svg("nothing but blanks", vec![b' '; 1 << 20], Refused("empty")),
        whole_svg(
            "a tag that never ends",
            format!("<svg xmlns='http://www.w3.org/2000/svg' a='{}", "x".repeat(1 << 20)),
            Refused("cut"),
        ),
        whole_svg("zeros", vec![0; 1 << 20], Refused("hard.svg")),
        whole_svg(
            "letters of two bytes",
            [0xff, 0xfe]
                .into_iter()
                .chain("<svg/>".encode_utf16().flat_map(u16::to_le_bytes))
                .collect::<Vec<u8>>(),
            Refused("UTF-8"),
        ),
    ]);
}

#[test]
fn drawings_of_numbers_out_of_all_bounds_are_refused_or_read() {
    let path = |d: &str| format!("<path d='{d}'/>{SQUARE}");
    let with = |attribute: &str| format!("<path {attribute} d='M5 5H90V60H5Z'/>{SQUARE}");
    let sized = |size: &str| format!("<svg xmlns='http://www.w3.org/2000/svg' {size}>{SQUARE}</svg>");
    check(&[
        svg("dashes of a hair", with("stroke='red' stroke-dasharray='1e-9'"), Proofed),
        svg("a stroke wider than the earth", with("stroke='red' stroke-width='1e30'"), Refused("hard.svg")),
        svg("a stroke thinner than an atom", with("fill='none' stroke='red' stroke-width='1e-30'"), Proofed),
        svg(
            "a mitre that never ends",
            "<path fill='none' stroke='red' stroke-miterlimit='1e30' d='M0 0L100 1e-7L0 2e-7'/><path d='M5 5H90V60Z'/>",
            Proofed,
        ),
        svg("scaled to nothing", with("transform='scale(0)'"), Proofed),
        svg("scaled beyond all bounds", with("transform='scale(1e30)'"), Refused("hard.svg")),
        svg("sheared flat", with("transform='skewX(90)'"), Refused("hard.svg")),
        svg("a transform of no numbers", with("transform='matrix(NaN NaN NaN NaN NaN NaN)'"), Refused("NaN")),
        svg("a corner at 1e39", path("M0 0L1e39 0L9 9Z"), Refused("hard.svg")),
        svg("a corner at NaN", path("M0 0LNaN 0L9 9Z"), Refused("NaN")),
        svg("an arc of radius 1e30", path("M0 0A1e30 1e30 0 0 1 9 9Z"), Refused("1e30")),
        svg("an arc of radius 1e-30", path("M0 0A1e-30 1e-30 0 1 1 9 9Z"), Proofed),
        svg(
            "ends of one outline, 100,000",
            path(&("M0 0".to_owned() + &"Z ".repeat(100_000))),
            Refused("ends of one path"),
        ),
        svg("ends of one outline, 1,000", path(&("M0 0".to_owned() + &"Z".repeat(1_000))), Proofed),
        svg("moves, 100,000", path(&"M1 1".repeat(100_000)), Proofed),
        svg("a shape a kilometre away", with("transform='translate(1e6 1e6)'"), Refused("hard.svg")),
        whole_svg("no width at all", sized("width='0' height='0'"), Refused("hard.svg")),
        whole_svg(
            "a width of 1e30 mm",
            sized("width='1e30mm' height='9mm' viewBox='0 0 9 9'"),
            Refused("hard.svg"),
        ),
        whole_svg("a view of no size", sized("width='9mm' height='9mm' viewBox='0 0 1e-300 -1'"), Proofed),
        svg(
            "a letter larger than the sea",
            format!("<text font-size='1e30'>x</text>{SQUARE}"),
            Refused("m long as drawn"),
        ),
    ]);
}

/// Bars over each other, each so much farther along and up than the last: their edges cross at the least of angles.
fn bars(count: usize, apart: f64) -> String {
    let bar = |i: usize| {
        let off = i as f64 * apart;
        format!("M{off:.7} 0L100 {:.7}L100 80L0 {:.7}Z", 50.0 + off, 30.0 + off)
    };
    format!("<path d='{}'/>", each(count, bar))
}

#[test]
fn drawings_that_tangle_or_nearly_touch_are_refused_or_read() {
    let star = each(40_000, |i| {
        let at = (i * 15_551 % 40_009) as f64 / 40_009.0 * std::f64::consts::TAU;
        format!("L{:.4} {:.4}", 100.0 + 90.0 * at.cos(), 50.0 + 45.0 * (3.0 * at).sin())
    });
    check(&[
        svg(
            "an outline that crosses itself everywhere",
            format!("<path d='M0 0{star}Z'/>"),
            Refused("cross"),
        ),
        svg("bars a millionth of a millimetre apart, 300", bars(300, 1e-6), Proofed),
        svg("bars a hundred-thousandth of a millimetre apart, 300", bars(300, 1e-5), Proofed),
        svg("bars a thousandth of a millimetre apart, 300", bars(300, 1e-3), Proofed),
        svg("bars a hundredth of a millimetre apart, 300", bars(300, 1e-2), Proofed),
        svg(
            "sheets over each other, 300",
            each(300, |i| format!("<rect id='s{i}' width='{}' height='50'/>", 199 - i % 100)),
            Proofed,
        ),
        svg(
            "squares that touch at corners, 400",
            format!(
                "<path d='{}'/>",
                each(800, |i| if (i % 40 + i / 40) % 2 == 0 {
                    format!("M{} {}h1v1h-1z", i % 40, i / 40)
                } else {
                    String::new()
                })
            ),
            Proofed,
        ),
        svg(
            "slivers, 1,000",
            format!("<path d='{}'/>", each(1000, |i| format!("M0 {0:.3}H199V{0:.3}01Z", i as f64 / 60.0))),
            Proofed,
        ),
        svg(
            "white over black, 3,000",
            format!(
                "<g id='a'>{}</g>",
                each(3000, |i| format!(
                    "<circle cx='{}' cy='50' r='{}' fill='{}'/>",
                    20 + i % 150,
                    3 + i % 9,
                    if i % 2 == 0 { "white" } else { "black" }
                ))
            ),
            Refused("untangle"),
        ),
        svg(
            "rays from one point, 1,000",
            each(1000, |i| {
                let at = i as f64 / 1000.0 * std::f64::consts::TAU;
                format!(
                    "<path stroke='red' stroke-width='.1' d='M100 50L{:.4} {:.4}'/>",
                    100.0 + 49.0 * at.cos(),
                    50.0 + 49.0 * at.sin()
                )
            }),
            Refused("untangle"),
        ),
    ]);
}

#[test]
#[expect(clippy::too_many_lines, reason = "a table of kinds")]
fn hard_dxf_is_refused_or_read() {
    let line = |x0: f64, y0: f64, x1: f64, y1: f64| {
        format!("0\nLINE\n8\n0\n10\n{x0:.5}\n20\n{y0:.5}\n11\n{x1:.5}\n21\n{y1:.5}\n")
    };
    let insert = |block: &str, more: &str| format!("0\nINSERT\n8\n0\n2\n{block}\n10\n0\n20\n0\n{more}");
    let block = |name: &str, inner: &str| {
        format!("0\nBLOCK\n8\n0\n2\n{name}\n70\n0\n10\n0\n20\n0\n{inner}0\nENDBLK\n8\n0\n")
    };
    let nested = each(30, |i| {
        block(
            &format!("b{i}"),
            &if i == 0 { CIRCLE.to_owned() } else { insert(&format!("b{}", i - 1), "").repeat(2) },
        )
    });
    let spline = |degree: &str, count: usize| {
        format!(
            "0\nSPLINE\n8\n0\n70\n0\n71\n{degree}\n72\n{}\n73\n{count}\n{}{}",
            count + 4,
            each(count + 4, |i| format!("40\n{i}\n")),
            each(count, |i| format!("10\n{}\n20\n{}\n", i % 300, i * 7 % 90))
        )
    };
    check(&[
        dxf(
            "layers, 6,000",
            &each(6_000, |i| {
                format!(
                    "0\nLWPOLYLINE\n8\nL{i}\n90\n3\n70\n1\n10\n{0}\n20\n{1}\n10\n{0}.6\n20\n{1}\n10\n{0}\n20\n{1}.6\n",
                    i % 80,
                    i / 80
                )
            }),
            Proofed,
        ),
        dxf(
            "lines that nearly touch, 20,000",
            &(each(20_000, |i| {
                line(
                    (i % 141) as f64 + 0.05,
                    (i / 141) as f64,
                    (i % 141) as f64 + 1.0,
                    (i / 141) as f64 + 0.02,
                )
            }) + CIRCLE),
            Proofed,
        ),
        dxf(
            "lines from nearly one point, 500",
            &(each(500, |i| {
                let at = i as f64;
                line(
                    100.0 + 0.04 * (at * 0.7).sin(),
                    100.0 + 0.04 * (at * 1.3).sin(),
                    100.0 + 90.0 * at.cos(),
                    100.0 + 90.0 * at.sin(),
                )
            }) + CIRCLE),
            Proofed,
        ),
        dxf("lines all in one place, 20,000", &(line(1.0, 1.0, 2.0, 2.0).repeat(20_000) + CIRCLE), Proofed),
        blocks("blocks of blocks, 2 to the 29th", &nested, &(insert("b29", "") + CIRCLE), Refused("objects")),
        blocks(
            "a block of itself",
            &block("a", &insert("a", "")),
            &(insert("a", "") + CIRCLE),
            Refused("deep"),
        ),
        blocks(
            "a block in a billion rows",
            &block("a", CIRCLE),
            &(insert("a", "70\n1000000000\n71\n1000000000\n44\n1\n45\n1\n") + CIRCLE),
            Refused("edges"),
        ),
        blocks(
            "a block scaled beyond all bounds",
            &block("a", CIRCLE),
            &(insert("a", "41\n1e300\n42\n1e300\n") + CIRCLE),
            Refused("hard.dxf"),
        ),
        dxf("a spline of degree 1e9", &(spline("1000000000", 9) + CIRCLE), Proofed),
        dxf("a spline of 20,000 points", &(spline("3", 20_000) + CIRCLE), Proofed),
        dxf("a spline of no points", &(spline("3", 0) + CIRCLE), Proofed),
        dxf(
            "an ellipse as flat as can be",
            &format!("0\nELLIPSE\n8\n0\n10\n0\n20\n0\n11\n50\n21\n0\n40\n1e-300\n41\n0\n42\n6.28\n{CIRCLE}"),
            Proofed,
        ),
        dxf(
            "an arc of radius 1e300",
            &format!("0\nARC\n8\n0\n10\n0\n20\n0\n40\n1e300\n50\n0\n51\n90\n{CIRCLE}"),
            Refused("hard.dxf"),
        ),
        dxf(
            "a circle of negative radius",
            &format!("0\nCIRCLE\n8\n0\n10\n0\n20\n0\n40\n-5\n{CIRCLE}"),
            Proofed,
        ),
        dxf(
            "a bulge of 1e300",
            &format!("0\nLWPOLYLINE\n8\n0\n90\n2\n70\n1\n10\n0\n20\n0\n42\n1e300\n10\n9\n20\n9\n{CIRCLE}"),
            Refused("hard.dxf"),
        ),
        dxf(
            "a text of a megabyte",
            &format!("0\nMTEXT\n8\n0\n1\n{}\n{CIRCLE}", "x".repeat(1 << 20)),
            Proofed,
        ),
        dxf("codes that are none", "nonsense\nLINE\nmore\nnonsense\n", Refused("hard.dxf")),
        Kind {
            name: "DXF of bytes",
            file: "hard.dxf",
            bytes: b"Binary DXF\r\n\x1a\0\0\0\0".to_vec(),
            command: PROOF,
            told: Refused("hard.dxf"),
        },
    ]);
}

#[test]
fn hard_saved_jobs_are_refused_or_read() {
    let deep = format!("{}1{}", "[".repeat(200_000), "]".repeat(200_000));
    let text = |name, bytes: Vec<u8>, words| Kind {
        name,
        file: "hard.spelk",
        bytes,
        command: PROOF,
        told: Refused(words),
    };
    let element = |i: usize| json!({ "name": format!("e{i}"), "treatment": "sunk", "rings": [format!("{0},{1} {2},{1} {2},{3} {0},{3}", i % 100, i / 100 % 100, i % 100 + 1, i / 100 % 100 + 1)] });
    let ring =
        |ring: &'static str| move |job: &mut Value| job["design"]["elements"][0]["rings"] = json!([ring]);
    check(&[
        text("a saved job of lists in lists", deep.into_bytes(), "not a saved job"),
        text("a saved job cut off", b"{\"format\": \"spelk.job\", \"version\": 2, \"des".to_vec(), "damaged"),
        text("an empty saved job", Vec::new(), "hard.spelk"),
        text("a saved job of zeros", vec![0; 1 << 20], "not a saved job"),
        saved_job("a saved job of 300 parts", Proofed, |job| {
            job["design"]["elements"] = (0..300).map(element).collect();
        }),
        saved_job("a saved job of 200,000 knots", Proofed, |job| {
            let knot = json!({ "kind": "knot", "clearance": 1.0, "shape": { "circle": { "x": 9.0, "y": 9.0, "diameter": 5.0 } } });
            job["board"]["blemishes"] = vec![knot; 200_000].into();
        }),
        saved_job("a saved outline of one point", Refused("damaged"), ring("1,1")),
        saved_job("a saved outline of NaN", Refused("damaged"), ring("NaN,NaN inf,1 1,1")),
        saved_job("a saved outline at 1e308", Refused("damaged"), ring("1e308,1e308 -1e308,0 0,1e308")),
        saved_job("a saved name of 10 MB", Proofed, |job| {
            job["design"]["elements"][0]["name"] = json!("x".repeat(10 << 20));
        }),
        saved_job("a saved version of 1e99", Refused("hard.spelk"), |job| job["version"] = json!(1e99)),
    ]);
}

#[test]
fn hard_pictures_fonts_and_shop_files_are_refused_or_read() {
    const PHOTO: &[&str] =
        &["proof", SAMPLE, "--photo", "FILE", "--corners", "0,9 9,9 9,0 0,0", "--picture", "OUTPUT"];
    const TRACE: &[&str] = &["trace", "FILE", "--length", "100mm", "-o", "OUTPUT"];
    const FONT: &[&str] = &["letter", "Inn", "--font-file", "FILE", "-o", "OUTPUT"];
    const RACK: &[&str] = &["rack", SAMPLE, "--boards", "FILE"];
    let kind = |name, file, bytes, command, words| Kind { name, file, bytes, command, told: Refused(words) };
    // What holds no typeface is passed over with a note, and the words are set in another.
    let font = |name, bytes| Kind { name, file: "a.ttf", bytes, command: FONT, told: Proofed };
    let noise = |size: u32| {
        let mut bytes = std::io::Cursor::new(Vec::new());
        let dots = image::GrayImage::from_fn(size, size, |x, y| {
            image::Luma([if (x * 7919 + y * 104_729) % 7 < 3 { 0 } else { 255 }])
        });
        dots.write_to(&mut bytes, image::ImageFormat::Png).unwrap();
        bytes.into_inner()
    };
    check(&[
        Kind { name: "a picture that claims 100,000 pixels square", file: "a.png", bytes: claiming_png(100_000), command: PHOTO, told: Proofed },
        kind("the same to be traced", "a.png", claiming_png(100_000), TRACE, "a.png"),
        kind("a picture that ends after its head", "a.png", claiming_png(4000), TRACE, "a.png"),
        kind("a picture of nothing", "a.jpg", b"\xff\xd8\xff\xe0".to_vec(), TRACE, "a.jpg"),
        kind("a TIFF that leads to itself", "a.tif", b"II*\0\x08\0\0\0\0\0\x08\0\0\0".to_vec(), TRACE, "a.tif"),
        kind("noise to be traced, 800 pixels square", "a.png", noise(800), TRACE, "a.png"),
        kind("a drawing that holds a drawing as a picture", "a.svg", b"<svg xmlns='http://www.w3.org/2000/svg'><image href='data:image/svg+xml;base64,PHN2Zy8+'/></svg>".to_vec(), TRACE, "a.svg"),
        font("a font of no bytes", Vec::new()),
        font("a font of a head alone", b"\0\x01\0\0\xff\xff\0\0\0\0\0\0".to_vec()),
        font("a font collection of billions", b"ttcf\0\x01\0\0\xff\xff\xff\xff\0\0\0\x0c".to_vec()),
        kind("a rack of lists in lists", "a.json", "[".repeat(100_000).into_bytes(), RACK, "a.json"),
        kind("a rack of a board of 1e308", "a.json", br#"[{"name": "a", "board": {"length": 1e308, "width": 100, "thickness": 19, "wood": "oak"}}]"#.to_vec(), RACK, "a.json"),
        kind("a rack of no length", "a.json", br#"[{"name": "a", "board": {"length": -0.0, "width": 100, "thickness": 19, "wood": "oak"}}]"#.to_vec(), RACK, "a.json"),
        Kind { name: "the longest board, searched for a place", file: "a.svg", bytes: Vec::new(), command: &["proof", SAMPLE, "--board", "609x1000000x19mm", "--find"], told: Proofed },
        Kind { name: "the largest board, searched for a place", file: "a.svg", bytes: Vec::new(), command: &["proof", SAMPLE, "--board", "1000000x1000000x19mm", "--find", "--blemish", "knot:circle:500000,500000,900000:5"], told: Proofed },
    ]);
}

/// A gzip stream of so many zeros in a comment.
fn unpacking_to(bytes: usize) -> Vec<u8> {
    let mut packed = flate2::write::GzEncoder::new(Vec::new(), flate2::Compression::fast());
    packed.write_all(b"<svg xmlns='http://www.w3.org/2000/svg'><!--").unwrap();
    let blank = vec![b' '; 1 << 20];
    for _ in 0..bytes >> 20 {
        packed.write_all(&blank).unwrap();
    }
    packed.finish().unwrap()
}

/// The head of a PNG that says how many pixels square it is, and nothing after it. PNG, third edition, 11.2.1.
fn claiming_png(size: u32) -> Vec<u8> {
    let mut header = b"IHDR".to_vec();
    header.extend(size.to_be_bytes());
    header.extend(size.to_be_bytes());
    header.extend([8, 2, 0, 0, 0]);
    let mut crc = flate2::Crc::new();
    crc.update(&header);
    let mut png = b"\x89PNG\r\n\x1a\n\0\0\0\r".to_vec();
    png.extend(header);
    png.extend(crc.sum().to_be_bytes());
    png
}
