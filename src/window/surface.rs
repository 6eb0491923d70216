//! Finds what draws on this machine, and brings pictures onto the window.

use std::sync::Arc;

use bevy::tasks::block_on;
use bevy::window::RawHandleWrapper;
use bevy_egui::egui::TexturesDelta;
use bevy_egui::egui::epaint::ClippedPrimitive;
use wgpu::{
    Adapter, Backends, CurrentSurfaceTexture, Device, DeviceDescriptor, Instance,
    InstanceDescriptor, Limits, MemoryHints, PowerPreference, PresentMode, Queue,
    RequestAdapterOptions, Surface, SurfaceConfiguration, SurfaceTexture, TextureFormat,
    TextureUsages,
};

use super::pass::Painter;
use super::words::floor as words;

/// Pictures that may wait for the screen: one is shown while the next is drawn.
const AHEAD: u32 = 2;

/// Why nothing can be drawn.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum NoGraphics {
    /// No driver answers; what the search for one said.
    #[error("no graphics driver: {0}")]
    NoDriver(String),
    /// There is one, but it cannot draw on this window; what it said.
    #[error("nothing can be drawn on the window: {0}")]
    NoSurface(String),
}

/// One picture.
pub struct Picture {
    /// What egui has painted.
    pub jobs: Arc<Vec<ClippedPrimitive>>,
    /// Letters and images that are new, or used no more.
    pub textures: TexturesDelta,
    /// Width and height, pixels.
    pub size: (u32, u32),
    /// Pixels to a point.
    pub scale: f32,
}

/// What draws.
pub struct Graphics {
    instance: Instance,
    adapter: Adapter,
    device: Device,
    queue: Queue,
}

impl Graphics {
    /// Looks for it: a tenth of a second.
    ///
    /// # Errors
    /// If there is none.
    pub fn find() -> Result<Graphics, NoGraphics> {
        let instance = Instance::new(InstanceDescriptor {
            backends: Backends::from_env().unwrap_or(Backends::PRIMARY),
            ..InstanceDescriptor::new_without_display_handle()
        });
        Graphics::of(instance, None)
    }

    fn of(instance: Instance, surface: Option<&Surface>) -> Result<Graphics, NoGraphics> {
        let none = |said: String| NoGraphics::NoDriver(said);
        let adapter = instance.request_adapter(&RequestAdapterOptions {
            // One flat picture: a second, stronger card would only warm the lap.
            power_preference: PowerPreference::LowPower,
            force_fallback_adapter: false,
            compatible_surface: surface,
        });
        let adapter = block_on(adapter).map_err(|e| none(e.to_string()))?;
        let device = adapter.request_device(&DeviceDescriptor {
            label: None,
            required_limits: Limits::downlevel_defaults().using_resolution(adapter.limits()),
            memory_hints: MemoryHints::MemoryUsage,
            ..DeviceDescriptor::default()
        });
        let (device, queue) = block_on(device).map_err(|e| none(e.to_string()))?;
        Ok(Graphics {
            instance,
            adapter,
            device,
            queue,
        })
    }

    /// What brings pictures onto this window. Called on the thread that made the window.
    ///
    /// # Errors
    /// If nothing here can draw on it.
    pub fn onto(self, window: &RawHandleWrapper) -> Result<Screen, NoGraphics> {
        let surface = self.surface(window)?;
        let all = if self.adapter.is_surface_supported(&surface) {
            self
        } else {
            Graphics::of(self.instance, Some(&surface))?
        };
        let can = surface.get_capabilities(&all.adapter);
        // The colours as they are; a screen that only takes decoded ones is written to as if it did not.
        let plain =
            |f: &&TextureFormat| matches!(f, TextureFormat::Bgra8Unorm | TextureFormat::Rgba8Unorm);
        let no_format = || NoGraphics::NoSurface(words::SHOWS_NO_COLOURS.into());
        let format = *(can.formats.iter().find(plain))
            .or(can.formats.first())
            .ok_or_else(no_format)?;
        let painted = format.remove_srgb_suffix();
        let also = (painted != format).then_some(painted);
        let settings = SurfaceConfiguration {
            usage: TextureUsages::RENDER_ATTACHMENT | (can.usages & TextureUsages::COPY_DST),
            format,
            width: 0,
            height: 0,
            present_mode: PresentMode::AutoVsync,
            desired_maximum_frame_latency: AHEAD,
            alpha_mode: Default::default(),
            view_formats: also.into_iter().collect(),
        };
        Ok(Screen {
            painter: Painter::new(all.device.clone(), all.queue, painted),
            device: all.device,
            surface,
            settings,
        })
    }

    fn surface(&self, window: &RawHandleWrapper) -> Result<Surface<'static>, NoGraphics> {
        // bevy hands its window out only so, to have it asked about threads. The handle is used here once, on the
        // thread that made the window, to make the surface; it holds the window, and the surface holds it. This call
        // in place of bevy's renderer spares a fifth of the window's build and a third of a picture's time
        // (tests/PERFORMANCE.md).
        #[expect(unsafe_code, reason = "the only way to the window's handle")]
        // SAFETY: called on the thread that made the window, as `onto` asks.
        let handle = unsafe { window.get_handle() };
        let wrong = |e: wgpu::CreateSurfaceError| NoGraphics::NoSurface(e.to_string());
        self.instance.create_surface(handle).map_err(wrong)
    }
}

/// The window's surface, and who paints for it.
pub struct Screen {
    surface: Surface<'static>,
    settings: SurfaceConfiguration,
    device: Device,
    painter: Painter,
}

impl Screen {
    /// Brings a picture onto the window; false if the screen was too busy to take it. While the window is hidden nothing
    /// is drawn: it asks again when it is seen.
    pub fn show(&mut self, picture: &Picture) -> bool {
        self.painter.learn(&picture.textures);
        let done = match self.next(picture.size) {
            Next::There(next) => {
                self.painter
                    .paint(&picture.jobs, picture.scale, &next.texture);
                next.present();
                true
            }
            Next::Hidden => true,
            Next::Busy => false,
        };
        self.painter.forget(&picture.textures);
        done
    }

    fn next(&mut self, (width, height): (u32, u32)) -> Next {
        if width == 0 || height == 0 {
            return Next::Hidden;
        }
        if (self.settings.width, self.settings.height) != (width, height) {
            (self.settings.width, self.settings.height) = (width, height);
            self.surface.configure(&self.device, &self.settings);
        }
        // The second time after its size, or what it lies on, has changed under it.
        for _ in 0..2 {
            match self.surface.get_current_texture() {
                CurrentSurfaceTexture::Success(next) | CurrentSurfaceTexture::Suboptimal(next) => {
                    return Next::There(next);
                }
                CurrentSurfaceTexture::Outdated | CurrentSurfaceTexture::Lost => {
                    self.surface.configure(&self.device, &self.settings);
                }
                CurrentSurfaceTexture::Occluded => return Next::Hidden,
                CurrentSurfaceTexture::Timeout | CurrentSurfaceTexture::Validation => break,
            }
        }
        Next::Busy
    }
}

/// Where the next picture is drawn.
enum Next {
    There(SurfaceTexture),
    /// Nobody would see it.
    Hidden,
    /// Nowhere: it is to be tried again.
    Busy,
}
