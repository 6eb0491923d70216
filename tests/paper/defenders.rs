//! The defenders' sheets: each reason of a place is what the looks say with that defender a step off.

use lanelight::court::Vec2;
use lanelight::draw::light::Replay;
use lanelight::draw::sheet::Paper;
use lanelight::draw::sheet::handout::{reasons, shell_pages};
use lanelight::draw::sheet::scout::Scouted;
use lanelight::draw::shell::{lit_shells, reasoned_shells};
use lanelight::scenario::Scenario;
use lanelight::why::step::{FARTHEST, STEP, Way};

/// How far a step goes toward what a way names, metres.
fn toward(way: Way, place: Vec2, step: Vec2, ball: Vec2, player: Vec2) -> f64 {
    let (target, sign) = match way {
        Way::Ball(toward) => (ball, toward),
        Way::Player(toward, _) => (player, toward),
        Way::Rim(toward) => (Vec2::ZERO, toward),
        Way::Midline(toward) => (Vec2::new(0.0, place.y), toward),
        Way::Across(_) => return -step.x * place.x.signum(),
    };
    let nearer = (target - place).length() - (target - place - step).length();
    if sign { nearer } else { -nearer }
}

#[test]
fn every_reason_of_a_place_is_what_opens_with_that_defender_moved_and_nobody_else() {
    let (mut held, mut opens, mut nothing) = (0, 0, 0);
    for defence in ["help_line", "denial", "sag", "zone_2_3"] {
        let level = lanelight::squad::Level::VarsityBoys;
        let court = lanelight::court::CourtCode::Nfhs;
        let scenario =
            Scenario::from_parts(court, level, "four_out_one_post", defence, &[]).expect("sound");
        let untaught = reasoned_shells(&scenario);
        for (index, (shell, mut lit)) in lit_shells(&scenario).into_iter().enumerate() {
            // The light is of the very places that are drawn.
            for (d, place) in shell.frame.defenders.iter().enumerate() {
                assert_eq!(lit.instant.old.scene.pos[5 + d], *place);
            }
            let holder = shell.frame.holder.expect("a holder");
            assert_eq!(lit.instant.hold.by + 1, usize::from(holder));
            let before = lit.looks.clone();
            let posts = shell.posts(&mut lit);
            assert_eq!(posts.len(), 5);
            // The sheets of other defences say the same without anything learnt.
            assert_eq!(untaught[index].1, posts, "{defence}, {}", shell.ball);
            for post in posts {
                let said = reasons(&post, scenario.court.units);
                println!("{defence}, {}: {said}", shell.ball);
                let Some(first) = post.opens.first() else {
                    assert!(said.ends_with("next pass or drive."), "{said}");
                    assert_eq!(post.steps, FARTHEST);
                    nothing += 1;
                    continue;
                };
                let body = 4 + usize::from(post.defender);
                let place = lit.instant.old.scene.pos[body];
                let player = shell.frame.attackers[usize::from(post.guards) - 1];
                let found = (0..8).any(|turn| {
                    let angle = f64::from(turn) * std::f64::consts::FRAC_PI_4;
                    let off = STEP * f64::from(post.steps);
                    let step = Vec2::new(libm::cos(angle), libm::sin(angle)) * off;
                    let mut moved = lit.instant.clone();
                    moved.old.scene.pos[body] = place + step;
                    let looks = moved.looks(&lit.play);
                    let same = looks
                        .iter()
                        .find(|l| l.kind == first.look.kind && l.to == first.look.to);
                    let was = before
                        .iter()
                        .find(|l| l.kind == first.look.kind && l.to == first.look.to);
                    let (now, was) = (same.expect("the look"), was.map_or(0.0, |l| l.openness));
                    (now.openness - first.openness().1).abs() < 1e-9
                        && (was - first.openness().0).abs() < 1e-9
                        && now.open >= first.opens()
                        && toward(first.way, place, step, lit.instant.ball(), player) > 0.3 * STEP
                        && moved.old.scene.pos.iter().enumerate().all(|(i, p)| {
                            i == body || (p - moved.old.scene.pos[body]).length() > 0.69
                        })
                });
                assert!(found, "{defence}, {}: {said}", shell.ball);
                let words = said.split_whitespace().count();
                assert!(words <= 45, "{words} words: {said}");
                opens += usize::from(first.opens());
                held += 1;
            }
        }
    }
    // Most are told what the own place shuts (4 of 15 of the demo against its help line are not).
    assert!(2 * nothing < held, "{nothing} of {held} are told nothing");
    println!("{held} reasons, {opens} open a look, {nothing} places are covered by others");
    assert!(held > 25 && opens > 10, "{held} {opens}");
}

#[test]
fn the_sheets_of_the_defence_are_its_places_its_scouting_page_and_the_others() {
    let scenario = Scenario::demo();
    let summary = super::summary(&scenario, 100);
    let replays = Replay::many(&scenario, 1..41);
    let scouted = Scouted::of(&scenario, &summary, &replays);
    assert!(
        scouted.parts.iter().all(|(_, lines)| !lines.is_empty()),
        "{:?}",
        scouted.parts
    );
    assert!(scouted.huddle.len() >= 2, "{:?}", scouted.huddle);
    // What is not to be forced is not attacked either, and no look is left in order to shut the same.
    assert!(
        !scouted
            .huddle
            .iter()
            .any(|l| l.contains("the defender on the ball"))
    );
    assert!((2..=3).contains(&scouted.help.len()));
    let ours = |name| {
        scenario
            .offence
            .alignment
            .iter()
            .any(|s| s.at.parts().map(|p| p.0) == Some(name))
    };
    assert!(
        scouted
            .help
            .iter()
            .all(|(name, _)| ours(*name) || !name.is_centre())
    );
    for paper in Paper::ALL {
        let pages = shell_pages(&scenario, Some(&scouted), &[], paper);
        let pdf = lanelight::draw::print::pdf("shell", &pages).expect("pdf");
        super::keep(&format!("shell_{}.pdf", paper.word()), &pdf);
        // The places on one page, what to know of the defence on one.
        assert!(pages.len() <= 2, "{} pages", pages.len());
        let text = super::words(&pages);
        for said in scouted.parts.iter().flat_map(|(_, lines)| lines) {
            let whole = lanelight::clean::escape(&said.text);
            assert!(text.contains(&whole), "{whole}");
        }
        assert!(
            text.contains("Scouting: ") && text.contains("a step off") || text.contains("A step ")
        );
    }
    // The others say why, too.
    let other = Scenario::from_parts(
        scenario.court.code,
        lanelight::squad::Level::VarsityBoys,
        "four_out_one_post",
        "switching",
        &[],
    );
    let mut set = scenario.clone();
    set.defence = other.expect("sound").defence;
    let pages = shell_pages(
        &scenario,
        None,
        std::slice::from_ref(&set.defence),
        Paper::A4,
    );
    let text = super::words(&pages[1..]);
    let posts = reasoned_shells(&set)
        .into_iter()
        .flat_map(|(_, posts)| posts);
    let said: Vec<String> = posts.map(|p| reasons(&p, scenario.court.units)).collect();
    assert!(
        pages.len() == 2 && said.len() > 10,
        "{} pages, {} said",
        pages.len(),
        said.len()
    );
    for line in said {
        assert!(text.contains(&lanelight::clean::escape(&line)), "{line}");
    }
    let few = super::summary(&scenario, 5);
    let few = Scouted::of(&scenario, &few, &replays);
    assert!(few.parts.is_empty() && few.huddle.is_empty());
}
