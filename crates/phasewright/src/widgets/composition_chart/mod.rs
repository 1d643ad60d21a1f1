//! The composition chart: two stacks, *As weighed* by phase and *As contained* by
//! class, and ribbons between them that show where each constituent comes from.
//!
//! One share is one height on both sides. Labels stand beside the stacks, moved
//! apart where they would cover each other. Resting the pointer on a block shows
//! its sums, a click chooses the lines it is made of.

mod export;
mod layout;

use std::collections::BTreeSet;

use eframe::egui::{
    self, Align, Color32, CursorIcon, Id, Mesh, Pos2, Rect, Response, Sense, Shape, Stroke, Ui,
    Vec2, WidgetInfo, pos2, vec2,
};
use formulation::composition::Composition;
use formulation::formula::{Formula, ItemId, Variant};

use crate::theme::{self, Palette};
use crate::widgets::hatch;
pub use export::{to_png, to_svg};

pub use layout::{ChartLayout, Part, PartBlock, PhaseBlock, Ribbon, Stretch, spread_labels};

/// Height of a label in points.
const LABEL: f32 = 15.0;
/// Height of the captions in points.
const CAPTION: f32 = 20.0;
/// Pieces of which a ribbon is made.
const PIECES: u8 = 18;
/// How much of the width the columns and labels take.
const LEFT_LABELS: f32 = 56.0;

/// A chart to be drawn.
pub struct CompositionChart<'a> {
    /// The chart's id.
    pub id: Id,
    /// The formula, for the names of materials.
    pub formula: &'a Formula,
    /// The variant shown.
    pub variant: &'a Variant,
    /// What it contains.
    pub composition: &'a Composition,
    /// Lines that are chosen; their ribbons stand out.
    pub chosen: &'a BTreeSet<ItemId>,
    /// The percentage at the full height; the same for charts to be compared. At
    /// least [`ChartLayout::full_height`].
    pub full: f64,
}

/// Where the pieces of a chart stand.
struct Geometry {
    left: Rect,
    right: Rect,
    full: f64,
}

impl Geometry {
    fn new(area: Rect, full: f64) -> Self {
        let column = (area.width() * 0.11).clamp(22.0, 56.0);
        let top = area.top() + CAPTION;
        let left = Rect::from_min_max(
            pos2(area.left() + LEFT_LABELS, top),
            pos2(area.left() + LEFT_LABELS + column, area.bottom() - 2.0),
        );
        let labels = (area.width() * 0.4).clamp(132.0, 150.0);
        let start = (area.right() - labels - column).max(left.right() + 24.0);
        Self {
            left,
            right: Rect::from_min_max(pos2(start, top), pos2(start + column, area.bottom() - 2.0)),
            full,
        }
    }

    fn y(&self, percent: f64) -> f32 {
        self.left.bottom() - (percent / self.full) as f32 * self.left.height()
    }

    fn block(&self, column: Rect, at: Stretch) -> Rect {
        Rect::from_x_y_ranges(column.x_range(), self.y(at.to)..=self.y(at.from))
    }
}

/// What the pointer is on.
#[derive(Clone, Copy, PartialEq)]
enum Touched {
    Phase(usize),
    Part(usize),
}

impl CompositionChart<'_> {
    /// Draws the chart; the lines of the block that was clicked come back.
    pub fn show(&self, ui: &mut Ui, size: Vec2) -> Option<BTreeSet<ItemId>> {
        let chart = ChartLayout::new(self.variant, self.composition);
        let (_, area) = ui.allocate_space(size);
        let geometry = Geometry::new(area, self.full.max(1.0));
        let labels = Labels::new(&chart, &geometry, area);

        // Where the pointer was tells which ribbons stand out, before they are painted.
        let mut touched = None;
        let mut clicked = None;
        let mut blocks: Vec<(Touched, Response)> = Vec::new();
        let all = (0..chart.phases.len())
            .map(Touched::Phase)
            .chain((0..chart.parts.len()).map(Touched::Part));
        for what in all {
            let response = self.interact(ui, &chart, &geometry, &labels, what);
            if response.hovered() || response.has_focus() {
                touched = Some(what);
            }
            if response.clicked() {
                clicked = Some(chart.lines_of(what));
            }
            blocks.push((what, response));
        }
        if ui.is_rect_visible(area) {
            self.paint(ui, &chart, &geometry, &labels, area, touched);
        }
        for (what, response) in blocks {
            response
                .on_hover_cursor(CursorIcon::PointingHand)
                .on_hover_ui(|ui| self.sums(ui, &chart, what));
        }
        clicked
    }

    fn interact(
        &self,
        ui: &Ui,
        chart: &ChartLayout,
        geometry: &Geometry,
        labels: &Labels,
        what: Touched,
    ) -> Response {
        let (block, label, name) = match what {
            Touched::Phase(i) => {
                let phase = &chart.phases[i];
                let name = format!("Phase {}: {:.2} %", phase.letter, phase.at.size());
                let block = geometry.block(geometry.left, phase.at);
                (block, labels.phases[i], name)
            }
            Touched::Part(i) => {
                let part = &chart.parts[i];
                let name = format!("{}: {:.2} %", part.part.full_label(), part.at.size());
                let block = geometry.block(geometry.right, part.at);
                (block, labels.parts[i], name)
            }
        };
        let salt = match what {
            Touched::Phase(i) => ("phase", chart.phases[i].phase.0.to_string()),
            Touched::Part(i) => ("part", chart.parts[i].part.label().to_owned()),
        };
        // The label is what one reaches with the keyboard; a thin block has no room.
        let mut response = ui.interact(block, self.id.with(("block", &salt)), Sense::click());
        if let Some(label) = label {
            let by_label = ui.interact(label, self.id.with(("label", &salt)), Sense::click());
            by_label.widget_info(|| WidgetInfo::labeled(egui::Role::Button, true, &name));
            if by_label.has_focus() {
                let ring = Stroke::new(1.5, theme::palette(ui).accent);
                ui.painter()
                    .rect_stroke(label, 3.0, ring, egui::StrokeKind::Outside);
            }
            response |= by_label;
        } else {
            response.widget_info(|| WidgetInfo::labeled(egui::Role::Button, true, &name));
        }
        response
    }

    fn paint(
        &self,
        ui: &Ui,
        chart: &ChartLayout,
        geometry: &Geometry,
        labels: &Labels,
        area: Rect,
        touched: Option<Touched>,
    ) {
        let p = theme::palette(ui);
        let painter = ui.painter().with_clip_rect(area.intersect(ui.clip_rect()));
        captions(ui, geometry, area);

        let stands_out = |r: &Ribbon| match touched {
            Some(Touched::Phase(i)) => r.phase == i,
            Some(Touched::Part(i)) => r.part == i,
            None => self.chosen.contains(&r.line),
        };
        let any = touched.is_some() || chart.ribbons.iter().any(stands_out);
        for strong in [false, true] {
            for r in chart.ribbons.iter().filter(|r| stands_out(r) == strong) {
                let strength = match (any, strong) {
                    (false, _) => 0.42,
                    (true, false) => 0.13,
                    (true, true) => 0.75,
                };
                let from = p.phase(r.phase).gamma_multiply(strength);
                let to = chart.parts[r.part]
                    .part
                    .fill(p)
                    .colour
                    .gamma_multiply(strength);
                painter.add(Shape::mesh(ribbon(geometry, r, from, to)));
            }
        }

        let edge = Stroke::new(1.0, p.ground);
        for phase in &chart.phases {
            let rect = at_least(geometry.block(geometry.left, phase.at));
            painter.rect_filled(rect, 0.0, p.phase(phase.place));
            for (line, at) in &phase.lines {
                let rect = geometry.block(geometry.left, *at);
                if self.chosen.contains(line) {
                    painter.rect_filled(at_least(rect), 0.0, p.accent);
                }
                painter.hline(rect.x_range(), rect.bottom(), Stroke::new(0.5, p.ground));
            }
            painter.hline(rect.x_range(), rect.bottom(), edge);
        }
        for part in &chart.parts {
            let rect = at_least(geometry.block(geometry.right, part.at));
            hatch::area(&painter, rect, part.part.fill(p), Stroke::new(1.2, p.hatch));
            painter.hline(rect.x_range(), rect.bottom(), edge);
        }
        let frame = Stroke::new(1.0, p.faint_ink);
        for column in [geometry.left, geometry.right] {
            let full =
                Rect::from_x_y_ranges(column.x_range(), geometry.y(chart.total)..=column.bottom());
            painter.rect_stroke(full, 0.0, frame, egui::StrokeKind::Outside);
        }
        if (chart.total - 100.0).abs() > 1e-9 || self.full > 100.0 {
            let y = geometry.y(100.0);
            let line = Stroke::new(1.0, p.level(formulation::finding::Level::Breach));
            let x = geometry.left.left() - 6.0..=geometry.right.right() + 6.0;
            painter.extend(Shape::dashed_line(
                &[pos2(*x.start(), y), pos2(*x.end(), y)],
                line,
                4.0,
                3.0,
            ));
        }
        labels.paint(ui, &painter, chart, geometry);
    }

    fn name_of(&self, line: ItemId) -> &str {
        self.variant
            .line(line)
            .and_then(|l| self.formula.material(&l.material))
            .map_or("?", |m| &m.name)
    }

    /// The sums behind a block.
    fn sums(&self, ui: &mut Ui, chart: &ChartLayout, what: Touched) {
        let (title, range, lines) = match what {
            Touched::Phase(i) => {
                let phase = &chart.phases[i];
                let lines: Vec<_> = phase
                    .lines
                    .iter()
                    .map(|(id, at)| (*id, at.size()))
                    .collect();
                let title = format!("Phase {}: {:.2} %", phase.letter, phase.at.size());
                (title, None, lines)
            }
            Touched::Part(i) => {
                let part = &chart.parts[i];
                let title = format!("{}: {:.2} %", part.part.full_label(), part.at.size());
                (title, part.range, part.lines.clone())
            }
        };
        ui.label(theme::strong(title));
        if let Some((low, high)) = range {
            ui.label(theme::small(
                ui,
                format!("Between {low:.2} and {high:.2} % by what the materials state"),
            ));
        }
        egui::Grid::new("sums")
            .num_columns(2)
            .spacing([16.0, 2.0])
            .show(ui, |ui| {
                for (line, share) in lines.iter().take(20) {
                    ui.label(self.name_of(*line));
                    theme::right_aligned(ui, 64.0, |ui| {
                        ui.label(format!("{share:.3} %"));
                    });
                    ui.end_row();
                }
            });
        if lines.len() > 20 {
            ui.label(theme::small(ui, format!("and {} more", lines.len() - 20)));
        }
        ui.label(theme::small(ui, "Click to choose these lines"));
    }
}

impl ChartLayout {
    fn lines_of(&self, what: Touched) -> BTreeSet<ItemId> {
        match what {
            Touched::Phase(i) => self.phases[i].lines.iter().map(|(id, _)| *id).collect(),
            Touched::Part(i) => self.parts[i].lines.iter().map(|(id, _)| *id).collect(),
        }
    }
}

/// A block that can be seen, however little it is.
fn at_least(rect: Rect) -> Rect {
    if rect.height() >= 1.0 {
        rect
    } else {
        Rect::from_center_size(rect.center(), vec2(rect.width(), 1.0))
    }
}

fn captions(ui: &Ui, geometry: &Geometry, area: Rect) {
    let p = theme::palette(ui);
    // In a narrow chart the second caption gives way to the first.
    let mut free = area.left();
    for (column, words) in [
        (geometry.left, "As weighed"),
        (geometry.right, "As contained"),
    ] {
        let text = theme::strong(words).small().color(p.ink);
        let galley = egui::WidgetText::from(text).into_galley(
            ui,
            Some(egui::TextWrapMode::Extend),
            f32::INFINITY,
            egui::TextStyle::Small,
        );
        let half = galley.size().x / 2.0;
        let x = (column.center().x).clamp(area.left() + half, area.right() - half);
        let x = x.max(free + half);
        free = x + half + 8.0;
        ui.painter()
            .galley(pos2(x - half, area.top()), galley, p.ink);
    }
}

/// A band from one stack to the other, level at both ends.
fn ribbon(geometry: &Geometry, r: &Ribbon, from: Color32, to: Color32) -> Mesh {
    let (x0, x1) = (geometry.left.right(), geometry.right.left());
    let ends = |at: Stretch| (geometry.y(at.to), geometry.y(at.from));
    let ((top0, bottom0), (top1, bottom1)) = (ends(r.left), ends(r.right));
    let mut mesh = Mesh::default();
    for i in 0..=PIECES {
        let t = f32::from(i) / f32::from(PIECES);
        let smooth = t * t * (3.0 - 2.0 * t);
        let x = egui::lerp(x0..=x1, t);
        let top = egui::lerp(top0..=top1, smooth);
        let bottom = egui::lerp(bottom0..=bottom1, smooth);
        let colour = mix(from, to, t);
        // A sliver thinner than a hairline is drawn as a hairline.
        let grow = ((0.6 - (bottom - top)) / 2.0).max(0.0);
        mesh.colored_vertex(pos2(x, top - grow), colour);
        mesh.colored_vertex(pos2(x, bottom + grow), colour);
    }
    for i in 0..u32::from(PIECES) {
        let a = 2 * i;
        mesh.add_triangle(a, a + 1, a + 2);
        mesh.add_triangle(a + 1, a + 2, a + 3);
    }
    mesh
}

fn mix(a: Color32, b: Color32, t: f32) -> Color32 {
    a.lerp_to_gamma(b, t)
}

/// Where the labels stand.
struct Labels {
    phases: Vec<Option<Rect>>,
    parts: Vec<Option<Rect>>,
}

impl Labels {
    fn new(chart: &ChartLayout, geometry: &Geometry, area: Rect) -> Self {
        let (top, bottom) = (geometry.left.top(), geometry.left.bottom() + 2.0);
        // Stacks grow upwards, labels are placed from the top.
        let place = |blocks: Vec<Stretch>, x: egui::Rangef| -> Vec<Option<Rect>> {
            let wanted: Vec<(f32, f64)> = blocks
                .iter()
                .rev()
                .map(|at| (geometry.y(at.middle()), at.size()))
                .collect();
            let mut places = spread_labels(&wanted, LABEL, top, bottom);
            places.reverse();
            places
                .into_iter()
                .map(|y| y.map(|y| Rect::from_x_y_ranges(x, y - LABEL / 2.0..=y + LABEL / 2.0)))
                .collect()
        };
        let left = egui::Rangef::new(area.left(), geometry.left.left() - 10.0);
        let right = egui::Rangef::new(geometry.right.right() + 10.0, area.right());
        Self {
            phases: place(chart.phases.iter().map(|p| p.at).collect(), left),
            parts: place(chart.parts.iter().map(|p| p.at).collect(), right),
        }
    }

    fn paint(&self, ui: &Ui, painter: &egui::Painter, chart: &ChartLayout, geometry: &Geometry) {
        let p = theme::palette(ui);
        let leader = Stroke::new(0.8, p.faint_ink);
        for (phase, label) in chart.phases.iter().zip(&self.phases) {
            let Some(label) = label else { continue };
            let y = geometry.y(phase.at.middle());
            let start = pos2(geometry.left.left() - 1.0, y);
            let end = pos2(label.right() + 2.0, label.center().y);
            painter.line_segment([start, end], leader);
            let words = theme::strong(phase.letter.as_ref()).small().color(p.ink);
            let width = piece(ui, painter, *label, words, Align::Min);
            let figure = egui::RichText::new(shown(phase.at.size()))
                .small()
                .color(p.ink);
            piece(
                ui,
                painter,
                label.with_min_x(label.left() + width + 4.0),
                figure,
                Align::Max,
            );
        }
        for (part, label) in chart.parts.iter().zip(&self.parts) {
            let Some(label) = label else { continue };
            let y = geometry.y(part.at.middle());
            let start = pos2(geometry.right.right() + 1.0, y);
            let end = pos2(label.left() - 2.0, label.center().y);
            painter.line_segment([start, end], leader);
            let figure = egui::RichText::new(shown(part.at.size()))
                .small()
                .color(p.ink);
            let width = piece(ui, painter, *label, figure, Align::Max);
            let words = egui::RichText::new(part.part.label()).small().color(p.ink);
            piece(
                ui,
                painter,
                label.with_max_x(label.right() - width - 4.0),
                words,
                Align::Min,
            );
        }
    }
}

/// A share with as many digits as its size deserves.
fn shown(percent: f64) -> String {
    if percent <= 0.0 {
        "0".to_owned()
    } else if percent < 0.005 {
        "< 0.01".to_owned()
    } else if percent >= 9.95 {
        format!("{percent:.1}")
    } else {
        format!("{percent:.2}")
    }
}

/// Paints a piece of text and tells its width.
fn piece(ui: &Ui, painter: &egui::Painter, rect: Rect, text: egui::RichText, align: Align) -> f32 {
    let galley = egui::WidgetText::from(text).into_galley(
        ui,
        Some(egui::TextWrapMode::Truncate),
        rect.width(),
        egui::TextStyle::Small,
    );
    let size = galley.size();
    let x = if align == Align::Max {
        rect.right() - size.x
    } else {
        rect.left()
    };
    let at: Pos2 = pos2(x, rect.center().y - size.y / 2.0);
    painter.galley(at, galley, theme::palette(ui).ink);
    size.x
}

/// The chart's palette, for exports.
const fn export_palette() -> &'static Palette {
    &theme::LIGHT
}
