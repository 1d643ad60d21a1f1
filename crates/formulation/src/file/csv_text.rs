//! What a CSV writer has written, as text.

/// The text. Writing to memory does not fail; the error is that of the last flush.
pub(super) fn csv_text(writer: csv::Writer<Vec<u8>>) -> Result<String, csv::Error> {
    let bytes = writer
        .into_inner()
        .map_err(csv::IntoInnerError::into_error)?;
    Ok(String::from_utf8_lossy(&bytes).into_owned())
}
