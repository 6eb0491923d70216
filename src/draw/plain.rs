//! How plainly a walk shows a rule, and what is left off its picture: the end of a run that an earlier rule began, which
//! would lie over the ways that the card is about.

use crate::court::{Court, Spot, Vec2};
use crate::offence::{Event, Movement, Offence, Role, Rule};
use crate::possession::Frame;

use super::account::{Account, Deed, Sent, is_at, place_of};
use super::phase::{Phase, last_place};
use super::scene::{ArrowKind, Item};

/// Two who stand so near to each other lie on each other on paper, metres (ours: a disc).
const ON_A_DISC: f64 = 1.0;

impl Account {
    /// How plainly the walk shows a rule: 0 if everybody stood in place before it, all whom it names do what it
    /// says, nobody else moves, and the ball goes by a pass that the offence takes; more for departures (weights ours).
    pub fn blur(&self, rule: &Rule, index: usize) -> u32 {
        let named = |d: &&Deed| d.sent.as_ref().is_some_and(|s| s.rule == index);
        let told = self.deeds.iter().filter(named).count();
        let running = self.running();
        let others = |d: &&Deed| !named(d) && d.starts.is_some() && !self.has_the_ball(d.player);
        let others = self.deeds.iter().filter(others).count();
        let unlike = usize::from(!self.is_like_the_offence);
        let kicked_in = matches!(rule.when, Event::KickOut { .. })
            && self.deeds.iter().any(|d| {
                let gets = self.passes.iter().any(|(_, to)| *to == d.player);
                gets && !d.from.name.is_perimeter()
            });
        let lines = rule.actions.len().saturating_sub(told);
        let idle = |d: &&Deed| {
            let sent = d.sent.as_ref();
            d.starts.is_none() && sent.is_some_and(|s| s.does.links().any(Movement::is_to_a_place))
        };
        // Whoever stands already where another rule would send was not in the place that the offence keeps.
        let there = |d: &&Deed| !named(d) && d.sent.is_some() && idle(d);
        let there = self.deeds.iter().filter(there).count();
        let idle = self.deeds.iter().filter(named).filter(idle).count();
        let weighed = 4 * self.short(index)
            + 3 * idle
            + 3 * running
            + 2 * lines
            + others
            + 2 * there
            + 4 * self.misplaced(index)
            + 4 * self.elsewhere(rule, index)
            + 6 * unlike
            + 6 * usize::from(kicked_in);
        weighed as u32
    }

    /// How many of those whom the rule names do not come to where it sends them.
    pub fn short(&self, index: usize) -> usize {
        let named = |d: &&Deed| d.sent.as_ref().is_some_and(|s| s.rule == index);
        let named = self.deeds.iter().filter(named);
        named.filter(|d| !d.arrives).count()
    }

    /// How many of those whom the rule names by a place stand elsewhere.
    pub fn misplaced(&self, index: usize) -> usize {
        let misplaced = |d: &&Deed| d.misplaced(index, self.side).is_some();
        self.deeds.iter().filter(misplaced).count()
    }

    /// How many are elsewhere than the rule has them: passer or receiver of its pass, or somebody whom it names by a place
    /// and who is not there yet.
    pub fn elsewhere(&self, rule: &Rule, index: usize) -> usize {
        let of_the_pass = |d: &Deed| {
            let Event::Pass { from, to } = &rule.when else {
                return false;
            };
            let catches = to.takes_in(d.from, self.side) || to.takes_in(d.to, self.side);
            self.passes.first().is_some_and(|(passer, receiver)| {
                d.player == *passer && !from.takes_in(d.from, self.side)
                    || d.player == *receiver && !catches
            })
        };
        let named = |d: &Deed| {
            let sent = d.sent.as_ref().filter(|s| s.rule == index);
            sent.is_some_and(|s| matches!(s.who, Role::At(_)))
        };
        let elsewhere = |d: &&Deed| of_the_pass(d) || named(d) && !d.is_there;
        self.deeds.iter().filter(elsewhere).count()
    }

    /// How many are still on the way of an earlier rule, or go somewhere that nobody has told them to.
    pub fn running(&self) -> usize {
        let wanders = |d: &Deed| {
            let told = d.sent.is_some() || d.fills || d.dribbles || self.has_the_ball(d.player);
            d.starts.is_some() && !told
        };
        let running = |d: &&Deed| self.is_running(d) || wanders(d);
        self.deeds.iter().filter(running).count()
    }

    /// The places that the offence keeps filled, held by nobody when the card is over.
    pub fn left_open(&self, offence: &Offence) -> Vec<Spot> {
        let kept = offence.keep_filled.iter();
        let kept = kept.filter_map(|place| place.spot(self.side, None));
        let shows = |d: &Deed| {
            let shown = |s: &Sent| {
                s.does
                    .links()
                    .any(|m| matches!(m, Movement::Flash { .. } | Movement::Seal { .. }))
            };
            d.sent.as_ref().is_some_and(shown)
        };
        // Whoever shows somewhere goes back.
        let ends = |d: &Deed| if shows(d) { d.from } else { d.to };
        let open = |spot: &Spot| !self.deeds.iter().any(|d| ends(d) == *spot);
        kept.filter(open).collect()
    }

    /// Is a player without the ball, whom no rule of this happening sends anywhere, on the way already?
    fn is_running(&self, d: &Deed) -> bool {
        let catches = self.passes.iter().any(|(_, to)| *to == d.player);
        let told = d.sent.as_ref().is_some_and(|s| s.does != Movement::Hold);
        d.on_the_way && !told && !d.dribbles && !catches && !self.has_the_ball(d.player)
    }

    /// Whoever is on the way of an earlier rule is drawn where that player stands when the card is over, without the way,
    /// if there is room. (The line of a way may end before it does: where a screen is set.)
    pub(super) fn end_earlier_runs(&mut self, court: &Court, frames: &[Frame], phase: &Phase) {
        for i in 0..self.deeds.len() {
            let deed = &self.deeds[i];
            if !self.is_running(deed) || deed.starts.is_none() {
                continue;
            }
            let who = deed.player;
            let own = |item: &Item| matches!(item, Item::Arrow { who: w, kind, .. } if *w == who && *kind != ArrowKind::Pass);
            let end = last_place(frames, phase, usize::from(who) - 1);
            let Some(end) = end.filter(|end| !self.is_taken(*end, who)) else {
                continue;
            };
            self.scene.items.retain(|item| !own(item));
            for item in &mut self.scene.items {
                if let Item::Attacker { number, pos, .. } = item
                    && *number == who
                {
                    *pos = end;
                }
            }
            let side = self.side;
            let deed = &mut self.deeds[i];
            if !is_at(court, end, deed.to, side) {
                deed.to = place_of(court, end, side);
            }
            (deed.from, deed.starts) = (deed.to, None);
            deed.arrives = true;
        }
    }

    /// Does another attacker stand so near?
    fn is_taken(&self, at: Vec2, who: u8) -> bool {
        self.scene.items.iter().any(|item| match item {
            Item::Attacker { number, pos, .. } => {
                *number != who && (*pos - at).length() < ON_A_DISC
            }
            _ => false,
        })
    }
}
