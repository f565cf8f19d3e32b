//! Tests by capability, gathered in one binary so that they link once.

mod cli;
mod corpora;
mod design_svg;
mod fit;
mod picture;
mod proof;
mod support;
mod widths;
#[cfg(feature = "window")]
mod window;
