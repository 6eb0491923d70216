//! Files are read, checked and refused as a coach would want it.

use std::path::{Path, PathBuf};

use lanelight::court::CourtCode;
use lanelight::offence::tweak::{Change, Tweak};
use lanelight::offence::{By, Event, LookKind, Offence, Place, Rule, ShotsFrom};
use lanelight::scenario::shipped::{self, Kind};
use lanelight::scenario::{
    MOST_BYTES, Problem, Problems, RawScenario, Scenario, Source, read_defence, read_offence,
    read_squad, read_tweak,
};
use lanelight::squad::Level;
use proptest::prelude::*;

#[path = "reading/guide.rs"]
mod guide;

fn bad_files() -> Vec<PathBuf> {
    let mut files: Vec<PathBuf> = std::fs::read_dir("tests/bad")
        .unwrap()
        .map(|entry| entry.unwrap().path())
        .filter(|path| path.is_file())
        .collect();
    files.sort();
    files
}

/// Reads a file as that kind; the problems of what cannot be read.
fn problems(kind: &str, path: &Path) -> Problems {
    let text = Source::load(path).unwrap().text;
    let result = match kind {
        "offence" => read_offence(&text, "bad").map(|_| ()),
        "defence" => read_defence(&text, "bad").map(|_| ()),
        "tweak" => read_tweak(&text, "bad").map(|_| ()),
        "squad" => read_squad(&text, "bad").map(|_| ()),
        "scenario" => Scenario::read(path).map(|_| ()),
        other => panic!("{}: what is a {other}?", path.display()),
    };
    result.expect_err(&path.display().to_string())
}

/// The kind and the expected problems, from the comments at the head of a file.
fn expected(text: &str) -> (String, Vec<String>) {
    let mut kind = String::new();
    let mut expected = Vec::new();
    for line in text.lines().map_while(|line| line.strip_prefix("// ")) {
        let line = match line.split_once("; ") {
            Some((head, line)) if expected.is_empty() => {
                kind = head.to_owned();
                line
            }
            _ => line,
        };
        expected.push(line.strip_prefix("expect: ").unwrap().to_owned());
    }
    (kind, expected)
}

#[test]
fn every_bad_file_is_refused_with_the_problems_written_at_its_head_and_no_others() {
    for path in bad_files() {
        let text = std::fs::read_to_string(&path).unwrap();
        let (kind, expected) = expected(&text);
        let Problems(found) = problems(&kind, &path);
        let said: Vec<String> = found
            .iter()
            .map(|problem| {
                let nearest = problem.nearest.as_ref();
                let nearest = nearest.map_or(String::new(), |word| format!(" -> {word}"));
                format!(
                    "{}:{} {}{nearest}",
                    problem.line, problem.column, problem.said
                )
            })
            .collect();
        if std::env::var_os("SHOW").is_some() {
            println!(
                "== {}\n{}\n{}",
                path.display(),
                Problems(found),
                said.join("\n")
            );
        } else {
            assert_eq!(said, expected, "{}", path.display());
        }
    }
}

/// The `ron` blocks of the guide, in order: offence, drill, defence, tweak, scenario.
fn guide_blocks() -> Vec<String> {
    let guide = std::fs::read_to_string("scenarios/README.md").unwrap();
    let blocks = guide.split("```ron\n").skip(1);
    blocks
        .map(|block| block.split("```").next().unwrap().to_owned())
        .collect()
}

#[test]
fn the_examples_of_the_guide_read_without_a_warning() {
    let blocks = guide_blocks();
    assert_eq!(blocks.len(), 5);
    let offence = read_offence(&blocks[0], "guide").unwrap_or_else(|e| panic!("{e}"));
    assert_eq!(offence.warnings, []);
    let drill = read_offence(&blocks[1], "guide").unwrap_or_else(|e| panic!("{e}"));
    assert_eq!((drill.warnings, drill.value.players), (vec![], 3));
    let defence = read_defence(&blocks[2], "guide").unwrap_or_else(|e| panic!("{e}"));
    assert_eq!(defence.warnings, []);
    let tweak = read_tweak(&blocks[3], "guide").unwrap_or_else(|e| panic!("{e}"));
    let changed = tweak.value.apply(&reference()).unwrap();
    assert!(lanelight::offence::check::check(&changed).is_empty());
    let scenario = Scenario::from_text(&blocks[4], "guide").unwrap_or_else(|e| panic!("{e}"));
    assert_eq!(scenario.warnings, []);
    // What stands there for the practice sheet is written back as it was read.
    assert_eq!(scenario.practice.minutes, Some(75));
    assert_eq!(scenario.practice.notes.len(), 2);
    let text = write(&scenario.practice);
    assert_eq!(ron::from_str(&text), Ok(scenario.practice), "{text}");
}

#[test]
fn the_guide_knows_every_word_of_the_languages() {
    let guide = std::fs::read_to_string("scenarios/README.md").unwrap();
    let registers = lanelight::offence::words::REGISTERS
        .into_iter()
        .chain(lanelight::defence::check::WORDS);
    for (register, words) in registers {
        for word in words {
            let word = word.word;
            let written = ["`", "("]
                .iter()
                .any(|end| guide.contains(&format!("`{word}{end}")));
            assert!(written, "{register}: `{word}` is not in the guide");
        }
    }
}

#[test]
fn the_guide_says_of_every_end_of_an_order_what_it_means() {
    use lanelight::possession::orders::OrderEnd;
    let guide = std::fs::read_to_string("scenarios/README.md").unwrap();
    let head = "| the account says | too soon, by | what it means |\n| --- | --- | --- |\n";
    let (_, table) = guide.split_once(head).expect("the table");
    let ends = OrderEnd::ALL.iter().filter(|end| **end != OrderEnd::Done);
    let row = |end: &OrderEnd| {
        let time = match (end.had_time(), end.is_a_rules_doing()) {
            _ if !end.is_of_an_order() => "not an order",
            (true, _) => "",
            (false, true) => "another rule",
            (false, false) => "the play",
        };
        format!("| {} | {time} | {} |\n", end.word(), end.meaning())
    };
    let rows: String = ends.map(row).collect();
    let written = table.split("\n\n").next().map(|rows| format!("{rows}\n"));
    assert_eq!(written, Some(rows));
}

fn text_of(kind: Kind, word: &str) -> &'static str {
    shipped::find(kind, word).unwrap().text
}

fn reference() -> Offence {
    read_offence(text_of(Kind::Offence, "four_out_one_post"), "reference")
        .unwrap()
        .value
}

fn write<T: serde::Serialize>(value: &T) -> String {
    ron::ser::to_string_pretty(value, ron::ser::PrettyConfig::default()).unwrap()
}

#[test]
fn every_shipped_file_loads_without_a_warning() {
    for file in shipped::SHIPPED.iter().chain(shipped::DRILLS) {
        let warnings = match file.kind {
            Kind::Offence => read_offence(file.text, file.word).map(|read| read.warnings),
            Kind::Defence => read_defence(file.text, file.word).map(|read| read.warnings),
            Kind::Tweak => read_tweak(file.text, file.word).map(|read| read.warnings),
            Kind::Squad => read_squad(file.text, file.word).map(|read| read.warnings),
            Kind::Scenario => Scenario::from_text(file.text, file.word).map(|read| read.warnings),
        };
        assert_eq!(
            warnings.unwrap_or_else(|e| panic!("{e}")),
            [],
            "{}",
            file.word
        );
    }
}

/// The words of the files in a folder of scenarios.
fn on_disk_in(folder: &str) -> Vec<String> {
    std::fs::read_dir(format!("scenarios/{folder}"))
        .unwrap_or_else(|error| panic!("{folder}: {error}"))
        .map(|entry| entry.unwrap().path())
        .filter(|path| path.extension().is_some_and(|end| end == "ron"))
        .map(|path| path.file_stem().unwrap().to_str().unwrap().to_owned())
        .collect()
}

#[test]
fn every_file_of_the_scenarios_folder_is_shipped() {
    let words = |files: &mut dyn Iterator<Item = &'static shipped::Shipped>| {
        files.map(|file| file.word).collect::<Vec<_>>()
    };
    let kinds = [
        ("offences", Kind::Offence),
        ("defences", Kind::Defence),
        ("tweaks", Kind::Tweak),
        ("squads", Kind::Squad),
        (".", Kind::Scenario),
    ];
    let mut all = kinds
        .map(|(folder, kind)| (folder, words(&mut shipped::all(kind))))
        .to_vec();
    all.push(("drills", words(&mut shipped::DRILLS.iter())));
    for (folder, mut embedded) in all {
        let mut on_disk = on_disk_in(folder);
        on_disk.sort();
        embedded.sort_unstable();
        assert_eq!(on_disk, embedded, "{folder}");
    }
}

#[test]
fn what_is_written_reads_back_equal() {
    for file in shipped::SHIPPED {
        match file.kind {
            Kind::Offence => {
                let read = read_offence(file.text, file.word).unwrap().value;
                assert_eq!(read_offence(&write(&read), "again").unwrap().value, read);
            }
            Kind::Defence => {
                let read = read_defence(file.text, file.word).unwrap().value;
                assert_eq!(read_defence(&write(&read), "again").unwrap().value, read);
            }
            Kind::Tweak => {
                let read = read_tweak(file.text, file.word).unwrap().value;
                assert_eq!(read_tweak(&write(&read), "again").unwrap().value, read);
            }
            Kind::Scenario => {
                let options = ron::Options::default()
                    .with_default_extension(ron::extensions::Extensions::IMPLICIT_SOME);
                let read: RawScenario = options.from_str(file.text).unwrap();
                assert_eq!(
                    options.from_str::<RawScenario>(&write(&read)).unwrap(),
                    read
                );
            }
            Kind::Squad => {}
        }
    }
}

#[test]
fn a_tweak_that_is_taken_back_leaves_the_offence_as_it_was() {
    let offence = reference();
    let names: Vec<String> = offence.rules.iter().map(|rule| rule.name.clone()).collect();
    let rule = |name: &str| Rule {
        name: name.to_owned(),
        ..offence.rules[3].clone()
    };
    let look = |look, after, before| Change::Allow {
        look,
        after,
        before,
    };
    let every_kind = vec![
        Change::AddRule {
            after: Some(names[2].clone()),
            before: None,
            rule: rule("after"),
        },
        Change::AddRule {
            after: None,
            before: Some(names[0].clone()),
            rule: rule("first"),
        },
        Change::AddRule {
            after: None,
            before: None,
            rule: rule("last"),
        },
        Change::ReplaceRule {
            name: names[5].clone(),
            with: rule("replaced"),
        },
        Change::RemoveRule("first".to_owned()),
        Change::RemoveRule(names[0].clone()),
        Change::RemoveRule("last".to_owned()),
        Change::Forbid(LookKind::Backdoor),
        Change::Forbid(LookKind::NextPass),
        look(LookKind::Skip, Some(LookKind::Drive), None),
        look(LookKind::Backdoor, None, Some(LookKind::Shot)),
        Change::SetPatience {
            hold: Some(3.0),
            possession: None,
            asks_more: Some(0.0),
            passes_first: Some(2),
        },
        Change::SetKeepFilled(vec![Place::Top]),
        Change::SetDriveFrom(vec![]),
        Change::SetShotsFrom(vec![ShotsFrom {
            player: 5,
            from: vec![Place::Inside],
        }]),
        Change::SetReading(vec![LookKind::Shot]),
        Change::SetAlignment {
            ball: 2,
            alignment: vec![],
        },
    ];
    for length in 1..=every_kind.len() {
        let tweak = Tweak {
            name: "all".to_owned(),
            note: String::new(),
            of: None,
            changes: every_kind[..length].to_vec(),
        };
        let changed = tweak.apply(&offence).unwrap();
        assert_ne!(changed, offence);
        let back = tweak.inverse(&offence).unwrap();
        assert_eq!(back.apply(&changed).unwrap(), offence, "{length} changes");
        assert_eq!(read_tweak(&write(&back), "back").unwrap().value, back);
    }
    for file in shipped::all(Kind::Tweak) {
        let tweak = read_tweak(file.text, file.word).unwrap().value;
        for on in shipped::all(Kind::Offence) {
            let offence = read_offence(on.text, on.word).unwrap().value;
            if tweak.of.as_deref().is_none_or(|of| of == on.word) {
                let changed = tweak
                    .apply(&offence)
                    .unwrap_or_else(|e| panic!("{}: {e}", file.word));
                let found = lanelight::offence::check::check(&changed);
                assert_eq!(found, [], "{} on {}", file.word, on.word);
                let back = tweak.inverse(&offence).unwrap();
                assert_eq!(back.apply(&changed).unwrap(), offence, "{}", file.word);
            }
        }
    }
}

#[test]
fn a_tweak_that_does_not_fit_names_the_nearest_rule_and_changes_nothing() {
    let text = "(name: \"t\", changes: [forbid(shot), remove_rule(\"drive from the wng\")])";
    let tweak = read_tweak(text, "t").unwrap().value;
    let misfit = tweak.apply(&reference()).unwrap_err();
    assert_eq!(misfit.change, 1);
    assert_eq!(misfit.nearest.as_deref(), Some("Drive from the wing"));
    assert_eq!(tweak.inverse(&reference()).unwrap_err(), misfit);
}

#[test]
fn a_denial_two_passes_away_is_a_warning_and_no_error() {
    let mut offence = reference();
    let denied = |rule: &&mut Rule| matches!(rule.when, Event::Denied { .. });
    let rule = offence.rules.iter_mut().find(denied).unwrap();
    rule.actions.truncate(1);
    rule.when = Event::Denied {
        at: Place::Wing(By::Weak),
        ball: Place::Wing(By::Ball),
        seconds: 0.5,
    };
    let read = read_offence(&write(&offence), "far").unwrap();
    assert_eq!(read.warnings.len(), 1, "{:?}", read.warnings);
    assert!(read.warnings[0].said.contains("more than one pass away"));
    assert!(!read.warnings[0].is_error());
}

#[test]
fn feet_and_metres_mean_the_same_length() {
    let blocks = guide_blocks();
    let feet = read_defence(&blocks[2], "feet").unwrap().value;
    assert!((feet.help.within - 16.0 * 0.3048).abs() < 1e-12);
    assert!((feet.stances.on_ball.gap.1 - 1.524).abs() < 1e-12);
    let inches = blocks[2]
        .replace("ft(16)", "ft_in(15, 12)")
        .replace("ft(6)", "m(1.8288)");
    let inches = read_defence(&inches, "inches").unwrap().value;
    assert!((inches.help.within - feet.help.within).abs() < 1e-12);
    assert!((inches.help.depth - feet.help.depth).abs() < 1e-12);
}

fn one_problem(source: Result<Source, Problems>) -> Problem {
    let read = source.and_then(|source| read_offence(&source.text, "hostile"));
    let Problems(mut problems) = read.unwrap_err();
    assert_eq!(problems.len(), 1);
    problems.remove(0)
}

#[test]
fn a_scenario_can_be_put_together_from_shipped_words_or_texts() {
    let (court, level) = (CourtCode::Fiba, Level::VarsityBoys);
    let defence = &guide_blocks()[2];
    let plain = Scenario::from_parts(court, level, "four_out_one_post", defence, &[]).unwrap();
    assert_eq!(plain.offence, reference());
    assert_eq!(plain.shot_clock, Some(24.0));
    let tweaked = ["skip_pass", "(name: \"t\", changes: [forbid(shot)])"];
    let tweaked =
        Scenario::from_parts(court, level, "four_out_one_post", defence, &tweaked).unwrap();
    assert!(tweaked.offence.reading.contains(&LookKind::Skip));
    assert!(!tweaked.offence.reading.contains(&LookKind::Shot));
    let skip = read_tweak(text_of(Kind::Tweak, "skip_pass"), "t")
        .unwrap()
        .value;
    let later = plain.with_tweak(&skip).unwrap();
    assert_eq!(later.offence, skip.apply(&plain.offence).unwrap());
    let wrong = Scenario::from_parts(court, level, "four_out", "zone 2-3-9", &["skip"]);
    let said = wrong.unwrap_err().to_string();
    assert!(
        said.contains("no such offence") && said.contains("no such tweak"),
        "{said}"
    );
}

#[test]
fn hostile_files_are_refused_with_a_sentence() {
    let folder = tempfile::tempdir().unwrap();
    let huge = folder.path().join("huge.ron");
    let file = std::fs::File::create(&huge).unwrap();
    file.set_len(100 << 20).unwrap();
    let problem = Scenario::read(&huge).unwrap_err();
    assert!(
        problem.to_string().contains("longer than 1 MiB"),
        "{problem}"
    );
    let problem = Scenario::read(folder.path()).unwrap_err();
    assert!(problem.to_string().contains("not a file"), "{problem}");
    let problem = Scenario::read(&folder.path().join("missing.ron")).unwrap_err();
    assert!(problem.to_string().contains("no such file"), "{problem}");

    let nested = one_problem(Source::new("n", &"[".repeat(10_000)));
    assert!(nested.said.contains("nest deeper than 64"), "{nested}");
    let movement = format!(
        "{}hold{}",
        "cut(lane: behind, unfed: ".repeat(5_000),
        ")".repeat(5_000)
    );
    assert!(
        one_problem(Source::new("n", &movement))
            .said
            .contains("nest deeper")
    );
    let binary = one_problem(Source::from_bytes("b", b"(name: \"a\xff\xfe\")"));
    assert_eq!((binary.line, binary.column), (1, 10), "{binary}");
    for empty in ["", " \n", "// only a note\n", "\u{feff}"] {
        assert!(
            one_problem(Source::new("e", empty)).said.contains("empty"),
            "{empty:?}"
        );
    }
    let long = " ".repeat(MOST_BYTES as usize + 1);
    assert!(one_problem(Source::new("l", &long)).said.contains("longer"));
    let marked = format!("\u{feff}{}", text_of(Kind::Offence, "four_out_one_post"));
    assert_eq!(read_offence(&marked, "bom").unwrap().value, reference());
}

#[test]
#[allow(clippy::disallowed_methods)] // It is time itself that is measured here.
fn long_lists_are_refused_before_they_cost_time() {
    let start = std::time::Instant::now();
    let many = format!("keep_filled: [{}],", "top,".repeat(200_000));
    let sound = text_of(Kind::Offence, "four_out_one_post");
    let text = sound.replace(
        "keep_filled: [slot(ball), slot(weak), wing(ball), wing(weak)],",
        &many,
    );
    let problem = one_problem(Source::new("many", &text));
    assert!(problem.said.contains("200000 items"), "{problem}");
    for piece in [
        "(",
        "\"",
        "/*",
        "r#\"",
        "r",
        "'",
        "#",
        "a:",
        "(a,",
        "ft(1),",
        "/",
        "fill(",
        "é",
        "[]",
        "\\",
        "(name: \"a\"),",
        "slott(bal),",
        "\n",
    ] {
        let long = piece.repeat(1_000_000 / piece.len());
        read_everything(&long);
        read_everything(&sound.replace("reading: [", &format!("reading: [{long}")));
        read_everything(&format!("(name: \"a\", {long}"));
    }
    assert!(start.elapsed().as_secs() < 60, "{:?}", start.elapsed());
}

fn read_everything(text: &str) {
    let _ = read_offence(text, "p").map_err(|problems| problems.to_string());
    let _ = read_defence(text, "p").map_err(|problems| problems.to_string());
    let _ = read_tweak(text, "p").map_err(|problems| problems.to_string());
    let _ = read_squad(text, "p").map_err(|problems| problems.to_string());
    let _ = Scenario::from_text(text, "p").map_err(|problems| problems.to_string());
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(2000))]

    #[test]
    fn no_bytes_whatever_make_the_reader_panic(bytes in proptest::collection::vec(any::<u8>(), 0..400)) {
        if let Ok(source) = Source::from_bytes("p", &bytes) {
            read_everything(&source.text);
        }
    }

    #[test]
    fn no_text_of_brackets_and_words_makes_the_reader_panic(
        text in "[\\[\\](){},:\"'/*r#bn\\\\ 0-9.a-zé-]{0,200}"
    ) {
        read_everything(&text);
    }

    #[test]
    fn a_shipped_file_with_a_few_letters_changed_never_makes_the_reader_panic(
        which in any::<proptest::sample::Index>(),
        edits in proptest::collection::vec(
            (any::<proptest::sample::Index>(), 0_usize..12, "[\\[\\](){},:\"'/* a-z0-9.é-]{0,8}"),
            1..4,
        ),
    ) {
        let mut text: Vec<char> = which.get(shipped::SHIPPED).text.chars().collect();
        for (place, cut, new) in edits {
            let place = place.index(text.len());
            let end = (place + cut).min(text.len());
            text.splice(place..end, new.chars());
            if text.is_empty() {
                break;
            }
        }
        read_everything(&text.into_iter().collect::<String>());
    }
}
