//! The lots of raw materials: a table, and beside it everything about the lot chosen.

use std::collections::BTreeSet;

use eframe::egui::{ComboBox, ScrollArea, TextEdit, Ui};
use egui_extras::TableRow;
use formulation::cost::{PriceByMass, landed_price};
use formulation::finding::Level;
use formulation::formula::Date;
use formulation::mass::{ExactMass, MassUnit, read_mass};
use formulation::stock::{Adjustment, Lot, LotId, LotStatus, Stock};

use super::beside::{self, Beside, HasBeside, ROW, Wrong, figures, heading};
use super::form::{self, StockForm};
use crate::sheets::make::{action, caution, choice, field, name_of};
use crate::state::View;
use crate::theme;
use crate::widgets::choice::choice_row;
use crate::widgets::fitted::fitted_label;
use crate::widgets::focus::region;
use crate::widgets::material_picker::MaterialPicker;

/// Heading of the column of prices.
const PRICE: &str = "A kg, all in";
/// Width from which on the table has room for the price, in points.
const PRICED_FROM: f32 = 660.0;
/// The same for from whom a lot is and when it came in.
const ORIGIN_FROM: f32 = 1000.0;
/// How many days ahead a last day is told.
const AHEAD: u32 = 60;

/// Which lots are listed.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Default)]
enum Shown {
    /// Those of which something is left.
    #[default]
    InTheHouse,
    /// Those that expire soon or may not be used, and those of materials that are low.
    ToLookAt,
    /// All.
    All,
}

impl Shown {
    const ALL: [Self; 3] = [Self::InTheHouse, Self::ToLookAt, Self::All];

    const fn label(self) -> &'static str {
        match self {
            Self::InTheHouse => "in the house",
            Self::ToLookAt => "to look at",
            Self::All => "all",
        }
    }
}

/// What the part keeps between frames.
#[derive(Default)]
pub struct LotsPage {
    shown: Shown,
    sought: String,
    ticked: BTreeSet<LotId>,
    to_status: LotStatus,
    beside: Beside<StockForm>,
    picker: MaterialPicker,
    /// A material was chosen for the first lot; its code is typed next.
    begun: bool,
    left: String,
    why: String,
    level: String,
}

impl HasBeside<StockForm> for LotsPage {
    fn beside(&mut self) -> &mut Beside<StockForm> {
        &mut self.beside
    }
}

impl LotsPage {
    /// Puts a lot, or none, into the fields; not over something unsaved.
    fn choose(&mut self, lot: Option<&Lot>, stock: &Stock) {
        if !self.beside.choose(lot.map(|l| (&l.id, StockForm::of(l)))) {
            return;
        }
        self.left.clear();
        self.why.clear();
        self.level = lot
            .and_then(|l| stock.reorder.get(&l.material))
            .map_or_else(String::new, |m| format!("{m} g"));
    }
}

/// Draws the part; whether the stock was changed.
pub fn ui(ui: &mut Ui, view: &View<'_>, page: &mut LotsPage, stock: &mut Stock) -> bool {
    page.beside.follow(|id| stock.lot(id).map(StockForm::of));
    page.ticked.retain(|id| stock.lot(id).is_some());
    let place = beside::place(ui, "lot", page);
    let changed = region(ui, "Lots", |ui| {
        let done = filters(ui, view, page, stock);
        table(ui, view, page, stock) || done
    });
    beside::panel(
        ui,
        place,
        page,
        stock,
        |ui, page, stock| about(ui, view, page, stock),
        |ui, page, stock| {
            let chosen = page.beside.chosen();
            match chosen.and_then(|id| stock.lot(id)).cloned() {
                None => add(ui, view, page, stock),
                Some(lot) => save(ui, view, page, stock, &lot),
            }
        },
    ) || changed
}

/// Search and choice of lots, what is low, and what is done to those ticked.
fn filters(ui: &mut Ui, view: &View<'_>, page: &mut LotsPage, stock: &mut Stock) -> bool {
    let books = &view.state.books;
    let (usage, today) = (books.usage(), view.state.today());
    ui.horizontal_wrapped(|ui| {
        ui.add(
            TextEdit::singleline(&mut page.sought)
                .hint_text("Lot, material or supplier")
                .desired_width(200.0),
        )
        .accessible_name("Find a lot");
        let all = &Shown::ALL;
        choice_row(ui, "shown", &mut page.shown, all, Shown::label, |_| "");
        if ui.button("Add a lot").clicked() {
            page.choose(None, stock);
        }
    });
    let low: Vec<String> = stock
        .low(usage, today)
        .iter()
        .map(|low| {
            format!(
                "{} ({} g of at least {} g)",
                name_of(view, &low.material),
                low.left,
                low.level
            )
        })
        .collect();
    if !low.is_empty() {
        caution(ui, Level::Caution, format!("Low: {}", low.join("; ")));
    }
    let soon = stock.expiring(usage, today, AHEAD);
    let over = soon.iter().filter(|l| l.expired).count();
    if !soon.is_empty() {
        let words = match (over, soon.len() - over) {
            (0, soon) => format!("{soon} to be used up within {AHEAD} days"),
            (over, 0) => format!("{over} past the last day"),
            (over, soon) => {
                format!("{over} past the last day, {soon} to be used up within {AHEAD} days")
            }
        };
        let level = if over > 0 {
            Level::Breach
        } else {
            Level::Caution
        };
        caution(ui, level, format!("Lots: {words}"));
    }
    let mut changed = false;
    if !page.ticked.is_empty() {
        ui.horizontal_wrapped(|ui| {
            let count = page.ticked.len();
            ui.label(theme::strong(match count {
                1 => "1 lot ticked".to_owned(),
                n => format!("{n} lots ticked"),
            }));
            choice(
                ui,
                "Status of those ticked",
                &mut page.to_status,
                &LotStatus::ALL,
                |s| s.label().to_owned(),
                110.0,
            );
            if action(ui, "Set it").clicked() {
                for lot in &mut stock.lots {
                    if page.ticked.contains(&lot.id) && lot.status != page.to_status {
                        lot.status = page.to_status;
                        changed = true;
                    }
                }
                page.ticked.clear();
            }
            if action(ui, "Tick none").clicked() {
                page.ticked.clear();
            }
        });
    }
    changed
}

fn listed(view: &View<'_>, page: &LotsPage, stock: &Stock) -> Vec<usize> {
    let books = &view.state.books;
    let (usage, today) = (books.usage(), view.state.today());
    let low: Vec<_> = stock
        .low(usage, today)
        .into_iter()
        .map(|l| l.material)
        .collect();
    let soon: Vec<LotId> = stock
        .expiring(usage, today, AHEAD)
        .iter()
        .map(|l| l.lot.id.clone())
        .collect();
    let is_shown = |lot: &Lot| match page.shown {
        Shown::All => true,
        Shown::InTheHouse => stock.left(lot, usage) > ExactMass::ZERO,
        Shown::ToLookAt => {
            soon.contains(&lot.id)
                || lot.status != LotStatus::Released
                || low.contains(&lot.material)
        }
    };
    let is_sought = |lot: &Lot| {
        let name = name_of(view, &lot.material);
        let texts = [lot.id.as_str(), &name, &lot.supplier, &lot.supplier_lot];
        beside::is_sought(&page.sought, texts)
    };
    let lots = stock.lots.iter().enumerate();
    let mut found: Vec<usize> = lots
        .filter(|(_, lot)| is_shown(lot) && is_sought(lot))
        .map(|(place, _)| place)
        .collect();
    // As they are taken.
    found.sort_by_key(|place| stock.lots.get(*place).map(Lot::turn));
    found
}

/// What the table has room for besides what it always shows; all of it stands in the panel anyway.
#[derive(Clone, Copy)]
struct Room {
    price: bool,
    origin: bool,
}

impl Room {
    fn of(ui: &Ui) -> Self {
        let width = ui.available_width();
        Self {
            price: width > PRICED_FROM,
            origin: width > ORIGIN_FROM,
        }
    }

    /// Titles and widths of the columns in their order; lot, material and from whom it is share the
    /// room that is left.
    fn columns(self, ui: &Ui) -> Vec<(&'static str, f32)> {
        const DAY: f32 = 86.0;
        let fixed = |title, width, shown: bool| shown.then_some((title, width, 0.0));
        let shared = |title, share: f32, shown: bool| shown.then_some((title, 0.0, share));
        let columns = [
            fixed("", 22.0, true),
            shared("Lot", 0.34, true),
            shared("Material", 0.66, true),
            shared("Supplier", 0.4, self.origin),
            shared("Supplier's lot", 0.3, self.origin),
            fixed("Came in", DAY, self.origin),
            fixed("Use until", DAY, true),
            fixed("Left", 84.0, true),
            fixed(PRICE, 84.0, self.price),
            fixed("Status", 112.0, true),
        ];
        let columns: Vec<_> = columns.into_iter().flatten().collect();
        let widths: Vec<f32> = columns.iter().map(|(_, width, _)| *width).collect();
        let room = beside::room(ui, &widths, columns.len() as f32);
        let all: f32 = columns.iter().map(|(.., share)| share).sum();
        let width = |width: f32, share: f32| match share {
            0.0 => width,
            share => (room * share / all).max(70.0),
        };
        columns
            .into_iter()
            .map(|(title, w, share)| (title, width(w, share)))
            .collect()
    }
}

fn table(ui: &mut Ui, view: &View<'_>, page: &mut LotsPage, stock: &mut Stock) -> bool {
    if stock.lots.is_empty() {
        begin(ui, view, page);
        return false;
    }
    let found = listed(view, page, stock);
    if found.is_empty() {
        ui.label("No lot is listed; choose “all”, or search for something else.");
        return false;
    }
    let room = Room::of(ui);
    let (titles, widths): (Vec<&str>, Vec<f32>) = room.columns(ui).into_iter().unzip();
    let mut done = Done::default();
    beside::table(ui, "lots", &widths)
        .header(ROW, |mut header| {
            for title in titles {
                header.col(|ui| heading(ui, title, matches!(title, "Left" | PRICE)));
            }
        })
        .body(|body| {
            body.rows(ROW, found.len(), |mut row| {
                let place = found.get(row.index());
                if let Some(lot) = place.and_then(|place| stock.lots.get(*place)) {
                    lot_row(&mut row, view, page, stock, lot, room, &mut done);
                }
            });
        });
    if let Some(lot) = done.chosen.and_then(|id| stock.lot(&id)) {
        page.choose(Some(lot), stock);
    }
    if let Some((id, status)) = done.status
        && let Some(lot) = stock.lots.iter_mut().find(|lot| lot.id == id)
    {
        lot.status = status;
        return true;
    }
    false
}

/// What there is to do before the first lot: the materials of this formula, a button each.
fn begin(ui: &mut Ui, view: &View<'_>, page: &mut LotsPage) {
    ui.add_space(theme::TIGHT);
    ui.label("No lot is entered yet. A batch proposes the lot that is to be used up first, its record names it, and a recall finds every batch that it went into.");
    ui.add_space(theme::TIGHT);
    ui.label(theme::strong(
        "Begin with one of this formula, or search at the right",
    ));
    let mut materials: Vec<_> = view.variant.lines().map(|(_, l)| &l.material).collect();
    let mut seen = BTreeSet::new();
    materials.retain(|id| seen.insert(*id));
    ScrollArea::vertical().auto_shrink(false).show(ui, |ui| {
        for id in materials {
            let name = name_of(view, id);
            if ui.button(format!("A lot of {name}")).clicked() {
                let form = &mut page.beside.form;
                if form.material.as_ref() != Some(id) {
                    *form = form.of_same_delivery(id);
                }
                page.begun = true;
                ui.request_repaint();
            }
        }
    });
}

/// What was done in the rows of the table.
#[derive(Default)]
struct Done {
    chosen: Option<LotId>,
    status: Option<(LotId, LotStatus)>,
}

fn lot_row(
    row: &mut TableRow<'_, '_>,
    view: &View<'_>,
    page: &mut LotsPage,
    stock: &Stock,
    lot: &Lot,
    room: Room,
    done: &mut Done,
) {
    let is_chosen = page.beside.chosen() == Some(&lot.id);
    let name = name_of(view, &lot.material);
    let mut by_name = false;
    row.set_selected(is_chosen);
    row.col(|ui| tick(ui, &mut page.ticked, lot));
    row.col(|ui| by_name = beside::code(ui, &lot.id, &name, is_chosen));
    row.col(|ui| {
        fitted_label(ui, &name);
    });
    if room.origin {
        for words in [&lot.supplier, &lot.supplier_lot] {
            row.col(|ui| {
                fitted_label(ui, words);
            });
        }
        row.col(|ui| {
            ui.label(lot.received.to_string());
        });
    }
    row.col(|ui| last_day(ui, lot, view.state.today()));
    row.col(|ui| {
        figures(ui, |ui| {
            let left = stock.left(lot, view.state.books.usage());
            ui.label(format!("{left} g"));
        });
    });
    if room.price {
        row.col(|ui| figures(ui, |ui| price(ui, lot, stock)));
    }
    row.col(|ui| {
        if let Some(status) = status(ui, lot) {
            done.status = Some((lot.id.clone(), status));
        }
    });
    if row.response().clicked() || by_name {
        done.chosen = Some(lot.id.clone());
    }
}

fn tick(ui: &mut Ui, all: &mut BTreeSet<LotId>, lot: &Lot) {
    let mut ticked = all.contains(&lot.id);
    let tick = ui
        .checkbox(&mut ticked, "")
        .accessible_name(format!("Tick {}", lot.id));
    if tick.changed() {
        if ticked {
            all.insert(lot.id.clone());
        } else {
            all.remove(&lot.id);
        }
    }
}

fn last_day(ui: &mut Ui, lot: &Lot, today: Date) {
    let p = theme::palette(ui);
    let last = lot.last_day();
    let words = last.map_or_else(|| "not stated".to_owned(), |d| d.to_string());
    let colour = match last {
        Some(last) if last < today => p.level(Level::Breach),
        Some(_) => p.ink,
        None => p.faint_ink,
    };
    ui.colored_label(colour, words);
}

fn price(ui: &mut Ui, lot: &Lot, stock: &Stock) {
    match landed_price(lot, stock).and_then(PriceByMass::per_kilogram) {
        Ok(price) => {
            ui.label(price.to_string());
        }
        Err(why) => {
            ui.label(theme::small(ui, "not known"))
                .on_hover_text(why.to_string());
        }
    }
}

/// The status of a lot, to be changed in place; the new one if it was.
fn status(ui: &mut Ui, lot: &Lot) -> Option<LotStatus> {
    let mut status = lot.status;
    ComboBox::from_id_salt(("status", lot.id.as_str()))
        .selected_text(status.label())
        .width(104.0)
        .show_ui(ui, |ui| {
            for one in LotStatus::ALL {
                ui.selectable_value(&mut status, one, one.label());
            }
        })
        .response
        .accessible_name(format!("Status of {}", lot.id));
    (status != lot.status).then_some(status)
}

/// Everything about the lot chosen, or the fields of a new one.
fn about(ui: &mut Ui, view: &View<'_>, page: &mut LotsPage, stock: &mut Stock) -> bool {
    let lot = page.beside.chosen().and_then(|id| stock.lot(id)).cloned();
    ui.label(theme::heading(match &lot {
        Some(lot) => format!("Lot {}", lot.id),
        None => "A lot that came in".to_owned(),
    }));
    if let Some(lot) = &lot {
        let usage = view.state.books.usage();
        ui.label(theme::small(
            ui,
            format!(
                "{} g came in, batches took {} g, {} g left",
                lot.received_mass(),
                usage.of(&lot.id),
                stock.left(lot, usage)
            ),
        ));
    }
    let typed = form::fields(ui, view, &mut page.beside.form, &mut page.picker, stock);
    // The click that chose it would take the cursor away again in its own frame.
    if page.begun && !ui.input(|i| i.pointer.any_click()) {
        page.begun = false;
        page.beside.type_next("Our lot code");
    }
    page.beside.listen(ui, &typed);
    let Some(lot) = lot else {
        return false;
    };
    let mut changed = false;
    ui.add_space(theme::GAP);
    ui.label(theme::strong("What is really left"));
    ui.horizontal_wrapped(|ui| {
        field(ui, "Really left, g", &mut page.left, 80.0);
        field(ui, "Why: spill, recount …", &mut page.why, 180.0);
        if action(ui, "Correct the lot").clicked() {
            match adjust(view, page, stock, &lot) {
                Ok(()) => {
                    changed = true;
                    page.beside.problem = None;
                    page.left.clear();
                    page.why.clear();
                }
                Err(problem) => page.beside.problem = Some(problem),
            }
        }
    });
    for one in stock.adjustments.iter().filter(|a| a.lot == lot.id) {
        let sign = if one.change < ExactMass::ZERO {
            ""
        } else {
            "+"
        };
        let words = format!("{}: {sign}{} g, {}", one.day, one.change, one.reason);
        ui.label(theme::small(ui, words));
    }
    ui.add_space(theme::GAP);
    ui.label(theme::strong(format!(
        "All lots of {}",
        name_of(view, &lot.material)
    )));
    ui.horizontal_wrapped(|ui| {
        field(ui, "Low below, g", &mut page.level, 110.0)
            .on_hover_text("Below this much, the material is listed as low; empty for never");
        if action(ui, "Set the level").clicked() {
            if page.level.trim().is_empty() {
                changed |= stock.reorder.remove(&lot.material).is_some();
            } else {
                match read_mass(&page.level, Some(MassUnit::Gram)) {
                    Ok(level) => {
                        stock.reorder.insert(lot.material.clone(), level);
                        changed = true;
                        page.beside.problem = None;
                    }
                    Err(error) => page.beside.problem = Some(error.to_string()),
                }
            }
        }
    });
    changed
}

fn add(
    ui: &mut Ui,
    view: &View<'_>,
    page: &mut LotsPage,
    stock: &mut Stock,
) -> Result<bool, Wrong> {
    if !page.beside.add_button(ui, "Add the lot") {
        return Ok(false);
    }
    if page.beside.form.material.is_none() {
        page.picker.focus();
    }
    let lot = form::read_lot(&page.beside.form, &page.beside.form.lot, view)?;
    stock.add(lot).map_err(|e| e.to_string())?;
    // What comes in next is often of the same delivery.
    let StockForm {
        supplier,
        received,
        currency,
        ..
    } = std::mem::take(&mut page.beside.form);
    page.beside.fill(StockForm {
        supplier,
        received,
        currency,
        ..StockForm::default()
    });
    page.picker.focus();
    Ok(true)
}

fn save(
    ui: &mut Ui,
    view: &View<'_>,
    page: &mut LotsPage,
    stock: &mut Stock,
    lot: &Lot,
) -> Result<bool, Wrong> {
    if page.beside.unsaved() {
        return page.beside.keep_buttons(ui, &lot.id, |form| {
            let lot = form::read_lot(form, lot.id.as_str(), view)?;
            let form = StockForm::of(&lot);
            stock.replace(lot).map_err(|e| e.to_string())?;
            Ok(form)
        });
    }
    let (mut opened, mut removed) = (false, false);
    ui.horizontal_wrapped(|ui| {
        let opened_today = format!("{} was opened today", lot.id);
        opened = lot.opened.is_none()
            && ui
                .button("Opened today")
                .on_hover_text(opened_today)
                .clicked();
        let unused = view.state.books.usage().of(&lot.id).is_zero();
        removed = unused && beside::remove_button(ui, &lot.id);
    });
    if removed {
        let gone = stock.remove(&lot.id, view.state.books.usage());
        return gone.map(|()| true).map_err(|e| e.to_string().into());
    }
    let kept = stock.lots.iter_mut().find(|l| l.id == lot.id);
    if let Some(kept) = kept.filter(|_| opened) {
        kept.opened = Some(view.state.today());
        page.beside.fill(StockForm::of(kept));
    }
    Ok(opened)
}

fn adjust(view: &View<'_>, page: &LotsPage, stock: &mut Stock, lot: &Lot) -> Result<(), String> {
    let really = read_mass(&page.left, Some(MassUnit::Gram)).map_err(|e| e.to_string())?;
    if page.why.trim().is_empty() {
        return Err("Say why the lot is corrected".to_owned());
    }
    let change = really - stock.left(lot, view.state.books.usage());
    stock.adjustments.push(Adjustment {
        lot: lot.id.clone(),
        day: view.state.today(),
        change,
        reason: page.why.trim().into(),
    });
    Ok(())
}
