//! Batch codes and the scheme that makes them.

use std::fmt;
use std::sync::Arc;

use crate::formula::Date;

/// The code of a batch, printed on every unit, for example `26-047`: letters, digits,
/// hyphens, points and underscores, at most 40.
#[derive(Clone, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct BatchCode(Arc<str>);

/// Why a text is not a batch code or a scheme.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum CodeError {
    /// Empty, too long or with characters that do not print or file well.
    #[error(
        "“{0}” is not a batch code; use 1 to 40 letters, digits, hyphens, points or underscores, starting with a letter or digit"
    )]
    Code(String),
    /// The scheme has no counter.
    #[error("the scheme “{0}” has no counter; add one such as {{nnn}}")]
    NoCounter(String),
    /// The scheme has more than one counter.
    #[error("the scheme “{0}” has two counters; keep one")]
    TwoCounters(String),
    /// A word in braces that is unknown.
    #[error("the scheme has “{{{0}}}”, which is unknown; use yyyy, yy, mm, dd, ddd or n to nnnnnn")]
    Token(String),
}

impl BatchCode {
    /// A checked code.
    pub fn new(text: &str) -> Result<Self, CodeError> {
        let text = text.trim();
        let fits = |c: char| c.is_ascii_alphanumeric() || matches!(c, '-' | '.' | '_');
        let starts = text.starts_with(|c: char| c.is_ascii_alphanumeric());
        if starts && text.len() <= 40 && text.chars().all(fits) {
            Ok(Self(text.into()))
        } else {
            Err(CodeError::Code(text.to_owned()))
        }
    }

    /// The text.
    pub fn as_str(&self) -> &str {
        &self.0
    }
}

impl fmt::Display for BatchCode {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(&self.0)
    }
}
impl fmt::Debug for BatchCode {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.0)
    }
}

#[derive(Clone, PartialEq, Eq, Debug)]
enum Part {
    Text(String),
    Year4,
    Year2,
    Month,
    Day,
    DayOfYear,
    Counter(usize),
}

/// How batch codes are made: fixed text with `{yyyy}`, `{yy}`, `{mm}`, `{dd}`, `{ddd}` (day
/// of the year) and one counter `{n}` to `{nnnnnn}`, filled with zeros to its width.
///
/// The counter runs on within codes that are alike but for it, so `{yy}-{nnn}` starts at
/// 001 every year.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct CodeScheme {
    text: String,
    parts: Vec<Part>,
}

impl Default for CodeScheme {
    fn default() -> Self {
        Self {
            text: "{yy}-{nnn}".to_owned(),
            parts: vec![Part::Year2, Part::Text("-".to_owned()), Part::Counter(3)],
        }
    }
}

impl CodeScheme {
    /// Reads a scheme.
    pub fn new(text: &str) -> Result<Self, CodeError> {
        let text = text.trim();
        let mut parts = Vec::new();
        let mut counters = 0;
        let mut rest = text;
        while !rest.is_empty() {
            let (plain, after) = rest.split_once('{').unwrap_or((rest, ""));
            if !plain.is_empty() {
                // Fixed text obeys the rule of codes; a leading letter makes it checkable alone.
                if BatchCode::new(&format!("x{plain}")).is_err() {
                    return Err(CodeError::Code(text.to_owned()));
                }
                parts.push(Part::Text(plain.to_owned()));
            }
            if plain.len() == rest.len() {
                break;
            }
            let Some((token, after)) = after.split_once('}') else {
                return Err(CodeError::Token(after.to_owned()));
            };
            parts.push(match token {
                "yyyy" => Part::Year4,
                "yy" => Part::Year2,
                "mm" => Part::Month,
                "dd" => Part::Day,
                "ddd" => Part::DayOfYear,
                n if (1..=6).contains(&n.len()) && n.bytes().all(|b| b == b'n') => {
                    counters += 1;
                    Part::Counter(n.len())
                }
                other => return Err(CodeError::Token(other.to_owned())),
            });
            rest = after;
        }
        match counters {
            0 => Err(CodeError::NoCounter(text.to_owned())),
            1 => {
                let scheme = Self {
                    text: text.to_owned(),
                    parts,
                };
                // A code of the scheme must itself be a code.
                BatchCode::new(&scheme.fill(jiff::civil::date(2026, 1, 1), 1))?;
                Ok(scheme)
            }
            _ => Err(CodeError::TwoCounters(text.to_owned())),
        }
    }

    /// The scheme as written.
    pub fn as_str(&self) -> &str {
        &self.text
    }

    fn fill(&self, day: Date, counter: u64) -> String {
        self.parts
            .iter()
            .map(|part| match part {
                Part::Text(text) => text.clone(),
                Part::Year4 => format!("{:04}", day.year()),
                Part::Year2 => format!("{:02}", day.year().rem_euclid(100)),
                Part::Month => format!("{:02}", day.month()),
                Part::Day => format!("{:02}", day.day()),
                Part::DayOfYear => format!("{:03}", day.day_of_year()),
                Part::Counter(width) => format!("{counter:0width$}"),
            })
            .collect()
    }

    /// The next code for a day: one more than the highest counter among the codes that are
    /// alike but for it. Never one that is taken.
    pub fn next<'a>(
        &self,
        day: Date,
        taken: impl IntoIterator<Item = &'a BatchCode>,
    ) -> Result<BatchCode, CodeError> {
        let position = self
            .parts
            .iter()
            .position(|p| matches!(p, Part::Counter(_)))
            .unwrap_or(0);
        let side = |parts: &[Part]| {
            Self {
                text: String::new(),
                parts: parts.to_vec(),
            }
            .fill(day, 0)
        };
        let before = side(&self.parts[..position]);
        let after = side(&self.parts[(position + 1).min(self.parts.len())..]);
        let highest = taken
            .into_iter()
            .filter_map(|code| {
                let middle = code.as_str().strip_prefix(before.as_str())?;
                let digits = middle.strip_suffix(after.as_str())?;
                digits.bytes().all(|b| b.is_ascii_digit()).then_some(digits)
            })
            .filter_map(|digits| digits.parse::<u64>().ok())
            .max()
            .unwrap_or(0);
        BatchCode::new(&self.fill(day, highest.saturating_add(1)))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use jiff::civil::date;

    fn code(text: &str) -> BatchCode {
        BatchCode::new(text).unwrap()
    }

    #[test]
    fn the_counter_runs_within_the_year() {
        let scheme = CodeScheme::default();
        let taken = [code("26-001"), code("26-046"), code("25-311"), code("x-9")];
        assert_eq!(scheme.next(date(2026, 6, 1), &taken), Ok(code("26-047")));
        assert_eq!(scheme.next(date(2027, 1, 2), &taken), Ok(code("27-001")));
    }

    #[test]
    fn a_scheme_may_use_the_day() {
        let scheme = CodeScheme::new("SG{yyyy}{ddd}.{n}").unwrap();
        let first = scheme.next(date(2026, 2, 1), &[]).unwrap();
        assert_eq!(first.as_str(), "SG2026032.1");
        assert_eq!(
            scheme.next(date(2026, 2, 1), [&first]).unwrap().as_str(),
            "SG2026032.2"
        );
    }

    #[test]
    fn a_full_counter_grows() {
        let scheme = CodeScheme::new("{n}").unwrap();
        assert_eq!(scheme.next(date(2026, 1, 1), &[code("9")]), Ok(code("10")));
    }

    #[test]
    fn bad_schemes_and_codes_are_named() {
        assert!(matches!(
            CodeScheme::new("{yy}"),
            Err(CodeError::NoCounter(_))
        ));
        assert!(matches!(
            CodeScheme::new("{n}{nn}"),
            Err(CodeError::TwoCounters(_))
        ));
        assert!(matches!(
            CodeScheme::new("{week}-{n}"),
            Err(CodeError::Token(_))
        ));
        assert!(matches!(CodeScheme::new("{yy"), Err(CodeError::Token(_))));
        assert!(matches!(CodeScheme::new("a/{n}"), Err(CodeError::Code(_))));
        for bad in ["", "a b", "../x", "-1"] {
            assert!(BatchCode::new(bad).is_err(), "{bad}");
        }
    }
}
