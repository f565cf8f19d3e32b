//! V paths: along the middle of what is incised, as deep as it is wide there.

use super::clear::in_short_order;
use super::profile::Profile;
use crate::geometry::Region;
use crate::geometry::widths::axis_within;
use glam::{DVec2, DVec3};
use std::collections::BTreeMap;
use std::f64::consts::PI;

/// The middle line runs into every corner sharper than this: pi less the angle it sees there. In blunter
/// corners, as between the chords of a curve, the cutter's own sides reach to within one part in a
/// hundred of the width.
const BLUNTEST_CORNER: f64 = PI - 0.26;

/// Ends of the middle line nearer than this are one, millimetres.
const SAME_PLACE: f64 = 1e-4;

/// Depth is not linear in width for a round end: its paths are cut into stretches this long, millimetres.
const ROUND_STRETCH: f64 = 0.25;

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
                let deep = |stop: &Stop| stop.at.extend(-profile.depth_between(stop.half).min(deepest));
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
    if part.len() > 1 {
        hand_over(&part);
    }
}

/// The middle line in as few chains as it goes: pieces are strung together where they meet, the straightest
/// way on first.
fn middle_chains(region: &Region, profile: &Profile) -> Vec<Vec<Stop>> {
    let pieces: Vec<Vec<Stop>> = axis_within(region, PI - BLUNTEST_CORNER)
        .into_iter()
        .map(|piece| {
            let stops: Vec<Stop> =
                piece.iter().map(|point| Stop { at: point.at, half: point.width / 2.0 }).collect();
            if profile.is_pointed() { stops } else { finer(&stops) }
        })
        .collect();
    let key = |stop: &Stop| {
        let p = (stop.at / SAME_PLACE).round();
        (p.x as i64, p.y as i64)
    };
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
    let mut chains = Vec::new();
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
        chains.push(chain);
    }
    chains
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

fn finer(stops: &[Stop]) -> Vec<Stop> {
    let mut fine = Vec::with_capacity(stops.len() * 2);
    for pair in stops.windows(2) {
        let count = (pair[0].at.distance(pair[1].at) / ROUND_STRETCH).ceil().clamp(1.0, 4096.0);
        fine.extend((0..count as u32).map(|i| between(pair[0], pair[1], f64::from(i) / count)));
    }
    fine.extend(stops.last());
    fine
}
