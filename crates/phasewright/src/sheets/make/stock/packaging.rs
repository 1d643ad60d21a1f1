//! Packaging in stock, counted in pieces.

use eframe::egui::{Grid, ScrollArea, Ui};
use formulation::finding::Level;
use formulation::packaging::{self, PackagingLot};
use formulation::stock::{LotId, Stock};

use super::form::{decimal, optional};
use crate::sheets::make::{caution, day_field, field};
use crate::state::View;
use crate::theme;

/// What is typed.
#[derive(Default)]
pub struct PackagingPage {
    of: Option<LotId>,
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

impl PackagingPage {
    fn of(lot: &PackagingLot) -> Self {
        fn text<T: ToString>(value: Option<T>) -> String {
            value.map_or_else(String::new, |v| v.to_string())
        }
        Self {
            of: Some(lot.id.clone()),
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

    fn read(&self, view: &View<'_>) -> Result<PackagingLot, String> {
        let count = |text: &str| text.parse().ok();
        Ok(PackagingLot {
            id: LotId::new(&self.lot).ok_or("Type the code of the lot")?,
            what: self.what.trim().into(),
            supplier: self.supplier.trim().into(),
            supplier_lot: self.supplier_lot.trim().into(),
            received: optional(
                &self.received,
                |t| t.parse().ok(),
                "a day such as 2026-03-02",
            )?
            .unwrap_or_else(|| view.state.today()),
            pieces: optional(&self.pieces, count, "a whole number of pieces")?.unwrap_or(0),
            price_each: optional(&self.price, decimal, "a price such as 0.45")?,
            low_below: optional(&self.low, count, "a whole number of pieces")?,
            note: self.note.trim().into(),
        })
    }
}

/// Draws the part; whether the stock was changed.
pub fn ui(
    ui: &mut Ui,
    view: &View<'_>,
    page: &mut PackagingPage,
    stock: &mut Stock,
) -> Result<bool, String> {
    ScrollArea::both()
        .id_salt("packaging")
        .auto_shrink([false, false])
        .show(ui, |ui| {
            let listed = list(ui, view, page, stock)?;
            ui.add_space(theme::GAP);
            let typed = fields(ui, view, page, stock)?;
            Ok(listed || typed)
        })
        .inner
}

fn list(
    ui: &mut Ui,
    view: &View<'_>,
    page: &mut PackagingPage,
    stock: &mut Stock,
) -> Result<bool, String> {
    if stock.packaging.is_empty() {
        ui.label("No packaging is entered yet: bottles, pumps, labels, boxes. What batches use of a lot is counted off, and a recall finds it.");
        return Ok(false);
    }
    let usage = view.state.works.usage();
    let mut remove = None;
    Grid::new("packaging")
        .num_columns(7)
        .spacing([theme::GAP, theme::TIGHT])
        .striped(true)
        .show(ui, |ui| {
            for head in [
                "Lot",
                "What",
                "Supplier and their lot",
                "Received",
                "Left",
                "A piece",
                "",
            ] {
                ui.label(theme::small(ui, head));
            }
            ui.end_row();
            for lot in &stock.packaging {
                ui.label(theme::strong(lot.id.to_string()))
                    .on_hover_text(lot.note.as_ref());
                ui.label(lot.what.as_ref());
                ui.label(format!("{} {}", lot.supplier, lot.supplier_lot));
                ui.label(lot.received.to_string());
                let left = format!("{} of {}", lot.left(usage), lot.pieces);
                if lot.is_low(usage) {
                    caution(ui, Level::Caution, format!("{left}, low"));
                } else {
                    ui.label(left);
                }
                ui.label(
                    lot.price_each
                        .map_or_else(|| "not known".to_owned(), |p| format!("{p} {}", stock.home)),
                );
                ui.horizontal(|ui| {
                    let edit = ui.small_button("Edit");
                    if edit
                        .on_hover_text(format!("Put {} into the fields below", lot.id))
                        .clicked()
                    {
                        *page = PackagingPage::of(lot);
                    }
                    if usage.pieces_of(&lot.id) == 0
                        && ui
                            .small_button("Remove")
                            .on_hover_text(format!("Remove {}, entered by mistake", lot.id))
                            .clicked()
                    {
                        remove = Some(lot.id.clone());
                    }
                });
                ui.end_row();
            }
        });
    let Some(id) = remove else { return Ok(false) };
    packaging::remove(&mut stock.packaging, &id, usage)
        .map(|()| true)
        .map_err(|e| e.to_string())
}

fn fields(
    ui: &mut Ui,
    view: &View<'_>,
    page: &mut PackagingPage,
    stock: &mut Stock,
) -> Result<bool, String> {
    ui.label(theme::strong(match &page.of {
        Some(lot) => format!("Packaging {lot}"),
        None => "Packaging that came in, or labels that were printed".to_owned(),
    }));
    ui.horizontal_wrapped(|ui| {
        ui.add_enabled_ui(page.of.is_none(), |ui| {
            field(ui, "Our lot code", &mut page.lot, 110.0);
        });
        field(ui, "What it is", &mut page.what, 200.0)
            .on_hover_text("For example: bottle 250 ml; label, version 3, batch 26-014");
        field(ui, "Supplier", &mut page.supplier, 150.0);
        field(ui, "Supplier's lot", &mut page.supplier_lot, 110.0);
    });
    ui.horizontal_wrapped(|ui| {
        day_field(
            ui,
            "Received or printed",
            &mut page.received,
            view.state.today(),
        )
        .on_hover_text("As 2026-03-02; left empty, today");
        field(ui, "Pieces", &mut page.pieces, 70.0);
        field(ui, "Price of a piece", &mut page.price, 90.0);
        field(ui, "Low below", &mut page.low, 70.0)
            .on_hover_text("Below so many pieces it is listed as low and in the calendar");
        field(ui, "Note", &mut page.note, 220.0);
    });
    let mut save = false;
    let mut leave = false;
    ui.horizontal(|ui| match &page.of {
        Some(lot) => {
            save = theme::main_button(ui, format!("Save {lot}")).clicked();
            leave = ui.button("Leave it as it was").clicked();
        }
        None => save = theme::main_button(ui, "Add the packaging").clicked(),
    });
    if leave {
        *page = PackagingPage::default();
    }
    if !save {
        return Ok(false);
    }
    let lot = page.read(view)?;
    if page.of.is_none() && stock.packaging.iter().any(|l| l.id == lot.id) {
        return Err(format!(
            "The packaging {} is in the stock already; give this one another code",
            lot.id
        ));
    }
    packaging::put(&mut stock.packaging, lot).map_err(|e| e.to_string())?;
    *page = PackagingPage::default();
    Ok(true)
}
