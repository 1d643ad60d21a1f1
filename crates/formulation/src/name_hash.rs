//! Finding names without regard to case and without a copy: tables keyed by a hash of
//! the folded name. Two names may have one hash, so what is found is to be compared.
//! CAS numbers are found with the same quick hash.

use std::collections::{HashMap, HashSet};
use std::hash::{BuildHasherDefault, Hasher};

use fnv::FnvHasher;

use crate::cas::Cas;

/// A table whose key is a hash already, or any other number of its own.
pub(crate) type ByHash<T> = HashMap<u64, T, BuildHasherDefault<Hashed>>;

/// A set of hashes of names.
pub(crate) type Hashes = HashSet<u64, BuildHasherDefault<Hashed>>;

/// A table whose key is a CAS number.
pub(crate) type ByCas<T> = HashMap<Cas, T, BuildHasherDefault<Hashed>>;

/// Whether a name has a word somewhere in it, whatever the case of its letters and without a copy.
pub(crate) fn name_contains(name: &str, word: &str) -> bool {
    word.is_empty()
        || name
            .as_bytes()
            .windows(word.len())
            .any(|part| part.eq_ignore_ascii_case(word.as_bytes()))
}

/// FNV-1a over bytes in lower case; it is in no file.
pub(crate) fn folded_hash(bytes: impl IntoIterator<Item = u8>) -> u64 {
    let mut hash = FnvHasher::default();
    for byte in bytes {
        hash.write_u8(byte.to_ascii_lowercase());
    }
    hash.finish()
}

/// Spreads a key of one number over all bits; odd constant of the golden ratio.
#[derive(Clone, Default)]
pub(crate) struct Hashed(u64);

impl Hasher for Hashed {
    fn finish(&self) -> u64 {
        self.0
    }
    fn write(&mut self, bytes: &[u8]) {
        self.0 = folded_hash(bytes.iter().copied());
    }
    fn write_u64(&mut self, key: u64) {
        self.0 = key.wrapping_mul(0x9e37_79b9_7f4a_7c15);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Figures of the authors' own tests of FNV-1a with 64 bits (G. Fowler, L. C. Noll, K.-P. Vo).
    #[test]
    fn the_hash_is_that_of_its_authors_in_lower_case() {
        assert_eq!(folded_hash("a".bytes()), 0xaf63_dc4c_8601_ec8c);
        assert_eq!(folded_hash("FooBar".bytes()), 0x8594_4171_f739_67e8);
        assert_eq!(folded_hash("".bytes()), 0xcbf2_9ce4_8422_2325);
    }
}
