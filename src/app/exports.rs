//! Paper and files: everything that is written for the next hand or the next program goes one way. The
//! name is asked for, the bytes are made by the worker, and what came of it is said.

use super::App;
use super::acts::with_ending;
use super::worker::{Bench, Done, Lane, Stage};
use crate::notice::Notice;
use crate::proof::sizes::SizeRow;
use crate::relief::mesh::stl_of_board;
use crate::relief::{self, time};
use crate::sheet::coupon::coupon;
use crate::sheet::dxf::outline_dxf;
use crate::sheet::pdf::{self, BenchNotes, Paper, SheetSettings, ShopMark};
use crate::sheet::{self, Besides, json, picture, table};
use crate::units::LengthUnit;
use serde::{Deserialize, Serialize};
use std::path::PathBuf;
use std::sync::Arc;

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
    pub(super) fn ending(self) -> &'static str {
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
    pub(super) fn kind(self) -> &'static str {
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
    pub(super) fn file_name(self, design: &str) -> String {
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

/// What is the same on every sheet of a shop. It is remembered from one start to the next.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(default)]
pub(super) struct Papers {
    pub(super) paper: Paper,
    pub(super) shop_name: String,
    pub(super) customer_text: String,
    /// The picture of the shop's mark.
    pub(super) mark: Option<PathBuf>,
    /// Whether the size sheet has pages that show how each price comes about.
    pub(super) for_the_shop: bool,
}

impl Papers {
    /// The settings of a sheet. Reads the mark: for a worker.
    fn settings(&self, unit: LengthUnit) -> Result<SheetSettings, String> {
        let mark = self.mark.as_ref().map(|path| {
            let bytes = std::fs::read(path).map_err(|error| {
                format!("the mark {} cannot be read: {error}; choose another", path.display())
            })?;
            ShopMark::read(&bytes).map_err(|problem| format!("the mark {} {problem}", path.display()))
        });
        Ok(SheetSettings {
            paper: self.paper,
            unit,
            shop_name: self.shop_name.clone(),
            customer_text: self.customer_text.clone(),
            mark: mark.transpose()?,
        })
    }
}

impl Bench {
    /// Writes a file; `make` makes its bytes, with a word about them, or says why it cannot.
    pub(super) fn make(
        &mut self,
        path: PathBuf,
        make: impl FnOnce() -> Result<(Vec<u8>, Option<Notice>), String> + Send + 'static,
    ) {
        let about = path.display().to_string();
        self.start(Lane::Saving, Stage::Saving, about.clone(), move |_| {
            Some(match make() {
                Err(reason) => Done::NotSaved(format!("{about} was not written: {reason}")),
                Ok((bytes, notice)) => match crate::whole_file::write(&path, &bytes) {
                    Err(error) => Done::NotSaved(format!("{about} cannot be written: {error}")),
                    Ok(()) => Done::Written(about, notice),
                },
            })
        });
    }
}

/// Pixels across a picture that is written.
const PICTURE_WIDTH: u32 = 1600;

impl App {
    /// Writes a sheet or a file of what is shown; a change that is still being proofed comes first.
    pub(super) fn export(&mut self, what: Export, path: PathBuf) {
        let path = with_ending(path, what.ending());
        if !self.is_current() {
            self.warn("The last change is still being proofed; export again in a moment");
            return;
        }
        let Some(shown) = self.shown.clone() else { return };
        let rows: Option<Arc<Vec<SizeRow>>> =
            self.view.sizes.current_rows(&shown.job, &self.shop.prices, self.view.unit);
        if matches!(what, Export::SizeSheet | Export::Sizes) && rows.is_none() {
            self.warn("The sizes are still being worked out; save them again in a moment");
            return;
        }
        let unit = self.view.unit;
        let papers = self.view.papers.clone();
        let prices = self.shop.prices.clone();
        let known_surfaces = self.view.sizes.surfaces();
        let photo = self.view.board.photo.of(&shown.job.board);
        self.bench.make(path, move || {
            let (job, measured, proof) = (&shown.job, &*shown.measured, &*shown.proof);
            let rows = rows.as_ref().map_or(&[][..], |rows| rows.as_slice());
            let settings = papers.settings(unit);
            let notice = settings.as_ref().ok().filter(|_| what.ending() == "pdf").and_then(|settings| {
                let names: Vec<&str> = rows.iter().map(|row| row.name.as_str()).collect();
                pdf::missing_notice(settings, job, &names)
            });
            let settings = || settings.clone();
            let bytes = match what {
                Export::BenchSheet => {
                    let (minutes, relief) = sheet::carve_in_short(job, measured, proof);
                    let notes = BenchNotes { minutes, relief };
                    pdf::bench_pdf(job, proof, &notes, &settings()?)
                }
                Export::Template => {
                    pdf::template_pdf(job, proof, &settings()?).map_err(|error| error.to_string())?
                }
                Export::CouponSheet => {
                    pdf::coupon_pdf(&coupon(job), job, &settings()?).map_err(|error| error.to_string())?
                }
                Export::Handout => pdf::handout_pdf(job, proof, &settings()?),
                Export::SizeSheet => {
                    let surfaces = known_surfaces
                        .or_else(|| sheet::surfaces(rows, measured, &relief::NEVER).map(Arc::new));
                    let surfaces = surfaces.as_ref().map_or(&[][..], |surfaces| surfaces.as_slice());
                    pdf::options_pdf(job, rows, surfaces, &prices, &settings()?, papers.for_the_shop)
                }
                Export::Dxf => outline_dxf(&job.design, proof.factor).into_bytes(),
                Export::Picture => {
                    let view = picture::page_view(&job.board, PICTURE_WIDTH, unit, picture::Theme::Light);
                    picture::photographed_picture(job, proof, &view, photo.as_deref()).to_png()
                }
                Export::Proof => {
                    let time = time::of(job, measured);
                    let besides = Besides { time: Some(&time), ..Besides::default() };
                    json::proof_json(job, proof, &besides, unit).into_bytes()
                }
                Export::Findings => table::findings_csv(proof, unit).into_bytes(),
                Export::Sizes => table::sizes_csv(rows, unit).into_bytes(),
                Export::Surface => {
                    stl_of_board(job, measured, proof).ok_or("the passes could not be planned")?
                }
            };
            Ok((bytes, notice))
        });
    }
}
