//! Numbers of the model that are guesses (from memory, common practice, ours): turned as values, through
//! the `Model` that a scenario holds.

use std::sync::Arc;

use lanelight::model::{Model, Number, Table};

/// Every number that is turned, in the order of `assets/model.ron`. A number that is 0 cannot be turned
/// by a factor.
pub fn numbers() -> Vec<&'static Number> {
    let numbers = Table::shipped().numbers();
    let guessed = numbers.filter(|number| number.source.is_guess() && number.value != 0.0);
    guessed.collect()
}

/// The shipped model with some numbers multiplied, by place in [`numbers`]; none beyond its plausible
/// range.
pub fn turned(turns: &[(usize, f64)]) -> Arc<Model> {
    let numbers = numbers();
    let patch = turns.iter().map(|&(place, factor)| {
        let number = numbers[place];
        let (least, most) = number.range;
        let value = (number.value * factor).clamp(least, most);
        (number.name.as_str(), value)
    });
    Arc::new(Model::patched(patch).expect("inside the range"))
}
