//! Draws `packaging/spelk.svg` at the sizes desktops ask for: `cargo run --example icon`.
//!
//! It knows plain filled paths, which is all our icon is made of.

use std::path::Path;
use tiny_skia::{Color, FillRule, Paint, Pixmap, PremultipliedColorU8, Transform};
use usvg::{Group, Node, Options, Tree};

/// Sizes of the freedesktop icon theme's folders, pixels.
const SIZES: [u32; 6] = [16, 32, 48, 128, 256, 512];

fn main() -> Result<(), Box<dyn std::error::Error>> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("packaging");
    let tree = Tree::from_data(&std::fs::read(folder.join("spelk.svg"))?, &Options::default())?;
    for size in SIZES {
        let mut picture = Pixmap::new(size, size).ok_or("no picture of this size")?;
        let scale = size as f32 / tree.size().width();
        fill(tree.root(), &mut picture, Transform::from_scale(scale, scale));
        let bytes: Vec<u8> = picture.pixels().iter().copied().flat_map(straight).collect();
        let path = folder.join("icons").join(format!("spelk-{size}.png"));
        image::save_buffer(&path, &bytes, size, size, image::ColorType::Rgba8)?;
        println!("{}", path.display());
    }
    Ok(())
}

fn straight(pixel: PremultipliedColorU8) -> [u8; 4] {
    let pixel = pixel.demultiply();
    [pixel.red(), pixel.green(), pixel.blue(), pixel.alpha()]
}

fn fill(group: &Group, picture: &mut Pixmap, scale: Transform) {
    for node in group.children() {
        match node {
            Node::Group(group) => fill(group, picture, scale),
            Node::Path(path) => {
                let Some(usvg::Paint::Color(color)) = path.fill().map(usvg::Fill::paint) else { continue };
                let mut paint = Paint { anti_alias: true, ..Paint::default() };
                paint.set_color(Color::from_rgba8(color.red, color.green, color.blue, 255));
                if let Some(outline) = outline(path.data()) {
                    let place = path.abs_transform();
                    let place =
                        Transform::from_row(place.sx, place.ky, place.kx, place.sy, place.tx, place.ty);
                    picture.fill_path(&outline, &paint, FillRule::Winding, place.post_concat(scale), None);
                }
            }
            Node::Image(_) | Node::Text(_) => {}
        }
    }
}

/// The same path in the painter's own words.
fn outline(path: &usvg::tiny_skia_path::Path) -> Option<tiny_skia::Path> {
    use usvg::tiny_skia_path::PathSegment::{Close, CubicTo, LineTo, MoveTo, QuadTo};
    let mut pen = tiny_skia::PathBuilder::new();
    for segment in path.segments() {
        match segment {
            MoveTo(a) => pen.move_to(a.x, a.y),
            LineTo(a) => pen.line_to(a.x, a.y),
            QuadTo(a, b) => pen.quad_to(a.x, a.y, b.x, b.y),
            CubicTo(a, b, c) => pen.cubic_to(a.x, a.y, b.x, b.y, c.x, c.y),
            Close => pen.close(),
        }
    }
    pen.finish()
}
