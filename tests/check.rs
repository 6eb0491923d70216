//! `check`, as a coach runs it: every mistake told, everything said back, and every order played.

use std::fs;
use std::path::Path;

mod program;

use program::{good, refused, run, said};

fn folder() -> tempfile::TempDir {
    tempfile::tempdir().unwrap()
}

fn write(folder: &Path, name: &str, text: &str) {
    fs::write(folder.join(name), text).unwrap();
}

/// A small sound offence with these rules.
fn offence(rules: &str) -> String {
    format!(
        "(name: \"Small\", ball: 1, alignment: [(player: 1, at: top), (player: 2, at: wing(ball)), \
         (player: 3, at: wing(weak)), (player: 4, at: corner(ball)), (player: 5, at: block(weak))], \
         keep_filled: [top, wing(ball), wing(weak), corner(ball)], rules: [{rules}], \
         reading: [backdoor, give_and_go, post, shot, drive, kick_out, next_pass])"
    )
}

#[test]
fn a_file_on_one_line_is_known_for_what_it_is() {
    let folder = folder();
    let rule = "(name: \"r\", when: pass(from: top, to: wing(ball)), do: [(who: passer, does: \
                cut(lane: ball_side, unfed: fill(top)))])";
    write(folder.path(), "o.ron", &offence(rule));
    write(
        folder.path(),
        "t.ron",
        "(name: \"t\", changes: [forbid(shot)])",
    );
    write(
        folder.path(),
        "s.ron",
        "(name: \"s\", level: varsity, players: [(number: 1)])",
    );
    for (file, kind) in [("o.ron", "offence"), ("t.ron", "tweak"), ("s.ron", "squad")] {
        let text = good(folder.path(), &["check", file]);
        assert!(text.contains(&format!("The {kind} is sound")), "{text}");
    }
    // An offence alone is played by the teams of the demo; of the others nothing can be watched.
    let text = good(folder.path(), &["watch", "o.ron", "--against", "sag"]);
    assert!(text.starts_with("Small\nagainst Sag\n"), "{text}");
    let text = refused(folder.path(), &["watch", "t.ron"]);
    assert!(text.contains("describes a tweak, and a scenario"), "{text}");
}

#[test]
fn a_tweak_is_tried_on_the_offence_that_it_is_for() {
    let folder = folder();
    let at = folder.path();
    let rule = "(name: \"Mine\", when: ball_crosses, do: [(who: post, does: fill(block(weak)))])";
    write(at, "mine.ron", &offence(rule));
    let tweak = |of: &str, change: &str| format!("(name: \"t\", {of}changes: [{change}])");
    let of = "of: \"mine.ron\", ";
    write(at, "t.ron", &tweak(of, "remove_rule(\"Mine\")"));
    assert!(good(at, &["check", "t.ron"]).contains("fits “Small”"));
    write(at, "t.ron", &tweak(of, "remove_rule(\"Mien\")"));
    assert!(refused(at, &["check", "t.ron"]).contains("nearest: Mine"));
    write(at, "t.ron", &tweak(of, "set_patience(asks_more: 1e9)"));
    assert!(refused(at, &["check", "t.ron"]).contains("1000000000 cannot be right here"));
    write(at, "t.ron", &tweak("", "set_patience(hold: -3)"));
    assert!(refused(at, &["check", "t.ron"]).contains("-3 cannot be right here"));
    write(at, "t.ron", &tweak("", "remove_rule(\"No such rule\")"));
    let output = run(at, &["check", "t.ron"]);
    assert!(said(&output.stderr).contains("fits no shipped offence"));
    assert!(!said(&output.stdout).contains("sound"));
}

#[test]
fn a_tweak_may_name_the_file_of_its_offence_as_well_as_its_name() {
    let folder = folder();
    let at = folder.path();
    write(at, "mine.ron", &offence(""));
    let scenario = "(name: \"s\", court: nfhs, level: varsity, offence: \"mine.ron\", defence: \"sag\", \
                    tweaks: [\"sub/t.ron\"])";
    write(at, "s.ron", scenario);
    fs::create_dir(at.join("sub")).unwrap();
    for of in ["../mine.ron", "Small"] {
        let tweak = format!("(name: \"t\", of: \"{of}\", changes: [forbid(shot)])");
        write(at, "sub/t.ron", &tweak);
        assert!(
            good(at, &["check", "s.ron"]).contains("Never taken: shot"),
            "{of}"
        );
    }
    write(
        at,
        "sub/t.ron",
        "(name: \"t\", of: \"other.ron\", changes: [forbid(shot)])",
    );
    assert!(refused(at, &["check", "s.ron"]).contains("this tweak is for \"other.ron\""));
}

#[test]
fn a_squad_of_four_is_told_who_is_missing() {
    let folder = folder();
    let players = "(number: 1), (number: 2), (number: 3), (number: 4)";
    let text = format!("(name: \"Four\", level: varsity, players: [{players}])");
    write(folder.path(), "four.ron", &text);
    let output = run(folder.path(), &["check", "four.ron"]);
    assert!(said(&output.stderr).contains("player 5 is not in this squad"));
    assert!(said(&output.stdout).contains("Player 4"));
}

#[test]
fn everything_in_a_defence_is_said_back() {
    let folder = folder();
    let at = folder.path();
    let stances = "on_ball: (man: 5, rim: 1), one_pass: (man: 2, ball: 1), two_passes: (man: 1, rim: 2), \
                   post_ball_side: (man: 1), post_weak_side: (man: 1), cutter: (man: 1)";
    let areas: Vec<String> = (1..6)
        .map(|n| format!("(defender: {n}, x: {n}.0, y: 6, shift: (0.4, 0.2), covers: 3.5)"))
        .collect();
    let text = format!(
        "(name: \"All\", stances: ({stances}), help: (who: low_man, within: 4.9, depth: 1.8, rotate: true, \
         stunt: 1.1), closeout: (short: 1.2, pace: 0.85), zone: [{}], \
         overrides: [(defender: 3, one_pass: (man: 3, ball: 1, gap: (0.7, 1.5), deny: true))])",
        areas.join(", ")
    );
    write(at, "all.ron", &text);
    let text = good(at, &["check", "all.ron"]).replace("\n    ", " ");
    for part in [
        "X3: 3.0 m right of the rim and 6.0 m out from it",
        "shifts by 40 % of the ball's way sideways and 20 % outward",
        "within 3.5 m",
        "X3, one pass away: 75 % man, 25 % ball, 0.7 m to 1.5 m from the man",
        "within 4.9 m of the rim, and meets it 1.8 m from the rim",
        "stunts 1.1 m",
        "at 85 % of top speed and stops 1.2 m short",
    ] {
        assert!(text.contains(part), "{part}\n{text}");
    }
    // What a zone does nothing about is refused; the same man to man is said back.
    let at_screens = "switch: on_screens, ball_screens: trap, overrides";
    let zone = std::fs::read_to_string(at.join("all.ron")).expect("it is there");
    write(at, "zone.ron", &zone.replace("overrides", at_screens));
    let output = run(at, &["check", "zone.ron"]);
    let refused = said(&output.stderr);
    assert!(refused.contains("leave `switch` out"), "{refused}");
    assert!(refused.contains("leave `ball_screens` out"), "{refused}");
    let begins = zone.find("zone: ").expect("it has one");
    let ends = zone.find("overrides").expect("it has some");
    let man = format!(
        "{}{at_screens}{}",
        &zone[..begins],
        &zone[ends + "overrides".len()..]
    );
    write(at, "man.ron", &man);
    let text = good(at, &["check", "man.ron"]).replace("\n    ", " ");
    assert!(text.contains("Screens are switched"), "{text}");
}

#[test]
fn tracks_are_written_for_a_range_of_seeds() {
    let folder = folder();
    let args = [
        "scrimmage",
        "--possessions",
        "2",
        "--tracks",
        "t",
        "--track-seeds",
        "1-3,7",
    ];
    good(folder.path(), &args);
    let mut names: Vec<_> = fs::read_dir(folder.path().join("t")).unwrap().collect();
    assert_eq!(names.len(), 4);
    assert!(names.pop().unwrap().is_ok());
    let wrong = ["scrimmage", "--tracks", "t", "--track-seeds", "9-1"];
    assert!(!run(folder.path(), &wrong).status.success());
}

#[test]
fn a_second_order_to_one_player_is_refused_whenever_it_would_start() {
    let folder = folder();
    let rule = "(name: \"r\", when: pass(from: top, to: wing(ball)), do: [(who: passer, does: fill(slot(weak))), \
                (who: passer, does: fill(corner(weak)), after: 2)])";
    write(folder.path(), "o.ron", &offence(rule));
    let text = refused(folder.path(), &["check", "o.ron"]);
    assert!(text.contains("told twice in this rule"), "{text}");
}

/// The account of a file as JSON, and how the program ended.
fn account(folder: &Path, file: &str, possessions: &str) -> (serde_json::Value, Option<i32>) {
    let args = [
        "check",
        file,
        "--play",
        "--possessions",
        possessions,
        "--json",
        "-",
    ];
    let output = run(folder, &args);
    let json = serde_json::from_slice(&output.stdout).unwrap();
    (json, output.status.code())
}

#[test]
fn what_never_works_is_an_error_of_its_own() {
    let folder = folder();
    let at = folder.path();
    let works = "(name: \"Works\", when: pass(from: top, to: wing(ball)), do: [(who: passer, does: \
                 cut(lane: ball_side, unfed: fill(slot(weak))))])";
    // From the same pass: the corner is empty in this rule, since 4 starts at the other one.
    let never =
        "(name: \"Never\", when: clock(left: 0.1), do: [(who: post, does: fill(block(ball)))])";
    write(at, "o.ron", &offence(works));
    let (json, code) = account(at, "o.ron", "60");
    assert_eq!(code, Some(0), "{json}");
    let rule = &json["rules"][0];
    let (fired, done) = (&rule["fired"], &rule["lines"][0]["done"]);
    assert!(
        fired.as_u64() > Some(20) && done.as_u64() > Some(10),
        "{json}"
    );
    assert_eq!(json["against"].as_array().map(Vec::len), Some(3));

    write(at, "o.ron", &offence(&format!("{works}, {never}")));
    let (json, code) = account(at, "o.ron", "60");
    assert_eq!(code, Some(3), "{json}");
    assert_eq!(json["never"][0]["rule"], 1);
    let output = run(at, &["check", "o.ron", "--play", "--possessions", "200"]);
    // (Before: "its event never came", as if that were the writer's mistake.)
    let error = "the rule “Never”: in 200 possessions it never happened that ";
    assert!(said(&output.stderr).contains(error));
    let text = said(&output.stdout);
    assert!(
        text.contains("“Never”: never fired; waited for this: "),
        "{text}"
    );
    assert!(
        text.contains("“Works”: fired") && text.contains("× the possession ended first: seed"),
        "{text}"
    );
    assert!(
        text.lines().all(|line| line.chars().count() <= 80),
        "{text}"
    );
}

#[test]
fn what_follows_a_screen_is_counted_like_any_order() {
    let folder = folder();
    let at = folder.path();
    let rule = "(name: \"r\", when: pass(from: top, to: wing(ball)), do: [(who: passer, does: screen_for(whom: \
                at(wing(weak)), after: fill(wing(weak)))), (who: at(wing(weak)), does: use_screen(of: passer, to: top, \
                unfed: fill(top)))])";
    write(at, "o.ron", &offence(rule));
    let (json, _) = account(at, "o.ron", "120");
    let lines = json["rules"][0]["lines"].as_array().unwrap();
    assert_eq!(lines.len(), 3, "{json}");
    let number = |line: usize, of: &str| lines[line][of].as_u64().unwrap();
    assert_eq!((number(1, "line"), number(1, "step")), (0, 1), "{json}");
    assert_eq!(lines[1]["does"], "fill the weak-side wing");
    assert_eq!(number(1, "given"), number(0, "given"), "{json}");
    assert!(number(1, "done") > 10, "{json}");
    let ends = lines[1]["ends"].as_array().unwrap();
    let sum: u64 = ends.iter().map(|end| end["count"].as_u64().unwrap()).sum();
    assert_eq!(sum, number(1, "given"), "{json}");
}

#[test]
fn whom_a_rule_names_by_his_place_is_settled_before_another_rule_moves_him() {
    let folder = folder();
    let at = folder.path();
    let moves = "(who: at(wing(weak)), does: fill(top))";
    let when = "when: pass(from: top, to: wing(ball))";
    let post = "(who: post, does: fill(block(weak)))";
    let rules = format!(
        "(name: \"Moves\", {when}, do: [{moves}]), (name: \"Names\", {when}, do: [{moves}, {post}])"
    );
    write(at, "o.ron", &offence(&rules));
    let (json, _) = account(at, "o.ron", "60");
    let nobody = |rule: usize| {
        let ends = json["rules"][rule]["lines"][0]["ends"].as_array().unwrap();
        let nobody = ends.iter().find(|end| end["end"] == "nobody_there");
        nobody.map_or(0, |end| end["count"].as_u64().unwrap())
    };
    let fired = json["rules"][0]["fired"].as_u64().unwrap();
    assert!(nobody(0) < fired && fired > 10, "{json}");
    assert_eq!(nobody(0), nobody(1), "{json}");
}

#[test]
fn two_rules_of_one_event_with_different_orders_for_one_player_are_refused_whenever_they_would_start()
 {
    let folder = folder();
    let rule = |name: &str, line: &str| {
        format!("(name: \"{name}\", when: pass(from: top, to: wing(ball)), do: [{line}])")
    };
    let rules = [
        rule("One", "(who: passer, does: fill(slot(weak)))"),
        rule("Two", "(who: passer, does: fill(corner(weak)), after: 2)"),
    ];
    write(folder.path(), "o.ron", &offence(&rules.join(", ")));
    let text = refused(folder.path(), &["check", "o.ron"]);
    assert!(text.contains("this contradicts rule 1"), "{text}");
}

#[test]
fn a_folder_of_the_name_of_a_shipped_word_is_not_meant_by_it() {
    let folder = folder();
    fs::create_dir(folder.path().join("demo")).expect("a folder");
    let output = run(folder.path(), &["check", "demo"]);
    assert!(output.status.success(), "{}", said(&output.stderr));
}

#[test]
fn what_is_never_ordered_is_told_and_the_last_line_says_what_the_possessions_came_to() {
    let folder = folder();
    let at = folder.path();
    let rule = "(name: \"r\", when: pass(from: top, to: wing(ball)), do: [(who: passer, does: fill(slot(weak)), only_if: \
                [time_over(90)]), (who: at(wing(weak)), does: fill(top))])";
    write(at, "o.ron", &offence(rule));
    let output = run(at, &["check", "o.ron", "--play"]);
    let text = said(&output.stdout).replace("\n", " ");
    let text = text.split_whitespace().collect::<Vec<_>>().join(" ");
    assert_eq!(output.status.code(), Some(3), "{text}");
    assert!(
        text.contains("fill the weak-side slot: never ordered"),
        "{text}"
    );
    assert!(!text.contains("of 0"), "{text}");
    assert!(said(&output.stderr).contains("was never so"));
    assert!(
        text.contains("points a possession (95 % interval"),
        "{text}"
    );
    let (json, _) = account(at, "o.ron", "60");
    let came = |what: &str| json["came_to"][what].as_u64().unwrap();
    assert!(
        came("shots") + came("lost") <= 60 && came("shots") > 20,
        "{json}"
    );
}

/// Before: two lines that ask for the one post on either side were said to send two players to one place.
#[test]
fn two_lines_for_the_one_post_on_either_side_never_count_together() {
    let folder = folder();
    let rule = |one: &str, two: &str| {
        offence(&format!(
            "(name: \"r\", when: pass(from: top, to: wing(ball)), do: [(who: passer, does: fill(slot(weak)), only_if: \
             [post_on({one})]), (who: at(wing(weak)), does: fill(slot(weak)), only_if: [post_on({two})])])"
        ))
    };
    for (one, two, warned) in [("ball", "weak", false), ("ball", "ball", true)] {
        write(folder.path(), "o.ron", &rule(one, two));
        let output = run(folder.path(), &["check", "o.ron"]);
        let text = said(&output.stdout) + &said(&output.stderr);
        let warns = text.contains("two players are sent to the weak-side slot");
        assert_eq!(warns, warned, "{one} {two}: {text}");
    }
}

/// Before: nothing was said of such a rule.
#[test]
fn a_rule_for_a_screen_that_has_a_screen_used_at_that_place_again_is_warned_of() {
    let folder = folder();
    let rules = |more: &str, to: &str| {
        offence(&format!(
            "(name: \"across\", when: pass(from: top, to: wing(ball)), do: [(who: at(corner(ball)), does: \
             screen_for(whom: at(block(weak)), after: fill({to}))), (who: at(block(weak)), does: use_screen(of: \
             at(corner(ball)), to: block(ball), unfed: fill(block(ball))))]), (name: \"again\", {more}when: \
             screen_used(at: block(weak)), do: [(who: at(top), does: screen_for(whom: screener, after: \
             fill(corner(weak)))), (who: screener, does: use_screen(of: at(top), to: top, unfed: fill(top)))])"
        ))
    };
    for (more, to, warned) in [
        ("", "block(weak)", true),
        ("", "short_corner(weak)", false),
        ("once: true, ", "block(weak)", false),
        ("only_if: [held(block(weak))], ", "block(weak)", false),
    ] {
        write(folder.path(), "o.ron", &rules(more, to));
        let output = run(folder.path(), &["check", "o.ron"]);
        let text = said(&output.stdout) + &said(&output.stderr);
        let warns = text.contains("this rule calls itself");
        assert_eq!(warns, warned, "{more}{to}: {text}");
    }
}

#[test]
fn what_the_places_for_drives_govern_is_said_back() {
    let folder = folder();
    let at = folder.path();
    let rule = "(name: \"r\", when: pass(from: top, to: wing(ball)), do: [(who: passer, does: fill(top))])";
    let limited = offence(rule).replace("keep_filled:", "drive_from: [wing(either)], keep_filled:");
    for (text, says) in [(offence(rule), false), (limited, true)] {
        write(at, "o.ron", &text);
        let text = good(at, &["check", "o.ron"]);
        let text = text.split_whitespace().collect::<Vec<_>>().join(" ");
        let inside = "at a place inside, near the ring, a holder may always go to it";
        assert_eq!(text.contains(inside), says, "{text}");
    }
}

/// A holder who dribbles from one slot to the other takes the ball side along, at the latest with the drive. (Before: 3 of 346
/// began at the weak side, for which no rule can ask.)
#[test]
fn every_drive_from_a_slot_is_one_from_the_ball_side_slot() {
    use lanelight::court::SpotName;
    use lanelight::possession::What;
    use lanelight::scenario::{Scenario, read_offence};
    use lanelight::sim::{Keep, cast_untaught, play_shared};
    let text = "(name: \"Slots\", ball: 1, alignment: [(player: 1, at: slot(ball)), (player: 2, at: corner(weak)), \
                (player: 3, at: wing(ball)), (player: 4, at: corner(ball)), (player: 5, at: block(weak))], \
                keep_filled: [slot(ball), slot(weak), wing(ball), corner(ball)], rules: [(name: \"drives\", when: \
                drive(from: slot(ball)), do: [(who: post, does: drop_off)])], reading: [drive, next_pass], \
                patience: (hold: 4))";
    let mut scenario = Scenario::from_text(
        "(name: \"s\", court: nfhs, level: varsity, offence: \"four_out_one_post\", defence: \"denial\")",
        "s.ron",
    )
    .unwrap();
    scenario.offence = read_offence(text, "o.ron").unwrap().value;
    let cast = cast_untaught(&scenario);
    let scenario = std::sync::Arc::new(scenario);
    let (mut drives, mut missed) = (0, 0);
    for seed in 1..=400 {
        let played = play_shared(&scenario, &cast, seed, Keep::FIGURES);
        let entries = &played.timeline;
        // (A drive stopped and gone on with from there, or at once, is no other.)
        let mut last = None;
        for (i, entry) in entries.iter().enumerate() {
            let What::Drives { who, from } = entry.what else {
                continue;
            };
            let stopped = entries[..i]
                .iter()
                .rev()
                .find(|e| matches!(e.what, What::Stopped { who: driver, .. } if driver == who));
            let at_once = last.is_some_and(|(driver, _)| driver == who)
                && stopped.is_some_and(|e| entry.time - e.time < 0.52);
            // On at once it is still the drive that began where that one did.
            let again = at_once || last.replace((who, from)) == Some((who, from));
            if from.name != SpotName::Slot || again {
                continue;
            }
            drives += 1;
            let soon = entries[i..]
                .iter()
                .take_while(|e| e.time < entry.time + 0.1);
            let told = |e: &lanelight::possession::Entry| matches!(e.what, What::Rule { .. });
            let over = played.duration < entry.time + 0.2;
            if !over && !soon.into_iter().any(told) {
                println!("{seed}, {:.2} s: {who} {from:?}", entry.time);
                missed += 1;
            }
        }
    }
    println!("no rule for {missed} of {drives}");
    assert!(drives >= 100 && missed == 0, "{missed} of {drives}");
}

/// Before: ended with 3, as if the file were wrong.
#[test]
fn a_rule_that_waits_for_what_this_defence_never_does_is_told_and_is_no_error() {
    let folder = folder();
    let rule = "(name: \"d\", when: denied(at: wing(weak), ball: top, seconds: 3.0), do: [(who: denied, does: hold)]), \
                (name: \"p\", when: pass(from: top, to: wing(ball)), do: [(who: post, does: fill(block(ball)))])";
    write(folder.path(), "o.ron", &offence(rule));
    let played = |more: &[&str]| {
        let args = [&["check", "o.ron", "--play", "--possessions", "12"], more].concat();
        let output = run(folder.path(), &args);
        (output.status.code(), said(&output.stderr))
    };
    let (code, told) = played(&["--against", "sag"]);
    assert_eq!(code, Some(0), "{told}");
    assert!(
        told.starts_with("note: the rule “d”: in 12 possessions"),
        "{told}"
    );
    // Against several defences that differ it is the file's.
    let (code, told) = played(&["--against", "sag", "--against", "help_line"]);
    assert_eq!(code, Some(3), "{told}");
}

#[test]
fn a_rule_for_the_drive_that_takes_the_screener_of_another_rule_is_pointed_out() {
    let newcomers = fs::read_to_string("tests/screens/two_levels.ron").unwrap();
    let folder = folder();
    let told = |text: &str| {
        write(folder.path(), "o.ron", text);
        said(&run(folder.path(), &["check", "o.ron"]).stderr)
    };
    let warned = told(&newcomers);
    let drive = "a drive off the screen of rule 7 \"Late: screen on the ball\" fires this rule too";
    assert!(warned.contains(drive), "{warned}");
    assert_eq!(warned.matches("warning:").count(), 1, "{warned}");
    let held = "does: drop_off, only_if: [held(block(weak))";
    assert!(newcomers.contains(held));
    let mended = newcomers.replace(held, &format!("{held}, not_screening"));
    assert_eq!(told(&mended), "");
}
