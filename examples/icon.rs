//! Draws `packaging/spelk.svg` at every size that desktops use: `cargo run --example icon`.
//!
//! It draws plain filled paths only, because the icon has nothing else.

use std::path::Path;
use tiny_skia::{Color, FillRule, Paint, Pixmap, PremultipliedColorU8, Transform};
use usvg::{Group, Node, Options, Tree};

/// The sizes of the icon folders in the freedesktop icon theme, pixels.
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
                let place = path.abs_transform().post_concat(scale);
                picture.fill_path(path.data(), &paint, FillRule::Winding, place, None);
            }
            Node::Image(_) | Node::Text(_) => {}
        }
    }
}
