use super::{Said, compare, say};
use spelk::job::SettingError;
use spelk::proof::sizes::{SizeName, SizesError};
use spelk::shop::{KeepError, RackError, Wrong};
use spelk::units::{LengthError, Mm};
use spelk::words::errors;
use std::fmt::Display;
use std::io::{Error, ErrorKind};

#[test]
fn errors() {
    let mut said = Said::default();
    let kinds = [
        ErrorKind::NotFound,
        ErrorKind::PermissionDenied,
        ErrorKind::ReadOnlyFilesystem,
        ErrorKind::StorageFull,
        ErrorKind::IsADirectory,
        ErrorKind::NotADirectory,
        ErrorKind::InvalidData,
    ];
    for kind in kinds {
        say!(said, errors::disk(&Error::from(kind)));
    }
    say!(said, errors::disk(&Error::other("Text file busy (os error 26)")));
    let mut say = |name: &str, error: &dyn Display| said.line(name, error);
    let typed = || "12 ells".to_owned();
    say("LengthError::Missing", &LengthError::Missing);
    say("LengthError::NotALength", &LengthError::NotALength(typed()));
    say("LengthError::DivideByZero", &LengthError::DivideByZero("1/0".to_owned()));
    say("LengthError::NotABoard", &LengthError::NotABoard(typed()));
    let path = || "cutters.json".into();
    let disk = || Error::from(ErrorKind::PermissionDenied);
    let json = || serde_json::from_str::<u8>("{").unwrap_err();
    say("KeepError::Wrong", &KeepError::Wrong { name: "Old faithful".to_owned(), wrong: Wrong::NoSource });
    say("KeepError::Unreadable", &KeepError::Unreadable { path: path(), error: disk() });
    say("KeepError::Damaged", &KeepError::Damaged { path: path(), error: json() });
    say("KeepError::Unwritable", &KeepError::Unwritable { path: path(), error: disk() });
    let path = || "boards.json".into();
    say("RackError::Unreadable", &RackError::Unreadable { path: path(), error: disk() });
    say("RackError::Damaged", &RackError::Damaged { path: path(), error: json() });
    say("RackError::NoSize", &RackError::NoSize { path: path(), board: "oak offcut".to_owned() });
    say("RackError::Unwritable", &RackError::Unwritable { path: path(), error: disk() });
    say("SizesError::None", &SizesError::None);
    say("SizesError::TooMany", &SizesError::TooMany { count: 90 });
    say("SizesError::NotASize", &SizesError::NotASize { text: typed() });
    let name = SizeName::Given("0%".to_owned());
    say("SizesError::NoSuchSize", &SizesError::NoSuchSize { name });
    let (length, least) = (Mm::new(-1.0), Mm::new(0.001));
    say("SettingError::Length", &SettingError::Length { setting: "depth", length, least });
    say("SettingError::Moisture", &SettingError::Moisture { moisture: 301.0 });
    say("SettingError::Machine", &SettingError::Machine { setting: "hold-down", value: -1.0 });
    say("SettingError::Feed", &SettingError::Feed { setting: "feed", feed: 0.0 });
    say("SettingError::Factor", &SettingError::Factor { factor: 0.0 });
    compare("errors", &said);
}
