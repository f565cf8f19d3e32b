//! The exact outline of a cutter's end.

use crate::shop::CutterShape;
use crate::units::Mm;

/// A cutter's end, turned about its axis: how high its edge is above its lowest point, by the distance from
/// the axis. It never falls from the axis outwards and is convex, whatever the shape.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Profile {
    shape: CutterShape,
    /// Half of what is flat at the bottom.
    pub(super) flat: f64,
    /// The radius of the ball; 0 where there is none.
    pub(super) ball: f64,
    /// How far from the axis the ball goes over into the side.
    pub(super) ball_reach: f64,
    /// How far a side moves outwards for each unit upwards; 0 where it is upright.
    pub(super) slope: f64,
    /// Half of the largest diameter.
    pub(super) reach: f64,
}

impl Profile {
    /// The profile of a cutter's shape.
    pub fn of(shape: CutterShape) -> Profile {
        let reach = shape.diameter().get() / 2.0;
        let slope = shape.side_slope();
        let (flat, ball, ball_reach) = match shape {
            CutterShape::Flat { .. } => (reach, 0.0, 0.0),
            CutterShape::Ball { .. } => (0.0, reach, reach),
            CutterShape::Vee { tip, .. } => (tip.get() / 2.0, 0.0, 0.0),
            CutterShape::TaperedBall { ball, lean, .. } => {
                let radius = ball.get() / 2.0;
                (0.0, radius, (radius * lean.cos()).min(reach))
            }
        };
        Profile { shape, flat, ball, ball_reach, slope, reach }
    }

    /// How high the edge is above the lowest point, `off` the axis; infinite beyond the cutter.
    pub fn height(&self, off: f64) -> f64 {
        if off > self.reach {
            f64::INFINITY
        } else if off <= self.flat {
            0.0
        } else if off <= self.ball_reach {
            self.ball - (self.ball * self.ball - off * off).max(0.0).sqrt()
        } else if self.ball > 0.0 {
            let tangent = self.ball - (self.ball * self.ball - self.ball_reach * self.ball_reach).sqrt();
            tangent + (off - self.ball_reach) / self.slope
        } else {
            (off - self.flat) / self.slope
        }
    }

    /// How deep the cutter can go in the middle of a place that is `half` wide to either side, without
    /// touching what is beyond: 0 where it cannot enter, infinite where all of it fits.
    pub fn depth_between(&self, half: f64) -> f64 {
        // A groove exactly as wide as the cutter takes it.
        if half >= self.reach - 1e-9 { f64::INFINITY } else { self.height(half.max(0.0)) }
    }

    /// Half of the width it cuts at the face with its end `depth` below.
    pub fn half_width(&self, depth: f64) -> f64 {
        self.shape.width_at(Mm::new(depth)).get() / 2.0
    }

    /// Whether it has a point or straight leaning sides, so that depth is linear in width.
    pub(super) fn is_pointed(&self) -> bool {
        self.ball == 0.0 && self.slope > 0.0
    }
}
