//! Chance: every draw is a pure function of the seed, its purpose, the player and the moment.
//!
//! Each purpose and player has its own PCG stream (`rand_pcg`); a draw at a tick is that stream
//! moved forward to the tick. A rule that changes what one player does therefore leaves the dice of
//! every other draw as they were (common random numbers).

use rand::Rng;
use rand_pcg::Pcg32;

/// What a draw is for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[repr(u64)]
pub enum Purpose {
    /// Error in judging looks.
    Judge = 1,
    /// Does he notice?
    Notice = 2,
    /// How long he looks before moving the ball on.
    Patience = 3,
    /// Direction of a pass.
    Aim = 4,
    /// Does he hold a catch?
    Catch = 5,
    /// Does a hand that gets there take the ball?
    Take = 6,
    /// Does the shot go in?
    Shot = 7,
    /// Does he keep his dribble?
    Dribble = 8,
    /// Where a defender glances, and when.
    Glance = 9,
    /// Small errors in where a defender stands.
    Place = 10,
    /// Small steps of a player without the ball.
    Feet = 11,
    /// How soon he sees that he is denied.
    Denied = 12,
    /// How fast a cut is run.
    Cut = 13,
    /// How far off a place a player stands.
    Stands = 14,
    /// Where a holder drifts to.
    Drift = 15,
    /// On which side of the receiver a pass comes.
    Lead = 16,
    /// Where a player comes from when the possession begins.
    Start = 17,
    /// How long a cutter shows at the rim.
    Show = 18,
    /// How ready he is to shoot as he catches it.
    Ready = 19,
    /// Is he fouled on the shot, and do the throws go in?
    Foul = 20,
    /// His taste for a drive.
    Drives = 21,
    /// When and how far a player takes the own defender in.
    GetsOpen = 22,
    /// Does a pilot drive, to learn what it brings?
    Explores = 23,
}

/// Draws that a tick may take from one stream.
const PER_TICK: u64 = 16;

/// The dice of one possession.
#[derive(Clone, Copy, Debug)]
pub struct Dice {
    seed: u64,
}

impl Dice {
    pub fn new(seed: u64) -> Self {
        // SplitMix64's finaliser (Steele, Lea, Flood 2014; from memory): neighbouring seeds become
        // unrelated states.
        let mut z = seed.wrapping_add(0x9E37_79B9_7F4A_7C15);
        z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        Dice {
            seed: z ^ (z >> 31),
        }
    }

    /// The stream of `purpose` and `who`, at `tick`.
    pub fn at(&self, purpose: Purpose, who: usize, tick: u32) -> Draw {
        let mut rng = Pcg32::new(self.seed, (purpose as u64) << 8 | who as u64);
        rng.advance(u64::from(tick) * PER_TICK);
        Draw(rng)
    }
}

/// A stream at its moment.
pub struct Draw(Pcg32);

impl Draw {
    /// Uniform in \[0, 1).
    pub fn unit(&mut self) -> f64 {
        f64::from(self.0.next_u32()) * (1.0 / 4_294_967_296.0)
    }

    /// Standard normal (Box–Muller).
    pub fn normal(&mut self) -> f64 {
        let u = 1.0 - self.unit();
        let v = self.unit();
        (-2.0 * libm::log(u)).sqrt() * libm::cos(std::f64::consts::TAU * v)
    }
}
