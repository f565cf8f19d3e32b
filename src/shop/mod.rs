//! What a shop owns: boards, the woods they are cut from, cutters, and the carving machine.
//!
//! The built-in entries are compiled in, so the program runs from any folder with nothing beside it.
//! A shop's own live in the user's config folder and come before them.

mod blemish;
mod board;
mod cutter;
mod elastic;
mod keep;
mod lumber;
mod machine;
mod money;
mod movement;
mod photo;
mod prices;
mod problem;
mod rack;
mod stock;
mod weights;
mod wood;

pub use blemish::{Blemish, BlemishKind, BlemishShape};
pub(crate) use board::WrittenBoard;
pub use board::{Board, BoardPhoto};
pub use cutter::{Cutter, CutterPart, CutterShape, Experience, ReferenceWall, ShopsWood, cutters};
pub use elastic::{ElasticRatios, Plate};
pub use keep::{Aside, KeepError, own_id};
pub use lumber::{BOARD_FOOT, StockSize, board_feet, dressed_size, surfaced_size};
pub use machine::{
    BoardEdge, BoardEnd, FeedDirection, MEASURING, Machine, MachinePart, Measure, how_to_measure, machines,
};
pub use money::{Grouping, Money, MoneyPlace, SignAt};
pub use movement::{Climate, Sawn};
pub use photo::{MOST_PICTURE_BYTES, MOST_PIXELS, Photo, PhotoError, PhotoNotice, photo_from_sheet};
pub use prices::{FeetRule, PricePart, Prices, area_unit, show_area};
pub use problem::{Problem, RangeUnit, ShopNotice, Wrong};
pub use rack::{
    MOST_PRICE, RackBoard, RackError, change_rack, change_rack_file, open_rack, open_rack_file, rack_file,
    read_rack_file, save_rack, save_rack_file,
};
pub use stock::{Check, Planed, StockCheck};
pub use weights::Weights;
pub use wood::{Wood, WoodPart, woods};

use crate::whole_file::{self, ReadError};
use serde::de::DeserializeOwned;
use std::path::{Path, PathBuf};

/// Everything that can be chosen from: the shop's own entries, then the built-in ones.
#[derive(Clone, Debug, PartialEq)]
pub struct Shop {
    /// Woods.
    pub woods: Vec<Wood>,
    /// Cutters.
    pub cutters: Vec<Cutter>,
    /// Machines.
    pub machines: Vec<Machine>,
    /// What it charges.
    pub prices: Prices,
}

impl Shop {
    /// The built-in entries alone.
    pub fn built_in() -> Shop {
        Shop {
            woods: woods().to_vec(),
            cutters: cutters().to_vec(),
            machines: machines().to_vec(),
            prices: Prices::default(),
        }
    }

    /// The shop's own entries from `woods.json`, `cutters.json` and `machines.json` in a folder (each a
    /// list, each optional) before the built-in ones; an own entry hides the built-in one of its id. And
    /// its own `prices.json`; where that does not say how money is written, it is as `usual`.
    /// A file that cannot be used is told of and passed over.
    pub fn open(folder: &Path, usual: &Money) -> (Shop, Vec<ShopNotice>) {
        let built_in = Shop::built_in();
        let mut notices = Vec::new();
        let shop = Shop {
            woods: own_checked_first(
                folder,
                "woods.json",
                built_in.woods,
                |wood| &wood.id,
                |wood| Some((wood.name.clone(), wood.problems().first()?.wrong)),
                &mut notices,
            ),
            cutters: own_checked_first(
                folder,
                "cutters.json",
                built_in.cutters,
                |cutter| &cutter.id,
                |cutter| Some((cutter.name.clone(), cutter.problems().first()?.wrong)),
                &mut notices,
            ),
            machines: own_checked_first(
                folder,
                "machines.json",
                built_in.machines,
                |machine| &machine.id,
                |machine| Some((machine.name.clone(), machine.problems().first()?.wrong)),
                &mut notices,
            ),
            prices: keep::own_prices(folder, usual, &mut notices),
        };
        (shop, notices)
    }

    /// The user's shop, from the platform's config folder; where its prices do not say how money is
    /// written, it is as `usual`.
    pub fn of_user(usual: &Money) -> (Shop, Vec<ShopNotice>) {
        let Some(folder) = config_folder() else {
            let mut shop = Shop::built_in();
            shop.prices.money.clone_from(usual);
            return (shop, Vec::new());
        };
        Shop::open(&folder, usual)
    }

    /// The wood of this id, or of the first name or id that starts with `id`, in any case.
    pub fn wood(&self, id: &str) -> Option<&Wood> {
        let wanted = id.to_lowercase();
        let starts = |text: &str| text.to_lowercase().starts_with(&wanted);
        self.woods
            .iter()
            .find(|wood| wood.id == wanted)
            .or_else(|| self.woods.iter().find(|wood| starts(&wood.name) || starts(&wood.id)))
            .filter(|_| !wanted.is_empty())
    }

    /// The cutter of this id.
    pub fn cutter(&self, id: &str) -> Option<&Cutter> {
        self.cutters.iter().find(|cutter| cutter.id.eq_ignore_ascii_case(id))
    }

    /// The machine of this id.
    pub fn machine(&self, id: &str) -> Option<&Machine> {
        self.machines.iter().find(|machine| machine.id.eq_ignore_ascii_case(id))
    }
}

/// Where the user's own things live, by the platform's convention; `None` where there is no home.
pub fn config_folder() -> Option<PathBuf> {
    directories::ProjectDirs::from("", "", "spelk").map(|dirs| dirs.config_dir().to_owned())
}

/// Own entries of a file before the built-in ones. Own entries with something `wrong` about them (their name,
/// and what) are passed over with a notice.
fn own_checked_first<T: DeserializeOwned>(
    folder: &Path,
    file: &str,
    built_in: Vec<T>,
    id: impl Fn(&T) -> &String,
    wrong: impl Fn(&T) -> Option<(String, Wrong)>,
    notices: &mut Vec<ShopNotice>,
) -> Vec<T> {
    let path = folder.join(file);
    let mut own: Vec<T> = match whole_file::read(&path, keep::MOST_BYTES) {
        Err(ReadError::Disk(error)) if error.kind() == std::io::ErrorKind::NotFound => return built_in,
        Err(error) => {
            notices.push(ShopNotice::Unreadable { path, error });
            return built_in;
        }
        Ok(bytes) => match serde_json::from_slice(&bytes) {
            Ok(own) => own,
            Err(error) => {
                notices.push(ShopNotice::Damaged { path, error });
                return built_in;
            }
        },
    };
    own.retain(|entry| {
        let Some((name, wrong)) = wrong(entry) else { return true };
        notices.push(ShopNotice::WrongEntry { path: path.clone(), name, wrong });
        false
    });
    let hidden = |entry: &T| own.iter().any(|mine| id(mine) == id(entry));
    let kept: Vec<T> = built_in.into_iter().filter(|entry| !hidden(entry)).collect();
    own.extend(kept);
    own
}
