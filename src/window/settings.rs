//! What the coach likes and where he is: pages of the drawer, layers over the floor, size of type.
//! Settings are kept in the desk's folder.

use super::words::floor as words;
use serde::{Deserialize, Serialize};

/// A page of the drawer.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Page {
    /// The offence: rules and their numbers.
    Offence,
    /// The defence.
    Defence,
    /// The two squads.
    Squad,
    /// A scrimmage in figures.
    Figures,
    /// Why it stalls, and what to try.
    Why,
    /// The drills.
    Drills,
    /// What can be printed.
    Paper,
    /// Files: name, save, open.
    Files,
    /// Help.
    Keys,
}

impl Page {
    /// Every page, in the order of the bench.
    pub const ALL: [Page; 9] = [
        Page::Offence,
        Page::Defence,
        Page::Squad,
        Page::Figures,
        Page::Why,
        Page::Drills,
        Page::Paper,
        Page::Files,
        Page::Keys,
    ];

    /// Its heading.
    pub fn word(self) -> &'static str {
        match self {
            Page::Offence => words::OFFENCE,
            Page::Defence => words::DEFENCE,
            Page::Squad => words::SQUADS,
            Page::Figures => words::SCRIMMAGE,
            Page::Why => words::WHY_IT_STALLS,
            Page::Drills => words::DRILLS,
            Page::Paper => words::PAPER,
            Page::Files => words::SAVE_AND_OPEN,
            Page::Keys => words::HELP,
        }
    }

    /// What it is for, in a sentence.
    pub fn about(self) -> &'static str {
        match self {
            Page::Offence => words::YOUR_RULES_SWITCH_THEM,
            Page::Defence => words::AGAINST_WHOM_YOU_PLAY,
            Page::Squad => words::WHO_PLAYS_ON_EITHER,
            Page::Figures => words::MANY_POSSESSIONS_IN_FIGURES,
            Page::Why => words::WHO_SHUTS_WHAT_WHERE,
            Page::Drills => words::FOR_DEFENDERS_WHERE_TO,
            Page::Paper => words::PRACTICE_SHEET_CARDS_AND,
            Page::Files => words::NAME_SAVE_OPEN_V,
            Page::Keys => words::WHAT_IS_ON_THE,
        }
    }
}

/// What is laid over the floor, one thing at a time or together.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(default)]
pub struct Layers {
    /// The lit floor.
    pub light: bool,
    /// The light says where a ball arrives, whoever is there, and not what a pass is worth.
    pub arrival: bool,
    /// Threads from closers to looks.
    pub threads: bool,
    /// Where everybody has just been.
    pub trails: bool,
    /// The midline.
    pub midline: bool,
    /// Triangles of ball, man and defender.
    pub triangles: bool,
    /// How many passes away each attacker is.
    pub passes_away: bool,
    /// Where the model has each defender stand. Settings of earlier versions know it by its alias.
    #[serde(alias = "ghosts")]
    pub model_places: bool,
}

impl Default for Layers {
    fn default() -> Self {
        Layers {
            light: true,
            arrival: false,
            threads: true,
            trails: true,
            midline: false,
            triangles: false,
            passes_away: false,
            model_places: false,
        }
    }
}

/// How the learner and the coach like it; kept in the desk's folder.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(default)]
pub struct Settings {
    /// Size of type: 1 is usual.
    pub type_size: f32,
    /// Nothing slides or fades.
    pub reduced_motion: bool,
    /// `None`: as the court's rule set has it.
    pub metric: Option<bool>,
    /// What is laid over the floor.
    pub layers: Layers,
    /// Steps of the first hint that have been done; 3 is all.
    pub hint: u8,
    /// Is the key to the picture shown over the controls?
    pub key: bool,
    /// Files that were open lately, the last one first.
    pub recent: Vec<String>,
}

impl Default for Settings {
    fn default() -> Self {
        Settings {
            type_size: 1.0,
            reduced_motion: false,
            metric: None,
            layers: Layers::default(),
            hint: 0,
            key: true,
            recent: Vec::new(),
        }
    }
}

/// Smallest and largest size of type.
pub const TYPE: std::ops::RangeInclusive<f32> = 0.8..=1.8;

impl Settings {
    /// The same, with what no hand on the window could have set put right.
    pub fn sane(self) -> Settings {
        let possible = TYPE.contains(&self.type_size);
        Settings {
            type_size: if possible { self.type_size } else { 1.0 },
            ..self
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn settings_of_an_earlier_version_still_say_whether_model_places_are_shown() {
        for name in ["ghosts", "model_places"] {
            let text = format!("(layers: ({name}: true))");
            let read: Settings = ron::from_str(&text).expect("settings");
            assert!(read.layers.model_places, "{name}");
        }
    }

    #[test]
    fn what_sends_a_coach_to_a_page_calls_it_as_its_handle_does_and_by_what_is_done_there() {
        use super::super::words::files;
        let name = Page::Files.word();
        assert!(name.contains("Save") && name.contains("open"), "{name}");
        for said in [
            files::UNSAVED_CHANGES_OF_LAST.to_owned(),
            files::unsaved_changes_to_were(&"friday"),
            files::nothing_can_be_kept(&"here"),
        ] {
            assert!(said.contains(name), "{said}");
        }
        for page in Page::ALL {
            assert!(!page.word().contains("ariation"), "{}", page.word());
        }
    }
}
