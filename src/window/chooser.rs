//! Files chosen in the desktop's own window, where it has one: a program of the desktop shows it and says what was
//! chosen. Where there is none, the page “Save and open” has a list of its own.

use std::ffi::{OsStr, OsString};
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};

use super::desk::Desk;
use super::jobs::Job;
use super::memory;
use super::words::files as words;

/// What is chosen.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Choice {
    /// A file to open.
    Open,
    /// Where to save.
    Save,
}

/// How a program of the desktop is asked.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Manner {
    Zenity,
    Kdialog,
}

/// What came of it.
type Came = Result<Option<PathBuf>, String>;

/// The desktop's program, and what is being chosen in its window.
#[derive(Default)]
pub struct Chooser {
    program: Option<(PathBuf, Manner)>,
    under_way: Option<(Choice, Job<Came>)>,
}

impl Chooser {
    /// The program of this desktop, if one of those that are known is there.
    pub fn of_this_desktop() -> Chooser {
        let desktop = std::env::var_os("XDG_CURRENT_DESKTOP").unwrap_or_default();
        let path = std::env::var_os("PATH").unwrap_or_default();
        Chooser::among(&path, &desktop)
    }

    /// The program among these folders.
    fn among(path: &OsStr, desktop: &OsStr) -> Chooser {
        let mut known = [("zenity", Manner::Zenity), ("kdialog", Manner::Kdialog)];
        if desktop.to_string_lossy().contains("KDE") {
            known.reverse();
        }
        let there = |(name, manner): (&str, Manner)| {
            let mut places = std::env::split_paths(path).map(|folder| folder.join(name));
            Some((places.find(|place| place.is_file())?, manner))
        };
        Chooser {
            program: known.into_iter().find_map(there),
            under_way: None,
        }
    }

    /// Has the desktop a window for it?
    pub fn is_there(&self) -> bool {
        self.program.is_some()
    }

    /// Is its window open?
    pub fn busy(&self) -> bool {
        self.under_way.is_some()
    }

    /// Opens its window, in a folder or at a file. While one is open there is no second.
    pub fn ask(&mut self, choice: Choice, at: &Path) {
        let Some((program, manner)) = self.program.clone().filter(|_| !self.busy()) else {
            return;
        };
        let words = words_for(manner, &choice, at);
        let job = Job::start("chooser", 1, move |_, _| Some(chosen(&program, &words)));
        self.under_way = Some((choice, job));
    }

    /// What was chosen since, or why nothing could be.
    pub fn pass(&mut self) -> Option<(Choice, Came)> {
        let (choice, job) = self.under_way.as_mut()?;
        let came = match job.take() {
            Some(came) => came,
            None if job.is_over() => Err(words::IT_ENDED_WITHOUT_AN.into()),
            None => return None,
        };
        let choice = choice.clone();
        self.under_way = None;
        Some((choice, came))
    }
}

/// What the program is told.
fn words_for(manner: Manner, choice: &Choice, at: &Path) -> Vec<OsString> {
    let title = match choice {
        Choice::Open => words::OPEN_A_SCENARIO,
        Choice::Save => words::SAVE_THE_SCENARIO_AS,
    };
    let joined = |start: &str| {
        let mut word = OsString::from(start);
        word.push(at);
        word
    };
    let plain = |words: &[&str]| words.iter().map(OsString::from).collect::<Vec<_>>();
    match manner {
        Manner::Zenity => {
            let mut words = plain(&["--file-selection", "--title", title]);
            if *choice == Choice::Save {
                words.extend(plain(&["--save", "--confirm-overwrite"]));
            }
            words.push(joined("--filename="));
            words.push(words::FILE_FILTER_SCENARIOS_RON.into());
            words
        }
        Manner::Kdialog => {
            let asks = match choice {
                Choice::Open => "--getopenfilename",
                Choice::Save => "--getsavefilename",
            };
            let mut words = plain(&["--title", title, asks]);
            words.push(at.into());
            words.push(words::SCENARIOS_RON.into());
            words
        }
    }
}

/// Shows the program's window and waits for what is chosen; nothing, if it was closed without.
fn chosen(program: &Path, words: &[OsString]) -> Came {
    let mut command = Command::new(program);
    memory::as_usual(&mut command)
        .args(words)
        .stdin(Stdio::null())
        .stderr(Stdio::null());
    let wrong = || words::THE_DESKTOPS_WINDOW_FOR.to_string();
    let out = command.output().map_err(|_| wrong())?;
    let path = one_line(&out.stdout);
    match out.status.code() {
        Some(0) if path.is_some() => Ok(path),
        Some(0 | 1) => Ok(None),
        _ => Err(wrong()),
    }
}

/// The path on the one line that was written.
fn one_line(out: &[u8]) -> Option<PathBuf> {
    let line = out.strip_suffix(b"\n").unwrap_or(out);
    #[cfg(unix)]
    let path = {
        use std::os::unix::ffi::OsStrExt;
        PathBuf::from(OsStr::from_bytes(line))
    };
    #[cfg(not(unix))]
    let path = PathBuf::from(String::from_utf8_lossy(line).into_owned());
    (!line.is_empty()).then_some(path)
}

impl Desk {
    /// Asks which file to open: in the desktop's window, or by the page “Save and open”.
    pub fn ask_to_open(&mut self) {
        if self.chooser.is_there() {
            // A folder ends with a stroke, or it is taken for a file's name.
            let folder = self.folder_shown().join("");
            self.chooser.ask(Choice::Open, &folder);
        } else {
            self.ask_path();
        }
    }

    /// Asks in the desktop's window where to save.
    pub fn ask_where_to_save(&mut self) {
        let at = match &self.file {
            Some(file) => file.clone(),
            None => self.folder_shown().join("friday.ron"),
        };
        self.chooser.ask(Choice::Save, &at);
    }

    /// Does what was chosen in the desktop's window.
    pub(super) fn pass_chooser(&mut self) {
        match self.chooser.pass() {
            Some((Choice::Open, Ok(Some(path)))) => self.open_path(&path),
            Some((Choice::Save, Ok(Some(path)))) => self.save_to(&as_scenario(path)),
            Some((_, Ok(None))) | None => {}
            Some((_, Err(wrong))) => {
                // The page's own list does without.
                self.chooser = Chooser::default();
                self.warn(wrong);
                self.ask_path();
            }
        }
    }
}

/// A scenario's file ends in `.ron`.
fn as_scenario(path: PathBuf) -> PathBuf {
    if path.extension().is_some_and(|e| e == "ron") {
        return path;
    }
    let mut name = path.into_os_string();
    name.push(".ron");
    name.into()
}

#[cfg(all(test, unix))]
mod tests {
    use super::super::store;
    use super::*;
    use std::os::unix::fs::PermissionsExt;

    /// A program in a folder of its own that writes what it was told, one word a line, and then does `then`.
    fn program(folder: &Path, name: &str, then: &str) {
        let told = folder.join("told");
        let text = format!(
            "#!/bin/sh\nprintf '%s\\n' \"$@\" >'{}'\n{then}\n",
            told.display()
        );
        let path = folder.join(name);
        std::fs::write(&path, text).expect("written");
        std::fs::set_permissions(&path, std::fs::Permissions::from_mode(0o755)).expect("set");
    }

    fn wait(desk: &mut Desk) {
        for _ in 0..400 {
            desk.pass_chooser();
            if !desk.chooser.busy() {
                return;
            }
            std::thread::sleep(std::time::Duration::from_millis(10));
        }
        unreachable!("it never answered");
    }

    #[test]
    fn a_file_is_opened_and_saved_in_the_desktop_s_own_window_where_there_is_one() {
        let folder = tempfile::tempdir().expect("a folder");
        let at = folder.path();
        let mut edit = store::demo();
        edit.name = "Chosen".into();
        let file = at.join("a name with blanks.ron");
        store::save(&file, &edit).expect("saved");
        program(at, "zenity", &format!("echo '{}'", file.display()));
        program(at, "kdialog", "exit 1");
        let mut desk = Desk::new(store::demo(), None, at.join("data"));
        // Without one the page asks for a path.
        desk.ask_to_open();
        assert!(!desk.chooser.busy() && desk.files.wants_path);
        desk.chooser = Chooser::among(at.as_os_str(), OsStr::new("GNOME"));
        desk.files.folder = Some(at.to_owned());
        desk.ask_to_open();
        assert!(desk.busy());
        wait(&mut desk);
        assert_eq!(desk.edit().name, "Chosen");
        let told = std::fs::read_to_string(at.join("told")).expect("told");
        assert!(
            told.contains(&format!("--filename={}/\n", at.display())),
            "{told}"
        );
        assert!(!told.contains("--save"), "{told}");
        // Saved where it is said, under a name of a scenario.
        program(
            at,
            "zenity",
            &format!("echo '{}'", at.join("monday").display()),
        );
        desk.ask_where_to_save();
        wait(&mut desk);
        assert!(at.join("monday.ron").is_file());
        assert_eq!(desk.file, Some(at.join("monday.ron")));
        let told = std::fs::read_to_string(at.join("told")).expect("told");
        assert!(told.contains("--save\n--confirm-overwrite\n"), "{told}");
        // Closed without a choice: nothing happens, and nothing is said.
        desk.said = None;
        desk.chooser = Chooser::among(at.as_os_str(), OsStr::new("KDE"));
        desk.ask_to_open();
        wait(&mut desk);
        assert_eq!(desk.file, Some(at.join("monday.ron")));
        assert!(desk.said.is_none() && desk.chooser.is_there());
        let told = std::fs::read_to_string(at.join("told")).expect("told");
        assert!(told.contains("--getopenfilename"), "{told}");
        // It breaks: said, and the page's own list is there.
        program(at, "kdialog", "exit 7");
        desk.ask_to_open();
        wait(&mut desk);
        assert!(desk.said.is_some() && !desk.chooser.is_there() && desk.files.wants_path);
    }
}
