//! What is being said of the walls of a carve.

use crate::app::work::proofed::Proofed;
use crate::proof::record::{CarvedWall, Record, Told};
use crate::proof::{Proof, WallRow, walls};
use crate::shop::{Cutter, Experience};
use std::collections::BTreeMap;
use std::sync::Arc;

/// No hand says of more walls than this whether they held; those nearest to their limits come first.
pub(crate) const MOST_WALLS: usize = 200;

/// The window of the record, and what was said in it; none of it is saved with a job.
#[derive(Default)]
pub(crate) struct RecordView {
    pub(crate) open: bool,
    /// The walls of the proof that is shown, least margin first.
    pub(crate) rows: Vec<WallRow>,
    /// Whose walls those are.
    of: Option<Arc<Proof>>,
    /// What became of walls, by their ids: whether each held.
    pub(crate) said: BTreeMap<String, bool>,
    /// What is on record already.
    record: Record,
    /// What that comes to for each cutter of the job, by its name.
    pub(crate) learned: Vec<(String, Experience)>,
    /// Whether chances came true; empty where nothing is on record.
    pub(crate) told: Vec<Told>,
}

impl RecordView {
    /// Takes in what is on record.
    pub(crate) fn know(&mut self, record: Record) {
        self.record = record;
        self.of = None;
    }

    /// Keeps up with the job's own proof, and no preview's. Walls that are gone are forgotten, and what was said of them.
    pub(crate) fn follow(&mut self, shown: &Proofed) {
        if !self.open || self.of.as_ref().is_some_and(|of| Arc::ptr_eq(of, &shown.proof)) {
            return;
        }
        self.of = Some(shown.proof.clone());
        self.rows = walls(&shown.job, &shown.measured, &shown.ratings);
        self.rows.truncate(MOST_WALLS);
        let rows = &self.rows;
        self.said.retain(|id, _| rows.iter().any(|row| row.id == *id));
        let job = &shown.job;
        let mut cutters: Vec<&Cutter> = Vec::new();
        for cutter in job.places().map(|place| job.cut(place).cutter) {
            if !cutters.iter().any(|known| known.id == cutter.id) {
                cutters.push(cutter);
            }
        }
        let learned = |cutter: &Cutter| Some((cutter.name.clone(), self.record.experience(cutter)?));
        self.learned = cutters.into_iter().filter_map(learned).collect();
        self.told = if self.record.walls.is_empty() { Vec::new() } else { self.record.told() };
    }

    /// Says of a wall what comes next: that it held, that it broke, and nothing again.
    pub(crate) fn turn(&mut self, id: &str) {
        match self.said.get(id) {
            None => self.said.insert(id.to_owned(), true),
            Some(true) => self.said.insert(id.to_owned(), false),
            Some(false) => self.said.remove(id),
        };
    }

    /// Says of every wall of which nothing was said that it held.
    pub(crate) fn rest_held(&mut self) {
        for row in &self.rows {
            self.said.entry(row.id.clone()).or_insert(true);
        }
    }

    /// How many are said to have held, and how many to have broken.
    pub(crate) fn counts(&self) -> [usize; 2] {
        let held = self.said.values().filter(|held| **held).count();
        [held, self.said.len() - held]
    }

    /// The walls of which something was said, as they were carved; nothing is said any more then.
    pub(crate) fn take(&mut self, shown: &Proofed) -> Vec<CarvedWall> {
        let said = std::mem::take(&mut self.said);
        let carved = |row: &WallRow| {
            Some(CarvedWall::of_row(&shown.job, &shown.ratings.limits, row, *said.get(&row.id)?))
        };
        self.rows.iter().filter_map(carved).collect()
    }
}
