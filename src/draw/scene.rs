//! What is to be seen of a moment: lines of the floor, bodies, ball, arrows, light and threads, as
//! plain data. Metres, in the court's frame (origin under the ring, `+y` toward half court). Who
//! draws it chooses colours and line widths; what is there and what it means stands here alone.
//!
//! Players are named by number, 1–5. Not modelled: heads, arms, feet; a body is its place and the
//! direction of its shoulders.

use serde::Serialize;

use crate::court::{Court, Line, Vec2};
use crate::possession::Frame;
use crate::possession::there::plays;

use super::light::Field;

/// What kind of way an arrow shows.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum ArrowKind {
    /// A player without the ball: solid.
    Run,
    /// The ball in the air: dashed.
    Pass,
    /// A player with the ball on the floor: wavy.
    Dribble,
    /// A run that ends in a screen: solid, with a bar instead of a head.
    Screen,
}

impl ArrowKind {
    /// In the trade's word.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Run => "run",
            Self::Pass => "pass",
            Self::Dribble => "dribble",
            Self::Screen => "screen",
        }
    }
}

/// One thing to be seen.
#[derive(Clone, Debug, PartialEq)]
pub enum Item {
    /// The lit floor: openness from the ball.
    Light(Field),
    /// The driving lane from the holder by `via` to the rim; `openness` in 0..=1 says how wide it
    /// still is.
    Beam {
        /// The ball holder.
        from: Vec2,
        /// The point beside the defender by which the lane goes, or the take-off.
        via: Vec2,
        /// Where the drive ends at the rim.
        finish: Vec2,
        /// Chance that nobody shuts the lane, 0..=1.
        openness: f64,
    },
    /// The line from rim to rim on which help stands (a teaching layer).
    Midline {
        /// One end, under the rim.
        from: Vec2,
        /// The other end, at half court.
        to: Vec2,
    },
    /// Ball, man and defender: what a defender off the ball has to see (a teaching layer).
    Triangle {
        /// The ball.
        ball: Vec2,
        /// The man guarded.
        man: Vec2,
        /// The defender.
        own: Vec2,
    },
    /// Ties the closer to the look that he shuts: to the catcher, or to the rim for a drive.
    Thread {
        /// Number of the closer, 1–5.
        defender: u8,
        /// Where the closer stands.
        from: Vec2,
        /// The catcher or the rim.
        to: Vec2,
        /// His chance to shut it alone, 0..=1.
        chance: f64,
    },
    /// Where he has just been.
    Trail {
        /// From the oldest place to the newest.
        path: Vec<Vec2>,
        /// An attacker's trail; otherwise a defender's.
        attacker: bool,
    },
    /// A way.
    Arrow {
        /// Run, pass, dribble or screen.
        kind: ArrowKind,
        /// At least two points.
        path: Vec<Vec2>,
        /// Whose way; the passer's for a pass.
        who: u8,
    },
    /// A defender: X and number, shoulders across `facing` (unit vector).
    Defender {
        /// 1–5.
        number: u8,
        /// The body's centre.
        pos: Vec2,
        /// Where the chest points, a unit vector.
        facing: Vec2,
    },
    /// An attacker: a disc with his number; a ring if he has the ball.
    Attacker {
        /// 1–5.
        number: u8,
        /// The body's centre.
        pos: Vec2,
        /// A ring is drawn round the disc.
        has_ball: bool,
    },
    /// The ball; `height` in metres above the floor.
    Ball {
        /// Its place over the floor.
        pos: Vec2,
        /// Metres above the floor.
        height: f64,
    },
    /// A model place: where the model has somebody stand. Drawn hollow.
    ModelPlace {
        /// 1–5.
        number: u8,
        /// The middle of the sign.
        pos: Vec2,
        /// A hollow disc; otherwise a hollow X.
        attacker: bool,
    },
    /// A few words or a number at a point (its middle).
    Label {
        /// The middle of the text.
        at: Vec2,
        /// What it says.
        text: String,
    },
}

impl Item {
    /// The order in which layers lie, from the floor up.
    pub const fn layer(&self) -> u8 {
        match self {
            Self::Light(_) => 0,
            Self::Beam { .. } => 1,
            Self::Midline { .. } => 2,
            Self::Triangle { .. } => 3,
            Self::Trail { .. } => 4,
            Self::Thread { .. } => 5,
            Self::Arrow { .. } => 6,
            Self::ModelPlace { .. } => 7,
            Self::Defender { .. } => 8,
            Self::Attacker { .. } => 9,
            Self::Ball { .. } => 10,
            Self::Label { .. } => 11,
        }
    }

    /// Where the player stands of whom it tells, metres.
    fn at(&self) -> Option<Vec2> {
        match *self {
            Self::Defender { pos, .. } | Self::Attacker { pos, .. } => Some(pos),
            Self::ModelPlace { pos, .. } | Self::Label { at: pos, .. } => Some(pos),
            Self::Triangle { own, .. } => Some(own),
            _ => None,
        }
    }
}

/// A moment or a phase, ready to be drawn.
#[derive(Clone, Debug, PartialEq)]
pub struct Scene {
    /// The court whose lines are drawn.
    pub court: Court,
    /// What is painted on the floor, then backboard and ring.
    pub lines: Vec<Line>,
    /// From the floor up: [`Scene::add`] keeps them in order of [`Item::layer`].
    pub items: Vec<Item>,
}

impl Scene {
    /// An empty floor.
    pub fn of(court: &Court) -> Self {
        Scene {
            court: *court,
            lines: court.lines(),
            items: Vec::new(),
        }
    }

    /// Who has the ball, 1–5, and where, metres; `None` while it is in nobody's hands.
    pub fn holder(&self) -> Option<(u8, Vec2)> {
        self.items.iter().find_map(|item| match item {
            Item::Attacker {
                number,
                pos,
                has_ball: true,
            } => Some((*number, *pos)),
            _ => None,
        })
    }

    /// Puts something onto the floor, over what lies in its layer already. Whoever does not play is not drawn.
    pub fn add(&mut self, item: Item) {
        if !item.at().is_none_or(plays) {
            return;
        }
        let layer = item.layer();
        let at = self.items.partition_point(|i| i.layer() <= layer);
        self.items.insert(at, item);
    }

    /// The same with something more.
    #[must_use]
    pub fn with(mut self, item: Item) -> Self {
        self.add(item);
        self
    }

    /// Does light lie on the floor?
    pub fn lit(&self) -> bool {
        self.items.iter().any(|item| matches!(item, Item::Light(_)))
    }

    /// The same with the floor not lit.
    #[must_use]
    pub fn without_light(&self) -> Self {
        let mut out = self.clone();
        out.items.retain(|item| !matches!(item, Item::Light(_)));
        out
    }

    /// The corners of the half court: least and greatest point, metres.
    pub fn bounds(&self) -> (Vec2, Vec2) {
        let side = self.court.width / 2.0;
        (
            Vec2::new(-side, self.court.baseline_y()),
            Vec2::new(side, self.court.half_court_y()),
        )
    }

    /// Left and right exchanged.
    #[must_use]
    pub fn mirrored(&self) -> Self {
        let mut out = self.clone();
        for item in &mut out.items {
            mirror(item);
        }
        out
    }
}

fn mirror(item: &mut Item) {
    let flip = |p: &mut Vec2| p.x = -p.x;
    match item {
        Item::Light(field) => field.mirror(),
        Item::Beam {
            from, via, finish, ..
        } => [from, via, finish].into_iter().for_each(flip),
        Item::Midline { from, to } | Item::Thread { from, to, .. } => {
            [from, to].into_iter().for_each(flip);
        }
        Item::Triangle { ball, man, own } => [ball, man, own].into_iter().for_each(flip),
        Item::Trail { path, .. } | Item::Arrow { path, .. } => path.iter_mut().for_each(flip),
        Item::Defender { pos, facing, .. } => [pos, facing].into_iter().for_each(flip),
        Item::Attacker { pos, .. } | Item::Ball { pos, .. } | Item::ModelPlace { pos, .. } => {
            flip(pos)
        }
        Item::Label { at, .. } => flip(at),
    }
}

/// The bodies and the ball of one tick, and nothing else.
pub fn scene_of(court: &Court, frame: &Frame) -> Scene {
    let mut scene = Scene::of(court);
    for (d, (&pos, &facing)) in frame
        .defenders
        .iter()
        .zip(&frame.defenders_facing)
        .enumerate()
    {
        scene.add(Item::Defender {
            number: d as u8 + 1,
            pos,
            facing,
        });
    }
    for (a, &pos) in frame.attackers.iter().enumerate() {
        let number = a as u8 + 1;
        scene.add(Item::Attacker {
            number,
            pos,
            has_ball: frame.holder == Some(number),
        });
    }
    let [x, y, height] = frame.ball;
    scene.add(Item::Ball {
        pos: Vec2::new(x, y),
        height,
    });
    scene
}

/// The attackers alone, as a rule card shows them: who stands where, and who has the ball.
pub fn attackers_of(court: &Court, places: &[Vec2; 5], holder: Option<u8>) -> Scene {
    let mut scene = Scene::of(court);
    for (a, &pos) in places.iter().enumerate() {
        let number = a as u8 + 1;
        scene.add(Item::Attacker {
            number,
            pos,
            has_ball: holder == Some(number),
        });
    }
    scene
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::court::CourtCode;

    fn label(text: &str) -> Item {
        Item::Label {
            at: Vec2::new(1.0, 2.0),
            text: text.to_string(),
        }
    }

    #[test]
    fn what_is_added_lies_in_its_layer_and_over_what_was_there() {
        let ball = Item::Ball {
            pos: Vec2::new(0.0, 1.0),
            height: 1.0,
        };
        let scene = Scene::of(Court::of(CourtCode::Fiba))
            .with(label("a"))
            .with(ball.clone())
            .with(label("b"));
        assert_eq!(scene.items, [ball, label("a"), label("b")]);
    }

    #[test]
    fn mirroring_twice_changes_nothing_and_once_changes_sides() {
        let scene = Scene::of(Court::of(CourtCode::Nfhs))
            .with(label("a"))
            .with(Item::Arrow {
                kind: ArrowKind::Run,
                path: vec![Vec2::new(1.0, 2.0), Vec2::new(-3.0, 4.0)],
                who: 1,
            });
        let other = scene.mirrored();
        assert_eq!(other.mirrored(), scene);
        let Item::Arrow { path, .. } = &other.items[0] else {
            panic!("the arrow lies lowest");
        };
        assert_eq!(path[0], Vec2::new(-1.0, 2.0));
    }
}
