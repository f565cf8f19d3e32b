//! From a proof to pictures and files.

pub mod coupon;
pub mod json;
pub mod outline;
pub mod text;
