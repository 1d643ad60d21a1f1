//! What a command has to say beside its result: on the terminal at once, and in its JSON.
//!
//! Kept for the one thread that runs a command, because it is said at many depths and read at
//! one place, where the JSON is printed.

use std::cell::{Cell, RefCell};
use std::io::{self, Write};

use formulation::harmless;

thread_local! {
    static WARNINGS: RefCell<Vec<String>> = const { RefCell::new(Vec::new()) };
    static ALTERED: Cell<bool> = const { Cell::new(false) };
}

/// Forgets what an earlier command said.
pub fn begin() {
    WARNINGS.take();
    ALTERED.set(false);
}

/// Says what is wrong, once, on the standard error output and in the JSON that follows.
pub fn warn(text: impl Into<String>) {
    let text = text.into();
    let new = WARNINGS.with_borrow_mut(|all| {
        let new = !all.contains(&text);
        if new {
            all.push(text.clone());
        }
        new
    });
    if new {
        complain(&text);
    }
}

/// Prints a line to the standard error output, with nothing in it that a terminal obeys.
pub fn complain(text: &str) {
    // Nobody can be told that nobody can be told.
    let _ = writeln!(io::stderr(), "phasewright: {}", harmless::visible(text));
}

/// Notes that a finished formula which the command read was altered after it was frozen.
pub fn note_altered() {
    ALTERED.set(true);
}

/// Whether a finished formula that the command read was altered.
pub fn altered() -> bool {
    ALTERED.get()
}

/// Prints an object of JSON, with the warnings said so far as its last field.
pub fn print_json(out: &mut dyn Write, json: impl Into<String>) -> io::Result<()> {
    writeln!(out, "{}", with_warnings(json.into()))
}

fn with_warnings(json: String) -> String {
    let Some(fields) = json.trim_end().strip_suffix('}') else {
        return json;
    };
    let all: Vec<serde_json::Value> = WARNINGS.with_borrow(|all| {
        all.iter()
            .map(|text| harmless::visible(text).into())
            .collect()
    });
    let warnings = serde_json::Value::Array(all);
    let fields = fields.trim_end();
    // An object without fields takes no comma.
    let comma = if fields.ends_with('{') { "" } else { "," };
    format!("{fields}{comma}\n  \"warnings\": {warnings:#}\n}}")
}

/// An output through which nothing reaches a terminal that it would obey.
pub struct Plain<W>(pub W);

impl<W: Write> Write for Plain<W> {
    fn write(&mut self, bytes: &[u8]) -> io::Result<usize> {
        // Formatted output arrives in whole strings.
        let text = String::from_utf8_lossy(bytes);
        self.0.write_all(harmless::visible(&text).as_bytes())?;
        Ok(bytes.len())
    }

    fn flush(&mut self) -> io::Result<()> {
        self.0.flush()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn warnings_are_the_last_field() {
        begin();
        let plain = with_warnings("{\n  \"a\": 1\n}\n".to_owned());
        let value: serde_json::Value = serde_json::from_str(&plain).unwrap();
        assert_eq!(value["warnings"], serde_json::json!([]));
        warn("one \u{1b}[2J");
        warn("one \u{1b}[2J");
        let value: serde_json::Value = serde_json::from_str(&with_warnings("{}".into())).unwrap();
        assert_eq!(value["warnings"].as_array().map(Vec::len), Some(1));
        assert!(!value["warnings"][0].as_str().unwrap().contains('\u{1b}'));
        begin();
    }

    #[test]
    fn a_terminal_obeys_nothing_that_is_printed() {
        let mut out = Plain(Vec::new());
        writeln!(out, "gel \u{1b}]0;title\u{7} ö").unwrap();
        assert_eq!(
            String::from_utf8(out.0).unwrap(),
            "gel \u{fffd}]0;title\u{fffd} ö\n"
        );
    }
}
