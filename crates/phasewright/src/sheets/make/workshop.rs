//! Scales, vessels and habits that every batch starts from.

use eframe::egui::Ui;
use formulation::amount::measure::tidy;
use formulation::amount::{Measure, typed};
use formulation::batch::scale::{Allowances, Vessel};
use formulation::batch::weighing_scale::WeighingScale;
use formulation::batch::workshop::{Paper, Workshop};
use formulation::batch_code::CodeScheme;
use formulation::home_currency::kept_in;
use formulation::mass::{MassUnit, read_mass, read_volume, shown};
use formulation::quantity::{Currency, Decimal, Percent, in_millilitres};
use formulation::stock::Stock;

use super::{Filled, action, change_or_remove, choice, field, filled, push};
use crate::command::{BooksCommand, Command};
use crate::state::View;
use crate::theme;
use crate::widgets::in_columns::{Half, halves};
use crate::widgets::read_out::read_out;
use crate::widgets::refusal::outcome;

/// What the page keeps between frames.
#[derive(Default)]
pub struct WorkshopPage {
    scale: [String; 3],
    vessel: [String; 3],
    /// The scale and the vessel that are being changed.
    changed_scale: Option<WeighingScale>,
    changed_vessel: Option<Vessel>,
    habits: Option<[String; 6]>,
    rate: [String; 2],
    /// The currency in which the books are to be kept, while it is shown what that changes.
    turning: Option<Currency>,
}

/// Width from which the habits stand beside the scales and vessels, in points.
const BESIDE: f32 = 1400.0;

/// Draws the page.
pub fn ui(ui: &mut Ui, view: &View<'_>, page: &mut WorkshopPage, commands: &mut Vec<Command>) {
    let books = &view.state.books;
    let mut both = (books.stock().clone(), books.workshop().clone());
    let mut changed = false;
    // What there is in the workshop, and how it works.
    halves(ui, BESIDE, |ui, half| {
        changed |= match half {
            Half::First => scales(ui, page, &mut both.1) | vessels(ui, page, &mut both.1),
            Half::Second => {
                let set = habits(ui, page, &mut both.1);
                money_head(ui, view, commands);
                set | money(ui, page, &mut both)
            }
        };
    });
    if changed {
        push(commands, BooksCommand::SetStock(Box::new(both)));
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
            let may_go = workshop.scales.len() > 1;
            match change_or_remove(ui, &format!("the scale {}", scale.name()), may_go) {
                Some(true) => {
                    let range = scale.capacity().map(|mass| format!("{mass} g"));
                    page.scale = [
                        scale.name().to_string(),
                        format!("{} g", scale.resolution()),
                        range.unwrap_or_default(),
                    ];
                    page.changed_scale = Some(scale.clone());
                }
                Some(false) => remove = Some(place),
                None => {}
            }
        });
    }
    if let Some(place) = remove {
        workshop.scales.remove(place);
        changed = true;
    }
    let known = &workshop.scales;
    page.changed_scale.take_if(|scale| !known.contains(scale));
    let mut came = None;
    ui.horizontal_wrapped(|ui| {
        let [name, step, range] = &mut page.scale;
        field(ui, "Name of the scale", name, 120.0);
        field(ui, "Smallest step, with its unit", step, 80.0);
        let words = "Range, with its unit; empty if it never matters";
        field(ui, words, range, 100.0);
        match filled(ui, "scale", page.changed_scale.is_some()) {
            Some(Filled::Taken) => came = Some(read_scale(&page.scale)),
            Some(Filled::Left) => {
                page.changed_scale = None;
                page.scale = Default::default();
            }
            None => {}
        }
    });
    let came = came.map(|read| {
        read.map(|scale| {
            let old = page.changed_scale.take();
            let mut all = workshop.scales.iter();
            match old.and_then(|old| all.position(|one| *one == old)) {
                Some(place) => workshop.replace_scale(place, scale),
                None => workshop.scales.push(scale),
            }
        })
    });
    let taken = outcome(ui, "new scale", &page.scale, came);
    if taken {
        // A second click adds no second one.
        page.scale = Default::default();
    }
    taken || changed
}

fn read_scale([name, step, range]: &[String; 3]) -> Result<WeighingScale, String> {
    let mass = |t: &str| read_mass(t, None).map_err(|e| e.to_string());
    let step = mass(step)?;
    let range = if range.trim().is_empty() {
        None
    } else {
        Some(mass(range)?)
    };
    WeighingScale::new(name.trim(), step, range).map_err(|e| e.to_string())
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
            match change_or_remove(ui, &format!("the vessel {}", vessel.name()), true) {
                Some(true) => {
                    let capacity = tidy(in_millilitres(vessel.capacity()), 6);
                    page.vessel = [
                        vessel.name().to_string(),
                        format!("{capacity} ml"),
                        vessel.fill().to_string(),
                    ];
                    page.changed_vessel = Some(vessel.clone());
                }
                Some(false) => remove = Some(place),
                None => {}
            }
        });
    }
    if let Some(place) = remove {
        workshop.vessels.remove(place);
        changed = true;
    }
    let known = &workshop.vessels;
    page.changed_vessel
        .take_if(|vessel| !known.contains(vessel));
    let mut came = None;
    ui.horizontal_wrapped(|ui| {
        let [name, capacity, fill] = &mut page.vessel;
        field(ui, "Name of the vessel", name, 120.0);
        field(ui, "Brimful volume, with its unit", capacity, 80.0);
        field(ui, "May be filled to, %", fill, 60.0);
        match filled(ui, "vessel", page.changed_vessel.is_some()) {
            Some(Filled::Taken) => came = Some(read_vessel(&page.vessel)),
            Some(Filled::Left) => {
                page.changed_vessel = None;
                page.vessel = Default::default();
            }
            None => {}
        }
    });
    let came = came.map(|read| {
        read.map(|vessel| {
            let old = page.changed_vessel.take();
            let mut all = workshop.vessels.iter();
            match old.and_then(|old| all.position(|one| *one == old)) {
                Some(place) => workshop.replace_vessel(place, vessel),
                None => workshop.vessels.push(vessel),
            }
        })
    });
    let taken = outcome(ui, "new vessel", &page.vessel, came);
    if taken {
        // A second click adds no second one.
        page.vessel = Default::default();
    }
    changed |= taken;
    changed |= people(ui, workshop);
    ui.add_space(theme::GAP);
    changed
}

fn read_vessel([name, capacity, fill]: &[String; 3]) -> Result<Vessel, String> {
    let capacity = read_volume(capacity, None).map_err(|e| e.to_string())?;
    let fill = typed::optional(fill, typed::percent).map_err(|e| e.to_string())?;
    let fill = fill.unwrap_or(Percent::HUNDRED);
    Vessel::new(name.trim(), capacity, fill).map_err(|e| e.to_string())
}

/// The names offered for who works; whether one was removed.
fn people(ui: &mut Ui, workshop: &mut Workshop) -> bool {
    if workshop.people.is_empty() {
        return false;
    }
    ui.add_space(theme::GAP);
    ui.label(theme::strong("Names offered under “Done by”"));
    let mut remove = None;
    for (place, name) in workshop.people.iter().enumerate() {
        ui.horizontal(|ui| {
            ui.label(name.as_ref());
            let button = ui
                .small_button("Remove")
                .on_hover_text("It is not offered any more; records keep it")
                .accessible_name(format!("Remove the name {name}"));
            if button.clicked() {
                remove = Some(place);
            }
        });
    }
    remove.map(|place| workshop.people.remove(place)).is_some()
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

/// What money is kept in, and the steps back and forth of rates and currency.
fn money_head(ui: &mut Ui, view: &View<'_>, commands: &mut Vec<Command>) {
    let books = &view.state.books;
    ui.add_space(theme::GAP);
    ui.horizontal(|ui| {
        let home = books.stock().home;
        ui.label(theme::strong(format!("Money: kept in {home}")));
        super::stock::steps(ui, books, commands);
    });
}

fn money(ui: &mut Ui, page: &mut WorkshopPage, both: &mut (Stock, Workshop)) -> bool {
    let stock = &mut both.0;
    let mut changed = false;
    let mut gone = None;
    for (currency, rate) in &stock.rates {
        ui.horizontal(|ui| {
            ui.label(format!("1 {currency} is {rate} {}", stock.home));
            let remove = ui.small_button("Remove");
            let remove = remove.accessible_name(format!("Remove the rate of {currency}"));
            if remove.clicked() {
                gone = Some(*currency);
            }
        });
    }
    if let Some(currency) = gone {
        stock.rates.remove(&currency);
        changed = true;
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
            let read = currency().and_then(|currency| Ok((currency, rate_of(rate)?)));
            came = Some(read.map(|(c, r)| {
                both.0.rates.insert(c, r);
            }));
        }
        if action(ui, "Keep the books in it")
            .on_hover_text("Lots and offers keep the currency of their prices; rates, and prices without a currency of their own, are converted, and shown before")
            .clicked()
        {
            let turned = currency().and_then(|to| {
                let turned = kept_in(&both.0, &both.1, to).map_err(|why| why.to_string())?;
                Ok((to, turned))
            });
            match turned {
                Err(why) => came = Some(Err(why)),
                Ok((_, turned)) if turned.said.is_empty() => {
                    changed |= both.0 != turned.stock;
                    *both = (turned.stock, turned.workshop);
                }
                Ok((to, _)) => page.turning = Some(to),
            }
        }
    });
    changed |= outcome(ui, "money", &page.rate, came);
    changed | turning(ui, &mut page.turning, both)
}

fn rate_of(typed: &str) -> Result<Decimal, String> {
    let rate = typed::decimal(typed, &Measure::FACTOR).map_err(|why| format!("Rate: {why}"))?;
    if rate > Decimal::ZERO {
        Ok(rate)
    } else {
        Err("The rate must be above zero".to_owned())
    }
}

/// What becomes of rates and amounts in another currency, before it is done; whether it is.
fn turning(ui: &mut Ui, asked: &mut Option<Currency>, both: &mut (Stock, Workshop)) -> bool {
    let Some(to) = *asked else {
        return false;
    };
    let turned = match kept_in(&both.0, &both.1, to) {
        Ok(turned) if !turned.said.is_empty() => turned,
        // Another window has changed what there was to be converted.
        _ => {
            *asked = None;
            return false;
        }
    };
    let mut done = false;
    let from = both.0.home;
    ui.add_space(theme::TIGHT);
    let head = format!("Kept in {to}, this changes; lots and offers keep their own currency:");
    read_out(&ui.label(theme::strong(head)));
    for words in &turned.said {
        ui.label(words);
    }
    ui.horizontal_wrapped(|ui| {
        if ui.button(format!("Convert to {to}")).clicked() {
            *both = (turned.stock.clone(), turned.workshop.clone());
            done = true;
            *asked = None;
        }
        if ui.button(format!("Leave them in {from}")).clicked() {
            *asked = None;
        }
    });
    done
}
