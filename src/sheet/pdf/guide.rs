//! The guide on paper: its contents, then each of its pages from a new leaf on.

use super::face::{self, Words};
use super::leaf::{self, BLACK, DARK, GRAY, LEADING, Leaf, Look, PALE, Pen, Shape};
use super::{MARGIN, Paper, body};
use crate::geometry::Rect;
use crate::guide::{self, Block, Page, Span};
use crate::words::guide as words;
use crate::words::sheets::paper::page;
use glam::dvec2;

/// Height of the words.
const WORDS: f64 = 3.3;
/// Height of what is typed: the longest lines of a proof are as wide as the paper.
const TYPED: f64 = 2.4;
/// Height of a page's title, and of the headings under it by their level, 2 first.
const TITLE: f64 = 6.0;
const HEADINGS: [f64; 2] = [4.6, 3.8];
/// Height of the words at the foot.
const FOOT: f64 = 2.6;
/// Between two blocks.
const BETWEEN: f64 = 2.0;
/// Between two columns of a table.
const COLUMNS: f64 = 4.0;
/// How far an entry of a list stands in, for each list that it lies in.
const STEP_IN: f64 = 5.0;
/// Round what is typed.
const FRAME: f64 = 1.5;
/// A heading is never the last on a leaf: so many lines go with it.
const KEPT_WITH: f64 = 3.0;

/// The guide as a PDF, some thirty pages. The same for everybody: it has neither a job nor a shop's name.
pub fn guide_pdf(paper: Paper) -> Vec<u8> {
    let mut leaves = guide_leaves(paper);
    let pages = leaves.len();
    for (index, leaf) in leaves.iter_mut().enumerate() {
        let which = page(words::NAME, paper.label(), index + 1, pages);
        // Nothing here is true to size, so it has no bars to check.
        leaf.words_to(leaf.size - MARGIN, &which, FOOT, GRAY);
    }
    leaf::bind(&leaves, words::NAME)
}

pub(super) fn guide_leaves(paper: Paper) -> Vec<Leaf> {
    let pages = guide::pages();
    let mut setter = Setter::new(paper);
    let mut starts = Vec::new();
    for page in pages {
        setter.turn();
        starts.push(setter.leaves.len());
        setter.page(page);
    }
    // The first leaf was kept free for them.
    setter.leaves[0] = contents_leaf(paper, pages, &starts);
    setter.leaves
}

/// Which page begins on which leaf.
fn contents_leaf(paper: Paper, pages: &[Page], starts: &[usize]) -> Leaf {
    let mut leaf = paper.leaf(false);
    let area = body(&leaf);
    let mut y = area.min.y + TITLE;
    leaf.bold(dvec2(area.min.x, y), words::NAME, TITLE);
    y += TITLE + HEADINGS[0];
    leaf.bold(dvec2(area.min.x, y), words::CONTENTS, HEADINGS[0]);
    for (page, start) in pages.iter().zip(starts) {
        y += 2.0 * WORDS;
        leaf.words(dvec2(area.min.x, y), &page.title, WORDS, BLACK);
        leaf.words_to(dvec2(area.max.x, y), &start.to_string(), WORDS, DARK);
        leaf.line(dvec2(area.min.x, y + 1.2), dvec2(area.max.x, y + 1.2), Pen::new(0.1, PALE));
    }
    leaf
}

/// Fills leaf after leaf from the top.
struct Setter {
    paper: Paper,
    leaves: Vec<Leaf>,
    area: Rect,
    /// Where the next line's top is.
    y: f64,
}

impl Setter {
    fn new(paper: Paper) -> Setter {
        let leaf = paper.leaf(false);
        let area = body(&leaf);
        Setter { paper, leaves: vec![leaf], area, y: area.min.y }
    }

    fn turn(&mut self) {
        self.leaves.push(self.paper.leaf(false));
        self.y = self.area.min.y;
    }

    /// Turns over where so much does not fit any more.
    fn keep(&mut self, height: f64) {
        if self.y + height > self.area.max.y && self.y > self.area.min.y {
            self.turn();
        }
    }

    fn leaf(&mut self) -> &mut Leaf {
        self.leaves.last_mut().expect("there is a first leaf")
    }

    fn page(&mut self, page: &Page) {
        self.heading(&page.title, TITLE);
        for block in &page.blocks {
            self.block(block);
        }
    }

    fn block(&mut self, block: &Block) {
        let (left, right) = (self.area.min.x, self.area.max.x);
        match block {
            Block::Heading { level, .. } => {
                let height = HEADINGS[usize::from(*level > 2)];
                self.y += BETWEEN;
                self.heading(&block.text(), height);
            }
            Block::Words(spans) => self.flow(spans, left, right),
            Block::Item { depth, number, words } => {
                let left = left + STEP_IN * (*depth as f64 + 1.0);
                self.keep(WORDS * LEADING);
                let at = dvec2(left, self.y + WORDS);
                self.leaf().words_to(at - dvec2(1.5, 0.0), &words::bullet(*number), WORDS, DARK);
                self.flow(words, left, right);
                // Entries stand closer than paragraphs.
                self.y -= 0.6 * BETWEEN;
            }
            Block::Code(text) => self.typed(text),
            Block::Table(rows) => self.table(rows),
            Block::Picture(caption) => {
                let caption = words::picture(caption);
                for line in face::wrap(&caption, WORDS, right - left) {
                    self.line(left, &[(line, Look::Plain)], WORDS, GRAY);
                }
                self.y += BETWEEN;
            }
        }
    }

    fn heading(&mut self, text: &str, height: f64) {
        let room = self.area.size().x;
        let lines = face::wrap(text, height, room);
        self.keep(height * LEADING * lines.len() as f64 + KEPT_WITH * WORDS * LEADING);
        for line in lines {
            self.line(self.area.min.x, &[(line, Look::Heavy)], height, BLACK);
        }
        self.y += 0.5 * BETWEEN;
    }

    /// One line, its pieces one after the other, and on to the next.
    fn line(&mut self, left: f64, pieces: &[(String, Look)], height: f64, tone: u8) {
        self.keep(height * LEADING);
        let at = dvec2(left, self.y + height);
        set(self.leaf(), at, pieces, height, tone);
        self.y += height * LEADING;
    }

    /// A paragraph.
    fn flow(&mut self, spans: &[Span], left: f64, right: f64) {
        for line in lines(spans, right - left) {
            self.line(left, &line, WORDS, BLACK);
        }
        self.y += BETWEEN;
    }

    /// Lines as they are typed, on a pale bar; long ones are broken.
    fn typed(&mut self, text: &str) {
        let (left, right) = (self.area.min.x, self.area.max.x);
        let one = face::width_as("0", TYPED, Look::Typed);
        #[expect(clippy::cast_sign_loss, reason = "paper is wider than its margins")]
        let most = (((right - left - 2.0 * FRAME) / one) as usize).max(1);
        for line in text.lines() {
            let signs: Vec<char> = line.chars().collect();
            let parts: Vec<String> = signs.chunks(most).map(|part| part.iter().collect()).collect();
            for part in if parts.is_empty() { vec![String::new()] } else { parts } {
                let high = TYPED * LEADING;
                self.keep(high);
                let bar = Rect::new(dvec2(left, self.y), dvec2(right, self.y + high));
                self.leaf().fill(Shape::rect(bar), 238);
                self.line(left + FRAME, &[(part, Look::Typed)], TYPED, BLACK);
            }
        }
        self.y += BETWEEN;
    }

    /// A table, row by row; none is parted by the end of a leaf. Its first row is its head.
    fn table(&mut self, rows: &[Vec<Vec<Span>>]) {
        let widths = column_widths(rows, self.area.size().x);
        for (index, row) in rows.iter().enumerate() {
            let cells: Vec<Vec<Words>> =
                row.iter().zip(&widths).map(|(cell, &width)| lines(cell, width)).collect();
            let most = cells.iter().map(Vec::len).max().unwrap_or(0);
            let high = WORDS * LEADING * most as f64;
            self.keep(high + 2.0);
            let (top, mut left) = (self.y, self.area.min.x);
            for (cell, width) in cells.iter().zip(&widths) {
                for (number, line) in cell.iter().enumerate() {
                    let heavy: Words = line.iter().map(|(text, _)| (text.clone(), Look::Heavy)).collect();
                    let pieces = if index == 0 { &heavy } else { line };
                    let at = dvec2(left, top + WORDS * LEADING * number as f64 + WORDS);
                    set(self.leaf(), at, pieces, WORDS, BLACK);
                }
                left += width + COLUMNS;
            }
            self.y = top + high + 0.8;
            let (from, to) = (dvec2(self.area.min.x, self.y), dvec2(self.area.max.x, self.y));
            self.leaf().line(from, to, Pen::new(0.1, if index == 0 { GRAY } else { PALE }));
            self.y += 0.8;
        }
        self.y += BETWEEN;
    }
}

/// Pieces of a line, one after the other.
fn set(leaf: &mut Leaf, at: glam::DVec2, pieces: &[(String, Look)], height: f64, tone: u8) {
    let mut x = at.x;
    for (text, look) in pieces {
        leaf.words_as(dvec2(x, at.y), text, height, *look, tone);
        x += face::width_as(text, height, *look);
    }
}

/// What each column of a table may take: a narrow one what it asks for, the others alike of what is left.
fn column_widths(rows: &[Vec<Vec<Span>>], room: f64) -> Vec<f64> {
    let columns = rows.iter().map(Vec::len).max().unwrap_or(0);
    let asked: Vec<f64> = (0..columns)
        .map(|column| {
            let cells = rows.iter().filter_map(|row| row.get(column));
            let widest = |cell: &Vec<Span>| {
                // A head is set heavier, which takes no more room.
                lines(cell, f64::INFINITY).iter().map(|line| face::width_of(line, WORDS)).fold(0.0, f64::max)
            };
            cells.map(widest).fold(0.0, f64::max) + 0.5
        })
        .collect();
    let mut widths = vec![f64::NAN; columns];
    let mut left = room - COLUMNS * columns.saturating_sub(1) as f64;
    let mut open: Vec<usize> = (0..columns).collect();
    loop {
        let share = left / open.len() as f64;
        let (narrow, wide): (Vec<usize>, Vec<usize>) =
            open.iter().partition(|&&column| asked[column] <= share);
        if narrow.is_empty() || wide.is_empty() {
            for &column in &open {
                widths[column] = if wide.is_empty() { asked[column] } else { share };
            }
            return widths;
        }
        for column in narrow {
            widths[column] = asked[column];
            left -= asked[column];
        }
        open = wide;
    }
}

fn look(span: &Span) -> Look {
    match span.look {
        guide::Look::Plain => Look::Plain,
        guide::Look::Stressed | guide::Look::Strong => Look::Heavy,
        guide::Look::Code => Look::Typed,
    }
}

/// Spans in lines no longer than `most`.
fn lines(spans: &[Span], most: f64) -> Vec<Words> {
    let pieces: Vec<(&str, Look)> = spans.iter().map(|span| (span.text.as_str(), look(span))).collect();
    face::wrap_looks(&pieces, WORDS, most)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sheet::pdf::wording;

    #[test]
    fn every_word_of_the_guide_is_on_paper() {
        let printed: String =
            guide_leaves(Paper::A4).iter().map(|leaf| wording::words(&leaf.marks).concat()).collect();
        let bare = |text: &str| text.chars().filter(|c| !c.is_whitespace()).collect::<String>();
        let printed = bare(&printed);
        let mut blocks = 0;
        for page in guide::pages() {
            assert!(printed.contains(&bare(&page.title)), "{}", page.title);
            for block in &page.blocks {
                // The cells of a row stand side by side, and a block may run over to the next leaf.
                if !matches!(block, Block::Table(_)) {
                    assert!(printed.contains(&bare(&block.text())), "{}", block.text());
                }
                blocks += 1;
            }
        }
        assert!(blocks > 400, "{blocks} blocks");
    }

    #[test]
    fn a_long_word_is_broken_and_looks_are_kept() {
        let span = |text: &str, look| Span { text: text.to_owned(), look, link: None };
        let spans = [
            span("See ", guide::Look::Plain),
            span("target/a-folder-with-a-name/that-is-long.svg", guide::Look::Code),
            span(", then go on.", guide::Look::Plain),
        ];
        let lines = lines(&spans, 40.0);
        assert!(lines.iter().all(|line| face::width_of(line, WORDS) <= 40.0), "{lines:?}");
        let typed: String = lines
            .iter()
            .flatten()
            .filter(|(_, look)| *look == Look::Typed)
            .map(|(text, _)| &**text)
            .collect();
        assert_eq!(typed, spans[1].text);
        assert_eq!(lines[0][0], ("See".to_owned(), Look::Plain));
    }
}
