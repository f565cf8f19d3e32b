//! The text of a DXF file as records: a kind and the group codes under it.
//!
//! A file is pairs of lines: a whole number, the group code, says what the value on the next line means;
//! code 0 starts a record (DXF reference, "Group codes"). Nothing else is needed to step over what is
//! not understood.

use super::super::DesignError;
use std::borrow::Cow;

/// One group code and its value.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Pair<'a> {
    pub code: i32,
    pub value: &'a str,
    /// Line of the value, from 1.
    pub line: u32,
}

/// Everything from one code 0 to the next.
#[derive(Clone, Debug)]
pub(super) struct Record<'a> {
    /// `LINE`, `SECTION`, `ENDSEC`.
    pub kind: &'a str,
    pub pairs: Vec<Pair<'a>>,
}

/// The largest number believed in a drawing, in its own units; the same as for SVG.
const LARGEST_NUMBER: f64 = 1e12;

/// Whether these bytes are a DXF drawing rather than something else: a first pair `0`, `SECTION`, after
/// any comments (code 999).
pub(super) fn is_dxf(bytes: &[u8]) -> bool {
    let bytes = bytes.strip_prefix(b"\xef\xbb\xbf").unwrap_or(bytes);
    let mut lines = bytes.split(|&byte| byte == b'\n').map(<[u8]>::trim_ascii);
    for _ in 0..100 {
        let (Some(code), Some(value)) = (lines.next(), lines.next()) else { return false };
        match code {
            b"999" => {}
            b"0" => return value == b"SECTION",
            _ => return false,
        }
    }
    false
}

/// How far into a file its kind of lines shows.
const START: usize = 4096;

/// See [`super::plain`].
pub(super) fn plain(bytes: &[u8]) -> Cow<'_, [u8]> {
    let narrow = match bytes {
        [0xff, 0xfe, rest @ ..] => Some(narrowed(rest, u16::from_le_bytes)),
        [0xfe, 0xff, rest @ ..] => Some(narrowed(rest, u16::from_be_bytes)),
        _ => None,
    };
    let mut lines: Cow<'_, [u8]> = narrow.map_or(Cow::Borrowed(bytes), Cow::Owned);
    let start = &lines[..lines.len().min(START)];
    if start.contains(&b'\r') && !start.contains(&b'\n') {
        lines =
            lines.iter().map(|&byte| if byte == b'\r' { b'\n' } else { byte }).collect::<Vec<u8>>().into();
    }
    if is_dxf(&lines) { lines } else { Cow::Borrowed(bytes) }
}

fn narrowed(bytes: &[u8], unit: impl Fn([u8; 2]) -> u16) -> Vec<u8> {
    let units = bytes.chunks_exact(2).map(|pair| unit([pair[0], pair[1]]));
    char::decode_utf16(units)
        .map(|c| c.unwrap_or(char::REPLACEMENT_CHARACTER))
        .collect::<String>()
        .into_bytes()
}

/// Whether these bytes are a DXF drawing in its binary form, which is not read.
pub(super) fn is_binary_dxf(bytes: &[u8]) -> bool {
    const MARK: &[u8] = b" Binary DXF\r\n\x1a\0";
    bytes[..bytes.len().min(40)].windows(MARK.len()).any(|part| part == MARK)
}

/// The bytes as text. Files from before 2007 hold names in a code page of their own; the numbers are the
/// same in all of them, so such a file is read byte by byte and only its names may look odd.
pub(super) fn text_of(bytes: &[u8]) -> Cow<'_, str> {
    let bytes = bytes.strip_prefix(b"\xef\xbb\xbf").unwrap_or(bytes);
    match std::str::from_utf8(bytes) {
        Ok(text) => Cow::Borrowed(text),
        Err(_) => Cow::Owned(bytes.iter().map(|&byte| char::from(byte)).collect()),
    }
}

/// Steps through the records of a file.
pub(super) struct Records<'a> {
    lines: std::str::Split<'a, char>,
    line: u32,
    next: Option<Pair<'a>>,
}

impl<'a> Records<'a> {
    pub(super) fn of(text: &'a str) -> Result<Records<'a>, DesignError> {
        let mut records = Records { lines: text.split('\n'), line: 0, next: None };
        records.next = records.pair()?;
        Ok(records)
    }

    /// The next record; `None` at the end of the file. What stands before the first code 0 is skipped.
    pub(super) fn record(&mut self) -> Result<Option<Record<'a>>, DesignError> {
        while let Some(pair) = self.next {
            self.next = self.pair()?;
            if pair.code == 0 {
                let mut record = Record { kind: pair.value, pairs: Vec::new() };
                while let Some(pair) = self.next.filter(|pair| pair.code != 0) {
                    record.pairs.push(pair);
                    self.next = self.pair()?;
                }
                return Ok(Some(record));
            }
        }
        Ok(None)
    }

    /// Whether the next record is of this kind.
    pub(super) fn next_is(&self, kind: &str) -> bool {
        self.next.is_some_and(|pair| pair.code == 0 && pair.value == kind)
    }

    fn pair(&mut self) -> Result<Option<Pair<'a>>, DesignError> {
        loop {
            let Some(code) = self.lines.next() else { return Ok(None) };
            self.line += 1;
            let code = code.trim();
            let Some(value) = self.lines.next() else {
                // A blank last line is how text files end; anything else lost its value.
                return if code.is_empty() { Ok(None) } else { Err(DesignError::CutShort) };
            };
            self.line += 1;
            let Ok(code) = code.parse::<i32>() else {
                let rest_is_blank = code.is_empty()
                    && value.trim().is_empty()
                    && self.lines.clone().all(|line| line.trim().is_empty());
                if rest_is_blank {
                    return Ok(None);
                }
                return Err(DesignError::BadGroupCode {
                    line: self.line - 1,
                    found: code.chars().filter(|c| !c.is_control()).take(24).collect(),
                });
            };
            if code != 999 {
                return Ok(Some(Pair { code, value: value.trim(), line: self.line }));
            }
        }
    }
}

impl<'a> Record<'a> {
    /// The first value under a code.
    pub(super) fn text(&self, code: i32) -> Option<&'a str> {
        self.pairs.iter().find(|pair| pair.code == code).map(|pair| pair.value)
    }

    /// The first value under a code as a whole number; 0 where there is none.
    pub(super) fn flags(&self, code: i32) -> i64 {
        self.text(code).and_then(|value| value.parse().ok()).unwrap_or(0)
    }

    /// The first value under a code as a number, or `usual` where there is none.
    pub(super) fn number(&self, code: i32, usual: f64) -> Result<f64, DesignError> {
        self.pairs.iter().find(|pair| pair.code == code).map_or(Ok(usual), Pair::number)
    }
}

impl Pair<'_> {
    /// The value as a number that can be meant.
    pub(super) fn number(&self) -> Result<f64, DesignError> {
        let wild = || DesignError::WildCoordinate {
            line: self.line,
            value: self.value.chars().filter(|c| !c.is_control()).take(24).collect(),
        };
        let number: f64 = self.value.parse().map_err(|_not_a_number| wild())?;
        // Written so that a NaN fails it.
        if number.abs() <= LARGEST_NUMBER { Ok(number) } else { Err(wild()) }
    }

    /// The value as a whole number; 0 where it is none.
    pub(super) fn whole(&self) -> i64 {
        self.value.parse().unwrap_or(0)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_drawing_is_told_by_its_first_pair() {
        assert!(is_dxf(b"  0\r\nSECTION\r\n"));
        assert!(is_dxf(b"999\nby hand\n0\nSECTION\n"));
        assert!(!is_dxf(b"0\nsection of text"));
        assert!(!is_dxf(b"<svg/>"));
        assert!(!is_dxf(b""));
    }

    #[test]
    fn records_split_at_code_nought() {
        let mut records = Records::of("0\nLINE\n8\nedge\n 10\n1.5\n0\nEOF\n").unwrap();
        let line = records.record().unwrap().unwrap();
        assert_eq!((line.kind, line.text(8), line.number(10, 0.0).unwrap()), ("LINE", Some("edge"), 1.5));
        assert_eq!(records.record().unwrap().unwrap().kind, "EOF");
        assert!(records.record().unwrap().is_none());
    }

    #[test]
    fn a_line_out_of_step_is_told_with_its_place() {
        let error = Records::of("0\nLINE\n8\nedge\nedge\n10\n").unwrap().record().unwrap_err();
        assert!(matches!(error, DesignError::BadGroupCode { line: 5, .. }), "{error}");
        assert!(matches!(Records::of("0\nLINE\n8").unwrap().record(), Err(DesignError::CutShort)));
    }
}
