//! What the page “Save and open” says: names, opening, saving, and what is wrong in a file.

use std::fmt::Display;

pub const IT_ENDED_WITHOUT_AN: &str = "it ended without an answer";
pub const OPEN_A_SCENARIO: &str = "Open a scenario";
pub const SAVE_THE_SCENARIO_AS: &str = "Save the scenario as";
pub const FILE_FILTER_SCENARIOS_RON: &str = "--file-filter=Scenarios (*.ron) | *.ron";
pub const SCENARIOS_RON: &str = "Scenarios (*.ron)";
pub const THE_DESKTOPS_WINDOW_FOR: &str = "The desktop's window for files did not open.";
pub fn opened(name: &dyn Display, aside: &dyn Display) -> String {
    format!("Opened: {name}.{aside}")
}
pub const NEW_VARIATION: &str = "New variation";
pub fn a_new_variation_from(aside: &dyn Display) -> String {
    format!("A new variation, from the demo.{aside}")
}
pub fn unsaved_changes_to_were(line: &dyn Display) -> String {
    format!(" Unsaved changes to “{line}” were put aside: see Save and open.")
}
pub fn unsaved_changes_could_not(error: &dyn Display) -> String {
    format!(" Unsaved changes could not be put aside: {error}")
}
pub fn taken_up_again(name: &dyn Display, aside: &dyn Display) -> String {
    format!("Taken up again: {name}.{aside}")
}
pub const GIVE_THE_FILE_A: &str = "Give the file a name, then save.";
pub fn saved_as(path: &dyn Display) -> String {
    format!("Saved as {path}.")
}
pub const THE_FILE_IS_SOUND: &str = "The file is sound again, and it is what you see.";
pub const FROM_THE_DISK: &str = "from the disk";
pub const THE_FILE_HAS_CHANGED: &str = "The file has changed on the disk and was read again.";
pub const NAME: &str = "Name";
pub fn saved_as_path(path: &dyn Display) -> String {
    format!("saved as {path}")
}
pub fn changed_since_it_was(path: &dyn Display) -> String {
    format!("changed since it was saved as {path}")
}
pub const AS_IT_SHIPS: &str = "as it ships";
pub const CHANGED_NOT_SAVED_YET: &str = "changed, not saved yet";
pub const UNDO: &str = "Undo";
pub const REDO: &str = "Redo";
pub const SAVE: &str = "Save";
pub const NEW_FROM_THE_DEMO: &str = "New from the demo";
pub const SAVE_UNDER_A_NAME: &str = "Save under a name";
pub fn in_word(folder: &dyn Display) -> String {
    format!("in {folder}")
}
pub const FILE: &str = "File";
pub const FRIDAY: &str = "friday";
pub const SAVE_HERE: &str = "Save here";
pub const THAT_CANNOT_BE_THE: &str = "That cannot be the name of a file.";
pub const SAVE_SOMEWHERE_ELSE: &str = "Save somewhere else …";
pub const THIS_FILE_CANNOT_BE: &str = "This file cannot be played as it is";
pub fn in_line_of(line: &dyn Display, file: &dyn Display, said: &dyn Display) -> String {
    format!("In line {line} of {file}: {said}.")
}
pub fn perhaps_it_should_be(nearest: &dyn Display) -> String {
    format!("Perhaps it should be “{nearest}”.")
}
pub fn put_there(nearest: &dyn Display) -> String {
    format!("Put “{nearest}” there")
}
pub fn there_should_be(expected: &dyn Display) -> String {
    format!("There should be: {expected}.")
}
pub const THE_FILE_HAS_CHANGED_SINCE: &str = "The file has changed since: look again.";
pub const OR_MEND_IT_IN: &str = "Or mend it with any program for plain text: it is opened as soon as it is right. If somebody sent it to you, send them these lines.";
pub const WHAT_IS_ON_THE: &str = "What is on the floor is what was there before: nothing is lost.";
pub const GO_ON_WITH_WHAT: &str = "Go on with what is on the floor";
pub const UNSAVED_CHANGES_OF_LAST: &str =
    "Unsaved changes of last time were put aside: see Save and open.";
pub fn they_are_here_again(how: &dyn Display) -> String {
    format!("{how}. They are here again; undo takes them back.")
}
pub fn there_is_no_file(shown: &dyn Display) -> String {
    format!("There is no file {shown}.")
}
pub fn there_is_no_file_shown(shown: &dyn Display) -> String {
    format!("There is no file {shown}, nor the folder in which it would be.")
}
pub const OPEN: &str = "Open";
pub const OR_DROP_A_SCENARIO: &str = "Or drop a scenario file onto the window.";
pub fn nothing_can_be_kept(folder: &dyn Display) -> String {
    format!(
        "Settings and unsaved changes cannot be kept: this program may not write to {folder}. Before you close, save your changes under a name (page Save and open), in a folder of your own."
    )
}
pub const CHOOSE_A_FILE: &str = "Choose a file …";
pub const PATH: &str = "Path";
pub const A_FILE_OR_A: &str = "a file or a folder";
pub const OPEN_IT: &str = "Open it";
pub const LATELY: &str = "Lately";
pub fn is_not_there_any(gone: &dyn Display) -> String {
    format!("{gone} is not there any more.")
}
pub const PUT_ASIDE_NOT_SAVED: &str = "Put aside, not saved";
pub const TAKE_IT_UP: &str = "Take it up";
pub const THROW_IT_AWAY: &str = "Throw it away";
pub fn in_word_folder(folder: &dyn Display) -> String {
    format!("In {folder}")
}
pub const ONE_FOLDER_UP: &str = "one folder up";
pub const YOU_MAY_NOT_LOOK_INTO: &str =
    "You may not look into this folder: go one up, or write another path.";
pub const THIS_FOLDER_IS_NOT_THERE: &str =
    "This folder is not there any more: go one up, or write another path.";
pub const NO_SCENARIO_FILES_AND: &str = "No scenario files and no folders here.";
pub const NO_SUCH_FILE_IS: &str = "no such file is shipped";
pub const THIS_IS_NOT_A: &str = "this is not a name for a file";
pub const RULES_THAT_ARE_SWITCHED: &str = "Rules that are switched off";
pub const YOU_HAD_NOT_SAVED: &str = "You had not saved these changes when you closed the window";
pub const THE_WINDOW_DID_NOT: &str = "The window did not close properly last time";
pub const TOO_MUCH_LIES_ASIDE: &str = "too much lies aside already";
pub fn not_allowed_to_write(name: &dyn Display, folder: &dyn Display) -> String {
    format!(
        "{name} is not written: you may not write to the folder {folder}. Choose a folder of your own."
    )
}
pub fn only_to_be_read(name: &dyn Display, folder: &dyn Display) -> String {
    format!("{name} is not written: {folder} can only be read. Choose a folder on another disk.")
}
pub fn the_disk_is_full(name: &dyn Display) -> String {
    format!("{name} is not written: the disk is full. Make room, or choose another disk.")
}
pub fn the_folder_is_gone(name: &dyn Display, folder: &dyn Display) -> String {
    format!("{name} is not written: there is no folder {folder} any more. Choose another one.")
}
pub fn no_folder(place: &dyn Display, name: &dyn Display) -> String {
    format!("{name} is not written: {place} is a file, not a folder. Choose a folder.")
}
pub fn a_folder_has_that_name(name: &dyn Display, folder: &dyn Display) -> String {
    format!("{name} is not written: in {folder} a folder has that name. Choose another name.")
}
pub fn could_not_be_written(name: &dyn Display, folder: &dyn Display) -> String {
    format!("{name} could not be written to {folder}. Choose another folder, and try again.")
}
pub fn typical(level: &dyn Display) -> String {
    format!("typical {level}")
}
pub const ATTACKERS: &str = "Attackers";
pub const DEFENDERS: &str = "Defenders";
pub const DENIED_FOR: &str = "denied for";
pub const BALL_THERE_FOR: &str = "ball there for";
pub const FORGOTTEN_FOR: &str = "forgotten for";
pub const SECONDS_LEFT: &str = "seconds left";
pub const STARTS_AFTER: &str = "starts after";
pub const FLASH_FOR: &str = "flash for";
pub const SEAL_FOR: &str = "seal for";
