//! The files that come with the program, embedded: offences, defences, tweaks, squads, scenarios.

/// What a file describes.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Kind {
    /// Alignment, rules and patience of five attackers.
    Offence,
    /// Stances, help and switches of five defenders.
    Defence,
    /// A small named change to an offence.
    Tweak,
    /// Measured players.
    Squad,
    /// Court, offence, defence and squads together.
    Scenario,
}

impl Kind {
    /// Every kind.
    pub const ALL: [Kind; 5] = [
        Kind::Offence,
        Kind::Defence,
        Kind::Tweak,
        Kind::Squad,
        Kind::Scenario,
    ];

    /// In a coach's word.
    pub fn word(self) -> &'static str {
        match self {
            Kind::Offence => "offence",
            Kind::Defence => "defence",
            Kind::Tweak => "tweak",
            Kind::Squad => "squad",
            Kind::Scenario => "scenario",
        }
    }

    /// The word with its article.
    pub fn with_article(self) -> String {
        let article = if self == Kind::Offence { "an" } else { "a" };
        format!("{article} {}", self.word())
    }
}

/// One embedded file.
#[derive(Clone, Copy, Debug)]
pub struct Shipped {
    /// What the file describes.
    pub kind: Kind,
    /// The word by which files mention it.
    pub word: &'static str,
    /// Its contents.
    pub text: &'static str,
}

macro_rules! shipped {
    ($($kind:ident $folder:literal: $($word:literal)*;)*) => {
        &[$($(Shipped {
            kind: Kind::$kind,
            word: $word,
            text: include_str!(concat!("../../scenarios/", $folder, $word, ".ron")),
        },)*)*]
    };
}

/// Every embedded file.
pub const SHIPPED: &[Shipped] = shipped! {
    Offence "offences/": "five_out_give_and_go" "four_out_one_post" "three_out_two_in" "ball_screen_continuity"
        "five_out_hand_offs" "high_low" "screen_continuity";
    Defence "defences/": "denial" "help_line" "mixed_professional" "sag" "zone_2_3" "box_and_chaser" "force_sideline"
        "pack" "switching";
    Tweak "tweaks/": "dribble_at_backdoor" "high_post_flash" "screen_away" "skip_pass"
        "weak_side_corner_drift" "weak_side_exchange" "ball_screen_entry" "three_passes_first" "post_shoots_inside"
        "patient_team";
    Squad "squads/": "harbour_hawks" "millbrook_owls";
    Scenario "": "demo";
};

/// Offences for fewer than five a side, to teach an offence in parts. They are not among [`all`]: nobody plays them
/// against every defence.
pub const DRILLS: &[Shipped] = shipped! {
    Offence "drills/": "two_player_give_and_go" "three_player_screen_away" "two_player_ball_screen"
        "four_player_drive_and_kick";
};

/// The shipped files of one kind.
pub fn all(kind: Kind) -> impl Iterator<Item = &'static Shipped> {
    SHIPPED.iter().filter(move |file| file.kind == kind)
}

/// The shipped file of that kind and word.
pub fn find(kind: Kind, word: &str) -> Option<&'static Shipped> {
    let drills = DRILLS.iter().filter(|file| file.kind == kind);
    all(kind).chain(drills).find(|file| file.word == word)
}

/// What is said of a word that no shipped file of that kind has: is it one of another kind?
pub fn unknown(kind: Kind, word: &str) -> String {
    match SHIPPED.iter().find(|file| file.word == word) {
        Some(other) => {
            let (is, wanted) = (other.kind.with_article(), kind.with_article());
            format!("\"{word}\" is {is}, not {wanted}")
        }
        None => format!("no {} named \"{word}\" is shipped", kind.word()),
    }
}
