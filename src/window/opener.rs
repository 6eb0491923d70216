//! Opens a file or a folder with whatever the computer has for it, or prints a file, and never waits for that in the
//! picture.

use std::ffi::OsString;
use std::path::Path;
use std::process::{Command, Stdio};

use super::jobs::Job;
use super::memory;
use super::words::paper as words;
use crate::clean;

/// What opens things on this computer, and what is being opened.
pub struct Opener {
    /// The program with its first arguments; the path comes last.
    pub program: Vec<OsString>,
    /// What hands a file to the printer, in the same way; empty: nothing that is known here.
    pub printer: Vec<OsString>,
    /// What is said of each when it is done: nothing, where the coach sees it.
    under_way: Vec<Job<Result<Option<String>, String>>>,
}

impl Default for Opener {
    fn default() -> Opener {
        let words: &[&str] = if cfg!(target_os = "macos") {
            &["open"]
        } else if cfg!(windows) {
            &["explorer"]
        } else {
            &["xdg-open"]
        };
        // The command of POSIX (IEEE 1003.1, lp).
        let prints: &[&str] = if cfg!(unix) { &["lp"] } else { &[] };
        Opener {
            program: words.iter().map(OsString::from).collect(),
            printer: prints.iter().map(OsString::from).collect(),
            under_way: Vec::new(),
        }
    }
}

impl Opener {
    /// Asks for it to be opened.
    pub fn open(&mut self, path: &Path) {
        let path = std::path::absolute(path).unwrap_or(path.to_owned());
        let program = self.program.clone();
        self.under_way.push(Job::start("opener", 1, move |_, _| {
            Some(opened(&program, &path).map(|()| None))
        }));
    }

    /// Asks for it to be printed on the usual printer.
    pub fn print(&mut self, path: &Path) {
        let path = std::path::absolute(path).unwrap_or(path.to_owned());
        let program = self.printer.clone();
        self.under_way.push(Job::start("printer", 1, move |_, _| {
            Some(printed(&program, &path).map(Some))
        }));
    }

    /// Is anything being opened or printed that has not said yet that it is?
    pub fn busy(&self) -> bool {
        !self.under_way.is_empty()
    }

    /// What is to be said since, in a coach's words: what was done, or what went wrong.
    pub fn pass(&mut self) -> Option<Result<String, String>> {
        let mut told = None;
        self.under_way.retain_mut(|job| match job.take() {
            Some(said) => {
                told = said.transpose().or(told.take());
                false
            }
            None => !job.is_over(),
        });
        told
    }
}

fn opened(program: &[OsString], path: &Path) -> Result<(), String> {
    let place = there(path)?;
    let nothing = || words::nothing_on_this_computer(&place);
    match ran(program, path) {
        // The one of Windows ends with 1 even when all went well.
        Some(well) if well || cfg!(windows) => Ok(()),
        _ => Err(nothing()),
    }
}

/// Where the file lies, in words; an error if it does not.
fn there(path: &Path) -> Result<String, String> {
    let place = clean::line(&path.display().to_string());
    if path.exists() {
        Ok(place)
    } else {
        Err(words::it_is_not_there(&place))
    }
}

/// Hands the file to the printer.
fn printed(program: &[OsString], path: &Path) -> Result<String, String> {
    let place = there(path)?;
    match ran(program, path) {
        Some(true) => Ok(words::IT_IS_WITH_THE.into()),
        Some(false) => Err(words::no_printer_took_it(&place)),
        None => Err(words::this_computer_cannot_print(&place)),
    }
}

/// Runs the program with the path: did it end well? `None` if there is no such program.
fn ran(program: &[OsString], path: &Path) -> Option<bool> {
    let (name, words) = program.split_first()?;
    let mut command = Command::new(name);
    memory::as_usual(&mut command)
        .args(words)
        .arg(path)
        .stdin(Stdio::null())
        .stdout(Stdio::null())
        .stderr(Stdio::null());
    command.status().ok().map(|ended| ended.success())
}

#[cfg(all(test, unix))]
mod tests {
    use super::*;
    use std::time::{Duration, Instant};

    fn wait(opener: &mut Opener) -> Option<Result<String, String>> {
        let mut told = None;
        for _ in 0..2000 {
            told = told.or(opener.pass());
            if !opener.busy() {
                break;
            }
            std::thread::sleep(Duration::from_millis(5));
        }
        assert!(!opener.busy());
        told
    }

    fn wrong(opener: &mut Opener) -> String {
        wait(opener).expect("said").expect_err("that it failed")
    }

    fn with(program: &[&str]) -> Opener {
        Opener {
            program: program.iter().map(OsString::from).collect(),
            ..Opener::default()
        }
    }

    #[test]
    fn the_computer_s_own_program_gets_the_path_and_nobody_waits_for_it() {
        let folder = tempfile::tempdir().expect("a folder");
        let to = folder.path().join("a folder with blanks");
        std::fs::create_dir(&to).expect("made");
        let script = "sleep 0.3; printf %s \"$2\" >\"$1\"";
        let note = folder.path().join("note");
        let note_word = note.display().to_string();
        let mut opener = with(&["sh", "-c", script, "sh", &note_word]);
        let began = super::super::desk::stopwatch();
        opener.open(&to);
        let took: Duration = Instant::elapsed(&began);
        assert!(took < Duration::from_millis(250), "{took:?}");
        assert_eq!(wait(&mut opener), None);
        let got = std::fs::read_to_string(note).expect("written");
        assert_eq!(got, to.display().to_string());
    }

    #[test]
    fn what_fails_is_said_with_the_place() {
        let folder = tempfile::tempdir().expect("a folder");
        let place = folder.path().display().to_string();
        for program in [&["false"][..], &["/nowhere/at/all"], &[]] {
            let mut opener = with(program);
            opener.open(folder.path());
            let said = wrong(&mut opener);
            assert!(
                said.contains(&place) && said.contains("Nothing on this computer"),
                "{said}"
            );
        }
        let mut opener = with(&["true"]);
        opener.open(&folder.path().join("gone"));
        assert!(wrong(&mut opener).contains("not there any more"));
    }

    #[test]
    fn a_sheet_is_handed_to_the_printer_or_it_is_said_what_to_do() {
        let folder = tempfile::tempdir().expect("a folder");
        let sheet = folder.path().join("sheet for friday.pdf");
        std::fs::write(&sheet, "paper").expect("written");
        let copy = folder.path().join("printed");
        let copy_word = copy.display().to_string();
        let with = |program: &[&str]| Opener {
            printer: program.iter().map(OsString::from).collect(),
            ..Opener::default()
        };
        let script = "cp \"$2\" \"$1\"";
        let mut opener = with(&["sh", "-c", script, "sh", &copy_word]);
        opener.print(&sheet);
        let said = wait(&mut opener).expect("said");
        assert_eq!(said, Ok("It is with the printer.".to_owned()));
        assert_eq!(std::fs::read_to_string(copy).expect("there"), "paper");
        for (program, told) in [
            (&["false"][..], "No printer took it"),
            (&["/nowhere/at/all"], "cannot print from here"),
            (&[], "cannot print from here"),
        ] {
            let mut opener = with(program);
            opener.print(&sheet);
            let said = wrong(&mut opener);
            assert!(
                said.contains(told) && said.contains("sheet for friday.pdf"),
                "{said}"
            );
        }
    }
}
