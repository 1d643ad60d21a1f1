//! Lots in stock, what is low or expires, and what to buy.

use std::collections::BTreeMap;
use std::sync::Arc;

use eframe::egui::{Grid, Ui};
use formulation::amount::{Measure, typed};
use formulation::batch::mass::{ExactMass, MassUnit, read_mass};
use formulation::batch::weigh_sheet::WeighSheet;
use formulation::cost::{PriceByMass, landed_price};
use formulation::file::shopping_export;
use formulation::finding::Level;
use formulation::material::MaterialId;
use formulation::quantity::{Currency, Decimal};
use formulation::stock::{Adjustment, Lot, LotId, LotStatus, Offer, Stock, sum_needs};

use super::{action, caution, choice, field, name_of, push, tell};
use crate::command::{Command, Export, WorksCommand};
use crate::state::View;
use crate::theme;
use crate::widgets::material_picker::MaterialPicker;

/// A lot or an offer as it is typed in.
struct Form {
    /// The lot that is mended; `None` for one that comes in.
    of: Option<LotId>,
    material: Option<MaterialId>,
    lot: String,
    supplier: String,
    supplier_lot: String,
    received: String,
    expiry: String,
    opened: String,
    days: String,
    pack: String,
    packs: String,
    price: String,
    currency: String,
    freight: String,
    tax: String,
    status: LotStatus,
    made_in: String,
    certificate: String,
    note: String,
}

impl Default for Form {
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

impl Form {
    /// A lot of the stock, to be mended.
    fn of(lot: &Lot) -> Self {
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

/// What the page keeps between frames.
pub struct StockPage {
    form: Form,
    picker: MaterialPicker,
    adjust_lot: String,
    adjust_by: String,
    adjust_why: String,
    level: String,
    batches: String,
    planned: Vec<Planned>,
}

/// Batches that are planned, kept while the window is open.
struct Planned {
    formula: Arc<str>,
    batch: ExactMass,
    count: u32,
    needs: BTreeMap<MaterialId, ExactMass>,
}

impl Default for StockPage {
    fn default() -> Self {
        Self {
            form: Form::default(),
            picker: MaterialPicker::default(),
            adjust_lot: String::new(),
            adjust_by: String::new(),
            adjust_why: String::new(),
            level: String::new(),
            batches: "1".to_owned(),
            planned: Vec::new(),
        }
    }
}

/// Draws the page.
pub fn ui(
    ui: &mut Ui,
    view: &View<'_>,
    page: &mut StockPage,
    sheet: Option<&WeighSheet>,
    commands: &mut Vec<Command>,
) {
    let works = &view.state.works;
    let mut stock = works.stock().clone();
    let mut changed = false;
    warnings(ui, view);
    match lots(ui, view, &mut stock, &mut page.form) {
        Ok(done) => changed |= done,
        Err(problem) => tell(commands, problem),
    }
    changed |= offers(ui, view, &mut stock);
    ui.add_space(theme::GAP);
    let outcome = forms(ui, view, page, &mut stock);
    match outcome {
        Ok(done) => changed |= done,
        Err(problem) => tell(commands, problem),
    }
    if changed {
        push(
            commands,
            WorksCommand::SetStock(Box::new((stock, works.workshop().clone()))),
        );
    }
    ui.add_space(theme::GAP);
    shopping(ui, view, page, sheet, commands);
}

fn warnings(ui: &mut Ui, view: &View<'_>) {
    /// How many days ahead an expiry is told.
    const AHEAD: u32 = 60;
    let works = &view.state.works;
    let (stock, usage, today) = (works.stock(), works.usage(), view.state.today());
    for low in stock.low(usage, today) {
        let words = format!(
            "{} is low: {} g of at least {} g",
            name_of(view, &low.material),
            low.left,
            low.level
        );
        caution(ui, Level::Caution, words);
    }
    for lot in stock.expiring(usage, today, AHEAD) {
        let level = if lot.expired {
            Level::Breach
        } else {
            Level::Caution
        };
        let verb = if lot.expired { "expired" } else { "expires" };
        let words = format!(
            "{} of {} {verb} on {}, {} g left",
            lot.lot.id,
            name_of(view, &lot.lot.material),
            lot.last_day,
            lot.left
        );
        caution(ui, level, words);
    }
}

/// The lots; whether one was changed.
fn lots(ui: &mut Ui, view: &View<'_>, stock: &mut Stock, form: &mut Form) -> Result<bool, String> {
    let works = &view.state.works;
    let mut changed = false;
    let mut remove = None;
    if stock.lots.is_empty() {
        ui.label("No lot is entered yet.");
        return Ok(false);
    }
    Grid::new("lots")
        .num_columns(9)
        .spacing([theme::GAP, theme::TIGHT])
        .striped(true)
        .show(ui, |ui| {
            for head in [
                "Lot",
                "Material",
                "Supplier and their lot",
                "Received",
                "Use until",
                "Left",
                "A kilogram, all in",
                "Status",
                "",
            ] {
                ui.label(theme::small(ui, head));
            }
            ui.end_row();
            for place in 0..stock.lots.len() {
                let Some(lot) = stock.lots.get(place).cloned() else {
                    continue;
                };
                let filed = [&lot.certificate, &lot.note];
                let filed: Vec<&str> = filed.into_iter().map(AsRef::as_ref).collect();
                ui.label(theme::strong(lot.id.to_string()))
                    .on_hover_text(format!("Certificate and note: {}", filed.join(" ")));
                ui.label(name_of(view, &lot.material));
                ui.label(format!("{} {}", lot.supplier, lot.supplier_lot));
                ui.label(lot.received.to_string());
                ui.label(
                    lot.last_day()
                        .map_or_else(|| "not stated".to_owned(), |d| d.to_string()),
                );
                ui.label(format!("{} g", stock.left(&lot, works.usage())));
                let price = landed_price(&lot, stock).and_then(PriceByMass::per_kilogram);
                ui.label(match price {
                    Ok(price) => format!("{price} {}", stock.home),
                    Err(why) => why.to_string(),
                });
                let mut status = lot.status;
                eframe::egui::ComboBox::from_id_salt(("status", lot.id.as_str()))
                    .selected_text(status.label())
                    .width(90.0)
                    .show_ui(ui, |ui| {
                        for one in LotStatus::ALL {
                            ui.selectable_value(&mut status, one, one.label());
                        }
                    })
                    .response
                    .accessible_name(format!("Status of {}", lot.id));
                ui.horizontal(|ui| {
                    let today = view.state.today();
                    if lot.opened.is_none()
                        && ui
                            .button("Opened today")
                            .on_hover_text(format!("{} was opened today", lot.id))
                            .clicked()
                        && let Some(lot) = stock.lots.get_mut(place)
                    {
                        lot.opened = Some(today);
                        changed = true;
                    }
                    if ui
                        .button("Edit lot")
                        .on_hover_text(format!("Put {} into the fields below", lot.id))
                        .clicked()
                    {
                        *form = Form::of(&lot);
                    }
                    if works.usage().of(&lot.id).is_zero()
                        && ui
                            .button("Remove lot")
                            .on_hover_text(format!("Remove {}, entered by mistake", lot.id))
                            .clicked()
                    {
                        remove = Some(lot.id.clone());
                    }
                });
                if status != lot.status
                    && let Some(lot) = stock.lots.get_mut(place)
                {
                    lot.status = status;
                    changed = true;
                }
                ui.end_row();
            }
        });
    if let Some(id) = remove {
        stock
            .remove(&id, works.usage())
            .map_err(|e| e.to_string())?;
        changed = true;
    }
    Ok(changed)
}

/// Packs and prices asked for; whether one was taken away.
fn offers(ui: &mut Ui, view: &View<'_>, stock: &mut Stock) -> bool {
    if stock.offers.is_empty() {
        return false;
    }
    let mut remove = None;
    ui.collapsing(format!("Offers ({})", stock.offers.len()), |ui| {
        for (place, offer) in stock.offers.iter().enumerate() {
            let price = offer.price.map_or_else(
                || "price not known".to_owned(),
                |p| format!("{p} {}", offer.currency),
            );
            let from = if offer.supplier.is_empty() {
                String::new()
            } else {
                format!(" from {}", offer.supplier)
            };
            let words = format!(
                "{}{from}: {} g for {price}",
                name_of(view, &offer.material),
                offer.pack
            );
            ui.horizontal(|ui| {
                ui.label(&words);
                if ui
                    .small_button("Remove")
                    .on_hover_text(format!("Remove {words}"))
                    .clicked()
                {
                    remove = Some(place);
                }
            });
        }
    });
    remove.map(|place| stock.offers.remove(place)).is_some()
}

/// A number that may be left out.
fn optional<T>(
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

fn decimal(text: &str) -> Option<Decimal> {
    typed::decimal(text, &Measure::MONEY).ok()
}

fn read_lot(form: &Form, code: &str, view: &View<'_>) -> Result<Lot, String> {
    let home = view.state.works.stock().home;
    let day = |text: &str| text.parse().ok();
    let currency = if form.currency.trim().is_empty() {
        home
    } else {
        Currency::new(&form.currency)
            .ok_or_else(|| format!("“{}” is not a currency such as EUR", form.currency.trim()))?
    };
    Ok(Lot {
        id: LotId::new(code).ok_or("Type the code of the lot")?,
        material: form.material.clone().ok_or("Choose the material first")?,
        supplier: form.supplier.trim().into(),
        supplier_lot: form.supplier_lot.trim().into(),
        received: optional(&form.received, day, "a day such as 2026-03-02")?
            .unwrap_or_else(|| view.state.today()),
        expiry: optional(&form.expiry, day, "a day such as 2028-03-02")?,
        opened: optional(&form.opened, day, "a day such as 2026-03-02")?,
        days_once_opened: optional(&form.days, |t| t.parse().ok(), "a number of days")?,
        pack: read_mass(&form.pack, None).map_err(|e| e.to_string())?,
        packs: form
            .packs
            .trim()
            .parse()
            .map_err(|_e| "Packs are a whole number".to_owned())?,
        price_per_pack: optional(&form.price, decimal, "a price such as 12.50")?,
        currency,
        freight_share: optional(&form.freight, decimal, "a sum such as 3.20")?.unwrap_or_default(),
        tax_percent: optional(&form.tax, decimal, "a percentage such as 20")?.unwrap_or_default(),
        status: form.status,
        made_in: optional(
            &form.made_in,
            |t| formulation::batch::code::BatchCode::new(t).ok(),
            "a batch code",
        )?,
        certificate: form.certificate.trim().into(),
        note: form.note.trim().into(),
    })
}

fn forms(
    ui: &mut Ui,
    view: &View<'_>,
    page: &mut StockPage,
    stock: &mut Stock,
) -> Result<bool, String> {
    let mut changed = false;
    let form = &mut page.form;
    ui.label(theme::strong(match &form.of {
        Some(lot) => format!("Lot {lot}"),
        None => "A lot that came in, or an offer".to_owned(),
    }));
    let id = ui.scope_id().with("material of the lot");
    ui.horizontal(|ui| {
        let picked = page
            .picker
            .show(ui, view.state, id, "Material of the lot", 300.0);
        if let Some(material) = picked {
            form.material = Some(material.id.clone());
        }
        match &form.material {
            Some(material) => ui.label(theme::strong(name_of(view, material))),
            None => ui.label(theme::small(ui, "none chosen")),
        };
    });
    ui.horizontal_wrapped(|ui| {
        // Batches have taken from a lot by its code.
        ui.add_enabled_ui(form.of.is_none(), |ui| {
            field(ui, "Our lot code", &mut form.lot, 110.0);
        });
        field(ui, "Supplier", &mut form.supplier, 150.0);
        field(ui, "Supplier's lot", &mut form.supplier_lot, 110.0);
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
        field(ui, "Contents of a pack", &mut form.pack, 110.0);
        field(ui, "Packs", &mut form.packs, 50.0);
        field(ui, "Price of a pack", &mut form.price, 90.0);
        field(ui, "Currency", &mut form.currency, 60.0)
            .on_hover_text(format!("Left empty, it is {}", stock.home));
        field(ui, "Freight share", &mut form.freight, 90.0)
            .on_hover_text("This lot's share of the freight, for all its packs together");
        field(ui, "Tax not reclaimed, %", &mut form.tax, 60.0);
    });
    ui.horizontal_wrapped(|ui| {
        field(ui, "Received", &mut form.received, 100.0)
            .on_hover_text("As 2026-03-02; left empty, today");
        field(ui, "Best before", &mut form.expiry, 100.0).on_hover_text("As 2028-03-02");
        field(ui, "Opened", &mut form.opened, 100.0).on_hover_text("As 2026-03-02");
        field(ui, "Days once opened", &mut form.days, 60.0)
            .on_hover_text("For how long it may be used once opened");
    });
    ui.horizontal_wrapped(|ui| {
        field(ui, "Made in batch", &mut form.made_in, 110.0)
            .on_hover_text("For a dilution or pre-mix of your own");
        field(ui, "Certificate filed at", &mut form.certificate, 180.0);
        field(ui, "Note", &mut form.note, 220.0);
    });
    let mut outcome = Ok(());
    ui.horizontal_wrapped(|ui| {
        if let Some(of) = form.of.clone() {
            let save = theme::main_button(ui, format!("Save {of}")).clicked();
            let leave = ui.button("Leave it as it was").clicked();
            if save {
                outcome = read_lot(form, of.as_str(), view)
                    .and_then(|lot| stock.replace(lot).map_err(|e| e.to_string()));
                changed |= outcome.is_ok();
            }
            if leave || save && outcome.is_ok() {
                *form = Form::default();
            }
            return;
        }
        if ui.button("Add the lot").clicked() {
            outcome = read_lot(form, &form.lot, view)
                .and_then(|lot| stock.add(lot).map_err(|e| e.to_string()));
            if outcome.is_ok() {
                changed = true;
                form.lot.clear();
            }
        }
        if ui
            .button("Keep as an offer")
            .on_hover_text("Pack and price for the shopping list and the cost")
            .clicked()
        {
            // Read as a lot, of which an offer needs only pack and price.
            outcome = read_lot(form, "offer", view).map(|lot| {
                stock.offers.push(Offer {
                    material: lot.material,
                    supplier: lot.supplier,
                    pack: lot.pack,
                    price: lot.price_per_pack,
                    currency: lot.currency,
                });
            });
            changed |= outcome.is_ok();
        }
    });
    outcome?;
    let mut outcome = Ok(());
    ui.horizontal_wrapped(|ui| {
        field(ui, "Low below", &mut page.level, 110.0)
            .on_hover_text("Below this much, the material is listed as low");
        if action(ui, "Set the level").clicked() {
            let material = page.form.material.clone();
            outcome = material
                .ok_or_else(|| "Choose the material first".to_owned())
                .and_then(|material| {
                    let level = read_mass(&page.level, Some(MassUnit::Gram));
                    Ok((material, level.map_err(|e| e.to_string())?))
                })
                .map(|(material, level)| {
                    stock.reorder.insert(material, level);
                    changed = true;
                });
        }
    });
    outcome?;
    ui.add_space(theme::TIGHT);
    ui.label(theme::strong("Correct what is left of a lot"));
    let mut outcome = Ok(());
    ui.horizontal_wrapped(|ui| {
        field(ui, "Lot to correct", &mut page.adjust_lot, 100.0);
        field(ui, "Really left", &mut page.adjust_by, 80.0);
        field(ui, "Why: spill, recount …", &mut page.adjust_why, 200.0);
        if action(ui, "Correct the lot").clicked() {
            outcome = adjust(view, page, stock);
            changed |= outcome.is_ok();
        }
    });
    outcome?;
    Ok(changed)
}

fn adjust(view: &View<'_>, page: &StockPage, stock: &mut Stock) -> Result<(), String> {
    let lot = LotId::new(&page.adjust_lot)
        .and_then(|id| stock.lot(&id).cloned())
        .ok_or("There is no lot of this code")?;
    let really = read_mass(&page.adjust_by, Some(MassUnit::Gram)).map_err(|e| e.to_string())?;
    if page.adjust_why.trim().is_empty() {
        return Err("Say why the lot is corrected".to_owned());
    }
    let change = really - stock.left(&lot, view.state.works.usage());
    stock.adjustments.push(Adjustment {
        lot: lot.id,
        day: view.state.today(),
        change,
        reason: page.adjust_why.trim().into(),
    });
    Ok(())
}

fn shopping(
    ui: &mut Ui,
    view: &View<'_>,
    page: &mut StockPage,
    sheet: Option<&WeighSheet>,
    commands: &mut Vec<Command>,
) {
    ui.label(theme::strong("What to buy for planned batches"));
    let mut remove = None;
    for (place, planned) in page.planned.iter().enumerate() {
        let words = format!(
            "{} × {} g of {}",
            planned.count, planned.batch, planned.formula
        );
        ui.horizontal(|ui| {
            ui.label(&words);
            if ui
                .small_button("Remove")
                .on_hover_text(format!("Remove {words}"))
                .clicked()
            {
                remove = Some(place);
            }
        });
    }
    if let Some(place) = remove {
        page.planned.remove(place);
    }
    let current = sheet.and_then(|sheet| {
        Some(Planned {
            formula: sheet.formula.clone(),
            batch: sheet.plan.sized.batch,
            count: page.batches.trim().parse().ok()?,
            needs: sheet.plan.needs(),
        })
    });
    let mut add = false;
    ui.horizontal_wrapped(|ui| {
        field(
            ui,
            "Batches of the size on the weigh sheet",
            &mut page.batches,
            60.0,
        );
        add = action(ui, "Plan them")
            .on_hover_text("Buys for these and further batches together; also of other formulas")
            .clicked();
    });
    let list = match (&current, page.planned.is_empty()) {
        (Some(current), true) => vec![(&current.needs, current.count)],
        (None, true) => {
            ui.label(theme::small(
                ui,
                "Type a whole number; the weigh sheet must be in order.",
            ));
            return;
        }
        (_, false) => page.planned.iter().map(|p| (&p.needs, p.count)).collect(),
    };
    let needs = sum_needs(list);
    if add {
        page.planned.extend(current);
    }
    let works = &view.state.works;
    let list = works
        .stock()
        .shopping_list(&needs, works.usage(), view.state.today());
    if list.is_empty() {
        ui.label("The stock covers it.");
        return;
    }
    if ui.button("Save the list…").clicked() {
        match shopping_export::csv(&list, works.stock().home, |id| name_of(view, id)) {
            Ok(text) => commands.push(Command::Export(Export {
                title: "Save the shopping list".to_owned(),
                file_name: "shopping list.csv".to_owned(),
                bytes: text.into_bytes().into(),
            })),
            Err(error) => tell(commands, error.to_string()),
        }
    }
    Grid::new("shopping")
        .num_columns(6)
        .spacing([theme::GAP, theme::TIGHT])
        .striped(true)
        .show(ui, |ui| {
            for head in [
                "Material",
                "Needed",
                "In stock",
                "Lacking",
                "Packs to buy",
                "Left over",
            ] {
                ui.label(theme::small(ui, head));
            }
            ui.end_row();
            for purchase in &list {
                ui.label(name_of(view, &purchase.material));
                ui.label(format!("{} g", purchase.need));
                ui.label(format!("{} g", purchase.in_stock));
                ui.label(format!("{} g", purchase.lacking));
                let packs: Vec<String> = purchase
                    .packs
                    .iter()
                    .map(|p| {
                        let price = p.price.map_or_else(
                            || "price not known".to_owned(),
                            |price| format!("{price} {}", works.stock().home),
                        );
                        format!("{} × {} g {}, {price}", p.count, p.pack, p.supplier)
                    })
                    .collect();
                ui.label(if packs.is_empty() {
                    "pack size not known; add an offer".to_owned()
                } else {
                    packs.join("\n")
                });
                ui.label(
                    purchase
                        .left_over
                        .map_or_else(String::new, |m| format!("{m} g")),
                );
                ui.end_row();
            }
        });
}
