//! What a coach knows of the reference offence (common practice), each claim with how it is measured.

use lanelight::court::CourtCode;
use lanelight::stats::Estimate;

use super::help::Deed;
use super::lab::{Change, Digest, Lab, Pair, Tier};

/// The three man-to-man models that the claims tell apart.
const MODELS: [(&str, &str); 3] = [
    ("sag", "sag"),
    ("help_line", "help line"),
    ("denial", "denial"),
];
/// Every shipped man-to-man.
const MAN_TO_MAN: [(&str, &str); 4] = [
    ("sag", "sag"),
    ("help_line", "help line"),
    ("denial", "denial"),
    ("mixed_professional", "mixed"),
];
/// Other bars to shoot than the fitted one, points more or less.
const BARS: [(f64, &str); 3] = [
    (-1.0, "at once"),
    (-0.08, "0.08 lower"),
    (0.08, "0.08 higher"),
];
/// What another bar may gain at most, points.
const BAR_GAINS: f64 = 0.02;

/// How a figure stands to what is claimed.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Verdict {
    Fails,
    Open,
    Holds,
}

impl Verdict {
    pub fn word(self) -> &'static str {
        match self {
            Verdict::Fails => "does not hold",
            Verdict::Open => "too close to call",
            Verdict::Holds => "holds",
        }
    }
}

/// What a figure has to be.
#[derive(Clone, Copy, Debug)]
enum Wanted {
    Above(f64),
    AtMost(f64),
}

/// One part of a claim, measured.
#[derive(Clone, Debug)]
pub struct Finding {
    /// Which match-up and figure.
    pub part: String,
    /// The figure with its 95 % interval; none if nothing was seen of it.
    pub estimate: Option<Estimate>,
    /// What it rests on, where that matters.
    pub note: String,
    pub verdict: Verdict,
}

fn finding(part: impl Into<String>, estimate: Option<Estimate>, wanted: Wanted) -> Finding {
    let verdict = match (estimate, wanted) {
        (Some(e), Wanted::Above(x)) if e.low > x => Verdict::Holds,
        (Some(e), Wanted::Above(x)) if e.high <= x => Verdict::Fails,
        (Some(e), Wanted::AtMost(x)) if e.high <= x => Verdict::Holds,
        (Some(e), Wanted::AtMost(x)) if e.low > x => Verdict::Fails,
        _ => Verdict::Open,
    };
    Finding {
        part: part.into(),
        estimate,
        note: String::new(),
        verdict,
    }
}

/// One claim. Its findings are differences on the same seeds unless its sentence says otherwise.
pub struct Claim {
    pub name: &'static str,
    pub sentence: &'static str,
    /// Measures at least the parts whose words hold the second argument: nothing is played for others alone.
    pub measure: fn(&Lab, &str) -> Vec<Finding>,
}

/// Every claim, all of them common practice.
pub const CLAIMS: [Claim; 14] = [
    Claim {
        name: "cut",
        sentence: "Pass and cut is worth more than pass and stand (points per possession more).",
        measure: cut,
    },
    Claim {
        name: "help_answered",
        sentence: "When the post's defender helps in time, most attacks are answered by a pass (share, above 0.5).",
        measure: help_answered,
    },
    Claim {
        name: "help_punished",
        sentence: "That pass is worth more than the shot through the help (points more).",
        measure: help_punished,
    },
    Claim {
        name: "zone",
        sentence: "The motion offence makes fewer points against the 2-3 zone than against any man-to-man (points fewer).",
        measure: zone,
    },
    Claim {
        name: "denial_slows",
        sentence: "Denial makes possessions longer than sag does (seconds more).",
        measure: denial_slows,
    },
    Claim {
        name: "denial_takes",
        sentence: "Denial takes more balls than sag does (share of possessions more).",
        measure: denial_takes,
    },
    Claim {
        name: "denial_backdoor",
        sentence: "Denial leaves more backdoor chances than sag does, and the backdoor pays (chances more; points more).",
        measure: denial_backdoor,
    },
    Claim {
        name: "sag",
        sentence: "Sag gives up the fewest shots at the rim, the fewest post feeds and the most open threes (per possession).",
        measure: sag,
    },
    Claim {
        name: "help_line",
        sentence: "The help line leaves the most skip passes and weak-side threes (open windows per possession more).",
        measure: help_line,
    },
    Claim {
        name: "slower",
        sentence: "Slower defenders help the offence (points per possession more).",
        measure: slower,
    },
    Claim {
        name: "shooters",
        sentence: "Better shooters help the offence (points per possession more).",
        measure: shooters,
    },
    Claim {
        name: "spacing",
        sentence: "Wider spacing helps the offence (points per possession more).",
        measure: spacing,
    },
    Claim {
        name: "still_post",
        sentence: "A post who never moves hurts the offence (points per possession fewer).",
        measure: still_post,
    },
    Claim {
        name: "bar",
        sentence: "Another bar to shoot gains at most 0.02 points per possession.",
        measure: bar,
    },
];

const WORTH: Pair = |d| (d.worth, 1.0);

fn yes(b: bool) -> f64 {
    f64::from(u8::from(b))
}

fn shipped(defence: &str) -> (&str, Change) {
    (defence, Change::Shipped)
}

fn cut(lab: &Lab, _: &str) -> Vec<Finding> {
    MODELS
        .map(|(defence, word)| {
            let still = (defence, Change::PassAndStand);
            let gain = lab.gain(still, shipped(defence), WORTH);
            finding(format!("against {word}"), gain, Wanted::Above(0.0))
        })
        .into()
}

fn bar(lab: &Lab, wanted: &str) -> Vec<Finding> {
    let mut found = Vec::new();
    for (defence, word) in MAN_TO_MAN {
        for (points, said) in BARS {
            let part = format!("{said}, against {word}");
            if !part.contains(wanted) {
                continue;
            }
            let other = (defence, Change::AsksMore(points));
            let gain = lab.gain(shipped(defence), other, WORTH);
            found.push(finding(part, gain, Wanted::AtMost(BAR_GAINS)));
        }
    }
    found
}

fn deeds(d: &Digest, deed: Deed) -> (f64, f64) {
    let of = d.helped.iter().filter(|h| h.deed == deed);
    of.fold((0.0, 0.0), |(y, x), h| (y + h.worth, x + 1.0))
}

fn help_answered(lab: &Lab, _: &str) -> Vec<Finding> {
    MODELS
        .map(|(defence, word)| {
            let share: Pair = |d| (deeds(d, Deed::Pass).1, d.helped.len() as f64);
            let found = lab.share(shipped(defence), share);
            let played = lab.play(defence, Change::Shipped);
            let count = |deed| played.iter().map(|d| deeds(d, deed).1).sum::<f64>();
            Finding {
                note: format!(
                    "{} passes, {} shots, {} lost",
                    count(Deed::Pass),
                    count(Deed::Shot),
                    count(Deed::Lost)
                ),
                ..finding(format!("against {word}"), found, Wanted::Above(0.5))
            }
        })
        .into()
}

fn help_punished(lab: &Lab, _: &str) -> Vec<Finding> {
    MODELS
        .map(|(defence, word)| {
            let (through, answer): (Pair, Pair) =
                (|d| deeds(d, Deed::Shot), |d| deeds(d, Deed::Pass));
            let more = lab.within(shipped(defence), through, answer);
            let figure = |pair| {
                let mean = lab.mean(shipped(defence), pair);
                mean.map_or("none".into(), |e: Estimate| format!("{:.2}", e.value))
            };
            Finding {
                note: format!("pass {}, shot {}", figure(answer), figure(through)),
                ..finding(format!("against {word}"), more, Wanted::Above(0.0))
            }
        })
        .into()
}

fn zone(lab: &Lab, _: &str) -> Vec<Finding> {
    MAN_TO_MAN
        .map(|(defence, word)| {
            let fewer = lab.gain(shipped("zone_2_3"), shipped(defence), WORTH);
            let figure = |d| {
                let mean = lab.mean(shipped(d), WORTH);
                mean.map_or(f64::NAN, |e| e.value)
            };
            Finding {
                note: format!(
                    "{word} {:.3}, zone {:.3}",
                    figure(defence),
                    figure("zone_2_3")
                ),
                ..finding(format!("than against {word}"), fewer, Wanted::Above(0.0))
            }
        })
        .into()
}

/// By how much `pair` is above in the first of two shipped match-ups.
fn above(lab: &Lab, part: &str, more: &str, less: &str, pair: Pair) -> Finding {
    let gain = lab.gain(shipped(less), shipped(more), pair);
    let figure = |d| {
        let mean = lab.mean(shipped(d), pair);
        mean.map_or(f64::NAN, |e| e.value)
    };
    Finding {
        note: format!("{:.3} against {:.3}", figure(more), figure(less)),
        ..finding(part, gain, Wanted::Above(0.0))
    }
}

fn denial_slows(lab: &Lab, _: &str) -> Vec<Finding> {
    vec![above(lab, "length", "denial", "sag", |d| (d.duration, 1.0))]
}

fn denial_takes(lab: &Lab, _: &str) -> Vec<Finding> {
    vec![above(lab, "lost balls", "denial", "sag", |d| {
        (yes(d.lost), 1.0)
    })]
}

fn denial_backdoor(lab: &Lab, wanted: &str) -> Vec<Finding> {
    let chances: Pair = |d| (f64::from(d.backdoors), 1.0);
    let fed: Pair = |d| {
        let fed = yes(d.backdoor_feeds > 0);
        (fed * d.worth, fed)
    };
    let others: Pair = |d| {
        let not = yes(d.backdoor_feeds == 0);
        (not * d.worth, not)
    };
    let denial = shipped("denial");
    let mut found = vec![
        above(lab, "backdoor chances", "denial", "sag", chances),
        finding(
            "possessions with a pass to a backdoor cut against those without",
            lab.within(denial, others, fed),
            Wanted::Above(0.0),
        ),
    ];
    let part = "the offence with its backdoor rules against it without";
    if part.contains(wanted) {
        let without = lab.gain(("denial", Change::NoBackdoor), denial, WORTH);
        found.push(finding(part, without, Wanted::Above(0.0)));
    }
    found
}

fn sag(lab: &Lab, _: &str) -> Vec<Finding> {
    let rim: Pair = |d| (yes(d.rim_shot), 1.0);
    let feeds: Pair = |d| (f64::from(d.post_feeds), 1.0);
    let threes: Pair = |d| (yes(d.open_three), 1.0);
    let mut found = Vec::new();
    for (other, word) in [("help_line", "help line"), ("denial", "denial")] {
        let part = |what: &str| format!("{what}, {word}");
        found.push(above(
            lab,
            &part("shots at the rim fewer than"),
            other,
            "sag",
            rim,
        ));
        found.push(above(
            lab,
            &part("post feeds fewer than"),
            other,
            "sag",
            feeds,
        ));
        found.push(above(
            lab,
            &part("open threes more than"),
            "sag",
            other,
            threes,
        ));
    }
    found
}

fn help_line(lab: &Lab, _: &str) -> Vec<Finding> {
    let skips: Pair = |d| (f64::from(d.skips), 1.0);
    let threes: Pair = |d| (f64::from(d.weak_threes), 1.0);
    let mut found = Vec::new();
    for other in ["sag", "denial"] {
        let part = |what: &str| format!("{what} than {other}");
        found.push(above(
            lab,
            &part("skip passes more"),
            "help_line",
            other,
            skips,
        ));
        found.push(above(
            lab,
            &part("weak-side threes more"),
            "help_line",
            other,
            threes,
        ));
    }
    found
}

/// Over sag, help line and denial together.
fn together(lab: &Lab, from: Change, to: Change) -> Vec<Finding> {
    let gain = lab.gain_over(&MODELS.map(|m| m.0), from, to, WORTH);
    vec![finding(
        "sag, help line and denial together",
        gain,
        Wanted::Above(0.0),
    )]
}

fn slower(lab: &Lab, _: &str) -> Vec<Finding> {
    together(lab, Change::Shipped, Change::SlowerDefenders)
}

fn shooters(lab: &Lab, _: &str) -> Vec<Finding> {
    together(lab, Change::Shipped, Change::BetterShooters)
}

fn spacing(lab: &Lab, _: &str) -> Vec<Finding> {
    let court = lab.tier.court_of_spacing();
    let on = |spots| Change::Spots { court, spots };
    let usual = match lab.tier {
        Tier::Varsity => Change::Shipped,
        Tier::Professional => on(court),
    };
    together(lab, usual, on(CourtCode::Nba))
}

fn still_post(lab: &Lab, _: &str) -> Vec<Finding> {
    together(lab, Change::StillPost, Change::Shipped)
}
