//! The table of woods against printed values, and how wood moves.
//!
//! Wood Handbook = USDA Forest Products Laboratory, *Wood Handbook: Wood as an Engineering Material*,
//! FPL-GTR-282 (2021).

use spelk::shop::{Climate, Sawn, Wood, woods};
use spelk::units::Mm;
use std::collections::BTreeMap;

const MPA_PER_PSI: f64 = 6.894_757e-3;
const NEWTONS_PER_POUND: f64 = 4.448_222;

fn close(found: f64, expected: f64, tolerance: f64) {
    assert!((found - expected).abs() <= tolerance, "{found}, not {expected}");
}

fn wood(id: &str) -> &'static Wood {
    Wood::find(id).unwrap_or_else(|| panic!("{id} is built in"))
}

/// The data file's rows as printed, by column.
fn rows() -> Vec<BTreeMap<String, String>> {
    csv::Reader::from_reader(include_str!("../src/shop/species.csv").as_bytes())
        .deserialize()
        .collect::<Result<_, _>>()
        .unwrap()
}

/// Wood Handbook Table 5-3b, basswood and white oak, in the units it prints.
#[test]
fn strength_values_are_those_printed() {
    let basswood = wood("basswood_american");
    let psi = |value: Option<f64>| value.unwrap() / MPA_PER_PSI;
    close(psi(basswood.bending_strength), 8700.0, 1.0);
    close(psi(basswood.modulus), 1.46e6, 100.0);
    close(psi(basswood.compression_along), 4730.0, 1.0);
    close(psi(basswood.compression_across), 370.0, 0.2);
    close(psi(basswood.shear_along), 990.0, 0.2);
    close(psi(basswood.tension_across), 350.0, 0.2);
    close(basswood.hardness.unwrap() / NEWTONS_PER_POUND, 410.0, 0.5);
    assert_eq!(basswood.specific_gravity, Some(0.37));
    let oak = wood("oak_white");
    close(psi(oak.bending_strength), 15_200.0, 1.0);
    close(oak.hardness.unwrap() / NEWTONS_PER_POUND, 1360.0, 0.5);
}

/// Wood Handbook Table 5-3b prints a dash for these.
#[test]
fn what_is_not_published_stays_blank() {
    for id in ["maple_sugar", "maple_red", "hickory_shagbark", "pine_western_white"] {
        assert_eq!(wood(id).tension_across, None, "{id}");
    }
}

/// 1 psi = 6.894757 kPa and 1 lbf = 4.448222 N (SI conversions, as in the Wood Handbook's own tables).
#[test]
fn both_unit_systems_agree_in_every_row() {
    let mut compared = 0;
    for row in rows() {
        let pairs = [
            ("mor_psi", "mor_mpa", MPA_PER_PSI),
            ("moe_psi", "moe_mpa", MPA_PER_PSI),
            ("compression_parallel_psi", "compression_parallel_mpa", MPA_PER_PSI),
            ("compression_perpendicular_psi", "compression_perpendicular_mpa", MPA_PER_PSI),
            ("shear_parallel_psi", "shear_parallel_mpa", MPA_PER_PSI),
            ("tension_perpendicular_psi", "tension_perpendicular_mpa", MPA_PER_PSI),
            ("side_hardness_lbf", "side_hardness_n", NEWTONS_PER_POUND),
        ];
        for (printed, metric, factor) in pairs {
            let (Ok(printed), Ok(converted)) = (row[printed].parse::<f64>(), row[metric].parse::<f64>())
            else {
                continue;
            };
            let decimals = row[metric].split_once('.').map_or(0, |(_, decimals)| decimals.len());
            let half_a_digit = 0.5001 * 10f64.powi(-i32::try_from(decimals).unwrap());
            close(converted, printed * factor, half_a_digit);
            compared += 1;
        }
    }
    assert!(compared > 200, "only {compared} values compared");
}

/// `density = 62.43 SG 1.12` lb/ft3 at 12 % (Wood Handbook eq. 4-14); red oak, SG .63: 44.05.
#[test]
fn density_follows_from_specific_gravity() {
    const KG_M3_PER_LB_FT3: f64 = 16.018_46;
    let oak = wood("oak_northern_red");
    assert_eq!(oak.specific_gravity, Some(0.63));
    close(oak.density.unwrap() / KG_M3_PER_LB_FT3, 44.05, 0.05);
    for wood in woods().iter().filter(|wood| wood.gravity_basis.contains("12 %")) {
        close(wood.density_at_12().unwrap(), 1120.0 * wood.specific_gravity.unwrap(), 0.6);
    }
}

/// A gravity on green volume is carried to the volume at 12 % first (Wood Handbook eq. 4-12 to 4-14, worked out by
/// hand): not 504, 459 and 616.
#[test]
fn density_of_a_gravity_on_green_volume_is_that_at_12_per_cent() {
    for (id, expected) in [("mahogany_true", 543.0), ("spanish_cedar", 491.0), ("teak", 675.0)] {
        assert!(wood(id).gravity_basis.contains("green"), "{id}");
        close(wood(id).density_at_12().unwrap(), expected, 0.5);
    }
}

/// Water beyond fibre saturation fills the cells and moves nothing: 30 %, and 22 for redcedar, northern white cedar
/// and redwood (Wood Handbook ch. 13).
#[test]
fn wood_does_not_move_above_fibre_saturation() {
    let change = |id: &str, from: f64, to: f64| {
        wood(id).change_with_moisture(Mm::new(200.0), Sawn::Flat, [from, to]).unwrap().get()
    };
    close(change("basswood_american", 80.0, 30.0), 0.0, 1e-12);
    close(change("basswood_american", 80.0, 10.0), -200.0 * 0.0033 * 20.0, 1e-9);
    for id in ["cedar_western_red", "cedar_northern_white", "redwood_old_growth"] {
        let row = wood(id).movement(Sawn::Flat).unwrap();
        close(change(id, 30.0, 22.0), 0.0, 1e-12);
        close(change(id, 30.0, 12.0), -200.0 * row * 10.0, 1e-9);
    }
}

/// Where no strength across the grain is published the closest kin stands in: for western white pine the eastern one,
/// 310 psi (2.14 MPa, Wood Handbook Table 5-3b), taken down where this wood is the lighter.
#[test]
fn a_stand_in_is_the_closest_kin() {
    let numbers = spelk::proof::wall::WoodNumbers::of(wood("pine_western_white"));
    assert_eq!(numbers.across.of.as_deref(), Some(wood("pine_eastern_white").name.as_str()));
    close(numbers.across.value, 2.14, 0.01);
}

/// `C = (S/F)/(1 - S(F-10)/F)` (Wood Handbook ch. 13, with S the shrinkage and F 30, or 22 for
/// redcedar, northern white cedar and redwood). Checks the data file; the woods left out have printed
/// coefficients for a commercial group or from another source.
#[test]
fn movement_coefficients_follow_from_shrinkage() {
    const FROM_ELSEWHERE: [&str; 5] = ["oak", "hickory", "mahogany", "teak", "spanish"];
    let mut compared = 0;
    for row in rows() {
        let id = &row["species_id"];
        if FROM_ELSEWHERE.iter().any(|group| id.starts_with(group)) {
            continue;
        }
        let points: f64 =
            if ["redwood", "cedar_western_red", "cedar_northern_white"].iter().any(|low| id.starts_with(low))
            {
                22.0
            } else {
                30.0
            };
        let pairs = [
            ("shrinkage_radial_pct", "movement_radial_per_pct"),
            ("shrinkage_tangential_pct", "movement_tangential_per_pct"),
        ];
        for (shrinkage, coefficient) in pairs {
            let (Ok(shrinkage), Ok(printed)) =
                (row[shrinkage].parse::<f64>(), row[coefficient].parse::<f64>())
            else {
                continue;
            };
            let share = shrinkage / 100.0;
            let formula = share / points / (1.0 - share * (points - 10.0) / points);
            close(printed, formula, 6.5e-6);
            compared += 1;
        }
    }
    assert!(compared > 50, "only {compared} values compared");
}

/// Wood Handbook Table 4-2 (quoted in a secondary source); the equation is within 0.06 of it.
#[test]
fn moisture_content_follows_the_handbooks_table() {
    let printed = [
        (21.1, [(0.05, 1.3), (0.30, 6.2), (0.50, 9.2), (0.75, 14.4), (0.85, 17.9), (0.95, 23.9)].as_slice()),
        (-1.1, &[(0.75, 14.9), (0.95, 24.3)]),
        (37.8, &[(0.50, 8.7), (0.90, 19.5)]),
    ];
    for (celsius, values) in printed {
        for &(humidity, expected) in values {
            close(Climate { celsius, humidity }.moisture_content(), expected, 0.06);
        }
    }
    // Computed from the equation by an independent script.
    for (humidity, expected) in [(0.50, 9.27), (0.65, 12.00), (0.80, 16.04)] {
        close(Climate { celsius: 20.0, humidity }.moisture_content(), expected, 0.005);
    }
    close(Climate { celsius: 20.0, humidity: 0.0 }.moisture_content(), 0.0, 1e-12);
}

/// `dD = D C (M2 - M1)`, Wood Handbook ch. 13: basswood 8 in, 6 to 11 %: 0.132 in flatsawn, 0.092
/// quartersawn (Table 13-5, by the formula); white fir 232 mm, C .00245, 3 points: 1.705 mm (the
/// handbook's example, from memory).
#[test]
fn width_moves_with_moisture() {
    let basswood = wood("basswood_american");
    for (sawn, expected) in [(Sawn::Flat, 0.132), (Sawn::Quarter, 0.092)] {
        let change = basswood.change_with_moisture(Mm::from_inches(8.0), sawn, [6.0, 11.0]).unwrap();
        close(change.to_inches(), expected, 5e-4);
    }
    let mut fir = basswood.clone();
    fir.movement_tangential = Some(0.00245);
    // Two climates three points apart, found by halving.
    let from = Climate { celsius: 20.0, humidity: 0.5 };
    let (mut low, mut high) = (0.5, 0.9);
    for _ in 0..60 {
        let middle = f64::midpoint(low, high);
        let to = Climate { humidity: middle, ..from };
        if to.moisture_content() - from.moisture_content() < 3.0 { low = middle } else { high = middle }
    }
    let to = Climate { humidity: low, ..from };
    let change = fir.change_of_width(Mm::new(232.0), Sawn::Flat, from, to).unwrap();
    close(change.get(), 1.705, 5e-4);
    let back = fir.change_of_width(Mm::new(232.0), Sawn::Flat, to, from).unwrap();
    close((change + back).get(), 0.0, 1e-12);
    // Red alder, 8 in, six points: 0.1229 in with the table's .00256 (a worked example in a trade
    // magazine rounds the coefficient to .0026 and has 0.1248; second hand).
    close(8.0 * wood("alder_red").movement(Sawn::Flat).unwrap() * 6.0, 0.1229, 5e-5);
}
