//! The registry of sights: what each is called, what it means, and what real play shows.
//!
//! The printed table, the JSON and the list of definitions all come from [`SIGHTS`].

use super::counts::{List, Pair};

/// Where the real figures come from.
pub const SOURCE: &str = "tracked professional men's games, season 2015-16, possessions distributed \
     with Xu, Hayet, Karamouzas, “SocialVAE: Human Trajectory Prediction using Timewise Latents”, \
     ECCV 2022; aggregates";

/// The headings under which sights stand.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Group {
    /// Speeds, accelerations, who stands.
    Motion,
    /// Where attackers stand, and who is too near to whom.
    Spacing,
    /// Passes, catches and what follows them.
    Passes,
    /// Drives and cuts.
    Drives,
    /// Where defenders stand, and how they close out.
    Guarding,
}

impl Group {
    /// All groups, in the order of the page.
    pub const ALL: [Group; 5] = [
        Group::Motion,
        Group::Spacing,
        Group::Passes,
        Group::Drives,
        Group::Guarding,
    ];

    /// In words.
    pub fn word(self) -> &'static str {
        match self {
            Group::Motion => "MOTION",
            Group::Spacing => "SPACING AND CROWDING",
            Group::Passes => "PASSES AND CATCHES",
            Group::Drives => "DRIVES AND CUTS",
            Group::Guarding => "DEFENDERS AND CLOSEOUTS",
        }
    }
}

/// Which differences from real play count against us.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Wish {
    /// Both more and less.
    Same,
    /// Only more: it is a fault of a simulation, or of spacing.
    NoMore,
    /// Only less.
    NoLess,
}

/// How a figure comes of the counts.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Gauge {
    /// Quantiles of all values.
    Quantiles(List),
    /// Sum over sum, a part of a whole.
    Share(Pair),
    /// The same in per cent.
    Percent(Pair),
    /// Sum over sum.
    Rate(Pair),
    /// Standard deviation over mean.
    Variation(List),
    /// Least number of cells that hold half of the time.
    Cells,
}

/// A figure of real play.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Real {
    /// Which quantile, 0 to 1; `None` for what is one number.
    pub at: Option<f64>,
    /// The figure, in the unit of its sight.
    pub value: f64,
    /// Tenth to ninetieth percentile over games or teams, in the unit of the sight.
    pub bracket: Option<(f64, f64)>,
}

/// One sight: a name for files, a few words and a definition for people, and real play.
#[derive(Clone, Copy, Debug)]
pub struct Sight {
    /// Name in files.
    pub name: &'static str,
    /// The heading under which it stands.
    pub group: Group,
    /// At most 33 letters, so that the table fits.
    pub sentence: &'static str,
    /// Unit of its figures.
    pub unit: &'static str,
    /// How it is counted, in sentences.
    pub means: &'static str,
    /// Which differences count against us.
    pub wish: Wish,
    /// How the figure comes of the counts.
    pub gauge: Gauge,
    /// Figures of real play.
    pub real: &'static [Real],
}

const fn real(value: f64) -> Real {
    Real {
        at: None,
        value,
        bracket: None,
    }
}

const fn within(value: f64, low: f64, high: f64) -> Real {
    Real {
        bracket: Some((low, high)),
        ..real(value)
    }
}

const fn at(at: f64, value: Real) -> Real {
    Real {
        at: Some(at),
        ..value
    }
}

macro_rules! sights {
    ($($group:ident, $wish:ident: $name:literal, $sentence:literal, $unit:literal, $gauge:expr,
       [$($real:expr),* $(,)?], $means:literal;)*) => {
        &[$(Sight {
            name: $name,
            group: Group::$group,
            sentence: $sentence,
            unit: $unit,
            means: $means,
            wish: Wish::$wish,
            gauge: $gauge,
            real: &[$($real),*],
        },)*]
    };
}

use Gauge::{Cells, Percent, Quantiles, Rate, Share, Variation};

/// Every sight, group by group.
pub const SIGHTS: &[Sight] = sights! {
    Motion, Same: "offence_speed", "attacker's speed, m/s", "m/s", Quantiles(List::OffenceSpeed),
        [at(0.5, within(1.30, 1.21, 1.37)), at(0.9, within(3.34, 3.17, 3.42)), at(0.99, real(4.71))],
        "Speed of each attacker in every sample: central difference over 0.24 s.";
    Motion, Same: "defence_speed", "defender's speed, m/s", "m/s", Quantiles(List::DefenceSpeed),
        [at(0.5, within(1.07, 1.02, 1.14)), at(0.9, within(2.52, 2.41, 2.63)), at(0.99, real(3.98))],
        "Speed of each defender in every sample.";
    Motion, Same: "holder_speed", "speed with the ball, m/s", "m/s", Quantiles(List::HolderSpeed),
        [at(0.5, real(1.55)), at(0.9, real(3.75)), at(0.99, real(4.97))],
        "Speed of the ball holder.";
    Motion, Same: "on_ball_speed", "on-ball defender's speed, m/s", "m/s", Quantiles(List::OnBallSpeed),
        [at(0.5, real(1.30)), at(0.9, real(3.03)), at(0.99, real(4.24))],
        "Speed of the defender who is matched with the ball holder.";
    Motion, Same: "offence_fast", "attackers faster than 3 m/s", "share", Share(Pair::OffenceFast),
        [real(0.140)],
        "Share of samples of attackers faster than 3 m/s.";
    Motion, Same: "defence_fast", "defenders faster than 3 m/s", "share", Share(Pair::DefenceFast),
        [real(0.053)],
        "Share of samples of defenders faster than 3 m/s.";
    Motion, Same: "offence_acceleration", "attacker's acceleration, m/s²", "m/s²",
        Quantiles(List::OffenceAcceleration),
        [at(0.5, real(1.59)), at(0.9, real(3.83)), at(0.99, real(6.38))],
        "Size of the acceleration of each attacker: second derivative of a parabola fitted to five \
         samples (Savitzky and Golay, order 2, 0.60 s).";
    Motion, Same: "defence_acceleration", "defender's acceleration, m/s²", "m/s²",
        Quantiles(List::DefenceAcceleration),
        [at(0.5, real(1.64)), at(0.9, real(3.86)), at(0.99, real(6.53))],
        "The same of each defender.";
    Motion, NoMore: "defence_above_6", "defenders above 6 m/s², %", "%", Percent(Pair::DefenceAbove6),
        [real(1.6)], "Samples of defenders who accelerate or brake by more than 6 m/s².";
    Motion, NoMore: "defence_above_8", "defenders above 8 m/s², %", "%", Percent(Pair::DefenceAbove8),
        [real(0.25)], "The same, more than 8 m/s².";
    Motion, NoMore: "defence_above_10", "defenders above 10 m/s², %", "%", Percent(Pair::DefenceAbove10),
        [real(0.06)], "The same, more than 10 m/s².";
    Motion, NoMore: "jumps", "velocity jumps a minute", "1/min", Rate(Pair::Jumps),
        [real(0.14)],
        "All ten players together: the velocity from one sample to the next differs by more than \
         3 m/s from the one before it.";
    Motion, NoLess: "holder_moves", "holder faster than 1 m/s", "share", Share(Pair::HolderMoves),
        [real(0.66)], "Share of held time in which the ball holder is faster than 1 m/s.";
    Motion, NoMore: "all_four_stand", "all four off the ball stand", "share", Share(Pair::AllFourStand),
        [real(0.005)],
        "Share of held time in which all four attackers off the ball are slower than 0.5 m/s.";
    Motion, NoMore: "first_mover", "first off the ball on the move, s", "s", Quantiles(List::FirstMover),
        [at(0.5, within(0.0, 0.0, 0.12))],
        "From the start of a possession's first settled part until one of the attackers off the \
         ball is faster than 2 m/s (real: at once, taken as two samples).";

    Spacing, NoMore: "mates_near", "two attackers 1.5 m apart for 1 s", "in 10 s", Rate(Pair::MatesNear),
        [within(0.41, 0.32, 0.54)],
        "Spells of 1 s or more in which two attackers are within 1.5 m, each pair by itself.";
    Spacing, NoMore: "mates_near_free", "the same, neither has the ball", "in 10 s",
        Rate(Pair::MatesNearFree), [within(0.23, 0.14, 0.32)],
        "The same, of samples in which neither of the two holds the ball.";
    Spacing, NoMore: "mates_tight", "two attackers 1.0 m for 0.5 s", "in 10 s", Rate(Pair::MatesTight),
        [within(0.39, 0.29, 0.51)],
        "Spells of 0.5 s or more in which two attackers are within 1.0 m.";
    Spacing, NoMore: "defenders_tight", "two defenders 0.9 m for 0.5 s", "in 10 s",
        Rate(Pair::DefendersTight), [within(0.57, 0.38, 0.66)],
        "Spells of 0.5 s or more in which two defenders are within 0.9 m.";
    Spacing, NoMore: "three_at_the_rim", "three attackers at the rim", "share",
        Share(Pair::ThreeAtTheRim), [within(0.010, 0.004, 0.017)],
        "Share of time in which three or more attackers are within 3 m of the rim.";
    Spacing, Same: "nearest_mate", "nearest team-mate outside, m", "m", Quantiles(List::NearestMate),
        [at(0.5, within(4.62, 4.41, 4.81))],
        "From each attacker 5.5 m or more from the rim to the nearest team-mate.";
    Spacing, Same: "attack_hull", "hull of the attackers, m²", "m²", Quantiles(List::AttackHull),
        [at(0.5, within(47.7, 44.5, 51.2))], "Area of the convex hull of the five attackers.";
    Spacing, Same: "defence_hull", "hull of the defenders, m²", "m²", Quantiles(List::DefenceHull),
        [at(0.5, within(19.4, 17.8, 21.3))], "Area of the convex hull of the five defenders.";
    Spacing, Same: "outside", "attackers outside, mean", "players", Rate(Pair::Outside),
        [real(3.42)], "Attackers 5.5 m or more from the rim.";
    Spacing, NoLess: "cells", "cells that hold half of the time", "cells", Cells,
        [real(68.0)],
        "Least number of cells of 0.5 m, left and right put together, that hold half of the time \
         of attackers off the ball 5.5 m or more from the rim. A short run finds fewer.";

    Passes, Same: "passes", "passes in 10 s", "in 10 s", Rate(Pair::Passes),
        [within(2.16, 1.89, 2.56)],
        "A pass: one hold after another's, the two at least 1.8 m apart; a hold lasts 0.24 s.";
    Passes, Same: "passes_of_many", "the same, three or more passes", "in 10 s",
        Rate(Pair::PassesOfMany), [real(3.18)],
        "The same in possessions with three passes or more.";
    Passes, Same: "pass_length", "length of a pass, m", "m", Quantiles(List::PassLength),
        [at(0.1, real(3.1)), at(0.25, real(4.1)), at(0.5, real(5.3)), at(0.75, real(6.7)), at(0.9, real(8.2))],
        "From the passer at the release to the catcher at the catch.";
    Passes, Same: "ball_speed_to_4", "ball's speed, passes under 4 m", "m/s",
        Quantiles(List::BallSpeedTo4), [at(0.5, real(6.4))],
        "Length over time from the passer's last sample to the catcher's first, m/s.";
    Passes, Same: "ball_speed_to_6", "the same, 4 to 6 m", "m/s", Quantiles(List::BallSpeedTo6),
        [at(0.5, real(9.0))], "The same for passes of 4 to 6 m.";
    Passes, Same: "ball_speed_to_8", "the same, 6 to 8 m", "m/s", Quantiles(List::BallSpeedTo8),
        [at(0.5, real(10.8))], "The same for passes of 6 to 8 m.";
    Passes, Same: "ball_speed_to_10", "the same, 8 to 10 m", "m/s", Quantiles(List::BallSpeedTo10),
        [at(0.5, real(11.6))], "The same for passes of 8 to 10 m.";
    Passes, Same: "ball_speed_beyond", "the same, longer", "m/s", Quantiles(List::BallSpeedBeyond),
        [at(0.5, real(11.7))], "The same for passes of 10 m or more.";
    Passes, Same: "touch", "touch: catch to release, s", "s", Quantiles(List::Touch),
        [at(0.1, real(0.36)), at(0.25, real(0.72)), at(0.5, real(1.44)), at(0.75, real(2.64)), at(0.9, real(3.96))],
        "From the catch to the next release, a shot among them.";
    Passes, Same: "catch_to_action", "outside catch to next action, s", "s",
        Quantiles(List::CatchToAction),
        [at(0.1, real(0.36)), at(0.5, real(0.72)), at(0.9, real(2.2))],
        "From a catch 5.5 m or more from the rim until the catcher is 1.2 m from where it was, or \
         the ball is gone.";
    Passes, NoMore: "catch_standing", "receiver slower than 0.5 m/s", "share",
        Share(Pair::CatchStanding), [within(0.13, 0.10, 0.17)],
        "Share of catches at which the receiver is slower than 0.5 m/s.";
    Passes, NoLess: "release_variation", "release to release, sd / mean", "", Variation(List::ReleaseGap),
        [real(0.64)],
        "Coefficient of variation of the time from one pass's release to the next one's.";

    Drives, Same: "drives", "drives that reach 5 m, in 10 s", "in 10 s", Rate(Pair::Drives),
        [within(0.61, 0.45, 0.80)],
        "One player holds the ball, and from more than 5 m the distance to the rim falls by 2.5 m \
         or more within 1.2 s; the drive ends, inside 5 m, when it stops falling.";
    Drives, NoMore: "drive_mate_10", "… team-mate within 1.0 m", "share", Share(Pair::DriveMate10),
        [real(0.06)], "Share of these with a team-mate within 1.0 m of the driver inside 5 m.";
    Drives, NoMore: "drive_mate_15", "… team-mate within 1.5 m", "share", Share(Pair::DriveMate15),
        [real(0.16)], "Share of these with a team-mate within 1.5 m of the driver inside 5 m.";
    Drives, NoLess: "cuts", "cuts in 10 s", "in 10 s", Rate(Pair::Cuts),
        [real(0.87)],
        "Off the ball from more than 6 m to less than 2.5 m from the rim within 2.5 s; a new one \
         only after more than 3.5 m. A motion offence is to have more.";
    Drives, Same: "cutter_stays", "cutter not fed stays inside, s", "s", Quantiles(List::CutterStays),
        [at(0.1, real(0.8)), at(0.5, real(1.3)), at(0.9, real(3.2))],
        "From the end of the cut (first nearer than 2.5 m) to the last sample before more than 3 m \
         out; only of cutters who do not get the ball.";

    Guarding, Same: "off_on_ball", "defender to the man: on ball, m", "m", Quantiles(List::OffOnBall),
        [at(0.5, within(1.71, 1.56, 1.87))],
        "Distance of each defender to the matched man, while the ball is held: the holder.";
    Guarding, Same: "off_one_pass", "the same, one pass away", "m", Quantiles(List::OffOnePass),
        [at(0.5, within(2.27, 2.10, 2.42))],
        "The man is the holder's neighbour, by angle about the rim, of those 4.2 m or more out.";
    Guarding, Same: "off_two_passes", "the same, two or more", "m", Quantiles(List::OffTwoPasses),
        [at(0.5, within(3.06, 2.81, 3.35))], "The man is so far out and not a neighbour.";
    Guarding, Same: "off_inside", "the same, inside", "m", Quantiles(List::OffInside),
        [at(0.5, within(1.28, 1.13, 1.43))], "The man is nearer to the rim than 4.2 m.";
    Guarding, Same: "catch_room", "nearest at an outside catch, m", "m", Quantiles(List::CatchRoom),
        [at(0.5, real(2.77))],
        "Nearest defender to the catcher of a pass 5.5 m or more from the rim.";
    Guarding, Same: "catch_room_half", "the same, 0.5 s later", "m", Quantiles(List::CatchRoomHalf),
        [at(0.5, real(2.06))], "The same 0.48 s later, if the catcher has the ball still.";
    Guarding, Same: "catch_room_one", "the same, 1.0 s later", "m", Quantiles(List::CatchRoomOne),
        [at(0.5, real(1.56))], "The same 0.96 s later, if the catcher has the ball still.";
};
