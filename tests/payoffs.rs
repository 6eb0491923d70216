//! Payoffs that a coach knows (common practice), at small size: 400 seeds a match-up. The bench `payoffs`
//! measures all of them at 3,000 (`tests/PAYOFFS.md`). A claim that does not hold today, or is too
//! close to call, stands here all the same, ignored, with the figure that came out.

#[path = "payoffs/mod.rs"]
mod payoffs;

use std::sync::LazyLock;

use lanelight::court::{Court, CourtCode};
use payoffs::claims::{CLAIMS, Verdict};
use payoffs::lab::{Lab, Tier, court_with_spots};

const SEEDS: u64 = 400;

static VARSITY: LazyLock<Lab> = LazyLock::new(|| Lab::new(Tier::Varsity, SEEDS));
static PROFESSIONAL: LazyLock<Lab> = LazyLock::new(|| Lab::new(Tier::Professional, SEEDS));

/// Every part of the claim whose words hold `part` holds clearly.
fn holds(lab: &Lab, name: &str, part: &str) {
    let claim = CLAIMS.iter().find(|c| c.name == name).expect("a claim");
    let mut found = (claim.measure)(lab, part);
    found.retain(|f| f.part.contains(part));
    assert!(!found.is_empty(), "{name} has no part {part}");
    let short: Vec<String> = found
        .iter()
        .filter(|f| f.verdict != Verdict::Holds)
        .map(|f| {
            format!(
                "{} {:?} {}: {}",
                f.part,
                f.estimate,
                f.note,
                f.verdict.word()
            )
        })
        .collect();
    let level = lab.tier.word();
    assert!(
        short.is_empty(),
        "{level}: {}\n{}",
        claim.sentence,
        short.join("\n")
    );
}

/// One test for each claim and level: its name, the level, the claim and its part.
macro_rules! claims {
    ($($(#[$why:meta])* $test:ident: $lab:ident $name:literal $part:literal;)*) => {
        $(
            #[test]
            $(#[$why])*
            fn $test() {
                holds(&$lab, $name, $part);
            }
        )*
    };
}

claims! {
    #[ignore = "holds at 3,000 seeds, too close to call at 400, 30 November 2026"]
    shooting_at_once_gains_nothing_professional: PROFESSIONAL "bar" "at once";
    #[ignore = "holds at 3,000 seeds, too close to call at 400, 30 November 2026"]
    a_higher_bar_gains_nothing_professional: PROFESSIONAL "bar" "higher";
    #[ignore = "at 3,000 seeds: against denial +0.013 (-0.003 to +0.030), too close to call, 30 November 2026"]
    cuts_pay_against_denial_varsity: VARSITY "cut" "denial";
    cuts_pay_against_denial_professional: PROFESSIONAL "cut" "denial";
    denial_leaves_more_backdoor_chances_than_sag_varsity: VARSITY "denial_backdoor" "chances";
    denial_leaves_more_backdoor_chances_than_sag_professional: PROFESSIONAL "denial_backdoor" "chances";
    a_pass_to_a_backdoor_cut_pays_against_denial_varsity: VARSITY "denial_backdoor" "a pass to";
    sag_gives_up_the_most_open_threes_professional: PROFESSIONAL "sag" "open threes";
    the_help_line_leaves_more_skips_and_weak_side_threes_than_denial_varsity: VARSITY "help_line" "than denial";
    the_help_line_leaves_more_skips_and_weak_side_threes_than_denial_professional: PROFESSIONAL "help_line" "than denial";
    better_shooters_help_the_offence_varsity: VARSITY "shooters" "";
    better_shooters_help_the_offence_professional: PROFESSIONAL "shooters" "";
    a_pass_to_a_backdoor_cut_pays_against_denial_professional: PROFESSIONAL "denial_backdoor" "a pass to";
    #[ignore = "at 3,000 seeds: shots at the rim fewer than, help line +0.005 (-0.015 to +0.026); 0.208 against 0.202, too close to call, 30 November 2026"]
    sag_gives_up_the_fewest_shots_at_the_rim_professional: PROFESSIONAL "sag" "rim";
    #[ignore = "holds at 3,000 seeds, too close to call at 400, 30 November 2026"]
    sag_gives_up_the_most_open_threes_varsity: VARSITY "sag" "open threes";
    the_help_line_leaves_more_skips_than_sag_professional: PROFESSIONAL "help_line" "skip passes more than sag";
    #[ignore = "holds at 3,000 seeds, too close to call at 400, 30 November 2026"]
    backdoor_rules_pay_against_denial_professional: PROFESSIONAL "denial_backdoor" "rules";
    #[ignore = "at 3,000 seeds: against help line +0.002 (-0.016 to +0.019), too close to call, 30 November 2026"]
    cuts_pay_against_the_help_line_professional: PROFESSIONAL "cut" "help line";
    slower_defenders_help_the_offence_professional: PROFESSIONAL "slower" "";
    shooting_at_once_gains_nothing_varsity: VARSITY "bar" "at once";
    #[ignore = "at 3,000 seeds: sag, help line and denial together -0.006 (-0.016 to +0.004), too close to call, 30 November 2026"]
    wider_spacing_helps_the_offence_professional: PROFESSIONAL "spacing" "";
    #[ignore = "at 3,000 seeds: length -4.239 (-4.544 to -3.933); 6.389 against 10.628, does not hold, 30 November 2026"]
    denial_makes_possessions_longer_than_sag_varsity: VARSITY "denial_slows" "";
    #[ignore = "holds at 3,000 seeds, too close to call at 400, 30 November 2026"]
    backdoor_rules_pay_against_denial_varsity: VARSITY "denial_backdoor" "rules";
    a_higher_bar_gains_nothing_varsity: VARSITY "bar" "higher";
    #[ignore = "at 3,000 seeds: against help line -0.012 (-0.027 to +0.003), too close to call, 30 November 2026"]
    cuts_pay_against_the_help_line_varsity: VARSITY "cut" "help line";
    #[ignore = "at 3,000 seeds: shots at the rim fewer than, help line -0.029 (-0.047 to -0.011); 0.138 against 0.167, does not hold, 30 November 2026"]
    sag_gives_up_the_fewest_shots_at_the_rim_varsity: VARSITY "sag" "rim";
    #[ignore = "holds at 3,000 seeds, too close to call at 400, 30 November 2026"]
    slower_defenders_help_the_offence_varsity: VARSITY "slower" "";
    #[ignore = "at 3,000 seeds: against sag -0.021 (-0.036 to -0.005), does not hold, 30 November 2026"]
    cuts_pay_against_sag_professional: PROFESSIONAL "cut" "sag";
    #[ignore = "holds at 3,000 seeds, too close to call at 400, 30 November 2026"]
    denial_takes_more_balls_than_sag_varsity: VARSITY "denial_takes" "";
    #[ignore = "holds at 3,000 seeds, too close to call at 400, 30 November 2026"]
    a_post_who_never_moves_hurts_the_offence_varsity: VARSITY "still_post" "";
    #[ignore = "holds at 3,000 seeds, too close to call at 400, 30 November 2026"]
    a_lower_bar_gains_nothing_varsity: VARSITY "bar" "lower";
    #[ignore = "holds at 3,000 seeds, too close to call at 400, 30 November 2026"]
    a_lower_bar_gains_nothing_professional: PROFESSIONAL "bar" "lower";
    #[ignore = "holds at 3,000 seeds, too close to call at 400, 30 November 2026"]
    the_help_line_leaves_the_most_weak_side_threes_professional: PROFESSIONAL "help_line" "weak-side threes";
    #[ignore = "at 3,000 seeds: sag, help line and denial together +0.006 (-0.002 to +0.013), too close to call, 30 November 2026"]
    a_post_who_never_moves_hurts_the_offence_professional: PROFESSIONAL "still_post" "";
    #[ignore = "at 3,000 seeds: against sag -0.002 (-0.016 to +0.012), too close to call, 30 November 2026"]
    cuts_pay_against_sag_varsity: VARSITY "cut" "sag";
    #[ignore = "at 3,000 seeds: against sag +0.125 (+0.104 to +0.149); 104 passes, 713 shots, 14 lost, does not hold; against help line +0.110 (+0.091 to +0.131); 102 passes, 783 shots, 45 lost, does not hold; against denial +0.062 (+0.051 to +0.074); 106 passes, 1549 shots, 61 lost, does not hold, 30 November 2026"]
    most_helped_attacks_are_answered_by_a_pass_varsity: VARSITY "help_answered" "";
    #[ignore = "at 3,000 seeds: against sag +0.194 (+0.170 to +0.220); 196 passes, 796 shots, 19 lost, does not hold; against help line +0.148 (+0.129 to +0.169); 174 passes, 969 shots, 34 lost, does not hold; against denial +0.066 (+0.055 to +0.080); 103 passes, 1426 shots, 26 lost, does not hold, 30 November 2026"]
    most_helped_attacks_are_answered_by_a_pass_professional: PROFESSIONAL "help_answered" "";
    #[ignore = "at 3,000 seeds: against sag -0.066 (-0.120 to -0.012); pass 0.80, shot 0.86, does not hold; against help line -0.080 (-0.139 to -0.022); pass 0.75, shot 0.84, does not hold; against denial -0.051 (-0.112 to +0.009); pass 0.79, shot 0.84, too close to call, 30 November 2026"]
    the_pass_out_of_help_pays_varsity: VARSITY "help_punished" "";
    #[ignore = "at 3,000 seeds: against sag -0.105 (-0.159 to -0.050); pass 0.96, shot 1.06, does not hold; against help line -0.103 (-0.159 to -0.047); pass 0.96, shot 1.06, does not hold; against denial -0.113 (-0.188 to -0.038); pass 0.93, shot 1.04, does not hold, 30 November 2026"]
    the_pass_out_of_help_pays_professional: PROFESSIONAL "help_punished" "";
    #[ignore = "at 3,000 seeds: than against help line -0.027 (-0.042 to -0.011); help line 0.690, zone 0.716, does not hold, 30 November 2026"]
    the_zone_gives_up_the_fewest_points_varsity: VARSITY "zone" "";
    #[ignore = "at 3,000 seeds: than against sag +0.009 (-0.009 to +0.026); sag 0.937, zone 0.928, too close to call; than against help line -0.023 (-0.040 to -0.006); help line 0.905, zone 0.928, does not hold; than against mixed +0.009 (-0.010 to +0.027); mixed 0.937, zone 0.928, too close to call, 30 November 2026"]
    the_zone_gives_up_the_fewest_points_professional: PROFESSIONAL "zone" "";
    #[ignore = "at 3,000 seeds: length -2.114 (-2.318 to -1.911); 4.977 against 7.091, does not hold, 30 November 2026"]
    denial_makes_possessions_longer_than_sag_professional: PROFESSIONAL "denial_slows" "";
    #[ignore = "at 3,000 seeds: lost balls +0.012 (-0.002 to +0.027); 0.103 against 0.090, too close to call, 30 November 2026"]
    denial_takes_more_balls_than_sag_professional: PROFESSIONAL "denial_takes" "";
    #[ignore = "at 3,000 seeds: post feeds fewer than, denial -0.097 (-0.114 to -0.081); 0.063 against 0.161, does not hold, 30 November 2026"]
    sag_allows_the_fewest_post_feeds_varsity: VARSITY "sag" "post feeds";
    #[ignore = "at 3,000 seeds: post feeds fewer than, help line -0.031 (-0.046 to -0.016); 0.089 against 0.119, does not hold; post feeds fewer than, denial -0.086 (-0.100 to -0.072); 0.033 against 0.119, does not hold, 30 November 2026"]
    sag_allows_the_fewest_post_feeds_professional: PROFESSIONAL "sag" "post feeds";
    the_help_line_leaves_more_skips_and_weak_side_threes_than_sag_varsity: VARSITY "help_line" "than sag";
    #[ignore = "at 3,000 seeds: sag, help line and denial together -0.020 (-0.029 to -0.010), does not hold, 30 November 2026"]
    wider_spacing_helps_the_offence_varsity: VARSITY "spacing" "";
}

/// Only the spots change when spacing is compared.
#[test]
fn a_court_with_its_own_spots_is_that_court() {
    for court in CourtCode::ALL {
        assert_eq!(court_with_spots(court, court), *Court::of(court));
    }
}
