//! Starting the window, and saying plainly why it cannot be started.

use std::panic::{self, AssertUnwindSafe};
use std::sync::Arc;

use eframe::egui;
use formulation::evaluation::Context;
use formulation::formula::Formula;
use formulation::shelf::Shelf;

use crate::app::{Bench, Host};
use crate::state::{Folders, State};
use crate::theme;

/// Packages a bare Debian or Ubuntu needs to show the window.
const PACKAGES: &str = "libxkbcommon-x11-0 libxcursor1 libxi6 libegl1 libgl1-mesa-dri";

/// Why the window could not be shown.
#[derive(Debug, thiserror::Error)]
#[error(
    "The window could not be opened: {cause}.\n\
     It needs a screen (X11 or Wayland) and a graphics driver; on Debian or Ubuntu: apt install {PACKAGES}\n\
     Without a screen, “phasewright report FILE” prints everything the window shows."
)]
pub struct StartError {
    cause: String,
}

/// Opens the window and stays until it is closed.
pub fn window() -> Result<(), StartError> {
    // A missing keyboard library makes the windowing library panic; its message is
    // turned into a sentence here instead of a trace on the terminal.
    let usual_hook = panic::take_hook();
    panic::set_hook(Box::new(|_| {}));
    let outcome = panic::catch_unwind(AssertUnwindSafe(run));
    panic::set_hook(usual_hook);
    match outcome {
        Ok(Ok(())) => Ok(()),
        Ok(Err(error)) => Err(StartError {
            cause: error.to_string(),
        }),
        Err(thrown) => Err(StartError {
            cause: panic_words(thrown.as_ref()),
        }),
    }
}

fn panic_words(thrown: &(dyn std::any::Any + Send)) -> String {
    thrown
        .downcast_ref::<String>()
        .cloned()
        .or_else(|| thrown.downcast_ref::<&str>().map(|&s| s.to_owned()))
        .unwrap_or_else(|| "the windowing library gave up without a reason".to_owned())
}

fn run() -> eframe::Result {
    let options = eframe::NativeOptions {
        viewport: egui::ViewportBuilder::default()
            .with_app_id("phasewright")
            .with_title("Phasewright")
            .with_inner_size([1280.0, 800.0])
            .with_min_inner_size([720.0, 480.0]),
        ..Default::default()
    };
    eframe::run_native(
        "Phasewright",
        options,
        Box::new(|cc| {
            theme::install(&cc.egui_ctx);
            let host = Host::real();
            let state = State::new(
                Arc::new(Shelf::new()),
                Context::new(host.today()),
                Folders::usual(),
                Arc::new(Formula::new("New formula")),
            );
            cc.egui_ctx.set_theme(state.settings.theme.preference());
            cc.egui_ctx.set_zoom_factor(state.settings.zoom);
            Ok(Box::new(Bench::new(state, host)))
        }),
    )
}
