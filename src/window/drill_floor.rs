//! The drills on the floor: a click puts the player who is asked for, and what was judged is drawn.

use bevy_egui::egui::{Align2, FontId, Id, Rect, Sense, Stroke, Ui, WidgetInfo, WidgetType, vec2};

use super::desk::Desk;
use super::drill::{self, Stage};
use super::palette::*;
use super::settings::Page;
use super::view::View;
use super::words::drills as words;
use super::{drill_read, paint, placing};
use crate::court::{TO_THE_LINE, Vec2};

/// The body that a click on the floor moves, if it is one only.
fn clicked(desk: &Desk) -> Option<usize> {
    match &desk.drill.stage {
        Stage::Asks { who } => match who.as_slice() {
            [only] => Some(5 + only),
            _ => desk.drill.moves(),
        },
        _ => None,
    }
}

/// Is a learner at work on the floor?
pub fn at_work(desk: &Desk) -> bool {
    desk.drill.asking() && desk.page == Some(Page::Drills)
}

/// May a learner at work take hold of this body?
pub fn is_free(desk: &Desk, body: usize) -> bool {
    match body.checked_sub(5) {
        Some(d) => desk.drill.asks_for(d),
        None => desk.drill.moves() == Some(body),
    }
}

/// A click on a player, by a learner who reads the floor.
pub fn player(desk: &mut Desk, body: usize) {
    if body < 5 {
        drill_read::says_cut(desk, Some(body));
    }
}

/// A click on the empty floor puts the player who is asked for there. To be laid under the players.
pub fn place(ui: &mut Ui, desk: &mut Desk, view: &View) {
    let Some(body) = clicked(desk).filter(|_| at_work(desk)) else {
        return;
    };
    let response = ui.interact(view.rect, Id::new(words::A_PLACE_FOR_THE), Sense::click());
    response
        .widget_info(|| WidgetInfo::labeled(WidgetType::Other, true, words::FLOOR_CLICK_A_PLACE));
    if response.clicked()
        && let Some(p) = response.interact_pointer_pos()
    {
        let court = &desk.recording.cast.court;
        desk.moved[body] = Some(court.clamp_inside(view.back(p), TO_THE_LINE));
    }
    let at = view.at(desk.picture().pos[body]);
    let ring = Stroke::new(3.0, TEACH);
    ui.painter_at(view.rect)
        .circle_stroke(at, view.body(paint::DISC) + 7.0, ring);
}

/// What was judged, clear of the words that are on the floor already: the right places, how far off, and what a step off opens.
pub fn answers(ui: &Ui, desk: &Desk, view: &View, words_there: &[Rect]) {
    let Stage::Shows { answers, gone, .. } = &desk.drill.stage else {
        return;
    };
    if desk.page != Some(Page::Drills) || !drill::is_told(desk) {
        return;
    }
    let painter = ui.painter_at(view.rect);
    let font = FontId::proportional(15.0 * desk.size());
    let body = 2.0 * (view.body(paint::DISC) + 6.0);
    let bodies = desk.picture().pos.map(|p| view.at(p));
    let bodies = bodies.map(|at| Rect::from_center_size(at, vec2(body, body)));
    let mut taken = [bodies.as_slice(), words_there].concat();
    let mut right = |place: Vec2, put: Vec2, words: &str| {
        let (right, put) = (view.at(place), view.at(put));
        painter.line_segment([put, right], Stroke::new(2.5, TEACH));
        painter.circle_stroke(right, view.body(paint::DISC) + 3.0, Stroke::new(3.0, TEACH));
        // Beside all bodies and their numbers, not over them.
        let galley = painter.layout_no_wrap(words.to_owned(), font.clone(), TEACH);
        let room = galley.size() + vec2(16.0, 10.0);
        let rect = placing::beside(right, body / 2.0, room, None, &taken, view.rect);
        taken.push(rect);
        let at = rect.center();
        paint::plate(
            &painter,
            at,
            Align2::CENTER_CENTER,
            words,
            font.clone(),
            TEACH,
        );
    };
    for answer in answers {
        let put = desk.picture().pos[5 + answer.defender];
        right(answer.right, put, &words::x_here(&(answer.defender + 1)));
    }
    if let Some(gone) = gone {
        let word = if gone.goes.stays {
            words::STAYS_HERE
        } else {
            "here"
        };
        right(
            gone.right,
            gone.put,
            &format!("{} {word}", gone.goes.who + 1),
        );
    }
}
