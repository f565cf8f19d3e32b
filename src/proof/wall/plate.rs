//! How a push at the top of a wall spreads before it reaches the root: the plate factors.
//!
//! A wall is a thin plate, clamped along its root, free along its top, each end free or joined to other standing
//! wood. The factors were worked out once by finite elements (`tests/recipes/plate.py`, which says how) for a
//! range of lengths and of the two numbers that stand for every wood; here they are looked up and interpolated.
//!
//! Where both ends are joined, moments turn from one side to the other as a wall grows longer, and the place of the
//! greatest jumps. So the table has them with their signs at fixed places; each is interpolated by itself, and the
//! greatest is taken afterwards. Every factor is within 2 % of a reference made by another program, whatever the
//! wood, the length and the ends.

use crate::shop::Plate;

use std::f64::consts::LN_2;
use std::ops::Range;
use std::sync::LazyLock;

/// What the two ends of a wall do, and where along it the cutter pushes.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Support {
    /// Both ends free; pushed in the middle.
    FreeInTheMiddle,
    /// Both ends free; pushed at one of them.
    FreeAtAnEnd,
    /// Both ends joined to other standing wood; pushed in the middle.
    Joined,
    /// One end joined; pushed at the free one.
    OneJoined,
}

impl Support {
    /// Every case.
    pub const ALL: [Support; 4] =
        [Support::FreeInTheMiddle, Support::FreeAtAnEnd, Support::Joined, Support::OneJoined];
}

/// What a push `P` at the top does to a wall `h` tall.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Factors {
    /// The greatest moment at the root for each unit of length, over `P`: the stress there is `6 root P / t^2`.
    pub root: f64,
    /// The same about an upright line where an end is joined; 0 where none is.
    pub end: f64,
    /// The deflection under the push, over `P h^2 / D_y`.
    pub deflection: f64,
}

/// The factors of a plate whose length is so many times its height; an endless wall's length is infinite.
/// About ten microseconds; of many lengths of one plate, `Lengths` is quicker.
///
/// ```
/// # use spelk::proof::wall::{Support, factors};
/// # use spelk::shop::{Sawn, Wood};
/// let basswood = Wood::find("basswood_american").unwrap().elastic_ratios().0;
/// let long = |angle| factors(&basswood.plate(Sawn::Flat, angle), Support::FreeInTheMiddle, f64::INFINITY).root;
/// let (along, across) = (long(0.0), long(std::f64::consts::FRAC_PI_2));
/// assert!(across / along > 2.8, "a wall across the grain shares a push less");
/// ```
pub fn factors(plate: &Plate, support: Support, length_over_height: f64) -> Factors {
    Lengths::of(plate).factors(support, length_over_height)
}

/// The factors of one plate at every length of the table.
pub(super) struct Lengths {
    /// How far the plate's energy is stretched along it.
    beta: f64,
    /// A row of quantities for each length.
    rows: Vec<[f64; QUANTITIES]>,
}

impl Lengths {
    pub(super) fn of(plate: &Plate) -> Lengths {
        // With x over beta, the plate's energy keeps its form with D_x = 1 (see the recipe): these are its numbers.
        let root_dx = plate.dx.sqrt();
        // Beyond the table's ends its own end: no published wood lies there.
        let d1 = (plate.d1 / root_dx).clamp(D1_NODES[0], D1_NODES[D1_NODES.len() - 1]);
        let above = D1_NODES.iter().position(|&node| node > d1).unwrap_or(D1_NODES.len() - 1);
        let first_d1 = above.saturating_sub(2).min(D1_NODES.len() - 4);
        let by_d1 = lagrange(&std::array::from_fn(|i| D1_NODES[first_d1 + i]), d1);
        let (first_dk, by_dk) = even((plate.dk / root_dx / LEAST_DK).log2() / DK_STEP, DKS);
        let mut rows = vec![[0.0; QUANTITIES]; LENGTHS];
        for (i, d1) in by_d1.iter().enumerate() {
            for (j, dk) in by_dk.iter().enumerate() {
                let first = ((first_d1 + i) * DKS + first_dk + j) * LENGTHS;
                for (row, nodes) in rows.iter_mut().zip(&TABLE[first..first + LENGTHS]) {
                    row.iter_mut().zip(nodes).for_each(|(sum, node)| *sum += d1 * dk * node);
                }
            }
        }
        Lengths { beta: root_dx.sqrt(), rows }
    }

    pub(super) fn factors(&self, support: Support, length_over_height: f64) -> Factors {
        let steps = (length_over_height / self.beta / SHORTEST).log2() / LENGTH_STEP;
        let (first, weights) = even(steps, LENGTHS);
        // A wall shorter than the table is weaker as `1 / length`, which its logarithm says.
        let shorter = (-steps).max(0.0) * LENGTH_STEP * LN_2;
        let signed = |quantity: usize| -> f64 {
            self.rows[first..first + 4].iter().zip(&weights).map(|(row, share)| row[quantity] * share).sum()
        };
        let of = |quantity: usize| signed(quantity).max(0.0);
        let grown = |quantity: usize| (signed(quantity) + shorter).exp();
        let greatest = |quantities: Range<usize>| quantities.map(|i| signed(i).abs()).fold(0.0, f64::max);
        let [root, end, deflection] = match support {
            Support::FreeInTheMiddle => [grown(0), 0.0, grown(1)],
            Support::FreeAtAnEnd => [grown(2), 0.0, grown(3)],
            // At the joined end the moment is greatest at the top or just below it.
            Support::OneJoined => [of(4), of(5).max(of(6)), of(7)],
            Support::Joined => [greatest(JOINED_ROOT), greatest(JOINED_END), of(JOINED_END.end)],
        };
        Factors { root: root / self.beta, end: end * self.beta, deflection: deflection / self.beta }
    }
}

/// Nodes of the table, as in the recipe: lengths and twists go up by a constant ratio.
const D1_NODES: [f64; 8] = [0.05, 0.1, 0.15, 0.225, 0.325, 0.45, 0.6, 0.75];
const LEAST_DK: f64 = 0.05;
const DKS: usize = 7;
/// Twists go up by this in a logarithm to base 2.
const DK_STEP: f64 = 2.0 / 3.0;
const SHORTEST: f64 = 0.2;
const LENGTHS: usize = 25;
/// Lengths go up by this in a logarithm to base 2.
const LENGTH_STEP: f64 = 0.25;
/// Quantities at the start of a row that grow as `1 / length` where a wall is shorter than the table: their
/// logarithms are kept.
const GROW: usize = 4;
/// Signed moments of a wall joined at both ends: along half its root, and up its end; its deflection comes after.
const JOINED_ROOT: Range<usize> = 8..19;
const JOINED_END: Range<usize> = 19..29;
const QUANTITIES: usize = 30;

/// A row for each d1, dk and length, the length changing fastest.
static TABLE: LazyLock<Vec<[f64; QUANTITIES]>> = LazyLock::new(|| {
    let mut reader = csv::Reader::from_reader(include_str!("plate.csv").as_bytes());
    let rows: Vec<[f64; QUANTITIES]> = reader
        .deserialize()
        .map(|row| {
            let row: Vec<f64> = row.expect("the built-in table of plates is well formed");
            std::array::from_fn(|i| if i < GROW { row[3 + i].ln() } else { row[3 + i] })
        })
        .collect();
    assert_eq!(rows.len(), D1_NODES.len() * DKS * LENGTHS, "the table of plates is whole");
    rows
});

/// Among so many nodes a step apart, from 0.
#[expect(clippy::cast_sign_loss, reason = "clamped to 0 and up")]
fn even(at: f64, count: usize) -> (usize, [f64; 4]) {
    let at = at.clamp(0.0, (count - 1) as f64);
    let first = (at as usize).saturating_sub(1).min(count - 4);
    (first, lagrange(&[0.0, 1.0, 2.0, 3.0], at - first as f64))
}

/// The weights of the cubic through four nodes.
fn lagrange(nodes: &[f64; 4], at: f64) -> [f64; 4] {
    std::array::from_fn(|i| {
        let others = nodes.iter().enumerate().filter(|&(j, _)| j != i);
        others.map(|(_, other)| (at - other) / (nodes[i] - other)).product()
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::proof::wall::{Heading, Plates};
    use crate::shop::{ElasticRatios, Sawn, Wood};
    use serde::Deserialize;
    use std::f64::consts::{FRAC_PI_2, PI};

    #[derive(Deserialize)]
    struct Row {
        wood: String,
        sawing: String,
        wall: String,
        length_over_h: f64,
        ends: String,
        load: String,
        k_root: f64,
        k_end: f64,
        d: f64,
    }

    const ISOTROPIC: Plate = Plate { dx: 1.0, d1: 0.3, dk: 0.35, upright: 1.0 / 0.91 };

    fn reference_wood(row: &Row) -> Option<(ElasticRatios, Sawn, f64)> {
        let id = match row.wood.as_str() {
            "basswood" => "basswood_american",
            "cherry" => "cherry_black",
            "white oak" => "oak_white",
            "yellow-poplar" => "yellow_poplar",
            _ => return None,
        };
        let sawn = if row.sawing == "flat-sawn" { Sawn::Flat } else { Sawn::Quarter };
        let angle = if row.wall == "along" { 0.0 } else { FRAC_PI_2 };
        Some((Wood::find(id).unwrap().elastic_ratios().0, sawn, angle))
    }

    fn reference_plate(row: &Row) -> Plate {
        reference_wood(row).map_or(ISOTROPIC, |(ratios, sawn, angle)| ratios.plate(sawn, angle))
    }

    /// Every row of the reference: finite elements by another program (Bogner-Fox-Schmit, scikit-fem), meshed for
    /// each wood and not in our scale; an exact Fourier integral agrees with it within 1 %.
    #[test]
    fn every_row_of_the_reference_is_met_within_two_per_cent() {
        let text = include_str!("../../../tests/data/wall/plate.csv");
        let rows: Vec<Row> =
            csv::Reader::from_reader(text.as_bytes()).deserialize().collect::<Result<_, _>>().unwrap();
        assert_eq!(rows.len(), 306);
        for row in &rows {
            let support = match (row.ends.as_str(), row.load.as_str()) {
                ("free", "middle") => Support::FreeInTheMiddle,
                ("free", "end") => Support::FreeAtAnEnd,
                ("joined", "middle") => Support::Joined,
                other => panic!("{other:?}"),
            };
            let check = |found: Factors, by: &str| {
                for (found, expected) in
                    [(found.root, row.k_root), (found.end, row.k_end), (found.deflection, row.d)]
                {
                    // The reference has three decimals, so it may be half a thousandth off itself.
                    // What is under a hundredth never governs: the other factors are tenths.
                    let fine = (found - expected).abs() <= f64::max(0.02 * expected + 0.0005, 0.001);
                    let Row { wood, sawing, wall, length_over_h: length, ends, load, .. } = row;
                    assert!(
                        fine,
                        "{by} {wood} {sawing} {wall} {length} {ends} {load}: {found:.4}, not {expected}"
                    );
                }
            };
            check(factors(&reference_plate(row), support, row.length_over_h), "worked out");
            if let Some((ratios, sawn, angle)) = reference_wood(row) {
                check(
                    Plates::of(&ratios, sawn).factors(&Heading::of(angle), support, row.length_over_h),
                    "looked up",
                );
            }
        }
    }

    /// The infinitely long wall, exactly: a Fourier integral along it of solutions of the plate's own equation
    /// `w'''' - 2 H a^2 w'' + D_x a^4 w = 0`, clamped below, with no moment and a shear of 1 at the top.
    fn endless(plate: &Plate) -> (f64, f64) {
        let twist = plate.d1 + 2.0 * plate.dk;
        let at = |a: f64| {
            // Two solutions that start from the clamped root, one with a curvature, one with its slope.
            let march = |mut w: [f64; 4]| {
                #[expect(clippy::cast_sign_loss, reason = "a frequency is not negative")]
                let steps = 60 + (60.0 * a) as usize;
                let h = 1.0 / steps as f64;
                let slope = |w: [f64; 4]| {
                    [w[1], w[2], w[3], 2.0 * twist * a * a * w[2] - plate.dx * a.powi(4) * w[0]]
                };
                let step = |w: [f64; 4], k: [f64; 4], by: f64| std::array::from_fn(|i| w[i] + by * k[i]);
                for _ in 0..steps {
                    let k1 = slope(w);
                    let k2 = slope(step(w, k1, h / 2.0));
                    let k3 = slope(step(w, k2, h / 2.0));
                    let k4 = slope(step(w, k3, h));
                    w = std::array::from_fn(|i| w[i] + h / 6.0 * (k1[i] + 2.0 * k2[i] + 2.0 * k3[i] + k4[i]));
                }
                w
            };
            let (u, v) = (march([0.0, 0.0, 1.0, 0.0]), march([0.0, 0.0, 0.0, 1.0]));
            let moment = |w: [f64; 4]| w[2] - plate.d1 * a * a * w[0];
            let shear = |w: [f64; 4]| w[3] - (plate.d1 + 4.0 * plate.dk) * a * a * w[1];
            // p u + q v has no moment; its shear is -1.
            let det = moment(u) * shear(v) - moment(v) * shear(u);
            let (p, q) = (moment(v) / det, -moment(u) / det);
            (p, p * u[0] + q * v[0])
        };
        // Simpson's rule; of the deflection what is left beyond falls as a^-3. Farther out the two solutions grow
        // alike to the last digit.
        let (most, count) = (16.0 / plate.dx.sqrt().sqrt(), 800);
        let h = most / f64::from(count);
        let mut sums = (0.0, 0.0);
        for i in 0..=count {
            let weight = if i == 0 || i == count {
                1.0
            } else if i % 2 == 1 {
                4.0
            } else {
                2.0
            };
            let (root, top) = at(h * f64::from(i));
            sums = (sums.0 + weight * root, sums.1 + weight * top);
        }
        let tail = at(most).1 * most / 2.0;
        ((sums.0 * h / 3.0).abs() / PI, (sums.1 * h / 3.0 + tail).abs() / PI)
    }

    #[test]
    fn an_endless_wall_agrees_with_the_exact_integral_and_with_the_printed_values() {
        let check = |plate: &Plate, name: &str| {
            let (root, deflection) = endless(plate);
            let found = factors(plate, Support::FreeInTheMiddle, f64::INFINITY);
            assert!((found.root / root - 1.0).abs() < 0.01, "{name}: root {} {root}", found.root);
            assert!(
                (found.deflection / deflection - 1.0).abs() < 0.01,
                "{name}: d {} {deflection}",
                found.deflection
            );
            (root, deflection)
        };
        // T. J. Jaramillo 1950 (J. Appl. Mech. 17, 67); Timoshenko and Woinowsky-Krieger, Theory of Plates and
        // Shells: from memory.
        let (root, deflection) = check(&ISOTROPIC, "isotropic");
        assert!(
            (root - 0.509).abs() < 0.0005 && (deflection / 0.168 - 1.0).abs() < 0.01,
            "{root} {deflection}"
        );
        for id in [
            "basswood_american",
            "cherry_black",
            "cedar_northern_white",
            "cedar_western_red",
            "mahogany_true",
        ] {
            let ratios = Wood::find(id).unwrap().elastic_ratios().0;
            for sawn in [Sawn::Flat, Sawn::Quarter] {
                for degrees in [0.0f64, 30.0, 45.0, 90.0] {
                    check(&ratios.plate(sawn, degrees.to_radians()), &format!("{id} {sawn:?} {degrees}"));
                }
            }
        }
    }

    /// A stub narrower than it is tall is a beam of its own: `k = h / l` at its root, and about a seventh more
    /// where a clamped root keeps the wood from narrowing.
    #[test]
    fn a_narrow_stub_is_a_beam_and_an_endless_wall_does_not_know_its_height() {
        let plate = ISOTROPIC;
        for slender in [10.0, 40.0] {
            let found = factors(&plate, Support::FreeInTheMiddle, 1.0 / slender);
            assert!((found.root / slender / 1.15 - 1.0).abs() < 0.05, "{slender}: {}", found.root / slender);
        }
        let long = |length| factors(&plate, Support::FreeInTheMiddle, length).root;
        assert_eq!(long(40.0), long(f64::INFINITY));
    }
}
