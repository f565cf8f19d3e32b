//! Tests by capability, gathered in one binary so that they link once.

#![expect(clippy::unwrap_used, reason = "a test that cannot go on says so by stopping")]

mod advice;
mod alone;
mod arrange;
mod carvings;
mod cli;
mod corpora;
mod coupon;
mod cutter;
mod design_dxf;
mod design_svg;
mod docs;
mod edits;
mod elements;
mod fault;
mod figures;
mod fit;
mod hard;
mod hostile;
mod house;
mod lesson;
mod lettering;
mod mend;
mod mutations;
mod outputs;
mod paper;
mod photo;
mod picture;
mod price;
mod printed;
mod proof;
#[cfg(feature = "window")]
mod quit;
mod rack;
mod reach;
mod recovery;
mod relief;
mod rooms;
mod round_trip;
#[cfg(feature = "window")]
mod screenshots;
mod shop;
mod sizes;
mod stock;
mod stops;
mod support;
mod trace;
mod values;
mod wall;
mod widths;
#[cfg(feature = "window")]
mod window;
#[cfg(feature = "window")]
mod window_advice;
#[cfg(feature = "window")]
mod window_board;
#[cfg(feature = "window")]
mod window_daily;
#[cfg(feature = "window")]
mod window_desk;
#[cfg(feature = "window")]
mod window_elements;
#[cfg(feature = "window")]
mod window_relief;
#[cfg(feature = "window")]
mod window_sizes;
#[cfg(feature = "window")]
mod window_tracing;
mod wood;
mod words;
