//! Where defenders stand, against the published fit.
//!
//! Franks, Miller, Bornn and Goldsberry (2015), *Characterizing the spatial structure of defensive
//! skill in professional basketball*, Annals of Applied Statistics 9(1) 94–121: the mean place of a
//! man-to-man defender is 0.62 · attacker + 0.11 · ball + 0.27 · hoop (read in a full-text note on
//! the paper). A trap: code seen in public that follows the paper swaps two of the weights; the order
//! is attacker, ball, hoop, and on the ball it is 0.73 · attacker + 0.27 · hoop.
//!
//! Their possessions are whole ones of many offences; ours are half-court possessions of the
//! reference offence, so a band of ±0.06 is asked for, and not theirs of ±0.02.

use std::sync::LazyLock;

use lanelight::court::CourtCode;
use lanelight::scenario::Scenario;
use lanelight::scrimmage::frames::Frames;
use lanelight::scrimmage::franks::{Fit, Matching};
use lanelight::squad::Level;

/// Possessions of each fit; a bootstrap interval of ±0.003 or so.
const POSSESSIONS: u64 = if cfg!(debug_assertions) { 60 } else { 600 };
const BAND: f64 = 0.06;

struct Fits(Vec<(&'static str, Frames)>);

static FITS: LazyLock<Fits> = LazyLock::new(|| {
    let models = ["mixed_professional", "sag", "denial", "help_line"];
    let fits = Fits(
        models
            .map(|model| {
                let scenario = Scenario::from_parts(
                    CourtCode::Nba,
                    Level::ProMen,
                    "four_out_one_post",
                    model,
                    &[],
                )
                .expect("a shipped scenario");
                let frames = Frames::of(&scenario, 1, POSSESSIONS, 0).expect("a sound plan");
                (model, frames)
            })
            .into(),
    );
    for (model, frames) in &fits.0 {
        println!("{model}\n{}", lanelight::report::frames::fits(frames));
    }
    fits
});

fn fit(model: &str, matching: Matching) -> Fit {
    let found = FITS.0.iter().find(|(m, _)| *m == model);
    let (_, frames) = found.expect("one of the four");
    frames.fit(matching).expect("enough possessions")
}

#[test]
fn the_mixed_professional_model_stands_where_the_paper_found_defenders() {
    for matching in [Matching::Given, Matching::Nearest] {
        let fit = fit("mixed_professional", matching);
        for (name, e, paper) in [
            ("attacker", fit.attacker, 0.62),
            ("ball", fit.ball, 0.11),
            ("hoop", fit.hoop, 0.27),
        ] {
            assert!(
                (e.value - paper).abs() <= BAND,
                "{name}, {matching:?}: {:.3} ({:.3} to {:.3}), not {paper}",
                e.value,
                e.low,
                e.high
            );
        }
    }
}

#[test]
fn the_nearest_assignment_finds_nearly_the_men_that_are_guarded() {
    let given = fit("mixed_professional", Matching::Given);
    let nearest = fit("mixed_professional", Matching::Nearest);
    assert!((given.attacker.value - nearest.attacker.value).abs() < 0.02);
    assert!((given.ball.value - nearest.ball.value).abs() < 0.02);
}

#[test]
fn sag_stands_nearer_the_rim_than_the_paper_and_the_mixed_model() {
    let sag = fit("sag", Matching::Given);
    let mixed = fit("mixed_professional", Matching::Given);
    assert!(sag.hoop.low > 0.27, "{:?}", sag.hoop);
    assert!(
        sag.hoop.low > mixed.hoop.high,
        "{:?} {:?}",
        sag.hoop,
        mixed.hoop
    );
}

#[test]
fn denial_stands_on_the_man_and_the_balls_side_of_him_and_away_from_the_rim() {
    let denial = fit("denial", Matching::Given);
    let mixed = fit("mixed_professional", Matching::Given);
    assert!(
        denial.attacker.low > mixed.attacker.high + BAND,
        "{denial:?}"
    );
    assert!(denial.hoop.high < mixed.hoop.low - BAND, "{denial:?}");
    // Of what is not man, the ball has the larger part, against the paper's 0.11 of 0.38.
    assert!(denial.ball.low > denial.hoop.high, "{denial:?}");
}

#[test]
fn the_help_line_leaves_men_two_passes_away_more_than_any_other() {
    let help = fit("help_line", Matching::GivenWeakSide);
    for model in ["mixed_professional", "sag", "denial"] {
        let other = fit(model, Matching::GivenWeakSide);
        assert!(
            help.attacker.high < other.attacker.low,
            "{model}: {:?} {:?}",
            help.attacker,
            other.attacker
        );
    }
    // All five together: nearer the ball than the paper's defenders, by the gaps of those one pass
    // away and the pull of the line.
    let all = fit("help_line", Matching::Given);
    let mixed = fit("mixed_professional", Matching::Given);
    assert!(
        all.ball.low > mixed.ball.high,
        "{:?} {:?}",
        all.ball,
        mixed.ball
    );
}

#[test]
fn the_four_models_stand_apart_from_each_other() {
    let fits =
        ["mixed_professional", "sag", "denial", "help_line"].map(|m| fit(m, Matching::Given));
    for (i, a) in fits.iter().enumerate() {
        for b in &fits[..i] {
            let apart = a.attacker.separate_from(&b.attacker)
                || a.ball.separate_from(&b.ball)
                || a.hoop.separate_from(&b.hoop);
            assert!(apart, "{a:?}\n{b:?}");
        }
    }
}
