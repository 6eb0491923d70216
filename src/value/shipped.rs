//! Values that come with the program, so that it need not learn them each time that it starts. They stand in
//! `assets/learnt.txt`, one line a scenario, under the sum of everything in the scenario that changes what is
//! learnt. A scenario that is not there is learnt. A change of the play itself is in no sum: `tests/golden/same_bits.rs`
//! learns all of them anew, and renews the file.

use super::{GOES_ON, GROUPS, Usual, Value};

const TEXT: &str = include_str!("../../assets/learnt.txt");

/// The value that comes with the program for the scenario of this sum.
pub fn shipped(sum: u64) -> Option<Value> {
    found(TEXT, sum)
}

/// The line of a scenario: its sum and every number of its value, each as the shortest text that reads back as
/// the same bits.
pub fn line(sum: u64, value: &Value) -> String {
    let mut line = format!("{sum:016x}");
    let looks = value.looks.iter().flat_map(|u| [u.comes, u.mean, u.spread]);
    for number in value.goes_on.into_iter().chain(looks) {
        line += &format!(" {number:?}");
    }
    line
}

fn found(text: &str, sum: u64) -> Option<Value> {
    let sum = format!("{sum:016x} ");
    let line = text.lines().find_map(|line| line.strip_prefix(&sum))?;
    let numbers: Vec<f64> = line
        .split(' ')
        .map(|n| n.parse().ok().filter(|n: &f64| n.is_finite()))
        .collect::<Option<_>>()?;
    let (goes_on, looks) = numbers.split_at_checked(GOES_ON)?;
    if looks.len() != 3 * GROUPS {
        return None;
    }
    Some(Value {
        goes_on: goes_on.try_into().ok()?,
        looks: std::array::from_fn(|g| Usual {
            comes: looks[3 * g],
            mean: looks[3 * g + 1],
            spread: looks[3 * g + 2],
        }),
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_value_is_read_back_to_the_last_bit_and_a_spoilt_line_is_none() {
        let mut value = Value {
            goes_on: [0.1 + 0.2, -0.0, 5e-324, 1.0 / 3.0, -1e300],
            ..Value::default()
        };
        value.looks[4].spread = f64::MAX;
        let text = format!(
            "# told\n{}\n{}\n",
            line(7, &Value::default()),
            line(8, &value)
        );
        let bits = |v: &Value| {
            let looks = v.looks.iter().flat_map(|u| [u.comes, u.mean, u.spread]);
            let all = v.goes_on.into_iter().chain(looks);
            all.map(f64::to_bits).collect::<Vec<_>>()
        };
        assert_eq!(found(&text, 8).map(|v| bits(&v)), Some(bits(&value)));
        assert_eq!(found(&text, 7), Some(Value::default()));
        assert_eq!(found(&text, 9), None);
        let good = line(7, &value);
        let (short, _) = good.rsplit_once(' ').unwrap();
        for spoilt in [
            short,
            &format!("{good} 1"),
            &format!("{short} x"),
            &format!("{short} NaN"),
        ] {
            assert_eq!(found(spoilt, 7), None, "{spoilt}");
        }
    }
}
