//! Opening: what was open lately, what was put aside unsaved, a path written by hand, and the
//! folders of the disk. A plain list of our own: it needs no service of the desktop.

use std::path::{Path, PathBuf};

use bevy_egui::egui::{Key, RichText, TextEdit, Ui};

use super::desk::Desk;
use super::offence_page::heading;
use super::palette::*;
use super::store::{self, PARTS};
use super::words::files as words;
use crate::report::clean;

/// Files that were open lately and are still shown.
const RECENT: usize = 6;

impl Desk {
    /// Remembers a file as one of those that were open lately.
    pub fn lately(&mut self, path: &Path) {
        let whole = std::path::absolute(path).unwrap_or_else(|_| path.to_owned());
        // A name that is no text cannot be kept in the settings.
        let Some(text) = whole.to_str() else { return };
        self.settings.recent.retain(|r| r != text);
        self.settings.recent.insert(0, text.to_string());
        self.settings.recent.truncate(RECENT);
    }

    /// What was written as a path: a file is opened, a folder is looked into. What cannot be found is
    /// said.
    fn open_written(&mut self) {
        self.files.unfound = None;
        let text = self.files.path.trim().to_string();
        let path = self.folder_shown().join(in_full(&text));
        if path.is_dir() {
            self.files.folder = Some(path);
            self.files.path.clear();
        } else if path.is_file() {
            self.files.path.clear();
            self.open_path(&path);
        } else {
            let named = path.with_extension("ron");
            if named.is_file() {
                self.files.path.clear();
                self.open_path(&named);
                return;
            }
            let folder = path.parent().filter(|f| f.is_dir());
            let shown = clean::line(&path.display().to_string());
            self.files.unfound = Some(match folder {
                Some(_) => words::there_is_no_file(&shown),
                None => words::there_is_no_file_shown(&shown),
            });
        }
    }

    /// The folder that is looked into.
    pub fn folder_shown(&self) -> PathBuf {
        let here = || std::env::current_dir().unwrap_or_else(|_| PathBuf::from("."));
        self.files.folder.clone().unwrap_or_else(here)
    }
}

/// `~` at the start is the coach's own folder.
fn in_full(text: &str) -> PathBuf {
    let home = std::env::var_os("HOME").map(PathBuf::from);
    match (text.strip_prefix("~/"), home) {
        (Some(rest), Some(home)) => home.join(rest),
        _ if text == "~" => std::env::var_os("HOME").map_or_else(|| text.into(), PathBuf::from),
        _ => PathBuf::from(text),
    }
}

/// Shows all of it.
pub fn show(ui: &mut Ui, desk: &mut Desk) {
    heading(ui, words::OPEN);
    ui.label(
        RichText::new(words::OR_DROP_A_SCENARIO)
            .color(QUIET)
            .small(),
    );
    let window = desk.chooser.is_there();
    if window && ui.button(words::CHOOSE_A_FILE).clicked() {
        desk.ask_to_open();
    }
    written(ui, desk);
    recent(ui, desk);
    aside(ui, desk);
    // The desktop's own window shows the disk better.
    if !window {
        browse(ui, desk);
    }
}

fn written(ui: &mut Ui, desk: &mut Desk) {
    ui.horizontal(|ui| {
        let label = ui.label(words::PATH);
        let field = TextEdit::singleline(&mut desk.files.path)
            .hint_text(words::A_FILE_OR_A)
            .desired_width(240.0);
        let field = ui.add(field).labelled_by(label.id);
        desk.mark("path", &field);
        if desk.files.wants_path {
            field.request_focus();
            desk.files.wants_path = false;
        }
        if field.changed() {
            desk.files.unfound = None;
        }
        let entered = field.lost_focus() && ui.input(|i| i.key_pressed(Key::Enter));
        let filled = !desk.files.path.trim().is_empty();
        if (ui.button(words::OPEN_IT).clicked() || entered) && filled {
            desk.open_written();
        }
    });
    if let Some(unfound) = &desk.files.unfound {
        ui.label(RichText::new(unfound).color(WARN));
    }
}

fn recent(ui: &mut Ui, desk: &mut Desk) {
    let recent = desk.settings.recent.clone();
    if recent.is_empty() {
        return;
    }
    ui.label(RichText::new(words::LATELY).color(QUIET));
    for text in recent {
        let path = PathBuf::from(&text);
        let name = path.file_name().map(|n| n.to_string_lossy().into_owned());
        let name = clean::line(&name.unwrap_or(text.clone()));
        let link = ui.link(name).on_hover_text(clean::line(&text));
        if let Some(folder) = path.parent() {
            let shown = words::in_word(&folder.display());
            ui.label(RichText::new(clean::line(&shown)).color(QUIET).small());
        }
        if link.clicked() {
            if path.is_file() {
                desk.open_path(&path);
            } else {
                desk.settings.recent.retain(|r| *r != text);
                let gone = clean::line(&text);
                desk.files.unfound = Some(words::is_not_there_any(&gone));
            }
        }
    }
}

/// Unsaved changes that had to make room for another variation.
fn aside(ui: &mut Ui, desk: &mut Desk) {
    let aside = desk.files.aside(&desk.folder);
    if aside.is_empty() {
        return;
    }
    ui.label(RichText::new(words::PUT_ASIDE_NOT_SAVED).color(QUIET));
    for (path, kept) in aside {
        ui.horizontal_wrapped(|ui| {
            ui.label(clean::line(&kept.edit.name));
            if ui.button(words::TAKE_IT_UP).clicked() {
                desk.take_up(&path, kept.clone());
            }
            if ui.button(words::THROW_IT_AWAY).clicked() {
                store::throw_away(&path);
                desk.files.look_again();
            }
        });
    }
}

fn browse(ui: &mut Ui, desk: &mut Desk) {
    let folder = desk.folder_shown();
    ui.add_space(4.0);
    let here = words::in_word_folder(&folder.display());
    ui.label(RichText::new(clean::line(&here)).color(QUIET).small());
    if let Some(up) = folder.parent()
        && ui.button(words::ONE_FOLDER_UP).clicked()
    {
        desk.files.folder = Some(up.to_owned());
    }
    let entries = match std::fs::read_dir(&folder) {
        Ok(entries) => entries,
        Err(error) => {
            let why = if error.kind() == std::io::ErrorKind::PermissionDenied {
                words::YOU_MAY_NOT_LOOK_INTO
            } else {
                words::THIS_FOLDER_IS_NOT_THERE
            };
            ui.label(RichText::new(why).color(WARN));
            return;
        }
    };
    let mut paths: Vec<PathBuf> = entries.filter_map(|e| e.ok().map(|e| e.path())).collect();
    paths.sort();
    let mut nothing = true;
    for path in paths {
        let name = path.file_name().map(|n| n.to_string_lossy().into_owned());
        let Some(name) = name.filter(|n| !n.starts_with('.')) else {
            continue;
        };
        let part = PARTS
            .iter()
            .chain(&["saving"])
            .any(|part| name.ends_with(&format!(".{part}.ron")));
        let shown = clean::line(&name);
        if path.is_dir() {
            nothing = false;
            if ui.link(format!("{shown} …")).clicked() {
                desk.files.folder = Some(path);
            }
        } else if name.ends_with(".ron") && !part {
            nothing = false;
            if ui.link(shown).clicked() {
                desk.open_path(&path);
            }
        }
    }
    if nothing {
        ui.label(RichText::new(words::NO_SCENARIO_FILES_AND).color(QUIET));
    }
}
