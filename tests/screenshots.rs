//! Pictures of the window: looked at by the tests, and written to `screenshots/` with `UPDATE_SCREENSHOTS=1`.
//!
//! They need a Vulkan driver; where there is none `./check` leaves this module out, and says so.

use super::window::{ask, settle};
use eframe::egui;
use egui_kittest::Harness;
use egui_kittest::kittest::Queryable;
use image::RgbaImage;
use spelk::app::{App, Command, Middle, ScriptedDialogs};
use spelk::job::{Edit, Ends, Size, Treatment};
use spelk::proof::mend::Mend;
use spelk::units::Mm;
use std::path::{Path, PathBuf};

/// The window with the first sample, to be drawn.
fn window(theme: egui::Theme) -> Harness<'static, App> {
    let mut harness = Harness::builder()
        .with_size([1280.0, 720.0])
        .with_theme(theme)
        .wgpu()
        .build_eframe(|cc| App::new(cc, vec![], Box::new(ScriptedDialogs::default()), None));
    settle(&mut harness);
    harness
}

/// The window as it is drawn now, kept under `name`.
fn picture(harness: &mut Harness<App>, name: &str) -> RgbaImage {
    let picture = harness.render().unwrap();
    if std::env::var_os("UPDATE_SCREENSHOTS").is_some() {
        let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("screenshots");
        std::fs::create_dir_all(&folder).unwrap();
        picture.save(folder.join(format!("{name}.png"))).unwrap();
    }
    picture
}

/// How many pixels of a rectangle are of a colour that `is_it` knows.
fn count(picture: &RgbaImage, within: egui::Rect, is_it: impl Fn([i32; 3]) -> bool) -> usize {
    let inside = |x: u32, y: u32| within.contains(egui::pos2(x as f32, y as f32));
    let pixels = picture.enumerate_pixels().filter(|(x, y, _)| inside(*x, *y));
    pixels.filter(|(_, _, pixel)| is_it([0, 1, 2].map(|i| i32::from(pixel.0[i])))).count()
}

/// The colours of wood, in light and in shadow, and of nothing else in the window.
fn is_wood([r, g, b]: [i32; 3]) -> bool {
    r > g && g > b && r - b > 30 && r - b < 110
}

const WHOLE: egui::Rect = egui::Rect::EVERYTHING;

#[test]
fn the_board_is_drawn_in_both_themes() {
    for (theme, name) in [(egui::Theme::Light, "window"), (egui::Theme::Dark, "window-dark")] {
        let mut harness = window(theme);
        ask(&mut harness, Command::HideWelcome);
        let seen = picture(&mut harness, name);
        // The board's wood is in the middle, and not the bare bench.
        let middle = seen.get_pixel(640, 300);
        assert!(middle[0] > middle[2] + 20, "{theme:?}: no wood in the middle, but {middle:?}");
    }
}

#[test]
fn mended_reeds_are_hatched() {
    let mut harness = window(egui::Theme::Light);
    ask(&mut harness, Command::HideWelcome);
    let worst = harness.state().proof().unwrap().findings[0].id.clone();
    ask(&mut harness, Command::GoTo(worst));
    let before = harness.render().unwrap();
    ask(&mut harness, Command::Mend(Mend::Walls));
    let mended = picture(&mut harness, "mending");
    // The strips that were laid are hatched in the blue of added wood, over a board without it.
    let blue = |picture: &RgbaImage| count(picture, WHOLE, |[r, g, b]| b - r > 60 && b - g > 20);
    assert!(blue(&mended) > blue(&before) + 80, "{} and {}", blue(&mended), blue(&before));
}

#[test]
fn the_carved_surface_is_drawn() {
    let mut harness = window(egui::Theme::Light);
    ask(&mut harness, Command::Show(Middle::Relief));
    let canvas = harness.get_by_label_contains("Carved surface of").rect();
    let seen = picture(&mut harness, "relief");
    let share = count(&seen, canvas, is_wood) as f32 / canvas.area();
    assert!(share > 0.2, "{share}");
}

#[test]
fn each_size_is_drawn_on_its_board() {
    let mut harness = window(egui::Theme::Light);
    ask(&mut harness, Command::Show(Middle::Sizes));
    let seen = picture(&mut harness, "sizes");
    let rows: Vec<egui::Rect> =
        harness.get_all_by_label_contains("Use size ").map(|button| button.rect()).collect();
    assert!(rows.len() >= 3, "{rows:?}");
    let has_board = |row: &&egui::Rect| {
        // The board stands left of its button.
        let left = egui::Rect::from_min_max(egui::pos2(252.0, row.top() - 30.0), row.left_bottom());
        count(&seen, left, is_wood) > 500
    };
    let drawn = rows.iter().filter(has_board).count();
    assert_eq!(drawn, rows.len(), "boards beside {rows:?}");
}

#[test]
fn each_drawing_of_a_folder_is_drawn_on_its_board() {
    let mut harness = window(egui::Theme::Light);
    ask(&mut harness, Command::HideWelcome);
    ask(&mut harness, Command::Open("sample-designs".into()));
    let seen = picture(&mut harness, "folder");
    for file in ["beehive-plate.svg", "boat-nameboard.svg"] {
        let place = harness.get_by_label(&format!("{file} on its board")).rect();
        let wood = count(&seen, place, is_wood);
        assert!(wood as f32 > 0.5 * place.area(), "{file}: {wood} of {}", place.area());
    }
}

#[test]
fn the_lesson_is_drawn_in_both_themes() {
    for (theme, name) in [(egui::Theme::Light, "lesson"), (egui::Theme::Dark, "lesson-dark")] {
        let mut harness = window(theme);
        ask(&mut harness, Command::TourStep(0));
        let drawn = harness.state().proof().unwrap().length;
        ask(&mut harness, Command::Edit(Edit::Size(Size::Length(drawn * 0.5))));
        let seen = picture(&mut harness, name);
        // A row of figures is in sight under the tour, and the limit's vermillion is on both halves of the first. The
        // seventh is the wall that is turned against the grain.
        let figures = harness.get_all_by_role(egui::Role::Image).map(|figure| figure.rect());
        let figures: Vec<egui::Rect> = figures.collect();
        let strip = harness.get_by_role_and_label(egui::Role::Slider, "Size handle").rect().top();
        assert!(
            figures.len() == 7 && figures[..3].iter().all(|figure| figure.bottom() < strip),
            "{figures:?}"
        );
        let (left, right) = figures[0].split_left_right_at_fraction(0.5);
        for half in [left, right] {
            assert!(count(&seen, half, |rgb| rgb == [0xD5, 0x5E, 0x00]) > 40, "{theme:?}: no limit is drawn");
        }
    }
}

#[test]
fn lists_and_dialogs_are_drawn_over_the_board() {
    let hovered = |name: &str| egui::HoveredFile { path: Some(name.into()), ..Default::default() };
    for (name, title) in [
        ("commands", "Find a command"),
        ("keys", "Keys everywhere"),
        ("cutters", "Cutters"),
        ("drop", "Drop to open"),
    ] {
        let mut harness = window(egui::Theme::Light);
        ask(&mut harness, Command::HideWelcome);
        let before = harness.render().unwrap();
        match name {
            "commands" => ask(&mut harness, Command::ToggleCommands),
            "keys" => ask(&mut harness, Command::ToggleHelp),
            "cutters" => ask(&mut harness, Command::ToggleCutters),
            _ => {
                harness.input_mut().hovered_files = vec![hovered("geese.svg")];
                harness.step();
                harness.step();
            }
        }
        let place = harness.get_all_by_label(title).map(|title| title.rect()).next().unwrap();
        let seen = picture(&mut harness, name);
        let differ = before.pixels().zip(seen.pixels()).filter(|(a, b)| a != b).count();
        assert!(differ > 20_000, "{name}: {differ} pixels, title at {place:?}");
    }
}

/// Something of each kind: a sunk floor, a V that follows its width, a hole. Small, for a card in software is slow.
const SMALL: &str = r#"<svg xmlns="http://www.w3.org/2000/svg" width="60mm" height="24mm" viewBox="0 0 60 24">
  <rect id="pocket" x="2" y="2" width="20" height="20"/>
  <ellipse id="leaf" cx="36" cy="12" rx="10" ry="3"/>
  <rect id="hole" x="50" y="6" width="8" height="12"/>
</svg>"#;

/// The window drawn by a card in software, with the carved surface on the card or by our own painter.
fn drawn(path: PathBuf, on_card: bool) -> image::RgbaImage {
    let mut harness = Harness::builder().with_size([1000.0, 600.0]).wgpu().build_eframe(move |cc| {
        let app = App::new(cc, vec![path], Box::new(ScriptedDialogs::new(vec![])), None);
        if on_card { app.trusting_any_card(cc) } else { app }
    });
    settle(&mut harness);
    let treatments = [Treatment::Sunk, Treatment::Incised, Treatment::Pierced];
    for (element, treatment) in treatments.into_iter().enumerate() {
        harness.state_mut().ask(Command::Edit(Edit::Treat { elements: vec![element], treatment }));
    }
    for setting in [
        Edit::BoardLength(Mm::new(70.0)),
        Edit::BoardWidth(Mm::new(30.0)),
        Edit::BoardThickness(Mm::new(8.0)),
        Edit::Depth(Mm::new(2.5)),
        Edit::Ends(Ends::Free),
    ] {
        ask(&mut harness, Command::Edit(setting));
    }
    ask(&mut harness, Command::Show(Middle::Relief));
    harness.get_by_label("What the cutters leave");
    let canvas = harness.get_by_label_contains("Carved surface of").rect();
    let image = harness.render().unwrap();
    if let Some(folder) = std::env::var_os("SPELK_KEEP_PICTURES") {
        let name = if on_card { "card.png" } else { "painter.png" };
        image.save(Path::new(&folder).join(name)).unwrap();
    }
    let sides = [canvas.left(), canvas.top(), canvas.width(), canvas.height()];
    #[expect(clippy::cast_sign_loss, reason = "a canvas lies in its window")]
    let [x, y, width, height] = sides.map(|side| side as u32);
    image::imageops::crop_imm(&image, x, y, width, height).to_image()
}

#[test]
fn the_card_draws_what_our_own_painter_draws() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("small.svg");
    std::fs::write(&path, SMALL).unwrap();
    let (card, painter) = (drawn(path.clone(), true), drawn(path, false));
    assert_eq!(card.dimensions(), painter.dimensions());
    let far = |a: &image::Rgba<u8>, b: &image::Rgba<u8>| {
        (0..3).map(|i| a.0[i].abs_diff(b.0[i])).max().unwrap_or_default()
    };
    let all = card.width() * card.height();
    let differ = card.pixels().zip(painter.pixels()).filter(|(a, b)| far(a, b) > 24).count();
    // Edges are smooth on the card and not by our painter; everywhere else the pictures agree.
    assert!(differ as f64 <= 0.03 * f64::from(all), "{differ} of {all} pixels differ");
    // And it is a picture: wood, floor and shadow.
    let tones: std::collections::BTreeSet<u8> = card.pixels().map(|pixel| pixel.0[0] / 16).collect();
    assert!(tones.len() >= 6, "{tones:?}");
}
