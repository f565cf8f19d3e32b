//! The colours of a DXF drawing: by number, or written out.

use super::record::Record;
use crate::design::Color;

/// What an entity says of its colour.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Ink {
    /// Its layer's.
    ByLayer,
    /// That of the copy it is in.
    ByBlock,
    /// Its own.
    Own(Color),
}

impl Ink {
    /// The colour of a record: code 420 writes one out, code 62 has its number.
    pub(super) fn of(record: &Record<'_>) -> Ink {
        const BY_BLOCK: i64 = 0;
        if let Some(color) = written_out(record) {
            return Ink::Own(color);
        }
        match record.text(62).and_then(|number| number.parse().ok()) {
            Some(BY_BLOCK) => Ink::ByBlock,
            Some(number) => numbered(number).map_or(Ink::ByLayer, Ink::Own),
            None => Ink::ByLayer,
        }
    }
}

/// The colour of a layer; one that is off has its number below nought.
pub(super) fn of_layer(record: &Record<'_>) -> Option<Color> {
    written_out(record).or_else(|| numbered(record.flags(62).saturating_abs()))
}

fn written_out(record: &Record<'_>) -> Option<Color> {
    let number: u32 = record.text(420)?.parse().ok()?;
    let [_, red, green, blue] = number.to_be_bytes();
    Some(Color([red, green, blue]))
}

/// The colour of a number of the format's own list of 255: nine plain ones, 24 hues in five shades, each full and
/// pale, and six greys. The seventh is black on a light screen and white on a dark one. `None` for a number of no colour.
fn numbered(number: i64) -> Option<Color> {
    const PLAIN: [[u8; 3]; 9] = [
        [255, 0, 0],
        [255, 255, 0],
        [0, 255, 0],
        [0, 255, 255],
        [0, 0, 255],
        [255, 0, 255],
        [0, 0, 0],
        [128, 128, 128],
        [192, 192, 192],
    ];
    const SHADES: [f64; 5] = [1.0, 0.65, 0.5, 0.3, 0.15];
    const GREYS: [u8; 6] = [51, 91, 132, 173, 214, 255];
    let number = usize::try_from(number).ok()?;
    match number {
        1..=9 => Some(Color(PLAIN[number - 1])),
        10..=249 => {
            let hue = (number / 10 - 1) as f64 / 4.0;
            let shade = SHADES[number % 10 / 2];
            let least = if number.is_multiple_of(2) { 0.0 } else { 0.5 };
            // Around the hexagon of hues: each channel is full for two of its six sides, and rises and falls between.
            let channel = |peak: f64| {
                let from_peak = (hue - peak).rem_euclid(6.0);
                let full = (2.0 - from_peak.min(6.0 - from_peak)).clamp(0.0, 1.0);
                #[expect(clippy::cast_sign_loss, reason = "a share of 255")]
                let byte = ((least + (1.0 - least) * full) * shade * 255.0).round() as u8;
                byte
            };
            Some(Color([channel(0.0), channel(2.0), channel(4.0)]))
        }
        250..=255 => Some(Color([GREYS[number - 250]; 3])),
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_are_colours() {
        let of = |number| numbered(number).map(|color| color.to_string());
        assert_eq!(of(1).as_deref(), Some("#ff0000"));
        assert_eq!(of(10).as_deref(), Some("#ff0000"));
        assert_eq!(of(50).as_deref(), Some("#ffff00"));
        assert_eq!(of(90).as_deref(), Some("#00ff00"));
        assert_eq!(of(170).as_deref(), Some("#0000ff"));
        assert_eq!(of(11).as_deref(), Some("#ff8080"));
        assert_eq!(of(255).as_deref(), Some("#ffffff"));
        assert_eq!([of(0), of(256), of(-1)], [None, None, None]);
    }
}
