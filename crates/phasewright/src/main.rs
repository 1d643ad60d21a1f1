//! Starts Phasewright.

use std::process::ExitCode;

fn main() -> ExitCode {
    match phasewright::start::window() {
        Ok(()) => ExitCode::SUCCESS,
        Err(error) => {
            eprintln!("{error}");
            ExitCode::from(2)
        }
    }
}
