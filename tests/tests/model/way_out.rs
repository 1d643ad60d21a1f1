//! The way out is the way in: a formula written as CSV or XLSX and brought in again is the same
//! formula, or what the form does not carry is said.
#![expect(clippy::unwrap_used, reason = "what cannot be read is a failed test")]

use std::collections::BTreeMap;
use std::io::{Cursor, Read as _};
use std::path::Path;
use std::process::Command;
use std::sync::Arc;

use calamine::{Data, Reader as _, Xlsx};
use formulation::file::formula_export::{self, ExportForm, not_carried};
use formulation::file::formula_table;
use formulation::file::table::recipe::{RecipeSettings, propose};
use formulation::file::table::sections::found_in;
use formulation::file::table::{read_bytes, variants};
use formulation::formula::{
    BodySite, Formula, ItemId, Kinds, Line, Market, Phase, ProductType, Step, Variant, VariantId,
};
use formulation::material::{PhaseKind, ProductKind};
use formulation::naming::Resolver;
use formulation::purpose::Purpose;
use formulation::quantity::{
    Percent, Ph, celsius, grams, in_celsius, in_grams, in_kg_per_m3, kg_per_m3,
};
use formulation::shelf::built_in;
use formulation::specification::{Characteristic, Quality, Specification};
use proptest::prelude::*;
use proptest::sample::select;

/// Words with everything that parts, quotes or runs something in a table.
fn words() -> impl Strategy<Value = String> {
    let piece = select(vec![
        "Heather",
        "stir, then wait",
        "=1+1",
        "+49",
        "-5",
        "@home",
        "a;b",
        "say \"when\"",
        "'tis",
        "two  blanks",
        "line\nbreak",
        "a | b",
        "back\\slash",
        "# no comment",
        "key: value",
        "Öl",
        "70 % water",
        "=\"x\"&A1",
        "\ttab",
        "100",
    ]);
    prop::collection::vec(piece, 1..4).prop_map(|pieces| pieces.join(" "))
}

fn some_words() -> impl Strategy<Value = String> {
    prop_oneof![Just(String::new()), words()]
}

fn degrees() -> impl Strategy<Value = Option<f64>> {
    prop::option::of((0..1500_i32).prop_map(|tenths| f64::from(tenths) / 10.0))
}

/// Words, temperature, minutes, tool and check of a step.
type DrawnStep = (String, Option<f64>, Option<u32>, String, String);

/// pH, density, water activity and viscosity as measured.
type DrawnMeasured = (Option<u32>, Option<u32>, Option<u32>, Option<(u32, String)>);

#[derive(Clone, Debug)]
struct DrawnPhase {
    lines: Vec<(usize, String, bool, Option<Purpose>, bool)>,
    steps: Vec<DrawnStep>,
    kind: PhaseKind,
    purpose: String,
    temperature: Option<f64>,
}

fn phase() -> impl Strategy<Value = DrawnPhase> {
    let line = (
        0..built_in().len(),
        some_words(),
        any::<bool>(),
        prop::option::of(select(Purpose::ALL.to_vec())),
        any::<bool>(),
    );
    let step = (
        words(),
        degrees(),
        prop::option::of(0..90_u32),
        some_words(),
        some_words(),
    );
    (
        prop::collection::vec(line, 1..4),
        prop::collection::vec(step, 0..3),
        select(PhaseKind::ALL.to_vec()),
        some_words(),
        degrees(),
    )
        .prop_map(|(lines, steps, kind, purpose, temperature)| DrawnPhase {
            lines,
            steps,
            kind,
            purpose,
            temperature,
        })
}

#[derive(Clone, Debug)]
struct DrawnVariant {
    name: String,
    note: String,
    phases: Vec<DrawnPhase>,
    filler: Option<prop::sample::Index>,
    batch: u32,
    measured: DrawnMeasured,
    target: Option<u32>,
    kinds: Kinds,
    product_type: Option<ProductType>,
    flags: [bool; 4],
    accept: Option<String>,
}

fn variant() -> impl Strategy<Value = DrawnVariant> {
    let measured = (
        prop::option::of(0..140_u32),
        prop::option::of(8000..12_000_u32),
        prop::option::of(0..=1000_u32),
        prop::option::of((1..20_000_u32, some_words())),
    );
    let kinds = select(vec![
        Kinds::Both,
        ProductKind::RinseOff.into(),
        ProductKind::LeaveOn.into(),
    ]);
    (
        (words(), some_words(), prop::collection::vec(phase(), 1..4)),
        prop::option::of(any::<prop::sample::Index>()),
        1..100_000_u32,
        measured,
        prop::option::of(0..140_u32),
        (
            kinds,
            prop::option::of(select(ProductType::ALL.to_vec())),
            any::<[bool; 4]>(),
            prop::option::of(words()),
        ),
    )
        .prop_map(
            |((name, note, phases), filler, batch, measured, target, more)| {
                let (kinds, product_type, flags, accept) = more;
                DrawnVariant {
                    name,
                    note,
                    phases,
                    filler,
                    batch,
                    measured,
                    target,
                    kinds,
                    product_type,
                    flags,
                    accept,
                }
            },
        )
}

fn tenth(value: u32) -> f64 {
    f64::from(value) / 10.0
}

/// Makes a variant, whose lines of one material come once and leave room for the filler.
fn made(drawn: &DrawnVariant, number: usize, formula: &mut Formula) -> Variant {
    let mut variant = Variant::clone(formula.active());
    let shelf: Vec<_> = built_in().iter().collect();
    variant.id = VariantId(formula.take_id());
    // Sheets and variants are told apart by their names.
    variant.name = format!("{} {number}", drawn.name).into();
    variant.note = drawn.note.as_str().into();
    variant.batch = grams(tenth(drawn.batch));
    variant.target_ph = drawn.target.and_then(|ph| Ph::new(tenth(ph)));
    let (ph, density, activity, viscosity) = &drawn.measured;
    variant.measured.ph = ph.and_then(|ph| Ph::new(tenth(ph)));
    variant.measured.density = density.map(|d| kg_per_m3(tenth(d)));
    variant.measured.water_activity = activity.map(|a| f64::from(a) / 1000.0);
    variant.measured.viscosity_mpa_s = viscosity
        .as_ref()
        .map(|(v, how)| (f64::from(*v), how.as_str().into()));
    let product = &mut variant.product;
    product.kinds = drawn.kinds;
    product.product_type = drawn.product_type;
    [
        product.under_three,
        product.spray,
        product.professional,
        product.wet_use,
    ] = drawn.flags;
    product.markets = vec![Market::Us, Market::Eu];
    product.places = vec![BodySite::Hands, BodySite::EyeArea];
    if let Some(accept) = &drawn.accept {
        let characteristic = Characteristic {
            accept: accept.as_str().into(),
            ..Characteristic::new(Quality::Odour)
        };
        variant.specification = Arc::new(Specification {
            characteristics: vec![characteristic],
        });
    }
    variant.phases.clear();
    let mut units = 0;
    for (drawn, letter) in drawn.phases.iter().zip(["A", "B", "C"]) {
        let mut phase = Phase {
            id: ItemId(formula.take_id()),
            letter: letter.into(),
            kind: drawn.kind,
            purpose: drawn.purpose.as_str().into(),
            temperature: drawn.temperature.map(celsius),
            lines: Vec::new(),
            steps: Vec::new(),
        };
        for (n, (at, why, held, purpose, bounded)) in drawn.lines.iter().enumerate() {
            let material = shelf[*at];
            units += 123_457;
            phase.lines.push(Line {
                id: ItemId(formula.take_id()),
                material: material.id.clone(),
                percent: Percent::from_units(1_000_001 + units),
                // A cell is read without the blanks at its ends.
                why: why.trim().into(),
                held: *held,
                min: bounded.then(|| Percent::from_units(n as i64)),
                max: bounded.then(|| Percent::from_units(99_000_001)),
                purpose: *purpose,
            });
            formula
                .materials
                .insert(material.id.clone(), Arc::clone(material));
        }
        for (text, temperature, minutes, tool, check) in &drawn.steps {
            phase.steps.push(Step {
                id: ItemId(formula.take_id()),
                text: text.as_str().into(),
                temperature: temperature.map(celsius),
                minutes: *minutes,
                tool: tool.as_str().into(),
                check: check.as_str().into(),
            });
        }
        variant.phases.push(Arc::new(phase));
    }
    let ids: Vec<ItemId> = variant.lines().map(|(_, line)| line.id).collect();
    variant.filler = drawn.filler.as_ref().map(|index| *index.get(&ids));
    let rest = Percent::HUNDRED - variant.total();
    if let Some(line) = variant.filler.and_then(|id| variant.line_mut(id)) {
        line.percent += rest;
    }
    variant
}

fn formula() -> impl Strategy<Value = Formula> {
    let head = (words(), some_words(), some_words());
    (head, prop::collection::vec(variant(), 1..4)).prop_map(|((name, author, notes), drawn)| {
        let mut formula = Formula::new(&*name);
        formula.author = author.into();
        formula.notes = notes.into();
        let made: Vec<Arc<Variant>> = drawn
            .iter()
            .enumerate()
            .map(|(n, variant)| Arc::new(made(variant, n, &mut formula)))
            .collect();
        formula.active = made[0].id;
        formula.variants = made;
        formula
    })
}

/// A formula whose ids count from 0 in the order of the file, whose temperatures and densities
/// are without binary noise, and in which each material is what the lines name.
fn plain(formula: &Formula) -> Formula {
    let round = |value: f64| (value * 1e6).round() / 1e6;
    let warm = |t| celsius(round(in_celsius(t)));
    let mut next = 0;
    let mut take = || {
        next += 1;
        next
    };
    let mut plain = formula.clone();
    let mut active = formula.active;
    for variant in &mut plain.variants {
        let variant = Arc::make_mut(variant);
        let id = VariantId(take());
        if variant.id == formula.active {
            active = id;
        }
        variant.id = id;
        let mut lines = BTreeMap::new();
        for phase in &mut variant.phases {
            let phase = Arc::make_mut(phase);
            phase.id = ItemId(take());
            phase.temperature = phase.temperature.map(warm);
            for line in &mut phase.lines {
                let id = ItemId(take());
                lines.insert(line.id, id);
                line.id = id;
            }
            for step in &mut phase.steps {
                step.id = ItemId(take());
                step.temperature = step.temperature.map(warm);
            }
        }
        variant.filler = variant.filler.map(|id| lines[&id]);
        variant.batch = grams(round(in_grams(variant.batch)));
        variant.measured.density = variant
            .measured
            .density
            .map(|d| kg_per_m3(round(in_kg_per_m3(d))));
    }
    plain.active = active;
    plain.next_id = next;
    plain
}

/// A file of several tables as the command takes it in.
fn brought_in(bytes: &[u8]) -> Formula {
    let tables = read_bytes(bytes).unwrap();
    let found = found_in(&tables).sections;
    let (kept, why) = variants::usual(&found);
    assert_eq!(why, None);
    assert_eq!(kept.len(), found.len());
    let resolver = Resolver::new(built_in());
    let recipes = found.iter().map(|section| {
        let settings = RecipeSettings {
            layout: section.layout.clone(),
            ..RecipeSettings::default()
        };
        let proposal = propose(&section.table, "x", &settings, &resolver).unwrap();
        // Without a filler they need not make a whole.
        let off_total = |words: &String| words.starts_with("the lines add up to");
        let assumed = proposal.assumptions().into_iter();
        assert_eq!(
            assumed.filter(|w| !off_total(w)).collect::<Vec<_>>(),
            [""; 0]
        );
        assert_eq!(proposal.counts().lost_words(), None);
        (proposal.accept(&resolver).unwrap().formula, section)
    });
    variants::joined(recipes.collect()).unwrap()
}

/// What each form says that it does not carry, of the formulas drawn here.
fn said(formula: &Formula, form: ExportForm) -> Vec<String> {
    let variant = &formula.variants[0];
    let usual = |words: &String| words.starts_with("the composition of materials");
    let all = not_carried(formula, variant, form).into_iter();
    all.filter(|words| !usual(words)).collect()
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(12))]

    /// One variant as CSV, opened and brought in.
    #[test]
    fn a_variant_comes_back_from_csv(drawn in formula()) {
        let mut formula = drawn;
        formula.variants.truncate(1);
        formula.active = formula.variants[0].id;
        let used: Vec<_> = formula.active().lines().map(|(_, l)| l.material.clone()).collect();
        formula.materials.retain(|id, _| used.contains(id));
        prop_assert_eq!(said(&formula, ExportForm::Csv), Vec::<String>::new());
        let text = formula_export::csv(&formula, formula.active());
        let opened = formula_table::read(&text, "x.csv", "x", built_in()).unwrap();
        prop_assert_eq!(opened.assumed, Vec::<String>::new());
        prop_assert_eq!(plain(&opened.formula), plain(&formula), "opened\n{}", text);
        prop_assert_eq!(plain(&brought_in(text.as_bytes())), plain(&formula), "brought in\n{}", text);
    }

    /// All variants as a workbook; the first is the one that is worked on.
    #[test]
    fn a_formula_comes_back_from_a_workbook(drawn in formula()) {
        let mut formula = drawn;
        formula.active = formula.variants[0].id;
        prop_assert_eq!(said(&formula, ExportForm::Xlsx), Vec::<String>::new());
        let back = brought_in(&formula_export::xlsx(&formula).unwrap());
        prop_assert_eq!(plain(&back), plain(&formula));
    }
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
            let all = formula.variants.iter().flat_map(|v| v.lines());
            all.map(|(p, l)| format!("{} {} {} {}", p.letter, l.material, l.percent, l.why))
                .collect()
        };
        assert_eq!(lines(&back), lines(&formula), "{form}");
    }
}
