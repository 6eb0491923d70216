//! The statistics against values that others certified or published.
//!
//! Agreement is stated as correct digits, −log₁₀ of the relative error (the NIST StRD project's
//! own measure). README.md explains the labels.

use approx::assert_relative_eq;
use lanelight::stats::*;

/// Correct digits of `got`; 15 at most.
fn digits(got: f64, certified: f64) -> f64 {
    let error = ((got - certified) / certified).abs();
    if error == 0.0 {
        return 15.0;
    }
    (-libm::log10(error)).min(15.0)
}

fn at_least(name: &str, got: f64, certified: f64, wanted: f64) {
    let d = digits(got, certified);
    println!("{name}: {got:.15e}, {d:.1} digits");
    assert!(
        d >= wanted,
        "{name}: {got:e} against {certified:e}, {d:.1} digits"
    );
}

fn tokens(fixture: &str) -> Vec<f64> {
    fixture
        .lines()
        .filter(|l| !l.starts_with('#'))
        .flat_map(str::split_whitespace)
        .map(|t| t.parse().expect("fixture holds numbers"))
        .collect()
}

/// Rows "group value", groups numbered from 1 in order.
fn grouped(fixture: &str) -> Vec<Vec<f64>> {
    let mut groups: Vec<Vec<f64>> = Vec::new();
    for row in tokens(fixture).chunks(2) {
        let group = row[0] as usize;
        groups.resize(groups.len().max(group), Vec::new());
        groups[group - 1].push(row[1]);
    }
    groups
}

// --- NIST StRD, analysis of variance ---------------------------------------------------------

/// [read: scipy 1.17.1 wheel, tests/data/nist_anova]
#[test]
fn nist_sirstv_analysis_of_variance() {
    let groups = grouped(include_str!("../fixtures/statistics/SiRstv.txt"));
    assert_eq!(groups.iter().map(Vec::len).collect::<Vec<_>>(), [5; 5]);
    let a = anova_one_way(&groups).unwrap();
    assert_eq!((a.between_df, a.within_df), (4, 20));
    at_least(
        "SiRstv between",
        a.between_ss,
        5.114_626_160_000_00E-02,
        12.0,
    );
    at_least("SiRstv within", a.within_ss, 2.166_365_600_000_00E-01, 12.0);
    at_least("SiRstv F", a.f, 1.180_462_374_402_55, 12.0);
    at_least("SiRstv R2", a.r2, 0.190_999_039_051_129, 12.0);
    at_least(
        "SiRstv residual sd",
        a.residual_sd,
        0.104_076_068_334_656,
        12.0,
    );
    // [computed here, scipy 1.17.1]
    at_least("SiRstv p", a.p, 0.349_447_493_402_193_3, 12.0);
}

/// Seven constant leading digits. [read: scipy 1.17.1 wheel, tests/data/nist_anova]
#[test]
fn nist_atmwtag_analysis_of_variance() {
    let groups = grouped(include_str!("../fixtures/statistics/AtmWtAg.txt"));
    assert_eq!(groups.iter().map(Vec::len).collect::<Vec<_>>(), [24, 24]);
    let a = anova_one_way(&groups).unwrap();
    at_least("AtmWtAg F", a.f, 15.946_733_567_793_0, 9.0);
    at_least("AtmWtAg R2", a.r2, 0.257_426_544_538_321, 9.0);
    at_least(
        "AtmWtAg residual sd",
        a.residual_sd,
        1.510_483_144_464_10E-05,
        9.0,
    );
}

/// Simon and Lesage's groups: first value `base + top`, then alternately a tenth below and above.
/// [read: scipy 1.17.1 wheel; the pattern checked against its files here]
fn smls(base: u64, replicates: usize) -> Vec<Vec<f64>> {
    let value = |tenths: u64| -> f64 {
        let whole = base + tenths / 10;
        format!("{whole}.{}", tenths % 10).parse().unwrap()
    };
    [4, 3, 5, 3, 5, 3, 5, 3, 5]
        .iter()
        .map(|top| {
            let alternate = (1..replicates).map(|j| if j % 2 == 1 { top - 1 } else { top + 1 });
            std::iter::once(*top).chain(alternate).map(value).collect()
        })
        .collect()
}

/// F certified 21, 201, 2001 in each set, SmLs01–09. [read: scipy 1.17.1 wheel,
/// tests/data/nist_anova]. In SmLs07–09 (13 constant digits) the data themselves, stored as
/// doubles, have another F: digits beyond the fourth cannot be had from f64 input.
#[test]
fn nist_smls_analyses_of_variance() {
    for (base, wanted) in [(1, 12.0), (1_000_000, 9.0), (1_000_000_000_000, 4.0)] {
        for (replicates, f) in [(21, 21.0), (201, 201.0), (2001, 2001.0)] {
            let a = anova_one_way(&smls(base, replicates)).unwrap();
            at_least(
                &format!("SmLs base {base}, {replicates} each: F"),
                a.f,
                f,
                wanted,
            );
        }
    }
}

/// F of the stored doubles by exact rational arithmetic. [computed here]
#[test]
fn smls_loses_nothing_beyond_the_rounding_of_its_data() {
    for (base, replicates, exact) in [
        (1_000_000, 21, 21.000_000_000_776_1),
        (1_000_000, 201, 201.000_000_012_417_64),
        (1_000_000_000_000, 21, 21.000_811_887_818_77),
        (1_000_000_000_000, 201, 201.013_004_095_948_45),
    ] {
        let a = anova_one_way(&smls(base, replicates)).unwrap();
        at_least(
            &format!("SmLs base {base}, {replicates} each, as stored"),
            a.f,
            exact,
            12.0,
        );
    }
}

// --- NIST StRD, univariate ------------------------------------------------------------------

/// [read: regenerated exactly here]
#[test]
fn nist_numacc_means_and_spreads() {
    let one: Tally = [10_000_001.0, 10_000_003.0, 10_000_002.0]
        .into_iter()
        .collect();
    assert_eq!((one.mean(), one.sd()), (Some(10_000_002.0), Some(1.0)));
    for (set, base, wanted) in [
        (2, 12_u64, 13.0),
        (3, 10_000_002, 9.0),
        (4, 100_000_002, 8.0),
    ] {
        let value =
            |tenths: u64| -> f64 { format!("{}.{}", tenths / 10, tenths % 10).parse().unwrap() };
        let alternate = (1..1001).map(|i| if i % 2 == 1 { base - 1 } else { base + 1 });
        let t: Tally = std::iter::once(base).chain(alternate).map(value).collect();
        assert_eq!(t.n(), 1001);
        at_least(
            &format!("NumAcc{set} mean"),
            t.mean().unwrap(),
            value(base),
            14.0,
        );
        at_least(&format!("NumAcc{set} sd"), t.sd().unwrap(), 0.1, wanted);
    }
}

/// [read: recomputed here from the R `morley` data]
#[test]
fn nist_michelso_mean_and_spread() {
    let thousandths = tokens(include_str!("../fixtures/statistics/Michelso.txt"));
    assert_eq!(thousandths.len(), 100);
    let t: Tally = thousandths.iter().map(|v| 299.0 + v / 1000.0).collect();
    at_least("Michelso mean", t.mean().unwrap(), 299.8524, 14.0);
    at_least(
        "Michelso sd",
        t.sd().unwrap(),
        0.079_010_547_819_051_8,
        12.0,
    );
}

// --- proportions ----------------------------------------------------------------------------

/// The first four are the examples of Newcombe 1998, Stat. Med. 17 857–872, from memory.
/// [computed here, agrees with scipy]
#[test]
fn wilson_examples() {
    for (s, n, low, high) in [
        (81, 263, 0.255_289, 0.366_210),
        (15, 148, 0.062_386, 0.160_487),
        (0, 20, 0.0, 0.161_125),
        (1, 29, 0.006_113, 0.171_755),
        (5, 10, 0.236_593, 0.763_407),
        (50, 100, 0.403_832, 0.596_168),
        (500, 1000, 0.469_070, 0.530_930),
        (10, 10, 0.722_467, 1.0),
    ] {
        let e = wilson(s, n, 0.95).unwrap();
        assert_relative_eq!(e.low, low, epsilon = 5.1e-7);
        assert_relative_eq!(e.high, high, epsilon = 5.1e-7);
        assert_eq!((e.value, e.n), (s as f64 / n as f64, n));
    }
    assert_eq!(wilson(0, 20, 0.95).unwrap().low, 0.0);
    assert_eq!(wilson(10, 10, 0.95).unwrap().high, 1.0);
}

/// Newcombe's hybrid score. [computed here]
#[test]
fn newcombe_example() {
    let e = newcombe_difference(56, 70, 48, 80, 0.95).unwrap();
    assert_relative_eq!(e.value, 0.20, epsilon = 1e-15);
    assert_relative_eq!(e.low, 0.052_431, epsilon = 5.1e-7);
    assert_relative_eq!(e.high, 0.333_873, epsilon = 5.1e-7);
}

/// [computed here]
#[test]
fn mcnemar_exact_example() {
    assert_relative_eq!(mcnemar_exact(1, 9), 0.021_484_375, max_relative = 1e-13);
}

/// n = ⌈z² p(1−p)/h²⌉ at p = ½. [computed here]
#[test]
fn run_lengths_for_a_proportion() {
    for (half_width, n) in [(0.05, 385), (0.02, 2401), (0.01, 9604)] {
        assert_eq!(run_length_for_proportion(0.5, half_width, 0.95), Some(n));
    }
}

// --- means ----------------------------------------------------------------------------------

/// [computed here]; the last three [computed here, scipy 1.17.1]
#[test]
fn t_quantiles() {
    for (df, t) in [
        (9, 2.262_157),
        (19, 2.093_024),
        (29, 2.045_230),
        (99, 1.984_217),
    ] {
        let got = t_two_sided(0.95, f64::from(df)).unwrap();
        assert_relative_eq!(got, t, epsilon = 5.1e-7);
    }
    for (df, t) in [
        (499.0, 1.964_729_390_987_688_6),
        (1e3, 1.962_339_080_826_408_3),
        (1e6, 1.959_966_356_814_107),
    ] {
        at_least(
            &format!("t, df {df}"),
            t_two_sided(0.95, df).unwrap(),
            t,
            12.0,
        );
    }
}

/// Student's sleep data: extra hours with one drug and with the other, ten patients; data from
/// memory of Student 1908, Biometrika 6 1–25. Results [computed here, scipy].
#[test]
fn students_sleep_data_paired() {
    let first = [0.7, -1.6, -0.2, -1.2, -0.1, 3.4, 3.7, 0.8, 0.0, 2.0];
    let second = [1.9, 0.8, 1.1, 0.1, -0.1, 4.4, 5.5, 1.6, 4.6, 3.4];
    let d = paired_difference(&first, &second, 0.95).unwrap();
    assert_eq!((d.difference.n, d.changed), (10, 9));
    at_least("sleep mean", d.difference.value, -1.58, 14.0);
    at_least("sleep low", d.difference.low, -2.459_885_763_276_983, 12.0);
    at_least(
        "sleep high",
        d.difference.high,
        -0.700_114_236_723_017_5,
        12.0,
    );
    at_least("sleep t", d.t.unwrap(), -4.062_127_683_382_037, 13.0);
    at_least("sleep p", d.p.unwrap(), 0.002_832_890_197_384_273, 12.0);
    at_least(
        "sleep correlation",
        d.correlation.unwrap(),
        0.795_170_205_833_577_7,
        13.0,
    );
    at_least(
        "sleep gain",
        d.variance_ratio.unwrap(),
        4.765_423_031_727_379,
        13.0,
    );
    let gaps: Tally = first.iter().zip(second).map(|(a, b)| a - b).collect();
    at_least(
        "sleep sd",
        gaps.sd().unwrap(),
        1.229_995_483_279_873_2,
        14.0,
    );
}

/// Law-school data, data from memory of Efron and Tibshirani; r, bootstrap standard error and
/// percentile interval [computed here].
#[test]
fn law_school_correlation_bootstrapped() {
    const TEST: [f64; 15] = [
        576.0, 635.0, 558.0, 578.0, 666.0, 580.0, 555.0, 661.0, 651.0, 605.0, 653.0, 575.0, 545.0,
        572.0, 594.0,
    ];
    const GRADE: [f64; 15] = [
        3.39, 3.30, 2.81, 3.03, 3.44, 3.07, 3.00, 3.43, 3.36, 3.13, 3.12, 2.74, 2.76, 2.88, 2.96,
    ];
    let correlation = |drawn: &[usize]| {
        let xs: Vec<f64> = drawn.iter().map(|&i| TEST[i]).collect();
        let ys: Vec<f64> = drawn.iter().map(|&i| GRADE[i]).collect();
        paired_difference(&xs, &ys, 0.95)
            .and_then(|d| d.correlation)
            .unwrap_or(f64::NAN)
    };
    let all: Vec<usize> = (0..15).collect();
    at_least(
        "law school r",
        correlation(&all),
        0.776_374_491_289_407,
        13.0,
    );
    let sorted = bootstrap_replicates(15, 20_000, 1, correlation);
    assert_eq!(sorted.len(), 20_000);
    let spread: Tally = sorted.iter().copied().collect();
    // 20,000 replicates leave about 0.001 of noise.
    assert_relative_eq!(spread.sd().unwrap(), 0.1337, epsilon = 0.003);
    assert_relative_eq!(quantile(&sorted, 0.025).unwrap(), 0.46, epsilon = 0.01);
    assert_relative_eq!(quantile(&sorted, 0.975).unwrap(), 0.96, epsilon = 0.01);
}

/// Ends for a skewed sample of twenty by another implementation, 200,000 replicates: percentile
/// 0.650–2.208, BCa 0.763–2.612, the third decimal uncertain. [computed here, scipy 1.17.1]
#[test]
fn bootstrap_ends_agree_with_another_implementation() {
    let xs = [
        0.1, 0.1, 0.2, 0.2, 0.3, 0.3, 0.4, 0.4, 0.5, 0.6, 0.7, 0.8, 0.9, 1.1, 1.3, 1.6, 2.0, 2.7,
        4.0, 8.0,
    ];
    let plain = bootstrap_mean(&xs, 0.95, 100_000, 11).unwrap();
    let leaned = bootstrap_mean_bca(&xs, 0.95, 100_000, 11).unwrap();
    println!("{plain:?}\n{leaned:?}");
    assert_relative_eq!(plain.low, 0.650, epsilon = 0.02);
    assert_relative_eq!(plain.high, 2.208, epsilon = 0.03);
    assert_relative_eq!(leaned.low, 0.763, epsilon = 0.02);
    assert_relative_eq!(leaned.high, 2.612, epsilon = 0.05);
}
