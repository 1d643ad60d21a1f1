//! The table of sources of a file: each source is written once and referred to
//! by a short key.

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};

use super::mirror::BasisName;
use crate::material::Source;

/// A source as written in a file.
#[derive(Clone, PartialEq, Eq, Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct SourceEntry {
    /// How sure values from it are.
    pub basis: BasisName,
    /// The document, table or reason, in words.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub text: String,
}

impl From<&SourceEntry> for Source {
    fn from(entry: &SourceEntry) -> Self {
        Self::new(entry.basis.into(), entry.text.as_str())
    }
}

/// Sources by key.
#[derive(Clone, PartialEq, Eq, Debug, Default, Serialize, Deserialize)]
#[serde(transparent)]
pub struct SourceTable(pub BTreeMap<String, SourceEntry>);

impl SourceTable {
    /// Whether no source is listed.
    pub fn is_empty(&self) -> bool {
        self.0.is_empty()
    }

    /// The source of a key, or a sentence on what is wrong.
    pub fn find(&self, key: &str) -> Result<Source, String> {
        self.0.get(key).map(Source::from).ok_or_else(|| {
            let known: Vec<&str> = self.0.keys().map(String::as_str).collect();
            if known.is_empty() {
                format!("the source “{key}” is not in the table `sources`, which is empty; add it there")
            } else {
                format!(
                    "the source “{key}” is not in the table `sources`; add it there or use one of: {}",
                    known.join(", ")
                )
            }
        })
    }

    /// The key of a source, which is added if it is new.
    pub fn key_of(&mut self, source: &Source) -> String {
        let basis = BasisName::from(source.basis);
        let same = |entry: &SourceEntry| entry.basis == basis && entry.text == *source.text;
        if let Some((key, _)) = self.0.iter().find(|(_, entry)| same(entry)) {
            return key.clone();
        }
        let stem = format!("{basis:?}").to_lowercase();
        let mut key = stem.clone();
        let mut n = 2;
        while self.0.contains_key(&key) {
            key = format!("{stem}-{n}");
            n += 1;
        }
        self.0.insert(
            key.clone(),
            SourceEntry {
                basis,
                text: source.text.to_string(),
            },
        );
        key
    }
}
