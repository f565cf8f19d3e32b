//! Cutters: their shape, and the thinnest wall each should be trusted with.

use super::{Problem, RangeUnit, Sawn, Wrong};
use crate::units::Mm;
use serde::{Deserialize, Serialize};
use std::ops::RangeInclusive;
use std::sync::LazyLock;

/// A cutter and the wall it was found to leave whole.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(from = "SavedCutter")]
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
    /// How fast it turns, revolutions a minute.
    pub spindle_speed: f64,
    /// Deepest cut in one pass.
    pub pass_depth: Mm,
    /// Distance between neighbouring clearing lines, as a share of the working diameter, over 0 up to 1.
    pub stepover: f64,
    /// How far a wall may give under it before the cut chatters.
    pub give: Mm,
    /// The thinnest wall it is trusted with, from which other limits follow.
    pub reference: ReferenceWall,
    /// What the shop's record of walls came to since; `None` before the first.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub experience: Option<Experience>,
}

/// What a shop's record says of a cutter's limits: see `proof::record`.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Experience {
    /// Walls are to be this many times as thick as the reference wall alone would have them: along the grain, and
    /// across. Alike, but where the shop's walls contradict the model's ratio.
    pub factor: [f64; 2],
    /// Nine times in ten each factor lies between these.
    pub likely: [[f64; 2]; 2],
    /// How the logarithm of the thickness at which a wall breaks scatters.
    pub scatter: f64,
    /// Walls that held.
    pub held: u32,
    /// Walls that broke.
    pub broke: u32,
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

/// A wall known to survive: the point from which limits for other woods, depths and cuts are worked out.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct ReferenceWall {
    /// Thinnest wall running along the grain.
    pub along: Mm,
    /// Thinnest wall running across the grain, where the shop measured one; else it follows from the other.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub across: Option<Mm>,
    /// How tall those walls stand.
    pub height: Mm,
    /// How long they are in plan, with both ends free; `None` for a long wall pushed in its middle.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub length: Option<Mm>,
    /// The depth of the passes beside them.
    pub pass: Mm,
    /// The feed per tooth of those passes.
    pub feed_per_tooth: Mm,
    /// How the board was sawn.
    #[serde(default)]
    pub sawn: Sawn,
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
    /// Density at 12 % moisture content, kg per cubic metre, where it is known.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub density: Option<f64>,
}

/// A cutter as it is saved. Older files lack what the limits of walls have needed since: the speed of the spindle,
/// the cut beside the reference wall, and whether that was measured across the grain at all.
#[derive(Deserialize)]
struct SavedCutter {
    id: String,
    name: String,
    shape: CutterShape,
    flute_length: Mm,
    flutes: u32,
    feed: f64,
    plunge: f64,
    #[serde(default = "usual_spindle_speed")]
    spindle_speed: f64,
    pass_depth: Mm,
    stepover: f64,
    #[serde(default = "usual_give")]
    give: Mm,
    reference: SavedReference,
    experience: Option<Experience>,
}

#[derive(Deserialize)]
struct SavedReference {
    along: Mm,
    across: Option<Mm>,
    height: Mm,
    length: Option<Mm>,
    pass: Option<Mm>,
    feed_per_tooth: Option<Mm>,
    #[serde(default)]
    sawn: Sawn,
    wood: String,
    shops_wood: Option<ShopsWood>,
    source: String,
}

/// How files of any age say that a reference wall is the program's own starting value.
const STARTS: &str = "starting value";

impl From<SavedCutter> for Cutter {
    fn from(saved: SavedCutter) -> Cutter {
        let SavedReference {
            along,
            across,
            height,
            length,
            pass,
            feed_per_tooth,
            sawn,
            wood,
            shops_wood,
            source,
        } = saved.reference;
        // A starting wall of an older file, which has no pass, was never measured across the grain.
        let is_starting = source.starts_with(STARTS);
        let feed_per_tooth =
            feed_per_tooth.unwrap_or(feed_per_tooth_of(saved.feed, saved.spindle_speed, saved.flutes));
        let reference = ReferenceWall {
            along,
            across: across.filter(|_| !(is_starting && pass.is_none())),
            height,
            // Older files do not say, but theirs stood by themselves, as on a test piece.
            length: length.or(pass.is_none().then_some(height * STANDS_BY_ITSELF)),
            pass: pass.unwrap_or(saved.pass_depth),
            feed_per_tooth,
            sawn,
            wood,
            shops_wood,
            source: if is_starting { STARTING_SOURCE.to_owned() } else { source },
        };
        Cutter {
            id: saved.id,
            name: saved.name,
            shape: saved.shape,
            flute_length: saved.flute_length,
            flutes: saved.flutes,
            feed: saved.feed,
            plunge: saved.plunge,
            spindle_speed: saved.spindle_speed,
            pass_depth: saved.pass_depth,
            stepover: saved.stepover,
            give: saved.give,
            reference,
            experience: saved.experience,
        }
    }
}

/// A round value of our own: read your machine's plate.
fn usual_spindle_speed() -> f64 {
    18_000.0
}

/// A round value of our own.
fn usual_give() -> Mm {
    Mm::new(0.1)
}

/// How many times as long as tall a reference wall is that stands by itself, where nobody said how long: so long that
/// one end does not feel the other.
const STANDS_BY_ITSELF: f64 = 10.0;

/// Where the built-in reference walls come from.
const STARTING_SOURCE: &str = "starting value, a round value of our own; carve a test piece to find yours";

/// How far the work moves on from one cutting edge to the next: `f = feed / (rpm flutes)`.
fn feed_per_tooth_of(feed: f64, spindle_speed: f64, flutes: u32) -> Mm {
    Mm::new(feed / (spindle_speed * f64::from(flutes)))
}

impl Experience {
    /// Whether a shop's walls could come to it.
    pub fn is_in_range(&self) -> bool {
        self.factor.iter().all(|factor| EXPERIENCES.contains(factor)) && SCATTERS.contains(&self.scatter)
    }

    /// How many times as thick a wall is to be that runs at this angle to the grain, radians: the shares of the push
    /// mix as the constants do.
    pub fn factor_at(&self, angle: f64) -> f64 {
        let [along, across] = self.factor.map(|factor| factor * factor);
        let (sin, cos) = angle.sin_cos();
        (along * cos * cos + across * sin * sin).sqrt()
    }
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
    SpindleSpeed,
    PassDepth,
    Stepover,
    Give,
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

    /// What the distance of its clearing lines and the depth of its passes are shares of: its diameter; of a tapered
    /// ball that of the ball, for its shank clears no floor.
    pub fn working_diameter(self) -> Mm {
        match self {
            CutterShape::TaperedBall { ball, .. } => ball,
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

    /// How far the work moves on from one cutting edge to the next.
    ///
    /// ```
    /// # use spelk::shop::Cutter;
    /// let cutter = Cutter { feed: 2540.0, ..Cutter::find("flat-1/8in").unwrap().clone() };
    /// // 100 in/min at 18,000 a minute with two flutes is 0.002778 in.
    /// assert!((cutter.feed_per_tooth().to_inches() - 0.002_778).abs() < 1e-6);
    /// ```
    pub fn feed_per_tooth(&self) -> Mm {
        feed_per_tooth_of(self.feed, self.spindle_speed, self.flutes)
    }

    /// What makes no sense in it, in the order of its parts.
    pub fn problems(&self) -> Vec<Problem<CutterPart>> {
        use CutterPart::{
            Across, Along, Angle, Ball, Diameter, Feed, FluteLength, Flutes, Give, Height, Lean, Name,
            PassDepth, Plunge, Source, SpindleSpeed, Stepover, Tip,
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
        let fine = (SPINDLE_SPEEDS[0]..=SPINDLE_SPEEDS[1]).contains(&self.spindle_speed);
        unless(fine, SpindleSpeed, range(SPINDLE_SPEEDS[0], SPINDLE_SPEEDS[1], RangeUnit::Turns));
        let fine = self.pass_depth.get() >= 0.01 && self.pass_depth <= self.flute_length;
        unless(fine, PassDepth, Wrong::PassTooDeep);
        let fine = (0.01..=1.0).contains(&self.stepover);
        unless(fine, Stepover, range(1.0, 100.0, RangeUnit::PercentOfDiameter));
        unless(within(self.give, GIVES), Give, length(GIVES));
        unless(within(self.reference.along, WALLS), Along, length(WALLS));
        if let Some(across) = self.reference.across {
            unless(within(across, WALLS), Across, length(WALLS));
        }
        unless(within(self.reference.height, HEIGHTS), Height, length(HEIGHTS));
        unless(!self.reference.source.trim().is_empty(), Source, Wrong::NoSource);
        if let Some(experience) = &self.experience {
            let fine = experience.is_in_range();
            unless(fine, Along, range(*EXPERIENCES.start(), *EXPERIENCES.end(), RangeUnit::Count));
        }
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
/// How fast a spindle turns, revolutions a minute.
const SPINDLE_SPEEDS: [f64; 2] = [100.0, 100_000.0];
/// How far a wall may give, millimetres.
const GIVES: [f64; 2] = [0.001, 5.0];
/// How thick a reference wall is, millimetres.
const WALLS: [f64; 2] = [0.01, 100.0];
/// How many times as thick a record may ask for: far more than any shop's can come to.
const EXPERIENCES: RangeInclusive<f64> = 0.1..=10.0;
/// Scatters of walls.
const SCATTERS: RangeInclusive<f64> = 0.01..=2.0;
/// Feeds, millimetres a minute.
const FEEDS: [f64; 2] = [1.0, 100_000.0];

impl ReferenceWall {
    /// Whether nobody has measured it: it is one that a built-in cutter starts with.
    pub fn is_starting_value(&self) -> bool {
        self.source == STARTING_SOURCE
    }
}

/// Shapes and sizes any supplier sells. The reference walls, feeds, speeds and passes are round values of
/// our own: no published minimum wall was found, so they stand only until the shop has carved a test piece
/// and read its machine's manual.
fn starting_set() -> Vec<Cutter> {
    let inch = Mm::from_inches;
    let mm = Mm::new;
    let made = |id: &str, name: String, shape: CutterShape, flute_length: Mm, wall: f64| {
        let pointed = matches!(shape, CutterShape::Vee { .. });
        let pass_depth = if pointed { mm(2.0) } else { shape.working_diameter() / 2.0 };
        let (feed, spindle_speed, flutes) = (1500.0, usual_spindle_speed(), 2);
        Cutter {
            id: id.to_owned(),
            name,
            shape,
            flute_length,
            flutes,
            feed,
            plunge: 500.0,
            spindle_speed,
            pass_depth,
            stepover: if pointed { 0.1 } else { 0.4 },
            give: usual_give(),
            reference: ReferenceWall {
                along: mm(wall),
                across: None,
                height: mm(3.0),
                // It stands by itself, as on a test piece.
                length: Some(mm(3.0) * STANDS_BY_ITSELF),
                pass: pass_depth,
                feed_per_tooth: feed_per_tooth_of(feed, spindle_speed, flutes),
                sawn: Sawn::Flat,
                wood: "basswood_american".to_owned(),
                shops_wood: None,
                source: STARTING_SOURCE.to_owned(),
            },
            experience: None,
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
        made(&format!("vee-{degrees}"), format!("V, {degrees}\u{b0}"), shape, edges, 1.0)
    };
    let tapered = |size: &str, ball: Mm, flutes: Mm, wall| {
        let lean = 5f64.to_radians();
        let shape = CutterShape::TaperedBall { ball, lean, diameter: mm(6.0) };
        let id = format!("tapered-{}", size.replace(' ', ""));
        made(&id, format!("Tapered ball, {size}, 5\u{b0} a side"), shape, flutes, wall)
    };
    vec![
        flat("1/16 in", inch(0.0625), inch(0.25), 1.2),
        flat("1/8 in", inch(0.125), inch(0.5), 1.5),
        flat("1/4 in", inch(0.25), inch(1.0), 2.0),
        flat("2 mm", mm(2.0), mm(8.0), 1.3),
        flat("3 mm", mm(3.0), mm(12.0), 1.5),
        flat("6 mm", mm(6.0), mm(25.0), 2.0),
        ball("1/16 in", inch(0.0625), inch(0.25), 1.2),
        ball("1/8 in", inch(0.125), inch(0.5), 1.4),
        ball("3 mm", mm(3.0), mm(12.0), 1.4),
        tapered("1 mm", mm(1.0), mm(15.0), 1.0),
        tapered("1/16 in", inch(0.0625), mm(20.0), 1.1),
        vee(30.0, inch(0.25)),
        vee(60.0, inch(0.5)),
        vee(90.0, inch(0.5)),
        vee(120.0, inch(0.75)),
    ]
}
