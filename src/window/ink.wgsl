// How egui's triangles become pixels, in gamma-encoded colours from first to last, as egui means them (see `pass`).

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

// Width and height of the picture, points.
@group(0) @binding(0) var<uniform> size: vec2<f32>;
@group(1) @binding(0) var image_texture: texture_2d<f32>;
@group(1) @binding(1) var image_sampler: sampler;

@vertex
fn vs_main(in: VertexInput) -> VertexOutput {
    let position = vec2<f32>(2.0, -2.0) * in.position / size + vec2<f32>(-1.0, 1.0);
    return VertexOutput(vec4<f32>(position, 0.0, 1.0), in.color, in.uv);
}

// Letters and pictures.
@fragment
fn fs_main(in: VertexOutput) -> @location(0) vec4<f32> {
    return in.color * textureSample(image_texture, image_sampler, in.uv);
}

// Plain colour, and light: nothing is looked up.
@fragment
fn fs_plain(in: VertexOutput) -> @location(0) vec4<f32> {
    return in.color;
}
