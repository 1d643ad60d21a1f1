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

use std::collections::BTreeMap;
use std::path::Path;
use std::sync::Arc;

use serde::de::Error as _;
use serde::{Deserialize, Deserializer};

use super::FileError;
use super::mirror::RoleName;
use super::number::CasText;
use super::read_error::ReadError;
use super::store::{self, StoreError};
use crate::cas::Cas;
use crate::finding::Level;
use crate::formula::{Date, Market};
use crate::quantity::MassFraction;
use crate::rules::entry::{
    Allergen, Apart, Entry, List, Member, PhWindow, Purpose, Remark, RuleSet, Tier, Wording,
};
use crate::rules::equivalents::Equivalents;
use crate::rules::molar::molar_mass;
use crate::rules::salt::SaltNames;
use crate::rules::scope::Scope;

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
    purpose: PurposeName,
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
    unless: Option<PurposeName>,
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

#[derive(Deserialize, Default)]
enum PurposeName {
    #[default]
    Any,
    Preservative,
    Other,
    UvFilter,
    Colour,
    HairDye,
    Fragrance,
}

impl From<PurposeName> for Purpose {
    fn from(name: PurposeName) -> Self {
        match name {
            PurposeName::Any => Self::Any,
            PurposeName::Preservative => Self::Preservative,
            PurposeName::Other => Self::Other,
            PurposeName::UvFilter => Self::UvFilter,
            PurposeName::Colour => Self::Colour,
            PurposeName::HairDye => Self::HairDye,
            PurposeName::Fragrance => Self::Fragrance,
        }
    }
}

#[derive(Deserialize, Default)]
enum LevelName {
    #[default]
    Breach,
    Caution,
    Note,
}

/// A limit in percent.
fn limit<'de, D: Deserializer<'de>>(deserializer: D) -> Result<Option<MassFraction>, D::Error> {
    let percent = f64::deserialize(deserializer)?;
    if (0.0..=100.0).contains(&percent) {
        Ok(Some(MassFraction::from_percent(percent)))
    } else {
        Err(D::Error::custom(format!(
            "{percent} is not a limit; write a percentage from 0 to 100"
        )))
    }
}

struct Day(Date);

impl<'de> Deserialize<'de> for Day {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        let text = String::deserialize(deserializer)?;
        text.parse().map(Self).map_err(|_error| {
            D::Error::custom(format!(
                "“{text}” is not a day; write it as year-month-day, for example 2026-05-18"
            ))
        })
    }
}

struct PhRecord(PhWindow);

impl<'de> Deserialize<'de> for PhRecord {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        let (low, high) = <(Option<f64>, Option<f64>)>::deserialize(deserializer)?;
        let legal = |v: Option<f64>| v.is_none_or(|v| (-2.0..=16.0).contains(&v));
        let ordered = low.zip(high).is_none_or(|(l, h)| l <= h);
        if legal(low) && legal(high) && ordered {
            Ok(Self(PhWindow { low, high }))
        } else {
            Err(D::Error::custom(
                "this is not a window of pH; write (lowest, highest), each Some(number) or None",
            ))
        }
    }
}

struct ScopeText(Scope);

impl Default for ScopeText {
    fn default() -> Self {
        Self(Scope::All)
    }
}

impl<'de> Deserialize<'de> for ScopeText {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        let text = String::deserialize(deserializer)?;
        Scope::parse(&text).map(Self).map_err(D::Error::custom)
    }
}

/// A condition to be read, `words` or `scope => words`.
struct RemarkText(Remark);

impl<'de> Deserialize<'de> for RemarkText {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        let text = String::deserialize(deserializer)?;
        let (when, text) = match text.split_once(" => ") {
            Some((scope, words)) => (Scope::parse(scope).map_err(D::Error::custom)?, words),
            None => (Scope::All, text.as_str()),
        };
        Ok(Self(Remark {
            text: text.into(),
            when,
        }))
    }
}

/// Another entry, which must not be met, and the reason: `rule` or `rule => why`; with `?`
/// before the rule their meeting is a caution.
struct ApartText(Apart);

impl<'de> Deserialize<'de> for ApartText {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        let text = String::deserialize(deserializer)?;
        let (rule, why) = text.split_once(" => ").unwrap_or((&text, ""));
        let (level, rule) = match rule.strip_prefix('?') {
            Some(rest) => (Level::Caution, rest),
            None => (Level::Breach, rule),
        };
        Ok(Self(Apart {
            rule: rule.trim().into(),
            why: why.trim().into(),
            level,
        }))
    }
}

/// A group's name or substances of one family.
enum Substances {
    Group(String),
    Family(Vec<Member>),
}

impl<'de> Deserialize<'de> for Substances {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        let text = String::deserialize(deserializer)?;
        if let Some(group) = text.strip_prefix('@') {
            return Ok(Self::Group(group.trim().to_owned()));
        }
        text.split(';')
            .map(|one| member(one.trim()))
            .collect::<Result<_, _>>()
            .map(Self::Family)
            .map_err(D::Error::custom)
    }
}

/// Reads `?Name|Name=nano CAS/CAS beside CAS` or `role Name`.
fn member(text: &str) -> Result<Member, String> {
    if let Some(role) = text.strip_prefix("role ") {
        let role: RoleName = ron::from_str(role)
            .map_err(|_error| format!("“{role}” is not a role of a material"))?;
        return Ok(Member {
            sure: true,
            role: Some(role.into()),
            ..Member::default()
        });
    }
    let (sure, text) = match text.strip_prefix('?') {
        Some(rest) => (false, rest),
        None => (true, text),
    };
    let (names, rest) = text.split_once('=').unwrap_or((text, ""));
    let names: Vec<Arc<str>> = names
        .split('|')
        .map(str::trim)
        .filter(|n| !n.is_empty())
        .map(Into::into)
        .collect();
    let cas = |text: &str| text.parse::<Cas>().map_err(|e| e.to_string());
    let (rest, beside) = match rest.split_once(" beside ") {
        Some((rest, other)) => (rest, Some(cas(other)?)),
        None => (rest, None),
    };
    let (rest, without) = match rest.split_once(" without ") {
        Some((rest, other)) => (rest, Some(cas(other)?)),
        None => (rest, None),
    };
    let (nano, rest) = match rest.trim().strip_prefix("nano") {
        Some(rest) => (true, rest.trim()),
        None => (false, rest.trim()),
    };
    let cas = rest
        .split('/')
        .filter(|c| !c.trim().is_empty())
        .map(cas)
        .collect::<Result<Vec<Cas>, _>>()?;
    if names.is_empty() && cas.is_empty() {
        return Err(
            "a substance needs a name or a CAS number, for example “Glycerin=56-81-5”".to_owned(),
        );
    }
    Ok(Member {
        names,
        cas,
        sure,
        nano,
        beside,
        without,
        ..Member::default()
    })
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
) -> Result<(RuleSet, Vec<Entry>), ReadError> {
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
    fn entry(&self, e: EntryRecord, set: u16, prefix: &str) -> Result<Entry, String> {
        // Annexes are cited with a stroke.
        let annex = ["EU ", "REACH ", "GB "]
            .iter()
            .any(|p| prefix.starts_with(p));
        let separator = if annex { '/' } else { ' ' };
        Ok(Entry {
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
            level: match e.level {
                LevelName::Breach => Level::Breach,
                LevelName::Caution => Level::Caution,
                LevelName::Note => Level::Note,
            },
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

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct EquivalentsFile {
    version: u32,
    targets: Vec<TargetRecord>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct TargetRecord {
    name: String,
    formula: String,
    of: Vec<(CasText, String, String, f64)>,
}

/// Reads the table of conversions: CAS number, name, molecular formula and how many
/// of the target one formula unit gives.
///
/// # Errors
/// Not of this form, or a molecular formula that is none.
pub fn read_equivalents(text: &str, file: &str) -> Result<Equivalents, ReadError> {
    let record: EquivalentsFile = ron::from_str(text).map_err(|e| ReadError::ron(file, &e))?;
    let wrong = |message: String| ReadError::whole(file, message);
    if record.version != VERSION {
        return Err(wrong(format!(
            "version {} is not read here",
            record.version
        )));
    }
    let mass = |formula: &str| {
        molar_mass(formula).ok_or_else(|| wrong(format!("“{formula}” is not a molecular formula")))
    };
    let mut equivalents = Equivalents::default();
    for target in &record.targets {
        let index = equivalents.add_target(&target.name);
        let whole = mass(&target.formula)?;
        for (cas, _, formula, units) in &target.of {
            equivalents.add(index, cas.0, units * whole / mass(formula)?);
        }
    }
    Ok(equivalents)
}

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
) -> Result<Vec<Entry>, ReadError> {
    let mut entries = Vec::with_capacity(1800);
    for (i, line) in text.lines().enumerate() {
        if line.is_empty() || line.starts_with('#') {
            continue;
        }
        let wrong = |message: String| {
            let place = super::read_error::Place {
                line: i + 1,
                column: 1,
            };
            ReadError::at(file, Some(place), message)
        };
        let mut columns = line.split('\t');
        let mut column = || columns.next().unwrap_or("");
        let (number, name, cas, inci, when, read) =
            (column(), column(), column(), column(), column(), column());
        if line.matches('\t').count() != 5 {
            return Err(wrong("a line needs six columns divided by tabs".to_owned()));
        }
        let nano = when.split(',').any(|one| one.trim() == "nano");
        let mut members = Vec::with_capacity(3);
        let cas = cas
            .split_ascii_whitespace()
            .map(|c| c.parse::<Cas>().map_err(|e| wrong(e.to_string())))
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
        let single = cas.len() == 1;
        if !cas.is_empty() || name.len() <= 60 {
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
        let mut from = None;
        let mut purpose = Purpose::Any;
        let mut level = Level::Breach;
        let mut prohibited = Some(Scope::All);
        let mut except = Vec::new();
        let mut binds = Vec::new();
        for one in when.split(',').map(str::trim) {
            match one {
                "" | "nano" => {}
                "deleted" => prohibited = None,
                "read" => level = Level::Caution,
                "purity" => level = Level::Note,
                "as fragrance" => purpose = Purpose::Fragrance,
                "Eu" => binds.push(Market::Eu),
                other => {
                    if let Some(day) = other.strip_prefix("from ") {
                        from = Some(
                            day.parse()
                                .map_err(|_error| wrong(format!("“{day}” is not a day")))?,
                        );
                    } else if let Some(rules) = other.strip_prefix("except ") {
                        except.extend(rules.split(" and ").map(Arc::from));
                    } else {
                        prohibited = Some(Scope::parse(other).map_err(|e| wrong(e.to_string()))?);
                    }
                }
            }
        }
        let deleted = when == "deleted";
        entries.push(Entry {
            set,
            rule: format!("{prefix}/{number}").into(),
            number: number.into(),
            name: name.into(),
            members: if deleted { Vec::new() } else { members },
            purpose,
            prohibited,
            tiers: Vec::new(),
            never: Vec::new(),
            apart: Vec::new(),
            label: Vec::new(),
            read: if read.is_empty() {
                Vec::new()
            } else {
                vec![Remark {
                    text: read.into(),
                    when: Scope::All,
                }]
            },
            except,
            open: false,
            natural: false,
            binds,
            cite: None,
            allergen: None,
            from,
            deleted,
            joint: false,
            product: false,
            unless: None,
            seen: true,
            level,
        });
    }
    Ok(entries)
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
pub fn add_groups(text: &str, file: &str, entries: &mut [Entry]) -> Result<(), ReadError> {
    let record: GroupFile = options()
        .from_str(text)
        .map_err(|e| ReadError::ron(file, &e))?;
    if record.version != VERSION || record.source.is_empty() {
        let what = "the groups need this version and a source";
        return Err(ReadError::whole(file, what.to_owned()));
    }
    for group in record.groups {
        let wrong = |what: String| ReadError::whole(file, format!("{}: {what}", group.no));
        let of_number = |e: &&mut Entry| *e.number == *group.no && !e.deleted;
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
pub fn add_salts(text: &str, file: &str, entries: &mut [Entry]) -> Result<SaltNames, ReadError> {
    let record: SaltFile = options()
        .from_str(text)
        .map_err(|e| ReadError::ron(file, &e))?;
    if record.version != VERSION || record.source.is_empty() {
        let what = "the names of salts need this version and a source";
        return Err(ReadError::whole(file, what.to_owned()));
    }
    let in_force = |no: &str, entries: &[Entry]| entries.iter().any(|e| *e.number == *no);
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

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct CategoryFile {
    version: u32,
    source: String,
    categories: Vec<CategoryRecord>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct CategoryRecord {
    code: String,
    what: String,
    examples: String,
    types: Vec<String>,
}

/// Reads the categories of fragrance use.
///
/// # Errors
/// Not of this form, or an unknown type of product.
pub fn read_categories(
    text: &str,
    file: &str,
) -> Result<Vec<crate::rules::fragrance::Category>, ReadError> {
    let record: CategoryFile = ron::from_str(text).map_err(|e| ReadError::ron(file, &e))?;
    if record.version != VERSION {
        return Err(ReadError::whole(
            file,
            format!("version {} is not read here", record.version),
        ));
    }
    let source: Arc<str> = record.source.into();
    record
        .categories
        .into_iter()
        .map(|c| {
            let types = c
                .types
                .iter()
                .map(|word| {
                    crate::formula::ProductType::from_word(word).ok_or_else(|| {
                        ReadError::whole(file, format!("“{word}” is not a type of product"))
                    })
                })
                .collect::<Result<_, _>>()?;
            Ok(crate::rules::fragrance::Category {
                code: c.code.into(),
                what: c.what.into(),
                examples: c.examples.into(),
                types,
                source: source.clone(),
            })
        })
        .collect()
}
