//! What is written is read as the same: offences, defences, tweaks, squads, scenarios, variations.

use lanelight::offence::tweak::Tweak;
use lanelight::scenario::{read_defence, read_offence, read_squad, read_tweak};
use proptest::prelude::*;
use ron::extensions::Extensions;
use ron::ser::PrettyConfig;
use serde::Serialize;

use super::worlds::{cases, defence, offence, squad_text, tweak};

/// As the window writes it, or in one line.
fn text<T: Serialize>(value: &T, pretty: bool) -> String {
    let options = ron::Options::default().with_default_extension(Extensions::IMPLICIT_SOME);
    let text = if pretty {
        let pretty = PrettyConfig::new()
            .extensions(Extensions::IMPLICIT_SOME)
            .depth_limit(6);
        options.to_string_pretty(value, pretty)
    } else {
        options.to_string(value)
    };
    text.expect("it can be written")
}

/// Whatever a coach may type into a name: one line, not empty.
fn name() -> impl Strategy<Value = String> {
    let odd = prop_oneof![
        "\\PC{1,40}",
        Just("\"Friday\" \\ (press)".to_string()),
        Just("// not a comment".to_string()),
        Just("Łódź – 東京 🏀".to_string()),
    ];
    odd.prop_filter("an empty name", |n: &String| !n.trim().is_empty())
}

proptest! {
    #![proptest_config(cases(600))]

    #[test]
    fn offences_defences_and_tweaks_are_read_as_written(
        name in name(), offence in offence(), defence in defence(), tweak in tweak(), pretty: bool,
    ) {
        let offence = lanelight::offence::Offence { name: name.clone(), note: name.clone(), ..offence };
        let read = read_offence(&text(&offence, pretty), "a").map_err(|p| TestCaseError::fail(p.to_string()))?;
        prop_assert_eq!(read.value, offence);
        let defence = lanelight::defence::Defence { name: name.clone(), ..defence };
        let read = read_defence(&text(&defence, pretty), "a").map_err(|p| TestCaseError::fail(p.to_string()))?;
        prop_assert_eq!(read.value, defence);
        let tweak = Tweak { name, ..tweak };
        let read = read_tweak(&text(&tweak, pretty), "a").map_err(|p| TestCaseError::fail(p.to_string()))?;
        prop_assert_eq!(read.value, tweak);
    }

    #[test]
    fn a_squad_is_read_the_same_by_every_reader(text in squad_text()) {
        let read = read_squad(&text, "a").map_err(|p| TestCaseError::fail(p.to_string()))?;
        let plain = lanelight::squad::read_squad(&text).expect("a squad").squad();
        prop_assert_eq!(read.value, plain);
    }
}

#[cfg(feature = "window")]
mod window {
    use super::*;
    use lanelight::court::CourtCode;
    use lanelight::scenario::{Drill, Patch, Scenario, Start};
    use lanelight::squad::Level;
    use lanelight::window::store;
    use lanelight::window::variation::{Edit, Side};
    use proptest::sample::select;

    fn side() -> impl Strategy<Value = Side> {
        prop_oneof![
            select(Level::ALL.to_vec()).prop_map(Side::Typical),
            Just(Side::Shipped("harbour_hawks".into())),
            squad_text().prop_map(Side::Sheet),
        ]
    }

    prop_compose! {
        fn edit()(
            name in name(), offence in offence(), defence in defence(),
            attackers in side(), defenders in side(), court in select(CourtCode::ALL.to_vec()),
            start in select(vec![Start::Left, Start::Right, Start::Either]),
            clock in prop::option::of(1.0..120.0f64), passive: bool, clean: bool, off in 0usize..4,
            pivot in prop::option::of(1.0..1.2f64),
        ) -> Edit {
            let off = offence.rules.iter().take(off).map(|r| r.name.clone()).collect();
            Edit {
                practice: Default::default(), written: Default::default(),
                name: name.clone(), note: name, court, off, offence, defence, attackers, defenders,
                start, shot_clock: clock, drill: Drill { passive, clean },
                model: Patch(pivot.map(|v| ("looks.pivot_distance".to_string(), v)).into_iter().collect()),
            }
        }
    }

    proptest! {
        #![proptest_config(cases(150))]

        #[test]
        fn a_variation_is_opened_as_it_was_saved(edit in edit()) {
            // Without its switched-off rules an offence may be unsound: then it cannot be opened.
            prop_assume!(edit.sound());
            let folder = tempfile::tempdir().expect("a folder");
            let path = folder.path().join("friday.ron");
            store::save(&path, &edit).expect("saved");
            let read = store::open(&path).map_err(|p| TestCaseError::fail(p.to_string()))?;
            prop_assert_eq!(&read, &edit);
            let scenario = Scenario::read(&path).map_err(|p| TestCaseError::fail(p.to_string()))?;
            let played = edit.scenario().expect("a scenario");
            prop_assert_eq!(scenario.offence, played.offence);
            prop_assert_eq!(scenario.defence, played.defence);
            prop_assert_eq!(scenario.attackers, played.attackers);
            prop_assert_eq!(scenario.defenders, played.defenders);
            prop_assert_eq!(scenario.shot_clock, played.shot_clock);
            prop_assert_eq!((scenario.start, scenario.drill), (played.start, played.drill));
            prop_assert_eq!(scenario.model.values(), played.model.values());
        }
    }
}
