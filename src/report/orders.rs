//! The account of an offence's orders as text: every rule, player by player.

use super::clean;
use super::wrap::wrap;
use crate::possession::listed;
use crate::scrimmage::orders::{Account, Ended, RuleAccount, Watch};

/// The whole account.
pub fn page(account: &Account) -> String {
    let against: Vec<&str> = account.against.iter().map(String::as_str).collect();
    let head = format!(
        "{} possessions of “{}”, seeds 1 to {}, against {}. After each order: how often it was carried out, then \
         what cut the others short, with the seed and second of the first to watch (and the defence, if there are \
         several).",
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
    text
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
    for line in &rule.lines {
        if line.given == 0 && line.step == 0 && rule.fired == 0 {
            continue;
        }
        let then = if line.step > 0 { "then " } else { "" };
        if line.given == 0 && line.step > 0 {
            if rule.fired > 0 {
                let never = format!("then {} is to {}: never got that far", line.who, line.does);
                text += &wrap(&clean::line(&never), "  ", "    ");
            }
            continue;
        }
        let share = |of: u64| (100 * line.done).checked_div(of).unwrap_or(0);
        let mut said = format!(
            "{then}{} is to {}: carried out {} of {} ({} %)",
            line.who,
            line.does,
            line.done,
            line.given,
            share(line.given)
        );
        if line.had_time < line.given {
            said += &format!(
                "; of the {} that the play left time for, {} %",
                line.had_time,
                share(line.had_time)
            );
        }
        text += &wrap(&clean::line(&said), "  ", "    ");
        for ended in line.ends.iter().filter(|ended| !ended.end.is_done()) {
            text += &wrap(
                &clean::line(&cut_short(ended, several)),
                "      ",
                "        ",
            );
        }
    }
    text
}

fn cut_short(ended: &Ended, several: bool) -> String {
    let by = match &ended.by {
        Some(name) => format!(" (mostly by “{name}”)"),
        None => String::new(),
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
