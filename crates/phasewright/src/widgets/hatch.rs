//! Patterns over rectangles, so that areas differ by more than their colour.

use eframe::egui::{Painter, Rect, Shape, Stroke, pos2};

use crate::theme::{Fill, Hatch, Palette};

/// How close a pattern is, and how wide its lines are, in points.
#[derive(Clone, Copy)]
pub struct Grain {
    spacing: f32,
    line: f32,
}

/// In the stacks of a chart.
pub const COARSE: Grain = Grain {
    spacing: 6.0,
    line: 1.2,
};
/// In a small mark.
pub const FINE: Grain = Grain {
    spacing: 6.0,
    line: 1.0,
};
/// In a narrow bar.
pub const NARROW: Grain = Grain {
    spacing: 4.0,
    line: 1.0,
};

/// Line segments of a pattern within a rectangle, in the coordinates of the rectangle.
pub fn segments(rect: Rect, hatch: Hatch, spacing: f32) -> Vec<[eframe::egui::Pos2; 2]> {
    match hatch {
        Hatch::Plain | Hatch::Dotted => Vec::new(),
        Hatch::Rising => slanted(rect, spacing, true),
        Hatch::Falling => slanted(rect, spacing, false),
        Hatch::Crossed => {
            let mut both = slanted(rect, spacing, true);
            both.extend(slanted(rect, spacing, false));
            both
        }
        Hatch::Level => on_grid(rect.top(), rect.bottom(), spacing)
            .map(|y| [pos2(rect.left(), y), pos2(rect.right(), y)])
            .collect(),
    }
}

/// Centres of the dots of a pattern within a rectangle.
pub fn dots(rect: Rect, hatch: Hatch, spacing: f32) -> Vec<eframe::egui::Pos2> {
    if hatch != Hatch::Dotted {
        return Vec::new();
    }
    on_grid(rect.top(), rect.bottom(), spacing)
        .flat_map(|y| {
            let shift = if (y / spacing).round() as i64 % 2 == 0 {
                0.0
            } else {
                spacing / 2.0
            };
            on_grid(rect.left() - shift, rect.right() - shift, spacing)
                .map(move |x| pos2(x + shift, y))
        })
        .collect()
}

/// Multiples of the spacing within a range. Taken from the origin of the window, so
/// that neighbouring areas of one pattern join.
fn on_grid(from: f32, to: f32, spacing: f32) -> impl Iterator<Item = f32> {
    let first = (from / spacing).ceil() as i64;
    let last = (to / spacing).floor() as i64;
    (first..=last).map(move |i| i as f32 * spacing)
}

fn slanted(rect: Rect, spacing: f32, rising: bool) -> Vec<[eframe::egui::Pos2; 2]> {
    // Lines x + y = c rise to the right on a screen, lines x − y = c fall.
    let (from, to) = if rising {
        (rect.left() + rect.top(), rect.right() + rect.bottom())
    } else {
        (rect.left() - rect.bottom(), rect.right() - rect.top())
    };
    let x_at = |c: f32, y: f32| if rising { c - y } else { c + y };
    let y_at = |c: f32, x: f32| if rising { c - x } else { x - c };
    on_grid(from, to, spacing)
        .filter_map(|c| {
            let ends = [x_at(c, rect.top()), x_at(c, rect.bottom())]
                .map(|x| x.clamp(rect.left(), rect.right()))
                .map(|x| pos2(x, y_at(c, x)));
            (ends[0] != ends[1]).then_some(ends)
        })
        .collect()
}

/// Paints the lines or dots of a pattern.
pub fn lines(painter: &Painter, rect: Rect, hatch: Hatch, spacing: f32, line: Stroke) {
    for ends in segments(rect, hatch, spacing) {
        painter.line_segment(ends, line);
    }
    for dot in dots(rect, hatch, spacing) {
        painter.circle_filled(dot, line.width, line.color);
    }
}

/// Paints a filled area with its pattern.
pub fn area(painter: &Painter, rect: Rect, fill: Fill, p: &Palette, grain: Grain) {
    painter.add(Shape::rect_filled(rect, 0.0, fill.colour));
    let line = Stroke::new(grain.line, p.hatch_on(fill.colour));
    lines(painter, rect, fill.hatch, grain.spacing, line);
}

#[cfg(test)]
mod tests {
    use super::*;
    use eframe::egui::Rect;

    #[test]
    fn lines_stay_within_the_area() {
        let rect = Rect::from_min_max(pos2(3.0, 7.0), pos2(41.0, 23.0));
        for hatch in [Hatch::Rising, Hatch::Falling, Hatch::Crossed, Hatch::Level] {
            let lines = segments(rect, hatch, 6.0);
            assert!(!lines.is_empty());
            for point in lines.into_iter().flatten() {
                assert!(rect.expand(1e-3).contains(point), "{hatch:?} {point:?}");
            }
        }
        let dots = dots(rect, Hatch::Dotted, 6.0);
        assert!(dots.len() > 10 && dots.iter().all(|&d| rect.contains(d)));
    }
}
