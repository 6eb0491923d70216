//! What is printed: the practice sheet, with every number traced to the report, and nothing that a
//! hostile name could do to it.
//!
//! With `LANELIGHT_PICTURES=DIR` the sheets that are made here are kept in that folder.

mod program;

#[path = "paper/asked.rs"]
mod asked;
#[path = "paper/begins.rs"]
mod begins;
#[path = "paper/coach.rs"]
mod coach;
#[path = "paper/defenders.rs"]
mod defenders;
#[path = "paper/fits.rs"]
mod fits;
#[path = "paper/lit.rs"]
mod lit;
#[path = "paper/plan.rs"]
mod plan;
#[path = "paper/purpose.rs"]
mod purpose;

use std::fs;
use std::path::{Path, PathBuf};
use std::sync::atomic::AtomicBool;

use lanelight::clean;
use lanelight::court::CourtCode;
use lanelight::draw::CAUTION_SHORT;
use lanelight::draw::cards::cards;
use lanelight::draw::light::Replay;
use lanelight::draw::sheet::handout::{card_pages, diagram_page, shell_pages};
use lanelight::draw::sheet::paper::MARGIN;
use lanelight::draw::sheet::scout::Scouted;
use lanelight::draw::sheet::{Paper, Practice, Said};
use lanelight::draw::text::width;
use lanelight::draw::{film, page, print};
use lanelight::possession::Ending;
use lanelight::scenario::{Scenario, Session};
use lanelight::squad::Level;
use lanelight::why::{Summary, Why, rivals};

/// Offences and defences whose sheets are read as a coach reads them.
const MATCHUPS: [(&str, &str); 5] = [
    ("four_out_one_post", "help_line"),
    ("four_out_one_post", "zone_2_3"),
    ("five_out_give_and_go", "denial"),
    ("three_out_two_in", "sag"),
    ("screen_continuity", "switching"),
];

/// Two shipped squads of a level on the high-school court.
fn matchup(level: Level, offence: &str, defence: &str) -> Scenario {
    let scenario = Scenario::from_parts(CourtCode::Nfhs, level, offence, defence, &[]);
    scenario.expect("sound")
}

fn keep(name: &str, bytes: &[u8]) {
    if let Some(folder) = std::env::var_os("LANELIGHT_PICTURES") {
        let folder = PathBuf::from(folder);
        fs::create_dir_all(&folder).expect("the folder for pictures");
        fs::write(folder.join(name), bytes).expect("a picture kept");
    }
}

fn summary(scenario: &Scenario, possessions: u64) -> Summary {
    let why = Why {
        first_seed: 1,
        possessions,
        threads: 2,
    };
    let sheets = why
        .sheets(scenario, &|_| {}, &AtomicBool::new(false))
        .expect("sheets");
    Summary::of(&sheets, possessions, &scenario.offence, &rivals(scenario))
}

/// The demo with what a coach writes of a practice.
fn scenario() -> Scenario {
    Scenario {
        practice: Session {
            title: "Feed the post".into(),
            date: "Tuesday, 3 March".into(),
            place: "Small hall".into(),
            squad: "Harbour Hawks and two guests".into(),
            minutes: Some(60),
            players: Some(12),
            baskets: Some(4),
            notes: vec!["Bring both balls.".into(), "Team photo.".into()],
        },
        ..Scenario::demo()
    }
}

/// The text of pages, as it stands in their SVG.
fn words(pages: &[String]) -> String {
    let mut out = String::new();
    for page in pages {
        for piece in page.split("<text").skip(1) {
            let inside = piece.split_once('>').map_or("", |p| p.1);
            out.push_str(inside.split_once("</text>").map_or("", |p| p.0));
            out.push(' ');
        }
    }
    out
}

#[test]
fn the_practice_sheet_fits_three_pages_and_says_all_that_was_asked_for() {
    let scenario = scenario();
    let summary = summary(&scenario, 150);
    let practice = Practice::of(&scenario, &summary, &cards(&scenario));
    assert!((2..=3).contains(&practice.looks.len()));
    // What is shut, what there is no time for, where it stalls, the defender who is late; what a drill of a card is for.
    let others = practice.findings.len() - practice.looks.len();
    assert!(
        (3..=4 + practice.breakdowns.len()).contains(&others),
        "{others}"
    );
    assert_eq!(practice.plan.iter().map(|b| b.minutes).sum::<u32>(), 60);
    for paper in Paper::ALL {
        let (pages, keys) = practice.pages(&scenario, &summary, paper);
        let text = words(&pages);
        let pdf = print::pdf(&scenario.name, &pages).expect("pdf");
        keep(&format!("practice_{}.pdf", paper.word()), &pdf);
        for (i, page) in pages.iter().enumerate() {
            let png = print::png(page, 1000).expect("png");
            keep(&format!("practice_{}_{}.png", paper.word(), i + 1), &png);
        }
        // Two were enough before drills of two, three and four came in.
        assert!(pages.len() <= 3, "{} pages on {paper:?}", pages.len());
        for wanted in [
            "Feed the post",
            "Tuesday, 3 March",
            "Small hall",
            "Harbour Hawks and two guests",
            "Bring both balls.",
            "Team photo.",
            "60 minutes",
            "Warm up",
            "concussion",
            "Squad",
        ] {
            assert!(text.contains(wanted), "{wanted} is missing on {paper:?}");
        }
        assert!(!keys.is_empty());
    }
}

/// One figure as it is shown: the value, its unit, and its interval; and the text after it.
fn next_figure(text: &str) -> Option<([String; 3], String, &str)> {
    let mut from = 0;
    while let Some(open) = text[from..].find(" (").map(|at| at + from) {
        from = open + 2;
        let (inside, rest) = text[from..].split_once(')')?;
        let mut before = text[..open].rsplit(' ');
        let (unit, value) = (before.next()?, before.next().unwrap_or(""));
        if let Some((low, high)) = inside.split_once(" to ")
            && value.parse::<f64>().is_ok()
        {
            let shown = [value, low, high].map(str::to_string);
            return Some((shown, unit.to_string(), rest));
        }
    }
    None
}

fn figures(mut text: &str) -> Vec<([String; 3], String)> {
    let mut out = Vec::new();
    while let Some((shown, unit, rest)) = next_figure(text) {
        out.push((shown, unit));
        text = rest;
    }
    out
}

#[test]
fn every_number_of_a_sentence_is_the_figure_that_its_key_names_rounded_as_shown() {
    let mut checked = 0;
    for (defence, level) in [
        ("help_line", Level::VarsityBoys),
        ("denial", Level::Under14),
    ] {
        let court = if checked == 0 {
            CourtCode::Nfhs
        } else {
            CourtCode::Fiba
        };
        let scenario =
            Scenario::from_parts(court, level, "four_out_one_post", defence, &[]).expect("sound");
        let summary = summary(&scenario, 200);
        let practice = Practice::of(&scenario, &summary, &[]);
        let json = serde_json::to_value(&summary).expect("figures as JSON");
        let mut said: Vec<&Said> = practice.findings.iter().collect();
        said.extend(practice.looks.iter().filter_map(|l| l.said.as_ref()));
        said.extend(practice.looks.iter().map(|l| &l.cue));
        let scouted = Scouted::of(&scenario, &summary, &[]);
        let scouted: Vec<&Said> = scouted.parts.iter().flat_map(|p| &p.1).collect();
        assert!(scouted.len() >= 8, "{scouted:?}");
        for sentence in said.iter().chain(&scouted) {
            let figures = figures(&sentence.text);
            assert_eq!(figures.len(), sentence.keys.len(), "{sentence:?}");
            for ((shown, unit), key) in figures.iter().zip(&sentence.keys) {
                let by = match unit.as_str() {
                    "%" | "points" => 100.0,
                    "ft" => 1.0 / 0.3048,
                    "s" | "m" => 1.0,
                    other => panic!("{other}: {sentence:?}"),
                };
                let places = shown[0].split_once('.').map_or(0, |p| p.1.len());
                for (name, shown) in ["value", "low", "high"].iter().zip(shown) {
                    let figure = json.pointer(&format!("/{key}/{name}"));
                    let figure = figure.and_then(|v| v.as_f64());
                    let figure = figure.unwrap_or_else(|| panic!("no figure at {key}/{name}"));
                    assert_eq!(shown, &format!("{:.places$}", figure * by), "{key} {name}");
                }
                checked += 1;
            }
        }
        // On the pages there is no figure but in these sentences, and each has its key.
        for paper in Paper::ALL {
            let (pages, keys) = practice.pages(&scenario, &summary, paper);
            let text = words(&pages);
            let mut rest = text.clone();
            for sentence in &said {
                assert!(sentence.keys.iter().all(|key| keys.contains(key)));
                // The intervals stand together at the end.
                let mut whole = clean::escape(&sentence.text);
                let mut intervals = Vec::new();
                for ([_, low, high], _) in figures(&sentence.text) {
                    whole = whole.replacen(&format!(" ({low} to {high})"), "", 1);
                    intervals.push(format!("{low} to {high}"));
                }
                let intervals = format!(": {}", intervals.join(", "));
                assert!(
                    rest.contains(&intervals),
                    "{intervals}\nis not on the sheet"
                );
                assert!(rest.contains(&whole), "{whole}\nis not on the sheet");
                rest = rest.replacen(&whole, "", 1);
            }
            assert_eq!(figures(&rest), [], "figures that lead nowhere");
            assert!(!rest.replace("95 % interval", "").contains('%'), "{rest}");
        }
    }
    assert!(checked >= 16, "only {checked} numbers found");
}

#[test]
fn the_caution_stands_on_every_printed_page() {
    let scenario = scenario();
    let summary = summary(&scenario, 100);
    let practice = Practice::of(&scenario, &summary, &[]);
    for paper in Paper::ALL {
        let mut pages = practice.pages(&scenario, &summary, paper).0;
        pages.extend(card_pages(&scenario, &cards(&scenario), paper, false));
        pages.extend(shell_pages(&scenario, None, &[], paper));
        let diagram = lanelight::draw::Scene::of(&scenario.court);
        pages.extend(diagram_page(&scenario, &diagram, "Nothing", paper));
        let caution = clean::escape(CAUTION_SHORT);
        let right = paper.size().0 - MARGIN;
        assert!(
            MARGIN + width(CAUTION_SHORT, 8.0, false) <= right,
            "too long"
        );
        for page in &pages {
            assert!(page.contains(&caution), "{page}");
        }
    }
    let page = page::page(&scenario, &Replay::one(&scenario, 1), &[]);
    assert!(page.contains(&clean::escape(CAUTION_SHORT)));
}

#[test]
fn a_hostile_name_is_harmless_on_paper() {
    let mut scenario = Scenario::demo();
    let summary = summary(&scenario, 100);
    let evil = format!(
        "</text><script>alert(1)</script>\u{202E}&amp;{}",
        "W".repeat(10_000)
    );
    scenario.name.clone_from(&evil);
    scenario.note.clone_from(&evil);
    scenario.offence.name.clone_from(&evil);
    scenario.defence.name.clone_from(&evil);
    scenario.attackers.name.clone_from(&evil);
    for player in &mut scenario.attackers.players {
        player.name.clone_from(&evil);
    }
    for rule in &mut scenario.offence.rules {
        rule.name.clone_from(&evil);
    }
    scenario.practice = Session {
        title: evil.clone(),
        date: evil.clone(),
        place: evil.clone(),
        squad: evil.clone(),
        minutes: Some(45),
        notes: vec![evil; 30],
        ..Session::default()
    };
    let practice = Practice::of(&scenario, &summary, &[]);
    let (pages, _) = practice.pages(&scenario, &summary, Paper::A4);
    assert!(pages.len() <= 3);
    for page in &pages {
        assert!(!page.contains("<script") && !page.contains('\u{202E}'));
    }
    print::pdf(&scenario.name, &pages).expect("pdf");
    keep("hostile.png", &print::png(&pages[0], 800).expect("png"));
}

#[test]
fn the_shared_page_is_small_asks_for_nothing_and_a_hostile_name_is_harmless_in_it() {
    let mut scenario = Scenario::demo();
    let shown = Replay::one(&scenario, 1);
    let cards = cards(&scenario);
    let plain = page::page(&scenario, &shown, &cards);
    println!("{} bytes", plain.len());
    assert!(plain.len() < 500_000, "{} bytes", plain.len());
    let evil = format!(
        "</script><img src=x onerror=alert(1)>\u{202E}\"'{}",
        "<b>".repeat(3_000)
    );
    scenario.name.clone_from(&evil);
    scenario.offence.name.clone_from(&evil);
    scenario.defence.name.clone_from(&evil);
    for player in &mut scenario.attackers.players {
        player.name.clone_from(&evil);
    }
    for rule in &mut scenario.offence.rules {
        rule.name.clone_from(&evil);
    }
    let cards: Vec<_> = cards
        .into_iter()
        .map(|mut card| {
            card.name.clone_from(&evil);
            card.sentence.clone_from(&evil);
            card
        })
        .collect();
    let text = page::page(&scenario, &shown, &cards);
    for page in [&plain, &text] {
        assert_eq!(page.matches("<script").count(), 2);
        assert_eq!(page.matches("</script>").count(), 2);
        assert!(!page.contains("<img") && !page.contains("<b>"));
        assert!(!page.contains('\u{202E}'));
        // Only names of namespaces, never something to fetch.
        let addresses = page.matches("http").count();
        let names = page.matches("http://www.w3.org/2000/svg").count();
        assert_eq!(addresses, names + page.matches("http-equiv").count());
        assert!(!page.contains("url(") && !page.contains("@import"));
    }
    keep("hostile.html", text.as_bytes());
}

#[test]
fn a_moving_picture_moves() {
    let scenario = Scenario::demo();
    let shot = |r: &Replay| matches!(r.possession.ending, Ending::Shot { .. });
    let mut all = (1..).map(|seed| Replay::one(&scenario, seed));
    let mut shown = all.find(shot).expect("one that ends in a shot");
    shown.possession.track.truncate(50);
    let drawn = film::Film::of(&shown, "Demo", 200).expect("a film");
    let bytes = drawn.gif().expect("a GIF");
    assert!(bytes.starts_with(b"GIF89a"));
    let mut reader = gif::DecodeOptions::new();
    reader.set_color_output(gif::ColorOutput::Indexed);
    let mut reader = reader.read_info(bytes.as_slice()).expect("a GIF");
    let (mut pictures, mut smaller) = (0, 0);
    while let Some(frame) = reader.read_next_frame().expect("a picture") {
        pictures += 1;
        smaller += usize::from(frame.width < 200);
    }
    // Two seconds, then the shot and its result.
    assert!((40..=60).contains(&pictures), "{pictures} pictures");
    assert!(smaller >= pictures - 2, "only what changes is written");
    let bytes = drawn.apng().expect("an APNG");
    keep("film.png", &bytes);
    let mut reader = png::Decoder::new(std::io::Cursor::new(&bytes))
        .read_info()
        .expect("a PNG");
    let told = reader.info().animation_control().expect("it is animated");
    assert_eq!(told.num_frames, pictures as u32);
    let mut buffer = vec![0; reader.output_buffer_size().expect("a size")];
    for _ in 0..pictures {
        reader.next_frame(&mut buffer).expect("a picture");
    }
    shown.possession.track.clear();
    assert!(film::Film::of(&shown, "Demo", 200).is_err());
}

#[test]
fn two_readers_open_the_sheet_and_find_its_words_and_fonts() {
    let scenario = Scenario::demo();
    let pages = card_pages(&scenario, &cards(&scenario), Paper::Letter, false);
    let bytes = print::pdf("cards", &pages).expect("pdf");
    let folder = tempfile::tempdir().expect("a folder");
    let file = folder.path().join("cards.pdf");
    fs::write(&file, bytes).expect("written");
    let path = file.to_str().expect("a path");
    let readers: [(&str, &[&str]); 2] = [
        ("pdftotext", &["-layout", path, "-"]),
        ("mutool", &["draw", "-F", "txt", path]),
    ];
    for (reader, arguments) in readers {
        let said = match std::process::Command::new(reader).args(arguments).output() {
            Ok(said) => said,
            Err(e) => {
                println!("{reader} is not here ({e}): not checked");
                continue;
            }
        };
        assert!(said.status.success(), "{reader}");
        let text = String::from_utf8_lossy(&said.stdout).to_string();
        for words in ["Slot to wing", "cut ball side", "page 1 of"] {
            assert!(text.contains(words), "{reader} does not find “{words}”");
        }
    }
}

fn lanelight(arguments: &[&str]) -> (i32, String, String) {
    let output = program::run(Path::new("."), arguments);
    let code = output.status.code().unwrap_or(-1);
    (
        code,
        program::said(&output.stdout),
        program::said(&output.stderr),
    )
}

#[test]
fn the_command_writes_the_whole_pack_and_the_same_bytes_for_any_number_of_threads() {
    let folder = tempfile::tempdir().expect("a folder");
    let pack = |name: &str, threads: &str| {
        let to = folder.path().join(name);
        let to = to.to_str().expect("a path").to_string();
        let (code, out, err) = lanelight(&[
            "paper",
            "--to",
            &to,
            "--possessions",
            "40",
            "--threads",
            threads,
            "--date",
            "Friday",
            "--note",
            "Both balls",
        ]);
        assert_eq!(code, 0, "{err}");
        (PathBuf::from(to), out)
    };
    let (one, said) = pack("one", "1");
    let (two, _) = pack("two", "2");
    let mut names: Vec<String> = fs::read_dir(&one)
        .expect("the pack")
        .map(|e| e.expect("a file").file_name().to_string_lossy().to_string())
        .collect();
    names.sort();
    assert_eq!(
        names,
        [
            "moment.png",
            "moment.svg",
            "phase.pdf",
            "phase.png",
            "phase.svg",
            "possession.gif",
            "possession.html",
            "possession.png",
            "practice_sheet.pdf",
            "rule_cards.pdf",
            "shell.pdf",
        ]
    );
    for name in &names {
        assert!(said.contains(name.as_str()), "{name} is not told");
        let read = |folder: &PathBuf| fs::read(folder.join(name)).expect("a file");
        assert!(read(&one) == read(&two), "{name} differs");
    }
}

#[test]
fn what_cannot_be_printed_is_said_in_plain_words() {
    let folder = tempfile::tempdir().expect("a folder");
    let to = folder.path().join("new");
    let to = to.to_str().expect("a path");
    for (arguments, wanted) in [
        (
            vec!["--from", "80", "--only", "phase"],
            "this possession lasts",
        ),
        (
            vec!["--from", "5", "--until", "2", "--only", "phase"],
            "shows nothing",
        ),
        (vec!["--from", "x"], "seconds from 0 to 100"),
        (
            vec!["--at", "80", "--only", "moment"],
            "there is no moment at 80 s",
        ),
        (vec!["--minutes", "2"], "whole minutes from 5 to 300"),
        (vec!["--possessions", "0"], "at least one possession"),
        (vec!["--only", "poster"], "sheet"),
    ] {
        let mut all = vec!["paper", "--to", to];
        all.extend(arguments);
        let (code, _, err) = lanelight(&all);
        assert_eq!(code, 2, "{all:?}: {err}");
        assert!(err.contains(wanted), "{all:?}: {err}");
    }
    let file = folder.path().join("file");
    fs::write(&file, "x").expect("a file");
    let (code, _, err) = lanelight(&["paper", "--to", file.to_str().expect("a path")]);
    assert_eq!(code, 1, "{err}");
    assert!(err.contains("cannot write"), "{err}");
}
