//! The shell: where each defender of a model stands for the ball on each spot, as the drill of that
//! name is set up in the trade (common practice), against the offence's own places: the offence is
//! walked to them, then everybody is set up with the ball there and stands still, with no noise.

use std::sync::Arc;

use crate::body::separate;
use crate::court::{Side, Spot, SpotName, Vec2};
use crate::defence::Relation;
use crate::looks::{BODIES, Cast};
use crate::offence::{Place, Stand};
use crate::possession::{Frame, LookNow};
use crate::scenario::{Drill, Scenario};
use crate::sim::instant::Instant;
use crate::sim::parts::Play;
use crate::sim::play_on::play_on;
use crate::sim::walkthrough::{Order, Pace, Walker};
use crate::sim::{cast_of, cast_untaught, ground};
use crate::why::step::{Opens, first_that_opens};

use super::light::{GRAIN, beam, light};
use super::scene::{Item, Scene, scene_of};

/// One place of the ball.
#[derive(Clone, Debug)]
pub struct Shell {
    /// Where the ball is; on the right, if it has a side.
    pub ball: Spot,
    /// Where all ten stand.
    pub frame: Frame,
    /// The same, ready to be drawn.
    pub scene: Scene,
    /// Everybody set up there: the scenario of this shell.
    set: Arc<Scenario>,
}

/// One defender of a shell: where, and why there.
#[derive(Clone, Debug, PartialEq)]
pub struct Post {
    /// Number of the defender, 1–5.
    pub defender: u8,
    /// Whom he guards, 1–5.
    pub guards: u8,
    /// What that player is to the ball.
    pub relation: Relation,
    /// Guards an area of a zone, whoever is in it.
    pub area: bool,
    /// Distances from the guarded player, from the rim and from the midline, metres.
    pub off: [f64; 3],
    /// How many steps off the first look opens or gains, a count.
    pub steps: u8,
    /// What opens so many steps off; what opens altogether first, then what gains most. Empty: nothing, and as far off
    /// as is looked.
    pub opens: Vec<Opens>,
}

/// What the holder of a shell decides from, with the light and the reasons of the places.
pub struct Lit {
    /// The fixed state of the shell.
    pub play: Play,
    /// Everybody as in the shell.
    pub instant: Instant,
    /// What the holder could do.
    pub looks: Vec<LookNow>,
}

impl Shell {
    /// Everybody as in the shell, measured as the holder measures it; `cast` of the scenario that the shell is of.
    pub fn lit(&self, cast: &Arc<Cast>) -> Option<Lit> {
        let (_, instants) = play_on(&self.set, cast, 1, &[]);
        let mut instant = instants.into_iter().next()?;
        let play = ground(&self.set, cast, 1, Side::Right);
        let scene = &mut instant.old.scene;
        for i in 0..5 {
            scene.pos[i] = self.frame.attackers[i];
            scene.pos[5 + i] = self.frame.defenders[i];
            scene.facing[5 + i] = self.frame.defenders_facing[i];
        }
        scene.vel = Default::default();
        let looks = instant.looks(&play);
        Some(Lit {
            play,
            instant,
            looks,
        })
    }

    /// The shell on the floor as it is lit.
    pub fn lit_scene(&self, lit: &Lit) -> Scene {
        let field = light(&lit.play, &lit.instant, &lit.looks, GRAIN);
        let mut scene = self.scene.clone().with(Item::Light(field));
        if let Some(beam) = beam(&lit.play, &lit.instant, &lit.looks) {
            scene.add(beam);
        }
        scene
    }

    /// Where each defender who plays stands, and why there.
    pub fn posts(&self, lit: &mut Lit) -> Vec<Post> {
        let there: Vec<usize> = lit.play.cast.five().collect();
        there.into_iter().map(|d| self.post(d, lit)).collect()
    }

    fn post(&self, d: usize, lit: &mut Lit) -> Post {
        let place = self.frame.defenders[d];
        let guards = self.frame.guards[d];
        let player = self.frame.attackers[usize::from(guards.clamp(1, 5)) - 1];
        let (steps, opens) = first_that_opens(&lit.play, &mut lit.instant, d);
        Post {
            defender: d as u8 + 1,
            guards,
            relation: self.frame.relations[d],
            area: self.set.defence.zone.is_some() && self.set.defence.chased_by(d).is_none(),
            off: [(place - player).length(), place.length(), place.x.abs()],
            steps,
            opens,
        }
    }
}

/// The shells of a scenario's defence with their light.
pub fn lit_shells(scenario: &Scenario) -> Vec<(Shell, Lit)> {
    with_light(scenario, cast_of(scenario)).collect()
}

fn with_light(scenario: &Scenario, cast: Arc<Cast>) -> impl Iterator<Item = (Shell, Lit)> {
    let all = shells(scenario).into_iter();
    all.filter_map(move |shell| shell.lit(&cast).map(|lit| (shell, lit)))
}

/// The shells of a scenario's defence with where each stands and why. What holders have learnt changes no look, so that
/// nothing is played for it.
pub fn reasoned_shells(scenario: &Scenario) -> Vec<(Shell, Vec<Post>)> {
    let all = with_light(scenario, cast_untaught(scenario));
    all.map(|(shell, mut lit)| {
        let posts = shell.posts(&mut lit);
        (shell, posts)
    })
    .collect()
}

/// The places of the ball, in the order in which they are shown.
const BALL: [SpotName; 8] = [
    SpotName::Top,
    SpotName::Slot,
    SpotName::Wing,
    SpotName::Corner,
    SpotName::Elbow,
    SpotName::HighPost,
    SpotName::ShortCorner,
    SpotName::Block,
];
/// At most so many places of the ball (ours: so many have room on a page).
const MOST: usize = 5;
/// Passes one after the other, at most, that bring the ball to its places.
const PASSES: usize = 3;

/// The shell of the scenario's defence, one for each place of the ball to which the offence passes.
pub fn shells(scenario: &Scenario) -> Vec<Shell> {
    let found = rests(scenario);
    let of = |name: &SpotName| found.iter().find(|rest| rest.ball().name == *name);
    let shown = BALL.iter().filter_map(of).take(MOST);
    shown
        .filter_map(|rest| shell(scenario, rest, Side::Right))
        .collect()
}

/// The same with the ball passed round the outside while nobody leaves the place where the offence begins.
pub fn standing_shells(scenario: &Scenario) -> Vec<(Shell, Lit)> {
    let Some(begins) = at_rest(scenario, &[Order::Hold(0.0)]) else {
        return Vec::new();
    };
    let mut all: Vec<Rest> = Vec::new();
    for holder in [begins.holder].into_iter().chain(0..5) {
        let rest = Rest { holder, ..begins };
        let ball = rest.ball();
        let shown = ball.name.is_perimeter() && ball.side != Some(Side::Left);
        let known = all.iter().any(|r| r.ball() == ball);
        if shown && !known && scenario.offence.there()[holder] {
            all.push(rest);
        }
    }
    let cast = cast_of(scenario);
    let shells = all.iter();
    let shells = shells.filter_map(|rest| shell(scenario, rest, Side::Right));
    shells
        .filter_map(|shell| shell.lit(&cast).map(|lit| (shell, lit)))
        .collect()
}

/// Where the offence's five stand when all have come to rest, and who of them has the ball (0–4).
#[derive(Clone, Copy)]
struct Rest {
    places: [Spot; 5],
    holder: usize,
}

impl Rest {
    fn ball(&self) -> Spot {
        self.places[self.holder]
    }
}

/// One rest for each place of the ball, which is on the right or in the middle.
fn rests(scenario: &Scenario) -> Vec<Rest> {
    let mut found: Vec<Rest> = Vec::new();
    let mut frontier: Vec<Vec<Order>> = vec![vec![Order::Hold(0.0)]];
    for _ in 0..=PASSES {
        let mut next = Vec::new();
        for chain in frontier {
            let Some(here) = at_rest(scenario, &chain) else {
                continue;
            };
            if found
                .iter()
                .any(|known| known.ball().name == here.ball().name)
            {
                continue;
            }
            found.push(here);
            next.extend((1..=5).map(|to| {
                let mut longer = chain.clone();
                longer.push(Order::PassTo(to));
                longer
            }));
        }
        frontier = next;
    }
    found
}

/// Five places of their own once all have come to rest.
fn at_rest(scenario: &Scenario, chain: &[Order]) -> Option<Rest> {
    let mut walker = Walker::new(scenario, Side::Right, true);
    let mut last = None;
    for order in chain {
        let step = walker.carry_out(order, Pace::Settled);
        if !step.done || walker.ended().is_some() {
            return None;
        }
        last = Some(step);
    }
    let step = last?;
    let holder = usize::from(step.holder?).checked_sub(1)?;
    let mut places = step.standing.map(|s| scenario.court.nearest_spot(s.pos));
    if places.get(holder)?.side == Some(Side::Left) {
        places = places.map(Spot::mirrored);
    }
    let there = scenario.offence.there();
    let same = |i: usize, j: usize| there[j] && places[i] == places[j];
    let apart = (1..5).all(|i| !there[i] || !(0..i).any(|j| same(i, j)));
    apart.then_some(Rest { places, holder })
}

/// Everybody set up at these places, with the ball on `side`.
fn set_up(scenario: &Scenario, rest: &Rest, side: Side) -> Scenario {
    let mut set = scenario.clone();
    set.offence.rules.clear();
    set.offence.keep_filled.clear();
    set.offence.ball = rest.holder as u8 + 1;
    set.offence.alignment = rest
        .places
        .iter()
        .enumerate()
        .filter(|(i, _)| scenario.offence.there()[*i])
        .map(|(i, &spot)| Stand {
            player: i as u8 + 1,
            at: Place::of(spot, side),
        })
        .collect();
    set.start = Some(side);
    set.drill = Drill {
        passive: false,
        clean: true,
    };
    set
}

fn shell(scenario: &Scenario, rest: &Rest, side: Side) -> Option<Shell> {
    let set = set_up(scenario, rest, side);
    let mut walker = Walker::new(&set, side, false);
    let step = walker.carry_out(&Order::Hold(0.0), Pace::Seconds(0.0));
    let frame = *step.frames.first()?;
    Some(Shell {
        ball: rest.ball(),
        scene: scene_of(&scenario.court, &frame),
        frame,
        set: Arc::new(set),
    })
}

/// A start of a drill: the attackers at any points, each defender on the player of the own number (in a zone in the own
/// area) where the stance of the file puts them for that place of the ball.
pub(super) struct InStance {
    play: Play,
    instant: Instant,
}

impl InStance {
    /// The attackers, metres from the rim; `holder`: who has the ball, 1–5; `side`: where the ball is.
    pub(super) fn of(
        scenario: &Scenario,
        attackers: &[Vec2; 5],
        (holder, side): (u8, Side),
    ) -> Option<InStance> {
        let rest = Rest {
            places: attackers.map(|at| scenario.court.nearest_spot(at)),
            holder: usize::from(holder).checked_sub(1)?,
        };
        let set = Arc::new(set_up(scenario, &rest, side));
        let cast = cast_untaught(scenario);
        let (_, instants) = play_on(&set, &cast, 1, &[]);
        // At the first nobody has taken up a duty yet.
        let mut instant = instants.into_iter().nth(1)?;
        let play = ground(&set, &cast, 1, side);
        let scene = &mut instant.old.scene;
        scene.pos[..5].copy_from_slice(attackers);
        scene.vel = Default::default();
        for d in play.cast.five() {
            let place = instant.own_place(&play, d);
            instant.old.scene.pos[5 + d] = play.cast.court.clamp_inside(place, INSIDE);
        }
        // Two stances may send two to one place.
        let radii = play.cast.players.each_ref().map(|p| p.limits.radius);
        let mobile = std::array::from_fn::<f64, BODIES, _>(|i| if i < 5 { 0.0 } else { 1.0 });
        let scene = &mut instant.old.scene;
        separate(&mut scene.pos, &mut scene.vel, &radii, &mobile);
        for d in play.cast.five() {
            let to_ball = attackers[rest.holder] - scene.pos[5 + d];
            scene.facing[5 + d] = to_ball / to_ball.length().max(1e-6);
        }
        Some(InStance { play, instant })
    }

    /// Puts the defenders of a picture there.
    pub(super) fn put(&self, scene: &mut Scene) {
        for item in &mut scene.items {
            let Item::Defender {
                number,
                pos,
                facing,
            } = item
            else {
                continue;
            };
            let d = usize::from(*number).wrapping_sub(1);
            if d < 5 && self.play.cast.has(d) {
                *pos = self.instant.old.scene.pos[5 + d];
                *facing = self.instant.old.scene.facing[5 + d];
            }
        }
    }

    /// The light with everybody there.
    pub(super) fn light(&self) -> Item {
        let looks = self.instant.looks(&self.play);
        Item::Light(light(&self.play, &self.instant, &looks, GRAIN))
    }
}

/// Nobody stands nearer to a line than this, metres (ours).
const INSIDE: f64 = 0.3;

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_shell_has_the_ball_where_it_says_and_a_defender_on_it() {
        let scenario = Scenario::demo();
        let shells = shells(&scenario);
        assert!((3..=MOST).contains(&shells.len()), "{}", shells.len());
        for shell in shells {
            let holder = shell.frame.holder.expect("somebody has it");
            let ball = shell.frame.attackers[usize::from(holder) - 1];
            assert_eq!(scenario.court.nearest_spot(ball), shell.ball);
            let near = shell.frame.defenders.map(|d| (d - ball).length());
            let least = near.iter().copied().fold(f64::INFINITY, f64::min);
            assert!(least < 2.0, "{}: {near:?}", shell.ball);
        }
    }

    #[test]
    fn the_attackers_of_the_shell_stand_where_their_offence_stands() {
        for (word, outside) in [
            ("four_out_one_post", 4),
            ("five_out_give_and_go", 5),
            ("three_out_two_in", 3),
        ] {
            let level = crate::squad::Level::VarsityBoys;
            let court = crate::court::CourtCode::Nfhs;
            let scenario = Scenario::from_parts(court, level, word, "help_line", &[]).unwrap();
            let shells = shells(&scenario);
            assert!(shells.len() >= 2, "{word}: {}", shells.len());
            for shell in shells.iter().filter(|s| s.ball.name.is_perimeter()) {
                let at = shell.frame.attackers;
                let out = at.iter().map(|p| scenario.court.nearest_spot(*p).name);
                let out = out.filter(|name| name.is_perimeter()).count();
                assert_eq!(out, outside, "{word}, ball at the {}", shell.ball);
            }
        }
    }
}
