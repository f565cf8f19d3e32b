//! How thin is too thin: here, with this cutter and this cut, in this wood, at this depth, this way to the grain.
//!
//! The model is [`wall`](super::wall): the push of the cutter spreads in the plate that a wall is, and must not
//! break it. What is here turns a job into what that model asks for: which cutter cuts beside a wall and how deep,
//! what its reference wall says of its push, and which places lie on either side of a wall.

use super::finding::{Gentler, Severity};
use super::wall::push::EDGE_TERM;
use super::wall::{
    Cut, Governs, Heading, Limit, Plates, STARTING_SCATTER, Support, Wall, WallRule, WoodNumbers, chance,
    constant, strip, thickness_for,
};
use crate::geometry::widths::{Run, RunEnd};
use crate::job::{Job, Layout, Place, Treatment, Turn};
use crate::shop::{Cutter, CutterShape, ReferenceWall, ShopsWood, Wood};
use crate::units::Mm;
use std::f64::consts::FRAC_PI_2;
use std::sync::Arc;

/// A V groove shallower than this hardly shows once it is sanded and finished (common practice, no
/// source).
pub const SHALLOW_DEPTH: Mm = Mm::new(0.5);

/// The thinnest wall that this cutter, depth and wood should be trusted with, and the narrowest groove
/// that the cutter can enter. Widths are those at the face of the board.
#[derive(Clone, Debug, PartialEq)]
pub struct Limits {
    /// For a long wall along the grain, pushed in its middle.
    pub along: Mm,
    /// For a long wall across the grain, pushed in its middle.
    pub across: Mm,
    /// At the free end of a long wall: along the grain, and across. The end of a point is one.
    pub free_end: [Mm; 2],
    /// For a long wall beside a place that is cut through: along the grain, and across.
    pub pierced: [Mm; 2],
    /// The narrowest groove the cutter can enter to the full depth.
    pub groove: Mm,
    /// The narrowest groove it can cut through the board.
    pub pierced_groove: Mm,
    /// The narrowest V groove that still shows; `None` where the cutter is no V.
    pub incised_groove: Option<Mm>,
    /// How far the design is turned on the board.
    pub turn: Turn,
    /// What the limits follow from, for the user to see.
    pub basis: Basis,
    /// How walls are held by this cutter.
    pub rule: WallRule,
    /// A wall this many times as thick as its limit is sound.
    pub sound: f64,
    /// A wall that holds with less than this chance is unsound.
    pub unsound: f64,
    /// How thick the board is.
    thickness: Mm,
}

/// What the limits of walls follow from.
#[derive(Clone, Debug, PartialEq)]
pub struct Basis {
    /// The cutter's reference wall.
    pub reference: ReferenceWall,
    /// The wood of the reference wall.
    pub reference_wood: WoodNumbers,
    /// Where the strength across the grain of this job's wood comes from.
    pub strength_source: String,
    /// The wood whose strength stands in where this job's has none published.
    pub stand_in: Option<String>,
    /// How tall this job's walls stand.
    pub height: Mm,
    /// The limit of a long wall of that height, pushed in its middle: along the grain, and across.
    pub long: [Limit; 2],
}

/// A wall as it is at one size: how long, and what its ends do.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct WallRun {
    /// From end to end.
    pub length: Mm,
    /// What its ends do.
    pub ends: WallEnds,
    /// How far its nearest free end is from the place in question: 0 at that end, infinite where none is free.
    pub to_free_end: Mm,
}

/// What the two ends of a wall do.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum WallEnds {
    /// Both end in the air.
    BothFree,
    /// One ends in the air, the other is joined to more wood.
    OneFree,
    /// Both are joined to more wood.
    BothJoined,
    /// It closes on itself.
    Closed,
    /// It is hardly longer than it is thick, and stands by itself: a pillar.
    Pillar,
}

impl WallEnds {
    /// Their name in the JSON proof.
    pub fn id(self) -> &'static str {
        match self {
            WallEnds::BothFree => "free",
            WallEnds::OneFree => "one-free",
            WallEnds::BothJoined => "joined",
            WallEnds::Closed => "closed",
            WallEnds::Pillar => "pillar",
        }
    }
}

/// What stands by itself and is no longer than this many times its thickness is a pillar, and bends as one: a round
/// value of our own.
const PILLAR: f64 = 1.25;

impl WallRun {
    /// A wall so long that it does not feel its ends.
    pub const ENDLESS: WallRun = WallRun {
        length: Mm::new(f64::INFINITY),
        ends: WallEnds::BothJoined,
        to_free_end: Mm::new(f64::INFINITY),
    };

    /// The end of a point: the free end of a long wall.
    pub(super) const POINT: WallRun =
        WallRun { length: Mm::new(f64::INFINITY), ends: WallEnds::BothFree, to_free_end: Mm::ZERO };

    /// A measured run of a wall so thick; `stands` says whether a place of the design is standing wood.
    pub(super) fn of(run: &Run, width: f64, stands: impl Fn(glam::DVec2) -> bool) -> WallRun {
        let free = run.ends.map(|(end, far)| match end {
            RunEnd::Stops { beyond, .. } if !stands(beyond) => Some(far),
            _ => None,
        });
        let ends = match free {
            [Some(_), Some(_)] if run.length <= PILLAR * width => WallEnds::Pillar,
            [Some(_), Some(_)] => WallEnds::BothFree,
            [Some(_), None] | [None, Some(_)] => WallEnds::OneFree,
            [None, None] if run.ends.iter().all(|(end, _)| *end == RunEnd::Closes) => WallEnds::Closed,
            [None, None] => WallEnds::BothJoined,
        };
        let to_free_end = free.into_iter().flatten().fold(f64::INFINITY, f64::min);
        WallRun { length: Mm::new(run.length), ends, to_free_end: Mm::new(to_free_end) }
    }

    /// The same wall so many times as large.
    #[must_use]
    pub(super) fn scaled(self, factor: f64) -> WallRun {
        WallRun { length: self.length * factor, to_free_end: self.to_free_end * factor, ..self }
    }
}

impl Limits {
    /// The limits of a job for its usual cutter and depth.
    pub fn of(job: &Job) -> Limits {
        Limits::with(job, &Shared::of(job), job.cutter(), job.depth())
    }

    /// The limits on a job's board for a cutter at a depth.
    fn with(job: &Job, shared: &Shared, cutter: &Cutter, depth: Mm) -> Limits {
        let thickness = job.board().thickness;
        let shape = cutter.shape;
        let slope = 2.0 * shape.side_slope();
        let reference_wood = WoodNumbers::of_reference(&cutter.reference, job.wood());
        let cut =
            Cut { pass: Mm::new(job.clearing().pass_depth(cutter)), feed_per_tooth: cutter.feed_per_tooth() };
        // Thickness goes with the root of the push.
        let learned =
            cutter.experience.map_or([1.0; 2], |experience| experience.factor.map(|factor| factor * factor));
        let [along, across] = constant(&cutter.reference, &reference_wood, slope);
        let rule = WallRule {
            wood: shared.wood.clone(),
            plates: shared.plates.clone(),
            cut,
            constant: [along * learned[0], across * learned[1]],
            give: cutter.give,
            scatter: cutter.experience.map_or(STARTING_SCATTER, |experience| experience.scatter),
            slope,
        };
        let long =
            |height: Mm| [0.0, FRAC_PI_2].map(|angle| rule.limit(&Wall::endless(height, Heading::of(angle))));
        let (here, pierced) = (long(depth), long(thickness));
        let basis = Basis {
            reference: cutter.reference.clone(),
            reference_wood,
            strength_source: job.wood().strength_source.clone(),
            stand_in: rule.wood.across.of.clone(),
            height: depth,
            long: here,
        };
        Limits {
            along: here[0].thickness,
            across: here[1].thickness,
            free_end: [0.0, FRAC_PI_2].map(|angle| {
                let wall = Wall { support: Support::FreeAtAnEnd, ..Wall::endless(depth, Heading::of(angle)) };
                rule.limit(&wall).thickness
            }),
            pierced: pierced.map(|limit| limit.thickness),
            groove: shape.width_at(depth),
            pierced_groove: shape.width_at(thickness),
            incised_groove: match shape {
                CutterShape::Vee { .. } => Some(shape.width_at(SHALLOW_DEPTH.min(depth))),
                CutterShape::Flat { .. } | CutterShape::Ball { .. } | CutterShape::TaperedBall { .. } => None,
            },
            turn: job.turn(),
            basis,
            sound: thickness_for(job.trust().sound, rule.scatter),
            unsound: job.trust().unsound,
            rule,
            thickness,
        }
    }

    /// The limit of a long wall that runs at `direction` in the design (radians from its x axis), pushed in its
    /// middle; the grain runs along that axis where the design is not turned.
    pub fn wall(&self, direction: f64, beside_pierced: bool) -> Mm {
        let height = if beside_pierced { self.thickness } else { self.basis.height };
        self.wall_as(&self.heading(direction), height, &WallRun::ENDLESS).thickness
    }

    /// The limit of a wall this tall that is as long and as held as `run` says, where it is worst.
    ///
    /// A place of a wall that is some way from its free end is no worse than the middle of a wall twice as long as
    /// that way, with both ends free; nor than the end itself.
    pub fn wall_as(&self, heading: &Heading, height: Mm, run: &WallRun) -> Limit {
        let with = |support, length| self.rule.limit(&Wall { height, length, support, heading: *heading });
        let endless = Mm::new(f64::INFINITY);
        let at_the_end = match run.ends {
            WallEnds::BothJoined => return with(Support::Joined, run.length),
            WallEnds::Closed => return with(Support::FreeInTheMiddle, endless),
            WallEnds::Pillar => return self.rule.pillar(height, heading),
            WallEnds::OneFree => Support::OneJoined,
            WallEnds::BothFree => Support::FreeAtAnEnd,
        };
        let end = with(at_the_end, run.length);
        if run.to_free_end <= Mm::ZERO {
            return end;
        }
        let within = with(Support::FreeInTheMiddle, run.to_free_end * 2.0);
        if within.thickness < end.thickness { within } else { end }
    }

    /// The limit of a strip that is cut through on both sides: a beam.
    fn strip(&self, heading: &Heading, run: &WallRun) -> Limit {
        let (both_ends, length) = match run.ends {
            WallEnds::BothJoined => (true, run.length),
            WallEnds::OneFree | WallEnds::BothFree | WallEnds::Pillar => (false, run.length),
            // Half of a ring hangs between the other half.
            WallEnds::Closed => (true, run.length * 0.5),
        };
        let thickness = strip(&self.rule, length, self.thickness, both_ends, heading);
        let push = self.rule.push(self.thickness, heading);
        Limit { thickness, governs: Governs::Beam, k: length / self.thickness, push }
    }

    /// The angle to the grain, radians, of a direction in the design.
    pub fn to_grain(&self, direction: f64) -> f64 {
        if self.turn.swaps() { direction + FRAC_PI_2 } else { direction }
    }

    /// How a direction in the design runs to the grain.
    pub fn heading(&self, direction: f64) -> Heading {
        Heading::of(self.to_grain(direction))
    }

    /// The limit of a groove in a place carved this way.
    pub fn groove_in(&self, treatment: Treatment) -> Mm {
        match treatment {
            Treatment::Incised => self.incised_groove.unwrap_or(self.groove),
            Treatment::Pierced => self.pierced_groove,
            Treatment::Relief | Treatment::Sunk | Treatment::Left => self.groove,
        }
    }
}

/// A pass or a feed under this share of the usual one is no advice: the cutter would rub rather than cut (our own
/// judgement).
const LEAST_SHARE: f64 = 0.25;

/// What all limits of a job share.
struct Shared {
    wood: Arc<WoodNumbers>,
    plates: Arc<Plates>,
}

impl Shared {
    fn of(job: &Job) -> Shared {
        let wood = WoodNumbers::of(job.wood());
        let plates = Plates::of(&wood.ratios, job.board().sawn);
        Shared { wood: Arc::new(wood), plates }
    }
}

/// The limits in every carved place of a job: of its own cutter at its own depth.
///
/// A wall has a place on either side, and the two may differ. Each cutter pushes at the wall on its own
/// side, over the depth it cuts there, and has its own reference wall; so each side asks for its own
/// thickness, and the wall is held to the more demanding of the two. Where one side is shallower its floor
/// backs the wall below, which this leaves out: it errs towards the thicker wall, as the limits of a wall
/// beside a place that is cut through always did.
#[derive(Clone, Debug, PartialEq)]
pub struct PlaceLimits {
    /// The job's usual limits first, then others, each once.
    kinds: Vec<Limits>,
    /// For the ground, then for each element: an index into `kinds`, and how deep it is cut.
    places: Vec<(usize, Mm)>,
    layout: Layout,
    /// What all that is carved has in common, where it has.
    common: Option<Place>,
}

/// What a wall or groove is held to, and where that comes from.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Held {
    /// The thinnest sound wall, or the narrowest groove the cutter enters.
    pub limit: Mm,
    /// The place that asks for it.
    pub place: Place,
    /// What of that place the limit follows from.
    pub source: LimitSource,
    /// Of a wall, how it was held.
    pub wall: Option<HeldWall>,
}

/// How a wall was held to its limit.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct HeldWall {
    /// How tall it stands.
    pub height: Mm,
    /// How long it is, and what its ends do.
    pub run: WallRun,
    /// The limit, and what governs it.
    pub limit: Limit,
}

/// What a limit follows from, in the place that asks for it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum LimitSource {
    /// The limits of a wall as tall as the place is deep.
    Wall,
    /// The limits of a wall as tall as the board is thick: the place is cut through.
    WallBesidePierced,
    /// The limits of a strip that is cut through on both sides.
    Strip,
    /// The limits of a wall whose top is the floor of a shallower place, as tall as one floor lies below the
    /// other.
    WallOnAFloor,
    /// The cutter: how wide it is at the full depth, or how wide a V must be to show.
    Cutter,
}

impl PlaceLimits {
    /// `O(n k)` in elements and kinds of cut.
    pub(super) fn of(job: &Job) -> PlaceLimits {
        let mut cuts: Vec<(&Cutter, Mm)> = vec![(job.cutter(), job.depth())];
        let mut places: Vec<(usize, Mm)> = Vec::with_capacity(job.carvings().len() + 1);
        let elements = (0..job.carvings().len()).map(Place::Element);
        for place in [Place::Ground].into_iter().chain(elements) {
            let cut = job.cut(place);
            // What is cut through has limits of its own among those of any depth.
            let depth = if cut.treatment == Treatment::Pierced { job.depth() } else { cut.depth };
            let known = cuts.iter().position(|&(cutter, deep)| cutter == cut.cutter && deep == depth);
            if known.is_none() {
                cuts.push((cut.cutter, depth));
            }
            places.push((known.unwrap_or(cuts.len() - 1), cut.depth));
        }
        let layout = job.layout();
        let asks = |place: &Place| {
            // A floor is a floor, round a relief or in a sunk element.
            let treatment = match layout.treatment(*place) {
                Treatment::Sunk => Treatment::Relief,
                other => other,
            };
            (places[slot(*place)].0, treatment)
        };
        let mut carved = job.places();
        let first = carved.next();
        let common = first.filter(|first| carved.all(|place| asks(&place) == asks(first)));
        let shared = Shared::of(job);
        let kinds =
            cuts.into_iter().map(|(cutter, depth)| Limits::with(job, &shared, cutter, depth)).collect();
        PlaceLimits { kinds, places, layout, common }
    }

    /// The limits of the job's usual cutter and depth.
    pub fn usual(&self) -> &Limits {
        &self.kinds[0]
    }

    /// The limits of the cutter and depth of a place.
    pub fn at(&self, place: Place) -> &Limits {
        &self.kinds[self.places[slot(place)].0]
    }

    /// The limits behind a wall's own; `None` for what is no wall.
    pub fn behind(&self, held: &Held) -> Option<&Limits> {
        held.wall.map(|_| self.at(held.place))
    }

    /// A place whose limits hold wherever anything is carved; `None` where they differ, or nothing is.
    pub(super) fn common(&self) -> Option<Place> {
        self.common
    }

    /// What a groove in a place is held to.
    pub fn groove(&self, place: Place) -> Held {
        let limit = self.at(place).groove_in(self.layout.treatment(place));
        Held { limit, place, source: LimitSource::Cutter, wall: None }
    }

    /// The width of the disc that a place is entered by at its full depth; `None` where a V tapers to a point.
    pub(super) fn entered(&self, place: Place) -> Option<Mm> {
        (!self.tapers_to_a_point(place)).then(|| self.groove(place).limit)
    }

    /// Whether a place is cut with a V, and so has no least width but what shows.
    pub(super) fn tapers_to_a_point(&self, place: Place) -> bool {
        self.layout.treatment(place) == Treatment::Incised && self.at(place).incised_groove.is_some()
    }

    /// How a direction in the design runs to the grain: the same for every cut of a job.
    pub(super) fn heading(&self, direction: f64) -> Heading {
        self.usual().heading(direction)
    }

    /// What a wall at the face is held to that runs so, with these places on its sides.
    pub(super) fn wall(&self, heading: &Heading, sides: &[Place], run: &WallRun) -> Option<Held> {
        let is_pierced = |place: Place| self.layout.treatment(place) == Treatment::Pierced;
        let is_strip = sides.iter().all(|&place| is_pierced(place));
        let held = |&place: &Place| {
            let limits = self.at(place);
            let (source, height) = match (is_strip, is_pierced(place)) {
                (true, _) => (LimitSource::Strip, limits.thickness),
                (false, true) => (LimitSource::WallBesidePierced, limits.thickness),
                (false, false) => (LimitSource::Wall, limits.basis.height),
            };
            let limit =
                if is_strip { limits.strip(heading, run) } else { limits.wall_as(heading, height, run) };
            Held::of_wall(place, source, HeldWall { height, run: *run, limit }, limits)
        };
        sides.iter().map(held).reduce(more_demanding)
    }

    /// The chance that a wall so wide holds, and how serious that is.
    pub(super) fn chance(&self, held: &Held, width: Mm) -> Option<(f64, Severity)> {
        let (wall, limits) = (held.wall?, self.at(held.place));
        let holds = chance(width / wall.limit.thickness, limits.rule.scatter);
        let severity = if holds < limits.unsound { Severity::Unsound } else { Severity::Chancy };
        Some((holds, severity))
    }

    /// The gentlest change of the cut beside a wall `width` thick that alone would make it sound.
    pub(super) fn gentler(&self, held: &Held, direction: f64, width: Mm, job: &Job) -> Gentler {
        let Some(wall) = held.wall else { return Gentler::default() };
        let limits = self.at(held.place);
        let cutter = job.cut(held.place).cutter;
        let heading = &limits.heading(direction);
        let holds = |cut: Cut| {
            let limits = Limits { rule: WallRule { cut, ..limits.rule.clone() }, ..limits.clone() };
            let limit = match held.source {
                LimitSource::Strip => limits.strip(heading, &wall.run),
                _ => limits.wall_as(heading, wall.height, &wall.run),
            };
            limit.thickness * limits.sound <= width * (1.0 + 1e-9)
        };
        // The push that the wall bears as it is, as a share of what it gets: thickness goes with its square root
        // where it breaks, with its cube root where it gives.
        let thinner = width / held.limit;
        let share = match wall.limit.governs {
            Governs::Root | Governs::End | Governs::Beam => thinner.powi(2),
            Governs::Stiffness | Governs::Pillar => thinner.powi(3),
            Governs::Shear => thinner,
        };
        let cut = limits.rule.cut;
        let pass = cut.edge(wall.height) * share;
        let pass = (share >= LEAST_SHARE && holds(Cut { pass, ..cut })).then_some(pass);
        // g goes down by as much: (f_e + f') = share (f_e + f).
        let feed_per_tooth = (EDGE_TERM + cut.feed_per_tooth) * share - EDGE_TERM;
        let slower = feed_per_tooth / cut.feed_per_tooth;
        let feed =
            (slower >= LEAST_SHARE && holds(Cut { feed_per_tooth, ..cut })).then_some(cutter.feed * slower);
        Gentler { pass, feed }
    }

    /// The same of a wall whose top is not the face but the floor of `top`: it stands only as tall as the places
    /// beside it are deeper. `None` where none is.
    pub(super) fn lowered_wall(
        &self,
        heading: &Heading,
        sides: &[Place],
        top: Place,
        run: &WallRun,
    ) -> Option<Held> {
        let held = |&place: &Place| {
            let height = self.places[slot(place)].1 - self.places[slot(top)].1;
            (height > Mm::ZERO).then(|| {
                let limit = self.at(place).wall_as(heading, height, run);
                Held::of_wall(
                    place,
                    LimitSource::WallOnAFloor,
                    HeldWall { height, run: *run, limit },
                    self.at(place),
                )
            })
        };
        sides.iter().filter_map(held).reduce(more_demanding)
    }
}

impl HeldWall {
    /// Whether its free end is near enough to be felt: within its height (our own judgement: there the push is shared
    /// as at the end itself, or nearly).
    pub fn is_near_a_free_end(&self) -> bool {
        self.run.to_free_end <= self.height
    }
}

impl Held {
    fn of_wall(place: Place, source: LimitSource, wall: HeldWall, limits: &Limits) -> Held {
        Held { limit: wall.limit.thickness * limits.sound, place, source, wall: Some(wall) }
    }
}

/// The first where both ask for the same.
pub(super) fn more_demanding(a: Held, b: Held) -> Held {
    if b.limit > a.limit { b } else { a }
}

/// Where a place comes when the ground comes first.
fn slot(place: Place) -> usize {
    place.element().map_or(0, |element| element + 1)
}

/// The job's cutter with a limit that is what survived on a test piece, carved as the job carves and with walls `run`
/// long: their ends were free.
pub fn calibrated(job: &Job, along: Mm, across: Mm, run: Mm) -> Cutter {
    let cutter = job.cutter();
    let mut reference = ReferenceWall {
        along,
        across: Some(across),
        height: job.depth(),
        length: Some(run),
        pass: Mm::new(job.clearing().pass_depth(cutter)),
        feed_per_tooth: cutter.feed_per_tooth(),
        sawn: job.board().sawn,
        wood: String::new(),
        shops_wood: None,
        source: "the shop's own test piece".to_owned(),
    };
    refer_to(&mut reference, job.wood());
    // What the record came to was said of the old reference wall.
    Cutter { reference, experience: None, ..cutter.clone() }
}

/// Makes `wood` the wood of a reference wall; what is needed of a wood that is not built in goes with it.
pub fn refer_to(reference: &mut ReferenceWall, wood: &Wood) {
    reference.wood.clone_from(&wood.id);
    let is_built_in = Wood::find(&wood.id).is_some_and(|built_in| built_in == wood);
    reference.shops_wood = (!is_built_in).then(|| ShopsWood {
        name: wood.name.clone(),
        strength: WoodNumbers::of(wood).across.value,
        density: wood.density_at_12(),
    });
}
