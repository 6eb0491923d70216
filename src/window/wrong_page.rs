//! What is wrong in a file, in a coach's words, and what to do: a word that was meant otherwise is put right by a click.

use std::path::Path;

use bevy_egui::egui::{RichText, Ui};

use super::desk::Desk;
use super::offence_page::heading;
use super::palette::*;
use super::store;
use super::unwritten;
use super::words::files as words;
use crate::report::clean;
use crate::scenario::Problem;

/// What is wrong in a file, line by line; true if something is.
pub fn show(ui: &mut Ui, desk: &mut Desk) -> bool {
    let Some(problems) = desk.problems.clone() else {
        return false;
    };
    heading(ui, words::THIS_FILE_CANNOT_BE);
    let mut mend = None;
    for problem in &problems.0 {
        let said = clean::line(&quoted(&problem.said));
        let name = Path::new(&problem.file).file_name();
        let name = name.map_or(problem.file.clone(), |n| n.to_string_lossy().into_owned());
        let line = words::in_line_of(&problem.line, &clean::line(&name), &said);
        ui.label(RichText::new(line).color(WARN));
        if let Some((piece, mark, width)) = &problem.shown {
            let under = format!("{}{}", " ".repeat(*mark), "^".repeat(*width));
            let text = clean::lines(&format!("{piece}\n{under}"));
            ui.label(RichText::new(text).monospace().color(TEXT));
        }
        match (&problem.nearest, &problem.expected) {
            (Some(nearest), _) => {
                let nearest = clean::line(nearest);
                ui.label(words::perhaps_it_should_be(&nearest));
                let can = wrong_word(problem).is_some() && Path::new(&problem.file).is_file();
                if can && ui.button(words::put_there(&nearest)).clicked() {
                    mend = Some(problem.clone());
                }
            }
            (None, Some(expected)) => {
                ui.label(words::there_should_be(&clean::line(&quoted(expected))));
            }
            (None, None) => {}
        }
        ui.add_space(8.0);
    }
    for text in [words::OR_MEND_IT_IN, words::WHAT_IS_ON_THE] {
        ui.label(RichText::new(text).color(QUIET));
    }
    if ui.button(words::GO_ON_WITH_WHAT).clicked() {
        desk.problems = None;
    }
    if let Some(problem) = mend {
        put_right(desk, &problem);
    }
    true
}

/// Words of the file in quotation marks instead of the marks of a terminal.
fn quoted(text: &str) -> String {
    let mut open = true;
    let mark = |letter| match letter {
        '`' if std::mem::replace(&mut open, false) => '“',
        '`' => {
            open = true;
            '”'
        }
        letter => letter,
    };
    text.chars().map(mark).collect()
}

/// The word that is wrong.
fn wrong_word(problem: &Problem) -> Option<String> {
    let (piece, mark, width) = problem.shown.as_ref()?;
    let word: String = piece.chars().skip(*mark).take(*width).collect();
    (!word.trim().is_empty()).then_some(word)
}

/// The text with the nearest right word in place of the wrong one; `None` if that does not stand there any more.
fn mended(text: &str, problem: &Problem) -> Option<String> {
    let (wrong, nearest) = (wrong_word(problem)?, problem.nearest.as_ref()?);
    let start = text.split_inclusive('\n').take(problem.line - 1);
    let line = start.map(str::len).sum::<usize>();
    let rest = text.get(line..)?;
    let at = rest.char_indices().nth(problem.column - 1)?.0 + line;
    let after = text.get(at..)?.strip_prefix(&wrong)?;
    // What stands in quotation marks stays in them.
    let quotes = wrong.len() > 1 && wrong.starts_with('"') && wrong.ends_with('"');
    let right = if quotes && !nearest.starts_with('"') {
        format!("\"{nearest}\"")
    } else {
        nearest.clone()
    };
    Some(format!("{}{right}{after}", &text[..at]))
}

/// Puts the nearest right word into the file, and opens it again.
fn put_right(desk: &mut Desk, problem: &Problem) {
    let file = Path::new(&problem.file);
    let text = std::fs::read_to_string(file).ok();
    let Some(right) = text.and_then(|text| mended(&text, problem)) else {
        return desk.say(words::THE_FILE_HAS_CHANGED_SINCE);
    };
    if let Err(error) = store::write(file, &right) {
        return desk.warn(unwritten::said(&error));
    }
    let whole = desk.files.wrong.clone().map(|wrong| wrong.path);
    let whole = whole.or(desk.file.clone()).unwrap_or(file.to_owned());
    desk.problems = None;
    desk.open_path(&whole);
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_word_that_was_meant_otherwise_is_put_right_by_a_click_and_nothing_else_is_changed() {
        let folder = tempfile::tempdir().expect("a folder");
        let file = folder.path().join("friday.ron");
        store::save(&file, &store::demo()).expect("saved");
        let sound = std::fs::read_to_string(&file).expect("text");
        let wrong = sound.replacen("court:", "cuort:", 1);
        assert_ne!(wrong, sound);
        std::fs::write(&file, &wrong).expect("written");
        let mut desk = Desk::new(store::demo(), None, folder.path().join("data"));
        desk.open_path(&file);
        let problems = desk.problems.clone().expect("a problem");
        let problem = problems.0.first().expect("one").clone();
        assert!(quoted(&problem.said).contains("“cuort"), "{}", problem.said);
        // Changed meanwhile: nothing is written.
        std::fs::write(&file, wrong.replacen("cuort", "kourt", 1)).expect("written");
        put_right(&mut desk, &problem);
        assert!(desk.problems.is_some());
        assert!(
            std::fs::read_to_string(&file)
                .expect("text")
                .contains("kourt")
        );
        std::fs::write(&file, &wrong).expect("written");
        put_right(&mut desk, &problem);
        assert!(desk.problems.is_none());
        assert_eq!(std::fs::read_to_string(&file).expect("text"), sound);
        assert_eq!(desk.file.as_deref(), Some(file.as_path()));
    }

    #[test]
    fn a_file_that_could_not_be_opened_is_opened_as_soon_as_it_is_mended_elsewhere() {
        let folder = tempfile::tempdir().expect("a folder");
        let file = folder.path().join("friday.ron");
        std::fs::write(&file, "(name: 3)").expect("written");
        let mut desk = Desk::new(store::demo(), None, folder.path().join("data"));
        desk.open_path(&file);
        assert!(desk.problems.is_some() && desk.file.is_none());
        desk.watch_file(1.0);
        assert!(desk.problems.is_some());
        store::save(&file, &store::demo()).expect("saved");
        let other = std::time::SystemTime::UNIX_EPOCH;
        let open = std::fs::File::options()
            .write(true)
            .open(&file)
            .expect("open");
        open.set_modified(other).expect("set");
        desk.watch_file(1.0);
        assert!(desk.problems.is_none());
        assert_eq!(desk.file.as_deref(), Some(file.as_path()));
    }
}
