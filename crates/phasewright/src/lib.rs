//! The Phasewright program: the window and the commands that need none.

pub mod app;
pub mod cli;
pub mod command;
pub mod dialogs;
pub mod examples;
pub mod headless;
pub mod sheets;
pub mod start;
pub mod state;
pub mod theme;
pub mod widgets;
pub mod words;
