//! What was found for a name, kept by where the name stands: the names of a raw material are
//! looked up once and not again on every move of a slider.

use std::fmt;
use std::sync::{Arc, PoisonError, RwLock};

use crate::cas::Cas;
use crate::name_hash::ByHash;

/// Most names that are kept; beyond, all are forgotten, so that what is typed cannot pile up.
const MOST: usize = 8192;

/// A memory of what a function of a name and a CAS number gives. The function must always give
/// the same.
pub(crate) struct Remembered<T>(RwLock<ByHash<Kept<T>>>);

struct Kept<T> {
    /// Held, so that no other name can come to stand at its address.
    name: Arc<str>,
    cas: Option<Cas>,
    found: T,
}

impl<T: Clone> Remembered<T> {
    /// What `find` gives for a name, asked once.
    pub(crate) fn of(&self, name: &Arc<str>, cas: Option<Cas>, find: impl FnOnce() -> T) -> T {
        let address = Arc::as_ptr(name).cast::<u8>().addr() as u64;
        let key = address ^ cas.map_or(0, |cas| cas.number().rotate_left(40));
        let is_it = |kept: &Kept<T>| Arc::ptr_eq(&kept.name, name) && kept.cas == cas;
        {
            let known = self.0.read().unwrap_or_else(PoisonError::into_inner);
            if let Some(kept) = known.get(&key).filter(|kept| is_it(kept)) {
                return kept.found.clone();
            }
        }
        let found = find();
        let mut known = self.0.write().unwrap_or_else(PoisonError::into_inner);
        if known.len() >= MOST {
            known.clear();
        }
        let kept = Kept {
            name: name.clone(),
            cas,
            found: found.clone(),
        };
        known.insert(key, kept);
        found
    }
}

impl<T> Default for Remembered<T> {
    fn default() -> Self {
        Self(RwLock::default())
    }
}

impl<T> Clone for Remembered<T> {
    /// A copy begins without memories, as what it is a part of may change.
    fn clone(&self) -> Self {
        Self::default()
    }
}

impl<T> fmt::Debug for Remembered<T> {
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
        let memory: Remembered<usize> = Remembered::default();
        let asked = Cell::new(0);
        let of = |name: &Arc<str>, cas: Option<Cas>| {
            memory.of(name, cas, || {
                asked.set(asked.get() + 1);
                name.len() + usize::from(cas.is_some())
            })
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
