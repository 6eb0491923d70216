//! Whom to read in a look that is rehearsed: what the defender is told to shut, and for either what was open at those
//! moments in the possessions. Nothing is coached that was mostly shut there.

use crate::court::Side;
use crate::offence::LookKind;
use crate::possession::Frame;
use crate::scenario::Scenario;
use crate::stats::Estimate;
use crate::why::{Seat, Summary, Where};

use super::drills::{Chosen, OFTEN};
use super::findings::{Said, percent, shuts};
use super::scoring::COUNT;

/// So large a share of the moments is most of them (ours: more often than not).
pub(super) const MOSTLY: f64 = 0.5;
/// What is taken instead was a look at so many moments of a possession at least (ours).
pub(super) const SEEN: f64 = 1.0;

/// What to do where the look is not there.
struct Other {
    words: String,
    /// "in" or "at" so many "of possessions while …", "of the moments with the ball at the …".
    how: &'static str,
    of: String,
    open: Estimate,
    key: String,
}

/// Where the ball is for a look: where it is taken, or from where it mostly came.
fn ball(summary: &Summary, drill: &Chosen) -> Option<Where> {
    let light = drill.light;
    if matches!(
        light.look,
        LookKind::Shot | LookKind::Drive | LookKind::GiveAndGo
    ) {
        return light.at;
    }
    let own = summary.looks.iter();
    let own = own.filter(|l| l.site.kind == light.look && l.site.to == light.at);
    let seen = |e: Option<Estimate>| e.map_or(0.0, |e| e.value);
    own.max_by(|a, b| seen(a.seen).total_cmp(&seen(b.seen)))?
        .site
        .from
}

/// What was open while that defender shut this look; else the pass that was open most with the ball there.
fn other(summary: &Summary, drill: &Chosen) -> Option<Other> {
    let light = drill.light;
    let left = summary.left.iter().enumerate();
    let closer = drill
        .left
        .and_then(|i| summary.left.get(i))
        .map(|l| l.closer);
    let meanwhile = left.filter_map(|(i, l)| {
        let own = Some(l.closer) == closer && l.shuts == light.look && l.light.look != light.look;
        let there = l.light.there.filter(|t| own && t.low >= OFTEN)?;
        Some(Other {
            words: l.light.words(),
            how: "in",
            of: format!("of possessions while {} is shut", light.words()),
            open: there,
            key: format!("left/{i}/light/there"),
        })
    });
    let best = meanwhile.max_by(|a, b| a.open.value.total_cmp(&b.open.value));
    if best.is_some() {
        return best;
    }
    let from = ball(summary, drill)?;
    let passes = summary.looks.iter().enumerate().filter_map(|(i, l)| {
        let pass = matches!(l.site.kind, LookKind::NextPass | LookKind::Skip);
        let own = pass && l.site.from == Some(from) && l.site.to != light.at;
        let often = l.seen.is_some_and(|s| s.value >= SEEN);
        let open = l.open.filter(|o| own && often && o.low >= MOSTLY)?;
        Some(Other {
            words: format!("the {} to the {}", l.site.kind.word(), l.site.to?.words()),
            how: "at",
            of: format!("of the moments with the ball at the {}", from.words()),
            open,
            key: format!("looks/{i}/open"),
        })
    });
    passes.max_by(|a, b| a.open.value.total_cmp(&b.open.value))
}

/// The number of the defender to read, 1–5, at the moment of `frame`: whoever is in that place; else whose player gets the
/// ball. `ball`: the ball's side.
pub(super) fn number(
    scenario: &Scenario,
    closer: Option<Seat>,
    frame: &Frame,
    (gets, ball): (u8, Side),
) -> Option<u8> {
    let seat = |d: usize| {
        let man = frame
            .attackers
            .get(usize::from(frame.guards[d]).checked_sub(1)?)?;
        let at = Where::of(scenario.court.nearest_spot(*man), ball);
        Some(Seat::of(frame.relations[d], frame.duties[d], at))
    };
    let own = |c: Seat| (0..5).find(|d| seat(*d).is_some_and(|s| s.who() == c.who()));
    let there = closer.and_then(own);
    let there = there.or_else(|| (0..5).find(|d| frame.guards[*d] == gets));
    there.map(|d| d as u8 + 1)
}

/// Whom to read, by the number on the picture, and what to do in either case.
pub(super) fn read(summary: &Summary, drill: &Chosen, number: Option<u8>) -> Said {
    let look = drill.light.words();
    let other = other(summary, drill);
    let (instead, keys) = match &other {
        Some(o) => (
            format!(
                "take {}, open {} {} {}",
                o.words,
                o.how,
                percent(&o.open),
                o.of
            ),
            vec![o.key.clone()],
        ),
        None => (
            format!("pass to the nearest team-mate within {COUNT}"),
            Vec::new(),
        ),
    };
    let left = drill.left.and_then(|i| summary.left.get(i));
    let x = number.map_or(String::new(), |n| format!("X{n}, "));
    let text = match left {
        Some(l) => format!(
            "Read {x}{}. Shuts {}: take {look}. Shuts that instead: {instead}.",
            l.closer.who(),
            shuts(l)
        ),
        None => format!(
            "Read {x}the defender of whoever gets the ball. Stays off: take {look}. Stays near: {instead}."
        ),
    };
    Said { text, keys }
}
