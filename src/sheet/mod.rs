//! From a proof to pictures and files.

pub mod carrier;
pub mod cautions;
pub mod coupon;
pub mod dxf;
pub mod json;
mod lettering;
pub mod outline;
pub mod pdf;
pub mod photo;
pub mod picture;
pub mod table;
pub mod text;

use crate::job::Job;
use crate::proof::Measured;

/// Minutes a job takes at the machine, where they can be worked out: `None` is shown as not worked out.
/// The one place where sheets, sizes and prices get their times from.
pub fn minutes(_job: &Job, _measured: &Measured) -> Option<f64> {
    None
}
