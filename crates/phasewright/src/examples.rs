//! The formulas that come with the program, all of the invented Larkmoor Studio.

use std::sync::{Arc, OnceLock};

use formulation::file::formula_file;
use formulation::file::read_error::ReadError;
use formulation::file::trial_store::{self, LoadedTrials};
use formulation::formula::Formula;
use packed::{Packed, packed};

/// An example: the name of its file and its text.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Example {
    /// Name of the file.
    pub file: &'static str,
    /// What the menu says.
    pub title: &'static str,
    text: Packed,
    /// Its trials as a text of their own, if it has any.
    trials: Option<Packed>,
}

macro_rules! example {
    ($file:literal, $title:literal) => {
        Example {
            file: $file,
            title: $title,
            text: packed!(concat!("examples/", $file)),
            trials: None,
        }
    };
    ($file:literal, $title:literal, $trials:literal) => {
        Example {
            trials: Some(packed!(concat!("examples/", $trials))),
            ..example!($file, $title)
        }
    };
}

/// The one shown at the first start.
pub const FIRST: Example = example!(
    "oat-and-juniper-shower-gel.formula.ron",
    "Oat and juniper shower gel",
    "oat-and-juniper-shower-gel.trials.jsonl"
);

/// All examples, the one of the first start first.
pub const ALL: [Example; 6] = [
    FIRST,
    example!(
        "clear-rosemary-shampoo.formula.ron",
        "Clear rosemary shampoo"
    ),
    example!("calendula-hand-lotion.formula.ron", "Calendula hand lotion"),
    example!("heather-foot-balm.formula.ron", "Heather foot balm"),
    example!("moss-conditioner.formula.ron", "Moss conditioner"),
    example!(
        "broken.formula.ron",
        "A formula with faults, to see findings"
    ),
];

impl Example {
    /// The formula. The first example is read once: it is read ahead while the system opens the
    /// window.
    pub fn read(&self) -> Result<Arc<Formula>, ReadError> {
        static READ: OnceLock<Result<Arc<Formula>, ReadError>> = OnceLock::new();
        let read = || formula_file::read(&self.text.text(), self.file).map(Arc::new);
        if *self == FIRST {
            READ.get_or_init(read).clone()
        } else {
            read()
        }
    }

    /// Its trials, if it has any; read once if it is the first example.
    pub fn read_trials(&self) -> Option<Result<LoadedTrials, String>> {
        static READ: OnceLock<Result<LoadedTrials, String>> = OnceLock::new();
        let text = self.trials?;
        let read = || trial_store::read_text(&text.text()).map_err(|e| e.to_string());
        Some(if *self == FIRST {
            READ.get_or_init(read).clone()
        } else {
            read()
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_example_is_read() {
        for example in ALL {
            let formula = example.read().unwrap();
            assert!(formula.active().lines().count() > 3, "{}", example.file);
            if let Some(loaded) = example.read_trials() {
                let loaded = loaded.unwrap();
                assert_eq!(loaded.faults, Vec::<String>::new(), "{}", example.file);
            }
        }
    }
}
