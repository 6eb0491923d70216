//! The holder's choice among the looks: what the holder sees, how good each look seems, and what the
//! holder waits for.
//!
//! Without a rule: a holder near the rim with nobody in between goes and scores; a holder who is left
//! open shoots sooner; a driver drives for a moment before looking for a pass; nobody drives into a
//! team-mate's cut; a player who flashes or seals and is open is fed before the ball moves on; and the
//! holder waits for a team-mate who is about to flash or to cut off a screen.

use crate::court::Spot;
use crate::looks::driving::in_strip;
use crate::offence::LookKind;
use crate::possession::{Ballwork, LookNow};

use super::dice::Purpose;
use super::holder::{PRESSED_PASS, SAFE_PASS};
use super::parts::*;
use super::sight::{DRIVES_FROM, at_the_rim, scoring};

/// Looks whose values differ by less than this (points) are told apart by the order of reading.
const TIE: f64 = 0.05;

/// After a catch the ball is held for at least this long, seconds, so that the defender has to respect a
/// shot, a drive and a pass alike (common practice).
const THREAT: f64 = 0.4;

/// Share of the error of judgement that is left when a player judges his own shot (ours).
const OWN_SHOT: f64 = 0.4;

/// A feed inside is thrown only when it is this open (ours).
const FEED_OPEN: f64 = 0.75;

/// A team-mate as open as this beside the rim catches the eye: this share of the chance to overlook him
/// is left (ours).
const CATCHES_THE_EYE: f64 = 0.85;
const STILL_OVERLOOKED: f64 = 0.4;

/// Whoever holds the ball this near to the ring, metres, turns and shoots a shot worth this share of a
/// possession rather than throw it back out (ours; common practice: close to the rim, finish).
const UNDER_THE_RIM: f64 = 3.0;
const GOES_TO_WORK: f64 = 0.75;

/// This near to the ring with nobody between him and it, metres, he goes and scores (common practice); a
/// body this far to the side of the line to the ring is not between, metres (ours).
const GOES_AND_SCORES: f64 = 4.0;
const BETWEEN: f64 = 1.0;
/// Nearer to the ring than this, metres, he feeds a team-mate only who promises this much more, points (ours).
const AT_THE_RING: f64 = 2.0;
const MUCH_BETTER: f64 = 0.25;

/// With the nearest defender as far as the first, metres, an open shot is taken sooner; as far as the second
/// no patience but this share is left (ours; common practice: unguarded, shoot).
const LEFT_OPEN: (f64, f64) = (2.8, 4.2);
const STILL_PATIENT: f64 = 0.2;

/// Nobody kicks it out farther than the first, feeds the post from farther than the second (common practice:
/// from the ball side), or throws to a team-mate nearer than the third, metres (ours).
const LONGEST_KICK_OUT: f64 = 8.0;
const LONGEST_FEED: f64 = 6.5;
const SHORTEST: f64 = 1.3;

/// A driver looks for a pass when his lane is no more open than this; from two steps away, metres, only when
/// it is as good as shut (ours).
const PULLS_OUT: f64 = 0.45;
const TWO_STEPS: f64 = 3.5;
const COMMITTED: f64 = 0.04;

/// Once he has put it on the floor a driver goes for so long before he thinks of a pass, unless he is
/// stopped, seconds (ours; common practice: on a drive the shot comes first).
const DRIVES_FOR: f64 = 0.9;

/// His error about how open a pass is, over his error about values in points (ours).
const MISJUDGES: f64 = 1.2;

/// In the lane for so long he is pressed, and for so long he takes what there is, seconds (ours; the rule: three).
const LANE_PRESSES: (f64, f64) = (1.4, 2.1);

/// Inside a holder looks for no longer than this before he moves the ball on or goes to work, and near the ring
/// takes what there is after as long as the second, seconds (ours).
const INSIDE_HE_LOOKS: f64 = 1.4;
const STUCK_UNDER_IT: f64 = 2.6;

/// For a team-mate who is about to flash, or to cut off a screen, he waits so much longer, seconds (ours).
const WAITS_FOR_HIM: f64 = 4.0;

/// So long after he would have moved the ball on a holder asks no more of a pass than when pressed, seconds (ours).
const GETS_IMPATIENT: f64 = 1.6;

/// Will a team-mate be in the way of a drive that starts now? A driver needs a lane free of the own team (common
/// practice: no drive starts while a cutter is still in the lane). Where everybody is going is public.
fn lane_is_taken(play: &Play, old: &Old, me: usize) -> bool {
    let model = &play.cast.model.movement;
    let from = old.scene.pos[me];
    let far = from.length();
    let to_rim = -from / far.max(1e-6);
    (0..5).filter(|&i| i != me).any(|i| {
        let (pos, vel) = (old.scene.pos[i], old.scene.vel[i]);
        let goal = match old.doing[i] {
            Doing::Cutting {
                goal,
                arrived: false,
                ..
            } => Some(goal),
            _ => old.stops[i],
        };
        (2..=DRIVE_STEPS).any(|step| {
            let time = DRIVE_STEP * f64::from(step);
            let made = model.plan_drive_speed * (time - model.plan_start);
            let driver = from + to_rim * made.clamp(0.0, (far - TAKES_OFF).max(0.0));
            let mate = match goal {
                Some(goal) => {
                    let way = goal - pos;
                    let speed = vel.length().max(model.plan_run_speed);
                    pos + way * (speed * time / way.length().max(1e-6)).min(1.0)
                }
                None => pos + vel * time.min(model.plan_start * 2.0),
            };
            driver.length() < COUNTS_WITHIN
                && (mate - driver).length() < model.avoid_driver_distance
        })
    })
}

/// Steps of the look ahead, and their length, seconds.
const DRIVE_STEPS: u32 = 14;
const DRIVE_STEP: f64 = 0.1;
/// A drive ends this far from the ring, and mates count from this near on, metres.
const TAKES_OFF: f64 = 1.0;
const COUNTS_WITHIN: f64 = 5.0;

/// How good a look must be now, points.
///
/// A look at the rim has to beat the team's usual possession; a shot from outside also what patience
/// (`choosy`, points) asks early on (ours).
fn bar(play: &Play, clock: &Clock, choosy: f64) -> f64 {
    let left = clock.left();
    let early = (left / (f64::from(clock.limit) * crate::possession::TICK)).clamp(0.0, 1.0);
    let press = (left / 7.0).clamp(0.05, 1.0);
    (play.usual + choosy * early) * press
}

#[allow(clippy::too_many_arguments)]
pub(super) fn choose(
    play: &Play,
    clock: &Clock,
    old: &Old,
    hold: &Hold,
    here: Spot,
    (held, in_lane): (f64, f64),
    looks: &[LookNow],
    on_ball: f64,
) -> Option<usize> {
    let me = hold.by;
    let player = &play.cast.players[me];
    let clean = play.scenario.drill.clean;
    let judgement = &player.judgement;
    let reading = &play.scenario.offence.reading;
    let facing = old.scene.facing[me];
    let mut noise = play.dice.at(Purpose::Judge, me, hold.since);
    // What he has overlooked he goes on overlooking for a second.
    let mut notice = play
        .dice
        .at(Purpose::Notice, me, clock.tick - clock.tick % 25);
    let mut order = play.dice.at(Purpose::Patience, me, hold.since);
    let mut seen: [(f64, bool); 6] = [(0.0, false); 6];
    // How open each look seems to him.
    let mut seems = [0.0; 6];
    let starts = hold.work != Ballwork::Driving && !clean;
    for (i, look) in looks.iter().enumerate().take(6) {
        let (error, luck) = (noise.normal() * judgement.value_error, notice.unit());
        let in_view = look.to.is_none_or(|to| {
            let way = old.scene.pos[usize::from(to) - 1] - old.scene.pos[me];
            let cos = way.dot(facing) / way.length().max(1e-6);
            cos > libm::cos(judgement.half_view)
        });
        let out_of_range = look.to.is_some_and(|to| {
            let way = (old.scene.pos[usize::from(to) - 1] - old.scene.pos[me]).length();
            let longest = match look.kind {
                LookKind::KickOut => LONGEST_KICK_OUT,
                LookKind::Post => LONGEST_FEED,
                _ => f64::INFINITY,
            };
            !clean && (way < SHORTEST || way > longest)
        });
        let screens = look
            .to
            .is_some_and(|to| old.screening[usize::from(to) - 1].is_some());
        let obvious = look.openness > CATCHES_THE_EYE && at_the_rim(look.kind);
        let overlooks = (1.0 - judgement.notices) * if obvious { STILL_OVERLOOKED } else { 1.0 };
        let sees = clean || (in_view && luck >= overlooks) || look.to.is_none();
        // He knows his own shot better than what a team-mate can do.
        let knows = if look.kind == LookKind::Shot {
            OWN_SHOT
        } else {
            1.0
        };
        let value = if clean {
            look.value
        } else {
            look.value + error * knows
        };
        // Nobody drives who dribbles at a team-mate, nor into a lane that a team-mate takes.
        let taken = || starts && look.allowed && lane_is_taken(play, old, me);
        let busy = look.kind == LookKind::Drive && (hold.at_mate.is_some() || taken());
        seen[i] = (
            value,
            sees && look.allowed && !out_of_range && !busy && (clean || !screens),
        );
        let error = if clean || look.to.is_none() {
            0.0
        } else {
            noise.normal() * judgement.value_error * MISJUDGES
        };
        seems[i] = look.openness + error;
    }
    let rank = |kind: LookKind| {
        reading
            .iter()
            .position(|&k| k == kind)
            .unwrap_or(usize::MAX)
    };
    let best = |ok: &dyn Fn(usize) -> bool| -> Option<usize> {
        let mut found: Option<usize> = None;
        for i in 0..looks.len().min(6) {
            if !seen[i].1 || !ok(i) {
                continue;
            }
            found = Some(match found {
                None => i,
                Some(j) => {
                    let tie = (seen[i].0 - seen[j].0).abs() < TIE;
                    let (new, old) = (rank(looks[i].kind), rank(looks[j].kind));
                    let better = if tie && new != old {
                        new < old
                    } else {
                        seen[i].0 > seen[j].0
                    };
                    if better { i } else { j }
                }
            });
        }
        found
    };
    let choosy = play.scenario.offence.patience.choosy;
    let room = old.scene.nearest_defender(old.scene.pos[me]).0;
    let left_open = ((room - LEFT_OPEN.0) / (LEFT_OPEN.1 - LEFT_OPEN.0)).clamp(0.0, 1.0);
    let levels = [bar(play, clock, 0.0), bar(play, clock, choosy)];
    let own_shot = bar(
        play,
        clock,
        choosy * (1.0 - (1.0 - STILL_PATIENT) * left_open),
    );
    let outside_now = old.scene.pos[me].length() > 3.0;
    let level_of = |kind: LookKind| {
        let outside = match kind {
            LookKind::Shot if outside_now => return own_shot,
            LookKind::NextPass | LookKind::Skip | LookKind::KickOut => true,
            _ => false,
        };
        levels[usize::from(outside)]
    };
    let level = levels[0];
    let distance = old.scene.pos[me].length();
    // Nobody stands between him and the ring, his own defender neither.
    let free = (0..5).all(|d| !in_strip(&old.scene, me, BETWEEN, d));
    let scores = !clean && distance < GOES_AND_SCORES && free;
    match hold.work {
        Ballwork::Driving => {
            let lane = looks[1].openness;
            if distance < 1.9 {
                return best(&|i| {
                    matches!(looks[i].kind, LookKind::Shot)
                        || (looks[i].kind == LookKind::DropOff && looks[i].value > looks[0].value)
                });
            }
            let stopping = hold.drive.is_some_and(|d| d.stuck > 2);
            let just_begun = hold
                .drive
                .is_some_and(|d| clock.tick < d.began + ticks(DRIVES_FOR));
            if just_begun && !stopping && !clean {
                return None;
            }
            let shut = if distance < TWO_STEPS {
                COMMITTED
            } else {
                PULLS_OUT
            };
            if lane < shut && !scores || stopping {
                let need = if stopping { 0.9 * play.usual } else { level };
                let pass = best(&|i| match looks[i].kind {
                    LookKind::DropOff | LookKind::Backdoor | LookKind::GiveAndGo => {
                        seen[i].0 >= need && seems[i] > 0.6
                    }
                    LookKind::KickOut => {
                        seems[i] > 0.75
                            && (looks[i].prize > play.usual || lane < 0.2)
                            && seen[i].0 >= 0.8 * play.usual
                    }
                    LookKind::Shot => distance < 4.5 && seen[i].0 >= level,
                    _ => false,
                });
                if pass.is_some() {
                    return pass;
                }
            }
            None
        }
        Ballwork::PickedUp => {
            let waited = hold
                .picked_up
                .map_or(0.0, |t| f64::from(clock.tick - t) * crate::possession::TICK);
            let need = if waited > 2.0 {
                0.0
            } else {
                play.usual * (0.9 - 0.3 * waited)
            };
            if scores {
                return Some(0);
            }
            best(&|i| looks[i].kind != LookKind::Drive && seen[i].0 >= need)
        }
        Ballwork::Holding | Ballwork::Dribbling => {
            let patience = play.scenario.offence.patience;
            if scores {
                let drives = distance > DRIVES_FROM && looks[1].allowed;
                return Some(usize::from(drives));
            }
            // Late in the clock he need only be past his own man.
            let late = clock.left() < 0.62 * f64::from(clock.limit) * crate::possession::TICK;
            let mut scoring_look = best(&|i| {
                let look = &looks[i];
                if !scoring(look, play.usual) || seen[i].0 < level_of(look.kind) {
                    return false;
                }
                let own = seen[0].0 + MUCH_BETTER;
                if distance < AT_THE_RING && look.to.is_some() && seen[i].0 < own {
                    return false;
                }
                match look.kind {
                    // Not before the lane looks open, unless time is short.
                    LookKind::Drive => {
                        (seems[i] > 0.55 || late && on_ball < 0.35) && distance > DRIVES_FROM
                    }
                    LookKind::Shot => true,
                    LookKind::NextPass | LookKind::Skip | LookKind::KickOut => {
                        // Better to pass than to keep only if the catcher's shot beats the bar.
                        seems[i] > 0.7 && held >= THREAT * 0.5
                    }
                    _ => seems[i] > FEED_OPEN,
                }
            });
            let guarded = hold
                .guarded_since
                .map_or(0.0, |t| f64::from(clock.tick - t) * crate::possession::TICK);
            let left = clock.left();
            if scoring_look.is_none() {
                let inside = !here.name.is_perimeter();
                let looks_for = if inside {
                    patience.hold.min(INSIDE_HE_LOOKS)
                } else {
                    patience.hold
                };
                let hold_for = if clean || inside {
                    (looks_for * (0.55 + 0.9 * order.unit())).max(THREAT)
                } else {
                    super::manner::looks_for(play, looks_for, &mut order)
                };
                let counts = in_lane > LANE_PRESSES.0;
                let pressed = guarded > 3.2 || left < 5.0 || held > 3.0 * patience.hold || counts;
                let under = distance < UNDER_THE_RIM;
                // He waits for who is about to show, unless he must not.
                let shows = (0..5).any(|i| i != me && old.awaited[i]);
                let waits = shows && held < hold_for + WAITS_FOR_HIM && !clean && left > 5.0;
                if held >= play.cast.model.movement.hold_shortest && !clean {
                    // Who shows and is open is fed.
                    let him = |i: usize| {
                        looks[i]
                            .to
                            .is_some_and(|to| old.shown[usize::from(to) - 1].is_some())
                    };
                    scoring_look = best(&|i| {
                        looks[i].kind == LookKind::Post && him(i) && seems[i] >= SAFE_PASS
                    });
                }
                if scoring_look.is_none() && (held >= hold_for && !waits || guarded > 3.0 || counts)
                {
                    // The longer he looks, the less he asks of a pass.
                    let waited = ((held - hold_for) / GETS_IMPATIENT).clamp(0.0, 1.0);
                    let safe = if pressed { 1.0 } else { waited };
                    let safe = SAFE_PASS - (SAFE_PASS - PRESSED_PASS) * safe;
                    scoring_look = best(&|i| {
                        matches!(
                            looks[i].kind,
                            LookKind::NextPass | LookKind::KickOut | LookKind::Skip
                        ) && seems[i] >= safe
                            || shows && looks[i].kind == LookKind::Post && seems[i] >= safe
                            || inside
                                && looks[i].kind == LookKind::Shot
                                && seen[i].0 >= if under { GOES_TO_WORK * level } else { level }
                    });
                }
                let stuck = under && !clean && held > STUCK_UNDER_IT;
                let desperate = guarded > 4.0 || left < 2.5 || in_lane > LANE_PRESSES.1 || stuck;
                if scoring_look.is_none() && desperate {
                    scoring_look = best(&|i| looks[i].value > 0.25);
                }
                // Nothing to pass to: put it on the floor rather than stand with it.
                // He need only get past his own man to draw the help.
                if scoring_look.is_none()
                    && (held > 2.2 * patience.hold && pressed || held > 3.6 || left < 9.0)
                    && distance > DRIVES_FROM
                {
                    scoring_look = best(&|i| looks[i].kind == LookKind::Drive && on_ball < 0.5);
                }
            }
            scoring_look
        }
    }
}
