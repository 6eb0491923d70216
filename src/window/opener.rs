//! Opens a file or a folder with whatever the computer has for it, and never waits for that in the picture.

use std::ffi::OsString;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};

use super::jobs::Job;
use super::memory;
use crate::clean;

/// What opens things on this computer, and what is being opened.
pub struct Opener {
    /// The program with its first arguments; the path comes last.
    pub program: Vec<OsString>,
    opening: Vec<Job<Result<(), String>>>,
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
        Opener {
            program: words.iter().map(OsString::from).collect(),
            opening: Vec::new(),
        }
    }
}

impl Opener {
    /// Asks for it to be opened.
    pub fn open(&mut self, path: &Path) {
        let path = std::path::absolute(path).unwrap_or(path.to_owned());
        let program = self.program.clone();
        self.opening.push(Job::start("opener", 1, move |_, _| {
            Some(opened(&program, path))
        }));
    }

    /// Is anything being opened that has not said yet that it is?
    pub fn busy(&self) -> bool {
        !self.opening.is_empty()
    }

    /// What went wrong since, in a coach's words.
    pub fn pass(&mut self) -> Option<String> {
        let mut wrong = None;
        self.opening.retain_mut(|job| match job.take() {
            Some(Ok(())) => false,
            Some(Err(said)) => {
                wrong = Some(said);
                false
            }
            None => !job.is_over(),
        });
        wrong
    }
}

fn opened(program: &[OsString], path: PathBuf) -> Result<(), String> {
    let place = clean::line(&path.display().to_string());
    let nothing = || format!("Nothing on this computer opens that by itself. It is here: {place}.");
    if !path.exists() {
        return Err(format!("It is not there any more: {place}."));
    }
    let (name, words) = program.split_first().ok_or_else(nothing)?;
    let mut command = Command::new(name);
    memory::as_usual(&mut command)
        .args(words)
        .arg(&path)
        .stdin(Stdio::null())
        .stdout(Stdio::null())
        .stderr(Stdio::null());
    let ended = command.status().map_err(|_| nothing())?;
    // The one of Windows ends with 1 even when all went well.
    if ended.success() || cfg!(windows) {
        Ok(())
    } else {
        Err(nothing())
    }
}

#[cfg(all(test, unix))]
mod tests {
    use super::*;
    use std::time::{Duration, Instant};

    fn wait(opener: &mut Opener) -> Option<String> {
        let mut wrong = None;
        for _ in 0..2000 {
            wrong = wrong.or(opener.pass());
            if !opener.busy() {
                break;
            }
            std::thread::sleep(Duration::from_millis(5));
        }
        assert!(!opener.busy());
        wrong
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
            let said = wait(&mut opener).expect("said");
            assert!(
                said.contains(&place) && said.contains("Nothing on this computer"),
                "{said}"
            );
        }
        let mut opener = with(&["true"]);
        opener.open(&folder.path().join("gone"));
        assert!(
            wait(&mut opener)
                .expect("said")
                .contains("not there any more")
        );
    }
}
