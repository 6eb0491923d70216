//! What a trial has brought, in a coach's words: what is told, by how much, and what is not known yet.

use super::trial::Trial;
use super::words::trial as words;
use crate::contest::{Better, Standing};
use crate::scrimmage::Unit;

/// A figure that a trial is judged by.
pub struct Told {
    /// Its name in files.
    pub name: &'static str,
    /// What it is called where there is little room; empty: it is not in the table.
    pub short: &'static str,
    /// Its unit.
    pub unit: Unit,
    /// Which way it is better for the offence.
    better: Better,
    /// A smaller difference does not matter to a coach, however surely it is told (ours): the near end of its interval
    /// has to reach so far. That end only moves away from nought, so that no verdict is taken back.
    matters: f64,
    /// What there is more or less of in a sentence, with its number: before the number, after it, and after "more".
    parts: Parts,
}

struct Parts {
    before: &'static str,
    /// The number is told times this.
    times: f64,
    places: usize,
    unit: &'static str,
    more: &'static str,
    less: &'static str,
    after: &'static str,
    /// The whole of it without its number, where there is more of it, and where there is less.
    brief: (&'static str, &'static str),
}

/// All of them: fixed beforehand, as the error is shared out among them. The luck of the shot is in none.
pub const FIGURES: [Told; 8] = [
    Told {
        name: "promised_points",
        short: words::POINTS,
        unit: Unit::Points,
        better: Better::More,
        matters: 0.005,
        parts: Parts {
            before: "",
            times: 100.0,
            places: 1,
            unit: words::POINTS_2,
            more: words::MORE,
            less: words::FEWER,
            after: words::IN_A_HUNDRED_POSSESSIONS,
            brief: (words::MORE_POINTS, words::FEWER_POINTS),
        },
    },
    Told {
        name: "nothing_allowed",
        short: words::NOTHING_OPEN,
        unit: Unit::Share,
        better: Better::Fewer,
        matters: 0.005,
        parts: Parts {
            before: "",
            times: 100.0,
            places: 1,
            unit: words::SECONDS,
            more: words::MORE,
            less: words::FEWER,
            after: words::WITH_NOTHING_OPEN_OF,
            brief: (words::MORE_NOTHING_OPEN, words::LESS_NOTHING_OPEN),
        },
    },
    Told {
        name: "stall_time",
        short: words::STALLED,
        unit: Unit::Seconds,
        better: Better::Fewer,
        matters: 0.05,
        parts: Parts {
            before: words::THE_TEAM_STALLS,
            times: 1.0,
            places: 2,
            unit: words::S_WORD,
            more: words::MORE,
            less: words::LESS,
            after: words::A_POSSESSION,
            brief: (words::MORE_STALLED, words::LESS_STALLED),
        },
    },
    Told {
        name: "lane_open_time",
        short: "",
        unit: Unit::Seconds,
        better: Better::More,
        matters: 0.02,
        parts: Parts {
            before: words::THE_DRIVING_LANE_IS,
            times: 1.0,
            places: 2,
            unit: words::S_WORD,
            more: words::LONGER,
            less: words::SHORTER,
            after: words::A_POSSESSION,
            brief: (words::LANE_LONGER, words::LANE_SHORTER),
        },
    },
    Told {
        name: "turnovers",
        short: words::TURNOVERS,
        unit: Unit::Share,
        better: Better::Fewer,
        matters: 0.005,
        parts: Parts {
            before: "",
            times: 100.0,
            places: 1,
            unit: "",
            more: words::MORE,
            less: words::FEWER,
            after: words::POSSESSIONS_IN_A_HUNDRED,
            brief: (words::MORE_TURNOVERS, words::FEWER_TURNOVERS),
        },
    },
    Told {
        name: "open_look_value",
        short: "",
        unit: Unit::Points,
        better: Better::More,
        matters: 0.01,
        parts: Parts {
            before: words::AN_OPEN_LOOK_PROMISES,
            times: 100.0,
            places: 1,
            unit: words::POINTS_2,
            more: words::MORE,
            less: words::LESS,
            after: "",
            brief: (words::LOOKS_BETTER, words::LOOKS_WORSE),
        },
    },
    Told {
        name: "passes",
        short: "",
        unit: Unit::Count,
        better: Better::Neither,
        matters: 0.1,
        parts: Parts {
            before: "",
            times: 1.0,
            places: 1,
            unit: words::PASSES,
            more: words::MORE,
            less: words::FEWER,
            after: words::A_POSSESSION,
            brief: (words::MORE_PASSES, words::FEWER_PASSES),
        },
    },
    Told {
        name: "duration",
        short: "",
        unit: Unit::Seconds,
        better: Better::Neither,
        matters: 0.2,
        parts: Parts {
            before: words::A_POSSESSION_IS,
            times: 1.0,
            places: 1,
            unit: words::S_WORD,
            more: words::LONGER,
            less: words::SHORTER,
            after: "",
            brief: (words::LONGER_POSSESSIONS, words::SHORTER_POSSESSIONS),
        },
    },
];

/// What a difference that is told means.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Verdict {
    Better,
    Worse,
    Changed,
    Small,
}

impl Verdict {
    const ALL: [Verdict; 4] = [
        Verdict::Better,
        Verdict::Worse,
        Verdict::Changed,
        Verdict::Small,
    ];

    fn title(self) -> &'static str {
        match self {
            Verdict::Better => words::BETTER,
            Verdict::Worse => words::WORSE,
            Verdict::Changed => words::CHANGED,
            Verdict::Small => words::PERHAPS_TOO_SMALL_TO,
        }
    }

    /// One word, for the table.
    fn word(self) -> &'static str {
        match self {
            Verdict::Better => words::BETTER_WORD,
            Verdict::Worse => words::WORSE_WORD,
            Verdict::Changed => words::CHANGED_WORD,
            Verdict::Small => words::SMALL_WORD,
        }
    }

    fn good(self) -> Option<bool> {
        match self {
            Verdict::Better => Some(true),
            Verdict::Worse => Some(false),
            Verdict::Changed | Verdict::Small => None,
        }
    }
}

impl Told {
    /// What it means that there is more of it, or less.
    fn verdict(&self, known: &Standing, more: bool) -> Verdict {
        match self.good(more) {
            _ if known.low.abs().min(known.high.abs()) < self.matters => Verdict::Small,
            Some(true) => Verdict::Better,
            Some(false) => Verdict::Worse,
            None => Verdict::Changed,
        }
    }

    /// Is what is known good news? `None` while it is too close to call, where it is perhaps too small to matter, and
    /// where it says how the team plays, not how well.
    pub fn news(&self, known: &Standing) -> Option<bool> {
        self.verdict(known, known.more()?).good()
    }

    /// What is known, in a word for the table, and whether it is good news.
    pub fn means(&self, known: &Standing) -> (&'static str, Option<bool>) {
        let Some(more) = known.more() else {
            return (words::CLOSE, None);
        };
        let verdict = self.verdict(known, more);
        (verdict.word(), verdict.good())
    }

    /// Is more of it good for the offence, or less? `None` if it says how the team plays, not how well.
    fn good(&self, more: bool) -> Option<bool> {
        match self.better {
            Better::More => Some(more),
            Better::Fewer => Some(!more),
            Better::Neither => None,
        }
    }

    /// "2.9 seconds fewer (1.3 to 4.5) …": of a difference that is told.
    fn sentence(&self, known: &Standing, more: bool) -> String {
        let p = &self.parts;
        let number = |x: f64| format!("{:.*}", p.places, (x * p.times).abs());
        let (near, far) = if more {
            (known.low, known.high)
        } else {
            (known.high, known.low)
        };
        words::to(
            &p.before,
            &number(known.difference()),
            &p.unit,
            &(if more { p.more } else { p.less }),
            &p.after,
            &number(near),
            &number(far),
        )
    }
}

/// What is known so far, line by line, and whether it is good news. The first line is the verdict: what is better or
/// worse or, where that is too close to call, how large a difference there can be.
pub fn answer(trial: &Trial) -> Vec<(String, Option<bool>)> {
    let played = trial.played();
    if played == 0 {
        return Vec::new();
    }
    lines(&|name| trial.of(name).copied(), yet(trial), played)
}

fn yet(trial: &Trial) -> &'static str {
    if trial.whole() { "" } else { words::YET }
}

/// The same without numbers, where the table stands beside it: every verdict, and the points always.
pub fn brief(trial: &Trial) -> Vec<(String, Option<bool>)> {
    let played = trial.played();
    if played == 0 {
        return Vec::new();
    }
    let of = |name: &str| trial.of(name).copied();
    let without = |figure: &Told, _: &Standing, more: bool| {
        let (up, down) = figure.parts.brief;
        (if more { up } else { down }).to_owned()
    };
    let close = |_: &Standing| words::points_too_close(&yet(trial));
    // What is perhaps too small to matter the table says.
    let lines = told(&of, (&without, &close), yet(trial), played);
    let small = Verdict::Small.title();
    let large = lines
        .into_iter()
        .filter(|(text, _)| !text.starts_with(small));
    large.collect()
}

/// The lines, of what is known of each figure by its name.
fn lines(
    of: &dyn Fn(&str) -> Option<Standing>,
    yet: &str,
    played: u64,
) -> Vec<(String, Option<bool>)> {
    let with = |figure: &Told, known: &Standing, more| figure.sentence(known, more);
    told(of, (&with, &|known| points(known, yet)), yet, played)
}

/// How a figure that is told is said, and how the points are that are not.
type Said<'a> = (
    &'a dyn Fn(&Told, &Standing, bool) -> String,
    &'a dyn Fn(&Standing) -> String,
);

/// What is told of each figure, gathered by what it means.
fn told(
    of: &dyn Fn(&str) -> Option<Standing>,
    (say, close): Said,
    yet: &str,
    played: u64,
) -> Vec<(String, Option<bool>)> {
    let mut lines = Vec::new();
    let points = of("promised_points").filter(|known| known.more().is_none());
    let mut points = points.map(|known| close(&known));
    for verdict in Verdict::ALL {
        // Whether it helps is asked first: what only plays differently comes after the points.
        if verdict == Verdict::Changed && lines.is_empty() {
            lines.extend(points.take().map(|text| (text, None)));
        }
        let told: Vec<String> = FIGURES
            .iter()
            .filter_map(|figure| {
                let known = of(figure.name)?;
                let more = known.more()?;
                (figure.verdict(&known, more) == verdict).then(|| say(figure, &known, more))
            })
            .collect();
        if !told.is_empty() {
            let text = format!("{}: {}.", verdict.title(), told.join("; "));
            lines.push((text, verdict.good()));
        }
    }
    if lines.is_empty() {
        lines.push((words::too_close_to_call(&yet, &played), None));
    }
    lines.extend(points.map(|text| (text, None)));
    // A drive is no stall: the one can go up while the other goes down.
    let way = |name: &str| of(name).and_then(|known| known.more());
    let (nothing, stalled) = (way("nothing_allowed"), way("stall_time"));
    if nothing.is_some() && stalled.is_some() && nothing != stalled {
        lines.push((words::DRIVES_ARE_NO_STALLS.to_owned(), None));
    }
    lines
}

/// How many points it can be at most, while that is not told.
fn points(known: &Standing, yet: &str) -> String {
    // Rounded up: the difference is surely no larger than what is said.
    let most = (known.low.abs().max(known.high.abs()) * 100.0).ceil();
    words::points_too_close_to(&yet, &most)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::contest::{Better, yardsticks};

    #[test]
    fn every_figure_is_measured_in_its_unit_and_better_the_same_way_as_on_paper() {
        let all = yardsticks();
        for figure in &FIGURES {
            let y = all.iter().find(|y| y.name == figure.name);
            let y = y.expect("a figure that is measured");
            assert_eq!(y.unit, figure.unit, "{}", figure.name);
            if y.better != Better::Neither {
                assert_eq!(y.better, figure.better, "{}", figure.name);
            }
        }
    }

    /// More possessions tell smaller differences: a coach is not sent to mend one that nobody would notice.
    #[test]
    fn a_difference_that_is_told_but_does_not_matter_says_so() {
        let figure = FIGURES.iter().find(|f| f.name == "open_look_value");
        let figure = figure.expect("there");
        let by = |off: f64| Standing {
            a: 0.9,
            b: 0.9 + off,
            low: off - 0.003,
            high: off + 0.003,
            changed: 400,
            told_at: Some(400),
        };
        for (off, verdict) in [
            (-0.012, Verdict::Small),
            (-0.02, Verdict::Worse),
            (0.02, Verdict::Better),
        ] {
            assert_eq!(figure.verdict(&by(off), off > 0.0), verdict, "{off}");
        }
        assert_eq!(Verdict::Small.good(), None);
    }

    /// Too close to call is no empty answer: it says first how large the difference can be, then what is sure to change.
    #[test]
    fn a_trial_that_is_too_close_to_call_says_what_is_known() {
        let of = |name: &str| {
            let (low, high, told_at) = match name {
                "promised_points" => (-0.031, 0.0462, None),
                "passes" => (-0.6, -0.3, Some(400)),
                "duration" => (-0.9, -0.3, Some(400)),
                "lane_open_time" => (-0.03, -0.001, Some(400)),
                _ => (-0.02, 0.02, None),
            };
            Some(Standing {
                a: 1.0,
                b: 1.0 + 0.5 * (low + high),
                low,
                high,
                changed: 400,
                told_at,
            })
        };
        let said = lines(&of, "", 1600);
        let text = |k: usize| said[k].0.as_str();
        assert!(
            text(0).contains("no difference larger than 5 in a hundred"),
            "{said:?}"
        );
        assert!(text(1).starts_with("Sure to change: "), "{said:?}");
        assert!(text(1).contains("passes fewer a possession") && text(1).contains("s shorter"));
        assert!(
            text(2).starts_with("Perhaps too small to matter: "),
            "{said:?}"
        );
        // What touches nought when it is written has no colour of a sure difference.
        let lane = FIGURES.iter().find(|f| f.name == "lane_open_time");
        let lane = lane.expect("there");
        assert_eq!(lane.news(&of("lane_open_time").expect("known")), None);
        assert!(said.iter().all(|(_, good)| good.is_none()));
    }

    #[test]
    fn a_difference_is_told_with_its_interval_nearest_end_first() {
        let known = Standing {
            a: 0.32,
            b: 0.29,
            low: -0.045,
            high: -0.012,
            changed: 200,
            told_at: Some(400),
        };
        let figure = FIGURES.iter().find(|f| f.name == "nothing_allowed");
        let figure = figure.expect("there");
        assert_eq!(
            figure.sentence(&known, false),
            "3.0 seconds fewer with nothing open, of every hundred (1.2 to 4.5)"
        );
        assert_eq!(figure.good(false), Some(true));
    }
}
