//! Scales, vessels and habits that every batch starts from.

use eframe::egui::Ui;
use formulation::amount::{Measure, typed};
use formulation::batch::scale::{Allowances, Vessel};
use formulation::batch::weighing_scale::WeighingScale;
use formulation::batch::workshop::{Paper, Workshop};
use formulation::batch_code::CodeScheme;
use formulation::mass::{MassUnit, read_mass, read_volume, shown};
use formulation::quantity::{Currency, Decimal, Percent, in_millilitres};
use formulation::stock::Stock;

use super::{action, choice, field, push};
use crate::command::{BooksCommand, Command};
use crate::state::View;
use crate::theme;
use crate::widgets::in_columns::{Half, halves};
use crate::widgets::refusal::outcome;

/// What the page keeps between frames.
#[derive(Default)]
pub struct WorkshopPage {
    scale: [String; 3],
    vessel: [String; 3],
    habits: Option<[String; 6]>,
    rate: [String; 2],
}

/// Width from which the habits stand beside the scales and vessels, in points.
const BESIDE: f32 = 1400.0;

/// Draws the page.
pub fn ui(ui: &mut Ui, view: &View<'_>, page: &mut WorkshopPage, commands: &mut Vec<Command>) {
    let books = &view.state.books;
    let mut workshop = books.workshop().clone();
    let mut stock = books.stock().clone();
    let mut changed = false;
    // What there is in the workshop, and how it works.
    halves(ui, BESIDE, |ui, half| {
        changed |= match half {
            Half::First => scales(ui, page, &mut workshop) | vessels(ui, page, &mut workshop),
            Half::Second => habits(ui, page, &mut workshop) | money(ui, page, &mut stock),
        };
    });
    if changed {
        push(
            commands,
            BooksCommand::SetStock(Box::new((stock, workshop))),
        );
    }
}

fn scales(ui: &mut Ui, page: &mut WorkshopPage, workshop: &mut Workshop) -> bool {
    ui.label(theme::strong("Scales"));
    let mut changed = false;
    let mut remove = None;
    for (place, scale) in workshop.scales.iter().enumerate() {
        ui.horizontal(|ui| {
            ui.label(format!(
                "{}; weighs within {} % from {} on",
                scale.words(workshop.unit),
                workshop.tolerance.as_percent(),
                shown(
                    scale.least_mass(workshop.tolerance),
                    scale.resolution(),
                    workshop.unit
                )
            ));
            if workshop.scales.len() > 1
                && ui
                    .small_button("Remove")
                    .accessible_name(format!("Remove the scale {}", scale.name()))
                    .clicked()
            {
                remove = Some(place);
            }
        });
    }
    if let Some(place) = remove {
        workshop.scales.remove(place);
        changed = true;
    }
    let mut came = None;
    ui.horizontal_wrapped(|ui| {
        let [name, step, range] = &mut page.scale;
        field(ui, "Name of the scale", name, 120.0);
        field(ui, "Smallest step", step, 80.0);
        field(ui, "Range, empty if it never matters", range, 100.0);
        if action(ui, "Add the scale").clicked() {
            let mass = |t: &str| read_mass(t, None).map_err(|e| e.to_string());
            let read = mass(step)
                .and_then(|step| {
                    let range = if range.trim().is_empty() {
                        None
                    } else {
                        Some(mass(range)?)
                    };
                    WeighingScale::new(name.trim(), step, range).map_err(|e| e.to_string())
                })
                .map(|scale| workshop.scales.push(scale));
            came = Some(read);
        }
    });
    let added = outcome(ui, "new scale", &page.scale, came);
    if added {
        // A second click adds no second one.
        page.scale = Default::default();
    }
    added || changed
}

fn vessels(ui: &mut Ui, page: &mut WorkshopPage, workshop: &mut Workshop) -> bool {
    ui.add_space(theme::GAP);
    ui.label(theme::strong("Vessels"));
    let mut changed = false;
    let mut remove = None;
    for (place, vessel) in workshop.vessels.iter().enumerate() {
        ui.horizontal(|ui| {
            ui.label(format!(
                "{}: {:.0} ml, filled to {} %",
                vessel.name(),
                in_millilitres(vessel.capacity()),
                vessel.fill()
            ));
            if ui
                .small_button("Remove")
                .accessible_name(format!("Remove the vessel {}", vessel.name()))
                .clicked()
            {
                remove = Some(place);
            }
        });
    }
    if let Some(place) = remove {
        workshop.vessels.remove(place);
        changed = true;
    }
    let mut came = None;
    ui.horizontal_wrapped(|ui| {
        let [name, capacity, fill] = &mut page.vessel;
        field(ui, "Name of the vessel", name, 120.0);
        field(ui, "Brimful volume", capacity, 80.0);
        field(ui, "May be filled to, %", fill, 60.0);
        if action(ui, "Add the vessel").clicked() {
            let read = read_volume(capacity, None)
                .map_err(|e| e.to_string())
                .and_then(|capacity| {
                    let fill = typed::optional(fill, typed::percent).map_err(|e| e.to_string())?;
                    let fill = fill.unwrap_or(Percent::HUNDRED);
                    Vessel::new(name.trim(), capacity, fill).map_err(|e| e.to_string())
                })
                .map(|vessel| workshop.vessels.push(vessel));
            came = Some(read);
        }
    });
    if outcome(ui, "new vessel", &page.vessel, came) {
        changed = true;
        page.vessel = Default::default();
    }
    ui.add_space(theme::GAP);
    changed
}

fn habits(ui: &mut Ui, page: &mut WorkshopPage, workshop: &mut Workshop) -> bool {
    ui.label(theme::strong("Habits"));
    let before = (workshop.unit, workshop.paper);
    ui.horizontal_wrapped(|ui| {
        choice(
            ui,
            "Unit of mass",
            &mut workshop.unit,
            &MassUnit::ALL,
            |u| u.symbol().to_owned(),
            80.0,
        );
        choice(
            ui,
            "Paper of sheets and records",
            &mut workshop.paper,
            &Paper::ALL,
            |p| p.label().to_owned(),
            120.0,
        );
    });
    let mut changed = before != (workshop.unit, workshop.paper);
    changed |= ui
        .checkbox(
            &mut workshop.second_check,
            "A second person checks every weighing and looks through the record",
        )
        .on_hover_text("Asked for in batches begun from now on")
        .changed();
    let typed = page.habits.get_or_insert_with(|| {
        [
            workshop.tolerance.as_percent().to_string(),
            workshop.allowances.overfill.to_string(),
            workshop.allowances.transfer_loss.to_string(),
            workshop.allowances.evaporation.to_string(),
            workshop.codes.as_str().to_owned(),
            String::new(),
        ]
    });
    let [tolerance, overfill, loss, evaporation, codes, _] = typed;
    let mut set = false;
    ui.horizontal_wrapped(|ui| {
        field(ui, "Tolerance of a weighing, %", tolerance, 60.0);
        field(ui, "Overfill, %", overfill, 60.0);
        field(ui, "Transfer loss, %", loss, 60.0);
        field(ui, "Evaporation, %", evaporation, 60.0);
        field(ui, "Scheme of batch codes", codes, 120.0)
            .on_hover_text("{yyyy} {yy} {mm} {dd} {ddd} and a counter {nnn}");
        set = action(ui, "Set the habits").clicked();
    });
    let came = set.then(|| set_habits(typed, workshop));
    outcome(ui, "habits", typed, came) || changed
}

/// Takes over the habits as typed; all of them or none.
fn set_habits(typed: &[String; 6], workshop: &mut Workshop) -> Result<(), String> {
    let percent = |text: &str| typed::percent(text).map_err(|e| e.to_string());
    let [tolerance, overfill, loss, evaporation, codes, _] = typed;
    let tolerance = percent(tolerance)?;
    if tolerance <= Percent::ZERO {
        return Err("The tolerance must be above 0 %".to_owned());
    }
    let allowances = Allowances {
        overfill: percent(overfill)?,
        transfer_loss: percent(loss)?,
        evaporation: percent(evaporation)?,
    };
    workshop.codes = CodeScheme::new(codes).map_err(|e| e.to_string())?;
    workshop.tolerance = tolerance.fraction();
    workshop.allowances = allowances;
    Ok(())
}

fn money(ui: &mut Ui, page: &mut WorkshopPage, stock: &mut Stock) -> bool {
    ui.add_space(theme::GAP);
    ui.label(theme::strong(format!("Money: kept in {}", stock.home)));
    for (currency, rate) in &stock.rates {
        ui.label(format!("1 {currency} is {rate} {}", stock.home));
    }
    let mut came = None;
    ui.horizontal_wrapped(|ui| {
        let [code, rate] = &mut page.rate;
        field(ui, "Currency letters", code, 60.0);
        field(ui, "One of it is worth", rate, 80.0);
        let currency = || {
            Currency::new(code)
                .ok_or_else(|| format!("“{}” is not a currency such as EUR", code.trim()))
        };
        if action(ui, "Set the rate").clicked() {
            let rate = typed::decimal(rate, &Measure::FACTOR)
                .map_err(|e| format!("Rate: {e}"))
                .and_then(|r| {
                    if r > Decimal::ZERO {
                        Ok(r)
                    } else {
                        Err("The rate must be above zero".to_owned())
                    }
                });
            let read = currency().and_then(|c| rate.map(|r| (c, r)));
            came = Some(read.map(|(c, r)| {
                stock.rates.insert(c, r);
            }));
        }
        if action(ui, "Keep the books in it")
            .on_hover_text("Prices entered before keep their own currency")
            .clicked()
        {
            came = Some(currency().map(|c| stock.home = c));
        }
    });
    outcome(ui, "money", &page.rate, came)
}
