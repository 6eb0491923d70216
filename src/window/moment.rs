//! The moment on the floor as a `draw::Scene`: bodies, ball, beam, threads, trails, coming cuts and
//! the teaching layers, as the paper and the page have them too. What a painter makes of it is in
//! `paint`.

use super::desk::Desk;
use super::drill::{self, Stage};
use super::drill_read;
use super::now;
use super::recording::{Picture, Recording};
use super::settings::Layers;
use super::words::{floor as words, why};
use crate::court::Vec2;
use crate::defence::{Duty, Relation};
use crate::draw::light::{midline, thread, triangles};
use crate::draw::{ArrowKind, Item, Scene};
use crate::looks::driving;
use crate::offence::LookKind;
use crate::possession::{Closer, Frame, LookNow, TICK};
use crate::sim::parts::Doing;
use crate::sim::{THERE, shut_by};

/// How long a trail is, seconds, and between its points.
const TRAIL: f64 = 0.9;
const TRAIL_STEP: f64 = 0.12;
/// A path shorter than this is not worth an arrow, metres.
const SHORT: f64 = 0.8;

/// A picture as a frame of a track, for the functions that draw frames.
fn frame(picture: &Picture) -> Frame {
    let five = |from: usize, of: &[Vec2; 10]| std::array::from_fn(|i| of[from + i]);
    Frame {
        time: picture.time,
        ball: picture.ball,
        attackers: five(0, &picture.pos),
        defenders: five(5, &picture.pos),
        attackers_facing: five(0, &picture.facing),
        defenders_facing: five(5, &picture.facing),
        holder: picture.holder.map(|h| h as u8 + 1),
        guards: picture.guards.map(|g| g as u8 + 1),
        duties: picture.duties,
        relations: picture.relations,
    }
}

impl Desk {
    /// What is laid over the floor now: while a learner is asked, nothing that would tell him.
    pub fn layers(&self) -> Layers {
        let mut layers = self.settings.layers;
        if self.drill.asking() {
            layers.threads = false;
            layers.model_places = false;
            layers.light &= !drill_read::reads(self);
        }
        layers
    }
}

/// Everything that is to be seen now.
pub fn scene(desk: &mut Desk) -> Scene {
    let looks = desk.looks().to_vec();
    let picture = desk.picture();
    let layers = desk.layers();
    let recording = &desk.recording;
    let court = &recording.cast.court;
    let mut scene = Scene::of(court);
    beam(&mut scene, desk, &picture, &looks);
    if layers.midline {
        scene.add(midline(court));
    }
    if layers.triangles {
        triangles(&frame(&picture))
            .into_iter()
            .for_each(|item| scene.add(item));
    }
    if layers.trails && !desk.drill.asking() && desk.moved.iter().all(Option::is_none) {
        trails(&mut scene, recording, picture.time);
    }
    if layers.threads {
        threads(&mut scene, &picture, &looks);
    }
    if !desk.drill.asking() {
        cuts(&mut scene, recording, &picture, desk.moment());
    }
    left_open(&mut scene, desk, &picture);
    flight(&mut scene, recording, &picture);
    if layers.model_places {
        model_places(&mut scene, desk);
    }
    bodies(&mut scene, &picture, |body| desk.drill.hides(body));
    if !desk.time.running && !desk.drill.asking() {
        labels(&mut scene, &picture, (&looks, now::gave(desk)), layers);
    }
    if layers.passes_away {
        away(&mut scene, desk, &picture);
    }
    scene
}

fn bodies(scene: &mut Scene, picture: &Picture, hides: impl Fn(usize) -> bool) {
    for d in (0..5).filter(|d| !hides(5 + d)) {
        scene.add(Item::Defender {
            number: d as u8 + 1,
            pos: picture.pos[5 + d],
            facing: picture.facing[5 + d],
        });
    }
    for a in 0..5 {
        scene.add(Item::Attacker {
            number: a as u8 + 1,
            pos: picture.pos[a],
            has_ball: picture.holder == Some(a),
        });
    }
    let [x, y, height] = picture.ball;
    scene.add(Item::Ball {
        pos: Vec2::new(x, y),
        height,
    });
}

/// The driving lane: as light, only where the drive is open; where arrival alone is asked for, as open as it is.
fn beam(scene: &mut Scene, desk: &Desk, picture: &Picture, looks: &[LookNow]) {
    let layers = desk.layers();
    let drive = looks.iter().find(|l| l.kind == LookKind::Drive);
    let Some(drive) = drive.filter(|l| layers.light && (l.open || layers.arrival)) else {
        return;
    };
    let (mut state, holder) = desk.recording.scene(picture);
    state.pos = picture.pos;
    let look = driving::driving(&desk.recording.cast, &state, holder);
    scene.add(Item::Beam {
        from: picture.pos[holder],
        via: look.via,
        finish: look.finish,
        openness: drive.openness,
    });
}

/// From each closer to where he shuts the way.
fn threads(scene: &mut Scene, picture: &Picture, looks: &[LookNow]) {
    let ball = Vec2::new(picture.ball[0], picture.ball[1]);
    for look in looks {
        if let Some(thread) = thread(look, ball, &picture.pos[5..]) {
            scene.add(thread);
        }
    }
}

fn trails(scene: &mut Scene, recording: &Recording, time: f64) {
    let steps = (TRAIL / TRAIL_STEP) as usize;
    let pictures: Vec<Picture> = (0..=steps)
        .map(|i| recording.picture((time - i as f64 * TRAIL_STEP).max(0.0)))
        .collect();
    for body in 0..10 {
        let path: Vec<Vec2> = pictures.iter().rev().map(|p| p.pos[body]).collect();
        let long: f64 = path.windows(2).map(|w| (w[1] - w[0]).length()).sum();
        if long > SHORT / 2.0 {
            scene.add(Item::Trail {
                path,
                attacker: body < 5,
            });
        }
    }
}

/// Where cutters are going.
fn cuts(scene: &mut Scene, recording: &Recording, picture: &Picture, moment: Option<usize>) {
    let Some(instant) = moment.and_then(|m| recording.instants.get(m)) else {
        return;
    };
    for (who, doing) in instant.old.doing.iter().enumerate() {
        let Doing::Cutting {
            via,
            goal,
            arrived: false,
            ..
        } = doing
        else {
            continue;
        };
        let at = picture.pos[who];
        let mut path = vec![at];
        path.extend(via.filter(|v| (v - goal).length() < (at - goal).length()));
        path.push(*goal);
        if (goal - at).length() > SHORT {
            scene.add(Item::Arrow {
                kind: ArrowKind::Run,
                path,
                who: who as u8 + 1,
            });
        }
    }
}

/// After a moment of the drill: what of that which the learner's places opened is open, as passes and a drive.
fn left_open(scene: &mut Scene, desk: &Desk, picture: &Picture) {
    let Stage::Shows { answers, .. } = &desk.drill.stage else {
        return;
    };
    if !drill::is_told(desk) || desk.drill.shown.is_some() {
        return;
    }
    let ball = Vec2::new(picture.ball[0], picture.ball[1]);
    let looks = answers.iter().flat_map(|a| &a.left_open).map(|o| &o.look);
    for look in looks.filter(|look| look.open) {
        let (kind, end) = match look.to {
            Some(to) => (ArrowKind::Pass, picture.pos[usize::from(to) - 1]),
            None if look.kind == LookKind::Drive => (ArrowKind::Run, Vec2::ZERO),
            None => continue,
        };
        scene.add(Item::Arrow {
            kind,
            path: vec![ball, end],
            who: picture.holder.map_or(0, |h| h as u8 + 1),
        });
    }
}

/// A ball in the air: from where it left to where it will be caught.
fn flight(scene: &mut Scene, recording: &Recording, picture: &Picture) {
    if picture.holder.is_some() {
        return;
    }
    let track = &recording.possession.track;
    let at = ((picture.time / TICK) as usize).min(track.len().saturating_sub(1));
    let left = track[..=at].iter().rposition(|f| f.holder.is_some());
    let caught = track[at..].iter().position(|f| f.holder.is_some());
    let (Some(left), Some(caught)) = (left, caught) else {
        return;
    };
    let point = |i: usize| Vec2::new(track[i].ball[0], track[i].ball[1]);
    let path = vec![point(left), point(at + caught)];
    if (path[1] - path[0]).length() > SHORT {
        scene.add(Item::Arrow {
            kind: ArrowKind::Pass,
            path,
            who: track[left].holder.unwrap_or(0),
        });
    }
}

/// Where the model itself would have each defender, and the others' models, if they are asked for.
fn model_places(scene: &mut Scene, desk: &Desk) {
    let recording = &desk.recording;
    let Some(instant) = desk.moment().and_then(|m| recording.instants.get(m)) else {
        return;
    };
    let instant = recording.instant_with(instant, &desk.moved);
    for d in 0..5 {
        let relation = instant.old.duties[d].1;
        let place = match &desk.files.rival {
            None => instant.own_place(&recording.play, d),
            Some(rival) => instant.place(rival.stances.of(relation), d),
        };
        if (place - instant.old.scene.pos[5 + d]).length() > 0.3 {
            scene.add(Item::ModelPlace {
                number: d as u8 + 1,
                pos: place,
                attacker: false,
            });
        }
    }
}

/// Beside each team-mate how open he is, and who shuts him.
fn labels(
    scene: &mut Scene,
    picture: &Picture,
    (looks, gave): (&[LookNow], Option<u8>),
    layers: Layers,
) {
    if !layers.threads {
        return;
    }
    for look in looks {
        let Some(to) = look.to else { continue };
        scene.add(Item::Label {
            at: picture.pos[usize::from(to) - 1],
            text: format!(
                "{}: {}",
                now::kind(look.kind, look.to, gave),
                state(look).replacen("; ", "\n", 1)
            ),
        });
    }
}

/// What a closer is doing: one word for it on the floor and on every page.
pub fn doing(closer: &Closer) -> &'static str {
    match (closer.relation, closer.duty) {
        (Relation::OnBall, Duty::Recovering) => why::STILL_CLOSING_OUT,
        (_, duty) => duty.word(),
    }
}

/// Said of a look that is open though no rule takes it.
pub const NEVER: &str = words::YOUR_RULES_NEVER_TAKE;

/// "open, 84 %"; "open, 99 %; but your rules never take it"; "X4 shuts it"; "99 %, no open shot there": a kick-out
/// gets there, and the catcher is guarded.
pub fn state(look: &LookNow) -> String {
    let percent = (look.openness * 100.0).round();
    match look.open {
        // Whether it goes in is another matter, and said with the shot.
        true if look.kind == LookKind::Shot && look.allowed => words::OPEN.into(),
        true if look.allowed => words::open_percent(&percent),
        true => words::open_percent_but(&percent, &NEVER),
        false => {
            let shut = match shut_by(look) {
                Some(closer) => words::x_shuts_it(&closer.defender),
                None if arrives(look) => words::no_open_shot_there(&percent),
                None if look.to.is_some() => words::not_open_percent(&percent),
                None => words::NOT_WORTH_IT.into(),
            };
            if look.allowed {
                shut
            } else {
                words::and_never(&shut, &NEVER)
            }
        }
    }
}

/// Does a pass get there? If it is not open all the same, its catcher has no open shot.
pub fn arrives(look: &LookNow) -> bool {
    look.to.is_some() && look.openness > THERE
}

/// How many passes away each attacker is.
fn away(scene: &mut Scene, desk: &Desk, picture: &Picture) {
    let Some(instant) = desk.moment().and_then(|m| desk.recording.instants.get(m)) else {
        return;
    };
    for (who, away) in instant.old.away.iter().enumerate() {
        let relation = (0..5)
            .find(|d| instant.old.scene.guards[*d] == who)
            .map(|d| instant.old.duties[d].1);
        let text = match (away, relation) {
            _ if picture.holder == Some(who) => continue,
            (_, Some(Relation::PostBallSide)) => words::POST_BALL_SIDE.to_string(),
            (_, Some(Relation::PostWeakSide)) => words::POST_WEAK_SIDE.to_string(),
            (Some(1), _) => words::ONE_PASS_AWAY.to_string(),
            (Some(n), _) => words::passes_away(&n),
            (None, _) => "inside".to_string(),
        };
        scene.add(Item::Label {
            at: picture.pos[who] + Vec2::new(0.0, -0.95),
            text,
        });
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::offence::LookKind;

    #[test]
    fn a_pass_that_arrives_is_never_said_to_be_shut() {
        let mut look = LookNow {
            kind: LookKind::KickOut,
            to: Some(4),
            openness: 0.99,
            prize: 0.7,
            value: 0.69,
            pass: None,
            target: None,
            closer: None,
            allowed: true,
            open: false,
            spot_up: false,
        };
        assert_eq!(state(&look), "99 %, no open shot there");
        look.closer = Some(crate::possession::Closer {
            defender: 4,
            duty: crate::defence::Duty::HelpLine,
            relation: Relation::OnePass,
            chance: 0.3,
            since: 0.0,
        });
        assert_eq!(state(&look), "99 %, no open shot there");
        assert!(shut_by(&look).is_none());
        // A defender on the way to the ball goes by one word, wherever it is said.
        use crate::why::{Seat, Where};
        let closer = Closer {
            duty: Duty::Recovering,
            relation: Relation::OnBall,
            ..look.closer.expect("put in")
        };
        let court = crate::court::Court::of(crate::court::CourtCode::Fiba);
        let spot = court.nearest_spot(Vec2::new(0.0, 7.0));
        let seat = Seat::of(
            closer.relation,
            closer.duty,
            Where::of(spot, crate::court::Side::Left),
        );
        assert_eq!(seat.doing(false), format!(", {}", doing(&closer)));
        look.openness = 0.4;
        assert_eq!(state(&look), "X4 shuts it");
        look.closer = None;
        assert_eq!(state(&look), "not open, 40 %");
        look.openness = 0.84;
        look.open = true;
        assert_eq!(state(&look), "open, 84 %");
    }
}
