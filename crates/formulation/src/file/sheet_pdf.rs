//! The weigh sheet on paper: what to weigh and do in working order, boxes to tick, fields
//! for lots, weights, times and signatures.

use super::pdf::{Align, Flow, PaperCell, PdfError, Printing, Style};
use crate::amount::typed::shown_density;
use crate::batch::precaution::{Caution, CautionKind};
use crate::batch::weigh_sheet::{
    NOTICE, SheetEntry, SheetPhase, WeighSheet, Weighing, cool_words, step_facts,
};
use crate::quantity::{in_grams, in_millilitres};

/// Text of the body.
const BODY: Style = Style::plain(9.5);
/// Text of what is less important.
const SMALL: Style = Style::quiet(8.0);
/// Text of advice.
const ADVICE: Style = Style::plain(8.5);
/// Text of cautions.
const CAUTION: Style = Style::bold(8.5);

/// Shares of the width: tick, number, material, %, mass and scale, lot, weighed, by, checked.
const WEIGH: [f32; 9] = [0.03, 0.04, 0.32, 0.08, 0.15, 0.13, 0.11, 0.065, 0.075];
/// Shares of the width: tick, number, what, remark, by.
const WORK: [f32; 5] = [0.03, 0.04, 0.6, 0.26, 0.07];
/// Shares of the width: tick, what to see to, by.
const BEFORE: [f32; 3] = [0.07, 0.86, 0.07];

/// Share of the last page below which it is nearly empty.
const NEARLY_EMPTY: f32 = 0.4;

/// The sheet on its pages. Where little would be left for the last one, the filling goes there
/// too, so that what is written at the end stands together.
fn best_laid_out<'p>(sheet: &WeighSheet, on: Printing<'p>) -> Result<Flow<'p>, PdfError> {
    let flow = laid_out(sheet, on, false)?;
    if flow.last_page_filled() < NEARLY_EMPTY {
        let with_filling = laid_out(sheet, on, true)?;
        if with_filling.page_count() == flow.page_count() {
            return Ok(with_filling);
        }
    }
    Ok(flow)
}

/// The weigh sheet as a PDF.
pub fn weigh_sheet_pdf<'p>(
    sheet: &WeighSheet,
    on: impl Into<Printing<'p>>,
) -> Result<Vec<u8>, PdfError> {
    let flow = best_laid_out(sheet, on.into())?;
    let title = format!("Weigh sheet: {}", sheet.formula);
    let code = sheet
        .heading
        .code
        .as_ref()
        .map_or_else(String::new, |c| format!(" · batch {c}"));
    flow.finish(
        &title,
        &format!(
            "{} · {} · state {}{code}",
            sheet.formula, sheet.variant, sheet.state
        ),
    )
}

/// The sheet on its pages; the filling begins a page of its own if asked for.
fn laid_out<'p>(
    sheet: &WeighSheet,
    on: Printing<'p>,
    filling_apart: bool,
) -> Result<Flow<'p>, PdfError> {
    let mut flow = Flow::new(on)?;
    head(&mut flow, sheet);
    flow.heading("Before you begin", 11.0);
    for item in &sheet.before {
        let cells = [
            PaperCell::Tick,
            PaperCell::text(*item, BODY),
            PaperCell::Field,
        ];
        flow.row(&cells, &BEFORE, false);
    }
    let mut number = 0;
    for phase in &sheet.phases {
        phase_block(&mut flow, sheet, phase, &mut number);
    }
    total_row(&mut flow, sheet);
    checks(&mut flow, sheet);
    if filling_apart {
        flow.new_page();
    }
    packing(&mut flow, sheet);
    yield_block(&mut flow, sheet);
    release(&mut flow);
    flow.space(8.0);
    flow.paragraph(NOTICE, SMALL, 0.0);
    Ok(flow)
}

/// A printed label with its value, or with a line to write it on.
fn labelled(label: &str, value: &str) -> PaperCell {
    PaperCell::Text(
        vec![
            (label.to_owned(), SMALL),
            (
                if value.is_empty() {
                    " ".to_owned()
                } else {
                    value.to_owned()
                },
                BODY,
            ),
        ],
        Align::Left,
    )
}

fn head(flow: &mut Flow<'_>, sheet: &WeighSheet) {
    flow.paragraph("Weigh sheet and batch record", SMALL, 0.0);
    flow.paragraph(&sheet.formula, Style::bold(17.0), 0.0);
    flow.paragraph(
        &format!(
            "{} · {} · formula state {}",
            sheet.variant, sheet.product, sheet.state
        ),
        Style::quiet(10.0),
        0.0,
    );
    if let Some(notice) = sheet.trial_notice() {
        flow.space(4.0);
        let mut text = vec![(notice.to_owned(), Style::bold(11.0))];
        text.extend(
            sheet
                .heading
                .breaches
                .iter()
                .map(|b| (format!("Breach: {b}"), CAUTION)),
        );
        flow.row(&[PaperCell::Text(text, Align::Left)], &[1.0], true);
    }
    flow.space(4.0);
    flow.rule(1.2);
    let code = sheet
        .heading
        .code
        .as_ref()
        .map_or_else(String::new, ToString::to_string);
    let day = sheet
        .heading
        .day
        .map_or_else(String::new, |d| d.to_string());
    let quarter = [0.25; 4];
    flow.row(
        &[
            labelled("Batch code", &code),
            labelled("Day of making", &day),
            labelled("Made by", ""),
            labelled("Checked by", ""),
        ],
        &quarter,
        false,
    );
    if code.is_empty() || day.is_empty() {
        flow.space(2.0);
    }
    flow.rule(0.4);
    let sized = &sheet.plan.sized;
    let batch = sheet.shown(sized.batch, sheet.finest());
    let fill = sheet
        .filling
        .map_or_else(|| "not planned".to_owned(), |f| f.words());
    let density = sized
        .density
        .as_ref()
        .map_or_else(|| "not known".to_owned(), |d| shown_density(d.value));
    let volume = sized.volume.map_or_else(String::new, |v| {
        format!(" (about {:.0} ml)", in_millilitres(v))
    });
    flow.row(
        &[
            labelled("Batch", &format!("{batch}{volume}")),
            labelled("Filling", &fill),
            labelled("Density", &density),
            labelled("Vessel", &sheet.heading.vessel),
        ],
        &quarter,
        false,
    );
    flow.row(
        &[labelled(
            "Expiry of the product",
            sheet.expiry.as_deref().unwrap_or_default(),
        )],
        &[1.0],
        false,
    );
    flow.rule(0.4);
    for line in &sized.working {
        flow.paragraph(line, SMALL, 0.0);
    }
    for caution in sheet.cautions() {
        flow.paragraph(&format!("Caution: {caution}"), CAUTION, 0.0);
    }
    let scales = sheet
        .plan
        .scales
        .iter()
        .map(|s| s.words(sheet.heading.unit))
        .collect::<Vec<_>>()
        .join("; ");
    flow.paragraph(&format!("Scales: {scales}"), SMALL, 0.0);
}

fn phase_block(flow: &mut Flow<'_>, sheet: &WeighSheet, phase: &SheetPhase, number: &mut usize) {
    // The heading of a phase stands on the page of its first weighing.
    flow.need(130.0);
    flow.heading(&format!("Phase {} · {}", phase.letter, phase.words()), 11.5);
    if !phase.purpose.is_empty() {
        flow.paragraph(&phase.purpose, SMALL, 0.0);
    }
    if phase
        .entries
        .iter()
        .any(|e| matches!(e, SheetEntry::Weigh(_)))
    {
        let head = |t: &str| PaperCell::text(t, SMALL);
        let right = |t: &str| PaperCell::number(t, SMALL);
        flow.begin_table(
            vec![
                PaperCell::Empty,
                PaperCell::Empty,
                head("Material"),
                right("% w/w"),
                right("To weigh"),
                head("Lot"),
                head("Weighed"),
                head("By"),
                head("Checked"),
            ],
            &WEIGH,
        );
    }
    for entry in &phase.entries {
        *number += 1;
        match entry {
            SheetEntry::Weigh(w) => weighing(flow, sheet, w, *number),
            SheetEntry::Work { step, cautions } => {
                let mut text = vec![(step.text.to_string(), BODY)];
                let facts = step_facts(step);
                if !facts.is_empty() {
                    text.push((facts.join(" · "), SMALL));
                }
                if !step.check.is_empty() {
                    text.push((format!("Check: {}", step.check), BODY));
                }
                text.extend(cautions.iter().map(caution));
                work(flow, text, *number, "time, temperature");
            }
            SheetEntry::Cool { below, because } => {
                let text = vec![
                    (cool_words(*below), Style::bold(9.5)),
                    (because.clone(), SMALL),
                ];
                work(flow, text, *number, "temperature read");
            }
        }
    }
    flow.end_table();
    if phase.without_steps {
        flow.paragraph("No step of work is written for this phase.", SMALL, 0.0);
    }
    flow.paragraph(
        &format!(
            "Phase {} in all: {}",
            phase.letter,
            sheet.shown(phase.mass, sheet.finest())
        ),
        SMALL,
        0.0,
    );
}

/// What to wear and how to handle stands out; what the scale cannot do is read at leisure.
fn caution(caution: &Caution) -> (String, Style) {
    let style = match caution.kind {
        CautionKind::Weigh => ADVICE,
        _ => CAUTION,
    };
    (caution.to_string(), style)
}

fn weighing(flow: &mut Flow<'_>, sheet: &WeighSheet, w: &Weighing, number: usize) {
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
    } = w;
    let mut name = vec![(planned.name.to_string(), Style::bold(9.5))];
    if !inci.is_empty() && inci != planned.name.as_ref() {
        name.push((inci.clone(), SMALL));
    }
    name.extend(w.manner().map(|manner| (manner.to_owned(), SMALL)));
    let mut mind: Vec<(String, Style)> = cautions.iter().map(caution).collect();
    mind.extend(sheet.stock_caution(w).map(|words| (words, CAUTION)));
    if !mind.is_empty() {
        // The weighing and what to mind at it stay on one page.
        flow.need(46.0 + 13.0 * mind.len() as f32);
    }
    let lots_shown = lots
        .iter()
        .map(|(lot, mass)| {
            let text = if lots.len() == 1 {
                lot.to_string()
            } else {
                format!("{lot}: {}", sheet.shown(*mass, *resolution))
            };
            (text, BODY)
        })
        .collect::<Vec<_>>();
    let mass = vec![
        (sheet.shown(planned.mass, *resolution), Style::bold(10.0)),
        (
            format!("± {}", sheet.shown(planned.tolerance, *resolution)),
            BODY,
        ),
        (scale.to_string(), BODY),
    ];
    flow.row(
        &[
            PaperCell::Tick,
            PaperCell::text(number.to_string(), SMALL),
            PaperCell::Text(name, Align::Left),
            PaperCell::number(planned.percent.to_string(), BODY),
            PaperCell::Text(mass, Align::Right),
            if lots_shown.is_empty() {
                PaperCell::Field
            } else {
                PaperCell::Text(lots_shown, Align::Left)
            },
            PaperCell::Field,
            PaperCell::Field,
            PaperCell::Field,
        ],
        &WEIGH,
        false,
    );
    if !mind.is_empty() {
        let cells = [
            PaperCell::Empty,
            PaperCell::Empty,
            PaperCell::Text(mind, Align::Left),
        ];
        flow.row(&cells, &[0.03, 0.04, 0.93], false);
    }
    flow.rule(0.3);
}

fn work(flow: &mut Flow<'_>, text: Vec<(String, Style)>, number: usize, field: &str) {
    flow.row(
        &[
            PaperCell::Tick,
            PaperCell::text(number.to_string(), SMALL),
            PaperCell::Text(text, Align::Left),
            PaperCell::Text(
                vec![
                    (field.to_owned(), Style::quiet(7.0)),
                    ("____________________".to_owned(), SMALL),
                ],
                Align::Left,
            ),
            PaperCell::Field,
        ],
        &WORK,
        false,
    );
    flow.rule(0.3);
}

fn total_row(flow: &mut Flow<'_>, sheet: &WeighSheet) {
    flow.space(4.0);
    flow.row(
        &[
            PaperCell::Empty,
            PaperCell::Empty,
            PaperCell::text("Batch in all", Style::bold(10.0)),
            PaperCell::number("100", Style::bold(10.0)),
            PaperCell::number(
                sheet.shown(sheet.plan.sized.batch, sheet.finest()),
                Style::bold(10.0),
            ),
            PaperCell::Empty,
            PaperCell::Field,
            PaperCell::Field,
            PaperCell::Field,
        ],
        &WEIGH,
        true,
    );
}

fn checks(flow: &mut Flow<'_>, sheet: &WeighSheet) {
    // A few checks stay on one page; many are a table that goes on.
    flow.need(60.0 + 20.0 * sheet.checks.len().min(12) as f32);
    flow.heading("Checks", 11.0);
    if let Some(adjust) = sheet.adjust_words() {
        flow.paragraph(&adjust, SMALL, 0.0);
    }
    const WIDTHS: [f32; 5] = [0.03, 0.37, 0.28, 0.25, 0.07];
    let head = |t: &str| PaperCell::text(t, SMALL);
    flow.begin_table(
        vec![
            PaperCell::Empty,
            head("What"),
            head("Acceptable"),
            head("Found"),
            head("By"),
        ],
        &WIDTHS,
    );
    for check in &sheet.checks {
        flow.row(
            &[
                PaperCell::Tick,
                PaperCell::text(&*check.what, BODY),
                PaperCell::text(&*check.accept, BODY),
                PaperCell::Field,
                PaperCell::Field,
            ],
            &WIDTHS,
            false,
        );
    }
    flow.end_table();
    if !sheet.heading.readings.is_empty() {
        flow.paragraph(
            "Measured on trials of exactly this composition:",
            SMALL,
            0.0,
        );
        for (what, value) in &sheet.heading.readings {
            flow.paragraph(&format!("{what}: {value}"), SMALL, 0.0);
        }
    }
}

fn fields(flow: &mut Flow<'_>, labels: &[&str]) {
    let widths = vec![1.0; labels.len()];
    let cells: Vec<PaperCell> = labels.iter().map(|l| PaperCell::text(*l, SMALL)).collect();
    flow.row(&cells, &widths, false);
    let lines: Vec<PaperCell> = labels.iter().map(|_| PaperCell::Field).collect();
    flow.row(&lines, &widths, false);
}

fn packing(flow: &mut Flow<'_>, sheet: &WeighSheet) {
    flow.heading("Filling and packaging", 11.0);
    if let Some(fill) = sheet.filling {
        flow.paragraph(
            &format!(
                "{} containers of {:.0} ml; set the filling to {:.1} g net, {:.1} g in all. The batch code goes on every unit.",
                fill.count,
                in_millilitres(fill.contents),
                in_grams(fill.mass_each),
                in_grams(fill.mass)
            ),
            BODY,
            0.0,
        );
    }
    for _ in 0..2 {
        fields(flow, &["Packaging", "Lot", "Pieces used", "Pieces spoilt"]);
    }
    fields(
        flow,
        &[
            "Labels, printed on lot",
            "Batch code on them",
            "Date on them",
            "Printed",
            "On containers",
            "Destroyed",
        ],
    );
}

fn yield_block(flow: &mut Flow<'_>, sheet: &WeighSheet) {
    flow.heading("Yield and reconciliation", 11.0);
    let unit = sheet.heading.unit.symbol();
    let labels = [
        format!("Weighed in ({unit})"),
        "Containers filled".to_owned(),
        format!("Filled ({unit})"),
        format!("Samples ({unit})"),
        format!("Waste ({unit})"),
        format!("Not accounted for ({unit})"),
    ];
    let labels: Vec<&str> = labels.iter().map(String::as_str).collect();
    fields(flow, &labels);
    flow.paragraph(
        "Keep a retained sample of the batch, labelled with its code.",
        SMALL,
        0.0,
    );
}

fn release(flow: &mut Flow<'_>) {
    // Remarks, decision and signature stay on one page.
    flow.need(210.0);
    flow.heading("Remarks and deviations", 11.0);
    flow.lines_to_write(3);
    flow.heading("Decision", 11.0);
    flow.row(
        &[
            PaperCell::Tick,
            PaperCell::text("Released", BODY),
            PaperCell::Tick,
            PaperCell::text("On hold", BODY),
            PaperCell::Tick,
            PaperCell::text("Rejected", BODY),
        ],
        &[0.03, 0.3, 0.03, 0.3, 0.03, 0.3],
        false,
    );
    fields(flow, &["Reason", "Responsible person", "Day"]);
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::batch::record::tests::opening;
    use crate::batch::weigh_sheet::{Heading, ProcessCheck, TRIAL_NOTICE, weigh_sheet};
    use crate::batch::workshop::Paper;
    use crate::batch::{plan, scale};

    /// What stops a sale, the state of the formula, how long the product keeps, how it is
    /// measured, and where the second person signs.
    #[test]
    fn what_the_paper_must_say_stands_on_it() {
        let sheet = sheet_with(|sheet| {
            sheet.heading.breaches = vec!["too much of it".to_owned()];
            sheet.expiry = Some("best used before the end of 06/2028".to_owned());
            sheet.checks.push(ProcessCheck {
                what: "Viscosity (spindle 3, 20 °C)".to_owned(),
                accept: "3000 to 6000 mPa·s".to_owned(),
            });
        });
        let flow = laid_out(&sheet, Paper::A4.into(), false).unwrap();
        let all = flow.texts().join("\n");
        for wanted in [
            TRIAL_NOTICE,
            "Breach: too much of it",
            &format!("formula state {}", sheet.state),
            "Expiry of the product",
            "best used before the end of 06/2028",
            "Checked",
            "Viscosity (spindle 3, 20 °C)",
        ] {
            assert!(all.contains(wanted), "{wanted} is not in {all}");
        }
    }

    /// However long the checks are, the last page is never left nearly empty where the filling
    /// can go there too.
    #[test]
    fn the_last_page_is_not_left_nearly_empty() {
        let mut helped = 0;
        for more in 0..60 {
            let sheet = sheet_with(|sheet| {
                let check = ProcessCheck {
                    what: "another check".to_owned(),
                    accept: String::new(),
                };
                sheet.checks.extend(std::iter::repeat_n(check, more));
            });
            let first = laid_out(&sheet, Paper::A4.into(), false).unwrap();
            let flow = best_laid_out(&sheet, Paper::A4.into()).unwrap();
            assert!(flow.page_count() == first.page_count(), "{more}");
            assert!(
                flow.last_page_filled() >= first.last_page_filled(),
                "{more}"
            );
            if first.last_page_filled() < NEARLY_EMPTY {
                helped += 1;
                assert!(flow.last_page_filled() >= NEARLY_EMPTY, "{more}");
            }
        }
        assert!(helped > 0);
    }

    #[test]
    fn both_papers_make_a_file() {
        let sheet = sheet_with(|_| {});
        for paper in Paper::ALL {
            let bytes = weigh_sheet_pdf(&sheet, paper).unwrap();
            assert!(bytes.starts_with(b"%PDF-"));
        }
    }

    fn sheet_with(change: impl FnOnce(&mut WeighSheet)) -> WeighSheet {
        let opening = opening("26-001");
        let request = plan::PlanRequest {
            size: scale::SizeRequest::mass(opening.batch),
            scales: opening.scales.clone(),
            tolerance: plan::PlanRequest::TOLERANCE,
        };
        let plan = plan::plan(&opening.formula, opening.variant(), &request).unwrap();
        let mut sheet = weigh_sheet(
            &opening.formula,
            opening.variant(),
            plan,
            Heading::default(),
            None,
        );
        change(&mut sheet);
        sheet
    }
}
