//! What all trials together say of the formula as it stands.

use eframe::egui::Ui;
use egui_plot::{Line, Plot, Points, VLine};
use formulation::amount::Measure;
use formulation::finding::Level;
use formulation::material::MaterialId;
use formulation::trial::book::{Book, value_words};
use formulation::trial::fit::Interval;
use formulation::trial::learn::{Expected, Learnt};
use formulation::trial::reading::Quantity;

use crate::sheets::make::{caution, choice};
use crate::state::{DocumentId, View};
use crate::theme;
use crate::widgets::area::area;
use crate::widgets::round_axes::round_axes;

/// Points of a curve.
const POINTS: u32 = 61;

/// What the page keeps between frames.
#[derive(Default)]
pub struct LearntPage {
    /// What was read of the formula as it stands, and of which state of it and the trials
    /// that is told.
    stated: Vec<(bool, String)>,
    stated_of: Option<((DocumentId, u64), u64)>,
    /// Quantity and material of the curve.
    shown: usize,
    over: usize,
}

/// Draws the page.
pub fn ui(ui: &mut Ui, view: &View<'_>, page: &mut LearntPage) {
    let trials = view.state.trials(view.document.id);
    let book = trials.book();
    let now = (view.document.id, trials.revision());
    let all_learnt = view.state.lessons().all();
    let state = (now, view.document.revision());
    if page.stated_of != Some(state) {
        page.stated = stated(book, view);
        page.stated_of = Some(state);
    }
    ui.label(theme::strong("This composition"));
    if page.stated.is_empty() {
        ui.label("Nothing was read yet.");
    }
    for (of_this, words) in &page.stated {
        if *of_this {
            ui.label(words);
        } else {
            ui.label(theme::small(ui, words));
        }
    }
    ui.add_space(theme::TIGHT);
    if all_learnt.is_empty() && view.state.is_learning() {
        ui.label("Learning from the readings…");
        return;
    }
    if all_learnt.is_empty() {
        ui.label(
            "A response is learnt from four readings or more of states that differ in a material.",
        );
        return;
    }
    for learnt in all_learnt {
        let expected = learnt.at(&learnt.from.place(view.variant));
        let words = format!(
            "{}: {}",
            learnt.from.quantity.label(),
            learnt.words(&expected)
        );
        if expected.inside {
            ui.label(words);
        } else {
            caution(ui, Level::Caution, words);
        }
        let strange = learnt.from.strange(view.variant);
        if !strange.is_empty() {
            let names: Vec<String> = strange.iter().map(|id| name_of(view, id)).collect();
            let words = format!(
                "No trial of it had as much or as little of {}, so it may not hold",
                names.join("; ")
            );
            caution(ui, Level::Caution, words);
        }
        ui.label(theme::small(ui, learnt.error_words()));
    }
    ui.add_space(theme::TIGHT);
    let all: Vec<usize> = (0..all_learnt.len()).collect();
    page.shown = page.shown.min(all.len() - 1);
    let Some(learnt) = all_learnt.get(page.shown) else {
        return;
    };
    let names: Vec<String> = learnt
        .from
        .varying
        .iter()
        .map(|id| name_of(view, id))
        .collect();
    let mut shown = page.shown;
    ui.horizontal_wrapped(|ui| {
        choice(
            ui,
            "Response",
            &mut shown,
            &all,
            |i| {
                all_learnt
                    .get(i)
                    .map_or_else(String::new, |l| l.from.quantity.label().to_owned())
            },
            140.0,
        );
        let places: Vec<usize> = (0..names.len()).collect();
        page.over = page.over.min(names.len().saturating_sub(1));
        choice(
            ui,
            "Over",
            &mut page.over,
            &places,
            |i| names.get(i).cloned().unwrap_or_default(),
            240.0,
        );
    });
    curve(ui, view, learnt, page.over, names.get(page.over));
    if let Some((place, expected)) = learnt.next_trial() {
        let parts: Vec<String> = names
            .iter()
            .zip(&place)
            .map(|(name, share)| format!("{name} {}", Measure::PERCENT_ROUGH.shown(100.0 * share)))
            .collect();
        ui.label(format!(
            "The next trial would teach most with {}; expected {}.",
            parts.join(", "),
            learnt.from.quantity.range_shown(expected.range)
        ));
    }
    page.shown = shown;
}

/// The newest reading of each quantity, and whether it is of exactly this composition.
fn stated(book: &Book, view: &View<'_>) -> Vec<(bool, String)> {
    Quantity::ALL
        .into_iter()
        .filter_map(|quantity| {
            if let Some(kept) = book.measured(view.variant, quantity) {
                let words = format!(
                    "{}: measured {} (reading {} of trial {})",
                    quantity.label(),
                    value_words(&kept.reading),
                    kept.number,
                    kept.trial
                );
                return Some((true, words));
            }
            let (trial, kept) = book.newest(quantity)?;
            let words = format!(
                "{}: {} was read of an earlier state (trial {}, {})",
                quantity.label(),
                value_words(&kept.reading),
                trial.number,
                trial.step_words(kept.step)
            );
            Some((false, words))
        })
        .collect()
}

fn name_of(view: &View<'_>, id: &MaterialId) -> String {
    let shelf = view.state.shelf();
    view.formula
        .material(id)
        .or_else(|| shelf.get(id))
        .map_or_else(|| id.to_string(), |m| m.name.to_string())
}

fn curve(ui: &mut Ui, view: &View<'_>, learnt: &Learnt, over: usize, name: Option<&String>) {
    let p = theme::palette(ui);
    let place = learnt.from.place(view.variant);
    let samples: Vec<(f64, Expected)> = learnt.over(over, &place, POINTS);
    let line: Vec<[f64; 2]> = samples.iter().map(|(x, e)| [*x, e.value]).collect();
    let band: Vec<(f64, Interval)> = samples.iter().map(|(x, e)| (*x, e.range)).collect();
    let dots = learnt.readings_over(over);
    let dots: Vec<[f64; 2]> = dots.into_iter().map(|(x, y)| [x, y]).collect();
    let quantity = learnt.from.quantity;
    let unit = quantity.unit();
    let response = round_axes(Plot::new("learnt"))
        .grid_color(p.rule)
        .width((ui.available_width() - 20.0).min(760.0))
        .height(260.0)
        .allow_drag(false)
        .allow_zoom(false)
        .allow_scroll(false)
        .x_axis_label(format!("{}, %", name.map_or("share", String::as_str)))
        .y_axis_label(if unit.is_empty() {
            quantity.label().to_owned()
        } else {
            format!("{}, {unit}", quantity.label())
        })
        .show(ui, |plot| {
            plot.add(area("new reading", &band, p.accent.gamma_multiply(0.16)));
            plot.line(Line::new("learnt", line).color(p.accent).width(2.0));
            plot.points(Points::new("read", dots).color(p.ink).radius(3.0));
            if let Some(here) = place.get(over) {
                plot.vline(VLine::new("this formula", 100.0 * here).color(p.faint_ink));
            }
        });
    response
        .response
        .accessible_name(format!("Learnt: {}", quantity.label()));
    ui.label(theme::small(
        ui,
        "Everything else as in the formula. Band: 95 % of a new reading; it widens outside of what was tried. Upright line: the formula as it stands.",
    ));
}
