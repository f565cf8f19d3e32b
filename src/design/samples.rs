//! The sample designs that come with the program, each with one lesson.
//!
//! They are written by `sample-designs/make.py` and compiled in, so the program shows them from any
//! folder.

/// A design that comes with the program.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Sample {
    /// Short id, and the name of its file without the ending: `inn-sign`.
    pub id: &'static str,
    /// What it is, for a list.
    pub title: &'static str,
    /// What it shows at its drawn size on the starting board, carved as `job::sample` sets it: one sentence without a full stop.
    pub lesson: &'static str,
    /// The file itself.
    pub svg: &'static str,
}

macro_rules! sample {
    ($id:literal, $title:literal, $lesson:literal) => {
        Sample {
            id: $id,
            title: $title,
            lesson: $lesson,
            svg: include_str!(concat!("../../sample-designs/", $id, ".svg")),
        }
    };
}

/// Every sample; the first is what a first start shows.
pub fn samples() -> &'static [Sample] {
    &[
        sample!(
            "inn-sign",
            "Inn sign, The Reed Inn",
            "Stout letters, but reeds and legs too thin to survive across the grain"
        ),
        sample!(
            "boat-nameboard",
            "Boat's nameboard, Marigold",
            "Too long for the board with its ends held; with them free, the snipe falls on it"
        ),
        sample!(
            "house-number",
            "House number, 27 Hithe Steps",
            "A channel round the rim that the cutter cannot enter"
        ),
        sample!(
            "beehive-plate",
            "Beehive plate, bee and sun",
            "Fine points that lose their ends at any size"
        ),
        sample!(
            "puzzle",
            "Child's puzzle, boat and fish",
            "The pieces are sunk and the tray is left: the strip between the sails is too thin"
        ),
        sample!("gate-sign", "Gate sign, Mind the geese", "Sound as it is"),
    ]
}

/// The sample of this id.
pub fn find(id: &str) -> Option<&'static Sample> {
    samples().iter().find(|sample| sample.id == id)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn each_sample_has_its_own_id_and_is_plain_outlines() {
        for (index, sample) in samples().iter().enumerate() {
            assert_eq!(find(sample.id), Some(&samples()[index]));
            for part in ["<text", "<image", "<use", "<style"] {
                assert!(!sample.svg.contains(part), "{} has {part}", sample.id);
            }
            assert!(sample.svg.contains("viewBox"), "{} says how large it is", sample.id);
        }
    }
}
