//! The statistics against values that others certified or published.
//!
//! Agreement is stated as correct digits, −log₁₀ of the relative error (the NIST StRD project's
//! own measure). README.md explains the labels.

use approx::assert_relative_eq;
use lanelight::contest::paired::PairTally;
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
    let mut pairs = PairTally::default();
    for (x, y) in first.iter().zip(second) {
        pairs.push((y, 1.0), (*x, 1.0));
    }
    let found = pairs.result().unwrap();
    let d = found.difference.unwrap();
    assert_eq!((d.n, found.changed), (10, 9));
    at_least("sleep mean", d.value, -1.58, 14.0);
    at_least("sleep low", d.low, -2.459_885_763_276_983, 12.0);
    at_least("sleep high", d.high, -0.700_114_236_723_017_5, 12.0);
    at_least(
        "sleep gain",
        found.gain.unwrap(),
        4.765_423_031_727_379,
        13.0,
    );
    let p = t_two_sided_p(-4.062_127_683_382_037, 9.0).unwrap();
    at_least("sleep p", p, 0.002_832_890_197_384_273, 12.0);
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
        let n = drawn.len() as f64;
        let mean = |of: &[f64; 15]| drawn.iter().map(|&i| of[i]).sum::<f64>() / n;
        let (mean_x, mean_y) = (mean(&TEST), mean(&GRADE));
        let products = |of: &dyn Fn(f64, f64) -> f64| {
            let gaps = drawn.iter().map(|&i| (TEST[i] - mean_x, GRADE[i] - mean_y));
            gaps.map(|(x, y)| of(x, y)).sum::<f64>()
        };
        let spreads = products(&|x, _| x * x) * products(&|_, y| y * y);
        products(&|x, y| x * y) / spreads.sqrt()
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
/// 0.650–2.208, the third decimal uncertain. [computed here, scipy 1.17.1]
#[test]
fn bootstrap_ends_agree_with_another_implementation() {
    let xs = [
        0.1, 0.1, 0.2, 0.2, 0.3, 0.3, 0.4, 0.4, 0.5, 0.6, 0.7, 0.8, 0.9, 1.1, 1.3, 1.6, 2.0, 2.7,
        4.0, 8.0,
    ];
    let mean = |drawn: &[usize]| drawn.iter().map(|&i| xs[i]).sum::<f64>() / 20.0;
    let means = bootstrap_replicates(20, 100_000, 11, mean);
    assert_relative_eq!(quantile(&means, 0.025).unwrap(), 0.650, epsilon = 0.02);
    assert_relative_eq!(quantile(&means, 0.975).unwrap(), 2.208, epsilon = 0.03);
}
