//! A page to share: one HTML file that a phone opens without a network. The possession moves, with
//! teaching layers; the rule cards; and a small quiz, "where do I stand?", from the shell of the
//! defence.
//!
//! The page asks nothing of any server and forbids itself to (content security policy). Text from
//! users is escaped here, and in the data by JSON with every `<` written as an escape.

use std::fmt::Write as _;

use serde_json::{Value, json};

use crate::clean::{cut, escape};
use crate::court::{Units, Vec2};
use crate::offence::LookKind;
use crate::possession::{Frame, Possession, timeline};
use crate::scenario::Scenario;

use super::CAUTION_SHORT;
use super::cards::Card;
use super::finish;
use super::layout::Laid;
use super::light::{Replay, threads};
use super::phase::frame_at;
use super::scene::{Item, Scene};
use super::shell::shells;
use super::svg::{Look, UNIT, draw, picture};
use super::text::LONGEST;

const STYLE: &str = include_str!("page.css");
const SCRIPT: &str = include_str!("page.js");

/// Every so many ticks is kept: half of the track, 12.5 a second; between them it is drawn through.
const EVERY: usize = 2;
/// Points of the light's grid are so far apart, metres.
const GRAIN: f64 = 0.5;
/// Light is worked out at every second decision instant.
const LIT: usize = 2;

/// The whole page.
pub fn page(scenario: &Scenario, replay: &Replay, cards: &[Card]) -> String {
    let possession = &replay.possession;
    let title = escape(&cut(&scenario.name, LONGEST));
    let data = data(scenario, replay).to_string().replace('<', "\\u003c");
    let bare = Scene::of(&scenario.court);
    let floor = draw(&bare, &Laid::default(), &Look::SCREEN);
    let asked = draw(&bare, &Laid::default(), &Look::PAPER);
    let mut out = String::new();
    let _ = write!(
        out,
        "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n\
         <meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n\
         <meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; style-src \
         'unsafe-inline'; script-src 'unsafe-inline'; base-uri 'none'; form-action 'none'\">\n\
         <title>{title}</title>\n<style>\n{STYLE}\
         @page{{margin:14mm 12mm 18mm;@bottom-left{{content:\"{CAUTION_SHORT}\";font:7.5pt sans-serif}}}}\n\
         </style>\n\
         <noscript><style>.card{{display:block}}.row,#quiz,#time{{display:none}}</style></noscript>\n\
         </head>\n<body>\n<header>\n<h1>{title}</h1>\n</header>\n<main>\n",
    );
    let _ = write!(
        out,
        "<section id=\"watch\" aria-label=\"Watch one possession\">\n<div>\n<svg id=\"floor\" viewBox=\"0 0 {w:.0} {h:.0}\" role=\"img\" aria-label=\"The floor from above, the \
         rim at the top. What happens is told below.\" font-family=\"Arial, sans-serif\">{}\
         <g id=\"under\"><g id=\"light\"></g><g id=\"lines\"></g></g><g id=\"over\"></g></svg>\n\
         </div>\n<div>\n<p id=\"score\"><span id=\"clock\">0.0 s</span> · <strong id=\"result\"></strong></p>\n\
         <p id=\"told\" aria-live=\"polite\"></p>\n{}\
         <input type=\"range\" id=\"time\" min=\"0\" max=\"100\" value=\"0\" aria-label=\"Time of \
         the possession\">\n",
        floor.inside,
        strip(possession),
        w = floor.width,
        h = floor.height,
    );
    out.push_str(CONTROLS);
    let _ = write!(
        out,
        "</div>\n</section>\n<p>{} against {}</p>\n<p class=\"caution\" id=\"caution\">{}</p>\n",
        escape(&cut(&scenario.offence.name, LONGEST)),
        escape(&cut(&scenario.defence.name, LONGEST)),
        escape(CAUTION_SHORT),
    );
    cards_section(&mut out, cards);
    let _ = write!(
        out,
        "<section id=\"quiz\" aria-labelledby=\"h-quiz\">\n<h2 id=\"h-quiz\">Where do I \
         stand?</h2>\n<p id=\"question\" aria-live=\"polite\"></p>\n\
         <svg id=\"where\" class=\"quizzed\" viewBox=\"0 0 {w:.0} {h:.0}\" role=\"img\" \
         aria-label=\"The floor with one defender missing\" font-family=\"Arial, sans-serif\">{}\
         <g id=\"asked\"></g></svg>\n{QUIZ}</section>\n",
        asked.inside,
        w = asked.width,
        h = asked.height,
    );
    let _ = write!(
        out,
        "</main>\n<footer>\n<p>Made by Lanelight. The players and the game are simulated; this \
         page needs no network and sends nothing anywhere.</p>\n</footer>\n\
         <script type=\"application/json\" id=\"data\">{data}</script>\n\
         <script>\n{SCRIPT}</script>\n</body>\n</html>\n"
    );
    out
}

const CONTROLS: &str = "<div class=\"row\">\n<button id=\"play\">Play</button>\n\
    <button id=\"back\">Decision before</button>\n<button id=\"next\">Next decision</button>\n\
    <select id=\"speed\" aria-label=\"Speed\"><option value=\"1\">real time</option>\
    <option value=\"0.5\">half</option><option value=\"0.25\">quarter</option></select>\n\
    </div>\n<div class=\"row\">\n\
    <label class=\"tick\"><input type=\"checkbox\" id=\"layer-light\">light: where a catch pays</label>\n\
    <label class=\"tick\"><input type=\"checkbox\" id=\"layer-threads\">who shuts what</label>\n\
    <label class=\"tick\"><input type=\"checkbox\" id=\"layer-midline\">midline</label>\n\
    <label class=\"tick\"><input type=\"checkbox\" id=\"layer-triangles\">ball, you, your player</label>\n\
    </div>\n<p>Numbers attack, X defends; the bar is the line of the shoulders; the ring has the \
    ball.</p>\n<p class=\"keys\">Keys: space plays and freezes, the arrows go from decision to decision.</p>\n";

const QUIZ: &str = "<div class=\"row\">\n<button id=\"go-left\">Left</button>\n\
    <button id=\"go-right\">Right</button>\n<button id=\"go-up\">To the rim</button>\n\
    <button id=\"go-down\">Away from it</button>\n<button id=\"answer\">Answer</button>\n</div>\n";

/// The possession as a strip: bright where a look was open, dark where it stalled.
fn strip(possession: &Possession) -> String {
    let after = finish::after(possession);
    let whole = after
        .last()
        .map_or(possession.duration, |f| f.time)
        .max(0.1);
    let mut out = String::from(
        "<p class=\"label\">Bright: a look is open. Dark: nothing is.</p>\n<svg id=\"strip\" viewBox=\"0 0 1000 20\" preserveAspectRatio=\"none\" role=\"img\" \
         aria-label=\"Bright where a look was open\"><rect width=\"1000\" height=\"20\" \
         fill=\"#3a2818\"/>",
    );
    for moment in &possession.moments {
        let open = moment
            .looks
            .iter()
            .any(|l| l.open && l.allowed && l.kind != LookKind::NextPass);
        if open {
            let x = moment.time / whole * 1000.0;
            let _ = write!(
                out,
                "<rect x=\"{x:.1}\" width=\"{:.1}\" height=\"20\" fill=\"#ffcf7a\"/>",
                0.2 / whole * 1000.0 + 1.0
            );
        }
    }
    out.push_str("</svg>\n");
    out
}

fn cards_section(out: &mut String, cards: &[Card]) {
    out.push_str(
        "<section aria-labelledby=\"h-cards\">\n<h2 id=\"h-cards\">When this happens, you …</h2>\n\
         <div class=\"row\">\n<label for=\"rule\">Rule</label>\n<select id=\"rule\">\n",
    );
    for card in cards {
        let name = escape(&cut(&card.name, LONGEST));
        let _ = writeln!(out, "<option value=\"card-{}\">{name}</option>", card.rule);
    }
    out.push_str("</select>\n</div>\n");
    for card in cards {
        let name = escape(&cut(&card.name, LONGEST));
        let _ = write!(
            out,
            "<article class=\"card\" id=\"card-{}\">\n<h3>{name}</h3>\n<p>{}:</p>\n",
            card.rule,
            escape(&card.when)
        );
        if let Some(scene) = &card.scene {
            out.push_str("<div class=\"pair\">\n");
            // Small enough to send: the light of the cards is on paper.
            let scene = scene.without_light();
            let sides = [("right", scene.clone()), ("left", scene.mirrored())];
            for (side, scene) in sides {
                let says = format!("{}, the ball on the {side}", cut(&card.name, LONGEST));
                out.push_str(&picture(&scene, &Look::CARD).file(&says));
            }
            out.push_str("</div>\n");
        }
        out.push_str("<ul>\n");
        for (line, by_rule) in card.lines() {
            let class = if by_rule { " class=\"named\"" } else { "" };
            let words = escape(&cut(&line, 600));
            let _ = writeln!(out, "<li{class}>{words}</li>");
        }
        out.push_str("</ul>\n</article>\n");
    }
    out.push_str("</section>\n");
}

fn cm(metres: f64) -> i64 {
    libm::round(metres * 100.0) as i64
}

/// Ball (three), holder, attackers, defenders (two each), where the defenders face (degrees).
fn flat(frame: &Frame) -> Vec<i64> {
    let mut out: Vec<i64> = frame.ball.iter().map(|v| cm(*v)).collect();
    out.push(frame.holder.map_or(0, i64::from));
    for p in frame.attackers.iter().chain(&frame.defenders) {
        out.extend([cm(p.x), cm(p.y)]);
    }
    for f in &frame.defenders_facing {
        out.push(libm::round(libm::atan2(f.y, f.x).to_degrees()) as i64);
    }
    out
}

fn data(scenario: &Scenario, replay: &Replay) -> Value {
    let (court, possession) = (&scenario.court, &replay.possession);
    let after = finish::after(possession);
    let track = possession.track.iter().chain(&after);
    let kept: Vec<&Frame> = track.step_by(EVERY).collect();
    let mut grid = (0, 0, Vec2::ZERO, Vec2::ZERO);
    let mut moments = Vec::new();
    for (i, moment) in possession.moments.iter().enumerate().step_by(LIT) {
        let Some(lit) = replay.light(i, GRAIN) else {
            continue;
        };
        grid = (
            lit.grid.columns,
            lit.grid.rows,
            lit.grid.first,
            lit.grid.step,
        );
        let hex: String = lit
            .values
            .iter()
            .map(|v| {
                let level = libm::round(v * 15.0) as u32;
                char::from_digit(level.min(15), 16).unwrap_or('0')
            })
            .collect();
        let track = &possession.track;
        let frame = track.get(frame_at(track, moment.time));
        let tied = frame.map_or(Vec::new(), |frame| threads(frame, moment));
        let shut: Vec<[i64; 3]> = tied
            .iter()
            .filter_map(|item| match item {
                Item::Thread { defender, to, .. } => Some([(*defender).into(), cm(to.x), cm(to.y)]),
                _ => None,
            })
            .collect();
        moments.push(json!({"t": moment.time, "light": hex, "shut": shut}));
    }
    let decisions: Vec<f64> = possession
        .moments
        .iter()
        .filter(|m| m.choice.is_some())
        .map(|m| m.time)
        .collect();
    let lines: Vec<Value> = timeline::lines(possession, scenario)
        .iter()
        .filter_map(|l| Some(json!([f64::from(l.tenths?) / 10.0, cut(&l.text, 240)])))
        .collect();
    let quiz: Vec<Value> = shells(scenario)
        .iter()
        .flat_map(|s| {
            let mut other = s.frame;
            mirror(&mut other);
            [
                json!({"ball": s.ball.to_string(), "f": flat(&s.frame)}),
                json!({"ball": s.ball.mirrored().to_string(), "f": flat(&other)}),
            ]
        })
        .collect();
    let margin = 0.35;
    json!({
        "corner": [-court.width / 2.0 - margin, court.baseline_y() - margin],
        "unit": UNIT,
        "hz": 25.0 / EVERY as f64,
        "half": cm(court.half_court_y()),
        "side": cm(court.width / 2.0),
        "base": cm(court.baseline_y()),
        "deep": 900,
        "feet": court.units == Units::Imperial,
        "columns": grid.0,
        "rows": grid.1,
        "first": [grid.2.x, grid.2.y],
        "step": [grid.3.x, grid.3.y],
        "frames": kept.iter().map(|f| flat(f)).collect::<Vec<_>>(),
        "guards": kept.iter().map(|f| f.guards).collect::<Vec<_>>(),
        "moments": moments,
        "decisions": decisions,
        "lines": lines,
        "known": finish::known(possession, &after),
        "result": finish::result(possession),
        "quiz": quiz,
    })
}

/// Left and right exchanged.
fn mirror(frame: &mut Frame) {
    frame.ball[0] = -frame.ball[0];
    for p in frame
        .attackers
        .iter_mut()
        .chain(&mut frame.defenders)
        .chain(&mut frame.attackers_facing)
        .chain(&mut frame.defenders_facing)
    {
        p.x = -p.x;
    }
}
