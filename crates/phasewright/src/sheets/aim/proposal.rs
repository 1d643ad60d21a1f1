//! A proposal beside the present formula, with the differences.

use eframe::egui::{self, Grid, Ui};
use formulation::amount::measure::signed;
use formulation::finding::Level;
use formulation::quantity::Percent;
use formulation::solve::aim::{Proposal, Reached};

use super::{cell, figure, heading, marked, wrapped_cell};
use crate::command::Command;
use crate::theme;
use crate::widgets::in_columns::in_columns;
use crate::widgets::level_mark::level_mark;
use crate::widgets::read_out::read_out;

/// Width from which the lines and what follows from them stand beside each other, in points.
const LINES_AND_MORE: f32 = 1100.0;
/// Width of the bar of a change, in points.
const BAR: f32 = 70.0;

/// Draws a proposal; `id` tells it apart from others on the sheet. `eased` says that a
/// demand was let go on purpose.
pub fn ui(ui: &mut Ui, id: &str, proposal: &Proposal, eased: bool, commands: &mut Vec<Command>) {
    let changed = proposal.lines.iter().any(|l| l.before != l.after);
    ui.horizontal_wrapped(|ui| {
        ui.add_enabled_ui(changed, |ui| {
            if theme::main_button(ui, "Take over")
                .on_hover_text(
                    "Puts these percentages into the formula as one step that can be undone",
                )
                .clicked()
            {
                commands.push(Command::Edit(proposal.edit()));
            }
        });
        let verdict = if !changed {
            "The present formula meets every target; nothing changes.".into()
        } else if eased && proposal.missed() <= 1 {
            "All other demands are kept.".into()
        } else if eased {
            "The other demands are kept as far as the steps allow; see below.".into()
        } else {
            egui::WidgetText::from(proposal.verdict())
        };
        read_out(&ui.label(verdict));
    });
    ui.add_space(theme::TIGHT);
    in_columns(
        ui,
        LINES_AND_MORE,
        |ui| lines(ui, id, proposal),
        |ui| about(ui, id, proposal),
    );
    ui.add_space(theme::TIGHT);
    ui.add(egui::Label::new(theme::small(ui, formulation::file::aim_report::AIM_NOTICE)).wrap());
}

/// What becomes of the targets, and what else there is to know.
fn about(ui: &mut Ui, id: &str, proposal: &Proposal) {
    if !proposal.targets.is_empty() {
        heading(ui, "Targets");
        let width = (ui.available_width() - 250.0).clamp(110.0, 300.0);
        Grid::new((id, "targets"))
            .num_columns(3)
            .striped(true)
            .show(ui, |ui| {
                ui.label(theme::small(ui, "target"));
                ui.label(theme::small(ui, "present"));
                ui.label(theme::small(ui, "proposed"));
                ui.end_row();
                for target in &proposal.targets {
                    reached(ui, width, target);
                    ui.end_row();
                }
            });
    }
    for (words, by) in &proposal.gave_way {
        marked(ui, Level::Caution, format!("Gave way by {by:.4}: {words}"));
    }
    for limit in proposal.limits.iter().filter(|l| l.off) {
        let (level, end) = if limit.exceeded {
            (Level::Breach, ", and exceeded")
        } else {
            (Level::Caution, "")
        };
        marked(ui, level, format!("Switched off{end}: {}", limit.words));
    }
    let breaches: Vec<_> = proposal
        .evaluation
        .findings
        .iter()
        .filter(|f| f.counts() && f.level == Level::Breach)
        .collect();
    for finding in breaches {
        marked(ui, Level::Breach, finding.message.clone());
    }
    let arisen = proposal.arisen.iter().filter(|f| f.counts());
    for finding in arisen.filter(|f| f.level == Level::Caution) {
        marked(ui, Level::Caution, format!("New: {}", finding.message));
    }
    for note in &proposal.notes {
        marked(ui, Level::Note, note.clone());
    }
}

fn reached(ui: &mut Ui, width: f32, target: &Reached) {
    let value =
        |v: Option<f64>| v.map_or_else(|| "not known".to_owned(), |v| target.figure.write(v));
    wrapped_cell(ui, width, target.words.as_str());
    ui.label(value(target.before));
    ui.horizontal_wrapped(|ui| {
        ui.label(theme::strong(value(target.after)));
        if target.gave_way.is_some() || target.holds_on_estimate() {
            level_mark(ui, Level::Caution);
        }
        let remarks = target.remarks();
        if !remarks.is_empty() {
            ui.label(theme::small(ui, remarks.join("; ")));
        }
    });
}

fn lines(ui: &mut Ui, id: &str, proposal: &Proposal) {
    let p = theme::palette(ui);
    let width = (ui.available_width() - 3.0 * 74.0 - BAR).clamp(110.0, 420.0);
    let digits = proposal.digits();
    let percent = |value: Percent| format!("{value:.digits$}");
    let most = proposal
        .lines
        .iter()
        .map(|l| (l.after - l.before).abs())
        .max()
        .unwrap_or(Percent::ZERO)
        .as_percent()
        .max(1e-9);
    Grid::new((id, "lines"))
        .num_columns(5)
        .striped(true)
        .min_col_width(60.0)
        .show(ui, |ui| {
            ui.label(theme::small(ui, "line"));
            for head in ["present %", "proposed %", "change"] {
                figure(ui, theme::small(ui, head));
            }
            ui.end_row();
            for line in &proposal.lines {
                let change = line.after - line.before;
                let name = if line.added {
                    format!("{} (added)", line.name)
                } else if line.after == Percent::ZERO && line.before != Percent::ZERO {
                    format!("{} (taken out)", line.name)
                } else {
                    line.name.clone()
                };
                cell(ui, width, name.as_str()).on_hover_text(&name);
                figure(ui, percent(line.before));
                if change == Percent::ZERO {
                    figure(ui, percent(line.after));
                    figure(ui, "");
                } else {
                    figure(ui, theme::strong(percent(line.after)));
                    figure(ui, signed(change.as_percent(), digits));
                }
                let (rect, _) = ui.allocate_exact_size(egui::vec2(BAR, 12.0), egui::Sense::hover());
                let middle = rect.center();
                let reach = (change.as_percent() / most) as f32 * BAR / 2.0;
                let bar = egui::Rect::from_two_pos(
                    middle - egui::vec2(0.0, 4.0),
                    middle + egui::vec2(reach, 4.0),
                );
                ui.painter().rect_filled(bar, 1.0, p.accent);
                ui.painter()
                    .vline(middle.x, rect.y_range(), egui::Stroke::new(1.0, p.rule));
                ui.end_row();
            }
            ui.label(theme::small(ui, "total"));
            ui.label("");
            figure(ui, percent(proposal.variant.total()));
            ui.end_row();
        });
}
