//! Paper and files: everything that is written for the next hand or the next program goes one way. The
//! name is asked for, the bytes are made by the worker, and what came of it is said.

use crate::advice::Tried;
use crate::app::App;
use crate::app::commands::export::Export;
use crate::app::handle::{as_svg, with_ending};
use crate::app::sizes::wanted;
use crate::app::work::papers::Papers;
use crate::arrange::{batch, whole};
use crate::job::{Job, Rejected};
use crate::proof::sizes::{SizeRow, sizes};
use crate::proof::{measure, proof_of, rate, walls};
use crate::relief::mesh::stl_of_board;
use crate::relief::{self, NEVER, time};
use crate::sheet::arrange::arrange_json;
use crate::sheet::batch::{BatchFacts, alone, paths_of_each, stl_of_batch};
use crate::sheet::coupon::coupon;
use crate::sheet::dxf::outline_dxf;
use crate::sheet::outline::outline_svg;
use crate::sheet::pdf::{self, BenchNotes};
use crate::sheet::{self, Besides, json, picture, table};
use crate::shop::{Photo, Prices};
use crate::units::LengthUnit;
use crate::words;
use crate::words::edits::rejection;
use crate::words::window::{handle as said, pieces};
use std::path::{Path, PathBuf};
use std::sync::Arc;

/// Pixels across a picture that is written.
const PICTURE_WIDTH: u32 = 1600;

/// What the files of one job are made of, beside the job.
#[derive(Clone)]
struct Making {
    unit: LengthUnit,
    prices: Prices,
    photo: Option<Arc<Photo>>,
}

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
        let photo = self.views.board.photo.of(shown.job.board());
        let making = Making { unit: self.preferences.unit, prices: self.shop.prices.clone(), photo };
        let papers = self.preferences.papers.clone();
        if shown.job.is_batch() && what.is_of_all_pieces() {
            if self.views.board.pieces.each && what.is_of_each_piece() {
                self.export_each(what, &shown.job, &path, making);
            } else {
                self.workers.make(path, move || batch_file(what, &shown.job, &making, &papers));
            }
            return;
        }
        let rows: Option<Arc<Vec<SizeRow>>> = self.views.sizes.current_rows(
            &self.preferences.sizes,
            &shown.job,
            &self.shop.prices,
            self.preferences.unit,
        );
        // Rows of an earlier job have pictures that are no longer right.
        let known_surfaces = self.views.sizes.surfaces().filter(|_| rows.is_some());
        let asked = what.is_of_sizes().then(|| wanted(&self.preferences.sizes));
        let would_help = would_help.unwrap_or_default();
        self.workers.make(path, move || {
            let (job, measured, proof) = (&shown.job, &*shown.measured, &*shown.proof);
            let time = |job: &Job| sheet::minutes(job, measured);
            let rows = match (rows, &asked) {
                (None, Some(asked)) => {
                    let rows = sizes(job, measured, &shown.ratings, asked, &making.prices, &time);
                    Some(Arc::new(rows.map_err(|error| error.to_string())?))
                }
                (rows, _) => rows,
            };
            let rows = rows.as_ref().map_or(&[][..], |rows| rows.as_slice());
            let settings = papers.settings(making.unit);
            let is_of_job = what.ending() == "pdf" && what != Export::Guide;
            let missing = settings.as_ref().ok().filter(|_| is_of_job).map(|settings| {
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
                Export::Guide => pdf::guide_pdf(settings()?.paper),
                Export::SizeSheet => {
                    let surfaces =
                        known_surfaces.or_else(|| sheet::surfaces(rows, measured, &NEVER).map(Arc::new));
                    let surfaces = surfaces.as_ref().map_or(&[][..], |surfaces| surfaces.as_slice());
                    pdf::options_pdf(job, rows, surfaces, &making.prices, &settings()?)
                }
                Export::PriceSheet => pdf::prices_pdf(job, rows, &making.prices, &settings()?),
                Export::Sizes => table::sizes_csv(rows, making.unit).into_bytes(),
                Export::Dxf
                | Export::Picture
                | Export::CarvedPicture
                | Export::Proof
                | Export::Findings
                | Export::Surface => job_file(what, &shown.tried(), &making)?,
            };
            Ok((bytes, missing.unwrap_or_default()))
        });
    }

    /// Puts a picture of the carved wood on the clipboard once it is there.
    pub(crate) fn copy_picture(&mut self) {
        let Some(shown) = self.shelf.shown().filter(|shown| shown.is_current()) else {
            self.warn(said::STILL_PROOFING);
            return;
        };
        let shown = shown.proofed.clone();
        self.workers.copy(shown.job.design().name.clone(), move || {
            let (job, measured) = (&shown.job, &shown.measured);
            if !job.is_batch() {
                return sheet::carved_picture(job, &relief::plan(job, measured, &NEVER)?, &shown.proof);
            }
            let batch = batch(job, &Prices::default(), &NEVER)?;
            sheet::carved_picture(job, &batch.plan, &batch.copies.first()?.proof)
        });
    }

    /// Writes the outline; of several pieces all of them, or each by itself.
    pub(crate) fn export_outline(&mut self, path: PathBuf) {
        let Some(shown) = self.shelf.shown() else { return };
        let (job, path) = (shown.job().clone(), as_svg(path));
        if !job.is_batch() {
            self.workers.write(path, move || outline_svg(job.design(), job.factor()));
        } else if self.views.board.pieces.each {
            let paths = paths_of_each(&job, &path);
            self.workers.make_each(paths, move || {
                let outline = |piece: usize| {
                    let one = job.piece(piece);
                    outline_svg(one.design(), one.factor()).into_bytes()
                };
                Ok((0..job.piece_count()).map(outline).collect())
            });
        } else {
            self.workers.make(path, move || {
                let whole = whole(&job).map_err(|rejected| rejection(&rejected))?;
                Ok((outline_svg(whole.design(), 1.0).into_bytes(), Vec::new()))
            });
        }
    }

    /// Writes a file for each piece.
    fn export_each(&mut self, what: Export, job: &Arc<Job>, path: &Path, making: Making) {
        let (job, paths) = (job.clone(), paths_of_each(job, path));
        self.workers.make_each(paths, move || {
            let batch = batch(&job, &making.prices, &NEVER).ok_or(said::NO_PASSES)?;
            let of_piece = |piece: usize| {
                let alone = alone(&job, Some(&batch), piece);
                let measured = measure(&alone);
                let ratings = rate(&alone, &measured);
                job_file(what, &Tried::rated(alone, measured, ratings), &making)
            };
            (0..job.piece_count()).map(of_piece).collect()
        });
    }
}

/// A file of one piece.
fn job_file(what: Export, of: &Tried, making: &Making) -> Result<Vec<u8>, String> {
    let Tried { job, measured, ratings, proof } = of;
    let unit = making.unit;
    Ok(match what {
        Export::Dxf => outline_dxf(job.design(), proof.factor).into_bytes(),
        Export::Proof => {
            let time = time::of(job, measured);
            let near = walls(job, measured, ratings);
            json::proof_json(job, proof, &Besides::of(&time, &near), unit).into_bytes()
        }
        Export::Findings => table::findings_csv(proof, unit).into_bytes(),
        Export::Surface => stl_of_board(job, measured, proof).ok_or(said::NO_PASSES)?,
        Export::CarvedPicture => {
            let plan = relief::plan(job, measured, &NEVER).ok_or(said::NO_PASSES)?;
            sheet::carved_picture(job, &plan, proof).ok_or(said::NO_PASSES)?.to_png()
        }
        _ => {
            let view = picture::page_view(job.board(), PICTURE_WIDTH, unit, picture::Theme::Light);
            picture::photographed_picture(job, proof, &view, making.photo.as_deref()).to_png()
        }
    })
}

/// A sheet or a file of all pieces on a board, and the letters that no typeface has.
fn batch_file(
    what: Export,
    job: &Job,
    making: &Making,
    papers: &Papers,
) -> Result<(Vec<u8>, Vec<char>), String> {
    let Making { unit, prices, photo } = making;
    let (unit, rejected) = (*unit, |rejected: Rejected| rejection(&rejected));
    if what == Export::Dxf {
        return Ok((outline_dxf(whole(job).map_err(rejected)?.design(), 1.0).into_bytes(), Vec::new()));
    }
    let facts = BatchFacts::as_it_lies(job, prices, &NEVER).ok_or(said::NO_PASSES)?;
    let batch = &facts.batch;
    let settings = || papers.settings(unit);
    let names: Vec<&str> = (0..job.piece_count()).map(|piece| job.piece_name(piece)).collect();
    let missing = match what.ending() {
        "pdf" => pdf::missing_letters(&settings()?, job, &names),
        _ => Vec::new(),
    };
    let bytes = match what {
        Export::BenchSheet => {
            let first = batch.copies.first();
            let relief = first.and_then(|first| sheet::relief_picture(job, &batch.plan, &first.proof));
            pdf::batch_bench_pdf(job, batch, relief.as_ref(), &prices.money, &settings()?)
                .map_err(rejected)?
        }
        Export::Template => {
            let whole = whole(job).map_err(rejected)?;
            let proof = proof_of(&whole);
            pdf::template_pdf(&whole, &proof, &settings()?).map_err(|error| error.to_string())?
        }
        Export::SizeSheet => pdf::pieces_pdf(job, batch, prices, &settings()?).map_err(rejected)?,
        Export::CarvedPicture => {
            let first = batch.copies.first().ok_or(said::NO_PASSES)?;
            sheet::carved_picture(job, &batch.plan, &first.proof).ok_or(said::NO_PASSES)?.to_png()
        }
        Export::Proof => arrange_json(&facts.arranged(job, &prices.money), unit).into_bytes(),
        Export::Findings => table::batch_findings_csv(batch, unit).into_bytes(),
        Export::Surface => stl_of_batch(job, batch).ok_or(pieces::NOTHING_LAID)?,
        _ => {
            let view = picture::page_view(job.board(), PICTURE_WIDTH, unit, picture::Theme::Light);
            picture::batch_picture(job, batch, &view, photo.as_deref()).to_png()
        }
    };
    Ok((bytes, missing))
}
