//! The variations' page: name, new, open, save, and files that change on the disk under the desk's
//! hands; and the page that shows what is wrong in a file.

use std::path::{Path, PathBuf};
use std::time::SystemTime;

use bevy_egui::egui::{RichText, TextEdit, Ui};

use super::desk::Desk;
use super::offence_page::heading;
use super::open_page;
use super::palette::*;
use super::store::{self, Kept, PARTS};
use crate::why::Rival;

/// What the page knows.
#[derive(Default)]
pub struct FilesPage {
    /// The folder that is looked into.
    pub folder: Option<PathBuf>,
    /// A path to open, being written, and why it could not be opened.
    pub path: String,
    /// Why the path could not be opened.
    pub unfound: Option<String>,
    /// The path is to be written next.
    pub wants_path: bool,
    /// What lies aside, once it was looked for.
    aside: Option<Vec<(PathBuf, Kept)>>,
    /// A name for the file, being written.
    name: String,
    /// When the open file was last changed on the disk, as far as is known.
    pub stamp: Option<SystemTime>,
    since: f32,
    /// Whose model places are shown; `None`: the desk's own model.
    pub rival: Option<Rival>,
}

impl FilesPage {
    /// Unsaved changes that were put aside, oldest first.
    pub fn aside(&mut self, folder: &Path) -> Vec<(PathBuf, Kept)> {
        let look = || store::aside(folder);
        self.aside.get_or_insert_with(look).clone()
    }

    /// What lies aside has changed.
    pub fn look_again(&mut self) {
        self.aside = None;
    }
}

/// The disk is asked this often whether the open file has changed, seconds.
const EVERY: f32 = 0.7;

fn stamp(path: &Path) -> Option<SystemTime> {
    std::fs::metadata(path).ok()?.modified().ok()
}

/// The newest of a scenario file and those that stand beside it under its name.
fn newest(path: &Path) -> Option<SystemTime> {
    let stem = path.file_stem()?.to_str()?;
    let beside = PARTS.map(|part| path.with_file_name(format!("{stem}.{part}.ron")));
    std::iter::once(path.to_owned())
        .chain(beside)
        .filter_map(|p| stamp(&p))
        .max()
}

impl Desk {
    /// Opens a file, or says what is wrong with it.
    pub fn open_path(&mut self, path: &Path) {
        match store::open(path) {
            Ok(edit) => {
                let name = edit.name.clone();
                let aside = self.put_aside();
                self.open(edit, Some(path.to_owned()));
                self.files.stamp = newest(path);
                self.lately(path);
                self.say(format!("Opened: {name}.{aside}"));
            }
            Err(problems) => {
                self.hush();
                self.hush();
                self.problems = Some(problems);
                self.page = Some(super::settings::Page::Files);
            }
        }
    }

    /// A new variation, from the demo.
    pub fn new_variation(&mut self) {
        let aside = self.put_aside();
        let mut edit = store::demo();
        edit.name = "New variation".into();
        self.open(edit, None);
        self.say(format!("A new variation, from the demo.{aside}"));
    }

    /// Puts unsaved changes aside before something else comes onto the desk; says so, with a space
    /// before, or nothing.
    fn put_aside(&mut self) -> String {
        if !self.variation.changed() {
            return String::new();
        }
        self.files.look_again();
        match store::put_aside(&self.folder, &self.kept()) {
            Ok(()) => format!(
                " Unsaved changes to “{}” were put aside: see Variations.",
                crate::report::clean::line(&self.edit().name)
            ),
            Err(error) => format!(" Unsaved changes could not be put aside: {error}"),
        }
    }

    /// Takes up what lies aside; what is on the desk unsaved changes places with it.
    pub fn take_up(&mut self, path: &Path, kept: Kept) {
        let aside = self.put_aside();
        store::throw_away(path);
        self.files.look_again();
        let name = crate::report::clean::line(&kept.edit.name);
        self.open_kept(kept);
        self.say(format!("Taken up again: {name}.{aside}"));
    }

    /// Opens the page on which a path can be written.
    pub fn ask_path(&mut self) {
        self.page = Some(super::settings::Page::Files);
        self.files.wants_path = true;
    }

    /// Saves to where it was opened from; without such a place asks for one.
    pub fn save(&mut self) {
        match self.file.clone() {
            Some(path) => self.save_to(&path),
            None => {
                self.page = Some(super::settings::Page::Files);
                self.say("Give the file a name, then save.");
            }
        }
    }

    /// Saves what is on the desk there, and says so or why not.
    pub fn save_to(&mut self, path: &Path) {
        match store::save(path, self.variation.now()) {
            Ok(()) => {
                self.file = Some(path.to_owned());
                self.variation.is_saved();
                self.files.stamp = newest(path);
                self.lately(path);
                self.keep();
                self.say(format!("Saved as {}.", path.display()));
            }
            Err(error) => self.warn(error),
        }
    }

    /// Reads the open file again when it has changed on the disk and nothing on the desk has.
    pub fn watch_file(&mut self, seconds: f32) {
        self.files.since += seconds;
        if self.files.since < EVERY {
            return;
        }
        self.files.since = 0.0;
        let Some(path) = self.file.clone() else {
            return;
        };
        let now = newest(&path);
        if now.is_none() || now == self.files.stamp {
            return;
        }
        if self.files.stamp.is_none() {
            self.files.stamp = now;
            return;
        }
        self.files.stamp = now;
        match store::open(&path) {
            Ok(edit) if edit == *self.variation.now() => {
                if self.problems.take().is_some() {
                    self.say("The file is sound again: it is what is on the desk.");
                }
            }
            Ok(edit) => {
                // A step like any other: undo brings back what was on the desk.
                if self.variation.change(edit, "from the disk") {
                    self.variation.is_saved();
                    self.replay_behind();
                    self.figures.ask(&self.variation);
                }
                self.problems = None;
                self.say("The file has changed on the disk and was read again.");
            }
            Err(problems) => {
                self.hush();
                self.hush();
                self.problems = Some(problems);
                self.page = Some(super::settings::Page::Files);
            }
        }
    }
}

/// Shows the page.
pub fn show(ui: &mut Ui, desk: &mut Desk) {
    if wrong(ui, desk) {
        return;
    }
    let mut edit = desk.edit().clone();
    ui.horizontal(|ui| {
        let label = ui.label("Name");
        let field = TextEdit::singleline(&mut edit.name).desired_width(335.0);
        ui.add(field).labelled_by(label.id);
    });
    if edit != *desk.edit() && !edit.name.trim().is_empty() {
        desk.variation.change(edit, "name");
        desk.keep();
    }
    let state = match (&desk.file, desk.variation.changed()) {
        (Some(path), false) => format!("saved as {}", path.display()),
        (Some(path), true) => format!("changed since it was saved as {}", path.display()),
        (None, false) => "as it ships".into(),
        (None, true) => "changed, not saved yet".into(),
    };
    ui.label(RichText::new(state).color(QUIET).small());
    ui.horizontal_wrapped(|ui| {
        let (can_undo, can_redo) = (desk.variation.can_undo(), desk.variation.can_redo());
        let button = |text| bevy_egui::egui::Button::new(text);
        if ui.add_enabled(can_undo, button("Undo")).clicked() {
            desk.undo();
        }
        if ui.add_enabled(can_redo, button("Redo")).clicked() {
            desk.redo();
        }
        if ui
            .add_enabled(desk.file.is_some(), button("Save"))
            .clicked()
        {
            desk.save();
        }
        if ui.button("New from the demo").clicked() {
            desk.new_variation();
        }
    });
    heading(ui, "Save under a name");
    let folder = desk.folder_shown();
    ui.label(
        RichText::new(format!("in {}", folder.display()))
            .color(QUIET)
            .small(),
    );
    ui.horizontal(|ui| {
        let label = ui.label("File");
        let field = TextEdit::singleline(&mut desk.files.name)
            .hint_text("friday")
            .desired_width(220.0);
        let field = ui.add(field).labelled_by(label.id);
        desk.mark("name", &field);
        let entered =
            field.lost_focus() && ui.input(|i| i.key_pressed(bevy_egui::egui::Key::Enter));
        if ui.button("Save here").clicked() || entered {
            match file_name(&desk.files.name) {
                Some(name) => desk.save_to(&folder.join(name)),
                None => desk.say("That cannot be the name of a file."),
            }
        }
    });
    open_page::show(ui, desk);
}

/// A plain file name ending in `.ron`; `None` if it would lead elsewhere.
fn file_name(text: &str) -> Option<String> {
    let text = text.trim();
    let plain =
        !text.is_empty() && !text.starts_with('.') && !text.contains(['/', '\\', ':', '\0']);
    plain.then(|| match text.strip_suffix(".ron") {
        Some(_) => text.to_string(),
        None => format!("{text}.ron"),
    })
}

/// What is wrong in a file, line by line; true if something is.
fn wrong(ui: &mut Ui, desk: &mut Desk) -> bool {
    let Some(problems) = desk.problems.clone() else {
        return false;
    };
    heading(ui, "This file cannot be played as it is");
    for problem in &problems.0 {
        ui.label(RichText::new(crate::report::clean::line(&problem.said)).color(WARN));
        ui.label(format!(
            "{}, line {}, column {}",
            problem.file, problem.line, problem.column
        ));
        if let Some((piece, mark, width)) = &problem.shown {
            let under = format!("{}{}", " ".repeat(*mark), "^".repeat(*width));
            let text = format!("{piece}\n{under}");
            ui.label(
                RichText::new(crate::report::clean::lines(&text))
                    .monospace()
                    .color(TEXT),
            );
        }
        if let Some(expected) = &problem.expected {
            ui.label(format!("expected: {expected}"));
        }
        if let Some(nearest) = &problem.nearest {
            ui.label(format!("nearest: {nearest}"));
        }
        ui.add_space(8.0);
    }
    ui.label(
        RichText::new("Mend it in an editor: it is read again as soon as it is saved.")
            .color(QUIET),
    );
    ui.label(
        RichText::new("What is on the floor is what was there before: nothing is lost.")
            .color(QUIET),
    );
    if ui.button("Go on with what is on the floor").clicked() {
        desk.problems = None;
    }
    true
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_name_for_a_file_leads_nowhere_else() {
        assert_eq!(file_name(" friday "), Some("friday.ron".into()));
        assert_eq!(file_name("a.ron"), Some("a.ron".into()));
        for bad in ["", "../a", "a/b", "c:\\x", ".hidden", "a\0b"] {
            assert_eq!(file_name(bad), None, "{bad}");
        }
    }

    #[test]
    fn a_file_that_changes_on_the_disk_is_read_again_and_undo_brings_back_the_desk() {
        let folder = tempfile::tempdir().expect("a folder");
        let path = folder.path().join("a.ron");
        let mut edit = store::demo();
        store::save(&path, &edit).expect("saved");
        let mut desk = Desk::new(store::demo(), None, folder.path().join("data"));
        desk.open_path(&path);
        assert_eq!(desk.edit(), &edit);
        edit.offence.patience.hold = 2.5;
        store::save(&path, &edit).expect("saved");
        desk.files.stamp = Some(SystemTime::UNIX_EPOCH);
        desk.watch_file(1.0);
        assert_eq!(desk.edit().offence.patience.hold, 2.5);
        assert!(!desk.variation.changed());
        desk.undo();
        assert_eq!(desk.edit().offence.patience, store::demo().offence.patience);
        let text = std::fs::read_to_string(&path).expect("text");
        std::fs::write(&path, text.replace("court:", "cuort:")).expect("written");
        desk.files.stamp = Some(SystemTime::UNIX_EPOCH);
        desk.watch_file(1.0);
        assert!(desk.problems.is_some());
        // Mended again as it was: nothing to complain of any more.
        store::save(&path, desk.edit()).expect("saved");
        desk.files.stamp = Some(SystemTime::UNIX_EPOCH);
        desk.watch_file(1.0);
        assert!(desk.problems.is_none());
    }
}
