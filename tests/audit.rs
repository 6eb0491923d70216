//! The audit: tracks from files bring what the possessions themselves bring, on any number of threads,
//! and planted sights are counted exactly.

use lanelight::audit::{Audit, Counts, Figure, Frame, Pair, Track, read};
use lanelight::court::{CourtCode, Vec2};
use lanelight::report::track::{Form, write};
use lanelight::report::{Heading, audit as sheet};
use lanelight::scenario::Scenario;
use lanelight::sim::{Keep, play};
use lanelight::squad::Level;

const SEEDS: std::ops::RangeInclusive<u64> = 1..=12;

fn scenario() -> Scenario {
    Scenario::from_parts(
        CourtCode::Nba,
        Level::ProMen,
        "four_out_one_post",
        "mixed_professional",
        &[],
    )
    .expect("a shipped scenario")
}

/// Places in the files are written to the millimetre.
fn whole_millimetres(frame: &mut Frame) {
    let places = frame.attackers.iter_mut().chain(&mut frame.defenders);
    for at in places.chain([&mut frame.ball]) {
        // As they are written and read: by their digits.
        let digits = |z: f64| format!("{z:.3}").parse().expect("a number");
        *at = Vec2::new(digits(at.x), digits(at.y));
    }
}

/// The tracks as they are, to the millimetre, and as read from what is written.
fn tracks() -> (Vec<Track>, Vec<Track>, Vec<Track>) {
    let scenario = scenario();
    let (mut own, mut rounded, mut from_files) = (Vec::new(), Vec::new(), Vec::new());
    for seed in SEEDS {
        let possession = play(&scenario, seed, Keep::ALL);
        let track = Track::of(&possession);
        let mut bytes = Vec::new();
        write(&mut bytes, &possession, Form::Csv).expect("memory");
        from_files.push(read(bytes.as_slice(), "seed.csv").expect("its own format"));
        let mut to_the_millimetre = track.clone();
        let frames = &mut to_the_millimetre.frames;
        frames.iter_mut().for_each(whole_millimetres);
        rounded.push(to_the_millimetre);
        own.push(track);
    }
    (own, rounded, from_files)
}

#[test]
fn a_track_from_a_file_is_counted_as_the_possession_itself() {
    let (own, rounded, from_files) = tracks();
    let figures = |tracks: &[Track]| Audit::of_tracks(tracks).figures();
    let (own, rounded, read) = (figures(&own), figures(&rounded), figures(&from_files));
    let mut seen = 0;
    for ((a, b), exact) in rounded.iter().zip(&read).zip(&own) {
        let (Some(x), Some(y)) = (a.value, b.value) else {
            assert_eq!(a.value, b.value, "{}", a.name());
            continue;
        };
        // The file holds whole millimetres; on these the two agree.
        assert!((x - y).abs() < 1e-9, "{}: {x}, from the file {y}", a.name());
        // A millimetre moves what is measured by little: 0.5 mm a place, over 0.12 s at the least; in
        // accelerations it weighs 1 / (7 · 0.12²) · 8 times, 0.04 m/s².
        if let (Some(e), Some(_)) = (exact.value, a.real.at) {
            assert!((e - y).abs() < 0.06, "{}: {e}, from the file {y}", a.name());
        }
        seen += 1;
    }
    assert!(seen > 60, "only {seen} figures");
}

#[test]
fn the_figures_are_the_same_for_any_number_of_threads() {
    let scenario = scenario();
    let counted = |threads| Audit::of(&scenario, 1, 12, threads).expect("a sound plan");
    let (one, two) = (counted(1), counted(3));
    assert_eq!(one, two);
    let whose = sheet::Whose::Played {
        heading: Heading::of(&scenario, &[]),
        first_seed: 1,
    };
    assert_eq!(sheet::page(&whose, &one), sheet::page(&whose, &two));
    // And the same as from the possessions one by one.
    assert_eq!(one, Audit::of_tracks(&tracks().0));
}

/// Five attackers far apart, their defenders between them and the rim; 1 has the ball.
fn still() -> Frame {
    let spots = [(-7.0, 0.5), (-5.0, 5.0), (0.0, 7.5), (5.0, 5.0), (7.0, 0.5)]
        .map(|(x, y)| Vec2::new(x, y));
    Frame {
        attackers: spots,
        defenders: spots.map(|at| at * 0.8),
        ball: spots[0],
        holder: Some(0),
    }
}

/// Ten seconds at 25/3 Hz with planted sights.
fn planted() -> Track {
    let mut frames = vec![still(); 84];
    for (i, frame) in frames.iter_mut().enumerate() {
        // 1 passes to 2 at sample 20, who passes to 3 at 40; the ball is five samples in the air.
        frame.holder = match i {
            0..20 => Some(0),
            25..40 => Some(1),
            45..84 => Some(2),
            _ => None,
        };
        // 4 cuts at sample 10 at 5 m/s, stays four samples and comes out again.
        let out = match i {
            0..10 => 7.0,
            10..20 => 7.0 - 0.6 * (i - 9) as f64,
            20..24 => 1.0,
            _ => (1.0 + 0.6 * (i - 23) as f64).min(7.0),
        };
        frame.attackers[3] = Vec2::new(0.6, 0.8) * out;
        // 5 stands beside 4's spot for a second, at the end.
        if (70..78).contains(&i) {
            frame.attackers[4] = Vec2::new(0.6, 0.8) * 7.0 + Vec2::new(0.0, 1.2);
        }
        // 3 drives from sample 50 to 60, at 3.3 m/s.
        let on = 0.4 * (i.clamp(50, 60) - 50) as f64;
        frame.attackers[2] = Vec2::new(0.0, 7.5 - on);
        frame.ball = frame.attackers[frame.holder.unwrap_or(0)];
    }
    Track {
        frames,
        every: 1,
        shot: Some(83),
    }
}

#[test]
fn planted_sights_are_counted_exactly() {
    let counts = Counts::of(&planted());
    assert!((counts.seconds() - 10.08).abs() < 1e-9);
    let planted = |pair, wanted: f64| {
        let (y, _) = counts.pair(pair);
        assert!((y - wanted).abs() < 1e-9, "{pair:?}: {y}, planted {wanted}");
    };
    // In ten seconds, so ten times each.
    planted(Pair::Passes, 20.0);
    planted(Pair::Cuts, 10.0);
    planted(Pair::Drives, 10.0);
    planted(Pair::MatesNear, 10.0);
    planted(Pair::MatesNearFree, 10.0);
    planted(Pair::MatesTight, 0.0);
    planted(Pair::DefendersTight, 0.0);
    planted(Pair::ThreeAtTheRim, 0.0);
    planted(Pair::CatchStanding, 2.0);
    planted(Pair::DriveMate15, 0.0);
    // Sudden: the cutter's start, stop, start and stop (5 m/s), 5's leap beside 4 and back (each
    // there a start and a stop), and the drive's start and stop (3.3 m/s).
    planted(Pair::Jumps, 60.0 * (4.0 + 4.0 + 2.0));
}

#[test]
fn the_page_fits_eighty_columns_and_says_what_it_compares_with() {
    let audit = Audit::of_tracks(&[planted()]);
    let page = sheet::page(&sheet::Whose::Files { files: 1 }, &audit);
    for line in page.lines().chain(sheet::definitions().lines()) {
        assert!(line.chars().count() <= 80, "{line}");
    }
    assert!(page.contains("SocialVAE") && page.contains("OUT"));
    let figure = |f: &Figure| page.contains(f.sight.sentence);
    assert!(audit.figures().iter().all(figure));
    let mut json = Vec::new();
    sheet::json(&mut json, &sheet::Whose::Files { files: 1 }, &audit).expect("memory");
    let sheet: serde_json::Value = serde_json::from_slice(&json).expect("JSON");
    let lines = sheet["figures"].as_array().expect("a list");
    assert_eq!(lines.len(), audit.figures().len());
    let cuts = lines.iter().find(|l| l["name"] == "cuts").expect("cuts");
    assert!((cuts["value"].as_f64().expect("a number") - 10.0 / 10.08).abs() < 1e-9);
    assert_eq!(cuts["mark"], "near");
}
