//! What the man with the ball has at the moment that is shown, in a sentence: from the same looks as the light, the
//! strip and the figures, so that no two of them say different things.

use super::desk::Desk;
use super::moment::{NEVER, arrives};
use super::recording::Spell;
use super::words::floor as words;
use crate::offence::LookKind;
use crate::possession::{Ballwork, LookNow, What};

/// The moment that is shown.
#[derive(Clone, Debug, PartialEq)]
pub enum Now {
    /// Somebody holds the ball and has something open.
    Open {
        /// The number of the holder.
        holder: u8,
        /// What is open that the rules take, and what is open that they never take.
        looks: (Vec<String>, Vec<String>),
        /// Who could cut behind whom: numbers of attacker and defender.
        cuts: Cuts,
    },
    /// Somebody holds the ball and has nothing open.
    Nothing {
        /// The number of the holder.
        holder: u8,
        /// Is the holder on a drive?
        drives: bool,
        /// For how long it stalls, seconds, if it lasts long enough to be a stall.
        stalls: Option<f64>,
        /// Numbers of those to whom a pass gets, which is not worth one now.
        reached: Vec<u8>,
        /// Who could cut behind whom: numbers of attacker and defender.
        cuts: Cuts,
    },
    /// The holder cannot decide yet: he has only just caught it, or the possession is over.
    Held {
        /// The number of the holder.
        holder: u8,
    },
    /// A pass is in the air.
    Flies {
        /// Who threw it, and to whom.
        from: u8,
        /// To whom it goes.
        to: u8,
    },
    /// The shot is on its way.
    Shot,
    /// The ball is loose.
    Loose,
    /// It is over: the result in words.
    Over(String),
}

/// Who could cut behind whom: numbers of attacker and defender.
pub type Cuts = Vec<(u8, Option<u8>)>;

/// What the man with the ball has at this moment.
pub fn now(desk: &mut Desk) -> Now {
    if desk.time.now >= desk.recording.known {
        return Now::Over(desk.recording.result.clone());
    }
    let picture = desk.picture();
    let Some(holder) = picture.holder else {
        return in_the_air(desk);
    };
    let holder = holder as u8 + 1;
    let looks = desk.looks().to_vec();
    if looks.is_empty() {
        return Now::Held { holder };
    }
    let gave = gave(desk);
    let of = |allowed: bool| {
        let list = looks.iter().filter(move |l| l.open && l.allowed == allowed);
        list.map(|look| name(look, gave)).collect::<Vec<_>>()
    };
    let (taken, never) = (of(true), of(false));
    let cuts = cuts(desk);
    if !(taken.is_empty() && never.is_empty()) {
        return Now::Open {
            holder,
            looks: (taken, never),
            cuts,
        };
    }
    Now::Nothing {
        holder,
        drives: drives(desk),
        stalls: stalls(desk),
        reached: looks
            .iter()
            .filter(|l| arrives(l))
            .filter_map(|l| l.to)
            .collect(),
        cuts,
    }
}

/// Were players moved by hand? Then the possession's own stalls and cuts are not those that are shown.
fn by_hand(desk: &Desk) -> bool {
    desk.moved.iter().any(Option::is_some)
}

/// Is the holder on the way to the rim?
pub fn drives(desk: &Desk) -> bool {
    let moments = &desk.recording.possession.moments;
    let moment = desk.moment().and_then(|m| moments.get(m));
    moment.is_some_and(|m| m.ballwork == Ballwork::Driving)
}

/// How long the stall lasts to which this moment belongs, seconds.
fn stalls(desk: &Desk) -> Option<f64> {
    let moment = desk.moment().filter(|_| !by_hand(desk))?;
    desk.recording.stall_at(moment).map(Spell::seconds)
}

fn cuts(desk: &Desk) -> Cuts {
    let recording = &desk.recording;
    let Some(moment) = desk.moment().filter(|_| !by_hand(desk)) else {
        return Cuts::new();
    };
    let (Some(at), Some(instant)) = (
        recording.possession.moments.get(moment),
        recording.instants.get(moment),
    ) else {
        return Cuts::new();
    };
    let there = at.backdoor.iter().filter(|b| b.there);
    let guard = |who: u8| instant.old.scene.guarded_by(usize::from(who) - 1);
    there
        .map(|b| (b.who, guard(b.who).map(|d| d as u8 + 1)))
        .collect()
}

/// Who passed to whoever has the ball: a number.
pub fn gave(desk: &Desk) -> Option<u8> {
    desk.recording.gave(desk.time.now)
}

/// Has the holder used the dribble up?
pub fn dribble_is_used_up(desk: &Desk) -> bool {
    let moments = &desk.recording.possession.moments;
    let moment = desk.moment().and_then(|m| moments.get(m));
    moment.is_some_and(|m| m.ballwork == Ballwork::PickedUp)
}

/// What a look is called where `gave` has passed to the holder: only they give and go, any other cutter is a cutter.
pub fn kind(look: LookKind, to: Option<u8>, gave: Option<u8>) -> &'static str {
    match look {
        LookKind::GiveAndGo if to != gave => words::CUTTER,
        look => look.word(),
    }
}

/// "next pass to 3", "drive".
pub fn name(look: &LookNow, gave: Option<u8>) -> String {
    match (look.to, kind(look.kind, look.to, gave)) {
        (Some(to), words::CUTTER) => words::pass_to_the_cutter(&to),
        (Some(to), kind) => words::to_to(&kind, &to),
        (None, kind) => kind.to_string(),
    }
}

fn in_the_air(desk: &Desk) -> Now {
    let now = desk.time.now + 1e-6;
    let before = desk.recording.possession.timeline.iter().rev();
    let mut before = before.filter(|e| e.time <= now);
    before
        .find_map(|e| match e.what {
            What::Passes { from, to, .. } => Some(Now::Flies { from, to }),
            What::Shoots { .. } => Some(Now::Shot),
            What::Drops { .. } | What::Tips { .. } => Some(Now::Loose),
            _ => None,
        })
        .unwrap_or(Now::Loose)
}

impl Now {
    /// The moment in a sentence.
    pub fn words(&self) -> String {
        match self {
            Now::Open {
                holder,
                looks,
                cuts,
            } => {
                let open = match (looks.0.join(", "), looks.1.join(", ")) {
                    (yes, no) if yes.is_empty() => words::open_for_but(&holder, &NEVER, &no),
                    (yes, no) if no.is_empty() => words::open_for(&holder, &yes),
                    (yes, no) => words::open_for_open_but(&holder, &yes, &NEVER, &no),
                };
                open + &could_cut(cuts)
            }
            Now::Nothing {
                holder,
                drives,
                stalls,
                reached,
                cuts,
            } => {
                let stall = match stalls {
                    Some(seconds) => words::it_stalls_s_in(&seconds),
                    None => String::new(),
                };
                let nothing = match drives {
                    true => words::drives_and(&holder),
                    false => words::has_the_ball_and(&holder, &stall),
                };
                let names: Vec<String> = reached.iter().map(u8::to_string).collect();
                let reached = match names.is_empty() {
                    true => String::new(),
                    false => words::gets_to(&names.join(words::AND)),
                };
                nothing + &reached + &could_cut(cuts)
            }
            Now::Held { holder } => words::has_the_ball(&holder),
            Now::Flies { from, to } => words::the_ball_is_in(&from, &to),
            Now::Shot => words::THE_SHOT_IS_IN.into(),
            Now::Loose => words::THE_BALL_IS_LOOSE.into(),
            Now::Over(result) => format!("{result}."),
        }
    }
}

/// " 2 could cut behind X2."
fn could_cut(cuts: &Cuts) -> String {
    let each = cuts.iter().map(|(who, behind)| match behind {
        Some(d) => words::could_cut_behind_x(&who, &d),
        None => words::could_cut_to_the(&who),
    });
    each.collect()
}

/// What is said of the moment: nothing while it runs, but for the result, or while a learner is asked.
pub fn said(desk: &mut Desk) -> Option<String> {
    let over = desk.time.now >= desk.recording.known;
    let quiet = desk.time.running && !over || desk.drill.asking();
    (!quiet).then(|| now(desk).words())
}

#[cfg(test)]
mod tests {
    use super::super::store;
    use super::*;

    /// Of all cutters only whoever has just passed to the holder gives and goes: at most one at a time.
    #[test]
    fn only_the_passer_gives_and_goes_any_other_cutter_is_a_cutter() {
        let folder = tempfile::tempdir().expect("a folder");
        let mut desk = Desk::new(store::demo(), None, folder.path().to_owned());
        let (mut passers, mut cutters) = (0, 0);
        for seed in 1..30 {
            desk.to_seed(seed);
            desk.time.running = false;
            for moment in &desk.recording.possession.moments {
                let gave = desk.recording.gave(moment.time);
                let cuts = moment
                    .looks
                    .iter()
                    .filter(|l| l.kind == LookKind::GiveAndGo);
                for look in cuts {
                    let name = name(look, gave);
                    let passed = desk
                        .recording
                        .possession
                        .timeline
                        .iter()
                        .rev()
                        .find_map(|e| match e.what {
                            What::Passes { from, .. } if e.time <= moment.time => Some(from),
                            _ => None,
                        });
                    assert_eq!(name.starts_with("give-and-go"), look.to == passed, "{name}");
                    if look.to == passed {
                        passers += 1;
                    } else {
                        assert!(name.starts_with("pass to the cutter "), "{name}");
                        cutters += 1;
                    }
                }
            }
        }
        assert!(passers > 20 && cutters > 20, "{passers} {cutters}");
    }

    /// Whoever has picked the ball up is not said to have rules that never take the drive.
    #[test]
    fn whoever_has_picked_the_ball_up_has_used_the_dribble_up() {
        let folder = tempfile::tempdir().expect("a folder");
        let mut desk = Desk::new(store::demo(), None, folder.path().to_owned());
        let mut seen = 0;
        for seed in 1..240 {
            desk.to_seed(seed);
            desk.time.running = false;
            let moments = desk.recording.possession.moments.clone();
            for moment in moments {
                let recording = &desk.recording;
                desk.time.go(moment.time, recording);
                let used_up = moment.ballwork == Ballwork::PickedUp;
                if desk
                    .moment()
                    .is_some_and(|m| desk.recording.possession.moments[m].time == moment.time)
                {
                    assert_eq!(dribble_is_used_up(&desk), used_up);
                    seen += usize::from(used_up);
                }
            }
        }
        assert!(seen > 5, "{seen}");
    }
}
