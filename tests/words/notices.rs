use super::{Said, compare};
use spelk::design::{DrawingNotice as N, DrawingUnit};
use spelk::shop::PhotoNotice;
use spelk::units::Mm;
use spelk::words::notices;

fn drawing_notices() -> Vec<N> {
    let mm = Mm::new;
    let (at, join) = ([mm(12.0), mm(7.54)], mm(0.1));
    vec![
        N::SizeNotStated { unit: DrawingUnit::Pixel, page: None },
        N::SizeNotStated { unit: DrawingUnit::Pixel, page: Some([mm(300.0), mm(99.999)]) },
        N::SavedWithOtherLimits,
        N::UnitNotStated { unit: DrawingUnit::Millimetre, size: [mm(300.0), mm(100.5)] },
        N::EmbeddedPictures { count: 1 },
        N::EmbeddedPictures { count: 3 },
        N::LinkedPictures { count: 1 },
        N::LinkedPictures { count: 3 },
        N::OutsideReferences { count: 1 },
        N::OutsideReferences { count: 3 },
        N::CopiesOfNothing { count: 1 },
        N::CopiesOfNothing { count: 3 },
        N::MissingPaints { count: 1 },
        N::MissingPaints { count: 3 },
        N::BrokenPaths { count: 1 },
        N::BrokenPaths { count: 3 },
        N::Filters { count: 1 },
        N::Filters { count: 3 },
        N::Masks { count: 1 },
        N::Masks { count: 3 },
        N::Markers { count: 1 },
        N::Markers { count: 3 },
        N::ForeignContent { count: 1 },
        N::ForeignContent { count: 3 },
        N::SteadyStrokes { count: 1 },
        N::SteadyStrokes { count: 3 },
        N::Scripts { count: 1 },
        N::Scripts { count: 3 },
        N::Animations { count: 1 },
        N::Animations { count: 3 },
        N::HiddenObjects { count: 1 },
        N::HiddenObjects { count: 3 },
        N::Texts { count: 1 },
        N::Texts { count: 3 },
        N::MissingFonts { names: vec!["Oak".to_owned()], more: 0 },
        N::MissingFonts { names: vec!["Oak".to_owned(), "Elm".to_owned()], more: 0 },
        N::MissingFonts { names: vec!["Oak".to_owned(), "Elm".to_owned()], more: 4 },
        N::FineDashes { count: 1 },
        N::FineDashes { count: 3 },
        N::Patterns { count: 1 },
        N::Patterns { count: 3 },
        N::ClipPaths { count: 1 },
        N::ClipPaths { count: 3 },
        N::OpenAsStrokes { count: 1, width: mm(3.175) },
        N::OpenAsStrokes { count: 3, width: mm(3.0) },
        N::Hairlines { count: 1 },
        N::Hairlines { count: 3 },
        N::LostStrokes { count: 1 },
        N::LostStrokes { count: 3 },
        N::FarFromOrigin { precision: mm(0.0123) },
        N::OffPage,
        N::TooManyParts { parts: 80 },
        N::WhiteShapes { count: 1 },
        N::WhiteShapes { count: 3 },
        N::WhitePage { element: "paper".to_owned() },
        N::EmptyElement { element: "leaf".to_owned() },
        N::Specks { count: 1 },
        N::Specks { count: 3 },
        N::OnlySpecks { element: "dust".to_owned() },
        N::NoEndMark,
        N::MovedToOrigin { distance: mm(1_234_567.0) },
        N::NearlyCoincident { step: mm(0.005) },
        N::TooManyLayers { layers: 80 },
        N::UnreadEntities { count: 1, kinds: vec![("TEXT".to_owned(), 1)], more: 0 },
        N::UnreadEntities { count: 3, kinds: vec![("POINT".to_owned(), 1), ("TEXT".to_owned(), 2)], more: 0 },
        N::UnreadEntities { count: 9, kinds: vec![("POINT".to_owned(), 1), ("TEXT".to_owned(), 2)], more: 1 },
        N::UnreadEntities { count: 9, kinds: vec![("POINT".to_owned(), 1), ("TEXT".to_owned(), 2)], more: 2 },
        N::MissingBlocks { count: 1 },
        N::MissingBlocks { count: 3 },
        N::TaperedLines { count: 1 },
        N::TaperedLines { count: 3 },
        N::TiltedEntities { count: 1 },
        N::TiltedEntities { count: 3 },
        N::FittedSplines { count: 1 },
        N::FittedSplines { count: 3 },
        N::HiddenOnLayers { count: 1 },
        N::HiddenOnLayers { count: 3 },
        N::Repeats { count: 1 },
        N::Repeats { count: 3 },
        N::ClosedGaps { count: 1, widest: mm(0.08), at, join },
        N::ClosedGaps { count: 3, widest: mm(0.08), at, join },
        N::OpenOutlines { count: 1, at, join },
        N::OpenOutlines { count: 3, at, join },
        N::MissingLetters { font: "Oak".to_owned(), letters: "☃".to_owned(), more: 0 },
        N::MissingLetters { font: "Oak".to_owned(), letters: "☃☄".to_owned(), more: 0 },
        N::MissingLetters { font: "Oak".to_owned(), letters: "☃☄".to_owned(), more: 5 },
        N::NotATypeface { file: "oak.txt".to_owned() },
    ]
}

#[test]
fn notices() {
    let mut said = Said::default();
    for notice in drawing_notices() {
        said.line("notices::drawing", notices::drawing(&notice));
        if let Some(hint) = notices::drawing_hint(&notice) {
            said.line("notices::drawing_hint", hint);
        }
    }
    said.line("notices::photo", notices::photo(PhotoNotice::TurnUnknown));
    said.line("notices::photo_hint", notices::photo_hint(PhotoNotice::TurnUnknown));
    said.line("notices::line", notices::line("1 mask was left out", Some("Use a clip path")));
    said.line("notices::line", notices::line("1 script was left out", None));
    said.line("notices::more", notices::more(1));
    said.line("notices::more", notices::more(1234));
    said.line("notices::NOWHERE_CLEAR", notices::NOWHERE_CLEAR);
    said.line("notices::clear_up_to", notices::clear_up_to("83"));
    compare("notices", &said);
}

/// A notice that has words is printed here.
#[test]
fn every_notice_is_printed_here() {
    let source = include_str!("../../src/words/notices.rs");
    let tests = include_str!("notices.rs");
    for (start, _) in source.match_indices("N::") {
        let name: String = source[start..].chars().take_while(|&c| c.is_alphanumeric() || c == ':').collect();
        assert!(tests.contains(&format!("        {name}")), "{name} is not printed");
    }
}
