//! The rule book as it comes with the program and with a maker's own lists.

use std::sync::{Arc, OnceLock};

use packed::{Packed, packed};

use super::read_error::ReadError;
use super::rule_file;
use crate::evaluation::Context;
use crate::formula::{Date, Market};
use crate::notation::embedded::{Embedded, read_all};
use crate::rules::RuleBook;
use crate::rules::entry::{List, ListEntry, RuleSet};
use crate::rules::salt::SaltNames;

const EQUIVALENTS: Packed = packed!("rules/equivalents.ron");
const CATEGORIES: Packed = packed!("rules/fragrance_categories.ron");
const ANNEX_II: Packed = packed!("rules/eu_annex_ii.tsv");
const ANNEX_II_FILE: &str = "eu_annex_ii.tsv";
const SALTS: Packed = packed!("rules/salts.ron");
const GROUPS: Packed = packed!("rules/eu_annex_ii_groups.ron");

macro_rules! lists {
    ($($file:literal),+ $(,)?) => {
        /// The lists that come with the program.
        const LISTS: &[Embedded] = &[$((
            $file,
            packed!(concat!("rules/", $file)),
        )),+];
    };
}

lists!(
    "eu_annex_ii_limits.ron",
    "eu_annex_iii.ron",
    "eu_annex_iv.ron",
    "eu_annex_v.ron",
    "eu_annex_vi.ron",
    "eu_reach_xvii.ron",
    "eu_borders.ron",
    "gb_changes.ron",
    "gb_uv_filters.ron",
    "us_21cfr700.ron",
    "us_other.ron",
    "us_sunscreens.ron",
    "us_colours.ron",
    "borders.ron",
    "cir.ron",
    "advice.ron",
);

/// What Annex II is; it is the first list of the book.
fn annex_ii() -> RuleSet {
    RuleSet {
        name: "EU II".into(),
        title: "EU Annex II: prohibited substances".into(),
        list: List::Prohibited,
        markets: vec![Market::Eu, Market::Uk],
        as_of: Some(jiff::civil::date(2026, 5, 18)),
        source: "Regulation (EC) No 1223/2009, Annex II: European Commission CosIng export of January 2024 with the CAS numbers of the European Chemicals Agency export of 16 May 2024, brought to the consolidated text of 18 May 2026".into(),
        cautions: vec![
            "Entries that depend on an impurity or an exception are shown to be read, not decided.".into(),
            "Unavoidable traces are allowed under Article 17 if the product stays within its purpose; read it.".into(),
        ],
    }
}

/// The entries of Annex II with the groups it names, and the salts of what it prohibits.
fn annex_ii_entries() -> Result<(Vec<ListEntry>, SaltNames), ReadError> {
    let mut entries = rule_file::read_prohibited(&ANNEX_II.text(), ANNEX_II_FILE, 0, "EU II")?;
    rule_file::add_groups(&GROUPS.text(), "eu_annex_ii_groups.ron", &mut entries)?;
    let salts = rule_file::add_salts(&SALTS.text(), "salts.ron", &mut entries)?;
    Ok((entries, salts))
}

impl Context {
    /// A context with the rules that come with the program.
    pub fn new(today: Date) -> Self {
        Self {
            today,
            rules: RuleBook::shared(),
        }
    }
}

impl RuleBook {
    /// The lists that come with the program.
    ///
    /// # Errors
    /// If one of them is broken, which the tests exclude.
    pub fn built_in() -> Result<Self, ReadError> {
        let equivalents = rule_file::read_equivalents(&EQUIVALENTS.text(), "equivalents.ron")?;
        let categories =
            rule_file::read_categories(&CATEGORIES.text(), "fragrance_categories.ron")?;
        // Annex II is the longest list by far: it is read beside all others.
        let (prohibited, lists) = std::thread::scope(|scope| {
            let prohibited = scope.spawn(annex_ii_entries);
            let lists = read_all(LISTS, |number, (file, text)| {
                rule_file::read(text, file, number as u16 + 1, &equivalents)
            });
            (prohibited.join(), lists)
        });
        let (entries, salts) = prohibited.unwrap_or_else(|_panic| {
            Err(ReadError::whole(ANNEX_II_FILE, "it could not be read"))
        })?;
        let mut book = Self::of(equivalents, categories, salts);
        book.add(annex_ii(), entries);
        for list in lists {
            let (rules, entries) = list?;
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
            Arc::new(Self::built_in().unwrap_or_else(|error| Self::unreadable(&error.to_string())))
        })
        .clone()
    }

    /// The book with one more list, for example a maker's own; `file` names it in errors.
    ///
    /// # Errors
    /// See [`rule_file::read`]; also if a list of that name is in the book already.
    pub fn with_list(&self, text: &str, file: &str) -> Result<Self, ReadError> {
        let mut book = self.clone();
        let set = book.sets().len() as u16;
        let (rules, entries) = rule_file::read(text, file, set, book.equivalents())?;
        if book.sets().iter().any(|s| s.name == rules.name) {
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
}
