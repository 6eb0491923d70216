//! How egui's triangles reach the screen cheaply, so that a machine without a graphics card keeps up:
//! one pass for the triangles and one onto the window, nothing else.
//!
//! Pictures are put together in gamma-encoded colours (`CompositingSpace::Srgb`), as egui means
//! them: blending needs no curve then. Only the last pass goes over to linear light, by a polynomial
//! (`show.wgsl`) that a test here holds against the exact curve.

use bevy::app::App;
use bevy::asset::{Assets, Handle, uuid_handle};
use bevy::camera::{Camera2d, CompositingSpace};
use bevy::core_pipeline::blit::{BlitPipeline, init_blit_pipeline};
use bevy::core_pipeline::upscaling::upscaling;
use bevy::ecs::prelude::*;
use bevy::ecs::schedule::{Schedule, ScheduleBuildSettings, ScheduleLabel};
use bevy::render::camera::CameraRenderGraph;
use bevy::render::render_resource::{PipelineCache, SpecializedRenderPipelines, TextureFormat};
use bevy::render::view::Msaa;
use bevy::render::{Render, RenderApp, RenderStartup, RenderSystems};
use bevy::shader::Shader;
use bevy_egui::render::systems::EguiPipelines;
use bevy_egui::render::{
    EGUI_SHADER_HANDLE, EguiPipeline, EguiPipelineKey, egui_pass, prepare_egui_pass,
};

/// What is drawn for the one camera.
#[derive(ScheduleLabel, Debug, Clone, PartialEq, Eq, Hash)]
struct OnePass;

const SHOW: Handle<Shader> = uuid_handle!("6f1c5b0e-52a7-4a52-9d6e-0b1f1f7c3a11");

/// The one camera.
pub fn camera() -> impl Bundle {
    (
        Camera2d,
        Msaa::Off,
        CompositingSpace::Srgb,
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
    passes.add_systems((prepare_egui_pass, egui_pass, upscaling).chain());
    render
        .add_schedule(passes)
        .add_systems(RenderStartup, show_by_our_shader.after(init_blit_pipeline))
        .add_systems(
            Render,
            gamma_encoded.in_set(RenderSystems::PrepareBindGroups),
        );
}

fn show_by_our_shader(mut blit: ResMut<BlitPipeline>) {
    blit.fragment_shader = SHOW;
}

/// bevy_egui draws onto linear light; here its pipelines draw onto gamma-encoded colours.
fn gamma_encoded(
    cache: Res<PipelineCache>,
    mut specialized: ResMut<SpecializedRenderPipelines<EguiPipeline>>,
    egui: Res<EguiPipeline>,
    pipelines: Option<ResMut<EguiPipelines>>,
) {
    let Some(mut pipelines) = pipelines else {
        return;
    };
    let key = EguiPipelineKey {
        target_format: TextureFormat::Rgba8Unorm,
    };
    let ours = specialized.specialize(&cache, &egui, key);
    pipelines.0.values_mut().for_each(|id| *id = ours);
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
