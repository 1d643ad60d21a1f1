//! What to buy for planned batches.

use std::collections::BTreeMap;
use std::sync::Arc;

use eframe::egui::{Grid, Ui};
use formulation::amount::typed;
use formulation::batch::packaging_plan::{PackagingPlan, pieces_lacking};
use formulation::batch::weigh_sheet::WeighSheet;
use formulation::file::shopping_export;
use formulation::finding::Level;
use formulation::mass::{ExactMass, MassUnit};
use formulation::material::MaterialId;
use formulation::plain_words::sentence;
use formulation::stock::{Purchase, set_aside_words, sum_needs};

use crate::command::{Command, Making};
use crate::sheets::make::{MOST_COUNTED, action, caution, field, name_of};
use crate::state::View;
use crate::theme;

/// Batches that are planned, kept while the window is open.
struct Planned {
    formula: Arc<str>,
    batch: ExactMass,
    count: u32,
    needs: BTreeMap<MaterialId, ExactMass>,
    packaging: PackagingPlan,
    containers: u32,
}

impl Planned {
    /// Kinds of packaging and how many pieces all batches take.
    fn pieces(&self) -> impl Iterator<Item = (&str, u64)> {
        let each = u64::from(self.containers) * u64::from(self.count);
        let kinds = self.packaging.kinds.iter();
        kinds.map(move |kind| (kind.as_ref(), each))
    }
}

/// What the part keeps between frames.
pub struct ShoppingPage {
    batches: String,
    planned: Vec<Planned>,
}

impl Default for ShoppingPage {
    fn default() -> Self {
        Self {
            batches: "1".to_owned(),
            planned: Vec::new(),
        }
    }
}

/// Draws the list.
pub fn ui(
    ui: &mut Ui,
    view: &View<'_>,
    page: &mut ShoppingPage,
    sheet: Option<&WeighSheet>,
    commands: &mut Vec<Command>,
) {
    ui.label(theme::strong("What to buy for planned batches"));
    planned(ui, page);
    let current = sheet.and_then(|sheet| {
        Some(Planned {
            formula: sheet.formula.clone(),
            batch: sheet.plan.sized.batch,
            count: typed::count(&page.batches, "a number of batches", MOST_COUNTED).ok()?,
            needs: sheet.plan.needs(),
            packaging: sheet.packaging.clone(),
            containers: sheet.filling.map_or(0, |f| f.count),
        })
    });
    let add = plan_more(ui, page);
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
    let lacking = pieces(view, page, current.as_ref());
    for words in &lacking {
        caution(ui, Level::Caution, sentence(words));
    }
    if add {
        page.planned.extend(current);
    }
    let books = &view.state.books;
    let stock = books.stock();
    let list = stock.shopping_list(&needs, books.usage(), view.state.today());
    if list.is_empty() {
        ui.label(if lacking.is_empty() {
            "The stock covers it."
        } else {
            "The stock covers the raw materials."
        });
        return;
    }
    if ui.button("Save the list…").clicked() {
        let text = shopping_export::csv(&list, stock.home, |id| name_of(view, id));
        let text = text.map_err(|e| e.to_string());
        commands.push(Command::Make(Making::new(
            "Save the shopping list",
            "shopping list.csv",
            move || text.clone().map(String::into_bytes),
        )));
    }
    table(ui, view, &list);
}

/// What there is too little of for the containers, in words.
fn pieces(view: &View<'_>, page: &ShoppingPage, current: Option<&Planned>) -> Vec<String> {
    let books = &view.state.books;
    let stock = (books.stock().packaging.as_slice(), books.usage());
    if page.planned.is_empty() {
        let Some(current) = current else {
            return Vec::new();
        };
        if current.packaging.kinds.is_empty() {
            return current.packaging.lacking.clone();
        }
        return pieces_lacking(stock, current.pieces());
    }
    pieces_lacking(stock, page.planned.iter().flat_map(Planned::pieces))
}

/// The batches that are planned, each with a button that takes it off.
fn planned(ui: &mut Ui, page: &mut ShoppingPage) {
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
                .accessible_name(format!("Remove {words}"))
                .clicked()
            {
                remove = Some(place);
            }
        });
    }
    if let Some(place) = remove {
        page.planned.remove(place);
    }
}

/// How many batches more; whether they are to be planned.
fn plan_more(ui: &mut Ui, page: &mut ShoppingPage) -> bool {
    let row = ui.horizontal_wrapped(|ui| {
        field(
            ui,
            "Batches of the size on the weigh sheet",
            &mut page.batches,
            60.0,
        );
        action(ui, "Plan them")
            .on_hover_text("Buys for these and further batches together; also of other formulas")
            .clicked()
    });
    row.inner
}

fn table(ui: &mut Ui, view: &View<'_>, list: &[Purchase]) {
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
            for purchase in list {
                ui.label(name_of(view, &purchase.material));
                ui.label(format!("{} g", purchase.need));
                ui.vertical(|ui| {
                    ui.label(format!("{} g", purchase.in_stock));
                    let gram = ExactMass::from_femtograms(10_000_000_000_000);
                    let aside = set_aside_words(&purchase.set_aside, gram, MassUnit::Gram);
                    if let Some(words) = aside {
                        ui.label(theme::small(ui, words));
                    }
                });
                ui.label(format!("{} g", purchase.lacking));
                ui.label(packs(view, purchase));
                ui.label(
                    purchase
                        .left_over
                        .map_or_else(String::new, |m| format!("{m} g")),
                );
                ui.end_row();
            }
        });
}

/// The packs of a purchase with their prices, a line each.
fn packs(view: &View<'_>, purchase: &Purchase) -> String {
    if purchase.packs.is_empty() {
        return "pack size not known; add an offer".to_owned();
    }
    let home = view.state.books.stock().home;
    let packs = purchase.packs.iter().map(|p| {
        let price = p.price.map_or_else(
            || "price not known".to_owned(),
            |price| format!("{price} {home}"),
        );
        format!("{} × {} g {}, {price}", p.count, p.pack, p.supplier)
    });
    packs.collect::<Vec<String>>().join("\n")
}
