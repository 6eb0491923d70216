//! A pass in words: what it was for, and who caught it where.

use crate::offence::LookKind;
use crate::possession::What;

use super::*;

/// How a look that was taken all the same was not open.
pub(super) fn not_open(look: &LookNow) -> &'static str {
    match look.kind {
        LookKind::Shot if look.value >= 1.0 => "not an open one",
        LookKind::Shot => "not a good one",
        _ => "not clear",
    }
}

impl Teller<'_> {
    /// Did the passer drive with this ball in hand?
    fn drove(&self, index: usize) -> bool {
        let before = self.possession.timeline[..index].iter().rev();
        let mut mine = before.take_while(|e| !matches!(e.what, What::Catches { .. }));
        mine.any(|e| matches!(e.what, What::Drives { .. }))
    }

    /// Is `to`, who cut last, on his way out again?
    fn comes_out(&self, index: usize, to: u8) -> bool {
        let mut before = self.possession.timeline[..index].iter().rev();
        before.find_map(|e| match e.what {
            What::Cuts { who, .. } if who == to => Some(false),
            What::Unfed { who, .. } if who == to => Some(true),
            _ => None,
        }) == Some(true)
    }

    /// Does this player hold that place already, before this entry: nobody goes back to it as to a new one.
    pub(super) fn has_it(&self, index: usize, player: u8, place: Spot) -> bool {
        let mut before = self.possession.timeline[..index].iter().rev();
        before.find_map(|e| match e.what {
            What::Starts { who, at } | What::Holds { who, at } if who == player => {
                Some(at == place)
            }
            What::Catches { who, at, off, .. } if who == player => {
                Some(at == place && off <= NOT_THERE)
            }
            What::Rule { told, .. } if told[usize::from(player) - 1].is_some() => Some(false),
            What::Cuts { who, .. } | What::Drives { who, .. } if who == player => Some(false),
            _ => None,
        }) == Some(true)
    }

    /// Has it been told that this player goes to that place, and nothing of them since?
    pub(super) fn is_on_the_way(&self, index: usize, player: u8, place: Spot) -> bool {
        let mut before = self.possession.timeline[..index].iter().rev();
        before.find_map(|e| match e.what {
            What::Fills { who, to } | What::Unfed { who, to } if who == player => Some(to == place),
            What::Rule { told, .. } if told[usize::from(player) - 1].is_some() => Some(false),
            What::Cuts { who, .. }
            | What::Drives { who, .. }
            | What::Catches { who, .. }
            | What::Flashes { who, .. }
            | What::Seals { who, .. }
            | What::Screens { who, .. }
            | What::Waits { who, .. }
            | What::GetsOpen { who }
                if who == player =>
            {
                Some(false)
            }
            _ => None,
        }) == Some(true)
    }

    /// Does `to` come off a screen, for which that player waited last?
    fn comes_off(&self, index: usize, to: u8) -> bool {
        let mut before = self.possession.timeline[..index].iter().rev();
        before.find_map(|e| match e.what {
            What::Cuts { who, .. } | What::Fills { who, .. } | What::NoScreen { who, .. }
                if who == to =>
            {
                Some(false)
            }
            What::Waits { who, .. } if who == to => Some(true),
            _ => None,
        }) == Some(true)
    }

    /// The pass in words, with the place where it is caught.
    pub(super) fn pass(&self, index: usize, to: u8, look: LookKind) -> String {
        let mut after = self.possession.timeline[index..].iter().skip(1);
        let got = after.find_map(|e| match e.what {
            What::Catches { who, at, off, .. } => Some(Some((who, about(at, off)))),
            What::Passes { .. } | What::Ends { .. } => Some(None),
            _ => None,
        });
        let at = match got.flatten() {
            Some((other, _)) if other != to => {
                return format!("throws it for {to}, but {other}{GETS_IT}");
            }
            Some((_, at)) => format!(" {at}"),
            None => String::new(),
        };
        match look {
            LookKind::NextPass | LookKind::Shot | LookKind::Drive => format!("passes to {to}{at}"),
            LookKind::Skip => format!("skips it to {to}{at}"),
            LookKind::KickOut if self.drove(index) => format!("kicks it out to {to}{at}"),
            LookKind::KickOut => format!("passes out to {to}{at}"),
            LookKind::Post => format!("feeds {to} inside{at}"),
            LookKind::DropOff => format!("drops it off to {to}{at}"),
            LookKind::GiveAndGo if self.comes_out(index, to) => format!("finds {to} inside{at}"),
            LookKind::GiveAndGo if self.comes_off(index, to) => {
                format!("hits {to} off the screen{at}")
            }
            LookKind::GiveAndGo => format!("hits {to} on the cut"),
            LookKind::Backdoor => format!("hits {to} on the backdoor cut"),
        }
    }
}
