//! Sheets of paper as PDF, at true physical scale: size options, the bench sheet, a template to tape to
//! the board, the coupon, the lesson's handout, the drawings of a folder, and the guide.
//!
//! Every page has a bar of 100 mm and one of 4 in at its foot, to be laid under a rule before anything
//! else is believed. Outlines are lines, letters are the program's own typefaces and go with the file.
//! The same input gives the same bytes: no clock, no random names.

mod batch;
mod bench;
mod face;
mod folder;
mod guide;
mod handout;
mod leaf;
mod options;
mod panel;
mod template;
#[cfg(test)]
mod wording;

pub use batch::{batch_bench_pdf, pieces_pdf};
pub use bench::{BenchNotes, MOST_REMARK, bench_pdf};
pub use face::missing;
pub use folder::{folder_pdf, missing_in_folder};
pub use guide::guide_pdf;
pub use handout::handout_pdf;
pub use options::{options_pdf, prices_pdf};
pub use template::{MOST_TILES, TemplateError, coupon_pdf, template_pdf};

use crate::geometry::Rect;
use crate::job::Job;
use crate::shop::MOST_PIXELS;
use crate::units::{LengthUnit, Mm};
use crate::words::sheets::paper as words;
use glam::{DVec2, dvec2};
use leaf::{BLACK, DARK, GRAY, LEADING, Leaf, Mark, Pen, Pixels, Shape};
use serde::{Deserialize, Serialize};
use std::fmt;
use std::sync::Arc;
use thiserror::Error;

/// The paper there is in the printer.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Paper {
    /// 210 x 297 mm (ISO 216).
    #[default]
    A4,
    /// 8 1/2 x 11 in (ANSI/ASME Y14.1).
    Letter,
}

impl Paper {
    /// The paper of most who measure in a unit: Letter where that is inches.
    ///
    /// ```
    /// # use spelk::{sheet::pdf::Paper, units::LengthUnit};
    /// assert_eq!(Paper::beside(LengthUnit::InchFraction), Paper::Letter);
    /// assert_eq!(Paper::beside(LengthUnit::Millimetres), Paper::A4);
    /// ```
    pub fn beside(unit: LengthUnit) -> Paper {
        match unit {
            LengthUnit::Millimetres => Paper::A4,
            _ => Paper::Letter,
        }
    }
}

/// What all sheets have in common.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct SheetSettings {
    /// The paper.
    pub paper: Paper,
    /// The unit of what is written.
    pub unit: LengthUnit,
    /// The shop's name, over every sheet; nothing if empty.
    pub shop_name: String,
    /// What the shop writes to its customer, on the size options; lines may be broken by hand.
    pub customer_text: String,
    /// The shop's own mark, beside its name.
    pub mark: Option<ShopMark>,
    /// What an offer says beside the sizes.
    pub offer: Quote,
}

/// What an offer says beside the sizes. Dates are written as they are given: no sheet looks at a clock.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Quote {
    /// Who it is for; a line to write on if empty.
    pub customer: String,
    /// The day it is made; a line to write on if empty.
    pub date: String,
    /// The last day it holds; a line to write on if empty.
    pub valid_until: String,
    /// Whether it says what was found at each size, with the board, the time and what is lost.
    pub with_findings: bool,
}

/// A picture of the shop's own.
#[derive(Clone, Debug, PartialEq)]
pub struct ShopMark {
    /// Pixels across and down.
    size: [u32; 2],
    /// Four bytes a pixel, red, green, blue and alpha.
    rgba: Arc<Vec<u8>>,
}

/// Why a shop's mark cannot be used. The caller names the file.
#[derive(Debug, Error)]
pub enum MarkError {
    /// It is neither PNG nor JPEG.
    NotAPicture,
    /// It does not read as a picture, or is too large for one.
    Damaged(image::ImageError),
}

impl fmt::Display for MarkError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            MarkError::NotAPicture => f.write_str(words::MARK_NOT_A_PICTURE),
            MarkError::Damaged(error) => f.write_str(&words::mark_damaged(error)),
        }
    }
}

/// The longest side of a mark, pixels: finer than print at the size it has. A larger one is scaled down.
const MOST_MARK: u32 = 900;

impl ShopMark {
    /// Reads a PNG or JPEG picture.
    ///
    /// # Errors
    /// Bytes that are neither, damaged, or too large.
    pub fn read(bytes: &[u8]) -> Result<ShopMark, MarkError> {
        let mut reader = image::ImageReader::new(std::io::Cursor::new(bytes))
            .with_guessed_format()
            .map_err(|error| MarkError::Damaged(error.into()))?;
        if !matches!(reader.format(), Some(image::ImageFormat::Png | image::ImageFormat::Jpeg)) {
            return Err(MarkError::NotAPicture);
        }
        let mut limits = image::Limits::default();
        limits.max_alloc = Some(MOST_PIXELS * 8);
        reader.limits(limits);
        let picture = reader.decode().map_err(MarkError::Damaged)?;
        let picture = if picture.width().max(picture.height()) > MOST_MARK {
            picture.resize(MOST_MARK, MOST_MARK, image::imageops::FilterType::Triangle)
        } else {
            picture
        };
        let rgba = picture.to_rgba8();
        Ok(ShopMark { size: [rgba.width(), rgba.height()], rgba: Arc::new(rgba.into_raw()) })
    }
}

impl Paper {
    /// Every paper.
    pub const ALL: [Paper; 2] = [Paper::A4, Paper::Letter];

    /// Its name.
    pub fn label(self) -> &'static str {
        match self {
            Paper::A4 => "A4",
            Paper::Letter => "Letter",
        }
    }

    /// Across and down, upright.
    pub fn size(self) -> [Mm; 2] {
        match self {
            Paper::A4 => [Mm::new(210.0), Mm::new(297.0)],
            Paper::Letter => [Mm::from_inches(8.5), Mm::from_inches(11.0)],
        }
    }

    fn leaf(self, lying: bool) -> Leaf {
        let [across, down] = self.size().map(Mm::get);
        Leaf::new(if lying { dvec2(down, across) } else { dvec2(across, down) })
    }
}

/// The letters of a sheet that no typeface has, sorted: those of its settings, of the job's own names, and of
/// `more`.
pub fn missing_letters(settings: &SheetSettings, job: &Job, more: &[&str]) -> Vec<char> {
    let (design, wood, machine) = (job.design(), job.wood(), job.machine());
    let of_job = [&design.name, &wood.name, &job.cutter().name, &machine.name, job.remark()];
    let elements = job.design().elements.iter().map(|element| element.name.as_str());
    let Quote { customer, date, valid_until, .. } = &settings.offer;
    let written = [&settings.shop_name, &settings.customer_text, customer, date, valid_until];
    let written = written.into_iter().map(String::as_str);
    let written = written.chain(of_job).chain(elements).chain(more.iter().copied());
    missing(&written.collect::<Vec<_>>().join(" "))
}

/// Free paper all round: what any printer leaves white, and a finger's width more at the sides.
const MARGIN: f64 = 12.0;
/// Paper kept for the foot.
const FOOT: f64 = 17.0;

/// The part of a leaf that a sheet may fill.
fn body(leaf: &Leaf) -> Rect {
    Rect::new(dvec2(MARGIN, MARGIN), leaf.size - dvec2(MARGIN, MARGIN + FOOT))
}

/// The foot of every page: the two bars, how to print, and which page it is.
fn foot(leaf: &mut Leaf, what: &str, paper: Paper, page: usize, pages: usize) {
    let bottom = leaf.size.y - MARGIN;
    let left = MARGIN;
    let top = bottom - FOOT + 4.0;
    for (row, length, ticks, name) in [(0.0, 100.0, 10, words::BAR_100_MM), (1.0, 101.6, 4, words::BAR_4_IN)]
    {
        let y = top + 2.0 + row * 5.5;
        let pen = Pen::new(0.25, BLACK);
        leaf.line(dvec2(left, y), dvec2(left + length, y), pen);
        for tick in 0..=ticks {
            let x = left + length * f64::from(tick) / f64::from(ticks);
            let end = tick == 0 || tick == ticks;
            leaf.line(
                dvec2(x, y - if end { 1.6 } else { 0.8 }),
                dvec2(x, y + if end { 1.6 } else { 0.0 }),
                pen,
            );
        }
        leaf.words(dvec2(left + 103.5, y + 1.0), name, 2.8, BLACK);
    }
    let right = leaf.size.x - MARGIN;
    let room = right - (left + 118.0);
    let mut y = top + 1.6;
    for line in face::wrap(words::PRINT, 2.6, room) {
        leaf.words_to(dvec2(right, y), &line, 2.6, GRAY);
        y += 2.6 * LEADING;
    }
    let page = words::page(what, paper.label(), page, pages);
    for line in face::wrap(&page, 2.6, room).into_iter().take(3) {
        leaf.words_to(dvec2(right, y), &line, 2.6, DARK);
        y += 2.6 * LEADING;
    }
}

/// Puts a foot under each leaf and binds them.
fn bound(mut leaves: Vec<Leaf>, title: &str, what: &str, paper: Paper) -> Vec<u8> {
    let pages = leaves.len();
    for (index, leaf) in leaves.iter_mut().enumerate() {
        foot(leaf, what, paper, index + 1, pages);
    }
    leaf::bind(&leaves, title)
}

/// The head of a sheet: the shop's mark and name, what the sheet is, and of which design. Returns the
/// next free y.
fn head(leaf: &mut Leaf, settings: &SheetSettings, what: &str, of: &str) -> f64 {
    let area = body(leaf);
    let mut left = area.min.x;
    let mut bottom = area.min.y;
    if let Some(mark) = &settings.mark {
        let [across, down] = mark.size.map(f64::from);
        let scale = (34.0 / across).min(17.0 / down);
        let size = dvec2(across, down) * scale;
        let pixels = Pixels { size: mark.size, rgba: mark.rgba.clone() };
        leaf.marks.push(Mark::Picture { pixels, area: Rect::new(area.min, area.min + size) });
        left += size.x + 4.0;
        bottom += size.y;
    }
    let room = area.max.x - left;
    let mut y = area.min.y;
    if !settings.shop_name.trim().is_empty() {
        for line in face::wrap(&settings.shop_name, 5.6, room).into_iter().take(3) {
            y += 5.6;
            leaf.bold(dvec2(left, y), &line, 5.6);
            y += 5.6 * (LEADING - 1.0);
        }
    }
    for line in face::wrap(&words::head(what, of), 4.2, room).into_iter().take(4) {
        y += 4.2;
        leaf.words(dvec2(left, y), &line, 4.2, BLACK);
        y += 4.2 * (LEADING - 1.0);
    }
    let y = y.max(bottom) + 1.5;
    leaf.line(dvec2(area.min.x, y), dvec2(area.max.x, y), Pen::new(0.25, BLACK));
    y + 2.5
}

/// A box to tick, ticked or not, whose lower left corner is at `at`.
fn tick_box(leaf: &mut Leaf, at: DVec2, size: f64, ticked: bool) {
    let square = Rect::new(at - dvec2(0.0, size), at + dvec2(size, 0.0));
    leaf.outline(Shape::rect(square), Pen::new(0.2, BLACK));
    if ticked {
        let pen = Pen::new(0.35, BLACK);
        leaf.line(square.min + size * 0.2, square.max - size * 0.2, pen);
        leaf.line(
            dvec2(square.min.x + size * 0.2, square.max.y - size * 0.2),
            dvec2(square.max.x - size * 0.2, square.min.y + size * 0.2),
            pen,
        );
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::design::samples::find;
    use crate::guide::pages as guide_pages;
    use crate::job::sample::sample_job;
    use crate::job::{Edit, Ends, Size};
    use crate::proof::sizes::{parse_sizes, sizes};
    use crate::proof::{Finding, Severity, measure, proof, rate};
    use crate::relief::NEVER;
    use crate::sheet::coupon::coupon;
    use crate::sheet::folder::FileRow;
    use crate::shop::{Prices, Wood};

    fn sample(id: &str) -> Job {
        sample_job(find(id).unwrap()).unwrap()
    }

    fn accept(finding: &Finding) -> Edit {
        Edit::Accept { finding: finding.id.clone(), accepted: true }
    }

    /// Settings with words longer than any line.
    fn wordy(paper: Paper) -> SheetSettings {
        SheetSettings {
            paper,
            unit: LengthUnit::InchFraction,
            shop_name: "Donaudampfschifffahrtsgesellschaftsschilderwerkstatt am Alten Kornhafen & Nephews"
                .to_owned(),
            customer_text: "A line that was broken by hand\nand one that is long enough to run over the whole width of the paper and then some more of it.".repeat(3),
            mark: Some(ShopMark { size: [40, 10], rgba: Arc::new(vec![90; 40 * 10 * 4]) }),
            offer: Quote {
                customer: "The parish council of Lower Elmstead, for the attention of its clerk".to_owned(),
                date: "29 November 2026".to_owned(),
                valid_until: "the first of February, or as long as this board lasts".to_owned(),
                with_findings: true,
            },
        }
    }

    /// Nothing is cut off: all ink lies within the free paper round a page.
    fn assert_within(leaves: &mut [Leaf], what: &str, paper: Paper) {
        let pages = leaves.len();
        for (index, leaf) in leaves.iter_mut().enumerate() {
            foot(leaf, what, paper, index + 1, pages);
            let inked = leaf.inked().unwrap();
            let free = Rect::new(DVec2::splat(MARGIN - 0.5), leaf.size - DVec2::splat(MARGIN - 0.5));
            let within = inked.min.cmpge(free.min).all() && inked.max.cmple(free.max).all();
            assert!(within, "{what} page {}: {inked:?} is not within {free:?}", index + 1);
        }
    }

    #[test]
    fn sizes_stay_on_the_paper_two_as_well_as_twelve() {
        let job = sample("gate-sign");
        let mut design = (**job.design()).clone();
        design.name = "The sign for the gate of the upper orchard, second draft, with the geese".repeat(2);
        let job = job.with_design(Arc::new(design));
        let measured = measure(&job);
        let ratings = rate(&job, &measured);
        let twelve = "5in,6in,7in,8in,9in,10in,11in,12in,A name that is a good deal longer than the column it stands in=13in,14in";
        for paper in Paper::ALL {
            for (text, least_pages) in [("drawn", 1), (twelve, 2)] {
                let settings = wordy(paper);
                let wanted = parse_sizes(text, settings.unit).unwrap();
                let prices = Prices { tax: 0.2, minimum: 1.0e6, ..Prices::default() };
                let rows = sizes(&job, &measured, &ratings, &wanted, &prices, &|_| Some(95.0)).unwrap();
                let bare =
                    crate::sheet::picture::Picture { width: 48, height: 16, pixels: vec![200; 48 * 16 * 4] };
                let surfaces: Vec<_> = rows.iter().map(|_| Some(bare.clone())).collect();
                let mut leaves = options::options_leaves(&job, &rows, &surfaces, &prices, &settings);
                assert!(leaves.len() >= least_pages, "{} pages", leaves.len());
                assert_within(&mut leaves, "Sizes", paper);
                let mut leaves = options::options_leaves(&job, &rows, &[], &prices, &settings);
                assert_within(&mut leaves, "Sizes", paper);
            }
        }
    }

    #[test]
    fn a_folder_goes_over_as_many_pages_as_it_takes() {
        let shop = crate::shop::Shop::built_in();
        let means = crate::advice::Means::of(&shop, &[]);
        let row = |path: &str, read| {
            FileRow::of(std::path::Path::new(path), read, &means, LengthUnit::InchFraction, &NEVER).unwrap()
        };
        let job = |id| Ok(Arc::new(sample(id).with([Edit::Size(Size::Factor(0.9))]).unwrap()));
        let long = "the sign for the gate of the upper orchard, second draft, with the geese".repeat(3);
        let mut rows = vec![
            row("inn-sign.svg", job("inn-sign")),
            row(&long, job("house-number")),
            row(
                "broken.svg",
                Err("it ends in the middle of a tag and cannot be read as a drawing".repeat(9)),
            ),
        ];
        rows.extend(rows.clone().into_iter().cycle().take(27).collect::<Vec<_>>());
        for paper in Paper::ALL {
            let mut leaves = folder::folder_leaves("Orchard", &rows, &wordy(paper));
            assert!(leaves.len() > 2, "{} pages", leaves.len());
            assert_within(&mut leaves, "Drawings", paper);
            let written: Vec<&str> = leaves.iter().flat_map(|leaf| wording::words(&leaf.marks)).collect();
            let named = written.iter().filter(|words| **words == "inn-sign.svg").count();
            assert_eq!(named, 10, "each row is there once");
        }
    }

    #[test]
    fn the_guide_stays_on_the_paper() {
        for paper in Paper::ALL {
            let mut leaves = guide::guide_leaves(paper);
            assert!(leaves.len() > guide_pages().len(), "{} leaves", leaves.len());
            assert_within(&mut leaves, crate::words::guide::NAME, paper);
        }
    }

    #[test]
    fn the_bench_sheet_is_one_page_whatever_is_found() {
        for paper in Paper::ALL {
            for (id, size) in [("inn-sign", 0.3), ("boat-nameboard", 1.0), ("gate-sign", 1.0)] {
                let job = sample(id);
                let wood = "A wood with a name as long as a plank of it".to_owned();
                let wood = Wood { name: wood, ..job.wood().clone() };
                let edits =
                    [Edit::Size(Size::Factor(size)), Edit::Ends(Ends::Free), Edit::Wood(Box::new(wood))];
                let job = job.with(edits).unwrap();
                let measured = measure(&job);
                let proof = proof(&job, &measured, &rate(&job, &measured));
                let remark = "Ask about the hinges before the second coat; the customer comes on Thursday\n";
                let accepted = proof.findings.iter().map(accept);
                let job = job.with(accepted.chain([Edit::Remark(remark.repeat(20))])).unwrap();
                let notes = BenchNotes {
                    minutes: Some(125.0),
                    relief: Some(crate::sheet::picture::Picture {
                        width: 96,
                        height: 40,
                        pixels: vec![200; 96 * 40 * 4],
                    }),
                    would_help: String::new(),
                };
                let mut leaf = bench::bench_leaf(&job, &proof, &notes, &wordy(paper));
                let bottom = leaf.inked().unwrap().max.y;
                assert!(bottom <= body(&leaf).max.y + 0.5, "{id} on {}: {bottom}", paper.label());
                assert_within(std::slice::from_mut(&mut leaf), "Bench sheet", paper);
            }
        }
    }

    #[test]
    fn the_bench_sheet_says_where_findings_are_and_how_many_more_are_not_accepted() {
        let mut job = sample("inn-sign").with([Edit::Size(Size::Factor(0.4))]).unwrap();
        let proof = crate::proof::proof_of(&job);
        let grave: Vec<_> = proof.findings.iter().filter(|one| one.severity() > Severity::Sound).collect();
        let unit = LengthUnit::Millimetres;
        let settings = SheetSettings { unit, ..SheetSettings::default() };
        let written = |job: &Job| {
            wording::words(&bench::bench_leaf(job, &proof, &BenchNotes::default(), &settings).marks).join(" ")
        };
        let bare = written(&job);
        let first = crate::words::finding::placed(grave[0], unit);
        assert!(first.contains(", at ") && bare.contains(&first), "{first} is not in {bare}");
        assert!(bare.contains(crate::words::sheets::bench::PLACES));
        job = job.with(grave[1..].iter().copied().map(accept)).unwrap();
        assert!(written(&job).contains("1 of them not accepted"));
        job = job.with([accept(grave[0])]).unwrap();
        assert!(written(&job).contains("more, all accepted"));
    }

    #[test]
    fn the_handout_is_two_pages_that_hold_everything() {
        for paper in Paper::ALL {
            for (id, size) in [("inn-sign", 0.6), ("gate-sign", 1.0), ("house-number", 0.35)] {
                let job = sample(id).with([Edit::Size(Size::Factor(size))]).unwrap();
                let proof = crate::proof::proof_of(&job);
                for settings in [wordy(paper), SheetSettings { paper, ..SheetSettings::default() }] {
                    let mut leaves = handout::handout_leaves(&job, &proof, &settings);
                    for leaf in &leaves {
                        let bottom = leaf.inked().unwrap().max.y;
                        assert!(bottom <= body(leaf).max.y, "{id} on {}: {bottom}", paper.label());
                    }
                    assert_within(&mut leaves, "Handout", paper);
                }
            }
        }
    }

    /// ISO 216 and ANSI/ASME Y14.1 (memory); 4 in are 101.6 mm.
    #[test]
    fn the_bars_at_the_foot_are_as_long_as_they_say() {
        assert_eq!(Paper::A4.size(), [Mm::new(210.0), Mm::new(297.0)]);
        assert_eq!(Paper::Letter.size(), [Mm::new(215.9), Mm::new(279.4)]);
        let mut leaf = Paper::A4.leaf(false);
        foot(&mut leaf, "Test", Paper::A4, 1, 1);
        let lengths: Vec<f64> = leaf
            .marks
            .iter()
            .filter_map(|mark| match mark {
                Mark::Line { shape, .. } => Some(shape.bounds()?.size().x),
                _ => None,
            })
            .filter(|length| *length > 50.0)
            .collect();
        assert_eq!(lengths.len(), 2);
        assert!((lengths[0] - 100.0).abs() < 1e-9 && (lengths[1] - 101.6).abs() < 1e-9, "{lengths:?}");
    }

    /// Every line that is drawn within a clip, moved by the page's place.
    fn true_size(marks: &[Mark]) -> Option<Rect> {
        let of = |mark: &Mark| match mark {
            Mark::Within { marks, .. } => true_size(marks),
            Mark::Line { shape, pen } if shape.closed && pen.width > 0.2 => shape.bounds(),
            _ => None,
        };
        marks.iter().filter_map(of).reduce(Rect::union)
    }

    #[test]
    fn a_template_is_true_to_size_and_its_pages_join() {
        let mut job = sample("boat-nameboard").with([Edit::Size(Size::Factor(0.8))]).unwrap();
        let measured = measure(&job);
        let proof = proof(&job, &measured, &rate(&job, &measured));
        for paper in Paper::ALL {
            let settings = SheetSettings { paper, ..SheetSettings::default() };
            let mut leaves = template::template_leaves(&job, &proof, &settings).unwrap();
            assert!(leaves.len() > 1, "it is longer than any page");
            let expected = job.design().outline_box().size() * 0.8;
            let places: Vec<Rect> = leaves.iter().map(|leaf| true_size(&leaf.marks).unwrap()).collect();
            for place in &places {
                assert!((place.size() - expected).abs().max_element() < 0.05, "{place:?}");
            }
            // Neighbours show the same design moved by a page less the overlap.
            let step = places[0].min.x - places[1].min.x;
            let window = body(&leaves[0]).size().x;
            assert!((step - (window - 10.0)).abs() < 1e-9, "{step} of {window}");
            assert_within(&mut leaves, "Template", paper);
        }
        job = job.with([Edit::Size(Size::Factor(20.0))]).unwrap();
        let proof = crate::proof::proof(&job, &measured, &rate(&job, &measured));
        assert!(template::template_leaves(&job, &proof, &SheetSettings::default()).is_err());
    }

    #[test]
    fn the_coupon_stays_on_the_paper() {
        for paper in Paper::ALL {
            for depth in [3.0, 12.0] {
                let job = sample("gate-sign").with([Edit::Depth(Mm::new(depth))]).unwrap();
                let coupon = coupon(&job);
                let mut leaves = template::coupon_leaves(&coupon, &job, &wordy(paper)).unwrap();
                assert_within(&mut leaves, "Coupon", paper);
            }
        }
    }

    #[test]
    fn letters_that_no_typeface_has_are_found() {
        let mut job = sample("gate-sign");
        let settings = SheetSettings {
            shop_name: "\u{391}\u{3b8}\u{3ae}\u{3bd}\u{3b1}".to_owned(),
            ..SheetSettings::default()
        };
        assert_eq!(
            missing_letters(&settings, &job, &["\u{42f}\u{43d}\u{430}"]),
            Vec::<char>::new(),
            "Greek and Cyrillic are built in"
        );
        let wood = Wood { name: "\u{10fffd}".to_owned(), ..job.wood().clone() };
        job.apply(Edit::Wood(Box::new(wood))).unwrap();
        assert_eq!(missing_letters(&settings, &job, &[]), ['\u{10fffd}']);
    }

    #[test]
    fn a_mark_is_read_from_a_picture_and_refused_from_anything_else() {
        let picture =
            crate::sheet::picture::Picture { width: 1200, height: 3, pixels: vec![255; 1200 * 3 * 4] };
        let mark = ShopMark::read(&picture.to_png()).unwrap();
        assert_eq!(mark.size[0], MOST_MARK);
        for wrong in [&b""[..], b"<svg/>", b"GIF89a", &picture.to_png()[..40]] {
            assert!(ShopMark::read(wrong).is_err(), "{wrong:?}");
        }
    }
}
