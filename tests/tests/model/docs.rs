//! README and the pages of `docs/`: short, linked, and true: every command shown is run.

#![expect(
    clippy::unwrap_used,
    reason = "a test stops at the first thing that is not as it should be"
)]

use std::fs;
use std::path::{Path, PathBuf};

use clap::{CommandFactory as _, Parser as _};
use phasewright::cli::Cli;
use phasewright::headless::run_to;

fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("..")
}

/// All pages for people: path from the root, and text.
fn pages() -> Vec<(String, String)> {
    let mut names = vec!["README.md".to_owned(), "DEVELOPERS.md".to_owned()];
    for entry in fs::read_dir(root().join("docs")).unwrap() {
        let name = entry.unwrap().file_name().into_string().unwrap();
        if Path::new(&name).extension().is_some_and(|e| e == "md") {
            names.push(format!("docs/{name}"));
        }
    }
    names.sort();
    names
        .into_iter()
        .map(|name| {
            let text = fs::read_to_string(root().join(&name)).unwrap();
            (name, text.replace("\r\n", "\n"))
        })
        .collect()
}

#[test]
fn the_readme_is_short_and_leads_to_every_page() {
    let pages = pages();
    let (_, readme) = pages.iter().find(|(n, _)| n == "README.md").unwrap();
    assert!(readme.lines().count() <= 150);
    for (name, _) in &pages {
        assert!(
            name == "README.md" || readme.contains(&format!("]({name}")),
            "README.md does not lead to {name}"
        );
    }
}

/// The map of the code names every module of the model, so that a stranger finds it.
#[test]
fn the_map_names_every_module_of_the_model() {
    let map = fs::read_to_string(root().join("DEVELOPERS.md")).unwrap();
    let lib = fs::read_to_string(root().join("crates/formulation/src/lib.rs")).unwrap();
    let modules = lib.lines().filter_map(|line| {
        let name = line
            .strip_prefix("pub mod ")
            .or_else(|| line.strip_prefix("mod "))?;
        name.strip_suffix(';')
    });
    for module in modules.filter(|m| !m.ends_with("tests")) {
        let named = [format!("{module}.rs"), format!("{module}/")]
            .iter()
            .any(|name| map.contains(name));
        assert!(named, "DEVELOPERS.md does not say what {module} is");
    }
}

#[test]
fn links_lead_somewhere() {
    for (name, text) in pages() {
        let folder = root().join(&name).parent().unwrap().to_owned();
        for part in text.split("](").skip(1) {
            let target = part.split(')').next().unwrap();
            if target.starts_with("http") {
                continue;
            }
            let (file, anchor) = target.split_once('#').unwrap_or((target, ""));
            let path = if file.is_empty() {
                root().join(&name)
            } else {
                folder.join(file)
            };
            assert!(path.exists(), "{name}: {target} is not there");
            if !anchor.is_empty() {
                let page = fs::read_to_string(&path).unwrap();
                let found = page.lines().filter(|l| l.starts_with('#')).any(|heading| {
                    let words = heading.trim_start_matches('#').trim().to_lowercase();
                    words.replace(' ', "-").replace(['’', ',', '.'], "") == anchor
                });
                assert!(found, "{name}: {target} has no such heading");
            }
        }
    }
}

/// Every command, and every command of a command, stands in the page of the commands.
#[test]
fn every_command_is_told() {
    let page = fs::read_to_string(root().join("docs/commands.md")).unwrap();
    let cli = Cli::command();
    for command in cli.get_subcommands() {
        let name = command.get_name();
        let told =
            page.contains(&format!("`phasewright {name} ")) || page.contains(&format!("`{name} "));
        assert!(told, "docs/commands.md does not tell of {name}");
        for inner in command.get_subcommands().map(clap::Command::get_name) {
            let told =
                page.contains(&format!("`{inner}`")) || page.contains(&format!("{name} {inner}"));
            assert!(told, "docs/commands.md does not tell of {name} {inner}");
        }
    }
}

/// The commands in the blocks marked `sh`, each on one line.
fn commands(text: &str) -> Vec<String> {
    let mut found = Vec::new();
    let mut inside = false;
    let joined = text.replace("\\\n", " ");
    for line in joined.lines() {
        if line.trim_start().starts_with("```") {
            inside = line.trim() == "```sh";
        } else if inside && let Some(command) = line.trim().strip_prefix("phasewright ") {
            found.push(command.to_owned());
        }
    }
    found
}

/// Words as a shell parts them; double quotes hold words together.
fn words(command: &str) -> Vec<String> {
    let mut words = vec![String::new()];
    let mut quoted = false;
    for c in command.chars() {
        match c {
            '"' => quoted = !quoted,
            c if c.is_whitespace() && !quoted => words.push(String::new()),
            c => words.last_mut().unwrap().push(c),
        }
    }
    words.retain(|w| !w.is_empty());
    words
}

#[test]
fn every_command_shown_runs() {
    let mut run = 0;
    for (name, text) in pages() {
        let folder = tempfile::tempdir().unwrap();
        for command in commands(&text) {
            let arguments = words(&command).into_iter().map(|word| {
                if word.starts_with("examples/") {
                    root().join(&word).display().to_string()
                } else if !word.contains(' ')
                    && Path::new(&word).extension().is_some()
                    && word.contains(|c: char| c.is_ascii_alphabetic())
                    && !word.starts_with(|c: char| c.is_ascii_digit())
                {
                    // What a command writes, and what a later one of the page reads.
                    folder.path().join(&word).display().to_string()
                } else {
                    word
                }
            });
            let line = std::iter::once("phasewright".to_owned()).chain(arguments);
            let cli =
                Cli::try_parse_from(line).unwrap_or_else(|e| panic!("{name}: {command}\n{e}"));
            let mut out = Vec::new();
            let outcome = run_to(&cli.command.unwrap(), &mut out);
            match outcome {
                // 1 says something of the formula: a breach, a difference.
                Ok(code) => assert!(code <= 1, "{name}: {command}: exit {code}"),
                Err(failure) => panic!("{name}: {command}\n{}", failure.0),
            }
            assert!(!out.is_empty(), "{name}: {command} prints nothing");
            run += 1;
        }
    }
    assert!(run >= 12, "{run} commands");
}
