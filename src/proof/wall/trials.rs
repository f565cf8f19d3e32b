//! What a shop's own walls say: how far the limits are off, and how much walls scatter.
//!
//! Each wall that was carved gives a trial: how thick it was over the limit it had, and whether it held. Walls break
//! at a thickness whose logarithm scatters about that of the limit, so a wall holds with the chance
//! `Phi((ln ratio - m) / sigma)`: a probit with two parameters. `m` is how far the limits are off, as a logarithm of
//! thickness; the cutter's constant is off by `2 m`, for thickness goes with the root of the push.
//!
//! Before any trial `m` lies about nothing and `sigma` about [`STARTING_SCATTER`], each with a spread that is a round
//! value of our own: the starting walls are round values themselves, and may well be off by a third. What comes after
//! is worked out on a grid, by Bayes' rule, so the same trials give the same answer to the bit, in whatever order they
//! are added up.

use super::normal;

/// How the logarithm of the thickness at which a wall breaks scatters from wall to wall, to start with: tension
/// strength across the grain scatters by about 25 % (Wood Handbook, from memory), and thickness goes with its root;
/// the rest is the cut's. A round value of our own.
pub const STARTING_SCATTER: f64 = 0.18;

/// How far off the starting limits may be: the spread of `m`. A round value of our own.
const SPREAD: f64 = 0.35;
/// The spread of the logarithm of the scatter. A round value of our own.
const SCATTER_SPREAD: f64 = 0.3;

/// The grid: `m` up to this many of its spreads to either side.
const REACH: f64 = 3.5;
const SHIFTS: i32 = 81;
const SCATTERS: i32 = 9;

/// A wall that was carved.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Trial {
    /// Its thickness over the limit it had.
    pub ratio: f64,
    /// Whether it stayed whole.
    pub held: bool,
}

/// What trials come to.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Estimate {
    /// Limits are to be this many times as thick: the middle of what is likely.
    pub factor: f64,
    /// Nine times in ten the factor lies between these.
    pub likely: [f64; 2],
    /// How the logarithm of the thickness at which a wall breaks scatters.
    pub scatter: f64,
}

impl Estimate {
    /// What is known before the first wall is carved.
    pub fn start() -> Estimate {
        Estimate::of(&[])
    }

    /// What these trials come to. A trial costs some 20 microseconds.
    ///
    /// ```
    /// # use spelk::proof::wall::{Estimate, Trial};
    /// let held = |ratio| Trial { ratio, held: true };
    /// let broke = |ratio| Trial { ratio, held: false };
    /// let weak = Estimate::of(&[broke(0.8), broke(1.0), broke(1.2), held(1.5), held(1.8)]);
    /// assert!(weak.factor > 1.1, "walls broke that should have held");
    /// assert!(weak.likely[0] < weak.factor && weak.factor < weak.likely[1]);
    /// ```
    pub fn of(trials: &[Trial]) -> Estimate {
        let shift = |i: i32| (f64::from(i) / f64::from(SHIFTS - 1) * 2.0 - 1.0) * REACH * SPREAD;
        let scatter = |j: i32| {
            let steps = (f64::from(j) / f64::from(SCATTERS - 1) * 2.0 - 1.0) * REACH;
            STARTING_SCATTER * (steps * SCATTER_SPREAD).exp()
        };
        let likelihood = |m: f64, sigma: f64| -> f64 {
            let prior =
                -0.5 * ((m / SPREAD).powi(2) + ((sigma / STARTING_SCATTER).ln() / SCATTER_SPREAD).powi(2));
            let of_trial = |trial: &Trial| {
                let holds = normal((trial.ratio.ln() - m) / sigma);
                // What can hardly be is not impossible: one slip at the bench must not outweigh all else.
                (if trial.held { holds } else { 1.0 - holds }).max(SLIP).ln()
            };
            prior + trials.iter().map(of_trial).sum::<f64>()
        };
        let nodes: Vec<(f64, f64, f64)> = (0..SHIFTS)
            .flat_map(|i| (0..SCATTERS).map(move |j| (shift(i), scatter(j))))
            .map(|(m, sigma)| (m, sigma, likelihood(m, sigma)))
            .collect();
        let most = nodes.iter().map(|node| node.2).fold(f64::NEG_INFINITY, f64::max);
        let weights: Vec<f64> = nodes.iter().map(|node| (node.2 - most).exp()).collect();
        let total: f64 = weights.iter().sum();
        let of_shift: Vec<f64> =
            weights.chunks(SCATTERS as usize).map(|of_one| of_one.iter().sum::<f64>() / total).collect();
        let quantile = |share: f64| quantile(&of_shift, share, shift);
        let log_scatter: f64 =
            nodes.iter().zip(&weights).map(|(node, weight)| node.1.ln() * weight).sum::<f64>() / total;
        Estimate {
            factor: quantile(0.5).exp(),
            likely: [quantile(0.05).exp(), quantile(0.95).exp()],
            scatter: log_scatter.exp(),
        }
    }

    /// The same of the cutter's constant, which goes with the square of thickness: its factor, and between which two
    /// it lies nine times in ten.
    pub fn constant_factor(&self) -> (f64, [f64; 2]) {
        (self.factor.powi(2), self.likely.map(|likely| likely.powi(2)))
    }
}

/// A result that the model thinks less likely than this was noted wrongly. A round value of our own.
const SLIP: f64 = 1e-3;

/// Where a share of the weight lies below, between two nodes in a straight line. Each node's weight lies evenly about
/// it, up to half way to the next.
fn quantile(weights: &[f64], share: f64, at: impl Fn(i32) -> f64) -> f64 {
    let step = at(1) - at(0);
    let mut below = 0.0;
    for (i, &weight) in (0..).zip(weights) {
        if below + weight >= share && weight > 0.0 {
            return at(i) + step * ((share - below) / weight - 0.5);
        }
        below += weight;
    }
    at(i32::try_from(weights.len()).unwrap_or(i32::MAX) - 1)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A fixed sequence of numbers spread evenly from 0 to 1 (a Weyl sequence), turned into normal ones.
    struct Normals(u64);

    impl Normals {
        fn even(&mut self) -> f64 {
            // SplitMix64 (Steele, Lea, Flood 2014), from memory.
            self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
            let mut z = self.0;
            z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
            z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
            ((z ^ (z >> 31)) >> 11) as f64 / (1u64 << 53) as f64
        }

        /// Box and Muller.
        fn next(&mut self) -> f64 {
            let (a, b) = (self.even().max(1e-300), self.even());
            (-2.0 * a.ln()).sqrt() * (std::f64::consts::TAU * b).cos()
        }
    }

    /// A coupon's four ladders of walls, as shares of the limit of each rung.
    const RUNGS: [f64; 10] = [0.3, 0.4, 0.5, 0.6, 0.7, 0.85, 1.0, 1.2, 1.5, 2.0];

    /// A thousand coupons carved with a known constant and scatter: the constant comes back within 5 % in the median,
    /// and nine times in ten the interval holds it.
    #[test]
    fn a_coupon_gives_back_the_constant_it_was_carved_with() {
        for constant in [0.7, 1.0, 1.5f64] {
            let mut random = Normals(27);
            let mut found = Vec::new();
            let mut covered = 0;
            for _ in 0..1000 {
                let trials: Vec<Trial> = (0..4)
                    .flat_map(|_| RUNGS)
                    .map(|ratio| Trial {
                        ratio,
                        held: ratio.ln() > 0.5 * constant.ln() + 0.18 * random.next(),
                    })
                    .collect();
                let (middle, [low, high]) = Estimate::of(&trials).constant_factor();
                found.push(middle);
                covered += usize::from(low <= constant && constant <= high);
            }
            found.sort_by(f64::total_cmp);
            let median = found[500];
            assert!((median / constant - 1.0).abs() < 0.05, "{median}, not {constant}");
            assert!((870..=960).contains(&covered), "{constant}: {covered} of 1000");
        }
    }

    #[test]
    fn many_walls_give_back_the_scatter_too() {
        let mut random = Normals(3);
        for scatter in [0.12, 0.3] {
            let trials: Vec<Trial> = (0..400)
                .map(|_| {
                    let ratio = 0.5 + 1.2 * random.even();
                    Trial { ratio, held: ratio.ln() > scatter * random.next() }
                })
                .collect();
            let found = Estimate::of(&trials);
            assert!((found.scatter / scatter - 1.0).abs() < 0.2, "{} of {scatter}", found.scatter);
            assert!((found.factor - 1.0).abs() < 0.08, "{}", found.factor);
        }
    }

    #[test]
    fn before_the_first_wall_nothing_is_changed() {
        let start = Estimate::start();
        assert!((start.factor - 1.0).abs() < 1e-9 && (start.scatter / STARTING_SCATTER - 1.0).abs() < 1e-9);
        // 1.645 spreads (standard normal table).
        assert!((start.likely[1].ln() / (1.645 * SPREAD) - 1.0).abs() < 0.01, "{start:?}");
    }

    #[test]
    fn one_slip_at_the_bench_moves_little() {
        let good: Vec<Trial> = RUNGS.iter().map(|&ratio| Trial { ratio, held: ratio > 1.0 }).collect();
        let mut slipped = good.clone();
        slipped.push(Trial { ratio: 6.0, held: false });
        let (before, after) = (Estimate::of(&good), Estimate::of(&slipped));
        assert!((after.factor / before.factor - 1.0).abs() < 0.1, "{} {}", before.factor, after.factor);
    }
}
