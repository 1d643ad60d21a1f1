//! Everyday and trade names of raw materials in several languages, as a RON file.
//!
//! ```ron
//! (
//!     version: 1,
//!     source: "common usage, from memory",
//!     names: [
//!         (
//!             materials: ["citric-acid-anhydrous", "citric-acid-monohydrate"],
//!             en: ["citric acid"],
//!             de: ["Zitronensäure", "Citronensäure"],
//!         ),
//!     ],
//! )
//! ```
//!
//! `materials` names by id what is meant, the most usual form first; there are several
//! where the name alone does not tell the form or the strength. `unsure: true` says that the
//! name is as often used for what is not on the shelf.

use std::collections::BTreeMap;
use std::sync::Arc;

use serde::Deserialize;

use super::material_file::ron_options;
use super::read_error::ReadError;
use crate::material::MaterialId;
use crate::plain_words::words_of;

/// The version this program reads.
pub const VERSION: u32 = 1;

/// A language in which makers write recipes.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
#[expect(missing_docs, reason = "the languages are what they are called")]
pub enum Language {
    English,
    German,
    French,
    Spanish,
    Italian,
    Dutch,
    Polish,
    Portuguese,
    Swedish,
    /// And Norwegian, whose words of this trade are the same or near to them.
    Danish,
}

impl Language {
    /// All of them.
    pub const ALL: [Self; 10] = [
        Self::English,
        Self::German,
        Self::French,
        Self::Spanish,
        Self::Italian,
        Self::Dutch,
        Self::Polish,
        Self::Portuguese,
        Self::Swedish,
        Self::Danish,
    ];
    /// Its two letters by ISO 639-1, which are the field of the file as well.
    pub const fn code(self) -> &'static str {
        match self {
            Self::English => "en",
            Self::German => "de",
            Self::French => "fr",
            Self::Spanish => "es",
            Self::Italian => "it",
            Self::Dutch => "nl",
            Self::Polish => "pl",
            Self::Portuguese => "pt",
            Self::Swedish => "sv",
            Self::Danish => "da",
        }
    }
    /// The word shown for it.
    pub const fn label(self) -> &'static str {
        match self {
            Self::English => "English",
            Self::German => "German",
            Self::French => "French",
            Self::Spanish => "Spanish",
            Self::Italian => "Italian",
            Self::Dutch => "Dutch",
            Self::Polish => "Polish",
            Self::Portuguese => "Portuguese",
            Self::Swedish => "Swedish",
            Self::Danish => "Danish",
        }
    }
}

/// A name as people write it, and what it means.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct PlainName {
    /// The name, in its usual spelling.
    pub name: Arc<str>,
    /// The language it belongs to; short forms of the trade stand under English.
    pub language: Language,
    /// What it means: one material, or several of which the first is the most usual.
    pub materials: Arc<[MaterialId]>,
    /// It may as well be something that is not among these, so that it is always asked.
    pub unsure: bool,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct PlainNameFile {
    version: u32,
    /// Where the names are from, in words.
    #[serde(rename = "source")]
    _source: String,
    names: Vec<PlainNameEntry>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct PlainNameEntry {
    materials: Vec<String>,
    #[serde(default)]
    unsure: bool,
    #[serde(default)]
    en: Vec<String>,
    #[serde(default)]
    de: Vec<String>,
    #[serde(default)]
    fr: Vec<String>,
    #[serde(default)]
    es: Vec<String>,
    #[serde(default)]
    it: Vec<String>,
    #[serde(default)]
    nl: Vec<String>,
    #[serde(default)]
    pl: Vec<String>,
    #[serde(default)]
    pt: Vec<String>,
    #[serde(default)]
    sv: Vec<String>,
    #[serde(default)]
    da: Vec<String>,
}

impl PlainNameEntry {
    fn into_languages(self) -> [(Language, Vec<String>); 10] {
        [
            (Language::English, self.en),
            (Language::German, self.de),
            (Language::French, self.fr),
            (Language::Spanish, self.es),
            (Language::Italian, self.it),
            (Language::Dutch, self.nl),
            (Language::Polish, self.pl),
            (Language::Portuguese, self.pt),
            (Language::Swedish, self.sv),
            (Language::Danish, self.da),
        ]
    }
}

/// Reads a file of plain names. `file` is its name, for the error.
///
/// A name that is empty, or means two different things in one language, is refused with
/// the name and what to do.
pub fn read(text: &str, file: &str) -> Result<Vec<PlainName>, ReadError> {
    let parsed: PlainNameFile = ron_options()
        .from_str(text)
        .map_err(|e| ReadError::ron(file, &e))?;
    if parsed.version != VERSION {
        return Err(ReadError::whole(
            file,
            format!(
                "the file is of version {}; this program reads version {VERSION}",
                parsed.version
            ),
        ));
    }
    let mut names = Vec::new();
    let mut seen: BTreeMap<(Language, Vec<String>), Arc<[MaterialId]>> = BTreeMap::new();
    for entry in parsed.names {
        let materials: Arc<[MaterialId]> = entry
            .materials
            .iter()
            .map(|id| MaterialId::from_name(id))
            .collect();
        let unsure = entry.unsure;
        if materials.is_empty() || materials.iter().any(|id| id.as_str().is_empty()) {
            return Err(ReadError::whole(
                file,
                "an entry of `names` has no `materials`; name the id of at least one",
            ));
        }
        for (language, list) in entry.into_languages() {
            for name in list {
                let words = words_of(&name);
                if words.is_empty() {
                    return Err(ReadError::whole(
                        file,
                        format!(
                            "a name of “{}” in the field `{}` is empty; write it or take it out",
                            materials.first().map_or("", MaterialId::as_str),
                            language.code()
                        ),
                    ));
                }
                if let Some(other) = seen.insert((language, words), Arc::clone(&materials)) {
                    return Err(ReadError::whole(
                        file,
                        format!(
                            "the name “{name}” stands twice in the field `{}` (once for “{}”); keep one, with all materials it may mean",
                            language.code(),
                            other.first().map_or("", MaterialId::as_str),
                        ),
                    ));
                }
                names.push(PlainName {
                    name: name.into(),
                    language,
                    materials: Arc::clone(&materials),
                    unsure,
                });
            }
        }
    }
    Ok(names)
}

#[cfg(test)]
mod tests {
    use super::*;

    const FILE: &str = r#"(
        version: 1,
        source: "from memory",
        names: [
            (materials: ["glycerin-99-5", "glycerin-86"], en: ["glycerol"], de: ["Glyzerin"]),
            (materials: ["sodium-chloride"], en: ["salt"], fr: ["sel"]),
        ],
    )"#;

    fn message(text: &str) -> String {
        read(text, "names.ron").unwrap_err().to_string()
    }

    #[test]
    fn names_are_read_with_language_and_meaning() {
        let names = read(FILE, "names.ron").unwrap();
        let german = names.iter().find(|n| &*n.name == "Glyzerin").unwrap();
        assert_eq!(german.language, Language::German);
        let ids: Vec<&str> = german.materials.iter().map(MaterialId::as_str).collect();
        assert_eq!(ids, ["glycerin-99-5", "glycerin-86"]);
        assert_eq!(names.len(), 4);
    }

    #[test]
    fn faults_name_what_to_do() {
        let twice = FILE.replace("[\"salt\"]", "[\"salt\", \"Glycerol\"]");
        let said = message(&twice);
        assert!(
            said.contains("“Glycerol” stands twice") && said.contains("`en`"),
            "{said}"
        );
        let said = message(&FILE.replace("\"sel\"", "\"\""));
        assert!(
            said.contains("sodium-chloride") && said.contains("`fr`"),
            "{said}"
        );
        let said = message(&FILE.replace("[\"sodium-chloride\"]", "[]"));
        assert!(said.contains("`materials`"), "{said}");
        let said = message(&FILE.replace("version: 1", "version: 7"));
        assert!(said.contains("version 7"), "{said}");
        let said = message(&FILE.replace("fr:", "xx:"));
        assert!(said.contains("`xx`") && said.contains("line"), "{said}");
    }
}
