//! The dice against the reference generator: O'Neill (2014), *PCG: A Family of Simple Fast
//! Space-Efficient Statistically Good Algorithms for Random Number Generation*, Harvey Mudd College
//! HMC-CS-2014-0905 (title from memory). Its demo programs seed with state 42 and stream 54; their
//! output is quoted ("numbers copied from official test suite") in the tests of `rand_pcg` 0.10.3,
//! `tests/lcg64xsh32.rs` and `tests/lcg128xsl64.rs`, where it was read.

use lanelight::sim::dice::{Dice, Purpose};
use rand::Rng;
use rand_pcg::{Pcg32, Pcg64};

/// pcg32 demo, seed 42, stream 54, round 1 [read: rand_pcg 0.10.3].
const PCG32: [u32; 6] = [
    0xa15c_02b7,
    0x7b47_f409,
    0xba1d_3330,
    0x83d2_f293,
    0xbfa4_784b,
    0xcbed_606e,
];

/// pcg64 (XSL-RR 128/64) demo, seed 42, stream 54, round 1 [read: rand_pcg 0.10.3].
const PCG64: [u64; 6] = [
    0x86b1_da1d_7206_2b68,
    0x1304_aa46_c985_3d39,
    0xa367_0e9e_0dd5_0358,
    0xf909_0e52_9a7d_ae00,
    0xc85b_9fd8_3799_6f2c,
    0x6061_21f8_e391_9196,
];

/// PCG-XSH-RR 64/32 as the paper gives it (section 6.3 in its numbering, from memory), written
/// again here from its two lines, so that the library is not its own witness.
struct Reference {
    state: u64,
    step: u64,
}

impl Reference {
    const FACTOR: u64 = 6_364_136_223_846_793_005;

    fn new(seed: u64, stream: u64) -> Self {
        let mut r = Reference {
            state: 0,
            step: stream << 1 | 1,
        };
        r.next();
        r.state = r.state.wrapping_add(seed);
        r.next();
        r
    }

    fn next(&mut self) -> u32 {
        let old = self.state;
        self.state = old.wrapping_mul(Self::FACTOR).wrapping_add(self.step);
        let shifted = ((old >> 18) ^ old) >> 27;
        (shifted as u32).rotate_right((old >> 59) as u32)
    }
}

#[test]
fn the_generators_give_the_reference_output() {
    let mut small = Pcg32::new(42, 54);
    let mut again = Reference::new(42, 54);
    for wanted in PCG32 {
        assert_eq!(small.next_u32(), wanted);
        assert_eq!(again.next(), wanted);
    }
    let mut large = Pcg64::new(42, 54);
    for wanted in PCG64 {
        assert_eq!(large.next_u64(), wanted);
    }
}

/// SplitMix64's finaliser (Steele, Lea and Flood 2014, *Fast Splittable Pseudorandom Number
/// Generators*; constants from memory): the first output for seed 0 is 0xE220A8397B1DCDAF, a value that
/// many test suites quote (from memory, high).
fn split_mix(seed: u64) -> u64 {
    let z = seed.wrapping_add(0x9E37_79B9_7F4A_7C15);
    let z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
    let z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
    z ^ (z >> 31)
}

#[test]
fn a_draw_is_the_reference_stream_of_its_purpose_and_player_moved_on_to_its_tick() {
    assert_eq!(split_mix(0), 0xE220_A839_7B1D_CDAF);
    for seed in [0, 1, 2, 2026, u64::MAX] {
        for (purpose, code) in [
            (Purpose::Judge, 1),
            (Purpose::Shot, 7),
            (Purpose::Denied, 12),
        ] {
            for who in [0, 4, 9] {
                for tick in [0, 1, 25, 600] {
                    let mut reference = Reference::new(split_mix(seed), code << 8 | who as u64);
                    for _ in 0..16 * tick {
                        reference.next();
                    }
                    let mut draw = Dice::new(seed).at(purpose, who, tick);
                    for _ in 0..16 {
                        let wanted = f64::from(reference.next()) / 4_294_967_296.0;
                        assert_eq!(
                            draw.unit(),
                            wanted,
                            "seed {seed}, {purpose:?}, {who}, {tick}"
                        );
                    }
                }
            }
        }
    }
}
