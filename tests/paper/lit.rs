//! The lit floor on paper: it lies under every picture that has a defence, it is the light of the play, and in grey it
//! is lighter than the shadow.

use lanelight::court::Vec2;
use lanelight::draw::cards::cards;
use lanelight::draw::film::Film;
use lanelight::draw::glow::{EVERY, FEWEST, GRAIN, glow, light_up};
use lanelight::draw::light::{Field, Replay};
use lanelight::draw::sheet::{Paper, Practice};
use lanelight::draw::svg::{Look, UNIT, picture};
use lanelight::draw::{Item, Scene, print};
use lanelight::possession::What;
use lanelight::scenario::Scenario;

fn field(scene: &Scene) -> Option<&Field> {
    scene.items.iter().find_map(|item| match item {
        Item::Light(field) => Some(field),
        _ => None,
    })
}

#[test]
fn the_floor_is_lit_on_the_sheet_on_every_card_whose_rule_fires_and_in_the_moving_picture() {
    let scenario = Scenario::demo();
    let summary = super::summary(&scenario, 100);
    let replays = Replay::many(&scenario, 1..61);
    let mut cards = cards(&scenario);
    let glows = glow(scenario.offence.rules.len(), &replays);
    light_up(&mut cards, &glows);
    let mut lit = 0;
    for card in &cards {
        let fires = |r: &Replay| {
            let told = r.possession.timeline.iter();
            told.filter(|e| matches!(e.what, What::Rule { rule, .. } if rule == card.rule))
                .count()
        };
        let fired: usize = replays.iter().map(fires).sum();
        // A firing after which nobody holds the ball again has no light.
        let counted = glows[card.rule].as_ref().map_or(0, |g| g.fired as usize);
        assert!(counted <= fired, "{}", card.name);
        let Some(scene) = &card.scene else { continue };
        if counted >= FEWEST as usize {
            assert!(scene.lit(), "{}: {fired} firings", card.name);
            lit += 1;
        } else {
            assert!(!scene.lit());
        }
    }
    assert!(lit >= 8, "{lit} cards of {}", cards.len());
    let practice = Practice::shown_by(&scenario, &summary, &cards, &replays);
    assert!(practice.looks.iter().all(|look| look.scene.lit()));
    assert!(!practice.shells.is_empty() && practice.shells.iter().all(|s| s.scene.lit()));
    // The card's light is that of later instants than the start of a drill.
    assert!(practice.breakdowns.iter().all(|drill| !drill.scene.lit()));
    let (pages, _) = practice.pages(&scenario, &summary, Paper::A4);
    assert!(super::words(&pages).contains("There the floor is not shaded"));
    // The moving picture without what the holder decided from has no light.
    let mut dark = replays[0].clone();
    let bright = Film::of(&dark, "Demo", 120)
        .expect("a film")
        .gif()
        .expect("a GIF");
    dark.instants.clear();
    assert!(
        bright
            != Film::of(&dark, "Demo", 120)
                .expect("a film")
                .gif()
                .expect("a GIF")
    );
}

#[test]
fn the_light_of_a_rule_is_the_mean_of_what_is_lit_after_its_firings() {
    let scenario = Scenario::demo();
    let replays = Replay::many(&scenario, 1..25);
    let all = glow(scenario.offence.rules.len(), &replays);
    // Each possession alone, weighed by its firings, is the same.
    let each: Vec<_> = replays.iter().map(|r| glow_of(&scenario, r)).collect();
    let mut held = 0;
    for (rule, whole) in all.iter().enumerate() {
        let Some(whole) = whole else { continue };
        let fired: u32 = each.iter().map(|e| e[rule].0).sum();
        assert_eq!(fired, whole.fired);
        for (i, value) in whole.mean.values.iter().enumerate() {
            let sum: f64 = each.iter().filter_map(|e| e[rule].1.get(i)).sum();
            assert!((sum / f64::from(fired) - value).abs() < 1e-9);
            assert!((0.0..=1.0).contains(value));
        }
        held += 1;
    }
    assert!(held >= 5, "{held}");
}

/// Firings, and the sum of their light, of one possession: written anew, instant by instant.
fn glow_of(scenario: &Scenario, replay: &Replay) -> Vec<(u32, Vec<f64>)> {
    let rules = scenario.offence.rules.len();
    let mut out = vec![(0, Vec::new()); rules];
    let told: Vec<(usize, f64)> = replay
        .possession
        .timeline
        .iter()
        .filter_map(|e| match e.what {
            What::Rule { rule, .. } => Some((rule, e.time)),
            _ => None,
        })
        .collect();
    for (i, (rule, from)) in told.iter().enumerate() {
        let over = told
            .iter()
            .skip(i)
            .map(|t| t.1)
            .find(|t| t > from)
            .unwrap_or(1e9)
            .min(from + 3.0);
        let mut most: Vec<f64> = Vec::new();
        let mut left = false;
        for (m, moment) in replay.possession.moments.iter().enumerate().step_by(EVERY) {
            if moment.time < *from || moment.time >= over {
                continue;
            }
            let light = replay.light(m, GRAIN).expect("light").values;
            if most.is_empty() {
                most = vec![0.0; light.len()];
                left = replay.instants[m].side == lanelight::court::Side::Left;
            }
            for (a, b) in most.iter_mut().zip(light) {
                *a = a.max(b);
            }
        }
        if most.is_empty() {
            continue;
        }
        if left {
            let wide = replay.light(0, GRAIN).expect("light").grid.columns;
            most.chunks_mut(wide).for_each(<[f64]>::reverse);
        }
        out[*rule].0 += 1;
        if out[*rule].1.is_empty() {
            out[*rule].1 = vec![0.0; most.len()];
        }
        for (a, b) in out[*rule].1.iter_mut().zip(most) {
            *a += b;
        }
    }
    out
}

#[test]
fn in_grey_lit_floor_is_lighter_than_shadow_and_the_tint_takes_little_ink() {
    let scenario = Scenario::demo();
    let (mut held, mut ink) = (0, Vec::new());
    for replay in Replay::many(&scenario, 1..9) {
        let bright = |m: &usize| {
            let light = replay.light(*m, 0.5).expect("light");
            light.values.iter().filter(|v| **v > 0.28).count()
        };
        let Some(moment) = (0..replay.instants.len()).max_by_key(bright) else {
            continue;
        };
        let scene = replay.scene(moment).expect("a scene");
        let light = field(&scene).expect("light");
        let map = print::pixels(&picture(&scene, &Look::PAPER).file(""), 800).expect("pixels");
        let (low, _) = scene.bounds();
        let scale = 800.0 / ((-2.0 * low.x + 0.7) * UNIT) * UNIT;
        let bodies: Vec<Vec2> = scene
            .items
            .iter()
            .filter_map(|i| match i {
                Item::Attacker { pos, .. } | Item::Defender { pos, .. } => Some(*pos),
                _ => None,
            })
            .collect();
        let grey = |p: Vec2| {
            let (x, y) = ((p.x - low.x + 0.35) * scale, (p.y - low.y + 0.35) * scale);
            let pixel = map.pixel(x as u32, y as u32)?;
            Some(
                0.2126 * f64::from(pixel.red())
                    + 0.7152 * f64::from(pixel.green())
                    + 0.0722 * f64::from(pixel.blue()),
            )
        };
        let (mut lit, mut dark) = (Vec::new(), Vec::new());
        for (i, value) in light.values.iter().enumerate() {
            let p = light
                .grid
                .point(i % light.grid.columns, i / light.grid.columns);
            let clear = bodies.iter().all(|b| (b - p).length() > 1.0)
                && p.x.abs() < 6.0
                && p.y < 7.0
                && p.y > -1.0;
            let Some(grey) = grey(p).filter(|_| clear) else {
                continue;
            };
            match value {
                v if *v > 0.28 => lit.push(grey),
                v if *v <= 0.0 => dark.push(grey),
                _ => {}
            }
        }
        let middle = |list: &mut Vec<f64>| {
            list.sort_by(f64::total_cmp);
            list.get(list.len() / 2).copied()
        };
        let (Some(lit), Some(dark)) = (middle(&mut lit), middle(&mut dark)) else {
            continue;
        };
        assert!(lit > dark + 10.0, "lit {lit}, dark {dark}");
        ink.push(1.0 - dark / 255.0);
        held += 1;
    }
    println!("{held} pictures, ink of the shadow {ink:.3?}");
    assert!(held >= 4, "{held}");
    // A tint that prints, and over which black letters are read.
    assert!(
        ink.iter().all(|share| (0.08..0.22).contains(share)),
        "{ink:?}"
    );
}
