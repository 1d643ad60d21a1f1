//! The map of a sweep over two lines: one quantity at a time, painted by hand.

use eframe::egui::{self, Align2, Pos2, Rect, Sense, Stroke, Ui, WidgetInfo, vec2};
use formulation::finding::Level;
use formulation::solve::sweep::Axis;

use super::{Done, Followed, MAP_WIDTH, name_of};
use crate::state::View;
use crate::theme;

/// Room for the captions left of the map and right of it, and below it, in points.
const CAPTIONS: egui::Vec2 = vec2(80.0, 40.0);
/// Where the cells begin in the room of the map, in points.
const CELLS_FROM: egui::Vec2 = vec2(70.0, 4.0);
/// Greatest height of the cells, and their height as part of the width.
const HEIGHT: (f32, f32) = (340.0, 0.62);

/// The cells of a map on the screen: the points of a sweep in rows from the bottom up.
struct Cells {
    rect: Rect,
    cell: egui::Vec2,
    columns: usize,
    rows: usize,
}

impl Cells {
    fn new(rect: Rect, x: &Axis, y: &Axis) -> Self {
        let (columns, rows) = (x.points.max(1), y.points.max(1));
        Self {
            rect,
            cell: vec2(rect.width() / columns as f32, rect.height() / rows as f32),
            columns,
            rows,
        }
    }
    /// Column and row of a point.
    const fn at(&self, point: usize) -> (usize, usize) {
        (point % self.columns, point / self.columns)
    }
    fn of(&self, point: usize) -> Rect {
        let (column, row) = self.at(point);
        let corner = vec2(
            column as f32 * self.cell.x,
            -((row as f32 + 1.0) * self.cell.y),
        );
        Rect::from_min_size(self.rect.left_bottom() + corner, self.cell)
    }
    /// The point under a place on the screen.
    fn under(&self, pointer: Pos2) -> Option<usize> {
        if !self.rect.contains(pointer) {
            return None;
        }
        let column = ((pointer.x - self.rect.left()) / self.cell.x) as usize;
        let row = ((self.rect.bottom() - pointer.y) / self.cell.y) as usize;
        Some(row.min(self.rows - 1) * self.columns + column.min(self.columns - 1))
    }
}

/// Draws a map of one quantity over two lines: faint is low, the accent is high; points in
/// breach carry a cross. The point clicked comes back.
pub(super) fn map(
    ui: &mut Ui,
    view: &View<'_>,
    done: &Done,
    shown: &mut usize,
    picked: Option<usize>,
) -> Option<usize> {
    let [x, y] = done.sweep.axes.as_slice() else {
        return None;
    };
    let followed = choice(ui, done, shown)?;
    let Some((low, high)) = ends(done, followed) else {
        ui.label("This is not known at any point.");
        return None;
    };
    ui.label(theme::small(
        ui,
        format!(
            "from {} (faint) to {} (strong); a cross marks a breach, an empty place cannot be reached",
            followed.figure(low),
            followed.figure(high)
        ),
    ));
    let width = (ui.available_width() - 90.0).min(MAP_WIDTH - CAPTIONS.x);
    let size = vec2(width, (width * HEIGHT.1).min(HEIGHT.0));
    let (room, response) = ui.allocate_exact_size(size + CAPTIONS, Sense::CLICK);
    let told = format!("Map of {}", followed.words());
    response.widget_info(|| WidgetInfo::labeled(egui::Role::Image, true, &told));
    let cells = Cells::new(Rect::from_min_size(room.min + CELLS_FROM, size), x, y);
    paint(ui, done, followed, (low, high), &cells);
    captions(ui, view, (x, y), cells.rect);
    if let Some(k) = picked {
        let ink = theme::palette(ui).ink;
        ui.painter()
            .circle_stroke(cells.of(k).center(), 6.0, Stroke::new(2.0, ink));
    }
    ui.label(theme::small(
        ui,
        format!("upwards: {}", name_of(view, y.line)),
    ));
    let clicked = response.clicked();
    let pointer = response.interact_pointer_pos().filter(|_| clicked)?;
    cells.under(pointer)
}

/// Which quantity the map shows.
fn choice<'a>(ui: &mut Ui, done: &'a Done, shown: &mut usize) -> Option<Followed<'a>> {
    let all = done.followed();
    *shown = (*shown).min(all.len().saturating_sub(1));
    ui.horizontal_wrapped(|ui| {
        ui.label("Map of");
        for (k, followed) in all.iter().enumerate() {
            ui.selectable_value(shown, k, followed.words());
        }
    });
    all.get(*shown).copied()
}

/// Least and greatest value of a quantity, where it is known anywhere.
fn ends(done: &Done, followed: Followed<'_>) -> Option<(f64, f64)> {
    let values = || done.points.iter().filter_map(|point| followed.value(point));
    let low = values().fold(f64::INFINITY, f64::min);
    let high = values().fold(f64::NEG_INFINITY, f64::max);
    (low <= high).then_some((low, high))
}

fn paint(ui: &Ui, done: &Done, followed: Followed<'_>, (low, high): (f64, f64), cells: &Cells) {
    let p = theme::palette(ui);
    let painter = ui.painter();
    painter.rect_stroke(
        cells.rect,
        0.0,
        Stroke::new(1.0, p.rule),
        egui::StrokeKind::Outside,
    );
    for (k, point) in done.points.iter().enumerate() {
        let Some(value) = followed.value(point) else {
            continue;
        };
        let part = if high > low {
            (value - low) / (high - low)
        } else {
            0.5
        };
        let cell = cells.of(k);
        // A little over the edge, so that no ground shows between two cells.
        painter.rect_filled(
            Rect::from_min_size(cell.min, cell.size() + vec2(0.5, 0.5)),
            0.0,
            p.page.lerp_to_gamma(p.accent, 0.1 + 0.9 * part as f32),
        );
        // A cross on every third cell keeps the colour readable.
        let (column, row) = cells.at(k);
        if point.findings[0] > 0 && column % 3 == 1 && row % 3 == 1 {
            for arm in [vec2(3.0, 3.0), vec2(3.0, -3.0)] {
                painter.line_segment(
                    [cell.center() - arm, cell.center() + arm],
                    Stroke::new(1.5, p.level(Level::Breach)),
                );
            }
        }
    }
}

/// The ends of both axes and the line that runs to the right.
fn captions(ui: &Ui, view: &View<'_>, (x, y): (&Axis, &Axis), rect: Rect) {
    let (below, left) = (vec2(0.0, 3.0), vec2(-5.0, 0.0));
    for (at, align, text) in [
        (
            rect.left_bottom() + below,
            Align2::LEFT_TOP,
            format!("{} %", x.from),
        ),
        (
            rect.right_bottom() + below,
            Align2::RIGHT_TOP,
            format!("{} %", x.to),
        ),
        (
            rect.center_bottom() + below,
            Align2::CENTER_TOP,
            name_of(view, x.line),
        ),
        (
            rect.left_bottom() + left,
            Align2::RIGHT_BOTTOM,
            format!("{} %", y.from),
        ),
        (
            rect.left_top() + left,
            Align2::RIGHT_TOP,
            format!("{} %", y.to),
        ),
    ] {
        ui.painter().text(
            at,
            align,
            text,
            egui::TextStyle::Small.resolve(ui.style()),
            theme::palette(ui).faint_ink,
        );
    }
}
