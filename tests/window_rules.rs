//! Rules written in the window, by whoever has never read the guide: by words that say what they mean, and by pointing
//! at the floor; what a change brings is shown, and the file keeps what was not touched.
#![cfg(feature = "window")]

mod window;

use std::path::Path;

use egui_kittest::Harness;
use egui_kittest::kittest::{NodeT, Queryable};
use lanelight::offence::{By, Event, Movement, Place, Role};
use lanelight::possession::{Possession, What};
use lanelight::scenario::shipped::{self, Kind};
use lanelight::scenario::{read_offence, read_tweak};
use lanelight::sim::{Keep, play};
use lanelight::window::desk::Desk;
use lanelight::window::egui::accesskit::Role as Widget;
use lanelight::window::egui::{Event as Input, Key, Modifiers, vec2};
use lanelight::window::settings::Page;
use lanelight::window::store;
use window::press;

fn open(folder: &Path) -> Harness<'static, Desk> {
    let mut window = window::open(window::desk(folder), vec2(1280.0, 2400.0));
    window.state_mut().page = Some(Page::Offence);
    window.run_steps(3);
    window
}

/// Opens the choice that says `now`, and takes `wanted` in it.
fn choose(window: &mut Harness<'_, Desk>, now: &str, wanted: &str) {
    let all: Vec<_> = window.get_all_by_role(Widget::ComboBox).collect();
    let says = |label: Option<String>, value: Option<String>| {
        label.as_deref() == Some(now) || value.as_deref() == Some(now)
    };
    let found = all.iter().find(|n| {
        let node = n.accesskit_node();
        says(node.label(), node.value())
    });
    found
        .unwrap_or_else(|| panic!("no choice says {now:?}"))
        .click();
    drop(all);
    window.run_steps(3);
    if window.query_all_by_label(wanted).next().is_none() {
        let said = |n: &egui_kittest::Node<'_>| n.accesskit_node().label();
        let seen: Vec<_> = window
            .get_all_by_role(Widget::Button)
            .filter_map(|n| said(&n))
            .collect();
        panic!("no {wanted:?} to choose, but {seen:?}");
    }
    let all: Vec<_> = window.get_all_by_label(wanted).collect();
    all.last()
        .unwrap_or_else(|| panic!("no {wanted:?} to choose"))
        .click();
    drop(all);
    window.run_steps(3);
}

fn press_first(window: &mut Harness<'_, Desk>, part: &str) {
    let mut all = window.query_all_by_label_contains(part);
    all.next()
        .unwrap_or_else(|| panic!("nothing called {part:?}"))
        .click();
    drop(all);
    window.run_steps(3);
}

#[test]
fn a_rule_is_added_said_anew_pointed_at_and_what_it_brings_is_seen() {
    let folder = tempfile::tempdir().expect("a folder");
    let mut window = open(folder.path());
    let before = window.state().edit().offence.rules.len();
    press(&mut window, "Add a rule …");
    let rules = &window.state().edit().offence.rules;
    assert_eq!(rules.len(), before + 1);
    let rule = rules.last().expect("a rule").clone();
    assert_eq!(rule.name, "My rule 1");
    let played = &window.state().recording.scenario.offence.rules;
    assert!(played.contains(&rule), "it is played at once");

    // Another event, by its word.
    let was = match rule.when {
        Event::Pass { .. } => "a pass goes",
        Event::BallOn { .. } => "the ball stays",
        Event::Clock { .. } => "the clock has",
        _ => "the ball changes sides",
    };
    choose(&mut window, was, "a drive begins");
    let last = |w: &Harness<'_, Desk>| w.state().edit().offence.rules[before].clone();
    let taken = matches!(last(&window).when, Event::Drive { .. });
    assert!(taken || window.state().builder.problem.is_some());

    // Another line; its place by pointing at the floor.
    press(&mut window, "and another player …");
    let lines = last(&window).actions.len();
    if window.state().builder.problem.is_none() {
        assert_eq!(lines, 2);
    }

    // What it brings: both played with the same luck, and the orders counted.
    let seen = |w: &Harness<'_, Desk>| {
        let desk = w.state();
        let compared = desk.effects.trial().is_some_and(|t| t.played() > 0);
        compared && desk.effects.of_rule(desk.edit(), "My rule 1").is_some()
    };
    for _ in 0..4000 {
        window.run_steps(1);
        if seen(&window) {
            break;
        }
        std::thread::sleep(std::time::Duration::from_millis(15));
    }
    assert!(seen(&window));
    window.run_steps(2);
    assert!(
        window
            .query_all_by_label_contains(" of 400")
            .next()
            .is_some()
    );
    assert!(
        window
            .query_all_by_label_contains("Last change:")
            .next()
            .is_some()
    );

    // Undo says what it takes back.
    for _ in 0..3 {
        window.key_press_modifiers(Modifiers::COMMAND, Key::Z);
        window.run_steps(2);
    }
    let said = window.state().said.as_ref().map(|s| s.text.clone());
    assert!(said.is_some_and(|s| s.starts_with("Taken back: ")));
}

#[test]
fn a_new_offence_begins_without_rules_and_its_first_rule_is_written_on_the_floor() {
    let folder = tempfile::tempdir().expect("a folder");
    let mut window = open(folder.path());
    let name = window.state().edit().offence.name.clone();
    choose(&mut window, &name, "a new one, without rules");
    assert!(window.state().edit().offence.rules.is_empty());
    assert_eq!(
        window.state().recording.scenario.offence.name,
        "New offence"
    );
    press(&mut window, "Add a rule …");
    let rule = |w: &Harness<'_, Desk>| w.state().edit().offence.rules[0].clone();
    let Event::Pass { from, to } = rule(&window).when else {
        panic!("{:?}", rule(&window));
    };
    assert_eq!((from, to), (Place::Perimeter, Place::Wing(By::Ball)));
    // The ball goes to the top instead: pointed at.
    choose(&mut window, "ball-side wing", "point at it on the floor");
    assert!(window.state().builder.pick.is_some());
    press(&mut window, "point at the top");
    let Event::Pass { to, .. } = rule(&window).when else {
        panic!("{:?}", rule(&window));
    };
    assert_eq!(to, Place::Top);
    // Not the passer but a player by number, pointed at.
    choose(&mut window, "the passer", "point at it on the floor");
    let four = window.get_by_label_contains("attacker 4");
    four.click();
    window.run_steps(3);
    assert_eq!(rule(&window).actions[0].who, Role::Player(4));
    // Another movement keeps the place.
    choose(&mut window, "cuts to the rim", "circles out to");
    let does = rule(&window).actions[0].does.clone();
    assert!(matches!(does, Movement::CircleOut(_)), "{does:?}");
    // What cannot be played says so, and nothing is lost.
    choose(&mut window, "player", "the denied player");
    assert!(
        window
            .query_all_by_label_contains("Not played yet:")
            .next()
            .is_some()
    );
    assert_eq!(rule(&window).actions[0].who, Role::Player(4));
    choose(&mut window, "the denied player", "the passer");
    assert_eq!(rule(&window).actions[0].who, Role::Passer);
}

#[test]
fn a_rule_is_renamed_moved_taken_out_and_undo_says_each() {
    let folder = tempfile::tempdir().expect("a folder");
    let mut window = open(folder.path());
    let rules = window.state().edit().offence.rules.clone();
    press(&mut window, "later");
    assert_eq!(window.state().edit().offence.rules[1], rules[0]);
    window.state_mut().undo();
    let said = |w: &Harness<'_, Desk>| {
        w.state()
            .said
            .as_ref()
            .map(|s| s.text.clone())
            .unwrap_or_default()
    };
    assert_eq!(
        said(&window),
        "Taken back: the order of the rules was changed."
    );
    window.run_steps(2);
    press(&mut window, "take out");
    assert_eq!(window.state().edit().offence.rules.len() + 1, rules.len());
    window.state_mut().undo();
    assert!(said(&window).contains(&format!("the rule “{}” was taken out", rules[0].name)));
    assert_eq!(window.state().edit().offence.rules, rules);
    window.run_steps(2);
    press(&mut window, "rewrite");
    let field = window
        .get_all_by_role(Widget::TextInput)
        .next()
        .expect("the name");
    field.focus();
    window.run_steps(2);
    window.key_press_modifiers(Modifiers::COMMAND, Key::A);
    window.event(Input::Text("Mine".into()));
    window.run_steps(2);
    window.key_press(Key::Enter);
    window.run_steps(3);
    assert_eq!(window.state().edit().offence.rules[0].name, "Mine");
    window.state_mut().undo();
    assert!(
        said(&window).contains("was renamed “Mine”"),
        "{}",
        said(&window)
    );
}

/// What a rule does is seen by switching it off; and another shipped offence is chosen by its name.
#[test]
fn a_rule_switched_off_shows_what_it_did_and_a_shipped_offence_is_chosen_by_its_name() {
    let folder = tempfile::tempdir().expect("a folder");
    let mut window = open(folder.path());
    let rule = window.state().edit().offence.rules[0].name.clone();
    press(&mut window, &format!("play “{rule}”"));
    let said = format!("Last change: “{rule}” was switched off");
    assert!(window.query_all_by_label_contains(&said).next().is_some());
    for _ in 0..4000 {
        window.run_steps(1);
        if window
            .state()
            .effects
            .trial()
            .is_some_and(|t| t.played() > 0)
        {
            break;
        }
        std::thread::sleep(std::time::Duration::from_millis(15));
    }
    window.run_steps(2);
    assert!(
        window
            .query_all_by_label_contains(" of 400")
            .next()
            .is_some()
    );
    let trial = window.state().effects.trial().expect("a trial");
    assert!(trial.of("promised_points").is_some());
    let now = window.state().edit().offence.name.clone();
    let high_low = shipped::find(Kind::Offence, "high_low").expect("shipped");
    let other = read_offence(high_low.text, "high_low")
        .expect("sound")
        .value;
    assert_ne!(now, other.name);
    choose(&mut window, &now, &other.name);
    assert_eq!(window.state().recording.scenario.offence.name, other.name);
    assert_eq!(window.state().edit().offence.rules, other.rules);
}

#[test]
fn a_saved_offence_keeps_its_comments_where_nothing_was_changed() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("mine.ron");
    let demo = store::demo();
    let comments = |text: &str| text.lines().filter(|l| l.trim().starts_with("//")).count();
    let own = comments(&demo.written.0);
    assert!(own > 5, "{own}");
    let mut edit = demo.clone();
    edit.offence.rules[2].once = true;
    edit.offence.patience.hold = 1.75;
    store::save(&path, &edit).expect("saved");
    let text = std::fs::read_to_string(folder.path().join("mine.offence.ron")).expect("text");
    assert_eq!(comments(&text), own);
    assert_eq!(store::open(&path).expect("opened"), edit);
}

/// On the size that the window opens with, and on the least, nothing has to be looked for: the rule that was added and what
/// it brings are in sight whole, before its first answer comes, as it comes and after; and no answer moves anything that
/// a pointer may be on its way to.
#[test]
fn a_rule_just_added_is_in_sight_whole_and_so_is_what_it_brings() {
    let folder = tempfile::tempdir().expect("a folder");
    let mut window = window::open(window::desk(folder.path()), vec2(1280.0, 800.0));
    window.state_mut().page = Some(Page::Offence);
    window.run_steps(3);
    press(&mut window, "Add a rule …");
    let foot = window.get_by_label("next").rect().top();
    let place = |w: &Harness<'_, Desk>, label: &str| {
        let all: Vec<_> = w.query_all_by_label_contains(label).collect();
        all.first().unwrap_or_else(|| panic!("no {label:?}")).rect()
    };
    let in_sight = |w: &Harness<'_, Desk>| {
        let name = place(w, "play “My rule 1”");
        let another = place(w, "and another player …");
        let (last, table) = (place(w, "Last change:"), place(w, "Turnovers"));
        assert!(name.top() > 0.0, "{name}");
        assert!(another.bottom() <= last.top(), "{another} above {last}");
        assert!(
            table.top() > last.bottom() && table.bottom() < foot,
            "{table}"
        );
        [name, another, last, table]
    };
    let played = |w: &Harness<'_, Desk>| w.state().effects.trial().map_or(0, |t| t.played());
    // A change settles for half a second before anything is played: no answer can have come.
    assert_eq!(played(&window), 0);
    let before = in_sight(&window);
    let mut answers = std::collections::BTreeSet::new();
    for _ in 0..8000 {
        window.run_steps(1);
        answers.insert(played(&window));
        assert_eq!(in_sight(&window), before, "after {answers:?}");
        if answers.len() > 2 {
            break;
        }
        std::thread::sleep(std::time::Duration::from_millis(15));
    }
    assert!(answers.len() > 2, "{answers:?}");
    // The first words of the answer are in sight below the figures.
    let words = [
        "Better:",
        "Worse:",
        "Sure to change:",
        "Perhaps",
        "Too close",
        "too close",
    ];
    let seen = words
        .iter()
        .flat_map(|w| window.query_all_by_label_contains(w))
        .any(|node| node.rect().top() >= before[3].bottom() && node.rect().top() < foot - 10.0);
    assert!(seen, "an answer in sight");
    // Its next word: what is compared is the offence without the rule, as before.
    choose(&mut window, "ball-side wing", "ball-side slot");
    place(&window, "the rule “My rule 1” was added");
}

/// The eye stays on the rule that was written: among the others it has its place far down.
#[test]
fn a_rule_that_is_finished_stays_in_sight_among_the_others() {
    let folder = tempfile::tempdir().expect("a folder");
    let mut window = window::open(window::desk(folder.path()), vec2(1280.0, 800.0));
    window.state_mut().page = Some(Page::Offence);
    window.run_steps(3);
    press(&mut window, "Add a rule …");
    window.run_steps(3);
    press(&mut window, "done");
    window.run_steps(3);
    assert_eq!(window.state().builder.open, None);
    let place = |label: &str| {
        let all: Vec<_> = window.query_all_by_label_contains(label).collect();
        all.first().unwrap_or_else(|| panic!("no {label:?}")).rect()
    };
    let rule = window.get_by_label("My rule 1").rect();
    assert!(
        rule.top() > 0.0 && rule.bottom() < place("Last change:").top(),
        "{rule}"
    );
}

/// One moment has one time: what is said of an order that was cut short has that of the strip, and says what comes when.
#[test]
fn an_order_that_was_cut_short_is_shown_at_the_time_that_is_said() {
    let folder = tempfile::tempdir().expect("a folder");
    let mut window = open(folder.path());
    for _ in 0..4000 {
        window.run_steps(1);
        if window.query_all_by_label_contains("→ why").next().is_some() {
            break;
        }
        std::thread::sleep(std::time::Duration::from_millis(15));
    }
    press_first(&mut window, "→ why");
    press_first(&mut window, "→ show");
    let desk = window.state();
    let said = &desk.said.as_ref().expect("said").text;
    let begins = format!(
        "Possession {} at {:.1} s. The order ends at ",
        desk.seed, desk.time.now
    );
    assert!(said.starts_with(&begins), "{said} at {}", desk.time.now);
    let ends: f64 = said[begins.len()..]
        .trim_end_matches(" s.")
        .parse()
        .expect("seconds");
    assert!(ends > desk.time.now && ends < desk.time.now + 1.0, "{said}");
}

/// Each small change says what it is for, under its button.
#[test]
fn each_small_change_has_its_line() {
    let folder = tempfile::tempdir().expect("a folder");
    let mut window = open(folder.path());
    press(&mut window, "Small changes to try");
    let offence = window.state().edit().offence.clone();
    let mut lines = 0;
    for file in shipped::all(Kind::Tweak) {
        let tweak = read_tweak(file.text, file.word).expect("sound").value;
        if tweak.apply(&offence).is_err() {
            continue;
        }
        assert!(!tweak.note.is_empty(), "{}", tweak.name);
        let button = window.get_by_label(&tweak.name).rect();
        let line = window.get_by_label(&tweak.note).rect();
        assert!(
            line.top() >= button.bottom() && line.top() < button.bottom() + 12.0,
            "{line}"
        );
        lines += 1;
    }
    assert!(lines >= 5, "{lines}");
    assert!(
        window
            .query_by_label_contains("Undo (Ctrl+Z) takes it back")
            .is_some()
    );
}

/// In a low window what a change brings is told above the sentence that is being written: it has its room from the start.
#[test]
fn in_a_low_window_no_answer_moves_the_sentence_that_is_being_written() {
    let folder = tempfile::tempdir().expect("a folder");
    let mut window = window::open(window::desk(folder.path()), vec2(1024.0, 640.0));
    window.state_mut().page = Some(Page::Offence);
    window.run_steps(3);
    press(&mut window, "Add a rule …");
    window.run_steps(3);
    assert!(window.state().low);
    let place = |w: &Harness<'_, Desk>| {
        let name = w.query_all_by_label_contains("My rule 1").next();
        let another = w.query_all_by_label_contains("and another player …").next();
        [name, another].map(|n| n.expect("in the page").rect())
    };
    let played = |w: &Harness<'_, Desk>| w.state().effects.trial().map_or(0, |t| t.played());
    assert_eq!(played(&window), 0);
    let before = place(&window);
    for _ in 0..4000 {
        window.run_steps(1);
        assert_eq!(place(&window), before);
        if played(&window) > 0 {
            break;
        }
        std::thread::sleep(std::time::Duration::from_millis(15));
    }
    assert!(played(&window) > 0);
    window.run_steps(3);
    assert_eq!(place(&window), before);
}

/// Whatever cannot be played yet says what to do: choices that mend it, each by one press, and the way back.
#[test]
fn a_rule_that_cannot_be_played_offers_the_choices_that_mend_it() {
    let folder = tempfile::tempdir().expect("a folder");
    let mut window = open(folder.path());
    let name = window.state().edit().offence.name.clone();
    choose(&mut window, &name, "a new one, without rules");
    press(&mut window, "Add a rule …");
    let at = window.state().edit().offence.rules.len() - 1;
    let rule = |w: &Harness<'_, Desk>| w.state().edit().offence.rules[at].clone();
    let first = rule(&window);
    choose(&mut window, "the passer", "the denied player");
    assert!(window.state().builder.problem.is_some());
    assert_eq!(rule(&window), first, "what was played is played still");
    let mends = window.state().builder.mends.clone();
    assert!(!mends.is_empty());
    // What was chosen last is kept where it can be: another event has a denied player.
    let pressed = mends[0].said.clone();
    assert!(
        pressed.starts_with("choose “a player is denied” instead of “a pass goes”"),
        "{pressed}"
    );
    press(&mut window, &pressed);
    assert!(window.state().builder.problem.is_none());
    assert!(
        matches!(rule(&window).when, Event::Denied { .. }),
        "{:?}",
        rule(&window)
    );
    assert_eq!(rule(&window).actions[0].who, Role::Denied);
    // The way back, without any choice.
    let second = rule(&window);
    choose(&mut window, "a player is denied", "a pass goes");
    assert!(window.state().builder.problem.is_some());
    press(&mut window, "back to the sentence that is played");
    assert!(window.state().builder.problem.is_none());
    assert_eq!(rule(&window), second);
    assert!(
        window
            .query_all_by_label_contains("Not played yet")
            .next()
            .is_none()
    );
}

/// Nothing moves under the pointer when an answer comes: neither the sentence that is being written nor any rule below
/// it, when it is counted what becomes of their orders, nor while the possession runs and rules fire.
#[test]
fn no_account_and_no_rule_that_fires_moves_a_rule() {
    let folder = tempfile::tempdir().expect("a folder");
    let mut window = window::open(window::desk(folder.path()), vec2(1280.0, 800.0));
    window.state_mut().page = Some(Page::Offence);
    window.run_steps(3);
    press(&mut window, "Add a rule …");
    // A possession in which many rules fire.
    let many = |seed: &u64| {
        let rules = |p: Possession| {
            let fired = p.timeline.into_iter().filter_map(|e| match e.what {
                What::Rule { rule, .. } => Some(rule),
                _ => None,
            });
            fired.collect::<std::collections::BTreeSet<_>>().len()
        };
        rules(play(&window.state().recording.scenario, *seed, Keep::ALL)) > 5
    };
    let seed = (1..60).find(many).expect("such a possession");
    window.state_mut().to_seed(seed);
    window.state_mut().time.running = true;
    window.run_steps(2);
    let places = |w: &Harness<'_, Desk>| {
        let rules = w.state().edit().offence.rules.clone();
        let mut places: Vec<_> = rules
            .iter()
            .map(|r| w.get_by_label(&format!("play “{}”", r.name)).rect())
            .collect();
        for label in ["and another player …", "rewrite", "earlier", "take out"] {
            places.extend(w.query_all_by_label(label).map(|n| n.rect()));
        }
        places
    };
    let before = places(&window);
    assert!(before.len() > 30, "{}", before.len());
    let counted = |w: &Harness<'_, Desk>| {
        let desk = w.state();
        desk.effects.of_rule(desk.edit(), "My rule 1").is_some()
    };
    assert!(!counted(&window));
    let mut fired = std::collections::BTreeSet::new();
    for _ in 0..8000 {
        window.run_steps(1);
        fired.insert(
            window
                .query_by_label("fired last")
                .map(|n| n.rect().top() as i32),
        );
        assert!(places(&window) == before, "something has moved");
        if counted(&window) && fired.len() > 2 {
            break;
        }
        std::thread::sleep(std::time::Duration::from_millis(15));
    }
    window.run_steps(2);
    assert!(counted(&window) && fired.len() > 2, "{fired:?}");
    assert!(places(&window) == before, "something has moved");
}

/// The page is where it is to be as soon as the rule is there: it does not glide under a pointer.
#[test]
fn the_page_turns_to_a_new_rule_at_once() {
    let folder = tempfile::tempdir().expect("a folder");
    let mut window = Harness::builder()
        .with_size(vec2(1280.0, 800.0))
        .with_max_steps(3)
        .with_step_dt(1.0 / 60.0)
        .build_ui_state(
            |ui, desk: &mut Desk| {
                lanelight::window::stage::style(ui.ctx(), desk.size());
                lanelight::window::stage::show(ui, desk, 1.0 / 60.0);
            },
            window::desk(folder.path()),
        );
    window.state_mut().page = Some(Page::Offence);
    window.run_steps(60);
    press(&mut window, "Add a rule …");
    window.run_steps(2);
    let place = |w: &Harness<'_, Desk>| {
        let another = w.query_all_by_label_contains("and another player …").next();
        another.expect("in the page").rect()
    };
    let before = place(&window);
    for _ in 0..40 {
        window.run_steps(1);
        assert_eq!(place(&window), before);
    }
}

/// A rule that is being written stands first on the page and says which it is of the offence.
#[test]
fn a_rule_that_is_being_written_says_its_place_among_the_others() {
    let folder = tempfile::tempdir().expect("a folder");
    let mut window = open(folder.path());
    press(&mut window, "Add a rule …");
    let count = window.state().edit().offence.rules.len();
    assert!(
        window
            .query_by_label(&format!("rule {count} of {count}:"))
            .is_some()
    );
    assert!(
        window
            .query_by_label("The other rules, in their order")
            .is_some()
    );
    press(&mut window, "earlier");
    assert!(
        window
            .query_by_label(&format!("rule {} of {count}:", count - 1))
            .is_some()
    );
}

/// What is left out of a sentence says what could be said.
#[test]
fn what_is_left_out_of_a_sentence_says_what_could_be_said() {
    let folder = tempfile::tempdir().expect("a folder");
    let mut window = open(folder.path());
    press(&mut window, "Add a rule …");
    assert!(window.query_by_label("+ to …").is_some());
    assert!(window.query_by_label("+").is_none());
}

/// What is pressed next stays where it is while the name of a rule is written.
#[test]
fn nothing_that_is_pressed_next_moves_as_a_rule_is_renamed() {
    let folder = tempfile::tempdir().expect("a folder");
    let mut window = window::open(window::desk(folder.path()), vec2(1280.0, 800.0));
    window.state_mut().page = Some(Page::Offence);
    window.run_steps(3);
    press(&mut window, "Add a rule …");
    let places = |w: &Harness<'_, Desk>| {
        let labels = ["done", "Name of the rule", "and another player …"];
        labels.map(|label| w.get_by_label(label).rect())
    };
    let before = places(&window);
    window.get_by_label("Name of the rule").focus();
    window.run_steps(2);
    window.key_press_modifiers(Modifiers::COMMAND, Key::A);
    window.event(Input::Text(
        "A name that is a good deal longer than before".into(),
    ));
    window.run_steps(2);
    assert_eq!(places(&window), before);
    window.key_press(Key::Enter);
    window.run_steps(3);
    assert_eq!(places(&window), before);
    let rules = &window.state().edit().offence.rules;
    assert!(rules.last().is_some_and(|r| r.name.starts_with("A name")));
}

/// What a rule that was added brings is shown again when another change is turned back.
#[test]
fn a_verdict_is_not_lost_when_a_rule_is_switched_off_and_on_again() {
    let folder = tempfile::tempdir().expect("a folder");
    let mut window = window::open(window::desk(folder.path()), vec2(1280.0, 800.0));
    window.state_mut().page = Some(Page::Offence);
    window.run_steps(3);
    press(&mut window, "Add a rule …");
    press(&mut window, "done");
    // The page has turned to it.
    window.run_steps(3);
    let of = |w: &Harness<'_, Desk>| {
        let trial = w.state().effects.trial().expect("a comparison");
        (trial.base().clone(), trial.changed().clone())
    };
    let first = of(&window);
    let switch = "play “My rule 1”";
    let place = window.get_by_label(switch).rect();
    press(&mut window, switch);
    assert!(window.state().edit().off.contains("My rule 1"));
    assert!(of(&window) != first);
    // It is where it was: pressed again it is on again.
    assert_eq!(window.get_by_label(switch).rect(), place);
    press(&mut window, switch);
    assert!(window.state().edit().off.is_empty());
    assert!(of(&window) == first);
    // Undo leads back to what there was, not to a step that does nothing.
    window.state_mut().undo();
    window.run_steps(2);
    assert!(window.state().edit() != &first.1);
    // Whoever takes the desk up again with a change that is not saved sees what it brings.
    window.state_mut().redo();
    window.run_steps(2);
    window.state_mut().effects = Default::default();
    window.run_steps(2);
    assert!(&of(&window).1 == window.state().edit());
}

/// What is asked for is answered in sight: why orders were not carried out, at the foot of the page, too.
#[test]
fn why_orders_were_cut_short_is_told_in_sight() {
    let folder = tempfile::tempdir().expect("a folder");
    let mut window = window::open(window::desk(folder.path()), vec2(1280.0, 800.0));
    window.state_mut().page = Some(Page::Offence);
    window.run_steps(3);
    let foot = window
        .get_by_label_contains("Change a rule: here")
        .rect()
        .top();
    let mut lowest = None;
    for _ in 0..4000 {
        window.run_steps(1);
        let all = window.query_all_by_label_contains("→ why");
        let seen = all.filter(|n| n.rect().bottom() < foot);
        let last = seen.max_by(|a, b| a.rect().top().total_cmp(&b.rect().top()));
        if let Some(node) = last {
            lowest = Some(node.rect());
            node.click();
            break;
        }
        std::thread::sleep(std::time::Duration::from_millis(15));
    }
    assert!(lowest.is_some());
    window.run_steps(4);
    let top = window.get_by_label("close").rect().bottom();
    let asked = window.get_by_label_contains("As counted in").rect();
    let row = window.get_by_label_contains("→ enough").rect();
    for rect in [asked, row] {
        assert!(
            rect.top() > top && rect.bottom() < foot,
            "{rect}: {top} to {foot}"
        );
    }
    // All of it, or what is longer than the page from its top.
    let shows = window.query_all_by_label_contains("→ show");
    let end = shows.map(|n| n.rect().bottom()).fold(0.0, f32::max);
    assert!(end < foot || row.top() < top + 70.0, "{row} to {end}");
}
