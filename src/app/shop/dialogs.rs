//! Which dialogs of the shop are open.

use crate::app::shop::coupon::CouponDialog;
use crate::app::shop::cutters::CutterDialog;
use crate::app::shop::machines::MachineDialog;
use crate::app::shop::rack::RackDialog;
use crate::app::shop::woods::WoodDialog;

/// The dialogs of the shop that are open; each is gone with what was typed in it when it closes.
#[derive(Default)]
pub(crate) struct ShopDialogs {
    pub(crate) cutters: Option<CutterDialog>,
    pub(crate) woods: Option<WoodDialog>,
    pub(crate) machines: Option<MachineDialog>,
    /// How to measure a machine.
    pub(crate) measuring_open: bool,
    pub(crate) rack: Option<RackDialog>,
    pub(crate) coupon: Option<CouponDialog>,
}
