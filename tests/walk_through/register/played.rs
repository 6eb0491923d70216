//! Words that need a holder who chooses, a defender who acts, or a clock.

use lanelight::defence::{Defence, OffBallScreens};
use lanelight::offence::{CutLane, LookKind};

use super::*;

const NO_RULES: &str = "";

fn look(word: &'static str, reading: &'static str, shows: fn(&Possession) -> bool) -> Played {
    Played {
        rules: NO_RULES,
        reading,
        words: vec![("LookKind", word)],
        defend: |_| {},
        shows,
        done: false,
    }
}

/// Is a pass thrown that is that look?
fn passed(p: &Possession, kind: LookKind) -> bool {
    let is = |what: &What| matches!(what, What::Passes { look, .. } if *look == kind);
    p.timeline.iter().any(|e| is(&e.what))
}

fn fires(p: &Possession) -> bool {
    p.timeline
        .iter()
        .any(|e| matches!(e.what, What::Rule { .. }))
}

fn ruled(rules: &'static str, done: bool) -> Played {
    Played {
        rules,
        reading: "drive, next_pass",
        words: Vec::new(),
        defend: |_| {},
        shows: fires,
        done,
    }
}

/// The wing screens down for the block, who comes off by one way.
fn way(rules: &'static str, defend: fn(&mut Defence), shows: fn(&Possession) -> bool) -> Played {
    Played {
        reading: "next_pass",
        defend,
        shows,
        ..ruled(rules, false)
    }
}

fn cuts(p: &Possession, by: CutLane) -> bool {
    let is = |what: &What| matches!(what, What::Cuts { who: 5, lane, .. } if *lane == by);
    p.timeline.iter().any(|e| is(&e.what))
}

macro_rules! off {
    ($ways:literal) => {
        concat!(
            "(name: \"w\", when: ball_on(at: top, seconds: 0.4), do: [(who: at(wing(ball)), does: screen_for(whom: post, \
             after: fill(block(ball)))), (who: post, does: use_screen(of: at(wing(ball)), to: wing(ball), ways: [",
            $ways,
            "], unfed: fill(wing(ball))))])"
        )
    };
}

pub fn cases() -> Vec<Played> {
    let mut all = looks();
    all.extend([
        ruled(
            "(name: \"clock\", when: clock(left: 20), do: [(who: player(4), does: fill(short_corner(own)), only_if: \
             [time_under(25), off_ball])])",
            true,
        ),
        ruled(
            "(name: \"next\", when: ball_on(at: top, seconds: 0.4), do: [(who: holder, does: pass_next(at(wing(weak))))])",
            true,
        ),
        ruled(
            "(name: \"helped\", when: helped(from: any), do: [(who: left_alone, does: fill(short_corner(own)))])",
            true,
        ),
        way(
            off!("curl"),
            |d| d.off_ball_screens = Some(OffBallScreens::Chase),
            |p| cuts(p, CutLane::BallSide),
        ),
        way(
            off!("back_cut"),
            |d| d.off_ball_screens = Some(OffBallScreens::Under),
            |p| cuts(p, CutLane::Behind),
        ),
        way(
            off!("fade"),
            |d| d.off_ball_screens = Some(OffBallScreens::Under),
            |p| p.timeline.iter().any(|e| matches!(e.what, What::Fades { who: 5, .. })),
        ),
    ]);
    all
}

fn looks() -> Vec<Played> {
    let drives = |p: &Possession| {
        p.timeline
            .iter()
            .any(|e| matches!(e.what, What::Drives { .. }))
    };
    let shoots = |p: &Possession| {
        p.timeline
            .iter()
            .any(|e| matches!(e.what, What::Shoots { .. }))
    };
    vec![
        look("shot", "shot, next_pass", shoots),
        look("drive", "drive, next_pass", drives),
        look("next_pass", "next_pass", |p| passed(p, LookKind::NextPass)),
        look("skip", "skip, next_pass", |p| passed(p, LookKind::Skip)),
        look("post", "post, next_pass", |p| passed(p, LookKind::Post)),
        look("kick_out", "drive, kick_out", |p| {
            passed(p, LookKind::KickOut)
        }),
        Played {
            rules: "(name: \"d\", when: drive(from: any), do: [(who: post, does: drop_off)])",
            ..look("drop_off", "drive, drop_off", |p| {
                passed(p, LookKind::DropOff)
            })
        },
        Played {
            rules: "(name: \"c\", when: pass(from: top, to: wing(ball)), do: [(who: passer, does: cut(lane: ball_side, \
                    unfed: fill(top)))]), (name: \"fed\", when: pass(from: any, to: rim), do: [(who: player(3), does: \
                    fill(slot(weak)))])",
            ..look("give_and_go", "give_and_go, next_pass", |p| {
                let fed = |what: &What| matches!(what, What::Rule { rule: 1, .. });
                passed(p, LookKind::GiveAndGo) && p.timeline.iter().any(|e| fed(&e.what))
            })
        },
        Played {
            rules: "(name: \"b\", when: denied(at: wing(either), ball: top, seconds: 0.4), do: [(who: denied, does: \
                    cut(lane: behind, unfed: fill(corner(own))))])",
            defend: |d| {
                let one = &mut d.stances.one_pass;
                (one.man, one.ball, one.rim) = (0.82, 0.17, 0.01);
                (one.gap, one.deny) = ((0.7, 1.1), true);
            },
            ..look("backdoor", "backdoor, next_pass", |p| {
                passed(p, LookKind::Backdoor)
            })
        },
    ]
}
