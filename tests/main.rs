//! Tests by capability, gathered in one binary so that they link once.

#![expect(clippy::unwrap_used, reason = "a test that cannot go on says so by stopping")]

mod cli;
mod corpora;
mod coupon;
mod cutter;
mod design_svg;
mod fit;
mod mend;
mod paper;
mod photo;
mod picture;
mod price;
mod proof;
mod rack;
mod readme;
mod shop;
mod sizes;
mod stock;
mod support;
mod widths;
#[cfg(feature = "window")]
mod window;
mod wood;
