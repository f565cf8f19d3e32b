//! What the sheets say: on paper, in pictures and in the proof as text.

pub mod bench;
pub mod coupon;
pub mod folder;
pub mod handout;
pub mod options;
pub mod paper;
pub mod picture;
pub mod proof_text;
pub mod template;
