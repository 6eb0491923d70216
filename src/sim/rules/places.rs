//! Places: where a movement ends, who claims what, and who gives way when two hold one place.

use crate::court::{Side, Spot};
use crate::offence::{By, Movement, Place, Role};

use super::super::parts::*;

/// Who holds what: a place to which somebody goes only after a screen is another's for as long as that one is there.
pub fn held(jobs: &[&mut Job; 5]) -> [Option<Spot>; 5] {
    std::array::from_fn(|i| {
        let another = |place: Spot| {
            (0..5).any(|j| j != i && jobs[j].place == Some(place) && !jobs[j].screens_first())
        };
        let later = jobs[i].screens_first();
        jobs[i].place.filter(|place| !(later && another(*place)))
    })
}

/// The place in which a movement will end, for a player with his own side `own`.
fn destination(
    movement: &Movement,
    ball: Side,
    own: Option<Side>,
    taken: &dyn Fn(Spot) -> bool,
    places: &[Option<Spot>; 5],
) -> Option<Spot> {
    let spot = |p: &Place| p.spot(ball, own);
    match movement {
        Movement::Fill(p)
        | Movement::CircleOut(p)
        | Movement::GoThrough(p)
        | Movement::Drift(p)
        | Movement::Lift(p) => spot(p),
        Movement::FillFirst(list) => list
            .iter()
            .filter_map(spot)
            .find(|&s| !taken(s))
            .or_else(|| list.first().and_then(spot)),
        Movement::UseScreen { to: Some(to), .. } => spot(to),
        Movement::Cut { unfed, .. } | Movement::UseScreen { unfed, .. } => {
            destination(unfed, ball, own, taken, places)
        }
        Movement::ScreenFor { after, .. } => destination(after, ball, own, taken, places),
        Movement::Replace(Role::Player(n)) => places
            .get(usize::from(*n).wrapping_sub(1))
            .copied()
            .flatten(),
        Movement::Replace(_)
        | Movement::Hold
        | Movement::Flash { .. }
        | Movement::Seal { .. }
        | Movement::DropOff
        | Movement::DribbleAt(_)
        | Movement::HandOff(_)
        | Movement::DribbleHandOff(_)
        | Movement::PassNext(_) => None,
    }
}

/// Claim the place in which his next movement ends, at once, so that nobody else fills it.
pub fn reserve(ball: &Ball, jobs: &mut [&mut Job; 5], who: usize, places: &[Option<Spot>; 5]) {
    let claimed: [Option<Spot>; 5] =
        std::array::from_fn(|i| if i == who { None } else { jobs[i].place });
    let taken = |s: Spot| claimed.contains(&Some(s));
    let own = jobs[who].own;
    if let Some(movement) = &jobs[who].next
        && let Some(spot) = destination(movement, ball.side, own, &taken, places)
    {
        jobs[who].place = Some(spot);
    }
}

/// Two on one place: he who has just been told to go there has it; the other (unless he has the
/// ball, or it is on its way to him) takes the place inside where he is to show, or the first of `keep_filled`, that nobody
/// holds. Who is to screen
/// before he goes there takes it from nobody until his turn comes.
pub fn no_two_on_one_place(
    play: &Play,
    ball: &Ball,
    jobs: &mut [&mut Job; 5],
    keeper: Option<usize>,
) {
    for a in 0..5 {
        for b in a + 1..5 {
            let Some(place) = jobs[a].place else { continue };
            if jobs[b].place != Some(place) || jobs[a].screens_first() || jobs[b].screens_first() {
                continue;
            }
            // (Who is told to show or to hold claims nothing: the place is the old one.)
            let told = |i: usize| jobs[i].next.as_ref().is_some_and(Movement::leaves);
            let goes = if Some(a) == keeper || (told(a) && Some(b) != keeper && !told(b)) {
                b
            } else {
                a
            };
            let own = jobs[goes].own;
            let shows = still_to_come(jobs[goes]).and_then(|m| shows(m, ball.side, own));
            let free = |spot: &Spot| !jobs.iter().any(|job| job.place == Some(*spot));
            match shows
                .filter(free)
                .or_else(|| first_free(play, ball, jobs, goes))
            {
                Some(spot) => {
                    jobs[goes].place = Some(spot);
                    if shows.is_none() {
                        ends_elsewhere(jobs[goes], fill_exactly(spot, ball.side));
                    }
                }
                None => jobs[goes].place = None,
            }
        }
    }
}

/// Where he is to show inside, if his movement ends with that: he goes home from there.
fn shows(movement: &Movement, ball: Side, own: Option<Side>) -> Option<Spot> {
    match movement {
        Movement::Flash { to, .. } | Movement::Seal { at: to, .. } => to.spot(ball, own),
        Movement::Cut { unfed: next, .. }
        | Movement::UseScreen { unfed: next, .. }
        | Movement::ScreenFor { after: next, .. } => shows(next, ball, own),
        _ => None,
    }
}

/// What a player is about, at its end: the movement that is still to come.
fn still_to_come(job: &Job) -> Option<&Movement> {
    match (&job.next, &job.task) {
        (Some(next), _) => Some(next),
        (None, Task::Screen { after, .. }) => Some(after),
        _ => None,
    }
}

/// His place is another's: a cut or a screen is run all the same, and he goes on to `fill` from there.
fn ends_elsewhere(job: &mut Job, fill: Movement) {
    match (&mut job.next, &mut job.task) {
        (Some(next), _) => *next.last_mut() = fill,
        (
            None,
            Task::Cut { unfed: next, .. }
            | Task::UseScreen { unfed: next, .. }
            | Task::Screen { after: next, .. },
        ) => *next.last_mut() = fill,
        (next, _) => *next = Some(fill),
    }
}

/// The movement "take that very spot".
pub fn fill_exactly(spot: Spot, ball: Side) -> Movement {
    Movement::Fill(Place::of(spot, ball))
}

/// The place inside that he left with the ball, or the first to be kept filled, that nobody holds.
pub fn first_free(play: &Play, ball: &Ball, jobs: &[&mut Job; 5], who: usize) -> Option<Spot> {
    let filled = play.scenario.offence.keep_filled.iter();
    let mut places = filled
        .chain(ELSEWHERE.iter())
        .filter_map(|p| p.spot(ball.side, None));
    let free = |s: &Spot| !jobs.iter().any(|j| j.place == Some(*s));
    jobs[who].left.filter(free).or_else(|| places.find(free))
}

/// Where a player goes for whom no place of the offence is left, in this order.
const ELSEWHERE: [Place; 3] = [Place::Corner(By::Weak), Place::Corner(By::Ball), Place::Top];
