//! The account of an offence's orders as text: every rule, player by player.

use super::clean;
use super::wrap::wrap;
use crate::possession::listed;
use crate::possession::orders::Way;
use crate::scrimmage::orders::{Account, CameTo, Ended, LineAccount, RuleAccount, Silenced, Watch};

/// The whole account.
pub fn page(account: &Account) -> String {
    let against: Vec<&str> = account.against.iter().map(String::as_str).collect();
    let head = format!(
        "{} possessions of “{}”, seeds 1 to {}, against {}. After each order: how often it was carried out, then \
         what cut the others short, with the seed and second of the first to watch (and the defence, if there are \
         several). Cut off by the play: the possession ended, or the ball came or went on, before the player could have \
         done it. Called away: another rule of the file, which is named, came before there was time; mend the two so that they fit.",
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
    let head = match rule.fired {
        0 => format!("never fired; waited for this: {}", rule.waits_for),
        n => format!("fired {}", times(n)),
    };
    let head = clean::line(&format!("“{}”: {head}", rule.name));
    let mut text = format!("\n{}", wrap(&head, "", "  "));
    for silent in &rule.silent {
        let said = clean::line(&of_silence(silent, rule.fired > 0, several));
        text += &wrap(&said, "  ", "    ");
    }
    if rule.fired == 0 {
        return text;
    }
    for line in &rule.lines {
        text += &wrap(&clean::line(&of_line(line)), "  ", "    ");
        if !line.ways.is_empty() {
            text += &wrap(&ways(&line.ways), "      ", "        ");
        }
        let short = line.ends.iter().filter(|ended| !ended.end.is_done());
        for ended in short {
            let said = clean::line(&cut_short(ended, several));
            text += &wrap(&said, "      ", "        ");
        }
    }
    text
}

/// How the user came off a screen, or what the holders made of those on the ball.
fn ways(ways: &[(Way, u64)]) -> String {
    let all = |is: &dyn Fn(Way) -> bool| {
        let told = ways.iter().filter(|(way, _)| is(*way));
        let told: Vec<String> = told.map(|(way, n)| format!("{} {n}", way.word())).collect();
        told.join(", ")
    };
    if !ways.iter().any(|(way, _)| way.is_on_the_ball()) {
        return format!("came off it: {}", all(&|_| true));
    }
    let count = |is: &dyn Fn(Way) -> bool| {
        let counted = ways.iter().filter(|(way, _)| is(*way));
        counted.map(|(_, n)| n).sum::<u64>()
    };
    let (used, away) = (Way::Driven, Way::Refused);
    let unused = match count(&Way::is_unused) {
        0 => "not used 0".to_owned(),
        n => format!("not used {n} (the holder: {})", all(&Way::is_unused)),
    };
    format!(
        "of those set: {} {}, {} {}, {unused}",
        used.word(),
        count(&|way| way == used),
        away.word(),
        count(&|way| way == away),
    )
}

/// Why a rule did not fire.
fn of_silence(silent: &Silenced, more: bool, several: bool) -> String {
    let count = times(silent.count) + if more { " more" } else { "" };
    let watch = watch(&silent.first, several);
    let why = match (&silent.not_so, &silent.moved_to) {
        (Some(not_so), _) => format!("its event came, and this was not so: {not_so}"),
        (None, to) => format!(
            "its event came but for the place: the player whose place it is had moved off it with the ball (mostly \
             to {})",
            to.as_deref().unwrap_or("another")
        ),
    };
    format!("{count} {why}: {watch}")
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
    let left = line.given - line.cut_off;
    let of_the_others = match (left, line.cut_off) {
        (0, _) => "; the play cut all of them off".to_owned(),
        (_, 0) => String::new(),
        (_, cut_off) => format!(
            "; without the {cut_off} that the play cut off: {} of {left} ({} %)",
            line.done,
            share(left)
        ),
    };
    let called_away = match (line.called_away, line.had_time) {
        (0, _) => String::new(),
        (n, 0) => format!("; another rule called all {n} away before there was time"),
        (n, had_time) => format!(
            "; another rule called {n} away before there was time: {} of the other {had_time} ({} %)",
            line.done,
            share(had_time)
        ),
    };
    said + &all + &of_the_others + &called_away
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
        1 => "once".to_owned(),
        _ => format!("{count} times"),
    }
}

/// What never works, a line each: what is a fault of the file, or what this one defence never did.
pub fn never(account: &Account, excused: bool) -> Option<String> {
    let told = account
        .never
        .iter()
        .filter(|never| never.excused == excused);
    let lines = told.map(|never| {
        let name = account.rules.get(never.rule).map_or("", |rule| &rule.name);
        let said = &never.said;
        clean::line(&match excused {
            true => format!(
                "note: the rule “{name}”: {said}; that is this defence's to do: try another"
            ),
            false => format!("error: the rule “{name}”: {said}"),
        })
    });
    let lines: Vec<String> = lines.collect();
    (!lines.is_empty()).then(|| lines.join("\n"))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn line(done: u64, cut_off: u64, called_away: u64, given: u64) -> String {
        of_line(&LineAccount {
            who: "the post".to_owned(),
            line: 0,
            step: 0,
            does: "fill the top".to_owned(),
            given,
            done,
            cut_off,
            called_away,
            had_time: given - cut_off - called_away,
            ends: Vec::new(),
            ways: Vec::new(),
        })
    }

    #[test]
    fn what_the_play_cut_off_and_what_another_rule_did_are_told_apart() {
        let starts = "the post is to fill the top: carried out ";
        for (counts, ends) in [
            ((26, 0, 0, 26), "26 of 26 (100 %)"),
            (
                (81, 60, 0, 219),
                "81 of 219 (36 %); without the 60 that the play cut off: 81 of 159 (50 %)",
            ),
            (
                (81, 60, 35, 219),
                "81 of 219 (36 %); without the 60 that the play cut off: 81 of 159 (50 %); another rule called 35 away \
                 before there was time: 81 of the other 124 (65 %)",
            ),
            (
                (0, 1, 2, 3),
                "0 of 3 (0 %); without the 1 that the play cut off: 0 of 2 (0 %); another rule called all 2 away before \
                 there was time",
            ),
            ((0, 3, 0, 3), "0 of 3 (0 %); the play cut all of them off"),
        ] {
            let (done, cut_off, called_away, given) = counts;
            assert_eq!(
                line(done, cut_off, called_away, given),
                format!("{starts}{ends}")
            );
        }
    }
}
