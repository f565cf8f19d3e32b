//! The guide of `docs/`, inside the program: its pages as blocks of words, and a search through them.
//!
//! The pages are the very files a code host shows, so there is one guide. Pictures are told by their captions: the
//! files beside the program have them.

use pulldown_cmark::{Event, HeadingLevel, Options, Parser, Tag, TagEnd};
use std::sync::LazyLock;

/// A page of the guide.
#[derive(Clone, Debug, PartialEq)]
pub struct Page {
    /// The file's name without its ending, as links name it.
    pub id: &'static str,
    /// Its first heading.
    pub title: String,
    /// What follows it.
    pub blocks: Vec<Block>,
}

/// A part of a page.
#[derive(Clone, Debug, PartialEq)]
pub enum Block {
    /// A heading under the page's title.
    Heading {
        /// 2 for the largest.
        level: u8,
        /// Its words.
        words: Vec<Span>,
    },
    /// A paragraph.
    Words(Vec<Span>),
    /// An entry of a list.
    Item {
        /// How deep the list lies in others: 0 for one that lies in none.
        depth: usize,
        /// Its number, where the list is numbered.
        number: Option<u64>,
        /// Its words.
        words: Vec<Span>,
    },
    /// Lines to type or read as they are.
    Code(String),
    /// A table: its head, then its rows.
    Table(Vec<Vec<Vec<Span>>>),
    /// A picture, by its caption.
    Picture(String),
}

/// Words that look alike.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Span {
    /// The words.
    pub text: String,
    /// How they look.
    pub look: Look,
    /// Where a click on them leads.
    pub link: Option<Link>,
}

/// How words look.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Look {
    /// As most do.
    #[default]
    Plain,
    /// Stressed, or a name on the screen.
    Stressed,
    /// Heavy.
    Strong,
    /// To type.
    Code,
}

/// Where a link leads: to a page of the guide. What leads out of it is words alone.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Link {
    /// The page's id.
    pub id: &'static str,
    /// A heading of it, as [`anchor`] writes it; empty for the top.
    pub heading: String,
}

/// A place that a search found.
#[derive(Clone, Debug, PartialEq)]
pub struct Found {
    /// The page.
    pub id: &'static str,
    /// Its title, and the last heading before the place.
    pub title: String,
    /// The place, by the block's number on the page.
    pub block: usize,
    /// The words there, cut short.
    pub words: String,
}

/// The files, in the order in which they are read.
const FILES: [(&str, &str); 13] = [
    ("README", include_str!("../../docs/README.md")),
    ("reading-a-proof", include_str!("../../docs/reading-a-proof.md")),
    ("the-window", include_str!("../../docs/the-window.md")),
    ("the-limit", include_str!("../../docs/the-limit.md")),
    ("drawings", include_str!("../../docs/drawings.md")),
    ("tracing", include_str!("../../docs/tracing.md")),
    ("the-board", include_str!("../../docs/the-board.md")),
    ("the-carved-surface", include_str!("../../docs/the-carved-surface.md")),
    ("sizes-and-prices", include_str!("../../docs/sizes-and-prices.md")),
    ("several-pieces", include_str!("../../docs/several-pieces.md")),
    ("your-machine", include_str!("../../docs/your-machine.md")),
    ("installing", include_str!("../../docs/installing.md")),
    ("the-command-line", include_str!("../../docs/the-command-line.md")),
];

/// How long the words of a find are.
const FOUND_WORDS: usize = 110;

/// The pages. Read once, in some milliseconds.
pub fn pages() -> &'static [Page] {
    static PAGES: LazyLock<Vec<Page>> =
        LazyLock::new(|| FILES.iter().map(|&(id, text)| page(id, text)).collect());
    &PAGES
}

/// A heading as links name it: small letters, blanks as hyphens, and nothing but letters and digits besides.
pub fn anchor(heading: &str) -> String {
    let sign = |c: char| match c {
        ' ' | '-' => Some('-'),
        c if c.is_alphanumeric() => Some(c),
        _ => None,
    };
    heading.to_lowercase().chars().filter_map(sign).collect()
}

/// The words of some spans.
pub fn text_of(spans: &[Span]) -> String {
    spans.iter().map(|span| span.text.as_str()).collect()
}

/// The places that hold every one of these words, in the pages' order; headings count as well. Nothing for no words.
pub fn search(wanted: &str) -> Vec<Found> {
    let wanted: Vec<String> = wanted.split_whitespace().map(str::to_lowercase).collect();
    if wanted.is_empty() {
        return Vec::new();
    }
    let mut found = Vec::new();
    for page in pages() {
        let mut heading = String::new();
        for (block, part) in page.blocks.iter().enumerate() {
            let text = part.text();
            if let Block::Heading { .. } = part {
                heading.clone_from(&text);
            }
            let lower = text.to_lowercase();
            if wanted.iter().all(|word| lower.contains(word)) {
                let title = match heading.as_str() {
                    "" => page.title.clone(),
                    heading => format!("{}: {heading}", page.title),
                };
                found.push(Found { id: page.id, title, block, words: around(&text, &wanted[0]) });
            }
        }
    }
    found
}

/// Some words of a text round the first place that holds `wanted`, in small letters; all of a short text.
fn around(text: &str, wanted: &str) -> String {
    let signs: Vec<char> = text.chars().collect();
    if signs.len() <= FOUND_WORDS {
        return text.to_owned();
    }
    let small: Vec<char> = signs.iter().map(|sign| sign.to_lowercase().next().unwrap_or(*sign)).collect();
    let wanted: Vec<char> = wanted.chars().collect();
    let at = small.windows(wanted.len()).position(|part| part == wanted).unwrap_or(0);
    let from = at.saturating_sub(FOUND_WORDS / 3).min(signs.len() - FOUND_WORDS);
    let part: String = signs[from..from + FOUND_WORDS].iter().collect();
    let [before, after] =
        [from > 0, from + FOUND_WORDS < signs.len()].map(|is_cut| if is_cut { "…" } else { "" });
    format!("{before}{part}{after}")
}

impl Block {
    /// Its words without their looks.
    pub fn text(&self) -> String {
        match self {
            Block::Heading { words, .. } | Block::Words(words) | Block::Item { words, .. } => text_of(words),
            Block::Code(text) | Block::Picture(text) => text.clone(),
            Block::Table(rows) => {
                let row = |cells: &Vec<Vec<Span>>| {
                    cells.iter().map(|cell| text_of(cell)).collect::<Vec<_>>().join(" ")
                };
                rows.iter().map(row).collect::<Vec<_>>().join(" ")
            }
        }
    }
}

/// What is open while a page is read.
#[derive(Default)]
struct Reader {
    blocks: Vec<Block>,
    title: String,
    spans: Vec<Span>,
    look: Look,
    link: Option<Link>,
    /// The lists that are open, each with its next number where it is numbered.
    lists: Vec<Option<u64>>,
    code: Option<String>,
    picture: Option<String>,
    rows: Vec<Vec<Vec<Span>>>,
}

fn page(id: &'static str, text: &str) -> Page {
    let mut reader = Reader::default();
    for event in Parser::new_ext(text, Options::ENABLE_TABLES) {
        reader.take(event);
    }
    Page { id, title: reader.title, blocks: reader.blocks }
}

impl Reader {
    fn take(&mut self, event: Event<'_>) {
        match event {
            Event::Start(tag) => self.open(&tag),
            Event::End(tag) => self.close(tag),
            Event::Text(text) => self.words(&text, self.look),
            Event::Code(text) => self.words(&text, Look::Code),
            Event::SoftBreak | Event::HardBreak => self.words(" ", Look::Plain),
            _ => {}
        }
    }

    fn words(&mut self, text: &str, look: Look) {
        if let Some(code) = &mut self.code {
            code.push_str(text);
        } else if let Some(picture) = &mut self.picture {
            picture.push_str(text);
        } else {
            self.spans.push(Span { text: text.to_owned(), look, link: self.link.clone() });
        }
    }

    fn open(&mut self, tag: &Tag<'_>) {
        match tag {
            Tag::Emphasis => self.look = Look::Stressed,
            Tag::Strong => self.look = Look::Strong,
            Tag::Link { dest_url, .. } => self.link = link(dest_url),
            Tag::Image { .. } => self.picture = Some(String::new()),
            Tag::CodeBlock(_) => self.code = Some(String::new()),
            // The words before a list inside an entry are the entry's own.
            Tag::List(first) => {
                self.end_item();
                self.lists.push(*first);
            }
            Tag::Table(_) => self.rows.clear(),
            Tag::TableHead | Tag::TableRow => self.rows.push(Vec::new()),
            _ => {}
        }
    }

    fn close(&mut self, tag: TagEnd) {
        match tag {
            TagEnd::Emphasis | TagEnd::Strong => self.look = Look::Plain,
            TagEnd::Link => self.link = None,
            TagEnd::Image => {
                let caption = self.picture.take().unwrap_or_default();
                self.blocks.push(Block::Picture(caption));
            }
            TagEnd::Heading(HeadingLevel::H1) => self.title = text_of(&std::mem::take(&mut self.spans)),
            TagEnd::Heading(level) => {
                let words = std::mem::take(&mut self.spans);
                self.blocks.push(Block::Heading { level: level as u8, words });
            }
            TagEnd::Paragraph if self.lists.is_empty() => {
                let words = std::mem::take(&mut self.spans);
                // A picture by itself was a paragraph as well.
                if !words.is_empty() {
                    self.blocks.push(Block::Words(words));
                }
            }
            TagEnd::Item => self.end_item(),
            TagEnd::List(_) => drop(self.lists.pop()),
            TagEnd::CodeBlock => {
                let code = self.code.take().unwrap_or_default();
                self.blocks.push(Block::Code(code.trim_end().to_owned()));
            }
            TagEnd::TableCell => {
                let cell = std::mem::take(&mut self.spans);
                if let Some(row) = self.rows.last_mut() {
                    row.push(cell);
                }
            }
            TagEnd::Table => {
                let rows = std::mem::take(&mut self.rows);
                self.blocks.push(Block::Table(rows));
            }
            _ => {}
        }
    }

    fn end_item(&mut self) {
        let words = std::mem::take(&mut self.spans);
        let depth = self.lists.len().saturating_sub(1);
        if let Some(list) = self.lists.last_mut()
            && !words.is_empty()
        {
            let number = *list;
            *list = number.map(|number| number + 1);
            self.blocks.push(Block::Item { depth, number, words });
        }
    }
}

/// A link as a page writes it; `None` where it leads out of the guide.
fn link(to: &str) -> Option<Link> {
    let (file, heading) = to.split_once('#').unwrap_or((to, ""));
    let page = file.strip_suffix(".md")?;
    let (id, _) = FILES.iter().find(|(known, _)| *known == page)?;
    Some(Link { id, heading: heading.to_owned() })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_page_of_the_folder_is_in_the_guide() {
        let folder = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("docs");
        let mut files: Vec<String> = std::fs::read_dir(folder)
            .unwrap()
            .filter_map(|entry| Some(entry.unwrap().file_name().to_str()?.strip_suffix(".md")?.to_owned()))
            .collect();
        let mut known: Vec<&str> = pages().iter().map(|page| page.id).collect();
        files.sort();
        known.sort_unstable();
        assert_eq!(files, known);
    }

    /// A link inside the guide leads to a page and a heading that are there.
    #[test]
    fn links_lead_somewhere() {
        let headings = |page: &Page| -> Vec<String> {
            let heading =
                |block: &Block| matches!(block, Block::Heading { .. }).then(|| anchor(&block.text()));
            page.blocks.iter().filter_map(heading).collect()
        };
        let mut followed = 0;
        for page in pages() {
            let spans = page.blocks.iter().flat_map(|block| match block {
                Block::Heading { words, .. } | Block::Words(words) | Block::Item { words, .. } => {
                    words.clone()
                }
                Block::Table(rows) => rows.concat().concat(),
                Block::Code(_) | Block::Picture(_) => Vec::new(),
            });
            for span in spans {
                let Some(Link { id, heading }) = span.link else { continue };
                let target = pages().iter().find(|page| page.id == id).unwrap();
                assert!(heading.is_empty() || headings(target).contains(&heading), "{id}#{heading}");
                followed += 1;
            }
        }
        assert!(followed > 20, "only {followed} links were read");
    }

    #[test]
    fn a_search_finds_the_place() {
        let found = search("Snipe ROLLER");
        assert!(
            found.iter().any(|found| found.id == "README" && found.title.ends_with("Words")),
            "{found:?}"
        );
        let strip = search("sensing strip");
        let row = strip.iter().find(|found| found.id == "reading-a-proof").unwrap();
        assert!(row.words.contains("sensing strip") && row.words.starts_with('…'), "{row:?}");
        assert_eq!(search("  "), []);
        assert_eq!(search("zebra crossing"), []);
        let steps =
            page("README", "# T\n\n1. one\n2. two\n   - a\n\nwords *here* and `x`\n\n![cap](x.png)\n");
        assert_eq!(steps.title, "T");
        let item = |depth, number, words: &str| Block::Item {
            depth,
            number,
            words: vec![Span { text: words.to_owned(), ..Span::default() }],
        };
        assert_eq!(steps.blocks[..3], [item(0, Some(1), "one"), item(0, Some(2), "two"), item(1, None, "a")]);
        assert_eq!(steps.blocks[3].text(), "words here and x");
        assert_eq!(steps.blocks[4], Block::Picture("cap".to_owned()));
    }
}
