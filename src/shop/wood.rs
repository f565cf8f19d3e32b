//! Woods and their published values, from `species.csv`.
//!
//! A blank cell in the table means that no value was published; it stays `None` here, and whoever
//! needs the value says which stand-in was used.

use super::{Problem, RangeUnit, Wrong};
use serde::{Deserialize, Serialize};
use std::sync::LazyLock;

/// A wood with its published values, at 12 % moisture content unless the field says otherwise.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Wood {
    /// Short id, as in `basswood_american`.
    #[serde(rename = "species_id")]
    pub id: String,
    /// The handbook's name, as in `Basswood, American`.
    #[serde(rename = "common_name")]
    pub name: String,
    /// The botanical name.
    #[serde(rename = "botanical_name")]
    pub botanical: String,
    /// `hardwood` or `softwood`.
    pub group: String,
    /// Density at 12 %, kg per cubic metre.
    #[serde(rename = "density_12_kg_m3")]
    pub density: Option<f64>,
    /// Ovendry mass over volume, against water; [`gravity_basis`](Self::gravity_basis) says which volume.
    pub specific_gravity: Option<f64>,
    /// On which volume the specific gravity stands.
    #[serde(rename = "specific_gravity_basis", default)]
    pub gravity_basis: String,
    /// Bending strength (modulus of rupture), MPa.
    #[serde(rename = "mor_mpa")]
    pub bending_strength: Option<f64>,
    /// Modulus of elasticity in bending, MPa.
    #[serde(rename = "moe_mpa")]
    pub modulus: Option<f64>,
    /// Compression strength along the grain, MPa.
    #[serde(rename = "compression_parallel_mpa")]
    pub compression_along: Option<f64>,
    /// Compression strength across the grain, MPa.
    #[serde(rename = "compression_perpendicular_mpa")]
    pub compression_across: Option<f64>,
    /// Shear strength along the grain, MPa.
    #[serde(rename = "shear_parallel_mpa")]
    pub shear_along: Option<f64>,
    /// Tension strength across the grain, MPa.
    #[serde(rename = "tension_perpendicular_mpa")]
    pub tension_across: Option<f64>,
    /// Side hardness, newtons.
    #[serde(rename = "side_hardness_n")]
    pub hardness: Option<f64>,
    /// Where the strength values come from.
    #[serde(default)]
    pub strength_source: String,
    /// Change of radial width, as a share, for each per cent of moisture.
    #[serde(rename = "movement_radial_per_pct")]
    pub movement_radial: Option<f64>,
    /// Change of tangential width, as a share, for each per cent of moisture.
    #[serde(rename = "movement_tangential_per_pct")]
    pub movement_tangential: Option<f64>,
    /// Where the movement coefficients come from.
    #[serde(default)]
    pub movement_source: String,
    /// Moisture content above which it no longer swells, per cent; blank for the usual 30.
    #[serde(rename = "fibre_saturation_pct", default, skip_serializing_if = "Option::is_none")]
    pub fibre_saturation: Option<f64>,
    /// The grades Davis gave: the share of test pieces, per cent, that came out good to excellent when shaped. How
    /// cleanly it shapes, on the machines of its day; nothing of whether a wall stands.
    #[serde(rename = "davis_shaping_pct", default, skip_serializing_if = "Option::is_none")]
    pub shaping: Option<f64>,
    /// The id of the closest kin, whose values stand in first where this wood has none published.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub kin: Option<String>,
}

/// A part of a wood that can be wrong.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
#[expect(missing_docs, reason = "each is the part of a wood that bears its name")]
pub enum WoodPart {
    Name,
    Density,
    TensionAcross,
    MovementTangential,
    MovementRadial,
}

/// The built-in woods, in the order of the handbook's tables.
pub fn woods() -> &'static [Wood] {
    static WOODS: LazyLock<Vec<Wood>> = LazyLock::new(|| {
        csv::Reader::from_reader(include_str!("species.csv").as_bytes())
            .deserialize()
            .collect::<Result<_, _>>()
            .expect("the built-in table of woods is well formed")
    });
    &WOODS
}

/// Density at 12 % moisture over specific gravity, kg per cubic metre (Wood Handbook eq. 4-14: the
/// water in the wood adds 12 %).
const DENSITY_OF_GRAVITY: f64 = 1120.0;

impl Wood {
    /// Density at 12 %, kg per cubic metre: as published, or from the specific gravity; `None` where
    /// neither is known.
    ///
    /// A specific gravity that stands on the volume when green is first carried to the smaller volume at 12 %:
    /// `G / (1 - 0.265 a G)`, with `a = (30 - 12) / 30` (Wood Handbook eq. 4-12 and 4-13).
    ///
    /// ```
    /// # use spelk::shop::Wood;
    /// let teak = Wood::find("teak").unwrap(); // .55 on green volume
    /// assert_eq!(teak.density_at_12().unwrap().round(), 675.0);
    /// ```
    pub fn density_at_12(&self) -> Option<f64> {
        let of_gravity = |gravity: f64| {
            let shrunk = 0.265 * (30.0 - 12.0) / 30.0;
            let at_12 = if self.gravity_basis.contains("green") {
                gravity / (1.0 - shrunk * gravity)
            } else {
                gravity
            };
            at_12 * DENSITY_OF_GRAVITY
        };
        self.density.or_else(|| Some(of_gravity(self.specific_gravity?)))
    }

    /// The built-in wood of this id, or of a name that starts with `id` in any case.
    pub fn find(id: &str) -> Option<&'static Wood> {
        let wanted = id.to_lowercase();
        woods()
            .iter()
            .find(|wood| wood.id == wanted)
            .or_else(|| woods().iter().find(|wood| wood.name.to_lowercase().starts_with(&wanted)))
    }

    /// Of those that have what this wood lacks, the one to stand in for it: its closest kin, else of its group
    /// (of all, where its group is none we know) the nearest in density. A wood of unknown density is taken for
    /// the lightest.
    pub(crate) fn nearest<T>(
        &self,
        others: impl Iterator<Item = T>,
        wood: impl Fn(&T) -> &Wood,
    ) -> Option<T> {
        let density = self.density_at_12().unwrap_or_default();
        let known_group = woods().iter().any(|other| other.group == self.group);
        others
            .filter(|other| wood(other).group == self.group || !known_group)
            .filter_map(|other| Some((wood(&other).density_at_12()?, other)))
            .min_by(|(a, one), (b, two)| {
                let is_kin = |other: &T| self.kin.as_ref() == Some(&wood(other).id);
                let farther = (a - density).abs().total_cmp(&(b - density).abs());
                is_kin(two).cmp(&is_kin(one)).then(farther)
            })
            .map(|(_, other)| other)
    }

    /// A wood of one's own of which nothing is known yet.
    pub fn own(id: String, name: String) -> Wood {
        Wood {
            id,
            name,
            botanical: String::new(),
            group: "hardwood".to_owned(),
            density: None,
            specific_gravity: None,
            gravity_basis: String::new(),
            bending_strength: None,
            modulus: None,
            compression_along: None,
            compression_across: None,
            shear_along: None,
            tension_across: None,
            hardness: None,
            strength_source: OWN_VALUE.to_owned(),
            movement_radial: None,
            movement_tangential: None,
            movement_source: OWN_VALUE.to_owned(),
            fibre_saturation: None,
            shaping: None,
            kin: None,
        }
    }

    /// What makes no sense in it, in the order of its parts. A value that is not known is no problem.
    pub fn problems(&self) -> Vec<Problem<WoodPart>> {
        use WoodPart::{Density, MovementRadial, MovementTangential, Name, TensionAcross};
        let mut problems = Vec::new();
        let mut unless = |fine: bool, part: WoodPart, wrong: Wrong| {
            if !fine {
                problems.push(Problem { part, wrong });
            }
        };
        let within = |value: Option<f64>, least: f64, most: f64| {
            value.is_none_or(|value| (least..=most).contains(&value))
        };
        unless(!self.name.trim().is_empty(), Name, Wrong::NoName);
        // Balsa to lignum vitae and a little beyond on either side.
        let density = self.density_at_12();
        let range = |least: f64, most: f64, unit| Wrong::Range { least, most, unit };
        unless(within(density, 50.0, 1600.0), Density, range(50.0, 1600.0, RangeUnit::Density));
        let strength = range(0.1, 50.0, RangeUnit::Megapascals);
        unless(within(self.tension_across, 0.1, 50.0), TensionAcross, strength);
        for (share, part) in
            [(self.movement_tangential, MovementTangential), (self.movement_radial, MovementRadial)]
        {
            unless(within(share, 0.0, 0.02), part, range(0.0, 2.0, RangeUnit::PercentOfWidthAPoint));
        }
        problems
    }
}

/// The source of what a user typed.
const OWN_VALUE: &str = "own value";
