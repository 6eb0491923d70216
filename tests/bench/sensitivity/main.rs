//! How firm the headline findings are: every number of the model that comes from memory, from the
//! trade's practice or from us is turned by a fifth, up and down, and the findings are looked at again.
//!
//! `cargo bench --bench sensitivity -- [--possessions N] [--only WORD | --together N]` prints the table of
//! tests/VALIDATION.md. Numbers that are data (levels, stances, patience) or stand in `assets/model.ron` are
//! turned as values, those of the model no farther than their plausible range. Numbers that are still
//! constants in the code (of the layers `squad` and `floor`) are turned in a copy of the sources under
//! `target/sensitivity`, in which each use of such a constant asks the environment first; nothing of
//! that is in the program itself.
//!
//! With `--together N` all of them are turned at once, in N draws (`together.rs`).

mod code;
mod data;
mod findings;
mod model;
mod together;

use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::sync::Arc;

use code::Constant;
use findings::{Finding, State};
use lanelight::model::Model;

/// Which of the three this process is: unset the one that was called, which makes the copy; then the
/// one in the copy that goes through the numbers; then one measurement.
const ROLE: &str = "LANELIGHT_SENSITIVITY";
/// What is turned: a sign for each number, the data first, then the model; `=` leaves it.
const TURN: &str = "LANELIGHT_TURN";
const TURNS: [char; 2] = ['-', '+'];
const POSSESSIONS: u64 = 600;
const DRAWS: usize = 48;

struct Asked {
    possessions: u64,
    only: String,
    /// Draws with everything turned at once; none: one number after the other.
    together: usize,
}

fn main() {
    let mut asked = Asked {
        possessions: POSSESSIONS,
        only: String::new(),
        together: 0,
    };
    let mut args = std::env::args().skip(1);
    while let Some(arg) = args.next() {
        match arg.as_str() {
            "--possessions" => {
                let number = args.next().and_then(|n| n.parse().ok());
                asked.possessions = number.unwrap_or(POSSESSIONS);
            }
            "--only" => asked.only = args.next().unwrap_or_default(),
            "--together" => {
                let number = args.next().and_then(|n| n.parse().ok());
                asked.together = number.unwrap_or(DRAWS);
            }
            // Of cargo itself.
            _ => {}
        }
    }
    match std::env::var(ROLE).as_deref() {
        Ok("one") => {
            let (data, model) = turn_of_values();
            findings::print(&findings::measure(asked.possessions, &data, &model));
        }
        Ok("all") if asked.together > 0 => together::all(&asked),
        Ok("all") => all(&asked),
        _ => in_a_copy(&asked),
    }
}

/// Which numbers of the data are turned, and by what; and the turned model.
fn turn_of_values() -> (Vec<(&'static str, f64)>, Arc<Model>) {
    let text = std::env::var(TURN).unwrap_or_default();
    let by = |sign| match sign {
        '-' => Some(0.8),
        '+' => Some(1.2),
        _ => None,
    };
    let signs = data::KNOBS.iter().zip(text.chars());
    let data = signs.filter_map(|(k, c)| Some((k.name, by(c)?))).collect();
    let signs = text.chars().skip(data::KNOBS.len());
    let signs = signs.take(model::numbers().len()).enumerate();
    let turns: Vec<(usize, f64)> = signs.filter_map(|(i, c)| Some((i, by(c)?))).collect();
    (data, model::turned(&turns))
}

/// Copies the sources, makes the constants turn, and goes on there.
fn in_a_copy(asked: &Asked) {
    let home = Path::new(env!("CARGO_MANIFEST_DIR"));
    let target = std::env::var_os("CARGO_TARGET_DIR").map_or(home.join("target"), PathBuf::from);
    let folder = target.join("sensitivity");
    for part in ["src", "tests/bench", "scenarios", "assets"] {
        let _ = std::fs::remove_dir_all(folder.join(part));
        code::copy(&home.join(part), &folder.join(part));
    }
    for part in ["Cargo.toml", "Cargo.lock", "README.md"] {
        code::copy(&home.join(part), &folder.join(part));
    }
    let constants = code::constants(&folder);
    code::let_turn(&folder, &constants);
    code::of_its_own(&folder);
    let ended = Command::new(std::env::var_os("CARGO").unwrap_or("cargo".into()))
        .current_dir(&folder)
        .args(["bench", "--locked", "--bench", "sensitivity", "--"])
        .args([
            "--possessions",
            &asked.possessions.to_string(),
            "--only",
            &asked.only,
            "--together",
            &asked.together.to_string(),
        ])
        .env(ROLE, "all")
        .env("CARGO_TARGET_DIR", &target)
        .status();
    std::process::exit(ended.ok().and_then(|e| e.code()).unwrap_or(1));
}

/// One measurement in a process of its own; none if it came to nothing.
fn measured(asked: &Asked, turn: &str) -> Option<Vec<Finding>> {
    let program = std::env::current_exe().expect("this program");
    let out = Command::new(program)
        .args(["--possessions", &asked.possessions.to_string()])
        .env(ROLE, "one")
        .env(TURN, turn)
        .stderr(Stdio::inherit())
        .output()
        .expect("it runs");
    let found = findings::parse(&String::from_utf8_lossy(&out.stdout));
    (out.status.success() && !found.is_empty()).then_some(found)
}

struct Number {
    name: String,
    value: String,
    source: String,
}

/// Every number that is turned, the data first, then the model.
fn numbers() -> Vec<Number> {
    let data = data::KNOBS.iter().map(|knob| Number {
        name: knob.name.into(),
        value: "by level or file".into(),
        source: knob.source.into(),
    });
    let model = model::numbers().into_iter().map(|number| Number {
        name: format!("`{}`", number.name),
        value: number.value.to_string(),
        source: number.source.word().into(),
    });
    let home = Path::new(env!("CARGO_MANIFEST_DIR"));
    // The copy's constants are as they were, so that they are counted the same.
    let code = code::constants(home).into_iter().map(|c: Constant| Number {
        name: format!("`{}` {}", c.file.trim_start_matches("src/"), c.name),
        value: c.value,
        source: c.source.into(),
    });
    data.chain(model).chain(code).collect()
}

/// Turns one number after the other and prints what became of the findings.
fn all(asked: &Asked) {
    let base = measured(asked, "").expect("measured");
    println!("{} possessions of each match-up\n", asked.possessions);
    println!("| finding | as it is | |\n| --- | --- | --- |");
    for (i, finding) in base.iter().enumerate() {
        println!(
            "| {} {} | {} | {} |",
            letter(i),
            finding.name,
            finding.said,
            finding.state.word()
        );
    }
    println!("\n| number | value | source | −20 % | +20 % |\n| --- | --- | --- | --- | --- |");
    let mut tally = vec![[0usize; 3]; base.len()];
    let (mut silent, mut turned) = (Vec::new(), 0);
    for (place, number) in numbers().iter().enumerate() {
        if !number.name.contains(&asked.only) {
            continue;
        }
        let cells = TURNS.map(|sign| {
            turned += 1;
            let turn = format!("{}{sign}", "=".repeat(place));
            let now = measured(asked, &turn);
            let now = now.unwrap_or_else(|| panic!("{}: a measurement failed", number.name));
            let mut cell = Vec::new();
            for (i, (before, now)) in base.iter().zip(&now).enumerate() {
                tally[i][now.state as usize] += 1;
                if now.state < before.state {
                    let verb = match now.state {
                        State::Gone => "**goes**",
                        _ => "weakens",
                    };
                    cell.push(format!("{} {verb} ({})", letter(i), now.said));
                }
            }
            cell.join("; ")
        });
        if cells.iter().all(String::is_empty) {
            silent.push(number.name.clone());
        } else {
            let [less, more] = cells;
            println!(
                "| {} | {} | {} | {less} | {more} |",
                number.name, number.value, number.source
            );
        }
    }
    println!(
        "\nTurned without any finding weakening or going: {}\n",
        silent.join(", ")
    );
    println!(
        "| finding | clear | holds, not clearly | gone | of {turned} turns |\n| --- | --- | --- | --- | --- |"
    );
    for (i, [gone, weak, clear]) in tally.into_iter().enumerate() {
        println!(
            "| {} {} | {clear} | {weak} | {gone} | |",
            letter(i),
            base[i].name
        );
    }
}

fn letter(i: usize) -> char {
    char::from(b'A' + i as u8)
}
