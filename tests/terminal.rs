//! What a terminal shows: nothing wider than 80 columns, `why` on two screens, lengths in one system,
//! and every column and key of the files of figures explained.

mod program;

use std::collections::BTreeSet;
use std::fs;

use lanelight::report::columns::sheets;
use lanelight::scenario::shipped::{self, Kind};
use program::{good, program, run, said};
use serde_json::Value;

fn widest(text: &str) -> (usize, &str) {
    let lines = text.lines().map(|l| (l.chars().count(), l));
    lines.max().unwrap_or_default()
}

#[test]
fn no_line_of_any_command_is_wider_than_eighty_columns() {
    let folder = tempfile::tempdir().expect("a folder");
    let few = ["--possessions", "12"];
    let commands: [(&[&str], bool); 14] = [
        (&["scrimmage"], true),
        (&["why", "--matrix", "2"], true),
        (&["why", "--all", "--matrix", "2"], true),
        (
            &["compare", "--tweak", "skip_pass", "--tweak", "screen_away"],
            true,
        ),
        (
            &[
                "table",
                "--against",
                "sag",
                "--against",
                "mixed_professional",
                "--against",
                "denial",
                "--against",
                "zone_2_3",
            ],
            true,
        ),
        (&["frames"], true),
        (&["audit"], true),
        (&["check", "four_out_one_post", "--play"], true),
        (&["check", "demo"], false),
        (&["watch", "--seed", "3"], false),
        (&["numbers"], false),
        (&["ways"], false),
        (&["columns"], false),
        (&["audit", "--definitions"], false),
    ];
    for (command, plays) in commands {
        let args = [command, if plays { &few[..] } else { &[] }].concat();
        let output = run(folder.path(), &args);
        let text = said(&output.stdout);
        let (wide, line) = widest(&text);
        assert!(wide <= 80, "{args:?}: {wide}: {line}");
        let known = !said(&output.stderr).contains("unexpected argument");
        assert!(text.lines().count() > 4 || !known, "{args:?}: {text}");
    }
}

#[test]
fn why_fits_two_screens_for_every_offence_and_has_five_figures_first() {
    let folder = tempfile::tempdir().expect("a folder");
    let demo = shipped::find(Kind::Scenario, "demo")
        .expect("it ships")
        .text;
    // Every offence learns to play against every defence first: all of them only when there is time.
    let long = std::env::var_os("LANELIGHT_LONG").is_some();
    let some = |word: &str| long || ["four_out_one_post", "high_low"].contains(&word);
    for file in shipped::all(Kind::Offence).filter(|f| some(f.word)) {
        let own = demo.replace("four_out_one_post", file.word);
        fs::write(folder.path().join("own.ron"), own).expect("written");
        let args = [
            "why",
            "own.ron",
            "--possessions",
            "40",
            "--matrix",
            "4",
            "--against",
            "denial",
        ];
        let page = good(folder.path(), &args);
        let lines = page.lines().count();
        assert!(lines <= 48, "{}: {lines} lines:\n{page}", file.word);
        let first = page.split("\n\n").nth(1).expect("a first part");
        // A title, five figures (a long one may take two lines), what the star means.
        assert!((7..=9).contains(&first.lines().count()), "{first}");
        assert!(
            page.contains("WHO SHUTS WHAT") && page.contains("why --all"),
            "{page}"
        );
    }
}

#[test]
fn one_setting_gives_the_units_of_everything_that_is_read() {
    let folder = tempfile::tempdir().expect("a folder");
    let settings = folder.path().join("settings");
    fs::create_dir(&settings).expect("made");
    let commands: [&[&str]; 4] = [
        &["check", "demo"],
        &["watch", "--seed", "1"],
        &["scrimmage", "--possessions", "20"],
        &["why", "--all", "--possessions", "20", "--matrix", "0"],
    ];
    let feet = |text: &str| text.contains(" ft") || text.contains(", ft");
    let metres = |text: &str| {
        let words: Vec<&str> = text.split([' ', '\n', ',', ';', ')', '.']).collect();
        words
            .windows(2)
            .any(|w| w[1] == "m" && w[0].ends_with(|c: char| c.is_ascii_digit()))
    };
    for args in commands {
        let usual = good(folder.path(), args);
        assert!(
            feet(&usual) && !metres(&usual),
            "{args:?}: the court is in feet: {usual}"
        );
        let asked = good(folder.path(), &[args, &["--units", "metres"]].concat());
        assert!(!feet(&asked) && metres(&asked), "{args:?}: {asked}");
        // As the window keeps it.
        let kept = "#![enable(implicit_some)]\n(type_size: 1.1, metric: true, hint: 3)";
        fs::write(settings.join("settings.ron"), kept).expect("written");
        assert_eq!(good(folder.path(), args), asked, "{args:?}");
        let over = good(folder.path(), &[args, &["--units", "feet"]].concat());
        assert_eq!(over, usual, "{args:?}");
        fs::remove_file(settings.join("settings.ron")).expect("gone");
    }
}

/// Keys of a JSON that are not those of an estimate, nor words of the model.
fn keys(value: &Value, found: &mut BTreeSet<String>) {
    match value {
        Value::Object(map) => {
            for (key, value) in map {
                found.insert(key.clone());
                keys(value, found);
            }
        }
        Value::Array(list) => list.iter().for_each(|v| keys(v, found)),
        _ => {}
    }
}

#[test]
fn every_column_and_key_of_the_files_is_explained_and_no_lower_end_is_below_nought() {
    let folder = tempfile::tempdir().expect("a folder");
    for args in [
        "scrimmage --possessions 6 --summary-json s.json --summary-csv s.csv --rows r.csv",
        "compare --tweak skip_pass --possessions 6 --summary-json k.json --summary-csv k.csv",
        "why --possessions 14 --matrix 3 --json w.json --csv w.csv",
    ] {
        let args: Vec<&str> = args.split(' ').collect();
        assert!(
            program(folder.path(), &args)
                .status()
                .expect("runs")
                .success()
        );
    }
    let all = sheets();
    let known: BTreeSet<String> = all
        .iter()
        .flat_map(|s| &s.columns)
        .map(|c| c.name.clone())
        .collect();
    let read = |name: &str| fs::read_to_string(folder.path().join(name)).expect("written");
    for name in ["s.json", "k.json", "w.json"] {
        let json: Value = serde_json::from_str(&read(name)).expect("JSON");
        let mut found = BTreeSet::new();
        keys(&json, &mut found);
        let unknown: Vec<_> = found.difference(&known).collect();
        assert!(unknown.is_empty(), "{name}: {unknown:?}");
    }
    for (name, title) in [
        ("r.csv", "scrimmage --rows"),
        ("s.csv", "scrimmage --summary-csv"),
        ("k.csv", "compare --summary-csv"),
        ("w.csv", "why --csv"),
    ] {
        let sheet = all
            .iter()
            .find(|s| s.title.starts_with(title))
            .expect("a sheet");
        let heads: Vec<&str> = sheet.columns.iter().map(|c| c.name.as_str()).collect();
        assert_eq!(
            read(name).lines().next().expect("heads"),
            heads.join(","),
            "{name}"
        );
    }
    // What counts something is not less than nothing, whatever its interval.
    for name in ["s.csv", "w.csv"] {
        let mut sheet = csv::Reader::from_path(folder.path().join(name)).expect("CSV");
        let heads = sheet.headers().expect("heads").clone();
        let at = |head: &str| heads.iter().position(|h| h == head).expect("a column");
        let (low, figure) = (at("low_95"), at("figure"));
        let mut seen = 0;
        for line in sheet.records() {
            let line = line.expect("a line");
            if let Ok(low) = line[low].parse::<f64>() {
                assert!(low >= 0.0, "{name}: {}: {low}", &line[figure]);
                seen += 1;
            }
        }
        assert!(seen > 50, "{name}: {seen}");
    }
    // The same words in both: a figure of the CSV is a key of the JSON.
    let json: Value = serde_json::from_str(&read("w.json")).expect("JSON");
    let mut found = BTreeSet::new();
    keys(&json, &mut found);
    let mut sheet = csv::Reader::from_path(folder.path().join("w.csv")).expect("CSV");
    for line in sheet.records() {
        let line = line.expect("a line");
        let word = line[8].split(':').next().unwrap_or_default().to_string();
        assert!(found.contains(&word), "{word}");
    }
}
