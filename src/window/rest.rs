//! At rest the window looks round once in a while, and draws nothing: a picture that is on the screen
//! already is not drawn again.

use std::sync::Arc;
use std::time::Duration;

use bevy::ecs::prelude::*;
use bevy::time::{Real, Time};
use bevy::winit::{UpdateMode, WinitSettings};
use bevy_egui::egui::TexturesDelta;
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

/// How long the picture has been at rest.
#[derive(Resource, Default)]
pub struct Rest {
    /// Seconds since anything moved, or a hand was at work.
    pub seconds: f32,
    /// A job runs behind the picture.
    pub busy: bool,
}

/// How often the next pictures are made.
pub fn pace(mut settings: ResMut<WinitSettings>, rest: Res<Rest>) {
    let every = if rest.busy { WORKS } else { LOOKS };
    let looks = UpdateMode::reactive_low_power(Duration::from_secs_f32(every));
    let moving = UpdateMode::reactive(Duration::from_millis(16));
    let unseen = UpdateMode::reactive_low_power(Duration::from_millis(100));
    let calm = rest.seconds >= CALMS;
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
}

/// The last picture, and what of it is still to be drawn.
#[derive(Resource, Default)]
pub struct Last {
    /// What egui painted.
    pub jobs: Arc<Vec<ClippedPrimitive>>,
    /// Letters and images that are new or used no more, and not handed over yet.
    pub textures: TexturesDelta,
    /// Is it to be drawn?
    pub due: bool,
    /// Had nobody called when it was made?
    slept: bool,
}

/// A picture is drawn when there is something new to be seen, or somebody has called: a window that was
/// covered asks for its picture without a word of what it wants.
pub fn only_what_is_new(
    mut outputs: Query<&mut EguiRenderOutput>,
    mut last: ResMut<Last>,
    time: Res<Time<Real>>,
    mut pictures: ResMut<Pictures>,
) {
    let Ok(mut output) = outputs.single_mut() else {
        return;
    };
    let textures = std::mem::take(&mut output.textures_delta);
    let jobs = std::mem::take(&mut output.paint_jobs);
    let new = !textures.is_empty() || !same(&last.jobs, &jobs);
    if new {
        last.jobs = Arc::new(jobs);
        last.textures.append(textures);
    }
    // Every look round is followed at once by a second one, which nobody has called for.
    let slept = time.delta_secs() > 0.9 * LOOKS;
    let called = !slept && !last.slept;
    last.slept = slept;
    last.due |= called || new;
    pictures.made += 1;
    pictures.new += u32::from(new);
    pictures.called += u32::from(called && !new);
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
    use bevy_egui::egui::{Color32, Mesh, Rect, TextureId, pos2};

    /// A window of one coloured rectangle, and whether it is drawn after so many seconds.
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
        let mut last = app.world_mut().resource_mut::<Last>();
        std::mem::take(&mut last.due)
    }

    #[test]
    fn a_picture_is_drawn_when_it_is_new_or_asked_for_and_not_again_at_rest() {
        let mut app = bevy::app::App::new();
        app.init_resource::<Time<Real>>()
            .init_resource::<Pictures>()
            .init_resource::<Last>()
            .add_systems(bevy::app::Update, only_what_is_new);
        app.world_mut().spawn(EguiRenderOutput::default());
        let app = &mut app;
        let (red, blue) = (Color32::RED, Color32::BLUE);
        assert!(after(app, red, LOOKS));
        // Looks round, twice each time: nothing is new.
        for _ in 0..5 {
            assert!(!after(app, red, LOOKS));
            assert!(!after(app, red, 0.01));
        }
        // The window calls without a change.
        assert!(after(app, red, 0.3));
        assert!(!after(app, red, LOOKS));
        // What changes while the window rests is drawn once, at once.
        assert!(after(app, blue, LOOKS));
        assert!(!after(app, blue, 0.01));
    }

    #[test]
    fn the_window_looks_round_seldom_at_rest_and_more_often_beside_a_job() {
        let mut app = bevy::app::App::new();
        app.init_resource::<Rest>()
            .insert_resource(WinitSettings::continuous())
            .add_systems(bevy::app::Update, pace);
        let mut waits = |seconds: f32, busy: bool| {
            app.insert_resource(Rest { seconds, busy });
            app.update();
            match app.world().resource::<WinitSettings>().focused_mode {
                UpdateMode::Reactive { wait, .. } => wait.as_secs_f32(),
                UpdateMode::Continuous => 0.0,
            }
        };
        assert!(waits(0.0, true) < 0.1 && waits(0.9 * CALMS, false) < 0.1);
        assert_eq!(waits(CALMS, false), LOOKS);
        assert_eq!(waits(CALMS, true), WORKS);
    }

    #[test]
    fn letters_that_came_before_the_window_are_kept_for_it() {
        let mut app = bevy::app::App::new();
        app.init_resource::<Time<Real>>()
            .init_resource::<Pictures>()
            .init_resource::<Last>()
            .add_systems(bevy::app::Update, only_what_is_new);
        let window = app.world_mut().spawn_empty().id();
        for id in 0..2 {
            let mut output = EguiRenderOutput::default();
            output.textures_delta.free.insert(TextureId::Managed(id));
            app.world_mut().entity_mut(window).insert(output);
            app.update();
        }
        assert_eq!(app.world().resource::<Last>().textures.free.len(), 2);
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
