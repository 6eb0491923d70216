//! What the practice does about each finding: the look or the drill that answers it, or why there is none.

use crate::offence::LookKind;
use crate::why::Summary;

use super::breakdown::Breakdown;
use super::drills::Chosen;
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
            by.extend(look.map(|n| format!("look {} instead", n + 1)));
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
        _ => shut_for_good(found, summary, i),
    }
}

/// What to do about a look that is mostly shut and has no drill.
fn shut_for_good(found: &Findings, summary: &Summary, i: usize) -> String {
    use LookKind::{Backdoor, Drive, DropOff, GiveAndGo, KickOut, NextPass, Post, Shot, Skip};
    let key = found.said[i].keys.first();
    let mut sites = summary.looks.iter().enumerate();
    let site = sites.find(|(n, _)| key.is_some_and(|k| *k == format!("looks/{n}/shut")));
    let Some(site) = site.map(|(_, look)| look.site) else {
        return "No drill of it.".to_string();
    };
    let from = site
        .from
        .map_or("there".to_string(), |at| format!("the {}", at.words()));
    let rather = match site.kind {
        Drive => format!("Do not drive from {from}: pass on within the count."),
        Shot => format!("Do not shoot from {from} with a defender near: pass on within the count."),
        Post => format!(
            "Feed the post from {from} only when nobody is between: else pass on within the count."
        ),
        GiveAndGo | Backdoor | DropOff => {
            format!(
                "Feed whoever cuts only when no defender is between: from {from} else pass on within the count."
            )
        }
        NextPass | Skip | KickOut => {
            "Do not throw that pass past a defender: pass on to somebody else within the count."
                .to_string()
        }
    };
    format!("{rather} No drill of it.")
}
