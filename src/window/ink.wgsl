// How egui's triangles become pixels: bevy_egui's own bindings, in gamma-encoded colours from first to
// last, as egui means them (see `pass`).

struct Transform {
    scale: vec2<f32>,
    translation: vec2<f32>,
}

struct VertexInput {
    @location(0) position: vec2<f32>,
    @location(1) uv: vec2<f32>,
    @location(2) color: vec4<f32>,
}

struct VertexOutput {
    @builtin(position) position: vec4<f32>,
    @location(0) color: vec4<f32>,
    @location(1) uv: vec2<f32>,
}

@group(0) @binding(0) var<uniform> transform: Transform;
@group(1) @binding(0) var image_texture: texture_2d<f32>;
@group(1) @binding(1) var image_sampler: sampler;

@vertex
fn vs_main(in: VertexInput) -> VertexOutput {
    let position = in.position * transform.scale + transform.translation;
    return VertexOutput(vec4<f32>(position, 0.0, 1.0), in.color, in.uv);
}

// Letters and pictures.
@fragment
fn fs_main(in: VertexOutput) -> @location(0) vec4<f32> {
    let texel = textureSample(image_texture, image_sampler, in.uv);
    // Letters are white under their share; whatever is whole has its own colour, which `boards` has
    // encoded once more against the sampler's decoding.
    let colour = select(texel.aaa, texel.rgb, texel.a == 1.0);
    return vec4<f32>(colour * in.color.rgb, texel.a * in.color.a);
}

// Plain colour, and light: nothing is looked up.
@fragment
fn fs_plain(in: VertexOutput) -> @location(0) vec4<f32> {
    return in.color;
}
