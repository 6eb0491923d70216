//! What a level of play brings: the limits, hands, shooting and judgement of a typical player.
//!
//! Labels beside the numbers: *read* was seen in the source that is named; *from memory* is a published
//! figure as remembered (high, med or low: how far to trust it); *common practice* is the trade's, without
//! a source; *invented* is ours and free to be tuned. Age groups stand for boys and girls together. Values
//! of one squad are even: its players differ only by position, in the ratios of [`Position`].

use serde::{Deserialize, Serialize};

use super::{Judgement, Player, Shooting, Squad};
use crate::ball::Hands;
use crate::body::Limits;

/// A level of play. In files: `under_10`, `junior_varsity_boys`, `varsity_girls`, `college_men`,
/// `pro_women`, ...; the plain words `junior_varsity`, `varsity`, `college` and `professional` (or
/// `pro`) mean the boys' and men's.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Level {
    /// Under 10 years.
    #[serde(rename = "under_10")]
    Under10,
    /// Under 12 years.
    #[serde(rename = "under_12")]
    Under12,
    /// Under 14 years.
    #[serde(rename = "under_14")]
    Under14,
    /// Boys of a school's second team.
    #[serde(alias = "junior_varsity", alias = "jv")]
    JuniorVarsityBoys,
    /// Girls of a school's second team.
    JuniorVarsityGirls,
    /// Boys of a school's first team.
    #[serde(alias = "varsity", alias = "high_school")]
    VarsityBoys,
    /// Girls of a school's first team.
    VarsityGirls,
    /// Men at college.
    #[serde(alias = "college")]
    CollegeMen,
    /// Women at college.
    CollegeWomen,
    /// Professional men.
    #[serde(alias = "professional", alias = "pro")]
    ProMen,
    /// Professional women.
    ProWomen,
}

/// What a player mostly is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Position {
    /// Usually handles the ball outside.
    Guard,
    /// Usually plays on the wings and in the corners.
    Wing,
    /// Usually plays inside.
    Post,
}

impl Position {
    /// The usual position of a number: 1 and 2 guards, 5 the post, all others wings.
    pub fn of_number(number: u8) -> Position {
        match number {
            1 | 2 => Position::Guard,
            5 => Position::Post,
            _ => Position::Wing,
        }
    }

    /// In a coach's word.
    pub fn word(self) -> &'static str {
        match self {
            Position::Guard => "guard",
            Position::Wing => "wing",
            Position::Post => "post",
        }
    }

    /// Ratios to the level's typical player, all invented; the directions are common practice: posts
    /// are taller, slower, finish better and shoot poorly from outside; guards are quicker and handle
    /// and throw better.
    fn ratios(self) -> Ratios {
        match self {
            Position::Guard => Ratios {
                quick: 1.02,
                height: 0.96,
                dribble: 1.04,
                loses: 0.7,
                careless: 0.9,
                rim: 0.97,
                paint: 1.0,
                mid: 1.02,
                three: 1.04,
            },
            Position::Wing => Ratios {
                quick: 1.0,
                height: 1.0,
                dribble: 1.0,
                loses: 1.0,
                careless: 1.0,
                rim: 1.0,
                paint: 1.0,
                mid: 1.0,
                three: 1.03,
            },
            Position::Post => Ratios {
                quick: 0.93,
                height: 1.06,
                dribble: 0.9,
                loses: 1.6,
                careless: 1.15,
                rim: 1.05,
                paint: 1.03,
                mid: 0.92,
                three: 0.75,
            },
        }
    }
}

struct Ratios {
    quick: f64,
    height: f64,
    dribble: f64,
    loses: f64,
    careless: f64,
    rim: f64,
    paint: f64,
    mid: f64,
    three: f64,
}

/// Standing reach over stature (from memory).
const STANDING_REACH: f64 = 1.33;
/// Reach to the side over stature: 0.9 m for an adult of 1.95 m (from memory).
const SIDE_REACH: f64 = 0.46;
/// Radius of an adult's body, m (from memory; 0.30–0.35 common practice), and the stature
/// below which it shrinks in proportion, m (invented).
const BODY_RADIUS: f64 = 0.3;
const GROWN: f64 = 1.75;
/// Braking over forward acceleration: somewhat more (from memory); with it the pros
/// brake at 5.5 m/s² (most 4–6: Harper et al. reviews, from memory, med).
const BRAKE_OVER_ACCEL: f64 = 1.1;
/// Best chance that a table and a ratio may give.
const SURE: f64 = 0.95;

/// The same limits with everything that follows from a stature of `height` m.
pub(crate) fn sized(limits: Limits, height: f64) -> Limits {
    Limits {
        reach: SIDE_REACH * height,
        radius: BODY_RADIUS * (height / GROWN).min(1.0),
        height,
        standing_reach: STANDING_REACH * height,
        ..limits
    }
}

/// One row of the table below.
#[derive(Clone, Copy)]
pub(crate) struct Typical {
    word: &'static str,
    /// Top speed in play m/s, acceleration m/s², turn m/s², shuffle and back-pedal shares, reaction s.
    motion: [f64; 6],
    /// Stature of a wing, m.
    height: f64,
    /// Chest pass m/s, error rad, wind-up s.
    hands: [f64; 3],
    /// Open chances: rim, paint, mid-range, corner three, other three, free throw.
    shooting: [f64; 6],
    /// Error in value (points), half view (degrees), decision (s), notices (chance).
    judgement: [f64; 4],
    /// Dribbling speed share, loses per second of pressure, fumbles, and how often shots in contact are fouled, over the
    /// professionals' share.
    care: [f64; 4],
    /// Typical lane-agility run, s.
    pub(crate) lane_agility: f64,
}

/// The table, in the order of [`Level::ALL`].
///
/// * Top speed in play: adults 6–8 m/s, under 12 4.5–5.5 (from memory), below the maximal
///   sprints 5.0 / 5.6 / 6.3 (under 10 / 12 / 14), 7.0 (high-school boys), 7.8 and 8.2 (college and
///   professional men), 6.8 (college women) (common practice, no source). Others: invented between.
/// * Acceleration 3–5 m/s² sustained from rest (from memory).
/// * Turn 4–6 m/s² (common practice, no source). Shuffle 0.6–0.7, back-pedal 0.55–0.65 of top speed
///   (from memory; shuffle about 0.6 of sprint, common practice).
/// * Reaction: simple visual 0.18–0.25 s (from memory, high); children slower (invented).
/// * Stature: invented, near what each age and level shows.
/// * Chest pass: adults 9–12, under 10 / 12 / 14 5–6 / 6–7.5 / 7.5–9 m/s (common practice, no source).
///   Error and wind-up: invented.
/// * Shooting: open chances chosen so that, contested as usual, a squad of the level shoots its
///   percentages of twos and threes: `tests/external/levels.rs` checks them and names the source of each
///   row; the pros' rim 0.75 open (from memory).
///   Professional women 48 and 34 % (from memory, low); junior varsity, girls, under 14 and under 10
///   have no row there: invented between the neighbours. Under 12: 25–35 and 10–20 % (common practice).
/// * Free throws: 0.78 (NBA 2022-24, from memory, med–high), college men 0.71–0.72 and women 0.70–0.71 (recent
///   NCAA Division I, from memory, med), high school 0.60–0.66 and under 12 0.35–0.50 (common practice, no
///   source); others invented between.
/// * Half view: people see about 200° to the sides (from memory, high); the rest of judgement: invented.
/// * Dribbling, losing, fumbling: invented, in the order of the turnovers a possession: pros 0.125–0.13
///   (NBA 2022-24, from memory, med–high), high school 0.20–0.25, under 12 0.30–0.40 (common practice, no
///   source).
/// * Fouled: free throws per field-goal attempt are 0.25 (NBA 2022-24, from memory, med–high) and 0.37 (United States elite
///   17U circuit 2015, computed from public box scores), 1.48 times as many; that much less is taken (ours), since not all
///   are shooting fouls; children as the professionals, since nothing is known of them.
/// * Lane agility: professional men about 11 s (from memory); others invented.
#[rustfmt::skip]
const TYPICAL: [Typical; 11] = [
    Typical { word: "under 10", motion: [4.9, 3.7, 4.0, 0.60, 0.55, 0.29], height: 1.38,
        hands: [5.5, 0.070, 0.40], shooting: [0.40, 0.17, 0.14, 0.09, 0.085, 0.35],
        judgement: [0.25, 95.0, 0.35, 0.50], care: [0.72, 0.100, 0.060, 1.0], lane_agility: 16.0 },
    Typical { word: "under 12", motion: [5.4, 4.0, 4.2, 0.60, 0.55, 0.27], height: 1.50,
        hands: [6.7, 0.060, 0.36], shooting: [0.46, 0.21, 0.19, 0.17, 0.158, 0.42],
        judgement: [0.21, 95.0, 0.31, 0.57], care: [0.75, 0.075, 0.045, 1.0], lane_agility: 14.5 },
    Typical { word: "under 14", motion: [6.2, 4.2, 4.5, 0.61, 0.56, 0.25], height: 1.63,
        hands: [8.2, 0.050, 0.32], shooting: [0.51, 0.25, 0.23, 0.225, 0.212, 0.5],
        judgement: [0.17, 97.0, 0.27, 0.64], care: [0.78, 0.055, 0.030, 1.0], lane_agility: 13.2 },
    Typical { word: "junior varsity boys", motion: [6.6, 4.3, 4.8, 0.62, 0.58, 0.24], height: 1.77,
        hands: [9.3, 0.042, 0.29], shooting: [0.60, 0.32, 0.30, 0.305, 0.286, 0.58],
        judgement: [0.14, 100.0, 0.23, 0.70], care: [0.81, 0.042, 0.022, 1.2], lane_agility: 12.4 },
    Typical { word: "junior varsity girls", motion: [6.0, 4.0, 4.6, 0.62, 0.58, 0.24], height: 1.66,
        hands: [8.3, 0.044, 0.30], shooting: [0.54, 0.27, 0.26, 0.26, 0.244, 0.56],
        judgement: [0.14, 100.0, 0.23, 0.70], care: [0.80, 0.044, 0.022, 1.2], lane_agility: 13.5 },
    Typical { word: "varsity boys", motion: [7.0, 4.5, 5.2, 0.63, 0.60, 0.23], height: 1.83,
        hands: [10.0, 0.036, 0.26], shooting: [0.64, 0.35, 0.33, 0.34, 0.319, 0.63],
        judgement: [0.11, 100.0, 0.20, 0.75], care: [0.84, 0.032, 0.016, 1.2], lane_agility: 11.9 },
    Typical { word: "varsity girls", motion: [6.3, 4.2, 4.9, 0.63, 0.60, 0.23], height: 1.70,
        hands: [8.8, 0.038, 0.27], shooting: [0.59, 0.31, 0.30, 0.305, 0.287, 0.6],
        judgement: [0.11, 100.0, 0.20, 0.75], care: [0.83, 0.034, 0.016, 1.2], lane_agility: 13.0 },
    Typical { word: "college men", motion: [7.6, 4.8, 5.7, 0.64, 0.62, 0.21], height: 1.94,
        hands: [11.0, 0.028, 0.22], shooting: [0.70, 0.40, 0.40, 0.385, 0.361, 0.715],
        judgement: [0.08, 100.0, 0.14, 0.83], care: [0.88, 0.029, 0.015, 1.1], lane_agility: 11.3 },
    Typical { word: "college women", motion: [6.8, 4.4, 5.4, 0.64, 0.62, 0.21], height: 1.79,
        hands: [9.8, 0.031, 0.23], shooting: [0.64, 0.36, 0.36, 0.35, 0.33, 0.705],
        judgement: [0.08, 100.0, 0.14, 0.83], care: [0.87, 0.031, 0.0155, 1.1], lane_agility: 12.3 },
    Typical { word: "professional men", motion: [7.8, 5.0, 6.0, 0.65, 0.63, 0.20], height: 1.99,
        hands: [11.5, 0.025, 0.20], shooting: [0.75, 0.435, 0.437, 0.415, 0.3825, 0.78],
        judgement: [0.05, 100.0, 0.10, 0.90], care: [0.90, 0.025, 0.013, 1.0], lane_agility: 11.0 },
    Typical { word: "professional women", motion: [7.0, 4.6, 5.7, 0.65, 0.63, 0.20], height: 1.83,
        hands: [10.2, 0.027, 0.21], shooting: [0.67, 0.39, 0.40, 0.385, 0.36, 0.79],
        judgement: [0.05, 100.0, 0.10, 0.90], care: [0.89, 0.026, 0.013, 1.0], lane_agility: 11.9 },
];

impl Level {
    /// Every level, from the youngest on.
    pub const ALL: [Level; 11] = [
        Level::Under10,
        Level::Under12,
        Level::Under14,
        Level::JuniorVarsityBoys,
        Level::JuniorVarsityGirls,
        Level::VarsityBoys,
        Level::VarsityGirls,
        Level::CollegeMen,
        Level::CollegeWomen,
        Level::ProMen,
        Level::ProWomen,
    ];

    /// The level's name for people.
    pub fn word(self) -> &'static str {
        self.typical().word
    }

    pub(crate) fn typical(self) -> &'static Typical {
        &TYPICAL[self as usize]
    }

    /// A typical player of the level.
    pub fn player(self, number: u8, position: Position) -> Player {
        let t = self.typical();
        let r = position.ratios();
        let [top_speed, accel, turn, shuffle, backpedal, reaction] = t.motion;
        let [pass_speed, pass_error, release] = t.hands;
        let [rim, paint, mid, corner, arc, throw] = t.shooting;
        let [value_error, half_view, decision, notices] = t.judgement;
        let [dribble, loses, fumbles, fouled] = t.care;
        let accel = accel * r.quick;
        Player {
            number,
            name: number.to_string(),
            limits: sized(
                Limits {
                    top_speed: top_speed * r.quick,
                    accel,
                    brake: BRAKE_OVER_ACCEL * accel,
                    turn: turn * r.quick,
                    shuffle,
                    backpedal,
                    reaction,
                    reach: 0.0,
                    radius: 0.0,
                    height: 0.0,
                    standing_reach: 0.0,
                },
                t.height * r.height,
            ),
            hands: Hands {
                pass_speed,
                pass_error: pass_error * r.careless,
                release,
            },
            shooting: Shooting {
                rim: (rim * r.rim).min(SURE),
                paint: (paint * r.paint).min(SURE),
                mid_range: (mid * r.mid).min(SURE),
                corner_three: (corner * r.three).min(SURE),
                arc_three: (arc * r.three).min(SURE),
                free_throw: (throw * r.mid).min(SURE),
            },
            judgement: Judgement {
                value_error,
                half_view: half_view.to_radians(),
                decision,
                notices,
            },
            dribble: (dribble * r.dribble).min(1.0),
            loses: loses * r.loses,
            fumbles: fumbles * r.careless,
            fouled,
        }
    }

    /// Five typical players: guards 1 and 2, wings 3 and 4, post 5.
    pub fn squad(self, name: &str) -> Squad {
        let player = |number| self.player(number, Position::of_number(number));
        Squad {
            name: name.to_owned(),
            level: self,
            players: [1, 2, 3, 4, 5].map(player),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_level_has_its_own_row_and_words() {
        for (i, level) in Level::ALL.into_iter().enumerate() {
            assert_eq!(level as usize, i);
            let code = ron::to_string(&level).expect("a word");
            assert_eq!(ron::from_str::<Level>(&code), Ok(level));
            let plain = code.replace('_', " ").replace("pro ", "professional ");
            assert_eq!(plain, level.word());
        }
        for (word, level) in [
            ("under_10", Level::Under10),
            ("varsity", Level::VarsityBoys),
            ("junior_varsity", Level::JuniorVarsityBoys),
            ("college", Level::CollegeMen),
            ("professional", Level::ProMen),
        ] {
            assert_eq!(ron::from_str::<Level>(word), Ok(level));
        }
    }

    #[test]
    fn the_post_is_taller_slower_and_better_only_near_the_rim() {
        for level in Level::ALL {
            let [guard, _, _, wing, post] = level.squad("test").players;
            assert!(
                post.limits.height > wing.limits.height && wing.limits.height > guard.limits.height
            );
            assert!(post.limits.reach > wing.limits.reach);
            assert!(post.limits.top_speed < guard.limits.top_speed);
            assert!(post.shooting.rim > guard.shooting.rim);
            assert!(post.shooting.arc_three < guard.shooting.arc_three);
            assert!(guard.dribble > post.dribble && guard.loses < post.loses);
        }
    }

    #[test]
    fn older_is_quicker_surer_and_sees_more() {
        use Level::*;
        for rising in [
            vec![
                Under10,
                Under12,
                Under14,
                JuniorVarsityBoys,
                VarsityBoys,
                CollegeMen,
                ProMen,
            ],
            vec![
                Under10,
                Under12,
                JuniorVarsityGirls,
                VarsityGirls,
                CollegeWomen,
                ProWomen,
            ],
        ] {
            for pair in rising.windows(2) {
                let [a, b] = [pair[0], pair[1]].map(|l| l.player(3, Position::Wing));
                assert!(
                    b.limits.top_speed > a.limits.top_speed && b.limits.accel >= a.limits.accel
                );
                assert!(b.limits.reaction <= a.limits.reaction);
                assert!(b.hands.pass_speed > a.hands.pass_speed);
                assert!(b.hands.pass_error < a.hands.pass_error);
                assert!(
                    b.shooting.rim > a.shooting.rim && b.shooting.arc_three > a.shooting.arc_three
                );
                assert!(b.judgement.value_error < a.judgement.value_error);
                assert!(b.judgement.notices > a.judgement.notices);
                assert!(b.loses < a.loses && b.fumbles < a.fumbles);
            }
        }
    }
}
