//! What was measured, packed, filled and remarked.

use eframe::egui::Ui;
use formulation::batch::mass::read_mass;
use formulation::batch::record::Event;
use formulation::stock::LotId;

use super::{At, Form, RunPage, fields::QUALITIES};
use crate::sheets::make::{action, choice, field};
use crate::theme;

/// Draws it.
pub fn ui(ui: &mut Ui, at: At<'_>, page: &mut RunPage) {
    ui.add_space(theme::GAP);
    ui.label(theme::strong("Measured, packed, filled"));
    measured(ui, at, page);
    if !at.record.opening().evaporation.is_zero() {
        water(ui, at, page);
    }
    packaging(ui, at, page);
    filling(ui, at, page);
    remark(ui, at, page);
}

fn measured(ui: &mut Ui, at: At<'_>, page: &mut RunPage) {
    for m in at.record.measurements().iter().filter(|m| !m.struck) {
        ui.label(format!("{}: {} {}", m.what.label(), m.value, m.remark));
    }
    ui.horizontal_wrapped(|ui| {
        let words = |q: Option<_>| {
            q.map_or_else(
                || "choose".to_owned(),
                |q: formulation::batch::record::Quality| q.label().to_owned(),
            )
        };
        choice(ui, "What", &mut page.what, &QUALITIES, words, 110.0);
        field(ui, "Value, with its unit", &mut page.value, 120.0);
        field(
            ui,
            "Method, instrument, temperature",
            &mut page.method,
            200.0,
        );
        if action(ui, "Record the measurement").clicked() {
            match page.what {
                Some(what) => {
                    let event = Event::Measured {
                        what,
                        value: page.value.trim().into(),
                        remark: page.method.trim().into(),
                    };
                    page.send(at, Form::Measurement, event);
                }
                None => page.refuse(Form::Measurement, "Choose first what was measured"),
            }
        }
    });
    page.problem_ui(ui, &Form::Measurement);
}

fn water(ui: &mut Ui, at: At<'_>, page: &mut RunPage) {
    let unit = at.record.opening().unit;
    ui.horizontal_wrapped(|ui| {
        let [mass, lot] = &mut page.made_up;
        field(ui, "Water made up for evaporation", mass, 120.0);
        field(ui, "Lot of that water", lot, 90.0);
        let event = read_mass(mass, Some(unit)).map(|mass| Event::MadeUp {
            mass,
            lot: LotId::new(lot),
        });
        if action(ui, "Record the water").clicked() {
            match event {
                Ok(event) => page.send(at, Form::Water, event),
                Err(error) => page.refuse(Form::Water, error.to_string()),
            }
        }
    });
    page.problem_ui(ui, &Form::Water);
}

fn packaging(ui: &mut Ui, at: At<'_>, page: &mut RunPage) {
    for used in at.record.packaging() {
        ui.label(format!(
            "{} {}: {} used, {} spoilt",
            used.what, used.lot, used.used, used.spoilt
        ));
    }
    ui.horizontal_wrapped(|ui| {
        let [what, lot, used, spoilt] = &mut page.packaging;
        let works = &at.view.state.works;
        let stock = &works.stock().packaging;
        if !stock.is_empty() {
            let mut chosen = None;
            let names: Vec<usize> = (0..stock.len()).collect();
            choice(
                ui,
                "From the stock",
                &mut chosen,
                &names.iter().map(|n| Some(*n)).collect::<Vec<_>>(),
                |place: Option<usize>| {
                    place.and_then(|n| stock.get(n)).map_or_else(
                        || "choose".to_owned(),
                        |one| format!("{}, {}: {} left", one.what, one.id, one.left(works.usage())),
                    )
                },
                150.0,
            );
            if let Some(one) = chosen.and_then(|n: usize| stock.get(n)) {
                *what = one.what.to_string();
                *lot = one.id.to_string();
            }
        }
        field(ui, "Packaging", what, 140.0);
        field(ui, "Its lot", lot, 90.0);
        field(ui, "Pieces used", used, 60.0);
        field(ui, "Pieces spoilt", spoilt, 60.0);
        let number = |text: &str| {
            let text = text.trim();
            if text.is_empty() {
                Some(0)
            } else {
                text.parse().ok()
            }
        };
        let event = match (number(used), number(spoilt)) {
            (Some(used), Some(spoilt)) => Some(Event::Packed {
                what: what.trim().into(),
                lot: lot.trim().into(),
                used,
                spoilt,
            }),
            _ => None,
        };
        if action(ui, "Record the packaging").clicked() {
            match event {
                Some(event) => page.send(at, Form::Packaging, event),
                None => page.refuse(Form::Packaging, "Pieces are whole numbers"),
            }
        }
    });
    page.problem_ui(ui, &Form::Packaging);
}

fn filling(ui: &mut Ui, at: At<'_>, page: &mut RunPage) {
    let unit = at.record.opening().unit;
    let mass = |text: &str| read_mass(text, Some(unit)).map_err(|e| e.to_string());
    ui.horizontal_wrapped(|ui| {
        let [containers, filled, samples, waste] = &mut page.filled;
        field(ui, "Containers filled", containers, 60.0);
        field(ui, "Filled, net", filled, 90.0);
        field(ui, "Retained and tested", samples, 90.0);
        field(ui, "Waste", waste, 90.0);
        let number = containers.trim().parse();
        let event = match (number, mass(filled), mass(samples), mass(waste)) {
            (Ok(containers), Ok(mass), Ok(samples), Ok(waste)) => Ok(Event::Filled {
                containers,
                mass,
                samples,
                waste,
            }),
            (Err(_), ..) => Err("Containers are a whole number".to_owned()),
            (_, Err(e), ..) | (_, _, Err(e), _) | (.., Err(e)) => Err(e),
        };
        if action(ui, "Record the filling").clicked() {
            match event {
                Ok(event) => page.send(at, Form::Filling, event),
                Err(words) => page.refuse(Form::Filling, words),
            }
        }
    });
    page.problem_ui(ui, &Form::Filling);
    if let Some(sum) = at.record.reconciliation() {
        let show = |mass| at.record.mass_words(None, mass);
        ui.label(format!(
            "Yield {:.1} %: weighed {}, filled {}, samples {}, waste {}, not accounted for {}",
            sum.yield_share.as_percent(),
            show(sum.weighed),
            show(sum.filled),
            show(sum.samples),
            show(sum.waste),
            show(sum.unaccounted)
        ));
    }
}

fn remark(ui: &mut Ui, at: At<'_>, page: &mut RunPage) {
    ui.horizontal_wrapped(|ui| {
        field(ui, "Remark", &mut page.remark, 320.0);
        if action(ui, "Record the remark").clicked() {
            let event = Event::Remarked {
                text: page.remark.trim().into(),
            };
            page.send(at, Form::Remark, event);
        }
    });
    page.problem_ui(ui, &Form::Remark);
    ui.horizontal_wrapped(|ui| {
        let [what, reason] = &mut page.deviation;
        field(ui, "Deviation", what, 240.0);
        field(ui, "Why it was done so", reason, 200.0);
        let event = Event::Deviated {
            lot: None,
            what: what.trim().into(),
            reason: reason.trim().into(),
        };
        if action(ui, "Record the deviation")
            .on_hover_text("It stays an open point until somebody accepts it")
            .clicked()
        {
            page.send(at, Form::Deviation, event);
        }
    });
    page.problem_ui(ui, &Form::Deviation);
}
