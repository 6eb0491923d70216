//! Sentences with figures for the sheet: the plain words, the 95 % interval, and where each number
//! stands in the figures of the `why` report, so that nothing on paper is without its source.
//!
//! A key is the path of an estimate in the report's JSON (`why --json`), from its summary on:
//! `looks/3/shut`, `unused/0/there`.

use crate::clean::cut;
use crate::court::Units;
use crate::offence::LookKind;
use crate::offence::words::capital;
use crate::possession::timeline::{FOOT, length as long};
use crate::stats::Estimate;
use crate::why::places::{OUT, OutOfPlace};
use crate::why::summary::{LeftBy, Light, LookWhy, Story};
use crate::why::{Site, Summary};

use super::super::text::LONGEST;
use super::breakdown::Breakdown;
use super::drills::{Chosen, is_best_left, no_time_for};

/// A sentence, and the keys of the figures in it, in order.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Said {
    /// The sentence, as the sheet prints it.
    pub text: String,
    /// Path of each figure in the summary, such as `left/0/light/there`.
    pub keys: Vec<String>,
}

impl Said {
    /// The sentence without its intervals, and these: "75 to 81".
    pub fn split(&self) -> (String, Vec<String>) {
        let (mut text, mut intervals) = (String::new(), Vec::new());
        let mut rest = self.text.as_str();
        while let Some((before, (inside, after))) = rest
            .split_once(" (")
            .and_then(|(before, from)| Some((before, from.split_once(')')?)))
        {
            text += before;
            let ends = inside.split_once(" to ");
            let number = |s: &str| s.parse::<f64>().is_ok();
            match ends.is_some_and(|(low, high)| number(low) && number(high)) {
                true => intervals.push(inside.to_string()),
                false => text += &format!(" ({inside})"),
            }
            rest = after;
        }
        (text + rest, intervals)
    }
}

/// "78 % (75 to 81)".
pub fn percent(e: &Estimate) -> String {
    let places = usize::from(e.value > 0.0 && e.value < 0.0995);
    format!(
        "{:.places$} % ({:.places$} to {:.places$})",
        100.0 * e.value,
        100.0 * e.low,
        100.0 * e.high
    )
}

/// "1.4 s (1.3 to 1.5)".
pub(super) fn seconds(e: &Estimate) -> String {
    format!("{:.1} s ({:.1} to {:.1})", e.value, e.low, e.high)
}

/// "4 ft (3 to 5)" or "1.2 m (1.1 to 1.3)".
pub(super) fn length(e: &Estimate, units: Units) -> String {
    let (by, unit) = match units {
        Units::Metric => (1.0, "m"),
        Units::Imperial => (1.0 / FOOT, "ft"),
    };
    format!(
        "{:.1} {unit} ({:.1} to {:.1})",
        by * e.value,
        by * e.low,
        by * e.high
    )
}

/// Points per possession as points in a hundred possessions: "4.1 points (3.0 to 5.2)".
pub(super) fn hundred(e: &Estimate) -> String {
    format!(
        "{:.1} points ({:.1} to {:.1})",
        100.0 * e.value,
        100.0 * e.low,
        100.0 * e.high
    )
}

/// A look that is one for fewer instants of a possession than this is no finding (ours).
const MAIN: f64 = 2.0;

/// The findings, and the place of each kind among them.
#[derive(Clone, Debug, Default)]
pub struct Findings {
    /// In the order in which they are printed.
    pub said: Vec<Said>,
    /// What is shut most: its place, and the kind of look.
    pub shut: Option<(usize, LookKind)>,
    /// What each drill answers.
    pub answered: Vec<Option<usize>>,
    /// The drill that also answers what is shut most, with that finding.
    pub meanwhile: Option<(usize, usize)>,
    /// What there is no time for, and whether every look that is drilled is worth as much at least.
    pub untaken: Option<(usize, bool)>,
    /// Where it stalls.
    pub stall: Option<usize>,
    /// Whose place costs the defence most.
    pub late: Option<usize>,
}

/// In which order the findings stand.
pub const ORDER: &str = "Points more: in a hundred possessions, than the best other look of those moments. Order: as they are \
     practised; what has no drill stands last.";

impl Findings {
    /// Puts the findings in the order in which they are practised: drills, shell drill, looks; then those without. The
    /// reason of a drill begins with the number of its finding.
    pub fn in_turn(&mut self, drills: &mut [Breakdown]) {
        let few = drills.iter().map(|drill| drill.answers);
        let looks = self.answered.iter().enumerate().flat_map(|(i, own)| {
            let also = self.meanwhile.filter(|m| m.0 == i).map(|m| m.1);
            [*own, also]
        });
        let practised = few.chain([self.late]).chain(looks).flatten();
        let mut turn: Vec<usize> = Vec::new();
        for at in practised.chain(0..self.said.len()) {
            if !turn.contains(&at) {
                turn.push(at);
            }
        }
        let new = |old: usize| turn.iter().position(|at| *at == old).unwrap_or(old);
        self.said = turn.iter().map(|at| self.said[*at].clone()).collect();
        self.shut = self.shut.map(|(at, kind)| (new(at), kind));
        self.meanwhile = self.meanwhile.map(|(look, at)| (look, new(at)));
        self.untaken = self.untaken.map(|(at, best)| (new(at), best));
        self.stall = self.stall.map(new);
        self.late = self.late.map(new);
        for own in &mut self.answered {
            *own = own.map(new);
        }
        for drill in drills {
            drill.answers = drill.answers.map(new);
            if let (Some(n), Some(why)) = (drill.answers, &mut drill.why) {
                why.text = format!("Why: finding {}. {}", n + 1, why.text);
            }
        }
    }

    /// Adds a finding, or finds the one that is of the same figure; its place.
    pub fn add(&mut self, said: Said) -> usize {
        let first = said.keys.first();
        let mut known = self.said.iter();
        if let Some(at) = known.position(|s| s.keys.first() == first) {
            return at;
        }
        self.said.push(said);
        self.said.len() - 1
    }
}

/// The findings: what is shut most and by whom; what each drill answers and what there is no time for, most points first;
/// where it stalls.
pub fn findings(summary: &Summary, drills: &[Chosen]) -> Findings {
    let mut out = Findings {
        answered: vec![None; drills.len()],
        ..Findings::default()
    };
    if let Some((said, kind)) = most_shut(summary) {
        out.shut = Some((0, kind));
        out.said.push(said);
    }
    let untaken = no_time_for(summary, drills);
    let mut open: Vec<&Chosen> = drills.iter().chain(&untaken).collect();
    let adds = |c: &Chosen| c.light.adds.map_or(0.0, |e| e.value);
    open.sort_by(|a, b| adds(b).total_cmp(&adds(a)));
    for one in open {
        let drill = drills.iter().position(|d| d.key == one.key);
        let best = drill.is_some() && is_best_left(summary, drills, one);
        let Some(said) = behind_a_drill(summary, one, drill.map(|_| best)) else {
            continue;
        };
        let at = out.add(said);
        match drill {
            Some(i) => out.answered[i] = Some(at),
            None => out.untaken = Some((at, drills.iter().all(|d| adds(d) >= adds(one)))),
        }
    }
    out.stall = stall(summary).map(|said| out.add(said));
    out
}

fn most_shut(summary: &Summary) -> Option<(Said, LookKind)> {
    let seen = |l: &LookWhy| l.seen.map_or(0.0, |e| e.value);
    let shut = |l: &LookWhy| l.shut.map_or(0.0, |e| e.value);
    let main = summary
        .looks
        .iter()
        .enumerate()
        .filter(|(_, l)| seen(l) >= MAIN);
    let (i, look) = main
        // That a shot is shut by whoever stands in front of it is no news.
        .filter(|(_, l)| !l.closers.is_empty() && l.site.kind != LookKind::Shot)
        .max_by(|(_, a), (_, b)| (shut(a) * seen(a)).total_cmp(&(shut(b) * seen(b))))?;
    let closer = look.closers.first()?;
    let (e, by) = (look.shut?, closer.share?);
    let mostly = closer.midline.is_some_and(|m| m.value >= 0.5);
    let said = Said {
        text: format!(
            "{}. {}{} shuts it at {} of those moments.",
            shut_at(look, &e),
            capital(&closer.seat.who()),
            match closer.seat.doing(mostly) {
                "" => String::new(),
                does => format!("{does},"),
            },
            percent(&by),
        ),
        keys: vec![
            format!("looks/{i}/shut"),
            format!("looks/{i}/closers/0/share"),
        ],
    };
    Some((said, look.site.kind))
}

/// "With the ball at the ball-side slot the drive is shut at 96 % (95 to 97) of the moments"; for a pass out of a drive, of
/// the moments of a drive.
pub(super) fn shut_at(look: &LookWhy, shut: &Estimate) -> String {
    let (site, shut) = (look.site, percent(shut));
    match site.from {
        Some(from) => format!(
            "With the ball at the {} {} is shut at {shut} of the moments",
            from.words(),
            Site { from: None, ..site }.words()
        ),
        None => format!(
            "{} is shut at {shut} of the moments of a drive",
            capital(&site.words())
        ),
    }
}

/// What a closer shuts while something is left: "the drive"; of two looks of one kind "another kick-out".
pub(super) fn shuts(left: &LeftBy) -> String {
    match left.shuts == left.light.look {
        true => format!("another {}", left.shuts.word()),
        false => format!("the {}", left.shuts.word()),
    }
}

/// What was found that a drill answers. `drilled`: has it a drill, and is then no kind of look without one worth more?
fn behind_a_drill(summary: &Summary, drill: &Chosen, drilled: Option<bool>) -> Option<Said> {
    let light = drill.light;
    let (there, adds) = (light.there?, light.adds?);
    let key = &drill.key;
    let left = summary.left.iter().enumerate();
    let mut left = left.filter(|(i, _)| *key == format!("left/{i}/light"));
    let who = match left.next() {
        Some((_, l)) => format!(
            "While {} shuts {}, {} is",
            l.closer.who(),
            shuts(l),
            light.words()
        ),
        None => format!("No rule takes {}: it is", light.words()),
    };
    Some(Said {
        text: format!(
            "{who} open at some moment in {} of possessions, worth at most {} more.{}",
            percent(&there),
            hundred(&adds),
            match drilled.filter(|_| drill.is_small()) {
                Some(true) => " Little, but no kind of look without a drill is worth more.",
                Some(false) => " Little, but it is open so often.",
                None => "",
            },
        ),
        keys: vec![format!("{key}/there"), format!("{key}/adds")],
    })
}

/// The rule that fired before a stall, as it is said on paper.
pub(super) fn after(story: &Story) -> String {
    match &story.rule {
        Some(rule) => format!("after “{}”", cut(rule, LONGEST)),
        None => "before any rule has fired".to_string(),
    }
}

fn stall(summary: &Summary) -> Option<Said> {
    let story = summary.stalls.stories.first()?;
    let (share, each) = (story.share?, story.length?);
    let after = after(story);
    Some(Said {
        text: format!(
            "It stalls most with the ball at the {} {after}: {} of all stalled time, {} each time.",
            story.at.words(),
            percent(&share),
            seconds(&each),
        ),
        keys: vec![
            "stalls/stories/0/share".into(),
            "stalls/stories/0/length".into(),
        ],
    })
}

/// How often a light is there, for the look's own paragraph; `key`: where the light stands.
pub fn how_often(light: &Light, key: &str) -> Option<Said> {
    let there = light.there?;
    let mut text = format!("Open at some moment in {} of possessions", percent(&there));
    let mut keys = vec![format!("{key}/there")];
    if key.starts_with("unused") {
        text += "; no rule of ours takes it yet";
    } else if let Some(taken) = light.taken {
        text += &format!("; taken in {} of those", percent(&taken));
        keys.push(format!("{key}/taken"));
    }
    text.push('.');
    Some(Said { text, keys })
}

/// The case of the ball in which a defender's place costs the defence most, with its place among all.
fn costliest(summary: &Summary) -> Option<(usize, &OutOfPlace)> {
    let cost = |p: &OutOfPlace| p.cost.map_or(0.0, |e| e.value);
    let own = summary.places.iter().enumerate();
    // A case of the ball, not one of the program's five: the reader's own have other names.
    let own = own.filter(|(_, p)| p.defender.is_none() && p.after.is_none() && cost(p) > 0.0);
    own.max_by(|(_, a), (_, b)| cost(a).total_cmp(&cost(b)))
}

/// Where that is: "on the ball", "at the post, ball side".
pub(super) fn hardest(summary: &Summary) -> Option<String> {
    let who = costliest(summary)?.1.relation?.word();
    Some(match who.starts_with("post") {
        true => format!("at the {who}"),
        false => who.to_string(),
    })
}

/// Whose place costs the defence most.
pub fn out_of_place(summary: &Summary, units: Units) -> Option<Said> {
    let (i, p) = costliest(summary)?;
    let (off, out) = (p.off?, p.out?);
    let (at, far) = (hardest(summary)?, long(units, OUT));
    Some(Said {
        text: format!(
            "This defence is hardest to play {at}: there the program's players, not yours, stood {} off the right place on \
             average, more than {far} {} of the time; no other place cost the defence more. When your players play it, put \
             that one right first.",
            length(&off, units),
            percent(&out),
        ),
        keys: vec![format!("places/{i}/off"), format!("places/{i}/out")],
    })
}
