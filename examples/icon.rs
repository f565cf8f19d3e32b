//! Draws `packaging/spelk.svg` at every size that desktops use, and gathers those in the files that Windows and
//! macOS take: `cargo run --example icon`.
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
    let mut drawn = Vec::new();
    for size in SIZES {
        let mut picture = Pixmap::new(size, size).ok_or("no picture of this size")?;
        let scale = size as f32 / tree.size().width();
        fill(tree.root(), &mut picture, Transform::from_scale(scale, scale));
        let bytes: Vec<u8> = picture.pixels().iter().copied().flat_map(straight).collect();
        let path = folder.join("icons").join(format!("spelk-{size}.png"));
        image::save_buffer(&path, &bytes, size, size, image::ColorType::Rgba8)?;
        println!("{}", path.display());
        drawn.push(Drawn { size, png: std::fs::read(path)?, pixels: bytes });
    }
    std::fs::write(folder.join("windows/spelk.ico"), ico(&drawn))?;
    std::fs::write(folder.join("macos/spelk.icns"), icns(&drawn))?;
    Ok(())
}

/// The icon at one size.
struct Drawn {
    size: u32,
    png: Vec<u8>,
    /// Red, green, blue and alpha, from the top.
    pixels: Vec<u8>,
}

/// An icon file of Windows: sizes up to 48 as bitmaps, which every reader takes, and 256 as a PNG (Microsoft Learn,
/// "Icons", and the layout of `ICONDIR` there).
fn ico(drawn: &[Drawn]) -> Vec<u8> {
    let images: Vec<(u32, Vec<u8>)> = drawn
        .iter()
        .filter_map(|drawn| match drawn.size {
            ..=48 => Some((drawn.size, bitmap(drawn))),
            256 => Some((256, drawn.png.clone())),
            _ => None,
        })
        .collect();
    let mut out = Vec::new();
    for word in [0_u16, 1, images.len() as u16] {
        out.extend(word.to_le_bytes());
    }
    let mut offset = 6 + 16 * images.len();
    for (size, image) in &images {
        // 256 is written as 0.
        out.extend([*size as u8, *size as u8, 0, 0, 1, 0, 32, 0]);
        out.extend((image.len() as u32).to_le_bytes());
        out.extend((offset as u32).to_le_bytes());
        offset += image.len();
    }
    out.extend(images.into_iter().flat_map(|(_, image)| image));
    out
}

/// A `BITMAPINFOHEADER`, the colours from the bottom up, and a mask that hides nothing, for alpha does.
fn bitmap(drawn: &Drawn) -> Vec<u8> {
    let size = drawn.size;
    let mut out = Vec::new();
    for number in [40, size, 2 * size, 1 | (32 << 16), 0, 0, 0, 0, 0, 0] {
        out.extend(number.to_le_bytes());
    }
    for row in drawn.pixels.chunks(4 * size as usize).rev() {
        out.extend(row.chunks(4).flat_map(|pixel| [pixel[2], pixel[1], pixel[0], pixel[3]]));
    }
    let mask_row = size.div_ceil(32) * 4;
    out.resize(out.len() + (mask_row * size) as usize, 0);
    out
}

/// An icon file of macOS: PNGs under the kinds that stand for their sizes.
fn icns(drawn: &[Drawn]) -> Vec<u8> {
    let kind = |size| match size {
        32 => Some(b"ic11"),
        128 => Some(b"ic07"),
        256 => Some(b"ic08"),
        512 => Some(b"ic09"),
        _ => None,
    };
    let mut images = Vec::new();
    for drawn in drawn {
        let Some(kind) = kind(drawn.size) else { continue };
        images.extend(kind);
        images.extend((drawn.png.len() as u32 + 8).to_be_bytes());
        images.extend(&drawn.png);
    }
    [b"icns".as_slice(), &(images.len() as u32 + 8).to_be_bytes(), &images].concat()
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
