//! How egui's triangles become a picture cheaply, so that a machine without a graphics card keeps up.
//!
//! The wood lies still: it is painted once, and copied under everything in each picture. The light is multiplied onto
//! it, and triangles of one colour look nothing up (see `runs`). One pass paints straight onto the window.
//!
//! Colours are gamma-encoded from first to last, as egui means them: textures are not decoded when they are looked
//! up, and blending needs no curve.

use std::collections::BTreeMap;

use bevy_egui::egui::epaint::{ClippedPrimitive, ImageData, ImageDelta, Vertex};
use bevy_egui::egui::{
    Rect, TextureFilter, TextureId, TextureOptions, TextureWrapMode, TexturesDelta,
};
use wgpu::util::DeviceExt;
use wgpu::{
    AddressMode, BindGroup, BindGroupDescriptor, BindGroupEntry, BindGroupLayout,
    BindGroupLayoutDescriptor, BindGroupLayoutEntry, BindingResource, BindingType, BlendComponent,
    BlendFactor, BlendOperation, BlendState, Buffer, BufferBindingType, BufferDescriptor,
    BufferUsages, Color, ColorTargetState, ColorWrites, CommandEncoder, Device, Extent3d,
    FilterMode, FragmentState, IndexFormat, LoadOp, MultisampleState, Operations, Origin3d,
    PipelineLayoutDescriptor, PrimitiveState, Queue, RenderPassColorAttachment,
    RenderPassDescriptor, RenderPipeline, RenderPipelineDescriptor, SamplerBindingType,
    SamplerDescriptor, ShaderStages, StoreOp, TexelCopyBufferLayout, TexelCopyTextureInfo, Texture,
    TextureAspect, TextureDescriptor, TextureDimension, TextureFormat, TextureSampleType,
    TextureUsages, TextureViewDescriptor, TextureViewDimension, VertexBufferLayout, VertexState,
    VertexStepMode, vertex_attr_array,
};

use super::runs::{Ink, Run, Runs};

/// What is behind everything.
const NIGHT: Color = Color {
    r: 0.05,
    g: 0.03,
    b: 0.02,
    a: 1.0,
};

/// Paints pictures, and keeps what the next one needs again.
pub struct Painter {
    device: Device,
    queue: Queue,
    format: TextureFormat,
    inks: Inks,
    images: BTreeMap<TextureId, (Texture, BindGroup)>,
    /// Width and height, points.
    size: (Buffer, BindGroup),
    vertices: Buffer,
    indices: Buffer,
    ground: Option<Ground>,
}

/// One pipeline for each ink.
struct Inks {
    plain: RenderPipeline,
    light: RenderPipeline,
    picture: RenderPipeline,
    images: BindGroupLayout,
}

/// What lies still, painted.
struct Ground {
    texture: Texture,
    /// What it was painted from; `None` if it is still to be painted.
    from: Option<(Vec<Run>, Vec<Vertex>)>,
}

impl Painter {
    /// Paints onto pictures of this format, whose numbers must be the colours themselves, not decoded.
    pub fn new(device: Device, queue: Queue, format: TextureFormat) -> Painter {
        let sizes = layout(&device, ShaderStages::VERTEX, &[UNIFORM]);
        let images = layout(&device, ShaderStages::FRAGMENT, &[IMAGE, SAMPLER]);
        let inks = inks(&device, format, &sizes, images);
        let size = device.create_buffer(&BufferDescriptor {
            label: Some("size"),
            size: 16,
            usage: BufferUsages::UNIFORM | BufferUsages::COPY_DST,
            mapped_at_creation: false,
        });
        let group = device.create_bind_group(&BindGroupDescriptor {
            label: Some("size"),
            layout: &sizes,
            entries: &[BindGroupEntry {
                binding: 0,
                resource: size.as_entire_binding(),
            }],
        });
        Painter {
            format,
            inks,
            images: BTreeMap::new(),
            size: (size, group),
            vertices: filled(&device, BufferUsages::VERTEX, &[0; 4]),
            indices: filled(&device, BufferUsages::INDEX, &[0; 4]),
            ground: None,
            device,
            queue,
        }
    }

    /// Takes over letters and pictures that are new.
    pub fn learn(&mut self, textures: &TexturesDelta) {
        for (id, deltas) in &textures.set {
            for delta in deltas {
                self.image(*id, delta);
            }
        }
        if let Some(ground) = self.ground.as_mut().filter(|_| !textures.set.is_empty()) {
            ground.from = None;
        }
    }

    /// Forgets those that are used no more.
    pub fn forget(&mut self, textures: &TexturesDelta) {
        for id in &textures.free {
            self.images.remove(id);
        }
    }

    fn image(&mut self, id: TextureId, delta: &ImageDelta) {
        let ImageData::Color(image) = &delta.image;
        let size = extent(image.width() as u32, image.height() as u32);
        if delta.pos.is_none() {
            let texture = self.device.create_texture(&TextureDescriptor {
                label: Some("image"),
                size,
                mip_level_count: 1,
                sample_count: 1,
                dimension: TextureDimension::D2,
                format: TextureFormat::Rgba8Unorm,
                usage: TextureUsages::TEXTURE_BINDING | TextureUsages::COPY_DST,
                view_formats: &[],
            });
            let group = self.bound(&texture, delta.options);
            self.images.insert(id, (texture, group));
        }
        let Some((texture, _)) = self.images.get(&id) else {
            return;
        };
        let [x, y] = delta.pos.unwrap_or_default();
        self.queue.write_texture(
            TexelCopyTextureInfo {
                texture,
                mip_level: 0,
                origin: Origin3d {
                    x: x as u32,
                    y: y as u32,
                    z: 0,
                },
                aspect: TextureAspect::All,
            },
            bytemuck::cast_slice(&image.pixels),
            TexelCopyBufferLayout {
                offset: 0,
                bytes_per_row: Some(4 * size.width),
                rows_per_image: None,
            },
            size,
        );
    }

    fn bound(&self, texture: &Texture, options: TextureOptions) -> BindGroup {
        let filter = |wanted| match wanted {
            TextureFilter::Nearest => FilterMode::Nearest,
            TextureFilter::Linear => FilterMode::Linear,
        };
        let wrap = match options.wrap_mode {
            TextureWrapMode::ClampToEdge => AddressMode::ClampToEdge,
            TextureWrapMode::Repeat => AddressMode::Repeat,
            TextureWrapMode::MirroredRepeat => AddressMode::MirrorRepeat,
        };
        let sampler = self.device.create_sampler(&SamplerDescriptor {
            address_mode_u: wrap,
            address_mode_v: wrap,
            mag_filter: filter(options.magnification),
            min_filter: filter(options.minification),
            ..SamplerDescriptor::default()
        });
        let view = texture.create_view(&TextureViewDescriptor::default());
        let entry = |binding, resource| BindGroupEntry { binding, resource };
        self.device.create_bind_group(&BindGroupDescriptor {
            label: Some("image"),
            layout: &self.inks.images,
            entries: &[
                entry(0, BindingResource::TextureView(&view)),
                entry(1, BindingResource::Sampler(&sampler)),
            ],
        })
    }

    /// Paints the whole picture, `scale` pixels to a point.
    pub fn paint(&mut self, jobs: &[ClippedPrimitive], scale: f32, onto: &Texture) {
        let all = Runs::of(jobs);
        self.fill(&all, scale, onto);
        let mut encoder = self.device.create_command_encoder(&Default::default());
        let mut ground = self.ground.take();
        let (still, moving) = all.runs.split_at(all.ground);
        // A window that cannot be copied onto is painted whole each time.
        if still.is_empty() || !onto.usage().contains(TextureUsages::COPY_DST) {
            self.runs(&mut encoder, scale, onto, true, &all.runs);
        } else {
            let ground = match &mut ground {
                Some(ground) if ground.texture.size() == onto.size() => ground,
                other => other.insert(self.empty(onto)),
            };
            // Its corners come first.
            let last = still.last().map_or(0, |run| run.corners.1) as usize;
            let corners = all.indices.iter().take(last);
            let corners: Vec<Vertex> = corners
                .filter_map(|i| all.vertices.get(*i as usize).copied())
                .collect();
            let same = |(runs, old): &(Vec<Run>, Vec<Vertex>)| runs == still && *old == corners;
            if !ground.from.as_ref().is_some_and(same) {
                self.runs(&mut encoder, scale, &ground.texture, true, still);
                ground.from = Some((still.to_vec(), corners));
            }
            encoder.copy_texture_to_texture(
                ground.texture.as_image_copy(),
                onto.as_image_copy(),
                onto.size(),
            );
            self.runs(&mut encoder, scale, onto, false, moving);
        }
        self.ground = ground;
        self.queue.submit([encoder.finish()]);
    }

    /// Corners and size for this picture.
    fn fill(&mut self, all: &Runs, scale: f32, onto: &Texture) {
        let points = [onto.width(), onto.height()].map(|pixels| pixels as f32 / scale);
        let bytes = bytemuck::cast_slice(&points);
        self.queue.write_buffer(&self.size.0, 0, bytes);
        let (device, queue) = (&self.device, &self.queue);
        let put = |buffer: &mut Buffer, usage, bytes: &[u8]| {
            if buffer.size() < bytes.len() as u64 {
                *buffer = filled(device, usage, bytes);
            } else {
                queue.write_buffer(buffer, 0, bytes);
            }
        };
        let vertices = bytemuck::cast_slice(&all.vertices);
        put(&mut self.vertices, BufferUsages::VERTEX, vertices);
        let indices = bytemuck::cast_slice(&all.indices);
        put(&mut self.indices, BufferUsages::INDEX, indices);
    }

    fn empty(&self, like: &Texture) -> Ground {
        let texture = self.device.create_texture(&TextureDescriptor {
            label: Some("ground"),
            size: like.size(),
            mip_level_count: 1,
            sample_count: 1,
            dimension: TextureDimension::D2,
            format: self.format,
            usage: TextureUsages::RENDER_ATTACHMENT | TextureUsages::COPY_SRC,
            view_formats: &[],
        });
        Ground {
            texture,
            from: None,
        }
    }

    /// Paints runs onto a picture, after clearing it if it is `fresh`.
    fn runs(
        &self,
        encoder: &mut CommandEncoder,
        scale: f32,
        onto: &Texture,
        fresh: bool,
        runs: &[Run],
    ) {
        let view = onto.create_view(&TextureViewDescriptor {
            format: Some(self.format),
            ..TextureViewDescriptor::default()
        });
        let load = if fresh {
            LoadOp::Clear(NIGHT)
        } else {
            LoadOp::Load
        };
        let mut pass = encoder.begin_render_pass(&RenderPassDescriptor {
            label: Some("window"),
            color_attachments: &[Some(RenderPassColorAttachment {
                view: &view,
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
        pass.set_bind_group(0, &self.size.1, &[]);
        pass.set_vertex_buffer(0, self.vertices.slice(..));
        pass.set_index_buffer(self.indices.slice(..), IndexFormat::Uint32);
        for run in runs {
            let size = (onto.width(), onto.height());
            let Some((x, y, wide, high)) = within(run.clip, scale, size) else {
                continue;
            };
            match run.ink {
                Ink::Plain => pass.set_pipeline(&self.inks.plain),
                Ink::Light => pass.set_pipeline(&self.inks.light),
                Ink::Picture(id) => {
                    let Some((_, group)) = self.images.get(&id) else {
                        continue;
                    };
                    pass.set_pipeline(&self.inks.picture);
                    pass.set_bind_group(1, group, &[]);
                }
            }
            pass.set_scissor_rect(x, y, wide, high);
            pass.draw_indexed(run.corners.0..run.corners.1, 0, 0..1);
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

fn extent(width: u32, height: u32) -> Extent3d {
    Extent3d {
        width,
        height,
        depth_or_array_layers: 1,
    }
}

fn filled(device: &Device, usage: BufferUsages, contents: &[u8]) -> Buffer {
    device.create_buffer_init(&wgpu::util::BufferInitDescriptor {
        label: Some("corners"),
        contents,
        usage: usage | BufferUsages::COPY_DST,
    })
}

const UNIFORM: BindingType = BindingType::Buffer {
    ty: BufferBindingType::Uniform,
    has_dynamic_offset: false,
    min_binding_size: None,
};
const IMAGE: BindingType = BindingType::Texture {
    sample_type: TextureSampleType::Float { filterable: true },
    view_dimension: TextureViewDimension::D2,
    multisampled: false,
};
const SAMPLER: BindingType = BindingType::Sampler(SamplerBindingType::Filtering);

fn layout(device: &Device, visibility: ShaderStages, types: &[BindingType]) -> BindGroupLayout {
    let entries: Vec<_> = (0..)
        .zip(types)
        .map(|(binding, ty)| BindGroupLayoutEntry {
            binding,
            visibility,
            ty: *ty,
            count: None,
        })
        .collect();
    device.create_bind_group_layout(&BindGroupLayoutDescriptor {
        label: None,
        entries: &entries,
    })
}

fn inks(
    device: &Device,
    format: TextureFormat,
    sizes: &BindGroupLayout,
    images: BindGroupLayout,
) -> Inks {
    let shader = device.create_shader_module(wgpu::include_wgsl!("ink.wgsl"));
    let ink = |entry, blend, groups: &[Option<&BindGroupLayout>]| {
        let layout = device.create_pipeline_layout(&PipelineLayoutDescriptor {
            label: Some(entry),
            bind_group_layouts: groups,
            immediate_size: 0,
        });
        let corners = vertex_attr_array![0 => Float32x2, 1 => Float32x2, 2 => Unorm8x4];
        device.create_render_pipeline(&RenderPipelineDescriptor {
            label: Some(entry),
            layout: Some(&layout),
            vertex: VertexState {
                module: &shader,
                entry_point: Some("vs_main"),
                compilation_options: Default::default(),
                buffers: &[VertexBufferLayout {
                    array_stride: size_of::<Vertex>() as u64,
                    step_mode: VertexStepMode::Vertex,
                    attributes: &corners,
                }],
            },
            primitive: PrimitiveState::default(),
            depth_stencil: None,
            multisample: MultisampleState::default(),
            fragment: Some(FragmentState {
                module: &shader,
                entry_point: Some(entry),
                compilation_options: Default::default(),
                targets: &[Some(ColorTargetState {
                    format,
                    blend: Some(blend),
                    write_mask: ColorWrites::ALL,
                })],
            }),
            multiview_mask: None,
            cache: None,
        })
    };
    let times = |src_factor, dst_factor| BlendComponent {
        src_factor,
        dst_factor,
        operation: BlendOperation::Add,
    };
    let over = BlendState::PREMULTIPLIED_ALPHA_BLENDING;
    let onto = BlendState {
        color: times(BlendFactor::Dst, BlendFactor::Zero),
        alpha: times(BlendFactor::Zero, BlendFactor::One),
    };
    Inks {
        plain: ink("fs_plain", over, &[Some(sizes)]),
        light: ink("fs_plain", onto, &[Some(sizes)]),
        picture: ink("fs_main", over, &[Some(sizes), Some(&images)]),
        images,
    }
}
