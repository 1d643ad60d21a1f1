//! The weigh sheet as JSON.

use serde::Serialize;

use crate::amount::measure::{tidy, tidy_percent};
use crate::batch::precaution::Caution;
use crate::batch::premix::Premix;
use crate::batch::weigh_sheet::{NOTICE, SheetEntry, WeighSheet, Weighing};
use crate::cost::CostSheet;
use crate::file::number::celsius_decimal;
use crate::mass::ExactMass;
use crate::notation::writer;
use crate::quantity::{in_grams, in_kg_per_m3, in_millilitres};

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
    #[serde(skip_serializing_if = "Option::is_none")]
    expiry: Option<&'a str>,
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
    adjust_ph: Option<String>,
    #[serde(skip_serializing_if = "<[String]>::is_empty")]
    packaging_lacks: &'a [String],
    #[serde(skip_serializing_if = "Option::is_none")]
    less_than_label: Option<&'a str>,
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
        by_portions: bool,
        why: &'a str,
        lots: Box<[LotJson]>,
        #[serde(skip_serializing_if = "Option::is_none")]
        stock_lacks_g: Option<f64>,
        #[serde(skip_serializing_if = "<[_]>::is_empty")]
        not_counted: Box<[SetAsideJson<'a>]>,
        #[serde(skip_serializing_if = "Option::is_none")]
        too_small: Option<TooSmallJson<'a>>,
        cautions: Box<[CautionJson<'a>]>,
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
struct SetAsideJson<'a> {
    lot: String,
    mass_g: f64,
    why: &'a str,
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
    #[serde(skip_serializing_if = "Option::is_none")]
    price_from: Option<String>,
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

fn entry_json(entry: &SheetEntry) -> EntryJson<'_> {
    match entry {
        SheetEntry::Weigh(w) => {
            // Field by field, so that a new one is not forgotten here.
            let Weighing {
                planned,
                inci,
                scale,
                resolution: _, // masses are exact here
                why,
                lots,
                short,
                set_aside,
                by_portions,
                cautions,
            } = &**w;
            EntryJson::Weigh {
                line: planned.line.0,
                material: &planned.name,
                inci,
                percent: planned.percent.as_percent(),
                exact_g: planned.exact.as_grams(),
                mass_g: planned.mass.as_grams(),
                tolerance_g: planned.tolerance.as_grams(),
                rounding_error_percent: tidy_percent(planned.rounding_error),
                scale,
                portions: planned.portions,
                by_portions: *by_portions,
                why,
                lots: lots
                    .iter()
                    .map(|(lot, mass)| LotJson {
                        lot: lot.to_string(),
                        mass_g: mass.as_grams(),
                    })
                    .collect(),
                stock_lacks_g: short.map(ExactMass::as_grams),
                not_counted: set_aside
                    .iter()
                    .map(|s| SetAsideJson {
                        lot: s.lot.to_string(),
                        mass_g: s.left.as_grams(),
                        why: &s.why,
                    })
                    .collect(),
                too_small: planned.too_small.as_ref().map(|t| TooSmallJson {
                    least_g: t.least.as_grams(),
                    reading_error_percent: tidy_percent(t.reading_error),
                    step_needed_g: t.step_needed.as_grams(),
                    batch_needed_g: t.batch_needed.as_grams(),
                    premix: t.premix.as_ref().map(premix_json),
                }),
                cautions: caution_rows(cautions).into(),
            }
        }
        SheetEntry::Work { step, cautions } => EntryJson::Work {
            text: &step.text,
            temperature_c: step.temperature.map(celsius_decimal),
            minutes: step.minutes,
            tool: &step.tool,
            check: &step.check,
            cautions: caution_rows(cautions),
        },
        SheetEntry::Cool { below, because } => EntryJson::Cool {
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
                price_from: l.price_from.as_ref().map(ToString::to_string),
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
    let round = |v: f64| tidy(v, 6);
    let view = SheetJson {
        schema: SCHEMA,
        program: "phasewright",
        version: env!("CARGO_PKG_VERSION"),
        formula: &sheet.formula,
        variant: &sheet.variant,
        state: &sheet.state,
        expiry: sheet.expiry.as_deref(),
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
        adjust_ph: sheet.adjust_words(),
        packaging_lacks: &sheet.packaging.lacking,
        less_than_label: sized.less_than_label.as_deref(),
        cost: cost.map(cost_json),
        notice: NOTICE,
    };
    // Plain structs of numbers and texts always turn into JSON.
    writer::json(&view).unwrap_or_default()
}
