//! The ingredient list, with the order explained and where each comes from.

use eframe::egui::{self, Align, Button, Frame, Layout, Ui, Vec2};
use formulation::amount::Measure;
use formulation::label::{Ingredient, Label, ListSection, list_ground};
use formulation::quantity::MassFraction;

use super::{bullets, edit};
use crate::command::Command;
use crate::state::View;
use crate::theme;

/// Least width of the names in the table of ingredients.
const NAME: f32 = 200.0;

/// Width of the other columns of that table.
const OTHER_COLUMNS: f32 = 360.0;

/// The ingredient list, with the order explained and where each comes from.
pub(super) fn list(ui: &mut Ui, view: &View<'_>, label: &Label, commands: &mut Vec<Command>) {
    ui.label(theme::heading("Ingredients"));
    ui.label(theme::small(ui, list_ground(label.market)));
    let p = theme::palette(ui);
    Frame::new()
        .fill(p.page)
        .stroke(egui::Stroke::new(1.0, p.rule))
        .inner_margin(theme::GAP)
        .show(ui, |ui| {
            ui.set_width(ui.available_width());
            ui.add(
                egui::Label::new(label.ingredients.text())
                    .wrap()
                    .selectable(true),
            );
        });
    ui.add_space(theme::TIGHT);
    if let Some(words) = more_in_the_mix(label) {
        ui.add(egui::Label::new(theme::small(ui, words)).wrap());
    }
    let ingredients = &label.ingredients.ingredients;
    // The name takes what the other columns leave.
    let name_width = (ui.available_width() - OTHER_COLUMNS).max(NAME);
    egui::Grid::new("ingredients")
        .num_columns(4)
        .striped(true)
        .spacing([theme::GAP, 2.0])
        .show(ui, |ui| {
            for words in ["Ingredient", "Share at the time of adding", "Order", ""] {
                ui.label(theme::small(ui, words));
            }
            ui.end_row();
            for (place, ingredient) in ingredients.iter().enumerate() {
                ui.push_id(ingredient.inci.spelling(), |ui| {
                    let response = ui
                        .allocate_ui_with_layout(
                            Vec2::new(name_width, theme::FIELD),
                            Layout::left_to_right(Align::Center),
                            |ui| {
                                ui.set_min_width(name_width);
                                ui.add(Button::new(&ingredient.name).frame(false).truncate())
                            },
                        )
                        .inner
                        .on_hover_text(format!(
                            "INCI {}; choose the lines that bring it in",
                            ingredient.inci
                        ));
                    if response.clicked() {
                        commands.push(Command::Choose(ingredient.lines.iter().copied().collect()));
                    }
                });
                ui.label(share(ingredient));
                ui.label(theme::small(ui, ingredient.part.label()));
                moves(ui, view, ingredients, place, commands);
                ui.end_row();
            }
        });
    let list = &label.ingredients;
    bullets(ui, "About the list", &list.remarks);
    let not_listed: Vec<String> = list
        .not_listed
        .iter()
        .map(|n| {
            let by = if n.by_maker { " (left off by you)" } else { "" };
            format!(
                "{}, {}{by}: {}",
                n.inci,
                Measure::SHARE.shown(n.share.typical.as_percent()),
                n.reason
            )
        })
        .collect();
    bullets(ui, "In the mix, not listed", &not_listed);
}

/// Ingredients of which more is in the mix than is listed, such as the moisture of powders, which
/// is no ingredient: why their share is less than the mix holds.
fn more_in_the_mix(label: &Label) -> Option<String> {
    let list = &label.ingredients;
    let more = list.ingredients.iter().filter_map(|ingredient| {
        let besides = list.not_listed.iter();
        let besides: f64 = besides
            .filter(|other| other.inci.same_as(&ingredient.inci))
            .map(|other| other.share.typical.as_percent())
            .sum();
        let shown = Measure::SHARE.shown(besides);
        (besides > 0.0).then(|| format!("{shown} more {}", ingredient.name))
    });
    let more: Vec<String> = more.collect();
    let words = format!("Not listed, see below: {}", more.join(", "));
    (!more.is_empty()).then_some(words)
}

fn share(ingredient: &Ingredient) -> String {
    let s = ingredient.share;
    let range = [s.low, s.high].map(MassFraction::as_percent);
    Measure::SHARE.with_range(s.typical.as_percent(), range)
}

/// Buttons that move an ingredient whose place the maker may choose.
fn moves(
    ui: &mut Ui,
    view: &View<'_>,
    ingredients: &[Ingredient],
    place: usize,
    commands: &mut Vec<Command>,
) {
    let free = |i: usize| {
        ingredients
            .get(i)
            .is_some_and(|other| other.part != ListSection::ByWeight)
    };
    let same_block = |a: usize, b: usize| {
        let colour = |i: usize| ingredients.get(i).map(|o| o.part == ListSection::Colorant);
        free(a) && free(b) && colour(a) == colour(b)
    };
    let Some(ingredient) = ingredients.get(place) else {
        return;
    };
    if !free(place) {
        ui.label("");
        return;
    }
    ui.push_id(("move", ingredient.inci.spelling()), |ui| {
        ui.horizontal(|ui| {
            let earlier = place.checked_sub(1).filter(|&e| same_block(e, place));
            let later = Some(place + 1).filter(|&l| same_block(place, l));
            for (to, words, name) in [(earlier, "↑", "earlier"), (later, "↓", "later")] {
                let response = ui
                    .add_enabled(to.is_some(), Button::new(words).small())
                    .accessible_name(format!("{} {name}", ingredient.name));
                if let (true, Some(to)) = (response.clicked(), to) {
                    let mut order: Vec<usize> =
                        (0..ingredients.len()).filter(|&i| free(i)).collect();
                    if let (Some(a), Some(b)) = (
                        order.iter().position(|&i| i == place),
                        order.iter().position(|&i| i == to),
                    ) {
                        order.swap(a, b);
                    }
                    edit(view, commands, |info| {
                        info.low_order = order
                            .iter()
                            .filter_map(|&i| ingredients.get(i))
                            .map(|i| i.inci.clone())
                            .collect();
                    });
                }
            }
        });
    });
}
