//! Thin features: pieces under their limits, joined where they meet.

use super::WidthMap;
use super::axis;
use super::piece::{AxisPoint, Tip};
use glam::DVec2;

impl WidthMap {
    /// Everything narrower than a limit: the thin parts of `thin` pieces, joined where they meet.
    ///
    /// `thin` names pieces by index, each with its own limit in design millimetres (the limit may
    /// depend on the piece's direction). Pieces that are not narrower than their limit, or do not exist,
    /// are passed over; of a piece named twice the larger limit counts. Pieces join at a vertex that lies
    /// in the thin part of both, whatever their limits. A taper never joins a wall: where a thin wall ends
    /// in a point, both are reported.
    ///
    /// Sorted by the index of the narrowest piece, and put together one by one, for there may be some hundred thousand.
    /// A feature is named after that of its pieces that was asked for first: asked in the order in which they grow
    /// thin, it keeps its [`name`](Feature::name) as the limits move. `O(hits log hits)`, whatever the size of the map.
    ///
    /// ```
    /// # use glam::dvec2;
    /// # use spelk::geometry::{FillRule, Grid, Rect, Region};
    /// use spelk::geometry::widths::{FeatureShape, measure};
    /// let grid = Grid::covering(Rect::new(dvec2(0.0, 0.0), dvec2(40.0, 40.0)));
    /// let point = vec![dvec2(0.0, 0.0), dvec2(10.0, 0.0), dvec2(5.0, 40.0)];
    /// let widths = measure(&Region::clean(grid, &[point], FillRule::NonZero));
    /// let asked: Vec<_> = (0..widths.inside.pieces().len()).map(|i| (i as u32, 2.0)).collect();
    /// let found: Vec<_> = widths.inside.features(&asked).collect();
    /// let FeatureShape::Tip { apex } = found[0].shape else { unreachable!("a point") };
    /// assert!((apex.to_degrees() - 14.25).abs() < 0.01);
    /// assert!((found[0].length - 8.062).abs() < 0.001); // 2 / (2 sin(apex / 2))
    /// ```
    pub fn features(&self, thin: &[(u32, f64)]) -> impl Iterator<Item = Feature> + use<'_> {
        let is_thin =
            |&(i, limit): &(u32, f64)| self.pieces.get(i as usize).is_some_and(|p| p.narrow.width < limit);
        let mut ranked: Vec<(u32, f64, usize)> = thin
            .iter()
            .copied()
            .enumerate()
            .filter(|(_, hit)| is_thin(hit))
            .map(|(rank, (i, limit))| (i, limit, rank))
            .collect();
        ranked.sort_unstable_by(|a, b| a.0.cmp(&b.0).then(b.1.total_cmp(&a.1)));
        ranked.dedup_by_key(|hit| hit.0);
        let (hits, ranks): (Vec<_>, Vec<_>) =
            ranked.into_iter().map(|(i, limit, rank)| ((i, limit), rank)).unzip();
        let groups = self.groups(&hits);
        let mut from = 0;
        std::iter::from_fn(move || {
            let rest = &groups[from..];
            let group = rest.chunk_by(|a, b| a.0 == b.0).next()?;
            from += group.len();
            Some(self.feature(&hits, &ranks, group))
        })
    }

    /// Every hit with the first hit that it is joined to, sorted.
    fn groups(&self, hits: &[(u32, f64)]) -> Vec<(usize, usize)> {
        // Where each hit can be joined: at a vertex it reaches, or, for a taper, at its own corner.
        let mut meets: Vec<(bool, u32, usize)> = Vec::with_capacity(2 * hits.len());
        for (hit, &(i, limit)) in hits.iter().enumerate() {
            let piece = &self.pieces[i as usize];
            if piece.taper {
                meets.push((true, piece.tip, hit));
                continue;
            }
            meets.push((false, piece.narrow.vertex, hit));
            if piece.wide.width < limit {
                meets.push((false, piece.wide.vertex, hit));
            }
        }
        meets.sort_unstable();
        let mut parent: Vec<usize> = (0..hits.len()).collect();
        for pair in meets.windows(2) {
            if (pair[0].0, pair[0].1) == (pair[1].0, pair[1].1) {
                let (a, b) = (root(&mut parent, pair[0].2), root(&mut parent, pair[1].2));
                parent[a.max(b)] = a.min(b);
            }
        }
        let mut groups: Vec<_> = (0..hits.len()).map(|hit| (root(&mut parent, hit), hit)).collect();
        groups.sort_unstable();
        groups
    }

    fn feature(&self, hits: &[(u32, f64)], ranks: &[usize], group: &[(usize, usize)]) -> Feature {
        let index = hits[group[0].0].0;
        let narrowest = &self.pieces[index as usize];
        let first = group.iter().min_by_key(|&&(_, hit)| ranks[hit]);
        let name = first.map_or(index, |&(_, hit)| hits[hit].0);
        let mut axis = Vec::with_capacity(group.len());
        let mut length = 0.0;
        // The mean of an undirected direction is taken of twice its angle.
        let mut doubled = DVec2::ZERO;
        for &(_, hit) in group {
            let (i, limit) = hits[hit];
            let piece = &self.pieces[i as usize];
            let part = piece.length_between(piece.curve.range()[0], piece.cut(limit));
            length += part;
            doubled += DVec2::from_angle(2.0 * piece.direction) * part;
            piece.chords(limit, &mut axis);
        }
        if narrowest.taper {
            let Tip { at, apex } = self.tips[narrowest.tip as usize];
            return Feature {
                shape: FeatureShape::Tip { apex },
                piece: index,
                name,
                width: 0.0,
                at,
                length,
                direction: narrowest.direction,
                axis,
            };
        }
        // Anywhere on a wall of even width is narrowest; the middle is where a person would point.
        let at = if narrowest.is_even() {
            let [from, _] = narrowest.curve.range();
            narrowest.place(0.5 * (from + narrowest.cut(hits[group[0].0].1))).at
        } else {
            narrowest.narrow.at
        };
        let straight = doubled.length() >= LEAST_STRAIGHTNESS * length && length > 0.0;
        let direction = if straight {
            axis::direction(DVec2::from_angle(0.5 * doubled.to_angle()))
        } else {
            narrowest.direction
        };
        Feature {
            shape: FeatureShape::Neck,
            piece: index,
            name,
            width: narrowest.narrow.width,
            at,
            length,
            direction,
            axis,
        }
    }
}

/// How well the directions of a wall's pieces must agree for their mean to mean anything: 1 for a
/// straight wall, 0 for a ring; an arc through 45 degrees has 0.9. Chosen so, no source.
const LEAST_STRAIGHTNESS: f64 = 0.9;

fn root(parent: &mut [usize], mut of: usize) -> usize {
    while parent[of] != of {
        parent[of] = parent[parent[of]];
        of = parent[of];
    }
    of
}

/// One thing that is narrower than asked.
#[derive(Clone, Debug, PartialEq)]
pub struct Feature {
    /// A wall or groove, or the end of a point.
    pub shape: FeatureShape,
    /// The narrowest piece.
    pub piece: u32,
    /// The piece that was asked for first: a stable name for the feature where pieces are asked for in the order in
    /// which they grow thin, until it hangs together with one that was thin before.
    pub name: u32,
    /// Least width in design millimetres; 0 for a tip.
    pub width: f64,
    /// Where it is narrowest: for an even wall the middle of its narrowest piece, for a tip the corner.
    pub at: DVec2,
    /// Length of the thin part along the axis, design millimetres; for a tip, from the corner.
    pub length: f64,
    /// Direction of run, radians in `0..pi` from the x axis: the mean along the thin part where that is
    /// nearly straight, else the direction at the narrowest place. For a tip, where it points.
    pub direction: f64,
    /// The thin part of the axis, as chords with the width at either end, for drawing.
    pub axis: Vec<[AxisPoint; 2]>,
}

impl Feature {
    /// A place of the thin part that lies within the wall or groove itself: a tip's corner lies on the
    /// outline, and an outline belongs to either side.
    ///
    /// ```
    /// # use glam::dvec2;
    /// # use spelk::geometry::{FillRule, Grid, Locator, Rect, Region, widths::measure};
    /// let grid = Grid::covering(Rect::new(dvec2(0.0, 0.0), dvec2(40.0, 40.0)));
    /// let point = vec![dvec2(0.0, 0.0), dvec2(10.0, 0.0), dvec2(5.0, 40.0)];
    /// let region = Region::clean(grid, &[point], FillRule::NonZero);
    /// let map = measure(&region).inside;
    /// let asked: Vec<_> = (0..map.pieces().len() as u32).map(|i| (i, 2.0)).collect();
    /// assert!(Locator::new(&region).contains(map.features(&asked).next().unwrap().inside()));
    /// ```
    pub fn inside(&self) -> DVec2 {
        match self.shape {
            FeatureShape::Neck => self.at,
            FeatureShape::Tip { .. } => self.axis.first().map_or(self.at, |[a, b]| a.at.midpoint(b.at)),
        }
    }
}

/// Whether a thin feature is a wall or groove, or the end of a point.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum FeatureShape {
    /// Thin between two sides.
    Neck,
    /// Thin because it ends in a sharp corner or a blunted point.
    Tip {
        /// Interior angle of the corner, radians; of the two sides behind it where it is blunted.
        apex: f64,
    },
}
