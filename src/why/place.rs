//! Spots, looks and closers as a coach names them: by ball side and weak side, so that the two
//! halves of the floor are counted together.

use serde::Serialize;

use crate::court::{Side, Spot, SpotName};
use crate::defence::{Duty, Relation};
use crate::offence::LookKind;

/// A half of the floor, told by the ball.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Half {
    /// The half that the ball is in.
    Ball,
    /// The other half.
    Weak,
}

/// A spot without left and right.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize)]
pub struct Where {
    /// Which spot.
    pub spot: SpotName,
    /// `None` on the midline.
    pub half: Option<Half>,
}

impl Where {
    /// `spot` while the ball is on side `ball`.
    pub fn of(spot: Spot, ball: Side) -> Where {
        let half = |side| if side == ball { Half::Ball } else { Half::Weak };
        Where {
            spot: spot.name,
            half: spot.side.map(half),
        }
    }

    /// "ball-side slot", "weak-side wing", "top".
    pub fn words(self) -> String {
        match self.half {
            None => self.spot.word().to_string(),
            Some(Half::Ball) => format!("ball-side {}", self.spot.word()),
            Some(Half::Weak) => format!("weak-side {}", self.spot.word()),
        }
    }

    /// "ball slot", "weak wing", "top".
    pub fn short(self) -> String {
        self.words().replacen("-side", "", 1)
    }

    /// "slot:ball", as files have it.
    pub fn code(self) -> String {
        match self.half {
            None => self.spot.code().to_string(),
            Some(Half::Ball) => format!("{}:ball", self.spot.code()),
            Some(Half::Weak) => format!("{}:weak", self.spot.code()),
        }
    }
}

/// A kind of look at one place. `from`: where the ball is, unless the look comes out of a drive;
/// `to`: where the receiver is, unless he is on the run.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize)]
pub struct Site {
    /// What the holder could do.
    pub kind: LookKind,
    /// Where the ball is.
    pub from: Option<Where>,
    /// Where the receiver is.
    pub to: Option<Where>,
}

impl Site {
    /// The site of a look; `to` is not asked for where it says nothing.
    pub fn of(kind: LookKind, from: Where, to: Option<Where>) -> Site {
        use LookKind::*;
        Site {
            kind,
            from: (!matches!(kind, DropOff | KickOut)).then_some(from),
            to: to.filter(|_| matches!(kind, Post | KickOut | NextPass | Skip)),
        }
    }

    /// "the drive from the ball-side slot", "the skip pass from the ball-side wing to the weak-side slot".
    pub fn words(self) -> String {
        let name = match self.kind {
            LookKind::GiveAndGo => "feed to the give-and-go cutter",
            LookKind::Backdoor => "feed to the backdoor cutter",
            LookKind::DropOff => "drop-off out of a drive",
            kind => kind.word(),
        };
        let mut text = format!("the {name}");
        if let Some(from) = self.from {
            text += &format!(" from the {}", from.words());
        }
        if let Some(to) = self.to {
            text += &format!(" to the {}", to.words());
        }
        text
    }
}

impl Site {
    /// Short enough for a table: "drive, slot", "skip pass, wing → weak slot". The ball is on the
    /// ball side, so that half is said of the receiver only.
    pub fn short(self) -> String {
        let mut text = self.kind.word().to_string();
        if let Some(from) = self.from {
            text += &format!(", {}", from.spot.word());
        }
        if let Some(to) = self.to {
            text += &format!(" → {}", to.short());
        }
        text
    }
}

/// A defender by what he is there for, not by his number.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize)]
pub struct Seat {
    /// The relation of the defender's man to the ball.
    pub relation: Relation,
    /// What the defender is doing.
    pub duty: Duty,
    /// The spot of his man, if that is one outside and without the ball.
    pub man: Option<Where>,
}

impl Seat {
    /// The seat of a defender whose man is at `man`.
    pub fn of(relation: Relation, duty: Duty, man: Where) -> Seat {
        let outside = matches!(relation, Relation::OnePass | Relation::TwoPasses);
        // Before the first tick nobody has taken up a duty yet.
        let duty = match (relation, duty) {
            (Relation::OnePass, Duty::OnBall) => Duty::Gap,
            (Relation::TwoPasses, Duty::OnBall) => Duty::HelpLine,
            (Relation::PostBallSide | Relation::PostWeakSide, Duty::OnBall) => Duty::Post,
            (Relation::Cutter, Duty::OnBall) => Duty::Trailing,
            (_, duty) => duty,
        };
        Seat {
            relation,
            duty,
            man: Some(man).filter(|w| outside && w.spot.is_perimeter()),
        }
    }

    /// "the weak-side wing's defender", "the post's defender".
    pub fn who(self) -> String {
        match (self.relation, self.man) {
            (Relation::OnBall, _) => "the defender on the ball".into(),
            (Relation::Cutter, _) => "the cutter's defender".into(),
            (Relation::PostBallSide, _) => "the ball-side post's defender".into(),
            (Relation::PostWeakSide, _) => "the weak-side post's defender".into(),
            (_, Some(man)) => format!("the {}'s defender", man.words()),
            (relation, None) => format!("a defender {}", relation.word()),
        }
    }

    /// What he does, where who he is does not say it; `midline`: he mostly stands on it.
    pub fn doing(self, midline: bool) -> &'static str {
        match (self.relation, self.duty) {
            (Relation::OnBall, Duty::Recovering) => ", still closing out",
            (_, Duty::LowHelp) => ", helping at the rim",
            (_, Duty::Rotating) => ", rotating",
            (_, Duty::Recovering) => ", recovering",
            (_, Duty::Area) => ", in his area",
            (Relation::OnBall | Relation::Cutter, _) => "",
            (_, Duty::Denying) => ", denying",
            (_, _) if midline => ", standing on the midline",
            (Relation::PostBallSide | Relation::PostWeakSide, _) => "",
            (_, Duty::Gap) => ", in the gap",
            _ => ", in help",
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_spot_is_named_by_the_ball_and_its_mirror_image_the_same() {
        let wing = Spot::new(SpotName::Wing, Side::Right);
        assert_eq!(Where::of(wing, Side::Left).words(), "weak-side wing");
        assert_eq!(
            Where::of(wing, Side::Left),
            Where::of(wing.mirrored(), Side::Right)
        );
        assert_eq!(
            Where::of(Spot::new(SpotName::Top, None), Side::Left).code(),
            "top"
        );
    }

    #[test]
    fn a_look_and_its_closer_read_as_a_coach_says_them() {
        let at = |name, side| Where::of(Spot::new(name, side), Side::Right);
        let slot = at(SpotName::Slot, Side::Right);
        let wing = at(SpotName::Wing, Side::Left);
        assert_eq!(
            Site::of(LookKind::Drive, slot, None).words(),
            "the drive from the ball-side slot"
        );
        assert_eq!(
            Site::of(LookKind::KickOut, slot, Some(wing)).words(),
            "the kick-out to the weak-side wing"
        );
        let seat = Seat::of(Relation::TwoPasses, Duty::HelpLine, wing);
        assert_eq!(
            seat.who() + seat.doing(true),
            "the weak-side wing's defender, standing on the midline"
        );
    }
}
