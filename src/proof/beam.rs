//! Bending of a board under its own weight.
//!
//! Formulas: *Wood Handbook*, USDA Forest Products Laboratory, FPL-GTR-282 (2021), eq. 9-2 and Table 9-1
//! (factors from memory), and the overhanging beams of the AISC tables (from memory). They hold in any
//! consistent units; the board's own are newtons, millimetres and MPa. Sag over years, which may reach
//! about twice the first (Wood Handbook ch. 5), is not meant here: a carve takes hours.

use crate::job::Job;

/// Standard gravity, metres a second each second.
const GRAVITY: f64 = 9.806_65;

/// How a beam is held and loaded.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Loading {
    /// Its load spread over its length, held up at both ends.
    SpreadOnTwoSupports,
    /// One load in its middle, held up at both ends.
    MiddleOnTwoSupports,
    /// Its load spread over its length, clamped at one end.
    SpreadOnCantilever,
    /// One load at its free end, clamped at the other.
    EndOnCantilever,
}

impl Loading {
    /// Bending and shear factors `kb` and `ks`.
    fn factors(self) -> [f64; 2] {
        match self {
            Loading::SpreadOnTwoSupports => [5.0 / 384.0, 1.0 / 8.0],
            Loading::MiddleOnTwoSupports => [1.0 / 48.0, 1.0 / 4.0],
            Loading::SpreadOnCantilever => [1.0 / 8.0, 1.0 / 2.0],
            Loading::EndOnCantilever => [1.0 / 3.0, 1.0],
        }
    }

    /// The greatest deflection `kb W L^3 / (E I) + ks W L / (G A')` under a whole load `W`, with
    /// `bending` the stiffness `E I` and `shear` the stiffness `G A'` (infinite to leave shear out).
    ///
    /// ```
    /// # use spelk::proof::beam::Loading;
    /// assert_eq!(Loading::EndOnCantilever.deflection(3.0, 2.0, 4.0, f64::INFINITY), 2.0);
    /// ```
    pub fn deflection(self, load: f64, length: f64, bending: f64, shear: f64) -> f64 {
        let [kb, ks] = self.factors();
        kb * load * length.powi(3) / bending + ks * load * length / shear
    }
}

/// A board as a beam on the flat: its weight for each unit of length, and its bending stiffness.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Strip {
    /// Weight for each unit of length.
    pub weight: f64,
    /// `E I`; infinite where the wood's stiffness is not known.
    pub bending: f64,
}

impl Strip {
    /// A job's board, newtons and millimetres; `None` where the wood's density or stiffness has not been
    /// published.
    pub fn of(job: &Job) -> Option<Strip> {
        let modulus = job.wood().modulus?;
        let (width, thickness) = (job.board().width.get(), job.board().thickness.get());
        Some(Strip { weight: weight(job)?, bending: modulus * width * thickness.powi(3) / 12.0 })
    }

    /// How far the free end of a cantilever this long sags: `w l^4 / (8 E I)`.
    pub fn cantilever_sag(&self, length: f64) -> f64 {
        Loading::SpreadOnCantilever.deflection(self.weight * length, length, self.bending, f64::INFINITY)
    }

    /// How far the tip of an overhang `a` past one of two supports `l` apart sags, with the strip loaded
    /// over its whole length: `w a (4 a^2 l - l^3 + 3 a^3) / (24 E I)`. Negative where it rises.
    pub fn overhang_sag(&self, a: f64, l: f64) -> f64 {
        self.weight * a * (4.0 * a * a * l - l.powi(3) + 3.0 * a.powi(3)) / (24.0 * self.bending)
    }
}

/// What a job's board weighs, newtons for each millimetre of length; `None` where its density is not
/// known.
pub fn weight(job: &Job) -> Option<f64> {
    let density = job.wood().density_at_12()?;
    let section = job.board().width.get() * job.board().thickness.get();
    Some(density * 1e-9 * section * GRAVITY)
}

/// The force on the support beyond which nothing overhangs, of a strip of this weight on two supports
/// `span` apart that reaches `near` past that support and `far` past the other. Negative where the strip
/// lifts off it: moments about the other support, `w (near + span + far)(near + span - far) / (2 span)`.
pub fn support_force(weight: f64, span: f64, near: f64, far: f64) -> f64 {
    weight * (near + span + far) * (near + span - far) / (2.0 * span)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn close(found: f64, expected: f64, digits: f64) {
        assert!((found - expected).abs() <= digits, "{found}, not {expected}");
    }

    /// Wood Handbook eq. 9-2, worked example of a red oak shelf, read in a secondary source; inch-pound.
    #[test]
    fn a_red_oak_shelf_sags_as_in_the_handbook() {
        let (bending, shear) = (2_002_000.0 * 0.395_507_81, 162_162.0 * 7.031_25);
        close(Loading::SpreadOnTwoSupports.deflection(42.1875, 36.0, bending, shear), 0.032_534_1, 1e-7);
    }

    /// Eastern white pine 3/4 x 7 1/4 in, 24.47 lb/ft3, E 1.24e6: beam theory, computed by formula
    /// outside this program; inch-pound.
    #[test]
    fn a_pine_boards_free_end_sags_as_beams_do() {
        let strip = Strip { weight: 0.0770, bending: 1.24e6 * 0.254_883 };
        // The weight is given to three digits, the sag to five.
        close(strip.cantilever_sag(24.0), 0.010_10, 1e-5);
        close(strip.cantilever_sag(36.0), 0.051_15, 2e-5);
        close(strip.cantilever_sag(48.0), 0.161_66, 5e-5);
        close(strip.overhang_sag(36.0, 12.0), 0.073_25, 5e-5);
        // AISC beam tables, from memory: a load of 1 lb at the free end.
        close(Loading::EndOnCantilever.deflection(1.0, 36.0, strip.bending, f64::INFINITY), 0.049_21, 1e-5);
    }

    /// The same board, 36 in past supports 12 in apart. With the load on the overhang alone the inner
    /// support carries -w a^2 / (2 l) = -4.158 lb (AISC, from memory); what lies between the supports
    /// puts half its weight back on it.
    #[test]
    fn a_long_overhang_lifts_the_far_support() {
        let weight = 0.0770;
        let overhang_alone = -weight * 36.0 * 36.0 / 24.0;
        close(overhang_alone, -4.158, 1e-9);
        close(support_force(weight, 12.0, 0.0, 36.0), overhang_alone + weight * 12.0 / 2.0, 1e-9);
        close(support_force(weight, 12.0, 0.0, 12.0), 0.0, 1e-12);
        close(support_force(weight, 12.0, 5.0, 5.0), weight * 22.0 / 2.0, 1e-12);
    }
}
