//! Notes readings of a trial as fast as it can and says after each one, on standard output,
//! how many are noted. The acceptance tests end it at random moments.
//!
//! `note_taker FILE` begins a trial if the file is not there, else goes on with it.

use std::io::Write as _;
use std::path::Path;

use acceptance::batch;
use formulation::file::ledger_file::LedgerFileError;
use formulation::file::trial_store::{self, LoadedTrials, TrialStoreError};
use formulation::mass::ExactMass;
use formulation::trial::book::{TrialEntry, TrialEvent, TrialOpening};
use formulation::trial::reading::{Quantity, Reading};

fn main() -> Result<(), Box<dyn std::error::Error>> {
    let path = std::env::args().nth(1).ok_or("name a file")?;
    let path = Path::new(&path);
    let mut out = std::io::stdout();
    if !path.exists() {
        let mass = ExactMass::from_femtograms(100_000_000_000_000_000);
        let opening = TrialOpening::of(&batch::formula(), "Killed", "2026-06-01".parse()?, mass);
        note(path, TrialEvent::Begin(Box::new(opening)))?;
    }
    loop {
        let number = trial_store::read(path)?.book.readings.len() + 1;
        let mut reading = Reading::of(Quantity::Viscosity, vec![number as f64]);
        reading
            .remark
            .push_str("noted by the note taker, with a remark long enough to be torn");
        let event = TrialEvent::Read {
            trial: 1,
            step: 0,
            reading,
        };
        let noted = note(path, event)?.book.readings.len();
        // Only now is it confirmed.
        writeln!(out, "{noted}")?;
        out.flush()?;
    }
}

/// The system may take a moment to let go of the lock of a process that was ended.
fn note(path: &Path, event: TrialEvent) -> Result<LoadedTrials, TrialStoreError> {
    let entry = TrialEntry {
        at: batch::AT.to_owned(),
        by: "Wren".to_owned(),
        event,
    };
    loop {
        match trial_store::append(path, &entry) {
            Err(TrialStoreError::Ledger(LedgerFileError::Busy(_))) => {
                std::thread::sleep(std::time::Duration::from_millis(1));
            }
            other => return other,
        }
    }
}
