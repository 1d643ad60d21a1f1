use std::sync::Arc;

use super::*;
use crate::file::read_error::TextPosition;
use crate::formula::{EarlierState, ItemId};
use crate::quantity::Percent;
use crate::random_formula;
use proptest::prelude::*;

/// The example of the module's head, as a maker would write it by hand.
fn by_hand() -> String {
    let source = include_str!("mod.rs");
    let mut inside = false;
    let mut text = String::new();
    for line in source.lines().filter_map(|l| l.strip_prefix("//!")) {
        match line.trim() {
            "```ron" => inside = true,
            "```" => inside = false,
            _ if inside => {
                text.push_str(line.strip_prefix(' ').unwrap_or(line));
                text.push('\n');
            }
            _ => {}
        }
    }
    text
}

fn message(text: &str) -> String {
    read(text, "gel.formula.ron").unwrap_err().to_string()
}

#[test]
fn the_example_by_hand_is_read_and_written_whole() {
    let formula = read(&by_hand(), "gel.formula.ron").unwrap();
    let variant = formula.active();
    assert_eq!(variant.total(), Percent::HUNDRED);
    assert_eq!(variant.filler, Some(ItemId(3)));
    assert_eq!(variant.lines().count(), 2);
    let written = write(&formula).unwrap();
    assert_eq!(read(&written, "x").unwrap(), formula);
    assert!(
        written.contains("(id: 3, material: \"water\", percent: 97"),
        "{written}"
    );
}

#[test]
fn errors_name_place_field_and_remedy() {
    let good = by_hand();
    let check = |from: &str, to: &str, parts: &[&str]| {
        assert!(good.contains(from), "{from}");
        let said = message(&good.replacen(from, to, 1));
        let line = TextPosition::of_offset(&good, good.find(from).unwrap()).line;
        assert!(
            said.contains(&format!("(line {line}, ")),
            "{line} in: {said}"
        );
        for part in parts {
            assert!(said.contains(part), "{part} in: {said}");
        }
    };
    check(
        "percent: 97",
        "percent: 970",
        &["variants.phases.lines.percent", "from 0 to 100"],
    );
    check("percent: 97", "percent: 9.7.0", &[]);
    check("percent: 97", "percent: \"much\"", &["percent"]);
    check(
        "material: \"water\"",
        "material: \"wader\"",
        &["column 43", "material", "wader", "add it there"],
    );
    check(
        "kind: Water",
        "kind: Wet",
        &["field `variants.phases.kind`", "Slurry"],
    );
    check(
        "filler: 3",
        "filler: 9",
        &["filler", "no line has the id 9"],
    );
    check("active: 1", "active: 2", &["active"]);
    check("version: 3", "version: 99", &["newer", "untouched"]);
    check("version: 3", "version: 0", &["version 0"]);
    check("phasewright formula", "shopping list", &["shopping list"]);
    check("letter:", "lettr:", &["`lettr`"]);
    check(
        "cas: \"7732-18-5\"",
        "cas: \"7732-18-6\"",
        &["materials.pure.cas", "check digit should be 5"],
    );
    check("batch_g: 500", "batch_g: -500", &["batch_g"]);
    check(
        "(material: \"glycerin\"",
        "(id: 3, material: \"glycerin\"",
        &["given twice"],
    );
    check("LeaveOn", "(", &[]);
    let said = message(&good.replacen("letter: \"A\",", "", 1));
    assert!(
        said.starts_with("field `variants.phases`: the field `letter` is missing"),
        "{said}"
    );
}

#[test]
fn a_newer_file_is_not_read_at_all() {
    let said =
        message("(format: \"phasewright formula\", version: 7, what_we_do_not_know: {1: 2})");
    assert!(
        said.contains("version 7") && said.contains("gel.formula.ron"),
        "{said}"
    );
}

#[test]
fn a_save_goes_through_the_disk() {
    let dir = tempfile::tempdir().unwrap();
    let path = dir.path().join("gel.formula.ron");
    let formula = random_formula::formula(7);
    let stamp = save(&path, &formula, Expect::Nothing).unwrap();
    let (again, seen) = open(&path).unwrap();
    assert_eq!(again, formula);
    assert!(seen.same_content(&stamp));
}

#[test]
fn what_could_not_be_read_back_is_not_written() {
    let dir = tempfile::tempdir().unwrap();
    let path = dir.path().join("gel.formula.ron");
    let mut formula = random_formula::formula(7);
    let stamp = save(&path, &formula, Expect::Nothing).unwrap();
    formula.variants.clear();
    assert!(save(&path, &formula, Expect::Last(stamp)).is_err());
    assert_eq!(store::since(&path, &stamp).unwrap(), store::Since::Same);
}

#[test]
fn history_is_compact_and_shares_what_did_not_change() {
    let mut formula = random_formula::formula(3);
    formula.history.clear();
    let now = Arc::clone(&formula.variants[0]);
    for i in 0..100_u32 {
        let mut then = (*now).clone();
        let phase = Arc::make_mut(&mut then.phases[0]);
        phase.purpose = format!("purpose {i}").into();
        formula.history.push(Arc::new(EarlierState {
            at: "2026-05-01T10:00:00Z".into(),
            what: "Rename".into(),
            variant: Arc::new(then),
        }));
    }
    let text = write(&formula).unwrap();
    let lines = text.lines().filter(|l| l.contains("2026-05-01T10:00:00Z"));
    assert_eq!(lines.clone().count(), 100);
    let again = read(&text, "x").unwrap();
    assert_eq!(again, formula);
    for phase in 1..now.phases.len() {
        let (a, b) = (
            &again.variants[0].phases[phase],
            &again.history[0].variant.phases[phase],
        );
        assert!(Arc::ptr_eq(a, b));
    }
    let whole = write(&Formula {
        history: Vec::new(),
        ..formula
    })
    .unwrap()
    .len();
    let each = lines.map(str::len).max().unwrap();
    assert!(
        each * 3 < whole,
        "{each} bytes an entry, {whole} for all variants"
    );
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(300))]

    #[test]
    fn a_round_trip_is_identical(seed: u64) {
        let formula = random_formula::formula(seed);
        let text = write(&formula).unwrap();
        let again = read(&text, "x").unwrap();
        prop_assert_eq!(&again, &formula);
        prop_assert_eq!(write(&again).unwrap(), text);
    }

    #[test]
    fn random_bytes_never_panic(bytes in proptest::collection::vec(any::<u8>(), 0..400)) {
        let _ = read(&String::from_utf8_lossy(&bytes), "x").map_err(|e| e.to_string());
    }

    #[test]
    fn mutated_files_never_panic(seed in 0_u64..20, cuts in proptest::collection::vec((any::<prop::sample::Index>(), any::<prop::sample::Index>(), "[-0-9(){}\\[\\]:,.\"a-z]{0,4}"), 1..4)) {
        let mut text = write(&random_formula::formula(seed)).unwrap();
        for (at, length, new) in cuts {
            let start = at.index(text.len());
            let end = (start + length.index(12)).min(text.len());
            if text.is_char_boundary(start) && text.is_char_boundary(end) {
                text.replace_range(start..end, &new);
            }
        }
        match read(&text, "x") {
            // What is read must also be writable and come back the same.
            Ok(formula) => {
                let again = write(&formula).unwrap();
                prop_assert_eq!(read(&again, "x").unwrap(), formula);
            }
            Err(error) => prop_assert!(!error.to_string().is_empty()),
        }
    }
}
