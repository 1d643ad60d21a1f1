//! Spreadsheet files are ZIP archives. Before anything in one is used, everything in
//! it is unpacked once and counted, because the sizes an archive states may be lies.

use std::io::{Cursor, Read as _};

use zip::ZipArchive;
use zip::result::ZipError;

use super::TableError;

/// Most bytes that all parts of a spreadsheet may unpack to.
pub const MOST_UNPACKED: u64 = 64 << 20;
/// Most parts of a spreadsheet.
const MOST_PARTS: usize = 5_000;

/// An archive that was unpacked once and found to be of bearable size.
pub struct Archive<'b> {
    zip: ZipArchive<Cursor<&'b [u8]>>,
}

fn told(error: ZipError) -> TableError {
    match error {
        ZipError::UnsupportedArchive(text) if text.to_lowercase().contains("password") => {
            TableError::Kind {
                what: "the spreadsheet is protected with a password",
                remedy: "save it without the password",
            }
        }
        other => TableError::Damaged(other.to_string()),
    }
}

impl<'b> Archive<'b> {
    /// Opens and checks an archive.
    pub fn open(bytes: &'b [u8]) -> Result<Self, TableError> {
        let mut zip = ZipArchive::new(Cursor::new(bytes)).map_err(told)?;
        if zip.len() > MOST_PARTS {
            return Err(TableError::Bomb);
        }
        // The stated sizes first: an honest bomb costs nothing to refuse.
        if zip
            .decompressed_size()
            .is_some_and(|size| size > u128::from(MOST_UNPACKED))
        {
            return Err(TableError::Bomb);
        }
        let mut left = MOST_UNPACKED;
        let mut part = Vec::new();
        for place in 0..zip.len() {
            let file = zip.by_index(place).map_err(told)?;
            let texts = file
                .name()
                .is_ok_and(|n| n.to_ascii_lowercase().ends_with("sharedstrings.xml"));
            part.clear();
            file.take(left + 1)
                .read_to_end(&mut part)
                .map_err(|error| TableError::Damaged(error.to_string()))?;
            left = left
                .checked_sub(part.len() as u64)
                .ok_or(TableError::Bomb)?;
            if texts {
                check_stated_count(&part)?;
            }
        }
        Ok(Self { zip })
    }

    /// Whether it has a part of this name.
    pub fn holds(&self, name: &str) -> bool {
        self.zip.index_for_name(name).is_some()
    }

    /// The text of a part.
    pub fn text(&mut self, name: &str) -> Result<String, TableError> {
        let file = self.zip.by_name(name).map_err(told)?;
        let mut text = String::new();
        file.take(MOST_UNPACKED)
            .read_to_string(&mut text)
            .map_err(|error| TableError::Damaged(format!("{name}: {error}")))?;
        Ok(text)
    }
}

/// The table of texts of an XLSX file states how many there are, and readers make
/// room for that many; a count larger than the table itself is an attack.
fn check_stated_count(part: &[u8]) -> Result<(), TableError> {
    const WORD: &[u8] = b"uniqueCount";
    for (place, _) in part
        .windows(WORD.len())
        .enumerate()
        .filter(|(_, w)| *w == WORD)
    {
        let digits: String = part
            .get(place + WORD.len()..)
            .unwrap_or_default()
            .iter()
            .map(|&b| char::from(b))
            .skip_while(|c| matches!(c, ' ' | '\t' | '\r' | '\n' | '=' | '"' | '\''))
            .take_while(char::is_ascii_digit)
            .take(30)
            .collect();
        if digits.parse::<u128>().is_ok_and(|n| n > part.len() as u128) {
            return Err(TableError::Damaged(format!(
                "its list of texts states {digits} texts but is too short to hold them"
            )));
        }
    }
    Ok(())
}
