//! The Phasewright window.

pub mod app;
pub mod command;
pub mod dialogs;
pub mod sheets;
pub mod start;
pub mod state;
pub mod theme;
pub mod widgets;
