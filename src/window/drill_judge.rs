//! How a place is judged in the defenders' drill: how far off the model's place and which way, what it leaves open,
//! and why the model stands there: what a step off would open.

use super::drill::NOTHING;
use super::recording::Recording;
use crate::court::Vec2;
use crate::looks::BODIES;
use crate::possession::LookNow;
use crate::sim::instant::Instant;

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
    /// How he erred: "too near to the ball", …; empty if hardly at all.
    pub toward: &'static str,
    /// Looks that are open with him there and shut with him in his place.
    pub left_open: Vec<LookNow>,
    /// Why he stands in his place: what a step off it would open most.
    pub step: Option<Opens>,
    /// Points of a hundred.
    pub score: f64,
}

/// What a step off the model's place opens.
#[derive(Clone, Debug, PartialEq)]
pub struct Opens {
    /// Where the step leads: "too near to the ball", …
    pub toward: &'static str,
    /// The look that gains most by it, as it is then.
    pub look: LookNow,
    /// How open this look is with him in his place, and what it is worth, points.
    pub before: (f64, f64),
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
    let mut right = [None; BODIES];
    for &d in who {
        right[5 + d] = Some(instant.own_place(&recording.play, d));
    }
    let open_then = recording.looks_with(moment, &right);
    who.iter()
        .map(|&d| {
            let place = instant.own_place(&recording.play, d);
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
                toward: erred(instant, d, place, put),
                left_open,
                step: step_off(recording, moment, d, &right, &open_then),
                score: 100.0 * (1.0 - off / NOTHING).clamp(0.0, 1.0),
            }
        })
        .collect()
}

/// Less than this off is right, metres: a step.
const A_STEP: f64 = 0.5;

/// A step that shows why he stands where he stands, metres (ours).
pub const WHY_STEP: f64 = 1.0;
/// A step that opens less than this, points, is not worth a word (ours).
pub const WORTH_SAYING: f64 = 0.03;

/// That look among `looks` which is the same as `look`: of one kind, to one player.
fn same<'a>(looks: &'a [LookNow], look: &LookNow) -> Option<&'a LookNow> {
    looks
        .iter()
        .find(|o| o.kind == look.kind && o.to == look.to)
}

/// What a step off his place, in any of eight directions, opens most; `None` if hardly anything. `before`: the looks
/// with all who are asked about in their places, `right`.
fn step_off(
    recording: &Recording,
    moment: usize,
    d: usize,
    right: &[Option<Vec2>; BODIES],
    before: &[LookNow],
) -> Option<Opens> {
    let instant = &recording.instants[moment];
    let place = instant.own_place(&recording.play, d);
    let mut best: Option<(f64, Opens)> = None;
    for turn in 0..8 {
        let angle = f64::from(turn) * std::f64::consts::FRAC_PI_4;
        let put = place + Vec2::new(libm::cos(angle), libm::sin(angle)) * WHY_STEP;
        let mut moved = *right;
        moved[5 + d] = Some(put);
        for look in recording.looks_with(moment, &moved) {
            let was = same(before, &look).map_or((0.0, 0.0), |o| (o.openness, o.value));
            let gains = look.value - was.1;
            if best.as_ref().is_none_or(|(most, _)| gains > *most) {
                let toward = erred(instant, d, place, put);
                best = Some((
                    gains,
                    Opens {
                        toward,
                        look,
                        before: was,
                    },
                ));
            }
        }
    }
    best.filter(|(gains, _)| *gains > WORTH_SAYING)
        .map(|(_, opens)| opens)
}

/// Toward which of ball, man, rim and midline (or away from which) the learner erred.
pub(super) fn erred(instant: &Instant, d: usize, right: Vec2, put: Vec2) -> &'static str {
    let error = put - right;
    if error.length() < A_STEP {
        return "";
    }
    let man = instant.old.scene.pos[instant.old.scene.guards[d]];
    let midline = Vec2::new(0.0, right.y);
    let mut best = ("", 0.0);
    for (target, toward, away) in [
        (
            instant.ball(),
            "too near to the ball",
            "too far from the ball",
        ),
        (man, "too near to his man", "too far from his man"),
        (
            Vec2::ZERO,
            "too deep, toward the rim",
            "too high, away from the rim",
        ),
        (
            midline,
            "too far toward the midline",
            "too far from the midline",
        ),
    ] {
        let way = target - right;
        let length = way.length();
        if length < 0.3 {
            continue;
        }
        let along = error.dot(way) / length;
        if along.abs() > best.1 {
            best = (if along > 0.0 { toward } else { away }, along.abs());
        }
    }
    let past = put.x * right.x < 0.0 && put.x.abs() > A_STEP;
    if past && right.x.abs() > A_STEP {
        return "past the midline, on the wrong side";
    }
    best.0
}
