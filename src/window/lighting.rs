//! When light is asked for, and how it comes over the floor: at each decision while a possession runs, and at once
//! when it stands or somebody is moved.

use super::desk::Desk;
use super::light::{Decision, FROZEN, Field, Lamp, Of, RUNNING, Shade};
use crate::court::Vec2;
use crate::looks::BODIES;
use crate::possession::LookNow;

/// Looks as they were measured: at which decision instant, with whom moved where.
type Looks = (Option<usize>, [Option<Vec2>; BODIES], Vec<LookNow>);

/// The light of one possession, and the looks that it comes from.
pub(super) struct Lit {
    pub looks: Looks,
    /// As it is drawn.
    pub shade: Shade,
    lamp: Lamp,
    target: Option<Field>,
    pub asked: Option<Asked>,
    since_asked: f32,
}

impl Default for Lit {
    fn default() -> Lit {
        Lit {
            looks: (None, [None; BODIES], Vec::new()),
            shade: Shade::default(),
            lamp: Lamp::lit(),
            target: None,
            asked: None,
            since_asked: 1.0,
        }
    }
}

impl Desk {
    pub(super) fn light(&mut self, seconds: f32) -> bool {
        self.lit.since_asked += seconds;
        let fine = !self.time.running && self.held.is_none();
        let arrival = self.settings.layers.arrival;
        let moment = self.moment();
        let asks = Asked {
            at: if arrival {
                Ok(self.time.now.to_bits())
            } else {
                Err(moment)
            },
            moved: self.moved,
            fine,
        };
        if self.lit.asked != Some(asks) && (!self.time.running || self.lit.since_asked > EVERY) {
            let of = if arrival {
                self.arrival()
            } else {
                self.worth(moment)
            };
            self.lit.lamp.ask(of, if fine { FROZEN } else { RUNNING });
            self.lit.asked = Some(asks);
            self.lit.since_asked = 0.0;
        }
        if let Some(field) = self.lit.lamp.take() {
            self.lit.target = Some(field);
        }
        let Some(target) = &self.lit.target else {
            return true;
        };
        let calm = self.settings.reduced_motion || !self.time.running;
        let share = if calm && self.held.is_some() || self.settings.reduced_motion {
            1.0
        } else {
            1.0 - libm::expf(-seconds / EASES)
        };
        let moves = self.lit.shade.ease(target, share);
        moves || !self.lit.lamp.is_last(target.number)
    }

    /// How likely a ball gets anywhere now, with those who were moved where they are.
    fn arrival(&self) -> Of {
        let (mut scene, passer) = self.recording.scene(&self.picture());
        for (body, to) in self.moved.iter().enumerate() {
            if let Some(to) = to {
                scene.pos[body] = *to;
                scene.vel[body] = Vec2::ZERO;
            }
        }
        Of::Arrival {
            cast: self.recording.cast.clone(),
            scene: Box::new(scene),
            passer,
        }
    }

    /// What passes thrown at a decision instant are worth, with those who were moved where they are.
    fn worth(&mut self, moment: Option<usize>) -> Of {
        let looks = self.looks().to_vec();
        let recording = &self.recording;
        match moment.and_then(|m| recording.instants.get(m)) {
            None => Of::Nothing(Box::new(recording.cast.court)),
            Some(instant) => Of::Worth(Box::new(Decision {
                play: recording.play.clone(),
                instant: recording.instant_with(instant, &self.moved),
                looks,
            })),
        }
    }
}

/// What the light on the floor was asked for: a time, or a decision instant; where everybody was put; how fine.
#[derive(Clone, Copy, PartialEq)]
pub(super) struct Asked {
    at: Result<u64, Option<usize>>,
    moved: [Option<Vec2>; BODIES],
    fine: bool,
}

/// While it runs the light is asked for this often, seconds, and eases in about this time.
const EVERY: f32 = 0.08;
const EASES: f32 = 0.09;
