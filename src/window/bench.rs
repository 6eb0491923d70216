//! The bench: the strip along the bottom that holds time. The possession lies on it as a strip of
//! light, bright where looks were open and dark where it stalled; drag on it to scrub.

use bevy_egui::egui::epaint::{Mesh, Vertex, WHITE_UV};
use bevy_egui::egui::{
    Align, Align2, Button, Color32, FontId, Id, Layout, Pos2, Rect, Response, RichText, Sense,
    Shape, Stroke, Ui, UiBuilder, Vec2, WidgetInfo, WidgetType, pos2, vec2,
};

use super::clock::{Jump, RATES};
use super::desk::Desk;
use super::drill;
use super::first::LOOKED_AT;
use super::key;
use super::palette::*;
use super::recording::Recording;
use super::story::Story;
use super::words::floor as words;
use crate::possession::What;

/// Height of the bench at the usual size of type, points of the screen.
pub const HEIGHT: f32 = 108.0;
/// Height of the strip of light.
const STRIP: f32 = 30.0;
/// Room for the marks over it.
const MARKS: f32 = 14.0;

/// Width of all controls side by side at the usual size of type, points of the screen.
const SIDE_BY_SIDE: f32 = 1160.0;

/// Do the controls need two rows?
fn two_rows(desk: &Desk, wide: f32) -> bool {
    SIDE_BY_SIDE * desk.size() > wide - 36.0
}

/// Is the key shown? Not where it would leave little floor: there the strip says what is under the pointer.
fn shows_key(desk: &Desk) -> bool {
    desk.settings.key && !desk.wall && !desk.low
}

/// In a window lower than this the key is left out, points of the screen.
const LOW: f32 = 720.0;

/// Height of the bench in a window of that size.
pub fn height(desk: &mut Desk, window: Vec2) -> f32 {
    desk.low = window.y < LOW;
    let size = desk.size();
    let second = if two_rows(desk, window.x) && !desk.wall {
        36.0 * size
    } else {
        0.0
    };
    let key = if shows_key(desk) {
        desk.key_height
    } else {
        0.0
    };
    let strip = (STRIP + MARKS) * (grown(desk) - 1.0);
    HEIGHT + strip + 24.0 * (size - 1.0).max(0.0) + key + second
}

/// On the wall the strip and its marks grow with the letters: they are read from as far away.
fn grown(desk: &Desk) -> f32 {
    if desk.wall { desk.size() } else { 1.0 }
}

/// Shows the bench.
pub fn show(ui: &mut Ui, desk: &mut Desk, rect: Rect) {
    ui.painter().rect_filled(rect, 0.0, PAPER);
    let inner = rect.shrink2(vec2(18.0, 8.0));
    let strip = Rect::from_min_size(
        pos2(inner.left(), inner.top() + MARKS * grown(desk)),
        vec2(inner.width(), STRIP * grown(desk)),
    );
    strip_of_light(ui, desk, strip);
    let under = strip.bottom() + 7.0;
    if shows_key(desk) {
        let place = Rect::from_min_max(pos2(inner.left(), under), inner.max);
        let mut rows = ui.new_child(UiBuilder::new().max_rect(place));
        desk.key_height = key::show(&mut rows, desk.settings.layers.arrival);
    } else {
        desk.key_height = 0.0;
    }
    let controls = Rect::from_min_max(pos2(inner.left(), under + desk.key_height + 3.0), inner.max);
    let mut first = controls;
    if two_rows(desk, rect.width()) && !desk.wall {
        first.set_bottom(controls.center().y);
    }
    let mut row = ui.new_child(
        UiBuilder::new()
            .max_rect(first)
            .layout(Layout::left_to_right(Align::Center)),
    );
    row.spacing_mut().item_spacing.x = 8.0;
    time_controls(&mut row, desk);
    if desk.wall {
        row.with_layout(Layout::right_to_left(Align::Center), |ui| {
            if word(ui, words::LEAVE_FULL_SCREEN, false, "F11").clicked() {
                desk.wall = false;
            }
        });
        return;
    }
    if two_rows(desk, rect.width()) {
        let below = Rect::from_min_max(pos2(inner.left(), first.bottom()), inner.max);
        let mut second = ui.new_child(
            UiBuilder::new()
                .max_rect(below)
                .layout(Layout::left_to_right(Align::Center)),
        );
        second.spacing_mut().item_spacing.x = 8.0;
        jumps(&mut second, desk);
    } else {
        jumps(&mut row, desk);
    }
    row.with_layout(Layout::right_to_left(Align::Center), |ui| seeds(ui, desk));
}

/// A flat word that can be pressed; `on` underlines it.
pub fn word(ui: &mut Ui, text: &str, on: bool, hint: &str) -> Response {
    let colour = if on { BALL } else { TEXT };
    let button = Button::new(RichText::new(text).color(colour))
        .fill(if on { PAPER_HIGH } else { faint(PAPER, 0.8) })
        .wrap_mode(bevy_egui::egui::TextWrapMode::Extend)
        .stroke(Stroke::new(1.0, if on { BALL } else { EDGE }));
    let response = ui.add(button);
    if hint.is_empty() {
        response
    } else {
        response.on_hover_text(hint)
    }
}

fn time_controls(ui: &mut Ui, desk: &mut Desk) {
    let (text, hint) = if desk.time.running {
        (words::FREEZE, words::FREEZE_AT_THE_NEAREST)
    } else if desk.moved.iter().any(Option::is_some) {
        (words::RUN_FROM_HERE, words::RUN_ON_WITH_EVERYBODY)
    } else {
        (words::RUN, words::RUN_ON_SPACE)
    };
    let big = Button::new(RichText::new(text).strong().color(INK))
        .fill(BALL)
        .min_size(vec2(76.0, 32.0));
    let response = ui.add(big).on_hover_text(hint);
    desk.mark("run", &response);
    if response.clicked() {
        toggle(desk);
    }
    if word(ui, "←", false, words::THE_DECISION_BEFORE_LEFT).clicked() {
        step(desk, false);
    }
    ui.label(RichText::new(words::DECISION).color(QUIET));
    if word(ui, "→", false, words::THE_NEXT_DECISION_RIGHT).clicked() {
        step(desk, true);
    }
    ui.add_space(6.0);
    for (rate, name) in RATES {
        let short = match name {
            words::REAL_TIME => "real",
            words::HALF_SPEED => "½",
            _ => "¼",
        };
        let on = desk.time.rate == rate;
        let response = word(ui, short, on, name);
        response.widget_info(|| WidgetInfo::selected(WidgetType::RadioButton, true, on, name));
        if response.clicked() {
            desk.time.rate = rate;
        }
    }
}

/// Runs on or freezes; with players moved by hand it runs on from there.
pub fn toggle(desk: &mut Desk) {
    desk.hush();
    if drill::holds(desk) || !desk.time.running && desk.run_on() {
        return;
    }
    desk.put_back();
    desk.time.toggle(&desk.recording);
    if !desk.time.running {
        desk.settings.hint = desk.settings.hint.max(1);
    }
}

/// To the next decision, or the one before.
pub fn step(desk: &mut Desk, forward: bool) {
    desk.hush();
    if drill::holds(desk) {
        return;
    }
    desk.put_back();
    desk.time.step(forward, &desk.recording);
}

/// A tick on or back.
pub fn tick(desk: &mut Desk, forward: bool) {
    if !drill::holds(desk) {
        desk.put_back();
        desk.time.tick(forward, &desk.recording);
    }
}

fn jumps(ui: &mut Ui, desk: &mut Desk) {
    ui.add_space(6.0);
    ui.label(RichText::new(words::TO_THE_NEXT).color(QUIET));
    for (jump, key) in Jump::ALL.into_iter().zip(["S", "B", "L"]) {
        let there = !jump.spells(&desk.recording).is_empty();
        let hint = words::freeze_where_the_next(&jump.word(), &key);
        let response = ui
            .add_enabled_ui(there, |ui| word(ui, jump.word(), false, &hint))
            .inner
            .on_disabled_hover_text(words::there_is_no_in(&jump.word()));
        if response.clicked() {
            desk.jump(jump);
        }
    }
}

fn seeds(ui: &mut Ui, desk: &mut Desk) {
    if word(ui, words::NEXT, false, words::THE_NEXT_POSSESSION_N).clicked() {
        desk.to_seed(desk.seed + 1);
    }
    if word(ui, words::AGAIN, false, words::THE_SAME_POSSESSION_FROM).clicked() {
        desk.to_seed(desk.seed);
    }
    let own = if desk.puts.is_empty() {
        ""
    } else {
        words::BY_HAND
    };
    ui.label(RichText::new(words::possession(&desk.seed, &own)).color(QUIET))
        .on_hover_text(words::opens_on_the_first(&LOOKED_AT));
    if let Some((story, job)) = &desk.search {
        let share = (job.share() * 100.0).round();
        ui.label(RichText::new(words::looking_percent(&share)).color(BALL))
            .on_hover_text(story.sentence());
        if word(ui, words::STOP, false, "escape").clicked() {
            desk.search = None;
        }
        return;
    }
    if word(
        ui,
        words::SHOW_ME,
        desk.searching,
        words::LOOK_THROUGH_POSSESSIONS_FOR,
    )
    .clicked()
    {
        ask_story(desk);
    }
}

/// Opens the list of stories, or closes it. It stands beside the floor, where pages have no room for it.
pub fn ask_story(desk: &mut Desk) {
    desk.searching = !desk.searching;
    if desk.searching {
        desk.page = None;
    }
}

/// The list of stories.
pub fn stories(ui: &mut Ui, desk: &mut Desk) {
    ui.label(RichText::new(words::SHOW_ME_A_POSSESSION).color(BALL));
    for (i, story) in Story::ALL.into_iter().enumerate() {
        let text = format!("{}  {}", i + 1, story.sentence());
        let button = Button::new(RichText::new(text).color(TEXT))
            .wrap()
            .fill(faint(PAPER, 0.8));
        if ui.add(button).clicked() {
            desk.searching = false;
            desk.find(story);
        }
    }
    if word(ui, words::NONE_OF_THESE, false, "escape").clicked() {
        desk.searching = false;
    }
}

fn strip_of_light(ui: &mut Ui, desk: &mut Desk, rect: Rect) {
    let end = desk.recording.end().max(0.1);
    let response = ui.interact(
        rect.expand2(vec2(0.0, 10.0)),
        Id::new("strip"),
        Sense::click_and_drag(),
    );
    let now = desk.time.now;
    response.widget_info(|| WidgetInfo::slider(true, now, words::time_of_s_strip(&now, &end)));
    let x = |t: f64| rect.left() + rect.width() * (t / end) as f32;
    if (response.dragged() || response.clicked())
        && let Some(p) = response.interact_pointer_pos()
        && !drill::holds(desk)
    {
        let share = f64::from(((p.x - rect.left()) / rect.width()).clamp(0.0, 1.0));
        desk.put_back();
        desk.time.go(share * end, &desk.recording);
    }
    if response.drag_stopped() || response.clicked() {
        desk.time.freeze(&desk.recording);
    }
    // While a learner is asked, light and marks would be the answer.
    let tells = !desk.drill.asking();
    if let Some(p) = response.hover_pos().filter(|_| tells) {
        let at = |x: f32| f64::from(((x - rect.left()) / rect.width()).clamp(0.0, 1.0)) * end;
        let near = at(rect.left() + 9.0);
        response.on_hover_text_at_pointer(key::words_at(desk, at(p.x), near));
    }
    let by = grown(desk);
    let painter = ui.painter_at(rect.expand(MARKS * by));
    painter.rect_filled(rect, 5.0, Color32::from_rgb(9, 6, 4));
    if tells {
        on_strip(&painter, desk, rect, (&x, end));
    }
    this_moment(&painter, desk, rect, x(now), &words::of_s(&now, &end));
}

/// The light of the possession on the strip, its stalls, and the marks over it; `end` of it, seconds.
fn on_strip(
    painter: &bevy_egui::egui::Painter,
    desk: &Desk,
    rect: Rect,
    (x, end): (&impl Fn(f64) -> f32, f64),
) {
    let by = grown(desk);
    // While a change is tried, the light before it lies over the light with it.
    let font = FontId::proportional(12.0 * desk.size());
    if let Some(before) = desk.beside.recording() {
        let (upper, lower) = rect.split_top_bottom_at_y(rect.center().y);
        for (recording, rect, name) in [
            (before, upper, words::BEFORE),
            (&desk.recording, lower, words::WITH_IT),
        ] {
            light_mesh(painter, recording, rect, x);
            let at = rect.right_center() - vec2(6.0, 0.0);
            super::paint::plate(painter, at, Align2::RIGHT_CENTER, name, font.clone(), TEXT);
        }
    } else {
        light_mesh(painter, &desk.recording, rect, x);
    }
    for stall in &desk.recording.stalls {
        let y = rect.bottom() - 3.0 * by;
        let stroke = Stroke::new(3.0 * by, faint(DEFENDER, 0.9));
        let ends = [x(stall.from), x(stall.to.min(end))];
        painter.line_segment(ends.map(|x| pos2(x, y)), stroke);
    }
    for entry in &desk.recording.possession.timeline {
        let at = pos2(x(entry.time), rect.top() - 7.0 * by);
        mark(painter, at, &entry.what, by);
    }
    for put in &desk.puts {
        hand(
            painter,
            pos2(x(put.time()), rect.top() - 3.0),
            rect.height() + 6.0,
        );
    }
}

/// The line of the present moment, and what it is called.
fn this_moment(painter: &bevy_egui::egui::Painter, desk: &Desk, rect: Rect, at: f32, name: &str) {
    let by = grown(desk);
    painter.line_segment(
        [pos2(at, rect.top() - 4.0), pos2(at, rect.bottom() + 4.0)],
        Stroke::new(3.0, INK),
    );
    painter.line_segment(
        [pos2(at, rect.top() - 6.0), pos2(at, rect.bottom() + 6.0)],
        Stroke::new(2.0, ATTACKER),
    );
    painter.circle_filled(pos2(at, rect.center().y), 7.0 * by, INK);
    painter.circle_filled(pos2(at, rect.center().y), 5.5 * by, BALL);
    let font = FontId::proportional(14.0 * desk.size());
    let (align, off) = if at > rect.right() - 110.0 * by {
        (Align2::RIGHT_CENTER, -12.0 * by)
    } else {
        (Align2::LEFT_CENTER, 12.0 * by)
    };
    super::paint::plate(
        painter,
        pos2(at + off, rect.center().y),
        align,
        name,
        font,
        TEXT,
    );
}

/// A flag on the strip: here players were moved, and it went on from there.
fn hand(painter: &bevy_egui::egui::Painter, top: Pos2, height: f32) {
    let pole = [top, top + vec2(0.0, height)];
    painter.line_segment(pole, Stroke::new(4.0, INK));
    painter.line_segment(pole, Stroke::new(2.0, TEACH));
    let flag = vec![top, top + vec2(11.0, 5.0), top + vec2(0.0, 10.0)];
    painter.add(Shape::convex_polygon(flag, TEACH, Stroke::new(1.0, INK)));
}

fn light_mesh(
    painter: &bevy_egui::egui::Painter,
    recording: &Recording,
    rect: Rect,
    x: &impl Fn(f64) -> f32,
) {
    let moments = &recording.possession.moments;
    let mut mesh = Mesh::default();
    let inside = rect.shrink2(vec2(3.0, if rect.height() < 20.0 { 1.0 } else { 3.0 }));
    // Under it all a dash: the ball in the air, where nobody has a look.
    let thin = Rect::from_center_size(rect.center(), vec2(inside.width(), 4.0));
    mesh.add_colored_rect(thin, lit(0.5));
    for (i, moment) in moments.iter().enumerate() {
        let next = moments.get(i + 1).map_or(moment.time + 0.2, |m| m.time);
        let until = next.min(moment.time + 0.24).min(recording.end());
        let here = recording.glow[i];
        let there = recording.glow.get(i + 1).copied().unwrap_or(here);
        let there = if next > moment.time + 0.3 {
            here
        } else {
            there
        };
        let from = mesh.vertices.len() as u32;
        for (t, glow) in [(moment.time, here), (until, there)] {
            let colour = lit(glow);
            for y in [inside.top(), inside.bottom()] {
                mesh.vertices.push(Vertex {
                    pos: Pos2::new(x(t).clamp(inside.left(), inside.right()), y),
                    uv: WHITE_UV,
                    color: colour,
                });
            }
        }
        mesh.indices
            .extend([from, from + 1, from + 2, from + 1, from + 3, from + 2]);
    }
    painter.add(Shape::mesh(mesh));
}

/// The colour of so much light on the strip.
pub fn lit(glow: f32) -> Color32 {
    let mix = |night: f32, day: f32| (night + (day - night) * glow.clamp(0.0, 1.0)) as u8;
    Color32::from_rgb(mix(22.0, 255.0), mix(14.0, 226.0), mix(9.0, 150.0))
}

/// What happened, over the strip, by shape: a pass is a dash, a drive a wave, a cut a peak, a shot a
/// ring, a defender's deed an x. `size` 1 is
/// that of the strip at the usual size of type.
pub fn mark(painter: &bevy_egui::egui::Painter, at: Pos2, what: &What, size: f32) {
    let stroke = Stroke::new(1.8 * size, faint(TEXT, 0.9));
    match what {
        What::Passes { .. } => {
            let along = vec2(5.0, 0.0) * size;
            painter.line_segment([at - along, at + along], stroke);
        }
        What::Drives { .. } => {
            let points = [
                (-6.0, 0.0),
                (-3.0, -3.0),
                (0.0, 0.0),
                (3.0, -3.0),
                (6.0, 0.0),
            ];
            let points = points.map(|(x, y)| at + vec2(x, y) * size).to_vec();
            painter.add(Shape::line(points, stroke));
        }
        What::Cuts { .. } => {
            let points = [(-4.0, 3.0), (0.0, -3.0), (4.0, 3.0)];
            let points = points.map(|(x, y)| at + vec2(x, y) * size).to_vec();
            painter.add(Shape::line(points, stroke));
        }
        What::Shoots { .. } => {
            painter.circle_stroke(at, 4.0 * size, stroke);
        }
        What::Tips { .. } | What::Stopped { .. } => {
            let stroke = Stroke::new(1.8 * size, DEFENDER);
            for arm in [vec2(3.0, 3.0), vec2(3.0, -3.0)] {
                painter.line_segment([at - arm * size, at + arm * size], stroke);
            }
        }
        _ => {}
    }
}
