//! Recipes as tables of this program, read and refused.

use super::*;
use crate::fixture;
use crate::formula::{Market, ProductType};
use crate::material::{Charge, Class, Constituent, Material, MaterialId, ProductKind};
use crate::quantity::MassFraction;
use crate::quantity::Ph;
use proptest::prelude::*;

fn shelf() -> Shelf {
    let mut water = Material::clone(&fixture::material(
        "Water",
        &[("Aqua", 100.0, Class::Water)],
    ));
    water.synonyms = vec!["Demineralised water".into()];
    let betaine = Class::Surfactant(Charge::Amphoteric);
    let sulfate = Class::Surfactant(Charge::Anionic);
    [
        Arc::new(water),
        fixture::material(
            "Glycerin (99.5 %)",
            &[
                ("Glycerin", 99.5, Class::Humectant),
                ("Aqua", 0.5, Class::Water),
            ],
        ),
        fixture::material(
            "Glycerin (86.5 %)",
            &[
                ("Glycerin", 86.5, Class::Humectant),
                ("Aqua", 13.5, Class::Water),
            ],
        ),
        fixture::material(
            "Betaine solution",
            &[
                ("Aqua", 64.0, Class::Water),
                ("Cocamidopropyl Betaine", 30.0, betaine),
                ("Sodium Chloride", 6.0, Class::Electrolyte),
            ],
        ),
        fixture::material(
            "Sulfate 28",
            &[
                ("Aqua", 72.0, Class::Water),
                ("Sodium Laureth Sulfate", 28.0, sulfate),
            ],
        ),
        fixture::material(
            "Sulfate 70",
            &[
                ("Aqua", 30.0, Class::Water),
                ("Sodium Laureth Sulfate", 70.0, sulfate),
            ],
        ),
    ]
    .into_iter()
    .collect()
}

#[test]
fn a_head_line_may_be_a_cell_in_quotation_marks() {
    assert_eq!(comment("# name: Gel").as_deref(), Some(" name: Gel"));
    assert_eq!(
        comment("\"# name: \"\"Gel\"\", =1+1; 2\",,").as_deref(),
        Some(" name: \"Gel\", =1+1; 2")
    );
    assert_eq!(comment("phase,material"), None);
    assert_eq!(comment("\"phase\",\"#\""), None);
}

#[test]
fn an_empty_table_says_so() {
    for text in ["", "\n\n", "# kind: rinse-off\n", "\u{feff}"] {
        let error = open(text).unwrap_err();
        assert!(error.contains("the table is empty"), "{text:?}: {error}");
    }
}

fn open(text: &str) -> Result<Formula, String> {
    let table = read(text, "gel.csv", "gel", &shelf());
    table.map(|t| t.formula).map_err(|e| e.to_string())
}

#[test]
fn a_table_becomes_a_formula() {
    let text = "# name: Test gel\n# kind: leave-on\n# market: EU, US\n\nphase,material,percent,composition\nA,aqua,q.s.,\nA,Glycerin,5,\nB,betaine SOLUTION,\"12,5\",\nB,Cocamidopropyl Betaine,1,\n,Sodium Chloride,1,pure\nB,Sodium Benzoate,0.5,pure\n";
    assert!(looks_like_table(text));
    let formula = open(text).unwrap();
    let variant = formula.active();
    assert_eq!(&*formula.name, "Test gel");
    assert_eq!(variant.product.kinds, ProductKind::LeaveOn.into());
    assert_eq!(variant.product.markets, [Market::Eu, Market::Us]);
    assert_eq!(variant.total(), Percent::HUNDRED);
    let lines: Vec<(String, String, String)> = variant
        .lines()
        .map(|(p, l)| {
            (
                p.letter.to_string(),
                l.material.to_string(),
                l.percent.to_string(),
            )
        })
        .collect();
    let expected = [
        ("A", "water", "80"),
        ("A", "glycerin-99-5", "5"),
        ("B", "betaine-solution", "12.5"),
        ("B", "betaine-solution", "1"),
        ("B", "sodium-chloride-pure", "1"),
        ("B", "sodium-benzoate-pure", "0.5"),
    ];
    assert_eq!(lines.len(), expected.len());
    for (line, expected) in lines.iter().zip(expected) {
        assert_eq!(
            (line.0.as_str(), line.1.as_str(), line.2.as_str()),
            expected
        );
    }
    let salt = &formula.materials[&MaterialId::from_name("sodium chloride pure")];
    assert_eq!(salt.constituents[0].class, Class::Electrolyte);
    assert_eq!(salt.constituents[0].share.typical, MassFraction::ONE);
    // Name and CAS number as in the European Commission's CosIng inventory.
    let benzoate = &formula.materials[&MaterialId::from_name("sodium benzoate pure")];
    assert_eq!(
        benzoate.constituents[0].cas.unwrap().to_string(),
        "532-32-1"
    );
    assert_eq!(benzoate.constituents[0].class, Class::Preservative);
}

#[test]
fn semicolons_tabs_and_blanks_are_understood() {
    for text in [
        "phase;material;percent\nA;Water;q.s.\nA;Glycerin;2,5\n",
        "Phase\tMaterial\tPercent\r\nA\tWater\tq.s.\r\nA\tGlycerin\t2.5 %\r\n",
        " phase , percent , material \nA, qs ,Water\n# in between\nA,2.50,  glycerin \n\n",
    ] {
        let formula = open(text).unwrap();
        let percents: Vec<String> = formula
            .active()
            .lines()
            .map(|(_, l)| l.percent.to_string())
            .collect();
        assert_eq!(percents, ["97.5", "2.5"], "{text}");
    }
}

#[test]
fn a_name_that_fits_several_materials_says_what_was_taken() {
    let text =
        "# kind: rinse-off\nphase,material,percent\nA,Water,q.s.\nA,Sodium Laureth Sulfate,5\n";
    let table = read(text, "t.csv", "T", &shelf()).unwrap();
    assert_eq!(table.assumed.len(), 1, "{:?}", table.assumed);
    for part in ["line 4", "Sulfate 28", "Sulfate 70"] {
        assert!(table.assumed[0].contains(part), "{part}");
    }
    let (_, line) = table.formula.active().lines().nth(1).unwrap();
    assert!(line.why.contains("Sulfate 70"));
}

/// What is not said of the kind of product is taken by its type, and told, as is a key that
/// may be misspelt and a name that leaves a strength open.
#[test]
fn what_is_assumed_of_the_product_is_told() {
    let read = |head: &str, rows: &str| {
        let text = format!("{head}phase,material,percent\n{rows}");
        read(&text, "t.csv", "T", crate::shelf::built_in()).unwrap()
    };
    let lotion = read("# type: body-lotion\n", "A,Water,q.s.\n");
    let product = &lotion.formula.active().product;
    assert_eq!(product.kinds, ProductKind::LeaveOn.into());
    assert!(
        lotion.assumed[0].contains("leave-on"),
        "{:?}",
        lotion.assumed
    );
    let head = "# kind: leave-on\n# undr three: yes\n# for the stall: yes\n";
    let told = read(head, "A,Water,q.s.\nA,Glycolic acid,5\n").assumed;
    assert_eq!(told.len(), 2, "{told:?}");
    assert!(
        told[0].contains("line 2") && told[0].contains("under three"),
        "{told:?}"
    );
    assert!(told[1].contains("leaves its strength open"), "{told:?}");
    let stated = read(
        "# kind: leave-on\n",
        "A,Water,q.s.\nA,Glycolic acid 70 %,5\n",
    );
    assert!(stated.assumed.is_empty(), "{:?}", stated.assumed);
}

#[test]
fn errors_name_line_field_and_remedy() {
    let check = |rows: &str, parts: &[&str]| {
        let said = open(&format!(
            "# a comment\nphase,material,percent,composition\n{rows}"
        ))
        .unwrap_err();
        for part in parts {
            assert!(said.contains(part), "{part} in: {said}");
        }
    };
    check(
        "A,Glicerin,5,\n",
        &["line 3, column 3", "Glicerin", "did you mean", "Glycerin"],
    );
    check("A,Niacinamide,5,\n", &["line 3", "`pure`"]);
    check(
        "A,Water,five,\n",
        &["line 3, column 9", "`percent`", "five"],
    );
    check("A,Water,,\n", &["line 3", "`percent`", "missing"]);
    check("A,Water,120,\n", &["from 0 % to 100 %"]);
    check("A,Water,-1,\n", &["from 0 % to 100 %"]);
    check("A,,5,\n", &["`material`", "missing"]);
    check(
        "A,Water,q.s.,\nA,Glycerin,q.s.,\n",
        &["line 4", "only one line"],
    );
    check(
        "A,Water,5,dry\n",
        &["line 3, column 11", "`composition`", "dry"],
    );
    check("A,Water,1,,5\n", &["line 3", "5 cells"]);
    check("A,Nosuchthing,5,pure\n", &["Nosuchthing"]);
    check("", &["no row"]);
    let said = open("phase,material\nA,Water\n").unwrap_err();
    assert!(
        said.contains("“percent” is missing") && said.contains("line 1"),
        "{said}"
    );
    let said = open("phase,material,percent,colour\nA,Water,1,red\n").unwrap_err();
    assert!(said.contains("“colour”"), "{said}");
    let said = open("# kind: soapy\nphase,material,percent\nA,Water,1\n").unwrap_err();
    assert!(said.contains("soapy") && said.contains("line 1"), "{said}");
    assert!(open("").is_err());
}

#[test]
fn a_pure_surfactant_has_the_charge_its_name_tells() {
    let text = "phase,material,percent,composition\nA,Disodium Laureth Sulfosuccinate,10,pure\nA,Behentrimonium Chloride,1,pure\n";
    let formula = open(text).unwrap();
    let charges: Vec<_> = formula.materials.values().map(|m| m.charge).collect();
    assert_eq!(charges, [Some(Charge::Cationic), Some(Charge::Anionic)]);
    let class = |m: &Arc<Material>| m.constituents[0].class;
    let classes: Vec<_> = formula.materials.values().map(class).collect();
    assert_ne!(classes[0], Class::Other);
    assert_eq!(classes[1], Class::Surfactant(Charge::Anionic));
}

#[test]
fn more_than_a_hundred_leaves_nothing_for_the_filler() {
    let formula =
        open("phase,material,percent\nA,Water,q.s.\nA,Glycerin,60\nA,Betaine solution,60\n")
            .unwrap();
    assert_eq!(formula.active().total().to_string(), "120");
}

proptest! {
    #[test]
    fn random_text_never_panics(text in "\\PC{0,200}") {
        let _ = open(&text);
        let _ = open(&format!("phase,material,percent\n{text}"));
    }
}

fn table(head: &str, rows: &str) -> FormulaTable {
    let text = format!("{head}phase,material,percent,composition,cas\n{rows}");
    read(&text, "test.csv", "Test", &shelf()).unwrap()
}

fn only(table: &FormulaTable) -> &Constituent {
    let line = table.formula.active().lines().next().unwrap().1;
    &table.formula.material(&line.material).unwrap().constituents[0]
}

/// CAS numbers as printed in Regulation (EC) No 1223/2009: phenoxyethanol 122-99-6 and
/// o-phenylphenate 132-27-4 in Annex V, chloroform 67-66-3 in Annex II.
#[test]
fn a_pure_substance_is_found_by_its_number_and_by_the_names_of_the_law() {
    let found = table("", "A,122-99-6,1,pure,\n");
    assert_eq!(only(&found).inci.spelling(), "Phenoxyethanol");
    assert_eq!(only(&found).class, Class::Preservative);
    let found = table("", "A,Sodium o-Phenylphenate,1,pure,\n");
    assert_eq!(only(&found).class, Class::Preservative);
    let found = table("# kind: rinse-off\n", "A,67-66-3,1,pure,\n");
    assert_eq!(only(&found).cas, "67-66-3".parse().ok());
    assert!(found.assumed.is_empty());
    // A name of the maker's own beside a number the lists know.
    let found = table("", "A,House white,1,pure,13463-67-7\n");
    assert_eq!(only(&found).inci.spelling(), "House white");
    assert_eq!(only(&found).cas, "13463-67-7".parse().ok());
    assert_eq!(only(&found).class, Class::Colour);
    let dye = table("", "A,CI 13065,1,pure,\n");
    assert_eq!(only(&dye).class, Class::Colour);
    let nano = table("", "A,Glycerin (nano),1,pure,\n");
    assert_eq!(only(&nano).inci.spelling(), "Glycerin (nano)");
    let unknown = table("# kind: rinse-off\n", "A,House secret,1,pure,9999-99-9\n");
    assert!(unknown.assumed[0].contains("no list here knows"));
}

#[test]
fn the_head_describes_the_product() {
    let head = "# under-three: yes\n# Spray: no\n# professional: yes\n# placed: 2027-01-15\n# measured pH: 5,2\n# target ph: 5\n# type: body-lotion\n# fragrance category: 5A\n";
    let found = table(head, "A,aqua,100,,\n");
    let variant = found.formula.active();
    let product = &variant.product;
    assert!(product.under_three && !product.spray && product.professional);
    assert_eq!(product.market_date, Some(jiff::civil::date(2027, 1, 15)));
    assert_eq!(product.product_type, Some(ProductType::BodyLotion));
    assert_eq!(product.fragrance_category.as_deref(), Some("5A"));
    assert_eq!(variant.measured.ph, Ph::new(5.2));
    assert_eq!(variant.target_ph, Ph::new(5.0));
    for (wrong, word) in [
        ("# spray: perhaps\n", "yes or no"),
        ("# placed: soon\n", "is not a day"),
        ("# measured ph: sour\n", "not a pH"),
    ] {
        let text = format!("{wrong}phase,material,percent\nA,aqua,100\n");
        let error = read(&text, "test.csv", "Test", &shelf()).unwrap_err();
        assert!(error.to_string().contains(word), "{error}");
    }
}
