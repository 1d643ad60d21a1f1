//! The Aim sheet: what the formula must reach and the percentages that reach it; swaps,
//! sweeps, and working back from an ingredient list.

mod list;
mod proposal;
mod swap;
mod sweep;
mod targets;

use eframe::egui::{self, Ui};
use formulation::amount::Measure;
use formulation::formula::{ItemId, Line};
use formulation::material::MaterialId;
use formulation::quantity::{Percent, grams};
use formulation::solve::subject::Supply;

use crate::command::Command;
use crate::state::{DocumentId, View};
use crate::theme;
use crate::widgets::choice::choice_row;
use crate::widgets::focus::region;
use crate::widgets::read_out::read_out;
use crate::widgets::side_panel::{At, resize_by_keys};

/// A part of the sheet.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Default)]
enum Part {
    #[default]
    Targets,
    Swap,
    Sweep,
    List,
}

impl Part {
    const ALL: [Self; 4] = [Self::Targets, Self::Swap, Self::Sweep, Self::List];

    const fn label(self) -> &'static str {
        match self {
            Self::Targets => "Targets",
            Self::Swap => "Swap",
            Self::Sweep => "Sweep",
            Self::List => "From a list",
        }
    }

    const fn tooltip(self) -> &'static str {
        match self {
            Self::Targets => "State what the formula must reach and get percentages proposed",
            Self::Swap => "Another material in place of a line, at equal active matter",
            Self::Sweep => "Move one or two lines over a range and see what follows",
            Self::List => "Work back from an ingredient list to ranges and an estimate",
        }
    }
}

/// What the sheet keeps between frames.
#[derive(Default)]
pub struct AimSheet {
    part: Part,
    targets: targets::Targets,
    swap: swap::Swap,
    sweep: sweep::SweepPart,
    list: list::ListPart,
    typed: Typed,
}

/// Prices and stock as typed on this sheet, which count before those of the stock.
#[derive(Default, Clone, PartialEq)]
struct Typed {
    price_per_kg: std::collections::BTreeMap<MaterialId, f64>,
    stock_g: std::collections::BTreeMap<MaterialId, f64>,
}

impl Typed {
    /// What the maker has and what it costs: of the stock, and over it what is typed here.
    fn supply<'m>(
        &self,
        view: &View<'_>,
        materials: impl IntoIterator<Item = &'m MaterialId>,
    ) -> Supply {
        let books = &view.state.books;
        let today = view.state.today();
        let mut supply = Supply::of_stock(books.stock(), books.usage(), today, materials);
        for (id, price) in &self.price_per_kg {
            supply.price_per_kg.insert(id.clone(), *price);
        }
        for (id, mass) in &self.stock_g {
            supply.stock.insert(id.clone(), grams(*mass));
        }
        supply.lessons = view.state.lessons().clone();
        supply
    }
}

/// What everything on the sheet follows from: a change of it makes an answer stale.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
struct Ground {
    document: DocumentId,
    revision: u64,
    variant: formulation::formula::VariantId,
    books: u64,
    /// How many responses the trials have taught.
    lessons: usize,
    trials: u64,
}

impl Ground {
    fn of(view: &View<'_>) -> Self {
        Self {
            document: view.document.id,
            revision: view.document.revision(),
            variant: view.variant.id,
            books: view.state.books.revision(),
            lessons: view.state.lessons().all().count(),
            trials: view.state.trials(view.document.id).revision(),
        }
    }
}

/// Draws the sheet.
pub fn ui(ui: &mut Ui, view: &View<'_>, sheet: &mut AimSheet, commands: &mut Vec<Command>) {
    region(ui, "Parts of Aim", |ui| {
        ui.horizontal_wrapped(|ui| {
            let all = &Part::ALL;
            choice_row(
                ui,
                "parts",
                &mut sheet.part,
                all,
                Part::label,
                Part::tooltip,
            );
        });
    });
    ui.separator();
    match sheet.part {
        Part::Targets => targets::ui(ui, view, &mut sheet.targets, &mut sheet.typed, commands),
        Part::Swap => swap::ui(ui, view, &mut sheet.swap, &sheet.typed, commands),
        Part::Sweep => region(ui, "Sweep", |ui| {
            sweep::ui(ui, view, &mut sheet.sweep, &sheet.typed, commands);
        }),
        Part::List => list::ui(ui, view, &mut sheet.list, commands),
    }
}

/// Two columns that scroll by themselves: what is asked, and the answer.
fn two_columns(
    ui: &mut Ui,
    id: &str,
    left_width: f32,
    left: impl FnOnce(&mut Ui),
    right: impl FnOnce(&mut Ui),
) {
    let name = egui::Id::unique(id);
    resize_by_keys(ui, name, At::Left);
    egui::Panel::left(name)
        .resizable(true)
        .default_size(left_width)
        .size_range(300.0..=(ui.available_width() - 420.0).max(320.0))
        .frame(egui::Frame::new().inner_margin(egui::Margin {
            right: 12,
            ..egui::Margin::ZERO
        }))
        .show(ui, |ui| {
            region(ui, "What is asked", |ui| {
                egui::ScrollArea::vertical()
                    .id_salt("asked")
                    .auto_shrink(false)
                    .show(ui, left);
            });
        });
    let margin = egui::Frame::new().inner_margin(egui::Margin {
        left: 12,
        ..egui::Margin::ZERO
    });
    egui::CentralPanel::no_frame().frame(margin).show(ui, |ui| {
        region(ui, "The answer", |ui| {
            egui::ScrollArea::vertical()
                .id_salt("answer")
                .auto_shrink(false)
                .show(ui, |ui| {
                    ui.set_width(ui.available_width());
                    right(ui);
                });
        });
    });
}

/// A line by its material and percentage.
fn line_words(view: &View<'_>, line: &Line) -> String {
    let name = view
        .formula
        .material(&line.material)
        .map_or_else(|| line.material.as_str(), |m| &m.name);
    format!("{name}, {} %", line.percent)
}

/// Lines of the variant as buttons, to begin with one of them; `doing` is what is done to it.
fn line_buttons(
    ui: &mut Ui,
    view: &View<'_>,
    doing: &str,
    offered: impl Fn(&Line) -> bool,
) -> Option<ItemId> {
    let mut chosen = None;
    ui.horizontal_wrapped(|ui| {
        for (_, line) in view.variant.lines().filter(|(_, line)| offered(line)) {
            let words = line_words(view, line);
            let button = ui.button(&words);
            let button = button.accessible_name(format!("{doing} {words}"));
            chosen = button.clicked().then_some(line.id).or(chosen);
        }
    });
    chosen
}

/// A choice of one line of the variant.
fn line_choice(ui: &mut Ui, view: &View<'_>, salt: &str, name: &str, chosen: &mut Option<ItemId>) {
    let words = |id| view.variant.line(id).map(|line| line_words(view, line));
    if chosen.is_some_and(|id| view.variant.line(id).is_none()) {
        *chosen = None;
    }
    let shown = chosen
        .and_then(words)
        .unwrap_or_else(|| "choose a line".to_owned());
    egui::ComboBox::from_id_salt(salt)
        .selected_text(shown)
        .width(260.0)
        .height(330.0)
        .truncate()
        .show_ui(ui, |ui| {
            for (_, line) in view.variant.lines() {
                ui.push_id(line.id.0, |ui| {
                    let words = words(line.id).unwrap_or_default();
                    ui.selectable_value(chosen, Some(line.id), words);
                });
            }
        })
        .response
        .accessible_name(name);
}

/// A line of figures that stands at the right of a grid cell.
fn figure(ui: &mut Ui, text: impl Into<egui::WidgetText>) {
    ui.with_layout(egui::Layout::right_to_left(egui::Align::Center), |ui| {
        ui.label(text);
    });
}

/// A name in a grid cell of a fixed width; what does not fit is on the hover.
fn cell(ui: &mut Ui, width: f32, text: impl Into<egui::WidgetText>) -> egui::Response {
    ui.scope(|ui| {
        ui.set_width(width);
        ui.add(egui::Label::new(text).truncate())
    })
    .inner
}

/// Words in a grid cell of a fixed width, wrapped.
fn wrapped_cell(ui: &mut Ui, width: f32, text: impl Into<egui::WidgetText>) {
    ui.scope(|ui| {
        ui.set_width(width);
        ui.add(egui::Label::new(text).wrap());
    });
}

/// A percentage to two digits.
fn to_two_digits(value: Percent) -> String {
    Measure::PERCENT_ROUGH.digits_of(value.as_percent())
}

/// Words in the colour of a level, with its mark.
fn marked(ui: &mut Ui, level: formulation::finding::Level, text: impl Into<String>) {
    mark(ui, level, text);
}

/// The same, read out as it comes up.
fn answered(ui: &mut Ui, level: formulation::finding::Level, text: impl Into<String>) {
    read_out(&mark(ui, level, text));
}

fn mark(
    ui: &mut Ui,
    level: formulation::finding::Level,
    text: impl Into<String>,
) -> egui::Response {
    ui.horizontal_top(|ui| {
        crate::widgets::level_mark::level_mark(ui, level);
        ui.add(egui::Label::new(text.into()).wrap())
    })
    .inner
}

/// A heading with space above it.
fn heading(ui: &mut Ui, text: &str) {
    ui.add_space(theme::TIGHT);
    ui.label(theme::strong(text));
}
