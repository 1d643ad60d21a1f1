//! Starts Phasewright.

use std::process::ExitCode;

use clap::Parser as _;
use phasewright::cli::Cli;
use phasewright::{headless, start};

fn main() -> ExitCode {
    let cli = Cli::parse();
    if let Some(command) = &cli.command {
        return headless::run(command);
    }
    match start::window(cli.files) {
        Ok(()) => ExitCode::SUCCESS,
        Err(error) => {
            eprintln!("{error}");
            ExitCode::from(2)
        }
    }
}
