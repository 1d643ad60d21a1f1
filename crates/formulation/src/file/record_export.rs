//! A batch record as CSV: one row an entry, as it was recorded, corrections included.

use serde::Serialize;

use crate::batch::record::Record;
use crate::harmless;

#[derive(Serialize)]
struct Row<'a> {
    batch: &'a str,
    entry: u64,
    at: &'a str,
    by: &'a str,
    what: String,
}

/// Writes the record. Nothing is left out: a corrected entry and its correction both have a
/// row.
pub fn csv(record: &Record) -> Result<String, csv::Error> {
    let mut writer = csv::Writer::from_writer(Vec::new());
    for entry in record.entries() {
        writer.serialize(Row {
            batch: record.code().as_str(),
            entry: entry.number,
            at: &entry.at,
            by: &entry.by,
            what: record.describe(entry),
        })?;
    }
    harmless::csv(writer)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::batch::record::tests::{add, opening, record, weigh};

    #[test]
    fn every_entry_has_a_row() {
        let mut batch = record(opening("26-001"));
        add(&mut batch, weigh(10, "801 g", "W1")).unwrap();
        let text = csv(&batch).unwrap();
        let mut reader = csv::Reader::from_reader(text.as_bytes());
        let rows: Vec<csv::StringRecord> = reader.records().map(Result::unwrap).collect();
        assert_eq!(rows.len(), 2);
        assert_eq!(&rows[1][4], "801.0 g of Water, lot W1");
    }
}
