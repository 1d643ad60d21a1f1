//! A band between the ends of intervals in a plot.

use eframe::egui::Color32;
use egui_plot::FilledArea;

/// Draws a band between the ends of intervals.
pub fn area(name: &str, samples: &[(f64, [f64; 2])], colour: Color32) -> FilledArea {
    let (mut x, mut low, mut high) = (Vec::new(), Vec::new(), Vec::new());
    for (at, ends) in samples {
        x.push(*at);
        low.push(ends[0]);
        high.push(ends[1]);
    }
    FilledArea::new(name, &x, &low, &high).fill_color(colour)
}
