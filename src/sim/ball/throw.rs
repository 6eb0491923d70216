//! A pass leaves the passer's hands: where it is aimed, whether he keeps it, how far it misses, and what all
//! others make of it.

use crate::ball::{Flight, PassKind};
use crate::court::{Side, Spot, SpotName, Vec2};
use crate::looks::Scene;
use crate::looks::passing::{Going, aim, flight, lead, on_release};
use crate::offence::LookKind;
use crate::possession::{Finish, What};

use super::super::dice::Purpose;
use super::super::parts::*;
use super::super::sight::{FEED_WITHIN, cuts_to, fed_at, holder_spot, pass_to_a_cutter};
use super::BallStep;

/// A cutter who is fed this far from the middle takes the ball side with him, metres (ours).
const ASIDE: f64 = 1.2;

/// A pass that is no more open than this when it is about to leave his hands is kept (unless he knew it
/// for a gamble), and he looks again after so long, seconds (ours).
const KEEPS_IT: f64 = 0.4;
const LOOKS_AGAIN: f64 = 0.2;

/// A lead pass to a runner misses by this much more (ours, no source).
const ON_THE_RUN: f64 = 1.9;

/// A defender nearer than this presses the passer, metres; with a body on him he misses by this much
/// more again (ours; defensive pressure lowers passing: IJERPH 18(3) 1165, 2021, direction only).
const PRESSURE_FROM: f64 = 1.4;
const PRESSED: f64 = 2.0;

/// A receiver farther from the rim than this is met on the near side, metres (ours).
const FAR_OUT: f64 = 5.0;

/// A pass about to leave: who throws what to whom, and how everybody stands now.
struct Throw {
    from: usize,
    to: usize,
    kind: PassKind,
    /// As it leaves.
    look: LookKind,
    /// How open it was when he chose it.
    openness: f64,
    /// Was it chosen for a cutter who had not yet come through?
    on_the_run: bool,
    going: Going,
    scene: Scene,
}

impl BallStep<'_, '_, '_> {
    /// The pass that is due leaves, unless he keeps it.
    pub(super) fn throw(&mut self, hold: &Hold) {
        let Some(throw) = self.due(hold) else {
            return;
        };
        let &Throw {
            from,
            to,
            kind,
            ref scene,
            ..
        } = &throw;
        let cast = &self.play.cast;
        let target = self.target(&throw);
        let as_meant = flight(cast, scene, from, to, kind, target);
        let openness = on_release(cast, scene, from, to, &as_meant).value;
        if self.keeps_it(&throw, target, openness) {
            let mut kept = *hold;
            kept.pending = None;
            kept.ready = self.clock.tick + ticks(LOOKS_AGAIN);
            self.ball.state = BallState::Held(kept);
            return;
        }
        let mut aimed = target;
        if !self.play.scenario.drill.clean {
            aimed = self.misses(&throw, target);
        }
        let stands = throw.going.goal.is_none() && throw.going.stops.is_none();
        if stands && !self.play.scenario.drill.clean && scene.pos[to].length() > FAR_OUT {
            aimed += self.nearer(&throw, aimed);
        }
        let flight = flight(cast, scene, from, to, kind, aimed);
        let spot = self.tells(hold, &throw, aimed, openness);
        self.takes_off(hold, &throw, flight, (aimed, spot));
    }

    /// The pass that he has begun, on the floor as it is now.
    fn due(&self, hold: &Hold) -> Option<Throw> {
        let Some(Pending::Pass {
            to,
            kind,
            look,
            openness,
            on_the_run,
            ..
        }) = hold.pending
        else {
            return None;
        };
        // The cut may have begun since the pass was chosen.
        let (look, going) = pass_to_a_cutter(self.old, to).unwrap_or_else(|| {
            let going = Going {
                stops: self.old.stops[to],
                ..Going::NOWHERE
            };
            (look, going)
        });
        let mut scene = self.old.scene;
        for (i, (form, _)) in self.mates.iter().enumerate() {
            scene.pos[i] = form.0.pos;
            scene.vel[i] = form.0.vel;
        }
        Some(Throw {
            from: hold.by,
            to,
            kind,
            look,
            openness,
            on_the_run,
            going,
            scene,
        })
    }

    /// The point for which the pass is meant.
    fn target(&self, throw: &Throw) -> Vec2 {
        let &Throw {
            from,
            to,
            kind,
            going,
            ref scene,
            ..
        } = throw;
        let cast = &self.play.cast;
        let mut target = scene.pos[to];
        for _ in 0..2 {
            let f = flight(cast, scene, from, to, kind, target);
            // In a walk-through nobody has to be passed away from a defender.
            target = if self.play.scenario.drill.clean {
                lead(cast, scene, to, going, f.duration)
            } else {
                aim(cast, scene, from, to, going, f.duration)
            };
        }
        target
    }

    /// The cutter is not where a feed would finish him, or a defender has come into the way since: the
    /// passer keeps it.
    fn keeps_it(&self, throw: &Throw, target: Vec2, openness: f64) -> bool {
        let cut = matches!(throw.look, LookKind::GiveAndGo | LookKind::Backdoor);
        let gone = match throw.going.goal {
            Some(_) if cuts_to(self.old, throw.to).is_some() => false,
            Some(_) => target.length() > FEED_WITHIN + 0.6,
            None => throw.on_the_run && cut,
        };
        let shut = !self.play.scenario.drill.clean && openness < KEEPS_IT.min(throw.openness);
        gone || shut
    }

    /// Where the pass goes that is meant for `target`: wilder to a runner, and under pressure.
    fn misses(&self, throw: &Throw, target: Vec2) -> Vec2 {
        let (play, me) = (self.play, throw.from);
        let from = throw.scene.pos[me];
        let mut aim = play.dice.at(Purpose::Aim, me, self.clock.tick);
        let lead = if throw.going.goal.is_some() {
            ON_THE_RUN
        } else {
            1.0
        };
        let room = self.old.scene.nearest_defender(from).0;
        let pressed = ((PRESSURE_FROM - room) / (PRESSURE_FROM - 0.6)).clamp(0.0, 1.0);
        let wild = lead * (1.0 + PRESSED * pressed);
        let error = play.cast.players[me].hands.pass_error;
        let angle = play.hand * aim.normal() * error * wild;
        let stretch = 1.0 + 0.5 * aim.normal() * error;
        let way = target - from;
        let (sin, cos) = (libm::sin(angle), libm::cos(angle));
        from + Vec2::new(way.x * cos - way.y * sin, way.x * sin + way.y * cos) * stretch
    }

    /// How much more to the near side of a receiver outside, who comes to meet it.
    fn nearer(&self, throw: &Throw, aimed: Vec2) -> Vec2 {
        let from = throw.scene.pos[throw.from];
        let model = &self.play.cast.model.movement;
        let mut dice = self.play.dice.at(Purpose::Lead, throw.to, self.clock.tick);
        let way = (from - aimed) / (from - aimed).length().max(1e-6);
        let side = Vec2::new(-way.y, way.x);
        let nearer = model.meet_lead * (0.4 + 0.8 * dice.unit());
        way * nearer + side * (self.play.hand * model.meet_side * dice.normal())
    }

    /// Writes the pass down, tells the rules of it and turns the ball side. At which spot will it be caught?
    fn tells(&mut self, hold: &Hold, throw: &Throw, aimed: Vec2, openness: f64) -> Spot {
        let &Throw { from: me, to, .. } = throw;
        let from_spot = holder_spot(self.play, self.old, me);
        // A pass that leads a cutter is a pass to the rim, unless the cut ends at a place; who comes off a screen is fed
        // at the place to which he comes.
        let job = &self.mates[to].1;
        let comes_off_to = job
            .place
            .filter(|_| matches!(job.task, Task::ComeOff { .. }));
        let to_spot = match comes_off_to {
            Some(place) => place,
            None if throw.going.goal.is_some() && cuts_to(self.old, to).is_none() => {
                Spot::new(SpotName::Rim, None)
            }
            None => fed_at(self.play, self.old, to, aimed),
        };
        let passes = What::Passes {
            from: me as u8 + 1,
            to: to as u8 + 1,
            kind: throw.kind,
            look: throw.look,
            openness,
            length: (aimed - throw.scene.pos[me]).length(),
        };
        self.book.write(self.clock, passes);
        self.ball.passes += 1;
        // The ball side is the side on which it will be.
        let side = match to_spot.name {
            SpotName::Rim if aimed.x.abs() > ASIDE => Side::of(aimed.x, self.ball.side),
            _ => to_spot.side.unwrap_or(self.ball.side),
        };
        self.turn_side(side);
        self.signals.now.push(match hold.drove_from {
            Some(from) => Happening::KickOut {
                from,
                driver: me,
                receiver: to,
            },
            None => Happening::Pass {
                from: from_spot,
                to: to_spot,
                passer: me,
                receiver: to,
            },
        });
        to_spot
    }

    /// The ball is in the air: what the passer, the catcher and all others do now.
    fn takes_off(&mut self, hold: &Hold, throw: &Throw, flight: Flight, aim: (Vec2, Spot)) {
        let &Throw { from, to, look, .. } = throw;
        let tick = self.clock.tick;
        self.has_gone_on(from, to);
        let job = &mut self.mates[from].1;
        job.task = Task::Stand;
        if hold.drove_from.is_some() {
            job.place = None;
        }
        let job = &mut self.mates[to].1;
        job.next = None;
        job.task = Task::Meet {
            at: aim.0,
            through: throw.going.goal.is_some(),
            when: tick + ticks(flight.duration),
            spot: aim.1,
        };
        self.ball.state = BallState::Flying {
            flight,
            began: tick,
            from,
            to,
            look,
            tried: [false; 5],
            how: match look {
                LookKind::GiveAndGo | LookKind::Backdoor if self.cuts_outside(to) => Finish::SpotUp,
                LookKind::GiveAndGo | LookKind::Backdoor => Finish::Cut,
                LookKind::Post => Finish::PostUp,
                LookKind::DropOff => Finish::DropOff,
                _ => Finish::SpotUp,
            },
        };
    }

    /// Is the receiver on a cut that ends outside?
    fn cuts_outside(&self, to: usize) -> bool {
        cuts_to(self.old, to).is_some_and(|spot| spot.name.is_perimeter())
    }
}
