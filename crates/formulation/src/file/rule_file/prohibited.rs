//! The table of Annex II, and the members of its groups in words.

use std::sync::Arc;

use serde::Deserialize;

use super::written::member;
use super::{VERSION, options};
use crate::cas::Cas;
use crate::file::read_error::{ReadError, TextPosition};
use crate::finding::Level;
use crate::formula::{Date, Market};
use crate::rules::entry::{ListEntry, Member, Remark, RuledPurpose};
use crate::rules::scope::Scope;

/// Reads the table of Annex II, whose columns are: number, name, CAS numbers, INCI
/// names filed under the entry by a database, when, what is to be read.
///
/// # Errors
/// A line with another number of columns, a wrong CAS number, an unknown word in the
/// column `when`.
pub fn read_prohibited(
    text: &str,
    file: &str,
    set: u16,
    prefix: &str,
) -> Result<Vec<ListEntry>, ReadError> {
    let mut entries = Vec::with_capacity(1800);
    for (i, line) in text.lines().enumerate() {
        if line.is_empty() || line.starts_with('#') {
            continue;
        }
        let place = TextPosition {
            line: i + 1,
            column: 1,
        };
        let entry = prohibited_entry(line, set, prefix)
            .map_err(|message| ReadError::at(file, Some(place), message))?;
        entries.push(entry);
    }
    Ok(entries)
}

/// The entry of a line.
fn prohibited_entry(line: &str, set: u16, prefix: &str) -> Result<ListEntry, String> {
    let columns: Vec<&str> = line.split('\t').collect();
    let &[number, name, cas, inci, when, read] = columns.as_slice() else {
        return Err("a line needs six columns divided by tabs".to_owned());
    };
    let conditions = Conditions::read(when)?;
    let mut members = members_of(name, cas, inci, conditions.nano)?;
    if conditions.deleted {
        members.clear();
    }
    let read = (!read.is_empty()).then(|| Remark {
        text: read.into(),
        when: Scope::All,
    });
    Ok(ListEntry {
        set,
        rule: format!("{prefix}/{number}").into(),
        number: number.into(),
        name: name.into(),
        members,
        purpose: conditions.purpose,
        prohibited: conditions.prohibited,
        tiers: Vec::new(),
        never: Vec::new(),
        apart: Vec::new(),
        label: Vec::new(),
        read: Vec::from_iter(read),
        except: conditions.except,
        traces_of: conditions.traces_of,
        if_present: None,
        open: false,
        natural: false,
        binds: conditions.binds,
        cite: None,
        allergen: None,
        from: conditions.from,
        deleted: conditions.deleted,
        joint: false,
        product: false,
        unless: None,
        seen: true,
        level: conditions.level,
    })
}

/// The substances of a line: what it names, then what a database files under it.
fn members_of(name: &str, cas: &str, inci: &str, nano: bool) -> Result<Vec<Member>, String> {
    let cas = cas
        .split_ascii_whitespace()
        .map(|c| c.parse::<Cas>().map_err(|e| e.to_string()))
        .collect::<Result<Vec<_>, _>>()?;
    let plain = |names, cas, sure| Member {
        names,
        cas,
        sure,
        nano,
        ..Member::default()
    };
    let (mut named, mut filed): (Vec<Arc<str>>, Vec<Arc<str>>) = (Vec::new(), Vec::new());
    for one in inci.split(';').map(str::trim).filter(|n| !n.is_empty()) {
        match one.strip_prefix('!') {
            Some(one) => named.push(one.into()),
            None => filed.push(one.into()),
        }
    }
    let mut members = Vec::with_capacity(3);
    let single = cas.len() == 1;
    if !cas.is_empty() || name.len() <= LONGEST_NAME {
        let mut names = vec![name.into()];
        if single {
            names.extend(named.iter().cloned());
        }
        members.push(plain(names, cas, true));
    }
    if (!single || members.is_empty()) && !named.is_empty() {
        members.push(plain(named, Vec::new(), true));
    }
    if !filed.is_empty() {
        members.push(plain(filed, Vec::new(), false));
    }
    Ok(members)
}

/// Words longer than this, in bytes, describe a group and name no substance.
const LONGEST_NAME: usize = 60;

/// What the column `when` says.
struct Conditions {
    nano: bool,
    deleted: bool,
    purpose: RuledPurpose,
    level: Level,
    prohibited: Option<Scope>,
    from: Option<Date>,
    except: Vec<Arc<str>>,
    traces_of: Vec<Arc<str>>,
    binds: Vec<Market>,
}

impl Conditions {
    fn read(when: &str) -> Result<Self, String> {
        let mut conditions = Self {
            nano: false,
            deleted: when == "deleted",
            purpose: RuledPurpose::Any,
            level: Level::Breach,
            prohibited: Some(Scope::All),
            from: None,
            except: Vec::new(),
            traces_of: Vec::new(),
            binds: Vec::new(),
        };
        for one in when.split(',').map(str::trim) {
            match one {
                "" => {}
                "nano" => conditions.nano = true,
                "deleted" => conditions.prohibited = None,
                "read" => conditions.level = Level::Caution,
                "purity" => conditions.level = Level::Note,
                "as fragrance" => conditions.purpose = RuledPurpose::Fragrance,
                "Eu" => conditions.binds.push(Market::Eu),
                other => conditions.read_other(other)?,
            }
        }
        Ok(conditions)
    }

    fn read_other(&mut self, words: &str) -> Result<(), String> {
        if let Some(day) = words.strip_prefix("from ") {
            let not_a_day = |_| format!("“{day}” is not a day");
            self.from = Some(day.parse().map_err(not_a_day)?);
        } else if let Some(rules) = words.strip_prefix("except ") {
            self.except.extend(rules.split(" and ").map(Arc::from));
        } else if let Some(rules) = words.strip_prefix("traces of ") {
            self.traces_of.extend(rules.split(" and ").map(Arc::from));
        } else {
            self.prohibited = Some(Scope::parse(words).map_err(|e| e.to_string())?);
        }
        Ok(())
    }
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct GroupFile {
    version: u32,
    source: String,
    groups: Vec<GroupRecord>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct GroupRecord {
    no: String,
    why: String,
    of: Vec<String>,
    #[serde(default)]
    doubt: Option<String>,
}

/// Adds to entries that name a group in words alone the members that are known.
///
/// # Errors
/// Not of this form, a broken substance, or a number that no entry has.
pub fn add_groups(text: &str, file: &str, entries: &mut [ListEntry]) -> Result<(), ReadError> {
    let record: GroupFile = options()
        .from_str(text)
        .map_err(|e| ReadError::ron(file, &e))?;
    if record.version != VERSION || record.source.is_empty() {
        let what = "the groups need this version and a source";
        return Err(ReadError::whole(file, what.to_owned()));
    }
    for group in record.groups {
        let wrong = |what: String| ReadError::whole(file, format!("{}: {what}", group.no));
        let of_number = |e: &&mut ListEntry| *e.number == *group.no && !e.deleted;
        let entry = (entries.iter_mut().find(of_number))
            .ok_or_else(|| wrong("no entry in force has this number".to_owned()))?;
        let why: Arc<str> = group.why.as_str().into();
        let doubt: Option<Arc<str>> = group.doubt.as_deref().map(Into::into);
        let mut members = Vec::with_capacity(group.of.len() + entry.members.len());
        for one in &group.of {
            let mut member = member(one).map_err(wrong)?;
            member.ground = if member.sure {
                Some(why.clone())
            } else {
                doubt.clone()
            };
            members.push(member);
        }
        // What is known to belong stands before what a database files there.
        members.append(&mut entry.members);
        members.sort_by_key(|m| !m.sure);
        entry.members = members;
    }
    Ok(())
}
