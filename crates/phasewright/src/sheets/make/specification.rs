//! What the product must measure before it may leave; kept in the formula.

use std::sync::Arc;

use eframe::egui::{Grid, Ui, vec2};
use formulation::amount::{Measure, typed};
use formulation::edit::Edit;
use formulation::specification::{
    Characteristic, LEAST_YIELD, PH_TOLERANCE, Quality, Specification,
};

use crate::command::Command;
use crate::state::View;
use crate::theme;
use crate::widgets::entry::Entry;
use crate::widgets::refusal::{accept, refusal, refuse, refused};

/// Width from which what is asked in the end stands beside the table, in points.
const BESIDE: f32 = 1500.0;
/// Room for what is asked in the end, in points.
const ASKED: f32 = 460.0;

/// Draws the page.
pub fn ui(ui: &mut Ui, view: &View<'_>, commands: &mut Vec<Command>) {
    ui.label(theme::heading(format!(
        "Specification of {}",
        view.formula.name
    )));
    ui.label(theme::small(
        ui,
        "Read by the Formula sheet, Aim, the weigh sheet, the batch record and its release, the stability plans and the papers. It is kept in the formula file.",
    ));
    ui.add_space(theme::TIGHT);
    let width = ui.available_width();
    if width < BESIDE {
        stated(ui, view, commands);
        ui.add_space(theme::GAP);
        asked(ui, view);
        return;
    }
    ui.horizontal_top(|ui| {
        ui.vertical(|ui| {
            ui.set_max_width(width - ASKED);
            stated(ui, view, commands);
        });
        ui.add_space(2.0 * theme::GAP);
        ui.vertical(|ui| asked(ui, view));
    });
}

/// What the maker states: a table, and what may be added to it.
fn stated(ui: &mut Ui, view: &View<'_>, commands: &mut Vec<Command>) {
    let mut next = view.variant.specification.as_ref().clone();
    let mut changed = false;
    if next.characteristics.is_empty() {
        ui.label("No limits of its own are stated yet.");
    } else {
        changed = table(ui, view, &mut next, commands);
        ui.add_space(theme::TIGHT);
    }
    ui.horizontal_wrapped(|ui| {
        for quality in Quality::ALL {
            let there = next.characteristics.iter().any(|c| c.quality == quality);
            if (!there || quality == Quality::Other)
                && ui.button(format!("Add {}", quality.label())).clicked()
            {
                next.characteristics.push(Characteristic::new(quality));
                next.characteristics.sort_by_key(|c| c.quality);
                changed = true;
            }
        }
    });
    if changed {
        commands.push(Command::Edit(Edit::SetSpecification(Arc::new(next))));
    }
}

/// Heads of the table.
const HEADS: [&str; 7] = [
    "What",
    "Wanted",
    "Lowest",
    "Highest",
    "Acceptable, in words",
    "Method",
    "",
];

/// The table of what is stated; whether it was changed.
fn table(
    ui: &mut Ui,
    view: &View<'_>,
    next: &mut Specification,
    commands: &mut Vec<Command>,
) -> bool {
    let mut changed = false;
    let mut remove = None;
    let document = view.document.id;
    let mut told = Told::new();
    Grid::new("specification")
        .num_columns(HEADS.len())
        .spacing([theme::GAP, theme::TIGHT])
        .striped(true)
        .show(ui, |ui| {
            for head in HEADS {
                ui.label(theme::small(ui, head));
            }
            ui.end_row();
            for (place, one) in next.characteristics.iter_mut().enumerate() {
                let id = ui.scope_id().with((document, view.variant.id, place));
                changed |= figures(ui, view, &mut told, id, one, commands);
                let name = one.quality.label();
                changed |= words(ui, (id, name, "acceptable"), &mut one.accept, 240.0);
                changed |= words(ui, (id, name, "method"), &mut one.method, 220.0);
                if ui
                    .button("Remove")
                    .accessible_name(format!("Remove {name} from the specification"))
                    .clicked()
                {
                    remove = Some(place);
                }
                ui.end_row();
            }
        });
    for (place, shown) in told {
        refusal(ui, place, &shown);
    }
    if let Some(place) = remove {
        next.characteristics.remove(place);
        changed = true;
    }
    changed
}

/// The name of a quality and its figures, where it has any; whether they were changed.
fn figures(
    ui: &mut Ui,
    view: &View<'_>,
    told: &mut Told,
    id: eframe::egui::Id,
    one: &mut Characteristic,
    commands: &mut Vec<Command>,
) -> bool {
    let name = one.quality.label();
    ui.label(theme::strong(name));
    let Some(measure) = one.quality.measure() else {
        for _ in 0..3 {
            ui.label("");
        }
        return false;
    };
    let mut changed = false;
    if one.quality == Quality::Ph {
        target_ph(ui, view, told, id, commands);
    } else {
        changed |= figure(ui, told, (id, name, "wanted"), &mut one.target, measure);
    }
    changed |= figure(ui, told, (id, name, "lowest"), &mut one.low, measure);
    changed |= figure(ui, told, (id, name, "highest"), &mut one.high, measure);
    changed
}

/// What is asked of a batch in the end.
fn asked(ui: &mut Ui, view: &View<'_>) {
    ui.label(theme::strong("Asked of every batch"));
    for wanted in view.variant.must_measure() {
        let words = wanted.words();
        let words = match (words.is_empty(), wanted.quality) {
            (false, _) => words,
            (true, Quality::Appearance | Quality::Odour) => "to be judged".to_owned(),
            (true, _) => "to be measured".to_owned(),
        };
        ui.label(format!("{}: {words}", wanted.name()));
    }
    let stated = |s: &Specification| s.characteristics.iter().any(|c| c.quality == Quality::Ph);
    if view
        .variant
        .specification
        .characteristics
        .iter()
        .all(|c| c.quality != Quality::Yield)
    {
        let words = format!(
            "Without limits of its own the yield must be at least {LEAST_YIELD} %: common practice, no source"
        );
        ui.label(theme::small(ui, words));
    }
    if view.variant.target_ph.is_some() && !stated(&view.variant.specification) {
        let words = format!(
            "Without limits of its own the pH may be {PH_TOLERANCE} off the one aimed at: common practice, no source"
        );
        ui.label(theme::small(ui, words));
    }
}

/// Width of a figure.
const FIGURE: f32 = 84.0;

/// A field of a fixed width in the table.
fn cell(ui: &mut Ui, width: f32, entry: Entry<'_>) -> Option<String> {
    ui.allocate_ui(vec2(width, theme::FIELD), |ui| {
        ui.set_min_width(width);
        entry.show(ui).done
    })
    .inner
}

fn target_ph(
    ui: &mut Ui,
    view: &View<'_>,
    told: &mut Told,
    id: eframe::egui::Id,
    commands: &mut Vec<Command>,
) {
    let shown = view
        .variant
        .target_ph
        .map_or_else(String::new, |ph| ph.to_string());
    let id = id.with("target ph");
    if let Some(ph) = asked_figure(ui, told, id, &shown, "pH wanted", "", |text| {
        typed::optional(text, typed::ph).map_err(|e| e.to_string())
    }) {
        commands.push(Command::Edit(Edit::SetTargetPh(ph)));
    }
}

fn figure(
    ui: &mut Ui,
    told: &mut Told,
    (id, name, what): (eframe::egui::Id, &str, &str),
    value: &mut Option<f64>,
    measure: &Measure,
) -> bool {
    let shown = value.map_or_else(String::new, |v| v.to_string());
    let name = format!("{name} {what}");
    let read = asked_figure(
        ui,
        told,
        id.with(what),
        &shown,
        &name,
        measure.unit,
        |text| typed::optional(text, |t| typed::value(t, measure)).map_err(|e| e.to_string()),
    );
    if let Some(read) = read {
        *value = read;
    }
    read.is_some()
}

/// The fields of the table with the text they show, for what is to be told of them below it.
type Told = Vec<(eframe::egui::Id, String)>;

/// A field for a figure. What cannot be read stays in it, and the reason is told below the table.
fn asked_figure<T>(
    ui: &mut Ui,
    told: &mut Told,
    id: eframe::egui::Id,
    shown: &str,
    name: &str,
    unit: &str,
    read: impl FnOnce(&str) -> Result<T, String>,
) -> Option<T> {
    let place = id.with("refused");
    let shown = refused(ui, place).unwrap_or_else(|| shown.to_owned());
    let entry = Entry::new(id, &shown, name).hint(unit).width(FIGURE);
    let Some(text) = cell(ui, FIGURE, entry) else {
        told.push((place, shown));
        return None;
    };
    match read(&text) {
        Ok(value) => {
            accept(ui, place);
            Some(value)
        }
        Err(why) => {
            refuse(ui, place, text, format!("“{name}”: {why}"));
            None
        }
    }
}

fn words(
    ui: &mut Ui,
    (id, name, what): (eframe::egui::Id, &str, &str),
    value: &mut Arc<str>,
    width: f32,
) -> bool {
    let shown = value.to_string();
    let name = format!("{name} {what}");
    let entry = Entry::new(id.with(what), &shown, name).width(width).words();
    let Some(text) = cell(ui, width, entry) else {
        return false;
    };
    *value = text.trim().into();
    true
}
