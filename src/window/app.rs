//! The application round the stage: bevy's window, its events, and how it ends.

use std::panic::resume_unwind;
use std::path::PathBuf;
use std::sync::{LazyLock, mpsc};
use std::thread::{self, JoinHandle};

use bevy::DefaultPlugins;
use bevy::app::{App, AppExit, PluginGroup, PostUpdate, PreUpdate, Startup, Update};
use bevy::camera::{Camera, RenderTargetInfo};
use bevy::ecs::prelude::*;
use bevy::log::{Level, LogPlugin};
use bevy::time::{Real, Time};
use bevy::utils::default;
use bevy::window::{
    ExitCondition, FileDragAndDrop, MonitorSelection, PrimaryWindow, RawHandleWrapper, Window,
    WindowCloseRequested, WindowMode, WindowPlugin,
};
use bevy::winit::WinitSettings;
use bevy_egui::egui::{self, FontData, FontDefinitions, FontFamily, LayerId, UiBuilder};
use bevy_egui::{
    EguiContexts, EguiOutput, EguiPlugin, EguiPostUpdateSet, EguiPreUpdateSet,
    EguiPrimaryContextPass,
};

use super::abreast::{Broken, Drawing};
use super::chooser::Chooser;
use super::clipboard;
use super::desk::{Desk, stopwatch};
use super::files::Wrong;
use super::measure::Measure;
use super::settings::Page;
use super::surface::{Graphics, NoGraphics, Picture};
use super::words::floor as words;
use super::{boards, level_choice, memory, rest, stage, store};

/// Up to this size of the window, points, letters and controls have their usual size.
const LARGE: (f32, f32) = (1920.0, 1080.0);

/// What to open the window with.
#[derive(Clone, Debug, Default)]
pub struct Opening {
    /// A scenario file; without it the demo.
    pub file: Option<PathBuf>,
    /// Print the time of the first lit frame and the rate of frames, to measure.
    pub measure: bool,
}

/// Why no window was opened.
#[derive(Debug, thiserror::Error)]
pub enum NoWindow {
    /// No display is named in the environment.
    #[error("there is no display to open a window on")]
    NoDisplay,
    /// One is named, but nobody is there.
    #[error("the display cannot be opened")]
    GoneDisplay,
    /// There is one, but nothing here draws on it.
    #[error(transparent)]
    NoGraphics(#[from] NoGraphics),
    /// What draws its pictures broke off.
    #[error("no picture can be drawn any more, the graphics driver broke off: start it again")]
    Broke,
    /// The window ended by itself, with this exit code.
    #[error("the window ended with an error ({0})")]
    Ended(u8),
}

/// Is there a display that a window could open on?
pub fn there_is_a_display() -> bool {
    let set = |name: &str| std::env::var_os(name).is_some_and(|v| !v.is_empty());
    cfg!(any(windows, target_os = "macos")) || set("DISPLAY")
}

#[derive(Resource, Default)]
struct Watch {
    size: f32,
}

/// The desk. bevy keeps it on the main thread.
struct Shown(Desk);

/// The desk that is being laid out.
type Laid = JoinHandle<Desk>;

/// What brings pictures onto the window. bevy keeps it on the main thread.
enum Canvas {
    /// It is being looked for.
    Sought(JoinHandle<Result<Graphics, NoGraphics>>),
    /// Pictures are drawn.
    There(Drawing<Picture>),
    /// None was to be had, or it broke.
    Gone,
}

/// Where it is said why nothing can be drawn.
struct Said(mpsc::Sender<NoWindow>);

impl Said {
    fn why(&self, why: NoWindow) {
        // Nobody listens any more only when the program ends.
        let _ = self.0.send(why);
    }
}

/// Opens the window and returns when it is closed.
///
/// # Errors
/// If there is nothing to open a window on.
pub fn open(opening: &Opening) -> Result<(), NoWindow> {
    let began = stopwatch();
    if !there_is_a_display() {
        return Err(NoWindow::NoDisplay);
    }
    memory::keep();
    let folder = store::data_folder();
    // Whoever opens a file from a menu or a folder sees no terminal: what is wrong with it is said in the window.
    let (edit, file, problems) = match opening
        .file
        .as_deref()
        .map(|file| (file, store::open(file)))
    {
        None => (store::demo(), None, None),
        Some((file, Ok(edit))) => (edit, Some(file.to_owned()), None),
        Some((_, Err(problems))) => (store::demo(), None, Some(problems)),
    };
    let wrong = opening.file.as_deref().filter(|_| problems.is_some());
    let wrong = wrong.map(Wrong::at);
    // The desk is laid out, its first light reckoned and its wood painted, while the screen is got ready.
    let desk = thread::spawn(move || {
        let mut desk = Desk::new(edit, file.clone(), folder);
        desk.chooser = Chooser::of_this_desktop();
        if let Some(file) = &file {
            desk.lately(file);
        }
        if problems.is_some() {
            desk.problems = problems;
            desk.files.wrong = wrong;
            desk.page = Some(Page::Files);
        }
        desk.light(0.0);
        LazyLock::force(&boards::BOARDS);
        desk
    });
    let window = Window {
        title: words::LANELIGHT.into(),
        resolution: (1280, 800).into(),
        ..default()
    };
    let sought = thread::spawn(Graphics::find);
    let (said, why) = mpsc::channel();
    let Some(mut app) = built(window, desk, opening.measure, began) else {
        // A driver that is being loaded breaks off if the program ends under it.
        let _ = sought.join();
        return Err(NoWindow::GoneDisplay);
    };
    app.insert_non_send(Canvas::Sought(sought));
    app.insert_non_send(Said(said));
    ended(&app.run(), &why)
}

/// How the window ended: by itself only with a reason.
fn ended(exit: &AppExit, why: &mpsc::Receiver<NoWindow>) -> Result<(), NoWindow> {
    match exit {
        AppExit::Success => Ok(()),
        AppExit::Error(code) => Err(why.try_recv().unwrap_or(NoWindow::Ended(code.get()))),
    }
}

/// The application; `None` if the display cannot be opened. winit says that by a panic, which is
/// caught here and not printed.
fn built(window: Window, desk: Laid, measure: bool, began: std::time::Instant) -> Option<App> {
    let usual = std::panic::take_hook();
    std::panic::set_hook(Box::new(|_| {}));
    let build = || application(window, desk, measure, began);
    let app = std::panic::catch_unwind(std::panic::AssertUnwindSafe(build));
    std::panic::set_hook(usual);
    app.ok()
}

fn application(window: Window, desk: Laid, measure: bool, began: std::time::Instant) -> App {
    let mut app = App::new();
    let mut desk = Some(desk);
    app.add_plugins(
        DefaultPlugins
            .set(WindowPlugin {
                primary_window: Some(window),
                exit_condition: ExitCondition::DontExit,
                close_when_requested: false,
                ..default()
            })
            .set(LogPlugin {
                level: Level::ERROR,
                ..default()
            }),
    )
    .add_plugins(EguiPlugin::default())
    .insert_resource(WinitSettings::continuous())
    .insert_resource(Watch::default())
    .init_resource::<rest::Pictures>()
    .init_resource::<rest::Rest>()
    .init_resource::<rest::Last>()
    .insert_resource(Measure::new(began, measure))
    .insert_non_send(clipboard::Board::default())
    .add_systems(Startup, move |world: &mut World| {
        world.spawn(Camera::default());
        if let Some(desk) = desk.take() {
            let desk = desk.join().unwrap_or_else(|broken| resume_unwind(broken));
            world.insert_non_send(Shown(desk));
        }
    })
    .add_systems(Update, (dropped, closing))
    .add_systems(EguiPrimaryContextPass, frame)
    .add_systems(PreUpdate, sized.before(EguiPreUpdateSet::InitContexts))
    .add_systems(
        PreUpdate,
        (clipboard::pastes, rest::only_what_was_done)
            .chain()
            .after(EguiPreUpdateSet::ProcessInput)
            .before(EguiPreUpdateSet::BeginPass),
    )
    .add_systems(
        PostUpdate,
        (
            clipboard::copies,
            rest::only_what_is_new,
            hand_over,
            rest::pace,
        )
            .chain()
            .after(EguiPostUpdateSet::ProcessOutput)
            .before(EguiPostUpdateSet::PostProcessOutput),
    );
    app
}

/// egui asks a camera how large the window is: elsewhere bevy's renderer says it.
fn sized(windows: Query<&Window, With<PrimaryWindow>>, mut cameras: Query<&mut Camera>) {
    let (Ok(window), Ok(mut camera)) = (windows.single(), cameras.single_mut()) else {
        return;
    };
    camera.computed.target_info = Some(RenderTargetInfo {
        physical_size: window.physical_size(),
        scale_factor: window.scale_factor(),
    });
}

/// Has the last picture drawn, if it is to be, as soon as there is something to draw it with.
fn hand_over(
    mut canvas: NonSendMut<Canvas>,
    said: NonSend<Said>,
    mut last: ResMut<rest::Last>,
    windows: Query<(&Window, Option<&RawHandleWrapper>), With<PrimaryWindow>>,
    outputs: Query<&EguiOutput>,
    mut exit: MessageWriter<AppExit>,
) {
    let (Ok((window, handle)), Ok(output)) = (windows.single(), outputs.single()) else {
        return;
    };
    if let Canvas::There(drawing) = &mut *canvas {
        match drawing.came() {
            Ok(came) => last.due |= came == Some(false),
            Err(Broken) => {
                said.why(NoWindow::Broke);
                exit.write(AppExit::error());
                return;
            }
        }
    }
    if !last.due {
        return;
    }
    *canvas = match (std::mem::replace(&mut *canvas, Canvas::Gone), handle) {
        (Canvas::Sought(found), Some(handle)) => begun(found, handle, &said),
        // The window is not there yet.
        (sought @ Canvas::Sought(_), None) => {
            *canvas = sought;
            return;
        }
        (there, _) => there,
    };
    last.due = false;
    let picture = Picture {
        jobs: last.jobs.clone(),
        textures: std::mem::take(&mut last.textures),
        size: (window.physical_width(), window.physical_height()),
        scale: output.pixels_per_point,
    };
    if let Canvas::There(drawing) = &mut *canvas {
        let Err(Broken) = drawing.hand_over(picture) else {
            return;
        };
        said.why(NoWindow::Broke);
    }
    exit.write(AppExit::error());
}

/// What draws from now on.
fn begun(
    found: JoinHandle<Result<Graphics, NoGraphics>>,
    handle: &RawHandleWrapper,
    said: &Said,
) -> Canvas {
    let found = found.join().unwrap_or_else(|broken| resume_unwind(broken));
    match found.and_then(|graphics| graphics.onto(handle)) {
        Ok(mut screen) => {
            let by = Drawing::by(move |picture: Picture| screen.show(&picture));
            if by.is_err() {
                said.why(NoWindow::Broke);
            }
            by.map_or(Canvas::Gone, Canvas::There)
        }
        Err(none) => {
            said.why(none.into());
            Canvas::Gone
        }
    }
}

/// The project's own letters, before those of egui.
fn fonts(ctx: &egui::Context) {
    let mut fonts = FontDefinitions::default();
    let regular = include_bytes!("../../assets/fonts/LanelightSans-Regular.ttf");
    let data = FontData::from_static(regular);
    fonts.font_data.insert("lanelight".into(), data.into());
    if let Some(list) = fonts.families.get_mut(&FontFamily::Proportional) {
        list.insert(0, "lanelight".into());
    }
    ctx.set_fonts(fonts);
}

fn frame(
    mut contexts: EguiContexts,
    mut desk: NonSendMut<Shown>,
    mut watch: ResMut<Watch>,
    mut measured: ResMut<Measure>,
    pictures: Res<rest::Pictures>,
    time: Res<Time<Real>>,
    mut rest: ResMut<rest::Rest>,
    mut windows: Query<&mut Window>,
) -> bevy::ecs::error::Result {
    let ctx = contexts.ctx_mut()?.clone();
    let desk = &mut desk.0;
    if watch.size == 0.0 {
        fonts(&ctx);
    }
    if watch.size != desk.size() {
        watch.size = desk.size();
        stage::style(&ctx, watch.size);
    }
    for mut window in &mut windows {
        let mode = if desk.wall {
            WindowMode::BorderlessFullscreen(MonitorSelection::Current)
        } else {
            WindowMode::Windowed
        };
        let title = words::lanelight(&level_choice::line(desk));
        if window.title != title {
            window.title = title;
        }
        if window.mode != mode {
            window.mode = mode;
        }
        ctx.set_zoom_factor(zoom(window.width(), window.height()));
    }
    let builder = UiBuilder::new()
        .layer_id(LayerId::background())
        .max_rect(ctx.viewport_rect());
    let mut ui = egui::Ui::new(ctx.clone(), "stage".into(), builder);
    let seconds = time.delta_secs();
    let moves = stage::show(&mut ui, desk, seconds);
    // At rest the window waits for a hand; it looks round now and then for files and jobs.
    let hand = ctx.input(|i| !i.events.is_empty() || i.pointer.any_down());
    rest.seconds = if moves || hand {
        0.0
    } else {
        rest.seconds + seconds
    };
    rest.busy = desk.busy();
    let pointer = ctx.input(|i| i.pointer.latest_pos());
    measured.frame(desk, seconds, pointer, *pictures);
    Ok(())
}

/// Letters and controls grow with a window of very many points, as on a large screen whose desktop magnifies nothing:
/// up to twice, in quarters.
fn zoom(wide: f32, high: f32) -> f32 {
    let most = (wide / LARGE.0).min(high / LARGE.1).clamp(1.0, 2.0);
    (most * 4.0).floor() / 4.0
}

fn dropped(mut events: MessageReader<FileDragAndDrop>, mut desk: NonSendMut<Shown>) {
    for event in events.read() {
        if let FileDragAndDrop::DroppedFile { path_buf, .. } = event {
            desk.0.open_path(path_buf);
        }
    }
}

fn closing(
    mut events: MessageReader<WindowCloseRequested>,
    mut desk: NonSendMut<Shown>,
    mut canvas: NonSendMut<Canvas>,
) {
    if events.read().next().is_some() {
        desk.0.close();
        if let Canvas::There(drawing) = &mut *canvas {
            drawing.settle();
        }
        // All that is kept is on the disk. To take the renderer down in order, thread by thread, would keep a closed
        // window standing for seconds on a busy machine.
        std::process::exit(0);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn letters_grow_on_a_screen_of_very_many_points_and_nowhere_else() {
        for usual in [
            (1024.0, 640.0),
            (1280.0, 800.0),
            (1920.0, 1080.0),
            (3840.0, 1080.0),
        ] {
            assert_eq!(zoom(usual.0, usual.1), 1.0);
        }
        assert_eq!(zoom(2560.0, 1440.0), 1.25);
        assert_eq!(zoom(3840.0, 2160.0), 2.0);
        assert_eq!(zoom(7680.0, 4320.0), 2.0);
    }

    #[test]
    fn a_file_dropped_on_the_window_is_opened_and_one_that_is_wrong_is_shown() {
        let folder = tempfile::tempdir().expect("a folder");
        let mut edit = store::demo();
        edit.name = "Dropped".into();
        let good = folder.path().join("good.ron");
        store::save(&good, &edit).expect("saved");
        let bad = folder.path().join("bad.ron");
        std::fs::write(&bad, "(nothing of the kind").expect("written");
        let mut app = App::new();
        app.add_message::<FileDragAndDrop>()
            .insert_non_send(Shown(Desk::new(
                store::demo(),
                None,
                folder.path().join("data"),
            )))
            .add_systems(Update, dropped);
        let drop = |app: &mut App, path: &std::path::Path| {
            app.world_mut().write_message(FileDragAndDrop::DroppedFile {
                window: Entity::PLACEHOLDER,
                path_buf: path.to_owned(),
            });
            app.update();
        };
        drop(&mut app, &good);
        let shown = app.world().non_send::<Shown>();
        assert_eq!(shown.0.edit().name, "Dropped");
        assert_eq!(shown.0.file.as_deref(), Some(good.as_path()));
        drop(&mut app, &bad);
        let shown = app.world().non_send::<Shown>();
        assert!(shown.0.problems.is_some() && shown.0.edit().name == "Dropped");
    }

    /// A renderer that breaks ends the window, and it is said why.
    #[test]
    fn a_window_whose_pictures_cannot_be_drawn_ends_with_a_sentence() {
        let mut drawn = 0;
        let breaks = move |_: Picture| {
            drawn += 1;
            assert!(drawn < 3, "the driver breaks off");
            true
        };
        let (said, why) = mpsc::channel();
        let mut app = App::new();
        app.init_resource::<rest::Last>()
            .insert_non_send(Canvas::There(Drawing::by(breaks).expect("a thread")))
            .insert_non_send(Said(said))
            .add_systems(Update, hand_over);
        app.world_mut().spawn((Window::default(), PrimaryWindow));
        app.world_mut().spawn(EguiOutput::default());
        let exit = (0..2000).find_map(|_| {
            app.world_mut().resource_mut::<rest::Last>().due = true;
            app.update();
            thread::sleep(std::time::Duration::from_millis(1));
            app.should_exit()
        });
        let ended = ended(&exit.expect("it ends"), &why).expect_err("not by the user");
        assert!(matches!(ended, NoWindow::Broke), "{ended}");
        assert!(
            ended
                .to_string()
                .contains("no picture can be drawn any more")
        );
    }
}
