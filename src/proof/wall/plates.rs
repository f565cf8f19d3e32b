//! The plate factors of every wall that a board can have, looked up in nanoseconds.
//!
//! One board has one wood and one way of being sawn, so its plates differ in the direction a wall runs and nothing
//! else. Their factors are worked out once for a grid of directions, lengths and ends, and interpolated in straight
//! lines between its nodes: their logarithms where an end is free, for those factors grow as a wall gets shorter,
//! else the factors themselves, which may come near nothing.

use super::plate::Lengths;
use super::{Factors, Heading, Support};
use crate::shop::{ElasticRatios, Plate, Sawn};
use std::f64::consts::FRAC_PI_2;
use std::sync::{Arc, Mutex, PoisonError};

/// Directions from along the grain to across it.
const DIRECTIONS: usize = 19;
/// Lengths over heights go up from this by a constant ratio.
const SHORTEST: f64 = 0.125;
const LENGTHS: usize = 161;
const LENGTH_STEP: f64 = 1.0 / 16.0;

/// The plate factors of one board.
#[derive(Clone, Debug, PartialEq)]
pub struct Plates {
    sawn: Sawn,
    /// A plate for each direction.
    by_direction: Vec<Plate>,
    /// Root, end and deflection by direction, ends and length; [logarithms](by_logarithm) for some ends.
    nodes: Vec<[f64; 3]>,
}

impl Plates {
    /// The plates of a wood sawn this way: worked out once, in some milliseconds, and kept. There are no more of them
    /// than woods with published ratios, twice.
    pub fn of(ratios: &ElasticRatios, sawn: Sawn) -> Arc<Plates> {
        static KEPT: Mutex<Vec<(ElasticRatios, Arc<Plates>)>> = Mutex::new(Vec::new());
        let mut kept = KEPT.lock().unwrap_or_else(PoisonError::into_inner);
        if let Some((_, plates)) = kept.iter().find(|(of, plates)| of == ratios && plates.sawn == sawn) {
            return plates.clone();
        }
        let plates = Arc::new(Plates::new(ratios, sawn));
        kept.push((*ratios, plates.clone()));
        plates
    }

    fn new(ratios: &ElasticRatios, sawn: Sawn) -> Plates {
        let by_direction: Vec<Plate> = (0..DIRECTIONS)
            .map(|step| ratios.plate(sawn, FRAC_PI_2 * step as f64 / (DIRECTIONS - 1) as f64))
            .collect();
        let mut nodes = Vec::with_capacity(DIRECTIONS * Support::ALL.len() * LENGTHS);
        for plate in &by_direction {
            let lengths = Lengths::of(plate);
            for support in Support::ALL {
                nodes.extend((0..LENGTHS).map(|step| {
                    let Factors { root, end, deflection } =
                        lengths.factors(support, SHORTEST * (step as f64 * LENGTH_STEP).exp2());
                    let factors = [root, end, deflection];
                    if by_logarithm(support) {
                        factors.map(|factor| factor.max(f64::MIN_POSITIVE).ln())
                    } else {
                        factors
                    }
                }));
            }
        }
        Plates { sawn, by_direction, nodes }
    }

    /// How the board is sawn.
    pub fn sawn(&self) -> Sawn {
        self.sawn
    }

    /// The rigidities of a wall.
    pub fn plate(&self, heading: &Heading) -> Plate {
        let Heading { first, share, .. } = *heading;
        let [a, b] = [self.by_direction[first], self.by_direction[first + 1]];
        let mix = |a: f64, b: f64| a + (b - a) * share;
        Plate {
            dx: mix(a.dx, b.dx),
            d1: mix(a.d1, b.d1),
            dk: mix(a.dk, b.dk),
            upright: mix(a.upright, b.upright),
        }
    }

    /// The factors of a wall that is so many times as long as tall.
    #[expect(clippy::cast_sign_loss, reason = "clamped to 0 and up")]
    pub fn factors(&self, heading: &Heading, support: Support, length_over_height: f64) -> Factors {
        let Heading { first, share, .. } = *heading;
        let steps = (length_over_height / SHORTEST).log2() / LENGTH_STEP;
        let at = steps.clamp(0.0, (LENGTHS - 1) as f64);
        let low = (at as usize).min(LENGTHS - 2);
        // Shorter walls with a free end have more, not less: they go on as the first step does.
        let goes_on = by_logarithm(support) && steps.is_finite() && steps < 0.0;
        let across = if goes_on { steps } else { at } - low as f64;
        let row = |direction: usize| (direction * Support::ALL.len() + support as usize) * LENGTHS + low;
        let (a, b) = (row(first), row(first + 1));
        let node = |factor: usize| {
            let along = |row: usize| {
                let [low, high] = [row, row + 1].map(|row| self.nodes[row][factor]);
                low + (high - low) * across
            };
            along(a) + (along(b) - along(a)) * share
        };
        if by_logarithm(support) {
            Factors { root: node(0).exp(), end: 0.0, deflection: node(2).exp() }
        } else {
            Factors { root: node(0), end: node(1), deflection: node(2) }
        }
    }
}

impl Heading {
    /// Of an angle to the grain, radians. Directions repeat every half turn, and a wall and its mirror image are
    /// alike.
    #[expect(clippy::cast_sign_loss, reason = "folded into a quarter turn")]
    pub fn of(angle: f64) -> Heading {
        let (sin, cos) = angle.sin_cos();
        let folded = sin.abs().atan2(cos.abs());
        let step = FRAC_PI_2 / (DIRECTIONS - 1) as f64;
        let first = ((folded / step) as usize).min(DIRECTIONS - 2);
        // What changes with the angle changes with the square of its sine, near along and across above all.
        let [at, low, high] =
            [folded, step * first as f64, step * (first + 1) as f64].map(|a| a.sin().powi(2));
        let share = ((at - low) / (high - low)).clamp(0.0, 1.0);
        Heading { along: cos * cos, across: sin * sin, first, share }
    }
}

/// Whether both ends are free: then its factors grow as `1 / length` as a wall gets shorter.
fn by_logarithm(support: Support) -> bool {
    matches!(support, Support::FreeInTheMiddle | Support::FreeAtAnEnd)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::proof::wall::factors;
    use crate::shop::Wood;

    #[test]
    fn what_is_looked_up_is_what_is_worked_out() {
        let mut worst = 0.0f64;
        for id in ["basswood_american", "oak_white", "cedar_northern_white"] {
            let ratios = Wood::find(id).unwrap().elastic_ratios().0;
            for sawn in [Sawn::Flat, Sawn::Quarter] {
                let plates = Plates::new(&ratios, sawn);
                for degrees in [0.0f64, 2.5, 17.0, 45.0, 71.0, 90.0, 135.0, 180.0] {
                    for length in [0.05, 0.3, 0.77, 1.9, 4.4, 30.0, f64::INFINITY] {
                        for support in Support::ALL {
                            let angle = degrees.to_radians();
                            let exact = factors(&ratios.plate(sawn, angle), support, length);
                            let found = plates.factors(&Heading::of(angle), support, length);
                            for (found, exact) in [
                                (found.root, exact.root),
                                (found.end, exact.end),
                                (found.deflection, exact.deflection),
                            ] {
                                // What is nearly nothing never governs: the other factors are tenths.
                                if exact > 0.05 {
                                    let off = (found / exact - 1.0).abs();
                                    worst = worst.max(off);
                                } else {
                                    assert!(
                                        (found - exact).abs() < 0.008,
                                        "{id} {degrees} {length} {support:?}"
                                    );
                                }
                            }
                        }
                    }
                }
            }
        }
        // What is off most is the end of a wall with one tie, in the steep fall between two lengths.
        assert!(worst < 0.08, "{worst}");
    }
}
