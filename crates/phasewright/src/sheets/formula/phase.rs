//! A phase: its band, its lines, its steps.

use eframe::egui::{self, Align, Rect, Sense, Stroke, Ui, vec2};
use formulation::amount::measure::sum_shown;
use formulation::amount::{Measure, typed};
use formulation::edit::Edit;
use formulation::finding::StatedField;
use formulation::formula::{ItemId, Phase};
use formulation::material::PhaseKind;
use formulation::quantity::in_grams;

use super::columns::{Columns, cell, text};
use super::{FormulaSheet, answer, item_id, line, steps};
use crate::command::Command;
use crate::state::View;
use crate::theme;
use crate::widgets::entry::Entry;
use crate::widgets::refusal::figure;

/// Height of a band in points.
const BAND: f32 = 32.0;

/// Draws the phase at a place, with so many lines in the phases before it.
pub fn ui(
    ui: &mut Ui,
    view: &View<'_>,
    sheet: &mut FormulaSheet,
    columns: &Columns,
    (place, lines_before): (usize, usize),
    commands: &mut Vec<Command>,
) {
    let Some(phase) = view.variant.phases.get(place) else {
        return;
    };
    let top = ui.cursor().min;
    band(ui, view, sheet, columns, place, commands);
    for (at, line) in phase.lines.iter().enumerate() {
        let at = (at, lines_before + at);
        line::ui(ui, view, sheet, columns, (phase, line), at, commands);
    }
    if phase.lines.is_empty() {
        empty_row(ui, phase, commands);
    }
    steps::ui(ui, view, sheet, phase, commands);
    if sheet.go_to == Some(phase.id) {
        ui.scroll_to_rect(Rect::from_min_max(top, ui.min_rect().max), None);
    }
}

/// A place to drop a line into an empty phase.
fn empty_row(ui: &mut Ui, phase: &Phase, commands: &mut Vec<Command>) {
    let p = theme::palette(ui);
    let (rect, response) = ui.allocate_exact_size(vec2(ui.available_width(), 30.0), Sense::hover());
    ui.painter().rect_filled(rect, 0.0, p.page);
    let words = theme::small(ui, "No lines yet. Add one above, or drag one here.");
    text(ui, rect.shrink2(vec2(24.0, 0.0)), words, Align::Min);
    if response.dnd_hover_payload::<ItemId>().is_some() {
        let edge = Stroke::new(2.0, p.accent);
        ui.painter()
            .rect_stroke(rect, 0.0, edge, egui::StrokeKind::Inside);
    }
    if let Some(dropped) = response.dnd_release_payload::<ItemId>() {
        commands.push(Command::Edit(Edit::MoveLine {
            line: *dropped,
            phase: phase.id,
            at: 0,
        }));
    }
}

fn band(
    ui: &mut Ui,
    view: &View<'_>,
    sheet: &mut FormulaSheet,
    columns: &Columns,
    place: usize,
    commands: &mut Vec<Command>,
) {
    let Some(phase) = view.variant.phases.get(place) else {
        return;
    };
    let p = theme::palette(ui);
    let (rect, response) = ui.allocate_exact_size(vec2(ui.available_width(), BAND), Sense::hover());
    let corners = egui::CornerRadius {
        nw: 6,
        ne: 6,
        sw: 0,
        se: 0,
    };
    ui.painter()
        .rect_filled(rect, corners, p.phase_of(&phase.letter, place));
    if response.dnd_hover_payload::<ItemId>().is_some() {
        let line = Stroke::new(2.0, p.accent);
        ui.painter().hline(rect.x_range(), rect.bottom(), line);
    }
    if let Some(dropped) = response.dnd_release_payload::<ItemId>() {
        commands.push(Command::Edit(Edit::MoveLine {
            line: *dropped,
            phase: phase.id,
            at: 0,
        }));
    }

    let left = egui::Rangef::new(rect.left() + 2.0, columns.slider.max);
    cell(ui, rect, left, |ui| {
        ui.spacing_mut().item_spacing.x = 4.0;
        letter(ui, view, phase, commands);
        kind(ui, phase, commands);
        let rest = ui.available_width();
        purpose(ui, view, phase, rest, commands);
    });
    // A phase is neither held nor the filler; its temperature stands there.
    let right = egui::Rangef::new(columns.hold.min, columns.mark.max);
    cell(ui, rect, right, |ui| {
        ui.spacing_mut().item_spacing.x = 4.0;
        temperature(ui, view, sheet, phase, commands);
    });
    let total = Rect::from_x_y_ranges(columns.percent, rect.y_range());
    text(
        ui,
        total.translate(vec2(-6.0, 0.0)),
        theme::strong(sum_shown(phase.total())),
        Align::Max,
    );
    let mass = view.variant.batch * phase.total().fraction().value();
    text(
        ui,
        Rect::from_x_y_ranges(columns.grams, rect.y_range()),
        egui::RichText::new(format!("{:.1}", in_grams(mass))),
        Align::Max,
    );
    cell(ui, rect, columns.more, |ui| {
        more(ui, view, place, phase, commands);
    });
}

fn letter(ui: &mut Ui, view: &View<'_>, phase: &Phase, commands: &mut Vec<Command>) {
    let name = format!("Letter of phase {}", phase.letter);
    let entry = Entry::new(item_id(view, "letter", phase.id), &phase.letter, name)
        .width(30.0)
        .quiet()
        .font(egui::TextStyle::Heading);
    let entry = figure(ui, entry, |letter| {
        view.tried(Edit::SetPhaseLetter {
            phase: phase.id,
            letter: letter.trim().into(),
        })
    });
    commands.extend(entry.read.map(Command::Edit));
}

fn kind(ui: &mut Ui, phase: &Phase, commands: &mut Vec<Command>) {
    egui::ComboBox::from_id_salt("kind")
        .selected_text(phase.kind.label())
        .width(124.0)
        .show_ui(ui, |ui| {
            for kind in PhaseKind::ALL {
                let row = ui.selectable_label(kind == phase.kind, kind.label());
                if row.clicked() && kind != phase.kind {
                    commands.push(Command::Edit(Edit::SetPhaseKind {
                        phase: phase.id,
                        kind,
                    }));
                }
            }
        })
        .response
        .accessible_name(format!("Kind of phase {}", phase.letter));
}

fn purpose(ui: &mut Ui, view: &View<'_>, phase: &Phase, width: f32, commands: &mut Vec<Command>) {
    let name = format!("Purpose of phase {}", phase.letter);
    let entry = Entry::new(item_id(view, "purpose", phase.id), &phase.purpose, name)
        .width((width - 12.0).max(40.0))
        .hint("purpose")
        .words()
        .quiet()
        .show(ui);
    if !phase.purpose.is_empty() {
        entry.response.on_hover_text(phase.purpose.as_ref());
    }
    if let Some(purpose) = entry.done {
        commands.push(Command::Edit(Edit::SetPhasePurpose {
            phase: phase.id,
            purpose: purpose.trim().into(),
        }));
    }
}

fn temperature(
    ui: &mut Ui,
    view: &View<'_>,
    sheet: &mut FormulaSheet,
    phase: &Phase,
    commands: &mut Vec<Command>,
) {
    let shown = phase
        .temperature
        .map_or_else(String::new, typed::temperature_field);
    let name = format!("Temperature of phase {} in °C", phase.letter);
    let entry = Entry::new(item_id(view, "temperature", phase.id), &shown, name)
        .width(34.0)
        .hint("–")
        .right()
        .quiet();
    let entry = figure(ui, entry, steps::read_temperature);
    answer(
        &mut sheet.field,
        StatedField::Temperature(phase.id),
        &entry.response,
    );
    ui.label("°C");
    if let Some(temperature) = entry.read {
        commands.push(Command::Edit(Edit::SetPhaseTemperature {
            phase: phase.id,
            temperature,
        }));
    }
}

fn more(ui: &mut Ui, view: &View<'_>, place: usize, phase: &Phase, commands: &mut Vec<Command>) {
    let name = format!("More about phase {}", phase.letter);
    line::more_menu(ui, &name, |ui| {
        ui.set_min_width(210.0);
        let mut row = |ui: &mut Ui, words: &str, enabled: bool, edit: Edit| {
            if ui.add_enabled(enabled, egui::Button::new(words)).clicked() {
                commands.push(Command::Edit(edit));
                ui.close();
            }
        };
        let last = view.variant.phases.len().saturating_sub(1);
        let to = |at: usize| Edit::MovePhase {
            phase: phase.id,
            at,
        };
        row(ui, "Move up", place > 0, to(place.saturating_sub(1)));
        row(ui, "Move down", place < last, to(place + 1));
        let new = Edit::AddPhase {
            at: place + 1,
            kind: PhaseKind::Other,
            purpose: "".into(),
        };
        row(ui, "Add a phase below", true, new);
        row(
            ui,
            "Remove with its lines",
            last > 0,
            Edit::RemovePhase(phase.id),
        );
        ui.separator();
        ui.horizontal(|ui| {
            ui.label("Multiply by");
            let id = item_id(view, "factor", phase.id);
            let entry = Entry::new(id, "1", "Factor for the free lines of the phase")
                .width(56.0)
                .right();
            let entry = figure(ui, entry, |text| {
                let factor = typed::value(text, &Measure::FACTOR).map_err(|e| e.to_string())?;
                let scaled = view.tried(Edit::ScalePhase {
                    phase: phase.id,
                    factor,
                });
                scaled.map_err(|e| e.to_string())
            });
            entry
                .response
                .on_hover_text("Multiplies the lines that are neither held nor the filler");
            if let Some(edit) = entry.read {
                commands.push(Command::Edit(edit));
                ui.close();
            }
        });
    });
}
