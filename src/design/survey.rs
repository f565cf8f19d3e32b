//! A look over the XML before the parser gets it: what the parser would drop in silence, what points outside
//! the file, and what would take hours.

use super::{DesignError, DrawingNotice, MAX_BYTES, MAX_DEPTH, MAX_OBJECTS, styling};
use crate::notice::Notices;
use std::collections::{HashMap, HashSet};
use usvg::roxmltree::{Document, Node, NodeId, TextPos};

/// The largest number believed in a drawing. Even one drawn in nanometres stays below it; the parser
/// drops shapes with numbers beyond single precision (3e38) in silence.
const LARGEST_NUMBER: f64 = 1e12;

/// The most references (`url(#...)`) from inside clip paths and patterns: the parser looks for loops
/// among them in quadratic time.
const MAX_NESTED_REFERENCES: usize = 5_000;

/// The most style sheet bytes times objects: every rule is tried on every object.
const MAX_STYLING: u64 = 500_000_000;

/// The most attributes of one element: the parser compares each with each.
const MAX_ATTRIBUTES: usize = 10_000;

/// The longest `style` attribute, in bytes; one that sets every property there is takes 3 000.
const MAX_STYLE: usize = 50_000;

/// How often one outline may be closed in a row: a round value of our own. A thousand calls take some 2 MB of stack in a
/// dev build.
const MOST_CLOSINGS: usize = 1_000;

/// What editors call groups that nobody named, before the number.
const NUMBERED: [&str; 6] = ["", "g", "group", "layer", "object", "shape"];

/// Whether an id is one that an editor makes up: a number, or a word for any group with or without one.
fn is_numbered(id: &str) -> bool {
    let word = id.trim().trim_end_matches(|c: char| c.is_ascii_digit() || "-_. ".contains(c));
    NUMBERED.contains(&word.to_lowercase().as_str())
}

/// What is in the file besides shapes.
#[derive(Default)]
pub(super) struct Survey {
    pub seen: Seen,
    /// What editors call groups and shapes, by id.
    pub labels: HashMap<String, String>,
    /// The ids of layers and groups that a person gave a name.
    pub layers: HashSet<String>,
    /// Whether markers would multiply the drawing beyond what is read, so that they are left out.
    pub markers_left_out: bool,
}

/// How many of each kind there are.
#[derive(Default)]
pub(super) struct Seen {
    pub images: usize,
    images_outside: usize,
    pub texts: usize,
    filters: usize,
    masks: usize,
    markers: usize,
    scripts: usize,
    animations: usize,
    foreign: usize,
    steady_strokes: usize,
    outside: usize,
    dangling_uses: usize,
    dangling_paints: usize,
    hidden: usize,
    broken_paths: usize,
}

/// Refuses text that even the XML parser could not get through in good time.
pub(super) fn check_text(text: &str) -> Result<(), DesignError> {
    check_entities(text)?;
    // A `>` inside a value ends the count early, which does no harm.
    let crowded =
        text.split('>').any(|tag| tag.len() > MAX_ATTRIBUTES && tag.matches('=').count() > MAX_ATTRIBUTES);
    if crowded { Err(DesignError::Overloaded) } else { Ok(()) }
}

/// Refuses text whose entities could unpack to more than [`MAX_BYTES`].
///
/// Drawing programs use entities as shorthands for namespaces; one level is enough for that.
fn check_entities(text: &str) -> Result<(), DesignError> {
    let mut longest = 0;
    let mut rest = text;
    while let Some(at) = rest.find("<!ENTITY") {
        rest = &rest[at + "<!ENTITY".len()..];
        let declaration = &rest[..rest.find('>').unwrap_or(rest.len())];
        // A `>` may stand inside the value, so the value's own quotes decide.
        let value = rest.find(['"', '\'']).filter(|&quote| quote < declaration.len()).map(|quote| {
            let mark = &rest[quote..=quote];
            let value = &rest[quote + 1..];
            &value[..value.find(mark).unwrap_or(value.len())]
        });
        let value = value.unwrap_or("");
        let nested = value.split('&').skip(1).any(|reference| {
            !["#", "amp;", "lt;", "gt;", "quot;", "apos;"].iter().any(|plain| reference.starts_with(plain))
        });
        if nested {
            return Err(DesignError::EntityGrowth);
        }
        longest = longest.max(value.len() as u64);
    }
    if longest > 0 {
        let references = text.matches('&').count() as u64;
        if references * longest > MAX_BYTES {
            return Err(DesignError::EntityGrowth);
        }
    }
    Ok(())
}

/// Looks over a document. Linear in its size, but for nesting.
pub(super) fn look_over(document: &Document<'_>) -> Result<Survey, DesignError> {
    let mut ids: HashMap<&str, NodeId> = HashMap::new();
    let mut depth_of: HashMap<NodeId, usize> = HashMap::new();
    let mut style_bytes = 0;
    for node in document.descendants().filter(Node::is_element) {
        let depth = node.parent().and_then(|parent| depth_of.get(&parent.id())).map_or(0, |d| d + 1);
        if depth > MAX_DEPTH {
            return Err(DesignError::TooDeep);
        }
        depth_of.insert(node.id(), depth);
        if let Some(id) = node.attribute("id") {
            ids.entry(id).or_insert(node.id());
        }
        if node.attribute("style").is_some_and(|style| style.len() > MAX_STYLE) {
            return Err(DesignError::Overloaded);
        }
        if node.attribute("d").is_some_and(closes_again_and_again) {
            return Err(DesignError::Overloaded);
        }
        if node.tag_name().name() == "style" {
            style_bytes += node.text().map_or(0, str::len) as u64;
        }
    }

    let mut survey = Survey::default();
    let mut nested_references = 0;
    for node in document.descendants().filter(Node::is_element) {
        survey.count(node, &ids);
        check_numbers(document, node)?;
        let refers = node.attributes().any(|attribute| attribute.value().contains("url("));
        let holder = |n: &Node<'_, '_>| matches!(n.tag_name().name(), "clipPath" | "pattern");
        if refers && node.ancestors().any(|n| holder(&n)) {
            nested_references += 1;
        }
    }

    let mut copies = Copies { document, ids: &ids, counted: HashMap::new(), open: 0, too_deep: false };
    let objects = copies.of(document.root());
    if survey.seen.markers > 0 {
        // A marker may stand at every corner of every line: style sheets put it wherever they like.
        let markers = || document.descendants().filter(|node| node.tag_name().name() == "marker");
        let largest = markers().map(|marker| copies.of(marker)).max().unwrap_or(0);
        let corners: u64 = document.descendants().filter(Node::is_element).map(corners_of).sum();
        let nested = markers().any(|marker| marker.descendants().skip(1).any(is_marked));
        survey.markers_left_out =
            nested || corners.saturating_mul(largest).saturating_add(objects) > MAX_OBJECTS;
    }
    if copies.too_deep {
        return Err(DesignError::TooDeep);
    }
    if objects > MAX_OBJECTS {
        return Err(DesignError::TooManyObjects);
    }
    let is_styled = style_bytes.saturating_mul(objects) > MAX_STYLING || styling::is_slow(document);
    if nested_references > MAX_NESTED_REFERENCES || is_styled {
        return Err(DesignError::Overloaded);
    }
    Ok(survey)
}

/// Whether a path's data close one outline more often in a row than anybody means: the parser goes a call deeper for
/// each, until there is no stack left.
fn closes_again_and_again(data: &str) -> bool {
    let mut in_a_row = 0;
    data.bytes().any(|byte| {
        match byte {
            b'z' | b'Z' => in_a_row += 1,
            b',' | b' ' | b'\t' | b'\r' | b'\n' | b'\x0c' => {}
            _ => in_a_row = 0,
        }
        in_a_row > MOST_CLOSINGS
    })
}

/// Where an element's line has corners, about: at least as many as there are.
fn corners_of(node: Node<'_, '_>) -> u64 {
    let data = match node.tag_name().name() {
        "path" => node.attribute("d"),
        "polyline" | "polygon" => node.attribute("points"),
        "line" => return 2,
        _ => None,
    };
    // Each corner takes at least one number, and a number at least one digit.
    let mut digit_before = false;
    let numbers = data.unwrap_or("").bytes().filter(|byte| {
        let digit = byte.is_ascii_digit();
        let starts = digit && !digit_before;
        digit_before = digit;
        starts
    });
    numbers.count() as u64 + 1
}

/// Whether an element asks for markers itself.
fn is_marked(node: Node<'_, '_>) -> bool {
    let style = node.attribute("style").unwrap_or("");
    ["marker", "marker-start", "marker-mid", "marker-end"].iter().any(|name| {
        let own = node.attribute(*name).is_some_and(|value| value.trim() != "none");
        own || value_in(style, name).is_some_and(|value| value != "none")
    })
}

/// Counts objects with every `use`, clip path and pattern written out at each place that asks for it.
struct Copies<'a, 'input> {
    document: &'a Document<'input>,
    ids: &'a HashMap<&'a str, NodeId>,
    /// Finished counts of what is referred to; `None` while one is being counted, so loops end.
    counted: HashMap<NodeId, Option<u64>>,
    /// How many are being counted.
    open: usize,
    /// Set where copies of copies go deeper than groups may.
    too_deep: bool,
}

impl<'a, 'input> Copies<'a, 'input> {
    fn of(&mut self, top: Node<'a, 'input>) -> u64 {
        let mut total = 0_u64;
        for node in top.descendants().filter(Node::is_element) {
            total = total.saturating_add(1);
            for attribute in node.attributes() {
                if attribute.name() == "href" && node.tag_name().name() == "use" {
                    if let Some(id) = attribute.value().trim().strip_prefix('#') {
                        total = total.saturating_add(self.of_target(id));
                    }
                } else {
                    // Filters, masks and markers are switched off before parsing and cost nothing.
                    for part in attribute.value().split("url(").skip(1) {
                        let id = part.split(')').next().unwrap_or("");
                        let id = id.trim_matches([' ', '"', '\'']).trim_start_matches('#');
                        total = total.saturating_add(self.of_target(id));
                    }
                }
            }
        }
        total
    }

    fn of_target(&mut self, id: &str) -> u64 {
        let Some(&target) = self.ids.get(id) else { return 0 };
        if let Some(count) = self.counted.get(&target) {
            return count.unwrap_or(0);
        }
        if self.open == MAX_DEPTH {
            self.too_deep = true;
            return 0;
        }
        self.counted.insert(target, None);
        self.open += 1;
        let count = self.document.get_node(target).map_or(0, |node| self.of(node));
        self.open -= 1;
        self.counted.insert(target, Some(count));
        count
    }
}

impl Survey {
    fn count(&mut self, node: Node<'_, '_>, ids: &HashMap<&str, NodeId>) {
        let href = node.attributes().find(|a| a.name() == "href").map(|a| a.value().trim());
        let points_outside = href.is_some_and(|href| !href.starts_with('#') && !href.starts_with("data:"));
        match node.tag_name().name() {
            "image" => {
                self.seen.images += 1;
                self.seen.images_outside += usize::from(points_outside);
            }
            "text" => self.seen.texts += 1,
            "script" => self.seen.scripts += 1,
            "animate" | "animateTransform" | "animateMotion" | "set" => self.seen.animations += 1,
            "foreignObject" | "video" | "audio" | "canvas" | "iframe" => self.seen.foreign += 1,
            "use" => match href.and_then(|href| href.strip_prefix('#')) {
                Some(id) => self.seen.dangling_uses += usize::from(!ids.contains_key(id)),
                None => self.seen.outside += usize::from(points_outside),
            },
            "style" => {
                let sheet = node.text().unwrap_or("");
                self.seen.outside += sheet.matches("@import").count() + urls_outside(sheet);
                // A rule may style any number of objects; one use is what is certain.
                self.seen.filters += usize::from(declares(sheet, "filter"));
                self.seen.masks += usize::from(declares(sheet, "mask"));
                self.seen.markers += usize::from(sheet.contains("marker-") || declares(sheet, "marker"));
            }
            "path" => {
                if let Some(data) = node.attribute("d") {
                    let broken =
                        data.trim() != "none" && svgtypes::PathParser::from(data).any(|s| s.is_err());
                    self.seen.broken_paths += usize::from(broken);
                }
            }
            // Links are only followed by a click; gradients and the rest take nothing from outside.
            "a" => {}
            _ => self.seen.outside += usize::from(points_outside),
        }
        let style = node.attribute("style").unwrap_or("");
        let property = |name: &str| {
            let own = node.attribute(name).is_some_and(|value| value.trim() != "none");
            own || value_in(style, name).is_some_and(|value| value != "none")
        };
        self.seen.filters += usize::from(property("filter"));
        self.seen.masks += usize::from(property("mask"));
        self.seen.markers += usize::from(is_marked(node));
        // Editors keep the name a person gave in an attribute of their own namespace.
        let label = node
            .attributes()
            .find(|attribute| attribute.namespace().is_some() && attribute.name() == "label");
        if let (Some(id), Some(label)) = (node.attribute("id"), label)
            && !label.value().trim().is_empty()
        {
            self.labels.entry(id.to_owned()).or_insert_with(|| label.value().to_owned());
        }
        if let Some(id) = node.attribute("id")
            && node.tag_name().name() == "g"
            && (self.labels.contains_key(id) || !is_numbered(id))
        {
            self.layers.insert(id.to_owned());
        }
        let is = |name: &str, wanted: &str| {
            node.attribute(name).map(str::trim) == Some(wanted) || value_in(style, name) == Some(wanted)
        };
        self.seen.hidden += usize::from(is("display", "none") || is("visibility", "hidden"));
        self.seen.steady_strokes += usize::from(is("vector-effect", "non-scaling-stroke"));
        for name in ["fill", "stroke"] {
            let paint = value_in(style, name).or_else(|| node.attribute(name)).unwrap_or("");
            if let Some(rest) = paint.trim().strip_prefix("url(") {
                let id = rest.split(')').next().unwrap_or("").trim_matches([' ', '"', '\'']);
                match id.strip_prefix('#') {
                    Some(id) => self.seen.dangling_paints += usize::from(!ids.contains_key(id)),
                    None => self.seen.outside += 1,
                }
            }
        }
    }

    /// Notes what was noticed, in a fixed order.
    pub(super) fn note(&self, notices: &mut Notices<DrawingNotice>) {
        use DrawingNotice as N;
        notices
            .push_count(self.seen.images - self.seen.images_outside, |count| N::EmbeddedPictures { count });
        notices.push_count(self.seen.images_outside, |count| N::LinkedPictures { count });
        notices.push_count(self.seen.outside, |count| N::OutsideReferences { count });
        notices.push_count(self.seen.dangling_uses, |count| N::CopiesOfNothing { count });
        notices.push_count(self.seen.dangling_paints, |count| N::MissingPaints { count });
        notices.push_count(self.seen.broken_paths, |count| N::BrokenPaths { count });
        notices.push_count(self.seen.filters, |count| N::Filters { count });
        notices.push_count(self.seen.masks, |count| N::Masks { count });
        let markers = if self.markers_left_out { self.seen.markers } else { 0 };
        notices.push_count(markers, |count| N::Markers { count });
        notices.push_count(self.seen.foreign, |count| N::ForeignContent { count });
        notices.push_count(self.seen.steady_strokes, |count| N::SteadyStrokes { count });
        notices.push_count(self.seen.scripts, |count| N::Scripts { count });
        notices.push_count(self.seen.animations, |count| N::Animations { count });
        notices.push_count(self.seen.hidden, |count| N::HiddenObjects { count });
    }
}

/// The value of a property in a `style` attribute.
fn value_in<'s>(style: &'s str, name: &str) -> Option<&'s str> {
    style.rsplit(';').find_map(|declaration| {
        let (property, value) = declaration.split_once(':')?;
        (property.trim() == name).then_some(value.trim())
    })
}

/// Whether a style sheet sets a property to something else than `none`.
fn declares(sheet: &str, name: &str) -> bool {
    sheet.split(['{', ';', '}']).any(|declaration| {
        declaration
            .split_once(':')
            .is_some_and(|(property, value)| property.trim() == name && value.trim() != "none")
    })
}

/// How many `url(...)` of a style sheet point outside the file.
fn urls_outside(sheet: &str) -> usize {
    let urls = sheet.split("url(").skip(1);
    urls.filter(|url| {
        let url = url.trim_start_matches([' ', '"', '\'']);
        !url.starts_with('#') && !url.starts_with("data:")
    })
    .count()
}

/// Refuses numbers that cannot be meant, in the attributes that place things.
fn check_numbers(document: &Document<'_>, node: Node<'_, '_>) -> Result<(), DesignError> {
    for attribute in node.attributes() {
        let places = matches!(
            attribute.name(),
            "d" | "points"
                | "transform"
                | "viewBox"
                | "x"
                | "y"
                | "width"
                | "height"
                | "r"
                | "rx"
                | "ry"
                | "cx"
                | "cy"
                | "x1"
                | "y1"
                | "x2"
                | "y2"
                | "stroke-width"
        );
        if places && let Some(wild) = wild_number(attribute.value()) {
            let TextPos { row, .. } = document.text_pos_at(attribute.range().start);
            let value = wild.chars().take(24).collect();
            return Err(DesignError::WildCoordinate { line: row, value });
        }
    }
    Ok(())
}

/// The first number beyond [`LARGEST_NUMBER`], or word that stands for none.
fn wild_number(text: &str) -> Option<&str> {
    let bytes = text.as_bytes();
    let mut at = 0;
    while at < bytes.len() {
        let start = at;
        if bytes[at].is_ascii_digit() || bytes[at] == b'.' {
            let digits = |mut at: usize| {
                while bytes.get(at).is_some_and(u8::is_ascii_digit) {
                    at += 1;
                }
                at
            };
            at = digits(at);
            if bytes.get(at) == Some(&b'.') {
                at = digits(at + 1);
            }
            if matches!(bytes.get(at), Some(b'e' | b'E')) {
                let signed = at + 1 + usize::from(matches!(bytes.get(at + 1), Some(b'+' | b'-')));
                let end = digits(signed);
                at = if end > signed { end } else { at };
            }
            let number = &text[start..at.max(start + 1)];
            at = at.max(start + 1);
            // Twelve digits and no exponent cannot be too large, and most numbers are like that.
            let suspicious = number.len() > 12 || number.contains(['e', 'E']);
            if suspicious && number.parse::<f64>().is_ok_and(|value| value > LARGEST_NUMBER) {
                return Some(number);
            }
        } else {
            let word = |word: &str| {
                bytes.get(at..at + word.len()).is_some_and(|s| s.eq_ignore_ascii_case(word.as_bytes()))
            };
            if word("nan") || word("inf") {
                return Some(&text[at..at + 3]);
            }
            at += 1;
        }
    }
    None
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn wild_numbers_are_found() {
        assert_eq!(wild_number("M0 0L1e300,5z"), Some("1e300"));
        assert_eq!(wild_number("M NaN 0"), Some("NaN"));
        assert_eq!(wild_number("9999999999999999"), Some("9999999999999999"));
        assert_eq!(wild_number("M0 0l.5.5-1e-3 1e5 3.14159265358979323"), None);
        assert_eq!(wild_number("translate(10,5) skewX(3)"), None);
        assert_eq!(wild_number("1e"), None);
        assert_eq!(wild_number(""), None);
        assert_eq!(wild_number("é.é"), None);
    }

    #[test]
    fn entities_may_stand_for_text_but_not_grow() {
        let shorthand = r#"<!DOCTYPE svg [<!ENTITY ns "http://www.w3.org/2000/svg">]><svg xmlns="&ns;"/>"#;
        assert!(check_entities(shorthand).is_ok());
        let nested = r#"<!DOCTYPE svg [<!ENTITY a "ha"><!ENTITY b "&a;&a;">]><svg>&b;</svg>"#;
        assert!(matches!(check_entities(nested), Err(DesignError::EntityGrowth)));
        let long = format!("<!ENTITY a \"{}\"> {}", "x".repeat(100_000), "&a;".repeat(1_000));
        assert!(matches!(check_entities(&long), Err(DesignError::EntityGrowth)));
        assert!(check_entities("<!ENTITY").is_ok());
        assert!(check_entities("<!ENTITY a \"").is_ok());
    }
}
