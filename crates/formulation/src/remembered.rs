//! What was found for a name or a raw material, kept by where it stands: a material is looked up
//! once and not again on every move of a slider. What is behind an `Arc` never changes, so that
//! nothing kept here can be out of date.

use std::fmt;
use std::sync::{Arc, PoisonError, RwLock};

use crate::cas::Cas;
use crate::name_hash::ByHash;

/// Most that are kept; beyond, all are forgotten, so that what is typed cannot pile up.
const MOST: usize = 8192;

/// A memory of what a function of a name, or of something else, and a CAS number gives. The
/// function must always give the same.
pub(crate) struct Remembered<K: ?Sized, T>(RwLock<ByHash<Entry<K, T>>>);

struct Entry<K: ?Sized, T> {
    /// Held, so that nothing else can come to stand at its address.
    key: Arc<K>,
    cas: Option<Cas>,
    found: T,
}

impl<K: ?Sized, T> Remembered<K, T> {
    /// What `see` makes of what `find` gives for a key, which is asked once; `see` must not ask
    /// this memory again.
    pub(crate) fn with<R>(
        &self,
        key: &Arc<K>,
        cas: Option<Cas>,
        find: impl FnOnce() -> T,
        see: impl FnOnce(&T) -> R,
    ) -> R {
        let address = Arc::as_ptr(key).cast::<u8>().addr() as u64;
        let place = address ^ cas.map_or(0, |cas| cas.number().rotate_left(40));
        let is_it = |kept: &Entry<K, T>| Arc::ptr_eq(&kept.key, key) && kept.cas == cas;
        {
            let known = self.0.read().unwrap_or_else(PoisonError::into_inner);
            if let Some(kept) = known.get(&place).filter(|kept| is_it(kept)) {
                return see(&kept.found);
            }
        }
        let found = find();
        let seen = see(&found);
        let mut known = self.0.write().unwrap_or_else(PoisonError::into_inner);
        if known.len() >= MOST {
            known.clear();
        }
        let entry = Entry {
            key: key.clone(),
            cas,
            found,
        };
        known.insert(place, entry);
        seen
    }
}

impl<K: ?Sized, T> Default for Remembered<K, T> {
    fn default() -> Self {
        Self(RwLock::default())
    }
}

impl<K: ?Sized, T> Clone for Remembered<K, T> {
    /// A copy begins without memories, as what it is a part of may change.
    fn clone(&self) -> Self {
        Self::default()
    }
}

impl<K: ?Sized, T> fmt::Debug for Remembered<K, T> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("Remembered")
    }
}

#[cfg(test)]
mod tests {
    use std::cell::Cell;

    use super::*;

    #[test]
    fn a_name_is_asked_once_wherever_it_stands() {
        let memory: Remembered<str, usize> = Remembered::default();
        let asked = Cell::new(0);
        let of = |name: &Arc<str>, cas: Option<Cas>| {
            let find = || {
                asked.set(asked.get() + 1);
                name.len() + usize::from(cas.is_some())
            };
            memory.with(name, cas, find, usize::clone)
        };
        let (one, same, other): (Arc<str>, Arc<str>, Arc<str>) =
            ("Glycerin".into(), "Glycerin".into(), "Aqua".into());
        let cas: Option<Cas> = "56-81-5".parse().ok();
        for _ in 0..3 {
            assert_eq!((of(&one, None), of(&one, cas)), (8, 9));
            assert_eq!((of(&same, None), of(&other, None)), (8, 4));
        }
        assert_eq!(asked.get(), 4);
        // However many names come, no more than so many are kept.
        for i in 0..3 * MOST {
            let name: Arc<str> = format!("{i}").into();
            assert_eq!(of(&name, None), name.len());
        }
        assert!(memory.0.read().unwrap().len() <= MOST);
        assert_eq!(of(&one, None), 8);
    }
}
