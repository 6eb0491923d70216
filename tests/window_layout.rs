//! The window in every size: nothing is cut, nothing that is said lies on the floor, the wall's letters are large, the
//! result of a possession is seen, and why it stalls is said at a glance.
#![cfg(feature = "window")]

mod window;

use std::path::Path;

use egui_kittest::Harness;
use egui_kittest::kittest::{NodeT, Queryable};
use lanelight::court::Units;
use lanelight::window::caption;
use lanelight::window::desk::Desk;
use lanelight::window::egui::accesskit::Role as Widget;
use lanelight::window::egui::{Key, Modifiers, Rect, Vec2, pos2, vec2};
use lanelight::window::now::{Now, now, said};
use lanelight::window::settings::Page;

/// Sizes of windows that coaches have, points.
const SIZES: [Vec2; 5] = [
    vec2(1024.0, 640.0),
    vec2(1280.0, 800.0),
    vec2(1366.0, 768.0),
    vec2(1920.0, 1080.0),
    vec2(3840.0, 2160.0),
];

/// The demo as it opens for the first time, hints and all, but frozen.
fn desk(folder: &Path) -> Desk {
    let mut desk = window::desk(folder);
    desk.settings.hint = 0;
    desk
}

fn open(desk: Desk, size: Vec2) -> Harness<'static, Desk> {
    let mut window = window::open(desk, size);
    window.run_steps(3);
    window
}

/// Every button with its name and where it lies.
fn buttons(window: &Harness<'_, Desk>) -> Vec<(String, Rect)> {
    let all = window.get_all_by_role(Widget::Button);
    all.map(|n| (n.accesskit_node().label().unwrap_or_default(), n.rect()))
        .collect()
}

#[test]
fn at_every_size_no_button_is_cut_and_none_lies_on_another() {
    let folder = tempfile::tempdir().expect("a folder");
    for size in SIZES {
        let mut window = open(desk(folder.path()), size);
        let all = Rect::from_min_size(pos2(0.0, 0.0), size);
        for page in [None, Some(Page::Why), Some(Page::Files)] {
            window.state_mut().page = page;
            window.run_steps(4);
            let on_floor = ["attacker ", "defender ", "place "];
            let controls: Vec<_> = buttons(&window)
                .into_iter()
                .filter(|(name, _)| on_floor.iter().all(|of| !name.starts_with(of)))
                .collect();
            assert!(controls.len() > 15, "{size}: {controls:?}");
            let strip = ["Run", "next", "again", "stall", "open lane", "show me …"];
            for name in strip.iter().chain(&["Offence", "Help"]) {
                let (_, rect) = controls
                    .iter()
                    .find(|(n, _)| n == name)
                    .unwrap_or_else(|| panic!("{size}: no {name}"));
                assert!(
                    all.contains_rect(*rect),
                    "{size}, {page:?}: {name} at {rect}"
                );
            }
            for (i, a) in controls.iter().enumerate() {
                for b in &controls[i + 1..] {
                    let both = a.1.shrink(1.0).intersect(b.1.shrink(1.0));
                    // A page may be longer than the window: what is scrolled away is not seen.
                    let seen = all.contains(both.center()) && strip.contains(&a.0.as_str());
                    assert!(
                        !(both.is_positive() && seen),
                        "{size}, {page:?}: {a:?} and {b:?}"
                    );
                }
            }
        }
    }
}

#[test]
fn players_are_never_under_what_is_said_or_under_a_control() {
    let folder = tempfile::tempdir().expect("a folder");
    for size in SIZES {
        let mut window = open(desk(folder.path()), size);
        for seed in 1..=6 {
            window.state_mut().to_seed(seed);
            window.state_mut().time.running = false;
            let end = window.state().recording.possession.duration;
            for share in [0.0, 0.3, 0.6, 0.95] {
                let recording_end = end * share;
                let desk = window.state_mut();
                desk.time.now = recording_end;
                window.run_steps(2);
                let all = buttons(&window);
                let is_body =
                    |name: &str| name.starts_with("attacker ") || name.starts_with("defender ");
                let bodies: Vec<_> = all.iter().filter(|(n, _)| is_body(n)).collect();
                let others: Vec<_> = all.iter().filter(|(n, _)| !is_body(n)).collect();
                assert_eq!(bodies.len(), 10);
                let lowest = bodies.iter().map(|(_, r)| r.center().y).fold(0.0, f32::max);
                let run = others.iter().find(|(n, _)| n == "Run").expect("Run");
                let told = caption::height(window.state());
                assert!(lowest < run.1.top() - told, "{size}: {lowest}");
                for (name, body) in &bodies {
                    for (other, rect) in &others {
                        let over = rect.contains(body.center());
                        assert!(!over, "{size}, seed {seed}: {other} over {name}");
                    }
                }
            }
        }
    }
}

#[test]
fn a_possession_ends_with_its_result_seen_and_said() {
    let folder = tempfile::tempdir().expect("a folder");
    let mut desk = desk(folder.path());
    let (mut shots, mut lost) = (0, 0);
    for seed in 1..=20 {
        desk.to_seed(seed);
        let (known, end) = (desk.recording.known, desk.recording.end());
        assert!(end > known + 1.0, "seed {seed}: {known} of {end}");
        // How it ends is not told while the ball is in the air.
        let ends = |told: Vec<String>| {
            let words = ["no good", "it goes in", "is fouled"];
            told.iter().any(|t| words.iter().any(|w| t.contains(w)))
        };
        let before = |k: u32| known - 0.04 * f64::from(k);
        assert!((1..50).all(|k| !ends(desk.recording.told_at(before(k)))));
        desk.time.now = end;
        let Now::Over(result) = now(&mut desk) else {
            panic!("seed {seed}");
        };
        // It is said while it runs, too.
        assert!(desk.time.running && said(&mut desk).is_some_and(|s| s.contains(&result)));
        let ball = desk.picture().ball;
        let off = (ball[0] * ball[0] + ball[1] * ball[1]).sqrt();
        let points = desk.recording.possession.ending.points();
        assert_eq!(result.ends_with("no points"), points == 0);
        if points > 0 {
            assert!(off < 0.3, "seed {seed}: {off} m beside the ring");
            shots += 1;
        } else {
            lost += 1;
        }
    }
    assert!(shots > 3 && lost > 3);
}

#[test]
fn on_the_wall_the_floor_is_alone_and_its_letters_are_large() {
    let folder = tempfile::tempdir().expect("a folder");
    let mut window = open(desk(folder.path()), vec2(1920.0, 1080.0));
    window.key_press(Key::F11);
    window.run_steps(3);
    assert!(window.state().wall);
    assert!(window.query_by_label("Offence").is_none());
    assert!(window.query_by_label("leave full screen").is_some());
    // Letters of the caption, 17 points at the usual size, on a wall picture two metres wide: 25 mm are asked.
    let mm = 17.0 * window.state().size() / 1920.0 * 2000.0;
    assert!(mm > 25.0, "{mm} mm");
    window.key_press_modifiers(Modifiers::NONE, Key::Escape);
    window.run_steps(3);
    assert!(!window.state().wall && window.query_by_label("Offence").is_some());
}

#[test]
fn feet_or_metres_is_one_setting_for_all_that_is_told() {
    let folder = tempfile::tempdir().expect("a folder");
    let mut window = open(desk(folder.path()), SIZES[1]);
    let told = |w: &Harness<'_, Desk>| {
        let told = w.state().recording.told.iter();
        told.map(|l| l.text.clone()).collect::<Vec<_>>().join(" ")
    };
    let feet = |w: &Harness<'_, Desk>| told(w).contains(" ft");
    let began = window.state().units() == Units::Imperial;
    assert_eq!(feet(&window), began);
    window.key_press(Key::U);
    window.run_steps(2);
    assert_eq!(feet(&window), !began);
    // Another possession is told in them, too.
    window.state_mut().to_seed(5);
    assert_eq!(feet(&window), !began);
}

#[test]
fn why_it_stalls_is_one_sentence_with_bars_and_places_that_lead_to_examples() {
    let folder = tempfile::tempdir().expect("a folder");
    let mut window = open(desk(folder.path()), vec2(1280.0, 1600.0));
    window.state_mut().page = Some(Page::Why);
    window.run_steps(3);
    window.get_by_label("Look into it").click();
    for _ in 0..6000 {
        window.run_steps(1);
        if window.state().why.summary().is_some() {
            break;
        }
        std::thread::sleep(std::time::Duration::from_millis(10));
    }
    window.run_steps(3);
    let defence = window.state().edit().defence.name.clone();
    let sentence = window.query_all_by_label_contains("you stall").next();
    let sentence = sentence
        .expect("a sentence")
        .accesskit_node()
        .label()
        .or_else(|| {
            let node = window.query_all_by_label_contains("you stall").next()?;
            node.accesskit_node().value()
        });
    let sentence = sentence.expect("words");
    assert!(
        sentence.contains(&defence) && sentence.contains("shuts the"),
        "{sentence}"
    );
    println!("{sentence}");
    let total = window
        .state()
        .why
        .summary()
        .and_then(|s| s.stalls.total)
        .expect("a total");
    assert!(sentence.contains(&format!("{:.1} s a possession", total.value)));
    // The bars add up to the total that the figures have.
    let shares: f64 = {
        let summary = window.state().why.summary().expect("a summary");
        summary
            .stalls
            .stories
            .iter()
            .filter_map(|s| s.share)
            .map(|s| s.value)
            .sum()
    };
    assert!((shares - 1.0).abs() < 1e-6, "{shares}");
    let place = window
        .query_all_by_label_contains("place A:")
        .next()
        .expect("a place");
    place.click();
    window.run_steps(3);
    assert!(!window.state().time.running && window.state().said.is_some());
    // What leads there is a stall, by the strip, too.
    let time = window.state().time.now;
    let mut spells = window.state().recording.stalls.iter();
    assert!(
        spells.any(|s| s.from - 0.25 <= time && time <= s.to + 0.25),
        "{time}"
    );
}
