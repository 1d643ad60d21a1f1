//! The end that the system asks for: SIGTERM, the end of a session, a closed terminal.

use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};
use std::thread;
use std::time::Duration;

use eframe::egui;
use signal_hook::consts::{SIGINT, SIGTERM};

/// How long the window has for keeping unsaved work once the end is asked for. Systems end a
/// program by force after 5 to 90 seconds.
const PATIENCE: Duration = Duration::from_secs(4);
/// How a system asks: the end of a session, a key of the terminal, a terminal that is closed.
#[cfg(unix)]
const ASKING: &[i32] = &[SIGTERM, SIGINT, signal_hook::consts::SIGHUP];
#[cfg(not(unix))]
const ASKING: &[i32] = &[SIGTERM, SIGINT];
const LOOK: Duration = Duration::from_millis(50);

/// Whether the system has asked the program to end.
#[derive(Clone, Debug, Default)]
pub struct EndAsked(Arc<AtomicBool>);

impl EndAsked {
    /// Whether it has.
    pub fn is_asked(&self) -> bool {
        self.0.load(Ordering::Relaxed)
    }

    /// Asks for the end, as the system would.
    pub fn ask(&self) {
        self.0.store(true, Ordering::Relaxed);
    }

    /// Listens to the system and wakes the window when it asks. A window that does not react
    /// is ended; what it kept at its last round stays for the next start.
    pub fn listen(ctx: egui::Context) -> Self {
        let asked = Self::default();
        for &signal in ASKING {
            if let Err(error) = signal_hook::flag::register(signal, asked.0.clone()) {
                eprintln!("phasewright: the end of the session cannot be waited for: {error}");
            }
        }
        let seen = asked.clone();
        thread::spawn(move || {
            while !seen.is_asked() {
                thread::sleep(LOOK);
            }
            let mut waited = Duration::ZERO;
            while waited < PATIENCE {
                ctx.request_repaint();
                thread::sleep(LOOK);
                waited += LOOK;
            }
            // 128 and the number of SIGTERM, as shells count it.
            std::process::exit(143);
        });
        asked
    }
}
