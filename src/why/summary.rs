//! The sheets of all possessions added up to figures with their 95 % intervals.

use std::collections::BTreeMap;

use serde::Serialize;

use crate::offence::{LookKind, Offence};
use crate::scrimmage::row::seconds;
use crate::scrimmage::tallies::LengthTally;
use crate::stats::{CONFIDENCE, Estimate, ratio_estimate, share_estimate, wilson};

use super::change::openers;
use super::matrix::Cell;
use super::places::{OutOfPlace, places};
use super::sheet::{Left, LightRow, ShutRow, SiteRow};
use super::stalls::{Lately, Stall, example};
use super::{Rival, Seat, Sheet, Site, Where};

/// A look that existed at fewer instants than this is left out: too few to say anything (ours).
pub(super) const TOO_FEW: u32 = 20;
/// A closer with a smaller share than this is left out (ours).
const WORTH_A_LINE: f64 = 0.02;
/// Light left in fewer possessions than this is chance (ours).
const SEEN_OFTEN: u64 = 5;

/// Who shuts a look.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Closing {
    /// The closer.
    #[serde(flatten)]
    pub seat: Seat,
    /// Share of the instants at which the look is shut.
    pub share: Option<Estimate>,
    /// Share of his closings in which he stands on the midline.
    pub midline: Option<Estimate>,
    /// Metres from the way of ball or driver.
    pub distance: Option<Estimate>,
    /// Seconds that he has been at this duty.
    pub since: Option<Estimate>,
    /// Share of his closings that are his alone: without him the look is open.
    pub alone: Option<Estimate>,
    /// The same with him tight on his own man, and where each rival model would have him.
    pub tight: Option<Estimate>,
    /// Share of the closings that would be open with the closer where each rival model stands, by
    /// its name.
    pub rivals: Vec<(String, Option<Estimate>)>,
    /// The possession in which he shuts it longest, and when he begins: seed and time, s.
    pub example: Option<(u64, f64)>,
}

/// One look at one place.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct LookWhy {
    /// The kind of look and its places.
    #[serde(flatten)]
    pub site: Site,
    /// Instants at which it was a look at all, per possession.
    pub seen: Option<Estimate>,
    /// Shares of these instants.
    pub open: Option<Estimate>,
    /// Share of these instants at which it was shut.
    pub shut: Option<Estimate>,
    /// Windows for each possession.
    pub windows: Option<Estimate>,
    /// Seconds.
    pub median: Option<Estimate>,
    /// Longest window, seconds.
    pub longest: f64,
    /// Share of its windows.
    pub taken: Option<Estimate>,
    /// Points it is worth while open.
    pub value: Option<Estimate>,
    /// Who shuts it, most often first.
    pub closers: Vec<Closing>,
}

/// Light that was open.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Light {
    /// What the holder could have done.
    pub look: LookKind,
    /// Of the receiver; of the holder for a shot or a drive.
    pub at: Option<Where>,
    /// Share of possessions in which it was there.
    pub there: Option<Estimate>,
    /// Share of the instants at which the rules let the holder take it.
    pub allowed: Option<Estimate>,
    /// Share of the possessions in which it was there and was taken.
    pub taken: Option<Estimate>,
    /// Points per possession that it added at most, above the best other look that the rules allow.
    pub adds: Option<Estimate>,
    /// Its own value, points, at the instant at which it added most.
    pub value: Option<Estimate>,
    /// Where it added most: a possession to replay, and when.
    pub example: Option<(u64, f64)>,
    /// Shipped tweaks that let the rules take it, where they never do.
    pub tweaks: Vec<String>,
}

impl Light {
    /// "the skip pass to the weak-side wing", "the post feed to the weak-side block".
    pub fn words(&self) -> String {
        let kind = self.look.word();
        match (self.look, self.at) {
            (_, None) => format!("the {kind}"),
            (LookKind::Shot | LookKind::Drive, Some(at)) => {
                format!("the {kind} from the {}", at.words())
            }
            (LookKind::GiveAndGo | LookKind::Backdoor, Some(at)) => {
                format!("the feed to the {kind} from the {}", at.words())
            }
            (_, Some(at)) => format!("the {kind} to the {}", at.words()),
        }
    }
}

/// Light that a closer left.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct LeftBy {
    /// The closer who left it.
    pub closer: Seat,
    /// What the closer shut meanwhile.
    pub shuts: LookKind,
    /// What was left.
    pub light: Light,
}

/// One kind of stall.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Story {
    /// Where the ball is as they begin.
    pub at: Where,
    /// The rule that fired last.
    pub rule: Option<String>,
    /// Stalls of this kind per possession.
    pub often: Option<Estimate>,
    /// Share of all stalled time.
    pub share: Option<Estimate>,
    /// Mean length, seconds.
    pub length: Option<Estimate>,
    /// Most often after this.
    pub lately: Lately,
    /// The best look that was shut then, most often, by whom, and in which share of the stalls.
    pub shut: Option<(LookKind, Seat, Option<Estimate>)>,
    /// A stall of this kind of middling length, a second at least if one was: seed and time, s.
    pub example: (u64, f64),
}

/// All stalls.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Stalls {
    /// Stalls for each possession.
    pub often: Option<Estimate>,
    /// Mean length, seconds.
    pub length: Option<Estimate>,
    /// For each possession, seconds.
    #[serde(skip)]
    pub total: Option<Estimate>,
    /// Longest of all, seconds.
    pub longest: f64,
    /// The kinds of stall, most often first.
    pub stories: Vec<Story>,
}

/// The figures of the whole report.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Summary {
    /// Seed of the first possession; the rest follow on.
    pub first_seed: u64,
    /// How many possessions were read.
    pub possessions: u64,
    /// Stopped from outside before it was done.
    pub interrupted: bool,
    /// Confidence of all intervals, a share: 0.95.
    pub confidence: f64,
    /// Every look at every place seen often enough.
    pub looks: Vec<LookWhy>,
    /// Best first.
    pub unused: Vec<Light>,
    /// By how much the first of them leads the second, possession by possession, points.
    pub unused_lead: Option<Estimate>,
    /// Points per possession left unused at most.
    pub unused_points: Option<Estimate>,
    /// Best first.
    pub left: Vec<LeftBy>,
    /// Spells without an open look.
    pub stalls: Stalls,
    /// Which defender is out of place.
    pub places: Vec<OutOfPlace>,
    /// Every offence against every defence, if that was asked for.
    pub matrix: Vec<Cell>,
}

pub(super) fn share(pairs: impl Iterator<Item = (u32, u32)>) -> Option<Estimate> {
    let pairs = pairs.map(|(y, x)| (f64::from(y), f64::from(x)));
    share_estimate(pairs, CONFIDENCE)
}

pub(super) fn ratio(pairs: impl Iterator<Item = (f64, f64)>) -> Option<Estimate> {
    ratio_estimate(pairs, CONFIDENCE)
}

fn value(e: &Option<Estimate>) -> f64 {
    e.map_or(0.0, |e| e.value)
}

impl Summary {
    /// Adds up sheets in order of seed.
    ///
    /// # Examples
    /// ```
    /// use std::sync::atomic::AtomicBool;
    ///
    /// use lanelight::scenario::Scenario;
    /// use lanelight::why::{Summary, Why, rivals};
    ///
    /// let scenario = Scenario::demo();
    /// let why = Why { first_seed: 1, possessions: 6, threads: 1 };
    /// let sheets = why.sheets(&scenario, &|_done| (), &AtomicBool::new(false))?;
    /// let summary = Summary::of(&sheets, 6, &scenario.offence, &rivals(&scenario));
    /// assert!(summary.possessions == 6 && !summary.interrupted);
    /// assert!(!summary.looks.is_empty());
    /// # Ok::<(), lanelight::scrimmage::Unfit>(())
    /// ```
    pub fn of(sheets: &[Sheet], asked: u64, offence: &Offence, rivals: &[Rival]) -> Summary {
        let mut summary = Summary {
            first_seed: sheets.first().map_or(0, |s| s.seed),
            possessions: sheets.len() as u64,
            interrupted: (sheets.len() as u64) < asked,
            confidence: CONFIDENCE,
            looks: looks(sheets, rivals),
            unused: unused(sheets, offence),
            unused_lead: None,
            unused_points: ratio(sheets.iter().map(|s| (s.unused_points, 1.0))),
            left: left(sheets),
            stalls: stalls(sheets, offence),
            places: places(sheets),
            matrix: Vec::new(),
        };
        if let [first, second, ..] = summary.unused.as_slice() {
            let adds = |s: &Sheet, l: &Light| s.unused.get(&(l.look, l.at)).map_or(0.0, |r| r.adds);
            summary.unused_lead = ratio(
                sheets
                    .iter()
                    .map(|s| (adds(s, first) - adds(s, second), 1.0)),
            );
        }
        summary
    }
}

fn looks(sheets: &[Sheet], rivals: &[Rival]) -> Vec<LookWhy> {
    let mut seen: BTreeMap<Site, u32> = BTreeMap::new();
    for sheet in sheets {
        for (site, row) in &sheet.sites {
            *seen.entry(*site).or_default() += row.seen;
        }
    }
    seen.retain(|_, n| *n >= TOO_FEW);
    seen.keys().map(|s| look(sheets, *s, rivals)).collect()
}

fn look(sheets: &[Sheet], site: Site, rivals: &[Rival]) -> LookWhy {
    let none = SiteRow::default();
    let rows = || sheets.iter().map(|s| s.sites.get(&site).unwrap_or(&none));
    let mut lengths = LengthTally::default();
    rows().for_each(|r| lengths.push(&r.windows));
    let longest = rows().flat_map(|r| r.windows.iter().copied()).max();
    let mut seats: BTreeMap<Seat, u32> = BTreeMap::new();
    for row in rows() {
        for (seat, shut) in &row.by {
            *seats.entry(*seat).or_default() += shut.shut;
        }
    }
    let all: u32 = seats.values().sum();
    let mut seats: Vec<(u32, Seat)> = seats
        .into_iter()
        .filter(|(_, n)| f64::from(*n) >= WORTH_A_LINE * f64::from(all))
        .map(|(seat, n)| (n, seat))
        .collect();
    seats.sort_by(|a, b| b.0.cmp(&a.0).then(a.1.cmp(&b.1)));
    let in_seconds = |e: Estimate| Estimate {
        value: seconds(1) * e.value,
        low: seconds(1) * e.low,
        high: seconds(1) * e.high,
        n: e.n,
    };
    LookWhy {
        site,
        seen: ratio(rows().map(|r| (f64::from(r.seen), 1.0))),
        open: share(rows().map(|r| (r.open, r.seen))),
        shut: share(rows().map(|r| (r.shut, r.seen))),
        windows: ratio(rows().map(|r| (r.windows.len() as f64, 1.0))),
        median: lengths.median().map(in_seconds),
        longest: seconds(u32::from(longest.unwrap_or(0))),
        taken: share(rows().map(|r| (r.windows_taken, r.windows.len() as u32))),
        value: ratio(rows().map(|r| (r.value, f64::from(r.open)))),
        closers: seats
            .into_iter()
            .map(|(_, seat)| Closing {
                example: longest_shut(sheets, site, seat),
                ..closing(rows, seat, rivals)
            })
            .collect(),
    }
}

/// Where a closer shuts a look longest; the first of equals.
fn longest_shut(sheets: &[Sheet], site: Site, seat: Seat) -> Option<(u64, f64)> {
    let mut best: Option<(u32, (u64, f64))> = None;
    for sheet in sheets {
        let row = sheet.sites.get(&site).and_then(|r| r.by.get(&seat));
        if let Some(row) = row.filter(|r| best.is_none_or(|(most, _)| r.shut > most)) {
            best = Some((row.shut, (sheet.seed, row.first)));
        }
    }
    best.map(|(_, example)| example)
}

fn closing<'a, I: Iterator<Item = &'a SiteRow>>(
    rows: impl Fn() -> I,
    seat: Seat,
    rivals: &[Rival],
) -> Closing {
    let of = |r: &'a SiteRow| r.by.get(&seat);
    let part = |f: &dyn Fn(&ShutRow) -> u32| {
        share(rows().map(|r| of(r).map_or((0, 0), |s| (f(s), s.shut))))
    };
    let mean = |f: &dyn Fn(&ShutRow) -> f64| {
        ratio(rows().map(|r| of(r).map_or((0.0, 0.0), |s| (f(s), f64::from(s.shut)))))
    };
    Closing {
        seat,
        share: share(rows().map(|r| (of(r).map_or(0, |s| s.shut), r.shut))),
        midline: part(&|s| s.midline),
        distance: mean(&|s| s.distance),
        since: mean(&|s| s.since),
        alone: part(&|s| s.alone),
        tight: part(&|s| s.tight),
        rivals: rivals
            .iter()
            .enumerate()
            .map(|(i, r)| {
                let opened = part(&|s| s.rivals.get(i).copied().unwrap_or(0));
                (r.name.clone(), opened)
            })
            .collect(),
        example: None,
    }
}

/// The figures of one kind of light; `of` finds its row in a sheet.
fn light<'a>(
    sheets: &'a [Sheet],
    look: LookKind,
    at: Option<Where>,
    of: impl Fn(&'a Sheet) -> Option<&'a LightRow>,
) -> Light {
    let rows = || sheets.iter().filter_map(&of);
    let there = rows().count() as u64;
    let taken = rows().filter(|r| r.taken).count() as u64;
    let most = sheets
        .iter()
        .filter_map(|s| of(s).map(|r| (r.adds, s.seed, r.when)))
        .fold(None::<(f64, u64, f64)>, |best, row| match best {
            Some(b) if b.0 >= row.0 => best,
            _ => Some(row),
        });
    Light {
        look,
        at,
        there: wilson(there, sheets.len() as u64, CONFIDENCE),
        allowed: share(rows().map(|r| (r.allowed, r.instants))),
        taken: wilson(taken, there, CONFIDENCE),
        adds: ratio(sheets.iter().map(|s| (of(s).map_or(0.0, |r| r.adds), 1.0))),
        value: ratio(rows().map(|r| (r.value, 1.0))),
        example: most.map(|(_, seed, when)| (seed, when)),
        tweaks: Vec::new(),
    }
}

fn often<K: Ord + Copy>(keys: impl Iterator<Item = K>) -> Vec<K> {
    let mut count: BTreeMap<K, u64> = BTreeMap::new();
    keys.for_each(|k| *count.entry(k).or_default() += 1);
    count.retain(|_, n| *n >= SEEN_OFTEN);
    count.into_keys().collect()
}

fn unused(sheets: &[Sheet], offence: &Offence) -> Vec<Light> {
    let keys = often(sheets.iter().flat_map(|s| s.unused.keys().copied()));
    let mut all: Vec<Light> = keys
        .into_iter()
        .map(|key| Light {
            tweaks: openers(offence, key.0),
            ..light(sheets, key.0, key.1, |s| s.unused.get(&key))
        })
        .collect();
    all.sort_by(|a, b| value(&b.adds).total_cmp(&value(&a.adds)));
    all
}

fn left(sheets: &[Sheet]) -> Vec<LeftBy> {
    let keys: Vec<Left> = often(sheets.iter().flat_map(|s| s.left.keys().copied()));
    let mut all: Vec<LeftBy> = keys
        .into_iter()
        .map(|key| LeftBy {
            closer: key.seat,
            shuts: key.shuts,
            light: light(sheets, key.look, key.to, |s| s.left.get(&key)),
        })
        .collect();
    all.sort_by(|a, b| value(&b.light.adds).total_cmp(&value(&a.light.adds)));
    all
}

/// The key of the greatest count, the first of equals.
fn most<K: Ord + Copy>(keys: impl Iterator<Item = K>) -> Option<(K, u64)> {
    let mut count: BTreeMap<K, u64> = BTreeMap::new();
    keys.for_each(|k| *count.entry(k).or_default() += 1);
    let best = count.values().copied().max()?;
    count.into_iter().find(|(_, n)| *n == best)
}

fn stalls(sheets: &[Sheet], offence: &Offence) -> Stalls {
    let key = |s: &Stall| (s.rule, s.at);
    let mut keys: BTreeMap<(Option<usize>, Where), u32> = BTreeMap::new();
    for stall in sheets.iter().flat_map(|s| &s.stalls) {
        *keys.entry(key(stall)).or_default() += 1;
    }
    let mut keys: Vec<_> = keys.into_iter().collect();
    keys.sort_by(|a, b| b.1.cmp(&a.1).then(a.0.cmp(&b.0)));
    let stories = keys.into_iter().map(|(wanted, n)| {
        let is = |s: &&Stall| key(s) == wanted;
        let mine = || sheets.iter().flat_map(|s| &s.stalls).filter(is);
        let time = |s: &Sheet, all: bool| {
            let of = s.stalls.iter().filter(|x| all || key(x) == wanted);
            of.map(|x| f64::from(x.length)).sum::<f64>()
        };
        let lately = most(mine().map(|s| s.lately)).map_or(Lately::Nothing, |m| m.0);
        let shut = most(mine().filter_map(|s| s.best));
        Story {
            at: wanted.1,
            rule: wanted
                .0
                .and_then(|r| offence.rules.get(r))
                .map(|r| r.name.clone()),
            often: ratio(
                sheets
                    .iter()
                    .map(|s| (s.stalls.iter().filter(is).count() as f64, 1.0)),
            ),
            share: share_estimate(
                sheets.iter().map(|s| (time(s, false), time(s, true))),
                CONFIDENCE,
            ),
            length: ratio(sheets.iter().map(|s| {
                let n = s.stalls.iter().filter(is).count() as f64;
                (seconds(1) * time(s, false), n)
            })),
            lately,
            shut: shut.map(|((kind, seat), k)| (kind, seat, wilson(k, u64::from(n), CONFIDENCE))),
            example: example(sheets, &is, lately, shut.map(|s| s.0)).unwrap_or_default(),
        }
    });
    let all = |s: &Sheet| s.stalls.iter().map(|x| u32::from(x.length)).sum::<u32>();
    let longest = sheets
        .iter()
        .flat_map(|s| &s.stalls)
        .map(|s| s.length)
        .max();
    Stalls {
        often: ratio(sheets.iter().map(|s| (s.stalls.len() as f64, 1.0))),
        length: ratio(
            sheets
                .iter()
                .map(|s| (seconds(all(s)), s.stalls.len() as f64)),
        ),
        total: ratio(sheets.iter().map(|s| (seconds(all(s)), 1.0))),
        longest: seconds(u32::from(longest.unwrap_or(0))),
        stories: stories.collect(),
    }
}
