//! Light, reckoned on a thread of its own: where a pass is worth throwing now, or (a switch) where one arrives at all.
//!
//! The values are those of `sim::lit` and `looks::field` and nothing else; here they only become a picture. While a
//! possession runs the grid is coarse and the newest answer wins; frozen it is fine.

use std::sync::{Arc, Condvar, Mutex};
use std::thread;

use bevy_egui::egui::Color32;

use super::palette::{AMBIENT, NIGHT};
use crate::court::{Court, Vec2};
use crate::looks::field::{self, Grid};
use crate::looks::{Cast, Scene};
use crate::possession::LookNow;
use crate::sim::instant::Instant;
use crate::sim::parts::Play;

/// Distance of the grid's points while it runs and while it stands, metres (ours).
pub const RUNNING: f64 = 0.32;
/// Distance of the grid's points while it stands, metres (ours).
pub const FROZEN: f64 = 0.14;
/// How far out from the rim the field goes, metres: beyond, hardly anybody plays.
pub const DEPTH: f64 = 10.6;
/// What light is asked for.
#[derive(Clone)]
pub enum Of {
    /// What a pass thrown at this decision instant is worth where it would be caught.
    Worth(Box<Decision>),
    /// How likely a ball gets there, whoever is there.
    Arrival {
        /// Court and players.
        cast: Arc<Cast>,
        /// Where everybody is.
        scene: Box<Scene>,
        /// Who has the ball, 0–4.
        passer: usize,
    },
    /// Nobody has the ball.
    Nothing(Box<Court>),
}

/// A decision instant with its looks.
#[derive(Clone)]
pub struct Decision {
    /// The possession's fixed state.
    pub play: Play,
    /// What the holder decides from.
    pub instant: Instant,
    /// The looks then.
    pub looks: Vec<LookNow>,
}

/// What to reckon.
#[derive(Clone)]
pub struct Ask {
    /// Which light.
    pub of: Of,
    /// Distance of the grid's points, metres.
    pub spacing: f64,
    /// Increases with every question.
    pub number: u64,
}

/// A reckoned field.
#[derive(Clone, Debug)]
pub struct Field {
    /// Where the values are taken.
    pub grid: Grid,
    /// Light at each point, 0 to 1, row by row.
    pub values: Vec<f64>,
    /// Number of the question that it answers.
    pub number: u64,
}

/// Reckons a field.
pub fn reckon(ask: &Ask) -> Field {
    let court = match &ask.of {
        Of::Worth(decision) => &decision.play.cast.court,
        Of::Arrival { cast, .. } => &cast.court,
        Of::Nothing(court) => court.as_ref(),
    };
    let grid = Grid::over(court, ask.spacing, f64::INFINITY);
    let values = match &ask.of {
        Of::Worth(decision) => {
            let Decision {
                play,
                instant,
                looks,
            } = &**decision;
            instant.light(play, looks, &grid)
        }
        Of::Arrival {
            cast,
            scene,
            passer,
        } => field::over(cast, scene, *passer, &grid),
        Of::Nothing(_) => vec![0.0; grid.columns * grid.rows],
    };
    Field {
        grid,
        values,
        number: ask.number,
    }
}

#[derive(Default)]
struct Slot {
    ask: Option<Ask>,
    answer: Option<Field>,
    over: bool,
}

/// The thread that reckons fields. It ends when this is dropped.
pub struct Lamp {
    shared: Arc<(Mutex<Slot>, Condvar)>,
    number: u64,
}

impl Lamp {
    /// Lights the lamp.
    pub fn lit() -> Lamp {
        let shared = Arc::new((Mutex::new(Slot::default()), Condvar::new()));
        let theirs = shared.clone();
        let work = move || {
            let (lock, ring) = &*theirs;
            loop {
                let ask = {
                    let Ok(mut inside) = lock.lock() else { return };
                    loop {
                        if inside.over {
                            return;
                        }
                        if let Some(ask) = inside.ask.take() {
                            break ask;
                        }
                        let Ok(woken) = ring.wait(inside) else { return };
                        inside = woken;
                    }
                };
                let field = reckon(&ask);
                let Ok(mut inside) = lock.lock() else { return };
                inside.answer = Some(field);
            }
        };
        // Without a thread the floor stays dark; everything else works.
        let _ = thread::Builder::new().name("lamp".into()).spawn(work);
        Lamp { shared, number: 0 }
    }

    /// Asks for a field; an older question that has not been begun is forgotten.
    pub fn ask(&mut self, of: Of, spacing: f64) {
        self.number += 1;
        let (lock, ring) = &*self.shared;
        if let Ok(mut inside) = lock.lock() {
            inside.ask = Some(Ask {
                of,
                spacing,
                number: self.number,
            });
            ring.notify_one();
        }
    }

    /// The newest field that has not been taken yet.
    pub fn take(&mut self) -> Option<Field> {
        self.shared.0.lock().ok()?.answer.take()
    }

    /// Has the last question been answered by `field`?
    pub fn is_last(&self, number: u64) -> bool {
        number == self.number
    }
}

impl Drop for Lamp {
    fn drop(&mut self) {
        if let Ok(mut inside) = self.shared.0.lock() {
            inside.over = true;
        }
        self.shared.1.notify_one();
    }
}

/// The light on the wood: values between 0 (night) and 1 (full light), eased toward the newest field
/// so that nothing flickers.
#[derive(Default)]
pub struct Shade {
    grid: Option<Grid>,
    light: Vec<f32>,
}

impl Shade {
    /// Moves `share` of the way to a field (1: all of it at once); another grid is taken over whole. True while it is
    /// still on the way: what could not be seen of the rest is not left for later.
    pub fn ease(&mut self, field: &Field, share: f32) -> bool {
        if self.grid != Some(field.grid) {
            self.light = match self.grid.take() {
                Some(old) => resampled(&old, &self.light, &field.grid),
                None => field.values.iter().map(|v| *v as f32).collect(),
            };
            self.grid = Some(field.grid);
        }
        let soft = field.grid.step.x < SOFT_BELOW;
        let mut moves = false;
        for (i, light) in self.light.iter_mut().enumerate() {
            let value = if soft {
                softened(field, i)
            } else {
                field.values[i]
            };
            let off = value as f32 - *light;
            if off.abs() <= UNSEEN {
                *light = value as f32;
            } else {
                *light += off * share;
                moves |= share < 1.0;
            }
        }
        moves
    }

    /// The points that the light is drawn from, once there is light.
    pub fn grid(&self) -> Option<&Grid> {
        self.grid.as_ref()
    }

    /// How many points the light is drawn from, across and down.
    pub fn size(&self) -> (usize, usize) {
        self.grid.map_or((0, 0), |g| (g.columns, g.rows))
    }

    /// One of these points: where it is on the floor, and what the wood is multiplied
    /// with there; `strength` dims all light.
    pub fn point(&self, column: usize, row: usize, strength: f32) -> Option<(Vec2, Color32)> {
        let grid = self.grid?;
        let light = self.light.get(row * grid.columns + column).copied()?;
        Some((grid.point(column, row), tint(light * strength)))
    }
}

/// Light is drawn in steps of a 255th: nearer to its end than this it is there.
const UNSEEN: f32 = 1.0 / 1024.0;

/// A grid with points nearer than this, metres, is drawn softened: so fine the edge of a shadow shows its steps.
const SOFT_BELOW: f64 = 0.16;

/// A point of a field with its neighbours, each way a half of what the point itself weighs.
fn softened(field: &Field, at: usize) -> f64 {
    let (columns, rows) = (field.grid.columns, field.grid.rows);
    let (column, row) = (at % columns, at / columns);
    let (mut sum, mut weights) = (0.0, 0.0);
    for r in row.saturating_sub(1)..=(row + 1).min(rows - 1) {
        for c in column.saturating_sub(1)..=(column + 1).min(columns - 1) {
            let weight = if r == row { 2.0 } else { 1.0 } * if c == column { 2.0 } else { 1.0 };
            sum += weight * field.values[r * columns + c];
            weights += weight;
        }
    }
    sum / weights
}

/// What the wood is multiplied with under so much light: at night it is dimmer and warmer.
pub fn tint(light: f32) -> Color32 {
    let seen = AMBIENT + (1.0 - AMBIENT) * light.clamp(0.0, 1.0);
    let c = |i: usize| (255.0 * (seen * (1.0 - NIGHT[i]) + seen * seen * NIGHT[i])) as u8;
    Color32::from_rgb(c(0), c(1), c(2))
}

fn resampled(old: &Grid, light: &[f32], new: &Grid) -> Vec<f32> {
    let mut out = Vec::with_capacity(new.columns * new.rows);
    for row in 0..new.rows {
        for column in 0..new.columns {
            let p = new.point(column, row) - old.first;
            let c = ((p.x / old.step.x + 0.5).max(0.0) as usize).min(old.columns - 1);
            let r = ((p.y / old.step.y + 0.5).max(0.0) as usize).min(old.rows - 1);
            out.push(light.get(r * old.columns + c).copied().unwrap_or(0.0));
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::super::recording::Recording;
    use super::*;
    use crate::scenario::Scenario;

    fn ask(spacing: f64) -> Ask {
        let recording = Recording::of(&Arc::new(Scenario::demo()), 3);
        let picture = recording.picture(recording.possession.moments[4].time);
        let (scene, passer) = recording.scene(&picture);
        Ask {
            of: Of::Arrival {
                cast: recording.cast.clone(),
                scene: Box::new(scene),
                passer,
            },
            spacing,
            number: 1,
        }
    }

    #[test]
    fn the_lamp_answers_the_last_question_with_the_field_itself() {
        let ask = ask(0.8);
        let mut lamp = Lamp::lit();
        for _ in 0..5 {
            lamp.ask(ask.of.clone(), ask.spacing);
        }
        let mut got = None;
        for _ in 0..2000 {
            got = lamp.take().or(got);
            if got.as_ref().is_some_and(|f: &Field| lamp.is_last(f.number)) {
                break;
            }
            thread::sleep(std::time::Duration::from_millis(2));
        }
        let got = got.expect("an answer");
        assert!(lamp.is_last(got.number));
        assert_eq!(got.values, reckon(&ask).values);
    }

    /// A window at rest looks round every two seconds: nothing may be left then of a change that was to be seen before.
    #[test]
    fn light_that_is_eased_comes_to_its_end_and_stays() {
        let field = reckon(&ask(0.5));
        let mut shade = Shade::default();
        let dark = Field {
            values: vec![0.0; field.values.len()],
            ..field.clone()
        };
        shade.ease(&dark, 1.0);
        let frames = (1..200)
            .find(|_| !shade.ease(&field, 0.17))
            .expect("an end");
        assert!(frames < 60, "{frames}");
        let before = shade.light.clone();
        assert!(!shade.ease(&field, 1.0));
        assert_eq!(shade.light, before);
    }

    #[test]
    fn a_lit_point_is_drawn_brighter_than_a_shut_one() {
        let field = reckon(&ask(0.5));
        let mut shade = Shade::default();
        shade.ease(&field, 1.0);
        let pixel = |column: usize, row: usize| {
            let (p, colour) = shade.point(column, row, 1.0).expect("a point");
            assert!((p - field.grid.point(column, row)).length() < 1e-9);
            colour
        };
        let mut both = (0, 0);
        for row in 0..field.grid.rows {
            for column in 0..field.grid.columns {
                let value = field.values[row * field.grid.columns + column];
                let seen = pixel(column, row).r();
                if value > 0.999 {
                    assert!(seen > 250);
                    both.0 += 1;
                } else if value < 0.001 {
                    assert!(seen < 56);
                    both.1 += 1;
                }
            }
        }
        assert!(both.0 > 20 && both.1 > 20, "{both:?}");
    }
}
