//! Our pictures as egui takes them.

use crate::sheet::picture::Picture;
use crate::shop::Photo;
use egui::{Color32, ColorImage};

/// The same pixels.
pub(crate) fn color_image(picture: &Picture) -> ColorImage {
    let pixels = picture
        .pixels
        .chunks_exact(4)
        .map(|p| Color32::from_rgba_premultiplied(p[0], p[1], p[2], p[3]))
        .collect();
    ColorImage::new([picture.width as usize, picture.height as usize], pixels)
}

/// A photograph, no side of it longer than so many pixels.
pub(crate) fn photo_image(photo: &Photo, longest: u32) -> ColorImage {
    let small = photo.shrunk(longest);
    ColorImage::from_rgba_unmultiplied(small.size().map(|side| side as usize), small.pixels())
}
