//! The practice sheet as a coach reads it who has never seen the program: what is next, who they are up against, which
//! cards are walked first, when a turn is over and who scores.

use std::sync::OnceLock;

use lanelight::clean;
use lanelight::court::Units;
use lanelight::draw::cards::{Card, cards};
use lanelight::draw::light::Replay;
use lanelight::draw::sheet::groups::Groups;
use lanelight::draw::sheet::scoring;
use lanelight::draw::sheet::stands::stands;
use lanelight::draw::sheet::turns::Teams;
use lanelight::draw::sheet::{Paper, Practice};
use lanelight::draw::{ArrowKind, Item};
use lanelight::offence::LookKind;
use lanelight::scenario::Scenario;
use lanelight::squad::Level;

/// Words of a card with the sides as its picture has them: the ball on the right.
pub fn as_drawn(words: &str) -> String {
    let words = words.replace("ball-side ", "right ");
    words.replace("weak-side ", "left ")
}

/// A card's name without what everybody does.
fn brief(scenario: &Scenario, rule: usize) -> &str {
    let name = &scenario.offence.rules[rule].name;
    name.split(':').next().unwrap_or_default()
}

/// A matchup, its cards, its sheet, and the words on that.
pub type Sheet = (Scenario, Vec<Card>, Practice, String);

/// The same, made once.
pub fn sheets() -> &'static [Sheet] {
    static SHEETS: OnceLock<Vec<Sheet>> = OnceLock::new();
    SHEETS.get_or_init(made)
}

/// The demo, and match-ups in which a post drill answers a finding.
fn with_a_post() -> impl Iterator<Item = Scenario> {
    let others = [("four_out_one_post", "pack"), ("high_low", "switching")];
    let others =
        others.map(|(offence, defence)| super::matchup(Level::VarsityBoys, offence, defence));
    [Scenario::demo()].into_iter().chain(others)
}

fn made() -> Vec<Sheet> {
    let mut out = Vec::new();
    let matchups = super::MATCHUPS
        .map(|(offence, defence)| super::matchup(Level::VarsityBoys, offence, defence));
    // The squad of the demo comes to other cards.
    for scenario in matchups.into_iter().chain(with_a_post()) {
        let summary = super::summary(&scenario, 200);
        let cards = cards(&scenario);
        let practice = Practice::of(&scenario, &summary, &cards);
        let (pages, _) = practice.pages(&scenario, &summary, Paper::Letter);
        assert!(pages.len() <= 3, "{}: {}", scenario.name, pages.len());
        out.push((scenario, cards, practice, super::words(&pages)));
    }
    out
}

#[test]
fn a_coach_reads_from_the_sheet_what_each_drill_and_look_is() {
    let (mut drills, mut looks, mut carded, mut shots) = (0, 0, 0, 0);
    for (scenario, cards, practice, text) in sheets() {
        let name = &scenario.name;
        let walk = practice
            .plan
            .iter()
            .position(|b| b.what.starts_with("Walk"));
        let walk = walk.expect("all walk the rules");
        let walked = |rule: usize| {
            let walk = &practice.plan[walk].what;
            let all = walk.contains("the rule cards:");
            let mut words = walk.split([' ', ',', ';', ':']);
            let number = format!("{}", rule + 1);
            assert!(all || words.any(|w| w == number), "{name}: {walk}");
            // Its name stands beside its number where it is needed.
            let named = format!("card {number}, {}", brief(scenario, rule));
            assert!(text.contains(&clean::escape(&named)), "{name}: {named}");
        };
        for drill in &practice.breakdowns {
            drills += 1;
            walked(drill.rule);
            let place = practice.plan.iter().position(|b| b.what == drill.block());
            assert!(
                place.is_none_or(|at| walk < at),
                "{name}: {}",
                drill.block()
            );
            // After "no pass" the ball goes on, to somebody outside who is where the card's walk ends.
            println!("{name}: {}\n  {}", drill.block(), drill.next);
            assert!(drill.next.contains("As the count ends"), "{}", drill.next);
            let to = drill.next.split_once(" passes to ");
            let to = to.or(drill.next.split_once(" the skip pass to "));
            let Some((_, to)) = to else {
                let own = [" shoots.", " drives."];
                assert!(
                    own.iter().any(|w| drill.next.ends_with(w)),
                    "{}",
                    drill.next
                );
                continue;
            };
            let to: u8 = to[..1].parse().expect("a number");
            let part = cards[drill.rule].parts.iter().find(|p| p.player == to);
            let part = part.expect("on the card");
            assert!(drill.next.contains(&as_drawn(&part.to)), "{}", drill.next);
            for inside in ["block", "rim", "elbow", "post"] {
                assert!(!part.to.ends_with(inside), "{}", drill.next);
            }
            assert!(text.contains(&drill.next[..20]), "{}", drill.next);
            assert!(!drill.cue.contains("hold the ball"), "{}", drill.cue);
            // One defender a group, and no other is drawn.
            let defenders = drill.scene.items.iter();
            let defenders = defenders
                .filter(|i| matches!(i, Item::Defender { .. }))
                .count();
            assert_eq!(defenders, 1, "{name}: {}", drill.block());
            let words = [
                drill.lines.join(" "),
                drill.start.clone(),
                drill.signal.clone(),
                drill.cue.clone(),
                drill.next.clone(),
            ];
            assert!(words.iter().all(|w| !w.contains("-side ")), "{words:?}");
        }
        assert!(text.contains("held past the count"));
        for (i, look) in practice.looks.iter().enumerate() {
            looks += 1;
            println!("{name}: {}\n  {}\n  {:?}", look.name, look.start, look.cue);
            if let Some(rule) = look.card {
                carded += 1;
                walked(rule);
                let named = format!("(card {}, {})", rule + 1, brief(scenario, rule));
                assert!(look.start.contains(&named), "{}", look.start);
            }
            assert!(!look.start.contains("-side "), "{}", look.start);
            // What the defender is told, and both halves of the read.
            let cue = &look.cue.text;
            let told = cue.contains(". Order A, sta") && cue.contains(". Order B, sta");
            assert!(told && !cue.contains("shuts"), "{cue}");
            for label in ["What for: ", "Start: ", "Signal: ", "Read X", "Say: "] {
                assert!(
                    text.matches(label).count() >= looks_of(practice),
                    "{name}: {label}"
                );
            }
            let has = look.start.contains(" has the ball at ");
            let comes = look
                .points
                .iter()
                .any(|p| p.contains("before the ball comes"));
            assert!(!(has && comes), "{}: {:?}", look.start, look.points);
            if look.name.to_lowercase().contains(LookKind::Shot.word()) {
                assert_eq!(has, !comes, "{}: {:?}", look.start, look.points);
                shots += 1;
            }
            // Every finding that names this look as its answer is named here.
            let own = format!("Look {}:", i + 1);
            let block = practice.plan.iter().find(|b| b.what.starts_with(&own));
            for (n, said) in practice.findings.iter().enumerate() {
                let answer = said.text.split_once("Answer: ").map_or("", |a| a.1);
                if !answer.contains(&format!("look {}", i + 1)) {
                    continue;
                }
                assert!([look.answers, look.also].contains(&Some(n)), "{answer}");
                let block = block.map_or(format!("{}", n + 1), |b| b.what.clone());
                let listed = block.rsplit('(').next().unwrap_or_default();
                assert!(listed.contains(&format!("{}", n + 1)), "{block}");
            }
        }
        assert!(practice.looks.is_empty() || text.contains("A turn ends with a basket, a stop"));
        assert!(!text.contains("counts one more"), "{name}");
        // One way to score, said once, with what a right read is worth against a stop and who judges.
        let scored = [
            "a stop counts after a right read too.",
            "To feed a cutter or post with no defender between is right everywhere.",
            "says “right” or “wrong”",
            "the same players start it once more, for no points, as one of the turns. Live play is not stopped.",
        ];
        assert!(
            scored.iter().all(|w| text.matches(w).count() == 1),
            "{name}"
        );
        assert!(!text.contains("of the time it could be played"), "{name}");
        if let Some(late) = practice.late {
            let said = &practice.findings[late].text;
            assert!(!said.contains(" X"), "{said}");
        }
    }
    println!("{drills} drills, {looks} looks, {carded} with a card, {shots} shots");
    assert!(
        drills >= 10 && looks >= 8 && carded >= 2,
        "{drills} {looks} {carded}"
    );
}

fn looks_of(practice: &Practice) -> usize {
    practice.looks.len()
}

#[test]
fn live_play_says_what_it_is_for_how_it_starts_what_ends_a_turn_what_counts_and_who_judges() {
    let mut held = 0;
    for (scenario, _, practice, text) in sheets() {
        let name = &scenario.name;
        let block = practice
            .plan
            .iter()
            .find(|b| b.what.starts_with("Live play"));
        let Some(block) = block else { continue };
        held += 1;
        let (_, live) = text
            .split_once(&format!("five on five: {} min", block.minutes))
            .expect("live play of the plan stands on the sheet");
        for wanted in [
            "What for: ",
            "Start: ",
            "Signal: the coach passes to ",
            "End and score: as in the box; ",
            "taken when it is open, is the right read: 1",
            "says which look it was",
            " turns; attack and defence change",
        ] {
            assert!(live.contains(wanted), "{name}: {wanted}");
        }
        // Where each of the five begins.
        for stand in &scenario.offence.alignment {
            let ball = match stand.player == scenario.offence.ball {
                true => " (ball)",
                false => "",
            };
            let said = live.split("Signal: the coach").next().unwrap_or_default();
            assert!(
                said.contains(&format!(" {} ", stand.player)),
                "{name}: {said}"
            );
            assert!(said.contains(ball), "{name}: {said}");
        }
        // A list of intervals is for the assistants.
        let (sheet, assistants) = text.split_once("For assistants: ").expect("at the end");
        assert!(!sheet.contains("95 % interval") && assistants.contains("95 % interval"));
        // The cards are found.
        assert!(text.contains("rule_cards.pdf"), "{name}");
    }
    assert!(held >= 5, "{held}");
}

#[test]
fn players_who_wait_are_told_when_they_come_in_and_whom_for() {
    let mut scenario = Scenario::demo();
    for (players, baskets, who) in [
        (12, 2, "1 and X1"),
        (11, 1, "1, then"),
        (13, 2, "1, X1 and 2"),
    ] {
        scenario.practice.players = Some(players);
        scenario.practice.baskets = Some(baskets);
        let said = Teams::of(&scenario).words(&scenario);
        assert!(said.contains(&format!("in: for {who}")), "{said}");
        assert!(said.contains("whoever comes out waits"), "{said}");
        assert_eq!(said.contains("at a free basket"), baskets == 2, "{said}");
        assert!(said.contains("the squad's five") && said.contains("your other players"));
    }
    scenario.practice.players = Some(10);
    let said = Teams::of(&scenario).words(&scenario);
    assert!(!said.contains("extra"), "{said}");
}

#[test]
fn the_picture_of_a_look_is_of_its_start_with_all_ten_where_they_stood_and_the_pass_before() {
    let mut starts = 0;
    for (scenario, _, practice, _) in sheets() {
        for look in &practice.looks {
            let (seed, time) = look.example;
            let Some(scene) = &look.begins else {
                assert!(look.start.contains(" has the ball at "), "{}", look.start);
                continue;
            };
            starts += 1;
            let possession = Replay::one(scenario, seed).possession;
            let bodies = scene
                .items
                .iter()
                .filter(|i| matches!(i, Item::Attacker { .. } | Item::Defender { .. }));
            assert_eq!(bodies.count(), 10, "{}", look.start);
            let holder = scene.items.iter().find_map(|i| match i {
                Item::Attacker {
                    number,
                    has_ball: true,
                    pos,
                } => Some((*number, *pos)),
                _ => None,
            });
            let (holder, pos) = holder.expect("the ball");
            // That player had it there before the moment, and passes on the picture.
            let mut before = possession.track.iter().filter(|f| f.time <= time);
            let i = usize::from(holder) - 1;
            assert!(
                before.any(|f| (f.attackers[i] - pos).length() < 1e-9),
                "{}",
                look.start
            );
            assert!(
                look.start
                    .contains(&format!("as drawn, {holder} with the ball")),
                "{}",
                look.start
            );
            let passes = |i: &Item| matches!(i, Item::Arrow { kind: ArrowKind::Pass, who, .. } if *who == holder);
            assert!(scene.items.iter().any(passes), "{}", look.start);
        }
    }
    println!("{starts} starts");
    assert!(starts >= 4, "{starts}");
}

#[test]
fn what_a_read_has_players_take_was_open_in_the_possessions_and_what_is_shut_is_never_the_answer() {
    let (mut held, mut others) = (0, 0);
    let own = sheets().iter();
    let own = own.map(|(scenario, _, practice, _)| (practice, super::summary(scenario, 200)));
    let more = super::asked::all().iter();
    let more = more.map(|(_, _, practice, summary)| (practice, summary.clone()));
    for (practice, summary) in own.chain(more) {
        let json = serde_json::to_value(&summary).expect("figures as JSON");
        for look in &practice.looks {
            held += 1;
            let cue = &look.cue.text;
            let halves = cue.split(". ").filter_map(|half| half.split_once(": "));
            let taken: Vec<&str> = halves.map(|(_, does)| does).collect();
            assert_eq!(taken.len(), 2, "{cue}");
            for key in &look.cue.keys {
                others += 1;
                let low = json
                    .pointer(&format!("/{key}/low"))
                    .and_then(|v| v.as_f64());
                let least = if key.starts_with("looks/") { 0.5 } else { 0.1 };
                assert!(low.is_some_and(|low| low >= least), "{key}: {low:?}: {cue}");
            }
            assert_eq!(
                taken[1].contains(", open "),
                look.cue.keys.len() == 1,
                "{cue}"
            );
            assert!(!taken[1].starts_with(taken[0]), "{cue}");
            // By order A the defender does not stand where that takes away what is then done; by order B they do.
            let (_, orders) = cue.split_once(". Order A, ").expect("order A");
            let (a, orders) = orders.split_once(": ").expect("what is done");
            let (_, b) = orders.split_once(". Order B, ").expect("order B");
            let b = b.split(": ").next().unwrap_or_default();
            assert_ne!(a, b, "{cue}");
            let gets = taken[0]
                .split(" to ")
                .nth(1)
                .or(taken[0].split(" feeds ").nth(1));
            let whom = gets.map_or(&taken[0][..1], |to| &to[..1]);
            assert!(whom.parse::<u8>().is_ok(), "{cue}");
            assert!(b.contains(&format!(" {whom}")), "{cue}");
            let alone = [" drives", " shoots"].iter().any(|w| taken[0].contains(w));
            assert!(alone || !a.contains(&format!("arm of {whom}")), "{cue}");
        }
    }
    println!("{held} looks, {others} with a figure for the other half");
    assert!(held >= 28 && others >= 10, "{held} {others}");
}

#[test]
fn the_sheet_says_what_the_defence_is_from_its_file() {
    for (scenario, _, practice, text) in sheets() {
        let said = stands(&scenario.defence, scenario.court.units);
        assert!((3..=6).contains(&said.len()), "{said:#?}");
        println!("{}: {said:#?}", scenario.name);
        for sentence in &said {
            assert!(
                text.contains(&lanelight::clean::escape(sentence)),
                "{sentence}"
            );
        }
        assert!(said.iter().any(|s| s.starts_with("On a drive: ")));
        // The help line is explained where it first stands.
        if let Some(at) = text.find("on the help line") {
            assert!(text[at..].starts_with("on the help line (from rim to rim"));
        }
        // The shell has the same words for the same places.
        if scenario.defence.zone.is_none() && !practice.shells.is_empty() {
            assert!(text.contains("X1 on the ball;") && text.contains(" one pass away"));
            assert!(text.contains("nobody cuts") && text.contains("change every minute"));
        }
    }
    let mut other = Scenario::demo().defence;
    let before = stands(&other, Units::Metric);
    other.stances.on_ball.gap = (2.0, 2.5);
    other.stances.one_pass.deny = true;
    other.help.rotate = !other.help.rotate;
    let after = stands(&other, Units::Metric);
    assert!(after[0].contains("2.0 m to 2.5 m off"), "{}", after[0]);
    assert!(
        after[1].contains("a hand in the passing lane"),
        "{}",
        after[1]
    );
    let changed = before.iter().zip(&after).filter(|(a, b)| a != b).count();
    assert_eq!(changed, 3, "{before:#?} {after:#?}");
}

#[test]
fn one_box_says_the_count_and_the_score_and_no_exit_is_a_drive_that_was_mostly_shut() {
    let mut apart = 0;
    for (scenario, _, practice, text) in sheets() {
        let summary = super::summary(scenario, 200);
        let at = text.find("How every drill and look is run").expect("a box");
        let first = ["a part of a card", "Shell drill for", "Looks to rehearse"];
        assert!(first.iter().all(|w| text.find(w).is_none_or(|n| at < n)));
        // What the count is and what a stall is are two things: no sentence has both.
        for sentence in text.split(". ") {
            let said = sentence.to_lowercase();
            let counts = said.contains("a count of") || said.contains("the count ");
            assert!(!(said.contains("stall") && counts), "{sentence}");
            apart += usize::from(said.contains("stall") || counts);
        }
        for word in [
            "open meanwhile",
            "little by itself",
            "light moves with",
            "would pay",
            "cut from the rules",
            "first 48 possessions",
            "Sides change",
            "four or five",
            "longer than a count of two",
        ] {
            assert!(!text.contains(word), "{}: {word}", scenario.name);
        }
        let shut = scoring::shut_drives(&summary);
        for drill in &practice.breakdowns {
            if let Some((at, _)) = drill.next.split_once(" shoots or drives.") {
                assert!(!shut.iter().any(|w| at.contains(&format!(" {w},"))), "{at}");
            }
        }
    }
    assert!(apart >= 20, "{apart}");
}

#[test]
fn the_exit_of_a_drill_is_what_its_reason_names_and_nobody_is_told_to_wait_who_is_not_there() {
    let mut exits = 0;
    for (scenario, _, practice, text) in sheets() {
        for drill in &practice.breakdowns {
            let why = &drill.why.as_ref().expect("a reason").text;
            let (_, other) = why.split_once("; else ").expect("the other answer");
            if let Some((_, to)) = other.split_once("the skip pass goes to ") {
                let to = to.trim_end_matches('.');
                let said = format!("throws the skip pass to {to}, and ");
                assert!(drill.next.contains(&said), "{to}: {}", drill.next);
                exits += 1;
            } else if let Some((_, to)) = other.split_once("the ball goes to ") {
                let (n, at) = to.trim_end_matches('.').split_once(" at ").expect("where");
                assert!(drill.next.contains(&format!(" passes to {n}")), "{to}");
                assert!(drill.next.contains(at), "{to}: {}", drill.next);
            }
        }
        assert!(
            !text.contains("comes in then"),
            "ten players: {}",
            scenario.name
        );
    }
    assert!(exits >= 1);
    // Whoever plays and whoever waits are all that there are.
    for (players, baskets) in [(10, 2), (12, 4), (13, 4), (7, 1), (11, 3)] {
        let session = lanelight::scenario::Session {
            players: Some(players),
            baskets: Some(baskets),
            ..Default::default()
        };
        for size in 2..=4 {
            let groups = Groups::of(&session, size).expect("a group");
            assert_eq!(groups.each * groups.baskets + groups.over, players as usize);
            assert!(groups.each > size && groups.over < groups.baskets);
            assert!(groups.baskets <= baskets as usize);
        }
    }
}

#[test]
fn the_words_of_a_start_name_every_run_and_drive_that_is_drawn_and_the_number_that_is_read() {
    let (mut runs, mut read) = (0, 0);
    for (scenario, _, practice, _) in sheets() {
        for look in &practice.looks {
            if let Some(who) = look.cue.text.strip_prefix("Read X") {
                assert!(who[..1].parse::<u8>().is_ok(), "{}", look.cue.text);
                read += 1;
            }
            let Some(scene) = &look.begins else { continue };
            let told = look.start.matches(" runs to ").count();
            let drawn = |wanted: ArrowKind| {
                let arrows = scene.items.iter();
                arrows
                    .filter(|i| matches!(i, Item::Arrow { kind, .. } if *kind == wanted))
                    .count()
            };
            assert_eq!(
                told,
                drawn(ArrowKind::Run) + drawn(ArrowKind::Screen),
                "{}",
                look.start
            );
            runs += told;
            let drives = look.start.contains(" drives from the ");
            assert!(
                !drives || drawn(ArrowKind::Dribble) > 0,
                "{}: {}",
                scenario.name,
                look.start
            );
        }
    }
    println!("{runs} runs, {read} defenders by number");
    assert!(runs >= 1 && read >= 8, "{runs} {read}");
}
