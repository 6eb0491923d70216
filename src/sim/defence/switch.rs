//! Players traded on a screen.

use super::*;
use crate::defence::BallScreens;
use crate::possession::What;

/// The user of a screen comes off it when this near to the screener, metres (ours: an arm and a stride).
const COMES_BY: f64 = 1.6;
/// Who has just traded does not trade back for so long, seconds (ours: the time that a screen lasts).
const NOT_AGAIN: f64 = 2.5;

/// Trade players where an attacker comes off a team-mate's set screen: the screener's defender takes him who comes
/// off, whoever of the two is nearer (common practice: a called switch is a switch). Where the screened defender
/// sags so far that the cut goes straight, nobody comes off the screen and nobody trades.
pub(super) fn switch_on_screens(
    play: &Play,
    clock: &Clock,
    ball: &Ball,
    old: &Old,
    five: &mut Five,
    book: &mut Book,
) {
    let defence = &play.scenario.defence;
    let on_the_ball = defence.meets_ball_screens() == BallScreens::Switch;
    let guard_of = |five: &Five, man: usize| (0..5).find(|&d| five[d].2.man == man);
    for screener in (0..5).filter(|&i| old.screens[i]) {
        let Some(user) = old.screening[screener] else {
            continue;
        };
        let off = ball.hold().and_then(|hold| hold.screened);
        let used = off.is_some_and(|off| off.by == screener && !off.refuses);
        let switches = match old.ball_screen == Some(screener) || used {
            true => on_the_ball && used,
            false => defence.switch == Switch::OnScreens,
        };
        if !switches {
            continue;
        }
        // On his cut, or on his way to meet a pass that he has drawn by it.
        let cuts = matches!(old.doing[user], Doing::Cutting { arrived: false, .. });
        let comes_off = (cuts || ball.man() == user)
            && (old.scene.pos[user] - old.scene.pos[screener]).length() < COMES_BY;
        let (Some(a), Some(b)) = (guard_of(five, user), guard_of(five, screener)) else {
            continue;
        };
        let again = |d: usize| {
            let traded = five[d].2.traded;
            traded.is_some_and(|tick| clock.tick < tick + ticks(NOT_AGAIN))
        };
        if !comes_off || again(a) || again(b) {
            continue;
        }
        for (d, man) in [(a, screener), (b, user)] {
            five[d].2.man = man;
            five[d].2.traded = Some(clock.tick);
        }
        let (defender, with) = (a as u8 + 1, b as u8 + 1);
        book.write(clock, What::Switches { defender, with });
        return;
    }
}
