//! How long the parser takes to try the rules of style sheets.

use std::collections::HashMap;
use usvg::roxmltree::{Document, Node};

/// The most steps: a round value of our own. A step takes some 60 ns in a dev build.
const MAX_STEPS: u64 = 50_000_000;

/// Whether trying the rules of a drawing takes too long.
///
/// Each rule is tried on each element. A selector of several parts apart by blanks then asks each ancestor of an
/// element for each part, so that `.a g g` in a drawing 50 groups deep takes thousands of steps an element.
/// `O(n)` in elements and bytes of the sheets.
pub(super) fn is_slow(document: &Document<'_>) -> bool {
    let mut sheets = document.descendants().filter(|node| node.tag_name().name() == "style").peekable();
    if sheets.peek().is_none() {
        return false;
    }
    let depths = Depths::of(document);
    let mut known: HashMap<(&str, u32), u64> = HashMap::new();
    let mut steps = 0_u64;
    for rule in sheets.filter_map(|sheet| sheet.text()).flat_map(|text| text.split('}')) {
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
