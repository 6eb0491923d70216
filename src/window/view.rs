//! From metres on the floor to points on the screen and back. The basket is at the top: whoever
//! stands at half court and faces it sees left and right as they are.

use bevy_egui::egui::{Pos2, Rect, Vec2 as Size, pos2, vec2};

use super::light::DEPTH;
use crate::court::{Court, Vec2};

/// Metres of wood that are shown beyond the sidelines and the baseline.
const BESIDE: f64 = 0.7;
const BEHIND: f64 = 0.55;

/// How the floor lies in a rectangle of the screen.
#[derive(Clone, Copy, Debug)]
pub struct View {
    /// All that shows floor.
    pub rect: Rect,
    /// Points of the screen in a metre.
    pub scale: f32,
    /// How much larger than they are bodies are drawn: 1, or more on the wall.
    pub bodies: f32,
    /// Where the rim is.
    rim: Pos2,
}

impl View {
    /// The floor as large as it can be, centred.
    pub fn fit(court: &Court, rect: Rect) -> View {
        let base = court.baseline_y();
        let deep = DEPTH.min(court.half_court_y()) - base;
        let (width, height) = (court.width + 2.0 * BESIDE, deep + BEHIND);
        let scale = (rect.width() / width as f32).min(rect.height() / height as f32);
        let top = rect.top() + (rect.height() - scale * height as f32) / 2.0;
        View {
            rect,
            scale,
            bodies: 1.0,
            rim: pos2(rect.center().x, top + scale * (BEHIND - base) as f32),
        }
    }

    /// The same, with bodies drawn so much larger.
    pub fn with_bodies(self, bodies: f32) -> View {
        View { bodies, ..self }
    }

    /// A length of a body, metres, as points of the screen.
    pub fn body(&self, metres: f64) -> f32 {
        self.long(metres) * self.bodies
    }

    /// The same, with floor shown in all of `rect`.
    pub fn within(self, rect: Rect) -> View {
        View { rect, ..self }
    }

    /// A place on the floor, metres, as a point of the screen.
    pub fn at(&self, p: Vec2) -> Pos2 {
        self.rim + vec2(p.x as f32, p.y as f32) * self.scale
    }

    /// A point of the screen as a place on the floor, metres.
    pub fn back(&self, p: Pos2) -> Vec2 {
        let off = (p - self.rim) / self.scale;
        Vec2::new(f64::from(off.x), f64::from(off.y))
    }

    /// A direction on the floor as one on the screen.
    pub fn way(&self, v: Vec2) -> Size {
        vec2(v.x as f32, v.y as f32)
    }

    /// Metres as points of the screen.
    pub fn long(&self, metres: f64) -> f32 {
        metres as f32 * self.scale
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::court::CourtCode;

    #[test]
    fn every_spot_is_in_sight_and_the_way_back_leads_to_it() {
        for code in CourtCode::ALL {
            let court = Court::of(code);
            let rect = Rect::from_min_size(pos2(10.0, 5.0), vec2(900.0, 600.0));
            let view = View::fit(court, rect);
            for name in crate::court::SpotName::ALL {
                for side in [crate::court::Side::Left, crate::court::Side::Right] {
                    let p = court.spot(crate::court::Spot::new(name, side));
                    assert!(rect.contains(view.at(p)), "{code:?} {name:?}");
                    assert!((view.back(view.at(p)) - p).length() < 1e-4);
                }
            }
        }
    }

    #[test]
    fn right_is_right_for_whoever_faces_the_basket() {
        let court = Court::of(CourtCode::Fiba);
        let view = View::fit(
            court,
            Rect::from_min_size(pos2(0.0, 0.0), vec2(900.0, 600.0)),
        );
        let (rim, out) = (view.at(Vec2::ZERO), view.at(Vec2::new(1.0, 6.0)));
        assert!(out.y > rim.y && out.x > rim.x);
    }
}
