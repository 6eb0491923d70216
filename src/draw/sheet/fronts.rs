//! Where a post's defender stands while the feed to the post is shut, read off possessions: the stance, a finding and the
//! read of a drill are to mean the same by "shut".

use crate::defence::Relation;
use crate::offence::LookKind;
use crate::possession::{Frame, Moment};

use super::super::glow::PLAYED;
use super::super::light::Replay;
use super::super::phase::frame_at;

/// A look is shut at this chance of the pass at most (as the figures count it).
const SHUT: f64 = 0.5;
/// Within 60 degrees of the way from the post to the ball, a defender is between the two; within as much of the other way,
/// behind (ours). The cosine.
const TOWARD: f64 = 0.5;
/// With fewer moments nothing is said (ours).
const FEWEST: usize = 30;

/// Where the defender of a post is, seen from the post.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Stands {
    Between,
    Beside,
    Behind,
}

impl Stands {
    const ALL: [Stands; 3] = [Stands::Between, Stands::Beside, Stands::Behind];

    /// After "the post's defender,".
    pub(super) fn words(self) -> &'static str {
        match self {
            Stands::Between => "who then stands between post and ball, not toward the rim",
            Stands::Beside => "who then stands beside the post, an arm in the way of the pass",
            Stands::Behind => "who then reaches round the post from behind",
        }
    }
}

/// Where most of those with this relation to the ball stood in the possessions that were looked through.
pub(super) fn mostly(replays: &[Replay], relation: Relation) -> Option<Stands> {
    let mut count = [0_usize; 3];
    for replay in replays.iter().take(PLAYED) {
        let possession = &replay.possession;
        for moment in &possession.moments {
            let Some(frame) = possession
                .track
                .get(frame_at(&possession.track, moment.time))
            else {
                continue;
            };
            for stands in shut(moment, frame, relation) {
                count[stands as usize] += 1;
            }
        }
    }
    let all: usize = count.iter().sum();
    let most = Stands::ALL.into_iter().max_by_key(|s| count[*s as usize]);
    most.filter(|_| all >= FEWEST)
}

/// Where each defender of a post stands who shuts the feed to that one at a moment.
fn shut<'a>(
    moment: &'a Moment,
    frame: &'a Frame,
    relation: Relation,
) -> impl Iterator<Item = Stands> + 'a {
    let feeds = moment.looks.iter();
    let feeds = feeds.filter(|l| l.kind == LookKind::Post && !l.open && l.openness <= SHUT);
    feeds.filter_map(move |look| {
        let (to, by) = (look.to?, look.closer?.defender);
        let of = |n: u8| usize::from(n).checked_sub(1);
        let own = *frame.guards.get(of(by)?)? == to && *frame.relations.get(of(by)?)? == relation;
        let (post, defender) = (
            *frame.attackers.get(of(to)?)?,
            *frame.defenders.get(of(by)?)?,
        );
        let ball = *frame.attackers.get(of(moment.holder)?)?;
        let (way, off) = (ball - post, defender - post);
        let long = way.length() * off.length();
        let toward = way.dot(off) / long.max(1e-6);
        own.then_some(match toward {
            t if t > TOWARD => Stands::Between,
            t if t < -TOWARD => Stands::Behind,
            _ => Stands::Beside,
        })
    })
}
