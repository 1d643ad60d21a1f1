//! The figures of a batch in words, to go with the finished formula it was made from.

use super::mass::shown;
use super::record::{LineState, Record, moment};
use crate::formula::Variant;

/// Labels and values: code, days, masses and lots as weighed, measurements, yield,
/// decision. What was struck out is left out, what is corrected stands as corrected.
pub fn figures(record: &Record) -> Vec<(String, String)> {
    let opening = record.opening();
    let mut rows = vec![("batch".to_owned(), record.code().to_string())];
    if let Some(first) = record.entries().first() {
        rows.push(("begun".to_owned(), moment(&first.at)));
    }
    rows.push(("batch planned".to_owned(), format!("{} g", opening.batch)));
    rows.push((
        "weighed in all".to_owned(),
        format!("{} g", record.weighed()),
    ));
    for (line, status) in record.formula_lines() {
        let to_weigh = opening.lines.iter().find(|l| l.line == line.id);
        let step = opening.resolution(to_weigh.map_or(0, |l| l.scale));
        let show = |mass| shown(mass, step, opening.unit);
        let lots: Vec<String> = record
            .portions()
            .iter()
            .filter(|p| p.line == Some(line.id) && !p.struck)
            .map(|p| {
                p.lot
                    .as_ref()
                    .map_or_else(|| "no lot noted".to_owned(), |l| format!("lot {l}"))
            })
            .collect();
        let value = if status.state == LineState::Pending {
            format!("not weighed, {} planned", show(status.planned))
        } else {
            format!(
                "{} weighed, {} planned, {}",
                show(status.actual),
                show(status.planned),
                lots.join(" and ")
            )
        };
        rows.push((opening.name_of(line.id).to_string(), value));
    }
    for measured in record.measurements().iter().filter(|m| !m.struck) {
        let value = [measured.value.as_ref(), measured.remark.as_ref()];
        let value: Vec<&str> = value.into_iter().filter(|v| !v.is_empty()).collect();
        rows.push((
            format!("{}, measured", measured.what.label()),
            value.join("; "),
        ));
    }
    if let Some(sum) = record.reconciliation() {
        rows.push((
            "yield".to_owned(),
            format!(
                "{:.1} %: filled {} g, samples {} g, waste {} g, not accounted for {} g",
                sum.yield_share.as_percent(),
                sum.filled,
                sum.samples,
                sum.waste,
                sum.unaccounted
            ),
        ));
    }
    if let Some(count) = record.containers() {
        rows.push(("containers".to_owned(), count.to_string()));
    }
    rows.push((
        "decision".to_owned(),
        record.decision().map_or_else(
            || "undecided".to_owned(),
            |(decision, reason)| {
                if reason.is_empty() {
                    decision.label().to_owned()
                } else {
                    format!("{}: {reason}", decision.label())
                }
            },
        ),
    ));
    rows
}

/// Whether a batch was made from a variant as it stands: the same materials at the same
/// percentages in the same phases.
pub fn made_from(record: &Record, variant: &Variant) -> bool {
    let lines = |v: &Variant| -> Vec<_> {
        v.lines()
            .map(|(p, l)| (p.letter.clone(), l.material.clone(), l.percent))
            .collect()
    };
    lines(record.opening().variant()) == lines(variant)
}

#[cfg(test)]
mod tests {
    use super::super::record::tests::{add, opening, record, weigh};
    use super::*;

    #[test]
    fn masses_and_lots_stand_as_weighed() {
        let mut batch = record(opening("26-001"));
        add(&mut batch, weigh(10, "500 g", "W1")).unwrap();
        add(&mut batch, weigh(10, "301 g", "W2")).unwrap();
        let rows = figures(&batch);
        let value = |label: &str| {
            let row = rows.iter().find(|(l, _)| l == label);
            row.map(|(_, v)| v.as_str())
        };
        assert_eq!(value("batch"), Some("26-001"));
        assert_eq!(
            value("Water"),
            Some("801.0 g weighed, 800.0 g planned, lot W1 and lot W2")
        );
        assert_eq!(value("Glycerin"), Some("not weighed, 200.0 g planned"));
        assert_eq!(value("decision"), Some("undecided"));
    }

    #[test]
    fn a_changed_formula_is_not_what_the_batch_was_made_from() {
        let batch = record(opening("26-001"));
        let mut variant = batch.opening().variant().as_ref().clone();
        assert!(made_from(&batch, &variant));
        let mut phase = variant.phases[0].as_ref().clone();
        phase.lines[1].percent = "19".parse().unwrap();
        variant.phases[0] = std::sync::Arc::new(phase);
        assert!(!made_from(&batch, &variant));
    }
}
