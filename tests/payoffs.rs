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
    shooting_at_once_gains_nothing_professional: PROFESSIONAL "bar" "at once";
    a_higher_bar_gains_nothing_professional: PROFESSIONAL "bar" "higher";
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
    sag_gives_up_the_fewest_shots_at_the_rim_professional: PROFESSIONAL "sag" "rim";
    sag_gives_up_the_most_open_threes_varsity: VARSITY "sag" "open threes";
    the_help_line_leaves_more_skips_than_sag_professional: PROFESSIONAL "help_line" "skip passes more than sag";
    backdoor_rules_pay_against_denial_professional: PROFESSIONAL "denial_backdoor" "rules";
    cuts_pay_against_the_help_line_professional: PROFESSIONAL "cut" "help line";
    denial_makes_possessions_longer_than_sag_varsity: VARSITY "denial_slows" "";
    backdoor_rules_pay_against_denial_varsity: VARSITY "denial_backdoor" "rules";
    #[ignore = "holds at 1,000 seeds, too close to call at 400: 0.08 higher, against sag -0.034 (-0.061 to -0.007); 0.08 higher, against help line -0.028 (-0.059 to +0.003); 0.08 higher, against denial -0.084 (-0.113 to -0.056); 0.08 higher, against mixed -0.074 (-0.100 to -0.048), 28 November 2026"]
    a_higher_bar_gains_nothing_varsity: VARSITY "bar" "higher";
    #[ignore = "measured at 1,000 seeds: against help line +0.010 (-0.019 to +0.039), 28 November 2026"]
    cuts_pay_against_the_help_line_varsity: VARSITY "cut" "help line";
    #[ignore = "holds at 1,000 seeds, too close to call at 400: shots at the rim fewer than, help line +0.043 (+0.008 to +0.078); 0.248 against 0.205; shots at the rim fewer than, denial +0.341 (+0.301 to +0.381); 0.546 against 0.205, 28 November 2026"]
    sag_gives_up_the_fewest_shots_at_the_rim_varsity: VARSITY "sag" "rim";
    #[ignore = "holds at 1,000 seeds, too close to call at 400: sag, help line and denial together +0.033 (+0.014 to +0.051), 28 November 2026"]
    slower_defenders_help_the_offence_varsity: VARSITY "slower" "";
    #[ignore = "holds at 1,000 seeds, too close to call at 400: sag, help line and denial together +0.019 (+0.000 to +0.038), 28 November 2026"]
    slower_defenders_help_the_offence_professional: PROFESSIONAL "slower" "";
    #[ignore = "measured at 1,000 seeds: against sag +0.013 (-0.014 to +0.041), 28 November 2026"]
    cuts_pay_against_sag_professional: PROFESSIONAL "cut" "sag";
    #[ignore = "holds at 1,000 seeds, too close to call at 400: lost balls +0.041 (+0.009 to +0.073); 0.174 against 0.133, 28 November 2026"]
    denial_takes_more_balls_than_sag_varsity: VARSITY "denial_takes" "";
    #[ignore = "measured at 1,000 seeds: sag, help line and denial together +0.000 (-0.016 to +0.017), 28 November 2026"]
    a_post_who_never_moves_hurts_the_offence_varsity: VARSITY "still_post" "";
    #[ignore = "holds at 1,000 seeds, too close to call at 400: at once, against sag -0.030 (-0.058 to -0.003); at once, against help line -0.017 (-0.047 to +0.013); at once, against denial -0.094 (-0.129 to -0.058); at once, against mixed -0.038 (-0.066 to -0.010), 28 November 2026"]
    shooting_at_once_gains_nothing_varsity: VARSITY "bar" "at once";
    #[ignore = "measured at 1,000 seeds: 0.08 lower, against sag +0.006 (-0.020 to +0.032); 0.08 lower, against help line +0.006 (-0.025 to +0.036); 0.08 lower, against denial -0.004 (-0.037 to +0.028); 0.08 lower, against mixed -0.003 (-0.031 to +0.024), 28 November 2026"]
    a_lower_bar_gains_nothing_varsity: VARSITY "bar" "lower";
    #[ignore = "measured at 1,000 seeds: 0.08 lower, against sag +0.005 (-0.019 to +0.030); 0.08 lower, against help line +0.006 (-0.020 to +0.031); 0.08 lower, against denial -0.001 (-0.026 to +0.023), 28 November 2026"]
    a_lower_bar_gains_nothing_professional: PROFESSIONAL "bar" "lower";
    #[ignore = "measured at 1,000 seeds: weak-side threes more than sag -0.136 (-0.223 to -0.049); 0.935 against 1.071, 28 November 2026"]
    the_help_line_leaves_the_most_weak_side_threes_professional: PROFESSIONAL "help_line" "weak-side threes";
    #[ignore = "measured at 1,000 seeds: sag, help line and denial together +0.004 (-0.017 to +0.025), 28 November 2026"]
    wider_spacing_helps_the_offence_professional: PROFESSIONAL "spacing" "";
    #[ignore = "measured at 1,000 seeds: sag, help line and denial together +0.010 (-0.009 to +0.028), 28 November 2026"]
    a_post_who_never_moves_hurts_the_offence_professional: PROFESSIONAL "still_post" "";
    #[ignore = "measured at 1,000 seeds: against sag +0.001 (-0.025 to +0.026), 28 November 2026"]
    cuts_pay_against_sag_varsity: VARSITY "cut" "sag";
    #[ignore = "measured at 1,000 seeds: against sag +0.126 (+0.079 to +0.194); 19 passes, 125 shots, 7 lost; against help line +0.228 (+0.184 to +0.280); 69 passes, 216 shots, 17 lost; against denial +0.119 (+0.078 to +0.177); 21 passes, 146 shots, 9 lost, 28 November 2026"]
    most_helped_attacks_are_answered_by_a_pass_varsity: VARSITY "help_answered" "";
    #[ignore = "measured at 1,000 seeds: against sag +0.364 (+0.216 to +0.543); 12 passes, 20 shots, 1 lost; against help line +0.094 (+0.048 to +0.177); 8 passes, 72 shots, 5 lost; against denial +0.239 (+0.138 to +0.382); 11 passes, 35 shots, 0 lost, 28 November 2026"]
    most_helped_attacks_are_answered_by_a_pass_professional: PROFESSIONAL "help_answered" "";
    #[ignore = "measured at 1,000 seeds: against sag -0.074 (-0.176 to +0.027); pass 0.85, shot 0.92; against help line -0.220 (-0.311 to -0.130); pass 0.69, shot 0.91; against denial -0.154 (-0.346 to +0.038); pass 0.76, shot 0.92, 28 November 2026"]
    the_pass_out_of_help_pays_varsity: VARSITY "help_punished" "";
    #[ignore = "measured at 1,000 seeds: against sag -0.213 (-0.454 to +0.028); pass 0.86, shot 1.07; against help line -0.172 (-0.483 to +0.139); pass 0.94, shot 1.11; against denial -0.456 (-0.778 to -0.135); pass 0.63, shot 1.08, 28 November 2026"]
    the_pass_out_of_help_pays_professional: PROFESSIONAL "help_punished" "";
    #[ignore = "measured at 1,000 seeds: than against sag +0.015 (-0.013 to +0.044); sag 0.748, zone 0.733; than against help line -0.032 (-0.064 to +0.001); help line 0.701, zone 0.733; than against mixed +0.011 (-0.018 to +0.039); mixed 0.743, zone 0.733, 28 November 2026"]
    the_zone_gives_up_the_fewest_points_varsity: VARSITY "zone" "";
    #[ignore = "measured at 1,000 seeds: than against sag -0.009 (-0.040 to +0.022); sag 0.951, zone 0.960; than against help line -0.002 (-0.036 to +0.031); help line 0.958, zone 0.960; than against mixed +0.008 (-0.022 to +0.038); mixed 0.968, zone 0.960, 28 November 2026"]
    the_zone_gives_up_the_fewest_points_professional: PROFESSIONAL "zone" "";
    #[ignore = "measured at 1,000 seeds: length -2.384 (-2.937 to -1.830); 10.252 against 12.635, 28 November 2026"]
    denial_makes_possessions_longer_than_sag_professional: PROFESSIONAL "denial_slows" "";
    #[ignore = "measured at 1,000 seeds: lost balls +0.023 (-0.004 to +0.050); 0.120 against 0.097, 28 November 2026"]
    denial_takes_more_balls_than_sag_professional: PROFESSIONAL "denial_takes" "";
    #[ignore = "holds at 1,000 seeds, too close to call at 400: post feeds fewer than, help line +0.033 (+0.000 to +0.066); 0.181 against 0.148; post feeds fewer than, denial +0.045 (+0.010 to +0.080); 0.193 against 0.148, 28 November 2026"]
    sag_allows_the_fewest_post_feeds_varsity: VARSITY "sag" "post feeds";
    #[ignore = "measured at 1,000 seeds: post feeds fewer than, help line +0.002 (-0.037 to +0.041); 0.251 against 0.249; post feeds fewer than, denial -0.131 (-0.167 to -0.095); 0.118 against 0.249, 28 November 2026"]
    sag_allows_the_fewest_post_feeds_professional: PROFESSIONAL "sag" "post feeds";
    #[ignore = "measured at 1,000 seeds: skip passes more than sag -0.015 (-0.215 to +0.185); 3.269 against 3.284; weak-side threes more than sag +0.016 (-0.042 to +0.074); 0.365 against 0.349, 28 November 2026"]
    the_help_line_leaves_more_skips_and_weak_side_threes_than_sag_varsity: VARSITY "help_line" "than sag";
    #[ignore = "measured at 1,000 seeds: sag, help line and denial together -0.010 (-0.029 to +0.010), 28 November 2026"]
    wider_spacing_helps_the_offence_varsity: VARSITY "spacing" "";
}

/// Only the spots change when spacing is compared.
#[test]
fn a_court_with_its_own_spots_is_that_court() {
    for court in CourtCode::ALL {
        assert_eq!(court_with_spots(court, court), *Court::of(court));
    }
}
