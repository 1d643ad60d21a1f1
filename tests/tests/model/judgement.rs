//! What the checks say of many formulas: findings that must be there, findings that must not, and
//! estimates that must lie within what is known.

#![expect(
    clippy::expect_used,
    clippy::panic,
    reason = "a test that cannot read its own table shall fail"
)]

use formulation::evaluation::{Context, Evaluation, evaluate};
use formulation::file::formula_table;
use formulation::finding::{Finding, Level};
use formulation::formula::{Date, Formula};
use formulation::shelf;
use serde_json::Value;

fn cases() -> Value {
    serde_json::from_str(include_str!("../../reference/judgement.json")).expect("JSON")
}

fn level(word: &Value) -> Level {
    let word = word.as_str().expect("a level");
    let of = |l: &Level| l.label().eq_ignore_ascii_case(word);
    Level::ALL.into_iter().find(of).expect(word)
}

/// Rule, message and materials of a finding, in small letters.
fn text(formula: &Formula, finding: &Finding, with_materials: bool) -> String {
    let mut text = format!("{} {}", finding.rule, finding.message);
    if with_materials {
        for id in &finding.lines {
            let line = formula.active().line(*id);
            let material = line.and_then(|l| formula.material(&l.material));
            if let Some(material) = material {
                text.push(' ');
                text.push_str(&material.name);
            }
        }
    }
    text.to_lowercase()
}

/// Whether one word of every list is in a text.
fn fits(text: &str, words: &Value) -> bool {
    words.as_array().expect("lists").iter().all(|list| {
        let words = list.as_array().expect("words");
        words
            .iter()
            .any(|w| text.contains(w.as_str().expect("a word")))
    })
}

fn figure(evaluation: &Evaluation, name: &str) -> Option<f64> {
    let of = &evaluation.estimates;
    match name {
        "ph.low" => of.ph.figure.low,
        "ph.high" => of.ph.figure.high,
        "water activity" => of.water_activity.shown(),
        "density" => of.density.shown(),
        "oil" => Some(of.emulsion.oil_percent),
        "hlb provided" => of.emulsion.provided.shown(),
        "natural origin high" => of.natural_origin.without_water.high,
        other => panic!("no figure {other}"),
    }
}

fn broken(formula: &Formula, evaluation: &Evaluation, expected: &Value) -> Option<String> {
    let findings = &evaluation.findings;
    let found = |least: Level, with_materials: bool| {
        findings.iter().find(|f| {
            f.level >= least && fits(&text(formula, f, with_materials), &expected["words"])
        })
    };
    if let Some(word) = expected.get("says") {
        return found(level(word), true)
            .is_none()
            .then(|| format!("nothing says {expected}"));
    }
    if let Some(most) = expected.get("at most") {
        let told: Vec<String> = (findings.iter().filter(|f| f.counts()))
            .map(|f| format!("{} {}", f.rule, f.message))
            .collect();
        let most = most.as_u64().expect("a number") as usize;
        return (told.len() > most).then(|| format!("more than {most}: {}", told.join(" || ")));
    }
    if let Some(word) = expected.get("silent") {
        return found(level(word), false).map(|f| format!("{expected}: {} {}", f.rule, f.message));
    }
    let name = expected["figure"].as_str().expect("a figure");
    let (least, most) = (expected["least"].as_f64()?, expected["most"].as_f64()?);
    match figure(evaluation, name) {
        Some(value) => (value < least || value > most)
            .then(|| format!("{name} is {value}, not {least} to {most}")),
        None => expected["known"]
            .as_bool()
            .is_some_and(|known| known)
            .then(|| format!("{name} is not known")),
    }
}

#[test]
fn the_checks_say_what_an_expert_would() {
    let context = Context::new(Date::constant(2026, 11, 25));
    let table = cases();
    let mut wrong = Vec::new();
    let mut count = 0;
    for case in table["cases"].as_array().expect("cases") {
        let title = case["title"].as_str().expect("a title");
        let source = &table["sources"][case["class"].as_str().expect("a class")];
        assert!(source.is_string(), "{title} has no source");
        let mut csv = String::new();
        for head in case["product"].as_array().expect("a product") {
            csv.push_str("# ");
            csv.push_str(head.as_str().unwrap());
            csv.push('\n');
        }
        csv.push_str("phase,material,percent,composition\n");
        for line in case["lines"].as_array().expect("lines") {
            csv.push_str(line.as_str().unwrap());
            csv.push('\n');
        }
        let read = formula_table::read(&csv, title, title, shelf::built_in());
        let formula = read.unwrap_or_else(|e| panic!("{title}: {e}")).formula;
        let evaluation = evaluate(&formula, formula.active(), &context);
        for expected in case["expect"].as_array().expect("expectations") {
            count += 1;
            if let Some(what) = broken(&formula, &evaluation, expected) {
                wrong.push(format!("{title}: {what}"));
            }
        }
    }
    assert!(count > 300, "{count}");
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}
