use std::fs;

use proptest::prelude::*;

use super::*;
use crate::batch::record::tests::{opening, weigh};
use crate::batch::record::{Change, Decision, Identity, Quality};
use crate::evaluation::{Context, evaluate};
use crate::formula::{Formula, ItemId};
use crate::mass::read_mass;
use crate::quantity::celsius;
use crate::stock::LotId;

const AT: &str = "2026-06-01T09:00:00+02:00";

fn begun(folder: &Path) -> RecordFile {
    RecordFile::create(folder, opening("26-001"), AT, "Wren").unwrap()
}

fn header() -> String {
    ledger::begin::<BatchLedger>()
        .unwrap()
        .0
        .trim_end()
        .to_owned()
}

fn every_event() -> Vec<Event> {
    vec![
        weigh(10, "800 g", "W1"),
        weigh(11, "200 g", "G1"),
        Event::Rescaled {
            masses: vec![(ItemId(10), read_mass("801 g", None).unwrap())],
            reason: "why not".into(),
        },
        Event::MadeUp {
            mass: read_mass("0.3 oz", None).unwrap(),
            lot: LotId::new("W1"),
        },
        Event::Measured {
            what: Quality::Ph,
            name: "".into(),
            value: "5.25".into(),
            remark: "meter, 25 °C".into(),
        },
        Event::Packed {
            what: "bottle".into(),
            lot: "".into(),
            used: 10,
            spoilt: 1,
        },
        Event::Filled {
            containers: 9,
            mass: read_mass("900 g", None).unwrap(),
            samples: read_mass("20 g", None).unwrap(),
            waste: read_mass("70 g", None).unwrap(),
        },
        Event::Remarked {
            text: "a line\nbreak, “quotes” and \\".into(),
            open: false,
        },
        Event::Labelled {
            what: "front".into(),
            lot: "L-9".into(),
            code: "26-001".into(),
            date: "2028-06".into(),
            printed: 12,
            applied: 9,
            spoilt: 3,
        },
        Event::Deviated {
            lot: LotId::new("W1"),
            what: "lot W1 was to be used by 2026-05-01".into(),
            reason: "tested again".into(),
        },
        Event::Accepted {
            point: "lot W1 was to be used by 2026-05-01".into(),
            about: None,
            reason: "as tested".into(),
        },
        Event::Accepted {
            point: "the appearance is not judged".into(),
            about: None,
            reason: "as the last one".into(),
        },
        Event::Accepted {
            point: "the odour is not judged".into(),
            about: Some(Identity::new("not measured").with("odour").with("odour")),
            reason: "as the last one".into(),
        },
        Event::Checked {
            line: Some(ItemId(10)),
        },
        Event::Checked { line: None },
        Event::Decided {
            decision: Decision::Release,
            reason: "good".into(),
        },
        Event::Closed,
        Event::Amended {
            entry: 2,
            change: Change::Lot(LotId::new("W2")),
            old: "W1".into(),
            reason: "misread".into(),
        },
        Event::Dispatched {
            to: "Heath Fair".into(),
            containers: 3,
            day: jiff::civil::date(2026, 6, 2),
        },
        // Added after closing.
        Event::Measured {
            what: Quality::Other,
            name: "foam height".into(),
            value: "12 cm".into(),
            remark: "cylinder".into(),
        },
        Event::Remarked {
            text: "no sediment".into(),
            open: true,
        },
    ]
}

#[test]
fn a_record_is_read_back_as_written() {
    let folder = tempfile::tempdir().unwrap();
    let mut file = begun(folder.path());
    // Nothing is found in the mix, so that it can be released.
    let nothing = Formula::new("nothing");
    let context = Context::new(jiff::civil::date(2026, 6, 1));
    let found = evaluate(&nothing, nothing.active(), &context);
    for event in every_event() {
        let checked = matches!(event, Event::Checked { .. });
        let by = if checked { "Fern" } else { "Wren" };
        file.append_with(AT, by, event, Some(&found)).unwrap();
    }
    let loaded = read(file.path()).unwrap();
    assert_eq!(&loaded.record, file.record());
    assert_eq!(loaded.faults, []);
    assert!(!loaded.torn);
    let later: Vec<String> = loaded
        .record
        .entries()
        .iter()
        .rev()
        .take(2)
        .map(|e| loaded.record.describe(e))
        .collect();
    assert_eq!(
        later,
        [
            "to be looked at before the release: no sediment (added after closing)",
            "foam height 12 cm: cylinder (added after closing)",
        ]
    );
}

#[test]
fn a_step_keeps_its_temperature() {
    let mut o = opening("26-001");
    let mut variant = o.variant().as_ref().clone();
    let mut phase = variant.phases[0].as_ref().clone();
    phase.steps.push(crate::formula::Step {
        id: ItemId(50),
        text: "warm".into(),
        temperature: Some(celsius(75.0)),
        minutes: Some(20),
        tool: "".into(),
        check: "".into(),
    });
    variant.phases[0] = Arc::new(phase);
    let mut formula = o.formula.as_ref().clone();
    formula.variants = vec![Arc::new(variant)];
    o.formula = Arc::new(formula);
    let folder = tempfile::tempdir().unwrap();
    let mut file = RecordFile::create(folder.path(), o, AT, "Wren").unwrap();
    let worked = Event::Worked {
        step: ItemId(50),
        temperature: Some(celsius(74.6)),
        remark: "22 min".into(),
    };
    file.append(AT, "Wren", worked).unwrap();
    assert_eq!(&read(file.path()).unwrap().record, file.record());
}

#[test]
fn a_code_is_taken_once() {
    let folder = tempfile::tempdir().unwrap();
    let _first = begun(folder.path());
    assert!(matches!(
        RecordFile::create(folder.path(), opening("26-001"), AT, "Wren"),
        Err(RecordFileError::Ledger(LedgerFileError::File(
            FileError::Store(StoreError::Exists { .. })
        )))
    ));
}

#[test]
fn two_windows_do_not_write_one_record() {
    let folder = tempfile::tempdir().unwrap();
    let first = begun(folder.path());
    assert!(matches!(
        RecordFile::open(first.path()),
        Err(error) if error.is_busy()
    ));
}

/// Cut at every byte after the opening: the record opens with exactly the whole entries,
/// and can be gone on with.
#[test]
fn a_file_cut_anywhere_opens_with_every_whole_entry() {
    let folder = tempfile::tempdir().unwrap();
    let mut file = begun(folder.path());
    let path = file.path().to_path_buf();
    let mut ends = vec![fs::metadata(&path).unwrap().len() as usize];
    for event in every_event().into_iter().take(4) {
        file.append(AT, "Wren", event).unwrap();
        ends.push(fs::metadata(&path).unwrap().len() as usize);
    }
    drop(file);
    let bytes = fs::read(&path).unwrap();
    for cut in ends[0]..=bytes.len() {
        let loaded = read_bytes(&bytes[..cut], "cut").unwrap();
        // The line break alone is no loss.
        let whole = ends.iter().filter(|&&end| end <= cut + 1).count();
        assert_eq!(loaded.record.entries().len(), whole, "cut at {cut}");
        let torn = !ends.contains(&cut) && !ends.contains(&(cut + 1));
        assert_eq!(loaded.torn, torn, "cut at {cut}");
        assert_eq!(loaded.faults, [], "cut at {cut}");
    }
    // Go on after a cut, and after zeros at the end.
    for tail in [&b"0123"[..], &[0; 700][..]] {
        let mut damaged = bytes[..ends[2]].to_vec();
        damaged.extend_from_slice(tail);
        fs::write(&path, &damaged).unwrap();
        // The count kept beside it would call the rest cut off.
        fs::remove_file(head_path(&path)).unwrap();
        let mut file = RecordFile::open(&path).unwrap();
        let remark = Event::Remarked {
            text: "on".into(),
            open: false,
        };
        assert_eq!(file.append(AT, "Wren", remark).unwrap(), 4);
        drop(file);
        let loaded = read(&path).unwrap();
        assert_eq!(loaded.record.entries().len(), 4);
        assert!(!loaded.torn && loaded.faults.is_empty());
    }
}

#[test]
fn a_changed_entry_breaks_the_chain_but_can_be_read() {
    let folder = tempfile::tempdir().unwrap();
    let mut file = begun(folder.path());
    for event in every_event().into_iter().take(3) {
        file.append(AT, "Wren", event).unwrap();
    }
    let path = file.path().to_path_buf();
    drop(file);
    let text = fs::read_to_string(&path).unwrap();
    fs::write(&path, text.replace("800 g", "810 g")).unwrap();
    let mut file = RecordFile::open(&path).unwrap();
    // The opening also names 800 g as planned, so two entries were changed.
    let lines: Vec<usize> = file.faults().iter().map(|f| f.line).collect();
    assert_eq!(lines, [2, 3]);
    assert_eq!(file.record().entries().len(), 4);
    assert!(matches!(
        file.append(AT, "Wren", Event::Closed),
        Err(RecordFileError::Ledger(LedgerFileError::Broken(_)))
    ));
    let lines: Vec<&str> = text.lines().collect();
    let without = [lines[0], lines[1], lines[3], lines[4]].join("\n") + "\n";
    let loaded = read_bytes(without.as_bytes(), "x").unwrap();
    assert_eq!(loaded.faults[0].line, 3);
    // What is missing is listed, what follows counts.
    assert_eq!(loaded.record.lost()[0].number, 2);
    assert_eq!(loaded.record.entries().len(), 3);
}

/// A record as version 1 wrote it: without a head, with the corrections there were then.
#[test]
fn a_record_of_the_first_version_is_read_and_gone_on_with() {
    let folder = tempfile::tempdir().unwrap();
    let mut file = begun(folder.path());
    for event in every_event().into_iter().take(2) {
        file.append(AT, "Wren", event).unwrap();
    }
    let path = file.path().to_path_buf();
    drop(file);
    // Written anew by the rule of the format, on its own.
    let text = fs::read_to_string(&path).unwrap();
    let mut hash = String::new();
    let mut old = String::new();
    for (i, line) in text.lines().enumerate() {
        if i == 0 {
            let header = line.replace("\"version\":2", "\"version\":1");
            hash = ledger::chained("", &header);
            old.extend([header.as_str(), "\n"]);
        } else {
            let body = line.split_once(' ').unwrap().1;
            hash = ledger::chained(&hash, body);
            old.extend([hash.as_str(), " ", body, "\n"]);
        }
    }
    fs::write(&path, old).unwrap();
    fs::remove_file(head_path(&path)).unwrap();
    let loaded = read(&path).unwrap();
    assert!(loaded.faults.is_empty() && loaded.remarks.is_empty());
    let mut file = RecordFile::open(&path).unwrap();
    file.append(AT, "Wren", weigh(10, "1 g", "W1")).unwrap();
    drop(file);
    let loaded = read(&path).unwrap();
    assert_eq!(loaded.faults, []);
    assert_eq!(loaded.record.entries().len(), 4);
    assert!(head_path(&path).exists());
}

/// The audit's case: one zero byte in the middle cost ten confirmed entries.
#[test]
fn a_zero_byte_destroys_nothing_but_its_entry() {
    let folder = tempfile::tempdir().unwrap();
    let mut file = begun(folder.path());
    for _ in 0..29 {
        file.append(AT, "Wren", weigh(10, "1 g", "W1")).unwrap();
    }
    let path = file.path().to_path_buf();
    drop(file);
    let mut bytes = fs::read(&path).unwrap();
    let start = bytes
        .iter()
        .enumerate()
        .filter(|(_, b)| **b == b'\n')
        .nth(20)
        .unwrap()
        .0;
    bytes[start + 80] = 0;
    fs::write(&path, &bytes).unwrap();
    let mut file = RecordFile::open(&path).unwrap();
    assert_eq!(file.record().entries().len(), 29);
    assert_eq!(file.record().lost()[0].number, 21);
    assert_eq!(file.faults().len(), 1);
    assert_eq!(file.faults()[0].entry, Some(21));
    assert!(file.append(AT, "Wren", weigh(10, "1 g", "W1")).is_err());
    drop(file);
    // Nothing was cut off.
    assert_eq!(fs::read(&path).unwrap(), bytes);
    // In the opening: the file is listed, and a search for a lot finds it.
    let start = bytes.iter().position(|&b| b == b'\n').unwrap();
    bytes[start + 200] = 0;
    fs::write(&path, &bytes).unwrap();
    let listed = read_folder(folder.path());
    assert_eq!(listed.unreadable.len(), 1);
    assert!(!listed.is_sound());
    assert!(listed.unreadable[0].may_match("w1"));
    assert!(!listed.unreadable[0].may_match("g7"));
    let words = listed.problems().concat();
    assert!(
        words.contains("26-001") && !words.contains("delete"),
        "{words}"
    );
}

#[test]
fn entries_cut_off_and_files_taken_away_are_noticed() {
    let folder = tempfile::tempdir().unwrap();
    let mut file = begun(folder.path());
    for event in every_event().into_iter().take(3) {
        file.append(AT, "Wren", event).unwrap();
    }
    let path = file.path().to_path_buf();
    drop(file);
    let text = fs::read_to_string(&path).unwrap();
    let kept: Vec<&str> = text.lines().take(4).collect();
    fs::write(&path, kept.join("\n") + "\n").unwrap();
    let loaded = read(&path).unwrap();
    assert_eq!(loaded.record.entries().len(), 3);
    assert_eq!(loaded.faults.len(), 1);
    assert!(
        RecordFile::open(&path)
            .unwrap()
            .append(AT, "Wren", Event::Closed)
            .is_err()
    );
    fs::remove_file(&path).unwrap();
    let listed = read_folder(folder.path());
    assert_eq!(listed.gone, [path]);
    assert!(matches!(
        RecordFile::create(folder.path(), opening("26-001"), AT, "Wren"),
        Err(RecordFileError::Ledger(LedgerFileError::Gone(_)))
    ));
    assert!(list_folder(&folder.path().join("none")).error.is_some());
    assert!(read_folder(&folder.path().join("none")).is_sound());
}

#[test]
fn what_was_torn_is_kept_and_said() {
    let folder = tempfile::tempdir().unwrap();
    let mut file = begun(folder.path());
    file.append(AT, "Wren", weigh(10, "1 g", "W1")).unwrap();
    let path = file.path().to_path_buf();
    drop(file);
    let mut bytes = fs::read(&path).unwrap();
    bytes.extend(b"0123 half an entry");
    fs::write(&path, bytes).unwrap();
    let mut file = RecordFile::open(&path).unwrap();
    assert!(file.remarks()[0].contains("cut short"));
    file.append(AT, "Wren", weigh(10, "1 g", "W1")).unwrap();
    let kept = fs::read(ledger_file::damaged_path(&path)).unwrap();
    assert_eq!(kept, b"0123 half an entry");
    assert_eq!(read(&path).unwrap().record.entries().len(), 3);
}

#[test]
fn what_is_no_record_is_refused_with_words() {
    let message = |text: &str| read_bytes(text.as_bytes(), "x").unwrap_err().to_string();
    assert!(message("hello\n").contains("not a batch record"));
    let newer = header().replace("\"version\":2", "\"version\":3");
    assert!(message(&format!("{newer}\n")).contains("version 3"));
    assert!(message(&format!("{}\n", header())).contains("holds no entry"));
    assert!(message("").contains("not a batch record"));
}

proptest! {
    /// Whatever is recorded and corrected in whatever order: what is folded while writing
    /// is what is folded from the text, and no value that ever stood there is lost.
    #[test]
    fn any_record_is_read_back_and_keeps_every_value(
        acts in prop::collection::vec((0_u8..6, 1_i128..100_000, 0_usize..20), 1..25),
    ) {
        let grams = |n: i128| read_mass(&format!("{n} g"), None).unwrap();
        let mut record = Record::open(Entry {
            number: 1,
            at: AT.into(),
            by: "Wren".into(),
            event: Event::Opened(Box::new(opening("26-001"))),
        })
        .unwrap();
        let mut values = Vec::new();
        for (act, number, place) in acts {
            let line = ItemId(10 + (number % 2) as u64);
            let lot = format!("lot-{number}");
            let entry = (place as u64 % record.next_number()).max(1);
            let labels = Event::Labelled {
                what: "front".into(),
                lot: "L-9".into(),
                code: lot.as_str().into(),
                date: "2028-06".into(),
                printed: place as u32 + 1,
                applied: place as u32,
                spoilt: 0,
            };
            let event = match act {
                0 => Event::Weighed {
                    line,
                    mass: grams(number),
                    lot: LotId::new(&lot),
                    remark: "".into(),
                },
                1 => Event::Remarked { text: lot.as_str().into(), open: number % 2 == 0 },
                3 => labels,
                4 => {
                    let change = Change::Instead(Box::new(labels));
                    let old = record.value_of(entry, &change).unwrap_or_default();
                    Event::Amended { entry, change, old: old.into(), reason: "miscounted".into() }
                }
                2 => {
                    let change = Change::Lot(LotId::new(&lot));
                    let old = record.value_of(entry, &change).unwrap_or_default();
                    Event::Amended { entry, change, old: old.into(), reason: "misread".into() }
                }
                _ => {
                    let old = record.value_of(entry, &Change::Struck).unwrap_or_default();
                    Event::Amended {
                        entry,
                        change: Change::Struck,
                        old: old.into(),
                        reason: "by mistake".into(),
                    }
                }
            };
            if record.check(&event, "Wren", None).is_err() {
                continue;
            }
            if act < 5 {
                values.push(lot);
            }
            record
                .add(Entry {
                    number: record.next_number(),
                    at: AT.into(),
                    by: "Wren".into(),
                    event,
                })
                .unwrap();
        }
        let words = record.words();
        for value in &values {
            prop_assert!(words.contains(value.as_str()), "{value} is lost");
        }
        let mut read: Option<Record> = None;
        for entry in record.entries() {
            let text = BatchLedger::write(entry).unwrap();
            let entry = BatchLedger::read(&text, 2).unwrap();
            match &mut read {
                None => read = Some(Record::open(entry).unwrap()),
                Some(read) => read.add(entry).unwrap(),
            }
        }
        prop_assert_eq!(read.as_ref(), Some(&record));
    }
}
