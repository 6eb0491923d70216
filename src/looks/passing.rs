//! Passing-lane openness: can the ball get there before a defender's hands?

use super::on_its_way::if_more_open;
use super::{BODIES, Cast, Openness, Scene};
use crate::ball::{BallSize, Flight, PassKind};
use crate::court::Vec2;
use crate::model::Looks;

/// A pass that could be thrown now.
#[derive(Clone, Copy, Debug)]
pub struct PassLook {
    /// Chance that the ball gets there, and who shuts the pass most.
    pub openness: Openness,
    /// Chest, bounce or overhead.
    pub kind: PassKind,
    /// Where the receiver catches it, metres from the rim.
    pub target: Vec2,
    /// Seconds from now to the catch.
    pub time: f64,
}

/// The flight of a pass of one kind from one player to a point.
pub fn flight(
    cast: &Cast,
    scene: &Scene,
    passer: usize,
    receiver: usize,
    kind: PassKind,
    target: Vec2,
) -> Flight {
    let (from, to) = (&cast.players[passer], &cast.players[receiver]);
    let model = &*cast.model;
    let heights = (
        kind.release_height(&model.passes, from.limits.height),
        kind.catch_height(&model.passes, to.limits.height),
    );
    let start = launch(&model.looks, scene, passer, target);
    Flight::new(model, kind, (start, target), from.hands.pass_speed, heights)
}

/// Where the ball leaves the hands: he steps and reaches to the side of a defender who stands in
/// the way close to him (common practice: "pass round him, not through him").
pub fn launch(looks: &Looks, scene: &Scene, passer: usize, target: Vec2) -> Vec2 {
    let pos = scene.pos[passer];
    let way = target - pos;
    let length = way.length();
    if length < looks.step_around_shortest_pass {
        return pos;
    }
    let along = way / length;
    let across = Vec2::new(-along.y, along.x);
    let mut first: Option<(f64, f64)> = None;
    for d in 0..5 {
        let off = scene.pos[5 + d] - pos;
        let (ahead, side) = (off.dot(along), off.dot(across));
        if ahead > looks.step_around_nearest
            && ahead < looks.step_around_distance
            && side.abs() < looks.step_around_width
            && first.is_none_or(|(a, _)| ahead < a)
        {
            first = Some((ahead, side));
        }
    }
    match first {
        None => pos,
        Some((_, side)) => {
            // Straight in the way: round by the side that is farther from the rim, mirrored or not.
            let beside = if side == 0.0 { -across.dot(pos) } else { side };
            let hand = if beside > 0.0 { -1.0 } else { 1.0 };
            pos + across * (hand * looks.step_around_width)
        }
    }
}

/// Openness of a given flight that is released after `delay` seconds.
pub fn flight_openness(
    cast: &Cast,
    scene: &Scene,
    passer: usize,
    flight: &Flight,
    delay: f64,
) -> Openness {
    if_more_open(cast, scene, passer, None, flight, delay, (-1.0, None))
}

/// Openness of a flight to a receiver as it leaves the hands.
pub fn on_release(
    cast: &Cast,
    scene: &Scene,
    passer: usize,
    receiver: usize,
    flight: &Flight,
) -> Openness {
    if_more_open(
        cast,
        scene,
        passer,
        Some(receiver),
        flight,
        0.0,
        (-1.0, None),
    )
}

/// Nearer to the goal than this counts as there, metres.
const THERE: f64 = 0.05;

/// How a receiver will move while the ball is on its way.
#[derive(Clone, Copy, Debug)]
pub struct Going {
    /// Where he runs, if he runs somewhere; else he stays about where he is.
    pub goal: Option<Vec2>,
    /// A point by which he goes there.
    pub via: Option<Vec2>,
    /// Where he will stop, if he is on his way to a place to stand.
    pub stops: Option<Vec2>,
}

impl Going {
    /// He stays about where he is.
    pub const NOWHERE: Going = Going {
        goal: None,
        via: None,
        stops: None,
    };
}

/// Where the receiver will be after `t` seconds.
pub fn lead(cast: &Cast, scene: &Scene, receiver: usize, going: Going, t: f64) -> Vec2 {
    let looks = &cast.model.looks;
    let (pos, vel) = (scene.pos[receiver], scene.vel[receiver]);
    match going.goal {
        Some(goal) => {
            let first = going.via.unwrap_or(goal);
            let way = first - pos;
            let distance = way.length();
            let rest = (goal - first).length();
            if distance + rest < THERE {
                return goal;
            }
            let limits = &cast.players[receiver].limits;
            let along = way / distance.max(1e-6);
            let v0 = vel.dot(along).max(0.0);
            let to_top = ((limits.top_speed - v0) / limits.accel).max(0.0);
            let covered = if t <= to_top {
                v0 * t + 0.5 * limits.accel * t * t
            } else {
                v0 * to_top + 0.5 * limits.accel * to_top * to_top + limits.top_speed * (t - to_top)
            };
            if covered <= distance || rest < 1e-6 {
                pos + along * covered.min(distance)
            } else {
                first + (goal - first) * ((covered - distance) / rest).min(1.0)
            }
        }
        // On the run he is led, though not beyond his place; else he comes to rest where he is.
        None if vel.length() > looks.moving_receiver_speed => {
            let ahead = vel * (looks.moving_lead_share * t.min(looks.moving_lead_time));
            match going.stops {
                Some(at) if (at - pos).dot(vel) > 0.0 && (at - pos).length() < ahead.length() => at,
                _ => pos + ahead,
            }
        }
        None => pos + vel * (looks.standing_lead_share * t.min(looks.standing_lead_time)),
    }
}

/// Where a pass of `t` seconds to a team-mate is aimed, inside the lines: where he will be, or at his
/// far hand if he does not run.
pub fn aim(
    cast: &Cast,
    scene: &Scene,
    passer: usize,
    receiver: usize,
    going: Going,
    t: f64,
) -> Vec2 {
    let looks = &cast.model.looks;
    let at = lead(cast, scene, receiver, going, t);
    let hand =
        if going.goal.is_none() && scene.vel[receiver].length() <= looks.moving_receiver_speed {
            far_hand(looks, scene, passer, receiver)
        } else {
            Vec2::ZERO
        };
    cast.court.clamp_inside(at + hand, looks.line_margin)
}

/// From his body to the hand that he shows.
fn far_hand(looks: &Looks, scene: &Scene, passer: usize, receiver: usize) -> Vec2 {
    let pos = scene.pos[receiver];
    let way = pos - scene.pos[passer];
    let length = way.length();
    let Some(d) = scene.guarded_by(receiver) else {
        return Vec2::ZERO;
    };
    let off = scene.pos[5 + d] - pos;
    if length < 1e-6 || off.length() > looks.far_hand_defender_distance {
        return Vec2::ZERO;
    }
    let across = Vec2::new(-way.y, way.x) / length;
    let side = off.dot(across);
    // With his man straight in front or behind him he shows neither hand more than the other.
    across * (-looks.far_hand_distance * (side / looks.far_hand_full_offset).clamp(-1.0, 1.0))
}

/// The best kind of pass to a team-mate, led to where he will be.
/// `kinds`: which kinds to try. `None` if he is out of range of all of them.
///
/// # Examples
/// ```
/// # use lanelight_play as lanelight;
/// use lanelight::ball::PassKind;
/// use lanelight::court::Vec2;
/// use lanelight::sim::cast_of;
/// use lanelight::looks::passing::{Going, best_pass};
/// use lanelight::looks::{BODIES, Scene};
/// use lanelight::scenario::Scenario;
///
/// let cast = cast_of(&Scenario::demo());
/// // Five attackers, each with a defender between them and the rim.
/// let at = [(-2.4, 7.0), (2.4, 7.0), (6.0, 4.0), (-6.0, 4.0), (0.0, 2.0)];
/// let pos: [Vec2; BODIES] = std::array::from_fn(|i| {
///     let (x, y) = at[i % 5];
///     Vec2::new(x, y) * if i < 5 { 1.0 } else { 0.75 }
/// });
/// let mut scene = Scene {
///     pos,
///     vel: [Vec2::ZERO; BODIES],
///     facing: std::array::from_fn(|i| pos[i] / pos[i].length() * if i < 5 { -1.0 } else { 1.0 }),
///     alert: [0.2; 5],
///     aware: [0.1; 5],
///     guards: [0, 1, 2, 3, 4],
/// };
/// let best = |scene: &Scene| best_pass(&cast, scene, 0, 1, Going::NOWHERE, &PassKind::ALL);
/// let look = best(&scene).expect("the other slot is in range");
/// assert!(look.openness.value > 0.5 && look.time < 1.0);
///
/// // Their defender steps into the passing lane.
/// scene.pos[6] = Vec2::new(1.2, 7.0);
/// let denied = best(&scene).expect("still in range");
/// assert!(denied.openness.value < look.openness.value);
/// assert_eq!(denied.openness.closer.0, 1);
/// ```
pub fn best_pass(
    cast: &Cast,
    scene: &Scene,
    passer: usize,
    receiver: usize,
    going: Going,
    kinds: &[PassKind],
) -> Option<PassLook> {
    let aims = |time| aim(cast, scene, passer, receiver, going, time);
    best_of(cast, scene, passer, receiver, kinds, aims)
}

/// The best kind of pass to a team-mate who is to catch it at `point`, metres from the rim. Not asked: whether he can
/// be there in time.
pub fn pass_to(
    cast: &Cast,
    scene: &Scene,
    passer: usize,
    receiver: usize,
    point: Vec2,
    kinds: &[PassKind],
) -> Option<PassLook> {
    best_of(cast, scene, passer, receiver, kinds, |_| point)
}

/// The best kind of pass that is aimed, by the seconds until it is caught, at `aims`.
fn best_of(
    cast: &Cast,
    scene: &Scene,
    passer: usize,
    receiver: usize,
    kinds: &[PassKind],
    aims: impl Fn(f64) -> Vec2,
) -> Option<PassLook> {
    let model = &*cast.model;
    let better_by = model.looks.other_kind_advantage;
    let drag = BallSize::Seven.drag(&model.ball);
    let hands = &cast.players[passer].hands;
    let mut best: Option<PassLook> = None;
    for &kind in kinds {
        let enough = best.map_or(-1.0, |b| b.openness.value + better_by);
        if enough >= 1.0 {
            break;
        }
        let mut target = scene.pos[receiver];
        let mut f = flight(cast, scene, passer, receiver, kind, target);
        let mut time = 0.0;
        for _ in 0..2 {
            time = f.duration + hands.release;
            let to = aims(time);
            if to != target {
                target = to;
                f = flight(cast, scene, passer, receiver, kind, target);
            }
        }
        let distance = (target - scene.pos[passer]).length();
        let (least, most) = kind.sensible_range(&model.passes);
        if distance < least
            || distance > most
            || !kind.surely_reaches(model, hands.pass_speed, drag, distance)
                && distance > kind.reachable_range(model, hands.pass_speed, drag)
        {
            continue;
        }
        let openness = if_more_open(
            cast,
            scene,
            passer,
            Some(receiver),
            &f,
            hands.release,
            (enough, best.map(|b| b.openness.closer.0)),
        );
        if openness.value > enough {
            best = Some(PassLook {
                openness,
                kind,
                target,
                time,
            });
        }
    }
    best
}

/// How many passes away a perimeter player is: neighbours along the perimeter, counted as the
/// players stand now by their angle about the rim. `None` for players inside.
pub fn passes_away(
    looks: &Looks,
    scene: &Scene,
    outside: &[bool; 5],
    holder: usize,
) -> [Option<u8>; 5] {
    // The tangent of the angle about a point behind the rim.
    let tangents: [f64; 5] = std::array::from_fn(|who| {
        let p = scene.pos[who];
        p.x / (p.y.max(-looks.perimeter_deepest) + looks.perimeter_centre_depth)
    });
    let before = |i: usize, j: usize| tangents[i] < tangents[j] - ALL_BUT_THE_SAME;
    let after_him: [bool; 5] = std::array::from_fn(|j| outside[j] && before(holder, j));
    let before_him: [bool; 5] = std::array::from_fn(|j| outside[j] && before(j, holder));
    let far: [f64; 5] = std::array::from_fn(|i| scene.pos[i].length());
    // Who runs through far inside of both is nobody to pass over.
    let beside = |j: usize, who: usize| far[j] >= looks.stands_between * far[holder].min(far[who]);
    let between = |j: usize, who: usize| {
        (after_him[j] && before(j, who) || before_him[j] && before(who, j)) && beside(j, who)
    };
    std::array::from_fn(|who| {
        let counts = outside[who] && who != holder;
        counts.then(|| 1 + (0..5).filter(|&j| between(j, who)).count() as u8)
    })
}

/// Of two whose tangents differ by less neither stands before the other.
const ALL_BUT_THE_SAME: f64 = 1e-9;

const _: () = assert!(BODIES == 10);
