//! The mark of a finding's level: a shape of its own for each, besides the colour.

use eframe::egui::{self, Pos2, Rect, Response, Sense, Shape, Stroke, Ui, Vec2, WidgetInfo, vec2};
use formulation::finding::Level;

use crate::theme;

/// Side of the mark in points.
pub const SIDE: f32 = 14.0;

/// The shapes of a mark within a square: a filled hexagon with a bar for a breach,
/// a filled triangle for a caution, a ring with a dot for a note.
pub fn shapes(ui: &Ui, rect: Rect, level: Level) -> Vec<Shape> {
    let p = theme::palette(ui);
    let colour = p.level(level);
    let centre = rect.center();
    let r = rect.width().min(rect.height()) / 2.0;
    let corner = |turn: f32, radius: f32| -> Pos2 {
        centre + Vec2::angled(turn * std::f32::consts::TAU) * radius
    };
    let bar = |height: f32, shift: f32, ink: egui::Color32| {
        let size = vec2(r * 0.3, height);
        let middle = centre + vec2(0.0, shift);
        Shape::rect_filled(Rect::from_center_size(middle, size), r * 0.1, ink)
    };
    match level {
        Level::Breach => vec![
            Shape::convex_polygon(
                (0_u8..6).map(|i| corner(f32::from(i) / 6.0, r)).collect(),
                colour,
                Stroke::NONE,
            ),
            bar(r * 0.7, -r * 0.22, p.on_level),
            bar(r * 0.28, r * 0.5, p.on_level),
        ],
        Level::Caution => {
            let points = vec![
                centre + vec2(0.0, -r),
                centre + vec2(r, r * 0.8),
                centre + vec2(-r, r * 0.8),
            ];
            vec![
                Shape::convex_polygon(points, colour, Stroke::NONE),
                bar(r * 0.6, -r * 0.02, p.on_level),
                bar(r * 0.24, r * 0.55, p.on_level),
            ]
        }
        Level::Note => vec![
            Shape::circle_stroke(centre, r - 1.0, Stroke::new(1.4, colour)),
            bar(r * 0.62, r * 0.18, colour),
            bar(r * 0.26, -r * 0.42, colour),
        ],
    }
}

/// Draws a mark with the level's word as its name.
pub fn level_mark(ui: &mut Ui, level: Level) -> Response {
    let (rect, response) = ui.allocate_exact_size(Vec2::splat(SIDE), Sense::hover());
    ui.painter().extend(shapes(ui, rect, level));
    response.widget_info(|| WidgetInfo::labeled(egui::Role::Image, true, level.label()));
    response
}
