//! What each of the five does on a rule's card, read off the walk that shows the rule: whom the rules
//! told what (as the simulation wrote it down), who leaves from where and when, and where each way
//! ends. The card's words (`told`) and its arrows both come from this account and from nothing else.

use crate::court::{Court, Side, Spot, SpotName, Vec2};
use crate::offence::{Condition, Movement, Offence, Role, Rule};
use crate::possession::{Entry, Frame, TICK, What};

use super::phase::{Phase, diagram, ends_beside_the_rim, frame_at};
use super::scene::{ArrowKind, Item, Scene};
use super::steps;
use super::walks::Walked;

/// The ball is on neither side so near to the midline, metres (ours).
const MIDDLE: f64 = 0.8;
/// From being seen at the place to standing in it, seconds (ours).
pub(super) const COMES: f64 = 0.3;
/// Rules that fire within this time of each other answer one happening, seconds (ours: two ticks).
const AT_ONCE: f64 = 0.1;
/// A player nearer to the rim than this is at the rim, metres (ours: half the way to a block).
const AT_THE_RIM: f64 = 1.3;
/// A player has come to a place within this distance, and another place may be nearer by so much, metres (ours).
pub(super) const ARRIVES: (f64, f64) = (1.8, 0.6);
/// A run has begun when the player is so far from where he stood, metres (ours).
pub(super) const LEAVES: f64 = 0.4;
/// Faster than this he is on his way, m/s, over so many frames (ours).
const ON_THE_WAY: f64 = 1.0;
const LOOKED_AT: usize = 3;

/// What a rule told a player.
#[derive(Clone, Debug, PartialEq)]
pub struct Sent {
    /// Index of the rule.
    pub rule: usize,
    /// Line of the rule, from 0.
    pub line: usize,
    /// The movement, as the rule has it.
    pub does: Movement,
    /// Seconds that the player is to wait first.
    pub after: f64,
    /// Where the movement is to end, if it is to end in a place.
    pub place: Option<Spot>,
    /// What is to follow, step by step.
    pub then: Vec<Movement>,
    /// Whom the line names.
    pub who: Role,
    /// What had to be so for the line to count.
    pub only_if: Vec<Condition>,
    /// The places in which the drawn way ends each step that it takes in: the movement's own, and
    /// then one for each further step. Empty if the way takes in no further step.
    pub came: Vec<Spot>,
}

/// What one player does.
#[derive(Clone, Debug, PartialEq)]
pub struct Deed {
    /// Number of the player, 1–5.
    pub player: u8,
    /// The place where the player is when the card begins.
    pub from: Spot,
    /// Is the player as good as there then?
    pub is_there: bool,
    /// The place where the drawn way ends; `from` without one.
    pub to: Spot,
    /// When the drawn way begins, seconds; `None` if nothing is drawn: the player stays.
    pub starts: Option<f64>,
    /// What sent the player.
    pub sent: Option<Sent>,
    /// Does the way end in the place to which the rule sent the player?
    pub arrives: bool,
    /// Does the way come by the rim?
    pub by_the_rim: bool,
    /// Does its line end beside the rim?
    pub to_the_rim: bool,
    /// Does it end about there?
    pub toward_the_rim: bool,
    /// Is the player on the way already when the card begins?
    pub on_the_way: bool,
    /// With the ball on the floor at some time.
    pub dribbles: bool,
    /// Does the way go on without the ball, when it was dribbled before?
    pub goes_on: bool,
    /// Goes to a place that is to be kept filled, without a rule.
    pub fills: bool,
    /// The team-mate who is screened, waited for or dribbled at.
    pub mate: Option<u8>,
    /// The team-mate who hands the ball over to this player.
    pub takes_from: Option<u8>,
}

/// The account of one card. Places are spots of the walk's floor, before it is mirrored.
#[derive(Clone, Debug, PartialEq)]
pub struct Account {
    /// Seconds of the walk.
    pub begins: f64,
    /// Seconds of the walk.
    pub ends: f64,
    /// The side on which the ball is for the rule.
    pub side: Side,
    /// Who has the ball when it begins, 1–5.
    pub holder: Option<u8>,
    /// Passer and receiver of the passes that are drawn.
    pub passes: Vec<(u8, u8)>,
    /// The pass that the rule promises and the card does not come to: from whom and to whom.
    pub promised: Option<(u8, u8)>,
    /// Are all of them passes that the offence takes?
    pub is_like_the_offence: bool,
    /// In order of number.
    pub deeds: Vec<Deed>,
    /// The five where they begin, and the ways.
    pub scene: Scene,
}

/// When the card begins: at the pass that the rule answers or that is in the air, or when it fires.
fn begins(rule: &Rule, walk: &Walked) -> f64 {
    let passed = rule.when.comes_of_a_pass();
    let frames = &walk.step.frames;
    let fires = frames.get(frame_at(frames, walk.fired));
    let in_the_air = fires.is_some_and(|f| f.holder.is_none());
    let before = walk.step.timeline.iter().rev();
    let mut before = before.filter(|e| e.time <= walk.fired + 1e-6);
    match before.find(|e| matches!(e.what, What::Passes { .. })) {
        Some(entry) if passed || in_the_air => entry.time,
        _ => walk.fired,
    }
}

/// When it is over: before the ball goes on, or at the end of the walk.
fn ends(walk: &Walked) -> Option<f64> {
    let on = walk.step.timeline.iter().find(|e| {
        let goes = matches!(
            e.what,
            What::Passes { .. } | What::Drives { .. } | What::Shoots { .. } | What::Ends { .. }
        );
        goes && e.time > walk.fired + TICK / 2.0
    });
    let last = walk.step.frames.last()?.time;
    Some(on.map_or(last, |e| e.time - TICK))
}

/// Until when each player's way is drawn: to the first order of a later rule, which is on another
/// card; to a hand-off that the card's rule has not asked for, of both; and of a flash or a seal the
/// way there, without the way home.
pub(super) fn until(walk: &Walked) -> [Option<f64>; 5] {
    let told = walk.step.timeline.iter().find_map(|e| match &e.what {
        What::Rule { rule, told } if *rule == walk.rule && e.time > walk.fired - 1e-6 => Some(told),
        _ => None,
    });
    let own = |who: u8| {
        let line = told.and_then(|t| t.get(usize::from(who).wrapping_sub(1)));
        line.is_some_and(Option::is_some)
    };
    let mut out = [None; 5];
    let mut stop = |who: usize, time: f64| {
        if let Some(slot) = out.get_mut(who) {
            *slot = Some(slot.map_or(time, |t: f64| t.min(time)));
        }
    };
    for entry in &walk.step.timeline {
        match &entry.what {
            What::Flashes { who, .. } | What::Seals { who, .. } if entry.time > walk.fired => {
                stop(usize::from(*who).wrapping_sub(1), entry.time + COMES);
            }
            What::SetsOutToHand { who, toward, .. } if entry.time > walk.fired && !own(*who) => {
                stop(usize::from(*who).wrapping_sub(1), entry.time);
                stop(usize::from(*toward).wrapping_sub(1), entry.time);
            }
            What::Rule { told, .. } if entry.time > walk.fired + AT_ONCE => {
                for (who, _) in told.iter().enumerate().filter(|(_, t)| t.is_some()) {
                    stop(who, entry.time);
                }
            }
            _ => {}
        }
    }
    out
}

/// The side on which the ball is, or is going, when the rule fires.
fn ball_side(walk: &Walked, frame: &Frame) -> Side {
    let before = |e: &&Entry| e.time <= walk.fired + 1e-6;
    let thrown = walk.step.timeline.iter().filter(before).rev();
    let receiver = thrown
        .filter(|_| frame.holder.is_none())
        .find_map(|e| match e.what {
            What::Passes { to, .. } => frame.attackers.get(usize::from(to).wrapping_sub(1)),
            _ => None,
        });
    match receiver.map_or(frame.ball[0], |p| p.x) {
        x if x > MIDDLE => Side::Right,
        x if x < -MIDDLE => Side::Left,
        _ => walk.step.ball_side,
    }
}

/// The place that a point is called by.
pub fn place_of(court: &Court, at: Vec2, side: Side) -> Spot {
    if at.length() < AT_THE_RIM {
        return Spot::new(SpotName::Rim, None);
    }
    court.nearest_spot_on(at, side)
}

/// Is a point at this place, or as good as there?
pub(super) fn is_at(court: &Court, at: Vec2, spot: Spot, side: Side) -> bool {
    let off = |spot: Spot| (court.spot(spot) - at).length();
    let nearest = off(place_of(court, at, side));
    off(spot) < ARRIVES.0 && off(spot) < nearest + ARRIVES.1
}

/// The links of a movement that a player comes to: off a screen to a place, and there it ends.
pub(super) fn walked_links(movement: &Movement) -> impl Iterator<Item = &Movement> {
    let mut over = false;
    movement.links().take_while(move |link| {
        let comes = !over;
        over |= matches!(link, Movement::UseScreen { to: Some(_), .. });
        comes
    })
}

/// Where a movement is to end, if that is no place that the offence keeps.
pub(super) fn shown_at(movement: &Movement, side: Side, own: Option<Side>) -> Option<Spot> {
    walked_links(movement).find_map(|link| match link {
        Movement::Flash { to, .. } => to.spot(side, own),
        Movement::Seal { at, .. } => at.spot(side, own),
        _ => None,
    })
}

/// What the rules of one happening told each player; the rule of the card before others.
fn sent(
    offence: &Offence,
    walk: &Walked,
    begins: f64,
    froms: &[Spot; 5],
    side: Side,
) -> [Option<Sent>; 5] {
    let mut out: [Option<Sent>; 5] = Default::default();
    let mut answered = false;
    let within = |e: &&Entry| e.time >= begins - 1e-6 && e.time <= walk.fired + AT_ONCE;
    for entry in walk.step.timeline.iter().filter(within) {
        let What::Rule { rule: index, told } = &entry.what else {
            continue;
        };
        let Some(rule) = offence.rules.get(*index) else {
            continue;
        };
        // The card is of one firing of its rule.
        let own = *index == walk.rule;
        if own && (answered || entry.time < walk.fired - 1e-6) {
            continue;
        }
        answered |= own;
        for (who, told) in told.iter().enumerate() {
            let action = told.and_then(|t| Some((t, rule.actions.get(usize::from(t.line))?)));
            let own = out[who].as_ref().is_some_and(|s| s.rule == walk.rule);
            let Some((told, action)) = action.filter(|_| !own || *index == walk.rule) else {
                continue;
            };
            let from = froms[who];
            let mut links = walked_links(&action.does);
            let kept = told
                .to
                .or(Some(from).filter(|_| links.any(Movement::is_to_a_place)));
            out[who] = Some(Sent {
                rule: *index,
                line: usize::from(told.line),
                does: action.does.clone(),
                after: action.after,
                place: shown_at(&action.does, side, from.side).or(kept),
                then: action.then.clone(),
                who: action.who,
                only_if: action.only_if.clone(),
                came: Vec::new(),
            });
        }
    }
    out
}

/// The account of a rule's card; `None` if the walk has no pictures.
pub fn account(court: &Court, offence: &Offence, walk: &Walked) -> Option<Account> {
    let rule = offence.rules.get(walk.rule)?;
    let frames = &walk.step.frames;
    let (begins, ends) = (begins(rule, walk), ends(walk)?);
    let first = frames.get(frame_at(frames, begins))?;
    let side = ball_side(walk, frames.get(frame_at(frames, walk.fired))?);
    let phase = Phase {
        from: begins,
        to: ends.max(begins),
        defenders: false,
        until: until(walk),
    };
    let timeline = &walk.step.timeline;
    let scene = diagram(court, frames, timeline, &phase)?;
    let froms = first.attackers.map(|at| place_of(court, at, side));
    let mut sents = sent(offence, walk, begins, &froms, side);
    let within = |e: &&Entry| e.time >= begins - 1e-6 && e.time <= phase.to + 1e-6;
    let written: Vec<&Entry> = timeline.iter().filter(within).collect();
    let passes = written.iter().filter_map(|e| match e.what {
        What::Passes { from, to, .. } => Some((from, to)),
        _ => None,
    });
    let passes = passes.collect();
    let taken = |e: &&Entry| match e.what {
        What::Passes { look, .. } => offence.reading.contains(&look),
        _ => true,
    };
    let is_like_the_offence = written.iter().all(taken);
    let deeds = first.attack().map(|who| who as u8 + 1).map(|player| {
        let who = usize::from(player) - 1;
        let stop = phase.until[who].unwrap_or(f64::INFINITY);
        let own = written.iter().filter(|e| e.time < stop);
        let seen = Seen {
            court,
            side,
            frames,
            first,
            entries: own.copied().collect(),
            scene: &scene,
        };
        seen.deed(player, froms[who], sents[who].take())
    });
    let mut account = Account {
        begins,
        ends: phase.to,
        side,
        holder: first.holder,
        passes,
        promised: None,
        is_like_the_offence,
        deeds: deeds.collect(),
        scene,
    };
    account.end_earlier_runs(court, frames, &phase);
    account.promise(walk.rule, first);
    Some(account)
}

/// What there is to be read for one player.
struct Seen<'a> {
    court: &'a Court,
    side: Side,
    frames: &'a [Frame],
    first: &'a Frame,
    entries: Vec<&'a Entry>,
    scene: &'a Scene,
}

impl Seen<'_> {
    fn deed(&self, player: u8, from: Spot, mut sent: Option<Sent>) -> Deed {
        let &Seen { court, side, .. } = self;
        let ways = || {
            self.scene.items.iter().filter_map(|item| match item {
                Item::Arrow { kind, path, who } if *kind != ArrowKind::Pass && *who == player => {
                    Some((*kind, path))
                }
                _ => None,
            })
        };
        let end = ways()
            .next_back()
            .and_then(|(_, path)| path.last().copied());
        if let Some(sent) = &mut sent {
            let way: Vec<Vec2> = ways().flat_map(|(_, path)| path.iter().copied()).collect();
            sent.came = steps::came(court, side, from, sent, &way);
        }
        let came = sent.as_ref().and_then(|s| s.came.last().copied());
        let aim = came.or(sent.as_ref().and_then(|s| s.place));
        let there = |spot: &Spot| end.is_some_and(|end| is_at(court, end, *spot, side));
        let reached = aim.filter(there);
        let last = ways().next_back().map(|(kind, _)| kind);
        // The line of a drive says itself whether the drive comes to the rim.
        let nearest = end.map_or(from, |end| match last {
            Some(ArrowKind::Dribble) if !ends_beside_the_rim(end) => {
                court.nearest_spot_on(end, side)
            }
            _ => place_of(court, end, side),
        });
        let fills = |spot: Spot| {
            let mut own = self.entries.iter();
            own.any(|e| {
                e.what
                    == What::Fills {
                        who: player,
                        to: spot,
                    }
            })
        };
        let filled = self.entries.iter().rev().find_map(|e| match e.what {
            What::Fills { who, to } if who == player && there(&to) => Some(to),
            _ => None,
        });
        let to = reached.or(filled).unwrap_or(nearest);
        let near_the_rim = |p: &Vec2| p.length() < 2.0 * AT_THE_RIM;
        let dribbles = ways().any(|(kind, _)| kind == ArrowKind::Dribble);
        Deed {
            player,
            from,
            is_there: is_at(
                court,
                self.first.attackers[usize::from(player) - 1],
                from,
                side,
            ),
            to,
            starts: end.map(|_| self.leaves(player)),
            arrives: reached.is_some() || end.is_none() && aim.is_none_or(|aim| aim == from),
            by_the_rim: ways().any(|(_, path)| path.iter().any(near_the_rim)),
            to_the_rim: end.is_some_and(ends_beside_the_rim),
            toward_the_rim: end.as_ref().is_some_and(near_the_rim),
            on_the_way: self.is_on_the_way(player),
            dribbles,
            goes_on: dribbles && last == Some(ArrowKind::Run),
            fills: sent.is_none() && fills(to),
            mate: self.mate(player),
            takes_from: self.entries.iter().find_map(|e| match e.what {
                What::HandsOff { from, to, .. } if to == player => Some(from),
                _ => None,
            }),
            sent,
        }
    }

    /// When the player has left the place where the card finds him.
    fn leaves(&self, player: u8) -> f64 {
        let who = usize::from(player) - 1;
        let from = self.first.attackers[who];
        let mut later = self.frames.iter().filter(|f| f.time >= self.first.time);
        let gone = later.find(|f| (f.attackers[who] - from).length() > LEAVES);
        gone.map_or(self.first.time, |f| f.time)
    }

    fn is_on_the_way(&self, player: u8) -> bool {
        let later = frame_at(self.frames, self.first.time) + LOOKED_AT;
        let who = usize::from(player) - 1;
        self.frames.get(later).is_some_and(|later| {
            let way = (later.attackers[who] - self.first.attackers[who]).length();
            way > ON_THE_WAY * (later.time - self.first.time)
        })
    }

    fn mate(&self, player: u8) -> Option<u8> {
        self.entries.iter().find_map(|e| match e.what {
            What::Screens { who, on } if who == player => Some(on),
            What::Waits { who, of } if who == player => Some(of),
            What::DribblesAt { who, toward } | What::SetsOutToHand { who, toward, .. }
                if who == player =>
            {
                Some(toward)
            }
            _ => None,
        })
    }
}

impl Account {
    /// The five in the order in which they act.
    pub fn order(&self) -> Vec<u8> {
        let key = |d: &Deed| {
            let caught = self.passes.iter().any(|(_, to)| *to == d.player);
            let turn = match (self.has_the_ball(d.player), caught, d.starts) {
                (true, _, _) => 0,
                (_, true, _) => 1,
                (_, _, Some(_)) => 2,
                _ => 3,
            };
            (turn, d.starts.unwrap_or_default())
        };
        let mut deeds: Vec<&Deed> = self.deeds.iter().collect();
        deeds.sort_by(|a, b| {
            let ((at, a_s), (bt, b_s)) = (key(a), key(b));
            at.cmp(&bt).then(a_s.total_cmp(&b_s))
        });
        deeds.iter().map(|d| d.player).collect()
    }

    /// Has the player the ball when it begins, or throws it?
    pub fn has_the_ball(&self, player: u8) -> bool {
        self.holder == Some(player) || self.passes.iter().any(|(from, _)| *from == player)
    }
}
