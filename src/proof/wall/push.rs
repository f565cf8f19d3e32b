//! How hard a cutter pushes at a wall: `P = K w g(f) c`.
//!
//! - `w` is the height of edge engaged: the depth of a pass, and no more than the depth of the cut.
//! - `g(f) = (f_e + f) / (f_e + f_0)` grows with the feed per tooth `f` from an edge term that never vanishes.
//! - `c` is the wood's resistance to cutting: its density over that of basswood, both at 12 % moisture content.
//! - `K` is the shop's one constant, newtons for each millimetre of edge; it comes from a wall that survived.
//!
//! # Why this law
//!
//! A force for each unit of engaged edge, linear in chip thickness with an intercept, is the simplest that agrees
//! with what is published. What we could read of it (abstracts and opening pages; of none the tables):
//!
//! - M. Mandić, B. Porankiewicz, G. Danon 2015, `BioResources` 10(3), 5489 (oak, peripheral milling): the main force
//!   rises with feed per tooth and depth of cut, and with hardness, bending strength and modulus of the piece.
//! - P. Iskra, R. E. Hernández 2012, Wood and Fiber Science (sugar maple, straight-knife milling): the parallel
//!   force rises with chip thickness along the cut; the normal force, which pushes the wall, with the wavelength
//!   (the feed per knife), and with the depth of cut to a lesser degree.
//! - F. Eyma and others 2005, Ann. For. Sci. 62, 441 (routing): two woods of one density may need quite different
//!   forces, and two of different densities nearly the same.
//! - D. Chuchała and others 2014, `BioResources` 9(3), 5349 (pine, sawing): density alone is a rather rough estimate.
//!
//! So `c` by density is rough, and known to be; nothing better is published for the woods here, and the shop's own
//! record corrects it. That the line has an intercept is from memory (E. Kivimaa 1950); where it meets the axis,
//! [`EDGE_TERM`], is a round value of our own.

use crate::shop::Wood;
use crate::units::Mm;

/// The feed per tooth at which the edge alone pushes as hard as the chip: a round value of our own, of the size of
/// the chips themselves.
pub const EDGE_TERM: Mm = Mm::new(0.1);

/// The feed per tooth that `K` is given at: a round value of our own.
pub const USUAL_FEED: Mm = Mm::new(0.05);

/// The density `K` is given at, kg per cubic metre: basswood's at 12 %.
pub const USUAL_DENSITY: f64 = 414.0;

/// A cut beside a wall.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Cut {
    /// The depth of a pass.
    pub pass: Mm,
    /// The feed per tooth.
    pub feed_per_tooth: Mm,
}

impl Cut {
    /// How much edge is engaged beside a wall so tall.
    pub fn edge(self, height: Mm) -> Mm {
        self.pass.min(height)
    }

    /// How the push changes with the feed: `g`.
    pub fn by_feed(self) -> f64 {
        (EDGE_TERM + self.feed_per_tooth) / (EDGE_TERM + USUAL_FEED)
    }

    /// The push, newtons, of a cutter whose constant is `K`, on a wall so tall in wood of this resistance.
    pub fn push(self, constant: f64, height: Mm, resistance: f64) -> f64 {
        constant * self.edge(height).get() * self.by_feed() * resistance
    }
}

/// The wood's resistance to cutting, `c`. A wood whose density nobody knows is taken to be as dense as basswood.
pub fn resistance(wood: &Wood) -> f64 {
    wood.density_at_12().unwrap_or(USUAL_DENSITY) / USUAL_DENSITY
}

#[cfg(test)]
mod tests {
    use super::*;

    const CUT: Cut = Cut { pass: Mm::new(1.5), feed_per_tooth: Mm::new(0.04) };

    #[test]
    fn half_the_pass_is_half_the_push_and_half_the_feed_is_less_than_half_of_that() {
        let push = |cut: Cut| cut.push(2.0, Mm::new(3.0), 1.0);
        let half_pass = push(Cut { pass: Mm::new(0.75), ..CUT });
        assert!((half_pass / push(CUT) - 0.5).abs() < 1e-12);
        let half_feed = push(Cut { feed_per_tooth: Mm::new(0.02), ..CUT }) / push(CUT);
        assert!(half_feed > 0.75 && half_feed < 0.95, "{half_feed}");
        let standing = push(Cut { feed_per_tooth: Mm::ZERO, ..CUT }) / push(CUT);
        assert!(standing > 0.6, "the edge term never vanishes: {standing}");
    }

    #[test]
    fn no_more_edge_is_engaged_than_the_wall_is_tall() {
        assert_eq!(CUT.edge(Mm::new(1.0)), Mm::new(1.0));
        assert_eq!(CUT.edge(Mm::new(9.0)), Mm::new(1.5));
    }

    #[test]
    fn denser_wood_pushes_back_in_proportion() {
        let of = |id| resistance(Wood::find(id).unwrap());
        assert!((of("basswood_american") - 1.0).abs() < 1e-3);
        // Wood Handbook: specific gravity .68 and .37 at 12 %.
        assert!((of("oak_white") - 0.68 / 0.37).abs() < 0.003, "{}", of("oak_white"));
    }
}
