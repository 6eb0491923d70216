//! Random scenarios: everything that the rule language can say, as long as its own checks pass it.

use lanelight::court::{Court, CourtCode, Side};
use lanelight::defence::{
    self, Area, BallScreens, Chaser, Closeout, Defence, Gaze, Help, Helper, OffBallScreens,
    Override, Stance, Stances, Switch,
};
use lanelight::model::Model;
use lanelight::offence::check::Weight;
use lanelight::offence::tweak::{Change, Tweak};
use lanelight::offence::{
    self, Action, By, Condition, CutLane, Event, LookKind, Movement, OffScreen, Offence, Patience,
    Place, Role, Rule, ShotsFrom, Stand, Toward,
};
use lanelight::possession::Possession;
use lanelight::scenario::{Drill, Scenario, cannot_meet, read_tweak, shipped};
use lanelight::sim::{Keep, cast_untaught, play_shared};
use lanelight::squad::{Level, Squad, read_squad};
use proptest::prelude::*;
use proptest::sample::{select, subsequence};
use proptest::test_runner::RngSeed;

/// So many cases, the same each time, unless the environment asks for more or for others.
pub fn cases(usual: u32) -> ProptestConfig {
    let number = |name: &str| std::env::var(name).ok().and_then(|v| v.parse::<u64>().ok());
    let factor = number("LANELIGHT_LONG").unwrap_or(1).clamp(1, 100_000) as u32;
    ProptestConfig {
        cases: usual.saturating_mul(factor),
        rng_seed: RngSeed::Fixed(number("LANELIGHT_SEED").unwrap_or(1)),
        failure_persistence: None,
        max_shrink_iters: 4000,
        max_global_rejects: u32::MAX,
        ..ProptestConfig::default()
    }
}

fn sided() -> impl Strategy<Value = fn(By) -> Place> {
    select(vec![
        Place::Slot as fn(By) -> Place,
        Place::Wing,
        Place::Corner,
        Place::Elbow,
        Place::Block,
        Place::ShortCorner,
    ])
}

fn place_of(sides: &'static [By]) -> impl Strategy<Value = Place> {
    let of = (sided(), select(sides)).prop_map(|(place, by)| place(by));
    prop_oneof![
        6 => of,
        1 => select(vec![Place::Top, Place::HighPost, Place::Rim]),
    ]
}

/// One single place.
fn spot() -> impl Strategy<Value = Place> {
    place_of(&[By::Ball, By::Weak])
}

/// A place to go to.
fn goal() -> impl Strategy<Value = Place> {
    place_of(&[By::Ball, By::Weak, By::Own])
}

/// A place or a pattern, in an event.
fn pattern() -> impl Strategy<Value = Place> {
    let wide = select(vec![Place::Any, Place::Perimeter, Place::Inside]);
    prop_oneof![
        4 => place_of(&[By::Ball, By::Weak, By::Either]),
        1 => wide,
    ]
}

/// Events that few short walks meet come seldom.
fn event() -> impl Strategy<Value = Event> {
    let seconds = || (1u32..30).prop_map(|n| f64::from(n) * 0.1);
    prop_oneof![
        24 => (pattern(), pattern()).prop_map(|(from, to)| Event::Pass { from, to }),
        8 => (pattern(), prop::option::weighted(0.2, select(vec![Toward::Middle, Toward::Baseline])))
            .prop_map(|(from, toward)| Event::Drive { from, toward }),
        1 => pattern().prop_map(|at| Event::CatchOffScreen { at }),
        1 => pattern().prop_map(|at| Event::FeedStopped { at }),
        8 => pattern().prop_map(|from| Event::KickOut { from }),
        8 => pattern().prop_map(|at| Event::Catch { at }),
        8 => (pattern(), prop::option::weighted(0.2, pattern())).prop_map(|(from, to)| Event::Unfed { from, to }),
        8 => (pattern(), pattern(), seconds())
            .prop_map(|(at, ball, seconds)| Event::Denied { at, ball, seconds }),
        4 => (1u32..25).prop_map(|left| Event::Clock { left: f64::from(left) }),
        12 => (pattern(), seconds()).prop_map(|(at, seconds)| Event::BallOn { at, seconds }),
        4 => Just(Event::BallCrosses),
        4 => pattern().prop_map(|at| Event::DribbleAt { at }),
        4 => (pattern(), pattern()).prop_map(|(from, to)| Event::HandOff { from, to }),
        4 => seconds().prop_map(|seconds| Event::PostForgotten { seconds }),
        4 => pattern().prop_map(|at| Event::ScreenSet { at }),
        4 => pattern().prop_map(|at| Event::ScreenUsed { at }),
        4 => pattern().prop_map(|from| Event::Helped { from }),
    ]
}

fn role() -> impl Strategy<Value = Role> {
    prop_oneof![
        6 => select(vec![
            Role::Passer, Role::Receiver, Role::Holder, Role::Driver, Role::Cutter, Role::Denied,
            Role::Screener, Role::LeftAlone,
            Role::Post, Role::SecondPost, Role::Next,
        ]),
        4 => spot().prop_map(Role::At),
        1 => spot().prop_map(Role::Nearest),
        2 => (1u8..6).prop_map(Role::Player),
    ]
}

fn ways() -> impl Strategy<Value = Vec<OffScreen>> {
    subsequence(
        vec![OffScreen::Curl, OffScreen::Fade, OffScreen::BackCut],
        0..=3,
    )
}

fn movement() -> impl Strategy<Value = Movement> {
    let brief = || (1u32..20).prop_map(|n| f64::from(n) * 0.2);
    let plain = prop_oneof![
        1 => Just(Movement::Hold),
        4 => goal().prop_map(Movement::Fill),
        2 => prop::collection::vec(goal(), 1..4).prop_map(Movement::FillFirst),
        1 => role().prop_map(Movement::Replace),
        1 => goal().prop_map(Movement::CircleOut),
        1 => goal().prop_map(Movement::GoThrough),
        1 => (goal(), brief()).prop_map(|(to, seconds)| Movement::Flash { to, seconds }),
        1 => (goal(), brief()).prop_map(|(at, seconds)| Movement::Seal { at, seconds }),
        1 => Just(Movement::DropOff),
        1 => goal().prop_map(Movement::Drift),
        1 => goal().prop_map(Movement::Lift),
        1 => role().prop_map(Movement::DribbleAt),
        1 => role().prop_map(Movement::HandOff),
        1 => role().prop_map(Movement::DribbleHandOff),
        1 => role().prop_map(Movement::PassNext),
    ];
    let lane = || select(vec![CutLane::BallSide, CutLane::Behind]);
    plain.prop_recursive(2, 4, 1, move |inner| {
        let boxed = inner.prop_map(Box::new);
        prop_oneof![
            4 => (lane(), prop::option::weighted(0.4, goal()), boxed.clone())
                .prop_map(|(lane, to, unfed)| Movement::Cut { lane, to, unfed }),
            1 => (role(), boxed.clone())
                .prop_map(|(whom, after)| Movement::ScreenFor { whom, after }),
            1 => (role(), prop::option::of(goal()), ways(), boxed).prop_map(|(of, to, ways, unfed)| {
                let ways = if to.is_some() { ways } else { Vec::new() };
                Movement::UseScreen { of, to, ways, unfed }
            }),
        ]
    })
}

fn action() -> impl Strategy<Value = Action> {
    let wait = prop_oneof![4 => Just(0.0), 1 => (1u32..20).prop_map(|n| f64::from(n) * 0.1)];
    let then = prop_oneof![4 => Just(Vec::new()), 1 => prop::collection::vec(movement(), 1..3)];
    (role(), movement(), wait, then, conditions()).prop_map(|(who, does, after, then, only_if)| {
        Action {
            who,
            does,
            after,
            then,
            only_if,
        }
    })
}

fn conditions() -> impl Strategy<Value = Vec<Condition>> {
    let one = prop_oneof![
        2 => pattern().prop_map(Condition::Held),
        2 => pattern().prop_map(Condition::Empty),
        1 => select(vec![By::Ball, By::Weak, By::Either]).prop_map(Condition::PostOn),
        1 => select(vec![Place::Top, Place::Wing(By::Ball), Place::Inside]).prop_map(Condition::BallAt),
        1 => Just(Condition::Overplayed),
        1 => Just(Condition::SaggedOff),
        1 => Just(Condition::OffBall),
        1 => (1u8..6).prop_map(Condition::IsPlayer),
        1 => (1u8..6).prop_map(Condition::HasBall),
        1 => Just(Condition::NotScreening),
        1 => Just(Condition::ScreenComing),
        1 => (1u32..25).prop_map(|left| Condition::TimeOver(f64::from(left))),
        1 => (1u32..25).prop_map(|left| Condition::TimeUnder(f64::from(left))),
    ];
    prop_oneof![4 => Just(Vec::new()), 1 => prop::collection::vec(one, 1..3)]
}

fn rule() -> impl Strategy<Value = Rule> {
    let actions = prop::collection::vec(action(), 1..5);
    let once = prop::bool::weighted(0.1);
    (event(), actions, conditions(), once).prop_map(|(when, actions, only_if, once)| Rule {
        name: String::new(),
        when,
        actions,
        only_if,
        once,
    })
}

fn is_sound(offence: &Offence) -> bool {
    let found = offence::check::check(offence);
    found.iter().all(|f| f.weight != Weight::Error)
}

/// Any offence that the checks let pass: lines and rules that they refuse are left out.
pub fn offence() -> impl Strategy<Value = Offence> {
    let places: Vec<Place> = [By::Ball, By::Weak]
        .into_iter()
        .flat_map(|by| {
            [
                Place::Slot(by),
                Place::Wing(by),
                Place::Corner(by),
                Place::Elbow(by),
                Place::Block(by),
                Place::ShortCorner(by),
            ]
        })
        .chain([Place::Top, Place::HighPost])
        .collect();
    let stands = subsequence(places, 5).prop_shuffle();
    let filled = prop::collection::vec(
        (sided(), select(vec![By::Ball, By::Weak])).prop_map(|(place, by)| place(by)),
        0..6,
    );
    let reading = subsequence(LookKind::ALL.to_vec(), 1..=9).prop_shuffle();
    let drives = prop::collection::vec(
        prop_oneof![
            2 => place_of(&[By::Ball, By::Either]),
            1 => select(vec![Place::Any, Place::Perimeter, Place::Inside]),
        ],
        1..4,
    );
    let patience = (
        0u32..30,
        5u32..40,
        -5i32..6,
        prop_oneof![3 => Just(0u8), 1 => 1u8..6],
    )
        .prop_map(|(hold, possession, asks_more, passes_first)| Patience {
            hold: f64::from(hold) * 0.1,
            possession: f64::from(possession),
            asks_more: f64::from(asks_more) * 0.1,
            passes_first,
        });
    let from = prop::collection::vec(place_of(&[By::Ball, By::Either]), 0..3);
    let shots = prop::option::weighted(0.3, (1u8..6, from));
    let shots = shots.prop_map(|s| s.map(|(player, from)| ShotsFrom { player, from }));
    let rules = prop::collection::vec(rule(), 0..16);
    (
        stands,
        1u8..6,
        filled,
        reading,
        drives,
        (patience, shots),
        rules,
    )
        .prop_filter_map(
            "no sound offence",
            |(stands, ball, keep_filled, reading, drive_from, (patience, shots), rules)| {
                let alignment = (1..).zip(stands).map(|(player, at)| Stand { player, at });
                let mut offence = Offence {
                    name: "Any".into(),
                    note: String::new(),
                    players: 5,
                    ball,
                    alignment: alignment.collect(),
                    keep_filled: Vec::new(),
                    rules: Vec::new(),
                    reading,
                    drive_from,
                    shots_from: Vec::new(),
                    patience,
                };
                offence.shots_from = shots.into_iter().collect();
                if !is_sound(&offence) {
                    offence.shots_from.clear();
                }
                for place in keep_filled {
                    offence.keep_filled.push(place);
                    if !is_sound(&offence) {
                        offence.keep_filled.pop();
                    }
                }
                for (number, rule) in rules.into_iter().enumerate() {
                    let name = format!("Rule {}", number + 1);
                    let empty = Rule {
                        name,
                        actions: Vec::new(),
                        ..rule.clone()
                    };
                    offence.rules.push(empty);
                    for action in rule.actions {
                        let last = offence.rules.len() - 1;
                        offence.rules[last].actions.push(action);
                        if !is_sound(&offence) {
                            offence.rules[last].actions.pop();
                        }
                    }
                    if !is_sound(&offence)
                        || offence.rules.last().is_some_and(|r| r.actions.is_empty())
                    {
                        offence.rules.pop();
                    }
                }
                is_sound(&offence).then_some(offence)
            },
        )
}

/// Fewer than five a side: a scenario's offence with so many of its players and the rules that are left, and a defence
/// that can meet it.
pub fn fewer() -> impl Strategy<Value = Scenario> {
    (scenario(), 2u8..5).prop_filter_map("no sound offence", |(mut scenario, players)| {
        let offence = &mut scenario.offence;
        let rules = std::mem::take(&mut offence.rules);
        offence.players = players;
        offence.alignment.truncate(usize::from(players));
        offence.ball = 1 + (offence.ball - 1) % players;
        offence.keep_filled.truncate(usize::from(players));
        for rule in rules {
            offence.rules.push(rule);
            if !is_sound(offence) {
                offence.rules.pop();
            }
        }
        let can = cannot_meet(offence, &scenario.defence).is_none();
        (can && is_sound(&scenario.offence)).then_some(scenario)
    })
}

fn stance() -> impl Strategy<Value = Stance> {
    let shares = (1u32..100, 0u32..40, 0u32..60);
    let gap = (0.0..3.0f64, 0.0..6.0f64);
    let gaze = select(vec![Gaze::Ball, Gaze::Man, Gaze::Both]);
    let midline = prop_oneof![2 => Just(0.0), 1 => 0.0..=1.0f64];
    (shares, midline, gap, gaze, any::<bool>()).prop_map(
        |((man, ball, rim), midline, (least, more), gaze, deny)| Stance {
            man: f64::from(man),
            ball: f64::from(ball),
            rim: f64::from(rim),
            midline,
            gap: (least, least + more),
            gaze,
            deny,
        },
    )
}

fn any_defence() -> impl Strategy<Value = Defence> {
    let stances = prop::collection::vec(stance(), 6..7).prop_map(|s| Stances {
        on_ball: s[0],
        one_pass: s[1],
        two_passes: s[2],
        post_ball_side: s[3],
        post_weak_side: s[4],
        cutter: s[5],
    });
    let helper = select(vec![Helper::Nobody, Helper::LowMan, Helper::Nearest]);
    let help = (
        helper,
        0.0..12.0f64,
        0.0..=1.0f64,
        any::<bool>(),
        0.0..2.0f64,
    )
        .prop_map(|(who, within, share, rotate, stunt)| Help {
            who,
            within,
            depth: within * share,
            rotate,
            stunt,
        });
    let own = prop::option::weighted(0.3, (1u8..6, stance(), stance()));
    let area = (
        -7.0..7.0f64,
        0.0..9.0f64,
        (-0.5..1.0f64, -0.5..1.0f64),
        0.5..6.0f64,
    );
    // Those who have no area chase.
    let zone = prop::option::weighted(0.15, prop::collection::vec(area, 3..6));
    let closeout = (0.0..2.5f64, 0.2..=1.0f64).prop_map(|(short, pace)| Closeout { short, pace });
    let switch = select(vec![Switch::Never, Switch::OnScreens]);
    use BallScreens as B;
    let all = [
        B::Over,
        B::Under,
        B::Switch,
        B::Show,
        B::ShowEarly,
        B::Contain,
        B::Trap,
    ];
    let off = select(vec![OffBallScreens::Chase, OffBallScreens::Under]);
    let tag = select(vec![Helper::Nobody, Helper::LowMan, Helper::Nearest]);
    let ball_screens = (
        prop::option::of(select(all.to_vec())),
        prop::option::of(off),
        prop::option::weighted(0.3, tag),
        prop::bool::weighted(0.2),
    );
    (stances, help, closeout, switch, ball_screens, own, zone).prop_map(
        |(
            stances,
            help,
            closeout,
            switch,
            (ball_screens, off_ball_screens, tag, trap_corners),
            own,
            zone,
        )| {
            Defence {
                name: "Any".into(),
                note: String::new(),
                stances,
                chasers: zone.as_ref().map_or(Vec::new(), |areas| {
                    let rest = areas.len() as u8 + 1..6;
                    rest.map(|defender| Chaser {
                        defender,
                        player: 6 - defender,
                    })
                    .collect()
                }),
                zone: zone.map(|areas| {
                    let area = |(defender, (x, y, shift, covers))| Area {
                        defender,
                        x,
                        y,
                        shift,
                        covers,
                    };
                    (1..).zip(areas).map(area).collect()
                }),
                help,
                closeout,
                switch,
                ball_screens,
                off_ball_screens,
                tag,
                trap_corners,
                overrides: own
                    .map(|(defender, on_ball, one_pass)| Override {
                        defender,
                        on_ball: Some(on_ball),
                        one_pass: Some(one_pass),
                        two_passes: None,
                        post_ball_side: None,
                        post_weak_side: None,
                        cutter: None,
                    })
                    .into_iter()
                    .collect(),
            }
        },
    )
}

/// A shipped defence or any that the checks let pass.
pub fn defence() -> impl Strategy<Value = Defence> {
    let words: Vec<&str> = shipped::all(shipped::Kind::Defence)
        .map(|f| f.word)
        .collect();
    let shipped = select(words).prop_map(|word| {
        let file = shipped::find(shipped::Kind::Defence, word).expect("it is shipped");
        let read = lanelight::scenario::read_defence(file.text, word);
        read.expect("it can be read").value
    });
    let sound = |d: &Defence| {
        let found = defence::check::check(d);
        found.iter().all(|f| f.weight != Weight::Error)
    };
    prop_oneof![1 => shipped, 2 => any_defence().prop_filter("no sound defence", sound)]
}

/// Typical players of a level, some of them measured.
pub fn squad_text() -> impl Strategy<Value = String> {
    let word = |level: Level| ron::to_string(&level).expect("a word");
    let level = select(Level::ALL.map(word).to_vec());
    let player = (
        prop::option::of(2.8..8.0f64),
        prop::option::of(9.0..25.0f64),
        prop::option::of((1.3..2.2f64, 1.2..1.45f64)),
        prop::option::of((0u32..60, 0u32..60)),
        prop::option::of(select(vec!["guard", "wing", "post"])),
    );
    (
        level,
        prop::collection::vec(prop::option::weighted(0.4, player), 5..6),
    )
        .prop_map(|(level, players)| {
            let mut text = format!("(name: \"Any\", level: {level}, players: [");
            for (number, player) in (1..).zip(players) {
                let Some((sprint, agility, size, makes, position)) = player else {
                    continue;
                };
                text += &format!("(number: {number}, ");
                if let Some(s) = sprint {
                    text += &format!("sprint: {s:?}, ");
                }
                if let Some(s) = agility {
                    text += &format!("lane_agility: {s:?}, ");
                }
                if let Some((height, ratio)) = size {
                    let reach = height * ratio;
                    text += &format!("height: m({height:?}), standing_reach: m({reach:?}), ");
                }
                if let Some((makes, misses)) = makes {
                    let shots = makes + misses;
                    text += &format!(
                        "makes: (rim: ({makes}, {shots}), arc_three: ({makes}, {shots})), "
                    );
                }
                if let Some(position) = position {
                    text += &format!("position: {position}");
                }
                text += "), ";
            }
            text + "])"
        })
}

fn squad() -> impl Strategy<Value = Squad> {
    squad_text().prop_map(|text| read_squad(&text).expect("a sound squad").squad())
}

/// A shipped tweak, or small changes at random; whether it fits shows when it is applied.
pub fn tweak() -> impl Strategy<Value = Tweak> {
    let words: Vec<&str> = shipped::all(shipped::Kind::Tweak).map(|f| f.word).collect();
    let shipped = select(words).prop_map(|word| {
        let file = shipped::find(shipped::Kind::Tweak, word).expect("it is shipped");
        read_tweak(file.text, word).expect("it can be read").value
    });
    let change = prop_oneof![
        select(LookKind::ALL.to_vec()).prop_map(|look| Change::Allow {
            look,
            after: None,
            before: None,
        }),
        select(LookKind::ALL.to_vec()).prop_map(Change::Forbid),
        (1u32..12).prop_map(|n| Change::RemoveRule(format!("Rule {n}"))),
        (0.0..3.0f64).prop_map(|hold| Change::SetPatience {
            hold: Some(hold),
            possession: None,
            asks_more: None,
            passes_first: None,
        }),
        rule().prop_map(|rule| Change::AddRule {
            after: None,
            before: None,
            rule: Rule {
                name: "A new rule".into(),
                ..rule
            },
        }),
    ];
    let own = prop::collection::vec(change, 1..3).prop_map(|changes| Tweak {
        name: "Any".into(),
        note: String::new(),
        of: None,
        changes,
    });
    prop_oneof![shipped, own]
}

/// Any scenario at all; now and then one of the shipped offences.
pub fn scenario() -> impl Strategy<Value = Scenario> {
    let words: Vec<&str> = shipped::all(shipped::Kind::Offence)
        .map(|f| f.word)
        .collect();
    let shipped = select(words).prop_map(|word| {
        let file = shipped::find(shipped::Kind::Offence, word).expect("it is shipped");
        let read = lanelight::scenario::read_offence(file.text, word);
        read.expect("it can be read").value
    });
    let offence = prop_oneof![1 => shipped, 4 => offence()];
    let drill = prop_oneof![
        8 => Just(Drill::default()),
        1 => (any::<bool>(), any::<bool>())
            .prop_map(|(passive, clean)| Drill { passive, clean }),
    ];
    let clock = prop::option::of((1u32..40).prop_map(f64::from));
    let start = prop::option::of(select(vec![Side::Left, Side::Right]));
    let court = select(CourtCode::ALL.to_vec());
    let tweaks = prop::collection::vec(tweak(), 0..3);
    (
        offence,
        defence(),
        squad(),
        squad(),
        court,
        clock,
        start,
        drill,
        tweaks,
    )
        .prop_map(
            |(offence, defence, attackers, defenders, court, shot_clock, start, drill, tweaks)| {
                let mut offence = offence;
                for tweak in tweaks {
                    if let Ok(changed) = tweak.apply(&offence)
                        && is_sound(&changed)
                    {
                        offence = changed;
                    }
                }
                let court = *Court::of(court);
                Scenario {
                    name: "Any".into(),
                    note: String::new(),
                    court,
                    offence,
                    defence,
                    attackers,
                    defenders,
                    start,
                    shot_clock: shot_clock.or(court.clock.shot),
                    drill,
                    model: Model::shipped(),
                    practice: Default::default(),
                    warnings: Vec::new(),
                }
            },
        )
}

/// A seed; small ones shrink best.
pub fn seed() -> impl Strategy<Value = u64> {
    prop_oneof![3 => 0u64..1000, 1 => any::<u64>()]
}

/// Plays a possession by what is known before anything is learnt: to learn the value of each random scenario
/// would take longer than all the rest.
pub fn play(scenario: &Scenario, seed: u64, keep: Keep) -> Possession {
    let cast = cast_untaught(scenario);
    play_shared(&std::sync::Arc::new(scenario.clone()), &cast, seed, keep)
}
