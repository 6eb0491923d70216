//! Payoffs that a coach knows: does the simulation pay what the trade says it pays?
//!
//! `cargo bench --bench payoffs -- [--possessions 3000] [--level varsity|professional] [--only NAME,...]
//! [--json FILE]` plays the match-ups on seeds 1, 2, ... and prints one table: claim (common practice),
//! what was measured with its 95 % interval, and whether it holds. Without `--level` both are played.
//! `... -- --tell NAME --seed N` tells the timeline of one possession of a match-up, to look for the
//! reason of a miss: NAME is a defence, `stand DEFENCE`, `bar0 DEFENCE`, or `helped DEFENCE`, which lists
//! the helped attacks instead.
#![forbid(unsafe_code)]

#[path = "../payoffs/mod.rs"]
mod payoffs;

use std::process::ExitCode;

use lanelight::possession::timeline;
use lanelight::sim::{Keep, play};
use payoffs::claims::{CLAIMS, Claim, Finding};
use payoffs::lab::{Change, Digest, Lab, Tier, match_up};

const TIERS: [Tier; 2] = [Tier::Varsity, Tier::Professional];

struct Asked {
    possessions: u64,
    tiers: Vec<Tier>,
    /// Names of claims; none: all.
    only: Vec<String>,
    json: Option<String>,
    tell: Option<String>,
    seed: u64,
}

fn asked() -> Result<Asked, String> {
    let mut asked = Asked {
        possessions: 3000,
        tiers: TIERS.to_vec(),
        only: Vec::new(),
        json: None,
        tell: None,
        seed: 1,
    };
    let mut args = std::env::args().skip(1);
    while let Some(arg) = args.next() {
        // Of cargo itself.
        if arg == "--bench" {
            continue;
        }
        let value = args.next().ok_or(format!("{arg} needs a value"))?;
        let number = || value.parse::<u64>().ok().filter(|n| *n > 0);
        let count = || number().ok_or(format!("{arg}: {value} is no count"));
        match arg.as_str() {
            "--possessions" => asked.possessions = count()?,
            "--level" => {
                let tier = TIERS.into_iter().find(|t| t.word() == value);
                asked.tiers = vec![tier.ok_or("--level: varsity or professional")?];
            }
            "--only" => asked.only = value.split(',').map(str::to_string).collect(),
            "--json" => asked.json = Some(value),
            "--tell" => asked.tell = Some(value),
            "--seed" => asked.seed = count()?,
            _ => return Err(format!("{arg}: no such argument")),
        }
    }
    Ok(asked)
}

/// "+0.034 (0.020 to 0.048)".
fn said(finding: &Finding) -> String {
    let figure = finding.estimate.map_or("too few cases to say".into(), |e| {
        format!("{:+.3} ({:+.3} to {:+.3})", e.value, e.low, e.high)
    });
    match finding.note.as_str() {
        "" => figure,
        note => format!("{figure}; {note}"),
    }
}

fn as_json(tier: Tier, claim: &Claim, finding: &Finding) -> serde_json::Value {
    let e = finding.estimate;
    serde_json::json!({
        "level": tier.word(),
        "claim": claim.name,
        "sentence": claim.sentence,
        "part": finding.part,
        "value": e.map(|e| e.value),
        "low": e.map(|e| e.low),
        "high": e.map(|e| e.high),
        "n": e.map(|e| e.n),
        "note": finding.note,
        "verdict": finding.verdict.word(),
    })
}

fn table(asked: &Asked) -> Result<(), String> {
    let names = CLAIMS.map(|c| c.name);
    if asked.only.iter().any(|n| !names.contains(&n.as_str())) {
        return Err(format!("--only: some of {}", names.join(",")));
    }
    let wanted = |c: &&Claim| asked.only.is_empty() || asked.only.iter().any(|n| n == c.name);
    let mut lines = Vec::new();
    println!("{} possessions of each match-up\n", asked.possessions);
    println!("| claim (common practice) | level | match-up | measured, 95 % interval | verdict |");
    println!("| --- | --- | --- | --- | --- |");
    for &tier in &asked.tiers {
        let lab = Lab::new(tier, asked.possessions);
        for claim in CLAIMS.iter().filter(wanted) {
            for (i, finding) in (claim.measure)(&lab, "").iter().enumerate() {
                let sentence = if i == 0 { claim.sentence } else { "" };
                println!(
                    "| {sentence} | {} | {} | {} | {} |",
                    tier.word(),
                    finding.part,
                    said(finding),
                    finding.verdict.word()
                );
                lines.push(as_json(tier, claim, finding));
            }
        }
    }
    let Some(file) = &asked.json else {
        return Ok(());
    };
    let text = serde_json::to_string_pretty(&lines).map_err(|e| e.to_string())?;
    std::fs::write(file, text + "\n").map_err(|e| format!("{file}: {e}"))
}

/// Tells one possession, or lists the helped attacks of many.
fn tell(asked: &Asked, name: &str) {
    let (kind, defence) = name.split_once(' ').unwrap_or(("", name));
    let change = match kind {
        "stand" => Change::PassAndStand,
        "at_once" => Change::AsksMore(-1.0),
        _ => Change::Shipped,
    };
    for &tier in &asked.tiers {
        let scenario = match_up(tier, defence, change);
        if kind == "helped" {
            for seed in asked.seed..asked.seed + asked.possessions {
                let digest = Digest::of(&play(&scenario, seed, Keep::ALL));
                for helped in digest.helped {
                    println!("{} seed {seed}: {helped:?}", tier.word());
                }
            }
            continue;
        }
        let possession = play(&scenario, asked.seed, Keep::ALL);
        println!("{} against {defence}, seed {}", tier.word(), asked.seed);
        for line in timeline::lines(&possession, &scenario) {
            match line.tenths {
                Some(t) => println!("{}.{} {}", t / 10, t % 10, line.text),
                None => println!("    {}", line.text),
            }
        }
    }
}

fn main() -> ExitCode {
    let done = asked().and_then(|asked| match &asked.tell {
        Some(name) => {
            tell(&asked, name);
            Ok(())
        }
        None => table(&asked),
    });
    match done {
        Ok(()) => ExitCode::SUCCESS,
        Err(said) => {
            eprintln!("{said}");
            ExitCode::FAILURE
        }
    }
}
