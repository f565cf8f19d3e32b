//! The carved surface as triangles: for a graphics card, and as an STL file.

use super::field::HeightField;
use super::paths::Plan;
use super::shade::wood_colors;
use crate::job::Job;
use crate::proof::{Measured, Proof};
use crate::units::Mm;
use glam::{DVec2, Vec3};
use std::io::{self, Write};

/// A surface of triangles, for drawing.
#[derive(Clone, Debug, PartialEq)]
pub struct Mesh {
    /// Board space, millimetres, z up with 0 at the face.
    pub positions: Vec<Vec3>,
    /// Unit normals, one a position.
    pub normals: Vec<Vec3>,
    /// The wood's own colour, 0 to 255, one a position.
    pub colors: Vec<[u8; 3]>,
    /// Three positions a triangle, counter-clockwise seen from outside.
    pub triangles: Vec<[u32; 3]>,
}

/// The top of a field, with the board's four sides and its underside, of about `most` positions: of larger
/// fields every second, third … cell is taken. `O(cells taken)`.
pub fn mesh(job: &Job, field: &HeightField, most: usize) -> Mesh {
    let lattice = field.lattice;
    let mut every = 1;
    let count = |side: usize, every: usize| side.div_ceil(every) + 1;
    while count(lattice.columns, every) * count(lattice.rows, every) > most.max(16) {
        every += 1;
    }
    let grid = Corners::of(field, every);
    let (columns, rows) = (grid.xs.len(), grid.ys.len());
    let colors = wood_colors(job, &grid.xs, &grid.ys);
    let mut mesh = Mesh {
        positions: Vec::with_capacity(columns * rows),
        normals: Vec::with_capacity(columns * rows),
        colors,
        triangles: Vec::with_capacity(2 * columns * rows),
    };
    for row in 0..rows {
        for column in 0..columns {
            let (west, east) = (column.saturating_sub(1), (column + 1).min(columns - 1));
            let (south, north) = (row.saturating_sub(1), (row + 1).min(rows - 1));
            let rise = |a: Vec3, b: Vec3| (b.z - a.z) / (b - a).truncate().length();
            let along = rise(grid.top(west, row), grid.top(east, row));
            let across = rise(grid.top(column, south), grid.top(column, north));
            mesh.positions.push(grid.top(column, row));
            mesh.normals.push(Vec3::new(-along, -across, 1.0).normalize());
        }
    }
    let at = |column: usize, row: usize| (row * columns + column) as u32;
    for row in 1..rows {
        for column in 1..columns {
            let [a, b, c, d] =
                [at(column - 1, row - 1), at(column, row - 1), at(column, row), at(column - 1, row)];
            mesh.triangles.extend([[a, b, c], [a, c, d]]);
        }
    }
    // Sides and underside have edges of their own, for their normals differ.
    for (normal, quads) in grid.walls() {
        for [a, b, c, d] in quads {
            let first = mesh.positions.len() as u32;
            mesh.positions.extend([a, b, c, d]);
            mesh.normals.extend([normal; 4]);
            mesh.colors.extend([mesh.colors[0]; 4]);
            mesh.triangles.extend([[first, first + 1, first + 2], [first, first + 2, first + 3]]);
        }
    }
    mesh
}

/// The corners a surface is drawn between: the middles of cells, with the outermost moved to the field's
/// edges so that its size is right.
struct Corners<'a> {
    field: &'a HeightField,
    xs: Vec<f64>,
    ys: Vec<f64>,
}

impl Corners<'_> {
    fn of(field: &HeightField, every: usize) -> Corners<'_> {
        let lattice = field.lattice;
        let places = |count: usize, corner: f64| -> Vec<f64> {
            let end = corner + count as f64 * lattice.pitch;
            let middles = (0..count).step_by(every).map(|i| corner + (i as f64 + 0.5) * lattice.pitch);
            std::iter::once(corner).chain(middles).chain([end]).collect()
        };
        Corners {
            field,
            xs: places(lattice.columns, lattice.corner.x),
            ys: places(lattice.rows, lattice.corner.y),
        }
    }

    fn top(&self, column: usize, row: usize) -> Vec3 {
        let place = DVec2::new(self.xs[column], self.ys[row]);
        place.extend(self.field.height_at(place)).as_vec3()
    }

    /// The four sides and the underside, as quads with the normal of each.
    fn walls(&self) -> Vec<(Vec3, Vec<[Vec3; 4]>)> {
        let bottom = -self.field.thickness;
        let (columns, rows) = (self.xs.len(), self.ys.len());
        let down = |p: Vec3| p.with_z(bottom);
        let wall = |a: Vec3, b: Vec3| [down(a), down(b), b, a];
        let south = (1..columns).map(|i| wall(self.top(i - 1, 0), self.top(i, 0))).collect();
        let north = (1..columns).map(|i| wall(self.top(i, rows - 1), self.top(i - 1, rows - 1))).collect();
        let west = (1..rows).map(|i| wall(self.top(0, i), self.top(0, i - 1))).collect();
        let east = (1..rows).map(|i| wall(self.top(columns - 1, i - 1), self.top(columns - 1, i))).collect();
        // The underside has the same corners as the top, so that every edge is met by just one other triangle.
        let under = (1..rows)
            .flat_map(|row| (1..columns).map(move |column| (column, row)))
            .map(|(column, row)| {
                [(column - 1, row - 1), (column - 1, row), (column, row), (column, row - 1)]
                    .map(|(column, row)| down(self.top(column, row)))
            })
            .collect();
        vec![
            (Vec3::NEG_Y, south),
            (Vec3::Y, north),
            (Vec3::NEG_X, west),
            (Vec3::X, east),
            (Vec3::NEG_Z, under),
        ]
    }
}

/// Cells of a surface that is written, 200 bytes each.
const MOST_CELLS: f64 = 300_000.0;

/// A job's board as it comes off the machine, as an STL file; `None` where no passes can be planned.
/// Seconds in a dev build for a large board.
pub fn stl_of_board(job: &Job, measured: &Measured, proof: &Proof) -> Option<Vec<u8>> {
    stl_of_passes(job, &super::plan(job, measured, &super::NEVER)?, proof)
}

/// A job's board as these passes leave it, as an STL file; snipe is that of a proof on the board. Seconds in a dev
/// build for a large board.
pub fn stl_of_passes(job: &Job, plan: &Plan, proof: &Proof) -> Option<Vec<u8>> {
    // Fine enough for the cutter's own marks, and a file of no more than some tens of megabytes.
    let cells = job.board().length.get() * job.board().width.get() / MOST_CELLS;
    let pitch = (job.cutter().shape.working_diameter().get() / 8.0).clamp(0.1, 1.0).max(cells.sqrt());
    let field = HeightField::carved(job, plan, proof, Mm::new(pitch), &super::NEVER)?;
    let mut bytes = Vec::new();
    write_stl(&field, &mut bytes).ok()?;
    Some(bytes)
}

/// Writes a field as a binary STL file: a closed body of triangles in millimetres, x along the board, y
/// across, z up with 0 at the face. Every cell is in it: 200 bytes a cell. Where the board is cut through, top and
/// underside lie in one.
///
/// The file: 80 bytes of header, the number of triangles, and for each its normal and three corners as 32-bit
/// floats and two empty bytes, all little-endian.
///
/// # Errors
///
/// Where `out` cannot be written.
pub fn write_stl(field: &HeightField, out: &mut impl Write) -> io::Result<()> {
    let grid = Corners::of(field, 1);
    let (columns, rows) = (grid.xs.len(), grid.ys.len());
    let walls = grid.walls();
    let quads = (columns - 1) * (rows - 1) + walls.iter().map(|(_, quads)| quads.len()).sum::<usize>();
    let mut header = [0_u8; 80];
    let title = b"carved surface, millimetres";
    header[..title.len()].copy_from_slice(title);
    out.write_all(&header)?;
    let count = u32::try_from(2 * quads)
        .map_err(|_too_many| io::Error::other("too many triangles for the format"))?;
    out.write_all(&count.to_le_bytes())?;
    let mut quad = |[a, b, c, d]: [Vec3; 4]| -> io::Result<()> {
        for [a, b, c] in [[a, b, c], [a, c, d]] {
            let normal = (b - a).cross(c - a).normalize_or_zero();
            let mut bytes = [0_u8; 50];
            let numbers = [normal, a, b, c].into_iter().flat_map(|p| p.to_array());
            for (place, number) in bytes.chunks_exact_mut(4).zip(numbers) {
                place.copy_from_slice(&number.to_le_bytes());
            }
            out.write_all(&bytes)?;
        }
        Ok(())
    };
    for row in 1..rows {
        for column in 1..columns {
            quad([
                grid.top(column - 1, row - 1),
                grid.top(column, row - 1),
                grid.top(column, row),
                grid.top(column - 1, row),
            ])?;
        }
    }
    walls.into_iter().flat_map(|(_, quads)| quads).try_for_each(&mut quad)
}
