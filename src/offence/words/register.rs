//! Every word of the offence's language with a sentence that says what it means.

/// A word of the language and what it means.
#[derive(Clone, Copy, Debug)]
pub struct Word {
    /// The word, as files have it.
    pub word: &'static str,
    /// What it means, in one sentence.
    pub means: &'static str,
}

const fn word(word: &'static str, means: &'static str) -> Word {
    Word { word, means }
}

/// Sides of the floor.
pub const SIDES: [Word; 4] = [
    word(
        "ball",
        "the side on which the ball is once the event has happened",
    ),
    word("weak", "the other side"),
    word("own", "the side of the place that the player held"),
    word("either", "both sides; only in a `when`"),
];

/// Places. Those with two sides are written with one: `slot(ball)`.
pub const PLACES: [Word; 12] = [
    word("any", "any place; only in a `when`"),
    word(
        "perimeter",
        "any place outside: top, slots, wings, corners; only in a `when`",
    ),
    word(
        "inside",
        "any place inside: blocks, short corners, elbows, high post; only in a `when`",
    ),
    word("top", "outside the arc, in the middle"),
    word("high_post", "the middle of the free-throw line"),
    word("rim", "under the ring"),
    word("slot", "outside the arc, above the elbow; two of them"),
    word(
        "wing",
        "outside the arc, about level with the free-throw line; two of them",
    ),
    word("corner", "outside the arc, near the baseline; two of them"),
    word(
        "elbow",
        "where the free-throw line meets the lane line; two of them",
    ),
    word("block", "beside the lane, at the block mark; two of them"),
    word(
        "short_corner",
        "near the baseline, half way between lane and corner; two of them",
    ),
];

/// Events.
pub const EVENTS: [Word; 17] = [
    word("pass", "a pass between two places is in the air"),
    word(
        "drive",
        "the holder puts the ball on the floor toward the rim; `toward` says which way, if not either",
    ),
    word(
        "kick_out",
        "a pass out of a drive; `from` is where the drive began",
    ),
    word(
        "hand_off",
        "the ball is handed over; `from` and `to` are the places that the two held when it was ordered",
    ),
    word("catch", "somebody catches the ball there"),
    word(
        "catch_off_screen",
        "a player who came off a set screen a moment ago catches the ball there",
    ),
    word(
        "feed_stopped",
        "a player who was fed on a cut, or dropped off to, is stopped near the rim without a shot",
    ),
    word(
        "unfed",
        "a cutter has come to the rim, or to the place of the cut (`to`), and was not fed; `from` is where the cutter came from",
    ),
    word(
        "denied",
        "a player one pass away is guarded in the passing lane for so long, while the ball is at `ball`",
    ),
    word("clock", "so many seconds are left to shoot in"),
    word(
        "ball_on",
        "the ball has been held at that place for so long",
    ),
    word("ball_crosses", "the ball has changed sides"),
    word(
        "dribble_at",
        "the holder dribbles at a team-mate who stands there",
    ),
    word(
        "screen_set",
        "a screen stands; `at` is the place of the player for whom it is set",
    ),
    word(
        "screen_used",
        "a player comes off a screen that is set; `at` is the place from which the user came",
    ),
    word(
        "helped",
        "a defender has left the player at that place to stop the ball",
    ),
    word(
        "post_forgotten",
        "the post's defender has lost sight of the post, or sits deep under the rim, for so long",
    ),
];

/// Roles.
pub const ROLES: [Word; 14] = [
    word("passer", "the player who passed"),
    word("receiver", "the player to whom the ball goes"),
    word("holder", "the player who has the ball now"),
    word("driver", "the player who drives, or drove last"),
    word("cutter", "the player whose cut the event is about"),
    word(
        "denied",
        "the player who is denied, or at whom the ball is dribbled",
    ),
    word("screener", "the player who has set the screen"),
    word("left_alone", "the player whose defender has left to help"),
    word("post", "whoever plays inside; the first of two"),
    word("second_post", "the second inside player"),
    word("at", "the player who holds that place: `at(slot(weak))`"),
    word(
        "next",
        "the next player along the perimeter from the ball, on its weak-side hand",
    ),
    word(
        "nearest",
        "the nearest player to that place who is free to move: `nearest(top)`",
    ),
    word("player", "a player by number: `player(5)`"),
];

/// On which side of his defender a cutter goes.
pub const LANES: [Word; 2] = [
    word(
        "ball_side",
        "in front of the defender, between the defender and the ball",
    ),
    word("behind", "behind the defender's back: a backdoor cut"),
];

/// Movements.
pub const MOVEMENTS: [Word; 18] = [
    word("hold", "stay, and face the ball"),
    word("fill", "take that place"),
    word(
        "fill_first",
        "take the first of these places at which nobody is",
    ),
    word(
        "replace",
        "take the place which that player holds, or held before leaving it",
    ),
    word(
        "cut",
        "cut to the rim, or to the place `to`, at full speed; if the ball does not come, go on with `unfed`",
    ),
    word(
        "circle_out",
        "from the rim out along the baseline and round to that place",
    ),
    word("go_through", "from the rim on, under it, to that place"),
    word(
        "screen_for",
        "set a screen on that player's defender, then go on with `after`",
    ),
    word(
        "use_screen",
        "wait for the screener, cut off the screener's shoulder to the rim; not fed, go on with `unfed`",
    ),
    word(
        "flash",
        "show at that place for so long, facing the ball; then go back to your place",
    ),
    word(
        "seal",
        "keep the defender behind at that place for so long, open to the ball; then go back to your place",
    ),
    word(
        "drop_off",
        "stay until the defender leaves to stop the drive, then step to the lane line beside the rim, on the own side, for a short pass",
    ),
    word(
        "drift",
        "move along the perimeter away from the drive to that place, facing the ball",
    ),
    word(
        "lift",
        "move up along the perimeter to that place, facing the ball",
    ),
    word("dribble_at", "(the holder) dribble at that team-mate"),
    word(
        "hand_off",
        "(the holder) stand, and give the ball by hand to that team-mate, who comes for it",
    ),
    word(
        "dribble_hand_off",
        "(the holder) dribble toward that team-mate, and give the ball by hand",
    ),
    word(
        "pass_next",
        "(the holder) pass to that team-mate next, as soon as it is safe",
    ),
];

/// Ways off a screen.
pub const OFF_SCREENS: [Word; 3] = [
    word(
        "curl",
        "the defender chases round the screen: tight round the screener to the rim",
    ),
    word(
        "fade",
        "the defender goes under the screen: away from it, to the next place along the perimeter",
    ),
    word(
        "back_cut",
        "the defender is in front of the screen already: behind the defender's back to the rim",
    ),
];

/// Which way a drive goes by the holder's defender.
pub const TOWARDS: [Word; 2] = [
    word("middle", "to the middle of the floor"),
    word("baseline", "along the sideline and the baseline"),
];

/// Conditions.
pub const CONDITIONS: [Word; 13] = [
    word("held", "somebody is at that place, or is on the way to it"),
    word("empty", "nobody is at that place, nor on the way to it"),
    word(
        "ball_at",
        "the ball is held there, or on its way to the player who holds that place",
    ),
    word("post_on", "a player is inside on that side"),
    word(
        "overplayed",
        "the player's defender is close and in the way of the pass",
    ),
    word(
        "sagged_off",
        "the player's defender has dropped off the player",
    ),
    word(
        "off_ball",
        "the player neither has the ball nor is about to catch it",
    ),
    word("is_player", "the player has that number"),
    word(
        "not_screening",
        "the player neither sets a screen nor is on the way to one",
    ),
    word(
        "has_ball",
        "the player of that number has the ball, or is about to catch it",
    ),
    word(
        "screen_coming",
        "a screen for whoever has the ball is on its way, or stands",
    ),
    word("time_over", "at least so many seconds are left to shoot in"),
    word(
        "time_under",
        "fewer than so many seconds are left to shoot in",
    ),
];

/// Looks of the ball holder.
pub const LOOKS: [Word; 9] = [
    word("shot", "shoot from here"),
    word("drive", "drive to the rim"),
    word(
        "give_and_go",
        "pass to a team-mate who cuts in front of the defender",
    ),
    word(
        "backdoor",
        "pass to a team-mate who cuts behind the defender",
    ),
    word("post", "pass to a team-mate who plays inside"),
    word(
        "drop_off",
        "from a drive: pass to the team-mate beside the rim",
    ),
    word(
        "kick_out",
        "from a drive or from the post: out to a team-mate on the perimeter",
    ),
    word(
        "next_pass",
        "pass to a team-mate on the perimeter one pass away",
    ),
    word(
        "skip",
        "over the defence to a team-mate two or more passes away",
    ),
];

/// Every register, with its name and the enum's.
pub const REGISTERS: [(&str, &[Word]); 10] = [
    ("By", &SIDES),
    ("Place", &PLACES),
    ("Event", &EVENTS),
    ("Role", &ROLES),
    ("CutLane", &LANES),
    ("Movement", &MOVEMENTS),
    ("LookKind", &LOOKS),
    ("Condition", &CONDITIONS),
    ("OffScreen", &OFF_SCREENS),
    ("Toward", &TOWARDS),
];

/// Words of the trade that the language says otherwise, and how. For movements.
const OTHERWISE: [(&[&str], &str); 10] = [
    (
        &[
            "ball_screen",
            "on_ball_screen",
            "screen_ball",
            "pick_and_roll",
        ],
        "`screen_for(whom: holder, after: ...)` (for a pass in the air `whom: receiver`): who has the ball uses \
         the screen without being told",
    ),
    (
        &["roll", "pop", "slip", "short_roll"],
        "what a screener does next stands in the screen: `screen_for(whom: ..., after: ...)`; a roll is \
         `after: cut(lane: ball_side, unfed: ...)`, a pop `after: fill(...)`",
    ),
    (
        &[
            "screen",
            "set_screen",
            "pick",
            "down_screen",
            "back_screen",
            "cross_screen",
        ],
        "`screen_for(whom: ..., after: ...)`",
    ),
    (
        &["curl", "fade", "flare", "come_off", "off_screen"],
        "`use_screen(of: ..., to: ..., ways: [curl, fade, back_cut], unfed: ...)`: off the screen to a place; \
         without `to`, to the rim",
    ),
    (
        &["backdoor", "back_cut", "backcut", "backdoor_cut"],
        "`cut(lane: behind, unfed: ...)`",
    ),
    (
        &["basket_cut", "front_cut", "give_and_go", "dive"],
        "`cut(lane: ball_side, unfed: ...)`",
    ),
    (
        &["post_up", "duck_in"],
        "`seal(at: block(ball), seconds: ...)`",
    ),
    (
        &["handoff", "hand", "dho", "dribble_handoff", "give"],
        "`hand_off(...)`: stand, and give the ball by hand to that team-mate; `dribble_hand_off(...)`: dribble \
         toward the team-mate first",
    ),
    (
        &["pass", "pass_to", "reverse", "swing"],
        "`pass_next(...)`: the holder passes to that team-mate next, unless something better opens",
    ),
    (
        &["go", "run", "move", "stay", "stand", "wait", "space"],
        "`fill(...)` to go somewhere, `hold` to stay",
    ),
];

/// How the language says a movement for which the trade has another word.
pub fn otherwise(word: &str) -> Option<&'static str> {
    let mut all = OTHERWISE.iter();
    let found = all.find(|(words, _)| words.contains(&word));
    found.map(|(_, says)| *says)
}
