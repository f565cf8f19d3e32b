//! What mending did.

use super::count;
use crate::proof::mend::Mended;

/// What was done: a sentence with its full stop.
pub fn done(mended: &Mended) -> String {
    match (mended.thickened, mended.widened) {
        (0, 0) => "Nothing needed mending.".to_owned(),
        (walls, 0) => format!("{} thickened to the limit.", count(walls, "wall was", "walls were")),
        (_, grooves) => format!("{} widened to the cutter.", count(grooves, "groove was", "grooves were")),
    }
}

/// Which elements came out with other pieces or holes than they had: a sentence with its full stop.
pub fn reshaped(elements: &[String]) -> String {
    format!("These elements gained or lost pieces or holes: {}. Look closely at them.", elements.join(", "))
}
