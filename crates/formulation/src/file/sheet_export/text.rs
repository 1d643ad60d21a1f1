//! The weigh sheet as plain text for a terminal.

use std::fmt::Write as _;

use super::{MEASURED, lot_words};
use crate::batch::weigh_sheet::{NOTICE, SheetEntry, WeighSheet, Weighing, cool_words, step_facts};
use crate::cost::CostSheet;

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
    if let Some(expiry) = &sheet.expiry {
        writeln!(t, "  expiry of the product: {expiry}")?;
    }
    for line in &sheet.plan.sized.working {
        writeln!(t, "  {line}")?;
    }
    for caution in sheet.cautions() {
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
                SheetEntry::Weigh(w) => {
                    // Field by field, so that a new one is not forgotten here.
                    let Weighing {
                        planned,
                        inci: _, // names go by the maker's words on a small paper
                        scale,
                        resolution,
                        why: _, // stands in the recipe, not at the scale
                        lots: _,
                        short: _,
                        set_aside: _, // told with what is short
                        by_portions: _,
                        cautions,
                    } = &**w;
                    writeln!(
                        t,
                        "{number:>3}  {:<44} {:>10} % {:>14}  ± {}  {}",
                        shortened(&planned.name, 44),
                        planned.percent.to_string(),
                        sheet.shown(planned.mass, *resolution),
                        sheet.shown(planned.tolerance, *resolution),
                        [scale.to_string(), lot_words(sheet, w)]
                            .join("  ")
                            .trim_end()
                    )?;
                    if let Some(manner) = w.manner() {
                        writeln!(t, "       {manner}")?;
                    }
                    if let Some(lacks) = sheet.stock_caution(w) {
                        writeln!(t, "       {lacks}")?;
                    }
                    for caution in cautions {
                        writeln!(t, "       {caution}")?;
                    }
                }
                SheetEntry::Work { step, cautions } => {
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
                SheetEntry::Cool { below, because } => {
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
    if let Some(adjust) = sheet.adjust_words() {
        writeln!(t, "  {adjust}")?;
    }
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
    for (line, from) in cost.borrowed() {
        writeln!(t, "  {}: priced {from}", line.name)?;
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
