//! What the sheets say: on paper, in pictures and in the proof as text.

pub mod coupon;
pub mod handout;
pub mod paper;
pub mod template;
