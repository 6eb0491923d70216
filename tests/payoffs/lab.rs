//! Plays match-ups, each once, and keeps what the claims need of every possession.

use std::collections::BTreeMap;
use std::sync::{Arc, Mutex};

use lanelight::contest::paired::{FEWEST_CHANGED, PairTally};
use lanelight::court::{Court, CourtCode};
use lanelight::offence::{Event, LookKind, Movement, Offence, Role};
use lanelight::possession::{Possession, What};
use lanelight::scenario::Scenario;
use lanelight::scrimmage::Row;
use lanelight::sim::{Keep, cast_of, play_shared};
use lanelight::squad::{Level, Player};
use lanelight::stats::{CONFIDENCE, Estimate, ratio_estimate, share_estimate};
use rayon::prelude::*;

use super::help::{Helped, helped};

/// The reference offence, whose payoffs are measured.
pub const OFFENCE: &str = "four_out_one_post";
/// An open shot from outside: nobody nearer than six feet at the release, metres (the class "wide
/// open" of published shot tables; common practice).
pub const OPEN: f64 = 6.0 * 0.3048;
/// How much slower a slower defender is (ours).
const SLOWER: f64 = 0.9;
/// How much more often a better shooter makes an open shot (ours).
const BETTER: f64 = 1.1;

/// A level of play and its court.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Tier {
    Varsity,
    Professional,
}

impl Tier {
    pub fn word(self) -> &'static str {
        match self {
            Tier::Varsity => "varsity",
            Tier::Professional => "professional",
        }
    }

    fn level(self) -> Level {
        match self {
            Tier::Varsity => Level::VarsityBoys,
            Tier::Professional => Level::ProMen,
        }
    }

    fn court(self) -> CourtCode {
        match self {
            Tier::Varsity => CourtCode::Nfhs,
            Tier::Professional => CourtCode::Nba,
        }
    }

    /// The court on which spacing is compared: on it both sets of spots stand outside the arc.
    pub fn court_of_spacing(self) -> CourtCode {
        match self {
            Tier::Varsity => CourtCode::Nfhs,
            Tier::Professional => CourtCode::Fiba,
        }
    }
}

/// What is changed in the shipped match-up, as data; the simulation stays as it is.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Change {
    Shipped,
    /// Every rule that sends somebody to cut is gone, with all its lines (they fill behind the cut).
    PassAndStand,
    /// The rules for a denied player are gone, and the look at a backdoor cut.
    NoBackdoor,
    /// Points above the usual that a look must promise early on.
    AsksMore(f64),
    /// Defenders: top speed, acceleration, braking and turn times 0.9.
    SlowerDefenders,
    /// Attackers: open makes from every zone times 1.1.
    BetterShooters,
    /// The lines and clocks of one court with the spots of another.
    Spots {
        court: CourtCode,
        spots: CourtCode,
    },
    /// No rule moves the post.
    StillPost,
}

impl Change {
    fn make(self, scenario: &mut Scenario) {
        match self {
            Change::Shipped => {}
            Change::PassAndStand => {
                let cuts =
                    |m: &Movement| matches!(m, Movement::Cut { .. } | Movement::UseScreen { .. });
                let offence = &mut scenario.offence;
                offence
                    .rules
                    .retain(|r| !r.actions.iter().any(|a| cuts(&a.does)));
            }
            Change::NoBackdoor => {
                let Offence { rules, reading, .. } = &mut scenario.offence;
                rules.retain(|r| !matches!(r.when, Event::Denied { .. }));
                reading.retain(|look| *look != LookKind::Backdoor);
            }
            Change::AsksMore(points) => scenario.offence.patience.asks_more = points,
            Change::SlowerDefenders => scenario.defenders.players.iter_mut().for_each(slower),
            Change::BetterShooters => scenario.attackers.players.iter_mut().for_each(better),
            Change::Spots { court, spots } => {
                scenario.court = court_with_spots(court, spots);
                scenario.shot_clock = scenario.court.clock.shot;
            }
            Change::StillPost => {
                for rule in &mut scenario.offence.rules {
                    rule.actions.retain(|a| a.who != Role::Post);
                }
                scenario.offence.rules.retain(|r| !r.actions.is_empty());
            }
        }
    }
}

fn slower(player: &mut Player) {
    let limits = &mut player.limits;
    for figure in [
        &mut limits.top_speed,
        &mut limits.accel,
        &mut limits.brake,
        &mut limits.turn,
    ] {
        *figure *= SLOWER;
    }
}

fn better(player: &mut Player) {
    let s = &mut player.shooting;
    for chance in [
        &mut s.rim,
        &mut s.paint,
        &mut s.mid_range,
        &mut s.corner_three,
        &mut s.arc_three,
    ] {
        *chance = (*chance * BETTER).min(0.98);
    }
}

/// The court of one rule set on which players stand at the spots of another.
pub fn court_with_spots(court: CourtCode, spots: CourtCode) -> Court {
    let lines = Court::of(court);
    let mut mixed = *Court::of(spots);
    mixed.code = lines.code;
    mixed.name = lines.name;
    mixed.width = lines.width;
    mixed.half_length = lines.half_length;
    mixed.rim_to_baseline = lines.rim_to_baseline;
    mixed.backboard_to_baseline = lines.backboard_to_baseline;
    mixed.backboard_width = lines.backboard_width;
    mixed.lane_width = lines.lane_width;
    mixed.ft_line_from_baseline = lines.ft_line_from_baseline;
    mixed.circle_radius = lines.circle_radius;
    mixed.arc_radius = lines.arc_radius;
    mixed.corner_distance = lines.corner_distance;
    mixed.restricted_radius = lines.restricted_radius;
    mixed.rim_height = lines.rim_height;
    mixed.ring_radius = lines.ring_radius;
    mixed.line_width = lines.line_width;
    mixed.ball_size = lines.ball_size;
    mixed.units = lines.units;
    mixed.clock = lines.clock;
    mixed
}

/// The reference offence against a shipped defence, with one thing changed.
pub fn match_up(tier: Tier, defence: &str, change: Change) -> Scenario {
    let scenario = Scenario::from_parts(tier.court(), tier.level(), OFFENCE, defence, &[]);
    let mut scenario = scenario.expect("a shipped match-up");
    change.make(&mut scenario);
    scenario
}

/// What the claims need of one possession.
#[derive(Clone, Debug)]
pub struct Digest {
    /// Points that the shot promises (worth times chance at the release), 0 for a lost ball. Its mean
    /// is that of the points made; its spread is smaller.
    pub worth: f64,
    pub lost: bool,
    /// Seconds.
    pub duration: f64,
    pub rim_shot: bool,
    /// A three with nobody within [`OPEN`].
    pub open_three: bool,
    /// Passes to a team-mate who plays inside.
    pub post_feeds: u32,
    /// Windows in which a skip pass is open.
    pub skips: u32,
    /// Windows in which a skip pass is open to a team-mate who could shoot at once.
    pub weak_threes: u32,
    /// Backdoor chances, and passes to a backdoor cut.
    pub backdoors: u32,
    pub backdoor_feeds: u32,
    pub helped: Vec<Helped>,
}

impl Digest {
    pub fn of(p: &Possession) -> Digest {
        let row = Row::of(p);
        let fed = |e: &&lanelight::possession::Entry| {
            matches!(
                e.what,
                What::Passes {
                    look: LookKind::Post,
                    ..
                }
            )
        };
        Digest {
            worth: row.shot.map_or(0.0, |s| s.chance * f64::from(s.points)),
            lost: row.turnover.is_some(),
            duration: row.duration,
            rim_shot: row
                .shot
                .is_some_and(|s| s.zone == lanelight::court::ShotZone::Rim),
            open_three: row.shot.is_some_and(|s| s.points == 3 && s.room >= OPEN),
            post_feeds: p.timeline.iter().filter(fed).count() as u32,
            skips: row.look(LookKind::Skip).windows.len() as u32,
            weak_threes: row.weak_spot_ups,
            backdoors: row.backdoor_windows.len() as u32,
            backdoor_feeds: row.backdoor_fed,
            helped: helped(p, row.shot.map_or(0.0, |s| s.chance * f64::from(s.points))),
        }
    }
}

/// What a possession adds above and below the line of a ratio of sums.
pub type Pair = fn(&Digest) -> (f64, f64);

/// Match-ups at one level, each played once and kept.
pub struct Lab {
    pub tier: Tier,
    pub possessions: u64,
    played: Mutex<BTreeMap<String, Arc<Vec<Digest>>>>,
}

impl Lab {
    pub fn new(tier: Tier, possessions: u64) -> Lab {
        Lab {
            tier,
            possessions,
            played: Mutex::default(),
        }
    }

    /// The possessions of seeds 1, 2, ... in this order.
    pub fn play(&self, defence: &str, change: Change) -> Arc<Vec<Digest>> {
        let key = format!("{defence} {change:?}");
        let mut played = self.played.lock().expect("no measurement has failed");
        if let Some(digests) = played.get(&key) {
            return digests.clone();
        }
        let scenario = Arc::new(match_up(self.tier, defence, change));
        let cast = cast_of(&scenario);
        // Only the shipped match-ups are asked for helped attacks, which are read from the track.
        let keep = Keep {
            track: change == Change::Shipped,
            moments: true,
        };
        let digests: Vec<Digest> = (1..=self.possessions)
            .into_par_iter()
            .map(|seed| Digest::of(&play_shared(&scenario, &cast, seed, keep)))
            .collect();
        let digests = Arc::new(digests);
        played.insert(key, digests.clone());
        digests
    }

    /// How much more `pair` comes to in the second match-up than in the first, on the same seeds.
    pub fn gain(&self, a: (&str, Change), b: (&str, Change), pair: Pair) -> Option<Estimate> {
        let (a, b) = (self.play(a.0, a.1), self.play(b.0, b.1));
        difference(a.iter().zip(b.iter()).map(|(a, b)| (pair(a), pair(b))))
    }

    /// The same, summed over several defences seed by seed.
    pub fn gain_over(
        &self,
        defences: &[&str],
        a: Change,
        b: Change,
        pair: Pair,
    ) -> Option<Estimate> {
        let sums = |change| {
            let all: Vec<_> = defences.iter().map(|d| self.play(d, change)).collect();
            let sum = move |i: usize| {
                let each = all.iter().map(|digests| pair(&digests[i]));
                each.fold((0.0, 0.0), |s, p| (s.0 + p.0, s.1 + p.1))
            };
            (0..self.possessions as usize).map(sum).collect::<Vec<_>>()
        };
        difference(sums(a).into_iter().zip(sums(b)))
    }

    /// A mean or a ratio in one match-up.
    pub fn mean(&self, a: (&str, Change), pair: Pair) -> Option<Estimate> {
        ratio_estimate(self.play(a.0, a.1).iter().map(pair), CONFIDENCE)
    }

    /// A part of a whole in one match-up.
    pub fn share(&self, a: (&str, Change), pair: Pair) -> Option<Estimate> {
        share_estimate(self.play(a.0, a.1).iter().map(pair), CONFIDENCE)
    }

    /// Two ratios of the same possessions: how much more `b` comes to than `a`.
    pub fn within(&self, played: (&str, Change), a: Pair, b: Pair) -> Option<Estimate> {
        let digests = self.play(played.0, played.1);
        difference(digests.iter().map(|d| (a(d), b(d))))
    }
}

/// Paired difference of two ratios of sums; none where too few seeds differ to say anything.
fn difference(pairs: impl Iterator<Item = ((f64, f64), (f64, f64))>) -> Option<Estimate> {
    let mut tally = PairTally::default();
    pairs.for_each(|(a, b)| tally.push(a, b));
    let found = tally.result()?;
    found.difference.filter(|_| found.changed >= FEWEST_CHANGED)
}
