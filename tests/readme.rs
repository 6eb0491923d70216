//! What README.md and scenarios/REPORT.md show is what the program does.

mod program;

use std::fs;
use std::path::Path;

use program::good;

const README: &str = include_str!("../README.md");
const REPORT: &str = include_str!("../scenarios/REPORT.md");

/// The lines of every fenced block of a language.
fn blocks(language: &str) -> Vec<&'static str> {
    let mut inside = false;
    let mut lines = Vec::new();
    for line in README.lines().chain(REPORT.lines()) {
        if let Some(fence) = line.strip_prefix("```") {
            inside = !inside && fence == language;
        } else if inside {
            lines.push(line);
        }
    }
    lines
}

/// After a change of the model, copy the new lines from `cargo run --release` into scenarios/REPORT.md,
/// and read the sentences beside them once more: they must still be true of the new figures.
#[test]
fn the_report_lines_that_are_explained_are_what_the_demo_prints() {
    let folder = tempfile::tempdir().expect("a folder");
    let page = good(folder.path(), &[]);
    let shown = blocks("text");
    assert!(shown.len() > 5, "{shown:?}");
    let mut gone = String::new();
    for line in shown {
        if page.lines().any(|printed| printed == line) {
            continue;
        }
        let label: String = line.chars().take(16).collect();
        let now: Vec<_> = page.lines().filter(|l| l.starts_with(&label)).collect();
        gone += &format!(
            "no longer: {line}\nnow:       {}\n",
            now.join("\n           ")
        );
    }
    assert!(gone.is_empty(), "\n{gone}");
}

#[test]
fn every_command_in_the_readme_works() {
    let folder = tempfile::tempdir().expect("a folder");
    let offences = folder.path().join("scenarios/offences");
    fs::create_dir_all(&offences).expect("a folder");
    for file in fs::read_dir("scenarios/offences").expect("the shipped offences") {
        let file = file.expect("a file").path();
        fs::copy(&file, offences.join(file.file_name().unwrap_or_default())).expect("a copy");
    }
    let mut ran = 0;
    for line in blocks("sh") {
        let command = line.split('#').next().unwrap_or("").trim();
        let Some(args) = command.strip_prefix("cargo run --release -- ") else {
            assert!(
                [
                    "cargo run --release",
                    "cargo run --release --features window -- window",
                    "tests/run"
                ]
                .contains(&command),
                "{line}"
            );
            continue;
        };
        let args: Vec<&str> = args.split_whitespace().collect();
        assert!(!good(folder.path(), &args).is_empty(), "{line}");
        ran += 1;
    }
    assert!(ran >= 5, "only {ran} commands found");
}

/// What a newcomer reads first: one page, and every file that it leads to is there.
#[test]
fn the_readme_is_one_page_and_its_links_lead_somewhere() {
    assert!(README.lines().count() <= 75, "more than a page");
    for (page, folder) in [(README, "."), (REPORT, "scenarios")] {
        let mut links = 0;
        for piece in page.split("](").skip(1) {
            let link = piece.split(')').next().unwrap_or("");
            if !link.starts_with("https://") {
                assert!(Path::new(folder).join(link).exists(), "{link}");
                links += 1;
            }
        }
        assert!(links > 0);
    }
}
