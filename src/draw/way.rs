//! Ways as polylines: lengths, points along them, plainer and smoother versions. Metres.

use crate::court::Vec2;

/// Length of a polyline.
pub fn length(path: &[Vec2]) -> f64 {
    path.windows(2).map(|w| (w[1] - w[0]).length()).sum()
}

/// The point after `s` metres of the way, and the direction there (unit vector); the ends beyond.
pub fn at(path: &[Vec2], s: f64) -> (Vec2, Vec2) {
    let mut left = s.max(0.0);
    let mut last = (
        path.first().copied().unwrap_or_default(),
        Vec2::new(0.0, 1.0),
    );
    for w in path.windows(2) {
        let step = w[1] - w[0];
        let long = step.length();
        if long < 1e-9 {
            continue;
        }
        let along = step / long;
        if left <= long {
            return (w[0] + along * left, along);
        }
        left -= long;
        last = (w[1], along);
    }
    last
}

/// Distance from a point to a segment.
pub fn to_segment(p: Vec2, a: Vec2, b: Vec2) -> f64 {
    let way = b - a;
    let share = if way.length_squared() < 1e-12 {
        0.0
    } else {
        ((p - a).dot(way) / way.length_squared()).clamp(0.0, 1.0)
    };
    (a + way * share - p).length()
}

/// Fewer points, none of the dropped ones more than `off` away from what stays (Ramer 1972,
/// Douglas and Peucker 1973, from memory).
pub fn plainer(path: &[Vec2], off: f64) -> Vec<Vec2> {
    if path.len() < 3 {
        return path.to_vec();
    }
    let (a, b) = (path[0], path[path.len() - 1]);
    let mut worst = (0, 0.0);
    for (i, &p) in path.iter().enumerate().take(path.len() - 1).skip(1) {
        let far = to_segment(p, a, b);
        if far > worst.1 {
            worst = (i, far);
        }
    }
    if worst.1 <= off {
        return vec![a, b];
    }
    let mut out = plainer(&path[..=worst.0], off);
    out.pop();
    out.extend(plainer(&path[worst.0..], off));
    out
}

/// A smooth curve through the points (Catmull-Rom, centripetal in spirit: tangents are shortened
/// to the shorter neighbour), as a polyline with points about `step` apart.
pub fn smoother(path: &[Vec2], step: f64) -> Vec<Vec2> {
    let n = path.len();
    if n < 2 {
        return path.to_vec();
    }
    let tangent = |i: usize| {
        if i == 0 || i == n - 1 {
            return Vec2::ZERO;
        }
        let (before, after) = (path[i] - path[i - 1], path[i + 1] - path[i]);
        let along = path[i + 1] - path[i - 1];
        let norm = along.length();
        if norm < 1e-9 {
            return Vec2::ZERO;
        }
        along / norm * before.length().min(after.length())
    };
    let mut out = vec![path[0]];
    for i in 0..n - 1 {
        let (a, b) = (path[i], path[i + 1]);
        let (ta, tb) = (tangent(i), tangent(i + 1));
        let pieces = libm::ceil((b - a).length() / step).clamp(1.0, 400.0) as usize;
        for k in 1..=pieces {
            let t = k as f64 / pieces as f64;
            let (t2, t3) = (t * t, t * t * t);
            out.push(
                a * (2.0 * t3 - 3.0 * t2 + 1.0)
                    + ta * (t3 - 2.0 * t2 + t)
                    + b * (3.0 * t2 - 2.0 * t3)
                    + tb * (t3 - t2),
            );
        }
    }
    out
}

/// The part of the way from `from` to `to` metres.
pub fn part(path: &[Vec2], from: f64, to: f64) -> Vec<Vec2> {
    let mut out = vec![at(path, from).0];
    let mut s = 0.0;
    for w in path.windows(2) {
        s += (w[1] - w[0]).length();
        if s > from + 1e-9 && s < to - 1e-9 {
            out.push(w[1]);
        }
    }
    out.push(at(path, to).0);
    out
}

/// A wavy line along the way: `high` to either side, one wave every `long` metres, straight for the
/// last `calm` metres.
pub fn wavy(path: &[Vec2], high: f64, long: f64, calm: f64) -> Vec<Vec2> {
    let total = length(path);
    let waved = total - calm;
    let waves = libm::round(waved / long).max(1.0);
    let count = (waves * 12.0) as usize;
    let mut out = Vec::with_capacity(count + 2);
    for i in 0..=count {
        let share = i as f64 / count as f64;
        let (p, along) = at(path, share * waved.max(0.0));
        let across = Vec2::new(-along.y, along.x);
        let swing = libm::sin(share * waves * std::f64::consts::TAU);
        out.push(p + across * (high * swing));
    }
    out.push(at(path, total).0);
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    fn corner() -> Vec<Vec2> {
        vec![
            Vec2::new(0.0, 0.0),
            Vec2::new(3.0, 0.0),
            Vec2::new(3.0, 4.0),
        ]
    }

    #[test]
    fn lengths_points_and_parts_agree() {
        let way = corner();
        assert_eq!(length(&way), 7.0);
        assert_eq!(at(&way, 5.0), (Vec2::new(3.0, 2.0), Vec2::new(0.0, 1.0)));
        assert!((length(&part(&way, 1.0, 6.0)) - 5.0).abs() < 1e-12);
    }

    #[test]
    fn a_plainer_way_stays_near_and_a_smoother_one_keeps_its_points() {
        let way = corner();
        let smooth = smoother(&way, 0.1);
        assert!(smooth.contains(&way[1]) && smooth.ends_with(&way[2..]));
        let plain = plainer(&smooth, 0.02);
        assert!(plain.len() < smooth.len());
        for p in &smooth {
            let near = plain.windows(2).map(|w| to_segment(*p, w[0], w[1]));
            assert!(near.fold(f64::INFINITY, f64::min) <= 0.02 + 1e-12);
        }
    }

    #[test]
    fn a_wavy_line_ends_where_its_way_ends() {
        let way = corner();
        let wave = wavy(&way, 0.2, 0.6, 0.5);
        assert_eq!(wave[0], way[0]);
        assert!((wave[wave.len() - 1] - way[2]).length() < 1e-12);
        let off = wave.iter().map(|p| {
            let near = way.windows(2).map(|w| to_segment(*p, w[0], w[1]));
            near.fold(f64::INFINITY, f64::min)
        });
        let most = off.fold(0.0, f64::max);
        assert!(most > 0.15 && most <= 0.2 + 1e-12);
    }
}
