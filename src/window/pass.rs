//! How egui's triangles reach the screen cheaply, so that a machine without a graphics card keeps up.
//!
//! The wood lies still: it is painted once, and copied under everything in each frame. The light is
//! multiplied onto it, triangles of one colour look nothing up (see `runs`), and one pass more brings
//! the picture onto the window. Nothing else is drawn.
//!
//! Pictures are put together in gamma-encoded colours (`CompositingSpace::Srgb`), as egui means
//! them: blending needs no curve then. Only the last pass goes over to linear light, by a polynomial
//! (`show.wgsl`) that a test here holds against the exact curve. Blue comes first in the picture, as it
//! does on most screens: software renderers are quickest so.

use bevy::app::App;
use bevy::asset::{Assets, Handle, uuid_handle};
use bevy::camera::{Camera2d, CameraMainTextureUsages, ClearColor, CompositingSpace};
use bevy::color::Color;
use bevy::core_pipeline::blit::{BlitPipeline, init_blit_pipeline};
use bevy::core_pipeline::upscaling::upscaling;
use bevy::ecs::prelude::*;
use bevy::ecs::schedule::{Schedule, ScheduleBuildSettings, ScheduleLabel};
use bevy::render::camera::{CameraRenderGraph, ExtractedCamera};
use bevy::render::render_asset::RenderAssets;
use bevy::render::render_resource::{
    BlendComponent, BlendFactor, BlendOperation, BlendState, BufferUsages, CachedRenderPipelineId,
    IndexFormat, LoadOp, Operations, PipelineCache, RawBufferVec, RenderPassColorAttachment,
    RenderPassDescriptor, SpecializedRenderPipeline, StoreOp, Texture, TextureDescriptor,
    TextureDimension, TextureFormat, TextureUsages, TextureView,
};
use bevy::render::renderer::{RenderContext, RenderDevice, RenderQueue, ViewQuery};
use bevy::render::sync_world::MainEntity;
use bevy::render::texture::GpuImage;
use bevy::render::view::{ExtractedView, Msaa, ViewTarget, prepare_view_targets};
use bevy::render::{Render, RenderApp, RenderStartup, RenderSystems};
use bevy::shader::Shader;
use bevy_egui::EguiRenderOutput;
use bevy_egui::egui::epaint::Vertex;
use bevy_egui::egui::{Rect, TextureId};
use bevy_egui::render::systems::{
    EguiTextureBindGroups, EguiTextureId, EguiTransforms, prepare_egui_render_target_data_system,
};
use bevy_egui::render::{EGUI_SHADER_HANDLE, EguiPipeline, EguiPipelineKey};

use super::runs::{Ink, Run, Runs};

/// What is drawn for the one camera.
#[derive(ScheduleLabel, Debug, Clone, PartialEq, Eq, Hash)]
struct OnePass;

const SHOW: Handle<Shader> = uuid_handle!("6f1c5b0e-52a7-4a52-9d6e-0b1f1f7c3a11");
/// Of the picture before it is shown.
const FORMAT: TextureFormat = TextureFormat::Bgra8Unorm;

/// The one camera.
pub fn camera() -> impl Bundle {
    (
        Camera2d,
        Msaa::Off,
        CompositingSpace::Srgb,
        CameraMainTextureUsages::default().with(TextureUsages::COPY_DST),
        CameraRenderGraph::new(OnePass),
    )
}

/// Puts the passes in place of bevy's own.
pub fn cheaply(app: &mut App) {
    let ink = Shader::from_wgsl(include_str!("ink.wgsl"), "window/ink.wgsl");
    let show = Shader::from_wgsl(include_str!("show.wgsl"), "window/show.wgsl");
    let mut shaders = app.world_mut().resource_mut::<Assets<Shader>>();
    // Handles of fixed numbers can always be filled.
    let _ = shaders.insert(EGUI_SHADER_HANDLE.id(), ink);
    let _ = shaders.insert(SHOW.id(), show);
    let Some(render) = app.get_sub_app_mut(RenderApp) else {
        return;
    };
    let mut passes = Schedule::new(OnePass);
    passes.set_build_settings(ScheduleBuildSettings {
        auto_insert_apply_deferred: false,
        ..ScheduleBuildSettings::default()
    });
    passes.add_systems((draw, upscaling).chain());
    render
        .add_schedule(passes)
        .init_resource::<Drawn>()
        .add_systems(RenderStartup, show_by_our_shader.after(init_blit_pipeline))
        .add_systems(
            Render,
            (
                blue_first
                    .in_set(RenderSystems::PrepareViews)
                    .before(prepare_view_targets),
                prepare
                    .in_set(RenderSystems::Prepare)
                    .before(prepare_egui_render_target_data_system),
            ),
        );
}

fn show_by_our_shader(mut blit: ResMut<BlitPipeline>) {
    blit.fragment_shader = SHOW;
}

fn blue_first(mut views: Query<&mut ExtractedView, With<ExtractedCamera>>) {
    for mut view in &mut views {
        view.target_format = FORMAT;
    }
}

/// What is drawn in this frame, and what is kept for the next.
#[derive(Resource)]
struct Drawn {
    inks: Option<Inks>,
    vertices: RawBufferVec<Vertex>,
    indices: RawBufferVec<u32>,
    runs: Vec<Run>,
    /// So many of the runs lie still under the light.
    still: usize,
    scale: f32,
    ground: Option<Ground>,
}

/// One pipeline for each ink.
#[derive(Clone, Copy)]
struct Inks {
    plain: CachedRenderPipelineId,
    light: CachedRenderPipelineId,
    picture: CachedRenderPipelineId,
}

/// What lies still, painted.
struct Ground {
    texture: Texture,
    view: TextureView,
    /// What it was painted from; `None` if it is still to be painted.
    from: Option<(Vec<Run>, Vec<Vertex>)>,
}

impl Default for Drawn {
    fn default() -> Self {
        Drawn {
            inks: None,
            vertices: RawBufferVec::new(BufferUsages::VERTEX),
            indices: RawBufferVec::new(BufferUsages::INDEX),
            runs: Vec::new(),
            still: 0,
            scale: 1.0,
            ground: None,
        }
    }
}

fn inks(cache: &PipelineCache, egui: &EguiPipeline) -> Inks {
    let key = EguiPipelineKey {
        target_format: FORMAT,
    };
    let picture = egui.specialize(key);
    let mut plain = picture.clone();
    plain.layout.truncate(1);
    if let Some(fragment) = &mut plain.fragment {
        fragment.entry_point = Some("fs_plain".into());
    }
    let mut light = plain.clone();
    if let Some(Some(target)) = light.fragment.as_mut().and_then(|f| f.targets.first_mut()) {
        let times = |src_factor, dst_factor| BlendComponent {
            src_factor,
            dst_factor,
            operation: BlendOperation::Add,
        };
        target.blend = Some(BlendState {
            color: times(BlendFactor::Dst, BlendFactor::Zero),
            alpha: times(BlendFactor::Zero, BlendFactor::One),
        });
    }
    Inks {
        plain: cache.queue_render_pipeline(plain),
        light: cache.queue_render_pipeline(light),
        picture: cache.queue_render_pipeline(picture),
    }
}

/// Takes egui's triangles before bevy_egui does, sorts them and hands them to the renderer.
fn prepare(
    mut drawn: ResMut<Drawn>,
    mut outputs: Query<(&mut EguiRenderOutput, &bevy_egui::EguiPixelsPerPoint)>,
    cache: Res<PipelineCache>,
    egui: Res<EguiPipeline>,
    (device, queue): (Res<RenderDevice>, Res<RenderQueue>),
    images: Res<RenderAssets<GpuImage>>,
) {
    let drawn = &mut *drawn;
    // Letters come a frame after the words that need them: what was painted without them is painted again.
    if images.is_changed()
        && let Some(ground) = &mut drawn.ground
    {
        ground.from = None;
    }
    drawn.inks.get_or_insert_with(|| inks(&cache, &egui));
    let Ok((mut output, scale)) = outputs.single_mut() else {
        return;
    };
    let all = Runs::of(&std::mem::take(&mut output.paint_jobs));
    drawn.scale = scale.pixels_per_point;
    *drawn.vertices.values_mut() = all.vertices;
    *drawn.indices.values_mut() = all.indices;
    drawn.runs = all.runs;
    drawn.still = all.ground;
    drawn.vertices.write_buffer(&device, &queue);
    drawn.indices.write_buffer(&device, &queue);
}

/// The whole picture.
fn draw(
    view: ViewQuery<(&MainEntity, &ViewTarget)>,
    mut drawn: ResMut<Drawn>,
    cache: Res<PipelineCache>,
    pictures: Option<Res<EguiTextureBindGroups>>,
    transforms: Res<EguiTransforms>,
    night: Res<ClearColor>,
    mut context: RenderContext,
) {
    let (entity, target) = view.into_inner();
    let drawn = &mut *drawn;
    let (Some(pictures), Some(inks)) = (&pictures, drawn.inks) else {
        return;
    };
    let size = target.main_texture().size();
    if drawn
        .ground
        .as_ref()
        .is_none_or(|g| g.texture.size() != size)
    {
        drawn.ground = Some(empty(context.render_device(), target.main_texture()));
    }
    let brush = Brush {
        cache: &cache,
        inks,
        pictures,
        transforms: &transforms,
        entity: *entity,
        vertices: &drawn.vertices,
        indices: &drawn.indices,
        scale: drawn.scale,
        size: (size.width, size.height),
        night: night.0,
    };
    let (still, moving) = drawn.runs.split_at(drawn.still);
    let Some(ground) = drawn.ground.as_mut().filter(|_| !still.is_empty()) else {
        brush.paint(&mut context, target.main_texture_view(), true, moving);
        return;
    };
    // Its corners come first.
    let last = still.last().map_or(0, |run| run.corners.1) as usize;
    let corners = drawn.indices.values().iter().take(last);
    let corners: Vec<Vertex> = corners
        .filter_map(|i| drawn.vertices.get(*i).copied())
        .collect();
    let same = |(runs, old): &(Vec<Run>, Vec<Vertex>)| runs == still && *old == corners;
    if !ground.from.as_ref().is_some_and(same) {
        let whole = brush.paint(&mut context, &ground.view, true, still);
        ground.from = whole.then(|| (still.to_vec(), corners));
    }
    context.command_encoder().copy_texture_to_texture(
        ground.texture.as_image_copy(),
        target.main_texture().as_image_copy(),
        size,
    );
    brush.paint(&mut context, target.main_texture_view(), false, moving);
}

fn empty(device: &RenderDevice, like: &Texture) -> Ground {
    let texture = device.create_texture(&TextureDescriptor {
        label: Some("ground"),
        size: like.size(),
        mip_level_count: 1,
        sample_count: 1,
        dimension: TextureDimension::D2,
        format: FORMAT,
        usage: TextureUsages::RENDER_ATTACHMENT | TextureUsages::COPY_SRC,
        view_formats: &[],
    });
    let view = texture.create_view(&Default::default());
    Ground {
        texture,
        view,
        from: None,
    }
}

/// All that painting takes.
struct Brush<'a> {
    cache: &'a PipelineCache,
    inks: Inks,
    pictures: &'a EguiTextureBindGroups,
    transforms: &'a EguiTransforms,
    entity: MainEntity,
    vertices: &'a RawBufferVec<Vertex>,
    indices: &'a RawBufferVec<u32>,
    scale: f32,
    size: (u32, u32),
    night: Color,
}

impl Brush<'_> {
    /// Paints runs onto a picture, after clearing it if it is `fresh`. False if something was not ready
    /// and is missing.
    fn paint(
        &self,
        context: &mut RenderContext,
        onto: &TextureView,
        fresh: bool,
        runs: &[Run],
    ) -> bool {
        let night = self.night.to_srgba();
        let load = if fresh {
            LoadOp::Clear(
                bevy::color::LinearRgba::new(night.red, night.green, night.blue, 1.0).into(),
            )
        } else {
            LoadOp::Load
        };
        let mut pass = context.begin_tracked_render_pass(RenderPassDescriptor {
            label: Some("window"),
            color_attachments: &[Some(RenderPassColorAttachment {
                view: onto,
                depth_slice: None,
                resolve_target: None,
                ops: Operations {
                    load,
                    store: StoreOp::Store,
                },
            })],
            depth_stencil_attachment: None,
            timestamp_writes: None,
            occlusion_query_set: None,
            multiview_mask: None,
        });
        let (Some(vertices), Some(indices)) = (self.vertices.buffer(), self.indices.buffer())
        else {
            return false;
        };
        let offset = self.transforms.offsets.get(&self.entity);
        let (Some(offset), Some((_, transform))) = (offset, &self.transforms.bind_group) else {
            return false;
        };
        pass.set_vertex_buffer(0, vertices.slice(..));
        pass.set_index_buffer(indices.slice(..), IndexFormat::Uint32);
        let mut whole = true;
        for run in runs {
            let Some((x, y, wide, high)) = within(run.clip, self.scale, self.size) else {
                continue;
            };
            let (pipeline, picture) = match run.ink {
                Ink::Plain => (self.inks.plain, None),
                Ink::Light => (self.inks.light, None),
                Ink::Picture(id) => (self.inks.picture, Some(self.named(id))),
            };
            let Some(pipeline) = self.cache.get_render_pipeline(pipeline) else {
                whole = false;
                continue;
            };
            pass.set_render_pipeline(pipeline);
            pass.set_bind_group(0, transform, &[*offset]);
            if let Some(name) = picture {
                let Some((group, _)) = self.pictures.get(&name) else {
                    whole = false;
                    continue;
                };
                pass.set_bind_group(1, group, &[]);
            }
            pass.set_scissor_rect(x, y, wide, high);
            pass.draw_indexed(run.corners.0..run.corners.1, 0, 0..1);
        }
        whole
    }

    fn named(&self, id: TextureId) -> EguiTextureId {
        match id {
            TextureId::Managed(id) => EguiTextureId::Managed(self.entity, id),
            TextureId::User(id) => EguiTextureId::User(id),
        }
    }
}

/// A rectangle in points as whole pixels of the picture: left, top, width, height; `None` if it is empty.
fn within(clip: Rect, scale: f32, size: (u32, u32)) -> Option<(u32, u32, u32, u32)> {
    let pixel = |at: f32, most: u32| ((at * scale).round().max(0.0) as u32).min(most);
    let (x, y) = (pixel(clip.min.x, size.0), pixel(clip.min.y, size.1));
    let (right, low) = (pixel(clip.max.x, size.0), pixel(clip.max.y, size.1));
    (right > x && low > y).then(|| (x, y, right - x, low - y))
}

#[cfg(test)]
mod tests {
    /// The curve of `show.wgsl` against the exact one of sRGB (IEC 61966-2-1), in steps of what is
    /// shown: linear light is encoded again when it is written.
    #[test]
    fn the_cheap_curve_of_the_shader_is_right_to_three_steps_in_255() {
        let encoded = |linear: f64| {
            if linear <= 0.0031308 {
                12.92 * linear
            } else {
                1.055 * libm::pow(linear, 1.0 / 2.4) - 0.055
            }
        };
        let mut worst: f64 = 0.0;
        for step in 0..=255 {
            let x = f64::from(step) / 255.0;
            let curve = x * (x * (x * 0.305306011 + 0.682171111) + 0.012522878);
            let linear = curve.max(x / 12.92);
            worst = worst.max((encoded(linear) - x).abs());
        }
        println!("largest difference {:.2} steps", worst * 255.0);
        assert!(worst < 3.1 / 255.0, "{worst}");
    }
}
