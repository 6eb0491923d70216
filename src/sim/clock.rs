//! The time on the floor: how much is played and left, and when who revises where to go.

/// Time.
#[derive(Clone, Copy, Debug)]
pub struct Clock {
    pub tick: u32,
    /// Ticks to shoot in, by the shot clock or by the offence's patience.
    pub limit: u32,
    /// Is `limit` a rule (else only a wish)?
    pub ruled: bool,
}

impl Clock {
    /// Seconds left.
    pub fn left(&self) -> f64 {
        f64::from(self.limit.saturating_sub(self.tick)) * crate::possession::TICK
    }
    pub fn seconds(&self) -> f64 {
        f64::from(self.tick) * crate::possession::TICK
    }
}

/// Ticks of a time in seconds.
pub fn ticks(seconds: f64) -> u32 {
    (seconds / crate::possession::TICK + 0.5).max(0.0) as u32
}

/// Do the attackers revise in this tick where to go? Everybody does so twelve times a second, which no person does faster, one
/// team after the other; feet go on in between.
pub fn attackers_revise(tick: u32) -> bool {
    tick.is_multiple_of(REVISES_EVERY)
}

/// Do the defenders?
pub fn defenders_revise(tick: u32) -> bool {
    (tick + 1).is_multiple_of(REVISES_EVERY)
}

/// So many ticks go by from one such moment to the next (ours).
const REVISES_EVERY: u32 = 2;
