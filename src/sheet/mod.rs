//! From a proof to pictures and files.

pub mod carrier;
pub mod coupon;
pub mod json;
pub mod lesson;
mod lettering;
pub mod outline;
pub mod photo;
pub mod picture;
pub mod text;
