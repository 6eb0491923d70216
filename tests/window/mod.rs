//! The window as egui shows it, without a screen, for all tests of it.
// Each test takes what it needs.
#![allow(dead_code)]

use std::path::Path;
use std::time::Duration;

use egui_kittest::Harness;
use egui_kittest::kittest::Queryable;
use lanelight::window::desk::Desk;
use lanelight::window::egui::Vec2;
use lanelight::window::{stage, store};

/// Seconds of one frame.
pub const FRAME: f32 = 1.0 / 30.0;

/// The demo, frozen, without hints or motion of its own.
pub fn desk(folder: &Path) -> Desk {
    let mut desk = Desk::new(store::demo(), None, folder.to_owned());
    desk.settings.reduced_motion = true;
    desk.settings.hint = 3;
    desk.time.running = false;
    // A change is there in the same frame, however slow the machine.
    desk.patience = Duration::from_secs(600);
    desk
}

/// A window of that size, points, with this on the desk; no frame is drawn yet.
pub fn open(desk: Desk, size: Vec2) -> Harness<'static, Desk> {
    Harness::builder()
        .with_size(size)
        .with_max_steps(3)
        .build_ui_state(
            move |ui, desk: &mut Desk| {
                stage::style(ui.ctx(), desk.size());
                stage::show(ui, desk, FRAME);
            },
            desk,
        )
}

/// Clicks the first that is called so.
pub fn press(window: &mut Harness<'_, Desk>, words: &str) {
    let all: Vec<_> = window.get_all_by_label(words).collect();
    assert!(!all.is_empty(), "nothing called {words:?}");
    all[0].click();
    drop(all);
    window.run_steps(3);
}
