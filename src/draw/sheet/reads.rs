//! Whom to read in a look that is rehearsed: what the defender is told to shut, and for either what was open at those
//! moments in the possessions. Nothing is coached that was mostly shut there.

use crate::offence::LookKind;
use crate::stats::Estimate;
use crate::why::{Summary, Where};

use super::drills::{Chosen, OFTEN};
use super::findings::{Said, percent, shuts};

/// What is taken instead was open at so large a share of the moments at least (ours: more often than not).
const MOSTLY: f64 = 0.5;
/// And the look was one at so many moments of a possession at least (ours).
const SEEN: f64 = 1.0;

/// What to do where the look is not there.
struct Other {
    words: String,
    /// "in" or "at" so many "of possessions", "of the moments with the ball at the …".
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
            how: "meanwhile in",
            of: "of possessions".to_string(),
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

/// Whom to read, and what to do in either case.
pub(super) fn read(summary: &Summary, drill: &Chosen) -> Said {
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
            "pass to the nearest team-mate within a count of two".to_string(),
            Vec::new(),
        ),
    };
    let left = drill.left.and_then(|i| summary.left.get(i));
    let text = match left {
        Some(l) => format!(
            "Read {}. Shuts {}: take {look}. Shuts that instead: {instead}.",
            l.closer.who(),
            shuts(l)
        ),
        None => format!(
            "Read the defender of whoever gets the ball. Stays off: take {look}. Stays near: {instead}."
        ),
    };
    Said { text, keys }
}
