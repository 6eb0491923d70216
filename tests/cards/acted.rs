//! Acts a rule card as a player would who has nothing but the paper: reads the printed lines and the drawn
//! arrows, and says who goes from where to where in which order and who throws to whom. Then holds that
//! against the recorded play: where each of the five really is at the end, and in which order they left.

use lanelight::court::{Court, Vec2};
use lanelight::draw::cards::Card;
use lanelight::draw::layout::{End, Laid, Sign, Stroke, lay};
use lanelight::draw::svg::Look;
use lanelight::draw::walks::Walked;
use lanelight::draw::way::to_segment;
use lanelight::draw::{ArrowKind, Item, Scene};
use lanelight::possession::What;

use super::agree::{drawn, frames, goes_back, is_word_for, places, stop};

/// Whoever stays is within this distance of where the card shows him, and whoever goes within this of
/// the point of his arrow, which ends clear of bodies, metres (ours: a stride).
const STRIDE: f64 = 1.6;
/// Two who leave within this time leave together, seconds (ours).
const TOGETHER: f64 = 0.2;

/// What a line tells one player to do.
#[derive(Debug)]
struct Acts {
    player: u8,
    /// From his body, as it is drawn, to where his first arrow begins; none without one.
    gap: Option<f64>,
    /// Where the point of his last arrow is; where he stands without one.
    to: Vec2,
    /// What the line says.
    does: String,
    /// The arrows that begin with him: passes, and others.
    arrows: (usize, usize),
    /// Is the ball drawn with him?
    holds: bool,
}

fn tip(end: &End) -> Vec2 {
    match *end {
        End::Head { tip, .. } => tip,
        End::Bar { at, .. } => at,
    }
}

/// Where a line that comes back turns.
fn farthest(stroke: &Stroke, from: Vec2) -> Vec2 {
    let off = |p: &&Vec2| (**p - from).length();
    let points = stroke.pieces.iter().flatten();
    let turn = points.max_by(|a, b| off(a).total_cmp(&off(b)));
    *turn.expect("a line")
}

/// The printed lines, acted in their order.
fn read(lines: &[String], laid: &Laid) -> Vec<Acts> {
    let mut out = Vec::new();
    let mut act = |player: u8, does: &str| {
        let body = laid
            .marks
            .iter()
            .find(|m| m.number == player && matches!(m.sign, Sign::Attacker { .. }));
        let body = body.expect("each of the five is drawn");
        let own = || laid.strokes.iter().filter(|s| s.who == player);
        let ways = || own().filter(|s| s.kind != ArrowKind::Pass);
        out.push(Acts {
            player,
            gap: ways().next().and_then(|s| {
                let begins = s.pieces.first()?.first()?;
                Some((*begins - body.at).length() - body.radius)
            }),
            to: ways()
                .next_back()
                .map_or(body.true_at, |s| match goes_back(does) {
                    true => farthest(s, body.at),
                    false => tip(&s.end),
                }),
            does: does.to_string(),
            holds: matches!(body.sign, Sign::Attacker { has_ball: true }),
            arrows: (own().count() - ways().count(), ways().count()),
        });
    };
    for line in lines {
        let (who, does) = line.split_once(": ").expect("a line tells somebody");
        let numbers = who
            .split("; ")
            .filter_map(|one| one.split(", ").next()?.parse::<u8>().ok());
        numbers.for_each(|n| act(n, does));
    }
    out
}

/// Lines that leave out a part of their way: whose, and how far off, metres.
fn astray(scene: &Scene, laid: &Laid) -> Vec<(u8, f64)> {
    let mut out = Vec::new();
    for player in 1..=5 {
        let own = |kind: ArrowKind, who: u8| kind != ArrowKind::Pass && who == player;
        let strokes = laid.strokes.iter().filter(|s| own(s.kind, s.who));
        let line: Vec<Vec2> = strokes
            .flat_map(|s| s.pieces.iter().flatten().copied().chain([tip(&s.end)]))
            .collect();
        let near = |p: &Vec2| {
            let ends = line.windows(2).map(|w| to_segment(*p, w[0], w[1]));
            ends.fold(f64::INFINITY, f64::min)
        };
        let ways = scene.items.iter().filter_map(|item| match item {
            Item::Arrow { kind, path, who } if own(*kind, *who) => Some(path),
            _ => None,
        });
        let off = ways.flatten().map(near).fold(0.0, f64::max);
        if off > STRIDE {
            out.push((player, off));
        }
    }
    out
}

/// Does a line say who goes first?
pub fn is_the_order(line: &str) -> bool {
    !line.contains(": ") && line.split(' ').any(|word| word == "go" || word == "goes")
}

/// Everything that goes otherwise in the recorded play than for players who act the card.
pub fn goes_wrong(court: &Court, card: &Card, walk: &Walked, look: &Look) -> Vec<String> {
    let mut wrong = Vec::new();
    let Some(scene) = &card.scene else {
        return wrong;
    };
    let lines: Vec<String> = card.lines().into_iter().map(|(line, _)| line).collect();
    // Of the whole card, and not of one player.
    let whole = ["The whole rule: ", "Not drawn (", "Open then: ", "If the "];
    let of_one = |l: &&String| !whole.iter().any(|w| l.starts_with(w)) && !is_the_order(l);
    let told = lines.iter().filter(of_one);
    let told: Vec<String> = told.cloned().collect();
    let laid = lay(scene, &look.sizes);
    let acts = read(&told, &laid);
    let mut say = |text: String| wrong.push(format!("{}: {text}", card.name));
    for (player, off) in astray(scene, &laid) {
        say(format!(
            "the line of {player} is drawn {off:.2} m off the way"
        ));
    }
    let mut told: Vec<u8> = acts.iter().map(|a| a.player).collect();
    told.sort_unstable();
    if told != [1, 2, 3, 4, 5] {
        say(format!("tells {told:?}"));
    }
    let found = [1.0, -1.0].map(|sign| (sign, frames(walk, card, sign)));
    let Some((sign, frames)) = found.into_iter().find_map(|(s, f)| Some((s, f?))) else {
        return vec![format!("{}: drawn as it never is", card.name)];
    };
    let (mut left, mut passes) = (Vec::new(), Vec::new());
    for act in &acts {
        let i = usize::from(act.player) - 1;
        let until = stop(walk, act.player);
        let own = || frames.iter().filter(|f| f.time < until);
        let first = frames[0].attackers[i];
        let last = own().next_back().map_or(first, |f| f.attackers[i]);
        let last = Vec2::new(last.x * sign, last.y);
        if (last - act.to).length() > STRIDE {
            let off = (last - act.to).length();
            say(format!("{off:.2} m from where {act:?} ends"));
        }
        if act.gap.is_some_and(|gap| gap > 0.4) {
            say(format!("the arrow does not begin with him: {act:?}"));
        }
        let text = drawn(&act.does);
        if let Some(spot) = places(&text).last()
            && !is_word_for(court, *spot, last)
        {
            say(format!(
                "is at {last:?} and not where {act:?} is told to go"
            ));
        }
        // Whoever is told to go has an arrow, and nobody else.
        let goes = !places(&text).is_empty() || text.contains("dribble ");
        if goes != (act.arrows.1 > 0) {
            say(format!("{} arrows for {act:?}", act.arrows.1));
        }
        if text.starts_with("keep the ball") && !act.holds {
            say(format!("has no ball to keep: {act:?}"));
        }
        let thrown = text
            .split("pass to ")
            .nth(1)
            .and_then(|t| t[..1].parse::<u8>().ok());
        let promised = text.contains("your next pass goes to ");
        if (thrown.is_some() || promised) != (act.arrows.0 > 0) {
            say(format!("{} passes are drawn for {act:?}", act.arrows.0));
        }
        passes.extend(thrown.map(|to| (act.player, to)));
        let gone = own().find(|f| (f.attackers[i] - first).length() > 0.4);
        // Those with the ball come first, whenever they go.
        let ball = [
            "pass to",
            "catch",
            "keep the ball",
            "take the ball from",
            "drive",
            "dribble",
            "begin your",
        ];
        if let Some(gone) = gone.filter(|_| act.arrows.1 > 0)
            && !ball.iter().any(|words| text.starts_with(words))
        {
            left.push((act.player, gone.time));
        }
    }
    if left.windows(2).any(|w| w[0].1 > w[1].1 + TOGETHER) {
        say(format!(
            "told in another order than they leave in: {left:?}"
        ));
    }
    let over = (1..=5).map(|n| stop(walk, n)).fold(0.0, f64::max);
    let thrown = walk.step.timeline.iter().filter_map(|e| match e.what {
        What::Passes { from, to, .. } if e.time >= frames[0].time - 1e-6 && e.time < over => {
            Some((from, to))
        }
        _ => None,
    });
    let thrown: Vec<(u8, u8)> = thrown.collect();
    let catches = acts.iter().filter(|a| a.does.starts_with("catch"));
    let catches: Vec<u8> = catches.map(|a| a.player).collect();
    if thrown.iter().any(|(_, to)| !catches.contains(to)) || catches.len() > thrown.len() {
        say(format!("passes {thrown:?}, {catches:?} are told to catch"));
    }
    if thrown != passes {
        say(format!("passes {thrown:?}, told {passes:?}"));
    }
    wrong
}
