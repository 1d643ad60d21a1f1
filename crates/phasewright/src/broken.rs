//! Errors of the program itself: they are caught where they happen, told in a sentence, and
//! what was going on before stays.

use std::any::Any;
use std::cell::{Cell, RefCell};
use std::panic::{self, AssertUnwindSafe};
use std::sync::Once;

thread_local! {
    /// How many times this thread is within [`caught`].
    static WITHIN: Cell<u32> = const { Cell::new(0) };
    /// Where the last error of this thread happened.
    static PLACE: RefCell<Option<String>> = const { RefCell::new(None) };
}

/// Runs something, and turns an error of the program in it into words with its place. What it
/// was changing is in the state that the error left, so callers let go of it or check it.
pub fn caught<R>(run: impl FnOnce() -> R) -> Result<R, String> {
    static HOOK: Once = Once::new();
    HOOK.call_once(|| {
        // What is caught is told where a person reads it, not as a trace on the terminal.
        let usual = panic::take_hook();
        panic::set_hook(Box::new(move |info| {
            if WITHIN.get() > 0 {
                PLACE.set(info.location().map(ToString::to_string));
            } else {
                usual(info);
            }
        }));
    });
    WITHIN.set(WITHIN.get() + 1);
    let outcome = panic::catch_unwind(AssertUnwindSafe(run));
    WITHIN.set(WITHIN.get() - 1);
    outcome.map_err(|thrown| {
        let words = words(thrown.as_ref());
        match PLACE.take() {
            Some(place) => format!("{words} ({place})"),
            None => words,
        }
    })
}

fn words(thrown: &(dyn Any + Send)) -> String {
    thrown
        .downcast_ref::<String>()
        .cloned()
        .or_else(|| thrown.downcast_ref::<&str>().map(|&s| s.to_owned()))
        .unwrap_or_else(|| "no reason was given".to_owned())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_error_is_told_with_its_place() {
        assert_eq!(caught(|| 1 + 1), Ok(2));
        let said = caught(|| {
            let nothing: [u8; 0] = [];
            let place = nothing.len();
            std::hint::black_box(&nothing[..])[place]
        })
        .unwrap_err();
        assert!(said.contains("index out of bounds"), "{said}");
        assert!(said.contains("broken.rs"), "{said}");
        // The next one is caught as well.
        assert!(caught(|| std::hint::black_box(1) / std::hint::black_box(0)).is_err());
    }
}
