//! Making a batch: rounding, sheets, records, trace and cost against outside references.
#![expect(clippy::unwrap_used, reason = "what cannot be read is a failed test")]

use std::collections::BTreeMap;
use std::path::Path;

use formulation::batch::mass::{ExactMass, read_mass};
use formulation::batch::rounding::round_lines;
use formulation::batch::weighing_scale::WeighingScale;
use formulation::quantity::Percent;

fn mass(text: &str) -> ExactMass {
    read_mass(text, None).unwrap()
}

#[derive(Default)]
struct Case {
    resolution: String,
    batch: String,
    percents: Vec<Percent>,
    masses: Vec<ExactMass>,
}

fn rounding_cases() -> BTreeMap<String, Case> {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("reference/rounding.csv");
    let mut reader = csv::ReaderBuilder::new()
        .comment(Some(b'#'))
        .from_path(path)
        .unwrap();
    let mut cases: BTreeMap<String, Case> = BTreeMap::new();
    for row in reader.records() {
        let row = row.unwrap();
        let case = cases.entry(row[0].to_owned()).or_default();
        case.resolution = format!("{} g", &row[2]);
        case.batch = format!("{} g", &row[3]);
        case.percents.push(row[4].parse().unwrap());
        case.masses.push(mass(&format!("{} g", &row[5])));
    }
    cases
}

/// Against `reference/rounding.csv`, recomputed outside in exact fractions.
#[test]
fn masses_are_rounded_as_the_reference_rounds_them() {
    let cases = rounding_cases();
    assert_eq!(cases.len(), 20);
    for (name, case) in cases {
        let scale = WeighingScale::new("scale", mass(&case.resolution), None).unwrap();
        let result = round_lines(&case.percents, mass(&case.batch), &[scale]).unwrap();
        let masses: Vec<ExactMass> = result.lines.iter().map(|l| l.mass).collect();
        assert_eq!(masses, case.masses, "case {name}");
        assert_eq!(result.total, mass(&case.batch), "case {name}");
    }
}
