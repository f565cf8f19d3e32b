//! A job beside itself: of each wood, with each cutter, or at several sizes, with what each comes to.
//!
//! Nothing else of the job changes. What still holds of the job is not measured again, as for advice.

use crate::advice::{Tried, is_practical};
use crate::job::{Edit, Job, Size};
use crate::proof::fit::board_needed;
use crate::proof::price::{PricedPiece, price};
use crate::proof::{Facts, Proof, Severity};
use crate::shop::Shop;
use crate::units::Mm;
use rayon::prelude::*;
use std::sync::atomic::{AtomicBool, AtomicUsize, Ordering};

/// The most versions that are worked out: each takes as long as a proof and its passes. A round value of our own.
pub const MOST_VERSIONS: usize = 40;

/// Sizes beside the present one, as parts of it. Round values of our own.
const SIZES: [f64; 4] = [0.5, 0.75, 1.25, 1.5];

/// Two sizes nearer than this, as a part of them, are one.
const SAME_SIZE: f64 = 1e-3;

/// What the versions differ in.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Between {
    /// Each wood of the shop.
    #[default]
    Woods,
    /// Each cutter of the shop.
    Cutters,
    /// Sizes: smaller, larger, the least sound one and the largest that the board takes.
    Sizes,
}

impl Between {
    /// All there is to compare.
    pub const ALL: [Between; 3] = [Between::Woods, Between::Cutters, Between::Sizes];
}

/// What a version is called.
#[derive(Clone, Debug, PartialEq)]
pub enum VersionName {
    /// By its wood.
    Wood(String),
    /// By its cutter.
    Cutter(String),
    /// By its finished size.
    Size {
        /// Along the board and across it.
        size: [Mm; 2],
        /// What is special about it.
        kind: SizeKind,
    },
}

/// What is special about a size.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum SizeKind {
    /// Nothing: one of several.
    Other,
    /// The least at which no wall or groove is too thin.
    LeastSound,
    /// The largest that the job's board takes.
    Largest,
}

/// A wall, and the limit it is held to.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LimitedWall {
    /// How thick it is.
    pub width: Mm,
    /// How thick it is to be.
    pub limit: Mm,
}

impl LimitedWall {
    /// The wall that a proof's verdict goes by, or its thinnest beside the usual limit; `None` where it has none.
    pub fn of(proof: &Proof) -> Option<LimitedWall> {
        // Findings are worst first.
        let found = proof.findings.iter().find_map(|finding| match &finding.facts {
            Facts::ThinWall { width, place, .. } => {
                Some(LimitedWall { width: *width, limit: place.held.limit })
            }
            _ => None,
        });
        found.or_else(|| {
            let limits = proof.limits.usual();
            Some(LimitedWall { width: proof.thinnest.wall?, limit: limits.along.max(limits.across) })
        })
    }
}

/// A job as it would be.
#[derive(Clone, Debug)]
pub struct Version {
    /// What it is called.
    pub name: VersionName,
    /// What makes the job this.
    pub edit: Edit,
    /// Whether the job is this.
    pub is_now: bool,
    /// Its proof.
    pub proof: Proof,
    /// The wall that its verdict goes by, or its thinnest beside the usual limit; `None` where it has none.
    pub wall: Option<LimitedWall>,
    /// Minutes at the machine; `None` where they cannot be worked out.
    pub minutes: Option<f64>,
    /// What a piece sells for, on a board as large as it needs; `None` where nobody can say.
    pub price: Option<f64>,
}

impl Version {
    /// The worst of its findings.
    pub fn severity(&self) -> Severity {
        self.proof.verdict.severity
    }
}

/// A version before it is worked out.
struct Plain {
    name: VersionName,
    edit: Edit,
    is_now: bool,
}

/// The versions of a job, the least grave verdict first and of those the cheapest; sizes from the smallest on. What the
/// job refuses is left out, and what comes after [`MOST_VERSIONS`]. `tell` is told how many of how many are done.
/// `None` once it is called off.
///
/// Of several pieces, the one in hand is compared, by itself.
pub fn compare(
    now: &Tried,
    shop: &Shop,
    between: Between,
    cancel: &AtomicBool,
    tell: &(dyn Fn(usize, usize) + Sync),
) -> Option<Vec<Version>> {
    let mut plain = match between {
        Between::Woods => woods(&now.job, shop),
        Between::Cutters => cutters(&now.job, shop),
        Between::Sizes => sizes(now),
    };
    plain.truncate(MOST_VERSIONS);
    let (done, count) = (AtomicUsize::new(0), plain.len());
    // Another wood alone makes no other cuts.
    let minutes_now = now.minutes(cancel);
    let versions: Option<Vec<Option<Version>>> = plain
        .into_par_iter()
        .map(|plain| {
            let version = match now.job.with([plain.edit.clone()]) {
                Ok(job) => {
                    let after = now.changed_to(job, cancel)?;
                    let minutes = if after.cuts_as(now) { minutes_now } else { after.minutes(cancel) };
                    Some(version(plain, &after, shop, minutes))
                }
                Err(_refused) => None,
            };
            tell(done.fetch_add(1, Ordering::Relaxed) + 1, count);
            Some(version)
        })
        .collect();
    if cancel.load(Ordering::Relaxed) {
        return None;
    }
    let mut versions: Vec<Version> = versions?.into_iter().flatten().collect();
    match between {
        Between::Sizes => versions.sort_by(|a, b| a.proof.factor.total_cmp(&b.proof.factor)),
        // Stable: those that are alike stay as the shop lists them.
        Between::Woods | Between::Cutters => versions.sort_by(|a, b| {
            let cost = |version: &Version| version.price.or(version.minutes).unwrap_or(f64::INFINITY);
            a.severity().cmp(&b.severity()).then(cost(a).total_cmp(&cost(b)))
        }),
    }
    Some(versions)
}

fn woods(job: &Job, shop: &Shop) -> Vec<Plain> {
    let own = job.wood();
    let others = shop.woods.iter().filter(|wood| wood.id != own.id);
    let version = |wood: &crate::shop::Wood| Plain {
        name: VersionName::Wood(wood.name.clone()),
        edit: Edit::Wood(Box::new(wood.clone())),
        is_now: wood == own,
    };
    std::iter::once(own).chain(others).map(version).collect()
}

fn cutters(job: &Job, shop: &Shop) -> Vec<Plain> {
    let own = job.cutter();
    let others = shop.cutters.iter().filter(|cutter| cutter.id != own.id);
    let version = |cutter: &crate::shop::Cutter| Plain {
        name: VersionName::Cutter(cutter.name.clone()),
        edit: Edit::Cutter(Box::new(cutter.clone())),
        is_now: cutter == own,
    };
    std::iter::once(own).chain(others).map(version).collect()
}

fn sizes(now: &Tried) -> Vec<Plain> {
    let job = &now.job;
    let factor = job.factor();
    // A hair more, so that rounding does not put it under its own limit.
    let least = now.ratings.least_sound_factor().map(|least| least * (1.0 + 1e-9));
    let mut all: Vec<(f64, SizeKind)> = vec![(factor, SizeKind::Other)];
    let special = [(least, SizeKind::LeastSound), (Some(job.largest_factor()), SizeKind::Largest)];
    all.extend(special.into_iter().filter_map(|(factor, kind)| Some((factor?, kind))));
    all.extend(SIZES.map(|part| (part * factor, SizeKind::Other)));
    let mut sizes: Vec<(f64, SizeKind)> = Vec::new();
    for (factor, kind) in all.into_iter().filter(|(factor, _)| is_practical(job, *factor)) {
        match sizes.iter_mut().find(|(known, _)| (known / factor - 1.0).abs() < SAME_SIZE) {
            Some((_, known)) if *known == SizeKind::Other => *known = kind,
            Some(_) => {}
            None => sizes.push((factor, kind)),
        }
    }
    let version = |(at, kind): (f64, SizeKind)| {
        let size = (job.frame_on_board() * at).to_array().map(Mm::new);
        let is_now = at == factor;
        let edit = Edit::Size(if is_now { job.size() } else { Size::Factor(at) });
        Plain { name: VersionName::Size { size, kind }, edit, is_now }
    };
    sizes.into_iter().map(version).collect()
}

fn version(plain: Plain, after: &Tried, shop: &Shop, minutes: Option<f64>) -> Version {
    let (job, proof) = (&*after.job, Proof::clone(&after.proof));
    let needed = board_needed(job, proof.factor);
    let board = [needed.length, needed.width, needed.thickness.max(job.board().thickness)];
    let piece = PricedPiece::of(job, board, [proof.length, proof.width], minutes);
    Version {
        name: plain.name,
        edit: plain.edit,
        is_now: plain.is_now,
        wall: LimitedWall::of(&proof),
        minutes,
        price: price(&shop.prices, &piece).total,
        proof,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::design::samples::samples;
    use crate::job::sample::sample_job;
    use std::sync::Mutex;

    fn gate(between: Between) -> (Tried, Vec<Version>) {
        let shop = Shop::built_in();
        let sample = samples().iter().find(|sample| sample.id == "gate-sign").unwrap();
        let now = Tried::of(sample_job(sample).unwrap());
        let told = Mutex::new(0);
        let tell = |done: usize, of: usize| {
            assert!(done <= of);
            *told.lock().unwrap() += 1;
        };
        let versions = compare(&now, &shop, between, &AtomicBool::new(false), &tell).unwrap();
        assert!(*told.lock().unwrap() >= versions.len());
        (now, versions)
    }

    #[test]
    fn each_version_is_what_the_job_would_be() {
        for between in Between::ALL {
            let (now, versions) = gate(between);
            assert!(versions.len() > 2, "{between:?}");
            assert_eq!(versions.iter().filter(|version| version.is_now).count(), 1, "{between:?}");
            for version in &versions {
                let job = now.job.with([version.edit.clone()]).unwrap();
                let proof = crate::proof::proof_of(&job);
                assert_eq!(proof.verdict.severity, version.severity(), "{:?}", version.name);
                assert_eq!(proof.findings, version.proof.findings, "{:?}", version.name);
                if version.is_now {
                    assert_eq!(job, *now.job);
                }
            }
        }
    }

    #[test]
    fn the_best_wood_comes_first_and_sizes_grow() {
        let (_, woods) = gate(Between::Woods);
        assert!(woods.is_sorted_by_key(Version::severity));
        let (_, sizes) = gate(Between::Sizes);
        assert!(sizes.is_sorted_by(|a, b| a.proof.factor < b.proof.factor));
        let least =
            |version: &&Version| matches!(version.name, VersionName::Size { kind: SizeKind::LeastSound, .. });
        let least = sizes.iter().find(least).unwrap();
        assert!(least.wall.is_none_or(|wall| wall.width.get() >= wall.limit.get() * (1.0 - 1e-6)));
    }

    #[test]
    fn it_can_be_called_off() {
        let shop = Shop::built_in();
        let now = Tried::of(sample_job(&samples()[0]).unwrap());
        assert!(compare(&now, &shop, Between::Woods, &AtomicBool::new(true), &|_, _| ()).is_none());
    }
}
