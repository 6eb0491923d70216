//! What a team has learnt before it plays: pilot possessions of this very offence, defence and squads, and the
//! value that is fitted to what they came to. The same scenario always gives the same value, whoever asks for it:
//! it is kept by what the scenario says; for some that come with the program it comes with it.
//!
//! Pilots let go of almost every look, so that all chances of a possession are seen, the late ones too; from
//! them the fit works out what any bar would have come to. Before them as many others drive now and then for no
//! reason: they tell how much comes of what looks promise.

use std::fmt::Write as _;
use std::panic::resume_unwind;
use std::sync::{Arc, Mutex, OnceLock};

use crate::checksum::Checksum;
use crate::court::{Court, ShotZone};
use crate::looks::{BODIES, Cast};
use crate::possession::{Ballwork, Ending, LookNow, Possession};
use crate::scenario::Scenario;
use crate::squad::Player;
use crate::value::{FROM_A_DRIVE, GOES_ON, GROUPS, Path, Value, group, settle, shipped};

use super::book::Witness;
use super::ground::Keep;
use super::play::{play_shared, run};

/// Points that this team usually scores in a possession: the yardstick of its choices. The mean of
/// an open shot at the rim and an open one from outside, less what defence and lost balls take
/// (ours: a share that suits men's professional squads, NBA 2022-24, from memory, med–high, and
/// college squads, NCAA Division I, from memory, med).
fn usual(players: &[Player], there: [bool; 5]) -> f64 {
    let (mut sum, mut number) = (0.0, 0.0);
    for (player, _) in players.iter().zip(there).filter(|(_, there)| *there) {
        let rim = 2.0 * player.shooting.open(ShotZone::Rim);
        let far = (3.0 * player.shooting.open(ShotZone::ArcThree))
            .max(2.0 * player.shooting.open(ShotZone::MidRange));
        sum += 0.5 * (rim + far);
        number += 1.0;
    }
    0.7 * sum / number
}

/// The players of a scenario, who know only what is known before anything is played.
fn untaught(scenario: &Scenario) -> Cast {
    let mut court: Court = scenario.court;
    if scenario.shot_clock.is_some() {
        court.clock.shot = scenario.shot_clock;
    }
    let players: [Player; BODIES] = std::array::from_fn(|i| {
        if i < 5 {
            scenario.attackers.players[i].clone()
        } else {
            scenario.defenders.players[i - 5].clone()
        }
    });
    let model = Arc::clone(&scenario.model);
    Cast {
        court,
        usual: usual(&players, scenario.offence.there()),
        there: scenario.offence.there(),
        players,
        model,
        value: Value::default(),
    }
}

/// Play one possession. Same scenario and same seed: the same possession, bit for bit.
///
/// # Examples
/// ```
/// # use lanelight_play as lanelight;
/// use lanelight::sim::{Keep, play};
/// use lanelight::scenario::Scenario;
///
/// let scenario = Scenario::demo();
/// let possession = play(&scenario, 7, Keep::ALL);
/// assert_eq!(possession, play(&scenario, 7, Keep::ALL));
/// assert!(possession.duration > 0.0 && !possession.timeline.is_empty());
/// ```
pub fn play(scenario: &Scenario, seed: u64, keep: Keep) -> Possession {
    play_shared(&Arc::new(scenario.clone()), &cast_of(scenario), seed, keep)
}

/// How many pilots of either kind are played (ours: with twice as many the bars move by less than 0.02 points).
const PILOTS: u64 = 64;
/// Seeds of pilots begin here: no possession that anybody looks at is one.
const PILOT_SEEDS: u64 = 1 << 40;
/// Pilots let go of almost everything: their bars are so much higher than those known before (ours).
const LETS_GO: f64 = 1.5;

/// How strongly what looks are usually worth is held near what was known before, samples (ours).
const PULL: f64 = 60.0;
/// And what comes of them, samples: of twelve match-ups learnt by 4,000 pilots the share that comes of a drive differs by
/// 0.06 (without those that screen for it), and 64 pilots missed it by 0.07 when held half-way, so alone by about 0.14.
const PULL_OF_WHAT_COMES: f64 = 150.0;
/// What it is worth to go on, as by so many pilots: of the same match-ups it differs by 0.08 of the usual possession, and 64
/// pilots alone miss it by 0.05; within a level of play it differs less.
const PULL_OF_GOING_ON: f64 = 64.0;

/// The players of a scenario, who play by what is known before anything is learnt: the same play, but for what
/// the holder asks of a look. Nothing is played to make them.
pub fn cast_untaught(scenario: &Scenario) -> Arc<Cast> {
    Arc::new(untaught(scenario))
}

/// The players of a scenario, with the value that they have learnt.
pub fn cast_of(scenario: &Scenario) -> Arc<Cast> {
    let mut cast = untaught(scenario);
    if let Some(scenario) = taught(scenario) {
        let sum = sum(&scenario);
        let learn = || shipped(sum).unwrap_or_else(|| fitted(scenario, &cast));
        cast.value = *kept(sum).get_or_init(learn);
    }
    Arc::new(cast)
}

/// Learns a scenario's value anew, even if it comes with the program, and plays by that from now on: the sum of
/// what was learnt from, and the value. None where nobody chooses by value.
pub fn learn(scenario: &Scenario) -> Option<(u64, Value)> {
    let cast = untaught(scenario);
    let scenario = taught(scenario)?;
    let sum = sum(&scenario);
    let value = fitted(scenario, &cast);
    let mut all = KEPT.lock().unwrap_or_else(|broken| broken.into_inner());
    all.retain(|(kept, _)| *kept != sum);
    all.push((sum, Arc::new(value.into())));
    Some((sum, value))
}

/// What is learnt from: the scenario without what the coach asks on top of the value. In a clean drill nobody
/// chooses by value.
fn taught(scenario: &Scenario) -> Option<Scenario> {
    if scenario.drill.clean || scenario.drill.passive {
        return None;
    }
    let mut scenario = scenario.clone();
    scenario.offence.patience.asks_more = 0.0;
    Some(scenario)
}

/// Values by scenario, for as long as the program runs.
type Kept = Mutex<Vec<(u64, Arc<OnceLock<Value>>)>>;
static KEPT: Kept = Mutex::new(Vec::new());

fn kept(sum: u64) -> Arc<OnceLock<Value>> {
    let mut kept = KEPT.lock().unwrap_or_else(|broken| broken.into_inner());
    if let Some((_, value)) = kept.iter().find(|(s, _)| *s == sum) {
        return value.clone();
    }
    let value = Arc::new(OnceLock::new());
    kept.push((sum, value.clone()));
    value
}

/// The sum of everything in a scenario that changes what is learnt.
fn sum(scenario: &Scenario) -> u64 {
    struct Summed(Checksum);
    impl std::fmt::Write for Summed {
        fn write_str(&mut self, text: &str) -> std::fmt::Result {
            self.0.add(text.as_bytes());
            Ok(())
        }
    }
    let s = scenario;
    // In which units lengths are shown is no part of the play.
    let mut court = s.court;
    court.units = Court::of(court.code).units;
    let mut sum = Summed(Checksum::default());
    let squads = (&s.attackers.players, &s.defenders.players);
    // Nor are names and notes: whoever gives a rule another need not wait.
    let mut offence = s.offence.clone();
    (offence.name, offence.note) = Default::default();
    offence.rules.iter_mut().for_each(|rule| rule.name.clear());
    let mut defence = s.defence.clone();
    (defence.name, defence.note) = Default::default();
    let play = (&court, &offence, &defence, squads);
    let rest = (s.start, s.shot_clock, s.drill, &s.model);
    // Adding bytes to a sum can't fail.
    let _ = write!(sum, "{play:?} {rest:?}");
    sum.0.value()
}

/// What a pilot has seen: its chances; and number, sum and sum of squares of what looks are worth, by group.
type Seen = (Path<GOES_ON>, [[f64; 3]; GROUPS]);

fn fitted(scenario: Scenario, cast: &Cast) -> Value {
    let scenario = Arc::new(scenario);
    let before = cast.value;
    let mut value = before;
    let explored = play_all(
        &Arc::new(cast.clone()),
        &scenario,
        PILOT_SEEDS + PILOTS,
        explore,
    );
    for (g, usual) in value.looks.iter_mut().enumerate() {
        // A line through nothing, held near what was known before.
        let mut sums = [PULL_OF_WHAT_COMES, PULL_OF_WHAT_COMES * usual.comes];
        for tried in &explored {
            sums[0] += tried[g][0];
            sums[1] += tried[g][1];
        }
        usual.comes = sums[1] / sums[0];
    }
    let mut lets_go = cast.clone();
    lets_go.value = value;
    for weight in &mut lets_go.value.goes_on {
        *weight *= LETS_GO;
    }
    let seen = play_all(&Arc::new(lets_go), &scenario, PILOT_SEEDS, pilot);
    let (paths, looks): (Vec<_>, Vec<_>) = seen.into_iter().unzip();
    // The chances of one pilot tell nearly the same: what counts is the number of pilots.
    let chances: usize = paths.iter().map(|path| path.chances.len()).sum();
    let pull = PULL_OF_GOING_ON * chances as f64 / paths.len() as f64;
    value.goes_on = settle(&paths, &before.goes_on, pull);
    for (g, usual) in value.looks.iter_mut().enumerate() {
        let was = before.looks[g];
        let mut sums = [
            PULL,
            PULL * was.mean,
            PULL * (was.spread + was.mean * was.mean),
        ];
        for pilot in &looks {
            for (sum, more) in sums.iter_mut().zip(pilot[g]) {
                *sum += more;
            }
        }
        let [number, sum, squares] = sums;
        usual.mean = sum / number;
        usual.spread = (squares / number - usual.mean * usual.mean).max(0.0);
    }
    value
}

/// What pilots come to, in order of seed from `first` on, played on all threads.
fn play_all<T: Send>(
    cast: &Arc<Cast>,
    scenario: &Arc<Scenario>,
    first: u64,
    play_one: impl Fn(&Arc<Scenario>, &Arc<Cast>, u64) -> T + Sync,
) -> Vec<T> {
    let threads = std::thread::available_parallelism().map_or(1, usize::from);
    let mut all: Vec<(u64, T)> = std::thread::scope(|scope| {
        let part = |t: usize| {
            let seeds = (first..first + PILOTS).skip(t).step_by(threads);
            let played = seeds.map(|seed| (seed, play_one(scenario, cast, seed)));
            played.collect::<Vec<_>>()
        };
        let parts: Vec<_> = (0..threads).map(|t| scope.spawn(move || part(t))).collect();
        let done = parts
            .into_iter()
            .flat_map(|p| p.join().unwrap_or_else(|broken| resume_unwind(broken)));
        done.collect()
    });
    all.sort_by_key(|(seed, _)| *seed);
    all.into_iter().map(|(_, seen)| seen).collect()
}

/// A pilot possession: itself, what it came to, usual possessions, and what was asked of it.
fn witnessed(
    scenario: &Arc<Scenario>,
    cast: &Arc<Cast>,
    seed: u64,
    witness: Witness,
) -> (Possession, f64, Witness) {
    let (possession, witness) = run(scenario, cast, seed, Keep::FIGURES, witness, &[]);
    let came = match possession.ending {
        Ending::Shot { points, chance, .. } => f64::from(points) * chance / cast.usual,
        Ending::Turnover { .. } => 0.0,
    };
    (possession, came, witness)
}

/// A pilot that drives now and then for no reason: sums of squares of what looks promised that were taken, and of what
/// came of them, by group.
fn explore(scenario: &Arc<Scenario>, cast: &Arc<Cast>, seed: u64) -> [[f64; 2]; GROUPS] {
    let witness = Witness {
        taken: Some(Vec::new()),
        ..Witness::default()
    };
    let (_, came, witness) = witnessed(scenario, cast, seed, witness);
    let mut sums = [[0.0; 2]; GROUPS];
    for (kind, promised) in witness.taken.unwrap_or_default() {
        let sum = &mut sums[group(kind)];
        sum[0] += promised * promised;
        sum[1] += promised * came;
    }
    sums
}

fn pilot(scenario: &Arc<Scenario>, cast: &Arc<Cast>, seed: u64) -> Seen {
    let witness = Witness {
        chances: Some(Vec::new()),
        ..Witness::default()
    };
    let (possession, end, witness) = witnessed(scenario, cast, seed, witness);
    let mut looks = [[0.0; 3]; GROUPS];
    for moment in &possession.moments {
        // On a drive only what is passed out of it counts: a shot in full run at 6 m is no shot that anybody takes.
        let drives = moment.ballwork == Ballwork::Driving;
        let counts = |l: &&LookNow| l.allowed && (!drives || group(l.kind) == FROM_A_DRIVE);
        for look in moment.looks.iter().filter(counts) {
            let worth = cast.value.of_a_look(look.kind, look.value / cast.usual);
            let seen = [1.0, worth, worth * worth];
            for (sum, more) in looks[group(look.kind)].iter_mut().zip(seen) {
                *sum += more;
            }
        }
    }
    let chances = witness.chances.unwrap_or_default();
    (Path { chances, end }, looks)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_name_or_a_note_is_in_no_sum_and_every_number_is() {
        let demo = Scenario::demo();
        let mut named = demo.clone();
        named.name += " again";
        for text in [
            &mut named.offence.name,
            &mut named.offence.note,
            &mut named.offence.rules[0].name,
            &mut named.defence.name,
            &mut named.defence.note,
        ] {
            *text += " (said otherwise)";
        }
        assert_eq!(sum(&named), sum(&demo));
        let mut other = demo.clone();
        other.defence.closeout.short += 0.1;
        assert_ne!(sum(&other), sum(&demo));
    }
}
