//! What is the same on every sheet of a shop, and whenever a customer is shown sizes.

use crate::sheet::pdf::{Paper, Quote, SheetSettings, ShopMark};
use crate::units::LengthUnit;
use crate::words::window::work as said;
use serde::{Deserialize, Serialize};
use std::path::PathBuf;

/// What a customer is shown beside the pictures.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(default)]
pub(crate) struct Counter {
    /// No price is shown.
    pub(crate) hides_prices: bool,
    /// Sizes that would not come out whole are shown too, greyed.
    pub(crate) shows_unsound: bool,
    /// A hand is shown for scale.
    pub(crate) shows_hand: bool,
}

/// What is the same on every sheet of a shop. It is remembered from one start to the next.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(default)]
pub(crate) struct Papers {
    /// `None` goes with the unit.
    pub(crate) chosen_paper: Option<Paper>,
    pub(crate) shop_name: String,
    pub(crate) customer_text: String,
    /// The picture of the shop's mark.
    pub(crate) mark: Option<PathBuf>,
    /// What the offer says of this customer. It is not for the next one.
    #[serde(skip)]
    pub(crate) offer: Quote,
}

impl Papers {
    /// The paper that was chosen, or else that of those who measure in this unit.
    pub(crate) fn paper(&self, unit: LengthUnit) -> Paper {
        self.chosen_paper.unwrap_or(Paper::beside(unit))
    }

    /// The settings of a sheet. Reads the mark: for a worker.
    pub(crate) fn settings(&self, unit: LengthUnit) -> Result<SheetSettings, String> {
        let mark = self.mark.as_ref().map(|path| {
            let name = || path.display().to_string();
            let bytes = std::fs::read(path).map_err(|error| said::mark_unreadable(&name(), &error))?;
            ShopMark::read(&bytes).map_err(|problem| said::mark_unusable(&name(), &problem))
        });
        Ok(SheetSettings {
            paper: self.paper(unit),
            unit,
            shop_name: self.shop_name.clone(),
            customer_text: self.customer_text.clone(),
            mark: mark.transpose()?,
            offer: self.offer.clone(),
        })
    }
}
