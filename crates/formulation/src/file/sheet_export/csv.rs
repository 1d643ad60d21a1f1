//! The weigh sheet as CSV.

use serde::Serialize;

use super::lot_words;
use crate::batch::precaution::Caution;
use crate::batch::weigh_sheet::{SheetEntry, WeighSheet, Weighing};
use crate::file::number::celsius_decimal;
use crate::harmless;
use crate::mass::{ExactMass, digits};

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
    how: &'static str,
    cautions: String,
}

/// The weigh sheet as CSV: one row for everything to weigh or to do, in working order,
/// with empty columns for lot and actual weight.
pub fn csv(sheet: &WeighSheet) -> Result<String, ::csv::Error> {
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
                SheetEntry::Weigh(w) => weigh_row(sheet, w),
                SheetEntry::Work { step, cautions } => Row {
                    act: "work",
                    what: &step.text,
                    temperature_c: step.temperature.map(celsius_decimal),
                    minutes: step.minutes,
                    tool: &step.tool,
                    check: &step.check,
                    cautions: join(cautions),
                    ..Row::default()
                },
                SheetEntry::Cool { below, because } => Row {
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
    let expiry = sheet.expiry.iter().map(|words| Row {
        act: "expiry",
        what: words,
        ..Row::default()
    });
    let checks = sheet.checks.iter().map(|check| Row {
        act: "check",
        what: &check.what,
        check: &check.accept,
        ..Row::default()
    });
    let adjust = sheet.adjust_words();
    let adjust = adjust.iter().map(|words| Row {
        act: "adjust",
        what: words,
        ..Row::default()
    });
    let code = sheet.heading.code.iter().map(|code| Row {
        act: "batch code",
        what: code.as_str(),
        ..Row::default()
    });
    let state = std::iter::once(Row {
        act: "formula state",
        what: &sheet.state,
        ..Row::default()
    });
    let foot = adjust.chain(checks).chain(expiry).chain(code).chain(state);
    let mut writer = ::csv::Writer::from_writer(Vec::new());
    for (i, row) in stops.chain(entries).chain(foot).enumerate() {
        writer.serialize(Row {
            number: i + 1,
            ..row
        })?;
    }
    harmless::csv(writer)
}

fn weigh_row<'a>(sheet: &'a WeighSheet, weighing: &'a Weighing) -> Row<'a> {
    let unit = sheet.heading.unit;
    // Field by field, so that a new one is not forgotten here.
    let Weighing {
        planned,
        inci,
        scale,
        resolution,
        why: _, // stands in the recipe, not at the scale
        lots: _,
        short: _,     // what the stock lacks is told in the window and on paper
        set_aside: _, // told with what is short
        by_portions: _,
        cautions,
    } = weighing;
    let number_of = |mass: ExactMass| {
        let digits = digits(*resolution, unit);
        format!("{:.*}", digits as usize, mass.in_unit(unit, digits))
    };
    Row {
        act: "weigh",
        what: &planned.name,
        inci,
        percent: planned.percent.to_string(),
        to_weigh: number_of(planned.mass),
        tolerance: number_of(planned.tolerance),
        unit: unit.symbol(),
        scale,
        lot_proposed: lot_words(sheet, weighing),
        how: weighing.manner().unwrap_or_default(),
        cautions: join(cautions),
        ..Row::default()
    }
}

fn join(cautions: &[Caution]) -> String {
    let words: Vec<String> = cautions.iter().map(ToString::to_string).collect();
    words.join(" | ")
}
