//! A recorded possession as the window reads it: who is where at any time, what the holder decided
//! from, and where stalls, backdoor chances and open lanes begin.
//!
//! The picture at time `t` is the state from which tick `t` is decided, so that at a decision instant
//! it is, to the last bit, what the looks were measured from. Between ticks places are interpolated
//! for the eye; nothing is fed back.

use super::words::floor as words;
use std::sync::Arc;

use crate::court::{Units, Vec2};
use crate::defence::{Duty, Relation};
use crate::draw::finish;
use crate::looks::{BODIES, Cast, Scene};
use crate::offence::LookKind;
use crate::possession::light::brightest;
use crate::possession::{Frame, LookNow, Moment, Possession, TICK, What, timeline};
use crate::scenario::Scenario;
use crate::scrimmage::row::seconds;
use crate::scrimmage::windows;
use crate::sim::instant::Instant;
use crate::sim::parts::Play;
use crate::sim::play_on::{Put, play_on};
use crate::sim::{cast_of, ground};

/// One possession with all that the window shows of it.
pub struct Recording {
    /// What was played.
    pub scenario: Arc<Scenario>,
    /// Court and players.
    pub cast: Arc<Cast>,
    /// The possession's fixed state, as the simulation has it.
    pub play: Play,
    /// The possession, written down.
    pub possession: Possession,
    /// One for each moment.
    pub instants: Vec<Instant>,
    /// Light of the best open look along the possession, 0 dark to 1 bright, one for each moment.
    pub glow: Vec<f32>,
    /// What is done in the possession, told line by line.
    pub told: Vec<timeline::Line>,
    /// The same as long as it is not known how it ends.
    before_it_ends: Vec<timeline::Line>,
    /// Stalls: spells of 0.8 s or more without an open look, as the figures and the why page count them.
    pub stalls: Vec<Spell>,
    /// What is shown after the record: the ball goes to the rim, and the result stands for a while.
    after: Vec<Frame>,
    /// When the result is known, seconds since the possession began.
    pub known: f64,
    /// The result, in words.
    pub result: String,
    /// Spells with the driving lane open.
    pub lanes: Vec<Spell>,
    /// Spells with a backdoor chance.
    pub backdoors: Vec<Spell>,
    /// Where bodies were put elsewhere by hand and it went on from there.
    pub puts: Vec<Put>,
}

/// A spell of the possession, seconds.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Spell {
    /// Its first decision instant, seconds since the possession began.
    pub from: f64,
    /// When its last decision instant is over, seconds since the possession began.
    pub to: f64,
}

impl Spell {
    /// How long it lasts, seconds: that of all its decision instants, as the figures count them.
    pub fn seconds(&self) -> f64 {
        self.to - self.from
    }

    /// Is the decision instant of this time one of it? Seconds since the possession began.
    pub fn holds(&self, instant: f64) -> bool {
        self.from <= instant && instant < self.to - 0.5 * windows::INSTANT
    }
}

/// Who is where at one time. Bodies 0–4 attack, 5–9 defend.
#[derive(Clone, Copy, Debug)]
pub struct Picture {
    /// Seconds since the possession began.
    pub time: f64,
    /// Place of each body, metres from the rim.
    pub pos: [Vec2; BODIES],
    /// Velocity of each body, m/s.
    pub vel: [Vec2; BODIES],
    /// Where each chest points, unit vectors.
    pub facing: [Vec2; BODIES],
    /// The ball: x, y, and height above the floor, metres.
    pub ball: [f64; 3],
    /// Who holds the ball (0–4).
    pub holder: Option<usize>,
    /// Which attacker (0–4) each defender guards.
    pub guards: [usize; 5],
    /// What each defender is doing.
    pub duties: [Duty; 5],
    /// The relation of each defender's man to the ball.
    pub relations: [Relation; 5],
}

/// A decision instant that comes later than this after the last one is over does not belong to the same spell, seconds
/// (half a decision instant and a little).
const APART: f64 = 0.11;

/// A decision instant counts for so long, seconds: until the next, and a tick more.
const LASTS: f64 = 0.24;

/// What was seen before a deed is told for so long after it, tenths of a second.
const WITH_IT: u32 = 12;

impl Recording {
    /// Plays the possession of a seed. Same scenario, same seed: the same recording.
    pub fn of(scenario: &Arc<Scenario>, seed: u64) -> Recording {
        Recording::with(scenario, seed, &[])
    }

    /// The same with bodies put elsewhere on the way.
    pub fn with(scenario: &Arc<Scenario>, seed: u64, puts: &[Put]) -> Recording {
        let cast = cast_of(scenario);
        let (possession, instants) = play_on(scenario, &cast, seed, puts);
        let play = ground(scenario, &cast, seed, possession.side);
        let moments = possession.moments.iter();
        let glow = moments
            .map(|m| brightest(&m.looks, play.usual) as f32)
            .collect();
        let moments = &possession.moments;
        let stalls = windows::stalls(moments)
            .into_iter()
            .filter_map(|spell| {
                let from = moments.get(spell.first)?.time;
                let to = from + seconds(u32::from(spell.length));
                Some(Spell { from, to })
            })
            .collect();
        let after = finish::after(&possession);
        let open = |m: &Moment| m.looks.iter().any(|l| l.kind == LookKind::Drive && l.open);
        let there = |m: &Moment| m.backdoor.iter().any(|b| b.there);
        Recording {
            told: timeline::lines(&deeds(&possession, true), scenario),
            before_it_ends: timeline::lines(&deeds(&possession, false), scenario),
            known: finish::known(&possession, &after),
            result: finish::result(&possession),
            after,
            stalls,
            lanes: spells(&possession, open),
            backdoors: spells(&possession, there),
            scenario: scenario.clone(),
            cast,
            play,
            instants,
            glow,
            possession,
            puts: puts.to_vec(),
        }
    }

    /// What is being told at `time`: the last line that has a time, with that time, and for a while those that belong
    /// to it.
    pub fn told_at(&self, time: f64) -> Vec<String> {
        let tenths = (time * 10.0 + 0.5) as u32;
        // How a shot ends is not told while the ball is in the air.
        let all = match time < self.known {
            true => &self.before_it_ends,
            false => &self.told,
        };
        let begun = |l: &timeline::Line| l.tenths.is_some_and(|t| t <= tenths);
        let Some(first) = all.iter().rposition(begun) else {
            return Vec::new();
        };
        let at = all[first].tenths.unwrap_or(0);
        let told = words::at_s(&(at / 10), &(at % 10), &within(&all[first].text));
        let more = all[first + 1..].iter();
        let more = more.take_while(|l| l.tenths.is_none() && tenths < at + WITH_IT);
        std::iter::once(told)
            .chain(more.map(|l| l.text.clone()))
            .collect()
    }

    /// When all of it has been shown, the result too, seconds.
    pub fn end(&self) -> f64 {
        let shown = self.after.last().map_or(0.0, |frame| frame.time);
        shown.max(self.possession.duration)
    }

    /// The stall to which a decision instant belongs.
    pub fn stall_at(&self, moment: usize) -> Option<&Spell> {
        let at = self.possession.moments.get(moment)?.time;
        self.stalls.iter().find(|s| s.holds(at))
    }

    /// Tells it in these units.
    pub fn tell(&mut self, units: Units) {
        let mut scenario = (*self.scenario).clone();
        scenario.court.units = units;
        self.told = timeline::lines(&deeds(&self.possession, true), &scenario);
        self.before_it_ends = timeline::lines(&deeds(&self.possession, false), &scenario);
    }

    /// Frame number `at`, of the record or after it.
    fn frame(&self, at: usize) -> Option<&Frame> {
        let track = &self.possession.track;
        track
            .get(at)
            .or_else(|| self.after.get(at.checked_sub(track.len())?))
    }

    /// Who is where at `time`, between ticks by interpolation.
    pub fn picture(&self, time: f64) -> Picture {
        let last = (self.possession.track.len() + self.after.len()).saturating_sub(1);
        // The state before tick k is the frame that tick k-1 left.
        let at = (time / TICK - 1.0).clamp(0.0, last as f64);
        // A decision instant that is meant exactly is not to be missed by a rounding.
        let at = if (at - at.round()).abs() < 1e-6 {
            at.round()
        } else {
            at
        };
        let (a, share) = (at.floor() as usize, at - at.floor());
        let Some(from) = self.frame(a) else {
            return self.nobody(time);
        };
        let to = self.frame((a + 1).min(last)).unwrap_or(from);
        let before = self.frame(a.saturating_sub(1)).unwrap_or(from);
        let zero = Vec2::ZERO;
        let (mut pos, mut vel, mut facing) = ([zero; BODIES], [zero; BODIES], [zero; BODIES]);
        // Whoever was put elsewhere is there from that tick on; at rest, so that the next frame has
        // him there too.
        let put = self.puts.iter().find(|p| p.tick as usize == a + 1);
        let is_put = |body: usize| put.is_some_and(|p| p.to[body].is_some());
        for i in 0..5 {
            for (body, from_, to_, old, face, face_to) in [
                (
                    i,
                    from.attackers[i],
                    to.attackers[i],
                    before.attackers[i],
                    from.attackers_facing[i],
                    to.attackers_facing[i],
                ),
                (
                    5 + i,
                    from.defenders[i],
                    to.defenders[i],
                    before.defenders[i],
                    from.defenders_facing[i],
                    to.defenders_facing[i],
                ),
            ] {
                if is_put(body) {
                    pos[body] = to_;
                } else {
                    pos[body] = from_ + (to_ - from_) * share;
                    vel[body] = (from_ - old) / TICK;
                }
                let turned = face + (face_to - face) * share;
                facing[body] = turned / turned.length().max(1e-6);
            }
        }
        let holder = from.holder.map(|h| usize::from(h) - 1);
        let ball = if holder.is_some_and(is_put) {
            to.ball
        } else {
            std::array::from_fn(|i| from.ball[i] + (to.ball[i] - from.ball[i]) * share)
        };
        Picture {
            time,
            pos,
            vel,
            facing,
            ball,
            holder,
            guards: from.guards.map(|g| usize::from(g).saturating_sub(1)),
            duties: from.duties,
            relations: from.relations,
        }
    }

    fn nobody(&self, time: f64) -> Picture {
        let zero = Vec2::ZERO;
        Picture {
            time,
            pos: [zero; BODIES],
            vel: [zero; BODIES],
            facing: [Vec2::new(0.0, -1.0); BODIES],
            ball: [0.0; 3],
            holder: None,
            guards: [0, 1, 2, 3, 4],
            duties: [Duty::OnBall; 5],
            relations: [Relation::OnBall; 5],
        }
    }

    /// The last decision instant at or before `time`.
    pub fn moment_before(&self, time: f64) -> Option<usize> {
        let after = self
            .possession
            .moments
            .partition_point(|m| m.time <= time + 1e-6);
        after.checked_sub(1)
    }

    /// Who threw the last pass before `time`, seconds: the number of the passer.
    pub fn gave(&self, time: f64) -> Option<u8> {
        let before = self.possession.timeline.iter().rev();
        let mut before = before.filter(|e| e.time <= time + 1e-6);
        before.find_map(|e| match e.what {
            What::Passes { from, .. } => Some(from),
            _ => None,
        })
    }

    /// The decision instant nearest to `time`.
    pub fn moment_near(&self, time: f64) -> Option<usize> {
        let moments = &self.possession.moments;
        let before = self.moment_before(time);
        let next = before.map_or(0, |i| i + 1);
        let gap = |i: usize| moments.get(i).map(|m| (m.time - time).abs());
        match (before, gap(next)) {
            (Some(i), Some(ahead)) if gap(i).is_some_and(|behind| behind <= ahead) => Some(i),
            (_, Some(_)) => Some(next),
            (before, None) => before,
        }
    }

    /// The decision instant that counts at `time`: the last one of whoever holds the ball, or the next, if it is the
    /// first that he has. `None` while nobody holds it.
    pub fn decision(&self, time: f64) -> Option<usize> {
        let holder = self.picture(time).holder?;
        let moments = &self.possession.moments;
        let counts = |i: &usize| {
            let near = |m: &Moment| (m.time - time).abs() < LASTS;
            moments
                .get(*i)
                .is_some_and(|m| usize::from(m.holder) == holder + 1 && near(m))
        };
        let before = self.moment_before(time);
        let next = before.map_or(0, |i| i + 1);
        before.filter(counts).or(Some(next).filter(counts))
    }

    /// The decision instant that `time` is, if it is one.
    pub fn moment_at(&self, time: f64) -> Option<usize> {
        self.moment_before(time)
            .filter(|i| (self.possession.moments[*i].time - time).abs() < 1e-6)
    }

    /// What openness is measured from at `time`, and from whose hands (0–4); while the ball is in
    /// the air: from those to which it flies.
    pub fn scene(&self, picture: &Picture) -> (Scene, usize) {
        let seen = self.moment_before(picture.time).unwrap_or(0);
        let mut scene = match self.instants.get(seen) {
            Some(instant) => instant.old.scene,
            None => Scene {
                pos: picture.pos,
                vel: picture.vel,
                facing: picture.facing,
                alert: [0.3; 5],
                aware: [0.1; 5],
                guards: picture.guards,
            },
        };
        if self.moment_at(picture.time).is_none() {
            scene.pos = picture.pos;
            scene.vel = picture.vel;
            scene.facing = picture.facing;
            scene.guards = picture.guards;
        }
        (scene, self.hands(picture))
    }

    /// Who has the ball, or to whom it flies (0–4).
    pub fn hands(&self, picture: &Picture) -> usize {
        picture.holder.unwrap_or_else(|| {
            let thrown = self.possession.timeline.iter().rev();
            thrown
                .filter(|e| e.time <= picture.time + 1e-6)
                .find_map(|e| match e.what {
                    What::Passes { to, .. } => Some(usize::from(to) - 1),
                    What::Starts { who, .. } | What::Catches { who, .. } => {
                        Some(usize::from(who) - 1)
                    }
                    _ => None,
                })
                .unwrap_or(0)
        })
    }

    /// The looks of the holder at a decision instant with some bodies moved: by the function of the
    /// batch; whoever was moved stands still.
    pub fn looks_with(&self, moment: usize, moved: &[Option<Vec2>; BODIES]) -> Vec<LookNow> {
        let Some(instant) = self.instants.get(moment) else {
            return Vec::new();
        };
        if moved.iter().all(Option::is_none) {
            return self.possession.moments[moment].looks.clone();
        }
        self.instant_with(instant, moved).looks(&self.play)
    }

    /// A decision instant with some bodies moved.
    pub fn instant_with(&self, instant: &Instant, moved: &[Option<Vec2>; BODIES]) -> Instant {
        let mut changed = instant.clone();
        for (body, to) in moved.iter().enumerate() {
            if let Some(to) = to {
                changed.old.scene.pos[body] = *to;
                changed.old.scene.vel[body] = Vec2::ZERO;
            }
        }
        changed
    }
}

/// A sentence as it goes on after a comma: "The ball …" begins small, X2 stays X2.
fn within(text: &str) -> String {
    let mut letters = text.chars();
    match (letters.next(), letters.next()) {
        (Some(first), Some(second)) if second.is_lowercase() => {
            let rest = text.chars().skip(1);
            first.to_lowercase().chain(rest).collect()
        }
        _ => text.to_owned(),
    }
}

/// The possession without what lasts in it: what is open, could be cut or stalls now is said of the moment itself; with
/// how it ends, or without.
fn deeds(possession: &Possession, ends: bool) -> Possession {
    let mut deeds = possession.clone();
    let lasts = |what: &What| matches!(what, What::BackdoorThere { .. } | What::Stall { .. });
    let told = |what: &What| ends || !matches!(what, What::Ends { .. });
    deeds
        .timeline
        .retain(|entry| !lasts(&entry.what) && told(&entry.what));
    deeds
}

/// Spells of decision instants of which something holds.
fn spells(possession: &Possession, holds: impl Fn(&Moment) -> bool) -> Vec<Spell> {
    let mut found: Vec<Spell> = Vec::new();
    for moment in possession.moments.iter().filter(|m| holds(m)) {
        match found.last_mut() {
            Some(spell) if moment.time - spell.to < APART => {
                spell.to = moment.time + windows::INSTANT
            }
            _ => found.push(Spell {
                from: moment.time,
                to: moment.time + windows::INSTANT,
            }),
        }
    }
    found
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn at_a_decision_instant_the_picture_is_what_the_looks_were_measured_from() {
        let recording = Recording::of(&Arc::new(Scenario::demo()), 3);
        assert_eq!(recording.instants.len(), recording.possession.moments.len());
        let mut seen = 0;
        for (i, moment) in recording.possession.moments.iter().enumerate().skip(1) {
            let picture = recording.picture(moment.time);
            assert_eq!(picture.pos, recording.instants[i].old.scene.pos);
            assert_eq!(recording.moment_at(moment.time), Some(i));
            assert_eq!(recording.looks_with(i, &[None; BODIES]), moment.looks);
            seen += 1;
        }
        assert!(seen > 5);
    }

    #[test]
    fn a_moved_defender_changes_the_looks_and_put_back_they_are_as_they_were() {
        let recording = Recording::of(&Arc::new(Scenario::demo()), 3);
        let far = Vec2::new(0.0, 11.0);
        let mut moved = [None; BODIES];
        moved[5..].fill(Some(far));
        let mut opened = 0;
        for i in 0..recording.instants.len() {
            let looks = recording.looks_with(i, &moved);
            let open = |looks: &[LookNow]| looks.iter().filter(|l| l.open).count();
            opened += usize::from(open(&looks) > open(&recording.possession.moments[i].looks));
        }
        assert!(opened * 2 > recording.instants.len(), "{opened}");
    }
}
