//! The light of one decision instant: where a pass thrown now would be caught, and what a catch there is worth. The
//! looks of that instant and their worths are the holder's own (`sight`), spread out over the floor.
//!
//! A team-mate to whom no pass is open has no light, nor has floor that nobody comes to in time: a stall is dark. How
//! likely a ball gets somewhere, no matter who is there, is `looks::field`.

use crate::body::time_to_reach_within;
use crate::court::Vec2;
use crate::looks::field::Grid;
use crate::looks::passing::{Going, PassLook, best_pass, flight, pass_to as pass_to_point};
use crate::offence::LookKind;
use crate::possession::LookNow;
use crate::possession::light::{is_dark, shine};

use super::components::Play;
use super::instant::Instant;
use super::sight::{holder_spot, pass_to, worth_of_a_catch};
use super::ways::kinds_for;

/// The light of an open shot lies about the holder: whole out to the first, gone at the second, metres (ours).
const ABOUT_HIM: (f64, f64) = (0.55, 1.15);

/// The longest that a pass is in the air, seconds (ours: across the half court).
const LONGEST: f64 = 1.6;

/// Of one look: what light it has, and where.
struct Lit<'a> {
    play: &'a Play,
    instant: &'a Instant,
    look: &'a LookNow,
    /// The pass, if it is one.
    pass: Option<Thrown>,
}

/// A pass that could be thrown now.
struct Thrown {
    /// To whom, 0–4.
    who: usize,
    kind: LookKind,
    going: Going,
    /// By how much longer, seconds, the holder reckons that the ball is on its way: with the flight before he corrects
    /// his aim for the last time.
    reckons: f64,
    /// Chance that the catcher is where the holder would throw it, as the ball is there.
    comes: f64,
}

impl Instant {
    /// The light at the points of a grid, 0 to 1, row by row; `looks` are those of this instant.
    pub fn light(&self, play: &Play, looks: &[LookNow], grid: &Grid) -> Vec<f64> {
        let lit = self.lit(play, looks);
        let mut values = Vec::with_capacity(grid.columns * grid.rows);
        for row in 0..grid.rows {
            for column in 0..grid.columns {
                values.push(brightest(&lit, grid.point(column, row)));
            }
        }
        values
    }

    /// What [`Instant::light`] has at one point, metres from the rim.
    pub fn light_at(&self, play: &Play, looks: &[LookNow], point: Vec2) -> f64 {
        brightest(&self.lit(play, looks), point)
    }

    /// Where the pass of a look would be caught, metres from the rim; `None` if it is no pass, or none gets there.
    pub fn catch_point(&self, play: &Play, look: &LookNow) -> Option<Vec2> {
        let who = usize::from(look.to?) - 1;
        Some(self.thrown(play, who)?.1.target)
    }

    /// The pass to `who` (0–4) as the holder would throw it.
    fn thrown(&self, play: &Play, who: usize) -> Option<(Thrown, PassLook)> {
        let (old, hold) = (&self.old, &self.hold);
        let (kind, going) = pass_to(old, hold, holder_spot(play, old, hold.by), who);
        let (cast, scene) = (&*play.cast, &old.scene);
        let pass = best_pass(cast, scene, hold.by, who, going, kinds_for(kind))?;
        let flight =
            pass_to_point(cast, scene, hold.by, who, pass.target, &[pass.kind]).unwrap_or(pass);
        let mut thrown = Thrown {
            who,
            kind,
            going,
            reckons: pass.time - flight.time,
            comes: 1.0,
        };
        thrown.comes = thrown.comes_to(play, self, flight.target, flight.time);
        Some((thrown, pass))
    }

    fn lit<'a>(&'a self, play: &'a Play, looks: &'a [LookNow]) -> Vec<Lit<'a>> {
        let open = looks.iter().filter(|look| look.open);
        open.map(|look| Lit {
            play,
            instant: self,
            look,
            pass: look
                .to
                .and_then(|to| Some(self.thrown(play, usize::from(to) - 1)?.0)),
        })
        .collect()
    }
}

impl Thrown {
    /// The chance that the catcher is at `target`, metres from the rim, as the ball is, `time` seconds from now, by the
    /// model's own logistic of margins.
    fn comes_to(&self, play: &Play, instant: &Instant, target: Vec2, time: f64) -> f64 {
        let (cast, scene) = (&*play.cast, &instant.old.scene);
        let limits = &cast.players[self.who].limits;
        // Who is cutting is on the way; another has to see where the ball goes.
        let moves = match self.going.goal {
            Some(_) => 0.0,
            None => limits.reaction,
        };
        let (pos, vel) = (scene.pos[self.who], scene.vel[self.who]);
        let most = time + LONGEST;
        let comes = time_to_reach_within(pos, vel, limits, target, limits.reach, moves, most);
        let margin = (comes - time).min(LONGEST);
        1.0 / (1.0 + libm::exp(margin / cast.model.looks.logistic_scale))
    }
}

/// The brightest light at a point, metres from the rim.
fn brightest(lit: &[Lit], point: Vec2) -> f64 {
    lit.iter().fold(0.0, |most, l| most.max(l.at(point, most)))
}

impl Lit<'_> {
    /// The light of this look at a point; once it is surely no more than `most`, whatever it is by then.
    fn at(&self, point: Vec2, most: f64) -> f64 {
        match (&self.pass, self.look.kind) {
            (Some(thrown), _) => self.of_a_pass(thrown, point, most),
            (None, LookKind::Shot) => {
                let off = (point - self.instant.ball()).length();
                let (whole, gone) = ABOUT_HIM;
                let near = ((gone - off) / (gone - whole)).clamp(0.0, 1.0);
                near * self.look.light(self.play.usual)
            }
            // A drive has its beam.
            _ => 0.0,
        }
    }

    /// The light of a pass where it would be caught at `point`. That the catcher comes to where the holder throws it
    /// the look takes for granted; elsewhere he comes as much less likely as he is later.
    fn of_a_pass(&self, thrown: &Thrown, point: Vec2, most: f64) -> f64 {
        let (play, old, hold) = (self.play, &self.instant.old, &self.instant.hold);
        let (cast, scene, who) = (&*play.cast, &old.scene, thrown.who);
        let limits = &cast.players[who].limits;
        if (point - scene.pos[who]).length() > limits.top_speed * LONGEST + limits.reach {
            return 0.0;
        }
        // Of each kind of pass by itself: what is there sooner may be there too soon for him.
        kinds_for(thrown.kind).iter().fold(most, |most, &kind| {
            // Most points he does not come to in time; asked first, for it is the cheaper question.
            let flies = flight(cast, scene, hold.by, who, kind, point).duration;
            let time = flies + cast.players[hold.by].hands.release;
            let comes = thrown.comes_to(play, self.instant, point, time) / thrown.comes.max(1e-12);
            let comes = comes.min(1.0);
            if is_dark(comes) {
                return most;
            }
            let pass = pass_to_point(cast, scene, hold.by, who, point, &[kind]);
            let Some((pass, openness)) = pass.map(|p| (p, p.openness.value * comes)) else {
                return most;
            };
            if shine(openness, f64::INFINITY, play.usual) <= most {
                return most;
            }
            let reckoned = PassLook {
                time: pass.time + thrown.reckons,
                ..pass
            };
            let (prize, _) = worth_of_a_catch(
                (play, &self.instant.clock, old),
                (hold.by, who),
                thrown.kind,
                thrown.going,
                &reckoned,
            );
            most.max(shine(openness, openness * prize, play.usual))
        })
    }
}
