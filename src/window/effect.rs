//! What the last change has brought: what was on the desk before and what is there now, played from the same seeds, a
//! few possessions at first; and how often the orders of each rule are carried out. Both go on while the page of the
//! offence is out, behind whatever else is done.

use bevy_egui::egui::style::ScrollAnimation;
use bevy_egui::egui::{
    Align, Id, Layout, RichText, ScrollArea, TextStyle, TextWrapMode, Ui, Vec2, vec2,
};

use super::changes;
use super::desk::Desk;
use super::jobs::{self, Job};
use super::palette::*;
use super::rule_builder::Builder;
use super::trial::Trial;
use super::trial_table;
use super::variation::{Edit, Variation};
use super::verdict;
use super::words::offence as words;
use crate::report::clean;
use crate::scrimmage::orders::{Account, Ended, LineAccount, RuleAccount};

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
    /// What earlier changes have brought, the latest last.
    known: Vec<(String, Trial)>,
    wait: f32,
    account: Option<(Edit, Account)>,
    counting: Option<(Edit, Job<Account>)>,
    /// The rule of which it was asked why its orders were not carried out, as it was counted then, and in how many
    /// possessions: what is counted anew moves nothing.
    asked: Option<(u64, RuleAccount)>,
    /// It has just been asked: the answer is to come into sight.
    seek: bool,
}

/// So many earlier comparisons are kept.
const KEPT: usize = 8;

impl Effects {
    /// Something was changed: what was there before is played against what is there now. While one rule is being written,
    /// before is before its first word was: what is asked is what the rule brings, not what its last word does.
    pub fn changed(&mut self, variation: &Variation, builder: &mut Builder) {
        let now = variation.now();
        let without = |edit: &Edit, open: usize| {
            let mut rest = edit.clone();
            if open < rest.offence.rules.len() {
                rest.offence.rules.remove(open);
            }
            rest
        };
        let only_that = |open: usize, before: &Edit| {
            let rest = without(now, open);
            rest == *before || rest == without(before, open)
        };
        let written = builder
            .open
            .filter(|open| variation.before().is_some_and(|b| only_that(*open, b)));
        let first = written.and(builder.before.take());
        let base = first.or_else(|| variation.before().cloned());
        builder.before = written.and(base.clone());
        // Back at what was there already, it is asked again what led to it, not what the way back is.
        let all = self.known.iter().chain(&self.last);
        let was_there = all.map(|(_, trial)| trial.changed()).any(|to| to == now);
        match base.filter(|base| base != now && !was_there) {
            Some(base) => self.compare(&base, now),
            None => self.recall(variation),
        }
        self.settle();
    }

    /// A change was taken back: what is on the desk now may be known from before.
    pub fn taken_back(&mut self, variation: &Variation) {
        self.recall(variation);
        self.settle();
    }

    fn put_aside(&mut self) {
        self.known.extend(self.last.take());
        let more = self.known.len().saturating_sub(KEPT);
        self.known.drain(..more);
    }

    /// What was there before, against what is there now: as far as it is known already.
    fn compare(&mut self, base: &Edit, now: &Edit) {
        self.put_aside();
        let is = |(_, trial): &(String, Trial)| trial.base() == base && trial.changed() == now;
        self.last = match self.known.iter().rposition(is) {
            Some(known) => Some(self.known.remove(known)),
            None => {
                let said = changes::said(base, now);
                Some((said.clone(), Trial::between(&said, base, now, &LOOKS)))
            }
        };
    }

    /// What the last change brought that led to what is on the desk; if none is known, what all of them bring that are not
    /// saved.
    fn recall(&mut self, variation: &Variation) {
        self.put_aside();
        let (now, saved) = (variation.now(), variation.saved());
        let leads = |(_, trial): &(String, Trial)| trial.changed() == now;
        if let Some(known) = self.known.iter().rposition(leads) {
            self.last = Some(self.known.remove(known));
        } else if !now.plays_as(saved) {
            self.compare(saved, now);
        }
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
    pub fn pass(&mut self, seconds: f32, shown: bool, variation: &Variation) {
        let now = variation.now();
        // Whoever comes back to a change that is not saved sees what it brings.
        if shown && self.last.is_none() && !now.plays_as(variation.saved()) {
            self.recall(variation);
        }
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

/// Where egui keeps how high it was when it was last shown.
const HIGH: &str = "effect_height";

/// How high what stays in sight of the last change is, points of the screen: as high as it was when last laid out; two
/// lines at least.
pub fn height(ui: &Ui) -> f32 {
    let known: Option<f32> = ui.data(|data| data.get_temp(Id::new(HIGH)));
    known
        .unwrap_or_default()
        .max(2.6 * ui.text_style_height(&TextStyle::Small))
}

/// Shows it where there is so much room: if it is higher, the rest is scrolled to.
pub fn below(ui: &mut Ui, desk: &Desk) {
    let shown = ScrollArea::vertical()
        .id_salt("effect")
        .show(ui, |ui| show(ui, desk));
    let high = shown.inner;
    if (high - height(ui)).abs() > 0.5 {
        ui.data_mut(|data| data.insert_temp(Id::new(HIGH), high));
        ui.ctx().request_repaint();
    }
}

/// Rows of the first thing that is known of a change which there is room for before it is known.
const ROWS: usize = 4;

/// The last change and the first thing that is known of it: where a rule is being written in a low window. There is room
/// for so many rows of it, whatever is known, so that no answer moves what is being written.
pub fn brief(ui: &mut Ui, desk: &Desk) {
    let Some((said, trial)) = &desk.effects.last else {
        return;
    };
    let last = RichText::new(words::last_change(said)).color(BALL).small();
    ui.label(last);
    in_rows(ui, trial);
}

/// What is known in brief, in its rows; with all figures where the pointer is on it.
fn in_rows(ui: &mut Ui, trial: &Trial) {
    let style = TextStyle::Small;
    let room = vec2(ui.available_width(), verdict::high(ui, &style, ROWS));
    let shown = ui.allocate_ui(room, |ui| {
        ui.set_min_size(room);
        ui.label(verdict::in_brief(ui, trial, &style))
    });
    shown.inner.on_hover_ui(|ui| {
        ui.label(verdict::rows(ui, trial, &style));
    });
}

/// Shows what the last change has brought. Returns how high what stays in sight is, points of the screen: the change, its
/// table and the first rows of what is known, as high before anything is known as after.
pub fn show(ui: &mut Ui, desk: &Desk) -> f32 {
    let top = ui.min_rect().top();
    let high = |ui: &Ui| ui.min_rect().bottom() - top;
    let Some((said, trial)) = &desk.effects.last else {
        let text = words::CHANGE_A_RULE_HERE;
        ui.label(RichText::new(text).color(QUIET));
        return high(ui);
    };
    ui.label(RichText::new(words::last_change(&said)).color(BALL));
    trial_table::show(ui, trial, desk);
    in_rows(ui, trial);
    high(ui)
}

/// Room for the row of an account.
fn account_room(ui: &Ui) -> Vec2 {
    let high = ui.text_style_height(&TextStyle::Small) + 4.0;
    vec2(ui.available_width(), high)
}

/// In place of the account of a rule that is off.
pub fn no_account(ui: &mut Ui) {
    ui.allocate_space(account_room(ui));
}

/// Shows what became of a rule's orders: one row, which is there before anything is counted. Pressed, it says of each
/// order why it was not carried out, with the first of each kind to watch. Returns a seed and a time, seconds.
pub fn account(ui: &mut Ui, desk: &mut Desk, name: &str) -> Option<(u64, f64)> {
    let known = desk.effects.of_rule(desk.edit(), name);
    let known = known.map(|(possessions, rule)| (possessions, rule.clone()));
    let asked = desk.effects.asked.clone();
    let asked = asked.filter(|(_, rule)| rule.name == name);
    let room = account_room(ui);
    let row = ui.allocate_ui_with_layout(room, Layout::left_to_right(Align::Center), |ui| {
        ui.set_min_size(room);
        ui.style_mut().wrap_mode = Some(TextWrapMode::Truncate);
        let Some((possessions, rule)) = &known else {
            ui.label(RichText::new(words::COUNTING).color(QUIET).small());
            return false;
        };
        let (text, short) = in_brief(*possessions, rule);
        if !short {
            ui.label(RichText::new(text).color(TEXT).small());
            return false;
        }
        let leads = match &asked {
            None => words::WHY_NOT_ALL,
            Some(asked) if Some(asked) == known.as_ref() => words::LEAVE_IT,
            Some(_) => words::WHY_NOT_ALL_NOW,
        };
        let text = RichText::new(format!("{text}{leads}")).color(TEXT).small();
        ui.link(text).clicked()
    });
    if row.inner {
        desk.effects.asked = if asked == known { None } else { known };
        desk.effects.seek = desk.effects.asked.is_some();
    }
    let (possessions, rule) = asked?;
    let answer = ui.scope(|ui| reasons(ui, possessions, &rule));
    if std::mem::take(&mut desk.effects.seek) {
        let all = row.response.rect.union(answer.response.rect);
        // What is longer than the page begins at its top.
        let long = all.height() > ui.clip_rect().height();
        let to = long.then_some(Align::Min);
        ui.scroll_to_rect_animation(all, to, ScrollAnimation::none());
    }
    answer.inner
}

/// A rule's account in a row, and whether any order was not carried out.
fn in_brief(possessions: u64, rule: &RuleAccount) -> (String, bool) {
    let sum = |of: fn(&LineAccount) -> u64| rule.lines.iter().map(of).sum::<u64>();
    let (given, done) = (sum(|line| line.given), sum(|line| line.done));
    match rule.fired {
        0 => (words::it_never_came_in(&possessions), false),
        n => (
            words::it_came_carried_out(&n, &possessions, &done, &given),
            done < given,
        ),
    }
}

/// Why orders of a line were not carried out: all reasons, which add up to what is missing.
fn left_undone(line: &LineAccount) -> impl Iterator<Item = &Ended> {
    let ends = line.ends.iter();
    ends.filter(|ended| !ended.end.is_done() && ended.end.is_of_an_order())
}

/// Says of each order why it was not carried out. Returns the seed and the time, seconds, of one that was pressed.
fn reasons(ui: &mut Ui, possessions: u64, rule: &RuleAccount) -> Option<(u64, f64)> {
    let mut wanted = None;
    let head = words::as_counted_in(&possessions);
    ui.label(RichText::new(head).color(QUIET).small());
    for line in rule.lines.iter().filter(|line| line.given > 0) {
        let then = if line.step > 0 { words::THEN } else { "" };
        let text = words::carried_out_of(&then, &line.who, &line.done, &line.given);
        let good = line.done * 10 >= line.had_time * 9;
        let colour = if good { QUIET } else { WARN };
        ui.label(RichText::new(clean::line(&text)).color(colour).small());
        for ended in left_undone(line) {
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
    words::show(&ended.count, &ended.end.word(), &by)
}

#[cfg(test)]
mod tests {
    use super::super::store;
    use super::*;
    use crate::scrimmage::orders::account;

    #[test]
    fn all_reasons_add_up_to_what_was_not_carried_out() {
        let scenario = store::demo().scenario().expect("a scenario");
        let account = account(&[scenario], 60).expect("played");
        let lines = account.rules.iter().flat_map(|rule| &rule.lines);
        let mut several = 0;
        for line in lines {
            let reasons: Vec<u64> = left_undone(line).map(|ended| ended.count).collect();
            assert_eq!(
                reasons.iter().sum::<u64>(),
                line.given - line.done,
                "{line:?}"
            );
            several += usize::from(reasons.len() > 2);
        }
        assert!(several > 0, "a line with more than two reasons");
    }
}
