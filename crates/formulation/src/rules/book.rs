//! The rule book: every list of rules, indexed by CAS number and INCI name.

use std::collections::HashMap;
use std::sync::{Arc, OnceLock};

use super::entry::{Entry, List, Member, RuleSet};
use super::equivalents::Equivalents;
use super::fragrance::Category;
use crate::cas::Cas;
use crate::file::read_error::ReadError;
use crate::file::rule_file;
use crate::name_hash::{ByCas, ByHash, folded_hash};

/// The rules that come with the program, as text.
const EQUIVALENTS: &str = include_str!("../../../../assets/rules/equivalents.ron");
const CATEGORIES: &str = include_str!("../../../../assets/rules/fragrance_categories.ron");
const ANNEX_II: &str = include_str!("../../../../assets/rules/eu_annex_ii.tsv");
const LISTS: [(&str, &str); 7] = [
    (
        "eu_annex_iii.ron",
        include_str!("../../../../assets/rules/eu_annex_iii.ron"),
    ),
    (
        "eu_annex_iv.ron",
        include_str!("../../../../assets/rules/eu_annex_iv.ron"),
    ),
    (
        "eu_annex_v.ron",
        include_str!("../../../../assets/rules/eu_annex_v.ron"),
    ),
    (
        "eu_annex_vi.ron",
        include_str!("../../../../assets/rules/eu_annex_vi.ron"),
    ),
    (
        "us_21cfr700.ron",
        include_str!("../../../../assets/rules/us_21cfr700.ron"),
    ),
    (
        "us_colours.ron",
        include_str!("../../../../assets/rules/us_colours.ron"),
    ),
    ("cir.ron", include_str!("../../../../assets/rules/cir.ron")),
];

/// Every list of rules.
#[derive(Clone, Debug, Default)]
pub struct RuleBook {
    sets: Vec<Arc<RuleSet>>,
    entries: Vec<Arc<Entry>>,
    equivalents: Arc<Equivalents>,
    categories: Arc<Vec<Category>>,
    /// Members by CAS number and by the hash of a name, sorted; the tables say where
    /// the members of a key begin.
    by_cas: Vec<(Cas, u32, u16)>,
    by_name: Vec<(u64, u32, u16)>,
    cas_starts: ByCas<u32>,
    name_starts: ByHash<u32>,
    by_rule: HashMap<Arc<str>, Vec<u32>>,
    product_rules: Vec<u32>,
    fault: Option<Arc<str>>,
}

impl RuleBook {
    /// The lists that come with the program.
    ///
    /// # Errors
    /// If one of them is broken, which the tests exclude.
    pub fn built_in() -> Result<Self, ReadError> {
        let mut book = Self {
            equivalents: Arc::new(rule_file::read_equivalents(EQUIVALENTS, "equivalents.ron")?),
            categories: Arc::new(rule_file::read_categories(
                CATEGORIES,
                "fragrance_categories.ron",
            )?),
            ..Self::default()
        };
        let annex_ii = RuleSet {
            name: "EU II".into(),
            title: "EU Annex II: prohibited substances".into(),
            list: List::Prohibited,
            markets: vec![crate::formula::Market::Eu, crate::formula::Market::Uk],
            as_of: Some(jiff::civil::date(2026, 5, 18)),
            source: "Regulation (EC) No 1223/2009, Annex II: European Commission CosIng export of January 2024 with the CAS numbers of the European Chemicals Agency export of 16 May 2024, brought to the consolidated text of 18 May 2026".into(),
            cautions: vec![
                "Entries that depend on an impurity or an exception are shown to be read, not decided.".into(),
                "Unavoidable traces are allowed under Article 17 if the product stays within its purpose; read it.".into(),
            ],
        };
        let entries = rule_file::read_prohibited(ANNEX_II, "eu_annex_ii.tsv", 0, "EU II")?;
        book.add(annex_ii, entries);
        for (file, text) in LISTS {
            let set = book.sets.len() as u16;
            let (rules, entries) = rule_file::read(text, file, set, &book.equivalents)?;
            book.add(rules, entries);
        }
        book.index();
        Ok(book)
    }

    /// The lists that come with the program, read once.
    ///
    /// Should they be broken, which the tests exclude, the book is empty and says so
    /// in [`Self::fault`], which every check reports.
    pub fn shared() -> Arc<Self> {
        static BOOK: OnceLock<Arc<RuleBook>> = OnceLock::new();
        BOOK.get_or_init(|| {
            Arc::new(Self::built_in().unwrap_or_else(|error| Self {
                fault: Some(error.to_string().into()),
                ..Self::default()
            }))
        })
        .clone()
    }

    /// Why the book is empty, if it could not be read.
    pub fn fault(&self) -> Option<&str> {
        self.fault.as_deref()
    }

    /// The book with one more list, for example a maker's own; `file` names it in errors.
    ///
    /// # Errors
    /// See [`rule_file::read`]; also if a list of that name is in the book already.
    pub fn with_list(&self, text: &str, file: &str) -> Result<Self, ReadError> {
        let mut book = self.clone();
        let (rules, entries) =
            rule_file::read(text, file, book.sets.len() as u16, &book.equivalents)?;
        if book.sets.iter().any(|s| s.name == rules.name) {
            return Err(ReadError::whole(
                file,
                format!(
                    "a list named “{}” is in use already; give this one another name in `set`",
                    rules.name
                ),
            ));
        }
        book.add(rules, entries);
        book.index();
        Ok(book)
    }

    fn add(&mut self, rules: RuleSet, entries: Vec<Entry>) {
        self.sets.push(Arc::new(rules));
        self.entries.extend(entries.into_iter().map(Arc::new));
    }

    fn index(&mut self) {
        self.by_cas.clear();
        self.by_name.clear();
        self.by_rule.clear();
        self.product_rules.clear();
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
                self.by_name
                    .extend(member.names.iter().map(|n| (folded_hash(n.bytes()), e, m)));
            }
        }
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

    /// The lists.
    pub fn sets(&self) -> &[Arc<RuleSet>] {
        &self.sets
    }
    /// The list an entry belongs to.
    pub fn set_of(&self, entry: &Entry) -> Option<&Arc<RuleSet>> {
        self.sets.get(usize::from(entry.set))
    }
    /// All entries, list by list, in the order of the text.
    pub fn entries(&self) -> &[Arc<Entry>] {
        &self.entries
    }
    /// The entries of a rule name such as `EU V/29`; a number may stand for several.
    pub fn entries_of<'b>(&'b self, rule: &str) -> impl Iterator<Item = &'b Arc<Entry>> {
        let found = self.by_rule.get(rule).map_or(&[][..], Vec::as_slice);
        found.iter().filter_map(|&e| self.entries.get(e as usize))
    }
    /// Entries that speak of the product, whatever is in it.
    pub fn product_rules(&self) -> impl Iterator<Item = &Arc<Entry>> {
        self.product_rules
            .iter()
            .filter_map(|&e| self.entries.get(e as usize))
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
    pub fn substance(&self, cas: Option<Cas>, name: &str) -> Option<&Member> {
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

    /// Whether an entry in force of a kind of list names a substance itself.
    pub fn lists(&self, cas: Option<Cas>, name: &str, list: List) -> bool {
        let mut found = false;
        self.matches(cas, name, |e, m| {
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
    pub(crate) fn matches(&self, cas: Option<Cas>, name: &str, mut found: impl FnMut(u32, u16)) {
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
        let key = folded_hash(name.bytes());
        let Some(&start) = self.name_starts.get(&key) else {
            return;
        };
        let mut last = None;
        let rest = self.by_name.get(start as usize..).unwrap_or_default();
        for &(_, e, m) in rest.iter().take_while(|&&(k, ..)| k == key) {
            let same = self
                .entries
                .get(e as usize)
                .and_then(|entry| entry.members.get(usize::from(m)))
                .is_some_and(|member| member.names.iter().any(|n| n.eq_ignore_ascii_case(name)));
            if same && last != Some(e) && by_cas.iter().all(|&(_, other, _)| other != e) {
                last = Some(e);
                found(e, m);
            }
        }
    }
}
