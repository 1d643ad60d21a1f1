//! How far apart two spellings are: letters put in, left out, changed or swapped with
//! a neighbour (optimal string alignment).

use super::fold::words_of;

/// A name made ready to be compared letter by letter.
#[derive(Clone, Debug)]
pub struct Spelling {
    /// Its letters without blanks and marks.
    letters: String,
    /// How many they are.
    count: usize,
    /// Which letters occur, one bit each: two names whose sets differ by more than two
    /// letters an edit cannot be near.
    set: u32,
    /// Its words with digits: "Polysorbate 80" is no misspelling of "Polysorbate 20".
    numbers: Vec<String>,
}

/// Which letters occur, one bit each.
fn set_of(letters: &str) -> u32 {
    letters
        .chars()
        .fold(0, |set, c| set | 1 << (u32::from(c) % 32))
}

impl Spelling {
    /// Prepares a name.
    pub fn of(name: &str) -> Self {
        let words = words_of(name);
        // "Tocoferol" is tocopherol, "glicerin" is glycerin as several languages spell them.
        let letters = words.concat().replace("ph", "f").replace('y', "i");
        Self {
            count: letters.chars().count(),
            set: set_of(&letters),
            letters,
            numbers: words
                .into_iter()
                .filter(|w| w.bytes().any(|b| b.is_ascii_digit()))
                .collect(),
        }
    }

    /// How many letters must be changed to get the other; `None` if more than one in
    /// six. Names of fewer letters are abbreviations, where one letter is another
    /// material: "SLES" is no misspelling of "ALES".
    pub fn edits_to(&self, other: &Self) -> Option<usize> {
        let most = self.count / 6;
        if self.count.abs_diff(other.count) > most
            || (self.set ^ other.set).count_ones() as usize > 2 * most
            || self.numbers != other.numbers
        {
            return None;
        }
        Some(strsim::osa_distance(&self.letters, &other.letters)).filter(|edits| *edits <= most)
    }
}

/// Whether a word is another one misspelt: one letter from five on, two from nine on. What is
/// meant is taken without asking here, so it is a letter stricter than the search while one types
/// (`search/spelling.rs`), whose list a person looks at.
pub fn is_misspelt(word: &str, of: &str) -> bool {
    let most = match of.chars().count() {
        0..=4 => 0,
        5..=8 => 1,
        _ => 2,
    };
    word.chars().count().abs_diff(of.chars().count()) <= most
        && (set_of(word) ^ set_of(of)).count_ones() as usize <= 2 * most
        && strsim::osa_distance(word, of) <= most
}

/// The names that may be meant by one that is not found, the likest first: those in which two
/// of three letters stay, and those in which a word begins with it.
pub fn nearest<'n>(
    wanted: &str,
    among: impl IntoIterator<Item = &'n str>,
    most: usize,
) -> Vec<&'n str> {
    let letters = |name: &str| words_of(name).concat();
    let wanted = letters(wanted);
    let count = wanted.chars().count();
    let mut near: Vec<(f64, &str)> = Vec::new();
    for name in among {
        let words = words_of(name);
        let begins = count >= 3 && words.iter().any(|word| word.starts_with(&wanted));
        let full = words.concat();
        let longer = full.chars().count().max(count).max(1);
        // Names whose lengths differ by more than a third are not near.
        let apart = if full.chars().count().abs_diff(count) * 3 > longer {
            1.0
        } else {
            strsim::osa_distance(&full, &wanted) as f64 / longer as f64
        };
        let apart = if begins { apart.min(0.3) } else { apart };
        if apart <= 1.0 / 3.0 && !near.iter().any(|(_, known)| *known == name) {
            near.push((apart, name));
        }
    }
    near.sort_by(|a, b| a.0.total_cmp(&b.0));
    near.into_iter().take(most).map(|(_, name)| name).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn near_and_far() {
        let edits = |a: &str, b: &str| Spelling::of(a).edits_to(&Spelling::of(b));
        assert_eq!(edits("Glycerine", "Glycerin"), Some(1));
        assert_eq!(edits("Polysorbate 80", "Polysorbate 20"), None);
        assert_eq!(edits("SLES", "ALES"), None);
        assert_eq!(edits("Tocoferol acetate", "Tocopherol acetate"), Some(0));
        assert!(is_misspelt("ingrediant", "ingredient"));
        assert!(is_misspelt("weigth", "weight"));
        assert!(!is_misspelt("fase", "phase"));
    }

    #[test]
    fn a_name_that_is_not_found_gets_its_neighbours() {
        let names = [
            "Glycerin",
            "Glyceryl Stearate",
            "Aqua",
            "Sodium Benzoate",
            "Glycerin",
        ];
        let near = |wanted: &str| nearest(wanted, names, 4);
        assert_eq!(near("Glycerine"), ["Glycerin"]);
        assert_eq!(near("benzo"), ["Sodium Benzoate"]);
        assert_eq!(near("glyc").len(), 2);
        assert!(near("Panthenol").is_empty());
    }
}
