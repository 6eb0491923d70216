//! How a place is judged in the defenders' drill: how far off the model's place and which way, what that opens and what it
//! shuts, and why the model stands there: what a step off would open. What a place opens is measured by one function for
//! all, that of the handout (`why::step`), so that no verdict says another thing than its reason.

use super::drill::NOTHING;
use super::recording::Recording;
use crate::court::Vec2;
use crate::looks::BODIES;
use crate::sim::instant::Instant;
use crate::sim::parts::Play;
pub use crate::why::step::{Opens, STEP as WHY_STEP, WORTH_SAYING, Way};
use crate::why::step::{can_stand, opened_at, steps_off, way};

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
    /// Metres from the player who is guarded: at the learner's place, and at the right one.
    pub gap: (f64, f64),
    /// The fault; `None` if hardly any.
    pub fault: Option<Way>,
    /// What the learner's place opens, all others in place; nothing of a place that is right.
    pub left_open: Vec<Opens>,
    /// What the learner's place shuts: what the right place would open beside it.
    pub shut: Vec<Opens>,
    /// Does the learner's place leave less open on the whole than the right one? Then it is not worse.
    pub shuts_more: bool,
    /// Why the place is right: what a step off it opens.
    pub opens: Vec<Opens>,
    /// Points of a hundred, for the place alone; all of them where it shuts more.
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
    let right = in_place(recording, instant, who);
    // What is told is open on the floor that shows it.
    let floor = recording.looks_with(moment, moved);
    let open = |o: &Opens| floor.iter().any(|look| o.is_of(look) && look.open);
    who.iter()
        .map(|&d| {
            let put = moved[5 + d].unwrap_or(instant.old.scene.pos[5 + d]);
            let mut answer = judge_one(&recording.play, &mut right.clone(), d, put);
            answer.left_open.retain(open);
            answer.left_open.truncate(MOST);
            answer
        })
        .collect()
}

/// Measures where the learner put defender `d` (0–4) against where the instant has that defender.
fn judge_one(play: &Play, right: &mut Instant, d: usize, put: Vec2) -> Answer {
    let place = right.old.scene.pos[5 + d];
    let player = right.old.scene.pos[right.old.scene.guards[d]];
    let off = put.distance(place);
    let fault = (off >= NEAR).then(|| way(right, d, put));
    let few = |mut all: Vec<Opens>| {
        all.truncate(MOST);
        all
    };
    let opens = few(steps_off(play, right, d, 1, Opens::counts));
    let (mut left_open, mut shut) = (Vec::new(), Vec::new());
    if fault.is_some() {
        left_open = opened_at(play, right, d, put);
        right.old.scene.pos[5 + d] = put;
        shut = opened_at(play, right, d, place);
    }
    // Too far off it is no place for that duty, whatever it happens to shut.
    let shuts_more = off < NOTHING && worth(&shut) - worth(&left_open) > WORTH_SAYING;
    let score = if shuts_more { 1.0 } else { 1.0 - off / NOTHING };
    Answer {
        defender: d,
        right: place,
        put,
        off,
        gap: (put.distance(player), place.distance(player)),
        fault,
        left_open,
        shut: few(shut),
        shuts_more,
        opens,
        score: 100.0 * score.clamp(0.0, 1.0),
    }
}

/// What all of these are worth to a holder who goes by the rules, points.
fn worth(all: &[Opens]) -> f64 {
    let taken = all.iter().filter(|o| o.look.allowed);
    taken.map(Opens::gains).sum()
}

/// The instant with the defenders in `who` where the model has them.
fn in_place(recording: &Recording, instant: &Instant, who: &[usize]) -> Instant {
    let mut right = [None; BODIES];
    for &d in who {
        right[5 + d] = Some(instant.goal(&recording.play, d));
    }
    recording.instant_with(instant, &right)
}

/// Can everybody in `who` stand where the model has them at that moment: on nobody, and not behind the board?
pub fn can_be_asked(recording: &Recording, moment: usize, who: &[usize]) -> bool {
    let Some(instant) = recording.instants.get(moment) else {
        return false;
    };
    let right = in_place(recording, instant, who);
    let (court, pos) = (&recording.cast.court, &right.old.scene.pos);
    who.iter().all(|&d| can_stand(court, pos, d, pos[5 + d]))
}

/// How much a moment teaches: what a step off the right place of a defender in `who` opens at most of what the rules take,
/// points.
pub fn teaches(recording: &Recording, moment: usize, who: &[usize]) -> f64 {
    let Some(instant) = recording.instants.get(moment) else {
        return 0.0;
    };
    let mut right = in_place(recording, instant, who);
    let all = who
        .iter()
        .flat_map(|&d| steps_off(&recording.play, &mut right, d, 1, Opens::counts));
    let taken = all.filter(|o| o.look.allowed);
    taken.map(|o| o.gains()).fold(0.0, f64::max)
}
