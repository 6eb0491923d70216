//! Is a defence sound? Everything that is wrong with it or odd about it, at once, with the words of
//! its language. Bounds are invented: wide enough for any sensible file.

use crate::offence::check::{Finding, name, number, within};
use crate::offence::words::Word;

use super::{Area, Chaser, Defence, Helper, Override, Relation, Stance, Switch};

/// Greatest distance on a half court that a file may give, metres.
const FARTHEST: f64 = 20.0;
/// Half the width of the widest court and a little, metres.
const WIDEST: f64 = 8.0;

/// Share of the way to the midline by which a defender on the ball may stand farther from it than the mix says.
const AWAY: f64 = -0.5;

/// The words of a defence file and what they mean; the guide is tested against them.
pub const WORDS: [(&str, &[Word]); 7] = [
    (
        "Relation",
        &[
            Word {
                word: "on_ball",
                means: "the man has the ball",
            },
            Word {
                word: "one_pass",
                means: "the man is one pass away, counted along the perimeter",
            },
            Word {
                word: "two_passes",
                means: "the man is two or more passes away",
            },
            Word {
                word: "post_ball_side",
                means: "the man plays inside on the ball side",
            },
            Word {
                word: "post_weak_side",
                means: "the man plays inside on the weak side",
            },
            Word {
                word: "cutter",
                means: "the man cuts to the rim",
            },
        ],
    ),
    (
        "Gaze",
        &[
            Word {
                word: "ball",
                means: "looks at the ball and sees the man only in a glance",
            },
            Word {
                word: "man",
                means: "looks at the man",
            },
            Word {
                word: "both",
                means: "stands open to both, half way between them",
            },
        ],
    ),
    (
        "Helper",
        &[
            Word {
                word: "nobody",
                means: "everyone stays with their man",
            },
            Word {
                word: "low_man",
                means: "the weak-side defender nearest the rim",
            },
            Word {
                word: "nearest",
                means: "whoever can reach the lane first",
            },
        ],
    ),
    (
        "Switch",
        &[
            Word {
                word: "never",
                means: "men are never traded",
            },
            Word {
                word: "on_screens",
                means: "two defenders trade men at a screen",
            },
        ],
    ),
    (
        "OffBallScreens",
        &[
            Word {
                word: "chase",
                means: "behind the own player, round the screen",
            },
            Word {
                word: "under",
                means: "under the screen, to meet the own player beyond",
            },
        ],
    ),
    (
        "BallScreens",
        &[
            Word {
                word: "over",
                means: "the defender on the ball goes over the screen, after the ball",
            },
            Word {
                word: "under",
                means: "the defender on the ball goes under the screen",
            },
            Word {
                word: "switch",
                means: "the two defenders trade men",
            },
            Word {
                word: "show",
                means: "over; the other shows in front of the ball and recovers",
            },
            Word {
                word: "show_early",
                means: "the same, but steps out before the ball comes",
            },
            Word {
                word: "contain",
                means: "over; the other drops back between ball and rim",
            },
            Word {
                word: "trap",
                means: "over; both stay on the ball until it is passed",
            },
        ],
    ),
    (
        "Stance",
        &[
            Word {
                word: "man",
                means: "share of the man in the place where the defender stands",
            },
            Word {
                word: "ball",
                means: "share of the ball",
            },
            Word {
                word: "rim",
                means: "share of the rim",
            },
            Word {
                word: "midline",
                means: "how far the defender is drawn to the midline: 0 not at all, 1 onto it; on the ball below 0 away from it",
            },
            Word {
                word: "gap",
                means: "least and greatest distance from the man",
            },
            Word {
                word: "gaze",
                means: "where the defender looks",
            },
            Word {
                word: "deny",
                means: "a hand in the passing lane",
            },
        ],
    ),
];

/// Everything wrong with or odd about a defence.
pub fn check(defence: &Defence) -> Vec<Finding> {
    let mut found = Vec::new();
    name(&defence.name, "name", &mut found);
    for relation in Relation::ALL {
        let at = format!("stances/{}", key(relation));
        stance(defence.stances.of(relation), &at, &mut found);
    }
    help(defence, &mut found);
    within(
        defence.closeout.short,
        0.0,
        5.0,
        " metres",
        "closeout/short",
        &mut found,
    );
    within(
        defence.closeout.pace,
        0.1,
        1.0,
        "",
        "closeout/pace",
        &mut found,
    );
    overrides(&defence.overrides, &mut found);
    tag(defence, &mut found);
    if let Some(areas) = &defence.zone {
        zone(areas, defence.chasers.len(), &mut found);
        chasers(&defence.chasers, areas, &mut found);
        if defence.ball_screens.is_some() {
            let said = "a zone does nothing about a screen on the ball: leave `ball_screens` out";
            found.push(Finding::error("ball_screens", said));
        }
        if defence.off_ball_screens.is_some() {
            let said = "a zone does nothing about a screen: leave `off_ball_screens` out";
            found.push(Finding::error("off_ball_screens", said));
        }
        if defence.trap_corners {
            let said = "a zone guards areas: leave `trap_corners` out";
            found.push(Finding::error("trap_corners", said));
        }
        if defence.switch == Switch::OnScreens {
            let said = "a zone trades nobody at screens: leave `switch` out";
            found.push(Finding::error("switch", said));
        }
    }
    if defence.zone.is_none() && !defence.chasers.is_empty() {
        let said = "only a zone has chasers: man to man everybody goes with one attacker";
        found.push(Finding::error("chasers", said));
    }
    found
}

/// The word for a relation in files.
pub fn key(relation: Relation) -> &'static str {
    match relation {
        Relation::OnBall => "on_ball",
        Relation::OnePass => "one_pass",
        Relation::TwoPasses => "two_passes",
        Relation::PostBallSide => "post_ball_side",
        Relation::PostWeakSide => "post_weak_side",
        Relation::Cutter => "cutter",
    }
}

fn stance(stance: &Stance, at: &str, found: &mut Vec<Finding>) {
    let shares = [
        ("man", stance.man),
        ("ball", stance.ball),
        ("rim", stance.rim),
    ];
    let before = found.len();
    for (key, share) in shares {
        within(share, 0.0, 100.0, "", &format!("{at}/{key}"), found);
    }
    if found.len() == before && shares.iter().all(|(_, share)| *share == 0.0) {
        let said = "the shares of man, ball and rim are all zero: the defender stands nowhere";
        found.push(Finding::error(at, said));
    }
    // Only on the ball is there a reason to stand on the far side of the midline's.
    let away = if at.ends_with(key(Relation::OnBall)) {
        AWAY
    } else {
        0.0
    };
    within(
        stance.midline,
        away,
        1.0,
        "",
        &format!("{at}/midline"),
        found,
    );
    let (least, most) = stance.gap;
    within(
        least,
        0.0,
        FARTHEST,
        " metres",
        &format!("{at}/gap/0"),
        found,
    );
    within(
        most,
        0.0,
        FARTHEST,
        " metres",
        &format!("{at}/gap/1"),
        found,
    );
    if least > most {
        let said = "the gap is written the wrong way round: the least distance comes first";
        found.push(Finding::error(format!("{at}/gap"), said));
    }
}

fn help(defence: &Defence, found: &mut Vec<Finding>) {
    let help = &defence.help;
    within(help.within, 0.0, FARTHEST, " metres", "help/within", found);
    within(help.depth, 0.0, FARTHEST, " metres", "help/depth", found);
    within(help.stunt, 0.0, FARTHEST, " metres", "help/stunt", found);
    if help.depth > help.within {
        let said = "the helper would meet the ball farther out than where the help begins: \
                    `depth` is greater than `within`";
        found.push(Finding::error("help/depth", said));
    }
    if help.who == Helper::Nobody && help.rotate {
        let said = "nobody helps, so that nobody will rotate";
        found.push(Finding::warning("help/rotate", said));
    }
}

/// Somebody tags a roller only where the roller's own defender has gone with the ball.
fn tag(defence: &Defence, found: &mut Vec<Finding>) {
    if defence.tag.is_none_or(|who| who == Helper::Nobody) {
        return;
    }
    if defence.zone.is_some() {
        let said = "a zone does nothing about a screen on the ball: leave `tag` out";
        found.push(Finding::error("tag", said));
    } else if !defence.meets_ball_screens().leaves_the_screener() {
        let said = "nobody has to tag the roller: the roller's own defender, or the one who takes the roller, is there";
        let finding = Finding::error("tag", said)
            .expected("`ball_screens: show`, `show_early`, `contain` or `trap` beside it");
        found.push(finding.rests_on("ball_screens"));
    }
}

fn overrides(overrides: &[Override], found: &mut Vec<Finding>) {
    for (index, own) in overrides.iter().enumerate() {
        let at = format!("overrides/{index}");
        if index >= 5 {
            found.push(Finding::error(
                at,
                "more overrides than there are defenders",
            ));
            return;
        }
        number(own.defender, &format!("{at}/defender"), found);
        if overrides[..index]
            .iter()
            .any(|other| other.defender == own.defender)
        {
            let said = format!("defender {} has overrides twice", own.defender);
            found.push(Finding::error(format!("{at}/defender"), said));
        }
        let mut none = true;
        for relation in Relation::ALL {
            if let Some(own) = own.of(relation) {
                none = false;
                stance(own, &format!("{at}/{}", key(relation)), found);
            }
        }
        if none {
            found.push(Finding::warning(at, "this overrides nothing"));
        }
    }
}

fn chasers(chasers: &[Chaser], areas: &[Area], found: &mut Vec<Finding>) {
    for (index, chaser) in chasers.iter().enumerate().take(5) {
        let at = format!("chasers/{index}");
        number(chaser.defender, &format!("{at}/defender"), found);
        number(chaser.player, &format!("{at}/player"), found);
        let before = &chasers[..index];
        let same = |other: &Chaser| other.defender == chaser.defender;
        if areas.iter().any(|area| area.defender == chaser.defender) || before.iter().any(same) {
            let said = format!("defender {} has another task already", chaser.defender);
            found.push(Finding::error(format!("{at}/defender"), said));
        }
        if before.iter().any(|other| other.player == chaser.player) {
            let said = format!("player {} is chased by two", chaser.player);
            found.push(Finding::error(format!("{at}/player"), said));
        }
    }
}

fn zone(areas: &[Area], chasers: usize, found: &mut Vec<Finding>) {
    if areas.len() + chasers != 5 {
        let said = match chasers {
            0 => format!("a zone has five areas, not {}", areas.len()),
            _ => format!(
                "areas and chasers of a zone are five in all, not {}",
                areas.len() + chasers
            ),
        };
        found.push(Finding::error("zone", said));
    }
    for (index, area) in areas.iter().enumerate().take(5) {
        let at = format!("zone/{index}");
        number(area.defender, &format!("{at}/defender"), found);
        if areas[..index]
            .iter()
            .any(|other| other.defender == area.defender)
        {
            let said = format!("defender {} has two areas", area.defender);
            found.push(Finding::error(format!("{at}/defender"), said));
        }
        within(
            area.x,
            -WIDEST,
            WIDEST,
            " metres",
            &format!("{at}/x"),
            found,
        );
        within(area.y, -2.0, 13.0, " metres", &format!("{at}/y"), found);
        within(area.shift.0, -1.0, 1.0, "", &format!("{at}/shift/0"), found);
        within(area.shift.1, -1.0, 1.0, "", &format!("{at}/shift/1"), found);
        within(
            area.covers,
            0.1,
            FARTHEST,
            " metres",
            &format!("{at}/covers"),
            found,
        );
    }
}
