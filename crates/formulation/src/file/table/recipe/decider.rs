//! Which material a row means, looked up once for the same words.

use std::collections::{HashMap, HashSet};
use std::sync::atomic::{AtomicUsize, Ordering};
use std::thread;

use super::MaterialChoice;
use crate::inventory::inventory;
use crate::naming::{Candidate, Resolution, Resolved, Resolver, Wanted};

/// What a row means and what of it had to be assumed.
#[derive(Clone, Debug)]
pub(in crate::file::table) struct Decision {
    pub(in crate::file::table) candidates: Vec<Candidate>,
    pub(in crate::file::table) choice: MaterialChoice,
    pub(in crate::file::table) suggestions: Vec<&'static str>,
    pub(in crate::file::table) doubts: Vec<String>,
}

/// Decides about rows; the same words are looked up once.
pub(in crate::file::table) struct Decider<'m, 's> {
    pub(super) matcher: &'m Resolver<'s>,
    known: HashMap<Wanted, Decision>,
    meant: HashMap<Wanted, Resolution>,
    /// What rows mean that were looked up side by side, until they are asked about.
    ready: HashMap<Wanted, Resolved>,
    /// Looking for the nearest of all INCI names is slow, so only so many names get it.
    searches_left: usize,
    /// Names for which it was not looked any more.
    not_searched: usize,
    /// The same for misspelt and similar names of the shelf.
    likely_left: usize,
}

/// More threads wait for the same memory.
const MOST_THREADS: usize = 8;
/// Unknown names for which the inventory is searched by spelling.
const MOST_SEARCHES: usize = 100;
/// Unknown names for which misspelt and similar names of the shelf are looked for; nobody
/// settles more questions than these by hand.
const MOST_LIKELY: usize = 1_000;

impl<'m, 's> Decider<'m, 's> {
    pub(in crate::file::table) fn new(matcher: &'m Resolver<'s>) -> Self {
        Self {
            matcher,
            known: HashMap::new(),
            meant: HashMap::new(),
            ready: HashMap::new(),
            searches_left: MOST_SEARCHES,
            not_searched: 0,
            likely_left: MOST_LIKELY,
        }
    }

    /// Looks up many rows side by side, so that they are known when they are asked about one
    /// after the other; what they mean does not depend on it.
    pub(in crate::file::table) fn prepare<'w>(
        &mut self,
        wanted: impl IntoIterator<Item = &'w Wanted>,
    ) {
        /// Fewer are looked up as soon.
        const ENOUGH: usize = 64;
        let is_new = |wanted: &&Wanted| {
            !self.meant.contains_key(*wanted) && !self.ready.contains_key(*wanted)
        };
        let mut seen = HashSet::new();
        let open: Vec<&Wanted> = wanted
            .into_iter()
            .filter(is_new)
            .filter(|wanted| seen.insert(*wanted))
            .collect();
        let threads = thread::available_parallelism().map_or(1, usize::from);
        if threads < 2 || open.len() < ENOUGH {
            return;
        }
        // More than are searched for is only work.
        let left = AtomicUsize::new(self.likely_left);
        let next = AtomicUsize::new(0);
        let take_one = |n: usize| n.checked_sub(1);
        let look_up = || {
            let likely = || {
                let taken = left.fetch_update(Ordering::Relaxed, Ordering::Relaxed, take_one);
                taken.is_ok()
            };
            let mut found = Vec::new();
            while let Some(wanted) = open.get(next.fetch_add(1, Ordering::Relaxed)) {
                found.push((*wanted, self.matcher.resolve_before(wanted, likely)));
            }
            found
        };
        let found: Vec<(&Wanted, Resolved)> = thread::scope(|scope| {
            let others: Vec<_> = (1..threads.min(MOST_THREADS))
                .map(|_| scope.spawn(look_up))
                .collect();
            let mut found = look_up();
            // What a thread did not bring to its end is looked up when it is asked about.
            found.extend(
                others
                    .into_iter()
                    .filter_map(|one| one.join().ok())
                    .flatten(),
            );
            found
        });
        let found = found.into_iter();
        self.ready
            .extend(found.map(|(wanted, resolved)| (wanted.clone(), resolved)));
    }

    /// The materials that a row may mean, what is taken unless the maker chooses
    /// otherwise, and inventory names spelt like it if that is a new material.
    pub(in crate::file::table) fn decide(&mut self, wanted: &Wanted) -> Decision {
        if let Some(known) = self.known.get(wanted) {
            return known.clone();
        }
        let decision = self.look_up(wanted);
        self.known.insert(wanted.clone(), decision.clone());
        decision
    }

    /// What is to be told if there were more unknown names than are looked for everywhere.
    pub(in crate::file::table) fn told(&self) -> Option<String> {
        (self.likely_left == 0).then(|| {
            format!(
                "more than {MOST_LIKELY} names are not on the shelf; for the others misspelt and similar names were not looked for"
            )
        })
    }

    /// What is worth knowing of names for which nothing was offered.
    pub(in crate::file::table) fn note(&self) -> Option<String> {
        (self.not_searched > 0).then(|| {
            format!(
                "for {} further unknown names no INCI names spelt like them were looked for; search the inventory for them on the shelf",
                self.not_searched
            )
        })
    }

    /// What a row means, looked up once, and among similar names only so many times.
    pub(in crate::file::table) fn meant(&mut self, wanted: &Wanted) -> &Resolution {
        if !self.meant.contains_key(wanted) {
            let left = &mut self.likely_left;
            let mut likely = || {
                let more = *left > 0;
                *left -= usize::from(more);
                more
            };
            let found = match self.ready.remove(wanted) {
                Some(Resolved::Known(known)) => known,
                Some(Resolved::Open(known, with)) => match (likely(), with) {
                    (false, _) => known,
                    (true, Some(with)) => with,
                    (true, None) => self.matcher.resolve(wanted),
                },
                None => self.matcher.resolve_while(wanted, likely),
            };
            self.meant.insert(wanted.clone(), found);
        }
        self.meant.entry(wanted.clone()).or_default()
    }

    fn look_up(&mut self, wanted: &Wanted) -> Decision {
        let found = self.meant(wanted).clone();
        if found.taken
            && let Some(best) = found.candidates.first()
        {
            return Decision {
                choice: MaterialChoice::Known(best.id.clone(), best.how),
                candidates: found.candidates,
                suggestions: Vec::new(),
                doubts: found.doubts,
            };
        }
        let written = if wanted.inci.is_empty() {
            &wanted.name
        } else {
            &wanted.inci
        };
        let suggestions = match inventory().by_name(written) {
            Some(entry) => vec![entry.name],
            None if wanted.inci_names().len() > 1 => Vec::new(),
            None if self.searches_left == 0 => {
                self.not_searched += 1;
                Vec::new()
            }
            None => {
                self.searches_left -= 1;
                inventory()
                    .nearest(written, 3)
                    .iter()
                    .map(|e| e.name)
                    .collect()
            }
        };
        Decision {
            candidates: found.candidates,
            choice: MaterialChoice::New,
            suggestions,
            doubts: found.doubts,
        }
    }
}
