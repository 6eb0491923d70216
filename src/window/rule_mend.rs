//! A rule that cannot be played yet: which one choice would mend it, found by trying. What the coach chose last is kept
//! where it can be.

use bevy_egui::egui::{RichText, Ui};

use super::bench::word as small;
use super::palette::*;
use super::phrase::{Phrase, words};
use super::variation::Edit;
use super::words::rules as words;
use super::words::spoken::{rows, spoken};
use crate::offence::words as said;

/// So many choices are offered at most, and so many of one piece.
const MOST: usize = 3;
const OF_ONE: usize = 2;

/// One choice with which the rule can be played.
#[derive(Clone, Debug, PartialEq)]
pub struct Mend {
    /// The choice in words.
    pub said: String,
    /// The rule with it.
    pub phrase: Phrase,
}

/// What is pressed.
pub enum Pressed {
    /// This choice.
    Mend(Phrase),
    /// Back to the sentence that is played.
    Back,
}

/// The choices that mend `phrase`, said of rule `i`, whose last word that could be played is `before`.
pub fn mends(edit: &Edit, i: usize, before: &Phrase, phrase: &Phrase) -> Vec<Mend> {
    let at = |phrase: &Phrase, path: &[usize]| phrase.clone().at(path).cloned();
    let mut pieces = phrase.words_within();
    // What was chosen last comes last; the others stand as in the sentence.
    pieces.sort_by_key(|path| at(before, path) != at(phrase, path));
    let mut found = Vec::new();
    for path in pieces {
        let Some(piece) = at(phrase, &path) else {
            continue;
        };
        let others = others(&piece).into_iter().filter_map(|(name, other)| {
            let mut tried = phrase.clone();
            *tried.at(&path)? = other;
            (tried != *before && playable(edit, i, &tried)).then(|| Mend {
                said: words::choose_for(&name, &name_of(&piece)),
                phrase: tried,
            })
        });
        found.extend(others.take(OF_ONE.min(MOST - found.len())));
        if found.len() == MOST {
            break;
        }
    }
    found
}

/// Can the offence be played with this as rule `i`?
fn playable(edit: &Edit, i: usize, phrase: &Phrase) -> bool {
    let (Some(rule), true) = (phrase.rule(), i < edit.offence.rules.len()) else {
        return false;
    };
    let mut tried = edit.clone();
    tried.offence.rules[i] = rule;
    tried.sound()
}

/// What could stand instead of a piece, with its name.
fn others(piece: &Phrase) -> Vec<(String, Phrase)> {
    let Phrase::Word { register, word, .. } = piece else {
        return Vec::new();
    };
    if *register == "Place" {
        let places = rows(true).into_iter().flatten().map(Phrase::place);
        let others = places.filter(|p| p != piece);
        return others.map(|p| (name_of(&p), p)).collect();
    }
    let known = words(register).iter().filter(|w| w.word != word);
    known
        .map(|known| {
            let mut other = piece.clone();
            other.choose(known.word);
            (name_of(&other), other)
        })
        .collect()
}

/// What a piece is called in the sentence.
fn name_of(piece: &Phrase) -> String {
    let Phrase::Word { register, word, .. } = piece else {
        return String::new();
    };
    let place = piece.value().filter(|_| *register == "Place");
    place.map_or_else(|| spoken(register, word), said::place)
}

/// Shows the ways out of a rule that cannot be played: one choice, or back to what is played.
pub fn show(ui: &mut Ui, mends: &[Mend]) -> Option<Pressed> {
    let mut pressed = None;
    let head = match mends {
        [] => words::CHOOSE_ANOTHER_WORD,
        _ => words::ANY_OF_THESE_CAN,
    };
    ui.label(RichText::new(head).color(BALL));
    for mend in mends {
        if small(ui, &mend.said, false, words::PUTS_IT_IN).clicked() {
            pressed = Some(Pressed::Mend(mend.phrase.clone()));
        }
    }
    if small(
        ui,
        words::BACK_TO_PLAYED,
        false,
        words::WHAT_CANNOT_BE_PLAYED,
    )
    .clicked()
    {
        pressed = Some(Pressed::Back);
    }
    pressed
}
