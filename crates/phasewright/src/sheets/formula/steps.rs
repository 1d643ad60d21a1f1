//! The steps of a phase, in the order in which they are done.

use eframe::egui::{self, Frame, Margin, Ui};
use formulation::amount::typed;
use formulation::edit::Edit;
use formulation::formula::{ItemId, Phase, Step};
use formulation::quantity::Temperature;

use super::{FormulaSheet, item_id};
use crate::command::Command;
use crate::state::View;
use crate::theme;
use crate::widgets::entry::Entry;
use crate::widgets::fold::fold;
use crate::widgets::icon::{Icon, icon_button};
use crate::widgets::refusal::figure;

/// Width of the number of a step; the words begin below the names of the lines.
const NUMBER: f32 = 14.0;

/// The field that says what a step does.
const WHAT: &str = "what to do";

/// Draws the steps of a phase, folded or open.
pub fn ui(
    ui: &mut Ui,
    view: &View<'_>,
    sheet: &mut FormulaSheet,
    phase: &Phase,
    commands: &mut Vec<Command>,
) {
    let p = theme::palette(ui);
    let corners = egui::CornerRadius {
        nw: 0,
        ne: 0,
        sw: 6,
        se: 6,
    };
    Frame::new()
        .fill(p.page)
        .corner_radius(corners)
        .inner_margin(Margin::symmetric(6, 2))
        .show(ui, |ui| {
            ui.set_width(ui.available_width());
            ui.spacing_mut().item_spacing.y = 4.0;
            let open = sheet.open_steps.contains(&phase.id);
            let words = match phase.steps.len() {
                0 => format!("Steps of phase {}: none yet", phase.letter),
                n => format!("Steps of phase {}: {n}", phase.letter),
            };
            if fold(ui, item_id(view, "steps", phase.id), &words, open).clicked() {
                if open {
                    sheet.open_steps.remove(&phase.id);
                } else {
                    sheet.open_steps.insert(phase.id);
                }
            }
            if open {
                for (at, step) in phase.steps.iter().enumerate() {
                    ui.push_id(step.id.0, |ui| {
                        row(ui, view, phase, at, step, commands);
                        if sheet.go_to == Some(step.id) {
                            // A step just added is to be typed next.
                            ui.scroll_to_rect(ui.min_rect(), None);
                            ui.memory_mut(|m| m.request_focus(item_id(view, WHAT, step.id)));
                        }
                    });
                    ui.add_space(theme::TIGHT);
                }
                let add = ui.horizontal(|ui| {
                    ui.add_space(NUMBER);
                    ui.button("Add a step")
                });
                if add.inner.clicked() {
                    commands.push(Command::Edit(Edit::AddStep {
                        phase: phase.id,
                        at: phase.steps.len(),
                        step: Step {
                            id: ItemId(0),
                            text: "".into(),
                            temperature: None,
                            minutes: None,
                            tool: "".into(),
                            check: "".into(),
                        },
                    }));
                }
                ui.add_space(4.0);
            }
        });
}

fn row(
    ui: &mut Ui,
    view: &View<'_>,
    phase: &Phase,
    at: usize,
    step: &Step,
    commands: &mut Vec<Command>,
) {
    let mut next = step.clone();
    let number = at + 1;
    let id = |what: &str| item_id(view, what, step.id);
    let named = |what: &str| format!("Step {number} of phase {}: {what}", phase.letter);
    let words = |ui: &mut Ui, what: &str, hint: &str, shown: &str, width: f32| {
        let entry = Entry::new(id(what), shown, named(what)).width(width);
        entry.hint(hint).words().show(ui).done
    };
    ui.horizontal(|ui| {
        ui.spacing_mut().item_spacing.x = 4.0;
        ui.add_sized(
            [NUMBER, theme::FIELD],
            egui::Label::new(theme::strong(format!("{number}."))),
        );
        let width = (ui.available_width() - 246.0).max(80.0);
        if let Some(typed) = words(ui, WHAT, WHAT, &step.text, width) {
            next.text = typed.trim().into();
        }
        let shown = step
            .temperature
            .map_or_else(String::new, typed::temperature_field);
        let what = "temperature in °C";
        let entry = Entry::new(id(what), &shown, named(what)).width(34.0);
        let entry = entry.hint("–").right();
        if let Some(temperature) = figure(ui, entry, read_temperature).read {
            next.temperature = temperature;
        }
        ui.label(theme::small(ui, "°C"));
        let shown = step.minutes.map_or_else(String::new, |m| m.to_string());
        let entry = Entry::new(id("minutes"), &shown, named("minutes")).width(30.0);
        let entry = entry.hint("–").right();
        if let Some(minutes) = figure(ui, entry, read_minutes).read {
            next.minutes = minutes;
        }
        ui.label(theme::small(ui, "min"));
        let name = |what: &str| format!("{what} step {number} of phase {}", phase.letter);
        let to = |at| Edit::MoveStep { step: step.id, at };
        if icon_button(ui, Icon::Up, &name("Move up"), at > 0).clicked() {
            commands.push(Command::Edit(to(at - 1)));
        }
        let below = at + 1 < phase.steps.len();
        if icon_button(ui, Icon::Down, &name("Move down"), below).clicked() {
            commands.push(Command::Edit(to(at + 1)));
        }
        if icon_button(ui, Icon::Cross, &name("Remove"), true).clicked() {
            commands.push(Command::Edit(Edit::RemoveStep(step.id)));
        }
    });
    ui.horizontal(|ui| {
        ui.spacing_mut().item_spacing.x = 4.0;
        ui.add_space(NUMBER + 4.0);
        let width = (ui.available_width() - 40.0) / 2.0;
        if let Some(typed) = words(
            ui,
            "vessel, tool or speed",
            "vessel, tool or speed",
            &step.tool,
            width,
        ) {
            next.tool = typed.trim().into();
        }
        if let Some(typed) = words(
            ui,
            "what to check",
            "what to check before going on",
            &step.check,
            width,
        ) {
            next.check = typed.trim().into();
        }
    });
    if next != *step {
        commands.push(Command::Edit(Edit::SetStep(next)));
    }
}

/// Ten years, as of every time typed.
const MOST_MINUTES: u32 = 5_256_000;

/// Minutes as typed; nothing typed means that none are stated.
fn read_minutes(text: &str) -> Result<Option<u32>, String> {
    let minutes = |t: &str| typed::count(t, "a whole number of minutes", MOST_MINUTES);
    typed::optional(text, minutes).map_err(|e| e.to_string())
}

/// A temperature as typed; nothing typed means that none is stated.
pub fn read_temperature(text: &str) -> Result<Option<Temperature>, String> {
    typed::optional(text, typed::temperature).map_err(|e| e.to_string())
}
