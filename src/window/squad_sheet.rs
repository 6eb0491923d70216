//! One player's sheet: what a coach measures with a stopwatch, a tape and a tally, each number
//! written or left to the level. What cannot be is refused in words by the squad file's own checks.

use bevy_egui::egui::{ComboBox, DragValue, Frame, Margin, RichText, Stroke, TextEdit, Ui};

use super::numbers;
use super::palette::*;
use super::words::squads as words;
use crate::court::Units;
use crate::squad::measured::{sprint_of, usual_lane_agility};
use crate::squad::units::{Height, LaneAgility, Makes, Sprint, StandingReach};
use crate::squad::{Position, RawPlayer, RawSquad};

/// Shows the sheet of player `number`; `wrong` is what was wrong with the last number written.
/// `knob` names what is turned.
pub fn sheet(
    ui: &mut Ui,
    raw: &mut RawSquad,
    number: u8,
    units: Units,
    wrong: Option<String>,
    knob: &mut String,
) {
    let level = raw.level;
    let mut measured = raw.clone();
    let player = measured.measured(number);
    let before = player.clone();
    Frame::new()
        .stroke(Stroke::new(1.0, EDGE))
        .corner_radius(6.0)
        .inner_margin(Margin::same(10))
        .show(ui, |ui| {
            who(ui, player, number);
            let position = player.position.unwrap_or(Position::of_number(number));
            let usual = level.player(number, position).limits;
            let mut sprint = player.sprint.map(|s| s.0);
            seconds(
                ui,
                words::SPRINT_75_FT,
                &mut sprint,
                sprint_of(&usual),
                HINTS[0],
            );
            player.sprint = sprint.map(Sprint);
            let mut agility = player.lane_agility.map(|s| s.0);
            seconds(
                ui,
                words::LANE_AGILITY,
                &mut agility,
                usual_lane_agility(level),
                HINTS[1],
            );
            player.lane_agility = agility.map(LaneAgility);
            let mut height = player.height.map(|h| h.0);
            tall(ui, "height", &mut height, usual.height, units);
            player.height = height.map(Height);
            let mut reach = player.standing_reach.map(|h| h.0);
            let arms = usual.standing_reach / usual.height;
            let usual_reach = player.height.map_or(usual.height, |h| h.0) * arms;
            tall(ui, words::STANDING_REACH, &mut reach, usual_reach, units);
            player.standing_reach = reach.map(StandingReach);
            ui.add_space(4.0);
            ui.label(words::OPEN_SHOTS_MADE_OF);
            let makes = &mut player.makes;
            for (zone, made) in [
                (words::AT_THE_RIM, &mut makes.rim),
                (words::IN_THE_PAINT, &mut makes.paint),
                ("mid-range", &mut makes.mid_range),
                (words::CORNER_THREE, &mut makes.corner_three),
                (words::OTHER_THREES, &mut makes.arc_three),
                (words::FREE_THROWS, &mut makes.free_throw),
            ] {
                tally(ui, zone, made);
            }
            if let Some(wrong) = wrong {
                ui.label(
                    RichText::new(words::that_cannot_be(&wrong))
                        .color(WARN)
                        .strong(),
                );
            }
        });
    if *player != before {
        *knob = words::sheet_of(&number, &what(&before, player));
        *raw = measured;
    }
}

/// What is measured, for whoever has never done it (common practice).
const HINTS: [&str; 2] = [words::SECONDS_BY_HAND_FROM, words::SECONDS_FOR_THE_RUN];

/// Which part of the sheet differs: turns of one number are one step to undo.
fn what(a: &RawPlayer, b: &RawPlayer) -> &'static str {
    match () {
        () if a.sprint != b.sprint => "sprint",
        () if a.lane_agility != b.lane_agility => words::LANE_AGILITY,
        () if a.height != b.height => "height",
        () if a.standing_reach != b.standing_reach => "reach",
        () if a.makes != b.makes => "makes",
        () if a.name != b.name => "name",
        () => "position",
    }
}

fn who(ui: &mut Ui, player: &mut RawPlayer, number: u8) {
    ui.horizontal(|ui| {
        let label = ui.label(words::player(&number));
        let mut name = player.name.clone().unwrap_or_default();
        let field = TextEdit::singleline(&mut name)
            .hint_text(words::NAME)
            .char_limit(40)
            .desired_width(150.0);
        if ui.add(field).labelled_by(label.id).changed() {
            player.name = (!name.trim().is_empty()).then_some(name);
        }
        let now = player.position.unwrap_or(Position::of_number(number));
        ComboBox::from_id_salt(("position", number))
            .selected_text(now.word())
            .width(90.0)
            .show_ui(ui, |ui| {
                for position in [Position::Guard, Position::Wing, Position::Post] {
                    if ui
                        .selectable_label(position == now, position.word())
                        .clicked()
                    {
                        player.position = Some(position);
                    }
                }
            });
    });
}

/// A row that is either measured or left to the level.
fn row(
    ui: &mut Ui,
    name: &str,
    value: &mut Option<f64>,
    usual: f64,
    said: &str,
    hint: &str,
    drag: impl FnOnce(&mut f64) -> DragValue<'_>,
    (read, like): (impl Fn(&str) -> Option<f64>, &str),
) {
    // What is wrong with a number is said beside it, and on the next line where there is no room.
    ui.horizontal_wrapped(|ui| {
        let mut known = value.is_some();
        let switch = ui.checkbox(&mut known, name);
        let switch = if hint.is_empty() {
            switch
        } else {
            switch.on_hover_text(hint)
        };
        if switch.changed() {
            *value = known.then_some(usual);
        }
        match value {
            Some(value) => {
                numbers::written(ui, drag(value), read, like).labelled_by(switch.id);
            }
            None => {
                ui.label(
                    RichText::new(words::not_measured_as_usual(&said))
                        .color(QUIET)
                        .small(),
                );
            }
        }
    });
}

fn seconds(ui: &mut Ui, name: &str, value: &mut Option<f64>, usual: f64, hint: &str) {
    let usual = (usual * 100.0).round() / 100.0;
    let said = words::s_word_usual(&usual);
    row(
        ui,
        name,
        value,
        usual,
        &said,
        hint,
        |v| {
            DragValue::new(v)
                .speed(0.01)
                .max_decimals(2)
                .min_decimals(2)
                .suffix(words::S_WORD)
        },
        (numbers::number, words::EXAMPLE_3_40_OR_3),
    );
}

fn tall(ui: &mut Ui, name: &str, value: &mut Option<f64>, usual: f64, units: Units) {
    let said = in_words(usual, units);
    let usual = match units {
        Units::Metric => (usual * 100.0).round() / 100.0,
        Units::Imperial => (usual / INCH).round() * INCH,
    };
    row(
        ui,
        name,
        value,
        usual,
        &said,
        "",
        |v| {
            DragValue::new(v)
                .speed(0.005)
                .custom_formatter(move |metres, _| in_words(metres, units))
        },
        (
            move |text: &str| metres_of(text, units),
            words::EXAMPLE_6_FT_2_74,
        ),
    );
}

const INCH: f64 = 0.0254;

/// "1.83 m" or "6 ft 0".
fn in_words(metres: f64, units: Units) -> String {
    match units {
        Units::Metric => words::m_word(&metres),
        Units::Imperial => {
            let inches = (metres / INCH).round().max(0.0) as u32;
            words::ft(&(inches / 12), &(inches % 12))
        }
    }
}

/// A length as a coach writes it: "6 ft 2", "6'2\"", "6 2", "74 in", "1.88 m", "1.88", "188 cm".
/// Metres; `None` if it is no length.
fn metres_of(text: &str, units: Units) -> Option<f64> {
    let text = text.trim().to_lowercase().replace(',', ".");
    let numbers: Vec<f64> = text
        .split(|c: char| !c.is_ascii_digit() && c != '.')
        .filter(|part| !part.is_empty())
        .map(|part| part.parse().ok())
        .collect::<Option<_>>()?;
    match numbers.as_slice() {
        [feet, inches] => Some(feet * 12.0 * INCH + inches * INCH),
        [one] if text.ends_with("cm") => Some(one / 100.0),
        [one] if text.ends_with('m') => Some(*one),
        [one] if text.ends_with("in") || text.ends_with('"') => Some(one * INCH),
        [one] if text.ends_with("ft") || text.ends_with('\'') => Some(one * 12.0 * INCH),
        // A bare number: centimetres, inches, or the unit that is shown, by its size.
        [one] if *one > 100.0 => Some(one / 100.0),
        [one] if *one > 36.0 => Some(one * INCH),
        [one] if units == Units::Metric || *one < 3.0 => Some(*one),
        [one] => Some(one * 12.0 * INCH),
        _ => None,
    }
}

fn count(n: &mut u32) -> DragValue<'_> {
    DragValue::new(n).range(0..=9999).speed(0.2)
}

/// Makes and attempts of one zone; nothing tried, nothing known.
fn tally(ui: &mut Ui, zone: &str, made: &mut Option<Makes>) {
    let now = made.unwrap_or(Makes {
        makes: 0,
        attempts: 0,
    });
    let mut next = now;
    ui.horizontal_wrapped(|ui| {
        let first = numbers::written(ui, count(&mut next.makes), numbers::number, "12");
        let label = ui.label(words::OF_WORD);
        let second = numbers::written(ui, count(&mut next.attempts), numbers::number, "40");
        let name = ui.label(zone);
        first.labelled_by(name.id);
        second.labelled_by(name.id).labelled_by(label.id);
        if now.attempts == 0 {
            ui.label(RichText::new(words::NOT_COUNTED).color(QUIET).small());
        }
    });
    if next.makes > now.makes {
        // What was made was tried.
        next.attempts = next.attempts.max(next.makes);
    }
    if next != now {
        *made = (next.attempts > 0 || next.makes > 0).then_some(next);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_length_is_read_as_a_coach_writes_it() {
        use Units::{Imperial, Metric};
        for (text, units, metres) in [
            ("6 ft 2", Imperial, 1.8796),
            ("6'2\"", Imperial, 1.8796),
            ("6 2", Imperial, 1.8796),
            ("74 in", Imperial, 1.8796),
            ("6.5", Imperial, 1.9812),
            ("8 ft", Metric, 2.4384),
            ("1.88 m", Imperial, 1.88),
            ("1,88", Metric, 1.88),
            ("188", Metric, 1.88),
            ("188 cm", Imperial, 1.88),
            ("1.88", Imperial, 1.88),
        ] {
            let got = metres_of(text, units).unwrap_or(0.0);
            assert!((got - metres).abs() < 1e-9, "{text}: {got}");
        }
        for bad in ["", "tall", "1 2 3", "6..2"] {
            assert_eq!(metres_of(bad, Metric), None, "{bad}");
        }
    }

    #[test]
    fn a_length_in_words_is_read_back_to_the_inch_or_centimetre() {
        for units in [Units::Metric, Units::Imperial] {
            for cm in 110..240 {
                let metres = f64::from(cm) / 100.0;
                let back = metres_of(&in_words(metres, units), units).unwrap_or(0.0);
                assert!(
                    (back - metres).abs() <= INCH / 2.0 + 1e-9,
                    "{metres} {back}"
                );
            }
        }
    }
}
