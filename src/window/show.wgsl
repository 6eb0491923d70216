// From the picture, which is gamma-encoded, onto the window, which is written in linear light and
// encodes it itself. The polynomial, and the straight line near black, stand for the curve of sRGB (a test in
// `pass` checks it).

struct FullscreenVertexOutput {
    @builtin(position) position: vec4<f32>,
    @location(0) uv: vec2<f32>,
}

@group(0) @binding(0) var in_texture: texture_2d<f32>;
@group(0) @binding(1) var in_sampler: sampler;

@fragment
fn fs_main(in: FullscreenVertexOutput) -> @location(0) vec4<f32> {
    let x = textureSample(in_texture, in_sampler, in.uv).rgb;
    let curve = x * (x * (x * 0.305306011 + 0.682171111) + 0.012522878);
    return vec4<f32>(max(curve, x / 12.92), 1.0);
}
