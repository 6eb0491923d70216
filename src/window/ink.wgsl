// How egui's triangles become pixels: bevy_egui's own bindings, with cheaper curves between linear
// and sRGB light, so that a machine without a graphics card keeps up. The two polynomials differ
// from the exact curves by two steps in 255 at most (a test in `app` checks it).

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

#ifdef BINDLESS
@group(1) @binding(0) var image_texture: binding_array<texture_2d<f32>>;
@group(1) @binding(1) var image_sampler: binding_array<sampler>;
struct BindlessOffset {
    offset: u32,
};
var<immediate> offset: BindlessOffset;
#else
@group(1) @binding(0) var image_texture: texture_2d<f32>;
@group(1) @binding(1) var image_sampler: sampler;
#endif

@vertex
fn vs_main(in: VertexInput) -> VertexOutput {
    let position = in.position * transform.scale + transform.translation;
    return VertexOutput(vec4<f32>(position, 0.0, 1.0), in.color, in.uv);
}

@fragment
fn fs_main(in: VertexOutput) -> @location(0) vec4<f32> {
    #ifdef BINDLESS
    let image_texture = image_texture[offset.offset];
    let image_sampler = image_sampler[offset.offset];
    #endif
    let linear = textureSample(image_texture, image_sampler, in.uv);
    let a = sqrt(linear.rgb);
    let b = sqrt(a);
    let c = sqrt(b);
    let gamma = 0.662002687 * a + 0.684122060 * b - 0.323583601 * c - 0.0225411470 * linear.rgb;
    let x = max(gamma, vec3<f32>(0.0)) * in.color.rgb;
    let out = x * (x * (x * 0.305306011 + 0.682171111) + 0.012522878);
    return vec4<f32>(out, linear.a * in.color.a);
}
