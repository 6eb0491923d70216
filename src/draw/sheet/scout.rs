//! The scouting page of a defence, for the assistants: what it shuts and who does, what it gives, which defender is
//! late, where it stops the offence, and where its help stands. Every figure is one of the `why` report, with its key.

use crate::clean::cut;
use crate::court::{SpotName, Units};
use crate::defence::Relation;
use crate::offence::words::capital;
use crate::offence::{Event, LookKind};
use crate::scenario::Scenario;
use crate::why::Summary;
use crate::why::places::OutOfPlace;
use crate::why::stalls::Lately;
use crate::why::summary::{Light, LookWhy};

use super::super::help::{Shade, help_maps};
use super::super::light::Replay;
use super::super::svg::{Look, picture};
use super::super::text::LONGEST;
use super::ages::Age;
use super::drills::{ENOUGH, drills};
use super::findings::{Said, after, hundred, length, percent, seconds, shuts as left_for};
use super::paper::{Book, LEADING, MARGIN, Type};

/// Lines of each part.
const LINES: usize = 3;
/// Defenders who are late.
const LATE: usize = 2;
/// Its words, so that all has room on one page.
const TEXT: Type = Type {
    size: 9.5,
    ..Type::BODY
};
/// Places of the ball for which help is drawn.
const MAPS: usize = 3;
/// A look that is one for fewer instants of a possession than this is left out (ours).
const MAIN: f64 = 2.0;

/// What stands on the page.
#[derive(Clone, Debug)]
pub struct Scouted {
    /// Possessions behind it.
    pub possessions: u64,
    /// Headings, each with its sentences.
    pub parts: Vec<(&'static str, Vec<Said>)>,
    /// What to say in the huddle.
    pub huddle: Vec<String>,
    /// Where help stands, for each place of the ball.
    pub help: Vec<(SpotName, Shade)>,
}

impl Scouted {
    /// From the figures of the scenario's `why` report; help from these possessions.
    pub fn of(scenario: &Scenario, summary: &Summary, replays: &[Replay]) -> Scouted {
        let played: Vec<_> = replays.iter().map(|r| &r.possession).collect();
        let mut help = help_maps(&scenario.court, &played);
        let ours = places(scenario);
        help.retain(|(name, _)| ours.contains(name));
        help.truncate(MAPS);
        let (shut, given) = (shuts(summary), gives(summary));
        let huddle = [
            given.first().map(|(_, short)| format!("Look for {short}.")),
            shut.first()
                .map(|(_, short)| format!("Don't force {short}.")),
            // Whoever shuts the drive is not the one to attack, late or not.
            late(summary, usize::MAX)
                .iter()
                .find(|(_, p)| p.relation != Some(Relation::OnBall))
                .map(|(_, p)| format!("{} comes late: go there.", capital(&who(p)))),
        ];
        let trained = drills(scenario, summary, Age::of(scenario.attackers.level));
        let trained: Vec<String> = trained.iter().map(|drill| drill.light.words()).collect();
        let trained = (!trained.is_empty()).then(|| format!("We practise {}.", trained.join(", ")));
        let units = scenario.court.units;
        let late = late(summary, LATE)
            .into_iter()
            .filter_map(|(i, p)| late_said(i, p, units));
        let parts = vec![
            ("What it shuts", shut.into_iter().map(|s| s.0).collect()),
            ("What it gives", given.into_iter().map(|s| s.0).collect()),
            ("Who is late", late.collect()),
            ("Where it stops us", stops(summary)),
        ];
        let enough = summary.possessions >= ENOUGH;
        Scouted {
            possessions: summary.possessions,
            parts: if enough { parts } else { Vec::new() },
            huddle: huddle
                .into_iter()
                .chain([trained])
                .flatten()
                .filter(|_| enough)
                .collect(),
            help,
        }
    }

    /// Sets the page.
    pub(super) fn set(&self, book: &mut Book, scenario: &Scenario) {
        let name = cut(&scenario.defence.name, LONGEST);
        book.para(&format!("Scouting: {name}"), Type::TITLE);
        let lead = format!(
            "For the assistants: {} simulated possessions of {} against it. In brackets: the 95 % interval.",
            self.possessions,
            cut(&scenario.offence.name, LONGEST)
        );
        book.para(&lead, Type::SMALL);
        if self.parts.is_empty() {
            let few = format!("These are too few to scout a defence from: play at least {ENOUGH}.");
            book.para(&few, Type::STRONG);
        }
        if !self.huddle.is_empty() {
            book.head("In the huddle", 60.0);
            for line in &self.huddle {
                book.hung("•", line, Type::STRONG, 12.0);
            }
        }
        for (head, lines) in self.parts.iter().filter(|(_, lines)| !lines.is_empty()) {
            book.head(head, 40.0);
            for said in lines {
                book.hung("•", &said.text, TEXT, 12.0);
                book.gap(1.5);
            }
        }
        self.maps(book);
    }

    fn maps(&self, book: &mut Book) {
        let wide = 0.8 * (book.wide() - 20.0) / 3.0;
        let maps = self.help.iter();
        let drawn = maps.map(|(name, map)| (*name, picture(&map.scene(Some(*name)), &Look::PAPER)));
        let drawn: Vec<_> = drawn.collect();
        let Some(high) = drawn.iter().map(|d| d.1.height_at(wide)).reduce(f64::max) else {
            return;
        };
        book.head("Where its help stands", high + 30.0);
        let lead = "Defenders whose players are one or more passes away: the darker or hatched, the more often one stands \
                    there. With the ball on the left all is mirrored; the ring has the ball.";
        book.para(lead, Type::SMALL);
        book.gap(4.0);
        let y = book.y;
        for (i, (name, picture)) in drawn.iter().enumerate() {
            let x = MARGIN + i as f64 * (wide / 0.8 + 10.0);
            book.picture(picture, x, y, wide);
            let words = format!("Ball: {}", name.word());
            book.set(&words, Type::SMALL, x, y + high, wide);
        }
        book.gap(high + Type::SMALL.size * LEADING + 4.0);
    }
}

/// The places that the offence keeps, starts from or passes to: a ball on its way past another is at none of them.
fn places(scenario: &Scenario) -> Vec<SpotName> {
    let offence = &scenario.offence;
    let kept = offence.keep_filled.iter().copied();
    let starts = offence.alignment.iter().map(|stand| stand.at);
    let passes = offence.rules.iter().filter_map(|rule| match rule.when {
        Event::Pass { to, .. } | Event::Catch { at: to } => Some(to),
        _ => None,
    });
    let all = kept.chain(starts).chain(passes);
    all.filter_map(|place| Some(place.parts()?.0)).collect()
}

/// What is shut for most of the time that it could be there, with who does it; and its short name.
fn shuts(summary: &Summary) -> Vec<(Said, String)> {
    let time = |l: &LookWhy| l.shut.map_or(0.0, |e| e.value) * l.seen.map_or(0.0, |e| e.value);
    let all = summary.looks.iter().enumerate();
    // That a shot is shut by whoever stands in front of it is no news.
    let main = all
        .filter(|(_, l)| l.seen.is_some_and(|e| e.value >= MAIN) && l.site.kind != LookKind::Shot);
    let mut main: Vec<(usize, &LookWhy)> = main.filter(|(_, l)| !l.closers.is_empty()).collect();
    main.sort_by(|a, b| time(b.1).total_cmp(&time(a.1)));
    let said = main.into_iter().filter_map(|(i, look)| {
        let closer = look.closers.first()?;
        let (shut, by) = (look.shut?, closer.share?);
        let mostly = closer.midline.is_some_and(|m| m.value >= 0.5);
        let said = Said {
            text: format!(
                "{}: shut {} of the time that it could be there, {} of that by {}{}.",
                capital(look.site.words().trim_start_matches("the ")),
                percent(&shut),
                percent(&by),
                closer.seat.who(),
                closer.seat.doing(mostly)
            ),
            keys: vec![
                format!("looks/{i}/shut"),
                format!("looks/{i}/closers/0/share"),
            ],
        };
        Some((said, look.site.words()))
    });
    said.take(LINES).collect()
}

/// What its closers leave, and what nobody of ours takes yet; best first.
fn gives(summary: &Summary) -> Vec<(Said, String)> {
    let left = summary.left.iter().enumerate();
    let left = left.map(|(i, l)| {
        let why = format!("{} leaves it to shut {}", l.closer.who(), left_for(l));
        (format!("left/{i}/light"), &l.light, why)
    });
    let unused = summary.unused.iter().enumerate();
    let unused = unused.map(|(i, l)| {
        (
            format!("unused/{i}"),
            l,
            "no rule of ours takes it".to_string(),
        )
    });
    let mut all: Vec<_> = left
        .chain(unused)
        .filter(|(_, l, _)| l.adds.is_some_and(|e| e.low > 0.0))
        .collect();
    let adds = |l: &Light| l.adds.map_or(0.0, |e| e.value);
    all.sort_by(|a, b| adds(b.1).total_cmp(&adds(a.1)));
    // A look at a place is told once, by who leaves most.
    let mut told = Vec::new();
    all.retain(|(_, l, _)| {
        let new = !told.contains(&(l.look, l.at));
        told.push((l.look, l.at));
        new
    });
    let said = all.into_iter().filter_map(|(key, light, why)| {
        let (there, adds) = (light.there?, light.adds?);
        let said = Said {
            text: format!(
                "{}: there in {} of possessions, worth at most {} more in a hundred possessions; {why}.",
                capital(light.words().trim_start_matches("the ")),
                percent(&there),
                hundred(&adds)
            ),
            keys: vec![format!("{key}/there"), format!("{key}/adds")],
        };
        Some((said, light.words()))
    });
    said.take(LINES).collect()
}

/// Cases in which somebody is out of place, dearest first.
fn late(summary: &Summary, most: usize) -> Vec<(usize, &OutOfPlace)> {
    let cost = |p: &OutOfPlace| p.cost.map_or(0.0, |e| e.value);
    let all = summary.places.iter().enumerate();
    let mut all: Vec<_> = all
        .filter(|(_, p)| p.after.is_some() && p.cost.is_some_and(|e| e.low > 0.0))
        .collect();
    all.sort_by(|a, b| cost(b.1).total_cmp(&cost(a.1)));
    all.truncate(most);
    all
}

/// "the defender one pass away after a pass".
fn who(p: &OutOfPlace) -> String {
    let who = match p.relation {
        Some(Relation::PostBallSide) => "the ball-side post's defender",
        Some(Relation::PostWeakSide) => "the weak-side post's defender",
        Some(Relation::Cutter) => "the cutter's defender",
        Some(Relation::OnBall) => "the defender on the ball",
        Some(Relation::OnePass) => "the defender one pass away",
        Some(Relation::TwoPasses) => "the defender two passes away",
        None => "the defender",
    };
    format!("{who} {}", p.after.map_or("", Lately::words))
}

fn late_said(i: usize, p: &OutOfPlace, units: Units) -> Option<Said> {
    let (off, out, cost) = (p.off?, p.out?, p.cost?);
    Some(Said {
        text: format!(
            "{}: {} from the right place, out of it {} of the time; that costs them at most {} in a hundred possessions.",
            capital(&who(p)),
            length(&off, units),
            percent(&out),
            hundred(&cost)
        ),
        keys: ["off", "out", "cost"]
            .map(|key| format!("places/{i}/{key}"))
            .to_vec(),
    })
}

fn stops(summary: &Summary) -> Vec<Said> {
    let stories = summary.stalls.stories.iter().enumerate().take(2);
    let said = stories.filter_map(|(i, story)| {
        let (share, each) = (story.share?, story.length?);
        let after = after(story);
        Some(Said {
            text: format!(
                "With the ball at the {} {after}: {} of all stalled time, {} each time.",
                story.at.words(),
                percent(&share),
                seconds(&each)
            ),
            keys: ["share", "length"]
                .map(|key| format!("stalls/stories/{i}/{key}"))
                .to_vec(),
        })
    });
    said.collect()
}
