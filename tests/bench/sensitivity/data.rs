//! Numbers that are data: what a level brings, where a defence stands, how patient an offence is. One
//! is turned on both sides at once.

use lanelight::defence::Stance;
use lanelight::scenario::Scenario;
use lanelight::squad::Player;

pub struct Knob {
    pub name: &'static str,
    pub source: &'static str,
}

const fn knob(name: &'static str, source: &'static str) -> Knob {
    Knob { name, source }
}

pub const KNOBS: [Knob; 31] = [
    knob("top speed", "from memory"),
    knob("acceleration and braking", "from memory"),
    knob("turn", "common practice"),
    knob("shuffle", "from memory"),
    knob("back-pedal", "from memory"),
    knob("reaction", "from memory"),
    knob("reach", "from memory"),
    knob("standing reach", "from memory"),
    knob("body radius", "from memory"),
    knob("pass speed", "common practice"),
    knob("pass error", "invented"),
    knob("wind-up of a pass", "invented"),
    knob("shooting at the rim and in the lane", "from memory"),
    knob("shooting from outside", "from memory"),
    knob("error in judging looks", "invented"),
    knob("field of view", "from memory"),
    knob("decision time", "invented"),
    knob("noticing a look", "invented"),
    knob("dribbling speed", "invented"),
    knob("losing the dribble", "invented"),
    knob("dropping a pass", "invented"),
    knob("stances: share of the man", "common practice"),
    knob("stances: share of the ball", "common practice"),
    knob("stances: gaps", "common practice"),
    knob("stances: pull to the midline", "common practice"),
    knob("help: how near a drive calls it", "common practice"),
    knob("help: how deep it meets the drive", "common practice"),
    knob("close-out: how short", "common practice"),
    knob("close-out: pace", "common practice"),
    knob("patience: hold", "common practice"),
    knob("patience: asks more", "invented"),
];

fn chance(x: &mut f64, by: f64) {
    *x = (*x * by).clamp(0.0, 0.98);
}

fn player(p: &mut Player, name: &str, by: f64) {
    let (limits, shooting) = (&mut p.limits, &mut p.shooting);
    match name {
        "top speed" => limits.top_speed *= by,
        "acceleration and braking" => {
            limits.accel *= by;
            limits.brake *= by;
        }
        "turn" => limits.turn *= by,
        "shuffle" => limits.shuffle = (limits.shuffle * by).min(1.0),
        "back-pedal" => limits.backpedal = (limits.backpedal * by).min(1.0),
        "reaction" => limits.reaction *= by,
        "reach" => limits.reach *= by,
        "standing reach" => limits.standing_reach *= by,
        "body radius" => limits.radius *= by,
        "pass speed" => p.hands.pass_speed *= by,
        "pass error" => p.hands.pass_error *= by,
        "wind-up of a pass" => p.hands.release *= by,
        "shooting at the rim and in the lane" => {
            chance(&mut shooting.rim, by);
            chance(&mut shooting.paint, by);
        }
        "shooting from outside" => {
            chance(&mut shooting.mid_range, by);
            chance(&mut shooting.corner_three, by);
            chance(&mut shooting.arc_three, by);
        }
        "error in judging looks" => p.judgement.value_error *= by,
        "field of view" => p.judgement.half_view *= by,
        "decision time" => p.judgement.decision *= by,
        "noticing a look" => chance(&mut p.judgement.notices, by),
        "dribbling speed" => p.dribble = (p.dribble * by).min(1.0),
        "losing the dribble" => p.loses *= by,
        "dropping a pass" => p.fumbles *= by,
        _ => {}
    }
}

fn stance(s: &mut Stance, name: &str, by: f64) {
    match name {
        "stances: share of the man" => s.man *= by,
        "stances: share of the ball" => s.ball *= by,
        "stances: gaps" => s.gap = (s.gap.0 * by, s.gap.1 * by),
        "stances: pull to the midline" => s.midline = (s.midline * by).min(1.0),
        _ => {}
    }
}

/// Turns one number of a scenario.
pub fn turn(scenario: &mut Scenario, name: &str, by: f64) {
    assert!(
        KNOBS.iter().any(|knob| knob.name == name),
        "no number {name}"
    );
    let sides = [&mut scenario.attackers, &mut scenario.defenders];
    for p in sides.into_iter().flat_map(|side| &mut side.players) {
        player(p, name, by);
    }
    let defence = &mut scenario.defence;
    let stances = &mut defence.stances;
    for s in [
        &mut stances.on_ball,
        &mut stances.one_pass,
        &mut stances.two_passes,
        &mut stances.post_ball_side,
        &mut stances.post_weak_side,
        &mut stances.cutter,
    ] {
        stance(s, name, by);
    }
    match name {
        "help: how near a drive calls it" => defence.help.within *= by,
        "help: how deep it meets the drive" => defence.help.depth *= by,
        "close-out: how short" => defence.closeout.short *= by,
        "close-out: pace" => defence.closeout.pace = (defence.closeout.pace * by).min(1.0),
        "patience: hold" => scenario.offence.patience.hold *= by,
        "patience: asks more" => scenario.offence.patience.asks_more += 0.5 * (by - 1.0),
        _ => {}
    }
}
