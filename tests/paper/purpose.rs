//! What each part of a practice is for is plain where it stands: the findings in the order in which they are practised,
//! both answers of a drill's read on its picture, and a shell in which nobody has cut.

use lanelight::court::Vec2;
use lanelight::draw::sheet::Practice;
use lanelight::draw::{ArrowKind, Item, Scene};

/// Where the way of a player ends on a picture; where that player stands without one.
fn end(scene: &Scene, n: u8) -> Option<Vec2> {
    let way = scene.items.iter().rev().find_map(|item| match item {
        Item::Arrow { kind, path, who } if *who == n && *kind != ArrowKind::Pass => {
            path.last().copied()
        }
        _ => None,
    });
    way.or_else(|| stands(scene, n))
}

fn stands(scene: &Scene, n: u8) -> Option<Vec2> {
    scene.items.iter().find_map(|item| match item {
        Item::Attacker { number, pos, .. } if *number == n => Some(*pos),
        _ => None,
    })
}

/// The findings in the order in which the parts of a practice answer them.
fn in_turn(practice: &Practice) -> Vec<usize> {
    let few = practice.breakdowns.iter().map(|d| d.answers);
    let looks = practice.looks.iter().flat_map(|l| [l.answers, l.also]);
    few.chain([practice.late]).chain(looks).flatten().collect()
}

#[test]
fn findings_are_numbered_in_the_order_in_which_they_are_practised_and_those_without_a_drill_come_last()
 {
    let (mut held, mut last) = (0, 0);
    let own = super::coach::sheets().iter();
    let own = own.map(|(scenario, _, practice, _)| (&*scenario.name, practice));
    let more = super::asked::all().iter();
    let more = more.map(|(name, _, practice, _)| (&**name, practice));
    for (name, practice) in own.chain(more) {
        let mut next = 0;
        for n in in_turn(practice) {
            assert!(n <= next, "{name}: finding {} before {next}", n + 1);
            next = next.max(n + 1);
            held += 1;
        }
        for said in &practice.findings[next..] {
            assert!(said.text.contains(" No drill"), "{name}: {said:?}");
            last += 1;
        }
    }
    assert!(held >= 40 && last >= 5, "{held} {last}");
}

#[test]
fn both_answers_of_a_read_are_drawn() {
    let (mut passes, mut feeds) = (0, 0);
    for (scenario, _, practice, _) in super::coach::sheets() {
        for drill in &practice.breakdowns {
            let scene = &drill.scene;
            let thrown: Vec<Vec2> = scene
                .items
                .iter()
                .filter_map(|item| match item {
                    Item::Arrow {
                        kind: ArrowKind::Pass,
                        path,
                        ..
                    } => path.last().copied(),
                    _ => None,
                })
                .collect();
            let comes = |at: Vec2| thrown.iter().any(|p| (*p - at).length() < 0.5);
            let name = format!("{}: {}", scenario.name, drill.block());
            let to = drill.next.split_once(" passes to ");
            if let Some((_, to)) = to.or(drill.next.split_once(" the skip pass to ")) {
                let to: u8 = to[..1].parse().expect("a number");
                assert!(comes(end(scene, to).expect("is drawn")), "{name}");
                passes += 1;
            }
            // The feed to whoever seals or flashes ends farthest from where that player stands.
            let shows = drill.cue.split_once(" feeds ").map(|(_, to)| to);
            if let Some(to) = shows {
                let to: u8 = to[..1].parse().expect("a number");
                let from = stands(scene, to).expect("is drawn");
                assert!(thrown.iter().any(|p| (*p - from).length() > 1.0), "{name}");
                feeds += 1;
            }
        }
    }
    assert!(passes >= 8 && feeds >= 1, "{passes} {feeds}");
    let mut looks = 0;
    for (scenario, _, practice, text) in super::coach::sheets() {
        assert!(text.contains("“else” on the picture"), "{}", scenario.name);
        for look in &practice.looks {
            let Some(scene) = &look.begins else { continue };
            let (_, second) = look.cue.text.rsplit_once(": ").expect("the other half");
            let to = second.split_once(" passes to ");
            let to = to.or(second.split_once(" skip pass to "));
            let Some((_, to)) = to.or(second.split_once(" feeds ")) else {
                continue;
            };
            let to: u8 = to[..1].parse().expect("a number");
            let at = end(scene, to).expect("is drawn");
            let thrown = |item: &Item| matches!(item, Item::Arrow { kind: ArrowKind::Pass, path, .. } if path.last().is_some_and(|p| (*p - at).length() < 0.5));
            let name = format!("{}: {}", scenario.name, look.name);
            assert!(scene.items.iter().any(thrown), "{name}: {second}");
            let label = |item: &&Item| matches!(item, Item::Label { text, .. } if text.starts_with("else to "));
            assert_eq!(scene.items.iter().filter(label).count(), 1, "{name}");
            looks += 1;
        }
    }
    assert!(looks >= 6, "{looks}");
}

#[test]
fn nobody_has_cut_in_the_pictures_of_the_shell_and_only_the_ball_has_gone_on() {
    let mut held = 0;
    for (scenario, _, practice, _) in super::coach::sheets() {
        let Some((first, others)) = practice.shells.split_first() else {
            continue;
        };
        for other in others {
            held += 1;
            assert_ne!(first.ball, other.ball, "{}", scenario.name);
            for (a, b) in first.frame.attackers.iter().zip(other.frame.attackers) {
                assert!((b - *a).length() < 0.1, "{}: {a:?} {b:?}", scenario.name);
            }
        }
    }
    assert!(held >= 4, "{held}");
}
