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
        "run (with players moved: from there), or freeze at the nearest decision",
    ),
    (Key::ArrowRight, NONE, Deed::Step(true), "next decision"),
    (Key::ArrowLeft, NONE, Deed::Step(false), "decision before"),
    (
        Key::ArrowRight,
        SHIFT,
        Deed::Tick(true),
        "a moment on (1/25 s)",
    ),
    (Key::ArrowLeft, SHIFT, Deed::Tick(false), "a moment back"),
    (Key::Num1, NONE, Deed::Rate(0), "real time"),
    (Key::Num2, NONE, Deed::Rate(1), "half speed"),
    (Key::Num4, NONE, Deed::Rate(2), "quarter speed"),
    (Key::S, NONE, Deed::Jump(Jump::Stall), "to the next stall"),
    (
        Key::B,
        NONE,
        Deed::Jump(Jump::Backdoor),
        "to the next backdoor chance",
    ),
    (
        Key::L,
        NONE,
        Deed::Jump(Jump::Lane),
        "to the next open lane",
    ),
    (Key::R, NONE, Deed::Again, "the same possession again"),
    (Key::N, NONE, Deed::NextSeed, "next possession"),
    (Key::P, NONE, Deed::LastSeed, "possession before"),
    (Key::W, NONE, Deed::Story, "show me one where …"),
    (
        Key::O,
        NONE,
        Deed::Page(Page::Offence),
        "the offence's rules",
    ),
    (Key::D, NONE, Deed::Page(Page::Defence), "the defence"),
    (Key::Q, NONE, Deed::Page(Page::Squad), "the squads"),
    (
        Key::F,
        NONE,
        Deed::Page(Page::Figures),
        "the scrimmage's figures",
    ),
    (Key::Y, NONE, Deed::Page(Page::Why), "why it stalls"),
    (Key::E, NONE, Deed::Page(Page::Drills), "the drills"),
    (
        Key::J,
        NONE,
        Deed::Page(Page::Paper),
        "paper: everything to hand out",
    ),
    (
        Key::V,
        NONE,
        Deed::Page(Page::Files),
        "variations and files",
    ),
    (Key::H, NONE, Deed::Page(Page::Keys), "this help"),
    (
        Key::Escape,
        NONE,
        Deed::CloseDrawer,
        "stop looking, or drawer in",
    ),
    (Key::M, NONE, Deed::Layer(3), "midline"),
    (Key::T, NONE, Deed::Layer(4), "ball–man–rim triangles"),
    (Key::A, NONE, Deed::Layer(5), "passes away"),
    (
        Key::G,
        NONE,
        Deed::Layer(6),
        "where the model would have them",
    ),
    (Key::C, NONE, Deed::Layer(1), "threads: who shuts what"),
    (Key::K, NONE, Deed::Layer(2), "trails"),
    (Key::I, NONE, Deed::Layer(0), "light"),
    (
        Key::I,
        SHIFT,
        Deed::Layer(7),
        "light: where a ball arrives at all",
    ),
    (
        Key::Backspace,
        NONE,
        Deed::PutBack,
        "put moved players back",
    ),
    (
        Key::X,
        NONE,
        Deed::Itself,
        "back to the possession as it was before you moved anybody",
    ),
    (
        Key::Enter,
        NONE,
        Deed::Drill,
        "in a drill: begin, judge, next moment",
    ),
    (Key::Z, COMMAND, Deed::Undo, "undo"),
    (Key::Y, COMMAND, Deed::Redo, "redo"),
    (Key::S, COMMAND, Deed::Save, "save"),
    (Key::O, COMMAND, Deed::Open, "open a file"),
    (Key::N, COMMAND, Deed::New, "new variation"),
    (Key::Plus, NONE, Deed::Bigger(true), "larger type"),
    (Key::Equals, NONE, Deed::Bigger(true), "larger type"),
    (Key::Minus, NONE, Deed::Bigger(false), "smaller type"),
    (Key::U, NONE, Deed::Units, "feet or metres"),
    (
        Key::F11,
        NONE,
        Deed::Wall,
        "full screen: the floor alone, for the gym wall",
    ),
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
    "threads: who shuts what",
    "trails",
    "midline",
    "ball–man–rim triangles",
    "passes away",
    "where they should stand",
    "light: where a ball arrives at all, worth a pass or not",
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
        Deed::Open => desk.ask_path(),
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
    ui.label("The ball is a lamp: floor is lit where a team-mate can catch a pass now and it is worth throwing. The brighter, the more points come of it; where it stalls the floor is dark. Shift and I show instead where a ball arrives at all, whoever is there.");
    heading(ui, "On the floor");
    for line in [
        "Disc with a number: attacker. A ring: has the ball.",
        "X with a number: defender; the bar shows the shoulders.",
        "Beam to the rim: the drive is open; the wider, the more so.",
        "Thread with a knot: a defender and what that defender shuts.",
        "Solid arrow: a run. Dashed arrow: a pass.",
        "Tab: through the page, then to the floor. There arrows go from player to player, shift and arrows move one.",
        "Strip below: the possession from start to end, bright where looks were open, dark where it stalled. Point at it: it says what is there.",
    ] {
        ui.label(RichText::new(line).color(QUIET));
    }
    heading(ui, "Laid over the floor");
    for (i, name) in LAYERS.iter().enumerate() {
        ui.checkbox(layer(desk, i), *name);
    }
    heading(ui, "To your liking");
    ui.horizontal(|ui| {
        let label = ui.label("size of type");
        let slider = Slider::new(&mut desk.settings.type_size, TYPE).show_value(false);
        ui.add(slider).labelled_by(label.id);
    });
    ui.checkbox(&mut desk.settings.reduced_motion, "reduced motion");
    ui.checkbox(
        &mut desk.settings.key,
        "what the signs mean, over the controls",
    );
    if ui.button("Show the first hints again").clicked() {
        desk.settings.hint = 0;
        desk.hinted = 0.0;
    }
    let mut metric = desk.units() == crate::court::Units::Metric;
    if ui
        .checkbox(&mut metric, "lengths in metres, not feet")
        .changed()
    {
        desk.settings.metric = Some(metric);
        desk.retell();
    }
    if ui.button("Full screen, for the gym wall (F11)").clicked() {
        act(desk, Deed::Wall);
    }
    heading(ui, "Keys");
    Grid::new("keys")
        .num_columns(2)
        .striped(true)
        .show(ui, |ui| {
            for (key, held, _, words) in KEYS {
                let held = match *held {
                    SHIFT => "shift ",
                    COMMAND => "ctrl ",
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
        if choice(ui, !shown, "no marks").clicked() {
            desk.settings.layers.model_places = false;
        }
        let own = shown && desk.files.rival.is_none();
        if choice(ui, own, "their own model").clicked() {
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
