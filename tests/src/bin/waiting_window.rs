//! A window without a screen that holds unsaved work until the system ends it. The acceptance
//! tests send it the signal.
//!
//! `waiting_window FOLDER` keeps unsaved work in the folder, says `ready` on standard output,
//! and ends as the real window does.

use std::io::Write as _;
use std::path::Path;
use std::time::Duration;

use acceptance::window::{self, Look};
use formulation::formula::Formula;
use formulation::shelf::Shelf;
use phasewright::command::Command;
use phasewright::ending::EndAsked;
use phasewright::state::State;

fn main() -> Result<(), Box<dyn std::error::Error>> {
    let folder = std::env::args().nth(1).ok_or("name a folder")?;
    let state = State::new(
        window::host(),
        Shelf::default().into(),
        window::folders(Path::new(&folder)),
        Formula::new("Saved gel").into(),
    );
    let mut harness = window::bench(Look::USUAL, state);
    let ctx = harness.ctx.clone();
    harness.state_mut().end_when(EndAsked::listen(ctx.clone()));
    // The first look at the files is over before there is anything to keep.
    harness.state_mut().tend(&ctx);
    harness.state_mut().push(Command::Change {
        what: "Name it anew".into(),
        formula: Formula::new("Unsaved gel").into(),
    });
    harness.run();
    let mut out = std::io::stdout();
    writeln!(out, "ready")?;
    out.flush()?;
    loop {
        harness.state_mut().tend(&ctx);
        harness.step();
        let asked = harness.output().viewport_output.values();
        if asked
            .flat_map(|viewport| &viewport.commands)
            .any(|c| *c == egui::ViewportCommand::Close)
        {
            return Ok(());
        }
        std::thread::sleep(Duration::from_millis(10));
    }
}
