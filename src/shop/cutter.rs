//! Cutters: their shape, and the thinnest wall each should be trusted with.

use crate::units::Mm;
use serde::{Deserialize, Serialize};
use std::sync::LazyLock;

/// A cutter and the wall it was found to leave whole.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Cutter {
    /// Short id, as in `flat-1/8in`.
    pub id: String,
    /// For a person: `Flat end, 1/8 in`.
    pub name: String,
    /// The shape it cuts.
    pub shape: CutterShape,
    /// How deep its cutting edges reach.
    pub flute_length: Mm,
    /// The thinnest wall it is trusted with, from which other limits follow.
    pub reference: ReferenceWall,
}

/// The profile of a cutter's end.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case", tag = "end")]
pub enum CutterShape {
    /// Square end.
    Flat {
        /// Cutting diameter.
        diameter: Mm,
    },
    /// Half-ball end.
    Ball {
        /// Cutting diameter.
        diameter: Mm,
    },
    /// Pointed end.
    Vee {
        /// Included angle, radians.
        angle: f64,
        /// Width of the flat at the point.
        tip: Mm,
        /// Largest cutting diameter.
        diameter: Mm,
    },
}

/// A wall known to survive: the point from which limits for other woods and depths are worked out.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct ReferenceWall {
    /// Thinnest wall running along the grain.
    pub along: Mm,
    /// Thinnest wall running across the grain.
    pub across: Mm,
    /// How tall those walls stand.
    pub height: Mm,
    /// The id of the wood they were carved in.
    pub wood: String,
    /// Where the numbers come from, for the user.
    pub source: String,
}

impl CutterShape {
    /// The largest width it cuts.
    pub fn diameter(self) -> Mm {
        match self {
            CutterShape::Flat { diameter }
            | CutterShape::Ball { diameter }
            | CutterShape::Vee { diameter, .. } => diameter,
        }
    }

    /// How wide it is at the surface when its end is `depth` below: the narrowest groove it can enter
    /// and still reach that depth.
    pub fn width_at(self, depth: Mm) -> Mm {
        match self {
            CutterShape::Flat { diameter } => diameter,
            CutterShape::Ball { diameter } => {
                let (r, h) = (diameter.get() / 2.0, depth.get());
                if h >= r { diameter } else { Mm::new(2.0 * (2.0 * r * h - h * h).max(0.0).sqrt()) }
            }
            CutterShape::Vee { angle, tip, diameter } => {
                (tip + depth * (2.0 * (angle / 2.0).tan())).min(diameter)
            }
        }
    }
}

/// The built-in cutters.
pub fn cutters() -> &'static [Cutter] {
    static CUTTERS: LazyLock<Vec<Cutter>> = LazyLock::new(starting_set);
    &CUTTERS
}

impl Cutter {
    /// The built-in cutter of this id.
    pub fn find(id: &str) -> Option<&'static Cutter> {
        cutters().iter().find(|cutter| cutter.id.eq_ignore_ascii_case(id))
    }
}

/// Shapes and sizes any supplier sells. The reference walls are round values of our own: no published
/// minimum wall was found, so they stand only until the shop has carved a test piece.
fn starting_set() -> Vec<Cutter> {
    let inch = Mm::from_inches;
    let wall = |along: f64, across: f64| ReferenceWall {
        along: Mm::new(along),
        across: Mm::new(across),
        height: Mm::new(3.0),
        wood: "basswood_american".to_owned(),
        source: "starting value, common practice, no source; carve a test piece to find your own".to_owned(),
    };
    let flat = |size: &str, diameter: Mm, flute: Mm, along, across| Cutter {
        id: format!("flat-{}", size.replace(' ', "")),
        name: format!("Flat end, {size}"),
        shape: CutterShape::Flat { diameter },
        flute_length: flute,
        reference: wall(along, across),
    };
    let ball = |size: &str, diameter: Mm, flute: Mm, along, across| Cutter {
        id: format!("ball-{}", size.replace(' ', "")),
        name: format!("Ball end, {size}"),
        shape: CutterShape::Ball { diameter },
        flute_length: flute,
        reference: wall(along, across),
    };
    let vee = |degrees: f64, diameter: Mm| Cutter {
        id: format!("vee-{degrees}"),
        name: format!("V, {degrees}\u{b0}"),
        shape: CutterShape::Vee { angle: degrees.to_radians(), tip: Mm::new(0.1), diameter },
        flute_length: Mm::new(diameter.get() / 2.0 / (degrees.to_radians() / 2.0).tan()),
        reference: wall(1.0, 1.6),
    };
    vec![
        flat("1/16 in", inch(0.0625), inch(0.25), 1.2, 2.0),
        flat("1/8 in", inch(0.125), inch(0.5), 1.5, 2.5),
        flat("1/4 in", inch(0.25), inch(1.0), 2.0, 3.2),
        flat("2 mm", Mm::new(2.0), Mm::new(8.0), 1.3, 2.1),
        flat("3 mm", Mm::new(3.0), Mm::new(12.0), 1.5, 2.5),
        flat("6 mm", Mm::new(6.0), Mm::new(25.0), 2.0, 3.2),
        ball("1/16 in", inch(0.0625), inch(0.25), 1.2, 2.0),
        ball("1/8 in", inch(0.125), inch(0.5), 1.4, 2.4),
        ball("3 mm", Mm::new(3.0), Mm::new(12.0), 1.4, 2.4),
        vee(60.0, inch(0.5)),
        vee(90.0, inch(0.5)),
    ]
}
