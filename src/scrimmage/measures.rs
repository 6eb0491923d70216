//! The one list of what a scrimmage measures. Everything that shows figures (the page of text,
//! the files, the stopping rule, a comparison) asks this list.
//!
//! Each measure is a ratio of sums over possessions: [`Measure::pair`] says what one possession
//! adds above and below the line. Definitions of windows, backdoor chances and unused light are in
//! `row`, of the intervals in `tallies`.

use crate::court::ShotZone;
use crate::offence::LookKind;
use crate::possession::{Finish, Turnover};

use super::row::{Row, index, seconds};
use super::tallies::Interval;
use super::windows::INSTANT;

/// What a figure is counted in.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Unit {
    Points,
    /// 0 to 1, shown in per cent.
    Share,
    Seconds,
    Metres,
    SquareMetres,
    Count,
}

impl Unit {
    /// As it stands in files.
    pub fn word(self) -> &'static str {
        match self {
            Unit::Points => "points",
            Unit::Share => "share",
            Unit::Seconds => "s",
            Unit::Metres => "m",
            Unit::SquareMetres => "m2",
            Unit::Count => "count",
        }
    }
}

type Pair = Box<dyn Fn(&Row) -> (f64, f64) + Send + Sync>;

/// One figure: its name in files, a sentence for people, its unit, and how it is reckoned.
pub struct Measure {
    pub name: String,
    pub sentence: String,
    pub unit: Unit,
    pub interval: Interval,
    pair: Pair,
}

impl Measure {
    /// What one possession adds above and below the line; `(0, 0)` if it says nothing.
    pub fn pair(&self, row: &Row) -> (f64, f64) {
        (self.pair)(row)
    }

    /// The figure in one possession, where it has a meaning there.
    pub fn value(&self, row: &Row) -> Option<f64> {
        let (y, x) = self.pair(row);
        (x > 0.0).then(|| y / x)
    }
}

/// Every way of losing the ball, with its name in files and in words.
pub const TURNOVERS: [(Turnover, &str, &str); 7] = [
    (Turnover::Intercepted, "intercepted", "pass intercepted"),
    (Turnover::Tipped, "tipped", "pass tipped away"),
    (Turnover::LostPass, "lost_pass", "bad or dropped pass"),
    (Turnover::LostDribble, "lost_dribble", "dribble lost"),
    (Turnover::ShotClock, "shot_clock", "shot clock"),
    (
        Turnover::CloselyGuarded,
        "closely_guarded",
        "closely guarded",
    ),
    (
        Turnover::LaneSeconds,
        "lane_seconds",
        "three seconds in the lane",
    ),
];

/// Every finishing action, with its name in files and in words.
pub const FINISHES: [(Finish, &str, &str); 6] = [
    (Finish::Cut, "cut", "off a cut"),
    (Finish::PostUp, "post_up", "from the post"),
    (Finish::DropOff, "drop_off", "off a drop-off"),
    (Finish::Drive, "drive", "off a drive"),
    (Finish::SpotUp, "spot_up", "catch and shoot"),
    (Finish::OffHold, "off_hold", "after holding the ball"),
];

/// The name in files of a kind of look.
pub fn look_code(kind: LookKind) -> &'static str {
    match kind {
        LookKind::Shot => "shot",
        LookKind::Drive => "drive",
        LookKind::GiveAndGo => "give_and_go",
        LookKind::Backdoor => "backdoor",
        LookKind::Post => "post",
        LookKind::DropOff => "drop_off",
        LookKind::KickOut => "kick_out",
        LookKind::NextPass => "next_pass",
        LookKind::Skip => "skip",
    }
}

/// The name in files of a shot zone.
pub fn zone_code(zone: ShotZone) -> &'static str {
    match zone {
        ShotZone::Rim => "rim",
        ShotZone::Paint => "paint",
        ShotZone::MidRange => "mid_range",
        ShotZone::CornerThree => "corner_three",
        ShotZone::ArcThree => "arc_three",
    }
}

fn yes(b: bool) -> f64 {
    f64::from(u8::from(b))
}

struct List(Vec<Measure>);

impl List {
    fn add(
        &mut self,
        name: impl Into<String>,
        sentence: impl Into<String>,
        unit: Unit,
        interval: Interval,
        pair: impl Fn(&Row) -> (f64, f64) + Send + Sync + 'static,
    ) {
        self.0.push(Measure {
            name: name.into(),
            sentence: sentence.into(),
            unit,
            interval,
            pair: Box::new(pair),
        });
    }

    /// A mean per possession.
    fn each(
        &mut self,
        name: impl Into<String>,
        sentence: impl Into<String>,
        unit: Unit,
        of: impl Fn(&Row) -> f64 + Send + Sync + 'static,
    ) {
        self.add(name, sentence, unit, Interval::Mean, move |r| (of(r), 1.0));
    }

    fn headline(&mut self) {
        self.each("points", "points per possession", Unit::Points, |r| {
            f64::from(r.points)
        });
        self.add(
            "points_per_shot",
            "points per shot",
            Unit::Points,
            Interval::Mean,
            |r| (f64::from(r.points), yes(r.shot.is_some())),
        );
        self.add(
            "turnovers",
            "possessions lost without a shot",
            Unit::Share,
            Interval::Proportion,
            |r| (yes(r.turnover.is_some()), 1.0),
        );
        for (how, name, words) in TURNOVERS {
            self.add(
                format!("turnovers_{name}"),
                format!("possessions lost: {words}"),
                Unit::Share,
                Interval::Proportion,
                move |r| (yes(r.turnover.is_some_and(|t| t.0 == how)), 1.0),
            );
        }
        self.each("duration", "length of a possession", Unit::Seconds, |r| {
            r.duration
        });
        self.each("passes", "passes per possession", Unit::Count, |r| {
            f64::from(r.passes)
        });
        self.add(
            "pass_gap",
            "time between one pass and the next",
            Unit::Seconds,
            Interval::Mean,
            |r| (r.pass_gaps.0, f64::from(r.pass_gaps.1)),
        );
    }

    fn shots(&mut self) {
        for zone in ShotZone::ALL {
            let (name, word) = (zone_code(zone), zone.word());
            self.add(
                format!("shots_{name}"),
                format!("shots taken: {word}"),
                Unit::Share,
                Interval::Proportion,
                move |r| {
                    (
                        yes(r.shot.is_some_and(|s| s.zone == zone)),
                        yes(r.shot.is_some()),
                    )
                },
            );
            self.add(
                format!("makes_{name}"),
                format!("shots made: {word}"),
                Unit::Share,
                Interval::Proportion,
                move |r| {
                    let shot = r.shot.filter(|s| s.zone == zone);
                    (yes(shot.is_some_and(|s| s.made)), yes(shot.is_some()))
                },
            );
        }
        self.add(
            "shot_room",
            "room to the nearest defender at the shot",
            Unit::Metres,
            Interval::Mean,
            |r| (r.shot.map_or(0.0, |s| s.room), yes(r.shot.is_some())),
        );
        for (finish, name, words) in FINISHES {
            self.add(
                format!("finishes_{name}"),
                format!("possessions that end in a shot {words}"),
                Unit::Share,
                Interval::Proportion,
                move |r| (yes(r.shot.is_some_and(|s| s.finish == finish)), 1.0),
            );
            self.add(
                format!("points_{name}"),
                format!("points per shot {words}"),
                Unit::Points,
                Interval::Mean,
                move |r| {
                    let shot = r.shot.is_some_and(|s| s.finish == finish);
                    (if shot { f64::from(r.points) } else { 0.0 }, yes(shot))
                },
            );
        }
    }

    fn lanes(&mut self) {
        self.add(
            "lane_open",
            "share of the time held in which the driving lane is open",
            Unit::Share,
            Interval::Share,
            |r| (f64::from(r.lane_open), f64::from(r.held)),
        );
        self.each(
            "lane_open_time",
            "time with the driving lane open, per possession",
            Unit::Seconds,
            |r| seconds(r.lane_open),
        );
        self.add(
            "next_pass_held",
            "share of the time held in which the next pass is open",
            Unit::Share,
            Interval::Share,
            |r| {
                (
                    f64::from(r.look(LookKind::NextPass).held_open),
                    f64::from(r.held),
                )
            },
        );
        for kind in LookKind::ALL.into_iter().filter(|k| *k != LookKind::Shot) {
            self.add(
                format!("{}_openness", look_code(kind)),
                format!("mean openness (0 to 1): {}", kind.word()),
                Unit::Share,
                Interval::Share,
                move |r| (r.look(kind).openness, f64::from(r.look(kind).seen)),
            );
        }
    }

    fn backdoor(&mut self) {
        self.each(
            "backdoor_cut_there",
            "backdoor chances there, per possession",
            Unit::Count,
            |r| r.backdoor_windows.len() as f64,
        );
        self.each(
            "backdoor_cut_there_time",
            "time with a backdoor chance there, per possession \
            and player",
            Unit::Seconds,
            |r| {
                r.backdoor_windows
                    .iter()
                    .map(|w| f64::from(*w))
                    .sum::<f64>()
                    * INSTANT
            },
        );
        self.each(
            "backdoor_cut_taken",
            "backdoor cuts taken, per possession",
            Unit::Count,
            |r| f64::from(r.backdoor_taken),
        );
        self.each(
            "backdoor_cut_fed",
            "backdoor cuts fed, per possession",
            Unit::Count,
            |r| f64::from(r.backdoor_fed),
        );
        self.each(
            "backdoor_cut_finished",
            "backdoor cuts finished with a shot, per possession",
            Unit::Count,
            |r| f64::from(r.backdoor_finished),
        );
    }

    fn looks(&mut self) {
        for kind in LookKind::ALL {
            let (code, word) = (look_code(kind), kind.word());
            let i = index(kind);
            self.add(
                format!("{code}_open"),
                format!("share of instants with it open: {word}"),
                Unit::Share,
                Interval::Share,
                move |r| (f64::from(r.looks[i].open_instants), f64::from(r.instants)),
            );
            self.each(
                format!("{code}_windows"),
                format!("windows per possession: {word}"),
                Unit::Count,
                move |r| r.looks[i].windows.len() as f64,
            );
            self.add(
                format!("{code}_taken"),
                format!("share of windows taken: {word}"),
                Unit::Share,
                Interval::Share,
                move |r| {
                    (
                        f64::from(r.looks[i].windows_taken),
                        r.looks[i].windows.len() as f64,
                    )
                },
            );
            self.each(
                format!("{code}_used"),
                format!("times taken per possession: {word}"),
                Unit::Count,
                move |r| f64::from(r.looks[i].taken),
            );
            self.add(
                format!("{code}_value"),
                format!("points promised when open: {word}"),
                Unit::Points,
                Interval::Mean,
                move |r| (r.looks[i].value, f64::from(r.looks[i].open)),
            );
            self.each(
                format!("{code}_unused"),
                format!("open windows that the rules never take, per possession: {word}"),
                Unit::Count,
                move |r| f64::from(r.looks[i].windows_unused),
            );
        }
        self.each(
            "unused_points",
            "points per possession left in looks that the rules never \
            take, at most",
            Unit::Points,
            |r| r.unused_points,
        );
    }

    fn floor(&mut self) {
        self.each("stalls", "stalls per possession", Unit::Count, |r| {
            r.stalls.len() as f64
        });
        self.each(
            "stall_time",
            "time stalled, per possession",
            Unit::Seconds,
            |r| r.stalls.iter().map(|s| f64::from(*s)).sum::<f64>() * INSTANT,
        );
        let mean = |of: fn(&Row) -> f64| move |r: &Row| (of(r), f64::from(r.instants));
        self.add(
            "nearest",
            "distance to the nearest team-mate",
            Unit::Metres,
            Interval::Mean,
            mean(|r| r.nearest),
        );
        self.add(
            "hull",
            "floor covered by the five attackers",
            Unit::SquareMetres,
            Interval::Mean,
            mean(|r| r.hull),
        );
        self.add(
            "defence_hull",
            "floor covered by the five defenders",
            Unit::SquareMetres,
            Interval::Mean,
            mean(|r| r.defence_hull),
        );
        self.add(
            "one_guards_two",
            "share of time in which one defender can guard two",
            Unit::Share,
            Interval::Share,
            mean(|r| f64::from(r.one_guards_two)),
        );
        self.add(
            "lane_free",
            "share of time with no body in the strip from ball to rim",
            Unit::Share,
            Interval::Share,
            mean(|r| f64::from(r.lane_free)),
        );
    }
}

/// Every measure, in the order in which files list them.
pub fn measures() -> Vec<Measure> {
    let mut list = List(Vec::new());
    list.headline();
    list.shots();
    list.lanes();
    list.backdoor();
    list.looks();
    list.floor();
    list.0
}

/// The place of a measure in [`measures`] by its name in files.
pub fn find(measures: &[Measure], name: &str) -> Option<usize> {
    measures.iter().position(|m| m.name == name)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::scrimmage::fixture::possession;
    use std::collections::BTreeSet;

    #[test]
    fn names_are_plain_and_never_used_twice() {
        let all = measures();
        let names: BTreeSet<_> = all.iter().map(|m| m.name.as_str()).collect();
        assert_eq!(names.len(), all.len());
        let plain = |c: char| c.is_ascii_lowercase() || c == '_';
        assert!(names.iter().all(|n| n.chars().all(plain)), "{names:?}");
        let sentences: BTreeSet<_> = all.iter().map(|m| m.sentence.as_str()).collect();
        assert_eq!(sentences.len(), all.len());
    }

    #[test]
    fn figures_of_a_possession_written_out_by_hand() {
        let row = Row::of(&possession(1));
        let all = measures();
        let value = |name: &str| all[find(&all, name).unwrap()].value(&row);
        for (name, wanted) in [
            ("points", 2.0),
            ("points_per_shot", 2.0),
            ("turnovers", 0.0),
            ("shots_rim", 1.0),
            ("makes_rim", 1.0),
            ("finishes_cut", 1.0),
            ("passes", 2.0),
            ("pass_gap", 1.6),
            ("duration", 4.0),
            ("lane_open", 0.4),
            ("lane_open_time", 0.8),
            ("next_pass_held", 0.5),
            ("backdoor_cut_there", 1.0),
            ("backdoor_cut_taken", 1.0),
            ("backdoor_cut_fed", 1.0),
            ("backdoor_cut_finished", 1.0),
            ("skip_windows", 1.0),
            ("skip_unused", 1.0),
            ("skip_taken", 0.0),
            ("next_pass_windows", 1.0),
            ("next_pass_taken", 1.0),
            ("next_pass_value", 0.9),
            ("unused_points", 0.25),
            ("stalls", 1.0),
            ("stall_time", 0.6),
            ("lane_free", 1.0),
        ] {
            let got = value(name).unwrap_or(f64::NAN);
            assert!((got - wanted).abs() < 1e-9, "{name}: {got}, not {wanted}");
        }
        assert_eq!(value("makes_arc_three"), None);
    }

    #[test]
    fn kinds_stand_in_the_order_of_their_list() {
        use crate::defence::{Duty, Relation};
        assert!(
            LookKind::ALL
                .iter()
                .enumerate()
                .all(|(i, k)| index(*k) == i)
        );
        assert!(
            Relation::ALL
                .iter()
                .enumerate()
                .all(|(i, k)| *k as usize == i)
        );
        assert!(Duty::ALL.iter().enumerate().all(|(i, k)| *k as usize == i));
    }
}
