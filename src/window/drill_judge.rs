//! How a place is judged in the defenders' drill: how far off the model's place and which way, what it leaves open,
//! and why the model stands there: what a step off would open.

use super::drill::NOTHING;
use super::recording::Recording;
use super::words::drills as words;
use crate::court::Vec2;
use crate::looks::BODIES;
use crate::possession::LookNow;
use crate::sim::instant::Instant;
pub use crate::why::step::{STEP as WHY_STEP, WORTH_SAYING};

/// Toward what somebody stands too far, or toward what a step leads.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Way {
    /// Toward the ball, or away from it.
    Ball(bool),
    /// Toward the player who is guarded (number), or away.
    Player(bool, u8),
    /// Toward the rim, or away from it.
    Rim(bool),
    /// Toward the midline, or away from it.
    Midline(bool),
    /// To the other side of the midline.
    Across,
}

impl Way {
    /// As a fault: "too near to the ball".
    pub fn fault(self) -> String {
        let near = |toward: bool| {
            if toward {
                words::TOO_NEAR_TO
            } else {
                words::TOO_FAR_FROM
            }
        };
        match self {
            Way::Ball(toward) => words::the_ball(&near(toward)),
            Way::Player(toward, who) => format!("{} {who}", near(toward)),
            Way::Rim(true) => words::TOO_DEEP_TOWARD_THE.into(),
            Way::Rim(false) => words::TOO_HIGH_AWAY_FROM.into(),
            Way::Midline(true) => words::TOO_FAR_TOWARD_THE.into(),
            Way::Midline(false) => words::TOO_FAR_FROM_THE.into(),
            Way::Across => words::PAST_THE_MIDLINE_ON.into(),
        }
    }

    /// As a step: "nearer to the ball".
    pub fn step(self) -> String {
        let near = |toward: bool| {
            if toward {
                words::NEARER_TO
            } else {
                words::FARTHER_FROM
            }
        };
        match self {
            Way::Ball(toward) => words::the_ball(&near(toward)),
            Way::Player(toward, who) => format!("{} {who}", near(toward)),
            Way::Rim(true) => words::DEEPER_TOWARD_THE_RIM.into(),
            Way::Rim(false) => words::HIGHER_AWAY_FROM_THE.into(),
            Way::Midline(true) => words::TOWARD_THE_MIDLINE.into(),
            Way::Midline(false) => words::AWAY_FROM_THE_MIDLINE.into(),
            Way::Across => words::OVER_THE_MIDLINE.into(),
        }
    }
}

/// One defender's answer.
#[derive(Clone, Debug, PartialEq)]
pub struct Answer {
    /// 0–4.
    pub defender: usize,
    /// The model's place, metres from the rim.
    pub right: Vec2,
    /// Where the learner put the defender, metres from the rim.
    pub put: Vec2,
    /// Metres off.
    pub off: f64,
    /// The fault; `None` if hardly any.
    pub fault: Option<Way>,
    /// Looks that are open with the defender there and shut with the defender in place.
    pub left_open: Vec<LookNow>,
    /// Why the place is right: what a step off it opens, what gains most first.
    pub opens: Vec<Opens>,
    /// Points of a hundred.
    pub score: f64,
}

/// What a step off the model's place opens.
#[derive(Clone, Debug, PartialEq)]
pub struct Opens {
    /// Where the step leads.
    pub way: Option<Way>,
    /// Where the defender stands after it, metres from the rim.
    pub stands: Vec2,
    /// The look that gains by it, as it is then.
    pub look: LookNow,
    /// How open this look is with the defender in place, and what it is worth, points.
    pub before: (f64, f64),
}

impl Opens {
    /// What the look gains, points.
    pub fn gains(&self) -> f64 {
        self.look.value - self.before.1
    }
}

/// Measures where the learner put the defenders in `who` against where the model has them.
pub fn judge(
    recording: &Recording,
    moment: usize,
    who: &[usize],
    moved: &[Option<Vec2>; BODIES],
) -> Vec<Answer> {
    let Some(instant) = recording.instants.get(moment) else {
        return Vec::new();
    };
    // In their places: what is open then is not the learner's fault.
    let right = in_place(recording, instant, who);
    let open_then = recording.looks_with(moment, &right);
    who.iter()
        .map(|&d| {
            let place = instant.goal(&recording.play, d);
            let put = moved[5 + d].unwrap_or(instant.old.scene.pos[5 + d]);
            let mut only_he = right;
            only_he[5 + d] = Some(put);
            let open_now = recording.looks_with(moment, &only_he);
            let left_open = open_now
                .iter()
                .filter(|l| l.open)
                .filter(|l| same(&open_then, l).is_some_and(|o| !o.open))
                .cloned()
                .collect();
            let off = (put - place).length();
            Answer {
                defender: d,
                right: place,
                put,
                off,
                fault: way(instant, d, place, put),
                left_open,
                opens: steps_off(recording, moment, d, &right, &open_then),
                score: 100.0 * (1.0 - off / NOTHING).clamp(0.0, 1.0),
            }
        })
        .collect()
}

/// Where the model has the defenders in `who`, metres from the rim.
fn in_place(recording: &Recording, instant: &Instant, who: &[usize]) -> [Option<Vec2>; BODIES] {
    let mut right = [None; BODIES];
    for &d in who {
        right[5 + d] = Some(instant.goal(&recording.play, d));
    }
    right
}

/// How much a moment teaches: what a step off the right place of a defender in `who` opens at most, points.
pub fn teaches(recording: &Recording, moment: usize, who: &[usize]) -> f64 {
    let Some(instant) = recording.instants.get(moment) else {
        return 0.0;
    };
    let right = in_place(recording, instant, who);
    let before = recording.looks_with(moment, &right);
    let opened = who.iter().filter_map(|&d| {
        steps_off(recording, moment, d, &right, &before)
            .into_iter()
            .next()
    });
    opened.map(|o| o.gains()).fold(0.0, f64::max)
}

/// Less than this off is right, metres: a step.
const A_STEP: f64 = 0.5;

/// That look among `looks` which is the same as `look`: of one kind, to one player.
fn same<'a>(looks: &'a [LookNow], look: &LookNow) -> Option<&'a LookNow> {
    looks
        .iter()
        .find(|o| o.kind == look.kind && o.to == look.to)
}

/// So many looks are told of.
const MOST: usize = 3;

/// What a step off the place, in any of eight directions, opens: each look by the step that opens it most, if it is
/// worth a word. `before`: the looks with all who are asked about in their places, `right`.
fn steps_off(
    recording: &Recording,
    moment: usize,
    d: usize,
    right: &[Option<Vec2>; BODIES],
    before: &[LookNow],
) -> Vec<Opens> {
    let instant = &recording.instants[moment];
    let place = instant.goal(&recording.play, d);
    let mut all: Vec<Opens> = Vec::new();
    for turn in 0..8 {
        let angle = f64::from(turn) * std::f64::consts::FRAC_PI_4;
        let stands = place + Vec2::new(libm::cos(angle), libm::sin(angle)) * WHY_STEP;
        let mut moved = *right;
        moved[5 + d] = Some(stands);
        for look in recording.looks_with(moment, &moved) {
            let opens = Opens {
                way: way(instant, d, place, stands),
                stands,
                before: same(before, &look).map_or((0.0, 0.0), |o| (o.openness, o.value)),
                look,
            };
            let is_it =
                |o: &&mut Opens| o.look.kind == opens.look.kind && o.look.to == opens.look.to;
            match all.iter_mut().find(is_it) {
                Some(known) if known.gains() >= opens.gains() => {}
                Some(known) => *known = opens,
                None => all.push(opens),
            }
        }
    }
    all.retain(|o| o.gains() > WORTH_SAYING);
    all.sort_by(|a, b| b.gains().total_cmp(&a.gains()));
    all.truncate(MOST);
    all
}

/// Toward which of ball, player, rim and midline (or away from which) `put` lies from the right place; `None` within
/// a step.
pub(super) fn way(instant: &Instant, d: usize, right: Vec2, put: Vec2) -> Option<Way> {
    let off = put - right;
    if off.length() < A_STEP {
        return None;
    }
    let past = put.x * right.x < 0.0 && put.x.abs() > A_STEP;
    if past && right.x.abs() > A_STEP {
        return Some(Way::Across);
    }
    let guarded = instant.old.scene.guards[d];
    let player = instant.old.scene.pos[guarded];
    let midline = Vec2::new(0.0, right.y);
    let ways: [(Vec2, fn(bool, u8) -> Way); 4] = [
        (instant.ball(), |toward, _| Way::Ball(toward)),
        (player, Way::Player),
        (Vec2::ZERO, |toward, _| Way::Rim(toward)),
        (midline, |toward, _| Way::Midline(toward)),
    ];
    let along = |target: Vec2| {
        let way = target - right;
        (way.length() >= 0.3).then(|| off.dot(way) / way.length())
    };
    let all = ways
        .into_iter()
        .filter_map(|(to, say)| Some((along(to)?, say)));
    let (along, say) = all.max_by(|a, b| a.0.abs().total_cmp(&b.0.abs()))?;
    Some(say(along > 0.0, guarded as u8 + 1))
}
