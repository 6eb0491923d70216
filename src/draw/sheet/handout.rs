//! Handouts: the rule cards of an offence, five lines each, for the ball on either side; and the
//! shell of a defence for the ball on each spot.

use rayon::prelude::*;

use crate::clean::cut;
use crate::court::Units;
use crate::defence::{BallScreens, Defence, Relation, Switch};
use crate::offence::LookKind;
use crate::offence::words::capital;
use crate::possession::timeline::length;
use crate::scenario::Scenario;
use crate::why::sheet::ON_MIDLINE;
use crate::why::step::STEP;

use super::super::cards::Card;
use super::super::glow;
use super::super::scene::Scene;
use super::super::shell::{Post, Shell, lit_shells, reasoned_shells};
use super::super::svg::{Look, Picture, picture};
use super::super::text::LONGEST;
use super::paper::{Book, MARGIN, Paper, Type};
use super::scout::Scouted;

/// What the signs of a diagram mean.
pub const SIGNS: &str = "Solid arrow: run. Dashed: pass. Wavy: dribble. A bar at the end of a line: screen. Ring: has \
    the ball. X: a defender; the bar before an X: the shoulders.";

/// What a side is called by, for everybody who reads a card.
pub const SIDES: &str = "Ball side: where the ball is after the pass; weak side: the other.";

/// Which card counts of two (as the rules are played: whoever is told again does the last that was told).
pub const LATER: &str =
    "Two cards name you: the one that came last counts; a cut is finished first.";

/// So many cards have room on a page.
const ON_A_PAGE: f64 = 4.0;
/// What a card takes above and below its picture, beside its title, points.
const ROUND_IT: f64 = 14.0;
/// A picture leaves its words at least this share of the page's width.
const FOR_WORDS: f64 = 0.45;
/// Width of a card's picture where the mirrored picture stands beside it, points.
const HALF: f64 = 158.0;

/// The rule cards as pages.
pub fn card_pages(
    scenario: &Scenario,
    cards: &[Card],
    paper: Paper,
    mirrored: bool,
) -> Vec<String> {
    let name = cut(&scenario.offence.name, LONGEST);
    let mut book = Book::new(paper, &format!("{name} · rule cards · made by Lanelight"));
    book.para(&name, Type::TITLE);
    let sides = match mirrored {
        true => "Left picture: the ball on the right; right picture: on the left.",
        false => "The ball is on the right; on the left all is mirrored.",
    };
    book.para(
        &format!(
            "One card for each rule: when this happens, you … {sides} {SIDES} {LATER} Bold: this is your \
             job. {SIGNS}"
        ),
        Type::SMALL,
    );
    if cards
        .iter()
        .filter_map(|c| c.scene.as_ref())
        .any(Scene::lit)
    {
        book.para(
            &glow::words(&cut(&scenario.defence.name, LONGEST)),
            Type::SMALL,
        );
    }
    book.gap(6.0);
    let drawn: Vec<Vec<Picture>> = cards.iter().map(|card| drawn(card, mirrored)).collect();
    let wide = if mirrored {
        HALF
    } else {
        widest(&book, drawn.iter().flatten())
    };
    for (i, (card, pictures)) in cards.iter().zip(&drawn).enumerate() {
        one_card(&mut book, i + 1, card, pictures, wide);
    }
    book.finish()
}

/// The pictures of a card: none without a walk; with the mirrored one they are smaller, and their signs are not.
fn drawn(card: &Card, mirrored: bool) -> Vec<Picture> {
    let Some(scene) = &card.scene else {
        return Vec::new();
    };
    match mirrored {
        true => vec![
            picture(scene, &Look::PAPER),
            picture(&scene.mirrored(), &Look::PAPER),
        ],
        false => vec![picture(scene, &Look::CARD)],
    }
}

/// As wide as pictures can be with so many cards on a page, points.
fn widest<'a>(book: &Book, drawn: impl Iterator<Item = &'a Picture>) -> f64 {
    let head = Book::height("1", Type::STRONG, book.wide());
    let high = book.high() / ON_A_PAGE - head - ROUND_IT;
    let most = (1.0 - FOR_WORDS) * book.wide();
    drawn.fold(most, |wide, one| wide.min(high * one.width / one.height))
}

fn one_card(book: &mut Book, number: usize, card: &Card, pictures: &[Picture], wide: f64) {
    let kind = Type {
        size: 9.0,
        ..Type::BODY
    };
    let strong = Type { bold: true, ..kind };
    let title = format!("{number}  {}", cut(&card.name, LONGEST));
    let when = format!("{}:", capital(&card.when));
    let full = book.wide();
    let x = match pictures.len() {
        0 => MARGIN,
        many => MARGIN + many as f64 * (wide + 6.0) + 8.0,
    };
    let room = MARGIN + full - x;
    let mut lines: Vec<(String, Type)> = vec![(when, kind)];
    if card.parts.is_empty() {
        lines.clear();
    }
    for (line, by_rule) in card.lines() {
        lines.push((cut(&line, 600), if by_rule { strong } else { kind }));
    }
    let words: f64 = lines
        .iter()
        .map(|(text, kind)| Book::height(text, *kind, room) + 2.0)
        .sum();
    let high = pictures.first().map_or(0.0, |one| one.height_at(wide));
    let head = Book::height(&title, Type::STRONG, full);
    book.need(head + high.max(words) + ROUND_IT);
    book.para(&title, Type::STRONG);
    book.gap(2.0);
    let y = book.y;
    for (i, one) in pictures.iter().enumerate() {
        book.picture(one, MARGIN + i as f64 * (wide + 6.0), y, wide);
    }
    let mut at = y - 2.0;
    for (text, kind) in &lines {
        at += book.set(text, *kind, x, at, room) + 2.0;
    }
    book.gap(high.max(at - y) + 5.0);
    book.cut_line();
    book.gap(7.0);
}

/// A diagram on a page of its own, to write on.
pub fn diagram_page(scenario: &Scenario, scene: &Scene, says: &str, paper: Paper) -> Vec<String> {
    let mut book = Book::new(paper, "diagram · made by Lanelight");
    book.para(&cut(&scenario.name, LONGEST), Type::TITLE);
    book.para(says, Type::BODY);
    book.gap(6.0);
    let drawn = picture(scene, &Look::PAPER);
    let wide = book.wide();
    let high = book.picture(&drawn, MARGIN, book.y, wide);
    book.gap(high + 4.0);
    book.para(SIGNS, Type::SMALL);
    book.notes(true);
    book.finish()
}

/// The sheets for defenders: where everybody stands against this offence with the ball at each of its places, and why
/// there; the scouting page, if there are figures; then one page for each other defence.
pub fn shell_pages(
    scenario: &Scenario,
    scouted: Option<&Scouted>,
    others: &[Defence],
    paper: Paper,
) -> Vec<String> {
    let mut book = Book::new(paper, "shell positions · made by Lanelight");
    own_shell(&mut book, scenario);
    if let Some(scouted) = scouted {
        book.turn();
        scouted.set(&mut book, scenario);
    }
    let others = others.par_iter().map(|defence| {
        let mut set = scenario.clone();
        set.defence = defence.clone();
        let shells = reasoned_shells(&set);
        (set, shells)
    });
    for (set, shells) in others.collect::<Vec<_>>() {
        book.turn();
        one_shell(&mut book, &set, &shells);
    }
    book.finish()
}

/// Less than this, per cent, is no change of how likely a ball gets there (ours).
const FIVE: f64 = 5.0;

/// Width of a picture with the reasons beside it, points.
const WITH_REASONS: f64 = 244.0;

/// The scenario's own defence: a picture for each place of the ball, and beside it where each stands and why.
fn own_shell(book: &mut Book, scenario: &Scenario) {
    let kind = Type {
        size: 9.0,
        ..Type::BODY
    };
    book.para(&cut(&scenario.defence.name, LONGEST), Type::TITLE);
    book.para(&cut(&scenario.defence.note, 300), Type::BODY);
    let offence = cut(&scenario.offence.name, LONGEST);
    let step = length(scenario.court.units, STEP);
    let lead = format!(
        "Where you stand against {offence} when the ball has come to rest, and what your place shuts: what opens if you \
         alone are off it (a step: {step}), everybody else in place. In brackets the chance that the pass gets through: \
         you in place / off it. The ball is on the right; on the left all is mirrored. Bright floor: where a catch pays. \
         The bar in front of an X: the line of the shoulders."
    );
    book.para(&lead, Type::SMALL);
    book.gap(6.0);
    for (shell, mut lit) in lit_shells(scenario) {
        let drawn = picture(&shell.lit_scene(&lit), &Look::PAPER);
        let mut lines = vec![(format!("Ball: {}", shell.ball.name.word()), Type::STRONG)];
        let posts = shell.posts(&mut lit);
        lines.extend(
            posts
                .iter()
                .map(|post| (reasons(post, scenario.court.units), kind)),
        );
        book.beside(&[(drawn, "")], WITH_REASONS, &lines, (14.0, 10.0));
    }
}

/// "X2 on 2, one pass away: 7 ft off, 14 ft from the rim."
fn job(post: &Post, units: Units) -> String {
    let [player, rim, midline] = post.off.map(|metres| length(units, metres));
    let stands = match post.off[2] <= ON_MIDLINE {
        true => "on the midline".to_string(),
        false => format!("{midline} from the midline"),
    };
    let place = match post.relation {
        Relation::OnBall => format!("{player} off, {rim} from the rim"),
        _ => format!("{player} off, {stands}, {rim} from the rim"),
    };
    let (number, relation) = (post.defender, post.relation.word());
    // In a zone nobody but the ball has a defender of their own.
    if post.area && post.relation != Relation::OnBall {
        return format!("X{number}, own area: {stands}, {rim} from the rim.");
    }
    format!("X{number} on {}, {relation}: {place}.", post.guards)
}

/// "X2 on 2, one pass away: 7 ft off, 14 ft from the rim. A step nearer to the ball opens the pass to 2 (31 / 66 %)."
pub fn reasons(post: &Post, units: Units) -> String {
    let steps = match post.steps {
        0 | 1 => "A step".to_string(),
        2 => "Two steps".to_string(),
        3 => "Three steps".to_string(),
        4 => "Four steps".to_string(),
        n => format!("{n} steps"),
    };
    let why = post.opens.first().map_or_else(
        || "You have room to help: be first at the next pass or drive.".to_string(),
        |o| {
            let (before, after) = (100.0 * o.openness().0, 100.0 * o.openness().1);
            let many = post.steps > 1;
            let look = look_words(o.look.kind, o.look.to);
            let way = o.way.words();
            // A shot gets off in any case, and some passes arrive in any case: they pay more.
            if o.look.kind == LookKind::Shot || after - before < FIVE {
                let make = if many { "make" } else { "makes" };
                return format!("{steps} {way} {make} {look} pay more.");
            }
            let verb = match (o.opens(), many) {
                (true, false) => "opens",
                (true, true) => "open",
                (false, false) => "gives room for",
                (false, true) => "give room for",
            };
            let chance = match o.look.kind {
                LookKind::Drive => String::new(),
                _ => format!(" ({before:.0} / {after:.0} %)"),
            };
            format!("{steps} {way} {verb} {look}{chance}.")
        },
    );
    format!("{} {why}", job(post, units))
}

/// "the drive", "the post feed to 5".
fn look_words(look: LookKind, to: Option<u8>) -> String {
    match to {
        Some(to) => format!("the {} to {to}", look.word()),
        None => format!("the {}", look.word()),
    }
}

/// What two defenders do about screens, in a sentence or two; nothing where nothing is said.
pub(super) fn at_screens(defence: &Defence) -> String {
    let mut said = Vec::new();
    if defence.switch == Switch::OnScreens {
        said.push(
            "At every screen and hand-off the two defenders trade players: call “switch”, the screener's defender takes \
             the user, the other takes the screener."
                .to_string(),
        );
    }
    if let Some(how) = defence
        .ball_screens
        .filter(|how| *how != BallScreens::Switch)
    {
        said.push(format!("Screens on the ball: {}.", how.word()));
    }
    if let Some(how) = defence.off_ball_screens {
        said.push(format!("Screens off the ball: {}.", how.word()));
    }
    said.join(" ")
}

/// Another defence: where each stands and why, a picture for each place of the ball with the reasons beside it.
fn one_shell(book: &mut Book, scenario: &Scenario, shells: &[(Shell, Vec<Post>)]) {
    let kind = Type {
        size: 8.5,
        ..Type::BODY
    };
    let units = scenario.court.units;
    book.para(&cut(&scenario.defence.name, LONGEST), Type::TITLE);
    book.para(&cut(&scenario.defence.note, 300), Type::BODY);
    let screens = at_screens(&scenario.defence);
    if !screens.is_empty() {
        book.para(&screens, Type::STRONG);
    }
    let step = length(units, STEP);
    book.para(
        &format!(
            "Where everybody stands when the ball has come to rest on the right, and what opens if one alone is off the \
             place (a step: {step}; in brackets the chance that the pass gets through, in place / off it). On the left all \
             is mirrored. The bar in front of an X: the line of the shoulders."
        ),
        Type::SMALL,
    );
    book.gap(6.0);
    // All rows are to fit on one page.
    let room = book.room() / shells.len().max(1) as f64 - 11.0;
    for (shell, posts) in shells {
        let drawn = picture(&shell.scene, &Look::PAPER);
        let wide = (room * drawn.width / drawn.height).min(WITH_REASONS);
        let mut lines = vec![(format!("Ball: {}", shell.ball.name.word()), Type::STRONG)];
        lines.extend(posts.iter().map(|post| (reasons(post, units), kind)));
        book.beside(&[(drawn, "")], wide, &lines, (14.0, 10.0));
    }
}
