//! Axes of a plot with marks at round steps of 1, 2 or 5, every mark with its figure.

use eframe::egui::Rangef;
use egui_plot::{AxisHints, GridInput, GridMark, Plot};

/// Least distance of two marks, in points, along each axis.
const APART: [f32; 2] = [44.0, 26.0];
/// Distance of lines at which a plot starts and ends to draw them at full strength.
const STRENGTH: Rangef = Rangef {
    min: 8.0,
    max: 160.0,
};

/// Gives a plot such axes. Names of the axes are to be set afterwards.
pub fn round_axes(plot: Plot<'_>) -> Plot<'_> {
    let [across, up] = APART;
    plot.custom_x_axes(vec![
        AxisHints::new_x().label_spacing(Rangef::new(across / 2.0, across)),
    ])
    .custom_y_axes(vec![
        AxisHints::new_y().label_spacing(Rangef::new(up / 2.0, up)),
    ])
    .grid_spacing(STRENGTH)
    .x_grid_spacer(move |input| marks(input, across))
    .y_grid_spacer(move |input| marks(input, up))
    .x_axis_formatter(|mark, _| words(mark))
    .y_axis_formatter(|mark, _| words(mark))
}

/// Marks within the bounds, at least so many points apart.
fn marks(input: GridInput, apart: f32) -> Vec<GridMark> {
    /// More would not fit any screen.
    const MOST: f64 = 1000.0;
    let step = round_step(input.base_step_size * f64::from(apart / STRENGTH.min));
    let (first, last) = (
        (input.bounds.0 / step).ceil(),
        (input.bounds.1 / step).floor(),
    );
    if !(last - first).is_finite() || last - first > MOST {
        return Vec::new();
    }
    (0..=(last - first) as i64)
        .map(|k| GridMark {
            value: (first + k as f64) * step,
            step_size: step,
        })
        .collect()
}

/// The next 1, 2 or 5 times a power of ten.
fn round_step(least: f64) -> f64 {
    let power = 10.0_f64.powf(least.log10().floor());
    [1.0, 2.0, 5.0]
        .into_iter()
        .map(|step| step * power)
        .find(|step| *step >= least * (1.0 - 1e-9))
        .unwrap_or(10.0 * power)
}

/// The figure of a mark with the digits of its step.
fn words(mark: GridMark) -> String {
    let digits = (-mark.step_size.log10().floor()).clamp(0.0, 12.0) as usize;
    // No minus before a zero.
    format!("{:.digits$}", mark.value + 0.0)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn of(low: f64, high: f64, points: f64) -> Vec<String> {
        let input = GridInput {
            bounds: (low, high),
            base_step_size: (high - low) / points * f64::from(STRENGTH.min),
        };
        marks(input, APART[0]).into_iter().map(words).collect()
    }

    #[test]
    fn marks_are_round_and_apart() {
        assert_eq!(of(-2.8, 58.8, 280.0), ["0", "10", "20", "30", "40", "50"]);
        assert_eq!(of(0.49, 0.91, 140.0), ["0.6", "0.8"]);
        assert_eq!(
            of(0.95, 1.0, 300.0),
            ["0.95", "0.96", "0.97", "0.98", "0.99", "1.00"]
        );
        assert!(of(f64::NAN, 1.0, 100.0).is_empty());
    }
}
