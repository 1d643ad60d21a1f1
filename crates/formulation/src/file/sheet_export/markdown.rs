//! The recipe as Markdown for publishing.

use std::fmt::Write as _;

use super::MEASURED;
use crate::batch::precaution::{Caution, CautionKind};
use crate::batch::weigh_sheet::{NOTICE, SheetEntry, WeighSheet, Weighing, cool_words, step_facts};
use crate::mass::MassUnit;
use crate::quantity::in_millilitres;

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
    write_head(t, sheet)?;
    write_ingredients(t, sheet)?;
    write_steps(t, sheet)?;
    if !sheet.heading.readings.is_empty() {
        writeln!(t, "\n## {MEASURED}\n")?;
        for (what, value) in &sheet.heading.readings {
            writeln!(t, "- {}: {}", plain(what), plain(value))?;
        }
    }
    write_cautions(t, sheet)?;
    writeln!(t, "- {NOTICE}")
}

/// What it is, how much it makes, and what stands against selling it.
fn write_head(t: &mut String, sheet: &WeighSheet) -> std::fmt::Result {
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
    let code = sheet.heading.code.as_ref();
    let code = code.map_or_else(String::new, |code| {
        format!(" Batch code {}.", plain(code.as_str()))
    });
    writeln!(t, "Formula state {}.{code}\n", plain(&sheet.state))?;
    if let Some(expiry) = &sheet.expiry {
        writeln!(t, "Expiry of the product: {}.\n", plain(expiry))?;
    }
    if let Some(notice) = sheet.trial_notice() {
        writeln!(t, "**{notice}:**\n")?;
        for breach in &sheet.heading.breaches {
            writeln!(t, "- {}", plain(breach))?;
        }
        writeln!(t)?;
    }
    Ok(())
}

/// The materials, phase by phase.
fn write_ingredients(t: &mut String, sheet: &WeighSheet) -> std::fmt::Result {
    writeln!(t, "## Ingredients\n")?;
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
            if let SheetEntry::Weigh(w) = entry {
                // Field by field, so that a new one is not forgotten here.
                let Weighing {
                    planned,
                    inci,
                    scale: _, // the maker's own scale and stock are not published
                    resolution,
                    why,
                    lots: _,
                    short: _,
                    set_aside: _,   // told with what is short
                    by_portions: _, // among the steps
                    cautions: _,    // at the end
                } = &**w;
                writeln!(
                    t,
                    "| {} | {} | {} | {} | {} |",
                    plain(&planned.name),
                    plain(inci),
                    planned.percent,
                    sheet.shown(planned.mass, *resolution),
                    plain(why)
                )?;
            }
        }
        writeln!(t)?;
    }
    Ok(())
}

/// The steps in working order, the checks last.
fn write_steps(t: &mut String, sheet: &WeighSheet) -> std::fmt::Result {
    writeln!(t, "## Steps\n")?;
    let mut number = 0;
    for phase in &sheet.phases {
        let names: Vec<String> = phase
            .entries
            .iter()
            .filter_map(|e| match e {
                SheetEntry::Weigh(w) => Some(plain(&w.planned.name)),
                _ => None,
            })
            .collect();
        let manner = phase.entries.iter().find_map(|e| match e {
            SheetEntry::Weigh(w) => w.manner(),
            _ => None,
        });
        for entry in &phase.entries {
            if let SheetEntry::Cool { below, because } = entry {
                number += 1;
                writeln!(t, "{number}. {}: {}.", cool_words(*below), plain(because))?;
            }
        }
        if !names.is_empty() {
            number += 1;
            writeln!(
                t,
                "{number}. Weigh phase {}: {}.{}",
                plain(&phase.letter),
                names.join(", "),
                manner.map(|m| format!(" {m}")).unwrap_or_default()
            )?;
        }
        for entry in &phase.entries {
            if let SheetEntry::Work { step, .. } = entry {
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
            }
        }
    }
    if let Some(adjust) = sheet.adjust_words() {
        number += 1;
        writeln!(t, "{number}. {}", plain(&adjust))?;
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
    Ok(())
}

/// What every reader has to mind of materials, then of steps.
fn write_cautions(t: &mut String, sheet: &WeighSheet) -> std::fmt::Result {
    writeln!(t, "\n## Cautions\n")?;
    let entries = || sheet.phases.iter().flat_map(|p| &p.entries);
    let weighed = entries().filter_map(|e| match e {
        SheetEntry::Weigh(w) => Some((&*w.planned.name, &w.cautions)),
        _ => None,
    });
    let worked = entries().filter_map(|e| match e {
        SheetEntry::Work { step, cautions } => Some((&*step.text, cautions)),
        _ => None,
    });
    for (what, cautions) in weighed.chain(worked) {
        let cautions = to_publish(cautions);
        if !cautions.is_empty() {
            writeln!(t, "- **{}**: {}", plain(what), cautions.join("; "))?;
        }
    }
    Ok(())
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
