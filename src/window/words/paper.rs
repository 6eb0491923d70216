//! What the page of the paper says, and what comes of opening and printing.

use std::fmt::Display;

pub fn nothing_on_this_computer(place: &dyn Display) -> String {
    format!("Nothing on this computer opens that by itself. It is here: {place}.")
}
pub fn it_is_not_there(place: &dyn Display) -> String {
    format!("It is not there any more: {place}.")
}
pub const IT_IS_WITH_THE: &str = "It is with the printer.";
pub fn no_printer_took_it(place: &dyn Display) -> String {
    format!(
        "No printer took it. Is one set up on this computer, and switched on? The file is here: {place}."
    )
}
pub fn this_computer_cannot_print(place: &dyn Display) -> String {
    format!("This computer cannot print from here. Open the file and print it from there: {place}.")
}
pub const IT_ENDED_WITHOUT_AN: &str = "it ended without an answer";
pub const DONE_ONE_FILE_WAS: &str = "Done: one file was written.";
pub fn done_files_were_written(files: &dyn Display) -> String {
    format!("Done: {files} files were written.")
}
pub fn not_done(said: &dyn Display) -> String {
    format!("Not done: {said}.")
}
pub const FOR_PLAYERS_AND_ASSISTANTS: &str = "For players and assistants who install nothing.";
pub const WHERE_IT_GOES: &str = "Where it goes";
pub const FOLDER: &str = "Folder";
pub fn the_files_go_to(to: &dyn Display) -> String {
    format!("The files go to {to}")
}
pub const PAPER: &str = "Paper";
pub const US_LETTER: &str = "US letter";
pub const WHAT_IS_MADE: &str = "What is made";
pub const ON_THE_PRACTICE_SHEET: &str = "On the practice sheet";
pub const PLAYS_THE_POSSESSIONS_BEHIND: &str = "plays the possessions behind the figures";
pub fn makes_the(piece: &dyn Display) -> String {
    format!("makes the {piece}")
}
pub const STOP: &str = "Stop";
pub const STOPPED_WHAT_WAS_COMPLETE: &str = "stopped; what was complete has been kept";
pub const OPEN_THE_FOLDER: &str = "Open the folder";
pub fn kb(path: &dyn Display, size: &dyn Display) -> String {
    format!("{path} ({size} kB)")
}
pub fn open(line: &dyn Display) -> String {
    format!("{line}  → open")
}
pub fn print(name: &dyn Display) -> String {
    format!("Print {name}")
}
pub const ON_THE_USUAL_PRINTER: &str = "On the usual printer";
pub const FOR_ANOTHER_PRINTER_OR: &str =
    "For another printer, or other sizes, open a sheet and print it from there.";
pub fn opening(path: &dyn Display) -> String {
    format!("Opening {path} …")
}
pub const WHOLE_PACK: &str = "Whole pack";
pub const EVERYTHING_BELOW_IN_SOME: &str = "Everything below, in some seconds.";
pub const PRACTICE_SHEET: &str = "Practice sheet";
pub const TWO_PAGES_FINDINGS_LOOKS: &str =
    "Two pages: findings, looks to rehearse, shell drill, time plan.";
pub const RULE_CARDS: &str = "Rule cards";
pub const FOR_EVERY_RULE_WHAT: &str = "For every rule, what each of the five does, both sides.";
pub const SHELL_POSITIONS: &str = "Shell positions";
pub const WHERE_THE_DEFENDERS_STAND: &str =
    "Where the defenders stand, for this defence and every one that ships.";
pub const PHONE_PAGE: &str = "Phone page";
pub fn possession_to_play_and(seed: &dyn Display) -> String {
    format!("Possession {seed} to play and step, the cards and a quiz; needs no network.")
}
pub const MOVING_PICTURE: &str = "Moving picture";
pub fn possession_as_gif_and(seed: &dyn Display) -> String {
    format!("Possession {seed} as GIF and APNG, for a chat.")
}
pub const PICTURE_OF_THIS_MOMENT: &str = "Picture of this moment";
pub fn the_floor_as_you(time: &dyn Display) -> String {
    format!("The floor as you see it now, at {time:.1} s, on white.")
}
pub const DIAGRAM_OF_WHAT_COMES: &str = "Diagram of what comes now";
pub fn runs_passes_and_dribbles(time: &dyn Display) -> String {
    format!("Runs, passes and dribbles of the four seconds after {time:.1} s.")
}
pub const MOVED_BY_HAND: &str = ", moved by hand";
pub fn possession_at_s(seed: &dyn Display, time: &dyn Display, by_hand: &dyn Display) -> String {
    format!("Possession {seed} at {time:.1} s{by_hand}")
}
pub const TITLE: &str = "Title";
pub const DATE: &str = "Date";
pub const A_LINE_TO_WRITE: &str = "a line to write on";
pub const PLACE: &str = "Place";
pub const WHO: &str = "Who";
pub const THE_NAMES_OF_THE: &str = "the names of the squad";
pub const MINUTES: &str = "Minutes";
pub fn notes_a_line_each(most_notes: &dyn Display) -> String {
    format!("Notes, a line each, {most_notes} at most")
}
