//! Pictures, traced: against drawings whose outline is known.

#![expect(clippy::cast_sign_loss, reason = "pictures have no negative sides")]

use crate::cli::spelk;
use crate::support;
use crate::support::rectangle;
use glam::{DVec2, dvec2};
use image::{DynamicImage, GrayImage, ImageFormat, Luma, RgbaImage};
use rayon::prelude::*;
use spelk::design::face::Fonts;
use spelk::design::lettering::Lettering;
use spelk::design::samples::samples;
use spelk::design::{self, Design};
use spelk::geometry::{FillRule, Region, Ring};
use spelk::notice::Notices;
use spelk::proof::Facts;
use spelk::shop::Photo;
use spelk::trace::{Colours, Ink, PictureSize, Settings, Step, Trace, TraceError, pixels_needed, prepare};
use spelk::units::Mm;
use std::collections::{BTreeMap, BTreeSet};
use std::io::Cursor;
use std::sync::atomic::{AtomicBool, Ordering};

/// Paper round a rendered drawing, as a share of its longer side.
const MARGIN: f64 = 0.04;

/// A drawing as a picture of black on white, and the pixels to its millimetre.
struct Rendered {
    picture: GrayImage,
    per_mm: f64,
    /// The drawing's place in the picture: its lower left corner, millimetres.
    min: DVec2,
}

impl Rendered {
    /// A drawing `across` pixels on its longer side, each the mean of 16 that are smooth by themselves.
    fn of(design: &Design, across: u32) -> Rendered {
        const FINER: u32 = 4;
        let outlines = design.outline_box();
        let margin = MARGIN * outlines.size().max_element();
        let (min, size) = (outlines.min - margin, outlines.size() + 2.0 * margin);
        let per_mm = f64::from(across) / size.max_element();
        let [width, height] = [size.x, size.y].map(|side| (side * per_mm).ceil() as u32);
        let mut map = tiny_skia::Pixmap::new(width * FINER, height * FINER).unwrap();
        map.fill(tiny_skia::Color::WHITE);
        let mut path = tiny_skia::PathBuilder::new();
        for ring in design.elements.iter().flat_map(|element| element.region.rings()) {
            for (index, point) in ring.points().enumerate() {
                let point = (point - min) * per_mm;
                let point = dvec2(point.x, f64::from(height) - point.y) * f64::from(FINER);
                let (x, y) = (point.x as f32, point.y as f32);
                if index == 0 { path.move_to(x, y) } else { path.line_to(x, y) }
            }
            path.close();
        }
        let paint = tiny_skia::Paint { anti_alias: true, ..tiny_skia::Paint::default() };
        let rule = tiny_skia::FillRule::Winding;
        map.fill_path(&path.finish().unwrap(), &paint, rule, tiny_skia::Transform::identity(), None);
        let mean = |x: u32, y: u32| {
            let all = (0..FINER * FINER).map(|k| map.pixel(x * FINER + k % FINER, y * FINER + k / FINER));
            let sum: u32 = all.map(|pixel| u32::from(pixel.unwrap().red())).sum();
            Luma([((sum + FINER * FINER / 2) / (FINER * FINER)) as u8])
        };
        Rendered { picture: GrayImage::from_fn(width, height, mean), per_mm, min }
    }

    /// The same out of focus by a pixel, and saved as a camera does.
    fn blurred(mut self) -> Rendered {
        let soft = image::imageops::blur(&self.picture, 1.0);
        let mut bytes = Vec::new();
        image::codecs::jpeg::JpegEncoder::new_with_quality(&mut bytes, 60).encode_image(&soft).unwrap();
        self.picture = image::load_from_memory(&bytes).unwrap().to_luma8();
        self
    }

    fn settings(&self) -> Settings {
        let length = f64::from(self.picture.width()) / self.per_mm;
        Settings { speck: Mm::ZERO, ..Settings::new(PictureSize::Length(Mm::new(length))) }
    }

    fn traced(&self) -> Trace {
        trace(&DynamicImage::from(self.picture.clone()).into_rgba8(), &self.settings()).unwrap()
    }
}

fn trace(picture: &RgbaImage, settings: &Settings) -> Result<Trace, TraceError> {
    let photo = Photo::new(picture.width(), picture.height(), picture.as_raw().clone()).unwrap();
    let never = AtomicBool::new(false);
    prepare(&photo, settings, &never)?.trace("test", settings, &never)
}

/// The samples and three lines of letters.
fn known() -> Vec<Design> {
    let read = |sample: &design::samples::Sample| design::read(sample.id, sample.svg.as_bytes()).unwrap();
    let lettered = |words: &str| {
        let lettering = Lettering { words: words.to_owned(), ..Lettering::default() };
        lettering.design(&Fonts::built_in()).unwrap()
    };
    samples().iter().map(read).chain(["RSgabke8&", "Kraft MW", "quality 4"].map(lettered)).collect()
}

/// How a trace compares with what was rendered; lengths in pixels.
#[derive(Debug, Default)]
struct Compared {
    /// Area that only one of the two has, over the length of the outline.
    off: f64,
    /// Corners that turn by more than 45 degrees, with sides of two pixels or more.
    corners: usize,
    /// Those with a corner of the trace within a pixel.
    kept: usize,
    /// Holes more than three pixels wide everywhere whose middle is filled.
    lost_holes: usize,
}

fn everything(design: &Design) -> Region {
    Region::union(design.grid, design.elements.iter().map(|element| &element.region))
}

fn compared(design: &Design, rendered: &Rendered, trace: &Trace) -> Compared {
    let truth = everything(design);
    let back = |p: DVec2| p + rendered.min;
    let rings = trace.design.elements.iter().flat_map(|element| element.region.rings());
    let rings: Vec<Vec<DVec2>> = rings.map(|ring| ring.points().map(back).collect()).collect();
    let traced = Region::clean(design.grid, &rings, FillRule::NonZero);
    let length: f64 = truth.rings().flat_map(Ring::segments).map(|[a, b]| a.distance(b)).sum();
    let area = truth.minus(&traced).area() + traced.minus(&truth).area();
    let within = 1.0 / rendered.per_mm;
    let wanted = corners(&truth, 45.0, 2.0 * within);
    let found = corners(&traced, 20.0, 0.0);
    let is_kept = |p: &&DVec2| found.iter().any(|q| q.distance(**p) <= within);
    // What is left of a hole shrunk by a pixel and a half is in it, and more than three pixels wide.
    let holes = truth.rings().filter(|ring| ring.hole).filter_map(|ring| {
        let hole = Region::clean(design.grid, &[ring.points().collect()], FillRule::NonZero);
        let core = hole.minus(&truth).grown(-1.5 * within);
        core.rings().next().and_then(|ring| ring.points().next())
    });
    Compared {
        off: area / length * rendered.per_mm,
        corners: wanted.len(),
        kept: wanted.iter().filter(is_kept).count(),
        lost_holes: holes.filter(|&p| traced.contains(p)).count(),
    }
}

/// Where a region's outline turns by more than `degrees`, at least `side` from the next such place.
fn corners(region: &Region, degrees: f64, side: f64) -> Vec<DVec2> {
    let mut all = Vec::new();
    for ring in region.rings() {
        let points: Vec<DVec2> = ring.points().collect();
        let n = points.len();
        let turn = |i: usize| {
            let (into, out) = (points[i] - points[(i + n - 1) % n], points[(i + 1) % n] - points[i]);
            into.perp_dot(out).atan2(into.dot(out)).abs()
        };
        let mut along = vec![0.0];
        for i in 0..n {
            along.push(along[i] + points[i].distance(points[(i + 1) % n]));
        }
        let sharp: Vec<usize> = (0..n).filter(|&i| turn(i) > degrees.to_radians()).collect();
        for (k, &i) in sharp.iter().enumerate() {
            let gap = |to: usize| (along[to] - along[i]).abs();
            let wrapped = |to: usize| if to == i { along[n] } else { gap(to).min(along[n] - gap(to)) };
            let (before, after) = (sharp[(k + sharp.len() - 1) % sharp.len()], sharp[(k + 1) % sharp.len()]);
            if wrapped(before).min(wrapped(after)) >= side {
                all.push(points[i]);
            }
        }
    }
    all
}

/// Compares every known drawing, and says what came of it.
fn compare_all(across: u32, blurred: bool) -> Vec<Compared> {
    let one = |design: &Design| {
        let rendered = Rendered::of(design, across);
        let rendered = if blurred { rendered.blurred() } else { rendered };
        let compared = compared(design, &rendered, &rendered.traced());
        println!("{across} px, blurred {blurred}, {}: {compared:?}", design.name);
        compared
    };
    known().iter().map(one).collect()
}

/// The sums and the worst of what was compared: area off at worst, corners, corners kept, holes lost.
fn summed(all: &[Compared]) -> (f64, usize, usize, usize) {
    let worst = all.iter().map(|one| one.off).fold(0.0, f64::max);
    let sum = |of: fn(&Compared) -> usize| all.iter().map(of).sum();
    (worst, sum(|one| one.corners), sum(|one| one.kept), sum(|one| one.lost_holes))
}

#[test]
fn an_outline_comes_back_from_its_picture() {
    let (off, corners, kept, lost) = summed(&compare_all(300, false));
    assert!(off < 0.35, "{off} px");
    assert!(corners > 500 && kept * 100 >= corners * 95, "{kept} of {corners} corners");
    assert_eq!(lost, 0, "holes");
}

#[test]
fn an_outline_comes_back_out_of_focus() {
    let (off, corners, kept, lost) = summed(&compare_all(300, true));
    assert!(off < 0.6, "{off} px");
    assert_eq!(lost, 0, "holes");
    // Letters and rope this small have corners two pixels apart, and a pixel of blur makes one round end of them.
    assert!(kept * 100 >= corners * 88, "{kept} of {corners} corners");
}

#[test]
fn an_outline_comes_back_large_and_small() {
    let (off, corners, kept, _) = summed(&compare_all(600, false));
    assert!(off < 0.35 && kept * 100 >= corners * 95, "{off} px, {kept} of {corners} corners");
    let (off, ..) = summed(&compare_all(600, true));
    assert!(off < 0.6, "{off} px");
    let (off, ..) = summed(&compare_all(150, false));
    assert!(off < 0.35, "{off} px");
    let (off, ..) = summed(&compare_all(150, true));
    assert!(off < 0.6, "{off} px");
}

/// Two hundred icons of the packages that `.ci/run` fetches, by name, with the samples and the letters.
#[test]
#[ignore = "needs SPELK_CORPUS: a folder of real drawings"]
fn two_hundred_icons_come_back_from_their_pictures() {
    let files = support::files_under(&support::folder_named_by("SPELK_CORPUS"), &["svg"]);
    let step = (files.len() / 220).max(1);
    let icons: Vec<Design> = files
        .iter()
        .step_by(step)
        .filter_map(|file| design::read("icon", &std::fs::read(file).ok()?).ok())
        .filter(|design| design.outline_box().size().min_element() > 1e-6)
        .take(200)
        .collect();
    assert_eq!(icons.len(), 200);
    for (across, blurred, most) in [
        (600, false, 0.35),
        (300, false, 0.35),
        (150, false, 0.35),
        (600, true, 0.6),
        (300, true, 0.6),
        (150, true, 0.6),
    ] {
        let one = |design: &Design| {
            let rendered = Rendered::of(design, across);
            let rendered = if blurred { rendered.blurred() } else { rendered };
            compared(design, &rendered, &rendered.traced())
        };
        let mut all: Vec<Compared> = icons.par_iter().map(one).collect();
        let (off, corners, kept, _) = summed(&all);
        println!("{across} px, blurred {blurred}, icons: {off:.3} px off, {kept} of {corners} corners");
        all.extend(known().iter().map(one));
        let (off, corners, kept, lost) = summed(&all);
        println!(
            "with the samples and letters: {off:.3} px off, {kept} of {corners} corners, {lost} holes lost"
        );
        assert!(off < most, "{across} px, blurred {blurred}: {off} px");
        assert!(across < 300 || lost == 0, "{across} px, blurred {blurred}: {lost} holes");
        assert!(
            across < 300 || kept * 100 >= corners * 95,
            "{across} px, blurred {blurred}: {kept} of {corners}"
        );
    }
}

/// Where a thin wall or point is, as the axis of it on the board, with its width and how far that may be off.
struct Thin {
    axis: Vec<DVec2>,
    width: f64,
    limit: f64,
    within: f64,
}

/// So long that many walls are thin.
const LONG: f64 = 100.0;

/// The thin walls and points of a design carved that long.
fn thin(design: &Design) -> Vec<Thin> {
    let mut job = spelk::job::Job::new(std::sync::Arc::new(design.clone()));
    job.apply(spelk::job::Edit::Size(spelk::job::Size::Length(Mm::new(LONG)))).unwrap();
    let measured = spelk::proof::measure(&job);
    let proof = spelk::proof::proof(&job, &measured, &spelk::proof::rate(&job, &measured));
    let to_board = spelk::proof::fit::board_from_design(&job, job.factor());
    let walls = proof.findings.iter().filter_map(|finding| match &finding.facts {
        Facts::ThinWall { width, place, .. } => Some((width.get(), place)),
        // Its end is as thin as anything.
        Facts::LostTip { place, .. } => Some((0.0, place)),
        _ => None,
    });
    let thin = walls.map(|(width, place)| Thin {
        axis: place.axis.iter().flatten().map(|point| to_board.transform_point2(point.at)).collect(),
        width,
        limit: place.held.limit.get(),
        within: place.within.unwrap_or_default().get(),
    });
    thin.collect()
}

/// Every wall that is thin beyond doubt in one of drawing and trace is thin in the other: what lies within its own
/// thickness is the same wall.
#[test]
fn thin_walls_are_found_in_the_trace_and_none_is_invented() {
    // Walls that are thin beyond doubt, by how coarse the picture is: the coarser, the fewer. Where a wall ends may be
    // read otherwise from a coarse picture, and with it whether its end is free, which its limit goes by.
    for (across, least, percent) in [(900, 300, 0), (600, 300, 1), (300, 100, 3)] {
        let all = known().into_iter().map(|design| certainly_thin(&design, across));
        let [certain, missed] = all.fold([0; 2], |sums, [c, m]| [sums[0] + c, sums[1] + m]);
        println!("{across} pixels: {certain} walls thin beyond doubt, {missed} in one of the two alone");
        assert!(
            certain >= least && missed * 100 <= certain * percent,
            "{missed} of {certain} at {across} pixels"
        );
    }
}

/// Compares the walls of a drawing with those of its picture so many pixels across: how many were compared, and how
/// many of them are thin in one of the two alone.
fn certainly_thin(design: &Design, across: u32) -> [usize; 2] {
    let trace = Rendered::of(design, across).traced().design;
    let (drawn, traced) = (thin(design), thin(&trace));
    let pixel = LONG / (f64::from(across) / (1.0 + 2.0 * MARGIN));
    // A pixel and twice the fit's tolerance.
    let within = 1.5 * pixel;
    let near = |wall: &Thin, others: &[Thin]| {
        let apart = |other: &Thin| {
            let pairs = wall.axis.iter().flat_map(|a| other.axis.iter().map(|b| a.distance(*b)));
            pairs.fold(f64::INFINITY, f64::min)
        };
        others.iter().map(apart).fold(f64::INFINITY, f64::min)
    };
    let mut sums = [0; 2];
    for (of, walls, others) in [("drawing", &drawn, &traced), ("trace", &traced, &drawn)] {
        for wall in walls.iter().filter(|wall| wall.width > 0.0 && wall.width + within < wall.limit) {
            sums[0] += 1;
            let off = near(wall, others);
            if off >= wall.width + 3.0 * pixel {
                sums[1] += 1;
                println!(
                    "{} at {across} pixels: {} of {} mm in the {of} at {:?} is not thin in the other ({off} mm)",
                    design.name,
                    wall.width,
                    wall.limit,
                    wall.axis.first()
                );
            }
            assert!(of == "drawing" || (wall.within - within).abs() < 0.02, "{} {within}", wall.within);
        }
    }
    sums
}

/// The outline of a peg's hole a few pixels wide keeps to its circle, in focus and out.
#[test]
fn small_rounds_come_back_round() {
    let mut worst = [0.0_f64; 2];
    for radius in [4.0, 5.0, 6.0, 8.0, 12.0, 20.0] {
        let ring: Vec<DVec2> =
            (0..256).map(|k| DVec2::from_angle(f64::from(k) * std::f64::consts::TAU / 256.0)).collect();
        let ring = ring.into_iter().map(|p| dvec2(50.0, 50.0) + radius * p).collect();
        // The frame's middle falls on no pixel.
        let design = support::design(&[("frame", vec![rectangle(0.0, 0.0, 100.37, 100.37), ring])]);
        let sharp = Rendered::of(&design, 108);
        let per_mm = sharp.per_mm;
        for (blurred, rendered) in [(false, Rendered::of(&design, 108)), (true, sharp.blurred())] {
            let trace = rendered.traced();
            let rings: Vec<Ring<'_>> =
                trace.design.elements.iter().flat_map(|element| element.region.rings()).collect();
            let hole = rings.iter().find(|ring| ring.hole).expect("the hole is there");
            for [a, b] in hole.segments() {
                for at in [a, a.midpoint(b)] {
                    let off = ((at + rendered.min).distance(dvec2(50.0, 50.0)) - radius).abs() * per_mm;
                    worst[usize::from(blurred)] = worst[usize::from(blurred)].max(off);
                }
            }
        }
    }
    println!("off a circle by at most {worst:.2?} pixels, sharp and out of focus");
    assert!(worst[0] < 0.35 && worst[1] < 0.6, "{worst:?} pixels");
}

#[test]
fn the_same_picture_gives_the_same_outline() {
    let rendered = Rendered::of(&known()[0], 300);
    assert_eq!(rendered.traced(), rendered.traced());
}

/// What comes out is the same, told or not; and called off at a step, nothing comes out.
#[test]
fn a_trace_tells_its_steps_and_stops_at_any() {
    let design = support::design(&[("square", vec![rectangle(0.0, 0.0, 40.0, 40.0)])]);
    let rendered = Rendered::of(&design, 100);
    let rgba = DynamicImage::from(rendered.picture.clone()).into_rgba8();
    let photo = Photo::new(rgba.width(), rgba.height(), rgba.into_raw()).unwrap();
    let settings = rendered.settings();
    let prepared = prepare(&photo, &settings, &AtomicBool::new(false)).unwrap();
    let told = std::cell::RefCell::new(Vec::new());
    let run = |stop: Option<Step>| {
        let cancel = AtomicBool::new(false);
        prepared.trace_telling("test", &settings, &cancel, &|step| {
            told.borrow_mut().push(step);
            cancel.store(stop == Some(step), Ordering::Relaxed);
        })
    };
    assert_eq!(run(None).unwrap(), rendered.traced());
    assert_eq!(told.take(), [Step::Following, Step::Fitting]);
    for step in [Step::Following, Step::Fitting] {
        assert!(matches!(run(Some(step)), Err(TraceError::Cancelled)), "{step:?}");
        assert_eq!(told.take().last(), Some(&step), "it went on");
    }
    let called_off = AtomicBool::new(true);
    assert!(matches!(prepare(&photo, &settings, &called_off), Err(TraceError::Cancelled)));
}

#[test]
fn a_square_keeps_its_size_and_its_corners() {
    let design = support::design(&[("square", vec![rectangle(0.0, 0.0, 40.0, 40.0)])]);
    let trace = Rendered::of(&design, 100).traced();
    let region = &trace.design.elements[0].region;
    assert_eq!(region.segment_count(), 4, "four corners and nothing else");
    assert!((region.area() - 1600.0).abs() < 8.0, "{}", region.area());
    let sharpness = trace.design.sharpness.unwrap();
    // 40 mm and a margin on 100 pixels.
    assert!((sharpness.pixel.get() - 0.432).abs() < 1e-9, "{sharpness:?}");
    assert_eq!(sharpness.width_within(), sharpness.pixel * 1.5);
}

/// A sheet of 120 x 80 mm with a square of 40 mm in its middle, as a camera sees it from the side.
fn photographed() -> (RgbaImage, [DVec2; 4]) {
    let corners = [dvec2(80.0, 540.0), dvec2(700.0, 500.0), dvec2(640.0, 120.0), dvec2(150.0, 90.0)];
    let map = spelk::geometry::Homography::between(
        corners,
        [dvec2(0.0, 0.0), dvec2(120.0, 0.0), dvec2(120.0, 80.0), dvec2(0.0, 80.0)],
    )
    .unwrap();
    let ink = |p: DVec2| u32::from((p - dvec2(60.0, 40.0)).abs().max_element() < 20.0);
    let picture = RgbaImage::from_fn(800, 600, |x, y| {
        let at = |k: u32| {
            let shift = dvec2(f64::from(k % 4) + 0.5, f64::from(k / 4) + 0.5) / 4.0;
            map.of(dvec2(f64::from(x), f64::from(y)) + shift)
        };
        let inked: u32 = (0..16).map(|k| ink(at(k))).sum();
        let grey = (235 - inked * 200 / 16) as u8;
        image::Rgba([grey, grey, grey, 255])
    });
    (picture, corners)
}

#[test]
fn a_photographed_sheet_comes_back_straight() {
    let (picture, corners) = photographed();
    let (length, width) = (Mm::new(120.0), Mm::new(80.0));
    let settings = Settings::new(PictureSize::Sheet { length, width, corners });
    let trace = trace(&picture, &settings).unwrap();
    let region = &trace.design.elements[0].region;
    let pixel = trace.design.sharpness.unwrap().pixel.get();
    assert!((region.area() - 1600.0).abs() < 160.0 * 0.35 * pixel, "{} mm²", region.area());
    let bounds = region.bounds().unwrap();
    assert!((bounds.min - dvec2(40.0, 20.0)).abs().max_element() < pixel, "{bounds:?}");
    // The far side of the sheet has the largest pixels: 120 mm on 491.
    assert!((pixel - 120.0 / dvec2(490.0, 30.0).length()).abs() < 1e-9, "{pixel}");
    let crossed = [corners[0], corners[2], corners[1], corners[3]];
    let settings = Settings::new(PictureSize::Sheet { length, width, corners: crossed });
    assert!(matches!(self::trace(&picture, &settings), Err(TraceError::Photo(_))));
}

#[test]
fn specks_go_and_gaps_close() {
    let design = support::design(&[(
        "bars",
        vec![
            rectangle(0.0, 0.0, 40.0, 9.5),
            rectangle(0.0, 10.5, 40.0, 9.5),
            rectangle(50.0, 5.0, 1.2, 1.2),
            rectangle(60.0, 0.0, 3.0, 20.0),
        ],
    )]);
    let rendered = Rendered::of(&design, 630);
    let picture = DynamicImage::from(rendered.picture.clone()).into_rgba8();
    let pieces = |speck: f64, gap: f64| {
        let settings = Settings { speck: Mm::new(speck), gap: Mm::new(gap), ..rendered.settings() };
        let trace = trace(&picture, &settings).unwrap();
        (trace.pieces_and_holes(), trace.specks)
    };
    assert_eq!(pieces(0.5, 0.0), ([4, 0], 0));
    // A disc 2 mm wide has 3.1 square millimetres, the square 1.4.
    assert_eq!(pieces(2.0, 0.0), ([3, 0], 1));
    assert_eq!(pieces(2.0, 0.9), ([3, 0], 1), "the gap is 1 mm");
    assert_eq!(pieces(2.0, 1.2), ([2, 0], 1));
}

#[test]
fn how_many_pixels_it_takes_is_known_beforehand() {
    let settings = Settings::new(PictureSize::Length(Mm::new(300.0)));
    let within =
        |across: u32| spelk::trace::sharpness([across, 100], &settings).unwrap().width_within().get();
    let needed = pixels_needed(Mm::new(300.0), Mm::new(0.25));
    assert!(within(needed) <= 0.25 + 1e-12 && within(needed - 1) > 0.25, "{needed}");
}

#[test]
fn what_is_no_drawing_is_refused_in_one_line() {
    let settings = Settings::new(PictureSize::Length(Mm::new(100.0)));
    let grey = |of: &dyn Fn(u32, u32) -> u8| {
        let picture = GrayImage::from_fn(600, 400, |x, y| Luma([of(x, y)]));
        trace(&DynamicImage::from(picture).into_rgba8(), &settings)
    };
    let one_colour = grey(&|_, _| 200).unwrap_err();
    assert!(matches!(one_colour, TraceError::OneColour), "{one_colour}");
    let noise = grey(&|x, y| {
        let mixed = (x ^ (y << 16)).wrapping_mul(0x9e37_79b9);
        let mixed = (mixed ^ (mixed >> 15)).wrapping_mul(0x85eb_ca6b);
        (mixed ^ (mixed >> 13)) as u8
    });
    let TraceError::NotAnOutline { specks } = noise.unwrap_err() else { panic!("noise is no outline") };
    assert!(specks > 2000, "{specks}");
    let wide = Settings::new(PictureSize::Length(Mm::new(1e9)));
    let black = RgbaImage::from_pixel(9, 9, image::Rgba([0, 0, 0, 255]));
    assert!(matches!(trace(&black, &wide), Err(TraceError::Size)));
    for error in [TraceError::OneColour, TraceError::NotAnOutline { specks: 40_000 }, TraceError::Size] {
        assert_eq!(error.to_string().lines().count(), 1);
    }
}

/// A disc with a hole, as pixels of a kind.
fn disc(x: u32, y: u32) -> bool {
    let from_middle = dvec2(f64::from(x) - 59.5, f64::from(y) - 49.5).length();
    (15.0..40.0).contains(&from_middle)
}

#[test]
fn every_kind_of_picture_is_read() {
    let settings = Settings::new(PictureSize::Length(Mm::new(120.0)));
    let traced = |bytes: &[u8]| {
        let photo = Photo::read(bytes, &mut Notices::new()).unwrap();
        let prepared = prepare(&photo, &settings, &AtomicBool::new(false)).unwrap();
        prepared.trace("disc", &settings, &AtomicBool::new(false)).unwrap().pieces_and_holes()
    };
    let grey = GrayImage::from_fn(120, 100, |x, y| Luma([if disc(x, y) { 20 } else { 240 }]));
    let deep =
        image::ImageBuffer::from_fn(120, 100, |x, y| Luma([if disc(x, y) { 5_000_u16 } else { 60_000 }]));
    // Black on nothing, and white on nothing.
    let clear = |value: u8| {
        RgbaImage::from_fn(120, 100, |x, y| {
            image::Rgba([value, value, value, if disc(x, y) { 255 } else { 0 }])
        })
    };
    let pictures: [DynamicImage; 4] = [grey.into(), deep.into(), clear(0).into(), clear(255).into()];
    for (index, picture) in pictures.iter().enumerate() {
        for format in [ImageFormat::Png, ImageFormat::Tiff, ImageFormat::WebP] {
            let picture = match format {
                // It knows 8 bits alone.
                ImageFormat::WebP => &DynamicImage::from(picture.to_rgba8()),
                _ => picture,
            };
            let mut bytes = Vec::new();
            picture.write_to(&mut Cursor::new(&mut bytes), format).unwrap();
            assert_eq!(traced(&bytes), [1, 1], "picture {index} as {format:?}");
            let cut_off = Photo::read(&bytes[..bytes.len() / 2], &mut Notices::new());
            assert!(cut_off.is_err(), "picture {index} as {format:?}");
        }
    }
}

/// The badge of `tests/recipes/pictures.py`, a millimetre a pixel, at most so many colours.
fn badge(file: &str, settings: impl FnOnce(&mut Settings)) -> Trace {
    let path = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/data/trace").join(file);
    let photo = Photo::read(&std::fs::read(path).unwrap(), &mut Notices::new()).unwrap();
    let mut wanted = Settings::new(PictureSize::Length(Mm::new(400.0)));
    wanted.ink = Ink::Colours(Colours { count: 4, left_out: None });
    settings(&mut wanted);
    let never = AtomicBool::new(false);
    prepare(&photo, &wanted, &never).unwrap().trace("badge", &wanted, &never).unwrap()
}

fn areas(trace: &Trace) -> BTreeMap<&str, f64> {
    let area = |element: &'_ design::Element| element.region.area();
    trace.design.elements.iter().map(|element| (element.name.as_str(), area(element))).collect()
}

/// Whether an outline goes back on itself somewhere, as no drawing here does.
fn turns_back(ring: Ring<'_>) -> bool {
    let points: Vec<DVec2> = ring.points().collect();
    let at = |i: usize| points[i % points.len()];
    let turn = |i: usize| (at(i + 1) - at(i)).angle_to(at(i + 2) - at(i + 1)).abs();
    (0..points.len()).any(|i| turn(i) > 2.0)
}

/// Areas by hand: what stands in the recipe. Half of a pixel each side of an outline is what a picture may hide; this
/// holds it to a fifth.
#[test]
fn each_colour_becomes_an_element_and_none_overlap() {
    use std::f64::consts::PI;
    let green = PI * 120.0 * 120.0 - 90.0 * 90.0;
    let ring = PI * (135.0 * 135.0 - 120.0 * 120.0);
    let rust = 90.0 * 90.0 - 30.0 * 30.0;
    let outline = |name: &str| match name {
        "green" => 2.0 * PI * 120.0 + 360.0,
        "black" => 2.0 * PI * 255.0,
        _ => 480.0,
    };
    // Print shops' pictures are read by whatever turns CMYK to red, green and blue: the colours shift, the places stay.
    for (file, within) in [("badge.png", 0.2), ("badge-cmyk.jpg", 0.35)] {
        let trace = badge(file, |_| {});
        let found = areas(&trace);
        let expected: BTreeMap<&str, f64> = if file == "badge.png" {
            BTreeMap::from([("green", green), ("black", ring), ("brown", rust)])
        } else {
            let mut names: Vec<&str> = found.keys().copied().collect();
            assert_eq!(names.len(), 3, "{found:?}");
            names.sort_by(|a, b| found[b].total_cmp(&found[a]));
            BTreeMap::from([(names[0], green), (names[1], ring), (names[2], rust)])
        };
        assert_eq!(found.keys().collect::<Vec<_>>(), expected.keys().collect::<Vec<_>>(), "{file}");
        for (name, area) in &expected {
            let off = (found[name] - area).abs() / outline(name);
            assert!(off < within, "{file}: {name} is off by {off} pixels, {} for {area}", found[name]);
        }
        let turns_back =
            trace.design.elements.iter().flat_map(|element| element.region.rings()).any(turns_back);
        assert!(!turns_back, "{file}");
        let union =
            Region::union(trace.design.grid, trace.design.elements.iter().map(|element| &element.region));
        let sum: f64 = found.values().sum();
        assert!((union.area() - sum).abs() < 1e-6 * sum, "{file}: elements overlap");
        // No hair of ground is left between two colours: closing gaps of half a pixel adds next to nothing.
        let added = union.grown(0.25).grown(-0.25).area() - union.area();
        let round: f64 = expected.keys().map(|name| outline(name)).sum();
        assert!(added < 0.004 * round, "{file}: {added} square millimetres of gaps");
        let paper: Vec<bool> = trace.colours.iter().map(|colour| colour.is_paper).collect();
        assert_eq!(paper.iter().filter(|is_paper| **is_paper).count(), 1, "{file}");
    }
}

#[test]
fn colours_are_left_out_and_pieces_and_holes_too() {
    let all = badge("badge.png", |_| {});
    let of = |name: &str| {
        let named = |rgb: [u8; 3]| match name {
            "green" => rgb[1] > 90 && rgb[0] < 90,
            "black" => rgb.iter().all(|value| *value < 60),
            _ => rgb.iter().all(|value| *value > 200),
        };
        all.colours.iter().position(|colour| named(colour.rgb)).unwrap()
    };
    let left_out = Some(BTreeSet::from([of("green"), of("cream")]));
    let some = badge("badge.png", |settings| {
        settings.ink = Ink::Colours(Colours { count: 4, left_out });
    });
    assert_eq!(areas(&some).keys().copied().collect::<Vec<_>>(), ["black", "brown"]);

    // The hole of the rust is filled by a place in it, and the ring taken out by a place in that.
    let share = |x: f64, y: f64| dvec2(x / 400.0, y / 300.0);
    let without = badge("badge.png", |settings| {
        settings.without = vec![share(200.0, 150.0), share(200.0, 22.0), share(2.0, 2.0)];
    });
    let found = areas(&without);
    assert_eq!(found.keys().copied().collect::<Vec<_>>(), ["brown", "green"]);
    assert!((found["brown"] - 8100.0).abs() < 60.0, "{found:?}");
    assert!((found["green"] - areas(&all)["green"]).abs() < 1e-6, "{found:?}");
    let nothing = |trace: Result<Trace, TraceError>| matches!(trace, Err(TraceError::Setting(_)));
    for count in [0, 1, 9] {
        let mut settings = Settings::new(PictureSize::Length(Mm::new(400.0)));
        settings.ink = Ink::Colours(Colours { count, left_out: None });
        let picture = RgbaImage::from_pixel(9, 9, image::Rgba([0, 0, 0, 255]));
        assert!(nothing(self::trace(&picture, &settings)), "{count} colours");
    }
}

/// What is kept from one trace to the next changes no outline.
#[test]
fn colours_traced_again_come_out_as_at_first() {
    let path = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/data/trace/badge.png");
    let photo = Photo::read(&std::fs::read(path).unwrap(), &mut Notices::new()).unwrap();
    let never = AtomicBool::new(false);
    let by = |left_out: &[usize], speck: f64| Settings {
        ink: Ink::Colours(Colours { count: 4, left_out: Some(left_out.iter().copied().collect()) }),
        speck: Mm::new(speck),
        ..Settings::new(PictureSize::Length(Mm::new(400.0)))
    };
    let kept = prepare(&photo, &by(&[0], 0.5), &never).unwrap();
    for settings in [by(&[0], 0.5), by(&[0], 2.0), by(&[0, 2], 0.5), by(&[1], 0.5), by(&[0], 0.5)] {
        let afresh = prepare(&photo, &settings, &never).unwrap().trace("badge", &settings, &never).unwrap();
        assert_eq!(kept.trace("badge", &settings, &never).unwrap(), afresh, "{settings:?}");
    }
}

#[test]
fn a_traced_drawing_says_how_sharp_its_picture_was() {
    let trace = Rendered::of(&known()[0], 300).traced();
    let sharpness = trace.design.sharpness.unwrap();
    let svg = spelk::sheet::outline::outline_svg(&trace.design, 2.0);
    let read = design::read("traced", svg.as_bytes()).unwrap().sharpness.unwrap();
    // Written to a ten-thousandth of a millimetre.
    assert!((read.pixel.get() - 2.0 * sharpness.pixel.get()).abs() < 1e-4, "{read:?}");
    let job = spelk::job::Job::new(std::sync::Arc::new(trace.design));
    let text = spelk::job::saved::to_text(&job);
    let opened = spelk::job::saved::from_text(text.as_bytes()).unwrap();
    assert_eq!(opened.design().sharpness, Some(sharpness));
}

#[test]
fn a_wall_near_its_limit_is_in_doubt_as_far_as_the_picture_leaves_it() {
    // Two sunk panels with a wall between them that is 3 pixels thick.
    let mut design = support::design(&[(
        "panels",
        vec![rectangle(0.0, 0.0, 40.0, 30.0), rectangle(40.6, 0.0, 40.0, 30.0)],
    )]);
    design.sharpness = Some(design::Sharpness { pixel: Mm::new(0.2), tolerance: Mm::new(0.05) });
    let mut job = spelk::job::Job::new(std::sync::Arc::new(design));
    job.apply(spelk::job::Edit::TreatAll(spelk::job::Treatment::Sunk)).unwrap();
    let measured = spelk::proof::measure(&job);
    let at = |factor: f64| {
        let mut job = job.clone();
        job.apply(spelk::job::Edit::Size(spelk::job::Size::Factor(factor))).unwrap();
        let ratings = spelk::proof::rate(&job, &measured);
        let proof = spelk::proof::proof(&job, &measured, &ratings);
        let wall =
            proof.findings.into_iter().find(|finding| finding.kind() == spelk::proof::FindingKind::ThinWall);
        wall.map(|wall| (wall.measured().unwrap(), wall.limit().unwrap(), wall.within().unwrap(), wall))
    };
    let (_, _, within, _) = at(1.0).expect("0.6 mm is thin");
    assert!((within.get() - 0.3).abs() < 1e-9, "{within:?}");
    let doubtful = |factor: f64| {
        let (width, limit, within, wall) = at(factor)?;
        assert!((within.get() - 0.3 * factor).abs() < 1e-9, "it grows with the design");
        let words = spelk::words::finding::advice(&wall, spelk::units::LengthUnit::Millimetres);
        assert_eq!(words.contains("from this picture"), width + within >= limit, "{words}");
        Some(width + within >= limit)
    };
    let seen: Vec<bool> = (0..40).filter_map(|k| doubtful(0.5 + 0.1 * f64::from(k))).collect();
    assert!(seen.contains(&true) && seen.contains(&false), "{seen:?}");
}

/// The guide's own pictures, through the command line.
#[test]
fn a_picture_is_traced_from_the_command_line() {
    let folder = tempfile::tempdir().unwrap();
    let out = folder.path().join("leaf.svg");
    let out = out.to_str().unwrap();
    let leaf = "tests/data/trace/leaf.png";
    let run = spelk(&["trace", leaf, "-o", out, "--length", "120", "--json"]);
    assert_eq!(run.status, 0, "{}", run.err);
    let json: serde_json::Value = serde_json::from_str(&run.out).unwrap();
    // The leaf and its stalk are one; its ribs touch nothing.
    assert_eq!([json["pieces"].as_u64(), json["holes"].as_u64()], [Some(1), Some(10)], "{json}");
    assert_eq!(json["pixel"], 0.2);
    assert!(run.err.contains("a pixel is 0.2 mm") && run.err.contains("0.3 mm"), "{}", run.err);
    let proofed = spelk(&["proof", out, "--json"]);
    let json: serde_json::Value = serde_json::from_str(&proofed.out).unwrap();
    assert_eq!(json["design"]["width_within_mm"], 0.3);
    // The drawing is there now.
    spelk(&["trace", leaf, "-o", out, "--length", "120"]).refused(&["already there"]);
    let other = folder.path().join("other.svg");
    let other = other.to_str().unwrap();
    spelk(&["trace", leaf, "-o", other]).refused(&["--length"]);
    spelk(&["trace", leaf, "-o", other, "--length", "9", "--width", "9"]).refused(&["not both"]);
    spelk(&["trace", leaf, "-o", other, "--length", "9", "--corners", "1,1 9,1 9,9 1,9"])
        .refused(&["--width"]);
    spelk(&["trace", leaf, "-o", other, "--length", "9", "--threshold", "2"]).refused(&["threshold"]);
    spelk(&["trace", "Cargo.toml", "-o", other, "--length", "9"]).refused(&["Cargo.toml", "PNG"]);
    spelk(&["trace", leaf, "-o", leaf, "--length", "9"]).refused(&["leaf.png"]);
}

#[test]
fn a_picture_in_a_drawing_is_traced_when_asked_for() {
    let folder = tempfile::tempdir().unwrap();
    let image = support::embedded(&std::fs::read("tests/data/trace/leaf.png").unwrap());
    let drawing = |images: &str| {
        let path = folder.path().join("drawing.svg");
        let svg = format!(
            r#"<svg xmlns="http://www.w3.org/2000/svg" width="90mm" height="90mm"><path d="M0 0H9V9H0Z"/>{images}</svg>"#
        );
        std::fs::write(&path, svg).unwrap();
        path
    };
    let out = folder.path().join("out.svg");
    let out = out.to_str().unwrap();
    let one = drawing(&image);
    let noted = spelk(&["proof", one.to_str().unwrap()]).err;
    assert!(noted.contains("spelk trace"), "it is offered: {noted}");
    let run = spelk(&["trace", one.to_str().unwrap(), "-o", out, "--length", "120"]);
    assert_eq!(run.status, 0, "{}", run.err);
    assert!(run.out.contains("1 piece with 10 holes"), "{}", run.out);
    let two = drawing(&image.repeat(2));
    spelk(&["trace", two.to_str().unwrap(), "-o", out, "--length", "9", "--force"]).refused(&["2 pictures"]);
    let none = drawing("");
    spelk(&["trace", none.to_str().unwrap(), "-o", out, "--length", "9", "--force"]).refused(&["no picture"]);
}
