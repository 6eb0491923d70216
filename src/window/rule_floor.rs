//! Pointing at places and players on the floor, for the rule that is being written.

use bevy_egui::egui::{Id, Rect, Sense, Stroke, Ui, WidgetInfo, WidgetType, vec2};

use super::desk::Desk;
use super::palette::*;
use super::phrase::{Phrase, pointed};
use super::settings::Page;
use super::view::View;
use super::words::offence as words;
use crate::court::{Side, Spot, SpotName, Vec2};
use crate::offence::Role;

/// A ball nearer to the midline than this is on the side from which it came, metres (ours).
const MIDDLE: f64 = 0.6;

/// Is the floor asked for a piece of a rule?
pub fn asks(desk: &Desk) -> bool {
    desk.builder.pick.is_some() && desk.page == Some(Page::Offence)
}

/// The side on which the ball is now.
pub fn ball_side(desk: &Desk) -> Side {
    let x = desk.picture().ball[0];
    let began = desk.recording.possession.side;
    if x.abs() < MIDDLE {
        let instant = desk.moment().and_then(|m| desk.recording.instants.get(m));
        return instant.map_or(began, |instant| instant.old.side);
    }
    Side::of(x, began)
}

/// Shows every place that can be pointed at, and takes the one that is.
pub fn show(ui: &mut Ui, desk: &mut Desk, view: &View) {
    if !asks(desk) {
        return;
    }
    let court = desk.recording.cast.court;
    let side = ball_side(desk);
    let painter = ui.painter_at(view.rect);
    let mut found: Option<Phrase> = None;
    for name in SpotName::ALL {
        for of in [Side::Left, Side::Right] {
            let spot = Spot::new(name, of);
            if spot.side.is_none() && of == Side::Right {
                continue;
            }
            let at = view.at(court.spot(spot));
            let rect = Rect::from_center_size(at, vec2(40.0, 40.0));
            let response = ui.interact(rect, Id::new(("point", name, of)), Sense::click());
            let said = words::point_at_the(&spot);
            response.widget_info(|| WidgetInfo::labeled(WidgetType::Button, true, said.clone()));
            let strong = response.hovered() || response.has_focus();
            let stroke = Stroke::new(if strong { 4.0 } else { 2.0 }, TEACH);
            painter.circle_stroke(at, 15.0, stroke);
            if response.clicked() {
                found = Some(pointed(spot, side));
            }
        }
    }
    if let Some(piece) = found {
        picked(desk, piece);
    }
}

/// A player was pointed at: the player for who moves, the place next to the player for a place.
pub fn player(desk: &mut Desk, body: usize) {
    if desk
        .builder
        .picks_player(&desk.variation.now().offence.clone())
        && body < 5
    {
        let role = Role::Player(body as u8 + 1);
        return picked(desk, Phrase::written("Role", &role));
    }
    let at: Vec2 = desk.picture().pos[body];
    let spot = desk.recording.cast.court.nearest_spot(at);
    let side = ball_side(desk);
    picked(desk, pointed(spot, side));
}

fn picked(desk: &mut Desk, piece: Phrase) {
    if let Some(path) = desk.builder.pick.take() {
        desk.builder.picked = Some((path, piece));
    }
}
