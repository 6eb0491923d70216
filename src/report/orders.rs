//! The account of an offence's orders as text: every rule, player by player.

use super::clean;
use super::wrap::wrap;
use crate::possession::listed;
use crate::scrimmage::orders::{Account, CameTo, Ended, LineAccount, RuleAccount, Watch};

/// The whole account.
pub fn page(account: &Account) -> String {
    let against: Vec<&str> = account.against.iter().map(String::as_str).collect();
    let head = format!(
        "{} possessions of “{}”, seeds 1 to {}, against {}. After each order: how often it was carried out, then \
         what cut the others short, with the seed and second of the first to watch (and the defence, if there are \
         several). Cut off too soon: the possession ended, the ball came, or a drive or another order came, before the \
         player could have done it.",
        account.possessions,
        account.offence,
        account.possessions,
        in_turn(&against)
    );
    let mut text = wrap(&clean::line(&head), "", "");
    let several = account.against.len() > 1;
    for rule in &account.rules {
        text += &of_rule(rule, several);
    }
    text + "\n" + &wrap(&came_to(&account.came_to), "", "")
}

/// "All in all: 0.83 points a possession (95 % interval 0.71 to 0.95); 160 shots, 40 lost ...".
fn came_to(all: &CameTo) -> String {
    let points = all.points.as_ref();
    let value = points.and_then(|p| Some((p.value?, p.low?, p.high?)));
    let points = value.map_or(String::new(), |(value, low, high)| {
        format!("{value:.2} points a possession (95 % interval {low:.2} to {high:.2}); ")
    });
    format!(
        "All in all: {points}{} shots and {} balls lost without one, of these {} by the shot clock and {} by three \
         seconds in the lane. `scrimmage` tells more.",
        all.shots, all.lost, all.shot_clock, all.three_seconds
    )
}

/// "sag, denial and help line in turn".
fn in_turn(names: &[&str]) -> String {
    let quoted: Vec<String> = names.iter().map(|name| format!("“{name}”")).collect();
    let in_turn = if names.len() > 1 { " in turn" } else { "" };
    listed(&quoted) + in_turn
}

fn of_rule(rule: &RuleAccount, several: bool) -> String {
    let head = format!("“{}”: fired {}", clean::line(&rule.name), times(rule.fired));
    let mut text = format!("\n{}", wrap(&head, "", "  "));
    if rule.fired == 0 {
        return text;
    }
    for line in &rule.lines {
        text += &wrap(&clean::line(&of_line(line)), "  ", "    ");
        if !line.ways.is_empty() {
            let ways = line.ways.iter();
            let ways: Vec<String> = ways.map(|(way, n)| format!("{} {n}", way.word())).collect();
            text += &wrap(
                &format!("came off it: {}", ways.join(", ")),
                "      ",
                "        ",
            );
        }
        let short = line.ends.iter().filter(|ended| !ended.end.is_done());
        for ended in short {
            let said = clean::line(&cut_short(ended, several));
            text += &wrap(&said, "      ", "        ");
        }
    }
    text
}

/// How often a line was carried out.
fn of_line(line: &LineAccount) -> String {
    let then = if line.step > 0 { "then " } else { "" };
    let said = format!("{then}{} is to {}: ", line.who, line.does);
    if line.given == 0 {
        let never = match line.step {
            0 => "never ordered",
            _ => "never got that far",
        };
        return said + never;
    }
    let share = |of: u64| (100 * line.done).checked_div(of).unwrap_or(0);
    let all = format!(
        "carried out {} of {} ({} %)",
        line.done,
        line.given,
        share(line.given)
    );
    let of_the_others = match line.had_time {
        0 => "; the play cut all of them off too soon".to_owned(),
        had_time if had_time < line.given => format!(
            "; without the {} that the play cut off too soon: {} of {had_time} ({} %)",
            line.given - had_time,
            line.done,
            share(had_time)
        ),
        _ => String::new(),
    };
    said + &all + &of_the_others
}

fn cut_short(ended: &Ended, several: bool) -> String {
    let by = match &ended.by {
        Some(name) => format!(" (mostly by “{name}”)"),
        None => String::new(),
    };
    let by = match &ended.nobody {
        Some(nobody) => format!(" ({nobody})"),
        None => by,
    };
    let by = match &ended.shut {
        Some(duty) => format!(" (its defender mostly {duty})"),
        None => by,
    };
    format!(
        "{} × {}{by}: {}",
        ended.count,
        ended.end.word(),
        watch(&ended.first, several)
    )
}

fn watch(first: &Watch, several: bool) -> String {
    let against = if several {
        format!(" against “{}”", first.against)
    } else {
        String::new()
    };
    format!("seed {}, {:.1} s{against}", first.seed, first.time)
}

fn times(count: u64) -> String {
    match count {
        0 => "never".to_owned(),
        1 => "once".to_owned(),
        _ => format!("{count} times"),
    }
}

/// What never works, a line each.
pub fn never(account: &Account) -> String {
    let lines = account.never.iter().map(|never| {
        let name = account.rules.get(never.rule).map_or("", |rule| &rule.name);
        clean::line(&format!("error: the rule “{name}”: {}", never.said))
    });
    lines.collect::<Vec<_>>().join("\n")
}

#[cfg(test)]
mod tests {
    use super::*;

    fn line(done: u64, had_time: u64, given: u64) -> String {
        of_line(&LineAccount {
            who: "the post".to_owned(),
            line: 0,
            step: 0,
            does: "fill the top".to_owned(),
            given,
            done,
            had_time,
            ends: Vec::new(),
            ways: Vec::new(),
        })
    }

    #[test]
    fn both_counts_of_an_order_are_told_with_what_is_left_out_of_the_second() {
        let starts = "the post is to fill the top: carried out ";
        for (counts, ends) in [
            ((26, 26, 26), "26 of 26 (100 %)"),
            (
                (81, 124, 219),
                "81 of 219 (36 %); without the 95 that the play cut off too soon: 81 of 124 (65 %)",
            ),
            (
                (0, 0, 3),
                "0 of 3 (0 %); the play cut all of them off too soon",
            ),
        ] {
            let (done, had_time, given) = counts;
            assert_eq!(line(done, had_time, given), format!("{starts}{ends}"));
        }
    }
}
