//! Tracks from CSV files, as `scrimmage --tracks` and `watch --track` write them: one possession a
//! file, one line a frame.
//!
//! Columns, in any order: `time_s`; `ball_x`, `ball_y`; `a1_x`, `a1_y` … `a5_y` for attackers and
//! `x1_x` … `x5_y` for defenders; `holder` (1–5, empty while nobody holds the ball); and, if there is
//! one, `events`, of which only "shot N" is read: the last one's frame is the release of the shot. Metres and
//! seconds; the ring's centre at the origin, y toward half court. Frames are 0.12 s apart or a whole
//! part of it (0.04 s: 25 a second). Other columns are passed over.

use std::io::Read;

use super::clip::{Frame, STEP, Track};
use crate::court::Vec2;

/// Farthest from the rim that anybody can be, metres: beyond it the unit is not metres.
const FARTHEST: f64 = 60.0;
/// How far a time may lie from where it belongs, seconds: they are written to the hundredth.
const SLACK: f64 = 0.0075;

/// What is wrong with a file of tracks.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("{file}:{line}: {said}")]
pub struct Misread {
    /// The file as it was named.
    pub file: String,
    /// From 1.
    pub line: u64,
    /// What is wrong, and what was expected.
    pub said: String,
}

struct Columns {
    time: usize,
    ball: [usize; 2],
    players: [[usize; 2]; 10],
    holder: usize,
    events: Option<usize>,
}

impl Columns {
    fn of(heads: &csv::StringRecord) -> Result<Columns, String> {
        let find = |name: &str| heads.iter().position(|head| head.trim() == name);
        let need = |name: &str| {
            find(name).ok_or_else(|| {
                format!(
                    "there is no column “{name}”\n  expected: time_s, ball_x, ball_y, a1_x to \
                     a5_y, x1_x to x5_y, holder, and events if there are any"
                )
            })
        };
        let mut players = [[0; 2]; 10];
        for (i, player) in players.iter_mut().enumerate() {
            let (team, number) = (if i < 5 { 'a' } else { 'x' }, i % 5 + 1);
            *player = [
                need(&format!("{team}{number}_x"))?,
                need(&format!("{team}{number}_y"))?,
            ];
        }
        Ok(Columns {
            time: need("time_s")?,
            ball: [need("ball_x")?, need("ball_y")?],
            players,
            holder: need("holder")?,
            events: find("events"),
        })
    }
}

fn number(record: &csv::StringRecord, column: usize) -> Result<f64, String> {
    let text = record.get(column).unwrap_or("").trim();
    let value: Option<f64> = text.parse().ok().filter(|v: &f64| v.is_finite());
    value.ok_or_else(|| {
        let shown: String = text.chars().filter(|c| !c.is_control()).take(20).collect();
        format!("“{shown}” in column {} is no number", column + 1)
    })
}

fn place(record: &csv::StringRecord, [x, y]: [usize; 2]) -> Result<Vec2, String> {
    let at = Vec2::new(number(record, x)?, number(record, y)?);
    if at.length() > FARTHEST {
        return Err(format!(
            "columns {} and {} lie more than {FARTHEST} m from the rim; places are metres with \
             the ring's centre at the origin",
            x + 1,
            y + 1
        ));
    }
    Ok(at)
}

fn frame(record: &csv::StringRecord, columns: &Columns) -> Result<Frame, String> {
    let mut places = [Vec2::ZERO; 10];
    for (at, player) in places.iter_mut().zip(columns.players) {
        *at = place(record, player)?;
    }
    let holder = match record.get(columns.holder).unwrap_or("").trim() {
        "" => None,
        text => match text.parse::<usize>() {
            Ok(n @ 1..=5) => Some(n - 1),
            _ => return Err("the holder is no number from 1 to 5".to_string()),
        },
    };
    let (mut attackers, mut defenders) = ([Vec2::ZERO; 5], [Vec2::ZERO; 5]);
    attackers.copy_from_slice(&places[..5]);
    defenders.copy_from_slice(&places[5..]);
    Ok(Frame {
        attackers,
        defenders,
        ball: place(record, columns.ball)?,
        holder,
    })
}

fn shoots(record: &csv::StringRecord, columns: &Columns) -> bool {
    let events = columns.events.and_then(|c| record.get(c)).unwrap_or("");
    events.split(';').any(|e| e.trim().starts_with("shot "))
}

/// Reads one possession's track; `file` is the name that errors give.
///
/// # Errors
/// If a column is missing, something is no number, a holder is none of 1 to 5, times are not evenly
/// 0.12 s or a whole part of it apart, or there are fewer than two frames.
pub fn read(text: impl Read, file: &str) -> Result<Track, Misread> {
    let fail = |line: u64, said: String| Misread {
        file: file.to_string(),
        line,
        said,
    };
    let broken = |e: &csv::Error| {
        let line = e.position().map_or(1, csv::Position::line);
        fail(line, format!("this is no CSV of tracks: {e}"))
    };
    let mut reader = csv::ReaderBuilder::new().from_reader(text);
    let heads = reader.headers().map_err(|e| broken(&e))?.clone();
    let columns = Columns::of(&heads).map_err(|said| fail(1, said))?;
    let mut frames = Vec::new();
    let mut times: Vec<f64> = Vec::new();
    let mut shot = None;
    let mut every = 1;
    for record in reader.records() {
        let record = record.map_err(|e| broken(&e))?;
        let line = record.position().map_or(1, csv::Position::line);
        let fail = |said| fail(line, said);
        let time = number(&record, columns.time).map_err(fail)?;
        times.push(time);
        if times.len() == 2 {
            every = step(time - times[0]).map_err(fail)?;
        }
        let due = times[0] + STEP / every as f64 * (times.len() - 1) as f64;
        if times.len() > 1 && (time - due).abs() > SLACK {
            return Err(fail(format!(
                "frames are not evenly apart: {time} s, expected {due:.2} s"
            )));
        }
        if shoots(&record, &columns) {
            shot = Some(frames.len());
        }
        frames.push(frame(&record, &columns).map_err(fail)?);
    }
    if frames.len() < 2 {
        return Err(fail(1, "there are fewer than two frames".to_string()));
    }
    Ok(Track {
        frames,
        every,
        shot,
    })
}

/// Frames in a sample.
fn step(seconds: f64) -> Result<usize, String> {
    let every = (STEP / seconds).round();
    let fits = seconds > 0.0 && every >= 1.0 && (STEP / every - seconds).abs() <= SLACK;
    if fits && every <= 12.0 {
        return Ok(every as usize);
    }
    Err(format!(
        "frames are {seconds:.3} s apart\n  expected: 0.12 s or a whole part of it, as 0.04 s"
    ))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn heads() -> String {
        let mut heads = "time_s,ball_x,ball_y,ball_z".to_string();
        for team in ["a", "x"] {
            for n in 1..=5 {
                heads += &format!(",{team}{n}_x,{team}{n}_y");
            }
        }
        heads + ",holder,events\n"
    }

    fn line(time: f64, holder: &str, events: &str) -> String {
        let places: Vec<String> = (0..20).map(|i| format!("{}", f64::from(i) / 2.0)).collect();
        format!("{time:.2},1,2,1.2,{},{holder},{events}\n", places.join(","))
    }

    fn said(text: &str) -> String {
        read(text.as_bytes(), "t.csv").unwrap_err().to_string()
    }

    #[test]
    fn a_track_is_read_with_its_holder_and_its_shot() {
        let text = heads()
            + &line(0.0, "1", "start 1")
            + &line(0.04, "", "pass 1 3; rule 1")
            + &line(0.08, "3", "catch 3")
            + &line(0.12, "", "shot 3; made");
        let track = read(text.as_bytes(), "t.csv").unwrap();
        let holders: Vec<_> = track.frames.iter().map(|f| f.holder).collect();
        assert_eq!(holders, [Some(0), None, Some(2), None]);
        assert_eq!((track.every, track.shot), (3, Some(3)));
        assert_eq!(track.frames[0].attackers[1], Vec2::new(1.0, 1.5));
        assert_eq!(track.frames[0].defenders[4], Vec2::new(9.0, 9.5));
        assert_eq!(track.frames[0].ball, Vec2::new(1.0, 2.0));
    }

    #[test]
    fn tracks_at_the_rate_of_samples_are_taken_as_they_are() {
        let text = heads() + &line(2.0, "1", "") + &line(2.12, "1", "") + &line(2.24, "1", "");
        assert_eq!(read(text.as_bytes(), "t.csv").unwrap().every, 1);
    }

    #[test]
    fn what_is_wrong_is_said_with_its_line() {
        let text = heads().replace(",holder", "") + &line(0.0, "1", "");
        assert!(said(&text).starts_with("t.csv:1: there is no column “holder”"));
        let good = line(0.0, "1", "");
        let text = heads() + &good + &line(0.04, "6", "");
        assert_eq!(said(&text), "t.csv:3: the holder is no number from 1 to 5");
        let text = heads() + &good + &line(0.04, "1", "").replace(",2.5,", ",left,");
        assert_eq!(said(&text), "t.csv:3: “left” in column 10 is no number");
        let text = heads() + &good + &line(0.05, "1", "");
        assert!(said(&text).starts_with("t.csv:3: frames are 0.050 s apart"));
        let text = heads() + &good + &line(0.04, "1", "") + &line(0.16, "1", "");
        assert!(said(&text).starts_with("t.csv:4: frames are not evenly apart"));
        let text = heads() + &good + &line(0.04, "1", "").replace("9.5", "95");
        assert!(said(&text).contains("t.csv:3: columns 23 and 24 lie more than 60 m"));
        assert!(said(&(heads() + &good)).contains("fewer than two frames"));
        assert!(said(&(heads() + &good + "0.04,1\n")).starts_with("t.csv:3: "));
        assert!(said("").starts_with("t.csv:1: "));
    }
}
