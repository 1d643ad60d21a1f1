//! Widgets of our own, used by several sheets.

pub mod entry;
pub mod hatch;
pub mod level_mark;
pub mod limit_slider;
