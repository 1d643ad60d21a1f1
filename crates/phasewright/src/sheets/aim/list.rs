//! From a list: a pasted ingredient list worked back to ranges and an estimate.

use std::sync::Arc;

use eframe::egui::{self, Grid, Id, Ui};
use formulation::amount::Measure;
use formulation::finding::Level;
use formulation::progress::Progress;
use formulation::solve::ingredient_list::{
    self, Deduction, Fact, Knowledge, ListError, PossibleMaterial, ProposedMaterial,
};

use super::{cell, figure, heading, marked, two_columns};
use crate::command::Command;
use crate::state::View;
use crate::theme;
use crate::widgets::entry::Entry;
use crate::widgets::icon::{Icon, icon_button};
use crate::widgets::work_bar::work_bar;
use crate::work::Work;

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
    answer: Work<Asked, Result<Arc<Deduction>, ListError>>,
    more: Work<Asked, More>,
}

#[derive(Clone, PartialEq)]
struct Asked {
    text: String,
    knowledge: Knowledge,
}

/// Draws the part.
pub fn ui(ui: &mut Ui, view: &View<'_>, part: &mut ListPart, commands: &mut Vec<Command>) {
    work_out(ui, view, part);
    let is_empty = part.text.trim().is_empty();
    // Taken apart, so that both columns may use the rest.
    let mut answer = std::mem::take(&mut part.answer);
    let mut more = std::mem::take(&mut part.more);
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
        |ui| {
            if is_empty {
                ui.label(theme::heading("Ranges"));
                ui.label("Paste a list on the left.");
                return;
            }
            work_bar(ui, &mut answer, "Working out the ranges");
            match answer.answer() {
                None => {}
                Some(Err(error)) => {
                    ui.label(theme::heading("Ranges"));
                    marked(ui, Level::Caution, error.to_string());
                }
                Some(Ok(deduction)) => {
                    ranges(ui, deduction);
                    ui.add_space(theme::TIGHT);
                    work_bar(
                        ui,
                        &mut more,
                        "Looking for what narrows them, and through the shelf",
                    );
                    if let Some(more) = more.answer() {
                        further(ui, deduction, more, commands);
                    }
                }
            }
        },
    );
    (part.answer, part.more) = (answer, more);
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
        match text.parse::<Fact>() {
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

/// Works out the ranges, then what takes longer.
fn work_out(ui: &Ui, view: &View<'_>, part: &mut ListPart) {
    if part.text.trim().is_empty() {
        part.answer.forget();
        part.more.forget();
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
    let of = asked.clone();
    part.answer.ask(ui, asked.clone(), || {
        let (shelf, context) = (view.state.shelf().clone(), view.state.context().clone());
        move |progress: &Progress| {
            let list = ingredient_list::read(&of.text, &shelf);
            ingredient_list::deduce_with(list, &of.knowledge, &shelf, &context, progress)
                .map(Arc::new)
        }
    });
    let Some(Ok(deduction)) = part.answer.answer() else {
        part.more.forget();
        return;
    };
    let deduction = Arc::clone(deduction);
    part.more.ask(ui, asked, || {
        let shelf = view.state.shelf().clone();
        move |progress: &Progress| More {
            narrowing: deduction.narrowing(progress),
            materials: deduction.materials(&shelf),
            proposed: deduction.proposal(&shelf),
        }
    });
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
                let response = cell(ui, width, name.inci.spelling());
                if !name.known {
                    response.on_hover_text("Neither on the shelf nor in the inventory");
                }
                figure(ui, Measure::PERCENT_ROUGH.digits_of(low));
                figure(ui, theme::strong(Measure::PERCENT_ROUGH.digits_of(centre)));
                figure(ui, Measure::PERCENT_ROUGH.digits_of(high));
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
            .map_or("the beginning", |n| n.inci.spelling())
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
                        .map_or("", |n| n.inci.spelling());
                    ui.add(
                        egui::Label::new(format!(
                            "{name} at most {}: {}",
                            Measure::SHARE.shown(limit.most),
                            limit.ground
                        ))
                        .wrap(),
                    );
                }
            });
    }
}

fn further(ui: &mut Ui, deduction: &Deduction, more: &More, commands: &mut Vec<Command>) {
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
                    "{}, at most {}",
                    blend.material.name,
                    Measure::PERCENT_ROUGH.shown(blend.most)
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
        ui.add(
            egui::Label::new(format!(
                "{} {}{shelf}",
                Measure::PERCENT_ROUGH.shown(p.percent),
                p.material.name
            ))
            .wrap(),
        );
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
