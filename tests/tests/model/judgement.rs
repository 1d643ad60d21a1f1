//! What the checks say of many formulas: findings that must be there, findings that must not, and
//! estimates that must lie within what is known.

#![expect(
    clippy::expect_used,
    clippy::panic,
    reason = "a test that cannot read its own table shall fail"
)]

use std::collections::BTreeSet;

use formulation::evaluation::{Context, Evaluation, evaluate};
use formulation::file::table::{self, recipe};
use formulation::file::{formula_export, formula_table};
use formulation::finding::{Finding, Level};
use formulation::formula::{BodySite, Date, Formula, Kinds, Market, Variant};
use formulation::naming::Resolver;
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

/// A published value lies within a range that is shown, which says something.
fn lacks_published(evaluation: &Evaluation, expected: &Value) -> Option<String> {
    let name = expected["figure"].as_str().expect("a figure");
    let value = expected["published"].as_f64().expect("a number");
    assert!(expected["source"].is_string(), "no source: {expected}");
    let of = match name {
        "water activity" => &evaluation.estimates.water_activity,
        "density" => &evaluation.estimates.density,
        other => panic!("no range of {other}"),
    };
    let Some((low, high)) = of.low.zip(of.high) else {
        return Some(format!("no {name} is shown"));
    };
    let says_something = high - low < value;
    let holds = (low..=high).contains(&value);
    (!says_something || !holds)
        .then(|| format!("{name} is shown from {low} to {high}, {value} is published"))
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
    if expected.get("published").is_some() {
        return lacks_published(evaluation, expected);
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

/// The formula of a case, read as its maker would write it.
fn formula_of(case: &Value) -> Formula {
    let title = case["title"].as_str().expect("a title");
    let mut csv = String::new();
    for head in case["product"].as_array().expect("a product") {
        csv.push_str("# ");
        csv.push_str(head.as_str().expect("a line"));
        csv.push('\n');
    }
    csv.push_str("phase,material,percent,composition\n");
    for line in case["lines"].as_array().expect("lines") {
        csv.push_str(line.as_str().expect("a line"));
        csv.push('\n');
    }
    let read = formula_table::read(&csv, title, title, shelf::built_in());
    read.unwrap_or_else(|e| panic!("{title}: {e}")).formula
}

/// Level, rule and words of every finding.
fn told(formula: &Formula, variant: &Variant, context: &Context) -> Vec<(Level, String, String)> {
    let findings = evaluate(formula, variant, context).findings;
    let words = |f: &Finding| (f.level, f.rule.to_string(), f.message.clone());
    findings.iter().map(words).collect()
}

/// A product that goes out as a table and comes back is judged as before, whatever it is.
#[test]
fn what_is_exported_and_read_back_has_the_same_findings() {
    let context = Context::new(Date::constant(2026, 11, 25));
    let table = cases();
    let mut wrong = Vec::new();
    for case in table["cases"].as_array().expect("cases") {
        let formula = formula_of(case);
        let text = formula_export::csv(&formula, formula.active());
        let back = formula_table::read(&text, "back", "back", shelf::built_in());
        let back = match back {
            Ok(table) => table.formula,
            Err(e) => {
                wrong.push(format!("{}: {e}", case["title"]));
                continue;
            }
        };
        let before = told(&formula, formula.active(), &context);
        let after = told(&back, back.active(), &context);
        if before != after {
            let lost = before.iter().find(|f| !after.contains(f));
            let new = after.iter().find(|f| !before.contains(f));
            wrong.push(format!("{}: lost {lost:?}, new {new:?}", case["title"]));
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

/// The same by a spreadsheet, for every sixth formula with a pure substance: what its column
/// `composition` says comes back.
#[test]
fn pure_substances_come_back_from_a_spreadsheet() {
    let context = Context::new(Date::constant(2026, 11, 25));
    let resolver = Resolver::new(shelf::built_in());
    let table = cases();
    let all = table["cases"].as_array().expect("cases").iter();
    let pure = all.filter(|case| {
        let lines = case["lines"].as_array().expect("lines").iter();
        lines
            .filter_map(Value::as_str)
            .any(|line| line.ends_with(",pure"))
    });
    let (mut compared, mut wrong) = (0, Vec::new());
    for case in pure.step_by(6) {
        let formula = formula_of(case);
        let book = formula_export::xlsx(&formula).expect("a spreadsheet");
        let tables = table::read_bytes(&book).expect("sheets");
        let sheet = tables.first().expect("a sheet");
        let back = recipe::propose(sheet, "back", &recipe::RecipeSettings::default(), &resolver)
            .and_then(|proposal| proposal.accept(&resolver));
        let back = match back {
            Ok(accepted) => accepted.formula,
            Err(e) => {
                wrong.push(format!("{}: {e}", case["title"]));
                continue;
            }
        };
        compared += 1;
        let before = told(&formula, formula.active(), &context);
        let after = told(&back, back.active(), &context);
        if before != after {
            let lost = before.iter().find(|f| !after.contains(f));
            let new = after.iter().find(|f| !before.contains(f));
            wrong.push(format!("{}: lost {lost:?}, new {new:?}", case["title"]));
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
    assert!(compared > 30, "{compared}");
}

/// What is for one place, market or kind more is bound by what bound it before: no breach goes.
#[test]
fn one_place_market_or_kind_more_removes_no_breach() {
    let context = Context::new(Date::constant(2026, 11, 25));
    let table = cases();
    let breaches = |formula: &Formula, variant: &Variant| -> BTreeSet<String> {
        let findings = evaluate(formula, variant, &context).findings;
        let breach = findings.iter().filter(|f| f.level == Level::Breach);
        // What a graver finding on the same matter stands for is named with it.
        let rules =
            breach.flat_map(|f| std::iter::once(&f.rule).chain(f.also.iter().map(|a| &a.rule)));
        rules.map(ToString::to_string).collect()
    };
    let mut wrong = Vec::new();
    let mut widened = 0;
    for case in table["cases"].as_array().expect("cases") {
        let formula = formula_of(case);
        let before = breaches(&formula, formula.active());
        if before.is_empty() {
            continue;
        }
        let mut wider: Vec<Variant> = Vec::new();
        let product = &formula.active().product;
        // Without a place the law asks; a place then answers.
        if !product.places.is_empty() {
            for place in BodySite::ALL {
                let mut more = Variant::clone(formula.active());
                more.product.places.push(place);
                wider.push(more);
            }
        }
        for market in Market::ALL {
            if !product.markets.contains(&market) {
                let mut more = Variant::clone(formula.active());
                more.product.markets.push(market);
                wider.push(more);
            }
        }
        if product.kinds != Kinds::Both {
            let mut more = Variant::clone(formula.active());
            more.product.kinds = Kinds::Both;
            wider.push(more);
        }
        for more in wider {
            widened += 1;
            let after = breaches(&formula, &more);
            let gone: Vec<&String> = before.difference(&after).collect();
            if !gone.is_empty() {
                wrong.push(format!(
                    "{}: {gone:?} goes with {:?}",
                    case["title"], more.product
                ));
            }
        }
    }
    assert!(widened > 1000, "{widened}");
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

/// A caution of the law that asks the maker to state something opens the field for it.
#[test]
fn what_is_asked_for_is_one_click_away() {
    let context = Context::new(Date::constant(2026, 11, 25));
    let table = cases();
    let mut asked = 0;
    for case in table["cases"].as_array().expect("cases") {
        let formula = formula_of(case);
        for finding in evaluate(&formula, formula.active(), &context).findings {
            let words = ["; state ", "state what", "state the type", "state its type"];
            let asks = finding.counts() && words.iter().any(|w| finding.message.contains(w));
            if asks && finding.rule.starts_with("EU") {
                asked += 1;
                assert!(
                    finding.remedy.is_some(),
                    "{}: {} {}",
                    case["title"],
                    finding.rule,
                    finding.message
                );
            }
        }
    }
    assert!(asked > 20, "{asked}");
}

/// A source stands behind its finding, never in one of its own, and no finding is said twice.
#[test]
fn one_matter_is_one_finding_and_no_citation_is_one() {
    let context = Context::new(Date::constant(2026, 11, 25));
    let table = cases();
    for case in table["cases"].as_array().expect("cases") {
        let formula = formula_of(case);
        let findings = evaluate(&formula, formula.active(), &context).findings;
        for (i, finding) in findings.iter().enumerate() {
            let message = finding.message.trim();
            assert!(
                !message.starts_with("Source") && *message != *finding.source.text,
                "{}: {message}",
                case["title"]
            );
            let twin = findings.iter().skip(i + 1).find(|f| {
                f.rule == finding.rule && f.message == finding.message && f.lines == finding.lines
            });
            assert!(twin.is_none(), "{}: twice {message}", case["title"]);
        }
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
        let formula = formula_of(case);
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
