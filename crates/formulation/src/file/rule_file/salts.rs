//! How salts are named, and the salts of what is prohibited.

use std::sync::Arc;

use serde::Deserialize;

use super::{VERSION, options};
use crate::file::read_error::ReadError;
use crate::rules::entry::{ListEntry, Member};
use crate::rules::salt::SaltNames;

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct SaltFile {
    version: u32,
    source: String,
    after: Vec<String>,
    before: Vec<String>,
    water: Vec<String>,
    more: Vec<MoreNames>,
    not: Vec<String>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct MoreNames {
    no: String,
    of: Vec<String>,
}

/// Reads how salts are named and adds the salts of what is prohibited to the entries.
///
/// Where an entry speaks of salts, or names a medicine by its nonproprietary name, which is
/// that of what acts in all its salts, a salt is prohibited; else it is to be read.
///
/// # Errors
/// Not of this form, or a number that no entry has.
pub fn add_salts(
    text: &str,
    file: &str,
    entries: &mut [ListEntry],
) -> Result<SaltNames, ReadError> {
    let record: SaltFile = options()
        .from_str(text)
        .map_err(|e| ReadError::ron(file, &e))?;
    if record.version != VERSION || record.source.is_empty() {
        let what = "the names of salts need this version and a source";
        return Err(ReadError::whole(file, what.to_owned()));
    }
    let in_force = |no: &str, entries: &[ListEntry]| entries.iter().any(|e| *e.number == *no);
    let named = record.more.iter().map(|m| &m.no).chain(&record.not);
    for no in named {
        if !in_force(no, entries) {
            return Err(ReadError::whole(file, format!("no entry has number {no}")));
        }
    }
    for entry in entries.iter_mut() {
        if entry.deleted || record.not.iter().any(|no| *no == *entry.number) {
            continue;
        }
        let speaks = entry.name.contains("salts") || entry.name.contains("(INN");
        let of_groups = |m: &&Member| m.ground.is_some();
        let spelled = |m: &Member| {
            // The words of an entry are a name where they name one substance and no more.
            let own = m.names.iter().filter(|n| {
                ***n != *entry.name || !["(", ";", ",", " and "].iter().any(|w| n.contains(w))
            });
            own.filter(|n| !n.ends_with('*'))
                .cloned()
                .collect::<Vec<_>>()
        };
        let sure = entry.members.iter().filter(|m| m.sure && !m.nano);
        let (grouped, plain): (Vec<&Member>, Vec<&Member>) = sure.partition(of_groups);
        let more = record.more.iter().filter(|m| *m.no == *entry.number);
        let mut bases: Vec<Arc<str>> = plain.into_iter().flat_map(&spelled).collect();
        bases.extend(more.flat_map(|m| m.of.iter().map(|n| Arc::from(n.as_str()))));
        if speaks {
            bases.extend(grouped.into_iter().flat_map(&spelled));
        }
        if bases.is_empty() {
            continue;
        }
        let why = if speaks {
            "a salt of a substance that the entry names, by its name"
        } else {
            "it is by its name a salt of a substance that the entry names, and the entry does not speak of salts; read it"
        };
        entry.members.push(Member {
            names: bases,
            sure: speaks,
            salts: true,
            ground: Some(why.into()),
            ..Member::default()
        });
    }
    Ok(SaltNames::of(&record.after, &record.before, &record.water))
}
