//! Places in RON text: which field an offset lies in, and where a field stands.
//!
//! The RON reader tells line and column but not the field, and what is found wrong
//! after reading has a field but no line. Both are found by walking through the
//! text once more, which only happens when there is an error to report.

use super::read_error::TextPosition;

/// One step on the way to a value.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum PathStep {
    /// A field of a struct.
    Field(&'static str),
    /// An item of a list, counted from 0.
    Item(usize),
}

/// An open bracket and what has been seen of its content.
struct Frame<'t> {
    key: Option<&'t str>,
    item: usize,
    value_seen: bool,
}

/// What a walk comes by.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Mark {
    /// The name of a field, its value still to come.
    Key,
    /// The start of a value.
    Value,
    /// The end of a bracket.
    End,
}

/// Walks through RON text. `visit` sees every mark with the brackets around it
/// and its offset; the walk ends when it returns true.
fn walk<'t>(text: &'t str, mut visit: impl FnMut(Mark, &[Frame<'t>], usize) -> bool) {
    let mut frames: Vec<Frame<'t>> = Vec::new();
    let mut offset = 0;
    while let Some(rest) = text.get(offset..).filter(|r| !r.is_empty()) {
        let length = token_length(rest);
        let token = rest.get(..length).unwrap_or(rest);
        let start = offset;
        offset += length;
        if token.trim().is_empty() || token.starts_with("//") || token.starts_with("/*") {
            continue;
        }
        match token {
            ":" => continue,
            "," => {
                if let Some(frame) = frames.last_mut() {
                    frame.item += 1;
                    frame.key = None;
                    frame.value_seen = false;
                }
                continue;
            }
            ")" | "]" | "}" => {
                frames.pop();
                if visit(Mark::End, &frames, start) {
                    return;
                }
                continue;
            }
            _ => {}
        }
        let is_key = frames.last().is_some_and(|f| f.key.is_none())
            && !matches!(token, "(" | "[" | "{")
            && text.get(offset..).is_some_and(colon_follows);
        if is_key {
            if let Some(frame) = frames.last_mut() {
                frame.key = Some(token.trim_matches('"'));
            }
            if visit(Mark::Key, &frames, start) {
                return;
            }
            continue;
        }
        let first = frames.last().is_none_or(|f| !f.value_seen);
        if first && visit(Mark::Value, &frames, start) {
            return;
        }
        if let Some(frame) = frames.last_mut() {
            frame.value_seen = true;
        }
        if matches!(token, "(" | "[" | "{") {
            frames.push(Frame {
                key: None,
                item: 0,
                value_seen: false,
            });
        }
    }
}

fn colon_follows(mut rest: &str) -> bool {
    loop {
        let length = token_length(rest);
        let token = rest.get(..length).unwrap_or("");
        if token == ":" {
            return true;
        }
        let blank = !token.is_empty()
            && (token.trim().is_empty() || token.starts_with("//") || token.starts_with("/*"));
        if !blank {
            return false;
        }
        rest = rest.get(length..).unwrap_or("");
    }
}

/// The comments of a RON text, in order, without their marks.
pub fn comments(text: &str) -> Vec<&str> {
    let mut found = Vec::new();
    let mut offset = 0;
    while let Some(rest) = text.get(offset..).filter(|r| !r.is_empty()) {
        let token = rest.get(..token_length(rest)).unwrap_or(rest);
        offset += token.len().max(1);
        let line = token.strip_prefix("//");
        let block = token
            .strip_prefix("/*")
            .map(|t| t.strip_suffix("*/").unwrap_or(t));
        found.extend(line.or(block).map(str::trim));
    }
    found
}

/// Length in bytes of the token, blank or comment at the start of a text.
fn token_length(rest: &str) -> usize {
    let whole = rest.len();
    let until = |found: Option<usize>, width: usize| found.map_or(whole, |i| i + width);
    let Some(first) = rest.chars().next() else {
        return 0;
    };
    if rest.starts_with("//") {
        return until(rest.find('\n'), 1);
    }
    if rest.starts_with("/*") {
        return until(rest.find("*/"), 2);
    }
    if first == '"' {
        let mut escaped = false;
        for (i, c) in rest.char_indices().skip(1) {
            match c {
                _ if escaped => escaped = false,
                '\\' => escaped = true,
                '"' => return i + 1,
                _ => {}
            }
        }
        return whole;
    }
    if let Some(hashes) = raw_string_hashes(rest) {
        let close = format!("\"{}", "#".repeat(hashes));
        let open = hashes + 2;
        let body = rest.get(open..).unwrap_or("");
        return until(body.find(&close).map(|i| i + open), close.len());
    }
    if first.is_whitespace() {
        return until(rest.find(|c: char| !c.is_whitespace()), 0);
    }
    let of_word = |c: char| c.is_alphanumeric() || matches!(c, '_' | '.' | '+' | '-');
    if of_word(first) {
        return until(rest.find(|c: char| !of_word(c)), 0);
    }
    first.len_utf8()
}

fn raw_string_hashes(rest: &str) -> Option<usize> {
    let body = rest.strip_prefix('r')?;
    let hashes = body.len() - body.trim_start_matches('#').len();
    body.get(hashes..)?.starts_with('"').then_some(hashes)
}

/// The names of the fields around an offset, outermost first, joined with dots:
/// `variants.phases.lines.percent`. Empty outside any field.
pub fn field_at(text: &str, offset: usize) -> String {
    let mut names: Vec<&str> = Vec::new();
    walk(text, |_, frames, start| {
        if start > offset {
            return true;
        }
        names = frames.iter().filter_map(|f| f.key).collect();
        false
    });
    names.join(".")
}

/// The place of the value at the end of a path, or of the nearest value around it
/// that is there.
pub fn place_of(text: &str, path: &[PathStep]) -> Option<TextPosition> {
    let mut best: Option<(usize, usize)> = None;
    walk(text, |mark, frames, start| {
        let depth = frames.len();
        let fits = mark == Mark::Value
            && depth <= path.len()
            && frames.iter().zip(path).all(|(frame, step)| match step {
                PathStep::Field(name) => frame.key == Some(name),
                PathStep::Item(item) => frame.key.is_none() && frame.item == *item,
            });
        if fits && best.is_none_or(|(deepest, _)| depth > deepest) {
            best = Some((depth, start));
        }
        best.is_some_and(|(deepest, _)| deepest == path.len())
    });
    best.map(|(_, offset)| TextPosition::of_offset(text, offset))
}

/// The byte offset of a place, at most the length of the text.
pub fn offset_of(text: &str, place: TextPosition) -> usize {
    let line_start: usize = text
        .split_inclusive('\n')
        .take(place.line.saturating_sub(1))
        .map(str::len)
        .sum();
    let line = text.get(line_start..).unwrap_or("");
    let column = line
        .char_indices()
        .nth(place.column.saturating_sub(1))
        .map_or(line.len(), |(i, _)| i);
    line_start + column
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn comments_are_told_from_texts() {
        let text = "// head\n(a: \"// none\", /* in\n between */ b: r#\"/* none */\"#) // end";
        assert_eq!(comments(text), ["head", "in\n between", "end"]);
        assert_eq!(comments("(a: 1)"), Vec::<&str>::new());
        assert_eq!(comments("/* never closed"), ["never closed"]);
    }

    const TEXT: &str = r##"// a comment with ( and "
(
    name: "a (b) \" c", /* [ */
    kind: Surfactant(Anionic),
    list: [
        (id: 1, x: (1, 2.5, 3)),
        (id: 2, note: r#"raw ")" here"#, x: -4),
    ],
    map: {"key": 7},
)
"##;

    #[test]
    fn fields_are_named_from_a_place() {
        let check = |needle: &str, field: &str| {
            let offset = TEXT.find(needle).unwrap();
            assert_eq!(field_at(TEXT, offset), field, "{needle}");
            assert_eq!(
                offset_of(TEXT, TextPosition::of_offset(TEXT, offset)),
                offset
            );
        };
        check("\"a (b)", "name");
        check("Surfactant", "kind");
        check("Anionic", "kind");
        check("2.5", "list.x");
        check("raw", "list.note");
        check("-4", "list.x");
        check("7}", "map.key");
        check(" 7}", "map.key");
        check("),\n    ],", "list");
    }

    #[test]
    fn places_are_found_from_a_path() {
        use PathStep::{Field, Item};
        let check = |path: &[PathStep], line, column| {
            assert_eq!(
                place_of(TEXT, path),
                Some(TextPosition { line, column }),
                "{path:?}"
            );
        };
        check(&[Field("name")], 3, 11);
        check(&[Field("list"), Item(1), Field("x")], 7, 45);
        check(&[Field("list"), Item(1), Field("missing")], 7, 9);
        check(&[Field("list"), Item(0), Field("x"), Item(2)], 6, 29);
        check(&[Field("none")], 2, 1);
        assert_eq!(place_of("", &[Field("none")]), None);
    }

    #[test]
    fn broken_text_is_walked_to_its_end() {
        for text in ["", "(((", "\"", "r#\"", "/*", "é:é", ")]}", "(a: \\"] {
            field_at(text, text.len());
            place_of(text, &[PathStep::Field("a")]);
        }
    }
}
