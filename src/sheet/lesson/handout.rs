//! The lesson on two pages of paper, as SVG drawings in millimetres.

use super::Lesson;
use super::figures::{Figure, Ink, Label, Shape};
use crate::design::{self, samples};
use crate::geometry::Rect;
use crate::proof::lesson::TOUR;
use crate::sheet::coupon::Words;
use crate::sheet::outline::{Short, write_elements, write_head};
use crate::units::LengthUnit;
use glam::{DVec2, dvec2};
use std::fmt::{self, Write as _};

/// As wide as A4 and as tall as US Letter, so that it prints on either without being scaled.
const PAGE: DVec2 = dvec2(210.0, 279.0);
/// What no printer reaches, and a little for a punch.
const MARGIN: f64 = 16.0;
/// Heights of capitals.
const TITLE: f64 = 5.0;
const HEADING: f64 = 3.0;
const TEXT: f64 = 2.3;

/// The handout's two pages: the four figures at this size, and the tour's questions with room to answer.
///
/// Lengths are written in `unit`. `O(edges of the samples)`.
pub fn handout(lesson: &Lesson, design_name: &str, unit: LengthUnit) -> [String; 2] {
    let mut pages = [Sheet::new("Why it thins, page 1"), Sheet::new("Why it thins, page 2")];
    figures_page(&mut pages[0], lesson, design_name, unit);
    questions_page(&mut pages[1]);
    pages.map(Sheet::finish)
}

fn figures_page(sheet: &mut Sheet, lesson: &Lesson, design_name: &str, unit: LengthUnit) {
    sheet.line(TITLE, "Why it thins");
    sheet.gap(1.0);
    sheet.paragraph(
        "A design that is sound at one size can fail at a smaller one. Scaling multiplies every width in it. \
         What a cutter and a wood need stays where it is: the limit does not move, the wall does.",
    );
    sheet.paragraph(&format!(
        "Left: {design_name} as drawn. Right: {:.0} % of that. Each pair is drawn to one scale; broken lines are the limit across the grain.",
        100.0 * lesson.factor
    ));
    for figure in Figure::all(lesson, unit) {
        sheet.gap(2.5);
        sheet.line(HEADING, figure.title);
        sheet.figure(&figure);
        sheet.paragraph(&figure.words);
    }
}

fn questions_page(sheet: &mut Sheet) {
    const PICTURE: DVec2 = dvec2(46.0, 26.0);
    sheet.line(TITLE, "Six questions");
    sheet.gap(1.0);
    sheet.paragraph("Open each sample in Spelk and slide the size handle until the question is answered.");
    for (number, step) in (1..).zip(TOUR) {
        sheet.gap(3.0);
        let top = sheet.y;
        let sample = samples::find(step.sample);
        let title = sample.map_or(step.sample, |sample| sample.title);
        sheet.left = MARGIN + PICTURE.x + 5.0;
        sheet.line(HEADING, &format!("{number}. {title}"));
        sheet.paragraph(step.say);
        sheet.paragraph(step.question);
        sheet.rule();
        sheet.left = MARGIN;
        if let Some(design) = sample.and_then(|sample| design::read(sample.title, sample.svg.as_bytes()).ok())
        {
            sheet.silhouette(&design, Rect::new(dvec2(MARGIN, top), dvec2(MARGIN, top) + PICTURE));
        }
        sheet.y = sheet.y.max(top + PICTURE.y);
    }
}

/// A page being written from the top down; y runs down.
struct Sheet {
    svg: String,
    y: f64,
    left: f64,
    clips: usize,
}

impl Sheet {
    fn new(title: &str) -> Sheet {
        let mut svg = String::new();
        write_head(&mut svg, PAGE, title).expect(NEVER);
        svg.push_str(HATCH);
        Sheet { svg, y: MARGIN, left: MARGIN, clips: 0 }
    }

    fn finish(mut self) -> String {
        self.svg.push_str("</svg>\n");
        self.svg
    }

    fn gap(&mut self, height: f64) {
        self.y += height;
    }

    fn line(&mut self, cap_height: f64, words: &str) {
        self.y += cap_height;
        Words::new(cap_height).write(&mut self.svg, words, dvec2(self.left, self.y), false).expect(NEVER);
        self.y += 0.9 * cap_height;
    }

    fn paragraph(&mut self, words: &str) {
        let width = PAGE.x - MARGIN - self.left;
        for line in Words::new(TEXT).wrap(words, width) {
            self.line(TEXT, &line);
        }
        self.y += 0.8;
    }

    /// A line to write an answer on.
    fn rule(&mut self) {
        self.y += 8.0;
        let (left, right, y) = (Short(self.left), Short(PAGE.x - MARGIN), Short(self.y));
        writeln!(self.svg, r##"<path d="M{left} {y}L{right} {y}" stroke="#777" stroke-width="0.25"/>"##)
            .expect(NEVER);
    }

    fn figure(&mut self, figure: &Figure) {
        const GAP: f64 = 6.0;
        const TALLEST: f64 = 34.0;
        let wide = (PAGE.x - 2.0 * MARGIN - GAP) / 2.0;
        let size = figure.frame.size();
        let scale = (wide / size.x).min(TALLEST / size.y);
        for (index, (shapes, labels)) in (0..).zip(&figure.halves) {
            let left = MARGIN + f64::from(index) * (wide + GAP) + 0.5 * (wide - scale * size.x);
            let corner = dvec2(left, self.y);
            self.half(figure.frame, scale, corner, shapes, labels).expect(NEVER);
        }
        self.y += scale * size.y + 2.0;
    }

    fn half(
        &mut self,
        frame: Rect,
        scale: f64,
        corner: DVec2,
        shapes: &[Shape],
        labels: &[Label],
    ) -> fmt::Result {
        let place = |at: DVec2| corner + scale * dvec2(at.x - frame.min.x, frame.max.y - at.y);
        self.clips += 1;
        let clip = format!("frame-{}", self.clips);
        let size = scale * frame.size();
        let box_ = format!(
            r#"x="{}" y="{}" width="{}" height="{}""#,
            Short(corner.x),
            Short(corner.y),
            Short(size.x),
            Short(size.y)
        );
        writeln!(self.svg, r#"<clipPath id="{clip}"><rect {box_}/></clipPath><g clip-path="url(#{clip})">"#)?;
        for shape in shapes {
            write!(self.svg, r#"<path {} d=""#, style(shape.ink))?;
            for (index, point) in shape.points.iter().enumerate() {
                let at = place(*point);
                let letter = if index == 0 { "M" } else { "L" };
                write!(self.svg, "{letter}{} {} ", Short(at.x), Short(at.y))?;
            }
            writeln!(self.svg, r#"{}"/>"#, if shape.ink == Ink::Limit { "" } else { "Z" })?;
        }
        self.svg.push_str("</g>\n");
        writeln!(self.svg, r##"<rect {box_} fill="none" stroke="#444" stroke-width="0.2"/>"##)?;
        let words = Words::new(2.0);
        for label in labels {
            let width = words.width(&label.words);
            let foot = place(label.at) + dvec2(-0.5 * width, 1.0);
            writeln!(
                self.svg,
                r##"<rect x="{}" y="{}" width="{}" height="4" rx="0.8" fill="#fff" fill-opacity="0.85"/>"##,
                Short(foot.x - 1.0),
                Short(foot.y - 3.0),
                Short(width + 2.0)
            )?;
            words.write(&mut self.svg, &label.words, foot, false)?;
        }
        Ok(())
    }

    /// A design as a filled outline, as large as the box allows.
    fn silhouette(&mut self, design: &crate::design::Design, inside: Rect) {
        let outline = design.outline_box();
        let (room, size) = (inside.size(), outline.size());
        let scale = (room.x / size.x).min(room.y / size.y);
        writeln!(self.svg, r#"<g transform="translate({} {})">"#, Short(inside.min.x), Short(inside.min.y))
            .expect(NEVER);
        write_elements(&mut self.svg, design, outline, scale, r##"fill="#999" "##).expect(NEVER);
        self.svg.push_str("</g>\n");
    }
}

const NEVER: &str = "writing to a string does not fail";

/// Lines for what is lost: they stand out in black and white too.
const HATCH: &str = r##"<defs><pattern id="lost" width="1.2" height="1.2" patternUnits="userSpaceOnUse" patternTransform="rotate(45)"><rect width="1.2" height="1.2" fill="#fff"/><path d="M0 0V1.2" stroke="#b04a00" stroke-width="0.7"/></pattern></defs>
"##;

fn style(ink: Ink) -> &'static str {
    match ink {
        Ink::Wood => r##"fill="#d9bd8e" stroke="#4a3a24" stroke-width="0.25""##,
        Ink::Floor => r##"fill="#f4ecdd""##,
        Ink::Cutter => r##"fill="#dfe5ea" fill-opacity="0.85" stroke="#3c4750" stroke-width="0.3""##,
        Ink::Limit => r##"fill="none" stroke="#b04a00" stroke-width="0.5" stroke-dasharray="1.6 1""##,
        Ink::Lost => r##"fill="url(#lost)" stroke="#b04a00" stroke-width="0.25""##,
    }
}
