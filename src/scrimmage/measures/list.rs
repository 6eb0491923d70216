//! The measures themselves, group by group.
//!
//! * **Points promised**: for a possession that ends in a shot, the shot's worth times its chance
//!   at the moment of release; 0 for a possession that is lost. Its mean is that of points (the
//!   dice of the shot are drawn from that very chance), its spread much smaller, since the luck of
//!   the ball going in is left out (conditioning: Law, *Simulation Modeling and Analysis*, ch. 11,
//!   from memory).
//! * **Open lay-up**: a shot at the rim with nobody within [`OPEN_ROOM`] of the shooter.
//! * **Open-look value**: points promised by a look that is open, averaged over all open looks of
//!   all kinds and instants, whether the rules take them or not.

use crate::court::ShotZone;
use crate::offence::LookKind;
use crate::scrimmage::codes::{FINISHES, TURNOVERS, look_code, zone_code};
use crate::scrimmage::row::{LookRow, Row, index, seconds};
use crate::scrimmage::tallies::Interval;
use crate::scrimmage::windows::INSTANT;

use super::{Measure, Unit};

/// Nobody nearer than this at the shot: an open one, metres. Four feet, `common practice` (from
/// memory).
const OPEN_ROOM: f64 = 1.2192;

fn yes(b: bool) -> f64 {
    f64::from(u8::from(b))
}

pub(super) struct List(pub(super) Vec<Measure>);

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

    pub(super) fn headline(&mut self) {
        self.each("points", "points per possession", Unit::Points, |r| {
            f64::from(r.points)
        });
        self.each(
            "promised_points",
            "points promised by the shot, per possession",
            Unit::Points,
            |r| r.shot.map_or(0.0, |s| s.chance * f64::from(s.points)),
        );
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

    pub(super) fn shots(&mut self) {
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
                    let shot = r.shot.filter(|s| s.zone == zone && s.throws.is_none());
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
        self.each(
            "open_layups",
            "open lay-ups, per possession",
            Unit::Count,
            |r| {
                yes(r
                    .shot
                    .is_some_and(|s| s.zone == ShotZone::Rim && s.room >= OPEN_ROOM))
            },
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

    pub(super) fn lanes(&mut self) {
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

    pub(super) fn backdoor(&mut self) {
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

    pub(super) fn looks(&mut self) {
        self.add(
            "open_look_value",
            "points promised by an open look",
            Unit::Points,
            Interval::Mean,
            |r| {
                let sum = |of: fn(&LookRow) -> f64| r.looks.iter().map(of).sum();
                (sum(|l| l.value), sum(|l| f64::from(l.open)))
            },
        );
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
            "weak_spot_up_unused",
            "open weak-side catch-and-shoots that the rules never take, per possession",
            Unit::Count,
            |r| f64::from(r.weak_spot_ups),
        );
        self.each(
            "unused_points",
            "points per possession left in looks that the rules never \
            take, at most",
            Unit::Points,
            |r| r.unused_points,
        );
    }

    pub(super) fn floor(&mut self) {
        self.each("stalls", "stalls per possession", Unit::Count, |r| {
            r.stalls.len() as f64
        });
        self.each(
            "stall_time",
            "time stalled, per possession",
            Unit::Seconds,
            |r| f64::from(r.stalls.iter().map(|s| u32::from(*s)).sum::<u32>()) * INSTANT,
        );
        let mean = |of: fn(&Row) -> f64| move |r: &Row| (of(r), f64::from(r.instants));
        self.add(
            "nothing_allowed",
            "share of time with nothing open that the rules take",
            Unit::Share,
            Interval::Share,
            mean(|r| f64::from(r.dark)),
        );
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
