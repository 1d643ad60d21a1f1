//! What all trials together say of the formula as it stands.

use std::sync::Arc;

use eframe::egui::Ui;
use egui_plot::{Line, Plot, Points, VLine};
use formulation::amount::{Measure, typed};
use formulation::finding::Level;
use formulation::formula::Variant;
use formulation::trial::book::TrialEvent;
use formulation::trial::fit::Interval;
use formulation::trial::learn::{Expected, Learnt, Lessons};
use formulation::trial::reading::Quantity;
use formulation::trial::settling;

use super::note;
use crate::command::Command;
use crate::sheets::make::{action, caution, choice, field};
use crate::state::View;
use crate::theme;
use crate::widgets::area::area;
use crate::widgets::of_trials::OfTrials;
use crate::widgets::round_axes::round_axes;

/// Points of a curve.
const POINTS: u32 = 61;

/// What the page keeps between frames.
#[derive(Default)]
pub struct LearntPage {
    told: OfTrials,
    /// Quantity and material of the curve.
    shown: usize,
    over: usize,
    curve: Option<Curve>,
    /// The time until it has settled, as typed.
    settled: String,
    problem: Option<String>,
}

/// A curve, and the state it is of.
struct Curve {
    lessons: Lessons,
    variant: Arc<Variant>,
    place: (usize, usize),
    samples: Vec<(f64, Expected)>,
    here: Option<f64>,
    /// Where the next trial teaches most, in words.
    next: Option<String>,
}

/// Draws the page.
pub fn ui(
    ui: &mut Ui,
    view: &View<'_>,
    page: &mut LearntPage,
    by: &str,
    commands: &mut Vec<Command>,
) {
    let all_learnt: Vec<&Learnt> = view.state.lessons().all().collect();
    page.told.refresh(view);
    ui.label(theme::strong("This composition"));
    page.told.ui(ui, Some(by), commands);
    ui.add_space(theme::TIGHT);
    if all_learnt.is_empty() && view.state.is_learning() {
        ui.label("Learning from the readings…");
        return;
    }
    if all_learnt.is_empty() {
        ui.label(
            "A response is learnt from four readings or more, read in one way, of states that differ in a material.",
        );
        return;
    }
    ui.add_space(theme::TIGHT);
    let all: Vec<usize> = (0..all_learnt.len()).collect();
    page.shown = page.shown.min(all.len() - 1);
    let Some(&learnt) = all_learnt.get(page.shown) else {
        return;
    };
    let names: Vec<String> = learnt
        .from
        .varying
        .iter()
        .map(|id| view.name_of(id))
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
                    .map_or_else(String::new, |l| response_name(l))
            },
            300.0,
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
    page.shown = shown;
    let place = (page.shown, page.over);
    let lessons = view.state.lessons();
    let now = |c: &Curve| {
        c.place == place && c.lessons == *lessons && Arc::ptr_eq(&c.variant, view.variant)
    };
    let kept = page.curve.take().filter(now);
    let curve = kept.unwrap_or_else(|| worked_out(view, learnt, place, &names));
    draw(ui, learnt, &curve, names.get(page.over));
    if let Some(words) = &curve.next {
        ui.label(words);
    }
    page.curve = Some(curve);
    settle(ui, view, page, learnt, by, commands);
}

/// When a reading counts as settled, and a field to state it.
fn settle(
    ui: &mut Ui,
    view: &View<'_>,
    page: &mut LearntPage,
    learnt: &Learnt,
    by: &str,
    commands: &mut Vec<Command>,
) {
    let quantity = learnt.from.quantity;
    let book = view.state.trials(view.document.id).book();
    let Some(settling) = settling::of_quantity(book, quantity) else {
        return;
    };
    let followed = if quantity == Quantity::Viscosity {
        "once its recovery on the step is over, where that was followed; else "
    } else {
        ""
    };
    let words = format!(
        "A {} counts as settled {followed}after {}. What was read before stands apart.",
        quantity.label(),
        settling.words()
    );
    ui.add_space(theme::TIGHT);
    ui.label(theme::small(ui, words));
    ui.horizontal_wrapped(|ui| {
        field(ui, "Settled after, h", &mut page.settled, 90.0)
            .on_hover_text("Since it was made or last added to. For example 24 h or 15 min");
        let typed = !page.settled.trim().is_empty();
        if ui
            .add_enabled_ui(typed, |ui| action(ui, "State it"))
            .inner
            .clicked()
        {
            match typed::value(&page.settled, &Measure::HOURS) {
                Ok(hours) => {
                    page.problem = None;
                    page.settled.clear();
                    note(commands, by, TrialEvent::Settle { quantity, hours });
                }
                Err(error) => page.problem = Some(format!("Settled after: {error}")),
            }
        }
    });
    if let Some(problem) = &page.problem {
        caution(ui, Level::Caution, problem.as_str());
    }
}

/// The name of a response in a list: the quantity, and how it was read where that matters.
fn response_name(learnt: &Learnt) -> String {
    let way = learnt.way();
    let sep = if way.is_empty() { "" } else { ", " };
    format!("{}{sep}{way}", learnt.from.quantity.label())
}

fn worked_out(
    view: &View<'_>,
    learnt: &Learnt,
    (shown, over): (usize, usize),
    names: &[String],
) -> Curve {
    let place = learnt.from.place(view.variant);
    let next = learnt.next_trial().map(|(place, expected)| {
        let parts: Vec<String> = names
            .iter()
            .zip(&place)
            .map(|(name, share)| format!("{name} {}", Measure::PERCENT_ROUGH.shown(100.0 * share)))
            .collect();
        format!(
            "The next trial would teach most with {}; expected {}.",
            parts.join(", "),
            learnt.from.quantity.range_shown(expected.range)
        )
    });
    Curve {
        lessons: view.state.lessons().clone(),
        variant: view.variant.clone(),
        place: (shown, over),
        samples: learnt.over(over, &place, POINTS),
        here: place.get(over).map(|share| 100.0 * share),
        next,
    }
}

fn draw(ui: &mut Ui, learnt: &Learnt, curve: &Curve, name: Option<&String>) {
    let p = theme::palette(ui);
    let samples = &curve.samples;
    let over = curve.place.1;
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
            if let Some(here) = curve.here {
                plot.vline(VLine::new("this formula", here).color(p.faint_ink));
            }
        });
    response
        .response
        .accessible_name(format!("Learnt: {}", quantity.label()));
    ui.label(theme::small(
        ui,
        "Everything else as in the formula. Band: where a new reading lies, 95 times of 100; it widens outside of what was tried. Upright line: the formula as it stands.",
    ));
}
