//! What became of the walls of a carve: opened, kept up with, and put on record.

use crate::app::App;
use crate::job::Edit;
use crate::proof::record::Record;
use crate::shop::{Cutter, Shop};
use crate::words;
use crate::words::window::handle as said;

impl App {
    pub(crate) fn toggle_record(&mut self) {
        self.views.record.open ^= true;
        if !self.views.record.open {
            return;
        }
        let Some(folder) = &self.shop_folder else { return };
        match Record::read_or_new(&Record::path_in(folder)) {
            Ok(record) => self.views.record.know(record),
            Err(error) => self.warn(error.to_string()),
        }
    }

    /// Lists the walls of the shown job, where they are asked for.
    pub(crate) fn follow_walls(&mut self) {
        if let Some(shown) = self.shelf.shown() {
            self.views.record.follow(&shown.proofed);
        }
    }

    /// Puts on record what was said of walls. The shop's cutters learn from it, and the job's own takes that.
    ///
    /// A few kilobytes are written at once, as with everything of the shop's.
    pub(crate) fn keep_record(&mut self) {
        let Some(shown) = self.shelf.shown().filter(|shown| shown.is_current()) else { return };
        let Some(folder) = self.shop_folder.clone() else {
            self.warn(words::window::NO_SHOP_FOLDER);
            return;
        };
        let said_before = self.views.record.said.clone();
        let carved = self.views.record.take(&shown.proofed);
        let count = carved.len();
        let kept = Record::change(&Record::path_in(&folder), |record| record.walls.extend(carved));
        match kept {
            Ok(record) => {
                self.learn_from(&record, &folder);
                self.views.record.know(record);
                self.say(said::walls_on_record(count));
            }
            Err(error) => {
                // Nothing was kept: what was said stays to be tried again.
                self.views.record.said = said_before;
                self.warn(error.to_string());
            }
        }
    }

    /// Keeps what the record says of each cutter with it, in the shop and in the job.
    fn learn_from(&mut self, record: &Record, folder: &std::path::Path) {
        let Some(job) = self.job() else { return };
        let own = job.cutter().clone();
        let mut cutters: Vec<Cutter> = self.shop.cutters.clone();
        if !cutters.iter().any(|cutter| cutter.id == own.id) {
            cutters.push(own.clone());
        }
        for cutter in record.learned(&cutters) {
            match Shop::keep_cutter(folder, &cutter) {
                Ok(aside) => self.tell_aside(aside.as_ref()),
                Err(error) => {
                    self.warn(error.to_string());
                    return;
                }
            }
        }
        self.shop = Shop::open(folder, &self.usual_money).0;
        // The job's own cutter may have a reference wall of its own.
        if let Some(learned) = record.learned(&[own]).pop() {
            self.edit(Edit::Cutter(Box::new(learned)));
        }
    }
}
