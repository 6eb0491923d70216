//! The whole picture, frame by frame: the floor that fills the window, hands on its players, the
//! bench along the bottom and the drawer from the right. The same function draws under bevy and in
//! the tests of the pages.

use bevy_egui::egui::accesskit::Action;
use bevy_egui::egui::{
    Align, Context, EventFilter, FontFamily, FontId, Id, Key, Layout, Rect, RichText, ScrollArea,
    Sense, Stroke, TextStyle, Ui, UiBuilder, Visuals, WidgetInfo, WidgetType, pos2, vec2,
};

use super::desk::Desk;
use super::palette::*;
use super::settings::Page;
use super::view::View;
use super::words::floor as words;
use super::{
    bench, beside, boards, caption, defence_page, drill_floor, drill_page, effect, figures, files,
    hints, keys, level_choice, moment, offence_page, paint, paper_page, pressed, rule_floor,
    squad_page, why_glance, why_page, words_on_floor,
};
use crate::court::{Court, Side, Spot, SpotName, TO_THE_LINE, Vec2};
use crate::offence::Place;

/// Width of the drawer at the usual size of type, points of the screen.
const DRAWER: f32 = 440.0;
/// On the wall bodies are drawn so much larger.
const ON_THE_WALL: f32 = 1.6;
/// Width of the handles that pull it out.
const HANDLES: f32 = 118.0;

/// Sizes of type and colours of everything that egui draws itself.
pub fn style(ctx: &Context, size: f32) {
    ctx.all_styles_mut(|style| {
        for (text, points) in [
            (TextStyle::Small, 14.5),
            (TextStyle::Body, 17.0),
            (TextStyle::Button, 17.0),
            (TextStyle::Monospace, 15.0),
            (TextStyle::Heading, 20.0),
        ] {
            let family = match text {
                TextStyle::Monospace => FontFamily::Monospace,
                _ => FontFamily::Proportional,
            };
            style
                .text_styles
                .insert(text, FontId::new(points * size, family));
        }
        let mut visuals = Visuals::dark();
        visuals.panel_fill = PAPER;
        visuals.window_fill = PAPER;
        visuals.extreme_bg_color = INK;
        visuals.faint_bg_color = PAPER_HIGH;
        visuals.hyperlink_color = TEXT;
        visuals.selection.bg_fill = BALL;
        visuals.selection.stroke = Stroke::new(1.0, INK);
        let widgets = &mut visuals.widgets;
        for (state, fill, line) in [
            (&mut widgets.noninteractive, PAPER, EDGE),
            (&mut widgets.inactive, PAPER_HIGH, EDGE),
            (&mut widgets.hovered, PAPER_LIT, BALL),
            (&mut widgets.active, PAPER_LIT, ATTACKER),
            (&mut widgets.open, PAPER_HIGH, EDGE),
        ] {
            state.bg_fill = fill;
            state.weak_bg_fill = fill;
            state.bg_stroke = Stroke::new(1.0, line);
            state.fg_stroke = Stroke::new(1.3, TEXT);
        }
        style.visuals = visuals;
        style.spacing.item_spacing = vec2(8.0, 6.0);
        style.spacing.button_padding = vec2(9.0, 4.0);
        style.spacing.interact_size.y = 28.0 * size;
    });
}

/// One frame. `seconds` have gone by since the last one. True if the picture will change by itself.
pub fn show(ui: &mut Ui, desk: &mut Desk, seconds: f32) -> bool {
    keys::listen(ui.ctx(), desk);
    let moves = desk.pass(seconds);
    let all = ui.max_rect();
    desk.set_wall_size(all.width());
    let size = desk.size();
    let told = caption::height(desk);
    let bench_height = bench::height(desk, all.size()) + told;
    let wide = (DRAWER * size.min(1.35)).min(all.width() * 0.6);
    let eased = desk.slide * desk.slide * (3.0 - 2.0 * desk.slide);
    let out = wide * eased;
    let floor = Rect::from_min_max(
        all.min,
        pos2(all.right() - out, all.bottom() - bench_height),
    );
    let bench_rect = Rect::from_min_max(pos2(all.left(), floor.bottom() + told), all.max);
    let told = Rect::from_min_max(floor.left_bottom(), pos2(floor.right(), bench_rect.top()));
    // The floor keeps clear of the handles on the right, and of what stands on the left.
    let beside = if desk.wall { 0.0 } else { HANDLES };
    let left = floor.left() + upper_left_width(desk, floor);
    let clear = Rect::from_min_max(
        pos2(left, floor.top()),
        pos2(floor.right() - beside, floor.bottom()),
    );
    let halves = beside::shared(desk, floor, clear);
    let bodies = if desk.wall { ON_THE_WALL } else { 1.0 };
    let alone = View::fit(&desk.recording.cast.court, clear)
        .within(floor)
        .with_bodies(bodies);
    let view = halves.map_or(alone, |both| beside::view(desk, both[1]));
    let clear = halves.map_or(clear, |both| both[1].1);
    // The tab key goes through the page first, then to the floor, then to what lies round it.
    if desk.slide > 0.0 {
        let rect = Rect::from_min_max(
            pos2(floor.right(), all.top()),
            pos2(floor.right() + wide, bench_rect.top()),
        );
        drawer(ui, desk, rect);
    }
    if let Some(halves) = halves {
        beside::before(ui, desk, halves);
    }
    boards::floor(ui, desk, &view);
    let scene = moment::scene(desk);
    let painter = ui.painter_at(view.rect);
    // On the wall bodies are larger, and words about them no larger than there is room for.
    let words = match halves {
        _ if desk.wall => size * 0.72,
        Some(_) => size * 0.8,
        None => size,
    };
    let taken = words_on_floor::scene(&painter, &view, &scene, words, clear.shrink(6.0));
    hands(ui, desk, &view);
    drill_floor::answers(ui, desk, &view, &taken);
    if desk.aligning {
        alignment(ui, desk, &view);
    }
    rule_floor::show(ui, desk, &view);
    match halves {
        Some(halves) => beside::named(ui, desk, halves),
        None => {
            let stalls = why_glance::on_floor(ui, desk, &view, (taken, clear));
            why_page::watch(desk, stalls);
        }
    }
    if !desk.wall {
        upper_left(ui, desk, floor);
        handles(ui, desk, floor);
    }
    caption::show(ui, desk, told);
    bench::show(ui, desk, bench_rect);
    moves || desk.held.is_some()
}

/// The words on the right edge that pull the drawer out, one page each.
fn handles(ui: &mut Ui, desk: &mut Desk, floor: Rect) {
    let rect = Rect::from_min_max(pos2(floor.right() - HANDLES, floor.top()), floor.max);
    let place = rect.shrink2(vec2(8.0, 14.0));
    let mut column = ui.new_child(
        UiBuilder::new()
            .max_rect(place)
            .layout(Layout::top_down(Align::Max)),
    );
    for page in Page::ALL {
        let on = desk.page == Some(page);
        if bench::word(&mut column, page.word(), on, page.about()).clicked() {
            desk.hush();
            desk.page = if on { None } else { Some(page) };
        }
    }
}

fn drawer(ui: &mut Ui, desk: &mut Desk, rect: Rect) {
    ui.painter().rect_filled(rect, 0.0, PAPER);
    ui.painter().line_segment(
        [rect.left_top(), rect.left_bottom()],
        Stroke::new(2.0, EDGE),
    );
    let inner = rect.shrink2(vec2(16.0, 12.0));
    let mut page = ui.new_child(
        UiBuilder::new()
            .max_rect(inner)
            .id_salt(desk.last_page.word())
            .layout(Layout::top_down(Align::Min)),
    );
    page.set_clip_rect(rect.intersect(ui.clip_rect()));
    page.horizontal(|ui| {
        let size = ui.text_style_height(&TextStyle::Heading) * 1.15;
        ui.label(
            RichText::new(desk.last_page.word())
                .size(size)
                .strong()
                .color(ATTACKER),
        );
        ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
            if bench::word(ui, "close", false, words::DRAWER_IN_ESCAPE).clicked() {
                desk.page = None;
            }
        });
    });
    let line = RichText::new(level_choice::line(desk)).color(QUIET).small();
    page.label(line);
    page.add_space(4.0);
    let below = below(&mut page, desk, inner);
    ScrollArea::vertical()
        .id_salt(("page", desk.last_page.word()))
        .auto_shrink([false, false])
        .max_height(page.available_height() - below)
        .show(&mut page, |ui| match desk.last_page {
            Page::Offence => offence_page::show(ui, desk),
            Page::Defence => defence_page::show(ui, desk),
            Page::Squad => squad_page::show(ui, desk),
            Page::Figures => figures::show(ui, desk),
            Page::Why => why_page::show(ui, desk),
            Page::Drills => drill_page::show(ui, desk),
            Page::Paper => paper_page::show(ui, desk),
            Page::Files => files::show(ui, desk),
            Page::Keys => keys::show(ui, desk),
        });
}

/// What stays in sight under a page: what the last change of the offence has brought. Returns its height.
fn below(page: &mut Ui, desk: &Desk, inner: Rect) -> f32 {
    // In a low window it comes with the page.
    if desk.last_page != Page::Offence || desk.low {
        return 0.0;
    }
    let height = effect::height(page).min(0.45 * inner.height()) + 16.0;
    let place = Rect::from_min_max(pos2(inner.left(), inner.bottom() - height), inner.max);
    page.painter()
        .hline(place.x_range(), place.top(), Stroke::new(1.0, EDGE));
    let mut under = page.new_child(
        UiBuilder::new()
            .max_rect(place.shrink2(vec2(0.0, 8.0)))
            .layout(Layout::top_down(Align::Min)),
    );
    effect::below(&mut under, desk);
    height
}

/// A name for whoever cannot see the floor.
fn name(desk: &Desk, body: usize) -> String {
    let picture = desk.picture();
    let number = body % 5 + 1;
    let spot = desk.recording.cast.court.nearest_spot(picture.pos[body]);
    if body < 5 {
        let ball = if picture.holder == Some(body) {
            words::HAS_THE_BALL
        } else {
            ""
        };
        words::attacker_near_the(&number, &spot, &ball)
    } else {
        let d = body - 5;
        let (man, duty) = (picture.guards[d] + 1, picture.duties[d].word());
        words::defender_x_guards_near(&number, &man, &duty, &spot)
    }
}

/// Hands on the players: who is dragged freezes the floor, and the light changes at once.
fn hands(ui: &mut Ui, desk: &mut Desk, view: &View) {
    let picture = desk.picture();
    let drilling = drill_floor::at_work(desk);
    drill_floor::place(ui, desk, view);
    let mut held = None;
    // Whoever has the focus, or is asked for by a screen reader, is the one that the tab key comes to.
    let has = |body: &usize| has_focus(ui, Id::new(("body", *body)));
    desk.at_hand = (0..10).find(has).unwrap_or(desk.at_hand);
    let at_hand = desk.at_hand;
    let mut next = None;
    let hidden: Vec<usize> = (0..10).filter(|b| !desk.shows(*b)).collect();
    for body in (0..10).filter(|b| !hidden.contains(b)) {
        let at = view.at(picture.pos[body]);
        let reach = view.body(paint::DISC) + 6.0;
        let rect = Rect::from_center_size(at, vec2(2.0 * reach, 2.0 * reach));
        // For the tab key the floor is one group: it comes to one player, and arrows go from there.
        let sense = if body == at_hand {
            Sense::click_and_drag()
        } else {
            Sense::CLICK | Sense::DRAG
        };
        let response = ui.interact(rect, Id::new(("body", body)), sense);
        response.widget_info(|| WidgetInfo::labeled(WidgetType::Button, true, name(desk, body)));
        if body == 7 {
            desk.mark("X3", &response);
        }
        if response.clicked() {
            pressed::player(desk, body);
        }
        if response.has_focus() {
            next = walk(ui, desk, view, body);
        }
        if drilling && !drill_floor::is_free(desk, body) {
            continue;
        }
        if response.has_focus() && !desk.time.running {
            nudge(ui, desk, body);
        }
        if response.hovered() || response.dragged() || response.has_focus() {
            let ring = Stroke::new(2.0, ATTACKER);
            ui.painter_at(view.rect)
                .circle_stroke(at, reach + 3.0, ring);
        }
        if response.dragged() {
            held = Some(body);
            if desk.time.running {
                desk.time.freeze(&desk.recording);
            }
            if let Some(p) = response.interact_pointer_pos() {
                let to = desk
                    .recording
                    .cast
                    .court
                    .clamp_inside(view.back(p), TO_THE_LINE);
                desk.moved[body] = Some(to);
            }
        }
    }
    desk.held = held;
    // Asked for when all are laid out: who was not at hand lets the focus go.
    if let Some(next) = next {
        ui.memory_mut(|m| m.request_focus(Id::new(("body", next))));
    }
}

fn has_focus(ui: &Ui, id: Id) -> bool {
    let asked = ui.input(|i| i.has_accesskit_action_request(id, Action::Focus));
    asked || ui.memory(|m| m.focused()) == Some(id)
}

/// From a focused player the arrow keys go to the nearest one that way.
fn walk(ui: &Ui, desk: &Desk, view: &View, body: usize) -> Option<usize> {
    let way = arrows(ui, Id::new(("body", body)));
    if way.length() <= 0.0 || ui.input(|i| i.modifiers.shift) {
        return None;
    }
    let picture = desk.picture();
    let at = |b: usize| view.at(picture.pos[b]);
    let along = |b: usize| (at(b) - at(body)).dot(vec2(way.x as f32, way.y as f32));
    let others = (0..10).filter(|b| *b != body && desk.shows(*b));
    let that_way = others.filter(|b| along(*b) > 0.5 * (at(*b) - at(body)).length());
    let near = |b: &usize| (at(*b) - at(body)).length();
    that_way.min_by(|a, b| near(a).total_cmp(&near(b)))
}

/// A focused player is moved by shift and the arrow keys, a hand's breadth at a time.
fn nudge(ui: &Ui, desk: &mut Desk, body: usize) {
    let off = arrows(ui, Id::new(("body", body))) * 0.2;
    if off.length() > 0.0 && ui.input(|i| i.modifiers.shift) {
        let at = desk.picture().pos[body] + off;
        desk.moved[body] = Some(desk.recording.cast.court.clamp_inside(at, TO_THE_LINE));
    }
}

/// The way that the arrow keys point, pressed while `id` has the focus, which they do not take away.
fn arrows(ui: &Ui, id: Id) -> Vec2 {
    let mut off = Vec2::ZERO;
    ui.input(|i| {
        for (key, x, y) in [
            (Key::ArrowLeft, -1.0, 0.0),
            (Key::ArrowRight, 1.0, 0.0),
            (Key::ArrowUp, 0.0, -1.0),
            (Key::ArrowDown, 0.0, 1.0),
        ] {
            if i.key_pressed(key) {
                off += Vec2::new(x, y);
            }
        }
    });
    let all = EventFilter {
        horizontal_arrows: true,
        vertical_arrows: true,
        ..Default::default()
    };
    ui.memory_mut(|m| m.set_focus_lock_filter(id, all));
    off
}

/// The start of the offence: drag a mark to another spot.
fn alignment(ui: &mut Ui, desk: &mut Desk, view: &View) {
    let court = desk.recording.cast.court;
    let side = desk.recording.possession.side;
    let painter = ui.painter_at(view.rect);
    for spot in SpotName::ALL.iter().filter(|s| **s != SpotName::Rim) {
        for side in [Side::Left, Side::Right] {
            let at = view.at(court.spot(crate::court::Spot::new(*spot, side)));
            painter.circle_stroke(at, 12.0, Stroke::new(1.5, faint(TEACH, 0.7)));
        }
    }
    let mut edit = desk.edit().clone();
    let mut moved = None;
    for stand in &edit.offence.alignment {
        let Some(spot) = stand.at.spot(side, None) else {
            continue;
        };
        let home = view.at(court.spot(spot));
        let id = Id::new(("start", stand.player));
        let rect = Rect::from_center_size(home, vec2(52.0, 52.0));
        let response = ui.interact(rect, id, Sense::click_and_drag());
        response.widget_info(|| {
            WidgetInfo::labeled(
                WidgetType::Button,
                true,
                words::start_of(&stand.player, &spot),
            )
        });
        let at = response
            .interact_pointer_pos()
            .filter(|_| response.dragged())
            .unwrap_or(home);
        painter.circle_stroke(at, 27.0, Stroke::new(3.0, TEACH));
        if response.has_focus() {
            painter.circle_stroke(at, 32.0, Stroke::new(2.0, ATTACKER));
            let way = arrows(ui, id);
            if way.length() > 0.0 {
                moved = next_spot(court, spot, way).map(|to| (stand.player, to));
            }
        }
        if response.drag_stopped()
            && let Some(p) = ui.input(|i| i.pointer.latest_pos())
        {
            moved = Some((stand.player, court.nearest_spot(view.back(p))));
        }
    }
    let Some((player, to)) = moved else { return };
    let place = Place::of(to, side);
    let old = edit
        .offence
        .alignment
        .iter()
        .find(|s| s.player == player)
        .map(|s| s.at);
    for stand in &mut edit.offence.alignment {
        if stand.player == player {
            stand.at = place;
        } else if stand.at == place
            && let Some(old) = old
        {
            // Whoever stood there takes the place that was left.
            stand.at = old;
        }
    }
    desk.change(edit, &words::start(&player));
    desk.time.go(0.0, &desk.recording);
}

/// The spot that lies next in a direction from another, if one does.
fn next_spot(court: Court, from: Spot, way: Vec2) -> Option<Spot> {
    let here = court.spot(from);
    let spots = SpotName::ALL.iter().filter(|s| **s != SpotName::Rim);
    let both = spots.flat_map(|s| [Side::Left, Side::Right].map(|side| Spot::new(*s, side)));
    both.map(|spot| (spot, court.spot(spot) - here))
        .filter(|(_, off)| off.dot(way) > 0.5 * off.length() && off.length() > 0.1)
        .min_by(|a, b| a.1.length().total_cmp(&b.1.length()))
        .map(|(spot, _)| spot)
}

/// Width of what stands to the left of the floor, points of the screen; nothing while a page is out.
fn upper_left_width(desk: &Desk, floor: Rect) -> f32 {
    if desk.wall || desk.page.is_some() || desk.slide > 0.0 {
        return 0.0;
    }
    (250.0 * desk.size()).min(floor.width() * 0.3) + 14.0
}

/// At the upper left: the first hint, and what was done by hand.
fn upper_left(ui: &mut Ui, desk: &mut Desk, floor: Rect) {
    let size = desk.size();
    let place = Rect::from_min_size(
        floor.min + vec2(12.0, 10.0),
        vec2(
            (250.0 * size).min(floor.width() * 0.3),
            floor.height() * 0.9,
        ),
    );
    let mut column = ui.new_child(
        UiBuilder::new()
            .max_rect(place)
            .layout(Layout::top_down(Align::Min)),
    );
    desk.searching &= desk.page.is_none();
    if desk.searching && desk.search.is_none() {
        ScrollArea::vertical().show(&mut column, |ui| bench::stories(ui, desk));
        return;
    }
    // With a page out the floor lies here; squads and variations have pages of their own.
    if desk.page.is_none() {
        level_choice::show(&mut column, desk);
    }
    hints::show(&mut column, desk);
    hints::by_hand(&mut column, desk);
}
