//! Signatures in the window.
#![expect(
    clippy::unwrap_used,
    reason = "a helper of tests fails the test by panicking"
)]

use std::path::Path;

use acceptance::window::{Look, bench, picture, shower_gel, state, type_into};
use egui_kittest::Harness;
use egui_kittest::kittest::Queryable as _;
use formulation::evaluation::{Context, evaluate};
use formulation::file::signature::{self, SignatureCheck};
use formulation::file::{finished, store};
use formulation::formula::Date;
use formulation::shelf::built_in;
use phasewright::app::Bench;
use phasewright::command::Command;

fn wait_for(harness: &mut Harness<'_, Bench>, words: &str) {
    for _ in 0..500 {
        harness.run();
        if harness.query_by_label_contains(words).is_some() {
            return;
        }
        std::thread::sleep(std::time::Duration::from_millis(20));
    }
    panic!("“{words}” is not said");
}

fn finished_file(folder: &Path) -> std::path::PathBuf {
    let formula = shower_gel(false);
    let context = Context::new(Date::constant(2026, 3, 2));
    let evaluation = evaluate(&formula, formula.active(), &context);
    let path = folder.join("gel.finished.ron");
    let text = finished::write(
        &formula,
        formula.active(),
        &evaluation,
        context.today,
        &finished::Enclosed::default(),
    )
    .unwrap();
    finished::save(&path, &text, store::Expect::Nothing).unwrap();
    path
}

/// A key is made, a finished formula signed and checked; once the file is altered, that is
/// seen. The signature is read by the library of the minisign format, which made it.
#[test]
fn a_finished_formula_is_signed_and_checked() {
    let folder = tempfile::tempdir().unwrap();
    let path = finished_file(folder.path());
    let mut state = state(built_in().clone(), shower_gel(false));
    state.folders.config = Some(folder.path().join("config"));
    let mut harness = bench(Look::USUAL, state);
    harness.state_mut().push(Command::Signatures);
    harness.run();
    harness.run();
    type_into(&mut harness, "File", &path.display().to_string());
    type_into(&mut harness, "Name", "a/b");
    harness.get_by_label("Make it").click();
    wait_for(&mut harness, "is no name for keys");
    type_into(&mut harness, "Name", "studio");
    harness.get_by_label("Make it").click();
    wait_for(&mut harness, "Keep studio.key to yourself");
    harness.get_by_label("Sign").click();
    wait_for(&mut harness, "Signed; the signature is");
    picture(&mut harness, "signatures");
    harness.get_by_label("Check").click();
    wait_for(&mut harness, "The signature holds");
    let public = folder.path().join("config/keys/studio.pub");
    assert!(matches!(
        signature::verify(&path, &public).unwrap(),
        SignatureCheck::Holds { .. }
    ));
    let text = std::fs::read_to_string(&path).unwrap();
    std::fs::write(&path, text.replacen("gel", "gle", 1)).unwrap();
    harness.get_by_label("Check").click();
    wait_for(&mut harness, "The signature does not hold");
}
