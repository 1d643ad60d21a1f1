//! The rule book: every list of rules, indexed by CAS number and INCI name.

use std::collections::HashMap;
use std::sync::Arc;

use super::entry::{List, ListEntry, Member, RuleSet};
use super::equivalents::Equivalents;
use super::fragrance::Category;
use super::salt::SaltNames;
use crate::cas::Cas;
use crate::formula::Market;
use crate::inci::{Inci, hash_of};
use crate::material::{Material, Role};
use crate::name_hash::{ByCas, ByHash, folded_hash};
use crate::remembered::Remembered;

/// The place of a constituent in its material, an entry and its member.
type Placed = (u32, u32, u16);

/// Every list of rules.
#[derive(Clone, Debug, Default)]
pub struct RuleBook {
    sets: Vec<Arc<RuleSet>>,
    entries: Vec<Arc<ListEntry>>,
    equivalents: Arc<Equivalents>,
    categories: Arc<Vec<Category>>,
    /// Members by CAS number and by the hash of a name, sorted; the tables say where
    /// the members of a key begin.
    by_cas: Vec<(Cas, u32, u16)>,
    by_name: Vec<(u64, u32, u16)>,
    cas_starts: ByCas<u32>,
    name_starts: ByHash<u32>,
    by_rule: HashMap<Arc<str>, Vec<u32>>,
    /// Members named by the beginning of a name, by its first byte in small letters, in the
    /// order of the entries.
    by_prefix: ByHash<Vec<(Arc<str>, u32, u16)>>,
    /// Members that stand for the salts of a substance, by its name.
    by_base: ByHash<Vec<(Arc<str>, u32, u16)>>,
    /// How salts are named.
    salts: Arc<SaltNames>,
    /// Members that stand for every material of a role.
    by_role: Vec<(Role, u32, u16)>,
    /// For each entry the others of its number, such as 8b of 8a.
    siblings: Vec<Box<[u32]>>,
    product_rules: Vec<u32>,
    /// What [`Self::matches`] found for the names of raw materials, and for all constituents
    /// of one, by their places.
    remembered: Remembered<str, Box<[(u32, u16)]>>,
    of_materials: Remembered<Material, Box<[Placed]>>,
    /// The first entry on an allergen.
    first_of_allergens: Option<u32>,
    fault: Option<Arc<str>>,
}

impl RuleBook {
    /// A book without lists.
    pub(crate) fn of(
        equivalents: Equivalents,
        categories: Vec<Category>,
        salts: SaltNames,
    ) -> Self {
        Self {
            salts: Arc::new(salts),
            equivalents: Arc::new(equivalents),
            categories: Arc::new(categories),
            ..Self::default()
        }
    }

    /// An empty book that says why it is empty.
    pub(crate) fn unreadable(fault: &str) -> Self {
        Self {
            fault: Some(fault.into()),
            ..Self::default()
        }
    }

    /// Why the book is empty, if it could not be read.
    pub fn fault(&self) -> Option<&str> {
        self.fault.as_deref()
    }

    /// Adds a list; [`Self::index`] makes it found.
    pub(crate) fn add(&mut self, rules: RuleSet, mut entries: Vec<ListEntry>) {
        for entry in &mut entries {
            entry.take_in_salts(&self.salts);
        }
        self.sets.push(Arc::new(rules));
        self.entries.extend(entries.into_iter().map(Arc::new));
    }

    /// Indexes all lists.
    pub(crate) fn index(&mut self) {
        self.remembered = Remembered::default();
        self.of_materials = Remembered::default();
        self.by_cas.clear();
        self.by_name.clear();
        self.by_rule.clear();
        self.product_rules.clear();
        self.by_prefix.clear();
        self.by_role.clear();
        self.by_base.clear();
        self.first_of_allergens =
            (self.entries.iter().position(|e| e.allergen.is_some())).map(|e| e as u32);
        for (e, entry) in self.entries.iter().enumerate() {
            self.by_rule
                .entry(entry.rule.clone())
                .or_default()
                .push(e as u32);
            if entry.product {
                self.product_rules.push(e as u32);
            }
            for (m, member) in entry.members.iter().enumerate() {
                let (e, m) = (e as u32, m as u16);
                self.by_cas
                    .extend(member.cas.iter().map(|&cas| (cas, e, m)));
                self.by_role.extend(member.role.map(|role| (role, e, m)));
                for name in &member.names {
                    if member.salts {
                        let base = self.by_base.entry(folded_hash(name.bytes())).or_default();
                        base.push((name.clone(), e, m));
                    } else if let Some(prefix) = name.strip_suffix('*') {
                        let begin = self.by_prefix.entry(first_byte(prefix)).or_default();
                        begin.push((prefix.into(), e, m));
                    } else {
                        self.by_name.push((hash_of(name), e, m));
                    }
                }
            }
        }
        self.siblings = self.siblings_of_all();
        self.by_cas.sort_unstable();
        self.by_name.sort_unstable();
        // Going backwards leaves the first place of each key.
        self.cas_starts = (self.by_cas.iter().enumerate().rev())
            .map(|(i, &(cas, ..))| (cas, i as u32))
            .collect();
        self.name_starts = (self.by_name.iter().enumerate().rev())
            .map(|(i, &(key, ..))| (key, i as u32))
            .collect();
    }

    fn siblings_of_all(&self) -> Vec<Box<[u32]>> {
        let numbers: Vec<(u16, &str)> = (self.entries.iter())
            .map(|e| (e.set, e.base_number()))
            .collect();
        let mut of_number: HashMap<(u16, &str), Vec<u32>> = HashMap::new();
        for (e, entry) in self.entries.iter().enumerate() {
            if !entry.joint && !numbers[e].1.is_empty() {
                of_number.entry(numbers[e]).or_default().push(e as u32);
            }
        }
        let others = |(e, number): (usize, &(u16, &str))| {
            let all = of_number.get(number).into_iter().flatten();
            all.copied().filter(|&other| other != e as u32).collect()
        };
        numbers.iter().enumerate().map(others).collect()
    }

    /// The lists.
    pub fn sets(&self) -> &[Arc<RuleSet>] {
        &self.sets
    }
    /// The list an entry belongs to.
    pub fn set_of(&self, entry: &ListEntry) -> Option<&Arc<RuleSet>> {
        self.sets.get(usize::from(entry.set))
    }
    /// All entries, list by list, in the order of the text.
    pub fn entries(&self) -> &[Arc<ListEntry>] {
        &self.entries
    }
    /// The entries of a rule name such as `EU V/29`; a number may stand for several.
    pub fn entries_of<'b>(&'b self, rule: &str) -> impl Iterator<Item = &'b Arc<ListEntry>> {
        let found = self.by_rule.get(rule).map_or(&[][..], Vec::as_slice);
        found.iter().filter_map(|&e| self.entries.get(e as usize))
    }
    /// Where a rule binds: the markets of its entries, else of the list whose name it begins with.
    /// `None` if it is of no list, or of one that holds everywhere.
    pub fn markets_of(&self, rule: &str) -> Option<Vec<Market>> {
        let mut sets: Vec<(&RuleSet, &[Market])> = (self.entries_of(rule))
            .filter_map(|e| Some((&**self.set_of(e)?, &*e.binds)))
            .collect();
        if sets.is_empty() {
            let named = self.sets().iter().filter(|s| rule.starts_with(&*s.name));
            sets.extend(named.max_by_key(|s| s.name.len()).map(|s| (&**s, &[][..])));
        }
        let mut markets = Vec::new();
        for (set, own) in sets {
            if set.markets.is_empty() {
                return None;
            }
            let of_it = set
                .markets
                .iter()
                .filter(|m| own.is_empty() || own.contains(m));
            markets.extend(
                of_it
                    .copied()
                    .filter(|m| !markets.contains(m))
                    .collect::<Vec<_>>(),
            );
        }
        (!markets.is_empty()).then_some(markets)
    }
    /// The other entries of the number of an entry, such as 8b of 8a.
    pub(crate) fn siblings(&self, entry: u32) -> &[u32] {
        self.siblings.get(entry as usize).map_or(&[], |all| all)
    }
    /// Entries that speak of the product, whatever is in it.
    pub fn product_rules(&self) -> impl Iterator<Item = &Arc<ListEntry>> {
        self.product_rules
            .iter()
            .filter_map(|&e| self.entries.get(e as usize))
    }
    /// The first entry that names an allergen.
    pub fn first_of_allergens(&self) -> Option<&Arc<ListEntry>> {
        self.entries.get(self.first_of_allergens? as usize)
    }
    /// Conversions between substances.
    pub fn equivalents(&self) -> &Equivalents {
        &self.equivalents
    }
    /// Categories of fragrance use.
    pub fn categories(&self) -> &[Category] {
        &self.categories
    }

    /// What the lists name by this CAS number or name, one that the text names rather than
    /// a database if there is one.
    pub fn substance(&self, cas: Option<Cas>, name: &Inci) -> Option<&Member> {
        let mut best: Option<&Member> = None;
        self.matches(cas, name, |e, m| {
            let entry = self.entries.get(e as usize);
            let member = entry.and_then(|entry| entry.members.get(usize::from(m)));
            if let Some(member) = member
                && best.is_none_or(|b| !b.sure && member.sure)
            {
                best = Some(member);
            }
        });
        best
    }

    /// Whether an entry in force of one list knows a substance, be it only by a database.
    pub fn lists_in(&self, list: &RuleSet, cas: Option<Cas>, name: &Inci) -> bool {
        let mut found = false;
        self.matches_of(cas, name, |e, _| {
            let entry = self.entries.get(e as usize);
            found |= entry.is_some_and(|entry| {
                !entry.deleted && self.set_of(entry).is_some_and(|set| set.name == list.name)
            });
        });
        found
    }

    /// Whether an entry in force of a kind of list names a substance itself.
    pub fn lists(&self, cas: Option<Cas>, name: &Inci, list: List) -> bool {
        let mut found = false;
        self.matches_of(cas, name, |e, m| {
            let Some(entry) = self.entries.get(e as usize) else {
                return;
            };
            found |= !entry.deleted
                && self.set_of(entry).is_some_and(|set| set.list == list)
                && entry.members.get(usize::from(m)).is_some_and(|m| m.sure);
        });
        found
    }

    /// Calls `found` with entry and member for every member of this CAS number or
    /// INCI name, once for each entry, CAS numbers first.
    pub(crate) fn matches(&self, cas: Option<Cas>, name: &Inci, mut found: impl FnMut(u32, u16)) {
        let mut by_cas: &[(Cas, u32, u16)] = &[];
        if let Some(cas) = cas
            && let Some(&start) = self.cas_starts.get(&cas)
        {
            let rest = self.by_cas.get(start as usize..).unwrap_or_default();
            let end = rest.iter().position(|&(c, ..)| c != cas);
            by_cas = rest.get(..end.unwrap_or(rest.len())).unwrap_or_default();
            let mut last = None;
            for &(_, e, m) in by_cas {
                if last != Some(e) {
                    last = Some(e);
                    found(e, m);
                }
            }
        }
        let mut by_name: &[(u64, u32, u16)] = &[];
        let key = name.hash();
        if let Some(&start) = self.name_starts.get(&key) {
            let rest = self.by_name.get(start as usize..).unwrap_or_default();
            let end = rest.iter().position(|&(k, ..)| k != key);
            by_name = rest.get(..end.unwrap_or(rest.len())).unwrap_or_default();
            let mut last = None;
            for &(_, e, m) in by_name {
                let same = self
                    .entries
                    .get(e as usize)
                    .and_then(|entry| entry.members.get(usize::from(m)))
                    .is_some_and(|member| member.names.iter().any(|n| name.is(n)));
                if same && last != Some(e) && by_cas.iter().all(|&(_, other, _)| other != e) {
                    last = Some(e);
                    found(e, m);
                }
            }
        }
        let mut last = None;
        let begun = self.by_prefix.get(&first_byte(name.spelling().trim()));
        for (prefix, e, m) in begun.into_iter().flatten() {
            if name.begins_with(prefix)
                && last != Some(*e)
                && by_cas.iter().all(|(_, other, _)| other != e)
                && by_name.iter().all(|(_, other, _)| other != e)
            {
                last = Some(*e);
                found(*e, *m);
            }
        }
        self.salts.bases(name.spelling(), |base| {
            let key = folded_hash(base.bytes());
            for (known, e, m) in self.by_base.get(&key).into_iter().flatten() {
                if base.is(known)
                    && last != Some(*e)
                    && by_cas.iter().all(|(_, other, _)| other != e)
                    && by_name.iter().all(|(_, other, _)| other != e)
                {
                    last = Some(*e);
                    found(*e, *m);
                }
            }
        });
    }

    /// As [`Self::matches`], for a name of a raw material, which is looked up once.
    pub(crate) fn matches_of(
        &self,
        cas: Option<Cas>,
        name: &Inci,
        mut found: impl FnMut(u32, u16),
    ) {
        let find = || {
            let mut all = Vec::new();
            self.matches(cas, name, |e, m| all.push((e, m)));
            all.into()
        };
        self.remembered.with(name.shared(), cas, find, |known| {
            for &(e, m) in known {
                found(e, m);
            }
        });
    }

    /// The matches of all constituents of a raw material, looked up once: calls `found` with
    /// the place of the constituent, entry and member, in the order of constituents.
    pub(crate) fn matches_in(
        &self,
        material: &Arc<Material>,
        mut found: impl FnMut(usize, u32, u16),
    ) {
        let find = || {
            let mut all = Vec::new();
            for (place, c) in material.constituents.iter().enumerate() {
                self.matches(c.cas, &c.inci, |e, m| all.push((place as u32, e, m)));
            }
            all.into()
        };
        self.of_materials.with(material, None, find, |known| {
            for &(place, e, m) in known {
                found(place as usize, e, m);
            }
        });
    }

    /// Calls `found` with entry and member for every member that stands for a role.
    pub(crate) fn matches_role(&self, mut found: impl FnMut(Role, u32, u16)) {
        for &(role, e, m) in &self.by_role {
            found(role, e, m);
        }
    }
}

/// The key under which beginnings of names are kept.
fn first_byte(name: &str) -> u64 {
    u64::from(name.bytes().next().unwrap_or(0).to_ascii_lowercase())
}
