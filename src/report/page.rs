//! A scrimmage on one page of text that a coach can read: what it came to, what was open, who shut
//! it, and what the rules never take.

use crate::court::{ShotZone, Units};
use crate::defence::{Duty, Relation};
use crate::offence::LookKind;
use crate::scrimmage::codes::{FINISHES, TURNOVERS, look_code, zone_code};
use crate::scrimmage::{Figure, Results};

use super::numbers::{both, short, value};
use super::table::table;
use super::wrap::wrap;
use super::{Heading, numbers};

/// Closers named for each look.
const CLOSERS_NAMED: usize = 3;
/// A closer with a smaller share than this is not worth a word. Invented.
const WORTH_NAMING: f64 = 0.05;

/// The page.
pub fn page(heading: &Heading, results: &Results, units: Units) -> String {
    let page = Page {
        results,
        figures: results.figures(),
        units,
    };
    [
        page.head(heading),
        page.in_short(),
        page.what_was_open(),
        page.who_shut_it(),
        page.never_taken(),
        page.shots(),
    ]
    .join("\n")
}

struct Page<'a> {
    results: &'a Results,
    figures: Vec<Figure>,
    units: Units,
}

impl Page<'_> {
    fn figure(&self, name: &str) -> Option<&Figure> {
        self.figures.iter().find(|f| f.name == name)
    }

    fn said(&self, name: &str, how: fn(&Figure, Units) -> String) -> String {
        self.figure(name)
            .map_or(numbers::NONE.to_string(), |f| how(f, self.units))
    }

    fn number(&self, name: &str) -> f64 {
        self.figure(name).and_then(|f| f.value).unwrap_or(0.0)
    }

    fn head(&self, heading: &Heading) -> String {
        let r = self.results;
        let mut text = heading.top() + "\n";
        text += &wrap(&heading.played(r.possessions, r.first_seed), "", "");
        text += "In brackets and after ±: the 95 % interval.\n";
        if r.interrupted {
            text += "INTERRUPTED: these are the possessions played by then, and not all.\n";
        }
        if let Some(until) = &r.until {
            let sentence = self
                .figure(&until.measure)
                .map_or("", |f| f.sentence.as_str());
            let half = until
                .half_width
                .map_or("unknown".into(), |h| format!("± {h:.3}"));
            let said = if until.narrow_enough {
                format!(
                    "Played until {sentence} was known to ± {}: {half}.",
                    until.asked
                )
            } else {
                format!(
                    "Not yet as narrow as asked (± {}): {sentence} {half}.",
                    until.asked
                )
            };
            text += &wrap(&said, "", "");
        }
        text
    }

    fn in_short(&self) -> String {
        let mut rows: Vec<Vec<String>> = Vec::new();
        let mut row = |words: &str, name: &str| {
            let f = self.said(name, both);
            rows.push(vec![format!("{words:<34}{f}")]);
        };
        row("Points per possession", "points");
        row("Points per shot", "points_per_shot");
        row("Lost without a shot", "turnovers");
        row("Length of a possession", "duration");
        row("Passes in a possession", "passes");
        row("From one pass to the next", "pass_gap");
        row("Driving lane open, per possession", "lane_open_time");
        row("… of the time the ball is held", "lane_open");
        row("Next pass open, of the same time", "next_pass_held");
        row("Stalls (nothing open for 0.8 s)", "stalls");
        row("Typical length of a stall", "stall_median");
        row("Time stalled in a possession", "stall_time");
        row("Nothing open that the rules take", "nothing_allowed");
        row("Room to the nearest team-mate", "nearest");
        row("One defender can guard two", "one_guards_two");
        row("Nobody between ball and rim", "lane_free");
        let mut lost: Vec<_> = TURNOVERS
            .iter()
            .map(|(_, name, words)| (format!("turnovers_{name}"), *words))
            .filter(|(name, _)| self.number(name) > 0.0)
            .collect();
        lost.sort_by(|a, b| self.number(&b.0).total_cmp(&self.number(&a.0)));
        let lost: Vec<_> = lost
            .iter()
            .map(|(name, words)| format!("{words} {}", self.said(name, short)))
            .collect();
        let mut text = format!("IN SHORT\n{}", table(&[""], &rows));
        if !lost.is_empty() {
            text += &wrapped(&format!("How the ball was lost: {}.", lost.join(", ")));
        }
        text
    }

    /// A row for each look that was ever open.
    fn opened(&self) -> Vec<Vec<String>> {
        let mut rows = Vec::new();
        for kind in LookKind::ALL {
            let code = look_code(kind);
            let cell = |what: &str| self.said(&format!("{code}_{what}"), short);
            if self.number(&format!("{code}_windows")) == 0.0 {
                continue;
            }
            let share = |what: &str| cell(what).trim_end_matches(" %").to_string();
            rows.push(vec![
                kind.word().to_string(),
                share("open"),
                cell("windows"),
                self.said(&format!("{code}_median"), value),
                share("taken"),
                cell("value"),
            ]);
        }
        rows
    }

    fn what_was_open(&self) -> String {
        let heads = [
            "",
            "open, %",
            "windows",
            "median",
            "taken, %",
            "points in it",
        ];
        let rows = table(&heads, &self.opened());
        let mut text = format!(
            "WHAT WAS OPEN (share of time; windows in a possession; their median length)\n{rows}"
        );
        let never: Vec<_> = LookKind::ALL
            .into_iter()
            .filter(|k| self.number(&format!("{}_windows", look_code(*k))) == 0.0)
            .map(LookKind::word)
            .collect();
        if !never.is_empty() {
            text += &wrapped(&format!("Never open: {}.", never.join(", ")));
        }
        let lanes: Vec<_> = [LookKind::NextPass, LookKind::Skip, LookKind::Post]
            .into_iter()
            .filter_map(|k| {
                let f = self.figure(&format!("{}_openness", look_code(k)))?;
                f.value?;
                Some(format!("{} {}", k.word(), short(f, self.units)))
            })
            .collect();
        if !lanes.is_empty() {
            text += &wrapped(&format!(
                "Chance that the ball would get there, over all the time, open or not: {}.",
                lanes.join(", ")
            ));
        }
        if self.number("backdoor_cut_there") + self.number("backdoor_cut_taken") == 0.0 {
            return text + "  A backdoor cut was never there, and none was tried.\n";
        }
        text += &wrapped(&format!(
            "A backdoor cut was there {} times in a possession, taken {}, fed {}, finished {}.",
            self.said("backdoor_cut_there", short),
            self.said("backdoor_cut_taken", short),
            self.said("backdoor_cut_fed", short),
            self.said("backdoor_cut_finished", short),
        ));
        text
    }

    fn who_shut_it(&self) -> String {
        let mut rows = Vec::new();
        for kind in LookKind::ALL {
            let named = self.results.shutters(kind);
            for (i, s) in named.iter().take(CLOSERS_NAMED).enumerate() {
                if i > 0 && s.share < WORTH_NAMING {
                    break;
                }
                let head = if i == 0 { kind.word() } else { "" };
                let share = short(&s.figure(), self.units);
                let who = closer_words(s.relation, s.duty);
                rows.push(vec![format!("{head:<17}{share:>14}  {who}")]);
            }
        }
        if rows.is_empty() {
            return "WHO SHUT IT\n  Nobody: no look was shut by a defender.\n".to_string();
        }
        format!(
            "WHO SHUT IT (of all the time that the look was shut)\n{}",
            table(&[""], &rows)
        )
    }

    fn never_taken(&self) -> String {
        let mut text = String::from("WHAT THE RULES NEVER TAKE\n");
        let mut any = false;
        for kind in LookKind::ALL {
            let name = format!("{}_unused", look_code(kind));
            if self.number(&name) == 0.0 {
                continue;
            }
            any = true;
            let all = self.number(&name) >= self.number(&format!("{}_windows", look_code(kind)));
            let why = if all {
                "and no rule takes it"
            } else {
                "where no rule takes it"
            };
            text += &wrapped(&format!(
                "The {} was open {} times in a possession {why}.",
                kind.word(),
                self.said(&name, both),
            ));
        }
        if any {
            text += &wrapped(&format!(
                "At most {} points in a possession were left there: what the best of these looks \
                 promised above the best that the rules allowed at that instant.",
                self.said("unused_points", both)
            ));
        } else {
            text += "  Nothing: whatever was open, the rules may take.\n";
        }
        text
    }

    fn shots(&self) -> String {
        let zones: Vec<Vec<String>> = ShotZone::ALL
            .into_iter()
            .filter(|z| self.number(&format!("shots_{}", zone_code(*z))) > 0.0)
            .map(|z| {
                let code = zone_code(z);
                vec![
                    z.word().to_string(),
                    self.said(&format!("shots_{code}"), short),
                    self.said(&format!("makes_{code}"), short),
                ]
            })
            .collect();
        let finishes: Vec<Vec<String>> = FINISHES
            .into_iter()
            .filter(|(_, code, _)| self.number(&format!("finishes_{code}")) > 0.0)
            .map(|(_, code, words)| {
                let n = self.figure(&format!("points_{code}")).map_or(0, |f| f.n);
                vec![
                    words.to_string(),
                    n.to_string(),
                    self.said(&format!("finishes_{code}"), short),
                    self.said(&format!("points_{code}"), short),
                ]
            })
            .collect();
        if zones.is_empty() {
            return "SHOTS\n  None was taken.\n".to_string();
        }
        format!(
            "SHOTS\n{}\n{}",
            table(&["from", "of all shots", "made"], &zones),
            table(
                &["how it came", "shots", "of possessions", "points per shot"],
                &finishes
            )
        )
    }
}

/// Who shuts a look, as a coach would point him out.
pub fn closer_words(relation: Relation, duty: Duty) -> String {
    let who = match relation {
        Relation::OnBall => "the defender on the ball",
        Relation::OnePass => "a defender one pass away",
        Relation::TwoPasses => "a defender two passes away",
        Relation::PostBallSide => "the post's defender, ball side",
        Relation::PostWeakSide => "the post's defender, weak side",
        Relation::Cutter => "the cutter's defender",
    };
    let said = matches!(
        (relation, duty),
        (Relation::OnBall, Duty::OnBall)
            | (Relation::Cutter, Duty::Trailing)
            | (Relation::PostBallSide | Relation::PostWeakSide, Duty::Post)
    );
    if said {
        who.to_string()
    } else {
        format!("{who}, {}", duty.word())
    }
}

/// A paragraph, indented.
fn wrapped(text: &str) -> String {
    wrap(text, "  ", "  ")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_closer_is_pointed_out_without_saying_it_twice() {
        assert_eq!(
            closer_words(Relation::OnBall, Duty::OnBall),
            "the defender on the ball"
        );
        assert_eq!(
            closer_words(Relation::OnePass, Duty::Denying),
            "a defender one pass away, denying"
        );
    }
}
