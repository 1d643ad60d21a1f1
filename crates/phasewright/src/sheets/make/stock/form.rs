//! A lot as it is typed.

use eframe::egui::{Label, Response, Ui};
use formulation::amount::Measure;
use formulation::amount::typed::{self, AmountError};
use formulation::mass::read_mass;
use formulation::material::MaterialId;
use formulation::quantity::{Currency, Decimal};
use formulation::stock::{Lot, LotId, LotStatus, Stock};

use super::beside::{Fields, Wrong, at, join_choice};
use crate::sheets::make::{MOST_COUNTED, choice, day_field, field, name_of};
use crate::state::View;
use crate::theme;
use crate::widgets::material_picker::MaterialPicker;

/// Longest time for which an opened pack may be used: a hundred years.
const MOST_DAYS: u32 = 36_525;

/// A lot or an offer as it is typed in.
#[derive(Clone, PartialEq)]
pub struct StockForm {
    /// The lot that is mended; `None` for one that comes in.
    pub of: Option<LotId>,
    pub material: Option<MaterialId>,
    pub lot: String,
    pub supplier: String,
    pub supplier_lot: String,
    pub received: String,
    pub expiry: String,
    pub opened: String,
    pub days: String,
    pub pack: String,
    pub packs: String,
    pub price: String,
    pub currency: String,
    pub freight: String,
    pub tax: String,
    pub status: LotStatus,
    pub made_in: String,
    pub certificate: String,
    pub note: String,
}

impl Default for StockForm {
    fn default() -> Self {
        let empty = String::new;
        Self {
            of: None,
            material: None,
            lot: empty(),
            supplier: empty(),
            supplier_lot: empty(),
            received: empty(),
            expiry: empty(),
            opened: empty(),
            days: empty(),
            pack: empty(),
            packs: "1".to_owned(),
            price: empty(),
            currency: empty(),
            freight: empty(),
            tax: empty(),
            status: LotStatus::Released,
            made_in: empty(),
            certificate: empty(),
            note: empty(),
        }
    }
}

impl Fields for StockForm {
    fn texts(&mut self) -> Vec<(&'static str, &mut String)> {
        vec![
            ("Our lot code", &mut self.lot),
            ("Supplier", &mut self.supplier),
            ("Supplier's lot", &mut self.supplier_lot),
            ("Contents of a pack, with its unit", &mut self.pack),
            ("Packs", &mut self.packs),
            ("Received", &mut self.received),
            ("Best before", &mut self.expiry),
            ("Opened", &mut self.opened),
            ("Days once opened", &mut self.days),
            ("Price of a pack", &mut self.price),
            ("Currency", &mut self.currency),
            ("Freight share", &mut self.freight),
            ("Tax", &mut self.tax),
            ("Made in batch", &mut self.made_in),
            ("Certificate", &mut self.certificate),
            ("Note", &mut self.note),
        ]
    }

    fn join_choices(&mut self, base: &Self, theirs: &Self, both: &mut Vec<&'static str>) {
        if join_choice(&mut self.material, &base.material, &theirs.material) {
            both.push("Material");
        }
        if join_choice(&mut self.status, &base.status, &theirs.status) {
            both.push("Status");
        }
    }

    fn make_new(&mut self) {
        self.of = None;
    }
}

impl StockForm {
    /// The fields of another material that came with this one: what was typed of the jar itself
    /// is not taken along.
    pub fn of_same_delivery(&self, material: &MaterialId) -> Self {
        Self {
            material: Some(material.clone()),
            supplier: self.supplier.clone(),
            received: self.received.clone(),
            currency: self.currency.clone(),
            freight: self.freight.clone(),
            tax: self.tax.clone(),
            ..Self::default()
        }
    }

    /// A lot of the stock, to be mended.
    pub fn of(lot: &Lot) -> Self {
        fn text<T: ToString>(value: Option<T>) -> String {
            value.map_or_else(String::new, |v| v.to_string())
        }
        let sum = |value: Decimal| text((!value.is_zero()).then_some(value));
        Self {
            of: Some(lot.id.clone()),
            material: Some(lot.material.clone()),
            lot: lot.id.to_string(),
            supplier: lot.supplier.to_string(),
            supplier_lot: lot.supplier_lot.to_string(),
            received: lot.received.to_string(),
            expiry: text(lot.expiry),
            opened: text(lot.opened),
            days: text(lot.days_once_opened),
            pack: format!("{} g", lot.pack),
            packs: lot.packs.to_string(),
            price: text(lot.price_per_pack),
            currency: lot.currency.to_string(),
            freight: sum(lot.freight_share),
            tax: sum(lot.tax_percent),
            status: lot.status,
            made_in: text(lot.made_in.as_ref()),
            certificate: lot.certificate.to_string(),
            note: lot.note.to_string(),
        }
    }
}

/// Something that may be left out and is no number.
pub fn optional<T>(
    text: &str,
    read: impl Fn(&str) -> Option<T>,
    what: &str,
) -> Result<Option<T>, String> {
    let text = text.trim();
    if text.is_empty() {
        return Ok(None);
    }
    read(text)
        .map(Some)
        .ok_or_else(|| format!("“{text}” is not {what}"))
}

/// A price or sum that may be left out.
pub fn money(text: &str) -> Result<Option<Decimal>, AmountError> {
    typed::optional(text, |t| typed::decimal(t, &Measure::MONEY))
}

/// Reads the fields as a lot of a code.
pub fn read_lot(form: &StockForm, code: &str, view: &View<'_>) -> Result<Lot, Wrong> {
    let home = view.state.books.stock().home;
    let day = |field, text: &str| typed::optional(text, typed::day).map_err(at(field));
    let money = |field, text: &str| money(text).map_err(at(field));
    // Taxes may be more than the price.
    let rate = Measure::PERCENT.within(0.0, 1000.0);
    let tax = typed::optional(&form.tax, |t| typed::decimal(t, &rate));
    let currency = if form.currency.trim().is_empty() {
        home
    } else {
        Currency::new(&form.currency)
            .ok_or_else(|| format!("“{}” is not a currency such as EUR", form.currency.trim()))
            .map_err(at("Currency"))?
    };
    let batch = |t: &str| formulation::batch_code::BatchCode::new(t).ok();
    let days = typed::optional(&form.days, |t| {
        typed::count(t, "a number of days", MOST_DAYS)
    });
    Ok(Lot {
        id: LotId::new(code)
            .ok_or("Type the code of the lot")
            .map_err(at("Our lot code"))?,
        material: form.material.clone().ok_or("Choose the material first")?,
        supplier: form.supplier.trim().into(),
        supplier_lot: form.supplier_lot.trim().into(),
        received: day("Received", &form.received)?.unwrap_or_else(|| view.state.today()),
        expiry: day("Best before", &form.expiry)?,
        opened: day("Opened", &form.opened)?,
        days_once_opened: days.map_err(at("Days once opened"))?,
        pack: read_mass(&form.pack, None).map_err(at("Contents of a pack, with its unit"))?,
        packs: typed::count(&form.packs, "a number of packs", MOST_COUNTED).map_err(at("Packs"))?,
        price_per_pack: money("Price of a pack", &form.price)?,
        currency,
        freight_share: money("Freight share", &form.freight)?.unwrap_or_default(),
        tax_percent: tax.map_err(at("Tax"))?.unwrap_or_default(),
        status: form.status,
        made_in: optional(&form.made_in, batch, "a batch code").map_err(at("Made in batch"))?,
        certificate: form.certificate.trim().into(),
        note: form.note.trim().into(),
    })
}

/// Draws the fields.
pub fn fields(
    ui: &mut Ui,
    view: &View<'_>,
    form: &mut StockForm,
    picker: &mut MaterialPicker,
    stock: &Stock,
) -> Vec<Response> {
    let mut typed = Vec::new();
    let today = view.state.today();
    let id = ui.scope_id().with("material of the lot");
    let picked = picker.show(ui, view.state, id, "Material of the lot", 300.0);
    if let Some(material) = picked {
        form.material = Some(material.id.clone());
    }
    // On a line of its own and cut off, so that no name moves the fields below.
    match &form.material {
        Some(material) => {
            let name = name_of(view, material);
            ui.add(Label::new(theme::strong(name.as_str())).truncate())
                .on_hover_text(name);
        }
        None => {
            ui.label(theme::small(ui, "none chosen"));
        }
    }
    ui.horizontal_wrapped(|ui| {
        // Batches have taken from a lot by its code.
        ui.add_enabled_ui(form.of.is_none(), |ui| {
            typed.push(field(ui, "Our lot code", &mut form.lot, 110.0));
        });
        choice(
            ui,
            "Status",
            &mut form.status,
            &LotStatus::ALL,
            |s| s.label().to_owned(),
            110.0,
        );
    });
    ui.horizontal_wrapped(|ui| {
        typed.push(field(ui, "Supplier", &mut form.supplier, 150.0));
        typed.push(field(ui, "Supplier's lot", &mut form.supplier_lot, 110.0));
    });
    ui.horizontal_wrapped(|ui| {
        typed.push(field(
            ui,
            "Contents of a pack, with its unit",
            &mut form.pack,
            110.0,
        ));
        typed.push(field(ui, "Packs", &mut form.packs, 50.0));
    });
    ui.horizontal_wrapped(|ui| {
        typed.push(
            day_field(ui, "Received", &mut form.received, today)
                .on_hover_text("As 2026-03-02; left empty, today"),
        );
        typed.push(
            day_field(ui, "Best before", &mut form.expiry, today).on_hover_text("As 2028-03-02"),
        );
    });
    ui.horizontal_wrapped(|ui| {
        typed.push(day_field(ui, "Opened", &mut form.opened, today).on_hover_text("As 2026-03-02"));
        typed.push(
            field(ui, "Days once opened", &mut form.days, 60.0)
                .on_hover_text("For how long it may be used once opened"),
        );
    });
    ui.horizontal_wrapped(|ui| {
        typed.push(field(ui, "Price of a pack", &mut form.price, 90.0));
        typed.push(
            field(ui, "Currency", &mut form.currency, 60.0)
                .on_hover_text(format!("Left empty, it is {}", stock.home)),
        );
        typed.push(
            field(ui, "Freight share", &mut form.freight, 80.0)
                .on_hover_text("This lot's share of the freight, for all its packs together"),
        );
        typed.push(field(ui, "Tax not reclaimed, %", &mut form.tax, 60.0));
    });
    ui.horizontal_wrapped(|ui| {
        typed.push(
            field(ui, "Made in batch", &mut form.made_in, 90.0)
                .on_hover_text("For a dilution or pre-mix of your own"),
        );
        typed.push(field(
            ui,
            "Certificate filed at",
            &mut form.certificate,
            180.0,
        ));
    });
    typed.push(field(ui, "Note", &mut form.note, 300.0));
    typed
}
