//! Why it stalls, at a glance: one sentence that names the defence and the reason, how long it stalls and where as
//! bars, and the three places where it stalls most on the floor itself, to be clicked.

use bevy_egui::egui::text::LayoutJob;
use bevy_egui::egui::{
    Align2, FontId, Id, Rect, RichText, Sense, Stroke, TextStyle, Ui, WidgetInfo, WidgetType, pos2,
    vec2,
};

use super::clock::NEAR;
use super::desk::Desk;
use super::palette::*;
use super::rule_floor::ball_side;
use super::settings::Page;
use super::view::View;
use super::words::why as words;
use super::{paint, placing};
use crate::court::{Side, Spot, Vec2};
use crate::report::clean;
use crate::stats::Estimate;
use crate::why::summary::Story;
use crate::why::{Half, Summary, Where};

/// Bars that are shown, and places on the floor.
const BARS: usize = 6;
const PLACES: usize = 3;

/// The reason in a sentence: against whom, how long, where most, and who shuts what there.
pub fn sentence(summary: &Summary, defence: &str) -> String {
    let Some(total) = summary.stalls.total else {
        return words::against_it_never_stalls(&clean::line(defence));
    };
    let mut text = words::against_you_stall_s(
        &clean::line(defence),
        &tenths(total.value),
        &tenths(total.low.max(0.0)),
        &tenths(total.high),
    );
    // How often and how long each: the mean of a possession is not the length of a stall.
    text += &match (summary.stalls.often, summary.stalls.length) {
        (Some(often), Some(length)) => {
            words::so_many_of_so_long(&(100.0 * often.value), &length.value)
        }
        _ => ".".to_owned(),
    };
    let Some(story) = most(summary).first().copied() else {
        return text;
    };
    let share = story.share.map_or(0.0, |s| s.value * 100.0);
    text += &words::most_of_all_percent(&share, &story.at.words(), &story.lately.words());
    text += &match &story.shut {
        Some((look, seat, _)) => {
            // "the defender on the ball, still closing out,"
            let doing = match seat.doing(false) {
                "" => String::new(),
                doing => format!("{doing},"),
            };
            let (who, look) = (seat.who(), look.word());
            words::shuts_the_and_nothing(&who, &doing, &look)
        }
        None => words::NOTHING_IS_OPEN_THERE.to_owned(),
    };
    text
}

/// Tenths of a second; where those would be nought beside a bar that is seen, hundredths.
fn tenths(seconds: f64) -> String {
    if seconds <= 0.0 || seconds >= 0.1 {
        format!("{seconds:.1}")
    } else if seconds >= 0.01 {
        format!("{seconds:.2}")
    } else {
        words::UNDER_A_HUNDREDTH.to_owned()
    }
}

/// What a place goes by on the floor and beside its bar: players go by numbers.
fn letter(place: usize) -> char {
    char::from(b'A' + place as u8)
}

/// The kinds of stall by the time that they take, most first.
pub fn most(summary: &Summary) -> Vec<&Story> {
    let share = |s: &Story| s.share.map_or(0.0, |e| e.value);
    let mut stories: Vec<&Story> = summary.stalls.stories.iter().collect();
    stories.sort_by(|a, b| share(b).total_cmp(&share(a)));
    stories
}

/// Seconds a possession of a kind of stall, with its interval: its share of the total.
fn seconds(story: &Story, total: f64) -> Option<Estimate> {
    let share = story.share?;
    Some(Estimate {
        value: share.value * total,
        low: share.low.max(0.0) * total,
        high: share.high * total,
        ..share
    })
}

/// Shows the sentence and the bars. Returns the possession and time, seconds, of a bar that was clicked.
pub fn show(ui: &mut Ui, summary: &Summary, defence: &str) -> Option<(u64, f64)> {
    ui.label(RichText::new(sentence(summary, defence)).color(TEXT));
    ui.add_space(6.0);
    let total = summary.stalls.total?;
    let stories = most(summary);
    let mut wanted = None;
    let longest = total.high.max(0.1);
    bar(ui, (words::ALL_TOGETHER, None), total, longest, false);
    for (k, story) in stories.iter().take(BARS).enumerate() {
        if k >= PLACES && seconds(story, total.value).is_none_or(|s| s.value < LEAST) {
            break;
        }
        let Some(found) = seconds(story, total.value) else {
            continue;
        };
        let words = name(story, &stories);
        let place = (k < PLACES).then(|| letter(k));
        if bar(ui, (&words, place), found, longest, true) {
            wanted = Some(story.example);
        }
    }
    scale(ui, longest);
    let text = words::seconds_a_possession(&summary.possessions);
    ui.label(RichText::new(text).color(QUIET).small());
    wanted
}

/// Of less than this no bar is shown beyond the places on the floor, seconds a possession.
const LEAST: f64 = 0.05;

/// What a kind of stall is called: of two at one place after the same, by the rule that fired last.
fn name(story: &Story, all: &[&Story]) -> String {
    let words = |s: &Story| format!("{}, {}", s.at.words(), s.lately.words());
    let own = words(story);
    let alike = all.iter().filter(|s| words(s) == own).count();
    match &story.rule {
        Some(rule) if alike > 1 => format!("{}, “{}”", story.at.words(), clean::line(rule)),
        _ => own,
    }
}

/// Where bars begin, share of the width.
const BEGINS: f32 = 0.62;

/// A bar with its interval; true if it was clicked.
fn bar(
    ui: &mut Ui,
    (words, place): (&str, Option<char>),
    found: Estimate,
    longest: f64,
    leads: bool,
) -> bool {
    let wide = ui.available_width() - 12.0;
    let font = FontId::proportional(ui.text_style_height(&TextStyle::Small) * 0.86);
    let place = place.map_or(String::new(), |letter| format!("{letter}  "));
    let name = in_two_lines(format!("{place}{words}"), font.clone(), wide * BEGINS);
    let galley = ui.painter().layout_job(name);
    let high = galley.size().y.max(ui.text_style_height(&TextStyle::Small)) + 7.0;
    let sense = if leads {
        Sense::click()
    } else {
        Sense::hover()
    };
    let (rect, response) = ui.allocate_exact_size(vec2(wide, high), sense);
    let said = words::s_a_possession(&words, &tenths(found.value));
    let kind = if leads {
        WidgetType::Button
    } else {
        WidgetType::Label
    };
    response.widget_info(|| WidgetInfo::labeled(kind, true, said.clone()));
    let painter = ui.painter_at(rect.expand(1.0));
    if response.hovered() && leads {
        painter.rect_filled(rect, 3.0, PAPER_HIGH);
    }
    painter.galley(
        rect.left_center() - vec2(0.0, galley.size().y / 2.0),
        galley,
        TEXT,
    );
    let from = rect.left() + wide * BEGINS;
    let room = wide * (1.0 - BEGINS) - 44.0;
    let x = |s: f64| from + room * (s / longest).clamp(0.0, 1.0) as f32;
    let middle = rect.center().y;
    let body = Rect::from_min_max(pos2(from, middle - 5.0), pos2(x(found.value), middle + 5.0));
    painter.rect_filled(
        body,
        1.0,
        if leads {
            DEFENDER
        } else {
            faint(DEFENDER, 0.55)
        },
    );
    let thin = Stroke::new(1.5, TEXT);
    painter.hline(x(found.low)..=x(found.high), middle, thin);
    let after = pos2(x(found.high) + 6.0, middle);
    painter.text(
        after,
        Align2::LEFT_CENTER,
        words::s_word(&tenths(found.value)),
        font,
        TEXT,
    );
    response.on_hover_text(words::WATCH_ONE_OF_THESE).clicked() && leads
}

/// Words in as many lines as they need, two at most: rules have long names.
fn in_two_lines(words: String, font: FontId, wide: f32) -> LayoutJob {
    let mut job = LayoutJob::simple(words, font, TEXT, wide - 8.0);
    job.wrap.max_rows = 2;
    job
}

/// What the bars are measured by.
fn scale(ui: &mut Ui, longest: f64) {
    let wide = ui.available_width() - 12.0;
    let high = ui.text_style_height(&TextStyle::Small) + 2.0;
    let (rect, _) = ui.allocate_exact_size(vec2(wide, high), Sense::hover());
    let from = rect.left() + wide * BEGINS;
    let room = wide * (1.0 - BEGINS) - 44.0;
    let painter = ui.painter();
    painter.hline(from..=from + room, rect.top(), Stroke::new(1.0, QUIET));
    let step = if longest > 4.0 {
        2.0
    } else if longest > 1.6 {
        1.0
    } else {
        0.5
    };
    let font = FontId::proportional(ui.text_style_height(&TextStyle::Small) * 0.8);
    let mut at = 0.0;
    while at <= longest {
        let x = from + room * (at / longest) as f32;
        painter.vline(x, rect.top()..=rect.top() + 4.0, Stroke::new(1.0, QUIET));
        let words = format!("{at}");
        painter.text(
            pos2(x, rect.top() + 5.0),
            Align2::CENTER_TOP,
            words,
            font.clone(),
            QUIET,
        );
        at += step;
    }
}

/// The spot of a place while the ball is on side `ball`.
fn spot(at: Where, ball: Side) -> Spot {
    let side = match at.half {
        Some(Half::Weak) => ball.other(),
        _ => ball,
    };
    Spot::new(at.spot, side)
}

/// Is the example of a stall on the floor?
fn shows(desk: &Desk, story: &Story) -> bool {
    let (seed, time) = story.example;
    desk.seed == seed && !desk.time.running && (desk.time.now - time).abs() < NEAR
}

/// The three places where it stalls most, on the floor. Returns the possession and time, seconds, of one that was
/// clicked.
/// `taken` lies there already; plates keep within `clear`, and off the players.
pub fn on_floor(
    ui: &mut Ui,
    desk: &Desk,
    view: &View,
    (mut taken, clear): (Vec<Rect>, Rect),
) -> Option<(u64, f64)> {
    let summary = desk
        .why
        .summary()
        .filter(|_| desk.page == Some(Page::Why))?;
    let total = summary.stalls.total?.value;
    let (court, side) = (desk.recording.cast.court, ball_side(desk));
    let ball = desk.picture().ball;
    let painter = ui.painter_at(view.rect);
    let size = desk.size();
    let mut wanted = None;
    let wide = 2.0 * (view.body(paint::DISC) + 4.0);
    let bodies = desk.picture().pos.map(|p| view.at(p));
    taken.extend(bodies.map(|at| Rect::from_center_size(at, vec2(wide, wide))));
    for (k, story) in most(summary).into_iter().take(PLACES).enumerate() {
        // Where an example of it is shown it is where the ball is, for all that the place is called by the nearest spot.
        let at = match shows(desk, story) {
            true => view.at(Vec2::new(ball[0], ball[1])),
            false => view.at(court.spot(spot(story.at, side))),
        };
        let seconds = seconds(story, total).map_or(0.0, |e| e.value);
        let letter = letter(k);
        let words = words::stalls_s(&letter, &tenths(seconds));
        let room = vec2(124.0, 28.0) * size;
        let rect = placing::beside(at, 6.0, room, None, &taken, clear.shrink(4.0));
        taken.push(rect);
        painter.circle_filled(at, 4.0, BALL);
        painter.line_segment([at, rect.clamp(at)], Stroke::new(1.5, BALL));
        let at = rect.center();
        let response = ui.interact(rect, Id::new(("stalls", k)), Sense::click());
        let said = words::place(&letter, &story.at.words());
        response.widget_info(|| WidgetInfo::labeled(WidgetType::Button, true, said.clone()));
        let font = FontId::proportional(15.0 * size);
        paint::plate(&painter, at, Align2::CENTER_CENTER, &words, font, BALL);
        if response.hovered() || response.has_focus() {
            let edge = Stroke::new(2.0, ATTACKER);
            painter.rect_stroke(rect, 4.0, edge, bevy_egui::egui::StrokeKind::Inside);
        }
        if response.clicked() {
            wanted = Some(story.example);
        }
    }
    wanted
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_has_a_bar_is_never_said_to_last_no_time() {
        for hundredths in 1..400 {
            let said = tenths(f64::from(hundredths) / 100.0);
            assert!(said.parse::<f64>().is_ok_and(|s| s > 0.0), "{said}");
        }
        assert_eq!(tenths(0.004), "under 0.01");
        assert_eq!(tenths(0.06), "0.06");
        assert_eq!(tenths(0.0), "0.0");
    }

    #[test]
    fn what_is_to_be_clicked_on_the_floor_is_called_what_it_is_there() {
        let said = words::seconds_a_possession(&300);
        assert!(said.contains("its letter on the floor"));
        assert!(said.contains("from 300 possessions"));
        assert_eq!([0, 1, 2].map(letter), ['A', 'B', 'C']);
    }
}
