//! What the practice does about each finding: the look or the drill that answers it, or why there is none.

use crate::why::Summary;

use super::breakdown::Breakdown;
use super::drills::{Chosen, is_worth_a_drill};
use super::findings::Findings;

/// Ends every finding with its answer. `walked`: the rule after which it stalls, if one had fired.
pub(super) fn answer(
    found: &mut Findings,
    summary: &Summary,
    chosen: &[Chosen],
    breakdowns: &[Breakdown],
    walked: Option<usize>,
) {
    for i in 0..found.said.len() {
        let mut by: Vec<String> = Vec::new();
        let looks = found.answered.iter().enumerate();
        by.extend(
            looks
                .filter(|(_, at)| **at == Some(i))
                .map(|(n, _)| format!("look {}", n + 1)),
        );
        let drills = breakdowns.iter().filter(|b| b.answers == Some(i));
        by.extend(drills.map(|b| format!("the drill of card {}", b.rule + 1)));
        if let Some((_, kind)) = found.shut.filter(|(at, _)| *at == i) {
            let leaves = |c: &&Chosen| {
                let left = summary.left.iter().enumerate();
                let mut left = left.filter(|(n, _)| c.key == format!("left/{n}/light"));
                left.any(|(_, l)| l.shuts == kind)
            };
            let look = chosen.iter().position(|c| leaves(&c));
            found.meanwhile = found.meanwhile.or(look.map(|n| (n, i)));
            by.extend(look.map(|n| format!("look {}, which is open while that is shut", n + 1)));
        }
        by.extend((found.late == Some(i)).then(|| "the shell drill".to_string()));
        let said = match by.as_slice() {
            [] => no_drill(found, summary, (i, walked), chosen.len()),
            by => format!("Answer: {}.", by.join(" and ")),
        };
        found.said[i].text += &format!(" {said}");
    }
}

/// Why there is none.
fn no_drill(
    found: &Findings,
    summary: &Summary,
    (i, walked): (usize, Option<usize>),
    looks: usize,
) -> String {
    if let Some((_, best)) = found.untaken.filter(|(at, _)| *at == i) {
        let (looks, more) = match looks {
            1 => ("one look".to_string(), ", which is worth more"),
            n => (format!("{n} looks"), ", which are worth more"),
        };
        let more = if best { more } else { "" };
        return format!("No drill: there is time for {looks}{more}.");
    }
    match walked {
        Some(rule) if found.stall == Some(i) => format!(
            "No drill of its own: walk card {} slowly, and say what is open.",
            rule + 1
        ),
        None if found.stall == Some(i) => {
            "No drill: there is no card for that moment yet.".to_string()
        }
        _ => match meanwhile(found, summary, i) {
            true => "No drill: there is no time for what is open while that is shut.",
            false => "No drill: nothing worth one was found open while that is shut.",
        }
        .to_string(),
    }
}

/// Was something worth a drill open while that was shut, for which there is no time?
fn meanwhile(found: &Findings, summary: &Summary, i: usize) -> bool {
    let Some((_, kind)) = found.shut.filter(|(at, _)| *at == i) else {
        return false;
    };
    let mut left = summary.left.iter().filter(|l| l.shuts == kind);
    left.any(|l| is_worth_a_drill(&l.light))
}
