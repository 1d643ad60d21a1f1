//! Curves through readings, with their bands and residuals.

use eframe::egui::Ui;
use egui_plot::{HLine, Line, MarkerShape, Plot, Points};
use formulation::finding::Level;
use formulation::trial::charts::{Chart, CurvePoint, Dot, charts};
use formulation::trial::fit::Interval;
use formulation::trial::fit::drift::TrendLimit;

use crate::state::{DocumentId, View};
use crate::theme;
use crate::widgets::area::area;
use crate::widgets::round_axes::round_axes;

/// What the page keeps between frames.
#[derive(Default)]
pub struct CurvesPage {
    /// Of which state of the trials.
    of: Option<(DocumentId, u64)>,
    charts: Vec<Chart>,
}

/// Draws the page.
pub fn ui(ui: &mut Ui, view: &View<'_>, page: &mut CurvesPage) {
    let trials = view.state.trials(view.document.id);
    let now = (view.document.id, trials.revision());
    if page.of != Some(now) {
        page.charts = charts(trials.book());
        page.of = Some(now);
    }
    if page.charts.is_empty() {
        ui.label("A curve needs readings at three places or more: steps of one material added to a beaker, several speeds, temperatures or times, or the samples of a stability plan.");
        return;
    }
    ui.label(theme::small(
        ui,
        "Line: the curve that fits best. Dark band: where the curve itself lies, 95 times of 100. Light band: where a new reading lies. Crosses: set aside, not counted. Dashed: your limit.",
    ));
    for (i, chart) in page.charts.iter().enumerate() {
        ui.push_id(i, |ui| chart_card(ui, chart));
    }
}

fn chart_card(ui: &mut Ui, chart: &Chart) {
    ui.add_space(theme::TIGHT);
    ui.label(theme::strong(&chart.title));
    let width = (ui.available_width() - 20.0).min(1000.0);
    ui.horizontal(|ui| {
        let unit = chart.quantity.unit();
        let up = if unit.is_empty() {
            chart.quantity.label().to_owned()
        } else {
            format!("{}, {unit}", chart.quantity.label())
        };
        picture(ui, chart, width * 0.62, &up);
        if !chart.residuals.is_empty() {
            residuals(ui, chart, width * 0.36);
        }
    });
    for words in &chart.words {
        ui.label(words);
    }
}

fn picture(ui: &mut Ui, chart: &Chart, width: f32, up: &str) {
    let p = theme::palette(ui);
    let ends = |of: fn(&CurvePoint) -> Option<Interval>| -> Vec<(f64, Interval)> {
        chart
            .curve
            .iter()
            .filter_map(|s| Some((s.x, of(s)?)))
            .collect()
    };
    let (band, new) = (ends(|s| s.band), ends(|s| s.new));
    let line: Vec<[f64; 2]> = chart.curve.iter().map(|s| [s.x, s.value]).collect();
    let dots = |set_aside: bool| -> Vec<[f64; 2]> {
        let those = chart.dots.iter().filter(|d| d.set_aside == set_aside);
        those.map(|d: &Dot| [d.x, d.y]).collect()
    };
    let plot = round_axes(Plot::new("chart"))
        .grid_color(p.rule)
        .width(width)
        .height(240.0)
        .allow_drag(false)
        .allow_zoom(false)
        .allow_scroll(false)
        .x_axis_label(chart.x.clone())
        .y_axis_label(up.to_owned());
    let response = plot.show(ui, |plot| {
        plot.add(area("new reading", &new, p.accent.gamma_multiply(0.12)));
        plot.add(area("mean", &band, p.accent.gamma_multiply(0.28)));
        if !line.is_empty() {
            plot.line(Line::new("fit", line).color(p.accent).width(2.0));
        }
        let (low, high) = match chart.limit {
            Some(TrendLimit::Lower(l)) => (Some(l), None),
            Some(TrendLimit::Upper(h)) => (None, Some(h)),
            Some(TrendLimit::Both(l, h)) => (Some(l), Some(h)),
            None => (None, None),
        };
        for limit in [low, high].into_iter().flatten() {
            plot.hline(
                HLine::new("limit", limit)
                    .color(p.level(Level::Caution))
                    .style(egui_plot::LineStyle::Dashed { length: 8.0 }),
            );
        }
        plot.points(
            Points::new("read", dots(false))
                .color(p.ink)
                .radius(3.5)
                .shape(MarkerShape::Circle),
        );
        plot.points(
            Points::new("set aside", dots(true))
                .color(p.level(Level::Caution))
                .radius(5.0)
                .shape(MarkerShape::Cross),
        );
    });
    response
        .response
        .accessible_name(format!("Chart: {}", chart.title));
}

fn residuals(ui: &mut Ui, chart: &Chart, width: f32) {
    let p = theme::palette(ui);
    let points: Vec<[f64; 2]> = chart.residuals.iter().map(|(x, r)| [*x, *r]).collect();
    let up = if chart.model == Some("drift") {
        "off the curve"
    } else {
        "off the curve, %"
    };
    let response = round_axes(Plot::new("residuals"))
        .grid_color(p.rule)
        .width(width)
        .height(240.0)
        .allow_drag(false)
        .allow_zoom(false)
        .allow_scroll(false)
        .x_axis_label(chart.x.clone())
        .y_axis_label(up)
        .show(ui, |plot| {
            plot.hline(HLine::new("", 0.0).color(p.faint_ink));
            plot.points(Points::new("residuals", points).color(p.ink).radius(3.0));
        });
    response
        .response
        .accessible_name(format!("How far off the curve: {}", chart.title));
}
