//! Text that nothing happens with where it is shown: no terminal obeys it, no spreadsheet
//! runs it, no reader of XML stumbles over it. Every text of a maker's data that leaves the
//! program as a table, a page, a drawing or printed words comes through here.

use std::borrow::Cow;

/// What stands for a character that is not let through.
pub const STAND_IN: char = '\u{fffd}';

/// Whether a character does something instead of being read: controls (a terminal obeys
/// escape sequences that begin with them, ECMA-48), marks that turn the direction of the text
/// around them (Unicode Standard Annex 9, 2.1 to 2.5), the byte order mark, and code points that are no
/// characters (The Unicode Standard, 23.7), of which U+FFFE and U+FFFF are not allowed in XML
/// (XML 1.0, 2.2). Line feed and tab are let through.
pub const fn acts(c: char) -> bool {
    match c {
        '\n' | '\t' => false,
        '\u{0}'..='\u{1f}'
        | '\u{7f}'..='\u{9f}'
        | '\u{202a}'..='\u{202e}'
        | '\u{2066}'..='\u{2069}'
        | '\u{feff}'
        | '\u{fdd0}'..='\u{fdef}' => true,
        c => c as u32 & 0xfffe == 0xfffe,
    }
}

/// A text to be read, with [`STAND_IN`] for every character that [`acts`]. Line ends of two
/// characters stay.
pub fn visible(text: &str) -> Cow<'_, str> {
    if !text.contains(acts) {
        return Cow::Borrowed(text);
    }
    let mut signs = text.chars().peekable();
    let mut out = String::with_capacity(text.len());
    while let Some(c) = signs.next() {
        let line_end = c == '\r' && signs.peek() == Some(&'\n');
        out.push(if acts(c) && !line_end { STAND_IN } else { c });
    }
    Cow::Owned(out)
}

/// A text as it stands in a page of HTML or a drawing of SVG, between tags and in attributes:
/// [`visible`], with the characters that mean something there written out.
pub fn markup(text: &str) -> String {
    quick_xml::escape::escape(visible(text)).into_owned()
}

/// A text as a cell that no spreadsheet runs as a formula: what begins like one and is no
/// number gets an apostrophe in front, the spreadsheet's own sign for "this is text" (OWASP,
/// "CSV injection").
pub fn cell(text: &str) -> String {
    let text = visible(text);
    // An apostrophe that stands there already is doubled, so that it comes back.
    let quoted = text
        .strip_prefix('\'')
        .is_some_and(|t| risky(t.trim_start_matches('\'')));
    if quoted || (risky(&text) && !is_number(&text)) {
        format!("'{text}")
    } else {
        text.into_owned()
    }
}

/// The text of a cell that [`cell`] wrote.
pub fn as_meant(cell: &str) -> &str {
    match cell.strip_prefix('\'') {
        Some(rest) if risky(rest.trim_start_matches('\'')) => rest,
        _ => cell,
    }
}

fn risky(text: &str) -> bool {
    text.starts_with(['=', '+', '-', '@', '\t', '\r'])
        // What some spreadsheets skip before they look.
        || text.trim_start().starts_with(['=', '@'])
        // The wide forms of the same signs, which a spreadsheet of East Asia takes alike.
        || text.starts_with(['\u{ff1d}', '\u{ff0b}', '\u{ff0d}', '\u{ff20}'])
}

/// Digits with a sign, a point and a power of ten at most.
fn is_number(text: &str) -> bool {
    let digits = |t: &str| !t.is_empty() && t.bytes().all(|b| b.is_ascii_digit());
    let unsigned = |t: &str| digits(t.strip_prefix(['+', '-']).unwrap_or(t));
    let (number, power) = text.split_once(['e', 'E']).unwrap_or((text, "0"));
    let (whole, part) = number.split_once('.').unwrap_or((number, "0"));
    unsigned(whole) && digits(part) && unsigned(power)
}

/// What a CSV writer has written, as text, every field of it through [`cell`].
pub fn csv(writer: csv::Writer<Vec<u8>>) -> Result<String, csv::Error> {
    let bytes = writer
        .into_inner()
        .map_err(csv::IntoInnerError::into_error)?;
    // A byte order mark at the start would be taken for none of the first cell.
    let text = String::from_utf8_lossy(&bytes).replace('\u{feff}', "\u{fffd}");
    let mut rows = csv::ReaderBuilder::new()
        .has_headers(false)
        .flexible(true)
        .from_reader(text.as_bytes());
    let mut out = csv::WriterBuilder::new()
        .flexible(true)
        .from_writer(Vec::new());
    for row in rows.records() {
        out.write_record(row?.iter().map(cell))?;
    }
    let bytes = out.into_inner().map_err(csv::IntoInnerError::into_error)?;
    Ok(String::from_utf8_lossy(&bytes).into_owned())
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn nothing_runs_and_everything_comes_back() {
        for text in [
            "=1+1",
            "+49 123",
            "-sum(a1)",
            "@home",
            "plain",
            "'quoted'",
            "'=x",
            "''=x",
            "",
            " =1+1",
            "\u{ff1d}1+1",
            "\t=1",
            "'-5",
        ] {
            let cell = cell(text);
            assert!(!risky(&cell), "{cell}");
            assert_eq!(as_meant(&cell), text);
        }
        for number in ["-5", "+3.25", "-1e-7", "12"] {
            assert_eq!(cell(number), number);
        }
    }

    #[test]
    fn terminals_and_readers_of_xml_get_nothing_to_stumble_over() {
        // Clear the screen; set the title; a sequence with the one-byte introducer; text
        // turned around; a code point that XML does not allow.
        for text in [
            "\u{1b}[2J",
            "\u{1b}]0;x\u{7}",
            "\u{9b}2J",
            "gel\u{202e}txt",
            "a\u{fffe}b",
        ] {
            assert!(!visible(text).contains(acts), "{text:?}");
            assert!(visible(text).contains(STAND_IN));
        }
        for text in [
            "Öl 70 °C\r\nzwei\n\tdrei",
            "荷荷巴油",
            "e\u{301}",
            "👍🏽",
            "שמן",
        ] {
            assert_eq!(visible(text), text);
        }
    }

    #[test]
    fn what_means_something_in_markup_is_written_out() {
        assert_eq!(
            markup("D&C <Red> “6” \"7\" 8's\u{7}"),
            "D&amp;C &lt;Red&gt; “6” &quot;7&quot; 8&apos;s\u{fffd}"
        );
    }

    proptest! {
        /// Whatever stands in a cell: as a table it is the same cell again, and no row is torn.
        #[test]
        fn a_table_keeps_its_form(cells in prop::collection::vec(".{0,12}", 1..6)) {
            let mut writer = csv::Writer::from_writer(Vec::new());
            writer.write_record(&cells).unwrap();
            let text = csv(writer).unwrap();
            let mut rows = csv::ReaderBuilder::new().has_headers(false).from_reader(text.as_bytes());
            let row = rows.records().next().unwrap().unwrap();
            prop_assert_eq!(row.len(), cells.len());
            for (found, meant) in row.iter().zip(&cells) {
                prop_assert!(!risky(found) || is_number(found));
                let meant = visible(meant);
                prop_assert_eq!(as_meant(found), meant.as_ref());
            }
        }
    }
}
