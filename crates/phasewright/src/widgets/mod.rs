//! Widgets of our own, used by several sheets.

pub mod area;
pub mod choice;
pub mod composition_chart;
pub mod day_picker;
pub mod entry;
pub mod findings_list;
pub mod fitted;
pub mod focus;
pub mod fold;
pub mod follow_focus;
pub mod hatch;
pub mod icon;
pub mod in_sight;
pub mod level_mark;
pub mod limit_slider;
pub mod looked_at;
pub mod material_picker;
pub mod modal;
pub mod of_trials;
pub mod readouts;
pub mod ribbon;
pub mod round_axes;
pub mod rule_text;
pub mod side_panel;
pub mod twin_chart;
