//! The figures of the documentation are what the library draws now.

#[path = "../examples/figures/draw.rs"]
mod draw;

use std::path::Path;

#[test]
fn the_figures_are_those_the_example_draws() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("docs/figures");
    let mut known: Vec<String> = std::fs::read_dir(&folder)
        .unwrap()
        .map(|entry| entry.unwrap().file_name().into_string().unwrap())
        .collect();
    known.sort();
    let mut drawn = Vec::new();
    for (name, svg) in draw::all() {
        let kept = std::fs::read_to_string(folder.join(name)).unwrap_or_default();
        assert!(kept == svg, "docs/figures/{name} is out of date: cargo run --example figures");
        // Rustdoc takes an SVG for one block of HTML only where no line is blank.
        assert!(svg.lines().all(|line| !line.trim().is_empty()), "{name} has a blank line");
        drawn.push(name.to_owned());
    }
    drawn.sort();
    assert_eq!(known, drawn, "no other figure lies there");
}
