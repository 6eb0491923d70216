//! What is painted on the half court and what stands over it, as primitives for drawing, metres.
//!
//! A line stands where its dimension is measured (inner edge of boundaries, outer edge of radii);
//! its painted width is [`Court::line_width`]. Not modelled: lane-space marks, the dashed lower
//! half of the free-throw circle, the short straight ends of the no-charge arc.

use std::f64::consts::PI;

use super::{Court, Vec2};

/// A drawing primitive, all in metres. Angles in radians from `+x` toward `+y`.
#[derive(Clone, Copy, PartialEq, Debug)]
pub enum Line {
    /// A straight line.
    Segment {
        /// One end.
        a: Vec2,
        /// The other end.
        b: Vec2,
    },
    /// Part of a circle, from angle `from` up to angle `to`.
    Arc {
        /// Centre of the circle.
        centre: Vec2,
        /// Radius of the circle.
        radius: f64,
        /// First angle.
        from: f64,
        /// Last angle, greater than the first.
        to: f64,
    },
    /// A whole circle.
    Circle {
        /// Centre.
        centre: Vec2,
        /// Radius.
        radius: f64,
    },
}

impl Line {
    /// The two ends; `None` for a circle.
    pub fn ends(&self) -> Option<(Vec2, Vec2)> {
        match *self {
            Self::Segment { a, b } => Some((a, b)),
            Self::Arc {
                centre,
                radius,
                from,
                to,
            } => {
                let at = |angle| centre + Vec2::new(libm::cos(angle), libm::sin(angle)) * radius;
                Some((at(from), at(to)))
            }
            Self::Circle { .. } => None,
        }
    }
}

impl Court {
    /// The floor's lines, then backboard and ring: boundary, lane, free-throw and centre half
    /// circles, three-point line, no-charge arc.
    pub fn lines(&self) -> Vec<Line> {
        let segment = |ax, ay, bx, by| Line::Segment {
            a: Vec2::new(ax, ay),
            b: Vec2::new(bx, by),
        };
        let arc = |y, radius, from, to| Line::Arc {
            centre: Vec2::new(0.0, y),
            radius,
            from,
            to,
        };
        let (side, lane) = (self.width / 2.0, self.lane_width / 2.0);
        let (base, half, foul) = (self.baseline_y(), self.half_court_y(), self.ft_line_y());
        let mut lines = vec![
            segment(-side, base, side, base),
            segment(side, base, side, half),
            segment(side, half, -side, half),
            segment(-side, half, -side, base),
            segment(-lane, base, -lane, foul),
            segment(-lane, foul, lane, foul),
            segment(lane, foul, lane, base),
            arc(foul, self.circle_radius, 0.0, PI),
            arc(half, self.circle_radius, PI, 2.0 * PI),
        ];
        if let (Some(radius), Some(corner), Some(bend)) = (
            self.arc_radius,
            self.corner_distance,
            self.three_point_break_y(),
        ) {
            let angle = libm::atan2(bend, corner);
            lines.push(segment(corner, base, corner, bend));
            lines.push(arc(0.0, radius, angle, PI - angle));
            lines.push(segment(-corner, bend, -corner, base));
        }
        if let Some(radius) = self.restricted_radius {
            lines.push(arc(0.0, radius, 0.0, PI));
        }
        let (board, board_y) = (
            self.backboard_width / 2.0,
            base + self.backboard_to_baseline,
        );
        lines.push(segment(-board, board_y, board, board_y));
        lines.push(Line::Circle {
            centre: Vec2::new(0.0, 0.0),
            radius: self.ring_radius,
        });
        lines
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::court::CourtCode;

    #[test]
    fn the_three_point_line_is_one_unbroken_line() {
        for code in CourtCode::ALL {
            let court = Court::of(code);
            let Some(radius) = court.arc_radius else {
                continue;
            };
            let lines = court.lines();
            let arc = lines
                .iter()
                .position(|line| matches!(line, Line::Arc { radius: r, .. } if *r == radius))
                .expect("an arc");
            let ends: Vec<_> = lines[arc - 1..=arc + 1]
                .iter()
                .filter_map(Line::ends)
                .collect();
            assert!((ends[0].1 - ends[1].0).length() < 1e-12, "{code:?}");
            assert!((ends[1].1 - ends[2].0).length() < 1e-12, "{code:?}");
        }
    }

    #[test]
    fn every_line_is_painted_on_this_half() {
        for code in CourtCode::ALL {
            let court = Court::of(code);
            for (a, b) in court.lines().iter().filter_map(Line::ends) {
                for p in [a, b] {
                    assert!((court.clamp_inside(p, 0.0) - p).length() < 1e-9, "{p:?}");
                }
            }
        }
    }

    #[test]
    fn a_court_without_an_arc_or_no_charge_area_draws_neither() {
        let count = |code| Court::of(code).lines().len();
        assert_eq!(count(CourtCode::Fiba), 15);
        assert_eq!(count(CourtCode::Nfhs), 14);
        assert_eq!(count(CourtCode::Youth), 11);
    }
}
