//! Where a value is from, and how sure it is.

use std::fmt;
use std::sync::Arc;

/// How sure a value is.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum Basis {
    /// Measured by the maker or by a laboratory.
    Measured,
    /// Stated on the supplier's certificate or data sheet for this very material.
    Supplier,
    /// In a published source that is named.
    Published,
    /// As data sheets of this kind of material usually give it; from memory.
    Typical,
    /// Common practice of the trade; no source.
    Practice,
    /// Computed or estimated by a named method.
    Estimate,
}

impl Basis {
    /// The words shown for it.
    pub const fn label(self) -> &'static str {
        match self {
            Self::Measured => "measured",
            Self::Supplier => "supplier's document",
            Self::Published => "published",
            Self::Typical => "typical supplier data, from memory",
            Self::Practice => "common practice, no source",
            Self::Estimate => "estimate",
        }
    }
}

/// Where a value is from.
#[derive(Clone, PartialEq, Eq, Hash, Debug)]
pub struct Source {
    /// How sure it is.
    pub basis: Basis,
    /// The document, table or reason, in words; may be empty for `Practice`.
    pub text: Arc<str>,
}

impl Source {
    /// A source with words.
    pub fn new(basis: Basis, text: impl Into<Arc<str>>) -> Self {
        Self {
            basis,
            text: text.into(),
        }
    }
}

impl fmt::Display for Source {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if self.text.is_empty() {
            f.write_str(self.basis.label())
        } else {
            write!(f, "{} ({})", self.text, self.basis.label())
        }
    }
}

/// A value and where it is from.
#[derive(Clone, PartialEq, Debug)]
pub struct Sourced<T> {
    /// The value.
    pub value: T,
    /// Where it is from.
    pub source: Source,
}

impl<T> Sourced<T> {
    /// Pairs a value with its source.
    pub const fn new(value: T, source: Source) -> Self {
        Self { value, source }
    }
}
