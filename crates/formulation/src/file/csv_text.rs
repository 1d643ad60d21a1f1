//! What a CSV writer has written, as text.

/// The text. Writing to memory does not fail; the error is that of the last flush.
pub(super) fn csv_text(writer: csv::Writer<Vec<u8>>) -> Result<String, csv::Error> {
    let bytes = writer
        .into_inner()
        .map_err(csv::IntoInnerError::into_error)?;
    Ok(String::from_utf8_lossy(&bytes).into_owned())
}

/// A text as a cell that no spreadsheet runs as a formula: what begins like one gets an
/// apostrophe in front, the spreadsheet's own sign for "this is text" (OWASP, "CSV
/// injection").
pub(super) fn harmless(text: &str) -> String {
    let risky = |t: &str| t.starts_with(['=', '+', '-', '@', '\t', '\r']);
    // An apostrophe that stands there already is doubled, so that it comes back.
    let quoted = text
        .strip_prefix('\'')
        .is_some_and(|t| risky(t.trim_start_matches('\'')));
    if risky(text) || quoted {
        format!("'{text}")
    } else {
        text.to_owned()
    }
}

/// The text of a cell that [`harmless`] wrote.
pub(super) fn as_meant(cell: &str) -> &str {
    match cell.strip_prefix('\'') {
        Some(rest)
            if rest
                .trim_start_matches('\'')
                .starts_with(['=', '+', '-', '@', '\t', '\r']) =>
        {
            rest
        }
        _ => cell,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn nothing_runs_and_everything_comes_back() {
        for text in [
            "=1+1", "+49 123", "-5", "@home", "plain", "'quoted'", "'=x", "''=x", "",
        ] {
            let cell = harmless(text);
            assert!(!cell.starts_with(['=', '+', '-', '@']), "{cell}");
            assert_eq!(as_meant(&cell), text);
        }
    }
}
