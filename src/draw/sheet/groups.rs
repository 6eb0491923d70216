//! Who plays and who waits in a breakdown drill, for the players and baskets that there are (common practice of the trade):
//! the players are spread over the baskets, one group plays at each, and the others stand in line.

use crate::scenario::Session;

/// Players of a drill at the baskets.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Groups {
    /// Who play at a basket at a time, with the defender.
    pub size: usize,
    /// Baskets in use.
    pub baskets: usize,
    /// Players at each.
    pub each: usize,
    /// Baskets with one player more.
    pub over: usize,
}

impl Groups {
    /// For a group of `size` attackers and a defender. `None` with fewer players than that.
    pub fn of(session: &Session, size: usize) -> Option<Groups> {
        let (players, size) = (session.players() as usize, size + 1);
        let baskets = (players / size).min(session.baskets().max(1) as usize);
        (baskets > 0).then(|| Groups {
            size,
            baskets,
            each: players / baskets,
            over: players % baskets,
        })
    }

    /// "5 players at each of 2 baskets: 3 play, the others wait in line."
    pub fn words(self) -> String {
        let baskets = match self.baskets {
            1 => "at one basket".to_string(),
            n => format!("at each of {n} baskets"),
        };
        let more = match self.over {
            0 => String::new(),
            1 => format!(", {} at one of them", self.each + 1),
            n => format!(", {} at {n} of them", self.each + 1),
        };
        let wait = match (self.each - self.size, self.over) {
            (0, 0) => "all play".to_string(),
            (0, _) => format!("{} play, whoever is left waits", self.size),
            (1, 0) => format!("{} play, 1 waits", self.size),
            (n, 0) => format!("{} play, {n} wait in line", self.size),
            _ => format!("{} play, the others wait in line", self.size),
        };
        format!("{} players {baskets}{more}: {wait}.", self.each)
    }

    /// Does anybody wait anywhere?
    pub fn waits(self) -> bool {
        self.each > self.size || self.over > 0
    }
}

/// The groups in words; `word`: "two".
pub(super) fn groups(session: &Session, (size, word): (usize, &str)) -> String {
    match Groups::of(session, size) {
        Some(groups) => groups.words(),
        None => format!(
            "{} players are fewer than {word} and a defender: coaches fill in.",
            session.players()
        ),
    }
}

/// "After each turn: 1 to 3's place, 3 defends, X to the end of the line, the first in line to 1's place."
pub(super) fn rotation(session: &Session, group: &[u8]) -> String {
    let (Some(first), Some(last)) = (group.first(), group.last()) else {
        return String::new();
    };
    let steps = group
        .windows(2)
        .map(|w| format!("{} to {}'s place", w[0], w[1]));
    let mut steps: Vec<String> = steps.collect();
    steps.push(format!("{last} defends"));
    let groups = Groups::of(session, group.len());
    steps.push(match groups {
        Some(g) if g.waits() && g.each > g.size => {
            format!("X to the end of the line, the first in line to {first}'s place")
        }
        Some(g) if g.waits() => {
            format!("X to {first}'s place, or where one waits that player, and X waits")
        }
        _ => format!("X to {first}'s place"),
    });
    format!("After each turn: {}.", steps.join(", "))
}

/// A block is explained in so many of its minutes (ours).
const EXPLAINED: u32 = 1;

/// The seconds of a block in which there are turns.
pub(super) fn for_turns(minutes: u32) -> f64 {
    60.0 * f64::from(minutes.saturating_sub(EXPLAINED))
}

/// How many turns there are in so many minutes, each with its rest of so many seconds: as many on either side of the floor.
pub(super) fn turns(minutes: u32, repetition: f64) -> u32 {
    2 * (for_turns(minutes) / 2.0 / repetition) as u32
}

/// The same of live play, where each team has the ball three times in a row.
pub(super) fn live_turns(minutes: u32, repetition: f64) -> u32 {
    6 * ((for_turns(minutes) / 6.0 / repetition) as u32).max(1)
}
