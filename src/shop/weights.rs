//! What it is worth to a shop to leave a thing as it is: the weights that advice is ranked by.

use serde::{Deserialize, Serialize};

/// What each sort of change is worth avoiding, in the shop's own money, beside the minutes and the wood, which
/// have prices. Kept in `prices.json`. Every starting value is a round value of our own, beside starting prices
/// of 20 for an hour of the machine and 10 for a board foot.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(default, deny_unknown_fields)]
pub struct Weights {
    /// Another value of a setting, whichever: place, turn, ends, size, depth, feed, pass, bridges.
    pub setting: f64,
    /// Another cutter than the one chosen, for each to be put in.
    pub cutter: f64,
    /// A board of the rack in place of the one chosen.
    pub rack: f64,
    /// Twice or half the size; in between by the logarithm.
    pub size: f64,
    /// Half the depth; in between by the logarithm.
    pub depth: f64,
    /// Other outlines than drawn, however little they differ.
    pub redraw: f64,
    /// All of the carved or standing area changed; a part of it by its share.
    pub area: f64,
    /// Getting something that is not in the shop, beside its price.
    pub errand: f64,
    /// Planing a board flat, or an edge straight.
    pub plane: f64,
}

impl Default for Weights {
    fn default() -> Weights {
        Weights {
            setting: 1.0,
            cutter: 3.0,
            rack: 3.0,
            size: 60.0,
            depth: 20.0,
            redraw: 5.0,
            area: 200.0,
            errand: 20.0,
            plane: 10.0,
        }
    }
}

impl Weights {
    /// Every weight, in a fixed order.
    pub fn all(&self) -> [f64; 9] {
        let Weights { setting, cutter, rack, size, depth, redraw, area, errand, plane } = *self;
        [setting, cutter, rack, size, depth, redraw, area, errand, plane]
    }

    /// Weights in the order of [`Weights::all`].
    pub fn of([setting, cutter, rack, size, depth, redraw, area, errand, plane]: [f64; 9]) -> Weights {
        Weights { setting, cutter, rack, size, depth, redraw, area, errand, plane }
    }
}
