//! Finding materials by words: name, synonym, INCI, CAS, role, supplier; ranked,
//! and forgiving of small misspellings.
//!
//! The index keeps every distinct word once, with the list of entries that hold it.
//! A query word is looked for among the distinct words, so the cost grows with the
//! vocabulary, not with the length of the shelf.

use std::collections::HashMap;
use std::sync::Arc;

use crate::material::{Class, Constituent, Material, MaterialId};
pub use crate::naming::words_of;

/// What part of an entry a word stands in; a word in the name counts for more than
/// one in the supplier's name.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub enum Field {
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

impl Field {
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
    /// The whole query is the whole name.
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
    postings: Vec<(u32, Field)>,
    /// Name of each entry as its words joined by blanks.
    names: Vec<Box<str>>,
    /// Which letters each name has.
    name_letters: Vec<u32>,
}

/// Collects the entries of an [`Index`].
#[derive(Debug, Default)]
pub struct IndexBuilder {
    words: HashMap<Box<str>, u32>,
    in_order: Vec<Box<str>>,
    postings: Vec<Vec<(u32, Field)>>,
    names: Vec<Box<str>>,
}

impl IndexBuilder {
    /// Adds an entry. Entries that fit a query equally well are found in the order
    /// in which they were added.
    pub fn add<'t>(&mut self, name: &str, fields: impl IntoIterator<Item = (Field, &'t str)>) {
        let entry = self.names.len() as u32;
        self.names.push(words_of(name).join(" ").into());
        self.add_words(entry, Field::Name, name);
        for (field, text) in fields {
            self.add_words(entry, field, text);
        }
    }

    fn add_words(&mut self, entry: u32, field: Field, text: &str) {
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
            name_letters: self.names.iter().map(|n| letters_of(n)).collect(),
            names: self.names,
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
    fn contains_at_end(&self, entry: u32, field: Field) -> bool;
}
impl ContainsAtEnd for Vec<(u32, Field)> {
    fn contains_at_end(&self, entry: u32, field: Field) -> bool {
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
        let words = words_of(query);
        if words.is_empty() {
            return (0..self.names.len().min(most) as u32)
                .map(|entry| Hit { entry, score: 0.0 })
                .collect();
        }
        let strict: Vec<Vec<f32>> = words.iter().map(|w| self.fits(w)).collect();
        let mut hits = self.combine(&words, &strict, most, &favour);
        if hits.is_empty() && words.len() > 1 {
            let loose: Vec<Vec<f32>> = words
                .iter()
                .zip(strict)
                .map(|(word, mut scores)| {
                    self.misspelt(word, &mut scores);
                    scores
                })
                .collect();
            hits = self.combine(&words, &loose, most, &favour);
        }
        hits
    }

    /// Per entry, how well one query word fits its best word; 0 where it does not.
    fn fits(&self, query: &str) -> Vec<f32> {
        let mut scores = vec![0.0; self.names.len()];
        let mut found = false;
        for (at, _) in self.words.match_indices(query) {
            let number = self.starts.partition_point(|&s| s as usize <= at) - 1;
            let (Some(&start), Some(&end)) = (self.starts.get(number), self.starts.get(number + 1))
            else {
                continue;
            };
            let length = (end - start) as usize - 1;
            let fit = if at == start as usize {
                if length == query.len() {
                    fit::EXACT
                } else {
                    // A longer rest means a looser fit.
                    fit::START - (length - query.len()).min(20) as f32
                }
            } else if query.len() >= 2 {
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
        let letters: Vec<char> = query.chars().collect();
        let most = edits_allowed(letters.len());
        // A mistyped number is not guessed at.
        if most == 0 || letters.len() > LONGEST || !letters.iter().any(|c| c.is_alphabetic()) {
            return;
        }
        let mask = letters_of(query);
        for (number, pair) in self.starts.windows(2).enumerate() {
            let [start, end] = *pair else { continue };
            let word_mask = self.letters.get(number).copied().unwrap_or(u32::MAX);
            if (mask & !word_mask).count_ones() as usize > most {
                continue;
            }
            let Some(word) = self.words.get(start as usize..end as usize - 1) else {
                continue;
            };
            if let Some((edits, whole)) = edits_between(&letters, word, most) {
                let fit = fit::MISSPELT - fit::PER_LETTER * edits as f32;
                self.raise(number, if whole { fit } else { fit - 3.0 }, scores);
            }
        }
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
        scores: &[Vec<f32>],
        most: usize,
        favour: &impl Fn(usize) -> f32,
    ) -> Vec<Hit> {
        let whole = words.join(" ");
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
            if **name == *whole {
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
        if length == 0 {
            return Vec::new();
        }
        let letters: Vec<char> = wanted.chars().collect();
        let mask = letters_of(&wanted);
        let mut allowed = (length / 3).clamp(1, MOST_EDITS);
        let mut near: Vec<(usize, u32)> = Vec::with_capacity(most + 1);
        let (mut other, mut rows) = (Vec::new(), Rows::default());
        let pattern = Pattern::of(&wanted);
        for (entry, (candidate, set)) in self.names.iter().zip(&self.name_letters).enumerate() {
            // A letter put in, left out or changed adds at most one to what one set
            // has and the other has not.
            if candidate.len().abs_diff(length) > allowed
                || (mask & !set).count_ones() as usize > allowed
                || (set & !mask).count_ones() as usize > allowed
            {
                continue;
            }
            let edits = if let Some(pattern) = &pattern {
                pattern.edits_to(candidate, allowed)
            } else {
                other.clear();
                other.extend(candidate.chars());
                edits_within(&letters, &other, allowed, &mut rows)
            };
            let Some(edits) = edits else {
                continue;
            };
            let place = near.partition_point(|(e, _)| *e <= edits);
            near.insert(place, (edits, entry as u32));
            near.truncate(most);
            // Once there are enough, only a nearer one counts.
            if near.len() == most
                && let Some((worst, _)) = near.last()
            {
                let Some(less) = worst.checked_sub(1) else {
                    break;
                };
                allowed = less;
            }
        }
        near.into_iter()
            .map(|(edits, entry)| Hit {
                entry,
                score: 1.0 - edits as f32 / length as f32,
            })
            .collect()
    }
}

/// Names that differ in more letters than these are not taken for misspellings of each other,
/// however long they are.
const MOST_EDITS: usize = 8;

/// A name made ready to be compared with many others, a column of the table of distances at
/// a time in the bits of one number.
///
/// Hyyrö, "A bit-vector algorithm for computing Levenshtein and Damerau edit distances",
/// Nordic Journal of Computing 10 (2003) 29–39: optimal string alignment.
struct Pattern {
    /// Where each letter stands, one bit a place.
    ascii: [u64; 128],
    others: Vec<(char, u64)>,
    length: usize,
}

impl Pattern {
    /// Prepares a name of at most 64 letters.
    fn of(name: &str) -> Option<Self> {
        let length = name.chars().count();
        if length == 0 || length > 64 {
            return None;
        }
        let mut pattern = Self {
            ascii: [0; 128],
            others: Vec::new(),
            length,
        };
        for (place, letter) in name.chars().enumerate() {
            let bit = 1_u64 << place;
            if let Some(places) = pattern.ascii.get_mut(letter as usize) {
                *places |= bit;
            } else if let Some((_, places)) = pattern
                .others
                .iter_mut()
                .find(|(known, _)| *known == letter)
            {
                *places |= bit;
            } else {
                pattern.others.push((letter, bit));
            }
        }
        Some(pattern)
    }

    fn places(&self, letter: char) -> u64 {
        self.ascii.get(letter as usize).copied().unwrap_or_else(|| {
            let known = self.others.iter().find(|(known, _)| *known == letter);
            known.map_or(0, |(_, places)| *places)
        })
    }

    /// As [`edits_within`] from this name to another.
    fn edits_to(&self, other: &str, most: usize) -> Option<usize> {
        let last = 1_u64 << (self.length - 1);
        let (mut up, mut down, mut diagonal, mut before) = (u64::MAX, 0_u64, 0_u64, 0_u64);
        let mut edits = self.length;
        let mut left = other.chars().count();
        for letter in other.chars() {
            let here = self.places(letter);
            let swapped = ((!diagonal & here) << 1) & before;
            diagonal = ((here & up).wrapping_add(up) ^ up) | here | down | swapped;
            let more = down | !(diagonal | up);
            let less = diagonal & up;
            if more & last != 0 {
                edits += 1;
            } else if less & last != 0 {
                edits -= 1;
            }
            let more = (more << 1) | 1;
            up = (less << 1) | !(diagonal | more);
            down = more & diagonal;
            before = here;
            left -= 1;
            // Each further letter takes away one at most.
            if edits > most + left {
                return None;
            }
        }
        (edits <= most).then_some(edits)
    }
}

/// Three rows of the table that [`edits_within`] fills, kept from one call to the next.
type Rows = [Vec<usize>; 3];

/// Letters put in, left out, changed or swapped with a neighbour that turn `a` into `b`
/// (optimal string alignment), if at most `most`: only the band of the table in which so
/// few can lie is worked out.
fn edits_within(a: &[char], b: &[char], most: usize, rows: &mut Rows) -> Option<usize> {
    if a.len().abs_diff(b.len()) > most {
        return None;
    }
    let far = most + 1;
    let [before, last, now] = rows;
    for row in [&mut *before, &mut *last, &mut *now] {
        row.clear();
        row.resize(b.len() + 1, far);
    }
    for (column, cell) in last.iter_mut().enumerate().take(far) {
        *cell = column;
    }
    for (i, &letter) in a.iter().enumerate() {
        let (from, to) = (i.saturating_sub(most), (i + most + 1).min(b.len()));
        now.fill(far);
        if i < most {
            now[0] = i + 1;
        }
        let mut least = now[0];
        for j in from..to {
            let changed = usize::from(b[j] != letter);
            let mut cost = (last[j] + changed).min(last[j + 1] + 1).min(now[j] + 1);
            if i > 0 && j > 0 && letter == b[j - 1] && a[i - 1] == b[j] {
                cost = cost.min(before[j - 1] + 1);
            }
            now[j + 1] = cost.min(far);
            least = least.min(cost);
        }
        if least > most {
            return None;
        }
        std::mem::swap(before, last);
        std::mem::swap(last, now);
    }
    last.last().copied().filter(|edits| *edits <= most)
}

/// Raw materials ready to be searched.
#[derive(Clone, Debug, Default)]
pub struct MaterialIndex {
    index: Index,
    ids: Vec<MaterialId>,
    /// How common each is, as an addition to its score.
    common: Vec<f32>,
}

/// How often a maker has used each material.
pub type Usage = HashMap<MaterialId, u32>;

/// What familiarity and use add to a score: by the logarithm, so that the tenth use counts
/// for less than the first. Our own choice; only the ranking depends on it.
mod favour {
    pub const COMMON: f32 = 4.0;
    pub const STAPLE: f32 = 30.0;
    pub const USED: f32 = 22.0;
}

/// The everyday names that mean each material, the most usual form alone counted as common.
struct Everyday {
    names: HashMap<&'static MaterialId, Vec<&'static str>>,
    first: HashMap<&'static MaterialId, usize>,
}

impl Everyday {
    fn of_built_in() -> Self {
        let mut all = Self {
            names: HashMap::new(),
            first: HashMap::new(),
        };
        for plain in crate::built_in::plain_names() {
            for (place, id) in plain.materials.iter().enumerate() {
                all.names.entry(id).or_default().push(&plain.name);
                if place == 0 {
                    *all.first.entry(id).or_default() += 1;
                }
            }
        }
        all
    }
}

impl MaterialIndex {
    /// Indexes materials by name, synonyms, INCI, CAS, roles, charge and supplier.
    /// Equally good results will come in the order of their names.
    pub fn new<'m>(materials: impl IntoIterator<Item = &'m Arc<Material>>) -> Self {
        Self::with(materials, false)
    }

    /// The same with everyday names in all languages and everyday words for roles, and with
    /// what is common before what is rare: for a person who searches.
    pub fn for_people<'m>(materials: impl IntoIterator<Item = &'m Arc<Material>>) -> Self {
        Self::with(materials, true)
    }

    fn with<'m>(materials: impl IntoIterator<Item = &'m Arc<Material>>, everyday: bool) -> Self {
        let everyday = everyday.then(Everyday::of_built_in);
        let mut materials: Vec<&Arc<Material>> = materials.into_iter().collect();
        materials.sort_by_cached_key(|m| (m.name.to_lowercase(), m.id.clone()));
        let mut builder = IndexBuilder::default();
        let mut ids = Vec::with_capacity(materials.len());
        let mut common = Vec::with_capacity(materials.len());
        for material in materials {
            let main = main_constituent(material);
            let field = |place: usize, own: Field| {
                if Some(place) == main {
                    own
                } else {
                    Field::Part
                }
            };
            let constituents = material.constituents.iter().enumerate();
            let cas: Vec<(Field, String)> = constituents
                .clone()
                .filter_map(|(i, c)| Some((field(i, Field::Cas), c.cas?.to_string())))
                .collect();
            let fields = material
                .synonyms
                .iter()
                .map(|s| (Field::Synonym, s.as_ref()))
                .chain(constituents.map(|(i, c)| (field(i, Field::Inci), c.inci.as_ref())))
                .chain(cas.iter().map(|(field, cas)| (*field, cas.as_str())))
                .chain(material.roles.iter().map(|r| (Field::Role, r.label())))
                .chain(material.charge.map(|c| (Field::Role, c.label())))
                .chain(
                    material
                        .supplier
                        .iter()
                        .map(|s| (Field::Supplier, s.as_ref())),
                );
            let names = everyday.as_ref().and_then(|e| e.names.get(&material.id));
            let names = names.into_iter().flatten();
            let words = everyday
                .is_some()
                .then(|| crate::file::role_words::of(material));
            let words = words.iter().flatten();
            builder.add(
                &material.name,
                fields
                    .chain(names.map(|name| (Field::Synonym, *name)))
                    .chain(words.map(|word| (Field::Role, *word))),
            );
            let first = everyday.as_ref().and_then(|e| e.first.get(&material.id));
            let staple = everyday.is_some() && crate::file::role_words::is_staple(material);
            let by_names = first.map_or(0.0, |&n| favour::COMMON * (n as f32).ln_1p());
            common.push(by_names + if staple { favour::STAPLE } else { 0.0 });
            ids.push(material.id.clone());
        }
        Self {
            index: builder.build(),
            ids,
            common,
        }
    }

    /// Ids of the materials that fit the words, best first, at most `most`.
    /// See [`Index::search`]; an empty query finds all by name.
    pub fn search(&self, query: &str, most: usize) -> Vec<MaterialId> {
        self.search_used(query, most, &Usage::new())
    }

    /// The same, with what was used often before what was not.
    pub fn search_used(&self, query: &str, most: usize, used: &Usage) -> Vec<MaterialId> {
        let favour = |entry: usize| {
            let common = self.common.get(entry).copied().unwrap_or(0.0);
            let times = self.ids.get(entry).and_then(|id| used.get(id));
            common + times.map_or(0.0, |&n| favour::USED * (n as f32).ln_1p())
        };
        self.index
            .search_with(query, most, favour)
            .into_iter()
            .filter_map(|hit| self.ids.get(hit.entry as usize).cloned())
            .collect()
    }

    /// Ids of the materials whose names are spelt most like `name`, with the
    /// likeness from 0 to 1, nearest first.
    pub fn nearest_names(&self, name: &str, most: usize) -> Vec<(MaterialId, f32)> {
        self.index
            .nearest_names(name, most)
            .into_iter()
            .filter_map(|hit| Some((self.ids.get(hit.entry as usize)?.clone(), hit.score)))
            .collect()
    }
}

/// The constituent that a material is bought for, as far as its composition tells: the
/// largest that is neither water nor incidental, or else the largest.
fn main_constituent(material: &Material) -> Option<usize> {
    let rank = |c: &Constituent| {
        let bought_for = c.class != Class::Water && c.incidental.is_none();
        (bought_for, c.share.typical.as_percent())
    };
    let places = material.constituents.iter().map(rank).enumerate();
    places
        .max_by(|(i, (a, of_a)), (k, (b, of_b))| {
            let by_rank = a.cmp(b).then(of_a.total_cmp(of_b));
            // Of two alike, the first.
            by_rank.then(k.cmp(i))
        })
        .map(|(place, _)| place)
}

/// Words longer than this are not searched for misspellings.
const LONGEST: usize = 40;

/// How many letters may differ in a misspelt word of this many letters.
const fn edits_allowed(length: usize) -> usize {
    match length {
        0..=3 => 0,
        4..=7 => 1,
        _ => 2,
    }
}

/// Smallest number of letters put in, left out, changed or swapped with a neighbour
/// that turns `query` into `word` or into the start of it, if at most `most`
/// (optimal string alignment); and whether it is the whole of `word`.
fn edits_between(query: &[char], word: &str, most: usize) -> Option<(usize, bool)> {
    let rows = query.len();
    if rows > LONGEST {
        return None;
    }
    // Columns of the usual table, one per letter of `word`, three kept.
    let mut before = [0_usize; LONGEST + 1];
    let mut last = [0_usize; LONGEST + 1];
    let mut now = [0_usize; LONGEST + 1];
    for (row, cell) in last.iter_mut().enumerate() {
        *cell = row;
    }
    let mut best_start = rows;
    let mut previous = '\0';
    let mut columns = 0;
    for letter in word.chars() {
        columns += 1;
        now[0] = columns;
        let mut least = columns;
        for row in 1..=rows {
            let same = query[row - 1] == letter;
            let mut cost = (last[row - 1] + usize::from(!same))
                .min(last[row] + 1)
                .min(now[row - 1] + 1);
            if columns > 1 && row > 1 && query[row - 1] == previous && query[row - 2] == letter {
                cost = cost.min(before[row - 2] + 1);
            }
            now[row] = cost;
            least = least.min(cost);
        }
        best_start = best_start.min(now[rows]);
        if least > most {
            return (best_start <= most).then_some((best_start, false));
        }
        previous = letter;
        std::mem::swap(&mut before, &mut last);
        std::mem::swap(&mut last, &mut now);
        if columns > rows + most {
            return (best_start <= most).then_some((best_start, false));
        }
    }
    if last[rows] <= most && last[rows] <= best_start {
        return Some((last[rows], true));
    }
    (best_start <= most).then_some((best_start, false))
}

/// Which letters and digits a word has, as a set of bits; digits share bits in pairs.
fn letters_of(word: &str) -> u32 {
    word.bytes().fold(0, |set, byte| {
        set | match byte {
            b'a'..=b'z' => 1 << (byte - b'a'),
            b'0'..=b'9' => 1 << (26 + (byte - b'0') / 2),
            b' ' | b'-' => 0,
            _ => 1 << 31,
        }
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::inventory::inventory;
    use crate::material::Role;
    use proptest::prelude::*;

    fn material(name: &str, inci: &str, cas: &str, role: Role, supplier: &str) -> Arc<Material> {
        let mut m = Material::pure(
            MaterialId::from_name(name),
            name,
            inci,
            cas.parse().ok(),
            Class::Other,
        );
        m.roles.push(role);
        m.supplier = Some(supplier.into());
        Arc::new(m)
    }

    /// The distances of bits are those of the table, which are those of strsim.
    #[test]
    fn both_ways_of_counting_edits_agree() {
        let names = inventory().entries();
        let mut compared = 0;
        for (n, one) in names.iter().enumerate().step_by(1_481) {
            let one = words_of(one.name).join(" ");
            let letters: Vec<char> = one.chars().collect();
            let pattern = Pattern::of(&one);
            for other in names.iter().skip(n % 7).step_by(97) {
                let other = words_of(other.name).join(" ");
                let others: Vec<char> = other.chars().collect();
                for most in [2, 8, 40] {
                    let by_table = edits_within(&letters, &others, most, &mut Rows::default());
                    if let Some(pattern) = &pattern {
                        assert_eq!(pattern.edits_to(&other, most), by_table, "{one} {other}");
                        compared += 1;
                    }
                    let edits = strsim::osa_distance(&one, &other);
                    assert_eq!(by_table, Some(edits).filter(|e| *e <= most));
                }
            }
        }
        assert!(compared > 500);
        let swapped = Pattern::of("zażółć").unwrap();
        assert_eq!(swapped.edits_to("zaóżłć", 3), Some(1));
    }

    #[test]
    fn a_number_finds_what_is_bought_for_it_first() {
        let shelf = crate::shelf::built_in();
        let index = MaterialIndex::new(shelf.iter());
        let first = |query: &str, many: usize| -> Vec<String> {
            let found = index.search(query, many);
            let names = found.iter().filter_map(|id| shelf.get(id));
            names.map(|m| m.name.to_string()).collect()
        };
        // Glycerin is left over in amides and carries many extracts.
        for name in first("56-81-5", 2) {
            assert!(name.starts_with("Glycerin"), "{name}");
        }
        // Salt comes with most surfactants.
        for name in first("7647-14-5", 2) {
            assert!(
                ["Sodium chloride", "Himalayan salt"].contains(&&*name),
                "{name}"
            );
        }
        assert!(
            first("7732-18-5", 1)
                .iter()
                .all(|name| name.starts_with("Water"))
        );
    }

    fn shelf() -> MaterialIndex {
        let mut betaine = Material::clone(&material(
            "Coco betaine",
            "Cocamidopropyl Betaine",
            "61789-40-0",
            Role::CoSurfactant,
            "Fell Supplies",
        ));
        betaine.synonyms.push("CAPB".into());
        MaterialIndex::new(&[
            material(
                "Glycerin",
                "Glycerin",
                "56-81-5",
                Role::Humectant,
                "Fell Supplies",
            ),
            material(
                "Glyceryl stearate",
                "Glyceryl Stearate",
                "",
                Role::Emulsifier,
                "Tarn & Co",
            ),
            material(
                "Vegetable glycerin 86 %",
                "Glycerin",
                "56-81-5",
                Role::Humectant,
                "Tarn & Co",
            ),
            material("Purified water", "Aqua", "7732-18-5", Role::Solvent, ""),
            material(
                "Mandelöl",
                "Prunus Amygdalus Dulcis Oil",
                "",
                Role::Emollient,
                "",
            ),
            Arc::new(betaine),
        ])
    }

    fn check(query: &str, expected: &[&str]) {
        let found = shelf().search(query, 10);
        let found: Vec<&str> = found.iter().map(MaterialId::as_str).collect();
        assert_eq!(found, expected, "for “{query}”");
    }

    #[test]
    fn words_are_found_in_every_field() {
        check("glycerin", &["glycerin", "vegetable-glycerin-86"]);
        check("aqua", &["purified-water"]);
        check("7732-18-5", &["purified-water"]);
        check("56-81", &["glycerin", "vegetable-glycerin-86"]);
        check("capb", &["coco-betaine"]);
        check("co-surfactant", &["coco-betaine"]);
        check("tarn", &["glyceryl-stearate", "vegetable-glycerin-86"]);
        check("tarn humectant", &["vegetable-glycerin-86"]);
        check("mandelol", &["mandelöl"]);
        check("MANDELÖL", &["mandelöl"]);
        check("amidopropyl", &["coco-betaine"]);
    }

    #[test]
    fn small_misspellings_are_forgiven() {
        check("glycerinn", &["glycerin", "vegetable-glycerin-86"]);
        check("glycreyl", &["glyceryl-stearate"]);
        check("cocamidoprpoyl", &["coco-betaine"]);
        check("cocamidoprp", &["coco-betaine"]);
        check("stearat glycerin", &["glyceryl-stearate"]);
        check("watr", &["purified-water"]);
        check("wtr", &[]);
        check("xylophone", &[]);
    }

    #[test]
    fn an_empty_query_lists_all_by_name() {
        assert_eq!(shelf().search("  ", 100).len(), 6);
        assert_eq!(shelf().search("", 2).len(), 2);
        assert_eq!(shelf().search("", 100)[0].as_str(), "coco-betaine");
        assert!(MaterialIndex::default().search("x", 5).is_empty());
    }

    proptest! {
        /// The whole table, as another library fills it, gives the same number.
        #[test]
        fn few_edits_are_counted_as_the_whole_table_counts_them(
            a in "[a-d]{0,9}", b in "[a-d]{0,9}", most in 0_usize..5,
        ) {
            let letters = |text: &str| text.chars().collect::<Vec<_>>();
            let edits = strsim::osa_distance(&a, &b);
            let found = edits_within(&letters(&a), &letters(&b), most, &mut Rows::default());
            prop_assert_eq!(found, (edits <= most).then_some(edits));
        }
    }

    /// What a new maker types first.
    #[test]
    fn everyday_words_find_what_is_common_first() {
        let shelf = crate::shelf::built_in();
        let index = MaterialIndex::for_people(shelf.iter());
        let first = |query: &str| -> String {
            let found = index.search(query, 1);
            let material = found.first().and_then(|id| shelf.get(id));
            material.map_or_else(String::new, |m| m.name.to_string())
        };
        for (query, wanted) in [
            ("glyc", "Glycerin"),
            ("distilled", "Water"),
            ("distilled water", "Water"),
            ("water", "Water"),
            ("xanthan", "Xanthan gum"),
            ("salt", "Sodium chloride"),
            ("citric", "Citric acid"),
        ] {
            let name = first(query);
            assert!(name.starts_with(wanted), "{query} finds {name}");
        }
        let all = |query: &str| -> Vec<&Arc<Material>> {
            let found = index.search(query, 5);
            found.iter().filter_map(|id| shelf.get(id)).collect()
        };
        let broad = all("broad-spectrum");
        assert_eq!(broad.len(), 5);
        for material in broad {
            assert!(material.has_role(Role::Preservative), "{}", material.name);
        }
        for (query, role) in [("thickener", Role::Thickener), ("perfume", Role::Fragrance)] {
            let found = all(query);
            assert!(found.iter().any(|m| m.has_role(role)), "{query}");
        }
    }

    #[test]
    fn what_is_used_often_comes_first() {
        let index = shelf();
        let used = Usage::from([(MaterialId::from_name("Vegetable glycerin 86 %"), 9)]);
        assert_eq!(index.search("glyc", 1)[0].as_str(), "glycerin");
        assert_eq!(
            index.search_used("glyc", 1, &used)[0].as_str(),
            "vegetable-glycerin-86"
        );
    }

    #[test]
    fn names_that_begin_with_the_word_come_first() {
        let shelf = crate::shelf::built_in();
        let found = MaterialIndex::new(shelf.iter()).search("glyc", 8);
        assert_eq!(found.len(), 8);
        for id in found {
            let name = &shelf.get(&id).unwrap().name;
            assert!(name.starts_with("Glyc"), "{name}");
        }
    }

    #[test]
    fn nearest_names_come_nearest_first() {
        let near = shelf().nearest_names("Glicerin", 3);
        assert_eq!(near[0].0.as_str(), "glycerin");
        assert!(near[0].1 > 0.8);
        assert!(shelf().nearest_names("entirely different", 3).is_empty());
    }

    #[test]
    fn a_limit_keeps_the_best() {
        assert_eq!(shelf().search("glycerin", 1)[0].as_str(), "glycerin");
    }

    proptest! {
        /// The whole-word count agrees with strsim's optimal string alignment.
        #[test]
        fn edits_agree_with_an_independent_count(a in "[a-d]{4,12}", b in "[a-d]{1,14}") {
            let letters: Vec<char> = a.chars().collect();
            let outside = strsim::osa_distance(&a, &b);
            let prefix = (0..=b.len()).map(|n| strsim::osa_distance(&a, &b[..n])).min().unwrap();
            let ours = edits_between(&letters, &b, 2);
            if prefix > 2 {
                prop_assert_eq!(ours, None);
            } else {
                let (edits, whole) = ours.unwrap();
                prop_assert_eq!(edits, prefix);
                prop_assert_eq!(whole, outside == prefix);
            }
        }

        #[test]
        fn no_query_panics(query in "\\PC{0,60}") {
            shelf().search(&query, 5);
            shelf().nearest_names(&query, 5);
        }
    }
}
