//! The shell: where each defender of a model stands for the ball on each spot, with four attackers
//! outside and one on the block, as the drill of that name is set up in the trade (common
//! practice). The places are the floor's own: everybody is set up with the ball there and stands
//! still, with no noise.

use crate::court::{Side, Spot, SpotName};
use crate::offence::{Place, Stand};
use crate::possession::Frame;
use crate::scenario::Scenario;
use crate::sim::walkthrough::{Order, Pace, Walker};

use super::scene::{Scene, scene_of};

/// One place of the ball.
#[derive(Clone, Debug)]
pub struct Shell {
    /// Where the ball is; on the right, if it has a side.
    pub ball: Spot,
    /// Where all ten stand.
    pub frame: Frame,
    /// The same, ready to be drawn.
    pub scene: Scene,
}

/// The five attackers for each place of the ball; the first has it. Right: the ball's side.
const PLACES: [[(SpotName, Option<Side>); 5]; 5] = {
    use Side::{Left as L, Right as R};
    use SpotName::{Block, Corner, Slot, Top, Wing};
    [
        [
            (Top, None),
            (Wing, Some(R)),
            (Wing, Some(L)),
            (Corner, Some(L)),
            (Block, Some(R)),
        ],
        [
            (Slot, Some(R)),
            (Slot, Some(L)),
            (Wing, Some(R)),
            (Wing, Some(L)),
            (Block, Some(L)),
        ],
        [
            (Wing, Some(R)),
            (Slot, Some(R)),
            (Slot, Some(L)),
            (Wing, Some(L)),
            (Block, Some(L)),
        ],
        [
            (Corner, Some(R)),
            (Wing, Some(R)),
            (Slot, Some(L)),
            (Wing, Some(L)),
            (Block, Some(R)),
        ],
        [
            (Block, Some(R)),
            (Slot, Some(R)),
            (Slot, Some(L)),
            (Wing, Some(R)),
            (Wing, Some(L)),
        ],
    ]
};

/// The shell of the scenario's defence, one for each place of the ball.
pub fn shells(scenario: &Scenario) -> Vec<Shell> {
    PLACES
        .iter()
        .filter_map(|places| shell(scenario, places))
        .collect()
}

fn shell(scenario: &Scenario, places: &[(SpotName, Option<Side>); 5]) -> Option<Shell> {
    let mut set = scenario.clone();
    set.offence.rules.clear();
    set.offence.keep_filled.clear();
    set.offence.ball = 1;
    set.offence.alignment = places
        .iter()
        .enumerate()
        .map(|(i, &(name, side))| Stand {
            player: i as u8 + 1,
            at: Place::of(Spot::new(name, side), Side::Right),
        })
        .collect();
    let mut walker = Walker::new(&set, Side::Right, false);
    let step = walker.carry_out(&Order::Hold(0.0), Pace::Seconds(0.0));
    let frame = *step.frames.first()?;
    Some(Shell {
        ball: Spot::new(places[0].0, places[0].1),
        scene: scene_of(&scenario.court, &frame),
        frame,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_shell_has_the_ball_where_it_says_and_a_defender_on_it() {
        let scenario = Scenario::demo();
        let shells = shells(&scenario);
        assert_eq!(shells.len(), PLACES.len());
        for shell in shells {
            let ball = shell.frame.attackers[0];
            assert_eq!(scenario.court.nearest_spot(ball), shell.ball);
            assert_eq!(shell.frame.holder, Some(1));
            let near = shell.frame.defenders.map(|d| (d - ball).length());
            let least = near.iter().copied().fold(f64::INFINITY, f64::min);
            assert!(least < 2.0, "{}: {near:?}", shell.ball);
        }
    }
}
