//! Two composition charts on one scale, back to back: on the outside what each
//! variant weighs by phase, inside what each contains, and between the two stacks
//! a band for each class that widens or narrows with the difference.

use eframe::egui::{
    self, Align, EventFilter, Id, Key, Painter, Rangef, Rect, Role, Sense, Shape, Stroke,
    StrokeKind, Ui, Vec2, WidgetInfo, pos2, vec2,
};
use formulation::amount::Measure;
use formulation::amount::measure::difference;
use formulation::compare::figures::SAME_SHARE;
use formulation::composition::Composition;
use formulation::formula::{Formula, ItemId, Variant};

use crate::theme;
use crate::widgets::composition_chart::{ChartLayout, Part, PartBlock, Stretch, spread_labels};
use crate::widgets::hatch;
use crate::widgets::looked_at::when_looked_at;
use crate::widgets::ribbon::ribbon;

/// Height of a label in points.
const LABEL: f32 = 15.0;
/// Height of the captions in points.
const CAPTION: f32 = 18.0;
/// Room for the letters of the phases in points.
const LETTERS: f32 = 62.0;
/// Room between the edge of the plate of figures and its words, in points.
const PLATE: f32 = 5.0;
/// Half the width of that plate, in points.
const HALF_PLATE: f32 = 152.0;

/// One side of the chart.
#[derive(Clone, Copy)]
pub struct Twin<'a> {
    /// The name over it.
    pub title: &'a str,
    /// The formula, for the names of materials.
    pub formula: &'a Formula,
    /// The variant.
    pub variant: &'a Variant,
    /// What it contains.
    pub composition: &'a Composition,
}

/// One class on both sides.
struct Band {
    part: Part,
    left: Stretch,
    right: Stretch,
}

impl Band {
    fn change(&self) -> f64 {
        self.right.size() - self.left.size()
    }
    fn differs(&self) -> bool {
        let shown = |at: Stretch| Measure::PERCENT_ROUGH.digits_of(at.size());
        self.change().abs() >= SAME_SHARE && shown(self.left) != shown(self.right)
    }
    /// The difference of the two figures that are shown.
    fn change_shown(&self) -> String {
        difference(self.left.size(), self.right.size(), 2)
    }
}

/// Where everything stands.
struct Geometry {
    /// As weighed, as contained; left, then right from the outside in.
    weighed: [Rect; 2],
    contained: [Rect; 2],
    full: f64,
}

impl Geometry {
    fn new(area: Rect, full: f64) -> Self {
        let column = (area.width() * 0.045).clamp(20.0, 46.0);
        let y = Rangef::new(area.top() + CAPTION, area.bottom() - 2.0);
        let inner = area.shrink2(vec2(LETTERS, 0.0));
        let ribbons = inner.width() * 0.13;
        let at = |x: f32| Rect::from_x_y_ranges(x..=x + column, y);
        Self {
            weighed: [at(inner.left()), at(inner.right() - column)],
            contained: [
                at(inner.left() + column + ribbons),
                at(inner.right() - 2.0 * column - ribbons),
            ],
            full,
        }
    }

    fn y(&self, percent: f64) -> f32 {
        let column = self.weighed[0];
        column.top() + column.height() * (percent / self.full) as f32
    }

    fn block(&self, column: Rect, at: Stretch) -> Rect {
        Rect::from_x_y_ranges(column.x_range(), self.y(at.from)..=self.y(at.to))
    }

    /// All of a band, from stack to stack.
    fn between(&self, band: &Band) -> Rect {
        let x = self.contained[0].left()..=self.contained[1].right();
        let top = self.y(band.left.from.min(band.right.from));
        Rect::from_x_y_ranges(x, top..=self.y(band.left.to.max(band.right.to)))
    }
}

/// Draws the chart, higher than asked where its labels need it.
pub fn twin_chart(ui: &mut Ui, id: Id, sides: [Twin<'_>; 2], size: Vec2) {
    let layouts = sides.map(|s| ChartLayout::new(s.variant, s.composition));
    let full = layouts
        .iter()
        .map(ChartLayout::full_height)
        .fold(100.0, f64::max);
    let bands = bands(&layouts);
    let rows = rows(&bands, size.y);
    let (_, area) = ui.allocate_space(vec2(size.x, size.y.max(needed(&rows))));
    let geometry = Geometry::new(area, full);
    let labels = labels(&rows, &geometry);
    let mut touched = None;
    let mut responses = Vec::new();
    let stop = stop(ui, id, bands.len());
    for (i, (band, label)) in bands.iter().zip(&labels).enumerate() {
        let rect = label.unwrap_or_else(|| geometry.between(band));
        let sense = if i == stop {
            Sense::focusable_noninteractive()
        } else {
            Sense::hover()
        };
        let response = ui.interact(rect, band_id(id, i), sense);
        let name = words_of(band);
        response.widget_info(|| WidgetInfo::labeled(Role::ListItem, true, &name));
        if i == stop {
            let words = "Up and down go through the chart";
            ui.accesskit_node_builder(response.id, |node| node.set_description(words));
        }
        if response.hovered() || response.has_focus() {
            touched = Some(i);
        }
        responses.push(response);
    }
    if ui.is_rect_visible(area) {
        paint(
            ui, &sides, &layouts, &geometry, &bands, &labels, area, touched,
        );
    }
    for (band, response) in bands.iter().zip(responses) {
        if response.has_focus() {
            let ring = Stroke::new(1.5, theme::palette(ui).accent);
            ui.painter()
                .rect_stroke(response.rect, 3.0, ring, StrokeKind::Outside);
        }
        when_looked_at(response, |ui| sums(ui, &sides, &layouts, band));
    }
}

fn band_id(chart: Id, band: usize) -> Id {
    chart.with(("band", band))
}

/// The band that the Tab key stops at: the chart is one stop, and the arrows go up and down in it.
fn stop(ui: &Ui, chart: Id, count: usize) -> usize {
    let kept: usize = ui.data(|d| d.get_temp(chart)).unwrap_or_default();
    let last = count.saturating_sub(1);
    let stop = kept.min(last);
    let at = band_id(chart, stop);
    if !ui.memory(|m| m.has_focus(at)) {
        return stop;
    }
    ui.memory_mut(|m| {
        let filter = EventFilter {
            vertical_arrows: true,
            ..EventFilter::default()
        };
        m.set_focus_lock_filter(at, filter);
    });
    let (up, down, home, end) = ui.input(|i| {
        let pressed = |key| i.key_pressed(key);
        (
            pressed(Key::ArrowUp),
            pressed(Key::ArrowDown),
            pressed(Key::Home),
            pressed(Key::End),
        )
    });
    let next = match (up, down, home, end) {
        (true, ..) => stop.saturating_sub(1),
        (_, true, ..) => (stop + 1).min(last),
        (_, _, true, _) => 0,
        (.., true) => last,
        _ => return stop,
    };
    ui.data_mut(|d| d.insert_temp(chart, next));
    ui.memory_mut(|m| m.request_focus(band_id(chart, next)));
    next
}

/// The words of a band, for assistive programs and the hover.
fn words_of(band: &Band) -> String {
    let name = band.part.full_label();
    if band.differs() {
        format!(
            "{name}: {} to {}, {}",
            Measure::PERCENT_ROUGH.shown(band.left.size()),
            Measure::PERCENT_ROUGH.shown(band.right.size()),
            band.change_shown()
        )
    } else {
        format!(
            "{name}: {} on both sides",
            Measure::PERCENT_ROUGH.shown(band.left.size())
        )
    }
}

/// Every class that either side contains, from the top down.
fn bands(layouts: &[ChartLayout; 2]) -> Vec<Band> {
    let mut at = [0.0, 0.0];
    let mut out = Vec::new();
    for part in Part::all() {
        let mut stretch = |side: usize| {
            let found = layouts[side].parts.iter().find(|b| b.part == part);
            let here = found.map_or(
                Stretch {
                    from: at[side],
                    to: at[side],
                },
                |block| block.at,
            );
            at[side] = here.to;
            (found.is_some(), here)
        };
        let ((in_left, left), (in_right, right)) = (stretch(0), stretch(1));
        if in_left || in_right {
            out.push(Band { part, left, right });
        }
    }
    out
}

/// How much higher than asked the chart may become to tell what is equal, too.
const SLACK: f32 = 1.15;

/// Height in points that a chart with such rows of figures needs.
fn needed(rows: &[bool]) -> f32 {
    let count = rows.iter().filter(|shown| **shown).count() + usize::from(rows.contains(&false));
    CAPTION + LABEL * count as f32 + 2.0 * PLATE + 6.0
}

/// Which bands have a row of figures: all of them, or where there is little height those that
/// differ.
fn rows(bands: &[Band], height: f32) -> Vec<bool> {
    let all = vec![true; bands.len()];
    if needed(&all) <= height * SLACK || !bands.iter().any(Band::differs) {
        return all;
    }
    bands.iter().map(Band::differs).collect()
}

/// Where the words of each band stand that has a row: one below the other in the middle, as a
/// table.
fn labels(rows: &[bool], geometry: &Geometry) -> Vec<Option<Rect>> {
    let x = Rangef::new(
        geometry.contained[0].right() + 12.0,
        geometry.contained[1].left() - 12.0,
    );
    let count = rows.iter().filter(|shown| **shown).count() + usize::from(rows.contains(&false));
    let mut y = geometry.weighed[0].center().y - LABEL * count as f32 / 2.0;
    let mut row = || {
        y += LABEL;
        Rect::from_x_y_ranges(x, y - LABEL..=y)
    };
    rows.iter().map(|shown| shown.then(&mut row)).collect()
}

#[expect(
    clippy::too_many_arguments,
    reason = "everything that was laid out before"
)]
fn paint(
    ui: &Ui,
    sides: &[Twin<'_>; 2],
    layouts: &[ChartLayout; 2],
    geometry: &Geometry,
    bands: &[Band],
    labels: &[Option<Rect>],
    area: Rect,
    touched: Option<usize>,
) {
    let p = theme::palette(ui);
    let painter = ui.painter().with_clip_rect(area.intersect(ui.clip_rect()));
    for (i, band) in bands.iter().enumerate() {
        let colour = band.part.fill(p).colour;
        let strength = match (touched == Some(i), band.differs()) {
            (true, _) => 0.7,
            (false, true) => 0.5,
            (false, false) => 0.16,
        };
        let [a, b] = geometry.contained;
        let ends = [
            (
                a.right(),
                geometry.y(band.left.from),
                geometry.y(band.left.to),
            ),
            (
                b.left(),
                geometry.y(band.right.from),
                geometry.y(band.right.to),
            ),
        ];
        painter.add(Shape::mesh(ribbon(
            ends,
            [colour.gamma_multiply(strength); 2],
        )));
    }
    for (side, layout) in layouts.iter().enumerate() {
        let (outer, inner) = (geometry.weighed[side], geometry.contained[side]);
        let ribbons = if layout.merged.is_empty() {
            &layout.ribbons
        } else {
            &layout.merged
        };
        for r in ribbons {
            let part = &layout.parts[r.part];
            let from = p.phase(layout.tint_of(r)).gamma_multiply(0.4);
            let to = part.part.fill(p).colour.gamma_multiply(0.4);
            let weighed = (geometry.y(r.left.from), geometry.y(r.left.to));
            let contained = (geometry.y(r.right.from), geometry.y(r.right.to));
            let (ends, colours) = if side == 0 {
                (
                    [
                        (outer.right(), weighed.0, weighed.1),
                        (inner.left(), contained.0, contained.1),
                    ],
                    [from, to],
                )
            } else {
                (
                    [
                        (inner.right(), contained.0, contained.1),
                        (outer.left(), weighed.0, weighed.1),
                    ],
                    [to, from],
                )
            };
            painter.add(Shape::mesh(ribbon(ends, colours)));
        }
        let edge = Stroke::new(1.0, p.ground);
        for phase in &layout.phases {
            let rect = at_least(geometry.block(outer, phase.at));
            painter.rect_filled(rect, 0.0, p.phase(phase.tint));
            painter.hline(rect.x_range(), rect.bottom(), edge);
        }
        for part in &layout.parts {
            let rect = at_least(geometry.block(inner, part.at));
            hatch::area(&painter, rect, part.part.fill(p), p, hatch::COARSE);
            painter.hline(rect.x_range(), rect.bottom(), edge);
        }
        for column in [outer, inner] {
            let end = geometry.y(layout.total);
            let all = Rect::from_x_y_ranges(column.x_range(), column.top()..=end);
            painter.rect_stroke(all, 0.0, Stroke::new(1.0, p.faint_ink), StrokeKind::Outside);
        }
        letters(ui, &painter, geometry, layout, side, area);
        caption(ui, &painter, "As weighed", outer.center().x, area);
        caption(ui, &painter, "As contained", inner.center().x, area);
    }
    let middle = f32::midpoint(geometry.contained[0].right(), geometry.contained[1].left());
    let room = geometry.contained[1].left() - geometry.contained[0].right() - 110.0;
    let title = format!("{}  →  {}", sides[0].title, sides[1].title);
    let words = theme::strong(title).small().color(p.ink);
    let rect = Rect::from_center_size(
        pos2(middle, area.top() + CAPTION / 2.0 - 2.0),
        vec2(room.max(60.0), LABEL),
    );
    piece(ui, &painter, rect, words, Align::Center);
    plate(ui, &painter, labels);
    for (band, label) in bands.iter().zip(labels) {
        if let Some(label) = label {
            band_label(ui, &painter, band, *label);
        }
    }
}

/// The ground under the figures, so that no band shines through them, and what is said of the
/// bands without.
fn plate(ui: &Ui, painter: &Painter, labels: &[Option<Rect>]) {
    let p = theme::palette(ui);
    let Some(mut rows) = labels.iter().flatten().copied().reduce(Rect::union) else {
        return;
    };
    let without = labels.iter().filter(|label| label.is_none()).count();
    let said = rows.with_min_y(rows.bottom());
    if without > 0 {
        rows.max.y += LABEL;
    }
    let x = rows.center().x - HALF_PLATE..=rows.center().x + HALF_PLATE;
    let plate = Rect::from_x_y_ranges(x, rows.y_range()).expand2(vec2(0.0, PLATE));
    painter.rect(
        plate,
        4.0,
        p.ground,
        Stroke::new(1.0, p.rule),
        StrokeKind::Inside,
    );
    if without > 0 {
        let said = said.with_max_y(rows.bottom());
        let words = theme::small(ui, format!("{without} more are the same on both sides"));
        piece(ui, painter, said, words, Align::Center);
    }
}

/// "anionic 9.00 → 10.20 % +1.20" in the middle of a band, in columns that all
/// bands share.
fn band_label(ui: &Ui, painter: &Painter, band: &Band, label: Rect) {
    let p = theme::palette(ui);
    let middle = label.center().x;
    let column = |from: f32, to: f32| label.with_min_x(middle + from).with_max_x(middle + to);
    let styled = |text: String| {
        if band.differs() {
            theme::strong(text).small().color(p.ink)
        } else {
            egui::RichText::new(text).small().color(p.faint_ink)
        }
    };
    let put = |from: f32, to: f32, text: String| {
        piece(ui, painter, column(from, to), styled(text), Align::Max);
    };
    put(-146.0, -38.0, band.part.label().to_owned());
    put(28.0, 86.0, Measure::PERCENT_ROUGH.shown(band.right.size()));
    if band.differs() {
        put(
            -32.0,
            12.0,
            Measure::PERCENT_ROUGH.digits_of(band.left.size()),
        );
        put(12.0, 30.0, "→".to_owned());
        put(90.0, 144.0, band.change_shown());
    }
}

/// Letters and sums of the phases, outside.
fn letters(
    ui: &Ui,
    painter: &Painter,
    geometry: &Geometry,
    layout: &ChartLayout,
    side: usize,
    area: Rect,
) {
    let p = theme::palette(ui);
    let wanted: Vec<(f32, f64)> = layout
        .phases
        .iter()
        .map(|phase| (geometry.y(phase.at.middle()), phase.at.size()))
        .collect();
    let column = geometry.weighed[side];
    let places = spread_labels(&wanted, LABEL, column.top(), column.bottom() + 2.0);
    let x = if side == 0 {
        Rangef::new(area.left(), column.left() - 5.0)
    } else {
        Rangef::new(column.right() + 5.0, area.right())
    };
    for (phase, y) in layout.phases.iter().zip(places) {
        let Some(y) = y else { continue };
        let rect = Rect::from_x_y_ranges(x, y - LABEL / 2.0..=y + LABEL / 2.0);
        let text = format!("{} {}", phase.letter, layout.phase_shown(phase));
        let align = if side == 0 { Align::Max } else { Align::Min };
        let words = egui::RichText::new(text).small().color(p.ink);
        piece(ui, painter, rect, words, align);
    }
}

fn caption(ui: &Ui, painter: &Painter, words: &str, x: f32, area: Rect) {
    let p = theme::palette(ui);
    let text = egui::RichText::new(words).small().color(p.faint_ink);
    let galley = galley(ui, text, f32::INFINITY);
    let half = galley.size().x / 2.0;
    let x = x.clamp(area.left() + half, area.right() - half);
    painter.galley(pos2(x - half, area.top()), galley, p.ink);
}

fn galley(ui: &Ui, text: egui::RichText, width: f32) -> std::sync::Arc<egui::Galley> {
    egui::WidgetText::from(text).into_galley(
        ui,
        Some(egui::TextWrapMode::Truncate),
        width,
        egui::TextStyle::Small,
    )
}

fn piece(ui: &Ui, painter: &Painter, rect: Rect, text: egui::RichText, align: Align) {
    let galley = galley(ui, text, rect.width());
    let size = galley.size();
    let x = match align {
        Align::Min => rect.left(),
        Align::Center => rect.center().x - size.x / 2.0,
        Align::Max => rect.right() - size.x,
    };
    let at = pos2(x, rect.center().y - size.y / 2.0);
    painter.galley(at, galley, theme::palette(ui).ink);
}

/// A block that can be seen, however little it is.
fn at_least(rect: Rect) -> Rect {
    if rect.height() >= 1.0 {
        rect
    } else {
        Rect::from_center_size(rect.center(), vec2(rect.width(), 1.0))
    }
}

/// What each side's lines bring to a class.
fn sums(ui: &mut Ui, sides: &[Twin<'_>; 2], layouts: &[ChartLayout; 2], band: &Band) {
    ui.label(theme::strong(words_of(band)));
    for (side, layout) in sides.iter().zip(layouts) {
        let Some(block) = layout.parts.iter().find(|b| b.part == band.part) else {
            continue;
        };
        ui.label(theme::small(ui, side.title));
        lines_of(ui, side, block);
    }
}

fn lines_of(ui: &mut Ui, side: &Twin<'_>, block: &PartBlock) {
    let name = |line: ItemId| {
        side.variant
            .line(line)
            .and_then(|l| side.formula.material(&l.material))
            .map_or("?", |m| &m.name)
    };
    egui::Grid::new(side.title)
        .num_columns(2)
        .spacing([16.0, 2.0])
        .show(ui, |ui| {
            for (line, share) in block.lines.iter().take(12) {
                ui.label(name(*line));
                theme::right_aligned(ui, 64.0, |ui| {
                    ui.label(Measure::PERCENT_ROUGH.with_more_digits(1).shown(*share));
                });
                ui.end_row();
            }
        });
}
