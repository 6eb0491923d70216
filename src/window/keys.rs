//! The keyboard: one table of keys, what each does, and the page that lists them.

use bevy_egui::egui::{Context, Grid, Key, Modifiers, Popup, RichText, Slider, Ui};

use super::bench;
use super::choice::choice;
use super::clock::{Jump, RATES};
use super::desk::Desk;
use super::drill;
use super::offence_page::heading;
use super::palette::*;
use super::settings::{Page, TYPE};
use super::story::Story;
use super::words::keys as words;

/// Something that a key does.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Deed {
    /// Run or freeze.
    Toggle,
    /// To the next decision, or with `false` to the one before.
    Step(bool),
    /// One tick on, or with `false` one back.
    Tick(bool),
    /// Another of [`super::clock::RATES`].
    Rate(usize),
    /// To the next such spell.
    Jump(Jump),
    /// The same possession from its start.
    Again,
    /// The possession of the next seed.
    NextSeed,
    /// The possession of the seed before.
    LastSeed,
    /// Open or close the list of stories.
    Story,
    /// Put a page of the drawer out, or in if it is out.
    Page(Page),
    /// Put the drawer in.
    CloseDrawer,
    /// Switch a layer, in the order of [`Layers`](super::settings::Layers).
    Layer(usize),
    /// Bodies moved by hand go back.
    PutBack,
    /// The possession as it was played, without moves by hand.
    Itself,
    /// Begin the drill, or go on with it.
    Drill,
    /// Take back the last change.
    Undo,
    /// Make it again.
    Redo,
    /// Save the file.
    Save,
    /// Ask for a file to open.
    Open,
    /// Begin a variation of what is on the desk.
    New,
    /// Larger type, or with `false` smaller.
    Bigger(bool),
    /// Feet instead of metres, or the other way round.
    Units,
    /// The floor alone on the whole screen, or back.
    Wall,
}

const NONE: Modifiers = Modifiers::NONE;
const SHIFT: Modifiers = Modifiers::SHIFT;
const COMMAND: Modifiers = Modifiers::COMMAND;

/// Key, with what held, does what, in words.
pub const KEYS: &[(Key, Modifiers, Deed, &str)] = &[
    (
        Key::Space,
        NONE,
        Deed::Toggle,
        words::RUN_WITH_PLAYERS_MOVED,
    ),
    (
        Key::ArrowRight,
        NONE,
        Deed::Step(true),
        words::NEXT_DECISION,
    ),
    (
        Key::ArrowLeft,
        NONE,
        Deed::Step(false),
        words::DECISION_BEFORE,
    ),
    (
        Key::ArrowRight,
        SHIFT,
        Deed::Tick(true),
        words::A_MOMENT_ON_1,
    ),
    (
        Key::ArrowLeft,
        SHIFT,
        Deed::Tick(false),
        words::A_MOMENT_BACK,
    ),
    (Key::Num1, NONE, Deed::Rate(0), words::REAL_TIME),
    (Key::Num2, NONE, Deed::Rate(1), words::HALF_SPEED),
    (Key::Num4, NONE, Deed::Rate(2), words::QUARTER_SPEED),
    (
        Key::S,
        NONE,
        Deed::Jump(Jump::Stall),
        words::TO_THE_NEXT_STALL,
    ),
    (
        Key::B,
        NONE,
        Deed::Jump(Jump::Backdoor),
        words::TO_THE_NEXT_BACKDOOR,
    ),
    (
        Key::L,
        NONE,
        Deed::Jump(Jump::Lane),
        words::TO_THE_NEXT_OPEN,
    ),
    (Key::R, NONE, Deed::Again, words::THE_SAME_POSSESSION_AGAIN),
    (Key::N, NONE, Deed::NextSeed, words::NEXT_POSSESSION),
    (Key::P, NONE, Deed::LastSeed, words::POSSESSION_BEFORE),
    (Key::W, NONE, Deed::Story, words::SHOW_ME_ONE_WHERE),
    (
        Key::O,
        NONE,
        Deed::Page(Page::Offence),
        words::THE_OFFENCES_RULES,
    ),
    (Key::D, NONE, Deed::Page(Page::Defence), words::THE_DEFENCE),
    (Key::Q, NONE, Deed::Page(Page::Squad), words::THE_SQUADS),
    (
        Key::F,
        NONE,
        Deed::Page(Page::Figures),
        words::THE_SCRIMMAGES_FIGURES,
    ),
    (Key::Y, NONE, Deed::Page(Page::Why), words::WHY_IT_STALLS),
    (Key::E, NONE, Deed::Page(Page::Drills), words::THE_DRILLS),
    (
        Key::J,
        NONE,
        Deed::Page(Page::Paper),
        words::PAPER_EVERYTHING_TO_HAND,
    ),
    (Key::V, NONE, Deed::Page(Page::Files), words::SAVE_AND_OPEN),
    (Key::H, NONE, Deed::Page(Page::Keys), words::THIS_HELP),
    (
        Key::Escape,
        NONE,
        Deed::CloseDrawer,
        words::STOP_LOOKING_OR_DRAWER,
    ),
    (Key::M, NONE, Deed::Layer(3), "midline"),
    (Key::T, NONE, Deed::Layer(4), words::BALL_MAN_RIM_TRIANGLES),
    (Key::A, NONE, Deed::Layer(5), words::PASSES_AWAY),
    (Key::G, NONE, Deed::Layer(6), words::WHERE_THE_MODEL_WOULD),
    (Key::C, NONE, Deed::Layer(1), words::THREADS_WHO_SHUTS_WHAT),
    (Key::K, NONE, Deed::Layer(2), "trails"),
    (Key::I, NONE, Deed::Layer(0), "light"),
    (Key::I, SHIFT, Deed::Layer(7), words::LIGHT_WHERE_A_BALL),
    (
        Key::Backspace,
        NONE,
        Deed::PutBack,
        words::PUT_MOVED_PLAYERS_BACK,
    ),
    (Key::X, NONE, Deed::Itself, words::BACK_TO_THE_POSSESSION_AS),
    (Key::Enter, NONE, Deed::Drill, words::IN_A_DRILL_BEGIN),
    (Key::Z, COMMAND, Deed::Undo, "undo"),
    (Key::Y, COMMAND, Deed::Redo, "redo"),
    (Key::S, COMMAND, Deed::Save, "save"),
    (Key::O, COMMAND, Deed::Open, words::OPEN_A_FILE),
    (Key::N, COMMAND, Deed::New, words::NEW_VARIATION),
    (Key::Plus, NONE, Deed::Bigger(true), words::LARGER_TYPE),
    (Key::Equals, NONE, Deed::Bigger(true), words::LARGER_TYPE),
    (Key::Minus, NONE, Deed::Bigger(false), words::SMALLER_TYPE),
    (Key::U, NONE, Deed::Units, words::FEET_OR_METRES),
    (Key::F11, NONE, Deed::Wall, words::FULL_SCREEN_THE_FLOOR),
];

/// Does what the keys ask for, unless something is being written.
pub fn listen(ctx: &Context, desk: &mut Desk) {
    if ctx.text_edit_focused() || story(ctx, desk) {
        return;
    }
    let focused = ctx.memory(|m| m.focused()).is_some();
    // An open list takes escape for itself.
    let list = Popup::is_any_open(ctx);
    let mut deeds = Vec::new();
    ctx.input_mut(|input| {
        for (key, held, deed, _) in KEYS {
            // Space, enter and arrows belong to a focused widget first.
            let own = focused
                && matches!(
                    key,
                    Key::Space | Key::Enter | Key::ArrowLeft | Key::ArrowRight
                )
                || list && *key == Key::Escape;
            let exact = input.modifiers.matches_exact(*held);
            if !own && exact && input.key_pressed(*key) {
                deeds.push(*deed);
            }
        }
    });
    for deed in deeds {
        act(desk, deed);
    }
}

/// While the list of stories is open, a number chooses one.
fn story(ctx: &Context, desk: &mut Desk) -> bool {
    if !desk.searching || desk.search.is_some() {
        return false;
    }
    let pressed = Story::ALL
        .into_iter()
        .zip(NUMBERS)
        .find(|(_, key)| ctx.input_mut(|input| input.consume_key(NONE, *key)));
    if let Some((story, _)) = pressed {
        desk.searching = false;
        desk.find(story);
    }
    pressed.is_some()
}

const NUMBERS: [Key; 9] = [
    Key::Num1,
    Key::Num2,
    Key::Num3,
    Key::Num4,
    Key::Num5,
    Key::Num6,
    Key::Num7,
    Key::Num8,
    Key::Num9,
];

/// The switch of a layer.
pub fn layer(desk: &mut Desk, which: usize) -> &mut bool {
    let layers = &mut desk.settings.layers;
    match which {
        0 => &mut layers.light,
        1 => &mut layers.threads,
        2 => &mut layers.trails,
        3 => &mut layers.midline,
        4 => &mut layers.triangles,
        5 => &mut layers.passes_away,
        6 => &mut layers.model_places,
        _ => &mut layers.arrival,
    }
}

/// What each layer is called.
pub const LAYERS: [&str; 8] = [
    "light",
    words::THREADS_WHO_SHUTS_WHAT,
    "trails",
    "midline",
    words::BALL_MAN_RIM_TRIANGLES,
    words::PASSES_AWAY,
    words::WHERE_THEY_SHOULD_STAND,
    words::LIGHT_WHERE_A_BALL_ARRIVES,
];

/// Does one thing.
pub fn act(desk: &mut Desk, deed: Deed) {
    match deed {
        Deed::Toggle => bench::toggle(desk),
        Deed::Step(forward) => bench::step(desk, forward),
        Deed::Tick(forward) => bench::tick(desk, forward),
        Deed::Rate(i) => desk.time.rate = RATES[i].0,
        Deed::Jump(to) => desk.jump(to),
        Deed::Again => desk.to_seed(desk.seed),
        Deed::NextSeed => desk.to_seed(desk.seed + 1),
        Deed::LastSeed => desk.to_seed(desk.seed.saturating_sub(1)),
        Deed::Story => bench::ask_story(desk),
        Deed::Page(page) => {
            desk.hush();
            desk.page = (desk.page != Some(page)).then_some(page);
        }
        Deed::CloseDrawer => {
            if desk.searching || desk.search.is_some() {
                desk.searching = false;
                desk.search = None;
            } else if desk.said.as_ref().is_some_and(|s| s.left.is_none()) {
                desk.said = None;
            } else if desk.wall {
                desk.wall = false;
            } else {
                desk.page = None;
            }
        }
        Deed::Layer(which) => {
            let switch = layer(desk, which);
            *switch = !*switch;
        }
        Deed::PutBack => {
            if !drill::holds(desk) {
                desk.put_back();
            }
        }
        Deed::Itself => desk.back_to_itself(),
        Deed::Drill => {
            if desk.page == Some(Page::Drills) {
                drill::go_on(desk);
            }
        }
        Deed::Undo => desk.undo(),
        Deed::Redo => desk.redo(),
        Deed::Save => desk.save(),
        Deed::Open => desk.ask_to_open(),
        Deed::New => desk.new_variation(),
        Deed::Bigger(up) => {
            let step = if up { 0.1 } else { -0.1 };
            desk.settings.type_size =
                (desk.settings.type_size + step).clamp(*TYPE.start(), *TYPE.end());
        }
        Deed::Units => {
            let metric = desk.units() == crate::court::Units::Metric;
            desk.settings.metric = Some(!metric);
            desk.retell();
        }
        Deed::Wall => {
            desk.wall = !desk.wall;
            desk.page = None;
        }
    }
}

/// Shows the page of help: what lies on the floor, how it is shown, and the keys.
pub fn show(ui: &mut Ui, desk: &mut Desk) {
    ui.label(words::THE_BALL_IS_A);
    heading(ui, words::ON_THE_FLOOR);
    for line in [
        words::DISC_WITH_A_NUMBER,
        words::X_WITH_A_NUMBER,
        words::BEAM_TO_THE_RIM,
        words::THREAD_WITH_A_KNOT,
        words::SOLID_ARROW_A_RUN,
        words::TAB_THROUGH_THE_PAGE,
        words::STRIP_BELOW_THE_POSSESSION,
    ] {
        ui.label(RichText::new(line).color(QUIET));
    }
    heading(ui, words::LAID_OVER_THE_FLOOR);
    for (i, name) in LAYERS.iter().enumerate() {
        ui.checkbox(layer(desk, i), *name);
    }
    heading(ui, words::TO_YOUR_LIKING);
    ui.horizontal(|ui| {
        let label = ui.label(words::SIZE_OF_TYPE);
        let slider = Slider::new(&mut desk.settings.type_size, TYPE).show_value(false);
        ui.add(slider).labelled_by(label.id);
    });
    ui.checkbox(&mut desk.settings.reduced_motion, words::REDUCED_MOTION);
    ui.checkbox(&mut desk.settings.key, words::WHAT_THE_SIGNS_MEAN);
    if ui.button(words::SHOW_THE_FIRST_HINTS).clicked() {
        desk.settings.hint = 0;
        desk.hinted = 0.0;
    }
    let mut metric = desk.units() == crate::court::Units::Metric;
    if ui
        .checkbox(&mut metric, words::LENGTHS_IN_METRES_NOT)
        .changed()
    {
        desk.settings.metric = Some(metric);
        desk.retell();
    }
    if ui.button(words::FULL_SCREEN_FOR_THE).clicked() {
        act(desk, Deed::Wall);
    }
    heading(ui, words::KEYS);
    Grid::new("keys")
        .num_columns(2)
        .striped(true)
        .show(ui, |ui| {
            for (key, held, _, words) in KEYS {
                let held = match *held {
                    SHIFT => words::SHIFT,
                    COMMAND => words::CTRL,
                    _ => "",
                };
                ui.label(RichText::new(format!("{held}{}", key.name())).strong());
                ui.label(*words);
                ui.end_row();
            }
        });
}

/// Whose model places are shown.
pub fn models(ui: &mut Ui, desk: &mut Desk) {
    let shown = desk.settings.layers.model_places;
    ui.horizontal_wrapped(|ui| {
        if choice(ui, !shown, words::NO_MARKS).clicked() {
            desk.settings.layers.model_places = false;
        }
        let own = shown && desk.files.rival.is_none();
        if choice(ui, own, words::THEIR_OWN_MODEL).clicked() {
            desk.files.rival = None;
            desk.settings.layers.model_places = true;
        }
        for rival in super::why_page::models(desk) {
            let on = shown && desk.files.rival.as_ref() == Some(&rival);
            if choice(ui, on, &rival.name).clicked() {
                desk.files.rival = Some(rival);
                desk.settings.layers.model_places = true;
            }
        }
    });
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_key_does_two_things() {
        for (i, a) in KEYS.iter().enumerate() {
            for b in &KEYS[i + 1..] {
                assert!((a.0, a.1) != (b.0, b.1), "{:?}", a.0);
            }
        }
    }
}
