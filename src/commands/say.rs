//! What a file says, said back in sentences: an offence, a defence, a squad.

use lanelight::court::Units;
use lanelight::defence::{Area, Defence, Gaze, Helper, Override, Relation, Stance, Switch};
use lanelight::offence::{Offence, words};
use lanelight::possession::timeline::{FOOT, length};
use lanelight::report::clean;
use lanelight::report::wrap::wrap;
use lanelight::squad::Squad;

/// The offence in sentences, each rule under its name.
pub fn offence(offence: &Offence) -> String {
    let mut text = titled(&offence.name, &offence.note) + "\n";
    for sentence in words::offence(offence) {
        if let Some(rule) = offence
            .rules
            .iter()
            .find(|rule| words::rule(rule) == sentence)
        {
            text += &wrap(&format!("“{}”", clean::line(&rule.name)), "  ", "    ");
            text += &wrap(&clean::line(&sentence), "    ", "    ");
        } else {
            text += &wrap(&clean::line(&sentence), "  ", "    ");
        }
    }
    text
}

/// The defence in sentences: where each defender stands, by his man's relation to the ball.
pub fn defence(defence: &Defence, units: Units) -> String {
    let mut text = titled(&defence.name, &defence.note) + "\n";
    let mut say = |said: String| text += &wrap(&said, "  ", "    ");
    if let Some(areas) = &defence.zone {
        say("A zone: each defender has an area and guards whoever is in it.".to_owned());
        for area in areas {
            say(zone_area(area, units));
        }
        for chaser in &defence.chasers {
            say(format!(
                "X{} goes with player {} everywhere, and helps nobody.",
                chaser.defender, chaser.player
            ));
        }
    }
    for relation in Relation::ALL {
        let said = stance(defence.stances.of(relation), units);
        say(words::capital(&format!("{}: {said}.", relation.word())));
    }
    for own in &defence.overrides {
        for said in override_of(own, units) {
            say(said);
        }
    }
    for said in help(defence, units) {
        say(said);
    }
    if defence.switch == Switch::OnScreens {
        say("Screens are switched.".to_owned());
    }
    if let Some(how) = defence.ball_screens {
        say(format!("Screens on the ball: {}.", how.word()));
    }
    let tags = match defence.tag {
        Some(Helper::LowMan) => Some("The low man on the weak side"),
        Some(Helper::Nearest) => Some("Whoever is nearest"),
        _ => None,
    };
    if let Some(who) = tags {
        say(format!(
            "{who} meets a screener who rolls, until the screener's defender is back."
        ));
    }
    if defence.trap_corners {
        say("A ball held in a corner is trapped: the defender of the next pass goes to it too, the others take \
             the next passes.".to_owned());
    }
    if let Some(how) = defence.off_ball_screens {
        say(format!("Screens away from the ball: {}.", how.word()));
    }
    text
}

/// Where an area is, with the ball in the middle, and how it moves.
fn zone_area(area: &Area, units: Units) -> String {
    let side = match area.x {
        x if x > 0.0 => format!("{} right of", length(units, x)),
        x if x < 0.0 => format!("{} left of", length(units, -x)),
        _ => "in line with".to_owned(),
    };
    let (x, y) = area.shift;
    format!(
        "X{}: {side} the rim and {} out from it; shifts by {:.0} % of the ball's way sideways and {:.0} % \
         outward; guards whoever comes within {}.",
        area.defender,
        length(units, area.y),
        100.0 * x,
        100.0 * y,
        length(units, area.covers)
    )
}

/// "half man, half ball, 1.2 m to 3.0 m from the man, open to ball and man".
fn stance(s: &Stance, units: Units) -> String {
    let sum = s.man + s.ball + s.rim;
    let shares = [(s.man, "man"), (s.ball, "ball"), (s.rim, "rim")]
        .map(|(share, word)| (share > 0.0).then(|| format!("{:.0} % {word}", 100.0 * share / sum)));
    let mix: Vec<String> = shares.into_iter().flatten().collect();
    let midline = match s.midline {
        m if m < 0.0 => format!(", {:.0} % farther from the midline", m * -100.0),
        0.0 => String::new(),
        m if m >= 1.0 => ", on the midline".to_string(),
        m => format!(", drawn {:.0} % of the way to the midline", m * 100.0),
    };
    let eyes = match s.gaze {
        Gaze::Ball => "eyes on the ball",
        Gaze::Man => "eyes on the man",
        Gaze::Both => "open to ball and man",
    };
    let deny = if s.deny {
        ", a hand in the passing lane"
    } else {
        ""
    };
    let (near, far) = (length(units, s.gap.0), length(units, s.gap.1));
    format!(
        "{}{midline}, {near} to {far} from the man, {eyes}{deny}",
        mix.join(", ")
    )
}

/// What one defender does differently.
fn override_of(own: &Override, units: Units) -> Vec<String> {
    let different = Relation::ALL
        .into_iter()
        .filter_map(|relation| Some((relation, own.of(relation)?)));
    different
        .map(|(relation, s)| {
            let said = stance(s, units);
            format!("X{}, {}: {said}.", own.defender, relation.word())
        })
        .collect()
}

/// Who helps on a drive, from where and how deep, the stunt, and how defenders close out.
fn help(defence: &Defence, units: Units) -> Vec<String> {
    let help = &defence.help;
    let who = match help.who {
        Helper::Nobody => None,
        Helper::LowMan => Some("The low man on the weak side"),
        Helper::Nearest => Some("Whoever is nearest"),
    };
    let mut said = Vec::new();
    match who {
        None => said.push("Nobody leaves a man to help on a drive.".to_owned()),
        Some(who) => said.push(format!(
            "{who} helps on a drive that comes within {} of the rim, and meets it {} from the rim{}.",
            length(units, help.within),
            length(units, help.depth),
            if help.rotate {
                ", and the next one takes the helper's man"
            } else {
                ", and nobody takes the helper's man"
            }
        )),
    }
    said.push(if help.stunt > 0.0 {
        let far = length(units, help.stunt);
        format!("One pass away, a defender stunts {far} toward a drive and back.")
    } else {
        "One pass away, nobody stunts at a drive.".to_owned()
    });
    said.push(format!(
        "Closing out, a defender comes at {:.0} % of top speed and stops {} short of the catcher.",
        100.0 * defence.closeout.pace,
        length(units, defence.closeout.short)
    ));
    said
}

/// The squad, a line for each player.
pub fn squad(squad: &Squad, units: Units) -> String {
    let mut text = titled(&squad.name, "") + "\n";
    for player in &squad.players {
        let name = match player.name.trim() {
            "" => String::new(),
            name => format!(" ({})", clean::line(name)),
        };
        let top = match units {
            Units::Metric => format!("{:.1} m/s", player.limits.top_speed),
            Units::Imperial => format!("{:.1} ft/s", player.limits.top_speed / FOOT),
        };
        let reach = length(units, player.limits.standing_reach);
        let line = format!(
            "Player {}{name}: top speed {top}, standing reach {reach}.",
            player.number
        );
        text += &wrap(&line, "  ", "    ");
    }
    text
}

/// A name with the coach's remark below it.
pub fn titled(name: &str, note: &str) -> String {
    let note = clean::line(note);
    let note = if note.is_empty() {
        note
    } else {
        wrap(&note, "  ", "  ")
    };
    wrap(&clean::line(name), "", "  ") + &note
}
