//! What the last change has brought: what was on the desk before and what is there now, played from the same seeds, a
//! few possessions at first; and how often the orders of each rule are carried out. Both go on while the page of the
//! offence is out, behind whatever else is done.

use bevy_egui::egui::{RichText, Ui};

use super::changes;
use super::desk::Desk;
use super::jobs::{self, Job};
use super::palette::*;
use super::trial::{self, Trial};
use super::trial_words::answer;
use super::variation::{Edit, Variation};
use crate::report::clean;
use crate::scrimmage::orders::{Account, Ended, RuleAccount};

/// Possessions of each side after which what a change brings is looked at.
const LOOKS: [u64; 4] = [50, 100, 200, 400];
/// Possessions in which the orders are counted.
const COUNTED: u64 = 100;
/// A change settles for so long before anything is played, seconds.
const SETTLES: f32 = 0.5;

/// What the last change has brought, and what becomes of the orders.
#[derive(Default)]
pub struct Effects {
    last: Option<(String, Trial)>,
    wait: f32,
    account: Option<(Edit, Account)>,
    counting: Option<(Edit, Job<Account>)>,
}

impl Effects {
    /// Something was changed: what was there before is played against what is there now.
    pub fn changed(&mut self, variation: &Variation) {
        let now = variation.now();
        self.last = variation.before().map(|before| {
            let said = changes::said(before, now);
            (said.clone(), Trial::between(&said, before, now, &LOOKS))
        });
        self.settle();
    }

    /// A change was taken back, or something else was opened: there is nothing to compare.
    pub fn forget(&mut self) {
        self.last = None;
        self.settle();
    }

    fn settle(&mut self) {
        self.wait = SETTLES;
        self.counting = None;
    }

    /// Is anything being played for it?
    pub fn busy(&self) -> bool {
        self.counting.is_some() || self.last.as_ref().is_some_and(|(_, trial)| trial.busy())
    }

    /// The account of a rule, if it is that of what is on the desk.
    pub fn of_rule(&self, now: &Edit, name: &str) -> Option<(u64, &RuleAccount)> {
        let (of, account) = self.account.as_ref()?;
        let same = of.offence == now.offence && of.off == now.off && of.defence == now.defence;
        let rule = account.rules.iter().find(|rule| rule.name == name)?;
        same.then_some((account.possessions, rule))
    }

    /// The comparison of the last change.
    pub fn trial(&self) -> Option<&Trial> {
        self.last.as_ref().map(|(_, trial)| trial)
    }

    /// Takes in what has been played, and begins what is to be played next; `seconds` have gone by.
    pub fn pass(&mut self, seconds: f32, shown: bool, now: &Edit) {
        if let Some((of, job)) = &mut self.counting {
            match job.take() {
                Some(account) => self.account = Some((of.clone(), account)),
                None if !job.is_over() => return,
                None => {}
            }
            self.counting = None;
        }
        if let Some((_, trial)) = &mut self.last {
            trial.take();
        }
        self.wait -= seconds;
        if !shown || self.wait > 0.0 || self.busy() {
            return;
        }
        let counted = self.account.as_ref().is_some_and(|(of, _)| of == now);
        // A first look, then the orders, then the rest.
        if let Some((_, trial)) = self.last.as_mut().filter(|(_, trial)| trial.played() == 0) {
            trial.go_on();
        } else if !counted && let Some(scenario) = now.scenario() {
            self.counting = Some((now.clone(), jobs::orders(scenario, COUNTED)));
        } else if let Some((_, trial)) = &mut self.last {
            trial.go_on();
        }
    }
}

/// Height of what is shown of the last change, lines of text.
pub const LINES: f32 = 8.6;

/// Shows what the last change has brought.
pub fn show(ui: &mut Ui, desk: &Desk) {
    let Some((said, trial)) = &desk.effects.last else {
        let text =
            "Change a rule: here you see what it brings, before and after, from the same seeds.";
        ui.label(RichText::new(text).color(QUIET));
        return;
    };
    ui.label(RichText::new(format!("Last change: {said}")).color(BALL));
    if trial.played() == 0 {
        ui.label(RichText::new("playing both …").color(QUIET));
        return;
    }
    for (text, good) in answer(trial).into_iter().take(1) {
        let colour = match good {
            Some(true) => BALL,
            Some(false) => WARN,
            None => TEXT,
        };
        ui.label(RichText::new(text).color(colour).small());
    }
    trial::table(ui, trial, desk);
}

/// Shows what became of a rule's orders, with the first that was cut short to watch. Returns a seed and a time, seconds.
pub fn account(ui: &mut Ui, desk: &Desk, name: &str) -> Option<(u64, f64)> {
    let (possessions, rule) = desk.effects.of_rule(desk.edit(), name)?;
    let mut wanted = None;
    let fired = match rule.fired {
        0 => format!("It never came in {possessions} possessions."),
        1 => format!("It came once in {possessions} possessions."),
        n => format!("It came {n} times in {possessions} possessions."),
    };
    ui.label(RichText::new(fired).color(TEXT).small());
    for line in rule.lines.iter().filter(|line| line.given > 0) {
        let then = if line.step > 0 { "then " } else { "" };
        let text = format!(
            "{then}{}: carried out {} of {}",
            line.who, line.done, line.given
        );
        let good = line.done * 10 >= line.had_time * 9;
        let colour = if good { QUIET } else { WARN };
        ui.label(RichText::new(clean::line(&text)).color(colour).small());
        let short = line.ends.iter().filter(|ended| !ended.end.is_done());
        for ended in short.take(2) {
            if ui
                .link(RichText::new(cut_short(ended)).color(QUIET).small())
                .clicked()
            {
                wanted = Some((ended.first.seed, ended.first.time));
            }
        }
    }
    wanted
}

/// "2 × another order (“Backdoor”) → show"
fn cut_short(ended: &Ended) -> String {
    let by = match &ended.by {
        Some(name) => format!(" (“{}”)", clean::line(name)),
        None => String::new(),
    };
    format!("   {} × {}{by}  → show", ended.count, ended.end.word())
}
