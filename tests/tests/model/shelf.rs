//! The shelf against files that other programs made: recipes from spreadsheets,
//! hostile spreadsheets, search and inventory.
#![expect(clippy::unwrap_used, reason = "what cannot be read is a failed test")]

use std::io::{Cursor, Write as _};
use std::path::{Path, PathBuf};
use std::sync::Arc;

use formulation::file::table::accept::Accepted;
use formulation::file::table::recipe::{RecipeError, RecipeProposal, RecipeSettings, propose};
use formulation::file::table::{Cell, TableError, read_bytes, read_file};
use formulation::file::{material_file, shelf_table};
use formulation::material::{
    Basis, Class, Counted, Figures, Material, MaterialId, MaterialValue, Source,
};
use formulation::material_change::material_changes;
use formulation::material_draft::{DraftField, MaterialDraft};
use formulation::naming::{How, Resolver};
use formulation::own_shelf::{OwnShelf, ShelfEdit, merge};
use formulation::quantity::in_grams;
use formulation::shelf::Shelf;

fn data(name: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR"))
        .join("data/tables")
        .join(name)
}

/// The materials of the shower gel, but for the glucoside, which stays unmatched.
fn shelf() -> Shelf {
    [
        ("Purified water", "Aqua", "7732-18-5"),
        ("Vegetable glycerin", "Glycerin", "56-81-5"),
        ("Sodium benzoate", "Sodium Benzoate", "532-32-1"),
        ("Coco betaine 30 %", "Cocamidopropyl Betaine", "61789-40-0"),
        ("Juniper berry oil", "Juniperus Communis Fruit Oil", ""),
        ("Citric acid monohydrate", "Citric Acid", "77-92-9"),
    ]
    .map(|(name, inci, cas)| {
        Arc::new(Material::pure(
            MaterialId::from_name(name),
            name,
            inci,
            cas.parse().ok(),
            Class::Other,
        ))
    })
    .into_iter()
    .collect()
}

fn import(name: &str) -> Result<(RecipeProposal, Accepted), RecipeError> {
    let shelf = shelf();
    let matcher = Resolver::new(&shelf);
    let tables = read_file(&data(name)).unwrap_or_else(|e| panic!("{name}: {e}"));
    let proposal = propose(&tables[0], name, &RecipeSettings::default(), &matcher)?;
    let accepted = proposal.accept(&matcher)?;
    Ok((proposal, accepted))
}

/// The recipe that every shower_gel file holds, as `make.py` beside them states it.
const SHOWER_GEL: [(&str, &str, &str); 7] = [
    ("A", "purified-water", "73.2"),
    ("A", "vegetable-glycerin", "3"),
    ("A", "sodium-benzoate", "0.45"),
    ("B", "coco-betaine-30", "12.5"),
    ("B", "coco-glucoside", "10"),
    ("C", "juniper-berry-oil", "0.6"),
    ("C", "citric-acid-monohydrate", "0.25"),
];

fn check(name: &str) -> (RecipeProposal, Accepted) {
    let (proposal, accepted) = import(name).unwrap_or_else(|e| panic!("{name}: {e}"));
    let lines: Vec<(String, String, String)> = accepted
        .formula
        .active()
        .lines()
        .map(|(phase, line)| {
            (
                phase.letter.to_string(),
                line.material.to_string(),
                line.percent.to_string(),
            )
        })
        .collect();
    let lines: Vec<(&str, &str, &str)> = lines
        .iter()
        .map(|(a, b, c)| (a.as_str(), b.as_str(), c.as_str()))
        .collect();
    assert_eq!(lines, SHOWER_GEL, "{name}: {:?}", proposal.notes);
    let new: Vec<&str> = accepted
        .new_materials
        .iter()
        .map(|m| m.id.as_str())
        .collect();
    assert_eq!(new, ["coco-glucoside"], "{name}");
    (proposal, accepted)
}

#[test]
fn xlsx_made_by_openpyxl() {
    let (proposal, accepted) = check("shower_gel.openpyxl.xlsx");
    let water = accepted.formula.active().lines().next().map(|(_, l)| l.id);
    assert_eq!(accepted.formula.active().filler, water);
    let variant = accepted.formula.active();
    let steps: Vec<&str> = variant
        .phases
        .iter()
        .flat_map(|p| &p.steps)
        .map(|s| &*s.text)
        .collect();
    assert_eq!(
        steps,
        ["Dissolve A, stir in B without foam, add C below 40 °C."]
    );
    let hows: Vec<How> = proposal
        .lines
        .iter()
        .filter_map(|l| l.candidates.first().map(|c| c.how))
        .collect();
    assert_eq!(
        hows,
        [
            How::Inci,
            How::Inci,
            How::Name,
            How::Inci,
            How::Inci,
            How::Inci
        ]
    );
    check("shower_gel.percent_format.xlsx");
}

#[test]
fn ods_and_xlsx_made_by_libreoffice() {
    for name in ["shower_gel.libreoffice.ods", "shower_gel.libreoffice.xlsx"] {
        let (proposal, _) = check(name);
        assert!(
            proposal
                .notes
                .iter()
                .any(|n| n.contains("2 cells hold formulas")),
            "{name}: {:?}",
            proposal.notes
        );
    }
}

#[test]
fn ods_made_by_odfpy() {
    check("shower_gel.odfpy.ods");
}

#[test]
fn a_table_pasted_as_html() {
    check("shower_gel.pasted.html");
}

#[test]
fn three_dialects_of_csv() {
    check("shower_gel.comma_utf8.csv");
    check("shower_gel.semicolon_cp1252.csv");
    let (_, accepted) = check("shower_gel.tab_utf16.tsv");
    assert!((in_grams(accepted.formula.active().batch) - 2000.0).abs() < 1e-6);
}

/// Our reader of ODS against calamine's, which is another's work.
#[test]
fn ods_cells_agree_with_calamine() {
    use calamine::{Data, Ods, Reader as _};
    for name in ["shower_gel.libreoffice.ods", "shower_gel.odfpy.ods"] {
        let bytes = std::fs::read(data(name)).unwrap();
        let ours = read_bytes(&bytes).unwrap();
        let mut book = Ods::new(Cursor::new(bytes)).unwrap();
        let (_, range) = book.worksheets().remove(0);
        let mut compared = 0;
        for (row, column, value) in range.used_cells() {
            let (r0, c0) = range.start().unwrap();
            let cell = ours[0].cell(row + r0 as usize, column + c0 as usize);
            match value {
                Data::Float(number) => {
                    let Cell::Number { value, .. } = cell else {
                        panic!("{name}: {cell:?} instead of {number}");
                    };
                    assert!((value.to_string().parse::<f64>().unwrap() - number).abs() < 1e-12);
                }
                Data::String(text) => assert_eq!(cell, &Cell::Text(text.clone()), "{name}"),
                other => panic!("{name}: {other:?}"),
            }
            compared += 1;
        }
        assert!(compared > 30, "{name}: {compared}");
        assert_eq!(
            ours[0]
                .rows
                .iter()
                .flatten()
                .filter(|c| !c.is_empty())
                .count(),
            compared
        );
    }
}

#[test]
fn an_uncomputed_formula_is_named() {
    let Err(RecipeError::Problems(problems)) = import("uncomputed_formula.xlsx") else {
        panic!("taken in");
    };
    assert_eq!(problems.len(), 1);
    assert_eq!(problems[0].cell, "B2");
    assert!(
        problems[0]
            .message
            .contains("formula whose value was not saved")
    );
}

#[test]
fn wrong_types_are_named_cell_by_cell() {
    let Err(RecipeError::Problems(problems)) = import("wrong_types.xlsx") else {
        panic!("taken in");
    };
    let told: Vec<(&str, &str)> = problems
        .iter()
        .map(|p| (p.cell.as_str(), p.message.as_str()))
        .collect();
    for (cell, word) in [("B2", "yes or no"), ("B3", "2026-05-02"), ("B6", "#DIV/0!")] {
        assert!(
            told.iter().any(|(c, m)| *c == cell && m.contains(word)),
            "{cell} {word}: {told:?}"
        );
    }
    // Words and numbers below 0 are asked about, line by line.
    let shelf = shelf();
    let table = &read_file(&data("wrong_types.xlsx")).unwrap()[0];
    let proposal = propose(
        table,
        "x",
        &RecipeSettings::default(),
        &Resolver::new(&shelf),
    )
    .unwrap();
    let asked: Vec<String> = proposal
        .lines
        .iter()
        .flat_map(|l| l.doubts.clone())
        .collect();
    for word in ["“plenty”", "below 0"] {
        assert!(asked.iter().any(|a| a.contains(word)), "{word}: {asked:?}");
    }
}

/// A ZIP archive of the given parts.
fn archive(parts: &[(&str, &[u8])]) -> Vec<u8> {
    let mut writer = zip::ZipWriter::new(Cursor::new(Vec::new()));
    let options = zip::write::SimpleFileOptions::default();
    for (name, content) in parts {
        writer.start_file(*name, options).unwrap();
        writer.write_all(content).unwrap();
    }
    writer.finish().unwrap().into_inner()
}

/// A workbook with one sheet of the given XML.
fn workbook(sheet: &str, strings: &str) -> Vec<u8> {
    const TYPES: &str = r#"<?xml version="1.0"?><Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types"><Default Extension="xml" ContentType="application/xml"/><Override PartName="/xl/workbook.xml" ContentType="application/vnd.openxmlformats-officedocument.spreadsheetml.sheet.main+xml"/></Types>"#;
    const RELS: &str = r#"<?xml version="1.0"?><Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships"><Relationship Id="rId1" Type="http://schemas.openxmlformats.org/officeDocument/2006/relationships/officeDocument" Target="xl/workbook.xml"/></Relationships>"#;
    const BOOK: &str = r#"<?xml version="1.0"?><workbook xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main" xmlns:r="http://schemas.openxmlformats.org/officeDocument/2006/relationships"><sheets><sheet name="S" sheetId="1" r:id="rId1"/></sheets></workbook>"#;
    const BOOK_RELS: &str = r#"<?xml version="1.0"?><Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships"><Relationship Id="rId1" Type="http://schemas.openxmlformats.org/officeDocument/2006/relationships/worksheet" Target="worksheets/sheet1.xml"/><Relationship Id="rId2" Type="http://schemas.openxmlformats.org/officeDocument/2006/relationships/sharedStrings" Target="sharedStrings.xml"/></Relationships>"#;
    archive(&[
        ("[Content_Types].xml", TYPES.as_bytes()),
        ("_rels/.rels", RELS.as_bytes()),
        ("xl/workbook.xml", BOOK.as_bytes()),
        ("xl/_rels/workbook.xml.rels", BOOK_RELS.as_bytes()),
        ("xl/sharedStrings.xml", strings.as_bytes()),
        ("xl/worksheets/sheet1.xml", sheet.as_bytes()),
    ])
}

const NO_STRINGS: &str = r#"<sst xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main" count="0" uniqueCount="0"></sst>"#;

fn sheet_of(rows: &str) -> String {
    format!(
        r#"<worksheet xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"><sheetData>{rows}</sheetData></worksheet>"#
    )
}

fn content_of(table: &str) -> Vec<u8> {
    let xml = format!(
        r#"<?xml version="1.0"?><office:document-content xmlns:office="urn:oasis:names:tc:opendocument:xmlns:office:1.0" xmlns:table="urn:oasis:names:tc:opendocument:xmlns:table:1.0" xmlns:text="urn:oasis:names:tc:opendocument:xmlns:text:1.0"><office:body><office:spreadsheet><table:table table:name="S">{table}</table:table></office:spreadsheet></office:body></office:document-content>"#
    );
    archive(&[("content.xml", xml.as_bytes())])
}

#[test]
fn a_plain_workbook_written_by_hand_is_read() {
    let sheet = sheet_of(
        r#"<row r="1"><c r="A1" t="inlineStr"><is><t>Water</t></is></c><c r="B1"><v>70.5</v></c></row>"#,
    );
    let tables = read_bytes(&workbook(&sheet, NO_STRINGS)).unwrap();
    assert_eq!(tables[0].cell(0, 0).words(), "Water");
    assert_eq!(tables[0].cell(0, 1).words(), "70.5");
}

#[test]
fn zip_bombs_are_refused() {
    // 300 MB of zeros in one part.
    let zeros = vec![b' '; 300 << 20];
    let bomb = archive(&[
        ("[Content_Types].xml", b"<Types/>"),
        ("xl/worksheets/sheet1.xml", &zeros),
    ]);
    assert!(bomb.len() < 2 << 20);
    assert_eq!(read_bytes(&bomb), Err(TableError::Bomb));
    let bomb = archive(&[("content.xml", &zeros)]);
    assert_eq!(read_bytes(&bomb), Err(TableError::Bomb));

    // The same with the sizes in the directory and in the part's head made small.
    let mut lying = archive(&[("content.xml", &zeros)]);
    let true_size = u32::try_from(zeros.len()).unwrap().to_le_bytes();
    let places: Vec<usize> = lying
        .windows(4)
        .enumerate()
        .filter(|(_, w)| *w == true_size)
        .map(|(n, _)| n)
        .collect();
    assert!(!places.is_empty());
    for place in places {
        lying[place..place + 4].copy_from_slice(&1000_u32.to_le_bytes());
    }
    assert!(matches!(
        read_bytes(&lying),
        Err(TableError::Bomb | TableError::Damaged(_))
    ));

    // Very many parts.
    let names: Vec<String> = (0..6000).map(|n| format!("part{n}")).collect();
    let parts: Vec<(&str, &[u8])> = names.iter().map(|n| (n.as_str(), &b"x"[..])).collect();
    assert_eq!(read_bytes(&archive(&parts)), Err(TableError::Bomb));
}

#[test]
fn a_million_columns_are_refused() {
    // XLSX: the last column there is, and one beyond it.
    let far = sheet_of(r#"<row r="1"><c r="A1"><v>1</v></c><c r="XFD1048576"><v>1</v></c></row>"#);
    let told = read_bytes(&workbook(&far, NO_STRINGS)).unwrap_err();
    assert!(matches!(told, TableError::TooManyRows { .. }), "{told}");
    let wide = sheet_of(&format!(
        r#"<row r="1">{}</row>"#,
        "<c><v>1</v></c>".repeat(1_000_000)
    ));
    let told = read_bytes(&workbook(&wide, NO_STRINGS)).unwrap_err();
    assert!(matches!(told, TableError::TooManyColumns { .. }), "{told}");

    // ODS: repetitions that would fill the memory.
    for repeated in [
        "1000000",
        "4000000000",
        "99999999999999999999999",
        "-1",
        "x",
    ] {
        for attribute in [
            "table:number-columns-repeated",
            "table:number-rows-repeated",
        ] {
            let (row, cell) = if attribute.contains("rows") {
                (format!(r#" {attribute}="{repeated}""#), String::new())
            } else {
                (String::new(), format!(r#" {attribute}="{repeated}""#))
            };
            let table = format!(
                r#"<table:table-row{row}><table:table-cell office:value-type="float" office:value="1"{cell}/></table:table-row>"#
            );
            let told = read_bytes(&content_of(&table)).unwrap_err();
            assert!(
                matches!(
                    told,
                    TableError::TooManyColumns { .. }
                        | TableError::TooManyRows { .. }
                        | TableError::Damaged(_)
                ),
                "{attribute} {repeated}: {told}"
            );
        }
    }
    // Empty repetitions are usual and harmless.
    let padded = r#"<table:table-row><table:table-cell office:value-type="float" office:value="1"/><table:table-cell table:number-columns-repeated="16383"/></table:table-row><table:table-row table:number-rows-repeated="1048575"><table:table-cell table:number-columns-repeated="16384"/></table:table-row>"#;
    assert_eq!(read_bytes(&content_of(padded)).unwrap()[0].rows.len(), 1);
}

#[test]
fn workbooks_that_lie_are_refused() {
    // A list of texts said to be huge, for which a reader would make room.
    let strings = r#"<sst xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main" uniqueCount="99999999999999"><si><t>Water</t></si></sst>"#;
    let sheet = sheet_of(r#"<row r="1"><c r="A1" t="s"><v>0</v></c></row>"#);
    assert!(matches!(
        read_bytes(&workbook(&sheet, strings)),
        Err(TableError::Damaged(_))
    ));
    // A text that is not in the list, a shared formula of a huge number, cut-off XML.
    for rows in [
        r#"<row r="1"><c r="A1" t="s"><v>7</v></c></row>"#,
        r#"<row r="1"><c r="A1"><f t="shared" si="4000000000" ref="A1:A2">1</f><v>1</v></c></row>"#,
        r#"<row r="1"><c r="A1"><v>1"#,
        r#"<row r="0"><c r="A0"><v>1</v></c></row>"#,
        r#"<row r="x"><c r="ZZZZZZZZ99999999999"><v>1</v></c></row>"#,
    ] {
        match read_bytes(&workbook(&sheet_of(rows), NO_STRINGS)) {
            Ok(tables) => assert!(tables[0].rows.len() <= 1, "{rows}"),
            Err(told) => assert!(!told.to_string().is_empty()),
        }
    }
    // Entities that would grow without end are not expanded.
    let laughs = r#"<?xml version="1.0"?><!DOCTYPE lolz [<!ENTITY a "ha"><!ENTITY b "&a;&a;&a;&a;&a;&a;&a;&a;&a;&a;">]><office:document-content xmlns:office="o" xmlns:table="t" xmlns:text="x"><office:body><office:spreadsheet><table:table table:name="S"><table:table-row><table:table-cell office:value-type="string"><text:p>x&b;</text:p></table:table-cell></table:table-row></table:table></office:spreadsheet></office:body></office:document-content>"#;
    let tables = read_bytes(&archive(&[("content.xml", laughs.as_bytes())])).unwrap();
    assert_eq!(tables[0].cell(0, 0).words(), "x");
}

#[test]
fn damaged_files_never_panic() {
    for name in [
        "shower_gel.openpyxl.xlsx",
        "shower_gel.libreoffice.ods",
        "shower_gel.odfpy.ods",
    ] {
        let bytes = std::fs::read(data(name)).unwrap();
        for cut in (0..bytes.len()).step_by(bytes.len() / 60) {
            let _ = read_bytes(&bytes[..cut]);
        }
        // A byte turned over here and there.
        for place in (0..bytes.len()).step_by(bytes.len() / 150) {
            let mut bent = bytes.clone();
            bent[place] ^= 0x55;
            let _ = read_bytes(&bent);
        }
    }
}

/// Runs a command line as a maker does; gives the exit code and what was printed, or
/// the failure's words.
fn run(arguments: &[&str]) -> Result<(u8, String), String> {
    use clap::Parser as _;
    let line = std::iter::once("phasewright").chain(arguments.iter().copied());
    let cli = phasewright::cli::Cli::try_parse_from(line).map_err(|e| e.to_string())?;
    let mut out = Vec::new();
    let code = phasewright::headless::run_to(&cli.command.unwrap(), &mut out).map_err(|f| f.0)?;
    Ok((code, String::from_utf8(out).unwrap()))
}

#[test]
fn the_shelf_is_searched_from_the_command_line() {
    let folder = tempfile::tempdir().unwrap();
    let place = folder.path().to_str().unwrap();
    let (code, printed) = run(&[
        "shelf", "--shelf", place, "search", "sodum", "benzoat", "--json",
    ])
    .unwrap();
    assert_eq!(code, 0);
    let found: serde_json::Value = serde_json::from_str(&printed).unwrap();
    assert_eq!(found[0]["name"], "Sodium benzoate");
    assert_eq!(found[0]["cas"][0], "532-32-1");
    let (_, printed) = run(&[
        "shelf",
        "--shelf",
        place,
        "search",
        "--inventory",
        "fenoxyethanol",
    ])
    .unwrap();
    assert!(printed.contains("Phenoxyethanol (122-99-6)"), "{printed}");
    assert!(printed.contains("CosIng"), "{printed}");
    let (_, printed) = run(&["shelf", "--shelf", place, "folder"]).unwrap();
    assert_eq!(printed.trim(), place);
}

#[test]
fn a_recipe_is_imported_from_the_command_line() {
    let folder = tempfile::tempdir().unwrap();
    let place = folder.path().join("shelf");
    let output = folder.path().join("gel.formula.ron");
    let recipe = data("shower_gel.openpyxl.xlsx");
    let (recipe, place, output) = (
        recipe.to_str().unwrap(),
        place.to_str().unwrap(),
        output.to_str().unwrap(),
    );
    let (_, printed) = run(&["import", recipe, "--shelf", place, "--dry-run"]).unwrap();
    assert!(
        printed.contains("Dry run: nothing was written"),
        "{printed}"
    );
    assert!(!Path::new(output).exists());
    run(&["import", recipe, "--shelf", place, "-o", output]).unwrap();
    let (formula, _) = formulation::file::formula_file::open(Path::new(output)).unwrap();
    assert_eq!(formula.active().total().to_string(), "100");
    assert_eq!(formula.active().lines().count(), 7);
    // Once is enough: nothing is replaced unasked.
    assert!(run(&["import", recipe, "--shelf", place, "-o", output]).is_err());
    // Out again in every form, and in again.
    for (name, form) in [("a.csv", "csv"), ("b.json", "json"), ("c.xlsx", "xlsx")] {
        let out = folder.path().join(name);
        let out = out.to_str().unwrap();
        run(&["export", output, out]).unwrap_or_else(|e| panic!("{form}: {e}"));
        let back = folder.path().join(format!("{form}.formula.ron"));
        let lines = |f: &formulation::formula::Formula| -> Vec<String> {
            f.active()
                .lines()
                .map(|(p, l)| format!("{} {}", p.letter, l.percent))
                .collect()
        };
        let read = if form == "json" {
            formulation::file::open::open_any(Path::new(out), formulation::shelf::built_in())
                .unwrap()
                .formula
        } else {
            run(&[
                "import",
                out,
                "--shelf",
                place,
                "-o",
                back.to_str().unwrap(),
            ])
            .unwrap_or_else(|e| panic!("{form}: {e}"));
            formulation::file::formula_file::open(&back).unwrap().0
        };
        assert_eq!(lines(&read), lines(&formula), "{form}");
    }
}

#[test]
fn a_price_list_goes_into_the_stock_and_new_materials_onto_the_shelf() {
    let folder = tempfile::tempdir().unwrap();
    let place = folder.path().join("shelf");
    let stock = folder.path().join("stock.ron");
    let list = folder.path().join("prices.csv");
    std::fs::write(
        &list,
        "Material;CAS;Pack size;Price;Lot;Best before\nGlycerin;56-81-5;1 kg;7,80;FS-2201;30.11.2027\nMoss extract;;250 g;31,00;;\n",
    )
    .unwrap();
    let arguments = [
        "shelf",
        "--shelf",
        place.to_str().unwrap(),
        "import",
        list.to_str().unwrap(),
        "--stock",
        stock.to_str().unwrap(),
        "--supplier",
        "Fell Supplies",
    ];
    let dry: Vec<&str> = arguments.iter().copied().chain(["--dry-run"]).collect();
    let (_, printed) = run(&dry).unwrap();
    assert!(
        printed.contains("1 change of the shelf and 3 offers or lots"),
        "{printed}"
    );
    assert!(!stock.exists() && !place.exists());
    run(&arguments).unwrap();
    let (read, _, _) = formulation::file::stock_file::open(&stock).unwrap();
    assert_eq!((read.offers.len(), read.lots.len()), (2, 1));
    assert_eq!(&*read.offers[0].supplier, "Fell Supplies");
    let seen = formulation::file::shelf_file::ShelfFolder::new(&place)
        .read()
        .unwrap();
    assert!(
        seen.shelf
            .materials
            .contains_key(&MaterialId::from_name("Moss extract"))
    );
    // The volume of a list of mixed units needs a density; that row is left out with the
    // reason, and the others come in.
    let mixed = data("prices.openpyxl.xlsx");
    let told = run(&[
        "shelf",
        "--shelf",
        place.to_str().unwrap(),
        "import",
        mixed.to_str().unwrap(),
    ]);
    assert!(
        told.as_ref().is_ok_and(|(code, printed)| {
            *code == 3
                && printed.contains("250 ml")
                && printed.contains("density")
                && printed.contains("18.90 EUR for 100 g")
        }),
        "{told:?}"
    );
}

#[test]
fn a_column_is_named_where_several_hold_percentages() {
    let folder = tempfile::tempdir().unwrap();
    let recipe = folder.path().join("versions.csv");
    std::fs::write(
        &recipe,
        "Ingredient,V1 %,V2 %\nWater,95,90\nGlycerin,5,10\n",
    )
    .unwrap();
    let recipe = recipe.to_str().unwrap();
    let place = folder.path().join("shelf");
    let import = |more: &[&str]| {
        let all = [
            "import",
            recipe,
            "--shelf",
            place.to_str().unwrap(),
            "--dry-run",
        ];
        run(&[&all, more].concat())
    };
    let (_, first) = import(&[]).unwrap();
    assert!(
        first.contains("95 % Water") && first.contains("90 % Water") && first.contains("V2 %"),
        "{first}"
    );
    let (_, second) = import(&["--column", "percent=C"]).unwrap();
    assert!(second.contains("90 % Water"), "{second}");
    assert!(import(&["--column", "percent=Q"]).is_err_and(|e| e.contains("last one is C")));
    assert!(import(&["--column", "purity=B"]).is_err_and(|e| e.contains("one of: phase")));
}

#[test]
fn a_shelf_travels_in_every_form() {
    let folder = tempfile::tempdir().unwrap();
    let ours = folder.path().join("ours");
    let ours = ours.to_str().unwrap();
    for form in ["csv", "xlsx", "json", "ron"] {
        let file = folder.path().join(format!("materials.{form}"));
        let file = file.to_str().unwrap();
        let (_, printed) = run(&["shelf", "--shelf", ours, "export", file]).unwrap();
        assert!(printed.contains("materials written"), "{printed}");
        let (_, printed) = run(&["shelf", "--shelf", ours, "import", file]).unwrap();
        assert!(printed.contains("Nothing to change"), "{form}: {printed}");
    }
    // A material that differs is shown field by field and kept unless the maker says otherwise.
    let file = folder.path().join("glycerin.ron");
    std::fs::write(
        &file,
        "(version: 1, materials: [(name: \"Sodium benzoate\", supplier: \"Fell Supplies\", pure: (inci: \"Sodium Benzoate\", cas: \"532-32-1\", class: Preservative))])",
    )
    .unwrap();
    let file = file.to_str().unwrap();
    let (code, printed) = run(&["shelf", "--shelf", ours, "import", file]).unwrap();
    assert!(
        printed.contains("supplier: not stated → Fell Supplies"),
        "{printed}"
    );
    assert!(printed.contains("Nothing to change"), "{printed}");
    // That it stays as it is was assumed, unless the maker says so.
    assert_eq!(code, 3, "{printed}");
    assert!(
        printed.contains("1 material: 0 new, 1 differs, 0 the same."),
        "{printed}"
    );
    let kept = [
        "shelf",
        "--shelf",
        ours,
        "import",
        file,
        "--differing",
        "keep",
    ];
    assert_eq!(run(&kept).unwrap().0, 0);
    run(&[
        "shelf",
        "--shelf",
        ours,
        "import",
        file,
        "--differing",
        "take",
    ])
    .unwrap();
    let seen = formulation::file::shelf_file::ShelfFolder::new(ours)
        .read()
        .unwrap();
    assert_eq!(seen.shelf.materials.len(), 1);
    assert_eq!(seen.shelf.history.len(), 1);
    // Only what is the maker's own, and back again on another machine.
    let theirs = folder.path().join("theirs");
    let theirs = theirs.to_str().unwrap();
    for form in ["csv", "xlsx", "json", "ron"] {
        let file = folder.path().join(format!("own.{form}"));
        let file = file.to_str().unwrap();
        let (_, printed) = run(&["shelf", "--shelf", ours, "export", file, "--own"]).unwrap();
        assert!(printed.contains("1 material"), "{form}: {printed}");
        let import = ["shelf", "--shelf", theirs, "import", file];
        run(&[&import[..], &["--differing", "take"]].concat()).unwrap();
        let back = formulation::file::shelf_file::ShelfFolder::new(theirs);
        let back = back.read().unwrap().shelf;
        assert_eq!(back.materials, seen.shelf.materials, "{form}");
        std::fs::remove_dir_all(theirs).unwrap();
    }
}

/// What was settled once with options is not asked again: the second time the file of answers
/// is enough.
#[test]
fn answers_settle_the_same_file_the_next_time() {
    let folder = tempfile::tempdir().unwrap();
    let place = |name: &str| folder.path().join(name).to_str().unwrap().to_owned();
    let (recipe, shelf, answers) = (place("tin 4.csv"), place("shelf"), place("answers.txt"));
    std::fs::write(
        &recipe,
        "Ingredient;%\nShea butter;q.s.\nOlive oil;3-7\nCastor oil;1,250\nBeeswax, white;20\n",
    )
    .unwrap();
    let import = |more: &[&str]| {
        let all = ["import", &recipe, "--shelf", &shelf, "--dry-run"];
        run(&[&all, more].concat())
    };
    let settled = [
        "--kind",
        "leave-on",
        "--decimal",
        "comma",
        "--filler",
        "2",
        "--amount",
        "3=4,5 %",
        "--answers",
        &answers,
    ];
    let asked = import(&[]).unwrap();
    assert_eq!(asked.0, 3, "{}", asked.1);
    let first = import(&settled).unwrap();
    assert_eq!(first.0, 0, "{}", first.1);
    assert!(
        first.1.contains("4.5 % Olive oil")
            && first.1.contains("5 rows: 4 taken, 0 asked, 1 left out.")
    );
    let again = import(&["--answers", &answers]).unwrap();
    assert_eq!(again, first);
    // What the maker says now comes before what was said.
    let other = import(&["--answers", &answers, "--amount", "3=6"]).unwrap();
    assert!(
        other.0 == 0 && other.1.contains("6 % Olive oil"),
        "{}",
        other.1
    );
    assert!(import(&["--amount", "30=6"]).is_err_and(|e| e.contains("row 30 has no line")));
    assert!(import(&["--amount", "3=3-7"]).is_err_and(|e| e.contains("row 3")));
    assert!(import(&["--amount", "three"]).is_err_and(|e| e.contains("7=3 %")));
}

/// Lets one change of the disk fail, counted from the first.
struct OneFails {
    at: usize,
    changes: std::cell::Cell<usize>,
}

impl formulation::file::disk::Watch for OneFails {
    fn before(&self, op: &formulation::file::disk::Op<'_>) -> formulation::file::disk::CallOutcome {
        use formulation::file::disk::{CallOutcome, Op};
        if matches!(op, Op::Look(_) | Op::Read(_) | Op::List(_)) {
            return CallOutcome::Go;
        }
        let change = self.changes.get();
        self.changes.set(change + 1);
        if change == self.at {
            CallOutcome::Fail(std::io::ErrorKind::StorageFull.into())
        } else {
            CallOutcome::Go
        }
    }

    fn done(&self, _: &formulation::file::disk::Op<'_>) {}
}

/// A command that writes two files and fails at any moment is only given again: what is there
/// already does not come in twice, and nothing is missing.
#[test]
fn a_command_that_failed_goes_on_where_it_stopped() {
    use formulation::file::disk::watched;
    let sources = tempfile::tempdir().unwrap();
    let prices = sources.path().join("prices.csv");
    std::fs::write(
        &prices,
        "Material;CAS;Pack size;Price;Lot\nGlycerin;56-81-5;1 kg;7,80;FS-2201\nMoss extract;;250 g;31,00;\n",
    )
    .unwrap();
    let recipe = sources.path().join("recipe.csv");
    std::fs::write(&recipe, "Material,%\nWater,95\nMoss extract,5\n").unwrap();
    let (prices, recipe) = (prices.to_str().unwrap(), recipe.to_str().unwrap());
    // What a folder holds once a command went through.
    let told = |folder: &Path| {
        let seen = formulation::file::shelf_file::ShelfFolder::new(folder.join("shelf"))
            .read()
            .unwrap();
        let stock = formulation::file::stock_file::open(&folder.join("stock.ron"))
            .map(|(stock, _, _)| (stock.offers.len(), stock.lots.len()));
        let formula = formulation::file::formula_file::open(&folder.join("gel.formula.ron"))
            .map(|(formula, _)| formula.active().lines().count());
        let materials: Vec<_> = seen.shelf.materials.keys().cloned().collect();
        (materials, stock.ok(), formula.ok())
    };
    for what in ["prices", "recipe"] {
        let command = |folder: &Path| {
            let place = |name: &str| folder.join(name).display().to_string();
            let (shelf, stock, gel) =
                (place("shelf"), place("stock.ron"), place("gel.formula.ron"));
            let line: &[&str] = if what == "prices" {
                &[
                    "shelf", "--shelf", &shelf, "import", prices, "--stock", &stock,
                ]
            } else {
                &[
                    "import",
                    recipe,
                    "--shelf",
                    &shelf,
                    "--to-shelf",
                    "-o",
                    &gel,
                    "--replace",
                ]
            };
            run(line)
        };
        let sound = tempfile::tempdir().unwrap();
        command(sound.path()).unwrap();
        let wanted = told(sound.path());
        let mut failed = 0;
        for at in 0.. {
            let folder = tempfile::tempdir().unwrap();
            let watch = std::rc::Rc::new(OneFails {
                at,
                changes: std::cell::Cell::new(0),
            });
            let first = watched(watch.clone(), || command(folder.path()));
            if watch.changes.get() <= at {
                break;
            }
            if first.is_err() {
                failed += 1;
                command(folder.path()).unwrap_or_else(|e| panic!("{what}, change {at}: {e}"));
            }
            assert_eq!(told(folder.path()), wanted, "{what}, change {at}");
        }
        assert!(failed >= 8, "{what}: {failed} failures");
    }
    // Where the formula cannot be written, the shelf stays as it is.
    let folder = tempfile::tempdir().unwrap();
    let place = |name: &str| folder.path().join(name).display().to_string();
    std::fs::write(place("gel.formula.ron"), "mine").unwrap();
    let (shelf, gel) = (place("shelf"), place("gel.formula.ron"));
    let told = run(&[
        "import",
        recipe,
        "--shelf",
        &shelf,
        "--to-shelf",
        "-o",
        &gel,
    ]);
    assert!(told.is_err_and(|e| e.contains("already exists")));
    assert!(!Path::new(&shelf).exists());
}

/// A material that states one value and nothing else.
fn stating(value: MaterialValue, counted: Counted) -> (Arc<Material>, Arc<Material>) {
    let bare = Material::unknown(MaterialId::from_name("Heather wax"), "Heather wax");
    let at = |part: f64| counted.in_file(counted.least + part * (counted.most - counted.least));
    let figures = Figures {
        low: at(0.25),
        high: at(if counted.has_two_ends() { 0.75 } else { 0.25 }),
    };
    let source = Source::new(Basis::Supplier, "sheet of the heather");
    let mut stated = bare.clone();
    stated.set_figures(value, figures, source.clone());
    assert_eq!(stated.figures(value), Some((figures, &source)), "{value:?}");
    let sources: Vec<_> = stated.value_sources().collect();
    assert!(sources.contains(&(value, &source)), "{value:?}");
    (Arc::new(bare), Arc::new(stated))
}

/// Whatever a material states comes back from every file and table, under the key of its row.
fn comes_back_from_files(value: MaterialValue, stated: &Arc<Material>) {
    let key = value.row().key;
    let ron = material_file::write([stated]).unwrap();
    assert!(ron.contains(&format!("{key}: ")), "{key}: {ron}");
    assert!(ron.contains("from: {"), "{key} lost its source: {ron}");
    assert_eq!(
        material_file::read(&ron, "x").unwrap(),
        [(**stated).clone()]
    );
    let json = shelf_table::json([stated]).unwrap();
    assert_eq!(
        shelf_table::read_json(&json, "x").unwrap(),
        [(**stated).clone()]
    );
    let csv = shelf_table::csv([stated]).unwrap();
    let headings = csv.lines().next().unwrap();
    assert!(headings.split(',').any(|heading| heading == key), "{key}");
    for tables in [
        read_bytes(csv.as_bytes()).unwrap(),
        read_bytes(&shelf_table::xlsx([stated]).unwrap()).unwrap(),
    ] {
        let read = shelf_table::read_table(&tables[0], "x").unwrap();
        assert_eq!(read, [(**stated).clone()], "{key}");
    }
}

/// What may be typed is what files take, and no more.
fn has_one_range(value: MaterialValue, counted: Counted) {
    let key = value.row().key;
    let step = 0.01 * (counted.most - counted.least);
    for (typed, is_fine) in [
        (counted.least, true),
        (counted.most, true),
        (counted.least - step, false),
        (counted.most + step, false),
    ] {
        let mut draft = MaterialDraft {
            name: "Heather wax".into(),
            ..MaterialDraft::default()
        };
        draft.values[value].low = typed.to_string();
        let checked = draft.check(|_| false);
        assert_eq!(
            checked.fault(DraftField::Value(value)).is_none(),
            is_fine,
            "{key} {typed}"
        );
        let figure = counted.in_file(typed);
        let cell = if counted.has_two_ends() {
            format!("[{figure},{figure}]")
        } else {
            figure.to_string()
        };
        let table = format!("name;contains;{key}\nHeather wax;[];\"{cell}\"\n");
        let tables = read_bytes(table.as_bytes()).unwrap();
        let read = shelf_table::read_table(&tables[0], "x");
        assert_eq!(read.is_ok(), is_fine, "{key} {typed}: {read:?}");
    }
}

/// One value after the other, stated alone: wherever a material goes, the value goes with it.
/// A new value is covered by its row.
#[test]
fn every_value_of_a_material_survives_wherever_it_goes() {
    assert_eq!(
        MaterialValue::counted().count(),
        MaterialValue::FIGURES.len()
    );
    for (value, counted) in MaterialValue::counted() {
        let row = value.row();
        let (bare, stated) = stating(value, counted);
        comes_back_from_files(value, &stated);
        has_one_range(value, counted);
        // A draft, and a draft that follows what was stated elsewhere.
        let draft = MaterialDraft::of(&stated);
        assert_ne!(draft.values[value].low, "", "{value:?}");
        assert_eq!(draft.check(|_| true).material.as_ref(), Some(&stated));
        let was = MaterialDraft::of(&bare);
        let mut here = was.clone();
        assert!(here.follow(&was, &draft).is_empty());
        assert_eq!(here.check(|_| true).material.as_ref(), Some(&stated));
        let mut here = was.clone();
        here.values[value].low = "typed here".into();
        assert_eq!(here.follow(&was, &draft), [row.label]);
        // The list of changes names it, with its unit and source.
        let changes = material_changes(&bare, &stated);
        assert_eq!(changes.len(), 1, "{changes:?}");
        assert_eq!(changes[0].field, row.in_changes);
        assert_eq!(changes[0].before, "not stated");
        for words in [
            &draft.values[value].low,
            counted.unit,
            "sheet of the heather",
        ] {
            assert!(changes[0].after.contains(words), "{changes:?}");
        }
        // Two windows: one states the value, the other changes something else.
        let put = |shelf: &OwnShelf, material: &Arc<Material>| {
            let mut shelf = shelf.clone();
            shelf.apply(&ShelfEdit::Put(Arc::clone(material)), "1");
            shelf
        };
        let base = put(&OwnShelf::default(), &bare);
        let mut noted = Material::clone(&bare);
        noted.note = "smells of the moor".into();
        let ours = put(&base, &Arc::new(noted));
        let merged = merge(&base, &ours, &put(&base, &stated), "2");
        assert!(merged.conflicts.is_empty());
        let merged = &merged.shelf.materials[&bare.id];
        assert_eq!(merged.figures(value), stated.figures(value));
        assert_eq!(&*merged.note, "smells of the moor");
        let mut other = Material::clone(&stated);
        let end = Figures::one(counted.in_file(counted.most));
        other.set_figures(value, end, Source::new(Basis::Measured, "own"));
        let theirs = put(&base, &Arc::new(other));
        let merged = merge(&base, &put(&base, &stated), &theirs, "2");
        assert_eq!(merged.conflicts.len(), 1, "{value:?}");
    }
}
