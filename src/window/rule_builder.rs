//! A rule written in the window: a sentence of outlined choices, each of them a word of the language with its meaning,
//! also chosen by pointing at the floor. What can be played is played at once; what cannot says why.

use bevy_egui::egui::{
    ComboBox, DragValue, FontId, Grid, RichText, ScrollArea, TextEdit, TextStyle, Ui, WidgetInfo,
};

use super::bench::word as small;
use super::desk::Desk;
use super::numbers::{number, written};
use super::palette::*;
use super::phrase::{Path, Phrase, words};
use super::rule_mend::{self, Mend, Pressed, mends};
use super::variation::Edit;
use super::words::rules as words;
use super::words::spoken::{joins, means, rows, spoken};
use crate::offence::check::Weight;
use crate::offence::words::{self as said, shape::Shape};
use crate::offence::{Offence, Place, Role};

/// What is being written.
#[derive(Default)]
pub struct Builder {
    /// The rule that is open, by its place in the offence.
    pub open: Option<usize>,
    /// What has been said so far, if it cannot be played yet.
    draft: Option<Phrase>,
    /// Why it cannot be played yet.
    pub problem: Option<String>,
    /// The choices each of which mends that.
    pub mends: Vec<Mend>,
    /// The name, while it is written.
    name: Option<String>,
    /// The piece that is to be pointed at on the floor.
    pub pick: Option<Path>,
    /// What has been pointed at.
    pub picked: Option<(Path, Phrase)>,
    /// What of the offence is shown beside its rules.
    pub section: Option<usize>,
    /// The rule has just been opened, or just been finished: the page is to turn to it, by its place in the offence.
    pub seek: Option<usize>,
    /// What was on the desk before the rule was first changed since it is open.
    pub before: Option<Edit>,
}

impl Builder {
    /// Opens the rule at that place, or closes the one that is open: the eye stays on it.
    pub fn turn_to(&mut self, rule: Option<usize>) {
        *self = Builder {
            open: rule,
            seek: rule.or(self.open),
            section: self.section,
            ..Builder::default()
        };
    }

    /// The sentence is that of the rule that is played.
    fn as_played(&mut self) {
        (self.problem, self.draft) = (None, None);
        self.mends.clear();
    }

    /// Is the piece that is pointed at a player (and not a place only)?
    pub fn picks_player(&self, offence: &Offence) -> bool {
        let rule = self.open.and_then(|i| offence.rules.get(i));
        let phrase = self.draft.clone().or_else(|| Phrase::of(rule?));
        let piece = |mut p: Phrase| p.at(self.pick.as_deref()?).map(|p| is_of(p, "Role"));
        phrase.and_then(piece).unwrap_or(false)
    }
}

fn is_of(phrase: &Phrase, wanted: &str) -> bool {
    matches!(phrase, Phrase::Word { register, .. } if *register == wanted)
}

/// Shows the sentence of rule `i` of the edit, which it changes. True if something was changed.
pub fn show(ui: &mut Ui, desk: &mut Desk, edit: &mut Edit, i: usize) -> bool {
    let Some(rule) = edit.offence.rules.get(i) else {
        desk.builder.turn_to(None);
        return false;
    };
    let Some(before) = desk.builder.draft.clone().or_else(|| Phrase::of(rule)) else {
        return false;
    };
    let mut phrase = before.clone();
    if let Some((path, piece)) = desk.builder.picked.take()
        && let Some(at) = phrase.at(&path)
    {
        *at = if is_of(at, "Role") && is_of(&piece, "Place") {
            at_place(&piece)
        } else {
            piece
        };
    }
    let mut pen = Pen {
        path: Path::new(),
        pick: desk.builder.pick.clone(),
        patterns: false,
    };
    sentence(ui, &mut phrase, &mut pen);
    desk.builder.pick = pen.pick;
    if desk.builder.pick.is_some() {
        ui.label(RichText::new(words::NOW_CLICK_IT_ON).color(BALL));
    }
    if desk.builder.problem.is_some() {
        match rule_mend::show(ui, &desk.builder.mends) {
            Some(Pressed::Mend(mended)) => phrase = mended,
            Some(Pressed::Back) => desk.builder.as_played(),
            None => {}
        }
    }
    phrase != before && take(desk, edit, i, phrase)
}

/// The player who holds the place of a phrase.
fn at_place(place: &Phrase) -> Phrase {
    let place = place.value().unwrap_or(Place::Top);
    Phrase::written("Role", &Role::At(place))
}

/// Puts what is said now into the edit, if it can be played.
fn take(desk: &mut Desk, edit: &mut Edit, i: usize, phrase: Phrase) -> bool {
    let mut tried = edit.clone();
    let problem = match phrase.rule() {
        None => Some(words::SOMETHING_IS_MISSING.to_owned()),
        Some(rule) => {
            tried.offence.rules[i] = rule;
            let mut found = tried.findings().into_iter();
            found.find(|f| f.weight == Weight::Error).map(|f| f.said)
        }
    };
    if let Some(problem) = problem {
        let played = Phrase::of(&edit.offence.rules[i]);
        let last = desk.builder.draft.take().or(played);
        desk.builder.mends = last.map_or(Vec::new(), |last| mends(edit, i, &last, &phrase));
        desk.builder.problem = Some(problem);
        desk.builder.draft = Some(phrase);
        return false;
    }
    *edit = tried;
    desk.builder.as_played();
    true
}

/// The name of the rule, in the room that is left; it is taken when it has been written.
pub fn name(ui: &mut Ui, desk: &mut Desk, edit: &mut Edit, i: usize) -> bool {
    let old = edit.offence.rules[i].name.clone();
    let mut text = desk.builder.name.clone().unwrap_or_else(|| old.clone());
    let written = TextEdit::singleline(&mut text).desired_width(ui.available_width() - 12.0);
    let field = ui.add(written).on_hover_text(words::NAME);
    let value = text.clone();
    field.widget_info(|| WidgetInfo {
        label: Some(words::NAME.to_owned()),
        ..WidgetInfo::text_edit(true, &value, &value, "")
    });
    if field.changed() {
        desk.builder.name = Some(text.clone());
    }
    let new = text.trim().to_owned();
    if !field.lost_focus() || new.is_empty() || new == old {
        return false;
    }
    desk.builder.name = None;
    if edit.offence.rules.iter().any(|r| r.name == new) {
        desk.say(words::ANOTHER_RULE_HAS_THAT);
        return false;
    }
    if edit.off.remove(&old) {
        edit.off.insert(new.clone());
    }
    edit.offence.rules[i].name = new;
    desk.builder.draft = None;
    true
}

/// Where the pen is in the sentence.
struct Pen {
    path: Path,
    /// The piece that the floor is asked for.
    pick: Option<Path>,
    /// May a place be a pattern such as “any place outside”?
    patterns: bool,
}

impl Pen {
    /// Goes into part `at`, and out again.
    fn within<R>(&mut self, at: usize, does: impl FnOnce(&mut Pen) -> R) -> R {
        self.path.push(at);
        let out = does(self);
        self.path.pop();
        out
    }
}

/// The whole rule: when, who and what, line by line.
fn sentence(ui: &mut Ui, phrase: &mut Phrase, pen: &mut Pen) {
    let Phrase::Group(parts) = phrase else { return };
    for (k, (part, piece)) in parts.iter_mut().enumerate() {
        match part.key {
            Some("when") => flow(ui, words::WHEN, |ui| {
                pen.patterns = true;
                pen.within(k, |pen| tell(ui, piece, pen));
                pen.patterns = false;
            }),
            Some("do") => pen.within(k, |pen| lines(ui, piece, pen)),
            Some("only_if") => flow(ui, words::ONLY_IF, |ui| {
                pen.within(k, |pen| list(ui, piece, pen, "and"));
            }),
            Some("once") => {
                if let Phrase::Flag(once) = piece {
                    ui.checkbox(once, words::ONLY_THE_FIRST_TIME);
                }
            }
            _ => {}
        }
    }
}

fn flow(ui: &mut Ui, begins: &str, does: impl FnOnce(&mut Ui)) {
    ui.horizontal_wrapped(|ui| {
        ui.spacing_mut().item_spacing.x = 5.0;
        ui.label(RichText::new(begins).color(BALL));
        does(ui);
    });
}

/// The lines: who does what.
fn lines(ui: &mut Ui, phrase: &mut Phrase, pen: &mut Pen) {
    let Phrase::List(shape, lines) = phrase else {
        return;
    };
    let mut gone = None;
    let many = lines.len() > 1;
    for (k, line) in lines.iter_mut().enumerate() {
        let begins = if k == 0 { "then" } else { "and" };
        flow(ui, begins, |ui| {
            pen.within(k, |pen| one_line(ui, line, pen))
        });
        if many && small(ui, &words::leave_line_out(&(k + 1)), false, "").clicked() {
            gone = Some(k);
        }
    }
    if let Some(k) = gone {
        lines.remove(k);
    }
    if small(
        ui,
        words::AND_ANOTHER_PLAYER,
        false,
        words::ONE_MORE_LINE_WHO,
    )
    .clicked()
    {
        let mut line = Phrase::any(shape);
        if let Some(who) = line.at(&[0]) {
            *who = Phrase::written("Role", &Role::At(Place::Top));
        }
        if let Some(does) = line.at(&[1]) {
            does.choose("fill");
        }
        lines.push(line);
    }
}

fn one_line(ui: &mut Ui, line: &mut Phrase, pen: &mut Pen) {
    let Phrase::Group(parts) = line else { return };
    for (k, (part, piece)) in parts.iter_mut().enumerate() {
        match part.key {
            Some("after") => wait(ui, piece),
            Some("then") => pen.within(k, |pen| list(ui, piece, pen, words::THAT_DONE)),
            Some("only_if") => {
                says(ui, words::ONLY_IF_2);
                pen.within(k, |pen| list(ui, piece, pen, "and"));
            }
            _ => pen.within(k, |pen| tell(ui, piece, pen)),
        }
    }
}

/// How long he waits first, if he does.
fn wait(ui: &mut Ui, phrase: &mut Phrase) {
    let Phrase::Seconds(seconds) = phrase else {
        return;
    };
    if *seconds > 0.0 {
        says(ui, words::AFTER);
        time(ui, seconds);
    } else if small(ui, words::A_WAIT, false, words::THE_RUN_STARTS_A).clicked() {
        *seconds = 0.5;
    }
}

fn time(ui: &mut Ui, seconds: &mut f64) {
    let drag = DragValue::new(seconds)
        .range(0.0..=60.0)
        .speed(0.05)
        .max_decimals(2)
        .suffix(words::S_WORD);
    written(ui, drag, number, words::EXAMPLE_1_5_OR_1);
}

/// A choice that has no room on this line goes on the next.
fn break_before(ui: &mut Ui, text: &str) {
    break_if(ui, text, ARROW);
}

/// Words that have no room on this line go on the next together.
fn says(ui: &mut Ui, text: &str) {
    if !text.is_empty() {
        break_if(ui, text, 6.0);
        ui.label(text);
    }
}

fn break_if(ui: &mut Ui, text: &str, more: f32) {
    let font = TextStyle::Button.resolve(ui.style());
    let wide = ui
        .painter()
        .layout_no_wrap(text.to_owned(), font, TEXT)
        .size()
        .x;
    if ui.available_size_before_wrap().x < wide + more {
        ui.end_row();
    }
}

/// Width of a choice beyond that of its words, points of the screen.
const ARROW: f32 = 42.0;

/// Several pieces, one more, one less.
fn list(ui: &mut Ui, phrase: &mut Phrase, pen: &mut Pen, between: &str) {
    let Phrase::List(shape, items) = phrase else {
        return;
    };
    let mut gone = None;
    for (k, item) in items.iter_mut().enumerate() {
        if k > 0 || between.starts_with(';') {
            says(ui, between);
        }
        pen.within(k, |pen| tell(ui, item, pen));
        if small(ui, "×", false, words::LEAVE_IT_OUT).clicked() {
            gone = Some(k);
        }
    }
    if let Some(k) = gone {
        items.remove(k);
    }
    let more = match shape {
        Shape::Word("Condition") => words::A_CONDITION,
        Shape::Word("Movement") => words::A_NEXT_STEP,
        _ => "+",
    };
    if small(ui, more, false, words::ONE_MORE).clicked() {
        items.push(Phrase::any(shape));
    }
}

/// One piece of the sentence.
fn tell(ui: &mut Ui, phrase: &mut Phrase, pen: &mut Pen) {
    match phrase {
        Phrase::Word { register, .. } if *register == "Place" => place(ui, phrase, pen),
        Phrase::Word { .. } => {
            choice(ui, phrase, pen);
            let Phrase::Word {
                register, parts, ..
            } = phrase
            else {
                return;
            };
            for (k, (part, piece)) in parts.iter_mut().enumerate() {
                let joins = joins(register, part.key);
                // What is left out has no words in the sentence but those of what can be said.
                if let Phrase::Maybe(shape, held @ None) = piece {
                    let more = words::more(&joins);
                    break_before(ui, &more);
                    if small(ui, &more, false, words::SAY_IT).clicked() {
                        *held = Some(Box::new(Phrase::any(shape)));
                    }
                    continue;
                }
                says(ui, joins);
                pen.within(k, |pen| tell(ui, piece, pen));
            }
        }
        Phrase::List(..) => list(ui, phrase, pen, "or"),
        Phrase::Maybe(shape, held) => match held {
            Some(inner) => {
                tell(ui, inner, pen);
                if small(ui, "×", false, words::LEAVE_IT_OUT).clicked() {
                    *held = None;
                }
            }
            None => {
                if small(ui, "+", false, words::SAY_IT).clicked() {
                    *held = Some(Box::new(Phrase::any(shape)));
                }
            }
        },
        Phrase::Seconds(seconds) => {
            time(ui, seconds);
        }
        Phrase::Player(who) => {
            ui.add(DragValue::new(who).range(1..=5).speed(0.05));
        }
        Phrase::Flag(flag) => {
            ui.checkbox(flag, "");
        }
        Phrase::Text(text) => {
            ui.label(text.as_str());
        }
        Phrase::Group(_) => {}
    }
}

/// The choice among the words of a register.
fn choice(ui: &mut Ui, phrase: &mut Phrase, pen: &mut Pen) {
    let Phrase::Word { register, word, .. } = &*phrase else {
        return;
    };
    let (register, now) = (*register, word.clone());
    let mut wanted = None;
    let mut points = false;
    break_before(ui, &spoken(register, &now));
    ComboBox::from_id_salt(("piece", pen.path.clone(), register))
        .selected_text(spoken(register, &now))
        .width(30.0)
        .height(420.0)
        .show_ui(ui, |ui| {
            if register == "Role" && small(ui, words::POINT_AT_IT_ON, false, "").clicked() {
                points = true;
                ui.close();
            }
            for known in words(register) {
                let on = known.word == now;
                if ui
                    .selectable_label(on, spoken(register, known.word))
                    .clicked()
                {
                    wanted = Some(known.word);
                }
                ui.label(RichText::new(means(known.means)).color(QUIET).small());
            }
        });
    if points {
        pen.pick = Some(pen.path.clone());
    }
    if let Some(word) = wanted.filter(|word| *word != now) {
        phrase.choose(word);
    }
}

/// Letters of the choice among places, share of the height of a small row.
const SMALL: f32 = 0.78;

/// The choice among places, or the floor.
fn place(ui: &mut Ui, phrase: &mut Phrase, pen: &mut Pen) {
    let now: Place = phrase.value().unwrap_or(Place::Top);
    let shown = said::place(now);
    let shown = shown.strip_prefix(words::THE).unwrap_or(&shown).to_owned();
    let mut wanted = None;
    let mut points = false;
    break_before(ui, &shown);
    ComboBox::from_id_salt(("place", pen.path.clone()))
        .selected_text(shown)
        .width(30.0)
        .height(420.0)
        .show_ui(ui, |ui| {
            if small(ui, words::POINT_AT_IT_ON, false, "").clicked() {
                points = true;
                ui.close();
            }
            // Small, so that the choice is no wider than the page: the floor stays in sight.
            ui.style_mut().override_font_id = Some(FontId::proportional(
                SMALL * ui.text_style_height(&TextStyle::Small),
            ));
            ui.spacing_mut().item_spacing.x = 2.0;
            ui.spacing_mut().button_padding.x = 4.0;
            ScrollArea::vertical().show(ui, |ui| {
                Grid::new("places").num_columns(3).show(ui, |ui| {
                    for row in rows(pen.patterns) {
                        for at in row {
                            let text = said::place(at);
                            let text = text.strip_prefix(words::THE).unwrap_or(&text);
                            if ui.selectable_label(at == now, text).clicked() {
                                wanted = Some(at);
                            }
                        }
                        ui.end_row();
                    }
                });
            });
        });
    if points {
        pen.pick = Some(pen.path.clone());
    }
    if let Some(at) = wanted.filter(|at| *at != now) {
        *phrase = Phrase::place(at);
    }
}
