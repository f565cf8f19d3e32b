//! The surface drawn by a graphics card: a grid displaced by the heights, drawn into a picture with a depth
//! buffer before egui's pass, and laid into the window in it.
//!
//! Every number that lights it is that of [`crate::relief::shade`], so that both painters show one picture.

use crate::app::relief::picture::{Dress, Wanted};
use crate::app::work::Bring;
use crate::app::work::{Lane, Stage, Workers};
use crate::geometry::Lattice;
use crate::relief::HeightField;
use crate::relief::shade::{Camera, Look};
use eframe::egui_wgpu::{Callback, CallbackResources, CallbackTrait, RenderState, ScreenDescriptor};
use eframe::wgpu;
use glam::{DMat4, DVec4};
use std::sync::Arc;

/// What lies on the surface, as a card takes it.
pub(crate) struct CardLayers {
    dress: Dress,
    /// The wood's colour, and the glow.
    texels: [Vec<[u8; 4]>; 2],
}

/// Corners of the grid while things move, about: a small card draws them in a few milliseconds.
const MOST_CORNERS: usize = 500_000;

/// A card that may be drawn with.
#[derive(Clone, Copy)]
pub(crate) struct Card {
    format: wgpu::TextureFormat,
}

impl Card {
    /// The window's card, where it has one that is no software.
    pub(crate) fn of(state: Option<&RenderState>, trusting: bool) -> Option<Card> {
        let state = state?;
        let is_software = state.adapter.get_info().device_type == wgpu::DeviceType::Cpu;
        let side = state.device.limits().max_texture_dimension_2d as usize;
        let takes_it = side >= crate::relief::field::MOST_CELLS;
        (takes_it && (trusting || !is_software)).then_some(Card { format: state.target_format })
    }

    /// What draws the surface into `rect`.
    pub(crate) fn shape(self, rect: egui::Rect, wanted: &Wanted, layers: &Arc<CardLayers>) -> egui::Shape {
        let lattice = wanted.field.lattice;
        let mut every = 1;
        while wanted.moving && (lattice.columns / every) * (lattice.rows / every) > MOST_CORNERS {
            every += 1;
        }
        let drawing = Drawing {
            format: self.format,
            size: wanted.size,
            every,
            view: view(&wanted.field, &wanted.camera, &wanted.look, wanted.size, every),
            bench: wanted.look.bench,
            field: wanted.field.clone(),
            layers: layers.clone(),
        };
        Callback::new_paint_callback(rect, drawing).into()
    }
}

impl CardLayers {
    /// Whether they have a colour for each cell of a lattice.
    pub(crate) fn lie_on(&self, lattice: Lattice) -> bool {
        self.dress.lies_on(lattice)
    }
}

/// Starts working out the layers for what is wanted, where the last do not suit; whether they are being worked
/// out.
pub(crate) fn start_needed_work<D: Bring<CardLayers>>(
    workers: &mut Workers<D>,
    last: Option<&Arc<CardLayers>>,
    wanted: &Wanted,
) -> bool {
    if last.is_some_and(|layers| layers.dress.suits(wanted)) {
        return false;
    }
    if !workers.busy(Lane::Shading) {
        let wanted = wanted.clone();
        workers.start(
            Lane::Shading,
            Stage::Viewing,
            wanted.surface.of.job.design().name.clone(),
            move |_| {
                let dress = Dress::of(&wanted);
                let texels = dress.coat().layers();
                Some(CardLayers { dress, texels }.into())
            },
        );
    }
    true
}

/// One drawing of the surface.
struct Drawing {
    format: wgpu::TextureFormat,
    size: [u32; 2],
    every: usize,
    view: Vec<u8>,
    bench: [u8; 3],
    field: Arc<HeightField>,
    layers: Arc<CardLayers>,
}

/// The numbers of the shader's `View`, in its order.
fn view(field: &HeightField, camera: &Camera, look: &Look, size: [u32; 2], every: usize) -> Vec<u8> {
    let lattice = field.lattice;
    let light = look.towards_light();
    let mut numbers: Vec<f32> = Vec::with_capacity(32);
    numbers.extend(clip_from_board(camera, size, field).to_cols_array().map(|x| x as f32));
    numbers.extend([lattice.corner.x, lattice.corner.y, lattice.pitch].map(|x| x as f32));
    numbers.push(field.thickness);
    numbers.extend([lattice.columns as f32, lattice.rows as f32, every as f32, 0.0]);
    numbers.extend(light.extend(0.0).to_array().map(|x| x as f32));
    numbers.extend(look.bench.map(|tone| f32::from(tone) / 255.0));
    numbers.push(1.0);
    numbers.into_iter().flat_map(f32::to_le_bytes).collect()
}

/// The camera as a matrix: what [`Camera::on_screen`] does, with the depth beside it.
fn clip_from_board(camera: &Camera, size: [u32; 2], field: &HeightField) -> DMat4 {
    let [right, up, away] = camera.axes();
    let [width, height] = size.map(f64::from);
    let eye = camera.eye_distance();
    let area = field.lattice.area().size().length() + f64::from(field.thickness);
    let (near, far) = (0.02 * eye, eye + camera.target.length() + 2.0 * area);
    let tall = 2.0 / camera.distance * eye;
    let row = |axis: glam::DVec3, scale: f64, plus: f64| {
        (axis * scale).extend(plus - axis.dot(camera.target) * scale)
    };
    let depth = far / (far - near);
    let x = row(right, tall * height / width, 0.0);
    let y = row(up, tall, 0.0);
    let z = row(away, depth, (eye - near) * depth);
    let w: DVec4 = row(away, 1.0, eye);
    DMat4::from_cols(x, y, z, w).transpose()
}

/// What is kept on the card from one drawing to the next.
struct Kept {
    layout: wgpu::BindGroupLayout,
    top: wgpu::RenderPipeline,
    side: wgpu::RenderPipeline,
    spread_layout: wgpu::BindGroupLayout,
    spread: wgpu::RenderPipeline,
    sampler: wgpu::Sampler,
    view: wgpu::Buffer,
    heights: Option<(Arc<HeightField>, wgpu::TextureView)>,
    layers: Option<(Arc<CardLayers>, [wgpu::TextureView; 2])>,
    target: Option<Target>,
}

/// Where the surface is drawn before it is laid into the window.
struct Target {
    size: [u32; 2],
    corners: wgpu::TextureView,
    picture: wgpu::TextureView,
    depth: wgpu::TextureView,
    group: wgpu::BindGroup,
}

const PICTURE: wgpu::TextureFormat = wgpu::TextureFormat::Rgba8Unorm;
const DEPTH: wgpu::TextureFormat = wgpu::TextureFormat::Depth32Float;
/// Every card draws edges smooth with four samples.
const SAMPLES: u32 = 4;

impl CallbackTrait for Drawing {
    fn prepare(
        &self,
        device: &wgpu::Device,
        queue: &wgpu::Queue,
        _: &ScreenDescriptor,
        encoder: &mut wgpu::CommandEncoder,
        resources: &mut CallbackResources,
    ) -> Vec<wgpu::CommandBuffer> {
        let kept = resources.entry().or_insert_with(|| Kept::new(device, self.format));
        kept.take_in(device, queue, self);
        kept.draw(device, encoder, self);
        Vec::new()
    }

    fn paint(
        &self,
        _: egui::PaintCallbackInfo,
        pass: &mut wgpu::RenderPass<'static>,
        resources: &CallbackResources,
    ) {
        let Some(kept) = resources.get::<Kept>() else { return };
        let Some(target) = &kept.target else { return };
        pass.set_pipeline(&kept.spread);
        pass.set_bind_group(0, &target.group, &[]);
        pass.draw(0..3, 0..1);
    }
}

impl Kept {
    fn new(device: &wgpu::Device, format: wgpu::TextureFormat) -> Kept {
        let module = device.create_shader_module(wgpu::include_wgsl!("surface.wgsl"));
        let texture = |binding, filterable| wgpu::BindGroupLayoutEntry {
            binding,
            visibility: wgpu::ShaderStages::VERTEX_FRAGMENT,
            ty: wgpu::BindingType::Texture {
                sample_type: wgpu::TextureSampleType::Float { filterable },
                view_dimension: wgpu::TextureViewDimension::D2,
                multisampled: false,
            },
            count: None,
        };
        let uniform = wgpu::BindGroupLayoutEntry {
            binding: 0,
            visibility: wgpu::ShaderStages::VERTEX_FRAGMENT,
            ty: wgpu::BindingType::Buffer {
                ty: wgpu::BufferBindingType::Uniform,
                has_dynamic_offset: false,
                min_binding_size: None,
            },
            count: None,
        };
        let sampler = wgpu::BindGroupLayoutEntry {
            binding: 1,
            visibility: wgpu::ShaderStages::FRAGMENT,
            ty: wgpu::BindingType::Sampler(wgpu::SamplerBindingType::Filtering),
            count: None,
        };
        let layout = |entries: &[wgpu::BindGroupLayoutEntry]| {
            device.create_bind_group_layout(&wgpu::BindGroupLayoutDescriptor {
                label: Some("surface"),
                entries,
            })
        };
        let surface_layout = layout(&[uniform, texture(1, false), texture(2, true), texture(3, true)]);
        let spread_layout = layout(&[texture(0, true), sampler]);
        let onto = if format.is_srgb() { "as_linear" } else { "as_it_is" };
        Kept {
            top: pipeline(device, &module, &surface_layout, ["top", "wood"], None),
            side: pipeline(device, &module, &surface_layout, ["side", "wood"], None),
            spread: pipeline(device, &module, &spread_layout, ["spread", onto], Some(format)),
            sampler: device.create_sampler(&wgpu::SamplerDescriptor {
                label: Some("surface"),
                mag_filter: wgpu::FilterMode::Linear,
                min_filter: wgpu::FilterMode::Linear,
                ..wgpu::SamplerDescriptor::default()
            }),
            view: device.create_buffer(&wgpu::BufferDescriptor {
                label: Some("surface"),
                size: 128,
                usage: wgpu::BufferUsages::UNIFORM | wgpu::BufferUsages::COPY_DST,
                mapped_at_creation: false,
            }),
            layout: surface_layout,
            spread_layout,
            heights: None,
            layers: None,
            target: None,
        }
    }

    /// Brings to the card what changed since the last drawing.
    fn take_in(&mut self, device: &wgpu::Device, queue: &wgpu::Queue, drawing: &Drawing) {
        queue.write_buffer(&self.view, 0, &drawing.view);
        let lattice = drawing.field.lattice;
        if self.heights.as_ref().is_none_or(|(field, _)| !Arc::ptr_eq(field, &drawing.field)) {
            let bytes: Vec<u8> =
                drawing.field.heights.iter().flat_map(|height| height.to_le_bytes()).collect();
            let view = filled(device, queue, lattice, wgpu::TextureFormat::R32Float, &bytes);
            self.heights = Some((drawing.field.clone(), view));
        }
        if self.layers.as_ref().is_none_or(|(layers, _)| !Arc::ptr_eq(layers, &drawing.layers)) {
            let views = drawing.layers.texels.each_ref().map(|layer| {
                // Where nothing glows there is no glow for any cell: one clear texel stands for all.
                let lattice =
                    if layer.is_empty() { Lattice { columns: 1, rows: 1, ..lattice } } else { lattice };
                let bytes = if layer.is_empty() { &[[0; 4]][..] } else { &layer[..] };
                filled(device, queue, lattice, PICTURE, bytes.as_flattened())
            });
            self.layers = Some((drawing.layers.clone(), views));
        }
        if self.target.as_ref().is_none_or(|target| target.size != drawing.size) {
            self.target = Some(self.target(device, drawing.size));
        }
    }

    fn target(&self, device: &wgpu::Device, size: [u32; 2]) -> Target {
        let most = device.limits().max_texture_dimension_2d;
        let texture = |format, samples, usage| {
            let texture = device.create_texture(&wgpu::TextureDescriptor {
                label: Some("surface"),
                size: extent(size.map(|side| side.clamp(1, most))),
                mip_level_count: 1,
                sample_count: samples,
                dimension: wgpu::TextureDimension::D2,
                format,
                usage,
                view_formats: &[],
            });
            texture.create_view(&wgpu::TextureViewDescriptor::default())
        };
        let drawn = wgpu::TextureUsages::RENDER_ATTACHMENT;
        let picture = texture(PICTURE, 1, drawn | wgpu::TextureUsages::TEXTURE_BINDING);
        let group = device.create_bind_group(&wgpu::BindGroupDescriptor {
            label: Some("surface"),
            layout: &self.spread_layout,
            entries: &[
                wgpu::BindGroupEntry { binding: 0, resource: wgpu::BindingResource::TextureView(&picture) },
                wgpu::BindGroupEntry { binding: 1, resource: wgpu::BindingResource::Sampler(&self.sampler) },
            ],
        });
        Target {
            size,
            corners: texture(PICTURE, SAMPLES, drawn),
            depth: texture(DEPTH, SAMPLES, drawn),
            picture,
            group,
        }
    }

    fn draw(&self, device: &wgpu::Device, encoder: &mut wgpu::CommandEncoder, drawing: &Drawing) {
        let (Some((_, heights)), Some((_, [tones, glows])), Some(target)) =
            (&self.heights, &self.layers, &self.target)
        else {
            return;
        };
        let texture = |binding, view| wgpu::BindGroupEntry {
            binding,
            resource: wgpu::BindingResource::TextureView(view),
        };
        let group = device.create_bind_group(&wgpu::BindGroupDescriptor {
            label: Some("surface"),
            layout: &self.layout,
            entries: &[
                wgpu::BindGroupEntry { binding: 0, resource: self.view.as_entire_binding() },
                texture(1, heights),
                texture(2, tones),
                texture(3, glows),
            ],
        });
        let [r, g, b] = drawing.bench.map(|tone| f64::from(tone) / 255.0);
        let mut pass = encoder.begin_render_pass(&wgpu::RenderPassDescriptor {
            label: Some("surface"),
            color_attachments: &[Some(wgpu::RenderPassColorAttachment {
                view: &target.corners,
                depth_slice: None,
                resolve_target: Some(&target.picture),
                ops: wgpu::Operations {
                    load: wgpu::LoadOp::Clear(wgpu::Color { r, g, b, a: 1.0 }),
                    store: wgpu::StoreOp::Discard,
                },
            })],
            depth_stencil_attachment: Some(wgpu::RenderPassDepthStencilAttachment {
                view: &target.depth,
                depth_ops: Some(wgpu::Operations {
                    load: wgpu::LoadOp::Clear(1.0),
                    store: wgpu::StoreOp::Discard,
                }),
                stencil_ops: None,
            }),
            ..wgpu::RenderPassDescriptor::default()
        });
        // From edge to edge there are two corners more than cells.
        let steps = |cells: usize| (cells + 1).div_ceil(drawing.every) as u32;
        let lattice = drawing.field.lattice;
        let (columns, rows) = (steps(lattice.columns), steps(lattice.rows));
        pass.set_bind_group(0, &group, &[]);
        pass.set_pipeline(&self.top);
        pass.draw(0..2 * (columns + 1), 0..rows);
        pass.set_pipeline(&self.side);
        pass.draw(0..2 * (columns.max(rows) + 1), 0..4);
    }
}

/// What runs a vertex and a fragment stage: strips into our own target, or, with the window's format, triangles
/// into egui's pass.
fn pipeline(
    device: &wgpu::Device,
    module: &wgpu::ShaderModule,
    layout: &wgpu::BindGroupLayout,
    stages: [&str; 2],
    window: Option<wgpu::TextureFormat>,
) -> wgpu::RenderPipeline {
    let layout = device.create_pipeline_layout(&wgpu::PipelineLayoutDescriptor {
        label: Some("surface"),
        bind_group_layouts: &[Some(layout)],
        immediate_size: 0,
    });
    let topology = match window {
        None => wgpu::PrimitiveTopology::TriangleStrip,
        Some(_) => wgpu::PrimitiveTopology::TriangleList,
    };
    device.create_render_pipeline(&wgpu::RenderPipelineDescriptor {
        label: Some(stages[0]),
        layout: Some(&layout),
        vertex: wgpu::VertexState {
            module,
            entry_point: Some(stages[0]),
            compilation_options: wgpu::PipelineCompilationOptions::default(),
            buffers: &[],
        },
        primitive: wgpu::PrimitiveState { topology, ..wgpu::PrimitiveState::default() },
        depth_stencil: window.is_none().then(|| wgpu::DepthStencilState {
            format: DEPTH,
            depth_write_enabled: Some(true),
            depth_compare: Some(wgpu::CompareFunction::Less),
            stencil: wgpu::StencilState::default(),
            bias: wgpu::DepthBiasState::default(),
        }),
        multisample: wgpu::MultisampleState {
            count: if window.is_none() { SAMPLES } else { 1 },
            ..wgpu::MultisampleState::default()
        },
        fragment: Some(wgpu::FragmentState {
            module,
            entry_point: Some(stages[1]),
            compilation_options: wgpu::PipelineCompilationOptions::default(),
            targets: &[Some(wgpu::ColorTargetState {
                format: window.unwrap_or(PICTURE),
                blend: None,
                write_mask: wgpu::ColorWrites::ALL,
            })],
        }),
        multiview_mask: None,
        cache: None,
    })
}

fn extent([width, height]: [u32; 2]) -> wgpu::Extent3d {
    wgpu::Extent3d { width, height, depth_or_array_layers: 1 }
}

/// A texture of four bytes a cell.
fn filled(
    device: &wgpu::Device,
    queue: &wgpu::Queue,
    lattice: Lattice,
    format: wgpu::TextureFormat,
    bytes: &[u8],
) -> wgpu::TextureView {
    let [width, height] = [lattice.columns as u32, lattice.rows as u32];
    let texture = device.create_texture(&wgpu::TextureDescriptor {
        label: Some("surface"),
        size: extent([width, height]),
        mip_level_count: 1,
        sample_count: 1,
        dimension: wgpu::TextureDimension::D2,
        format,
        usage: wgpu::TextureUsages::TEXTURE_BINDING | wgpu::TextureUsages::COPY_DST,
        view_formats: &[],
    });
    queue.write_texture(
        texture.as_image_copy(),
        bytes,
        wgpu::TexelCopyBufferLayout {
            offset: 0,
            bytes_per_row: Some(4 * width),
            rows_per_image: Some(height),
        },
        extent([width, height]),
    );
    texture.create_view(&wgpu::TextureViewDescriptor::default())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geometry::Rect;
    use crate::units::Mm;
    use glam::{DVec2, DVec3, dvec2};

    #[test]
    fn the_card_puts_places_where_the_other_painter_does() {
        let area = Rect::new(DVec2::ZERO, dvec2(600.0, 200.0));
        let field = HeightField::blank(area, Mm::new(5.0), Mm::new(19.0));
        let size = [710, 330];
        let camera = Camera {
            target: DVec3::new(250.0, 90.0, 0.0),
            around: 0.8,
            up: 0.7,
            distance: 300.0,
            perspective: true,
        };
        let matrix = clip_from_board(&camera, size, &field);
        for place in [DVec3::ZERO, DVec3::new(600.0, 200.0, -19.0), DVec3::new(300.0, 10.0, -4.0)] {
            let clip = matrix * place.extend(1.0);
            let seen = clip / clip.w;
            let at = dvec2((seen.x + 1.0) * 355.0, (1.0 - seen.y) * 165.0);
            let expected = camera.on_screen(place, size).unwrap();
            assert!(at.distance(expected) < 1e-6, "{place}: {at} is not {expected}");
            assert!((0.0..=1.0).contains(&seen.z), "{place} is cut off: {seen}");
        }
    }
}
