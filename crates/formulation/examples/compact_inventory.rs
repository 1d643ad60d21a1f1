//! Remakes `assets/inventory/inci.txt` from a CosIng inventory export.
//!
//! `cargo run -p formulation --example compact_inventory -- EXPORT.csv > assets/inventory/inci.txt`
//!
//! The export has the columns `inci_name`, `cas` and `functions`; functions are
//! separated by commas. CAS numbers with a wrong check digit are left out and counted.

use std::collections::{BTreeMap, BTreeSet};
use std::io::{self, BufWriter, Write as _};
use std::process::ExitCode;

use formulation::cas::Cas;

fn main() -> ExitCode {
    let Some(path) = std::env::args().nth(1) else {
        let _ = writeln!(io::stderr(), "Name the CSV export of the inventory.");
        return ExitCode::FAILURE;
    };
    match compact(&path) {
        Ok(()) => ExitCode::SUCCESS,
        Err(error) => {
            let _ = writeln!(io::stderr(), "{path}: {error}");
            ExitCode::FAILURE
        }
    }
}

fn compact(path: &str) -> Result<(), Box<dyn std::error::Error>> {
    let mut reader = csv::Reader::from_path(path)?;
    let headings = reader.headers()?.clone();
    let column = |name: &str| {
        headings
            .iter()
            .position(|h| h == name)
            .ok_or_else(|| format!("the column “{name}” is missing"))
    };
    let (name_at, cas_at, functions_at) =
        (column("inci_name")?, column("cas")?, column("functions")?);
    let mut names: BTreeMap<String, (Option<Cas>, BTreeSet<String>)> = BTreeMap::new();
    let (mut rows, mut dropped) = (0, 0);
    for row in reader.records() {
        let row = row?;
        rows += 1;
        let cell = |at: usize| row.get(at).unwrap_or_default().trim();
        let entry = names.entry(cell(name_at).to_uppercase()).or_default();
        match cell(cas_at) {
            "" => {}
            text => match text.parse() {
                Ok(cas) => entry.0 = entry.0.or(Some(cas)),
                Err(_) => dropped += 1,
            },
        }
        let functions = cell(functions_at).split(',').map(str::trim);
        entry.1.extend(
            functions
                .filter(|f| !f.is_empty() && *f != "Not Reported")
                .map(str::to_owned),
        );
    }
    let functions: BTreeSet<&String> = names.values().flat_map(|(_, f)| f).collect();
    let code = |place: usize| {
        let letter = |n: usize| char::from(b'a' + (n % 26) as u8);
        format!("{}{}", letter(place / 26), letter(place))
    };
    let codes: BTreeMap<&String, String> = functions
        .iter()
        .enumerate()
        .map(|(place, function)| (*function, code(place)))
        .collect();

    let mut out = BufWriter::new(io::stdout().lock());
    writeln!(
        out,
        "# INCI names, first CAS number and reported functions of cosmetic ingredients."
    )?;
    writeln!(
        out,
        "# Source: European Commission, CosIng ingredient inventory, export of about 2021 to 2022."
    )?;
    writeln!(
        out,
        "# Made by crates/formulation/examples/compact_inventory.rs from {rows} rows; repeated names are merged."
    )?;
    writeln!(
        out,
        "# A line is: name, tab, CAS, tab, function codes of two letters, all but the name optional."
    )?;
    writeln!(
        out,
        "# The next line counts CAS numbers left out because their check digit is wrong."
    )?;
    writeln!(out, "! {dropped}")?;
    for (function, code) in &codes {
        writeln!(out, "= {code} {function}")?;
    }
    for (name, (cas, functions)) in &names {
        let cas = cas.map(|c| c.to_string()).unwrap_or_default();
        let codes: String = functions
            .iter()
            .filter_map(|f| codes.get(f).map(String::as_str))
            .collect();
        writeln!(out, "{}", format!("{name}\t{cas}\t{codes}").trim_end())?;
    }
    out.flush()?;
    Ok(())
}
