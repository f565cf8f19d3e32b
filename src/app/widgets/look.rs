//! The window's own look: one palette a theme, and the shapes that stand for how serious a thing is.
//!
//! The signal colours are those of Okabe and Ito, "Color Universal Design" (2008), chosen to be told
//! apart by readers of every kind of colour vision. Each is always joined by a shape or a word.

use crate::proof::{FindingKind, Severity};
use crate::sheet::picture::{self, MarkShape};
use crate::words::window::widgets as said;
use egui::epaint::text::{FontInsert, FontPriority, InsertFontFamily};
use egui::{
    Align2, Color32, CornerRadius, FontData, FontFamily, FontId, Painter, Pos2, Rect, Shape, Stroke,
    TextStyle, Theme, Vec2, pos2, style::ScrollAnimation, vec2,
};

/// Every colour the window uses, for one theme.
pub(crate) struct Palette {
    /// Behind the board.
    pub(crate) bench: Color32,
    /// Panels.
    pub(crate) panel: Color32,
    /// Cards on a panel, and fields.
    pub(crate) card: Color32,
    /// Buttons at rest.
    pub(crate) button: Color32,
    /// Text.
    pub(crate) ink: Color32,
    /// Text that matters less.
    pub(crate) faint: Color32,
    /// Hairlines.
    pub(crate) line: Color32,
    /// What is chosen.
    pub(crate) chosen: Color32,
    /// Links, the size handle, whatever wants a hand.
    pub(crate) accent: Color32,
    /// Walls on the size strip.
    pub(crate) wall: Color32,
    /// Grooves on the size strip.
    pub(crate) groove: Color32,
    /// Wood, until its picture arrives.
    pub(crate) wood: Color32,
    /// Lines drawn on wood.
    pub(crate) on_wood: Color32,
    /// Something wrong with what was typed.
    pub(crate) wrong: Color32,
}

static LIGHT: Palette = Palette {
    bench: Color32::from_rgb(0xD9, 0xD2, 0xC4),
    panel: Color32::from_rgb(0xEF, 0xEA, 0xE0),
    card: Color32::from_rgb(0xFB, 0xF8, 0xF2),
    button: Color32::from_rgb(0xE2, 0xDA, 0xCB),
    ink: Color32::from_rgb(0x2A, 0x24, 0x1D),
    faint: Color32::from_rgb(0x6B, 0x61, 0x54),
    line: Color32::from_rgb(0xC9, 0xBF, 0xAE),
    chosen: Color32::from_rgb(0xC9, 0xDD, 0xE6),
    accent: Color32::from_rgb(0x14, 0x56, 0x74),
    wall: Color32::from_rgb(0x00, 0x5A, 0x8C),
    groove: Color32::from_rgb(0x8A, 0x3D, 0x6B),
    wood: Color32::from_rgb(0xE6, 0xCF, 0xA8),
    on_wood: Color32::from_rgb(0x3A, 0x2A, 0x18),
    wrong: Color32::from_rgb(0xA8, 0x3A, 0x00),
};

static DARK: Palette = Palette {
    bench: Color32::from_rgb(0x1B, 0x18, 0x15),
    panel: Color32::from_rgb(0x26, 0x22, 0x1E),
    card: Color32::from_rgb(0x31, 0x2C, 0x27),
    button: Color32::from_rgb(0x45, 0x3E, 0x36),
    ink: Color32::from_rgb(0xF1, 0xEA, 0xDF),
    faint: Color32::from_rgb(0xB3, 0xA8, 0x99),
    line: Color32::from_rgb(0x4E, 0x46, 0x3D),
    chosen: Color32::from_rgb(0x1F, 0x4A, 0x5E),
    accent: Color32::from_rgb(0x7C, 0xC4, 0xE8),
    wall: Color32::from_rgb(0x7C, 0xC4, 0xE8),
    groove: Color32::from_rgb(0xE2, 0xA0, 0xC8),
    wood: Color32::from_rgb(0xC2, 0xA7, 0x7C),
    on_wood: Color32::from_rgb(0x22, 0x18, 0x0C),
    wrong: Color32::from_rgb(0xFF, 0x9A, 0x5C),
};

/// Okabe and Ito's vermillion.
pub(crate) const VERMILLION: Color32 = Color32::from_rgb(0xD5, 0x5E, 0x00);
/// Okabe and Ito's orange.
pub(crate) const ORANGE: Color32 = Color32::from_rgb(0xE6, 0x9F, 0x00);
/// Okabe and Ito's bluish green.
pub(crate) const GREEN: Color32 = Color32::from_rgb(0x00, 0x9E, 0x73);

/// Round chosen elements: the wood under it is the same by day and by night.
pub(crate) const MARK: Color32 = Color32::from_rgb(0x14, 0x56, 0x74);

impl Palette {
    /// The palette of the theme in use.
    pub(crate) fn of(ctx: &egui::Context) -> &'static Palette {
        Palette::for_theme(ctx.theme())
    }

    pub(crate) fn for_theme(theme: Theme) -> &'static Palette {
        match theme {
            Theme::Dark => &DARK,
            Theme::Light => &LIGHT,
        }
    }
}

/// Dresses both themes. Called once, when the window starts.
pub(crate) fn dress(ctx: &egui::Context) {
    // For signs of money and the like that the first typeface lacks: the second one of the sheets.
    ctx.add_font(FontInsert::new(
        said::HACK_BEHIND,
        FontData::from_static(epaint_default_fonts::HACK_REGULAR),
        vec![InsertFontFamily { family: FontFamily::Proportional, priority: FontPriority::Lowest }],
    ));
    // Where the system does not say, wood looks best by day.
    ctx.options_mut(|options| options.fallback_theme = Theme::Light);
    for theme in [Theme::Light, Theme::Dark] {
        let palette = Palette::for_theme(theme);
        ctx.style_mut_of(theme, |style| dress_style(style, palette));
    }
}

/// Stops what moves by itself, or lets it go on: menus and windows that fade, lists that glide.
pub(crate) fn keep_still(ctx: &egui::Context, still: bool) {
    let usual = egui::Style::default();
    ctx.all_styles_mut(|style| {
        style.animation_time = if still { 0.0 } else { usual.animation_time };
        style.scroll_animation = if still { ScrollAnimation::none() } else { usual.scroll_animation };
    });
}

fn dress_style(style: &mut egui::Style, palette: &Palette) {
    let proportional = |size| FontId::new(size, FontFamily::Proportional);
    style.text_styles = [
        (TextStyle::Small, proportional(12.0)),
        (TextStyle::Body, proportional(14.0)),
        (TextStyle::Button, proportional(14.0)),
        (TextStyle::Heading, proportional(19.0)),
        (TextStyle::Monospace, FontId::new(13.0, FontFamily::Monospace)),
    ]
    .into();
    style.spacing.item_spacing = vec2(8.0, 5.0);
    style.spacing.button_padding = vec2(8.0, 3.0);
    style.spacing.interact_size.y = 22.0;
    style.spacing.scroll.floating = false;
    style.spacing.scroll.bar_width = 7.0;
    style.spacing.scroll.foreground_color = false;

    let visuals = &mut style.visuals;
    visuals.panel_fill = palette.panel;
    visuals.window_fill = palette.card;
    visuals.window_stroke = Stroke::new(1.0, palette.line);
    visuals.extreme_bg_color = palette.card;
    visuals.text_edit_bg_color = Some(palette.card);
    visuals.faint_bg_color = palette.panel;
    visuals.code_bg_color = palette.panel;
    visuals.hyperlink_color = palette.accent;
    visuals.warn_fg_color = palette.wrong;
    visuals.error_fg_color = palette.wrong;
    visuals.weak_text_color = Some(palette.faint);
    visuals.selection.bg_fill = palette.chosen;
    visuals.selection.stroke = Stroke::new(1.0, palette.ink);
    let radius = CornerRadius::same(4);
    visuals.window_corner_radius = CornerRadius::same(6);
    visuals.menu_corner_radius = radius;
    let widgets = &mut visuals.widgets;
    for (state, fill, edge) in [
        (&mut widgets.noninteractive, palette.panel, palette.line),
        (&mut widgets.inactive, palette.button, palette.line),
        (&mut widgets.hovered, palette.chosen, palette.accent),
        (&mut widgets.active, palette.chosen, palette.accent),
        (&mut widgets.open, palette.button, palette.accent),
    ] {
        state.bg_fill = fill;
        state.weak_bg_fill = fill;
        state.bg_stroke = Stroke::new(1.0, edge);
        state.fg_stroke = Stroke::new(1.0, palette.ink);
        state.corner_radius = radius;
        state.expansion = 0.0;
    }
    widgets.active.fg_stroke.width = 1.5;
}

/// The signal colour of a severity.
pub(crate) fn severity_color(severity: Severity) -> Color32 {
    match severity {
        Severity::Sound => GREEN,
        Severity::Chancy => ORANGE,
        Severity::Unsound => VERMILLION,
    }
}

/// The outline that stands for a severity: a disc, a triangle, an octagon.
fn severity_outline(center: Pos2, radius: f32, severity: Severity) -> Vec<Pos2> {
    let (corners, turn, radius, center) = match severity {
        Severity::Sound => (24, 0.0, radius, center),
        Severity::Chancy => {
            (3, -std::f32::consts::FRAC_PI_2, radius * 1.22, center + vec2(0.0, radius * 0.22))
        }
        Severity::Unsound => (8, std::f32::consts::PI / 8.0, radius * 1.05, center),
    };
    #[expect(clippy::cast_precision_loss, reason = "two dozen corners at most")]
    (0..corners)
        .map(|i| {
            let angle = turn + std::f32::consts::TAU * i as f32 / corners as f32;
            center + radius * Vec2::angled(angle)
        })
        .collect()
}

/// Paints the sign of a severity: a disc with a tick, a triangle with a bar, an octagon with a cross.
pub(crate) fn paint_severity(painter: &Painter, center: Pos2, radius: f32, severity: Severity) {
    let fill = severity_color(severity);
    let edge = Stroke::new((radius * 0.14).max(1.0), Color32::from_black_alpha(150));
    painter.add(Shape::convex_polygon(severity_outline(center, radius, severity), fill, edge));
    let width = (radius * 0.26).max(1.3);
    let at = |x: f32, y: f32| pos2(center.x + radius * x, center.y + radius * y);
    let dark = Stroke::new(width, Color32::from_rgb(0x1C, 0x16, 0x10));
    let light = Stroke::new(width, Color32::WHITE);
    match severity {
        Severity::Sound => {
            painter.line(vec![at(-0.45, 0.02), at(-0.1, 0.38), at(0.48, -0.36)], light);
        }
        Severity::Chancy => {
            painter.line_segment([at(0.0, -0.38), at(0.0, 0.3)], dark);
            painter.circle_filled(at(0.0, 0.6), width * 0.62, dark.color);
        }
        Severity::Unsound => {
            painter.line_segment([at(-0.38, -0.38), at(0.38, 0.38)], light);
            painter.line_segment([at(-0.38, 0.38), at(0.38, -0.38)], light);
        }
    }
}

/// Room for a severity's sign in a row of widgets.
pub(crate) fn severity_ui(ui: &mut egui::Ui, radius: f32, severity: Severity) {
    let (rect, _) = ui.allocate_exact_size(Vec2::splat(2.5 * radius), egui::Sense::hover());
    paint_severity(ui.painter(), rect.center(), radius, severity);
}

/// The colour of a kind of finding, the same in the window and on paper.
pub(crate) fn kind_color(kind: FindingKind) -> Color32 {
    let [r, g, b] = picture::mark_color(kind);
    Color32::from_rgb(r, g, b)
}

/// A numbered mark: the shape and colour of the finding's kind around its number in the list.
pub(crate) struct Badge {
    pub(crate) number: usize,
    pub(crate) kind: FindingKind,
    pub(crate) chosen: bool,
}

impl Badge {
    const RADIUS: f32 = 11.0;

    /// The room a badge takes with its middle at `center`.
    pub(crate) fn rect(center: Pos2) -> Rect {
        Rect::from_center_size(center, Vec2::splat(2.0 * Badge::RADIUS + 4.0))
    }

    /// Paints it with its middle at `center`.
    pub(crate) fn paint(&self, painter: &Painter, center: Pos2) {
        let fill = kind_color(self.kind);
        let radius = Badge::RADIUS;
        let polygon = |corners: u32, turn: f32, radius: f32| {
            let corner = |i| Vec2::angled(turn + std::f32::consts::TAU * i as f32 / corners as f32);
            (0..corners).map(|i| center + radius * corner(i)).collect::<Vec<_>>()
        };
        let quarter = std::f32::consts::FRAC_PI_2;
        let outline = match picture::mark_shape(self.kind) {
            MarkShape::Disc => polygon(24, 0.0, radius),
            MarkShape::Triangle => polygon(3, -quarter, 1.45 * radius),
            MarkShape::Square => polygon(4, quarter / 2.0, 1.3 * radius),
            MarkShape::Diamond => polygon(4, 0.0, 1.35 * radius),
            MarkShape::Hexagon => polygon(6, 0.0, 1.15 * radius),
        };
        if self.chosen {
            let halo = Stroke::new(6.0, Color32::from_rgb(0x14, 0x56, 0x74));
            painter.add(Shape::closed_line(outline.clone(), halo));
        }
        painter.add(Shape::convex_polygon(outline, fill, Stroke::new(2.0, Color32::WHITE)));
        let size = match self.number {
            0..100 => 13.0,
            100..1000 => 11.0,
            _ => 9.0,
        };
        painter.text(center, Align2::CENTER_CENTER, self.number, FontId::proportional(size), ink_on(fill));
    }
}

/// Black or white, whichever stands out more.
fn ink_on(fill: Color32) -> Color32 {
    let [r, g, b] = [fill.r(), fill.g(), fill.b()].map(f32::from);
    if 0.299 * r + 0.587 * g + 0.114 * b > 140.0 { Color32::BLACK } else { Color32::WHITE }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// WCAG 2.1 relative luminance and contrast ratio, section 1.4.3.
    fn contrast(a: Color32, b: Color32) -> f64 {
        let luminance = |color: Color32| {
            let linear = |byte: u8| {
                let value = f64::from(byte) / 255.0;
                if value <= 0.039_28 { value / 12.92 } else { ((value + 0.055) / 1.055).powf(2.4) }
            };
            0.2126 * linear(color.r()) + 0.7152 * linear(color.g()) + 0.0722 * linear(color.b())
        };
        let (a, b) = (luminance(a), luminance(b));
        (a.max(b) + 0.05) / (a.min(b) + 0.05)
    }

    #[test]
    fn text_stands_out_from_what_is_behind_it() {
        for palette in [&LIGHT, &DARK] {
            for back in [palette.panel, palette.card, palette.button, palette.chosen] {
                assert!(contrast(palette.ink, back) >= 7.0, "ink on {back:?}");
            }
            for back in [palette.panel, palette.card] {
                assert!(contrast(palette.faint, back) >= 4.5, "faint on {back:?}");
                assert!(contrast(palette.wrong, back) >= 4.5, "wrong on {back:?}");
                assert!(contrast(palette.accent, back) >= 4.5, "accent on {back:?}");
                assert!(contrast(palette.wall, back) >= 4.5, "wall on {back:?}");
                assert!(contrast(palette.groove, back) >= 4.5, "groove on {back:?}");
            }
            assert!(contrast(palette.on_wood, palette.wood) >= 4.5, "lines on wood");
        }
    }
}
