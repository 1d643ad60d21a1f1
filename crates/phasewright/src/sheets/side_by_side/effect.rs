//! What the difference does: every figure beside its twin, findings gained and lost.

use std::sync::Arc;

use eframe::egui::{self, Ui};
use formulation::compare::figures::{self, Certainty, ComparedFigure, Readings};
use formulation::finding::Finding;

use super::Two;
use super::kept_figures::{Asked, KeptFigures};
use crate::theme;
use crate::widgets::level_mark::level_mark;

/// The figures of both sides.
pub fn figures_of(two: &Two<'_>, kept: &mut KeptFigures) -> [Arc<Vec<ComparedFigure>>; 2] {
    let sides = [&two.left, &two.right];
    let listed = figures::listed(sides.iter().filter_map(|s| s.trials).map(|(book, _)| book));
    sides.map(|side| {
        kept.of(&Asked {
            formula: side.formula,
            variant: side.variant,
            evaluation: &side.evaluation,
            stock: (two.stock, two.stock_revision),
            readings: Readings {
                trials: side.trials,
                listed: &listed,
            },
            trials: side.trials_revision,
        })
    })
}

/// Draws the figures and the findings.
pub fn ui(ui: &mut Ui, only_differences: bool, two: &Two<'_>, kept: &mut KeptFigures) {
    ui.label(theme::heading("What the difference does"));
    ui.add_space(theme::TIGHT);
    let [left, right] = figures_of(two, kept);
    let shown: Vec<(&ComparedFigure, &ComparedFigure)> = left
        .iter()
        .zip(right.iter())
        .filter(|(a, b)| !only_differences || a.differs(b))
        // A figure that is nothing on both sides says nothing.
        .filter(|(a, b)| only_differences || !(is_nothing(a) && is_nothing(b)))
        .collect();
    if shown.is_empty() {
        ui.label("No figure differs");
    } else {
        table(ui, &shown, two);
    }
    ui.add_space(theme::GAP);
    let (before, after) = (&two.left.evaluation, &two.right.evaluation);
    let changes = figures::finding_changes(&two.comparison, before, after);
    let right = two.right.title(&two.left);
    let left = two.left.title(&two.right);
    findings(ui, &format!("Findings only in {right}"), &changes.gained);
    findings(ui, &format!("Findings only in {left}"), &changes.lost);
    label_order(ui, two);
}

fn is_nothing(figure: &ComparedFigure) -> bool {
    figure.value == Some(0.0) && figure.range.is_none()
}

fn table(ui: &mut Ui, shown: &[(&ComparedFigure, &ComparedFigure)], two: &Two<'_>) {
    // As many columns of figures as there is room for.
    let width = ui.available_width() - 14.0;
    let columns = if width > 1100.0 { 2 } else { 1 };
    let rows = shown.len().div_ceil(columns);
    ui.horizontal_top(|ui| {
        ui.spacing_mut().item_spacing.x = 32.0;
        for (i, part) in shown.chunks(rows.max(1)).enumerate() {
            ui.push_id(i, |ui| {
                let own = width / columns as f32 - 24.0;
                ui.allocate_ui(egui::vec2(own, 0.0), |ui| {
                    ui.set_min_width(own);
                    grid(ui, part, two, own);
                });
            });
        }
    });
}

/// Width of a column of values and of differences, in points.
const VALUE: f32 = 120.0;
const DIFFERENCE: f32 = 70.0;

fn grid(ui: &mut Ui, part: &[(&ComparedFigure, &ComparedFigure)], two: &Two<'_>, width: f32) {
    let p = theme::palette(ui);
    // What the other columns and the space between them leave.
    let room = (width - 2.0 * VALUE - DIFFERENCE - 36.0).clamp(150.0, 340.0);
    let titles = [two.left.title(&two.right), two.right.title(&two.left)];
    egui::Grid::new("figures")
        .num_columns(4)
        .striped(true)
        .spacing([12.0, 3.0])
        .show(ui, |ui| {
            ui.label("");
            for title in &titles {
                theme::right_aligned(ui, VALUE, |ui| {
                    ui.add(egui::Label::new(theme::strong(title).small()).truncate());
                });
            }
            theme::right_aligned(ui, DIFFERENCE, |ui| {
                ui.label(theme::small(ui, "difference"));
            });
            ui.end_row();
            for (a, b) in part {
                let differs = a.differs(b);
                let ink = if differs { p.ink } else { p.faint_ink };
                let name = egui::RichText::new(b.label).color(ink);
                ui.allocate_ui(egui::vec2(room, 16.0), |ui| {
                    ui.set_min_width(room);
                    ui.add(egui::Label::new(name).truncate())
                        .on_hover_text(remark(b));
                });
                for figure in [a, b] {
                    theme::right_aligned(ui, VALUE, |ui| {
                        let mut words = figure.shown();
                        if figure.ground == Certainty::Measured {
                            words.push_str(" m.");
                        }
                        ui.label(egui::RichText::new(words).color(ink))
                            .on_hover_text(remark(figure));
                    });
                }
                theme::right_aligned(ui, DIFFERENCE, |ui| {
                    if let Some(change) = a.difference_shown(b).filter(|_| differs) {
                        ui.label(theme::strong(change));
                    }
                });
                ui.end_row();
            }
        });
}

/// How sure a figure is, its range and its method.
pub fn remark(figure: &ComparedFigure) -> String {
    let mut words = figure.ground.label().to_owned();
    if let Some((low, high)) = figure.range {
        let digits = figure.digits;
        words = format!("{words}, between {low:.digits$} and {high:.digits$}");
    }
    if !figure.remark.is_empty() {
        words = format!("{words}\n{}", figure.remark);
    }
    words
}

fn findings(ui: &mut Ui, heading: &str, list: &[&Finding]) {
    if list.is_empty() {
        return;
    }
    ui.label(theme::strong(heading));
    ui.add_space(2.0);
    for (i, finding) in list.iter().enumerate() {
        ui.push_id((heading, i), |ui| {
            ui.horizontal_top(|ui| {
                level_mark(ui, finding.level);
                let words = format!("{}: {}", finding.level.label(), finding.message);
                ui.add(egui::Label::new(words).wrap())
                    .on_hover_text(finding.source.to_string());
            });
        });
        ui.add_space(2.0);
    }
    ui.add_space(theme::TIGHT);
}

/// How the order of constituents changes, which is the order on a label.
fn label_order(ui: &mut Ui, two: &Two<'_>) {
    let changes = figures::order_changes(
        &two.left.evaluation.composition,
        &two.right.evaluation.composition,
    );
    if changes.is_empty() {
        return;
    }
    ui.label(theme::strong("Order of ingredients by amount"));
    ui.add_space(2.0);
    for change in changes {
        let place = |place: Option<usize>| {
            place.map_or_else(|| "not listed".to_owned(), |p| format!("place {p}"))
        };
        let words = format!(
            "{}: {} → {}",
            change.inci,
            place(change.left),
            place(change.right)
        );
        ui.label(words);
    }
}
