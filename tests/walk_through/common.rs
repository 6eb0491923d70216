//! Scenarios to walk through, and what a coach checks after each step.

use lanelight::court::{Side, Spot, SpotName, Vec2};
use lanelight::possession::TICK;
use lanelight::scenario::Scenario;
use lanelight::sim::walkthrough::{Order, Step, Walk, walk};

/// The reference as it is, and with each tweak.
pub const VARIANTS: [&str; 7] = [
    "",
    "weak_side_exchange",
    "screen_away",
    "high_post_flash",
    "weak_side_corner_drift",
    "skip_pass",
    "dribble_at_backdoor",
];

/// Feet in metres.
pub const FOOT: f64 = 0.3048;

/// The four defences that possessions with all their noise are played against.
pub const DEFENCES: [&str; 4] = ["sag", "help_line", "denial", "zone_2_3"];

pub fn scenario(offence: &str, defence: &str, tweak: &str) -> Scenario {
    let tweaks = if tweak.is_empty() {
        String::new()
    } else {
        format!("\"{tweak}\"")
    };
    let text = format!(
        "(name: \"walk\", court: nfhs, level: varsity, offence: \"{offence}\", \
         defence: \"{defence}\", tweaks: [{tweaks}])"
    );
    Scenario::from_text(&text, "walk.ron").unwrap_or_else(|e| panic!("{e}"))
}

pub fn reference(tweak: &str) -> Scenario {
    scenario("four_out_one_post", "help_line", tweak)
}

/// The reference and its tweaks, but for those whose own change touches the claim.
pub fn variants(but: &[&str]) -> Vec<(&'static str, Scenario)> {
    let kept = VARIANTS.into_iter().filter(|v| !but.contains(v));
    kept.map(|v| (v, reference(v))).collect()
}

/// Walk with the ball on the right, and check that with the ball on the left everything is the
/// mirror image, bit for bit, at every tick; and that each order was carried out and all settled.
pub fn walked(scenario: &Scenario, orders: &[Order]) -> Walk {
    let right = walk(scenario, Side::Right, orders);
    let left = walk(scenario, Side::Left, orders);
    assert_eq!(right.steps.len(), orders.len());
    mirrored(&right, &left);
    for step in &right.steps {
        assert!(step.done, "{:?} was not carried out", step.order);
        assert!(step.settled, "{:?}: not everybody settled", step.order);
    }
    right
}

/// Are two walks mirror images, bit for bit?
pub fn mirrored(right: &Walk, left: &Walk) {
    assert_eq!(right.steps.len(), left.steps.len());
    for (a, b) in right.steps.iter().zip(&left.steps) {
        assert_eq!((a.done, a.settled, a.holder), (b.done, b.settled, b.holder));
        assert_eq!(a.rules, b.rules, "{:?}", a.order);
        assert_eq!(a.ball_side, b.ball_side.other());
        assert_eq!(a.frames.len(), b.frames.len(), "{:?}", a.order);
        for (f, g) in a.frames.iter().zip(&b.frames) {
            for (p, q) in f.attackers.iter().zip(&g.attackers) {
                assert_eq!((p.x, p.y), (-q.x, q.y), "{:?} at {}", a.order, f.time);
            }
        }
        for (s, t) in a.standing.iter().zip(&b.standing) {
            assert_eq!(s.place, t.place.map(Spot::mirrored), "{:?}", a.order);
        }
    }
}

pub fn right(name: SpotName) -> Spot {
    Spot::new(name, Side::Right)
}

pub fn left(name: SpotName) -> Spot {
    Spot::new(name, Side::Left)
}

/// These players, 1 to 5, end in these places, and their feet are there.
pub fn ends(what: &str, scenario: &Scenario, step: &Step, places: [Spot; 5]) {
    for (i, place) in places.into_iter().enumerate() {
        let standing = step.standing[i];
        let said = format!("{what}: {:?}, player {}", step.order, i + 1);
        assert_eq!(standing.place, Some(place), "{said}");
        let off = (standing.pos - scenario.court.spot(place)).length();
        assert!(off < 0.5, "{said} stands {off} m from {place}");
    }
}

/// He who holds that place.
pub fn at(step: &Step, spot: Spot) -> u8 {
    step.at(spot)
        .unwrap_or_else(|| panic!("{:?}: nobody at {spot}", step.order))
}

/// The farthest that a player got from where he began the step, metres.
pub fn strayed(step: &Step, player: u8) -> f64 {
    let path = step.path(player);
    let far = path.iter().map(|p| (p - path[0]).length());
    far.fold(0.0, f64::max)
}

/// Seconds that a player spent within `within` metres of a point.
pub fn seconds_near(step: &Step, player: u8, point: Vec2, within: f64) -> f64 {
    let near = step.path(player).into_iter();
    near.filter(|p| (p - point).length() < within).count() as f64 * TICK
}

/// Did he come out by the baseline: after his point nearest to the rim, below the block, outside
/// the lane, on that side?
pub fn came_out_by_the_baseline(step: &Step, player: u8, side: Side) -> bool {
    let path = step.path(player);
    let nearest = (0..path.len()).min_by(|&a, &b| path[a].length().total_cmp(&path[b].length()));
    let out = &path[nearest.unwrap_or(0)..];
    out.iter().any(|p| p.y < 0.6 && p.x * side.sign() > 2.0)
}
