//! Maps of the plane as a camera makes them.

use glam::{DVec2, dvec2};

/// A projective map of the plane, `[a b c; d e f; g h 1]`: how a camera shows one flat thing (Hartley and
/// Zisserman, *Multiple View Geometry in Computer Vision*, ch. 4, the direct linear transformation with its last
/// number set to 1; from memory).
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Homography {
    rows: [[f64; 3]; 3],
}

impl Homography {
    /// The map that takes each of `from` to the one of `to` at the same place in the list; `None` where
    /// three of either lie in a line.
    ///
    /// ```
    /// use glam::dvec2;
    /// use spelk::geometry::Homography;
    /// let square = [dvec2(0.0, 0.0), dvec2(1.0, 0.0), dvec2(1.0, 1.0), dvec2(0.0, 1.0)];
    /// let moved = square.map(|corner| corner * 3.0 + dvec2(5.0, 7.0));
    /// let map = Homography::between(square, moved).unwrap();
    /// assert!((map.of(dvec2(0.5, 0.5)) - dvec2(6.5, 8.5)).length() < 1e-12);
    /// ```
    pub fn between(from: [DVec2; 4], to: [DVec2; 4]) -> Option<Homography> {
        if flat(&from) || flat(&to) {
            return None;
        }
        // Two equations a corner: u (g x + h y + 1) = a x + b y + c, and the same for v.
        let mut equations = [[0.0; 9]; 8];
        for (index, (p, q)) in from.into_iter().zip(to).enumerate() {
            equations[2 * index] = [p.x, p.y, 1.0, 0.0, 0.0, 0.0, -q.x * p.x, -q.x * p.y, q.x];
            equations[2 * index + 1] = [0.0, 0.0, 0.0, p.x, p.y, 1.0, -q.y * p.x, -q.y * p.y, q.y];
        }
        let [a, b, c, d, e, f, g, h] = solved(equations)?;
        Some(Homography { rows: [[a, b, c], [d, e, f], [g, h, 1.0]] })
    }

    /// Where a point goes. Not finite for a point on the horizon.
    pub fn of(&self, point: DVec2) -> DVec2 {
        let row = |row: [f64; 3]| row[0] * point.x + row[1] * point.y + row[2];
        let [u, v, w] = self.rows.map(row);
        dvec2(u / w, v / w)
    }
}

/// Whether any three of four points lie in a line, to a millionth of their spread.
fn flat(points: &[DVec2; 4]) -> bool {
    let spread = points.iter().map(|p| p.distance_squared(points[0])).fold(0.0, f64::max);
    let area = |i: usize, j: usize, k: usize| (points[j] - points[i]).perp_dot(points[k] - points[i]).abs();
    let least = [area(0, 1, 2), area(0, 1, 3), area(0, 2, 3), area(1, 2, 3)];
    // Written so that a NaN counts as flat.
    !least.iter().all(|&area| area > spread * 1e-6)
}

/// Solves eight equations in eight unknowns by elimination with row exchange; `None` where they do not
/// settle them.
fn solved(mut m: [[f64; 9]; 8]) -> Option<[f64; 8]> {
    for column in 0..8 {
        let pivot = (column..8).max_by(|&i, &j| m[i][column].abs().total_cmp(&m[j][column].abs()))?;
        m.swap(column, pivot);
        let head = m[column];
        if head[column] == 0.0 || !head[column].is_finite() {
            return None;
        }
        for row in m.iter_mut().skip(column + 1) {
            let share = row[column] / head[column];
            for (value, above) in row.iter_mut().zip(head).skip(column) {
                *value -= share * above;
            }
        }
    }
    let mut x = [0.0; 8];
    for row in (0..8).rev() {
        let known: f64 = (row + 1..8).map(|k| m[row][k] * x[k]).sum();
        x[row] = (m[row][8] - known) / m[row][row];
    }
    x.iter().all(|value| value.is_finite()).then_some(x)
}
