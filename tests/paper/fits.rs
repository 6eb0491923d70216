//! Nothing on paper is cut off, runs out of its column or over something else: every page of the practice
//! sheet, the series, the cards, the places and the shell positions, read as it is set.

use lanelight::clean::escape;
use lanelight::court::CourtCode;
use lanelight::defence::Defence;
use lanelight::draw::cards::{Card, cards};
use lanelight::draw::light::Replay;
use lanelight::draw::sheet::handout::{card_pages, shell_pages};
use lanelight::draw::sheet::paper::MARGIN;
use lanelight::draw::sheet::positions::{overview_page, place_pages};
use lanelight::draw::sheet::scout::Scouted;
use lanelight::draw::sheet::series::Series;
use lanelight::draw::sheet::{Paper, Practice};
use lanelight::draw::text::width;
use lanelight::scenario::{Scenario, shipped};
use lanelight::squad::Level;

/// A text or a picture where it stands on a page, points.
#[derive(Debug)]
struct Placed {
    text: Option<String>,
    left: f64,
    top: f64,
    right: f64,
    bottom: f64,
}

fn attribute(tag: &str, name: &str) -> Option<f64> {
    let value = tag.split_once(&format!(" {name}=\""))?.1;
    value.split_once('"')?.0.parse().ok()
}

/// Texts and frames of pictures; not what is inside a picture.
fn placed(page: &str) -> Vec<Placed> {
    let (mut out, mut inside) = (Vec::new(), 0);
    for piece in page.split('<').skip(1) {
        let (tag, after) = piece.split_once('>').unwrap_or((piece, ""));
        if tag.starts_with("g ") || tag == "g" {
            inside += usize::from(!tag.ends_with('/'));
        } else if tag.starts_with("/g") {
            inside -= 1;
        }
        let at = |name: &str| attribute(tag, name).expect("a number");
        if inside > 0 {
            continue;
        }
        if tag.starts_with("text") {
            let text = after
                .replace("&lt;", "<")
                .replace("&gt;", ">")
                .replace("&quot;", "\"");
            let text = text.replace("&#39;", "'").replace("&amp;", "&");
            assert_eq!(escape(&text), after, "read as it is written");
            let size = at("font-size");
            let long = width(&text, size, tag.contains("bold"));
            out.push(Placed {
                left: at("x"),
                top: at("y") - 0.72 * size,
                right: at("x") + long,
                bottom: at("y") + 0.2 * size,
                text: Some(text),
            });
        } else if tag.starts_with("rect") && tag.contains("#bbbbbb") {
            out.push(Placed {
                text: None,
                left: at("x"),
                top: at("y"),
                right: at("x") + at("width"),
                bottom: at("y") + at("height"),
            });
        }
    }
    out
}

/// What a reader would stumble over on these pages.
fn faults(name: &str, pages: &[String], paper: Paper) -> Vec<String> {
    let (wide, high) = paper.size();
    let mut wrong = Vec::new();
    for (number, page) in pages.iter().enumerate() {
        let mut say = |text: String| wrong.push(format!("{name}, page {}: {text}", number + 1));
        let all = placed(page);
        assert!(all.len() > 2, "{name}: an empty page");
        for (i, one) in all.iter().enumerate() {
            let text = one.text.as_deref().unwrap_or_default();
            // "You …" is a sentence that goes on.
            if text.ends_with('…') || text.replace(" …", "").contains('…') {
                say(format!("cut off: {text}"));
            }
            let across = one.left < MARGIN - 0.5 || one.right > wide - MARGIN + 0.5;
            if across || one.top < MARGIN - 1.0 || one.bottom > high - MARGIN + 11.0 {
                say(format!("sticks out: {one:?}"));
            }
            for other in &all[i + 1..] {
                let over = one.right.min(other.right) - one.left.max(other.left);
                let down = one.bottom.min(other.bottom) - one.top.max(other.top);
                if over > 0.5 && down > 0.5 {
                    say(format!("one over the other: {one:?} {other:?}"));
                }
            }
        }
    }
    wrong
}

/// Each offence with its cards.
fn offences() -> Vec<(&'static str, Vec<Card>)> {
    let files = shipped::all(shipped::Kind::Offence);
    let each = files.map(|file| {
        let scenario =
            Scenario::from_parts(CourtCode::Nfhs, Level::VarsityBoys, file.word, "sag", &[]);
        (file.word, cards(&scenario.expect("sound")))
    });
    each.collect()
}

#[test]
fn no_line_of_any_printed_page_is_cut_off_or_runs_out_of_its_box() {
    let long = std::env::var("LANELIGHT_LONG").is_ok();
    let defences: Vec<&str> = shipped::all(shipped::Kind::Defence)
        .map(|f| f.word)
        .collect();
    let levels = [Level::VarsityBoys, Level::Under12, Level::Under14];
    let (mut wrong, mut held) = (Vec::new(), 0);
    for (i, (offence, cards)) in offences().iter().enumerate() {
        for (j, defence) in defences.iter().enumerate() {
            // One defence each, where there is little time.
            if !long && j != i % defences.len() {
                continue;
            }
            let level = levels[(i + j) % levels.len()];
            let read = Scenario::from_parts(CourtCode::Fiba, level, offence, defence, &[]);
            let mut scenario = read.expect("sound");
            let summary = super::summary(&scenario, 100);
            let paper = Paper::ALL[(i + j) % 2];
            let all = [30, 45, 60, 75, 90, 120];
            let some = [all[i % all.len()]];
            for minutes in if long { &all[..] } else { &some[..] } {
                scenario.practice.minutes = Some(*minutes);
                let practice = Practice::of(&scenario, &summary, cards);
                let name = format!("{offence}, {defence}, {level:?}, {minutes} min, {paper:?}");
                let pages = practice.pages(&scenario, &summary, paper).0;
                held += pages.len();
                wrong.extend(faults(&name, &pages, paper));
            }
            let worth = vec![None; scenario.offence.rules.len()];
            let series = Series::of(&scenario, worth, 4, 2);
            let pages = series.pages(&scenario, &summary, cards, paper);
            held += pages.len();
            wrong.extend(faults(
                &format!("series, {offence}, {defence}"),
                &pages,
                paper,
            ));
        }
        let scenario =
            Scenario::from_parts(CourtCode::Nfhs, Level::VarsityBoys, offence, "sag", &[]);
        let scenario = scenario.expect("sound");
        for paper in Paper::ALL {
            let mut pages = overview_page(&scenario, cards, paper);
            pages.extend(place_pages(&scenario, paper));
            for mirrored in [false, true] {
                pages.extend(card_pages(&scenario, cards, paper, mirrored));
            }
            held += pages.len();
            wrong.extend(faults(
                &format!("cards, {offence}, {paper:?}"),
                &pages,
                paper,
            ));
        }
    }
    let shells: Vec<Defence> = defences
        .iter()
        .map(|word| {
            let offence = "four_out_one_post";
            let read =
                Scenario::from_parts(CourtCode::Nfhs, Level::VarsityBoys, offence, word, &[]);
            read.expect("sound").defence
        })
        .collect();
    for paper in Paper::ALL {
        let demo = Scenario::demo();
        let summary = super::summary(&demo, 100);
        let replays = Replay::many(&demo, 1..21);
        let scouted = Scouted::of(&demo, &summary, &replays);
        let pages = shell_pages(&demo, Some(&scouted), &shells, paper);
        held += pages.len();
        wrong.extend(faults("shell", &pages, paper));
    }
    println!("{held} pages");
    wrong.dedup();
    assert!(
        wrong.is_empty(),
        "{} of {held} pages:\n{}",
        wrong.len(),
        wrong.join("\n")
    );
}

#[test]
fn the_shell_of_twelve_players_keeps_its_captions_above_the_foot_of_the_page() {
    let mut scenario = Scenario::demo();
    scenario.practice.players = Some(12);
    let summary = super::summary(&scenario, 200);
    let practice = Practice::of(&scenario, &summary, &cards(&scenario));
    for paper in Paper::ALL {
        let pages = practice.pages(&scenario, &summary, paper).0;
        assert_eq!(faults("twelve", &pages, paper), Vec::<String>::new());
        assert!(pages.len() <= 3, "{paper:?}");
    }
}
