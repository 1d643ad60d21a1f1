//! The report of a formula as JSON and as plain text.

use std::fmt::Write as _;

use serde::Serialize;
use serde_json::{Map, Value};

use crate::amount::measure::{tidy, tidy_percent};
use crate::evaluation::Evaluation;
use crate::file::checked_as::CheckedAs;
use crate::file::estimates_report::EstimatesReport;
use crate::finding::{Finding, Level, Limit};
use crate::formula::{Formula, ItemId, Line, Variant};
use crate::material::{Charge, Class};
use crate::mixture::IngredientStatus;
use crate::notation::writer;
use crate::quantity::{MassFraction, Percent, Spread, in_grams};
use crate::served::Setting;

/// Version of the JSON schema; raised when a field changes its meaning or goes.
pub const SCHEMA: u32 = 1;

/// Everything a report shows, ready to be printed.
#[derive(Debug, Clone, Serialize)]
pub struct Report {
    schema: u32,
    program: &'static str,
    version: &'static str,
    formula: String,
    variant: String,
    kind: &'static str,
    markets: Vec<&'static str>,
    #[serde(flatten)]
    checked_as: CheckedAs,
    batch_g: f64,
    total_percent: f64,
    lines: Vec<LineRow>,
    constituents: Vec<ConstituentRow>,
    water: WaterRow,
    actives: Actives,
    classes: Map<String, Value>,
    volatile_percent: f64,
    solids_percent: f64,
    unknown_percent: f64,
    estimates: EstimatesReport,
    findings: Vec<FindingRow>,
    notice: &'static str,
}

#[derive(Debug, Clone, Serialize)]
struct LineRow {
    id: u64,
    phase: String,
    material: String,
    inci: String,
    percent: f64,
    grams: f64,
    filler: bool,
    held: bool,
    /// What it is there for in the sense of the law.
    purpose: &'static str,
    /// `stated` by the maker, else `proposed`.
    purpose_is: &'static str,
    why: String,
    /// The maker's own bounds, in percent.
    #[serde(skip_serializing_if = "Option::is_none")]
    lowest_percent: Option<f64>,
    #[serde(skip_serializing_if = "Option::is_none")]
    highest_percent: Option<f64>,
    #[serde(skip_serializing_if = "Option::is_none")]
    limit: Option<LimitRow>,
}

impl LineRow {
    /// The maker's own bounds in words; empty without any.
    fn own_bounds(&self) -> String {
        match (self.lowest_percent, self.highest_percent) {
            (None, None) => String::new(),
            (Some(low), None) => format!(" own bounds: at least {low} %"),
            (None, Some(high)) => format!(" own bounds: at most {high} %"),
            (Some(low), Some(high)) => format!(" own bounds: {low} to {high} %"),
        }
    }
}

#[derive(Debug, Clone, Serialize)]
struct LimitRow {
    most_percent: f64,
    rule: String,
    message: String,
}

#[derive(Debug, Clone, Serialize)]
struct ConstituentRow {
    inci: String,
    cas: Option<String>,
    class: &'static str,
    /// As declared: a perfume or natural oil with its components.
    percent: f64,
    low: f64,
    high: f64,
    /// How it stands in the mixture.
    standing: &'static str,
    /// The part that is an ingredient of the label, where that is not all of it.
    #[serde(skip_serializing_if = "Option::is_none")]
    on_label_percent: Option<f64>,
    /// By component: the oil with what is left of it, where that differs.
    #[serde(skip_serializing_if = "Option::is_none")]
    by_component_percent: Option<f64>,
    incidental: bool,
}

impl ConstituentRow {
    /// The other views of the figure, where they differ.
    fn views(&self) -> String {
        let mut text = String::new();
        if let Some(percent) = self.by_component_percent {
            let _ = write!(text, "  as declared; by component {percent:.4}");
        } else if self.standing != IngredientStatus::Ingredient.label() {
            let _ = write!(text, "  {}", self.standing);
        }
        if let Some(percent) = self.on_label_percent.filter(|p| *p > 0.0) {
            let _ = write!(
                text,
                "  on the label {percent:.4}, the rest is no ingredient"
            );
        }
        text
    }
}

#[derive(Debug, Clone, Serialize)]
struct WaterRow {
    added: f64,
    from_materials: f64,
    total: f64,
    low: f64,
    high: f64,
    by_material: Vec<WaterFrom>,
}

#[derive(Debug, Clone, Serialize)]
struct WaterFrom {
    material: String,
    percent: f64,
}

#[derive(Debug, Clone, Serialize)]
struct Actives {
    anionic: f64,
    amphoteric: f64,
    non_ionic: f64,
    cationic: f64,
    total: f64,
    low: f64,
    high: f64,
}

#[derive(Debug, Clone, Serialize)]
struct FindingRow {
    level: &'static str,
    rule: String,
    message: String,
    lines: Vec<u64>,
    materials: Vec<String>,
    source: String,
    /// What it is about; findings of one matter belong together.
    matter: String,
    /// What it asks of the reader.
    subject: &'static str,
    /// The figure found, where one is held against a limit.
    #[serde(skip_serializing_if = "Option::is_none")]
    amount: Option<f64>,
    /// The limit it is held against.
    #[serde(skip_serializing_if = "Option::is_none")]
    limit: Option<f64>,
    /// `at most` or `at least`.
    #[serde(skip_serializing_if = "Option::is_none")]
    limit_is: Option<&'static str>,
    /// Unit of both; empty for pH and plain numbers.
    #[serde(skip_serializing_if = "Option::is_none")]
    unit: Option<&'static str>,
    /// What the program can do about it.
    #[serde(skip_serializing_if = "Option::is_none")]
    remedy: Option<String>,
    /// Other rules that say the same of the same matter.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    also: Vec<AlsoRow>,
    /// Read and set aside by the maker.
    #[serde(skip_serializing_if = "is_false")]
    set_aside: bool,
}

#[derive(Debug, Clone, Serialize)]
struct AlsoRow {
    rule: String,
    message: String,
    source: String,
}

#[expect(clippy::trivially_copy_pass_by_ref, reason = "serde asks for it")]
fn is_false(value: &bool) -> bool {
    !*value
}

/// What every report says of itself.
pub const NOTICE: &str = "Checked against the data named with each finding, nothing else. Not a safety assessment and not legal advice: local law and a qualified safety assessor decide. Only a challenge test (ISO 11930) shows that a product is preserved.";

/// Gathers the report of a variant.
pub fn report(formula: &Formula, variant: &Variant, evaluation: &Evaluation) -> Report {
    let composition = &evaluation.composition;
    let name_of = |line| name_of(formula, variant, line);
    let lines = line_rows(formula, variant, evaluation);
    let constituents = composition
        .constituents
        .iter()
        .map(|c| ConstituentRow {
            inci: c.inci.to_string(),
            cas: c.cas.map(|c| c.to_string()),
            class: c.class.label(),
            percent: tidy_percent(c.declared.typical),
            low: tidy_percent(c.declared.low),
            high: tidy_percent(c.declared.high),
            standing: c.standing.label(),
            on_label_percent: (c.listed != c.declared).then(|| tidy_percent(c.listed.typical)),
            by_component_percent: (c.share != c.declared).then(|| tidy_percent(c.share.typical)),
            incidental: c.incidental,
        })
        .collect();
    let water = composition.water();
    let by_material = composition
        .lines
        .iter()
        .filter(|l| !l.is_water)
        .map(|l| (l.line, l.classes[Class::Water.index()]))
        .filter(|(_, share)| *share > MassFraction::ZERO)
        .map(|(line, share)| WaterFrom {
            material: name_of(line),
            percent: tidy_percent(share),
        })
        .collect();
    let active = |charge| tidy_percent(composition.active(charge).typical);
    let active_total = composition.active_total();
    let classes = Class::ALL
        .iter()
        .map(|&class| {
            (
                class.label().to_owned(),
                spread_json(composition.class(class)),
            )
        })
        .collect();
    let volatile = composition.volatile().typical;
    let whole = composition.total.fraction();
    Report {
        schema: SCHEMA,
        program: "phasewright",
        version: env!("CARGO_PKG_VERSION"),
        formula: formula.name.to_string(),
        variant: variant.name.to_string(),
        kind: variant.product.kinds.label(),
        markets: variant.product.markets.iter().map(|m| m.label()).collect(),
        checked_as: CheckedAs::of(variant),
        batch_g: tidy(in_grams(variant.batch), 9),
        total_percent: composition.total.as_percent(),
        lines,
        constituents,
        water: WaterRow {
            added: tidy_percent(composition.water_added),
            from_materials: tidy_percent(composition.water_from_materials.typical),
            total: tidy_percent(water.typical),
            low: tidy_percent(water.low),
            high: tidy_percent(water.high),
            by_material,
        },
        actives: Actives {
            anionic: active(Charge::Anionic),
            amphoteric: active(Charge::Amphoteric),
            non_ionic: active(Charge::NonIonic),
            cationic: active(Charge::Cationic),
            total: tidy_percent(active_total.typical),
            low: tidy_percent(active_total.low),
            high: tidy_percent(active_total.high),
        },
        classes,
        volatile_percent: tidy_percent(volatile),
        solids_percent: tidy_percent(whole - volatile - composition.unknown),
        unknown_percent: tidy_percent(composition.unknown),
        estimates: EstimatesReport::of(&evaluation.estimates, &evaluation.composition),
        findings: evaluation
            .findings
            .iter()
            .map(|f| finding_row(f, &name_of))
            .collect(),
        notice: NOTICE,
    }
}

/// The name of the material of a line.
fn name_of(formula: &Formula, variant: &Variant, line: ItemId) -> String {
    variant.line(line).map_or_else(String::new, |l| {
        formula
            .material(&l.material)
            .map_or_else(|| l.material.to_string(), |m| m.name.to_string())
    })
}

fn line_rows(formula: &Formula, variant: &Variant, evaluation: &Evaluation) -> Vec<LineRow> {
    let setting = Setting::of(formula, variant);
    let served = |line: &Line| setting.purpose_in(formula, line);
    variant
        .lines()
        .map(|(phase, line)| LineRow {
            id: line.id.0,
            phase: phase.letter.to_string(),
            material: name_of(formula, variant, line.id),
            inci: formula
                .material(&line.material)
                .map_or_else(String::new, |m| m.inci_line()),
            percent: line.percent.as_percent(),
            grams: tidy(in_grams(variant.batch) * line.percent.fraction().value(), 9),
            filler: variant.is_filler(line.id),
            held: line.held,
            purpose: served(line).purpose.label(),
            purpose_is: if line.purpose.is_some() {
                "stated"
            } else {
                "proposed"
            },
            why: line.why.to_string(),
            lowest_percent: line.min.map(Percent::as_percent),
            highest_percent: line.max.map(Percent::as_percent),
            limit: evaluation.limit_of(line.id).map(|l| LimitRow {
                most_percent: l.most.as_percent(),
                rule: l.rule.to_string(),
                message: l.message.clone(),
            }),
        })
        .collect()
}

fn finding_row(f: &Finding, name_of: &impl Fn(ItemId) -> String) -> FindingRow {
    FindingRow {
        level: level_word(f.level),
        rule: f.rule.to_string(),
        message: f.message.clone(),
        lines: f.lines.iter().map(|l| l.0).collect(),
        materials: f.lines.iter().map(|&l| name_of(l)).collect(),
        source: f.source.to_string(),
        matter: f.key().as_str().to_owned(),
        subject: f.subject.label(),
        amount: f.amount.map(|a| tidy(a.number(), 9)),
        limit: f.limit.map(|l| tidy(l.value().number(), 9)),
        limit_is: f.limit.map(|l| match l {
            Limit::AtMost(_) => "at most",
            Limit::AtLeast(_) => "at least",
        }),
        unit: f.limit.map(|l| l.value().unit()),
        remedy: f.remedy.as_ref().map(|r| r.words(name_of)),
        also: (f.also.iter())
            .map(|a| AlsoRow {
                rule: a.rule.to_string(),
                message: a.message.clone(),
                source: a.source.to_string(),
            })
            .collect(),
        set_aside: f.set_aside,
    }
}

fn spread_json(spread: Spread) -> Value {
    serde_json::json!({
        "percent": tidy_percent(spread.typical),
        "low": tidy_percent(spread.low),
        "high": tidy_percent(spread.high),
    })
}

const fn level_word(level: Level) -> &'static str {
    match level {
        Level::Note => "note",
        Level::Caution => "caution",
        Level::Breach => "breach",
    }
}

impl Report {
    /// The whole report as JSON.
    pub fn json(&self) -> String {
        print_json(self)
    }

    /// The findings alone as JSON.
    pub fn findings_json(&self) -> String {
        print_json(&serde_json::json!({
            "schema": self.schema,
            "formula": self.formula,
            "variant": self.variant,
            "findings": self.findings,
            "notice": self.notice,
        }))
    }

    /// The whole report as plain text.
    pub fn text(&self) -> String {
        let mut t = String::new();
        // Writing into a string does not fail.
        let _ = self.write_text(&mut t);
        t
    }

    /// The findings alone as plain text.
    pub fn findings_text(&self) -> String {
        let mut t = String::new();
        let _ = self.write_findings(&mut t);
        let _ = writeln!(t, "\n{}", self.notice);
        t
    }

    fn write_text(&self, t: &mut String) -> std::fmt::Result {
        writeln!(t, "{} · {}", self.formula, self.variant)?;
        let markets = if self.markets.is_empty() {
            "no market".to_owned()
        } else {
            self.markets.join(", ")
        };
        writeln!(t, "{} · {markets} · batch {} g", self.kind, self.batch_g)?;
        self.checked_as.write_text(t)?;
        writeln!(t)?;
        writeln!(t, "{:<4}{:<48}{:>12}{:>12}", "", "Material", "%", "g")?;
        for line in &self.lines {
            let mark = if line.filler {
                " q.s."
            } else if line.held {
                " held"
            } else {
                ""
            };
            let percent = Percent::nearest(line.percent).unwrap_or_default();
            writeln!(
                t,
                "{:<4}{:<48}{:>12}{:>12.2}{mark}{}",
                line.phase,
                short(&line.material, 47),
                percent.to_string(),
                line.grams,
                line.own_bounds()
            )?;
        }
        writeln!(
            t,
            "{:<52}{:>12}\n",
            "Total",
            Percent::nearest(self.total_percent)
                .unwrap_or_default()
                .to_string()
        )?;
        writeln!(
            t,
            "Water {:.2} % (added {:.2}, brought in {:.2})",
            self.water.total, self.water.added, self.water.from_materials
        )?;
        for from in &self.water.by_material {
            writeln!(
                t,
                "    {:<48}{:>12.3}",
                short(&from.material, 47),
                from.percent
            )?;
        }
        writeln!(
            t,
            "Surfactant active {:.2} % ({:.2} to {:.2}): anionic {:.2}, amphoteric {:.2}, non-ionic {:.2}, cationic {:.2}",
            self.actives.total,
            self.actives.low,
            self.actives.high,
            self.actives.anionic,
            self.actives.amphoteric,
            self.actives.non_ionic,
            self.actives.cationic
        )?;
        writeln!(
            t,
            "Solids {:.2} %, water and volatile solvents {:.2} %, unknown composition {:.2} %\n",
            self.solids_percent, self.volatile_percent, self.unknown_percent
        )?;
        writeln!(
            t,
            "{:<46}{:<14}{:>12}{:>12}{:>12}",
            "Constituent (INCI)", "CAS", "% typical", "low", "high"
        )?;
        for c in &self.constituents {
            writeln!(
                t,
                "{:<46}{:<14}{:>12.4}{:>12.4}{:>12.4}{}",
                short(&c.inci, 45),
                c.cas.as_deref().unwrap_or("unknown"),
                c.percent,
                c.low,
                c.high,
                c.views()
            )?;
        }
        writeln!(t)?;
        self.estimates.write_text(t)?;
        writeln!(t)?;
        self.write_findings(t)?;
        writeln!(t, "\n{}", self.notice)
    }

    fn write_findings(&self, t: &mut String) -> std::fmt::Result {
        if self.findings.is_empty() {
            return writeln!(t, "No finding.");
        }
        let mut heading = "";
        for f in &self.findings {
            let word = match f.level {
                "breach" => "BREACH",
                "caution" => "Caution",
                _ => "Note",
            };
            // Notes are told by subject, below what must be acted on.
            let under = match (f.set_aside, f.level) {
                (true, _) => "Read and set aside",
                (false, "note") => f.subject,
                (false, _) => "",
            };
            if under != heading {
                writeln!(t, "\n{under}")?;
                heading = under;
            }
            writeln!(t, "{word:<8} {}", f.message)?;
            writeln!(t, "         [{}] {}", f.rule, f.source)?;
            if let Some(remedy) = &f.remedy {
                writeln!(t, "         To do: {remedy}")?;
            }
        }
        Ok(())
    }
}

fn short(text: &str, width: usize) -> String {
    if text.chars().count() <= width {
        text.to_owned()
    } else {
        text.chars()
            .take(width - 1)
            .chain(std::iter::once('…'))
            .collect()
    }
}

fn print_json<T: Serialize>(value: &T) -> String {
    // Only a map with keys that are not text could fail, and there is none.
    writer::json(value).unwrap_or_default()
}
