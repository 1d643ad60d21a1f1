//! Everyday words for roles, as a RON file: what one types to find a thickener.
//!
//! ```ron
//! (
//!     version: 1,
//!     source: "common usage, from memory",
//!     staples: ["Xanthan gum"],
//!     broad: ["broad-spectrum"],
//!     roles: [(role: "thickener", words: ["gum", "gelling"])],
//! )
//! ```

use std::sync::OnceLock;

use serde::Deserialize;

use super::material_file::ron_options;
use crate::material::{Coverage, Material, Role};

/// The version this program reads.
pub const VERSION: u32 = 1;

/// The words that come with the program.
const TEXT: &str = include_str!("../../../../assets/names/role_words.ron");

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct WordsFile {
    version: u32,
    #[serde(rename = "source")]
    _source: String,
    staples: Vec<String>,
    broad: Vec<String>,
    roles: Vec<RoleEntry>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct RoleEntry {
    role: String,
    words: Vec<String>,
}

/// What most makers have, words of each role, and those of preservatives that cover everything.
#[derive(Default)]
struct Words {
    staples: Vec<String>,
    broad: Vec<String>,
    roles: Vec<(Role, Vec<String>)>,
}

fn read(text: &str) -> Result<Words, String> {
    let file: WordsFile = ron_options().from_str(text).map_err(|e| e.to_string())?;
    if file.version != VERSION {
        return Err(format!("version {} is not known", file.version));
    }
    let roles = file.roles.into_iter().map(|entry| {
        let role = Role::ALL.into_iter().find(|r| r.label() == entry.role);
        role.map(|role| (role, entry.words))
            .ok_or_else(|| format!("“{}” is not a role", entry.role))
    });
    Ok(Words {
        staples: file.staples,
        broad: file.broad,
        roles: roles.collect::<Result<_, _>>()?,
    })
}

/// The words that come with the program. A file that cannot be read gives none; a test holds
/// it sound.
fn words() -> &'static Words {
    static WORDS: OnceLock<Words> = OnceLock::new();
    WORDS.get_or_init(|| read(TEXT).unwrap_or_default())
}

/// Whether most makers have a material on their shelf.
pub fn is_staple(material: &Material) -> bool {
    words().staples.iter().any(|name| **name == *material.name)
}

/// The everyday words for what a material does.
pub fn of(material: &Material) -> Vec<&'static str> {
    let words = words();
    let broad = material.preservation.as_ref().is_some_and(|p| {
        [p.bacteria, p.yeast, p.mould]
            .iter()
            .all(|c| *c == Coverage::Good)
    });
    let of_roles = words
        .roles
        .iter()
        .filter(|(role, _)| material.has_role(*role))
        .flat_map(|(_, words)| words);
    let of_broad = broad.then_some(&words.broad).into_iter().flatten();
    of_roles.chain(of_broad).map(String::as_str).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_words_are_read() {
        let words = read(TEXT).unwrap();
        assert!(words.roles.len() > 20 && !words.broad.is_empty());
        let shelf = crate::shelf::built_in();
        for name in &words.staples {
            assert!(shelf.iter().any(|m| *m.name == **name), "{name}");
        }
        let wrong = r#"(version: 1, source: "", staples: [], broad: [], roles: [(role: "glue", words: [])])"#;
        assert_eq!(read(wrong).err().unwrap(), "“glue” is not a role");
    }
}
