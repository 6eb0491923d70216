//! Is the lane to the rim free of the driver's own team?

use super::super::parts::*;

/// Will a team-mate be in the way of a drive that starts now? A driver needs a lane free of the own team (common
/// practice: no drive starts while a cutter is still in the lane). Where everybody is going is public.
pub(super) fn lane_is_taken(play: &Play, old: &Old, me: usize) -> bool {
    let model = &play.cast.model.movement;
    let from = old.scene.pos[me];
    let far = from.length();
    let to_rim = -from / far.max(1e-6);
    // The screener stands where the way off the screen leads by.
    let mates = (0..5).filter(|&i| i != me && old.ball_screen != Some(i));
    mates.into_iter().any(|i| {
        let (pos, vel) = (old.scene.pos[i], old.scene.vel[i]);
        let goal = match old.doing[i] {
            Doing::Cutting {
                goal,
                arrived: false,
                ..
            } => Some(goal),
            _ => old.stops[i],
        };
        let lasts = model.plan_start + (far - TAKES_OFF).max(0.0) / model.plan_drive_speed;
        (2..=(lasts / DRIVE_STEP) as u32).any(|step| {
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

/// Length of a step of the look ahead, seconds.
const DRIVE_STEP: f64 = 0.1;
/// A drive ends this far from the ring, and mates count from this near on, metres.
const TAKES_OFF: f64 = 1.0;
const COUNTS_WITHIN: f64 = 5.0;
