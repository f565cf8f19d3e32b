//! The slow obvious answer: the same axis from a diagram made by someone else, to hold ours against.
//!
//! Coordinates are lattice steps. The engine is the sweep of Fortune for segments with exact
//! predicates (Sydorchuk's `Boost.Polygon`, ported in `boostvoronoi`); a vertex is off by a few units in
//! the last place. It keeps its sweep in a list with random levels, and where edges in one line meet it may
//! order them by luck and come out wrong; so every vertex is checked, and a diagram that fails is made
//! again.

use super::axis;
use super::{AxisPoint, FeatureShape, Piece, WidthMap, Widths, measure};
use crate::geometry::nearest_on;
use crate::geometry::voronoi::{Edge, Face, Site, Sites, point};
use crate::geometry::{FillRule, Grid, Rect, Region, Ring};
use boostvoronoi::prelude::{Builder, Diagram, Line, Point, SourceCategory};
use glam::{DVec2, dvec2};
use i_overlay::i_float::int::point::IntPoint;
use proptest::prelude::*;
use rayon::prelude::*;
use skrifa::instance::{LocationRef, Size};
use skrifa::outline::{DrawSettings, OutlinePen};
use skrifa::{FontRef, GlyphId, MetadataProvider as _};
use std::collections::HashMap;
use std::f64::consts::TAU;

/// The lattice is turned and grown by this whole-numbered factor, as complex numbers are multiplied, for
/// the engine's sake, and back after. It sweeps along x and goes wrong, if it does, among edges that are
/// upright; in designs many are, but few run along 5 : -2. Exact, and within 32 bits for nodes to 2^28.
const TURN: [i32; 2] = [5, 2];

/// How often a diagram is made before giving up. A wrong one was never seen twice in a row on a turned
/// lattice; on a plain one a quarter are wrong for the worst outline known.
const TRIES: u32 = 8;

/// How far, in steps, a vertex may be from being equally far from its sites, and what share of its size
/// besides. The engine promises some hundred units in the last place.
const SOUND_STEPS: f64 = 1e-3;
const SOUND_SHARE: f64 = 1e-9;

fn turned(node: IntPoint<i32>) -> Point<i32> {
    let [c, s] = TURN;
    Point { x: c * node.x - s * node.y, y: s * node.x + c * node.y }
}

fn turned_back(at: DVec2) -> DVec2 {
    let [c, s] = TURN.map(f64::from);
    DVec2::new(c * at.x + s * at.y, c * at.y - s * at.x) / (c * c + s * s)
}

/// The distance from a site, in steps.
fn clearance(sites: &Sites, site: Site, at: DVec2) -> f64 {
    if site.is_node() {
        return at.distance(point(sites.node_at(site.index())));
    }
    at.distance(nearest_on(sites.segment(site.index()).map(point), at))
}

/// Every edge of a diagram, but those between a segment and its own end; `None` where it came out wrong.
fn edges(sites: &Sites) -> Option<Vec<Edge>> {
    let mut names = HashMap::new();
    for (name, [start, _]) in (0..).zip(sites.segments()) {
        names.entry((start.x, start.y)).or_insert(name);
    }
    let named = |node: IntPoint<i32>| names.get(&(node.x, node.y)).map(|&name| Site::node(name));
    let lines = sites.segments().map(|[a, b]| Line::new(turned(a), turned(b)));
    let diagram = Builder::<i32>::default().with_segments(lines).ok()?.build().ok()?;
    let site = |half: &boostvoronoi::prelude::Edge| {
        let (source, category) = diagram.cell(half.cell().ok()?).ok()?.source_index_2();
        let [start, end] = sites.segment(source.u32());
        Some(match category {
            SourceCategory::Segment => Site::segment(source.u32()),
            SourceCategory::SegmentEnd => named(end)?,
            SourceCategory::SegmentStart | SourceCategory::SinglePoint => named(start)?,
        })
    };
    let mut found = Vec::new();
    // Half-edges come in twins, one after the other.
    for twins in diagram.edges().chunks_exact(2).filter(|twins| twins[0].is_primary()) {
        let [a, b] = [site(&twins[0])?, site(&twins[1])?];
        let end = |half: usize| vertex(&diagram, &twins[half]);
        let ends = match (end(0), end(1)) {
            (Some(a), Some(b)) => [a, b],
            (one, other) => {
                // Only between two nodes; the first lies to the left.
                let [p, q] = [a, b].map(|site| point(sites.node_at(site.index())));
                let along = (q - p).perp().normalize();
                let far = |way: f64| (p + q) * 0.5 + along * (way * 1e9);
                [one.unwrap_or_else(|| far(-1.0)), other.unwrap_or_else(|| far(1.0))]
            }
        };
        for at in [end(0), end(1)].into_iter().flatten() {
            let [a, b] = [a, b].map(|site| clearance(sites, site, at));
            let off = (a - b).abs();
            if off.is_nan() || off > SOUND_STEPS + SOUND_SHARE * (at.length() + a) {
                return None;
            }
        }
        let face = face(sites, [a, b], ends)?;
        found.push(Edge { sites: [a, b], face, ends });
    }
    Some(found)
}

fn vertex(diagram: &Diagram, half: &boostvoronoi::prelude::Edge) -> Option<DVec2> {
    let vertex = diagram.vertex(half.vertex0()?).ok()?;
    Some(turned_back(dvec2(vertex.x(), vertex.y())))
}

/// On which side of the outline an edge lies; `None` where it lies on it.
fn face(sites: &Sites, pair: [Site; 2], ends: [DVec2; 2]) -> Option<Face> {
    let Some(segment) = pair.into_iter().find(|site| !site.is_node()) else {
        return sites.cones[pair[0].index() as usize].map(|cone| cone.face);
    };
    let [a, b] = sites.segment(segment.index()).map(point);
    let [one, other] = ends.map(|at| (b - a).perp_dot(at - a));
    let beside = if one.abs() > other.abs() { one } else { other };
    Some(if beside > 0.0 { Face::Inside } else { Face::Outside })
}

/// `None` where the diagram came out wrong.
fn reference(region: &Region) -> Option<Widths> {
    let sites = Sites::of(&region.node_segments());
    let edges = edges(&sites)?;
    let grid = region.grid();
    let sides = axis::sides_of(&sites, &edges, grid.origin(), grid.step());
    let [inside, outside] = sides;
    let [inside, outside] = [(inside, Face::Inside), (outside, Face::Outside)]
        .map(|(side, face)| WidthMap::of(side, region.grid().step(), face));
    Some(Widths { inside, outside })
}

/// What may be different, in millimetres: a thousandth of what a cutter leaves.
const TOLERANCE: f64 = 1e-3;

/// A point whose end is nipped off to less than this, in millimetres, may be told as sharp or as blunt: that
/// hangs on edges of a few steps, which lie within the uncertainty of a vertex.
const NIPPED: f64 = 1e-4;

fn is_nipped(piece: &Piece) -> bool {
    piece.narrow.width > 0.0 && piece.narrow.width < NIPPED && piece.length() > 2.0 * TOLERANCE
}

fn same(a: &Piece, b: &Piece) -> bool {
    let like = |ends: [(AxisPoint, AxisPoint); 2]| {
        let near = |(a, b): &(AxisPoint, AxisPoint)| {
            a.at.distance(b.at) < TOLERANCE && (a.width - b.width).abs() < TOLERANCE
        };
        ends.iter().all(near)
    };
    let turn = (a.direction - b.direction).sin().abs();
    // Either end of a wall of even width may be called the narrow one.
    (like([(a.narrow, b.narrow), (a.wide, b.wide)]) || like([(a.narrow, b.wide), (a.wide, b.narrow)]))
        && (turn * a.length() < 2.0 * TOLERANCE || turn < 1e-6)
}

/// That every piece of a map longer than the tolerance is among another's, and a taper where its like is one. Only behind a
/// point at one of the `nips`, edges of a few steps, may one be a taper and the other not; whether any is.
fn check_among(name: &str, map: &WidthMap, other: &WidthMap, nips: &[DVec2]) -> Result<bool, String> {
    let (pieces, others) = (map.pieces(), other.pieces());
    let is_at_nip = |map: &WidthMap, piece: &Piece| {
        piece.taper && nips.iter().any(|nip| nip.distance(map.tips[piece.tip as usize].at) < TOLERANCE)
    };
    let mut differs = false;
    let width = |piece: &Piece| piece.narrow.width;
    for piece in pieces.iter().filter(|piece| piece.length() > 2.0 * TOLERANCE) {
        let first = others.partition_point(|other| width(other) < width(piece) - TOLERANCE);
        let near = others[first..].iter().take_while(|other| width(other) < width(piece) + TOLERANCE);
        let alike: Vec<&Piece> = near.filter(|other| same(piece, other)).collect();
        let is_taper_alike = alike.iter().any(|like| like.taper == piece.taper || is_nipped(piece));
        differs |= !is_taper_alike;
        let may_differ = is_at_nip(map, piece) || alike.iter().any(|like| is_at_nip(other, like));
        if alike.is_empty() || !(is_taper_alike || may_differ) {
            let off = |other: &&Piece| {
                other.narrow.at.distance(piece.narrow.at) + other.wide.at.distance(piece.wide.at)
            };
            let nearest = others.iter().min_by(|a, b| off(a).total_cmp(&off(b)));
            return Err(format!("{name}: {piece:?} has no like, the nearest is {nearest:?}"));
        }
    }
    Ok(differs)
}

/// What is told at a limit: kind, width, length, and where.
fn told(map: &WidthMap, limit: f64) -> Vec<(bool, f64, f64, DVec2)> {
    let asked: Vec<_> = (0..map.pieces().len() as u32).map(|i| (i, limit)).collect();
    let told = map
        .features(&asked)
        .map(|feature| (feature.shape == FeatureShape::Neck, feature.width, feature.length, feature.at));
    told.filter(|feature| feature.2 > 0.05).collect()
}

/// The limit next above one that no piece is as wide as at either end: on a lattice many are as wide as each other, and
/// rounding says which of them are under it.
fn clear(limit: f64, maps: [&WidthMap; 2]) -> f64 {
    let pieces = maps.into_iter().flat_map(WidthMap::pieces);
    let mut widths: Vec<f64> = pieces.flat_map(|piece| [piece.narrow.width, piece.wide.width]).collect();
    widths.sort_unstable_by(f64::total_cmp);
    let above = widths.partition_point(|&width| width < limit - TOLERANCE);
    widths[above..].iter().fold(limit, |limit, width| {
        if (width - limit).abs() < TOLERANCE { width + 2.0 * TOLERANCE } else { limit }
    })
}

fn check_maps(name: &str, ours: &WidthMap, theirs: &WidthMap, nips: &[DVec2]) -> Result<(), String> {
    let tapers_differ = check_among(&format!("{name}, ours"), ours, theirs, nips)?
        | check_among(&format!("{name}, the reference's"), theirs, ours, nips)?;
    if tapers_differ || ours.pieces().iter().chain(theirs.pieces()).any(is_nipped) {
        return Ok(());
    }
    let widest = theirs.pieces().last().map_or(0.0, |piece| piece.narrow.width);
    for limit in [0.1, 0.3, 0.7, 2.0].map(|share| clear(share * widest, [ours, theirs])) {
        let (ours, mut theirs) = (told(ours, limit), told(theirs, limit));
        if ours.len() != theirs.len() {
            return Err(format!("{name} under {limit}: {ours:?} and {theirs:?}"));
        }
        for one in ours {
            let like = |other: &(bool, f64, f64, DVec2)| {
                // Of an even wall any place may be told, but not that of a tip.
                one.0 == other.0
                    && (one.1 - other.1).abs() < TOLERANCE
                    && (one.2 - other.2).abs() < 2.0 * TOLERANCE
                    && (one.0 || one.3.distance(other.3) < TOLERANCE)
            };
            // The most like: of several alike another may be meant for the next.
            let off = |other: &(bool, f64, f64, DVec2)| {
                (one.1 - other.1).abs() + (one.2 - other.2).abs() + 1e-6 * one.3.distance(other.3)
            };
            let like = (0..theirs.len())
                .filter(|&i| like(&theirs[i]))
                .min_by(|&a, &b| off(&theirs[a]).total_cmp(&off(&theirs[b])));
            let Some(like) = like else {
                return Err(format!("{name} under {limit}: {one:?} has no like in {theirs:?}"));
            };
            theirs.swap_remove(like);
        }
    }
    Ok(())
}

/// Whether the ends of every piece are as far from the outline as they say, by the distance to each edge.
/// `O(n^2)`.
fn is_true(region: &Region, widths: &Widths) -> bool {
    let edges: Vec<[DVec2; 2]> = region.rings().flat_map(Ring::segments).collect();
    let clearance = |at: DVec2| {
        let to_edge = |&edge: &[DVec2; 2]| at.distance_squared(nearest_on(edge, at));
        edges.iter().map(to_edge).fold(f64::INFINITY, f64::min).sqrt()
    };
    let pieces = widths.inside.pieces().par_iter().chain(widths.outside.pieces());
    pieces
        .flat_map_iter(|piece| [piece.narrow, piece.wide])
        .all(|end| (2.0 * clearance(end.at) - end.width).abs() < TOLERANCE)
}

/// Pieces that meet end in one place to the last bit.
fn check_meeting(name: &str, map: &WidthMap) {
    let mut places = HashMap::new();
    for end in map.pieces().iter().flat_map(|piece| [piece.narrow, piece.wide]) {
        if end.vertex != AxisPoint::BETWEEN {
            let place = *places.entry(end.vertex).or_insert(end.at);
            assert!(place == end.at, "{name}: {place} and {} are one vertex", end.at);
        }
    }
}

/// Ours is the same every time; the reference is not, and a wrong diagram may pass for a sound one. So
/// where the two differ it is made again.
fn check(name: &str, region: &Region) {
    let ours = measure(region);
    for map in [&ours.inside, &ours.outside] {
        check_meeting(name, map);
    }
    let short = region.rings().flat_map(Ring::segments).filter(|[a, b]| a.distance(*b) < NIPPED);
    let nips: Vec<DVec2> = short.map(|[a, b]| a.midpoint(b)).collect();
    // Empty where no diagram came out sound, which happens: then there is nothing to hold ours against.
    let mut differ = String::new();
    for _ in 0..TRIES {
        let Some(theirs) = reference(region) else { continue };
        let found = check_maps(&format!("{name}, inside"), &ours.inside, &theirs.inside, &nips)
            .and_then(|()| check_maps(&format!("{name}, outside"), &ours.outside, &theirs.outside, &nips));
        match found {
            Ok(()) => return,
            // Among dots that are all but squares of a lattice the reference has been seen to be wrong every
            // time: a ball that touches two of them and crosses the others.
            Err(_) if !is_true(region, &theirs) => {
                assert!(is_true(region, &ours), "{name}: ours is not as far from the outline as it says");
            }
            Err(error) => differ = error,
        }
    }
    assert!(differ.is_empty(), "{differ}");
}

fn check_rings(name: &str, rings: &[Vec<DVec2>]) {
    check(name, &cleaned(rings));
}

fn cleaned(rings: &[Vec<DVec2>]) -> Region {
    let bounds = Rect::around(rings.iter().flatten().copied()).expect("rings have points");
    Region::clean(Grid::covering(bounds), rings, FillRule::EvenOdd)
}

fn regular(count: i32, radius: f64, center: DVec2) -> Vec<DVec2> {
    (0..count).map(|i| center + DVec2::from_angle(TAU * f64::from(i) / f64::from(count)) * radius).collect()
}

#[test]
fn rings_of_every_fineness() {
    for count in [3, 4, 5, 12, 90, 500] {
        for shift in [0.0, 0.5, 4.0] {
            let hole = regular(count, 12.0, dvec2(shift, 0.3 * shift));
            check_rings("ring", &[regular(count, 30.0, DVec2::ZERO), hole]);
        }
    }
}

#[test]
fn sizes_a_million_apart() {
    // Teeth of a few thousandths of a millimetre along one edge of something a metre long.
    let mut comb: Vec<DVec2> = vec![dvec2(1000.0, 40.0), dvec2(0.0, 40.0), dvec2(0.0, 0.0)];
    for i in 0..200 {
        let x = 500.0 + f64::from(i) * 0.011;
        comb.extend([dvec2(x, 0.0), dvec2(x + 0.002, 0.013), dvec2(x + 0.006, 0.004)]);
    }
    comb.push(dvec2(1000.0, 0.0));
    check_rings("comb", &[comb]);
    let needle = [dvec2(0.0, 0.0), dvec2(1000.0, 0.01), dvec2(1000.0, 0.012), dvec2(0.0, 0.02)];
    check_rings("needles", &[needle.to_vec(), needle.map(|p| p + dvec2(0.5, 0.03)).to_vec()]);
}

/// A stroke cut where another, folded to nothing, crosses it: its two parts run on as one line but for 1e-13 or so.
#[test]
#[expect(clippy::unreadable_literal, reason = "as they were found")]
fn parts_that_all_but_run_on_as_one_line() {
    let folded = [
        [-8.968279060812925e-6, -7.999995027359172],
        [-48.0, 15.999998395849797],
        [48.00000611515411, -32.0],
        [0.0, -8.0],
    ];
    let upright =
        [[-16.000004771800747, 0.0], [-15.999997594501828, 40.0], [-16.000002701487293, -40.00000414105635]];
    check_rings("folded and upright", &[folded.map(DVec2::from).to_vec(), upright.map(DVec2::from).to_vec()]);
}

/// Two points seven steps apart: what either touches lies before its own far side by less than rounding.
#[test]
#[expect(clippy::unreadable_literal, reason = "as they were found")]
fn points_that_all_but_meet() {
    let upper = [[24.0, 0.0], [48.000006630339804, 6.462533379981374e-6], [0.0, 0.0]];
    let lower = [[-24.0, -8.0], [48.00000631006947, 0.0], [0.0, -8.0]];
    check_rings("points", &[upper, lower].map(|ring| ring.map(DVec2::from).to_vec()));
}

/// Straight strokes, at random and on a lattice, where much meets and is in line.
fn strokes(step: f64) -> impl Strategy<Value = Vec<Vec<DVec2>>> {
    let at = (-6..=6_i32, -6..=6_i32, -1.0..1.0_f64, -1.0..1.0_f64)
        .prop_map(move |(x, y, dx, dy)| dvec2(f64::from(x), f64::from(y)) * 8.0 + dvec2(dx, dy) * step);
    prop::collection::vec(prop::collection::vec(at, 3..9), 1..5)
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(120))]

    #[test]
    fn strokes_at_random(rings in strokes(8.0)) {
        check_rings("strokes", &rings);
    }

    #[test]
    fn strokes_on_a_lattice(rings in strokes(0.0)) {
        check_rings("lattice", &rings);
    }

    #[test]
    fn strokes_just_off_a_lattice(rings in strokes(1e-5)) {
        check_rings("just off", &rings);
    }
}

/// One end of the even wall is blunt, and at the other it runs into a stroke eight times as wide. Which end is the narrow one
/// is the last bit's to say, and the reference says otherwise.
#[test]
fn an_even_wall_with_a_blunt_end_is_no_point() {
    let rings = [
        vec![dvec2(-16.0, -32.0), dvec2(-40.0, -24.0), dvec2(48.0, 0.0)],
        vec![dvec2(0.0, 0.0), dvec2(-24.0, -32.0), dvec2(24.0, -48.0), dvec2(0.0, 24.0)],
    ];
    check_rings("even", &rings);
    let even = measure(&cleaned(&rings)).inside;
    let width = 8.0 / 10.0_f64.sqrt();
    let walls = even.pieces().iter().filter(|piece| (piece.wide.width - width).abs() < 1e-9);
    assert_eq!(
        walls.map(|piece| piece.taper).collect::<Vec<_>>(),
        [false],
        "one wall, and no part of a taper"
    );
}

/// Flattens a glyph, each curve into so many chords.
struct Flattened(Vec<Vec<DVec2>>);

const CHORDS: i32 = 8;

impl Flattened {
    fn curve(&mut self, at: impl Fn(DVec2, f64) -> DVec2) {
        let Some(ring) = self.0.last_mut() else { return };
        let Some(&start) = ring.last() else { return };
        ring.extend((1..=CHORDS).map(|i| at(start, f64::from(i) / f64::from(CHORDS))));
    }
}

fn place(x: f32, y: f32) -> DVec2 {
    dvec2(f64::from(x), f64::from(y))
}

impl OutlinePen for Flattened {
    fn move_to(&mut self, x: f32, y: f32) {
        self.0.push(vec![place(x, y)]);
    }
    fn line_to(&mut self, x: f32, y: f32) {
        self.curve(|a, t| a.lerp(place(x, y), t));
    }
    fn quad_to(&mut self, ax: f32, ay: f32, x: f32, y: f32) {
        let (b, c) = (place(ax, ay), place(x, y));
        self.curve(|a, t| a.lerp(b, t).lerp(b.lerp(c, t), t));
    }
    fn curve_to(&mut self, ax: f32, ay: f32, bx: f32, by: f32, x: f32, y: f32) {
        let (b, c, d) = (place(ax, ay), place(bx, by), place(x, y));
        self.curve(|a, t| {
            let middle = b.lerp(c, t);
            a.lerp(b, t).lerp(middle, t).lerp(middle.lerp(c.lerp(d, t), t), t)
        });
    }
    fn close(&mut self) {}
}

#[test]
fn every_glyph_of_a_font() {
    let font = FontRef::new(epaint_default_fonts::UBUNTU_LIGHT).expect("the font in the tree is sound");
    let outlines = font.outline_glyphs();
    let glyphs: Vec<u32> = (0..font.glyph_names().num_glyphs()).collect();
    glyphs.par_iter().step_by(3).for_each(|&id| {
        let Some(glyph) = outlines.get(GlyphId::new(id)) else { return };
        let mut pen = Flattened(Vec::new());
        let settings = DrawSettings::unhinted(Size::new(100.0), LocationRef::default());
        if glyph.draw(settings, &mut pen).is_ok() && !pen.0.is_empty() {
            check_rings(&format!("glyph {id}"), &pen.0);
        }
    });
}

/// Every so many drawings of a corpus are measured both ways.
const EVERY: usize = 20;

/// Drawings of more edges take the reference too long.
const MOST_EDGES: usize = 3000;

/// Every twentieth drawing under the folder named by `SPELK_CORPUS`, as in the checks of whole corpora.
#[test]
#[ignore = "reads the drawings in SPELK_CORPUS; .ci/run fetches some"]
fn a_part_of_a_folder_of_real_drawings() {
    let folder = std::env::var_os("SPELK_CORPUS").expect("SPELK_CORPUS names a folder of drawings");
    let (mut folders, mut files) = (vec![std::path::PathBuf::from(folder)], Vec::new());
    while let Some(folder) = folders.pop() {
        let entries = std::fs::read_dir(&folder).expect("SPELK_CORPUS names a folder that can be read");
        for path in entries.filter_map(|entry| Some(entry.ok()?.path())) {
            if path.is_dir() {
                folders.push(path);
            } else if path.extension().is_some_and(|ending| ending == "svg") {
                files.push(path);
            }
        }
    }
    files.sort();
    let measured: Vec<usize> = files
        .par_iter()
        .step_by(EVERY)
        .filter_map(|file| {
            let design = crate::design::open(file).ok()?;
            let region = Region::union(design.grid, design.elements.iter().map(|element| &element.region));
            (region.segment_count() <= MOST_EDGES).then(|| {
                check(&file.display().to_string(), &region);
                region.segment_count()
            })
        })
        .collect();
    eprintln!(
        "{} of {} drawings measured both ways, {} edges",
        measured.len(),
        files.len(),
        measured.iter().sum::<usize>()
    );
    assert!(!measured.is_empty(), "SPELK_CORPUS holds drawings");
}
