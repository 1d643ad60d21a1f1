//! Writes what a package brings besides the program into a folder: `shipped FOLDER`.

#![expect(
    clippy::disallowed_methods,
    reason = "it writes into a folder of the build"
)]

use std::process::ExitCode;

fn main() -> ExitCode {
    let Some(folder) = std::env::args_os().nth(1) else {
        eprintln!("usage: shipped FOLDER");
        return ExitCode::from(2);
    };
    let folder = std::path::PathBuf::from(folder);
    for file in phasewright::shipped::files() {
        let path = folder.join(&file.path);
        let done = path
            .parent()
            .map_or(Ok(()), std::fs::create_dir_all)
            .and_then(|()| std::fs::write(&path, &file.content));
        if let Err(error) = done {
            eprintln!("{}: {error}", path.display());
            return ExitCode::from(2);
        }
    }
    ExitCode::SUCCESS
}
