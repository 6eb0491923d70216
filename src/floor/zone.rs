//! A zone defender's area and the attacker in it.

use crate::court::Vec2;

use super::parts::*;

/// A zone defender's place now, and the attacker in his area, the ball first.
pub fn area(
    areas: &[crate::defence::Area],
    d: usize,
    old: &Old,
    ball: &Ball,
    ball_seen: Vec2,
) -> Option<(Vec2, Option<usize>)> {
    let area = areas.iter().find(|a| usize::from(a.defender) == d + 1)?;
    let place = Vec2::new(
        area.x + area.shift.0 * ball_seen.x,
        area.y + area.shift.1 * (ball_seen.y - 6.0),
    );
    let nearest_area = |p: Vec2| {
        let mut best = (f64::INFINITY, 0);
        for a in areas {
            let q = Vec2::new(
                a.x + a.shift.0 * ball_seen.x,
                a.y + a.shift.1 * (ball_seen.y - 6.0),
            );
            let distance = (q - p).length();
            if distance < best.0 {
                best = (distance, usize::from(a.defender));
            }
        }
        best.1
    };
    let holder = ball.man();
    let mut picked: Option<(f64, usize)> = None;
    for who in 0..5 {
        let pos = old.scene.pos[who];
        let distance = (pos - place).length();
        let mine = nearest_area(pos) == d + 1;
        if !mine || distance > area.covers && who != holder {
            continue;
        }
        let score = distance - if who == holder { 100.0 } else { 0.0 };
        if picked.is_none_or(|(s, _)| score < s) {
            picked = Some((score, who));
        }
    }
    Some((place, picked.map(|(_, who)| who)))
}
