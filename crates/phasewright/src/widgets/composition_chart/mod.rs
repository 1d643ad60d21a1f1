//! The composition chart: two stacks, *As weighed* by phase and *As contained* by
//! class, and ribbons between them that show where each constituent comes from.
//!
//! One share is one height on both sides, and the first phase stands at the top, as in the
//! list of lines. Labels stand beside the stacks, each with a swatch, moved apart where
//! they would cover each other. Classes below 1 % stand in a strip of their own below,
//! enlarged. Resting the pointer on a block shows its sums, a click chooses the lines it is
//! made of.

mod export;
mod layout;

use std::collections::BTreeSet;

use eframe::egui::{
    self, Align, Color32, CursorIcon, Id, Mesh, Pos2, Rect, Response, Sense, Shape, Stroke, Ui,
    Vec2, WidgetInfo, pos2, vec2,
};
use formulation::amount::Measure;
use formulation::amount::measure::share_shown;
use formulation::formula::{Formula, ItemId, Variant};

use crate::theme::{self, Fill, Palette};
use crate::widgets::hatch;
use crate::widgets::ribbon::ribbon;
pub use export::{to_png, to_svg};

pub use layout::{
    ChartLayout, Part, PartBlock, PhaseBlock, Ribbon, Stretch, brought_by, spread_labels,
};

/// Height of a label in points.
const LABEL: f32 = 15.0;
/// Height of the captions in points.
const CAPTION: f32 = 22.0;
/// How much of the width the columns and labels take.
const LEFT_LABELS: f32 = 56.0;
/// Side of a swatch in points.
const SWATCH: f32 = 10.0;
/// The strip of small classes takes at most this share of the height.
const STRIP_SHARE: f32 = 0.44;
/// Space above the strip, in points.
const STRIP_GAP: f32 = 10.0;

/// A chart to be drawn.
pub struct CompositionChart<'a> {
    /// The chart's id.
    pub id: Id,
    /// The formula, for the names of materials.
    pub formula: &'a Formula,
    /// The variant shown.
    pub variant: &'a Variant,
    /// What it shows.
    pub layout: &'a ChartLayout,
    /// Lines that are chosen; their ribbons stand out.
    pub chosen: &'a BTreeSet<ItemId>,
    /// Whether water can be left out and brought back by a press on the chart.
    pub switch: bool,
}

/// What was done to a chart in this frame.
#[derive(Default)]
pub struct ChartResponse {
    /// The lines of the block that was clicked.
    pub chosen: Option<BTreeSet<ItemId>>,
    /// Water is to be left out, or to come back.
    pub switched: bool,
}

/// The strip that shows small classes enlarged.
struct Strip {
    /// Bars grow from its left side; its whole width stands for [`layout::SMALL`] percent.
    bars: Rect,
    /// Parts by place, from the top down.
    rows: Vec<usize>,
    /// So many more have no room.
    more: usize,
}

impl Strip {
    /// The caption and the rows, without the gap above.
    fn height(rows: usize) -> f32 {
        LABEL * (rows + 1) as f32
    }

    fn row(&self, row: usize) -> Rect {
        let top = self.bars.top() + LABEL * (row + 1) as f32;
        Rect::from_x_y_ranges(self.bars.x_range(), top..=top + LABEL)
    }

    fn bar(&self, row: usize, percent: f64) -> Rect {
        let whole = self.row(row).shrink2(vec2(0.0, 2.0));
        let share = (percent / layout::SMALL).clamp(0.0, 1.0) as f32;
        whole.with_max_x(whole.left() + (whole.width() * share).max(1.0))
    }

    /// What stands above the rows.
    fn caption(&self) -> String {
        match self.more {
            0 => "Below 1 %, enlarged".to_owned(),
            more => format!("Below 1 %, enlarged; {more} smaller ones have no room"),
        }
    }
}

/// Where the pieces of a chart stand.
struct Geometry {
    left: Rect,
    right: Rect,
    full: f64,
    strip: Option<Strip>,
}

impl Geometry {
    fn new(area: Rect, chart: &ChartLayout) -> Self {
        let column = (area.width() * 0.11).clamp(22.0, 56.0);
        let top = area.top() + CAPTION;
        let mut small = chart.small();
        let room = ((area.height() * STRIP_SHARE - STRIP_GAP) / LABEL).floor();
        let most = (room as usize).saturating_sub(1);
        let more = small.len().saturating_sub(most);
        if more > 0 {
            // The largest stay, in their order.
            let size = |i: &usize| chart.parts.get(*i).map_or(0.0, |p| p.at.size());
            small.sort_by(|a, b| size(b).total_cmp(&size(a)));
            small.truncate(most);
            small.sort_unstable();
        }
        let strip = if small.is_empty() {
            0.0
        } else {
            Strip::height(small.len()) + STRIP_GAP
        };
        let bottom = area.bottom() - 2.0 - strip;
        let left = Rect::from_min_max(
            pos2(area.left() + LEFT_LABELS, top),
            pos2(area.left() + LEFT_LABELS + column, bottom),
        );
        let labels = (area.width() * 0.42).clamp(154.0, 164.0);
        let start = (area.right() - labels - column).max(left.right() + 24.0);
        let right = Rect::from_min_max(pos2(start, top), pos2(start + column, bottom));
        let strip = (!small.is_empty()).then(|| Strip {
            bars: Rect::from_min_max(
                pos2(left.left(), bottom + STRIP_GAP),
                pos2(right.right(), area.bottom() - 2.0),
            ),
            rows: small,
            more,
        });
        Self {
            left,
            right,
            full: chart.full_height().max(1e-6),
            strip,
        }
    }

    fn y(&self, percent: f64) -> f32 {
        self.left.top() + (percent / self.full) as f32 * self.left.height()
    }

    /// Where a block is told: its label, or the block where that has none.
    fn place(&self, chart: &ChartLayout, labels: &Labels, what: Touched) -> Rect {
        match what {
            Touched::Phase(i) => {
                labels.phases[i].unwrap_or_else(|| self.block(self.left, chart.phases[i].at))
            }
            Touched::Part(i) => {
                labels.parts[i].unwrap_or_else(|| self.block(self.right, chart.parts[i].at))
            }
        }
    }

    fn block(&self, column: Rect, at: Stretch) -> Rect {
        Rect::from_x_y_ranges(column.x_range(), self.y(at.from)..=self.y(at.to))
    }
}

/// What the pointer is on.
#[derive(Clone, Copy, PartialEq, Debug)]
enum Touched {
    Phase(usize),
    Part(usize),
}

/// A block as one comes to it with keys.
#[derive(Debug)]
struct Stop {
    what: Touched,
    place: Rect,
    id: Id,
}

impl Stop {
    const fn is_weighed(&self) -> bool {
        matches!(self.what, Touched::Phase(_))
    }
}

/// What tells a block from the others of its chart.
fn salt_of(chart: &ChartLayout, what: Touched) -> (&'static str, String) {
    match what {
        Touched::Phase(i) => ("phase", chart.phases[i].phase.0.to_string()),
        Touched::Part(i) => ("part", chart.parts[i].part.label().to_owned()),
    }
}

/// The block that an arrow leads to; none at the end of a column.
fn next_stop<'s>(stops: &'s [Stop], here: &Stop, key: egui::Key) -> Option<&'s Stop> {
    use egui::Key::{ArrowDown, ArrowLeft, ArrowRight, ArrowUp};
    let below = |s: &Stop| s.place.center().y - here.place.center().y;
    let to_weighed = match key {
        ArrowLeft => true,
        ArrowRight => false,
        _ => here.is_weighed(),
    };
    let column = stops.iter().filter(|s| s.is_weighed() == to_weighed);
    let near = |a: &&Stop, b: &&Stop| below(a).abs().total_cmp(&below(b).abs());
    match key {
        ArrowUp => column.filter(|s| below(s) < 0.0).min_by(near),
        ArrowDown => column.filter(|s| below(s) > 0.0).min_by(near),
        ArrowLeft | ArrowRight if to_weighed != here.is_weighed() => column.min_by(near),
        _ => None,
    }
}

impl CompositionChart<'_> {
    /// Draws the chart and tells what was pressed.
    pub fn show(&self, ui: &mut Ui, size: Vec2) -> ChartResponse {
        let chart = self.layout;
        let (_, area) = ui.allocate_space(size);
        let geometry = Geometry::new(area, chart);
        let labels = Labels::new(chart, &geometry, area);
        let mut done = ChartResponse::default();
        let captions_end = if self.switch {
            let switch = self.switch(ui, area);
            done.switched = switch.clicked();
            switch.rect.left() - 8.0
        } else {
            area.right()
        };

        // Where the pointer was tells which ribbons stand out, before they are painted.
        let mut touched = None;
        let mut blocks: Vec<(Touched, Response)> = Vec::new();
        let all: Vec<Touched> = (0..chart.phases.len())
            .map(Touched::Phase)
            .chain((0..chart.parts.len()).map(Touched::Part))
            .collect();
        let stop = self.stop(ui, &all);
        let mut stops = Vec::new();
        for what in all {
            let at = Stop {
                what,
                place: geometry.place(chart, &labels, what),
                id: self.stop_id(chart, &labels, what),
            };
            let response = self.interact(ui, chart, &geometry, &labels, what, stop == Some(what));
            if response.hovered() || response.has_focus() {
                touched = Some(what);
            }
            if response.clicked() {
                done.chosen = Some(chart.lines_of(what));
            }
            blocks.push((what, response));
            stops.push(at);
        }
        self.walk(ui, &stops);
        if ui.is_rect_visible(area) {
            captions(ui, &geometry, area.with_max_x(captions_end));
            self.paint(ui, chart, &geometry, &labels, area, touched);
        }
        for (what, response) in blocks {
            response
                .on_hover_cursor(CursorIcon::PointingHand)
                .on_hover_ui(|ui| self.sums(ui, chart, what));
        }
        done
    }

    fn kept_stop(&self) -> Id {
        self.id.with("stop")
    }

    /// The block that the Tab key comes to: the whole chart is one stop, arrows go on in it.
    fn stop(&self, ui: &Ui, all: &[Touched]) -> Option<Touched> {
        let kept = ui.data(|d| d.get_temp::<Touched>(self.kept_stop()));
        kept.filter(|what| all.contains(what))
            .or(all.first().copied())
    }

    /// What has the cursor of a block: its label, or the block where that has none.
    fn stop_id(&self, chart: &ChartLayout, labels: &Labels, what: Touched) -> Id {
        let label = match what {
            Touched::Phase(i) => labels.phases[i],
            Touched::Part(i) => labels.parts[i],
        };
        let kind = if label.is_some() { "label" } else { "block" };
        self.id.with((kind, &salt_of(chart, what)))
    }

    /// Goes from block to block with the arrows: up and down in a column, left and right to the
    /// block across.
    fn walk(&self, ui: &Ui, stops: &[Stop]) {
        let focused = ui.memory(egui::Memory::focused);
        let Some(here) = stops.iter().find(|s| Some(s.id) == focused) else {
            return;
        };
        let arrows = egui::EventFilter {
            vertical_arrows: true,
            horizontal_arrows: true,
            ..egui::EventFilter::default()
        };
        ui.memory_mut(|m| m.set_focus_lock_filter(here.id, arrows));
        let pressed = [
            egui::Key::ArrowUp,
            egui::Key::ArrowDown,
            egui::Key::ArrowLeft,
            egui::Key::ArrowRight,
        ]
        .into_iter()
        .find(|key| ui.input_mut(|i| i.consume_key(egui::Modifiers::NONE, *key)));
        let Some(next) = pressed.and_then(|key| next_stop(stops, here, key)) else {
            return;
        };
        ui.data_mut(|d| d.insert_temp(self.kept_stop(), next.what));
        ui.memory_mut(|m| m.request_focus(next.id));
        ui.request_repaint();
    }

    /// The switch that leaves water out, at the right of the captions.
    fn switch(&self, ui: &mut Ui, area: Rect) -> Response {
        let place = area.with_max_y(area.top() + 18.0);
        let right = egui::Layout::right_to_left(Align::Center);
        let builder = egui::UiBuilder::new().max_rect(place).layout(right);
        let mut inside = ui.new_child(builder);
        inside.spacing_mut().button_padding = vec2(7.0, 0.0);
        inside.spacing_mut().interact_size.y = 18.0;
        let words = egui::RichText::new("without water").small();
        let button = egui::Button::new(words)
            .corner_radius(9)
            .selected(self.layout.dry);
        let response = inside.add(button).on_hover_text(
            "Leave water out on both sides, so that the rest can be seen; figures stay percent of the formula",
        );
        response.widget_info(|| {
            WidgetInfo::selected(egui::Role::CheckBox, true, self.layout.dry, "Without water")
        });
        response
    }

    fn interact(
        &self,
        ui: &Ui,
        chart: &ChartLayout,
        geometry: &Geometry,
        labels: &Labels,
        what: Touched,
        is_stop: bool,
    ) -> Response {
        let (block, label, name) = match what {
            Touched::Phase(i) => {
                let phase = &chart.phases[i];
                let name = format!(
                    "Phase {}: {}",
                    phase.letter,
                    Measure::PERCENT_ROUGH.shown(phase.at.size())
                );
                let block = geometry.block(geometry.left, phase.at);
                (block, labels.phases[i], name)
            }
            Touched::Part(i) => {
                let part = &chart.parts[i];
                let name = format!(
                    "{}: {}",
                    part.part.full_label(),
                    Measure::PERCENT_ROUGH.shown(part.at.size())
                );
                let block = geometry.block(geometry.right, part.at);
                (block, labels.parts[i], name)
            }
        };
        let salt = salt_of(chart, what);
        let strip = geometry.strip.as_ref();
        let bar = strip.zip(match what {
            Touched::Part(i) => strip.and_then(|s| s.rows.iter().position(|&row| row == i)),
            Touched::Phase(_) => None,
        });
        // An enlarged bar belongs to its label.
        let label = label.map(|label| bar.map_or(label, |(s, row)| label.union(s.row(row))));
        // The label is what one reaches with the keyboard; a thin block has no room.
        let by_key = if is_stop {
            Sense::click()
        } else {
            Sense::CLICK
        };
        let by_block = if label.is_some() {
            Sense::CLICK
        } else {
            by_key
        };
        let mut response = ui.interact(block, self.id.with(("block", &salt)), by_block);
        if let Some(label) = label {
            let by_label = ui.interact(label, self.id.with(("label", &salt)), by_key);
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

        let stands_out = |r: &Ribbon| match touched {
            Some(Touched::Phase(i)) => r.phase == i,
            Some(Touched::Part(i)) => r.part == i,
            None => self.chosen.contains(&r.line),
        };
        let any = touched.is_some() || chart.ribbons.iter().any(stands_out);
        let put = |r: &Ribbon, strength: f32| {
            let from = p.phase(chart.tint_of(r)).gamma_multiply(strength);
            let to = chart.parts[r.part].part.fill(p).colour;
            let to = to.gamma_multiply(strength);
            painter.add(Shape::mesh(band(geometry, r, from, to)));
        };
        let faint = if any { 0.13 } else { 0.42 };
        if chart.merged.is_empty() {
            let others = chart.ribbons.iter().filter(|r| !stands_out(r));
            others.for_each(|r| put(r, faint));
        } else {
            chart.merged.iter().for_each(|r| put(r, faint));
        }
        // A block of many lines stands out by its merged ribbons.
        let strong = if chart.merged.is_empty() || touched.is_none() {
            &chart.ribbons
        } else {
            &chart.merged
        };
        let strong = strong.iter().filter(|r| stands_out(r));
        strong.for_each(|r| put(r, 0.75));

        let edge = Stroke::new(1.0, p.ground);
        for phase in &chart.phases {
            let rect = at_least(geometry.block(geometry.left, phase.at));
            painter.rect_filled(rect, 0.0, p.phase(phase.tint));
            for (line, at) in &phase.lines {
                let rect = geometry.block(geometry.left, *at);
                if self.chosen.contains(line) {
                    painter.rect_filled(at_least(rect), 0.0, p.accent);
                }
                // Between many thin lines the gaps would be all that is seen.
                if rect.height() > 2.0 {
                    painter.hline(rect.x_range(), rect.bottom(), Stroke::new(0.5, p.ground));
                }
            }
            painter.hline(rect.x_range(), rect.bottom(), edge);
        }
        for part in &chart.parts {
            let rect = at_least(geometry.block(geometry.right, part.at));
            hatch::area(&painter, rect, part.part.fill(p), p, hatch::COARSE);
            painter.hline(rect.x_range(), rect.bottom(), edge);
        }
        let frame = Stroke::new(1.0, p.faint_ink);
        for column in [geometry.left, geometry.right] {
            let full =
                Rect::from_x_y_ranges(column.x_range(), column.top()..=geometry.y(chart.total));
            painter.rect_stroke(full, 0.0, frame, egui::StrokeKind::Outside);
        }
        // Nothing is red while nothing is there.
        if !chart.dry && chart.total > 0.0 && (chart.total - 100.0).abs() > 1e-9 {
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
        strip(ui, &painter, chart, geometry);
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
                let title = format!(
                    "Phase {}: {}",
                    phase.letter,
                    Measure::PERCENT_ROUGH.shown(phase.at.size())
                );
                (title, None, lines)
            }
            Touched::Part(i) => {
                let part = &chart.parts[i];
                let title = format!(
                    "{}: {}",
                    part.part.full_label(),
                    Measure::PERCENT_ROUGH.shown(part.at.size())
                );
                (title, part.range, part.lines.clone())
            }
        };
        ui.label(theme::strong(title));
        if let Some((low, high)) = range {
            ui.label(theme::small(
                ui,
                format!(
                    "Between {} and {} by what the materials state",
                    Measure::PERCENT_ROUGH.digits_of(low),
                    Measure::PERCENT_ROUGH.shown(high)
                ),
            ));
        }
        egui::Grid::new("sums")
            .num_columns(2)
            .spacing([16.0, 2.0])
            .show(ui, |ui| {
                for (line, share) in lines.iter().take(20) {
                    ui.label(self.name_of(*line));
                    theme::right_aligned(ui, 64.0, |ui| {
                        ui.label(Measure::PERCENT_ROUGH.with_more_digits(1).shown(*share));
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
        let last = (area.right() - half).max(area.left() + half);
        let x = column.center().x.clamp(area.left() + half, last);
        let x = x.max(free + half);
        free = x + half + 8.0;
        ui.painter()
            .galley(pos2(x - half, area.top() + 1.0), galley, p.ink);
    }
}

/// Paints the strip of small classes; their labels are painted with the others.
fn strip(ui: &Ui, painter: &egui::Painter, chart: &ChartLayout, geometry: &Geometry) {
    let Some(strip) = &geometry.strip else { return };
    let p = theme::palette(ui);
    let caption = Rect::from_min_size(strip.bars.min, vec2(strip.bars.width() + 160.0, LABEL));
    let words = egui::RichText::new(strip.caption())
        .small()
        .color(p.faint_ink);
    piece(ui, painter, caption, words, Align::Min);
    for (row, &part) in strip.rows.iter().enumerate() {
        let Some(part) = chart.parts.get(part) else {
            continue;
        };
        let track = strip.row(row).shrink2(vec2(0.0, 2.0));
        painter.rect_filled(track, 0.0, p.panel);
        let bar = strip.bar(row, part.at.size());
        hatch::area(painter, bar, part.part.fill(p), p, hatch::COARSE);
    }
    let whole = Rect::from_min_max(strip.row(0).min, strip.bars.max);
    for x in [whole.left(), whole.right()] {
        painter.vline(x, whole.y_range(), Stroke::new(1.0, p.faint_ink));
    }
}

/// Where a swatch stands before the words of a label, and what room is left for them.
fn with_swatch(label: Rect) -> (Rect, Rect) {
    let middle = pos2(label.left() + SWATCH / 2.0, label.center().y);
    let swatch = Rect::from_center_size(middle, Vec2::splat(SWATCH));
    (swatch, label.with_min_x(swatch.right() + 5.0))
}

fn swatch(ui: &Ui, painter: &egui::Painter, rect: Rect, fill: Fill) {
    let p = theme::palette(ui);
    hatch::area(painter, rect, fill, p, hatch::FINE);
    let edge = Stroke::new(1.0, p.faint_ink);
    painter.rect_stroke(rect, 1.0, edge, egui::StrokeKind::Inside);
}

/// The band of a ribbon.
fn band(geometry: &Geometry, r: &Ribbon, from: Color32, to: Color32) -> Mesh {
    let at = |x: f32, at: Stretch| (x, geometry.y(at.from), geometry.y(at.to));
    let left = at(geometry.left.right(), r.left);
    ribbon([left, at(geometry.right.left(), r.right)], [from, to])
}

/// Where the labels stand.
struct Labels {
    phases: Vec<Option<Rect>>,
    parts: Vec<Option<Rect>>,
}

impl Labels {
    fn new(chart: &ChartLayout, geometry: &Geometry, area: Rect) -> Self {
        let (top, bottom) = (geometry.left.top(), geometry.left.bottom() + 2.0);
        let place = |blocks: Vec<Stretch>, x: egui::Rangef| -> Vec<Option<Rect>> {
            let wanted: Vec<(f32, f64)> = blocks
                .iter()
                .map(|at| (geometry.y(at.middle()), at.size()))
                .collect();
            spread_labels(&wanted, LABEL, top, bottom)
                .into_iter()
                .map(|y| y.map(|y| Rect::from_x_y_ranges(x, y - LABEL / 2.0..=y + LABEL / 2.0)))
                .collect()
        };
        let left = egui::Rangef::new(area.left(), geometry.left.left() - 10.0);
        let right = egui::Rangef::new(geometry.right.right() + 10.0, area.right());
        let small = chart.small();
        let tall: Vec<usize> = (0..chart.parts.len())
            .filter(|i| !small.contains(i))
            .collect();
        let stretches = tall.iter().map(|&i| chart.parts[i].at).collect();
        let mut parts = vec![None; chart.parts.len()];
        for (&i, label) in tall.iter().zip(place(stretches, right)) {
            parts[i] = label;
        }
        if let Some(strip) = &geometry.strip {
            for (row, &i) in strip.rows.iter().enumerate() {
                let y = strip.row(row).y_range();
                parts[i] = Some(Rect::from_x_y_ranges(right, y));
            }
        }
        Self {
            phases: place(chart.phases.iter().map(|p| p.at).collect(), left),
            parts,
        }
    }

    fn paint(&self, ui: &Ui, painter: &egui::Painter, chart: &ChartLayout, geometry: &Geometry) {
        let p = theme::palette(ui);
        let leader = Stroke::new(0.8, p.faint_ink);
        let figure = |words: String| egui::RichText::new(words).small().color(p.ink);
        for (phase, label) in chart.phases.iter().zip(&self.phases) {
            let Some(label) = label else { continue };
            let y = geometry.y(phase.at.middle());
            let start = pos2(geometry.left.left() - 1.0, y);
            let end = pos2(label.right() + 2.0, label.center().y);
            // An empty phase has no block to lead to.
            if phase.at.size() > 0.0 {
                painter.line_segment([start, end], leader);
            }
            // The letter stands on the tint of its phase.
            let ground = label.with_max_x(label.left() + 14.0);
            painter.rect_filled(ground, 3.0, p.phase(phase.tint));
            let words = theme::strong(phase.letter.as_ref()).small().color(p.ink);
            let letter = label.with_min_x(label.left() + 3.0);
            let width = piece(ui, painter, letter, words, Align::Min);
            let rest = label.with_min_x((letter.left() + width + 4.0).max(ground.right() + 2.0));
            piece(
                ui,
                painter,
                rest,
                figure(chart.phase_shown(phase)),
                Align::Max,
            );
        }
        for (i, (part, label)) in chart.parts.iter().zip(&self.parts).enumerate() {
            let Some(label) = label else { continue };
            let enlarged = geometry.strip.as_ref().is_some_and(|s| s.rows.contains(&i));
            if !enlarged {
                let y = geometry.y(part.at.middle());
                let start = pos2(geometry.right.right() + 1.0, y);
                let end = pos2(label.left() - 2.0, label.center().y);
                painter.line_segment([start, end], leader);
            }
            let (mark, room) = with_swatch(*label);
            swatch(ui, painter, mark, part.part.fill(p));
            let words = figure(share_shown(part.at.size()));
            let width = piece(ui, painter, room, words, Align::Max);
            let words = egui::RichText::new(part.part.label()).small().color(p.ink);
            let room = room.with_max_x(room.right() - width - 4.0);
            piece(ui, painter, room, words, Align::Min);
        }
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
