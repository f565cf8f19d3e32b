//! The name of a typeface, set in that typeface.

use super::Picture;
use super::wood::{color, solid};
use crate::design::face::Fonts;
use crate::sheet::lettering::Lettering;
use tiny_skia::{FillRule, Pixmap, Transform};

/// How tall a capital is, as a share of the picture's height. A round value of our own: ascenders and descenders of
/// most typefaces then have room.
const CAPITAL: f32 = 0.45;

/// The name of a typeface in its own letters, white on nothing, in a picture so many pixels high and as wide as it
/// needs, but no wider than `widest`: what is too large for that is made smaller. `None` where the typeface lacks one
/// of the letters, as those of signs and of other scripts do, or its file cannot be used.
pub fn name_in_its_typeface(fonts: &Fonts, name: &str, height: u32, widest: u32) -> Option<Picture> {
    let face = fonts.face(name)?;
    if name.chars().any(|c| !c.is_whitespace() && !face.has(c)) {
        return None;
    }
    let room = [widest, height].map(|side| side as f32);
    let of_capital = room[1] * CAPITAL / face.cap_height() as f32;
    let path = Lettering::of(&face, of_capital * face.em() as f32).path(name)?;
    let ink = path.bounds();
    // A pixel is left free on every side.
    let smaller = ((room[0] - 2.0) / ink.width()).min((room[1] - 2.0) / ink.height()).min(1.0);
    let width = (ink.width() * smaller).ceil() as u32 + 2;
    let capital = room[1] * CAPITAL * smaller;
    // Capitals stand in the middle, unless something would be cut off.
    let foot = f32::midpoint(room[1], capital);
    let foot = foot.max(1.0 - ink.top() * smaller).min(room[1] - 1.0 - ink.bottom() * smaller);
    let placed = Transform::from_row(smaller, 0.0, 0.0, smaller, 1.0 - ink.left() * smaller, foot);
    let mut pixmap = Pixmap::new(width, height)?;
    pixmap.fill_path(&path, &solid(color(0xFFFFFF, 1.0)), FillRule::Winding, placed, None);
    Some(pixmap.into())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::design::face::BUILT_IN;

    #[test]
    fn a_name_is_drawn_in_its_own_letters_and_nothing_of_it_is_cut_off() {
        let fonts = Fonts::built_in();
        for (height, widest) in [(40, 600), (40, 60), (12, 600)] {
            let drawn =
                |name| name_in_its_typeface(&fonts, name, height, widest).expect("it has these letters");
            let pictures = ["Ubuntu Light", "Hack"].map(drawn);
            for picture in &pictures {
                assert!(picture.height == height && picture.width <= widest);
                let is_edge = |x, y| x == 0 || y == 0 || x + 1 == picture.width || y + 1 == height;
                let inked = (0..picture.width).flat_map(|x| (0..height).map(move |y| (x, y)));
                let inked: Vec<_> = inked.filter(|&(x, y)| picture.pixel(x, y).unwrap()[3] > 127).collect();
                assert!(!inked.is_empty() && inked.iter().all(|&(x, y)| !is_edge(x, y)));
            }
        }
        assert!(name_in_its_typeface(&fonts, "No such typeface", 40, 600).is_none());
        // Each letter of the fixed one is as wide as the next; of the other one they differ.
        let hack = fonts.face("Hack").unwrap();
        let light = fonts.face(BUILT_IN).unwrap();
        let widths = |face: &crate::design::face::Face| {
            ["iii", "WWW"].map(|w| crate::design::face::length(&face.line(w, false)))
        };
        assert!(widths(&hack)[0] == widths(&hack)[1] && widths(&light)[0] < widths(&light)[1]);
    }
}
