//! How firm the headline findings are: every number of the model that comes from memory, from the
//! trade's practice or from us is turned by a fifth, up and down, and the findings are looked at again.
//!
//! `cargo bench --bench sensitivity -- [--possessions N] [--only WORD]` prints the table of
//! DEVELOPERS.md. With `--together DRAWS` all numbers are turned at once instead, each up or down at
//! random, in pairs of draws of which the second has every sign of the first turned round. Numbers that are data (levels, stances, patience) are turned as the program runs.
//! Numbers that are constants in the code are turned in a copy of the sources under
//! `target/sensitivity`, in which each use of such a constant asks the environment first; nothing of
//! that is in the program itself.

mod code;
mod data;
mod findings;

use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};

use code::Constant;
use findings::{Finding, State};

/// Which of the three this process is: unset the one that was called, which makes the copy; then the
/// one in the copy that goes through the numbers; then one measurement.
const ROLE: &str = "LANELIGHT_SENSITIVITY";
/// What is turned: "code NUMBER FACTOR" or "data NAME FACTOR", or "together DRAW": all of them.
const TURN: &str = "LANELIGHT_TURN";
const TURNS: [f64; 2] = [0.8, 1.2];
const POSSESSIONS: u64 = 600;

struct Asked {
    possessions: u64,
    only: String,
    together: u64,
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
                asked.together = number.unwrap_or_default();
            }
            // Of cargo itself.
            _ => {}
        }
    }
    match std::env::var(ROLE).as_deref() {
        Ok("one") => findings::print(&findings::measure(asked.possessions, &turn_of_data())),
        Ok("all") if asked.together > 0 => together(&asked),
        Ok("all") => all(&asked),
        _ => in_a_copy(&asked),
    }
}

/// The data that are turned, each with its factor.
fn turn_of_data() -> Vec<(String, f64)> {
    let text = std::env::var(TURN).unwrap_or_default();
    if let Some(draw) = text.strip_prefix("together ") {
        let draw = draw.parse().expect("a draw");
        let knobs = data::KNOBS.iter().enumerate();
        let turned = knobs.map(|(i, knob)| (knob.name.to_owned(), random(draw, DATA + i as u64)));
        return turned.collect();
    }
    let one = || {
        let mut words = text.strip_prefix("data ")?.rsplitn(2, ' ');
        let factor = words.next()?.parse().ok()?;
        Some((words.next()?.to_owned(), factor))
    };
    one().into_iter().collect()
}

/// The data are numbered from here on, the constants of the code from nought.
const DATA: u64 = 10_000;

/// The factor of a number in a draw; the constants of the copy use the same (`code::TURNING`).
fn random(draw: u64, number: u64) -> f64 {
    let mut z = (draw / 2 * 100_000 + number).wrapping_mul(0x9E37_79B9_7F4A_7C15);
    z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
    z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
    TURNS[((z >> 33) + draw) as usize % 2]
}

/// Copies the sources, makes the constants turn, and goes on there.
fn in_a_copy(asked: &Asked) {
    let home = Path::new(env!("CARGO_MANIFEST_DIR"));
    let target = std::env::var_os("CARGO_TARGET_DIR").map_or(home.join("target"), PathBuf::from);
    let folder = target.join("sensitivity");
    for part in ["src", "benches", "scenarios", "assets"] {
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
        .args([
            "bench",
            "--locked",
            "--no-default-features",
            "--bench",
            "sensitivity",
            "--",
        ])
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

/// One measurement in a process of its own.
fn measured(asked: &Asked, turn: &str) -> Vec<Finding> {
    let program = std::env::current_exe().expect("this program");
    let out = Command::new(program)
        .args(["--possessions", &asked.possessions.to_string()])
        .env(ROLE, "one")
        .env(TURN, turn)
        .stderr(Stdio::inherit())
        .output()
        .expect("it runs");
    assert!(out.status.success(), "{turn}: a measurement failed");
    findings::parse(&String::from_utf8_lossy(&out.stdout))
}

struct Number {
    name: String,
    value: String,
    source: String,
    turn: String,
}

/// Every number that is turned, the data first.
fn numbers() -> Vec<Number> {
    let data = data::KNOBS.iter().map(|knob| Number {
        name: knob.name.into(),
        value: "by level or file".into(),
        source: knob.source.into(),
        turn: format!("data {}", knob.name),
    });
    let home = Path::new(env!("CARGO_MANIFEST_DIR"));
    // The copy's constants are as they were, so that they are counted the same.
    let code = code::constants(home).into_iter().enumerate();
    let code = code.map(
        |(
            i,
            Constant {
                file,
                name,
                value,
                source,
                ..
            },
        )| Number {
            name: format!("`{}` {name}", file.trim_start_matches("src/")),
            value,
            source: source.into(),
            turn: format!("code {i}"),
        },
    );
    data.chain(code).collect()
}

/// Turns one number after the other and prints what became of the findings.
fn all(asked: &Asked) {
    let base = measured(asked, "");
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
    for number in numbers().iter().filter(|n| n.name.contains(&asked.only)) {
        let cells = TURNS.map(|factor| {
            turned += 1;
            let now = measured(asked, &format!("{} {factor}", number.turn));
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

/// Turns all numbers at once, again and again, and prints in how many draws each finding held.
fn together(asked: &Asked) {
    let base = measured(asked, "");
    let mut tally = vec![[0usize; 3]; base.len()];
    let mut went = vec![Vec::new(); base.len()];
    for draw in 0..asked.together {
        for (i, now) in measured(asked, &format!("together {draw}"))
            .iter()
            .enumerate()
        {
            tally[i][now.state as usize] += 1;
            if now.state == State::Gone {
                went[i].push(format!("{draw}: {}", now.said));
            }
        }
        eprintln!("{} of {}", draw + 1, asked.together);
    }
    println!(
        "{} numbers turned at once, {} draws, {} possessions of each match-up\n",
        numbers().len(),
        asked.together,
        asked.possessions
    );
    println!(
        "| finding | as it is | holds | clearly | does not |\n| --- | --- | --- | --- | --- |"
    );
    for (i, [gone, weak, clear]) in tally.into_iter().enumerate() {
        println!(
            "| {} {} | {}: {} | {} | {clear} | {gone} {} |",
            letter(i),
            base[i].name,
            base[i].said,
            base[i].state.word(),
            weak + clear,
            went[i]
                .first()
                .map_or(String::new(), |w| format!("(draw {w})")),
        );
    }
}

fn letter(i: usize) -> char {
    char::from(b'A' + i as u8)
}
