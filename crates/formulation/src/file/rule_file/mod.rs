//! Rules of law as files: the lists that come with the program and a maker's own.
//!
//! ```ron
//! (
//!     version: 1,
//!     set: "Larkmoor",
//!     title: "What our shop does not take",
//!     list: Own,
//!     markets: [Eu, Uk, Us],
//!     source: "agreement of March",
//!     groups: {"donors": ["DMDM Hydantoin=6440-58-0", "Diazolidinyl Urea=78491-02-8"]},
//!     entries: [
//!         (no: "1", name: "Formaldehyde donors", of: ["@donors"], prohibited: "all"),
//!         (no: "2", name: "Phenoxyethanol", of: ["Phenoxyethanol=122-99-6"], tiers: [(scope: "leave-on", max: 0.8)]),
//!     ],
//! )
//! ```
//!
//! A substance is `Name|Other name=CAS/CAS`; several of one family, counted as one,
//! are joined by `;`. `?` before it marks one that only a database files under the
//! entry, `nano` before the CAS numbers the nanomaterial alone; `beside CAS` and
//! `without CAS` count it only in lines with or without another substance; `@group`
//! stands for a group. Scopes are explained at [`crate::rules::scope::Scope`].

mod categories;
mod equivalents;
mod prohibited;
mod salts;
mod written;

use std::collections::BTreeMap;
use std::path::Path;
use std::sync::Arc;

use serde::Deserialize;

pub use self::categories::read_categories;
pub use self::equivalents::read_equivalents;
pub use self::prohibited::{add_groups, read_prohibited};
pub use self::salts::add_salts;
use self::written::{ApartText, Day, PhRecord, RemarkText, ScopeText, Substances, limit};
use super::FileError;
use super::read_error::ReadError;
use super::store::{self, StoreError};
use crate::cas::Cas;
use crate::finding::Level;
use crate::formula::Market;
use crate::quantity::MassFraction;
use crate::rules::entry::{
    Allergen, List, ListEntry, Member, RuleSet, RuledPurpose, Tier, Wording,
};
use crate::rules::equivalents::Equivalents;

/// The version this program reads.
pub const VERSION: u32 = 1;
/// A larger file is refused.
pub const MOST_BYTES: usize = 4 << 20;
/// More entries are refused.
const MOST_ENTRIES: usize = 20_000;
/// More substances in one entry or group are refused.
const MOST_MEMBERS: usize = 5_000;

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct RuleFile {
    version: u32,
    set: String,
    title: String,
    list: ListName,
    #[serde(default)]
    markets: Vec<MarketName>,
    #[serde(default)]
    as_of: Option<Day>,
    source: String,
    #[serde(default)]
    cautions: Vec<String>,
    #[serde(default)]
    texts: BTreeMap<String, String>,
    #[serde(default)]
    groups: BTreeMap<String, Vec<Substances>>,
    entries: Vec<EntryRecord>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct EntryRecord {
    no: String,
    name: String,
    #[serde(default)]
    of: Vec<Substances>,
    #[serde(default)]
    purpose: RuledPurposeName,
    #[serde(default)]
    prohibited: Option<ScopeText>,
    #[serde(default)]
    tiers: Vec<TierRecord>,
    #[serde(default)]
    never: Vec<ScopeText>,
    #[serde(default)]
    apart: Vec<ApartText>,
    #[serde(default)]
    label: Vec<WordingRecord>,
    #[serde(default)]
    read: Vec<RemarkText>,
    #[serde(default)]
    except: Vec<String>,
    #[serde(default)]
    if_present: Option<String>,
    #[serde(default)]
    open: bool,
    #[serde(default)]
    natural: bool,
    #[serde(default)]
    binds: Vec<MarketName>,
    #[serde(default)]
    cite: Option<String>,
    #[serde(default)]
    allergen: Option<AllergenRecord>,
    #[serde(default)]
    from: Option<Day>,
    #[serde(default)]
    deleted: bool,
    #[serde(default)]
    joint: bool,
    #[serde(default)]
    product: bool,
    #[serde(default)]
    unless: Option<RuledPurposeName>,
    #[serde(default = "yes")]
    seen: bool,
    #[serde(default)]
    level: LevelName,
}

const fn yes() -> bool {
    true
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct TierRecord {
    #[serde(default)]
    scope: ScopeText,
    #[serde(default, deserialize_with = "limit")]
    max: Option<MassFraction>,
    #[serde(default)]
    part_of: Vec<String>,
    #[serde(default)]
    below: bool,
    #[serde(default)]
    expressed: Option<String>,
    #[serde(default)]
    each: bool,
    #[serde(default)]
    ph: Option<PhRecord>,
    #[serde(default)]
    from: Option<Day>,
    #[serde(default)]
    until: Option<Day>,
    #[serde(default)]
    binds: Vec<MarketName>,
    #[serde(default)]
    label: Vec<WordingRecord>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct WordingRecord {
    text: String,
    #[serde(default, deserialize_with = "limit")]
    above: Option<MassFraction>,
    #[serde(default)]
    when: ScopeText,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct AllergenRecord {
    name: String,
    #[serde(default)]
    from: Option<Day>,
    #[serde(default)]
    making_available: Option<Day>,
    #[serde(default)]
    binds: Vec<MarketName>,
}

mirror!(
    /// What a list is for.
    ListName = List { Prohibited, Restricted, Colorants, Preservatives, UvFilters, Conclusions, Borders, Advice, Own }
);
mirror!(
    /// Where a list applies.
    MarketName = Market { Eu, Uk, Us }
);

mirror!(
    /// What a substance is there for, as far as a rule asks.
    RuledPurposeName = RuledPurpose { Any, Preservative, Other, UvFilter, Colour, HairDye, Fragrance }
);
mirror!(
    /// How grave it is to be over a limit.
    LevelName = Level { Breach, Caution, Note }
);

/// A CAS number of a list.
fn number(text: &str) -> Result<Cas, String> {
    text.parse().map_err(|e| format!("“{text}”: {e}"))
}

/// A substance written as `Name=CAS`.
fn named(text: &str) -> Result<(Arc<str>, Cas), String> {
    let (name, cas) = text
        .split_once('=')
        .ok_or_else(|| format!("“{text}” is not a name and its CAS number, as Name=CAS"))?;
    Ok((name.into(), number(cas)?))
}

#[expect(clippy::derivable_impls, reason = "the macro above derives no default")]
impl Default for RuledPurposeName {
    fn default() -> Self {
        Self::Any
    }
}

#[expect(clippy::derivable_impls, reason = "the macro above derives no default")]
impl Default for LevelName {
    fn default() -> Self {
        Self::Breach
    }
}

/// Reads the text of a file of rules from disk, up to the size that is accepted.
///
/// # Errors
/// The file is missing, larger than [`MOST_BYTES`], or not text.
pub fn open(path: &Path) -> Result<String, FileError> {
    match store::read_text_at_most(path, MOST_BYTES as u64) {
        Ok((text, _)) => Ok(text),
        Err(StoreError::TooLarge { .. }) => Err(too_large(&path.to_string_lossy()).into()),
        Err(error) => Err(error.into()),
    }
}

fn too_large(file: &str) -> ReadError {
    ReadError::whole(
        file,
        format!(
            "this file of rules is larger than {} megabytes and is not read; split it or remove what is not a rule",
            MOST_BYTES >> 20
        ),
    )
}

/// Optional values need no `Some` around them.
fn options() -> ron::Options {
    ron::Options::default().with_default_extension(ron::extensions::Extensions::IMPLICIT_SOME)
}

/// Reads a file of rules. `set` is the index the list will have in its book.
///
/// # Errors
/// Too large, not of this form, a CAS number whose check digit is wrong, a group that
/// is unknown or contains itself, a limit out of range, a scope or a target that is
/// not known.
pub fn read(
    text: &str,
    file: &str,
    set: u16,
    equivalents: &Equivalents,
) -> Result<(RuleSet, Vec<ListEntry>), ReadError> {
    if text.len() > MOST_BYTES {
        return Err(too_large(file));
    }
    let record: RuleFile = options()
        .from_str(text)
        .map_err(|e| ReadError::ron(file, &e))?;
    let wrong = |message: String| ReadError::whole(file, message);
    if record.version != VERSION {
        return Err(wrong(format!(
            "these rules are of version {}, this program reads version {VERSION}; get them in that version",
            record.version
        )));
    }
    if record.entries.len() > MOST_ENTRIES {
        return Err(wrong(format!(
            "{} entries are more than the {MOST_ENTRIES} that are read; split the file",
            record.entries.len()
        )));
    }
    if record.set.trim().is_empty() {
        return Err(wrong(
            "the field `set` is empty; give the list a short name".to_owned(),
        ));
    }
    let rules = RuleSet {
        name: record.set.trim().into(),
        title: record.title.into(),
        list: record.list.into(),
        markets: record.markets.into_iter().map(Into::into).collect(),
        as_of: record.as_of.map(|d| d.0),
        source: record.source.into(),
        cautions: record.cautions.into_iter().map(Into::into).collect(),
    };
    let resolver = Resolver {
        groups: &record.groups,
        texts: &record.texts,
        equivalents,
    };
    for name in record.groups.keys() {
        resolver
            .members(&[Substances::Group(name.clone())])
            .map_err(|m| wrong(format!("group “{name}”: {m}")))?;
    }
    let mut entries = Vec::with_capacity(record.entries.len());
    for e in record.entries {
        let number = e.no.clone();
        entries.push(
            resolver
                .entry(e, set, &rules.name)
                .map_err(|m| wrong(format!("entry {number}: {m}")))?,
        );
    }
    Ok((rules, entries))
}

struct Resolver<'f> {
    groups: &'f BTreeMap<String, Vec<Substances>>,
    texts: &'f BTreeMap<String, String>,
    equivalents: &'f Equivalents,
}

impl Resolver<'_> {
    fn entry(&self, e: EntryRecord, set: u16, prefix: &str) -> Result<ListEntry, String> {
        // Annexes are cited with a stroke.
        let annex = ["EU ", "REACH ", "GB "]
            .iter()
            .any(|p| prefix.starts_with(p));
        let separator = if annex { '/' } else { ' ' };
        Ok(ListEntry {
            set,
            rule: format!("{prefix}{separator}{}", e.no).into(),
            number: e.no.into(),
            name: e.name.into(),
            members: self.members(&e.of)?,
            purpose: e.purpose.into(),
            prohibited: e.prohibited.map(|s| s.0),
            tiers: e
                .tiers
                .into_iter()
                .map(|t| self.tier(t))
                .collect::<Result<_, _>>()?,
            never: e.never.into_iter().map(|s| s.0).collect(),
            apart: e.apart.into_iter().map(|a| a.0).collect(),
            label: self.wordings(e.label)?,
            read: e.read.into_iter().map(|r| r.0).collect(),
            except: e.except.into_iter().map(Into::into).collect(),
            traces_of: Vec::new(),
            if_present: e.if_present.as_deref().map(number).transpose()?,
            open: e.open,
            natural: e.natural,
            binds: e.binds.into_iter().map(Into::into).collect(),
            cite: e.cite.map(Into::into),
            allergen: e.allergen.map(|a| Allergen {
                name: a.name.into(),
                from: a.from.map(|d| d.0),
                making_available: a.making_available.map(|d| d.0),
                binds: a.binds.into_iter().map(Into::into).collect(),
            }),
            from: e.from.map(|d| d.0),
            deleted: e.deleted,
            joint: e.joint,
            product: e.product,
            unless: e.unless.map(Into::into),
            seen: e.seen,
            level: e.level.into(),
        })
    }

    fn tier(&self, t: TierRecord) -> Result<Tier, String> {
        let expressed = match t.expressed {
            None => None,
            // Nothing is converted to a mixture; its members count as they stand.
            Some(name) => Some(self.equivalents.target(&name).ok_or_else(|| {
                format!("“{name}” is not one of the substances limits are expressed as")
            })?),
        };
        let (from, until) = (t.from.map(|d| d.0), t.until.map(|d| d.0));
        if from.zip(until).is_some_and(|(f, u)| u < f) {
            return Err("a limit ends before it begins; exchange `from` and `until`".to_owned());
        }
        Ok(Tier {
            scope: t.scope.0,
            max: t.max,
            part_of: t
                .part_of
                .iter()
                .map(|one| named(one))
                .collect::<Result<_, _>>()?,
            below: t.below,
            expressed,
            each: t.each,
            ph: t.ph.map(|p| p.0),
            from,
            until,
            binds: t.binds.into_iter().map(Into::into).collect(),
            label: self.wordings(t.label)?,
        })
    }

    fn wordings(&self, records: Vec<WordingRecord>) -> Result<Vec<Wording>, String> {
        records
            .into_iter()
            .map(|w| {
                let text = match w.text.strip_prefix('@') {
                    Some(key) => self
                        .texts
                        .get(key)
                        .cloned()
                        .ok_or_else(|| format!("there is no text “{key}” under `texts`"))?,
                    None => w.text,
                };
                Ok(Wording {
                    text: text.into(),
                    above: w.above,
                    when: w.when.0,
                })
            })
            .collect()
    }

    /// The substances of an entry, groups expanded, families numbered.
    fn members(&self, of: &[Substances]) -> Result<Vec<Member>, String> {
        let mut members = Vec::new();
        let mut family = 0;
        self.expand(of, &mut Vec::new(), &mut members, &mut family)?;
        Ok(members)
    }

    fn expand<'r>(
        &'r self,
        of: &'r [Substances],
        inside: &mut Vec<&'r str>,
        members: &mut Vec<Member>,
        family: &mut u32,
    ) -> Result<(), String> {
        for substances in of {
            match substances {
                Substances::Family(some) => {
                    members.extend(some.iter().map(|m| Member {
                        family: *family,
                        ..m.clone()
                    }));
                    *family += 1;
                    if members.len() > MOST_MEMBERS {
                        return Err(format!(
                            "more than {MOST_MEMBERS} substances; divide the entry"
                        ));
                    }
                }
                Substances::Group(name) => {
                    if inside.contains(&name.as_str()) {
                        return Err(format!(
                            "the group “{name}” contains itself, by way of {}; take it out of one of them",
                            inside.join(", ")
                        ));
                    }
                    let Some((name, group)) = self.groups.get_key_value(name) else {
                        return Err(format!("there is no group “{name}” under `groups`"));
                    };
                    inside.push(name);
                    self.expand(group, inside, members, family)?;
                    inside.pop();
                }
            }
        }
        Ok(())
    }
}
