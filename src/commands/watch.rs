//! `watch`: one possession, told as a coach would tell it.

use lanelight::possession::timeline::{Line, lines};
use lanelight::report::files::{Output, is_screen};
use lanelight::report::track::{self, Form};
use lanelight::report::wrap::wrap;
use lanelight::report::{Heading, clean};
use lanelight::sim::{Keep, play};

use super::{choose, show, warn};
use crate::{Failure, WatchArgs};

/// Plays the possession, tells it, and writes its track if asked for.
pub fn watch(args: &WatchArgs) -> Result<(), Failure> {
    let form = match &args.track {
        None => None,
        Some(path) if is_screen(path) => Some(Form::JsonLines),
        Some(path) => Some(Form::of(path).ok_or_else(|| {
            Failure::Wrong(format!(
                "--track {}: the name must end in .csv or in .jsonl",
                path.display()
            ))
        })?),
    };
    let (scenario, tweaks) = choose::scenario(&args.matchup)?;
    warn(&scenario.warnings);
    let possession = play(
        &scenario,
        args.seed,
        Keep {
            track: form.is_some(),
            moments: true,
        },
    );
    if let (Some(form), Some(path)) = (form, &args.track) {
        Output::whole(path, |out| track::write(out, &possession, form))?;
        if is_screen(path) {
            return Ok(());
        }
    }
    let heading = Heading::of(&scenario, &tweaks);
    let mut text = heading.top();
    text += &format!("Possession of seed {}\n\n", args.seed);
    for line in lines(&possession, &scenario) {
        text += &told(&line);
    }
    show(&text)?;
    Ok(())
}

/// A line with its time before it, the rest of it indented.
fn told(line: &Line) -> String {
    let first = match line.tenths {
        Some(t) => format!("{:>4}.{} s  ", t / 10, t % 10),
        None => MARGIN.to_string(),
    };
    wrap(&clean::line(&line.text), &first, MARGIN)
}

/// As wide as a time.
const MARGIN: &str = "          ";
