//! Above the phases: variant, product, batch, how the rest gives way, a new line.

use std::sync::Arc;

use eframe::egui::{self, Id, Ui};
use formulation::amount::{Measure, typed};
use formulation::edit::{Edit, GiveWay, apply_in_steps};
use formulation::finding::Level;
use formulation::material::Material;
use formulation::plain_words::sentence;
use formulation::quantity::{Percent, grams, in_grams};
use formulation::rules::law;

use super::{FormulaSheet, names, product, variants};
use crate::command::Command;
use crate::state::View;
use crate::theme;
use crate::widgets::at_right::at_right;
use crate::widgets::entry::Entry;
use crate::widgets::icon::{Icon, icon_button};
use crate::widgets::looked_at::when_looked_at;
use crate::widgets::material_picker::About;
use crate::widgets::refusal::figure;
use crate::words::counted;

/// Draws the rows.
pub fn ui(ui: &mut Ui, view: &View<'_>, sheet: &mut FormulaSheet, commands: &mut Vec<Command>) {
    ui.horizontal(|ui| {
        ui.spacing_mut().item_spacing.x = theme::TIGHT;
        names::title(ui, view, commands);
        variants::ui(ui, view, &mut sheet.aside, commands);
        at_right(ui, "steps back and forth", |ui| {
            let history = view.document.history();
            let undo = history
                .undoes()
                .map_or_else(|| "Undo".to_owned(), |what| format!("Undo: {what}"));
            if icon_button(ui, Icon::Undo, &undo, history.undoes().is_some()).clicked() {
                commands.push(Command::Undo);
            }
            let redo = history
                .redoes()
                .map_or_else(|| "Redo".to_owned(), |what| format!("Redo: {what}"));
            if icon_button(ui, Icon::Redo, &redo, history.redoes().is_some()).clicked() {
                commands.push(Command::Redo);
            }
        });
    });
    ui.horizontal(|ui| {
        ui.spacing_mut().item_spacing.x = theme::TIGHT;
        product::chips(ui, view, sheet);
        names::button(ui, &mut sheet.aside);
        at_right(ui, "batch", |ui| batch(ui, view, commands));
    });
    ui.horizontal(|ui| {
        ui.spacing_mut().item_spacing.x = theme::TIGHT;
        let give_width = (ui.available_width() * 0.17).clamp(108.0, 150.0);
        // In a narrow window the box that adds a line needs the room of the caption.
        let caption = if ui.available_width() < 700.0 { 0.0 } else { 80.0 };
        add_line(ui, view, sheet, give_width + caption, commands);
        if caption > 0.0 {
            ui.label(theme::small(ui, "Take it from"));
        }
        egui::ComboBox::from_id_salt("give way")
            .selected_text(sheet.give.label())
            .width(give_width)
            .truncate()
            .show_ui(ui, |ui| {
                for give in GiveWay::ALL {
                    ui.selectable_value(&mut sheet.give, give, give.label());
                }
            })
            .response
            .accessible_name("Take it from")
            .on_hover_text("Which lines give way when one moves. Held lines, preservatives, acids, bases and colours never do");
        let bring = when_looked_at(ui.button("Bring to 100"), |ui| {
            ui.label("By the filler, or else by all free lines in proportion; held lines, preservatives, acids, bases and colours stay");
            ui.separator();
            for words in would_change(view) {
                ui.label(words);
            }
        });
        if bring.clicked() {
            commands.push(Command::Edit(Edit::BringTo100));
        }
    });
}

/// What bringing the formula to 100 would change, line by line.
fn would_change(view: &View<'_>) -> Vec<String> {
    const MOST: usize = 8;
    let step = view.state.settings.percent_step.percent();
    let (before, formula) = (view.variant, view.formula);
    let after = match apply_in_steps(formula, before.id, &Edit::BringTo100, step) {
        Ok(applied) => applied.formula,
        Err(problem) => return vec![sentence(&problem.to_string())],
    };
    let mut words: Vec<String> = (after.active().lines())
        .filter_map(|(_, line)| {
            let was = before.line(line.id)?.percent;
            let name = view.name_of(&line.material);
            (was != line.percent).then(|| format!("{name}: {was} to {} %", line.percent))
        })
        .collect();
    if words.is_empty() {
        return vec!["Nothing would change: the total is 100 %".to_owned()];
    }
    let more = words.len().saturating_sub(MOST);
    words.truncate(MOST);
    if more > 0 {
        words.push(format!("and {}", counted(more, "more line")));
    }
    words.insert(0, "Would change:".to_owned());
    words
}

fn batch(ui: &mut Ui, view: &View<'_>, commands: &mut Vec<Command>) {
    ui.label(theme::small(ui, "Batch, g"));
    let shown = format!("{}", in_grams(view.variant.batch));
    let id = Id::unique(("batch", view.document.id, view.variant.id));
    let entry = Entry::new(id, &shown, "Batch in grams").width(64.0).right();
    let entry = figure(ui, entry, |text| {
        let mass = typed::value(text, &Measure::GRAMS).map_err(|e| e.to_string())?;
        let set = view.tried(Edit::SetBatch(grams(mass)));
        set.map_err(|e| e.to_string())
    });
    entry
        .response
        .on_hover_text("The batch for which grams are shown beside the percentages");
    commands.extend(entry.read.map(Command::Edit));
}

/// The search box and the phase; `beside` is the width of the box that stands to the right.
fn add_line(
    ui: &mut Ui,
    view: &View<'_>,
    sheet: &mut FormulaSheet,
    beside: f32,
    commands: &mut Vec<Command>,
) {
    let phases = &view.variant.phases;
    let width = (ui.available_width() - beside - 252.0).clamp(120.0, 420.0);
    let id = Id::unique("add a line");
    let named = sheet
        .add_to
        .and_then(|id| phases.iter().find(|p| p.id == id));
    let context = view.state.context();
    let about = |material: &Arc<Material>| {
        let phase = named.or_else(|| view.variant.phase_for(material));
        let product = &view.variant.product;
        let breach = law::forbidden(product, material, context.today, &context.rules);
        About {
            place: phase.map_or_else(String::new, |p| {
                format!("to {} {}", p.letter, p.kind.label())
            }),
            forbidden: breach.map(|breach| format!("not in this product, {}", breach.rule)),
        }
    };
    let what = (id, "Add a line");
    let picked = sheet.picker.show_with(ui, view.state, what, width, &about);
    egui::ComboBox::from_id_salt("add to phase")
        .selected_text(named.map_or("phase: automatic", |p| &p.letter))
        .width(110.0)
        .show_ui(ui, |ui| {
            if ui
                .selectable_label(named.is_none(), "phase: automatic")
                .clicked()
            {
                sheet.add_to = None;
            }
            for phase in phases {
                ui.push_id(phase.id.0, |ui| {
                    let words = format!("{} {}", phase.letter, phase.kind.label());
                    let chosen = named.is_some_and(|t| t.id == phase.id);
                    if ui.selectable_label(chosen, words).clicked() {
                        sheet.add_to = Some(phase.id);
                    }
                });
            }
        })
        .response
        .accessible_name("Phase of a new line")
        .on_hover_text("The phase that a new line goes into");
    let Some(material) = picked else { return };
    let fitting = || view.variant.phase_for(&material);
    if let Some(phase) = named.or_else(fitting) {
        commands.push(Command::Edit(Edit::AddLine {
            phase: phase.id,
            at: phase.lines.len(),
            material,
            percent: Percent::ZERO,
        }));
    } else {
        commands.push(Command::ShowMessage(
            Level::Caution,
            "The formula has no phase to put a line into; add a phase first".to_owned(),
        ));
    }
}
