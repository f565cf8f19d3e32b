//! What readers notice about input and carry on from, as facts.
//!
//! Each room has an enum of what it may notice; a reader pushes to one [`Notices`] and goes on. The room
//! `words` turns a notice into a sentence and a hint.

use serde::{Deserialize, Serialize};

/// The most notices that one reading keeps; a hostile file may ask for millions. A round value of our own,
/// more than anyone reads.
pub const MOST_NOTICES: usize = 100;

/// How much a notice matters.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Importance {
    /// Worth knowing; the result is what one would expect.
    Remark,
    /// Something was left out or changed.
    LeftOut,
}

/// Everything noticed in one reading, in the order it was noticed: at most [`MOST_NOTICES`], none twice, and
/// a count of those beyond.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(from = "Saved<N>", bound(deserialize = "N: Deserialize<'de> + PartialEq"))]
pub struct Notices<N> {
    kept: Vec<N>,
    more: usize,
}

/// As a file holds them: it may hold too many.
#[derive(Deserialize)]
#[serde(deny_unknown_fields, bound(deserialize = "N: Deserialize<'de>"))]
struct Saved<N> {
    kept: Vec<N>,
    more: usize,
}

impl<N: PartialEq> From<Saved<N>> for Notices<N> {
    fn from(saved: Saved<N>) -> Notices<N> {
        let mut notices: Notices<N> = saved.kept.into_iter().collect();
        notices.more = notices.more.saturating_add(saved.more);
        notices
    }
}

impl<N> Default for Notices<N> {
    fn default() -> Notices<N> {
        Notices { kept: Vec::new(), more: 0 }
    }
}

impl<N: PartialEq> Notices<N> {
    /// Nothing noticed yet.
    pub fn new() -> Notices<N> {
        Notices::default()
    }

    /// Adds a notice, unless the same one is there.
    ///
    /// ```
    /// # use spelk::notice::{MOST_NOTICES, Notices};
    /// let mut notices = Notices::new();
    /// for number in 0..MOST_NOTICES + 7 {
    ///     notices.push(number);
    ///     notices.push(0);
    /// }
    /// assert_eq!((notices.len(), notices.more()), (MOST_NOTICES, 7));
    /// ```
    pub fn push(&mut self, notice: N) {
        if self.kept.contains(&notice) {
            return;
        }
        if self.kept.len() < MOST_NOTICES {
            self.kept.push(notice);
        } else {
            self.more = self.more.saturating_add(1);
        }
    }

    /// Adds the notice of what was seen `count` times, unless it was never seen.
    pub fn push_count(&mut self, count: usize, notice: impl FnOnce(usize) -> N) {
        if count > 0 {
            self.push(notice(count));
        }
    }

    /// Drops the notices that `keep` refuses.
    pub fn retain(&mut self, keep: impl FnMut(&N) -> bool) {
        self.kept.retain(keep);
    }

    /// How many notices are kept.
    pub fn len(&self) -> usize {
        self.kept.len()
    }

    /// Whether nothing was noticed.
    pub fn is_empty(&self) -> bool {
        self.kept.is_empty()
    }

    /// How many notices were dropped because there were too many.
    pub fn more(&self) -> usize {
        self.more
    }

    /// The notices that are kept.
    pub fn iter(&self) -> std::slice::Iter<'_, N> {
        self.kept.iter()
    }
}

impl<N: PartialEq> FromIterator<N> for Notices<N> {
    fn from_iter<I: IntoIterator<Item = N>>(notices: I) -> Notices<N> {
        let mut all = Notices::new();
        for notice in notices {
            all.push(notice);
        }
        all
    }
}

impl<N: PartialEq> Extend<N> for Notices<N> {
    fn extend<I: IntoIterator<Item = N>>(&mut self, notices: I) {
        for notice in notices {
            self.push(notice);
        }
    }
}

impl<'a, N: PartialEq> IntoIterator for &'a Notices<N> {
    type Item = &'a N;
    type IntoIter = std::slice::Iter<'a, N>;

    fn into_iter(self) -> std::slice::Iter<'a, N> {
        self.iter()
    }
}

impl<N> IntoIterator for Notices<N> {
    type Item = N;
    type IntoIter = std::vec::IntoIter<N>;

    fn into_iter(self) -> std::vec::IntoIter<N> {
        self.kept.into_iter()
    }
}
