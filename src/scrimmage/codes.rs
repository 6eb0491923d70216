//! What looks, zones, finishes and turnovers are called in files and in words.

use crate::court::ShotZone;
use crate::offence::LookKind;
use crate::possession::{Finish, Turnover};

/// Every way of losing the ball, with its name in files and in words.
pub const TURNOVERS: [(Turnover, &str, &str); 7] = [
    (Turnover::Intercepted, "intercepted", "pass intercepted"),
    (Turnover::Tipped, "tipped", "pass tipped away"),
    (Turnover::LostPass, "lost_pass", "bad or dropped pass"),
    (Turnover::LostDribble, "lost_dribble", "dribble lost"),
    (Turnover::ShotClock, "shot_clock", "shot clock"),
    (
        Turnover::CloselyGuarded,
        "closely_guarded",
        "closely guarded",
    ),
    (
        Turnover::LaneSeconds,
        "lane_seconds",
        "three seconds in the lane",
    ),
];

/// Every finishing action, with its name in files and in words.
pub const FINISHES: [(Finish, &str, &str); 6] = [
    (Finish::Cut, "cut", "off a cut"),
    (Finish::PostUp, "post_up", "from the post"),
    (Finish::DropOff, "drop_off", "off a drop-off"),
    (Finish::Drive, "drive", "off a drive"),
    (Finish::SpotUp, "spot_up", "catch and shoot"),
    (Finish::OffHold, "off_hold", "after holding the ball"),
];

/// The name in files of a kind of look.
pub fn look_code(kind: LookKind) -> &'static str {
    match kind {
        LookKind::Shot => "shot",
        LookKind::Drive => "drive",
        LookKind::GiveAndGo => "give_and_go",
        LookKind::Backdoor => "backdoor",
        LookKind::Post => "post",
        LookKind::DropOff => "drop_off",
        LookKind::KickOut => "kick_out",
        LookKind::NextPass => "next_pass",
        LookKind::Skip => "skip",
    }
}

/// The name in files of a shot zone.
pub fn zone_code(zone: ShotZone) -> &'static str {
    match zone {
        ShotZone::Rim => "rim",
        ShotZone::Paint => "paint",
        ShotZone::MidRange => "mid_range",
        ShotZone::CornerThree => "corner_three",
        ShotZone::ArcThree => "arc_three",
    }
}
