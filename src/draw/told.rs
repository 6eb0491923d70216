//! The words of a rule card, said to each player, from the card's account. Every place that is
//! named is one where the drawn way begins or ends.

use crate::court::{Spot, SpotName};
use crate::offence::{By, CutLane, Event, Movement, Place, Role, Rule, words};
use crate::why::{Half, Where};

use super::account::{Account, Deed, Sent};
use super::cards::{RIGHT_PLACE, STAYS};
use super::steps::{self, seconds};

/// A player who leaves no earlier than this before the end of a wait has waited, seconds (ours).
const SOON: f64 = 0.2;

/// How a player seals, as those do it who play it: the defender is on the side of the rim, behind whoever faces the ball.
const SEALS: &str = "chest to the ball, your defender behind you";

/// Does a way lead from a place inside to the same one on the other side of the lane?
fn is_across(deed: &Deed) -> bool {
    let (from, to) = (deed.from, deed.to);
    let sides = from.side.zip(to.side).is_some_and(|(a, b)| a != b);
    sides && from.name == to.name && !from.name.is_perimeter()
}

/// The words for one card.
pub(super) struct Teller<'a> {
    pub rule: usize,
    pub when: &'a Event,
    pub account: &'a Account,
}

impl Teller<'_> {
    pub(super) fn of<'a>(
        rule: usize,
        rules: &'a [Rule],
        account: &'a Account,
    ) -> Option<Teller<'a>> {
        let when = &rules.get(rule)?.when;
        Some(Teller {
            rule,
            when,
            account,
        })
    }

    /// "weak-side wing".
    pub(super) fn place(&self, spot: Spot) -> String {
        Where::of(spot, self.account.side).words()
    }

    /// What a player does: pass or catch, then the way, then the steps that the way does not take in.
    pub(super) fn does(&self, deed: &Deed) -> String {
        steps::counted(&self.whole(deed))
    }

    fn whole(&self, deed: &Deed) -> String {
        let mut said = self.drawn(deed);
        if let Some(sent) = &deed.sent {
            let drawn = sent.came.len().saturating_sub(1);
            for step in sent.then.iter().skip(drawn) {
                said += &format!("; that done, {}", steps::order(step));
            }
            // Whoever stays was told nothing by another card's rule.
            let told = deed.starts.is_some() || sent.rule == self.rule;
            let only = steps::conditions(&sent.only_if, sent.who, &sent.does, "you");
            said = steps::with_conditions(said, only.filter(|_| told));
        }
        said
    }

    fn drawn(&self, deed: &Deed) -> String {
        let player = deed.player;
        let promised = self.account.promised.filter(|(from, _)| *from == player);
        if let Some((_, to)) = promised {
            return format!("{}; your next pass goes to {to}", self.thrown_or_gone(deed));
        }
        self.thrown_or_gone(deed)
    }

    fn thrown_or_gone(&self, deed: &Deed) -> String {
        let player = deed.player;
        let passes = &self.account.passes;
        let way = self.way(deed);
        let thrown = passes.iter().find(|(from, _)| *from == player);
        let caught = passes.iter().any(|(_, to)| *to == player);
        match (thrown, caught, way) {
            (Some((_, to)), false, Some(way)) => format!("pass to {to}; {way}"),
            (Some((_, to)), false, None) => match self.seals(deed) {
                Some(seals) => format!("pass to {to}; {seals}"),
                None if self.holds(deed) => format!("pass to {to}; stay and face the ball"),
                None => format!("pass to {to} and stay"),
            },
            (None, true, Some(way)) => format!("catch and look; {way}"),
            (None, true, None) => "catch, face the rim and look".to_string(),
            (_, _, Some(way)) => way,
            (_, _, None) => self.stays(deed),
        }
    }

    /// Does the card's own rule tell the player to stay?
    fn holds(&self, deed: &Deed) -> bool {
        let sent = deed.sent.as_ref().filter(|s| s.rule == self.rule);
        sent.is_some_and(|sent| sent.does == Movement::Hold)
    }

    /// What a player does who is told to seal in the own place.
    fn seals(&self, deed: &Deed) -> Option<String> {
        let sent = deed.sent.as_ref().filter(|s| s.rule == self.rule)?;
        match &sent.does {
            Movement::Seal { seconds: stay, .. } if deed.arrives => Some(format!(
                "seal your defender where you are for {}, {SEALS}",
                seconds(*stay)
            )),
            _ => None,
        }
    }

    fn stays(&self, deed: &Deed) -> String {
        if self.account.holder == Some(deed.player) {
            return match self.when {
                Event::Drive { .. } => "begin your drive".to_string(),
                Event::DribbleAt { .. } => "begin your dribble".to_string(),
                _ => "keep the ball and read what opens".to_string(),
            };
        }
        match deed.sent.as_ref().filter(|s| s.rule == self.rule) {
            Some(sent) => match &sent.does {
                Movement::Hold => "stay and face the ball".to_string(),
                Movement::DropOff => format!("{} (not drawn)", steps::order(&Movement::DropOff)),
                Movement::ScreenFor { .. } | Movement::UseScreen { .. } if deed.mate.is_some() => {
                    match deed.mate {
                        Some(mate) => format!("screen where you are, with {mate}"),
                        None => STAYS.to_string(),
                    }
                }
                _ => self.seals(deed).unwrap_or(STAYS.to_string()),
            },
            None => self.in_place(deed).unwrap_or(STAYS.to_string()),
        }
    }

    /// Whoever stands already where another card, which counts as well, sends that player.
    fn in_place(&self, deed: &Deed) -> Option<String> {
        let sent = deed.sent.as_ref().filter(|s| s.rule != self.rule)?;
        let there = sent.place == Some(deed.from) && deed.arrives;
        let across = match deed.from.name.is_perimeter() || deed.from.side.is_none() {
            true => "",
            false => "; if you are on the other side, cross to it",
        };
        there.then(|| format!("{RIGHT_PLACE} (card {}){across}", sent.rule + 1))
    }

    /// The drawn way in words; `None` without one.
    fn way(&self, deed: &Deed) -> Option<String> {
        let starts = deed.starts?;
        let to = self.place(deed.to);
        let Some(sent) = &deed.sent else {
            return Some(self.unsent(deed, &to));
        };
        let wait = match sent.after {
            after if after > 0.0 && starts + SOON >= self.account.begins + after => {
                format!("wait {}, then ", seconds(after))
            }
            // Still busy with something else until then.
            after if after > 0.0 => format!("after {}, ", seconds(after)),
            _ => String::new(),
        };
        // Both stand together: who is who is told.
        let gave = match (self.when, sent.who) {
            (Event::HandOff { .. }, Role::Passer) if sent.rule == self.rule => {
                "having handed over, "
            }
            _ => "",
        };
        let told = format!("{gave}{}", self.steps(sent, deed));
        let card = match sent.rule == self.rule {
            true => String::new(),
            false => format!(" (card {})", sent.rule + 1),
        };
        Some(format!("{wait}{told}{card}"))
    }

    /// The steps that the way takes in, one after the other.
    fn steps(&self, sent: &Sent, deed: &Deed) -> String {
        if sent.came.is_empty() {
            return self.movement(&sent.does, sent, deed);
        }
        let all = std::iter::once(&sent.does).chain(&sent.then);
        let said = all.zip(&sent.came).map(|(does, place)| {
            let own = Sent {
                place: Some(*place),
                ..sent.clone()
            };
            let whole = Deed {
                to: *place,
                arrives: true,
                ..deed.clone()
            };
            self.movement(does, &own, &whole)
        });
        let said: Vec<String> = said.collect();
        said.join("; next, ")
    }

    /// The way of a player to whom no rule of this happening has said anything.
    fn unsent(&self, deed: &Deed, to: &str) -> String {
        match self.when {
            Event::DribbleAt { .. } if deed.dribbles && deed.mate.is_some() => {
                format!("dribble at {}", deed.mate.unwrap_or_default())
            }
            Event::Drive { .. } if deed.dribbles && deed.to_the_rim => {
                "drive to the rim, eyes up".to_string()
            }
            Event::Drive { .. } if deed.dribbles && deed.toward_the_rim => {
                "drive toward the rim, eyes up".to_string()
            }
            Event::Drive { .. } if deed.dribbles && deed.by_the_rim => {
                format!("drive by the rim, as far as the {to}, eyes up")
            }
            Event::Drive { .. } if deed.dribbles => format!("drive as far as the {to}, eyes up"),
            _ if deed.dribbles => match deed.takes_from {
                Some(mate) => format!("take the ball from {mate}, then dribble to the {to}"),
                None => format!("dribble to the {to}"),
            },
            _ if deed.fills => format!("fill the {to}, which is open"),
            _ => format!("go to the {to}"),
        }
    }

    /// A movement of the drawn way. Whoever may come from either side goes back to a place on the own side: the side
    /// that is drawn is one of two.
    fn movement(&self, movement: &Movement, sent: &Sent, deed: &Deed) -> String {
        let said = self.moves(movement, sent, deed);
        match movement {
            Movement::Fill(place)
            | Movement::CircleOut(place)
            | Movement::GoThrough(place)
            | Movement::Drift(place)
            | Movement::Lift(place)
                if self.is_either(sent) =>
            {
                let Some((name, Some(By::Own))) = place.parts() else {
                    return said;
                };
                let to = format!("the {}", self.place(deed.to));
                said.replace(&to, &format!("your own {} (here {to})", name.word()))
            }
            _ => said,
        }
    }

    /// Does the rule name the player by something that happens on either side?
    fn is_either(&self, sent: &Sent) -> bool {
        let place = match *self.when {
            Event::Pass { from, .. } | Event::Drive { from, .. } | Event::KickOut { from } => from,
            Event::Denied { at, .. } => at,
            _ => return false,
        };
        let any = matches!(place, Place::Any | Place::Perimeter | Place::Inside);
        let either = matches!(place.parts(), Some((_, Some(By::Either))));
        sent.rule == self.rule && !matches!(sent.who, Role::At(_)) && (any || either)
    }

    fn moves(&self, movement: &Movement, sent: &Sent, deed: &Deed) -> String {
        let to = self.place(deed.to);
        let there = deed.arrives && sent.place.is_some();
        match movement {
            Movement::Cut {
                lane,
                to: goal,
                unfed,
            } => {
                let lane = match lane {
                    CutLane::BallSide => "ball side",
                    CutLane::Behind => "behind your defender",
                };
                match goal {
                    Some(goal) => self.cut_to(lane, *goal, unfed, sent, deed),
                    None => self.cut(&format!("cut {lane}"), unfed, sent, deed),
                }
            }
            Movement::UseScreen {
                to: goal, unfed, ..
            } => {
                let mate = deed.mate.map(|m| m.to_string());
                let of = mate.unwrap_or("a team-mate".to_string());
                let wait = format!("wait for the screen of {of}");
                match goal {
                    Some(_) if there => format!("{wait} and come off it to the {to}"),
                    _ => self.cut(&format!("{wait} and cut off it"), unfed, sent, deed),
                }
            }
            Movement::ScreenFor { after, .. } => match deed.mate {
                Some(mate) => {
                    let after = self.movement(after, sent, deed);
                    format!("screen for {mate}, then {after}")
                }
                None => format!("go to screen: you come as far as the {to}"),
            },
            Movement::Flash { seconds: stay, .. } if there => {
                format!(
                    "flash to the {to} for {}, then go back to your place",
                    seconds(*stay)
                )
            }
            Movement::Seal { seconds: stay, .. } if there => {
                let stay = seconds(*stay);
                format!(
                    "seal your defender at the {to} for {stay}, {SEALS}, then go back to your place"
                )
            }
            Movement::Hold if there => "stay and face the ball".to_string(),
            Movement::DropOff => format!("{}, by the {to}", steps::order(movement)),
            Movement::HandOff(_) if deed.mate.is_some() => {
                format!(
                    "stand and hand the ball to {}",
                    deed.mate.unwrap_or_default()
                )
            }
            Movement::DribbleHandOff(_) if deed.mate.is_some() => {
                let mate = deed.mate.unwrap_or_default();
                let hands = format!("dribble toward {mate} and hand the ball over");
                match deed.goes_on {
                    true => format!("{hands}, then go to the {to}"),
                    false => hands,
                }
            }
            Movement::DribbleAt(_) if deed.mate.is_some() => {
                format!("dribble at {}", deed.mate.unwrap_or_default())
            }
            // Which of its places that is depends on who stands where.
            Movement::FillFirst(places) if there && places.len() > 1 => {
                let all: Vec<String> = places
                    .iter()
                    .filter_map(|p| p.spot(self.account.side, deed.from.side))
                    .map(|spot| self.place(spot))
                    .collect();
                format!("take the first open: {} (here the {to})", all.join(", "))
            }
            Movement::Fill(_) if there && sent.does == *movement && is_across(deed) => {
                let way = match Where::of(deed.to, self.account.side).half {
                    Some(Half::Weak) => "away from",
                    _ => "toward",
                };
                format!("cross the lane {way} the ball to the {to}")
            }
            Movement::Fill(_) | Movement::FillFirst(_) if there => format!("fill the {to}"),
            Movement::Replace(_) if there => format!("take the {to}"),
            Movement::CircleOut(_) if there => format!("circle out to the {to}"),
            Movement::GoThrough(_) if there => format!("go through under the rim to the {to}"),
            Movement::Drift(_) if there => format!("drift to the {to}"),
            Movement::Lift(_) if there => format!("lift to the {to}"),
            _ => match sent.place {
                Some(aim) => format!("set off for the {}: you come to the {to}", self.place(aim)),
                None => format!("go to the {to}"),
            },
        }
    }

    /// A cut to a place as far as it is drawn, and what follows if no pass comes.
    fn cut_to(
        &self,
        lane: &str,
        goal: Place,
        unfed: &Movement,
        sent: &Sent,
        deed: &Deed,
    ) -> String {
        let (to, goal) = (self.place(deed.to), words::place(goal));
        match deed.arrives && sent.place.is_some() {
            true if *unfed != Movement::Hold => {
                let after = self.movement(unfed, sent, deed);
                format!("cut {lane} to {goal}. No pass? {}", words::capital(&after))
            }
            _ => format!("cut {lane} toward {goal}: you come to the {to}"),
        }
    }

    /// A cut as far as it is drawn, and what follows if no pass comes.
    fn cut(&self, how: &str, unfed: &Movement, sent: &Sent, deed: &Deed) -> String {
        let to = self.place(deed.to);
        match (deed.by_the_rim, deed.arrives) {
            (false, _) => format!("{how}: you come to the {to}"),
            (true, true) if sent.place.is_some() => {
                let after = match unfed {
                    // Stays where the way ends, which is not where it began.
                    Movement::Hold => format!("go to the {to} and face the ball"),
                    after => self.movement(after, sent, deed),
                };
                format!("{how} to the rim. No pass? {}", words::capital(&after))
            }
            (true, _) if deed.to.name == SpotName::Rim => format!("{how} to the rim"),
            (true, _) => format!("{how} to the rim, and on to the {to}"),
        }
    }
}
