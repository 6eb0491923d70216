//! Where everybody was, 25 times a second: as CSV or as JSON Lines. Metres and seconds; origin
//! under the ring, y toward half court, x to the right of a player who faces the basket.
//!
//! What happened stands with the first tick at or after it.

use std::fmt::Write as _;
use std::io::{self, Write};

use serde::Serialize;

use crate::possession::there::plays;
use crate::possession::{Entry, Possession, TICK, What};

/// How a track is written.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Form {
    /// One line for each body and frame.
    Csv,
    /// One JSON object a line, a frame each.
    JsonLines,
}

impl Form {
    /// By the ending of the file's name: `.csv`, or else JSON Lines for `.jsonl` and `.ndjson`.
    pub fn of(path: &std::path::Path) -> Option<Form> {
        match path.extension()?.to_str()?.to_ascii_lowercase().as_str() {
            "csv" => Some(Form::Csv),
            "jsonl" | "ndjson" => Some(Form::JsonLines),
            _ => None,
        }
    }
}

/// Writes the track of a possession.
///
/// # Errors
/// If it cannot be written.
pub fn write(out: &mut impl Write, possession: &Possession, form: Form) -> io::Result<()> {
    match form {
        Form::Csv => sheet(out, possession),
        Form::JsonLines => json_lines(out, possession),
    }
}

/// The events of each tick, in order; the last tick takes all that is left.
fn events(possession: &Possession) -> Vec<&[Entry]> {
    let mut rest = possession.timeline.as_slice();
    let last = possession.track.len().saturating_sub(1);
    let mut list = Vec::with_capacity(possession.track.len());
    for (i, frame) in possession.track.iter().enumerate() {
        let due = |e: &&Entry| i == last || e.time < frame.time + TICK / 2.0;
        let (now, later) = rest.split_at(rest.iter().take_while(due).count());
        list.push(now);
        rest = later;
    }
    list
}

fn json_lines(out: &mut impl Write, possession: &Possession) -> io::Result<()> {
    #[derive(Serialize)]
    struct Tick<'a> {
        seed: u64,
        #[serde(flatten)]
        frame: &'a crate::possession::Frame,
        events: &'a [Entry],
    }
    for (frame, events) in possession.track.iter().zip(events(possession)) {
        serde_json::to_writer(
            &mut *out,
            &Tick {
                seed: possession.seed,
                frame,
                events,
            },
        )?;
        out.write_all(b"\n")?;
    }
    Ok(())
}

fn sheet(out: &mut impl Write, possession: &Possession) -> io::Result<()> {
    let mut heads = String::from("time_s,ball_x,ball_y,ball_z");
    for team in ["a", "x"] {
        for n in 1..=5 {
            let _ = write!(heads, ",{team}{n}_x,{team}{n}_y");
        }
    }
    writeln!(out, "{heads},holder,events")?;
    for (frame, events) in possession.track.iter().zip(events(possession)) {
        write!(out, "{:.2}", frame.time)?;
        for z in frame.ball {
            write!(out, ",{z:.3}")?;
        }
        for at in frame.attackers.iter().chain(&frame.defenders) {
            match plays(*at) {
                true => write!(out, ",{:.3},{:.3}", at.x, at.y)?,
                false => write!(out, ",,")?,
            }
        }
        let holder = frame.holder.map_or(String::new(), |h| h.to_string());
        let codes: Vec<_> = events.iter().map(|e| code(&e.what)).collect();
        writeln!(out, ",{holder},{}", codes.join("; "))?;
    }
    Ok(())
}

/// An event in one short piece of text without commas, as "pass 1 3".
fn code(what: &What) -> String {
    match *what {
        What::Starts { who, .. } => format!("start {who}"),
        What::Rule { rule, .. } => format!("rule {}", rule + 1),
        What::Passes { from, to, .. } => format!("pass {from} {to}"),
        What::Catches { who, .. } => format!("catch {who}"),
        What::Cuts { who, .. } => format!("cut {who}"),
        What::Unfed { who, .. } => format!("unfed {who}"),
        What::Fills { who, .. } => format!("fill {who}"),
        What::Drops { who } => format!("drop {who}"),
        What::Dribbles { who, .. } => format!("dribble {who}"),
        What::Fades { who, .. } => format!("fade {who}"),
        What::ComesOff { who, of, .. } => format!("off screen {who} {of}"),
        What::GetsOpen { who } => format!("get open {who}"),
        What::Flashes { who, .. } => format!("flash {who}"),
        What::Seals { who, .. } => format!("seal {who}"),
        What::Waits { who, of } => format!("wait {who} {of}"),
        What::NoScreen { who, of } => format!("no screen {who} {of}"),
        What::NoFlash { who, .. } => format!("no flash {who}"),
        What::Holds { who, .. } => format!("holds {who}"),
        What::Slips { who, on } => format!("slip {who} X{on}"),
        What::LetsBe { who } => format!("lets be {who}"),
        What::Screens { who, on } => format!("screen {who} X{on}"),
        What::Drives { who, .. } => format!("drive {who}"),
        What::DribblesAt { who, toward } => format!("dribble-at {who} {toward}"),
        What::SetsOutToHand { who, toward, .. } => format!("to hand off {who} {toward}"),
        What::HandsOff { from, to } => format!("hand off {from} {to}"),
        What::KeepsIt { who, from, .. } => format!("keep {who} {from}"),
        What::Stopped { who, by, .. } => format!("stop X{by} {who}"),
        What::Helps { defender, leaves } => format!("help X{defender} {leaves}"),
        What::Rotates { defender, to } => format!("rotate X{defender} {to}"),
        What::Switches { defender, with } => format!("switch X{defender} X{with}"),
        What::Late { defender, man, .. } => format!("late X{defender} {man}"),
        What::BackdoorThere { who, .. } => format!("backdoor-there {who}"),
        What::Stall { who, .. } => format!("stall {who}"),
        What::Shoots { who, .. } => format!("shot {who}"),
        What::Tips { defender, from, to } => format!("tip X{defender} {from} {to}"),
        What::Ends { ending } => match ending {
            crate::possession::Ending::Shot {
                throws: Some(made), ..
            } => format!("throws {made}"),
            crate::possession::Ending::Shot { made: true, .. } => "made".to_string(),
            crate::possession::Ending::Shot { made: false, .. } => "missed".to_string(),
            crate::possession::Ending::Turnover { who, .. } => format!("lost {who}"),
        },
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::court::Vec2;
    use crate::defence::{Duty, Relation};
    use crate::fixture::possession;
    use crate::possession::Frame;

    fn tracked() -> Possession {
        let mut p = possession(1);
        let nowhere = [Vec2::new(0.0, 1.0); 5];
        p.track = (0..100_u32)
            .map(|i| Frame {
                time: f64::from(i) * TICK,
                ball: [1.0, 2.0, 1.2],
                attackers: nowhere,
                defenders: nowhere,
                attackers_facing: nowhere,
                defenders_facing: nowhere,
                holder: Some(1),
                guards: [1, 2, 3, 4, 5],
                duties: [Duty::Gap; 5],
                relations: [Relation::OnePass; 5],
            })
            .collect();
        p
    }

    #[test]
    fn every_tick_is_a_line_and_every_event_stands_in_one() {
        let p = tracked();
        let mut bytes = Vec::new();
        write(&mut bytes, &p, Form::Csv).unwrap();
        let mut read = csv::Reader::from_reader(bytes.as_slice());
        let columns = read.headers().unwrap().len();
        assert_eq!(columns, 4 + 20 + 2);
        let lines: Vec<_> = read.records().map(Result::unwrap).collect();
        assert_eq!(lines.len(), 100);
        let told: usize = lines
            .iter()
            .map(|l| l[columns - 1].split("; ").filter(|e| !e.is_empty()).count())
            .sum();
        assert_eq!(told, p.timeline.len());
        assert_eq!(
            &lines[25][columns - 1],
            "pass 1 3; rule 1; cut 1; late X1 1"
        );
    }

    #[test]
    fn json_lines_hold_the_same_ticks() {
        let mut bytes = Vec::new();
        write(&mut bytes, &tracked(), Form::JsonLines).unwrap();
        let text = String::from_utf8(bytes).unwrap();
        let ticks: Vec<serde_json::Value> = text
            .lines()
            .map(|l| serde_json::from_str(l).unwrap())
            .collect();
        assert_eq!(ticks.len(), 100);
        assert_eq!(ticks[3]["attackers"][4][1], 1.0);
        let told: usize = ticks
            .iter()
            .map(|t| t["events"].as_array().unwrap().len())
            .sum();
        assert_eq!(told, possession(1).timeline.len());
    }
}
