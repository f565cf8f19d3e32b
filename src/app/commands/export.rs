//! Sheets of paper and files that can be written.

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
    /// The sizes a customer can choose from.
    SizeSheet,
    /// The outline as a DXF drawing.
    Dxf,
    /// A picture of the board.
    Picture,
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
    /// All of them but those of the sizes, in the menu's order.
    pub const ALL: [Export; 9] = [
        Export::BenchSheet,
        Export::Template,
        Export::CouponSheet,
        Export::Handout,
        Export::Dxf,
        Export::Picture,
        Export::Proof,
        Export::Findings,
        Export::Surface,
    ];

    /// The words on its menu entry or button.
    pub fn label(self) -> &'static str {
        match self {
            Export::BenchSheet => "Bench sheet as PDF…",
            Export::Template => "True-size template as PDF…",
            Export::CouponSheet => "Coupon as PDF…",
            Export::Handout => "Handout as PDF…",
            Export::SizeSheet => "Save as PDF…",
            Export::Dxf => "Outline as DXF…",
            Export::Picture => "Picture as PNG…",
            Export::Proof => "Proof as JSON…",
            Export::Findings => "Findings as CSV…",
            Export::Sizes => "Save as CSV…",
            Export::Surface => "Carved surface as STL…",
        }
    }

    /// A sentence more, for a hover.
    pub fn tooltip(self) -> &'static str {
        match self {
            Export::BenchSheet => "One page to tape beside the machine; what was accepted is ticked on it",
            Export::Template => "To print, join and lay on the board",
            Export::CouponSheet => "The test piece for this cutter, depth and wood, with its key",
            Export::Handout => "The lesson 'Why it thins' on two pages, with its questions",
            Export::SizeSheet => "These sizes on paper, for a customer to choose from",
            Export::Dxf => "Write the outline at its finished size, an element a layer",
            Export::Picture => "The whole board from above, with what was found on it",
            Export::Proof => "Everything that was worked out, for another program",
            Export::Findings => "A line a finding, for a spreadsheet",
            Export::Sizes => "A line a size, for a spreadsheet",
            Export::Surface => "The board as it comes off the machine, as triangles",
        }
    }

    /// The ending of its file.
    pub(crate) fn ending(self) -> &'static str {
        match self {
            Export::BenchSheet
            | Export::Template
            | Export::CouponSheet
            | Export::Handout
            | Export::SizeSheet => "pdf",
            Export::Dxf => "dxf",
            Export::Picture => "png",
            Export::Proof => "json",
            Export::Findings | Export::Sizes => "csv",
            Export::Surface => "stl",
        }
    }

    /// What a desktop calls such files.
    pub(crate) fn kind(self) -> &'static str {
        match self.ending() {
            "pdf" => "PDF sheets",
            "dxf" => "DXF drawings",
            "png" => "PNG pictures",
            "json" => "JSON files",
            "csv" => "CSV tables",
            _ => "STL surfaces",
        }
    }

    /// The file name that is proposed for a design's.
    pub(crate) fn file_name(self, design: &str) -> String {
        let what = match self {
            Export::BenchSheet => "bench-sheet",
            Export::Template => "template",
            Export::CouponSheet => return "coupon.pdf".to_owned(),
            Export::Handout => return "why-it-thins.pdf".to_owned(),
            Export::SizeSheet | Export::Sizes => "sizes",
            Export::Dxf => "outline",
            Export::Picture => "picture",
            Export::Proof => "proof",
            Export::Findings => "findings",
            Export::Surface => "surface",
        };
        format!("{design}-{what}.{}", self.ending())
    }
}
