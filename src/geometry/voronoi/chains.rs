//! A face cut at its contacts.
//!
//! Where two arcs of the front run into each other is known before it sets out. So the front is cut there beforehand, at
//! both ends of every [contact](super::contact): what came before either goes on with what came after the other. The chains
//! that this leaves never run into each other or themselves; their arcs only vanish, and none has to do with another
//! chain's.

use super::contact::Contact;
use super::sites::{Face, Site, Sites};
use rayon::prelude::*;

/// No contact, and no part.
pub(super) const NONE: u32 = u32::MAX;

/// An arc of the front when it sets out.
#[derive(Clone, Copy)]
pub(super) struct Start {
    pub(super) site: Site,
    /// The contact at which it ends and another part of the outline follows: twice its number, and 1 more for its second end.
    /// `NONE` where what follows is next along the outline.
    pub(super) cut: u32,
}

/// The front when it sets out: closed chains of arcs.
pub(super) struct Chains {
    /// The arcs of each chain in a row, in the direction of the front.
    starts: Vec<Start>,
    /// Where the chains end in that list.
    ends: Vec<u32>,
}

/// Where an arc is cut: its place among all of a face, how far along it, and by what, as [`Start::cut`].
type Cut = (u32, u64, u32);

/// An arc between cuts, and the one that follows it.
struct Part {
    start: Start,
    next: u32,
}

impl Chains {
    /// Those of a face, cut at its contacts. `O(n log n)`.
    pub(super) fn of(sites: &Sites, following: &[u32], face: Face, contacts: &[Contact]) -> Chains {
        let cuts = cuts(sites, contacts);
        let mut part_of_cut = vec![NONE; cuts.len()];
        let mut first_of = Vec::with_capacity(following.len());
        let mut parts: Vec<Part> = Vec::with_capacity(2 * following.len() + cuts.len());
        let mut ahead = cuts.into_iter().peekable();
        for (segment, &next) in (0..).zip(following) {
            first_of.push(parts.len() as u32);
            let [_, node] = sites.node_names(face, segment);
            let has_arc = sites.juts_after(face, segment) || sites.goes_straight_on(face, segment, next);
            for (place, site, is_there) in
                [(2 * segment, Site::segment(segment), true), (2 * segment + 1, Site::node(node), has_arc)]
            {
                while let Some((_, _, cut)) = ahead.next_if(|cut| cut.0 == place) {
                    part_of_cut[cut as usize] = parts.len() as u32;
                    parts.push(Part { start: Start { site, cut }, next: NONE });
                }
                if is_there {
                    parts.push(Part { start: Start { site, cut: NONE }, next: NONE });
                }
            }
        }
        for (own, &next) in following.iter().enumerate() {
            let first = first_of[own];
            let end = first_of.get(own + 1).map_or(parts.len() as u32, |&first| first);
            for (number, part) in (first..end).zip(&mut parts[first as usize..end as usize]) {
                part.next = match part.start.cut {
                    NONE if number + 1 < end => number + 1,
                    NONE => first_of[next as usize],
                    cut => part_of_cut[(cut ^ 1) as usize] + 1,
                };
            }
        }
        Chains::along(parts)
    }

    /// Parts in the order in which they follow each other.
    fn along(mut parts: Vec<Part>) -> Chains {
        let mut chains = Chains { starts: Vec::with_capacity(parts.len()), ends: Vec::new() };
        for first in 0..parts.len() {
            let mut at = first;
            while parts[at].next != NONE {
                chains.starts.push(parts[at].start);
                at = std::mem::replace(&mut parts[at].next, NONE) as usize;
            }
            let end = chains.starts.len() as u32;
            if chains.ends.last().copied().unwrap_or_default() < end {
                chains.ends.push(end);
            }
        }
        chains
    }

    /// How many arcs there are in all.
    pub(super) fn arcs(&self) -> usize {
        self.starts.len()
    }

    /// The chains, in groups of at least so many arcs.
    pub(super) fn groups(&self, least: usize) -> Vec<Vec<&[Start]>> {
        let mut groups = vec![Vec::new()];
        let (mut from, mut count) = (0, 0);
        for &end in &self.ends {
            let chain = &self.starts[from..end as usize];
            if count >= least {
                groups.push(Vec::new());
                count = 0;
            }
            count += chain.len();
            groups.last_mut().expect("there is one").push(chain);
            from = end as usize;
        }
        groups
    }
}

/// Where arcs are cut, in the order of the segments at whose end or in front of which they are.
fn cuts(sites: &Sites, contacts: &[Contact]) -> Vec<Cut> {
    let place = |site: Site| {
        if !site.is_node() {
            return 2 * site.index();
        }
        let cone = sites.cones[site.index() as usize].expect("a node of a contact juts out");
        2 * cone.last + 1
    };
    let of_contact = |(number, contact): (u32, &Contact)| {
        [0, 1].map(|end| (place(contact.sites[end]), contact.along[end], 2 * number + end as u32))
    };
    let mut cuts: Vec<Cut> = (0..).zip(contacts).flat_map(of_contact).collect();
    cuts.par_sort_unstable();
    cuts
}
