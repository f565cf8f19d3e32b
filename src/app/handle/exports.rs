//! Paper and files: everything that is written for the next hand or the next program goes one way. The
//! name is asked for, the bytes are made by the worker, and what came of it is said.

use crate::app::App;
use crate::app::commands::export::Export;
use crate::app::handle::with_ending;
use crate::proof::sizes::SizeRow;
use crate::proof::walls;
use crate::relief::mesh::stl_of_board;
use crate::relief::{self, time};
use crate::sheet::coupon::coupon;
use crate::sheet::dxf::outline_dxf;
use crate::sheet::pdf::{self, BenchNotes};
use crate::sheet::{self, Besides, json, picture, table};
use crate::words;
use crate::words::window::handle as said;
use std::path::PathBuf;
use std::sync::Arc;

/// Pixels across a picture that is written.
const PICTURE_WIDTH: u32 = 1600;

impl App {
    /// Writes a sheet or a file of what is shown; a change that is still being proofed comes first.
    pub(crate) fn export(&mut self, what: Export, path: PathBuf) {
        let path = with_ending(path, what.ending());
        let Some(shown) = self.shelf.shown().filter(|shown| shown.is_current()) else {
            self.warn(said::STILL_PROOFING);
            return;
        };
        let would_help = shown.current_advice().and_then(|advised| advised.offers.first()).map(|best| {
            words::advice::would_help(&best.offer, &self.shop.prices.money, self.preferences.unit)
        });
        let shown = shown.proofed.clone();
        let rows: Option<Arc<Vec<SizeRow>>> = self.views.sizes.current_rows(
            &self.preferences.sizes,
            &shown.job,
            &self.shop.prices,
            self.preferences.unit,
        );
        if matches!(what, Export::SizeSheet | Export::Sizes) && rows.is_none() {
            self.warn(said::STILL_WORKING_OUT_SIZES);
            return;
        }
        let unit = self.preferences.unit;
        let papers = self.preferences.papers.clone();
        let prices = self.shop.prices.clone();
        let known_surfaces = self.views.sizes.surfaces();
        let photo = self.views.board.photo.of(shown.job.board());
        let would_help = would_help.unwrap_or_default();
        self.workers.make(path, move || {
            let (job, measured, proof) = (&shown.job, &*shown.measured, &*shown.proof);
            let rows = rows.as_ref().map_or(&[][..], |rows| rows.as_slice());
            let settings = papers.settings(unit);
            let missing = settings.as_ref().ok().filter(|_| what.ending() == "pdf").map(|settings| {
                let names: Vec<&str> = rows.iter().map(|row| words::sizes::name(&row.name)).collect();
                pdf::missing_letters(settings, job, &names)
            });
            let settings = || settings.clone();
            let bytes = match what {
                Export::BenchSheet => {
                    let (minutes, relief) = sheet::carve_in_short(job, measured, proof);
                    let notes = BenchNotes { minutes, relief, would_help: would_help.clone() };
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
                Export::Dxf => outline_dxf(job.design(), proof.factor).into_bytes(),
                Export::Picture => {
                    let view = picture::page_view(job.board(), PICTURE_WIDTH, unit, picture::Theme::Light);
                    picture::photographed_picture(job, proof, &view, photo.as_deref()).to_png()
                }
                Export::Proof => {
                    let time = time::of(job, measured);
                    let near = walls(job, measured, &shown.ratings);
                    json::proof_json(job, proof, &Besides::of(&time, &near), unit).into_bytes()
                }
                Export::Findings => table::findings_csv(proof, unit).into_bytes(),
                Export::Sizes => table::sizes_csv(rows, unit).into_bytes(),
                Export::Surface => stl_of_board(job, measured, proof).ok_or(said::NO_PASSES)?,
            };
            Ok((bytes, missing.unwrap_or_default()))
        });
    }
}
