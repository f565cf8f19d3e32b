//! Cutters: their shape, and the thinnest wall each should be trusted with.

use super::{Problem, RangeUnit, Wrong};
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
    /// How many cutting edges it has.
    pub flutes: u32,
    /// Feed along the work, millimetres a minute.
    pub feed: f64,
    /// Feed straight down, millimetres a minute.
    pub plunge: f64,
    /// Deepest cut in one pass.
    pub pass_depth: Mm,
    /// Distance between neighbouring clearing lines, as a share of the diameter, over 0 up to 1.
    pub stepover: f64,
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
    /// Ball end on a cone.
    TaperedBall {
        /// Diameter of the ball.
        ball: Mm,
        /// How far a side leans from upright, radians.
        lean: f64,
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
    /// What limits need to know of that wood where it is the shop's own and so in no table.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub shops_wood: Option<ShopsWood>,
    /// Where the numbers come from, for the user.
    pub source: String,
}

/// A wood of the shop's own, as far as a reference wall needs it: a cutter is found to be right in
/// another shop too.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct ShopsWood {
    /// Its name.
    pub name: String,
    /// Tension strength across the grain, MPa; a stand-in's where its own is not known.
    pub strength: f64,
}

/// A part of a cutter that can be wrong.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
#[expect(missing_docs, reason = "each is the part of a cutter that bears its name")]
pub enum CutterPart {
    Name,
    Diameter,
    Angle,
    Tip,
    Ball,
    Lean,
    FluteLength,
    Flutes,
    Feed,
    Plunge,
    PassDepth,
    Stepover,
    Along,
    Across,
    Height,
    Source,
}

impl CutterShape {
    /// The largest width it cuts.
    pub fn diameter(self) -> Mm {
        match self {
            CutterShape::Flat { diameter }
            | CutterShape::Ball { diameter }
            | CutterShape::Vee { diameter, .. }
            | CutterShape::TaperedBall { diameter, .. } => diameter,
        }
    }

    /// How wide it is at the surface when its end is `depth` below: the narrowest groove it can enter
    /// and still reach that depth.
    pub fn width_at(self, depth: Mm) -> Mm {
        match self {
            CutterShape::Flat { diameter } => diameter,
            CutterShape::Ball { diameter } => ball_width_at(diameter / 2.0, depth),
            CutterShape::Vee { angle, tip, diameter } => {
                (tip + depth * (2.0 * (angle / 2.0).tan())).min(diameter)
            }
            CutterShape::TaperedBall { ball, lean, diameter } => {
                // The cone leaves the ball where its side is tangent to it.
                let radius = ball / 2.0;
                let tangent = radius * (1.0 - lean.sin());
                let width = if depth <= tangent {
                    ball_width_at(radius, depth)
                } else {
                    (radius * lean.cos() + (depth - tangent) * lean.tan()) * 2.0
                };
                width.min(diameter)
            }
        }
    }

    /// How far its side moves outwards for each unit upwards: 0 for upright sides.
    pub fn side_slope(self) -> f64 {
        match self {
            CutterShape::Flat { .. } | CutterShape::Ball { .. } => 0.0,
            CutterShape::Vee { angle, .. } => (angle / 2.0).tan(),
            CutterShape::TaperedBall { lean, .. } => lean.tan(),
        }
    }

    /// The ridge left between two neighbouring passes `apart`: `R - sqrt(R^2 - (s/2)^2)` for a ball;
    /// none for a flat end; for a V, what its sides leave between two points.
    pub fn scallop(self, apart: Mm) -> Mm {
        let half = apart / 2.0;
        let of_ball =
            |radius: Mm| radius - Mm::new((radius.get().powi(2) - half.get().powi(2)).max(0.0).sqrt());
        match self {
            CutterShape::Flat { .. } => Mm::ZERO,
            CutterShape::Ball { diameter } => of_ball(diameter / 2.0),
            CutterShape::TaperedBall { ball, .. } => of_ball(ball / 2.0),
            CutterShape::Vee { tip, .. } => (half - tip / 2.0).max(Mm::ZERO) / self.side_slope(),
        }
    }
}

/// How wide a ball of this radius is, `depth` above its lowest point.
fn ball_width_at(radius: Mm, depth: Mm) -> Mm {
    let (r, h) = (radius.get(), depth.get().min(radius.get()));
    Mm::new(2.0 * (2.0 * r * h - h * h).max(0.0).sqrt())
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

    /// What makes no sense in it, in the order of its parts.
    pub fn problems(&self) -> Vec<Problem<CutterPart>> {
        use CutterPart::{
            Across, Along, Angle, Ball, Diameter, Feed, FluteLength, Flutes, Height, Lean, Name, PassDepth,
            Plunge, Source, Stepover, Tip,
        };
        let mut problems = Vec::new();
        let mut unless = |fine: bool, part: CutterPart, wrong: Wrong| {
            if !fine {
                problems.push(Problem { part, wrong });
            }
        };
        let within = |length: Mm, [least, most]: [f64; 2]| (least..=most).contains(&length.get());
        let length = |[least, most]: [f64; 2]| Wrong::Length { least: Mm::new(least), most: Mm::new(most) };
        let range = |least: f64, most: f64, unit| Wrong::Range { least, most, unit };
        unless(!self.name.trim().is_empty(), Name, Wrong::NoName);
        let diameter = self.shape.diameter();
        unless(within(diameter, DIAMETERS), Diameter, length(DIAMETERS));
        match self.shape {
            CutterShape::Flat { .. } | CutterShape::Ball { .. } => {}
            CutterShape::Vee { angle, tip, .. } => {
                let fine = (5.0..=175.0).contains(&angle.to_degrees());
                unless(fine, Angle, range(5.0, 175.0, RangeUnit::Degrees));
                unless(tip >= Mm::ZERO && tip < diameter, Tip, Wrong::TipTooWide);
            }
            CutterShape::TaperedBall { ball, lean, .. } => {
                let [least, most] = DIAMETERS.map(Mm::new);
                let fine = within(ball, DIAMETERS) && ball <= diameter;
                unless(fine, Ball, Wrong::BallTooWide { least, most });
                let fine = (0.1..=45.0).contains(&lean.to_degrees());
                unless(fine, Lean, range(0.1, 45.0, RangeUnit::Degrees));
            }
        }
        unless(within(self.flute_length, HEIGHTS), FluteLength, length(HEIGHTS));
        unless((1..=12).contains(&self.flutes), Flutes, range(1.0, 12.0, RangeUnit::Count));
        for (feed, part) in [(self.feed, Feed), (self.plunge, Plunge)] {
            let [least, most] = FEEDS.map(Mm::new);
            unless((FEEDS[0]..=FEEDS[1]).contains(&feed), part, Wrong::Feed { least, most });
        }
        let fine = self.pass_depth.get() >= 0.01 && self.pass_depth <= self.flute_length;
        unless(fine, PassDepth, Wrong::PassTooDeep);
        let fine = (0.01..=1.0).contains(&self.stepover);
        unless(fine, Stepover, range(1.0, 100.0, RangeUnit::PercentOfDiameter));
        for (wall, part) in [(self.reference.along, Along), (self.reference.across, Across)] {
            unless(within(wall, WALLS), part, length(WALLS));
        }
        unless(within(self.reference.height, HEIGHTS), Height, length(HEIGHTS));
        unless(!self.reference.source.trim().is_empty(), Source, Wrong::NoSource);
        if let Some(wood) = &self.reference.shops_wood {
            unless((0.01..=1000.0).contains(&wood.strength), Height, Wrong::WoodStrength);
        }
        problems
    }
}

/// What a cutter can measure across, millimetres.
const DIAMETERS: [f64; 2] = [0.05, 150.0];
/// How far its edges reach, and how tall a reference wall stands, millimetres.
const HEIGHTS: [f64; 2] = [0.1, 300.0];
/// How thick a reference wall is, millimetres.
const WALLS: [f64; 2] = [0.01, 100.0];
/// Feeds, millimetres a minute.
const FEEDS: [f64; 2] = [1.0, 100_000.0];

/// The source of the built-in reference walls.
const STARTING_VALUE: &str = "starting value, a round value of our own; carve a test piece to find yours";

impl ReferenceWall {
    /// Whether nobody has measured it: it is one that a built-in cutter starts with.
    pub fn is_starting_value(&self) -> bool {
        self.source == STARTING_VALUE
    }
}

/// Shapes and sizes any supplier sells. The reference walls, feeds and passes are round values of our
/// own: no published minimum wall was found, so they stand only until the shop has carved a test piece
/// and read its machine's manual.
fn starting_set() -> Vec<Cutter> {
    let inch = Mm::from_inches;
    let mm = Mm::new;
    let made = |id: &str, name: String, shape: CutterShape, flute_length: Mm, wall: [f64; 2]| {
        let diameter = shape.diameter();
        let pointed = matches!(shape, CutterShape::Vee { .. });
        Cutter {
            id: id.to_owned(),
            name,
            shape,
            flute_length,
            flutes: 2,
            feed: 1500.0,
            plunge: 500.0,
            pass_depth: if pointed { mm(2.0) } else { diameter / 2.0 },
            stepover: if pointed { 0.1 } else { 0.4 },
            reference: ReferenceWall {
                along: mm(wall[0]),
                across: mm(wall[1]),
                height: mm(3.0),
                wood: "basswood_american".to_owned(),
                shops_wood: None,
                source: STARTING_VALUE.to_owned(),
            },
        }
    };
    let flat = |size: &str, diameter: Mm, flutes: Mm, wall| {
        let id = format!("flat-{}", size.replace(' ', ""));
        made(&id, format!("Flat end, {size}"), CutterShape::Flat { diameter }, flutes, wall)
    };
    let ball = |size: &str, diameter: Mm, flutes: Mm, wall| {
        let id = format!("ball-{}", size.replace(' ', ""));
        made(&id, format!("Ball end, {size}"), CutterShape::Ball { diameter }, flutes, wall)
    };
    let vee = |degrees: f64, diameter: Mm| {
        let (angle, tip) = (degrees.to_radians(), mm(0.1));
        let edges = (diameter - tip) / 2.0 / (angle / 2.0).tan();
        let shape = CutterShape::Vee { angle, tip, diameter };
        made(&format!("vee-{degrees}"), format!("V, {degrees}\u{b0}"), shape, edges, [1.0, 1.6])
    };
    let tapered = |size: &str, ball: Mm, flutes: Mm, wall| {
        let lean = 5f64.to_radians();
        let shape = CutterShape::TaperedBall { ball, lean, diameter: mm(6.0) };
        let id = format!("tapered-{}", size.replace(' ', ""));
        made(&id, format!("Tapered ball, {size}, 5\u{b0} a side"), shape, flutes, wall)
    };
    vec![
        flat("1/16 in", inch(0.0625), inch(0.25), [1.2, 2.0]),
        flat("1/8 in", inch(0.125), inch(0.5), [1.5, 2.5]),
        flat("1/4 in", inch(0.25), inch(1.0), [2.0, 3.2]),
        flat("2 mm", mm(2.0), mm(8.0), [1.3, 2.1]),
        flat("3 mm", mm(3.0), mm(12.0), [1.5, 2.5]),
        flat("6 mm", mm(6.0), mm(25.0), [2.0, 3.2]),
        ball("1/16 in", inch(0.0625), inch(0.25), [1.2, 2.0]),
        ball("1/8 in", inch(0.125), inch(0.5), [1.4, 2.4]),
        ball("3 mm", mm(3.0), mm(12.0), [1.4, 2.4]),
        tapered("1 mm", mm(1.0), mm(15.0), [1.0, 1.7]),
        tapered("1/16 in", inch(0.0625), mm(20.0), [1.1, 1.8]),
        vee(30.0, inch(0.25)),
        vee(60.0, inch(0.5)),
        vee(90.0, inch(0.5)),
        vee(120.0, inch(0.75)),
    ]
}
