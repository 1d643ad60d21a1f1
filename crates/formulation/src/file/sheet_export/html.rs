//! The weigh sheet as a page of HTML.

use std::fmt::Write as _;

use super::{MEASURED, lot_words};
use crate::batch::precaution::Caution;
use crate::batch::weigh_sheet::{NOTICE, SheetEntry, WeighSheet, Weighing, cool_words, step_facts};
use crate::harmless::markup;

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
    write_head(t, sheet)?;
    write_preparations(t, sheet)?;
    write_work(t, sheet)?;
    write_foot(t, sheet)
}

/// What it is, of what state, how much, and what stands against selling it.
fn write_head(t: &mut String, sheet: &WeighSheet) -> std::fmt::Result {
    let e = markup;
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
    let expiry = sheet.expiry.as_deref().map_or_else(|| FIELD.to_owned(), e);
    writeln!(t, "<p>Expiry of the product: {expiry}</p>")?;
    for line in &sized.working {
        writeln!(t, "<p class=\"q\">{}</p>", e(line))?;
    }
    for caution in sheet.cautions() {
        writeln!(t, "<p class=\"c\">Caution: {}</p>", e(&caution))?;
    }
    Ok(())
}

/// What is to be ready.
fn write_preparations(t: &mut String, sheet: &WeighSheet) -> std::fmt::Result {
    writeln!(t, "<h2>Before you begin</h2><table>")?;
    for item in &sheet.before {
        writeln!(t, "<tr><td>{TICK}</td><td>{}</td></tr>", markup(item))?;
    }
    writeln!(t, "</table>")
}

/// Phase by phase what is weighed and done.
fn write_work(t: &mut String, sheet: &WeighSheet) -> std::fmt::Result {
    let e = markup;
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
            write_entry(t, sheet, entry)?;
            writeln!(t, "</tr>")?;
        }
        writeln!(t, "</table>")?;
    }
    Ok(())
}

/// What is weighed or done, in the cells after its number.
fn write_entry(t: &mut String, sheet: &WeighSheet, entry: &SheetEntry) -> std::fmt::Result {
    let e = markup;
    match entry {
        SheetEntry::Weigh(w) => {
            // Field by field, so that a new one is not forgotten here.
            let Weighing {
                planned,
                inci,
                scale,
                resolution,
                why: _, // stands in the recipe, not at the scale
                lots,
                short: _,
                set_aside: _, // told with what is short
                by_portions: _,
                cautions,
            } = &**w;
            let lots = if lots.is_empty() {
                FIELD.to_owned()
            } else {
                e(&lot_words(sheet, w))
            };
            let manner = w
                .manner()
                .map(|m| format!("<br><span class=\"q\">{m}</span>"));
            let manner = manner.unwrap_or_default();
            write!(
                t,
                "<td><strong>{}</strong><br><span class=\"q\">{}</span>{}{}</td><td class=\"n\">{}</td><td class=\"n\"><strong>{}</strong><br><span class=\"q\">± {} · {}</span></td><td>{lots}</td><td>{FIELD}</td>",
                e(&planned.name),
                e(inci),
                manner,
                cautions_html(sheet.stock_caution(w).into_iter().chain(words(cautions))),
                planned.percent,
                sheet.shown(planned.mass, *resolution),
                sheet.shown(planned.tolerance, *resolution),
                e(scale),
            )
        }
        SheetEntry::Work { step, cautions } => {
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
            )
        }
        SheetEntry::Cool { below, because } => {
            write!(
                t,
                "<td colspan=\"4\"><strong>{}</strong><br><span class=\"q\">{}</span></td><td>{FIELD}</td>",
                cool_words(*below),
                e(because)
            )
        }
    }
}

/// Checks, readings, and room for yield and decision.
fn write_foot(t: &mut String, sheet: &WeighSheet) -> std::fmt::Result {
    let e = markup;
    let adjust = sheet.adjust_words();
    let adjust = adjust.map_or_else(String::new, |words| format!("<p>{}</p>", e(&words)));
    writeln!(
        t,
        "<h2>Checks</h2>{adjust}<table><tr><th></th><th>What</th><th>Acceptable</th><th>Found</th></tr>"
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

const FIELD: &str = "<span class=\"f\">&nbsp;</span>";

const TICK: &str = "<input type=\"checkbox\" aria-label=\"done\">";

fn words(cautions: &[Caution]) -> impl Iterator<Item = String> {
    cautions.iter().map(ToString::to_string)
}

fn cautions_html(cautions: impl Iterator<Item = String>) -> String {
    let rows: Vec<String> = cautions
        .map(|c| format!("<br><span class=\"c\">{}</span>", markup(&c)))
        .collect();
    rows.concat()
}
