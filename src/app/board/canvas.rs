//! The board, to scale: painted layers below, and on them the few things that are drawn live.

use crate::app::board::painting::Painted;
use crate::app::board::rulers;
use crate::app::board::rulers::paint_rulers;
use crate::app::board::tools::{measure_ui, paint_grid, take_measure};
use crate::app::board::view::BoardView;
use crate::app::board::view::Overlay;
use crate::app::board::{blemishes, pieces, placing};
use crate::app::commands::board::Tool;
use crate::app::commands::command::Command;
use crate::app::widgets::camera::Lens;
use crate::app::widgets::look::{Palette, VERMILLION, kind_color};
use crate::app::widgets::marks::{Marked, marks_ui};
use crate::app::work::proofed::Proofed;
use crate::app::work::scene::Scene;
use crate::geometry::widths::AxisPoint;
use crate::proof::{Finding, FindingKind, FitOutcome};
use crate::units::{LengthUnit, Mm};
use crate::words::window::board as said;
use egui::{
    Align2, Color32, CornerRadius, FontId, Painter, PointerButton, Pos2, Rect, Sense, Shape, Stroke,
    StrokeKind, pos2, vec2,
};
use glam::DVec2;

/// Bands over thin walls and grooves that are drawn live, at most; about.
const MOST_BANDS: f32 = 8000.0;
/// Of chords that are not all drawn, those that are look like dots of this many screen points.
const LONGEST_DOT: f32 = 4.0;
/// Numbered marks on the board; the list shows as many.
const MOST_BADGES: usize = 200;

/// The canvas with its rulers.
pub(crate) fn canvas_ui(
    ui: &mut egui::Ui,
    scene: &Scene,
    view: &mut BoardView,
    grid: bool,
    over: &mut dyn Overlay,
    commands: &mut Vec<Command>,
) {
    let Scene { shown, unit, .. } = *scene;
    let palette = Palette::of(ui.ctx());
    let whole = ui.available_rect_before_wrap();
    let canvas = Rect::from_min_max(whole.min + vec2(rulers::LEFT, rulers::TOP), whole.max);
    let response = ui.allocate_rect(canvas, Sense::click_and_drag());
    view.canvas = canvas;
    response.widget_info(|| egui::WidgetInfo::labeled(egui::Role::Canvas, true, board_in_words(shown, unit)));
    let lens = view.camera(shown).lens(canvas);
    let held = take_measure(&response, lens, &mut view.tools)
        || placing::hand_ui(ui, &response, scene, lens, view, over, commands);
    move_camera(ui, &response, shown, view, held);
    let lens = view.camera(shown).lens(canvas);

    let painter = ui.painter().with_clip_rect(canvas);
    painter.rect_filled(canvas, 0.0, palette.bench);
    paint_board(&painter, shown, lens, palette);
    if let Some((painted, _)) = &view.painted {
        paint_layers(&painter, painted, scene, lens);
    }
    if grid {
        paint_grid(&painter, lens, unit, palette);
    }
    over.paint_under(&painter, lens);
    let words = paint_edge_words(&painter, shown, lens, palette, view.hand_tools);
    paint_frame(&painter, scene, lens);
    paint_thin_places(&painter, scene, lens);
    pieces::paint_outlines(&painter, &shown.job, view.outlines(), lens);
    over.paint_over(&painter, lens);
    blemishes::paint_outlines(&painter, shown, lens, view);
    // The words at the edge, the tools, and where the pointer is told: marks keep clear of them.
    let foot = Rect::from_min_max(canvas.left_bottom() - vec2(0.0, 32.0), canvas.max);
    let taken: Vec<Rect> = words.into_iter().chain([view.hand_tools, foot]).collect();
    badges_ui(ui, &painter, scene, lens, &taken, commands);
    over.marks_ui(ui, &painter, lens);
    if view.hand.tool == Tool::Look && !view.tools.measuring {
        over.handles_ui(ui, &painter, lens, commands);
    }
    paint_pulse(ui, &painter, scene, lens, view.gone_to_at);
    measure_ui(ui, &painter, lens, &view.tools, unit);
    let pointer = response.hover_pos().or(response.interact_pointer_pos());
    placing::paint_held(&painter, scene, lens, &view.hand, pointer);
    paint_rulers(ui.painter(), canvas, lens, unit, response.hover_pos(), palette);
    let row = tools_ui(ui, canvas, view, grid, commands);
    if let Some(at) = response.hover_pos().filter(|at| canvas.contains(*at)) {
        pointer_ui(ui, row, lens.board(at), unit);
    }
    over.corners_ui(ui, canvas, commands);
}

fn board_in_words(shown: &Proofed, unit: LengthUnit) -> String {
    let (board, proof) = (shown.job.board(), &shown.proof);
    said::board_and_design([board.length, board.width], [proof.length, proof.width], unit)
}

fn move_camera(ui: &egui::Ui, response: &egui::Response, shown: &Proofed, view: &mut BoardView, held: bool) {
    let canvas = view.canvas;
    let mut camera = view.camera(shown);
    if !held && response.dragged_by(PointerButton::Primary) || response.dragged_by(PointerButton::Middle) {
        camera = camera.panned(response.drag_delta());
        view.camera = Some(camera);
        ui.ctx().set_cursor_icon(egui::CursorIcon::Grabbing);
    }
    if let Some(pointer) = response.hover_pos() {
        let (scroll, pinch) = ui.input(|input| (input.smooth_scroll_delta, input.zoom_delta()));
        // Two hundred points of wheel double the size.
        let factor = f64::from(pinch) * (f64::from(scroll.y) / 200.0).exp2();
        if factor != 1.0 {
            view.camera = Some(camera.zoomed(factor, pointer, canvas));
        }
    }
    if response.double_clicked() && !held && !Tool::MARKING.contains(&view.hand.tool) {
        view.camera = None;
    }
}

/// Plain wood under the painted board, so that no part of it is ever missing.
fn paint_board(painter: &Painter, shown: &Proofed, lens: Lens, palette: &Palette) {
    let rect = lens.screen_rect(shown.job.board().area());
    painter.rect_filled(rect.translate(vec2(0.0, 3.0)), 1.0, Color32::from_black_alpha(60));
    painter.rect(
        rect,
        CornerRadius::same(1),
        palette.wood,
        Stroke::new(1.0, palette.on_wood.gamma_multiply(0.7)),
        StrokeKind::Inside,
    );
}

/// The painted pictures, laid where the board and the design are now.
fn paint_layers(painter: &Painter, painted: &Painted, scene: &Scene, lens: Lens) {
    let tint = if scene.is_current { Color32::WHITE } else { Color32::from_white_alpha(150) };
    let uv = Rect::from_min_max(pos2(0.0, 0.0), pos2(1.0, 1.0));
    // The picture's corners as they were on the board, and for the design as they were in the design:
    // a picture of the design moves and grows with it until the next is painted.
    let then = painted.view.camera.lens(Rect::from_min_size(Pos2::ZERO, painted.view.canvas));
    let corners = |map: &dyn Fn(DVec2) -> DVec2| {
        let size = painted.view.canvas;
        let min = lens.screen(map(then.board(Pos2::ZERO)));
        let max = lens.screen(map(then.board(size.to_pos2())));
        Rect::from_min_max(min, max)
    };
    // The painted bench is left away: only the board shows, on the window's own bench.
    let board = lens.screen_rect(scene.shown.job.board().area());
    painter.with_clip_rect(painter.clip_rect().intersect(board)).image(
        painted.board.id(),
        corners(&|p| p),
        uv,
        tint,
    );
    let now_from_then = scene.board_from_design() * painted.board_from_design.inverse();
    painter.image(painted.design.id(), corners(&|p| now_from_then.transform_point2(p)), uv, tint);
}

/// The reference edge, the grain and the feed, in words at the edge they belong to, clear of what stands over it.
fn paint_edge_words(
    painter: &Painter,
    shown: &Proofed,
    lens: Lens,
    palette: &Palette,
    over: Rect,
) -> Option<Rect> {
    let rect = lens.screen_rect(shown.job.board().area());
    (rect.width() > 240.0).then(|| {
        let words = said::REFERENCE_EDGE_GRAIN_AND_FEED.to_owned();
        let galley = painter.layout_no_wrap(words, FontId::proportional(12.0), palette.faint);
        let place = rect.center_bottom() + vec2(-14.0, 6.0);
        let mut words = Align2::CENTER_TOP.anchor_size(place, galley.size());
        if words.intersects(over) {
            words = words.translate(vec2(over.right() + 10.0 - words.left(), 0.0));
        }
        painter.galley(words.min, galley, palette.faint);
        let stroke = Stroke::new(1.3, palette.faint);
        painter.arrow(words.right_center() + vec2(6.0, 1.0), vec2(24.0, 0.0), stroke);
        words.with_max_x(words.right() + 34.0)
    })
}

/// What counts as the design's size, as a thin box.
fn paint_frame(painter: &Painter, scene: &Scene, lens: Lens) {
    let rect = lens.screen_rect(scene.on_board(scene.shown.frame));
    let stroke = if scene.shown.proof.fit.outcome == FitOutcome::Fits {
        Stroke::new(1.0, Color32::from_black_alpha(120))
    } else {
        // Too large for this board: it may lie on the bench, light or dark.
        Stroke::new(2.0, VERMILLION)
    };
    let corners =
        [rect.left_top(), rect.right_top(), rect.right_bottom(), rect.left_bottom(), rect.left_top()];
    let visible = painter.clip_rect().expand(20.0);
    for side in corners.windows(2) {
        // Dashes beyond the canvas are not made: a deep zoom would make millions.
        let a = side[0].clamp(visible.min, visible.max);
        let b = side[1].clamp(visible.min, visible.max);
        let outside = (a.x - side[0].x).abs() > 0.0 && a.x == b.x && side[0].x == side[1].x
            || (a.y - side[0].y).abs() > 0.0 && a.y == b.y && side[0].y == side[1].y;
        if !outside {
            painter.extend(Shape::dashed_line(&[a, b], stroke, 3.0, 4.0));
        }
    }
}

/// Thin walls as barred bands, grooves and points as plain ones: the sign differs, not the colour alone.
///
/// Where a design has far more thin chords than can be told apart, only one every so often is drawn,
/// as a dot at least.
fn paint_thin_places(painter: &Painter, scene: &Scene, lens: Lens) {
    let shown = scene.shown;
    let visible = painter.clip_rect().expand(30.0);
    let board_from_design = scene.board_from_design();
    let screen_from_design = |p| lens.screen(board_from_design.transform_point2(p));
    let chord_on_screen = |chord: &[AxisPoint; 2]| {
        let [a, b] = chord.map(|point| screen_from_design(point.at));
        visible.intersects(Rect::from_two_pos(a, b)).then_some([a, b])
    };
    let findings = &shown.proof.findings;
    let run: f32 =
        findings.iter().flat_map(Finding::axis).filter_map(chord_on_screen).map(|[a, b]| a.distance(b)).sum();
    let stretch = (run / MOST_BANDS).max(1.5);
    let width_scale = scene.factor() * lens.scale();
    for finding in findings {
        let chosen = scene.chosen == Some(finding.id.as_str());
        let color = kind_color(finding.kind());
        // What is so short that it is owed nothing yet is still drawn once.
        let mut owed = stretch;
        for chord in finding.axis() {
            let Some([a, b]) = chord_on_screen(chord) else { continue };
            let length = a.distance(b);
            owed += length;
            if owed < stretch {
                continue;
            }
            owed = 0.0;
            let width = (0.5 * (chord[0].width + chord[1].width) * width_scale) as f32;
            let least = stretch.min(LONGEST_DOT);
            let band = if length < least { lengthened([a, b], least) } else { [a, b] };
            paint_band(painter, band, width.max(3.0), color, finding.kind(), chosen);
        }
    }
}

/// The same chord about its middle, `length` long; a dot is drawn along the grain.
fn lengthened([a, b]: [Pos2; 2], length: f32) -> [Pos2; 2] {
    let run = b - a;
    let along = if run.length() > 1e-6 { run.normalized() } else { vec2(1.0, 0.0) };
    let middle = a + 0.5 * run;
    [middle - 0.5 * length * along, middle + 0.5 * length * along]
}

fn paint_band(
    painter: &Painter,
    [a, b]: [Pos2; 2],
    width: f32,
    color: Color32,
    kind: FindingKind,
    chosen: bool,
) {
    let alpha = if chosen { 235 } else { 190 };
    let fill = Color32::from_rgba_unmultiplied(color.r(), color.g(), color.b(), alpha);
    painter.line_segment([a, b], Stroke::new(width, fill));
    let run = b - a;
    if kind == FindingKind::ThinWall && width >= 4.0 && run.length() > 1.0 {
        let across = run.normalized().rot90() * (width * 0.5);
        let bars = (run.length() / 5.0).ceil().min(400.0);
        let mut bar = 0.5;
        while bar < bars {
            let at = a + run * (bar / bars);
            bar += 1.0;
            painter
                .line_segment([at - across, at + across], Stroke::new(1.0, Color32::from_black_alpha(150)));
        }
    }
}

/// Numbered marks; what concerns the whole board has no place on it.
fn badges_ui(
    ui: &mut egui::Ui,
    painter: &Painter,
    scene: &Scene,
    lens: Lens,
    taken: &[Rect],
    commands: &mut Vec<Command>,
) {
    let shown = scene.shown;
    let has_place =
        |finding: &Finding| !finding.axis().is_empty() || finding.kind() == FindingKind::SnipeZone;
    let spot = scene.spots();
    let numbered = shown.proof.findings.iter().enumerate().take(MOST_BADGES);
    let marked = numbered.filter(|(_, finding)| has_place(finding)).map(|(index, finding)| Marked {
        index,
        finding,
        spot: lens.screen(spot(finding)),
    });
    let clicked = marks_ui(ui, painter, marked, taken, scene.chosen, scene.unit);
    commands.extend(clicked.map(Command::GoTo));
}

/// A ring that closes in on the finding that was just gone to.
fn paint_pulse(ui: &egui::Ui, painter: &Painter, scene: &Scene, lens: Lens, gone_to_at: f64) {
    const SECONDS: f64 = 1.2;
    let Some(finding) = scene.chosen.and_then(|id| scene.shown.finding(id)) else { return };
    let spot = lens.screen(scene.spots()(finding));
    let accent = Palette::of(ui.ctx()).accent;
    let age = ui.input(|input| input.time) - gone_to_at;
    if !scene.still && (0.0..SECONDS).contains(&age) {
        let share = (age / SECONDS) as f32;
        painter.circle_stroke(spot, 70.0 - 52.0 * share, Stroke::new(3.0, accent));
        ui.ctx().request_repaint();
    } else {
        painter.circle_stroke(spot, 18.0, Stroke::new(2.0, accent));
    }
}

/// The width of a canvas that has room for all buttons beside each other.
const ONE_ROW_FROM: f32 = 372.0;

/// On a narrow canvas lower than this, in points, a second row of buttons would cover the board. The menus have them.
const TWO_ROWS_FROM: f32 = 200.0;

/// Buttons for the camera and the hand; the row they stand in.
fn tools_ui(
    ui: &mut egui::Ui,
    canvas: Rect,
    view: &mut BoardView,
    grid: bool,
    commands: &mut Vec<Command>,
) -> Rect {
    view.hand_tools = Rect::NOTHING;
    let row =
        Rect::from_min_max(canvas.left_bottom() + vec2(6.0, -30.0), canvas.right_bottom() - vec2(6.0, 5.0));
    let level = egui::Layout::left_to_right(egui::Align::Center);
    let mut tools = ui.new_child(egui::UiBuilder::new().max_rect(row).layout(level));
    for (sign, command) in [
        ("−", Command::ZoomOut),
        ("+", Command::ZoomIn),
        (said::WHOLE_BOARD, Command::FitView),
        (said::TRUE_SIZE, Command::TrueSize),
    ] {
        let response = tools.button(sign).on_hover_text(command.label()).accessible_name(command.label());
        if response.clicked() {
            commands.push(command);
        }
    }
    // Where the canvas is narrow the switches stand over the buttons.
    let is_narrow = row.width() < ONE_ROW_FROM;
    if is_narrow && canvas.height() < TWO_ROWS_FROM {
        return row;
    }
    if is_narrow {
        let over = row.translate(vec2(0.0, -30.0));
        tools = ui.new_child(egui::UiBuilder::new().max_rect(over).layout(level));
    }
    for (command, on) in [(Command::ToggleGrid, grid), (Command::ToggleMeasure, view.tools.measuring)] {
        // Framed, to be read over wood of any kind.
        let button = egui::Button::selectable(on, command.label()).frame_when_inactive(true);
        let response = tools.add(button).on_hover_text(command.hover(ui.ctx()));
        if response.clicked() {
            commands.push(command);
        }
    }
    let rows = if view.blemishes.open { 2.0 } else { 1.0 } + if is_narrow { 1.0 } else { 0.0 };
    let above = Rect::from_min_max(row.min - vec2(0.0, 34.0 * rows), pos2(row.max.x, row.min.y));
    let layout = egui::Layout::top_down(egui::Align::Min);
    let mut hand = ui.new_child(egui::UiBuilder::new().max_rect(above).layout(layout));
    blemishes::tools_ui(&mut hand, view, commands);
    view.hand_tools = hand.min_rect();
    row
}

/// Where the pointer is, at the end of the row of tools.
fn pointer_ui(ui: &egui::Ui, row: Rect, board: DVec2, unit: LengthUnit) {
    let palette = Palette::of(ui.ctx());
    let words = said::along_and_across(board.to_array().map(Mm::new), unit);
    let galley = ui.painter().layout_no_wrap(words, FontId::proportional(12.0), palette.ink);
    let rect = Align2::RIGHT_CENTER.anchor_size(row.right_center(), galley.size());
    ui.painter().rect_filled(rect.expand2(vec2(5.0, 2.0)), 4.0, palette.panel);
    ui.painter().galley(rect.min, galley, palette.ink);
}
