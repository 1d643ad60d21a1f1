//! Finished formulas: a variant frozen with everything resolved, self-contained and
//! readable, and protected by a checksum that tells whether it was altered.
//!
//! The first line holds the SHA-256 of every byte after it (line ends counted as
//! line feeds), so that any tool can verify it:
//! `tail -n +2 NAME.finished.ron | sha256sum`.

use std::fmt::Write as _;
use std::path::Path;

use ron::ser::PrettyConfig;
use ron::value::RawValue;
use serde::{Deserialize, Serialize};
use sha2::{Digest, Sha256};

use super::FileError;
use super::formula_file::{self, check_header, parse};
use super::read_error::ReadError;
use super::report;
use super::store::{self, Expect, Stamp};
use crate::evaluation::Evaluation;
use crate::formula::{Date, Formula, Variant};
use crate::material::MaterialId;
use crate::notation::writer;

/// What the file says it is.
pub const FORMAT: &str = "phasewright finished formula";
/// The newest version of the format.
pub const VERSION: u32 = 1;

/// Opens the first line, before the checksum.
const SEAL: &str = "// sha256 ";

/// Figures of a batch made from the formula, as labels and values to be read by people.
pub type BatchFigures = Vec<(String, String)>;

/// What goes with a finished formula, as labels and values to be read by people.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub struct Enclosed {
    /// Figures of a batch made from it.
    pub batch: BatchFigures,
    /// Readings of trials of exactly this composition, each with trial, day and method.
    pub readings: Vec<(String, String)>,
}

/// A finished formula that was opened.
#[derive(Clone, PartialEq, Debug)]
pub struct Finished {
    /// The frozen variant as a formula of one variant.
    pub formula: Formula,
    /// The program that froze it.
    pub program: String,
    /// The day it was frozen.
    pub date: String,
    /// What was added when it was frozen.
    pub enclosed: Enclosed,
    /// Whether the content still fits the checksum.
    pub intact: bool,
}

#[derive(Deserialize)]
struct FinishedEntry {
    #[expect(dead_code, reason = "checked with the header")]
    format: String,
    #[expect(dead_code, reason = "checked with the header")]
    version: u32,
    program: String,
    date: String,
    #[serde(default)]
    batch: BatchFigures,
    #[serde(default)]
    readings: Vec<(String, String)>,
    #[expect(
        dead_code,
        reason = "for people and other programs; the formula says it all"
    )]
    resolved: Box<RawValue>,
    formula: Box<RawValue>,
}

/// Whether a text says that it is a finished formula.
pub fn looks_finished(text: &str) -> bool {
    text.starts_with(SEAL) || text.lines().take(6).any(|l| l.contains(FORMAT))
}

/// Freezes a variant with what its evaluation says.
pub fn write(
    formula: &Formula,
    variant: &Variant,
    evaluation: &Evaluation,
    date: Date,
    enclosed: &Enclosed,
) -> ron::Result<String> {
    let frozen = alone(formula, variant);
    let report = report::report(formula, variant, evaluation);
    let mut body = String::from("(\n");
    let mut parts = vec![
        ("format", print(&FORMAT)?),
        ("version", print(&VERSION)?),
        (
            "program",
            print(&concat!("phasewright ", env!("CARGO_PKG_VERSION")))?,
        ),
        ("date", print(&date.to_string())?),
        ("batch", print(&enclosed.batch)?),
    ];
    if !enclosed.readings.is_empty() {
        parts.push(("readings", print(&enclosed.readings)?));
    }
    parts.push(("resolved", print(&report)?));
    parts.push(("formula", formula_file::write(&frozen)?));
    for (name, value) in parts {
        body.push_str("    ");
        body.push_str(name);
        body.push_str(": ");
        // Indented line by line; a text of several lines is printed with escapes, so that no
        // line of the value is part of a text.
        body.push_str(&value.trim_end().replace('\n', "\n    "));
        body.push_str(",\n");
    }
    body.push_str(")\n");
    Ok(format!(
        "{SEAL}{} of every byte after this line\n{body}",
        checksum(&body)
    ))
}

/// The formula with this variant alone: no other variant, no earlier state, and only the
/// materials it uses.
fn alone(formula: &Formula, variant: &Variant) -> Formula {
    let mut frozen = formula.clone();
    let used: Vec<&MaterialId> = variant.lines().map(|(_, l)| &l.material).collect();
    frozen.materials.retain(|id, _| used.contains(&id));
    frozen.history.clear();
    frozen.active = variant.id;
    frozen.variants = vec![std::sync::Arc::new(Variant {
        parent: None,
        archived: false,
        ..variant.clone()
    })];
    frozen
}

/// Reads a finished formula. One that was altered is read all the same and says so.
pub fn read(text: &str, file: &str) -> Result<Finished, ReadError> {
    check_header(text, file, FORMAT, VERSION)?;
    let entry: FinishedEntry = parse(text, file)?;
    let formula = formula_file::read(entry.formula.get_ron().trim(), file)?;
    let stated = text
        .lines()
        .next()
        .and_then(|l| l.strip_prefix(SEAL))
        .and_then(|l| l.split(' ').next());
    let body = text.split_once('\n').map_or("", |(_, body)| body);
    Ok(Finished {
        formula,
        program: entry.program,
        date: entry.date,
        enclosed: Enclosed {
            batch: entry.batch,
            readings: entry.readings,
        },
        intact: stated == Some(&checksum(body)),
    })
}

/// Saves a finished formula atomically.
pub fn save(path: &Path, text: &str, expect: Expect) -> Result<Stamp, FileError> {
    read(text, &path.display().to_string())?;
    Ok(store::save_text(path, text, expect)?)
}

fn checksum(body: &str) -> String {
    let body = body.replace("\r\n", "\n");
    let mut hex = String::with_capacity(64);
    for byte in Sha256::digest(body.as_bytes()) {
        let _ = write!(hex, "{byte:02x}");
    }
    hex
}

fn print<T: Serialize>(value: &T) -> ron::Result<String> {
    writer::ron(value, &ron::Options::default(), PrettyConfig::new())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::evaluation::{Context, evaluate};
    use crate::random_formula;

    fn frozen(seed: u64) -> (Formula, String) {
        let formula = random_formula::formula(seed);
        let variant = formula.active().clone();
        let context = Context::new(Date::constant(2026, 11, 25));
        let evaluation = evaluate(&formula, &variant, &context);
        let enclosed = Enclosed {
            batch: vec![("batch".to_owned(), "26-047".to_owned())],
            readings: vec![("pH".to_owned(), "5.20, measured on trial 1".to_owned())],
        };
        let text = write(
            &formula,
            &variant,
            &evaluation,
            Date::constant(2026, 11, 25),
            &enclosed,
        )
        .unwrap();
        (alone(&formula, &variant), text)
    }

    #[test]
    fn a_finished_formula_opens_as_it_was_frozen() {
        for seed in 0..8 {
            let (formula, text) = frozen(seed);
            let opened = read(&text, "a.finished.ron").unwrap();
            assert!(opened.intact);
            assert_eq!(opened.formula, formula);
            assert_eq!(opened.date, "2026-11-25");
            assert_eq!(opened.enclosed.batch[0].1, "26-047");
            assert!(opened.enclosed.readings[0].1.starts_with("5.20"));
            // Line ends changed in transit do not count as an alteration.
            assert!(
                read(&text.replace('\n', "\r\n"), "a.finished.ron")
                    .unwrap()
                    .intact
            );
        }
    }

    #[test]
    fn an_altered_one_says_so() {
        let (_, text) = frozen(3);
        let altered = text.replacen("2026-11-25", "2026-11-26", 1);
        assert!(!read(&altered, "a.finished.ron").unwrap().intact);
        let without_seal = text.split_once('\n').unwrap().1;
        assert!(!read(without_seal, "a.finished.ron").unwrap().intact);
        assert!(read(&text[..text.len() / 2], "a.finished.ron").is_err());
        let newer = text.replacen("version: 1", "version: 2", 1);
        assert!(read(&newer, "a").unwrap_err().message.contains("newer"));
    }
}
