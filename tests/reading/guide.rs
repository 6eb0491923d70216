//! What the guide says must be there must be there, and what it says counts for what is left out does count.

use lanelight::defence::{Area, Closeout, Defence, Help, Stance, Stances};
use lanelight::offence::tweak::Tweak;
use lanelight::offence::{Action, Offence, Rule};
use lanelight::scenario::RawScenario;
use serde::de::DeserializeOwned;

/// A value for each part that must be there, good enough to be read.
const VALUES: [(&str, &str); 25] = [
    ("name", "\"n\""),
    ("ball", "1"),
    ("alignment", "[]"),
    ("keep_filled", "[]"),
    ("rules", "[]"),
    ("reading", "[]"),
    ("when", "ball_crosses"),
    ("do", "[]"),
    ("does", "hold"),
    ("stances", STANCES),
    ("help", "(who: nobody, within: 1, depth: 1)"),
    ("closeout", "(short: 1, pace: 1)"),
    ("man", "1"),
    ("within", "1"),
    ("depth", "1"),
    ("short", "1"),
    ("pace", "1"),
    ("defender", "1"),
    ("x", "1"),
    ("y", "1"),
    ("shift", "(1, 1)"),
    ("covers", "1"),
    ("changes", "[]"),
    ("court", "nfhs"),
    ("offence", "\"o\""),
];
const STANCES: &str = "(on_ball: (man: 1), one_pass: (man: 1), two_passes: (man: 1), post_ball_side: (man: 1), \
                       post_weak_side: (man: 1), cutter: (man: 1))";

fn value(row: &str, part: &str) -> String {
    let said = match (row, part) {
        ("`stances`", _) => "(man: 1)",
        ("a line of `do`", "who") => "passer",
        ("`help`", "who") => "nobody",
        ("a scenario", "defence") => "\"d\"",
        _ => {
            VALUES
                .iter()
                .find(|(name, _)| *name == part)
                .unwrap_or_else(|| panic!("{part}"))
                .1
        }
    };
    format!("{part}: {said}")
}

/// What stands in backticks.
fn items(cell: &str) -> Vec<&str> {
    cell.split('`').skip(1).step_by(2).collect()
}

/// The parts that must be there, and those that may be left out, of a row of the table.
fn row(first: &str) -> [Vec<&'static str>; 2] {
    let guide = include_str!("../../scenarios/README.md");
    let (_, table) = guide.split_once("### What must be there").unwrap();
    let line = table
        .lines()
        .find(|l| l.starts_with(&format!("| {first} |")));
    let cells: Vec<&str> = line
        .unwrap_or_else(|| panic!("{first}"))
        .split('|')
        .collect();
    [items(cells[2]), items(cells[3])]
}

fn read<T: DeserializeOwned>(parts: &[String]) -> Result<T, ron::Error> {
    let options =
        ron::Options::default().with_default_extension(ron::extensions::Extensions::IMPLICIT_SOME);
    options
        .from_str(&format!("({})", parts.join(", ")))
        .map_err(|e| e.code)
}

fn is_as_the_guide_says<T: DeserializeOwned + PartialEq + std::fmt::Debug>(first: &str) {
    let [must, may] = row(first);
    let all: Vec<String> = must.iter().map(|part| value(first, part)).collect();
    let least: T = read(&all).unwrap_or_else(|e| panic!("{first}: {e}"));
    for (i, part) in must.iter().enumerate() {
        let mut others = all.clone();
        others.remove(i);
        assert!(
            read::<T>(&others).is_err(),
            "{first}: `{part}` may be left out"
        );
    }
    for part in &may {
        if part.contains(": ") {
            let mut said = all.clone();
            said.push((*part).to_owned());
            let usual: T = read(&said).unwrap_or_else(|e| panic!("{first}, {part}: {e}"));
            assert_eq!(usual, least, "{first}: `{part}` is not what counts");
        }
    }
    // And no part is left out of the table.
    let mut odd = all.clone();
    odd.push("no_such_part: 1".to_owned());
    let Err(ron::Error::NoSuchStructField { expected, .. }) = read::<T>(&odd) else {
        panic!("{first}");
    };
    let names: Vec<&str> = may
        .iter()
        .map(|part| part.split(':').next().unwrap())
        .collect();
    for part in expected {
        assert!(
            must.contains(part) || names.contains(part),
            "{first}: `{part}` is not in the guide's table"
        );
    }
    assert_eq!(expected.len(), must.len() + names.len(), "{first}");
}

#[test]
fn what_must_be_there_and_what_counts_for_what_is_left_out_are_as_the_guide_says() {
    is_as_the_guide_says::<Offence>("an offence");
    is_as_the_guide_says::<Rule>("a rule");
    is_as_the_guide_says::<Action>("a line of `do`");
    is_as_the_guide_says::<Defence>("a defence");
    is_as_the_guide_says::<Stances>("`stances`");
    is_as_the_guide_says::<Stance>("a stance");
    is_as_the_guide_says::<Help>("`help`");
    is_as_the_guide_says::<Closeout>("`closeout`");
    is_as_the_guide_says::<Area>("an area of a `zone`");
    is_as_the_guide_says::<Tweak>("a tweak");
    is_as_the_guide_says::<RawScenario>("a scenario");
}
