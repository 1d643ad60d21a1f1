//! The label as it is printed.

use eframe::egui::{self, Color32, Ui, Vec2};
use formulation::finding::Level;
use formulation::label::svg::{self, Drawing};

use crate::state::View;
use crate::theme;

/// Greatest width of the picture of the label.
const PICTURE: f32 = 460.0;

/// The label as it is printed, drawn from the lines that the SVG has.
pub(super) fn picture(ui: &mut Ui, view: &View<'_>, drawing: &Drawing) {
    let info = &view.variant.label;
    let width = (ui.available_width() - theme::GAP).min(PICTURE);
    let scale = width / info.width_mm.max(1.0) as f32;
    let height = drawing.height_mm as f32 * scale;
    let (rect, response) = ui.allocate_exact_size(Vec2::new(width, height), egui::Sense::hover());
    // Its words stand as text below.
    response.widget_info(|| {
        egui::WidgetInfo::labeled(egui::Role::Image, true, "The label as it prints")
    });
    if !ui.is_rect_visible(rect) {
        return;
    }
    let p = theme::palette(ui);
    let painter = ui.painter_at(rect.expand(1.0));
    // Paper is white and ink is black in every theme.
    painter.rect_filled(rect, 0.0, Color32::WHITE);
    painter.rect_stroke(
        rect,
        0.0,
        egui::Stroke::new(1.0, p.rule),
        egui::StrokeKind::Inside,
    );
    let at = |x: f64, y: f64| rect.min + Vec2::new(x as f32 * scale, y as f32 * scale);
    for line in &drawing.lines {
        let font = |size: f32| egui::FontId::proportional(size);
        let size = line.size_mm as f32 * scale;
        let lay = |size: f32| painter.layout_no_wrap(line.text.clone(), font(size), Color32::BLACK);
        // The same font may be set at another size by the window than in print.
        let first = lay(size);
        let wanted = line.width_mm as f32 * scale;
        let galley = if first.size().x > 1.0 && wanted > 1.0 {
            lay(size * wanted / first.size().x)
        } else {
            first
        };
        let base = galley.size().y * svg::baseline_share() as f32;
        painter.galley(
            at(line.x_mm, line.y_mm) - Vec2::new(0.0, base),
            galley,
            Color32::BLACK,
        );
        if line.jar {
            let corner = at(line.x_mm - 1.2 * line.size_mm, line.y_mm);
            jar(&painter, corner, size);
        }
    }
    if !drawing.fits {
        let end = at(0.0, info.height_mm).y;
        let colour = p.level(Level::Caution);
        painter.hline(rect.x_range(), end, egui::Stroke::new(1.5, colour));
        ui.colored_label(
            colour,
            format!(
                "The label of {:.0} mm ends at the line; the text needs {:.0} mm. Make the label larger or the letters smaller; what is saved is as high as the text.",
                info.height_mm, drawing.needs_height_mm
            ),
        );
    }
    ui.add_space(theme::GAP);
}

/// The open jar, as in the SVG: a body with a rim, and the lid beside it.
fn jar(painter: &egui::Painter, corner: egui::Pos2, size: f32) {
    let stroke = egui::Stroke::new((0.08 * size).max(1.0), Color32::BLACK);
    let place = |(x, y): (f32, f32)| corner + Vec2::new(x * size, y * size);
    for outline in svg::OPEN_JAR {
        let points = outline.iter().map(|p| place(*p)).collect();
        painter.add(egui::Shape::closed_line(points, stroke));
    }
}
