//! The house: no room of the library imports another that imports it, and no file of the window does.
//!
//! The source is read as text: every `use`, and every path written out, is resolved to the file it leads
//! into. Modules of tests are left out, since they may look anywhere.

use std::collections::{BTreeMap, BTreeSet};
use std::path::Path;

/// Who imports whom.
type Imports = BTreeMap<String, BTreeSet<String>>;

/// The source files of a crate by their module's path: `app::board::canvas`, and nothing for its root.
type Files = BTreeMap<String, String>;

/// Reads every file under a crate's `src`.
fn files_of(src: &Path) -> Files {
    let mut files = Files::new();
    let mut folders = vec![(src.to_owned(), String::new())];
    while let Some((folder, module)) = folders.pop() {
        for entry in std::fs::read_dir(&folder).unwrap() {
            let path = entry.unwrap().path();
            let stem = path.file_stem().unwrap().to_str().unwrap().to_owned();
            let inside = |name: &str| [module.as_str(), name].join("::").trim_matches(':').to_owned();
            if path.is_dir() {
                folders.push((path, inside(&stem)));
            } else if path.extension().is_some_and(|end| end == "rs") && stem != "main" {
                let module = if stem == "mod" || stem == "lib" { module.clone() } else { inside(&stem) };
                files.insert(module, std::fs::read_to_string(&path).unwrap());
            }
        }
    }
    files
}

/// The modules of tests that have files of their own.
fn modules_of_tests(files: &Files) -> Vec<String> {
    let mut modules = Vec::new();
    for (module, source) in files {
        for declared in source.split("#[cfg(test)]\n").skip(1) {
            let line = declared.lines().next().unwrap_or_default();
            let name = line.strip_suffix(';').and_then(|line| line.split_once("mod "));
            modules.extend(name.map(|(_, name)| format!("{module}::{name}")));
        }
    }
    modules
}

/// The source without comments, strings and the module of tests at its end.
fn bare(source: &str) -> String {
    let source = source.split("#[cfg(test)]\nmod tests {").next().unwrap_or_default();
    let mut out = String::with_capacity(source.len());
    let mut rest = source;
    while let Some(first) = rest.chars().next() {
        let skipped = if rest.starts_with("//") {
            rest.find('\n').unwrap_or(rest.len())
        } else if rest.starts_with("r#\"") {
            rest.find("\"#").map_or(rest.len(), |end| end + 2)
        } else if first == '"' {
            let mut escaped = false;
            let end = rest.char_indices().skip(1).find(|&(_, c)| {
                let ends = c == '"' && !escaped;
                escaped = c == '\\' && !escaped;
                ends
            });
            end.map_or(rest.len(), |(end, _)| end + 1)
        } else if rest.starts_with("'\"'") {
            3
        } else {
            out.push(first);
            first.len_utf8()
        };
        rest = &rest[skipped..];
    }
    out
}

/// `a::{b, c::{d, e}}` as `a::b`, `a::c::d` and `a::c::e`.
fn spread(prefix: &str, tree: &str, paths: &mut Vec<String>) {
    let tree = tree.trim();
    let Some(open) = tree.find('{') else {
        let path = tree.split(" as ").next().unwrap_or_default().trim();
        if !path.is_empty() {
            paths.push(format!("{prefix}{path}"));
        }
        return;
    };
    let prefix = format!("{prefix}{}", tree[..open].trim());
    let inner = &tree[open + 1..tree.rfind('}').unwrap_or(tree.len())];
    let (mut depth, mut start) = (0, 0);
    for (at, c) in inner.char_indices().chain([(inner.len(), ',')]) {
        match c {
            '{' => depth += 1,
            '}' => depth -= 1,
            ',' if depth == 0 => {
                spread(&prefix, &inner[start..at], paths);
                start = at + 1;
            }
            _ => {}
        }
    }
}

/// Every path that a source names: those of `use`, and those written out.
fn paths_in(source: &str) -> Vec<String> {
    let source = bare(source);
    let mut paths = Vec::new();
    let mut rest = source.as_str();
    while let Some(at) = rest.find("use ") {
        let starts = rest[..at].chars().next_back().is_none_or(char::is_whitespace);
        let statement = &rest[at + 4..];
        let end = statement.find(';').unwrap_or(statement.len());
        if starts {
            spread("", &statement[..end], &mut paths);
        }
        rest = &rest[at + 4..];
    }
    for root in ["crate::", "super::"] {
        for (at, _) in source.match_indices(root) {
            let is_start = !source[..at].ends_with(|c: char| c == ':' || c == '_' || c.is_alphanumeric());
            let path = &source[at..];
            let end = path.find(|c: char| c != ':' && c != '_' && !c.is_alphanumeric()).unwrap_or(path.len());
            if is_start {
                paths.push(path[..end].trim_end_matches(':').to_owned());
            }
        }
    }
    paths
}

/// The module a path in `module` leads into; `None` for other crates' and for the root's own.
fn leads_into(path: &str, module: &str, files: &Files) -> Option<String> {
    let mut base: Vec<&str> = module.split("::").filter(|name| !name.is_empty()).collect();
    let mut names = path.split("::").map(str::trim).peekable();
    match *names.peek()? {
        "crate" => {
            base.clear();
            names.next();
        }
        "self" => {
            names.next();
        }
        "super" => {
            while names.next_if_eq(&"super").is_some() {
                base.pop();
            }
        }
        // A child of this module, or another crate.
        name => {
            let child = base.iter().copied().chain([name]).collect::<Vec<_>>().join("::");
            files.contains_key(&child).then_some(())?;
        }
    }
    base.extend(names);
    let is_there = |length: &usize| files.contains_key(&base[..*length].join("::"));
    let length = (1..=base.len()).rev().find(is_there)?;
    Some(base[..length].join("::"))
}

/// Which file imports which, of those that `of` names; the others are left out.
fn imports(files: &Files, of: impl Fn(&str) -> Option<String>) -> Imports {
    let mut imports = Imports::new();
    let of_tests = modules_of_tests(files);
    for (module, source) in files {
        let Some(from) = of(module).filter(|_| !of_tests.contains(module)) else { continue };
        let to = paths_in(source).into_iter().filter_map(|path| leads_into(&path, module, files));
        let to = to.filter_map(|module| of(&module)).filter(|to| *to != from);
        imports.entry(from.clone()).or_default().extend(to);
    }
    imports
}

/// A circle of imports, where there is one: each imports the next, and the last the first.
fn circle(imports: &Imports) -> Option<Vec<String>> {
    fn walk(at: &str, imports: &Imports, way: &mut Vec<String>, done: &mut BTreeSet<String>) -> bool {
        if let Some(start) = way.iter().position(|step| step == at) {
            way.drain(..start);
            return true;
        }
        if done.contains(at) {
            return false;
        }
        way.push(at.to_owned());
        for next in imports.get(at).into_iter().flatten() {
            if walk(next, imports, way, done) {
                return true;
            }
        }
        way.pop();
        done.insert(at.to_owned());
        false
    }
    let mut done = BTreeSet::new();
    imports.keys().find_map(|start| {
        let mut way = Vec::new();
        walk(start, imports, &mut way, &mut done).then_some(way)
    })
}

fn count(imports: &Imports) -> usize {
    imports.values().map(BTreeSet::len).sum()
}

/// `app` of `app::board::canvas`.
fn room(module: &str) -> Option<String> {
    module.split("::").next().filter(|room| !room.is_empty()).map(str::to_owned)
}

/// `board` of `app::board::canvas`, and `app` of the window's own first file.
fn room_of_the_window(module: &str) -> Option<String> {
    let mut names = module.split("::");
    (names.next() == Some("app")).then(|| names.next().unwrap_or("app").to_owned())
}

fn file_of_the_window(module: &str) -> Option<String> {
    (module.split("::").next() == Some("app")).then(|| module.to_owned())
}

fn library() -> Files {
    files_of(&Path::new(env!("CARGO_MANIFEST_DIR")).join("src"))
}

#[test]
fn no_room_imports_one_that_imports_it() {
    let imports = imports(&library(), room);
    assert!(imports.len() > 8 && count(&imports) > 20, "hardly anything was found: {imports:?}");
    assert_eq!(circle(&imports), None, "each imports the next, and the last the first");
}

#[test]
fn no_room_of_the_window_imports_one_that_imports_it() {
    let imports = imports(&library(), room_of_the_window);
    assert!(imports.len() > 8 && count(&imports) > 20, "hardly anything was found: {imports:?}");
    assert_eq!(circle(&imports), None, "each imports the next, and the last the first");
}

#[test]
fn no_file_of_the_window_imports_one_that_imports_it() {
    let imports = imports(&library(), file_of_the_window);
    assert!(imports.len() > 40 && count(&imports) > 200, "hardly anything was found");
    assert_eq!(circle(&imports), None, "each imports the next, and the last the first");
}

#[test]
fn a_circle_is_found_however_it_is_written() {
    let files = |sources: &[(&str, &str)]| -> Files {
        sources.iter().map(|(module, source)| ((*module).to_owned(), (*source).to_owned())).collect()
    };
    let circle = |sources: &[(&str, &str)]| circle(&imports(&files(sources), file_of_the_window));
    let round = Some(vec!["app::a".to_owned(), "app::b".to_owned(), "app::c".to_owned()]);
    let c = ("app::c", "fn c() { let a = crate::app::a::make(); }");
    assert_eq!(
        circle(&[
            ("app", ""),
            ("app::a", "use super::{b::{B, other as C}, std};"),
            ("app::b", "pub(crate) use crate::app::{\n    c,\n};"),
            c
        ]),
        round
    );
    let quiet = [
        "// use crate::app::b::B;",
        "fn a() { say(\"use crate::app::b::B; \\\" crate::app::b\") }",
        "#[cfg(test)]\nmod tests {\n    use crate::app::b::B;\n}",
        "'\"'; // use crate::app::b::B;",
        "use crate::other::b::B;",
    ];
    for source in quiet {
        assert_eq!(circle(&[("app::a", source), ("app::b", "use super::c;"), c]), None, "{source}");
    }
    let declared = ("app", "#[cfg(test)]\nmod a;\nmod b;");
    let b = ("app::b", "use super::a::A;");
    assert_eq!(circle(&[declared, ("app::a", "use super::b::B;"), b]), None, "a module of tests");
    assert!(
        circle(&[("app", "mod a;"), ("app::a", "use super::b::B;"), b]).is_some(),
        "the same of no tests"
    );
    // What a parent takes from its child, and the child from it.
    let parent = circle(&[("app", ""), ("app::a", "mod b;\nuse b::B;"), ("app::a::b", "use super::A;")]);
    assert_eq!(parent, Some(vec!["app::a".to_owned(), "app::a::b".to_owned()]));
}
