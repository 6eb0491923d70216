//! Kinds of pass and the hands that throw them.
//!
//! No readable published table of pass speed by kind was found (two searches returned none): shares of
//! the chest pass, ranges and heights are common practice, group `passes` of `assets/model.ron`.

use serde::Serialize;

use crate::model::{Model, Passes};

/// How a player throws.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Hands {
    /// Horizontal speed of his chest pass at release, m/s; the other kinds are shares of it.
    pub pass_speed: f64,
    /// Standard deviation of the direction of his passes, rad.
    pub pass_error: f64,
    /// Time from the decision to the release (wind-up), s.
    pub release: f64,
}

/// A kind of pass.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum PassKind {
    /// Two hands from the chest to the chest, through the air.
    Chest,
    /// Touches the floor about two thirds of the way.
    Bounce,
    /// Two hands above the head; over a distance it arcs over the defender of the passer (skip, lob).
    Overhead,
    /// Short and soft, to a team-mate near by (drop-off, hand-to-hand).
    DropOff,
}

impl PassKind {
    /// All kinds.
    pub const ALL: [PassKind; 4] = [
        PassKind::Chest,
        PassKind::Bounce,
        PassKind::Overhead,
        PassKind::DropOff,
    ];

    /// The trade's word for it.
    pub fn word(self) -> &'static str {
        match self {
            PassKind::Chest => "chest pass",
            PassKind::Bounce => "bounce pass",
            PassKind::Overhead => "overhead pass",
            PassKind::DropOff => "drop-off",
        }
    }

    /// Horizontal speed at release, m/s, for hands whose chest pass leaves at `pass_speed`.
    /// A bounce pass comes to 0.8 of the average speed of a chest pass over the whole way.
    #[inline]
    pub fn release_speed(self, passes: &Passes, pass_speed: f64) -> f64 {
        match self {
            PassKind::Chest => pass_speed,
            PassKind::Bounce => passes.bounce_release_share * pass_speed,
            PassKind::Overhead => passes.overhead_release_share * pass_speed,
            PassKind::DropOff => pass_speed.min(passes.drop_off_speed),
        }
    }

    /// Shortest and longest way, m, over which a coach would ask for this kind from an adult.
    #[inline]
    pub fn sensible_range(self, passes: &Passes) -> (f64, f64) {
        match self {
            PassKind::Chest => (passes.chest_shortest, passes.chest_longest),
            PassKind::Bounce => (passes.bounce_shortest, passes.bounce_longest),
            PassKind::Overhead => (passes.overhead_shortest, passes.overhead_longest),
            PassKind::DropOff => (passes.drop_off_shortest, passes.drop_off_longest),
        }
    }

    /// Longest way, m, that these hands can throw it: the sensible range, or less if the ball would have
    /// to leave more steeply than 45° (vertical speed above the horizontal one) to be caught at the
    /// height at which it left; for a bounce pass the same for the way to the floor and the rest of it.
    /// Twelve-year-olds at 6 m/s: chest 6.8 m; eight-year-olds at 5 m/s: 4.8 m.
    pub fn reachable_range(self, model: &Model, pass_speed: f64, drag: f64) -> f64 {
        let v = self.release_speed(&model.passes, pass_speed.max(0.0));
        let straight = libm::log(1.0 + drag * 2.0 * v * v / model.ball.gravity) / drag;
        let most = self.with_bounce(&model.passes, straight);
        most.min(self.sensible_range(&model.passes).1)
    }

    /// Is `distance` surely not beyond [`PassKind::reachable_range`], but for the sensible range? Cheap:
    /// ln(1 + x) is not less than x − x²/2. False says nothing.
    #[inline]
    pub fn surely_reaches(self, model: &Model, pass_speed: f64, drag: f64, distance: f64) -> bool {
        let v = self.release_speed(&model.passes, pass_speed.max(0.0));
        let far = 2.0 * v * v / model.ball.gravity;
        let straight = far * (1.0 - 0.5 * drag * far);
        distance < self.with_bounce(&model.passes, straight) - 1e-9
    }

    /// The whole way of a pass whose way through the air (to the floor, if it bounces) is so long, m.
    #[inline]
    fn with_bounce(self, passes: &Passes, straight: f64) -> f64 {
        if self == PassKind::Bounce {
            straight * (1.0 / passes.bounce_point)
        } else {
            straight
        }
    }

    /// Height of the ball at release, m, by a passer of stature `height` m.
    #[inline]
    pub fn release_height(self, passes: &Passes, height: f64) -> f64 {
        height
            * match self {
                PassKind::Chest => passes.chest_release_height,
                PassKind::Bounce => passes.bounce_release_height,
                PassKind::Overhead => passes.overhead_release_height,
                PassKind::DropOff => passes.drop_off_release_height,
            }
    }

    /// Height of the ball at the catch, m, by a receiver of stature `height` m. (A bounce pass comes as
    /// high as the floor sends it; see [`super::Flight::new`].)
    #[inline]
    pub fn catch_height(self, passes: &Passes, height: f64) -> f64 {
        height
            * match self {
                PassKind::Chest => passes.chest_catch_height,
                PassKind::Bounce => passes.bounce_catch_height,
                PassKind::Overhead => passes.overhead_catch_height,
                PassKind::DropOff => passes.drop_off_catch_height,
            }
    }
}
