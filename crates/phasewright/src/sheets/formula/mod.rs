//! The Formula sheet: phases, lines and percentages with the live chart.

mod carried;
pub(crate) mod columns;
mod details;
mod line;
mod names;
mod phase;
mod product;
mod start_card;
mod steps;
mod toolbar;
mod variants;

use std::collections::BTreeSet;

use eframe::egui::{self, Align, Frame, Id, Key, Margin, Modifiers, Panel, Rangef, ScrollArea, Ui};
use formulation::edit::{Edit, GiveWay};
use formulation::formula::{ItemId, Variant};

use crate::command::Command;
use crate::state::View;
use crate::theme;
use crate::widgets::composition_chart::CompositionChart;
use crate::widgets::findings_list::{banner, findings_list};
use crate::widgets::follow_focus::follow_focus;
use crate::widgets::material_picker::MaterialPicker;
use crate::widgets::readouts::{self, Readouts};
use crate::widgets::side_panel::{At, SidePanel};
use columns::Columns;

/// What may stand at the side in the place of the chart.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Aside {
    /// What the product is, what was measured.
    Product,
    /// Name, author, notes.
    Notes,
    /// The variant and its earlier states.
    Variants,
    /// Materials that differ from the shelf.
    Carried,
}

impl Aside {
    /// Its heading.
    const fn title(self) -> &'static str {
        match self {
            Self::Product => "Product and measurements",
            Self::Notes => "Name, author and notes",
            Self::Variants => "Variant and earlier states",
            Self::Carried => "Materials that differ from your shelf",
        }
    }
    /// A click on its button opens it, another closes it.
    fn toggle(self, button: egui::Response, shown: &mut Option<Self>) {
        if button.clicked() {
            *shown = if *shown == Some(self) {
                None
            } else {
                Some(self)
            };
        }
    }
}

/// What the sheet keeps between frames.
#[derive(Default)]
pub struct FormulaSheet {
    /// What stands in the place of the chart, if anything.
    aside: Option<Aside>,
    /// Which lines give way when one moves.
    give: GiveWay,
    /// The box that adds a line.
    picker: MaterialPicker,
    /// The phase that a new line goes into; the one that fits if none is chosen.
    add_to: Option<ItemId>,
    /// A line, phase or step to be scrolled to.
    go_to: Option<ItemId>,
    /// A line whose percentage is to be typed next.
    type_percent: Option<ItemId>,
    /// The line just added whose percentage is being typed; Enter goes back to the search.
    entering: Option<ItemId>,
    /// What the start card holds.
    card: start_card::StartCard,
    /// Phases whose steps are shown.
    open_steps: BTreeSet<ItemId>,
    /// The box that swaps the material of a line, and the line.
    swap: Option<ItemId>,
    swap_picker: MaterialPicker,
    /// Where carried materials differ from the shelf.
    carried: carried::Carried,
    /// Chart and findings at the side.
    side: SidePanel,
    /// The strip of read-outs.
    readouts: Readouts,
}

impl FormulaSheet {
    /// Scrolls to a line, phase or step with the next frame.
    pub const fn go_to(&mut self, item: ItemId) {
        self.go_to = Some(item);
    }

    /// Opens what the product is and what was measured, at the side.
    pub const fn open_product(&mut self) {
        self.aside = Some(Aside::Product);
    }

    /// Opens the box that swaps the material of a line.
    pub const fn swap(&mut self, line: ItemId) {
        self.go_to = Some(line);
        self.swap = Some(line);
        self.swap_picker.focus();
    }

    /// Puts the cursor into the percentage of a line that was just added.
    pub const fn type_percent(&mut self, line: ItemId) {
        self.go_to = Some(line);
        self.type_percent = Some(line);
    }

    /// Puts the cursor into the box that adds a line.
    pub fn find_material(&mut self) {
        self.card.leave();
        self.picker.focus();
    }
}

/// The id of something about an item of the document shown; the same in every frame.
fn item_id(view: &View<'_>, what: &str, item: ItemId) -> Id {
    Id::unique((what, view.document.id, view.variant.id, item.0))
}

/// Draws the sheet.
pub fn ui(ui: &mut Ui, view: &View<'_>, sheet: &mut FormulaSheet, commands: &mut Vec<Command>) {
    if sheet.card.is_wanted(view) {
        sheet.card.ui(ui, view, commands);
        return;
    }
    let width = ui.available_width();
    Panel::bottom("read-outs")
        .frame(Frame::new().inner_margin(Margin {
            top: 8,
            ..Margin::ZERO
        }))
        .show(ui, |ui| {
            readouts::ui(ui, view, &mut sheet.readouts, commands);
        });
    let mut aside = sheet.aside;
    sheet.side.show(
        ui,
        (At::Right, "formula side"),
        (width * 0.34).clamp(300.0, 460.0),
        Rangef::new(260.0, (width - 600.0).max(300.0)),
        |ui| side(ui, view, &mut aside, &sheet.carried, commands),
    );
    sheet.aside = aside;
    let frame = Frame::new().inner_margin(Margin {
        right: 8,
        ..Margin::ZERO
    });
    egui::CentralPanel::no_frame().frame(frame).show(ui, |ui| {
        toolbar::ui(ui, view, sheet, commands);
        hints(ui, view, commands);
        carried::ui(ui, view, &mut sheet.carried, &mut sheet.aside);
        ui.add_space(theme::TIGHT);
        phases(ui, view, sheet, commands);
    });
    keys(ui, view, commands);
}

fn side(
    ui: &mut Ui,
    view: &View<'_>,
    aside: &mut Option<Aside>,
    carried: &carried::Carried,
    commands: &mut Vec<Command>,
) {
    let height = (ui.available_height() * 0.54).max(220.0);
    if let Some(shown) = *aside {
        opened(ui, view, shown, aside, (carried, height), commands);
    } else {
        chart(ui, view, height, commands);
    }
    ui.add_space(theme::TIGHT);
    findings_list(ui, view, commands);
}

/// Draws what stands in the place of the chart. The findings stay below it, so that every
/// change shows at once what it does.
fn opened(
    ui: &mut Ui,
    view: &View<'_>,
    shown: Aside,
    aside: &mut Option<Aside>,
    (carried, height): (&carried::Carried, f32),
    commands: &mut Vec<Command>,
) {
    ui.horizontal(|ui| {
        ui.label(theme::heading(shown.title()));
        ui.with_layout(egui::Layout::right_to_left(Align::Center), |ui| {
            let close = ui
                .button("Back to the chart")
                .on_hover_text("Everything typed here is kept");
            if close.clicked() {
                *aside = None;
            }
        });
    });
    ScrollArea::vertical()
        .id_salt(("aside", shown.title()))
        .max_height(height - theme::FIELD)
        .min_scrolled_height(height - theme::FIELD)
        .auto_shrink([false, false])
        .show(ui, |ui| {
            ui.spacing_mut().item_spacing.y = theme::TIGHT;
            match shown {
                Aside::Product => product::panel(ui, view, commands),
                Aside::Notes => names::panel(ui, view, commands),
                Aside::Variants => variants::panel(ui, view, commands),
                Aside::Carried => carried::panel(ui, view, carried, commands),
            }
            follow_focus(ui);
        });
}

fn chart(ui: &mut Ui, view: &View<'_>, height: f32, commands: &mut Vec<Command>) {
    let full = view.evaluation.composition.total.as_percent().max(100.0);
    let clicked = CompositionChart {
        id: Id::unique(("chart", view.document.id)),
        formula: view.formula,
        variant: view.variant,
        composition: &view.evaluation.composition,
        chosen: &view.document.chosen,
        full,
    }
    .show(ui, egui::vec2(ui.available_width(), height));
    if let Some(lines) = clicked {
        commands.push(Command::Choose(lines));
    }
}

/// Three hints for the first start.
fn hints(ui: &mut Ui, view: &View<'_>, commands: &mut Vec<Command>) {
    if view.state.settings.hints_closed {
        return;
    }
    let p = theme::palette(ui);
    ui.add_space(theme::TIGHT);
    Frame::new()
        .fill(p.chosen)
        .corner_radius(6)
        .inner_margin(Margin::symmetric(10, 6))
        .show(ui, |ui| {
            ui.horizontal(|ui| {
                ui.vertical(|ui| {
                    ui.spacing_mut().item_spacing.y = 2.0;
                    ui.label("Drag a slider: the chart and the findings follow at once.");
                    ui.label("The tick on a slider is the limit that binds; rest the pointer on it to read which.");
                    ui.label("Type a name, INCI, CAS or role into “Add a line” to put a raw material in.");
                });
                ui.with_layout(egui::Layout::right_to_left(Align::Center), |ui| {
                    if ui.button("Close hints").clicked() {
                        commands.push(Command::CloseHints);
                    }
                });
            });
        });
}

fn phases(ui: &mut Ui, view: &View<'_>, sheet: &mut FormulaSheet, commands: &mut Vec<Command>) {
    let rect = ui.max_rect();
    // The rows leave room for the scroll bar.
    let columns = Columns::new(rect.left(), rect.right() - 14.0);
    columns::captions(ui, &columns);
    ScrollArea::vertical()
        .id_salt(("phases", view.document.id))
        .auto_shrink([false, false])
        .show(ui, |ui| {
            banner(ui, view, commands);
            ui.spacing_mut().item_spacing.y = 0.0;
            for (place, phase) in view.variant.phases.iter().enumerate() {
                ui.push_id(phase.id.0, |ui| {
                    phase::ui(ui, view, sheet, &columns, place, commands);
                });
                ui.add_space(theme::GAP);
            }
            if view.variant.lines().next().is_none() {
                ui.label("Begin with your water: type “water” above and press Enter; it fills up to 100 %. Then search, percent, Enter, line by line.");
                ui.add_space(theme::GAP);
            }
            if ui
                .button("Add a phase")
                .on_hover_text("Add an empty phase after the last one")
                .clicked()
            {
                commands.push(Command::Edit(Edit::AddPhase {
                    at: view.variant.phases.len(),
                    kind: formulation::material::PhaseKind::Other,
                    purpose: "".into(),
                }));
            }
            ui.add_space(theme::GAP);
            follow_focus(ui);
        });
    sheet.go_to = None;
}

/// Keys that act on the chosen line.
fn keys(ui: &Ui, view: &View<'_>, commands: &mut Vec<Command>) {
    let mut chosen = view.document.chosen.iter();
    let (Some(&line), None) = (chosen.next(), chosen.next()) else {
        return;
    };
    if ui.text_edit_focused() {
        return;
    }
    let pressed = |key| ui.input_mut(|i| i.consume_key(Modifiers::ALT, key));
    for (key, down) in [(Key::ArrowUp, false), (Key::ArrowDown, true)] {
        if pressed(key)
            && let Some(edit) = moved_by_one(view.variant, line, down)
        {
            commands.push(Command::Edit(edit));
        }
    }
    if ui.input_mut(|i| i.consume_key(Modifiers::NONE, Key::Delete)) {
        commands.push(Command::Edit(Edit::RemoveLine(line)));
    }
}

/// The edit that moves a line by one place, into the next phase at the edge of its own.
fn moved_by_one(variant: &Variant, line: ItemId, down: bool) -> Option<Edit> {
    let phase_place = variant
        .phases
        .iter()
        .position(|p| p.lines.iter().any(|l| l.id == line))?;
    let phase = variant.phases.get(phase_place)?;
    let place = phase.lines.iter().position(|l| l.id == line)?;
    let (phase, at) = if down {
        if place + 1 < phase.lines.len() {
            (phase, place + 1)
        } else {
            (variant.phases.get(phase_place + 1)?, 0)
        }
    } else if place > 0 {
        (phase, place - 1)
    } else {
        let before = variant.phases.get(phase_place.checked_sub(1)?)?;
        (before, before.lines.len())
    };
    Some(Edit::MoveLine {
        line,
        phase: phase.id,
        at,
    })
}
