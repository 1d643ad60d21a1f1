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

/// Smallest number of letters put in, left out, changed or swapped with a neighbour
/// that turns `query` into `word` or into the start of it, if at most `most`
/// (optimal string alignment); and whether it is the whole of `word`.
pub(super) fn edits_between(query: &[char], word: &str, most: usize) -> Option<(usize, bool)> {
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
