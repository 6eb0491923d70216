//! Variations on the disk: opened from and saved as the same scenario files that every command
//! reads, written whole or not at all; and the desk's own folder for what must survive a crash.
//!
//! A variation `NAME.ron` is a scenario; its offence and defence stand beside it as
//! `NAME.offence.ron` and `NAME.defence.ron`, and rules that are switched off are a tweak,
//! `NAME.off.ron`, so that nothing of the offence is lost. The scenario itself is written last.

use std::collections::BTreeSet;
use std::io::Write;
use std::path::{Path, PathBuf};

use ron::extensions::Extensions;
use serde::{Serialize, de::DeserializeOwned};

use super::unwritten;
use super::variation::{Edit, Side, WrittenAs};
use super::words::files as words;
use crate::offence::tweak::{Change, Tweak};
use crate::report::files::{Complete, Output, Unwritten};
pub use crate::report::units::data_folder;
use crate::scenario::keep::kept;
use crate::scenario::shipped::{self, Kind};
use crate::scenario::{
    Problem, Problems, RawScenario, Scenario, Source, read_defence, read_offence, read_tweak,
};
use crate::squad::Level;

fn from_ron<T: DeserializeOwned>(text: &str) -> Result<T, ron::error::SpannedError> {
    ron::Options::default()
        .with_default_extension(Extensions::IMPLICIT_SOME)
        .from_str(text)
}

fn to_ron<T: Serialize>(value: &T) -> Result<String, String> {
    let pretty = ron::ser::PrettyConfig::new()
        .extensions(Extensions::IMPLICIT_SOME)
        .depth_limit(6);
    let text = ron::Options::default()
        .with_default_extension(Extensions::IMPLICIT_SOME)
        .to_string_pretty(value, pretty)
        .map_err(|e| e.to_string())?;
    Ok(text + "\n")
}

/// The demo as it ships.
pub fn demo() -> Edit {
    let text = shipped::find(Kind::Scenario, "demo").map_or("", |f| f.text);
    match edit_of(text, "demo", None) {
        Ok(edit) => edit,
        Err(problems) => unreachable!("{problems}"),
    }
}

/// Opens a scenario file.
///
/// # Errors
/// Everything that is wrong, with file, line and column.
pub fn open(path: &Path) -> Result<Edit, Problems> {
    finish_saving(path);
    let folder = path.parent().unwrap_or(Path::new("")).to_owned();
    // All problems of all files at once.
    Scenario::read(path)?;
    let source = Source::load(path)?;
    edit_of(&source.text, &source.file, Some(&folder))
}

fn edit_of(text: &str, file: &str, folder: Option<&Path>) -> Result<Edit, Problems> {
    let raw: RawScenario =
        from_ron(text).map_err(|e| Problems::from(Problem::with_file(file, e.to_string())))?;
    let load = |kind: Kind, mention: &str| match (shipped::find(kind, mention), folder) {
        (Some(file), _) => Source::new(mention, file.text),
        (None, Some(folder)) => Source::load(&folder.join(mention)),
        (None, None) => Err(Problem::with_file(mention, words::NO_SUCH_FILE_IS).into()),
    };
    let source = load(Kind::Offence, &raw.offence)?;
    let mut offence = read_offence(&source.text, &source.file)?.value;
    let written = WrittenAs(source.text.clone());
    let source = load(Kind::Defence, &raw.defence)?;
    let defence = read_defence(&source.text, &source.file)?.value;
    let mut off = BTreeSet::new();
    for mention in &raw.tweaks {
        let source = load(Kind::Tweak, mention)?;
        let tweak = read_tweak(&source.text, &source.file)?.value;
        let removed = |change: &Change| match change {
            Change::RemoveRule(name) => Some(name.clone()),
            _ => None,
        };
        match tweak
            .changes
            .iter()
            .map(removed)
            .collect::<Option<Vec<_>>>()
        {
            Some(names) => off.extend(names),
            None => {
                offence = tweak.apply(&offence).map_err(|misfit| {
                    Problems::from(Problem::with_file(mention, misfit.to_string()))
                })?;
            }
        }
    }
    let side = |mention: &Option<String>, level: Option<Level>| match mention {
        Some(word) if shipped::find(Kind::Squad, word).is_some() => Ok(Side::Shipped(word.clone())),
        Some(file) => load(Kind::Squad, file).map(|source| Side::Sheet(source.text)),
        None => Ok(Side::Typical(
            level.or(raw.level).unwrap_or(Level::VarsityBoys),
        )),
    };
    Ok(Edit {
        attackers: side(&raw.attackers, raw.attack_level)?,
        defenders: side(&raw.defenders, raw.defence_level)?,
        name: raw.name,
        note: raw.note,
        court: raw.court,
        offence,
        written,
        off,
        defence,
        start: raw.start,
        shot_clock: raw.shot_clock,
        drill: raw.drill,
        model: raw.model,
        practice: raw.practice,
    })
}

/// Writes a text file whole or not at all.
///
/// # Errors
/// If it cannot be written.
pub fn write(path: &Path, text: &str) -> Result<(), Unwritten> {
    Output::whole(path, |out| out.write_all(text.as_bytes()))
}

/// The file that holds the whole variation while the parts of it take their names.
fn saving_path(path: &Path) -> Option<PathBuf> {
    let stem = path.file_stem()?.to_str()?;
    Some(path.with_file_name(format!("{stem}.saving.ron")))
}

/// Ends a save that was broken off while the parts took their names. If a part has been changed by
/// other hands since, they know better: then only the trace of the save goes.
fn finish_saving(path: &Path) {
    let Some(saving) = saving_path(path).filter(|p| p.is_file()) else {
        return;
    };
    let changed = |p: &Path| std::fs::metadata(p).and_then(|m| m.modified()).ok();
    let whole = Source::load(&saving)
        .ok()
        .and_then(|s| from_ron::<Edit>(&s.text).ok());
    let parts = PARTS.iter().map(|part| {
        saving
            .with_extension("")
            .with_extension(format!("{part}.ron"))
    });
    let newest = parts
        .chain([path.to_owned()])
        .filter_map(|p| changed(&p))
        .max();
    match whole {
        Some(edit) if newest <= changed(&saving) && edit.sound() => drop(save(path, &edit)),
        _ => drop(std::fs::remove_file(&saving)),
    }
}

/// Files beside a scenario that belong to it, by the word before `.ron`.
pub const PARTS: [&str; 5] = ["offence", "defence", "off", "attackers", "defenders"];

/// Saves a variation as a scenario file and those that it mentions. All are written before the first
/// takes its name, so that a full disk leaves the old ones; and a save that is broken off while they
/// take their names is ended when the variation is opened again.
///
/// # Errors
/// In words, if something cannot be written.
pub fn save(path: &Path, edit: &Edit) -> Result<(), String> {
    let stem = path
        .file_stem()
        .and_then(|s| s.to_str())
        .ok_or(words::THIS_IS_NOT_A)?
        .to_string();
    let mut files: Vec<Complete> = Vec::new();
    let mut put = |part: &str, text: String| -> Result<String, String> {
        let name = format!("{stem}.{part}.ron");
        files.push(written(&path.with_file_name(&name), &text)?);
        Ok(name)
    };
    let offence = match kept(&edit.written.0, &edit.offence) {
        Some(text) => text,
        None => to_ron(&edit.offence)?,
    };
    let offence = put("offence", offence)?;
    let defence = put("defence", to_ron(&edit.defence)?)?;
    let tweaks = if edit.off.is_empty() {
        Vec::new()
    } else {
        let tweak = Tweak {
            name: words::RULES_THAT_ARE_SWITCHED.into(),
            note: String::new(),
            of: None,
            changes: edit.off.iter().cloned().map(Change::RemoveRule).collect(),
        };
        vec![put("off", to_ron(&tweak)?)?]
    };
    let mut mention = |side: &Side, part: &str| match side {
        Side::Typical(level) => Ok::<_, String>((None, Some(*level))),
        Side::Shipped(word) => Ok((Some(word.clone()), None)),
        Side::Sheet(text) => Ok((Some(put(part, text.clone())?), None)),
    };
    let (attackers, attack_level) = mention(&edit.attackers, "attackers")?;
    let (defenders, defence_level) = mention(&edit.defenders, "defenders")?;
    let raw = RawScenario {
        name: edit.name.clone(),
        note: edit.note.clone(),
        court: edit.court,
        level: None,
        attack_level,
        defence_level,
        offence,
        defence,
        attackers,
        defenders,
        tweaks,
        start: edit.start,
        shot_clock: edit.shot_clock,
        drill: edit.drill,
        model: edit.model.clone(),
        practice: edit.practice.clone(),
    };
    files.push(written(path, &to_ron(&raw)?)?);
    let saving = saving_path(path).ok_or(words::THIS_IS_NOT_A)?;
    write(&saving, &to_ron(edit)?).map_err(|e| unwritten::said(&e))?;
    let mut named = files.into_iter().map(Complete::take_name);
    named.try_for_each(|done| done.map_err(|e| unwritten::said(&e)))?;
    let _ = std::fs::remove_file(&saving);
    Ok(())
}

/// A text on the disk that waits for its name.
fn written(path: &Path, text: &str) -> Result<Complete, String> {
    let complete = Output::start(path).and_then(|mut out| {
        let done = out.write_all(text.as_bytes());
        match done {
            Ok(()) => out.complete(),
            Err(error) => Err(Unwritten {
                path: path.to_owned(),
                error,
            }),
        }
    });
    complete.map_err(|e| unwritten::said(&e))
}

/// What is kept of the desk while it is open and when it closes with something not saved.
#[derive(Clone, Debug, PartialEq, Serialize, serde::Deserialize)]
pub struct Kept {
    /// What is on the desk.
    pub edit: Edit,
    /// What was saved last.
    pub saved: Edit,
    /// The open file, if there is one.
    pub file: Option<PathBuf>,
    /// The seed that is shown.
    pub seed: u64,
    /// Seconds since the possession began.
    pub time: f64,
    /// Was the window closed after that, as it should be?
    #[serde(default)]
    pub closed: bool,
}

impl Kept {
    /// How the window came to an end with something not saved, in words.
    pub fn how_it_ended(&self) -> &'static str {
        if self.closed {
            words::YOU_HAD_NOT_SAVED
        } else {
            words::THE_WINDOW_DID_NOT
        }
    }
}

/// The file of what is kept of the desk.
const DESK: &str = "desk.ron";

fn kept_path(folder: &Path) -> PathBuf {
    folder.join(DESK)
}

/// Keeps the desk.
///
/// # Errors
/// In words, if it cannot be written.
pub fn keep(folder: &Path, kept: &Kept) -> Result<(), String> {
    write_own(folder, DESK, kept)
}

/// What was on the desk, and not saved, when it last closed or ended otherwise.
pub fn left_over(folder: &Path) -> Option<Kept> {
    read_own(folder, DESK)
}

/// Most variations that lie aside.
const MOST_ASIDE: u32 = 40;

/// Puts unsaved work aside, in a file of its own.
///
/// # Errors
/// In words, if it cannot be written.
pub fn put_aside(folder: &Path, kept: &Kept) -> Result<(), String> {
    let folder = folder.join("aside");
    let free = (1..=MOST_ASIDE).map(|n| format!("{n:02}.ron"));
    let mut free = free.filter(|name| !folder.join(name).exists());
    let name = free.next().ok_or(words::TOO_MUCH_LIES_ASIDE)?;
    write_own(&folder, &name, kept)
}

/// What lies aside, in order of file.
pub fn aside(folder: &Path) -> Vec<(PathBuf, Kept)> {
    let folder = folder.join("aside");
    (1..=MOST_ASIDE)
        .map(|n| format!("{n:02}.ron"))
        .filter_map(|name| Some((folder.join(&name), read_own(&folder, &name)?)))
        .collect()
}

/// What lay aside is not wanted any more.
pub fn throw_away(path: &Path) {
    let _ = std::fs::remove_file(path);
}

/// The desk closes: nothing is left over.
pub fn forget(folder: &Path) {
    let _ = std::fs::remove_file(kept_path(folder));
}

/// Longest file of the desk's folder that is read, bytes (invented).
const LONGEST_OWN: u64 = 16 << 20;

/// Reads a file of the desk's folder. One that cannot be read is put aside as `NAME.spoilt`: it will be
/// written again, and what a person could still mend must not be lost by that.
pub fn read_own<T: DeserializeOwned>(folder: &Path, name: &str) -> Option<T> {
    let path = folder.join(name);
    let is = std::fs::metadata(&path).ok().filter(|is| is.is_file())?;
    let short = is.len() <= LONGEST_OWN;
    let text = short.then(|| std::fs::read_to_string(&path).ok()).flatten();
    let read = text.and_then(|text| from_ron(&text).ok());
    if read.is_none() {
        let _ = std::fs::rename(&path, folder.join(format!("{name}.spoilt")));
    }
    read
}

/// Writes a file of the desk's folder.
///
/// # Errors
/// In words, if it cannot be written.
pub fn write_own<T: Serialize>(folder: &Path, name: &str, value: &T) -> Result<(), String> {
    let path = folder.join(name);
    let made = std::fs::create_dir_all(folder);
    let made = made.map_err(|error| Unwritten {
        path: path.clone(),
        error,
    });
    let text = to_ron(value)?;
    made.and_then(|()| write(&path, &text))
        .map_err(|e| unwritten::said(&e))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_saved_variation_opens_as_it_was_and_every_command_reads_it() {
        let folder = tempfile::tempdir().expect("a folder");
        let path = folder.path().join("Friday \"press\".ron");
        let mut edit = demo();
        edit.name = "Friday: \"press\" ü".into();
        edit.offence.patience.hold = 1.9;
        edit.off.insert(edit.offence.rules[3].name.clone());
        edit.defence.closeout.short = 1.25;
        edit.defenders = Side::Typical(Level::Under14);
        edit.practice.date = "Friday, 6 March".into();
        edit.practice.minutes = Some(75);
        edit.practice.notes = vec!["Bring \"both\" balls.".into()];
        save(&path, &edit).expect("saved");
        assert_eq!(open(&path).expect("opened"), edit);
        let read = Scenario::read(&path).expect("a scenario");
        let played = edit.scenario().expect("a scenario");
        assert_eq!(read.practice, edit.practice);
        assert_eq!(read.offence, played.offence);
        assert_eq!(read.defence, played.defence);
        assert_eq!(read.attackers, played.attackers);
        assert_eq!(read.defenders, played.defenders);
        assert_eq!(read.shot_clock, played.shot_clock);
    }

    #[test]
    fn the_demo_on_the_desk_is_the_demo_of_every_command() {
        let (a, b) = (demo().scenario().expect("a scenario"), Scenario::demo());
        assert_eq!((a.offence, a.defence), (b.offence, b.defence));
        assert_eq!((a.attackers, a.defenders), (b.attackers, b.defenders));
        assert_eq!((a.shot_clock, a.court), (b.shot_clock, b.court));
    }

    #[test]
    fn what_was_on_the_desk_is_found_after_a_crash_and_not_after_a_close() {
        let folder = tempfile::tempdir().expect("a folder");
        let kept = Kept {
            edit: demo(),
            saved: demo(),
            file: None,
            seed: 7,
            time: 2.4,
            closed: false,
        };
        keep(folder.path(), &kept).expect("kept");
        assert_eq!(left_over(folder.path()), Some(kept));
        forget(folder.path());
        assert_eq!(left_over(folder.path()), None);
    }
}
