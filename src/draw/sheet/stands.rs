//! A defence in a coach's words, from its file: where they stand on the ball, one and two passes away, at the post, and
//! what they do on a drive.

use crate::court::Units;
use crate::defence::{Defence, Gaze, Helper, Relation, Stance};
use crate::possession::timeline::length;

use super::handout::at_screens;

/// Drawn so far to the midline, a defender stands on it, share of the way (ours).
const ON_IT: f64 = 0.8;
/// The help line, said where it first stands.
const HELP_LINE: &str = "on the help line (from rim to rim, through the middle of the floor)";

/// Where a stance is, in words.
fn place(s: &Stance, relation: Relation) -> String {
    let on = relation == Relation::OnBall;
    match s.midline {
        _ if s.deny => "a hand in the passing lane".to_string(),
        m if m >= ON_IT => HELP_LINE.to_string(),
        m if m > 0.0 && !on => "between player and rim, drawn toward the middle".to_string(),
        m if m < 0.0 && on => {
            "on the side of the middle, so that the ball goes outside".to_string()
        }
        _ if relation == Relation::OnePass => "in the gap, a step toward ball and rim".to_string(),
        _ => "between player and rim".to_string(),
    }
}

fn eyes(gaze: Gaze) -> &'static str {
    match gaze {
        Gaze::Ball => "eyes on the ball",
        Gaze::Man => "eyes on the player",
        Gaze::Both => "seeing ball and player",
    }
}

/// "between player and rim, 3 ft to 4 ft off, eyes on the player".
fn stance(s: &Stance, relation: Relation, units: Units) -> String {
    let (near, far) = (length(units, s.gap.0), length(units, s.gap.1));
    let off = match near == far {
        true => far,
        false => format!("{near} to {far}"),
    };
    format!("{}, {off} off, {}", place(s, relation), eyes(s.gaze))
}

/// The sentences.
pub fn stands(defence: &Defence, units: Units) -> Vec<String> {
    let of = |relation| stance(defence.stances.of(relation), relation, units);
    let mut said = Vec::new();
    if defence.zone.is_some() {
        said.push("A zone: each defender guards whoever is in the own area.".to_string());
        said.push(format!("On the ball: {}.", of(Relation::OnBall)));
    } else {
        said.push(format!("On the ball: {}.", of(Relation::OnBall)));
        said.push(format!("One pass away: {}.", of(Relation::OnePass)));
        said.push(format!("Two passes away: {}.", of(Relation::TwoPasses)));
        let mut post = format!(
            "At the post: on the ball side {}",
            of(Relation::PostBallSide)
        );
        post += &format!("; on the weak side {}.", of(Relation::PostWeakSide));
        // What the line is has been said.
        let known = said.iter().any(|s| s.contains(HELP_LINE));
        said.push(match known {
            true => post.replace(HELP_LINE, "on the help line"),
            false => post,
        });
    }
    said.push(on_a_drive(defence, units));
    let screens = at_screens(defence);
    if !screens.is_empty() {
        said.push(screens);
    }
    said
}

fn on_a_drive(defence: &Defence, units: Units) -> String {
    let help = &defence.help;
    let stunt = match help.stunt > 0.0 {
        true => format!(
            "one pass away they jab {} at the ball and go back",
            length(units, help.stunt)
        ),
        false => "one pass away nobody jabs at the ball".to_string(),
    };
    let who = match help.who {
        Helper::Nobody => return format!("On a drive: nobody leaves a player to help; {stunt}."),
        Helper::LowMan => "the weak-side defender nearest the rim",
        Helper::Nearest => "whoever is nearest",
    };
    let then = match help.rotate {
        true => "the next one takes the helper's player",
        false => "nobody takes the helper's player",
    };
    format!(
        "On a drive: {who} comes, meets the ball {} from the rim, and {then}; {stunt}.",
        length(units, help.depth)
    )
}

/// Who of a shell stands in which of these ways: "X1 on the ball; X2, X3 one pass away".
pub fn who(relations: &[Relation; 5], there: impl Fn(usize) -> bool) -> String {
    let groups = Relation::ALL.into_iter().filter_map(|relation| {
        let of = (0..5).filter(|d| there(*d) && relations[*d] == relation);
        let of: Vec<String> = of.map(|d| format!("X{}", d + 1)).collect();
        (!of.is_empty()).then(|| format!("{} {}", of.join(", "), relation.word()))
    });
    groups.collect::<Vec<_>>().join("; ")
}
