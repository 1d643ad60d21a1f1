//! What a table becomes, line by line, with what each row is taken as.

use eframe::egui::{self, ComboBox, Ui};
use egui_extras::{Column, TableBuilder};
use formulation::file::answers::Answers;
use formulation::file::table::TableOrigin;
use formulation::file::table::price_list::PriceList;
use formulation::file::table::questions::Asked;
use formulation::file::table::recipe::{MaterialChoice, RecipeProposal};
use formulation::finding::Level;
use formulation::naming::How;

use super::questions::{choice_words, place_words};
use crate::state::View;
use crate::theme;
use crate::widgets::level_mark::level_mark;

/// Height of a row in points.
const ROW: f32 = 28.0;
/// Width of an amount, in points.
const AMOUNT: f32 = 80.0;
/// Width of a price with its pack, "118.50 EUR for 25000 g", and what part of all several get.
const PRICE: f32 = 170.0;
const PRICES: f32 = 0.24;

/// The lines of a recipe; whether another material was chosen for one.
pub(super) fn recipe(
    ui: &mut Ui,
    view: &View<'_>,
    (proposal, origin): (&mut RecipeProposal, Option<&TableOrigin>),
    answers: &mut Answers,
) -> bool {
    let mut changed = false;
    let phases: Vec<String> = proposal.phases.iter().map(|p| p.letter.clone()).collect();
    table(
        ui,
        "recipe lines",
        ["Row", "Phase", "Material", "INCI", "Amount", "Taken as"],
        AMOUNT,
        proposal.lines.len(),
        |n, column, ui| {
            let Some(line) = proposal.lines.get_mut(n) else {
                return;
            };
            match column {
                0 => place(ui, line.row, origin),
                1 => ui.label(phases.get(line.phase).map_or("", String::as_str)),
                2 => text(ui, &line.wanted.name),
                3 => inci(ui, view, line),
                4 => ui.label(line.quantity.to_string()),
                _ => match_choice(ui, view, line, answers, &mut changed),
            };
        },
    );
    changed
}

/// The rows of a list of prices; whether another material was chosen for one.
pub(super) fn prices(
    ui: &mut Ui,
    view: &View<'_>,
    (list, origin): (&mut PriceList, Option<&TableOrigin>),
    answers: &mut Answers,
) -> bool {
    let mut changed = false;
    let lots = list.prices.iter().any(|line| line.lot.is_some());
    table(
        ui,
        "price lines",
        [
            "Row",
            if lots { "Lot" } else { "" },
            "Material",
            "INCI",
            "Price",
            "Taken as",
        ],
        (ui.available_width() * PRICES).clamp(PRICE, 2.0 * PRICE),
        list.prices.len(),
        |n, column, ui| {
            let Some(line) = list.prices.get_mut(n) else {
                return;
            };
            match column {
                0 => place(ui, line.row, origin),
                1 => text(ui, line.lot.as_ref().map_or("", |l| l.code.as_str())),
                2 => text(ui, &line.wanted.name),
                3 => inci(ui, view, line),
                4 => text(ui, &line.price_words()),
                _ => match_choice(ui, view, line, answers, &mut changed),
            };
        },
    );
    changed
}

/// Where a row stands in the file: its number, or its first cell.
fn place(ui: &mut Ui, row: usize, origin: Option<&TableOrigin>) -> egui::Response {
    let words = place_words(row, origin);
    let first = words.split(' ').next().unwrap_or_default();
    ui.label(theme::small(ui, first)).on_hover_text(&words)
}

/// The INCI names that the row states, else those of what it is taken for, in faint ink.
fn inci(ui: &mut Ui, view: &View<'_>, line: &impl Asked) -> egui::Response {
    let written = &line.wanted().inci;
    let taken = match line.choice() {
        MaterialChoice::Known(id, _) if written.is_empty() => view.state.shelf().get(id),
        _ => None,
    };
    let Some(taken) = taken else {
        return text(ui, written);
    };
    let words = taken.inci_line();
    let label = egui::Label::new(theme::small(ui, words.as_str())).truncate();
    ui.add(label).on_hover_text(words)
}

fn text(ui: &mut Ui, words: &str) -> egui::Response {
    let response = ui.add(egui::Label::new(words).truncate());
    if words.chars().count() > 16 {
        response.on_hover_text(words)
    } else {
        response
    }
}

fn table(
    ui: &mut Ui,
    name: &str,
    titles: [&str; 6],
    measure: f32,
    count: usize,
    mut cell: impl FnMut(usize, usize, &mut Ui),
) {
    // The matches are read and changed, so they get what the names leave.
    let matches = (ui.available_width() * 0.32).clamp(150.0, 460.0);
    // A column without a title has nothing in it.
    let second = if titles[1].is_empty() { 0.0 } else { 44.0 };
    TableBuilder::new(ui)
        .id_salt(name)
        .auto_shrink(false)
        .cell_layout(egui::Layout::left_to_right(egui::Align::Center))
        .column(Column::exact(32.0))
        .column(Column::exact(second).clip(true))
        .column(Column::remainder().at_least(90.0).clip(true))
        .column(Column::remainder().at_least(60.0).clip(true))
        .column(Column::exact(measure).clip(true))
        .column(Column::exact(matches).clip(true))
        .header(ROW, |mut header| {
            for title in titles {
                header.col(|ui| {
                    ui.label(theme::small(ui, title));
                });
            }
        })
        .body(|body| {
            body.rows(ROW, count, |mut row| {
                let n = row.index();
                for column in 0..titles.len() {
                    row.col(|ui| cell(n, column, ui));
                }
            });
        });
}

/// What a row is taken as: a material found, a new one of unknown composition, or a pure
/// substance.
fn match_choice(
    ui: &mut Ui,
    view: &View<'_>,
    line: &mut impl Asked,
    answers: &mut Answers,
    changed: &mut bool,
) -> egui::Response {
    let choice = line.choice().clone();
    let level = match &choice {
        MaterialChoice::Known(_, how) if how.is_doubtful() => Some(Level::Caution),
        MaterialChoice::Known(..) => None,
        _ => Some(Level::Note),
    };
    if let Some(level) = level {
        level_mark(ui, level);
    }
    let mut picked = None;
    let response = ComboBox::from_id_salt(("match", line.row()))
        .selected_text(choice_words(view, &choice))
        .width(ui.available_width() - 8.0)
        .height(280.0)
        .show_ui(ui, |ui| {
            let mut offer = |one: MaterialChoice, words: String, ui: &mut Ui| {
                if ui.selectable_label(one == choice, words).clicked() {
                    picked = Some(one);
                }
            };
            for candidate in line.candidates() {
                let found = MaterialChoice::Known(candidate.id.clone(), candidate.how);
                let words = choice_words(view, &found);
                // What the maker has chosen by hand is no longer in doubt.
                let one = MaterialChoice::Known(candidate.id.clone(), How::Chosen);
                offer(one, words, ui);
            }
            let new = "New material, composition unknown".to_owned();
            offer(MaterialChoice::New, new, ui);
            for inci in line.suggestions() {
                let one = MaterialChoice::NewPure(inci);
                let words = choice_words(view, &one);
                offer(one, words, ui);
            }
        })
        .response
        .accessible_name(format!("What row {} is taken as", line.row()));
    if let Some(choice) = picked {
        answers.learn(line.wanted(), &choice, view.state.shelf());
        line.choose(choice);
        *changed = true;
    }
    response
}
