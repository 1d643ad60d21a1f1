//! A comparison as JSON and as plain text.

use std::fmt::Write as _;

use serde_json::{Value, json};

use crate::compare::figures::{self, ComparedFigure, FindingChanges, Readings};
use crate::compare::note::{change_in_full, words};
use crate::compare::texts::{self, TextChange};
use crate::compare::{
    AlignedLine, Compared, Comparison, Difference, DifferenceSubject, LineRelation, Side,
};
use crate::evaluation::Evaluation;
use crate::finding::Finding;
use crate::formula::{ItemId, Line};
use crate::notation::writer;
use crate::stock::Stock;
use crate::trial::book::Book;
use crate::trial::learn::Lessons;

/// Version of the JSON schema; raised when a field changes its meaning or goes. Since version 2
/// the figures of natural origin are an index from 0 to 1, percent before.
pub const SCHEMA: u32 = 2;

/// Two variants compared, with what follows from each.
#[derive(Clone, Copy, Debug)]
pub struct CompareReport<'a> {
    /// The left variant.
    pub left: Compared<'a>,
    /// The right variant.
    pub right: Compared<'a>,
    /// What differs.
    pub comparison: &'a Comparison,
    /// What follows from the left.
    pub before: &'a Evaluation,
    /// What follows from the right.
    pub after: &'a Evaluation,
    /// Prices, where they are known.
    pub stock: Option<&'a Stock>,
    /// Trials of the left formula and of the right, with what they have taught.
    pub trials: [Option<(&'a Book, &'a Lessons)>; 2],
}

impl CompareReport<'_> {
    fn figures(&self) -> (Vec<ComparedFigure>, Vec<ComparedFigure>) {
        let listed = figures::listed(self.trials.iter().flatten().map(|(book, _)| *book));
        let of = |side: Compared<'_>, evaluation, trials| {
            let readings = Readings {
                trials,
                listed: &listed,
            };
            figures::figures(
                side.formula,
                side.variant,
                evaluation,
                self.stock,
                &readings,
            )
        };
        let [left, right] = self.trials;
        (
            of(self.left, self.before, left),
            of(self.right, self.after, right),
        )
    }

    fn finding_changes(&self) -> FindingChanges<'_> {
        figures::finding_changes(self.comparison, self.before, self.after)
    }

    /// Whether nothing differs, in the content or in the notes.
    pub fn is_empty(&self) -> bool {
        self.comparison.is_empty() && self.texts().is_empty()
    }

    fn texts(&self) -> Vec<TextChange> {
        texts::of(self.left, self.right)
    }

    /// As plain text: the change note, with both texts of notes that differ.
    pub fn text(&self) -> String {
        let (before, after) = self.figures();
        let mut out = change_in_full(self.left, self.right, self.comparison, (&before, &after));
        let changes = self.finding_changes();
        for (heading, findings) in [
            ("Findings gained", changes.gained),
            ("Findings lost", changes.lost),
        ] {
            if !findings.is_empty() {
                // Writing into a string does not fail.
                let _ = writeln!(out, "\n{heading}");
            }
            for finding in findings {
                let _ = writeln!(out, "- {}: {}", finding.level.label(), finding.message);
            }
        }
        out
    }

    /// As JSON; the README says what each field means.
    pub fn json(&self) -> String {
        let (before, after) = self.figures();
        let side = |side: Compared<'_>| {
            json!({
                "formula": &*side.formula.name,
                "variant": &*side.variant.name,
                "total_percent": side.variant.total().as_percent(),
            })
        };
        let changes = self.finding_changes();
        let value = json!({
            "schema": SCHEMA,
            "program": "phasewright",
            "version": env!("CARGO_PKG_VERSION"),
            "equal": self.is_empty(),
            "left": side(self.left),
            "right": side(self.right),
            "lines": self.comparison.rows.iter().map(|row| self.row(*row)).collect::<Vec<_>>(),
            "differences": self
                .comparison
                .differences
                .iter()
                .map(|d| self.difference(d))
                .collect::<Vec<_>>(),
            "texts": self.texts().iter().map(text).collect::<Vec<_>>(),
            "figures": before
                .iter()
                .zip(&after)
                .map(|(a, b)| figure(a, b))
                .collect::<Vec<_>>(),
            "findings_gained": changes.gained.into_iter().map(finding).collect::<Vec<_>>(),
            "findings_lost": changes.lost.into_iter().map(finding).collect::<Vec<_>>(),
        });
        // Only a map with keys that are not text could fail, and there is none.
        writer::json(&value).unwrap_or_default()
    }

    fn row(&self, row: AlignedLine) -> Value {
        let line = |side: Compared<'_>, id: Option<ItemId>| {
            let line: Option<&Line> = id.and_then(|id| side.variant.line(id));
            line.map(|line| {
                let material = side.formula.material(&line.material);
                let phase = side.variant.phase_of(line.id);
                json!({
                    "line": line.id.0,
                    "phase": phase.map(|p| &*p.letter),
                    "material": material.map_or(line.material.as_str(), |m| &*m.name),
                    "inci": material.map(|m| m.inci_line()),
                    "percent": line.percent.as_percent(),
                    "filler": side.variant.is_filler(line.id),
                })
            })
        };
        let percent = |side: Compared<'_>, id: Option<ItemId>| {
            id.and_then(|id| side.variant.line(id)).map(|l| l.percent)
        };
        let (a, b) = (percent(self.left, row.left), percent(self.right, row.right));
        let difference = b.unwrap_or_default() - a.unwrap_or_default();
        let relative = a
            .filter(|a| a.units() != 0)
            .map(|a| 100.0 * difference.as_percent() / a.as_percent());
        json!({
            "relation": relation(row.relation),
            "left": line(self.left, row.left),
            "right": line(self.right, row.right),
            "difference_percent": difference.as_percent(),
            "relative_percent": relative,
            "differs": self.comparison.of_row(row).next().is_some(),
        })
    }

    fn difference(&self, difference: &Difference) -> Value {
        let (kind, ids) = match difference.subject() {
            DifferenceSubject::Whole => ("whole", None),
            DifferenceSubject::Phase(ids) => ("phase", Some(ids)),
            DifferenceSubject::Line(ids) => ("line", Some(ids)),
            DifferenceSubject::Step(ids) => ("step", Some(ids)),
            DifferenceSubject::Material(_) => ("material", None),
        };
        let id = |side| ids.and_then(|ids| *ids.of(side)).map(|id| id.0);
        json!({
            "about": kind,
            "left": id(Side::Left),
            "right": id(Side::Right),
            "words": words(difference, self.left, self.right),
        })
    }
}

fn text(text: &TextChange) -> Value {
    json!({ "what": text.what, "left": &*text.left, "right": &*text.right })
}

fn relation(relation: LineRelation) -> &'static str {
    match relation {
        LineRelation::Same => "same",
        LineRelation::Renamed => "renamed",
        LineRelation::Swapped => "swapped",
        LineRelation::Split => "split",
        LineRelation::Only => "only",
    }
}

fn figure(a: &ComparedFigure, b: &ComparedFigure) -> Value {
    json!({
        "key": a.key,
        "label": a.label,
        "unit": a.unit,
        "left": a.value,
        "right": b.value,
        "difference": a.difference(b),
        "left_range": a.range.map(|(low, high)| [low, high]),
        "right_range": b.range.map(|(low, high)| [low, high]),
        "left_ground": a.ground.label(),
        "right_ground": b.ground.label(),
        "left_remark": a.remark,
        "right_remark": b.remark,
    })
}

fn finding(finding: &Finding) -> Value {
    json!({
        "level": finding.level.label().to_lowercase(),
        "rule": &*finding.rule,
        "message": finding.message,
        "source": finding.source.to_string(),
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::compare::compare;
    use crate::evaluation::{Context, evaluate};
    use crate::file::formula_table;
    use crate::formula::Date;
    use crate::random_formula;
    use crate::shelf::built_in;

    #[test]
    fn the_report_lists_every_line_and_difference() {
        let (a, b) = (random_formula::formula(3), random_formula::formula(4));
        let (left, right) = (Compared::new(&a, a.active()), Compared::new(&b, b.active()));
        let comparison = compare(left, right);
        let context = Context::new(Date::constant(2026, 11, 25));
        let (before, after) = (
            evaluate(&a, a.active(), &context),
            evaluate(&b, b.active(), &context),
        );
        let report = CompareReport {
            left,
            right,
            comparison: &comparison,
            before: &before,
            after: &after,
            stock: None,
            trials: [None, None],
        };
        let value: Value = serde_json::from_str(&report.json()).unwrap();
        assert_eq!(value["equal"], false);
        let count = |key: &str| value[key].as_array().unwrap().len();
        assert_eq!(count("lines"), comparison.rows.len());
        assert_eq!(count("differences"), comparison.differences.len());
        assert!(count("figures") > 20);
        assert!(report.text().starts_with("Change from"));
        assert!(!report.is_empty());
    }

    #[test]
    fn notes_that_differ_stand_in_the_report() {
        let a = random_formula::formula(3);
        let mut b = a.clone();
        b.notes = "for the fair".into();
        let (left, right) = (Compared::new(&a, a.active()), Compared::new(&b, b.active()));
        let comparison = compare(left, right);
        let context = Context::new(Date::constant(2026, 11, 25));
        let same = evaluate(&a, a.active(), &context);
        let report = CompareReport {
            left,
            right,
            comparison: &comparison,
            before: &same,
            after: &same,
            stock: None,
            trials: [None, None],
        };
        assert!(comparison.is_empty() && !report.is_empty());
        let value: Value = serde_json::from_str(&report.json()).unwrap();
        assert_eq!(value["equal"], false);
        assert_eq!(value["texts"][0]["right"], "for the fair");
        assert!(report.text().contains("for the fair"));
    }

    /// Rules of the findings gained and lost between two tables.
    fn gained_and_lost(left: &str, right: &str) -> [Vec<String>; 2] {
        let read = |rows: &str| {
            let text = format!("phase,material,percent,composition\n{rows}");
            formula_table::read(&text, "x.csv", "x", built_in())
                .unwrap()
                .formula
        };
        let (a, b) = (read(left), read(right));
        let context = Context::new(Date::constant(2026, 11, 25));
        let (before, after) = (
            evaluate(&a, a.active(), &context),
            evaluate(&b, b.active(), &context),
        );
        let comparison = compare(Compared::new(&a, a.active()), Compared::new(&b, b.active()));
        let changes = figures::finding_changes(&comparison, &before, &after);
        [changes.gained, changes.lost].map(|list| list.iter().map(|f| f.rule.to_string()).collect())
    }

    #[test]
    fn a_finding_that_stays_is_neither_gained_nor_lost() {
        let none: [Vec<String>; 2] = [Vec::new(), Vec::new()];
        // The total is wrong on both sides, by another figure.
        let changes = gained_and_lost("A,Water,90,\nA,Mica,3,", "A,Water,94,\nA,Mica,3,");
        assert_eq!(changes, none);
        // The same preservative, as sold and as a pure substance under another name.
        let sold = "A,Water,q.s.,\nB,Sodium benzoate,0.5,";
        let pure = "A,Water,q.s.,\nB,Sodium benzoate,0.5,pure";
        let window = "undissociated-acid-low".to_owned();
        for changes in [gained_and_lost(sold, pure), gained_and_lost(pure, sold)] {
            assert!(changes.iter().all(|c| !c.contains(&window)), "{changes:?}");
        }
        // Without it, one finding goes and another comes.
        let [gained, lost] = gained_and_lost(sold, "A,Water,q.s.,\nB,Glycerin 86 %,0.5,");
        assert!(gained.iter().any(|r| r == "water-without-preservative"));
        assert!(lost.contains(&window));
    }
}
