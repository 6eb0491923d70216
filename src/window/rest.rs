//! At rest the window looks round once in a while, and draws nothing: a picture that is on the screen
//! already is not drawn again.

use std::time::Duration;

use bevy::camera::Camera;
use bevy::ecs::prelude::*;
use bevy::time::{Real, Time};
use bevy::winit::{UpdateMode, WinitSettings};
use bevy_egui::egui::epaint::{ClippedPrimitive, Primitive};
use bevy_egui::egui::{Event, Modifiers};
use bevy_egui::{EguiInput, EguiRenderOutput};

/// After the last hand and the last motion the picture is made on for so long, seconds: what slides
/// or fades comes to its end.
const CALMS: f32 = 0.7;
/// Then the window looks round this often, seconds, for files and for words that have been said long
/// enough. (Each time two pictures are made, as bevy follows every look with a second: some 11 ms each.)
const LOOKS: f32 = 2.0;
/// While something is played behind the picture: how far it has come is seen a few times a second, and the rest of the
/// machine is its own.
const WORKS: f32 = 0.25;
/// A new picture is drawn so many times: the first time a part of it may not have come.
const TIMES: u8 = 3;

/// How long the picture has been at rest.
#[derive(Resource, Default)]
pub struct Rest {
    /// Seconds since anything moved, or a hand was at work.
    pub seconds: f32,
    /// A job runs behind the picture.
    pub busy: bool,
}

/// How often the next pictures are made. A new picture is drawn to its end before the window rests: else each look round
/// would draw it once more.
pub fn pace(mut settings: ResMut<WinitSettings>, rest: Res<Rest>, pictures: Res<Pictures>) {
    let every = if rest.busy { WORKS } else { LOOKS };
    let looks = UpdateMode::reactive_low_power(Duration::from_secs_f32(every));
    let moving = UpdateMode::reactive(Duration::from_millis(16));
    let unseen = UpdateMode::reactive_low_power(Duration::from_millis(100));
    let calm = rest.seconds >= CALMS && !pictures.due;
    settings.focused_mode = if calm { looks } else { moving };
    settings.unfocused_mode = if calm { looks } else { unseen };
}

/// bevy_egui says in every frame which of shift, control and alt are held, and egui takes every word
/// for a hand and asks for another frame at once: here it hears of them when they change.
pub fn only_what_was_done(mut inputs: Query<&mut EguiInput>, mut known: Local<Option<Modifiers>>) {
    for mut input in &mut inputs {
        input.events.retain(|event| match event {
            Event::ModifiersChanged(held) => known.replace(*held) != Some(*held),
            // egui forgets them then.
            Event::WindowFocused(_) => {
                *known = None;
                true
            }
            _ => true,
        });
    }
}

/// How many pictures were made, and how many of them were drawn: because they were new, or because somebody called.
#[derive(Resource, Default, Clone, Copy)]
pub struct Pictures {
    /// Laid out.
    pub made: u32,
    /// Drawn, as something in them was new.
    pub new: u32,
    /// Drawn, as the window was called and nothing in them was new.
    pub called: u32,
    /// Is the last one to be drawn again?
    pub due: bool,
}

/// What was drawn last.
#[derive(Default)]
pub struct Last {
    jobs: Vec<ClippedPrimitive>,
    /// So many times it is still to be drawn.
    times: u8,
    /// Had nobody called when it was made?
    slept: bool,
}

/// The camera is on when there is something new to be seen, or somebody has called: a window that was
/// covered asks for its picture without a word of what it wants.
pub fn only_what_is_new(
    mut cameras: Query<(&mut Camera, &EguiRenderOutput)>,
    mut last: Local<Last>,
    time: Res<Time<Real>>,
    mut pictures: ResMut<Pictures>,
) {
    let Ok((mut camera, output)) = cameras.single_mut() else {
        return;
    };
    if !output.textures_delta.is_empty() || !same(&last.jobs, &output.paint_jobs) {
        last.jobs.clone_from(&output.paint_jobs);
        last.times = TIMES;
    }
    // Every look round is followed at once by a second one, which nobody has called for.
    let slept = time.delta_secs() > 0.9 * LOOKS;
    let called = !slept && !last.slept;
    last.slept = slept;
    camera.is_active = called || last.times > 0;
    pictures.made += 1;
    pictures.new += u32::from(last.times > 0);
    pictures.called += u32::from(called && last.times == 0);
    last.times = last.times.saturating_sub(1);
    pictures.due = last.times > 0;
}

fn same(one: &[ClippedPrimitive], other: &[ClippedPrimitive]) -> bool {
    let alike = |a: &ClippedPrimitive, b: &ClippedPrimitive| {
        a.clip_rect == b.clip_rect
            && match (&a.primitive, &b.primitive) {
                (Primitive::Mesh(a), Primitive::Mesh(b)) => a == b,
                (Primitive::Callback(a), Primitive::Callback(b)) => a == b,
                _ => false,
            }
    };
    one.len() == other.len() && one.iter().zip(other).all(|(a, b)| alike(a, b))
}

#[cfg(test)]
mod tests {
    use super::*;
    use bevy_egui::egui::{Color32, Mesh, Rect, TexturesDelta, pos2};

    /// A window of one coloured rectangle, and whether its camera is on after so many seconds.
    fn after(app: &mut bevy::app::App, colour: Color32, seconds: f32) -> bool {
        let mut mesh = Mesh::default();
        let rect = Rect::from_min_max(pos2(0.0, 0.0), pos2(9.0, 9.0));
        mesh.add_colored_rect(rect, colour);
        let world = app.world_mut();
        let mut output = world.query::<&mut EguiRenderOutput>();
        *output.single_mut(world).expect("one") = EguiRenderOutput {
            paint_jobs: vec![ClippedPrimitive {
                clip_rect: rect,
                primitive: Primitive::Mesh(mesh),
            }],
            textures_delta: TexturesDelta::default(),
        };
        let mut time = world.resource_mut::<Time<Real>>();
        time.advance_by(Duration::from_secs_f32(seconds));
        app.update();
        let world = app.world_mut();
        let mut camera = world.query::<&Camera>();
        camera.single(world).expect("one").is_active
    }

    #[test]
    fn a_picture_is_drawn_when_it_is_new_or_asked_for_and_not_again_at_rest() {
        let mut app = bevy::app::App::new();
        app.init_resource::<Time<Real>>()
            .init_resource::<Pictures>()
            .add_systems(bevy::app::Update, only_what_is_new);
        app.world_mut()
            .spawn((Camera::default(), EguiRenderOutput::default()));
        let app = &mut app;
        let (red, blue) = (Color32::RED, Color32::BLUE);
        for _ in 0..TIMES {
            assert!(after(app, red, LOOKS));
        }
        // Looks round, twice each time: nothing is new.
        for _ in 0..5 {
            assert!(!after(app, red, LOOKS));
            assert!(!after(app, red, 0.01));
        }
        // The window calls without a change.
        assert!(after(app, red, 0.3));
        assert!(!after(app, red, LOOKS));
        assert!(after(app, blue, LOOKS));
    }

    /// What changes while the window rests is drawn to its end at once, and then the window rests again.
    #[test]
    fn a_new_picture_keeps_the_window_awake_until_it_is_drawn() {
        let mut app = bevy::app::App::new();
        app.init_resource::<Time<Real>>()
            .init_resource::<Pictures>()
            .insert_resource(WinitSettings::continuous())
            .insert_resource(Rest {
                seconds: 9.0,
                busy: false,
            })
            .add_systems(bevy::app::Update, (only_what_is_new, pace).chain());
        app.world_mut()
            .spawn((Camera::default(), EguiRenderOutput::default()));
        let app = &mut app;
        let waits =
            |app: &bevy::app::App| match app.world().resource::<WinitSettings>().focused_mode {
                UpdateMode::Reactive { wait, .. } => wait.as_secs_f32(),
                UpdateMode::Continuous => 0.0,
            };
        assert!(after(app, Color32::RED, LOOKS) && waits(app) < 0.1);
        let mut drawn = 1;
        while waits(app) < 0.1 {
            drawn += u8::from(after(app, Color32::RED, 0.016));
            assert!(drawn <= TIMES);
        }
        assert_eq!(drawn, TIMES);
        assert!(!after(app, Color32::RED, LOOKS) && waits(app) == LOOKS);
    }

    #[test]
    fn keys_that_are_held_on_are_no_hand() {
        let mut app = bevy::app::App::new();
        app.add_systems(bevy::app::Update, only_what_was_done);
        let window = app.world_mut().spawn(EguiInput::default()).id();
        let mut heard = |held: Modifiers| {
            let mut input = EguiInput::default();
            input.0.events = vec![Event::Copy, Event::ModifiersChanged(held)];
            app.world_mut().entity_mut(window).insert(input);
            app.update();
            let input = app.world().get::<EguiInput>(window).expect("there");
            assert_eq!(input.events.first(), Some(&Event::Copy));
            input.events.len() == 2
        };
        assert!(heard(Modifiers::NONE));
        assert!(!heard(Modifiers::NONE));
        assert!(heard(Modifiers::SHIFT));
        assert!(!heard(Modifiers::SHIFT));
        assert!(heard(Modifiers::NONE));
    }
}
