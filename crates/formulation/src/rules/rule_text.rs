//! An entry of the rule book in words, for people to read.

use std::fmt::Write as _;
use std::sync::Arc;

use super::GREAT_BRITAIN;
use super::book::RuleBook;
use super::entry::{List, ListEntry, RuleSet, RuledPurpose, Tier, Wording};
use super::scope::Scope;
use crate::amount::measure::tidy;
use crate::formula::{Date, Market};

/// What every panel and report of the law ends with.
pub const CAUTION: &str =
    "Not legal advice: read the official text; local law and a qualified safety assessor decide.";

/// An entry in words.
#[derive(Clone, PartialEq, Debug)]
pub struct RuleText {
    /// Name of the rule, for example `EU V/29`.
    pub rule: Arc<str>,
    /// Title of its list.
    pub list: Arc<str>,
    /// What it is about.
    pub name: Arc<str>,
    /// Where it applies.
    pub markets: Vec<Market>,
    /// The substances it matches, with their CAS numbers.
    pub substances: Vec<String>,
    /// For which use of them.
    pub purpose: Option<&'static str>,
    /// Limits, prohibitions and conditions.
    pub demands: Vec<String>,
    /// Wordings for the label.
    pub label: Vec<String>,
    /// What the program cannot decide, to be read.
    pub read: Vec<Arc<str>>,
    /// The document.
    pub source: Arc<str>,
    /// The day of the text it follows.
    pub as_of: Option<Date>,
    /// Whether its row was seen in the source.
    pub seen: bool,
    /// What to mind about the list.
    pub cautions: Vec<Arc<str>>,
}

/// The entries of a rule name in words; empty if the name is of another kind of check.
pub fn describe(book: &RuleBook, rule: &str) -> Vec<RuleText> {
    book.entries_of(rule)
        .filter_map(|entry| Some(text(book, entry, book.set_of(entry)?)))
        .collect()
}

fn text(book: &RuleBook, entry: &ListEntry, set: &RuleSet) -> RuleText {
    let mut demands = Vec::new();
    if let Some(scope) = &entry.prohibited {
        demands.push(match scope {
            Scope::All => "Prohibited".to_owned(),
            scope => format!("Prohibited in products: {scope}"),
        });
    }
    if let Some(from) = entry.from {
        demands.push(format!("For products placed on the market from {from}"));
    }
    demands.extend(entry.tiers.iter().map(|t| limit(book, entry, set, t)));
    if entry.open && !entry.product && entry.tiers.iter().all(|t| t.scope != Scope::All) {
        demands.push(
            "Other products are taken as free of a limit: our reading of the entry".to_owned(),
        );
    }
    demands.extend(entry.never.iter().map(|s| format!("Not in products: {s}")));
    for apart in &entry.apart {
        demands.push(format!(
            "Not together with the substances of {}",
            apart.rule
        ));
    }
    for rule in &entry.except {
        demands.push(format!("Except for the uses that {rule} allows"));
    }
    if !entry.traces_of.is_empty() {
        demands.push(format!(
            "Traces in raw materials: the purity that {} state",
            entry.traces_of.join(", ")
        ));
    }
    if let Some(allergen) = &entry.allergen {
        let mut text = format!(
            "Named in the ingredient list as {} above {} % in products that stay on, above {} % in products that are washed off",
            allergen.name,
            super::law::ALLERGEN_LEAVE_ON.as_percent(),
            super::law::ALLERGEN_RINSE_OFF.as_percent()
        );
        if let Some(from) = allergen.from {
            let _ = write!(text, ", if placed on the market from {from}");
        }
        if let Some(day) = allergen.making_available {
            let _ = write!(text, "; every product on sale from {day}");
        }
        demands.push(text);
    }
    RuleText {
        rule: entry.rule.clone(),
        list: set.title.clone(),
        name: entry.name.clone(),
        markets: set.markets.clone(),
        substances: entry
            .members
            .iter()
            .map(|m| {
                let mut text = m
                    .names
                    .iter()
                    .map(AsRef::as_ref)
                    .collect::<Vec<&str>>()
                    .join(", ");
                let cas: Vec<String> = m.cas.iter().map(ToString::to_string).collect();
                if !cas.is_empty() {
                    let _ = write!(text, " ({})", cas.join(", "));
                }
                if !m.sure {
                    text.push_str(", filed here by a database");
                }
                text.trim().to_owned()
            })
            .collect(),
        purpose: match entry.purpose {
            RuledPurpose::Any => None,
            RuledPurpose::Preservative => Some("as a preservative"),
            RuledPurpose::Other => Some("for other purposes than preserving"),
            RuledPurpose::UvFilter => Some("as a UV filter"),
            RuledPurpose::Colour => Some("as a colorant"),
            RuledPurpose::HairDye => Some("in hair and eyelash dyes"),
            RuledPurpose::Fragrance => Some("as a fragrance ingredient"),
        },
        demands,
        label: entry
            .label
            .iter()
            .map(wording)
            .chain(entry.tiers.iter().flat_map(|t| {
                t.label.iter().map(|w| match &t.scope {
                    Scope::All => wording(w),
                    scope => format!("{} (in products: {scope})", wording(w)),
                })
            }))
            .collect(),
        read: entry.read.iter().map(|r| r.text.clone()).collect(),
        source: entry.cite.clone().unwrap_or_else(|| set.source.clone()),
        as_of: set.as_of,
        seen: entry.seen,
        cautions: (set.cautions.iter().cloned())
            .chain(
                set.markets
                    .contains(&Market::Uk)
                    .then(|| GREAT_BRITAIN.into()),
            )
            .collect(),
    }
}

fn limit(book: &RuleBook, entry: &ListEntry, set: &RuleSet, tier: &Tier) -> String {
    let mut text = match tier.max {
        Some(max) if tier.below => format!("Below {} %", round(max.as_percent())),
        Some(max) if set.list == List::Borders => {
            format!("Above {} %, a mark of our own", round(max.as_percent()))
        }
        Some(max) if set.list == List::Conclusions => {
            format!("Up to {} %", round(max.as_percent()))
        }
        Some(max) => format!("At most {} %", round(max.as_percent())),
        None => "Allowed".to_owned(),
    };
    for (i, (name, _)) in tier.part_of.iter().enumerate() {
        let _ = write!(text, " {} {name}", if i == 0 { "of the" } else { "and" });
    }
    if let Some(target) = tier.expressed {
        let _ = write!(text, " as {}", book.equivalents().name(target));
    }
    if tier.max.is_some() && entry.members.len() > 1 {
        text.push_str(if tier.each {
            " of each"
        } else {
            ", all together,"
        });
    }
    match &tier.scope {
        Scope::All => text.push_str(" in any product"),
        Scope::Other => text.push_str(" in all other products"),
        scope => {
            let _ = write!(text, " in products: {scope}");
        }
    }
    if let Some(window) = tier.ph {
        let _ = write!(text, ", at {window}");
    }
    if let Some(from) = tier.from {
        let _ = write!(text, ", placed on the market from {from}");
    }
    if let Some(until) = tier.until {
        let _ = write!(text, ", placed on the market until {until}");
    }
    if !tier.binds.is_empty() {
        let markets: Vec<&str> = tier.binds.iter().map(|m| m.label()).collect();
        let _ = write!(text, ", in {} alone", markets.join(", "));
    }
    text
}

fn wording(w: &Wording) -> String {
    let mut text = format!("“{}”", w.text);
    if let Some(above) = w.above {
        let _ = write!(text, " above {} %", round(above.as_percent()));
    }
    match &w.when {
        Scope::All => {}
        scope => {
            let _ = write!(text, " if {scope}");
        }
    }
    text
}

/// Limits are printed with at most six decimals; what the binary fraction adds is cut.
fn round(percent: f64) -> f64 {
    tidy(percent, 6)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_entry_reads_as_its_text_says() {
        let book = RuleBook::built_in().unwrap();
        let of = |rule: &str| describe(&book, rule).remove(0);
        let phenoxy = of("EU V/29");
        assert_eq!(phenoxy.demands, ["At most 1 % in any product"]);
        assert_eq!(phenoxy.substances, ["Phenoxyethanol (122-99-6)"]);
        assert_eq!(phenoxy.purpose, Some("as a preservative"));
        assert_eq!(phenoxy.as_of, Some(jiff::civil::date(2026, 5, 18)));
        let benzoic = of("EU V/1");
        assert_eq!(
            benzoic.demands[0],
            "At most 2.5 % as benzoic acid, all together, in products: rinse-off, not for the mouth"
        );
        let limonene = of("EU III/88");
        assert!(limonene.demands[1].contains("as Limonene above 0.001 %"));
        assert_eq!(of("EU V/48").label, ["“Contains glutaral” above 0.05 %"]);
        assert!(of("US colour 74.2333; 82.1333").seen);
        assert!(!of("US colour 74.2306; 82.1306").seen);
        assert!(describe(&book, "total-not-100").is_empty());
    }
}
