//! Why a defender stands where he stands: what opens if he is a step off, by the looks of that instant measured again
//! with him moved and everybody else in place. Exact geometry; nothing is played.

use crate::court::{Court, Vec2};
use crate::possession::LookNow;
use crate::sim::instant::Instant;
use crate::sim::parts::Play;

/// A step off, metres (ours).
pub const STEP: f64 = 1.0;
/// Two bodies do not come nearer to each other than this, metres (ours: shoulder to shoulder).
const BODIES: f64 = 0.7;
/// Nearer to an attacker than this nobody stands, metres (ours: chest to chest).
const TOUCH: f64 = 0.5;
/// Half of how deep a body is, metres (ours): nobody stands in the backboard, or behind it.
const DEEP: f64 = 0.2;
/// Steps of one who gives nothing away a step off: how many in the end do.
pub const FARTHEST: u8 = 4;
/// What gains the holder less than this, points, is not worth a word (ours).
pub const WORTH_SAYING: f64 = 0.03;
/// Ways in which somebody can be a step off.
const TURNS: u8 = 8;

/// Which way a step leads.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Way {
    /// Toward the ball, or away from it.
    Ball(bool),
    /// Toward the player who is guarded (number 1–5), or away.
    Player(bool, u8),
    /// Toward the rim, or away from it.
    Rim(bool),
    /// Toward the midline, or away from it.
    Midline(bool),
    /// To the other side of the midline: toward the ball, or away from it.
    Across(bool),
}

impl Way {
    /// "nearer to the ball".
    pub fn words(self) -> String {
        let near = |toward: bool| if toward { "nearer to" } else { "farther from" };
        match self {
            Way::Ball(toward) => format!("{} the ball", near(toward)),
            Way::Player(toward, who) => format!("{} {who}", near(toward)),
            Way::Rim(true) => "deeper toward the rim".into(),
            Way::Rim(false) => "higher away from the rim".into(),
            Way::Midline(true) => "toward the midline".into(),
            Way::Midline(false) => "away from the midline".into(),
            Way::Across(true) => "across the midline, toward the ball".into(),
            Way::Across(false) => "across the midline, away from the ball".into(),
        }
    }
}

/// What a defender off the right place does to one look: what a learner is told of his own place, and why the right one
/// is right.
#[derive(Clone, Debug, PartialEq)]
pub struct Opens {
    /// Which way it is off the right place.
    pub way: Way,
    /// Where the defender stands then, metres from the rim.
    pub stands: Vec2,
    /// The look, as it is then.
    pub look: LookNow,
    /// The same look with the defender in place; `None` if there is none.
    pub before: Option<LookNow>,
}

impl Opens {
    /// Is the look shut with the defender in place, and open now?
    pub fn opens(&self) -> bool {
        self.look.open && self.before.as_ref().is_some_and(|o| !o.open)
    }

    /// Openness with the defender in place and off it, 0 to 1.
    pub fn openness(&self) -> (f64, f64) {
        let before = self.before.as_ref().map_or(0.0, |o| o.openness);
        (before, self.look.openness)
    }

    /// What the look is worth with the defender in place and off it, points.
    pub fn worth(&self) -> (f64, f64) {
        let before = self.before.as_ref().map_or(0.0, |o| o.value);
        (before, self.look.value)
    }

    /// What the holder gains, points.
    pub fn gains(&self) -> f64 {
        self.worth().1 - self.worth().0
    }

    /// Is it worth enough more than before to be seen in the figures? A limit that is just crossed is no reason.
    fn gives_room(&self) -> bool {
        self.gains() > WORTH_SAYING
    }

    /// Is it worth a word on the floor? Only what is open then, as floor and caption have it.
    pub fn counts(&self) -> bool {
        self.look.open && self.gives_room()
    }

    /// Is it about this look?
    pub fn is_of(&self, look: &LookNow) -> bool {
        self.look.kind == look.kind && self.look.to == look.to
    }
}

/// The looks of an instant with body `5 + d` standing at rest at a place.
fn looks_at(play: &Play, instant: &mut Instant, d: usize, place: Vec2) -> Vec<LookNow> {
    let scene = &mut instant.old.scene;
    let (pos, vel) = (scene.pos[5 + d], scene.vel[5 + d]);
    scene.pos[5 + d] = place;
    scene.vel[5 + d] = Vec2::ZERO;
    let looks = instant.looks(play);
    let scene = &mut instant.old.scene;
    scene.pos[5 + d] = pos;
    scene.vel[5 + d] = vel;
    looks
}

/// Can defender `d` (0–4) stand at `at`, metres from the rim, with the others at `pos`: on the floor, in front of the
/// backboard, and on nobody?
pub fn can_stand(court: &Court, pos: &[Vec2], d: usize, at: Vec2) -> bool {
    let board = court.baseline_y() + court.backboard_to_baseline;
    let behind = at.y < board + DEEP && at.x.abs() < court.backboard_width / 2.0 + DEEP;
    let on_floor = court.clamp_inside(at, 0.0).distance(at) < 1e-9;
    let mut others = pos.iter().enumerate().filter(|(i, _)| *i != 5 + d);
    let near = |i: usize| if i < 5 { TOUCH } else { BODIES };
    on_floor && !behind && others.all(|(i, p)| p.distance(at) >= near(i))
}

/// What defender `d` (0–4) opens off where he is by as few steps as open or gain anything, [`FARTHEST`] at most.
pub fn first_that_opens(play: &Play, instant: &mut Instant, d: usize) -> (u8, Vec<Opens>) {
    for steps in 1..=FARTHEST {
        let all = steps_off(play, instant, d, steps, Opens::gives_room);
        if !all.is_empty() {
            return (steps, all);
        }
    }
    (FARTHEST, Vec::new())
}

/// What defender `d` (0–4) opens at `at`, metres from the rim, beside where the instant has that defender; the instant is
/// left as it was. What the rules take comes first, then what opens altogether, then what gains the holder most; what no
/// rule takes is told only where there is nothing else.
pub fn opened_at(play: &Play, instant: &mut Instant, d: usize, at: Vec2) -> Vec<Opens> {
    let before = looks_at(play, instant, d, instant.old.scene.pos[5 + d]);
    let mut all = measured(play, instant, d, &before, at);
    all.retain(Opens::counts);
    told(all)
}

/// What defender `d` (0–4) opens so many steps off where he is: each look by the way that gains the holder most, sorted as
/// by [`opened_at`], of those that count. Nobody steps into another body.
pub fn steps_off(
    play: &Play,
    instant: &mut Instant,
    d: usize,
    steps: u8,
    counts: fn(&Opens) -> bool,
) -> Vec<Opens> {
    let place = instant.old.scene.pos[5 + d];
    let before = looks_at(play, instant, d, place);
    let mut all: Vec<Opens> = Vec::new();
    let standing = instant.old.scene.pos;
    for turn in 0..TURNS {
        let angle = std::f64::consts::TAU * f64::from(turn) / f64::from(TURNS);
        let at = place + Vec2::new(libm::cos(angle), libm::sin(angle)) * (STEP * f64::from(steps));
        if !can_stand(&play.cast.court, &standing, d, at) {
            continue;
        }
        let measured = measured(play, instant, d, &before, at);
        for opens in measured.into_iter().filter(&counts) {
            let better =
                |known: &Opens| (opens.opens(), opens.gains()) > (known.opens(), known.gains());
            match all.iter_mut().find(|o| o.is_of(&opens.look)) {
                Some(known) if better(known) => *known = opens,
                Some(_) => {}
                None => all.push(opens),
            }
        }
    }
    told(all)
}

/// Every look with defender `d` at `at`, beside that of its kind `before`.
fn measured(
    play: &Play,
    instant: &mut Instant,
    d: usize,
    before: &[LookNow],
    at: Vec2,
) -> Vec<Opens> {
    let way = way(instant, d, at);
    let looks = looks_at(play, instant, d, at).into_iter();
    let same = |look: &LookNow| {
        let mut known = before.iter();
        known.find(|o| o.kind == look.kind && o.to == look.to)
    };
    looks
        .map(|look| Opens {
            way,
            stands: at,
            before: same(&look).cloned(),
            look,
        })
        .collect()
}

/// In the order in which they are told: what opens altogether first, then what gains most. What the rules never take is no
/// reason beside what they take.
fn told(mut all: Vec<Opens>) -> Vec<Opens> {
    let taken = all.iter().any(|o| o.look.allowed);
    all.retain(|o| o.look.allowed == taken);
    all.sort_by(|a, b| {
        let opens = b.opens().cmp(&a.opens());
        opens.then(b.gains().total_cmp(&a.gains()))
    });
    all
}

/// Past the midline is across it from so far on, metres (ours).
const ACROSS: f64 = 0.5;

/// To which of ball, player, rim and midline `at` is nearer, or from which it is farther, by most than where the instant
/// has defender `d` (0–4): by the distances themselves, so that nobody is called nearer who is not.
pub fn way(instant: &Instant, d: usize, at: Vec2) -> Way {
    let scene = &instant.old.scene;
    let place = scene.pos[5 + d];
    let guarded = scene.guards[d];
    let nearer = |target: Vec2| place.distance(target) - at.distance(target);
    let ball = nearer(instant.ball());
    if at.x * place.x < 0.0 && at.x.abs().min(place.x.abs()) > ACROSS {
        return Way::Across(ball > 0.0);
    }
    let mut best = (ball, Way::Ball(ball > 0.0));
    // On the ball the player is the ball.
    let player = if guarded == instant.hold.by {
        0.0
    } else {
        nearer(scene.pos[guarded])
    };
    let (rim, midline) = (nearer(Vec2::ZERO), place.x.abs() - at.x.abs());
    for (toward, way) in [
        (player, Way::Player(player > 0.0, guarded as u8 + 1)),
        (rim, Way::Rim(rim > 0.0)),
        (midline, Way::Midline(midline > 0.0)),
    ] {
        if toward.abs() > best.0.abs() + 1e-9 {
            best = (toward, way);
        }
    }
    best.1
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::court::CourtCode;

    #[test]
    fn nobody_stands_on_another_behind_the_board_or_off_the_floor() {
        let court = Court::of(CourtCode::Fiba);
        let mut pos = [Vec2::new(0.0, 8.0); 10];
        for (k, p) in pos.iter_mut().enumerate() {
            p.x = 1.5 * k as f64 - 6.0;
        }
        let can = |at: Vec2| can_stand(court, &pos, 0, at);
        let board = court.baseline_y() + court.backboard_to_baseline;
        assert!(can(Vec2::new(0.0, 1.0)) && can(Vec2::new(0.0, 0.0)));
        assert!(!can(Vec2::new(0.0, board)) && !can(Vec2::new(0.5, board - 0.4)));
        assert!(can(Vec2::new(3.0, board)));
        // On a team-mate; where the defender is already; outside.
        assert!(!can(pos[6]) && can(pos[5]));
        assert!(!can(Vec2::new(0.0, court.baseline_y() - 0.1)));
    }
}
