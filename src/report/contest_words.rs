//! Differences as a coach reads them: signed, with their unit and interval, and as something that
//! can be pictured ("about one more open lay-up every nine possessions").

use crate::contest::compare::Verdict;
use crate::contest::{Better, Difference, Yardstick};
use crate::court::Units;
use crate::possession::timeline::FOOT;
use crate::scrimmage::Unit;
use crate::scrimmage::tallies::Interval;

/// Rarer than once in so many possessions is called "rarer". Invented.
const RARE: f64 = 200.0;

struct Shown {
    factor: f64,
    places: usize,
    after: &'static str,
}

fn shown(unit: Unit, units: Units) -> Shown {
    let (factor, places, after) = match (unit, units) {
        (Unit::Share, _) => (100.0, 1, " %"),
        (Unit::Points | Unit::Count, _) => (1.0, 2, ""),
        (Unit::Seconds, _) => (1.0, 2, " s"),
        (Unit::Metres, Units::Metric) => (1.0, 2, " m"),
        (Unit::Metres, Units::Imperial) => (1.0 / FOOT, 2, " ft"),
        (Unit::SquareMetres, Units::Metric) => (1.0, 1, " m²"),
        (Unit::SquareMetres, Units::Imperial) => (1.0 / (FOOT * FOOT), 0, " sq ft"),
    };
    Shown {
        factor,
        places,
        after,
    }
}

/// A figure alone: "14.2 %".
pub fn plain(unit: Unit, value: f64, units: Units) -> String {
    let s = shown(unit, units);
    format!("{:.*}{}", s.places, value * s.factor, s.after)
}

/// So many more places a figure has at most where it stands beside another and their difference.
const MORE: usize = 3;

/// Two figures with their difference and its interval, as they stand beside each other. They have as many places as it
/// takes that whoever takes the one figure from the other finds the difference as it is shown: "0.734", "0.716" beside
/// "−0.02". Where earlier looks leave no room for the difference found now, the interval stands alone.
pub fn beside(
    unit: Unit,
    figures: (f64, f64),
    ends: Option<(f64, f64)>,
    units: Units,
) -> [String; 3] {
    beside_others(unit, figures, ends, units, 0).0
}

/// The same with so many more places than usual at least, as figures of one unit below each other have; and how many more
/// they have.
pub fn beside_others(
    unit: Unit,
    (a, b): (f64, f64),
    ends: Option<(f64, f64)>,
    units: Units,
    least: usize,
) -> ([String; 3], usize) {
    let s = shown(unit, units);
    if let Some((low, high)) = ends.filter(|(low, high)| !(*low..=*high).contains(&(b - a))) {
        let end = |x: f64| signed(x * s.factor, s.places);
        let interval = format!("{} to {}{}", end(low), end(high), s.after);
        let figures = [a, b].map(|x| format!("{:.*}{}", s.places + least, x * s.factor, s.after));
        let [a, b] = figures;
        return ([a, b, interval], least);
    }
    let rounded = |x: f64, places: usize| {
        let text = format!("{:.places$}", x * s.factor);
        (text.parse::<f64>().unwrap_or(x), text)
    };
    // Does what is taken off round to the difference, and to nothing else?
    let agree = |(figures, difference): &(usize, usize)| {
        let told = rounded(b - a, *difference).0;
        let off = rounded(b, *figures).0 - rounded(a, *figures).0 - told;
        off.abs() < 0.5 * libm::pow(10.0, -(*difference as f64)) - 1e-9
    };
    let usual = s.places;
    // As few places as will do: of the figures first, then of their difference.
    let mut longer = (usual + least..=usual + MORE).flat_map(|f| (usual..=f).map(move |d| (f, d)));
    let at_least = (usual + least, usual);
    let (figures, difference) = longer.find(agree).unwrap_or(at_least);
    let [a_said, b_said] = [a, b].map(|x| rounded(x, figures).1 + s.after);
    let s = Shown {
        places: difference,
        ..s
    };
    let said = [a_said, b_said, s.change(b - a, ends)];
    (said, figures - usual)
}

fn signed(value: f64, places: usize) -> String {
    let text = format!("{value:+.places$}");
    // No sign before a nought.
    match text.trim_start_matches(['+', '-']).parse::<f64>() {
        Ok(0.0) => text[1..].to_string(),
        _ => text.replace('-', "−"),
    }
}

/// The difference with its interval: "+0.06 (+0.01 to +0.11)".
pub fn difference(y: &Yardstick, d: &Difference, units: Units) -> String {
    let ends = d.found.difference.map(|e| (e.low, e.high));
    shown(y.unit, units).change(d.found.b - d.found.a, ends)
}

impl Shown {
    /// A change of a figure with the ends of its interval: "+0.06 (+0.01 to +0.11)".
    fn change(&self, value: f64, ends: Option<(f64, f64)>) -> String {
        let said = |x: f64| signed(x * self.factor, self.places);
        let value = said(value);
        match ends {
            Some((low, high)) => format!("{value} ({} to {}){}", said(low), said(high), self.after),
            None => format!("{value}{}", self.after),
        }
    }
}

/// How sure.
pub fn verdict(verdict: Verdict) -> &'static str {
    match verdict {
        Verdict::Sure => "surely",
        Verdict::Perhaps => "perhaps",
        Verdict::NotTold => "too close to call",
        Verdict::TooFew => "too few differ",
        Verdict::Alike => "no difference",
    }
}

/// Is the change for the better, for the offence?
pub fn better(y: &Yardstick, d: &Difference) -> Option<bool> {
    let up = d.found.b > d.found.a;
    match y.better {
        Better::More => Some(up),
        Better::Fewer => Some(!up),
        Better::Neither => None,
    }
}

/// What one of them is called, where it can be counted.
fn one_of(name: &str) -> Option<&'static str> {
    Some(match name {
        "open_layups" => "open lay-up",
        "turnovers" => "lost possession",
        "backdoor_cut_there" => "backdoor chance",
        "backdoor_cut_taken" => "backdoor cut",
        "backdoor_cut_fed" => "fed backdoor cut",
        "backdoor_cut_finished" => "finished backdoor cut",
        "stalls" => "stall",
        "passes" => "pass",
        "points" => "point",
        "promised_points" => "point promised by the shot",
        "finishes_cut" => "shot off a cut",
        "finishes_drive" => "shot off a drive",
        "finishes_post_up" => "shot from the post",
        "finishes_drop_off" => "shot off a drop-off",
        "finishes_spot_up" => "catch-and-shoot shot",
        "finishes_off_hold" => "shot after holding the ball",
        _ => return None,
    })
}

/// Small numbers in words.
pub fn number(n: u64) -> String {
    const WORDS: [&str; 13] = [
        "no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten",
        "eleven", "twelve",
    ];
    match WORDS.get(n as usize) {
        Some(word) => (*word).to_string(),
        None => n.to_string(),
    }
}

/// Is the size told in words that name the figure already ("one more open lay-up")?
pub fn names_itself(y: &Yardstick, d: &Difference) -> bool {
    d.per_possession && one_of(&y.name).is_some()
}

/// The size of the difference, as something that can be pictured.
pub fn effect(y: &Yardstick, d: &Difference, units: Units) -> String {
    let value = d.found.b - d.found.a;
    let more = match (y.unit, value > 0.0) {
        (Unit::Seconds | Unit::Metres | Unit::SquareMetres, false) => "less",
        (_, false) => "fewer",
        (_, true) => "more",
    };
    let size = value.abs();
    if d.verdict == Verdict::Alike {
        return "no difference on any seed".to_string();
    }
    let countable = matches!(y.unit, Unit::Count | Unit::Points)
        || (y.unit == Unit::Share && y.interval == Interval::Proportion);
    let named = one_of(&y.name).map_or(String::new(), |n| format!(" {n}"));
    if countable && d.per_possession {
        if size * RARE < 1.0 {
            let every = RARE as u64;
            return format!("less than one{named} {more} every {every} possessions");
        }
        let every = (1.0 / size).round() as u64;
        return match every {
            0 => format!("about {size:.1}{named} {more} in each possession"),
            1 => format!("about one {more}{named} in each possession"),
            n => format!("about one {more}{named} every {} possessions", number(n)),
        };
    }
    if y.unit == Unit::Share {
        let of = match y.interval {
            Interval::Proportion if y.name.starts_with("shots_") => "shots",
            Interval::Proportion => "such shots",
            _ => return format!("about {:.1} in a hundred {more}", 100.0 * size),
        };
        return match (1.0 / size.max(1e-9)).round() {
            every if every <= RARE => {
                format!(
                    "about one {more} of every {} {of}",
                    number((every as u64).max(1))
                )
            }
            _ => format!("less than one {more} of every {} {of}", RARE as u64),
        };
    }
    let per = if d.per_possession {
        " a possession"
    } else {
        ""
    };
    if y.unit == Unit::Points {
        let points = |x: f64| plain(Unit::Points, x, units);
        return match size < 0.005 {
            true => format!("less than {} points {more}{per}", points(0.01)),
            false => format!("{} points {more}{per}", points(size)),
        };
    }
    let more = if more == "fewer" { "less" } else { more };
    let s = shown(y.unit, units);
    let least = [1.0, 0.1, 0.01][s.places.min(2)];
    if size * s.factor < least / 2.0 {
        return format!("less than {least}{} {more}{per}", s.after);
    }
    format!("{} {more}{per}", plain(y.unit, size, units))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::contest::paired::PairTally;
    use crate::contest::yardsticks;

    fn told(name: &str, a: f64, b: f64) -> String {
        let list = yardsticks();
        let place = list.iter().position(|y| y.name == name).unwrap();
        let mut tally = PairTally::default();
        for _ in 0..20 {
            tally.push((a, 1.0), (b, 1.0));
        }
        let d = Difference {
            yardstick: place,
            found: tally.result().unwrap(),
            holm_p: None,
            verdict: if a == b {
                Verdict::Alike
            } else {
                Verdict::Sure
            },
            per_possession: true,
        };
        effect(&list[place], &d, Units::Metric)
    }

    #[test]
    fn a_coach_can_picture_the_difference() {
        for (name, a, b, wanted) in [
            (
                "open_layups",
                0.2,
                0.31,
                "about one more open lay-up every nine possessions",
            ),
            (
                "turnovers",
                0.25,
                0.2,
                "about one fewer lost possession every 20 possessions",
            ),
            (
                "points",
                0.8,
                0.82,
                "about one more point every 50 possessions",
            ),
            ("stall_time", 1.0, 0.75, "0.25 s less a possession"),
            ("passes", 3.0, 4.1, "about one more pass in each possession"),
            (
                "passes",
                3.0,
                3.001,
                "less than one pass more every 200 possessions",
            ),
            ("points", 1.0, 1.0, "no difference on any seed"),
            (
                "stall_time",
                1.0,
                1.001,
                "less than 0.01 s more a possession",
            ),
            ("lane_open", 0.14, 0.17, "about 3.0 in a hundred more"),
        ] {
            assert_eq!(told(name, a, b), wanted);
        }
    }

    /// A coach who takes one figure from the other finds the difference that is shown.
    #[test]
    fn two_figures_agree_with_the_difference_shown_beside_them() {
        let points = |a, b| {
            let [a, b, _] = beside(Unit::Points, (a, b), None, Units::Metric);
            (a, b)
        };
        assert_eq!(points(0.734, 0.716), ("0.734".into(), "0.716".into()));
        assert_eq!(points(0.73, 0.71), ("0.73".into(), "0.71".into()));
        assert_eq!(points(0.8, 0.8), ("0.80".into(), "0.80".into()));
        let ends = Some((0.07, 0.11));
        let [.., told] = beside(Unit::Points, (0.8, 0.86), ends, Units::Metric);
        assert_eq!(told, "+0.07 to +0.11");
        let (mut seen, mut longer) = (0, 0);
        for unit in [
            Unit::Points,
            Unit::Share,
            Unit::Seconds,
            Unit::Metres,
            Unit::SquareMetres,
        ] {
            for units in [Units::Metric, Units::Imperial] {
                let (after, usual) = (shown(unit, units).after, plain(unit, 0.0, units).len());
                for k in 0..2000 {
                    // Steps that are no fractions of ten spread over all last digits.
                    let (a, b) = (0.000_37 * f64::from(k), 0.000_29 * f64::from(k * 7 % 1999));
                    let number = |text: &str| {
                        let text = text.strip_suffix(after).expect("its unit");
                        text.replace('−', "-").parse::<f64>().expect("a number")
                    };
                    let [was, is, told] = beside(unit, (a, b), None, units);
                    let decimals = |text: &str| {
                        text.chars()
                            .skip_while(|c| *c != '.')
                            .filter(char::is_ascii_digit)
                            .count()
                    };
                    let places = decimals(told.strip_suffix(after).expect("its unit"));
                    let told = number(&told);
                    let found = format!("{:+.places$}", number(&is) - number(&was));
                    let found: f64 = found.parse().expect("a number");
                    assert!((found - told).abs() < 1e-9, "{was} → {is}, {told}");
                    longer += usize::from(was.len() > usual.max(plain(unit, a, units).len()));
                    seen += 1;
                }
            }
        }
        println!("{longer} of {seen} pairs with more places");
        assert!(longer > 100 && longer < seen / 2, "{longer} of {seen}");
    }

    #[test]
    fn a_difference_shows_its_sign_unless_it_is_nought() {
        assert_eq!(signed(0.061, 2), "+0.06");
        assert_eq!(signed(-0.061, 2), "−0.06");
        assert_eq!(
            (signed(-0.001, 2), signed(0.0, 1)),
            ("0.00".into(), "0.0".into())
        );
    }
}
