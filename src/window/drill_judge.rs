//! How a place is judged in the defenders' drill: how far off the model's place and which way, what that opens, and why
//! the model stands there: what a step off would open. What a place opens is measured by one function for both, that of
//! the handout (`why::step`), so that no verdict says another thing than its reason.

use super::drill::NOTHING;
use super::recording::Recording;
use super::words::drills as words;
use crate::court::Vec2;
use crate::looks::BODIES;
use crate::sim::instant::Instant;
pub use crate::why::step::{Opens, STEP as WHY_STEP, WORTH_SAYING, Way};
use crate::why::step::{opened_at, steps_off, way};

/// As a fault: "too near to the ball".
pub fn fault(way: Way) -> String {
    let near = |toward: bool| {
        if toward {
            words::TOO_NEAR_TO
        } else {
            words::TOO_FAR_FROM
        }
    };
    match way {
        Way::Ball(toward) => words::the_ball(&near(toward)),
        Way::Player(toward, who) => format!("{} {who}", near(toward)),
        Way::Rim(true) => words::TOO_DEEP_TOWARD_THE.into(),
        Way::Rim(false) => words::TOO_HIGH_AWAY_FROM.into(),
        Way::Midline(true) => words::TOO_FAR_TOWARD_THE.into(),
        Way::Midline(false) => words::TOO_FAR_FROM_THE.into(),
        Way::Across => words::PAST_THE_MIDLINE_ON.into(),
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
    /// What the learner's place opens, all others in place.
    pub left_open: Vec<Opens>,
    /// Why the place is right: what a step off it opens.
    pub opens: Vec<Opens>,
    /// Points of a hundred, for the place alone.
    pub score: f64,
}

/// Less than this off is right, metres: half a step.
const NEAR: f64 = 0.5;
/// So many looks are told of.
const MOST: usize = 3;

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
    let mut right = in_place(recording, instant, who);
    let play = &recording.play;
    who.iter()
        .map(|&d| {
            let place = right.old.scene.pos[5 + d];
            let put = moved[5 + d].unwrap_or(instant.old.scene.pos[5 + d]);
            let off = (put - place).length();
            let few = |mut all: Vec<Opens>| {
                all.truncate(MOST);
                all
            };
            Answer {
                defender: d,
                right: place,
                put,
                off,
                fault: (off >= NEAR).then(|| way(&right, d, put)),
                left_open: few(opened_at(play, &mut right, d, put)),
                opens: few(steps_off(play, &mut right, d, 1)),
                score: 100.0 * (1.0 - off / NOTHING).clamp(0.0, 1.0),
            }
        })
        .collect()
}

/// The instant with the defenders in `who` where the model has them.
fn in_place(recording: &Recording, instant: &Instant, who: &[usize]) -> Instant {
    let mut right = [None; BODIES];
    for &d in who {
        right[5 + d] = Some(instant.goal(&recording.play, d));
    }
    recording.instant_with(instant, &right)
}

/// How much a moment teaches: what a step off the right place of a defender in `who` opens at most, points.
pub fn teaches(recording: &Recording, moment: usize, who: &[usize]) -> f64 {
    let Some(instant) = recording.instants.get(moment) else {
        return 0.0;
    };
    let mut right = in_place(recording, instant, who);
    let all = who
        .iter()
        .flat_map(|&d| steps_off(&recording.play, &mut right, d, 1));
    all.map(|o| o.gains()).fold(0.0, f64::max)
}
