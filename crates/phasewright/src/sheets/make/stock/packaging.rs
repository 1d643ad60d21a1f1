//! Packaging in stock, counted in pieces: a table, and beside it everything about the lot chosen.

use eframe::egui::{self, TextEdit, Ui};
use formulation::amount::typed;
use formulation::finding::Level;
use formulation::stock::packaging::{self, PackagingLot};
use formulation::stock::{LotId, LotUsage, Stock};

use super::beside::{self, Beside, HasBeside, ROW, Wrong, at, figures, heading};
use super::form::money;
use crate::sheets::make::{MOST_COUNTED, caution, day_field, field};
use crate::state::View;
use crate::theme;
use crate::widgets::choice::choice_row;
use crate::widgets::focus::region;

/// A lot of packaging as it is typed.
#[derive(Clone, PartialEq, Default)]
struct Form {
    lot: String,
    what: String,
    supplier: String,
    supplier_lot: String,
    received: String,
    pieces: String,
    price: String,
    low: String,
    note: String,
}

impl beside::Fields for Form {
    fn texts(&mut self) -> Vec<(&'static str, &mut String)> {
        vec![
            ("Our lot code", &mut self.lot),
            ("What it is", &mut self.what),
            ("Supplier", &mut self.supplier),
            ("Supplier's lot", &mut self.supplier_lot),
            ("Received", &mut self.received),
            ("Pieces", &mut self.pieces),
            ("Price", &mut self.price),
            ("Low below", &mut self.low),
            ("Note", &mut self.note),
        ]
    }
}

impl Form {
    fn of(lot: &PackagingLot) -> Self {
        fn text<T: ToString>(value: Option<T>) -> String {
            value.map_or_else(String::new, |v| v.to_string())
        }
        Self {
            lot: lot.id.to_string(),
            what: lot.what.to_string(),
            supplier: lot.supplier.to_string(),
            supplier_lot: lot.supplier_lot.to_string(),
            received: lot.received.to_string(),
            pieces: lot.pieces.to_string(),
            price: text(lot.price_each),
            low: text(lot.low_below),
            note: lot.note.to_string(),
        }
    }

    fn read(&self, view: &View<'_>) -> Result<PackagingLot, Wrong> {
        let count = |field, text: &str| {
            let count = typed::optional(text, |t| {
                typed::count(t, "a number of pieces", MOST_COUNTED)
            });
            count.map_err(at(field))
        };
        let received = typed::optional(&self.received, typed::day);
        Ok(PackagingLot {
            id: LotId::new(&self.lot)
                .ok_or("Type the code of the lot")
                .map_err(at("Our lot code"))?,
            what: self.what.trim().into(),
            supplier: self.supplier.trim().into(),
            supplier_lot: self.supplier_lot.trim().into(),
            received: received
                .map_err(at("Received"))?
                .unwrap_or_else(|| view.state.today()),
            pieces: count("Pieces", &self.pieces)?.unwrap_or(0),
            price_each: money(&self.price).map_err(at("Price"))?,
            low_below: count("Low below", &self.low)?,
            note: self.note.trim().into(),
        })
    }
}

/// What the part keeps between frames.
#[derive(Default)]
pub struct PackagingPage {
    all: bool,
    sought: String,
    beside: Beside<Form>,
}

impl HasBeside<Form> for PackagingPage {
    fn beside(&mut self) -> &mut Beside<Form> {
        &mut self.beside
    }
}

fn lot_of<'a>(stock: &'a Stock, id: &LotId) -> Option<&'a PackagingLot> {
    stock.packaging.iter().find(|l| l.id == *id)
}

/// Draws the part; whether the stock was changed.
pub fn ui(ui: &mut Ui, view: &View<'_>, page: &mut PackagingPage, stock: &mut Stock) -> bool {
    page.beside.follow(|id| lot_of(stock, id).map(Form::of));
    let place = beside::place(ui, "packaging", page);
    region(ui, "Packaging", |ui| {
        filters(ui, view, page, stock);
        table(ui, view, page, stock);
    });
    beside::panel(
        ui,
        place,
        page,
        stock,
        |ui, page, stock| {
            about(ui, view, page, stock);
            false
        },
        |ui, page, stock| match page.beside.chosen().cloned() {
            None => add(ui, view, page, stock),
            Some(lot) => save(ui, view, page, stock, &lot),
        },
    )
}

fn filters(ui: &mut Ui, view: &View<'_>, page: &mut PackagingPage, stock: &Stock) {
    ui.horizontal_wrapped(|ui| {
        ui.add(
            TextEdit::singleline(&mut page.sought)
                .hint_text("Lot, what it is or supplier")
                .desired_width(200.0),
        )
        .accessible_name("Find packaging");
        let words = |all| if all { "all" } else { "in the house" };
        choice_row(ui, "shown", &mut page.all, &[false, true], words, |_| "");
        if ui.button("Add packaging").clicked() {
            page.beside.choose(None);
        }
    });
    let usage = view.state.books.usage();
    let low: Vec<String> = stock
        .packaging
        .iter()
        .filter(|l| l.is_low(usage))
        .map(|l| format!("{} ({} of lot {})", l.what, l.left(usage), l.id))
        .collect();
    if !low.is_empty() {
        caution(ui, Level::Caution, format!("Low: {}", low.join("; ")));
    }
}

fn listed<'a>(page: &PackagingPage, stock: &'a Stock, usage: &LotUsage) -> Vec<&'a PackagingLot> {
    let is_sought = |lot: &PackagingLot| {
        let texts = [lot.id.as_str(), &lot.what, &lot.supplier, &lot.supplier_lot];
        beside::is_sought(&page.sought, texts)
    };
    let lots = stock.packaging.iter();
    lots.filter(|l| (page.all || l.left(usage) > 0) && is_sought(l))
        .collect()
}

fn table(ui: &mut Ui, view: &View<'_>, page: &mut PackagingPage, stock: &Stock) {
    if stock.packaging.is_empty() {
        ui.label("No packaging is entered yet: bottles, pumps, labels, boxes. What batches use of a lot is counted off, and a recall finds it. Add the first at the right.");
        return;
    }
    let usage = view.state.books.usage();
    let found = listed(page, stock, usage);
    if found.is_empty() {
        ui.label("No packaging is listed; choose “all”, or search for something else.");
        return;
    }
    let fixed = [86.0, 104.0, 84.0];
    let room = beside::room(ui, &fixed, 5.0);
    let widths = [
        (room * 0.34).max(70.0),
        (room * 0.66).max(110.0),
        fixed[0],
        fixed[1],
        fixed[2],
    ];
    let mut chosen = None;
    beside::table(ui, "packaging", &widths)
        .header(ROW, |mut header| {
            for title in ["Lot", "What", "Came in", "Left", "A piece"] {
                header.col(|ui| heading(ui, title, matches!(title, "Left" | "A piece")));
            }
        })
        .body(|body| {
            body.rows(ROW, found.len(), |mut row| {
                let Some(lot) = found.get(row.index()) else {
                    return;
                };
                let is_chosen = page.beside.chosen() == Some(&lot.id);
                row.set_selected(is_chosen);
                let mut by_name = false;
                row.col(|ui| by_name = beside::code(ui, &lot.id, &lot.what, is_chosen));
                row.col(|ui| {
                    ui.add(egui::Label::new(lot.what.as_ref()).truncate());
                });
                row.col(|ui| {
                    ui.label(lot.received.to_string());
                });
                row.col(|ui| {
                    let words = format!("{} of {}", lot.left(usage), lot.pieces);
                    let p = theme::palette(ui);
                    let colour = if lot.is_low(usage) {
                        p.level(Level::Caution)
                    } else {
                        p.ink
                    };
                    figures(ui, |ui| {
                        ui.colored_label(colour, words);
                    });
                });
                row.col(|ui| {
                    figures(ui, |ui| {
                        match lot.price_each {
                            Some(price) => ui.label(format!("{price} {}", stock.home)),
                            None => ui.label(theme::small(ui, "not known")),
                        };
                    });
                });
                if row.response().clicked() || by_name {
                    chosen = Some((*lot).clone());
                }
            });
        });
    if let Some(lot) = chosen {
        page.beside.choose(Some((&lot.id, Form::of(&lot))));
    }
}

/// Everything about the lot chosen, or the fields of a new one.
fn about(ui: &mut Ui, view: &View<'_>, page: &mut PackagingPage, stock: &Stock) {
    let lot = page.beside.chosen().and_then(|id| lot_of(stock, id));
    ui.label(theme::heading(match lot {
        Some(lot) => format!("Packaging {}", lot.id),
        None => "Packaging that came in".to_owned(),
    }));
    if let Some(lot) = lot {
        let usage = view.state.books.usage();
        ui.label(theme::small(
            ui,
            format!(
                "{} pieces came in, batches took {}, {} left",
                lot.pieces,
                usage.pieces_of(&lot.id),
                lot.left(usage)
            ),
        ));
    }
    let mut typed = Vec::new();
    let is_new = lot.is_none();
    let form = &mut page.beside.form;
    ui.horizontal_wrapped(|ui| {
        // Batches have taken from a lot by its code.
        ui.add_enabled_ui(is_new, |ui| {
            typed.push(field(ui, "Our lot code", &mut form.lot, 110.0));
        });
        typed.push(
            field(ui, "What it is", &mut form.what, 200.0)
                .on_hover_text("For example: bottle 250 ml; label, version 3, batch 26-014"),
        );
    });
    ui.horizontal_wrapped(|ui| {
        typed.push(field(ui, "Supplier", &mut form.supplier, 150.0));
        typed.push(field(ui, "Supplier's lot", &mut form.supplier_lot, 110.0));
    });
    ui.horizontal_wrapped(|ui| {
        typed.push(
            day_field(
                ui,
                "Received or printed",
                &mut form.received,
                view.state.today(),
            )
            .on_hover_text("As 2026-03-02; left empty, today"),
        );
        typed.push(field(ui, "Pieces", &mut form.pieces, 70.0));
    });
    ui.horizontal_wrapped(|ui| {
        typed.push(field(ui, "Price of a piece", &mut form.price, 90.0));
        typed.push(
            field(ui, "Low below", &mut form.low, 70.0)
                .on_hover_text("Below so many pieces it is listed as low and in the calendar"),
        );
    });
    typed.push(field(ui, "Note", &mut form.note, 300.0));
    page.beside.listen(ui, &typed);
}

fn add(
    ui: &mut Ui,
    view: &View<'_>,
    page: &mut PackagingPage,
    stock: &mut Stock,
) -> Result<bool, Wrong> {
    if !page.beside.add_button(ui, "Add the packaging") {
        return Ok(false);
    }
    let lot = page.beside.form.read(view)?;
    if lot_of(stock, &lot.id).is_some() {
        return Err(format!(
            "The packaging {} is in the stock already; give this one another code",
            lot.id
        )
        .into());
    }
    packaging::put(&mut stock.packaging, lot).map_err(|e| e.to_string())?;
    page.beside.fill(Form::default());
    Ok(true)
}

fn save(
    ui: &mut Ui,
    view: &View<'_>,
    page: &mut PackagingPage,
    stock: &mut Stock,
    id: &LotId,
) -> Result<bool, Wrong> {
    if page.beside.unsaved() {
        return page.beside.keep_buttons(ui, id, |form| {
            let lot = form.read(view)?;
            let form = Form::of(&lot);
            packaging::put(&mut stock.packaging, lot).map_err(|e| e.to_string())?;
            Ok(form)
        });
    }
    let usage = view.state.books.usage();
    if usage.pieces_of(id) > 0 || !beside::remove_button(ui, id) {
        return Ok(false);
    }
    let gone = packaging::remove(&mut stock.packaging, id, usage);
    gone.map(|()| true).map_err(|e| e.to_string().into())
}
