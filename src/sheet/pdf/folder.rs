//! The drawings of a folder on paper: a row each, with a picture, what became of it and what would help.

use super::leaf::{BLACK, DARK, GRAY, LEADING, Leaf, Mark, Pen, Shape};
use super::{SheetSettings, body, bound, face, head};
use crate::geometry::Rect;
use crate::sheet::folder::{FileRow, ProofedFile, counted};
use crate::sheet::picture::{Picture, Theme};
use crate::units::LengthUnit;
use crate::words;
use crate::words::compare::wall;
use crate::words::sheets::folder as said;
use glam::{DVec2, dvec2};

/// Room for a picture, millimetres across and down.
const PICTURE: DVec2 = dvec2(62.0, 26.0);
/// Pixels to a millimetre of a picture: about 200 to the inch.
const FINENESS: f64 = 8.0;
/// From a picture to its words, and from a row to the next.
const GAP: f64 = 4.0;
/// How tall letters are.
const NAME: f64 = 3.8;
const WORDS: f64 = 3.0;

/// The rows of a folder as a PDF of as many pages as it takes. `folder` is what it is called.
pub fn folder_pdf(folder: &str, rows: &[FileRow], settings: &SheetSettings) -> Vec<u8> {
    bound(folder_leaves(folder, rows, settings), &said::title(folder), said::NAME, settings.paper)
}

/// The letters of a folder's table that no typeface has, sorted.
pub fn missing_in_folder(folder: &str, rows: &[FileRow], settings: &SheetSettings) -> Vec<char> {
    let mut written = vec![folder, &settings.shop_name];
    written.extend(rows.iter().map(|row| row.file.as_str()));
    face::missing(&written.join(" "))
}

pub(super) fn folder_leaves(folder: &str, rows: &[FileRow], settings: &SheetSettings) -> Vec<Leaf> {
    let mut leaves = Vec::new();
    let (mut leaf, mut y) = begun(folder, settings);
    let area = body(&leaf);
    y = leaf.wrapped(dvec2(area.min.x, y), &counted(rows), WORDS, area.size().x, DARK) + 2.0;
    #[expect(clippy::cast_sign_loss, reason = "a constant above 0")]
    let most = (PICTURE * FINENESS).to_array().map(|side| side as u32);
    for row in rows {
        let lines = lines_of(row, settings.unit, area.size().x - PICTURE.x - GAP);
        let picture = row.proofed.as_ref().ok().map(|proofed| proofed.picture(most, Theme::Light));
        let drawn = picture.as_ref().map_or(0.0, |picture| f64::from(picture.height) / FINENESS);
        let tall = lines.iter().map(|line| line.height * LEADING).sum::<f64>().max(drawn);
        if y + tall > area.max.y {
            let (next, top) = begun(folder, settings);
            leaves.push(std::mem::replace(&mut leaf, next));
            y = top;
        }
        draw_row(&mut leaf, dvec2(area.min.x, y), picture.as_ref(), &lines);
        y += tall + GAP;
        leaf.line(dvec2(area.min.x, y - GAP / 2.0), dvec2(area.max.x, y - GAP / 2.0), Pen::new(0.12, GRAY));
    }
    leaves.push(leaf);
    leaves
}

/// A leaf with its head, and where it goes on.
fn begun(folder: &str, settings: &SheetSettings) -> (Leaf, f64) {
    let mut leaf = settings.paper.leaf(false);
    let y = head(&mut leaf, settings, said::NAME, folder);
    (leaf, y)
}

/// A line of a row.
struct Line {
    words: String,
    height: f64,
    is_heavy: bool,
}

/// What a row says, broken to the room it has; a sentence longer than a few lines is cut off.
fn lines_of(row: &FileRow, unit: LengthUnit, room: f64) -> Vec<Line> {
    const MOST_LINES: usize = 4;
    let mut lines = Vec::new();
    let mut say = |words: &str, height: f64, is_heavy: bool| {
        let broken = face::wrap(words, height, room).into_iter().take(MOST_LINES);
        lines.extend(broken.map(|words| Line { words, height, is_heavy }));
    };
    say(&row.file, NAME, true);
    match &row.proofed {
        Ok(ProofedFile { proof, wall: thinnest, minutes, would_help, .. }) => {
            say(&words::verdict::sentence(&proof.verdict, unit), WORDS, true);
            let size = words::sizes::measures([proof.length, proof.width], unit);
            say(&said::facts(&size, &wall(*thinnest, unit), &words::sizes::minutes(*minutes)), WORDS, false);
            if let Some(would_help) = would_help {
                say(would_help, WORDS, false);
            }
        }
        Err(why) => say(&said::not_read(why), WORDS, false),
    }
    lines
}

fn draw_row(leaf: &mut Leaf, at: DVec2, picture: Option<&Picture>, lines: &[Line]) {
    if let Some(picture) = picture {
        let size = dvec2(f64::from(picture.width), f64::from(picture.height)) / FINENESS;
        let area = Rect::new(at, at + size);
        leaf.marks.push(Mark::Picture { pixels: picture.into(), area });
        leaf.outline(Shape::rect(area), Pen::new(0.15, GRAY));
    }
    let mut y = at.y;
    for line in lines {
        let foot = dvec2(at.x + PICTURE.x + GAP, y + line.height);
        if line.is_heavy {
            leaf.bold(foot, &line.words, line.height);
        } else {
            leaf.words(foot, &line.words, line.height, BLACK);
        }
        y += line.height * LEADING;
    }
}
