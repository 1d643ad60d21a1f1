//! Swap: suggestions from the shelf for a line, and what a replacement changes.

use std::sync::Arc;

use eframe::egui::{self, Grid, Id, Ui};
use formulation::amount::measure::signed;
use formulation::finding::{Level, arisen};
use formulation::formula::ItemId;
use formulation::material::Material;
use formulation::progress::Progress;
use formulation::solve::swap::{self, Equal, Substitute, Suggestion, SwapError, Swapped};

use super::{
    Ground, Typed, heading, line_buttons, line_choice, marked, to_two_digits, two_columns,
};
use crate::command::Command;
use crate::state::View;
use crate::theme;
use crate::widgets::entry::Entry;
use crate::widgets::focus::region;
use crate::widgets::fold::fold;
use crate::widgets::icon::{Icon, icon_button};
use crate::widgets::material_picker::MaterialPicker;
use crate::widgets::work_bar::work_bar;
use crate::work::Work;

/// Most suggestions shown.
const MOST: usize = 15;

/// What stays equal, as chosen.
#[derive(Clone, Copy, PartialEq, Eq, Default)]
enum StaysEqual {
    #[default]
    Active,
    Constituent,
    Weight,
}

impl StaysEqual {
    const ALL: [(Self, &'static str); 3] = [
        (Self::Active, "active matter"),
        (Self::Constituent, "a constituent"),
        (Self::Weight, "weight"),
    ];
}

/// What the part keeps between frames.
#[derive(Default)]
pub struct Swap {
    line: Option<ItemId>,
    kept: StaysEqual,
    constituent: String,
    parts: Vec<Substitute>,
    picker: MaterialPicker,
    suggested: Work<(Ground, ItemId, Typed), Result<Vec<Suggestion>, SwapError>>,
    worked_out: Work<Asked, Result<Swapped, SwapError>>,
}

#[derive(Clone, PartialEq)]
struct Asked {
    ground: Ground,
    line: ItemId,
    parts: Vec<Substitute>,
    equal: Equal,
    typed: Typed,
}

/// The line to be replaced and what stays equal; that chosen on the Formula sheet at first.
fn asked(ui: &mut Ui, view: &View<'_>, part: &mut Swap) {
    if part.line.is_none() && view.document.chosen.len() == 1 {
        part.line = view.document.chosen.first().copied();
    }
    ui.horizontal_wrapped(|ui| {
        ui.label("Replace");
        line_choice(ui, view, "swap line", "Line to replace", &mut part.line);
        ui.label("at equal");
        let shown = StaysEqual::ALL
            .iter()
            .find(|(k, _)| *k == part.kept)
            .map_or("", |(_, label)| label);
        egui::ComboBox::from_id_salt("equal")
            .selected_text(shown)
            .width(120.0)
            .show_ui(ui, |ui| {
                for (kept, label) in StaysEqual::ALL {
                    ui.selectable_value(&mut part.kept, kept, label);
                }
            })
            .response
            .accessible_name("What stays equal");
        if part.kept == StaysEqual::Constituent {
            let entry = Entry::new(
                Id::unique("swap constituent"),
                &part.constituent,
                "Constituent kept equal",
            )
            .hint("INCI name")
            .width(180.0)
            .show(ui);
            if let Some(text) = entry.done {
                text.trim().clone_into(&mut part.constituent);
            }
        }
    });
    if part.line.is_none() {
        ui.label("Choose the line that is to be replaced:");
        part.line = line_buttons(ui, view, "Replace", |_| true);
    }
}

/// Draws the part.
pub fn ui(
    ui: &mut Ui,
    view: &View<'_>,
    part: &mut Swap,
    typed: &Typed,
    commands: &mut Vec<Command>,
) {
    let before = part.line;
    region(ui, "What is replaced", |ui| asked(ui, view, part));
    if part.line != before {
        part.parts.clear();
    }
    let Some(line) = part.line else { return };
    suggest(ui, view, part, typed, line);
    work_out(ui, view, part, typed, line);
    // Taken apart, so that both columns may use the rest.
    let mut suggested = std::mem::take(&mut part.suggested);
    let mut worked_out = std::mem::take(&mut part.worked_out);
    let part_is_chosen = !part.parts.is_empty();
    let mut taken = false;
    two_columns(
        ui,
        "aim swap",
        430.0,
        |ui| {
            replacement(ui, view, part);
            heading(ui, "Closest on the shelf");
            work_bar(ui, &mut suggested, "Looking through the shelf");
            match suggested.answer() {
                None => {}
                Some(Err(error)) => marked(ui, Level::Caution, error.to_string()),
                Some(Ok(none)) if none.is_empty() => {
                    ui.label("Nothing on the shelf shares a role or the kind of active matter with this line.");
                }
                Some(Ok(found)) => {
                    for suggestion in found {
                        row(ui, suggestion, &mut part.parts);
                    }
                }
            }
        },
        |ui| {
            ui.label(theme::heading("What changes"));
            work_bar(ui, &mut worked_out, "Working out the replacement");
            match worked_out.answer() {
                None if part_is_chosen => {}
                None => {
                    ui.label("Choose a material, or several for a blend.");
                }
                Some(Err(error)) => marked(ui, Level::Caution, error.to_string()),
                Some(Ok(swapped)) => {
                    if outcome(ui, view, swapped, commands) {
                        // What took its place is on the line now.
                        taken = true;
                    }
                }
            }
        },
    );
    (part.suggested, part.worked_out) = (suggested, worked_out);
    if taken {
        part.parts.clear();
    }
}

fn suggest(ui: &Ui, view: &View<'_>, part: &mut Swap, typed: &Typed, line: ItemId) {
    let key = (Ground::of(view), line, typed.clone());
    part.suggested.ask(ui, key, || {
        let shelf = view.state.shelf().clone();
        let materials = view.formula.materials.keys();
        let supply = typed.supply(view, materials.chain(shelf.iter().map(|m| &m.id)));
        let (formula, variant) = (view.formula.clone(), view.variant.clone());
        let context = view.state.context().clone();
        move |progress: &Progress| {
            swap::suggestions(
                &formula,
                &variant,
                &context,
                &supply,
                &shelf,
                (line, MOST),
                progress,
            )
        }
    });
}

fn work_out(ui: &Ui, view: &View<'_>, part: &mut Swap, typed: &Typed, line: ItemId) {
    if part.parts.is_empty() {
        part.worked_out.forget();
        return;
    }
    let asked = Asked {
        ground: Ground::of(view),
        line,
        parts: part.parts.clone(),
        equal: match part.kept {
            StaysEqual::Active => Equal::Active,
            StaysEqual::Weight => Equal::Weight,
            StaysEqual::Constituent => Equal::Constituent(part.constituent.as_str().into()),
        },
        typed: typed.clone(),
    };
    let of = asked.clone();
    part.worked_out.ask(ui, asked, || {
        let parts = of.parts.iter().map(|p| &p.material.id);
        let supply = of
            .typed
            .supply(view, view.formula.materials.keys().chain(parts));
        let (formula, variant) = (view.formula.clone(), view.variant.clone());
        let context = view.state.context().clone();
        move |_: &Progress| {
            let (parts, equal) = (&of.parts, &of.equal);
            swap::swap(&formula, &variant, &context, &supply, line, parts, equal)
        }
    });
}

fn choose(parts: &mut Vec<Substitute>, material: &Arc<Material>) {
    if let Some(place) = parts.iter().position(|p| p.material.id == material.id) {
        parts.remove(place);
    } else {
        parts.push(Substitute {
            material: material.clone(),
            share: 1.0,
        });
    }
}

fn replacement(ui: &mut Ui, view: &View<'_>, part: &mut Swap) {
    ui.label(theme::heading("Replacement"));
    let mut gone = None;
    let several = part.parts.len() > 1;
    for (k, p) in part.parts.iter_mut().enumerate() {
        ui.push_id(p.material.id.as_str(), |ui| {
            ui.horizontal(|ui| {
                if icon_button(ui, Icon::Cross, "Take this material out", true).clicked() {
                    gone = Some(k);
                }
                if several {
                    ui.add(
                        egui::DragValue::new(&mut p.share)
                            .range(0.01..=100.0)
                            .speed(0.02)
                            .max_decimals(2)
                            .suffix(" parts")
                            .update_while_editing(false),
                    )
                    .accessible_name(format!("Parts of {}", p.material.name));
                }
                ui.add(egui::Label::new(&*p.material.name).truncate());
            });
        });
    }
    if let Some(k) = gone {
        part.parts.remove(k);
    }
    let width = (ui.available_width() - 8.0).min(340.0);
    if let Some(material) = part.picker.show(
        ui,
        view.state,
        Id::unique("swap material"),
        "Replace by a material",
        width,
    ) {
        choose(&mut part.parts, &material);
    }
}

fn row(ui: &mut Ui, suggestion: &Suggestion, parts: &mut Vec<Substitute>) {
    // Whatever comes in above it, a row is the same one and keeps the cursor.
    let id = Id::unique(("suggestion", suggestion.material.id.as_str()));
    ui.scope_builder(egui::UiBuilder::new().scope_id(id), |ui| {
        ui.horizontal(|ui| {
            let chosen = parts
                .iter()
                .any(|p| p.material.id == suggestion.material.id);
            let words = format!(
                "{} at {} %",
                suggestion.material.name,
                to_two_digits(suggestion.percent)
            );
            if ui
                .add(egui::Button::selectable(chosen, words).truncate())
                .clicked()
            {
                choose(parts, &suggestion.material);
            }
        });
        let mut words = vec![format!("{:.0} % close", 100.0 * suggestion.closeness)];
        if let Some(change) = suggestion.cost_change {
            words.push(format!("{} a kilogram", signed(change, 2)));
        }
        words.extend(suggestion.differences.iter().cloned());
        let words = words.join("; ");
        ui.indent("differences", |ui| {
            ui.add(egui::Label::new(theme::small(ui, words)).wrap());
            let id = Id::unique(("closeness", suggestion.material.id.as_str()));
            let mut open = ui.data(|d| d.get_temp::<bool>(id)).unwrap_or_default();
            let why = fold(ui, id, "Why so close", open)
                .accessible_name(format!("Why {} is so close", suggestion.material.name));
            if why.clicked() {
                open = !open;
                ui.data_mut(|d| d.insert_temp(id, open));
            }
            if open {
                let reasons = theme::small(ui, suggestion.reasons());
                ui.add(egui::Label::new(reasons).wrap());
            }
        });
    });
}

/// What the replacement does; whether it was taken over.
fn outcome(ui: &mut Ui, view: &View<'_>, swapped: &Swapped, commands: &mut Vec<Command>) -> bool {
    let taken = theme::main_button(ui, "Take over")
        .on_hover_text("Puts the replacement into the formula as one step that can be undone")
        .clicked();
    if taken {
        commands.push(Command::Edit(swapped.edit()));
        let names: Vec<String> = (swapped.parts.iter())
            .map(|(material, p)| format!("{} % {}", to_two_digits(*p), material.name))
            .collect();
        commands.push(Command::ShowMessage(
            Level::Note,
            format!("Taken over: {}", names.join(", ")),
        ));
    }
    ui.add_space(theme::TIGHT);
    for (material, p) in &swapped.parts {
        ui.label(theme::strong(format!(
            "{} % {}",
            to_two_digits(*p),
            material.name
        )));
    }
    heading(ui, "Figures");
    if swapped.shifts.is_empty() {
        ui.label("No figure changes.");
    } else {
        Grid::new("swap shifts")
            .num_columns(3)
            .striped(true)
            .show(ui, |ui| {
                ui.label("");
                ui.label(theme::small(ui, "before"));
                ui.label(theme::small(ui, "after"));
                ui.end_row();
                for shift in &swapped.shifts {
                    let value = |v: Option<f64>| {
                        v.map_or_else(|| "not known".to_owned(), |v| shift.figure.write(v))
                    };
                    ui.label(&shift.name);
                    ui.label(value(shift.before));
                    ui.label(theme::strong(value(shift.after)));
                    ui.end_row();
                }
            });
    }
    for note in &swapped.notes {
        marked(ui, Level::Note, note.clone());
    }
    // Only what the swap brings about.
    let new = arisen(&view.evaluation.findings, &swapped.evaluation.findings);
    for finding in new.filter(|f| f.level != Level::Note) {
        marked(ui, finding.level, finding.message.clone());
    }
    taken
}
