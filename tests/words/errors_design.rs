use super::{Said, compare};
use spelk::design::lettering::{LetteringError, LetteringSetting};
use spelk::design::{DesignError, FileKind, Nothing};
use spelk::units::Mm;
use std::fmt::Display;

#[test]
fn errors_of_drawings() {
    let mut said = Said::default();
    let mut say = |name: &str, error: &dyn Display| said.line(name, error);
    say("DesignError::Missing", &DesignError::Missing);
    say("DesignError::Folder", &DesignError::Folder);
    say("DesignError::NotAFile", &DesignError::NotAFile);
    say("DesignError::Unreadable", &DesignError::Unreadable(std::io::Error::other("permission denied")));
    say("DesignError::FileTooLarge", &DesignError::FileTooLarge);
    say("DesignError::Empty", &DesignError::Empty);
    say("DesignError::Compressed", &DesignError::Compressed);
    say("DesignError::BinaryDxf", &DesignError::BinaryDxf);
    say("DesignError::BadGroupCode", &DesignError::BadGroupCode { line: 7, found: "LINE".to_owned() });
    say("DesignError::NotText", &DesignError::NotText);
    for (name, found) in [
        ("FileKind::Png", FileKind::Png),
        ("FileKind::Jpeg", FileKind::Jpeg),
        ("FileKind::Gif", FileKind::Gif),
        ("FileKind::Riff", FileKind::Riff),
        ("FileKind::Bmp", FileKind::Bmp),
        ("FileKind::Pdf", FileKind::Pdf),
        ("FileKind::PostScript", FileKind::PostScript),
        ("FileKind::Zip", FileKind::Zip),
        ("FileKind::Binary", FileKind::Binary),
        ("FileKind::NotXml", FileKind::NotXml),
        ("FileKind::EmptyXml", FileKind::EmptyXml),
        ("FileKind::Xml", FileKind::Xml { root: "html".to_owned() }),
    ] {
        say(&format!("{name}, FileKind::named"), &found.named());
        say("DesignError::NotADrawing", &DesignError::NotADrawing { found });
    }
    say("DesignError::CutShort", &DesignError::CutShort);
    let problem = "unknown token".to_owned();
    say("DesignError::Malformed", &DesignError::Malformed { line: 3, column: 14, problem });
    say("DesignError::EntityGrowth", &DesignError::EntityGrowth);
    say("DesignError::TooDeep", &DesignError::TooDeep);
    say("DesignError::TooManyObjects", &DesignError::TooManyObjects);
    say("DesignError::Overloaded", &DesignError::Overloaded);
    say("DesignError::TooManySegments", &DesignError::TooManySegments);
    say("DesignError::Tangled", &DesignError::Tangled);
    let wild = DesignError::WildCoordinate { line: 12, value: "1e300".to_owned() };
    say("DesignError::WildCoordinate", &wild);
    say("DesignError::ZeroSize", &DesignError::ZeroSize);
    say("DesignError::TooLarge", &DesignError::TooLarge { metres: 254.0 });
    say("DesignError::TooSmall", &DesignError::TooSmall);
    for found in [
        Nothing::OnlyPictures,
        Nothing::EmptyTexts,
        Nothing::NoShape,
        Nothing::NothingCloses,
        Nothing::AllHidden,
        Nothing::NoOutline,
        Nothing::OnlyUnread,
        Nothing::AllInvisible,
        Nothing::ElementGone,
        Nothing::AllGone,
    ] {
        say("Nothing::meaning", &found.meaning());
        say("DesignError::NothingToCarve", &DesignError::NothingToCarve { found });
    }
    say("DesignError::GaveUp", &DesignError::GaveUp);
    let font = || "Oak".to_owned();
    say("LetteringError::Nothing", &LetteringError::Nothing { font: font() });
    let near = vec!["Elm".to_owned(), "Hack".to_owned()];
    say("LetteringError::NoFont", &LetteringError::NoFont { font: font(), near });
    say("LetteringError::TooLong", &LetteringError::TooLong);
    for setting in [
        LetteringSetting::CapHeight,
        LetteringSetting::Spacing,
        LetteringSetting::LineSpacing,
        LetteringSetting::ArcRadius,
    ] {
        say("LetteringSetting::label", &setting.label());
        say("LetteringError::Setting", &LetteringError::Setting { setting, least: 0.1, most: 100.0 });
    }
    say("LetteringError::ArcTooTight", &LetteringError::ArcTooTight { radius: Mm::new(12.5) });
    say("LetteringError::Design", &LetteringError::Design(DesignError::TooSmall));
    compare("errors_design", &said);
}
