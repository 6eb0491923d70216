//! Defenders against a man on the run.
//!
//! A defender runs beside a cutter on the way to the rim, gives a driver ground instead of stepping up,
//! and lets a man who runs elsewhere pass before following.

use crate::court::Vec2;

use super::defenders::{AT_THE_RIM, unit};

/// A man on the run to the rim is run with, not stood in front of: a place ahead of him is turned to
/// his side, the ball's side. Where he is going is no secret, so it is his way to the rim that is run,
/// not every turn of his. Whoever runs elsewhere has his defender between him and the rim.
///
/// The place, and the velocity with which it moves.
pub(super) fn beside(
    target: Vec2,
    man: Vec2,
    vel: Vec2,
    ball: Vec2,
    hand: f64,
) -> Option<(Vec2, Vec2)> {
    let speed = vel.length();
    let off = target - man;
    let gap = off.length();
    if speed < 1.5 || !(1e-6..=2.0).contains(&gap) {
        return None;
    }
    let along = vel / speed;
    if off.dot(along) < 0.5 * gap || along.dot(unit(-man)) < TO_THE_RIM {
        return None;
    }
    let along = unit(along + unit(-man));
    let mut across = Vec2::new(-along.y, along.x);
    let toward_ball = across.dot(ball - man);
    // With the ball still seen in his hands: the middle of the floor's side; on the midline either.
    let off_middle = if man.x == 0.0 { hand } else { man.x };
    let middle = -across.x * off_middle;
    if toward_ball < 0.0 || toward_ball == 0.0 && middle < 0.0 {
        across = -across;
    }
    let place = man + across * SHOULDER + along * AHEAD;
    Some((place, along * (speed * under_control(man))))
}

/// Is he on his way in to the rim?
pub(super) fn going_in(man: Vec2, vel: Vec2) -> bool {
    vel.dot(unit(-man)) > TO_THE_RIM * vel.length().max(1e-9)
}

/// A man who runs elsewhere is let by and then followed: from so near in front of him, and to the side of his line,
/// a defender steps out of it, metres, if he runs faster than this, m/s; and he gives way this much more than his man
/// (ours).
const IN_HIS_WAY: (f64, f64) = (1.3, 0.65);
const RUNS_BY: f64 = 1.5;
pub(super) const LETS_HIM_BY: f64 = 4.0;

/// Beside the line of a man who runs up to him, on the side where he is.
pub(super) fn out_of_his_way(me: Vec2, man: Vec2, vel: Vec2) -> Option<Vec2> {
    let speed = vel.length();
    if speed < RUNS_BY {
        return None;
    }
    let along = vel / speed;
    let across = Vec2::new(-along.y, along.x);
    let (ahead, side) = ((me - man).dot(along), (me - man).dot(across));
    let meets = 0.0 < ahead && ahead < IN_HIS_WAY.0 && side.abs() < IN_HIS_WAY.1;
    meets.then(|| me + across * (IN_HIS_WAY.1 + 0.1 - side.abs()).copysign(side))
}

/// The share of a cutter's speed with which his defender goes along, the cutter being at `man`.
pub(super) fn under_control(man: Vec2) -> f64 {
    (man.length() / AT_THE_RIM).min(1.0)
}

/// He runs this far to the side of a cutter and ahead of him, metres (ours: shoulder to shoulder, half a
/// step in front).
const SHOULDER: f64 = 0.65;
const AHEAD: f64 = 0.35;
/// Cosine of the angle to the line to the rim within which a run is one to the rim (ours: 50°).
const TO_THE_RIM: f64 = 0.64;

/// Nearer than the first he is up on a driver, and from farther than the second he does come up to him, metres
/// (ours; common practice).
const UP_ON_HIM: f64 = 0.75;
const CUSHION: f64 = 2.0;

/// Where to meet a driver: ahead of him, between him and the rim, as soon as he can be headed off.
pub(super) fn cut_off(me: Vec2, man: Vec2, vel: Vec2, top: f64) -> Vec2 {
    let to_rim = unit(-man);
    let ahead_of_him = me.length() < man.length() - 0.1;
    if ahead_of_him {
        // He gives ground and does not step up to who comes at him.
        let lead = man + vel * 0.3;
        lead + to_rim * (lead - me).length().clamp(UP_ON_HIM, CUSHION)
    } else {
        // Beaten: run to the rim side of where he will be.
        let gap = (man - me).length();
        let t = (gap / top.max(1.0) + 0.3).min(0.9);
        let lead = man + vel * t;
        lead + to_rim * 0.5
    }
}
