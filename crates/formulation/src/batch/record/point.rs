//! Something that is not as it should be, told from all others by what it is about.

use std::fmt::{self, Write as _};
use std::sync::Arc;

use super::Event;
use crate::plain_words::sentence;

/// What tells a point from all others: what it is about and the figures it stands on, never
/// its words.
///
/// A point that is worded otherwise by a later program stays accepted; one that stands on
/// other figures is another point.
#[derive(Clone, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub struct Identity(Arc<str>);

impl Identity {
    /// Of a kind of point, for what it is about.
    pub fn new(kind: &str) -> Self {
        Self(kind.into())
    }
    /// With something more that tells it from others.
    #[must_use]
    pub fn with(self, part: impl fmt::Display) -> Self {
        let mut text = self.0.to_string();
        let _ = write!(text, "; {part}");
        Self(text.into())
    }
    /// Whether it is of a kind of point.
    pub(super) fn is_of_kind(&self, kind: &str) -> bool {
        let rest = self.0.strip_prefix(kind);
        rest.is_some_and(|rest| rest.is_empty() || rest.starts_with("; "))
    }
    /// As it is written in a record.
    pub fn as_str(&self) -> &str {
        &self.0
    }
}

impl From<String> for Identity {
    fn from(text: String) -> Self {
        Self(text.into())
    }
}

/// Something that is not as it should be, and whether somebody accepted it.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Point {
    /// What tells it from all others.
    pub identity: Identity,
    /// What is not as it should be.
    pub words: String,
    /// Whether it is that a lot was not noted; all of these may be accepted for one reason.
    pub without_lot: bool,
    /// Who did it knowingly, and why, where that was recorded.
    pub done_by: Option<(Arc<str>, Arc<str>)>,
    /// Who accepted it, and why.
    pub accepted: Option<(Arc<str>, Arc<str>)>,
}

impl Point {
    /// A point that nobody has accepted yet.
    pub(super) const fn open(identity: Identity, words: String) -> Self {
        Self {
            identity,
            words,
            without_lot: false,
            done_by: None,
            accepted: None,
        }
    }

    /// Its words as a sentence of its own.
    pub fn sentence(&self) -> String {
        sentence(&self.words)
    }

    /// That it is accepted, to be recorded.
    pub fn accept(&self, reason: &str) -> Event {
        Event::Accepted {
            point: self.words.as_str().into(),
            about: Some(self.identity.clone()),
            reason: reason.trim().into(),
        }
    }
}

/// That a point was accepted, as it stands after corrections.
#[derive(Clone, PartialEq, Eq, Debug)]
pub(super) struct Acceptance {
    /// The words it had.
    pub(super) words: Arc<str>,
    /// What tells the point; none in records that were kept before points were told so.
    pub(super) about: Option<Identity>,
    /// By whom, and why.
    pub(super) who: (Arc<str>, Arc<str>),
}

impl Acceptance {
    /// Whether it is of a point.
    pub(super) fn is_of(&self, point: &Point) -> bool {
        match &self.about {
            Some(about) => *about == point.identity,
            None => *self.words == *point.words,
        }
    }
}
