//! The start card of a new formula: what it is, for whom, and phases to begin with.

use eframe::egui::{self, Frame, Id, Key, Margin, ScrollArea, Stroke, Ui};
use formulation::amount::{Measure, typed};
use formulation::formula::{Market, Product, ProductType};
use formulation::material::ProductKind;
use formulation::quantity::Ph;
use formulation::starts::{Start, begin, starts};

use crate::command::Command;
use crate::examples;
use crate::sheets::SheetName;
use crate::state::{DocumentId, View};
use crate::theme;
use crate::widgets::entry::Entry;
use crate::widgets::follow_focus::follow_focus;
use crate::widgets::refusal::figure;

/// Width of the card in points.
const WIDTH: f32 = 620.0;
/// Width of the captions in points.
const CAPTION: f32 = 130.0;

/// What the card keeps between frames.
#[derive(Default)]
pub struct StartCard {
    /// For which document it is filled in.
    of: Option<DocumentId>,
    left: bool,
    name: String,
    product: Product,
    start: Option<usize>,
    target_ph: Option<Ph>,
    /// An arrow was pressed in the frame before.
    by_arrow: bool,
}

impl StartCard {
    /// Puts the card away for the formula it is shown for.
    pub const fn leave(&mut self) {
        self.left = true;
    }

    /// Whether the formula is new, still empty, and the card was not put away.
    pub fn is_wanted(&mut self, view: &View<'_>) -> bool {
        let document = view.document;
        let untouched = document.path.is_none()
            && !document.is_changed()
            && document.history().steps().len() == 1
            && view.formula.variants.len() == 1
            && view.variant.lines().next().is_none();
        if self.of != Some(document.id) {
            *self = Self {
                of: Some(document.id),
                product: view.variant.product.clone(),
                ..Self::default()
            };
        }
        untouched && !self.left
    }

    /// Draws the card.
    pub fn ui(&mut self, ui: &mut Ui, view: &View<'_>, commands: &mut Vec<Command>) {
        let p = theme::palette(ui);
        ScrollArea::vertical()
            .id_salt("start card")
            .auto_shrink([false, false])
            .show(ui, |ui| {
                ui.add_space(theme::GAP);
                let side = ((ui.available_width() - WIDTH) / 2.0).max(0.0);
                ui.horizontal_top(|ui| {
                    ui.add_space(side);
                    Frame::new()
                        .fill(p.page)
                        .stroke(Stroke::new(1.0, p.rule))
                        .corner_radius(8)
                        .inner_margin(Margin::symmetric(20, 16))
                        .show(ui, |ui| {
                            ui.set_width((WIDTH - 40.0).min(ui.available_width()));
                            ui.vertical(|ui| self.fields(ui, view, commands));
                        });
                });
                follow_focus(ui);
            });
    }

    fn fields(&mut self, ui: &mut Ui, view: &View<'_>, commands: &mut Vec<Command>) {
        ui.label(theme::heading("A new formula"));
        ui.label(theme::small(
            ui,
            "Nothing here is final; everything can be changed later.",
        ));
        ui.add_space(theme::TIGHT);
        // Enter where nothing is left to type or choose begins, as the button does.
        let mut done = false;
        ui.horizontal(|ui| {
            theme::caption(ui, CAPTION, "Name");
            let id = Id::unique(("start name", view.document.id));
            let width = ui.available_width();
            let field = egui::TextEdit::singleline(&mut self.name)
                .id(id)
                .hint_text("for example Winter wash")
                .desired_width(width - 12.0)
                .margin(Margin::symmetric(6, 3))
                .min_size(egui::vec2(0.0, theme::FIELD));
            let name = ui.add(field).accessible_name("Name of the new formula");
            done |= name.lost_focus() && entered(ui);
            // The first thing to be typed, once the card appears.
            let asked = Id::unique(("start name asked", view.document.id));
            if ui.data(|d| d.get_temp::<bool>(asked)).is_none() {
                ui.data_mut(|d| d.insert_temp(asked, true));
                ui.memory_mut(|m| m.request_focus(id));
            }
        });
        ui.horizontal_top(|ui| {
            theme::caption(ui, CAPTION, "Begin with");
            done |= ui.vertical(|ui| self.choice_of_start(ui)).inner;
        });
        self.product(ui);
        done |= self.target(ui, view);
        // Who pressed with the pointer last has the cursor nowhere.
        done |= ui.memory(|m| m.focused().is_none()) && entered(ui);
        ui.add_space(theme::GAP);
        ui.horizontal(|ui| {
            ui.add_space(CAPTION + 8.0);
            if theme::main_button(ui, "Begin").clicked() || done {
                let name = match self.name.trim() {
                    "" => "New formula",
                    name => name,
                };
                let start = self.start.and_then(|i| starts().get(i));
                let formula = begin(start, name, self.product.clone(), self.target_ph);
                commands.push(Command::Begin(formula.into()));
            }
        });
        ui.separator();
        ui.horizontal_wrapped(|ui| {
            ui.label("Or");
            if ui.button("Open a file…").clicked() {
                commands.push(Command::Open);
            }
            let bring = ui
                .button("Bring in a recipe")
                .on_hover_text("From a spreadsheet, a table or pasted text, on the Shelf");
            if bring.clicked() {
                commands.push(Command::Show(SheetName::Shelf));
            }
            if ui.button("Look at an example").clicked() {
                commands.push(Command::OpenExample(examples::FIRST));
            }
        });
    }

    /// Returns whether Enter was pressed on what is already chosen.
    fn choice_of_start(&mut self, ui: &mut Ui) -> bool {
        let mut chosen = self.start;
        let mut done = false;
        // What an arrow goes to is chosen, as in any row of radio buttons; the cursor is there a
        // frame after the key.
        let arrow = |key: Key| ui.input(|i| i.key_pressed(key));
        let arrow = arrow(Key::ArrowUp) || arrow(Key::ArrowDown);
        let by_arrow = std::mem::replace(&mut self.by_arrow, arrow);
        let mut row = |ui: &mut Ui, chosen: &mut Option<usize>, value, name: &str, says: &str| {
            let already = *chosen == value;
            let choice = ui.radio_value(chosen, value, name).on_hover_text(says);
            if by_arrow && choice.has_focus() {
                *chosen = value;
            }
            done |= already && choice.has_focus() && entered(ui);
        };
        let says = "One empty phase; add others as you need them";
        row(ui, &mut chosen, None, "An empty phase", says);
        for (i, start) in starts().iter().enumerate() {
            row(ui, &mut chosen, Some(i), start.name(), start.says());
        }
        if chosen != self.start {
            self.start = chosen;
            if let Some(start) = chosen.and_then(|i| starts().get(i)) {
                self.take_over(start);
            }
        }
        let shown = chosen.and_then(|i| starts().get(i));
        let phases = shown.map_or_else(String::new, |start| {
            let names = start.formula().active().phases.iter();
            let names: Vec<String> = names
                .map(|p| format!("{} {}", p.letter, p.kind.label()))
                .collect();
            format!("{} Phases: {}.", start.says(), names.join(", "))
        });
        ui.add(egui::Label::new(theme::small(ui, phases)).wrap());
        done
    }

    /// What a start says of the product; where it is sold stays as stated.
    fn take_over(&mut self, start: &Start) {
        self.product = Product {
            markets: self.product.markets.clone(),
            ..start.product().clone()
        };
    }

    fn product(&mut self, ui: &mut Ui) {
        let product = &mut self.product;
        ui.horizontal(|ui| {
            theme::caption(ui, CAPTION, "What it is");
            let shown = product
                .product_type
                .map_or("not stated", ProductType::label);
            let before = product.product_type;
            egui::ComboBox::from_id_salt("start type")
                .selected_text(shown)
                .width(260.0)
                .show_ui(ui, |ui| super::product::choose_type(ui, product))
                .response
                .accessible_name("What the new product is");
            let kind = product.product_type.and_then(ProductType::kind);
            if let Some(kind) = kind.filter(|_| before != product.product_type) {
                product.kinds = kind.into();
            }
        });
        ui.horizontal(|ui| {
            theme::caption(ui, CAPTION, "It is");
            for (kind, words) in [
                (ProductKind::RinseOff, "rinse-off"),
                (ProductKind::LeaveOn, "leave-on"),
            ] {
                super::product::kind_tick(ui, &mut product.kinds, kind, words);
            }
        });
        ui.horizontal(|ui| {
            theme::caption(ui, CAPTION, "Sold in");
            for market in Market::ALL {
                super::product::flag(ui, &mut product.markets, market, market.label());
            }
        });
    }

    /// Returns whether a pH was entered with Enter.
    fn target(&mut self, ui: &mut Ui, view: &View<'_>) -> bool {
        ui.horizontal(|ui| {
            theme::caption(ui, CAPTION, "pH aimed at");
            let shown = self.target_ph.map_or_else(String::new, |ph| ph.to_string());
            let id = Id::unique(("start pH", view.document.id));
            let entry = Entry::new(id, &shown, "pH the new formula aims at")
                .width(80.0)
                .hint("not stated")
                .right();
            let entry = figure(ui, entry, |text| {
                typed::optional(text, |text| typed::value(text, &Measure::PH))
            });
            if let Some(ph) = entry.read {
                self.target_ph = ph.and_then(Ph::new);
            }
            entry.entered
        })
        .inner
    }
}

fn entered(ui: &Ui) -> bool {
    ui.input(|input| input.key_pressed(Key::Enter))
}
