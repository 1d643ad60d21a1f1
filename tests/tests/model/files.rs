//! Golden files: one of each released version of each file format, kept for good.
//!
//! What they say was written by hand and is stated here again; a file is added when
//! a version is released and never changed afterwards.
#![expect(
    clippy::unwrap_used,
    reason = "a helper of tests fails the test by panicking"
)]

use std::path::{Path, PathBuf};

use formulation::edit::{self, Edit};
use formulation::file::{finished, formula_file};
use formulation::formula::{
    BodySite, Date, Formula, ItemId, Kinds, Market, ProductType, VariantId,
};
use formulation::label_info::Durability;
use formulation::material::{Alkalinity, Basis, Coverage, ProductKind};
use formulation::purpose::Purpose;
use formulation::quantity::{Percent, in_celsius, in_grams, in_kg_per_m3};

fn path(name: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR"))
        .join("reference/files")
        .join(name)
}

fn text(name: &str) -> String {
    let path = path(name);
    std::fs::read_to_string(&path)
        .unwrap_or_else(|e| panic!("{}: {e}", path.display()))
        .replace("\r\n", "\n")
}

fn formula(name: &str) -> Formula {
    formula_file::read(&text(name), name).unwrap()
}

fn percent(text: &str) -> Percent {
    text.parse().unwrap()
}

#[test]
fn the_newest_version_is_written_as_it_was_released() {
    // A new version needs a file of its own here.
    let name = format!("version-{}.formula.ron", formula_file::VERSION);
    // As long as a version is not released, UPDATE_NEWEST=1 writes its file anew.
    if std::env::var_os("UPDATE_NEWEST").is_some() {
        let mut newest = formula("version-1.formula.ron");
        let first = newest.active();
        let (id, line) = (first.id, first.phases[0].lines[1].id);
        let purpose = Edit::SetPurpose {
            line,
            purpose: Some(Purpose::Humectant),
        };
        newest = edit::apply(&newest, id, &purpose).unwrap().formula;
        let mut product = newest.active().product.clone();
        product.kinds = Kinds::Both;
        let kinds = Edit::SetProduct(product);
        newest = edit::apply(&newest, id, &kinds).unwrap().formula;
        std::fs::write(path(&name), formula_file::write(&newest).unwrap()).unwrap();
    }
    assert_eq!(formula_file::write(&formula(&name)).unwrap(), text(&name));
    assert!(path(&format!("version-{}.finished.ron", finished::VERSION)).exists());
}

#[test]
fn a_formula_of_version_1_says_what_was_written() {
    let formula = formula("version-1.formula.ron");
    assert_eq!(&*formula.name, "Oat and juniper shower gel");
    assert_eq!(&*formula.author, "Larkmoor Studio");
    assert_eq!(formula.active, VariantId(41));
    let [first, milder, given_up] = formula.variants.as_slice() else {
        panic!("three variants are written");
    };
    assert_eq!(milder.parent, Some(first.id));
    assert!(given_up.archived && !milder.archived);
    assert_eq!(first.created, Some(Date::constant(2026, 3, 2)));
    assert_eq!(first.filler, Some(ItemId(10)));
    assert!((in_grams(first.batch) - 1500.5).abs() < 1e-9);
    assert_eq!(first.total(), Percent::HUNDRED);

    let product = &first.product;
    assert_eq!(product.kinds, ProductKind::RinseOff.into());
    assert_eq!(product.product_type, Some(ProductType::ShowerGel));
    assert_eq!(product.places, [BodySite::Body, BodySite::Hands]);
    assert_eq!(product.markets, [Market::Eu, Market::Uk, Market::Us]);
    assert_eq!(product.market_date, Some(Date::constant(2026, 9, 1)));
    assert!(!milder.product.spray && product.spray);

    let density = first.measured.density.unwrap();
    assert!((in_kg_per_m3(density) - 1034.0).abs() < 1e-9);
    let label = &first.label;
    assert_eq!(label.durability, Durability::AfterOpening(12));
    assert_eq!(label.left_out[0].inci.spelling(), "Sodium Sulfate");
    assert!((label.width_mm - 70.5).abs() < 1e-12);

    let phase = &first.phases[0];
    assert!((in_celsius(phase.temperature.unwrap()) - 40.5).abs() < 1e-9);
    let glycerin = &phase.lines[1];
    assert!(glycerin.held);
    assert_eq!(glycerin.max, Some(percent("5.000001")));
    assert_eq!(&*phase.steps[0].check, "no \"fish eyes\"");
    assert_eq!(phase.steps[0].minutes, Some(5));

    let material = formula.material(&glycerin.material).unwrap();
    assert_eq!(&*material.name, "Glycerin 99.5 %");
    let share = material.constituents[0].share;
    assert!((share.low.as_percent() - 99.5).abs() < 1e-9);
    assert!((share.typical.as_percent() - 99.6).abs() < 1e-9);
    assert!((share.high.as_percent() - 99.8).abs() < 1e-9);
    assert!(material.constituents[1].incidental.is_some());
    let preservation = material.preservation.as_ref().unwrap();
    assert_eq!(preservation.mould, Coverage::None);
    assert_eq!(
        material.density.as_ref().unwrap().source.basis,
        Basis::Published
    );
    assert!(matches!(material.alkalinity, Alkalinity::Titrated { .. }));

    // An earlier state is told by its difference: the line of glycerin stayed.
    let kept = &formula.history[0];
    assert_eq!(&*kept.what, "Set cleanser to 28 %");
    let was = &kept.variant.phases[0];
    assert_eq!(was.lines[0].percent, percent("98"));
    assert_eq!(was.lines[1], *glycerin);
}

#[test]
fn a_finished_formula_of_version_1_opens_intact() {
    // Of every byte after the first line, by sha256sum of GNU coreutils.
    const SHA256: &str = "965ad9c4c344ebc07a2ae9d004dd6c00de765d328751f3124d40d2636f3ee173";
    let text = text("version-1.finished.ron");
    assert!(text.starts_with(&format!("// sha256 {SHA256} ")));
    let opened = finished::read(&text, "version-1.finished.ron").unwrap();
    assert!(opened.intact);
    assert_eq!(opened.date, "2026-03-02");
    assert_eq!(
        opened.enclosed.batch,
        [("batch".to_owned(), "26-047".to_owned())]
    );
    let whole = formula("version-1.formula.ron");
    assert_eq!(opened.formula.variants.len(), 1);
    assert_eq!(
        opened.formula.active().lines().count(),
        whole.variants[0].lines().count()
    );
    assert_eq!(opened.formula.active().phases, whole.variants[0].phases);

    let altered = text.replacen("66.399999", "66.4", 1);
    assert_ne!(altered, text);
    assert!(!finished::read(&altered, "altered").unwrap().intact);
}

#[test]
fn files_of_a_newer_version_are_refused() {
    for (name, newest) in [
        ("version-1.formula.ron", formula_file::VERSION),
        ("version-1.finished.ron", finished::VERSION),
    ] {
        let newer = text(name).replacen("version: 1", &format!("version: {}", newest + 1), 1);
        let refusal = if name.contains("finished") {
            finished::read(&newer, name).unwrap_err()
        } else {
            formula_file::read(&newer, name).unwrap_err()
        };
        assert!(refusal.message.contains("newer"), "{}", refusal.message);
    }
}
