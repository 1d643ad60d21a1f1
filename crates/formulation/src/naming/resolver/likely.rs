//! What a row that names nothing may mean: misspelt names, then names with its words.

use std::sync::PoisonError;

use super::evidence::Said;
use super::{Candidate, How, MOST, Resolution, Resolver, split_brackets};
use crate::naming::{blend, fold, spelling::Spelling, spoken, strength};

/// What makers leave out of the names of oils, in the English of the shelf.
const OIL: &str = "oil";

/// How far names lie that are spelt nearly so, with how they name which material.
fn near_to(name: &str, spellings: &[(Spelling, How, usize)]) -> Vec<(usize, How, usize)> {
    let asked = Spelling::of(name);
    let counts = asked.counts_near();
    let from = |count: usize| {
        let shorter = |(spelling, ..): &(Spelling, How, usize)| spelling.count() < count;
        spellings.partition_point(shorter)
    };
    let near = spellings.get(from(*counts.start())..from(*counts.end() + 1));
    let asked = asked.ready();
    let near = near.into_iter().flatten();
    let near =
        near.filter_map(|(spelling, how, place)| Some((asked.edits_to(spelling)?, *how, *place)));
    near.collect()
}

impl Resolver<'_> {
    /// What a row that names nothing may mean: misspelt names, then names with its words.
    pub(super) fn add_likely(&self, resolution: &mut Resolution, said: &Said<'_>) {
        let name = said.wanted.name.as_str();
        let first = resolution.candidates.is_empty();
        let list = blend::is_list(name);
        let (outer, _) = split_brackets(name);
        let named = if list { name } else { outer };
        let misspelt = !list && self.add_misspelt(resolution, said, named);
        let short = self.add_without_what_is_left_out(resolution, said);
        let worded = self.add_with_words(resolution, said, (named, list), misspelt || short);
        for place in self.named_within(name) {
            self.offer(How::Words, place, resolution, said);
        }
        // "Safflower" is perhaps its oil.
        if resolution.candidates.is_empty() && !said.english.is_empty() {
            let mut oil = said.english.clone();
            oil.push(OIL.to_owned());
            let places = self.spoken_short.get(&spoken::short_key(&oil));
            for &place in places.into_iter().flatten() {
                self.offer(How::Words, place, resolution, said);
            }
        }
        let taken = match (misspelt, short || worded) {
            (true, _) => How::Misspelt,
            (false, true) => How::Words,
            (false, false) => return,
        };
        let mut candidates = resolution.candidates.iter();
        let at = candidates.position(|c| c.how == taken && c.against.is_empty());
        if let Some(at) = at.filter(|_| first) {
            // The one taken stands first.
            let one = resolution.candidates.remove(at);
            resolution.candidates.insert(0, one);
            resolution.taken = true;
            resolution.doubts.push(taken.label().to_owned());
        }
    }

    /// Adds a material to the candidates, unless it is there; whether nothing speaks against it.
    fn offer(&self, how: How, place: usize, to: &mut Resolution, said: &Said<'_>) -> bool {
        let Some(known) = self.known.get(place) else {
            return false;
        };
        if to.candidates.iter().any(|c| c.id == known.material.id) {
            return false;
        }
        let weighed = self.weigh(how, place, said);
        let clear = weighed.against.is_empty();
        to.candidates.push(Candidate {
            id: known.material.id.clone(),
            name: known.material.name.clone(),
            how,
            against: weighed.against.join(", "),
        });
        clear
    }

    /// Adds materials whose names are spelt nearly so; whether one of them is clear.
    fn add_misspelt(&self, resolution: &mut Resolution, said: &Said<'_>, name: &str) -> bool {
        let mut near = near_to(name, &self.spellings);
        // "Sodium Laureth Sufate 28 %": the strength stands apart.
        if strength::stated(name).is_some() {
            let bare = fold::kept(name).join(" ");
            near.extend(near_to(&bare, &self.bare_spellings));
        }
        near.sort();
        let mut clear = false;
        for (_, _, place) in near.into_iter().take(MOST) {
            clear |= self.offer(How::Misspelt, place, resolution, said);
        }
        clear
    }

    /// Adds materials named without what makers leave out, "azelaic", "aceite de brócoli";
    /// whether just one of them is clear.
    fn add_without_what_is_left_out(&self, to: &mut Resolution, said: &Said<'_>) -> bool {
        let short = self.spoken_short.get(&spoken::short_key(&said.english));
        let mut clear = 0;
        for &place in short.into_iter().flatten() {
            clear += usize::from(self.offer(How::Words, place, to, said));
        }
        clear == 1
    }

    /// Adds materials that have the words of the row; whether one alone has them, and little
    /// else, and nothing was taken before.
    fn add_with_words(
        &self,
        resolution: &mut Resolution,
        said: &Said<'_>,
        (name, list): (&str, bool),
        mut taken: bool,
    ) -> bool {
        let base = fold::base(name);
        let base = base.split(' ').filter(|w| !w.is_empty());
        let base: Vec<String> = base.map(str::to_owned).collect();
        let asked = [
            base.join(" "),
            name.to_owned(),
            said.english.join(" "),
            said.wanted.inci.clone(),
        ];
        let alone = || !list && self.alone_with(&base, said.percent);
        let mut is_alone = None;
        let mut found = false;
        let kept = || self.heard.lock().unwrap_or_else(PoisonError::into_inner);
        let mut heard = kept().pop().unwrap_or_default();
        for (n, words) in asked.iter().enumerate() {
            if words.trim().is_empty() {
                continue;
            }
            let hits = self.index.search_heard(words, MOST, &mut heard);
            let places = hits.iter();
            let places = places.filter_map(|id| self.by_id.get(id.as_str()).copied());
            let alone = n < 2 && !taken && *is_alone.get_or_insert_with(alone);
            for place in places {
                let clear = self.offer(How::Words, place, resolution, said);
                found |= clear && alone && !taken;
                taken |= found;
            }
        }
        kept().push(heard);
        found
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
