//! The figures, each worked out by the program itself: what a figure shows is what the library returns.

use glam::{DAffine2, DVec2, dvec2};
use spelk::design::samples;
use spelk::geometry::widths::{AxisPoint, FeatureShape, axis_within, measure};
use spelk::geometry::{FillRule, Grid, Rect, Region, Ring};
use spelk::job::{Edit, Ends, Job};
use spelk::proof::ends::snipe_zones;
use spelk::proof::{Limits, fit};
use spelk::shop::BoardEnd;
use spelk::units::Mm;
use std::fmt::Write as _;
use std::sync::Arc;

/// Every figure: its file's name and the file.
pub(crate) fn all() -> [(&'static str, String); 4] {
    [("widths.svg", widths()), ("sizes.svg", sizes()), ("spaces.svg", spaces()), ("voronoi.svg", voronoi())]
}

const INK: &str = "#2b2620";
const FAINT: &str = "#8b8378";
const WOOD: &str = "#e8d9bd";
const PAPER: &str = "#fffdf8";
const AXIS: &str = "#b04a24";
const FOUND: &str = "#1f6f8b";

/// An SVG in the making: pixels, y down, on a ground of its own so that it reads on any page.
struct Figure(String);

impl Figure {
    fn new(width: f64, height: f64, title: &str) -> Figure {
        let mut svg = format!(
            "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{width}\" height=\"{height}\" viewBox=\"0 0 {width} {height}\" style=\"max-width:100%;height:auto\" role=\"img\" font-family=\"sans-serif\" font-size=\"13\">\n"
        );
        writeln!(svg, "<title>{title}</title>").expect("a string takes all");
        writeln!(svg, "<rect width=\"{width}\" height=\"{height}\" fill=\"{PAPER}\"/>")
            .expect("a string takes all");
        Figure(svg)
    }

    fn put(&mut self, element: std::fmt::Arguments<'_>) {
        self.0.write_fmt(element).expect("a string takes all");
        self.0.push('\n');
    }

    /// A region, filled by the rule of its rings.
    fn region(&mut self, region: &Region, to: DAffine2, style: &str) {
        let data: String = region.rings().map(|ring| ring_data(ring, to)).collect();
        self.put(format_args!("<path d=\"{data}\" fill-rule=\"evenodd\" {style}/>"));
    }

    fn rect(&mut self, rect: Rect, to: DAffine2, style: &str) {
        let [a, b] = [rect.min, rect.max].map(|corner| to.transform_point2(corner));
        let placed = Rect::new(a, b);
        self.put(format_args!(
            "<rect x=\"{:.2}\" y=\"{:.2}\" width=\"{:.2}\" height=\"{:.2}\" {style}/>",
            placed.min.x,
            placed.min.y,
            placed.size().x,
            placed.size().y
        ));
    }

    fn circle(&mut self, at: DVec2, radius: f64, style: &str) {
        self.put(format_args!("<circle cx=\"{:.2}\" cy=\"{:.2}\" r=\"{radius:.2}\" {style}/>", at.x, at.y));
    }

    fn line(&mut self, points: &[DVec2], style: &str) {
        let points: Vec<String> = points.iter().map(|p| format!("{:.2},{:.2}", p.x, p.y)).collect();
        self.put(format_args!("<polyline points=\"{}\" fill=\"none\" {style}/>", points.join(" ")));
    }

    fn words(&mut self, at: DVec2, words: &str, anchor: &str, color: &str) {
        self.put(format_args!(
            "<text x=\"{:.2}\" y=\"{:.2}\" text-anchor=\"{anchor}\" fill=\"{color}\">{words}</text>",
            at.x, at.y
        ));
    }

    /// A dimension line with a tick at either end and words beside its middle.
    fn dimension(&mut self, from: DVec2, to: DVec2, words: &str, aside: DVec2, anchor: &str) {
        let tick = (to - from).normalize().perp() * 4.0;
        let stroke = format!("stroke=\"{INK}\" stroke-width=\"1\"");
        self.line(&[from, to], &stroke);
        for end in [from, to] {
            self.line(&[end - tick, end + tick], &stroke);
        }
        self.words(from.midpoint(to) + aside, words, anchor, INK);
    }

    fn finish(mut self) -> String {
        self.0.push_str("</svg>\n");
        self.0
    }
}

fn ring_data(ring: Ring<'_>, to: DAffine2) -> String {
    let mut data = String::new();
    for (i, point) in ring.points().enumerate() {
        let at = to.transform_point2(point);
        let letter = if i == 0 { 'M' } else { 'L' };
        write!(data, "{letter}{:.2} {:.2}", at.x, at.y).expect("a string takes all");
    }
    data.push('Z');
    data
}

/// From design space to a figure: `scale` pixels to the millimetre, the origin at `corner`.
fn placed(corner: DVec2, scale: f64) -> DAffine2 {
    DAffine2::from_translation(corner) * DAffine2::from_scale(dvec2(scale, -scale))
}

fn cleaned(rings: &[Vec<DVec2>]) -> Region {
    let bounds = Rect::around(rings.iter().flatten().copied()).expect("a figure has points");
    Region::clean(Grid::covering(bounds), rings, FillRule::EvenOdd)
}

/// Points along an arc, ends included.
fn arc(middle: DVec2, radius: f64, from: f64, to: f64) -> impl Iterator<Item = DVec2> {
    const STEPS: u32 = 24;
    (0..=STEPS).map(move |i| {
        let angle = from + (to - from) * f64::from(i) / f64::from(STEPS);
        middle + DVec2::from_angle(angle.to_radians()) * radius
    })
}

/// A leaf on a stem: a wall that narrows to a neck, and a point.
fn leaf() -> Region {
    // The neck is left between two arcs, 5 mm apart.
    let mut outline = vec![dvec2(0.0, 3.0), dvec2(16.1, 3.0)];
    outline.extend(arc(dvec2(26.0, 0.0), 14.0, 135.0, 45.0));
    outline.extend([dvec2(58.0, 4.5), dvec2(88.0, 16.5), dvec2(58.0, 28.5)]);
    outline.extend(arc(dvec2(26.0, 33.0), 14.0, 315.0, 225.0));
    outline.extend([dvec2(16.1, 30.0), dvec2(0.0, 30.0)]);
    cleaned(&[outline])
}

fn chain(to: DAffine2, points: &[AxisPoint]) -> Vec<DVec2> {
    points.iter().map(|point| to.transform_point2(point.at)).collect()
}

/// The least angle between its two nearest places that a point of the axis sees and still counts.
const KEPT_ANGLE: f64 = 2.0 * std::f64::consts::FRAC_PI_3;

/// An outline, its medial axis and the largest disc at the narrowest place: its diameter is the width.
fn widths() -> String {
    const SCALE: f64 = 6.5;
    let region = leaf();
    let to = placed(dvec2(30.0, 225.0), SCALE);
    let mut figure = Figure::new(640.0, 300.0, "The width of a wall");
    figure.region(&region, to, &format!("fill=\"{WOOD}\" stroke=\"{INK}\" stroke-width=\"1.2\""));
    for points in axis_within(&region, 0.05) {
        figure.line(
            &chain(to, &points),
            &format!("stroke=\"{FAINT}\" stroke-width=\"1\" stroke-dasharray=\"3 3\""),
        );
    }
    let map = measure(&region).inside;
    for points in axis_within(&region, KEPT_ANGLE) {
        figure.line(
            &chain(to, &points),
            &format!("stroke=\"{AXIS}\" stroke-width=\"2.5\" stroke-linecap=\"round\""),
        );
    }
    for piece in map.pieces().iter().filter(|piece| piece.taper) {
        let ends = [piece.narrow, piece.wide];
        figure.line(
            &chain(to, &ends),
            &format!("stroke=\"{FOUND}\" stroke-width=\"2.5\" stroke-linecap=\"round\""),
        );
    }
    let narrowest = map.pieces().iter().find(|piece| !piece.taper).expect("the leaf has a neck");
    let at = to.transform_point2(narrowest.narrow.at);
    let radius = 0.5 * narrowest.narrow.width * SCALE;
    figure.circle(
        at,
        radius,
        &format!("fill=\"{FOUND}\" fill-opacity=\"0.18\" stroke=\"{FOUND}\" stroke-width=\"1.5\""),
    );
    for foot in narrowest.feet {
        figure.circle(to.transform_point2(foot), 3.0, &format!("fill=\"{FOUND}\""));
    }
    let [a, b] = narrowest.feet.map(|foot| to.transform_point2(foot));
    figure.line(&[a, b], &format!("stroke=\"{FOUND}\" stroke-width=\"1.5\""));
    let above = dvec2(at.x, 48.0);
    figure.line(&[at - dvec2(0.0, radius + 4.0), above], &format!("stroke=\"{FOUND}\" stroke-width=\"1\""));
    figure.words(
        above - dvec2(0.0, 8.0),
        &format!("width {:.2} mm: the largest disc that fits", narrowest.narrow.width),
        "middle",
        FOUND,
    );
    // The tip is told by the length that is thinner than a limit.
    let limit = 4.0;
    let asked: Vec<(u32, f64)> = (0..map.pieces().len() as u32).map(|i| (i, limit)).collect();
    let tips = map.features(&asked).filter(|f| matches!(f.shape, FeatureShape::Tip { .. }));
    for tip in tips {
        let FeatureShape::Tip { apex } = tip.shape else { continue };
        let tip_at = to.transform_point2(tip.at);
        let from = tip_at - dvec2(tip.length * SCALE, 0.0);
        let below = dvec2(0.0, 62.0);
        figure.dimension(
            from + below,
            tip_at + below,
            &format!(
                "a point of {:.0}°: its last {:.1} mm are under {limit:.0} mm",
                apex.to_degrees(),
                tip.length
            ),
            dvec2(24.0, 20.0),
            "end",
        );
    }
    figure.words(
        dvec2(30.0, 285.0),
        "solid: the axis that counts   dashed: branches into square corners, which are no walls",
        "start",
        INK,
    );
    figure.finish()
}

/// The widths of three walls as a design is scaled, and a limit that stays where it is.
fn sizes() -> String {
    const WALLS: [f64; 3] = [2.0, 3.2, 5.6];
    let mut rings = Vec::new();
    let mut x = 0.0;
    for wall in WALLS {
        rings.push(Rect::new(dvec2(x, 0.0), dvec2(x + wall, 18.0)).corners().to_vec());
        x += wall + 6.0;
    }
    let region = cleaned(&rings);
    let map = measure(&region).inside;
    let mut drawn: Vec<f64> = map.pieces().iter().map(|piece| piece.narrow.width).collect();
    drawn.sort_by(f64::total_cmp);
    let job = sample_job();
    let limit = Limits::of(&job).across.get();

    let mut figure = Figure::new(640.0, 330.0, "Widths scale, the limit does not");
    // Left: the same walls at three sizes, with the limit beside them.
    for (row, factor) in [1.0, 0.7, 0.4].into_iter().enumerate() {
        let foot = dvec2(70.0, 108.0 + 96.0 * row as f64);
        let to = placed(foot, 4.4 * factor);
        figure.region(&region, to, &format!("fill=\"{WOOD}\" stroke=\"{INK}\" stroke-width=\"1\""));
        figure.words(foot - dvec2(52.0, 2.0), &format!("{:.0} %", factor * 100.0), "start", INK);
        for (ring, wall) in rings.iter().zip(WALLS) {
            let thin = wall * factor < limit;
            let middle = to.transform_point2(dvec2(ring[0].x + 0.5 * wall, 0.0));
            let half = 0.5 * limit * 4.4;
            let color = if thin { AXIS } else { FOUND };
            figure.line(
                &[middle + dvec2(-half, 7.0), middle + dvec2(half, 7.0)],
                &format!("stroke=\"{color}\" stroke-width=\"3\""),
            );
        }
    }
    figure.words(dvec2(18.0, 322.0), &format!("bar: the limit, {limit:.2} mm at every size"), "start", INK);
    // Right: width against size.
    let (left, right, top, bottom) = (300.0, 620.0, 20.0, 285.0);
    let place = |factor: f64, width: f64| {
        dvec2(left + factor * (right - left) / 1.1, bottom - width * (bottom - top) / 6.5)
    };
    let stroke = format!("stroke=\"{INK}\" stroke-width=\"1\"");
    figure.line(&[dvec2(left, top), dvec2(left, bottom), dvec2(right, bottom)], &stroke);
    figure.words(dvec2(left + 6.0, top + 10.0), "width as carved", "start", INK);
    figure.words(dvec2(right, bottom + 18.0), "size, of the drawing", "end", INK);
    for factor in [0.4, 0.7, 1.0] {
        let at = place(factor, 0.0);
        figure.line(&[at, at + dvec2(0.0, 5.0)], &stroke);
        figure.words(at + dvec2(0.0, 18.0), &format!("{:.0} %", factor * 100.0), "middle", INK);
    }
    for width in drawn {
        figure.line(
            &[place(0.0, 0.0), place(1.05, 1.05 * width)],
            &format!("stroke=\"{INK}\" stroke-width=\"1.5\""),
        );
        let least = limit / width;
        if least <= 1.05 {
            figure.circle(place(least, limit), 4.0, &format!("fill=\"{FOUND}\""));
            figure.words(
                place(least, limit) + dvec2(6.0, 16.0),
                &format!("{:.0} %", 100.0 * least),
                "start",
                FOUND,
            );
        }
    }
    figure.line(&[place(0.0, limit), place(1.1, limit)], &format!("stroke=\"{AXIS}\" stroke-width=\"2\""));
    figure.words(place(0.02, limit) - dvec2(0.0, 6.0), "limit", "start", AXIS);
    figure.finish()
}

fn sample_job() -> Job {
    let sample = samples::find("house-number").expect("the sample is built in");
    let design = spelk::design::read(sample.id, sample.svg.as_bytes()).expect("a sample opens");
    Job::new(Arc::new(design))
}

/// Design space, and the board with its allowance, rollers and snipe zones.
fn spaces() -> String {
    const LEFT: f64 = 30.0;
    let mut job = sample_job();
    let outline = job.design().outline_box();
    let (length, width) = (job.board().length.get(), job.board().width.get());
    let scale = 580.0 / length;
    let mut figure =
        Figure::new(640.0, 230.0 + 2.0 * (width * scale + 56.0), "From design space to board space");
    let ink = format!("fill=\"{INK}\" fill-opacity=\"0.75\"");
    let axis = format!("stroke=\"{AXIS}\" stroke-width=\"1.5\"");
    let axes = |figure: &mut Figure, origin: DVec2| {
        figure.line(&[origin, origin + dvec2(46.0, 0.0)], &axis);
        figure.line(&[origin, origin - dvec2(0.0, 46.0)], &axis);
        figure.words(origin + dvec2(50.0, 4.0), "x", "start", AXIS);
        figure.words(origin - dvec2(3.0, 50.0), "y", "start", AXIS);
    };
    // Design space.
    let small = 140.0 / outline.size().y;
    let to = placed(dvec2(LEFT - outline.min.x * small, 170.0 + outline.min.y * small), small);
    for element in &job.design().elements {
        figure.region(&element.region, to, &ink);
    }
    axes(&mut figure, to.transform_point2(DVec2::ZERO));
    let aside = LEFT + outline.size().x * small + 30.0;
    let size = outline.size();
    let factor = job.factor();
    for (line, words, color) in [
        (70.0, format!("design space: {:.0} x {:.0} mm as drawn", size.x, size.y), INK),
        (100.0, format!("board_from_design: times {factor:.2}, turned, moved"), AXIS),
        (130.0, format!("board space: {length:.0} x {width:.0} mm, from the lower left corner"), INK),
    ] {
        figure.words(dvec2(aside, line), &words, "start", color);
    }
    // Board space, with held ends and with free ends.
    for (row, ends) in [Ends::Held, Ends::Free].into_iter().enumerate() {
        job.apply(Edit::Ends(ends)).expect("ends may be held or free");
        let foot = dvec2(LEFT, 200.0 + width * scale + row as f64 * (width * scale + 56.0));
        let to = placed(foot, scale);
        let board = Rect::new(DVec2::ZERO, dvec2(length, width));
        figure.rect(board, to, &format!("fill=\"{WOOD}\" stroke=\"{INK}\" stroke-width=\"1.2\""));
        let zones: Vec<[f64; 2]> = match ends {
            Ends::Held => {
                let reach = [BoardEnd::Left, BoardEnd::Right].map(|end| job.machine().allowance(end).get());
                vec![[0.0, reach[0]], [length - reach[1], length]]
            }
            Ends::Free => snipe_zones(&job).iter().map(|zone| zone.map(Mm::get)).collect(),
        };
        let (color, words) = match ends {
            Ends::Held => (FOUND, "held ends: the cutter stops where a roller reaches the end of the board"),
            Ends::Free => {
                (AXIS, "free ends: all of it is carved, and sniped where an end has left its roller")
            }
        };
        for [from, up_to] in zones {
            let zone = Rect::new(dvec2(from, 0.0), dvec2(up_to, width));
            figure.rect(
                zone,
                to,
                &format!("fill=\"{color}\" fill-opacity=\"0.2\" stroke=\"{color}\" stroke-width=\"1\""),
            );
        }
        let board_from_design = fit::board_from_design(&job, job.factor());
        for element in &job.design().elements {
            figure.region(&element.region, to * board_from_design, &ink);
        }
        if ends == Ends::Held {
            // The roller behind the cutter lies on the very end of the board.
            let reach = job.machine().allowance(BoardEnd::Left).get();
            let end = to.transform_point2(dvec2(0.0, width));
            let roller = Rect::new(end - dvec2(4.0, 6.0), dvec2(end.x + 4.0, foot.y + 6.0));
            figure.rect(
                roller,
                DAffine2::IDENTITY,
                &format!("fill=\"{PAPER}\" stroke=\"{FOUND}\" stroke-width=\"1.5\""),
            );
            let cutter = to.transform_point2(dvec2(reach, 0.3 * width));
            figure.circle(cutter, 6.0, &format!("fill=\"{PAPER}\" stroke=\"{FOUND}\" stroke-width=\"1.5\""));
            figure.words(cutter - dvec2(10.0, -4.0), "cutter", "end", INK);
            figure.words(end + dvec2(8.0, 16.0), "roller", "start", INK);
        } else {
            axes(&mut figure, foot);
        }
        figure.words(foot + dvec2(0.0, 22.0), words, "start", color);
    }
    figure.finish()
}

/// The Voronoi cells of an outline's edges and of the corner that juts into its inside.
fn voronoi() -> String {
    const SCALE: f64 = 7.0;
    let outline =
        [(0.0, 0.0), (70.0, 0.0), (70.0, 34.0), (44.0, 34.0), (36.0, 16.0), (28.0, 34.0), (0.0, 34.0)];
    let region = cleaned(&[outline.map(|(x, y)| dvec2(x, y)).to_vec()]);
    let to = placed(dvec2(60.0, 290.0), SCALE);
    let mut figure = Figure::new(640.0, 330.0, "Voronoi cells of edges and corners");
    figure.region(&region, to, &format!("fill=\"{WOOD}\" stroke=\"{INK}\" stroke-width=\"2\""));
    // Every edge of the diagram inside, however sharply it sees its two sites.
    let axis = axis_within(&region, 0.0);
    for points in &axis {
        figure.line(
            &chain(to, points),
            &format!("stroke=\"{AXIS}\" stroke-width=\"2\" stroke-linecap=\"round\""),
        );
    }
    // The corner's own cell is a wedge between the normals of its two edges.
    let corner = dvec2(36.0, 16.0);
    let edges: Vec<[DVec2; 2]> = region.rings().flat_map(Ring::segments).collect();
    for [a, b] in edges.iter().filter(|edge| edge.iter().any(|end| end.distance(corner) < 1e-3)) {
        let normal = (*b - *a).perp().normalize();
        let end = first_crossing(corner, normal, &axis);
        figure.line(
            &[to.transform_point2(corner), to.transform_point2(end)],
            &format!("stroke=\"{FOUND}\" stroke-width=\"1.5\" stroke-dasharray=\"5 3\""),
        );
    }
    figure.circle(to.transform_point2(corner), 4.0, &format!("fill=\"{FOUND}\""));
    // A disc that touches the corner and the edge below it: its middle is on the boundary of their cells.
    let below = first_crossing(corner, dvec2(0.0, -1.0), &axis);
    let radius = below.distance(corner);
    figure.circle(
        to.transform_point2(below),
        radius * SCALE,
        &format!("fill=\"{FOUND}\" fill-opacity=\"0.15\" stroke=\"{FOUND}\" stroke-width=\"1.2\""),
    );
    figure.circle(to.transform_point2(below), 3.0, &format!("fill=\"{AXIS}\""));
    figure.words(to.transform_point2(corner) + dvec2(0.0, -16.0), "corner", "middle", FOUND);
    figure.words(
        dvec2(60.0, 318.0),
        "between two edges the boundary is straight, between an edge and a corner it is a parabola",
        "start",
        INK,
    );
    figure.finish()
}

/// Where a ray first meets one of the chains.
fn first_crossing(from: DVec2, along: DVec2, chains: &[Vec<AxisPoint>]) -> DVec2 {
    let crossing = |[a, b]: [DVec2; 2]| {
        let edge = b - a;
        let turn = along.perp_dot(edge);
        let (ahead, share) = ((a - from).perp_dot(edge) / turn, (a - from).perp_dot(along) / turn);
        (ahead > 1e-6 && (-1e-9..=1.0 + 1e-9).contains(&share)).then_some(ahead)
    };
    let pairs = chains.iter().flat_map(|chain| chain.windows(2).map(|pair| [pair[0].at, pair[1].at]));
    let ahead = pairs.filter_map(crossing).min_by(f64::total_cmp).expect("a ray inside meets the axis");
    from + along * ahead
}
