//! The Phasewright program: the window and the commands that need none.
#![cfg_attr(
    test,
    expect(
        clippy::disallowed_methods,
        reason = "tests lay out files and look at what is left of them"
    )
)]

pub mod app;
pub mod broken;
pub mod cli;
pub mod command;
pub mod dialogs;
pub mod ending;
pub mod examples;
pub mod headless;
pub mod help;
pub mod reminders;
pub mod sheet_name;
pub mod sheets;
pub mod shipped;
pub mod sign;
pub mod signing;
pub mod start;
pub mod state;
pub mod theme;
pub mod watcher;
pub mod widgets;
pub mod words;
pub mod work;
