//! Killed outright (signal 9) at random instants: whatever stood in a file before is still there whole,
//! or the new text is there whole. Two hundred times in all, and as often again as is asked for.

use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::Path;
use std::process::{Child, Command, Output, Stdio};
use std::time::Duration;

use super::mutate::Dice;
use super::program::program as lanelight;
use super::{factor, number};

const EXPORTS: u64 = 30;
const WHYS: u64 = 8;
const PAPERS: u64 = 9;
const SEARCHES: u64 = 16;
#[cfg(feature = "window")]
const SAVES: u64 = 70;
#[cfg(feature = "window")]
const ROUNDS: u64 = 40;

fn dice(what: usize) -> Dice {
    Dice::new(number("LANELIGHT_SEED", 1), 1000 + what, 0)
}

/// Starts `command`, lets it run for a random part of `most`, and kills it. Was it still running?
fn killed(command: Command, most: Duration, dice: &mut Dice) -> bool {
    killed_after(command, |_| {}, most, dice)
}

/// The same, but its time begins when `ready` comes back, which is asked while it runs.
fn killed_after(
    mut command: Command,
    ready: impl FnOnce(&mut Child),
    most: Duration,
    dice: &mut Dice,
) -> bool {
    let mut child = command
        .stdout(Stdio::null())
        .stderr(Stdio::null())
        .spawn()
        .expect("it starts");
    ready(&mut child);
    let wait = dice.below(most.as_micros() as usize) as u64;
    std::thread::sleep(Duration::from_micros(wait));
    let running = child.try_wait().expect("a child").is_none();
    let _ = child.kill();
    let _ = child.wait();
    running
}

/// What a command writes when it is left alone, and how long it takes.
#[allow(clippy::disallowed_methods, reason = "to know how long it takes")]
fn undisturbed(mut command: Command) -> (Output, Duration) {
    let began = std::time::Instant::now();
    let done = command.output().expect("it runs");
    let took = began.elapsed();
    assert!(
        done.status.success(),
        "{}",
        String::from_utf8_lossy(&done.stderr)
    );
    (done, took)
}

/// Every file under a folder by its name within; hidden ones, which a killed program leaves behind
/// unfinished, apart.
fn everything(folder: &Path) -> (BTreeMap<String, Vec<u8>>, usize) {
    let (mut found, mut hidden) = (BTreeMap::new(), 0);
    let mut folders = vec![folder.to_owned()];
    while let Some(next) = folders.pop() {
        for entry in fs::read_dir(&next).expect("a folder").flatten() {
            let path = entry.path();
            let name = path
                .strip_prefix(folder)
                .expect("inside")
                .display()
                .to_string();
            if path.is_dir() {
                folders.push(path);
            } else if entry.file_name().to_string_lossy().starts_with('.') {
                hidden += 1;
            } else {
                found.insert(name, fs::read(&path).expect("a file"));
            }
        }
    }
    (found, hidden)
}

/// Kills `times` runs of a command that writes files; each must be absent, as it was, or complete.
fn exports(what: usize, times: u64, args: &[&str]) {
    let whole = tempfile::tempdir().expect("a folder");
    let mut most = undisturbed(lanelight(whole.path(), args)).1.mul_f64(1.1);
    let (new, _) = everything(whole.path());
    assert!(!new.is_empty());
    let mut dice = dice(what);
    let (mut caught, mut finished, mut half) = (0, 0, 0);
    for turn in 0..times * factor() {
        let folder = tempfile::tempdir().expect("a folder");
        let old = b"what stood here before";
        let kept = turn % 2 == 0;
        for name in new.keys().filter(|_| kept) {
            let path = folder.path().join(name);
            fs::create_dir_all(path.parent().expect("a folder")).expect("a folder");
            fs::write(path, old).expect("written");
        }
        if killed(lanelight(folder.path(), args), most, &mut dice) {
            caught += 1;
        } else {
            // How long it takes depends on what else the machine does: it is timed anew.
            let again = tempfile::tempdir().expect("a folder");
            most = undisturbed(lanelight(again.path(), args)).1.mul_f64(1.1);
        }
        let (found, hidden) = everything(folder.path());
        half += hidden;
        if kept {
            assert_eq!(found.len(), new.len(), "a file is gone");
        }
        for (name, text) in found {
            let complete = new.get(&name) == Some(&text);
            finished += u64::from(complete);
            let as_it_was = kept && text == old;
            assert!(
                complete || as_it_was,
                "{name} is neither whole nor as it was"
            );
        }
    }
    println!(
        "{args:?}: {caught} killed on the way, {finished} files complete, {half} left unfinished"
    );
    assert!(
        caught > times * factor() / 3,
        "hardly any was killed in time"
    );
}

#[test]
fn an_export_killed_at_any_instant_leaves_the_old_file_or_the_new_one() {
    exports(
        0,
        EXPORTS,
        &[
            "scrimmage",
            "--possessions",
            "40",
            "--seed",
            "5",
            "--threads",
            "2",
            "--rows",
            "rows.csv",
            "--summary-json",
            "s.json",
            "--summary-csv",
            "s.csv",
            "--tracks",
            "tracks",
            "--track-seeds",
            "5,6,7,8",
        ],
    );
    exports(
        1,
        WHYS,
        &[
            "why",
            "--possessions",
            "5",
            "--matrix",
            "0",
            "--html",
            "why.html",
            "--json",
            "why.json",
        ],
    );
}

#[test]
fn a_pack_of_papers_killed_at_any_instant_has_no_half_paper_in_it() {
    exports(
        2,
        PAPERS,
        &[
            "paper",
            "--to",
            "pack",
            "--possessions",
            "10",
            "--only",
            "cards,page",
        ],
    );
}

#[test]
fn a_search_killed_at_any_instant_is_taken_up_again_to_the_same_end() {
    let args = |keep: &'static str| {
        [
            "search",
            "--tweaks",
            "skip_pass,weak_side_exchange,high_post_flash",
            "--budget",
            "1200",
            "--check",
            "0",
            "--margin",
            "0.1",
            "--keep",
            keep,
            "--summary-json",
            "-",
        ]
    };
    let folder = tempfile::tempdir().expect("a folder");
    let (wanted, most) = undisturbed(lanelight(folder.path(), &args("alone.json")));
    let path = folder.path().join("killed.json");
    let mut dice = dice(3);
    let mut seen = BTreeSet::new();
    let mut caught = 0;
    for turn in 0..SEARCHES * factor() {
        // Each goes on from where the last one was killed; now and then a new one begins.
        if turn % 6 == 5 {
            let _ = fs::remove_file(&path);
        }
        let command = lanelight(folder.path(), &args("killed.json"));
        // Every other one is killed soon after it has kept something: on a busy machine a random instant may always
        // come before.
        let before = fs::read(&path).ok();
        let kept = |child: &mut Child| {
            while turn % 2 == 0
                && fs::read(&path).ok() == before
                && child.try_wait().expect("a child").is_none()
            {
                std::thread::sleep(Duration::from_millis(1));
            }
        };
        let most = if turn % 2 == 0 { most / 4 } else { most };
        caught += u64::from(killed_after(command, kept, most, &mut dice));
        if let Ok(text) = fs::read_to_string(&path) {
            let kept: serde_json::Value = serde_json::from_str(&text).expect("a whole file");
            seen.insert(kept["played"].as_u64());
        }
    }
    let ended = lanelight(folder.path(), &args("killed.json"))
        .output()
        .expect("it runs");
    assert_eq!(
        String::from_utf8_lossy(&ended.stdout),
        String::from_utf8_lossy(&wanted.stdout)
    );
    println!("searches: {caught} killed on the way, kept after {seen:?} possessions");
    assert!(caught > 0 && !seen.is_empty());
}

#[cfg(feature = "window")]
mod window {
    use super::*;
    use lanelight::scenario::shipped::{self, Kind};
    use lanelight::scenario::{Scenario, read_offence};
    use lanelight::window::store;
    use lanelight::window::variation::{Edit, Side};

    fn with_offence(word: &str, off: usize) -> Edit {
        let file = shipped::find(Kind::Offence, word).expect("shipped");
        let mut edit = store::demo();
        edit.name = word.into();
        edit.offence = read_offence(file.text, word).expect("sound").value;
        edit.off = edit
            .offence
            .rules
            .iter()
            .take(off)
            .map(|r| r.name.clone())
            .collect();
        edit.attackers = Side::Sheet(format!("(name: \"{word}\", level: varsity)"));
        edit
    }

    /// Two variations that have not a rule in common.
    fn two() -> [Edit; 2] {
        [
            with_offence("four_out_one_post", 1),
            with_offence("three_out_two_in", 0),
        ]
    }

    /// What a learner has done after so many rounds.
    fn progress(rounds: usize) -> BTreeMap<String, Vec<f64>> {
        let scores = |n: usize| (0..rounds).map(|i| ((i * n) % 101) as f64).collect();
        (1..40)
            .map(|n| (format!("learner {n}"), scores(n)))
            .collect()
    }

    /// Saves one after the other until it is killed. Not a test by itself.
    #[test]
    #[ignore = "started by the tests below"]
    fn saving_process() {
        let Some(folder) = std::env::var_os("LANELIGHT_ROUGH_FOLDER") else {
            return;
        };
        let folder = Path::new(&folder);
        match std::env::var("LANELIGHT_ROUGH_SAVES").as_deref() {
            Ok("variation") => loop {
                for edit in two() {
                    store::save(&folder.join("friday.ron"), &edit).expect("saved");
                }
            },
            _ => loop {
                for rounds in 0..200 {
                    store::write_own(folder, "stand_right.ron", &progress(rounds)).expect("kept");
                }
            },
        }
    }

    fn saving(folder: &Path, what: &str) -> Command {
        let mut command = Command::new(std::env::current_exe().expect("this program"));
        let name = "killed::window::saving_process";
        command
            .args(["--exact", name, "--ignored", "--test-threads", "1"])
            .env("LANELIGHT_ROUGH_FOLDER", folder)
            .env("LANELIGHT_ROUGH_SAVES", what);
        command
    }

    #[test]
    fn a_save_killed_at_any_instant_leaves_whole_files_and_the_one_variation_or_the_other() {
        let whole = two().map(|edit| {
            let folder = tempfile::tempdir().expect("a folder");
            store::save(&folder.path().join("friday.ron"), &edit).expect("saved");
            everything(folder.path()).0
        });
        let whole_save = |name: &str| name == "friday.saving.ron";
        let folder = tempfile::tempdir().expect("a folder");
        let path = folder.path().join("friday.ron");
        store::save(&path, &two()[0]).expect("saved");
        let mut dice = dice(4);
        let (mut caught, mut mixed, mut shut) = (0, 0, 0);
        for _ in 0..SAVES * factor() {
            let command = saving(folder.path(), "variation");
            caught += u64::from(killed(command, Duration::from_millis(150), &mut dice));
            for (name, text) in everything(folder.path()).0 {
                let complete = whole.iter().any(|files| files.get(&name) == Some(&text));
                assert!(complete || whole_save(&name), "{name} is not whole");
            }
            match (store::open(&path), Scenario::read(&path)) {
                (Ok(edit), Ok(_)) => mixed += u64::from(!two().contains(&edit)),
                _ => shut += 1,
            }
        }
        println!("saves: {caught} killed, {mixed} with parts of both, {shut} that do not open");
        assert!(caught > SAVES * factor() / 2);
        assert_eq!(shut, 0, "a variation that cannot be opened any more");
        assert_eq!(mixed, 0, "parts of two variations in one");
    }

    #[test]
    fn progress_killed_at_any_instant_is_that_of_some_round() {
        let folder = tempfile::tempdir().expect("a folder");
        let mut dice = dice(5);
        let mut seen = BTreeSet::new();
        for _ in 0..ROUNDS * factor() {
            killed(
                saving(folder.path(), "progress"),
                Duration::from_millis(120),
                &mut dice,
            );
            if !folder.path().join("stand_right.ron").exists() {
                continue;
            }
            let read: Option<BTreeMap<String, Vec<f64>>> =
                store::read_own(folder.path(), "stand_right.ron");
            let read = read.expect("a whole file");
            let rounds = read["learner 1"].len();
            assert_eq!(read, progress(rounds));
            seen.insert(rounds);
        }
        println!("progress found after {seen:?} rounds");
        assert!(seen.len() > 3);
    }
}
