//! Hand-offs in play: handed over when they are ordered, kept when the receiver is overplayed, and met as the defence
//! meets screens on the ball.

use std::sync::Arc;

use lanelight::defence::BallScreens;
use lanelight::offence::Event;
use lanelight::possession::{Frame, Possession, What};
use lanelight::scenario::Scenario;
use lanelight::scrimmage::orders::{Account, account};
use lanelight::sim::{Keep, cast_untaught, play_shared};

/// Possessions of each claim.
const POSSESSIONS: u64 = 50;

fn scenario(defence: &str, how: Option<BallScreens>) -> Scenario {
    let text = format!(
        "(name: \"h\", court: nfhs, level: varsity, offence: \"five_out_hand_offs\", defence: \"{defence}\")"
    );
    let mut scenario = Scenario::from_text(&text, "h.ron").unwrap_or_else(|e| panic!("{e}"));
    scenario.defence.ball_screens = how;
    scenario
}

/// A ball that went from hand to hand.
struct Over {
    possession: Possession,
    time: f64,
    giver: usize,
    receiver: usize,
}

impl Over {
    fn frames(&self, from: f64, to: f64) -> impl Iterator<Item = &Frame> {
        let between = move |f: &&Frame| f.time > self.time + from && f.time <= self.time + to;
        self.possession.track.iter().filter(between)
    }

    /// The defenders of the receiver and of the giver as the ball goes over.
    fn two(&self) -> Option<(usize, usize)> {
        let frame = self.frames(-0.1, 0.1).next()?;
        let of = |man: usize| frame.guards.iter().position(|g| usize::from(*g) == man + 1);
        Some((of(self.receiver)?, of(self.giver)?))
    }

    /// Does the receiver have the ball for so long?
    fn keeps(&self, seconds: f64) -> bool {
        self.frames(0.1, seconds)
            .all(|f| f.holder == Some(self.receiver as u8 + 1))
    }
}

fn handed(how: BallScreens) -> Vec<Over> {
    let scenario = scenario("help_line", Some(how));
    let cast = cast_untaught(&scenario);
    let scenario = Arc::new(scenario);
    let mut all = Vec::new();
    for seed in 1..=POSSESSIONS {
        let possession = play_shared(&scenario, &cast, seed, Keep::ALL);
        for entry in possession.timeline.clone() {
            if let What::HandsOff { from, to } = entry.what {
                all.push(Over {
                    possession: possession.clone(),
                    time: entry.time,
                    giver: usize::from(from) - 1,
                    receiver: usize::from(to) - 1,
                });
            }
        }
    }
    all
}

/// In how many of them it is so, of how many.
fn share(all: &[Over], is: impl Fn(&Over, usize, usize) -> bool) -> (usize, usize) {
    let two = all.iter().filter_map(|one| Some((one, one.two()?)));
    let so = two
        .clone()
        .filter(|(one, (own, other))| is(one, *own, *other));
    (so.count(), two.count())
}

fn at_least(what: &str, percent: usize, (so, all): (usize, usize)) {
    println!("{what}: {so} of {all}");
    assert!(
        all >= 30 && so * 100 >= all * percent,
        "{what}: {so} of {all}"
    );
}

fn ordered(against: &[&str]) -> Account {
    let scenarios: Vec<Scenario> = against.iter().map(|d| scenario(d, None)).collect();
    account(&scenarios, 120).unwrap()
}

/// Of the hand-offs that were ordered: handed over, those that the play left time for, kept from an overplayed receiver.
fn counted(account: &Account) -> (u64, u64, u64) {
    use lanelight::possession::orders::OrderEnd;
    let lines = account.rules.iter().flat_map(|rule| &rule.lines);
    let lines = lines.filter(|line| line.does.starts_with("dribble toward"));
    lines.fold((0, 0, 0), |(done, time, kept), line| {
        let own = line
            .ends
            .iter()
            .filter(|ended| ended.end == OrderEnd::KeptIt);
        let own: u64 = own.map(|ended| ended.count).sum();
        (done + line.done, time + line.had_time, kept + own)
    })
}

#[test]
fn the_ball_is_handed_over_when_it_is_ordered_and_kept_from_an_overplayed_receiver() {
    let (done, time, _) = counted(&ordered(&["sag", "denial", "help_line"]));
    println!("handed over: {done} of {time}");
    assert!(time > 100 && done * 10 >= time * 9, "{done} of {time}");
    let kept = |against: &str| {
        let (done, _, kept) = counted(&ordered(&[against]));
        (kept, done + kept)
    };
    let (denial, sag) = (kept("denial"), kept("sag"));
    println!("kept: {denial:?} against denial, {sag:?} against sag");
    assert!(
        denial.0 * sag.1 > 2 * sag.0 * denial.1,
        "{denial:?} {sag:?}"
    );
}

#[test]
fn it_is_met_as_a_screen_on_the_ball() {
    use BallScreens as B;
    let traded = |one: &Over, _: usize, _: usize| {
        let soon = |t: f64| t >= one.time && t < one.time + 1.0;
        let mut entries = one.possession.timeline.iter();
        entries.any(|e| soon(e.time) && matches!(e.what, What::Switches { .. }))
    };
    at_least("switch, traded", 90, share(&handed(B::Switch), traded));
    assert_eq!(share(&handed(B::Over), traded).0, 0);
    // The giver's defender comes to the ball, as long as the receiver has it.
    let comes = |one: &Over, _: usize, other: usize| {
        let near = |f: &Frame| (f.defenders[other] - f.attackers[one.receiver]).length() < 1.7;
        !one.keeps(1.0) || one.frames(0.2, 1.2).any(near)
    };
    at_least("trap, comes out", 85, share(&handed(B::Trap), comes));
}

/// Before: at the elbow, on the way to the hand-off, the holder threw the ball to the very team-mate (5 of 96).
#[test]
fn who_is_on_the_way_to_hand_the_ball_over_does_not_throw_it_to_that_team_mate() {
    let (mut handed, mut thrown) = (0, 0);
    for defence in ["sag", "denial", "help_line"] {
        let scenario = scenario(defence, None);
        let cast = cast_untaught(&scenario);
        let scenario = Arc::new(scenario);
        for seed in 1..=70 {
            let possession = play_shared(&scenario, &cast, seed, Keep::ALL);
            let mut about = None;
            for entry in &possession.timeline {
                match entry.what {
                    What::SetsOutToHand { who, toward, .. } => about = Some((who, toward)),
                    What::HandsOff { from, to } if about == Some((from, to)) => {
                        handed += 1;
                        about = None;
                    }
                    What::Passes { from, to, .. } if about == Some((from, to)) => {
                        thrown += 1;
                        about = None;
                    }
                    What::KeepsIt { .. } | What::Passes { .. } | What::Drives { .. } => {
                        about = None
                    }
                    _ => {}
                }
            }
        }
    }
    println!("handed over {handed}, thrown {thrown}");
    assert!(handed > 30 && thrown == 0, "{handed}, {thrown}");
}

/// Before: who was stopped on a drive had held the ball on the wing since the catch, and was told to dribble on (11 of 31
/// orders that were not carried out).
#[test]
fn a_ball_that_is_driven_has_not_stayed() {
    let (mut fired, mut driven) = (0, Vec::new());
    for defence in ["sag", "denial"] {
        let scenario = Arc::new(scenario(defence, None));
        let cast = cast_untaught(&scenario);
        let stays = |rule: usize| match scenario.offence.rules[rule].when {
            Event::BallOn { seconds, .. } => Some(seconds),
            _ => None,
        };
        for seed in 1..=150 {
            let possession = play_shared(&scenario, &cast, seed, Keep::ALL);
            for (i, entry) in possession.timeline.iter().enumerate() {
                let What::Rule { rule, .. } = entry.what else {
                    continue;
                };
                let Some(seconds) = stays(rule) else { continue };
                fired += 1;
                let mut before = possession.timeline[..i].iter().rev();
                let drives = before.any(|e| {
                    e.time > entry.time - seconds
                        && matches!(e.what, What::Drives { .. } | What::Stopped { .. })
                });
                if drives {
                    driven.push((defence, seed, entry.time));
                }
            }
        }
    }
    println!("{fired} times the ball stayed, driven: {driven:?}");
    assert!(fired > 100 && driven.is_empty(), "{fired}, {driven:?}");
}
