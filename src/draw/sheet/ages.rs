//! What a practice is like at an age: its blocks, how long one works and rests, how often one drinks.
//! All of it is common practice of the trade: the younger, the more ball and the less talk.

use crate::squad::Level;

use super::plan::{Block, Wanted, fit};

/// How the block begins in which the rules are walked.
pub(super) const WALK: &str = "Walk through the rule card";
/// How the block begins in which both sides play.
pub(super) const LIVE: &str = "Live play";
/// How many the youngest play on a side, as a word.
pub(super) const SMALL_GAME: &str = "three";
/// A break to drink.
const DRINK: &str = "Drink";
/// One look more is rehearsed for each so many minutes of a practice (ours: beside all else each then gets several
/// turns of every team on both sides).
const A_LOOK: u32 = 30;
/// Its minutes.
const BREAK: f64 = 3.0;

/// How players of an age practise.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Age {
    /// Seconds of work in one repetition, and of rest after it.
    pub work: u32,
    /// Seconds of rest with the walk back.
    pub rest: u32,
    /// Minutes between two drinks.
    pub drink_every: u32,
    /// Looks rehearsed in one practice, at most.
    pub most_looks: usize,
    /// Players in a breakdown group, at most.
    pub group: usize,
    /// A practice longer than this is too much, minutes.
    pub most: u32,
    /// Small games instead of team defence.
    pub small: bool,
}

/// How many play on a side, as a word.
pub(super) fn side(players: u8) -> &'static str {
    match players {
        2 => "two",
        3 => "three",
        4 => "four",
        _ => "five",
    }
}

/// How the block begins in which the defenders learn their places.
pub(super) const SHELL: &str = "Shell drill";

/// The shell drill for so many.
pub(super) fn shell(players: u8) -> String {
    format!("{SHELL}: {} defenders learn their places", side(players))
}

/// The longest time between two drinks, from the start to the end, minutes.
pub(super) fn stretch(plan: &[Block]) -> u32 {
    let (mut most, mut now) = (0, 0);
    for block in plan {
        now = if block.what == DRINK {
            0
        } else {
            now + block.minutes
        };
        most = most.max(now);
    }
    most
}

impl Age {
    /// The age of a level.
    pub fn of(level: Level) -> Age {
        match level {
            Level::Under10 | Level::Under12 => Age {
                work: 15,
                rest: 30,
                drink_every: 15,
                most_looks: 1,
                group: 3,
                most: 60,
                small: true,
            },
            Level::Under14 => Age {
                work: 15,
                rest: 25,
                drink_every: 20,
                most_looks: 2,
                group: 3,
                most: 90,
                small: false,
            },
            _ => Age {
                work: 10,
                rest: 15,
                drink_every: 25,
                most_looks: 3,
                group: 4,
                most: 150,
                small: false,
            },
        }
    }

    /// How many looks are rehearsed in a practice of so many minutes.
    pub fn looks(self, minutes: u32) -> usize {
        let room = (minutes / A_LOOK) as usize;
        room.clamp(1, self.most_looks)
    }

    /// Seconds for one repetition with the walk back.
    pub fn repetition(self) -> f64 {
        f64::from(self.work + self.rest)
    }

    /// What the sheet says under the plan.
    pub fn words(self, minutes: u32) -> String {
        let mut said = format!(
            "Work and rest at this age (common practice): {} s of work, then {} s of rest; one minute of a block explains it. A \
             drink at least every {} minutes: stop a longer block for it.",
            self.work, self.rest, self.drink_every
        );
        if minutes > self.most {
            said += &format!(" More than {} minutes is long for it.", self.most);
        }
        said
    }

    /// The blocks of a practice around these: the rules are walked before the breakdown drills against a defender, the
    /// shell drill and the looks to rehearse come after those.
    /// `players` are in a team.
    pub fn blocks(
        self,
        breakdowns: Vec<Wanted>,
        looks: Vec<Wanted>,
        minutes: u32,
        players: u8,
    ) -> Vec<Wanted> {
        let side = side(players);
        let block = |what: &str, share: f64, rank: u32| Wanted {
            what: what.to_string(),
            share,
            rank,
        };
        let mut all = Vec::new();
        if self.small {
            all.push(block(
                "Warm up: a running game, everybody with a ball",
                0.16,
                1,
            ));
            all.push(block("Dribble, stop, pivot, pass in pairs", 0.18, 2));
            // Nobody plays against a defender what has not been walked.
            all.push(block(
                &format!("{WALK}s: {side} on none, both sides"),
                0.12,
                4,
            ));
            all.extend(breakdowns);
            all.extend(looks);
            let games = format!("{LIVE}, {SMALL_GAME} on {SMALL_GAME} at each basket");
            all.push(block(&games, 0.28, 3));
            all.push(block(
                "A shooting game in pairs; talk: what was open?",
                0.1,
                8,
            ));
        } else {
            all.push(block("Warm up: easy runs, passes, lay-ups", 0.14, 1));
            // Nobody plays against a defender what has not been walked.
            all.push(block(
                &format!("{WALK}s: {side} on none, both sides"),
                0.16,
                3,
            ));
            all.extend(breakdowns);
            // The defenders learn their places before looks are rehearsed against them.
            all.push(block(&shell(players), 0.16, 4));
            all.extend(looks);
            let games = format!("{LIVE}, {side} on {side}");
            all.push(block(&games, 0.18, 6));
            all.push(block(
                "Slow down; talk: each names a look that was open, and whose defender left it",
                0.08,
                9,
            ));
        }
        self.with_drinks(all, minutes)
    }

    /// Blocks in whole minutes with nobody kept longer from a drink than this age may be: where rounding has made a
    /// stretch too long, drinks go to the places between blocks that keep the longest stretch shortest.
    pub(super) fn timed(self, wanted: Vec<Wanted>, minutes: u32) -> Vec<Block> {
        let mut best = fit(wanted.clone(), minutes);
        let mut least = stretch(&best);
        let drink = wanted.iter().find(|w| w.what == DRINK).cloned();
        let work: Vec<Wanted> = wanted.into_iter().filter(|w| w.what != DRINK).collect();
        let Some(drink) = drink.filter(|_| (2..=16).contains(&work.len())) else {
            return best;
        };
        let drinks = minutes.saturating_sub(1) / self.drink_every;
        for count in drinks..drinks + 3 {
            if least <= self.drink_every {
                break;
            }
            for places in 0_u32..1 << (work.len() - 1) {
                if places.count_ones() != count {
                    continue;
                }
                let mut all = Vec::new();
                for (i, block) in work.iter().enumerate() {
                    all.push(block.clone());
                    if places & (1 << i) != 0 {
                        all.push(drink.clone());
                    }
                }
                let plan = fit(all, minutes);
                if stretch(&plan) < least {
                    least = stretch(&plan);
                    best = plan;
                }
            }
        }
        best
    }

    /// Drinks between the blocks, as evenly as the blocks allow.
    pub(super) fn with_drinks(self, blocks: Vec<Wanted>, minutes: u32) -> Vec<Wanted> {
        let drinks = minutes.saturating_sub(1) / self.drink_every;
        let whole: f64 = blocks.iter().map(|b| b.share).sum();
        let share = whole * BREAK / (f64::from(minutes) - BREAK * f64::from(drinks)).max(BREAK);
        let last = blocks.len().saturating_sub(1);
        let (mut done, mut had) = (0.0, 0);
        let mut out = Vec::new();
        for (i, block) in blocks.into_iter().enumerate() {
            done += block.share;
            out.push(block);
            let due = f64::from(had + 1) / f64::from(drinks + 1);
            if had < drinks && i < last && done + 1e-9 >= due * whole - 0.08 {
                had += 1;
                out.push(Wanted {
                    what: DRINK.to_string(),
                    share,
                    // Never left out for want of time.
                    rank: 1,
                });
            }
        }
        out
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn nobody_waits_longer_for_a_drink_than_the_sheet_says() {
        let wanted = |what: &str, n: u32, share: f64| {
            let list = (0..n).map(|i| Wanted {
                what: format!("{what} {}", i + 1),
                share,
                rank: 2 + 3 * i,
            });
            list.collect::<Vec<_>>()
        };
        for level in [Level::Under12, Level::Under14, Level::VarsityBoys] {
            let age = Age::of(level);
            for minutes in 30..=120 {
                let looks = wanted("Look", age.looks(minutes) as u32, 0.08);
                let blocks = age.blocks(wanted("Drill", 3, 0.09), looks, minutes, 5);
                let plan = age.timed(blocks, minutes);
                let longest = stretch(&plan);
                let block = plan.iter().map(|b| b.minutes).max().unwrap_or_default();
                assert!(
                    longest <= age.drink_every.max(block),
                    "{level:?} {minutes}: {longest}: {plan:#?}"
                );
                assert_eq!(plan.iter().map(|b| b.minutes).sum::<u32>(), minutes);
            }
        }
    }

    #[test]
    fn the_young_drink_more_often_play_small_games_and_rest_longer() {
        let drinks = |level: Level| {
            let look = Wanted {
                what: "Look 1".into(),
                share: 0.13,
                rank: 2,
            };
            let blocks = Age::of(level).blocks(Vec::new(), vec![look], 60, 5);
            let small = blocks.iter().any(|b| b.what.contains("three on three"));
            let shell = blocks.iter().any(|b| b.what.contains("Shell"));
            assert!(small != shell);
            (blocks.iter().filter(|b| b.what == "Drink").count(), small)
        };
        assert_eq!(drinks(Level::Under12), (3, true));
        assert_eq!(drinks(Level::VarsityGirls), (2, false));
        let (young, grown) = (Age::of(Level::Under12), Age::of(Level::ProWomen));
        assert!(young.rest > grown.rest && young.most < grown.most);
    }
}
