//! A file is read by itself: whatever it points at, nothing else is opened and nothing is asked for.
//!
//! On Linux the program runs under `strace`, where there is one, and the paths it opened are looked at; everywhere a
//! file beside it that would change the result is there for the taking.

use crate::cli::program_path;
use rayon::prelude::*;
use std::fs;
use std::path::Path;
use std::process::{Command, Stdio};

/// What a drawing may point at, of this folder: a file beside it, by its path, as an address, and over the network.
fn targets(folder: &Path) -> Vec<String> {
    let beside = folder.join("bait.svg");
    let beside = beside.to_str().unwrap();
    vec![
        "bait.svg".to_owned(),
        beside.to_owned(),
        format!("file://{beside}"),
        format!("file://localhost{beside}"),
        r"\\bait.invalid\share\bait.svg".to_owned(),
        "//bait.invalid/bait.svg".to_owned(),
        "http://bait.invalid/bait.svg".to_owned(),
        "https://bait.invalid/bait.svg#bait".to_owned(),
    ]
}

/// Drawings that point at `target` in every way there is, each with a bar that is there without it.
fn drawings(target: &str) -> [(&'static str, String); 17] {
    let svg = |head: &str, inner: String| {
        format!(
            "{head}<svg xmlns='http://www.w3.org/2000/svg' xmlns:xlink='http://www.w3.org/1999/xlink' \
             xmlns:xi='http://www.w3.org/2001/XInclude' width='60mm' height='20mm' viewBox='0 0 60 20'>\
             <path d='M5 5H55V15H5Z'/>{inner}</svg>"
        )
    };
    let dxf = |blocks: String, entities: &str| {
        format!(
            "0\nSECTION\n2\nHEADER\n9\n$INSUNITS\n70\n4\n0\nENDSEC\n0\nSECTION\n2\nBLOCKS\n{blocks}0\nENDSEC\n0\nSECTION\n2\nENTITIES\n\
             0\nLWPOLYLINE\n8\n0\n90\n4\n70\n1\n10\n5\n20\n5\n10\n55\n20\n5\n10\n55\n20\n15\n10\n5\n20\n15\n{entities}0\nENDSEC\n0\nEOF\n"
        )
    };
    let xref = format!("0\nBLOCK\n8\n0\n2\nbait\n70\n4\n10\n0\n20\n0\n1\n{target}\n0\nENDBLK\n8\n0\n");
    [
        ("image.svg", svg("", format!("<image xlink:href='{target}' width='60' height='20'/>"))),
        ("href.svg", svg("", format!("<image href='{target}' width='60' height='20'/>"))),
        ("use.svg", svg("", format!("<use xlink:href='{target}#bait'/>"))),
        (
            "paint.svg",
            svg(
                "",
                format!(
                    "<g fill='url({target}#bait)' clip-path='url({target}#bait)'><path d='M10 7H12V9Z'/></g>"
                ),
            ),
        ),
        (
            "entity.svg",
            svg(
                &format!("<!DOCTYPE svg [<!ENTITY bait SYSTEM '{target}'>]>"),
                "<desc>&bait;</desc>".to_owned(),
            ),
        ),
        (
            "parameter.svg",
            svg(&format!("<!DOCTYPE svg [<!ENTITY % bait SYSTEM '{target}'> %bait;]>"), String::new()),
        ),
        ("doctype.svg", svg(&format!("<!DOCTYPE svg SYSTEM '{target}'>"), String::new())),
        ("sheet.svg", svg(&format!("<?xml-stylesheet type='text/css' href='{target}'?>"), String::new())),
        (
            "import.svg",
            svg(
                "",
                format!("<style>@import url({target}); @import '{target}'; path {{ fill: red }}</style>"),
            ),
        ),
        (
            "font.svg",
            svg("", format!("<style>@font-face {{ font-family: bait; src: url({target}) }}</style>")),
        ),
        ("include.svg", svg("", format!("<xi:include href='{target}'/><script xlink:href='{target}'/>"))),
        (
            "foreign.svg",
            svg(
                "",
                format!(
                    "<foreignObject><iframe xmlns='http://www.w3.org/1999/xhtml' src='{target}'/></foreignObject><feImage xlink:href='{target}'/>"
                ),
            ),
        ),
        ("base.svg", svg("", format!("<g xml:base='{target}'><use xlink:href='bait.svg#bait'/></g>"))),
        ("xref.dxf", dxf(xref, "0\nINSERT\n8\n0\n2\nbait\n10\n0\n20\n0\n")),
        ("image.dxf", dxf(String::new(), &format!("0\nIMAGE\n8\n0\n10\n0\n20\n0\n340\nFF\n1\n{target}\n"))),
        ("underlay.dxf", dxf(String::new(), &format!("0\nPDFUNDERLAY\n8\n0\n1\n{target}\n"))),
        ("shape.dxf", dxf(String::new(), &format!("0\nTEXT\n8\n0\n1\nbait\n7\n{target}\n3\n{target}\n"))),
    ]
}

#[test]
fn nothing_outside_a_drawing_is_followed() {
    let folder = tempfile::tempdir().unwrap();
    let bait = "<svg xmlns='http://www.w3.org/2000/svg' width='60mm' height='20mm' viewBox='0 0 60 20'>\
                <path id='bait' d='M0 0H60V20H0Z'/></svg>";
    fs::write(folder.path().join("bait.svg"), bait).unwrap();
    let pointing: Vec<(String, &str, String)> = targets(folder.path())
        .into_iter()
        .flat_map(|target| drawings(&target).map(|(name, text)| (target.clone(), name, text)))
        .collect();
    pointing.par_iter().enumerate().for_each(|(number, (target, name, text))| {
        let opened = Opened::of(folder.path(), &format!("{number}-{name}"), text);
        let what = format!("{name} to {target}: {}", opened.said);
        match opened.status {
            // What is read is the bar and nothing else.
            Some(0 | 1) => assert_eq!(opened.size.as_deref(), Some("50.0 10.0 4"), "{what}"),
            // A reader may refuse such a drawing altogether.
            Some(2) => {}
            status => panic!("{status:?} {what}"),
        }
        assert!(!opened.calls.contains("bait"), "{what} {}", opened.calls);
        assert!(!opened.calls.contains("AF_INET"), "{what} {}", opened.calls);
    });
}

/// What a proof of a drawing opened.
struct Opened {
    status: Option<i32>,
    said: String,
    /// The design's length, width and edges.
    size: Option<String>,
    /// What the system was asked to open or connect to, but for the drawing itself; empty without `strace`.
    calls: String,
}

impl Opened {
    fn of(folder: &Path, name: &str, text: &str) -> Opened {
        let drawing = folder.join(name);
        fs::write(&drawing, text).unwrap();
        let trace = folder.join(format!("{name}.trace"));
        let mut command = if has_strace() {
            let mut command = Command::new("strace");
            command
                .args(["-f", "-qq", "-e", "trace=open,openat,connect,socket", "-s", "4096", "-o"])
                .arg(&trace);
            command.arg(program_path());
            command
        } else {
            Command::new(program_path())
        };
        let run = command
            .current_dir(folder)
            .env("XDG_CONFIG_HOME", folder)
            .args(["proof", name, "--json"])
            .stdin(Stdio::null())
            .output()
            .unwrap();
        let out: Option<serde_json::Value> = serde_json::from_slice(&run.stdout).ok();
        let calls = fs::read_to_string(&trace).unwrap_or_default();
        Opened {
            status: run.status.code(),
            said: String::from_utf8_lossy(&run.stderr).into_owned(),
            size: out.map(|proof| {
                let design = &proof["design"];
                format!("{} {} {}", design["length_mm"], design["width_mm"], design["segments"])
            }),
            calls: calls.lines().filter(|line| !line.contains(name)).collect::<Vec<_>>().join("\n"),
        }
    }
}

fn has_strace() -> bool {
    cfg!(target_os = "linux")
        && Command::new("strace")
            .arg("-V")
            .stdout(Stdio::null())
            .stderr(Stdio::null())
            .status()
            .is_ok_and(|status| status.success())
}
