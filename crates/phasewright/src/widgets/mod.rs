//! Widgets of our own, used by several sheets.

pub mod level_mark;
