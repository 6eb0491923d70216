//! Screens off the ball: where the screener stands, how long he is waited for, and the cut off him.

use crate::court::{Court, Vec2};
use crate::model::Looks;
use crate::offence::CutLane;

use super::parts::{Ball, Doing, Old, Task, ticks};
use super::stance::unit;
use super::ways::{cut_line, lane_side};

/// A screener stands this far from the defender he screens, metres: two radii and a hand's breadth; and
/// counts as there from this much farther.
const GAP: f64 = 0.68;
const THERE: f64 = 0.35;
/// How much more he stands between defender and ball than on the side from which he comes (ours).
const BALL_SIDE_OF_HIM: f64 = 0.6;
/// He gives up when he has not got to the defender after this long, seconds (ours: time for a run from one
/// side of the floor to the other); there he stands this long, seconds.
pub const RUNS: f64 = 4.5;
const STANDS: f64 = 0.9;
/// But until his team-mate has gone by, for as long as this at most, seconds (ours; common practice: "hold it").
const HOLDS_IT: f64 = 1.9;
/// Whoever is to use a screen waits this long for a screener who is on his way, counted from when he is there himself,
/// and this long if none comes, seconds (ours).
const FOR_HIM: f64 = 5.0;
const FOR_NOBODY: f64 = 1.2;
/// Who cuts off a screen passes the screener's middle at this distance, metres: shoulder to shoulder.
const SHOULDER: f64 = 0.75;
/// Nearer than this to where he is to wait, metres, the user of a screen stands and waits; so long he takes
/// at most to come out to there, seconds (ours).
pub const NEAR: f64 = 1.8;
/// He comes out to there at this share of his top speed (ours).
pub const COMES_TO_WAIT: f64 = 0.9;
pub const COMES_OUT: f64 = 3.0;
/// A player of the perimeter who waits for nobody is screened for when he is so far from the ring, metres (ours).
const COME_OUT: f64 = 3.5;
/// A screener this near to his man does not leave the lane before he has screened him, metres (ours).
const STRIDES: f64 = 2.2;
/// Nobody is screened for while he, and no defender is screened while that one, runs faster than this, m/s
/// (ours: faster than feet shuffle in the stance); and nobody is a screen who moves faster than the second.
const STILL_COMING: f64 = 2.5;
const STILL_GOING: f64 = 1.2;
/// So far ahead he reckons where a team-mate or the defender runs, seconds; and so far before a running team-mate's place his
/// defender is expected, metres (ours).
const AHEAD: f64 = 0.5;
const BEFORE_HIM: f64 = 1.3;
/// Who waits beside the lane stands so far outside it, metres (ours: a body and a hand's breadth).
const BESIDE_THE_LANE: f64 = 0.4;
/// Of two ways that differ by less than this, metres, he takes the one on the ball side (ours).
const STRAIGHT: f64 = 0.25;
/// By a screen that is longer than straight to the rim by more than this, metres, nobody runs (ours).
const OFF_HIS_WAY: f64 = 1.2;
/// A way past the screener on which the defender stands, nearer than this, counts as longer by so much,
/// metres (ours).
const FREE_OF_HIM: f64 = 0.7;
const DETOUR: f64 = 1.5;

/// Who is in front of a screen is no farther beyond its shoulder, nor beside the way to it, than this, metres (ours).
const AHEAD_OF_IT: f64 = 0.4;
const IN_FRONT: f64 = 0.6;
/// Who has gone under a screen is so far past the screener's middle, and no farther on the user's side of it than the
/// second, metres (ours).
const GONE_BY: f64 = 0.0;
const UNDER: f64 = 0.2;
/// A defender who comes so far behind the user of a screen, and no farther than the second, chases, metres (ours).
const BEHIND_HIM: f64 = 0.3;
const LOST: f64 = 2.5;

/// The defender of `whom` (`whom` himself, if nobody guards him), by his number among the ten.
pub fn guard_of(old: &Old, whom: usize) -> usize {
    old.scene.guarded_by(whom).map_or(whom, |d| 5 + d)
}

/// Does `who` stand at the defender of `whom`? (Who still runs has set no screen.)
pub fn there(old: &Old, who: usize, whom: usize) -> bool {
    reaches(old, who, whom) && old.scene.vel[who].length() < STILL_GOING
}

/// Has `who` come to the defender of `whom`, and can stop for the screen? From then on it is for the defender to move:
/// a screener who goes after one who shuffles on pushes him about, and never stands.
pub fn reaches(old: &Old, who: usize, whom: usize) -> bool {
    let guard = guard_of(old, whom);
    let slow = |i: usize| old.scene.vel[i].length() < STILL_COMING;
    let near = (old.scene.pos[who] - old.scene.pos[guard]).length() < GAP + THERE;
    is_out(old, whom) && slow(whom) && slow(guard) && near
}

/// Has `whom` come to where he is to be screened for?
pub fn is_out(old: &Old, whom: usize) -> bool {
    match old.waits[whom] {
        // He has come to where he waits, be that on the block.
        Some(at) => (old.scene.pos[whom] - at).length() < NEAR,
        // Whose place is outside has come out from under the rim.
        None => {
            let outside = old.places[whom].is_some_and(|s| s.name.is_perimeter());
            !outside || old.scene.pos[whom].length() > COME_OUT
        }
    }
}

/// Is `who` a stride or two from the defender of `whom`, or beside him?
pub fn near(old: &Old, who: usize, whom: usize) -> bool {
    (old.scene.pos[who] - old.scene.pos[guard_of(old, whom)]).length() < STRIDES
}

/// Is the screen of `of`, for which `who` waits, set, or a stride or two away?
pub fn is_coming(old: &Old, who: usize, of: usize) -> bool {
    old.screening[of] == Some(who) && near(old, of, who)
}

/// Is the screen that `who` waits for, or is to set for one who waits, a stride or two away?
pub fn is_a_stride_away(old: &Old, who: usize, task: &Task) -> bool {
    match *task {
        Task::UseScreen { of, .. } => is_coming(old, who, of),
        Task::Screen {
            whom,
            on_ball: false,
            ..
        } => old.waits[whom].is_some() && is_out(old, whom) && near(old, who, whom),
        _ => false,
    }
}

/// Who has stood for so many ticks screening for `whom`: is he done?
pub fn stands_no_more(old: &Old, whom: usize, stood: u32) -> bool {
    let comes = matches!(
        old.doing[whom],
        Doing::Cutting {
            via: Some(_),
            arrived: false,
            ..
        }
    );
    stood >= ticks(if comes { HOLDS_IT } else { STANDS })
}

/// Where `who` makes for to screen for `whom`, metres: where he is to stand, but nobody waits in the lane. Until his
/// team-mate has come to where he uses the screen he is beside it.
pub fn makes_for(court: &Court, old: &Old, ball: Vec2, who: usize, whom: usize) -> Vec2 {
    let to = place(old, ball, who, whom);
    if is_out(old, whom) || !court.in_lane(to) {
        return to;
    }
    let pos = old.scene.pos[who];
    if court.in_lane(pos) {
        return lane_side(&old.scene, who, pos, court);
    }
    // As far as the lane's edge.
    let half = court.lane_width * 0.5 + BESIDE_THE_LANE;
    let side = if pos.x < 0.0 { -half } else { half };
    if pos.x.abs() > half {
        Vec2::new(
            side,
            pos.y + (to.y - pos.y) * (pos.x - side) / (pos.x - to.x),
        )
    } else {
        pos
    }
}

/// Where `who` is to stand for `whom`, metres: on the side from which he comes, rather between the defender
/// and the ball. Whoever runs out to his place first has his defender come after him: he is met there.
pub fn place(old: &Old, ball: Vec2, who: usize, whom: usize) -> Vec2 {
    let (mate, comes) = (old.scene.pos[whom], old.scene.vel[whom]);
    let before = |at: Vec2| at + unit(unit(-at) + unit(ball - at) * BALL_SIDE_OF_HIM) * BEFORE_HIM;
    // Where he is to wait outside he is waited for: in the lane three seconds would run.
    let waits = old.waits[whom].filter(|at| at.length() > COME_OUT && !is_out(old, whom));
    if let Some(at) = waits {
        return before(at);
    }
    if comes.length() > STILL_COMING {
        return before(mate + comes * AHEAD);
    }
    // A defender who runs is met where he will be: who makes for where he is only comes after him.
    let guard = guard_of(old, whom);
    let (at, runs) = (old.scene.pos[guard], old.scene.vel[guard]);
    // One who comes back to his man from afar is waited for, by his man or where he comes by: who runs to meet him only
    // crosses his way, and who goes back before him never stands.
    let back = mate - at;
    let comes_back = back.length() > LOST && runs.dot(unit(back)) > STILL_GOING;
    if comes_back && old.waits[whom].is_some() {
        let here = near(old, who, whom);
        return if here {
            old.scene.pos[who]
        } else {
            before(mate)
        };
    }
    let ahead = if runs.length() < STILL_GOING {
        0.0
    } else {
        AHEAD
    };
    let guard = at + runs * ahead;
    let way = unit(old.scene.pos[who] - guard) + unit(ball - guard) * BALL_SIDE_OF_HIM;
    guard + unit(way) * GAP
}

/// Ticks that the user of a screen waits for it.
pub fn waits(comes: bool) -> u32 {
    ticks(if comes { FOR_HIM } else { FOR_NOBODY })
}

/// The line of a cut off a screen: past that shoulder of the screener which is the shorter way to the rim and
/// free of the defender. A place to go by, and where the cut ends, metres.
pub fn line_off(
    looks: &Looks,
    old: &Old,
    ball: &Ball,
    who: usize,
    screener: usize,
) -> (Option<Vec2>, Vec2) {
    let pos = old.scene.pos[who];
    let plain = cut_line(looks, old, ball, who, CutLane::BallSide);
    let goal = plain.1;
    let to_rim = unit(-pos);
    let across = Vec2::new(-to_rim.y, to_rim.x);
    let at = old.scene.pos[screener];
    let guard = old.scene.pos[guard_of(old, who)];
    let ball_hand = (ball.pos - pos).dot(across);
    let by = |hand: f64| at + across * (SHOULDER * hand);
    let way = |hand: f64| {
        let around = by(hand);
        let blocked = if (around - guard).length() < FREE_OF_HIM {
            DETOUR
        } else {
            0.0
        };
        (around - pos).length() + (goal - around).length() + blocked
    };
    let (left, right) = (way(1.0), way(-1.0));
    // Set far from his way, where his man sags: he cuts straight.
    if left.min(right) > (goal - pos).length() + OFF_HIS_WAY {
        return plain;
    }
    let hand = if (left - right).abs() < STRAIGHT {
        ball_hand.signum()
    } else if left < right {
        1.0
    } else {
        -1.0
    };
    (Some(by(hand)), goal)
}

/// That shoulder of the screener on whose side the defender of `who` is not, across the way to `goal`, metres.
pub fn shoulder(old: &Old, who: usize, screener: usize, goal: Vec2) -> Vec2 {
    let (pos, at) = (old.scene.pos[who], old.scene.pos[screener]);
    let way = unit(goal - pos);
    let across = Vec2::new(-way.y, way.x);
    let by = |hand: f64| at + across * (SHOULDER * hand);
    let guard = old.scene.pos[guard_of(old, who)];
    let free = -(guard - at).dot(across);
    by(if free < 0.0 { -1.0 } else { 1.0 })
}

/// On the other side of the screener than the user came from, metres: there a curl turns to the rim.
pub fn round_it(old: &Old, screener: usize, from: Vec2) -> Vec2 {
    let at = old.scene.pos[screener];
    at + unit(at - from) * SHOULDER
}

/// Has the defender of `who` come to the screener's shoulder `by`?
pub fn is_shut(old: &Old, who: usize, by: Vec2) -> bool {
    (old.scene.pos[guard_of(old, who)] - by).length() < FREE_OF_HIM
}

/// Is the defender of `who` in front of the screen already: on the way to its shoulder `by`, or beyond it?
pub fn is_overplayed(old: &Old, who: usize, by: Vec2) -> bool {
    let way = (by - old.scene.pos[who]).length();
    let (ahead, off) = guard_on_the_way(old, who, by);
    ahead > BEHIND_HIM && ahead < way + AHEAD_OF_IT && off < IN_FRONT
}

/// Has the defender of `who` gone under the screener `of`: on the other side than the shoulder `by`, and past it on the
/// way to `goal`?
pub fn is_cheated_under(old: &Old, who: usize, of: usize, (by, goal): (Vec2, Vec2)) -> bool {
    let at = old.scene.pos[of];
    let off = old.scene.pos[guard_of(old, who)] - at;
    let under = off.dot(unit(by - at)) < UNDER;
    under && off.dot(unit(goal - at)) > GONE_BY && off.length() < LOST
}

/// Does the defender of `who` come behind on the way to `goal`, and near?
pub fn is_chased(old: &Old, who: usize, goal: Vec2) -> bool {
    let (ahead, off) = guard_on_the_way(old, who, goal);
    ahead < -BEHIND_HIM && ahead > -LOST && off < LOST
}

/// How far the defender of `who` is ahead on the way to `goal`, and off it, metres.
pub fn guard_on_the_way(old: &Old, who: usize, goal: Vec2) -> (f64, f64) {
    let pos = old.scene.pos[who];
    let way = unit(goal - pos);
    let guard = old.scene.pos[guard_of(old, who)] - pos;
    let ahead = guard.dot(way);
    (ahead, (guard - way * ahead).length())
}
