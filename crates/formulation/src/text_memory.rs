//! What was found for a text, kept so that it is worked out once: while a table is weighed the same
//! cells are asked again and again.

use std::cell::RefCell;
use std::collections::HashMap;
use std::thread::LocalKey;

/// Most texts that are kept; beyond, all are forgotten. More than a table has rows.
const MOST_KEPT: usize = 65_536;
/// Longer texts are hardly asked twice.
const LONGEST_KEPT: usize = 120;

/// What a function of a text gave, by the text. The function must always give the same.
pub(crate) type TextMemory<T> = RefCell<HashMap<Box<str>, T>>;

/// What `find` gives for a text, asked once a thread.
pub(crate) fn remembered<T: Copy>(
    memory: &'static LocalKey<TextMemory<T>>,
    text: &str,
    find: impl FnOnce(&str) -> T,
) -> T {
    if text.len() > LONGEST_KEPT {
        return find(text);
    }
    if let Some(known) = memory.with_borrow(|kept| kept.get(text).copied()) {
        return known;
    }
    let found = find(text);
    memory.with_borrow_mut(|kept| {
        if kept.len() >= MOST_KEPT {
            kept.clear();
        }
        kept.insert(text.into(), found);
    });
    found
}

#[cfg(test)]
mod tests {
    use std::cell::Cell;

    use super::*;

    thread_local! {
        static LENGTHS: TextMemory<usize> = RefCell::default();
    }

    #[test]
    fn a_text_is_worked_out_once() {
        let asked = Cell::new(0);
        let length = |text: &str| {
            remembered(&LENGTHS, text, |text| {
                asked.set(asked.get() + 1);
                text.len()
            })
        };
        for _ in 0..3 {
            assert_eq!((length("Water"), length("Oil")), (5, 3));
        }
        assert_eq!(asked.get(), 2);
        let long = "x".repeat(LONGEST_KEPT + 1);
        assert_eq!((length(&long), length(&long)), (long.len(), long.len()));
        assert_eq!(asked.get(), 4);
        for n in 0..=MOST_KEPT {
            length(&n.to_string());
        }
        assert!(LENGTHS.with_borrow(|kept| kept.len() <= MOST_KEPT));
    }
}
