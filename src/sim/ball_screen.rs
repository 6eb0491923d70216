//! Screens on the ball: on which side of the holder's defender they are set, when they are over, and the way off
//! them. The holder goes by the screener's outer shoulder, or away from a screen on whose side the defender already
//! is.

use crate::court::Vec2;

use super::clock::ticks;
use super::components::{Ball, BallState, Hold, Old, Screened};
use super::screens::guard_of;
use super::stance::unit;

/// The screener stands this far beside the holder's defender, metres: two radii and a hand's breadth; and counts as
/// there from this near (ours, as for screens off the ball).
const BESIDE: f64 = 0.68;
const THERE: f64 = 0.45;
/// A body nearer to his way than this, metres, stands in it (ours: past a farther one he slides).
const IN_THE_WAY: f64 = 0.5;
/// Nobody is screened while he runs faster than this, m/s, nor screened for while the holder does (ours).
const STILL: f64 = 1.2;
const HOLDER_STILL: f64 = 2.5;
/// Farther from the midline than this the holder is to get to the middle, metres (common practice: the middle is the
/// side from which he sees the floor).
const WIDE: f64 = 1.5;
/// A screener's defender this near to the ball, metres, has stepped out to it; and he is no nearer to the rim than the
/// screener by more than the second (ours).
const STEPPED_OUT: f64 = 1.7;
const LEVEL: f64 = 0.2;
/// A defender so far on the screen's side of the holder overplays it, metres (ours: his feet no longer straddle the
/// holder).
const OVERPLAYS: f64 = 0.5;
/// The holder passes the screener's middle at this distance, metres: shoulder to shoulder; and so much of that on
/// the near side (ours).
const SHOULDER: f64 = 0.8;
const NEAR_SIDE: f64 = 0.5;
/// Away from the screen he passes his defender's middle at this distance, metres (ours).
const ROUND_HIM: f64 = 0.9;
/// The screener stands for no longer than this, seconds, if the holder does not come (ours; common practice: "hold
/// it").
const HOLDS_IT: f64 = 1.9;
/// And for so long at least once the holder comes, seconds; after a hand-off so long (ours).
const STANDS: f64 = 0.2;
const STANDS_AFTER_IT: f64 = 0.6;

/// Across the holder's way to the rim: a unit vector.
fn across(holder: Vec2) -> Vec2 {
    let to_rim = unit(-holder);
    Vec2::new(-to_rim.y, to_rim.x)
}

/// On which hand of the holder `who` is to screen for him: toward the middle, be that a slot's holder who stands near
/// the midline; from the middle on the side from which he comes. A unit vector across the holder's way to the rim.
fn side(old: &Old, who: usize, holder: usize) -> Vec2 {
    let at = old.scene.pos[holder];
    let across = across(at);
    let guard = old.scene.pos[guard_of(old, holder)];
    let place = old.places[holder].and_then(|spot| spot.side);
    let toward = match place {
        _ if at.x.abs() > WIDE => Vec2::new(-at.x, 0.0),
        Some(side) => Vec2::new(-side.sign(), 0.0),
        None => old.scene.pos[who] - guard,
    };
    let hand = toward.dot(across);
    // On the line itself: to the weak side.
    let hand = if hand == 0.0 {
        -across.x * old.side.sign()
    } else {
        hand
    };
    across * hand.signum()
}

/// Where `who` is to stand, metres.
pub fn place(old: &Old, who: usize, holder: usize) -> Vec2 {
    old.scene.pos[guard_of(old, holder)] + side(old, who, holder) * BESIDE
}

/// Where `who` runs to get there, metres: round the holder's defender, on the rim's side, if that one is in the way.
pub fn makes_for(old: &Old, who: usize, holder: usize) -> Vec2 {
    let (pos, to) = (old.scene.pos[who], place(old, who, holder));
    let guard = old.scene.pos[guard_of(old, holder)];
    let off = to - pos;
    let way = unit(off);
    let ahead = (guard - pos).dot(way);
    let aside = (guard - pos).perp_dot(way).abs();
    if ahead <= 0.0 || ahead >= off.length() || aside >= IN_THE_WAY {
        return to;
    }
    let side = side(old, who, holder);
    guard + unit(unit(-old.scene.pos[holder]) + side) * ROUND_HIM
}

/// Does `who` stand there, and the two for and on whom he screens are slow enough?
pub fn there(old: &Old, who: usize, holder: usize) -> bool {
    let guard = guard_of(old, holder);
    let still =
        old.scene.vel[guard].length() < STILL && old.scene.vel[holder].length() < HOLDER_STILL;
    still && (old.scene.pos[who] - place(old, who, holder)).length() < THERE
}

/// Has the own defender of `who`, who comes to screen for the holder, stepped out to the ball already, and left the way
/// to the rim free?
pub fn is_left(old: &Old, who: usize, holder: usize) -> bool {
    let Some(d) = old.scene.guarded_by(who) else {
        return false;
    };
    let (guard, pos) = (old.scene.pos[5 + d], old.scene.pos[who]);
    let out = (guard - old.scene.pos[holder]).length() < STEPPED_OUT;
    out && guard.length() > pos.length() - LEVEL
}

/// Can nobody be screened for on the ball any more: has it gone on, or is it driven already?
pub fn has_gone_on(ball: &Ball, holder: usize) -> bool {
    match &ball.state {
        BallState::Held(hold) => hold.by != holder || hold.drive.is_some(),
        _ => ball.keeper() != Some(holder),
    }
}

/// Has the screener `who` stood for long enough, after so many ticks?
pub fn is_over(ball: &Ball, who: usize, holder: usize, stood: u32) -> bool {
    let hold = ball.hold().filter(|hold| hold.by == holder);
    let Some(hold) = hold else { return true };
    match hold.screened {
        Some(off) if off.by == who => {
            let comes = hold.drive.is_some_and(|drive| drive.via.is_some());
            let least = if hold.handed == Some(who) {
                STANDS_AFTER_IT
            } else {
                STANDS
            };
            stood >= ticks(HOLDS_IT) || !comes && stood >= ticks(least)
        }
        _ => stood >= ticks(HOLDS_IT),
    }
}

/// The way of holder `me` off the screen that is set for him, if there is one: what is known of it, and the point to
/// go by, metres.
pub fn way_off(old: &Old, me: usize, tick: u32) -> Option<(Screened, Vec2)> {
    old.ball_screen.map(|by| off(old, me, by, tick))
}

/// The same off `by`, who stands there.
pub fn off(old: &Old, me: usize, by: usize, tick: u32) -> (Screened, Vec2) {
    let pos = old.scene.pos[me];
    let across = across(pos);
    let (at, guard) = (old.scene.pos[by], old.scene.pos[guard_of(old, me)]);
    let hand = (at - guard).dot(across);
    let along = across
        * if hand == 0.0 {
            old.side.sign()
        } else {
            hand.signum()
        };
    let refuses = (guard - pos).dot(along) > OVERPLAYS;
    let via = if refuses {
        guard - along * ROUND_HIM
    } else {
        at + unit(along + unit(pos) * NEAR_SIDE) * SHOULDER
    };
    let off = Screened {
        by,
        tick,
        along,
        refuses,
    };
    (off, via)
}

/// The screen off which the ball was driven so few ticks ago, by its holder now.
pub fn lately(hold: &Hold, tick: u32, within: u32) -> Option<Screened> {
    hold.screened.filter(|off| tick < off.tick + within)
}

/// Does `who` roll off the screen that the ball is being driven off? The two go to the rim side by side.
pub fn rolls(ball: &Ball, who: usize) -> bool {
    let hold = ball.hold().filter(|hold| hold.drive.is_some());
    hold.is_some_and(|hold| hold.screened.is_some_and(|off| off.by == who))
}
