//! Starting the window, and saying plainly why it cannot be started.

use std::path::PathBuf;
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};

use eframe::egui;
use formulation::evaluation::{Context, evaluate};
use formulation::formula::Formula;
use formulation::shelf::built_in;

use crate::app::Bench;
use crate::broken;
use crate::ending::EndAsked;
use crate::examples;
use crate::sign;
use crate::state::{Folders, Host, State};
use crate::theme;

/// Packages a bare Debian or Ubuntu needs to show the window.
const PACKAGES: &str = "libxkbcommon-x11-0 libxcursor1 libxi6 libegl1 libgl1-mesa-dri";

/// Why the program ended with an error.
#[derive(Debug, thiserror::Error)]
pub enum StartError {
    /// A file named at the start is not there; it may be a command spelt wrongly.
    #[error(
        "There is no file or command “{}”; “phasewright --help” lists the commands.", .0.display()
    )]
    NoFile(PathBuf),
    /// The window was never shown.
    #[error(
        "The window could not be opened: {cause}\n\
         It needs a screen (X11 or Wayland) and a graphics driver; on Debian or Ubuntu: apt install {PACKAGES}\n\
         Without a screen, “phasewright report FILE” prints everything the window shows."
    )]
    NoWindow {
        /// What the system said.
        cause: String,
    },
    /// The window was shown and then met an error of its own.
    #[error(
        "Phasewright met an error of its own and had to end: {cause}\n\
         Unsaved changes were kept and are offered at the next start."
    )]
    Broken {
        /// What went wrong and where.
        cause: String,
    },
}

/// Opens the window with files and stays until it is closed.
pub fn window(files: Vec<PathBuf>) -> Result<(), StartError> {
    if let Some(missing) = files.iter().find(|file| !file.exists()) {
        return Err(StartError::NoFile(missing.clone()));
    }
    // The data is read while the system opens the window.
    std::thread::spawn(read_ahead);
    std::thread::spawn(theme::unpack_fonts);
    let shown = Arc::new(AtomicBool::new(false));
    let witness = shown.clone();
    // A missing keyboard library makes the windowing library panic; its message is turned
    // into a sentence here instead of a trace on the terminal.
    let cause = match broken::caught(|| run(files, witness)) {
        Ok(Ok(())) => return Ok(()),
        Ok(Err(error)) => without_code_place(&error.to_string()).to_owned(),
        Err(cause) => cause,
    };
    Err(if shown.load(Ordering::Relaxed) {
        StartError::Broken { cause }
    } else {
        StartError::NoWindow { cause }
    })
}

/// Reads the materials, rules and tables of the program, which are kept once they are read, by
/// evaluating a formula that touches all of them.
fn read_ahead() {
    // What goes wrong here is told where the data is asked for.
    let _ = broken::caught(|| {
        built_in();
        let formula = examples::FIRST.read();
        examples::FIRST.read_trials();
        if let Ok(formula) = formula {
            evaluate(
                &formula,
                formula.active(),
                &Context::new(Host::real().today()),
            );
        }
    });
}

/// The windowing library names the place in its code before what matters:
/// "… os error at mod.rs:765: neither DISPLAY …".
fn without_code_place(words: &str) -> &str {
    words
        .split_once(".rs:")
        .and_then(|(_, rest)| rest.split_once(": "))
        .map_or(words, |(_, reason)| reason)
}

/// Side of the sign of the window, in pixels.
const SIGN: usize = 64;

fn run(files: Vec<PathBuf>, shown: Arc<AtomicBool>) -> eframe::Result {
    let options = eframe::NativeOptions {
        viewport: egui::ViewportBuilder::default()
            .with_app_id("phasewright")
            .with_title("Phasewright")
            .with_icon(egui::IconData {
                rgba: sign::rgba(SIGN),
                width: SIGN as u32,
                height: SIGN as u32,
            })
            .with_inner_size([1280.0, 800.0])
            .with_min_inner_size([720.0, 480.0]),
        ..Default::default()
    };
    eframe::run_native(
        "Phasewright",
        options,
        Box::new(move |cc| {
            shown.store(true, Ordering::Relaxed);
            theme::install(&cc.egui_ctx);
            let host = Host::real();
            let state = State::new(
                host,
                Arc::new(built_in().clone()),
                Folders::usual(),
                Arc::new(Formula::new("New formula")),
            );
            cc.egui_ctx.set_theme(state.settings.theme.preference());
            cc.egui_ctx.set_zoom_factor(state.settings.zoom);
            theme::set_motion(&cc.egui_ctx, state.settings.motion);
            let mut bench = Bench::new(state);
            bench.end_when(EndAsked::listen(cc.egui_ctx.clone()));
            bench.watch_files(&cc.egui_ctx);
            bench.begin(files);
            Ok(Box::new(bench))
        }),
    )
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_failure_is_told_without_places_in_code() {
        let error = "winit EventLoopError: os error at src/linux/mod.rs:765: no DISPLAY is set";
        assert_eq!(without_code_place(error), "no DISPLAY is set");
        assert_eq!(without_code_place("no driver: none"), "no driver: none");
    }
}
