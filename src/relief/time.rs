//! How long the passes take: from the machine's feeds and how fast it gains speed.
//!
//! Along a line the cutter keeps to its feed and to the machine's fastest feeds along, across and down;
//! it gains and loses speed evenly, with the machine's acceleration `a`. It stops where the way turns sharply,
//! and takes a bend of stretches `c` long that turn by `t` each no faster than `sqrt(a c / t)`: the speed
//! at which going round a circle takes all of the acceleration. From line to line it lifts, travels and
//! plunges, from rest to rest. The first cutter is in the machine when the clock starts.
//!
//! Straight from rest to rest over `L` at speed `v` takes `L / v + v / a`, or `2 sqrt(L / a)` where the way is
//! too short to reach it.
//!
//! What is not known of a machine is not in here: how its control looks ahead, what it does at a tool change,
//! a slow start of the spindle. A job that was timed sets that right: see [`fitted_factor`].

use super::NEVER;
use super::field::Progress;
use super::paths::{PathKind, Plan, plan};
use crate::job::{Job, Place};
use crate::proof::Measured;
use crate::shop::{Cutter, Machine};
use glam::DVec3;
use serde::Serialize;

/// How high above the face the cutter travels from line to line, millimetres. A round value of our own.
pub const TRAVEL_HEIGHT: f64 = 5.0;

/// Where the way turns by more than this, the cutter stops: 30 degrees. Our own judgement; a curve in chords
/// turns by less.
const SHARP_TURN: f64 = std::f64::consts::PI / 6.0;

/// How long a job takes. Seconds, with the machine's time factor in them.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct JobTime {
    /// By whose the lines are, the ground first, then in the design's order; what travels to a line counts
    /// as that line's. Elements that take no time are left out.
    pub elements: Vec<ElementTime>,
    /// By cutter, in the order they are used, without the time to change them.
    pub cutters: Vec<CutterTime>,
    /// Of the machine's time: cutting along lines.
    pub cutting: f64,
    /// Of the machine's time: lifting, travelling, plunging.
    pub moving: f64,
    /// How often a cutter is changed.
    pub changes: u32,
    /// How long all changes take: not the machine's time, and the factor is not in it.
    pub changing: f64,
    /// All of it.
    pub total: f64,
    /// The factor that is in the machine's times.
    pub factor: f64,
}

/// How long an element takes.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct ElementTime {
    /// The element, or the ground.
    #[serde(rename = "element")]
    pub place: Place,
    /// The element's name, or `ground`.
    pub name: String,
    /// Seconds.
    pub seconds: f64,
}

/// How long a cutter is at work.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct CutterTime {
    /// The cutter's id.
    pub id: String,
    /// For a person.
    pub name: String,
    /// Seconds.
    pub seconds: f64,
}

impl JobTime {
    /// All of it in minutes; `None` where it has no end, as at a feed of nothing.
    pub fn minutes(&self) -> Option<f64> {
        let minutes = self.total / 60.0;
        minutes.is_finite().then_some(minutes)
    }
}

/// How long a job takes at its size, from its measured design: milliseconds to tens of milliseconds.
pub fn of(job: &Job, measured: &Measured) -> JobTime {
    of_plan(job, &plan(job, measured, &NEVER).unwrap_or_default())
}

/// How long a job's plan takes: what [`Clock::time`] says, without a clock that can be read in between. `O(n)` in points.
pub fn of_plan(job: &Job, plan: &Plan) -> JobTime {
    let owners = owners(plan);
    let mut sums = Sums::new(job, plan.cutters.len(), job.machine().time_factor);
    go_through(job, plan, |leg| sums.add(&leg, &owners));
    sums.told(job, &plan.cutters)
}

fn owners(plan: &Plan) -> Vec<(Place, PathKind)> {
    plan.lines.iter().map(|line| (line.place, line.kind)).collect()
}

/// The time factor of a machine on which a job took `real` seconds, changes of cutters included, where
/// `time` was worked out; `None` where it makes no sense: beyond a fifth or five times, something else
/// differs.
pub fn fitted_factor(time: &JobTime, real: f64) -> Option<f64> {
    let uncorrected = (time.cutting + time.moving) / time.factor;
    let factor = (real - time.changing) / uncorrected;
    (0.2..=5.0).contains(&factor).then_some(factor)
}

/// Every move of a plan with its time.
#[derive(Clone, Debug)]
pub struct Clock {
    legs: Vec<Leg>,
    /// When of the legs the cutter is changed, and how long that takes.
    changes: Vec<(f64, f64)>,
    cutters: Vec<Cutter>,
    /// Whose each line is.
    owners: Vec<(Place, PathKind)>,
    factor: f64,
    total: f64,
}

/// What is going on at a second of a carve.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Moment {
    /// Where the cutter's lowest point is.
    pub at: DVec3,
    /// What the cutter does.
    pub doing: Doing,
    /// An index into the plan's cutters.
    pub cutter: u32,
    /// Whose line it is on, or on its way to.
    pub place: Place,
    /// What that line is for.
    pub kind: PathKind,
    /// How far the plan is carved: for [`carve_on`](super::field::carve_on).
    pub progress: Progress,
}

/// What the cutter does at a moment.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Doing {
    /// It waits to be changed for the next.
    Changing,
    /// It travels above the board.
    Travelling,
    /// It goes down into the wood.
    Plunging,
    /// It cuts along a line.
    Cutting,
    /// It lifts off.
    Lifting,
    /// The carve is done.
    Done,
}

/// A straight move: speed `[at its start, at its most, at its end]`, seconds from the start of the carve.
#[derive(Clone, Copy, Debug)]
struct Leg {
    from: DVec3,
    to: DVec3,
    speed: [f64; 3],
    start: f64,
    seconds: f64,
    doing: Doing,
    line: u32,
    stretch: u32,
    cutter: u32,
}

impl Clock {
    /// Goes through all lines of a plan. `O(n)` in points.
    pub fn new(job: &Job, plan: &Plan) -> Clock {
        // To each line it lifts, travels and plunges.
        let count: usize = plan.lines.iter().map(|line| line.points.len() + 3).sum();
        let mut legs = Vec::with_capacity(count);
        let total = go_through(job, plan, |leg| legs.push(leg));
        let changing = legs.iter().filter(|leg| leg.doing == Doing::Changing);
        Clock {
            total,
            changes: changing.map(|leg| (leg.start, leg.seconds)).collect(),
            legs,
            cutters: plan.cutters.clone(),
            owners: owners(plan),
            factor: job.machine().time_factor,
        }
    }

    /// All of it, in seconds, with the machine's factor in it.
    pub fn total(&self) -> f64 {
        self.changing() + (self.total - self.changing()) * self.factor
    }

    /// How long each line of the plan takes with what travels to it, in seconds, with the machine's factor in it;
    /// changes of cutters are in none. `O(n)` in points.
    pub fn line_seconds(&self) -> Vec<f64> {
        let mut seconds = vec![0.0; self.owners.len()];
        for leg in self.legs.iter().filter(|leg| leg.doing != Doing::Changing) {
            seconds[leg.line as usize] += leg.seconds * self.factor;
        }
        seconds
    }

    fn changing(&self) -> f64 {
        self.changes.iter().map(|(_, seconds)| seconds).sum()
    }

    /// The sums. `O(n)` in points.
    pub fn time(&self, job: &Job) -> JobTime {
        let mut sums = Sums::new(job, self.cutters.len(), self.factor);
        self.legs.iter().for_each(|leg| sums.add(leg, &self.owners));
        sums.told(job, &self.cutters)
    }

    /// Where the cutter is at a second of the carve; `None` for a plan without lines. Before the start it is
    /// at the start, and after the end at the end. `O(log n)`.
    pub fn at(&self, second: f64) -> Option<Moment> {
        let last = self.legs.last()?;
        // The factor stretches the machine's time, but not the changes between.
        let second = self.uncorrected(second);
        let index = self.legs.partition_point(|leg| leg.start <= second).saturating_sub(1);
        let leg = &self.legs[index];
        let gone = (second - leg.start).clamp(0.0, leg.seconds);
        let share = leg.share(gone);
        let ended = index + 1 == self.legs.len() && gone >= leg.seconds;
        let (place, kind) = self.owners[leg.line as usize];
        let line = leg.line as usize;
        let progress = match leg.doing {
            Doing::Cutting => Progress { lines: line, stretches: leg.stretch as usize, share },
            // The line before is done; that of the last lift is the last.
            _ if index + 1 == self.legs.len() => {
                Progress { lines: last.line as usize + 1, ..Progress::default() }
            }
            _ => Progress { lines: line, ..Progress::default() },
        };
        let doing = if ended { Doing::Done } else { leg.doing };
        Some(Moment { at: leg.from.lerp(leg.to, share), doing, cutter: leg.cutter, place, kind, progress })
    }

    /// A second of the carve as it would be without the factor.
    fn uncorrected(&self, second: f64) -> f64 {
        let (mut shown, mut bare) = (0.0, 0.0);
        for &(start, seconds) in &self.changes {
            let until = shown + (start - bare) * self.factor;
            if second < until {
                break;
            }
            if second < until + seconds {
                return start + (second - until);
            }
            (shown, bare) = (until + seconds, start + seconds);
        }
        bare + (second - shown) / self.factor.max(1e-9)
    }
}

impl Leg {
    /// The share of the way gone after so many seconds.
    fn share(&self, gone: f64) -> f64 {
        let length = self.from.distance(self.to);
        let [start, most, end] = self.speed;
        if gone >= self.seconds || length == 0.0 || most <= 0.0 {
            return if self.seconds > 0.0 && gone < self.seconds { gone / self.seconds } else { 1.0 };
        }
        // From the three speeds and the time: while speed is gained, held and lost.
        let gain = most - start + most - end;
        let level = |ramp: f64| self.seconds - ramp;
        // length = level * most + ramps at their mean speeds, each as long as its change of speed.
        let means = ((most - start) * f64::midpoint(start, most) + (most - end) * f64::midpoint(end, most))
            / gain.max(1e-12);
        let ramp = if gain > 1e-12 {
            ((self.seconds * most - length) / (most - means)).clamp(0.0, self.seconds)
        } else {
            0.0
        };
        let up = if gain > 1e-12 { ramp * (most - start) / gain } else { 0.0 };
        let (down, held) = (ramp - up, level(ramp));
        let part = |from: f64, to: f64, whole: f64, t: f64| {
            if whole <= 0.0 { 0.0 } else { from * t + (to - from) * t * t / (2.0 * whole) }
        };
        let way = if gone <= up {
            part(start, most, up, gone)
        } else if gone <= up + held {
            part(start, most, up, up) + most * (gone - up)
        } else {
            part(start, most, up, up) + most * held + part(most, end, down, gone - up - held)
        };
        (way / length).clamp(0.0, 1.0)
    }
}

/// What the legs of a plan come to.
struct Sums {
    /// The ground, then each element.
    elements: Vec<f64>,
    cutters: Vec<f64>,
    cutting: f64,
    moving: f64,
    changing: f64,
    changes: u32,
    factor: f64,
}

impl Sums {
    fn new(job: &Job, cutters: usize, factor: f64) -> Sums {
        Sums {
            elements: vec![0.0; job.design().elements.len() + 1],
            cutters: vec![0.0; cutters],
            cutting: 0.0,
            moving: 0.0,
            changing: 0.0,
            changes: 0,
            factor,
        }
    }

    fn add(&mut self, leg: &Leg, owners: &[(Place, PathKind)]) {
        let seconds = leg.seconds * self.factor;
        if leg.doing == Doing::Changing {
            self.changing += leg.seconds;
            self.changes += 1;
            return;
        }
        let (place, _) = owners[leg.line as usize];
        let slot = place.element().map_or(0, |element| element + 1);
        if let Some(sum) = self.elements.get_mut(slot) {
            *sum += seconds;
        }
        self.cutters[leg.cutter as usize] += seconds;
        if leg.doing == Doing::Cutting { self.cutting += seconds } else { self.moving += seconds }
    }

    fn told(self, job: &Job, cutters: &[Cutter]) -> JobTime {
        let named = |(slot, seconds): (usize, f64)| {
            let place = slot.checked_sub(1).map_or(Place::Ground, Place::Element);
            ElementTime { place, name: job.name_of(place).to_owned(), seconds }
        };
        let of_cutter = |(cutter, seconds): (&Cutter, f64)| CutterTime {
            id: cutter.id.clone(),
            name: cutter.name.clone(),
            seconds,
        };
        JobTime {
            elements: self
                .elements
                .into_iter()
                .enumerate()
                .filter(|(_, sum)| *sum > 0.0)
                .map(named)
                .collect(),
            cutters: cutters.iter().zip(self.cutters).map(of_cutter).collect(),
            cutting: self.cutting,
            moving: self.moving,
            changes: self.changes,
            changing: self.changing,
            total: self.cutting + self.moving + self.changing,
            factor: self.factor,
        }
    }
}

/// Gives every move of a plan in turn; comes to the seconds they take, without the machine's factor.
fn go_through(job: &Job, plan: &Plan, take: impl FnMut(Leg)) -> f64 {
    let machine = job.machine();
    let at = DVec3::new(0.0, 0.0, TRAVEL_HEIGHT);
    let mut motion = Motion { machine, take, now: 0.0, at };
    let mut cutter_before = None;
    for (index, line) in plan.lines.iter().enumerate() {
        let Some(&first) = line.points.first() else { continue };
        let cutter = &plan.cutters[line.cutter as usize];
        let tag = Tag { line: index as u32, cutter: line.cutter };
        if cutter_before.is_some_and(|before| before != line.cutter) {
            motion.lift(tag);
            motion.wait(machine.cutter_change, tag);
        }
        cutter_before = Some(line.cutter);
        if motion.at.truncate().distance(first.truncate()) > 1e-6 {
            motion.lift(tag);
            motion.straight(first.truncate().extend(TRAVEL_HEIGHT), f64::INFINITY, Doing::Travelling, tag);
        }
        motion.straight(first, cutter.plunge / 60.0, Doing::Plunging, tag);
        motion.follow(&line.points, cutter, tag);
    }
    if let Some(last) = plan.lines.len().checked_sub(1) {
        motion.lift(Tag { line: last as u32, cutter: plan.lines[last].cutter });
    }
    motion.now
}

/// Which line a leg belongs to.
#[derive(Clone, Copy)]
struct Tag {
    line: u32,
    cutter: u32,
}

/// The machine going through its moves.
struct Motion<'a, F> {
    machine: &'a Machine,
    take: F,
    now: f64,
    at: DVec3,
}

impl<F: FnMut(Leg)> Motion<'_, F> {
    fn push(&mut self, to: DVec3, speed: [f64; 3], seconds: f64, doing: Doing, tag: Tag, stretch: usize) {
        let Tag { line, cutter } = tag;
        let (from, start) = (self.at, self.now);
        (self.take)(Leg { from, to, speed, start, seconds, doing, line, stretch: stretch as u32, cutter });
        self.now += seconds;
        self.at = to;
    }

    fn wait(&mut self, seconds: f64, tag: Tag) {
        self.push(self.at, [0.0; 3], seconds, Doing::Changing, tag, 0);
    }

    fn lift(&mut self, tag: Tag) {
        self.straight(self.at.with_z(TRAVEL_HEIGHT), f64::INFINITY, Doing::Lifting, tag);
    }

    /// Straight, from rest to rest; no move where it is there already.
    fn straight(&mut self, to: DVec3, feed: f64, doing: Doing, tag: Tag) {
        let length = self.at.distance(to);
        if length <= 1e-9 {
            return;
        }
        let most = self.fastest((to - self.at) / length, feed, feed);
        let (most, seconds) = ramped(length, [0.0, most, 0.0], self.machine.acceleration);
        self.push(to, [0.0, most, 0.0], seconds, doing, tag, 0);
    }

    /// The fastest speed in a direction: no axis beyond its own feed, and downwards no faster than
    /// `plunge`. A feed of 0 is one that is not known, and holds nothing back.
    fn fastest(&self, along: DVec3, feed: f64, plunge: f64) -> f64 {
        let machine = self.machine;
        let axes = [
            (machine.feed_along / 60.0, along.x.abs()),
            (machine.feed_across / 60.0, along.y.abs()),
            (machine.feed_down / 60.0, along.z.abs()),
            (plunge, -along.z),
        ];
        let bounded = axes.into_iter().filter(|&(speed, part)| part > 1e-9 && speed > 0.0);
        let fastest = bounded.map(|(speed, part)| speed / part).fold(feed, f64::min);
        // Where nothing at all is known, a walking pace rather than no time.
        if fastest.is_finite() { fastest } else { 1000.0 }
    }

    /// Along a line, from rest to rest.
    fn follow(&mut self, points: &[DVec3], cutter: &Cutter, tag: Tag) {
        let ways: Vec<(f64, DVec3)> = points
            .windows(2)
            .map(|pair| {
                let way = pair[1] - pair[0];
                let length = way.length();
                (length, if length > 0.0 { way / length } else { DVec3::ZERO })
            })
            .collect();
        let a = self.machine.acceleration;
        let most: Vec<f64> = ways
            .iter()
            .map(|&(_, along)| self.fastest(along, cutter.feed / 60.0, cutter.plunge / 60.0))
            .collect();
        // The speed at each point: what its bend allows, then what the ways to and from it allow.
        let mut speed = vec![0.0; points.len()];
        for i in 1..ways.len() {
            speed[i] = bend_speed(ways[i - 1], ways[i], a).min(most[i - 1]).min(most[i]);
        }
        if a > 0.0 {
            for i in 1..points.len() {
                speed[i] = speed[i].min((speed[i - 1] * speed[i - 1] + 2.0 * a * ways[i - 1].0).sqrt());
            }
            for i in (0..ways.len()).rev() {
                speed[i] = speed[i].min((speed[i + 1] * speed[i + 1] + 2.0 * a * ways[i].0).sqrt());
            }
        }
        for (i, &(length, _)) in ways.iter().enumerate() {
            let (top, seconds) = ramped(length, [speed[i], most[i], speed[i + 1]], a);
            self.push(points[i + 1], [speed[i], top, speed[i + 1]], seconds, Doing::Cutting, tag, i);
        }
    }
}

/// The fastest speed at which two ways that meet can be taken.
fn bend_speed((before, into): (f64, DVec3), (after, out): (f64, DVec3), acceleration: f64) -> f64 {
    let turn = into.angle_between(out);
    if turn.is_nan() || turn > SHARP_TURN {
        0.0
    } else if turn < 1e-9 || acceleration <= 0.0 {
        f64::INFINITY
    } else {
        (acceleration * before.min(after) / turn).sqrt()
    }
}

/// The top speed reached and the seconds taken over a way, from its speed at the start, the most allowed, and
/// its speed at the end. Without an acceleration all is at full speed.
fn ramped(length: f64, [start, most, end]: [f64; 3], a: f64) -> (f64, f64) {
    if a <= 0.0 {
        return (most, length / most);
    }
    let reached = (a * length + f64::midpoint(start * start, end * end)).sqrt();
    let top = reached.min(most).max(start).max(end);
    if top <= 0.0 {
        return (0.0, 0.0);
    }
    let ramps = (top * top - start * start + top * top - end * end) / (2.0 * a);
    (top, (top - start + top - end) / a + (length - ramps).max(0.0) / top)
}
