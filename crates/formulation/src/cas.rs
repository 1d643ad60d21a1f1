//! CAS registry numbers with their check digit.

use std::fmt;
use std::str::FromStr;

/// A CAS registry number whose check digit has been verified.
///
/// The check digit is the sum of the other digits, each multiplied by its place
/// counted from the right, modulo 10 (CAS, "Check Digit Verification of CAS
/// Registry Numbers").
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Cas(u64);

/// Why a text is not a CAS number.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum CasError {
    /// Not digits-two digits-one digit.
    #[error(
        "“{0}” does not have the form of a CAS number, 2 to 7 digits, 2 digits, 1 digit, for example 7732-18-5"
    )]
    Form(String),
    /// The last digit does not fit the others.
    #[error(
        "“{text}” is not a valid CAS number: its check digit should be {expected}; look for a mistyped digit"
    )]
    CheckDigit {
        /// What was read.
        text: String,
        /// The digit that would fit.
        expected: u64,
    },
}

impl FromStr for Cas {
    type Err = CasError;

    fn from_str(text: &str) -> Result<Self, Self::Err> {
        let text = text.trim();
        let form = || CasError::Form(text.to_owned());
        let mut parts = text.split('-');
        let (Some(a), Some(b), Some(c), None) =
            (parts.next(), parts.next(), parts.next(), parts.next())
        else {
            return Err(form());
        };
        let digits = |s: &str| s.bytes().all(|b| b.is_ascii_digit());
        if !(2..=7).contains(&a.len())
            || b.len() != 2
            || c.len() != 1
            || ![a, b, c].into_iter().all(digits)
        {
            return Err(form());
        }
        let Ok(number) = format!("{a}{b}{c}").parse::<u64>() else {
            return Err(form());
        };
        // Tables with leading zeros are read; without them two digits must be left.
        if number < 10_000 {
            return Err(form());
        }
        let expected = check_digit(number / 10);
        if expected != number % 10 {
            return Err(CasError::CheckDigit {
                text: text.to_owned(),
                expected,
            });
        }
        Ok(Self(number))
    }
}

fn check_digit(mut body: u64) -> u64 {
    let mut sum = 0;
    let mut place = 1;
    while body > 0 {
        sum += body % 10 * place;
        body /= 10;
        place += 1;
    }
    sum % 10
}

impl Cas {
    /// Its digits as one number.
    pub(crate) const fn number(self) -> u64 {
        self.0
    }
}

impl fmt::Display for Cas {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(&format!(
            "{}-{:02}-{}",
            self.0 / 1000,
            self.0 / 10 % 100,
            self.0 % 10
        ))
    }
}
impl fmt::Debug for Cas {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        fmt::Display::fmt(self, f)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn published_numbers_are_read_and_printed() {
        // Water, glycerin, sodium benzoate, sodium chloride, citric acid: numbers as in the
        // European Commission's CosIng inventory.
        for text in [
            "7732-18-5",
            "56-81-5",
            "532-32-1",
            "7647-14-5",
            "77-92-9",
            "68891-38-3",
        ] {
            assert_eq!(text.parse::<Cas>().unwrap().to_string(), text);
        }
    }

    #[test]
    fn leading_zeros_are_left_out() {
        assert_eq!(
            "0000056-81-5".parse::<Cas>().unwrap().to_string(),
            "56-81-5"
        );
        // Its check digit fits, but no number begins with one digit.
        assert!(matches!("08-61-7".parse::<Cas>(), Err(CasError::Form(_))));
    }

    #[test]
    fn a_wrong_digit_is_named() {
        assert_eq!(
            "7732-18-4".parse::<Cas>(),
            Err(CasError::CheckDigit {
                text: "7732-18-4".into(),
                expected: 5
            })
        );
        // A known slip in an official table: isobutyl benzoate printed as 1205-50-3 for 120-50-3.
        assert!("1205-50-3".parse::<Cas>().is_err());
        assert!("120-50-3".parse::<Cas>().is_ok());
        assert!(matches!("water".parse::<Cas>(), Err(CasError::Form(_))));
        assert!(matches!("1-2-3-4".parse::<Cas>(), Err(CasError::Form(_))));
    }
}
