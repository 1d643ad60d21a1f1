//! The recall list as CSV: every affected batch, and one row for each consignee.

use serde::Serialize;

use crate::batch::record::Decision;
use crate::batch::trace::Affected;
use crate::harmless;
use crate::stock::LotId;

#[derive(Serialize)]
struct Row<'a> {
    lot: String,
    material: String,
    batch: &'a str,
    formula: &'a str,
    begun: &'a str,
    mass_g: String,
    packaging: String,
    through_lots: String,
    decision: &'static str,
    containers_filled: Option<u32>,
    containers_in_house: u32,
    consignee: &'a str,
    containers_sent: Option<u32>,
    day_sent: String,
}

/// Writes the list. A batch of which nothing was sent has one row without consignee.
pub fn csv(affected: &[Affected]) -> Result<String, csv::Error> {
    let mut writer = csv::Writer::from_writer(Vec::new());
    for batch in affected {
        let through: Vec<&str> = batch.through.iter().map(LotId::as_str).collect();
        let lots: Vec<&str> = batch.lots.iter().map(|(lot, _)| lot.as_str()).collect();
        let mut names: Vec<&str> = batch.lots.iter().map(|(_, what)| what.as_ref()).collect();
        names.dedup();
        let row = |consignee, containers_sent, day_sent| Row {
            lot: lots.join(" "),
            material: names.join("; "),
            batch: batch.code.as_str(),
            formula: &batch.formula,
            begun: &batch.opened,
            // Of packaging nothing was weighed.
            mass_g: if batch.mass.is_zero() {
                String::new()
            } else {
                batch.mass.to_string()
            },
            packaging: batch
                .packaging
                .as_ref()
                .map_or_else(String::new, |(what, pieces)| format!("{pieces} × {what}")),
            through_lots: through.join(" "),
            decision: batch.decision.map_or("undecided", Decision::label),
            containers_filled: batch.containers,
            containers_in_house: batch.in_house,
            consignee,
            containers_sent,
            day_sent,
        };
        if batch.dispatches.is_empty() {
            writer.serialize(row("", None, String::new()))?;
        }
        for (to, count, day) in &batch.dispatches {
            writer.serialize(row(to, Some(*count), day.to_string()))?;
        }
    }
    harmless::csv(writer)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::batch_code::BatchCode;
    use crate::mass::read_mass;
    use jiff::civil::date;

    #[test]
    fn every_consignee_has_a_row() {
        let batch = |code: &str, dispatches| Affected {
            lots: vec![(LotId::new("G1").unwrap(), "Glycerin".into())],
            code: BatchCode::new(code).unwrap(),
            formula: "Gel, green".into(),
            opened: "2026-06-01T09:00:00+02:00".into(),
            mass: read_mass("12.5 g", None).unwrap(),
            through: LotId::new("P1").into_iter().collect(),
            packaging: None,
            decision: Some(Decision::Release),
            containers: Some(20),
            in_house: 5,
            dispatches,
        };
        let day = date(2026, 6, 2);
        let list = [
            batch(
                "26-001",
                vec![("Fair".into(), 10, day), ("Inn".into(), 5, day)],
            ),
            Affected {
                mass: crate::mass::ExactMass::ZERO,
                ..batch("26-002", Vec::new())
            },
        ];
        let text = csv(&list).unwrap();
        let mut reader = csv::Reader::from_reader(text.as_bytes());
        let rows: Vec<csv::StringRecord> = reader.records().map(Result::unwrap).collect();
        assert_eq!(rows.len(), 3);
        let head = reader.headers().unwrap().clone();
        let cell = |row: usize, name: &str| {
            let column = head.iter().position(|h| h == name).unwrap();
            rows[row][column].to_owned()
        };
        assert_eq!(cell(0, "formula"), "Gel, green");
        assert_eq!(
            (cell(0, "lot"), cell(2, "material")),
            ("G1".into(), "Glycerin".into())
        );
        assert_eq!(
            (cell(0, "mass_g"), cell(2, "mass_g")),
            ("12.5".into(), String::new())
        );
        assert_eq!(cell(1, "consignee"), "Inn");
        assert_eq!(cell(1, "containers_sent"), "5");
        assert_eq!(cell(2, "consignee"), "");
    }
}
