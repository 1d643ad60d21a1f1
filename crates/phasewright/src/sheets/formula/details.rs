//! Under the chosen line: why it is here, its bounds, what is known about it.

use eframe::egui::{self, Frame, Id, Margin, Ui};
use formulation::amount::{Measure, typed};
use formulation::edit::Edit;
use formulation::finding::{Level, StatedField};
use formulation::formula::Line;
use formulation::material::Material;
use formulation::material_change::material_changes;
use formulation::purpose::Purpose;
use formulation::quantity::Percent;
use formulation::served::Setting;

use super::{FormulaSheet, answer, item_id};
use crate::command::Command;
use crate::state::View;
use crate::theme;
use crate::widgets::entry::Entry;
use crate::widgets::level_mark::level_mark;
use crate::widgets::refusal::figure;
use crate::widgets::rule_text::spoken;

/// Draws the details of a line.
pub fn ui(
    ui: &mut Ui,
    view: &View<'_>,
    sheet: &mut FormulaSheet,
    line: &Line,
    commands: &mut Vec<Command>,
) {
    let p = theme::palette(ui);
    Frame::new()
        .fill(p.page)
        .inner_margin(Margin {
            left: 24,
            right: 12,
            top: 8,
            bottom: 8,
        })
        .show(ui, |ui| {
            ui.set_width(ui.available_width());
            ui.spacing_mut().item_spacing.y = theme::TIGHT;
            why(ui, view, line, commands);
            purpose(ui, view, sheet, line, commands);
            own_range_fields(ui, view, line, commands);
            let material = view.formula.material(&line.material);
            if let Some(material) = material {
                facts(ui, view, material);
                shelf_state(ui, view, material, commands);
            }
            findings(ui, view, line);
            actions(ui, view, sheet, line, commands);
        });
}

fn why(ui: &mut Ui, view: &View<'_>, line: &Line, commands: &mut Vec<Command>) {
    ui.horizontal(|ui| {
        ui.label(theme::small(ui, "Why it is here"));
        let width = (ui.available_width() - 14.0).max(60.0);
        let entry = Entry::new(item_id(view, "why", line.id), &line.why, "Why it is here")
            .width(width)
            .hint("in your own words")
            .words()
            .show(ui);
        if let Some(why) = entry.done {
            commands.push(Command::Edit(Edit::SetWhy {
                line: line.id,
                why: why.trim().into(),
            }));
        }
    });
}

fn purpose(
    ui: &mut Ui,
    view: &View<'_>,
    sheet: &mut FormulaSheet,
    line: &Line,
    commands: &mut Vec<Command>,
) {
    let proposed = Setting::of(view.formula, view.variant).purpose_in(
        view.formula,
        &Line {
            purpose: None,
            ..line.clone()
        },
    );
    ui.horizontal(|ui| {
        ui.label(theme::small(ui, "It serves as"));
        let open = format!("{} (proposed)", proposed.purpose.label());
        let mut next = line.purpose;
        let choice = egui::ComboBox::from_id_salt(item_id(view, "purpose", line.id))
            .selected_text(next.map_or(open.clone(), |p| p.label().to_owned()))
            .show_ui(ui, |ui| {
                ui.selectable_value(&mut next, None, &open);
                for purpose in Purpose::ALL {
                    ui.selectable_value(&mut next, Some(purpose), purpose.label());
                }
            })
            .response
            .accessible_name("What it is there for in the sense of the law")
            .on_hover_text("Some limits bind one purpose only, for example preserving");
        answer(&mut sheet.field, StatedField::Purpose(line.id), &choice);
        if next != line.purpose {
            commands.push(Command::Edit(Edit::SetPurpose {
                line: line.id,
                purpose: next,
            }));
        }
    });
}

fn own_range_fields(ui: &mut Ui, view: &View<'_>, line: &Line, commands: &mut Vec<Command>) {
    ui.horizontal(|ui| {
        ui.label(theme::small(ui, "Own bounds"));
        let range = |min, max| Edit::SetRange {
            line: line.id,
            min,
            max,
        };
        let mut field = |ui: &mut Ui,
                         (what, name): (&str, &str),
                         value: Option<Percent>,
                         bounded: &dyn Fn(Option<Percent>) -> Edit| {
            let shown = value.map_or_else(String::new, |v| v.to_string());
            let entry = Entry::new(item_id(view, what, line.id), &shown, name)
                .width(56.0)
                .hint("none")
                .right();
            let read = figure(ui, entry, |text| {
                let edit = bounded(read_bound(text)?);
                view.tried(edit).map_err(|e| e.to_string())
            });
            commands.extend(read.read.map(Command::Edit));
        };
        let low = ("own lowest", "Own lowest percentage");
        field(ui, low, line.min, &|min| range(min, line.max));
        ui.label(theme::small(ui, "to"));
        let high = ("own highest", "Own highest percentage");
        field(ui, high, line.max, &|max| range(line.min, max));
        ui.label(theme::small(ui, "%"));
    });
}

fn read_bound(text: &str) -> Result<Option<Percent>, String> {
    typed::optional(text, typed::percent).map_err(|problem| problem.to_string())
}

/// What is known about the material, each with its source.
fn facts(ui: &mut Ui, view: &View<'_>, material: &Material) {
    let kinds = view.variant.product.kinds;
    let range = material.strictest_range(kinds).map_or_else(
        || format!("No usual range is known for {} products", kinds.label()),
        |r| {
            let what = if r.supplier_maximum {
                "supplier’s highest level"
            } else {
                "usual range"
            };
            format!(
                "{} to {} %, {what} in {} products, {}",
                r.low,
                r.high,
                r.kind.label(),
                r.source
            )
        },
    );
    let roles: Vec<&str> = material.roles.iter().map(|r| r.label()).collect();
    if !roles.is_empty() {
        ui.label(theme::small(ui, format!("Roles: {}", roles.join(", "))));
    }
    ui.label(theme::small(ui, range));
    let contained: Vec<String> = material
        .constituents
        .iter()
        .map(|c| {
            format!(
                "{} {}",
                c.inci,
                Measure::SHARE.shown(c.share.typical.as_percent())
            )
        })
        .collect();
    if !contained.is_empty() {
        ui.label(theme::small(
            ui,
            format!("Contains {}; {}", contained.join(", "), material.source),
        ));
    }
    let unknown = material.unknown_share();
    if unknown.value() > 0.0 {
        ui.label(theme::small(
            ui,
            format!(
                "{} of it is not known",
                Measure::SHARE.shown(unknown.as_percent())
            ),
        ));
    }
}

/// Where the carried material differs from the shelf.
fn shelf_state(ui: &mut Ui, view: &View<'_>, carried: &Material, commands: &mut Vec<Command>) {
    let Some(shelf) = view.state.shelf().get(&carried.id) else {
        ui.label(theme::small(
            ui,
            "Not on your shelf; the file carries what is known about it",
        ));
        return;
    };
    if **shelf == *carried {
        return;
    }
    let changes = material_changes(carried, shelf);
    ui.horizontal_wrapped(|ui| {
        level_mark(ui, Level::Note);
        ui.label("The shelf says otherwise by now");
        if ui
            .button("Take over from the shelf")
            .on_hover_text("In all variants of this file; undo brings the carried state back")
            .clicked()
        {
            commands.push(Command::Edit(Edit::TakeOverMaterial(shelf.clone())));
        }
    });
    for change in changes {
        ui.label(theme::small(
            ui,
            format!("{}: {} → {}", change.field, change.before, change.after),
        ));
    }
}

fn findings(ui: &mut Ui, view: &View<'_>, line: &Line) {
    let about = view
        .evaluation
        .findings
        .iter()
        .filter(|f| f.lines.contains(&line.id));
    for finding in about {
        ui.horizontal_top(|ui| {
            level_mark(ui, finding.level);
            ui.vertical(|ui| {
                ui.spacing_mut().item_spacing.y = 1.0;
                ui.add(egui::Label::new(&finding.message).wrap());
                let ground = format!("{} · {}", spoken(&finding.rule), finding.source);
                ui.add(egui::Label::new(theme::small(ui, ground)).wrap());
            });
        });
    }
}

fn actions(
    ui: &mut Ui,
    view: &View<'_>,
    sheet: &mut FormulaSheet,
    line: &Line,
    commands: &mut Vec<Command>,
) {
    ui.horizontal(|ui| {
        if sheet.swap == Some(line.id) {
            let id = Id::unique("swap material");
            let picked = sheet
                .swap_picker
                .show(ui, view.state, id, "Material to swap in", 240.0);
            if let Some(material) = picked {
                sheet.swap = None;
                commands.push(Command::Edit(Edit::SwapMaterial {
                    line: line.id,
                    material,
                    percent: None,
                }));
            }
            if ui.button("Cancel").clicked() {
                sheet.swap = None;
            }
        } else if ui
            .button("Swap the material…")
            .on_hover_text("Put another material in its place at the same percentage")
            .clicked()
        {
            sheet.swap = Some(line.id);
            sheet.swap_picker.focus();
        }
        if ui.button("Remove").clicked() {
            commands.push(Command::Edit(Edit::RemoveLine(line.id)));
        }
        if ui.button("Close").clicked() {
            commands.push(Command::Choose([].into()));
        }
    });
}
