//! Records weighings as fast as it can and says after each one, on standard output, that
//! it is recorded. The acceptance tests end it at random moments.
//!
//! `recorder FOLDER` begins the batch 26-001 if the folder has none, else goes on with it.

use std::io::Write as _;
use std::path::Path;

use acceptance::batch;
use formulation::batch::record::Event;
use formulation::file::record_file::{RecordFile, RecordFileError, path_of};
use formulation::formula::ItemId;
use formulation::stock::LotId;

fn main() -> Result<(), Box<dyn std::error::Error>> {
    let folder = std::env::args().nth(1).ok_or("name a folder")?;
    let folder = Path::new(&folder);
    let opening = batch::opening("26-001")?;
    let lines: Vec<ItemId> = opening.lines.iter().map(|l| l.line).collect();
    let path = path_of(folder, &opening.code);
    let mut out = std::io::stdout();
    let mut file = if path.exists() {
        open_when_free(&path)?
    } else {
        RecordFile::create(folder, opening, batch::AT, "Wren")?
    };
    writeln!(out, "1")?;
    out.flush()?;
    for line in lines.iter().cycle() {
        let number = file.record().next_number();
        let event = Event::Weighed {
            line: *line,
            mass: batch::mass_of_entry(number),
            lot: LotId::new(&format!("LOT-{number}")),
            remark: "weighed by the recorder, with a remark long enough to be torn".into(),
        };
        let number = file.append(batch::AT, "Wren", event)?;
        // Only now is it confirmed.
        writeln!(out, "{number}")?;
        out.flush()?;
    }
    Ok(())
}

/// The system may take a moment to let go of the lock of a process that was ended.
fn open_when_free(path: &Path) -> Result<RecordFile, RecordFileError> {
    loop {
        match RecordFile::open(path) {
            Err(error) if error.is_busy() => {
                std::thread::sleep(std::time::Duration::from_millis(1));
            }
            other => return other,
        }
    }
}
