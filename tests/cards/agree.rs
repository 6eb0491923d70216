//! Reads a rule card as a player would, and holds it against its picture and against the walk: who
//! moves, from where, to where, in which order. It knows nothing of how cards are made.

use lanelight::court::{Court, Side, Spot, SpotName, Vec2};
use lanelight::draw::cards::Card;
use lanelight::draw::walks::Walked;
use lanelight::draw::{ArrowKind, Item, Scene};
use lanelight::offence::{Condition, Movement, Place, Role, Rule, words};
use lanelight::possession::{Frame, Told, What};

/// A place is the right word if no other is nearer by more than this, metres (ours).
const SLACK: f64 = 0.7;
/// About the rim, metres (ours).
const RIM: f64 = 2.7;
/// Who stays moves no farther than this, metres (ours: a stride).
const STRIDE: f64 = 1.6;
/// The line of a drive ends no farther from where the driver comes, metres (ours: half a stride).
const DRIVES: f64 = 1.0;
/// A drive to the rim ends so near to it, and one whose line ends so much nearer is told so, metres (ours: a stride, and
/// the ring's radius with a ball beside it).
pub const AT_THE_RIM: (f64, f64) = (1.2, 0.5);
/// Said of a player, metres from where he stood, when he has left.
const LEFT: f64 = 0.4;

/// The places that a text names, in order; on the picture the ball is on the right.
pub fn places(text: &str) -> Vec<Spot> {
    let mut found: Vec<(usize, Spot)> = Vec::new();
    for name in SpotName::ALL {
        for (half, side) in [("ball-side ", Side::Right), ("weak-side ", Side::Left)] {
            let words = format!("{half}{}", name.word());
            let at = text.match_indices(&words);
            found.extend(at.map(|(i, _)| (i, Spot::new(name, side))));
        }
        if name.is_centre() {
            let words = format!("the {}", name.word());
            let at = text.match_indices(&words);
            found.extend(at.map(|(i, _)| (i, Spot::new(name, None))));
        }
    }
    found.sort_by_key(|(i, _)| *i);
    found.into_iter().map(|(_, spot)| spot).collect()
}

/// Is this the word for the point?
pub fn is_word_for(court: &Court, spot: Spot, at: Vec2) -> bool {
    let off = |spot: Spot| (court.spot(spot) - at).length();
    if spot.name == SpotName::Rim {
        return at.length() < RIM;
    }
    let all = SpotName::ALL.into_iter().filter(|n| *n != SpotName::Rim);
    let nearest = all
        .flat_map(|name| [Side::Left, Side::Right].map(|side| off(Spot::new(name, side))))
        .fold(f64::INFINITY, f64::min);
    off(spot) <= nearest + SLACK
}

pub fn at(scene: &Scene, player: u8) -> Vec2 {
    let found = scene.items.iter().find_map(|item| match item {
        Item::Attacker { number, pos, .. } if *number == player => Some(*pos),
        _ => None,
    });
    found.expect("each of the five is drawn")
}

fn has_ball(scene: &Scene, player: u8) -> bool {
    let held =
        |i: &Item| matches!(i, Item::Attacker { number, has_ball: true, .. } if *number == player);
    scene.items.iter().any(held)
}

fn ways(scene: &Scene, player: u8) -> Vec<&Vec<Vec2>> {
    let ways = scene.items.iter().filter_map(|item| match item {
        Item::Arrow { kind, path, who } if *who == player && *kind != ArrowKind::Pass => Some(path),
        _ => None,
    });
    ways.collect()
}

/// How far along the floor the face of the board is, metres.
pub fn board(court: &Court) -> f64 {
    court.clamp_inside(Vec2::new(0.0, -100.0), 0.0).y + court.backboard_to_baseline
}

/// What is wrong with the end of a drive's line, by its words.
fn drive(court: &Court, text: &str, end: Vec2) -> Option<String> {
    let (at, beside) = AT_THE_RIM;
    match (text.contains("drive to the rim"), end.length()) {
        (true, off) if off > at || end.y < board(court) => {
            Some(format!("a drive to the rim ends at {end:?}"))
        }
        (false, off) if text.starts_with("drive ") && off <= beside => Some(format!(
            "a drive that stops short of the rim ends at {end:?}"
        )),
        _ => None,
    }
}

/// What of the text is drawn: not what is said to be done only if something happens, nor after it.
pub fn drawn(does: &str) -> String {
    let told = does.replace("catch, face the rim and look", "catch");
    let told = told
        .split(" until your defender leaves")
        .next()
        .unwrap_or_default();
    let told = told.split("; that done, ").next().unwrap_or_default();
    let told = told.split(" (only if ").next().unwrap_or_default();
    let told = told.split(" (unless ").next().unwrap_or_default();
    let told = told.replace(", then go back to your place", "");
    let told = told.replace(", chest to the ball, your defender behind you", "");
    told.replace("; if you are on the other side, cross to it", "")
}

/// Whose way ends no farther from its beginning has come back, metres (ours).
const COMES_BACK: f64 = 0.3;

/// Is somebody told to show somewhere and to come back, and nothing before or after it, and so drawn going there and back?
pub fn goes_back(does: &str) -> bool {
    let more = [
        "No pass?",
        "screen for",
        "screen of",
        "; next, ",
        "you come",
    ];
    does.contains("go back to your place") && !more.iter().any(|w| does.contains(w))
}

/// Who stays may be drawn where an earlier run ends, and not on it: where the player stands this near, metres, when the
/// card is over.
const ENDS: f64 = 0.4;

/// Is a player who stays drawn where an earlier run ends?
fn has_ended(walk: &Walked, card: &Card, from: usize, player: u8, at: Vec2) -> bool {
    let mut parts = card.parts.iter();
    let stands = ["stay and be ready", "stay and face the ball", "stay"];
    let stays = parts.any(|p| p.player == player && stands.contains(&drawn(&p.does).as_str()));
    let until = stop(walk, player);
    let mut own = walk.step.frames[from..].iter().filter(|f| f.time < until);
    let last = own.next_back().unwrap_or(&walk.step.frames[from]);
    stays && (last.attackers[usize::from(player) - 1] - at).length() < ENDS
}

/// The frames of the card, from where it says that it begins; there the five stand as they are drawn.
pub fn frames<'a>(walk: &'a Walked, card: &Card, sign: f64) -> Option<&'a [Frame]> {
    let scene = card.scene.as_ref()?;
    let begins = |f: &Frame| f.time >= card.begins - 1e-6;
    let from = walk.step.frames.iter().position(begins)?;
    let first = &walk.step.frames[from];
    let drawn = (1..=5).all(|n| {
        let at = at(scene, n);
        let walked = first.attackers[usize::from(n) - 1];
        let at = Vec2::new(at.x * sign, at.y);
        (walked - at).length() < 1e-9 || has_ended(walk, card, from, n, at)
    });
    drawn.then(|| &walk.step.frames[from..])
}

/// Until when the card tells of a player: an order of a later rule is on another card, the way home from
/// where he shows is no part of it, and it is over before the ball goes on.
pub fn stop(walk: &Walked, player: u8) -> f64 {
    let fired = walk.fired;
    let i = usize::from(player) - 1;
    let own = walk.step.timeline.iter().find_map(|e| match &e.what {
        What::Rule { rule, told } if *rule == walk.rule && e.time == fired => Some(*told),
        _ => None,
    });
    let times = walk.step.timeline.iter().filter_map(|e| match &e.what {
        // A hand-off that this rule has not asked for.
        What::SetsOutToHand { who, toward, .. } if e.time > fired => {
            let asked = own.is_some_and(|t| t[usize::from(*who) - 1].is_some());
            (!asked && [*who, *toward].contains(&player)).then_some(e.time)
        }
        What::Rule { told, .. } if e.time > fired + 0.1 && told[i].is_some() => Some(e.time),
        What::Flashes { who, .. } | What::Seals { who, .. } if e.time > fired && *who == player => {
            Some(e.time + 0.32)
        }
        What::Passes { .. } | What::Drives { .. } | What::Shoots { .. } | What::Ends { .. }
            if e.time > fired + 0.02 =>
        {
            Some(e.time)
        }
        _ => None,
    });
    times.fold(f64::INFINITY, f64::min)
}

/// Everything in which words, arrows and walk of one card do not say the same.
pub fn disagreements(court: &Court, rule: &Rule, card: &Card, walk: &Walked) -> Vec<String> {
    let mut wrong = Vec::new();
    let Some(scene) = &card.scene else {
        return wrong;
    };
    let found = [1.0, -1.0].map(|sign| (sign, frames(walk, card, sign)));
    let Some((sign, frames)) = found.into_iter().find_map(|(s, f)| Some((s, f?))) else {
        return vec!["the five stand where the walk never has them".into()];
    };
    let begins = frames[0].time;
    let fired = walk.fired;
    let told = walk.step.timeline.iter().find_map(|e| match &e.what {
        What::Rule { rule, told } if *rule == card.rule && e.time == fired => Some(*told),
        _ => None,
    });
    let told = told.expect("the rule has fired");
    let goes_on = walk.step.timeline.iter().find(|e| {
        e.time > fired + 0.02
            && matches!(
                e.what,
                What::Passes { .. } | What::Drives { .. } | What::Shoots { .. }
            )
    });
    let mut starts = Vec::new();
    for part in &card.parts {
        let n = part.player;
        let mut say = |text: String| wrong.push(format!("{}: {n}: {text}: {part:?}", card.name));
        let i = usize::from(n) - 1;
        let from = at(scene, n);
        let mut named = places(&format!("the {}", part.from));
        named.dedup();
        if !named
            .last()
            .is_some_and(|spot| is_word_for(court, *spot, from))
        {
            say(format!("stands at {from:?}"));
        }
        if part.by_rule != told[i].is_some() {
            say("the rule says otherwise whom it names".into());
        }
        let sent_by = part.does.split("your place already (card ").nth(1);
        let sent_by: Option<usize> = sent_by.and_then(|n| n.split(')').next()?.parse().ok());
        if let Some(number) = sent_by {
            let mut entries = walk.step.timeline.iter();
            let sent = entries.any(|e| match &e.what {
                What::Rule { rule, told } => rule + 1 == number && told[i].is_some(),
                _ => false,
            });
            if !sent {
                say("no other card sends there".into());
            }
        }
        let text = drawn(&part.does);
        let ends = places(&text).last().copied();
        let ways = ways(scene, n);
        let toward = ["dribble at ", "dribble toward "];
        let dribbles_at = toward
            .iter()
            .find_map(|words| text.split(words).nth(1)?[..1].parse().ok());
        let moves = ends.is_some() || dribbles_at.is_some();
        if moves == ways.is_empty() {
            say(format!("{} ways are drawn", ways.len()));
            continue;
        }
        let stop = stop(walk, n);
        let own = || {
            frames
                .iter()
                .filter(|f| f.time < stop)
                .map(|f| f.attackers[i])
        };
        let line = told[i].map(|t| &rule.actions[usize::from(t.line)].does);
        let end = ways.last().and_then(|w| match goes_back(&part.does) {
            true => w
                .iter()
                .max_by(|a, b| (**a - from).length().total_cmp(&(**b - from).length())),
            false => w.last(),
        });
        let back = ways.last().and_then(|w| w.last());
        if goes_back(&part.does) && back.is_some_and(|p| (*p - from).length() > COMES_BACK) {
            say("the way back is told and not drawn".into());
        }
        let Some(end) = end else {
            let stands = Vec2::new(from.x * sign, from.y);
            let off = own().next_back().map_or(0.0, |p| (p - stands).length());
            if off > STRIDE {
                say(format!("the walk has him {off:.2} m away at {stop:.2} s"));
            }
            let holds = has_ball(scene, n) && !text.contains("pass to");
            let own_words = [
                (
                    "lane line beside the rim",
                    matches!(line, Some(Movement::DropOff)) && !holds,
                ),
                (
                    "face the ball",
                    matches!(line, Some(Movement::Hold)) && !holds,
                ),
                ("keep the ball", holds && !part.does.contains("begin your")),
            ];
            let seals = matches!(line, Some(Movement::Seal { .. }));
            if part.does.contains("seal your defender where you are") && !seals {
                say("seals, and the rule does not say so".into());
            }
            // What is to follow is no part of the picture.
            let now = part.does.split("; that done, ").next().unwrap_or_default();
            for (words, due) in own_words {
                if now.contains(words) != due {
                    say(format!("“{words}”: {due}"));
                }
            }
            continue;
        };
        let walked = Vec2::new(end.x * sign, end.y);
        // A drive's line ends beside the rim, wherever the driver's last steps lead.
        let near = if ["drive to the rim", "dribble to the rim"]
            .iter()
            .any(|w| text.contains(w))
        {
            DRIVES
        } else {
            0.3
        };
        if !own().any(|p| (p - walked).length() < near) {
            say("the arrow leads where he never comes in the walk".into());
        }
        if let Some(text) = drive(court, &text, *end) {
            say(text);
        }
        if (ways[0][0] - from).length() > STRIDE {
            say("the arrow does not begin with him".into());
        }
        // Whose defender never leaves goes on to what is next, and is drawn there.
        let waits_beside_the_rim = part.does.contains(" until your defender leaves");
        let next = places(&part.does).last().copied();
        let next = next.filter(|_| waits_beside_the_rim);
        if let Some(spot) = ends
            && !is_word_for(court, spot, *end)
            && !next.is_some_and(|spot| is_word_for(court, spot, *end))
        {
            say(format!("the arrow ends at {end:?}"));
        }
        if text.contains("to the rim") && !ways.iter().any(|w| w.iter().any(|p| p.length() < RIM)) {
            say("no way comes by the rim".into());
        }
        // The dribble comes first; where the way goes on after it is told as well.
        let dribbled = ways[0].last().copied().unwrap_or(from);
        if let Some(mate) = dribbles_at
            && (at(scene, mate) - dribbled).length() >= (at(scene, mate) - from).length()
        {
            say("does not come nearer to him".into());
        }
        if dribbles_at.is_some() && ends.is_none() && ways.len() > 1 {
            say("the way goes on, and the words do not".into());
        }
        let short = ["you come", "and on to"];
        let whole = !short.iter().any(|w| text.contains(w)) && !text.ends_with("to the rim");
        if let Some(to) = told[i]
            .and_then(|t| t.to)
            .filter(|_| whole && !waits_beside_the_rim)
            .filter(|_| {
                !["flash", "seal"]
                    .iter()
                    .any(|w| text.to_lowercase().contains(w))
            })
        {
            let to = if sign < 0.0 { to.mirrored() } else { to };
            let first = text.split("; next, ").next().unwrap_or_default();
            if places(first).last() != Some(&to) {
                say(format!("the rule sends him to the {to}: {}", card.sentence));
            }
        }
        let left = frames
            .iter()
            .find(|f| (f.attackers[i] - frames[0].attackers[i]).length() > LEFT);
        starts.push((n, left.map_or(begins, |f| f.time)));
        let after = text
            .split(", then ")
            .next()
            .and_then(|w| w.strip_prefix("wait "));
        // "a count of two" is two seconds, and half a second less at the least.
        let counts = ["two", "three", "four", "five", "six"];
        let after = after.and_then(|s| match s.strip_prefix("a count of ") {
            Some(word) => Some(counts.iter().position(|c| *c == word)? as f64 + 1.5),
            None => s.split(" second").next()?.parse().ok(),
        });
        // Who is on the way of an earlier run when the rule counts goes on with that while they wait.
        let at_rule = frames.iter().position(|f| f.time >= fired).unwrap_or(0);
        let stood = frames[at_rule].attackers[i];
        let gone = |f: &Frame| (f.attackers[i] - stood).length();
        let still = gone(&frames[at_rule.saturating_sub(3)]) < 0.06;
        // (What another rule has told runs from when that one counted.)
        if let Some(seconds) = after.filter(|_| still && part.by_rule) {
            let mut waits = frames[at_rule..]
                .iter()
                .filter(|f| f.time < fired + seconds - 0.1);
            if let Some(early) = waits.find(|f| gone(f) > STRIDE) {
                let after = early.time - fired;
                say(format!(
                    "is gone {after:.2} s after the rule, before the wait is over"
                ));
            }
        }
    }
    wrong.extend(whole_rule(rule, card, &told));
    wrong.extend(passes(
        card,
        walk,
        scene,
        sign,
        begins,
        goes_on.map_or(f64::INFINITY, |e| e.time),
    ));
    wrong.extend(order(card, &starts));
    wrong
}

/// What the rule says and nobody can draw: when it counts, the steps of each line and its conditions.
fn whole_rule(rule: &Rule, card: &Card, told: &[Option<Told>; 5]) -> Vec<String> {
    let mut wrong = Vec::new();
    let mut say = |text: String| wrong.push(format!("{}: {text}: {:?}", card.name, card.parts));
    if card.when.starts_with("The first time that ") != rule.once {
        say(format!("once is {}: {}", rule.once, card.when));
    }
    for condition in &rule.only_if {
        let asked = words::condition(*condition, "he");
        if !card.when.contains(&asked) {
            say(format!("“{asked}” is not in “{}”", card.when));
        }
    }
    let lines: Vec<String> = card.lines().into_iter().map(|(line, _)| line).collect();
    for (index, action) in rule.actions.iter().enumerate() {
        let who = told
            .iter()
            .position(|t| t.is_some_and(|t| usize::from(t.line) == index));
        let Some(who) = who else {
            let role = words::role(action.who);
            let named = |l: &String| l.to_lowercase().contains(&role.to_lowercase());
            if !lines.iter().any(named) {
                say(format!("a line for {role} is not told at all"));
            }
            continue;
        };
        let does = &card.parts[who].does;
        let steps = does.matches("; next, ").count() + does.matches("; that done, ").count();
        if steps != action.then.len() {
            say(format!("{steps} steps of {}", action.then.len()));
        }
        for condition in &action.only_if {
            // Whoever stands there holds it, the post is whoever stands inside, and the team-mate of a screen is
            // named by a number whose line begins there.
            let mate = match &action.does {
                Movement::ScreenFor { whom, .. } => Some(*whom),
                Movement::UseScreen { of, .. } => Some(*of),
                _ => None,
            };
            let named = |held: Place| {
                let from = words::place(held);
                let mut there = card.parts.iter().filter(|p| from.ends_with(&p.from));
                there.any(|p| does.contains(&format!(" {}", p.player)))
            };
            // (Who stands there himself screens for nobody, and no screen is told.)
            let alone = |held: Place| words::place(held).ends_with(&card.parts[who].from);
            let plain = match (condition, action.who) {
                (Condition::Held(held), _) if mate == Some(Role::At(*held)) => {
                    named(*held) || alone(*held)
                }
                (Condition::Held(held), Role::At(at)) => *held == at,
                (Condition::Held(held), Role::Post) => *held == Place::Inside,
                _ => false,
            };
            let asked = match condition {
                Condition::OffBall => "unless the ball is coming to you".to_string(),
                other => words::condition(*other, "you"),
            };
            if !plain && !does.contains(&asked) {
                say(format!("“{asked}” is not said to {}", who + 1));
            }
        }
    }
    wrong
}

/// The passes of words, arrows and walk.
fn passes(card: &Card, walk: &Walked, scene: &Scene, sign: f64, from: f64, to: f64) -> Vec<String> {
    let mut walked: Vec<(u8, u8)> = Vec::new();
    for e in &walk.step.timeline {
        if let What::Passes { from: a, to: b, .. } = e.what
            && e.time >= from - 1e-6
            && e.time < to - 1e-6
        {
            walked.push((a, b));
        }
    }
    let said: Vec<(u8, u8)> = card
        .parts
        .iter()
        .filter_map(|p| {
            let to = p.does.split("pass to ").nth(1)?;
            Some((p.player, to[..1].parse().ok()?))
        })
        .collect();
    let mut arrows: Vec<u8> = scene
        .items
        .iter()
        .filter_map(|i| match i {
            Item::Arrow {
                kind: ArrowKind::Pass,
                who,
                ..
            } => Some(*who),
            _ => None,
        })
        .collect();
    let mut wrong = Vec::new();
    let passers: Vec<u8> = walked.iter().map(|p| p.0).collect();
    // What the rule promises is drawn, too, and is no pass of the walk.
    let promised = promised(card).map(|(from, _)| from);
    let at = promised.and_then(|from| arrows.iter().position(|who| *who == from));
    if let Some(at) = at {
        arrows.remove(at);
    }
    if said != walked || arrows != passers {
        wrong.push(format!(
            "{}: passes {walked:?}, said {said:?}, drawn of {arrows:?} ({sign})",
            card.name
        ));
    }
    for part in &card.parts {
        let gets = walked.iter().any(|(_, to)| *to == part.player);
        if gets != part.does.starts_with("catch") {
            wrong.push(format!("{}: {part:?}: catches: {gets}", card.name));
        }
    }
    wrong
}

/// The pass that the words promise.
pub fn promised(card: &Card) -> Option<(u8, u8)> {
    card.parts.iter().find_map(|p| {
        let to = p.does.split("your next pass goes to ").nth(1)?;
        Some((p.player, to[..1].parse().ok()?))
    })
}

/// The lines come in the order of the walk.
fn order(card: &Card, starts: &[(u8, f64)]) -> Vec<String> {
    let mut wrong = Vec::new();
    let lines: Vec<u8> = card
        .lines()
        .iter()
        .filter(|(line, _)| line.contains(": ") && !line.contains("stay and be ready"))
        .filter_map(|(line, _)| line.split(", ").next()?.parse().ok())
        .collect();
    let of = |n: &u8| starts.iter().find(|(m, _)| m == n).map(|(_, t)| *t);
    let ball = |n: &&u8| {
        let part = card.parts.iter().find(|p| p.player == **n);
        part.is_some_and(|p| p.does.starts_with("pass") || p.does.starts_with("catch"))
    };
    let has = |n: &u8| card.scene.as_ref().is_some_and(|s| has_ball(s, *n));
    let runs: Vec<f64> = lines
        .iter()
        .filter(|n| !ball(n) && !has(n))
        .filter_map(of)
        .collect();
    if runs.windows(2).any(|w| w[0] > w[1] + 1e-9) {
        wrong.push(format!(
            "{}: lines {lines:?}, in the walk {starts:?}",
            card.name
        ));
    }
    wrong
}
