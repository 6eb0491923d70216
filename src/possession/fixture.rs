//! A possession written out by hand, for tests.

use crate::ball::PassKind;
use crate::court::{ShotZone, Side, Spot, SpotName};
use crate::defence::{Duty, Relation};
use crate::offence::{CutLane, LookKind};
use crate::possession::*;

/// A plain instant: `holder` holds the ball, nothing is measured.
pub fn moment(time: f64, holder: u8) -> Moment {
    Moment {
        time,
        holder,
        at: Spot::new(SpotName::Slot, Side::Right),
        ballwork: Ballwork::Holding,
        held: time,
        looks: Vec::new(),
        backdoor: Vec::new(),
        choice: None,
        spacing: Spacing {
            nearest: 4.8,
            hull: 60.0,
            defence_hull: 35.0,
            one_guards_two: false,
            lane_free: true,
        },
        last_rule: None,
    }
}

fn look(kind: LookKind, to: Option<u8>, openness: f64, value: f64, open: bool) -> LookNow {
    let closer = Closer {
        defender: 5,
        duty: Duty::LowHelp,
        relation: Relation::PostWeakSide,
        chance: 1.0 - openness,
        since: 0.8,
    };
    LookNow {
        kind,
        to,
        openness,
        prize: value / openness,
        value,
        pass: to.map(|_| PassKind::Chest),
        target: None,
        closer: Some(closer),
        allowed: kind != LookKind::Skip,
        open,
        spot_up: false,
    }
}

/// Seed 1: 1 passes to 3, cuts backdoor and scores. Other seeds end otherwise.
pub fn possession(seed: u64) -> Possession {
    let right_slot = Spot::new(SpotName::Slot, Side::Right);
    let right_wing = Spot::new(SpotName::Wing, Side::Right);
    let mut moments: Vec<Moment> = (0..5_u8).map(|i| moment(0.2 * f64::from(i), 1)).collect();
    for (i, m) in moments.iter_mut().enumerate() {
        m.looks
            .push(look(LookKind::NextPass, Some(3), 0.9, 0.9, true));
        let drive = if i < 4 { 0.6 } else { 0.2 };
        m.looks.push(look(LookKind::Drive, None, drive, 0.5, false));
        if i == 2 || i == 3 {
            m.looks.push(look(LookKind::Skip, Some(4), 0.8, 1.15, true));
        }
    }
    moments[4].choice = Some(0);
    for i in 0..5_u8 {
        let mut m = moment(1.6 + 0.2 * f64::from(i), 3);
        m.at = right_wing;
        m.held = 0.2 * f64::from(i);
        let there = i > 2;
        let openness = if there { 0.8 } else { 0.3 };
        m.looks.push(look(
            LookKind::Backdoor,
            Some(1),
            openness,
            openness * 1.3,
            there,
        ));
        m.backdoor.push(BackdoorNow {
            who: 1,
            openness,
            there,
            closer: None,
        });
        moments.push(m);
    }
    moments[9].choice = Some(0);
    let ending = match seed % 4 {
        0 => Ending::Turnover {
            how: Turnover::Tipped,
            who: 3,
            by: Some(5),
        },
        _ => Ending::Shot {
            shooter: 1,
            points: 2,
            made: seed % 4 != 2,
            throws: None,
            zone: ShotZone::Rim,
            finish: Finish::Cut,
            distance: 1.0,
            room: 1.4,
            chance: 0.62,
        },
    };
    let at = |time: f64, what: What| Entry { time, what };
    let pass = |from: u8, to: u8, kind: PassKind, look: LookKind| What::Passes {
        from,
        to,
        kind,
        look,
        openness: 0.85,
        length: 4.9,
    };
    let timeline = vec![
        at(
            0.0,
            What::Starts {
                who: 1,
                at: right_slot,
            },
        ),
        at(1.0, pass(1, 3, PassKind::Chest, LookKind::NextPass)),
        at(
            1.0,
            What::Rule {
                rule: 0,
                told: [None; 5],
            },
        ),
        at(
            1.0,
            What::Cuts {
                who: 1,
                from: right_slot,
                lane: CutLane::BallSide,
                to: None,
            },
        ),
        at(
            1.0,
            What::Late {
                defender: 1,
                man: 1,
                late: 0.3,
            },
        ),
        at(
            1.4,
            What::Fills {
                who: 2,
                to: right_slot,
            },
        ),
        at(
            1.56,
            What::Catches {
                who: 3,
                at: right_wing,
                off: 0.0,
                room: 1.2,
                defender: 3,
            },
        ),
        at(
            2.2,
            What::Stall {
                who: 3,
                seconds: 0.6,
            },
        ),
        at(
            2.2,
            What::BackdoorThere {
                who: 1,
                defender: 1,
            },
        ),
        at(
            2.2,
            What::Cuts {
                who: 1,
                from: right_slot,
                lane: CutLane::Behind,
                to: None,
            },
        ),
        at(2.6, pass(3, 1, PassKind::Bounce, LookKind::Backdoor)),
        at(
            4.0,
            What::Shoots {
                who: 1,
                distance: 1.0,
                room: 1.4,
                chance: 0.62,
                finish: Finish::Cut,
            },
        ),
        at(4.0, What::Ends { ending }),
    ];
    Possession {
        seed,
        side: Side::Right,
        duration: 4.0,
        ending,
        timeline,
        moments,
        track: Vec::new(),
    }
}
