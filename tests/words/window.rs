use super::{Said, compare};
use std::fs;
use std::path::Path;

/// The captions of a room, read from its source: a constant is its own example.
fn captions(source: &str) -> Vec<(String, String)> {
    let mut found = Vec::new();
    for part in source.split("pub const ").skip(1) {
        let (name, rest) = part.split_once(": &str =").expect("a caption is text");
        let text = rest.trim_start().strip_prefix('"').expect("a caption is one literal");
        let mut words = String::new();
        let mut signs = text.chars();
        while let Some(sign) = signs.next().filter(|sign| *sign != '"') {
            if sign != '\\' {
                words.push(sign);
                continue;
            }
            match signs.next() {
                Some('u') => {
                    let code: String = signs.by_ref().skip(1).take_while(|sign| *sign != '}').collect();
                    words.extend(char::from_u32(u32::from_str_radix(&code, 16).unwrap()));
                }
                Some('\n') => signs = signs.as_str().trim_start().chars(),
                Some('n') => words.push('\n'),
                other => words.extend(other),
            }
        }
        found.push((name.to_owned(), words));
    }
    found
}

#[test]
fn captions_of_each_room() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("src/words/window");
    let mut files: Vec<_> = fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path()).collect();
    files.sort();
    for file in files {
        let room = file.file_stem().unwrap().to_str().unwrap();
        let mut said = Said::default();
        for (name, words) in captions(&fs::read_to_string(&file).unwrap()) {
            assert!(!words.is_empty(), "{room}::{name} is empty");
            said.line(&name, words);
        }
        if !said.text().is_empty() {
            compare(&format!("window_{room}"), &said);
        }
    }
}

#[test]
fn a_caption_is_read_as_the_compiler_reads_it() {
    let source =
        "pub const A: &str =\n    \"m\\u{b3} \\\"is\\\" \\\n     one\";\npub const B: &str = \"b\";\n";
    let expected = [("A", "m\u{b3} \"is\" one"), ("B", "b")].map(|(a, b)| (a.to_owned(), b.to_owned()));
    assert_eq!(captions(source), expected);
}
