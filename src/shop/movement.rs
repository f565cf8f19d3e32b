//! How a finished piece moves with the seasons: moisture content by climate, and width by moisture.
//!
//! Formulas and coefficients: *Wood Handbook*, USDA Forest Products Laboratory, FPL-GTR-282 (2021),
//! equation 4-5 and chapter 13.

use super::Wood;
use crate::units::Mm;
use serde::{Deserialize, Serialize};

/// The air a piece hangs in.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct Climate {
    /// Temperature, degrees Celsius.
    pub celsius: f64,
    /// Relative humidity, 0 to 1.
    pub humidity: f64,
}

/// How a board was sawn: which way its growth rings meet its face.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Sawn {
    /// Rings lie along the face: width moves with the tangential coefficient, and walls stand in the radial direction.
    #[default]
    Flat,
    /// Rings stand upright to the face: width moves with the radial coefficient, and walls stand in the tangential
    /// direction.
    Quarter,
}

impl Sawn {
    /// Both.
    pub const ALL: [Sawn; 2] = [Sawn::Flat, Sawn::Quarter];
}

impl Climate {
    /// The moisture content that wood comes to in this air, per cent of its dry mass (Wood Handbook
    /// eq. 4-5, good to a few tenths of a per cent for any species). Humidity is held to 0 to 1.
    ///
    /// ```
    /// # use spelk::shop::Climate;
    /// let living_room = Climate { celsius: 20.0, humidity: 0.5 };
    /// assert!((living_room.moisture_content() - 9.27).abs() < 0.005);
    /// ```
    pub fn moisture_content(self) -> f64 {
        let (t, h) = (self.celsius, self.humidity.clamp(0.0, 1.0));
        let w = 349.0 + 1.29 * t + 0.0135 * t * t;
        let k = 0.805 + 0.000_736 * t - 0.000_002_73 * t * t;
        let k1 = 6.27 - 0.009_38 * t - 0.000_303 * t * t;
        let k2 = 1.91 + 0.0407 * t - 0.000_293 * t * t;
        let kh = k * h;
        let bound = kh / (1.0 - kh);
        let layers = (k1 * kh + 2.0 * k1 * k2 * kh * kh) / (1.0 + k1 * kh + k1 * k2 * kh * kh);
        1800.0 / w * (bound + layers)
    }
}

/// Moisture content at which the cell walls of most woods are full, per cent (Wood Handbook ch. 4).
const FIBRE_SATURATION: f64 = 30.0;

impl Wood {
    /// Change of width for each per cent of moisture content, as a share of the width, between 6 and
    /// 14 % (Wood Handbook Table 13-5); `None` where none is published.
    pub fn movement(&self, sawn: Sawn) -> Option<f64> {
        match sawn {
            Sawn::Flat => self.movement_tangential,
            Sawn::Quarter => self.movement_radial,
        }
    }

    /// How much wider a piece of `width` grows (narrower, if negative) from one climate to another.
    pub fn change_of_width(&self, width: Mm, sawn: Sawn, from: Climate, to: Climate) -> Option<Mm> {
        self.change_with_moisture(width, sawn, [from.moisture_content(), to.moisture_content()])
    }

    /// The same from one moisture content to another, per cent. Water beyond fibre saturation fills the cells and
    /// moves nothing: 30 %, or what the wood's own value says (22 for redcedar, northern white cedar and redwood;
    /// Wood Handbook ch. 13).
    pub fn change_with_moisture(&self, width: Mm, sawn: Sawn, moisture: [f64; 2]) -> Option<Mm> {
        let most = self.fibre_saturation.unwrap_or(FIBRE_SATURATION);
        let [from, to] = moisture.map(|moisture| moisture.min(most));
        Some(width * (self.movement(sawn)? * (to - from)))
    }
}
