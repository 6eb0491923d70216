//! What the coach says about the practice: the texts of the practice sheet that he may edit. All of
//! it may be left out; the sheet then leaves lines to write on, or says what it knows itself.

use serde::{Deserialize, Serialize};

use crate::offence::check::{Finding, within};

/// Minutes of a practice when nothing is said, and the least and most that a plan is made for (ours).
pub const USUAL_MINUTES: u32 = 60;
/// Least minutes of a plan.
pub const LEAST_MINUTES: u32 = 5;
/// Most minutes of a plan.
pub const MOST_MINUTES: u32 = 300;
/// Players and baskets when nothing is said (ours: two fives, one hall).
pub const USUAL_PLAYERS: u32 = 10;
/// Baskets when nothing is said (ours).
pub const USUAL_BASKETS: u32 = 2;
/// Most players and most baskets that groups are made for, counts (ours).
pub const MOST_PLAYERS: u32 = 40;
/// Most baskets, a count (ours).
pub const MOST_BASKETS: u32 = 12;
/// Letters of a text, and notes, that have room on the sheet (ours).
pub const MOST_LETTERS: usize = 80;
/// Most letters of one note.
pub const MOST_NOTE: usize = 160;
/// Most notes, a count.
pub const MOST_NOTES: usize = 8;

/// One practice, as it is written in a scenario under `practice`.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default, rename = "Practice")]
pub struct Session {
    /// Stands at the top of the sheet; empty: the scenario's name.
    pub title: String,
    /// As it is to be printed; empty: a line to write on.
    pub date: String,
    /// Where the practice is; empty: a line to write on.
    pub place: String,
    /// Who practises; empty: the names of the squad that attacks.
    pub squad: String,
    /// How long it lasts, minutes; left out: [`USUAL_MINUTES`].
    pub minutes: Option<u32>,
    /// How many players come, a count; left out: [`USUAL_PLAYERS`].
    pub players: Option<u32>,
    /// How many baskets there are, a count; left out: [`USUAL_BASKETS`].
    pub baskets: Option<u32>,
    /// What is to be remembered, a line each.
    pub notes: Vec<String>,
}

impl Session {
    /// Nothing is said: the scenario file has no `practice`.
    pub fn is_empty(&self) -> bool {
        *self == Session::default()
    }

    /// How long it lasts.
    pub fn minutes(&self) -> u32 {
        self.minutes.unwrap_or(USUAL_MINUTES)
    }

    /// How many players come.
    pub fn players(&self) -> u32 {
        self.players.unwrap_or(USUAL_PLAYERS)
    }

    /// How many baskets there are.
    pub fn baskets(&self) -> u32 {
        self.baskets.unwrap_or(USUAL_BASKETS)
    }

    /// What is wrong or odd with it; places begin with `at`.
    pub fn check(&self, at: &str, found: &mut Vec<Finding>) {
        if let Some(minutes) = self.minutes {
            let (least, most) = (f64::from(LEAST_MINUTES), f64::from(MOST_MINUTES));
            let at = format!("{at}/minutes");
            within(f64::from(minutes), least, most, " minutes", &at, found);
        }
        for (key, count, least, most, unit) in [
            ("players", self.players, 2, MOST_PLAYERS, " players"),
            ("baskets", self.baskets, 1, MOST_BASKETS, " baskets"),
        ] {
            if let Some(count) = count {
                let (least, most) = (f64::from(least), f64::from(most));
                let at = format!("{at}/{key}");
                within(f64::from(count), least, most, unit, &at, found);
            }
        }
        let texts = [
            ("title", &self.title),
            ("date", &self.date),
            ("place", &self.place),
            ("squad", &self.squad),
        ];
        for (key, text) in texts {
            long(text, MOST_LETTERS, &format!("{at}/{key}"), found);
        }
        if self.notes.len() > MOST_NOTES {
            let said = format!("only the first {MOST_NOTES} notes have room on the sheet");
            found.push(Finding::warning(format!("{at}/notes"), said));
        }
        for (i, note) in self.notes.iter().enumerate().take(MOST_NOTES) {
            long(note, MOST_NOTE, &format!("{at}/notes/{i}"), found);
        }
    }
}

fn long(text: &str, most: usize, at: &str, found: &mut Vec<Finding>) {
    if text.chars().count() > most {
        let said = format!("only the first {most} letters have room on the sheet");
        found.push(Finding::warning(at, said));
    }
}
