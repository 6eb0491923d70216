//! Searches as a coach runs them.

mod program;

use std::fs;
use std::path::Path;
use std::process::Output;

use program::{interrupted, run, said, start, unbroken};

fn search(folder: &Path, args: &[&str]) -> Output {
    run(folder, &[&["search"][..], args].concat())
}

fn good(folder: &Path, args: &[&str]) -> String {
    program::good(folder, &[&["search"][..], args].concat())
}

#[test]
fn a_search_on_the_floor_reports_who_is_left_and_what_it_costs() {
    let folder = tempfile::tempdir().unwrap();
    let run = |budget: &str| {
        let page = good(
            folder.path(),
            &[
                "--tweaks",
                "skip_pass,weak_side_exchange",
                "--range",
                "patience.hold=1..2/2",
                "--pairs",
                "--against",
                "help_line",
                "--against",
                "sag",
                "--budget",
                budget,
                "--check",
                "20",
                "--margin",
                "0.2",
            ],
        );
        assert!(page.lines().all(|l| l.chars().count() <= 80), "{page}");
        assert!(page.contains("against Help line and Sag"), "{page}");
        page
    };
    // Too little for a first look: everybody is left, and those who lead are checked.
    let early = run("960");
    let plain = unbroken(&early);
    for part in [
        "NOT YET KNOWN: the budget ended with 10 candidates left",
        "STILL IN",
        "Denial *",
        "* not searched against",
        "on 20 seeds that the search did not see",
    ] {
        assert!(plain.contains(part), "{part}\n{early}");
    }
    // Enough to tell apart what differs by a fifth of a point.
    let known = run("12000");
    println!("{known}");
    assert!(
        known.contains("The best is") && known.contains("PUT ASIDE"),
        "{known}"
    );
    assert!(
        known.contains("the same promise would have taken"),
        "{known}"
    );
}

#[test]
fn a_search_kept_and_taken_up_again_gives_the_bytes_of_the_uninterrupted_one() {
    let folder = tempfile::tempdir().unwrap();
    let base = [
        "--tweaks",
        "skip_pass,high_post_flash",
        "--check",
        "20",
        "--margin",
        "0.1",
        "--threads",
    ];
    let run = |threads: &str, budget: &str, keep: &str, json: &str| {
        let mut args = base.to_vec();
        args.extend([
            threads,
            "--budget",
            budget,
            "--keep",
            keep,
            "--summary-json",
            json,
        ]);
        good(folder.path(), &args)
    };
    let whole = run("2", "600", "whole", "w.json");
    run("1", "200", "parts", "p.json");
    run("2", "450", "parts", "p.json");
    assert_eq!(run("1", "600", "parts", "p.json"), whole);
    let read = |name: &str| fs::read(folder.path().join(name)).unwrap();
    assert_eq!(read("whole"), read("parts"));
    assert_eq!(read("w.json"), read("p.json"));
    // Over and done with: nothing is played again.
    assert_eq!(run("1", "600", "parts", "p.json"), whole);

    // A changed wish or a spoilt file is refused, and the file stays.
    let kept = read("whole");
    let changed = search(folder.path(), &["--tweaks", "skip_pass", "--keep", "whole"]);
    assert_eq!(changed.status.code(), Some(2));
    assert!(said(&changed.stderr).contains("kept for another search"));
    assert_eq!(read("whole"), kept);
    fs::write(folder.path().join("whole"), &kept[..kept.len() / 2]).unwrap();
    let mut args = base.to_vec();
    args.extend(["1", "--keep", "whole"]);
    let spoilt = search(folder.path(), &args);
    assert_eq!(spoilt.status.code(), Some(2));
    assert!(said(&spoilt.stderr).contains("not a kept search"));
}

/// On Unix: Ctrl-C keeps whole rounds, says so, and the search can go on.
#[cfg(unix)]
#[test]
fn an_interrupt_keeps_what_is_done() {
    let folder = tempfile::tempdir().unwrap();
    let keep = folder.path().join("kept");
    let args = [
        "search", "--tweaks", "all", "--budget", "400000", "--margin", "0.001", "--check", "0",
        "--keep", "kept",
    ];
    let child = start(folder.path(), &args);
    while !keep.exists() {
        std::thread::sleep(std::time::Duration::from_millis(20));
    }
    let output = interrupted(child);
    assert_eq!(output.status.code(), Some(130));
    assert!(said(&output.stdout).contains("INTERRUPTED with"));
    let read =
        || -> serde_json::Value { serde_json::from_slice(&fs::read(&keep).unwrap()).unwrap() };
    let kept = read();
    let (seeds, played) = (kept["seeds"].as_u64(), kept["played"].as_u64());
    assert!(seeds.unwrap() >= 16);
    // Taken up again it goes on from there: a few rounds more, not all of them once again.
    let budget = (played.unwrap() + 1000).to_string();
    let more = [
        "--tweaks", "all", "--budget", &budget, "--margin", "0.001", "--check", "0", "--keep",
        "kept",
    ];
    good(folder.path(), &more);
    let after = read();
    assert!(after["seeds"].as_u64() > seeds);
    let values = |file: &serde_json::Value| file["values"][0].as_array().unwrap().clone();
    let (before, after) = (values(&kept), values(&after));
    assert_eq!(after[..before.len()], before, "what was kept is kept");
}

#[test]
fn senseless_searches_are_refused() {
    let folder = tempfile::tempdir().unwrap();
    for (args, part) in [
        (&[][..], "nothing to search"),
        (&["--tweaks", "all", "--by", "point"][..], "nearest: points"),
        (&["--tweaks", "all", "--margin", "0"][..], "above zero"),
        (&["--tweaks", "all", "--confidence", "1"][..], "below 1"),
        (
            &["--range", "patience.hodl=1..2/3"][..],
            "nearest: patience.hold",
        ),
        (
            &["--tweaks", "all", "--against", "sag", "--against", "sag"][..],
            "twice",
        ),
    ] {
        let output = search(folder.path(), args);
        assert_eq!(output.status.code(), Some(2), "{args:?}");
        assert!(
            said(&output.stderr).contains(part),
            "{}",
            said(&output.stderr)
        );
    }
}
