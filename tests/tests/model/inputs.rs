//! Every reader of what comes from outside, given what it begins with and a bounded number of
//! changed inputs; `scripts/long_run.sh` gives it millions.

use acceptance::inputs::{self, ALL};

/// Inputs of the cheapest reader.
const CHANGED: u64 = 4000;

#[test]
fn no_reader_breaks() {
    let mut found = Vec::new();
    for input in &ALL {
        let outcome = inputs::try_out(input, CHANGED / input.cost + 5, 20_261_128);
        for one in outcome.breaks {
            found.push(format!(
                "{}: {}\n{:?}",
                input.name,
                one.cause,
                String::from_utf8_lossy(&one.bytes)
            ));
        }
    }
    assert!(found.is_empty(), "{}", found.join("\n\n"));
}

/// The targets for `cargo fuzz` are the readers, all of them.
#[test]
fn every_reader_has_its_fuzz_target() {
    let fuzz = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("../fuzz");
    let list = std::fs::read_to_string(fuzz.join("Cargo.toml")).unwrap();
    for input in &ALL {
        let file = fuzz.join("fuzz_targets").join(format!("{}.rs", input.name));
        let text = std::fs::read_to_string(&file).unwrap_or_default();
        assert!(
            text.contains(&format!("\"{}\"", input.name)),
            "{}",
            file.display()
        );
        assert!(
            list.contains(&format!("name = \"{}\"", input.name)),
            "{}",
            input.name
        );
    }
}
