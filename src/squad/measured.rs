//! A squad file: what a coach has measured of his own players, in RON.
//!
//! ```text
//! (name: "Harbour Hawks", level: varsity, note: "invented", players: [
//!     (number: 1, name: "Ames", position: guard, sprint: 3.55, lane_agility: 11.4,
//!      height: ft_in(5, 11), standing_reach: m(2.38),
//!      makes: (rim: (44, 60), arc_three: (31, 90))),
//! ])
//! ```
//! Whatever is left out comes from the level, and so does every player who is left out.
//!
//! * **Sprint**: seconds by hand from a standing start on the baseline to the far free-throw line,
//!   75 ft. The body speeds up at a constant rate and then runs at its top speed: with τ = top speed /
//!   acceleration, t = τ/2 + d/v. The level's τ is kept, so one time gives both: v = d / (t − τ/2),
//!   a = v/τ. t is the time by hand plus [`HAND_TIMING`].
//! * **Lane agility**: seconds for the run round the lane and back (sprint, shuffle, back-pedal,
//!   shuffle). The level's shuffle, back-pedal (in m/s) and turn are multiplied by the level's
//!   typical time over his.
//! * **Makes**: makes of *open* attempts by zone. The chance is the mean of a beta-binomial whose
//!   prior is the level's player with the weight of [`PRIOR_ATTEMPTS`]:
//!   (makes + w·p) / (attempts + w). So a few hot shots change little, a season much.
//!
//! *Not* modelled: that a sprint test is run fresh and a game is not; practice shooting that flatters.

use ron::error::SpannedError;
use ron::extensions::Extensions;
use serde::{Deserialize, Serialize};

use super::level::sized;
use super::units::{
    Height, Impossible, LaneAgility, Makes, MakesByZone, Number, Sprint, StandingReach,
};
use super::{Level, Player, Position, Squad};
use crate::body::Limits;

/// Way of the sprint, m: 94 ft less 19 ft, baseline to the far free-throw line.
pub const SPRINT_WAY: f64 = 75.0 * 0.3048;

/// A time by hand is short by this, s, since the thumb sees the start late (the 0.24 s by which
/// athletics corrects hand times, from memory, med).
pub const HAND_TIMING: f64 = 0.24;

/// Weight of the level's chance, attempts (invented).
pub const PRIOR_ATTEMPTS: f64 = 40.0;

/// Shares of the top speed that shuffle and back-pedal keep within, whatever the times (invented).
const SIDEWAYS: (f64, f64) = (0.4, 0.9);

/// One player as measured.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct RawPlayer {
    /// Number of the player, 1–5.
    pub number: Number,
    /// The player's name; left out: the number.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub name: Option<String>,
    /// Left out: what the number usually plays ([`Position::of_number`]).
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub position: Option<Position>,
    /// Three-quarter-court sprint, seconds; left out: typical of the level.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub sprint: Option<Sprint>,
    /// Lane-agility run, seconds; left out: typical of the level.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub lane_agility: Option<LaneAgility>,
    /// Height without shoes; left out: typical of the level.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub height: Option<Height>,
    /// Standing reach; left out: from the height.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub standing_reach: Option<StandingReach>,
    /// Makes and attempts of open shots, by zone.
    #[serde(default)]
    pub makes: MakesByZone,
}

/// A squad file.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(try_from = "Unchecked")]
pub struct RawSquad {
    /// What the coach calls the squad.
    pub name: String,
    /// The level that fills in what was not measured.
    pub level: Level,
    /// A remark of the coach; may be empty.
    pub note: String,
    /// The players, with different numbers.
    pub players: Vec<RawPlayer>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields, rename = "RawSquad")]
struct Unchecked {
    name: String,
    level: Level,
    #[serde(default)]
    note: String,
    #[serde(default)]
    players: Vec<RawPlayer>,
}

impl TryFrom<Unchecked> for RawSquad {
    type Error = Impossible;
    fn try_from(raw: Unchecked) -> Result<Self, Impossible> {
        if raw.name.trim().is_empty() {
            return Err(Impossible::Nameless);
        }
        for (i, player) in raw.players.iter().enumerate() {
            if raw.players[..i].iter().any(|p| p.number == player.number) {
                return Err(Impossible::Twice(player.number.0));
            }
            if let (Some(height), Some(reach)) = (player.height, player.standing_reach) {
                let ratio = reach.0 / height.0;
                if !(1.15..=1.5).contains(&ratio) {
                    let number = player.number.0;
                    return Err(Impossible::Arms { number, ratio });
                }
            }
        }
        Ok(RawSquad {
            name: raw.name,
            level: raw.level,
            note: raw.note,
            players: raw.players,
        })
    }
}

/// Reads a squad file. The error carries line and column.
///
/// # Errors
/// If the text is no squad, or a number in it cannot be; see [`Impossible`].
pub fn read_squad(text: &str) -> Result<RawSquad, SpannedError> {
    ron::Options::default()
        .with_default_extension(Extensions::IMPLICIT_SOME)
        .from_str(text)
}

/// What is wrong, in words, in a squad that was put together elsewhere than in a file.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
#[error("{0}")]
pub struct Unfit(pub String);

impl RawSquad {
    /// The squad as a file says it; read back, it is the same squad.
    ///
    /// # Errors
    /// In the words with which the file would be refused.
    pub fn text(&self) -> Result<String, Unfit> {
        let options = ron::Options::default().with_default_extension(Extensions::IMPLICIT_SOME);
        let pretty = ron::ser::PrettyConfig::new()
            .extensions(Extensions::IMPLICIT_SOME)
            .depth_limit(3);
        let text = options
            .to_string_pretty(self, pretty)
            .map_err(|e| Unfit(e.to_string()))?;
        match read_squad(&text) {
            Ok(_) => Ok(text + "\n"),
            Err(error) => Err(Unfit(error.code.to_string())),
        }
    }

    /// What was measured of player `number` (1–5); nothing, if he was left out.
    pub fn measured(&mut self, number: u8) -> &mut RawPlayer {
        let at = self.players.iter().position(|p| p.number.0 == number);
        let at = at.unwrap_or_else(|| {
            self.players.push(RawPlayer {
                number: Number(number),
                name: None,
                position: None,
                sprint: None,
                lane_agility: None,
                height: None,
                standing_reach: None,
                makes: MakesByZone::default(),
            });
            self.players.len() - 1
        });
        &mut self.players[at]
    }

    /// Five players ready for the floor.
    pub fn squad(&self) -> Squad {
        let player = |number| {
            let raw = self.players.iter().find(|p| p.number.0 == number);
            match raw {
                Some(raw) => raw.player(self.level),
                None => self.level.player(number, Position::of_number(number)),
            }
        };
        Squad {
            name: self.name.clone(),
            level: self.level,
            players: [1, 2, 3, 4, 5].map(player),
        }
    }
}

/// Seconds by hand in which a body with these limits runs the sprint: [`RawPlayer::player`] backward.
pub fn sprint_of(limits: &Limits) -> f64 {
    let tau = limits.top_speed / limits.accel;
    SPRINT_WAY / limits.top_speed + 0.5 * tau - HAND_TIMING
}

/// Seconds in which a typical player of the level runs the lane-agility run.
pub fn usual_lane_agility(level: Level) -> f64 {
    level.typical().lane_agility
}

impl RawPlayer {
    /// The level's player with what is measured of this one.
    pub fn player(&self, level: Level) -> Player {
        let number = self.number.0;
        let position = self.position.unwrap_or(Position::of_number(number));
        let mut player = level.player(number, position);
        if let Some(name) = &self.name {
            player.name.clone_from(name);
        }
        let usual = player.limits;
        let limits = &mut player.limits;
        if let Some(Sprint(by_hand)) = self.sprint {
            let tau = usual.top_speed / usual.accel;
            limits.top_speed = SPRINT_WAY / (by_hand + HAND_TIMING - 0.5 * tau);
            limits.accel = limits.top_speed / tau;
            limits.brake = usual.brake * limits.accel / usual.accel;
        }
        if let Some(LaneAgility(seconds)) = self.lane_agility {
            // The level's typical time is that of its typical player, whatever this one plays.
            let usual = level.player(number, Position::Wing).limits;
            let factor = level.typical().lane_agility / seconds;
            let share = |usual_share: f64| {
                (usual_share * usual.top_speed * factor / limits.top_speed)
                    .clamp(SIDEWAYS.0, SIDEWAYS.1)
            };
            limits.shuffle = share(usual.shuffle);
            limits.backpedal = share(usual.backpedal);
            limits.turn = usual.turn * factor;
        }
        if let Some(Height(height)) = self.height {
            *limits = sized(*limits, height);
        }
        if let Some(StandingReach(reach)) = self.standing_reach {
            limits.standing_reach = reach;
        }
        let open = &mut player.shooting;
        for (chance, made) in [
            (&mut open.rim, self.makes.rim),
            (&mut open.paint, self.makes.paint),
            (&mut open.mid_range, self.makes.mid_range),
            (&mut open.corner_three, self.makes.corner_three),
            (&mut open.arc_three, self.makes.arc_three),
            (&mut open.free_throw, self.makes.free_throw),
        ] {
            if let Some(made) = made {
                *chance = shrunk(made, *chance);
            }
        }
        player
    }
}

/// Mean of the beta-binomial: makes of attempts drawn toward `usual`.
fn shrunk(made: Makes, usual: f64) -> f64 {
    (f64::from(made.makes) + PRIOR_ATTEMPTS * usual) / (f64::from(made.attempts) + PRIOR_ATTEMPTS)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn error(players: &str) -> (String, usize, usize) {
        let text =
            format!("(\n  name: \"A\",\n  level: varsity,\n  players: [\n{players}\n  ],\n)");
        let error = read_squad(&text).expect_err("it is wrong");
        let at = error.span.end;
        (error.code.to_string(), at.line, at.col)
    }

    fn one(player: &str) -> Player {
        let text = format!("(name: \"A\", level: varsity, players: [{player}])");
        read_squad(&text).expect("a squad").squad().players[0].clone()
    }

    #[test]
    fn what_is_left_out_comes_from_the_level() {
        let squad = read_squad("(name: \"A\", level: junior_varsity)")
            .expect("a squad")
            .squad();
        assert_eq!(squad, Level::JuniorVarsityBoys.squad("A"));
    }

    #[test]
    fn impossible_numbers_are_refused_where_they_stand() {
        for (player, words) in [
            ("(number: 1,\nsprint: 2.7)", "not 2.7"),
            ("(number: 1,\nsprint: 8.1)", "not 8.1"),
            ("(number: 1,\nlane_agility: 8.0)", "not 8"),
            ("(number: 1,\nheight: ft_in(8, 1))", "not 2.46 m"),
            ("(number: 1,\nstanding_reach: m(0.9))", "not 0.90 m"),
            (
                "(number: 1,\nmakes: (rim: (21, 20)))",
                "21 makes of 20 attempts",
            ),
            ("(name: \"Ames\",\nnumber: 6)", "not 6"),
        ] {
            let (message, line, _) = error(player);
            assert!(message.contains(words), "{message}");
            assert_eq!(line, 6, "{player}: {message}");
        }
        let (message, ..) = error("(number: 2), (number: 2)");
        assert!(message.contains("two players"), "{message}");
        let (message, ..) = error("(number: 1, height: m(1.8), standing_reach: m(1.9))");
        assert!(message.contains("1.06 times"), "{message}");
        let (message, ..) = error("(number: 1, speed: 3.4)");
        assert!(message.contains("speed"), "{message}");
    }

    #[test]
    fn makes_move_the_chance_by_the_weight_of_their_number() {
        let usual = Level::VarsityBoys.player(1, Position::Guard).shooting.rim;
        let few = one("(number: 1, makes: (rim: (5, 5)))").shooting.rim;
        let many = one("(number: 1, makes: (rim: (450, 500)))").shooting.rim;
        assert!((few - (5.0 + 40.0 * usual) / 45.0).abs() < 1e-12);
        assert!(usual < few && few < 0.7 && many > 0.87 && many < 0.9);
        let none = one("(number: 1, makes: (rim: (0, 0)))").shooting.rim;
        assert!((none - usual).abs() < 1e-12);
    }

    #[test]
    fn a_usual_lane_agility_run_changes_little_and_a_quick_one_helps() {
        let wing = Level::VarsityBoys.player(1, Position::Wing).limits;
        let same = one("(number: 1, position: wing, lane_agility: 11.9)").limits;
        assert!((same.shuffle - wing.shuffle).abs() < 1e-12 && same.turn == wing.turn);
        let quick = one("(number: 1, position: wing, lane_agility: 11.0)").limits;
        assert!(quick.shuffle > wing.shuffle && quick.turn > wing.turn);
        // Both measured: sideways speed in m/s follows the run alone.
        let both = one("(number: 1, position: wing, lane_agility: 11.0, sprint: 3.4)").limits;
        let sideways = |l: super::super::Limits| l.shuffle * l.top_speed;
        assert!((sideways(both) - sideways(quick)).abs() < 1e-9);
    }

    #[test]
    fn a_squad_written_as_text_is_the_same_squad_and_an_impossible_one_is_refused_in_words() {
        for file in ["harbour_hawks", "millbrook_owls"] {
            let text = shipped(file);
            let raw = read_squad(&text).expect("a squad");
            let again = raw.text().expect("text");
            assert_eq!(read_squad(&again), Ok(raw));
        }
        let mut raw = read_squad("(name: \"A\", level: under_14)").expect("a squad");
        raw.measured(3).sprint = Some(Sprint(2.1));
        let unfit = raw.text().expect_err("too quick");
        assert!(unfit.0.contains("2.8 to 8 seconds, not 2.1"), "{unfit}");
    }

    fn shipped(word: &str) -> String {
        let path = format!(
            "{}/../scenarios/squads/{word}.ron",
            env!("CARGO_MANIFEST_DIR")
        );
        std::fs::read_to_string(path).expect("a shipped squad")
    }

    #[test]
    fn a_typical_sprint_gives_the_typical_player_back() {
        for level in Level::ALL {
            let usual = level.player(1, Position::Guard).limits;
            let word = serde_json::to_string(&level).expect("a word");
            let text = format!(
                "(name: \"A\", level: {}, players: [(number: 1, sprint: {})])",
                word.trim_matches('"'),
                sprint_of(&usual)
            );
            let same = read_squad(&text).expect("a squad").squad().players[0].limits;
            assert!((same.top_speed - usual.top_speed).abs() < 1e-9, "{level:?}");
        }
    }

    #[test]
    fn feet_and_metres_mean_the_same_height() {
        let metric = one("(number: 1, height: m(1.8288))").limits;
        for text in ["ft(6)", "ft_in(6, 0)", "ft_in(5, 12)"] {
            let limits = one(&format!("(number: 1, height: {text})")).limits;
            assert!((limits.height - metric.height).abs() < 1e-12);
            assert!((limits.standing_reach - 1.33 * 1.8288).abs() < 1e-9);
        }
    }
}
