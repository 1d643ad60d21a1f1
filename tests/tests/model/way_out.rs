//! The way out as other programs see it: a workbook that computes, and comes back through another
//! program as the same formula.
#![expect(clippy::unwrap_used, reason = "what cannot be read is a failed test")]

use std::io::{Cursor, Read as _};
use std::path::Path;
use std::process::Command;

use calamine::{Data, Reader as _, Xlsx};
use formulation::file::formula_export;
use formulation::file::table::recipe::{Settings, propose};
use formulation::file::table::sections::found_in;
use formulation::file::table::{read_bytes, variants};
use formulation::formula::Formula;
use formulation::naming::Resolver;
use formulation::shelf::built_in;

/// A file of several tables as the command takes it in.
fn brought_in(bytes: &[u8]) -> Formula {
    let tables = read_bytes(bytes).unwrap();
    let found = found_in(&tables).sections;
    let (kept, why) = variants::usual(&found);
    assert_eq!(why, None);
    assert_eq!(kept.len(), found.len());
    let resolver = Resolver::new(built_in());
    let recipes = found.iter().map(|section| {
        let settings = Settings {
            layout: section.layout.clone(),
            ..Settings::default()
        };
        let proposal = propose(&section.table, "x", &settings, &resolver).unwrap();
        assert_eq!(proposal.assumptions(), Vec::<String>::new());
        assert_eq!(proposal.counts().lost_words(), None);
        (proposal.accept(&resolver).unwrap().formula, section)
    });
    variants::joined(recipes.collect()).unwrap()
}

/// The example that the other tests look into.
fn balm() -> Formula {
    let path =
        Path::new(env!("CARGO_MANIFEST_DIR")).join("../examples/heather-foot-balm.formula.ron");
    formulation::file::formula_file::open(&path).unwrap().0
}

fn part_of(bytes: &[u8], name: &str) -> String {
    let mut archive = zip::ZipArchive::new(Cursor::new(bytes)).unwrap();
    let mut text = String::new();
    archive
        .by_name(name)
        .unwrap()
        .read_to_string(&mut text)
        .unwrap();
    text
}

/// Grams follow from percentages and the batch in its cell, the filler and the totals from the
/// others; the headings stay in sight and are printed on every page.
#[test]
fn a_workbook_computes() {
    let formula = balm();
    let bytes = formula_export::xlsx(&formula).unwrap();
    let mut book: Xlsx<_> = Xlsx::new(Cursor::new(bytes.as_slice())).unwrap();
    let name = book.sheet_names()[0].clone();
    let cells = book.worksheet_range(&name).unwrap();
    let formulas = book.worksheet_formula(&name).unwrap();
    let formula_in = |row: u32, column: u32| {
        formulas
            .get_value((row, column))
            .cloned()
            .unwrap_or_default()
    };
    let number = |row: u32, column: u32| match cells.get_value((row, column)) {
        Some(Data::Float(value)) => *value,
        Some(Data::String(text)) => text.parse().unwrap(),
        other => panic!("{row} {column}: {other:?}"),
    };
    let text = |row: u32, column: u32| {
        cells
            .get_value((row, column))
            .map(ToString::to_string)
            .unwrap_or_default()
    };
    let (rows, _) = cells.end().unwrap();
    let batch = (0..rows)
        .find(|row| text(*row, 0) == "batch in grams")
        .unwrap();
    let headings = (0..rows).find(|row| text(*row, 1) == "Material").unwrap();
    let total = (headings..=rows)
        .find(|row| text(*row, 1) == "Total")
        .unwrap();
    let in_work = formula.variants[0].lines().count() as u32;
    assert_eq!(total - headings - 1, in_work);
    let batch_cell = format!("$B${}", batch + 1);
    let mut fillers = 0;
    for row in headings + 1..total {
        let grams = formula_in(row, 5);
        assert_eq!(grams, format!("E{}/100*{batch_cell}", row + 1));
        let expected = number(row, 4) / 100.0 * number(batch, 1);
        assert!((number(row, 5) - expected).abs() < 1e-6, "row {row}");
        let others = formula_in(row, 4);
        if text(row, 6) == "q.s." {
            fillers += 1;
            assert!(others.starts_with("ROUND(100-SUM("), "{others}");
        } else {
            assert_eq!(others, "");
        }
    }
    assert_eq!(fillers, u32::from(formula.variants[0].filler.is_some()));
    for column in ["E", "F"] {
        let at = if column == "E" { 4 } else { 5 };
        let (first, last) = (headings + 2, total);
        assert_eq!(
            formula_in(total, at),
            format!("SUM({column}{first}:{column}{last})")
        );
    }
    assert!((number(total, 4) - 100.0).abs() < 1e-9);
    let sheet = part_of(&bytes, "xl/worksheets/sheet1.xml");
    assert!(
        sheet.contains(&format!("<pane ySplit=\"{}\"", headings + 1))
            && sheet.contains("state=\"frozen\"")
    );
    let names = part_of(&bytes, "xl/workbook.xml");
    assert!(names.contains("_xlnm.Print_Area") && names.contains("_xlnm.Print_Titles"));
}

/// Another program opens the workbook, saves it, and the formula is still the same.
#[test]
fn a_formula_comes_back_through_another_program() {
    let Ok(found) = Command::new("soffice").arg("--version").output() else {
        eprintln!("skipped: soffice is not installed, so the round trip through it is not tried");
        return;
    };
    assert!(found.status.success());
    let folder = tempfile::tempdir().unwrap();
    let formula = balm();
    let book = folder.path().join("balm.xlsx");
    std::fs::write(&book, formula_export::xlsx(&formula).unwrap()).unwrap();
    let profile = format!(
        "-env:UserInstallation=file://{}",
        folder.path().join("profile").display()
    );
    for (from, form) in [("balm.xlsx", "ods"), ("balm.ods", "xlsx")] {
        let status = Command::new("soffice")
            .args(["--headless", &profile, "--convert-to", form, "--outdir"])
            .arg(folder.path())
            .arg(folder.path().join(from))
            .status()
            .unwrap();
        assert!(status.success());
        let back = brought_in(&std::fs::read(folder.path().join(format!("balm.{form}"))).unwrap());
        let lines = |formula: &Formula| -> Vec<String> {
            let all = formula
                .variants
                .iter()
                .flat_map(|v| v.lines().map(|(p, l)| (p, l)));
            all.map(|(p, l)| format!("{} {} {} {}", p.letter, l.material, l.percent, l.why))
                .collect()
        };
        assert_eq!(lines(&back), lines(&formula), "{form}");
    }
}
