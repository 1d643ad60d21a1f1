//! Finding names without regard to case and without a copy: tables keyed by a hash of
//! the folded name. Two names may have one hash, so what is found is to be compared.

use std::collections::HashMap;
use std::hash::{BuildHasherDefault, Hasher};

/// A table whose key is a hash already.
pub(crate) type ByHash<T> = HashMap<u64, T, BuildHasherDefault<Hashed>>;

/// FNV-1a over bytes in lower case.
pub(crate) fn folded_hash(bytes: impl IntoIterator<Item = u8>) -> u64 {
    let fold = |hash: u64, byte: u8| {
        (hash ^ u64::from(byte.to_ascii_lowercase())).wrapping_mul(0x0100_0000_01b3)
    };
    bytes.into_iter().fold(0xcbf2_9ce4_8422_2325, fold)
}

/// Takes a key that is a hash already as it is.
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
        self.0 = key;
    }
}
