//! Axis-aligned boxes.

use glam::DVec2;

/// An axis-aligned box. A box with no extent on an axis is allowed; an inside-out one is not made.
#[derive(Clone, Copy, Debug, PartialEq, serde::Serialize, serde::Deserialize)]
pub struct Rect {
    /// The corner with the smaller coordinates.
    pub min: DVec2,
    /// The corner with the larger coordinates.
    pub max: DVec2,
}

impl Rect {
    /// The box spanned by two opposite corners, in either order.
    ///
    /// ```
    /// # use glam::dvec2;
    /// # use spelk::geometry::Rect;
    /// assert_eq!(Rect::new(dvec2(4.0, 0.0), dvec2(1.0, 2.0)).min, dvec2(1.0, 0.0));
    /// ```
    pub fn new(a: DVec2, b: DVec2) -> Rect {
        Rect { min: a.min(b), max: a.max(b) }
    }

    /// The smallest box round some points; `None` for no points.
    ///
    /// ```
    /// # use glam::dvec2;
    /// # use spelk::geometry::Rect;
    /// let bounds = Rect::around([dvec2(4.0, 0.0), dvec2(1.0, 2.0)]);
    /// assert_eq!(bounds, Some(Rect::new(dvec2(1.0, 0.0), dvec2(4.0, 2.0))));
    /// assert_eq!(Rect::around([]), None);
    /// ```
    pub fn around(points: impl IntoIterator<Item = DVec2>) -> Option<Rect> {
        points.into_iter().map(|p| Rect { min: p, max: p }).reduce(Rect::union)
    }

    /// The smallest box round both.
    ///
    /// ```
    /// # use glam::dvec2;
    /// # use spelk::geometry::Rect;
    /// let rect = Rect::new(dvec2(0.0, 0.0), dvec2(1.0, 1.0));
    /// assert_eq!(rect.union(Rect::new(dvec2(3.0, 0.0), dvec2(4.0, 1.0))).size(), dvec2(4.0, 1.0));
    /// ```
    #[must_use]
    pub fn union(self, other: Rect) -> Rect {
        Rect { min: self.min.min(other.min), max: self.max.max(other.max) }
    }

    /// Whether the boxes have a place in common, if only on their edges.
    ///
    /// ```
    /// # use glam::dvec2;
    /// # use spelk::geometry::Rect;
    /// let rect = Rect::new(dvec2(0.0, 0.0), dvec2(2.0, 1.0));
    /// assert!(rect.meets(Rect::new(dvec2(2.0, 0.0), dvec2(3.0, 9.0))));
    /// assert!(!rect.meets(Rect::new(dvec2(0.0, 1.5), dvec2(2.0, 3.0))));
    /// ```
    pub fn meets(self, other: Rect) -> bool {
        self.min.cmple(other.max).all() && other.min.cmple(self.max).all()
    }

    /// The box grown by `margin` on every side.
    ///
    /// ```
    /// # use glam::dvec2;
    /// # use spelk::geometry::Rect;
    /// assert_eq!(Rect::new(dvec2(0.0, 0.0), dvec2(4.0, 2.0)).grown(1.0).size(), dvec2(6.0, 4.0));
    /// ```
    #[must_use]
    pub fn grown(self, margin: f64) -> Rect {
        Rect::new(self.min - DVec2::splat(margin), self.max + DVec2::splat(margin))
    }

    /// So many times as large, about the middle.
    ///
    /// ```
    /// # use glam::dvec2;
    /// # use spelk::geometry::Rect;
    /// let twice = Rect::new(dvec2(1.0, 1.0), dvec2(3.0, 2.0)).resized(2.0);
    /// assert_eq!(twice, Rect::new(dvec2(0.0, 0.5), dvec2(4.0, 2.5)));
    /// ```
    #[must_use]
    pub fn resized(self, factor: f64) -> Rect {
        let (middle, half) = (self.center(), 0.5 * factor * self.size());
        Rect::new(middle - half, middle + half)
    }

    /// As large, so far from where it was.
    ///
    /// ```
    /// # use glam::dvec2;
    /// # use spelk::geometry::Rect;
    /// assert_eq!(Rect::new(dvec2(0.0, 0.0), dvec2(4.0, 2.0)).moved(dvec2(1.0, 0.0)).center(), dvec2(3.0, 1.0));
    /// ```
    #[must_use]
    pub fn moved(self, by: DVec2) -> Rect {
        Rect::new(self.min + by, self.max + by)
    }

    /// Extent in x and in y.
    ///
    /// ```
    /// # use glam::dvec2;
    /// # use spelk::geometry::Rect;
    /// assert_eq!(Rect::new(dvec2(1.0, 1.0), dvec2(4.0, 3.0)).size(), dvec2(3.0, 2.0));
    /// ```
    pub fn size(self) -> DVec2 {
        self.max - self.min
    }

    /// The middle.
    ///
    /// ```
    /// # use glam::dvec2;
    /// # use spelk::geometry::Rect;
    /// assert_eq!(Rect::new(dvec2(1.0, 1.0), dvec2(4.0, 3.0)).center(), dvec2(2.5, 2.0));
    /// ```
    pub fn center(self) -> DVec2 {
        (self.min + self.max) * 0.5
    }

    /// The four corners, counter-clockwise from the lower left.
    ///
    /// ```
    /// # use glam::dvec2;
    /// # use spelk::geometry::Rect;
    /// assert_eq!(Rect::new(dvec2(1.0, 1.0), dvec2(4.0, 3.0)).corners()[2], dvec2(4.0, 3.0));
    /// ```
    pub fn corners(self) -> [DVec2; 4] {
        [self.min, DVec2::new(self.max.x, self.min.y), self.max, DVec2::new(self.min.x, self.max.y)]
    }
}
