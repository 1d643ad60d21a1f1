//! How far two words lie apart: letters put in, left out, changed or swapped with a neighbour.

/// Names that differ in more letters than these are not taken for misspellings of each other,
/// however long they are.
pub(super) const MOST_EDITS: usize = 8;

/// A name made ready to be compared with many others, a column of the table of distances at
/// a time in the bits of one number.
///
/// Hyyrö, "A bit-vector algorithm for computing Levenshtein and Damerau edit distances",
/// Nordic Journal of Computing 10 (2003) 29–39: optimal string alignment.
pub(crate) struct Pattern {
    /// Where each letter stands, one bit a place.
    ascii: [u64; 128],
    others: Vec<(char, u64)>,
    length: usize,
}

impl Pattern {
    /// Prepares a name of at most 64 letters.
    pub(crate) fn of(name: &str) -> Option<Self> {
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
    pub(crate) fn edits_to(&self, other: &str, most: usize) -> Option<usize> {
        let mut column = Column::first(self);
        let mut left = letters_in(other);
        for letter in other.chars() {
            column.next(self, letter);
            left -= 1;
            // Each further letter takes away one at most.
            if column.edits > most + left {
                return None;
            }
        }
        (column.edits <= most).then_some(column.edits)
    }

    /// The least edits that turn this name into a word or into the start of it, if at most
    /// `most`; and whether it is the whole of the word.
    pub(crate) fn edits_to_start(&self, word: &str, most: usize) -> Option<(usize, bool)> {
        let mut column = Column::first(self);
        let mut least = column.edits;
        let mut left = letters_in(word);
        for letter in word.chars() {
            column.next(self, letter);
            least = least.min(column.edits);
            left -= 1;
            if least.min(column.edits.saturating_sub(left)) > most {
                return None;
            }
        }
        let whole = column.edits == least;
        (least <= most).then_some((least, whole))
    }
}

/// How many letters a text has; most are of plain ones, a byte each.
fn letters_in(text: &str) -> usize {
    if text.is_ascii() {
        text.len()
    } else {
        text.chars().count()
    }
}

/// A column of the table of distances, in bits: where it goes up and down from one row to the
/// next.
struct Column {
    up: u64,
    down: u64,
    diagonal: u64,
    /// Where the letter before stands.
    before: u64,
    /// The last row of the table.
    last: u64,
    /// Edits from the whole pattern to the letters seen.
    edits: usize,
}

impl Column {
    const fn first(pattern: &Pattern) -> Self {
        Self {
            up: u64::MAX,
            down: 0,
            diagonal: 0,
            before: 0,
            last: 1 << (pattern.length - 1),
            edits: pattern.length,
        }
    }

    fn next(&mut self, pattern: &Pattern, letter: char) {
        let here = pattern.places(letter);
        let swapped = ((!self.diagonal & here) << 1) & self.before;
        let matched = here & self.up;
        self.diagonal = (matched.wrapping_add(self.up) ^ self.up) | here | self.down | swapped;
        let more = self.down | !(self.diagonal | self.up);
        let less = self.diagonal & self.up;
        if more & self.last != 0 {
            self.edits += 1;
        } else if less & self.last != 0 {
            self.edits -= 1;
        }
        let more = (more << 1) | 1;
        self.up = (less << 1) | !(self.diagonal | more);
        self.down = more & self.diagonal;
        self.before = here;
    }
}

/// How often each letter stands in a name: 26 letters, the digits in pairs, and all else.
#[derive(Clone, Copy, PartialEq, Debug)]
pub(super) struct LetterCounts([u8; 32]);

impl LetterCounts {
    pub(super) fn of(name: &str) -> Self {
        let mut counts = [0_u8; 32];
        for letter in name.chars() {
            let place = match letter {
                'a'..='z' => letter as usize - 'a' as usize,
                '0'..='9' => 26 + (letter as usize - '0' as usize) / 2,
                _ => 31,
            };
            if let Some(count) = counts.get_mut(place) {
                *count = count.saturating_add(1);
            }
        }
        Self(counts)
    }

    /// Edits that lie between two names at least: one of them takes away one letter and adds one
    /// at most.
    pub(super) fn least_edits(&self, other: &Self) -> usize {
        let pairs = self.0.iter().zip(&other.0);
        let (apart, more) = pairs.fold((0_i32, 0_i32), |(apart, more), (one, two)| {
            let by = i32::from(*one) - i32::from(*two);
            (apart + by.abs(), more + by)
        });
        usize::try_from(i32::midpoint(apart, more.abs())).unwrap_or(0)
    }
}

/// Three rows of the table that [`edits_within`] fills, kept from one call to the next.
pub(super) type Rows = [Vec<usize>; 3];

/// Letters put in, left out, changed or swapped with a neighbour that turn `a` into `b`
/// (optimal string alignment), if at most `most`: only the band of the table in which so
/// few can lie is worked out.
pub(super) fn edits_within(a: &[char], b: &[char], most: usize, rows: &mut Rows) -> Option<usize> {
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

/// Words longer than this are not searched for misspellings.
pub(super) const LONGEST: usize = 40;

/// How many letters may differ in a misspelt word of this many letters.
pub(super) const fn edits_allowed(length: usize) -> usize {
    match length {
        0..=3 => 0,
        4..=7 => 1,
        _ => 2,
    }
}

/// Which letters and digits a word has, as a set of bits; digits share bits in pairs.
pub(super) fn letters_of(word: &str) -> u32 {
    word.bytes().fold(0, |set, byte| {
        set | match byte {
            b'a'..=b'z' => 1 << (byte - b'a'),
            b'0'..=b'9' => 1 << (26 + (byte - b'0') / 2),
            b' ' | b'-' => 0,
            _ => 1 << 31,
        }
    })
}
