use super::{Said, compare, say};
use image::ImageError;
use image::error::{DecodingError, ImageFormatHint};
use spelk::arrange::{Impossible, NamesError};
use spelk::design::lettering::LetteringError;
use spelk::design::{DesignError, NotAColor};
use spelk::job::saved::{Damage, OpenError, SaveError};
use spelk::job::{Quantity, Rejected};
use spelk::proof::rack::UnusableBoard;
use spelk::proof::record::{RecordError, RecordFileError};
use spelk::proof::sizes::{SizeName, SizesError};
use spelk::shop::{Check, KeepError, PhotoError, RackError, Wrong};
use spelk::units::{LengthError, Mm};
use spelk::whole_file::{ReadError, WriteError};
use spelk::words::errors;
use std::fmt::Display;
use std::io::{Error, ErrorKind};

#[test]
#[expect(clippy::too_many_lines, reason = "one line a sentence")]
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
    say("ReadError::NotAFile", &ReadError::NotAFile);
    say("ReadError::TooLarge", &ReadError::TooLarge { most: 64 << 20 });
    say("ReadError::Disk", &ReadError::Disk(Error::from(ErrorKind::NotFound)));
    say("WriteError::Exists", &WriteError::Exists);
    say("WriteError::ReadOnly", &WriteError::ReadOnly);
    say("WriteError::NotAFile", &WriteError::NotAFile);
    say("WriteError::Device", &WriteError::Device);
    say("WriteError::HeldOpen", &WriteError::HeldOpen);
    say("WriteError::Disk", &WriteError::Disk(Error::from(ErrorKind::StorageFull)));
    say("LengthError::Missing", &LengthError::Missing);
    say("LengthError::NotALength", &LengthError::NotALength(typed()));
    say("LengthError::DivideByZero", &LengthError::DivideByZero("1/0".to_owned()));
    say("LengthError::NotABoard", &LengthError::NotABoard(typed()));
    let path = || "cutters.json".into();
    let disk = || Error::from(ErrorKind::PermissionDenied);
    let json = || serde_json::from_str::<u8>("{").unwrap_err();
    say("KeepError::Wrong", &KeepError::Wrong { name: "Old faithful".to_owned(), wrong: Wrong::NoSource });
    say("KeepError::Unreadable", &KeepError::Unreadable { path: path(), error: disk().into() });
    say("KeepError::Damaged", &KeepError::Damaged { path: path(), error: json() });
    say("KeepError::Unwritable", &KeepError::Unwritable { path: path(), error: disk().into() });
    say("SaveError::Unwritable", &SaveError::Unwritable(disk().into()));
    say("NotAColor", &NotAColor);
    say("OpenError::Unreadable", &OpenError::Unreadable(disk().into()));
    say("OpenError::NotAJob", &OpenError::NotAJob);
    say("OpenError::UnknownVersion", &OpenError::UnknownVersion { found: 9 });
    say("OpenError::UnknownVersion", &OpenError::UnknownVersion { found: 0 });
    say("OpenError::Damaged", &OpenError::Damaged(Damage::NoElements));
    let element = || "letters".to_owned();
    say("Damage::Text", &Damage::Text(json()));
    say("Damage::Grid", &Damage::Grid);
    say("Damage::NoElements", &Damage::NoElements);
    say("Damage::Page", &Damage::Page);
    say("Damage::Sharpness", &Damage::Sharpness);
    say("Damage::TooManyPoints", &Damage::TooManyPoints);
    say("Damage::Tangled", &Damage::Tangled);
    say("Damage::NoName", &Damage::NoName);
    say("Damage::OneName", &Damage::OneName { element: element() });
    say("Damage::Overlap", &Damage::Overlap { one: element(), other: "border".to_owned() });
    say("Damage::OffGrid", &Damage::OffGrid { element: element() });
    say("Damage::NotPoints", &Damage::NotPoints { element: element() });
    say("Damage::NoArea", &Damage::NoArea { element: element() });
    say("Damage::Value", &Damage::Value(Box::new(Rejected::NoSuchBlemish)));
    let path = || "boards.json".into();
    say("RackError::Unreadable", &RackError::Unreadable { path: path(), error: disk().into() });
    let record = csv::Error::from(Error::new(ErrorKind::InvalidData, "no number"));
    say("RecordError::Damaged", &RecordError::Damaged(record));
    let path_of_record = || "record.csv".into();
    let unreadable = RecordFileError::Unreadable { path: path_of_record(), error: disk().into() };
    say("RecordFileError::Unreadable", &unreadable);
    let damaged = RecordFileError::Damaged { path: path_of_record(), error: RecordError::Wrong { line: 3 } };
    say("RecordFileError::Damaged", &damaged);
    let unwritable = RecordFileError::Unwritable { path: path_of_record(), error: disk().into() };
    say("RecordFileError::Unwritable", &unwritable);
    say("RecordError::Wrong", &RecordError::Wrong { line: 3 });
    say("RackError::Damaged", &RackError::Damaged { path: path(), error: json() });
    say("RackError::NoSize", &RackError::NoSize { path: path(), board: "oak offcut".to_owned() });
    say("RackError::NoPrice", &RackError::NoPrice { path: path(), board: "oak offcut".to_owned() });
    say("RackError::Unwritable", &RackError::Unwritable { path: path(), error: disk().into() });
    say("PhotoError::FlatCorners", &PhotoError::FlatCorners);
    say("PhotoError::CrossedCorners", &PhotoError::CrossedCorners);
    say("PhotoError::NotRead", &PhotoError::NotRead(disk().into()));
    say(
        "PhotoError::Unreadable",
        &PhotoError::Unreadable(ImageError::Decoding(DecodingError::new(
            ImageFormatHint::Unknown,
            "the file ends too early",
        ))),
    );
    say("PhotoError::NoPixels", &PhotoError::NoPixels);
    say("PhotoError::TooLarge", &PhotoError::TooLarge { width: 40_000, height: 30_000 });
    say("SizesError::None", &SizesError::None);
    say("SizesError::TooMany", &SizesError::TooMany { count: 90 });
    say("SizesError::NotASize", &SizesError::NotASize { text: typed() });
    let name = SizeName::Given("0%".to_owned());
    say("SizesError::NoSuchSize", &SizesError::NoSuchSize { name });
    let (length, least) = (Mm::new(-1.0), Mm::new(0.001));
    say("Rejected::Length", &Rejected::Length { quantity: Quantity::Depth, length, least });
    say("Rejected::Moisture", &Rejected::Moisture { moisture: 301.0 });
    say("Rejected::Machine", &Rejected::Machine { quantity: Quantity::HoldDown, value: -1.0 });
    say("Rejected::Feed", &Rejected::Feed { quantity: Quantity::CutterFeed, feed: 0.0 });
    say("Rejected::Spindle", &Rejected::Spindle { speed: 0.0 });
    say("Rejected::Experience", &Rejected::Experience { factor: [0.0, 1.0], scatter: 0.2 });
    say("Rejected::Trust", &Rejected::Trust { sound: 0.2, unsound: 0.5 });
    say("Rejected::Factor", &Rejected::Factor { factor: 0.0 });
    say("Rejected::Wood", &Rejected::Wood { name: "Balsa".to_owned(), wrong: Wrong::NoName });
    say("Rejected::Cutter", &Rejected::Cutter { name: "Old faithful".to_owned(), wrong: Wrong::NoSource });
    say("Rejected::TooMuchClearing", &Rejected::TooMuchClearing { length: Mm::new(3.9e8) });
    say("Rejected::NoSuchElement", &Rejected::NoSuchElement);
    say("Rejected::NoElementNamed", &Rejected::NoElementNamed { name: "rim".to_owned() });
    say("Rejected::NoSuchPiece", &Rejected::NoSuchPiece);
    say("Rejected::LastPiece", &Rejected::LastPiece);
    say("Rejected::NoCopy", &Rejected::NoCopy);
    say("Rejected::TooManyOnBoard", &Rejected::TooManyOnBoard { copies: 10_000, most: 1000 });
    say("Rejected::NoSuchBlemish", &Rejected::NoSuchBlemish);
    say("Rejected::BlemishOffBoard", &Rejected::BlemishOffBoard { beyond: Mm::new(40.0) });
    say("Rejected::NoLength", &Rejected::NoLength { check: Check::Moisture });
    say("Rejected::NoName", &Rejected::NoName);
    say("Rejected::OnePiece", &Rejected::OnePiece);
    say("Rejected::TooManyPieces", &Rejected::TooManyPieces { elements: 7210, most: 5000 });
    say("Rejected::TooFew", &Rejected::TooFew { needed: 1 });
    say("Rejected::TooFew", &Rejected::TooFew { needed: 2 });
    say("Rejected::LastElement", &Rejected::LastElement);
    say("Rejected::NothingLeft", &Rejected::NothingLeft { name: "rim".to_owned() });
    say("Rejected::Lettering", &Rejected::Lettering(LetteringError::TooLong));
    say("Rejected::Design", &Rejected::Design(DesignError::TooSmall));
    let (piece, mm) = ("coaster".to_owned(), Mm::new);
    say(
        "Impossible::TooLarge",
        &Impossible::TooLarge {
            piece: piece.clone(),
            size: [mm(320.0), mm(200.0)],
            room: [mm(400.0), mm(150.0)],
        },
    );
    say("Impossible::NoPlace", &Impossible::NoPlace { piece });
    say("Impossible::WideGap", &Impossible::WideGap { gap: mm(3000.0), length: mm(600.0) });
    say("NamesError::NoNames", &NamesError::NoNames);
    say("NamesError::TooMany", &NamesError::TooMany { names: 300 });
    say("NamesError::Empty", &NamesError::Empty { line: 7 });
    let words = "Bartholomew".to_owned();
    say("NamesError::TooLong", &NamesError::TooLong { line: 3, words, length: mm(212.0), room: mm(150.0) });
    say(
        "NamesError::Words",
        &NamesError::Words { line: 3, why: Box::new(Rejected::Lettering(LetteringError::TooLong)) },
    );
    say("Impossible::CalledOff", &Impossible::CalledOff);
    let why = Rejected::BlemishOffBoard { beyond: Mm::new(40.0) };
    say("UnusableBoard", &UnusableBoard { board: "cherry 30".to_owned(), why });
    compare("errors", &said);
}
