//! Everything turned at once: in each draw every number goes up or down by a fifth, after the rows of a
//! design of Plackett and Burman ("The design of optimum multifactorial experiments", Biometrika 33,
//! 1946), each row followed by its opposite, so that what one number does is clear of what two do
//! together. The findings are looked at in every draw.

use std::collections::BTreeMap;
use std::fs;
use std::io::Write;
use std::path::Path;

use statrs::distribution::{ContinuousCDF, StudentsT};

use super::findings::{Finding, State};
use super::{Asked, code, data, letter, measured, model, numbers};

/// How many numbers are named for each finding.
const NAMED: usize = 4;
/// More than chance, after the correction.
const LEVEL: f64 = 0.05;

/// The length of the cyclic design for so many numbers: a prime that is three more than a multiple of
/// four, for which the squares make one (the construction of the 1946 paper).
fn length(numbers: usize) -> usize {
    let prime = |n: usize| {
        (2..n)
            .take_while(|d| d * d <= n)
            .all(|d| !n.is_multiple_of(d))
    };
    let mut n = numbers.max(3);
    while n % 4 != 3 || !prime(n) {
        n += 1;
    }
    n
}

/// Whether number `column` goes up in draw `draw`: even draws are rows of the design, odd ones their
/// opposites. After `2 * (length + 1)` draws the design is complete.
fn goes_up(draw: usize, column: usize, length: usize) -> bool {
    let (row, opposite) = ((draw / 2) % (length + 1), draw % 2 == 1);
    let at = (column + row) % length;
    let square = (0..length).any(|x| x * x % length == at);
    (row < length && square) != opposite
}

/// The signs of one draw, for the process that measures.
fn turn(draw: usize, turns: &[bool], length: usize) -> String {
    let mut column = 0;
    let mut sign = |turns: &bool| {
        if !turns {
            return '=';
        }
        column += 1;
        if goes_up(draw, column - 1, length) {
            '+'
        } else {
            '-'
        }
    };
    turns.iter().map(&mut sign).collect()
}

/// State and margin of each finding in a draw; nothing where the measurement failed.
type Outcome = Option<Vec<(State, f64)>>;

fn outcome(findings: &[Finding]) -> Vec<(State, f64)> {
    findings.iter().map(|f| (f.state, f.margin)).collect()
}

/// The draws that were done before on the same sources; an unfinished line is left out.
fn done_before(text: &str, head: &str, findings: usize) -> BTreeMap<usize, Outcome> {
    let mut lines = text.split_inclusive('\n');
    if lines.next().map(str::trim_end) != Some(head) {
        return BTreeMap::new();
    }
    let one = |line: &str| {
        let mut parts = line.strip_suffix('\n')?.split('\t');
        let draw = parts.next()?.parse().ok()?;
        let each = |part: &str| {
            let (state, margin) = part.split_once(' ')?;
            let state = match state {
                "0" => State::Gone,
                "1" => State::Weak,
                _ => State::Clear,
            };
            Some((state, margin.parse().ok()?))
        };
        let all: Option<Vec<_>> = parts.map(each).collect();
        Some((draw, all.filter(|a| a.len() == findings)))
    };
    lines.filter_map(one).collect()
}

/// Goes through the draws, those in the file left out, and prints what came of them.
pub fn all(asked: &Asked) {
    let home = Path::new(env!("CARGO_MANIFEST_DIR"));
    let named = numbers();
    let values = data::KNOBS.len() + model::numbers().len();
    let mut turns = vec![true; values];
    let unused = code::never_used(home, &code::constants(home));
    turns.extend(unused.iter().map(|unused| !unused));
    let columns: Vec<usize> = (0..named.len()).filter(|i| turns[*i]).collect();
    let length = length(columns.len());
    let base = measured(asked, "").expect("measured");

    let head = format!("{:x} {length}", code::fingerprint(home));
    let file = home.join(format!("together-{}.txt", asked.possessions));
    let text = fs::read_to_string(&file).unwrap_or_default();
    let mut done = done_before(&text, &head, base.len());
    // Written anew, so that no half line stays; then a line for each draw.
    let mut out = fs::File::create(&file).expect("a file for the draws");
    writeln!(out, "{head}").expect("written");
    for (draw, outcome) in &done {
        keep(&mut out, *draw, outcome);
    }
    for draw in 0..asked.together {
        if done.contains_key(&draw) {
            continue;
        }
        let found = measured(asked, &turn(draw, &turns, length)).map(|f| outcome(&f));
        keep(&mut out, draw, &found);
        done.insert(draw, found);
        eprintln!("draw {} of {}", draw + 1, asked.together);
    }
    let draws: Vec<(usize, Vec<(State, f64)>)> = done
        .into_iter()
        .filter(|(draw, _)| *draw < asked.together)
        .filter_map(|(draw, found)| Some((draw, found?)))
        .collect();

    let n = draws.len();
    println!("{} possessions of each match-up", asked.possessions);
    println!(
        "{} numbers turned at once in {n} draws ({} of the data, {} of the model, {} of the code); {} draws failed; the \
         whole design has {} draws\n",
        columns.len(),
        data::KNOBS.len(),
        model::numbers().len(),
        columns.len() - values,
        asked.together - n,
        2 * (length + 1)
    );
    let left: Vec<&str> = (0..named.len())
        .filter(|i| !turns[*i])
        .map(|i| named[i].name.as_str())
        .collect();
    println!(
        "Found but used only in other constants: {}\n",
        left.join(", ")
    );
    println!(
        "| finding | as it is | held | clear | equal | other way round | margin as it is; tenth, half, nine \
         tenths of the draws |\n| --- | --- | --- | --- | --- | --- | --- |"
    );
    for (i, finding) in base.iter().enumerate() {
        let held = draws.iter().filter(|d| d.1[i].0 > State::Gone).count();
        let clear = draws.iter().filter(|d| d.1[i].0 == State::Clear).count();
        // Such as no chance in either: nothing is said, but nothing is turned round.
        let equal = draws.iter().filter(|d| d.1[i].1 == 0.0).count();
        let round = n - held - equal;
        let mut margins: Vec<f64> = draws.iter().map(|d| d.1[i].1).collect();
        margins.sort_by(f64::total_cmp);
        let at = |share: f64| margins.get((share * n as f64) as usize).copied();
        let [low, half, high] = [0.1, 0.5, 0.9].map(|s| at(s).unwrap_or(f64::NAN));
        println!(
            "| {} {} | {}: {} | {held} of {n} | {clear} of {n} | {equal} | {round} | {:+.3}; {low:+.3}, {half:+.3}, {high:+.3} |",
            letter(i),
            finding.name,
            finding.said,
            finding.state.word(),
            finding.margin
        );
    }
    println!(
        "\nMargin with a number up, less margin with it down. Chance: corrected for {} looks.\n\n\
         | finding | number | source | difference ± its standard error | held when down, up | chance |\n\
         | --- | --- | --- | --- | --- | --- |",
        columns.len() * base.len()
    );
    for i in 0..base.len() {
        let mut effects: Vec<Effect> = (0..columns.len())
            .filter_map(|column| effect(&draws, i, column, length))
            .collect();
        effects.sort_by(|a, b| a.chance.total_cmp(&b.chance));
        let looks = (columns.len() * base.len()) as f64;
        let more = effects.iter().filter(|e| e.chance * looks < LEVEL).count();
        for e in effects.iter().take(NAMED.max(more)) {
            let number = &named[columns[e.column]];
            let chance = (e.chance * looks).min(1.0);
            let mark = if chance < LEVEL { "**" } else { "" };
            println!(
                "| {} | {} | {} | {:+.4} ± {:.4} | {}, {} of {} | {mark}{chance:.3}{mark} |",
                letter(i),
                number.name,
                number.source,
                e.difference,
                e.error,
                e.held[0],
                e.held[1],
                n / 2
            );
        }
    }
}

fn keep(out: &mut fs::File, draw: usize, outcome: &Outcome) {
    let each = |(state, margin): &(State, f64)| format!("\t{} {margin}", *state as u8);
    let cells: String = outcome.iter().flatten().map(each).collect();
    writeln!(out, "{draw}{cells}").expect("written");
    out.flush().expect("written");
}

struct Effect {
    column: usize,
    difference: f64,
    error: f64,
    /// In how many draws the finding held with the number down, and up.
    held: [usize; 2],
    /// Two-sided, not corrected.
    chance: f64,
}

/// What goes with one number, from the pairs of a draw and its opposite that were both measured.
fn effect(
    draws: &[(usize, Vec<(State, f64)>)],
    finding: usize,
    column: usize,
    length: usize,
) -> Option<Effect> {
    let mut held = [0; 2];
    for (draw, found) in draws {
        let up = goes_up(*draw, column, length);
        held[usize::from(up)] += usize::from(found[finding].0 > State::Gone);
    }
    let pairs = draws
        .windows(2)
        .filter(|w| w[0].0 % 2 == 0 && w[1].0 == w[0].0 + 1);
    let gained: Vec<f64> = pairs
        .map(|w| {
            let less = w[0].1[finding].1 - w[1].1[finding].1;
            if goes_up(w[0].0, column, length) {
                less
            } else {
                -less
            }
        })
        .collect();
    let n = gained.len() as f64;
    let mean = gained.iter().sum::<f64>() / n;
    let spread = gained.iter().map(|g| (g - mean) * (g - mean)).sum::<f64>() / (n - 1.0);
    let error = (spread / n).sqrt();
    let t = StudentsT::new(0.0, 1.0, n - 1.0).ok()?;
    (error > 0.0).then(|| Effect {
        column,
        difference: mean,
        error,
        held,
        chance: 2.0 * t.cdf(-(mean / error).abs()),
    })
}
