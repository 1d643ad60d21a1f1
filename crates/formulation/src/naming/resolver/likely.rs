//! What a row that names nothing may mean: misspelt names, then names with its words.

use std::sync::PoisonError;

use super::evidence::Said;
use super::{Candidate, How, MOST, Resolution, Resolver, split_brackets};
use crate::naming::{blend, fold, spelling::Spelling, spoken, strength};

/// What makers leave out of the names of oils, in the English of the shelf.
const OIL: &str = "oil";

impl Resolver<'_> {
    /// What a row that names nothing may mean: misspelt names, then names with its words.
    pub(super) fn add_likely(&self, resolution: &mut Resolution, said: &Said<'_>) {
        let wanted = said.wanted;
        let first = resolution.candidates.is_empty();
        let (outer, _) = split_brackets(&wanted.name);
        let list = blend::is_list(&wanted.name);
        let name = if list { wanted.name.as_str() } else { outer };
        let offer = |how: How, place: usize, resolution: &mut Resolution| {
            let Some(known) = self.known.get(place) else {
                return false;
            };
            if resolution
                .candidates
                .iter()
                .any(|c| c.id == known.material.id)
            {
                return false;
            }
            let weighed = self.weigh(how, place, said);
            let clear = weighed.against.is_empty();
            resolution.candidates.push(Candidate {
                id: known.material.id.clone(),
                name: known.material.name.clone(),
                how,
                against: weighed.against.join(", "),
            });
            clear
        };
        let mut taken = None;
        if !list {
            let asked = Spelling::of(name);
            let mut near: Vec<(usize, How, usize)> = self
                .spellings
                .iter()
                .filter_map(|(spelling, how, place)| {
                    Some((asked.edits_to(spelling)?, *how, *place))
                })
                .collect();
            near.sort();
            for (_, _, place) in near.into_iter().take(MOST) {
                if offer(How::Misspelt, place, resolution) && taken.is_none() {
                    taken = Some(How::Misspelt);
                }
            }
        }
        let base: Vec<String> = fold::base(name)
            .split(' ')
            .filter(|w| !w.is_empty())
            .map(str::to_owned)
            .collect();
        // Names without what makers leave out: "azelaic", "aceite de brócoli".
        let short = self.spoken_short.get(&spoken::short_key(&said.english));
        let mut clear = 0;
        for &place in short.into_iter().flatten() {
            clear += usize::from(offer(How::Words, place, resolution));
        }
        if clear == 1 && taken.is_none() {
            taken = Some(How::Words);
        }
        let english = said.english.join(" ");
        let asked = [
            base.join(" "),
            name.to_owned(),
            english,
            wanted.inci.clone(),
        ];
        let alone = || !list && self.alone_with(&base, said.percent);
        let mut is_alone = None;
        let mut heard = self.heard.lock().unwrap_or_else(PoisonError::into_inner);
        for (n, words) in asked.iter().enumerate() {
            if words.trim().is_empty() {
                continue;
            }
            let hits = self.index.search_heard(words, MOST, &mut heard);
            let places: Vec<usize> = hits
                .iter()
                .filter_map(|id| self.by_id.get(id.as_str()).copied())
                .collect();
            // One material alone has these words, and little else.
            let alone = n < 2 && taken.is_none() && *is_alone.get_or_insert_with(alone);
            for place in places {
                if offer(How::Words, place, resolution) && alone && taken.is_none() {
                    taken = Some(How::Words);
                }
            }
        }
        drop(heard);
        for place in self.named_within(&wanted.name) {
            offer(How::Words, place, resolution);
        }
        // "Safflower" is perhaps its oil.
        if resolution.candidates.is_empty() && !said.english.is_empty() {
            let mut oil = said.english.clone();
            oil.push(OIL.to_owned());
            for &place in self
                .spoken_short
                .get(&spoken::short_key(&oil))
                .into_iter()
                .flatten()
            {
                offer(How::Words, place, resolution);
            }
        }
        if let Some(how) = taken
            && first
        {
            // The one taken stands first.
            if let Some(at) = resolution
                .candidates
                .iter()
                .position(|c| c.how == how && c.against.is_empty())
            {
                let one = resolution.candidates.remove(at);
                resolution.candidates.insert(0, one);
                resolution.taken = true;
                resolution.doubts.push(how.label().to_owned());
            }
        }
    }

    /// The materials whose names stand within a name, the longest first: "olive oil" in
    /// "Calendula infused olive oil".
    fn named_within(&self, name: &str) -> Vec<usize> {
        /// Fewer letters are no name of a material by themselves.
        const FEWEST: usize = 3;
        /// Longer texts are no names.
        const MOST_WORDS: usize = 12;
        let words = fold::spelt_out(name);
        let mut found: Vec<usize> = Vec::new();
        if words.len() > MOST_WORDS {
            return found;
        }
        let mut covered = vec![false; words.len()];
        for length in (1..words.len()).rev() {
            for start in 0..=words.len() - length {
                let range = start..start + length;
                let free = covered
                    .get(range.clone())
                    .is_some_and(|c| !c.contains(&true));
                let Some(part) = words.get(range.clone()).filter(|_| free) else {
                    continue;
                };
                let text = part.join(" ");
                if text.len() < FEWEST {
                    continue;
                }
                let sorted = fold::sorted(&text);
                let places: Vec<usize> = [
                    self.names.get(&text),
                    self.synonyms.get(&text),
                    self.sorted.get(&sorted),
                    self.everyday.get(&sorted),
                    self.mains.get(&text),
                ]
                .into_iter()
                .flatten()
                .flatten()
                .copied()
                .collect();
                if places.is_empty() {
                    continue;
                }
                if let Some(covered) = covered.get_mut(range) {
                    covered.fill(true);
                }
                // Of each name the likeliest.
                found.extend(places.into_iter().take(2));
            }
        }
        found
    }

    /// Whether exactly one material of the strength stated has all these words in its name,
    /// and they are at least half of its words.
    pub(super) fn alone_with(&self, asked: &[String], percent: Option<f64>) -> bool {
        if asked.is_empty() || asked.iter().all(|w| w.chars().count() < 3) {
            return false;
        }
        let mut count = 0;
        let mut half = false;
        for known in &self.known {
            let fits = percent.is_none_or(|p| strength::fits(known.material, p) == Some(true));
            if fits && asked.iter().all(|w| known.base.contains(w)) {
                count += 1;
                half = asked.len() * 2 >= known.base.len();
            }
        }
        count == 1 && half
    }
}
