//! The chart as a picture file: SVG with text and lines, PNG with pixels.

use std::collections::BTreeSet;
use std::fmt::Write as _;

use eframe::egui::{self, Align2, Color32, Id, Rect, Theme, Vec2, pos2, vec2};
use formulation::composition::Composition;
use formulation::formula::{Formula, Variant};
use formulation::harmless::markup;
use picture::EncodeError;

use formulation::amount::measure::share_shown;

use super::{ChartLayout, CompositionChart, Geometry, Labels, at_least, export_palette};
use crate::theme::{self, Hatch, Palette};
use crate::widgets::hatch;

/// Size of an exported chart in points.
const SIZE: Vec2 = vec2(640.0, 560.0);
/// Margin around it in points.
const MARGIN: f32 = 20.0;
/// Height of the title in points.
const TITLE: f32 = 28.0;

/// The chart as PNG, two pixels a point, on paper.
pub fn to_png(
    formula: &Formula,
    variant: &Variant,
    composition: &Composition,
) -> Result<Vec<u8>, EncodeError> {
    let layout = ChartLayout::new(variant, composition);
    let chosen = BTreeSet::new();
    let setup = |context: &egui::Context| {
        theme::install(context);
        context.set_theme(Theme::Light);
    };
    picture::draw(SIZE, 2.0, setup, |ui| {
        let p = export_palette();
        ui.painter().rect_filled(ui.max_rect(), 0.0, p.page);
        let area = ui.max_rect().shrink(MARGIN);
        let mut ui = ui.new_child(egui::UiBuilder::new().max_rect(area));
        ui.add_sized(
            [area.width(), TITLE],
            egui::Label::new(theme::heading(title(formula, variant))).truncate(),
        );
        let size = vec2(area.width(), area.height() - TITLE - theme::TIGHT);
        CompositionChart {
            id: Id::unique("exported chart"),
            formula,
            variant,
            layout: &layout,
            chosen: &chosen,
            switch: false,
        }
        .show(&mut ui, size);
    })
    .to_png()
}

fn title(formula: &Formula, variant: &Variant) -> String {
    format!("{}, {}", formula.name, variant.name)
}

/// The chart as SVG, on paper; text stays text.
pub fn to_svg(formula: &Formula, variant: &Variant, composition: &Composition) -> String {
    let p = export_palette();
    let chart = ChartLayout::new(variant, composition);
    let page = Rect::from_min_size(pos2(0.0, 0.0), SIZE);
    let area = page
        .shrink(MARGIN)
        .with_min_y(MARGIN + TITLE + theme::TIGHT);
    let geometry = Geometry::new(area, &chart);
    let labels = Labels::new(&chart, &geometry, area);
    let mut svg = Svg::new(SIZE);
    svg.rect(page, p.page, None);
    let middle = pos2(page.center().x, MARGIN + TITLE / 2.0);
    svg.text(
        middle,
        &title(formula, variant),
        Align2::CENTER_CENTER,
        16.0,
        true,
        p.ink,
    );
    for (column, words) in [
        (geometry.left, "As weighed"),
        (geometry.right, "As contained"),
    ] {
        let at = pos2(column.center().x, area.top() + 7.0);
        svg.text(at, words, Align2::CENTER_CENTER, 11.5, true, p.ink);
    }

    svg_ribbons(&mut svg, p, &chart, &geometry);
    svg_bars(&mut svg, p, &chart, &geometry);
    svg_phase_labels(&mut svg, p, &chart, &geometry, &labels);
    svg_strip(&mut svg, p, &chart, &geometry);
    svg_part_labels(&mut svg, p, &chart, &geometry, &labels);
    svg.finish()
}

/// What each phase or line brings to each part.
fn svg_ribbons(svg: &mut Svg, p: &Palette, chart: &ChartLayout, geometry: &Geometry) {
    let ribbons = if chart.merged.is_empty() {
        &chart.ribbons
    } else {
        &chart.merged
    };
    for r in ribbons {
        let ends = |at: super::Stretch| (geometry.y(at.from), geometry.y(at.to));
        let ((a0, a1), (b0, b1)) = (ends(r.left), ends(r.right));
        let (x0, x1) = (geometry.left.right(), geometry.right.left());
        let gradient = svg.gradient(
            p.phase(chart.tint_of(r)),
            chart.parts[r.part].part.fill(p).colour,
            x0,
            x1,
        );
        let third = (x1 - x0) / 3.0;
        let (u, v) = (x0 + third, x1 - third);
        svg.line(&format!(
            r#"<path d="M{x0:.2} {a0:.2}C{u:.2} {a0:.2} {v:.2} {b0:.2} {x1:.2} {b0:.2}L{x1:.2} {b1:.2}C{v:.2} {b1:.2} {u:.2} {a1:.2} {x0:.2} {a1:.2}Z" fill="url(#{gradient})" fill-opacity="0.42"/>"#
        ));
    }
}

/// The two columns.
fn svg_bars(svg: &mut Svg, p: &Palette, chart: &ChartLayout, geometry: &Geometry) {
    for phase in &chart.phases {
        let rect = at_least(geometry.block(geometry.left, phase.at));
        svg.rect(rect, p.phase(phase.tint), Some(p.page));
    }
    for part in &chart.parts {
        let rect = at_least(geometry.block(geometry.right, part.at));
        let fill = part.part.fill(p);
        svg.rect(rect, fill.colour, Some(p.page));
        svg.pattern(rect, fill.hatch, p.hatch_on(fill.colour));
    }
}

/// Letter and share of each phase, at the left.
fn svg_phase_labels(
    svg: &mut Svg,
    p: &Palette,
    chart: &ChartLayout,
    geometry: &Geometry,
    labels: &Labels,
) {
    for (phase, label) in chart.phases.iter().zip(&labels.phases) {
        let Some(label) = label else { continue };
        let block = pos2(geometry.left.left() - 1.0, geometry.y(phase.at.middle()));
        svg.leader(
            block,
            pos2(label.right() + 2.0, label.center().y),
            p.faint_ink,
        );
        svg.rect(
            label.with_max_x(label.left() + 14.0),
            p.phase(phase.tint),
            None,
        );
        svg.text(
            label.left_center() + vec2(3.0, 0.0),
            &phase.letter,
            Align2::LEFT_CENTER,
            11.5,
            true,
            p.ink,
        );
        let figure = chart.phase_shown(phase);
        svg.text(
            label.right_center(),
            &figure,
            Align2::RIGHT_CENTER,
            11.5,
            false,
            p.ink,
        );
    }
}

/// Small parts once more, at a scale of their own.
fn svg_strip(svg: &mut Svg, p: &Palette, chart: &ChartLayout, geometry: &Geometry) {
    if let Some(strip) = &geometry.strip {
        let caption = strip.bars.left_top() + vec2(0.0, super::LABEL / 2.0);
        let words = strip.caption();
        svg.text(
            caption,
            &words,
            Align2::LEFT_CENTER,
            11.5,
            false,
            p.faint_ink,
        );
        for (row, &part) in strip.rows.iter().enumerate() {
            let Some(part) = chart.parts.get(part) else {
                continue;
            };
            let track = strip.row(row).shrink2(vec2(0.0, 2.0));
            svg.rect(track, p.panel, None);
            let bar = strip.bar(row, part.at.size());
            let fill = part.part.fill(p);
            svg.rect(bar, fill.colour, None);
            svg.pattern(bar, fill.hatch, p.hatch_on(fill.colour));
        }
    }
}

/// Name and share of each part, at the right.
fn svg_part_labels(
    svg: &mut Svg,
    p: &Palette,
    chart: &ChartLayout,
    geometry: &Geometry,
    labels: &Labels,
) {
    for (i, (part, label)) in chart.parts.iter().zip(&labels.parts).enumerate() {
        let Some(label) = label else { continue };
        if !geometry.strip.as_ref().is_some_and(|s| s.rows.contains(&i)) {
            let block = pos2(geometry.right.right() + 1.0, geometry.y(part.at.middle()));
            let end = pos2(label.left() - 2.0, label.center().y);
            svg.leader(block, end, p.faint_ink);
        }
        let (mark, room) = super::with_swatch(*label);
        let fill = part.part.fill(p);
        svg.rect(mark, fill.colour, Some(p.faint_ink));
        svg.pattern(mark, fill.hatch, p.hatch_on(fill.colour));
        svg.text(
            room.left_center(),
            part.part.label(),
            Align2::LEFT_CENTER,
            11.5,
            false,
            p.ink,
        );
        let figure = format!("{} %", share_shown(part.at.size()));
        svg.text(
            room.right_center(),
            &figure,
            Align2::RIGHT_CENTER,
            11.5,
            false,
            p.ink,
        );
    }
}

/// A small SVG writer.
struct Svg {
    body: String,
    definitions: String,
    gradients: Vec<(Color32, Color32)>,
    size: Vec2,
}

impl Svg {
    fn new(size: Vec2) -> Self {
        Self {
            body: String::new(),
            definitions: String::new(),
            gradients: Vec::new(),
            size,
        }
    }

    fn line(&mut self, element: &str) {
        self.body.push_str(element);
        self.body.push('\n');
    }

    fn rect(&mut self, rect: Rect, fill: Color32, edge: Option<Color32>) {
        let edge = edge.map_or_else(String::new, |c| {
            format!(r#" stroke="{}" stroke-width="0.5""#, colour(c))
        });
        self.line(&format!(
            r#"<rect x="{:.2}" y="{:.2}" width="{:.2}" height="{:.2}" fill="{}"{edge}/>"#,
            rect.left(),
            rect.top(),
            rect.width(),
            rect.height(),
            colour(fill)
        ));
    }

    fn pattern(&mut self, rect: Rect, pattern: Hatch, ink: Color32) {
        let [r, g, b, a] = ink.to_srgba_unmultiplied();
        let paint = format!("rgb({r},{g},{b})");
        let opacity = f32::from(a) / 255.0;
        for [from, to] in hatch::segments(rect, pattern, 6.0) {
            self.line(&format!(
                r#"<line x1="{:.2}" y1="{:.2}" x2="{:.2}" y2="{:.2}" stroke="{paint}" stroke-opacity="{opacity:.2}" stroke-width="1.2"/>"#,
                from.x, from.y, to.x, to.y
            ));
        }
        for dot in hatch::dots(rect, pattern, 6.0) {
            self.line(&format!(
                r#"<circle cx="{:.2}" cy="{:.2}" r="1.2" fill="{paint}" fill-opacity="{opacity:.2}"/>"#,
                dot.x, dot.y
            ));
        }
    }

    fn leader(&mut self, from: egui::Pos2, to: egui::Pos2, ink: Color32) {
        self.line(&format!(
            r#"<line x1="{:.2}" y1="{:.2}" x2="{:.2}" y2="{:.2}" stroke="{}" stroke-width="0.8"/>"#,
            from.x,
            from.y,
            to.x,
            to.y,
            colour(ink)
        ));
    }

    /// The name of a level gradient between two colours.
    fn gradient(&mut self, from: Color32, to: Color32, x0: f32, x1: f32) -> String {
        let known = self.gradients.iter().position(|&g| g == (from, to));
        let number = known.unwrap_or_else(|| {
            let number = self.gradients.len();
            self.gradients.push((from, to));
            // Writing to a String cannot fail.
            let _ = writeln!(
                self.definitions,
                r#"<linearGradient id="g{number}" gradientUnits="userSpaceOnUse" x1="{x0:.2}" x2="{x1:.2}" y1="0" y2="0"><stop offset="0" stop-color="{}"/><stop offset="1" stop-color="{}"/></linearGradient>"#,
                colour(from),
                colour(to)
            );
            number
        });
        format!("g{number}")
    }

    fn text(
        &mut self,
        at: egui::Pos2,
        words: &str,
        align: Align2,
        size: f32,
        bold: bool,
        ink: Color32,
    ) {
        let anchor = match align.x() {
            egui::Align::Min => "start",
            egui::Align::Center => "middle",
            egui::Align::Max => "end",
        };
        let weight = if bold { r#" font-weight="bold""# } else { "" };
        self.line(&format!(
            r#"<text x="{:.2}" y="{:.2}" text-anchor="{anchor}" dominant-baseline="central" font-size="{size}"{weight} fill="{}">{}</text>"#,
            at.x,
            at.y,
            colour(ink),
            markup(words)
        ));
    }

    fn finish(self) -> String {
        let Vec2 {
            x: width,
            y: height,
        } = self.size;
        format!(
            "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{width}\" height=\"{height}\" viewBox=\"0 0 {width} {height}\" font-family=\"Noto Sans, sans-serif\">\n<defs>\n{}</defs>\n{}</svg>\n",
            self.definitions, self.body
        )
    }
}

fn colour(c: Color32) -> String {
    let [r, g, b, _] = c.to_array();
    format!("#{r:02x}{g:02x}{b:02x}")
}

#[cfg(test)]
mod tests {
    use super::*;
    use formulation::evaluation::{Context, evaluate};
    use formulation::formula::Date;

    #[test]
    fn svg_is_well_formed_and_names_every_part() {
        let mut formula = crate::examples::FIRST.read().unwrap().as_ref().clone();
        formula.name = "Oat <&> juniper".into();
        let context = Context::new(Date::constant(2026, 3, 2));
        let e = evaluate(&formula, formula.active(), &context);
        let svg = to_svg(&formula, formula.active(), &e.composition);
        assert!(svg.starts_with("<svg ") && svg.ends_with("</svg>\n"));
        assert!(svg.contains("Oat &lt;&amp;&gt; juniper"));
        for words in ["As weighed", "As contained", "water added", "humectant"] {
            assert!(svg.contains(words), "{words}");
        }
        assert_eq!(svg.matches("<text").count(), svg.matches("</text>").count());
        let png = to_png(&formula, formula.active(), &e.composition).unwrap();
        assert_eq!(&png[1..4], b"PNG");
    }
}
