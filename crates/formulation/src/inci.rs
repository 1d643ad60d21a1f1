//! The name of a substance on the ingredient list, its INCI name.
//!
//! A name is written in more than one way: “Aqua” on one certificate, “AQUA” on the next. What
//! was written is kept, for it is shown and saved; which substance it is does not hang on the
//! case of its letters, nor on blanks around it. Both questions are asked by name here, and `==`
//! of two names does not compile.

use std::borrow::Cow;
use std::cmp::Ordering;
use std::fmt;
use std::hash::{Hash, Hasher};
use std::sync::Arc;

use crate::name_hash::{folded_hash, name_contains};

/// An INCI name as it is spelt, with the identity of the substance it names.
///
/// ```
/// use formulation::inci::Inci;
///
/// let (one, other) = (Inci::from("Aqua"), Inci::from("AQUA"));
/// assert!(one.same_as(&other) && !one.spelt_as(&other));
/// ```
///
/// Which of the two is asked must be said:
///
/// ```compile_fail,E0369
/// use formulation::inci::Inci;
///
/// let (one, other) = (Inci::from("Aqua"), Inci::from("AQUA"));
/// assert!(one == other);
/// ```
#[derive(Clone)]
pub struct Inci {
    spelling: Arc<str>,
    /// Of the folded name, so that two of different substances are told apart at once.
    hash: u64,
}

impl Inci {
    /// A name as it is spelt.
    pub fn new(spelling: impl Into<Arc<str>>) -> Self {
        let spelling = spelling.into();
        let hash = hash_of(&spelling);
        Self { spelling, hash }
    }

    /// The letters as they were written, to be shown and saved.
    pub fn spelling(&self) -> &str {
        &self.spelling
    }

    /// The same, to be kept without a copy.
    pub const fn shared(&self) -> &Arc<str> {
        &self.spelling
    }

    /// Whether two names are of one substance, whatever the case of their letters.
    pub fn same_as(&self, other: &Self) -> bool {
        self.hash == other.hash
            && (Arc::ptr_eq(&self.spelling, &other.spelling)
                || same(&self.spelling, &other.spelling))
    }

    /// Whether a written name, such as one of a table, is of this substance.
    pub fn is(&self, written: &str) -> bool {
        same(&self.spelling, written)
    }

    /// Whether one of several names that stand in the code is of this substance. They are ASCII
    /// without blanks around.
    pub fn is_one_of(&self, written: &[&str]) -> bool {
        debug_assert!(written.iter().all(|name| is_plain(name)), "{written:?}");
        let name = self.spelling.trim();
        written.iter().any(|one| name.eq_ignore_ascii_case(one))
    }

    /// Whether two names are spelt alike, letter for letter: what saving and undo compare. It
    /// does not tell whether they are of one substance.
    pub fn spelt_as(&self, other: &Self) -> bool {
        Arc::ptr_eq(&self.spelling, &other.spelling) || self.spelling == other.spelling
    }

    /// Whether a word stands somewhere in the name, whatever the case of its letters.
    pub(crate) fn has(&self, word: &str) -> bool {
        name_contains(&self.spelling, word)
    }

    /// Whether the name begins with a word, whatever the case of its letters.
    pub(crate) fn begins_with(&self, word: &str) -> bool {
        let name = self.spelling.trim_start();
        (name.get(..word.len())).is_some_and(|begin| begin.eq_ignore_ascii_case(word))
    }

    /// Whether the last of several words of the name, or its only one, is this.
    pub(crate) fn ends_in_word(&self, word: &str) -> bool {
        let name = self.spelling.trim_end();
        let last = name.rsplit(' ').next().unwrap_or(name);
        last.eq_ignore_ascii_case(word)
    }

    /// The letters in lower case, without blanks around: the same for one substance, to look for
    /// words in and to make keys of.
    pub(crate) fn folded(&self) -> Cow<'_, str> {
        folded(&self.spelling)
    }

    /// Whether there is nothing but blanks.
    pub fn is_empty(&self) -> bool {
        self.spelling.trim().is_empty()
    }

    /// The identity of the substance, as a key of maps and sets and to sort by.
    pub fn key(&self) -> InciKey {
        InciKey(self.clone())
    }

    /// The order of two names by their letters in lower case; equal for one substance.
    pub fn order(&self, other: &Self) -> Ordering {
        if self.same_as(other) {
            return Ordering::Equal;
        }
        let (one, two) = (&*self.spelling, &*other.spelling);
        if is_plain(one) && is_plain(two) {
            let one = one.bytes().map(|b| b.to_ascii_lowercase());
            one.cmp(two.bytes().map(|b| b.to_ascii_lowercase()))
        } else {
            self.folded().cmp(&other.folded())
        }
    }

    /// The hash of the folded name: equal for one substance, and seldom for two.
    pub(crate) const fn hash(&self) -> u64 {
        self.hash
    }
}

/// The hash of a written name, the same for every way to write it; see [`Inci::hash`].
pub(crate) fn hash_of(written: &str) -> u64 {
    let name = written.trim();
    if name.is_ascii() {
        // The hash is one of small letters.
        folded_hash(name.bytes())
    } else {
        folded_hash(folded(name).bytes())
    }
}

fn folded(written: &str) -> Cow<'_, str> {
    let name = written.trim();
    if name
        .bytes()
        .all(|b| b.is_ascii() && !b.is_ascii_uppercase())
    {
        Cow::Borrowed(name)
    } else {
        Cow::Owned(name.to_lowercase())
    }
}

/// The one rule for which written names are of one substance.
fn same(one: &str, other: &str) -> bool {
    one.eq_ignore_ascii_case(other)
        || !(is_plain(one) && is_plain(other)) && {
            let (one, other) = (one.trim(), other.trim());
            one.eq_ignore_ascii_case(other)
                || !(one.is_ascii() && other.is_ascii()) && folded(one) == folded(other)
        }
}

/// Whether a name can differ from one of the same substance in nothing but the case of ASCII
/// letters: it has no blanks around and no other letters. Nearly all are, and this is asked often.
fn is_plain(written: &str) -> bool {
    let is_letter = |b: Option<&u8>| b.is_some_and(u8::is_ascii_graphic);
    let bytes = written.as_bytes();
    is_letter(bytes.first()) && is_letter(bytes.last()) && written.is_ascii()
}

impl From<&str> for Inci {
    fn from(spelling: &str) -> Self {
        Self::new(spelling)
    }
}
impl From<String> for Inci {
    fn from(spelling: String) -> Self {
        Self::new(spelling)
    }
}
impl From<Arc<str>> for Inci {
    fn from(spelling: Arc<str>) -> Self {
        Self::new(spelling)
    }
}

impl From<&Inci> for Arc<str> {
    fn from(name: &Inci) -> Self {
        name.spelling.clone()
    }
}
impl From<Inci> for Arc<str> {
    fn from(name: Inci) -> Self {
        name.spelling
    }
}

impl fmt::Display for Inci {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(&self.spelling)
    }
}
impl fmt::Debug for Inci {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        fmt::Debug::fmt(&self.spelling, f)
    }
}

/// Which substance a name is of: equal for every way to spell it, and ordered by its letters in
/// lower case.
#[derive(Clone, Debug)]
pub struct InciKey(Inci);

impl InciKey {
    /// The name it was made of, in its spelling.
    pub const fn name(&self) -> &Inci {
        &self.0
    }
}

impl PartialEq for InciKey {
    fn eq(&self, other: &Self) -> bool {
        self.0.same_as(&other.0)
    }
}
impl Eq for InciKey {}
impl Hash for InciKey {
    fn hash<H: Hasher>(&self, state: &mut H) {
        state.write_u64(self.0.hash);
    }
}
impl PartialOrd for InciKey {
    fn partial_cmp(&self, other: &Self) -> Option<Ordering> {
        Some(self.cmp(other))
    }
}
impl Ord for InciKey {
    fn cmp(&self, other: &Self) -> Ordering {
        self.0.order(&other.0)
    }
}

/// Names that can be compared as they are spelt, alone or several.
pub(crate) trait Spelt {
    /// Whether all are spelt alike, letter for letter and in the same order.
    fn spelt_as(&self, other: &Self) -> bool;
}

impl Spelt for Inci {
    fn spelt_as(&self, other: &Self) -> bool {
        Self::spelt_as(self, other)
    }
}
impl<T: Spelt> Spelt for Option<T> {
    fn spelt_as(&self, other: &Self) -> bool {
        match (self, other) {
            (Some(one), Some(other)) => one.spelt_as(other),
            (one, other) => one.is_none() && other.is_none(),
        }
    }
}
impl<T: Spelt> Spelt for Vec<T> {
    fn spelt_as(&self, other: &Self) -> bool {
        self.len() == other.len() && self.iter().zip(other).all(|(a, b)| a.spelt_as(b))
    }
}
impl<V: PartialEq> Spelt for (Inci, V) {
    fn spelt_as(&self, other: &Self) -> bool {
        self.0.spelt_as(&other.0) && self.1 == other.1
    }
}

/// `==` for a struct that holds names: a change of spelling is a change. Every field is named,
/// so that a new one does not compile until it is compared.
macro_rules! equal_as_spelt {
    ($type:ident: names $($name:ident),+; rest $($field:ident),*) => {
        impl PartialEq for $type {
            fn eq(&self, other: &Self) -> bool {
                let Self { $($name),+ $(, $field)* } = self;
                $($crate::inci::Spelt::spelt_as($name, &other.$name))&&+
                    $(&& *$field == other.$field)*
            }
        }
    };
}
pub(crate) use equal_as_spelt;

#[cfg(test)]
mod tests {
    use std::collections::{BTreeSet, HashSet};

    use super::*;

    /// Ways to write three names, those of one substance together.
    const WRITTEN: [&[&str]; 4] = [
        &["Aqua", "AQUA", "aqua", " Aqua ", "aQUA\t"],
        &["PEG-40", "peg-40"],
        &["Panthenol", "PANTHENOL"],
        &[
            "Camellia Açaí Oil",
            "CAMELLIA AÇAÍ OIL",
            "camellia açaí oil",
        ],
    ];

    #[test]
    fn one_identity_whatever_the_case_of_letters_and_blanks_around() {
        for (i, names) in WRITTEN.iter().enumerate() {
            for (j, others) in WRITTEN.iter().enumerate() {
                for (one, other) in names
                    .iter()
                    .flat_map(|one| others.iter().map(move |other| (*one, *other)))
                {
                    let (a, b) = (Inci::from(one), Inci::from(other));
                    assert_eq!(a.same_as(&b), i == j, "{one:?} {other:?}");
                    assert_eq!(a.is(other), i == j, "{one:?} {other:?}");
                    assert_eq!(a.key() == b.key(), i == j, "{one:?} {other:?}");
                    assert_eq!(a.key().cmp(&b.key()).is_eq(), i == j);
                    assert_eq!(a.spelt_as(&b), one == other);
                    assert_eq!(a.hash() == b.hash(), i == j, "{one:?} {other:?}");
                }
            }
        }
    }

    #[test]
    fn sets_hold_a_substance_once_in_the_order_of_its_small_letters() {
        let names = || {
            WRITTEN
                .concat()
                .into_iter()
                .map(|name| Inci::from(name).key())
        };
        assert_eq!(names().collect::<HashSet<_>>().len(), WRITTEN.len());
        let sorted: Vec<String> = names()
            .collect::<BTreeSet<_>>()
            .iter()
            .map(|key| key.name().folded().into_owned())
            .collect();
        assert_eq!(sorted, ["aqua", "camellia açaí oil", "panthenol", "peg-40"]);
    }

    #[test]
    fn a_name_is_shown_as_it_was_written() {
        let name = Inci::from(" Sodium PCA");
        assert_eq!(name.to_string(), " Sodium PCA");
        assert_eq!(format!("{name:?}"), "\" Sodium PCA\"");
        assert_eq!(name.spelling(), " Sodium PCA");
        assert!(name.has("pca") && !name.has("peg"));
        assert!(
            name.begins_with("SODIUM")
                && !name.begins_with("pca")
                && !name.begins_with("Sodium PCA, ")
        );
        assert!(
            name.ends_in_word("Pca") && !name.ends_in_word("a") && !name.ends_in_word("sodium")
        );
        assert!(
            Inci::from("Adeps Bovis ").ends_in_word("bovis")
                && Inci::from("Mel").ends_in_word("MEL")
        );
        assert_eq!(name.folded(), "sodium pca");
        assert_eq!(Inci::from("AÇAÍ").folded(), "açaí");
        assert!(name.is_one_of(&["Aqua", "sodium pca"]));
        assert!(!name.is_one_of(&["Aqua"]));
        assert!(Inci::from("").is_empty() && !name.is_empty());
    }

    #[test]
    fn names_in_lists_are_spelt_alike_one_by_one() {
        let list = |names: &[&str]| names.iter().map(|&n| Inci::from(n)).collect::<Vec<_>>();
        assert!(list(&["Aqua", "Mica"]).spelt_as(&list(&["Aqua", "Mica"])));
        for other in [&["Aqua", "MICA"][..], &["Mica", "Aqua"], &["Aqua"], &[]] {
            assert!(!list(&["Aqua", "Mica"]).spelt_as(&list(other)), "{other:?}");
        }
        let some = |name: &str| Some(Inci::from(name));
        assert!(some("Aqua").spelt_as(&some("Aqua")) && None::<Inci>.spelt_as(&None));
        assert!(!some("Aqua").spelt_as(&None) && !some("Aqua").spelt_as(&some("AQUA")));
        let pair = |name: &str, value: u8| (Inci::from(name), value);
        assert!(pair("Aqua", 1).spelt_as(&pair("Aqua", 1)));
        assert!(!pair("Aqua", 1).spelt_as(&pair("Aqua", 2)));
        assert!(!pair("Aqua", 1).spelt_as(&pair("aqua", 1)));
    }
}
