//! V paths: along the middle of what is incised, as deep as it is wide there.

#![expect(clippy::cast_sign_loss, reason = "what is cast is not negative: counted, clamped or rounded up")]

use super::clear::in_short_order;
use super::profile::Profile;
use crate::geometry::Region;
use crate::geometry::widths::axis_within;
use glam::{DVec2, DVec3};
use std::collections::BTreeMap;

/// Where the middle line sees the edge's two nearest places less than this apart, radians, it is not followed:
/// it runs into a corner that is nearly straight, as between the chords of a curve, and the cutter's own sides
/// reach into that to within one part in a hundred of the width.
const LEAST_SEEN: f64 = 0.26;

/// How little it may see to be looked at at all: the middle of a round place sees next to nothing on any
/// side, and has to be found.
const LEAST_LOOKED_AT: f64 = 0.01;

/// Ends of the middle line nearer than this are one, millimetres.
const SAME_PLACE: f64 = 1e-4;

/// A chain shorter than this is not worth going down for, millimetres: at the end of a rounded tip the middle
/// line frays into a branch for every chord.
const LEAST_CHAIN: f64 = 0.1;

/// Depth is not linear in width for a round end: its paths are cut until they stray by less than this,
/// millimetres, and no more often than [`HALVINGS`].
const DEPTH_STRAYS: f64 = 0.003;

/// Stretches are halved so often at most.
const HALVINGS: u32 = 10;

/// A place on the middle line, and how deep the cutter goes there.
#[derive(Clone, Copy)]
struct Stop {
    at: DVec2,
    half: f64,
}

/// The chains of a path, one list a level: the first as deep as one pass goes, each further one only
/// where the path is deeper than the level before. Each chain says whether any of it ends on the final depth.
pub(super) fn levels(
    region: &Region,
    profile: &Profile,
    deepest: f64,
    pass_depth: f64,
) -> Vec<Vec<(Vec<DVec3>, bool)>> {
    let chains = middle_chains(region, profile);
    // Wider than this, the floor is reached and cleared like any other.
    let widest = profile.half_width(deepest);
    let mut paths: Vec<Vec<DVec3>> = Vec::new();
    for chain in &chains {
        split(
            chain,
            |stop| stop.half - widest,
            |a, b, share| between(*a, *b, share),
            |part| {
                // Exactly as wide as the cutter all along, it goes as deep as anywhere; else upright sides keep it
                // out up to the very end.
                let fits = part.iter().all(|stop| stop.half >= widest - SAME_PLACE);
                let deep = |stop: &Stop| {
                    let depth = if fits {
                        deepest
                    } else {
                        profile.height(stop.half.min(profile.reach)).min(deepest)
                    };
                    stop.at.extend(-depth)
                };
                paths.push(part.iter().map(deep).collect());
            },
        );
    }
    let paths = in_short_order(paths, |p| p.truncate());
    let lowest = paths.iter().flatten().map(|p| -p.z).fold(0.0, f64::max);
    let count = ((lowest / pass_depth) - 1e-9).ceil().max(0.0) as usize;
    (1..=count)
        .map(|level| {
            let (above, below) = ((level - 1) as f64 * pass_depth, level as f64 * pass_depth);
            let mut parts = Vec::new();
            for path in &paths {
                // What is no deeper than the level above is done already.
                let done = |p: &DVec3| if level == 1 { -1.0 } else { above + p.z };
                split(
                    path,
                    done,
                    |a, b, share| a.lerp(*b, share),
                    |part| {
                        let mut chain: Vec<DVec3> = Vec::with_capacity(part.len());
                        for (index, &p) in part.iter().enumerate() {
                            // A corner of the path where it dips below the level.
                            if let Some(&before) = index.checked_sub(1).and_then(|i| part.get(i))
                                && (before.z + below) * (p.z + below) < 0.0
                            {
                                chain.push(before.lerp(p, (before.z + below) / (before.z - p.z)));
                            }
                            chain.push(p.with_z(p.z.max(-below)));
                        }
                        let last = level == count || part.iter().any(|p| -p.z < below);
                        parts.push((chain, last));
                    },
                );
            }
            parts
        })
        .filter(|level: &Vec<_>| !level.is_empty())
        .collect()
}

fn between(a: Stop, b: Stop, share: f64) -> Stop {
    Stop { at: a.at.lerp(b.at, share), half: a.half + (b.half - a.half) * share }
}

/// Hands over each stretch of a chain on which `value` is not over 0, cut where it passes through 0.
fn split<T: Copy>(
    chain: &[T],
    value: impl Fn(&T) -> f64,
    between: impl Fn(&T, &T, f64) -> T,
    mut hand_over: impl FnMut(&[T]),
) {
    let mut part: Vec<T> = Vec::new();
    for (index, point) in chain.iter().enumerate() {
        let here = value(point);
        if let Some(before) = index.checked_sub(1).map(|i| &chain[i]) {
            let there = value(before);
            if (there > 0.0) != (here > 0.0) {
                part.push(between(before, point, there / (there - here)));
            }
        }
        if here <= 0.0 {
            part.push(*point);
        } else if !part.is_empty() {
            if part.len() > 1 {
                hand_over(&part);
            }
            part.clear();
        }
    }
    if part.len() > 1 || (chain.len() == 1 && part.len() == 1) {
        hand_over(&part);
    }
}

/// The middle line in as few chains as it goes: pieces are strung together where they meet, the straightest
/// way on first.
fn middle_chains(region: &Region, profile: &Profile) -> Vec<Vec<Stop>> {
    let mut pieces: Vec<Vec<Stop>> = Vec::new();
    // The widest at either end of anything looked at, and whether any of it is followed there.
    let mut ends: BTreeMap<(i64, i64), (Stop, bool, bool)> = BTreeMap::new();
    for piece in axis_within(region, LEAST_LOOKED_AT) {
        let stops: Vec<Stop> = piece.iter().map(|p| Stop { at: p.at, half: p.width / 2.0 }).collect();
        let [first, .., last] = stops.as_slice() else { continue };
        // The radius grows by the cosine of half the angle seen.
        let followed = |pair: &[Stop]| {
            pair[1].half - pair[0].half <= (0.5 * LEAST_SEEN).cos() * pair[0].at.distance(pair[1].at)
        };
        let kept: Vec<bool> = stops.windows(2).map(followed).collect();
        for (stop, highest, kept) in [(first, false, kept.first()), (last, true, kept.last())] {
            let entry = ends.entry(key(stop)).or_insert((*stop, true, false));
            entry.1 &= highest;
            entry.2 |= kept == Some(&true);
        }
        let mut run: Vec<Stop> = Vec::new();
        for (index, &kept) in kept.iter().enumerate() {
            if kept {
                if run.is_empty() {
                    run.push(stops[index]);
                }
                run.push(stops[index + 1]);
            } else if !run.is_empty() {
                pieces.push(std::mem::take(&mut run));
            }
        }
        if !run.is_empty() {
            pieces.push(run);
        }
    }
    if !profile.is_pointed() {
        pieces = pieces.iter().map(|piece| finer(piece, profile)).collect();
    }
    // Round places: the middle is wider than all round it, and nothing leads there.
    let mut middles: Vec<Stop> = Vec::new();
    for (stop, highest, followed) in ends.into_values() {
        let known = |other: &Stop| other.at.distance(stop.at) < 0.01 * stop.half;
        if highest && !followed && !middles.iter().any(known) {
            middles.push(stop);
        }
    }
    let mut meeting: BTreeMap<(i64, i64), Vec<(usize, bool)>> = BTreeMap::new();
    for (index, piece) in pieces.iter().enumerate() {
        for (stop, end) in [(piece.first(), false), (piece.last(), true)] {
            if let Some(stop) = stop {
                meeting.entry(key(stop)).or_default().push((index, end));
            }
        }
    }
    // Chains that begin at an end or a fork leave nothing behind; rings come last.
    let starts = meeting.iter().filter(|(_, ends)| ends.len() % 2 == 1).chain(&meeting);
    let starts: Vec<(usize, bool)> = starts.flat_map(|(_, ends)| ends.iter().copied()).collect();
    let mut done = vec![false; pieces.len()];
    let mut short: Vec<Stop> = Vec::new();
    let mut chains: Vec<Vec<Stop>> = middles.into_iter().map(|middle| vec![middle]).collect();
    for start in starts {
        if done[start.0] {
            continue;
        }
        let mut chain: Vec<Stop> = Vec::new();
        let mut next = Some(start);
        while let Some((index, from_far_end)) = next {
            done[index] = true;
            let skipped = usize::from(!chain.is_empty());
            let piece = &pieces[index];
            if from_far_end {
                chain.extend(piece.iter().rev().skip(skipped));
            } else {
                chain.extend(piece.iter().skip(skipped));
            }
            next = onward(&chain, &pieces, &done, meeting.get(&key(&chain[chain.len() - 1])));
        }
        let length: f64 = chain.windows(2).map(|pair| pair[0].at.distance(pair[1].at)).sum();
        if length > LEAST_CHAIN {
            chains.push(chain);
        } else if let Some(widest) = chain.into_iter().max_by(|a, b| a.half.total_cmp(&b.half)) {
            short.push(widest);
        }
    }
    // A round place may have nothing but short chains, in its middle, and is gone down into once.
    for stop in short {
        if !chains.iter().flatten().any(|other| other.at.distance(stop.at) <= LEAST_CHAIN) {
            chains.push(vec![stop]);
        }
    }
    chains
}

/// Stops at one place share it.
fn key(stop: &Stop) -> (i64, i64) {
    let p = (stop.at / SAME_PLACE).round();
    (p.x as i64, p.y as i64)
}

/// The piece that goes on straightest from a chain's end.
fn onward(
    chain: &[Stop],
    pieces: &[Vec<Stop>],
    done: &[bool],
    ends: Option<&Vec<(usize, bool)>>,
) -> Option<(usize, bool)> {
    let &[.., before, last] = chain else { return None };
    let way = (last.at - before.at).normalize_or_zero();
    let turn = |&(index, end): &(usize, bool)| {
        let piece = &pieces[index];
        let second = if end { piece[piece.len() - 2] } else { piece[1] };
        -way.dot((second.at - last.at).normalize_or_zero())
    };
    let open = ends?.iter().filter(|(index, _)| !done[*index]);
    open.copied().min_by(|a, b| turn(a).total_cmp(&turn(b)))
}

/// The same chain with more stops, so that the depth in between is as good as linear.
fn finer(stops: &[Stop], profile: &Profile) -> Vec<Stop> {
    let mut fine: Vec<Stop> = stops.first().copied().into_iter().collect();
    for pair in stops.windows(2) {
        halve([pair[0], pair[1]], profile, HALVINGS, &mut fine);
    }
    fine
}

/// Adds the far end of a stretch, after as many places in between as it takes.
fn halve([a, b]: [Stop; 2], profile: &Profile, left: u32, fine: &mut Vec<Stop>) {
    let depth = |stop: Stop| profile.height(stop.half.min(profile.reach));
    let middle = between(a, b, 0.5);
    // A ball is steepest near its rim, where the middle alone says little.
    let strays = [0.25, 0.5, 0.75].map(|share| {
        let linear = depth(a) + (depth(b) - depth(a)) * share;
        (linear - depth(between(a, b, share))).abs()
    });
    if left > 0 && strays.into_iter().fold(0.0, f64::max) > DEPTH_STRAYS {
        halve([a, middle], profile, left - 1, fine);
        halve([middle, b], profile, left - 1, fine);
    } else {
        fine.push(b);
    }
}
