//! A label as JSON and as plain text with its grounds.

use std::fmt::Write as _;

use serde::Serialize;

use crate::amount::measure::tidy;
use crate::label::{CAUTION, Holds, Label, list_ground};
use crate::notation::writer;
use crate::quantity::Spread;

/// The form of the JSON; counts up when a field changes its meaning or goes.
pub const VERSION: u32 = 1;

#[derive(Serialize)]
struct LabelJson<'a> {
    version: u32,
    market: &'static str,
    caution: &'static str,
    ingredients: Vec<IngredientJson<'a>>,
    ingredient_list: String,
    may_contain: &'a [String],
    not_listed: Vec<NotListedJson<'a>>,
    sections: Vec<SectionJson<'a>>,
    missing: Vec<MissingJson<'a>>,
    breaches: Vec<BreachJson<'a>>,
    advice: Vec<AdviceJson<'a>>,
    remarks: &'a [String],
    claims: Vec<ClaimJson<'a>>,
}

#[derive(Serialize)]
struct IngredientJson<'a> {
    name: &'a str,
    inci: &'a str,
    percent: f64,
    low: f64,
    high: f64,
    order: &'static str,
    lines: Vec<u64>,
}

#[derive(Serialize)]
struct NotListedJson<'a> {
    inci: &'a str,
    percent: f64,
    low: f64,
    high: f64,
    reason: &'a str,
    by_maker: bool,
}

#[derive(Serialize)]
struct SectionJson<'a> {
    title: &'static str,
    text: &'a str,
    ground: &'a str,
}

#[derive(Serialize)]
struct MissingJson<'a> {
    what: &'a str,
    ground: &'a str,
    required: bool,
}

#[derive(Serialize)]
struct BreachJson<'a> {
    rule: &'a str,
    message: &'a str,
    ground: &'a str,
}

#[derive(Serialize)]
struct AdviceJson<'a> {
    text: &'a str,
    ground: &'a str,
}

#[derive(Serialize)]
struct ClaimJson<'a> {
    fact: &'a str,
    /// `yes`, `no` or `unknown`.
    holds: &'static str,
    against: &'a [String],
    ground: &'a str,
}

/// Percentages are given to 0.000001 %, the step of a formula's percentages.
fn percents(share: Spread) -> (f64, f64, f64) {
    let round = |p: f64| tidy(p, 6);
    (
        round(share.typical.as_percent()),
        round(share.low.as_percent()),
        round(share.high.as_percent()),
    )
}

/// The label as JSON.
pub fn json(label: &Label) -> serde_json::Result<String> {
    let list = &label.ingredients;
    writer::json(&LabelJson {
        version: VERSION,
        market: label.market.label(),
        caution: CAUTION,
        ingredients: list
            .ingredients
            .iter()
            .map(|i| {
                let (percent, low, high) = percents(i.share);
                IngredientJson {
                    name: &i.name,
                    inci: i.inci.spelling(),
                    percent,
                    low,
                    high,
                    order: i.part.label(),
                    lines: i.lines.iter().map(|l| l.0).collect(),
                }
            })
            .collect(),
        ingredient_list: list.text(),
        may_contain: &list.may_contain,
        not_listed: list
            .not_listed
            .iter()
            .map(|n| {
                let (percent, low, high) = percents(n.share);
                NotListedJson {
                    inci: n.inci.spelling(),
                    percent,
                    low,
                    high,
                    reason: &n.reason,
                    by_maker: n.by_maker,
                }
            })
            .collect(),
        sections: label
            .sections
            .iter()
            .map(|s| SectionJson {
                title: s.kind.title(),
                text: &s.text,
                ground: &s.ground,
            })
            .collect(),
        missing: label
            .missing
            .iter()
            .map(|m| MissingJson {
                what: &m.what,
                ground: &m.ground,
                required: m.required,
            })
            .collect(),
        breaches: label
            .breaches
            .iter()
            .map(|b| BreachJson {
                rule: &b.rule,
                message: &b.message,
                ground: &b.source.text,
            })
            .collect(),
        advice: label
            .advice
            .iter()
            .map(|a| AdviceJson {
                text: &a.text,
                ground: &a.ground,
            })
            .collect(),
        remarks: &list.remarks,
        claims: label
            .claims
            .iter()
            .map(|c| {
                let (holds, against): (_, &[String]) = match &c.holds {
                    Holds::Yes => ("yes", &[]),
                    Holds::No(against) => ("no", against),
                    Holds::Unknown(_) => ("unknown", &[]),
                };
                ClaimJson {
                    fact: &c.fact,
                    holds,
                    against,
                    ground: &c.ground,
                }
            })
            .collect(),
    })
}

/// The label as plain text: first what is printed, then what is missing, not listed and
/// to be minded, then the facts.
pub fn text(label: &Label) -> String {
    let mut out = String::new();
    let list = &label.ingredients;
    let _ = writeln!(out, "Label for {}", label.market.label());
    let _ = writeln!(out, "{CAUTION}\n");
    if let Some(notice) = label.not_for_sale() {
        let _ = writeln!(out, "{notice}");
        for breach in &label.breaches {
            let ground = &breach.source.text;
            let _ = match breach.cited() {
                Some(rule) => writeln!(out, "  - {} [{rule}: {ground}]", breach.message),
                None => writeln!(out, "  - {} [{ground}]", breach.message),
            };
        }
        out.push('\n');
    }
    for section in &label.sections {
        let _ = writeln!(
            out,
            "{}: {}\n    [{}]",
            section.kind.title(),
            section.text.replace('\n', ", "),
            section.ground
        );
    }
    let _ = writeln!(
        out,
        "Ingredients: {}\n    [{}]",
        list.text(),
        list_ground(label.market)
    );
    let mut part = |title: &str, lines: Vec<String>| {
        if !lines.is_empty() {
            let _ = writeln!(out, "\n{title}");
            for line in lines {
                let _ = writeln!(out, "  - {line}");
            }
        }
    };
    part(
        "Missing",
        label
            .missing
            .iter()
            .map(|m| {
                let how = if m.required { "required" } else { "advised" };
                format!("{} [{how}; {}]", m.what, m.ground)
            })
            .collect(),
    );
    part("About the list", list.remarks.clone());
    part(
        "Not listed",
        list.not_listed
            .iter()
            .map(|n| {
                let by = if n.by_maker {
                    "left off by the maker: "
                } else {
                    ""
                };
                format!(
                    "{} {:.4} %: {by}{}",
                    n.inci,
                    n.share.typical.as_percent(),
                    n.reason
                )
            })
            .collect(),
    );
    part(
        "To mind",
        label
            .advice
            .iter()
            .map(|a| format!("{} [{}]", a.text, a.ground))
            .collect(),
    );
    part(
        "Facts, as computed from the declared constituents",
        label
            .claims
            .iter()
            .map(|c| format!("{} [{}]", c.words(), c.ground))
            .collect(),
    );
    out
}
