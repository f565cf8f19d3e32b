//! The small windows over the rooms. All of them close in the same two ways: by their cross, and by Escape the one
//! that lies on top.

use egui::{Context, Id, Key, LayerId, Order, Popup, Ui, Window};

/// What Escape does in this frame.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
enum Escape {
    /// It is not pressed, or a menu or a dialog takes it.
    #[default]
    Elsewhere,
    /// It closes the small window of this layer.
    Closes(LayerId),
    /// No window is open: it is for the room, to put a tool down or to leave the full screen.
    Free,
}

/// Whether a dialog is open that has to be answered before anything behind it.
pub(crate) fn is_asked_first(ctx: &Context) -> bool {
    ctx.memory(|memory| memory.top_modal_layer().is_some())
}

/// Decides what Escape does, once a frame and before anything is drawn: what is drawn closes as it goes.
pub(crate) fn aim_escape(ctx: &Context) {
    let is_pressed = ctx.input(|input| input.key_pressed(Key::Escape));
    let is_taken = Popup::is_any_open(ctx) || is_asked_first(ctx);
    let escape = if !is_pressed || is_taken {
        Escape::Elsewhere
    } else {
        // Layers come in the order they are painted in, the top one last.
        let on_top = ctx.memory(|memory| {
            let is_window =
                |layer: &LayerId| layer.order == Order::Middle && memory.areas().visible_last_frame(layer);
            memory.layer_ids().filter(is_window).last()
        });
        on_top.map_or(Escape::Free, Escape::Closes)
    };
    ctx.data_mut(|data| data.insert_temp(key(), escape));
}

/// Whether Escape is pressed and no menu, dialog or window has a use for it.
pub(crate) fn is_escape_free(ctx: &Context) -> bool {
    aimed(ctx) == Escape::Free
}

/// Shows a small window where it is open, and says by `open` whether it still is.
pub(crate) fn window_ui(ctx: &Context, window: Window<'_>, open: &mut bool, add: impl FnOnce(&mut Ui)) {
    let mut stays_open = *open;
    let shown = window.open(&mut stays_open).show(ctx, add);
    let is_escaped = shown.is_some_and(|shown| aimed(ctx) == Escape::Closes(shown.response.layer_id));
    *open = stays_open && !is_escaped;
    if is_escaped {
        ctx.request_repaint();
    }
}

fn aimed(ctx: &Context) -> Escape {
    ctx.data(|data| data.get_temp(key()).unwrap_or_default())
}

fn key() -> Id {
    Id::unique("what Escape does")
}
