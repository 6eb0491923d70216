//! The shipped table is sound, and a wrong one is refused by name.

use super::*;

const TEXT: &str = include_str!("../../assets/model.ron");

#[test]
fn the_shipped_numbers_are_sound_and_each_has_a_source_and_a_sentence() {
    let table = Table::parse(TEXT).unwrap();
    assert_eq!(table.numbers().count(), NAMES.len());
    for number in table.numbers() {
        assert!(!number.citation.is_empty(), "{}", number.name);
        assert!(number.says.ends_with('.'), "{}", number.name);
        assert!(number.range.0 < number.range.1, "{}", number.name);
    }
    assert_eq!(Model::shipped().values().len(), NAMES.len());
    assert!(Model::shipped().changes().is_empty());
}

/// What is wrong with the shipped text after one replacement.
fn wrong(old: &str, new: &str) -> Vec<ModelError> {
    assert!(TEXT.contains(old), "{old}");
    Table::parse(&TEXT.replacen(old, new, 1)).unwrap_err()
}

#[test]
fn a_wrong_number_is_named_with_the_nearest_right_name() {
    let errors = wrong("\"pivot_distance\"", "\"pivot_distanse\"");
    let said: Vec<String> = errors.iter().map(ModelError::to_string).collect();
    assert_eq!(
        said,
        [
            "there is no number `looks.pivot_distanse`; did you mean `looks.pivot_distance`?",
            "the number `looks.pivot_distance` is missing; is it meant by `looks.pivot_distanse`?"
        ]
    );
    let name = || "body.turn_rate".to_owned();
    let errors = wrong("\"turn_rate\", value: 7.0", "\"turn_rate\", value: 9.0");
    let (value, least, most, unit) = (9.0, 6.0, 8.0, "rad/s".to_owned());
    let out = ModelError::OutOfRange {
        name: name(),
        value,
        least,
        most,
        unit,
    };
    assert_eq!(errors, [out]);
    let errors = wrong("\"turn_rate\", value: 7.0", "\"turn_rate\", value: inf");
    let value = f64::INFINITY;
    assert_eq!(
        errors,
        [ModelError::NotFinite {
            name: name(),
            value
        }]
    );
    let errors = wrong("\"mass_size_6\"", "\"mass_size_5\"");
    assert!(errors.contains(&ModelError::Twice("ball.mass_size_5".into())));
    assert!(matches!(
        wrong("unit:", "units:")[..],
        [ModelError::Unreadable(_)]
    ));
}

#[test]
fn a_patch_changes_what_it_names_and_nothing_else() {
    let model = Model::patched([("looks.pivot_distance", 1.2)]).unwrap();
    assert_eq!(model.changes(), [("looks.pivot_distance", 1.1, 1.2)]);
    let errors = Model::patched([
        ("looks.pivot_distance", 1.2),
        ("looks.pivot_distance", 1.2),
        ("looks.pivot", 1.2),
        ("body.turn_rate", f64::NAN),
        ("body.turn_rate", 70.0),
    ]);
    let places: Vec<usize> = errors
        .unwrap_err()
        .iter()
        .map(|(place, _)| *place)
        .collect();
    assert_eq!(places, [1, 2, 3, 4]);
}
