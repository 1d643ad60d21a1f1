//! The weigh sheet as JSON, CSV and HTML, and the recipe as Markdown for publishing.

use std::fmt::Write as _;

use serde::Serialize;

use super::number::celsius_decimal;
use crate::batch::mass::{ExactMass, MassUnit, digits};
use crate::batch::precaution::{Caution, CautionKind};
use crate::batch::premix::Premix;
use crate::batch::weigh_sheet::{Entry, NOTICE, WeighSheet, Weighing, cool_words, step_facts};
use crate::cost::CostSheet;
use crate::harmless;
use crate::quantity::{MassFraction, in_grams, in_kg_per_m3, in_millilitres};

/// Version of the JSON schema; raised when a field changes its meaning or goes.
pub const SCHEMA: u32 = 1;

#[derive(Serialize)]
struct SheetJson<'a> {
    schema: u32,
    program: &'static str,
    version: &'static str,
    formula: &'a str,
    variant: &'a str,
    state: &'a str,
    #[serde(skip_serializing_if = "<[String]>::is_empty")]
    not_for_sale: &'a [String],
    #[serde(skip_serializing_if = "<[_]>::is_empty")]
    readings: &'a [(String, String)],
    batch_g: f64,
    working: &'a [String],
    #[serde(skip_serializing_if = "Option::is_none")]
    density: Option<DensityJson<'a>>,
    #[serde(skip_serializing_if = "Option::is_none")]
    volume_ml: Option<f64>,
    #[serde(skip_serializing_if = "Option::is_none")]
    filling: Option<FillingJson>,
    evaporation_g: f64,
    transfer_loss_g: f64,
    #[serde(skip_serializing_if = "Option::is_none")]
    fits_vessel: Option<bool>,
    scales: Vec<ScaleJson<'a>>,
    phases: Vec<PhaseJson<'a>>,
    checks: Vec<CheckJson<'a>>,
    #[serde(skip_serializing_if = "Option::is_none")]
    target_ph: Option<f64>,
    #[serde(skip_serializing_if = "Option::is_none")]
    cost: Option<CostJson>,
    notice: &'static str,
}

#[derive(Serialize)]
struct DensityJson<'a> {
    g_per_ml: f64,
    basis: &'static str,
    source: &'a str,
}

#[derive(Serialize)]
struct FillingJson {
    containers: u32,
    contents_ml: f64,
    mass_each_g: f64,
    mass_g: f64,
}

#[derive(Serialize)]
struct ScaleJson<'a> {
    name: &'a str,
    resolution_g: f64,
    #[serde(skip_serializing_if = "Option::is_none")]
    capacity_g: Option<f64>,
}

#[derive(Serialize)]
struct PhaseJson<'a> {
    letter: &'a str,
    kind: &'static str,
    purpose: &'a str,
    #[serde(skip_serializing_if = "Option::is_none")]
    temperature_c: Option<f64>,
    mass_g: f64,
    entries: Vec<EntryJson<'a>>,
}

#[derive(Serialize)]
#[serde(tag = "do", rename_all = "snake_case")]
enum EntryJson<'a> {
    Weigh {
        line: u64,
        material: &'a str,
        inci: &'a str,
        percent: f64,
        exact_g: f64,
        mass_g: f64,
        tolerance_g: f64,
        rounding_error_percent: f64,
        scale: &'a str,
        portions: u32,
        why: &'a str,
        lots: Vec<LotJson>,
        #[serde(skip_serializing_if = "Option::is_none")]
        stock_lacks_g: Option<f64>,
        #[serde(skip_serializing_if = "Option::is_none")]
        too_small: Option<TooSmallJson<'a>>,
        cautions: Vec<CautionJson<'a>>,
    },
    Work {
        text: &'a str,
        #[serde(skip_serializing_if = "Option::is_none")]
        temperature_c: Option<f64>,
        #[serde(skip_serializing_if = "Option::is_none")]
        minutes: Option<u32>,
        tool: &'a str,
        check: &'a str,
        cautions: Vec<CautionJson<'a>>,
    },
    Cool {
        below_c: f64,
        because: &'a str,
    },
}

#[derive(Serialize)]
struct LotJson {
    lot: String,
    mass_g: f64,
}

#[derive(Serialize)]
struct TooSmallJson<'a> {
    least_g: f64,
    reading_error_percent: f64,
    step_needed_g: f64,
    batch_needed_g: f64,
    #[serde(skip_serializing_if = "Option::is_none")]
    premix: Option<PremixJson<'a>>,
}

#[derive(Serialize)]
struct PremixJson<'a> {
    carrier: &'a str,
    one_in: u32,
    weigh_g: f64,
    weigh_carrier_g: f64,
    take_g: f64,
    carrier_less_g: f64,
    left_over_g: f64,
}

#[derive(Serialize)]
struct CautionJson<'a> {
    kind: &'static str,
    text: &'a str,
}

#[derive(Serialize)]
struct CheckJson<'a> {
    what: &'a str,
    acceptable: &'a str,
}

#[derive(Serialize)]
struct CostJson {
    currency: String,
    known: String,
    complete: bool,
    #[serde(skip_serializing_if = "Option::is_none")]
    per_kilogram: Option<String>,
    #[serde(skip_serializing_if = "Option::is_none")]
    per_container: Option<String>,
    lines: Vec<CostLineJson>,
    unknown: Vec<UnpricedJson>,
}

#[derive(Serialize)]
struct CostLineJson {
    name: String,
    #[serde(skip_serializing_if = "Option::is_none")]
    cost: Option<String>,
}

#[derive(Serialize)]
struct UnpricedJson {
    name: String,
    why: String,
}

fn caution_rows(cautions: &[Caution]) -> Vec<CautionJson<'_>> {
    cautions
        .iter()
        .map(|c| CautionJson {
            kind: c.kind.label(),
            text: &c.text,
        })
        .collect()
}

/// A share in percent with the digits that mean something.
fn percent(share: MassFraction) -> f64 {
    (share.as_percent() * 1e6).round() / 1e6
}

fn premix_json(premix: &Premix) -> PremixJson<'_> {
    PremixJson {
        carrier: &premix.carrier,
        one_in: premix.times,
        weigh_g: premix.weigh.as_grams(),
        weigh_carrier_g: premix.weigh_carrier.as_grams(),
        take_g: premix.take.as_grams(),
        carrier_less_g: premix.carrier_less.as_grams(),
        left_over_g: premix.left_over.as_grams(),
    }
}

fn entry_json(entry: &Entry) -> EntryJson<'_> {
    match entry {
        Entry::Weigh(w) => {
            let planned = &w.planned;
            EntryJson::Weigh {
                line: planned.line.0,
                material: &planned.name,
                inci: &w.inci,
                percent: planned.percent.as_percent(),
                exact_g: planned.exact.as_grams(),
                mass_g: planned.mass.as_grams(),
                tolerance_g: planned.tolerance.as_grams(),
                rounding_error_percent: percent(planned.rounding_error),
                scale: &w.scale,
                portions: planned.portions,
                why: &w.why,
                lots: w
                    .lots
                    .iter()
                    .map(|(lot, mass)| LotJson {
                        lot: lot.to_string(),
                        mass_g: mass.as_grams(),
                    })
                    .collect(),
                stock_lacks_g: w.short.map(ExactMass::as_grams),
                too_small: planned.too_small.as_ref().map(|t| TooSmallJson {
                    least_g: t.least.as_grams(),
                    reading_error_percent: percent(t.reading_error),
                    step_needed_g: t.step_needed.as_grams(),
                    batch_needed_g: t.batch_needed.as_grams(),
                    premix: t.premix.as_ref().map(premix_json),
                }),
                cautions: caution_rows(&w.cautions),
            }
        }
        Entry::Work { step, cautions } => EntryJson::Work {
            text: &step.text,
            temperature_c: step.temperature.map(celsius_decimal),
            minutes: step.minutes,
            tool: &step.tool,
            check: &step.check,
            cautions: caution_rows(cautions),
        },
        Entry::Cool { below, because } => EntryJson::Cool {
            below_c: celsius_decimal(*below),
            because,
        },
    }
}

fn cost_json(cost: &CostSheet) -> CostJson {
    CostJson {
        currency: cost.currency.to_string(),
        known: cost.known.to_string(),
        complete: cost.complete(),
        per_kilogram: cost.per_kilogram().map(|c| c.to_string()),
        per_container: cost.per_container().map(|c| c.to_string()),
        lines: cost
            .lines
            .iter()
            .map(|l| CostLineJson {
                name: l.name.to_string(),
                cost: l.cost.as_ref().ok().map(ToString::to_string),
            })
            .collect(),
        unknown: cost
            .unknown()
            .map(|(l, why)| UnpricedJson {
                name: l.name.to_string(),
                why: why.to_string(),
            })
            .collect(),
    }
}

/// The weigh sheet as JSON, with the cost of the batch if one was computed. Masses are in
/// grams; money is written as text, exactly.
pub fn json(sheet: &WeighSheet, cost: Option<&CostSheet>) -> String {
    let sized = &sheet.plan.sized;
    let round = |v: f64| (v * 1e6).round() / 1e6;
    let view = SheetJson {
        schema: SCHEMA,
        program: "phasewright",
        version: env!("CARGO_PKG_VERSION"),
        formula: &sheet.formula,
        variant: &sheet.variant,
        state: &sheet.state,
        not_for_sale: &sheet.heading.breaches,
        readings: &sheet.heading.readings,
        batch_g: sized.batch.as_grams(),
        working: &sized.working,
        density: sized.density.as_ref().map(|d| DensityJson {
            g_per_ml: round(in_kg_per_m3(d.value) / 1000.0),
            basis: d.source.basis.label(),
            source: &d.source.text,
        }),
        volume_ml: sized.volume.map(|v| round(in_millilitres(v))),
        filling: sheet.filling.map(|f| FillingJson {
            containers: f.count,
            contents_ml: round(in_millilitres(f.contents)),
            mass_each_g: round(in_grams(f.mass_each)),
            mass_g: round(in_grams(f.mass)),
        }),
        evaporation_g: sized.evaporation.as_grams(),
        transfer_loss_g: sized.transfer_loss.as_grams(),
        fits_vessel: sized.fits_vessel(),
        scales: sheet
            .plan
            .scales
            .iter()
            .map(|s| ScaleJson {
                name: s.name(),
                resolution_g: s.resolution().as_grams(),
                capacity_g: s.capacity().map(ExactMass::as_grams),
            })
            .collect(),
        phases: sheet
            .phases
            .iter()
            .map(|p| PhaseJson {
                letter: &p.letter,
                kind: p.kind.label(),
                purpose: &p.purpose,
                temperature_c: p.temperature.map(celsius_decimal),
                mass_g: p.mass.as_grams(),
                entries: p.entries.iter().map(entry_json).collect(),
            })
            .collect(),
        checks: sheet
            .checks
            .iter()
            .map(|c| CheckJson {
                what: &c.what,
                acceptable: &c.accept,
            })
            .collect(),
        target_ph: sheet.target_ph.map(crate::quantity::Ph::value),
        cost: cost.map(cost_json),
        notice: NOTICE,
    };
    // Plain structs of numbers and texts always turn into JSON.
    serde_json::to_string_pretty(&view).unwrap_or_default()
}

/// One row of the weigh sheet as CSV.
#[derive(Default, Serialize)]
struct Row<'a> {
    number: usize,
    phase: &'a str,
    #[serde(rename = "do")]
    act: &'static str,
    what: &'a str,
    inci: &'a str,
    percent: String,
    to_weigh: String,
    tolerance: String,
    unit: &'static str,
    scale: &'a str,
    lot_proposed: String,
    lot_used: &'static str,
    weighed: &'static str,
    temperature_c: Option<f64>,
    minutes: Option<u32>,
    tool: &'a str,
    check: &'a str,
    cautions: String,
}

/// The weigh sheet as CSV: one row for everything to weigh or to do, in working order,
/// with empty columns for lot and actual weight.
pub fn csv(sheet: &WeighSheet) -> Result<String, csv::Error> {
    let unit = sheet.heading.unit;
    let join = |cautions: &[Caution]| {
        let words: Vec<String> = cautions.iter().map(ToString::to_string).collect();
        words.join(" | ")
    };
    let number_of = |mass: ExactMass, resolution: ExactMass| {
        let digits = digits(resolution, unit);
        format!("{:.*}", digits as usize, mass.in_unit(unit, digits))
    };
    let stops = sheet.heading.breaches.iter().map(|breach| Row {
        act: "not for sale",
        what: breach,
        ..Row::default()
    });
    let entries = sheet
        .phases
        .iter()
        .flat_map(|p| p.entries.iter().map(move |e| (p, e)))
        .map(|(phase, entry)| {
            let row = match entry {
                Entry::Weigh(w) => Row {
                    act: "weigh",
                    what: &w.planned.name,
                    inci: &w.inci,
                    percent: w.planned.percent.to_string(),
                    to_weigh: number_of(w.planned.mass, w.resolution),
                    tolerance: number_of(w.planned.tolerance, w.resolution),
                    unit: unit.symbol(),
                    scale: &w.scale,
                    lot_proposed: lot_words(sheet, w),
                    cautions: join(&w.cautions),
                    ..Row::default()
                },
                Entry::Work { step, cautions } => Row {
                    act: "work",
                    what: &step.text,
                    temperature_c: step.temperature.map(celsius_decimal),
                    minutes: step.minutes,
                    tool: &step.tool,
                    check: &step.check,
                    cautions: join(cautions),
                    ..Row::default()
                },
                Entry::Cool { below, because } => Row {
                    act: "cool",
                    what: because,
                    temperature_c: Some(celsius_decimal(*below)),
                    ..Row::default()
                },
            };
            Row {
                phase: &phase.letter,
                ..row
            }
        });
    let checks = sheet.checks.iter().map(|check| Row {
        act: "check",
        what: &check.what,
        check: &check.accept,
        ..Row::default()
    });
    let mut writer = csv::Writer::from_writer(Vec::new());
    for (i, row) in stops.chain(entries).chain(checks).enumerate() {
        writer.serialize(Row {
            number: i + 1,
            ..row
        })?;
    }
    harmless::csv(writer)
}

fn lot_words(sheet: &WeighSheet, w: &Weighing) -> String {
    match w.lots.as_slice() {
        [(lot, _)] => lot.to_string(),
        lots => lots
            .iter()
            .map(|(lot, mass)| format!("{lot}: {}", sheet.shown(*mass, w.resolution)))
            .collect::<Vec<_>>()
            .join("; "),
    }
}

/// The weigh sheet as plain text for a terminal, with the cost of the batch if one was
/// computed.
pub fn text(sheet: &WeighSheet, cost: Option<&CostSheet>) -> String {
    let mut t = String::new();
    // Writing into a string does not fail.
    let _ = write_text(&mut t, sheet);
    if let Some(cost) = cost {
        let _ = write_cost(&mut t, cost);
    }
    let _ = writeln!(t, "\n{NOTICE}");
    t
}

fn write_text(t: &mut String, sheet: &WeighSheet) -> std::fmt::Result {
    writeln!(
        t,
        "{} · {} · {}",
        sheet.formula, sheet.variant, sheet.product
    )?;
    if let Some(notice) = sheet.trial_notice() {
        writeln!(t, "! {notice}")?;
        for breach in &sheet.heading.breaches {
            writeln!(t, "  Breach: {breach}")?;
        }
    }
    writeln!(t, "  formula state {}", sheet.state)?;
    for line in &sheet.plan.sized.working {
        writeln!(t, "  {line}")?;
    }
    if let Some(caution) = sheet.plan.sized.vessel_caution() {
        writeln!(t, "  Caution: {caution}")?;
    }
    let mut number = 0;
    for phase in &sheet.phases {
        writeln!(
            t,
            "\nPhase {} · {} · {}",
            phase.letter,
            phase.words(),
            sheet.shown(phase.mass, sheet.finest())
        )?;
        for entry in &phase.entries {
            number += 1;
            match entry {
                Entry::Weigh(w) => {
                    writeln!(
                        t,
                        "{number:>3}  {:<44} {:>10} % {:>14}  ± {}  {}",
                        shortened(&w.planned.name, 44),
                        w.planned.percent.to_string(),
                        sheet.shown(w.planned.mass, w.resolution),
                        sheet.shown(w.planned.tolerance, w.resolution),
                        [w.scale.to_string(), lot_words(sheet, w)]
                            .join("  ")
                            .trim_end()
                    )?;
                    if let Some(lacks) = sheet.stock_caution(w) {
                        writeln!(t, "       {lacks}")?;
                    }
                    for caution in &w.cautions {
                        writeln!(t, "       {caution}")?;
                    }
                }
                Entry::Work { step, cautions } => {
                    let all: Vec<String> = [step.text.to_string()]
                        .into_iter()
                        .chain(step_facts(step))
                        .collect();
                    writeln!(t, "{number:>3}  {}", all.join(", "))?;
                    if !step.check.is_empty() {
                        writeln!(t, "       Check: {}", step.check)?;
                    }
                    for caution in cautions {
                        writeln!(t, "       {caution}")?;
                    }
                }
                Entry::Cool { below, because } => {
                    writeln!(t, "{number:>3}  {}: {because}", cool_words(*below))?;
                }
            }
        }
    }
    writeln!(
        t,
        "\nBatch in all {}",
        sheet.shown(sheet.plan.sized.batch, sheet.finest())
    )?;
    writeln!(t, "\nChecks")?;
    for check in &sheet.checks {
        let accept = if check.accept.is_empty() {
            String::new()
        } else {
            format!(": {}", check.accept)
        };
        writeln!(t, "  {}{accept}", check.what)?;
    }
    if !sheet.heading.readings.is_empty() {
        writeln!(t, "\n{MEASURED}")?;
        for (what, value) in &sheet.heading.readings {
            writeln!(t, "  {what}: {value}")?;
        }
    }
    Ok(())
}

fn write_cost(t: &mut String, cost: &CostSheet) -> std::fmt::Result {
    writeln!(t, "\nCost of the batch: {cost}")?;
    let least = if cost.complete() { "" } else { " at least" };
    if let Some(c) = cost.per_kilogram() {
        writeln!(t, "  per kilogram{least} {c} {}", cost.currency)?;
    }
    if let Some(c) = cost.per_container() {
        writeln!(t, "  per container{least} {c} {}", cost.currency)?;
    }
    for (line, share) in cost.drivers().into_iter().take(5) {
        writeln!(t, "  {share:>6} %  {}", line.name)?;
    }
    for (line, why) in cost.unknown() {
        writeln!(t, "  not counted: {}, {why}", line.name)?;
    }
    Ok(())
}

fn shortened(text: &str, most: usize) -> String {
    if text.chars().count() <= most {
        return text.to_owned();
    }
    let kept: String = text.chars().take(most - 1).collect();
    format!("{kept}…")
}

/// A text with the characters that mean something in HTML written out.
fn escaped(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for c in harmless::visible(text).chars() {
        match c {
            '&' => out.push_str("&amp;"),
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            '"' => out.push_str("&quot;"),
            '\'' => out.push_str("&#39;"),
            c => out.push(c),
        }
    }
    out
}

const STYLE: &str = "body{font:15px/1.4 system-ui,sans-serif;color:#1d2421;max-width:60rem;margin:2rem auto;padding:0 1rem}\
h1{font-size:1.6rem;margin:0}h2{font-size:1.1rem;border-bottom:1px solid #444;margin:1.6rem 0 .4rem}\
table{border-collapse:collapse;width:100%}td,th{text-align:left;vertical-align:top;padding:.3rem .5rem;border-bottom:1px solid #ccc}\
td.n,th.n{text-align:right;white-space:nowrap}.q{color:#4a544f;font-size:.86em}.c{font-weight:600;font-size:.9em}\
.f{display:inline-block;min-width:6rem;border-bottom:1px solid #888}input[type=checkbox]{width:1.1rem;height:1.1rem}\
@media print{body{margin:0;max-width:none}tr{break-inside:avoid}h2{break-after:avoid}}";

/// The weigh sheet as a page of HTML that needs nothing else and prints well.
pub fn html(sheet: &WeighSheet) -> String {
    let mut t = String::new();
    // Writing into a string does not fail.
    let _ = write_html(&mut t, sheet);
    t
}

fn write_html(t: &mut String, sheet: &WeighSheet) -> std::fmt::Result {
    let e = escaped;
    let sized = &sheet.plan.sized;
    writeln!(
        t,
        "<!doctype html>\n<html lang=\"en\"><head><meta charset=\"utf-8\"><meta name=\"viewport\" content=\"width=device-width\"><title>Weigh sheet: {}</title><style>{STYLE}</style></head><body>",
        e(&sheet.formula)
    )?;
    writeln!(
        t,
        "<h1>{}</h1><p class=\"q\">{} · {}</p>",
        e(&sheet.formula),
        e(&sheet.variant),
        sheet.product
    )?;
    if let Some(notice) = sheet.trial_notice() {
        writeln!(t, "<p><strong>{}</strong></p><ul>", e(notice))?;
        for breach in &sheet.heading.breaches {
            writeln!(t, "<li>{}</li>", e(breach))?;
        }
        writeln!(t, "</ul>")?;
    }
    let code = sheet
        .heading
        .code
        .as_ref()
        .map_or_else(|| FIELD.to_owned(), |c| e(c.as_str()));
    let day = sheet
        .heading
        .day
        .map_or_else(|| FIELD.to_owned(), |d| d.to_string());
    writeln!(
        t,
        "<p>Formula state {} · batch code {code} · day {day} · made by {FIELD} · checked by {FIELD}</p>",
        e(&sheet.state)
    )?;
    writeln!(
        t,
        "<p>Batch <strong>{}</strong></p>",
        sheet.shown(sized.batch, sheet.finest())
    )?;
    for line in &sized.working {
        writeln!(t, "<p class=\"q\">{}</p>", e(line))?;
    }
    if let Some(caution) = sized.vessel_caution() {
        writeln!(t, "<p class=\"c\">Caution: {}</p>", e(&caution))?;
    }
    writeln!(t, "<h2>Before you begin</h2><table>")?;
    for item in &sheet.before {
        writeln!(t, "<tr><td>{TICK}</td><td>{}</td></tr>", e(item))?;
    }
    writeln!(t, "</table>")?;
    let mut number = 0;
    for phase in &sheet.phases {
        writeln!(t, "<h2>Phase {} · {}</h2>", e(&phase.letter), phase.words())?;
        if !phase.purpose.is_empty() {
            writeln!(t, "<p class=\"q\">{}</p>", e(&phase.purpose))?;
        }
        writeln!(
            t,
            "<table><tr><th></th><th></th><th>What</th><th class=\"n\">% w/w</th><th class=\"n\">To weigh</th><th>Lot</th><th>Weighed or read</th></tr>"
        )?;
        for entry in &phase.entries {
            number += 1;
            write!(t, "<tr><td>{TICK}</td><td class=\"q\">{number}</td>")?;
            match entry {
                Entry::Weigh(w) => {
                    let lots = if w.lots.is_empty() {
                        FIELD.to_owned()
                    } else {
                        e(&lot_words(sheet, w))
                    };
                    write!(
                        t,
                        "<td><strong>{}</strong><br><span class=\"q\">{}</span>{}</td><td class=\"n\">{}</td><td class=\"n\"><strong>{}</strong><br><span class=\"q\">± {} · {}</span></td><td>{lots}</td><td>{FIELD}</td>",
                        e(&w.planned.name),
                        e(&w.inci),
                        cautions_html(sheet.stock_caution(w).into_iter().chain(words(&w.cautions))),
                        w.planned.percent,
                        sheet.shown(w.planned.mass, w.resolution),
                        sheet.shown(w.planned.tolerance, w.resolution),
                        e(&w.scale),
                    )?;
                }
                Entry::Work { step, cautions } => {
                    let mut facts: Vec<String> = step_facts(step).iter().map(|f| e(f)).collect();
                    if !step.check.is_empty() {
                        facts.push(format!("check: {}", e(&step.check)));
                    }
                    write!(
                        t,
                        "<td colspan=\"4\">{}<br><span class=\"q\">{}</span>{}</td><td>{FIELD}</td>",
                        e(&step.text),
                        facts.join(" · "),
                        cautions_html(words(cautions))
                    )?;
                }
                Entry::Cool { below, because } => {
                    write!(
                        t,
                        "<td colspan=\"4\"><strong>{}</strong><br><span class=\"q\">{}</span></td><td>{FIELD}</td>",
                        cool_words(*below),
                        e(because)
                    )?;
                }
            }
            writeln!(t, "</tr>")?;
        }
        writeln!(t, "</table>")?;
    }
    writeln!(
        t,
        "<h2>Checks</h2><table><tr><th></th><th>What</th><th>Acceptable</th><th>Found</th></tr>"
    )?;
    for check in &sheet.checks {
        writeln!(
            t,
            "<tr><td>{TICK}</td><td>{}</td><td>{}</td><td>{FIELD}</td></tr>",
            e(&check.what),
            e(&check.accept)
        )?;
    }
    writeln!(t, "</table>")?;
    if !sheet.heading.readings.is_empty() {
        writeln!(t, "<h2>{MEASURED}</h2><table>")?;
        for (what, value) in &sheet.heading.readings {
            writeln!(t, "<tr><td>{}</td><td>{}</td></tr>", e(what), e(value))?;
        }
        writeln!(t, "</table>")?;
    }
    writeln!(t, "<h2>Yield, remarks, decision</h2>")?;
    writeln!(
        t,
        "<p>Filled {FIELD} · samples {FIELD} · waste {FIELD} · remarks {FIELD}{FIELD}</p><p>{TICK} released {TICK} on hold {TICK} rejected, reason {FIELD}{FIELD} · responsible person {FIELD}</p>"
    )?;
    writeln!(t, "<p class=\"q\">{}</p></body></html>", e(NOTICE))
}

/// Heads the readings that go with a recipe.
const MEASURED: &str = "Measured on trials of exactly this composition";

const FIELD: &str = "<span class=\"f\">&nbsp;</span>";
const TICK: &str = "<input type=\"checkbox\" aria-label=\"done\">";

fn words(cautions: &[Caution]) -> impl Iterator<Item = String> {
    cautions.iter().map(ToString::to_string)
}

fn cautions_html(cautions: impl Iterator<Item = String>) -> String {
    let rows: Vec<String> = cautions
        .map(|c| format!("<br><span class=\"c\">{}</span>", escaped(&c)))
        .collect();
    rows.concat()
}

/// A text with the characters that mean something in Markdown escaped.
fn plain(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for c in text.chars() {
        if matches!(
            c,
            '\\' | '`' | '*' | '_' | '[' | ']' | '<' | '>' | '#' | '|' | '~'
        ) {
            out.push('\\');
        }
        out.push(if c == '\n' { ' ' } else { c });
    }
    out
}

/// The recipe as Markdown, to publish: ingredients by phase with percentages and masses,
/// why each is there, the steps, and the cautions.
pub fn markdown(sheet: &WeighSheet) -> String {
    let mut t = String::new();
    // Writing into a string does not fail.
    let _ = write_markdown(&mut t, sheet);
    t
}

fn write_markdown(t: &mut String, sheet: &WeighSheet) -> std::fmt::Result {
    writeln!(t, "# {}\n", plain(&sheet.formula))?;
    let batch = sheet.shown(sheet.plan.sized.batch, sheet.finest());
    let fill = sheet.filling.map_or_else(String::new, |f| {
        format!(
            ", for {} containers of {:.0} ml",
            f.count,
            in_millilitres(f.contents)
        )
    });
    writeln!(
        t,
        "{}, {}. Makes {batch}{fill}. Percentages are by weight of the whole.\n",
        plain(&sheet.variant),
        sheet.product
    )?;
    if let Some(notice) = sheet.trial_notice() {
        writeln!(t, "**{notice}:**\n")?;
        for breach in &sheet.heading.breaches {
            writeln!(t, "- {}", plain(breach))?;
        }
        writeln!(t)?;
    }
    writeln!(t, "## Ingredients\n")?;
    let mut cautions: Vec<(&str, Vec<String>)> = Vec::new();
    for phase in &sheet.phases {
        writeln!(t, "### Phase {}: {}\n", plain(&phase.letter), phase.words())?;
        if !phase.purpose.is_empty() {
            writeln!(t, "{}\n", plain(&phase.purpose))?;
        }
        writeln!(
            t,
            "| Material | INCI | % | {} | Why |",
            mass_word(sheet.heading.unit)
        )?;
        writeln!(t, "|---|---|---:|---:|---|")?;
        for entry in &phase.entries {
            if let Entry::Weigh(w) = entry {
                writeln!(
                    t,
                    "| {} | {} | {} | {} | {} |",
                    plain(&w.planned.name),
                    plain(&w.inci),
                    w.planned.percent,
                    sheet.shown(w.planned.mass, w.resolution),
                    plain(&w.why)
                )?;
                cautions.push((&w.planned.name, to_publish(&w.cautions)));
            }
        }
        writeln!(t)?;
    }
    writeln!(t, "## Steps\n")?;
    let mut number = 0;
    for phase in &sheet.phases {
        let names: Vec<String> = phase
            .entries
            .iter()
            .filter_map(|e| match e {
                Entry::Weigh(w) => Some(plain(&w.planned.name)),
                _ => None,
            })
            .collect();
        for entry in &phase.entries {
            if let Entry::Cool { below, because } = entry {
                number += 1;
                writeln!(t, "{number}. {}: {}.", cool_words(*below), plain(because))?;
            }
        }
        if !names.is_empty() {
            number += 1;
            writeln!(
                t,
                "{number}. Weigh phase {}: {}.",
                plain(&phase.letter),
                names.join(", ")
            )?;
        }
        for entry in &phase.entries {
            if let Entry::Work { step, cautions: c } = entry {
                number += 1;
                let facts: Vec<String> = step_facts(step).iter().map(|f| plain(f)).collect();
                let facts = if facts.is_empty() {
                    String::new()
                } else {
                    format!(" ({})", facts.join(", "))
                };
                writeln!(t, "{number}. {}{facts}", plain(&step.text))?;
                if !step.check.is_empty() {
                    writeln!(t, "   Check: {}", plain(&step.check))?;
                }
                cautions.push((&step.text, to_publish(c)));
            }
        }
    }
    for check in &sheet.checks {
        number += 1;
        let accept = if check.accept.is_empty() {
            String::new()
        } else {
            format!(": {}", plain(&check.accept))
        };
        writeln!(t, "{number}. {}{accept}.", plain(&check.what))?;
    }
    if !sheet.heading.readings.is_empty() {
        writeln!(t, "\n## {MEASURED}\n")?;
        for (what, value) in &sheet.heading.readings {
            writeln!(t, "- {}: {}", plain(what), plain(value))?;
        }
    }
    writeln!(t, "\n## Cautions\n")?;
    for (what, cautions) in &cautions {
        if !cautions.is_empty() {
            writeln!(t, "- **{}**: {}", plain(what), cautions.join("; "))?;
        }
    }
    writeln!(t, "- {NOTICE}")
}

/// What every reader has to mind; what this workshop's scales cannot do concerns none.
fn to_publish(cautions: &[Caution]) -> Vec<String> {
    let everybody = cautions.iter().filter(|c| c.kind != CautionKind::Weigh);
    everybody.map(|c| plain(&c.to_string())).collect()
}

const fn mass_word(unit: MassUnit) -> &'static str {
    match unit {
        MassUnit::Gram => "Grams",
        MassUnit::Kilogram => "Kilograms",
        MassUnit::Ounce => "Ounces",
        MassUnit::Pound => "Pounds",
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::batch::mass::read_mass;
    use crate::batch::plan::{PlanRequest, plan};
    use crate::batch::record::tests::opening;
    use crate::batch::scale::SizeRequest;
    use crate::batch::weigh_sheet::{Heading, weigh_sheet};
    use crate::formula::Formula;

    fn sheet(change: impl FnOnce(&mut Formula)) -> WeighSheet {
        let opening = opening("26-001");
        let mut formula = opening.formula.as_ref().clone();
        change(&mut formula);
        let request = PlanRequest {
            size: SizeRequest::mass(read_mass("1 kg", None).unwrap()),
            scales: opening.scales.clone(),
            tolerance: PlanRequest::TOLERANCE,
        };
        let variant = formula.active().clone();
        let plan = plan(&formula, &variant, &request).unwrap();
        weigh_sheet(&formula, &variant, plan, Heading::default(), None)
    }

    #[test]
    fn json_names_every_line_with_its_mass() {
        let sheet = sheet(|_| {});
        let value: serde_json::Value = serde_json::from_str(&json(&sheet, None)).unwrap();
        assert_eq!(value["schema"], SCHEMA);
        let entries = value["phases"][0]["entries"].as_array().unwrap();
        assert_eq!(entries.len(), 2);
        let total: f64 = entries.iter().map(|e| e["mass_g"].as_f64().unwrap()).sum();
        assert!((total - value["batch_g"].as_f64().unwrap()).abs() < 1e-9);
        assert_eq!(entries[1]["do"], "weigh");
    }

    #[test]
    fn csv_reads_back_row_by_row() {
        let text = csv(&sheet(|_| {})).unwrap();
        let mut reader = csv::Reader::from_reader(text.as_bytes());
        let rows: Vec<csv::StringRecord> = reader.records().map(Result::unwrap).collect();
        assert_eq!(&rows[0][3], "Water");
        assert_eq!(&rows[0][6], "800.0");
        assert_eq!(&rows[1][6], "200.0");
        assert!(rows.iter().any(|r| &r[2] == "check"));
    }

    #[test]
    fn names_cannot_break_out_of_a_page() {
        let sheet = sheet(|f| f.name = "<b>Oat & *juniper*</b> | x".into());
        let page = html(&sheet);
        assert!(page.contains("&lt;b&gt;Oat &amp; *juniper*&lt;/b&gt; | x"));
        assert!(!page.contains("<b>Oat"));
        assert!(markdown(&sheet).contains(r"\<b\>Oat & \*juniper\*\</b\> \| x"));
    }

    #[test]
    fn markdown_gives_percentages_masses_and_reasons() {
        let sheet = sheet(|f| {
            let mut variant = f.active().as_ref().clone();
            let mut phase = variant.phases[0].as_ref().clone();
            phase.lines[1].why = "keeps moist".into();
            variant.phases[0] = std::sync::Arc::new(phase);
            f.variants = vec![std::sync::Arc::new(variant)];
        });
        let text = markdown(&sheet);
        assert!(text.contains("| Glycerin | Glycerin | 20 | 200.0 g | keeps moist |"));
        assert!(text.contains("1. Weigh phase A: Water, Glycerin."));
    }
}
