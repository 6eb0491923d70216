//! The lit floor is the batch's openness: at random points the field that the window draws is what
//! the floor itself measures for a team-mate who stands there.

use std::sync::Arc;

use lanelight::court::Vec2;
use lanelight::looks::field::{self, Grid};
use lanelight::offence::LookKind;
use lanelight::scenario::Scenario;
use lanelight::sim::parts::Doing;
use lanelight::sim::{cast_of, ground, play_witnessed};
use rand::{RngExt, SeedableRng};

/// As the field is kept for drawing, it may differ by so much.
const WITHIN: f64 = 1e-3;

#[test]
fn the_field_drawn_is_the_openness_of_the_batch_at_a_thousand_random_points() {
    let scenario = Arc::new(Scenario::demo());
    let cast = cast_of(&scenario);
    let mut random = rand_pcg::Pcg64::seed_from_u64(4);
    let (mut compared, mut between, mut worst) = (0, 0, 0.0f64);
    let mut seed = 1;
    while compared < 1000 {
        let (possession, instants) = play_witnessed(&scenario, &cast, seed);
        let play = ground(&scenario, &cast, seed, possession.side);
        seed += 1;
        for mut instant in instants {
            let passer = instant.hold.by;
            let grid = Grid::over(&cast.court, 0.35, 9.5);
            let (column, row) = (
                random.random_range(0..grid.columns),
                random.random_range(0..grid.rows),
            );
            let point = grid.point(column, row);
            let who = field::catcher(&instant.old.scene, passer, point);
            // The batch, by the floor's own measure of all looks: he stands there, outside, and a
            // dribble has been used, so that every kind of pass outside is tried.
            let scene = instant.old.scene;
            instant.old.scene.pos[who] = point;
            instant.old.scene.vel[who] = Vec2::ZERO;
            instant.old.doing[who] = Doing::Outside;
            instant.hold.drove_from = Some(instant.spot(&play, passer));
            let looks = instant.looks(&play);
            let Some(look) = looks.iter().find(|l| l.to == Some(who as u8 + 1)) else {
                assert!(field::at(&cast, &scene, passer, point).is_none());
                continue;
            };
            assert_eq!(look.kind, LookKind::KickOut);
            let drawn = field::over(
                &cast,
                &scene,
                passer,
                &Grid {
                    columns: 1,
                    rows: 1,
                    first: point,
                    ..grid
                },
            )[0] as f32;
            worst = worst.max((f64::from(drawn) - look.openness).abs());
            compared += 1;
            between += u32::from(look.openness > 0.02 && look.openness < 0.98);
        }
    }
    println!("{compared} points, {between} of them half lit, largest difference {worst:.1e}");
    assert!(worst < WITHIN, "{worst}");
    assert!(between > 50, "only {between} points were in half light");
}
