//! How turns go at practice (common practice of the trade): the teams, who waits, and live play.

use crate::clean::cut;
use crate::court::Side;
use crate::scenario::Scenario;

use super::super::text::LONGEST;
use super::ages::side;

/// The teams among which looks are rehearsed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Teams {
    /// Players of one.
    pub size: usize,
    /// How many there are; a team that is missing is made up by coaches.
    pub teams: usize,
    /// Baskets in use.
    pub baskets: usize,
    /// Teams that take turns at a basket with the ball.
    pub turns: usize,
    /// Players left over.
    pub over: usize,
}

impl Teams {
    /// Of the players and baskets that there are.
    pub fn of(scenario: &Scenario) -> Teams {
        let size = usize::from(scenario.offence.players.max(1));
        let players = scenario.practice.players() as usize;
        let teams = (players / size).max(2);
        let baskets = (scenario.practice.baskets() as usize).clamp(1, teams / 2);
        Teams {
            size,
            teams,
            baskets,
            turns: teams.div_ceil(baskets),
            over: players.saturating_sub(teams * size),
        }
    }

    /// "2 teams of five at one basket".
    pub fn short(self, scenario: &Scenario) -> String {
        let at = match self.baskets {
            1 => "one basket".to_string(),
            n => format!("{n} baskets"),
        };
        format!(
            "{} teams of {} at {at}",
            self.teams,
            side(scenario.offence.players)
        )
    }

    /// Groups, who defends and how, and who waits.
    pub fn words(self, scenario: &Scenario) -> String {
        let waits = match self.turns {
            2 => "",
            _ => " A team that is over waits, and comes in for the one that has defended.",
        };
        format!(
            "Set up: {}. First {} have the ball, where 1 to {} are drawn; your other players defend as X1 to X{} and play {} at \
             full speed (page 1, “Against”). Before each turn the coach secretly gives the defender who is to be read order A or \
             order B, each in half of the turns. Attack and defence change after half of a look's turns.{waits}{}",
            self.short(scenario),
            first_with_the_ball(scenario),
            self.size,
            self.size,
            cut(&scenario.defence.name, LONGEST),
            self.rotation(scenario),
        )
    }

    /// Who comes in for whom, and what those do who wait.
    pub fn rotation(self, scenario: &Scenario) -> String {
        if self.over == 0 {
            return String::new();
        }
        let all = (1..=self.size).flat_map(|n| [format!("{n}"), format!("X{n}")]);
        let first: Vec<String> = all.take(self.over).collect();
        let first = match first.split_last() {
            Some((last, others)) if !others.is_empty() => {
                format!("{} and {last}", others.join(", "))
            }
            _ => first.concat(),
        };
        let (who, come) = match self.over {
            1 => ("The extra player waits".to_string(), "comes"),
            n => (format!("The {n} extra players wait"), "come"),
        };
        let free = scenario.practice.baskets() as usize > self.baskets;
        let free = match free {
            true => " Whoever waits shoots at a free basket.",
            false => "",
        };
        format!(
            " {who}; after each turn they {come} in: for {first}, then for the next numbers; whoever comes out waits.{free}"
        )
        .replace("they comes", "that player comes")
    }
}

/// Who has the ball first: those of the squad on page 1, if it has names.
fn first_with_the_ball(scenario: &Scenario) -> &'static str {
    let mut players = scenario.attackers.players.iter();
    match players.any(|p| p.name != p.number.to_string()) {
        true => "the squad's five",
        false => "those who play together in games",
    }
}

/// Live play: what it is for, how it starts, what ends a turn, what counts and who judges. `looks`: how many have been
/// rehearsed, and for which findings; `wide`: players of a team; `turns`: for how many there is time.
pub fn live(
    scenario: &Scenario,
    (looks, findings): (usize, &str),
    (wide, turns): (&str, u32),
) -> Vec<String> {
    let offence = &scenario.offence;
    let small = wide != side(offence.players);
    let stands = offence.alignment.iter().filter_map(|stand| {
        let spot = stand.at.spot(Side::Right, None)?;
        let ball = if stand.player == offence.ball {
            " (ball)"
        } else {
            ""
        };
        Some(format!(
            "{} {}{ball}",
            stand.player,
            super::starts::drawn(spot)
        ))
    });
    let stands: Vec<String> = stands.collect();
    let set_up = match small {
        true => format!(
            "Start: {wide} against {wide} at each basket, all outside the three-point line."
        ),
        false => format!(
            "Start: {}. {}; each with a defender.",
            Teams::of(scenario).short(scenario),
            stands.join(", ")
        ),
    };
    let start = match small {
        true => "Signal: the coach passes to whoever is at the top. Then: all is live.".to_string(),
        false => format!(
            "Signal: the coach passes to {}. Then: all is live.",
            offence.ball
        ),
    };
    let rehearsed = match looks {
        0 => "what was drilled".to_string(),
        1 => "look 1".to_string(),
        2 => "look 1 or 2".to_string(),
        n => format!("looks 1 to {n}"),
    };
    let rotation = match small || Teams::of(scenario).over == 0 {
        true => "",
        false => " Whoever waits comes in after each turn.",
    };
    let one_of = match looks > 2 {
        true => format!("one of {rehearsed}"),
        false => rehearsed.clone(),
    };
    let come = match looks > 2 {
        true => format!("do {rehearsed} come by themselves"),
        false => format!("does {rehearsed} come by itself"),
    };
    let findings = match findings {
        "" => String::new(),
        list => format!("{list}: "),
    };
    vec![
        format!("What for: {findings}{come}, with no defender told what to do? {set_up}"),
        format!(
            "{start} End and score: as in the box; {one_of}, taken when it is open, is the right read: 1; of any \
             other choice only basket and stop count. The coach or an assistant says which look it was. Rotation: about {turns} turns; attack and defence change after every \
             third turn.{rotation}"
        ),
    ]
}
