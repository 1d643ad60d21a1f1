//! Rules of the house that no type can hold: what is decided in one room is not decided
//! again in another.

#![expect(
    clippy::unwrap_used,
    reason = "a test that cannot read the sources shall fail"
)]

use std::path::{Path, PathBuf};

/// The sources of a crate, without what is only test.
fn sources(krate: &str) -> Vec<(PathBuf, String)> {
    fn walk(folder: &Path, found: &mut Vec<PathBuf>) {
        for entry in std::fs::read_dir(folder).unwrap() {
            let path = entry.unwrap().path();
            if path.is_dir() {
                walk(&path, found);
            } else if path.extension().is_some_and(|e| e == "rs") {
                found.push(path);
            }
        }
    }
    let mut found = Vec::new();
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("../crates");
    walk(&root.join(krate).join("src"), &mut found);
    assert!(found.len() > 20, "{krate}: {} files", found.len());
    found
        .into_iter()
        .filter(|path| {
            !path
                .file_name()
                .unwrap()
                .to_string_lossy()
                .contains("tests")
        })
        .map(|path| {
            let text = std::fs::read_to_string(&path).unwrap();
            let code = text
                .split("#[cfg(test)]\nmod tests")
                .next()
                .unwrap()
                .to_owned();
            (path, code)
        })
        .collect()
}

fn none_of(krate: &str, words: &[&str], except: &[&str], why: &str) {
    let mut found = Vec::new();
    for (path, code) in sources(krate) {
        let name = path.to_string_lossy().replace('\\', "/");
        if except.iter().any(|e| name.ends_with(e)) {
            continue;
        }
        for (number, line) in code.lines().enumerate() {
            if words.iter().any(|w| line.contains(w)) {
                found.push(format!("{name}:{}: {}", number + 1, line.trim()));
            }
        }
    }
    assert!(found.is_empty(), "{why}:\n{}", found.join("\n"));
}

#[test]
fn numbers_typed_by_people_have_one_reader() {
    let words = [
        "replace(',', \".\")",
        "parse::<f64>()",
        "Decimal::from_str_exact(",
    ];
    let why = "read typed numbers with formulation::amount::typed";
    none_of("phasewright", &words, &[], why);
    // Files hold plain decimals of our own; tables and texts go through `amount::number`.
    let own = [
        "file/quantity_text.rs",
        "file/trial_cases/tables.rs",
        "amount/number.rs",
        "src/reference.rs",
    ];
    none_of("formulation", &words, &own, why);
}

#[test]
fn the_model_knows_no_screen_and_no_clock() {
    let words = ["egui", "SystemTime::now", "Zoned::now", "Timestamp::now"];
    none_of("formulation", &words, &[], "the model is pure");
}
