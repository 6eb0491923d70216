//! The figures of a trial in rows, each with what it means in a word.

use bevy_egui::egui::{
    Align, Color32, FontId, Label, Layout, Rect, RichText, Sense, TextStyle, Ui, UiBuilder, pos2,
    vec2,
};

use super::desk::Desk;
use super::palette::*;
use super::trial::Trial;
use super::trial_words::{FIGURES, Told};
use super::words::trial as says;
use crate::contest::Standing;
use crate::court::Units;
use crate::report::contest_words as words;

/// Room between two columns of the figures, points of the screen: at least, and at most.
const APART: (f32, f32) = (7.0, 12.0);

/// The figures in rows: before, after, the difference with its interval, and from how many possessions they are. All
/// rows are there before anything is known, so that no answer moves what stands beside or below them.
pub fn show(ui: &mut Ui, trial: &Trial, desk: &Desk) {
    let (played, (_, most)) = (trial.played(), trial.progress());
    let from = match played {
        0 => says::of_played(&most),
        n if n < most => says::first_of_played(&n, &most),
        n => says::all_played(&n),
    };
    let now = match trial.on(desk) {
        true => says::NOW,
        false => says::WITH_IT,
    };
    let head = [&from, "before", now, says::DIFFERENCE_95_PERCENT, ""];
    let mut rows = vec![head.map(|text| (text.to_owned(), QUIET))];
    // Figures of one unit have the same number of places.
    let shown = || FIGURES.iter().filter(|f| !f.short.is_empty());
    for figure in shown() {
        let alike = shown().filter(|other| other.unit == figure.unit);
        let places = alike.filter_map(|other| {
            let known = trial.of(other.name)?;
            Some(beside(other, known, desk.units(), 0).1)
        });
        let places = places.max().unwrap_or(0);
        rows.push(row(trial, figure, desk.units(), places));
    }
    // As wide as what is in them now; letters as large as what is usual there leaves room for.
    let mut font = TextStyle::Small.resolve(ui.style());
    let room = ui.available_width();
    let measured = |rows: &[[Cell; COLUMNS]], font: &FontId| -> [f32; COLUMNS] {
        std::array::from_fn(|k| {
            let wide = |row: &[Cell; COLUMNS]| {
                let text = row[k].0.clone();
                ui.painter()
                    .layout_no_wrap(text, font.clone(), TEXT)
                    .size()
                    .x
            };
            rows.iter().map(wide).fold(0.0, f32::max)
        })
    };
    // What is unusual takes of the gaps first.
    let usual = [USUAL.map(|text| (text.to_owned(), QUIET))];
    let gaps = (COLUMNS - 1) as f32;
    let wide =
        |rows: &[_], font: &FontId, gap: f32| measured(rows, font).iter().sum::<f32>() + gaps * gap;
    let fits =
        |font: &FontId| wide(&usual, font, APART.1) <= room && wide(&rows, font, APART.0) <= room;
    while !fits(&font) && font.size > LEAST_SIZE {
        font.size *= 0.98;
    }
    let widths = measured(&rows, &font);
    let apart = ((room - widths.iter().sum::<f32>()) / gaps).clamp(APART.0.min(room), APART.1);
    let high = ui.text_style_height(&TextStyle::Small) + 3.0;
    let size = vec2(room, high * rows.len() as f32);
    let (all, _) = ui.allocate_exact_size(size, Sense::hover());
    for (r, row) in rows.into_iter().enumerate() {
        let (mut left, top) = (all.left(), all.top() + high * r as f32);
        for (k, (text, colour)) in row.into_iter().enumerate() {
            let place = Rect::from_min_size(pos2(left, top), vec2(widths[k] + 1.0, high));
            // Figures end below each other.
            let layout = match k {
                1 | 2 => Layout::right_to_left(Align::Center),
                _ => Layout::left_to_right(Align::Center),
            };
            let mut cell = ui.new_child(UiBuilder::new().max_rect(place).layout(layout));
            let text = RichText::new(text).font(font.clone()).color(colour);
            let label = cell.add(Label::new(text).extend());
            if (r, k) == (0, 0) {
                label.on_hover_text(says::POSSESSIONS_OF_EACH);
            }
            left += widths[k] + apart;
        }
    }
}

/// What takes as much room in each column as is usual.
const USUAL: [&str; COLUMNS] = [
    says::NOTHING_OPEN,
    "20.931 %",
    "19.676 %",
    says::A_LONG_DIFFERENCE,
    says::BETTER_WORD,
];

/// Letters of the table are no smaller than this, points of the screen.
const LEAST_SIZE: f32 = 8.0;

/// Columns of the table: the name, before, after, the difference, and what that means in a word.
const COLUMNS: usize = 5;

/// What stands in one place of the table, and its colour.
type Cell = (String, Color32);

/// A figure before and after, and its difference, with so many more places than usual at least; and how many it has.
fn beside(figure: &Told, known: &Standing, units: Units, places: usize) -> ([String; 3], usize) {
    let ends = Some((known.low, known.high));
    words::beside_others(figure.unit, (known.a, known.b), ends, units, places)
}

/// One figure: its name, before, after, the difference, and what it means.
fn row(trial: &Trial, figure: &Told, units: Units, places: usize) -> [Cell; COLUMNS] {
    let name = (figure.short.to_owned(), TEXT);
    let Some(known) = trial.of(figure.name) else {
        let unknown = (says::NOT_KNOWN_YET.to_owned(), QUIET);
        let none = Cell::default();
        return [name, unknown, none.clone(), none.clone(), none];
    };
    // Colour is never the only sign: the same is said in a word.
    let (word, news) = figure.means(known);
    let colour = match news {
        Some(true) => BALL,
        Some(false) => WARN,
        None => QUIET,
    };
    let ([before, now, said], _) = beside(figure, known, units, places);
    let means = (word.to_owned(), colour);
    [name, (before, TEXT), (now, TEXT), (said, colour), means]
}
