//! Prints what the model computes for the cases of a reference file, one
//! `case_id,value` a line, or one
//! JSON object a line where a case has several figures: `cargo run --release --example reference -- FILE`.
#![expect(
    clippy::disallowed_methods,
    reason = "it reads one file that a developer names"
)]

use std::io::Write as _;
use std::path::Path;
use std::process::ExitCode;

fn main() -> ExitCode {
    let Some(path) = std::env::args_os().nth(1) else {
        eprintln!("usage: cargo run --release --example reference -- FILE");
        return ExitCode::from(2);
    };
    let text = match std::fs::read_to_string(&path) {
        Ok(text) => text,
        Err(error) => {
            eprintln!("{error}: {}", path.display());
            return ExitCode::FAILURE;
        }
    };
    let name = Path::new(&path).file_name().unwrap_or_default();
    let name = name.to_string_lossy();
    let answers = match reference::answer(&text, &name) {
        Ok(answers) => answers,
        Err(error) => {
            eprintln!("{error}: {}", path.display());
            return ExitCode::FAILURE;
        }
    };
    let mut out = std::io::stdout().lock();
    for answer in answers {
        if let Err(why) = &answer.value {
            eprintln!("{}: {why}", answer.case_id);
        }
        if writeln!(out, "{answer}").is_err() {
            // The reader of the pipe has gone; there is no one left to tell.
            return ExitCode::SUCCESS;
        }
    }
    ExitCode::SUCCESS
}
