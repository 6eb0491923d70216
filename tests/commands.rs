//! The program as a coach runs it: what it prints and writes, and how it ends.

use std::fs;
use std::path::Path;

mod program;

use program::{good, interrupted, refused, run, said, start};

fn names(folder: &Path) -> Vec<String> {
    let mut names: Vec<String> = fs::read_dir(folder)
        .unwrap()
        .map(|f| f.unwrap().file_name().into_string().unwrap())
        .collect();
    names.sort();
    names
}

fn empty() -> tempfile::TempDir {
    tempfile::tempdir().unwrap()
}

#[test]
fn without_a_word_it_plays_the_demo_and_prints_a_page() {
    let page = good(empty().path(), &[]);
    for part in [
        "500 possessions, seeds 1 to 500",
        "Points per possession",
        "WHAT WAS OPEN",
        "WHO SHUT IT",
        "WHAT THE RULES NEVER TAKE",
        "SHOTS",
    ] {
        let running = page.replace('\n', " ");
        assert!(running.contains(part), "{part}\n{page}");
    }
    assert!(
        page.lines().all(|line| line.chars().count() <= 80),
        "{page}"
    );
}

#[test]
fn the_same_seed_gives_the_same_bytes_on_one_thread_and_on_two() {
    let run = |threads: &str| {
        let folder = empty();
        let page = good(
            folder.path(),
            &[
                "scrimmage",
                "--possessions",
                "300",
                "--seed",
                "7",
                "--threads",
                threads,
                "--summary-json",
                "s.json",
                "--summary-csv",
                "s.csv",
                "--rows",
                "r.csv",
                "--tracks",
                "tracks",
                "--track-seeds",
                "7,9",
            ],
        );
        let read = |name: &str| fs::read(folder.path().join(name)).unwrap();
        let files = [
            "s.json",
            "s.csv",
            "r.csv",
            "tracks/seed-7.csv",
            "tracks/seed-9.csv",
        ];
        (page, files.map(read), names(folder.path()))
    };
    let one = run("1");
    assert_eq!(
        one.2,
        ["r.csv", "s.csv", "s.json", "tracks"],
        "nothing else is left behind"
    );
    assert!(one == run("2"));
}

#[test]
fn another_seed_gives_other_possessions() {
    let folder = empty();
    let rows = |seed: &str| {
        good(
            folder.path(),
            &[
                "scrimmage",
                "--possessions",
                "60",
                "--seed",
                seed,
                "--rows",
                "-",
            ],
        )
    };
    let (first, second) = (rows("1"), rows("1001"));
    let tail = |text: &str| -> Vec<String> {
        text.lines()
            .skip(1)
            .map(|l| l.split_once(',').unwrap().1.to_string())
            .collect()
    };
    assert_ne!(tail(&first), tail(&second));
}

#[test]
fn the_json_summary_holds_every_figure_with_its_interval() {
    let folder = empty();
    let text = good(
        folder.path(),
        &["scrimmage", "--possessions", "200", "--summary-json", "-"],
    );
    let json: serde_json::Value = serde_json::from_str(&text).unwrap();
    assert_eq!(json["possessions"], 200);
    assert_eq!(json["interrupted"], false);
    let figures = json["figures"].as_array().unwrap();
    let points = figures.iter().find(|f| f["name"] == "points").unwrap();
    let of = |key: &str| points[key].as_f64().unwrap();
    assert!(of("low") < of("value") && of("value") < of("high"));
    assert!((0.2..2.0).contains(&of("value")), "{points}");
    assert_eq!(points["n"], 200);
    for figure in figures {
        let (low, high) = (figure["low"].as_f64(), figure["high"].as_f64());
        if let (Some(low), Some(high), Some(value)) = (low, high, figure["value"].as_f64()) {
            assert!(low <= value && value <= high, "{figure}");
        }
    }
    assert!(!json["who_shuts"].as_array().unwrap().is_empty());
}

#[test]
fn sheets_and_summary_tell_the_same_story() {
    let folder = empty();
    let args = [
        "--possessions",
        "150",
        "--rows",
        "r.csv",
        "--summary-csv",
        "s.csv",
    ];
    good(folder.path(), &[&["scrimmage"], args.as_slice()].concat());
    let table = |name: &str| -> (Vec<String>, Vec<Vec<String>>) {
        let mut read = csv::Reader::from_path(folder.path().join(name)).unwrap();
        let heads = read.headers().unwrap().iter().map(String::from).collect();
        let rows = read
            .records()
            .map(|r| r.unwrap().iter().map(String::from).collect());
        (heads, rows.collect())
    };
    let (heads, rows) = table("r.csv");
    assert_eq!(rows.len(), 150);
    let column = |name: &str| heads.iter().position(|h| h == name).unwrap();
    let mean = |name: &str| {
        let values = rows.iter().map(|r| r[column(name)].parse::<f64>().unwrap());
        values.sum::<f64>() / 150.0
    };
    let (heads, figures) = table("s.csv");
    let at = |name: &str| heads.iter().position(|h| h == name).unwrap();
    for (figure, column) in [
        ("points", "points"),
        ("passes", "passes"),
        ("duration", "duration_s"),
    ] {
        let line = figures.iter().find(|l| l[at("figure")] == figure).unwrap();
        let value: f64 = line[at("value")].parse().unwrap();
        assert!(
            (value - mean(column)).abs() < 1e-6,
            "{figure}: {value}, {}",
            mean(column)
        );
        assert_eq!(line[at("complete")], "yes");
    }
    let lost = rows
        .iter()
        .filter(|r| r[column("ending")] == "lost")
        .count();
    let line = figures
        .iter()
        .find(|l| l[at("figure")] == "turnovers")
        .unwrap();
    assert!((line[at("value")].parse::<f64>().unwrap() - lost as f64 / 150.0).abs() < 1e-12);
}

#[test]
fn a_possession_is_told_and_its_track_has_every_tick() {
    let folder = empty();
    let told = good(folder.path(), &["watch", "--seed", "3", "--track", "t.csv"]);
    assert!(told.contains("   0.0 s  1 has the ball in the "), "{told}");
    let mut read = csv::Reader::from_path(folder.path().join("t.csv")).unwrap();
    let times: Vec<f64> = read
        .records()
        .map(|r| r.unwrap()[0].parse().unwrap())
        .collect();
    assert!(times.len() > 25);
    assert!(
        times
            .windows(2)
            .all(|w| ((w[1] - w[0]) - 0.04).abs() < 1e-9)
    );
    let lines = good(folder.path(), &["watch", "--seed", "3", "--track", "-"]);
    assert_eq!(lines.lines().count(), times.len());
    assert_eq!(told, good(folder.path(), &["watch", "--seed", "3"]));
}

#[test]
fn a_scrimmage_plays_until_the_figure_is_narrow_enough() {
    let folder = empty();
    let until = |width: &str| {
        let wish = format!("points:{width}");
        let text = good(
            folder.path(),
            &["scrimmage", "--until", &wish, "--summary-json", "-"],
        );
        let json: serde_json::Value = serde_json::from_str(&text).unwrap();
        assert_eq!(json["until"]["narrow_enough"], true);
        assert!(json["until"]["half_width"].as_f64().unwrap() <= width.parse().unwrap());
        json["possessions"].as_u64().unwrap()
    };
    assert!(until("0.2") < until("0.08"));
}

#[test]
fn a_wrong_file_is_said_with_its_place_and_nothing_is_written() {
    let folder = empty();
    fs::write(
        folder.path().join("bad.ron"),
        "(\n    name: \"x\",\n    ofence: \"sag\",\n)\n",
    )
    .unwrap();
    let text = refused(
        folder.path(),
        &["scrimmage", "bad.ron", "--summary-json", "s.json"],
    );
    assert!(text.contains("bad.ron:3:"), "{text}");
    assert_eq!(names(folder.path()), ["bad.ron"]);
    assert!(refused(folder.path(), &["check", "bad.ron"]).contains("bad.ron:3:"));
    refused(
        folder.path(),
        &["watch", "not-there.ron", "--track", "t.csv"],
    );
    assert_eq!(names(folder.path()), ["bad.ron"]);
}

#[test]
fn a_misspelt_word_is_answered_with_the_nearest_right_one() {
    let folder = empty();
    for (args, nearest) in [
        (["scrimmage", "--tweak", "skippass"], "skip_pass"),
        (["scrimmage", "--against", "denail"], "denial"),
        (["scrimmage", "--until", "pionts:0.1"], "points"),
        (["watch", "--tweak", "screenaway"], "screen_away"),
    ] {
        let text = refused(folder.path(), &args);
        assert!(text.contains(&format!("nearest: {nearest}")), "{text}");
    }
}

#[test]
fn senseless_wishes_are_refused_before_anything_is_written() {
    let folder = empty();
    for args in [
        ["--possessions", "0", "--rows", "r.csv"],
        ["--threads", "0", "--rows", "r.csv"],
        ["--until", "points", "--rows", "r.csv"],
        ["--until", "points:-1", "--rows", "r.csv"],
        ["--seed", "-1", "--rows", "r.csv"],
        ["--rows", "r.csv", "--summary-csv", "r.csv"],
        ["--rows", "r.csv", "--track-seeds", "1"],
    ] {
        refused(folder.path(), &[&["scrimmage"], args.as_slice()].concat());
    }
    refused(folder.path(), &["watch", "--track", "t.txt"]);
    assert_eq!(names(folder.path()), [""; 0]);
}

#[test]
fn a_folder_that_cannot_be_written_to_ends_with_one() {
    let folder = empty();
    let output = run(
        folder.path(),
        &["scrimmage", "--rows", "no/such/folder/r.csv"],
    );
    assert_eq!(output.status.code(), Some(1));
    assert!(said(&output.stderr).contains("r.csv"));
    assert!(output.stdout.is_empty());
}

#[test]
fn the_scenario_itself_is_never_written_over() {
    let folder = empty();
    let scenario = "(name: \"x\", court: nfhs, offence: \"four_out_one_post\", \
                    defence: \"sag\", level: varsity)";
    fs::write(folder.path().join("mine.ron"), scenario).unwrap();
    refused(
        folder.path(),
        &["scrimmage", "mine.ron", "--rows", "./mine.ron"],
    );
    assert_eq!(
        fs::read_to_string(folder.path().join("mine.ron")).unwrap(),
        scenario
    );
}

#[test]
fn a_reader_who_has_had_enough_is_not_complained_to() {
    let folder = empty();
    let rows = ["scrimmage", "--possessions", "2000", "--rows", "-"];
    let mut child = start(folder.path(), &rows);
    drop(child.stdout.take());
    let output = child.wait_with_output().unwrap();
    assert_eq!(said(&output.stderr), "");
    assert_eq!(output.status.code(), Some(0));
}

#[cfg(unix)]
#[test]
fn an_interrupted_scrimmage_writes_what_is_complete_and_says_so() {
    let folder = empty();
    let files = ["--summary-json", "s.json", "--rows", "r.csv"];
    let args = ["scrimmage", "--possessions", "100000000"];
    let child = start(folder.path(), &[&args[..], &files[..]].concat());
    std::thread::sleep(std::time::Duration::from_millis(1500));
    assert!(
        !folder.path().join("s.json").exists(),
        "nothing is there before it is complete"
    );
    let output = interrupted(child);
    assert_eq!(output.status.code(), Some(130));
    assert!(said(&output.stdout).contains("INTERRUPTED"));
    let text = fs::read_to_string(folder.path().join("s.json")).unwrap();
    let json: serde_json::Value = serde_json::from_str(&text).unwrap();
    assert_eq!(json["interrupted"], true);
    let rows = fs::read_to_string(folder.path().join("r.csv"))
        .unwrap()
        .lines()
        .count()
        - 1;
    assert_eq!(json["possessions"], rows as u64);
    assert!(rows > 0);
    assert_eq!(names(folder.path()), ["r.csv", "s.json"]);
}

#[test]
fn everything_shipped_is_listed_and_the_demo_is_said_back_in_sentences() {
    let folder = empty();
    let ways = good(folder.path(), &["ways"]);
    for word in [
        "four_out_one_post",
        "help_line",
        "skip_pass",
        "harbour_hawks",
        "demo",
    ] {
        assert!(ways.contains(word), "{word}");
    }
    let check = good(folder.path(), &["check", "demo"]);
    assert!(
        check.contains("Slot to wing: the passer cuts and goes through"),
        "{check}"
    );
    assert!(check.contains("The scenario is sound."), "{check}");
}

#[test]
fn the_numbers_of_the_model_are_listed_and_a_change_to_them_is_said_back() {
    let folder = empty();
    let table = good(folder.path(), &["numbers"]);
    assert!(table.contains("looks.pivot_distance") && table.contains("common practice"));
    assert!(table.lines().all(|line| line.chars().count() <= 80));
    let json = good(folder.path(), &["numbers", "--json", "-"]);
    let json: serde_json::Value = serde_json::from_str(&json).unwrap();
    assert_eq!(json["groups"][0]["numbers"][0]["name"], "ball.gravity");
    let text = "(name: \"Wider\", court: nfhs, level: varsity_boys, offence: \"four_out_one_post\", \
                defence: \"sag\", model: {\"looks.pivot_distance\": 1.2})";
    fs::write(folder.path().join("wider.ron"), text).unwrap();
    let said = good(folder.path(), &["check", "wider.ron"]);
    assert!(
        said.contains("looks.pivot_distance: 1.2 m instead of 1.1"),
        "{said}"
    );
    fs::write(folder.path().join("wider.ron"), text.replace("1.2", "12")).unwrap();
    let said = refused(folder.path(), &["check", "wider.ron"]);
    assert!(
        said.contains("12 is not plausible for `looks.pivot_distance`"),
        "{said}"
    );
}
