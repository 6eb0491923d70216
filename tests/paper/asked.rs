//! What a coach asked who read the sheet cold: is somebody there for what a read names, is every run drawn that is told,
//! does every drill say the same things in the same order, and are places called as they are drawn.

use std::sync::atomic::AtomicBool;

use lanelight::court::{Side, Spot, Vec2};
use lanelight::draw::cards::cards;
use lanelight::draw::light::Replay;
use lanelight::draw::sheet::practice::Rehearsal;
use lanelight::draw::sheet::{Paper, Practice};
use lanelight::draw::{ArrowKind, Item, Scene};
use lanelight::offence::Movement;
use lanelight::possession::What;
use lanelight::scenario::{Scenario, shipped};
use lanelight::squad::Level;
use lanelight::why::{Summary, Why, rivals};

/// A sheet of one offence, from possessions that begin with a seed of their own.
fn sheet(
    offence: &str,
    defence: &str,
    first_seed: u64,
    possessions: u64,
) -> (Scenario, Practice, Summary) {
    let scenario = super::matchup(Level::VarsityBoys, offence, defence);
    let why = Why {
        first_seed,
        possessions,
        threads: 2,
    };
    let sheets = why.sheets(&scenario, &|_| {}, &AtomicBool::new(false));
    let sheets = sheets.expect("sheets");
    let mut summary = Summary::of(&sheets, possessions, &scenario.offence, &rivals(&scenario));
    summary.first_seed = first_seed;
    let practice = Practice::of(&scenario, &summary, &[]);
    (scenario, practice, summary)
}

/// A matchup in words, the same, its sheet and the figures that it is made from.
pub type Asked = (String, Scenario, Practice, Summary);

/// Every shipped offence against three defences, each from a range of seeds of its own.
pub fn all() -> &'static [Asked] {
    static ALL: std::sync::OnceLock<Vec<Asked>> = std::sync::OnceLock::new();
    ALL.get_or_init(|| {
        let mut out = Vec::new();
        let defences = ["sag", "help_line", "denial", "zone_2_3"];
        for (i, file) in shipped::all(shipped::Kind::Offence).enumerate() {
            for (j, first) in [1, 1001, 2001, 3001].into_iter().enumerate() {
                let defence = defences[(i + j) % defences.len()];
                let (scenario, practice, summary) = sheet(file.word, defence, first, 100);
                out.push((
                    format!("{} {defence} {first}", file.word),
                    scenario,
                    practice,
                    summary,
                ));
            }
        }
        out
    })
}

fn at(scene: &Scene, n: u8) -> Option<Vec2> {
    scene.items.iter().find_map(|item| match item {
        Item::Attacker { number, pos, .. } if *number == n => Some(*pos),
        _ => None,
    })
}

fn ways(scene: &Scene, n: u8) -> Vec<&Vec<Vec2>> {
    let ways = scene.items.iter().filter_map(|item| match item {
        Item::Arrow { kind, path, who } if *kind != ArrowKind::Pass && *who == n => Some(path),
        _ => None,
    });
    ways.collect()
}

/// "left slot".
fn drawn(spot: Spot) -> String {
    match spot.side {
        Some(Side::Left) => format!("left {}", spot.name.word()),
        Some(Side::Right) => format!("right {}", spot.name.word()),
        None => spot.name.word().to_string(),
    }
}

fn picture(look: &Rehearsal) -> &Scene {
    look.begins.as_ref().unwrap_or(&look.scene)
}

/// "passes to 2 at the left slot": the number and the place.
fn to(does: &str) -> Option<(u8, String)> {
    let (before, place) = does.split_once(" at the ")?;
    let n = before.split_whitespace().last()?.parse().ok()?;
    let place = place.split([',', '.']).next()?.to_string();
    Some((n, place))
}

#[test]
fn nobody_is_named_in_a_read_who_does_not_stand_or_run_there_in_the_start_that_is_drawn() {
    let (mut looks, mut named, mut wrong) = (0, 0, Vec::new());
    for (name, scenario, practice, _) in all() {
        let place = |p: &Vec2| drawn(scenario.court.nearest_spot(*p));
        for look in &practice.looks {
            looks += 1;
            let scene = picture(look);
            let halves = look.cue.text.split(". ").filter_map(|h| h.split_once(": "));
            let halves: Vec<&str> = halves.map(|(_, does)| does).collect();
            assert_eq!(halves.len(), 2, "{name}: {}", look.cue.text);
            for (second, does) in halves.iter().enumerate() {
                let mut say =
                    |why: &str| wrong.push(format!("{name}: {why}: {does}: {}", look.start));
                let holder: Option<u8> = does.split(' ').next().and_then(|n| n.parse().ok());
                let Some(holder) = holder.filter(|n| at(scene, *n).is_some()) else {
                    say("nobody has the ball");
                    continue;
                };
                let Some((n, at_place)) = to(does) else {
                    let alone = [
                        " shoots",
                        " drives",
                        " on the cut",
                        " on the backdoor cut",
                        " drops the ball off to ",
                    ];
                    if !alone.iter().any(|w| does.contains(w)) {
                        say("to nobody");
                    }
                    continue;
                };
                named += 1;
                let Some(pos) = at(scene, n).filter(|_| n != holder) else {
                    say("nobody");
                    continue;
                };
                let ways = ways(scene, n);
                let there = match (ways.last(), second) {
                    (None, _) => place(&pos) == at_place,
                    // On the run to where the look is taken.
                    (Some(way), 0) => way.iter().any(|p| place(p) == at_place),
                    // Whoever runs away and comes back is not there meanwhile.
                    (Some(way), _) => way
                        .last()
                        .is_some_and(|p| place(p) == at_place && (*p - pos).length() > 1.8),
                };
                if !there {
                    say("not there");
                }
            }
        }
    }
    println!("{looks} looks, {named} who get the ball");
    assert!(looks >= 20 && named >= 25, "{looks} {named}");
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

/// A run of a cut comes so near to the rim, and a run to a place so near to it, metres (ours).
const AT_THE_RIM: f64 = 2.8;
const AT_THE_PLACE: f64 = 2.0;

#[test]
fn every_run_that_a_card_gives_is_drawn_on_the_look_and_told_in_the_order_in_which_they_go() {
    let (mut cuts, mut fills, mut told_runs, mut wrong) = (0, 0, 0, Vec::new());
    for (name, scenario, practice, _) in all() {
        for look in practice.looks.iter().filter(|l| l.begins.is_some()) {
            let scene = picture(look);
            let (seed, time) = look.example;
            let possession = Replay::one(scenario, seed).possession;
            let thrown = possession.timeline.iter().rev().find_map(|e| match e.what {
                What::Passes { .. } if e.time <= time + 1e-6 => Some(e.time),
                _ => None,
            });
            let thrown = thrown.expect("a pass before");
            let frame = possession
                .track
                .iter()
                .rev()
                .find(|f| f.time <= time + 1e-6);
            let holder = frame.and_then(|f| f.holder);
            let within = |t: f64| t >= thrown - 1e-6 && t <= time + 1e-6;
            let mut last: [Option<(usize, lanelight::possession::Told)>; 5] = [None; 5];
            for entry in possession.timeline.iter().filter(|e| within(e.time)) {
                let (rule, told) = match &entry.what {
                    What::Rule { rule, told } => (rule, told),
                    What::Fills { who, to } => {
                        if let Some((_, told)) = &mut last[usize::from(*who) - 1] {
                            told.to = Some(*to);
                        }
                        continue;
                    }
                    _ => continue,
                };
                for (i, told) in told.iter().enumerate() {
                    last[i] = told.map(|t| (*rule, t)).or(last[i]);
                }
            }
            for (i, told) in last.into_iter().enumerate() {
                let n = i as u8 + 1;
                let (Some((rule, told)), Some(from)) =
                    (told.filter(|_| holder != Some(n)), at(scene, n))
                else {
                    continue;
                };
                let ways = ways(scene, n);
                let mut say = |why: &str| wrong.push(format!("{name}: {n}: {why}: {}", look.start));
                let action = &scenario.offence.rules[rule].actions[usize::from(told.line)];
                if let Movement::Cut { to: None, .. } = action.does {
                    cuts += 1;
                    let near = |p: &&Vec2| p.length() < AT_THE_RIM;
                    if !ways.iter().flat_map(|w| w.iter()).any(|p| near(&p)) {
                        say("the cut is not drawn");
                    }
                }
                let fill = matches!(
                    action.does,
                    Movement::Cut { .. } | Movement::Fill(_) | Movement::FillFirst(_)
                );
                if let Some(spot) = told.to.filter(|_| fill) {
                    fills += 1;
                    let goal = scenario.court.spot(spot);
                    let end = ways.last().and_then(|w| w.last()).copied().unwrap_or(from);
                    if (end - goal).length() > AT_THE_PLACE {
                        say("does not come to the place");
                    }
                }
            }
            // The runs in words are those that are drawn, each by its number, the first first.
            let told = look.start.split("; the others").next().unwrap_or_default();
            let told = told.split("Then: ").nth(1).unwrap_or_default();
            let told: Vec<u8> = told
                .split(", ")
                .filter_map(|run| run.split(" runs ").next()?.parse().ok())
                .collect();
            let drawn = scene.items.iter().filter_map(|item| match item {
                Item::Arrow {
                    kind: ArrowKind::Run | ArrowKind::Screen,
                    who,
                    ..
                } => Some(*who),
                _ => None,
            });
            let drawn: Vec<u8> = drawn.collect();
            told_runs += told.len();
            if told != drawn {
                wrong.push(format!(
                    "{name}: {told:?} told, {drawn:?} drawn: {}",
                    look.start
                ));
            }
            let begins = possession.track.iter().rev();
            let begins = begins.filter(|f| f.time <= time).find(|f| {
                (1..=5).all(|n| {
                    at(scene, n)
                        .is_none_or(|p| (f.attackers[usize::from(n) - 1] - p).length() < 1e-9)
                })
            });
            let begins = begins.expect("the start is of the possession");
            let left = |n: u8| {
                let i = usize::from(n) - 1;
                let later = possession.track.iter().filter(|f| f.time >= begins.time);
                let mut gone =
                    later.filter(|f| (f.attackers[i] - begins.attackers[i]).length() > 0.4);
                gone.next().map_or(f64::INFINITY, |f| f.time)
            };
            let times: Vec<f64> = told.iter().map(|n| left(*n)).collect();
            if !times.is_sorted() {
                wrong.push(format!(
                    "{name}: told out of turn, {times:?}: {}",
                    look.start
                ));
            }
        }
    }
    println!("{cuts} cuts, {fills} to a place, {told_runs} runs told");
    assert!(
        cuts >= 6 && fills >= 6 && told_runs >= 15,
        "{cuts} {fills} {told_runs}"
    );
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

/// What every drill says, in this order.
const ORDER: [&str; 6] = [
    "Start: ",
    "Signal: ",
    "Then: ",
    "Read X",
    "End and score: ",
    "Rotation: ",
];

/// The first of these that does not come after the one before, in a text.
fn out_of_order(text: &str, labels: &[&str]) -> Option<String> {
    let mut from = 0;
    for label in labels {
        match text[from..].find(label) {
            Some(at) => from += at + label.len(),
            None => return Some(format!("{label}: {text}")),
        }
    }
    None
}

#[test]
fn every_drill_says_start_signal_runs_read_end_and_rotation_in_this_order_with_places_as_drawn() {
    let (mut drills, mut wrong) = (0, Vec::new());
    for (offence, defence) in super::MATCHUPS {
        let scenario = super::matchup(Level::VarsityBoys, offence, defence);
        let summary = super::summary(&scenario, 100);
        let practice = Practice::of(&scenario, &summary, &cards(&scenario));
        let text = super::words(&practice.pages(&scenario, &summary, Paper::A4).0);
        let mut heads: Vec<(String, &[&str])> = Vec::new();
        for drill in &practice.breakdowns {
            heads.push((
                lanelight::clean::escape(&format!("{}, ", drill.block())),
                &ORDER,
            ));
            let said = [
                &drill.start,
                &drill.signal,
                &drill.cue,
                &drill.finish,
                &drill.next,
            ];
            for said in said.into_iter().chain(drill.why.iter().map(|w| &w.text)) {
                if said.contains("-side ") {
                    wrong.push(format!("{offence} {defence}: {said}"));
                }
            }
            // Who has which points: each attacker of the group and the defender, by number.
            let x = drill.cue.strip_prefix("Read X").expect("whom to read");
            let stop = format!("stop: X{} has 1", &x[..1]);
            if !(drill.finish.contains("Right read: ") && drill.finish.contains(&stop)) {
                wrong.push(format!("{offence} {defence}: {}", drill.finish));
            }
        }
        for (i, look) in practice.looks.iter().enumerate() {
            heads.push((format!("Look {}: {} (", i + 1, look.name), &ORDER));
            for said in [&look.start, &look.cue.text, &look.here] {
                if said.contains("-side ") {
                    wrong.push(format!("{offence} {defence}: {said}"));
                }
            }
        }
        let unread = [
            "Start: ",
            "Signal: ",
            "Then: ",
            "End and score: ",
            "Rotation: ",
        ];
        heads.push(("Shell drill for the defenders".to_string(), &unread));
        if practice
            .plan
            .iter()
            .any(|b| b.what.starts_with("Live play"))
        {
            heads.push(("Live play, five on five: ".to_string(), &unread));
        }
        for (head, order) in heads {
            drills += 1;
            let at = text.find(&head);
            let Some(at) = at else {
                wrong.push(format!("{offence} {defence}: no “{head}”"));
                continue;
            };
            let own = &text[at + head.len()..];
            // Up to the next of the same label.
            let second = own
                .match_indices("Start: ")
                .nth(1)
                .map_or(own.len(), |(i, _)| i);
            wrong.extend(
                out_of_order(&own[..second], order)
                    .map(|w| format!("{offence} {defence}: {head} {w}")),
            );
        }
    }
    println!("{drills} drills");
    assert!(drills >= 25, "{drills}");
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}
