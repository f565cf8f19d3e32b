//! The dialogs of what the shop has: cutters, woods, machines, the rack and the test coupon.

pub(crate) mod coupon;
pub(crate) mod cutters;
pub(crate) mod dialogs;
pub(crate) mod machines;
pub(crate) mod rack;
pub(crate) mod woods;
