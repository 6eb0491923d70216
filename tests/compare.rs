//! Comparisons as a coach runs them, and what the reference offence gains from its tweaks.

mod program;

use std::fs;
use std::sync::atomic::AtomicBool;

use lanelight::contest::compare::Verdict;
use lanelight::contest::{Comparison, Contest, Contrast, Variation};
use lanelight::court::CourtCode;
use lanelight::scenario::Scenario;
use lanelight::squad::Level;
use program::{good, run, said, unbroken};

#[test]
fn a_comparison_shows_differences_their_size_and_how_sure_they_are() {
    let folder = tempfile::tempdir().unwrap();
    let page = good(
        folder.path(),
        &[
            "compare",
            "--tweak",
            "skip_pass",
            "--tweak",
            "skip_pass+high_post_flash",
            "--possessions",
            "60",
        ],
    );
    let plain = unbroken(&page);
    for part in [
        "60 possessions of each, seeds 1 to 60",
        "SKIP PASS, AGAINST HELP LINE",
        "SKIP PASS + HIGH-POST FLASH, AGAINST HELP LINE",
        "compared with: as it is",
        "points",
        "Common seeds: with separate seeds",
        "over all 16 headline",
    ] {
        assert!(plain.contains(part), "{part}\n{page}");
    }
    assert!(
        !page.contains(" p =") && !page.contains("p-value"),
        "{page}"
    );
    assert!(page.lines().all(|l| l.chars().count() <= 80), "{page}");
}

#[test]
fn the_same_seeds_give_the_same_bytes_on_one_thread_and_on_two() {
    let run = |threads: &str| {
        let folder = tempfile::tempdir().unwrap();
        let page = good(
            folder.path(),
            &[
                "compare",
                "--against",
                "sag",
                "--against",
                "denial",
                "--possessions",
                "40",
                "--seed",
                "9",
                "--threads",
                threads,
                "--summary-json",
                "c.json",
                "--summary-csv",
                "c.csv",
            ],
        );
        let read = |name: &str| fs::read(folder.path().join(name)).unwrap();
        (page, read("c.json"), read("c.csv"))
    };
    let one = run("1");
    assert!(one == run("2"));
    let json: serde_json::Value = serde_json::from_slice(&one.1).unwrap();
    assert_eq!(json["comparisons"].as_array().unwrap().len(), 1);
    assert_eq!(json["comparisons"][0]["base"], "as it is, against Sag");
    assert_eq!(json["possessions"], 40);
    let csv = String::from_utf8(one.2).unwrap();
    let cells = csv.lines().next().unwrap().split(',').count();
    assert_eq!(cells, 20);
}

#[test]
fn another_scenario_and_one_defence_are_compared_with_the_scenario_s_own() {
    let folder = tempfile::tempdir().unwrap();
    let one = good(
        folder.path(),
        &[
            "compare",
            "--against",
            "sag",
            "--possessions",
            "10",
            "--summary-json",
            "-",
        ],
    );
    let json: serde_json::Value = serde_json::from_str(&one).unwrap();
    assert_eq!(
        json["comparisons"][0]["base"],
        "as it is, against Help line"
    );
    assert_eq!(json["comparisons"][0]["changed"], "as it is, against Sag");
    // The same scenario under another name never differs.
    let demo = good(
        folder.path(),
        &["compare", "--with", "demo", "--possessions", "20"],
    );
    assert!(demo.contains("the two never differed"), "{demo}");
}

#[test]
fn before_and_after_are_looked_at_on_a_page_that_says_what_the_text_says() {
    let folder = tempfile::tempdir().expect("a folder");
    let args = [
        "compare",
        "--tweak",
        "skip_pass",
        "--possessions",
        "60",
        "--html",
        "c.html",
    ];
    let text = good(folder.path(), &args);
    let page = fs::read_to_string(folder.path().join("c.html")).expect("written");
    // What it is a figure of may stand on two lines.
    let row = |l: &&str| l.contains("possession ") && l.contains('(');
    let row = text.lines().find(row).expect("a headline figure");
    let figures: Vec<&str> = row
        .split("  ")
        .map(str::trim)
        .filter(|c| !c.is_empty())
        .collect();
    for cell in figures.iter().take(3) {
        assert!(page.contains(cell), "{cell} of {row}");
    }
    for said in [
        "<b>Before.</b>",
        "<b>After.</b>",
        "The two part at",
        "change, % of before",
    ] {
        assert!(page.contains(said), "{said}");
    }
    let stills: Vec<&str> = page.split("<figure class=\"still\">").skip(1).collect();
    assert_eq!(stills.len(), 2);
    let picture = |still: &str| still.split("</svg>").next().map(str::to_string);
    assert!(
        picture(stills[0]) != picture(stills[1]),
        "nothing has changed"
    );
    assert!(!page.contains("<script") && !page.contains("http:") | page.contains("www.w3.org"));
}

#[test]
fn senseless_comparisons_are_refused() {
    let folder = tempfile::tempdir().unwrap();
    for (args, part) in [
        (&["compare"][..], "nothing to compare with"),
        (
            &["compare", "--tweak", "skip_pas"][..],
            "nearest: skip_pass",
        ),
        (
            &["compare", "--tweak", "skip_pass", "--possessions", "0"][..],
            "at least one",
        ),
        (
            &["compare", "--tweak", "skip_pass+skip_pass"][..],
            "already",
        ),
    ] {
        let output = run(folder.path(), args);
        assert_eq!(output.status.code(), Some(2), "{args:?}");
        assert!(
            said(&output.stderr).contains(part),
            "{}",
            said(&output.stderr)
        );
    }
}

/// Skip and exchange, each compared with the reference offence, on typical varsity boys.
fn tweaks_against(defence: &str, possessions: u64) -> Comparison {
    let with = |tweaks: &[&str]| {
        let scenario = Scenario::from_parts(
            CourtCode::Nfhs,
            Level::VarsityBoys,
            "four_out_one_post",
            defence,
            tweaks,
        );
        Variation::new(tweaks.join(" "), scenario.unwrap())
    };
    let variations = [
        with(&[]),
        with(&["skip_pass"]),
        with(&["weak_side_exchange"]),
    ];
    let contrasts = [1, 2].map(|changed| Contrast { base: 0, changed });
    let contest = Contest {
        first_seed: 1,
        possessions,
        threads: 0,
    };
    let stop = AtomicBool::new(false);
    let c = contest
        .run(&variations, &contrasts, &|_| (), &stop)
        .unwrap();
    for (contrast, name) in ["skip pass", "exchange"].iter().enumerate() {
        for figure in GAINS {
            let d = c.difference(contrast, figure).unwrap();
            let e = d.found.difference.unwrap();
            println!(
                "{defence}, {name}, {figure}: {:.3} to {:.3}, {:+.3} ({:+.3} to {:+.3}) {:?}, gain {:.2}",
                d.found.a,
                d.found.b,
                e.value,
                e.low,
                e.high,
                d.verdict,
                d.found.gain.unwrap_or(f64::NAN)
            );
        }
    }
    c
}

/// Points, and the value of open looks.
const GAINS: [&str; 3] = ["points", "promised_points", "open_look_value"];

/// Less than this, points, is no gain to a coach, however surely it is told (open-look value is told to a
/// thousandth).
const PAYS: f64 = 0.01;

/// Those gains that stand after the correction over everything compared.
fn sure_gains(c: &Comparison) -> Vec<(usize, &'static str)> {
    let mut gains = Vec::new();
    for contrast in 0..2 {
        for figure in GAINS {
            let d = c.difference(contrast, figure).unwrap();
            let e = d.found.difference.unwrap();
            if d.verdict == Verdict::Sure && e.low > 0.0 && e.value >= PAYS {
                gains.push((contrast, figure));
            }
        }
    }
    gains
}

/// What is claimed of the skip and the exchange: they pay against a help line, not against a sag.
/// The first claim stands untuned; run it with `--ignored`. It comes out otherwise (floor of
/// November 2026, typical varsity boys, 1,500 seeds): against a help line the skip changes points by
/// +0.011 (-0.046 to +0.069), points promised by -0.015 (-0.036 to +0.006), open-look value by 0.000
/// (-0.001 to +0.001); the exchange by +0.037 (-0.025 to +0.099), -0.004 (-0.026 to +0.018), -0.001
/// (-0.002 to 0.000): nothing either way. Why (the demo, the 252 of 400 possessions that come out
/// otherwise with the skip): drives fall from 75 to 50 and balls lost off the dribble from 24 to 15,
/// catch-and-shoots rise from 63 to 76 and cuts from 44 to 59, but balls lost to a pass (bad,
/// intercepted or tipped) rise from 22 to 32: the long pass takes the ball to where the help has left
/// a man, and gives back in bad passes what it gains, since the defence has the flight to come out.
/// Examples: seeds 10 and 28, a drive that misses without the skip, an open three that goes in with it;
/// the other way round seeds 18 and 22, a score at the rim without it, the ball lost to a pass with it.
#[test]
#[ignore = "comes out otherwise: neither raises points or open-look value against a help line"]
fn the_skip_or_the_exchange_pays_against_a_help_line() {
    let gains = sure_gains(&tweaks_against("help_line", 1500));
    assert!(!gains.is_empty());
}

/// Nothing is told of points and of points promised; open-look value rises with the exchange, surely and for nothing,
/// by 0.001 to 0.002.
#[test]
fn neither_the_skip_nor_the_exchange_pays_against_a_sag() {
    let gains = sure_gains(&tweaks_against("sag", 1500));
    assert!(gains.is_empty(), "{gains:?}");
}

/// Whatever it brings, the tweak is played: skips are thrown, and none before.
#[test]
fn the_skip_tweak_gets_the_skip_thrown_against_a_help_line() {
    let found = tweaks_against("help_line", 400);
    let d = found.difference(0, "skip_used").unwrap().found;
    assert_eq!(d.a, 0.0);
    assert!(d.difference.unwrap().low > 0.3, "{:?}", d.difference);
}
