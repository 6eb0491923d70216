//! The page “Save and open”: name, new, open, save, and files that change on the disk under the desk's
//! hands; and the page that shows what is wrong in a file.

use std::path::{Path, PathBuf};
use std::time::SystemTime;

use bevy_egui::egui::{RichText, TextEdit, Ui};

use super::desk::Desk;
use super::offence_page::heading;
use super::open_page;
use super::palette::*;
use super::store::{self, Kept, PARTS};
use super::words::files as words;
use super::wrong_page;
use crate::why::Rival;

/// A file with something wrong in it, which the desk has not.
#[derive(Clone, Debug)]
pub struct Wrong {
    /// Where it lies.
    pub path: PathBuf,
    /// When it was last changed.
    stamp: Option<SystemTime>,
}

impl Wrong {
    /// A file that has just been read.
    pub fn at(path: &Path) -> Wrong {
        Wrong {
            path: path.to_owned(),
            stamp: newest(path),
        }
    }
}

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
    /// A file that could not be opened as it was.
    pub wrong: Option<Wrong>,
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
                self.say(words::opened(&name, &aside));
            }
            Err(problems) => {
                self.hush();
                self.problems = Some(problems);
                self.files.wrong = Some(Wrong::at(path));
                self.page = Some(super::settings::Page::Files);
            }
        }
    }

    /// A new variation, from the demo.
    pub fn new_variation(&mut self) {
        let aside = self.put_aside();
        let mut edit = store::demo();
        edit.name = words::NEW_VARIATION.into();
        self.open(edit, None);
        self.say(words::a_new_variation_from(&aside));
    }

    /// Puts unsaved changes aside before something else comes onto the desk; says so, with a space
    /// before, or nothing.
    fn put_aside(&mut self) -> String {
        if !self.variation.changed() {
            return String::new();
        }
        self.files.look_again();
        match store::put_aside(&self.folder, &self.kept()) {
            Ok(()) => {
                words::unsaved_changes_to_were(&crate::report::clean::line(&self.edit().name))
            }
            Err(error) => words::unsaved_changes_could_not(&error),
        }
    }

    /// Takes up what lies aside; what is on the desk unsaved changes places with it.
    pub fn take_up(&mut self, path: &Path, kept: Kept) {
        let aside = self.put_aside();
        store::throw_away(path);
        self.files.look_again();
        let name = crate::report::clean::line(&kept.edit.name);
        self.open_kept(kept);
        self.say(words::taken_up_again(&name, &aside));
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
                self.say(words::GIVE_THE_FILE_A);
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
                self.say(words::saved_as(&path.display()));
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
        if let Some(wrong) = self.files.wrong.clone() {
            if self.problems.is_none() {
                self.files.wrong = None;
            } else if newest(&wrong.path) != wrong.stamp {
                self.problems = None;
                self.files.wrong = None;
                self.open_path(&wrong.path);
            }
            return;
        }
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
                    self.say(words::THE_FILE_IS_SOUND);
                }
            }
            Ok(edit) => {
                // A step like any other: undo brings back what was on the desk.
                if self.variation.change(edit, words::FROM_THE_DISK) {
                    self.variation.is_saved();
                    self.replay_behind();
                    self.figures.ask(&self.variation);
                }
                self.problems = None;
                self.say(words::THE_FILE_HAS_CHANGED);
            }
            Err(problems) => {
                self.hush();
                self.problems = Some(problems);
                self.page = Some(super::settings::Page::Files);
            }
        }
    }
}

/// Shows the page.
pub fn show(ui: &mut Ui, desk: &mut Desk) {
    if wrong_page::show(ui, desk) {
        return;
    }
    let mut edit = desk.edit().clone();
    ui.horizontal(|ui| {
        let label = ui.label(words::NAME);
        let field = TextEdit::singleline(&mut edit.name).desired_width(335.0);
        ui.add(field).labelled_by(label.id);
    });
    if edit != *desk.edit() && !edit.name.trim().is_empty() {
        desk.variation.change(edit, "name");
        desk.keep();
    }
    let state = match (&desk.file, desk.variation.changed()) {
        (Some(path), false) => words::saved_as_path(&path.display()),
        (Some(path), true) => words::changed_since_it_was(&path.display()),
        (None, false) => words::AS_IT_SHIPS.into(),
        (None, true) => words::CHANGED_NOT_SAVED_YET.into(),
    };
    ui.label(RichText::new(state).color(QUIET).small());
    ui.horizontal_wrapped(|ui| {
        let (can_undo, can_redo) = (desk.variation.can_undo(), desk.variation.can_redo());
        let button = |text| bevy_egui::egui::Button::new(text);
        if ui.add_enabled(can_undo, button(words::UNDO)).clicked() {
            desk.undo();
        }
        if ui.add_enabled(can_redo, button(words::REDO)).clicked() {
            desk.redo();
        }
        if ui
            .add_enabled(desk.file.is_some(), button(words::SAVE))
            .clicked()
        {
            desk.save();
        }
        if ui.button(words::NEW_FROM_THE_DEMO).clicked() {
            desk.new_variation();
        }
    });
    heading(ui, words::SAVE_UNDER_A_NAME);
    let folder = desk.folder_shown();
    ui.label(
        RichText::new(words::in_word(&folder.display()))
            .color(QUIET)
            .small(),
    );
    ui.horizontal(|ui| {
        let label = ui.label(words::FILE);
        let field = TextEdit::singleline(&mut desk.files.name)
            .hint_text(words::FRIDAY)
            .desired_width(220.0);
        let field = ui.add(field).labelled_by(label.id);
        desk.mark("name", &field);
        let entered =
            field.lost_focus() && ui.input(|i| i.key_pressed(bevy_egui::egui::Key::Enter));
        if ui.button(words::SAVE_HERE).clicked() || entered {
            match file_name(&desk.files.name) {
                Some(name) => desk.save_to(&folder.join(name)),
                None => desk.say(words::THAT_CANNOT_BE_THE),
            }
        }
    });
    if desk.chooser.is_there() && ui.button(words::SAVE_SOMEWHERE_ELSE).clicked() {
        desk.ask_where_to_save();
    }
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
