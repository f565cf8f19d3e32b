// The carved surface by a graphics card: a grid of triangles displaced by the heights, its four sides, lit as the
// painter without a card lights it.

struct View {
    clip_from_board: mat4x4<f32>,
    // The lattice's corner, its pitch, the board's thickness: millimetres.
    lattice: vec4<f32>,
    // Columns, rows, how many cells lie between two corners of the grid.
    cells: vec4<f32>,
    // Towards the light, of unit length.
    light: vec4<f32>,
    bench: vec4<f32>,
}

@group(0) @binding(0) var<uniform> view: View;
@group(0) @binding(1) var heights: texture_2d<f32>;
@group(0) @binding(2) var tones: texture_2d<f32>;
@group(0) @binding(3) var glows: texture_2d<f32>;

struct Corner {
    @builtin(position) clip: vec4<f32>,
    @location(0) at: vec3<f32>,
    // The normal of a side of the board; nothing on its top.
    @location(1) side: vec3<f32>,
}

fn last_cell() -> vec2<i32> {
    return vec2<i32>(view.cells.xy) - vec2<i32>(1);
}

fn height_of(cell: vec2<i32>) -> f32 {
    return textureLoad(heights, clamp(cell, vec2<i32>(0), last_cell()), 0).r;
}

// In cells from the lattice's corner; linear between the middles of cells.
fn height_at(place: vec2<f32>) -> f32 {
    let p = clamp(place - 0.5, vec2<f32>(0.0), view.cells.xy - 1.0);
    let cell = vec2<i32>(floor(p));
    let share = p - floor(p);
    let low = mix(height_of(cell), height_of(cell + vec2<i32>(1, 0)), share.x);
    let high = mix(height_of(cell + vec2<i32>(0, 1)), height_of(cell + vec2<i32>(1, 1)), share.x);
    return mix(low, high, share.y);
}

// The first and the last corner of a row lie on the board's edges, the others in the middles of cells.
fn corner_at(index: vec2<i32>) -> vec3<f32> {
    let pitch = view.lattice.z;
    let off = clamp((vec2<f32>(index) - 0.5) * pitch, vec2<f32>(0.0), view.cells.xy * pitch);
    return vec3<f32>(view.lattice.xy + off, height_of(index - vec2<i32>(1)));
}

fn corner(at: vec3<f32>, side: vec3<f32>) -> Corner {
    return Corner(view.clip_from_board * vec4<f32>(at, 1.0), at, side);
}

// A strip of triangles a row.
@vertex
fn top(@builtin(vertex_index) vertex: u32, @builtin(instance_index) row: u32) -> Corner {
    let index = vec2<i32>(i32(vertex / 2u), i32(row + (vertex & 1u))) * i32(view.cells.z);
    return corner(corner_at(min(index, last_cell() + vec2<i32>(2))), vec3<f32>(0.0));
}

// A strip a side: along the reference edge, the far edge, the left end, the right end.
@vertex
fn side(@builtin(vertex_index) vertex: u32, @builtin(instance_index) which: u32) -> Corner {
    let last = last_cell() + vec2<i32>(2);
    let i = i32(vertex / 2u) * i32(view.cells.z);
    var index = vec2<i32>(min(i, last.x), 0);
    var normal = vec3<f32>(0.0, -1.0, 0.0);
    if which == 1u {
        index = vec2<i32>(min(i, last.x), last.y);
        normal = vec3<f32>(0.0, 1.0, 0.0);
    } else if which == 2u {
        index = vec2<i32>(0, min(i, last.y));
        normal = vec3<f32>(-1.0, 0.0, 0.0);
    } else if which == 3u {
        index = vec2<i32>(last.x, min(i, last.y));
        normal = vec3<f32>(1.0, 0.0, 0.0);
    }
    var at = corner_at(index);
    if (vertex & 1u) == 1u {
        at.z = -view.lattice.w;
    }
    return corner(at, normal);
}

// Whether standing wood keeps the light off.
fn in_shadow(at: vec3<f32>, place: vec2<f32>) -> bool {
    let level = max(length(view.light.xy), 1e-6);
    let rise_per_cell = view.light.z / level * view.lattice.z;
    let way = view.light.xy / level;
    // As far as the face, in steps of most of a cell, but no more than so many.
    let far = (-at.z) / max(rise_per_cell, 1e-6);
    let step = max(0.8, far / 64.0);
    var gone = step;
    let start = at.z + 0.3 * view.lattice.z;
    loop {
        let z = start + gone * rise_per_cell;
        if z >= 0.0 || gone > 4096.0 {
            return false;
        }
        if height_at(place + way * gone) > z {
            return true;
        }
        gone += step;
    }
    return false;
}

@fragment
fn wood(in: Corner) -> @location(0) vec4<f32> {
    let place = (in.at.xy - view.lattice.xy) / view.lattice.z;
    let cell = clamp(vec2<i32>(floor(place)), vec2<i32>(0), last_cell());
    let tone = textureLoad(tones, cell, 0).rgb;
    if dot(in.side, in.side) > 0.5 {
        let facing = max(dot(in.side, view.light.xyz), 0.0);
        return vec4<f32>(tone * 0.86 * (0.48 + 0.52 * facing / view.light.z), 1.0);
    }
    if in.at.z <= 1e-3 - view.lattice.w {
        return vec4<f32>(view.bench.rgb * 0.45, 1.0);
    }
    let run = 1.2 * view.lattice.z;
    let along = (height_at(place + vec2<f32>(0.6, 0.0)) - height_at(place - vec2<f32>(0.6, 0.0))) / run;
    let across = (height_at(place + vec2<f32>(0.0, 0.6)) - height_at(place - vec2<f32>(0.0, 0.6))) / run;
    let normal = normalize(vec3<f32>(-along, -across, 1.0));
    var direct = max(dot(normal, view.light.xyz), 0.0);
    if direct > 0.0 && in_shadow(in.at, place) {
        direct = 0.3 * direct;
    }
    let carved = select(1.0, 0.93, in.at.z < -0.02);
    let lit = tone * (0.48 + 0.52 * direct / view.light.z) * carved;
    let glow = textureLoad(glows, cell, 0);
    return vec4<f32>(mix(lit, glow.rgb, glow.a), 1.0);
}

// The finished picture onto the window.

@group(0) @binding(0) var picture: texture_2d<f32>;
@group(0) @binding(1) var smooth_picture: sampler;

struct Spot {
    @builtin(position) clip: vec4<f32>,
    @location(0) uv: vec2<f32>,
}

// One triangle over everything.
@vertex
fn spread(@builtin(vertex_index) vertex: u32) -> Spot {
    let uv = vec2<f32>(f32((vertex << 1u) & 2u), f32(vertex & 2u));
    return Spot(vec4<f32>(uv * vec2<f32>(2.0, -2.0) + vec2<f32>(-1.0, 1.0), 0.0, 1.0), uv);
}

@fragment
fn as_it_is(in: Spot) -> @location(0) vec4<f32> {
    return vec4<f32>(textureSample(picture, smooth_picture, in.uv).rgb, 1.0);
}

// For a window whose colours are linear.
@fragment
fn as_linear(in: Spot) -> @location(0) vec4<f32> {
    let color = textureSample(picture, smooth_picture, in.uv).rgb;
    let low = color / 12.92;
    let high = pow((color + 0.055) / 1.055, vec3<f32>(2.4));
    return vec4<f32>(select(high, low, color <= vec3<f32>(0.04045)), 1.0);
}
