//! An error of the program itself is caught in the window, which goes on.

#![expect(
    clippy::unwrap_used,
    reason = "a helper of tests fails the test by panicking"
)]

use std::sync::atomic::{AtomicBool, Ordering};

use acceptance::window::{self, Look};
use egui_kittest::kittest::Queryable as _;
use formulation::shelf::Shelf;
use phasewright::command::Command;
use phasewright::ending::EndAsked;
use phasewright::examples;
use phasewright::state::{Folders, Host, State};

static CLOCK_BREAKS: AtomicBool = AtomicBool::new(false);

fn clock() -> jiff::Timestamp {
    assert!(!CLOCK_BREAKS.load(Ordering::Relaxed), "the clock is broken");
    "2026-03-02T12:00:00Z".parse().unwrap()
}

fn state(recovery: &std::path::Path, host: Host) -> State {
    let formula = examples::FIRST.read().unwrap();
    State::new(
        host,
        std::sync::Arc::new(Shelf::default()),
        Folders {
            config: None,
            recovery: Some(recovery.to_path_buf()),
        },
        formula,
    )
}

#[test]
fn an_error_keeps_the_work_and_the_window() {
    let folder = tempfile::tempdir().unwrap();
    let mut harness = window::bench(Look::USUAL, state(folder.path(), Host::plain(clock)));
    harness.run();
    let mut changed =
        formulation::formula::Formula::clone(harness.state().state().current().formula());
    changed.name = "Changed gel".into();
    harness.state_mut().push(Command::Change {
        what: "Name it anew".into(),
        formula: changed.into(),
    });
    harness.run();
    // The next command meets an error of the program.
    CLOCK_BREAKS.store(true, Ordering::Relaxed);
    harness.state_mut().push(Command::Undo);
    harness.run_steps(2);
    CLOCK_BREAKS.store(false, Ordering::Relaxed);
    harness.run();
    let state = harness.state().state();
    assert_eq!(state.current().name(), "Changed gel");
    let said = state
        .warnings
        .iter()
        .find(|w| w.contains("the clock is broken"));
    assert!(
        said.unwrap().contains("unsaved work is kept"),
        "{:?}",
        state.warnings
    );
    // The window goes on, and the work is on the disk.
    harness.get_by_label("Label").click();
    harness.run();
    harness.state_mut().push(Command::Undo);
    harness.run();
    assert_ne!(harness.state().state().current().name(), "Changed gel");
}

#[test]
fn the_end_of_a_session_keeps_what_is_unsaved() {
    let folder = tempfile::tempdir().unwrap();
    let end = EndAsked::default();
    let mut harness = window::bench(Look::USUAL, state(folder.path(), window::host()));
    harness.state_mut().end_when(end.clone());
    harness.run();
    let mut changed =
        formulation::formula::Formula::clone(harness.state().state().current().formula());
    changed.name = "Unsaved gel".into();
    harness.state_mut().push(Command::Change {
        what: "Name it anew".into(),
        formula: changed.into(),
    });
    harness.run();
    end.ask();
    let ctx = harness.ctx.clone();
    harness.state_mut().tend(&ctx);
    drop(harness);
    let left = formulation::file::autosave::left_over(folder.path());
    assert_eq!(left.problems, Vec::<String>::new());
    assert_eq!(left.found.len(), 1);
    assert!(left.found[0].text.contains("Unsaved gel"));
}

/// The same from outside: a process that the system asks to end.
#[cfg(unix)]
#[test]
fn a_process_asked_to_end_keeps_what_is_unsaved() {
    use std::io::BufRead as _;
    use std::process::{Command as Process, Stdio};
    for signal in ["TERM", "HUP", "INT"] {
        let folder = tempfile::tempdir().unwrap();
        let mut process = Process::new(env!("CARGO_BIN_EXE_waiting_window"))
            .arg(folder.path())
            .stdout(Stdio::piped())
            .spawn()
            .unwrap();
        let mut said = String::new();
        std::io::BufReader::new(process.stdout.take().unwrap())
            .read_line(&mut said)
            .unwrap();
        assert_eq!(said.trim(), "ready");
        let sent = Process::new("sh")
            .args(["-c", &format!("kill -{signal} {}", process.id())])
            .status();
        assert!(sent.unwrap().success());
        // By itself, not by a second signal.
        assert!(process.wait().unwrap().success(), "{signal}");
        let left = formulation::file::autosave::left_over(folder.path());
        assert_eq!(left.problems, Vec::<String>::new());
        assert_eq!(left.found.len(), 1, "{signal}");
        assert!(left.found[0].text.contains("Unsaved gel"));
    }
}
