//! Why a file could not be read, and where in it.

use std::fmt;

/// A place in a text file, counted from 1.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct TextPosition {
    /// Line.
    pub line: usize,
    /// Column, in characters.
    pub column: usize,
}

impl TextPosition {
    /// The place of a byte offset in a text.
    pub fn of_offset(text: &str, offset: usize) -> Self {
        let before = text.get(..offset).unwrap_or(text);
        let line_start = before.rfind('\n').map_or(0, |i| i + 1);
        Self {
            line: before.matches('\n').count() + 1,
            column: before.get(line_start..).unwrap_or("").chars().count() + 1,
        }
    }
}

/// Why a file could not be read: what is wrong, what to do, where.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct ReadError {
    /// What is wrong and what to do about it, in plain words.
    pub message: String,
    /// Where in the file, if it is one place.
    pub place: Option<TextPosition>,
    /// The name of the file as it was given.
    pub file: String,
}

impl ReadError {
    /// An error about a file as a whole.
    pub fn whole(file: &str, message: impl Into<String>) -> Self {
        Self {
            message: message.into(),
            place: None,
            file: file.to_owned(),
        }
    }

    /// An error at a place.
    pub fn at(file: &str, place: Option<TextPosition>, message: impl Into<String>) -> Self {
        Self {
            message: message.into(),
            place,
            file: file.to_owned(),
        }
    }

    /// What the RON reader found, put in plain words where it speaks of code.
    pub(crate) fn ron(file: &str, error: &ron::error::SpannedError) -> Self {
        use ron::Error;
        let message = match &error.code {
            Error::Message(message) => message.clone(),
            Error::NoSuchStructField {
                found, expected, ..
            } => format!(
                "there is no field `{found}` here; the fields are {}",
                expected.join(", ")
            ),
            Error::NoSuchEnumVariant {
                found, expected, ..
            } => format!(
                "`{found}` is not one of the words known here: {}",
                expected.join(", ")
            ),
            Error::MissingStructField { field, .. } => {
                format!("the field `{field}` is missing; add it")
            }
            Error::DuplicateStructField { field, .. } => {
                format!("the field `{field}` is given twice; keep one")
            }
            Error::ExceededRecursionLimit => {
                "brackets are nested too deeply; this is not a file of this kind".to_owned()
            }
            Error::Eof => "the file ends too early; a closing bracket is missing".to_owned(),
            other => other.to_string(),
        };
        Self {
            message,
            place: Some(TextPosition {
                line: error.span.start.line,
                column: error.span.start.col,
            }),
            file: file.to_owned(),
        }
    }
}

impl fmt::Display for ReadError {
    /// Message first, path last.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self.place {
            Some(place) => write!(
                f,
                "{} (line {}, column {} of {})",
                self.message, place.line, place.column, self.file
            ),
            None => write!(f, "{} ({})", self.message, self.file),
        }
    }
}

impl std::error::Error for ReadError {}
