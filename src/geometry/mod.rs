//! Plane geometry: clean regions, the widths of their walls and grooves. No files, no wood, no screen.
//!
//! Points are [`glam::DVec2`] in design space: millimetres, y up. Kernels use bare `f64`
//! millimetres throughout this room.
//!
//! | folder | holds |
//! |---|---|
//! | `region` | outlines cleaned and snapped to an integer grid, and what is inside them |
//! | [`nofit`] | where one outline may stand beside another |
//! | [`raster`] | regions on a lattice of cells, and distances between those cells |
//! | [`voronoi`] | the Voronoi diagram of an outline |
//! | [`widths`] | the medial axis, and the walls, grooves and corners it measures |

mod cover;
mod halves;
mod homography;
mod hull;
mod lattice;
pub mod nofit;
pub mod raster;
mod rect;
mod region;
mod sample;
mod segment;
pub mod voronoi;
pub mod widths;

pub use cover::CoverTable;
pub(crate) use halves::{Half, Halves};
pub use homography::Homography;
pub use hull::{convex_hull, grown_hull, shrunk_hull};
pub use lattice::BoxLattice;
pub use raster::{Lattice, spans};
pub use rect::Rect;
pub use region::{FillRule, Grid, Locator, Region, Ring, is_inside};
pub(crate) use sample::sampled_pairs;
pub(crate) use segment::{near_segment, nearest_on, segment_distance, segments_cross};
pub use widths::{Unreached, UnreachedSpot};
