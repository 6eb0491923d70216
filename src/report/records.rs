//! One possession as a record: the columns and what stands in them, the same for every kind of file.
//! Units: SI; shares 0 to 1; empty where nothing was seen.

use crate::court::Side;
use crate::offence::LookKind;
use crate::scrimmage::Row;
use crate::scrimmage::codes::{FINISHES, TURNOVERS, look_code, zone_code};
use crate::scrimmage::row::seconds;
use crate::scrimmage::windows::INSTANT;

use super::columns::Column;

/// What a column holds.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Kind {
    /// A word of a fixed list.
    Word,
    /// A whole number.
    Whole,
    /// A number with decimals.
    Number,
    /// Seconds, a whole number of ticks.
    Time,
}

/// What stands in one column of one record.
#[derive(Clone, Debug, PartialEq)]
pub enum Cell {
    /// A word, if there is one.
    Word(Option<String>),
    /// A whole number, if there is one.
    Whole(Option<u64>),
    /// A number, in the unit that the column's name ends in.
    Number(Option<f64>),
    /// Seconds.
    Time(f64),
}

/// A column of the records.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct RecordColumn {
    /// Its name, unit and meaning.
    pub column: Column,
    /// What it holds.
    pub kind: Kind,
}

/// Every column, in the order in which they stand in the file.
pub fn columns() -> Vec<RecordColumn> {
    use Kind::{Number, Time, Whole, Word};
    let of = |name: String, kind, unit, says: String| RecordColumn {
        column: Column { name, unit, says },
        kind,
    };
    let mut list: Vec<RecordColumn> = [
        (
            "seed",
            Whole,
            "count",
            "the possession: the same seed is always the same possession",
        ),
        ("side", Word, "word", "left or right: where the ball starts"),
        ("points", Whole, "points", "scored"),
        ("ending", Word, "word", "made, missed, fouled or lost"),
        (
            "who",
            Whole,
            "number",
            "of the player who shot or lost the ball",
        ),
        ("zone", Word, "word", "where the shot was taken"),
        ("finish", Word, "word", "how the shot came"),
        ("distance_m", Number, "m", "of the shot from the rim"),
        ("room_m", Number, "m", "to the nearest defender at the shot"),
        ("chance", Number, "share", "that the shot goes in"),
        ("lost_how", Word, "word", "how the ball was lost"),
        ("lost_to", Word, "word", "the defender who got it"),
        ("duration_s", Time, "s", "length of the possession"),
        ("held_s", Time, "s", "in which somebody held the ball"),
        ("passes", Whole, "count", "passes thrown"),
        ("lane_open_s", Time, "s", "with the driving lane open"),
        (
            "stalls",
            Whole,
            "count",
            "spells of 0.8 s or more without an open look",
        ),
        ("stall_s", Time, "s", "of all these spells"),
        ("backdoor_cut_there", Whole, "count", "backdoor chances"),
        ("backdoor_cut_taken", Whole, "count", "backdoor cuts run"),
        (
            "backdoor_cut_fed",
            Whole,
            "count",
            "backdoor cuts that got the ball",
        ),
        (
            "backdoor_cut_finished",
            Whole,
            "count",
            "backdoor cuts that ended in a shot",
        ),
        (
            "unused_points",
            Number,
            "points",
            "left in looks that the rules never take, at most",
        ),
        (
            "nearest_m",
            Number,
            "m",
            "of an attacker from the nearest team-mate, mean",
        ),
        (
            "hull_m2",
            Number,
            "m2",
            "floor covered by the attackers, mean",
        ),
        (
            "defence_hull_m2",
            Number,
            "m2",
            "floor covered by the defenders, mean",
        ),
        (
            "one_guards_two",
            Number,
            "share",
            "of the time in which one defender can guard two",
        ),
        (
            "lane_free",
            Number,
            "share",
            "of the time with nobody between ball and rim",
        ),
    ]
    .map(|(name, kind, unit, says)| of(name.to_string(), kind, unit, says.to_string()))
    .to_vec();
    for look in LookKind::ALL {
        let (code, look) = (look_code(look), look.word());
        for (word, kind, unit, says) in [
            ("open_s", Time, "s", "open"),
            ("windows", Whole, "count", "unbroken open spells"),
            ("taken", Whole, "count", "times taken"),
            (
                "unused",
                Whole,
                "count",
                "open spells in which no rule takes it",
            ),
        ] {
            list.push(of(
                format!("{code}_{word}"),
                kind,
                unit,
                format!("{look}: {says}"),
            ));
        }
    }
    list
}

/// The record of one possession, in the order of [`columns`].
pub fn cells(row: &Row) -> Vec<Cell> {
    let word = |x: Option<&str>| Cell::Word(x.map(String::from));
    let count = |n: usize| Cell::Whole(Some(n as u64));
    let whole = |n: u32| Cell::Whole(Some(u64::from(n)));
    let share = |n: f64| Cell::Number((row.instants > 0).then(|| n / f64::from(row.instants)));
    let shot = row.shot;
    let finish = shot
        .and_then(|s| FINISHES.iter().find(|f| f.0 == s.finish))
        .map(|f| f.1);
    let lost = row
        .turnover
        .and_then(|t| TURNOVERS.iter().find(|x| x.0 == t.0))
        .map(|x| x.1);
    let who = shot.map(|s| s.shooter).or(row.turnover.map(|t| t.1));
    let ending = match shot {
        Some(s) if s.throws.is_some() => "fouled",
        Some(s) if s.made => "made",
        Some(_) => "missed",
        None => "lost",
    };
    let side = match row.side {
        Side::Left => "left",
        Side::Right => "right",
    };
    let lost_to = row.turnover.and_then(|t| t.2).map(|b| format!("X{b}"));
    let stalled = f64::from(row.stalls.iter().map(|s| u32::from(*s)).sum::<u32>());
    let mut list = vec![
        Cell::Whole(Some(row.seed)),
        word(Some(side)),
        Cell::Whole(Some(u64::from(row.points))),
        word(Some(ending)),
        Cell::Whole(who.map(u64::from)),
        word(shot.map(|s| zone_code(s.zone))),
        word(finish),
        Cell::Number(shot.map(|s| s.distance)),
        Cell::Number(shot.map(|s| s.room)),
        Cell::Number(shot.map(|s| s.chance)),
        word(lost),
        Cell::Word(lost_to),
        Cell::Time(row.duration),
        Cell::Time(seconds(row.held)),
        whole(row.passes),
        Cell::Time(seconds(row.lane_open)),
        count(row.stalls.len()),
        Cell::Time(stalled * INSTANT),
        count(row.backdoor_windows.len()),
        whole(row.backdoor_taken),
        whole(row.backdoor_fed),
        whole(row.backdoor_finished),
        Cell::Number(Some(row.unused_points)),
        share(row.nearest),
        share(row.hull),
        share(row.defence_hull),
        share(f64::from(row.one_guards_two)),
        share(f64::from(row.lane_free)),
    ];
    for look in &row.looks {
        list.push(Cell::Time(seconds(look.open_instants)));
        list.push(count(look.windows.len()));
        list.push(whole(look.taken));
        list.push(whole(look.windows_unused));
    }
    list
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::fixture::possession;

    #[test]
    fn every_cell_is_of_its_columns_kind() {
        let kinds = columns();
        for seed in 1..=4 {
            let cells = cells(&Row::of(&possession(seed)));
            assert_eq!(cells.len(), kinds.len());
            for (cell, column) in cells.iter().zip(&kinds) {
                let is = match cell {
                    Cell::Word(_) => Kind::Word,
                    Cell::Whole(_) => Kind::Whole,
                    Cell::Number(_) => Kind::Number,
                    Cell::Time(_) => Kind::Time,
                };
                assert_eq!(is, column.kind, "{}", column.column.name);
            }
        }
    }
}
