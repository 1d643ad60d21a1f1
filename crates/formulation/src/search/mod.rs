//! Finding materials by words: name, synonym, INCI, CAS, role, supplier; ranked,
//! and forgiving of small misspellings.
//!
//! The index keeps every distinct word once, with the list of entries that hold it.
//! A query word is looked for among the distinct words, so the cost grows with the
//! vocabulary, not with the length of the shelf.

mod materials;
mod spelling;
#[cfg(test)]
mod tests;

use std::collections::HashMap;

pub use self::materials::{MaterialIndex, UseCounts};
pub(crate) use self::spelling::Pattern;
use self::spelling::{
    LONGEST, LetterCounts, MOST_EDITS, Rows, edits_allowed, edits_within, letters_of,
};
use crate::plain_words::words_of;

/// What part of an entry a word stands in; a word in the name counts for more than
/// one in the supplier's name.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub enum FoundIn {
    /// The name.
    Name,
    /// A CAS number.
    Cas,
    /// Another name.
    Synonym,
    /// An INCI name.
    Inci,
    /// An INCI name or CAS number of what the entry holds besides its main constituent.
    Part,
    /// A role, a function, a charge class.
    Role,
    /// The supplier.
    Supplier,
}

impl FoundIn {
    /// What a match in this field is worth, 1 being a match in the name.
    /// The order of worth is our own choice; only the ranking depends on it.
    const fn worth(self) -> f32 {
        match self {
            Self::Name | Self::Cas => 1.0,
            Self::Synonym => 0.9,
            Self::Inci => 0.85,
            Self::Part => 0.7,
            Self::Role => 0.6,
            Self::Supplier => 0.5,
        }
    }
}

/// How well a query word fits a word of the vocabulary; larger is better.
mod fit {
    pub const EXACT: f32 = 100.0;
    pub const START: f32 = 60.0;
    pub const INSIDE: f32 = 30.0;
    pub const MISSPELT: f32 = 25.0;
    /// Taken off per letter that differs.
    pub const PER_LETTER: f32 = 7.0;
    /// The name begins with the query's first word.
    pub const BEGINS: f32 = 25.0;
    /// The whole query is the whole name, or what it is called as well.
    pub const WHOLE_NAME: f32 = 80.0;
    /// Shared out among the words of the name, so that short names come first.
    pub const SHORT_NAME: f32 = 20.0;
}

/// One result of a search.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Hit {
    /// The entry, counted in the order of [`IndexBuilder::add`].
    pub entry: u32,
    /// How well it fits; only the order matters.
    pub score: f32,
}

/// What the words of queries fit, kept while one index is searched for many names: in a list the
/// same words come again and again.
#[derive(Debug, Default)]
pub struct Heard(HashMap<String, Fits>);

/// Per entry, how well a word fits it.
#[derive(Debug)]
struct Fits {
    strict: Vec<f32>,
    /// Taken as misspelt, if that was asked.
    loose: Option<Vec<f32>>,
}

impl Heard {
    /// Most words that are kept; beyond, all are forgotten.
    const MOST: usize = 512;

    fn make_room(&mut self) {
        if self.0.len() >= Self::MOST {
            self.0.clear();
        }
    }
}

/// Words of many entries, ready to be searched.
#[derive(Clone, Debug, Default)]
pub struct Index {
    /// All distinct words, each followed by a line feed.
    words: String,
    /// Where each word starts, and one more for the end.
    starts: Vec<u32>,
    /// Which letters each word has.
    letters: Vec<u32>,
    /// Where the postings of each word start, and one more for the end.
    posting_starts: Vec<u32>,
    /// Entry and field of every occurrence.
    postings: Vec<(u32, FoundIn)>,
    /// Name of each entry as its words joined by blanks.
    names: Vec<Box<str>>,
    /// How often each letter stands in each name.
    name_letters: Vec<LetterCounts>,
    /// Entries by what else they are called as a whole.
    called: HashMap<Box<str>, Vec<u32>>,
}

/// Collects the entries of an [`Index`].
#[derive(Debug, Default)]
pub struct IndexBuilder {
    words: HashMap<Box<str>, u32>,
    in_order: Vec<Box<str>>,
    postings: Vec<Vec<(u32, FoundIn)>>,
    names: Vec<Box<str>>,
    called: HashMap<Box<str>, Vec<u32>>,
}

impl IndexBuilder {
    /// Says what the entry added last is called as well: a query of just that finds it as one of
    /// its name does.
    pub fn also_called(&mut self, name: &str) {
        let entry = (self.names.len() as u32).saturating_sub(1);
        let of_name = self.called.entry(words_of(name).join(" ").into());
        let entries = of_name.or_default();
        if entries.last() != Some(&entry) {
            entries.push(entry);
        }
    }

    /// Adds an entry. Entries that fit a query equally well are found in the order
    /// in which they were added.
    pub fn add<'t>(&mut self, name: &str, fields: impl IntoIterator<Item = (FoundIn, &'t str)>) {
        let entry = self.names.len() as u32;
        self.names.push(words_of(name).join(" ").into());
        self.add_words(entry, FoundIn::Name, name);
        for (field, text) in fields {
            self.add_words(entry, field, text);
        }
    }

    fn add_words(&mut self, entry: u32, field: FoundIn, text: &str) {
        for word in words_of(text) {
            let number = if let Some(&number) = self.words.get(word.as_str()) {
                number
            } else {
                let number = self.in_order.len() as u32;
                let word: Box<str> = word.into();
                self.in_order.push(word.clone());
                self.words.insert(word, number);
                self.postings.push(Vec::new());
                number
            };
            if let Some(list) = self.postings.get_mut(number as usize)
                && !list.contains_at_end(entry, field)
            {
                list.push((entry, field));
            }
        }
    }

    /// The finished index.
    pub fn build(self) -> Index {
        let mut index = Index {
            name_letters: self.names.iter().map(|n| LetterCounts::of(n)).collect(),
            names: self.names,
            called: self.called,
            ..Index::default()
        };
        for (word, list) in self.in_order.iter().zip(&self.postings) {
            index.starts.push(index.words.len() as u32);
            index.letters.push(letters_of(word));
            index.words.push_str(word);
            index.words.push('\n');
            index.posting_starts.push(index.postings.len() as u32);
            index.postings.extend_from_slice(list);
        }
        index.starts.push(index.words.len() as u32);
        index.posting_starts.push(index.postings.len() as u32);
        index
    }
}

/// Postings are added entry by entry, so a repetition can only stand at the end.
trait ContainsAtEnd {
    fn contains_at_end(&self, entry: u32, field: FoundIn) -> bool;
}
impl ContainsAtEnd for Vec<(u32, FoundIn)> {
    fn contains_at_end(&self, entry: u32, field: FoundIn) -> bool {
        self.iter()
            .rev()
            .take_while(|(e, _)| *e == entry)
            .any(|(_, f)| *f == field)
    }
}

impl Index {
    /// How many entries it holds.
    pub fn len(&self) -> usize {
        self.names.len()
    }
    /// Whether it holds none.
    pub fn is_empty(&self) -> bool {
        self.names.is_empty()
    }

    /// The entries that hold every word of the query, best first, at most `most`.
    ///
    /// A word fits if it is the same, the start or (from two letters on) a part of a
    /// word of the entry. A word that fits nowhere is taken as misspelt: one letter
    /// may differ from four letters on, two from eight on (swapped neighbours count
    /// as one); numbers are not. If the words fit only apart, all of them are taken as misspelt.
    /// An empty query finds all entries in their order.
    pub fn search(&self, query: &str, most: usize) -> Vec<Hit> {
        self.search_with(query, most, |_| 0.0)
    }

    /// The same, where `favour` adds to the score of an entry that fits, for example because
    /// it is common; an exact word in the name is worth 100.
    pub fn search_with(&self, query: &str, most: usize, favour: impl Fn(usize) -> f32) -> Vec<Hit> {
        self.search_heard(query, most, favour, &mut Heard::default())
    }

    /// The same, where words that were asked before are not looked up again.
    fn search_heard(
        &self,
        query: &str,
        most: usize,
        favour: impl Fn(usize) -> f32,
        heard: &mut Heard,
    ) -> Vec<Hit> {
        let words = words_of(query);
        if words.is_empty() {
            return (0..self.names.len().min(most) as u32)
                .map(|entry| Hit { entry, score: 0.0 })
                .collect();
        }
        heard.make_room();
        for word in &words {
            if !heard.0.contains_key(word) {
                let strict = self.fits(word);
                heard.0.insert(
                    word.clone(),
                    Fits {
                        strict,
                        loose: None,
                    },
                );
            }
        }
        let fits = words.iter().filter_map(|word| heard.0.get(word));
        let strict: Vec<&[f32]> = fits.map(|fits| fits.strict.as_slice()).collect();
        let hits = self.combine(&words, &strict, most, &favour);
        if !hits.is_empty() || words.len() < 2 {
            return hits;
        }
        for word in &words {
            if let Some(fits) = heard.0.get_mut(word).filter(|fits| fits.loose.is_none()) {
                let mut scores = fits.strict.clone();
                self.misspelt(word, &mut scores);
                fits.loose = Some(scores);
            }
        }
        let fits = words.iter().filter_map(|word| heard.0.get(word));
        let loose: Vec<&[f32]> = fits.filter_map(|fits| fits.loose.as_deref()).collect();
        self.combine(&words, &loose, most, &favour)
    }

    /// Per entry, how well one query word fits its best word; 0 where it does not.
    fn fits(&self, query: &str) -> Vec<f32> {
        let mut scores = vec![0.0; self.names.len()];
        let mut found = false;
        let asked = letters_of(query);
        for (number, letters) in self.letters.iter().enumerate() {
            // Most words do not have all its letters.
            if asked & !letters != 0 {
                continue;
            }
            let word = self.word(number);
            let fit = if let Some(rest) = word.strip_prefix(query) {
                if rest.is_empty() {
                    fit::EXACT
                } else {
                    // A longer rest means a looser fit.
                    fit::START - rest.len().min(20) as f32
                }
            } else if query.len() >= 2 && word.contains(query) {
                fit::INSIDE
            } else {
                continue;
            };
            found = true;
            self.raise(number, fit, &mut scores);
        }
        if !found {
            self.misspelt(query, &mut scores);
        }
        scores
    }

    /// Adds to `scores` the entries whose words differ from the query word by a few letters.
    fn misspelt(&self, query: &str, scores: &mut [f32]) {
        let letters = query.chars().count();
        let most = edits_allowed(letters);
        // A mistyped number is not guessed at.
        if most == 0 || letters > LONGEST || !query.contains(char::is_alphabetic) {
            return;
        }
        let Some(pattern) = Pattern::of(query) else {
            return;
        };
        let mask = letters_of(query);
        for (number, word_mask) in self.letters.iter().enumerate() {
            if (mask & !word_mask).count_ones() as usize > most {
                continue;
            }
            let word = self.word(number);
            // Shorter words want more letters than may be left out.
            if word.len() + most < letters {
                continue;
            }
            if let Some((edits, whole)) = pattern.edits_to_start(word, most) {
                let fit = fit::MISSPELT - fit::PER_LETTER * edits as f32;
                self.raise(number, if whole { fit } else { fit - 3.0 }, scores);
            }
        }
    }

    /// One of the distinct words.
    fn word(&self, number: usize) -> &str {
        let bounds = self.starts.get(number).zip(self.starts.get(number + 1));
        // Behind each stands a line feed.
        bounds
            .and_then(|(start, end)| self.words.get(*start as usize..*end as usize - 1))
            .unwrap_or_default()
    }

    fn raise(&self, word: usize, fit: f32, scores: &mut [f32]) {
        let (Some(&from), Some(&to)) = (
            self.posting_starts.get(word),
            self.posting_starts.get(word + 1),
        ) else {
            return;
        };
        for &(entry, field) in self
            .postings
            .get(from as usize..to as usize)
            .unwrap_or_default()
        {
            if let Some(score) = scores.get_mut(entry as usize) {
                *score = score.max(fit * field.worth());
            }
        }
    }

    /// The entries that every word fits, ranked.
    fn combine(
        &self,
        words: &[String],
        scores: &[&[f32]],
        most: usize,
        favour: &impl Fn(usize) -> f32,
    ) -> Vec<Hit> {
        let whole = words.join(" ");
        let called = self.called.get(whole.as_str());
        let is_called = |entry: usize| called.is_some_and(|all| all.contains(&(entry as u32)));
        // The score in the upper half, turned over so that the best comes first, and
        // the entry in the lower half: sorting plain numbers is fastest.
        let mut ranked: Vec<u64> = Vec::new();
        for (entry, name) in self.names.iter().enumerate() {
            let mut sum = 0.0;
            let fits_all = scores.iter().all(|s| {
                let score = s.get(entry).copied().unwrap_or(0.0);
                sum += score;
                score > 0.0
            });
            if !fits_all {
                continue;
            }
            let words_in_name = 1 + name.bytes().filter(|&b| b == b' ').count();
            sum += fit::SHORT_NAME / words_in_name as f32;
            if words.first().is_some_and(|first| name.starts_with(first)) {
                sum += fit::BEGINS;
            }
            if **name == *whole || is_called(entry) {
                sum += fit::WHOLE_NAME;
            }
            sum += favour(entry).max(0.0);
            // Bits of positive floats are ordered as the floats are.
            ranked.push(u64::from(!sum.to_bits()) << 32 | entry as u64);
        }
        if most < ranked.len() {
            ranked.select_nth_unstable(most);
            ranked.truncate(most);
        }
        ranked.sort_unstable();
        ranked
            .into_iter()
            .map(|key| Hit {
                entry: key as u32,
                score: f32::from_bits(!((key >> 32) as u32)),
            })
            .collect()
    }

    /// Names of entries that are spelt most like `name`, nearest first, at most
    /// `most`, leaving out any that differ in more than about a third of the letters, or
    /// in more than eight.
    pub fn nearest_names(&self, name: &str, most: usize) -> Vec<Hit> {
        let wanted = words_of(name).join(" ");
        let length = wanted.chars().count();
        if length == 0 || most == 0 {
            return Vec::new();
        }
        let allowed = (length / 3).clamp(1, MOST_EDITS);
        let mut edits_to = edits_from(&wanted);
        let mut near: Vec<(usize, u32)> = Vec::with_capacity(most + 1);
        for (least, entries) in self.by_least_edits(&wanted, allowed).iter().enumerate() {
            for &entry in entries {
                // Once there are enough, only a nearer one counts, or as near an earlier one.
                let allowed = match near.last() {
                    Some((worst, _)) if near.len() == most && *worst < least => break,
                    Some((worst, last)) if near.len() == most && entry > *last => {
                        worst.checked_sub(1).filter(|edits| *edits >= least)
                    }
                    Some((worst, _)) if near.len() == most => Some(*worst),
                    _ => Some(allowed),
                };
                let name = self.names.get(entry as usize);
                let edits = allowed
                    .zip(name)
                    .and_then(|(most, name)| edits_to(name, most));
                let Some(edits) = edits else {
                    continue;
                };
                let place = near.partition_point(|known| *known <= (edits, entry));
                near.insert(place, (edits, entry));
                near.truncate(most);
            }
        }
        near.into_iter()
            .map(|(edits, entry)| Hit {
                entry,
                score: 1.0 - edits as f32 / length as f32,
            })
            .collect()
    }

    /// The entries whose names may lie at most so many edits from a name, by the edits that their
    /// letters alone make needed.
    fn by_least_edits(&self, name: &str, most: usize) -> Vec<Vec<u32>> {
        let letters = LetterCounts::of(name);
        let mut by_edits = vec![Vec::new(); most + 1];
        for (entry, own) in (0..).zip(&self.name_letters) {
            if let Some(entries) = by_edits.get_mut(letters.least_edits(own)) {
                entries.push(entry);
            }
        }
        by_edits
    }
}

/// How many edits a name lies from others, if at most so many.
fn edits_from(name: &str) -> impl FnMut(&str, usize) -> Option<usize> {
    let pattern = Pattern::of(name);
    let letters: Vec<char> = name.chars().collect();
    let (mut others, mut rows) = (Vec::new(), Rows::default());
    move |other, most| {
        if let Some(pattern) = &pattern {
            return pattern.edits_to(other, most);
        }
        others.clear();
        others.extend(other.chars());
        edits_within(&letters, &others, most, &mut rows)
    }
}
