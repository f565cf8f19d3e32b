//! The bitmap pictures inside a drawing. They are never part of the design; who asks for one gets its file, to be
//! traced.

use super::DesignError;
use super::svg::{parse, text_of};

/// The bytes of each picture that an SVG holds within itself, in its order; `None` for one that cannot be taken out.
/// A picture in another file is not there at all. `O(bytes)`.
///
/// # Errors
///
/// Where the bytes are no XML.
pub fn pictures(bytes: &[u8]) -> Result<Vec<Option<Vec<u8>>>, DesignError> {
    let text = text_of(bytes)?;
    let document = parse(&text)?;
    let images = document.descendants().filter(|node| node.tag_name().name() == "image");
    let data = images.filter_map(|node| {
        let mut links = node.attributes().filter(|attribute| attribute.name() == "href");
        links.find_map(|link| link.value().trim().strip_prefix("data:"))
    });
    Ok(data.map(unpacked).collect())
}

/// What a data URL holds in base 64 (RFC 2397 and RFC 4648, section 4).
fn unpacked(data: &str) -> Option<Vec<u8>> {
    let (kind, text) = data.split_once(',')?;
    if !kind.trim_end().ends_with(";base64") {
        return None;
    }
    let mut bytes = Vec::with_capacity(text.len() / 4 * 3);
    let (mut bits, mut count) = (0_u32, 0);
    for sign in text.bytes().filter(|sign| !sign.is_ascii_whitespace()) {
        let value = match sign {
            b'A'..=b'Z' => sign - b'A',
            b'a'..=b'z' => sign - b'a' + 26,
            b'0'..=b'9' => sign - b'0' + 52,
            b'+' => 62,
            b'/' => 63,
            b'=' => break,
            _ => return None,
        };
        bits = bits << 6 | u32::from(value);
        count += 6;
        if count >= 8 {
            count -= 8;
            bytes.push((bits >> count & 0xff) as u8);
        }
    }
    Some(bytes)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn pictures_are_unpacked() {
        let svg = r#"<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink">
            <image href="data:image/png;base64,Zm9v
            YmE="/><image xlink:href="data:image/png;base64,Zg=="/>
            <image href="other.png"/><image href="data:image/png,plain"/></svg>"#;
        let found = pictures(svg.as_bytes()).unwrap();
        // RFC 4648, section 10.
        assert_eq!(found, [Some(b"fooba".to_vec()), Some(b"f".to_vec()), None]);
        assert!(pictures(b"no XML").is_err());
    }
}
