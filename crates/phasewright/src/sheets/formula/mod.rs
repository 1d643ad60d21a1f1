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
mod told;
mod toolbar;
mod variants;

use std::collections::BTreeSet;
use std::sync::Arc;

use eframe::egui::{
    self, Align, Frame, Id, Key, Margin, Modifiers, Panel, Rangef, ScrollArea, Ui, UiBuilder,
};
use formulation::edit::{Edit, GiveWay};
use formulation::evaluation::Evaluation;
use formulation::finding::StatedField;
use formulation::formula::{ItemId, Phase, Variant};
use formulation::material::PhaseKind;

use crate::command::Command;
use crate::state::View;
use crate::theme;
use crate::widgets::composition_chart::{ChartLayout, CompositionChart};
use crate::widgets::findings_list::findings_list;
use crate::widgets::focus::{self, region};
use crate::widgets::follow_focus::follow_focus;
use crate::widgets::material_picker::MaterialPicker;
use crate::widgets::readouts::{self, Readouts};
use crate::widgets::side_panel::{At, SidePanel};
use columns::Columns;

/// The region of what stands at the side in the place of the chart.
const BESIDE: &str = "Beside the lines";

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

    /// A click on its button opens it, another closes it. Whoever works with keys goes on in it.
    fn toggle(self, button: &egui::Response, shown: &mut Option<Self>) {
        if button.clicked() {
            *shown = if *shown == Some(self) {
                None
            } else {
                focus::enter(&button.ctx, BESIDE);
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
    /// The field at which a chip opened the settings of the product.
    opened_at: Option<StatedField>,
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
    /// What stands under each line.
    told: told::Told,
    /// A line whose name gets the cursor.
    focus: Option<ItemId>,
    /// A field that gets the cursor, and for how many frames it was waited for.
    field: Option<StatedField>,
    waited: u8,
    /// The chart as it was laid out last.
    chart: Option<Drawn>,
    /// The chart leaves water out.
    without_water: bool,
    /// Chart and findings at the side.
    side: SidePanel,
    /// The edge between the chart, or what stands in its place, and the findings.
    above: SidePanel,
    /// The strip of read-outs.
    readouts: Readouts,
}

impl FormulaSheet {
    /// The page of the documentation about the panel that is open over the sheet, with its heading.
    pub fn page_of_panel(&self) -> Option<(&'static str, Option<&'static str>)> {
        self.readouts.opened().map(readouts::Readout::page)
    }

    /// Scrolls to a line, phase or step with the next frame.
    pub const fn go_to(&mut self, item: ItemId) {
        self.go_to = Some(item);
    }

    /// Shows a field with the next frame and puts the cursor into it.
    pub const fn open_field(&mut self, field: StatedField) {
        match field {
            StatedField::Percent(line) | StatedField::Purpose(line) => self.go_to = Some(line),
            StatedField::Material(line) => {
                self.go_to = Some(line);
                self.focus = Some(line);
                return;
            }
            StatedField::Temperature(phase) => self.go_to = Some(phase),
            _ => self.aside = Some(Aside::Product),
        }
        self.field = Some(field);
        self.waited = 0;
    }

    /// Opens the panel that works out what brings the pH to the one aimed at.
    pub const fn adjust_ph(&mut self) {
        self.readouts.open(readouts::Readout::Ph);
    }

    /// Puts the cursor on the name of a line.
    pub const fn focus_line(&mut self, line: ItemId) {
        self.go_to = Some(line);
        self.focus = Some(line);
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

/// What there is to do on a formula without lines; one without a phase of water has no water that
/// fills up.
fn how_to_begin(variant: &Variant) -> &'static str {
    let watery = |p: &Arc<Phase>| matches!(p.kind, PhaseKind::Water | PhaseKind::Slurry);
    if variant.phases.iter().any(watery) {
        "Begin with your water: type “water” above and press Enter; it fills up to 100 %. Then search, percent, Enter, line by line."
    } else {
        "Type the first material above, press Enter, then its percent and Enter, line by line. Press “fill” at the one that takes the rest to 100 %."
    }
}

/// Gives a field the cursor if it was asked for.
fn answer(asked: &mut Option<StatedField>, field: StatedField, response: &egui::Response) {
    if *asked == Some(field) {
        response.scroll_to_me(Some(Align::Center));
        // The click that asked for it would take the cursor away again in its own frame.
        if response.ctx.input(|i| i.pointer.any_click()) {
            response.ctx.request_repaint();
            return;
        }
        *asked = None;
        response.request_focus();
    }
}

/// The line that stands in the place of another once that is removed: the one below, else
/// the one above.
pub fn neighbour(variant: &Variant, line: ItemId) -> Option<ItemId> {
    let lines: Vec<ItemId> = variant.lines().map(|(_, l)| l.id).collect();
    let place = lines.iter().position(|id| *id == line)?;
    let above = place.checked_sub(1).and_then(|above| lines.get(above));
    lines.get(place + 1).or(above).copied()
}

/// The id of something about an item of the document shown; the same in every frame.
fn item_id(view: &View<'_>, what: &str, item: ItemId) -> Id {
    Id::unique((what, view.document.id, view.variant.id, item.0))
}

/// Room for the scroll bar beside the lines, in points.
const BESIDE_BAR: f32 = 14.0;

/// Below this height of the window, in points, the read-outs fold into one line.
const FOLD_BELOW: f32 = 720.0;

/// Draws the sheet. Panels take their place first and are filled in the order of reading:
/// head, lines, read-outs, chart, findings.
pub fn ui(ui: &mut Ui, view: &View<'_>, sheet: &mut FormulaSheet, commands: &mut Vec<Command>) {
    if sheet.card.is_wanted(view) {
        region(ui, "Start card", |ui| sheet.card.ui(ui, view, commands));
        return;
    }
    sheet.told.follow(view);
    let asked = sheet.field;
    let width = ui.available_width();
    let fold = ui.content_rect().height() < FOLD_BELOW;
    let strip = Panel::bottom("read-outs")
        .frame(Frame::new().inner_margin(Margin {
            top: 8,
            ..Margin::ZERO
        }))
        .exact_size(readouts::height(ui, fold) + 8.0)
        .show(ui, |ui| ui.max_rect())
        .inner;
    let beside = sheet.side.show(
        ui,
        (At::Right, "formula side"),
        (width * 0.33).clamp(300.0, 480.0),
        Rangef::new(260.0, (width - 600.0).max(300.0)),
        |ui| ui.max_rect(),
    );
    let frame = Frame::new().inner_margin(Margin {
        right: 8,
        ..Margin::ZERO
    });
    egui::CentralPanel::no_frame().frame(frame).show(ui, |ui| {
        region(ui, "Head of the formula", |ui| {
            // It ends where the lines end, which leave room for the scroll bar.
            ui.set_max_width(ui.available_width() - BESIDE_BAR);
            toolbar::ui(ui, view, sheet, commands);
            hints(ui, view, fold, commands);
            carried::ui(ui, view, &mut sheet.carried, &mut sheet.aside);
        });
        ui.add_space(theme::TIGHT);
        region(ui, "Lines of the formula", |ui| {
            phases(ui, view, sheet, commands);
        });
    });
    ui.scope_builder(UiBuilder::new().max_rect(strip), |ui| {
        region(ui, "Read-outs", |ui| {
            readouts::ui(ui, view, &mut sheet.readouts, fold, commands);
        });
    });
    ui.scope_builder(UiBuilder::new().max_rect(beside), |ui| {
        side(ui, view, sheet, commands);
    });
    // A field that does not come up is not waited for.
    sheet.waited = if sheet.field.is_some() && sheet.field == asked {
        sheet.waited + 1
    } else {
        0
    };
    if sheet.waited > MOST_WAITED {
        sheet.field = None;
    }
    keys(ui, view, commands);
}

/// Frames until a field that was asked for must have come up.
const MOST_WAITED: u8 = 6;

/// The least height in points of what stands above the findings, and of the findings.
const LEAST_ABOVE: f32 = 220.0;
const LEAST_FINDINGS: f32 = 90.0;

fn side(ui: &mut Ui, view: &View<'_>, sheet: &mut FormulaSheet, commands: &mut Vec<Command>) {
    let room = ui.available_height();
    let mut edge = std::mem::take(&mut sheet.above);
    edge.show(
        ui,
        (At::Top, "above the findings"),
        (room * 0.54).max(LEAST_ABOVE),
        Rangef::new(
            LEAST_ABOVE.min(room),
            (room - LEAST_FINDINGS).max(LEAST_ABOVE),
        ),
        |ui| {
            let height = ui.available_height();
            if let Some(shown) = sheet.aside {
                region(ui, BESIDE, |ui| {
                    opened(ui, view, shown, sheet, commands);
                });
            } else {
                region(ui, "Chart", |ui| chart(ui, view, sheet, height, commands));
            }
        },
    );
    sheet.above = edge;
    region(ui, "Findings", |ui| findings_list(ui, view, commands));
}

/// Draws what stands in the place of the chart. The findings stay below it, so that every
/// change shows at once what it does.
fn opened(
    ui: &mut Ui,
    view: &View<'_>,
    shown: Aside,
    sheet: &mut FormulaSheet,
    commands: &mut Vec<Command>,
) {
    ui.horizontal(|ui| {
        ui.label(theme::heading(shown.title()));
        ui.with_layout(egui::Layout::right_to_left(Align::Center), |ui| {
            let close = ui
                .button("Back to the chart")
                .on_hover_text("Everything typed here is kept");
            if close.clicked() {
                sheet.aside = None;
            }
        });
    });
    ScrollArea::vertical()
        .id_salt(("aside", shown.title()))
        .auto_shrink([false, false])
        .show(ui, |ui| {
            ui.spacing_mut().item_spacing.y = theme::TIGHT;
            match shown {
                Aside::Product => product::panel(ui, view, &mut sheet.field, commands),
                Aside::Notes => names::panel(ui, view, commands),
                Aside::Variants => variants::panel(ui, view, commands),
                Aside::Carried => carried::panel(ui, view, &sheet.carried, commands),
            }
            follow_focus(ui);
        });
}

/// The chart as it was laid out last, and of what.
struct Drawn {
    of: Arc<Evaluation>,
    layout: ChartLayout,
}

fn chart(
    ui: &mut Ui,
    view: &View<'_>,
    sheet: &mut FormulaSheet,
    height: f32,
    commands: &mut Vec<Command>,
) {
    let known = sheet.chart.take().filter(|drawn| {
        Arc::ptr_eq(&drawn.of, view.evaluation) && drawn.layout.dry == sheet.without_water
    });
    let drawn = known.unwrap_or_else(|| Drawn {
        of: view.evaluation.clone(),
        layout: ChartLayout::shown(
            view.variant,
            &view.evaluation.composition,
            sheet.without_water,
        ),
    });
    let done = CompositionChart {
        id: Id::unique(("chart", view.document.id)),
        formula: view.formula,
        variant: view.variant,
        layout: &drawn.layout,
        chosen: &view.document.chosen,
        switch: true,
    }
    .show(ui, egui::vec2(ui.available_width(), height));
    sheet.chart = Some(drawn);
    if done.switched {
        sheet.without_water = !sheet.without_water;
    }
    if let Some(lines) = done.chosen {
        commands.push(Command::Choose(lines));
    }
}

/// Three hints for the first start; one at a time where the window is low.
fn hints(ui: &mut Ui, view: &View<'_>, low: bool, commands: &mut Vec<Command>) {
    if view.state.settings.hints_closed {
        return;
    }
    const HINTS: [&str; 3] = [
        "Drag a slider: the chart and the findings follow at once.",
        "The tick on a slider is the limit that binds; rest the pointer on it to read which.",
        "Type a name, INCI, CAS or role into “Add a line” to put a raw material in.",
    ];
    let p = theme::palette(ui);
    ui.add_space(theme::TIGHT);
    Frame::new()
        .fill(p.chosen)
        .corner_radius(6)
        .inner_margin(Margin::symmetric(10, if low { 2 } else { 6 }))
        .show(ui, |ui| {
            ui.set_width(ui.available_width());
            ui.horizontal(|ui| {
                ui.with_layout(egui::Layout::right_to_left(Align::Center), |ui| {
                    if ui.button("Close hints").clicked() {
                        commands.push(Command::CloseHints);
                    }
                    ui.with_layout(egui::Layout::top_down(Align::Min), |ui| {
                        ui.spacing_mut().item_spacing.y = 2.0;
                        for hint in HINTS.iter().take(if low { 1 } else { HINTS.len() }) {
                            ui.add(egui::Label::new(*hint).truncate());
                        }
                    });
                });
            });
        });
}

fn phases(ui: &mut Ui, view: &View<'_>, sheet: &mut FormulaSheet, commands: &mut Vec<Command>) {
    let rect = ui.max_rect();
    // The rows leave room for the scroll bar.
    let columns = Columns::new(rect.left(), rect.right() - BESIDE_BAR);
    columns::captions(ui, &columns);
    ScrollArea::vertical()
        .id_salt(("phases", view.document.id))
        .auto_shrink([false, false])
        .show(ui, |ui| {
            let mut told = std::mem::take(&mut sheet.told);
            told.banner(ui, view, commands);
            sheet.told = told;
            ui.spacing_mut().item_spacing.y = 0.0;
            let mut before = 0;
            for (place, phase) in view.variant.phases.iter().enumerate() {
                ui.push_id(phase.id.0, |ui| {
                    phase::ui(ui, view, sheet, &columns, (place, before), commands);
                });
                before += phase.lines.len();
                ui.add_space(theme::GAP);
            }
            if view.variant.lines().next().is_none() {
                ui.label(how_to_begin(view.variant));
                ui.add_space(theme::GAP);
            }
            if ui
                .button("Add a phase")
                .on_hover_text("Add an empty phase after the last one")
                .clicked()
            {
                commands.push(Command::Edit(Edit::AddPhase {
                    at: view.variant.phases.len(),
                    kind: PhaseKind::Other,
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
