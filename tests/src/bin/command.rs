//! The commands that need no window, as a process of its own for the tests that need one: what
//! goes to its standard outputs and how it ends.

use std::process::ExitCode;

use clap::Parser as _;
use phasewright::cli::Cli;
use phasewright::headless;

fn main() -> ExitCode {
    match Cli::parse().command {
        Some(command) => headless::run(&command),
        None => ExitCode::from(64),
    }
}
