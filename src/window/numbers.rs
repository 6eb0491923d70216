//! Numbers written by hand, as people write them: with a comma or a point, with or without the unit. What is no
//! number is said beside the field, and the old value stays.

use std::cell::RefCell;
use std::rc::Rc;

use bevy_egui::egui::{DragValue, Response, RichText, Ui};

use super::palette::WARN;
use super::words::squads as words;

/// Adds a number that can be turned, or written and then read by `read`; `like` is an example of what can be written.
pub fn written<'a>(
    ui: &mut Ui,
    drag: DragValue<'a>,
    read: impl Fn(&str) -> Option<f64> + 'a,
    like: &str,
) -> Response {
    let wrong: Rc<RefCell<Option<String>>> = Rc::default();
    let seen = Rc::clone(&wrong);
    let reads = move |text: &str| {
        let number = read(text);
        if number.is_none() && !text.trim().is_empty() {
            *seen.borrow_mut() = Some(text.trim().chars().take(24).collect());
        }
        number
    };
    let response = ui.add(drag.update_while_editing(false).custom_parser(reads));
    let wrong = wrong.take();
    let id = response.id.with(words::IS_NO_NUMBER);
    if let Some(text) = wrong {
        ui.data_mut(|data| data.insert_temp(id, text));
    } else if response.changed() || response.gained_focus() {
        ui.data_mut(|data| data.remove::<String>(id));
    }
    if let Some(text) = ui.data(|data| data.get_temp::<String>(id)) {
        let says = words::is_no_number(&text, &like);
        ui.label(RichText::new(says).color(WARN).small());
    }
    response
}

/// The number in a text: comma or point, and whatever unit stands behind it. `None` if there is none, or several.
pub fn number(text: &str) -> Option<f64> {
    let unit = |c: char| c.is_alphabetic() || c.is_whitespace() || c == '%';
    let text = text.trim().trim_end_matches(unit).replace('\u{2212}', "-");
    // With both, the comma stands between thousands.
    let text = if text.contains('.') {
        text.replace(',', "")
    } else {
        text.replace(',', ".")
    };
    text.parse().ok().filter(|n: &f64| n.is_finite())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_number_is_read_as_people_write_it() {
        for (text, number_of) in [
            ("3.40", 3.4),
            ("3,40", 3.4),
            (" 3,4 s ", 3.4),
            ("40 %", 40.0),
            ("1,234.5", 1234.5),
            ("\u{2212}0,1", -0.1),
        ] {
            assert_eq!(number(text), Some(number_of), "{text}");
        }
        for bad in ["abc", "", "3 4", "1.2.3", "inf", "nan", "--1"] {
            assert_eq!(number(bad), None, "{bad}");
        }
    }
}
