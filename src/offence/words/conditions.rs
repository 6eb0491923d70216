//! Conditions in plain English.

use super::super::{By, Condition};
use super::{place, time};

/// "somebody is at the top and the player is overplayed"; `he` is the player of the line.
pub(super) fn conditions(all: &[Condition], he: &str) -> String {
    let words: Vec<String> = all.iter().map(|one| condition(*one, he)).collect();
    words.join(" and ")
}

/// "nobody is at the top".
pub fn condition(condition: Condition, he: &str) -> String {
    let (is, has) = if he == "you" {
        ("are", "have")
    } else {
        ("is", "has")
    };
    match condition {
        Condition::Held(at) => format!("somebody is at {}", place(at)),
        Condition::Empty(at) => format!("nobody is at {}", place(at)),
        Condition::BallAt(at) => format!("the ball is at {}", place(at)),
        Condition::PostOn(By::Ball) => "a player is inside on the ball side".to_owned(),
        Condition::PostOn(By::Weak) => "a player is inside on the weak side".to_owned(),
        Condition::PostOn(_) => "a player is inside".to_owned(),
        Condition::Overplayed => format!("{he} {is} overplayed"),
        Condition::SaggedOff => format!("{he} {is} sagged off"),
        Condition::OffBall => format!("{he} neither {has} the ball nor {is} about to catch it"),
        Condition::IsPlayer(number) => format!("{he} {is} player {number}"),
        Condition::NotScreening if he == "you" => {
            "you neither set a screen nor go to set one".to_owned()
        }
        Condition::NotScreening => format!("{he} neither sets a screen nor goes to set one"),
        Condition::HasBall(number) => {
            format!("player {number} has the ball, or is about to catch it")
        }
        Condition::ScreenComing => "a screen on the ball is coming, or stands".to_owned(),
        Condition::TimeOver(left) => format!("at least {} are left to shoot in", time(left)),
        Condition::TimeUnder(left) => format!("less than {} are left to shoot in", time(left)),
    }
}
