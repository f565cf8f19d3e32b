//! Style sheets, which the parser takes long over: long ones are given to it in pieces, and how long it takes to try
//! their rules is estimated.

use std::borrow::Cow;
use std::collections::HashMap;
use std::ops::Range;
use usvg::roxmltree::{Document, Node};

/// The most steps: a round value of our own. A step takes some 60 ns in a dev build.
const MAX_STEPS: u64 = 50_000_000;

/// How long a piece of a style sheet is, at least, bytes. The parser works out the line and column of each declaration's
/// end from the start of its sheet, and sorts all rules again after each: long pieces cost the one, short ones the other.
/// A round value of our own between.
const PIECE: usize = 4096;

/// The drawing with each long style sheet cut into several; `None` where none is long.
///
/// Without it, reading a sheet takes time with the square of its length: 22 s for 120 KB in a dev build.
pub(super) fn in_pieces(text: &str, document: &Document<'_>) -> Option<String> {
    let mut written = String::new();
    let mut at = 0;
    for node in sheets(document) {
        let (Some(sheet), whole) = (node.text(), node.range()) else { continue };
        let pieces = pieces(sheet);
        if pieces.len() < 2 {
            continue;
        }
        let (tag, name) = start_tag(text.get(whole.clone())?)?;
        written.push_str(text.get(at..whole.start)?);
        for piece in pieces {
            written.push_str(tag);
            written.push_str(&escaped(&sheet[piece]));
            written.push_str("</");
            written.push_str(name);
            written.push('>');
        }
        at = whole.end;
    }
    (at > 0).then(|| written + &text[at..])
}

fn sheets<'a, 'i: 'a>(document: &'a Document<'i>) -> impl Iterator<Item = Node<'a, 'i>> {
    document.descendants().filter(|node| node.tag_name().name() == "style")
}

/// Where a sheet may be cut: after rules, outside of comments, strings and blocks.
fn pieces(sheet: &str) -> Vec<Range<usize>> {
    let bytes = sheet.as_bytes();
    let mut pieces = Vec::new();
    let (mut start, mut at, mut open) = (0, 0, 0_u32);
    while at < bytes.len() {
        match bytes[at] {
            b'/' if bytes.get(at + 1) == Some(&b'*') => {
                at = sheet[at + 2..].find("*/").map_or(bytes.len(), |end| at + 2 + end + 1);
            }
            quote @ (b'"' | b'\'') => {
                at = sheet[at + 1..].find(char::from(quote)).map_or(bytes.len(), |end| at + 1 + end);
            }
            b'{' => open += 1,
            b'}' => {
                open = open.saturating_sub(1);
                if open == 0 && at + 1 - start >= PIECE {
                    pieces.push(start..at + 1);
                    start = at + 1;
                }
            }
            _ => {}
        }
        at += 1;
    }
    if start < bytes.len() {
        pieces.push(start..bytes.len());
    }
    pieces
}

/// The start tag of an element as it is written, and its name.
fn start_tag(element: &str) -> Option<(&str, &str)> {
    let mut quote = None;
    let end = element.find(|c: char| {
        match quote {
            Some(open) if open == c => quote = None,
            Some(_) => {}
            None if c == '"' || c == '\'' => quote = Some(c),
            None => return c == '>',
        }
        false
    })?;
    let name_end = element.find(|c: char| c.is_ascii_whitespace() || c == '/' || c == '>')?;
    Some((element.get(..=end)?, element.get(1..name_end)?))
}

fn escaped(text: &str) -> Cow<'_, str> {
    if text.contains(['&', '<', '>', '\r']) {
        Cow::Owned(
            text.replace('&', "&amp;").replace('<', "&lt;").replace('>', "&gt;").replace('\r', "&#13;"),
        )
    } else {
        Cow::Borrowed(text)
    }
}

/// Steps to read a sheet in these pieces, where all sheets so far have so many rules.
fn steps_to_read(sheet: &str, pieces: &[Range<usize>], rules: u64) -> u64 {
    let scanned = pieces.iter().map(|piece| {
        let ends = sheet[piece.clone()].bytes().filter(|byte| matches!(byte, b';' | b'}')).count();
        // Each end is looked for from the start of the piece, half of it on average, and three bytes a step.
        (ends as u64).saturating_mul(piece.len() as u64) / 6
    });
    scanned.fold(rules.saturating_mul(pieces.len() as u64), u64::saturating_add)
}

/// Whether reading and trying the rules of a drawing takes too long.
///
/// Each rule is tried on each element. A selector of several parts apart by blanks then asks each ancestor of an
/// element for each part, so that `.a g g` in a drawing 50 groups deep takes thousands of steps an element.
/// `O(n)` in elements and bytes of the sheets.
pub(super) fn is_slow(document: &Document<'_>) -> bool {
    let sheets: Vec<&str> = sheets(document).filter_map(|sheet| sheet.text()).collect();
    if sheets.is_empty() {
        return false;
    }
    let depths = Depths::of(document);
    let mut known: HashMap<(&str, u32), u64> = HashMap::new();
    let (mut steps, mut rules) = (0_u64, 0);
    for sheet in &sheets {
        rules += sheet.bytes().filter(|&byte| byte == b'}').count() as u64;
        steps = steps.saturating_add(steps_to_read(sheet, &pieces(sheet), rules));
    }
    for rule in sheets.iter().flat_map(|text| text.split('}')) {
        let selectors = rule.split('{').next().unwrap_or_default();
        for selector in selectors.split(',') {
            let (tag, parts) = parts_of(selector);
            steps =
                steps.saturating_add(*known.entry((tag, parts)).or_insert_with(|| depths.steps(tag, parts)));
            if steps > MAX_STEPS {
                return true;
            }
        }
    }
    false
}

/// The tag that an element must have, empty for any, and how many parts before it ask all ancestors.
fn parts_of(selector: &str) -> (&str, u32) {
    let mut ancestors = 0;
    let (mut last, mut is_beside) = ("", true);
    for part in selector.split_inclusive(['>', '+']).flat_map(str::split_whitespace) {
        let name = part.trim_end_matches(['>', '+']);
        if !name.is_empty() {
            ancestors += u32::from(!is_beside);
            (last, is_beside) = (name, false);
        }
        is_beside |= part.len() > name.len();
    }
    let end = last.find(|c: char| !c.is_alphanumeric() && c != '-' && c != '_').unwrap_or(last.len());
    (&last[..end], ancestors)
}

/// How many elements of each tag lie how deep.
struct Depths<'a> {
    of_tag: HashMap<&'a str, Vec<u64>>,
    of_all: Vec<u64>,
}

impl<'a> Depths<'a> {
    fn of(document: &'a Document<'_>) -> Depths<'a> {
        let mut depths = Depths { of_tag: HashMap::new(), of_all: Vec::new() };
        // Depth first, without recursion.
        let mut open: Vec<(Node<'a, '_>, usize)> = vec![(document.root_element(), 0)];
        while let Some((node, depth)) = open.pop() {
            count(depths.of_tag.entry(node.tag_name().name()).or_default(), depth);
            count(&mut depths.of_all, depth);
            open.extend(node.children().filter(Node::is_element).map(|child| (child, depth + 1)));
        }
        depths
    }

    fn steps(&self, tag: &str, parts: u32) -> u64 {
        let steps_at = |depth: usize| (depth as u64).saturating_pow(parts).max(1);
        let matching = if tag.is_empty() { Some(&self.of_all) } else { self.of_tag.get(tag) };
        let all: u64 = self.of_all.iter().sum();
        let deep = matching.into_iter().flatten().enumerate();
        deep.map(|(depth, &count)| steps_at(depth).saturating_mul(count)).fold(all, u64::saturating_add)
    }
}

fn count(depths: &mut Vec<u64>, depth: usize) {
    if depths.len() <= depth {
        depths.resize(depth + 1, 0);
    }
    depths[depth] += 1;
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_parts_of_a_selector_are_counted() {
        for (selector, expected) in [
            ("rect", ("rect", 0)),
            (".c7 g g", ("g", 2)),
            ("g > rect", ("rect", 0)),
            ("g>rect", ("rect", 0)),
            ("svg g > rect.a", ("rect", 1)),
            ("g .a", ("", 1)),
            ("*", ("", 0)),
            ("", ("", 0)),
        ] {
            assert_eq!(parts_of(selector), expected, "{selector:?}");
        }
    }

    #[test]
    fn a_long_sheet_is_cut_between_rules_and_nowhere_else() {
        let rule = ".a > .b { fill: red; font: '}' } /* } */ @media x { .c { fill: blue } }\n";
        let sheet = rule.repeat(200);
        let pieces = pieces(&sheet);
        assert!(pieces.len() > 2 && pieces.iter().all(|piece| piece.len() < PIECE + 2 * rule.len()));
        assert_eq!(pieces.iter().map(|piece| &sheet[piece.clone()]).collect::<String>(), sheet);
        for piece in &pieces[1..] {
            let start = sheet[piece.clone()].trim_start();
            assert!(
                start.starts_with(".a") || start.starts_with("/*") || start.starts_with('@'),
                "{start:.9}"
            );
        }
        for inner in [escaped(&sheet).into_owned(), format!("<![CDATA[{sheet}]]>")] {
            let text =
                format!("<svg><v:style xmlns:v='a>b' type=\"text/css\" >{inner}</v:style><rect/></svg>");
            let document = Document::parse(&text).unwrap();
            let cut = in_pieces(&text, &document).unwrap();
            let cut = Document::parse(&cut).unwrap();
            let read: Vec<&str> = sheets(&cut).filter_map(|node| node.text()).collect();
            assert_eq!(read.len(), pieces.len());
            assert_eq!(read.concat(), sheet);
            assert!(sheets(&cut).all(|node| node.attribute("type") == Some("text/css")));
        }
        let short = "<svg><style>.a{}</style></svg>";
        assert_eq!(in_pieces(short, &Document::parse(short).unwrap()), None);
    }

    #[test]
    fn deep_groups_and_many_rules_are_slow_and_one_of_them_is_not() {
        let drawing = |rules: usize, deep: usize| {
            let rules = (0..rules).map(|i| format!(".c{i} g g{{fill:red}}")).collect::<Vec<_>>().concat();
            let (open, close) = ("<g>".repeat(deep), "</g>".repeat(deep));
            format!("<svg><style>{rules}</style>{open}{}{close}</svg>", "<rect/>".repeat(50))
        };
        let is_slow = |text: &str| is_slow(&Document::parse(text).unwrap());
        assert!(is_slow(&drawing(10_000, 50)), "it took 13.5 s");
        assert!(!is_slow(&drawing(10_000, 3)));
        assert!(!is_slow(&drawing(200, 50)));
    }
}
