//! What is shown while something is worked out beside the window.

use eframe::egui::{self, ProgressBar, Ui};
use formulation::finding::Level;
use formulation::progress::Progress;

use super::level_mark::level_mark;
use crate::work::{Work, WorkState};

/// Seconds after which work is shown: what takes less would only flicker.
const SHOWN_AFTER: f64 = 0.3;
/// Seconds between two looks at how far it is.
const LOOK: f64 = 0.1;
/// Width of the bar, in points.
const WIDTH: f32 = 200.0;

/// Says how far work is, with “Stop”; once it was stopped or failed, it can be begun again.
/// `what` says what is done, for example “Looking for percentages”.
pub fn work_bar<K, T>(ui: &mut Ui, work: &mut Work<K, T>, what: &str) {
    enum Asked {
        Stop,
        Again,
    }
    let due = is_due(ui, work);
    let asked = match work.standing() {
        None => None,
        Some(WorkState::Going(..)) if !due => None,
        Some(WorkState::Going(progress, since)) => {
            let stop = going(ui, progress, ui.time() - since, what);
            stop.then_some(Asked::Stop)
        }
        Some(WorkState::Stopped) => {
            let again = |ui: &mut Ui| {
                ui.label(format!("{what}: stopped before the end"));
                ui.button("Begin again").clicked()
            };
            ui.horizontal_wrapped(again).inner.then_some(Asked::Again)
        }
        Some(WorkState::Failed(why)) => {
            let again = |ui: &mut Ui| {
                level_mark(ui, Level::Breach);
                let words = format!("{what}: the program met an error of its own: {why}");
                ui.add(egui::Label::new(words).wrap());
                ui.button("Begin again").clicked()
            };
            ui.horizontal_wrapped(again).inner.then_some(Asked::Again)
        }
    };
    match asked {
        Some(Asked::Stop) => work.stop(),
        Some(Asked::Again) => {
            work.forget();
            ui.request_repaint();
        }
        None => {}
    }
}

/// Whether work has gone on for so long that it is shown; if not yet, the window is drawn again
/// when it is.
pub fn is_due<K, T>(ui: &Ui, work: &Work<K, T>) -> bool {
    let Some(WorkState::Going(_, since)) = work.standing() else {
        return false;
    };
    let left = since + SHOWN_AFTER - ui.time();
    if left > 0.0 {
        ui.request_repaint_after_secs(left as f32);
    }
    left <= 0.0
}

/// How far it is; whether it is to stop.
fn going(ui: &mut Ui, progress: &Progress, seconds: f64, what: &str) -> bool {
    ui.request_repaint_after_secs(LOOK as f32);
    ui.horizontal_wrapped(|ui| {
        let done = progress.done();
        match progress.all() {
            Some(all) => {
                ui.label(format!("{what}…"));
                let bar = ProgressBar::new(done as f32 / all as f32).desired_width(WIDTH);
                ui.add(bar.text(format!("{} of {all}", done.min(all))))
                    .accessible_name(what);
            }
            None => {
                ui.label(format!("{what}… {seconds:.0} s"));
            }
        }
        ui.button("Stop")
            .on_hover_text("Ends the work; nothing is changed")
            .clicked()
    })
    .inner
}
