//! From a list: a pasted ingredient list worked back to ranges and an estimate.

use std::sync::Arc;
use std::sync::mpsc::{Receiver, channel};

use eframe::egui::{self, Grid, Id, Ui};
use formulation::finding::Level;
use formulation::solve::ingredient_list::{
    self, Deduction, Fact, Knowledge, ListError, PossibleMaterial, ProposedMaterial,
};

use super::{cell, figure, heading, marked, two_columns};
use crate::command::Command;
use crate::state::View;
use crate::theme;
use crate::widgets::entry::Entry;
use crate::widgets::icon::{Icon, icon_button};

/// Width of the bar of a range, in points.
const BAR: f32 = 150.0;

/// What follows from the ranges and takes longer.
struct More {
    narrowing: Result<Vec<(String, f64)>, ListError>,
    materials: Vec<PossibleMaterial>,
    proposed: Vec<ProposedMaterial>,
}

/// What the part keeps between frames.
#[derive(Default)]
pub struct ListPart {
    text: String,
    facts: Vec<Fact>,
    problem: Option<String>,
    usual: bool,
    legal: bool,
    answer: Option<(Asked, Result<Arc<Deduction>, ListError>)>,
    waiting: Option<Receiver<More>>,
    more: Option<More>,
}

#[derive(Clone, PartialEq)]
struct Asked {
    text: String,
    knowledge: Knowledge,
}

/// Draws the part.
pub fn ui(ui: &mut Ui, view: &View<'_>, part: &mut ListPart, commands: &mut Vec<Command>) {
    if let Some(waiting) = &part.waiting
        && let Ok(more) = waiting.try_recv()
    {
        part.more = Some(more);
        part.waiting = None;
    }
    work_out(ui, view, part);
    let answer = part.answer.take();
    let more = part.more.take();
    two_columns(
        ui,
        "aim list",
        360.0,
        |ui| {
            ui.label(theme::heading("Ingredient list"));
            ui.add(
                egui::TextEdit::multiline(&mut part.text)
                    .id(Id::unique("pasted list"))
                    .hint_text("Paste the list of a label, in the order declared, names separated by commas")
                    .desired_rows(7)
                    .desired_width(f32::INFINITY),
            )
            .accessible_name("Ingredient list");
            heading(ui, "What else is known");
            facts(ui, part);
            ui.checkbox(
                &mut part.usual,
                "Take the usual levels of the shelf as highest levels",
            )
            .on_hover_text("For the kind of product of the formula that is open");
            ui.checkbox(&mut part.legal, "Take the legal limits as highest levels")
                .on_hover_text("For the product as stated for the formula that is open");
        },
        |ui| match &answer {
            None => {
                ui.label(theme::heading("Ranges"));
                ui.label("Paste a list on the left.");
            }
            Some((_, Err(error))) => {
                ui.label(theme::heading("Ranges"));
                marked(ui, Level::Caution, error.to_string());
            }
            Some((_, Ok(deduction))) => {
                ranges(ui, deduction);
                further(ui, deduction, more.as_ref(), commands);
            }
        },
    );
    part.answer = answer;
    part.more = more;
}

fn facts(ui: &mut Ui, part: &mut ListPart) {
    let mut gone = None;
    for (k, fact) in part.facts.iter().enumerate() {
        ui.push_id(k, |ui| {
            ui.horizontal(|ui| {
                if icon_button(ui, Icon::Cross, "Remove this fact", true).clicked() {
                    gone = Some(k);
                }
                let words = match fact {
                    Fact::Amount(target) => target.words(),
                    Fact::LineAfter(name) => format!("the one-per-cent line stands after {name}"),
                };
                ui.add(egui::Label::new(words).wrap());
            });
        });
    }
    if let Some(k) = gone {
        part.facts.remove(k);
    }
    let entry = Entry::new(Id::unique("new fact"), "", "Add a fact")
        .width(ui.available_width() - 8.0)
        .hint("glycerin = 5, active <= 14, line after glycerin")
        .show(ui);
    if let Some(text) = entry.done
        && !text.trim().is_empty()
    {
        match text.parse() {
            Ok(fact) => {
                part.facts.push(fact);
                part.problem = None;
            }
            Err(error) => part.problem = Some(error.to_string()),
        }
    }
    if let Some(problem) = &part.problem {
        marked(ui, Level::Caution, problem.clone());
    }
}

/// Works out the ranges at once and the rest beside the window.
fn work_out(ui: &Ui, view: &View<'_>, part: &mut ListPart) {
    if part.text.trim().is_empty() {
        part.answer = None;
        part.more = None;
        return;
    }
    let product = &view.variant.product;
    let asked = Asked {
        text: part.text.clone(),
        knowledge: Knowledge {
            facts: part.facts.clone(),
            usual: part.usual.then_some(product.kinds),
            legal: part.legal.then(|| product.clone()),
        },
    };
    if part.answer.as_ref().is_some_and(|(a, _)| *a == asked) {
        return;
    }
    let shelf = view.state.shelf().clone();
    let list = ingredient_list::read(&asked.text, &shelf);
    let found = ingredient_list::deduce(list, &asked.knowledge, &shelf, view.state.context());
    part.more = None;
    part.waiting = None;
    let found = found.map(Arc::new);
    if let Ok(deduction) = &found {
        let (send, receive) = channel();
        let (deduction, repaint) = (deduction.clone(), ui.ctx().clone());
        let work = move || {
            let more = More {
                narrowing: deduction.narrowing(),
                materials: deduction.materials(&shelf),
                proposed: deduction.proposal(&shelf),
            };
            // A newer list may have been pasted meanwhile; then nobody waits.
            let _ = send.send(more);
            repaint.request_repaint();
        };
        if std::thread::Builder::new()
            .name("list".into())
            .spawn(work)
            .is_ok()
        {
            part.waiting = Some(receive);
        }
    }
    part.answer = Some((asked, found));
}

fn ranges(ui: &mut Ui, deduction: &Deduction) {
    let p = theme::palette(ui);
    ui.label(theme::heading("Ranges"));
    ui.add(egui::Label::new(formulation::file::aim_report::LIST_NOTICE).wrap());
    ui.add_space(theme::TIGHT);
    let width = (ui.available_width() - 3.0 * 76.0 - BAR - 40.0).clamp(110.0, 300.0);
    Grid::new("list ranges")
        .num_columns(5)
        .striped(true)
        .show(ui, |ui| {
            ui.label(theme::small(ui, "ingredient"));
            for head in ["low %", "centre %", "high %"] {
                figure(ui, theme::small(ui, head));
            }
            ui.label(theme::small(ui, "0 to 100 %"));
            ui.end_row();
            let rows = deduction.list.names.iter().enumerate();
            for (i, name) in rows {
                let [low, centre, high] = [
                    &deduction.ranges.low,
                    &deduction.centre.percent,
                    &deduction.ranges.high,
                ]
                .map(|values| values.get(i).copied().unwrap_or(0.0));
                let response = cell(ui, width, &*name.inci);
                if !name.known {
                    response.on_hover_text("Neither on the shelf nor in the inventory");
                }
                figure(ui, format!("{low:.2}"));
                figure(ui, theme::strong(format!("{centre:.2}")));
                figure(ui, format!("{high:.2}"));
                let (rect, _) = ui.allocate_exact_size(egui::vec2(BAR, 14.0), egui::Sense::hover());
                let x = |percent: f64| rect.left() + rect.width() * (percent / 100.0) as f32;
                ui.painter().hline(
                    rect.x_range(),
                    rect.center().y,
                    egui::Stroke::new(1.0, p.rule),
                );
                let band = egui::Rect::from_x_y_ranges(
                    x(low)..=x(high).max(x(low) + 1.5),
                    rect.shrink2(egui::vec2(0.0, 3.0)).y_range(),
                );
                ui.painter().rect_filled(band, 2.0, p.usual);
                ui.painter()
                    .vline(x(centre), rect.y_range(), egui::Stroke::new(2.0, p.accent));
                ui.end_row();
            }
        });
    let line = |k: usize| {
        k.checked_sub(1)
            .and_then(|k| deduction.list.names.get(k))
            .map_or("the beginning", |n| &*n.inci)
    };
    let lines = &deduction.ranges.lines;
    if let (Some(first), Some(last)) = (lines.first(), lines.last()) {
        let words = if first == last {
            format!("The one-per-cent line stands after {}.", line(*first))
        } else {
            format!(
                "The one-per-cent line may stand after {} to after {}; the centre assumes after {}.",
                line(*first),
                line(*last),
                line(deduction.centre.line)
            )
        };
        ui.add(egui::Label::new(words).wrap());
    }
    for note in &deduction.notes {
        marked(ui, Level::Note, note.clone());
    }
    if !deduction.limits.is_empty() {
        egui::CollapsingHeader::new(format!("Limits taken ({})", deduction.limits.len()))
            .id_salt("list limits")
            .show(ui, |ui| {
                for limit in &deduction.limits {
                    let name = deduction
                        .list
                        .names
                        .get(limit.ingredient)
                        .map_or("", |n| &*n.inci);
                    ui.add(
                        egui::Label::new(format!(
                            "{name} at most {:.3} %: {}",
                            limit.most, limit.ground
                        ))
                        .wrap(),
                    );
                }
            });
    }
}

fn further(ui: &mut Ui, deduction: &Deduction, more: Option<&More>, commands: &mut Vec<Command>) {
    let Some(more) = more else {
        ui.add_space(theme::TIGHT);
        ui.label(theme::small(
            ui,
            "Looking at what would narrow the ranges and at the shelf…",
        ));
        return;
    };
    heading(ui, "What would narrow the ranges most");
    match &more.narrowing {
        Err(error) => marked(ui, Level::Caution, error.to_string()),
        Ok(facts) if facts.is_empty() => {
            ui.label("Nothing; the ranges are as narrow as they can be.");
        }
        Ok(facts) => {
            for (fact, gain) in facts.iter().take(4) {
                ui.label(format!("{fact}: by {:.0} %", 100.0 * gain));
            }
        }
    }
    let blends: Vec<&PossibleMaterial> = more.materials.iter().filter(|m| m.blend).collect();
    if !blends.is_empty() {
        heading(ui, "Blends of the shelf that fit");
        for blend in blends {
            ui.add(
                egui::Label::new(format!(
                    "{}, at most {:.2} %",
                    blend.material.name, blend.most
                ))
                .wrap(),
            );
        }
    }
    if more.proposed.is_empty() {
        return;
    }
    heading(ui, "Raw materials that come close to the centre");
    for p in &more.proposed {
        let shelf = if p.on_shelf {
            ""
        } else {
            " (not on the shelf)"
        };
        ui.add(egui::Label::new(format!("{:.2} % {}{shelf}", p.percent, p.material.name)).wrap());
    }
    if theme::main_button(ui, "Take over as a new content of this variant")
        .on_hover_text("Replaces the lines of the open variant as one step that can be undone")
        .clicked()
    {
        let formula = deduction.formula("Estimate from a list", &more.proposed);
        commands.push(Command::Edit(formulation::edit::Edit::ReplaceContent {
            variant: formula.active().clone(),
            materials: formula.materials.values().cloned().collect(),
        }));
    }
}
