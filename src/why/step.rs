//! Why a defender stands where he stands: what opens if he is a step off, by the looks of that instant measured again
//! with him moved and everybody else in place. Exact geometry; nothing is played.

use crate::court::Vec2;
use crate::offence::LookKind;
use crate::possession::LookNow;
use crate::sim::instant::Instant;
use crate::sim::parts::Play;

/// A step off, metres (ours).
pub const STEP: f64 = 1.0;
/// Two bodies do not come nearer to each other than this, metres (ours: shoulder to shoulder).
const BODIES: f64 = 0.7;
/// Steps of one who gives nothing away a step off: how many in the end do.
pub const FARTHEST: u8 = 4;
/// A step that gains the holder less than this, points, is not worth a word (ours).
pub const WORTH_SAYING: f64 = 0.03;
/// Ways in which somebody can be a step off.
const TURNS: u8 = 8;

/// Which way a step leads.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Way {
    /// Toward the ball, or away from it.
    Ball(bool),
    /// Toward the player who is guarded (number 1–5), or away.
    Player(bool, u8),
    /// Toward the rim, or away from it.
    Rim(bool),
    /// Toward the midline, or away from it.
    Midline(bool),
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
        }
    }
}

/// What a step off the place does to one look.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Opens {
    /// Which way the step leads that opens it most.
    pub way: Way,
    /// What the holder could do.
    pub look: LookKind,
    /// The team-mate passed to.
    pub to: Option<u8>,
    /// Openness with the defender in place and a step off, 0 to 1.
    pub openness: (f64, f64),
    /// Is the look shut with the defender in place, and open with him a step off?
    pub opens: bool,
    /// What the holder gains, points.
    pub gains: f64,
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

/// What defender `d` (0–4) opens off where he is by as few steps as open or gain anything, [`FARTHEST`] at most.
pub fn first_that_opens(play: &Play, instant: &mut Instant, d: usize) -> (u8, Vec<Opens>) {
    for steps in 1..=FARTHEST {
        let all = steps_off(play, instant, d, steps);
        if !all.is_empty() {
            return (steps, all);
        }
    }
    (FARTHEST, Vec::new())
}

/// What defender `d` (0–4) opens so many steps off where he is: each look by the way that gains the holder most, what
/// opens altogether first, then by what is gained; the instant is left as it was. Nobody steps into another body.
pub fn steps_off(play: &Play, instant: &mut Instant, d: usize, steps: u8) -> Vec<Opens> {
    let place = instant.old.scene.pos[5 + d];
    let before = looks_at(play, instant, d, place);
    let mut all: Vec<Opens> = Vec::new();
    for turn in 0..TURNS {
        let angle = std::f64::consts::TAU * f64::from(turn) / f64::from(TURNS);
        let off = Vec2::new(libm::cos(angle), libm::sin(angle)) * (STEP * f64::from(steps));
        let others = instant
            .old
            .scene
            .pos
            .iter()
            .enumerate()
            .filter(|(i, _)| *i != 5 + d);
        if others
            .map(|(_, p)| (p - place - off).length())
            .any(|far| far < BODIES)
        {
            continue;
        }
        let way = way(instant, d, off);
        for look in looks_at(play, instant, d, place + off) {
            let was = before
                .iter()
                .find(|o| o.kind == look.kind && o.to == look.to);
            let opens = Opens {
                way,
                look: look.kind,
                to: look.to,
                openness: (was.map_or(0.0, |o| o.openness), look.openness),
                opens: look.open && was.is_some_and(|o| !o.open),
                gains: look.value - was.map_or(0.0, |o| o.value),
            };
            let better = |known: &Opens| (opens.opens, opens.gains) > (known.opens, known.gains);
            match all
                .iter_mut()
                .find(|o| o.look == opens.look && o.to == opens.to)
            {
                Some(known) if better(known) => *known = opens,
                Some(_) => {}
                None => all.push(opens),
            }
        }
    }
    all.retain(|o| o.opens || o.gains > WORTH_SAYING);
    all.sort_by(|a, b| b.opens.cmp(&a.opens).then(b.gains.total_cmp(&a.gains)));
    all
}

/// Toward which of ball, player, rim and midline, or away from which, a step leads most nearly.
fn way(instant: &Instant, d: usize, off: Vec2) -> Way {
    let scene = &instant.old.scene;
    let place = scene.pos[5 + d];
    let guarded = scene.guards[d];
    let along = |target: Vec2| {
        let way = target - place;
        if way.length() < 0.3 {
            0.0
        } else {
            off.dot(way) / way.length()
        }
    };
    let ball = along(instant.ball());
    let mut best = (ball, Way::Ball(ball > 0.0));
    // On the ball the player is the ball.
    let player = if guarded == instant.hold.by {
        0.0
    } else {
        along(scene.pos[guarded])
    };
    let (rim, midline) = (along(Vec2::ZERO), along(Vec2::new(0.0, place.y)));
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
