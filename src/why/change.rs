//! Which shipped tweak lets the rules take a look that they never take.

use crate::offence::tweak::Tweak;
use crate::offence::{LookKind, Offence};
use crate::scenario::shipped::{self, Kind};
use crate::scenario::{read_offence, read_tweak};

/// The words of the shipped tweaks that fit `offence` and let its holder take `look`, where its own
/// rules do not. Whether that pays is another question: it has to be played (`contest`).
pub fn openers(offence: &Offence, look: LookKind) -> Vec<String> {
    if offence.reading.contains(&look) {
        return Vec::new();
    }
    shipped::all(Kind::Tweak)
        .filter_map(|file| Some((file.word, read_tweak(file.text, file.word).ok()?.value)))
        .filter(|(_, tweak)| is_for(tweak, offence))
        .filter_map(|(word, tweak)| Some((word, tweak.apply(offence).ok()?)))
        .filter(|(_, after)| after.reading.contains(&look))
        .map(|(word, _)| word.to_string())
        .collect()
}

/// A tweak may name the offence that it is for, by its name or by its shipped word.
fn is_for(tweak: &Tweak, offence: &Offence) -> bool {
    let named = |of: &String| {
        let file = shipped::find(Kind::Offence, of);
        let shipped = file.and_then(|f| read_offence(f.text, f.word).ok());
        *of == offence.name || shipped.is_some_and(|s| s.value.name == offence.name)
    };
    tweak.of.as_ref().is_none_or(named)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::scenario::Scenario;

    #[test]
    fn the_skip_tweak_lets_the_rules_take_the_skip_and_what_they_take_needs_no_tweak() {
        let offence = Scenario::demo().offence;
        assert_eq!(openers(&offence, LookKind::Skip), ["skip_pass"]);
        assert!(openers(&offence, LookKind::NextPass).is_empty());
    }
}
