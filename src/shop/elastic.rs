//! How stiff wood is in each direction, and the plate that a standing wall is.
//!
//! Wood has three directions: L along the grain, R across the growth rings (radial), T along them (tangential).
//! A wall stands upright in the board: in R where the board is flat-sawn, in T where it is quarter-sawn. In plan
//! it runs along L, across it, or between.
//!
//! Ratios: *Wood Handbook*, USDA Forest Products Laboratory, FPL-GTR-282 (2021), tables 5-1 and 5-2, written down
//! from memory in `elastic.csv`; the column `source` says what those tables do not have.

use super::{Sawn, Wood, woods};
use serde::Deserialize;
use std::sync::LazyLock;

/// The elastic ratios of a wood at about 12 % moisture content. Moduli are shares of the modulus along the
/// grain; `nu_xy` is how much the wood shrinks along y for each share it is stretched along x.
#[derive(Clone, Copy, Debug, PartialEq, Deserialize)]
#[expect(missing_docs, reason = "the handbook's own symbols")]
pub struct ElasticRatios {
    pub e_t: f64,
    pub e_r: f64,
    pub g_lr: f64,
    pub g_lt: f64,
    pub g_rt: f64,
    pub nu_lr: f64,
    pub nu_lt: f64,
    pub nu_rt: f64,
    pub nu_tr: f64,
}

/// A thin orthotropic plate, x level and y upright: its bending rigidities as shares of that of the upright
/// direction, `D_y = E_y t^3 / (12 (1 - nu_xy nu_yx))`.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Plate {
    /// Level rigidity.
    pub dx: f64,
    /// The Poisson effect, `nu_yx D_x = nu_xy D_y`.
    pub d1: f64,
    /// The twist: half of its rigidity.
    pub dk: f64,
    /// The upright modulus as a share of the modulus along the grain, over `1 - nu_xy nu_yx`.
    pub upright: f64,
}

#[derive(Deserialize)]
struct Row {
    species_id: String,
    e_t: f64,
    e_r: f64,
    g_lr: f64,
    g_lt: f64,
    g_rt: f64,
    nu_lr: f64,
    nu_lt: f64,
    nu_rt: f64,
    nu_tr: f64,
}

/// The built-in table, in its own order.
fn table() -> &'static [(&'static Wood, ElasticRatios)] {
    static TABLE: LazyLock<Vec<(&'static Wood, ElasticRatios)>> = LazyLock::new(|| {
        let ratios = |row: Row| {
            let wood = woods().iter().find(|wood| wood.id == row.species_id).expect("a built-in wood");
            let Row { e_t, e_r, g_lr, g_lt, g_rt, nu_lr, nu_lt, nu_rt, nu_tr, .. } = row;
            (wood, ElasticRatios { e_t, e_r, g_lr, g_lt, g_rt, nu_lr, nu_lt, nu_rt, nu_tr })
        };
        csv::Reader::from_reader(include_str!("elastic.csv").as_bytes())
            .deserialize()
            .map(|row| ratios(row.expect("the built-in table of elastic ratios is well formed")))
            .collect()
    });
    &TABLE
}

impl Wood {
    /// Its elastic ratios; and where none are published for it, the wood whose ratios stand in: of its group, the
    /// nearest in density.
    pub fn elastic_ratios(&self) -> (ElasticRatios, Option<&'static Wood>) {
        if let Some((_, own)) = table().iter().find(|(wood, _)| wood.id == self.id) {
            return (*own, None);
        }
        let (wood, ratios) =
            self.nearest(table().iter(), |(wood, _)| wood).expect("the table has woods of every group");
        (*ratios, Some(wood))
    }
}

impl ElasticRatios {
    /// The plate that a wall is which runs at `angle` to the grain, radians, in a board sawn this way.
    ///
    /// Exact: the wall's plane always holds one of the wood's own directions (the upright one), so in it the wood
    /// stays orthotropic, and the constants turn with the wall as any tensor does (S. G. Lekhnitskii, *Theory of
    /// Elasticity of an Anisotropic Body*, ch. 1, from memory).
    pub fn plate(&self, sawn: Sawn, angle: f64) -> Plate {
        // u upright, h level and across the grain.
        let (e_u, e_h, g_lu, g_lh, nu_lu, nu_lh, nu_hu) = match sawn {
            Sawn::Flat => (self.e_r, self.e_t, self.g_lr, self.g_lt, self.nu_lr, self.nu_lt, self.nu_tr),
            Sawn::Quarter => (self.e_t, self.e_r, self.g_lt, self.g_lr, self.nu_lt, self.nu_lr, self.nu_rt),
        };
        let (sin, cos) = angle.sin_cos();
        let (ss, cc) = (sin * sin, cos * cos);
        let level = cc * cc + ss * ss / e_h + ss * cc * (1.0 / g_lh - 2.0 * nu_lh);
        let poisson = nu_lu * cc + nu_hu / e_h * ss;
        let shear = cc / g_lu + ss / self.g_rt;
        let nu_xy = poisson / level;
        let left = 1.0 - poisson * nu_xy * e_u;
        let dx = 1.0 / (level * e_u);
        Plate { dx, d1: nu_xy, dk: left / (shear * e_u), upright: e_u / left }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::f64::consts::FRAC_PI_2;

    #[test]
    fn every_built_in_row_is_a_wood_whose_energy_is_positive_whichever_way_a_wall_runs() {
        assert_eq!(table().len(), 21);
        for (wood, ratios) in table() {
            for sawn in [Sawn::Flat, Sawn::Quarter] {
                for degrees in 0..=90 {
                    let plate = ratios.plate(sawn, f64::from(degrees).to_radians());
                    let fine = plate.dx > 0.0 && plate.dk > 0.0 && plate.d1.powi(2) < plate.dx;
                    assert!(fine && plate.upright > 0.0, "{} at {degrees}: {plate:?}", wood.id);
                }
            }
        }
    }

    #[test]
    fn along_and_across_the_grain_a_plate_has_the_handbooks_own_ratios() {
        // Basswood, Wood Handbook tables 5-1 and 5-2 (from memory): E_R .066, E_T .027, nu_LR .364, nu_TR .346.
        let wood = Wood::find("basswood_american").unwrap();
        let (ratios, stand_in) = wood.elastic_ratios();
        assert_eq!(stand_in, None);
        let along = ratios.plate(Sawn::Flat, 0.0);
        assert!((along.dx - 1.0 / 0.066).abs() < 1e-9 && (along.d1 - 0.364).abs() < 1e-12, "{along:?}");
        let across = ratios.plate(Sawn::Flat, FRAC_PI_2);
        assert!((across.dx - 0.027 / 0.066).abs() < 1e-9 && (across.d1 - 0.346).abs() < 1e-9, "{across:?}");
        let quarter = ratios.plate(Sawn::Quarter, 0.0);
        assert!((quarter.dx - 1.0 / 0.027).abs() < 1e-9 && (quarter.d1 - 0.406).abs() < 1e-12, "{quarter:?}");
    }

    #[test]
    fn a_wood_without_ratios_borrows_those_of_the_nearest_in_its_group() {
        let stand_in = |id: &str| Wood::find(id).unwrap().elastic_ratios().1.map(|wood| wood.id.as_str());
        assert_eq!(stand_in("butternut"), Some("basswood_american"));
        assert_eq!(
            stand_in("pine_eastern_white"),
            Some("pine_western_white"),
            "its kin, though sugar pine is nearer in density"
        );
    }
}
