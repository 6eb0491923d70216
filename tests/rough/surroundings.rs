//! Where a laptop gives out: a full disk, a folder that may not be written to, no display, a locale that
//! is not there, names that are not text. A clear message, the exit code that `--help`'s page promises
//! (2 for wrong input, 1 if something cannot be written), and nothing half written.

use std::fs::{self, File, OpenOptions};
use std::path::Path;
use std::process::{Command, Output};

use super::program::program as lanelight;

fn run(command: &mut Command) -> (Option<i32>, String, String) {
    let Output {
        status,
        stdout,
        stderr,
    } = command.output().expect("it runs");
    let text = |bytes: Vec<u8>| String::from_utf8_lossy(&bytes).into_owned();
    let (out, err) = (text(stdout), text(stderr));
    assert!(!err.contains("panicked"), "{err}");
    (status.code(), out, err)
}

fn names(folder: &Path) -> Vec<String> {
    let entries = fs::read_dir(folder).expect("a folder").flatten();
    let mut all: Vec<String> = entries
        .map(|e| e.file_name().to_string_lossy().into_owned())
        .collect();
    all.sort();
    all
}

const SHORT: [&str; 3] = ["scrimmage", "--possessions", "20"];

fn with<'a>(more: &[&'a str]) -> Vec<&'a str> {
    SHORT.iter().chain(more).copied().collect()
}

#[test]
#[cfg(target_os = "linux")]
fn a_full_screen_output_is_said_and_ends_with_1() {
    let folder = tempfile::tempdir().expect("a folder");
    let full = OpenOptions::new()
        .write(true)
        .open("/dev/full")
        .expect("/dev/full");
    let (code, _, err) = run(lanelight(folder.path(), &SHORT).stdout(full));
    assert_eq!(code, Some(1), "{err}");
    assert!(err.contains("cannot write"), "{err}");
    // Nobody can be told: the code still tells.
    let full = || {
        OpenOptions::new()
            .write(true)
            .open("/dev/full")
            .expect("/dev/full")
    };
    let status = lanelight(folder.path(), &SHORT)
        .stdout(full())
        .stderr(full())
        .status();
    assert_eq!(status.expect("it runs").code(), Some(1));
}

#[test]
#[cfg(target_os = "linux")]
fn a_device_is_written_to_and_not_replaced() {
    // A device of our own, so that nothing of the system's can come to harm.
    let folder = tempfile::tempdir().expect("a folder");
    let pipe = folder.path().join("pipe");
    let made = Command::new("mkfifo").arg(&pipe).status();
    if !made.is_ok_and(|status| status.success()) {
        println!("skipped: no mkfifo");
        return;
    }
    let reader = {
        let pipe = pipe.clone();
        std::thread::spawn(move || fs::read_to_string(pipe))
    };
    let (code, _, err) = run(&mut lanelight(
        folder.path(),
        &with(&["--summary-csv", "pipe"]),
    ));
    assert_eq!(code, Some(0), "{err}");
    // Were the pipe gone, its reader would wait for ever: a plain file is read at once instead.
    let still = fs::symlink_metadata(&pipe).expect("it is there");
    assert!(
        !still.file_type().is_file(),
        "the pipe has been replaced by a file"
    );
    let read = reader.join().expect("a reader").expect("read");
    assert!(read.contains("points"), "{read}");
}

#[test]
fn a_folder_that_is_a_file_or_is_not_there_is_said_before_anything_is_played() {
    let folder = tempfile::tempdir().expect("a folder");
    fs::write(folder.path().join("file"), "old").expect("written");
    for (args, part) in [
        (with(&["--rows", "file/rows.csv"]), "file/rows.csv"),
        (
            with(&["--summary-json", "no/such/s.json"]),
            "no/such/s.json",
        ),
        (with(&["--tracks", "file"]), "file"),
        (
            vec![
                "paper",
                "--to",
                "file",
                "--possessions",
                "5",
                "--only",
                "cards",
            ],
            "file",
        ),
        (
            vec!["why", "--possessions", "5", "--html", "file/why.html"],
            "file/why.html",
        ),
    ] {
        let (code, _, err) = run(&mut lanelight(folder.path(), &args));
        assert_eq!(code, Some(1), "{args:?}: {err}");
        assert!(
            err.contains("cannot write") && err.contains(part),
            "{args:?}: {err}"
        );
        assert_eq!(names(folder.path()), ["file"], "{args:?}");
        assert_eq!(fs::read(folder.path().join("file")).expect("read"), b"old");
    }
}

/// Runs a script in a mount namespace of its own, or says why not.
#[cfg(target_os = "linux")]
fn in_own_mounts(folder: &Path, script: &str) -> Option<(Option<i32>, String, String)> {
    let mut probe = Command::new("unshare");
    probe.args(["-m", "sh", "-c", "mount -t tmpfs -o size=64k tmpfs /mnt"]);
    if !probe.output().is_ok_and(|o| o.status.success()) {
        println!("skipped: no mount namespace to be had (needs root)");
        return None;
    }
    let mut command = Command::new("unshare");
    command.args(["-m", "sh", "-c", script]).current_dir(folder);
    command.env("LANELIGHT", env!("CARGO_BIN_EXE_lanelight"));
    Some(run(&mut command))
}

#[test]
#[cfg(target_os = "linux")]
fn a_full_disk_leaves_what_stood_there() {
    let folder = tempfile::tempdir().expect("a folder");
    // What the search keeps is small: for it there is no room at all.
    for (what, ballast) in [
        ("scrimmage --possessions 400 --rows disk/old", 8192),
        (
            "scrimmage --possessions 20 --tracks disk --track-seeds 1,2,3",
            8192,
        ),
        ("why --possessions 20 --matrix 0 --html disk/old", 8192),
        (
            "paper --possessions 10 --only sheet,cards,film --to disk",
            8192,
        ),
        (
            "search --tweaks skip_pass --budget 400 --check 0 --keep disk/new",
            20480,
        ),
    ] {
        let script = format!(
            "mkdir -p disk && mount -t tmpfs -o size=24k tmpfs disk && echo before >disk/old && \
             head -c {ballast} /dev/zero >disk/ballast && \"$LANELIGHT\" {what} >out 2>err; \
             echo $?; cat disk/old; ls -A disk; echo --; cat err"
        );
        let Some((_, out, err)) = in_own_mounts(folder.path(), &script) else {
            return;
        };
        println!("{what}\n{out}{err}");
        let mut lines = out.lines();
        assert_eq!(lines.next(), Some("1"), "{what}: {out}{err}");
        assert_eq!(lines.next(), Some("before"), "{what}: {out}{err}");
        let left: Vec<&str> = lines.by_ref().take_while(|l| *l != "--").collect();
        let whole = left.iter().all(|name| !name.starts_with('.'));
        assert!(whole, "{what}: an unfinished file is left behind: {left:?}");
        assert!(
            lines.any(|l| l.contains("cannot write")),
            "{what}: {out}{err}"
        );
    }
}

#[test]
#[cfg(target_os = "linux")]
fn a_read_only_folder_is_said_and_nothing_in_it_is_touched() {
    let folder = tempfile::tempdir().expect("a folder");
    for what in [
        "scrimmage --possessions 20 --rows disk/old",
        "paper --possessions 5 --only cards --to disk/pack",
        "search --tweaks skip_pass --budget 400 --check 0 --keep disk/new",
    ] {
        let script = format!(
            "mkdir -p disk && mount -t tmpfs -o size=1m tmpfs disk && echo before >disk/old && \
             mount -o remount,ro disk && \"$LANELIGHT\" {what} >out 2>err; \
             echo $?; cat disk/old; ls -A disk; echo --; cat err"
        );
        let Some((_, out, err)) = in_own_mounts(folder.path(), &script) else {
            return;
        };
        let start = "1\nbefore\nold\n--\n";
        assert!(out.starts_with(start), "{what}: {out}{err}");
        assert!(out.contains("cannot write"), "{what}: {out}{err}");
    }
}

#[test]
#[cfg(target_os = "linux")]
fn a_window_without_a_display_says_so_and_what_else_can_be_done() {
    let folder = tempfile::tempdir().expect("a folder");
    let dark = |command: &mut Command| {
        command.env_remove("DISPLAY").env_remove("WAYLAND_DISPLAY");
        run(command)
    };
    let (code, out, err) = dark(&mut lanelight(folder.path(), &["window"]));
    assert_eq!(code, Some(2), "{err}");
    assert!(out.is_empty());
    let part = if cfg!(feature = "window") {
        "no display"
    } else {
        "without the window"
    };
    assert!(err.contains(part), "{err}");
    // Without a word the report comes instead.
    let (code, out, _) = dark(&mut lanelight(folder.path(), &[]));
    assert_eq!(code, Some(0));
    assert!(out.contains("Points per possession"));
}

/// The display is named, but nobody is there any more: the cable is out, or the session is gone.
#[test]
#[cfg(all(target_os = "linux", feature = "window"))]
fn a_display_that_is_gone_is_a_message_and_no_crash() {
    let folder = tempfile::tempdir().expect("a folder");
    let mut command = lanelight(folder.path(), &["window"]);
    command
        .env_remove("WAYLAND_DISPLAY")
        .env("DISPLAY", ":917")
        .env("LANELIGHT_DATA", folder.path());
    let (code, _, err) = run(&mut command);
    println!("{err}");
    assert_eq!(code, Some(2), "{err}");
    assert!(err.contains("display"), "{err}");
}

#[test]
fn a_broken_locale_changes_nothing() {
    let folder = tempfile::tempdir().expect("a folder");
    let plain = run(&mut lanelight(folder.path(), &SHORT));
    for locale in ["xx_YY.broken", "C", "de_DE.ISO-8859-1", "", "tr_TR.UTF-8"] {
        let mut command = lanelight(folder.path(), &SHORT);
        command
            .env("LC_ALL", locale)
            .env("LANG", locale)
            .env("LC_NUMERIC", locale);
        assert_eq!(run(&mut command), plain, "{locale}");
    }
}

#[test]
#[cfg(unix)]
fn names_that_are_not_text_are_read_written_and_spoken_of() {
    use std::ffi::OsStr;
    use std::os::unix::ffi::OsStrExt;
    let folder = tempfile::tempdir().expect("a folder");
    let odd = |bytes: &'static [u8]| OsStr::from_bytes(bytes);
    let demo = include_str!("../../scenarios/demo.ron");
    let scenario = odd(b"pl\xe4n.ron");
    fs::write(folder.path().join(scenario), demo).expect("written");
    // Read from and written to.
    let mut command = lanelight(folder.path(), &["scrimmage", "--possessions", "20"]);
    command.arg(scenario).arg("--rows").arg(odd(b"r\xff.csv"));
    let (code, _, err) = run(&mut command);
    assert_eq!(code, Some(0), "{err}");
    let rows = fs::read_to_string(folder.path().join(odd(b"r\xff.csv"))).expect("the rows");
    assert_eq!(rows.lines().count(), 21);
    // Not there.
    let (code, _, err) = run(lanelight(folder.path(), &["check"]).arg(odd(b"n\xffne.ron")));
    assert_eq!(code, Some(2), "{err}");
    assert!(err.contains("no such file"), "{err}");
    // Where only text will do.
    let mut command = lanelight(folder.path(), &["scrimmage", "--tweak"]);
    let (code, _, err) = run(command.arg(odd(b"sk\xffp")));
    assert_eq!(code, Some(2), "{err}");
    assert!(!err.is_empty());
    let mut command = lanelight(folder.path(), &[]);
    let (code, _, err) = run(command.arg(odd(b"\xff\xfe")));
    assert_eq!(code, Some(2), "{err}");
}

#[test]
fn a_file_that_is_not_text_is_refused_at_the_place_where_text_ends() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("a.ron");
    fs::write(&path, b"(name: \"\xff\")").expect("written");
    let (code, _, err) = run(&mut lanelight(folder.path(), &["check", "a.ron"]));
    assert_eq!(code, Some(2));
    assert!(err.contains("UTF-8"), "{err}");
    // Longer than any scenario: refused by its size, without being read.
    let file = File::create(&path).expect("a file");
    file.set_len(1 << 40).expect("a long file");
    let (code, _, err) = run(&mut lanelight(folder.path(), &["check", "a.ron"]));
    assert_eq!(code, Some(2));
    assert!(err.contains("longer than 1 MiB"), "{err}");
}

#[test]
fn a_kept_search_of_absurd_length_is_refused_without_being_read() {
    let folder = tempfile::tempdir().expect("a folder");
    let file = File::create(folder.path().join("k.json")).expect("a file");
    file.set_len(1 << 40).expect("a long file");
    let args = [
        "search",
        "--tweaks",
        "skip_pass",
        "--budget",
        "10",
        "--keep",
        "k.json",
    ];
    let (code, _, err) = run(&mut lanelight(folder.path(), &args));
    assert_eq!(code, Some(2), "{err}");
    assert!(err.contains("k.json"), "{err}");
}
