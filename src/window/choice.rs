//! One of several that can be chosen: each outlined, so that what is not chosen is seen to be a choice, too.

use bevy_egui::egui::{Response, Ui, WidgetInfo, WidgetType};

use super::bench::word;

/// A word that is chosen or not.
pub fn choice(ui: &mut Ui, on: bool, text: &str) -> Response {
    named(ui, on, text, text)
}

/// The same with a name of its own for whoever cannot see to which question it belongs.
pub fn named(ui: &mut Ui, on: bool, text: &str, name: &str) -> Response {
    let response = word(ui, text, on, "");
    response.widget_info(|| WidgetInfo::selected(WidgetType::RadioButton, true, on, name));
    response
}
