//! What the product is, for whom, and what was measured on it.

use eframe::egui::{self, Id, Response, Ui};
use formulation::amount::{Measure, typed};
use formulation::edit::Edit;
use formulation::finding::StatedField;
use formulation::formula::{BodySite, Date, Kinds, Market, Measured, Product, ProductType};
use formulation::material::ProductKind;
use formulation::quantity::Ph;

use super::{Aside, FormulaSheet, answer};
use crate::command::Command;
use crate::state::View;
use crate::theme;
use crate::widgets::entry::Entry;
use crate::widgets::refusal::figure;

/// Below this width of their row, in points, the chips say it in fewer words.
const SHORT_BELOW: f32 = 700.0;

/// So many letters are few words.
const SHORT_SAYS: usize = 38;

/// A button that says something of the product and leads to where it is set.
struct Chip {
    name: &'static str,
    says: String,
    /// The same in fewer words.
    short: String,
    /// The first of the fields it leads to.
    first: StatedField,
}

fn said(view: &View<'_>) -> [Chip; 3] {
    let variant = view.variant;
    let product = &variant.product;
    let washed = product.kinds.label();
    let kind = product.product_type.map(ProductType::label);
    let markets: Vec<&str> = product.markets.iter().map(|m| m.label()).collect();
    let sold = markets.join(", ");
    let ph = match (variant.measured.ph, variant.target_ph) {
        (Some(measured), Some(aim)) => (
            format!("pH {measured} measured, {aim} aimed at"),
            format!("pH {measured}, aim {aim}"),
        ),
        (Some(measured), None) => (
            format!("pH {measured} measured"),
            format!("pH {measured} measured"),
        ),
        (None, Some(aim)) => (format!("aims at pH {aim}"), format!("aim pH {aim}")),
        (None, None) => ("no pH aimed at".to_owned(), "no pH aim".to_owned()),
    };
    let of_market = if markets.is_empty() {
        ("no market stated".to_owned(), "no market".to_owned())
    } else {
        (format!("sold in {sold}"), sold)
    };
    [
        Chip {
            name: "Product settings",
            says: format!("{washed}, {}", kind.unwrap_or("type not stated")),
            short: kind
                .map(|kind| format!("{washed}, {kind}"))
                .filter(|both| both.len() <= SHORT_SAYS)
                .unwrap_or_else(|| kind.unwrap_or(washed).to_owned()),
            first: StatedField::Kind,
        },
        Chip {
            name: "Markets",
            says: of_market.0,
            short: of_market.1,
            first: StatedField::Markets,
        },
        Chip {
            name: "Aimed at and measured",
            says: ph.0,
            short: ph.1,
            first: StatedField::TargetPh,
        },
    ]
}

/// What the product is, in chips; each opens its settings at the side, with the cursor in
/// the first of them.
pub fn chips(ui: &mut Ui, view: &View<'_>, sheet: &mut FormulaSheet) {
    let open = sheet.aside == Some(Aside::Product);
    let short = ui.available_width() < SHORT_BELOW;
    for chip in said(view) {
        let says = chip.says;
        let button = theme::chip(ui, if short { &chip.short } else { &says }, open)
            .accessible_name(chip.name)
            .on_hover_text(format!(
                "{says}. What the product is, where it is sold, what was measured"
            ));
        ui.accesskit_node_builder(button.id, |node| node.set_description(says));
        if button.clicked() {
            // The chip that opened them closes them; another leads to its own.
            if open && sheet.opened_at == Some(chip.first) {
                sheet.aside = None;
            } else {
                sheet.opened_at = Some(chip.first);
                sheet.open_field(chip.first);
            }
        }
    }
}

/// All types of product, to choose one.
pub(super) fn choose_type(ui: &mut Ui, product: &mut Product) {
    let mut chosen = product.product_type;
    ui.selectable_value(&mut chosen, None, "not stated");
    for of in ProductType::ALL {
        ui.selectable_value(&mut chosen, Some(of), of.label());
    }
    if chosen != product.product_type {
        product.become_type(chosen);
    }
}

/// A tick for a kind of product; the last cannot be taken away.
pub fn kind_tick(ui: &mut Ui, kinds: &mut Kinds, kind: ProductKind, words: &str) -> Response {
    let mut is = kinds.contains(kind);
    let tick = ui
        .checkbox(&mut is, words)
        .on_hover_text("A product of both kinds is held to the stricter limits of the two");
    if tick.changed() {
        *kinds = if is {
            kinds.with(kind)
        } else {
            kinds.without(kind)
        };
    }
    tick
}

/// What the product is and what was measured on it.
pub fn panel(
    ui: &mut Ui,
    view: &View<'_>,
    asked: &mut Option<StatedField>,
    commands: &mut Vec<Command>,
) {
    let product = &view.variant.product;
    let mut next = product.clone();
    fields(ui, view, &mut next, asked);
    if next != *product {
        commands.push(Command::Edit(Edit::SetProduct(next)));
    }
    ui.separator();
    measured(ui, view, asked, commands);
}

fn fields(ui: &mut Ui, view: &View<'_>, next: &mut Product, asked: &mut Option<StatedField>) {
    ui.label(theme::strong("Product"));
    ui.horizontal(|ui| {
        for kind in ProductKind::ALL {
            let choice = kind_tick(ui, &mut next.kinds, kind, kind.label());
            answer(asked, StatedField::Kind, &choice);
        }
    });
    ui.horizontal(|ui| {
        ui.label("Type");
        let types = egui::ComboBox::from_id_salt("product type")
            .selected_text(next.product_type.map_or("not stated", ProductType::label))
            .width(ui.available_width().min(300.0))
            .show_ui(ui, |ui| choose_type(ui, next))
            .response
            .accessible_name("Product type")
            .on_hover_text("Many legal limits depend on it");
        answer(asked, StatedField::ProductType, &types);
    });
    ui.label(theme::small(ui, "Used on"));
    egui::Grid::new("places").num_columns(3).show(ui, |ui| {
        for (i, place) in BodySite::ALL.into_iter().enumerate() {
            let tick = flag(ui, &mut next.places, place, place.label());
            answer(asked, StatedField::Places, &tick);
            if i % 3 == 2 {
                ui.end_row();
            }
        }
    });
    ui.label(theme::small(ui, "Sold in"));
    ui.horizontal(|ui| {
        for market in Market::ALL {
            let tick = flag(ui, &mut next.markets, market, market.label());
            answer(asked, StatedField::Markets, &tick);
        }
    });
    for (on, words, field) in [
        (
            &mut next.under_three,
            "Made for children under three years",
            StatedField::UnderThree,
        ),
        (
            &mut next.spray,
            "Sprayed as an aerosol or fine mist",
            StatedField::Spray,
        ),
        (
            &mut next.professional,
            "For professional use only",
            StatedField::Professional,
        ),
        (
            &mut next.wet_use,
            "Reached by wet hands or water in use",
            StatedField::WetUse,
        ),
    ] {
        let tick = ui.checkbox(on, words);
        answer(asked, field, &tick);
    }

    let id = |what: &str| Id::unique((what.to_owned(), view.document.id, view.variant.id));
    ui.horizontal(|ui| {
        ui.label("Placed on the market on");
        let shown = next.market_date.map_or_else(String::new, |d| d.to_string());
        let entry = Entry::new(id("market date"), &shown, "Day of placing on the market")
            .width(120.0)
            .hint("year-month-day");
        let entry = figure(ui, entry, read_day);
        answer(asked, StatedField::MarketDate, &entry.response);
        entry.response.on_hover_text(
            "Decides between limits that change on a date; today counts if none is stated",
        );
        if let Some(day) = entry.read {
            next.market_date = day;
        }
    });
    ui.horizontal(|ui| {
        ui.label("Fragrance category");
        let shown = next.fragrance_category.clone().unwrap_or_default();
        let entry = Entry::new(id("fragrance category"), &shown, "Fragrance category")
            .width(56.0)
            .hint("none")
            .show(ui);
        answer(asked, StatedField::FragranceCategory, &entry.response);
        entry.response.on_hover_text(
            "Category of the fragrance trade association, 1 to 12, with a letter where divided",
        );
        if let Some(typed) = entry.done {
            let typed = typed.trim().to_uppercase();
            next.fragrance_category = (!typed.is_empty()).then(|| typed.into());
        }
    });
}

/// A day as typed; nothing typed means that none is stated.
fn read_day(text: &str) -> Result<Option<Date>, String> {
    typed::optional(text, typed::day).map_err(|e| e.to_string())
}

/// A tick for one member of a list, which keeps its order of display.
pub(super) fn flag<T: Copy + PartialEq + Ord>(
    ui: &mut Ui,
    list: &mut Vec<T>,
    one: T,
    words: &str,
) -> Response {
    let mut on = list.contains(&one);
    let tick = ui.checkbox(&mut on, words);
    if tick.changed() {
        if on {
            list.push(one);
            list.sort();
        } else {
            list.retain(|&other| other != one);
        }
    }
    tick
}

fn measured(
    ui: &mut Ui,
    view: &View<'_>,
    asked: &mut Option<StatedField>,
    commands: &mut Vec<Command>,
) {
    ui.label(theme::strong("pH aimed at, and what was measured"));
    ui.label(theme::small(
        ui,
        "A measured value overrides every estimate",
    ));
    let id = |what: &str| Id::unique((what.to_owned(), view.document.id, view.variant.id));
    let mut number = |ui: &mut Ui,
                      name: &str,
                      unit: &str,
                      shown: Option<String>,
                      measure,
                      field: Option<StatedField>| {
        let mut done = None;
        ui.horizontal(|ui| {
            theme::caption(ui, 150.0, name);
            let entry = Entry::new(id(name), shown.as_deref().unwrap_or(""), name)
                .width(80.0)
                .hint("not stated")
                .right();
            let entry = figure(ui, entry, |text| {
                typed::optional(text, |text| typed::value(text, &measure))
            });
            ui.label(theme::small(ui, unit));
            if let Some(field) = field {
                answer(asked, field, &entry.response);
            }
            done = entry.read;
        });
        done
    };
    let now = &view.variant.measured;
    let mut next = now.clone();
    let target = number(
        ui,
        "pH aimed at",
        "",
        view.variant.target_ph.map(|ph| ph.to_string()),
        Measure::PH,
        Some(StatedField::TargetPh),
    );
    if let Some(ph) = number(
        ui,
        "pH measured",
        "at 25 °C",
        now.ph.map(|ph| ph.to_string()),
        Measure::PH,
        Some(StatedField::MeasuredPh),
    ) {
        next.ph = ph.and_then(Ph::new);
    }
    if let Some(density) = number(
        ui,
        "Density measured",
        Measure::DENSITY.unit,
        now.density.map(typed::density_field),
        Measure::DENSITY,
        None,
    ) {
        next.density = density.map(typed::density_of);
    }
    if let Some(activity) = number(
        ui,
        "Water activity",
        "0 to 1",
        now.water_activity.map(|a| a.to_string()),
        Measure::WATER_ACTIVITY,
        None,
    ) {
        next.water_activity = activity;
    }
    let method = now.viscosity_mpa_s.as_ref().map(|(_, m)| m.clone());
    if let Some(viscosity) = number(
        ui,
        "Viscosity measured",
        Measure::VISCOSITY.unit,
        now.viscosity_mpa_s.as_ref().map(|(v, _)| v.to_string()),
        Measure::VISCOSITY,
        None,
    ) {
        next.viscosity_mpa_s = viscosity.map(|v| (v, method.unwrap_or_default()));
    }
    viscosity_method(ui, view, now, &mut next);
    if let Some(ph) = target {
        commands.push(Command::Edit(Edit::SetTargetPh(ph.and_then(Ph::new))));
    }
    if next != *now {
        commands.push(Command::Edit(Edit::SetMeasured(next)));
    }
}

fn viscosity_method(ui: &mut Ui, view: &View<'_>, now: &Measured, next: &mut Measured) {
    let Some((_, method)) = &now.viscosity_mpa_s else {
        return;
    };
    ui.horizontal(|ui| {
        theme::caption(ui, 150.0, "Method of viscosity");
        let id = Id::unique(("viscosity method", view.document.id, view.variant.id));
        let entry = Entry::new(id, method, "Method of viscosity")
            .width(200.0)
            .hint("spindle, speed, temperature")
            .words()
            .show(ui);
        if let (Some(typed), Some(viscosity)) = (entry.done, &mut next.viscosity_mpa_s) {
            viscosity.1 = typed.trim().into();
        }
    });
}
