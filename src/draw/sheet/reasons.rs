//! Why a breakdown drill is on the sheet: the finding that it answers, or the figure by which it was chosen and what to
//! do instead while its look is shut.

use crate::defence::Relation;
use crate::offence::LookKind;
use crate::scenario::Scenario;
use crate::stats::Estimate;
use crate::why::summary::{Light, LookWhy};
use crate::why::{Summary, Where};

use super::super::cards::Card;
use super::super::light::Replay;
use super::breakdown::{inside, look_of};
use super::drills::{Chosen, OFTEN};
use super::findings::{Said, how_often, percent, seconds, shut_at};
use super::fronts;
use super::next::{Outlet, exit};
use super::reads::MOSTLY;

/// Why a rule is drilled, the strongest first: the look of a finding, the stall of a finding, or that its look is mostly shut.
pub(super) struct Reason {
    /// Which of the looks to rehearse it serves.
    pub look: Option<usize>,
    /// The finding that it answers, from 0, if it is known already.
    pub answers: Option<usize>,
    /// Else that finding.
    pub found: Option<Said>,
    /// In words, after the number of the finding.
    pub said: Said,
    /// What is open while its look is shut, if that is the reason.
    pub exit: Option<Outlet>,
}

/// What the drills are chosen by, beside the figures of the summary.
pub struct Grounds<'a> {
    /// The looks to rehearse, and the finding that each answers.
    pub chosen: &'a [Chosen<'a>],
    /// The finding of each of those, from 0.
    pub answered: &'a [Option<usize>],
    /// The finding of the stall, from 0, if there is one.
    pub stall: Option<usize>,
    /// How often each rule fired in the possessions that were looked through.
    pub fired: &'a [u32],
    /// Those possessions.
    pub replays: &'a [Replay],
}

impl Grounds<'_> {
    /// Why a card's rule is drilled. `None` if no figure speaks for it.
    pub(super) fn reason(
        &self,
        scenario: &Scenario,
        summary: &Summary,
        card: &Card,
    ) -> Option<Reason> {
        let rule = scenario.offence.rules.get(card.rule)?;
        let kind = look_of(rule)?;
        // A drill is for a look only if it is that look, with the ball where that look has it.
        let place = |at: Where| ball_at(card) == Some(at.words().as_str());
        let serves = |c: &Chosen| c.light.look == kind && c.light.at.is_none_or(place);
        let look = self.chosen.iter().position(serves);
        let number = card.rule + 1;
        if let Some(i) = look
            && let Some(finding) = self.answered.get(i).copied().flatten()
        {
            let c = &self.chosen[i];
            return Some(Reason {
                look,
                answers: Some(finding),
                found: None,
                said: how_often(c.light, &c.key).map(|often| Said {
                    text: format!("Card {number} makes {}. {}", c.light.words(), often.text),
                    ..often
                })?,
                exit: None,
            });
        }
        let most = summary.stalls.stories.first();
        let most = most.filter(|s| s.rule.as_ref() == Some(&rule.name));
        if let Some((story, finding)) = most.zip(self.stall)
            && let Some((share, length)) = story.share.zip(story.length)
        {
            return Some(Reason {
                look,
                answers: Some(finding),
                found: None,
                said: Said {
                    text: format!(
                        "After card {number} the ball stalls most: {} of all stalled time, {} each time; nobody is to hold it past the count.",
                        percent(&share),
                        seconds(&length),
                    ),
                    keys: ["share", "length"]
                        .map(|f| format!("stalls/stories/0/{f}"))
                        .to_vec(),
                },
                exit: None,
            });
        }
        shut(summary, card, (kind, look), self.replays)
    }
}

/// The reason of a card whose look is mostly shut: when it is on, and what is open when it is not.
fn shut(
    summary: &Summary,
    card: &Card,
    (kind, look): (LookKind, Option<usize>),
    replays: &[Replay],
) -> Option<Reason> {
    let to = inside(card).and_then(|n| card.parts.iter().find(|p| p.player == n));
    let (i, why) = played(summary, kind, ball_at(card), to.map(|p| p.to.as_str()))?;
    let shut = why.shut.filter(|e| e.low >= MOSTLY)?;
    let mut others = instead(summary, kind).into_iter();
    let other = others.find_map(|o| Some((exit(card, o.1)?, o)));
    let mut keys = vec![format!("looks/{i}/shut")];
    let while_shut = match &other {
        Some((_, (at, light, there))) => {
            keys.push(format!("left/{at}/light/there"));
            format!(
                "; while it is, {} is open at some moment in {} of possessions",
                light.words(),
                percent(there)
            )
        }
        None => String::new(),
    };
    let by = why.closers.first();
    let by = by.map_or(String::new(), |c| {
        let who = c.seat.who();
        let post = matches!(
            c.seat.relation,
            Relation::PostBallSide | Relation::PostWeakSide
        );
        let how = Some(c.seat.relation).filter(|_| kind == LookKind::Post && post);
        let how = how.and_then(|relation| fronts::mostly(replays, relation));
        let how = how.map_or(String::new(), |how| format!(", {}", how.words()));
        format!(", most often by {who}{how}")
    });
    let found = Said {
        text: format!("{}{by}{while_shut}.", shut_at(why, &shut)),
        keys,
    };
    Some(Reason {
        look,
        answers: None,
        said: found.clone(),
        found: Some(found),
        exit: other.map(|(exit, _)| exit),
    })
}

/// Where the ball is when the look of a card may open: with whoever catches it, else with whoever has it.
fn ball_at(card: &Card) -> Option<&str> {
    let of = |n: &u8| card.parts.iter().find(|p| p.player == *n);
    let catches = card.parts.iter().find(|p| p.does.starts_with("catch"));
    let at = catches.or_else(|| card.order.first().and_then(of))?;
    Some(&at.from)
}

/// The look of a kind with the ball there that comes up most; if the receiver shows at a place, the look to that place.
fn played<'a>(
    summary: &'a Summary,
    kind: LookKind,
    ball: Option<&str>,
    to: Option<&str>,
) -> Option<(usize, &'a LookWhy)> {
    let seen = |l: &LookWhy| l.seen.map_or(0.0, |e| e.value);
    let at = |place: Option<Where>, wanted: Option<&str>| {
        place.is_none_or(|place| wanted == Some(place.words().as_str()))
    };
    let shows = |l: &LookWhy| to.is_none() || at(l.site.to, to);
    let there = |l: &LookWhy| at(l.site.from, ball);
    let own = summary.looks.iter().enumerate();
    let own = own.filter(|(_, l)| l.site.kind == kind && l.shut.is_some() && shows(l));
    // With the ball there, else wherever it is seen most.
    own.max_by(|(_, a), (_, b)| there(a).cmp(&there(b)).then(seen(a).total_cmp(&seen(b))))
}

/// What was open often while a look of this kind was shut, the most often first: its place, and how often.
fn instead(summary: &Summary, kind: LookKind) -> Vec<(usize, &Light, Estimate)> {
    let left = summary.left.iter().enumerate();
    let left = left.filter(|(_, l)| l.shuts == kind && l.light.look != kind);
    let often =
        left.filter_map(|(i, l)| Some((i, &l.light, l.light.there.filter(|t| t.low >= OFTEN)?)));
    let mut often: Vec<_> = often.collect();
    often.sort_by(|a, b| b.2.value.total_cmp(&a.2.value));
    often
}
