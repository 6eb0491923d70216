//! One possession as a record: the columns and what stands in them, the same for every kind of file.
//! Units: SI; shares 0 to 1; empty where nothing was seen.

use crate::court::Side;
use crate::offence::LookKind;
use crate::scrimmage::Row;
use crate::scrimmage::codes::{FINISHES, TURNOVERS, look_code, zone_code};
use crate::scrimmage::row::seconds;
use crate::scrimmage::windows::INSTANT;

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

/// Name and kind of each column.
pub fn columns() -> Vec<(String, Kind)> {
    use Kind::{Number, Time, Whole, Word};
    let mut list: Vec<(String, Kind)> = [
        ("seed", Whole),
        ("side", Word),
        ("points", Whole),
        ("ending", Word),
        ("who", Whole),
        ("zone", Word),
        ("finish", Word),
        ("distance_m", Number),
        ("room_m", Number),
        ("chance", Number),
        ("lost_how", Word),
        ("lost_to", Word),
        ("duration_s", Time),
        ("held_s", Time),
        ("passes", Whole),
        ("lane_open_s", Time),
        ("stalls", Whole),
        ("stall_s", Time),
        ("backdoor_cut_there", Whole),
        ("backdoor_cut_taken", Whole),
        ("backdoor_cut_fed", Whole),
        ("backdoor_cut_finished", Whole),
        ("unused_points", Number),
        ("nearest_m", Number),
        ("hull_m2", Number),
        ("defence_hull_m2", Number),
        ("one_guards_two", Number),
        ("lane_free", Number),
    ]
    .map(|(name, kind)| (name.to_string(), kind))
    .to_vec();
    for look in LookKind::ALL {
        let code = look_code(look);
        for (word, kind) in [
            ("open_s", Time),
            ("windows", Whole),
            ("taken", Whole),
            ("unused", Whole),
        ] {
            list.push((format!("{code}_{word}"), kind));
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
    let stalled: f64 = row.stalls.iter().map(|s| f64::from(*s)).sum();
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
            for (cell, (name, kind)) in cells.iter().zip(&kinds) {
                let is = match cell {
                    Cell::Word(_) => Kind::Word,
                    Cell::Whole(_) => Kind::Whole,
                    Cell::Number(_) => Kind::Number,
                    Cell::Time(_) => Kind::Time,
                };
                assert_eq!(is, *kind, "{name}");
            }
        }
    }
}
