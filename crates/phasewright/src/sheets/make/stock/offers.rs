//! Packs and prices that suppliers ask for.

use eframe::egui::{Grid, Ui};
use formulation::cost::{PriceByMass, cents};
use formulation::quantity::Decimal;
use formulation::stock::{Offer, Stock};

use super::form::{self, StockForm};
use crate::sheets::make::{change_or_remove, entered, field, name_of};
use crate::state::View;
use crate::theme;
use crate::widgets::material_picker::MaterialPicker;
use crate::widgets::refusal::outcome;

/// Fields of an offer, called as those of a lot are.
const FIELDS: [&str; 4] = [
    "Supplier",
    "Contents of a pack, with its unit",
    "Price of a pack",
    "Currency",
];

/// What the part keeps between frames.
#[derive(Default)]
pub struct OffersPage {
    form: StockForm,
    picker: MaterialPicker,
    /// The offer that is being changed.
    changing: Option<Offer>,
}

/// Draws the offers; whether one was added or taken away.
pub fn ui(ui: &mut Ui, view: &View<'_>, page: &mut OffersPage, stock: &mut Stock) -> bool {
    let (mut remove, mut change) = (None, None);
    if stock.offers.is_empty() {
        ui.label("No offer is entered yet. An offer gives pack and price for the shopping list, and for the cost before a lot is in.");
    } else {
        Grid::new("offers")
            .num_columns(7)
            .spacing([theme::GAP, theme::TIGHT])
            .striped(true)
            .show(ui, |ui| {
                for head in [
                    "Material",
                    "Supplier",
                    "Pack",
                    "Price of a pack",
                    "A kilogram",
                    "As of",
                    "",
                ] {
                    ui.label(theme::small(ui, head));
                }
                ui.end_row();
                for (place, name, offer) in compared(view, &stock.offers) {
                    let price = offer.price.map_or_else(
                        || "not known".to_owned(),
                        |p| format!("{p} {}", offer.currency),
                    );
                    ui.label(&name);
                    ui.label(offer.supplier.as_ref());
                    ui.label(format!("{} g", offer.pack));
                    ui.label(&price);
                    ui.label(per_kilogram(offer).map_or_else(
                        || "not known".to_owned(),
                        |p| format!("{} {}", cents(p), offer.currency),
                    ));
                    let day = offer.day.map_or_else(String::new, |day| day.to_string());
                    ui.label(theme::small(ui, day));
                    let words = format!("the offer of {} g of {name} for {price}", offer.pack);
                    ui.horizontal(|ui| match change_or_remove(ui, &words, true) {
                        Some(true) => change = Some(offer.clone()),
                        Some(false) => remove = Some(place),
                        None => {}
                    });
                    ui.end_row();
                }
            });
    }
    if let Some(offer) = change {
        page.form = StockForm {
            material: Some(offer.material.clone()),
            supplier: offer.supplier.to_string(),
            pack: format!("{} g", offer.pack),
            price: offer.price.map(|p| p.to_string()).unwrap_or_default(),
            currency: offer.currency.to_string(),
            ..StockForm::default()
        };
        page.changing = Some(offer);
    }
    let known = &stock.offers;
    page.changing.take_if(|offer| !known.contains(offer));
    ui.add_space(theme::GAP);
    ui.label(theme::strong(match page.changing {
        None => "A new offer",
        Some(_) => "The offer as it is from today on",
    }));
    let added = new_offer(ui, view, page, stock);
    let removed = remove.map(|place| stock.offers.remove(place)).is_some();
    added || removed
}

/// What is asked for a kilogram, in the currency of the offer.
fn per_kilogram(offer: &Offer) -> Option<Decimal> {
    let (amount, mass) = (offer.price?, offer.pack);
    PriceByMass { amount, mass }.per_kilogram().ok()
}

/// The offers with their places and the names of their materials: those of one material stand
/// together, in each currency the cheapest first.
fn compared<'s>(view: &View<'_>, offers: &'s [Offer]) -> Vec<(usize, String, &'s Offer)> {
    let named = |(place, offer): (usize, &'s Offer)| (place, name_of(view, &offer.material), offer);
    let mut offers: Vec<_> = offers.iter().enumerate().map(named).collect();
    offers.sort_by_cached_key(|(_, name, offer)| {
        let price = per_kilogram(offer);
        (
            name.clone(),
            offer.currency.to_string(),
            price.is_none(),
            price,
        )
    });
    offers
}

fn new_offer(ui: &mut Ui, view: &View<'_>, page: &mut OffersPage, stock: &mut Stock) -> bool {
    let OffersPage {
        form,
        picker,
        changing,
    } = page;
    let id = ui.scope_id().with("material of the offer");
    ui.horizontal_wrapped(|ui| {
        let picked = picker.show(ui, view.state, id, "Material of the offer", 280.0);
        if let Some(material) = picked {
            form.material = Some(material.id.clone());
        }
        match &form.material {
            Some(material) => ui.label(theme::strong(name_of(view, material))),
            None => ui.label(theme::small(ui, "none chosen")),
        };
    });
    let [supplier, pack, price, currency] = FIELDS;
    let fields = ui.horizontal_wrapped(|ui| {
        [
            field(ui, supplier, &mut form.supplier, 150.0),
            field(ui, pack, &mut form.pack, 110.0),
            field(ui, price, &mut form.price, 90.0),
            field(ui, currency, &mut form.currency, 60.0)
                .on_hover_text(format!("Left empty, it is {}", stock.home)),
        ]
    });
    let word = match changing {
        None => "Add the offer",
        Some(_) => "Keep the offer",
    };
    let (mut taken, mut left) = (false, false);
    ui.horizontal(|ui| {
        taken = ui.button(word).clicked();
        left = changing.is_some() && ui.button("Leave the offer as it is").clicked();
    });
    if left {
        *changing = None;
        *form = StockForm::default();
    }
    let asked = taken || entered(ui, &fields.inner);
    // Read as a lot, of which an offer needs only material, pack and price.
    let read = asked.then(|| form::read_lot(form, "offer", view));
    let (lot, came) = match read {
        Some(Ok(lot)) => (Some(lot), Some(Ok(()))),
        Some(Err(wrong)) => {
            let refused = fields.inner.iter().zip(FIELDS);
            for (field, name) in refused {
                if wrong.field == Some(name) {
                    field.request_focus();
                }
            }
            (None, Some(Err(wrong.why)))
        }
        None => (None, None),
    };
    let chosen = form
        .material
        .as_ref()
        .map_or_else(String::new, ToString::to_string);
    let typed = [
        &chosen,
        &form.supplier,
        &form.pack,
        &form.price,
        &form.currency,
    ];
    outcome(ui, "new offer", &typed.map(String::clone), came);
    let Some(lot) = lot else {
        return false;
    };
    let offer = Offer {
        material: lot.material,
        supplier: lot.supplier,
        pack: lot.pack,
        price: lot.price_per_pack,
        currency: lot.currency,
        day: Some(view.state.today()),
    };
    let old = changing.take();
    let mut all = stock.offers.iter_mut();
    match old.and_then(|old| all.find(|one| **one == old)) {
        Some(one) => *one = offer,
        None => stock.offers.push(offer),
    }
    *form = StockForm::default();
    true
}
