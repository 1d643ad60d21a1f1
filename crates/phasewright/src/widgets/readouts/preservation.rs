//! The panel of preservation: each acid against pH, what the oil takes, coverage,
//! support and weakeners.

use eframe::egui::{self, Ui};
use egui_plot::{Legend, Line, Span, VLine};
use formulation::chemistry::preservation::{self, AcidState};
use formulation::finding::Level;

use super::parts;
use crate::state::View;
use crate::theme;
use crate::widgets::level_mark::level_mark;

/// pH over which the curves are drawn.
const FROM: f64 = 2.5;
const TO: f64 = 8.5;

pub(super) fn ui(ui: &mut Ui, view: &View<'_>) {
    let estimates = &view.evaluation.estimates;
    let system = &estimates.preservation;
    ui.horizontal_top(|ui| {
        level_mark(ui, Level::Note);
        ui.add(egui::Label::new(preservation::CAUTION).wrap());
    });
    if system.acids.is_empty() {
        ui.label("No organic acid with known constants in the mix");
    } else {
        curves(
            ui,
            &system.acids,
            estimates.ph.ionic_strength.unwrap_or(0.0),
        );
        for state in &system.acids {
            acid(ui, state);
        }
    }
    for state in &system.neutrals {
        ui.label(theme::strong(state.inci.to_string()));
        ui.label(format!(
            "{:.3} % of the formula; {}",
            state.total_percent,
            state.oil.words()
        ));
    }
    if !system.coverage.is_empty() {
        ui.add_space(theme::TIGHT);
        ui.label(theme::strong("Coverage at this dose and pH"));
        egui::Grid::new("coverage").num_columns(3).show(ui, |ui| {
            for group in &system.coverage {
                ui.label(group.group);
                ui.label(group.coverage.label());
                let by: Vec<&str> = group.by.iter().map(AsRef::as_ref).collect();
                ui.add(egui::Label::new(by.join(", ")).wrap());
                ui.end_row();
            }
        });
    }
    ui.add_space(theme::TIGHT);
    if system.chelators.is_empty() {
        ui.label("No chelator supports the system");
    } else {
        let names: Vec<&str> = system.chelators.iter().map(AsRef::as_ref).collect();
        ui.label(format!("Chelator: {}", names.join(", ")));
    }
    for weakener in &system.weakeners {
        ui.horizontal_top(|ui| {
            level_mark(ui, Level::Caution);
            ui.add(egui::Label::new(weakener).wrap());
        });
    }
    if !system.unplaced.is_empty() {
        let names: Vec<&str> = system.unplaced.iter().map(AsRef::as_ref).collect();
        let words = format!("{}: {}", preservation::UNPLACED, names.join(", "));
        ui.add(egui::Label::new(words).wrap());
    }
    parts::unknown(ui, &system.unknown);
    ui.separator();
    parts::grounds(
        ui,
        preservation::METHOD,
        "acids in water; where no partition is published for an oil or micelle it is taken from that of octanol, right within a factor of 2 to 10, which the range holds",
        preservation::SOURCE,
    );
}

fn curves(ui: &mut Ui, acids: &[AcidState], ionic_strength: f64) {
    let p = theme::palette(ui);
    let shades = theme::curves(ui);
    let curves: Vec<_> = acids
        .iter()
        .map(|a| {
            let curve = preservation::curve(a.acid, ionic_strength, FROM, TO, 60);
            (a.acid.inci, curve)
        })
        .collect();
    let window = acids
        .iter()
        .map(|a| a.acid.window)
        .reduce(|(a, b), (c, d)| (a.max(c), b.min(d)));
    let ph = acids.first().map(|a| a.at.ph);
    let words = match window.filter(|(low, high)| low < high) {
        Some((low, high)) => format!(
            "Band: pH {low} to {high}, where all of them are used by common practice. Upright line: the pH they are reckoned at."
        ),
        None => {
            "There is no pH at which all of them work. Upright line: the pH they are reckoned at."
                .to_owned()
        }
    };
    parts::plot(ui, "undissociated share", "pH", "%")
        .include_y(0.0)
        .include_y(100.0)
        .include_x(FROM)
        .include_x(TO)
        .legend(Legend::default())
        .show(ui, |plot| {
            if let Some((low, high)) = window.filter(|(low, high)| low < high) {
                plot.span(
                    Span::new("", low.max(FROM)..=high.min(TO)).fill(p.usual.gamma_multiply(0.35)),
                );
            }
            for ((name, curve), shade) in curves.into_iter().zip(shades.iter().cycle()) {
                let percent: Vec<[f64; 2]> =
                    curve.into_iter().map(|[x, y]| [x, 100.0 * y]).collect();
                plot.line(
                    Line::new(name, percent)
                        .color(shade.colour)
                        .style(shade.style)
                        .width(2.0),
                );
            }
            if let Some(ph) = ph {
                plot.vline(VLine::new("pH reckoned at", ph).color(p.ink).width(1.5));
            }
        });
    ui.add(egui::Label::new(theme::small(ui, words)).wrap());
}

fn acid(ui: &mut Ui, state: &AcidState) {
    ui.add_space(theme::TIGHT);
    ui.label(theme::strong(state.acid.inci));
    let from: Vec<&str> = state.from.iter().map(AsRef::as_ref).collect();
    ui.add(
        egui::Label::new(format!(
            "{:.3} % reckoned as the acid, from {}",
            state.total_percent,
            from.join(", ")
        ))
        .wrap(),
    );
    ui.add(
        egui::Label::new(format!(
            "At {} {} of the formula is undissociated (at least {} % by common practice)",
            state.at.words(),
            state.effective_words(),
            state.acid.least_percent
        ))
        .wrap(),
    );
    if let Some(oil) = &state.oil {
        ui.add(egui::Label::new(oil.words()).wrap());
    }
    let protolyte = state.acid.family.protolyte();
    ui.add(egui::Label::new(theme::small(ui, format!("pKa: {}", protolyte.source))).wrap());
}
