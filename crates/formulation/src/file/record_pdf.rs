//! The batch record on paper: what was asked for and what was done, lots, deviations, checks,
//! corrections with their old values, the decision, and lines to sign on. The headings are
//! those of ISO 22716, as facts. The same record gives the same bytes.

use std::fmt::Write as _;

use super::pdf::{Align, Flow, PaperCell, PdfError, Printing, Style};
use crate::amount::{measure, typed};
use crate::batch::formula_state::state_of;
use crate::batch::record::{
    Entry, Event, LineState, LineStatus, Point, Portion, Record, WATER_MADE_UP, moment,
};
use crate::batch::weighing_scale::WeighingScale;
use crate::formula::Line;
use crate::mass::{ExactMass, shown};
use crate::specification::Verdict;

/// Text of the body.
const BODY: Style = Style::plain(9.0);
/// Text of the body that stands out.
const BOLD: Style = Style::bold(9.0);
/// Text of what is less important.
const SMALL: Style = Style::quiet(8.0);

/// Shares of the width: phase, material, asked, weighed, off, lot, when and by.
const WEIGHED: [f32; 7] = [0.05, 0.27, 0.13, 0.13, 0.13, 0.12, 0.17];
/// Shares of the width: phase, step, asked, read, when and by.
const STEPS: [f32; 5] = [0.05, 0.45, 0.14, 0.16, 0.2];
/// Shares of the width: what, acceptable, found, how, when and by.
const CHECKS: [f32; 5] = [0.19, 0.25, 0.17, 0.2, 0.19];
/// Shares of the width: label, lot, code, date, printed, on containers, destroyed.
const LABELS: [f32; 7] = [0.24, 0.15, 0.15, 0.14, 0.1, 0.12, 0.1];
/// Shares of the width: number, when, who, what.
const LOG: [f32; 4] = [0.05, 0.15, 0.12, 0.68];

/// What every record says at its foot.
const NOTICE: &str = "Printed from the record kept by the program; the record itself is the file. It tells what was recorded and what it was held against. It does not replace the assessment of the product by a qualified safety assessor.";

/// The record as a PDF. `points` are those of the release gate, see
/// [`crate::batch::record::gate`].
pub fn record_pdf<'p>(
    record: &Record,
    points: &[Point],
    on: impl Into<Printing<'p>>,
) -> Result<Vec<u8>, PdfError> {
    let mut flow = Flow::new(on)?;
    head(&mut flow, record);
    weighed(&mut flow, record);
    steps(&mut flow, record);
    checks(&mut flow, record);
    packed(&mut flow, record);
    deviations(&mut flow, record, points);
    amendments(&mut flow, record);
    decision(&mut flow, record);
    log(&mut flow, record);
    flow.space(6.0);
    flow.paragraph(NOTICE, SMALL, 0.0);
    let opening = record.opening();
    flow.finish(
        &format!("Batch record {}", record.code()),
        &format!(
            "Batch {} · {} · state {} · {} entries",
            record.code(),
            opening.formula.name,
            state_of(&opening.formula, opening.variant()),
            record.entries().len()
        ),
    )
}

fn labelled(label: &str, value: &str) -> PaperCell {
    let value = if value.is_empty() { "—" } else { value };
    PaperCell::Text(
        vec![(label.to_owned(), SMALL), (value.to_owned(), BODY)],
        Align::Left,
    )
}

fn begin(flow: &mut Flow<'_>, heads: &[&str], widths: &[f32], numbers: &[usize]) {
    let cell = |(place, head): (usize, &&str)| {
        if numbers.contains(&place) {
            PaperCell::number(*head, SMALL)
        } else {
            PaperCell::text(*head, SMALL)
        }
    };
    flow.begin_table(heads.iter().enumerate().map(cell).collect(), widths);
}

fn signed(at: &str, by: &str) -> PaperCell {
    PaperCell::Text(
        vec![(moment(at), SMALL), (by.to_owned(), SMALL)],
        Align::Left,
    )
}

fn head(flow: &mut Flow<'_>, record: &Record) {
    let opening = record.opening();
    flow.paragraph("Batch record", SMALL, 0.0);
    flow.paragraph(
        &format!("{} · {}", record.code(), opening.formula.name),
        Style::bold(17.0),
        0.0,
    );
    let variant = opening.variant();
    flow.paragraph(
        &format!(
            "{} · {} · formula state {}",
            variant.name,
            variant.product.kinds.label(),
            state_of(&opening.formula, variant)
        ),
        Style::quiet(10.0),
        0.0,
    );
    if let Some(words) = record.trial_words() {
        flow.space(4.0);
        flow.row(&[PaperCell::text(words, Style::bold(11.0))], &[1.0], true);
    }
    for lost in record.lost() {
        let words = format!("Entry {} is lost or damaged: {}", lost.number, lost.why);
        flow.paragraph(&words, BOLD, 0.0);
    }
    flow.space(4.0);
    flow.rule(1.2);
    let begun = record.entries().first();
    let status = record
        .decision()
        .map_or("undecided", |(decision, _)| decision.label());
    let closed = if record.is_closed() { ", closed" } else { "" };
    let quarter = [0.25; 4];
    flow.row(
        &[
            labelled("Batch code", record.code().as_str()),
            labelled("Begun", &begun.map_or_else(String::new, |e| moment(&e.at))),
            labelled("Begun by", begun.map_or("", |e| e.by.as_ref())),
            labelled("Status", &format!("{status}{closed}")),
        ],
        &quarter,
        false,
    );
    let finest = opening.scales.iter().map(WeighingScale::resolution).min();
    let in_all = |mass| shown(mass, finest.unwrap_or_default(), opening.unit);
    let mut batch = in_all(opening.batch);
    let planned = record
        .lines()
        .fold(ExactMass::ZERO, |sum, line| sum + line.planned);
    let begun_with = opening
        .lines
        .iter()
        .fold(ExactMass::ZERO, |sum, line| sum + line.mass);
    if planned != begun_with {
        batch = format!("{batch}, made {}", in_all(planned));
    }
    let filling = opening.filling.map_or_else(String::new, |f| f.words());
    let density = opening.density.as_ref().map_or_else(String::new, |d| {
        format!(
            "{}, {}",
            typed::shown_density(d.value),
            d.source.basis.label()
        )
    });
    let vessel = opening.vessel.as_ref().map_or("", |v| v.name().as_ref());
    flow.row(
        &[
            labelled("Batch asked for", &batch),
            labelled("Filling", &filling),
            labelled("Density", &density),
            labelled("Vessel", vessel),
        ],
        &quarter,
        false,
    );
    let scales: Vec<String> = opening
        .scales
        .iter()
        .map(|s| s.words(opening.unit))
        .collect();
    flow.paragraph(&format!("Scales: {}", scales.join("; ")), SMALL, 0.0);
    flow.rule(0.4);
}

fn portions<'r>(
    record: &'r Record,
    of: impl Fn(&Portion) -> bool + 'r,
) -> impl Iterator<Item = &'r Portion> {
    record.portions().iter().filter(move |p| !p.struck && of(p))
}

/// How far a weighing is from what was asked for.
fn relative(status: &LineStatus) -> String {
    format!("{} %", measure::signed(status.relative().as_percent(), 2))
}

fn weighed(flow: &mut Flow<'_>, record: &Record) {
    flow.heading("Weighed", 11.0);
    begin(
        flow,
        &[
            "",
            "Material",
            "Asked for",
            "Weighed",
            "Off by",
            "Lot",
            "When and by",
        ],
        &WEIGHED,
        &[2, 3, 4],
    );
    for (line, status) in record.formula_lines() {
        weighed_line(flow, record, line, &status);
    }
    for water in portions(record, |p| p.line.is_none()) {
        flow.row(
            &[
                PaperCell::Empty,
                PaperCell::text(WATER_MADE_UP, BODY),
                PaperCell::Empty,
                PaperCell::number(record.mass_words(None, water.mass), BOLD),
                PaperCell::Empty,
                PaperCell::text(lot_of(water), BODY),
                signed(&water.at, &water.by),
            ],
            &WEIGHED,
            false,
        );
        flow.rule(0.3);
    }
    flow.row(
        &[
            PaperCell::Empty,
            PaperCell::text("Weighed in all", BOLD),
            PaperCell::Empty,
            PaperCell::number(record.mass_words(None, record.weighed()), BOLD),
            PaperCell::Empty,
            PaperCell::Empty,
            PaperCell::Empty,
        ],
        &WEIGHED,
        true,
    );
    flow.end_table();
}

fn lot_of(portion: &Portion) -> String {
    let lot = portion.lot.as_ref();
    lot.map_or_else(|| "no lot".to_owned(), ToString::to_string)
}

/// What was asked for of a line and what was weighed, each portion in a row of its own.
fn weighed_line(flow: &mut Flow<'_>, record: &Record, line: &Line, status: &LineStatus) {
    let opening = record.opening();
    let letter = opening.variant().phase_of(line.id);
    let letter = letter.map_or("", |p| p.letter.as_ref());
    let show = |mass| record.mass_words(Some(line.id), mass);
    let to_weigh = opening.lines.iter().find(|l| l.line == line.id);
    let step = opening.resolution(to_weigh.map_or(0, |l| l.scale));
    let within = |tolerance| shown(tolerance, step, opening.unit);
    let asked = vec![
        (show(status.planned), BODY),
        (format!("± {}", within(status.tolerance)), SMALL),
    ];
    let off = match status.state {
        LineState::Pending => vec![("not weighed".to_owned(), SMALL)],
        LineState::Within => vec![(relative(status), BODY)],
        LineState::Short | LineState::Over => vec![
            (relative(status), BODY),
            (status.state.label().to_owned(), BOLD),
        ],
    };
    let mut name = vec![(opening.name_of(line.id).to_string(), BOLD)];
    if let Some(who) = record.line_checked_by(line.id) {
        name.push((format!("checked by {who}"), SMALL));
    }
    let of_line: Vec<&Portion> = portions(record, |p| p.line == Some(line.id)).collect();
    let mut rest = of_line.iter().skip(1);
    let first = of_line.first();
    name.extend(
        of_line
            .iter()
            .filter(|p| !p.remark.is_empty())
            .map(|p| (p.remark.to_string(), SMALL)),
    );
    let mass_of = |p: Option<&&Portion>| p.map_or_else(String::new, |p| show(p.mass));
    flow.row(
        &[
            PaperCell::text(letter, BODY),
            PaperCell::Text(name, Align::Left),
            PaperCell::Text(asked, Align::Right),
            PaperCell::number(mass_of(first), BOLD),
            PaperCell::Text(off, Align::Right),
            PaperCell::text(first.map_or_else(String::new, |p| lot_of(p)), BODY),
            first.map_or(PaperCell::Empty, |p| signed(&p.at, &p.by)),
        ],
        &WEIGHED,
        false,
    );
    for portion in rest.by_ref() {
        flow.row(
            &[
                PaperCell::Empty,
                PaperCell::text("further portion", SMALL),
                PaperCell::Empty,
                PaperCell::number(show(portion.mass), BOLD),
                PaperCell::Empty,
                PaperCell::text(lot_of(portion), BODY),
                signed(&portion.at, &portion.by),
            ],
            &WEIGHED,
            false,
        );
    }
    flow.rule(0.3);
}

/// The last standing entry that satisfies a condition.
fn last(record: &Record, is: impl Fn(&Event) -> bool) -> Option<(&Entry, &Event)> {
    record.entries().iter().rev().find_map(|entry| {
        let (event, struck) = record.standing(entry.number)?;
        (!struck && is(event)).then_some((entry, event))
    })
}

fn steps(flow: &mut Flow<'_>, record: &Record) {
    let variant = record.opening().variant();
    if variant.phases.iter().all(|p| p.steps.is_empty()) {
        return;
    }
    flow.heading("Worked", 11.0);
    begin(
        flow,
        &["", "Step", "Asked for", "Read, remark", "When and by"],
        &STEPS,
        &[],
    );
    for (phase, step) in variant
        .phases
        .iter()
        .flat_map(|p| p.steps.iter().map(move |s| (p, s)))
    {
        let asked = [
            step.temperature.map(typed::shown_temperature),
            step.minutes.map(|m| format!("{m} min")),
        ];
        let asked: Vec<String> = asked.into_iter().flatten().collect();
        let done = last(
            record,
            |e| matches!(e, Event::Worked { step: of, .. } if *of == step.id),
        );
        let (read, signature) = match done {
            Some((
                entry,
                Event::Worked {
                    temperature,
                    remark,
                    ..
                },
            )) => {
                let degrees = temperature.map(typed::shown_temperature);
                let remark = (!remark.is_empty()).then(|| remark.to_string());
                let words: Vec<String> = degrees.into_iter().chain(remark).collect();
                (words.join(", "), signed(&entry.at, &entry.by))
            }
            _ => ("not done".to_owned(), PaperCell::Empty),
        };
        let mut text = vec![(step.text.to_string(), BODY)];
        if !step.check.is_empty() {
            text.push((format!("Check: {}", step.check), SMALL));
        }
        flow.row(
            &[
                PaperCell::text(phase.letter.as_ref(), BODY),
                PaperCell::Text(text, Align::Left),
                PaperCell::text(asked.join(", "), BODY),
                PaperCell::text(read, BODY),
                signature,
            ],
            &STEPS,
            false,
        );
        flow.rule(0.3);
    }
    flow.end_table();
}

fn checks(flow: &mut Flow<'_>, record: &Record) {
    flow.heading("Checks against the specification", 11.0);
    begin(
        flow,
        &["What", "Acceptable", "Found", "How", "When and by"],
        &CHECKS,
        &[],
    );
    let mut shown_entries = Vec::new();
    for wanted in record.opening().variant().must_measure() {
        let found = record.measured(&wanted);
        let value = record.found(&wanted);
        let accept = wanted.asked_words();
        let verdict = value.as_deref().map(|v| wanted.judge(v));
        let value = match value {
            Some(value) => match verdict {
                Some(Verdict::Outside(_)) => format!("{value}, outside"),
                Some(Verdict::Unread(_)) => format!("{value}, not compared"),
                _ => value,
            },
            None if wanted.quality.is_measured() => "not measured".to_owned(),
            None => "not filled".to_owned(),
        };
        let entry = found.and_then(|m| {
            shown_entries.push(m.entry);
            record.entries().iter().find(|e| e.number == m.entry)
        });
        let method = match found {
            Some(m) if m.late && m.remark.is_empty() => "added after closing".to_owned(),
            Some(m) if m.late => format!("{}; added after closing", m.remark),
            Some(m) => m.remark.to_string(),
            None if !wanted.quality.is_measured() && wanted.method.is_empty() => {
                "filled of what was weighed".to_owned()
            }
            None => wanted.method.to_string(),
        };
        flow.row(
            &[
                PaperCell::text(wanted.name(), BODY),
                PaperCell::text(accept, BODY),
                PaperCell::text(value, BOLD),
                PaperCell::text(method, SMALL),
                entry.map_or(PaperCell::Empty, |e| signed(&e.at, &e.by)),
            ],
            &CHECKS,
            false,
        );
        flow.rule(0.3);
    }
    // Measured besides, or measured again.
    for m in record.measurements().iter().filter(|m| !m.struck) {
        if shown_entries.contains(&m.entry) {
            continue;
        }
        let entry = record.entries().iter().find(|e| e.number == m.entry);
        let when = if m.late {
            "added after closing"
        } else {
            "besides"
        };
        flow.row(
            &[
                PaperCell::text(format!("{} ({when})", m.name()), BODY),
                PaperCell::Empty,
                PaperCell::text(m.value.as_ref(), BODY),
                PaperCell::text(m.remark.as_ref(), SMALL),
                entry.map_or(PaperCell::Empty, |e| signed(&e.at, &e.by)),
            ],
            &CHECKS,
            false,
        );
        flow.rule(0.3);
    }
    flow.end_table();
}

fn packed(flow: &mut Flow<'_>, record: &Record) {
    flow.heading("Packaging, filling and yield", 11.0);
    for used in record.packaging() {
        let lot = if used.lot.is_empty() {
            "no lot".to_owned()
        } else {
            format!("lot {}", used.lot)
        };
        let words = format!(
            "{}, {lot}: {} used, {} spoilt",
            used.what, used.used, used.spoilt
        );
        flow.paragraph(&words, BODY, 0.0);
    }
    if record.packaging().is_empty() {
        flow.paragraph("No packaging is recorded.", SMALL, 0.0);
    }
    labels(flow, record);
    match record.reconciliation() {
        Some(sum) => {
            let show = |mass| record.mass_words(None, mass);
            let sixth = [1.0; 6];
            flow.row(
                &[
                    labelled(
                        "Containers filled",
                        &record
                            .containers()
                            .map_or_else(String::new, |n| n.to_string()),
                    ),
                    labelled("Filled, net", &show(sum.filled)),
                    labelled("Retained and tested", &show(sum.samples)),
                    labelled("Waste", &show(sum.waste)),
                    labelled("Not accounted for", &show(sum.unaccounted)),
                    labelled("Yield", &format!("{:.1} %", sum.yield_share.as_percent())),
                ],
                &sixth,
                false,
            );
        }
        None => flow.paragraph("The batch is not filled.", SMALL, 0.0),
    }
}

/// The runs of labels, each with what stands on them and where they went.
fn labels(flow: &mut Flow<'_>, record: &Record) {
    if record.labels().is_empty() {
        flow.paragraph("No run of labels is recorded.", SMALL, 0.0);
        return;
    }
    begin(
        flow,
        &[
            "Labels",
            "Printed on lot",
            "Batch code",
            "Date on them",
            "Printed",
            "On containers",
            "Destroyed",
        ],
        &LABELS,
        &[4, 5, 6],
    );
    for run in record.labels() {
        let or = |text: &str, none: &str| if text.is_empty() { none } else { text }.to_owned();
        flow.row(
            &[
                PaperCell::text(run.what.as_ref(), BODY),
                PaperCell::text(or(&run.lot, "no lot"), BODY),
                PaperCell::text(run.code.as_ref(), BOLD),
                PaperCell::text(or(&run.date, "none"), BOLD),
                PaperCell::number(run.printed.to_string(), BODY),
                PaperCell::number(run.applied.to_string(), BODY),
                PaperCell::number(run.spoilt.to_string(), BODY),
            ],
            &LABELS,
            false,
        );
        flow.rule(0.3);
    }
    flow.end_table();
}

fn deviations(flow: &mut Flow<'_>, record: &Record, points: &[Point]) {
    flow.heading("Deviations and open points", 11.0);
    for point in points {
        let sentence = point.sentence();
        let mut words = sentence.trim_end_matches('.').to_owned();
        if let Some((who, why)) = &point.done_by {
            let _ = write!(words, "; done by {who}: {why}");
        }
        let words = match &point.accepted {
            Some((who, why)) => format!("{words}; accepted by {who}: {why}"),
            None => format!("Open: {words}"),
        };
        let style = if point.accepted.is_some() { BODY } else { BOLD };
        flow.paragraph(&words, style, 0.0);
    }
    if points.is_empty() {
        flow.paragraph("None.", BODY, 0.0);
    }
    let remarks =
        record
            .entries()
            .iter()
            .filter_map(|entry| match record.standing(entry.number)? {
                (Event::Remarked { text, open: false }, false) => Some((entry, text)),
                _ => None,
            });
    for (entry, text) in remarks {
        let words = format!("Remark, {}, {}: {text}", moment(&entry.at), entry.by);
        flow.paragraph(&words, BODY, 0.0);
    }
}

fn amendments(flow: &mut Flow<'_>, record: &Record) {
    let amended: Vec<&Entry> = record
        .entries()
        .iter()
        .filter(|e| matches!(e.event, Event::Amended { .. }))
        .collect();
    flow.heading("Corrections", 11.0);
    if amended.is_empty() {
        flow.paragraph("None.", BODY, 0.0);
        return;
    }
    for entry in amended {
        let words = format!(
            "{} · {}, {}: {}",
            entry.number,
            moment(&entry.at),
            entry.by,
            record.describe(entry)
        );
        flow.paragraph(&words, BODY, 0.0);
    }
}

fn decision(flow: &mut Flow<'_>, record: &Record) {
    flow.need(110.0);
    flow.heading("Decision", 11.0);
    let decided = last(record, |e| matches!(e, Event::Decided { .. }));
    let words = match (decided, record.decision()) {
        (Some((entry, _)), Some((decision, reason))) => {
            let reason = if reason.is_empty() {
                String::new()
            } else {
                format!(": {reason}")
            };
            // A decision that was changed is that of who changed it.
            let of = entry.number;
            let changed = record.entries().iter().rev();
            let mut changed =
                changed.filter(|e| matches!(e.event, Event::Amended { entry, .. } if entry == of));
            let entry = changed.next().unwrap_or(entry);
            format!(
                "{}{reason}, {}, {}",
                decision.label(),
                moment(&entry.at),
                entry.by
            )
        }
        _ => "not decided".to_owned(),
    };
    flow.paragraph(&words, BOLD, 0.0);
    if let Some(who) = record.looked_through_by() {
        flow.paragraph(&format!("Looked through by {who}"), BODY, 0.0);
    }
    for (to, containers, day) in record.dispatches() {
        let words = format!("{containers} containers sent to {to} on {day}");
        flow.paragraph(&words, BODY, 0.0);
    }
    let labels = ["Made by", "Checked by", "Released by", "Day"];
    let widths = [1.0; 4];
    flow.space(6.0);
    flow.row(&labels.map(|l| PaperCell::text(l, SMALL)), &widths, false);
    flow.row(&labels.map(|_| PaperCell::Field), &widths, false);
}

fn log(flow: &mut Flow<'_>, record: &Record) {
    flow.heading("All entries as they were made", 11.0);
    begin(flow, &["", "When", "Who", "What"], &LOG, &[]);
    for entry in record.entries() {
        let struck = matches!(record.standing(entry.number), Some((_, true)));
        let what = record.describe(entry);
        let what = if struck {
            format!("{what} (struck out later)")
        } else {
            what
        };
        flow.row(
            &[
                PaperCell::text(entry.number.to_string(), SMALL),
                PaperCell::text(moment(&entry.at), SMALL),
                PaperCell::text(entry.by.as_ref(), SMALL),
                PaperCell::text(what, SMALL),
            ],
            &LOG,
            false,
        );
    }
    flow.end_table();
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::batch::record::tests::{add, opening, record, weigh};
    use crate::batch::workshop::Paper;

    #[test]
    fn the_same_record_gives_the_same_bytes_on_both_papers() {
        let mut batch = record(opening("26-001"));
        add(&mut batch, weigh(10, "801 g", "W1")).unwrap();
        for paper in Paper::ALL {
            let print = || record_pdf(&batch, &batch.points(), paper).unwrap();
            let bytes = print();
            assert!(bytes.starts_with(b"%PDF-"));
            assert_eq!(bytes, print());
        }
    }
}
