//! Sheets of paper and files that can be written.

use crate::words::window::commands as said;

/// A sheet of paper or a file.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Export {
    /// One page to tape beside the machine.
    BenchSheet,
    /// The outline at true size, over as many pages as it takes.
    Template,
    /// The test piece at true size, with its key.
    CouponSheet,
    /// The lesson, to hand out.
    Handout,
    /// The guide of the program.
    Guide,
    /// The sizes a customer can choose from.
    SizeSheet,
    /// How each price comes about, for the shop.
    PriceSheet,
    /// The outline as a DXF drawing.
    Dxf,
    /// A picture of the board.
    Picture,
    /// The carved wood without marks.
    CarvedPicture,
    /// The proof for another program.
    Proof,
    /// The findings for a spreadsheet.
    Findings,
    /// The sizes for a spreadsheet.
    Sizes,
    /// The carved surface as triangles.
    Surface,
}

impl Export {
    /// All that are of a job, in the menu's order.
    pub const ALL: [Export; 13] = [
        Export::BenchSheet,
        Export::SizeSheet,
        Export::PriceSheet,
        Export::Template,
        Export::CouponSheet,
        Export::Handout,
        Export::Dxf,
        Export::Picture,
        Export::CarvedPicture,
        Export::Proof,
        Export::Findings,
        Export::Sizes,
        Export::Surface,
    ];

    /// Whether it tells of every piece where there are several on the board.
    pub(crate) fn is_of_all_pieces(self) -> bool {
        let is_of_one_or_none = matches!(
            self,
            Export::CouponSheet | Export::Handout | Export::Guide | Export::Sizes | Export::PriceSheet
        );
        !is_of_one_or_none
    }

    /// Whether it is of the sizes that are compared.
    pub(crate) fn is_of_sizes(self) -> bool {
        matches!(self, Export::SizeSheet | Export::PriceSheet | Export::Sizes)
    }

    /// Whether there may be one for each piece instead.
    pub(crate) fn is_of_each_piece(self) -> bool {
        self.is_of_all_pieces() && !matches!(self, Export::BenchSheet | Export::Template | Export::SizeSheet)
    }

    /// The ending of its file.
    pub(crate) fn ending(self) -> &'static str {
        self.endings()[0]
    }

    /// The same, as a list for a file dialog.
    pub(crate) fn endings(self) -> &'static [&'static str] {
        match self {
            Export::BenchSheet
            | Export::Template
            | Export::CouponSheet
            | Export::Handout
            | Export::Guide
            | Export::SizeSheet
            | Export::PriceSheet => &["pdf"],
            Export::Dxf => &["dxf"],
            Export::Picture | Export::CarvedPicture => &["png"],
            Export::Proof => &["json"],
            Export::Findings | Export::Sizes => &["csv"],
            Export::Surface => &["stl"],
        }
    }

    /// What a desktop calls such files.
    pub(crate) fn kind(self) -> &'static str {
        match self.ending() {
            "pdf" => said::PDF_SHEETS,
            "dxf" => said::DXF_DRAWINGS,
            "png" => said::PNG_PICTURES,
            "json" => said::JSON_FILES,
            "csv" => said::CSV_TABLES,
            _ => said::STL_SURFACES,
        }
    }

    /// The file name that is proposed for a design's.
    pub(crate) fn file_name(self, design: &str) -> String {
        let what = match self {
            Export::BenchSheet => "bench-sheet",
            Export::Template => "template",
            Export::CouponSheet => return "coupon.pdf".to_owned(),
            Export::Handout => return "why-it-thins.pdf".to_owned(),
            Export::Guide => return "spelk-guide.pdf".to_owned(),
            Export::SizeSheet => "offer",
            Export::PriceSheet => "prices",
            Export::Sizes => "sizes",
            Export::Dxf => "outline",
            Export::Picture => "picture",
            Export::CarvedPicture => "carved",
            Export::Proof => "proof",
            Export::Findings => "findings",
            Export::Surface => "surface",
        };
        format!("{design}-{what}.{}", self.ending())
    }
}
