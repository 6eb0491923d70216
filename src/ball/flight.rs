//! A pass in flight.

use super::{BallSize, PassKind};
use crate::court::Vec2;
use crate::model::{Model, Passes};

/// A pass in flight. All times in seconds since the release, lengths in metres, speeds in m/s.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Flight {
    /// What kind of pass.
    pub kind: PassKind,
    /// Release point on the floor plan.
    pub from: Vec2,
    /// Catch point on the floor plan.
    pub to: Vec2,
    /// Height at release.
    pub from_height: f64,
    /// Height at the catch point.
    pub to_height: f64,
    /// Time in the air.
    pub duration: f64,
    /// Length of the way on the floor plan.
    pub distance: f64,
    /// Horizontal speed at release.
    pub speed: f64,
    /// When and how far out it touches the floor; the end of the flight for all but a bounce pass.
    pub floor_time: f64,
    /// See [`Flight::floor_time`].
    pub floor_distance: f64,
    /// Vertical speed at release, up.
    rise: f64,
    /// Vertical speed just after the floor, up.
    rise_after: f64,
    /// Horizontal speed just after the floor.
    speed_after: f64,
    /// Drag of the ball, 1/m.
    drag: f64,
    /// Radius of the ball: its height on the floor.
    radius: f64,
    /// Free fall, m/s².
    gravity: f64,
    /// Unit direction of flight; zero for a ball handed over.
    along: Vec2,
}

impl Flight {
    /// A pass with a ball of size 7. `hands_speed` is the chest-pass speed of the passer
    /// ([`super::Hands::pass_speed`]). Heights are of the ball's centre.
    ///
    /// The height at which a bounce pass arrives follows from the floor: `to_height` is ignored and the
    /// field holds what comes. Distances beyond [`PassKind::reachable_range`] are flown all the same, with
    /// the arc that they need; the caller decides whether to throw.
    pub fn new(
        model: &Model,
        kind: PassKind,
        (from, to): (Vec2, Vec2),
        hands_speed: f64,
        (from_height, to_height): (f64, f64),
    ) -> Flight {
        let (ball, passes) = (&model.ball, &model.passes);
        let (drag, radius) = (BallSize::Seven.drag(ball), BallSize::Seven.radius(ball));
        let offset = to - from;
        let distance = offset.length();
        let along = if distance > 1e-9 {
            offset / distance
        } else {
            Vec2::ZERO
        };
        let wanted = kind
            .release_speed(passes, hands_speed)
            .max(passes.slowest_release);
        let mut flight = Flight {
            kind,
            from,
            to,
            from_height,
            to_height,
            duration: 0.0,
            distance,
            speed: wanted,
            floor_time: 0.0,
            floor_distance: distance,
            rise: 0.0,
            rise_after: 0.0,
            speed_after: 0.0,
            drag,
            radius,
            gravity: ball.gravity,
            along,
        };
        if kind == PassKind::Bounce {
            flight.by_way_of_the_floor(passes, ball.restitution);
        } else {
            flight.through_the_air(passes);
        }
        flight
    }

    fn through_the_air(&mut self, passes: &Passes) {
        let way = dragged_way(self.drag, self.distance);
        let mut t = (way / self.speed).max(passes.shortest_time);
        if self.kind == PassKind::Overhead {
            t = t.max(self.time_of_arc(passes, way));
        }
        self.speed = way / t;
        self.duration = t;
        self.floor_time = t;
        self.rise = (self.to_height - self.from_height) / t + 0.5 * self.gravity * t;
    }

    /// Time in the air that lets an overhead pass clear the arms of the passer's defender, s: at the share
    /// s of its time in the air its height is h₀ + (h₁ − h₀)s + g·t²·s(1 − s)/2.
    fn time_of_arc(&self, passes: &Passes, way: f64) -> f64 {
        let beyond = (self.distance - passes.overhead_arc_distance) / passes.overhead_arc_fade;
        let rise = passes.overhead_rise * (beyond + 1.0).clamp(0.0, 1.0);
        if rise <= 0.0 {
            return 0.0;
        }
        let s = dragged_way(self.drag, passes.overhead_rise_distance) / way;
        let need = rise - (self.to_height - self.from_height) * s;
        (2.0 * need.max(0.0) / (self.gravity * s * (1.0 - s))).sqrt()
    }

    fn by_way_of_the_floor(&mut self, passes: &Passes, restitution: f64) {
        self.floor_distance = passes.bounce_point * self.distance;
        let before = dragged_way(self.drag, self.floor_distance);
        let after = dragged_way(self.drag, self.distance - self.floor_distance);
        let t = (before / self.speed).max(passes.shortest_time);
        self.speed = before / t;
        self.floor_time = t;
        self.speed_after =
            passes.bounce_speed_kept * self.speed / (1.0 + self.drag * self.speed * t);
        let t_after = if self.speed_after > 0.0 {
            after / self.speed_after
        } else {
            0.0
        };
        self.duration = t + t_after;
        self.rise = (self.radius - self.from_height) / t + 0.5 * self.gravity * t;
        self.rise_after = restitution * (self.gravity * t - self.rise);
        self.to_height = self.height_at(self.duration);
    }

    /// Place on the floor plan and height of the ball `t` seconds after the release; before and after the
    /// flight, those of its ends.
    #[inline]
    pub fn at(&self, t: f64) -> (Vec2, f64) {
        (
            self.from + self.along * self.distance_at(t),
            self.height_at(t),
        )
    }

    /// Way covered on the floor plan, m.
    #[inline]
    pub fn distance_at(&self, t: f64) -> f64 {
        let t = t.clamp(0.0, self.duration);
        let covered = if t <= self.floor_time {
            dragged_distance(self.drag, self.speed, t)
        } else {
            self.floor_distance + dragged_distance(self.drag, self.speed_after, t - self.floor_time)
        };
        covered.min(self.distance)
    }

    /// The time at which the ball has covered `distance` metres on the floor plan, s (no logarithm: cheaper
    /// than [`Flight::distance_at`] when a lane is sampled by points).
    #[inline]
    pub fn time_at(&self, distance: f64) -> f64 {
        let d = distance.clamp(0.0, self.distance);
        let t = if d <= self.floor_distance {
            if self.speed > 0.0 {
                dragged_way(self.drag, d) / self.speed
            } else {
                0.0
            }
        } else {
            self.floor_time + dragged_way(self.drag, d - self.floor_distance) / self.speed_after
        };
        t.min(self.duration)
    }

    /// Height of the ball's centre, m.
    #[inline]
    pub fn height_at(&self, t: f64) -> f64 {
        let t = t.clamp(0.0, self.duration);
        if t <= self.floor_time {
            self.from_height + t * (self.rise - 0.5 * self.gravity * t)
        } else {
            let t = t - self.floor_time;
            self.radius + t * (self.rise_after - 0.5 * self.gravity * t)
        }
    }

    /// Horizontal speed of the ball, m/s.
    #[inline]
    pub fn ground_speed(&self, t: f64) -> f64 {
        let t = t.clamp(0.0, self.duration);
        let (v, t) = if t <= self.floor_time {
            (self.speed, t)
        } else {
            (self.speed_after, t - self.floor_time)
        };
        v / (1.0 + self.drag * v * t)
    }
}

/// Distance after `t` seconds of quadratic drag from the speed `v`: ln(1 + k·v·t) / k, m.
#[inline]
fn dragged_distance(drag: f64, v: f64, t: f64) -> f64 {
    libm::log1p(drag * v * t) / drag
}

/// The inverse: speed at release × time for a distance, (e^(k·d) − 1) / k, m.
#[inline]
fn dragged_way(drag: f64, distance: f64) -> f64 {
    libm::expm1(drag * distance) / drag
}
