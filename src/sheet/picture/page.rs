//! The whole picture: the board with rulers, a title, the verdict, and what the marks mean.

use super::mark::paint_shape;
use super::wood::{color, line};
use super::{DesignPaths, Picture, Theme, View, board, carved, marks, on_screen, photographed_board};
use crate::arrange::Batch;
use crate::job::Job;
use crate::proof::{Finding, FindingKind, Proof, Severity};
use crate::sheet::lettering::{Align, Lettering};
use crate::shop::Board;
use crate::shop::Photo;
use crate::units::{LengthUnit, Mm, trimmed};
use crate::words;
use crate::words::sheets::picture::{self as said, Title};
use glam::{DAffine2, dvec2, vec2};
use std::collections::BTreeSet;
use tiny_skia::{FillRule, PathBuilder, Pixmap, Rect, Transform};

/// Free space round the board on a page, in pixels: above for the title and verdict, left and below
/// for the rulers, below for the meaning of the marks.
const ABOVE: f64 = 128.0;
const LEFT: f64 = 62.0;
const RIGHT: f64 = 26.0;
const BELOW: f64 = 100.0;

/// The view for a page `width` pixels wide, as high as its board needs (up to as high as it is wide).
pub fn page_view(shown: &Board, width: u32, unit: LengthUnit, theme: Theme) -> View {
    let width = width.clamp(240, super::LONGEST_SIDE);
    let (length, across) = (shown.length.get().max(1e-3), shown.width.get().max(1e-3));
    let room = f64::from(width) - LEFT - RIGHT;
    let tallest = (f64::from(width) - ABOVE - BELOW).max(60.0);
    let scale = (room / length).min(tallest / across);
    let height = (ABOVE + BELOW + across * scale).ceil() as u32;
    let left = LEFT + (room - length * scale) / 2.0;
    let bottom = ABOVE + across * scale;
    View {
        size: [width, height],
        screen_from_board: DAffine2::from_cols(dvec2(scale, 0.0), dvec2(0.0, -scale), dvec2(left, bottom)),
        theme,
        unit,
    }
}

/// The whole picture of a proof: layers, rulers, title and verdict. Use [`page_view`] for a view with
/// room for the words.
pub fn picture(job: &Job, proof: &Proof, view: &View) -> Picture {
    photographed_picture(job, proof, view, None)
}

/// The same on a photograph of the board, where there is one and its corners are marked.
pub fn photographed_picture(job: &Job, proof: &Proof, view: &View, photo: Option<&Photo>) -> Picture {
    let mut page = photographed_board(job, proof, view, photo);
    page.lay_over(&carved(job, &DesignPaths::new(job.design()), proof.board_from_design, view));
    page.lay_over(&marks(proof, 0, view, None));
    let Some(mut pixmap) = page.take_pixmap() else { return view.pixmap().into() };
    if view.scale() > 0.0 {
        paint_rulers(&mut pixmap, job.board(), view);
        paint_grain_arrow(&mut pixmap, job.board(), view);
    }
    paint_title(&mut pixmap, job, proof, view);
    paint_meanings(&mut pixmap, &proof.findings, view);
    pixmap.into()
}

/// The design on its bare board, with nothing written on it: small enough to stand in a row of a table.
pub fn design_on_board(job: &Job, paths: &DesignPaths, proof: &Proof, view: &View) -> Picture {
    let mut page = board(job, proof, view);
    page.lay_over(&carved(job, paths, proof.board_from_design, view));
    page
}

/// The board with every laid copy of a batch on it, what was found of each, and what all of them come to. What was
/// found alike of several copies is marked on the first of them.
pub fn batch_picture(job: &Job, batch: &Batch, view: &View, photo: Option<&Photo>) -> Picture {
    let Some(first) = batch.copies.first() else { return view.pixmap().into() };
    let mut page = photographed_board(job, &first.proof, view, photo);
    let mut paths: Option<(usize, DesignPaths)> = None;
    let mut findings = Vec::new();
    let mut marked: BTreeSet<(usize, String)> = BTreeSet::new();
    let mut number = 0;
    for copy in &batch.copies {
        let one = job.copy(copy.piece, copy.lie);
        // Copies come piece by piece: each is traced once.
        let of_piece = paths.take().filter(|(piece, _)| *piece == copy.piece);
        let of_piece = of_piece.unwrap_or_else(|| (copy.piece, DesignPaths::new(one.design())));
        page.lay_over(&carved(&one, &of_piece.1, copy.proof.board_from_design, view));
        let mut proof = copy.proof.clone();
        let like = |finding: &Finding| (copy.piece, words::finding::message(finding, view.unit));
        proof.findings.retain(|finding| !marked.contains(&like(finding)));
        marked.extend(proof.findings.iter().map(like));
        page.lay_over(&marks(&proof, number, view, None));
        number += proof.findings.len();
        findings.extend(copy.proof.findings.iter().cloned());
        paths = Some(of_piece);
    }
    let Some(mut pixmap) = page.take_pixmap() else { return view.pixmap().into() };
    if view.scale() > 0.0 {
        paint_rulers(&mut pixmap, job.board(), view);
        paint_grain_arrow(&mut pixmap, job.board(), view);
    }
    let board = [job.board().length, job.board().width];
    let title = said::batch_title(batch.copies.len(), board, &job.wood().name, view.unit);
    let head = words::arrange::verdict(&batch.severities());
    paint_head(&mut pixmap, view, &title, batch.severity(), [head, String::new()]);
    paint_meanings(&mut pixmap, &findings, view);
    pixmap.into()
}

fn paint_title(pixmap: &mut Pixmap, job: &Job, proof: &Proof, view: &View) {
    let unit = view.unit;
    let title = said::title(
        &Title {
            design: &job.design().name,
            size: [proof.length, proof.width],
            factor: proof.factor,
            board: [job.board().length, job.board().width],
            wood: &job.wood().name,
            ends: job.ends(),
            cutter: &job.cutter().name,
            depth: job.depth(),
            // What differs is in the proof; here, that something does.
            some_otherwise: job.places().any(|place| job.has_own_cut(place)),
        },
        unit,
    );
    let verdict = words::verdict::sentence(&proof.verdict, unit);
    let advice = words::verdict::advice(&proof.verdict, unit);
    paint_head(pixmap, view, &title, proof.verdict.severity, [verdict, advice]);
}

/// The title, and the verdict with a sentence under it.
fn paint_head(
    pixmap: &mut Pixmap,
    view: &View,
    title: &str,
    severity: Severity,
    [verdict, advice]: [String; 2],
) {
    let ink = view.theme.surroundings();
    let (left, width) = (20.0, pixmap.width() as f32 - 40.0);
    let small = Lettering::new(15.0);
    for (row, words) in small.wrap(title, width).into_iter().take(1).enumerate() {
        let y = 26.0 + row as f32 * small.line_height();
        small.draw(pixmap, &words, [left, y], Align::Start, ink.faint);
    }
    let large = Lettering::new(21.0);
    let [mark, word] = match severity {
        Severity::Sound => [0x009E73, 0x006B4E],
        Severity::Chancy => [0xE69F00, 0x7A5200],
        Severity::Unsound => [0xD55E00, 0x9A3F00],
    };
    let word = if view.theme == Theme::Dark { mark } else { word };
    if let Some(rect) = Rect::from_xywh(left, 38.0, 5.0, 72.0) {
        super::wood::fill(pixmap, rect, color(mark, 1.0));
    }
    let mut y = 57.0;
    let mut rows = 0;
    let plain = Lettering::new(17.0);
    let lines = [(&large, verdict, color(word, 1.0)), (&plain, advice, ink.ink)];
    for (lettering, words, ink) in lines {
        for words in lettering.wrap(&words, width - 16.0) {
            // Three lines fit above the board; the rest is in the list of findings.
            if rows < 3 {
                lettering.draw(pixmap, &words, [left + 16.0, y], Align::Start, ink);
            }
            rows += 1;
            y += lettering.line_height();
        }
    }
}

/// A ruler below the board and one at its left, in the user's unit, from the corner where the leading
/// end meets the reference edge.
fn paint_rulers(pixmap: &mut Pixmap, shown: &Board, view: &View) {
    let ink = view.theme.surroundings();
    let lettering = Lettering::new(13.0);
    let [x0, y0] = on_screen(view, dvec2(0.0, 0.0));
    let step = ruler_step(view.unit, view.scale());
    let one = view.unit.one().get();
    for (length, along) in [(shown.length.get(), true), (shown.width.get(), false)] {
        let end = length * view.scale();
        let at = |px: f64, off: f32| {
            if along { [x0 + px as f32, y0 + 8.0 + off] } else { [x0 - 8.0 - off, y0 - px as f32] }
        };
        line(pixmap, [at(0.0, 0.0), at(end, 0.0)], 1.0, ink.faint, None);
        // Four short ticks to a label; more labels than this would not fit in any picture.
        let ticks = (length / (step * one) * 4.0 + 1e-6).clamp(0.0, 8192.0) as usize;
        for tick in 0..=ticks {
            let value = step * tick as f64 / 4.0;
            let px = value * one * view.scale();
            let named = tick % 4 == 0;
            line(pixmap, [at(px, 0.0), at(px, if named { 7.0 } else { 4.0 })], 1.0, ink.faint, None);
            if named {
                let words = trimmed(value, 3);
                let [x, y] = at(px, 10.0);
                if along {
                    lettering.draw(pixmap, &words, [x, y + 10.0], Align::Middle, ink.ink);
                } else {
                    let base = y + lettering.cap_height() / 2.0;
                    lettering.draw(pixmap, &words, [x, base], Align::End, ink.ink);
                }
            }
        }
    }
    lettering.draw(pixmap, view.unit.symbol(), [x0 - 12.0, y0 + 28.0], Align::End, ink.faint);
}

/// The distance between two labels, in the unit: the closest round one that leaves room for them.
fn ruler_step(unit: LengthUnit, scale: f64) -> f64 {
    const MILLIMETRES: [f64; 10] = [1.0, 2.0, 5.0, 10.0, 20.0, 50.0, 100.0, 200.0, 500.0, 1000.0];
    const INCHES: [f64; 9] = [0.25, 0.5, 1.0, 2.0, 3.0, 6.0, 12.0, 24.0, 48.0];
    const ROOM: f64 = 44.0; // pixels, for four digits and air
    let steps: &[f64] = if unit == LengthUnit::Millimetres { &MILLIMETRES } else { &INCHES };
    let fits = |step: &&f64| **step * unit.one().get() * scale >= ROOM;
    let last = steps[steps.len() - 1];
    steps.iter().find(fits).copied().unwrap_or_else(|| {
        let times = (ROOM / (last * unit.one().get() * scale)).ceil();
        last * times
    })
}

/// An arrow along the grain, under the ruler.
fn paint_grain_arrow(pixmap: &mut Pixmap, shown: &Board, view: &View) {
    let ink = view.theme.surroundings().faint;
    let [x0, y] = on_screen(view, dvec2(0.0, 0.0));
    let [x1, _] = on_screen(view, dvec2(shown.length.get(), 0.0));
    let y = y + 44.0;
    let lettering = Lettering::new(13.0);
    let (middle, half) = (f32::midpoint(x0, x1), lettering.width(said::GRAIN) / 2.0);
    if half * 2.0 + 100.0 > x1 - x0 {
        return;
    }
    lettering.draw(pixmap, said::GRAIN, [middle, y + lettering.cap_height() / 2.0], Align::Middle, ink);
    for (side, far) in [(-1.0f32, -half - 44.0), (1.0, half + 44.0)] {
        let (near, tip) = (middle + side * (half + 8.0), middle + far);
        line(pixmap, [[near, y], [tip, y]], 1.2, ink, None);
        let mut head = PathBuilder::new();
        head.move_to(tip + side * 7.0, y);
        head.line_to(tip - side, y - 3.6);
        head.line_to(tip - side, y + 3.6);
        head.close();
        if let Some(path) = head.finish() {
            pixmap.fill_path(&path, &super::wood::solid(ink), FillRule::Winding, Transform::identity(), None);
        }
    }
}

/// What each mark on this picture means, and how many of it there are, along the foot.
fn paint_meanings(pixmap: &mut Pixmap, findings: &[Finding], view: &View) {
    let ink = view.theme.surroundings();
    let lettering = Lettering::new(14.0);
    let y = pixmap.height() as f32 - 22.0;
    let mut x = 30.0;
    let mut kinds: Vec<FindingKind> = findings.iter().map(Finding::kind).collect();
    // What nobody has measured has no mark on the board.
    kinds.retain(|&kind| kind != FindingKind::NotChecked);
    kinds.sort_unstable();
    kinds.dedup();
    for kind in kinds {
        let of_kind = || findings.iter().filter(|finding| finding.kind() == kind);
        let grave = || of_kind().filter(|finding| finding.severity() > Severity::Sound);
        let (count, slight) = (grave().count(), of_kind().count() - grave().count());
        let least = grave().filter_map(Finding::measured).reduce(Mm::min);
        let words = said::found(kind, count, least, slight, view.unit);
        if x + 40.0 + lettering.width(&words) > pixmap.width() as f32 {
            break;
        }
        paint_shape(pixmap, kind, vec2(x, y), 7.0);
        lettering.draw(pixmap, &words, [x + 16.0, y + lettering.cap_height() / 2.0], Align::Start, ink.ink);
        x += 16.0 + lettering.width(&words) + 34.0;
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn ruler_labels_are_round_and_never_crowded() {
        for unit in LengthUnit::ALL {
            for scale in [1e-4, 0.03, 0.5, 1.0, 2.0, 7.0, 50.0, 1e4] {
                let step = ruler_step(unit, scale);
                let closest = if unit == LengthUnit::Millimetres { 1.0 } else { 0.25 };
                assert!(
                    step >= closest && step * unit.one().get() * scale >= 44.0 - 1e-6,
                    "{unit:?} {scale}"
                );
            }
        }
    }
}
